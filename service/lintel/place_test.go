package lintel

import (
	"strings"
	"testing"

	"hodman/service/finding"
	"hodman/service/measure"
	"hodman/service/rulebook"
)

func TestPlacing(t *testing.T) {
	cat := ladder(t, "150")
	for _, c := range []struct {
		name        string
		clear       measure.Length
		left, right measure.Length // beside the opening
		wantLeft    measure.Length
		wantRight   measure.Length
		wantCode    string
	}{
		// 1810 + 300 = 2110 needs 2250: 440 over, 220 each end.
		{"room enough", 1810, 500, 500, 220, 220, ""},
		{"shifted to the right, 440 - 160", 1810, 160, 500, 160, 280, ""},
		{"shifted to the left, 440 - 150", 1810, 500, 150, 290, 150, ""},
		{"149 is 1 under the least", 1810, 149, 500, 220, 220, "stop lintel.no_masonry"},
		{"200 + 200 is under 440", 1810, 200, 200, 220, 220, "check lintel.no_room"},
		{"exactly, 200 + 240 = 440", 1810, 200, 240, 200, 240, ""},
	} {
		o := Opening{Opening: "W", At: "/openings/0", Clear: c.clear * measure.Millimetre, Seat: cavitySeat,
			RoomLeft: c.left * measure.Millimetre, RoomRight: c.right * measure.Millimetre}
		picks, findings := Select([]Opening{o}, cat, rulebook.GB(), nil, false)
		if picks[0].BearingLeft != c.wantLeft*measure.Millimetre || picks[0].BearingRight != c.wantRight*measure.Millimetre {
			t.Errorf("%s: bears %s and %s, want %d and %d", c.name, picks[0].BearingLeft, picks[0].BearingRight, c.wantLeft, c.wantRight)
		}
		if got := codes(findings); got != c.wantCode {
			t.Errorf("%s: %q, want %q", c.name, got, c.wantCode)
		}
	}
}

func codes(findings []finding.Finding) string {
	var all []string
	for _, f := range findings {
		all = append(all, string(f.Severity)+" "+f.Code)
	}
	return strings.Join(all, ", ")
}

// Two openings of 1810, each lintel 440 over, with a pier between them.
func TestSharedPier(t *testing.T) {
	cat := ladder(t, "150")
	const mm = measure.Millimetre
	for _, c := range []struct {
		name                string
		pier                measure.Length
		outer               measure.Length
		right, left         measure.Length // on the pier
		wantCode, wantWords string
		far                 measure.Length // right of the second, where not as left of the first
	}{
		{"440 holds 220 and 220", 440, 600, 220, 220, "", "", 0},
		{"400 is shared by half, both shifted outwards", 400, 600, 200, 200, "", "", 0},
		{"the left one needs 440 - 200 = 240 of the 400, the right one gives way", 400, 200, 240, 160, "", "", 600},
		{"and the other way round", 400, 600, 160, 240, "", "", 200},
		{"300 holds the least of both", 300, 600, 150, 150, "", "", 0},
		{"299 does not: 150 + 150 = 300", 299, 600, 150, 150, "stop lintel.pier_too_narrow", "299 mm", 0},
		{"no pier to speak of", 100, 600, 220, 220, "stop lintel.no_masonry, stop lintel.no_masonry, stop lintel.pier_too_narrow", "one lintel over both", 0},
		{"no room to shift outwards: 440 - 200 = 240 each on the pier of 400", 400, 200, 240, 240, "stop lintel.pier_too_narrow", "240 mm", 0},
	} {
		far := c.far
		if far == 0 {
			far = c.outer
		}
		a := Opening{Wall: "A", Opening: "A1", At: "/a", Clear: 1810 * mm, Seat: cavitySeat, RoomLeft: c.outer * mm, RoomRight: c.pier * mm, SharedRight: true}
		b := Opening{Wall: "A", Opening: "A2", At: "/b", Clear: 1810 * mm, Seat: cavitySeat, RoomLeft: c.pier * mm, RoomRight: far * mm, SharedLeft: true}
		picks, findings := Select([]Opening{a, b}, cat, rulebook.GB(), nil, false)
		if picks[0].BearingRight != c.right*mm || picks[1].BearingLeft != c.left*mm {
			t.Errorf("%s: the pier bears %s and %s, want %d and %d", c.name, picks[0].BearingRight, picks[1].BearingLeft, c.right, c.left)
		}
		if got := codes(findings); got != c.wantCode {
			t.Errorf("%s: %q, want %q", c.name, got, c.wantCode)
		}
		if n := len(findings); n > 0 && !strings.Contains(findings[n-1].Text+findings[n-1].Remedy, c.wantWords) {
			t.Errorf("%s: %+v does not say %q", c.name, findings[n-1], c.wantWords)
		}
	}
}

// Openings may stand in any order in the document.
func TestSharedPierBackwards(t *testing.T) {
	cat := ladder(t, "150")
	const mm = measure.Millimetre
	a := Opening{Wall: "A", Opening: "A1", Clear: 1810 * mm, Seat: cavitySeat, RoomLeft: 600 * mm, RoomRight: 400 * mm, SharedRight: true}
	b := Opening{Wall: "A", Opening: "A2", Clear: 1810 * mm, Seat: cavitySeat, RoomLeft: 400 * mm, RoomRight: 600 * mm, SharedLeft: true}
	other := b
	other.Wall = "B"
	picks, findings := Select([]Opening{b, a, other}, cat, rulebook.GB(), nil, false)
	if picks[0].BearingLeft != 200*mm || picks[1].BearingRight != 200*mm {
		t.Errorf("the pier of 400 bears %s and %s, want 200 and 200", picks[1].BearingRight, picks[0].BearingLeft)
	}
	// The one on wall B has its neighbour outside the list: 220 + 220 = 440 on 400.
	if got := codes(findings); got != "stop lintel.pier_too_narrow" {
		t.Errorf("%q", got)
	}
}

// The other opening of the pier is not in the list: it is taken to bear as much.
func TestSharedPierAlone(t *testing.T) {
	cat := ladder(t, "150")
	const mm = measure.Millimetre
	o := Opening{Opening: "A1", Clear: 1800 * mm, Seat: cavitySeat, RoomLeft: 299 * mm, RoomRight: 600 * mm, SharedLeft: true}
	_, findings := Select([]Opening{o}, cat, rulebook.GB(), nil, false)
	if got := codes(findings); got != "stop lintel.pier_too_narrow" {
		t.Errorf("%q", got)
	}
}

// Bands of 25 kg (HSE guideline, one person), 33 kg (two: 2/3 of 2 x 25) and 50 kg (our policy).
func TestHandling(t *testing.T) {
	s := &selection{lift: liftingOf(rulebook.GB())}
	for _, c := range []struct {
		mass       measure.Mass
		rule, word string
	}{
		{0, "lintel.one_person", "not known"},
		{25 * measure.Kilogram, "lintel.one_person", "one person"},
		{25*measure.Kilogram + 1, "lintel.two_persons", "that for two (33 kg)"},
		{33 * measure.Kilogram, "lintel.two_persons", "that for two (33 kg)"},
		{33*measure.Kilogram + 1, "lintel.machine", "use a machine"},
		{50 * measure.Kilogram, "lintel.machine", "use a machine"},
		{50*measure.Kilogram + 1, "lintel.machine", "by machine only"},
	} {
		text, rule := s.handling(c.mass)
		if rule != c.rule || !strings.Contains(text, c.word) {
			t.Errorf("%s kg: %s, %q; want %s, %q", c.mass, rule, text, c.rule, c.word)
		}
	}
}
