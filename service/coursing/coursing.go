// Package coursing answers how a height is made up of courses: the gauge, what is
// left over, and what bed joint would make it come right.
package coursing

import "hodman/service/measure"

// Courses makes up a height of units on beds: full courses at the gauge (unit + bed),
// and what is over. Over more than a bed, it is a closing course of units cut to closing
// high on one bed more. Over not more than a bed, it is taken up in the beds of the full
// courses: each grows by growth, rounded down to a micrometre; with no full course
// there is no bed to grow and both are nought. At most one of closing and growth is
// not nought. It panics where height is under nought, unitHeight not over it or bed under
// it: the caller has checked its document.
func Courses(height, unitHeight, bed measure.Length) (full int, closing, growth measure.Length) {
	if height < 0 || unitHeight <= 0 || bed < 0 {
		panic("coursing: a height and a bed are not under nought, and a unit is over it")
	}
	gauge := int64(unitHeight + bed)
	full = int(measure.FloorDiv(int64(height), gauge))
	over := height - measure.Length(int64(full)*gauge)
	switch {
	case over > bed:
		closing = over - bed
	case full > 0:
		growth = measure.Length(measure.FloorDiv(int64(over), int64(full)))
	}
	return full, closing, growth
}

// Offer is a height met exactly by whole courses on other beds. Rounded says that
// the bed is rounded down to a micrometre.
type Offer struct {
	Courses int            `json:"courses"`
	Bed     measure.Length `json:"bed_mm"`
	Gauge   measure.Length `json:"gauge_mm"`
	Rounded bool           `json:"rounded,omitzero"`
}

// MaxOffers is how many gauges to suit are given for one height, the best of them.
const MaxOffers = 20

// Suit offers, for each whole number of courses n, the bed height/n - unitHeight where
// it is from least to most, ends included. The bed nearest to the one wanted comes
// first, and of two as near the one of fewer courses; at most [MaxOffers]. No height has
// none. It panics as [Courses] does, and where least is under nought.
func Suit(height, unitHeight, bed, least, most measure.Length) []Offer {
	if height < 0 || unitHeight <= 0 || least < 0 {
		panic("coursing: a height and a bed are not under nought, and a unit is over it")
	}
	offers := []Offer{}
	// From the wanted bed outwards: fewer courses and wider beds down, more and thinner up.
	first := measure.CeilDiv(int64(height), int64(unitHeight+most))
	last := measure.FloorDiv(int64(height), int64(unitHeight+least))
	down := min(last, measure.FloorDiv(int64(height), int64(unitHeight+bed)))
	up := max(first, down+1)
	for first = max(1, first); len(offers) < MaxOffers && (down >= first || up <= last); {
		n := up
		if up > last || down >= first && !nearer(height, unitHeight+bed, up, down) {
			n = down
			down--
		} else {
			up++
		}
		offers = append(offers, offer(height, unitHeight, n))
	}
	return offers
}

// nearer says whether the gauge of a courses is nearer to the one wanted than that of
// b: |height/a - gauge| < |height/b - gauge|, multiplied out so that it is exact.
func nearer(height, gauge measure.Length, a, b int64) bool {
	return off(height, gauge, a)*b < off(height, gauge, b)*a
}

func off(height, gauge measure.Length, n int64) int64 {
	d := int64(height) - n*int64(gauge)
	return max(d, -d)
}

func offer(height, unitHeight measure.Length, n int64) Offer {
	gauge := measure.Length(measure.FloorDiv(int64(height), n))
	return Offer{Courses: int(n), Bed: gauge - unitHeight, Gauge: gauge, Rounded: gauge*measure.Length(n) != height}
}

// below is the highest whole number of steps not above height.
func below(height, step measure.Length) measure.Length {
	return step * measure.Length(measure.FloorDiv(int64(height), int64(step)))
}

// above is the lowest whole number of steps not below height.
func above(height, step measure.Length) measure.Length {
	return step * measure.Length(measure.CeilDiv(int64(height), int64(step)))
}

// common is the least height that whole courses of both gauges come to: their least
// common multiple. It returns false where that is over 100 m, which no wall meets.
func common(a, b measure.Length) (measure.Length, bool) {
	x, y := a, b
	for y != 0 {
		x, y = y, x%y
	}
	steps := b / x
	if a > 100*measure.Metre/steps {
		return 0, false
	}
	return a * steps, true
}
