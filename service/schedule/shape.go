package schedule

import (
	"strconv"

	"hodman/service/measure"
	"hodman/service/product"
)

// Limits of shapes. A segmental head flatter than one in forty is no arch.
const (
	MaxSteps       = 100
	MaxBands       = 50
	mostRings      = 4
	mostBand       = 50
	flattest       = 40
	leastArchWidth = 200 * measure.Millimetre
)

var (
	curveRise   = mm(0, 25_000)
	soldierPast = mm(0, 1_000)
	bandAt      = mm(0, 100_000)
)

// coping checks what covers a top.
func (c *checker) coping(prefix string, t *Top) {
	if t.Coping == nil || !c.key(prefix+"/coping", "product", t.Coping.Product) {
		return
	}
	if p := c.cat.Find(t.Coping.Product); p == nil || p.Kind != product.Coping && p.Kind != product.Brick {
		c.add(prefix+"/coping", "product", "unknown_ref", "there is no coping, and no brick to lay on edge, "+strconv.Quote(t.Coping.Product)+" in catalogue "+c.cat.ID()+"; list them with GET /v1/products")
	}
}

// steps checks a stepped top: from left to right, each at a place of its own.
func (c *checker) steps(prefix string, w *Wall) bool {
	t := w.Top
	if !c.count(prefix, "steps", len(t.Steps), 1, MaxSteps) {
		return false
	}
	ok, before, highest := true, measure.Length(-1), measure.Length(0)
	for i := range t.Steps {
		s, at := &t.Steps[i], prefix+"/steps/"+strconv.Itoa(i)
		if !c.length(at, "at_mm", s.At, apexAt) || !c.length(at, "rise_mm", s.Rise, rise) {
			ok = false
			continue
		}
		if s.At <= before || s.At >= w.Length {
			c.add(at, "at_mm", "not_rising", "is "+s.At.String()+" mm; steps stand from left to right, each beyond the one before and short of the wall's end at "+w.Length.String()+" mm")
			ok = false
		}
		before, highest = s.At, max(highest, s.Rise)
	}
	if ok && highest == 0 {
		c.add(prefix, "steps", "inconsistent", "rise nowhere above the wall's height line; give a rise_mm, or make the top level")
		return false
	}
	return ok
}

// curve checks an opening's shape against its size; sized says that the size is sound.
func (c *checker) curve(prefix string, o *Opening, sized bool) bool {
	if o.Shape != "segmental" && o.Rise != 0 {
		c.add(prefix, "rise_mm", "inconsistent", "belongs to a segmental opening; the shape is "+shapeOf(o))
		return false
	}
	if !o.Curved() || !sized {
		return true
	}
	before := len(c.faults)
	if o.Width < leastArchWidth {
		c.add(prefix, "width_mm", "arch_room", "is "+o.Width.String()+" mm; a curved opening is "+leastArchWidth.String()+" mm wide at least")
	}
	switch o.Shape {
	case "segmental":
		if !c.length(prefix, "rise_mm", o.Rise, curveRise) {
			break
		}
		if o.Rise*flattest < o.Width || 2*o.Rise >= o.Width {
			c.add(prefix, "rise_mm", "arch_room", "is "+o.Rise.String()+" mm; over a span of "+o.Width.String()+" mm a segment rises from "+(o.Width/flattest).String()+" to under "+(o.Width/2).String()+" mm (semicircular rises half its span)")
		} else if o.Rise > o.Height {
			c.add(prefix, "rise_mm", "arch_room", "is "+o.Rise.String()+" mm, more than the opening's whole height of "+o.Height.String()+" mm")
		}
	case "semicircular":
		if o.Height < o.Width/2 {
			c.add(prefix, "height_mm", "arch_room", "is "+o.Height.String()+" mm; a semicircle over "+o.Width.String()+" mm is "+(o.Width/2).String()+" mm high by itself")
		}
	case "round":
		if o.Height != o.Width {
			c.add(prefix, "height_mm", "inconsistent", "is "+o.Height.String()+" mm and the width "+o.Width.String()+" mm; a round opening is as high as it is wide")
		}
	}
	return len(c.faults) == before
}

func shapeOf(o *Opening) string {
	if o.Shape == "" {
		return shapes[0]
	}
	return o.Shape
}

// head checks what carries the masonry over an opening.
func (c *checker) head(prefix string, o *Opening) {
	h := &o.Head
	c.optionalChoice(prefix, "kind", h.Kind, "lintel", "arch", "flat_arch", "none")
	if h.Bearing != nil {
		c.length(prefix, "bearing_mm", *h.Bearing, bearing)
	}
	switch {
	case h.Kind == "lintel" && o.Curved():
		c.add(prefix, "kind", "inconsistent", "a lintel carries a level head; under a curve use arch, or none for what something else carries")
	case h.Kind == "arch" && !o.Curved():
		c.add(prefix, "kind", "inconsistent", "an arch has a curved head; give the opening a shape, or use flat_arch")
	case h.Kind == "flat_arch" && o.Curved():
		c.add(prefix, "kind", "inconsistent", "a flat arch is over a level head; use arch under a curve")
	}
	if h.Soldier && (o.Curved() || h.Kind == "flat_arch") {
		c.add(prefix, "soldier", "inconsistent", "a soldier course stands over a level head that no arch carries")
	}
	if h.SoldierPast != nil {
		c.length(prefix, "soldier_past_mm", *h.SoldierPast, soldierPast)
		if !h.Soldier {
			c.add(prefix, "soldier_past_mm", "inconsistent", "belongs to a soldier course; ask for it with soldier")
		}
	}
	ring := o.Curved() && o.HasArch()
	switch {
	case h.Rings != 0 && !ring:
		c.add(prefix, "rings", "inconsistent", "belong to an arch under a curve")
	case h.Rings < 0 || h.Rings > mostRings:
		c.add(prefix, "rings", "range", "is "+strconv.Itoa(h.Rings)+"; give 1 to "+strconv.Itoa(mostRings))
	case h.Gauged && !o.HasArch():
		c.add(prefix, "gauged", "inconsistent", "belongs to an arch: give the opening a curved shape, or ask for a flat_arch")
	case h.Gauged && h.Rings > 1:
		c.add(prefix, "rings", "inconsistent", "a gauged arch is one ring of cut bricks; leave rings out")
	}
	if h.Product != "" || h.Unit != nil {
		c.course(prefix, h.Product, h.Unit)
		if !o.HasArch() && !h.Soldier {
			c.add(prefix, "product", "inconsistent", "product and unit are those of an arch or a soldier course; a lintel is chosen from the catalogue")
		}
	}
}

// course checks the units of a course of their own.
func (c *checker) course(prefix, code string, u *Unit) {
	if code != "" && u != nil {
		c.faults.Add(prefix, "inconsistent", "give either product, a code of the catalogue, or unit, a brick in line")
	}
	if code != "" && c.key(prefix, "product", code) {
		c.laid(prefix, code)
	}
	if u != nil {
		c.unit(prefix+"/unit", u)
	}
}

// topOver is the lowest level of the wall's top over an opening.
func (w *Wall) topOver(o *Opening) measure.Length {
	if o.Curved() {
		// A crown fits under a slope where its sides would not: what is over it is looked at by the arch.
		return max(w.HighestAt(o.Left+o.Width/2), w.LowestOver(o.Left, o.Right()))
	}
	return w.LowestOver(o.Left, o.Right())
}

// bands checks the courses of other units along a wall, and the sills under its openings.
func (c *checker) bands(prefix string, w *Wall, sized bool) {
	for k := range w.Openings {
		if s := w.Openings[k].SillCourse; s != nil {
			at := prefix + "/openings/" + strconv.Itoa(k) + "/sill_course"
			c.course(at, s.Product, s.Unit)
			if w.Openings[k].Shape == "round" {
				c.faults.Add(at, "inconsistent", "a sill is level; a round opening has none")
			}
		}
	}
	if !c.count(prefix, "bands", len(w.Bands), 0, MaxBands) {
		return
	}
	for i := range w.Bands {
		b, at := &w.Bands[i], prefix+"/bands/"+strconv.Itoa(i)
		c.choice(at, "kind", b.Kind, "soldier", "header", "dentil", "stretcher", "on_edge")
		c.course(at, b.Product, b.Unit)
		if b.Courses < 0 || b.Courses > mostBand {
			c.add(at, "courses", "range", "is "+strconv.Itoa(b.Courses)+"; give 1 to "+strconv.Itoa(mostBand))
		}
		if c.length(at, "at_mm", b.At, bandAt) && sized && b.At >= w.Height {
			c.add(at, "at_mm", "outside", "is at "+b.At.String()+" mm, not under the wall's height of "+w.Height.String()+" mm; a band stands within the wall")
		}
	}
}
