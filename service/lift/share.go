package lift

import "math/bits"

// Share parts a total in proportion to weights so that the parts add up to it:
// each gets its share rounded down, and what is over goes one by one to the largest
// remainders, the lowest lift first where they are equal. Without any weight the
// first gets all. total and weights are not negative.
func Share(total int64, weights []int64) []int64 {
	parts := make([]int64, len(weights))
	ShareInto(parts, total, weights)
	return parts
}

// ShareInto is Share into parts, of which there are as many as weights.
func ShareInto(parts []int64, total int64, weights []int64) {
	sum := int64(0)
	for _, w := range weights {
		sum += w
	}
	if sum == 0 {
		clear(parts)
		parts[0] = total
		return
	}
	over := total
	var few [16]int64
	rest := few[:0]
	if len(weights) > len(few) {
		rest = make([]int64, 0, len(weights))
	}
	rest = rest[:len(weights)]
	for i, w := range weights {
		parts[i], rest[i] = scale(total, w, sum)
		over -= parts[i]
	}
	for ; over > 0; over-- {
		most := 0
		for i := range rest {
			if rest[i] > rest[most] {
				most = i
			}
		}
		parts[most]++
		rest[most] = -1
	}
}

// scale returns total x part / whole and the remainder, in 128 bits on the way.
// part is not more than whole.
func scale(total, part, whole int64) (quotient, remainder int64) {
	hi, lo := bits.Mul64(uint64(total), uint64(part))
	q, r := bits.Div64(hi, lo, uint64(whole))
	return int64(q), int64(r)
}
