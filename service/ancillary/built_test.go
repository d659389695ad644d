package ancillary

import (
	"slices"
	"testing"

	"hodman/service/measure"
	"hodman/service/product"
	"hodman/service/rulebook"
	"hodman/service/schedule"
)

// only keeps the rows of some parts.
func only(needs []Need, parts ...string) string {
	return rows(slices.DeleteFunc(slices.Clone(needs), func(n Need) bool { return !slices.Contains(parts, n.Part) }))
}

func counted(w Wall) []Need {
	needs, _, _ := Count([]Wall{w}, schedule.Allowances{}, product.Demo(), rulebook.GB())
	return needs
}

// brickwork is a cavity wall at 75 and 225 mm gauge.
func brickwork(s schedule.Wall) Wall {
	w := cavityWall(s, 0)
	w.Lintels = make([]measure.Length, len(s.Openings))
	w.Gauge = [2]measure.Length{75 * mm, 225 * mm}
	return w
}

// A lean-to roof from 2400 up to 3600 over 2 m, the other way beyond: rise 1200 / 75 = 16
// courses, each 2000 x 75 / 1200 = 125 mm along; with 75 mm past the next 200, so trays of
// 225 mm. A flatter one, 600 over 2 m: 8 courses, 250 mm along, 325 with the lap, so 420 mm. All stand
// 150 mm over the roof (NHBC Standards 2020, 6.1.17). One tray a course, a catchment tray at
// the foot and a ridge tray are common practice.
func TestSteppedTrays(t *testing.T) {
	s := free(9000, 5025)
	s.AbuttingRoofs = []schedule.AbuttingRoof{
		{Left: 0, LeftLevel: 2400 * mm, Right: 2000 * mm, RightLevel: 3600 * mm},
		{Left: 2000 * mm, LeftLevel: 3600 * mm, Right: 4000 * mm, RightLevel: 2400 * mm},
		{Left: 5000 * mm, LeftLevel: 2400 * mm, Right: 7000 * mm, RightLevel: 3000 * mm},
	}
	want := `stepped_tray STEP-TRAY-225-L 16 16 each 2550-3750
catchment_tray CATCH-TRAY-450 1 1 each 2550-2550
weep WEEP 1 1 each 2550-2550
ridge_tray RIDGE-TRAY-450 1 1 each 3750-3750
stepped_tray STEP-TRAY-225-R 16 16 each 2550-3750
catchment_tray CATCH-TRAY-450 1 1 each 2550-2550
weep WEEP 1 1 each 2550-2550
stepped_tray STEP-TRAY-420-L 8 8 each 2550-3150
catchment_tray CATCH-TRAY-450 1 1 each 2550-2550
weep WEEP 1 1 each 2550-2550
`
	if got := only(counted(brickwork(s)), "stepped_tray", "catchment_tray", "ridge_tray", "weep"); got != want {
		t.Errorf("got:\n%s", got)
	}
}

// A level roof 3 m long: a tray of 3 m, two stop ends, up(3000/900) + 1 = 5 weeps.
func TestTrayOverALevelRoof(t *testing.T) {
	s := free(9000, 5025)
	s.AbuttingRoofs = []schedule.AbuttingRoof{{Left: 5000 * mm, LeftLevel: 2700 * mm, Right: 8000 * mm, RightLevel: 2700 * mm}}
	want := `roof_tray TRAY-450-10 3 3 m 2850-2850
stop_end STOP-END 2 2 each 2850-2850
weep WEEP 5 5 each 2850-2850
`
	if got := only(counted(brickwork(s)), "roof_tray", "stop_end", "weep"); got != want {
		t.Errorf("got:\n%s", got)
	}
}

// A wall of 6 m: 6000 - 2 x 450 = 5100 / 1500, up to 4, + 1 = 5, at 450, 1725, 3000, 4275, 5550.
// A door from 2700 to 3300 keeps 225 mm clear on both sides: from 2475 to 3525; the one at 3000
// moves to 2475, the earlier of two as near. 4275 - 2475 = 1800 is too far, so that one is added
// as far on as it may be, 2475 + 1500 = 3975. Without the one at 4275, 3975 and 5550 would be 1575 apart.
func TestAirBricksClearOfADoor(t *testing.T) {
	s := free(6000, 2400)
	s.AirBricks = []schedule.AirBricks{{Level: 225 * mm}}
	w := brickwork(s)
	if got := find(counted(w), "air_brick"); !slices.Equal(got.Places, lengths(450, 1725, 3000, 4275, 5550)) {
		t.Errorf("at %v", got.Places)
	}
	s.Openings = []schedule.Opening{window(2700, 0, 600, 2100)}
	w = brickwork(s)
	if got := find(counted(w), "air_brick").Places; !slices.Equal(got, lengths(450, 1725, 2475, 3975, 4275, 5550)) {
		t.Errorf("at %v", got)
	}
	for _, n := range []struct {
		part string
		want int
	}{{"air_brick_sleeve", 1}, {"stop_end", 2}, {"weep", 2}} {
		if got, bricks := find(counted(w), n.part).Net, find(counted(w), "air_brick").Net; got != bricks*measure.Quantity(n.want) {
			t.Errorf("%s %s to %s air bricks", got, n.part, bricks)
		}
	}
}

// Straps at 2 m are never farther apart, never over an opening, and the first is 225 mm from an end.
func TestStrapsClearOfOpenings(t *testing.T) {
	s := free(8000, 2400, window(1000, 300, 1500, 2100), window(4000, 900, 1800, 1500))
	s.Plate = &schedule.Plate{}
	places := find(counted(brickwork(s)), "holding_down").Places
	if len(places) < 5 || places[0] != 225*mm || places[len(places)-1] != 7775*mm {
		t.Fatalf("at %v", places)
	}
	for i, x := range places {
		for _, o := range s.Openings {
			if x > o.Left-150*mm && x < o.Right()+150*mm {
				t.Errorf("one at %s is over the opening from %s to %s", x, o.Left, o.Right())
			}
		}
		// 4000 - 150 to 5800 + 150 are 2100 apart: there alone two are over 2 m.
		if i > 0 && x-places[i-1] > 2000*mm && (places[i-1] != 3850*mm || x != 5950*mm) {
			t.Errorf("%s and %s are too far apart", places[i-1], x)
		}
	}
}

// Every third bed of the outer leaf from 450 to 900 mm: 450, 675, 900: 3 x 9 m less a door of
// 1 m: 24 m. On 4 m and 4 m each side of it, lengths of 2.7 m lapped by 225: 2.7 + 1.525, so one lap
// a side: 6 x 0.225 = 1.35. Packed: 6 whole and 6 of 1525 mm, one to a length: 12 x 2.7 = 32.4.
func TestBedReinforcement(t *testing.T) {
	s := free(9000, 2400, window(4000, 0, 1000, 2100))
	s.BedReinforcement = []schedule.BedReinforcement{{From: 450 * mm, To: 900 * mm, EveryCourses: 3}}
	if got := only(counted(brickwork(s)), "bed_reinforcement"); got != "bed_reinforcement BJR-60-2700 24 32.4 m 450-900\n" {
		t.Errorf("got:\n%s", got)
	}
}

// Two beds over a window of 1.2 m with its head at 2100 = 28 x 75 = 9.33 x 225: in each leaf
// 2 x (1200 + 2 x 600) = 4.8 m; from 2100 in bricks and from 10 x 225 = 2250 in blocks.
func TestReinforcementOverAnOpening(t *testing.T) {
	o := window(4000, 900, 1200, 1200)
	o.BedReinforcement = &schedule.RoundOpening{Over: 2}
	needs := counted(brickwork(free(9000, 2700, o)))
	// Four lengths of 2.4 m, each out of one of 2.7: 10.8 m, 5.4 m a leaf.
	if got := only(needs, "bed_reinforcement"); got != "bed_reinforcement BJR-60-2700 4.8 5.4 m 2100-2175\nbed_reinforcement BJR-60-2700 4.8 5.4 m 2250-2475\n" {
		t.Errorf("got:\n%s", got)
	}
}

// A damp-proof course at 2550 mm in both leaves, and at 1500 mm, where a window of 1.2 m is.
func TestCoursesAtLevels(t *testing.T) {
	s := free(9000, 5025, window(4000, 900, 1200, 1200))
	s.DPCLevels = lengths(2550, 1500)
	w := brickwork(s)
	w.Run, w.From = 8595*mm, 202_500
	want := `dpc_level DPC-112.5-30 9 9.45 m 2550-2550
dpc_level DPC-100-30 8.595 9.025 m 2550-2550
dpc_level DPC-112.5-30 7.8 8.19 m 1500-1500
dpc_level DPC-100-30 7.395 7.765 m 1500-1500
`
	if got := only(counted(w), "dpc_level"); got != want {
		t.Errorf("got:\n%s", got)
	}
}

// A sill reaches 75 mm past each side: 1810 + 150 = 1960. One of 1400 is too short.
func TestStones(t *testing.T) {
	o := window(4000, 900, 1810, 1200)
	o.SillProduct, o.Head.PadstoneProduct = "SILL-140-1400", "PAD-440x140x215"
	needs, _, findings := Count([]Wall{brickwork(free(9000, 2700, o))}, schedule.Allowances{}, product.Demo(), rulebook.GB())
	if got := only(needs, "sill", "padstone"); got != "padstone PAD-440x140x215 2 2 each 2100-2100\nsill SILL-140-1400 1 1 each 900-900\n" {
		t.Errorf("got:\n%s", got)
	}
	for _, code := range []string{"padstone.too_thick", "padstone.not_designed", "sill.too_short"} {
		found := false
		for _, f := range findings {
			found = found || f.Code == code
		}
		if !found {
			t.Errorf("nothing says %s", code)
		}
	}
}

// Boards round a window: a wall 2.4 x 0.9 m, two courses of two boards. A window 600 x 450 from
// 300 to 900 along and 450 up leaves of the upper course 300 and 1500 mm: 1200 and 300. So 3 whole
// and two rests of 300 mm out of one board: 4; the area is 2.16 - 0.27 = 1.89 m2, 3.5 boards, up to 4.
func TestBoardsRoundAWindow(t *testing.T) {
	s := free(2400, 900, window(300, 450, 600, 450))
	w := brickwork(s)
	w.Cavity.Insulation, w.Net = 50*mm, squareMetresOf(1890)
	_, lists, _ := Count([]Wall{w}, schedule.Allowances{}, product.Demo(), rulebook.GB())
	k := slices.IndexFunc(lists, func(l CutList) bool { return l.Of == "insulation" })
	if l := lists[k]; l.Bought != measure.Each(4) || l.Bound != measure.Each(4) || !l.Proven || l.Bars[0].Times != 3 {
		t.Errorf("%+v", l)
	}
}
