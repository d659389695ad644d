package ancillary

import (
	"hodman/service/finding"
	"hodman/service/measure"
	"hodman/service/product"
	"hodman/service/schedule"
)

// coping covers the top of a wall, every level or sloping part of it by itself: copings end to
// end with a joint, or bricks on edge across it, and a damp-proof course under them.
func (c *counter) coping(w *Wall) {
	t := w.Wall.Top
	if t == nil || t.Coping == nil {
		return
	}
	p, joint := c.cat.Find(t.Coping.Product), c.book.Length("joint.perpend")
	size, _, _ := copingSize(p)
	n, sum, run := 0, "", measure.Length(0)
	low, high := w.Wall.Height, w.Wall.Highest()
	for i, part := range topParts(w.Wall) {
		pieces := int(measure.CeilDiv(int64(part+joint), int64(size+joint)))
		if i > 0 {
			sum += " + "
		}
		n += pieces
		run += part
		sum += metres(part) + " m, up to " + number(pieces)
	}
	c.add(w, Need{Product: p, Unit: each, Part: "coping", Net: measure.Each(n), From: low, To: high,
		Sum: c.words.Say("(L + ", joint, ") / (", size, " + ", joint, "): ", sum), Rules: c.rules("coping.joint")})
	c.underCoping(w, p, run, low, high)
}

// underCoping lays a damp-proof course under a coping, as wide as the wall is thick, and
// tells of a coping that does not cover it.
func (c *counter) underCoping(w *Wall, p *product.Product, run, low, high measure.Length) {
	thick := w.Thick
	_, across, _ := copingSize(p)
	if across < thick {
		c.tell(finding.Finding{Severity: finding.Check, Code: "coping.narrow", At: w.At + "/top/coping/product", Rule: "coping.joint",
			Text:   p.Code + " is " + across.String() + " mm across, and wall " + w.Ref + " is " + thick.String() + " mm thick: it does not cover it, nor throw water clear of it",
			Remedy: "choose a coping wider than the wall by an overhang with a drip on either side"})
	}
	if roll := c.roll(w.At, thick, "dpc.height"); roll != nil {
		laid, laps := c.lapped(run, roll.Length)
		c.add(w, Need{Product: roll, Unit: metre, Part: "dpc_coping", Net: measure.Metres(run), With: measure.Metres(laid), From: low, To: high,
			Sum: c.words.Say("run ", measure.Metres(run), " m", laps), Rules: c.rules("dpc.lap")})
	}
}

// copingSize is how long one of a coping is along the wall, across it, and high: a brick lies on edge.
func copingSize(p *product.Product) (long, across, high measure.Length) {
	if p.Kind == product.Brick {
		return p.Height, p.Length, p.Thickness
	}
	return p.Length, p.Thickness, p.Height
}

// CopingMortar is what a coping takes on a wall so thick: the bed under it, and the joints between its pieces.
func CopingMortar(w *schedule.Wall, p *product.Product, thick, bed, joint measure.Length) measure.Volume {
	long, across, high := copingSize(p)
	v := measure.Volume(0)
	for _, part := range topParts(w) {
		pieces := measure.CeilDiv(int64(part+joint), int64(long+joint))
		v += part.Times(min(thick, across)).Times(bed) + measure.Volume(pieces-1)*joint.Times(high).Times(across)
	}
	return v
}

// topParts are the lengths of a wall's top, one for each level or slope.
func topParts(w *schedule.Wall) []measure.Length {
	t := w.Top
	switch t.Shape {
	case "gable":
		return []measure.Length{slope(t.ApexAt, t.Apex), slope(w.Length-t.ApexAt, t.Apex)}
	case "rake":
		return []measure.Length{slope(w.Length, t.Right-t.Left)}
	case "stepped":
		var parts []measure.Length
		w.Steps(func(from, to, _ measure.Length) {
			if from, to = max(from, 0), min(to, w.Length); to > from {
				parts = append(parts, to-from)
			}
		})
		return parts
	}
	return []measure.Length{w.Length}
}
