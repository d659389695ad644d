package takeoff

import (
	"hodman/service/ancillary"
	"hodman/service/bond"
	"hodman/service/finding"
	"hodman/service/measure"
	"hodman/service/schedule"
)

// tied are the places where leaves of a wall butt against another wall of the schedule.
func (j *job) tied(wall int) (list []ancillary.Tied) {
	w := &j.schedule.Walls[wall]
	for side, name := range [2]string{"left", "right"} {
		leaves := 0
		for k := range j.meetings[wall] {
			if j.meetings[wall][k][side].Tied {
				leaves++
			}
		}
		if leaves > 0 {
			list = append(list, ancillary.Tied{Where: name + " end", Leaves: leaves, Height: w.HighestAt(measure.Length(side) * w.Length)})
		}
	}
	for _, p := range w.MadePiers(j.leaves(wall)) {
		if !p.Bonded {
			list = append(list, ancillary.Tied{Where: "pier at " + p.From.String(), Leaves: 1, Height: p.Head})
		}
	}
	if j.stems == nil {
		return list
	}
	for i := range j.stems[wall] {
		if e := &j.stems[wall][i]; e.Takes == schedule.TakesAll {
			// It stands on both sides of the other.
			height := max(0, min(w.HighestAt(e.From), e.Over+e.Height))
			list = append(list, ancillary.Tied{Where: "crossing of " + j.schedule.Walls[e.Wall].Ref, Leaves: 2, Height: height})
		}
	}
	return list
}

// checkJunctions tells of leaves that butt at a corner or a junction because their courses do not meet.
func (j *job) checkJunctions() {
	for i := range j.meetings {
		w := &j.schedule.Walls[i]
		for k := range j.meetings[i] {
			for side, name := range [2]string{"left", "right"} {
				t := &j.meetings[i][k][side]
				if t.Wall < 0 || t.Bonded || !t.Tied && k < len(j.leaves(t.Wall)) {
					continue
				}
				m, n := &j.leaves(i)[k], &j.leaves(t.Wall)[t.Leaf]
				j.checkTied(i, name, w, t, m, n)
			}
		}
	}
}

func (j *job) checkTied(i int, name string, w *schedule.Wall, t *schedule.Meeting, m, n *schedule.Made) {
	who := "wall " + w.Ref + ", " + m.Name + " leaf: "
	other := "the " + n.Name + " leaf of wall " + j.schedule.Walls[t.Wall].Ref
	switch {
	case t.Asked:
	case m.Back > 0 && n.Name == "single" && !t.Junction:
		j.note(finding.Check, "corner.cavity_ends", j.wallAt(i)+"/"+name,
			who+"it ends at "+other+", which has no leaf to bond with it, and the cavity ends there",
			"have the designer say how the cavity is closed and kept dry there: a vertical damp-proof course is not counted", "corner.tied")
	default:
		j.note(finding.Note, "corner.tied", j.wallAt(i)+"/"+name,
			who+"courses of "+m.Gauge().String()+" mm do not meet those of "+n.Gauge().String()+" mm in "+other+": it butts against that with a joint and is tied",
			"for a bonded one give both one gauge, or one a multiple of the other's, and bases to suit", "corner.tied")
	}
}

// stand puts a wall's piers and its plinth to leaf k's run.
func (j *job) stand(r *bond.Run, wall, k int) {
	for _, p := range r.Wall.MadePiers(j.leaves(wall)) {
		if p.Leaf == k {
			r.Piers = append(r.Piers, p)
		}
	}
	r.Gaps = append(r.Gaps, bond.PierGaps(r)...)
	if p := r.Wall.Plinth; p != nil && k == 0 {
		r.Foot.Unit, r.Foot.Courses = p.Of(r.Leaf.Gauge(), j.cat)
	}
}

// checkReturn tells of a return so short that its courses are slivers of a unit.
func (j *job) checkReturn(wall, k int, laid *bond.Laying) {
	w, m, t := &j.schedule.Walls[wall], &j.leaves(wall)[k], &j.meetings[wall][k]
	if !t[0].Bonded || !t[1].Bonded || m.Thickness > m.Unit.Thickness || w.Length > 2*m.Unit.Length {
		return
	}
	least := measure.Length(j.book.Ratio("bond.least_cut").HalfUpOf(int64(m.Unit.Length)))
	shortest := least
	for b := range laid.Bands {
		if list := laid.Bands[b].Strips; len(list) == 1 && list[0].Count == 1 {
			shortest = min(shortest, list[0].Length)
		}
	}
	if shortest == least {
		return
	}
	// Owned at one end and lent at the other, it takes a half, or a whole unit and so on.
	taken := t[0].Owned(m.Perpend) + t[1].Lent(m.Perpend)
	half := (m.Unit.Length - m.Perpend) / 2
	j.note(finding.Check, "return.sliver", j.wallAt(wall)+"/length_mm",
		"wall "+w.Ref+", "+m.Name+" leaf: the return leaves pieces of "+shortest.String()+" mm, under "+least.String()+" mm, in whole courses",
		"make it "+(taken+half).String()+" or "+(taken+m.Unit.Length).String()+" mm, where it takes a half or a whole unit", "bond.least_cut")
}

// met notes how a leaf of these units is bonded to others that stand against it.
func (u *units) met(run *bond.Run) {
	for i := range run.Ends {
		u.joined[0] = u.joined[0] || run.Ends[i].Bonded && run.Ends[i].Junction
	}
	for i := range run.Piers {
		u.joined[1] = u.joined[1] || run.Piers[i].Bonded
	}
}

// joinedRules are the rules of that.
func (u *units) joinedRules() (ids []string) {
	for i, id := range [2]string{"junction.bonded", "pier.bonded"} {
		if u.joined[i] {
			ids = append(ids, id)
		}
	}
	return ids
}
