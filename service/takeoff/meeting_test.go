package takeoff

import (
	"fmt"
	"testing"

	"pgregory.net/rapid"

	"hodman/service/measure"
	"hodman/service/product"
	"hodman/service/rulebook"
	"hodman/service/schedule"
)

// drawMeetings is a row of walls that turn corners, with others that meet them in their
// length, piers, a plinth, openings and whatever else a takeoff may be asked for.
func drawMeetings(t *rapid.T) *schedule.Schedule {
	draw := func(name string, least, most int) measure.Length {
		return measure.Length(rapid.IntRange(2*least, 2*most).Draw(t, name)) * half
	}
	s := &schedule.Schedule{Reference: "meetings", Rulebook: "gb",
		SettingOut:     rapid.SampledFrom([]string{"", "as_given", "best"}).Draw(t, "setting out"),
		MovementJoints: rapid.SampledFrom([]string{"", "placed"}).Draw(t, "joints"),
		WallTypes:      []schedule.WallType{drawType(t, "A"), drawType(t, "B"), drawType(t, "C")}}
	last := schedule.StopEnd
	n := rapid.IntRange(1, 3).Draw(t, "walls")
	for i := range n {
		w := schedule.Wall{Ref: fmt.Sprint("W", i), Type: rapid.SampledFrom([]string{"A", "B"}).Draw(t, "type"), Length: draw("length", 600, 9000),
			Height: draw("height", 900, 2700), Left: last, Right: schedule.StopEnd}
		if i < n-1 {
			w.Right = rapid.SampledFrom([]schedule.End{schedule.ExternalCorner, schedule.InternalCorner}).Draw(t, "corner")
		}
		last = w.Right
		if rapid.Bool().Draw(t, "opening") {
			w.Openings = []schedule.Opening{{Ref: "O", Left: draw("left", 0, 4000), Sill: draw("sill", 0, 900), Width: draw("wide", 300, 2000), Height: draw("high", 300, 1500)}}
		}
		if rapid.Bool().Draw(t, "pier") {
			joined := rapid.SampledFrom([]string{"bonded", "tied"}).Draw(t, "pier joined")
			w.Piers = []schedule.Pier{{At: draw("pier at", 0, 6000), Width: 655 * half, Projection: rapid.SampledFrom([]measure.Length{205 * half, 225 * half, 200 * half}).Draw(t, "out"), Joined: joined}}
		}
		s.Walls = append(s.Walls, w)
	}
	if rapid.Bool().Draw(t, "stem") {
		s.Walls = append(s.Walls, schedule.Wall{Ref: "S", Type: "C", Length: draw("stem", 300, 3000), Height: draw("stem high", 225, 1800), Left: schedule.JunctionEnd,
			Right:        schedule.StopEnd,
			LeftJunction: &schedule.Junction{Wall: "W0", At: draw("stem at", 0, 6000), Side: rapid.SampledFrom([]string{"inside", "outside"}).Draw(t, "side")}})
	}
	return s
}

// TestMeetingsAreSound: any such schedule that passes its check is taken off, with sums that add up.
func TestMeetingsAreSound(t *testing.T) {
	taken := 0
	rapid.Check(t, func(t *rapid.T) {
		s := drawMeetings(t)
		// What does not fit is left out, wall by wall, until the rest does.
		for i := 0; len(s.Check(product.Demo())) > 0; i++ {
			switch n := len(s.Walls); {
			case i < n:
				s.Walls[i].Piers = nil
			case i < 2*n:
				s.Walls[i-n].Openings = nil
			case s.Walls[n-1].LeftJunction != nil:
				s.Walls = s.Walls[:n-1]
			default:
				return
			}
		}
		taken++
		sound(t, Compute(s, product.Demo(), rulebook.GB()))
	})
	if taken < 20 {
		t.Errorf("only %d schedules passed their check", taken)
	}
}
