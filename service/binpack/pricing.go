package binpack

import (
	"math/bits"
	"slices"
)

// Steps of one search for the dearest pattern: after quickSteps any that improves the
// relaxation will do, after stepsOfPricing it ends.
const (
	quickSteps     = 2_000
	stepsOfPricing = 1_000_000
)

// pricing looks for the pattern of the highest price: a bounded knapsack, by depth
// first search, the dearest for its size first.
type pricing struct {
	p     *problem
	price []int64
	order []priced // by falling price for the size
	top   []int    // the dearest of this size and the smaller ones
	now   []cell
	best  []cell
	value int64 // of best
	taken int   // steps
	ended bool  // before all was searched
}

// priced is a size as the search meets it.
type priced struct {
	size, price int64
	at, count   int
}

func newPricing(p *problem) pricing {
	k := pricing{p: p, price: make([]int64, len(p.sizes)), order: make([]priced, len(p.sizes)), top: make([]int, len(p.sizes))}
	for i := range k.order {
		k.order[i] = priced{size: p.sizes[i], at: i, count: p.counts[i]}
	}
	return k
}

// dearest leaves the dearest pattern in best and its price in value. It returns false
// where the steps ran out: then the price is not the highest for sure.
func (k *pricing) dearest() bool {
	for i := range k.order {
		k.order[i].price = k.price[k.order[i].at]
	}
	slices.SortFunc(k.order, func(a, b priced) int {
		// a's price for its size less b's: each product is under 2^62
		if d := b.price*a.size - a.price*b.size; d != 0 {
			if d < 0 {
				return -1
			}
			return 1
		}
		return a.at - b.at
	})
	for i := len(k.top) - 1; i >= 0; i-- {
		if k.top[i] = i; i+1 < len(k.top) && k.price[k.top[i+1]] >= k.price[i] {
			k.top[i] = k.top[i+1]
		}
	}
	k.now, k.best, k.value, k.taken, k.ended = k.now[:0], k.best[:0], 0, 0, false
	k.descend(0, k.p.capacity, 0)
	k.sortBest()
	return !k.ended
}

// sortBest brings the cells into the order of a plan's, each size once.
func (k *pricing) sortBest() {
	slices.SortFunc(k.best, func(a, b cell) int { return a.size - b.size })
	out := k.best[:0]
	for _, c := range k.best {
		if last := len(out) - 1; last >= 0 && out[last].size == c.size {
			out[last].count += c.count
			continue
		}
		out = append(out, c)
	}
	k.best = out
}

func (k *pricing) descend(depth int, room, value int64) {
	if value > k.value {
		k.value = value
		k.best = append(k.best[:0], k.now...)
	}
	if k.few(room, value) {
		return
	}
	for ; depth < len(k.order) && !k.ended; depth++ {
		k.taken++
		next := &k.order[depth]
		if next.size > room {
			continue
		}
		// No more than room at the best price for the size, rounded down, can be added.
		if over, need := bits.Mul64(uint64(k.value-value+1), uint64(next.size)); over > 0 || uint64(room*next.price) < need {
			return
		}
		if k.taken > quickSteps && (k.value > scale+scale/1000 || k.taken > stepsOfPricing) {
			k.ended = true
			return
		}
		n := 1
		if room >= 2*next.size {
			n = min(next.count, int(room/next.size))
		}
		for ; n > 0; n-- {
			k.now = append(k.now, cell{next.at, n})
			k.descend(depth+1, room-int64(n)*next.size, value+int64(n)*next.price)
			k.now = k.now[:len(k.now)-1]
		}
	}
}

// few says that no more is to be found where at most three pieces more fit in: where
// even so many of the dearest that fits would not do, or where there is room for one
// and that is it.
func (k *pricing) few(room, value int64) bool {
	least := k.p.sizes[len(k.p.sizes)-1]
	if room < least {
		return true
	}
	if room >= 4*least {
		return false
	}
	k.taken += 4
	dearest := k.top[k.p.fits(0, room)]
	n := int64(1)
	for n < 3 && room >= (n+1)*least {
		n++
	}
	if value+n*k.price[dearest] <= k.value {
		return true
	}
	used := 0
	for _, c := range k.now {
		if c.size == dearest {
			used = c.count
		}
	}
	if n > 1 || used == k.p.counts[dearest] {
		return false
	}
	k.value = value + k.price[dearest]
	k.best = append(append(k.best[:0], k.now...), cell{dearest, 1})
	return true
}
