package ancillary

import (
	"slices"

	"hodman/service/finding"
	"hodman/service/measure"
	"hodman/service/product"
)

// tieLength is the shortest tie for a cavity: the cavity and what is embedded, up to
// the step, never under the least.
func (c *counter) tieLength(cavity measure.Length) measure.Length {
	step := c.book.Length("tie.length_step")
	length := measure.CeilDiv(int64(cavity+c.book.Length("tie.length_over_cavity")), int64(step)) * int64(step)
	return max(measure.Length(length), c.book.Length("tie.length_least"))
}

// tie picks the wall's tie: the shortest that is long enough and made for the cavity.
// A wall without its ties must not be built, so that none is a finding to stop at.
func (c *counter) tie(w *Wall) *product.Product {
	length := c.tieLength(w.Cavity.Width)
	var best *product.Product
	for _, p := range c.cat.OfKind(product.WallTie) {
		if w.spans(p) && p.Length >= length && (best == nil || p.Length < best.Length) {
			best = p
		}
	}
	if best == nil {
		c.tell(finding.Finding{
			Severity: finding.Stop, Code: "tie.none_suits", At: w.At, Rule: "tie.length_over_cavity",
			Text:   "catalogue " + c.cat.ID() + " has no wall tie for a cavity of " + w.Cavity.Width.String() + " mm, which asks for one of " + length.String() + " mm: none is counted",
			Remedy: "correct cavity.width_mm, or find the tie and have it agreed before the wall is built",
		})
	}
	return best
}

// ties counts those of the field, the jambs, the slopes and the movement joints, which
// are shown apart. Jamb ties do not take the place of field ties.
func (c *counter) ties(w *Wall) {
	if w.Cavity == nil {
		return
	}
	c.thinLeaf(w)
	p := c.tie(w)
	if p == nil {
		return
	}
	c.fieldTies(w, p)
	c.jambTies(w, p)
	c.slopeTies(w, p)
	c.jointTies(w, p)
}

func (c *counter) fieldTies(w *Wall, p *product.Product) {
	density := c.book.Ratio("tie.density")
	n := ofArea(w.Net, density)
	c.add(w, Need{
		Product: p, Unit: each, Part: "field", Net: measure.Each(up(n)), To: w.Wall.Highest(),
		Sum:   c.words.Say(density, " x ", squareMetres(w.Net), " m2 = ", n, ", up to ", up(n)),
		Rules: c.rules("tie.density", "tie.horizontal", "tie.vertical", "tie.length_over_cavity"),
	})
}

func (c *counter) jambTies(w *Wall, p *product.Product) {
	spacing := c.book.Length("tie.jamb_spacing")
	for k := range w.Wall.Openings {
		o := &w.Wall.Openings[k]
		n := spaces(o.Height, spacing)
		c.add(w, Need{
			Product: p, Unit: each, Part: "jamb", Net: measure.Each(2 * n), From: o.Sill, To: o.Top(),
			Sum:   c.words.Say(o.Ref, ": ", o.Height, " / ", spacing, ", up to ", n, " a jamb x 2"),
			Rules: c.rules("tie.jamb_spacing"),
		})
	}
}

// slopeTies counts along a gable's two slopes or a rake's one.
func (c *counter) slopeTies(w *Wall, p *product.Product) {
	t := w.Wall.Top
	if t == nil || t.Shape != "gable" && t.Shape != "rake" {
		return
	}
	spacing := c.book.Length("tie.gable_spacing")
	slopes, from := [2]measure.Length{slope(w.Wall.Length, t.Right-t.Left)}, w.Wall.Height+min(t.Left, t.Right)
	if t.Shape == "gable" {
		slopes, from = [2]measure.Length{slope(t.ApexAt, t.Apex), slope(w.Wall.Length-t.ApexAt, t.Apex)}, w.Wall.Height
	}
	n := 0
	for i, s := range slopes {
		if s == 0 {
			continue
		}
		if i > 0 {
			c.words.Add(" + ")
		}
		n += spaces(s, spacing)
		c.words.Add(measure.Metres(s), " m / ", spacing, " mm, up to ", spaces(s, spacing))
	}
	c.add(w, Need{
		Product: p, Unit: each, Part: "gable", Net: measure.Each(n), From: from, To: w.Wall.Highest(),
		Sum: c.words.End(), Rules: c.rules("tie.gable_spacing"),
	})
}

// jointTies counts this wall's side of a movement joint; the wall beyond counts its own.
func (c *counter) jointTies(w *Wall, p *product.Product) {
	spacing := c.book.Length("tie.jamb_spacing")
	for _, e := range w.ends() {
		if !e.moves {
			continue
		}
		n := spaces(e.height, spacing)
		c.add(w, Need{
			Product: p, Unit: each, Part: "joint", Net: measure.Each(n), To: e.height,
			Sum:   c.words.Say(e.name, " end: ", e.height, " / ", spacing, ", up to ", n, " on this side of the joint"),
			Rules: c.rules("tie.jamb_spacing"),
		})
	}
	// Both sides of a joint within the wall, where either leaf has it.
	at := slices.Concat(w.Joints[0], w.Joints[1])
	slices.Sort(at)
	for _, x := range slices.Compact(at) {
		height := w.Wall.HighestAt(x)
		n := spaces(height, spacing)
		c.add(w, Need{
			Product: p, Unit: each, Part: "joint", Net: measure.Each(2 * n), To: height,
			Sum:   c.words.Say("joint at ", x, " mm: ", height, " / ", spacing, ", up to ", n, ", on both sides"),
			Rules: c.rules("tie.jamb_spacing"),
		})
	}
}

// thinLeaf says where the density of ties is used outside what it is meant for.
func (c *counter) thinLeaf(w *Wall) {
	least := c.book.Length("tie.leaf_least")
	if thin := min(w.Outer.Thickness, w.Inner.Thickness); thin < least {
		c.tell(finding.Finding{
			Severity: finding.Check, Code: "tie.thin_leaf", At: w.At, Rule: "tie.leaf_least",
			Text:   "a leaf is " + thin.String() + " mm thick; " + c.book.Ratio("tie.density").String() + " ties a square metre are meant for leaves of " + least.String() + " mm and over",
			Remedy: "ask the engineer for the spacing of ties in a thinner leaf",
		})
	}
}
