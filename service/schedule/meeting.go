package schedule

import (
	"hodman/service/measure"
	"hodman/service/product"
)

// Meeting is what a leaf's run meets at one end of its wall, and where the run stands
// for it, measured inwards from the wall's end.
type Meeting struct {
	Wall, Leaf int // whom it meets; Wall -1: nobody of this schedule
	// Bonded: one leaf runs through in some courses and the other in the rest. Else the
	// run stands at Face in every course.
	Bonded bool
	// Junction: the wall met runs on at both sides; it gives way to this one.
	Junction bool
	// Tied: this leaf butts, and ties hold it; Asked: because the schedule says so.
	Tied, Asked bool
	// Inner: at a re-entrant corner the innermost half brick of a thick leaf runs through.
	Inner bool
	// Every is how many courses of this leaf one owner has: more than one where the
	// courses of the other are as many times as high.
	Every int
	// Over is, at a junction, how much higher this wall's base stands than the other's.
	Over measure.Length
	// Face is the start where this wall owns the corner, or in every course; Jointed: a
	// perpend further. Where the other owns it, this one starts behind its Half, what runs
	// through of it, and a perpend. Thick is the other's whole thickness where this leaf is
	// a thick one, of which one half brick runs through and the rest starts behind that; else nought.
	Face, Half, Thick measure.Length
	Across            measure.Length // the thickness of the leaf met at a bonded corner
	Jointed           bool
	// Area is where the leaf's own outer face ends, for areas.
	Area measure.Length
}

// mostCourses is how many courses of one leaf may bond with one of the other.
const mostCourses = 4

// End is what the leaf's run meets at an end where another leaf made up alike, or none, is met.
func (m *Made) End(e End) Meeting {
	if e.Corner() {
		return m.corner(e, m, true)
	}
	return Meeting{Wall: -1, Jointed: e == Abutment, Every: 1}
}

// Owned is where a run with such perpends starts, or of a thick leaf what runs through,
// where this wall owns the corner.
func (t *Meeting) Owned(perpend measure.Length) measure.Length {
	if t.Jointed {
		return t.Face + perpend
	}
	return t.Face
}

// Lent is where all of the run starts where the other wall owns the corner.
func (t *Meeting) Lent(perpend measure.Length) measure.Length {
	if !t.Bonded {
		return t.Owned(perpend)
	}
	return t.Face + t.Half + perpend
}

// Behind is where what does not run through starts where this wall owns the corner.
func (t *Meeting) Behind(perpend measure.Length) measure.Length {
	if t.Thick == 0 {
		return t.Owned(perpend)
	}
	return t.Face + t.Thick + perpend
}

// corner is what the leaf meets at a corner with leaf n of another wall; left says that
// this wall is left of the corner.
func (m *Made) corner(e End, n *Made, left bool) Meeting {
	t := Meeting{Inner: e == InternalCorner, Every: 1, Face: n.Back, Area: n.Back}
	if t.Inner {
		t.Face, t.Area = -(n.Back + n.Thickness), -n.Back
	}
	step, bonds := m.bondsWith(n)
	if !bonds {
		if !m.passes(n, left) {
			t.Face, t.Jointed, t.Tied = t.Face+n.Thickness, true, true
		}
		return t
	}
	t.Bonded, t.Every, t.Half = true, int(step/m.Gauge()), n.Unit.Thickness
	t.Across = n.Thickness
	if m.Thickness > m.Unit.Thickness {
		t.Thick = n.Thickness
	}
	return t
}

// behind is what a leaf meets whose wall has more leaves than wall n at the corner: it
// butts against the back of n's leaf at an external corner and ends in line with it at
// a re-entrant one.
func (m *Made) behind(e End, n *Made) Meeting {
	if e == InternalCorner {
		return Meeting{Every: 1, Face: -n.Thickness, Area: -n.Thickness}
	}
	return Meeting{Every: 1, Face: n.Thickness, Jointed: true, Area: n.Thickness + m.Perpend, Tied: true}
}

// Gauge is a unit and its bed.
func (m *Made) Gauge() measure.Length { return m.Unit.Height + m.Bed }

// bondsWith says whether two leaves have beds that run through, and how far apart those are.
func (m *Made) bondsWith(n *Made) (step measure.Length, ok bool) {
	a, b := m.Gauge(), n.Gauge()
	step = max(a, b)
	return step, step%a == 0 && step%b == 0 && step <= mostCourses*min(a, b)
}

// passes says which of two leaves whose beds do not meet runs through at a corner: that
// of bricks, then the thicker, then that of the wall left of it.
func (m *Made) passes(n *Made, left bool) bool {
	if a, b := m.Unit.Kind == product.Brick, n.Unit.Kind == product.Brick; a != b {
		return a
	}
	if m.Thickness != n.Thickness {
		return m.Thickness > n.Thickness
	}
	return left
}

// shortest is the least run that a course of the leaf has between two ends, so owned
// that the walls met do not stand in each other's way.
func (m *Made) shortest(w *Wall, left, right *Meeting) measure.Length {
	j := m.Perpend
	far := func(t *Meeting) measure.Length {
		if t.Across > t.Half {
			return t.Face + t.Across + j
		}
		return max(t.Behind(j), t.Lent(j))
	}
	if left.ownedInTurn() && right.ownedInTurn() && left.Every == right.Every {
		return w.Length - max(left.Owned(j)+right.Lent(j), left.Lent(j)+right.Owned(j))
	}
	return w.Length - far(left) - far(right)
}

// ownedInTurn says whether it is left open who owns the end in which courses.
func (t *Meeting) ownedInTurn() bool {
	return t.Bonded && !t.Junction && t.Thick == 0 && t.Across == t.Half
}

// Meetings are what every leaf's run meets: by wall, by leaf, left and right.
func (s *Schedule) Meetings(made func(wall int) []Made) [][][2]Meeting {
	n := 0
	for i := range s.Walls {
		n += len(made(i))
	}
	block, list := make([][2]Meeting, n), make([][][2]Meeting, len(s.Walls))
	near, at := s.Neighbours(), map[string]int(nil)
	if s.anyJunction() {
		at = s.byRef()
	}
	for i := range s.Walls {
		w, leaves := &s.Walls[i], made(i)
		list[i], block = block[:len(leaves):len(leaves)], block[len(leaves):]
		for side, e := range [2]End{w.Left, w.Right} {
			other := near[i][side]
			if j := w.junctionAt(side); j != nil {
				other = at[j.Wall]
			}
			for k := range leaves {
				if other < 0 {
					list[i][k][side] = leaves[k].End(e)
				} else {
					list[i][k][side] = s.meeting(i, k, side, other, made)
				}
			}
		}
	}
	return list
}

// meeting is what leaf k of a wall meets on that side, of another wall.
func (s *Schedule) meeting(i, k, side, other int, made func(int) []Made) (t Meeting) {
	w, m, there := &s.Walls[i], &made(i)[k], made(other)
	leaf := min(k, len(there)-1)
	switch e := [2]End{w.Left, w.Right}[side]; {
	case e == JunctionEnd:
		j := w.junctionAt(side)
		leaf = j.leaf(len(there))
		t = m.junction(j, &there[leaf], w.Base-s.Walls[other].Base)
	case k < len(there):
		t = m.corner(e, &there[k], side == 1)
	default:
		t = m.behind(e, &there[0])
	}
	t.Wall, t.Leaf = other, leaf
	return t
}
