package coursing_test

import (
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"hodman/service/coursing"
	"hodman/service/measure"
	"hodman/service/product"
	"hodman/service/rulebook"
)

// A block wall of 2400 mm over a run of 4500: 10 courses of 225 leave 150, one of 140 cut, or
// two of coursing units of 65. By hand: (4500 + 10) / 450 is 10.02, up to 11 blocks a course,
// and (4500 + 10) / 225 = 20.04, up to 21 coursing units. 2400 in 11 courses is 218.18 mm each,
// a bed of 3.18, in 10 courses 25: neither is laid.
func TestMadeUp(t *testing.T) {
	w := coursing.Wall{Height: 2400 * measure.Millimetre, Unit: 215 * measure.Millimetre, Bed: 10 * measure.Millimetre, Ranks: 1,
		Length: 440 * measure.Millimetre, Run: 4500 * measure.Millimetre, Perpend: 10 * measure.Millimetre, Low: product.Demo().Find("CRS-100-D")}
	l := coursing.MadeUp(&w, rulebook.GB())
	want := []coursing.MakeUp{
		{Kind: "cut_course", Courses: 10, Cut: 140 * measure.Millimetre, Bed: 10 * measure.Millimetre, Counts: &coursing.Counts{Whole: 110, Cut: 11},
			Text: "10 courses of 225 mm and one of units cut to 140 mm high"},
		{Kind: "coursing_units", Courses: 10, CoursingUnits: 2, Bed: 10 * measure.Millimetre, Counts: &coursing.Counts{Whole: 110, CoursingUnits: 42},
			Text: "10 courses of 225 mm and 2 of coursing units of 65 mm at 75 mm, on beds of 10 mm"},
	}
	if diff := cmp.Diff(want, l.MakeUps); diff != "" {
		t.Error(diff)
	}
	w.Ranks, w.Low = 2, nil
	if l := coursing.MadeUp(&w, rulebook.GB()); len(l.MakeUps) != 1 || l.MakeUps[0].Counts.Whole != 220 {
		t.Errorf("a leaf of two ranks without coursing units: %+v", l.MakeUps)
	}
	w.Height = 2250 * measure.Millimetre
	if l := coursing.MadeUp(&w, rulebook.GB()); !l.Works || len(l.MakeUps) > 0 {
		t.Errorf("ten courses: %+v", l)
	}
}

// A wall and a plate on it are made up alike, where the coursing unit is the rulebook's.
func TestMadeUpIsTheAnswer(t *testing.T) {
	book := rulebook.GB()
	rapid.Check(t, func(t *rapid.T) {
		mm := func(name string, least, most int) measure.Length {
			return measure.Length(rapid.IntRange(least, most).Draw(t, name)) * measure.Millimetre
		}
		height, unit, run, length := mm("height", 300, 6000), mm("unit", 50, 300), mm("run", 1, 9000), mm("length", 200, 600)
		low := &product.Product{Kind: product.CoursingUnit, Length: length, Height: book.Length("coursing.unit_height")}
		got := coursing.MadeUp(&coursing.Wall{Height: height, Unit: unit, Bed: book.Length("joint.bed"), Length: length, Run: run,
			Perpend: book.Length("joint.perpend"), Ranks: 1, Low: low}, book)
		level := height + book.Length("plate.depth") + book.Length("plate.bed")
		r := coursing.Request{Rulebook: "gb", UnitHeight: &unit, Run: &run, UnitLength: &length, Levels: []coursing.Level{{Name: "p", Level: &level, Kind: "plate"}}}
		if faults := r.Check(); len(faults) > 0 {
			t.Fatal(faults)
		}
		want := coursing.Answer(&r, book).Levels[0]
		if got.Closing != want.Closing || got.Growth != want.Growth || got.Sliver != want.Sliver || got.Courses != want.Courses {
			t.Fatalf("%+v, and of a plate %+v", got, want.Leaf)
		}
		if diff := cmp.Diff(want.MakeUps, got.MakeUps); got.Closing > 0 && diff != "" {
			t.Fatal(diff)
		}
	})
}

// Blocks of 188 on 10 beside bricks of 75 a course. By hand, the nearest brick bed to each
// block bed: 198 is 27 from 225, 396 is 21 from 375, 594 is 6 from 600, 792 is 33 from 825, 990 is 15 from 975,
// 1188 is 12 from 1200. So the one row within 1188 is at 594, over 450 from the base.
func TestBedsPart(t *testing.T) {
	wall := func(unit measure.Length) *coursing.Wall {
		return &coursing.Wall{Height: 1200 * measure.Millimetre, Unit: unit * measure.Millimetre, Bed: 10 * measure.Millimetre}
	}
	f := coursing.BedsPart(wall(65), wall(188), 0, "/walls/3", rulebook.GB())
	if len(f) != 1 || f[0].Code != "tie.beds_part" || f[0].At != "/walls/3" {
		t.Fatalf("%+v", f)
	}
	for _, level := range []measure.Length{215, 65, 440} {
		if f := coursing.BedsPart(wall(65), wall(level), 0, "", rulebook.GB()); len(f) > 0 {
			t.Errorf("a block of %d: %+v", level, f)
		}
	}
}
