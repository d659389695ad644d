package bond

import (
	"hodman/service/measure"
	"hodman/service/product"
	"hodman/service/schedule"
)

// Foot is the lowest courses of a leaf's face laid of another unit of the same size.
type Foot struct {
	Unit    *product.Product
	Courses int
}

// PierGaps are the courses that a leaf leaves to its bonded piers: every second one, with
// a joint on both sides.
func PierGaps(r *Run) (gaps []Gap) {
	for i := range r.Piers {
		if p := &r.Piers[i]; p.Bonded {
			odd := r.tiesOdd(p)
			gaps = append(gaps, Gap{From: p.From - r.Leaf.Perpend, To: p.To + r.Leaf.Perpend, Head: p.Head, Odd: odd, Even: !odd})
		}
	}
	return gaps
}

// tiesOdd says that a pier bonds in odd courses rather than in even ones: where the
// courses of stretchers are odd and one begins at its side. The face runs on before it then, and
// stretchers between courses of stretchers would stand in straight joints.
func (r *Run) tiesOdd(p *schedule.MadePier) bool {
	m := r.Leaf
	return (m.Bond == "english" || m.Bond == "english_garden_wall") && m.HalfBricks() > 1 &&
		!r.bonded(0) && !r.bonded(1) && p.From%(2*m.HeaderPitch()) == 0
}

// pierRows are the first courses over piers and over the foot.
func (l *layer) pierRows(rows []int) []int {
	for i := range l.run.Piers {
		rows = append(rows, l.courseOver(l.run.Piers[i].Head))
	}
	if l.run.Foot.Courses > 0 {
		rows = append(rows, l.run.Foot.Courses+1)
	}
	return rows
}

// courseOver is the first course of which all stands over level z.
func (l *layer) courseOver(z measure.Length) int {
	return int(measure.CeilDiv(int64(z-l.run.Leaf.Bed), int64(l.gauge))) + 1
}

// stand lays what of the run's piers belongs to the course.
func (c *layingCourse) stand() {
	for i := range c.layer.run.Piers {
		if p := &c.layer.run.Piers[i]; c.First < c.layer.courseOver(p.Head) {
			if p.Bonded {
				c.bonded(p)
			} else {
				c.tied(p)
			}
		}
	}
}

// bonded lays a course of a bonded pier. The ranks are half bricks, counted inwards from
// the leaf's own outer face. In odd courses, or in even ones, the leaf runs past and the pier stands against
// it. In the others headers reach from the pier into the leaf, and what is left of the leaf
// and of the pier is filled up before and behind them.
func (c *layingCourse) bonded(p *schedule.MadePier) {
	leaf := c.layer.run.Leaf.HalfBricks()
	first, last := leaf, leaf+p.Ranks // the pier's ranks
	if p.Outside {
		first, last = -p.Ranks, 0
	}
	if c.layer.odd(c.First) != c.layer.run.tiesOdd(p) {
		c.fillRanks(p, first, last)
		return
	}
	meets := leaf - 1 // headers lie in this rank and the next
	if p.Outside {
		meets = -1
	}
	c.headers(p, meets)
	c.fillRanks(p, min(first, 0), meets)
	c.fillRanks(p, meets+2, max(last, leaf))
}

// fillRanks lays ranks from first up to last: headers two deep, beginning next to the
// leaf, and stretchers in one that is left over.
func (c *layingCourse) fillRanks(p *schedule.MadePier, first, last int) {
	if (last-first)%2 == 1 {
		// The odd rank is the one farther from where pier and leaf meet.
		if p.Outside == (first < 0) {
			c.stretchers(p, first)
			first++
		} else {
			last--
			c.stretchers(p, last)
		}
	}
	for ; first < last; first += 2 {
		c.headers(p, first)
	}
}

// rankAt is where a rank of half bricks begins, across the wall.
func (c *layingCourse) rankAt(rank int) measure.Length {
	b := &c.layer.pattern
	return measure.Length(rank) * (b.half + c.layer.run.Leaf.Collar())
}

// unitAt is what a rank is laid of: the face of the leaf and a pier before it of the
// facing units, what stands behind of the backing.
func unitAt(rank int) uint8 {
	if rank > 0 {
		return backing
	}
	return facing
}

// headers lays two ranks across the wall. On the face of a pier whose stretchers meet
// in the middle of a header's place a closer stands beside either outer header.
func (c *layingCourse) headers(p *schedule.MadePier, rank int) {
	b, half := &c.layer.pattern, c.layer.run.Leaf.HeaderPitch()
	s := Strip{X: p.From, Length: b.half, Y: c.rankAt(rank), Depth: b.unit, Face: Header, Unit: unitAt(rank)}
	face := rank+2 == c.layer.run.Leaf.HalfBricks()+p.Ranks
	if p.Outside {
		face = rank == -p.Ranks
	}
	if !face || p.Halves%2 == 1 || p.Halves < 4 {
		c.rank(&s, half, p.Halves)
		return
	}
	c.rank(&s, half, 1)
	closer := s
	closer.X, closer.Length = s.X+half, b.half-half/2
	c.rank(&closer, p.To-p.From-2*half-closer.Length, 2)
	s.X += half + half/2
	c.rank(&s, half, p.Halves-3)
	s.X = p.To - b.half
	c.rank(&s, half, 1)
}

// stretchers lays one rank along the wall; with an odd half brick of the width there is a
// three-quarter at either end, so that none stands over a joint between headers.
func (c *layingCourse) stretchers(p *schedule.MadePier, rank int) {
	b := &c.layer.pattern
	half := c.layer.run.Leaf.HeaderPitch()
	s := Strip{X: p.From, Length: b.unit, Y: c.rankAt(rank), Depth: b.half, Unit: unitAt(rank)}
	n := p.Halves / 2
	if p.Halves%2 == 1 {
		end := s
		if end.Length = b.half; n > 0 {
			n--
			end.Length += half / 2
			c.rank(&end, 0, 1)
			s.X += half + half/2
			end.X = p.To - end.Length
		}
		c.rank(&end, 0, 1)
	}
	if n > 0 {
		c.rank(&s, 2*half, n)
	}
}

// tied lays a course of a pier that stands against the leaf: every rank by itself, from
// its left end with a whole unit in odd courses and with a half in even ones.
func (c *layingCourse) tied(p *schedule.MadePier) {
	l := c.layer
	first, last := l.run.Leaf.HalfBricks(), l.run.Leaf.HalfBricks()+p.Ranks
	if p.Outside {
		first, last = -p.Ranks, 0
	}
	pitch := l.pattern.unit + l.perpend
	q := run(0, cell{0, l.pattern.unit, false}, pitch)
	origin := p.From
	if !l.odd(c.First) {
		origin += pitch / 2
	}
	l.fill(&q, origin, p.From, p.To, quoin, quoin)
	for i := range l.placed {
		n := &l.placed[i]
		for rank := first; rank < last; rank++ {
			c.rank(&Strip{X: n.x, Length: n.length, Y: c.rankAt(rank), Depth: l.pattern.half, Unit: unitAt(rank)}, pitch, n.count)
		}
	}
}

// alone says that the run is a pier by itself: two or three half bricks each way, in a
// bond with headers, free at both ends and of one height.
func (l *layer) alone() bool {
	r := &l.run
	m, w := r.Leaf, r.Wall
	ranks := m.HalfBricks()
	if !l.pattern.headers || m.Bond == "rat_trap" || ranks < 2 || l.shaped || len(l.spans) > 0 || len(r.Piers) > 0 {
		return false
	}
	n := w.Length + m.Perpend
	return l.left.free() && l.right.free() && m.Unit.Thickness+l.perpend == m.HeaderPitch() &&
		(n == 2*m.HeaderPitch() || n == 3*m.HeaderPitch())
}

func (e *end) free() bool { return !e.corner && e.face == 0 }

// isolated lays a course of a pier by itself; odd and even courses break joint. One brick
// square is two stretchers and then two headers. One and a half square is four bricks
// turned about a bat, and then the other way about.
func (c *layingCourse) isolated() {
	l := c.layer
	wide, deep := int((l.run.Wall.Length+l.perpend)/l.run.Leaf.HeaderPitch()), l.run.Leaf.HalfBricks()
	odd := l.odd(c.First)
	p := schedule.MadePier{To: l.run.Wall.Length, Halves: 2}
	brick := func(column, rank int, face Face) {
		b := &l.pattern
		s := Strip{X: measure.Length(column) * l.run.Leaf.HeaderPitch(), Length: b.unit, Y: c.rankAt(rank), Depth: b.half, Unit: unitAt(rank), Face: face}
		if face == Header {
			s.Length, s.Depth = b.half, b.unit
		}
		c.rank(&s, b.unit, 1)
	}
	first := 1 // the column of the stretchers where a header stands beside them
	if odd {
		first = 0
	}
	switch {
	case wide == 2 && deep == 2 && odd:
		brick(0, 0, Stretcher)
		brick(0, 1, Stretcher)
	case wide == 2 && deep == 2:
		c.headers(&p, 0)
	case wide == 2:
		c.headers(&p, first)
		brick(0, 2-2*first, Stretcher)
	case deep == 2:
		brick(first, 0, Stretcher)
		brick(first, 1, Stretcher)
		brick(2-2*first, 0, Header)
	default:
		brick(first, 0, Stretcher)
		brick(1-first, 2, Stretcher)
		brick(2-2*first, 0, Header)
		brick(2*first, 1, Header)
		b := &l.pattern
		c.rank(&Strip{X: l.run.Leaf.HeaderPitch(), Length: b.half, Y: c.rankAt(1), Depth: b.half, Unit: backing}, b.unit, 1)
	}
}
