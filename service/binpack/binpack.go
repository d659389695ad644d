// Package binpack is the one exact packer: cuts out of whole units, plates out of
// stock lengths, packs into vehicles.
//
// It is made for few distinct sizes and any number of each, and goes from cheap to
// dear. First fit decreasing is compared with what the pieces over a third of a bin
// need by themselves, which decides most cut lists of a house; then with Martello and
// Toth's L2 and the dual feasible functions. Where a gap is left, bins that no other
// filling can better are taken out, the rest is filled as tight as it goes, and last
// the linear relaxation over patterns (Gilmore and Gomory) gives a bound and a start
// for a search with a fixed budget of steps. The same items give the same packing on
// every machine.
package binpack

import (
	"slices"
	"sync"
)

// MaxCapacity bounds stock + kerf: 4294 m in micrometres, 4294 t in grams.
const MaxCapacity = 1 << 32

// MaxCount bounds the items of one size.
const MaxCount = 1 << 24

// MaxTotal bounds the sum of all items, each with its kerf, so that no sum of ours
// leaves an int64.
const MaxTotal = 1 << 60

// MaxSizes is how many different sizes are given back as patterns. With more of them
// the first fit is counted against the cheap bounds. The relaxation is for 100 at most,
// those in forced bins not counted.
const MaxSizes = 400

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

// problems keeps what a packing worked in for the next one. Nothing given back lies in it.
var problems = sync.Pool{New: func() any { return new(problem) }}

// Cut takes items out of the fewest pieces of stock. k items out of one piece need
// their sum and k-1 kerfs, which is the same as items a kerf longer out of stock a
// kerf longer. No items need no stock. It panics unless 0 < Size <= stock,
// 0 <= Count <= [MaxCount], 0 <= kerf, stock + kerf <= [MaxCapacity] and all items
// with their kerfs <= [MaxTotal]: the caller has checked its own lengths.
func Cut(stock, kerf int64, items []Item) Packing {
	p := problems.Get().(*problem)
	p.load(stock, kerf, items)
	out := p.pack()
	out.Patterns = p.patterns()
	problems.Put(p)
	return out
}

// Fewest is [Cut] for those who only count: Patterns is nil, and what first fit proves
// takes no memory and a fraction of the time.
func Fewest(stock, kerf int64, items []Item) Packing {
	p := problems.Get().(*problem)
	p.load(stock, kerf, items)
	out := p.pack()
	problems.Put(p)
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
	best     plan

	left, skip []int    // of first fit: what is left, and the next size that any is left of
	keys       []uint64 // of the sort
}

func newProblem(stock, kerf int64, items []Item) *problem {
	p := new(problem)
	p.load(stock, kerf, items)
	return p
}

// load lays the items out by falling size, then as given.
func (p *problem) load(stock, kerf int64, items []Item) {
	if kerf < 0 || stock+kerf > MaxCapacity {
		panic("binpack: kerf under nought, or stock and kerf over the most that can be summed")
	}
	p.capacity, p.given, p.keys = stock+kerf, len(items), p.keys[:0]
	total := int64(0)
	for i, it := range items {
		if it.Size <= 0 || it.Size > stock || it.Count < 0 || it.Count > MaxCount {
			panic("binpack: an item must be longer than nought and not longer than the stock, and its count in range")
		}
		if total += (it.Size + kerf) * int64(it.Count); total > MaxTotal {
			panic("binpack: items over the most that can be summed")
		}
		if it.Count > 0 {
			// What the item falls short of the most, above its place: one word sorts both.
			p.keys = append(p.keys, uint64(MaxCapacity-it.Size)<<31|uint64(i))
		}
	}
	slices.Sort(p.keys)
	p.sizes, p.counts, p.from = p.sizes[:0], p.counts[:0], p.from[:0]
	for _, key := range p.keys {
		i := int(key & (1<<31 - 1))
		p.sizes, p.counts, p.from = append(p.sizes, items[i].Size+kerf), append(p.counts, items[i].Count), append(p.from, i)
	}
}

// pack goes from the cheap bounds to the dear search, and stops where bound and bins meet.
func (p *problem) pack() Packing {
	lower := p.bound(p.firstFit())
	if lower < p.upper && len(p.sizes) <= MaxSizes {
		lower = p.close(lower)
	}
	return Packing{Bins: p.upper, LowerBound: lower, Optimal: lower == p.upper}
}

// close takes out the bins that nothing betters and packs the rest, tight first and
// then by the relaxation. It returns the bound.
func (p *problem) close(lower int) int {
	var forced plan
	rest := p.reduce(&forced)
	if len(rest.sizes) == 0 {
		p.best, p.upper = forced, forced.bins
		return p.upper
	}
	least := rest.bound(max(rest.firstFit(), lower-forced.bins))
	rest.tight(least)
	rest.upper = min(rest.upper, p.upper-forced.bins) // what is packed already allows as few
	if least < rest.upper && len(rest.sizes) <= sizesOfLinear {
		least = rest.solve(least)
	}
	p.better(&forced, rest)
	return forced.bins + least
}

// better takes kept and the rest's packing, if they come to fewer bins.
func (p *problem) better(kept *plan, rest *problem) {
	if kept.bins+rest.best.bins >= p.upper {
		return
	}
	for k, c := range rest.best.all {
		rest.best.all[k].size = rest.from[c.size]
	}
	p.best = kept.and(&rest.best)
	p.upper = p.best.bins
}

// patterns is the best packing in the order of the items given.
func (p *problem) patterns() []Pattern {
	if len(p.sizes) == 0 || len(p.sizes) > MaxSizes {
		return nil
	}
	out := make([]Pattern, len(p.best.runs))
	room := make([]int, p.given*len(out))
	for k := range out {
		counts := room[:p.given:p.given]
		room = room[p.given:]
		for _, c := range p.best.cells(k) {
			counts[p.from[c.size]] = c.count
		}
		out[k] = Pattern{Counts: counts, Times: p.best.runs[k].times}
	}
	return out
}
