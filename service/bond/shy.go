package bond

import (
	"hodman/service/measure"
	"hodman/service/schedule"
)

// mostShy is by how much a course may stop short of a free end or a reveal without anybody
// seeing it: what is gained in the perpends near it.
const mostShy = 2 * measure.Millimetre

// shy are the free ends and reveals, a bit each, that some course stops short of by no
// more than a perpend, which is left to the mortar. A way to set out may not save cuts by
// that where as given there is none. Runs that bond with another are not looked at, nor
// bonds with headers, where a course ends in what its end asks for, nor more than 31 openings.
func (r *Run) shy(way Way) uint64 {
	m, length := r.Leaf, r.Wall.Length
	if r.bonded(0) || r.bonded(1) || schedule.Headed(m.Bond) || len(r.Wall.Openings) > 31 {
		return 0
	}
	perpend := m.Perpend
	if way.Perpend != 0 {
		perpend = way.Perpend
	}
	left, right := r.meeting(0), r.meeting(1)
	g := gauge{perpend: perpend, step: (m.Unit.Length + perpend) / steps(m.Bond), start: left.Owned(perpend) + way.Shift}
	from, to := left.Owned(perpend), length-right.Owned(perpend)
	l := layer{run: *r, perpend: m.Perpend}
	openings := []reach(nil)
	if len(r.Wall.Openings) > 0 {
		openings = l.openings()
	}
	if way.Piers != AsOne {
		// Each pier is flush where it is set out from.
		for i, o := range openings {
			g.start = from
			g.stops(o.from, 2*i+2)
			from = o.to
		}
		g.start = from
		g.stops(to, 0)
		return g.shy
	}
	if way.FromRight {
		g.start = right.Owned(perpend)
		g.stops(length-from, 1)
		for i, o := range openings {
			g.stops(length-o.to, 2*i+3)
			g.begins(length-o.from, 2*i+2)
		}
		return g.shy
	}
	g.stops(to, 0)
	for i, o := range openings {
		g.stops(o.from, 2*i+2)
		g.begins(o.to, 2*i+3)
	}
	return g.shy
}

// steps is how many places along a unit and its joint a course of a bond may begin at.
func steps(bond string) measure.Length {
	switch bond {
	case "third":
		return 3
	case "stack":
		return 1
	}
	return 2
}

// gauge is where units begin and end along a run, seen over all its courses.
type gauge struct {
	perpend, step, start measure.Length
	shy                  uint64
}

// stops notes an edge that masonry stops at and where a unit ends shortly before it.
func (g *gauge) stops(x measure.Length, edge int) { g.note(x-g.start+g.perpend, edge) }

// begins notes an edge that masonry begins at and where a unit begins shortly after it.
func (g *gauge) begins(x measure.Length, edge int) { g.note(g.start-x, edge) }

// note tells an edge by how far it is past a whole number of steps.
func (g *gauge) note(x measure.Length, edge int) {
	gap := x - g.step*measure.Length(measure.FloorDiv(int64(x), int64(g.step)))
	if gap > mostShy && gap <= g.perpend {
		g.shy |= 1 << edge
	}
}
