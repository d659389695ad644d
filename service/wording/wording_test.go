package wording

import (
	"strings"
	"testing"

	"hodman/service/measure"
)

// TestSay: figures are printed as their String prints them.
func TestSay(t *testing.T) {
	var w Writer
	got := w.Say("wall ", "A", ": ", 1012500*measure.Micrometre, " mm, ", 3, " x ", measure.Quantity(2500), " m, ",
		measure.Mass(2150), " kg, ", measure.Ratio(50_000), ", ", int64(-7))
	if want := "wall A: 1012.5 mm, 3 x 2.5 m, 2.15 kg, 0.05, -7"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	if got := w.Say(); got != "" {
		t.Errorf("nothing said: %q", got)
	}
}

// TestSentencesStay: what was said stays as it was while more is said, over several
// blocks and with one sentence longer than any.
func TestSentencesStay(t *testing.T) {
	var w Writer
	long := strings.Repeat("brick ", mostBlock)
	var said []string
	for n := range 5000 {
		w.Add("course ", n)
		if n == 2500 {
			w.Add(" ", long)
		}
		said = append(said, w.End())
	}
	for n, got := range said {
		want := "course " + measure.Each(n).String()
		if n == 2500 {
			want += " " + long
		}
		if got != want {
			t.Fatalf("sentence %d: %.40q, want %.40q", n, got, want)
		}
	}
}

// TestFewAllocations is what the package is for: figures cost none, words a block now and then.
func TestFewAllocations(t *testing.T) {
	var w Writer
	got := testing.AllocsPerRun(10_000, func() {
		w.Say("run ", 4500*measure.Millimetre, " / ", 450*measure.Millimetre, ", up to ", 10)
	})
	if got > 0 {
		t.Errorf("%v allocations a sentence", got)
	}
}

func TestUnknownPart(t *testing.T) {
	defer func() {
		if recover() == nil {
			t.Error("a float was put into words")
		}
	}()
	new(Writer).Say(1.5)
}
