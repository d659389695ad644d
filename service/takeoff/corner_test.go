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
	made   *schedule.Made
	wall   *schedule.Wall
	joints []Joint
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
				for n, l := range j.setOut(p, k, runs, rules) {
					out[p.walls[n]][k] = laidLeaf{l, runs[n].Leaf, runs[n].Wall, j.out.Walls[p.walls[n]].Leaves[k].Joints}
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
func (p plan) within(x, y measure.Length) bool {
	return p.x0 <= x && x <= p.x1 && p.y0 <= y && y <= p.y1
}

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

// frame is where a wall stands on plan: x along it and y inwards from its outer face.
type frame struct{ ox, oy, dx, dy measure.Length }

// round is the frame of the wall that this one meets with its right end.
func (f frame) round(length measure.Length, kind schedule.End) frame {
	n := frame{f.ox + length*f.dx, f.oy + length*f.dy, -f.dy, f.dx}
	if kind == schedule.InternalCorner {
		n.dx, n.dy = f.dy, -f.dx
	}
	return n
}

func (f frame) at(x, y measure.Length) (px, py measure.Length) {
	return f.ox + x*f.dx - y*f.dy, f.oy + x*f.dy + y*f.dx
}

func (f frame) place(p plan) plan {
	ax, ay := f.at(p.x0, p.y0)
	bx, by := f.at(p.x1, p.y1)
	return plan{min(ax, bx), max(ax, bx), min(ay, by), max(ay, by)}
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

// TestNothingTwiceAtACorner: where walls of any make-up meet, on returns short and long,
// no two pieces share ground at any level, and there is a piece within two joints of any
// place between the faces of a leaf: nothing is laid twice and nothing left out.
func TestNothingTwiceAtACorner(t *testing.T) { rapid.Check(t, nothingTwiceAtACorner) }

func nothingTwiceAtACorner(t *rapid.T) {
	s := &schedule.Schedule{Reference: "corner", Rulebook: "gb", WallTypes: []schedule.WallType{drawType(t, "A"), drawType(t, "B")}}
	last := schedule.StopEnd
	for i := range rapid.IntRange(2, 4).Draw(t, "walls") {
		w := schedule.Wall{Ref: fmt.Sprint("W", i), Type: rapid.SampledFrom([]string{"A", "B"}).Draw(t, "type"), Height: 900 * ms, Left: last}
		w.Length = measure.Length(rapid.IntRange(200, 1500).Draw(t, "length")) * half * 2
		w.Right = rapid.SampledFrom([]schedule.End{schedule.ExternalCorner, schedule.InternalCorner}).Draw(t, "corner")
		last = w.Right
		s.Walls = append(s.Walls, w)
	}
	// The walls at the ends keep clear of one another.
	n := len(s.Walls)
	s.Walls[0].Length, s.Walls[n-1].Length, s.Walls[n-1].Right = 3000*ms, 3000*ms, schedule.StopEnd
	if n == 4 && s.Walls[0].Right == s.Walls[1].Right && s.Walls[1].Right == s.Walls[2].Right {
		t.Skip("a ring that does not close")
	}
	if faults := s.Check(product.Demo()); len(faults) > 0 {
		for _, f := range faults {
			if f.Code != "too_short" {
				t.Fatal(faults)
			}
		}
		t.Skip("too short")
	}
	laid := layAll(s)
	frames := make([]frame, n)
	frames[0] = frame{dx: 1}
	for i := range n - 1 {
		frames[i+1] = frames[i].round(s.Walls[i].Length, s.Walls[i].Right)
	}
	for z := 45 * ms; z < 900*ms; z += 75 * ms {
		pieces := standing(t, laid, frames, z)
		for i := range n - 1 {
			for k := range min(len(laid[i]), len(laid[i+1])) {
				solid(t, laid[i][k], laid[i+1][k], frames[i], z, pieces)
			}
		}
	}
}

// solid looks for places without a piece where a leaf meets the next wall's: as far
// along the wall as that is thick.
func solid(t *rapid.T, a, b laidLeaf, f frame, z measure.Length, pieces []plan) {
	m, n, end := a.made, b.made, a.wall.Length
	for _, l := range []*schedule.Made{m, n} {
		if rest := z % l.Gauge(); rest <= l.Bed {
			return // a bed of one of them
		}
	}
	from := end - n.Back - n.Thickness
	if a.wall.Right == schedule.InternalCorner {
		from = end + n.Back
	}
	const step = 20 * half
	for x := from + step; x < from+n.Thickness; x += step {
		for y := m.Back + step; y < m.Back+m.Thickness; y += step {
			if px, py := f.at(x, y); !nearby(pieces, px, py, 2*10*ms) {
				t.Fatalf("at %v: nothing at %v, %v", z, px, py)
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

// TestCoursesThatBondInThreesLap: bricks that meet blocks at a corner keep it for three
// courses together, and still lap: no perpend of a course stands over one of the course
// below, but next to the corner, where cuts stand.
func TestCoursesThatBondInThreesLap(t *testing.T) {
	for _, kind := range []schedule.End{schedule.ExternalCorner, schedule.InternalCorner} {
		for _, first := range []int{0, 1} {
			types := []schedule.WallType{{Key: "A", Single: &schedule.Leaf{Unit: &leafUnits[0]}}, {Key: "B", Single: &schedule.Leaf{Unit: &leafUnits[2]}}}
			s := &schedule.Schedule{Reference: "threes", Rulebook: "gb", WallTypes: types, Walls: []schedule.Wall{
				{Ref: "L", Type: types[first].Key, Length: 4490 * ms, Height: 900 * ms, Left: schedule.StopEnd, Right: kind},
				{Ref: "R", Type: types[1-first].Key, Length: 4490 * ms, Height: 900 * ms, Left: kind, Right: schedule.StopEnd}}}
			if faults := s.Check(product.Demo()); len(faults) > 0 {
				t.Fatal(faults)
			}
			l := layAll(s)[first][0]
			before := map[measure.Length]bool{}
			for z := 45 * ms; z < 900*ms; z += 75 * ms {
				here := map[measure.Length]bool{}
				for _, p := range l.cutAt(z) {
					if p.x0 > 700*ms && p.x1 < 3800*ms {
						here[p.x1] = true
						if before[p.x1] {
							t.Fatalf("%s, wall %d: at %v a perpend at %v stands over another", kind, first, z, p.x1)
						}
					}
				}
				before = here
			}
		}
	}
}
