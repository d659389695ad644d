package takeoff

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"hodman/service/product"
	"hodman/service/rulebook"
	"hodman/service/schedule"
)

// The wall of TestBrokenBondUnderAnOpening of package bond, with nothing over or under the opening:
// 50 cuts as given, 40 with each pier set out by itself.
func TestSettingOut(t *testing.T) {
	asked := func(how string) *Takeoff {
		w := free(3600*ms, 1500*ms)
		w.Openings = []schedule.Opening{{Ref: "A1", Left: 1115 * ms, Width: 1145 * ms, Height: 1500 * ms, Head: schedule.Head{Kind: "none"}}}
		s := &schedule.Schedule{Reference: "r", Rulebook: "gb", SettingOut: how, Walls: []schedule.Wall{w},
			WallTypes: []schedule.WallType{{Key: "T", Single: &schedule.Leaf{Product: "BRK-65-FACE"}}}}
		if faults := s.Check(product.Demo()); len(faults) > 0 {
			t.Fatal(faults)
		}
		return Compute(s, product.Demo(), rulebook.GB())
	}
	plain, given, best := asked(""), asked("as_given"), asked("best")
	leaf := func(o *Takeoff) *Leaf { return &o.Walls[0].Leaves[0] }
	if leaf(plain).SettingOut != nil {
		t.Error("compared without being asked")
	}
	if diff := cmp.Diff(leaf(plain).Cuts, leaf(given).Cuts); diff != "" {
		t.Errorf("counted otherwise than as given:\n%s", diff)
	}
	if diff := cmp.Diff(leaf(given).SettingOut, leaf(best).SettingOut); diff != "" {
		t.Errorf("two comparisons:\n%s", diff)
	}
	s := leaf(best).SettingOut
	if s.AsGiven.Cuts != 50 || s.Best.Cuts != 40 || len(s.Ways) != 1 || s.Ways[0].Way != "broken_bond" {
		t.Errorf("%+v", s)
	}
	cuts := 0
	for _, c := range leaf(best).Cuts {
		cuts += c.Count
	}
	if cuts != 40 {
		t.Errorf("best counts %d cut pieces, says 40", cuts)
	}
}

// Halves of 215 and their joints make up 2 x length = n x 215 + (n - 2) x j. By hand: 690 with 6 halves
// wants j = 22.5, with 7 less than nought: no perpend from 8 to 12 mm does, and the lengths that
// work at 10 are 3 x 225 - 10 = 665 and 3.5 x 225 - 10 = 777.5. 668 with 6 halves wants 11.5.
func TestNoPerpendSuits(t *testing.T) {
	for _, c := range []struct {
		length schedule.Wall
		remedy string
	}{
		{free(690*ms, 600*ms), "the nearest lengths that work are 665 and 777.5 mm"},
		{free(665*ms, 600*ms), ""}, // three bricks
		{free(668*ms, 600*ms), ""}, // 2 x 668 = 6 x 215 + 4 x 11.5
	} {
		remedy := ""
		for _, f := range setOut(t, "as_given", schedule.Leaf{Product: "BRK-65-FACE"}, c.length).Findings {
			if f.Code == "setting_out.no_perpend" && f.At == "/walls/0/length_mm" {
				remedy = f.Remedy
			}
		}
		if remedy != c.remedy {
			t.Errorf("%s mm: %q, want %q", c.length.Length, remedy, c.remedy)
		}
	}
}
