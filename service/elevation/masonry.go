package elevation

import (
	"cmp"
	"slices"

	"hodman/service/bond"
	"hodman/service/measure"
	"hodman/service/schedule"
)

// kinds of pieces by the class that they are drawn as, in the legend's order.
var kinds = [...]struct{ class, name string }{
	{"u", "whole, laid as stretcher"},
	{"h", "whole, laid as header"},
	{"o", "whole, on end or on edge"},
	{"l", "sawn to length"},
	{"w", "closer, split along"},
	{"i", "cut in height"},
	{"t", "cut to a slope or curve"},
	{"x", "whole, of another product"},
	{"a", "in an arch, whole"},
	{"k", "in an arch, cut"},
}

// Kinds that are more than a face and a cut, as indexes of kinds.
const (
	low     = 5
	toShape = 6
	other   = 7
	arched  = 8
)

// kindOf is how a piece is drawn, an index of kinds.
func kindOf(s *bond.Strip) int {
	switch {
	case s.Face == bond.Voussoir && s.Cut == bond.Whole:
		return arched
	case s.Face == bond.Voussoir:
		return arched + 1
	case s.Cut == bond.InLength:
		return 3
	case s.Cut == bond.InWidth:
		return 4
	case s.Cut == bond.InHeight:
		return low
	case s.Cut == bond.ToShape:
		return toShape
	case s.Unit > 1: // neither the facing unit nor the backing
		return other
	}
	return min(int(s.Face), 2)
}

// seen says whether a strip of a band shows on the leaf's outer face: it stands on it or
// before it, and no other stands before it in turn, as the front of a pier does.
func (d *drawing) seen(band *bond.Band, i int) bool {
	s := &band.Strips[i]
	if s.Y > 0 || !d.proud {
		return s.Y <= 0
	}
	for k := range band.Strips {
		o := &band.Strips[k]
		if o.Y < 0 && o.Y < s.Y && o.X <= s.X && end(s) <= endOfPier(band, o.Y, o.X) && o.Foot < s.Foot+s.Height && s.Foot < o.Foot+o.Height {
			return false
		}
	}
	return true
}

// end is where a strip's last piece ends.
func end(s *bond.Strip) measure.Length {
	return s.X + measure.Length(s.Count-1)*s.Pitch + s.Length
}

// endOfPier is where the pieces end that stand so far before the leaf, from x on, with no more than
// a joint between them.
func endOfPier(band *bond.Band, y, x measure.Length) measure.Length {
	to := x
	for grown := true; grown; {
		grown = false
		for i := range band.Strips {
			if s := &band.Strips[i]; s.Y == y && s.X <= to+pierJoint && end(s) > to {
				to, grown = end(s), true
			}
		}
	}
	return to
}

// pierJoint is wider than a joint and narrower than what lies between two piers.
const pierJoint = 30 * measure.Millimetre

// reach is how far a leaf's pieces go along the wall.
func reach(l *bond.Laying) (from, to measure.Length) {
	from, to = measure.MaxLength, -measure.MaxLength
	for b := range l.Bands {
		for i := range l.Bands[b].Strips {
			s := &l.Bands[b].Strips[i]
			from, to = min(from, s.X), max(to, end(s))
		}
	}
	return from, to
}

// masonry draws the pieces of a view over its mortar. The pen's origin is the wall's
// left end at its base.
func (d *drawing) masonry(n int, v *view) {
	laid := d.sheet.Leaves[v.leaf].Laying
	from, to := d.reach(v.leaf)
	low, high := from, to
	if !v.first {
		low = v.from
	}
	if !v.last {
		high = v.to
	}
	if from > to || low >= high {
		return
	}
	d.put(`<clipPath id="k`, n, `"><path clip-rule="evenodd" d="`)
	d.outline(low, high)
	d.holes(laid)
	d.put(`"/></clipPath>`)
	if !v.first || !v.last {
		d.put(`<clipPath id="r`, n, `"><path d="`)
		d.outline(low, high)
		d.put(`"/></clipPath>`)
	}
	d.put(`<path class="m" d="`)
	d.outline(low, high)
	d.put(`"/><g clip-path="url(#k`, n, `)">`)
	for b := range laid.Bands {
		d.others(v, &laid.Bands[b], from, to, low, high)
	}
	d.put(`</g><g id="leaf`, n, `"`)
	if !v.first || !v.last {
		d.put(` clip-path="url(#r`, n, `)"`)
	}
	d.put(">")
	for b := range laid.Bands {
		d.band(n, b, &laid.Bands[b], low, high, false)
	}
	d.pierGrounds(v, low, high)
	for b := range laid.Bands {
		if d.proud {
			d.band(n, b, &laid.Bands[b], low, high, true)
		}
	}
	d.arches(laid, low, high)
	d.put("</g>")
}

// pierGrounds draws the mortar of the piers that stand before the leaf, and marks those behind it.
func (d *drawing) pierGrounds(v *view, low, high measure.Length) {
	for i := range d.piers {
		p := &d.piers[i]
		if p.Leaf != v.leaf || p.To <= low || p.From >= high {
			continue
		}
		class := "pier"
		if !p.Outside {
			class = "hid"
		}
		d.box(class, p.From, -p.Head, p.To-p.From, p.Head)
	}
}

// band draws the first course of a band and puts the others above it: what stands on the
// leaf's face, or what stands before it.
func (d *drawing) band(n, b int, band *bond.Band, from, to measure.Length, before bool) {
	var there [len(kinds)]bool
	any := false
	for i := range band.Strips {
		if s := &band.Strips[i]; s.Y < 0 == before && s.Face != bond.Voussoir && d.seen(band, i) {
			if first, last := within(s, from, to); first <= last {
				there[kindOf(s)], any = true, true
			}
		}
	}
	if !any {
		return
	}
	letter := "-"
	if before {
		letter = "p"
	}
	repeats := band.Count
	if there[toShape] {
		repeats = 1 // each is clipped where it stands
	}
	for k := range max(1, band.Count/repeats) {
		d.put(`<g id="n`, n, letter, b)
		if k > 0 {
			d.put("-", k)
		}
		d.put(`">`)
		for kind, drawn := range there {
			if drawn {
				d.course(n, kind, band, measure.Length(k)*band.Rise, from, to, before)
			}
		}
		d.put("</g>")
	}
	for k := 1; k < repeats; k++ {
		d.put(`<use href="#n`, n, letter, b, `" y="`, -measure.Length(k)*band.Rise, `"/>`)
	}
}

// within is the first and the last piece of a strip that shows between from and to.
func within(s *bond.Strip, from, to measure.Length) (first, last int) {
	if s.Count == 1 || s.Pitch <= 0 {
		if s.X+s.Length > from && s.X < to {
			return 0, s.Count - 1
		}
		return 1, 0
	}
	first = max(0, int(measure.FloorDiv(int64(from-s.X-s.Length), int64(s.Pitch)))+1)
	last = min(s.Count-1, int(measure.CeilDiv(int64(to-s.X), int64(s.Pitch)))-1)
	return first, last
}

// course draws the pieces of one kind in a band's course, so much higher than its first.
func (d *drawing) course(n, kind int, band *bond.Band, over, from, to measure.Length, before bool) {
	d.put(`<path class="`, kinds[kind].class)
	if kind == toShape || kind == low && band.Count == 1 { // a low one over a head may reach beyond a slope or a curve
		d.put(`" clip-path="url(#k`, n, `)`)
	}
	d.put(`" d="`)
	for i := range band.Strips {
		s := &band.Strips[i]
		if kindOf(s) != kind || s.Y < 0 != before || !d.seen(band, i) {
			continue
		}
		first, last := within(s, from, to)
		if first > last {
			continue
		}
		d.put("M", along(s.X+measure.Length(first)*s.Pitch))
		d.next(-(band.Foot + over + s.Foot))
		at := len(d.b)
		d.put("h", s.Length, "v", -s.Height, "h", -s.Length, "z")
		if first == last {
			continue
		}
		piece := string(d.b[at:])
		d.put("m", s.Pitch, " 0", piece)
		again := string(d.b[at+len(piece):])
		for k := first + 2; k <= last; k++ {
			d.b = append(d.b, again...)
		}
	}
	d.put(`"/>`)
}

// span is a part of a course.
type span struct{ from, to measure.Length }

// others draws the units of other walls that show in a band's courses: those of the wall round the
// corner where it owns it, and those of walls that are bonded in.
func (d *drawing) others(v *view, band *bond.Band, from, to, low, high measure.Length) {
	w := d.sheet.Wall
	spans := make([]span, 0, len(band.Strips))
	for i := range band.Strips {
		if s := &band.Strips[i]; s.Y == 0 && s.X < high+measure.Metre && end(s) > low-measure.Metre {
			spans = append(spans, span{s.X, end(s)})
		}
	}
	if len(spans) == 0 || band.Strips[0].Foot > 0 {
		d.besideBand(band, from, to, low, high)
		return
	}
	slices.SortFunc(spans, func(a, b span) int { return cmp.Compare(a.from, b.from) })
	joint := d.sheet.Leaves[v.leaf].Laying.Perpend
	at := from
	if meets(w.Left) && spans[0].from > from && from >= low {
		d.otherWalls(v, band, from, spans[0].from-joint)
	}
	at = spans[0].to
	for _, s := range spans[1:] {
		if s.from-at > 3*joint && at < high && s.from > low {
			d.otherWalls(v, band, at+joint, s.from-joint)
		}
		at = max(at, s.to)
	}
	if meets(w.Right) && at < to && to <= high {
		d.otherWalls(v, band, at+joint, to)
	}
}

// meets says whether a wall's end shows units of another wall: at a corner, and where it
// runs into another wall by turns.
func meets(e schedule.End) bool { return e.Corner() || e == schedule.JunctionEnd }

// besideBand draws the unit of the wall round the corner beside courses of other units that
// begin or end a joint short of it.
func (d *drawing) besideBand(band *bond.Band, from, to, low, high measure.Length) {
	w, most := d.sheet.Wall, d.sheet.Leaves[0].Made.Thickness+pierJoint
	for i := range band.Strips {
		s := &band.Strips[i]
		y, joint := -(band.Foot + s.Foot + s.Height), d.sheet.Leaves[0].Made.Perpend
		if over := s.X - from - joint; s.Y == 0 && w.Left.Corner() && from >= low && over > 0 && over < most {
			d.box("g", from, y, over, s.Height)
		}
		if over := to - end(s) - joint; s.Y == 0 && w.Right.Corner() && to <= high && over > 0 && over < most {
			d.box("g", to-over, y, over, s.Height)
		}
	}
}

// otherWalls draws what lies between two points in a band's courses as another wall's:
// nothing where an opening, a joint or a part of this wall laid of other units is, or no wall.
func (d *drawing) otherWalls(v *view, band *bond.Band, from, to measure.Length) {
	w := d.sheet.Wall
	if to <= from || band.Foot >= min(w.HighestAt(from), w.HighestAt(from+(to-from)/2), w.HighestAt(to)) {
		return
	}
	for i := range w.Openings {
		if o := &w.Openings[i]; o.Left < to && o.Right() > from && o.Sill < band.Head && o.Top() > band.Foot {
			return
		}
	}
	for i := range d.sheet.Leaves[v.leaf].Laying.Arches {
		a := &d.sheet.Leaves[v.leaf].Laying.Arches[i]
		o, deep := &w.Openings[a.Opening], measure.Length(len(a.Counts))*(a.Depth+a.Joint)+a.Intrados.LeanOut
		if o.Left-deep < to && o.Right()+deep > from && o.Sill-deep < band.Head && o.Top()+deep > band.Foot {
			return
		}
	}
	for _, j := range d.sheet.Leaves[v.leaf].Joints {
		if j.At < to && j.At+j.Width > from {
			return
		}
	}
	if d.laidOtherwise(v, band, from, to) {
		return
	}
	for k := range band.Count {
		d.box("g", from, -(band.Head + measure.Length(k)*band.Rise), to-from, band.Head-band.Foot)
	}
}

// laidOtherwise says whether pieces of another band lie between two points at a band's height.
func (d *drawing) laidOtherwise(v *view, band *bond.Band, from, to measure.Length) bool {
	bands := d.sheet.Leaves[v.leaf].Laying.Bands
	head := band.Head + measure.Length(band.Count-1)*band.Rise
	for b := range bands {
		o := &bands[b]
		if o == band || o.Step != 1 || o.Count != 1 || o.Foot >= head || o.Head <= band.Foot {
			continue
		}
		for i := range o.Strips {
			s := &o.Strips[i]
			if s.X < to && end(s) > from && o.Foot+s.Foot < head && o.Foot+s.Foot+s.Height > band.Foot {
				return true
			}
		}
	}
	return false
}
