package binpack

// thresholds is how many thresholds the stepped bound tries where sizes are many.
const thresholds = 64

// bound raises lower by the cheap bounds, as far as what is packed. All alike, first
// fit packs best.
func (p *problem) bound(lower int) int {
	if lower < p.upper && p.sizes[0] == p.sizes[len(p.sizes)-1] {
		return p.upper
	}
	if lower < p.upper {
		lower = max(lower, p.l2())
	}
	if lower < p.upper {
		lower = max(lower, p.stepped(p.upper))
	}
	return lower
}

// l2 is Martello and Toth's bound (Knapsack Problems, 1990, ch. 8; from memory).
// For every threshold a up to half a bin: items over capacity - a stand alone, those over
// half a bin have a bin each, and the rest from a up goes into what room they leave.
// The thresholds fall, so that fewer stand alone and more are counted: one pass.
func (p *problem) l2() int {
	half, bins := 0, 0
	var small int64
	for half < len(p.sizes) && 2*p.sizes[half] > p.capacity {
		bins += p.counts[half]
		half++
	}
	most, alone, sharing := bins, half, 0
	var shared int64 // what those that do not stand alone take
	for i := half; i < len(p.sizes); i++ {
		a := p.sizes[i]
		small += int64(p.counts[i]) * a
		for alone > 0 && p.sizes[alone-1] <= p.capacity-a {
			alone--
			sharing += p.counts[alone]
			shared += int64(p.counts[alone]) * p.sizes[alone]
		}
		over := small - (int64(sharing)*p.capacity - shared)
		most = max(most, bins+int(ceilDiv(max(0, over), p.capacity)))
	}
	return most
}

// stepped is the best bound by the dual feasible functions that round a size to
// whole steps (Carlier, Clautiaux and Moukrim's f1; from memory). With k steps e in a
// bin, a piece under half counts the whole steps in it, a piece over half all but the
// whole steps beside it, a piece of just half k/2. Pieces that share a bin count k
// together at most: the small ones beside a large one lie within the steps beside it.
// All are doubled here, for the half. It stops at enough.
func (p *problem) stepped(enough int) int {
	most := 0
	by := len(p.sizes)/thresholds + 1
	for i := len(p.sizes) - 1; i >= 0 && 2*p.sizes[i] <= p.capacity && most < enough; i -= by {
		most = max(most, p.steppedBy(p.sizes[i]))
	}
	return most
}

func (p *problem) steppedBy(e int64) int {
	k := p.capacity / e
	var sum int64
	for i, size := range p.sizes {
		n := int64(p.counts[i])
		switch {
		case 2*size > p.capacity:
			sum += 2 * n * (k - (p.capacity-size)/e)
		case 2*size == p.capacity:
			sum += n * k
		case size >= e:
			sum += 2 * n * (size / e)
		default:
			return int(ceilDiv(sum, 2*k))
		}
	}
	return int(ceilDiv(sum, 2*k))
}

// ceilDiv is a/b rounded up; a is not under nought and b is over it.
func ceilDiv(a, b int64) int64 { return (a + b - 1) / b }
