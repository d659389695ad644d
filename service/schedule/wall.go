package schedule

import (
	"strconv"

	"hodman/service/measure"
	"hodman/service/product"
)

// walls checks every wall by itself, then where they meet, then how much there is to lay.
func (c *checker) walls(s *Schedule, types map[string]*WallType) {
	if !c.count("", "walls", len(s.Walls), 1, MaxWalls) {
		return
	}
	before := len(c.faults)
	refs := make(map[string]bool, len(s.Walls))
	for i := range s.Walls {
		w := &s.Walls[i]
		prefix := "/walls/" + strconv.Itoa(i)
		if c.key(prefix, "ref", w.Ref) {
			if refs[w.Ref] {
				c.add(prefix, "ref", "duplicate", strconv.Quote(w.Ref)+" stands twice; give every wall a ref of its own")
			}
			refs[w.Ref] = true
		}
		if c.key(prefix, "type", w.Type) && types[w.Type] == nil {
			c.add(prefix, "type", "unknown_ref", "there is no wall type "+strconv.Quote(w.Type)+" under wall_types; add it there, or name one that stands there")
		}
		c.wall(prefix, w)
	}
	c.corners(s)
	c.junctions(s, types)
	if len(c.faults) == before && c.cat != nil {
		c.work(s, types)
	}
	if len(c.faults) == before && c.cat != nil {
		c.meetings(s, types)
	}
}

func (c *checker) wall(prefix string, w *Wall) {
	long := c.length(prefix, "length_mm", w.Length, wallLength)
	high := c.length(prefix, "height_mm", w.Height, wallHeight)
	c.length(prefix, "base_mm", w.Base, level)
	ends := []string{string(StopEnd), string(ExternalCorner), string(InternalCorner), string(Abutment), string(MovementJoint), string(JunctionEnd)}
	c.choice(prefix, "left", string(w.Left), ends...)
	c.choice(prefix, "right", string(w.Right), ends...)
	shaped := c.top(prefix, w, long)
	c.restraint(prefix, w, high && shaped)
	c.plate(prefix, w)
	c.built(prefix, w, high && shaped)
	c.pierSizes(prefix, w, high)
	if !c.count(prefix, "openings", len(w.Openings), 0, MaxOpenings) {
		return
	}
	sound := make([]bool, len(w.Openings))
	for k := range w.Openings {
		sound[k] = c.opening(prefix+"/openings/"+strconv.Itoa(k), w, &w.Openings[k], long && high && shaped)
	}
	c.movementJoints(prefix, w, long)
	c.bands(prefix, w, high && shaped)
	c.apart(prefix, w, sound)
}

// top checks the shape above the height line; it returns false where HighestAt cannot be asked.
func (c *checker) top(prefix string, w *Wall, long bool) bool {
	t := w.Top
	if t == nil {
		return true
	}
	prefix += "/top"
	ok := c.choice(prefix, "shape", t.Shape, "level", "gable", "rake", "stepped")
	c.coping(prefix, t)
	for _, each := range []struct {
		name  string
		value measure.Length
		in    span
	}{{"apex_mm", t.Apex, rise}, {"apex_at_mm", t.ApexAt, apexAt}, {"left_mm", t.Left, rise}, {"right_mm", t.Right, rise}} {
		if each.value < 0 && each.in == rise {
			c.add(prefix, each.name, "range", "is "+each.value.String()+" mm, lower than the eaves: it is a rise above the wall's height line; give 0 or more, or take the height_mm down to the lowest point of the top")
			ok = false
			continue
		}
		ok = c.length(prefix, each.name, each.value, each.in) && ok
	}
	if !ok || !long {
		return false
	}
	switch {
	case t.Shape == "gable" && t.Apex == 0:
		c.add(prefix, "apex_mm", "inconsistent", "is missing or 0; a gable rises above the wall's height line")
	case t.Shape == "gable" && (t.ApexAt <= 0 || t.ApexAt >= w.Length):
		c.add(prefix, "apex_at_mm", "inconsistent", "is "+t.ApexAt.String()+" mm; the apex stands between the ends, over 0 and under "+w.Length.String()+" mm (a rake rises to one end)")
	case t.Shape == "rake" && t.Left == t.Right:
		c.add(prefix, "right_mm", "inconsistent", "gives both ends the same rise; give left_mm or right_mm, or make the wall higher and its top level")
	case t.Shape == "stepped":
		return c.steps(prefix, w)
	case len(t.Steps) > 0:
		c.add(prefix, "steps", "inconsistent", "belong to a stepped top; the shape is "+t.Shape)
	case t.Shape != "gable" && (t.Apex != 0 || t.ApexAt != 0):
		c.add(prefix, "apex_mm", "inconsistent", "belongs to a gable; the shape is "+t.Shape)
	case t.Shape != "rake" && (t.Left != 0 || t.Right != 0):
		c.add(prefix, "left_mm", "inconsistent", "left_mm and right_mm belong to a rake; the shape is "+t.Shape)
	default:
		return true
	}
	return false
}

// Highest is the highest point of the wall's top above its base.
func (w *Wall) Highest() measure.Length {
	if w.Top == nil {
		return w.Height
	}
	switch w.Top.Shape {
	case "gable":
		return w.Height + w.Top.Apex
	case "rake":
		return w.Height + max(w.Top.Left, w.Top.Right)
	case "stepped":
		rise := measure.Length(0)
		for _, s := range w.Top.Steps {
			rise = max(rise, s.Rise)
		}
		return w.Height + rise
	}
	return w.Height
}

func (c *checker) restraint(prefix string, w *Wall, shaped bool) {
	if !c.count(prefix, "restraint_mm", len(w.Restraint), 0, MaxRestraint) {
		return
	}
	for i, at := range w.Restraint {
		name := strconv.Itoa(i)
		if c.length(prefix+"/restraint_mm", name, at, level) && shaped && (at < w.Base || at > w.Base+w.Highest()) {
			c.add(prefix+"/restraint_mm", name, "outside", "is at "+at.String()+" mm; the wall stands from "+w.Base.String()+" to "+(w.Base+w.Highest()).String()+" mm above the datum")
		}
	}
}

func (c *checker) plate(prefix string, w *Wall) {
	if w.Plate == nil {
		return
	}
	if w.Top != nil && w.Top.Shape != "level" {
		c.add(prefix, "plate", "inconsistent", "a wall plate lies on a level top; leave it out for a gable or a rake")
	}
	code := w.Plate.Product
	if code == "" || !c.key(prefix+"/plate", "product", code) {
		return
	}
	if p := c.cat.Find(code); p == nil || p.Kind != product.WallPlate {
		c.add(prefix+"/plate", "product", "unknown_ref", "there is no wall plate "+strconv.Quote(code)+" in catalogue "+c.cat.ID())
	}
}

// opening checks one opening by itself and against its wall; it returns whether
// the opening can be compared with others.
func (c *checker) opening(prefix string, w *Wall, o *Opening, placed bool) bool {
	c.key(prefix, "ref", o.Ref)
	shaped := c.optionalChoice(prefix, "shape", o.Shape, shapes...)
	c.head(prefix+"/head", o)
	c.builtRound(prefix, o)
	ok := c.length(prefix, "left_mm", o.Left, openingLeft)
	ok = c.length(prefix, "sill_mm", o.Sill, openingSill) && ok
	ok = c.length(prefix, "width_mm", o.Width, openingWidth) && ok
	ok = c.length(prefix, "height_mm", o.Height, openingHeight) && ok
	if ok = shaped && c.curve(prefix, o, ok) && ok; !ok || !placed {
		return ok
	}
	switch {
	case o.Width > w.Length:
		c.add(prefix, "width_mm", "outside", "is "+o.Width.String()+" mm, wider than the wall of "+w.Length.String()+" mm; make it narrower, or mend the length of the wall")
	case o.Right() > w.Length:
		c.add(prefix, "left_mm", "outside", "puts the opening's far side at "+o.Right().String()+" mm, beyond the wall's end at "+w.Length.String()+" mm; the most that fits is "+(w.Length-o.Width).String())
	default:
		if top := w.topOver(o); o.Top() > top {
			c.add(prefix, "height_mm", "outside", "puts the head at "+o.Top().String()+" mm, above the wall's top there at "+top.String()+" mm; the most that fits is "+(top-o.Sill).String())
		}
	}
	return ok
}

// apart checks that the openings of a wall have names of their own and do not overlap.
func (c *checker) apart(prefix string, w *Wall, sound []bool) {
	refs := make(map[string]bool, len(w.Openings))
	for k := range w.Openings {
		o := &w.Openings[k]
		at := prefix + "/openings/" + strconv.Itoa(k)
		if o.Ref != "" && refs[o.Ref] {
			c.add(at, "ref", "duplicate", strconv.Quote(o.Ref)+" stands twice in wall "+w.Ref+"; give every opening a ref of its own")
		}
		refs[o.Ref] = true
		for e := range k {
			earlier := &w.Openings[e]
			if sound[k] && sound[e] && o.Left < earlier.Right() && earlier.Left < o.Right() && o.Sill < earlier.Top() && earlier.Sill < o.Top() {
				c.faults.Add(at, "overlap", "overlaps opening "+strconv.Quote(earlier.Ref)+", which takes up "+earlier.Left.String()+" to "+earlier.Right().String()+" mm along and "+earlier.Sill.String()+" to "+earlier.Top().String()+" mm up; move one of them or make it smaller")
				break
			}
		}
	}
}

// whole says whether every leaf of a type can be resolved.
func (c *checker) whole(t *WallType) bool {
	known := func(l *Leaf) bool { return l != nil && (l.Unit != nil || c.cat.Find(l.Product) != nil) }
	return known(t.Single) || known(t.Outer) && t.Cavity != nil && known(t.Inner)
}

func (c *checker) leaves(t *WallType) []Made {
	return t.Leaves(c.cat, c.book)
}

// work bounds the laying: walls too short for their corners, and documents too large to answer at once.
func (c *checker) work(s *Schedule, types map[string]*WallType) {
	total, openings, area := 0, 0, measure.Area(0)
	for i := range s.Walls {
		w, t := &s.Walls[i], types[s.Walls[i].Type]
		if !c.whole(t) {
			return
		}
		openings += len(w.Openings)
		c.features("/walls/"+strconv.Itoa(i), w, &c.leaves(t)[0])
		for _, leaf := range c.leaves(t) {
			gauge := leaf.Unit.Height + leaf.Bed
			// Under a slope no two courses are alike, and every one has cuts of its own.
			courses := int(w.Height/gauge) + 1 + slopeWork*int((w.Highest()-w.Height)/gauge)
			total += courses * (len(w.Openings) + len(w.Crossings) + len(w.Piers) + 1) * c.times(len(w.Openings))
			area = min(area+w.Length.Times(w.Highest()), 2*MaxArea)
		}
	}
	switch {
	case total > MaxWork:
		c.add("", "walls", "too_large", "holds more courses and openings than one schedule may ("+strconv.Itoa(MaxWork)+" courses x stretches); send it in parts")
	case openings > MaxAllOpenings:
		c.add("", "walls", "too_large", "holds "+strconv.Itoa(openings)+" openings; one schedule may hold "+strconv.Itoa(MaxAllOpenings)+": send it in parts")
	case area > MaxArea:
		c.add("", "walls", "too_large", "holds over 1,000,000 m2 of leaves; send it in parts")
	}
}

// times is how many times over a wall counts: once, or more as it is set out in every way and
// nudged.
func (c *checker) times(openings int) int {
	if !c.settingOut {
		return 1
	}
	return settingOutWork + openings/nudgedOpenings
}
