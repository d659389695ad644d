// Package arch counts the bricks of an arch: rough rings of bricks that wedge-shaped
// joints turn, and gauged arches of bricks cut to the arch. What it gives is a count; how
// an arch is carried, and by what centring until it carries itself, is for the engineer.
package arch

import (
	"math"

	"hodman/service/measure"
)

// Arc is the intrados of a curved arch: half the span and the rise of the crown over the springing,
// more than nought and not more than half the span; or a whole circle, so wide.
type Arc struct {
	Half, Rise measure.Length
	Circle     bool
}

// Radius of the intrados, half up to a micrometre: (half^2 + rise^2) / 2 rise.
func (a *Arc) Radius() measure.Length {
	if a.Circle {
		return a.Half
	}
	h, r := int64(a.Half), int64(a.Rise)
	// h^2 / r + r, whole parts apart so that no product leaves 64 bits.
	return measure.Length(measure.HalfUpDiv(h/r*h+h%r*h/r+r, 2))
}

// angle is what the arch turns through, in radians.
func (a *Arc) angle() float64 {
	if a.Circle {
		return 2 * math.Pi
	}
	return 4 * math.Atan2(float64(a.Rise), float64(a.Half)) // an inscribed angle is half of the central one
}

// Length of the arc so far outside the intrados, to the nearest micrometre, which is
// coarser than what one machine's arithmetic differs from another's by.
func (a *Arc) Length(outside measure.Length) measure.Length {
	return measure.Length(math.Round(a.angle() * float64(a.Radius()+outside)))
}

// Rings counts the bricks of each of so many rough rings from the intrados out, each so deep and
// parted by a joint: as many as the middle of the ring holds at a brick and its joint. An
// arch has an odd number, so that one stands at the crown; a circle any.
func Rings(a Arc, rings int, deep, brick, joint measure.Length) []int {
	counts := make([]int, rings)
	for i := range counts {
		middle := a.Length(measure.Length(i)*(deep+joint) + deep/2)
		pitch := int64(brick + joint)
		if a.Circle {
			counts[i] = int(measure.HalfUpDiv(int64(middle), pitch))
		} else {
			counts[i] = 2*int(measure.FloorDiv(int64(middle), 2*pitch)) + 1
		}
	}
	return counts
}

// Gauged counts the bricks of a gauged arch so deep: the fewest, and for an arch an odd number, that
// are not wider at the extrados than the brick they are cut from.
func Gauged(a Arc, deep, brick, joint measure.Length) int {
	n := int(measure.CeilDiv(int64(a.Length(deep)), int64(brick+joint)))
	if a.Circle {
		return n
	}
	return n | 1
}

// Flat counts the bricks of a flat arch over a span, whose skewbacks lean out so far on
// either side at the extrados: the fewest, an odd number, that are not wider there than a brick.
func Flat(span, lean, brick, joint measure.Length) int {
	return int(measure.CeilDiv(int64(span+2*lean+joint), int64(brick+joint))) | 1
}

// Area of the segment between the arc and its chord, or of the circle, to the nearest
// square millimetre.
func (a *Arc) Area() measure.Area {
	r, angle := a.Radius().Mm(), a.angle()
	return measure.Area(math.Round((angle-math.Sin(angle))*r*r/2)) * measure.Area(measure.Millimetre) * measure.Area(measure.Millimetre)
}
