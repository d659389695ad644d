package coursing

import (
	"fmt"
	"strings"
	"testing"

	"github.com/go-json-experiment/json"
	"github.com/google/go-cmp/cmp"

	"hodman/service/measure"
	"hodman/service/rulebook"
)

func request(t testing.TB, doc string) *Request {
	t.Helper()
	r := new(Request)
	if err := json.Unmarshal([]byte(doc), r, json.RejectUnknownMembers(true)); err != nil {
		t.Fatal(err)
	}
	return r
}

func answer(t testing.TB, doc string) Coursing {
	t.Helper()
	r := request(t, doc)
	if faults := r.Check(); len(faults) > 0 {
		t.Fatal(faults)
	}
	return Answer(r, rulebook.GB())
}

// A brick outer leaf and a block inner leaf off 150: sill, head and plate.
//
//	sill 1050: 900 over the base = 12 x 75 = 4 x 225: both work
//	head 2100: 1950 = 26 x 75; 8 x 225 = 1800, 150 over, 140 high: blocks are cut; both work at 1950 and 2175
//	ties: beds of the blocks are 375 600 825 1050 1275 1500 1725 1950 2100 2325 2550, all of the bricks too; 450 up
//	from 1950 is 2400, so 2325, and the top is 225 over that
//	plate 2635: 2635 - 75 - 10 = 2550, less 150 = 2400 = 32 x 75; 10 x 225 and 150 over
func TestTwoLeaves(t *testing.T) {
	c := answer(t, `{"rulebook":"gb","unit_height_mm":65,"base_mm":150,"second_leaf":{"unit_height_mm":215},
		"levels":[{"name":"sill","level_mm":1050,"kind":"sill"},{"name":"head","level_mm":2100,"kind":"head"},{"name":"plate","level_mm":2635,"kind":"plate"}]}`)
	var got []string
	for _, m := range c.Levels {
		got = append(got, fmt.Sprintf("%s %s: %d courses, closing %s; second %d, closing %s; both %s %s", m.Name, m.Height, m.Courses, m.Closing, m.SecondLeaf.Courses, m.SecondLeaf.Closing, m.BothBelow, m.BothAbove))
	}
	for _, b := range c.TieBeds {
		got = append(got, fmt.Sprintf("ties %s %s", b.First, b.Second))
	}
	for _, f := range c.Findings {
		got = append(got, string(f.Severity)+" "+f.Code+" "+f.At)
	}
	want := []string{
		"sill 900: 12 courses, closing 0; second 4, closing 0; both 1050 1050",
		"head 1950: 26 courses, closing 0; second 8, closing 140; both 1950 2175",
		"plate 2400: 32 courses, closing 0; second 10, closing 140; both 2485 2710",
		"ties 600 600", "ties 1050 1050", "ties 1500 1500", "ties 1950 1950", "ties 2325 2325",
		"check course.cut /levels/1/level_mm",
		"note course.closing /levels/2/level_mm",
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
}

// A plate over blocks whose closing course is a sliver, under 107.5 of 215.
func TestSliver(t *testing.T) {
	for _, c := range []struct {
		name, level string
		closing     string
		want        []string
	}{
		// 2420 - 85 = 2335: 10 x 225 = 2250, 85 over, 75 high. 85 by coursing units: 1 is bed 20; with
		// 9 blocks 310: 4 is 77.5, bed 12.5; with 8, 535: 7 is 76.429, bed 11.428. Blocks: 10 is 233.5, bed 18.5; none.
		{"regauged stack", "2420", "75", []string{"regauged_coursing_units 8+7 bed 11.428"}},
		// 2410 - 85 = 2325: 75 over, 65 high: one coursing unit at gauge.
		{"one coursing unit", "2410", "65", []string{"coursing_units 10+1 bed 10"}},
		// 2355 - 85 = 2270: 20 over, 10 high. 9 blocks leave 245: 3 is 81.67; 8 leave 470: 6 is 78.33; 7 leave 695: 9 is 77.22;
		// 6 leave 920: 12 is 76.667, bed 11.666. Blocks: 10 is 227, bed 12.
		{"re-gauged blocks", "2355", "10", []string{"regauged_coursing_units 6+12 bed 11.666", "regauged 10+0 bed 12"}},
	} {
		doc := `{"rulebook":"gb","unit_height_mm":215,"plate":{"depth_mm":75,"bed_mm":10},"levels":[{"name":"plate","level_mm":` + c.level + `,"kind":"plate"}]}`
		a := answer(t, doc)
		m := a.Levels[0]
		if !m.Sliver || m.Closing != mm(t, c.closing) {
			t.Errorf("%s: closing %s, sliver %v; want %s", c.name, m.Closing, m.Sliver, c.closing)
		}
		var got []string
		for _, alt := range m.Alternatives {
			got = append(got, fmt.Sprintf("%s %d+%d bed %s", alt.Kind, alt.Courses, alt.CoursingUnits, alt.Bed))
		}
		if diff := cmp.Diff(c.want, got); diff != "" {
			t.Errorf("%s: %s", c.name, diff)
		}
		if len(a.Findings) != 1 || a.Findings[0].Code != "course.sliver" {
			t.Errorf("%s: %+v", c.name, a.Findings)
		}
	}
}

func TestFindings(t *testing.T) {
	for _, c := range []struct{ level, kind, want string }{
		{"2400", "other", ""},
		{"2405", "floor", "note course.beds_grow"},    // 5 / 32
		{"80", "other", "check course.bed_too_thick"}, // one bed of 10 + 5 = 15
		{"10", "other", "check course.no_course"},
		{"2430", "head", "check course.cut"},       // 20 high
		{"2430", "plate", "check course.sliver"},   // 2430 - 85 = 2345: 31 x 75 = 2325, 20 over, 10 high, under 32.5
		{"2450", "other", "note course.closing"},   // 50 over, 40 high, over 32.5
		{"2442.5", "other", "note course.closing"}, // 42.5 over: 32.5 is half exactly
		{"2442", "other", "check course.sliver"},
		{"0", "sill", ""},
	} {
		a := answer(t, `{"rulebook":"gb","unit_height_mm":65,"levels":[{"name":"L","level_mm":`+c.level+`,"kind":"`+c.kind+`"}]}`)
		got := ""
		for _, f := range a.Findings {
			got += string(f.Severity) + " " + f.Code
			if f.Remedy == "" {
				t.Errorf("%s %s: no remedy", c.level, c.kind)
			}
		}
		if got != c.want {
			t.Errorf("%s %s: %q, want %q", c.level, c.kind, got, c.want)
		}
	}
}

func TestCheckFindsAll(t *testing.T) {
	r := request(t, `{"rulebook":"fr","bed_joint_mm":2,"bed_least_mm":12,"bed_most_mm":8,"plate":{"depth_mm":75},"second_leaf":{"bed_joint_mm":31},"levels":[
		{"name":"","level_mm":1,"kind":"sill"},{"name":"A","kind":"roof"},{"name":"A","level_mm":-1,"kind":"head"},{"name":"B","level_mm":100000.001,"kind":""}]}`)
	var got []string
	for _, f := range r.Check() {
		got = append(got, f.Pointer+" "+f.Code)
	}
	want := strings.Split(strings.TrimSpace(`
/rulebook unknown_ref
/unit_height_mm required
/bed_joint_mm range
/bed_least_mm inconsistent
/second_leaf/unit_height_mm required
/second_leaf/bed_joint_mm range
/levels/0/name required
/levels/1/kind choice
/levels/1/level_mm required
/levels/2/name duplicate
/levels/2/level_mm outside
/levels/3/kind required
/levels/3/level_mm range
/plate inconsistent`), "\n")
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
	// A plate's top needs the plate's 85 mm above the base.
	for level, faults := range map[string]int{"84.999": 1, "85": 0} {
		r := request(t, `{"rulebook":"gb","unit_height_mm":65,"levels":[{"name":"P","level_mm":`+level+`,"kind":"plate"}]}`)
		if got := r.Check(); len(got) != faults {
			t.Errorf("plate at %s: %v", level, got)
		}
	}
	if got := (&Request{}).Check(); len(got) != 3 {
		t.Errorf("an empty request: %v", got)
	}
}

// The document as it goes out: the first leaf stands in the level itself.
func TestJSON(t *testing.T) {
	out, err := json.Marshal(answer(t, `{"rulebook":"gb","unit_height_mm":65,"levels":[{"name":"P","level_mm":2485,"kind":"plate"}]}`).Levels[0])
	if err != nil {
		t.Fatal(err)
	}
	want := `{"name":"P","kind":"plate","level_mm":2485,"height_mm":2400,"gauge_mm":75,"courses":32,"remainder_mm":0,"closing_course_mm":0,"bed_growth_mm":0,` +
		`"works_to_gauge":true,"sliver":false,"below_mm":2485,"above_mm":2485,"offers":[{"courses":32,"bed_mm":10,"gauge_mm":75}],"alternatives":[],"make_ups":[{"kind":"to_gauge","courses":32,"bed_mm":10,"text":"32 courses of 75 mm"}],` +
		`"plate":{"depth_mm":75,"bed_mm":10,"sum":"2485 - 75 plate - 10 bed = 2400 mm to the top of the masonry"},` +
		`"rules":["joint.bed","joint.bed_least","joint.bed_most","plate.depth","plate.bed"]}`
	if diff := cmp.Diff(want, string(out)); diff != "" {
		t.Error(diff)
	}
}

func BenchmarkAnswer(b *testing.B) {
	r := request(b, `{"rulebook":"gb","unit_height_mm":65,"second_leaf":{"unit_height_mm":215},"levels":[
		{"name":"s","level_mm":900,"kind":"sill"},{"name":"h","level_mm":2100,"kind":"head"},{"name":"f","level_mm":2430,"kind":"floor"},{"name":"p","level_mm":5185,"kind":"plate"}]}`)
	for b.Loop() {
		Answer(r, rulebook.GB())
	}
}

// BIA Technical Note 10B Table 3 (Masonry Magazine, April 1994): heights of courses in
// inches, at 2C = 4 in, 3C = 8 in, 5C = 16 in and 1C = 4 in. A modular brick is 2 1/4 in
// high on a bed of 8/3 - 9/4 = 5/12 in, an engineer brick 2 3/4 in on 16/5 - 11/4 = 9/20 in,
// both inside the rulebook's 1/4 to 1/2 in; the other two stand on 3/8 in.
func TestAmericanCoursing(t *testing.T) {
	const in = measure.Inch
	for _, c := range []struct {
		name    string
		unit    measure.Length
		courses int
		inches  measure.Length
		bed     string
	}{
		{"2C", 13 * in / 8, 3, 6, "9.525"}, {"2C", 13 * in / 8, 24, 48, "9.525"}, {"2C", 13 * in / 8, 100, 200, "9.525"},
		{"3C", 9 * in / 4, 3, 8, "10.583"}, {"3C", 9 * in / 4, 6, 16, "10.583"}, {"3C", 9 * in / 4, 24, 64, "10.583"},
		{"3C", 9 * in / 4, 30, 80, "10.583"}, {"3C", 9 * in / 4, 45, 120, "10.583"}, {"3C", 9 * in / 4, 48, 128, "10.583"},
		{"5C", 11 * in / 4, 5, 16, "11.43"}, {"5C", 11 * in / 4, 10, 32, "11.43"}, {"5C", 11 * in / 4, 30, 96, "11.43"},
		{"1C", 29 * in / 8, 3, 12, "9.525"}, {"1C", 29 * in / 8, 50, 200, "9.525"},
	} {
		height := c.inches * in
		r := &Request{Rulebook: "us", UnitHeight: &c.unit, Levels: []Level{{Name: "L", Level: &height, Kind: "head"}}}
		if faults := r.Check(); len(faults) > 0 {
			t.Fatal(faults)
		}
		found := false
		for _, o := range Answer(r, rulebook.US()).Levels[0].Offers {
			found = found || o.Courses == c.courses && o.Bed.String() == c.bed
		}
		if !found {
			t.Errorf("%s: %d courses on beds of %s are not offered for %d in", c.name, c.courses, c.bed, c.inches)
		}
	}
}

// A half-high block of 3 5/8 in makes up 4 in over blocks of 7 5/8 in: 8 x 12 + 4 = 100 in.
func TestAmericanMakeUp(t *testing.T) {
	unit, height := 61*measure.Inch/8, 100*measure.Inch
	r := &Request{Rulebook: "us", UnitHeight: &unit, Levels: []Level{{Name: "L", Level: &height, Kind: "head"}}}
	l := Answer(r, rulebook.US()).Levels[0].Leaf
	// 100 in less 96 leaves 4 in, of which 3 5/8 in is block: under half of 7 5/8 in, 3 13/16.
	if !l.Sliver || l.Closing != 29*measure.Inch/8 || len(l.Alternatives) == 0 {
		t.Fatalf("%+v", l)
	}
	if m := l.Alternatives[0]; m.Kind != "coursing_units" || m.Courses != 12 || m.CoursingUnits != 1 || m.Bed != 3*measure.Inch/8 {
		t.Errorf("%+v", m)
	}
}
