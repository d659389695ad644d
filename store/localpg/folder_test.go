//go:build unix

package localpg

import (
	"os"
	"path/filepath"
	"testing"
)

// Where hodman is root, the folder is another user's: a link that he lays there must
// not have root empty, fill or give away the file that it points at.
func TestLinksAreNotFollowed(t *testing.T) {
	dir := t.TempDir()
	kept := filepath.Join(dir, "kept")
	if err := os.WriteFile(kept, []byte("kept"), 0o600); err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{"lock", "password.new"} {
		if err := os.Symlink(kept, filepath.Join(dir, name)); err != nil {
			t.Fatal(err)
		}
	}
	if f, err := lockFile(filepath.Join(dir, "lock")); err == nil {
		f.Close()
		t.Error("the lock was taken through a link")
	}
	s := &Server{dir: dir, owner: &owner{}}
	password, err := s.secret(false)
	if err != nil {
		t.Fatal(err)
	}
	if again, err := s.secret(true); err != nil || again != password {
		t.Errorf("the password reads back as %q, %v; want %q", again, err, password)
	}
	if b, err := os.ReadFile(kept); err != nil || string(b) != "kept" {
		t.Errorf("the file elsewhere holds %q, %v", b, err)
	}
}
