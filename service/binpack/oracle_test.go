package binpack

import (
	"bytes"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"
)

// solver is an outside one that proves an optimum of a model in CPLEX LP format.
type solver struct {
	name, program, debian string
	args                  func(model, answer string) []string
	optimum               *regexp.Regexp // in the answer's file: that it is proven, and the number
}

var solvers = []solver{
	{"GLPK", "glpsol", "glpk-utils",
		func(model, answer string) []string { return []string{"--tmlim", "60", "--lp", model, "-o", answer} },
		regexp.MustCompile(`Status: +INTEGER OPTIMAL\nObjective: +obj = (\d+)`)},
	{"CBC", "cbc", "coinor-cbc",
		func(model, answer string) []string { return []string{model, "sec", "60", "solve", "solu", answer} },
		regexp.MustCompile(`^Optimal - objective value (\d+)`)},
}

// find returns the path of the solver. Where it is not installed the test says so and
// ends; on CI, which installs it, that is a failure.
func (s *solver) find(t *testing.T) string {
	t.Helper()
	path, err := exec.LookPath(s.program)
	if err == nil {
		return path
	}
	if os.Getenv("CI") != "" {
		t.Fatalf("%s is not installed (Debian: %s)", s.program, s.debian)
	}
	t.Skipf("%s is not installed (Debian: %s): not compared with it here", s.program, s.debian)
	return ""
}

// solve returns the proven optimum and how long it took.
func (s *solver) solve(t *testing.T, path, dir, model string) (int, time.Duration) {
	t.Helper()
	in, out := filepath.Join(dir, "m.lp"), filepath.Join(dir, "m.out")
	if err := os.WriteFile(in, []byte(model), 0o600); err != nil {
		t.Fatal(err)
	}
	start := time.Now()
	log, err := exec.Command(path, s.args(in, out)...).CombinedOutput()
	took := time.Since(start)
	if err != nil {
		t.Fatalf("%s: %v\n%s", s.name, err, log)
	}
	text, err := os.ReadFile(out)
	if err != nil {
		t.Fatal(err)
	}
	found := s.optimum.FindSubmatch(text)
	if found == nil {
		t.Fatalf("%s proves no optimum:\n%s\n%s", s.name, log, text[:min(len(text), 500)])
	}
	return int(number(t, string(found[1]))), took
}

// idle is how long the solver takes over nothing: reading one variable, and writing.
func (s *solver) idle(t *testing.T, path, dir string) time.Duration {
	t.Helper()
	best := time.Hour
	for range 5 {
		_, took := s.solve(t, path, dir, "Minimize\n obj: x0\nSubject To\n d0: x0 >= 1\nGeneral\n x0\nEnd\n")
		best = min(best, took)
	}
	return best
}

// fillings are all patterns that take no further piece, to cover the items with: nil
// where there are more than most.
func fillings(capacity int64, sizes []int64, most int) [][]int {
	var list [][]int
	var grow func(i int, room int64, counts []int)
	grow = func(i int, room int64, counts []int) {
		switch {
		case len(list) > most:
		case i == len(sizes):
			if room < slices.Min(sizes) {
				list = append(list, slices.Clone(counts))
			}
		default:
			for n := int(room / sizes[i]); n >= 0; n-- {
				counts[i] = n
				grow(i+1, room-int64(n)*sizes[i], counts)
			}
			counts[i] = 0
		}
	}
	grow(0, capacity, make([]int, len(sizes)))
	if len(list) > most {
		return nil
	}
	return list
}

// covering is the model over fillings: each item is covered as often as it is wanted.
func covering(in *instance, most int) string {
	sizes := make([]int64, len(in.items))
	for i, it := range in.items {
		sizes[i] = it.Size + in.kerf
	}
	list := fillings(in.capacity+in.kerf, sizes, most)
	if list == nil {
		return ""
	}
	var lp strings.Builder
	lp.WriteString("Minimize\n obj:")
	for p := range list {
		fmt.Fprintf(&lp, " + x%d\n", p)
	}
	lp.WriteString("Subject To\n")
	for i, it := range in.items {
		fmt.Fprintf(&lp, " d%d:", i)
		for p, counts := range list {
			if counts[i] > 0 {
				fmt.Fprintf(&lp, " + %d x%d\n", counts[i], p)
			}
		}
		fmt.Fprintf(&lp, " >= %d\n", it.Count)
	}
	return lp.String() + integers("x", len(list))
}

func integers(letter string, n int) string {
	var lp strings.Builder
	lp.WriteString("General\n")
	for k := range n {
		fmt.Fprintf(&lp, " %s%d\n", letter, k)
	}
	lp.WriteString("End\n")
	return lp.String()
}

// flow is the model for many sizes: a bin is a path from 0 to its capacity, along
// items and along room that is left (Valerio de Carvalho).
func flow(in *instance) string {
	var lp bytes.Buffer
	c := int(in.capacity)
	leaves, enters := make([][]string, c+1), make([][]string, c+1)
	uses := make([][]string, len(in.items))
	arcs := 0
	arc := func(from, to int) string {
		name := "a" + strconv.Itoa(arcs)
		arcs++
		leaves[from], enters[to] = append(leaves[from], name), append(enters[to], name)
		return name
	}
	for i, it := range in.items {
		for from := 0; from+int(it.Size) <= c; from++ {
			uses[i] = append(uses[i], arc(from, from+int(it.Size)))
		}
	}
	for from := range c {
		arc(from, from+1)
	}
	lp.WriteString("Minimize\n obj: " + strings.Join(leaves[0], "\n + ") + "\nSubject To\n")
	for n := 1; n < c; n++ {
		fmt.Fprintf(&lp, " n%d: %s\n - %s = 0\n", n, strings.Join(enters[n], "\n + "), strings.Join(leaves[n], "\n - "))
	}
	for i, it := range in.items {
		fmt.Fprintf(&lp, " d%d: %s >= %d\n", i, strings.Join(uses[i], "\n + "), it.Count)
	}
	return lp.String() + integers("a", arcs)
}

// drawnLists are 500 lists by a fixed seed: bats and other cuts out of bricks and blocks,
// plates out of timber, and lists without a meaning; with few enough fillings that a
// model over all of them can be written down.
func drawnLists(models int) (all []instance, lps []string) {
	rng := rand.New(rand.NewPCG(2026, 500))
	kinds := []struct {
		name                       string
		stock, kerf, step          int64
		least, most, sizes, counts int64 // in steps
	}{
		{"brick", 215_000, 4_000, 500, 108, 429, 12, 60},
		{"block", 440_000, 4_000, 500, 220, 879, 10, 40},
		{"plate", 4_800_000, 3_000, 1_000, 600, 4_800, 9, 6},
		{"any", 100, 0, 1, 12, 99, 8, 200},
	}
	for len(all) < models {
		k := &kinds[len(all)%len(kinds)]
		in := instance{name: fmt.Sprintf("%s %d", k.name, len(all)), capacity: k.stock, kerf: k.kerf}
		seen := map[int64]bool{}
		for range 1 + rng.Int64N(k.sizes) {
			if size := k.step * (k.least + rng.Int64N(k.most-k.least+1)); !seen[size] {
				seen[size] = true
				in.items = append(in.items, Item{Size: size, Count: 1 + int(rng.Int64N(k.counts))})
			}
		}
		if lp := covering(&in, 1500); lp != "" {
			all, lps = append(all, in), append(lps, lp)
		}
	}
	return all, lps
}

// TestAgainstSolvers compares 500 random lists and the solved instances with the optima
// that GLPK and CBC prove, and shows how long each took. The solvers' start and
// end, over a model of one variable, is taken off their time.
func TestAgainstSolvers(t *testing.T) {
	drawn, models := drawnLists(500)
	for _, in := range instances(t) {
		if lp := covering(&in, 1500); lp != "" {
			drawn, models = append(drawn, in), append(models, lp)
		}
	}
	for i := range solvers {
		s := &solvers[i]
		t.Run(s.name, func(t *testing.T) {
			t.Parallel()
			path, dir := s.find(t), t.TempDir()
			idle := s.idle(t, path, dir)
			var ours, theirs time.Duration
			for k := range drawn {
				in := &drawn[k]
				want, took := s.solve(t, path, dir, models[k])
				start := time.Now()
				got := Cut(in.capacity, in.kerf, in.items)
				ours += time.Since(start)
				theirs += max(0, took-idle)
				if got.Bins != want || !got.Optimal {
					t.Errorf("%s: %d, proven %t; %s %d, for %v", in.name, got.Bins, got.Optimal, s.name, want, in.items)
				}
			}
			n := time.Duration(len(drawn))
			t.Logf("%d lists: %v each here, %v each by %s over its start of %v: %.0f times", len(drawn),
				ours/n, theirs/n, s.name, idle, float64(theirs)/float64(ours))
		})
	}
}

// TestHousesAgainstSolvers does the same with the cuts of houses: one by hand, and the
// bricks and the blocks of the demo's rear wing. A first call aside, as here, is what a
// service that runs takes.
func TestHousesAgainstSolvers(t *testing.T) {
	lists := append(houseCuts(t), instance{name: "by hand", capacity: 215_000, kerf: 4_000, items: house})
	for i := range solvers {
		s := &solvers[i]
		t.Run(s.name, func(t *testing.T) {
			path, dir := s.find(t), t.TempDir()
			idle := s.idle(t, path, dir)
			for _, in := range lists {
				model := covering(&in, 100_000)
				if model == "" {
					t.Fatalf("%s: too many fillings", in.name)
				}
				want, took := s.solve(t, path, dir, model)
				got := Cut(in.capacity, in.kerf, in.items)
				if got.Bins != want || !got.Optimal {
					t.Errorf("%s: %d, proven %t; %s %d", in.name, got.Bins, got.Optimal, s.name, want)
				}
				const times = 100
				start := time.Now()
				for range times {
					Cut(in.capacity, in.kerf, in.items)
				}
				ours := time.Since(start) / times
				t.Logf("%s, %d sizes: %v here; %v by %s, %.0f times; without its start %v, %.0f times", in.name, len(in.items),
					ours, took, s.name, float64(took)/float64(ours), max(0, took-idle), float64(max(0, took-idle))/float64(ours))
			}
		})
	}
}

// TestManySizesAgainstCBC: the list of 120 pieces has too many fillings to write down;
// CBC solves it as a flow.
func TestManySizesAgainstCBC(t *testing.T) {
	s := &solvers[1]
	path := s.find(t)
	for _, in := range instances(t) {
		if in.name != "u120_00" {
			continue
		}
		want, took := s.solve(t, path, t.TempDir(), flow(&in))
		start := time.Now()
		got := Bins(in.capacity, in.items)
		if got.Bins != want || want != in.want || !got.Optimal {
			t.Errorf("%s: %d, CBC %d, want %d", in.name, got.Bins, want, in.want)
		}
		t.Logf("%s: %v here, %v by CBC", in.name, time.Since(start), took)
	}
}
