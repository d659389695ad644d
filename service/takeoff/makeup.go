package takeoff

import (
	"hodman/service/bond"
	"hodman/service/coursing"
	"hodman/service/finding"
	"hodman/service/product"
	"hodman/service/schedule"
)

// checkLaying tells what the laying of one leaf came to: a closing course and the other
// ways to make the height up, beds that have to grow, broken bond.
func (j *job) checkLaying(wall, k int, m *schedule.Made, laid *bond.Laying) {
	if laid.Closing > 0 || laid.Growth > 0 {
		j.checkHeight(wall, k, m)
	}
	j.checkBond(wall, k, m, laid)
	j.checkReturn(wall, k, laid)
}

// checkHeight tells how a height that does not work to gauge is made up.
func (j *job) checkHeight(wall, k int, m *schedule.Made) {
	at := j.words.Say("/walls/", wall, "/height_mm")
	low := j.lowUnit(m)
	leaf := coursing.MadeUp(j.courses(wall, k, low), j.book)
	j.out.Walls[wall].Leaves[k].MakeUps = leaf.MakeUps
	j.words.Add("wall ", j.schedule.Walls[wall].Ref, ", ", m.Name, " leaf: ", leaf.Courses, " courses of ", leaf.Gauge, " mm leave ", leaf.Remainder, " mm")
	if leaf.Closing == 0 {
		j.note(finding.Note, "course.beds_grow", at, j.words.Say(", taken up in the beds: each grows by ", leaf.Growth, " mm"),
			j.words.Say("make the height ", leaf.Below, " mm where the beds are to stay as they are"), "course.closing")
		return
	}
	severity, sliver := finding.Note, ""
	if leaf.Sliver {
		severity, sliver = finding.Check, ", a sliver under half a unit"
	}
	text := j.words.Say(": a closing course of units cut to ", leaf.Closing, " mm high", sliver)
	j.note(severity, "course.closing", at, text, j.otherwise(&leaf, low), "course.closing")
}

// courses describes a leaf to the coursing engine. Over a level top the leaf's face is
// its run, and each course has a unit for every half brick of its thickness.
func (j *job) courses(wall, k int, low *product.Product) *coursing.Wall {
	m, w := &j.leaves(wall)[k], &j.schedule.Walls[wall]
	left, right := j.faces(wall, k)
	return &coursing.Wall{Height: w.Height, Unit: m.Unit.Height, Bed: m.Bed, Length: m.Unit.Length, Perpend: m.Perpend,
		Run: w.Length - left - right, Ranks: m.HalfBricks(), Low: low}
}

// lowUnit is the coursing unit that is sold for a leaf of blocks, or nil.
func (j *job) lowUnit(m *schedule.Made) *product.Product {
	if m.Unit.Kind != product.Block {
		return nil
	}
	for _, u := range j.cat.OfKind(product.CoursingUnit) {
		if u.Thickness == m.Unit.Thickness {
			return u
		}
	}
	return nil
}

// otherwise says how else a height can be made up, and which heights need nothing.
func (j *job) otherwise(l *coursing.Leaf, low *product.Product) string {
	for i := range l.MakeUps {
		switch m := &l.MakeUps[i]; m.Kind {
		case "regauged":
			j.words.Add("gauge ", counted(m.Courses, "course"), " with beds of ", m.Bed, " mm; or ")
		case "coursing_units", "regauged_coursing_units":
			j.words.Add("lay ")
			if m.Courses < l.Courses {
				j.words.Add(counted(m.Courses, "course"), " and ")
			}
			j.words.Add(counted(m.CoursingUnits, "course"), " of ", low.Code, " on top")
			if m.Kind == "regauged_coursing_units" {
				j.words.Add(", on beds of ", m.Bed, " mm")
			}
			j.words.Add("; or ")
		}
	}
	j.words.Add("make the height ")
	if l.Below > 0 {
		j.words.Add(l.Below, " or ")
	}
	return j.words.Say(l.Above, " mm")
}

// checkTies tells of cavity walls whose leaves have no beds for ties in reach of each
// other, once a wall type, at its highest wall.
func (j *job) checkTies() {
	for i := range j.schedule.WallTypes {
		t := &j.schedule.WallTypes[i]
		leaves := j.types[t.Key]
		if len(leaves) != 2 {
			continue
		}
		highest := -1
		for n := range j.schedule.Walls {
			if w := &j.schedule.Walls[n]; w.Type == t.Key && (highest < 0 || w.Height > j.schedule.Walls[highest].Height) {
				highest = n
			}
		}
		if highest < 0 {
			continue
		}
		w := &j.schedule.Walls[highest]
		for _, f := range coursing.BedsPart(j.courses(highest, 0, nil), j.courses(highest, 1, nil), w.Base, j.wallAt(highest), j.book) {
			f.Text = "wall type " + t.Key + ": " + f.Text
			j.out.Findings = append(j.out.Findings, f)
		}
	}
}
