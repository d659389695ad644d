package bond

import (
	"cmp"
	"slices"

	"hodman/service/measure"
)

// noteShared notes which holes stand over one another in one and the same course.
func noteShared(list []hole) {
	for i := range list {
		a := &list[i]
		for k := range list[:i] {
			if b := &list[k]; a.From < b.To && b.From < a.To && a.first < b.next && b.first < a.next {
				a.shared, b.shared = true, true
			}
		}
	}
}

// stop is a hole that a course stops at, and what of the course it leaves nothing of.
type stop struct {
	left, right measure.Length
	hole        *hole
}

// stops are the holes that the course stops at, by their left side in the course: an arch that is
// wide higher up may begin behind what stands beside its foot.
func (c *layingCourse) stops() []stop {
	l := c.layer
	list, sorted := l.stops[:0], true
	for i := range l.spans {
		o := &l.spans[i]
		if !o.in(c.First, l.odd(c.First)) {
			continue
		}
		if left, right, open := o.across(c); open {
			n := len(list)
			sorted = sorted && (n == 0 || list[n-1].left <= left)
			list = append(list, stop{left, right, o})
		}
	}
	if !sorted {
		slices.SortFunc(list, func(a, b stop) int { return cmp.Compare(a.left, b.left) })
	}
	l.stops = list
	return list
}

// between is left where other holes stand over or under this one in the same course:
// what stands between two is laid once, from the lower one's head to the upper one's foot.
func (c *layingCourse) between(from, to measure.Length, g *hole) {
	if to <= from {
		return
	}
	edges := c.edges(from, to, g)
	for i := range len(edges) - 1 {
		a, b := edges[i], edges[i+1]
		foot, covered := measure.Length(0), false
		c.others(g, a, b, func(o *hole, _, _ measure.Length) {
			if o.Head <= g.Foot {
				foot = max(foot, o.Head-c.Foot)
			} else {
				covered = true
			}
		})
		c.split(a, b, foot, g.Foot-c.Foot-foot)
		if level := g.Curve == nil || g.Curve.Radius == 0; level && !covered {
			c.split(a, b, g.Head-c.Foot, c.Head-g.Head)
		}
	}
}

// edges part a hole's width where another begins or ends.
func (c *layingCourse) edges(from, to measure.Length, g *hole) []measure.Length {
	list := []measure.Length{from, to}
	c.others(g, from, to, func(_ *hole, left, right measure.Length) {
		list = append(list, max(from, left), min(to, right))
	})
	slices.Sort(list)
	return slices.Compact(list)
}

// others calls f for the other holes that the course stops at between from and to, with
// what each leaves nothing of.
func (c *layingCourse) others(g *hole, from, to measure.Length, f func(o *hole, left, right measure.Length)) {
	l := c.layer
	for i := range l.spans {
		o := &l.spans[i]
		if o == g || !o.in(c.First, l.odd(c.First)) {
			continue
		}
		if left, right, open := o.across(c); open && left < to && from < right {
			f(o, left, right)
		}
	}
}
