package takeoff

import (
	"testing"

	"hodman/service/measure"
	"hodman/service/product"
	"hodman/service/rulebook"
	"hodman/service/schedule"
)

// TestRemediesOfCourses: what to do instead is a level that can be built. By gauge:
// a brick of 65 on 10 comes to 75 a course, a block of 215 to 225, both meet every 225;
// a block of 188 on 10 comes to 198, which 75 meets first at 4950, out of reach.
func TestRemediesOfCourses(t *testing.T) {
	block := func(height measure.Length) *schedule.Leaf {
		return &schedule.Leaf{Unit: &schedule.Unit{Kind: "block", Length: 440 * ms, Thickness: 100 * ms, Height: height * ms, Mass: 10 * measure.Kilogram}}
	}
	for _, c := range []struct {
		inner            *schedule.Leaf
		height           measure.Length
		head             measure.Length
		code, at, remedy string
	}{
		// 22 x 225 = 4950, 75 over: one course of 65 units on 10.
		{&schedule.Leaf{Product: "BLK-100-D"}, 5025, 4500, "course.closing", "/walls/0/height_mm", "lay 1 course of CRS-100-D on top; or make the height 4950 or 5175 mm"},
		// Under the first course there is no level for a wall's top; 2 x 75 = 150.
		{&schedule.Leaf{Product: "BLK-100-D"}, 150, 0, "course.closing", "/walls/0/height_mm", "lay 2 courses of CRS-100-D on top; or make the height 225 mm"},
		// 6 over 66 courses of 75 is less than a bed.
		{&schedule.Leaf{Product: "BLK-100-D"}, 4956, 4500, "course.beds_grow", "/walls/0/height_mm", "make the height 4950 mm where the beds are to stay as they are"},
		{&schedule.Leaf{Product: "BLK-100-D"}, 4950, 2100, "course.level", "/walls/0/openings/0/height_mm", "levels that work in every leaf: 2025 or 2250 mm above the wall's base"},
		{&schedule.Leaf{Product: "BLK-100-D"}, 4950, 150, "course.level", "/walls/0/openings/0/height_mm", "levels that work in every leaf: 225 mm above the wall's base"},
		{block(188), 4950, 2100, "course.level", "/walls/0/openings/0/height_mm", "no level within reach works in both leaves; in the outer leaf: 2100 or 2175 mm above the wall's base"},
	} {
		w := free(4500*ms, c.height*ms)
		if c.head > 0 {
			w.Openings = []schedule.Opening{{Ref: "O", Left: 1350 * ms, Width: 890 * ms, Height: c.head * ms}}
		}
		s := &schedule.Schedule{Reference: "courses", Rulebook: "gb", Walls: []schedule.Wall{w},
			WallTypes: []schedule.WallType{{Key: "T", Outer: &schedule.Leaf{Product: "BRK-65-FACE"}, Cavity: &schedule.Cavity{Width: 100 * ms}, Inner: c.inner}}}
		if faults := s.Check(product.Demo()); len(faults) > 0 {
			t.Fatal(faults)
		}
		var got string
		for _, f := range Compute(s, product.Demo(), rulebook.GB()).Findings {
			if f.Code == c.code && f.At == c.at {
				got = f.Remedy
			}
		}
		if got != c.remedy {
			t.Errorf("height %d, head %d: %s says %q, want %q", c.height, c.head, c.code, got, c.remedy)
		}
	}
}

// TestMakeUpsOfAClosingCourse: the ways that the coursing engine knows stand with the leaf. By
// hand: 4500 long has (4500 + 10) / 450, up to 11 blocks a course; 22 courses of 225 leave 75,
// one course of 65 on 10, (4500 + 10) / 225, up to 21 coursing units; 23 courses of 218.48 mm
// would need beds of 3.48, 22 of 228.41 beds of 13.41.
func TestMakeUpsOfAClosingCourse(t *testing.T) {
	leaf := count(t, schedule.Leaf{Product: "BLK-100-D"}, free(4500*ms, 5025*ms)).Walls[0].Leaves[0]
	if len(leaf.MakeUps) != 2 || leaf.MakeUps[0].Kind != "cut_course" || leaf.MakeUps[0].Cut != leaf.ClosingCourse || leaf.ClosingCourse != 65*ms {
		t.Fatalf("%+v", leaf.MakeUps)
	}
	if c := leaf.MakeUps[1]; c.Kind != "coursing_units" || c.Counts.Whole != 242 || c.Counts.CoursingUnits != 21 {
		t.Errorf("%+v", c)
	}
}

// TestBedsOfTwoLeavesPart: blocks of 188 on 10 beside bricks of 75 a course leave no bed within
// 10 mm under 450 (27, 21 mm apart at 198, 396). One finding a wall type, at its highest wall.
func TestBedsOfTwoLeavesPart(t *testing.T) {
	block := &schedule.Unit{Kind: "block", Length: 440 * ms, Thickness: 100 * ms, Height: 188 * ms, Mass: 10 * measure.Kilogram}
	s := &schedule.Schedule{Reference: "ties", Rulebook: "gb", Walls: []schedule.Wall{free(4500*ms, 1200*ms), free(4500*ms, 2400*ms)},
		WallTypes: []schedule.WallType{{Key: "T", Outer: &schedule.Leaf{Product: "BRK-65-FACE"}, Cavity: &schedule.Cavity{Width: 100 * ms}, Inner: &schedule.Leaf{Unit: block}}}}
	s.Walls[1].Ref = "X"
	if faults := s.Check(product.Demo()); len(faults) > 0 {
		t.Fatal(faults)
	}
	var at []string
	for _, f := range Compute(s, product.Demo(), rulebook.GB()).Findings {
		if f.Code == "tie.beds_part" {
			at = append(at, f.At)
		}
	}
	if len(at) != 1 || at[0] != "/walls/1" {
		t.Errorf("beds part at %v, want /walls/1", at)
	}
}

// TestNearestSizeFromACorner: from an external corner to a stop end bricks of 215 on 10 work out at so many times 112.5 less a
// joint, as between stop ends: courses of the owner begin on the corner, the others 102.5 + 10 behind it. 24 x 112.5 - 10 = 2690 is
// nearest to 2730, and a wall as long as that has no cuts but halves. From a re-entrant corner the
// courses are 102.5 longer or a joint shorter than the wall, so it is 2700 long: 2720 is then 2690.
func TestNearestSizeFromACorner(t *testing.T) {
	for _, c := range []struct {
		corner schedule.End
		length measure.Length
		remedy string
	}{
		{schedule.ExternalCorner, 2730, "the nearest size that works to the bond is 2690 mm"},
		{schedule.ExternalCorner, 2690, ""},
		{schedule.InternalCorner, 2730, "the nearest size that works to the bond is 2690 mm"},
		{schedule.InternalCorner, 2700, ""},
	} {
		a, b := free(c.length*ms, 900*ms), free(1790*ms, 900*ms)
		a.Right, b.Ref, b.Left = c.corner, "B", c.corner
		s := &schedule.Schedule{Reference: "corner", Rulebook: "gb", Walls: []schedule.Wall{a, b},
			WallTypes: []schedule.WallType{{Key: "T", Single: &schedule.Leaf{Product: "BRK-65-FACE"}}}}
		if faults := s.Check(product.Demo()); len(faults) > 0 {
			t.Fatal(faults)
		}
		o, got := Compute(s, product.Demo(), rulebook.GB()), ""
		for _, f := range o.Findings {
			if f.Code == "bond.broken" && f.At == "/walls/0" {
				got = f.Remedy
			}
		}
		cuts := o.Walls[0].Leaves[0].Cuts
		if got != c.remedy || c.remedy == "" && (len(cuts) != 1 || cuts[0].Length != 102_500) {
			t.Errorf("%s %s: %q, cuts %+v", c.corner, c.length, got, cuts)
		}
	}
}
