package main

import (
	"bytes"
	"context"
	"io"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"sync"
	"testing"
	"time"

	"hodman/api"
	"hodman/service"
)

// TestComputeIsWhatHTTPAnswers holds the command line to its promise: the same bytes.
func TestComputeIsWhatHTTPAnswers(t *testing.T) {
	server := httptest.NewServer(api.New(api.Config{}, service.New(nil), slog.New(slog.DiscardHandler)))
	defer server.Close()
	drops := dropsOfSchedule(t)
	for _, c := range []struct{ command, path, document string }{
		{"takeoff", "/v1/takeoffs", file(t, "schedules/rear-wing.json")},
		{"lintels", "/v1/lintel-selections", file(t, "lintels/rear-wing.json")},
		{"coursing", "/v1/coursings", file(t, "coursings/rear-wing.json")},
		{"drops", "/v1/drop-plans", drops},
	} {
		t.Run(c.command, func(t *testing.T) {
			res, err := http.Post(server.URL+c.path, "application/json", strings.NewReader(c.document))
			if err != nil {
				t.Fatal(err)
			}
			defer res.Body.Close()
			want, err := io.ReadAll(res.Body)
			if err != nil || res.StatusCode != http.StatusOK {
				t.Fatalf("%s %v\n%s", res.Status, err, want)
			}
			got := hodman(t, nil, c.document, c.command, "-", "--json")
			if got.code != 0 || got.stdout != string(want) {
				t.Errorf("exit %d; the answer differs from the one over HTTP\n%s", got.code, got.stderr)
			}
			if tables := hodman(t, nil, c.document, c.command, "-"); tables.code != 0 || tables.stdout == "" || strings.Contains(tables.stdout, "{") {
				t.Errorf("exit %d, tables:\n%s%s", tables.code, tables.stdout, tables.stderr)
			}
		})
	}
}

func TestWrongInput(t *testing.T) {
	for _, c := range []struct{ name, document, want string }{
		{"not JSON", `{"reference": `, `"status": 400`},
		{"wrong in many places", `{"reference": "", "rulebook": "gb", "wall_types": [], "walls": []}`, `"/wall_types"`},
		{"unknown member", `{"refernce": "x"}`, `"/refernce"`},
	} {
		t.Run(c.name, func(t *testing.T) {
			got := hodman(t, nil, c.document, "takeoff", "-")
			if got.code != 2 || got.stdout != "" || !strings.Contains(got.stderr, c.want) {
				t.Errorf("exit %d, want 2 and %s in:\n%s%s", got.code, c.want, got.stdout, got.stderr)
			}
		})
	}
}

func TestDemoTwice(t *testing.T) {
	env := map[string]string{"HODMAN_DATA_DIR": folder(t)}
	for range 2 {
		got := hodman(t, env, "", "demo")
		if got.code != 0 || got.stderr != "" {
			t.Fatalf("exit %d\n%s%s", got.code, got.stdout, got.stderr)
		}
		for _, want := range []string{"Takeoff of Fallow Yard", "Lintels, mm", "Lifts", "Drops", "Schedule added", "Findings", "Cautions", env["HODMAN_DATA_DIR"]} {
			if !strings.Contains(got.stdout, want) {
				t.Errorf("%q is not in what it prints:\n%s", want, got.stdout)
			}
		}
	}
}

// TestServeUntilStopped goes through a service's day: it starts, keys are made and
// revoked while it runs, and it stops when it is told to.
func TestServeUntilStopped(t *testing.T) {
	env := map[string]string{"HODMAN_DATA_DIR": folder(t), "HODMAN_ADDR": "127.0.0.1:0"}
	ctx, stop := context.WithCancel(t.Context())
	defer stop()
	var log buffer
	ended := make(chan error, 1)
	go func() {
		ended <- run(ctx, []string{"serve"}, func(name string) string { return env[name] }, strings.NewReader(""), io.Discard, &log)
	}()
	base := "http://" + log.await(t, regexp.MustCompile(`"serving","addr":"([^"]+)"`))
	env["HODMAN_ADDR"] = strings.TrimPrefix(base, "http://")

	if got := hodman(t, env, "", "ready"); got.code != 0 {
		t.Errorf("ready: %s", got.stderr)
	}
	made := hodman(t, env, "", "key", "create", "counter")
	key := strings.TrimSpace(made.stdout)
	if made.code != 0 || status(t, base, key) != http.StatusOK {
		t.Errorf("the new key opens nothing:\n%s", made.stderr)
	}
	prefix := strings.Split(key, "_")[1]
	if got := hodman(t, env, "", "key", "list"); !strings.Contains(got.stdout, prefix) || strings.Contains(got.stdout, key) {
		t.Errorf("key list:\n%s%s", got.stdout, got.stderr)
	}
	if got := hodman(t, env, "", "key", "revoke", prefix); got.code != 0 {
		t.Error(got.stderr)
	}
	if got := status(t, base, key); got != http.StatusUnauthorized {
		t.Errorf("a revoked key is answered with %d", got)
	}
	if got := hodman(t, env, "", "serve"); got.code != 1 || !strings.Contains(got.stderr, "another hodman") {
		t.Errorf("a second service on the same folder: exit %d\n%s", got.code, got.stderr)
	}

	stop()
	select {
	case err := <-ended:
		if err != nil {
			t.Error(err)
		}
	case <-time.After(time.Minute):
		t.Fatal("it does not stop")
	}
	if got := hodman(t, env, "", "ready"); got.code != 1 {
		t.Errorf("ready after the stop: exit %d", got.code)
	}
	if strings.Contains(log.String(), key) {
		t.Error("the log tells the key")
	}
}

// status asks for the jobs with a key.
func status(t *testing.T, base, key string) int {
	t.Helper()
	req, err := http.NewRequest(http.MethodGet, base+"/v1/jobs", nil)
	if err != nil {
		t.Fatal(err)
	}
	req.Header.Set("Authorization", "Bearer "+key)
	res, err := http.DefaultClient.Do(req)
	if err != nil {
		t.Fatal(err)
	}
	res.Body.Close()
	return res.StatusCode
}

// buffer is a log that one goroutine writes and another reads.
type buffer struct {
	mu sync.Mutex
	b  bytes.Buffer
}

func (b *buffer) Write(p []byte) (int, error) {
	b.mu.Lock()
	defer b.mu.Unlock()
	return b.b.Write(p)
}

func (b *buffer) String() string {
	b.mu.Lock()
	defer b.mu.Unlock()
	return b.b.String()
}

// await waits until the log holds a match and returns its first group.
func (b *buffer) await(t *testing.T, re *regexp.Regexp) string {
	t.Helper()
	for end := time.Now().Add(time.Minute); time.Now().Before(end); time.Sleep(20 * time.Millisecond) {
		if m := re.FindStringSubmatch(b.String()); m != nil {
			return m[1]
		}
	}
	t.Fatalf("no %s in the log:\n%s", re, b)
	return ""
}

// folder is one that the user Postgres runs as may pass through, unlike t.TempDir.
func folder(t *testing.T) string {
	t.Helper()
	dir, err := os.MkdirTemp("", "hodman-cmd-")
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { os.RemoveAll(dir) })
	if err := os.Chmod(dir, 0o755); err != nil {
		t.Fatal(err)
	}
	return dir
}

// file reads a document of the testdata that packages share.
func file(t *testing.T, name string) string {
	t.Helper()
	b, err := os.ReadFile(filepath.Join("..", "..", "testdata", filepath.FromSlash(name)))
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

// dropsOfSchedule is the demo's drop plan request with the schedule itself in it.
func dropsOfSchedule(t *testing.T) string {
	return `{"schedule": ` + file(t, "schedules/rear-wing.json") + `,` + strings.TrimPrefix(strings.TrimSpace(file(t, "drops/rear-wing.json")), "{")
}
