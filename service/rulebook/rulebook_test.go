package rulebook_test

import (
	"testing"

	"hodman/service/measure"
	"hodman/service/rulebook"
)

// units are what a value may be in: what [rulebook.Book] and its readers convert.
var units = map[string]bool{
	"mm": true, "ratio": true, "count": true, "parts": true, "kg": true, "kg_m3": true, "kg_kn": true,
	"per_m2": true, "kn_m2": true, "per_day": true, "days": true,
}

func TestEveryRuleSaysWhatItIsAndWhereItComesFrom(t *testing.T) {
	book := rulebook.GB()
	if len(book.Rules) == 0 || book.Title == "" {
		t.Fatalf("book %s: %d rules, title %q", book.ID(), len(book.Rules), book.Title)
	}
	for _, r := range book.Rules {
		if r.Text == "" || r.Source == "" || !units[r.Unit] {
			t.Errorf("%s: text %q, source %q, unit %q", r.ID, r.Text, r.Source, r.Unit)
		}
		switch r.Basis {
		case rulebook.Published, rulebook.Practice, rulebook.FromMemory:
		default:
			t.Errorf("%s: basis %q", r.ID, r.Basis)
		}
		if r.Value <= 0 {
			t.Errorf("%s: value %s", r.ID, r.Value)
		}
		if whole := r.Value / measure.One * measure.One; (r.Unit == "count" || r.Unit == "mm") && whole != r.Value {
			t.Errorf("%s: %s is not a whole %s", r.ID, r.Value, r.Unit)
		}
	}
}

// One figure of each kind of value; the source stands beside it where it is published.
func TestFigures(t *testing.T) {
	book := rulebook.GB()
	for id, want := range map[string]measure.Length{
		"lintel.bearing": 150 * measure.Millimetre, // NHBC 2020 6.1.12 Table 5
		"tie.vertical":   450 * measure.Millimetre, // NHBC 2020 6.1.18 Table 10
		"lift.height":    18 * 75 * measure.Millimetre,
	} {
		if got := book.Length(id); got != want {
			t.Errorf("%s = %s, want %s", id, got, want)
		}
	}
	if got := book.Ratio("mortar.dry_to_wet"); got != 1_330_000 {
		t.Errorf("mortar.dry_to_wet = %s", got)
	}
	// 14 m2 a day x 800/81 blocks a square metre = 138.27, down to a whole block.
	if got := book.Count("output.block"); got != 14*800/81 {
		t.Errorf("output.block = %d", got)
	}
}

func TestFind(t *testing.T) {
	for key, found := range map[string]bool{"gb": true, "gb@2026.1": true, "gb@1": false, "": false, "us": false} {
		if got := rulebook.Find(key) != nil; got != found {
			t.Errorf("Find(%q) found %v", key, got)
		}
	}
}
