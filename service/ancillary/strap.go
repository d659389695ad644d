package ancillary

import (
	"slices"

	"hodman/service/finding"
	"hodman/service/measure"
	"hodman/service/product"
	"hodman/service/schedule"
)

// straps are the lateral restraint at each level the wall is strapped to.
func (c *counter) straps(w *Wall) {
	for _, level := range w.Wall.Restraint {
		at := w.At + "/restraint_mm"
		p := c.first(at, product.RestraintStrap, "lateral restraint strap", "strap.lateral_spacing")
		if p == nil {
			return
		}
		above := level - w.Wall.Base
		s := c.placed(w, at, "strap.lateral_spacing", w.runAt(above), w.reachAt(above), func(o *schedule.Opening) bool {
			return o.Sill <= above && above <= o.Top()
		})
		c.add(w, Need{
			Product: p, Unit: each, Part: "restraint", Net: measure.Each(len(s.at)), From: above, To: above, Places: s.at,
			Sum: "at " + level.String() + " mm, " + s.sum, Rules: s.rules,
		})
	}
}

// holdingDown are the straps that hold the plate down: each is fixed to the face of the
// wall for its own length below the plate, clear of openings.
func (c *counter) holdingDown(w *Wall) {
	at, top := w.At+"/plate", w.Wall.Height
	p := c.first(at, product.HoldingDownStrap, "holding-down strap", "strap.holding_spacing")
	if p == nil {
		return
	}
	s := c.placed(w, at, "strap.holding_spacing", w.Run, stretchAlong{w.From, w.From + w.Run}, func(o *schedule.Opening) bool {
		return o.Top() > top-p.Length
	})
	c.add(w, Need{
		Product: p, Unit: each, Part: "holding_down", Net: measure.Each(len(s.at)), From: top, To: top, Places: s.at,
		Sum: s.sum, Rules: s.rules,
	})
}

// strapping is where the straps of a run are, along the wall.
type strapping struct {
	at    []measure.Length
	sum   string
	rules []string
}

// placed places straps along a stretch: the first at the rule's distance from each end, as
// many as the run takes, evenly apart, moved off openings that are in their way. Where
// that parts two of them by more than the spacing, one is added between if there is room.
func (c *counter) placed(w *Wall, at, rule string, run measure.Length, reach stretchAlong, blocks func(*schedule.Opening) bool) strapping {
	n, sum := c.along(run, rule)
	s := strapping{sum: sum, rules: []string{rule, "strap.least", "strap.from_end"}}
	off := min(c.book.Length("strap.from_end"), max(0, reach.to-reach.from)/4)
	clear, jamb := stretchAlong{reach.from + off, reach.to - off + 1}, c.book.Length("strap.from_jamb")
	var holes []stretchAlong
	for k := range w.Wall.Openings {
		if o := &w.Wall.Openings[k]; blocks(o) {
			holes = append(holes, stretchAlong{o.Left - jamb, o.Right() + jamb})
		}
	}
	room := clear.without(holes)
	if len(room) == 0 {
		c.unplaced(w, at, rule)
		return s
	}
	for k := range n {
		x := clear.from + measure.Length(measure.FloorDiv(int64(clear.to-1-clear.from)*int64(k), int64(n-1)*int64(measure.Millimetre)))*measure.Millimetre
		s.at = append(s.at, nearest(room, x))
	}
	slices.Sort(s.at)
	if len(holes) > 0 { // two may have been moved to one place
		s.at = slices.Compact(s.at)
	}
	c.fill(w, at, rule, room, &s)
	if len(holes) > 0 {
		s.rules = append(s.rules, "strap.from_jamb")
	}
	if len(s.at) != n {
		s.sum += "; clear of openings " + number(len(s.at))
	}
	return s
}

// fill adds straps where two are farther apart than the spacing, and says where no more help.
func (c *counter) fill(w *Wall, at, rule string, room []stretchAlong, s *strapping) {
	spacing := c.book.Length(rule)
	for k := 1; k < len(s.at); k++ {
		gap := s.at[k] - s.at[k-1]
		if gap <= spacing {
			continue
		}
		x := before(room, s.at[k-1]+spacing)
		if x > s.at[k-1] && x < s.at[k] {
			s.at = slices.Insert(s.at, k, x)
			continue
		}
		if x = after(room, s.at[k-1]+spacing); x > s.at[k-1] && x < s.at[k] {
			s.at = slices.Insert(s.at, k, x)
			gap = x - s.at[k-1]
		}
		c.tell(finding.Finding{
			Severity: finding.Check, Code: "strap.too_far", At: at, Rule: rule,
			Text:   "straps of wall " + w.Ref + " at " + s.at[k-1].String() + " and " + s.at[k].String() + " mm along are " + gap.String() + " mm apart, over " + c.book.Length(rule).String() + " mm: an opening is between them",
			Remedy: "ask the designer how the wall is restrained over the opening",
		})
	}
}

func (c *counter) unplaced(w *Wall, at, rule string) {
	c.tell(finding.Finding{
		Severity: finding.Check, Code: "strap.no_place", At: at, Rule: "strap.from_jamb",
		Text:   "wall " + w.Ref + " has no masonry for a strap clear of its openings there: none is counted",
		Remedy: "ask the designer how the wall is restrained",
	})
}

// nearest is the place in a room nearest to x, the earlier of two.
func nearest(room []stretchAlong, x measure.Length) measure.Length {
	b, a := before(room, x), after(room, x)
	switch {
	case b < room[0].from:
		return a
	case a < b || x-b <= a-x:
		return b
	}
	return a
}

// before is the last place up to x; under the first room where there is none.
func before(room []stretchAlong, x measure.Length) measure.Length {
	at := room[0].from - 1
	for _, r := range room {
		if r.from <= x {
			at = min(x, r.to-1)
		}
	}
	return at
}

// after is the first place from x on; the last before where there is none.
func after(room []stretchAlong, x measure.Length) measure.Length {
	for _, r := range room {
		if x < r.to {
			return max(x, r.from)
		}
	}
	return room[len(room)-1].to - 1
}

// along counts straps along a run: one at each end and none farther apart than the spacing.
func (c *counter) along(run measure.Length, rule string) (int, string) {
	spacing, least := c.book.Length(rule), c.book.Count("strap.least")
	n := max(least, spaces(run, spacing)+1)
	return n, "run " + metres(run) + " m / " + metres(spacing) + " m, up to " + number(spaces(run, spacing)) + ", + 1, at least " + number(least) + " = " + number(n)
}

// runAt is the run that is left at a level above the base: all of it up to the slope,
// then less in proportion, rounded up to a micrometre.
func (w *Wall) runAt(level measure.Length) measure.Length {
	foot, head := w.Wall.Height, w.Wall.Highest()
	if t := w.Wall.Top; t != nil && t.Shape == "rake" {
		foot += min(t.Left, t.Right)
	}
	if level <= foot || foot == head {
		return w.Run
	}
	return measure.Length(measure.CeilDiv(int64(w.Run)*int64(head-level), int64(head-foot)))
}

// reachAt is the part of the run whose top is above a level.
func (w *Wall) reachAt(level measure.Length) stretchAlong {
	from, to := w.From, w.From+w.Run
	if w.Wall.Top != nil {
		left, right := w.Wall.Reach(level)
		from, to = max(from, left), min(to, right)
	}
	return stretchAlong{from, max(from, to)}
}
