package bond

import (
	"hodman/service/measure"
	"hodman/service/product"
	"hodman/service/schedule"
)

// Feature is a part of a leaf laid of other units than its courses, or of theirs laid
// otherwise: a soldier course, a sill of bricks on edge, a band, an arch.
type Feature struct {
	// Gap is what it takes the place of, beds and joints and all; nothing where From is To.
	Gap
	Unit *product.Product
	// Strips are its pieces, Foot and Height from the gap's Foot up.
	Strips []Strip
	Arch   *Arch
}

// Arch is the ring of an arch, or the rings one over another, for whoever draws it.
type Arch struct {
	Opening int // of the wall
	// Intrados is the opening's own boundary.
	Intrados Curve
	Depth    measure.Length // of one ring
	Joint    measure.Length // between rings, and over the last
	Counts   []int          // bricks, ring by ring from the intrados
	Unit     uint8
}

// CurveOf is the boundary that an opening's masonry is cut to, so far outside the
// opening's own: an arch ring's depth and its joint. It is nil for an opening with a level head.
func CurveOf(o *schedule.Opening, outside measure.Length) *Curve {
	if !o.Curved() {
		return nil
	}
	half := o.Width / 2
	k := &Curve{Middle: o.Left + half, Half: half}
	switch o.Shape {
	case "round":
		k.Round, k.Centre, k.Radius = true, o.Sill+half, half+outside
		k.Spring, k.ArcFrom, k.Top = k.Centre, k.Centre, k.Centre+k.Radius
		return k
	case "segmental", "semicircular":
		rise := o.ArchRise()
		radius := measure.Length(measure.HalfUpDiv(int64(half)*int64(half)/int64(rise)+int64(rise), 2))
		k.Spring = o.Top() - rise
		k.Centre, k.Radius = o.Top()-radius, radius+outside
		k.LeanOut, k.LeanUp = half, k.Spring-k.Centre
		k.ArcFrom = k.Centre + measure.Length(measure.HalfUpDiv(int64(k.LeanUp)*int64(k.Radius), int64(radius)))
		k.Top = k.Centre + k.Radius
		return k
	}
	return nil
}

// FlatCurve is the boundary of a flat arch so deep over an opening, whose skewbacks
// lean out by out in up.
func FlatCurve(o *schedule.Opening, deep, out, up measure.Length) *Curve {
	half := o.Width / 2
	return &Curve{Middle: o.Left + half, Half: half, Spring: o.Top(), LeanOut: out, LeanUp: up, ArcFrom: o.Top() + deep, Top: o.Top() + deep}
}

// gapOf is an opening as a hole in the run: its own boundary, or that of the arch over it.
func (r *Run) gapOf(i int) Gap {
	o := &r.Wall.Openings[i]
	g := Gap{From: o.Left, To: o.Right(), Foot: o.Sill, Head: o.Top()}
	if len(r.Curves) > 0 && r.Curves[i] != nil {
		g.Curve = r.Curves[i]
	} else {
		g.Curve = CurveOf(o, 0)
	}
	if k := g.Curve; k != nil {
		_, most := k.extent(o.Sill, k.Top)
		g.From, g.To, g.Head = k.Middle-most, k.Middle+most, k.Top
		if k.Round {
			g.Foot = k.Centre - k.Radius
		}
	}
	return g
}

// addFeatures puts the run's features into its laying, each a band of its own.
func (l *layer) addFeatures() {
	for i := range l.run.Features {
		f := &l.run.Features[i]
		unit := l.unitOf(f.Unit)
		for k := range f.Strips {
			f.Strips[k].Unit = unit
		}
		if f.Arch != nil {
			f.Arch.Unit = unit
			l.out.Arches = append(l.out.Arches, *f.Arch)
		}
		head := f.Foot
		for k := range f.Strips {
			head = max(head, f.Foot+f.Strips[k].Foot+f.Strips[k].Height)
		}
		l.out.Bands = append(l.out.Bands, Band{First: int(f.Foot/l.gauge) + 1, Count: 1, Step: 1,
			Foot: f.Foot, Head: head, Rise: l.gauge, Strips: f.Strips})
	}
}

// unitOf is a unit's place in the laying.
func (l *layer) unitOf(p *product.Product) uint8 {
	for i, u := range l.out.Units {
		if u == p {
			return uint8(i)
		}
	}
	l.out.Units = append(l.out.Units, p)
	return uint8(len(l.out.Units) - 1)
}
