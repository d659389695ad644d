package bond

import (
	"hodman/service/measure"
	"hodman/service/schedule"
)

// end is one end of a run, measured inwards from the wall's end. In a leaf of half a
// brick the wall that owns a corner in a course runs through it. In a thicker one the
// half brick nearest the corner's face does, laid as a stretcher, and stands before
// the other wall's headers; the rest of the leaf starts behind the other wall.
type end struct {
	corner bool
	inner  bool // re-entrant: the half brick that runs through is the innermost
	thick  bool
	// face is where the corner's own face stands: the start where the wall owns it.
	face measure.Length
	// lent is where everything starts where it does not.
	lent measure.Length
	// behind is where what does not run through starts where it does.
	behind measure.Length
	// An owner keeps the corner for every courses together, counted shift below the first.
	every, shift int
}

// meeting is what the run's left or right end meets.
func (r *Run) meeting(side int) schedule.Meeting {
	if r.Ends != nil {
		return r.Ends[side]
	}
	return r.Leaf.End([2]schedule.End{r.Wall.Left, r.Wall.Right}[side])
}

// bonded says whether the run bonds with another at its left or right end.
func (r *Run) bonded(side int) bool {
	t := r.meeting(side)
	return t.Bonded
}

// Starts is where the run's left or right end is in a course in which it owns it,
// measured inwards from the wall's end.
func (r *Run) Starts(side int) measure.Length {
	t := r.meeting(side)
	return t.Owned(r.Leaf.Perpend)
}

// end is the run's left or right end.
func (l *layer) end(side int) end {
	t := l.run.meeting(side)
	n := end{corner: t.Bonded, inner: t.Inner, thick: t.Thick > 0, face: t.Owned(l.perpend), lent: t.Lent(l.perpend), behind: t.Behind(l.perpend),
		every: t.Every, shift: l.run.Lowest}
	if t.Junction {
		n.shift = int(t.Over / l.gauge)
	}
	return n
}

// turn says whether course n is of those in which the end is owned as in the first.
func (e *end) turn(n int) bool { return (n-1+e.shift)/e.every%2 == 0 }

// at is where the body of a course starts: all of it but a half brick that runs
// through the corner.
func (e *end) at(owned bool) measure.Length {
	if owned {
		return e.behind
	}
	return e.lent
}

// finish is what a stretch of a course ends in.
type finish uint8

const (
	against finish = iota // another wall
	quoin                 // a face of its own, where a header should show
	upright               // the same, where every course ends at one place
	headed                // the same, where the courses under and over show a header
)

// only is the finish where it is reached, else none.
func (f finish) only(reached bool) finish {
	if reached {
		return f
	}
	return against
}

// quoin says what the body of a course ends in there.
func (e *end) quoin(owned bool) finish {
	switch {
	case !e.corner:
		return upright
	case owned && !e.thick:
		return quoin
	}
	return against
}
