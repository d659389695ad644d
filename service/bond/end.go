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
}

func endOf(m *schedule.Made, e schedule.End) end {
	half := m.Unit.Thickness
	n := end{corner: e.Corner(), inner: e == schedule.InternalCorner, thick: e.Corner() && m.Thickness > half}
	n.face = m.Start(e, true)
	n.lent = m.Start(e, false)
	n.behind = n.face
	if n.thick {
		n.behind = n.face + m.Thickness + m.Perpend
		n.lent = n.face + half + m.Perpend
	}
	return n
}

// at is where the body of a course starts: all of it but a half brick that runs
// through the corner.
func (e *end) at(owned bool) measure.Length {
	if owned {
		return e.behind
	}
	return e.lent
}

// quoin says whether the body of a course ends there in a face of its own, where a
// header should show, and not against the other wall.
func (e *end) quoin(owned bool) bool { return !e.corner || owned && !e.thick }
