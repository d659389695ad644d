package ancillary

import (
	"cmp"
	"slices"

	"hodman/service/measure"
)

// Cutter is what timber in runs is cut by.
type Cutter struct {
	Lap  measure.Length // of one piece over the next
	Kerf measure.Length // between two pieces out of one length
	// Least is the shortest piece of a run in pieces; where none can be made so, Short; else just over a lap.
	Least, Short measure.Length
}

// Cutting is how runs come out of stock lengths.
type Cutting struct {
	Bars   []Bar
	Pieces [][]measure.Length // by run, as they are laid
	Joined []measure.Length   // by run: the least piece that was asked of it; nought for a run in one piece
	Bought measure.Length
	// Bound is proven: no way to cut the runs buys less, wherever it puts their joints.
	Bound  measure.Length
	Proven bool // Bought is the least
}

// Bar is one length bought and the pieces that come out of it.
type Bar struct {
	Stock  int // place among the stock lengths
	Pieces []Piece
}

// Piece is one of a run.
type Piece struct {
	Run    int
	Length measure.Length
}

// Cut cuts all runs out of stock lengths, any number of each, with the least length
// bought, then the fewest bars. A run that one length makes is one piece. A longer one is
// lengths as they are sold, lapped end over end, up to two pieces of the least length, and one
// piece cut to suit. Pieces of different runs share a bar. Every stock length is over the
// lap, every run over nought.
//
// First the ways of whole lengths and one piece cut are searched, then every way of that kind,
// each within a fixed budget of steps. Bound holds for every
// other way to joint the runs, too: what they are long with the least laps, rounded up to
// what stock lengths can come to. Where no run has a joint the search is a proof itself.
func Cut(runs, stock []measure.Length, by Cutter) Cutting {
	s := newSearch(runs, stock, by)
	s.run(0)
	if !s.complete && s.best > s.bound {
		s.all, s.steps = true, stepsOfSearch
		s.run(0)
	}
	if s.steps < 0 && s.best > s.bound {
		s.packed()
	}
	return s.answer()
}

// stepsOfSearch bounds a search to some tens of milliseconds.
const stepsOfSearch = 200_000

// bar is one that is being filled.
type bar struct {
	used, cost measure.Length
	pieces     []Piece
}

type search struct {
	by      Cutter
	stock   []measure.Length
	longest measure.Length
	grain   measure.Length   // measures every stock length
	order   []int            // runs, the longest first
	ways    [][]way          // by place in order
	rest    []measure.Length // least taken by the runs from a place on
	asked   []measure.Length // by run

	bars       []bar
	chosen     []int // by place
	whole      measure.Length
	taken      measure.Length
	cost       measure.Length // of the bars that are cut
	steps      int
	all        bool // ways that are not plain, too
	complete   bool // no run has a joint
	bound      measure.Length
	best       measure.Length
	bestBars   []bar
	bestChosen []int
	bestCount  int
	wholes     int
}

func newSearch(runs, stock []measure.Length, by Cutter) *search {
	s := &search{by: by, stock: stock, longest: slices.Max(stock), order: make([]int, len(runs)), ways: make([][]way, len(runs)),
		rest: make([]measure.Length, len(runs)+1), asked: make([]measure.Length, len(runs)), chosen: make([]int, len(runs)),
		steps: stepsOfSearch, complete: true, best: measure.Length(1 << 62)}
	for _, l := range stock {
		s.grain = measure.Length(divisor(int64(s.grain), int64(l)))
	}
	for i := range s.order {
		s.order[i] = i
	}
	slices.SortStableFunc(s.order, func(a, b int) int { return cmp.Compare(runs[b], runs[a]) })
	for k := len(runs) - 1; k >= 0; k-- {
		i := s.order[k]
		if k+1 < len(runs) && runs[s.order[k+1]] == runs[i] {
			s.ways[k], s.asked[i] = s.ways[k+1], s.asked[s.order[k+1]]
		} else {
			s.ways[k], s.asked[i] = s.waysOf(runs[i])
		}
		if s.asked[i] > 0 {
			s.complete = false
		}
		s.rest[k] = s.rest[k+1] + s.least(runs[i])
		if s.asked[i] == 0 && 2*runs[i] > s.longest {
			s.bound += s.holds(runs[i]) // one piece, in a bar that no other such piece shares
		}
	}
	s.bound = max(s.bound, s.sumFrom(s.rest[0]))
	return s
}

// sumFrom is the least sum of stock lengths from l on, found up to so many steps of the
// grain; over them l rounded up to the grain, which is not over it.
func (s *search) sumFrom(l measure.Length) measure.Length {
	from, steps := int(s.up(l)/s.grain), int((l+s.longest)/s.grain)+1
	if len(s.order) == 0 || steps*len(s.stock) > mostSums {
		return s.up(l)
	}
	comes := make([]bool, steps+1)
	comes[0] = true
	for step := 1; step <= steps; step++ {
		for _, each := range s.stock {
			if by := int(each / s.grain); by <= step && comes[step-by] {
				comes[step] = true
			}
		}
		if step >= from && comes[step] {
			return measure.Length(step) * s.grain
		}
	}
	return s.up(l)
}

// least is what a run takes with the fewest laps that make it.
func (s *search) least(run measure.Length) measure.Length {
	return run + measure.Length(lengthsFor(run, s.longest, s.by.Lap)-1)*s.by.Lap
}

// up rounds a sum of pieces up to a sum that stock lengths can come to.
func (s *search) up(l measure.Length) measure.Length {
	return measure.Length(measure.CeilDiv(int64(l), int64(s.grain))) * s.grain
}

// holds is the shortest stock length that is as long.
func (s *search) holds(l measure.Length) measure.Length {
	best := s.longest
	for _, each := range s.stock {
		if each >= l && each < best {
			best = each
		}
	}
	return best
}

// run tries every way of the run at a place, and so of those after it.
func (s *search) run(place int) {
	if place == len(s.order) {
		s.keep()
		return
	}
	for n := range s.ways[place] {
		w := &s.ways[place][n]
		if !w.plain && !s.all {
			continue
		}
		s.chosen[place] = n
		s.whole += w.whole
		s.taken += w.taken()
		s.wholes += w.count()
		if !s.hopeless(place + 1) {
			s.put(place, w.cut)
		}
		s.whole -= w.whole
		s.taken -= w.taken()
		s.wholes -= w.count()
		if s.done() {
			return
		}
	}
}

// hopeless says whether what is bought so far, or all pieces together, come to no less
// than the best.
func (s *search) hopeless(place int) bool {
	s.steps--
	least := max(s.whole+s.cost, s.up(s.taken+s.rest[place]))
	return s.best < 1<<62 && s.steps < 0 || least > s.best || least == s.best && s.wholes+len(s.bars) >= s.bestCount
}

func (s *search) done() bool {
	return s.best == s.bound || s.steps < 0 && s.best < 1<<62
}

// put puts the pieces of the run at a place into bars, then goes on with the next run. A
// bar that costs no more for it comes first, the tightest before the others.
func (s *search) put(place int, cut []measure.Length) {
	if len(cut) == 0 {
		s.run(place + 1)
		return
	}
	piece := Piece{s.order[place], cut[0]}
	for _, b := range s.room(cut[0]) {
		if b.bar == len(s.bars) {
			s.bars = append(s.bars, bar{})
		}
		into := &s.bars[b.bar]
		before := *into
		into.used, into.cost = b.used, b.cost
		into.pieces = append(into.pieces[:len(into.pieces):len(into.pieces)], piece)
		s.cost += b.cost - before.cost
		if !s.hopeless(place + 1) {
			s.put(place, cut[1:])
		}
		s.cost -= b.cost - before.cost
		s.bars[b.bar] = before
		if before.used == 0 {
			s.bars = s.bars[:b.bar]
		}
		if s.done() {
			return
		}
	}
}

// seat is a bar that a piece may go into, and what the bar comes to.
type seat struct {
	bar        int
	used, cost measure.Length
	more       measure.Length
}

// room are the bars for a piece, a new one among them; of bars filled alike the first.
func (s *search) room(l measure.Length) []seat {
	seats := make([]seat, 0, 8)
	for i := range s.bars {
		used := s.bars[i].used + s.by.Kerf + l
		alike := func(e seat) bool { return e.used == used && e.more == s.holds(used)-s.bars[i].cost }
		if used > s.longest || slices.ContainsFunc(seats, alike) {
			continue
		}
		cost := s.holds(used)
		seats = append(seats, seat{i, used, cost, cost - s.bars[i].cost})
	}
	s.steps -= len(s.bars) / 8
	seats = append(seats, seat{len(s.bars), l, s.holds(l), s.holds(l)})
	slices.SortStableFunc(seats, func(a, b seat) int {
		if a.more != b.more {
			return cmp.Compare(a.more, b.more)
		}
		return cmp.Compare(a.cost-a.used, b.cost-b.used)
	})
	return seats
}

// keep keeps the best so far.
func (s *search) keep() {
	cost, count := s.whole+s.cost, s.wholes+len(s.bars)
	if cost > s.best || cost == s.best && count >= s.bestCount {
		return
	}
	s.best, s.bestCount = cost, count
	s.bestBars = slices.Clone(s.bars)
	s.bestChosen = append(s.bestChosen[:0], s.chosen...)
}

func (s *search) answer() Cutting {
	out := Cutting{Pieces: make([][]measure.Length, len(s.order)), Joined: s.asked, Bought: s.best, Bound: s.bound, Bars: make([]Bar, 0, s.bestCount)}
	if s.complete && s.steps >= 0 {
		out.Bound = s.best
	}
	out.Proven = out.Bound == out.Bought
	for place, n := range s.bestChosen {
		run, w := s.order[place], &s.ways[place][n]
		for i, k := range w.wholes {
			for range k {
				out.Bars = append(out.Bars, Bar{i, []Piece{{run, s.stock[i]}}})
				out.Pieces[run] = append(out.Pieces[run], s.stock[i])
			}
		}
		out.Pieces[run] = append(out.Pieces[run], w.cut...)
	}
	for _, b := range s.bestBars {
		out.Bars = append(out.Bars, Bar{slices.Index(s.stock, b.cost), b.pieces})
	}
	return out
}
