package bond

import "hodman/service/measure"

// flush is the stretcher of the face that x stands within, in a course of nothing
// else, so that what runs through an external corner ends with a whole unit; x
// itself in any other.
func (c *layingCourse) flush(x measure.Length, e *end) (start, end measure.Length) {
	face := &c.course.face
	if e.inner || face.n > 1 || face.cells[0].header {
		return x, x
	}
	origin := c.origin + face.phase
	first, _ := face.within(origin, x-1, x+1)
	start, cell := face.cell(origin, first)
	if end = start + cell.length; start >= x || end <= x {
		return x, x
	}
	return start, end
}

// backed lays what stands behind a stretcher that runs through a corner, where the
// rest of the leaf has begun.
func (c *layingCourse) backed(from, to measure.Length) {
	b := &c.layer.pattern
	s := Strip{X: from, Length: to - from, Y: b.half + b.collar, Depth: b.half, Unit: backing}
	switch {
	case s.Length <= 0:
	case b.headers && b.ranks == 3 && s.Length == b.half:
		s.Depth, s.Face = b.unit, Header
		c.rank(&s, 0, 1)
	default:
		for range b.ranks - 1 {
			c.rank(&s, 0, 1)
			s.Y += b.half + b.collar
		}
	}
}

func corners(e *end) int {
	if e.corner {
		return 1
	}
	return 0
}

// through lays the half brick that runs through a corner.
func (c *layingCourse) through(from, to measure.Length, e *end) {
	l := c.layer
	origin := e.face
	if e == &l.right {
		origin = l.run.Wall.Length - e.face
	}
	q := run(0, cell{0, l.pattern.unit, false}, l.pattern.unit+l.perpend)
	if e == &l.right {
		q.mirror()
	}
	l.fill(&q, origin, from, to, quoin, quoin)
	for i := range l.placed {
		p := &l.placed[i]
		s := Strip{X: p.x, Length: p.length, Depth: l.pattern.half, Count: 1}
		if e.inner {
			s.Y, s.Unit = l.run.Leaf.Thickness-l.pattern.half, backing
		}
		c.rank(&s, q.period, p.count)
	}
}
