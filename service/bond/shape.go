package bond

import (
	"cmp"
	"slices"

	"hodman/service/measure"
)

// left lays what an opening or a gap leaves of the course under its sill and over its head.
func (c *layingCourse) left(from, to measure.Length, g *hole) {
	if g.shared {
		c.between(from, to, g)
		return
	}
	c.split(from, to, 0, g.Foot-c.Foot)
	if g.Curve == nil || g.Curve.Radius == 0 {
		c.split(from, to, g.Head-c.Foot, c.Head-g.Head)
	}
}

// split lays what is left of the course's height, from foot over the units' underside.
func (c *layingCourse) split(from, to, foot, height measure.Length) {
	l := c.layer
	if height < l.rules.LeastSplit || height >= c.Head-c.Foot {
		return
	}
	head, base := c.Head, c.Foot
	c.Foot, c.Head, c.splitting = base+foot, base+foot+height, true
	before := len(l.strips)
	c.stretch(from, to, quoin, quoin)
	for i := before; i < len(l.strips); i++ {
		l.strips[i].Foot, l.strips[i].Cut = foot, InHeight
	}
	c.Foot, c.Head, c.splitting = base, head, false
}

// broken notes a stretch of broken bond, together with its like in other courses.
func (c *layingCourse) broken(from, to measure.Length) {
	l := c.layer
	n, pitch, free := c.First, l.pattern.unit+l.perpend, 2-c.returns
	last := n + (c.Count-1)*c.Step
	for i := range l.out.Broken {
		o := &l.out.Broken[i]
		if near(o.From, from, pitch) && near(o.To, to, pitch) && o.Free == free {
			o.First, o.Last = min(o.First, n), max(o.Last, last)
			o.From, o.To = min(o.From, from), max(o.To, to)
			return
		}
	}
	face := &c.course.face
	l.out.Broken = append(l.out.Broken, Broken{From: from, To: to, First: n, Last: last, Off: face.off(c.origin+face.phase, from), Free: free})
}

func near(a, b, within measure.Length) bool { return a-b < within && b-a < within }

// underTop is the part of the course whose top is above the units' underside; it
// also notes the part that is above the units' heads.
func (c *layingCourse) underTop(start, end measure.Length) (from, to measure.Length) {
	w := c.layer.run.Wall
	from, to = w.Reach(c.Foot)
	square0, square1 := w.Reach(c.Head)
	c.square = [2]measure.Length{max(start, square0), min(end, square1)}
	return max(start, from), min(end, to)
}

// findShapes lists where the pieces of the course are cut to a slope or a curve.
func (c *layingCourse) findShapes(from, to measure.Length) {
	l := c.layer
	l.shapes = l.shapes[:0]
	if l.shaped && from < c.square[0] {
		l.shapes = append(l.shapes, interval{from, c.square[0]})
	}
	for i := range l.spans {
		o := &l.spans[i]
		if k := o.Curve; k != nil && o.in(c.First, l.odd(c.First)) {
			least, most := k.extent(max(c.Foot, o.Foot), c.Head)
			if c.curved = c.curved || most > least; most > least {
				l.shapes = append(l.shapes, interval{k.Middle - most, k.Middle + most})
			}
		}
	}
	if l.shaped && to > c.square[1] {
		l.shapes = append(l.shapes, interval{c.square[1], to})
	}
	c.shapes = united(l.shapes)
}

// united are intervals from left to right, those that overlap as one: a curve may lie under a slope.
func united(list []interval) []interval {
	if len(list) < 2 {
		return list
	}
	slices.SortFunc(list, func(a, b interval) int { return cmp.Compare(a.from, b.from) })
	out := list[:1]
	for _, i := range list[1:] {
		if last := &out[len(out)-1]; i.from <= last.to {
			last.to = max(last.to, i.to)
		} else {
			out = append(out, i)
		}
	}
	return out
}

// across is the part of a course that a hole leaves nothing of. A course that only
// part of a curve reaches into runs on over it, cut to it, unless what is over its
// crown is too low to lay.
func (o *hole) across(c *layingCourse) (left, right measure.Length, open bool) {
	k := o.Curve
	if k == nil {
		return o.From, o.To, true
	}
	foot, head := max(c.Foot, o.Foot), c.Head
	if least := c.layer.rules.LeastSplit; k.Radius > 0 && head > k.Top && head-k.Top < least {
		head = k.Top - least
	} else if k.Radius == 0 && head >= k.Top {
		head = k.Top - 1 // flat: what is over it is laid as over any head
	}
	half, _ := k.extent(min(foot, head), head)
	return k.Middle - half, k.Middle + half, half > 0
}
