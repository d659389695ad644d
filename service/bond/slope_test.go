package bond

import (
	"testing"

	"hodman/service/measure"
	"hodman/service/schedule"
)

// TestOneByItselfUnderASlope lays walls of one and a half bricks with a slope down to an
// external corner. Behind the half brick that runs through there, pieces may stand one by one, which have a
// pitch to no other. None begins over the slope.
func TestOneByItselfUnderASlope(t *testing.T) {
	leaf := brick()
	leaf.Thickness = 3*leaf.Unit.Thickness + 2*leaf.Perpend
	for _, name := range []string{"english", "flemish", "english_garden_wall"} {
		leaf.Bond, leaf.HeadersEvery = name, 4
		for length := mm(1500); length < mm(4000); length += mm(77) {
			w := &schedule.Wall{Length: length, Height: mm(300), Left: schedule.StopEnd, Right: schedule.ExternalCorner,
				Top: &schedule.Top{Shape: "gable", Apex: mm(1961), ApexAt: length / 2}}
			for _, b := range SetOut([]Run{{Leaf: leaf, Wall: w}}, false, gb)[0].Bands {
				low, high := w.Reach(b.Foot)
				for _, s := range b.Strips {
					if s.X+s.Length <= low || s.X+measure.Length(s.Count-1)*s.Pitch >= high {
						t.Errorf("%s, %s long, course %d: a piece stands over the slope: %+v", name, length, b.First, s)
					}
				}
			}
		}
	}
}
