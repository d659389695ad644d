package ancillary

import (
	"math/bits"
	"strconv"

	"hodman/service/measure"
)

// spaces is how many spacings a length takes, rounded up: n of them are never farther
// apart than the spacing.
func spaces(length, spacing measure.Length) int {
	return int(measure.CeilDiv(int64(length), int64(spacing)))
}

// slope is the length up a slope, rounded up to a micrometre: the least whose square is
// not under the sum of both squares. It lies between the longer of the two and both together.
func slope(run, rise measure.Length) measure.Length {
	run, rise = max(run, -run), max(rise, -rise)
	high, low := bits.Mul64(uint64(run), uint64(run))
	more, rest := bits.Mul64(uint64(rise), uint64(rise))
	low, carry := bits.Add64(low, rest, 0)
	high += more + carry
	least, most := max(run, rise), run+rise
	for least < most {
		middle := (least + most) / 2
		if h, l := bits.Mul64(uint64(middle), uint64(middle)); h < high || h == high && l < low {
			least = middle + 1
		} else {
			most = middle
		}
	}
	return least
}

// ofArea is an area in square metres times so many a square metre, in thousandths,
// rounded up. Split, because the product leaves an int64 at 3 m2.
func ofArea(a measure.Area, density measure.Ratio) measure.Quantity {
	whole, rest := int64(a)/int64(measure.SquareMetre), int64(a)%int64(measure.SquareMetre)
	millionths := whole*int64(density) + measure.CeilDiv(rest*int64(density), int64(measure.SquareMetre))
	return measure.Quantity(measure.CeilDiv(millionths, int64(measure.One/measure.Ratio(measure.Whole))))
}

// up is a quantity rounded up to a whole.
func up(q measure.Quantity) int { return int(measure.CeilDiv(int64(q), int64(measure.Whole))) }

// number prints a count for a sum.
func number(n int) string { return strconv.Itoa(n) }

// metres prints a length for a sum, up to a millimetre.
func metres(l measure.Length) string { return measure.Metres(l).String() }

// squareMetres is an area for a sum, half up to three decimals.
func squareMetres(a measure.Area) measure.Quantity {
	return measure.Quantity(measure.HalfUpDiv(int64(a), int64(measure.SquareMetre)/int64(measure.Whole)))
}
