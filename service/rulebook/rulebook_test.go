package rulebook_test

import (
	"slices"
	"strings"
	"testing"

	"hodman/service/measure"
	"hodman/service/rulebook"
)

// units are what a value may be in: what [rulebook.Book] and its readers convert.
var units = map[string]bool{
	"mm": true, "ratio": true, "count": true, "parts": true, "kg": true, "kg_m3": true, "kg_kn": true,
	"per_m2": true, "kn_m2": true, "per_day": true, "days": true, "ml_kg": true,
}

func TestEveryRuleSaysWhatItIsAndWhereItComesFrom(t *testing.T) {
	for _, book := range rulebook.Books() {
		t.Run(book.Key, func(t *testing.T) { sourced(t, book) })
	}
}

func sourced(t *testing.T, book *rulebook.Book) {
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
		// A soldier course may end at the opening; everything else is over nought.
		if r.Value < 0 || r.Value == 0 && r.ID != "soldier.past" {
			t.Errorf("%s: value %s", r.ID, r.Value)
		}
		if r.Unit == "count" && r.Value%measure.One != 0 || r.Unit == "mm" && r.Value%(measure.One/1000) != 0 {
			t.Errorf("%s: %s %s is not whole, or not whole micrometres", r.ID, r.Value, r.Unit)
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

// American figures are in inches and stand exactly: 3/8 in = 9525 micrometres.
func TestAmericanFigures(t *testing.T) {
	book := rulebook.US()
	for id, want := range map[string]measure.Length{
		"joint.bed":        3 * measure.Inch / 8, // NAVEDTRA 14045: nominal less 3/8 in
		"joint.bed_least":  measure.Inch / 4,     // from memory
		"joint.bed_most":   measure.Inch / 2,     // from memory
		"lintel.bearing":   4 * measure.Inch,     // IRC R703.8.3, from memory
		"tie.jamb_spacing": 36 * measure.Inch,    // IRC R703.8.4.1.2, from memory
		"weep.spacing":     33 * measure.Inch,    // IRC R703.8.6
		"lift.height":      48 * measure.Inch,    // US Army manual, 4 to 5 ft
	} {
		if got := book.Length(id); got != want {
			t.Errorf("%s = %s, want %s", id, got, want)
		}
	}
	// IRC 2018 R703.8.4.1, one to 2.67 sq ft: 1 / (2.67 x 0.3048 x 0.3048) = 4.0314271
	if got := book.Ratio("tie.density"); got != 4_031_427 {
		t.Errorf("tie.density = %s", got)
	}
}

// Engines ask any book for any rule: all books have the same ones but for the parts of
// their own mortars.
func TestBooksHaveTheSameRules(t *testing.T) {
	for _, book := range rulebook.Books() {
		mixes := make(map[string]bool)
		// A mix with plasticiser instead of lime is one that a book may be without.
		aired := func(id string) bool { return strings.HasSuffix(id, ".aired_sand") }
		for _, m := range book.Mortars {
			for _, part := range []string{".lime", ".sand"} {
				mixes["mortar."+strings.ToLower(m)+part] = true
			}
		}
		if !slices.Contains(book.Mortars, book.Mortar) {
			t.Errorf("%s: its own mortar %q is none of %v", book.Key, book.Mortar, book.Mortars)
		}
		for id := range mixes {
			if book.Rule(id) == nil {
				t.Errorf("%s has no rule %s", book.Key, id)
			}
		}
		for _, other := range rulebook.Books() {
			for _, r := range book.Rules {
				if !mixes[r.ID] && !aired(r.ID) && (other.Rule(r.ID) == nil || other.Rule(r.ID).Unit != r.Unit) {
					t.Errorf("%s has no rule %s in %s, as %s has", other.Key, r.ID, r.Unit, book.Key)
				}
			}
		}
	}
}

func TestFind(t *testing.T) {
	for key, found := range map[string]bool{"gb": true, "gb@2026.2": true, "gb@1": false, "": false, "us": true, "us@2026.2": true, "us@1": false, "U": false} {
		if got := rulebook.Find(key) != nil; got != found {
			t.Errorf("Find(%q) found %v", key, got)
		}
	}
}
