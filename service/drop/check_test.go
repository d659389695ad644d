package drop

import (
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/go-json-experiment/json"

	"hodman/service/finding"
	"hodman/service/lift"
	"hodman/service/measure"
	"hodman/service/product"
	"hodman/service/rulebook"
	"hodman/service/schedule"
)

// Each case spoils one place of a good document and wants that place named.
func TestCheck(t *testing.T) {
	for _, c := range []struct{ old, new, pointer, code string }{
		{`"start": "2027-03-06"`, `"start": ""`, "/programme/start", "required"},
		{`"start": "2027-03-06"`, `"start": "06/03/2027"`, "/programme/start", "pattern"},
		{`"start": "2027-03-06"`, `"start": "2027-02-29"`, "/programme/start", "pattern"},
		{`"bricklayers": 2`, `"bricklayers": 0`, "/programme/bricklayers", "range"},
		{`"brick": 450`, `"brick": 0`, "/programme/output_per_day/brick", "range"},
		{`"brick": 450`, `"sand/lime": 450`, "/programme/output_per_day/sand~1lime", "unknown"},
		{`"holidays": ["2027-03-12"]`, `"holidays": ["2027-03-12", "Easter"]`, "/programme/holidays/1", "pattern"},
		{`"holidays": ["2027-03-12"]`, `"working_days": []`, "/programme/working_days", "items"},
		{`"holidays": ["2027-03-12"]`, `"working_days": ["mon", "Tue"]`, "/programme/working_days/1", "choice"},
		{`"holidays": ["2027-03-12"]`, `"working_days": ["mon", "mon"]`, "/programme/working_days/1", "duplicate"},
		{`"holidays": ["2027-03-12"]`, `"lift_change_days": -1`, "/programme/lift_change_days", "range"},
		{`"load_class": 4`, `"load_class": 7`, "/scaffold/load_class", "range"},
		{`"bay_length_mm": 1800, `, ``, "/scaffold/bay_length_mm", "required"},
		{`"platform_width_mm": 1125, `, ``, "/scaffold/platform_width_mm", "required"},
		{`"bays": 9`, `"bays": 0`, "/scaffold/bays", "range"},
		{`"loading_bay_kn_m2": 10`, `"loading_bay_kn_m2": 0`, "/scaffold/loading_bay_kn_m2", "range"},
		{`"max_kg": 16000`, `"max_kg": 0`, "/yard/max_kg", "range"},
		{`"max_packs": 16`, `"max_packs": 0`, "/yard/max_packs", "range"},
		{`"key": "small"`, `"key": "large"`, "/vehicles/1/key", "duplicate"},
		{`"key": "small"`, `"key": ""`, "/vehicles/1/key", "required"},
		{`"payload_kg": 9000`, `"payload_kg": 61000`, "/vehicles/1/payload_kg", "range"},
		{`"places": 8`, `"places": 0`, "/vehicles/1/places", "range"},
		{`"cost": "95"`, `"available": 2`, "/vehicles/1/cost", "required"},
		{`"cost": "95"`, `"cost": "95", "available": -1`, "/vehicles/1/available", "range"},
		{`"currency": "GBP"`, `"currency": "gbp"`, "/currency", "pattern"},
		{`"currency": "GBP"`, `"currency": ""`, "/currency", "required"},
		{`"lead_days": 1`, `"lead_days": 6`, "/ahead_days", "inconsistent"},
		{`"lead_days": 1`, `"lead_days": 61`, "/lead_days", "range"},
		{`"holding_cost": "1.50"`, `"holding_cost": "1000.01"`, "/holding_cost", "range"},
		{`"lift": 2`, `"lift": 1`, "/lift_loads/1/lift", "not_rising"},
		{`"to_mm": 2700`, `"to_mm": 1350`, "/lift_loads/1/to_mm", "not_rising"},
		{`"product": "BRK"`, `"product": "BLK"`, "/lift_loads/0/lines/1/product", "duplicate"},
		{`"product": "BRK"`, `"product": ""`, "/lift_loads/0/lines/0/product", "required"},
		{`"kind": "block"`, `"kind": "stone"`, "/lift_loads/0/lines/1/kind", "choice"},
		{`"unit": "each"`, `"unit": "ton"`, "/lift_loads/0/lines/0/unit", "choice"},
		{`"required": 300`, `"required": -1`, "/lift_loads/0/lines/1/required", "range"},
		{`"required": 1900, "pack": 400`, `"required": 9000000, "pack": 1`, "/lift_loads/0/lines/0/required", "too_large"},
		{`"pack": 72`, `"pack": 0`, "/lift_loads/0/lines/1/pack", "required"},
		{`"pack": 72`, `"pack": 73`, "/lift_loads/1/lines/1", "inconsistent"},
		{`"pack_kg": 920`, `"pack_kg": 0`, "/lift_loads/0/lines/0/pack_kg", "required"},
		{`"currency": "GBP"`, `"schedule": {}, "currency": "GBP"`, "", "inconsistent"},
		{`"currency": "GBP"`, `"takeoff": {}, "currency": "GBP"`, "/takeoff/lifts", "items"},
	} {
		doc := strings.Replace(wing, c.old, c.new, 1)
		r := new(Request)
		if err := json.Unmarshal([]byte(doc), r, json.RejectUnknownMembers(true)); err != nil || doc == wing {
			t.Errorf("%s: %v", c.new, err)
			continue
		}
		if faults := r.Check(); !slices.ContainsFunc(faults, func(f finding.Fault) bool { return f.Pointer == c.pointer && f.Code == c.code && f.Detail != "" }) {
			t.Errorf("%s: %+v, want %s at %q", c.new, faults, c.code, c.pointer)
		}
	}
}

func TestAllMistakesAtOnce(t *testing.T) {
	want := []string{"", "/programme/start", "/programme/bricklayers", "/vehicles", "/currency"}
	var got []string
	for _, f := range new(Request).Check() {
		got = append(got, f.Pointer)
	}
	if !slices.Equal(got, want) {
		t.Errorf("%q, want %q", got, want)
	}
}

func TestKindsAreTheCatalogues(t *testing.T) {
	for _, p := range product.Demo().Products {
		if !kinds[p.Kind] {
			t.Errorf("kind %s of %s may not be brought", p.Kind, p.Code)
		}
	}
}

func TestCalendar(t *testing.T) {
	p := Programme{Start: "2027-12-24", Holidays: []string{"2027-12-27", "2027-12-28", "2028-01-03"}}
	// 24 December 2027 is a Friday; 1 January 2028 a Saturday.
	c := p.calendar()
	for n, want := range map[int]string{-5: "2027-12-17", -1: "2027-12-23", 0: "2027-12-24", 1: "2027-12-29", 3: "2027-12-31", 4: "2028-01-04"} {
		if got := c.day(n).String(); got != want {
			t.Errorf("day %d is %s, want %s", n, got, want)
		}
	}
	for _, s := range []string{"", "2027-2-01", "1999-12-31", "2200-01-01", "2027-13-01", "2027-03-06T00:00:00Z"} {
		if _, err := ParseDate(s); err == nil {
			t.Errorf("%q was read as a date", s)
		}
	}
	if d, err := ParseDate("2028-02-29"); err != nil || d.String() != "2028-02-29" {
		t.Errorf("%v, %v", d, err)
	}
}

// Nothing to bring is a plan too: one that the lifts of a schedule without masonry give.
func TestNothingToBring(t *testing.T) {
	r := read(t, wing)
	for l := range r.LiftLoads {
		for k := range r.LiftLoads[l].Lines {
			r.LiftLoads[l].Lines[k].Required = 0
		}
	}
	p, faults := Make(r, r.LiftLoads, rulebook.GB())
	if faults != nil || len(p.Drops) != 0 || p.Cost != measure.Money(0) || !p.Optimal || len(p.Lifts) != 2 {
		t.Errorf("%+v, %+v", faults, p)
	}
}

func TestTooManyProducts(t *testing.T) {
	r := read(t, wing)
	line := r.LiftLoads[0].Lines[0]
	for i := range MaxProducts {
		line.Product = "P" + strconv.Itoa(i)
		r.LiftLoads[0].Lines = append(r.LiftLoads[0].Lines, line)
	}
	if faults := r.Check(); len(faults) != 1 || faults[0].Pointer != "/lift_loads" || faults[0].Code != "too_large" {
		t.Errorf("%+v", faults)
	}
}

// What a schedule's takeoff gives is held to the same limits, and what it cannot plan
// points at the schedule.
func TestLoadsOfASchedule(t *testing.T) {
	r := read(t, wing)
	loads := r.LiftLoads
	r.LiftLoads, r.Schedule = nil, new(schedule.Schedule)
	if p, faults := Make(r, loads, rulebook.GB()); faults != nil || p.Cost.String() != "225.00" {
		t.Errorf("%+v, cost %s", faults, p.Cost)
	}
	loads[1].Lines[0].PackMass = 0
	if _, faults := Make(r, loads, rulebook.GB()); len(faults) == 0 || faults[0].Pointer != "/schedule" || !strings.HasPrefix(faults[0].Detail, "in its takeoff /lifts/1/lines/0/pack_kg is missing") {
		t.Errorf("%+v", faults)
	}
}

// The defaults come from the book of the goods; loads sent bare may name one.
func TestBookOfTheGoods(t *testing.T) {
	us, none := "us", "atlantis"
	for _, c := range []struct {
		r    Request
		book string
		want string
	}{
		{Request{LiftLoads: []lift.Load{}}, "gb", ""},
		{Request{LiftLoads: []lift.Load{}, Rulebook: &us}, "us", ""},
		{Request{LiftLoads: []lift.Load{}, Rulebook: &none}, "gb", "unknown_ref"},
		{Request{Takeoff: &Goods{Rulebook: "us@2026.2"}}, "us", ""},
		{Request{Takeoff: &Goods{Rulebook: "gb"}, Rulebook: &us}, "gb", "inconsistent"},
		{Request{Schedule: &schedule.Schedule{Rulebook: "us"}}, "us", ""},
	} {
		got := ""
		for _, f := range c.r.Check() {
			if f.Pointer == "/rulebook" {
				got = f.Code
			}
		}
		if book := c.r.Book().Key; book != c.book || got != c.want {
			t.Errorf("%+v: book %s, fault %q; want %s, %q", c.r, book, got, c.book, c.want)
		}
	}
}
