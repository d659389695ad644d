package coursing

import (
	"strconv"

	"hodman/service/measure"
)

// MakeUp is a way to make up a height. Units are counted where the run of the wall and
// the unit's length are given; a coursing unit is taken to be as long as the unit.
// Bed is that of the coursing units, or of the courses where there are none, rounded down
// to a micrometre.
type MakeUp struct {
	Kind          string         `json:"kind"`    // "to_gauge", "cut_course", "coursing_units", "regauged_coursing_units", "regauged"
	Courses       int            `json:"courses"` // of the leaf's own unit, whole
	Cut           measure.Length `json:"cut_course_mm,omitzero"`
	CoursingUnits int            `json:"coursing_unit_courses,omitzero"`
	Bed           measure.Length `json:"bed_mm"`
	Counts        *Counts        `json:"counts,omitzero"`
	Text          string         `json:"text"`
}

// Counts are the units of a way to make up a height, over the run of the wall with no
// openings, breakage apart. A cut unit takes one whole one.
type Counts struct {
	Whole         int `json:"whole"`
	Cut           int `json:"cut"`
	CoursingUnits int `json:"coursing_units"`
}

// low is the coursing unit that a leaf may be made up with: its height, nought where there is
// none, the bed it is laid on, and how many there are to a course.
type low struct {
	height, bed measure.Length
	run         int
}

// lowOf is the rulebook's coursing unit, taken to be as long as the leaf's own.
func (c *courser) lowOf(run int) low {
	return low{c.book.Length("coursing.unit_height"), c.book.Length("joint.bed"), run}
}

// makeUps are the ways to come to a height: whole courses at gauge where they do; else a
// course cut in height, coursing units, and all courses re-gauged, those of them that
// can be. Each is counted for run units to a course; none are where run is nought.
func (c *courser) makeUps(height, unit measure.Length, l *Leaf, run int, with low) []MakeUp {
	var out []MakeUp
	bed := l.Gauge - unit
	text := strconv.Itoa(l.Courses) + " courses of " + l.Gauge.String() + " mm"
	switch {
	case l.Works:
		out = append(out, MakeUp{Kind: "to_gauge", Courses: l.Courses, Bed: bed, Text: text})
	case l.Closing > 0:
		out = append(out, MakeUp{Kind: "cut_course", Courses: l.Courses, Cut: l.Closing, Bed: bed, Text: text + " and one of units cut to " + l.Closing.String() + " mm high"})
	}
	if !l.Works {
		out = append(out, c.alternatives(height, unit, l, with)...)
	}
	for i := range out {
		m := &out[i]
		if run == 0 {
			break
		}
		m.Counts = &Counts{Whole: m.Courses * run, CoursingUnits: m.CoursingUnits * with.run}
		if m.Cut > 0 {
			m.Counts.Cut = run
		}
	}
	return out
}

// alternatives are whole courses only: coursing units at their own gauge or near it on
// top of as many of the leaf's courses as can be, and all courses re-gauged.
func (c *courser) alternatives(height, unit measure.Length, l *Leaf, with low) []MakeUp {
	out := []MakeUp{}
	if m, ok := c.stack(height, unit, l, with); ok {
		out = append(out, m)
	}
	if len(l.Offers) > 0 {
		o := l.Offers[0]
		out = append(out, MakeUp{Kind: "regauged", Courses: o.Courses, Bed: o.Bed,
			Text: strconv.Itoa(o.Courses) + " courses re-gauged to " + o.Gauge.String() + " mm, on beds of " + o.Bed.String() + " mm"})
	}
	return out
}

// stack puts the fewest coursing units on top that come to whole courses, at their
// own gauge where any number does, else on beds within the range. Units not higher
// than a coursing unit have none.
func (c *courser) stack(height, unit measure.Length, l *Leaf, with low) (MakeUp, bool) {
	low := with.height
	if low == 0 || unit <= low {
		return MakeUp{}, false
	}
	gauge := low + with.bed
	regauged, found := MakeUp{}, false
	for own := l.Courses; own >= 0; own-- {
		rest := height - measure.Length(own)*l.Gauge
		if rest%gauge == 0 {
			n := int(rest / gauge)
			return madeUp("coursing_units", own, n, low, gauge, l), true
		}
		if found {
			continue
		}
		if offers := Suit(rest, low, gauge-low, c.least, c.most); len(offers) > 0 {
			regauged, found = madeUp("regauged_coursing_units", own, offers[0].Courses, low, offers[0].Gauge, l), true
		}
	}
	return regauged, found
}

// madeUp tells n courses of coursing units, low high each, on own courses of the leaf.
func madeUp(kind string, own, n int, low, gauge measure.Length, l *Leaf) MakeUp {
	return MakeUp{Kind: kind, Courses: own, CoursingUnits: n, Bed: gauge - low,
		Text: strconv.Itoa(own) + " courses of " + l.Gauge.String() + " mm and " + strconv.Itoa(n) + " of coursing units of " + low.String() +
			" mm at " + gauge.String() + " mm, on beds of " + (gauge - low).String() + " mm"}
}

// spoken tells the alternatives in a remedy.
func spoken(l *Leaf) string {
	text := ""
	for _, m := range l.Alternatives {
		if m.Kind != "regauged" { // told already
			text += " Or " + m.Text + "."
		}
	}
	return text
}
