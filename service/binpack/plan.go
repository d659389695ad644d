package binpack

import "slices"

// cell is so many pieces of one size, the size by its place among the sizes.
type cell struct{ size, count int }

// run is a bin filled one way, times times. Its cells end at end.
type run struct{ end, times int }

// plan is bins filled, run by run, the cells of each by falling size.
type plan struct {
	all  []cell
	runs []run
	bins int
}

func (f *plan) reset() { f.all, f.runs, f.bins = f.all[:0], f.runs[:0], 0 }

// add puts pieces into the bin that is being filled.
func (f *plan) add(size, count int) { f.all = append(f.all, cell{size, count}) }

// close ends the bin that is being filled.
func (f *plan) close(times int) {
	f.runs = append(f.runs, run{len(f.all), times})
	f.bins += times
}

// addCounts fills bins with counts[i] pieces of every size i.
func (f *plan) addCounts(counts []int, times int) {
	for i, n := range counts {
		if n > 0 {
			f.add(i, n)
		}
	}
	f.close(times)
}

func (f *plan) cells(k int) []cell {
	from := 0
	if k > 0 {
		from = f.runs[k-1].end
	}
	return f.all[from:f.runs[k].end]
}

// and is both plans as one: those with most of the largest pieces first, like bins together.
func (f *plan) and(g *plan) plan {
	order := make([]int, 0, len(f.runs)+len(g.runs))
	for k := range cap(order) {
		order = append(order, k)
	}
	at := func(k int) ([]cell, int) {
		if k < len(f.runs) {
			return f.cells(k), f.runs[k].times
		}
		return g.cells(k - len(f.runs)), g.runs[k-len(f.runs)].times
	}
	slices.SortStableFunc(order, func(i, j int) int {
		a, _ := at(i)
		b, _ := at(j)
		return compare(b, a)
	})
	out := plan{all: make([]cell, 0, len(f.all)+len(g.all)), runs: make([]run, 0, len(order))}
	for _, k := range order {
		cells, times := at(k)
		if last := len(out.runs) - 1; last >= 0 && compare(out.cells(last), cells) == 0 {
			out.runs[last].times += times
			out.bins += times
			continue
		}
		out.all = append(out.all, cells...)
		out.close(times)
	}
	return out
}

// compare orders bins by their largest pieces: over nought where a has more of the
// first size that they do not agree on.
func compare(a, b []cell) int {
	return slices.CompareFunc(a, b, func(c, d cell) int {
		if c.size != d.size {
			return d.size - c.size
		}
		return c.count - d.count
	})
}
