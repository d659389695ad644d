package binpack

import "sort"

// thresholds is how many of L2's thresholds are tried where sizes are many.
const thresholds = 64

// many counts the first fit decreasing of more sizes than are packed exactly, and
// bounds it by L2 at some of its thresholds, the whole range over.
func (p *problem) many() Packing {
	lower := max(p.l2At(0), p.pairs())
	for i := 0; i < len(p.sizes); i += len(p.sizes)/thresholds + 1 {
		if 2*p.sizes[i] <= p.capacity {
			lower = max(lower, p.l2At(p.sizes[i]))
		}
	}
	bins := p.countFirstFit(len(p.sizes))
	return Packing{Bins: bins, LowerBound: lower, Optimal: bins == lower}
}

// countFirstFit is the first fit decreasing of the n largest sizes, counted without
// patterns. filled[i] leads to the next size that any is left of, so that sizes used up
// cost nothing more.
func (p *problem) countFirstFit(n int) int {
	sizes, left := p.sizes[:n], append([]int(nil), p.counts[:n]...)
	filled := make([]int, n+1)
	for i := range filled {
		filled[i] = i
	}
	next := func(i int) int {
		for filled[i] != i {
			filled[i] = filled[filled[i]]
			i = filled[i]
		}
		return i
	}
	bins := 0
	var in, counts []int
	for next(0) < n {
		in, counts = in[:0], counts[:0]
		room, times := p.capacity, MaxCount
		for i := next(0); i < n; i = next(max(i+1, first(sizes, room))) {
			k := min(left[i], int(room/sizes[i]))
			in, counts = append(in, i), append(counts, k)
			room -= int64(k) * sizes[i]
			times = min(times, left[i]/k)
		}
		for k, i := range in {
			if left[i] -= times * counts[k]; left[i] == 0 {
				filled[i] = i + 1
			}
		}
		bins += times
	}
	return bins
}

// first is the largest size that fits into room, or the number of sizes.
func first(sizes []int64, room int64) int {
	return sort.Search(len(sizes), func(i int) bool { return sizes[i] <= room })
}
