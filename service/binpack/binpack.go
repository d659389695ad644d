// Package binpack is the one exact packer: cuts out of whole units, plates out of
// stock lengths, packs into vehicles.
//
// It is made for few distinct sizes and any number of each. First fit decreasing
// is compared with Martello and Toth's bound L2; where they differ, the linear
// relaxation over patterns (Gilmore and Gomory) gives a bound and a start, and a
// search with a fixed budget of steps closes what gap is left. The same items give
// the same packing on every machine.
package binpack

import "sort"

// MaxCapacity bounds stock + kerf, so that no sum leaves an int64: 4294 m in
// micrometres, 4294 t in grams.
const MaxCapacity = 1 << 32

// MaxCount bounds the items of one size.
const MaxCount = 1 << 24

// MaxSizes is how many different sizes are packed exactly. With more of them the first
// fit is counted against a bound, in time that hardly grows faster than the sizes.
const MaxSizes = 100

// Item is Count pieces of one Size. Give each size once: the same size twice is
// packed right, but searched slower.
type Item struct {
	Size  int64
	Count int
}

// Pattern is a way to fill one bin: Counts[i] pieces of the i-th item given. It is
// used Times times.
type Pattern struct {
	Counts []int
	Times  int
}

// Packing is the answer. Patterns hold every piece exactly once, the fullest in
// large pieces first. LowerBound is proven; Optimal says that Bins meets it. Over
// [MaxSizes] sizes Patterns is nil.
type Packing struct {
	Bins       int
	LowerBound int
	Optimal    bool
	Patterns   []Pattern
}

// Cut takes items out of the fewest pieces of stock. k items out of one piece need
// their sum and k-1 kerfs, which is the same as items a kerf longer out of stock a
// kerf longer. No items need no stock. It panics unless 0 < Size <= stock,
// 0 <= Count <= [MaxCount], 0 <= kerf and stock + kerf <= [MaxCapacity]: the caller
// has checked its own lengths.
func Cut(stock, kerf int64, items []Item) Packing {
	p := newProblem(stock, kerf, items)
	if len(p.sizes) == 0 {
		return Packing{Optimal: true}
	}
	if len(p.sizes) > MaxSizes {
		return p.many()
	}
	p.firstFit()
	if lower := p.bound(p.upper); lower < p.upper {
		return p.solve(lower)
	}
	return p.packing(p.upper)
}

// Fewest is [Cut] for those who only count: Patterns is nil. Where first fit is
// proven at once, which is the rule for cuts of bricks, it takes a fraction of the time.
func Fewest(stock, kerf int64, items []Item) Packing {
	p := newProblem(stock, kerf, items)
	if len(p.sizes) == 0 {
		return Packing{Optimal: true}
	}
	if len(p.sizes) > MaxSizes {
		return p.many()
	}
	most := p.countFirstFit(len(p.sizes))
	if p.bound(most) == most {
		return Packing{Bins: most, LowerBound: most, Optimal: true}
	}
	p.firstFit()
	out := p.solve(p.bound(most))
	out.Patterns = nil
	return out
}

// Bins packs items into the fewest bins. It panics as [Cut] does.
func Bins(capacity int64, items []Item) Packing { return Cut(capacity, 0, items) }

// problem is the items by falling size, each a kerf longer, with the best packing
// so far: upper bins, filled by best.
type problem struct {
	capacity int64
	sizes    []int64
	counts   []int
	from     []int // where each came from in what was given
	given    int
	steps    int // of the search, that are left
	upper    int
	best     []Pattern
}

func newProblem(stock, kerf int64, items []Item) *problem {
	if kerf < 0 || stock+kerf > MaxCapacity {
		panic("binpack: kerf under nought, or stock and kerf over the most that can be summed")
	}
	n := len(items)
	ints := make([]int, 2*n)
	p := &problem{capacity: stock + kerf, sizes: make([]int64, 0, n), counts: ints[:0:n], from: ints[n:n], given: n}
	for i, it := range items {
		if it.Size <= 0 || it.Size > stock || it.Count < 0 || it.Count > MaxCount {
			panic("binpack: an item must be longer than nought and not longer than the stock, and its count in range")
		}
		if it.Count > 0 {
			p.sizes, p.counts, p.from = append(p.sizes, it.Size+kerf), append(p.counts, it.Count), append(p.from, i)
		}
	}
	sort.Sort(p)
	return p
}

// Len, Less and Swap sort by falling size, then as given.
func (p *problem) Len() int { return len(p.sizes) }

// Less puts the larger first.
func (p *problem) Less(i, j int) bool {
	return p.sizes[i] > p.sizes[j] || p.sizes[i] == p.sizes[j] && p.from[i] < p.from[j]
}

// Swap changes two places.
func (p *problem) Swap(i, j int) {
	p.sizes[i], p.sizes[j] = p.sizes[j], p.sizes[i]
	p.counts[i], p.counts[j] = p.counts[j], p.counts[i]
	p.from[i], p.from[j] = p.from[j], p.from[i]
}

// firstFit is first fit decreasing, filled bin by bin, which comes to the same: as
// long as the same pattern can be had again, it is had again.
func (p *problem) firstFit() {
	m := len(p.sizes)
	room := make([]int, m*(m+2)) // the counts left, and patterns for all but the oddest
	left, room := room[:m:m], room[m:]
	copy(left, p.counts)
	p.best = make([]Pattern, 0, m+1)
	for first := 0; first < m; {
		if len(room) < m {
			room = make([]int, m*m)
		}
		counts := room[:m:m]
		room = room[m:]
		times := fill(p.capacity, p.sizes, left, counts, first)
		for i := first; i < m; i++ {
			left[i] -= times * counts[i]
		}
		p.best = append(p.best, Pattern{Counts: counts, Times: times})
		p.upper += times
		for first < m && left[first] == 0 {
			first++
		}
	}
}

// fill puts the largest that fits into one bin, again and again, and returns how
// often what is left allows that.
func fill(capacity int64, sizes []int64, left, counts []int, first int) int {
	times := MaxCount
	for i := first; i < len(sizes) && capacity > 0; i++ {
		if left[i] == 0 || sizes[i] > capacity {
			continue
		}
		counts[i] = min(left[i], int(capacity/sizes[i]))
		capacity -= int64(counts[i]) * sizes[i]
		times = min(times, left[i]/counts[i])
	}
	return times
}

// l2 is Martello and Toth's bound (Knapsack Problems, 1990, ch. 8; from memory).
// For every threshold a up to half a bin: items over capacity - a stand alone, those over
// half a bin have a bin each, and the rest from a up goes into what room they leave.
func (p *problem) l2() int {
	most := p.l2At(0)
	for i, size := range p.sizes {
		if 2*size <= p.capacity && (i == 0 || size != p.sizes[i-1]) {
			most = max(most, p.l2At(size))
		}
	}
	return most
}

func (p *problem) l2At(a int64) int {
	alone, large := 0, 0
	var largeSum, smallSum int64
	for i, size := range p.sizes {
		switch n := p.counts[i]; {
		case size > p.capacity-a:
			alone += n
		case 2*size > p.capacity:
			large += n
			largeSum += int64(n) * size
		case size >= a:
			smallSum += int64(n) * size
		}
	}
	over := smallSum - (int64(large)*p.capacity - largeSum)
	return alone + large + int(ceilDiv(max(0, over), p.capacity))
}

// bound is the cheapest that proves first fit's upper bins, or the best of the cheap
// ones. At most two to a bin, or all alike: then first fit decreasing is optimal.
func (p *problem) bound(upper int) int {
	least, most := p.sizes[len(p.sizes)-1], p.sizes[0]
	if 3*least > p.capacity || least == most {
		return upper
	}
	lower := p.l2()
	if lower < upper {
		lower = max(lower, p.pairs())
	}
	return lower
}

// pairs is the bound of the items over a third of a bin alone: at most two of them go
// together, and for such first fit decreasing is optimal.
func (p *problem) pairs() int {
	n := 0
	for n < len(p.sizes) && 3*p.sizes[n] > p.capacity {
		n++
	}
	return p.countFirstFit(n)
}

// ceilDiv is a/b rounded up; a is not under nought and b is over it.
func ceilDiv(a, b int64) int64 { return (a + b - 1) / b }

// packing gives the best packing back in the order of the items given.
func (p *problem) packing(lower int) Packing {
	out := Packing{Bins: p.upper, LowerBound: lower, Optimal: lower == p.upper, Patterns: p.best}
	room := make([]int, p.given*len(p.best))
	for k := range out.Patterns {
		counts := room[:p.given:p.given]
		room = room[p.given:]
		for i, n := range out.Patterns[k].Counts {
			counts[p.from[i]] = n
		}
		out.Patterns[k].Counts = counts
	}
	return out
}
