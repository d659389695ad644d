package takeoff

import (
	"testing"

	"hodman/service/product"
	"hodman/service/rulebook"
	"hodman/service/schedule"
)

// A brick on edge is 65 mm thick and on its bed 102.5: a closer of 46.25 mm comes twice out of the second,
// 2 x 46.25 + 4 of saw = 96.5, whichever wall stands first. The panel of English bond 1340 long
// has 2 closers in each course of headers (worked by hand in package bond): 4 in 4 courses, 2 bricks.
func TestClosersOfABrickLaidTwoWays(t *testing.T) {
	edge, bed := free(590*ms, 450*ms), free(1340*ms, 300*ms)
	edge.Type, bed.Ref = "edge", "B"
	s := &schedule.Schedule{Reference: "r", Rulebook: "gb", Walls: []schedule.Wall{edge, bed}, WallTypes: []schedule.WallType{
		{Key: "edge", Single: &schedule.Leaf{Product: "BRK-65-ENG", Bond: "rat_trap", Thickness: 215 * ms}},
		{Key: "T", Single: &schedule.Leaf{Product: "BRK-65-ENG", Bond: "english", Thickness: 215 * ms}}}}
	if faults := s.Check(product.Demo()); len(faults) > 0 {
		t.Fatal(faults)
	}
	o := Compute(s, product.Demo(), rulebook.GB())
	l := &o.Lines[0]
	// On edge, 4 courses: 8 + 3 whole and 2 of 140 mm in every two (one unit each). On bed: 23 whole in every two, and a closer's brick.
	if o.Walls[1].Leaves[0].Closers != 4 || l.Whole != 22+46 || l.ForCuts != 4+2 {
		t.Errorf("%d closers; %d whole, %d for cuts: %s", o.Walls[1].Leaves[0].Closers, l.Whole, l.ForCuts, l.Sum)
	}
}
