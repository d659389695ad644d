package elevation

import (
	"slices"

	"hodman/service/measure"
)

// mostRow is how much of a wall is drawn in one row; a longer one is drawn in rows of
// rowLength at most.
const (
	mostRow   = 14 * measure.Metre
	rowLength = 10 * measure.Metre
)

// findRows parts a long wall into rows, as even as openings let them be: a row ends
// clear of them where it can.
func (d *drawing) findRows() {
	w := d.sheet.Wall
	d.rows, d.row = []measure.Length{0, w.Length}, w.Length
	if w.Length <= mostRow {
		return
	}
	d.rows, d.row = make([]measure.Length, 1, 8+w.Length/rowLength), 0
	for at := measure.Length(0); at < w.Length; {
		left := int64(w.Length - at)
		even := measure.Length(measure.CeilDiv(left, measure.CeilDiv(left, int64(rowLength))))
		next := at + even
		if next < w.Length {
			next = d.clear(at+even/2, next)
		}
		next = min(next, w.Length)
		d.row = max(d.row, next-at)
		d.rows = append(d.rows, next)
		at = next
	}
}

// clear is the last place up to to that is no part of an opening or its jambs; to where
// there is none after from.
func (d *drawing) clear(from, to measure.Length) measure.Length {
	const jamb = 600 * measure.Millimetre
	at := to
	for moved := true; moved && at > from; {
		moved = false
		for i := range d.sheet.Wall.Openings {
			if o := &d.sheet.Wall.Openings[i]; at > o.Left-jamb && at < o.Right()+jamb {
				at, moved = o.Left-jamb, true
			}
		}
	}
	if at <= from {
		return to
	}
	return at
}

// setViews lists the rows of every leaf; rows alike in the midst of a long wall are
// left out but for one.
func (d *drawing) setViews(rows int) {
	for k := range d.sheet.Leaves {
		plain := d.plainRows(k, rows)
		d.cap(plain)
		for r := 0; r < rows; r++ {
			v := view{leaf: k, from: d.rows[r], to: d.rows[r+1], first: r == 0, left: d.left}
			if plain[r] {
				for r+v.skipped+1 < rows && plain[r+v.skipped+1] {
					v.skipped++
				}
				if v.skipped < 2 {
					v.skipped = 0 // one row is as soon drawn as told of
				}
				r += v.skipped
				v.until = d.rows[r+1]
			}
			v.last = r == rows-1
			d.views = append(d.views, v)
		}
	}
	if d.beside {
		d.views[1].left += d.row + d.over[0] + d.over[1] + d.em(marginLeft+marginRight)
	}
}

// mostRows is how many rows of a leaf are drawn; what is more is left out of the midst.
const mostRows = 12

// cap leaves out rows from the midst where there are too many to draw.
func (d *drawing) cap(plain []bool) {
	drawn := 0
	for r := range plain {
		if !plain[r] || r > 0 && !plain[r-1] {
			drawn++
		}
	}
	if drawn > mostRows {
		for r := mostRows / 2; r < len(plain)-mostRows/2; r++ {
			plain[r] = true
		}
		d.capped = true
	}
}

// plainRows says of each row of a leaf whether the bond runs through it with nothing
// else in it: no end, opening or change.
func (d *drawing) plainRows(k, rows int) []bool {
	plain := make([]bool, rows)
	for r := 1; r < rows-1; r++ {
		plain[r] = true
	}
	taken := func(from, to measure.Length) {
		r, _ := slices.BinarySearch(d.rows, from)
		for r = max(0, r-1); r < rows && d.rows[r] <= to; r++ {
			plain[r] = false
		}
	}
	for i := range d.sheet.Wall.Openings {
		o := &d.sheet.Wall.Openings[i]
		taken(o.Left-measure.Metre, o.Right()+measure.Metre)
	}
	bands := d.sheet.Leaves[k].Laying.Bands
	for b := range bands {
		for i := range bands[b].Strips {
			s := &bands[b].Strips[i]
			taken(s.X, s.X)
			end := s.X + measure.Length(s.Count-1)*s.Pitch + s.Length
			taken(end, end)
		}
	}
	if top := d.sheet.Wall.Top; top != nil && top.Shape != "level" {
		clear(plain)
	}
	return plain
}
