package elevation

import (
	"math"

	"hodman/service/bond"
	"hodman/service/measure"
	"hodman/service/schedule"
)

// archOf is the arch that carries an opening in a leaf, or nil.
func archOf(l *bond.Laying, opening int) *bond.Arch {
	for i := range l.Arches {
		if l.Arches[i].Opening == opening {
			return &l.Arches[i]
		}
	}
	return nil
}

// holes appends to the outline what curves and arches take out of a leaf, to be left
// out of it by the even-odd rule.
func (d *drawing) holes(l *bond.Laying) {
	for i := range d.sheet.Wall.Openings {
		o := &d.sheet.Wall.Openings[i]
		a := archOf(l, i)
		switch {
		case a != nil && !o.Curved():
			k := &a.Intrados // of a flat arch: all that it takes
			d.flat(k)
		case a != nil:
			d.curved(o, measure.Length(len(a.Counts))*(a.Depth+a.Joint))
		case o.Curved():
			d.curved(o, 0)
		}
	}
}

// flat is the path round a flat arch.
func (d *drawing) flat(k *bond.Curve) {
	d.put("M", along(k.Middle-k.Half))
	d.next(-k.Spring)
	d.put("L", along(k.Middle-k.Half-k.LeanOut))
	d.next(-k.Top)
	d.put("L", along(k.Middle+k.Half+k.LeanOut))
	d.next(-k.Top)
	d.put("L", along(k.Middle+k.Half))
	d.next(-k.Spring)
	d.put("z")
}

// curved is the path round a curved opening, so far outside its own edge above the springing.
func (d *drawing) curved(o *schedule.Opening, outside measure.Length) {
	k := bond.CurveOf(o, outside)
	if k.Round {
		d.put("M", along(k.Middle-k.Radius))
		d.next(-k.Centre)
		for _, way := range []measure.Length{2 * k.Radius, -2 * k.Radius} {
			d.put("a", k.Radius, " ", k.Radius, " 0 0 1 ", way, " 0")
		}
		d.put("z")
		return
	}
	skew := k.Half
	if outside > 0 {
		// Along the radius from the springing.
		skew = measure.Length(measure.HalfUpDiv(int64(k.Half)*int64(k.Radius), int64(k.Radius-outside)))
	}
	d.put("M", along(k.Middle-k.Half))
	d.next(-o.Sill)
	d.put("L", along(k.Middle-k.Half))
	d.next(-k.Spring)
	d.put("L", along(k.Middle-skew))
	d.next(-k.ArcFrom)
	d.put("A", k.Radius, " ", k.Radius, " 0 0 1 ", along(k.Middle+skew))
	d.next(-k.ArcFrom)
	d.put("L", along(k.Middle+k.Half))
	d.next(-k.Spring)
	d.put("L", along(k.Middle+k.Half))
	d.next(-o.Sill)
	d.put("z")
}

// arches draws the bricks of the arches of a leaf that have their middle between two points.
func (d *drawing) arches(l *bond.Laying, from, to measure.Length) {
	at := 0
	for b := range l.Bands {
		band := &l.Bands[b]
		if band.Strips[0].Face != bond.Voussoir {
			continue
		}
		a := &l.Arches[at] // an arch has a band of its own, ring by ring
		at++
		if a.Intrados.Middle < from || a.Intrados.Middle >= to {
			continue
		}
		for ring := range a.Counts {
			d.ring(a, ring, &band.Strips[ring], d.sheet.Wall.Openings[a.Opening].Curved())
		}
	}
}

// ring draws one ring of an arch: rough bricks as they come, gauged ones cut to the arch.
func (d *drawing) ring(a *bond.Arch, ring int, s *bond.Strip, curved bool) {
	k := &a.Intrados
	d.put(`<path class="`, kinds[kindOf(s)].class, `" d="`)
	n := a.Counts[ring]
	if !curved {
		wide, out := 2*k.Half.Mm(), k.LeanOut.Mm()
		for i := range n {
			left := func(f float64) (foot, head float64) {
				at := (float64(i) + f) / float64(n)
				return -wide/2 + wide*at, -wide/2 - out + (wide+2*out)*at
			}
			gap := a.Joint.Mm() / 2
			x0, x1 := left(0)
			x2, x3 := left(1)
			z0, z1 := k.Spring.Mm()+a.Joint.Mm()/2, k.Top.Mm()-a.Joint.Mm()
			d.wedge(k.Middle.Mm(), [8]float64{x0 + gap, z0, x1 + gap, z1, x3 - gap, z1, x2 - gap, z0})
		}
	} else {
		inner := k.Radius.Mm() + float64(ring)*(a.Depth+a.Joint).Mm()
		outer := inner + a.Depth.Mm()
		start, turn := -math.Pi, 2*math.Pi
		if !k.Round {
			half := math.Atan2(k.Half.Mm(), (k.Spring - k.Centre).Mm())
			start, turn = -half, 2*half
		}
		for i := range n {
			angle := start + turn*(float64(i)+0.5)/float64(n)
			w0 := min(s.Length.Mm(), turn/float64(n)*inner-2) / 2
			w1 := s.Length.Mm() / 2
			if s.Cut == bond.InHeight { // cut to the arch
				w0, w1 = (turn/float64(n)*inner-a.Joint.Mm())/2, (turn/float64(n)*outer-a.Joint.Mm())/2
			}
			sin, cos := math.Sincos(angle)
			at := func(r, w float64) (x, z float64) { return r*sin + w*cos, k.Centre.Mm() + r*cos - w*sin }
			var p [8]float64
			p[0], p[1] = at(inner, -w0)
			p[2], p[3] = at(outer, -w1)
			p[4], p[5] = at(outer, w1)
			p[6], p[7] = at(inner, w0)
			d.wedge(k.Middle.Mm(), p)
		}
	}
	d.put(`"/>`)
}

// wedge is a brick with four corners, x from a middle, to a tenth of a millimetre.
func (d *drawing) wedge(middle float64, p [8]float64) {
	tenth := func(f float64) measure.Length { return measure.Length(math.Round(f*10)) * measure.Millimetre / 10 }
	x, z := tenth(middle+p[0]), tenth(p[1])
	d.put("M", along(x))
	d.next(-z)
	for i := 2; i < 8; i += 2 {
		x1, z1 := tenth(middle+p[i]), tenth(p[i+1])
		d.put("l", x1-x)
		d.next(z - z1)
		x, z = x1, z1
	}
	d.put("z")
}
