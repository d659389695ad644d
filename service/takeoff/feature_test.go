package takeoff

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"hodman/service/bond"
	"hodman/service/measure"
	"hodman/service/product"
	"hodman/service/rulebook"
	"hodman/service/schedule"
)

// counted by hand: one half-brick wall 2690 mm (12 bricks) by 2250 (30 courses) between stop ends, as changed.
func shaped(t *testing.T, change func(*schedule.Wall)) *Takeoff {
	t.Helper()
	w := free(2690*ms, 2250*ms)
	change(&w)
	s := &schedule.Schedule{Reference: "r", Rulebook: "gb", Walls: []schedule.Wall{w},
		WallTypes: []schedule.WallType{{Key: "T", Single: &schedule.Leaf{Product: "BRK-65-FACE"}}}}
	if faults := s.Check(product.Demo()); len(faults) > 0 {
		t.Fatal(faults)
	}
	return Compute(s, product.Demo(), rulebook.GB())
}

func lineOf(o *Takeoff, code string) *Line {
	for i := range o.Lines {
		if o.Lines[i].Product == code {
			return &o.Lines[i]
		}
	}
	return &Line{}
}

// A band of soldiers 225 mm high takes the place of three courses: (2690 + 10) / 75 = 36 of them. The wall without it
// has 15 x 12 + 15 x 11 whole and 15 x 2 halves; three courses from the bottom take 12 + 11 + 12 whole and 2 halves with them.
func TestSoldierBand(t *testing.T) {
	o := shaped(t, func(w *schedule.Wall) { w.Bands = []schedule.Band{{Kind: "soldier", Product: "BRK-65-ENG"}} })
	if l := lineOf(o, "BRK-65-ENG"); l.Whole != 36 || l.CutPieces != 0 {
		t.Errorf("soldiers: %d whole, %d cut", l.Whole, l.CutPieces)
	}
	if l := lineOf(o, "BRK-65-FACE"); l.Whole != 345-35 || l.CutPieces != 28 {
		t.Errorf("the rest: %d whole, %d cut", l.Whole, l.CutPieces)
	}
}

// Headers of a half-brick band are snapped, (2690 + 10) / 112.5 = 24, two from a brick; of a dentil every
// other is a whole one.
func TestHeaderBands(t *testing.T) {
	header := shaped(t, func(w *schedule.Wall) { w.Bands = []schedule.Band{{Kind: "header", Product: "BRK-65-ENG"}} })
	if l := lineOf(header, "BRK-65-ENG"); l.Whole != 0 || l.CutPieces != 24 || l.ForCuts != 12 {
		t.Errorf("header: %d whole, %d cut out of %d", l.Whole, l.CutPieces, l.ForCuts)
	}
	dentil := shaped(t, func(w *schedule.Wall) { w.Bands = []schedule.Band{{Kind: "dentil", Product: "BRK-65-ENG"}} })
	if l := lineOf(dentil, "BRK-65-ENG"); l.Whole != 12 || l.CutPieces != 12 || l.ForCuts != 6 {
		t.Errorf("dentil: %d whole, %d cut out of %d", l.Whole, l.CutPieces, l.ForCuts)
	}
}

// A soldier course over 910 mm of opening: up((910 + 10) / 75) = 13, 965 mm wide. A sill of bricks on edge under it: 12
// fill 890 of the 910, and a 13th would need joints of (910 - 13 x 65) / 12 = 5.4: so 12 and joints of (910 - 780) / 11 = 11.8.
func TestSoldiersAndSill(t *testing.T) {
	o := shaped(t, func(w *schedule.Wall) {
		w.Openings = []schedule.Opening{{Ref: "O", Left: 890 * ms, Sill: 900 * ms, Width: 910 * ms, Height: 900 * ms,
			Head: schedule.Head{Soldier: true, Product: "BRK-65-ENG"}, SillCourse: &schedule.Course{Product: "BRK-65-COMMON"}}}
	})
	if l := lineOf(o, "BRK-65-ENG"); l.Whole != 13 || l.CutPieces != 0 {
		t.Errorf("soldiers: %d whole, %d cut", l.Whole, l.CutPieces)
	}
	if l := lineOf(o, "BRK-65-COMMON"); l.Whole != 12 || l.CutPieces != 0 {
		t.Errorf("sill: %d whole, %d cut", l.Whole, l.CutPieces)
	}
}

// A semicircle of 910 mm in two rings, as worked in package arch for 900: the middle of the first is pi x (455 + 51.25) = 1590.4,
// 21.2 bricks: 21; of the second pi x 618.75 = 1943.9, 25.9: 25. In a half-brick wall they are snapped: 46 halves out of 23 bricks.
// The opening is 910 x (1355 - 455) + pi x 455^2 / 2 = 819000 + 325194 mm2.
func TestArchRings(t *testing.T) {
	o := shaped(t, func(w *schedule.Wall) {
		w.Openings = []schedule.Opening{{Ref: "O", Shape: "semicircular", Left: 890 * ms, Sill: 450 * ms, Width: 910 * ms, Height: 1355 * ms,
			Head: schedule.Head{Rings: 2, Product: "BRK-65-ENG"}}}
	})
	if l := lineOf(o, "BRK-65-ENG"); l.Whole != 0 || l.CutPieces != 46 || l.ForCuts != 23 {
		t.Errorf("rings: %d whole, %d cut out of %d", l.Whole, l.CutPieces, l.ForCuts)
	}
	leaf := &o.Walls[0].Leaves[0]
	if want := (819_000 + 325_194) * measure.Area(ms) * measure.Area(ms); leaf.Openings != want {
		t.Errorf("openings %v, want %v", leaf.Openings, want)
	}
	if leaf.Raking == 0 || len(o.Lintels) != 0 {
		t.Errorf("%d cut to the arch, %d lintels", leaf.Raking, len(o.Lintels))
	}
}

// A stepped top is level walls side by side: 1340 mm (6 bricks) of 30 courses, 10 of joint, and 1340 of 36.
// Whole: 15 x 6 + 15 x 5 under the height line on either side, and above it 3 x 6 + 3 x 5 on the right, where the six courses
// start at the step as they would anywhere on the bond: 12 halves beside.
func TestSteppedTop(t *testing.T) {
	o := shaped(t, func(w *schedule.Wall) {
		w.Top = &schedule.Top{Shape: "stepped", Steps: []schedule.Step{{At: 1350 * ms, Rise: 450 * ms}}}
	})
	leaf := &o.Walls[0].Leaves[0]
	if leaf.Whole != 345+33 || len(leaf.Cuts) != 1 || leaf.Cuts[0].Count != 30+6 {
		t.Errorf("%d whole, cuts %+v", leaf.Whole, leaf.Cuts)
	}
	// 1350 x 2.25 + 1340 x 2.7 = 6.6555 m2
	if want := measure.Area(6_655_500) * measure.Area(ms) * measure.Area(ms); leaf.Gross != want {
		t.Errorf("gross %v, want %v", leaf.Gross, want)
	}
}

// Copings of 600 on 10: a gable of 2690 with its apex of 1000 in the middle has two slopes of root(1345^2 + 1000^2) = 1676.0 mm:
// up(1686 / 610) = 3 on each.
func TestCoping(t *testing.T) {
	o := shaped(t, func(w *schedule.Wall) {
		w.Top = &schedule.Top{Shape: "gable", Apex: 1000 * ms, ApexAt: 1345 * ms, Coping: &schedule.Coping{Product: "COP-600-S"}}
	})
	if l := lineOf(o, "COP-600-S"); l.Required != measure.Each(6) {
		t.Errorf("copings: %v", l.Required)
	}
}

// Bricks on edge, 65 + 10 each: (2690 + 10) / 75 = 36 exactly, and 5 % of breakage like any brick's: 1.8, up to 2.
func TestCopingOfBricks(t *testing.T) {
	o := shaped(t, func(w *schedule.Wall) {
		w.Top = &schedule.Top{Shape: "level", Coping: &schedule.Coping{Product: "BRK-65-ENG"}}
	})
	if l := lineOf(o, "BRK-65-ENG"); l.Net != measure.Each(36) || l.Required != measure.Each(38) {
		t.Errorf("%v, %v required", l.Net, l.Required)
	}
}

// What is built into a thick wall is as wide as the wall, whatever its bricks are: 2.69 m of damp-proof course for 215 or 327.5 mm,
// and for 215 of rat-trap, whose bricks are 65 thick on edge; behind 10 mm of sealant 205 mm of a joint take
// three strips of filler 100 wide over 2.25 m, 317.5 mm take four.
func TestBuiltIntoThickWalls(t *testing.T) {
	for _, c := range []struct {
		bond   string
		thick  measure.Length
		course string
		strips measure.Length
	}{
		{"english", 215 * ms, "DPC-225-30", 3},
		{"flemish", 327_500, "DPC-450-30", 4},
		{"rat_trap", 215 * ms, "DPC-225-30", 3},
	} {
		w := free(2690*ms, 2250*ms)
		w.MovementJoints = []measure.Length{1350 * ms}
		s := &schedule.Schedule{Reference: "r", Rulebook: "gb", Walls: []schedule.Wall{w},
			WallTypes: []schedule.WallType{{Key: "T", Single: &schedule.Leaf{Product: "BRK-65-FACE", Bond: c.bond, Thickness: c.thick}}}}
		o := Compute(s, product.Demo(), rulebook.GB())
		if l := lineOf(o, c.course); l.Net != measure.Metres(2690*ms) {
			t.Errorf("%s of %s mm: %v of %s", c.bond, c.thick, l.Net, c.course)
		}
		if l := lineOf(o, "FILLER-20"); l.Net != measure.Metres(c.strips*2250*ms) {
			t.Errorf("%s of %s mm: %v of filler", c.bond, c.thick, l.Net)
		}
	}
}

// 2250 - 2240 = 10 mm over an opening: no unit is cut as low as that, and none is counted over it.
func TestStubOverAnOpening(t *testing.T) {
	o := shaped(t, func(w *schedule.Wall) {
		w.Openings = []schedule.Opening{{Ref: "O", Left: 890 * ms, Width: 910 * ms, Height: 2240 * ms, Head: schedule.Head{Kind: "none"}}}
	})
	told := false
	for _, f := range o.Findings {
		told = told || f.Code == "opening.stub" && f.At == "/walls/0/openings/0/height_mm"
	}
	if leaf := &o.Walls[0].Leaves[0]; !told || len(leaf.Splits) != 0 {
		t.Errorf("told %v, splits %+v", told, leaf.Splits)
	}
}

// A ring of 1340 x 1340 mm outside in half-brick work, with a soldier band round it all: each wall's band runs through its right corner
// and starts behind the other's at its left: (1340 - 112.5 + 10) / 75 = 16.5, so 16 and what is over in the joints and a cut. Round
// one wall alone it starts and ends behind the corners that its courses keep: 1340 - 2 x 112.5 = 1115, (1115 + 10) / 75 = 15 soldiers.
func TestBandRoundCorners(t *testing.T) {
	ring := func(banded int) *Takeoff {
		s := &schedule.Schedule{Reference: "r", Rulebook: "gb", WallTypes: []schedule.WallType{{Key: "T", Single: &schedule.Leaf{Product: "BRK-65-FACE"}}}}
		for i, ref := range []string{"A", "B", "C", "D"} {
			w := free(1340*ms, 900*ms)
			w.Ref, w.Left, w.Right = ref, schedule.ExternalCorner, schedule.ExternalCorner
			if i < banded {
				w.Bands = []schedule.Band{{Kind: "soldier", At: 225 * ms, Product: "BRK-65-ENG"}}
			}
			s.Walls = append(s.Walls, w)
		}
		if faults := s.Check(product.Demo()); len(faults) > 0 {
			t.Fatal(faults)
		}
		return Compute(s, product.Demo(), rulebook.GB())
	}
	// The mean girth is 4 x 1340 - 4 x 102.5 = 4950 = 22 x 225: 22 bricks a course, three of 12 courses given up.
	if all := ring(4); lineOf(all, "BRK-65-FACE").Whole != 9*22 || lineOf(all, "BRK-65-FACE").CutPieces != 0 {
		t.Errorf("all round: %s", lineOf(all, "BRK-65-FACE").Sum)
	}
	one := ring(1)
	if l := lineOf(one, "BRK-65-ENG"); l.Whole != 15 || l.CutPieces != 0 {
		t.Errorf("one wall: %s", l.Sum)
	}
	// In courses 4 to 6 the wall with the band has 5, 6 and 5 bricks, owning both its corners in odd courses. It gives
	// them up but for a half at either corner in course 5: 264 - 16 + 2.
	if l := lineOf(one, "BRK-65-FACE"); l.Laid != 250 || l.CutPieces != 2 {
		t.Errorf("one wall, the rest: %s", l.Sum)
	}
}

// TestCourseOfOtherUnits: bricks on edge, 65 along and joints of 10. What is over is taken up in the joints
// where each stays within 12; else a piece is cut; and where that would be no wider
// than a joint, two share the last one's place: 230 is 2 x 75 and 80, which are 35 + 10 + 35.
func TestCourseOfOtherUnits(t *testing.T) {
	for _, c := range []struct {
		to   measure.Length
		want []bond.Strip // X, Length, Count and Pitch
	}{
		{965 * ms, []bond.Strip{{Length: 65 * ms, Count: 13, Pitch: 75 * ms}}},
		{977 * ms, []bond.Strip{{Length: 65 * ms, Count: 13, Pitch: 76 * ms}}}, // 12 over 12 joints
		{1000 * ms, []bond.Strip{{X: 975 * ms, Length: 25 * ms, Count: 1, Pitch: 75 * ms}, {Length: 65 * ms, Count: 13, Pitch: 75 * ms}}},
		{230 * ms, []bond.Strip{{X: 150 * ms, Length: 35 * ms, Count: 2, Pitch: 45 * ms}, {Length: 65 * ms, Count: 2, Pitch: 75 * ms}}},
	} {
		l := lie{long: 65 * ms, joint: 10 * ms}
		got := l.course(nil, 0, c.to, 0)
		for i := range got {
			got[i].Cut = bond.Whole
		}
		if diff := cmp.Diff(c.want, got); diff != "" {
			t.Errorf("%s: want (-), got (+)\n%s", c.to, diff)
		}
	}
}

// TestBandThroughAThickLeaf: a course of headers in a wall of one and a half bricks has 215 of
// its 327.5 at the face, and behind a joint of 10 what is left, 102.5, in half bats: 2 x 12 of them in 1340.
func TestBandThroughAThickLeaf(t *testing.T) {
	leaf := unit("brick", 215*ms, 102_500, 65*ms)
	leaf.Bond, leaf.Thickness = "english", 327_500
	w := free(1340*ms, 600*ms)
	w.Bands = []schedule.Band{{Kind: "header", At: 300 * ms}}
	s := &schedule.Schedule{Reference: "band", Rulebook: "gb", WallTypes: []schedule.WallType{{Key: "T", Single: &leaf}}, Walls: []schedule.Wall{w}}
	if faults := s.Check(product.Demo()); len(faults) > 0 {
		t.Fatal(faults)
	}
	bands := layAll(s)[0][0].Bands
	for i, want := range []bond.Strip{{Y: 0, Depth: 215 * ms, Cut: bond.Whole}, {Y: 225 * ms, Depth: 102_500, Cut: bond.InLength}} {
		got := bands[len(bands)-1].Strips[i]
		if got.Y != want.Y || got.Depth != want.Depth || got.Cut != want.Cut || got.Count != 12 || got.Face != bond.Header {
			t.Errorf("rank %d: %+v", i, got)
		}
	}
}

// Five copings of 600 on 2690 mm: a bed of 2690 x 102.5 x 10 and four joints of 10 x 75 x 180 mm, 2,757,250 + 540,000 mm3.
func TestCopingMortar(t *testing.T) {
	joints := func(c *schedule.Coping) measure.Volume {
		o := shaped(t, func(w *schedule.Wall) { w.Top = &schedule.Top{Shape: "level", Coping: c} })
		return o.Mortar[0].Joints
	}
	if got, want := joints(&schedule.Coping{Product: "COP-600-S"})-joints(nil), 3_297_250*measure.Litre/1_000_000; got != want {
		t.Errorf("%v more, want %v", got, want)
	}
}

// An arch goes through the thickness of its wall. Of 910 mm the rough ring holds 21 bricks, as in TestArchRings: in a wall of one
// and a half bricks each is whole with half a brick behind it, two from one. Gauged, 215 deep, pi x (455 + 215) = 2104.9 mm hold 29 of
// 75; in a wall of one brick they stand two deep, and each is cut from a whole one.
func TestArchThroughAThickWall(t *testing.T) {
	arched := func(thick measure.Length, head schedule.Head) *Line {
		w := free(2690*ms, 2250*ms)
		w.Openings = []schedule.Opening{{Ref: "O", Shape: "semicircular", Left: 890 * ms, Sill: 450 * ms, Width: 910 * ms, Height: 1355 * ms, Head: head}}
		s := &schedule.Schedule{Reference: "r", Rulebook: "gb", Walls: []schedule.Wall{w},
			WallTypes: []schedule.WallType{{Key: "T", Single: &schedule.Leaf{Product: "BRK-65-FACE", Bond: "english", Thickness: thick}}}}
		if faults := s.Check(product.Demo()); len(faults) > 0 {
			t.Fatal(faults)
		}
		return lineOf(Compute(s, product.Demo(), rulebook.GB()), "BRK-65-ENG")
	}
	if l := arched(327_500, schedule.Head{Product: "BRK-65-ENG"}); l.Whole != 21 || l.CutPieces != 21 || l.ForCuts != 11 {
		t.Errorf("rough: %s", l.Sum)
	}
	if l := arched(215*ms, schedule.Head{Gauged: true, Product: "BRK-65-ENG"}); l.Whole != 0 || l.CutPieces != 58 || l.ForCuts != 58 {
		t.Errorf("gauged: %s", l.Sum)
	}
}
