package bond

import (
	"testing"

	"hodman/service/measure"
	"hodman/service/schedule"
)

// TestArchBesideAJoint: an arch that is 440 deep over an opening from 2000 to 2200 reaches back to 1560 higher
// up, beyond a movement joint from 1800 to 1810. In the courses beside the opening's foot nothing stands in the joint.
func TestArchBesideAJoint(t *testing.T) {
	o := schedule.Opening{Shape: "segmental", Left: mm(2000), Width: mm(200), Height: mm(600), Rise: mm(50)}
	w := &schedule.Wall{Length: mm(4000), Height: mm(2400), Left: schedule.StopEnd, Right: schedule.StopEnd, Openings: []schedule.Opening{o}}
	r := Run{Leaf: brick(), Wall: w, Curves: []*Curve{CurveOf(&o, mm(440))}, Gaps: []Gap{{From: mm(1800), To: mm(1810), Joint: true}}}
	for _, b := range SetOut([]Run{r}, false, gb)[0].Bands {
		for _, s := range b.Strips {
			for k := range s.Count {
				if x := s.X + measure.Length(k)*s.Pitch; x < mm(1810) && x+s.Length > mm(1800) {
					t.Fatalf("course %d: a piece from %s to %s", b.First, x, x+s.Length)
				}
			}
		}
	}
}
