package takeoff

import (
	"strconv"

	"hodman/service/binpack"
	"hodman/service/bond"
	"hodman/service/finding"
	"hodman/service/measure"
	"hodman/service/schedule"
)

// SettingOut compares a leaf set out as given with the best way there is, and says
// what on the drawing would have to move for it to work to the bond.
type SettingOut struct {
	AsGiven Pieces  `json:"as_given"`
	Best    Pieces  `json:"best"`
	Ways    []Way   `json:"ways"`
	Nudges  []Nudge `json:"nudges"`
}

// Pieces is what a leaf takes: units before breakage, its own cuts packed by themselves, and
// the pieces of it that are cut.
type Pieces struct {
	Units int `json:"units"`
	Cuts  int `json:"cuts"`
}

// Way is one thing that the best way does and the schedule as given does not.
type Way struct {
	Way     string         `json:"way"` // perpends, other_end, half_start, broken_bond, corners
	Perpend measure.Length `json:"perpend_mm,omitzero"`
	Text    string         `json:"text"`
}

// Nudge is a length of the schedule that would work to the bond if it were By longer.
type Nudge struct {
	At    string         `json:"at"` // JSON Pointer
	By    measure.Length `json:"by_mm"`
	Saves int            `json:"saves"` // cut pieces of this leaf
	Text  string         `json:"text"`
}

// setOut lays the runs of a chain as the schedule asks, and notes the other way where
// it asks for a comparison.
func (j *job) setOut(c chain, k int, runs []bond.Run, rules bond.Rules) []bond.Laying {
	given := bond.SetOut(runs, c.ring, rules)
	if j.schedule.SettingOut == "" {
		return given
	}
	least, most := j.book.Length("joint.perpend_least"), j.book.Length("joint.perpend_most")
	best := bond.Best(runs, c.ring, rules, least, most)
	for n, i := range c.walls {
		so := &SettingOut{AsGiven: j.pieces(&given[n]), Best: j.pieces(&best[n]), Ways: waysOf(&given[n], &best[n]), Nudges: []Nudge{}}
		so.Nudges = nudges(so.Nudges, i, runs[n], rules, &best[n])
		j.out.Walls[i].Leaves[k].SettingOut = so
		j.checkPerpends(i, &runs[n], least, most)
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
			u.add(0, &l.Bands[b].Strips[i], l.Bands[b].Count)
		}
	}
	kerf := int64(j.book.Length("cuts.kerf"))
	_, p.Cuts = l.Pieces()
	p.Units = u.lifts[0].whole + u.splits
	p.Units += binpack.Fewest(int64(u.product.Length), kerf, u.cuts).Bins
	p.Units += binpack.Fewest(int64(u.product.Thickness), kerf, u.closers).Bins
	return p
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

// nudges tries every length of a wall at the nearest size that works to the bond, one at
// a time, and keeps what saves cutting.
func nudges(list []Nudge, wall int, r bond.Run, rules bond.Rules, laid *bond.Laying) []Nudge {
	before, _ := bond.Count(r, rules, laid)
	half := (r.Leaf.Unit.Length + laid.Perpend) / 2
	w := *r.Wall
	r.Wall = &w
	try := func(at, what string, size *measure.Length, joint measure.Length) {
		was := *size
		near, _ := toBond(was, half, joint)
		if *size += near; near != 0 && stands(&w) {
			if after, _ := bond.Count(r, rules, laid); after < before {
				list = append(list, Nudge{At: at, By: near, Saves: before - after,
					Text: what + " " + size.String() + " instead of " + was.String() + " mm would leave " + strconv.Itoa(before-after) + " fewer cut pieces"})
			}
		}
		*size = was
	}
	try(wallAt(wall)+"/length_mm", "a length of", &w.Length, -laid.Perpend)
	w.Openings = append([]schedule.Opening(nil), w.Openings...)
	for k := range w.Openings {
		o, at := &w.Openings[k], openingAt(wall, k)
		try(at+"/left_mm", o.Ref+" at", &o.Left, -laid.Perpend)
		try(at+"/width_mm", "a width of "+o.Ref+" of", &o.Width, laid.Perpend)
	}
	return list
}

// toBond is by how much a size would have to change to be n half units and a joint more
// (or less), the nearer way and the other; nought and nought where it is.
func toBond(size, half, joint measure.Length) (near, far measure.Length) {
	over := measure.Length(int64(size-joint) % int64(half))
	switch {
	case over <= 0:
		return 0, 0
	case over < half-over:
		return -over, half - over
	}
	return half - over, -over
}

// stands says whether a wall's openings still have room in it, one beside the other.
func stands(w *schedule.Wall) bool {
	for i := range w.Openings {
		o := &w.Openings[i]
		if o.Left < 0 || o.Right() > w.Length || o.Top() > min(w.HighestAt(o.Left), w.HighestAt(o.Right())) {
			return false
		}
		for k := range w.Openings[:i] {
			p := &w.Openings[k]
			if o.Left < p.Right() && p.Left < o.Right() && o.Sill < p.Top() && p.Sill < o.Top() {
				return false
			}
		}
	}
	return true
}

// checkPerpends tells of a run that no perpend within the limits makes work to half units.
func (j *job) checkPerpends(wall int, r *bond.Run, least, most measure.Length) {
	half := (r.Leaf.Unit.Length + r.Leaf.Perpend) / 2
	near, far := toBond(r.Wall.Length, half, -r.Leaf.Perpend)
	if near == 0 || len(bond.Perpends(r, least, most)) > 0 {
		return
	}
	w := r.Wall
	j.note(finding.Note, "setting_out.no_perpend", wallAt(wall)+"/length_mm",
		"wall "+w.Ref+", "+r.Leaf.Name+" leaf: no perpend from "+least.String()+" to "+most.String()+" mm makes "+w.Length.String()+" mm, or a pier or an opening's place in it, work to half units",
		"the nearest lengths that work are "+(w.Length+near).String()+" and "+(w.Length+far).String()+" mm", "joint.perpend_least")
}
