package coursing

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"hodman/service/measure"
	"hodman/service/rulebook"
)

// Courses of 75 and of 200 up to 2400 come level each 600: 200 is 25 from 225, 400 is 25
// from 375. 600 is over the 450 between ties.
func TestBedsPart(t *testing.T) {
	a := answer(t, `{"rulebook":"gb","unit_height_mm":65,"second_leaf":{"unit_height_mm":190},"levels":[{"name":"head","level_mm":2400,"kind":"head"}]}`)
	want := []TieBed{}
	for _, at := range []string{"600", "1200", "1800"} {
		want = append(want, TieBed{mm(t, at), mm(t, at)})
	}
	if diff := cmp.Diff(want, a.TieBeds); diff != "" {
		t.Error(diff)
	}
	if len(a.Findings) != 1 || a.Findings[0].Code != "tie.beds_part" || a.Findings[0].At != "/second_leaf" ||
		!strings.Contains(a.Findings[0].Text, "0 to 600 mm, 600 to 1200 mm, 1200 to 1800 mm, 1800 to 2400 mm.") {
		t.Errorf("%+v", a.Findings)
	}
}

// A tie takes a step of 10 and no more: bricks at 440 and blocks at 450 are tied there, at 439.999 not.
func TestTieTakesAStep(t *testing.T) {
	for at, want := range map[string]int{"440": 1, "439.999": 0} {
		c := &courser{book: rulebook.GB()}
		got := c.tieBeds(0, []measure.Length{mm(t, at), mm(t, "600")}, []measure.Length{mm(t, "450"), mm(t, "700")})
		if len(got) != want || len(c.findings) != 1-want {
			t.Errorf("%s: %v, %+v", at, got, c.findings)
		}
	}
}

// Rows lie in beds of both leaves, and a wider spacing than 450 is told, only then.
func TestTieBeds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		beds := func(name string) []measure.Length {
			var out []measure.Length
			at := measure.Length(0)
			for _, mm := range rapid.SliceOfN(rapid.IntRange(30, 300), 1, 30).Draw(t, name) {
				at += measure.Length(mm) * measure.Millimetre
				out = append(out, at)
			}
			return out
		}
		first, second := beds("first"), beds("second")
		c := &courser{book: rulebook.GB()}
		last, wide := measure.Length(0), false
		for _, b := range c.tieBeds(0, first, second) {
			if b.First <= last || nearest(first, b.First) != b.First || nearest(second, b.Second) != b.Second || max(b.First-b.Second, b.Second-b.First) > 10*measure.Millimetre {
				t.Fatalf("%v over %s", b, last)
			}
			wide = wide || b.First-last > 450*measure.Millimetre
			last = b.First
		}
		wide = wide || min(first[len(first)-1], second[len(second)-1])-last > 450*measure.Millimetre
		if wide != (len(c.findings) == 1) {
			t.Fatalf("wide %v, told %+v", wide, c.findings)
		}
	})
}

// Ways to a plate at 5110 off 0: 5025 of masonry is 22 x 225 = 4950 and 75 over. 6190 of wall is
// (6190 + 10) / 450 = 13.8, 14 blocks a course: 22 x 14 = 308. 22 is 13.4 of bed, 23 is 3.5: no re-gauging.
func TestMakeUps(t *testing.T) {
	a := answer(t, `{"rulebook":"gb","unit_height_mm":215,"unit_length_mm":440,"run_mm":6190,"levels":[{"name":"P","level_mm":5110,"kind":"plate"}]}`)
	type way struct {
		Kind                string
		Courses, Coursing   int
		Cut                 string
		Whole, CutUnits, CU int
	}
	var got []way
	for _, m := range a.Levels[0].MakeUps {
		got = append(got, way{m.Kind, m.Courses, m.CoursingUnits, m.Cut.String(), m.Counts.Whole, m.Counts.Cut, m.Counts.CoursingUnits})
	}
	want := []way{{"cut_course", 22, 0, "65", 308, 14, 0}, {"coursing_units", 22, 1, "0", 308, 0, 14}}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
	// 2355: 2270 of masonry, 20 over: cut to 10; re-gauged as worked in TestSliver. No run, no counts.
	a = answer(t, `{"rulebook":"gb","unit_height_mm":215,"levels":[{"name":"P","level_mm":2355,"kind":"plate"}]}`)
	kinds := ""
	for _, m := range a.Levels[0].MakeUps {
		kinds += m.Kind + " "
		if m.Counts != nil {
			t.Errorf("%s is counted", m.Kind)
		}
	}
	if kinds != "cut_course regauged_coursing_units regauged " {
		t.Errorf("ways: %s", kinds)
	}
}
