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
