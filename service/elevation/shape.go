package elevation

import (
	"math"

	"hodman/service/measure"
	"hodman/service/schedule"
)

// topline is the wall's top between two points, with both ends, from left to right.
func (d *drawing) topline(from, to measure.Length) []place {
	w := d.sheet.Wall
	list := []place{{from, w.HighestAt(from)}}
	if w.Top != nil && w.Top.Shape == "stepped" {
		w.Steps(func(a, b, top measure.Length) {
			if a = max(a, from); a < min(b, to) {
				list = append(list, place{a, top}, place{min(b, to), top})
			}
		})
		return list
	}
	turns := []measure.Length{0, w.Length}
	if w.Top != nil && w.Top.Shape == "gable" {
		turns = []measure.Length{0, w.Top.ApexAt, w.Length}
	}
	for _, x := range turns {
		if x > from && x < to {
			list = append(list, place{x, w.HighestAt(x)})
		}
	}
	return append(list, place{to, w.HighestAt(to)})
}

// outline is the path round the wall between two points of it.
func (d *drawing) outline(from, to measure.Length) {
	d.put("M", along(from))
	d.next(0)
	for _, p := range d.topline(from, to) {
		d.put("L", along(p.x))
		d.next(-p.z)
	}
	d.put("L", along(to))
	d.next(0)
	d.put("z")
}

// slope is a straight part of the wall's top, from left to right.
type slope struct{ from, to place }

// parts are the straight parts of the wall's top that go along it.
func (d *drawing) parts() []slope {
	var list []slope
	line := d.topline(0, d.sheet.Wall.Length)
	for i := range len(line) - 1 {
		if a, b := line[i], line[i+1]; a.x < b.x {
			list = append(list, slope{a, b})
		}
	}
	return list
}

// long is how long a part is, rounded down.
func (s *slope) long() measure.Length {
	return measure.Length(math.Hypot(float64(s.to.x-s.from.x), float64(s.to.z-s.from.z)))
}

// tenth rounds what only a drawing needs to a tenth of a millimetre, which every machine's
// arithmetic gives alike.
func tenth(x float64) measure.Length {
	return measure.Length(math.Round(x/100)) * 100
}

// at is the point so far along a part and so far out from it, square to it.
func (s *slope) at(run, out measure.Length) place {
	dx, dz := float64(s.to.x-s.from.x), float64(s.to.z-s.from.z)
	l := math.Hypot(dx, dz)
	return place{s.from.x + tenth((dx*float64(run)-dz*float64(out))/l), s.from.z + tenth((dz*float64(run)+dx*float64(out))/l)}
}

// to adds a corner to a path.
func (d *drawing) to(letter string, p place) {
	d.put(letter, along(p.x))
	d.next(-p.z)
}

// coping covers the wall's top, piece by piece: each part of it begins with a whole one.
func (d *drawing) coping(v *view) {
	c := d.sheet.Coping
	if c == nil || c.Length <= 0 {
		return
	}
	d.put(`<path class="cop" d="`)
	for _, s := range d.parts() {
		long := s.long()
		for at := measure.Length(0); at < long; at += c.Length + c.Joint {
			to := min(at+c.Length, long)
			if middle := s.at((at+to)/2, 0).x; middle < v.from || middle >= v.to {
				continue
			}
			d.to("M", s.at(at, 0))
			d.to("L", s.at(at, c.Height))
			d.to("L", s.at(to, c.Height))
			d.to("L", s.at(to, 0))
			d.put("z")
		}
	}
	d.put(`"/>`)
}

// void is the path round an opening.
func (d *drawing) void(o *schedule.Opening) {
	if o.Curved() {
		d.curved(o, 0)
		return
	}
	d.to("M", place{o.Left, o.Sill})
	d.to("L", place{o.Left, o.Top()})
	d.to("L", place{o.Right(), o.Top()})
	d.to("L", place{o.Right(), o.Sill})
	d.put("z")
}
