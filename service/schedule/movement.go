package schedule

import (
	"strconv"

	"hodman/service/measure"
)

// MaxJoints is how many movement joints a wall may be given.
const MaxJoints = 1000

// movementJoints checks joints given by hand: along the wall, in order, with masonry
// beside them, and none in an opening.
func (c *checker) movementJoints(prefix string, w *Wall, long bool) {
	list := w.MovementJoints
	if !c.count(prefix, "movement_joints_mm", len(list), 0, MaxJoints) {
		return
	}
	prefix += "/movement_joints_mm"
	width := max(c.book.Length("joint.movement_clay_width"), c.book.Length("joint.movement_concrete_width"))
	before := measure.Length(0)
	for i, x := range list {
		name := strconv.Itoa(i)
		switch {
		case !c.length(prefix, name, x, openingLeft) || !long:
		case x-before < leastPanel:
			c.add(prefix, name, "not_rising", "begins at "+x.String()+" mm, less than "+leastPanel.String()+" mm beyond what stands before it at "+before.String()+" mm; give joints from left to right with masonry between them")
		case x+width+leastPanel > w.Length:
			c.add(prefix, name, "outside", "begins at "+x.String()+" mm, less than "+leastPanel.String()+" mm before the wall's end at "+w.Length.String()+" mm; move it, or end the wall there at movement_joint")
		default:
			c.jointClear(prefix, name, w, x, width)
		}
		before = x
	}
}

// jointClear checks that no opening is in a joint's way.
func (c *checker) jointClear(prefix, name string, w *Wall, x, width measure.Length) {
	for k := range w.Openings {
		if o := &w.Openings[k]; x < o.Right() && x+width > o.Left {
			c.add(prefix, name, "overlap", "runs from "+x.String()+" to "+(x+width).String()+" mm, through opening "+strconv.Quote(o.Ref)+" from "+o.Left.String()+" to "+o.Right().String()+" mm; a joint goes up beside it")
			return
		}
	}
}
