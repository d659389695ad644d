package bond

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"hodman/service/measure"
	"hodman/service/product"
	"hodman/service/schedule"
)

// TestBetweenOpenings: blocks of 440 x 215 in courses of 225, the second from 235 to 450.
// One opening ends at 300 and the next begins at 400, so that pieces 100 high, two halves as
// the course laps by half, stand between them; where the upper one is wider by half a block to the right, the part
// beside the lower opening has 400 - 235 = 165. The upper one's head at 600 leaves 75 of the third course.
func TestBetweenOpenings(t *testing.T) {
	block := &product.Product{Length: mm(440), Thickness: mm(100), Height: mm(215)}
	for _, c := range []struct {
		name  string
		upper float64 // its width
		want  [][3]float64
	}{
		{"one over the other", 440, [][3]float64{{450, 300, 100}, {675, 300, 100}, {450, 600, 75}}},
		{"the upper one wider", 665, [][3]float64{{450, 300, 100}, {675, 300, 100}, {890, 235, 165}, {450, 600, 75}, {900, 600, 75}}},
	} {
		w := &schedule.Wall{Length: mm(1790), Height: mm(675), Left: schedule.StopEnd, Right: schedule.StopEnd, Openings: []schedule.Opening{
			{Left: mm(450), Width: mm(440), Height: mm(300)},
			{Left: mm(450), Width: mm(c.upper), Sill: mm(400), Height: mm(200)}}}
		var got [][3]float64
		for _, b := range SetOut([]Run{{Leaf: made(block), Wall: w}}, false, gb)[0].Bands {
			for _, s := range b.Strips {
				for k := range s.Count {
					if s.Cut == InHeight {
						got = append(got, [3]float64{(s.X + measure.Length(k)*s.Pitch).Mm(), (b.Foot + s.Foot).Mm(), s.Height.Mm()})
					}
				}
			}
		}
		if diff := cmp.Diff(c.want, got); diff != "" {
			t.Errorf("%s: want (-), got (+) left, foot and height:\n%s", c.name, diff)
		}
	}
}
