package takeoff

import (
	"slices"
	"strings"
	"testing"

	"hodman/service/measure"
	"hodman/service/product"
	"hodman/service/rulebook"
	"hodman/service/schedule"
)

// jointed is a half-brick wall of 16 m between two abutments, with the schedule as changed.
func jointed(t *testing.T, change func(*schedule.Schedule)) *Takeoff {
	t.Helper()
	w := free(16_000*ms, 2400*ms)
	w.Left, w.Right = schedule.Abutment, schedule.Abutment
	s := &schedule.Schedule{Reference: "r", Rulebook: "gb", Walls: []schedule.Wall{w},
		WallTypes: []schedule.WallType{{Key: "T", Single: &schedule.Leaf{Product: "BRK-65-FACE"}}}}
	change(s)
	if faults := s.Check(product.Demo()); len(faults) > 0 {
		t.Fatal(faults)
	}
	return Compute(s, product.Demo(), rulebook.GB())
}

// codesOf are the findings about movement joints.
func codesOf(o *Takeoff) (list []string) {
	for _, f := range o.Findings {
		if strings.HasPrefix(f.Code, "joint.") {
			list = append(list, string(f.Severity)+" "+f.Code+" "+f.At)
		}
	}
	return list
}

// Clay between two ends that hold it: a joint at most 6 m from either and 12 m apart (NHBC Good Craftsmanship Guide,
// Brickwork and blockwork, 2002), 16 mm wide. The places are worked by hand in package movement: 4040 and 12027.5 of 16000.
func TestMovementJointsPlaced(t *testing.T) {
	given := jointed(t, func(s *schedule.Schedule) {})
	if got := codesOf(given); !slices.Equal(got, []string{"check joint.movement_missing /walls/0/length_mm"}) {
		t.Errorf("as given: %q", got)
	}
	placed := jointed(t, func(s *schedule.Schedule) { s.MovementJoints = "placed" })
	if got := codesOf(placed); !slices.Equal(got, []string{"note joint.movement_placed /walls/0/length_mm"}) {
		t.Errorf("placed: %q", got)
	}
	leaf := &placed.Walls[0].Leaves[0]
	if len(given.Walls[0].Leaves[0].Joints) != 0 || len(leaf.Joints) != 2 ||
		leaf.Joints[0] != (Joint{4040 * ms, 16 * ms, "joint.movement_clay"}) || leaf.Joints[1].At != 12_027_500 {
		t.Errorf("joints %+v", leaf.Joints)
	}
	// The panels are 4030 (from 10 on), 7971.5 and 3946.5 long. Odd courses of 32: 4030 = 17 x 225 + 205, one cut; 7971.5 = 35 x 225 + 96.5, one;
	// 3946.5 = 17 x 225 + 121.5, one: 17 + 35 + 17 = 69 whole. Even: 102.5 first, then 4030 - 112.5 = 3917.5 = 17 x 225 + 92.5; 7859 = 34 x 225 + 209;
	// 3834 = 17 x 225 + 9, and 9 mm are shared with the brick before: 16 whole and two cuts.
	if leaf.Whole != 16*(17+35+17)+16*(17+34+16) {
		t.Errorf("%d whole", leaf.Whole)
	}
	byHand := jointed(t, func(s *schedule.Schedule) { s.Walls[0].MovementJoints = []measure.Length{1500 * ms, 9000 * ms} })
	if got := codesOf(byHand); !slices.Equal(got, []string{"check joint.movement_panel /walls/0/movement_joints_mm"}) {
		t.Errorf("by hand, 6984 mm to the right end: %q", got)
	}
}
