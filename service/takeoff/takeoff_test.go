package takeoff

import (
	"testing"

	"github.com/go-json-experiment/json"
	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"hodman/service/measure"
	"hodman/service/product"
	"hodman/service/rulebook"
	"hodman/service/schedule"
	"hodman/testdata"
)

func rearWing(tb testing.TB) *schedule.Schedule {
	tb.Helper()
	s := new(schedule.Schedule)
	if err := json.Unmarshal(testdata.RearWing, s, json.RejectUnknownMembers(true)); err != nil {
		tb.Fatal(err)
	}
	if faults := s.Check(product.Demo()); len(faults) > 0 {
		tb.Fatal(faults)
	}
	return s
}

// sound tells what must hold of any takeoff.
func sound(t interface{ Errorf(string, ...any) }, out *Takeoff) {
	required := map[string]measure.Quantity{}
	for _, load := range out.Lifts {
		mass := measure.Mass(0)
		for _, line := range load.Lines {
			required[line.Product] += line.Required
			mass += line.Mass
		}
		if mass != load.Mass {
			t.Errorf("lift %d: lines weigh %v, the lift %v", load.Lift, mass, load.Mass)
		}
	}
	var laid, leaves int
	for _, n := range out.Lines {
		if required[n.Product] != n.Required {
			t.Errorf("%s: lifts add up to %v, required %v", n.Product, required[n.Product], n.Required)
		}
		if n.Required != n.Net+n.Breakage || n.Order < n.Required || n.Surplus != n.Order-n.Required {
			t.Errorf("%s: %+v does not add up", n.Product, n)
		}
		if n.Surplus >= n.Pack {
			t.Errorf("%s: %v over, a pack of %v too many", n.Product, n.Surplus, n.Pack)
		}
		if len(n.Rules) == 0 || n.Sum == "" {
			t.Errorf("%s does not explain itself", n.Product)
		}
		if n.Laid > 0 && (n.Laid != n.Whole+n.CutPieces || n.Net != measure.Each(n.Whole+n.ForCuts) || n.ForCuts > n.CutPieces) {
			t.Errorf("%s: %+v pieces do not add up", n.Product, n)
		}
		laid += n.Laid
		for _, id := range n.Rules {
			if rulebook.GB().Rule(id) == nil {
				t.Errorf("%s names rule %s, which the book does not have", n.Product, id)
			}
		}
	}
	for _, w := range out.Walls {
		for _, l := range w.Leaves {
			leaves += l.Whole
			for _, c := range append(l.Cuts, l.Splits...) {
				leaves += c.Count
			}
		}
	}
	if laid != leaves {
		t.Errorf("lines lay %d pieces, walls %d", laid, leaves)
	}
	for _, f := range out.Findings {
		if f.At == "" || f.Text == "" || f.Code == "" {
			t.Errorf("finding says too little: %+v", f)
		}
	}
}

func TestRearWingIsSound(t *testing.T) {
	sound(t, Compute(rearWing(t), product.Demo(), rulebook.GB()))
}

// TestAnyTakeoffIsSound: lifts add up to the whole, pieces to the laid, required to
// net and breakage, for random schedules.
func TestAnyTakeoffIsSound(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := randomSchedule(t)
		if rapid.Bool().Draw(t, "lifts") {
			height := measure.Length(rapid.IntRange(900, 2000).Draw(t, "height")) * measure.Millimetre
			s.Lifts = &schedule.Lifts{Height: &height}
		}
		if rapid.Bool().Draw(t, "none") {
			s.CutReuse = "none"
		}
		if faults := s.Check(product.Demo()); len(faults) > 0 {
			t.Fatalf("a drawn schedule has faults: %v", faults)
		}
		sound(t, Compute(s, product.Demo(), rulebook.GB()))
	})
}

// TestSameBytes: the same schedule gives the same bytes.
func TestSameBytes(t *testing.T) {
	s := rearWing(t)
	first, err := json.Marshal(Compute(s, product.Demo(), rulebook.GB()))
	if err != nil {
		t.Fatal(err)
	}
	for range 20 {
		again, err := json.Marshal(Compute(s, product.Demo(), rulebook.GB()))
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(string(first), string(again)); diff != "" {
			t.Fatal(diff)
		}
	}
}

// TestFreePanelOrder: a panel of 1340 x 600 in half brick lays 44 whole and 8
// halves. Two halves of 102.5 and a 4 mm kerf come out of 215: 4 bricks for 8.
// 48 + 5 in the hundred = 2.4, up to 3: 51 required.
func TestFreePanelOrder(t *testing.T) {
	s := &schedule.Schedule{Reference: "panel", Rulebook: "gb",
		WallTypes: []schedule.WallType{{Key: "HB", Single: &schedule.Leaf{Product: "BRK-65-FACE"}}},
		Walls: []schedule.Wall{{Ref: "P", Type: "HB", Length: 1340 * measure.Millimetre, Height: 600 * measure.Millimetre,
			Left: schedule.StopEnd, Right: schedule.StopEnd}}}
	out := Compute(s, product.Demo(), rulebook.GB())
	n := out.Lines[0]
	if n.Whole != 44 || n.CutPieces != 8 || n.ForCuts != 4 || n.Breakage != measure.Each(3) || n.Required != measure.Each(51) {
		t.Errorf("got %+v", n)
	}
	// 1.340 x 0.600 = 0.804 m2 x 60 = 48.24, up to 49.
	if n.AreaRule != 49 {
		t.Errorf("area rule %d, want 49", n.AreaRule)
	}
}
