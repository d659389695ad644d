package schedule

import "strconv"

// junctions checks what the schedule says of walls that meet others in their length, each by itself.
func (c *checker) junctions(s *Schedule, types map[string]*WallType) {
	refs := s.byRef()
	for i := range s.Walls {
		w, prefix := &s.Walls[i], "/walls/"+strconv.Itoa(i)
		for side, name := range [2]string{"left", "right"} {
			j := [2]*Junction{w.LeftJunction, w.RightJunction}[side]
			switch e := [2]End{w.Left, w.Right}[side]; {
			case j == nil && e == JunctionEnd:
				c.add(prefix, name+"_junction", "inconsistent", "is missing; say which wall the junction meets, and where")
			case j != nil && e != JunctionEnd:
				c.add(prefix, name+"_junction", "inconsistent", "belongs to an end that is a junction; this one is "+string(e))
			case j != nil:
				at := prefix + "/" + name + "_junction"
				c.meets(at, j.Wall, w, refs)
				c.length(at, "at_mm", j.At, standsAt)
				c.optionalChoice(at, "side", j.Side, sides...)
				c.optionalChoice(at, "joined", j.Joined, joined...)
			}
		}
		if c.count(prefix, "crossings", len(w.Crossings), 0, MaxCrossings) {
			c.crossings(s, types, prefix, w, refs)
		}
	}
}

func (c *checker) meets(prefix, ref string, w *Wall, refs map[string]int) {
	if !c.key(prefix, "wall", ref) {
		return
	}
	switch _, known := refs[ref]; {
	case !known:
		c.add(prefix, "wall", "unknown_ref", "there is no wall "+strconv.Quote(ref)+"; give the ref of a wall of this schedule")
	case ref == w.Ref:
		c.add(prefix, "wall", "inconsistent", "names the wall itself; give the ref of the wall that it meets there")
	}
}

func (c *checker) crossings(s *Schedule, types map[string]*WallType, prefix string, w *Wall, refs map[string]int) {
	for k := range w.Crossings {
		x, at := &w.Crossings[k], prefix+"/crossings/"+strconv.Itoa(k)
		c.meets(at, x.Wall, w, refs)
		c.length(at, "at_mm", x.At, standsAt)
		c.length(at, "other_at_mm", x.OtherAt, standsAt)
		c.optionalChoice(at, "joined", x.Joined, joined...)
		for _, ref := range []string{w.Ref, x.Wall} {
			n, known := refs[ref]
			if !known {
				continue
			}
			if t := types[s.Walls[n].Type]; t != nil && t.Single == nil {
				c.add(at, "wall", "not_supported", "wall "+strconv.Quote(ref)+" has a cavity; only walls of one leaf cross so far: end one of them at the other with a junction on each side")
				break
			}
		}
	}
}

// stems checks that what meets a wall in its length has room there.
func (c *checker) stems(s *Schedule, leaves func(int) []Made, ends [][][2]Meeting, stems [][]Stem) {
	work := 0
	for t, list := range stems {
		w, told := &s.Walls[t], ""
		for k := range list {
			e := &list[k]
			m := &leaves(t)[e.Other]
			if work += int(w.Highest() / m.Gauge()); e.At == told {
				continue // its other leaf would say the same
			}
			before := len(c.faults)
			c.stemInLength(w, e, m, &ends[t][e.Other])
			c.stemInHeight(s, w, e, &leaves(e.Wall)[e.Leaf], m)
			if len(c.faults) == before {
				c.stemClear(s, w, m, e, list[:k])
			}
			if len(c.faults) > before {
				told = e.At
			}
		}
	}
	if work > MaxWork {
		c.add("", "walls", "too_large", "holds more courses at junctions than one schedule may ("+strconv.Itoa(MaxWork)+"); send it in parts")
	}
}

// stemInLength checks that the wall met runs on at both sides.
func (c *checker) stemInLength(w *Wall, e *Stem, m *Made, ends *[2]Meeting) {
	j := m.Perpend
	from := max(0, ends[0].Lent(j), ends[0].Behind(j)) + j
	to := w.Length - max(0, ends[1].Lent(j), ends[1].Behind(j)) - j
	if e.From < from || e.To > to {
		c.faults.Add(e.At, "outside", "stands at "+e.From.String()+" to "+e.To.String()+" mm along wall "+strconv.Quote(w.Ref)+", whose "+m.Name+" leaf runs on at both sides from "+from.String()+" to "+to.String()+" mm; move it, or make the two ends a corner")
	}
}

// stemInHeight checks that the wall met is there from foot to top, and that bonding, where
// it is asked for, finds beds that run through.
func (c *checker) stemInHeight(s *Schedule, w *Wall, e *Stem, own, m *Made) {
	stem := &s.Walls[e.Wall]
	if !e.Crossing {
		top := w.LowestOver(e.From, e.To)
		if e.Over < 0 || e.Over+e.Height > top {
			c.faults.Add(e.At, "outside", "wall "+strconv.Quote(stem.Ref)+" stands from "+stem.Base.String()+" to "+(stem.Base+e.Height).String()+" mm above the datum there and wall "+strconv.Quote(w.Ref)+" from "+w.Base.String()+" to "+(w.Base+top).String()+" mm: it has to meet it from foot to top")
		}
	}
	if e.Asked && (e.Takes == TakesNone || e.Takes == TakesAll) {
		c.faults.Add(e.At+"/joined", "inconsistent", "is bonded, and courses of "+own.Gauge().String()+" mm from "+stem.Base.String()+" mm do not meet those of "+m.Gauge().String()+" mm from "+w.Base.String()+" mm; make it tied, or the gauge of one a multiple of the other's and the bases to suit")
	}
}

// stemClear checks that no opening and nothing else stands where a stem does.
func (c *checker) stemClear(s *Schedule, w *Wall, m *Made, e *Stem, others []Stem) {
	from, to := e.From-m.Perpend, e.To+m.Perpend
	what := c.inTheWay(w, m, Region{from, to, max(0, e.Over), e.Over + e.Height})
	for k := range others {
		o := &others[k]
		if o.Other == e.Other && o.At != e.At && o.From-m.Perpend < to && from < o.To+m.Perpend && o.Over < e.Over+e.Height && e.Over < o.Over+o.Height {
			what = "wall " + strconv.Quote(s.Walls[o.Wall].Ref) + ", which meets it there too"
		}
	}
	if what != "" {
		c.faults.Add(e.At, "overlap", "stands with its joints from "+from.String()+" to "+to.String()+" mm along wall "+strconv.Quote(w.Ref)+", in the way of "+what+"; move one of them")
	}
}

// inTheWay names an opening of the wall, what is laid over or under it, or a movement joint, that
// stands in a part of leaf m; nothing is laid of features behind the outer leaf.
func (c *checker) inTheWay(w *Wall, m *Made, r Region) string {
	meets := func(o Region) bool {
		return o.Left < r.Right && r.Left < o.Right && o.Foot < r.Head && r.Foot < o.Head
	}
	for k := range w.Openings {
		o := &w.Openings[k]
		here := Region{o.Left, o.Right(), o.Sill, o.Top()}
		over, laid := m.Over(o, c.cat, c.book)
		under, sill := m.Under(o, c.cat)
		switch {
		case meets(here):
			return "opening " + strconv.Quote(o.Ref) + " from " + o.Left.String() + " to " + o.Right().String() + " mm"
		case laid && m.Back == 0 && meets(over):
			return "what is laid over opening " + strconv.Quote(o.Ref) + " from " + over.Left.String() + " to " + over.Right.String() + " mm"
		case sill && m.Back == 0 && meets(under):
			return "the sill of opening " + strconv.Quote(o.Ref) + " from " + under.Left.String() + " to " + under.Right.String() + " mm"
		}
	}
	width := max(c.book.Length("joint.movement_clay_width"), c.book.Length("joint.movement_concrete_width"))
	for _, x := range w.MovementJoints {
		if x < r.Right && r.Left < x+width {
			return "the movement joint at " + x.String() + " mm"
		}
	}
	return ""
}
