// Package bond lays a leaf course by course, as it is set out on the wall, and
// counts the pieces: wholes, cuts in length, cuts in height, cuts to a slope.
//
// Courses that are alike are laid once and multiplied, so that the cost grows with
// openings and not with bricks. Levels are above the wall's own base; x runs along
// the wall's outer face from its left end as seen from outside.
package bond

import (
	"cmp"
	"slices"

	"hodman/service/measure"
	"hodman/service/schedule"
)

// Rules are the figures of the rulebook that laying goes by.
type Rules struct {
	LeastCut   measure.Ratio  // of a unit; a shorter cut at the end of a stretch is shared
	LeastSplit measure.Length // what is left of a course under a sill is laid from this height
}

// Run is one leaf of one wall, ready to be laid.
type Run struct {
	Leaf *schedule.Made
	Wall *schedule.Wall
	// Lowest is how many courses the wall's base stands above the lowest of the
	// walls it meets, so that the courses of a corner are counted alike.
	Lowest int
}

// Laying is a leaf as laid.
type Laying struct {
	Full    int            // full courses under the wall's height line
	Closing measure.Length // the height that the closing course's units are cut to; nought: none
	Growth  measure.Length // what each bed grows where the remainder is no more than a bed
	// OwnsLeft and OwnsRight: the wall owns that corner in odd courses.
	OwnsLeft, OwnsRight bool
	Bands               []Band
	Broken              []Broken
}

// Band is a run of courses laid alike: Count courses from First, every Step'th.
// The counts are of one course.
type Band struct {
	First, Count, Step int
	Whole              int
	Cuts               []Piece        // cut in length, or to a slope
	Splits             []Piece        // cut in height, each out of a whole unit
	Head               measure.Length // the level of the first course's top
	Height             measure.Length // of the units
}

// Piece is so many pieces alike in one course.
type Piece struct {
	Length, Height measure.Length
	Raking         bool
	Count          int
}

// Broken is a stretch where a small cut was shared with its neighbour.
type Broken struct {
	From, To    measure.Length
	First, Last int // courses
	// Off is how far the stretch would have to move to lie on the bond of its first
	// course; nought where its place suits and its length does not.
	Off  measure.Length
	Free int // ends of the stretch that are not returns
}

// UpTo counts the band's courses whose top is not above z, a level above the
// wall's base, for a leaf of the gauge given.
func (b *Band) UpTo(z, gauge measure.Length) int {
	if z < b.Head {
		return 0
	}
	return int(min(int64(b.Count), int64((z-b.Head)/(measure.Length(b.Step)*gauge))+1))
}

// Pieces is how many pieces one course of the band has.
func (b *Band) Pieces() int {
	n := b.Whole
	for i := range b.Cuts {
		n += b.Cuts[i].Count
	}
	for i := range b.Splits {
		n += b.Splits[i].Count
	}
	return n
}

// layer lays one leaf for one choice of ownership.
type layer struct {
	run    Run
	rules  Rules
	gauge  measure.Length
	unit   measure.Length
	left   end
	right  end
	grid   grid    // of the course being laid
	full   int     // courses under the height line
	spans  []span  // openings by left side
	rows   []int   // first courses of bands, rising
	top    int     // courses in all, with the closing or raking ones
	shaped bool    // the top is not level
	out    *Laying // nil: only count
	cuts   int     // cut pieces
	pieces int
	// sawn and split gather one course; kept is where the bands' pieces end up, so
	// that a leaf costs few allocations.
	sawn, split, kept []Piece
}

// end is one end of the run: where it begins, inwards from the wall's end, in
// courses in which the wall owns it and in those in which it does not.
type end struct {
	corner      bool
	owned, lent measure.Length
}

func endOf(m *schedule.Made, e schedule.End) end {
	return end{corner: e.Corner(), owned: m.Start(e, true), lent: m.Start(e, false)}
}

func (e *end) at(owned bool) measure.Length {
	if owned {
		return e.owned
	}
	return e.lent
}

// span is an opening and the courses [first, next) whose units share height with it.
type span struct {
	*schedule.Opening
	first, next int
}

func newLayer(run Run, rules Rules) *layer {
	m, w := run.Leaf, run.Wall
	l := &layer{run: run, rules: rules, unit: m.Unit.Length, gauge: m.Unit.Height + m.Bed}
	l.left, l.right = endOf(m, w.Left), endOf(m, w.Right)
	l.grid = grid{unit: l.unit, perpend: m.Perpend, pitch: l.unit + m.Perpend,
		leastCut: measure.Length(rules.LeastCut.HalfUpOf(int64(l.unit)))}
	l.shaped = w.Highest() > w.Height
	if l.shaped {
		// The last course is the last whose unit's underside is below the top.
		l.top = int(measure.CeilDiv(int64(w.Highest()-m.Bed), int64(l.gauge)))
	} else {
		l.top = int(w.Height / l.gauge)
		if w.Height%l.gauge > m.Bed {
			l.top++
		}
	}
	l.full = min(l.top, int(w.Height/l.gauge))
	l.spans = make([]span, len(w.Openings))
	for i := range w.Openings {
		o := &w.Openings[i]
		first, next := l.taken(o)
		l.spans[i] = span{o, first, next}
	}
	slices.SortFunc(l.spans, func(a, b span) int { return cmp.Compare(a.Left, b.Left) })
	l.findRows()
	return l
}

// findRows lists the courses at which something changes.
func (l *layer) findRows() {
	rows := make([]int, 0, 3+4*len(l.spans))
	rows = append(rows, 1, l.full+1, l.top+1)
	for _, o := range l.spans {
		rows = append(rows, o.first, o.first+1, o.next-1, o.next)
	}
	if l.shaped {
		// From the first course that reaches above the height line, no two are alike.
		for n := l.full + 1; n <= l.top; n++ {
			rows = append(rows, n)
		}
	}
	slices.Sort(rows)
	rows = slices.Compact(rows)
	l.rows = slices.DeleteFunc(rows, func(n int) bool { return n < 1 || n > l.top+1 })
}

// foot and head are the underside and the top of course n's units.
func (l *layer) foot(n int) measure.Length {
	return measure.Length(n-1)*l.gauge + l.run.Leaf.Bed
}

func (l *layer) head(n int) measure.Length {
	if n > l.full && !l.shaped {
		return l.run.Wall.Height
	}
	return measure.Length(n) * l.gauge
}

// taken is the range of courses that an opening takes units out of.
func (l *layer) taken(o *schedule.Opening) (first, next int) {
	first = int(o.Sill/l.gauge) + 1
	next = int(measure.CeilDiv(int64(o.Top()-l.run.Leaf.Bed), int64(l.gauge))) + 1
	return first, next
}

// lay lays every band for one choice of ownership of the corners in odd courses.
func (l *layer) lay(ownsLeft, ownsRight bool) {
	l.cuts, l.pieces = 0, 0
	for i := range len(l.rows) - 1 {
		first, next := l.rows[i], l.rows[i+1]
		odd := l.odd(first)
		if next-first == 1 {
			l.course(first, 1, 1, ownsLeft == odd, ownsRight == odd)
			continue
		}
		count := next - first
		l.course(first, (count+1)/2, 2, ownsLeft == odd, ownsRight == odd)
		l.course(first+1, count/2, 2, ownsLeft != odd, ownsRight != odd)
	}
}

// odd says whether course n counts as odd at the corners of its chain.
func (l *layer) odd(n int) bool { return (n+l.run.Lowest)%2 == 1 }

// course lays course n once for count courses; ownsLeft and ownsRight are of this course.
func (l *layer) course(n, count, step int, ownsLeft, ownsRight bool) {
	start, end := l.left.at(ownsLeft), l.run.Wall.Length-l.right.at(ownsRight)
	l.grid.origin = l.origin(start, end, l.odd(n))
	b := band{layer: l, grid: &l.grid, n: n, count: count, foot: l.foot(n), head: l.head(n), square: [2]measure.Length{start, end}}
	if l.shaped {
		start, end = b.underTop(start, end)
	}
	if l.out != nil {
		l.sawn, l.split = l.sawn[:0], l.split[:0]
		b.Band = Band{First: n, Count: count, Step: step, Head: b.head, Height: b.head - b.foot}
	}
	from := start
	for i := range l.spans {
		o := &l.spans[i]
		if n < o.first || n >= o.next {
			continue
		}
		b.stretch(from, min(o.Left, end), from == start, false)
		b.left(max(o.Left, start), min(o.Right(), end), o.Opening)
		from = max(from, o.Right())
	}
	b.stretch(from, end, from == start, true)
	if l.out != nil && b.any {
		b.Cuts, b.Splits = l.keep(l.sawn), l.keep(l.split)
		l.out.Bands = append(l.out.Bands, b.Band)
	}
}

// keep copies one course's pieces to where they stay.
func (l *layer) keep(course []Piece) []Piece {
	from := len(l.kept)
	l.kept = append(l.kept, course...)
	return l.kept[from:len(l.kept):len(l.kept)]
}

// origin is where the course's grid begins: a whole unit at the reference end, or
// half a pitch along from an end that is no corner, in even courses.
func (l *layer) origin(start, end measure.Length, odd bool) measure.Length {
	switch {
	case l.right.corner && !l.left.corner:
		return end - l.unit
	case l.left.corner || odd:
		return start
	}
	return start + l.grid.pitch/2
}
