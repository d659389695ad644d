package takeoff

import (
	"testing"

	"pgregory.net/rapid"

	"hodman/service/measure"
	"hodman/service/product"
	"hodman/service/rulebook"
	"hodman/service/schedule"
)

// TestPierFillsItsPlace: a pier of any width and projection on a leaf of any thickness
// fills its plan and the leaf before it in every course, shares no ground, and stands
// nowhere else.
func TestPierFillsItsPlace(t *testing.T) { rapid.Check(t, pierFillsItsPlace) }

func pierFillsItsPlace(t *rapid.T) {
	u := leafUnits[0]
	leaf := &schedule.Leaf{Unit: &u}
	ranks := measure.Length(rapid.IntRange(1, 3).Draw(t, "half bricks"))
	leaf.Thickness = ranks*225*half - 20*half
	leaf.Bond = rapid.SampledFrom([]string{"stretcher", "english", "flemish", "english_garden_wall"}).Draw(t, "bond")
	n := measure.Length(rapid.IntRange(2, 5).Draw(t, "halves"))
	p := schedule.Pier{At: measure.Length(rapid.SampledFrom([]int{0, 450, 777}).Draw(t, "at")) * ms, Width: n*225*half - 20*half,
		Side: rapid.SampledFrom([]string{"inside", "outside"}).Draw(t, "side"), Joined: rapid.SampledFrom([]string{"bonded", "tied"}).Draw(t, "joined")}
	out := measure.Length(rapid.IntRange(1, 4).Draw(t, "ranks"))
	p.Projection = out * 225 * half
	s := &schedule.Schedule{Reference: "pier", Rulebook: "gb", WallTypes: []schedule.WallType{{Key: "W", Single: leaf}}, Walls: []schedule.Wall{
		{Ref: "W", Type: "W", Length: 2690 * ms, Height: 700 * ms, Left: schedule.StopEnd, Right: schedule.StopEnd, Piers: []schedule.Pier{p}}}}
	if faults := s.Check(product.Demo()); len(faults) > 0 {
		t.Fatal(faults)
	}
	laid := layAll(s)
	wall := plan{0, 2690 * ms, 0, leaf.Thickness}
	pier := plan{p.At, p.At + p.Width, leaf.Thickness, leaf.Thickness + p.Projection}
	if p.Side == "outside" {
		pier.y0, pier.y1 = -p.Projection, 0
	}
	for z := 45 * ms; z < 700*ms; z += 75 * ms {
		pieces := standing(t, laid, []frame{{dx: 1}}, z)
		for _, q := range pieces {
			both := plan{pier.x0, pier.x1, min(pier.y0, 0), max(pier.y1, wall.y1)}
			if !inside(q, wall) && !inside(q, both) {
				t.Fatalf("at %v: %v stands outside the wall and the pier", z, q)
			}
		}
		allFilled(t, plan{pier.x0, pier.x1, min(pier.y0, 0), max(pier.y1, wall.y1)}, pieces, z)
	}
}

func inside(p, q plan) bool { return p.x0 >= q.x0 && p.x1 <= q.x1 && p.y0 >= q.y0 && p.y1 <= q.y1 }

// pierWall is a wall of half-brick stretchers 2690 long and 8 courses high.
func pierWall(p ...schedule.Pier) *schedule.Schedule {
	return &schedule.Schedule{Reference: "pier", Rulebook: "gb", CutReuse: "none", WallTypes: []schedule.WallType{{Key: "HB", Single: &schedule.Leaf{Product: "BRK-65-FACE"}}},
		Walls: []schedule.Wall{{Ref: "W", Type: "HB", Length: 2690 * ms, Height: 600 * ms, Left: schedule.StopEnd, Right: schedule.StopEnd, Piers: p}}}
}

// Piers worked by hand, on a wall that without one lays 4 courses of 12 whole bricks and 4
// of 11 whole and 2 halves: 92 whole and 8 halves.
func TestAttachedPiers(t *testing.T) {
	for name, c := range map[string]struct {
		pier        schedule.Pier
		whole, cuts int
	}{
		// Odd courses: a stretcher stands behind the wall, 4 more. Even courses: the wall gives
		// up 1115 to 1350; set half a brick along it has half, 4 whole to 1002.5 and a half to 1115;
		// beyond, 1350 to 1452.5 is a half and 5 whole run to 2577.5, and a half. So 9 whole and
		// 4 halves, and 2 headers: 11. Whole 4 x 13 + 4 x 11 = 96; halves 4 x 4 = 16.
		"one brick wide, half a brick out": {schedule.Pier{At: 1125 * ms, Width: 215 * ms, Projection: 225 * half}, 96, 16},
		// The same with the projection said without the joint.
		"the joint left out": {schedule.Pier{At: 1125 * ms, Width: 215 * ms, Projection: 205 * half}, 96, 16},
		// Odd: two three-quarters behind. Even: three headers; the wall gives up 1115 to 1462.5:
		// half, 4 whole, half; then 1462.5 begins a brick: 5 whole to 2577.5, half: 9 and 3.
		// Whole 4 x 12 + 4 x (9 + 3) = 96; cut 4 x 2 + 4 x 3 = 20.
		"brick and a half wide": {schedule.Pier{At: 1125 * ms, Width: 655 * half, Projection: 225 * half}, 96, 20},
		// Two bricks wide, half a brick out. Odd: two stretchers behind. Even: header, closer, header, closer, header: 3 x 102.5 +
		// 2 x 46.25 + 4 x 10 = 440; the wall gives up 1115 to 1575: half, 4 whole and a half before it, the half of the brick from
		// 1462.5, 4 whole and a half beyond. Whole 4 x (12 + 2) + 4 x (8 + 3) = 100; cut 4 x (4 + 2) = 24.
		"two bricks wide": {schedule.Pier{At: 1125 * ms, Width: 440 * ms, Projection: 225 * half}, 100, 24},
		// A brick out. Odd: two headers behind. Even: two headers into the wall and a stretcher behind them.
		// Whole 4 x (12 + 2) + 4 x (9 + 2 + 1) = 104; halves 4 x 4.
		"a brick out": {schedule.Pier{At: 1125 * ms, Width: 215 * ms, Projection: 225 * ms, Side: "outside"}, 104, 16},
		// At the end of the wall. Even courses begin at 225 (215 and a joint): 225 to 327.5 is a
		// half, 10 whole run to 2577.5, half. Whole 4 x 13 + 4 x (10 + 2); halves 4 x 2.
		"at the end": {schedule.Pier{Width: 215 * ms, Projection: 225 * half}, 100, 8},
		// Four courses high: two odd and two even with, and as many without.
		"half as high": {schedule.Pier{At: 1125 * ms, Width: 215 * ms, Projection: 225 * half, Height: length(300)}, 94, 12},
		// Tied: stretchers behind, in even courses two halves. Whole 92 + 4; halves 8 + 8.
		"tied": {schedule.Pier{At: 1125 * ms, Width: 215 * ms, Projection: 225 * half, Joined: "tied"}, 96, 16},
	} {
		t.Run(name, func(t *testing.T) {
			s := pierWall(c.pier)
			if faults := s.Check(product.Demo()); len(faults) > 0 {
				t.Fatal(faults)
			}
			out := Compute(s, product.Demo(), rulebook.GB())
			sound(t, out)
			if n := out.Lines[0]; n.Whole != c.whole || n.CutPieces != c.cuts {
				t.Errorf("%d whole and %d cut, want %d and %d", n.Whole, n.CutPieces, c.whole, c.cuts)
			}
		})
	}
}

func length(mm int64) *measure.Length {
	l := measure.Length(mm) * ms
	return &l
}

// TestIsolatedPiers: a pier that stands by itself is a short wall of one or one and a half
// bricks. One brick square has two bricks a course, stretchers and headers in turn; one and a
// half square four bricks turned about a half bat (common practice, as drawn in handbooks of
// bricklaying); one by one and a half three bricks.
func TestIsolatedPiers(t *testing.T) {
	for _, c := range []struct {
		long, thick measure.Length
		whole, bats int // of 8 courses
	}{{430, 430, 16, 0}, {655, 655, 32, 8}, {655, 430, 24, 0}, {430, 655, 24, 0}} {
		for _, bond := range []string{"english", "flemish", "header"} {
			s := pierWall()
			if s.Walls[0].Length = c.long * half; bond == "header" && c.thick > 430 {
				continue
			}
			s.WallTypes[0].Single = &schedule.Leaf{Product: "BRK-65-FACE", Bond: bond, Thickness: c.thick * half}
			if faults := s.Check(product.Demo()); len(faults) > 0 {
				t.Fatal(faults)
			}
			if n := Compute(s, product.Demo(), rulebook.GB()).Lines[0]; n.Whole != c.whole || n.CutPieces != c.bats {
				t.Errorf("%v x %v %s: %d whole and %d cut, want %d and %d", c.long*half, c.thick*half, bond, n.Whole, n.CutPieces, c.whole, c.bats)
			}
			unbroken(t, s)
		}
	}
}

// unbroken fails where a perpend of the face stands over another, or a course does not
// cover the whole plan with its joints.
func unbroken(t *testing.T, s *schedule.Schedule) {
	t.Helper()
	l := layAll(s)[0][0]
	joints := map[measure.Length]bool{}
	for z := 45 * ms; z < 150*ms; z += 75 * ms {
		area := measure.Area(0)
		for _, p := range l.cutAt(z) {
			area += (p.x1 - p.x0 + 10*ms).Times(p.y1 - p.y0 + 10*ms)
			if p.y0 == 0 && p.x1 < l.wall.Length {
				if joints[p.x1] {
					t.Errorf("%v x %v: a perpend at %v over another", l.wall.Length, l.made.Thickness, p.x1)
				}
				joints[p.x1] = true
			}
		}
		if want := (l.wall.Length + 10*ms).Times(l.made.Thickness + 10*ms); area != want {
			t.Errorf("%v x %v: a course covers %v, want %v", l.wall.Length, l.made.Thickness, area, want)
		}
	}
}

// TestPlinth: the two lowest courses of the face are of the plinth's product: 12 whole in
// the first, 11 and 2 halves in the second; the rest as it was, 92 - 23 = 69 and 6 halves.
func TestPlinth(t *testing.T) {
	two := 2
	for _, p := range []*schedule.Plinth{{Product: "BRK-65-ENG", Courses: &two}, {Product: "BRK-65-ENG", Height: length(150)}} {
		s := pierWall()
		s.Walls[0].Plinth = p
		if faults := s.Check(product.Demo()); len(faults) > 0 {
			t.Fatal(faults)
		}
		out := Compute(s, product.Demo(), rulebook.GB())
		sound(t, out)
		counts := map[string][2]int{}
		for _, n := range out.Lines {
			counts[n.Product] = [2]int{n.Whole, n.CutPieces}
		}
		if got := counts["BRK-65-ENG"]; got != [2]int{23, 2} {
			t.Errorf("plinth %v, want 23 and 2", got)
		}
		if got := counts["BRK-65-FACE"]; got != [2]int{69, 6} {
			t.Errorf("face %v, want 69 and 6", got)
		}
	}
}
