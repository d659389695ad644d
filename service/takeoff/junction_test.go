package takeoff

import (
	"testing"

	"pgregory.net/rapid"

	"hodman/service/measure"
	"hodman/service/product"
	"hodman/service/rulebook"
	"hodman/service/schedule"
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
	s.Walls = []schedule.Wall{through, stem}
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
		pieces := standing(t, laid, []frame{{dx: 1}, f}, z)
		if !inUnits(laid, z) || z < stem.Base {
			continue
		}
		zone := plan{j.At - 50*ms, j.At + wide(1) + 50*ms, met.Back, met.Back + met.Thickness}
		allFilled(t, zone, pieces, z)
	}
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
