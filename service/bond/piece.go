package bond

import "hodman/service/measure"

// place lays a piece of the face and what stands behind it.
func (c *layingCourse) place(p *placed, period measure.Length) {
	b := &c.layer.pattern
	if b.headers && p.length == b.half {
		p.header = true // a stretcher cut to half is a header
	}
	switch {
	case p.header:
		c.rank(&Strip{X: p.x, Length: p.length, Depth: b.deep, Face: Header}, period, p.count)
		if b.ranks == 3 && !c.course.backed {
			c.rank(&Strip{X: p.x, Length: p.length, Y: b.deep + b.collar, Depth: b.half, Unit: backing, Face: Header}, period, p.count)
		}
	case b.headers && b.ranks == 3 && p.length == b.unit:
		c.rank(&Strip{X: p.x, Length: p.length, Depth: b.half}, period, p.count)
		s := Strip{X: p.x, Length: b.half, Y: b.half + b.collar, Depth: b.unit, Unit: backing, Face: Header}
		c.rank(&s, period, p.count)
		s.X += b.half + b.collar
		c.rank(&s, period, p.count)
	default:
		ranks := b.ranks
		if c.course.backed {
			ranks-- // the last one is laid by itself
		}
		for k := range ranks {
			s := Strip{X: p.x, Length: p.length, Y: measure.Length(k) * (b.half + b.collar), Depth: b.half}
			if k > 0 {
				s.Unit = backing
			}
			c.rank(&s, period, p.count)
		}
	}
}

// rank lays count pieces of one rank, whole or cut, under the wall's top.
func (c *layingCourse) rank(s *Strip, pitch measure.Length, count int) {
	l := c.layer
	c.any = true
	full := l.run.Leaf.Unit.Height
	s.Height, s.Count, s.Pitch = c.Head-c.Foot, count, pitch
	last := s.X + measure.Length(count-1)*pitch + s.Length
	switch {
	case s.Height < full:
		s.Cut = InHeight
	case len(c.shapes) > 0 && c.shapedBetween(s.X, last):
		c.toShapes(s)
		return
	default:
		s.Cut = c.cut(s)
	}
	c.add(s)
}

// cut is how a piece of full height is got out of its unit.
func (c *layingCourse) cut(s *Strip) Cut {
	b := &c.layer.pattern
	switch {
	case s.Face == Stretcher && s.Length == b.unit, s.Face == Header && s.Length == b.half && s.Depth == b.unit:
		return Whole
	case s.Face == Header && s.Depth == b.unit:
		return InWidth
	}
	return InLength
}

// toShapes lays a strip of which some is cut to a slope or a curve.
func (c *layingCourse) toShapes(s *Strip) {
	whole, at := c.cut(s), 0
	for _, k := range c.shapes {
		// The pieces that reach into it.
		first, next := 0, s.Count
		if s.Pitch > 0 {
			first = int(measure.FloorDiv(int64(k.from-s.X-s.Length), int64(s.Pitch))) + 1
			next = int(measure.CeilDiv(int64(k.to-s.X), int64(s.Pitch)))
		} else if s.X+s.Length <= k.from || s.X >= k.to {
			continue
		}
		first, next = min(max(first, at), s.Count), min(max(next, at), s.Count)
		if next <= first {
			continue
		}
		c.portion(s, at, first, whole)
		c.portion(s, first, next, ToShape)
		at = next
	}
	c.portion(s, at, s.Count, whole)
}

// shapedBetween says whether any piece between from and to may be cut to a shape.
func (c *layingCourse) shapedBetween(from, to measure.Length) bool {
	for _, k := range c.shapes {
		if from < k.to && k.from < to {
			return true
		}
	}
	return false
}

// portion adds pieces from to to of a strip, cut so.
func (c *layingCourse) portion(s *Strip, from, to int, cut Cut) {
	if from >= to {
		return
	}
	part := *s
	part.X += measure.Length(from) * s.Pitch
	part.Count, part.Cut = to-from, cut
	c.add(&part)
}

// add counts a strip and keeps it.
func (c *layingCourse) add(s *Strip) {
	l := c.layer
	n := s.Count * c.Count
	l.pieces += n
	if s.Cut != Whole {
		l.cuts += n
	}
	if l.out != nil {
		l.strips = append(l.strips, *s)
		if s.Unit == facing && c.First <= l.run.Foot.Courses {
			l.strips[len(l.strips)-1].Unit = foot
		}
	}
}

// raked says whether any of a stretch is cut to a slope or a curve.
func (c *layingCourse) raked(from, to measure.Length) bool { return c.shapedBetween(from, to) }
