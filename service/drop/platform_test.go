package drop

import (
	"slices"
	"strings"
	"testing"

	"hodman/service/finding"
	"hodman/service/lift"
	"hodman/service/measure"
	"hodman/service/rulebook"
)

// By hand with 1 kN = 100 kg, 2.3 kg a brick, 1.125 m wide, two people of 100 kg and
// 60 kg of boards. Class 3, 2.1 m: 2.0 x 2.3625 x 100 = 472.5 - 260 = 212.5, / 2.3 = 92.4.
// Class 4, 1.8 m: 3.0 x 2.025 x 100 = 607.5 - 260 = 347.5, / 2.3 = 151.1. The others by the
// same sum: 405 - 260 = 145, 63; 540 - 260 = 280, 121; 708.75 - 260 = 448.75, 195;
// 911.25 - 260 = 651.25, 283; 1215 - 260 = 955, 415.
func TestBricksABay(t *testing.T) {
	brick := good{Line: lift.Line{Pack: measure.Each(400), PackMass: 920 * measure.Kilogram}}
	width := 1125 * measure.Millimetre
	for _, c := range []struct {
		class  int
		length measure.Length
		want   int
	}{{3, 1800, 63}, {3, 2100, 92}, {3, 2400, 121}, {4, 1800, 151}, {4, 2100, 195}, {5, 1800, 283}, {6, 1800, 415}, {1, 600, 0}} {
		length := c.length * measure.Millimetre
		d := newDeck(&Scaffold{LoadClass: &c.class, BayLength: &length, PlatformWidth: &width}, rulebook.GB())
		if got := d.count(&brick); got != c.want {
			t.Errorf("class %d, %s: %d, want %d", c.class, length, got, c.want)
		}
		if d.allowed > 0 && (d.imposed(d.allowed) > d.limit || d.imposed(d.allowed+measure.Kilogram) <= d.limit) {
			t.Errorf("class %d, %s: %s imposes %s, limit %s", c.class, length, d.allowed, d.imposed(d.allowed), d.limit)
		}
	}
}

// Class 4, 1.8 x 1.125 m allows 347.5 kg a bay, 3127.5 kg on nine. Lift 1 is 4370 + 5610 =
// 9980 kg: 3.19, four rounds of nine bays. Lift 2 is 2760 + 1122 + 100 = 3982 kg: 1.27, two.
func TestHoistsOfTheWing(t *testing.T) {
	p, _ := make2(t, wing)
	rounds := map[int]int{}
	for _, h := range p.Hoists {
		rounds[h.Lift] = max(rounds[h.Lift], h.Order)
		if h.Imposed > 3*measure.One || h.Limit != 3*measure.One {
			t.Errorf("hoist %+v", h)
		}
	}
	if rounds[1] != 4 || rounds[2] != 2 || len(p.Hoists) != 4*9+2*9 {
		t.Errorf("rounds %v, %d hoists", rounds, len(p.Hoists))
	}
	// 36 bays of 300 blocks: 8 each and 12 of them 9; a bay of nine has fewer bricks.
	first := p.Hoists[0]
	if first.Bay != 1 || first.Order != 1 || first.Lines[0] != (HoistLine{"BLK", "each", measure.Each(9)}) {
		t.Errorf("first hoist %+v", first)
	}
}

func TestPlatformFindings(t *testing.T) {
	for _, c := range []struct {
		name, old, new string
		code           string
		severity       finding.Severity
		hoists         bool
	}{
		{"class 2", `"load_class": 4`, `"load_class": 2`, "scaffold.no_storage", finding.Stop, false},
		{"class 1", `"load_class": 4`, `"load_class": 1`, "scaffold.no_storage", finding.Stop, false},
		{"class 3", `"load_class": 4`, `"load_class": 3`, "scaffold.light_storage", finding.Check, true},
		{"no class", `"load_class": 4, `, ``, "drop.draft", finding.Check, false},
		{"no scaffold", `"scaffold": {"load_class": 4, "bay_length_mm": 1800, "platform_width_mm": 1125, "bays": 9, "loading_bay_kn_m2": 10},`, ``, "drop.draft", finding.Check, false},
		// 2.0 x 1.2 x 1.0 x 100 = 240 kg, under 260.
		{"no room", `"load_class": 4, "bay_length_mm": 1800, "platform_width_mm": 1125`, `"load_class": 3, "bay_length_mm": 1200, "platform_width_mm": 1000`, "scaffold.no_room", finding.Stop, false},
		{"no loading bay", `, "loading_bay_kn_m2": 10`, ``, "loading_bay.not_given", finding.Check, true},
		{"no yard", `"yard": {"max_kg": 16000, "max_packs": 16},`, ``, "drop.yard_not_given", finding.Note, true},
		// A lintel of 350 kg on a bay that allows 347.5.
		{"heavy lintel", `"pack_kg": 50`, `"pack_kg": 350`, "hoist.over", finding.Stop, true},
	} {
		p, faults := make2(t, strings.Replace(wing, c.old, c.new, 1))
		if faults != nil {
			t.Errorf("%s: %+v", c.name, faults)
		}
		if !slices.ContainsFunc(p.Findings, func(f finding.Finding) bool { return f.Code == c.code && f.Severity == c.severity }) {
			t.Errorf("%s: findings %+v", c.name, p.Findings)
		}
		if (len(p.Hoists) > 0) != c.hoists || len(p.Cautions) == 0 {
			t.Errorf("%s: %d hoists, %d cautions", c.name, len(p.Hoists), len(p.Cautions))
		}
	}
}

// Pack pressure on its own footprint of 1.0 x 1.2 m, by hand, against 10 kN/m2: 1000
// and 1200 kg pass (at 100 kg to the kN 1200 is 10 to the point), 1330 and 1400 do not.
func TestLoadingBay(t *testing.T) {
	for kg, over := range map[string]bool{"1000": false, "1200": false, "1330": true, "1400": true} {
		p, faults := make2(t, strings.ReplaceAll(wing, "1346.4", kg))
		if faults != nil {
			t.Fatal(faults)
		}
		got := slices.ContainsFunc(p.Findings, func(f finding.Finding) bool { return f.Code == "loading_bay.over" })
		if got != over {
			t.Errorf("a pack of %s kg: over %v, want %v", kg, got, over)
		}
	}
}

// Units go one by one to the lightest spot: 5 of 2 kg on 3, 0 and 1 kg. 0 takes one to 2,
// 1 to 3, 2 to 4, 3 and 3 to 5 each: 1, 2 and 2 units.
func TestLevel(t *testing.T) {
	spots := []spot{{mass: 3}, {mass: 0}, {mass: 1}}
	if got := level(spots, 5, 2); !slices.Equal(got, []int64{1, 2, 2}) {
		t.Errorf("%v, want 1 2 2", got)
	}
	if got := level(make([]spot, 3), 5, 2); !slices.Equal(got, []int64{2, 2, 1}) {
		t.Errorf("%v, want 2 2 1", got)
	}
	if got := level(make([]spot, 2), 0, 2); !slices.Equal(got, []int64{0, 0}) {
		t.Errorf("%v, want 0 0", got)
	}
}
