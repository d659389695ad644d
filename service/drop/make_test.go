package drop

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/go-json-experiment/json"
	"github.com/google/go-cmp/cmp"

	"hodman/service/finding"
	"hodman/service/lift"
	"hodman/service/measure"
	"hodman/service/rulebook"
)

// read makes a request of a document and wants no mistake in it.
func read(t testing.TB, doc string) *Request {
	t.Helper()
	r := new(Request)
	if err := json.Unmarshal([]byte(doc), r, json.RejectUnknownMembers(true)); err != nil {
		t.Fatal(err)
	}
	if faults := r.Check(); len(faults) > 0 {
		t.Fatalf("faults %+v", faults)
	}
	return r
}

// wing is two lifts of 1350 mm. Bricks of 2.3 kg in packs of 400 (920 kg), blocks of
// 18.7 kg in packs of 72 (1346.4 kg), lintels of 50 kg one by one.
const wing = `{
  "lift_loads": [
    {"lift": 1, "from_mm": 0, "to_mm": 1350, "mass_kg": 0, "lines": [
      {"product": "BRK", "kind": "brick", "unit": "each", "required": 1900, "pack": 400, "pack_kg": 920, "loose": false, "mass_kg": 4370},
      {"product": "BLK", "kind": "block", "unit": "each", "required": 300, "pack": 72, "pack_kg": 1346.4, "loose": false, "mass_kg": 5610}]},
    {"lift": 2, "from_mm": 1350, "to_mm": 2700, "mass_kg": 0, "lines": [
      {"product": "BRK", "kind": "brick", "unit": "each", "required": 1200, "pack": 400, "pack_kg": 920, "loose": false, "mass_kg": 2760},
      {"product": "BLK", "kind": "block", "unit": "each", "required": 60, "pack": 72, "pack_kg": 1346.4, "loose": false, "mass_kg": 1122},
      {"product": "LIN", "kind": "lintel", "unit": "each", "required": 2, "pack": 1, "pack_kg": 50, "loose": true, "mass_kg": 100}]}],
  "programme": {"start": "2027-03-06", "bricklayers": 2, "output_per_day": {"brick": 450, "block": 100}, "holidays": ["2027-03-12"]},
  "scaffold": {"load_class": 4, "bay_length_mm": 1800, "platform_width_mm": 1125, "bays": 9, "loading_bay_kn_m2": 10},
  "yard": {"max_kg": 16000, "max_packs": 16},
  "vehicles": [{"key": "large", "payload_kg": 14000, "places": 14, "cost": "130"}, {"key": "small", "payload_kg": 9000, "places": 8, "cost": "95"}],
  "currency": "GBP", "lead_days": 1, "ahead_days": 5, "holding_cost": "1.50"}`

func make2(t testing.TB, doc string) (Plan, finding.Faults) {
	t.Helper()
	r := read(t, doc)
	return Make(r, r.Loads(), rulebook.GB())
}

func TestWing(t *testing.T) {
	p, faults := make2(t, wing)
	if faults != nil {
		t.Fatal(faults)
	}
	// 6 March 2027 is a Saturday: the job starts on Monday the 8th. Lift 1 takes
	// (1900/450 + 300/100) / 2 = 3.6, 4 days: Monday to Thursday. Friday the 12th is a
	// holiday, Monday the 15th goes on the scaffold. Lift 2 takes (1200/450 + 60/100) / 2 =
	// 1.63, 2 days: the 16th and 17th.
	want := []string{"1 2027-03-08 2027-03-11 4", "2 2027-03-16 2027-03-17 2"}
	var got []string
	for _, l := range p.Lifts {
		got = append(got, fmt.Sprintf("%v %v %v %v", l.Lift, l.Starts, l.Ends, l.Days))
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
	// Lift 1: ceil(1900/400) = 5 packs of bricks, ceil(300/72) = 5 of blocks, 4600 + 6732 =
	// 11 332 kg on 10 places, by Friday 5 March: one large, 130. Both lifts: ceil(3100/400) = 8
	// and 360/72 = 5, so lift 2 has 3 packs of bricks and two lintels to come, 2860 kg, by
	// Monday the 15th, and the 60 blocks out of packs that are there. The 5th is 6 working
	// days before the 16th, over 5: lift 2 has a trip of its own, one small, 95. 225 in all.
	got = nil
	for _, d := range p.Drops {
		got = append(got, fmt.Sprintf("%v %v %v %v %v %v %v", d.Number, d.Date, d.Vehicle, d.ForLifts, d.Mass, d.Places, d.Lines))
	}
	want = []string{"1 2027-03-05 large [1] 11332 10 [{BRK each 5 2000 4600} {BLK each 5 360 6732}]",
		"2 2027-03-15 small [2] 2860 3 [{BRK each 3 1200 2760} {LIN each 2 2 100}]"}
	if p.Lifts[1].Starts != p.Drops[1].Date+1 {
		t.Errorf("lift 2 starts on %s, its goods come on %s", p.Lifts[1].Starts, p.Drops[1].Date)
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
	if p.Cost.String() != "225.00" || p.LowerBound != p.Cost || !p.Optimal || p.Gap != 0 {
		t.Errorf("cost %s, bound %s, optimal %v, gap %s", p.Cost, p.LowerBound, p.Optimal, p.Gap)
	}
	// The block pack presses with 1346.4 / 100 / 1.2 = 11.22 kN/m2.
	var codes []string
	for _, f := range p.Findings {
		codes = append(codes, string(f.Severity)+" "+f.Code)
	}
	if diff := cmp.Diff([]string{"note drop.start_moved", "check loading_bay.over"}, codes); diff != "" {
		t.Error(diff)
	}
}

// With a day more to come early, Friday the 5th serves both: 14 192 kg is over one
// large's 14 000, so what is over still goes apart, or both go on large and small: 225 and
// early goods. A payload of 14 500 takes all at 130, and 3 packs of bricks and 100 kg of
// lintels, 3.1 packs, 5 days early at 1.50: 3.1 x 5 x 1.50 = 23.25, 153.25 in all.
func TestOneTripWhereItPays(t *testing.T) {
	p, faults := make2(t, strings.NewReplacer(`"ahead_days": 5`, `"ahead_days": 6`, "14000", "14500").Replace(wing))
	if faults != nil {
		t.Fatal(faults)
	}
	if p.Cost.String() != "153.25" || len(p.Drops) != 1 || p.Drops[0].Mass != 14_192*measure.Kilogram || !slices.Equal(p.Drops[0].ForLifts, []int{1, 2}) {
		t.Errorf("cost %s, drops %+v", p.Cost, p.Drops)
	}
	// The bound counts mass only, all of it as heavy as a pack of blocks: 2860 / 1346.4 x 5 x
	// 1.50 = 15.93, and a step of 14 192 / 800 = 18 kg less: 0.10. 145.83 to 145.94.
	if b := p.LowerBound.String(); b < "145.82" || b > "145.94" || p.Optimal {
		t.Errorf("bound %s, optimal %v", p.LowerBound, p.Optimal)
	}
	// At 6 a pack a day it is 93: 130 + 93 = 223, still under 225; at 6.20, 96.10: over.
	for price, want := range map[string]string{"6.00": "223.00", "6.20": "225.00"} {
		p, _ := make2(t, strings.NewReplacer(`"ahead_days": 5`, `"ahead_days": 6`, "14000", "14500", "1.50", price).Replace(wing))
		if p.Cost.String() != want {
			t.Errorf("at %s a pack a day: %s, want %s", price, p.Cost, want)
		}
	}
}

// What is over one trip's payload comes with the trip before where that saves one: 10
// packs and 10 packs, 11 places and 9 places a trip.
func TestPartOfALiftComesBefore(t *testing.T) {
	doc := `{"lift_loads": [
	  {"lift": 1, "from_mm": 0, "to_mm": 1350, "mass_kg": 0, "lines": [{"product": "BRK", "kind": "brick", "unit": "each", "required": 4000, "pack": 400, "pack_kg": 920, "loose": false, "mass_kg": 0}]},
	  {"lift": 2, "from_mm": 1350, "to_mm": 2700, "mass_kg": 0, "lines": [{"product": "BRK", "kind": "brick", "unit": "each", "required": 4000, "pack": 400, "pack_kg": 920, "loose": false, "mass_kg": 0}]}],
	  "programme": {"start": "2027-03-08", "bricklayers": 4, "lift_change_days": 0},
	  "vehicles": [{"key": "large", "payload_kg": 20000, "places": 11, "cost": "100"}, {"key": "small", "payload_kg": 20000, "places": 9, "cost": "80"}],
	  "currency": "GBP", "lead_days": 1, "ahead_days": 4, "holding_cost": "1"}`
	p, faults := make2(t, doc)
	if faults != nil {
		t.Fatal(faults)
	}
	// Lift 1 takes 4000/450/4 = 2.2, 3 days; lift 2 follows on day 3. Lift by lift is large
	// and large, 200. With one pack of lift 2 on the first large, 9 are left for a small: 180 and
	// one pack 3 days early, 183.
	if p.Cost.String() != "183.00" || p.LowerBound.String() != "180.00" {
		t.Errorf("cost %s, bound %s, want 183.00 and 180.00", p.Cost, p.LowerBound)
	}
	if d := p.Drops; len(d) != 2 || d[0].Places != 11 || d[1].Places != 9 || !slices.Equal(d[0].ForLifts, []int{1, 2}) {
		t.Errorf("drops %+v", d)
	}
}

// Impossible plans name the lift, the product, the day, the limit and by how much.
func TestImpossible(t *testing.T) {
	for _, c := range []struct{ name, old, new, pointer, words string }{
		// 11 332 - 11 000 = 332.
		{"ground", `"max_kg": 16000`, `"max_kg": 11000`, "/yard/max_kg", "lift 1, product BLK most of all: on 2027-03-05 11332 kg must lie on the ground, 332 kg over the 11000 kg"},
		{"places", `"max_packs": 16`, `"max_packs": 9`, "/yard/max_packs", "lift 1, product BLK most of all: on 2027-03-05 10 packs must lie on the ground, 1 over the 9"},
		// Five days before the 16th is the 8th, the day that lift 1 starts: 11 332 + 2860 = 14 192.
		{"both", `"max_kg": 16000, "max_packs": 16}`, `"max_kg": 14000}, "lead_days": 5`, "/yard/max_kg", "lift 2, product BRK most of all: on 2027-03-08 14192 kg must lie on the ground, 192 kg over the 14000 kg"},
		{"pack", `"pack_kg": 1346.4`, `"pack_kg": 15000`, "/vehicles", "lift 1, product BLK: one pack weighs 15000 kg, 1000 kg over the largest payload that is available, 14000 kg"},
		{"none to be had", `"cost": "130"}, {"key": "small", "payload_kg": 9000, "places": 8, "cost": "95"}`, `"cost": "130", "available": 0}, {"key": "small", "payload_kg": 900, "places": 8, "cost": "95"}`,
			"/vehicles", "product BRK: one pack weighs 920 kg, 20 kg over the largest payload that is available, 900 kg"},
		// 9000 / 1 + 300 / 100 = 9003, halved and up 4502.
		{"programme", `"brick": 450, "block": 100}`, `"brick": 1, "block": 100}`, "/programme", "lift 1 would end on working day 4502 of the job; a plan reaches 3650"},
	} {
		doc := strings.ReplaceAll(wing, c.old, c.new)
		switch c.name {
		case "both":
			doc = strings.Replace(doc, `"lead_days": 1, `, "", 1)
		case "programme":
			doc = strings.Replace(doc, `"required": 1900`, `"required": 9000`, 1)
		}
		p, faults := make2(t, doc)
		if !slices.ContainsFunc(faults, func(f finding.Fault) bool {
			return f.Pointer == c.pointer && f.Code == "too_large" && strings.Contains(f.Detail, c.words)
		}) {
			t.Errorf("%s: %+v, plan %+v", c.name, faults, p.Drops)
		}
	}
}

// Where trips a day are few, a lift's goods come over several days: 10 places by a
// vehicle of 4, one trip a day, take three days. With 2 days to come in it cannot be.
func TestFewTripsADay(t *testing.T) {
	few := strings.NewReplacer(`[{"key": "large", "payload_kg": 14000, "places": 14, "cost": "130"}, {"key": "small", "payload_kg": 9000, "places": 8, "cost": "95"}]`,
		`[{"key": "one", "payload_kg": 9000, "places": 4, "cost": "50", "available": 1}]`).Replace(wing)
	p, faults := make2(t, few)
	if faults != nil {
		t.Fatal(faults)
	}
	var dates []string
	for _, d := range p.Drops {
		dates = append(dates, d.Date.String())
	}
	if diff := cmp.Diff([]string{"2027-03-03", "2027-03-04", "2027-03-05", "2027-03-15"}, dates); diff != "" {
		t.Error(diff)
	}
	_, faults = make2(t, strings.ReplaceAll(few, `"ahead_days": 5`, `"ahead_days": 2`))
	if len(faults) != 1 || faults[0].Pointer != "/vehicles" || !strings.Contains(faults[0].Detail, "lift 1, product BLK most of all: 11332 kg on 10 places for lifts 1 to 1 must come from 2027-03-04 to 2027-03-05; the trips available in 2 working days bring at most 18000 kg on 8 places") {
		t.Errorf("faults %+v", faults)
	}
}

func TestDays(t *testing.T) {
	r := read(t, wing)
	for _, c := range []struct {
		bricks, blocks, rise int
		want                 int64
	}{
		{900, 0, 1350, 1}, // 900/450/2 = 1
		{901, 0, 1350, 2},
		{450, 100, 1350, 1}, // (1 + 1)/2 = 1: no rounding on the way
		{450, 101, 1350, 2},
		{100, 0, 1500, 1}, // 1500/1500 = 1
		{100, 0, 1501, 2},
		{0, 0, 300, 1},
	} {
		l := r.LiftLoads[0]
		l.Lines = slices.Clone(l.Lines)
		l.To = measure.Length(c.rise) * measure.Millimetre
		l.Lines[0].Required, l.Lines[1].Required = measure.Each(c.bricks), measure.Each(c.blocks)
		if got, sum := r.Programme.days(&l, rulebook.GB()); got != c.want {
			t.Errorf("%d bricks, %d blocks, %d mm: %d days, want %d (%s)", c.bricks, c.blocks, c.rise, got, c.want, sum)
		}
	}
}

// The same request gives the same bytes, and dates come back as they went.
func TestSameBytes(t *testing.T) {
	var docs [2][]byte
	for i := range docs {
		p, _ := make2(t, wing)
		docs[i], _ = json.Marshal(p, json.Deterministic(true))
	}
	if string(docs[0]) != string(docs[1]) {
		t.Error("two plans of one request differ")
	}
	var back Plan
	if err := json.Unmarshal(docs[0], &back, json.RejectUnknownMembers(true)); err != nil {
		t.Fatal(err)
	}
	again, _ := json.Marshal(back, json.Deterministic(true))
	if diff := cmp.Diff(string(docs[0]), string(again)); diff != "" {
		t.Error(diff)
	}
}

// 137 kg out of bags of 25 kg are six bags, though bags may be had one by one; 137 bricks
// out of a pack that may be split are 137.
func TestPieces(t *testing.T) {
	for _, c := range []struct {
		unit  string
		loose bool
		pack  measure.Quantity
		want  int64
	}{{"kg", true, measure.Each(25), 6}, {"kg", false, measure.Each(25), 6}, {"each", true, measure.Each(400), 137}, {"each", false, measure.Each(400), 1}, {"m", true, 2400, 58}} {
		loads := []lift.Load{{Lift: 1, Lines: []lift.Line{{Product: "P", Kind: "cement", Unit: c.unit, Loose: c.loose, Pack: c.pack, PackMass: measure.Kilogram, Required: measure.Each(137)}}}}
		if got := goodsOf(loads, rulebook.GB(), measure.Tonne)[0].pieces(0); got != c.want {
			t.Errorf("%s, loose %v: %d pieces, want %d", c.unit, c.loose, got, c.want)
		}
	}
}
