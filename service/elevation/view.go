package elevation

import (
	"slices"
	"strings"

	"hodman/service/bond"
	"hodman/service/measure"
	"hodman/service/schedule"
)

// view draws one leaf, or a row of it, with what stands beside and under it.
func (d *drawing) view(v *view) {
	n := slices.IndexFunc(d.views, func(o view) bool { return o == *v })
	top := d.at
	d.at += d.em(14)
	at := v.left - d.over[0] - d.em(50)
	if v.first {
		d.at += d.em(4)
		d.words("b", at, d.at, d.named(v))
		d.at += d.em(lineStep) / 10
		d.words("s", at, d.at, d.laidOf(v))
		d.at += d.em(lineStep) / 10
	}
	d.at += d.em(10) + d.high
	if d.sheet.Coping != nil {
		d.at += d.sheet.Coping.Height
	}
	d.put(`<g transform="translate(`, v.left)
	d.next(d.at)
	d.put(`)">`)
	d.origin = v.from
	d.masonry(n, v)
	d.coping(v)
	d.lifts(v)
	d.openings(n, v)
	d.ties(v)
	d.lines(v)
	d.joints(v)
	d.lintels(v)
	d.names(v)
	d.courses(v)
	d.levels(v)
	d.balloons(v)
	depth := d.sizes(v)
	d.put("</g>")
	d.origin = 0
	d.at += depth
	if v.skipped > 0 {
		d.at += d.em(16)
		d.words("s", at, d.at, d.skips(v))
	}
	if d.beside && v.leaf == 0 {
		d.at = top
	}
}

// named says which leaf it is and from where it is seen.
func (d *drawing) named(v *view) string {
	switch d.sheet.Leaves[v.leaf].Made.Name {
	case "outer":
		return "Outer leaf, from outside"
	case "inner":
		if d.beside {
			return "Inner leaf, from outside"
		}
		return "Inner leaf, from outside with the outer leaf away"
	}
	return "Single leaf, from outside"
}

func (d *drawing) laidOf(v *view) string {
	m := d.sheet.Leaves[v.leaf].Made
	s := m.Unit.Code + ", " + strings.ReplaceAll(m.Bond, "_", " ") + " bond"
	if !d.beside {
		s += ", bed " + m.Bed.String() + ", perpend " + d.sheet.Leaves[v.leaf].Laying.Perpend.String() + " mm"
	}
	return s
}

func (d *drawing) skips(v *view) string {
	if d.capped {
		return "From " + grouped(v.to) + " to " + grouped(v.until) + " mm " + number(v.skipped) + " rows are left out for want of room; they are counted."
	}
	return "The bond runs on as drawn from " + grouped(v.to) + " to " + grouped(v.until) + " mm: " + number(v.skipped) + " rows like this one are left out."
}

// openings cuts the openings out, with the crossed lines of what is no wall.
func (d *drawing) openings(n int, v *view) {
	for i := range d.sheet.Wall.Openings {
		o := &d.sheet.Wall.Openings[i]
		from, to := max(o.Left, v.from), min(o.Right(), v.to)
		if from >= to {
			continue
		}
		d.put(`<path class="void`)
		if to-from < o.Width {
			d.put(`" clip-path="url(#r`, n, `)`)
		}
		d.put(`" d="`)
		d.void(o)
		d.put(`"/>`)
		if to-from == o.Width && !o.Curved() {
			d.put(`<path class="cross" d="`)
			d.to("M", place{o.Left, o.Sill})
			d.to("L", place{o.Right(), o.Top()})
			d.to("M", place{o.Left, o.Top()})
			d.to("L", place{o.Right(), o.Sill})
			d.put(`"/>`)
		}
	}
}

// names writes what each opening is called and how large it is, in the row that has its middle.
func (d *drawing) names(v *view) {
	for i := range d.sheet.Wall.Openings {
		if o := &d.sheet.Wall.Openings[i]; d.shows(o.Left, o.Right(), v) {
			d.name(o)
		}
	}
}

func (d *drawing) name(o *schedule.Opening) {
	x, y := o.Left+o.Width/2, -o.Sill-o.Height/2
	width, height := grouped(o.Width), grouped(o.Height)
	room := o.Width - d.em(4)
	size := width + " \u00d7 " + height
	switch ref := d.wide(o.Ref, 10) <= room; {
	case ref && d.wide(size, 8) <= room:
		d.words("b c halo", x, y, o.Ref)
		d.words("s c halo", x, y+d.em(11), size)
	case ref && d.wide(width+" \u00d7", 8) <= room && o.Height > d.em(40):
		d.words("b c halo", x, y-d.em(6), o.Ref)
		d.words("s c halo", x, y+d.em(5), width+" \u00d7")
		d.words("s c halo", x, y+d.em(15), height)
	case d.wide(o.Ref+"  "+size, 8) <= o.Height:
		d.upright("s c halo", x+d.em(3), y, o.Ref+"  "+size)
	case d.wide(o.Ref, 8) <= max(room, d.em(30)):
		d.words("s b c halo", x, y+d.em(3), o.Ref)
	default:
		d.upright("s b c halo", x+d.em(3), y, d.cut(o.Ref, 8, max(o.Height, d.em(40))))
	}
}

// cut is as much of a text as there is room for.
func (d *drawing) cut(s string, size int, room measure.Length) string {
	if d.wide(s, size) <= room {
		return s
	}
	letters := []rune(s)
	for len(letters) > 1 && d.wide(string(letters)+"\u2026", size) > room {
		letters = letters[:len(letters)-1]
	}
	return string(letters) + "\u2026"
}

// ties marks the ties on the rulebook's grid: in rows, beside jambs and joints, along slopes.
func (d *drawing) ties(v *view) {
	leaf := &d.sheet.Leaves[v.leaf]
	if len(leaf.Ties) == 0 || d.sheet.Ties.Across <= 0 {
		return
	}
	d.put(`<path class="tie" d="`)
	r := min(d.em(2), 30*measure.Millimetre)
	for _, at := range d.tiePlaces(v, leaf) {
		d.put("M", along(at.x-r))
		d.next(-at.z)
		d.put("l", r)
		d.next(-r)
		d.put("l", r, " ", r, "l", -r, " ", r, "z")
	}
	d.put(`"/>`)
}

// place is a point of the wall, above its base.
type place struct{ x, z measure.Length }

// beside is how far from a jamb, a joint or the wall's end a tie is shown: they stand within 225 mm.
const beside = 150 * measure.Millimetre

func (d *drawing) tiePlaces(v *view, leaf *Leaf) []place {
	w, t := d.sheet.Wall, &d.sheet.Ties
	var list []place
	low, high := d.reach(v.leaf)
	add := func(x, z measure.Length) {
		if x >= v.from && x < v.to && x > low && x < high && z > 0 {
			list = append(list, place{x, z})
		}
	}
	near := make([]*schedule.Opening, 0, 16)
	for i := range w.Openings {
		if o := &w.Openings[i]; o.Left < v.to+2*beside && o.Right() > v.from-2*beside {
			near = append(near, o)
		}
	}
	first := measure.Length(measure.FloorDiv(int64(v.from), int64(t.Across))) * t.Across
	for r, z := range leaf.Ties {
		x := first + t.Across/2
		if r%2 == 1 {
			x = first + t.Across
		}
		for ; x < v.to; x += t.Across {
			if x <= w.Length-beside && z < w.HighestAt(x)-beside/2 && !nearOpening(near, x, z) {
				add(x, z)
			}
		}
	}
	gauge := leaf.Made.Unit.Height + leaf.Made.Bed
	up := func(x, from, height measure.Length) {
		if t.Jamb <= 0 {
			return
		}
		n := measure.Length(measure.CeilDiv(int64(height), int64(t.Jamb)))
		for k := range n {
			// The middle of each part, on the bed under it.
			add(x, max(1, (from+height*(2*k+1)/(2*n))/gauge)*gauge)
		}
	}
	for _, o := range near {
		high := o.Height
		if k := bond.CurveOf(o, 0); k != nil {
			high = k.Spring - o.Sill // over the springing the arch stands beside it
		}
		up(o.Left-beside, o.Sill, high)
		up(o.Right()+beside, o.Sill, high)
	}
	for _, s := range d.parts() {
		if s.from.z != s.to.z {
			d.tiesUp(&s, t.Slope, add)
		}
	}
	if w.Left == schedule.MovementJoint {
		up(beside, 0, w.HighestAt(0))
	}
	if w.Right == schedule.MovementJoint {
		up(w.Length-beside, 0, w.HighestAt(w.Length))
	}
	return list
}

// tiesUp places ties along a slope, so far apart measured along it, a little under it.
func (d *drawing) tiesUp(s *slope, apart measure.Length, add func(x, z measure.Length)) {
	if apart <= 0 {
		return
	}
	run, rise := int64(s.to.x-s.from.x), int64(s.to.z-s.from.z)
	n := measure.CeilDiv(int64(s.long()), int64(apart))
	for k := range n {
		// The middle of each part, rounded down.
		x := s.from.x + measure.Length(run*(2*k+1)/(2*n))
		z := s.from.z + measure.Length(rise*(2*k+1)/(2*n))
		add(x, z-beside)
	}
}

// nearOpening says whether a place lies in an opening or so near that its jamb ties stand there.
func nearOpening(near []*schedule.Opening, x, z measure.Length) bool {
	for _, o := range near {
		if x > o.Left-2*beside && x < o.Right()+2*beside && z > o.Sill-beside && z < o.Top()+beside {
			return true
		}
	}
	return false
}

// lifts draws the tops of the lifts behind the openings.
func (d *drawing) lifts(v *view) {
	for _, top := range d.sheet.Lifts {
		if z := top - d.sheet.Wall.Base; z > 0 && z < d.high {
			d.line("lift", v.from-d.em(5), -z, v.to+d.em(4), -z)
		}
	}
}

// lines are those of the wall itself: its damp-proof course, its foot, its ends.
func (d *drawing) lines(v *view) {
	w := d.sheet.Wall
	from, to := v.from, v.to
	if d.sheet.DPC != nil {
		z := *d.sheet.DPC - w.Base
		low, high := d.reach(v.leaf)
		if !v.first {
			low = from
		}
		if !v.last {
			high = to
		}
		d.line("dpc", low, -z, high, -z)
	}
	d.line("edge", from-d.em(5), 0, to+d.em(4), 0)
	for _, end := range []struct {
		x   measure.Length
		end schedule.End
		is  bool
	}{{0, w.Left, v.first}, {w.Length, w.Right, v.last}} {
		if !end.is {
			continue
		}
		top := -w.HighestAt(end.x)
		switch end.end {
		case schedule.MovementJoint:
			d.line("mj", end.x, 0, end.x, top-d.em(8))
		case schedule.Abutment:
			d.line("edge", end.x, d.em(5), end.x, top-d.em(8))
		default:
			d.line("thin", end.x, 0, end.x, top)
		}
	}
	if !v.first {
		d.breakLine(from)
	}
	if !v.last {
		d.breakLine(to)
	}
}

// breakLine shows where a row of a longer wall is broken off.
func (d *drawing) breakLine(x measure.Length) {
	middle, a := -d.high/2, d.em(5)
	d.put(`<path class="thin" d="M`, along(x), " ", a, "V", middle+2*a, "L", along(x-a))
	d.next(middle + a)
	d.put("L", along(x+a))
	d.next(middle - a)
	d.put("L", along(x))
	d.next(middle - 2*a)
	d.put("V", -d.high-a, `"/>`)
}

// joints draws the movement joints of a leaf.
func (d *drawing) joints(v *view) {
	for _, j := range d.sheet.Leaves[v.leaf].Joints {
		if j.At < v.from || j.At >= v.to {
			continue
		}
		top := d.sheet.Wall.HighestAt(j.At)
		d.box("joint", j.At, -top, j.Width, top)
		d.line("mj", j.At+j.Width/2, 0, j.At+j.Width/2, -top-d.em(8))
	}
}

// lintels draws each lintel on its bearings, and how long those are: a figure that would
// run over another goes under it, or is left to the list.
func (d *drawing) lintels(v *view) {
	w := d.sheet.Wall
	var figures []place
	for i := range d.sheet.Lintels {
		p, o := d.sheet.Lintels[i].Pick, &w.Openings[i]
		if p == nil || p.Product == "" || !d.shows(o.Left, o.Right(), v) {
			continue
		}
		left, right := o.Left-p.BearingLeft, o.Right()+p.BearingRight
		z, bar := -o.Top(), max(d.em(2), 30*measure.Millimetre)
		high := max(d.sheet.Lintels[i].Height, bar*2)
		d.box("bar", left, z-high, right-left, high)
		d.box("seat", left, z-bar, right-left, bar)
		for _, x := range [4]measure.Length{left, o.Left, o.Right(), right} {
			d.line("n", x, z, x, z+d.em(4))
		}
		size := grouped(p.BearingLeft)
		figures = d.bearing(figures, place{o.Left - d.em(2) - d.wide(size, 8)/2, o.Top() - d.em(11)}, size)
		size = grouped(p.BearingRight)
		figures = d.bearing(figures, place{o.Right() + d.em(2) + d.wide(size, 8)/2, o.Top() - d.em(11)}, size)
	}
}

// bearing writes a figure where there is room for it, and adds it to those written.
func (d *drawing) bearing(written []place, at place, figure string) []place {
	for range 2 {
		free := true
		for _, o := range written {
			free = free && !at.near(o, d.wide(figure, 8)+d.em(2), d.em(9))
		}
		if free {
			d.words("s c halo", at.x, -at.z, figure)
			return append(written, at)
		}
		at.z -= d.em(10)
	}
	return written
}
