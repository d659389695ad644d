package takeoff

import (
	"hodman/service/lintel"
	"hodman/service/measure"
	"hodman/service/product"
	"hodman/service/schedule"
)

// countLintels picks a lintel for every opening that wants one, all at once, and
// puts each into the lift of its seat.
func (j *job) countLintels() {
	total := 0
	for i := range j.schedule.Walls {
		total += len(j.schedule.Walls[i].Openings)
	}
	openings, places := make([]lintel.Opening, 0, total), make([][2]int, 0, total)
	chosen := make([]measure.Length, total)
	j.lintels = make([][]measure.Length, len(j.schedule.Walls))
	for i := range j.schedule.Walls {
		w := &j.schedule.Walls[i]
		n := len(w.Openings)
		j.lintels[i], chosen = chosen[:n:n], chosen[n:]
		for k := range w.Openings {
			if w.Openings[k].HasLintel() {
				openings = append(openings, j.toCarry(i, k))
				places = append(places, [2]int{i, k})
			}
		}
	}
	j.out.Lintels = []lintel.Pick{}
	if len(openings) == 0 {
		return
	}
	picks, findings := lintel.Select(openings, j.cat, j.book, j.schedule.Stock, j.schedule.Stock != nil)
	j.out.Lintels = picks
	j.out.Findings = append(j.out.Findings, findings...)
	for n := range picks {
		p := &picks[n]
		if p.Product == "" {
			continue
		}
		i, k := places[n][0], places[n][1]
		w := &j.schedule.Walls[i]
		j.lintels[i][k] = p.Length
		seat := j.levels.At(w.Base + w.Openings[k].Top())
		e := j.ledger.of(j.cat.Find(p.Product), "each", len(j.levels.Tops))
		e.lifts[seat] += measure.Whole
		e.line.Net += measure.Whole
		e.rule(p.Rules...)
		e.sum(&j.words, w.Ref, "/", p.Opening, ": ", p.Clear+p.Allowance, " + 2 x ", p.LeastBearing, " = ", p.Needed, " mm, ", p.Length, " long")
	}
}

// overBoth and overOne are the makes of lintel over two leaves and over one, the first preferred.
var (
	overBoth = []product.Family{product.SteelCavity}
	overOne  = []product.Family{product.ConcreteSingle, product.SteelSingle}
)

// toCarry describes opening k of wall i to the lintel engine: what sits on the
// lintel and what masonry its ends find.
func (j *job) toCarry(i, k int) lintel.Opening {
	w, leaves := &j.schedule.Walls[i], j.leaves(i)
	o := &w.Openings[k]
	open := lintel.Opening{Wall: w.Ref, Opening: o.Ref, At: j.openingAt(i, k), Clear: o.Width, Allowance: j.schedule.ClearAllowance}
	if o.Head.Bearing != nil {
		open.Asked = *o.Head.Bearing
	}
	if len(leaves) == 2 {
		open.Seat = lintel.Seat{Leaf: "both", Cavity: j.wallType(w.Type).Cavity.Width, Families: overBoth}
	} else {
		open.Seat = lintel.Seat{Leaf: "single", Thickness: leaves[0].Thickness, Families: overOne}
	}
	open.RoomLeft, open.RoomRight = j.besideHead(i, o)
	zone := j.book.Length("lintel.seat_zone")
	for n := range w.Openings {
		b := &w.Openings[n]
		if n == k || b.Sill >= o.Top()+zone || b.Top() <= o.Top()-zone {
			continue
		}
		shared := b.HasLintel() && o.Top()-b.Top() < zone && b.Top()-o.Top() < zone
		switch {
		case b.Right() <= o.Left && o.Left-b.Right() < open.RoomLeft:
			open.RoomLeft, open.SharedLeft = o.Left-b.Right(), shared
		case b.Left >= o.Right() && b.Left-o.Right() < open.RoomRight:
			open.RoomRight, open.SharedRight = b.Left-o.Right(), shared
		case b.Left < o.Right() && o.Left < b.Right():
			// Right above or below: what hangs over the side is in the bearing's way.
			if b.Left < o.Left {
				open.RoomLeft, open.SharedLeft = 0, false
			}
			if b.Right() > o.Right() {
				open.RoomRight, open.SharedRight = 0, false
			}
		}
	}
	return open
}

// besideHead is the masonry from each jamb to where it ends at the level of the head:
// at the wall's end, at a slope, or at an external corner where the inner leaf ends
// sooner than the outer, so that a lintel for both finds both.
func (j *job) besideHead(wall int, o *schedule.Opening) (left, right measure.Length) {
	w := &j.schedule.Walls[wall]
	from, to := j.faces(wall, len(j.leaves(wall))-1)
	from, to = max(0, from), w.Length-max(0, to)
	if w.Top != nil {
		low, high := w.Reach(o.Top())
		from, to = max(from, low), min(to, high)
	}
	return max(0, o.Left-from), max(0, to-o.Right())
}

// inCourse says whether level z, above a wall's base, falls inside the height of a
// leaf's unit: which course, and how much of that unit is under z and over it.
func inCourse(m *schedule.Made, z measure.Length) (course int, under, over measure.Length, inside bool) {
	gauge := m.Unit.Height + m.Bed
	rest := z % gauge
	if rest <= m.Bed {
		return 0, 0, 0, false
	}
	return int(z/gauge) + 1, rest - m.Bed, gauge - rest, true
}
