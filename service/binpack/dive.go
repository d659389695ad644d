package binpack

import (
	"cmp"
	"math"
	"slices"
)

// dive rounds the relaxation: it takes its whole bins and those more than half used,
// relaxes what is left again, and so on until nothing is. Each time what is left is
// filled first fit and tight as well, and the best of all kept.
func (p *problem) dive(l *linear, lower int) {
	left := append([]int(nil), p.counts...)
	var kept plan
	for q := p.rest(left); p.upper > lower; {
		l.take(q.from, left, &kept)
		if q = p.rest(left); len(q.sizes) == 0 {
			p.better(&kept, q)
			return
		}
		least := max(q.firstFit(), q.l2())
		q.tight(max(least, lower-kept.bins))
		p.better(&kept, q)
		if l.work <= 0 || kept.bins+least >= p.upper {
			return
		}
		work := l.work
		l = newLinear(q)
		l.work = work
		l.solve(least, q.upper)
	}
}

// take rounds the relaxation into bins of what is left: the whole ones, then one more of
// those more than half used, or of the most used if there is nothing else.
func (l *linear) take(from, left []int, kept *plan) {
	order := make([]int, len(l.share))
	for k := range order {
		order[k] = k
	}
	slices.SortStableFunc(order, func(i, j int) int {
		return cmp.Compare(l.share[j]-whole(l.share[j]), l.share[i]-whole(l.share[i]))
	})
	before := kept.bins
	for _, k := range order {
		l.bin(k, int(whole(l.share[k])), from, left, kept)
	}
	for _, k := range order {
		if l.share[k]-whole(l.share[k]) > .5 || kept.bins == before {
			l.bin(k, 1, from, left, kept)
		}
	}
}

// whole is rounded down, but for a float's last digits.
func whole(share float64) float64 { return math.Floor(share + 1e-6) }

// bin takes the k-th pattern, at most times times and as often as what is left allows.
func (l *linear) bin(k, times int, from, left []int, kept *plan) {
	for _, c := range l.basis[k] {
		times = min(times, left[from[c.size]]/c.count)
	}
	if times <= 0 {
		return
	}
	for _, c := range l.basis[k] {
		left[from[c.size]] -= times * c.count
		kept.add(from[c.size], c.count)
	}
	kept.close(times)
}
