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
		s := c.placed(w, at, c.strapping("strap.lateral_spacing"), w.runAt(above), w.reachAt(above), func(o *schedule.Opening) bool {
			return o.Sill <= above && above <= o.Top()
		})
		c.add(w, Need{
			Product: p, Unit: each, Part: "restraint", Net: measure.Each(len(s.at)), From: above, To: above, Places: s.at,
			Sum: c.words.Say("at ", level, " mm, ", s.sum), Rules: s.rules,
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
	s := c.placed(w, at, c.strapping("strap.holding_spacing"), w.Run, stretchAlong{w.From, w.From + w.Run}, func(o *schedule.Opening) bool {
		return o.Top() > top-p.Length
	})
	c.add(w, Need{
		Product: p, Unit: each, Part: "holding_down", Net: measure.Each(len(s.at)), From: top, To: top, Places: s.at,
		Sum: s.sum, Rules: s.rules,
	})
}

// row is where things of a row are, along the wall.
type row struct {
	at    []measure.Length
	sum   string
	rules []string
}

// placing is by what rules a row of things is placed.
type placing struct {
	name    string // of a finding's code
	words   string // of more than one
	spacing measure.Length
	least   int
	rules   [4]string // spacing, least, distance from an end and from a jamb
}

func (c *counter) strapping(spacing string) placing {
	return placing{name: "strap", words: "straps", spacing: c.book.Length(spacing), least: c.book.Count("strap.least"),
		rules: [4]string{spacing, "strap.least", "strap.from_end", "strap.from_jamb"}}
}

// placed places a row of things along a stretch: the first at the rule's distance from each end, as
// many as the run takes, evenly apart, moved off openings that are in their way. Where
// that parts two of them by more than the spacing, one is added between if there is room.
func (c *counter) placed(w *Wall, at string, p placing, run measure.Length, reach stretchAlong, blocks func(*schedule.Opening) bool) row {
	n := along(run, p.spacing, p.least)
	s := row{rules: c.rules(p.rules[:3]...),
		sum: c.words.Say("run ", measure.Metres(run), " m / ", measure.Metres(p.spacing), " m, up to ", spaces(run, p.spacing), ", + 1, at least ", p.least, " = ", n)}
	off := min(c.book.Length(p.rules[2]), max(0, reach.to-reach.from)/4)
	clear, jamb := stretchAlong{reach.from + off, max(reach.from+off+1, reach.to-off)}, c.book.Length(p.rules[3])
	var holes []stretchAlong
	for k := range w.Wall.Openings {
		if o := &w.Wall.Openings[k]; blocks(o) {
			holes = append(holes, stretchAlong{o.Left - jamb, o.Right() + jamb})
		}
	}
	room := clear.without(holes)
	if len(room) == 0 {
		c.unplaced(w, at, &p)
		return s
	}
	s.at = make([]measure.Length, 0, n)
	for k := range n {
		x := clear.from + measure.Length(measure.FloorDiv(int64(clear.to-clear.from)*int64(k), int64(max(1, n-1))*int64(measure.Millimetre)))*measure.Millimetre
		s.at = append(s.at, nearest(room, x))
	}
	slices.Sort(s.at)
	if len(holes) > 0 { // two may have been moved to one place
		s.at = slices.Compact(s.at)
	}
	c.fill(w, at, &p, room, &s)
	if len(holes) > 0 {
		s.thin(&p)
		s.rules = append(s.rules, p.rules[3])
	}
	if len(s.at) != n {
		s.sum = c.words.Say(s.sum, "; clear of openings ", len(s.at))
	}
	return s
}

// fill adds one where two are farther apart than the spacing, and says where no more help.
func (c *counter) fill(w *Wall, at string, p *placing, room []stretchAlong, s *row) {
	spacing := p.spacing
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
			Severity: finding.Check, Code: p.name + ".too_far", At: at, Rule: p.rules[0],
			Text:   p.words + " of wall " + w.Ref + " at " + s.at[k-1].String() + " and " + s.at[k].String() + " mm along are " + gap.String() + " mm apart, over " + spacing.String() + " mm: an opening is between them",
			Remedy: "ask the designer what serves where the opening is",
		})
	}
}

// thin takes out what was moved close to another and is not missed.
func (s *row) thin(p *placing) {
	for k := 1; k+1 < len(s.at) && len(s.at) > p.least; k++ {
		near := min(s.at[k]-s.at[k-1], s.at[k+1]-s.at[k]) < p.spacing/closeBy
		if near && s.at[k+1]-s.at[k-1] <= p.spacing {
			s.at = slices.Delete(s.at, k, k+1)
			k--
		}
	}
}

// closeBy is what part of the spacing two of a row are close by.
const closeBy = 4

func (c *counter) unplaced(w *Wall, at string, p *placing) {
	c.tell(finding.Finding{
		Severity: finding.Check, Code: p.name + ".no_place", At: at, Rule: p.rules[3],
		Text:   "wall " + w.Ref + " has no masonry clear of its openings for " + p.words + " there: none is counted",
		Remedy: "ask the designer where they can be",
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
			at = min(x, r.to)
		}
	}
	return at
}

// after is the first place from x on; the last before where there is none.
func after(room []stretchAlong, x measure.Length) measure.Length {
	for _, r := range room {
		if x <= r.to {
			return max(x, r.from)
		}
	}
	return room[len(room)-1].to
}

// along counts a row along a run: one at each end and none farther apart than the spacing.
func along(run, spacing measure.Length, least int) int {
	return max(least, spaces(run, spacing)+1)
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
