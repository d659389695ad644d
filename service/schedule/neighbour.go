package schedule

import (
	"strconv"

	"hodman/service/measure"
)

// Neighbours are the walls that every wall's ends meet at a corner, left and right, as
// places in the list; -1 where an end is no corner. A wall meets the one that it names or
// that names it, else the one before or after it in the list; the last meets the first.
func (s *Schedule) Neighbours() [][2]int {
	n := len(s.Walls)
	list := make([][2]int, n)
	named := false
	for i := range s.Walls {
		w := &s.Walls[i]
		list[i] = [2]int{-1, -1}
		if w.Left.Corner() {
			list[i][0] = (i + n - 1) % n
		}
		if w.Right.Corner() {
			list[i][1] = (i + 1) % n
		}
		named = named || w.LeftWall != "" || w.RightWall != ""
	}
	if named {
		s.byName(list)
	}
	return list
}

// byName puts in the neighbours that walls name.
func (s *Schedule) byName(list [][2]int) {
	at := s.byRef()
	for i := range s.Walls {
		w := &s.Walls[i]
		if j, ok := at[w.RightWall]; ok && w.Right.Corner() {
			list[i][1] = j
			if o := &s.Walls[j]; o.LeftWall == "" && o.Left.Corner() {
				list[j][0] = i
			}
		}
		if j, ok := at[w.LeftWall]; ok && w.Left.Corner() {
			list[i][0] = j
			if o := &s.Walls[j]; o.RightWall == "" && o.Right.Corner() {
				list[j][1] = i
			}
		}
	}
}

// byRef finds walls by their ref; of two with one ref, which is a fault, the later.
func (s *Schedule) byRef() map[string]int {
	at := make(map[string]int, len(s.Walls))
	for i := range s.Walls {
		at[s.Walls[i].Ref] = i
	}
	return at
}

// corners checks that every corner meets a corner of the same kind, on a wall that
// meets no other there.
func (c *checker) corners(s *Schedule) {
	c.namedWalls(s)
	near := s.Neighbours()
	for i := range s.Walls {
		w, at := &s.Walls[i], "/walls/"+strconv.Itoa(i)
		if j := near[i][1]; j >= 0 {
			switch next := &s.Walls[j]; {
			case i == j:
				c.alone(at, "right")
			case w.Right != next.Left:
				c.add(at, "right", "corner_unmatched", "is "+string(w.Right)+", and the next wall "+strconv.Quote(next.Ref)+" begins with "+string(next.Left)+"; both ends of a corner are the same kind")
			case near[j][0] != i:
				c.add(at, "right_wall", "corner_unmatched", "meets wall "+strconv.Quote(next.Ref)+", whose left end meets "+strconv.Quote(s.Walls[near[j][0]].Ref)+"; give right_wall here and left_wall there so that both name each other")
			}
		}
		if j := near[i][0]; j >= 0 {
			switch before := &s.Walls[j]; {
			case i == j:
				c.alone(at, "left")
			case !before.Right.Corner():
				c.add(at, "left", "corner_unmatched", "is "+string(w.Left)+", and the wall before it, "+strconv.Quote(before.Ref)+", ends with "+string(before.Right)+"; both ends of a corner are the same kind")
			case near[j][1] != i:
				c.add(at, "left_wall", "corner_unmatched", "meets wall "+strconv.Quote(before.Ref)+", whose right end meets "+strconv.Quote(s.Walls[near[j][1]].Ref)+"; give left_wall here and right_wall there so that both name each other")
			}
		}
	}
}

func (c *checker) alone(at, end string) {
	c.add(at, end, "corner_unmatched", "is a corner, and there is no other wall to meet; use stop_end or abutment, or add the wall round the corner")
}

// namedWalls checks the names of neighbours by themselves.
func (c *checker) namedWalls(s *Schedule) {
	refs := s.byRef()
	for i := range s.Walls {
		w, prefix := &s.Walls[i], "/walls/"+strconv.Itoa(i)
		for _, each := range []struct {
			name, ref string
			end       End
		}{{"left_wall", w.LeftWall, w.Left}, {"right_wall", w.RightWall, w.Right}} {
			if each.ref == "" || !c.key(prefix, each.name, each.ref) {
				continue
			}
			switch _, known := refs[each.ref]; {
			case !known:
				c.add(prefix, each.name, "unknown_ref", "there is no wall "+strconv.Quote(each.ref)+"; give the ref of a wall of this schedule")
			case each.ref == w.Ref:
				c.add(prefix, each.name, "inconsistent", "names the wall itself; give the ref of the wall that it meets there")
			case !each.end.Corner():
				c.add(prefix, each.name, "inconsistent", "belongs to a corner; this end is "+string(each.end))
			}
		}
	}
}

// meetings checks that every leaf has room between what its ends meet.
func (c *checker) meetings(s *Schedule, types map[string]*WallType) {
	made := make(map[string][]Made, len(types))
	for key, t := range types {
		if !c.whole(t) {
			return // its own faults are told
		}
		made[key] = c.leaves(t)
	}
	leaves := func(i int) []Made { return made[s.Walls[i].Type] }
	ends, stems := s.Meetings(leaves), s.Stems(leaves)
	for i, list := range ends {
		c.room(s, i, leaves, list)
	}
	c.stems(s, leaves, ends, stems)
	for i := range s.Walls {
		if w := &s.Walls[i]; len(w.Piers) > 0 || w.Plinth != nil {

			var here []Stem
			if stems != nil {
				here = stems[i]
			}
			c.piers(s, i, leaves(i), ends[i], here)
		}
	}
}

// room checks that a wall is long enough for what its ends meet. The shortest return is
// as long as its own leaf is thick; between two walls that run the same way inwards, as
// both are thick, with a joint between them.
func (c *checker) room(s *Schedule, i int, leaves func(int) []Made, ends [][2]Meeting) {
	w, own := &s.Walls[i], leaves(i)
	need, why := own[0].Thickness, "is shorter than its leaf or its units are thick"
	if !w.Left.Corner() && !w.Right.Corner() {
		need = own[0].Unit.Thickness
	}
	if w.Left == ExternalCorner && w.Right == ExternalCorner {
		before, after := leaves(ends[0][0].Wall), leaves(ends[0][1].Wall)
		need, why = thick(before)+thick(after)+own[0].Perpend, "leaves no room for the two walls that it stands between"
	}
	for side := range 2 {
		// A leaf that butts behind this wall needs it as long as its own wall is thick.
		if t := &ends[0][side]; t.Wall >= 0 && len(leaves(t.Wall)) > len(own) && thick(leaves(t.Wall)) > need {
			need, why = thick(leaves(t.Wall)), "is too short for wall "+strconv.Quote(s.Walls[t.Wall].Ref)+" to end behind it"
		}
	}
	for k := range own {
		m := &own[k]
		if room := m.shortest(w, &ends[k][0], &ends[k][1]); w.Length-room-m.Perpend > need {
			need, why = w.Length-room-m.Perpend, "leaves the "+m.Name+" leaf no room between what its ends meet"
		}
	}
	if w.Length < need {
		c.add("/walls/"+strconv.Itoa(i), "length_mm", "too_short", "is "+w.Length.String()+" mm and "+why+"; make it "+need.String()+" mm at least")
	}
}

// thick is how thick a wall of such leaves is in all.
func thick(leaves []Made) measure.Length {
	last := &leaves[len(leaves)-1]
	return last.Back + last.Thickness
}
