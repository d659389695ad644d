package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/go-json-experiment/json"

	"hodman/testdata"
)

// TestElevationIsWhatTheCallAnswers draws a wall to standard output and into a file, and
// compares both with what the HTTP call answers.
func TestElevationIsWhatTheCallAnswers(t *testing.T) {
	for _, c := range []struct{ layout, flag string }{{"tall", "--wide=false"}, {"wide", "--wide"}} {
		want, err := post(t.Context(), "/v1/elevations", []byte(`{"schedule":`+string(testdata.RearWing)+`,"wall":"B","layout":"`+c.layout+`"}`))
		if err != nil {
			t.Fatal(err)
		}
		if got := hodman(t, nil, string(testdata.RearWing), "elevation", "-", "B", c.flag); got.code != 0 || got.stdout != string(want) || got.stderr != "" {
			t.Errorf("%s: exit %d, %d bytes, want %d\n%s", c.layout, got.code, len(got.stdout), len(want), got.stderr)
		}
		file := filepath.Join(t.TempDir(), "b.svg")
		got := hodman(t, nil, string(testdata.RearWing), "elevation", "-", "B", c.flag, "-o", file)
		kept, err := os.ReadFile(file)
		if err != nil || string(kept) != string(want) || got.code != 0 || got.stdout != "" {
			t.Errorf("%s into a file: exit %d, %v\n%s", c.layout, got.code, err, got.stderr)
		}
	}
}

// TestElevationAtFault: mistakes end with 2 and a problem document that says where.
func TestElevationAtFault(t *testing.T) {
	sound := string(testdata.RearWing)
	for _, c := range []struct{ name, stdin, wall, file, at string }{
		{"no such wall", sound, "Z", "-", "/wall"},
		{"a wall too short", strings.Replace(sound, `"length_mm": 6525`, `"length_mm": 0`, 1), "A", "-", "/schedule/walls/0/length_mm"},
		{"no JSON", "bricks", "A", "-", ""},
		{"nothing", "", "A", "-", ""},
		{"a folder that is not there", sound, "A", "/no/such/folder/a.svg", ""},
	} {
		got := hodman(t, nil, c.stdin, "elevation", "-", c.wall, "-o", c.file)
		var problem wrong
		if err := json.Unmarshal([]byte(got.stderr), &problem); err != nil || got.code != 2 || got.stdout != "" {
			t.Fatalf("%s: exit %d, %v in:\n%s", c.name, got.code, err, got.stderr)
		}
		if c.at != "" && (len(problem.Errors) == 0 || problem.Errors[0].Pointer != c.at) {
			t.Errorf("%s: %+v; want %s", c.name, problem.Errors, c.at)
		}
	}
}
