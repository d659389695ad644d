package takeoff

import (
	"bytes"
	"cmp"
	"fmt"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/go-json-experiment/json"
	"pgregory.net/rapid"

	"hodman/service/bond"
	"hodman/service/measure"
	"hodman/service/product"
	"hodman/service/rulebook"
	"hodman/service/schedule"
)

// bondsOf are the bonds by what they need of a leaf.
var bondsOf = []string{"stretcher", "half", "third", "stack", "header", "english", "flemish",
	"english_garden_wall", "flemish_garden_wall", "monk", "rat_trap"}

// shapesOf are the shapes that walls are to show.
var shapesOf = []string{"gable", "rake", "stepped", "segmental", "semicircular", "round", "arch", "flat_arch", "soldier", "sill", "pier",
	"band of soldier", "band of header", "band of dentil", "band of stretcher", "band of on_edge"}

// randomBonded is a leaf of any bond, in bricks of several countries and in blocks.
func randomBonded(t *rapid.T) *schedule.Leaf {
	kind, size := "brick", rapid.SampledFrom([][3]measure.Length{{215_000, 102_500, 65_000}, {230_000, 110_000, 76_000},
		{190_000, 90_000, 90_000}, {222_000, 106_000, 73_000}, {193_675, 92_075, 57_150}}).Draw(t, "size")
	l := &schedule.Leaf{Bond: rapid.SampledFrom(bondsOf).Draw(t, "bond")}
	if plain := slices.Index(bondsOf, l.Bond) < 4; plain && rapid.Bool().Draw(t, "blocks") {
		kind, size = "block", rapid.SampledFrom([][3]measure.Length{{440_000, 100_000, 215_000}, {440_000, 140_000, 215_000}, {390_000, 190_000, 190_000}}).Draw(t, "block")
		if rapid.IntRange(0, 3).Draw(t, "flat") == 0 {
			l.Laid = "flat"
		}
	}
	l.Unit = &schedule.Unit{Kind: kind, Length: size[0], Thickness: size[1], Height: size[2], Mass: measure.Kilogram}
	if l.Bond == "english_garden_wall" {
		l.HeadersEvery = rapid.IntRange(2, 6).Draw(t, "every")
	}
	ranks := rapid.IntRange(1, 3).Draw(t, "half bricks")
	if l.Bond == "header" {
		ranks = min(ranks, 2)
	}
	if l.Bond == "rat_trap" {
		l.Thickness = size[0]
		return l
	}
	m := madeOf(l)
	l.Thickness = measure.Length(ranks)*m.Unit.Thickness + measure.Length(ranks-1)*m.Collar()
	return l
}

func madeOf(l *schedule.Leaf) *schedule.Made {
	t := schedule.WallType{Key: "T", Single: l}
	return &t.Leaves(product.Demo(), rulebook.GB())[0]
}

// randomPanel is a wall with free ends, openings and any top, of one random leaf or of two
// with a cavity, set out in either way and with movement joints or without.
func randomPanel(t *rapid.T) *schedule.Schedule {
	s := &schedule.Schedule{Reference: "random", Rulebook: "gb", WallTypes: []schedule.WallType{{Key: "T"}},
		SettingOut: rapid.SampledFrom([]string{"", "", "as_given", "best"}).Draw(t, "setting out")}
	if made := &s.WallTypes[0]; rapid.IntRange(0, 4).Draw(t, "cavity") == 0 {
		made.Outer, made.Inner, made.Cavity = randomBonded(t), randomBonded(t), &schedule.Cavity{Width: 100 * ms}
	} else {
		made.Single = randomBonded(t)
	}
	w := randomWall(t, []string{"T"})
	w.Length, w.Height = min(w.Length, 3600*ms), min(w.Height, 1900*ms)
	if w.Top != nil && w.Top.Shape == "gable" {
		w.Top.ApexAt = w.Length / 3
	}
	w.Openings = slices.DeleteFunc(w.Openings, func(o schedule.Opening) bool { return o.Right() > w.Length || o.Top() > w.Height })
	if rapid.Bool().Draw(t, "roomy") {
		roomy(t, &w)
	}
	if rapid.IntRange(0, 5).Draw(t, "joint") == 0 {
		w.MovementJoints = []measure.Length{w.Length / 2 / ms * ms}
	}
	shapes(t, &w)
	s.Walls = []schedule.Wall{w}
	return s
}

// wallOfPieces is what pieces.py reads.
type wallOfPieces struct {
	Outline [][2]float64   `json:"outline"`
	Holes   [][][2]float64 `json:"holes"`
	Curves  [][][2]float64 `json:"curves"` // holes that pieces are cut to, with the arches round them
	Laid    [][][2]float64 `json:"laid"`   // where something has to stand
	Spared  [][][2]float64 `json:"spared"` // but not there
	Bed     float64        `json:"bed"`
	Joint   float64        `json:"joint"` // the widest that is one
	Ranks   []depthCut     `json:"ranks"`
}

type depthCut struct {
	Depth  float64  `json:"depth"`
	Pieces [][5]any `json:"pieces"`
}

func boxOf(x0, z0, x1, z1 measure.Length) [][2]float64 {
	return [][2]float64{{x0.Mm(), z0.Mm()}, {x1.Mm(), z0.Mm()}, {x1.Mm(), z1.Mm()}, {x0.Mm(), z1.Mm()}}
}

// piecesOf cuts through a leaf as laid at the middle of every half brick of its thickness.
func piecesOf(l *laidLeaf, widest measure.Length) *wallOfPieces {
	m, w, laid := l.made, l.wall, &l.Laying
	face := faceOf(w)["face"].([][2]float64)
	out := &wallOfPieces{Outline: face, Bed: m.Bed.Mm(), Holes: [][][2]float64{}, Curves: [][][2]float64{}, Spared: [][][2]float64{}}
	joint := max(m.Perpend, m.Collar(), (m.Unit.Length+m.Perpend)/2-m.Unit.Thickness)
	if m.Bond == "rat_trap" {
		joint = m.Perpend
	}
	if hasFeatures(w) && m.Back == 0 {
		joint += joint / 5 // by which a course of other units may be eked out
	}
	out.Joint = max(joint, widest).Mm()
	// Over the last course there is at most a bed, shared out among the beds below; beside
	// what stands there already, a perpend.
	gauge := m.Unit.Height + m.Bed
	top := w.Height
	if laid.Closing == 0 {
		top = measure.Length(laid.Full) * gauge
	}
	left, right := m.End(w.Left), m.End(w.Right)
	perpend := cmp.Or(laid.Way.Perpend, m.Perpend) // also the joint to what stands there already
	from, to := left.Lent(perpend), w.Length-right.Lent(perpend)
	// Pieces cut in height are cut to a slope or a curve as well.
	sloped := w.Highest() > w.Height
	if sloped {
		// Units whose underside is above the slope are not laid: less than a bed of it.
		out.Laid = [][][2]float64{moved(face, -m.Bed.Mm())}
		out.Spared = append(out.Spared, boxOf(-ms, 0, from, w.Highest()), boxOf(to, 0, w.Length+ms, w.Highest()))
	} else {
		out.Laid = [][][2]float64{boxOf(from, 0, to, top)}
	}
	low := 25*ms + m.Bed // what is left of a course is laid from 25 mm
	out.addHoles(l, low)
	out.spareFeatures(l, low)
	for _, j := range l.joints {
		out.Spared = append(out.Spared, boxOf(j.At, 0, j.At+j.Width, w.Highest()))
	}
	sloped = sloped || len(out.Curves) > 0
	for k := range m.HalfBricks() {
		y := measure.Length(k)*(m.Unit.Thickness+m.Collar()) + m.Unit.Thickness/2
		out.Ranks = append(out.Ranks, rankAt(laid, y, sloped))
	}
	if m.Bond == "rat_trap" {
		out.Ranks = []depthCut{rankAt(laid, m.Unit.Thickness/2, sloped), rankAt(laid, m.Thickness-m.Unit.Thickness/2, sloped)}
	}
	return out
}

// rankAt are all pieces that a cut at depth y meets.
func rankAt(laid *bond.Laying, y measure.Length, sloped bool) depthCut {
	r := depthCut{Depth: y.Mm(), Pieces: [][5]any{}}
	for i := range laid.Bands {
		b := &laid.Bands[i]
		for _, s := range b.Strips {
			if y <= s.Y || y >= s.Y+s.Depth || s.Face == bond.Voussoir {
				continue // an arch is a curve of its own here
			}
			for c := range b.Count {
				foot := b.Foot + measure.Length(c)*b.Rise + s.Foot
				for k := range s.Count {
					x := s.X + measure.Length(k)*s.Pitch
					r.Pieces = append(r.Pieces, [5]any{x.Mm(), foot.Mm(), (x + s.Length).Mm(), (foot + s.Height).Mm(), s.Cut == bond.ToShape || sloped && s.Cut == bond.InHeight})
				}
			}
		}
	}
	return r
}

// TestPiecesAgreeWithGEOS lays 500 random walls of every bond, with gables, rakes and
// openings, and has GEOS look at every piece: none overlaps another, none stands out of
// the wall or into an opening, and no gap is wider than a joint.
func TestPiecesAgreeWithGEOS(t *testing.T) {
	t.Parallel()
	python := shapely(t)
	gen := rapid.Custom(randomPanel)
	var input bytes.Buffer
	var walls []*schedule.Schedule
	seen := map[string]int{}
	for seed := 0; len(walls) < 500; seed++ {
		s := gen.Example(seed)
		if faults := s.Check(product.Demo()); len(faults) > 0 {
			s.Walls[0].Piers = nil
		}
		if faults := s.Check(product.Demo()); len(faults) > 0 {
			continue // too short for its units, or for an arch
		}
		widest := measure.Length(0)
		if s.SettingOut == "best" { // perpends to suit
			widest = rulebook.GB().Length("joint.perpend_most")
		}
		for _, l := range layAll(s)[0] {
			line, err := json.Marshal(piecesOf(&l, widest))
			if err != nil {
				t.Fatal(err)
			}
			input.Write(append(line, '\n'))
			walls = append(walls, s)
			for _, kind := range append(shapesIn(l.wall), l.made.Bond) {
				seen[kind]++
			}
		}
	}
	for _, kind := range slices.Concat(bondsOf, shapesOf) {
		if seen[kind] < 3 {
			t.Errorf("of %s there are only %d walls", kind, seen[kind])
		}
	}
	t.Log(seen)
	for i, answer := range askPython(t, python, "pieces.py", &input, len(walls)) {
		if answer != "ok" {
			text, _ := json.Marshal(walls[i])
			t.Errorf("%s\n%s", answer, text)
		}
	}
}

// shapely returns a Python that has it.
func shapely(t *testing.T) string {
	t.Helper()
	python := oracle(t, "/usr/bin/python3", "python3")
	if err := exec.Command(python, "-c", "import shapely").Run(); err != nil {
		oracle(t, "shapely-for-python3", "python3-shapely")
	}
	return python
}

// askPython runs a script of testdata over lines and returns as many.
func askPython(t *testing.T, python, script string, input *bytes.Buffer, lines int) []string {
	t.Helper()
	cmd := exec.Command(python, filepath.Join("testdata", script))
	cmd.Stdin = input
	var complaint bytes.Buffer
	cmd.Stderr = &complaint
	answer, err := cmd.Output()
	if err != nil {
		t.Fatal(err, complaint.String())
	}
	list := strings.Split(strings.TrimSpace(string(answer)), "\n")
	if len(list) != lines {
		t.Fatal(fmt.Errorf("%d answers to %d walls", len(list), lines))
	}
	return list
}
