package takeoff

import (
	"fmt"
	"testing"

	"pgregory.net/rapid"

	"hodman/service/bond"
	"hodman/service/measure"
	"hodman/service/product"
	"hodman/service/rulebook"
	"hodman/service/schedule"
)

// half is half a millimetre, so that 102.5 mm can be written.
const half = measure.Millimetre / 2

// laidLeaf is one leaf of one wall as laid.
type laidLeaf struct {
	bond.Laying
	made *schedule.Made
	wall *schedule.Wall
}

// layAll lays every leaf of a schedule: by wall, by leaf.
func layAll(s *schedule.Schedule) [][]laidLeaf {
	j := newJob(s, product.Demo(), rulebook.GB())
	rules := bond.Rules{LeastCut: j.book.Ratio("bond.least_cut"), LeastSplit: j.book.Length("bond.split_least")}
	out := make([][]laidLeaf, len(s.Walls))
	for i := range out {
		out[i] = make([]laidLeaf, len(j.leaves(i)))
	}
	for _, c := range j.chains() {
		for k := range j.mostLeaves(c) {
			for _, p := range j.parts(c, k) {
				runs := j.runs(p, k)
				for n, l := range bond.SetOut(runs, p.ring, rules) {
					out[p.walls[n]][k] = laidLeaf{l, runs[n].Leaf, runs[n].Wall}
				}
			}
		}
	}
	return out
}

// plan is a rectangle on plan.
type plan struct{ x0, x1, y0, y1 measure.Length }

func (p plan) meets(q plan) bool { return p.x0 < q.x1 && q.x0 < p.x1 && p.y0 < q.y1 && q.y0 < p.y1 }

func (p plan) grown(by measure.Length) plan { return plan{p.x0 - by, p.x1 + by, p.y0 - by, p.y1 + by} }

// within says whether a point lies in the rectangle.
func (p plan) within(x, y measure.Length) bool { return p.x0 <= x && x <= p.x1 && p.y0 <= y && y <= p.y1 }

// cutAt are the leaf's pieces that a level plane through z, above the datum, goes through,
// along the wall and across it from the wall's outer face.
func (l *laidLeaf) cutAt(z measure.Length) (list []plan) {
	z -= l.wall.Base
	for i := range l.Bands {
		b := &l.Bands[i]
		for c := range b.Count {
			foot := b.Foot + measure.Length(c)*b.Rise
			for _, s := range b.Strips {
				if z < foot+s.Foot || z > foot+s.Foot+s.Height {
					continue
				}
				for k := range s.Count {
					x, y := s.X+measure.Length(k)*s.Pitch, l.made.Back+s.Y
					list = append(list, plan{x, x + s.Length, y, y + s.Depth})
				}
			}
		}
	}
	return list
}

// place turns a piece of the wall that begins where the wall before it ended, at x = end,
// its outside to the right of one that goes in and to the left of one that goes out.
func place(p plan, end measure.Length, kind schedule.End) plan {
	if kind == schedule.ExternalCorner {
		return plan{end - p.y1, end - p.y0, p.x0, p.x1}
	}
	return plan{end + p.y0, end + p.y1, -p.x1, -p.x0}
}

// leafUnits are units that leaves of the corner tests are laid of.
var leafUnits = []schedule.Unit{
	{Kind: "brick", Length: 430 * half, Thickness: 205 * half, Height: 130 * half, Mass: 2300},
	{Kind: "block", Length: 880 * half, Thickness: 200 * half, Height: 430 * half, Mass: 14000},
	{Kind: "block", Length: 880 * half, Thickness: 280 * half, Height: 430 * half, Mass: 20000},
	{Kind: "block", Length: 780 * half, Thickness: 380 * half, Height: 380 * half, Mass: 20000},
}

func drawType(t *rapid.T, key string) schedule.WallType {
	leaf := func(name string) *schedule.Leaf {
		u := rapid.SampledFrom(leafUnits).Draw(t, key+name)
		l := &schedule.Leaf{Unit: &u}
		if u.Kind == "brick" && rapid.Bool().Draw(t, key+name+"one brick") {
			l.Thickness, l.Bond = 430*half, rapid.SampledFrom([]string{"stretcher", "english", "flemish"}).Draw(t, key+name+"bond")
		}
		return l
	}
	if rapid.Bool().Draw(t, key+"single") {
		return schedule.WallType{Key: key, Single: leaf("single")}
	}
	wide := measure.Length(rapid.IntRange(50, 150).Draw(t, key+"cavity")) * ms
	return schedule.WallType{Key: key, Outer: leaf("outer"), Cavity: &schedule.Cavity{Width: wide}, Inner: leaf("inner")}
}

// TestNothingTwiceAtACorner: where two walls of any make-up meet, no two pieces share
// ground at any level, and there is a piece within two joints of any place between the
// faces of a leaf: nothing is laid twice and nothing left out.
func TestNothingTwiceAtACorner(t *testing.T) { rapid.Check(t, nothingTwiceAtACorner) }

func nothingTwiceAtACorner(t *rapid.T) {
	kind := rapid.SampledFrom([]schedule.End{schedule.ExternalCorner, schedule.InternalCorner}).Draw(t, "corner")
	length := func(name string) measure.Length {
		return measure.Length(rapid.IntRange(1500, 3000).Draw(t, name)) * ms
	}
	s := &schedule.Schedule{Reference: "corner", Rulebook: "gb", WallTypes: []schedule.WallType{drawType(t, "A"), drawType(t, "B")},
		Walls: []schedule.Wall{
			{Ref: "A", Type: "A", Length: length("a"), Height: 900 * ms, Left: schedule.StopEnd, Right: kind},
			{Ref: "B", Type: "B", Length: length("b"), Height: 900 * ms, Left: kind, Right: schedule.StopEnd},
		}}
	if faults := s.Check(product.Demo()); len(faults) > 0 {
		t.Fatal(faults)
	}
	laid := layAll(s)
	for z := 45 * ms; z < 900*ms; z += 75 * ms {
		var a, b []plan
		for k := range laid[0] {
			a = append(a, laid[0][k].cutAt(z)...)
		}
		for k := range laid[1] {
			for _, p := range laid[1][k].cutAt(z) {
				b = append(b, place(p, s.Walls[0].Length, kind))
			}
		}
		for _, p := range a {
			for _, q := range b {
				if p.meets(q) {
					t.Fatalf("at %v: %v of A and %v of B share ground", z, p, q)
				}
			}
		}
		for k := range laid[0] {
			if k < len(laid[1]) {
				solid(t, s, laid, k, kind, z, append(a, b...))
			}
		}
	}
}

// solid looks for places without a piece in leaf k of both walls round the corner.
func solid(t *rapid.T, s *schedule.Schedule, laid [][]laidLeaf, k int, kind schedule.End, z measure.Length, pieces []plan) {
	m, n, end := laid[0][k].made, laid[1][k].made, s.Walls[0].Length
	for _, l := range []*schedule.Made{m, n} {
		if rest := z % l.Gauge(); rest <= l.Bed {
			return // a bed of one of them
		}
	}
	// The corner itself: as far along A as B is thick, and the other way.
	corner := plan{end - n.Back - n.Thickness, end - n.Back, m.Back, m.Back + m.Thickness}
	if kind == schedule.InternalCorner {
		corner = plan{end + n.Back, end + n.Back + n.Thickness, m.Back, m.Back + m.Thickness}
	}
	const step = 20 * half
	for x := corner.x0 + step; x < corner.x1; x += step {
		for y := corner.y0 + step; y < corner.y1; y += step {
			if !nearby(pieces, x, y, 2*10*ms) {
				t.Fatalf("leaf %d at %v: nothing at %v, %v", k, z, x, y)
			}
		}
	}
}

func nearby(pieces []plan, x, y, within measure.Length) bool {
	for _, p := range pieces {
		if p.grown(within).within(x, y) {
			return true
		}
	}
	return false
}

// TestRingByNames: walls of a ring in any order, each naming its neighbours, count as in
// order round the building: 2752 bricks, none cut (5840 x 4040 x 2400 mm, the ring of
// brick sizes in the rules of counting).
func TestRingByNames(t *testing.T) {
	e := schedule.ExternalCorner
	wall := func(ref, left, right string, length measure.Length) schedule.Wall {
		return schedule.Wall{Ref: ref, Type: "HB", Length: length * ms, Height: 2400 * ms, Left: e, Right: e, LeftWall: left, RightWall: right}
	}
	for name, walls := range map[string][]schedule.Wall{
		"both name":   {wall("N", "W", "E", 5840), wall("S", "E", "W", 5840), wall("E", "N", "S", 4040), wall("W", "S", "N", 4040)},
		"right names": {wall("N", "", "E", 5840), wall("S", "", "W", 5840), wall("E", "", "S", 4040), wall("W", "", "N", 4040)},
		"left names":  {wall("N", "W", "", 5840), wall("S", "E", "", 5840), wall("E", "N", "", 4040), wall("W", "S", "", 4040)},
	} {
		t.Run(name, func(t *testing.T) {
			s := &schedule.Schedule{Reference: "ring", Rulebook: "gb", Walls: walls,
				WallTypes: []schedule.WallType{{Key: "HB", Single: &schedule.Leaf{Product: "BRK-65-FACE"}}}}
			if faults := s.Check(product.Demo()); len(faults) > 0 {
				t.Fatal(faults)
			}
			n := Compute(s, product.Demo(), rulebook.GB()).Lines[0]
			if n.Whole != 2752 || n.CutPieces != 0 {
				t.Errorf("%d whole and %d cut, want 2752 and none", n.Whole, n.CutPieces)
			}
		})
	}
}

// TestTwoRingsByNames: two buildings in one list, whose walls stand mixed.
func TestTwoRingsByNames(t *testing.T) {
	e := schedule.ExternalCorner
	s := &schedule.Schedule{Reference: "rings", Rulebook: "gb",
		WallTypes: []schedule.WallType{{Key: "HB", Single: &schedule.Leaf{Product: "BRK-65-FACE"}}}}
	for i := range 4 {
		for _, b := range []string{"X", "Y"} {
			s.Walls = append(s.Walls, schedule.Wall{Ref: fmt.Sprint(b, i), Type: "HB", Length: measure.Length(5840-1800*(i%2)) * ms, Height: 2400 * ms,
				Left: e, Right: e, RightWall: fmt.Sprint(b, (i+1)%4)})
		}
	}
	if faults := s.Check(product.Demo()); len(faults) > 0 {
		t.Fatal(faults)
	}
	if n := Compute(s, product.Demo(), rulebook.GB()).Lines[0]; n.Whole != 2*2752 || n.CutPieces != 0 {
		t.Errorf("%d whole and %d cut, want 5504 and none", n.Whole, n.CutPieces)
	}
}
