package takeoff

import (
	"testing"

	"github.com/go-json-experiment/json"
	"pgregory.net/rapid"

	"hodman/service/lift"
	"hodman/service/measure"
	"hodman/service/product"
	"hodman/service/rulebook"
	"hodman/service/schedule"
	"hodman/testdata"
)

// What is built in stands in the lift whose height it is at, worked by hand: lifts to 1350,
// 2700, 4050 and 5100 mm. Trays over a roof that rises from 2400 to 3600 stand from 2550 to
// 3750: 150 of 1200 mm in the second lift, 16 x 150 / 1200 = 2, the other 14 in the third. The catchment
// tray is at 2550, the ridge tray at 3750, air bricks at 225, the sill at 900, padstones at 2100 mm.
func TestBuiltInByLift(t *testing.T) {
	s := new(schedule.Schedule)
	if err := json.Unmarshal(testdata.BuiltIn, s, json.RejectUnknownMembers(true)); err != nil {
		t.Fatal(err)
	}
	if faults := s.Check(product.Demo()); len(faults) > 0 {
		t.Fatal(faults)
	}
	out := Compute(s, product.Demo(), rulebook.GB())
	sound(t, out)
	for code, want := range map[string][4]int{
		"STEP-TRAY-225-L": {0, 2, 14, 0}, "STEP-TRAY-225-R": {0, 2, 14, 0}, "CATCH-TRAY-450": {0, 2, 0, 0}, "RIDGE-TRAY-450": {0, 0, 1, 0},
		"AIR-215x65": {8, 0, 0, 0}, "SILL-140-2000": {1, 0, 0, 0}, "PAD-300x100x150": {0, 2, 0, 0}, "STRAP-LAT-1200": {0, 6, 0, 0},
	} {
		for i := range out.Lifts {
			if got := inLift(&out.Lifts[i], code); got != measure.Each(want[i]) {
				t.Errorf("%s in lift %d: %s, want %d", code, i+1, got, want[i])
			}
		}
	}
}

func inLift(l *lift.Load, code string) measure.Quantity {
	for i := range l.Lines {
		if l.Lines[i].Product == code {
			return l.Lines[i].Required
		}
	}
	return 0
}

// TestAnythingBuiltInIsSound asks for anything at any level of any wall: the takeoff adds
// up, places lie within the wall and a cutting buys no less than its bound.
func TestAnythingBuiltInIsSound(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := randomSchedule(t)
		for i := range s.Walls {
			buildIn(t, &s.Walls[i])
		}
		if faults := s.Check(product.Demo()); len(faults) > 0 {
			t.Fatalf("a drawn schedule has faults: %v", faults)
		}
		out := Compute(s, product.Demo(), rulebook.GB())
		sound(t, out)
		for _, c := range out.Cutting {
			if c.Bought < c.Bound || c.Proven != (c.Bought == c.Bound) {
				t.Errorf("%s: %s bought, bound %s, proven %v", c.Of, c.Bought, c.Bound, c.Proven)
			}
		}
		for _, a := range out.Ancillaries {
			for k, x := range a.Places {
				if k > 0 && x < a.Places[k-1] {
					t.Errorf("%s of wall %s at %v", a.Part, a.Wall, a.Places)
				}
			}
		}
	})
}

func buildIn(t *rapid.T, w *schedule.Wall) {
	at := func(label string) measure.Length {
		return w.Base + measure.Length(rapid.Int64Range(0, int64(w.Height/measure.Millimetre)).Draw(t, label))*measure.Millimetre
	}
	if w.Top == nil || w.Top.Shape == "level" {
		w.Plate = &schedule.Plate{}
	}
	for range rapid.IntRange(0, 2).Draw(t, "each") {
		w.Restraint = append(w.Restraint, at("strap"))
		w.DPCLevels = append(w.DPCLevels, at("course"))
		w.AirBricks = append(w.AirBricks, schedule.AirBricks{Level: at("air brick")})
		from, to := at("from"), at("to")
		w.BedReinforcement = append(w.BedReinforcement, schedule.BedReinforcement{From: min(from, to), To: max(from, to),
			EveryCourses: rapid.IntRange(1, 6).Draw(t, "every"), Leaf: rapid.SampledFrom([]string{"", "outer", "inner", "both"}).Draw(t, "leaf")})
		right := measure.Length(rapid.Int64Range(2, int64(w.Length/measure.Millimetre)).Draw(t, "right")) * measure.Millimetre
		w.AbuttingRoofs = append(w.AbuttingRoofs, schedule.AbuttingRoof{LeftLevel: at("left level"), Right: right, RightLevel: at("right level")})
	}
	for k := range w.Openings {
		w.Openings[k].BedReinforcement = &schedule.RoundOpening{Over: rapid.IntRange(0, 3).Draw(t, "over"), Under: rapid.IntRange(0, 3).Draw(t, "under")}
		w.Openings[k].SillProduct, w.Openings[k].Head.PadstoneProduct = "SILL-140-1400", "PAD-300x100x150"
	}
}
