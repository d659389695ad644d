package bond

import (
	"math/bits"

	"hodman/service/measure"
)

// Curve is the upper boundary of a hole that is no rectangle: the masonry is cut to it,
// on both sides of its middle alike. Levels are above the wall's base. From the
// springing the boundary may lean outwards, along an arch's skewbacks, up to where
// the arc begins or, for a flat arch, to its top.
type Curve struct {
	Middle measure.Length // along the wall
	Half   measure.Length // half the width up to the springing
	Spring measure.Length
	// LeanOut to LeanUp is how the skewbacks lean; nought to anything where there are none.
	LeanOut, LeanUp measure.Length
	ArcFrom         measure.Length // where the skewbacks end
	// Centre and Radius are the arc's, to a level of the wall; no radius: a flat arch.
	Centre, Radius measure.Length
	Top            measure.Length // the highest level
	Round          bool           // a whole circle: it narrows below its centre too
}

// half is half the hole's width at level z: rounded down, so that masonry is never short.
func (k *Curve) half(z measure.Length) measure.Length {
	switch {
	case z >= k.Top:
		return 0
	case k.Round || z >= k.ArcFrom && k.Radius > 0:
		return chord(k.Radius, z-k.Centre)
	case z <= k.Spring:
		return k.Half
	}
	return k.Half + measure.Length(measure.FloorDiv(int64(z-k.Spring)*int64(k.LeanOut), int64(max(k.LeanUp, 1))))
}

// extent is the least and the greatest half width between two levels. It grows up to
// where the arc begins, or the centre of a circle, and shrinks from there.
func (k *Curve) extent(foot, head measure.Length) (least, most measure.Length) {
	least = min(k.half(foot), k.half(head))
	widest := k.ArcFrom
	if k.Round || k.ArcFrom < k.Centre {
		widest = k.Centre
	}
	if k.Radius == 0 {
		widest = k.Top - 1
	}
	at := min(max(widest, foot), head)
	return least, max(k.half(foot), k.half(head), k.half(at))
}

// chord is the half chord of a circle so far from its centre, rounded down.
func chord(radius, from measure.Length) measure.Length {
	if from < 0 {
		from = -from
	}
	if from >= radius {
		return 0
	}
	return measure.Length(root(uint64(radius-from), uint64(radius+from)))
}

// root is the square root of a product, rounded down: Newton's method from above. The
// product is under 2^126.
func root(a, b uint64) uint64 {
	hi, lo := bits.Mul64(a, b)
	width := bits.Len64(lo)
	if hi > 0 {
		width = 64 + bits.Len64(hi)
	}
	x := uint64(1) << ((width + 1) / 2) // over the root, so that the quotient fits
	for {
		q, _ := bits.Div64(hi, lo, x)
		next := (x + q) / 2
		if next >= x {
			return x
		}
		x = next
	}
}

// interval is a part of a course where pieces are cut to a shape.
type interval struct{ from, to measure.Length }
