package drop

import (
	"slices"
)

// bin is a vehicle being loaded: the mass and places left, and what is in it.
type bin struct {
	vehicle      int
	mass, places int64
	in           []int64
}

func (f *fleet) bin(vehicle, kinds int) bin {
	v := &f.vehicles[vehicle]
	return bin{vehicle, int64(v.Payload), int64(v.Places), make([]int64, kinds)}
}

// room is how many of a cargo still go in.
func (b *bin) room(c *cargo) int64 {
	n := b.mass / c.mass
	if c.places > 0 {
		n = min(n, b.places/c.places)
	}
	return n
}

// laden says that there is something in it.
func (b *bin) laden() bool { return some(b.in) }

func some(counts []int64) bool {
	return slices.ContainsFunc(counts, func(n int64) bool { return n > 0 })
}

func (b *bin) put(i int, c *cargo, n int64) {
	b.mass -= n * c.mass
	b.places -= n * c.places
	b.in[i] += n
}

// greedy fills one kind of vehicle after the other, the heaviest first, and then sends
// the smallest vehicle that each trip needs. It tries to start with every kind.
func (f *fleet) greedy(load []cargo) (mix, bool) {
	best := mix{cost: none}
	for first := range f.vehicles {
		if m, can := f.fill(load, first); can && m.cost < best.cost {
			best = m
		}
	}
	return best, best.cost < none
}

func (f *fleet) fill(load []cargo, first int) (mix, bool) {
	left := make([]int64, len(load))
	for i := range load {
		left[i] = load[i].count
	}
	used := make([]int, len(f.vehicles))
	var m mix
	for _, v := range f.order(first) {
		for used[v] < f.vehicles[v].most() {
			b := f.bin(v, len(load))
			for i := range load {
				b.put(i, &load[i], min(left[i], b.room(&load[i])))
				left[i] -= b.in[i]
			}
			if !b.laden() {
				break
			}
			small := f.smallest(&b, load, used)
			used[small]++
			m.trips = append(m.trips, trip{small, b.in})
			m.cost += *f.vehicles[small].Cost
		}
	}
	return m, !some(left)
}

// order is the vehicles with one of them first.
func (f *fleet) order(first int) []int {
	order := []int{first}
	for v := range f.vehicles {
		if v != first {
			order = append(order, v)
		}
	}
	return order
}

// smallest is the cheapest vehicle that takes what a bin holds, or the bin's own.
func (f *fleet) smallest(b *bin, load []cargo, used []int) int {
	var mass, places int64
	for i, n := range b.in {
		mass += n * load[i].mass
		places += n * load[i].places
	}
	small := b.vehicle
	for k := range f.vehicles {
		v := &f.vehicles[k]
		if v.holds(mass, places) && used[k] < v.most() && *v.Cost < *f.vehicles[small].Cost {
			small = k
		}
	}
	return small
}

// fit stows the cargo into so many of each vehicle, or returns nil; sure says that there is no way.
func (f *fleet) fit(load []cargo, counts []int) (trips []trip, sure bool) {
	var bins []bin
	for v, n := range counts {
		for range n {
			bins = append(bins, f.bin(v, len(load)))
		}
	}
	slices.SortStableFunc(bins, func(a, b bin) int { return int(b.mass - a.mass) })
	s := stow{load: load, bins: bins, steps: min(mostFits, f.steps)}
	before := s.steps
	if !s.bestFit() {
		for i := range s.bins {
			s.bins[i] = f.bin(s.bins[i].vehicle, len(load))
		}
		found := s.search(0, 0, load[0].count)
		f.steps -= before - max(s.steps, 0)
		if !found {
			return nil, s.steps > 0
		}
	}
	for i := range s.bins {
		if b := &s.bins[i]; b.laden() {
			trips = append(trips, trip{b.vehicle, b.in})
		}
	}
	return trips, true
}

// stow is one try to load given vehicles.
type stow struct {
	load  []cargo
	bins  []bin
	steps int
}

// bestFit puts each item, the heaviest first, where least room is left.
func (s *stow) bestFit() bool {
	for i := range s.load {
		c := &s.load[i]
		for left := c.count; left > 0; {
			tight := -1
			for b := range s.bins {
				if s.bins[b].room(c) > 0 && (tight < 0 || s.bins[b].mass < s.bins[tight].mass) {
					tight = b
				}
			}
			if tight < 0 {
				return false
			}
			n := min(left, s.bins[tight].room(c))
			s.bins[tight].put(i, c, n)
			left -= n
		}
	}
	return true
}

// search puts left items of cargo i into the bins from b on, in every way that differs:
// bins of one vehicle that hold the same take no more of it than the one before.
func (s *stow) search(i, b int, left int64) bool {
	s.steps--
	if s.steps <= 0 {
		return false
	}
	if left == 0 {
		if i++; i == len(s.load) {
			return true
		}
		b, left = 0, s.load[i].count
	}
	if b == len(s.bins) || s.short(i, b, left) {
		return false
	}
	c, bin := &s.load[i], &s.bins[b]
	most := min(left, bin.room(c))
	if b > 0 && s.alike(i, b) {
		most = min(most, s.bins[b-1].in[i])
	}
	for n := most; n >= 0; n-- {
		bin.put(i, c, n)
		if s.search(i, b+1, left-n) {
			return true
		}
		bin.put(i, c, -n)
	}
	return false
}

// short says that the bins from b on cannot take what is left of cargo i.
func (s *stow) short(i, b int, left int64) bool {
	for k := b; k < len(s.bins) && left > 0; k++ {
		left -= s.bins[k].room(&s.load[i])
	}
	return left > 0
}

// alike says that bin b was as the one before it when cargo i's turn came.
func (s *stow) alike(i, b int) bool {
	return s.bins[b].vehicle == s.bins[b-1].vehicle && slices.Equal(s.bins[b].in[:i], s.bins[b-1].in[:i])
}
