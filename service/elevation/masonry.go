package elevation

import (
	"hodman/service/bond"
	"hodman/service/measure"
)

// kinds of pieces by the class that they are drawn as, in the legend's order.
var kinds = []struct{ class, name string }{
	{"u", "whole, laid as stretcher"},
	{"h", "whole, laid as header"},
	{"o", "whole, on end or on edge"},
	{"l", "sawn to length"},
	{"w", "closer, split along"},
	{"i", "cut in height"},
	{"t", "cut to a slope or curve"},
}

// kindOf is how a piece is drawn, an index of kinds.
func kindOf(s *bond.Strip) int {
	switch s.Cut {
	case bond.InLength:
		return 3
	case bond.InWidth:
		return 4
	case bond.InHeight:
		return 5
	case bond.ToShape:
		return 6
	}
	return min(int(s.Face), 2)
}

const toShape = 6

// seen says whether a strip shows on the leaf's outer face.
func seen(s *bond.Strip) bool { return s.Y <= 0 }

// reach is how far a leaf's pieces go along the wall.
func reach(l *bond.Laying) (from, to measure.Length) {
	from, to = measure.MaxLength, -measure.MaxLength
	for b := range l.Bands {
		for i := range l.Bands[b].Strips {
			s := &l.Bands[b].Strips[i]
			from = min(from, s.X)
			to = max(to, s.X+measure.Length(s.Count-1)*s.Pitch+s.Length)
		}
	}
	return from, to
}

// masonry draws the pieces of a view over its mortar. The pen's origin is the wall's
// left end at its base.
func (d *drawing) masonry(n int, v *view) {
	laid := d.sheet.Leaves[v.leaf].Laying
	from, to := reach(laid)
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
	d.put(`<clipPath id="k`, n, `"><path d="`)
	d.outline(low, high)
	d.put(`"/></clipPath><path class="m" d="`)
	d.outline(low, high)
	d.put(`"/><g clip-path="url(#k`, n, `)">`)
	for b := range laid.Bands {
		d.returned(&laid.Bands[b], from, to, low, high)
	}
	d.put(`</g><g id="leaf`, n, `"`)
	if !v.first || !v.last {
		d.put(` clip-path="url(#k`, n, `)"`)
	}
	d.put(">")
	for b := range laid.Bands {
		d.band(n, b, &laid.Bands[b], low, high)
	}
	d.put("</g>")
}

// outline is the path round the wall between two points of it.
func (d *drawing) outline(from, to measure.Length) {
	w := d.sheet.Wall
	d.put("M", along(from))
	d.next(0)
	for _, x := range d.breaks(from, to) {
		d.put("L", along(x))
		d.next(-w.HighestAt(x))
	}
	d.put("L", along(to))
	d.next(0)
	d.put("z")
}

// breaks are the points at which the wall's top may turn, with both ends.
func (d *drawing) breaks(from, to measure.Length) []measure.Length {
	w := d.sheet.Wall
	list := []measure.Length{from}
	turns := []measure.Length{0, w.Length}
	if w.Top != nil && w.Top.Shape == "gable" {
		turns = []measure.Length{0, w.Top.ApexAt, w.Length}
	}
	for _, x := range turns {
		if x > from && x < to {
			list = append(list, x)
		}
	}
	return append(list, to)
}

// band draws the first course of a band and puts the others above it.
func (d *drawing) band(n, b int, band *bond.Band, from, to measure.Length) {
	var there [7]bool
	any := false
	for i := range band.Strips {
		if s := &band.Strips[i]; seen(s) {
			if first, last := within(s, from, to); first <= last {
				there[kindOf(s)], any = true, true
			}
		}
	}
	if !any {
		return
	}
	repeats := band.Count
	if there[toShape] {
		repeats = 1 // each is clipped where it stands
	}
	for k := range max(1, band.Count/repeats) {
		d.put(`<g id="n`, n, "-", b)
		if k > 0 {
			d.put("-", k)
		}
		d.put(`">`)
		for kind, drawn := range there {
			if drawn {
				d.course(n, kind, band, measure.Length(k)*band.Rise, from, to)
			}
		}
		d.put("</g>")
	}
	for k := 1; k < repeats; k++ {
		d.put(`<use href="#n`, n, "-", b, `" y="`, -measure.Length(k)*band.Rise, `"/>`)
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
func (d *drawing) course(n, kind int, band *bond.Band, over, from, to measure.Length) {
	d.put(`<path class="`, kinds[kind].class)
	if kind == toShape {
		d.put(`" clip-path="url(#k`, n, `)`)
	}
	d.put(`" d="`)
	for i := range band.Strips {
		s := &band.Strips[i]
		if kindOf(s) != kind || !seen(s) {
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

// returned draws the ends of the other wall's units in the courses that run through a corner from there.
func (d *drawing) returned(band *bond.Band, from, to, low, high measure.Length) {
	start, end := measure.MaxLength, -measure.MaxLength
	for i := range band.Strips {
		if s := &band.Strips[i]; seen(s) {
			start = min(start, s.X)
			end = max(end, s.X+measure.Length(s.Count-1)*s.Pitch+s.Length)
		}
	}
	w := d.sheet.Wall
	if w.Left.Corner() && start > from && start < measure.MaxLength && from >= low {
		d.other(band, from, start)
	}
	if w.Right.Corner() && end < to && end > -measure.MaxLength && to <= high {
		d.other(band, end, to)
	}
}

// other draws what lies between two points in a band's courses as another wall's, less
// the perpends: nothing where an opening is there, or less than a joint.
func (d *drawing) other(band *bond.Band, from, to measure.Length) {
	laid := d.sheet.Leaves[0].Made
	joint := laid.Perpend
	if to-from <= joint || band.Foot >= min(d.sheet.Wall.HighestAt(from), d.sheet.Wall.HighestAt(to)) {
		return
	}
	for i := range d.sheet.Wall.Openings {
		if o := &d.sheet.Wall.Openings[i]; o.Left < to && o.Right() > from && o.Sill < band.Head && o.Top() > band.Foot {
			return
		}
	}
	x := from
	if from > 0 {
		x += joint
	}
	for k := range band.Count {
		d.box("g", x, -(band.Head + measure.Length(k)*band.Rise), to-from-joint, band.Head-band.Foot)
	}
}
