//go:build unix

package localpg

import (
	"context"
	"errors"
	"fmt"
	"io"
	"log/slog"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"runtime"
	"slices"
	"strconv"
	"time"

	embeddedpostgres "github.com/fergusstrange/embedded-postgres"
)

// leastVersion is the oldest Postgres that hodman is run on.
const leastVersion = 13

// binaries finds the folder with postgres and initdb of the version that the
// data needs, or of the newest where there is no data yet (0).
func (s *Server) binaries(ctx context.Context, version int) (string, error) {
	var seen []string
	for _, dir := range s.candidates() {
		v, err := binariesVersion(dir)
		if err != nil {
			continue
		}
		if v == version || version == 0 && v >= leastVersion {
			return dir, s.owner.canReach(dir)
		}
		seen = append(seen, fmt.Sprintf("%d in %s", v, dir))
	}
	var fetching error
	if chosen := os.Getenv("HODMAN_POSTGRES_BIN"); chosen != "" {
		fetching = fmt.Errorf("HODMAN_POSTGRES_BIN is %s", chosen)
	} else if s.config.noFetch {
		fetching = errors.New("fetching is switched off")
	} else if dir, err := s.fetch(ctx, version); err == nil {
		return dir, nil
	} else {
		fetching = err
	}
	if version != 0 {
		return "", fmt.Errorf("the data was made by Postgres %d and needs that version; found %v. Nothing was touched. Install Postgres %d or name its folder in HODMAN_POSTGRES_BIN (fetching: %w)", version, seen, version, fetching)
	}
	return "", fmt.Errorf("there is no Postgres %d or later to be had. Three ways out: set HODMAN_DATABASE_URL to a database you have; install PostgreSQL (Debian: apt-get install postgresql) or name its folder in HODMAN_POSTGRES_BIN; or let hodman fetch it, with a way to the internet (fetching: %w)", leastVersion, fetching)
}

// candidates lists folders where binaries may be, best first. HODMAN_POSTGRES_BIN
// stands alone: whoever sets it wants no other.
func (s *Server) candidates() []string {
	if dir := os.Getenv("HODMAN_POSTGRES_BIN"); dir != "" {
		return []string{dir}
	}
	var dirs []string
	if path, err := exec.LookPath("postgres"); err == nil {
		if real, err := filepath.EvalSymlinks(path); err == nil {
			dirs = append(dirs, filepath.Dir(real))
		}
	}
	for _, pattern := range []string{
		"/usr/lib/postgresql/*/bin", "/usr/pgsql-*/bin", "/usr/local/pgsql/bin",
		"/opt/homebrew/opt/postgresql@*/bin", "/usr/local/opt/postgresql@*/bin",
		filepath.Join(s.dir, "fetched", "*", "bin"),
	} {
		found, _ := filepath.Glob(pattern) // fails only on a bad pattern
		slices.SortFunc(found, func(a, b string) int { return lastNumber(b) - lastNumber(a) })
		dirs = append(dirs, found...)
	}
	return dirs
}

var digits = regexp.MustCompile(`[0-9]+`)

// lastNumber is the last number in a path, which is the version.
func lastNumber(path string) int {
	all := digits.FindAllString(path, -1)
	if len(all) == 0 {
		return 0
	}
	n, _ := strconv.Atoi(all[len(all)-1]) // too long for an int is 0: last
	return n
}

// binariesVersion asks the server in a folder for its major version.
func binariesVersion(dir string) (int, error) {
	if _, err := os.Stat(filepath.Join(dir, "initdb")); err != nil {
		return 0, err
	}
	ctx, cancel := context.WithTimeout(context.Background(), 10*time.Second)
	defer cancel()
	out, err := exec.CommandContext(ctx, filepath.Join(dir, "postgres"), "--version").Output()
	if err != nil {
		return 0, err
	}
	return strconv.Atoi(string(digits.Find(out))) // "postgres (PostgreSQL) 15.18 (...)"
}

// fetchLimit is how long fetching some 10 MB may take.
const fetchLimit = 2 * time.Minute

// versions that can be fetched.
var versions = map[int]embeddedpostgres.PostgresVersion{
	13: embeddedpostgres.V13, 14: embeddedpostgres.V14, 15: embeddedpostgres.V15,
	16: embeddedpostgres.V16, 17: embeddedpostgres.V17, 18: embeddedpostgres.V18,
}

const fetchedVersion = 17

// fetch brings binaries into our folder by the library that knows where they
// are published. Only its fetching is wanted: left to itself it runs the server
// as root and wipes data of another version. So the data it is told of lies
// under a file, where nothing can be wiped or made, and its Start always fails there,
// after the binaries are unpacked. HODMAN_POSTGRES_REPOSITORY names a mirror of
// the Maven repository that they are published in.
func (s *Server) fetch(ctx context.Context, version int) (string, error) {
	if version == 0 {
		version = fetchedVersion
	}
	exact, ok := versions[version]
	if !ok {
		return "", fmt.Errorf("version %d cannot be fetched", version)
	}
	// Unpacked beside and renamed when whole, so that a cut-off fetch is not taken for binaries.
	at := filepath.Join(s.dir, "fetched", strconv.Itoa(version))
	work, err := os.MkdirTemp(s.dir, "fetch-")
	if err != nil {
		return "", err
	}
	defer os.RemoveAll(work)
	barrier := filepath.Join(work, "barrier")
	if err := os.WriteFile(barrier, nil, 0o600); err != nil {
		return "", err
	}
	config := embeddedpostgres.DefaultConfig().Version(exact).Port(0).Logger(io.Discard).
		CachePath(filepath.Join(work, "cache")).RuntimePath(filepath.Join(work, "run")).
		DataPath(filepath.Join(barrier, "data")).BinariesPath(filepath.Join(work, "unpacked"))
	if mirror := os.Getenv("HODMAN_POSTGRES_REPOSITORY"); mirror != "" {
		config = config.BinaryRepositoryURL(mirror)
	}
	s.log.LogAttrs(ctx, slog.LevelInfo, "fetching Postgres", slog.String("version", string(exact)))
	failed := make(chan error, 1)
	go func() { failed <- embeddedpostgres.NewDatabase(config).Start() }()
	select {
	case err = <-failed:
	case <-ctx.Done():
		return "", ctx.Err()
	case <-time.After(fetchLimit):
		return "", fmt.Errorf("not fetched within %v", fetchLimit)
	}
	unpacked := filepath.Join(work, "unpacked")
	if _, missing := binariesVersion(filepath.Join(unpacked, "bin")); missing != nil {
		return "", fmt.Errorf("%s/%s: %w", runtime.GOOS, runtime.GOARCH, err)
	}
	if err := os.MkdirAll(filepath.Dir(at), 0o755); err != nil {
		return "", err
	}
	if err := os.RemoveAll(at); err != nil { // binaries that do not run, or they had been used
		return "", err
	}
	return filepath.Join(at, "bin"), os.Rename(unpacked, at)
}
