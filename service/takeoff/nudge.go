package takeoff

import (
	"cmp"
	"slices"

	"hodman/service/bond"
	"hodman/service/finding"
	"hodman/service/measure"
	"hodman/service/schedule"
)

// WallSettingOut is what the leaves of a wall come to, and what on the drawing would have
// to move for them to work to the bond.
type WallSettingOut struct {
	AsGiven Pieces   `json:"as_given"`
	Best    Pieces   `json:"best"`
	Nudges  []Nudge  `json:"nudges"`
	Rules   []string `json:"rules"`
}

// setOutRules are what a wall is best set out by.
var setOutRules = []string{"joint.perpend_least", "joint.perpend_most", "bond.least_cut", "bond.split_least", "cuts.kerf", "cuts.reuse"}

// setLeaf is one leaf laid as given.
type setLeaf struct {
	run  bond.Run
	laid *bond.Laying
}

// Nudge is a length of the schedule that would save cutting if it were By longer, together
// with others where one alone does not do.
type Nudge struct {
	At    string         `json:"at"` // JSON Pointer
	By    measure.Length `json:"by_mm"`
	With  []Change       `json:"with,omitzero"`
	Saves int            `json:"saves"` // cut pieces of all leaves, laid as given
	Text  string         `json:"text"`
}

// Change is a length of the schedule made By longer.
type Change struct {
	At string         `json:"at"`
	By measure.Length `json:"by_mm"`
}

// nudger tries the lengths of one wall at sizes that work to the bond of its first leaf.
type nudger struct {
	job    *job
	rules  bond.Rules
	wall   int
	of     *WallSettingOut
	leaves []setLeaf
	copied schedule.Wall // what is tried
	cuts   int           // with nothing nudged
	tried  []tried       // that save, of the length or opening under way
}

// findNudges looks for what would save cutting at each wall: an opening moved, made wider or
// narrower, or both, and the wall's own length; each with the rest as it is.
func (j *job) findNudges(rules bond.Rules) {
	for i := range j.out.Walls {
		of := j.out.Walls[i].SettingOut
		if of == nil {
			continue
		}
		if w := &j.schedule.Walls[i]; hasFeatures(w) || len(w.Piers) > 0 {
			j.note(finding.Note, "setting_out.not_nudged", j.wallAt(i), "wall "+w.Ref+" has arches, bands, soldiers, sills or piers, which would have to move with its openings: no lengths to nudge were looked for",
				"set the wall out without them to see what would save cutting", "joint.perpend_least")
			continue
		}
		n := nudger{job: j, rules: rules, wall: i, of: of, leaves: j.given[i], copied: j.schedule.Walls[i]}
		n.copied.Openings = slices.Clone(n.copied.Openings)
		for k := range n.leaves {
			n.leaves[k].run.Wall = &n.copied
		}
		n.cuts = n.count()
		n.length()
		for k := range n.copied.Openings {
			n.opening(k)
		}
	}
}

// count is the cut pieces of all leaves as the wall is now.
func (n *nudger) count() int {
	total := 0
	for i := range n.leaves {
		l := &n.leaves[i]
		cuts, _ := bond.Count(l.run, n.rules, l.laid)
		total += cuts
	}
	return total
}

// half is half a unit of the first leaf and its joint, and perpend the joint.
func (n *nudger) half() (half, perpend measure.Length) {
	l := &n.leaves[0]
	return (l.run.Leaf.Unit.Length + l.run.Leaf.Perpend) / 2, l.run.Leaf.Perpend
}

// length tries the wall at the brickwork sizes below and above: between free ends, with
// one return, with two.
func (n *nudger) length() {
	half, perpend := n.half()
	was := n.copied.Length
	for _, joint := range [3]measure.Length{-perpend, 0, perpend} {
		near, far := toBond(was, half, joint)
		for _, by := range [2]measure.Length{near, far} {
			n.copied.Length = was + by
			n.try(n.job.wallAt(n.wall)+"/length_mm", by, "", 0)
		}
	}
	n.copied.Length = was
	with := ""
	if n.copied.Left.Corner() || n.copied.Right.Corner() {
		with = ", and of what stands opposite with it,"
	}
	n.keep(func(b *Nudge) string {
		return "a length of " + (was + b.By).String() + " instead of " + was.String() + " mm" + with
	})
}

// opening tries an opening with its left reveal, its right one or both on the bond that the
// wall is set out with, below and above.
func (n *nudger) opening(k int) {
	o, at := &n.copied.Openings[k], n.job.openingAt(n.wall, k)
	was, width := o.Left, o.Width
	shaped := o.Shape != "" && o.Shape != "rectangle" // it keeps its width, which its rise goes by
	for _, left := range n.reveals(was, true) {
		rights := n.reveals(was+width, false)
		if shaped {
			rights = []measure.Length{left}
		}
		for _, right := range rights {
			o.Left, o.Width = was+left, width+right-left
			n.try(at+"/left_mm", left, at+"/width_mm", right-left)
		}
	}
	o.Left, o.Width = was, width
	n.keep(func(b *Nudge) string {
		moved, made := "", ""
		for _, c := range append([]Change{{b.At, b.By}}, b.With...) {
			if c.At == at+"/left_mm" {
				moved = " at " + (was + c.By).String() + " instead of " + was.String() + " mm along"
			} else {
				made = " " + (width + c.By).String() + " instead of " + width.String() + " mm wide"
			}
		}
		if moved != "" && made != "" {
			moved += " and"
		}
		return o.Ref + moved + made
	})
}

// reveals are by how much a reveal at x would move to where it lies on the bond: not at all,
// down or up. A left reveal ends a unit, a right one begins one.
func (n *nudger) reveals(x measure.Length, left bool) []measure.Length {
	half, perpend := n.half()
	l := &n.leaves[0]
	joint := measure.Length(0)
	if n.copied.Right.Corner() && !n.copied.Left.Corner() {
		x = n.copied.Length - x
		if !left {
			joint = -perpend
		}
		near, far := toBond(x-l.run.Starts(1), half, joint)
		return distinct(0, -near, -far)
	}
	if left {
		joint = -perpend
	}
	near, far := toBond(x-l.run.Starts(0), half, joint)
	return distinct(0, near, far)
}

func distinct(moves ...measure.Length) []measure.Length {
	slices.Sort(moves)
	return slices.Compact(moves)
}

// tried is a nudge and all of what it changes.
type tried struct {
	Nudge
	size measure.Length
}

// try notes what saves cutting.
func (n *nudger) try(at string, by measure.Length, with string, more measure.Length) {
	if by == 0 {
		at, by, with, more = with, more, "", 0
	}
	if by == 0 || !stands(&n.copied) || !n.clear() {
		return
	}
	t := tried{Nudge: Nudge{At: at, By: by, Saves: n.cuts - n.count()}, size: max(by, -by) + max(more, -more)}
	if more != 0 {
		t.With = []Change{{with, more}}
	}
	if t.Saves > 0 {
		n.tried = append(n.tried, t)
	}
}

// clear says whether the openings as they are now keep out of what else courses stop at:
// movement joints, and walls that are bonded in.
func (n *nudger) clear() bool {
	for i := range n.leaves {
		for _, g := range n.leaves[i].run.Gaps {
			if g.To > n.copied.Length {
				return false
			}
			for k := range n.copied.Openings {
				if o := &n.copied.Openings[k]; o.Left < g.To && g.From < o.Right() {
					return false
				}
			}
		}
	}
	return true
}

// keep adds the least of the changes tried that saves anything, or a larger one that saves half
// as much again: an architect grants 10 mm sooner than 100. It says what it is.
func (n *nudger) keep(what func(*Nudge) string) {
	if len(n.tried) == 0 {
		return
	}
	slices.SortStableFunc(n.tried, func(a, b tried) int { return cmp.Compare(a.size, b.size) })
	best := n.tried[0].Nudge
	for i := range n.tried {
		if t := &n.tried[i]; 2*t.Saves >= 3*best.Saves {
			best = t.Nudge
		}
	}
	best.Text = what(&best) + " would leave " + counted(best.Saves, "cut piece") + " fewer"
	n.of.Nudges = append(n.of.Nudges, best)
	n.tried = n.tried[:0]
}

// toBond is by how much a size would have to change to be n half units and a joint more
// (or less), the nearer way and the other; nought and nought where it is. Of a size under
// one half unit it is nought.
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
		if o.Left < 0 || o.Width < measure.Millimetre || o.Right() > w.Length || o.Top() > min(w.HighestAt(o.Left), w.HighestAt(o.Right())) {
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
