package bond

import (
	"cmp"
	"slices"

	"hodman/service/measure"
	"hodman/service/schedule"
)

// Way is how a run is set out where it is not as the bond would have it by itself.
// The nought Way is as given.
type Way struct {
	Perpend   measure.Length // of the whole run; nought: the leaf's own
	FromRight bool           // where neither end is a corner, or both are
	Half      bool           // between free ends: start with what even courses start with
	Shift     measure.Length // between free ends: the bond moved along, so that it suits a reveal
	Piers     Piers          // broken bond under and over openings
}

// Piers says whether the piers between openings are set out each by itself.
type Piers uint8

const (
	AsOne          Piers = iota
	PiersFromLeft        // each from its left reveal
	PiersFromRight       // each from its right reveal
)

// pier is the masonry between two openings, up to the middle of the one on its right.
type pier struct {
	from, to measure.Length // between the reveals
	middle   measure.Length
	own      bool // set out by itself, not from where the run is
	right    bool // from its right reveal
	corner   bool // from the corner at the run's other end
}

// setPiers parts the run at its movement joints and, where piers are set out apart, at
// its openings, seen all together on plan.
func (l *layer) setPiers() {
	at := measure.Length(0)
	part := func(from, to, middle measure.Length) {
		l.piers = append(l.piers, pier{from: at, to: from, middle: middle})
		at = to
	}
	var apart []reach
	if l.way.Piers != AsOne && len(l.run.Wall.Openings) > 0 {
		apart = l.openings()
	}
	for _, g := range l.run.Gaps {
		for g.Joint && len(apart) > 0 && apart[0].to <= g.From {
			part(apart[0].from, apart[0].to, (apart[0].from+apart[0].to)/2)
			apart = apart[1:]
		}
		if g.Joint {
			part(g.From, g.To, g.To)
		}
	}
	for _, o := range apart {
		part(o.from, o.to, (o.from+o.to)/2)
	}
	if len(l.piers) == 0 {
		return
	}
	length := l.run.Wall.Length
	part(length, length, 2*length+l.gauge)
	l.uneven = true // piers begin alike in odd courses, whoever owns the corners
	fromEnd, last := l.pattern.fromEnd, len(l.piers)-1
	for i := range l.piers {
		p := &l.piers[i]
		p.own = i != 0 && !fromEnd || i != last && fromEnd
		p.right = l.way.Piers == PiersFromRight || l.way.Piers == AsOne && fromEnd
		p.corner = l.pattern.fromRun && (i == 0 && l.left.corner || i == last && l.right.corner)
	}
}

// reach is a part of the run that openings take up, seen on plan.
type reach struct{ from, to measure.Length }

// openings are the openings on plan, those over one another together.
func (l *layer) openings() []reach {
	var list []reach
	for i := range l.run.Wall.Openings {
		o := &l.run.Wall.Openings[i]
		list = append(list, reach{o.Left, o.Right()})
	}
	slices.SortFunc(list, func(a, b reach) int { return cmp.Compare(a.from, b.from) })
	out := list[:1]
	for _, r := range list[1:] {
		if last := &out[len(out)-1]; r.from <= last.to+l.perpend {
			last.to = max(last.to, r.to)
		} else {
			out = append(out, r)
		}
	}
	return out
}

// seam begins a pier's own rhythm beside another's, a joint before from. Where that
// falls into a joint of its own, so that the two would be one wide joint, its first piece
// and what the joint is too wide by become two equal cuts. It returns where the rest begins.
func (c *layingCourse) seam(from, to measure.Length) measure.Length {
	l, face := c.layer, &c.course.face
	first, _ := face.within(c.origin+face.phase, from, to)
	x, cell := face.cell(c.origin+face.phase, first)
	end := x + cell.length
	if x <= from || end+l.perpend >= to {
		return from
	}
	a, b := halves(end - from - l.perpend)
	for _, p := range [2]placed{{x: from, length: a, header: cell.header, count: 1}, {x: end - b, length: b, header: cell.header, count: 1}} {
		c.place(&p, face.period)
	}
	if back := &c.course.back; c.course.backed {
		l.fill(back, c.origin+back.phase, from, end, against, against)
		c.behind(back.period)
	}
	c.any = true
	return end + l.perpend
}

// set sets a course out from the pier's own reveal, or from the corner it ends at.
func (p *pier) set(c *layingCourse) {
	if !p.own {
		return
	}
	l := c.layer
	b := &l.pattern
	switch {
	case p.corner && b.fromEnd:
		c.origin = l.left.at(c.ownsLeft)
		return
	case p.corner:
		c.origin = l.run.Wall.Length - l.right.at(c.ownsRight) + l.perpend
		return
	}
	c.course = b.of(c.First+l.run.Lowest, l.odd(c.First))
	switch {
	case p.right && b.fromEnd:
		c.origin = p.to
	case p.right:
		c.origin = p.to + l.perpend
	case b.fromEnd:
		c.origin = p.from - l.perpend
	default:
		c.origin = p.from
	}
	if b.fromRun && !l.odd(c.First) {
		c.origin += (b.unit + l.perpend) / 2 // from a reveal even courses start with a half
	}
}

// Best lays runs as [SetOut] does, each in the way that leaves fewer cut pieces and
// takes no more pieces for it than it saves cuts: set out from the other end, started with a
// half, shifted to suit a reveal, with perpends opened or closed within least to most, with
// broken bond under and over openings. Where nothing is gained a run is laid as given.
func Best(runs []Run, ring bool, rules Rules, least, most measure.Length) []Laying {
	ways := make([][]Way, len(runs))
	for i := range runs {
		ways[i] = waysOf(&runs[i], least, most)
	}
	return new(Gang).setOut(runs, ring, rules, ways)
}

// waysOf are the ways to set out a run, the plainest first.
func waysOf(r *Run, least, most measure.Length) []Way {
	m, w, left, right := r.Leaf, r.Wall, r.bonded(0), r.bonded(1)
	plain := []Way{{}}
	if !left && !right {
		plain = append(plain, Way{Half: true})
	}
	if left == right {
		plain = append(plain, Way{FromRight: true})
	}
	if !left && !right {
		plain = append(plain, Way{FromRight: true, Half: true})
	}
	if len(w.Openings) > 0 {
		plain = append(plain, Way{Piers: PiersFromLeft}, Way{Piers: PiersFromRight})
	}
	list := slices.Clone(plain[1:])
	for _, x := range shifts(r) {
		list = append(list, Way{Shift: x}, Way{Shift: x, Half: true})
	}
	perpends := Perpends(r, least, most)
	if !left && !right && m.Thickness == m.Unit.Thickness {
		// One that fits nothing may still make a piece just long enough to lay.
		perpends = append(perpends, least, most)
	}
	for _, j := range perpends {
		for _, way := range plain {
			way.Perpend = j
			list = append(list, way)
		}
	}
	given := r.shy(Way{})
	return slices.DeleteFunc(list, func(way Way) bool { return r.shy(way)&^given != 0 })
}

// mostShifts is how many are tried.
const mostShifts = 8

// shifts are how far along the bond of a run between free ends can move so that a reveal
// lies on it, each under half a unit and a joint, in the order of the openings. A bond with headers
// has none: it is set out from an end.
func shifts(r *Run) []measure.Length {
	m, w := r.Leaf, r.Wall
	if r.bonded(0) || r.bonded(1) || len(w.Openings) == 0 || schedule.Headed(m.Bond) {
		return nil
	}
	start, half := r.Starts(0), (m.Unit.Length+m.Perpend)/2
	var list []measure.Length
	l := layer{run: *r, perpend: m.Perpend}
	for _, o := range l.openings() {
		for _, x := range [2]measure.Length{o.from + m.Perpend, o.to} { // where a unit would begin
			by := (x - start) - measure.Length(measure.FloorDiv(int64(x-start), int64(half)))*half
			if by != 0 && !slices.Contains(list, by) && len(list) < mostShifts {
				list = append(list, by)
			}
		}
	}
	return list
}

// mostPerpends is how many perpends are tried besides the leaf's own and the limits.
const mostPerpends = 8

// Perpends are the joints from least to most with which the run, one of its piers or the
// masonry up to an opening takes a whole number of half units, those nearest the leaf's own
// first. It is none in a leaf of more than one rank, whose headers leave no room for another.
func Perpends(r *Run, least, most measure.Length) []measure.Length {
	m, w := r.Leaf, r.Wall
	if m.Thickness > m.Unit.Thickness {
		return nil
	}
	s := suits{unit: m.Unit.Length, own: m.Perpend, least: least, most: most}
	s.stops(w.Length)
	if len(w.Openings) > 0 {
		at := measure.Length(0)
		l := layer{run: *r, perpend: m.Perpend}
		for _, o := range l.openings() {
			s.stops(o.from - at)
			s.stops(o.from)
			s.begins(o.to)
			s.begins(w.Length - o.from)
			at = o.to
		}
		s.stops(w.Length - at)
	}
	slices.SortStableFunc(s.list, func(a, b measure.Length) int {
		return cmp.Compare(max(a-m.Perpend, m.Perpend-a), max(b-m.Perpend, m.Perpend-b))
	})
	return s.list[:min(len(s.list), mostPerpends)]
}

// suits gathers perpends.
type suits struct {
	unit, own, least, most measure.Length
	list                   []measure.Length
}

// stops adds those with which half units stop at the end of a size: size = n x (unit + j) / 2 - j.
// They are rounded down, so that no piece is a shaving too long.
func (s *suits) stops(size measure.Length) {
	s.each(size, 2, func(n, j measure.Length) measure.Length {
		if over := j % tenth; over*(n-2) <= 2*mostShy {
			return j - over
		}
		return j - j%(tenth/10) // over so many a tenth would tell
	})
}

// begins adds those with which a unit begins at the end of a size: size = n x (unit + j) / 2.
// They are rounded up, so that none begins a shaving before it.
func (s *suits) begins(size measure.Length) {
	s.each(size, 0, func(n, j measure.Length) measure.Length {
		step := tenth
		if up := step - j%step; j%step != 0 && up*n > 2*mostShy {
			step = tenth / 10
		}
		return measure.Length(measure.CeilDiv(int64(j), int64(step))) * step
	})
}

// each tries every number of halves that a size can hold with perpends within the limits; all
// but so many of them have a perpend.
func (s *suits) each(size measure.Length, but int64, round func(n, j measure.Length) measure.Length) {
	first, last := int64(size)*2/int64(s.unit+s.most), int64(size)*2/int64(s.unit+s.least)+1
	for n := max(first, but+1); n <= last; n++ {
		j := measure.Length(measure.FloorDiv(2*int64(size)-n*int64(s.unit), n-but))
		if j < 0 {
			continue
		}
		if j = round(measure.Length(n), j); j >= s.least && j <= s.most && j != s.own && !slices.Contains(s.list, j) {
			s.list = append(s.list, j)
		}
	}
}

// tenth of a millimetre is as finely as a perpend is gauged.
const tenth = measure.Millimetre / 10

// Count counts the cut pieces and all pieces of a run laid as another was: with its
// way and its corners.
func Count(r Run, rules Rules, as *Laying) (cuts, pieces int) {
	var l layer
	l.set(r, rules, as.Way)
	l.lay(as.OwnsLeft, as.OwnsRight)
	return l.cuts, l.pieces
}

// Pieces counts all pieces of a laying and those of them that are cut.
func (l *Laying) Pieces() (pieces, cuts int) {
	for i := range l.Bands {
		b := &l.Bands[i]
		for k := range b.Strips {
			n := b.Strips[k].Count * b.Count
			pieces += n
			if b.Strips[k].Cut != Whole {
				cuts += n
			}
		}
	}
	return pieces, cuts
}
