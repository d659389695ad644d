package main

import (
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"hodman/service/drop"
	"hodman/service/finding"
	"hodman/service/lift"
	"hodman/service/lintel"
	"hodman/service/measure"
	"hodman/service/mortar"
	"hodman/service/takeoff"
)

var update = flag.Bool("update", false, "write the golden files of the tables' layout anew")

// golden compares a layout with the file that keeps it. Only how things are set
// out is kept so; the numbers here are made up.
func golden(t *testing.T, name, got string) {
	t.Helper()
	file := filepath.Join("testdata", name+".golden")
	if *update {
		if err := os.WriteFile(file, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(string(want), got); diff != "" {
		t.Errorf("%s (-kept +got):\n%s", file, diff)
	}
}

func TestGrouped(t *testing.T) {
	for in, want := range map[string]string{
		"0": "0", "999": "999", "1000": "1,000", "-1234567.25": "-1,234,567.25", "102.5": "102.5", "-100": "-100", "100000": "100,000",
	} {
		if got := grouped(in); got != want {
			t.Errorf("grouped(%s) = %s, want %s", in, got, want)
		}
	}
}

func TestMassIsRoundedHalfUp(t *testing.T) {
	for in, want := range map[measure.Mass]string{0: "-", 49: "0.0", 50: "0.1", 1_234_550: "1,234.6", 999_950: "1,000.0"} {
		if got := mass(in); got != want {
			t.Errorf("mass(%d g) = %s, want %s", in, got, want)
		}
	}
}

func TestWrap(t *testing.T) {
	for _, c := range []struct {
		in   string
		wide int
		want []string
	}{
		{"", 10, []string{""}},
		{"one two three", 7, []string{"one two", "three"}},
		{"one two three", 0, []string{"one two three"}},
		{"unbreakable word", 4, []string{"unbreakable", "word"}},
		{"4" + held + "packs of" + held + "it", 7, []string{"4 packs", "of it"}},
		{"a\nb", 10, []string{"a", "b"}},
		{"größe größe", 5, []string{"größe", "größe"}},
	} {
		if diff := cmp.Diff(c.want, wrap(c.in, c.wide)); diff != "" {
			t.Errorf("wrap(%q, %d): %s", c.in, c.wide, diff)
		}
	}
}

func TestTakeoffLayout(t *testing.T) {
	answer := takeoff.Takeoff{
		ScheduleReference: "Made up", Rulebook: "gb@2026.2", Catalogue: "demo@1",
		Lines: []takeoff.Line{
			{Product: "BRK-65-FACE", Name: "Facing brick", Kind: "brick", Unit: "each", Laid: 4312, Whole: 4198, CutPieces: 114, ForCuts: 61,
				Breakage: measure.Each(213), Required: measure.Each(4472), Pack: measure.Each(400), Packs: 12, Order: measure.Each(4800),
				Surplus: measure.Each(328), Mass: 11_040 * measure.Kilogram},
			{Product: "TIE-225", Name: "Wall tie 225 mm, stainless steel, type 2, box of 250", Kind: "wall_tie", Unit: "each",
				Net: measure.Each(138), Breakage: measure.Each(7), Required: measure.Each(145), Packs: 1, Order: measure.Each(250), Mass: 7500},
			{Product: "TRAY-450-10", Name: "Cavity tray", Kind: "cavity_tray", Unit: "m", Net: 12_350, Required: 12_350, Packs: 2, Order: 20_000, Mass: 9000},
		},
		Walls: []takeoff.Wall{{Ref: "A",
			SettingOut: &takeoff.WallSettingOut{Nudges: []takeoff.Nudge{{Text: "A1 at 1115 instead of 1125 mm along would leave 7 cut pieces fewer"}}},
			Leaves: []takeoff.Leaf{
				{Leaf: "outer", SettingOut: &takeoff.SettingOut{AsGiven: takeoff.Pieces{Units: 1620, Cuts: 106}, Best: takeoff.Pieces{Units: 1620, Cuts: 106}}},
				{Leaf: "inner", SettingOut: &takeoff.SettingOut{AsGiven: takeoff.Pieces{Units: 307, Cuts: 122}, Best: takeoff.Pieces{Units: 283, Cuts: 79},
					Ways: []takeoff.Way{{Text: "each pier set out from its right reveal, broken bond under and over the openings"}, {Text: "the other wall starts at a corner"}}}}}}},
		Mortar: []mortar.Batch{{Designation: "M4", Ways: []mortar.Way{
			{Supply: mortar.SiteMix, Chosen: true, Litres: 1_100_000, Mass: 2_100_000, Goods: []mortar.Good{
				{Kind: "cement", Product: "CEMENT-25", Unit: "kg", Required: 263_340, Packs: 11}, {Kind: "lime", Product: "LIME-25", Unit: "kg", Required: 109_725, Packs: 5},
				{Kind: "sand", Product: "SAND-850", Unit: "kg", Required: 1_645_875, Packs: 2}}},
			{Supply: mortar.ReadyToUse, Litres: 1_029_500, Mass: 0, Goods: []mortar.Good{{Kind: "ready_mortar", Unit: "l", Required: 1_029_500}}},
		}}},
		Lintels: []lintel.Pick{
			{Wall: "A", Opening: "A1", Leaf: "both", Clear: 910_000, Needed: 1_210_000, Product: "LIN-SC-105-1350", Length: 1_350_000,
				BearingLeft: 220_000, BearingRight: 220_000, Mass: 12_345, Status: lintel.InStock, Handling: "12.3 kg is within the guideline figure for one person.", Why: "910 + 2 x 150 = 1210, next length up.",
				Alternatives: []lintel.Alternative{{Product: "LIN-SC-105-1500", Length: 1_500_000, Bearing: 295_000, Status: lintel.OutOfStock}},
				Short:        []lintel.Short{{Product: "LIN-SC-105-1200", Length: 1_200_000, Bearing: 145_000, Text: "bears 145 mm each end, 5 mm less than the least: not to be used unless the designer agrees"}}},
			{Wall: "A", Opening: "A2", Leaf: "both", Clear: 5_000_000, Needed: 5_300_000, Status: lintel.NothingServes, Why: "No length is long enough."},
		},
		Lifts: []lift.Load{
			{Lift: 1, To: 1_350_000, Mass: 5_120_000, Lines: []lift.Line{
				{Product: "LIGHT", Unit: "m", Required: 1500, Mass: 1}, {Product: "BRK-65-FACE", Unit: "each", Required: measure.Each(1210), Mass: 2_783_000},
				{Product: "SAND-850", Unit: "kg", Required: 820_500, Mass: 820_500}, {Product: "BLK-100-D", Unit: "each", Required: measure.Each(81), Mass: 1_514_700}}},
		},
		Findings: []finding.Finding{
			{Severity: finding.Note, Code: "a.note", At: "", Text: "Good to know", Remedy: "Nothing to do."},
			{Severity: finding.Check, Code: "course.sliver", At: "/walls/0", Text: "The closing course of the inner leaf would be 65 mm high, which is under half a block; the masons will not thank you for it.", Remedy: "Lay coursing units.", Rule: "course.sliver"},
			{Severity: finding.Stop, Code: "lintel.nothing_serves", At: "/walls/0/openings/1", Text: "Nothing spans 5000 mm.", Rule: "lintel.most_clear"},
		},
		Cautions: []string{"Lintels: defer to the engineer and to local codes."},
	}
	var b strings.Builder
	if err := showTakeoff(&b, &answer); err != nil {
		t.Fatal(err)
	}
	golden(t, "takeoff", b.String())
}

func TestDropsLayout(t *testing.T) {
	monday, err := drop.ParseDate("2027-03-08")
	if err != nil {
		t.Fatal(err)
	}
	hoist := func(bay, order int, imposed measure.Ratio, bricks int) drop.Hoist {
		return drop.Hoist{Lift: 1, Bay: bay, Order: order, Mass: 450_000, Imposed: imposed, Limit: 3 * measure.One,
			Lines: []drop.HoistLine{{Product: "BRK-65-FACE", Unit: "each", Quantity: measure.Each(bricks)}}}
	}
	plan := drop.Plan{
		Lifts: []drop.LiftDates{{Lift: 1, Starts: monday, Ends: monday + 2, Days: 3}, {Lift: 2, Starts: monday + 7, Ends: monday + 7, Days: 1}},
		Drops: []drop.Drop{{Number: 1, Date: monday - 3, Vehicle: "26 t crane lorry", ForLifts: []int{1, 2}, Mass: 13_340_500, Places: 13,
			Lines: []drop.DropLine{{Product: "BRK-65-FACE", Unit: "each", Packs: 12, Quantity: measure.Each(4800), Mass: 11_040_000}, {Product: "TIE-225", Unit: "each", Quantity: measure.Each(250)}}}},
		// 2.994001 is shown as 3.00: never less than it is.
		Hoists: []drop.Hoist{hoist(1, 1, 2_994_001, 151), hoist(2, 1, 1_000_000, 20), hoist(1, 2, 1_000_000, 20)},
		Cost:   1_234_5000, Currency: "GBP", LowerBound: 1_200_0000, Gap: 27_946,
		BricksABay: []drop.BayCount{{Product: "BRK-65-FACE", UnitMass: 2300, Units: 151}},
		Findings:   []finding.Finding{{Severity: finding.Check, Code: "yard.tight", At: "/yard", Text: "The ground is full on one day."}},
		Cautions:   drop.Cautions[:1],
	}
	var b strings.Builder
	if err := showDrops(&b, &plan); err != nil {
		t.Fatal(err)
	}
	golden(t, "drops", b.String())
}
