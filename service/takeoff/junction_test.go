package takeoff

import (
	"slices"
	"testing"

	"github.com/go-json-experiment/json"
	"pgregory.net/rapid"

	"hodman/service/measure"
	"hodman/service/product"
	"hodman/service/rulebook"
	"hodman/service/schedule"
	"hodman/testdata"
)

// TestNothingTwiceAtAJunction: where a wall of any make-up meets another in its length,
// on either side and with either end, bonded or tied, no two pieces share ground at any
// level, and no place in the leaf that it meets is farther than two joints from a piece.
func TestNothingTwiceAtAJunction(t *testing.T) { rapid.Check(t, nothingTwiceAtAJunction) }

func nothingTwiceAtAJunction(t *rapid.T) {
	s := &schedule.Schedule{Reference: "junction", Rulebook: "gb", WallTypes: []schedule.WallType{drawType(t, "A"), drawType(t, "B")}}
	end := rapid.IntRange(0, 1).Draw(t, "end")
	side := rapid.SampledFrom([]string{"inside", "outside"}).Draw(t, "side")
	j := &schedule.Junction{Wall: "T", At: measure.Length(rapid.IntRange(1200, 1800).Draw(t, "at")) * ms, Side: side,
		Joined: rapid.SampledFrom([]string{"", "tied"}).Draw(t, "joined")}
	through := schedule.Wall{Ref: "T", Type: "A", Length: 3600 * ms, Height: 1800 * ms, Left: schedule.StopEnd, Right: schedule.StopEnd}
	stem := schedule.Wall{Ref: "S", Type: "B", Length: 1500 * ms, Height: measure.Length(rapid.IntRange(300, 1350).Draw(t, "height")) * ms,
		Base: measure.Length(rapid.SampledFrom([]int{0, 225, 450}).Draw(t, "base")) * ms, Left: schedule.StopEnd, Right: schedule.StopEnd}
	if end == 0 {
		stem.Left, stem.LeftJunction = schedule.JunctionEnd, j
	} else {
		stem.Right, stem.RightJunction = schedule.JunctionEnd, j
	}
	banded := rapid.Bool().Draw(t, "band")
	if banded {
		through.Bands = []schedule.Band{{Kind: rapid.SampledFrom([]string{"stretcher", "header"}).Draw(t, "kind"), At: 450 * ms, Courses: 2}}
	}
	s.Walls = []schedule.Wall{through, stem}
	if lower := a75(t, s.WallTypes[0]); lower > 0 && !banded && rapid.Bool().Draw(t, "chain") {
		// The wall met stands higher than one that it meets itself, and counts its courses from there.
		s.Walls[0].Left, s.Walls[0].LeftWall = schedule.ExternalCorner, "N"
		s.Walls = append(s.Walls, schedule.Wall{Ref: "N", Type: "A", Length: 3000 * ms, Height: 1800 * ms, Base: -lower, Left: schedule.StopEnd,
			Right: schedule.ExternalCorner, RightWall: "T"})
	}
	if end == 0 && rapid.Bool().Draw(t, "goes on") {
		s.Walls[1].Right, s.Walls[1].RightWall = schedule.InternalCorner, "Q"
		s.Walls = append(s.Walls, schedule.Wall{Ref: "Q", Type: "B", Length: 1500 * ms, Height: stem.Height, Base: stem.Base, Left: schedule.InternalCorner,
			LeftWall: "S", Right: schedule.StopEnd})
	}
	if faults := s.Check(product.Demo()); len(faults) > 0 {
		t.Fatal(faults)
	}
	laid := layAll(s)
	wide := func(i int) measure.Length { l := laid[i][len(laid[i])-1].made; return l.Back + l.Thickness }
	f := frame{j.At + wide(1), wide(0), 0, 1}
	switch {
	case side == "inside" && end == 1:
		f = frame{j.At, wide(0) + stem.Length, 0, -1}
	case side == "outside" && end == 0:
		f = frame{j.At, 0, 0, -1}
	case side == "outside":
		f = frame{j.At + wide(1), -stem.Length, 0, 1}
	}
	met := laid[0][0].made
	if side == "inside" {
		met = laid[0][len(laid[0])-1].made
	}
	for z := 45 * ms; z < stem.Base+stem.Height; z += 75 * ms {
		frames := []frame{{dx: 1}, f}
		for _, w := range s.Walls[2:] {
			if w.Ref == "Q" {
				frames = append(frames, f.round(stem.Length, schedule.InternalCorner))
			} else { // its right end is where the wall met begins, and that turns inwards from it
				frames = append(frames, frame{0, 3000 * ms, 0, -1})
			}
		}
		pieces := standing(t, laid, frames, z)
		if banded || !inUnits(laid, z) || z < stem.Base {
			continue
		}
		zone := plan{j.At - 50*ms, j.At + wide(1) + 50*ms, met.Back, met.Back + met.Thickness}
		allFilled(t, zone, pieces, z)
	}
}

// a75 is a number of courses of 75 or 225 mm that every leaf of a type counts whole, or nought.
func a75(t *rapid.T, w schedule.WallType) measure.Length {
	lower := measure.Length(rapid.SampledFrom([]int{225, 450, 675}).Draw(t, "lower")) * ms
	for _, l := range []*schedule.Leaf{w.Single, w.Outer, w.Inner} {
		if l != nil && lower%(l.Unit.Height+10*ms) != 0 {
			return 0
		}
	}
	return lower
}

// standing are all pieces at a level, each in its wall's frame; it fails where two share ground.
func standing(t *rapid.T, laid [][]laidLeaf, frames []frame, z measure.Length) (pieces []plan) {
	for i := range laid {
		for k := range laid[i] {
			for _, p := range laid[i][k].cutAt(z) {
				p = frames[i].place(p)
				for _, q := range pieces {
					if p.meets(q) {
						t.Fatalf("at %v: a piece of wall %d, leaf %d shares ground with another: %v, %v", z, i, k, p, q)
					}
				}
				pieces = append(pieces, p)
			}
		}
	}
	return pieces
}

// inUnits says that no leaf has a bed at level z, nor a last course lower than the unit.
func inUnits(laid [][]laidLeaf, z measure.Length) bool {
	for i := range laid {
		for k := range laid[i] {
			l := &laid[i][k]
			at := z - l.wall.Base
			if at%l.made.Gauge() <= l.made.Bed || at/l.made.Gauge() >= l.wall.Height/l.made.Gauge() {
				return false
			}
		}
	}
	return true
}

func allFilled(t *rapid.T, zone plan, pieces []plan, z measure.Length) {
	const step = 20 * half
	for x := zone.x0 + step; x < zone.x1; x += step {
		for y := zone.y0 + step; y < zone.y1; y += step {
			if !nearby(pieces, x, y, 2*10*ms) {
				t.Fatalf("at %v: nothing at %v, %v", z, x, y)
			}
		}
	}
}

// TestNothingTwiceAtACrossing is the same where walls of one leaf run through each other.
func TestNothingTwiceAtACrossing(t *testing.T) { rapid.Check(t, nothingTwiceAtACrossing) }

func nothingTwiceAtACrossing(t *rapid.T) {
	a, b := drawType(t, "A"), drawType(t, "B")
	for _, k := range []*schedule.WallType{&a, &b} {
		if k.Single == nil {
			k.Single, k.Outer, k.Cavity, k.Inner = k.Outer, nil, nil, nil
		}
	}
	x := schedule.Crossing{Wall: "B", At: measure.Length(rapid.IntRange(1200, 1800).Draw(t, "at")) * ms,
		OtherAt: measure.Length(rapid.IntRange(1200, 1800).Draw(t, "other at")) * ms, Joined: rapid.SampledFrom([]string{"", "tied"}).Draw(t, "joined")}
	wall := func(ref string, base, height int) schedule.Wall {
		return schedule.Wall{Ref: ref, Type: ref, Length: 3600 * ms, Height: measure.Length(height) * ms, Base: measure.Length(base) * ms, Left: schedule.StopEnd, Right: schedule.StopEnd}
	}
	s := &schedule.Schedule{Reference: "crossing", Rulebook: "gb", WallTypes: []schedule.WallType{a, b}, Walls: []schedule.Wall{
		wall("A", rapid.SampledFrom([]int{0, 225}).Draw(t, "base a"), rapid.SampledFrom([]int{900, 1350}).Draw(t, "height a")),
		wall("B", rapid.SampledFrom([]int{0, 225}).Draw(t, "base b"), rapid.SampledFrom([]int{900, 1350}).Draw(t, "height b"))}}
	s.Walls[0].Crossings = []schedule.Crossing{x}
	if faults := s.Check(product.Demo()); len(faults) > 0 {
		t.Fatal(faults)
	}
	laid := layAll(s)
	m, n := laid[0][0].made, laid[1][0].made
	// B runs inwards, seen from outside A from near to far: its outer face is on the right.
	frames := []frame{{dx: 1}, {x.At + n.Thickness, -x.OtherAt, 0, 1}}
	for z := 45 * ms; z < 900*ms; z += 75 * ms {
		pieces := standing(t, laid, frames, z)
		if inUnits(laid, z) && z > s.Walls[0].Base && z > s.Walls[1].Base {
			allFilled(t, plan{x.At, x.At + n.Thickness, 0, m.Thickness}, pieces, z)
		}
	}
}

// TestToothedJunction is worked by hand: a half-brick wall 2690 long and 8 courses high,
// and a half-brick stem of 890 bonded into it at its sixth brick, 1125 to 1227.5.
//
// Through: odd courses 12 whole. Even courses give up 1115 to 1237.5 and are set half a
// brick along: half, 4 whole to 1002.5, then 1012.5 to 1115: a half (102.5); then from
// 1237.5 six whole bricks to 2577.5 and a half to 2690. 10 whole and 3 halves.
// Stem: courses that butt have 880 from 10 on: 3 whole to 675, then 685 to 890: 205 of a
// brick. Courses that run in have 992.5 from -102.5: 4 whole to 787.5, then 797.5 to 890:
// 92.5.
// Whole: 4 x 12 + 4 x 10 + 4 x 3 + 4 x 4 = 116. Cut: 12 of 102.5, 4 of 205, 4 of 92.5.
func TestToothedJunction(t *testing.T) {
	s := &schedule.Schedule{Reference: "tooth", Rulebook: "gb", WallTypes: []schedule.WallType{{Key: "HB", Single: &schedule.Leaf{Product: "BRK-65-FACE"}}},
		Walls: []schedule.Wall{
			{Ref: "T", Type: "HB", Length: 2690 * ms, Height: 600 * ms, Left: schedule.StopEnd, Right: schedule.StopEnd},
			{Ref: "S", Type: "HB", Length: 890 * ms, Height: 600 * ms, Left: schedule.JunctionEnd, Right: schedule.StopEnd,
				LeftJunction: &schedule.Junction{Wall: "T", At: 1125 * ms}},
		}}
	if faults := s.Check(product.Demo()); len(faults) > 0 {
		t.Fatal(faults)
	}
	out := Compute(s, product.Demo(), rulebook.GB())
	if !slices.Contains(out.Lines[0].Rules, "junction.bonded") {
		t.Errorf("rules %v do not say how it is bonded", out.Lines[0].Rules)
	}
	if n := out.Lines[0]; n.Whole != 116 || n.CutPieces != 20 {
		t.Errorf("%d whole and %d cut, want 116 and 20", n.Whole, n.CutPieces)
	}
	want := []Cut{{Length: 205 * ms, Count: 4}, {Length: 185 * half, Count: 4}}
	if got := out.Walls[1].Leaves[0].Cuts; len(got) != 2 || got[0] != want[0] || got[1] != want[1] {
		t.Errorf("stem cuts %v, want %v", got, want)
	}
	if got := out.Walls[0].Leaves[0].Cuts; len(got) != 1 || got[0] != (Cut{Length: 205 * half, Count: 12}) {
		t.Errorf("through cuts %v, want 12 of 102.5", got)
	}
}

// TestStemLapsWhereItRunsThroughABrick: half-brick stretchers that run into a wall of one
// brick begin 225 mm apart by turns, a whole brick and its joint, and lap by half all the same.
func TestStemLapsWhereItRunsThroughABrick(t *testing.T) {
	s := pierWall()
	s.WallTypes = append(s.WallTypes, schedule.WallType{Key: "OB", Single: &schedule.Leaf{Product: "BRK-65-FACE", Bond: "english", Thickness: 215 * ms}})
	s.Walls[0].Type = "OB"
	s.Walls = append(s.Walls, schedule.Wall{Ref: "S", Type: "HB", Length: 2240 * ms, Height: 600 * ms, Left: schedule.JunctionEnd, Right: schedule.StopEnd,
		LeftJunction: &schedule.Junction{Wall: "W", At: 1125 * ms, Joined: "bonded"}})
	if faults := s.Check(product.Demo()); len(faults) > 0 {
		t.Fatal(faults)
	}
	l := layAll(s)[1][0]
	ends := map[measure.Length]bool{}
	for _, p := range l.cutAt(45 * ms) {
		ends[p.x1] = true
	}
	for _, p := range l.cutAt(120 * ms) {
		if p.x1 != 2240*ms && ends[p.x1] {
			t.Errorf("a perpend at %v stands over another", p.x1)
		}
	}
}

// TestGarage counts the schedule of walls that meet in every way. Its return of 450 mm between a
// re-entrant and an external corner is 440 long in every course, a whole block: 12 courses, 12 blocks,
// none cut. The store bonds into the inner leaf and the yard wall butts: one starter kit for 1.8 m;
// the house's inner leaf butts behind the garage wall: 2 kits of 2.4 m for 2.7 m. Three in all.
func TestGarage(t *testing.T) {
	s := new(schedule.Schedule)
	if err := json.Unmarshal(testdata.Garage, s, json.RejectUnknownMembers(true)); err != nil {
		t.Fatal(err)
	}
	if faults := s.Check(product.Demo()); len(faults) > 0 {
		t.Fatal(faults)
	}
	out := Compute(s, product.Demo(), rulebook.GB())
	sound(t, out)
	if l := out.Walls[3].Leaves[0]; l.Whole != 12 || len(l.Cuts) != 0 {
		t.Errorf("return: %d whole, cuts %v, want 12 and none", l.Whole, l.Cuts)
	}
	kits, ends := measure.Quantity(0), 0
	for _, a := range out.Ancillaries {
		if a.Part == "starter" {
			kits += a.Required
		}
	}
	for _, f := range out.Findings {
		if f.Code == "corner.cavity_ends" {
			ends++
		}
	}
	if kits != measure.Each(3) || ends != 1 {
		t.Errorf("%v starter kits and %d findings of a cavity that ends, want 3 and 1", kits, ends)
	}
}

// TestShortReturns: a break of 225 mm between an external and a re-entrant corner takes a whole brick in
// every course (215 and a joint). The walls beside it, 890 and 787.5 long, have by turns 4 whole,
// or 3 and a half: in 8 courses 8 x (1 + 4 + 3) = 64 whole and 8 halves. A break of 57.5 mm
// leaves 47.5, under a quarter of a brick; a wall shorter than its leaf is thick is refused.
func TestShortReturns(t *testing.T) {
	s := pierWall()
	e, i := schedule.ExternalCorner, schedule.InternalCorner
	wall := func(ref string, length measure.Length, left, right schedule.End) schedule.Wall {
		return schedule.Wall{Ref: ref, Type: "HB", Length: length, Height: 600 * ms, Left: left, Right: right}
	}
	s.Walls = []schedule.Wall{wall("A", 890*ms, schedule.StopEnd, e), wall("R", 225*ms, e, i), wall("B", 1575*half, i, schedule.StopEnd)}
	if faults := s.Check(product.Demo()); len(faults) > 0 {
		t.Fatal(faults)
	}
	if n := Compute(s, product.Demo(), rulebook.GB()).Lines[0]; n.Whole != 64 || n.CutPieces != 8 {
		t.Errorf("%d whole and %d cut, want 64 and 8", n.Whole, n.CutPieces)
	}
	slivers := func() (n int) {
		for _, f := range Compute(s, product.Demo(), rulebook.GB()).Findings {
			if f.Code == "return.sliver" {
				n++
			}
		}
		return n
	}
	if n := slivers(); n != 0 {
		t.Errorf("%d slivers told of in a return of a whole brick", n)
	}
	s.WallTypes[0].Single.Unit, s.WallTypes[0].Single.Product = &schedule.Unit{Kind: "brick", Length: 215 * ms, Thickness: 50 * ms, Height: 65 * ms, Mass: 1200}, ""
	s.Walls[1].Length = 115 * half
	if faults := s.Check(product.Demo()); len(faults) > 0 {
		t.Fatal(faults)
	}
	if n := slivers(); n != 1 {
		t.Errorf("%d slivers told of in a return of 57.5 mm, want 1", n)
	}
	s.Walls[1].Length = 49 * ms
	if faults := s.Check(product.Demo()); len(faults) != 1 || faults[0].Code != "too_short" {
		t.Errorf("a return of 49 mm: %v", faults)
	}
}
