package takeoff

import (
	"strings"
	"testing"

	"hodman/service/finding"
	"hodman/service/measure"
	"hodman/service/product"
	"hodman/service/rulebook"
	"hodman/service/schedule"
)

// TestBearingsFindMasonry: both ends of a lintel bear on every leaf that it carries
// . Worked by geometry, least bearing 150 mm.
//
// On a gable of 1 in 1, height line 2400, apex 2500 over it at 2500 of 5000, the slope
// stands at level 4400 over x = 2000 and 3000, at 4250 over 1850 and 3150.
//
// At an external corner with a brick of 102.5 and a cavity of 100 the inner leaf begins
// at 202.5: an opening at 352.5 has 150 mm of it beside the jamb, one at 350 has 147.5.
func TestBearingsFindMasonry(t *testing.T) {
	gable := &schedule.Top{Shape: "gable", Apex: 2500 * ms, ApexAt: 2500 * ms}
	for _, c := range []struct {
		name        string
		top         *schedule.Top
		right       schedule.End
		opening     schedule.Opening
		stops       string // the words of every lintel.no_masonry, without which there is none
		left, other measure.Length
	}{
		{"slope at the jambs", gable, schedule.StopEnd, schedule.Opening{Left: 2000 * ms, Sill: 2400 * ms, Width: 1000 * ms, Height: 2000 * ms},
			"There is 0 mm of masonry at the left end; There is 0 mm of masonry at the right end", 175 * ms, 175 * ms}, // 1350 - 1000 = 350, in the middle
		{"slope just clear", gable, schedule.StopEnd, schedule.Opening{Left: 2000 * ms, Sill: 2400 * ms, Width: 1000 * ms, Height: 1850 * ms}, "", 175 * ms, 175 * ms},
		{"inner leaf just enough", nil, schedule.ExternalCorner, schedule.Opening{Left: 3737500, Sill: 0, Width: 910 * ms, Height: 2100 * ms},
			"", 290 * ms, 150 * ms}, // 5000 - 3737.5 - 910 = 352.5; 1350 - 910 = 440
		{"inner leaf too short", nil, schedule.ExternalCorner, schedule.Opening{Left: 3740 * ms, Sill: 0, Width: 910 * ms, Height: 2100 * ms},
			"There is 147.5 mm of masonry at the right end", 220 * ms, 220 * ms},
	} {
		c.opening.Ref = "O"
		s := &schedule.Schedule{Reference: "bearing", Rulebook: "gb",
			WallTypes: []schedule.WallType{{Key: "C", Outer: &schedule.Leaf{Product: "BRK-65-FACE"}, Cavity: &schedule.Cavity{Width: 100 * ms}, Inner: &schedule.Leaf{Product: "BLK-100-D"}}},
			Walls: []schedule.Wall{{Ref: "A", Type: "C", Length: 5000 * ms, Height: 2400 * ms, Left: schedule.StopEnd, Right: c.right, Top: c.top,
				Openings: []schedule.Opening{c.opening}}}}
		if c.right.Corner() {
			s.Walls = append(s.Walls, schedule.Wall{Ref: "B", Type: "C", Length: 3000 * ms, Height: 2400 * ms, Left: c.right, Right: schedule.StopEnd})
		}
		if faults := s.Check(product.Demo()); len(faults) > 0 {
			t.Fatal(c.name, faults)
		}
		out := Compute(s, product.Demo(), rulebook.GB())
		var stops []string
		for _, f := range out.Findings {
			if f.Code == "lintel.no_masonry" && f.Severity == finding.Stop {
				text, _, _ := strings.Cut(f.Text, " for a bearing")
				stops = append(stops, text)
			}
		}
		if got := strings.Join(stops, "; "); got != c.stops {
			t.Errorf("%s: found %q, want %q", c.name, got, c.stops)
		}
		if p := out.Lintels[0]; p.Length != 1350*ms || p.BearingLeft != c.left || p.BearingRight != c.other {
			t.Errorf("%s: %s of %v bears %v and %v, want %v and %v", c.name, p.Product, p.Length, p.BearingLeft, p.BearingRight, c.left, c.other)
		}
	}
}
