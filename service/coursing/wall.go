package coursing

import (
	"hodman/service/finding"
	"hodman/service/measure"
	"hodman/service/product"
	"hodman/service/rulebook"
)

// Wall is one leaf of a wall with a level top, to be made up from its base.
type Wall struct {
	Height, Unit, Bed measure.Length
	// Length is the unit's and Run the leaf's, to count the ways to make the height up.
	Length, Run, Perpend measure.Length
	Ranks                int // units across the leaf, at least 1
	// Low is the coursing unit sold for the leaf; nil: there is none.
	Low *product.Product
}

// MadeUp is how a leaf comes to its height, and where that takes a closing course all
// the ways that it could: what [Answer] says of the plate of such a wall. Sizes are over
// nought, as schedule.Check has found.
func MadeUp(w *Wall, book *rulebook.Book) Leaf {
	c := bookCourser(book)
	l := c.leaf(w.Height, w.Unit, w.Bed, 0)
	if l.Closing == 0 {
		return l
	}
	with := low{}
	if w.Low != nil {
		with = low{w.Low.Height, w.Bed, w.Ranks * units(w.Run, w.Low.Length, w.Perpend)}
	}
	l.MakeUps = c.makeUps(w.Height, w.Unit, &l, w.Ranks*units(w.Run, w.Length, w.Perpend), with)
	return l
}

// BedsPart says where two leaves built off one base have no beds level enough for a row of
// ties, as [Answer] does of levels set out. Each leaf is laid at its own gauge, and
// its top is a bed too. At is the place that the finding names.
func BedsPart(first, second *Wall, base measure.Length, at string, book *rulebook.Book) []finding.Finding {
	low, high := first.Unit+first.Bed, second.Unit+second.Bed
	if low > high {
		low, high = high, low
	}
	if high%low == 0 && high <= book.Length("tie.vertical") {
		return nil // every bed of the higher units is one of the lower
	}
	c := bookCourser(book)
	c.at = at
	c.tieBeds(base, first.beds(base), second.beds(base))
	return c.findings
}

// TieBeds are the beds of two leaves that rows of ties lie in, above their base: in
// either leaf as it is laid at its own gauge.
func TieBeds(first, second *Wall, book *rulebook.Book) []TieBed {
	return bookCourser(book).tieBeds(0, first.beds(0), second.beds(0))
}

// beds are where the courses of a leaf at its gauge top out, above the datum.
func (w *Wall) beds(base measure.Length) []measure.Length {
	full, closing, _ := Courses(w.Height, w.Unit, w.Bed)
	out := make([]measure.Length, 0, full+1)
	for n := 1; n <= full; n++ {
		out = append(out, base+measure.Length(n)*(w.Unit+w.Bed))
	}
	if closing > 0 {
		out = append(out, base+w.Height)
	}
	return out
}

func bookCourser(book *rulebook.Book) *courser {
	return &courser{book: book, bed: book.Length("joint.bed"), least: book.Length("joint.bed_least"), most: book.Length("joint.bed_most")}
}

// units is how many of a length there are in a run, a cut one counted as whole:
// (run + perpend) / (length + perpend), rounded up; of no run none.
func units(run, length, perpend measure.Length) int {
	if run <= 0 || length <= 0 {
		return 0
	}
	return int(measure.CeilDiv(int64(run+perpend), int64(length+perpend)))
}
