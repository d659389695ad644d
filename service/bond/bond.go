// Package bond lays a leaf course by course, as it is set out on the wall, and
// says where every piece lies: wholes, cuts in length, closers, cuts in height, cuts
// to a slope.
//
// Courses that are alike are laid once and multiplied, and pieces alike in a row are
// one strip, so that the cost grows with openings and not with bricks. Levels are
// above the wall's own base; x runs along the wall's outer face from its left end as
// seen from outside.
package bond

import (
	"cmp"
	"slices"

	"hodman/service/measure"
	"hodman/service/product"
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
	// Ends are what the run meets left and right. Nil: what the wall says, and at corners
	// a leaf made up alike.
	Ends *[2]schedule.Meeting
	// Gaps are what else the courses stop at, besides the wall's openings. A gap may
	// not overlap another or an opening in a course that both take part in.
	Gaps []Gap
	// Piers are those that stand against this leaf; Foot is its plinth.
	Piers []schedule.MadePier
	Foot  Foot
	// Curves are what the masonry over each opening is cut to where an arch carries it; nil,
	// or none: the opening's own boundary.
	Curves []*Curve
	// Features are laid of units of their own.
	Features []Feature
}

// Gap is a part of a run where courses stop as at a reveal: at a movement joint, round
// a feature laid of other units, before the end of a wall that is bonded in.
type Gap struct {
	From, To measure.Length // along the wall
	// Foot and Head are levels above the wall's base; Head nought: up to the wall's top.
	// What a course has under Foot or over Head is laid of units cut in height.
	Foot, Head measure.Length
	// Odd and Even say that only such courses stop there, as they are counted round the
	// chain; neither: all.
	Odd, Even bool
	// Curve is the hole's upper boundary where it is none of a rectangle; Head is its top.
	Curve *Curve
	// Joint says that what is beyond is set out anew from the gap: a movement joint.
	Joint bool
}

// Laying is a leaf as laid.
type Laying struct {
	// Units are what it is laid of: the facing unit, the backing, then the foot's where there is one.
	Units   []*product.Product
	Full    int            // full courses under the wall's height line
	Closing measure.Length // the height that the closing course's units are cut to; nought: none
	Growth  measure.Length // what each bed grows where the remainder is no more than a bed
	// OwnsLeft and OwnsRight: the wall owns that corner in odd courses.
	OwnsLeft, OwnsRight bool
	Way                 Way
	Perpend             measure.Length // that of the leaf, or the way's own
	Bands               []Band
	Arches              []Arch
	Broken              []Broken
}

// Units of a leaf, as indexes into Laying.Units.
const (
	facing uint8 = iota
	backing
	foot
)

// Band is Count courses laid alike, every Step'th from course First. The units of the
// first stand between Foot and Head, above the wall's base; each next is Rise higher.
type Band struct {
	First, Count, Step int
	Foot, Head, Rise   measure.Length
	Strips             []Strip // of one course
}

// UpTo counts the band's courses whose top is not above z, a level above the wall's base.
func (b *Band) UpTo(z measure.Length) int {
	if z < b.Head {
		return 0
	}
	return int(min(int64(b.Count), int64((z-b.Head)/b.Rise)+1))
}

// Pieces is how many pieces one course of the band has.
func (b *Band) Pieces() int {
	n := 0
	for i := range b.Strips {
		n += b.Strips[i].Count
	}
	return n
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

// layer lays one leaf for one choice of ownership.
type layer struct {
	run     Run
	rules   Rules
	gauge   measure.Length
	perpend measure.Length
	left    end
	right   end
	pattern patterns
	full    int            // courses under the height line
	spans   []hole         // openings and gaps by left side
	stops   []stop         // of the course being laid
	rows    []int          // first courses of bands, rising
	top     int            // courses in all, with the closing or raking ones
	height  measure.Length // up to which courses are laid level
	shaped  bool           // the top slopes
	pier    bool           // a pier by itself
	uneven  bool           // odd and even courses stop at other places
	way     Way
	piers   []pier  // each set out by itself; empty: the run is set out as one
	out     *Laying // nil: only count
	cuts    int     // cut pieces
	pieces  int
	// placed gathers one stretch and strips one course; kept is where the bands'
	// strips end up, so that a leaf costs few allocations.
	placed []placed
	shapes []interval
	strips []Strip
	kept   *[]Strip
}

// hole is an opening or a gap, and the courses [first, next) whose units share height with it.
type hole struct {
	Gap
	first, next int
	// shared says that another hole stands over or under it in one of its courses.
	shared bool
}

// holes are the wall's openings and the run's gaps, by their left side.
func (l *layer) holes() []hole {
	w := l.run.Wall
	list := slices.Grow(l.spans, len(w.Openings)+len(l.run.Gaps))
	for i := range w.Openings {
		list = append(list, l.hole(l.run.gapOf(i)))
	}
	if w.Top != nil && w.Top.Shape == "stepped" {
		w.Steps(func(from, to, top measure.Length) {
			if top < l.height {
				list = append(list, l.hole(Gap{From: from, To: to, Foot: top, Head: measure.Length(l.top+1) * l.gauge}))
			}
		})
	}
	for i := range l.run.Features {
		if g := l.run.Features[i].Gap; g.From < g.To {
			list = append(list, l.hole(g))
		}
	}
	for _, g := range l.run.Gaps {
		if g.Head == 0 {
			g.Head = measure.Length(l.top) * l.gauge
		}
		list = append(list, l.hole(g))
	}
	slices.SortFunc(list, func(a, b hole) int { return cmp.Compare(a.From, b.From) })
	noteShared(list)
	return list
}

// hole finds the courses that a gap takes units out of.
func (l *layer) hole(g Gap) hole {
	return hole{Gap: g, first: int(g.Foot/l.gauge) + 1,
		next: int(measure.CeilDiv(int64(g.Head-l.run.Leaf.Bed), int64(l.gauge))) + 1}
}

// in says whether course n stops at the hole.
func (h *hole) in(n int, odd bool) bool {
	return n >= h.first && n < h.next && (h.Odd == h.Even || h.Odd == odd)
}

func (l *layer) set(run Run, rules Rules, way Way) {
	if way.Perpend != 0 {
		leaf := *run.Leaf
		leaf.Perpend = way.Perpend
		run.Leaf = &leaf
	}
	m, w := run.Leaf, run.Wall
	*l = layer{run: run, rules: rules, way: way, gauge: m.Unit.Height + m.Bed, perpend: m.Perpend,
		spans: l.spans[:0], rows: l.rows[:0], piers: l.piers[:0], placed: l.placed[:0], shapes: l.shapes[:0], stops: l.stops[:0]}
	l.left, l.right = l.end(0), l.end(1)
	l.pattern = patternsOf(m, rules, &l.left, &l.right, way.FromRight)
	l.height = w.Height
	stepped := w.Top != nil && w.Top.Shape == "stepped"
	if stepped {
		l.height = w.Highest() // a level wall with gaps over its lower steps
	}
	l.shaped = !stepped && w.Highest() > w.Height
	if l.shaped {
		// The last course is the last whose unit's underside is below the top.
		l.top = int(measure.CeilDiv(int64(w.Highest()-m.Bed), int64(l.gauge)))
	} else {
		l.top = int(l.height / l.gauge)
		if l.height%l.gauge > m.Bed {
			l.top++
		}
	}
	l.full = min(l.top, int(l.height/l.gauge))
	l.spans = l.holes()
	l.uneven = slices.ContainsFunc(l.spans, func(h hole) bool { return h.Odd != h.Even }) || len(run.Piers) > 0
	if l.pier = l.alone(); l.pier {
		l.uneven = true
	}
	l.setCycle()
	l.findRows()
	l.setPiers()
}

// setCycle makes the courses after which all begins again also those after which the
// ends and the gaps do.
func (l *layer) setCycle() {
	cycle := &l.pattern.cycle
	if l.uneven && *cycle%2 == 1 {
		*cycle *= 2
	}
	for _, e := range []*end{&l.left, &l.right} {
		if e.corner && (e.every > 1 || e.shift != l.run.Lowest) {
			l.uneven = true
			*cycle = lcm(*cycle, 2*e.every)
		}
	}
}

func lcm(a, b int) int {
	x, y := a, b
	for y != 0 {
		x, y = y, x%y
	}
	return a / x * b
}

// findRows lists the courses at which something changes.
func (l *layer) findRows() {
	rows := append(slices.Grow(l.rows, 3+4*len(l.spans)), 1, l.full+1, l.top+1)
	rows = l.pierRows(rows)
	for i := range l.spans {
		o := &l.spans[i]
		rows = append(rows, o.first, o.next)
		if k := o.Curve; k != nil {
			// No two courses beside a curve are alike.
			low := k.Spring
			if k.Round {
				low = o.Foot
			}
			for n := int(low/l.gauge) + 1; n < o.next; n++ {
				rows = append(rows, n)
			}
		}
		if o.Foot > l.foot(o.first) {
			rows = append(rows, o.first+1) // the first has something under the sill
		}
		if o.Head < l.head(o.next-1) {
			rows = append(rows, o.next-1) // the last has something over the head
		}
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
		return l.height
	}
	return measure.Length(n) * l.gauge
}

// lay lays every band for one choice of ownership of the corners in odd courses.
func (l *layer) lay(ownsLeft, ownsRight bool) {
	l.cuts, l.pieces = 0, 0
	for i := range len(l.rows) - 1 {
		first, next := l.rows[i], l.rows[i+1]
		step := min(l.pattern.cycle, next-first)
		for k := range step {
			n := first + k
			l.course(n, (next-n+step-1)/step, step, ownsLeft == l.left.turn(n), ownsRight == l.right.turn(n))
		}
	}
}

// odd says whether course n counts as odd at the corners of its chain.
func (l *layer) odd(n int) bool { return (n+l.run.Lowest)%2 == 1 }
