package ancillary

import (
	"hodman/service/finding"
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

// ends counts starter kits at abutments and filler in movement joints, leaf by leaf.
func (c *counter) ends(w *Wall, metLeft bool) {
	for i, e := range w.ends() {
		if e.abuts {
			c.starters(w, &e)
		}
		if e.moves && !(i == 0 && metLeft) {
			c.filler(w, &e)
		}
	}
	c.long(w)
}

func (c *counter) starters(w *Wall, e *end) {
	p := c.pick(w.At, product.StarterKit, "wall starter kit", "starter.height",
		func(p *product.Product) bool { return p.Length > 0 }, unsized)
	if p == nil {
		return
	}
	leaves, kits := len(w.leaves()), spaces(e.height, p.Length)
	c.add(w, Need{
		Product: p, Unit: each, Part: "starter", Net: measure.Each(leaves * kits), To: e.height,
		Sum:   e.name + " end: " + e.height.String() + " / " + p.Length.String() + ", up to " + number(kits) + ", x " + leavesOf(leaves),
		Rules: []string{"starter.height"},
	})
}

func leavesOf(n int) string {
	if n == 1 {
		return "1 leaf"
	}
	return number(n) + " leaves"
}

// filler is a strip the height of the joint in every leaf, as thick as the joint or the next thicker.
func (c *counter) filler(w *Wall, e *end) {
	for _, leaf := range w.leaves() {
		_, rule := movement(leaf)
		width := c.book.Length(rule)
		p := c.pick(w.At, product.JointFiller, "movement joint filler of "+width.String()+" mm or thicker", rule,
			func(p *product.Product) bool { return p.Thickness >= width }, func(p *product.Product) measure.Length { return p.Thickness })
		if p == nil {
			continue
		}
		c.add(w, Need{
			Product: p, Unit: metre, Part: "joint_filler", Net: measure.Metres(e.height), To: e.height,
			Sum: e.name + " end: " + metres(e.height) + " m in the leaf of " + leaf.Code, Rules: []string{rule},
		})
	}
}

// movement names the rules of a leaf's movement joints. A brick is taken as clay, a
// block and a coursing unit as concrete.
func movement(leaf *product.Product) (spacing, width string) {
	if leaf.Kind == product.Brick {
		return "joint.movement_clay", "joint.movement_clay_width"
	}
	return "joint.movement_concrete", "joint.movement_concrete_width"
}

// long says where the outer leaf runs on farther than its material should without a
// joint: a straight wall longer than the spacing, and then so many joints that panels
// at the ends are at most half of it.
func (c *counter) long(w *Wall) {
	rule, _ := movement(w.Outer)
	n := joints(w.Wall.Length, c.book.Length(rule))
	if n == 0 {
		return
	}
	most := c.book.Length(rule)
	c.tell(finding.Finding{
		Severity: finding.Check, Code: "joint.movement_missing", At: w.At + "/length_mm", Rule: rule,
		Text:   "wall " + w.Ref + " runs " + w.Wall.Length.String() + " mm without a movement joint, over " + most.String() + " mm",
		Remedy: "ask the designer; between two returns " + number(n) + " would do, not over " + most.String() + " mm apart and " + measure.Length(measure.FloorDiv(int64(most), 2)).String() + " mm from a return: part the wall there, each part ending at movement_joint",
	})
}

// joints is how many movement joints a straight wall between two returns takes: none up
// to the spacing, else enough that end panels are half a spacing at most.
func joints(length, spacing measure.Length) int {
	if length <= spacing {
		return 0
	}
	return spaces(length, spacing)
}
