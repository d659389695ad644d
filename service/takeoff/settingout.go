package takeoff

import (
	"strconv"
	"strings"

	"hodman/service/binpack"
	"hodman/service/bond"
	"hodman/service/finding"
	"hodman/service/measure"
)

// SettingOut compares a leaf set out as given with the best way there is.
type SettingOut struct {
	AsGiven Pieces `json:"as_given"`
	Best    Pieces `json:"best"`
	Ways    []Way  `json:"ways"`
}

// Pieces is what a leaf takes: units before breakage, its own cuts packed by themselves, and
// the pieces of it that are cut.
type Pieces struct {
	Units int `json:"units"`
	Cuts  int `json:"cuts"`
}

// Add is what both take together.
func (p *Pieces) Add(q Pieces) {
	p.Units += q.Units
	p.Cuts += q.Cuts
}

// Way is one thing that the best way does and the schedule as given does not.
type Way struct {
	Way     string         `json:"way"` // perpends, other_end, half_start, shift, broken_bond, corners
	Perpend measure.Length `json:"perpend_mm,omitzero"`
	Shift   measure.Length `json:"shift_mm,omitzero"`
	Text    string         `json:"text"`
}

// setOut lays the runs of a chain as the schedule asks, and notes the other way where
// it asks for a comparison.
func (j *job) setOut(c chain, k int, runs []bond.Run, rules bond.Rules) []bond.Laying {
	given := j.gang.SetOut(runs, c.ring, rules)
	if j.schedule.SettingOut == "" {
		return given
	}
	least, most := j.book.Length("joint.perpend_least"), j.book.Length("joint.perpend_most")
	if j.given == nil {
		j.given = make([][]setLeaf, len(j.schedule.Walls))
	}
	best := bond.Best(runs, c.ring, rules, least, most)
	for n, i := range c.walls {
		so := &SettingOut{AsGiven: j.pieces(&given[n]), Best: j.pieces(&best[n]), Ways: waysOf(&given[n], &best[n])}
		j.out.Walls[i].Leaves[k].SettingOut = so
		wall := j.out.Walls[i].SettingOut
		if wall == nil {
			wall = &WallSettingOut{Nudges: []Nudge{}, Rules: setOutRules}
			j.out.Walls[i].SettingOut = wall
		}
		wall.AsGiven.Add(so.AsGiven)
		wall.Best.Add(so.Best)
		j.given[i] = append(j.given[i], setLeaf{runs[n], &given[n]})
		if k == 0 {
			j.checkPerpends(i, &runs[n], least, most)
		}
		if j.schedule.SettingOut == "best" {
			j.tellWays(i, &runs[n], so)
		}
	}
	if j.schedule.SettingOut == "best" {
		return best
	}
	return given
}

// pieces counts a laying's own units.
func (j *job) pieces(l *bond.Laying) Pieces {
	var p Pieces
	u := units{product: l.Units[0], lifts: make([]unitLift, 1)}
	for b := range l.Bands {
		for i := range l.Bands[b].Strips {
			u.add(0, &l.Bands[b].Strips[i], l.Bands[b].Count, u.product.Thickness)
		}
	}
	kerf := int64(j.book.Length("cuts.kerf"))
	_, p.Cuts = l.Pieces()
	p.Units = u.lifts[0].whole + u.splits
	if j.schedule.CutReuse == "none" {
		p.Units = u.lifts[0].whole + p.Cuts
		return p
	}
	p.Units += binpack.Fewest(int64(u.product.Length), kerf, u.cuts).Bins
	for _, l := range u.closers {
		p.Units += binpack.Fewest(int64(l.thick), kerf, l.closers).Bins
	}
	return p
}

// tellWays says that a leaf is not counted as the schedule gives it.
func (j *job) tellWays(wall int, r *bond.Run, so *SettingOut) {
	if len(so.Ways) == 0 {
		return
	}
	how := make([]string, len(so.Ways))
	for i := range so.Ways {
		how[i] = so.Ways[i].Text
	}
	j.note(finding.Note, "setting_out.best", j.wallAt(wall),
		"wall "+r.Wall.Ref+", "+r.Leaf.Name+" leaf is counted as it is best set out: "+strings.Join(how, "; ")+": "+
			counted(so.Best.Cuts, "cut piece")+" instead of "+strconv.Itoa(so.AsGiven.Cuts),
		"tell whoever sets it out, or ask for setting_out as_given", "joint.perpend_least")
}

// waysOf puts into words how the best laying differs from that given.
func waysOf(given, best *bond.Laying) []Way {
	ways := []Way{}
	w := best.Way
	if w.Perpend != 0 {
		opened := "opened"
		if w.Perpend < given.Perpend {
			opened = "closed"
		}
		ways = append(ways, Way{Way: "perpends", Perpend: w.Perpend, Text: "perpends " + opened + " from " + given.Perpend.String() + " to " + w.Perpend.String() + " mm"})
	}
	if w.FromRight {
		ways = append(ways, Way{Way: "other_end", Text: "set out from the right end"})
	}
	if w.Half {
		ways = append(ways, Way{Way: "half_start", Text: "the bond reversed: odd courses start as even ones do as given"})
	}
	if w.Shift != 0 {
		ways = append(ways, Way{Way: "shift", Shift: w.Shift, Text: "the bond shifted by " + w.Shift.String() + " mm, so that it suits a reveal"})
	}
	switch w.Piers {
	case bond.PiersFromLeft:
		ways = append(ways, Way{Way: "broken_bond", Text: "each pier set out from its left reveal, broken bond under and over the openings"})
	case bond.PiersFromRight:
		ways = append(ways, Way{Way: "broken_bond", Text: "each pier set out from its right reveal, broken bond under and over the openings"})
	}
	if given.OwnsLeft != best.OwnsLeft || given.OwnsRight != best.OwnsRight {
		ways = append(ways, Way{Way: "corners", Text: "the other wall starts at a corner"})
	}
	return ways
}

// checkPerpends tells of a wall that no perpend within the limits makes work to half units in its
// first leaf, between where a course begins that owns both ends.
func (j *job) checkPerpends(wall int, r *bond.Run, least, most measure.Length) {
	half := (r.Leaf.Unit.Length + r.Leaf.Perpend) / 2
	near, far := toBond(r.Wall.Length-r.Starts(0)-r.Starts(1), half, -r.Leaf.Perpend)
	if near == 0 || r.Leaf.HalfBricks() > 1 || len(bond.Perpends(r, least, most)) > 0 {
		return
	}
	w := r.Wall
	j.note(finding.Note, "setting_out.no_perpend", j.wallAt(wall)+"/length_mm",
		"wall "+w.Ref+", "+r.Leaf.Name+" leaf: no perpend from "+least.String()+" to "+most.String()+" mm makes "+w.Length.String()+" mm, or a pier or an opening's place in it, work to half units",
		"the nearest lengths that work are "+(w.Length+near).String()+" and "+(w.Length+far).String()+" mm", "joint.perpend_least")
}
