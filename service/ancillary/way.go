package ancillary

import (
	"cmp"
	"slices"

	"hodman/service/measure"
)

// way is one way to make a run: so many whole lengths of each stock, and pieces that are cut.
type way struct {
	wholes []int
	whole  measure.Length // what those come to
	cut    []measure.Length
	// plain: whole lengths as they are sold and one piece cut.
	plain bool
}

func (w *way) taken() measure.Length {
	sum := w.whole
	for _, l := range w.cut {
		sum += l
	}
	return sum
}

func (w *way) count() int {
	n := 0
	for _, k := range w.wholes {
		n += k
	}
	return n
}

// mostTrimmed is how many pieces of a run are cut, all but one of them to the least.
const mostTrimmed = 3

// waysOf are the ways to make a run, the cheapest by itself first, and the least piece
// that they keep to.
func (s *search) waysOf(run measure.Length) ([]way, measure.Length) {
	if run <= s.longest {
		return []way{{cut: []measure.Length{run}, plain: true}}, 0
	}
	for _, least := range []measure.Length{s.by.Least, s.by.Short, s.by.Lap + measure.Millimetre} {
		if least = max(least, s.by.Lap+1); least > s.longest {
			continue
		}
		sums := s.sumsUpTo(run, least)
		var ways []way
		for n := 1; n <= mostTrimmed; n++ {
			ways = append(ways, s.trimmed(run, sums, least, n)...)
		}
		if len(ways) > 0 {
			return s.sorted(s.shared(ways)), least
		}
	}
	panic("ancillary: whole lengths and three pieces make every run")
}

// trimmed are the ways with so many pieces cut, all but one of them to the least.
func (s *search) trimmed(run measure.Length, sums *sums, least measure.Length, n int) []way {
	var ways []way
	for m := range sums.last {
		laps := measure.Length(m+sums.longest+n-1) * s.by.Lap
		for step, last := range sums.last[m] {
			if last < 0 {
				continue
			}
			whole := measure.Length(step)*sums.grain + measure.Length(sums.longest)*s.longest
			rest := run + laps - whole - measure.Length(n-1)*least
			if rest < least || rest > s.longest {
				continue
			}
			w := way{wholes: sums.counts(s, m, step), whole: whole, cut: make([]measure.Length, n), plain: n == 1}
			for i := range w.cut {
				w.cut[i] = least
			}
			w.cut[n-1] = rest
			ways = append(ways, w)
		}
	}
	return ways
}

// shared adds to ways those in which one whole length under the longest is cut from a
// longer one, so that what is left of that serves another run.
func (s *search) shared(ways []way) []way {
	for _, w := range ways {
		for i, n := range w.wholes {
			if n == 0 || s.stock[i] == s.longest {
				continue
			}
			wholes := slices.Clone(w.wholes)
			wholes[i]--
			ways = append(ways, way{wholes: wholes, whole: w.whole - s.stock[i], cut: append([]measure.Length{s.stock[i]}, w.cut...)})
		}
	}
	return ways
}

// sorted puts the ways first that buy least by themselves, then those with the fewest
// pieces, then those with the fewest to cut.
func (s *search) sorted(ways []way) []way {
	slices.SortStableFunc(ways, func(a, b way) int {
		if d := cmp.Compare(s.buys(&a), s.buys(&b)); d != 0 {
			return d
		}
		if d := cmp.Compare(a.count()+len(a.cut), b.count()+len(b.cut)); d != 0 {
			return d
		}
		return cmp.Compare(len(a.cut), len(b.cut))
	})
	return ways
}

// buys is what a way buys where it shares nothing.
func (s *search) buys(w *way) measure.Length {
	sum := w.whole
	for _, l := range w.cut {
		sum += s.holds(l)
	}
	return sum
}

// sums are the sums that so many stock lengths come to, in steps of the grain, besides
// so many of the longest: last[m][step] is the one added last, -1 where none comes to it.
type sums struct {
	longest int
	grain   measure.Length
	last    [][]int16
}

// mostSums bounds a table of sums.
const mostSums = 100_000

// sumsUpTo are the sums of whole lengths within a run, none of them under the least. Where the table would be too
// large the run starts with the longest, or is of nothing else, and the search does not
// prove itself complete.
func (s *search) sumsUpTo(run, least measure.Length) *sums {
	out, stock := &sums{grain: s.grain}, make([]measure.Length, 0, len(s.stock))
	for _, l := range s.stock {
		if l >= least {
			stock = append(stock, l)
		}
	}
	size := func() (pieces, steps int) {
		pieces = int((run-s.by.Lap)/(slices.Min(stock)-s.by.Lap)) + 1
		return pieces, int((run+measure.Length(pieces)*s.by.Lap)/out.grain) + 1
	}
	large := func() bool {
		pieces, steps := size()
		return pieces*steps*len(stock) > mostSums
	}
	for large() && run > 3*s.longest {
		over := max(1, (run-3*s.longest)/(8*s.longest))
		run -= over * (s.longest - s.by.Lap)
		out.longest += int(over)
		s.complete = false
	}
	if large() {
		stock, out.grain, s.complete = []measure.Length{s.longest}, s.longest, false
	}
	out.fill(s, stock, size)
	return out
}

func (t *sums) fill(s *search, stock []measure.Length, size func() (pieces, steps int)) {
	pieces, steps := size()
	t.last = make([][]int16, pieces+1)
	for m := range t.last {
		t.last[m] = slices.Repeat([]int16{-1}, steps)
	}
	t.last[0][0] = 0
	for m := 1; m <= pieces; m++ {
		for i := len(stock) - 1; i >= 0; i-- {
			by := int(stock[i] / t.grain)
			for step := by; step < steps; step++ {
				if t.last[m-1][step-by] >= 0 {
					t.last[m][step] = int16(slices.Index(s.stock, stock[i]))
				}
			}
		}
	}
}

// counts is how many of each stock length a sum is of.
func (t *sums) counts(s *search, m, step int) []int {
	counts := make([]int, len(s.stock))
	counts[slices.Index(s.stock, s.longest)] = t.longest
	for ; m > 0; m-- {
		i := t.last[m][step]
		counts[i]++
		step -= int(s.stock[i] / t.grain)
	}
	return counts
}

// divisor is the greatest that divides both.
func divisor(a, b int64) int64 {
	for b > 0 {
		a, b = b, a%b
	}
	return a
}
