// Package movement says where movement joints stand along a leaf: as few as its
// material allows, as even as they can be, on the bond and clear of openings.
package movement

import (
	"slices"

	"hodman/service/measure"
	"hodman/service/product"
)

// Run is a leaf of one wall with what its joints have to respect. Lengths are along
// the wall from its left end.
type Run struct {
	From, To measure.Length // where the leaf's face begins and ends
	// HeldLeft and HeldRight: the end is a return or stands against other work, so that the
	// nearest joint is half a spacing away at most. A free end, and one that is a
	// movement joint itself, may have a whole spacing.
	HeldLeft, HeldRight bool
	Spacing             measure.Length // the longest panel
	Width               measure.Length // of a joint
	// Step is half a unit and its perpend: a joint begins where a half unit ends, as seen from From.
	Step, Perpend measure.Length
	Openings      []Reach
	Clear         measure.Length // the least masonry between a joint and an opening
	// Strict: half a spacing from a return holds for a run without joints too, so that one between
	// two returns takes a joint from half a spacing on, not from a whole one.
	Strict bool
}

// Reach is a part of the run that an opening takes up, seen on plan.
type Reach struct{ From, To measure.Length }

// Least is how many joints a run takes at least: none up to the spacing, else enough that
// a panel at a held end is half a spacing at most and any other a whole one.
func (r *Run) Least() int {
	length := r.To - r.From
	if length <= r.alone() {
		return 0
	}
	return int(max(1, measure.CeilDiv(int64(length-r.most(r.HeldLeft)-r.most(r.HeldRight)), int64(r.Spacing))+1))
}

// alone is how long a run may be without a joint.
func (r *Run) alone() measure.Length {
	if r.Strict && r.HeldLeft && r.HeldRight {
		return r.Spacing / 2
	}
	return r.Spacing
}

// most is how long a panel at an end may be.
func (r *Run) most(held bool) measure.Length {
	if held {
		return r.Spacing / 2
	}
	return r.Spacing
}

// Place says where joints begin, from left to right: the fewest that keep every panel short
// enough, and of those the most even, the left one where two places are as near. It is
// nil for a run that takes none. It returns false where openings leave no such places.
// Widths of joints count with the panel on their left.
func Place(r Run) (at []measure.Length, ok bool) {
	if r.Least() == 0 {
		return nil, true
	}
	if r.Step <= 0 {
		panic("movement: a run has a step")
	}
	latest, ok := r.latest()
	if !ok {
		return nil, false
	}
	n := len(latest)
	earliest := r.earliest(n)
	at = make([]measure.Length, n)
	before := r.From
	for i := range at {
		want := before + r.share(before, i, n)
		reach := r.Spacing
		if i == 0 {
			reach = r.most(r.HeldLeft)
		}
		at[i], ok = r.near(want, max(earliest[i], before+1), min(before+reach, latest[i]))
		if !ok {
			return nil, false
		}
		before = at[i]
	}
	return at, true
}

// share is the length of panel i of a run that still has joints i to n-1 to come,
// where panels at held ends count half.
func (r *Run) share(from measure.Length, i, n int) measure.Length {
	halves, this := int64(2*(n-i-1)), int64(2)
	if i == 0 && r.HeldLeft {
		this = 1
	}
	last := int64(2)
	if r.HeldRight {
		last = 1
	}
	return measure.Length(measure.HalfUpDiv(int64(r.To-from)*this, this+halves+last))
}

// latest are the last places that joints may have, each as far on as it can be from the one
// before: as few joints as there can be.
func (r *Run) latest() (at []measure.Length, ok bool) {
	before, reach := r.From, r.most(r.HeldLeft)
	for r.To-before > r.most(r.HeldRight) || len(at) == 0 {
		x, ok := r.last(before+1, min(before+reach, r.To-r.Step))
		if !ok {
			return nil, false
		}
		at = append(at, x)
		before, reach = x, r.Spacing
	}
	return at, true
}

// earliest are the first places of n joints from which those that follow still reach the end.
func (r *Run) earliest(n int) []measure.Length {
	at := make([]measure.Length, n)
	after, reach := r.To, r.most(r.HeldRight)
	for i := n - 1; i >= 0; i-- {
		x, ok := r.first(max(after-reach, r.From+1), after-1)
		if !ok {
			x = r.From
		}
		at[i] = x
		after, reach = x, r.Spacing
	}
	return at
}

// free says whether a joint may begin at x, and if not from where on it may again, and
// up to where it might.
func (r *Run) free(x measure.Length) (ok bool, before, after measure.Length) {
	for _, o := range r.Openings {
		if x+r.Width > o.From-r.Clear && x < o.To+r.Clear {
			return false, o.From - r.Clear - r.Width, o.To + r.Clear
		}
	}
	return true, 0, 0
}

// place is the k'th place on the bond.
func (r *Run) place(k int64) measure.Length {
	return r.From + measure.Length(k)*r.Step - r.Perpend
}

// last is the last free place between from and to.
func (r *Run) last(from, to measure.Length) (measure.Length, bool) {
	for to >= from {
		x := r.place(measure.FloorDiv(int64(to-r.From+r.Perpend), int64(r.Step)))
		if x < from {
			break
		}
		ok, before, _ := r.free(x)
		if ok {
			return x, true
		}
		to = min(before, x-1)
	}
	return 0, false
}

// first is the first free place between from and to.
func (r *Run) first(from, to measure.Length) (measure.Length, bool) {
	for from <= to {
		x := r.place(measure.CeilDiv(int64(from-r.From+r.Perpend), int64(r.Step)))
		if x > to {
			break
		}
		ok, _, after := r.free(x)
		if ok {
			return x, true
		}
		from = max(after, x+1)
	}
	return 0, false
}

// near is the free place nearest to want between from and to, the left one of two as near.
func (r *Run) near(want, from, to measure.Length) (measure.Length, bool) {
	left, okLeft := r.last(from, min(want, to))
	right, okRight := r.first(max(want, from), to)
	switch {
	case okLeft && okRight && right-want < want-left:
		return right, true
	case okLeft:
		return left, true
	}
	return right, okRight
}

// Panels are the lengths between the ends of a run and its joints.
func (r *Run) Panels(at []measure.Length) []measure.Length {
	list := make([]measure.Length, 0, len(at)+1)
	before := r.From
	for _, x := range at {
		list = append(list, x-before)
		before = x + r.Width
	}
	return append(list, r.To-before)
}

// Longest is the longest panel that joints given by hand leave too long, nought where none is.
func (r *Run) Longest(at []measure.Length) measure.Length {
	panels := r.Panels(at)
	if len(at) == 0 {
		if r.To-r.From <= r.alone() {
			return 0
		}
		return panels[0]
	}
	var over []measure.Length
	for i, p := range panels {
		most := r.Spacing
		if i == 0 {
			most = r.most(r.HeldLeft)
		} else if i == len(at) {
			most = r.most(r.HeldRight)
		}
		if p > most {
			over = append(over, p)
		}
	}
	if len(over) == 0 {
		return 0
	}
	return slices.Max(over)
}

// Rules names the rules of a leaf's movement joints, their spacing and their width. A brick
// is taken as clay, a block and a coursing unit as concrete.
func Rules(kind product.Kind) (spacing, width string) {
	if kind == product.Brick {
		return "joint.movement_clay", "joint.movement_clay_width"
	}
	return "joint.movement_concrete", "joint.movement_concrete_width"
}
