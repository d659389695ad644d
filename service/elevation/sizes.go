package elevation

import (
	"cmp"
	"slices"

	"hodman/service/measure"
	"hodman/service/schedule"
)

// sizes draws the strings of sizes under a view: one for every storey of openings, then
// the whole. It returns how far they reach down.
func (d *drawing) sizes(v *view) measure.Length {
	y := d.em(12)
	for _, points := range d.stringsOf() {
		y += d.chain(v, points, y)
	}
	if joints := d.sheet.Leaves[v.leaf].Joints; len(joints) > 0 {
		points := []measure.Length{0}
		for _, j := range joints {
			points = append(points, j.At)
		}
		y += d.chain(v, append(points, d.sheet.Wall.Length), y)
	}
	return y + d.whole(v, y)
}

// whole draws the wall's length, or which part of it a row is.
func (d *drawing) whole(v *view, y measure.Length) measure.Length {
	deep := d.chain(v, []measure.Length{v.from, v.to}, y)
	if !v.first || !v.last {
		d.words("s c halo", (v.from+v.to)/2, y-d.em(2), grouped(v.from)+" to "+grouped(v.to)+" of "+grouped(d.sheet.Wall.Length))
	}
	return deep
}

// stringsOf finds the strings once for all rows.
func (d *drawing) stringsOf() [][]measure.Length {
	if d.strung == nil {
		d.strung = d.strings()
	}
	return d.strung
}

// strings are the points to measure between, storey by storey from the lowest:
// openings that share height are measured together.
func (d *drawing) strings() [][]measure.Length {
	openings := slices.Clone(d.sheet.Wall.Openings)
	slices.SortFunc(openings, func(a, b schedule.Opening) int { return cmp.Compare(a.Sill, b.Sill) })
	var all [][]measure.Length
	for i := 0; i < len(openings); {
		top, k := openings[i].Top(), i+1
		for k < len(openings) && openings[k].Sill < top {
			top = max(top, openings[k].Top())
			k++
		}
		points := []measure.Length{0, d.sheet.Wall.Length}
		for _, o := range openings[i:k] {
			points = append(points, o.Left, o.Right())
		}
		slices.Sort(points)
		all = append(all, slices.Compact(points))
		i = k
	}
	return all
}

// chain draws one string of sizes at y and returns how much height it takes: none in a row
// that has none of it to write.
func (d *drawing) chain(v *view, points []measure.Length, y measure.Length) measure.Length {
	if !d.tells(v, points) {
		return 0
	}
	d.put(`<path class="n" d="M`, along(max(points[0], v.from)-d.em(5)))
	d.next(y)
	d.put("H", along(min(points[len(points)-1], v.to)+d.em(5)))
	tick := d.em(3)
	for _, x := range points {
		if x < v.from || x > v.to {
			continue
		}
		d.put("M", along(x-tick))
		d.next(y + tick)
		d.put("L", along(x+tick))
		d.next(y - tick)
		d.put("M", along(x))
		d.next(y - d.em(6))
		d.put("V", y+tick)
	}
	d.put(`"/>`)
	deep := d.em(15)
	for i := range len(points) - 1 {
		from, to := max(points[i], v.from), min(points[i+1], v.to)
		size := points[i+1] - points[i]
		if from >= to || len(points) == 2 && size < d.sheet.Wall.Length || to-from < size && !d.shows(points[i], points[i+1], v) {
			continue
		}
		s := grouped(size)
		if d.wide(s, 8) <= to-from-d.em(2) {
			d.words("s c", (from+to)/2, y-d.em(2), s)
			continue
		}
		// Too narrow for its figures: they stand on end under the line.
		d.put(`<text class="s e" transform="translate(`, along((from+to)/2+d.em(3)))
		d.next(y + d.em(3))
		d.put(`)rotate(-90)">`, s, "</text>")
		deep = max(deep, d.em(8)+d.wide(s, 8)+d.em(10))
	}
	return deep
}

// tells says whether a row has an end of a size, or the middle of one.
func (d *drawing) tells(v *view, points []measure.Length) bool {
	for i, x := range points {
		if x > v.from && x < v.to || x == v.from && v.first || x == v.to && v.last ||
			i > 0 && d.shows(points[i-1], x, v) || len(points) == 2 && points[0] == v.from {
			return true
		}
	}
	return false
}

// shows says whether a size that runs over the end of a row is written in this one: that
// with its middle.
func (d *drawing) shows(from, to measure.Length, v *view) bool {
	middle := from + (to-from)/2
	return middle >= v.from && middle < v.to
}
