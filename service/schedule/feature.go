package schedule

import (
	"strconv"

	"hodman/service/measure"
	"hodman/service/product"
	"hodman/service/rulebook"
)

// Region is a part of a wall's face, beds and joints and all.
type Region struct{ Left, Right, Foot, Head measure.Length }

// laidOf is what an opening's arch or soldier course, a sill or a band is laid of: its own
// unit, or the leaf's.
func (m *Made) laidOf(code string, u *Unit, cat *product.Catalogue) *product.Product {
	if code == "" && u == nil {
		return m.Unit
	}
	return unitOf(code, u, cat)
}

// HeadUnit is what the arch or the soldier course over an opening is laid of.
func (m *Made) HeadUnit(o *Opening, cat *product.Catalogue) *product.Product {
	return m.laidOf(o.Head.Product, o.Head.Unit, cat)
}

// SillUnit is what an opening's sill course is laid of.
func (m *Made) SillUnit(o *Opening, cat *product.Catalogue) *product.Product {
	return m.laidOf(o.SillCourse.Product, o.SillCourse.Unit, cat)
}

// BandUnit is what a band is laid of.
func (m *Made) BandUnit(b *Band, cat *product.Catalogue) *product.Product {
	return m.laidOf(b.Product, b.Unit, cat)
}

// Rings is how many rings an arch has.
func (o *Opening) Rings(book *rulebook.Book) int {
	switch {
	case o.Head.Gauged || o.Head.Kind == "flat_arch":
		return 1
	case o.Head.Rings > 0:
		return o.Head.Rings
	}
	return book.Count("arch.rings")
}

// RingDepth is how deep one ring of an arch is: a brick on edge, or one cut to the arch that stands on end.
func (m *Made) RingDepth(o *Opening, unit *product.Product) measure.Length {
	if o.Head.Gauged || o.Head.Kind == "flat_arch" {
		return unit.Length
	}
	return unit.Thickness
}

// ArchDepth is how far an arch reaches beyond the opening, with the joint over each ring.
func (m *Made) ArchDepth(o *Opening, cat *product.Catalogue, book *rulebook.Book) measure.Length {
	return measure.Length(o.Rings(book)) * (m.RingDepth(o, m.HeadUnit(o, cat)) + m.Bed)
}

// Over is what an arch or a soldier course takes up over an opening, if there is one.
func (m *Made) Over(o *Opening, cat *product.Catalogue, book *rulebook.Book) (Region, bool) {
	r := Region{Left: o.Left, Right: o.Right(), Foot: o.Top(), Head: o.Top()}
	switch {
	case o.Head.Kind == "flat_arch":
		deep := m.ArchDepth(o, cat, book)
		lean := measure.Length(book.Ratio("arch.skewback").HalfUpOf(int64(deep)))
		return Region{r.Left - lean, r.Right + lean, r.Foot, r.Head + deep}, true
	case o.HasArch():
		deep := m.ArchDepth(o, cat, book)
		r = Region{o.Left - deep, o.Right() + deep, o.Top() - o.ArchRise(), o.Top() + deep}
		if o.Shape == "round" {
			r.Foot = o.Sill - deep
		}
		return r, true
	case o.Head.Soldier:
		u := m.HeadUnit(o, cat)
		pitch := u.Height + m.Perpend
		past := book.Length("soldier.past")
		if o.Head.SoldierPast != nil {
			past = *o.Head.SoldierPast
		}
		n := measure.CeilDiv(int64(o.Width+2*past+m.Perpend), int64(pitch))
		wide := measure.Length(n)*pitch - m.Perpend
		left := o.Left - (wide-o.Width)/2
		return Region{left, left + wide, o.Top(), o.Top() + m.Bed + u.Length}, true
	}
	return r, false
}

// Under is what a sill course takes up under an opening, if it has one.
func (m *Made) Under(o *Opening, cat *product.Catalogue) (Region, bool) {
	if o.SillCourse == nil {
		return Region{}, false
	}
	return Region{o.Left, o.Right(), o.Sill - m.Bed - m.SillUnit(o, cat).Thickness, o.Sill}, true
}

// BandCourse is how a band's units lie: so long along the wall and so high, on their bed.
func (m *Made) BandCourse(b *Band, cat *product.Catalogue) (long, high measure.Length) {
	u := m.BandUnit(b, cat)
	switch b.Kind {
	case "soldier":
		return u.Height, u.Length
	case "on_edge":
		return u.Height, u.Thickness
	case "stretcher":
		return u.Length, u.Height
	}
	return u.Thickness, u.Height
}

// BandHead is the top of a band above the wall's base.
func (m *Made) BandHead(b *Band, cat *product.Catalogue) measure.Length {
	_, high := m.BandCourse(b, cat)
	return b.At + measure.Length(max(1, b.Courses))*(high+m.Bed)
}

// features checks that arches, soldier courses, sills and bands have room in a wall: within it,
// clear of other openings and of one another.
func (c *checker) features(prefix string, w *Wall, m *Made) {
	type taken struct {
		Region
		at, what string
		of       int
	}
	var list []taken
	for k := range w.Openings {
		o, at := &w.Openings[k], prefix+"/openings/"+strconv.Itoa(k)
		if r, ok := m.Over(o, c.cat, c.book); ok {
			code, what := "/head", "soldier course"
			if o.HasArch() {
				what = "arch"
			}
			list = append(list, taken{r, at + code, what, k})
		}
		if r, ok := m.Under(o, c.cat); ok {
			list = append(list, taken{r, at + "/sill_course", "sill course", k})
		}
	}
	for i := range list {
		t := &list[i]
		name := "the " + t.what + " of " + strconv.Quote(w.Openings[t.of].Ref) + " takes " + t.Left.String() + " to " + t.Right.String() + " mm along and " + t.Foot.String() + " to " + t.Head.String() + " mm up"
		top := w.LowestOver(max(t.Left, 0), min(t.Right, w.Length))
		if w.Openings[t.of].Curved() && t.what == "arch" {
			top = max(top, w.HighestAt((t.Left+t.Right)/2)) // its crown fits under a slope where its sides would not
		}
		if t.Left < 0 || t.Right > w.Length || t.Foot < 0 || t.Head > top {
			c.faults.Add(t.at, "no_room", name+", beyond the wall, which is "+w.Length.String()+" mm long and "+top.String()+" mm high there; move or narrow the opening, or leave it out")
			continue
		}
		for k := range w.Openings {
			if o := &w.Openings[k]; k != t.of && t.Left < o.Right() && o.Left < t.Right && t.Foot < o.Top() && o.Sill < t.Head {
				c.faults.Add(t.at, "no_room", name+", into opening "+strconv.Quote(o.Ref)+"; move one of them, or leave it out")
			}
		}
		for k := range list[:i] {
			if p := &list[k]; t.Left < p.Right && p.Left < t.Right && t.Foot < p.Head && p.Foot < t.Head {
				c.faults.Add(t.at, "no_room", name+", into the "+p.what+" of "+strconv.Quote(w.Openings[p.of].Ref)+"; move one of them, or leave it out")
			}
		}
	}
	for i := range w.Bands {
		b, at := &w.Bands[i], prefix+"/bands/"+strconv.Itoa(i)
		head := m.BandHead(b, c.cat)
		if head > w.Height {
			c.add(at, "at_mm", "no_room", "puts the band's top at "+head.String()+" mm, over the wall's height of "+w.Height.String()+" mm; the most that fits is "+(w.Height-head+b.At).String())
		}
		for k := range list {
			if t := &list[k]; b.At < t.Head && t.Foot < head {
				c.add(at, "at_mm", "no_room", "puts the band from "+b.At.String()+" to "+head.String()+" mm up, through the "+t.what+" of "+strconv.Quote(w.Openings[t.of].Ref)+" from "+t.Foot.String()+" to "+t.Head.String()+" mm; move the band, or leave one out")
			}
		}
		for k := range w.Bands[:i] {
			if p := &w.Bands[k]; b.At < m.BandHead(p, c.cat) && p.At < head {
				c.add(at, "at_mm", "no_room", "puts the band into that at "+p.At.String()+" mm; one stands over the other")
			}
		}
	}
}
