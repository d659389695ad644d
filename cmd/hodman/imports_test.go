package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"go/ast"
	"go/parser"
	"go/token"
	"io"
	"io/fs"
	"maps"
	"os/exec"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// arrow is what one package may import: packages of ours, other modules, and of
// the standard library either a short list or all of it.
type arrow struct {
	ours    []string // paths below hodman/
	modules []string // module paths; packages inside them count too
	std     []string // nil: all of it
}

const codec = "github.com/go-json-experiment/json"

var (
	// pure is what an engine may use of the standard library: nothing that knows
	// the time, the machine, the network or chance.
	pure = []string{"bytes", "cmp", "errors", "fmt", "iter", "maps", "math", "math/big", "math/bits", "slices", "sort",
		"strconv", "strings", "sync", "unicode", "unicode/utf8"}
	embedded = append([]string{"embed"}, pure...)
	dated    = append([]string{"time"}, pure...)

	data    = []string{"service/measure", "service/finding", "service/product", "service/rulebook", "service/schedule"}
	engines = []string{"service/ancillary", "service/arch", "service/binpack", "service/bond", "service/coursing", "service/drop",
		"service/elevation", "service/lift", "service/lintel", "service/mortar", "service/movement", "service/takeoff"}
)

// arrows is the direction of the whole program: cmd -> api, store -> service ->
// engines -> measure. A package that is not listed is a breach: say here what it may know.
var arrows = map[string]arrow{
	"service/measure":  {modules: []string{codec}, std: pure},
	"service/finding":  {modules: []string{codec}, std: pure},
	"service/product":  {ours: []string{"service/measure"}, modules: []string{codec}, std: embedded},
	"service/rulebook": {ours: []string{"service/measure"}, modules: []string{codec}, std: embedded},
	"service/wording":  {ours: []string{"service/measure"}, std: pure},
	"service/schedule": {ours: data, modules: []string{codec}, std: pure},

	"service/binpack":  {std: pure},
	"service/mortar":   engine(),
	"service/coursing": engine(),
	"service/lintel":   engine("service/binpack"),
	// A drawing is made of what was laid and picked; it lays and picks nothing itself.
	"service/elevation": engine("service/bond", "service/lintel"),
	"service/bond":      engine("service/binpack"),
	"service/movement":  engine(),
	"service/arch":      engine(),
	"service/ancillary": engine("service/binpack", "service/movement"),
	// A drop plan's request holds lift loads: both read documents of their own.
	"service/lift": {ours: data, modules: []string{codec}, std: pure},
	"service/takeoff": engine("service/ancillary", "service/binpack", "service/bond", "service/coursing", "service/lift",
		"service/lintel", "service/mortar", "service/movement", "service/arch"),
	"service/drop": {ours: slices.Concat(data, []string{"service/binpack", "service/lift", "service/takeoff"}), modules: []string{codec}, std: dated},

	"service": {ours: slices.Concat(data, engines), modules: []string{codec, "github.com/google/uuid"}},

	"migrations":    {std: embedded},
	"store":         {ours: slices.Concat([]string{"service", "migrations"}, data, engines), modules: []string{codec, "github.com/google/uuid", "github.com/jackc/pgx/v5", "github.com/pressly/goose/v3"}},
	"store/localpg": {modules: []string{"github.com/jackc/pgx/v5", "github.com/fergusstrange/embedded-postgres", "golang.org/x/sys"}},
	"store/storetest": {ours: []string{"store", "store/localpg", "migrations", "service"}, modules: []string{"github.com/jackc/pgx/v5", "github.com/google/uuid",
		"github.com/testcontainers/testcontainers-go", "github.com/moby/moby"}},

	"openapi": {modules: []string{"github.com/getkin/kin-openapi"}},
	"api": {ours: slices.Concat([]string{"service", "openapi"}, data, engines), modules: []string{codec, "github.com/labstack/echo/v4",
		"github.com/getkin/kin-openapi", "github.com/oapi-codegen/runtime", "github.com/google/uuid", "github.com/prometheus/client_golang",
		"github.com/prometheus/client_model", "github.com/swaggest/swgui", "github.com/klauspost/compress", "golang.org/x/time"}},

	"cmd/hodman": {ours: slices.Concat([]string{"api", "store", "store/localpg", "service", "testdata"}, data, engines),
		modules: []string{codec, "github.com/google/uuid", "github.com/jackc/pgx/v5"}},
	"testdata": {std: []string{"embed"}},
}

// engine is the usual arrow of one: the data packages, words for its sums, and the engines named.
func engine(others ...string) arrow {
	return arrow{ours: slices.Concat(data, []string{"service/wording"}, others), std: pure}
}

// breaches checks every package's imports against the arrows. Paths in graph are
// as go list gives them.
func breaches(graph map[string][]string, arrows map[string]arrow) []string {
	var found []string
	for _, pkg := range slices.Sorted(maps.Keys(graph)) {
		name := strings.TrimPrefix(pkg, "hodman/")
		for _, part := range strings.Split(name, "/") {
			if slices.Contains([]string{"util", "utils", "common", "models", "helpers"}, part) {
				found = append(found, name+" is called "+part+": name it for what it does")
			}
		}
		a, listed := arrows[name]
		if !listed {
			found = append(found, name+" is not listed: say in arrows what it may import")
			continue
		}
		for _, imported := range graph[pkg] {
			if !a.allows(imported) {
				found = append(found, name+" may not import "+imported)
			}
		}
	}
	return found
}

func (a arrow) allows(imported string) bool {
	if ours, ok := strings.CutPrefix(imported, "hodman/"); ok {
		return slices.Contains(a.ours, ours)
	}
	if first, _, _ := strings.Cut(imported, "/"); !strings.Contains(first, ".") {
		return a.std == nil || slices.Contains(a.std, imported)
	}
	return slices.ContainsFunc(a.modules, func(m string) bool {
		return imported == m || strings.HasPrefix(imported, m+"/")
	})
}

// TestArrows holds the real program to the arrows.
func TestArrows(t *testing.T) {
	// testdata is named by itself: the pattern passes over folders of that name.
	cmd := exec.Command("go", "list", "-json=ImportPath,Imports", "./...", "./testdata")
	cmd.Dir = filepath.Join("..", "..")
	var stderr bytes.Buffer
	cmd.Stderr = &stderr
	listed, err := cmd.Output()
	if err != nil {
		t.Fatalf("go list: %v\n%s", err, stderr.Bytes())
	}
	graph := make(map[string][]string)
	for dec := json.NewDecoder(bytes.NewReader(listed)); ; {
		var p struct {
			ImportPath string
			Imports    []string
		}
		if err := dec.Decode(&p); errors.Is(err, io.EOF) {
			break
		} else if err != nil {
			t.Fatal(err)
		}
		graph[p.ImportPath] = p.Imports
	}
	for _, b := range breaches(graph, arrows) {
		t.Error(b)
	}
	for name := range arrows {
		if _, there := graph["hodman/"+name]; !there {
			t.Errorf("%s is listed in arrows and is not there", name)
		}
	}
}

// TestBreaches shows that the check fails where it has to.
func TestBreaches(t *testing.T) {
	for _, c := range []struct {
		name  string
		graph map[string][]string
		want  []string
	}{
		{"as it should be", map[string][]string{
			"hodman/service/bond": {"fmt", "hodman/service/measure"},
			"hodman/store":        {"context", "github.com/jackc/pgx/v5/pgxpool", "hodman/service"},
		}, nil},
		{"an engine reaches up", map[string][]string{"hodman/service/bond": {"hodman/service"}},
			[]string{"service/bond may not import hodman/service"}},
		{"an engine knows another", map[string][]string{"hodman/service/mortar": {"hodman/service/bond"}},
			[]string{"service/mortar may not import hodman/service/bond"}},
		{"an engine asks the machine", map[string][]string{"hodman/service/lintel": {"os", "math/rand", "math/rand/v2", "time", "log/slog"}},
			[]string{"service/lintel may not import os", "service/lintel may not import math/rand",
				"service/lintel may not import math/rand/v2", "service/lintel may not import time", "service/lintel may not import log/slog"}},
		{"api and store meet", map[string][]string{"hodman/api": {"hodman/store"}, "hodman/store": {"hodman/api"}},
			[]string{"api may not import hodman/store", "store may not import hodman/api"}},
		{"the service knows the database", map[string][]string{"hodman/service": {"github.com/jackc/pgx/v5"}},
			[]string{"service may not import github.com/jackc/pgx/v5"}},
		{"echo outside api", map[string][]string{"hodman/cmd/hodman": {"github.com/labstack/echo/v4"}},
			[]string{"cmd/hodman may not import github.com/labstack/echo/v4"}},
		{"a module that only begins alike", map[string][]string{"hodman/store": {"github.com/jackc/pgx/v50"}},
			[]string{"store may not import github.com/jackc/pgx/v50"}},
		{"nobody listed it", map[string][]string{"hodman/service/roof": nil},
			[]string{"service/roof is not listed: say in arrows what it may import"}},
		{"a drawer for everything", map[string][]string{"hodman/service/common": nil},
			[]string{"service/common is called common: name it for what it does",
				"service/common is not listed: say in arrows what it may import"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			if diff := cmp.Diff(c.want, breaches(c.graph, arrows)); diff != "" {
				t.Error(diff)
			}
		})
	}
}

// TestEnginesDoNotAskTheTime covers what an import list cannot: a package that may
// reckon with dates must still not ask what day it is.
func TestEnginesDoNotAskTheTime(t *testing.T) {
	for _, name := range slices.Concat(data, engines) {
		dir := filepath.Join("..", "..", filepath.FromSlash(name))
		err := filepath.WalkDir(dir, func(file string, d fs.DirEntry, err error) error {
			if err != nil || !strings.HasSuffix(file, ".go") || strings.HasSuffix(file, "_test.go") {
				return err
			}
			source, err := parser.ParseFile(token.NewFileSet(), file, nil, 0)
			if err != nil {
				return err
			}
			if call := clockCall(source); call != "" {
				t.Errorf("%s calls %s: take the day as an argument", path.Join(name, filepath.Base(file)), call)
			}
			return nil
		})
		if err != nil {
			t.Fatal(err)
		}
	}
}

func TestClockCallIsSeen(t *testing.T) {
	source, err := parser.ParseFile(token.NewFileSet(), "x.go", "package x\nimport \"time\"\nvar a = time.Now().Year()\n", 0)
	if err != nil {
		t.Fatal(err)
	}
	if got := clockCall(source); got != "time.Now" {
		t.Errorf("clockCall = %q, want time.Now", got)
	}
}

// clockCall names the first use of the clock in a file.
func clockCall(file *ast.File) (call string) {
	ast.Inspect(file, func(n ast.Node) bool {
		s, ok := n.(*ast.SelectorExpr)
		if !ok {
			return true
		}
		if pkg, ok := s.X.(*ast.Ident); ok && pkg.Name == "time" &&
			slices.Contains([]string{"Now", "Since", "Until", "After", "Tick", "Sleep", "NewTimer", "NewTicker"}, s.Sel.Name) {
			call = "time." + s.Sel.Name
		}
		return true
	})
	return call
}
