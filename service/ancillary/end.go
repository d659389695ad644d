package ancillary

import (
	"hodman/service/measure"
	"hodman/service/product"
	"hodman/service/schedule"
)

// end is one end of a wall: height is the wall's there, above its base.
type end struct {
	name   string
	height measure.Length
	abuts  bool
	moves  bool
}

func (w *Wall) ends() [2]end {
	s := w.Wall
	return [2]end{
		{"left", s.HighestAt(0), s.Left == schedule.Abutment, s.Left == schedule.MovementJoint},
		{"right", s.HighestAt(s.Length), s.Right == schedule.Abutment, s.Right == schedule.MovementJoint},
	}
}

// metLeft says whether the wall before ends at a movement joint too: then the joint at
// this wall's left is that one, and its filler is counted there.
func metLeft(walls []Wall, i int) bool {
	before := (i + len(walls) - 1) % len(walls)
	return before != i && walls[before].Wall.Right == schedule.MovementJoint
}

// leaves are the outer or only leaf and the inner, where there is one.
func (w *Wall) leaves() []*product.Product {
	if w.Inner == nil {
		return []*product.Product{w.Outer}
	}
	return []*product.Product{w.Outer, w.Inner}
}

// ends counts starter kits at abutments and what goes into movement joints, leaf by leaf.
func (c *counter) ends(w *Wall, metLeft bool) {
	for i, e := range w.ends() {
		if e.abuts {
			c.starters(w, Tied{e.name + " end", len(w.leaves()), e.height}, "starter.height")
		}
		if e.moves && !(i == 0 && metLeft) {
			for _, leaf := range w.leaves() {
				c.joint(w, leaf, e.name+" end", e.height)
			}
		}
	}
	for _, t := range w.Tied {
		c.starters(w, t, "starter.height", "junction.tied")
	}
	c.joints(w)
}

// starters counts the kits that hold leaves which butt against another wall.
func (c *counter) starters(w *Wall, t Tied, rules ...string) {
	p := c.pick(w.At, product.StarterKit, "wall starter kit", "starter.height",
		func(p *product.Product) bool { return p.Length > 0 }, unsized)
	if p == nil {
		return
	}
	kits := spaces(t.Height, p.Length)
	c.add(w, Need{
		Product: p, Unit: each, Part: "starter", Net: measure.Each(t.Leaves * kits), To: t.Height,
		Sum:   c.words.Say(t.Where, ": ", t.Height, " / ", p.Length, ", up to ", kits, ", x ", leavesOf(t.Leaves)),
		Rules: rules,
	})
}

func leavesOf(n int) string {
	if n == 1 {
		return "1 leaf"
	}
	return number(n) + " leaves"
}
