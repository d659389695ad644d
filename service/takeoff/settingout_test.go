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
