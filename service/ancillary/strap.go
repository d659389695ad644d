package ancillary

import (
	"hodman/service/measure"
	"hodman/service/product"
)

// straps are the lateral restraint at each level the wall is strapped to.
func (c *counter) straps(w *Wall) {
	for _, level := range w.Wall.Restraint {
		p := c.first(w.At+"/restraint_mm", product.RestraintStrap, "lateral restraint strap", "strap.lateral_spacing")
		if p == nil {
			return
		}
		above := level - w.Wall.Base
		run := w.runAt(above)
		n, sum := c.along(run, "strap.lateral_spacing")
		c.add(w, Need{
			Product: p, Unit: each, Part: "restraint", Net: measure.Each(n), From: above, To: above,
			Sum: "at " + level.String() + " mm, " + sum, Rules: []string{"strap.lateral_spacing", "strap.least"},
		})
	}
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
