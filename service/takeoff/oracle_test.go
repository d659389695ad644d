package takeoff

import (
	"bytes"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/go-json-experiment/json"
	"pgregory.net/rapid"

	"hodman/service/binpack"
	"hodman/service/bond"
	"hodman/service/measure"
	"hodman/service/product"
	"hodman/service/rulebook"
	"hodman/service/schedule"
)

// oracle returns the path of an outside tool. Where it is not installed the test
// says so and ends; on CI, which installs it, that is a failure.
func oracle(t *testing.T, name, debian string) string {
	t.Helper()
	path, err := exec.LookPath(name)
	if err == nil {
		return path
	}
	if os.Getenv("CI") != "" {
		t.Fatalf("%s is not installed (Debian: %s)", name, debian)
	}
	t.Skipf("%s is not installed (Debian: %s): not compared with it here", name, debian)
	return ""
}

func randomWall(t *rapid.T, types []string) schedule.Wall {
	halves := func(name string, least, most int) measure.Length {
		return measure.Length(rapid.IntRange(2*least, 2*most).Draw(t, name)) * measure.Millimetre / 2
	}
	ends := []schedule.End{schedule.StopEnd, schedule.Abutment, schedule.MovementJoint}
	w := schedule.Wall{Ref: "W", Type: rapid.SampledFrom(types).Draw(t, "type"),
		Length: halves("length", 1500, 12000), Height: halves("height", 600, 5000),
		Left: rapid.SampledFrom(ends).Draw(t, "left"), Right: rapid.SampledFrom(ends).Draw(t, "right")}
	switch rapid.SampledFrom([]string{"level", "gable", "rake"}).Draw(t, "top") {
	case "gable":
		w.Top = &schedule.Top{Shape: "gable", Apex: halves("apex", 200, 3000), ApexAt: w.Length / 3}
	case "rake":
		w.Top = &schedule.Top{Shape: "rake", Right: halves("rise", 200, 2000)}
	}
	for k := range rapid.IntRange(0, 5).Draw(t, "openings") {
		o := schedule.Opening{Ref: fmt.Sprint("O", k), Left: halves("x", 0, 11000), Sill: halves("sill", 0, 3000), Width: halves("w", 100, 3000), Height: halves("h", 100, 2500)}
		clear := o.Right() <= w.Length && o.Top() <= w.Height
		for _, p := range w.Openings {
			clear = clear && (o.Left >= p.Right() || p.Left >= o.Right() || o.Sill >= p.Top() || p.Sill >= o.Top())
		}
		if clear {
			w.Openings = append(w.Openings, o)
		}
	}
	return w
}

func randomSchedule(t *rapid.T) *schedule.Schedule {
	s := &schedule.Schedule{Reference: "random", Rulebook: "gb", WallTypes: []schedule.WallType{
		{Key: "CW", Outer: &schedule.Leaf{Product: "BRK-65-FACE"}, Cavity: &schedule.Cavity{Width: 100 * measure.Millimetre, Insulation: 50 * measure.Millimetre}, Inner: &schedule.Leaf{Product: "BLK-100-D"}},
		{Key: "HB", Single: &schedule.Leaf{Product: "BRK-65-FACE"}},
	}}
	for i := range rapid.IntRange(1, 4).Draw(t, "walls") {
		w := randomWall(t, []string{"CW", "HB"})
		w.Ref = fmt.Sprint("W", i)
		s.Walls = append(s.Walls, w)
	}
	return s
}

// TestNetAreasAgreeWithGEOS compares gross and net areas with GEOS (through
// shapely, Debian python3-shapely) for 200 random walls with gables, rakes and openings.
func TestNetAreasAgreeWithGEOS(t *testing.T) {
	python := oracle(t, "/usr/bin/python3", "python3")
	if err := exec.Command(python, "-c", "import shapely").Run(); err != nil {
		oracle(t, "shapely-for-python3", "python3-shapely")
	}
	var input bytes.Buffer
	var areas []Leaf
	gen := rapid.Custom(randomSchedule)
	for seed := 0; len(areas) < 200; seed++ {
		s := gen.Example(seed)
		out := Compute(s, product.Demo(), rulebook.GB())
		for i := range s.Walls {
			w := &s.Walls[i]
			for _, leaf := range out.Walls[i].Leaves {
				line, err := json.Marshal(faceOf(w))
				if err != nil {
					t.Fatal(err)
				}
				input.Write(append(line, '\n'))
				areas = append(areas, leaf)
			}
		}
	}
	cmd := exec.Command(python, filepath.Join("testdata", "areas.py"))
	cmd.Stdin = &input
	answer, err := cmd.Output()
	if err != nil {
		t.Fatal(err)
	}
	lines := strings.Split(strings.TrimSpace(string(answer)), "\n")
	if len(lines) != len(areas) {
		t.Fatalf("%d answers to %d walls", len(lines), len(areas))
	}
	for i, line := range lines {
		var gross, net float64
		if _, err := fmt.Sscan(line, &gross, &net); err != nil {
			t.Fatal(err)
		}
		// A slope's level is rounded down to a micrometre, over at most 12 m: 2e-5 m2.
		if math.Abs(areas[i].Gross.M2()-gross) > 5e-5 || math.Abs(areas[i].Net.M2()-net) > 5e-5 {
			t.Errorf("wall %d: gross %v net %v, GEOS %v %v", i, areas[i].Gross.M2(), areas[i].Net.M2(), gross, net)
		}
	}
}

// faceOf is a wall with free ends as a polygon and its openings as boxes, in mm.
func faceOf(w *schedule.Wall) map[string]any {
	l, h := w.Length.Mm(), w.Height.Mm()
	face := [][2]float64{{0, 0}, {l, 0}, {l, h}, {0, h}}
	if w.Top != nil && w.Top.Shape == "gable" {
		face = [][2]float64{{0, 0}, {l, 0}, {l, h}, {w.Top.ApexAt.Mm(), h + w.Top.Apex.Mm()}, {0, h}}
	} else if w.Top != nil && w.Top.Shape == "stepped" {
		face = [][2]float64{{l, 0}, {0, 0}, {0, h}}
		top := h
		for _, s := range w.Top.Steps {
			face = append(face, [2]float64{s.At.Mm(), top}, [2]float64{s.At.Mm(), h + s.Rise.Mm()})
			top = h + s.Rise.Mm()
		}
		face = append(face, [2]float64{l, top})
	} else if w.Top != nil && w.Top.Shape == "rake" {
		face = [][2]float64{{0, 0}, {l, 0}, {l, h + w.Top.Right.Mm()}, {0, h + w.Top.Left.Mm()}}
	}
	holes := [][4]float64{}
	for _, o := range w.Openings {
		holes = append(holes, [4]float64{o.Left.Mm(), o.Sill.Mm(), o.Right().Mm(), o.Top().Mm()})
	}
	return map[string]any{"face": face, "holes": holes}
}

// TestCutsAgreeWithGLPK compares the number of whole units that the cuts of a wall
// come out of with GLPK's optimum (Debian glpk-utils), for 200 random walls.
func TestCutsAgreeWithGLPK(t *testing.T) {
	glpsol := oracle(t, "glpsol", "glpk-utils")
	gen := rapid.Custom(func(t *rapid.T) schedule.Wall { return randomWall(t, []string{"HB"}) })
	unit := product.Demo().Find("BRK-65-FACE")
	leaf := &schedule.Made{Name: "single", Unit: unit, Backing: unit, Thickness: unit.Thickness, Bond: "stretcher", Bed: 10 * measure.Millimetre, Perpend: 10 * measure.Millimetre}
	kerf := int64(4 * measure.Millimetre)
	dir := t.TempDir()
	for seed, compared := 0, 0; compared < 200; seed++ {
		w := gen.Example(seed)
		u := units{product: unit}
		u.lifts = make([]unitLift, 1)
		for _, laid := range bond.SetOut([]bond.Run{{Leaf: leaf, Wall: &w}}, false, bond.Rules{LeastCut: 250_000, LeastSplit: 25 * measure.Millimetre}) {
			for _, b := range laid.Bands {
				for i := range b.Strips {
					u.add(0, &b.Strips[i], b.Count, unit.Thickness)
				}
			}
		}
		cuts := u.cuts
		if len(cuts) == 0 || len(cuts) > 14 {
			continue // nothing to pack, or more patterns than GLPK likes
		}
		compared++
		got := binpack.Cut(int64(unit.Length), kerf, cuts)
		want := solve(t, glpsol, dir, model(int64(unit.Length)+kerf, kerf, cuts))
		if !got.Optimal || got.Bins != want {
			t.Errorf("wall %d: %d units (proven %t), GLPK %d, for cuts %v", seed, got.Bins, got.Optimal, want, cuts)
		}
	}
}

// model writes the cutting-stock problem over all patterns as a CPLEX LP file.
func model(capacity, kerf int64, items []binpack.Item) string {
	var patterns [][]int
	var grow func(i int, room int64, counts []int)
	grow = func(i int, room int64, counts []int) {
		if i == len(items) {
			patterns = append(patterns, slices.Clone(counts))
			return
		}
		for n := 0; int64(n)*(items[i].Size+kerf) <= room; n++ {
			counts[i] = n
			grow(i+1, room-int64(n)*(items[i].Size+kerf), counts)
		}
		counts[i] = 0
	}
	grow(0, capacity, make([]int, len(items)))
	var lp strings.Builder
	lp.WriteString("Minimize\n obj:")
	for p := range patterns {
		fmt.Fprintf(&lp, " + x%d\n", p)
	}
	lp.WriteString("Subject To\n")
	for i, item := range items {
		fmt.Fprintf(&lp, " d%d:", i)
		for p, counts := range patterns {
			if counts[i] > 0 {
				fmt.Fprintf(&lp, " + %d x%d\n", counts[i], p)
			}
		}
		fmt.Fprintf(&lp, " >= %d\n", item.Count)
	}
	lp.WriteString("General\n")
	for p := range patterns {
		fmt.Fprintf(&lp, " x%d\n", p)
	}
	lp.WriteString("End\n")
	return lp.String()
}

var objective = regexp.MustCompile(`Objective:\s+obj = (\d+)`)

// solve asks glpsol for a proven optimum.
func solve(t *testing.T, glpsol, dir, lp string) int {
	t.Helper()
	in, out := filepath.Join(dir, "m.lp"), filepath.Join(dir, "m.out")
	if err := os.WriteFile(in, []byte(lp), 0o600); err != nil {
		t.Fatal(err)
	}
	if log, err := exec.Command(glpsol, "--tmlim", "30", "--lp", in, "-o", out).CombinedOutput(); err != nil {
		t.Fatalf("glpsol: %v\n%s", err, log)
	}
	text, err := os.ReadFile(out)
	if err != nil {
		t.Fatal(err)
	}
	found := objective.FindSubmatch(text)
	if found == nil || !bytes.Contains(text, []byte("INTEGER OPTIMAL")) {
		t.Fatalf("glpsol gave no proven optimum:\n%s", text)
	}
	n, err := strconv.Atoi(string(found[1]))
	if err != nil {
		t.Fatal(err)
	}
	return n
}
