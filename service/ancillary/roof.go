package ancillary

import (
	"strconv"

	"hodman/service/finding"
	"hodman/service/measure"
	"hodman/service/product"
	"hodman/service/schedule"
)

// roofs counts the trays over lower roofs that meet the wall's outer face.
func (c *counter) roofs(w *Wall) {
	for i := range w.Wall.AbuttingRoofs {
		r := &w.Wall.AbuttingRoofs[i]
		at := w.At + "/abutting_roofs/" + strconv.Itoa(i)
		switch {
		case w.Cavity == nil:
			c.tell(finding.Finding{
				Severity: finding.Check, Code: "tray.single_wall", At: at, Rule: "tray.over_roof",
				Text:   "wall " + w.Ref + " has no cavity: no trays are counted over the roof that abuts it",
				Remedy: "ask the designer how water in the wall is kept from the room below",
			})
		case r.LeftLevel == r.RightLevel:
			c.levelRoof(w, at, r)
		default:
			c.slopingRoof(w, at, r)
		}
	}
}

// over is a level over a roof's surface where its tray is, above the base and within the wall.
func (c *counter) over(w *Wall, level measure.Length) measure.Length {
	return min(level-w.Wall.Base+c.book.Length("tray.over_roof"), w.Wall.Highest())
}

// levelRoof takes a cavity tray along the roof between openings, with stop ends and weeps.
func (c *counter) levelRoof(w *Wall, at string, r *schedule.AbuttingRoof) {
	level := c.over(w, r.LeftLevel)
	p := c.pick(at, product.CavityTray, "cavity tray", "tray.over_roof",
		func(p *product.Product) bool { return p.Length > c.book.Length("dpc.lap") }, unsized)
	row := Need{From: level, To: level, Rules: []string{"tray.over_roof", "dpc.lap"}}
	trays, weeps := 0, 0
	for _, s := range w.at(0, level) {
		from, to := max(s.from, r.Left), min(s.to, r.Right)
		if from >= to {
			continue
		}
		trays++
		weeps += max(c.book.Count("weep.least"), spaces(to-from, c.book.Length("weep.spacing"))+1)
		if p == nil {
			continue
		}
		laid, laps := c.lapped(to-from, p.Length)
		c.cutFrom(p, laid)
		row.Product, row.Unit, row.Part = p, metre, "roof_tray"
		row.Net, row.With = measure.Metres(to-from), measure.Metres(laid)
		row.Sum = "over a level roof, " + from.String() + " to " + to.String() + " mm along: " + metres(to-from) + " m" + laps
		c.add(w, row)
	}
	c.drained(w, at, row, trays*c.book.Count("tray.stop_ends"), weeps)
}

// drained adds stop ends and weeps to trays.
func (c *counter) drained(w *Wall, at string, row Need, ends, weeps int) {
	row.Unit, row.With = each, 0
	if p := c.first(at, product.StopEnd, "stop end", "tray.stop_ends"); p != nil && ends > 0 {
		row.Product, row.Part, row.Net, row.Rules = p, "stop_end", measure.Each(ends), []string{"tray.stop_ends"}
		row.Sum = number(ends) + " to the trays over a roof"
		c.add(w, row)
	}
	if p := c.first(at, product.Weep, "weep", "weep.spacing"); p != nil && weeps > 0 {
		row.Product, row.Part, row.Net, row.Rules = p, "weep", measure.Each(weeps), []string{"weep.spacing", "weep.least"}
		row.Sum = number(weeps) + " to the trays over a roof"
		c.add(w, row)
	}
}

// slopingRoof takes a stepped tray a course, a catchment tray at the foot and, where
// another slope meets it at the top, a ridge tray.
func (c *counter) slopingRoof(w *Wall, at string, r *schedule.AbuttingRoof) {
	run, rise, gauge := r.Right-r.Left, r.RightLevel-r.LeftLevel, w.Gauge[0]
	hand := "left"
	if rise < 0 {
		rise, hand = -rise, "right"
	}
	low, high := c.over(w, min(r.LeftLevel, r.RightLevel)), c.over(w, max(r.LeftLevel, r.RightLevel))
	n, lap := spaces(rise, gauge), c.book.Length("tray.step_lap")
	step := measure.Length(measure.CeilDiv(int64(run)*int64(gauge), int64(rise)))
	words := "stepped tray for a roof that falls to the " + hand + ", of " + metres(step+lap) + " m or longer"
	p := c.pick(at, product.SteppedTray, words, "tray.step_lap",
		func(p *product.Product) bool { return p.Hand == hand && p.Length >= step+lap },
		func(p *product.Product) measure.Length { return p.Length })
	if p != nil {
		c.add(w, Need{
			Product: p, Unit: each, Part: "stepped_tray", Net: measure.Each(n), From: low, To: high,
			Sum: "rise " + rise.String() + " / " + gauge.String() + " a course, up to " + number(n) + "; each course steps " + metres(step) +
				" m along, + " + lap.String() + " mm past the next",
			Rules: []string{"tray.over_roof", "tray.step_lap"},
		})
	}
	ends := Need{Unit: each, From: low, To: low, Rules: []string{"tray.catchments"}}
	if p := c.first(at, product.CatchmentTray, "catchment tray", "tray.catchments"); p != nil {
		ends.Product, ends.Part, ends.Net = p, "catchment_tray", measure.Each(c.book.Count("tray.catchments"))
		ends.Sum = "one at the foot of the slope, with its stop ends"
		c.add(w, ends)
	}
	if p := c.first(at, product.Weep, "weep", "tray.catchments"); p != nil {
		ends.Product, ends.Part, ends.Net = p, "weep", measure.Each(c.book.Count("tray.catchments"))
		ends.Sum = "one to each catchment tray"
		c.add(w, ends)
	}
	if w.ridge(r) {
		if p := c.first(at, product.RidgeTray, "ridge tray", "tray.ridges"); p != nil {
			c.add(w, Need{
				Product: p, Unit: each, Part: "ridge_tray", Net: measure.Each(c.book.Count("tray.ridges")), From: high, To: high,
				Sum: "one where two slopes meet, " + r.Right.String() + " mm along", Rules: []string{"tray.ridges"},
			})
		}
	}
}

// ridge says whether a roof rises to the right to where another falls away from it.
func (w *Wall) ridge(r *schedule.AbuttingRoof) bool {
	for i := range w.Wall.AbuttingRoofs {
		o := &w.Wall.AbuttingRoofs[i]
		if r.RightLevel > r.LeftLevel && o.Left == r.Right && o.LeftLevel == r.RightLevel && o.RightLevel < o.LeftLevel {
			return true
		}
	}
	return false
}
