package ancillary

import (
	"strconv"

	"hodman/service/measure"
	"hodman/service/movement"
	"hodman/service/product"
)

// joints counts what goes into the movement joints that stand within the wall's leaves.
func (c *counter) joints(w *Wall) {
	for k, leaf := range w.leaves() {
		for _, x := range w.Joints[k] {
			c.joint(w, leaf, "joint at "+x.String()+" mm", w.Wall.HighestAt(x))
		}
	}
}

// joint is a movement joint in one leaf: strips of filler its height, as thick as the joint or the
// next thicker and as many side by side as the leaf behind the sealant is deep, and sealant over it on the face that shows.
func (c *counter) joint(w *Wall, leaf *product.Product, where string, height measure.Length) {
	_, rule := movement.Rules(leaf.Kind)
	width := c.book.Length(rule)
	p := c.pick(w.At, product.JointFiller, "movement joint filler of "+width.String()+" mm or thicker", rule,
		func(p *product.Product) bool { return p.Thickness >= width }, func(p *product.Product) measure.Length { return p.Thickness })
	if p != nil {
		n, beside := 1, ""
		if deep := leaf.Thickness - c.sealantDepth(width); p.Height > 0 && deep > p.Height {
			n = int(measure.CeilDiv(int64(deep), int64(p.Height)))
			beside = c.words.Say(", ", n, " strips of ", p.Height, " mm side by side")
		}
		run := measure.Metres(height * measure.Length(n))
		c.add(w, Need{
			Product: p, Unit: metre, Part: "joint_filler", Net: run, To: height,
			Sum: c.words.Say(where, ": ", measure.Metres(height), " m in the leaf of ", leaf.Code, beside), Rules: []string{rule},
		})
	}
	if leaf == w.Outer {
		c.sealant(w, where, height, width, rule)
	}
}

// sealant fills a joint at the face of the outer leaf, or at both faces of an only one, half as deep as the
// joint is wide and never less than the rule.
func (c *counter) sealant(w *Wall, where string, height, width measure.Length, rule string) {
	p := c.pick(w.At, product.Sealant, "joint sealant", "sealant.depth_least", func(p *product.Product) bool { return p.Volume > 0 }, unsized)
	if p == nil {
		return
	}
	depth := c.sealantDepth(width)
	faces, both := measure.Volume(1), ""
	if w.Inner == nil {
		faces, both = 2, " x 2 faces"
	}
	tubes := int(measure.CeilDiv(int64(faces*height.Times(width).Times(depth)), int64(p.Volume)))
	c.add(w, Need{
		Product: p, Unit: each, Part: "joint_sealant", Net: measure.Each(tubes), To: height,
		Sum: where + ": " + metres(height) + " m x " + width.String() + " mm wide x " + depth.String() + " mm deep" + both + ", in tubes of " +
			measure.Quantity(measure.HalfUpDiv(int64(p.Volume), 1_000_000)).String() + " l, up to " + strconv.Itoa(tubes),
		Rules: []string{rule, "sealant.depth_least"},
	})
}

// sealantDepth is half as deep as a joint is wide, and never less than the rule.
func (c *counter) sealantDepth(width measure.Length) measure.Length {
	return max(width/2, c.book.Length("sealant.depth_least"))
}
