package binpack

import "sort"

// thresholds is how many of L2's thresholds are tried where sizes are many.
const thresholds = 64

// many counts the first fit decreasing of more sizes than are packed exactly, and
// bounds it by L2 at some of its thresholds, the whole range over.
func (p *problem) many() Packing {
	lower := p.l2At(0)
	for i := 0; i < len(p.sizes); i += len(p.sizes)/thresholds + 1 {
		if 2*p.sizes[i] <= p.capacity {
			lower = max(lower, p.l2At(p.sizes[i]))
		}
	}
	bins := p.countFirstFit() // uses the counts up
	return Packing{Bins: bins, LowerBound: lower, Optimal: bins == lower}
}

// countFirstFit fills bin by bin. filled[i] leads to the next size that any is left
// of, so that sizes used up cost nothing more.
func (p *problem) countFirstFit() int {
	m := len(p.sizes)
	filled := make([]int, m+1)
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
	for next(0) < m {
		in, counts = in[:0], counts[:0]
		room, times := p.capacity, MaxCount
		for i := next(0); i < m; i = next(max(i+1, p.first(room))) {
			n := min(p.counts[i], int(room/p.sizes[i]))
			in, counts = append(in, i), append(counts, n)
			room -= int64(n) * p.sizes[i]
			times = min(times, p.counts[i]/n)
		}
		for k, i := range in {
			if p.counts[i] -= times * counts[k]; p.counts[i] == 0 {
				filled[i] = i + 1
			}
		}
		bins += times
	}
	return bins
}

// first is the largest size that fits into room, or the number of sizes.
func (p *problem) first(room int64) int {
	return sort.Search(len(p.sizes), func(i int) bool { return p.sizes[i] <= room })
}
