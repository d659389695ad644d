package takeoff

import (
	"strconv"

	"hodman/service/bond"
	"hodman/service/finding"
	"hodman/service/measure"
	"hodman/service/product"
	"hodman/service/schedule"
)

// checkLifts tells of lifts that had to be added to reach the top of the walls.
func (j *job) checkLifts() {
	l := &j.levels
	if l.Given > 0 && l.Given < len(l.Tops) {
		j.note(finding.Check, "lift.tops_short", "/lifts/tops_mm",
			"the highest lift given ends at "+l.Tops[l.Given-1].String()+" mm and the walls at "+l.Tops[len(l.Tops)-1].String()+" mm: "+strconv.Itoa(len(l.Tops)-l.Given)+" more were added on top",
			"give tops up to "+l.Tops[len(l.Tops)-1].String()+" mm", "lift.height")
	}
}

// checkMass tells of units too heavy to lay single-handed.
func (j *job) checkMass(p *product.Product) {
	most := measure.Mass(j.book.Count("unit.heavy")) * measure.Kilogram
	if p.Mass > most {
		j.note(finding.Check, "unit.heavy", "/wall_types", p.Code+" weighs "+p.Mass.String()+" kg; over "+most.String()+" kg repetitive lifting by one person is high risk",
			"choose a lighter or smaller unit, or plan for mechanical handling; assess it on site", "unit.heavy")
	}
}

// counted is "1 course", "2 courses".
func counted(n int, thing string) string {
	if n == 1 {
		return "1 " + thing
	}
	return strconv.Itoa(n) + " " + thing + "s"
}

// sayCourses goes on with "course 8" or "courses 6 to 8".
func (j *job) sayCourses(first, last int) {
	if first == last {
		j.words.Add("course ", first)
		return
	}
	j.words.Add("courses ", first, " to ", last)
}

// checkBond tells of stretches in broken bond, with the nearest size that avoids it.
func (j *job) checkBond(wall, k int, m *schedule.Made, laid *bond.Laying) {
	half := (m.Unit.Length + m.Perpend) / 2
	for _, b := range laid.Broken {
		size := b.To - b.From
		joint := -m.Perpend // between free ends: n half units and no joint at the end
		past := measure.Length(0)
		switch t := &j.meetings[wall][k]; {
		case t[0].Junction || t[1].Junction:
			// A wall that runs into another is said as it is measured, from that one's face.
			length := j.schedule.Walls[wall].Length
			past = max(0, -b.From) + max(0, b.To-length)
		case b.Free == 1 && m.Unit.Thickness+m.Perpend != half:
			// From a corner bricks lap by half, so that both courses end in halves; blocks of 100 mm lap by 110,
			// and end in pieces long enough where one more joint is let in.
			joint = 0
		}
		n := max(1, measure.Length(measure.HalfUpDiv(int64(size-joint), int64(half))))
		remedy := ""
		if n*half+joint == size && b.Off != 0 {
			remedy = j.words.Say("its length suits the bond and its place does not: it would lie on it ", b.Off, " mm further along")
		} else {
			remedy = j.words.Say("the nearest size that works to the bond is ", n*half+joint-past, " mm")
		}
		j.words.Add("wall ", j.schedule.Walls[wall].Ref, ", ", m.Name, " leaf: broken bond from ", b.From, " to ", b.To, " mm, ")
		j.sayCourses(b.First, b.Last)
		text := j.words.Say(": a cut under a quarter of a unit was shared with its neighbour")
		j.note(finding.Note, "bond.broken", j.wallAt(wall), text, remedy, "bond.least_cut")
	}
}

// checkCoursing tells of sills and heads that fall inside a course of a leaf.
func (j *job) checkCoursing(wall int) {
	w, leaves := &j.schedule.Walls[wall], j.leaves(wall)
	for k := range w.Openings {
		o := &w.Openings[k]
		if o.Sill > 0 && o.Shape != "round" {
			j.checkEdge(wall, k, "sill", o.Sill, leaves)
		}
		j.checkStub(wall, k)
		if !o.Curved() && !o.HasArch() {
			j.checkEdge(wall, k, "head", o.Top(), leaves)
		}
	}
}

// checkStub tells of a stub of wall over an opening that is too low to lay anything of.
func (j *job) checkStub(wall, k int) {
	w := &j.schedule.Walls[wall]
	o := &w.Openings[k]
	over := w.LowestOver(o.Left, o.Right()) - o.Top()
	least := j.book.Length("bond.split_least")
	if o.Curved() || over <= 0 || over >= least {
		return
	}
	j.note(finding.Check, "opening.stub", j.openingAt(wall, k)+"/height_mm",
		"wall "+w.Ref+": "+over.String()+" mm of wall stand over "+o.Ref+", too low to lay anything of: nothing is counted there",
		"take the opening up to the wall's top, or leave "+least.String()+" mm and a bed over it at least", "bond.split_least")
}

// checkEdge tells of the sill or the head of an opening, z above the wall's base.
func (j *job) checkEdge(wall, k int, edge string, z measure.Length, leaves []schedule.Made) {
	w, sill, found := &j.schedule.Walls[wall], edge == "sill", false
	for i := range leaves {
		course, left, over, inside := inCourse(&leaves[i], z)
		if !inside {
			continue
		}
		if !sill {
			left = over
		}
		if found {
			j.words.Add("; ")
		} else {
			j.words.Add("wall ", w.Ref, ": the ", edge, " of ", w.Openings[k].Ref, " at ", z, " mm falls ")
		}
		found = true
		j.words.Add("inside course ", course, " of the ", leaves[i].Name, " leaf")
		if left < j.book.Length("bond.split_least") {
			j.words.Add(", whose last ", left, " mm are too little to lay")
		} else {
			j.words.Add(", whose units there are cut to ", left, " mm high")
		}
	}
	if !found {
		return
	}
	text := j.words.End()
	step, every := levelStep(leaves)
	if every {
		j.words.Add("levels that work in every leaf: ")
	} else {
		j.words.Add("no level within reach works in both leaves; in the ", leaves[0].Name, " leaf: ")
	}
	if below := z / step * step; sill || below > 0 {
		j.words.Add(below, " or ")
	}
	remedy := j.words.Say(z/step*step+step, " mm above the wall's base")
	at := "height_mm"
	if sill {
		at = "sill_mm"
	}
	j.note(finding.Note, "course.level", j.words.Say("/walls/", wall, "/openings/", k, "/", at), text, remedy, "course.closing")
}

// levelStep is how far apart the levels are at which every leaf has the top of a
// course. Where the gauges do not meet within 2 m it is the first leaf's gauge.
func levelStep(leaves []schedule.Made) (step measure.Length, every bool) {
	step, every = leaves[0].Unit.Height+leaves[0].Bed, true
	for i := range leaves[1:] {
		gauge := leaves[i+1].Unit.Height + leaves[i+1].Bed
		if both := common(step, gauge); both <= 2*measure.Metre {
			step = both
		} else {
			every = false
		}
	}
	return step, every
}

// common is the least common multiple of two gauges.
func common(a, b measure.Length) measure.Length {
	x, y := a, b
	for y != 0 {
		x, y = y, x%y
	}
	return a / x * b
}
