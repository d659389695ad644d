//go:build unix

package localpg

import (
	"archive/zip"
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// Binaries come from a repository, unpacked and whole; nothing is started and
// nothing else is written. testdata/binaries.txz holds three small scripts.
func TestFetch(t *testing.T) {
	jar := pack(t)
	repository := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		switch sum := sha256.Sum256(jar); {
		case !strings.Contains(r.URL.Path, "/17."):
			http.NotFound(w, r)
		case strings.HasSuffix(r.URL.Path, ".sha256"):
			w.Write([]byte(hex.EncodeToString(sum[:])))
		default:
			w.Write(jar)
		}
	}))
	defer repository.Close()
	t.Setenv("HODMAN_POSTGRES_REPOSITORY", repository.URL)
	s := &Server{dir: t.TempDir(), log: slog.New(slog.DiscardHandler)}
	dir, err := s.fetch(t.Context(), 17)
	if err != nil {
		t.Fatal(err)
	}
	if v, err := binariesVersion(dir); v != 17 || err != nil {
		t.Errorf("fetched version %d, %v; want 17", v, err)
	}
	left, err := filepath.Glob(filepath.Join(s.dir, "*"))
	if err != nil || len(left) != 1 || filepath.Base(left[0]) != "fetched" {
		t.Errorf("left %v, %v; want only what was fetched", left, err)
	}
	if _, err := s.fetch(t.Context(), 16); err == nil {
		t.Error("a version that the repository lacks was fetched")
	}
	if _, err := s.fetch(t.Context(), 12); err == nil {
		t.Error("a version that is too old was fetched")
	}
}

func pack(t *testing.T) []byte {
	t.Helper()
	txz, err := os.ReadFile("testdata/binaries.txz")
	if err != nil {
		t.Fatal(err)
	}
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	w, err := z.Create("postgres-linux-x86_64.txz")
	if err != nil {
		t.Fatal(err)
	}
	if _, err := w.Write(txz); err != nil {
		t.Fatal(err)
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}
