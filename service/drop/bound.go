package drop

import "hodman/service/measure"

// mostExact is up to how many lifts the bound looks at vehicles one by one.
const mostExact = 12

// bound is what no plan within lead and ahead costs less than, however it parts the
// goods: early goods are free in it and vehicles are to be had without end. What a run of
// lifts needs comes in trips between the first day of its first lift and the last day of
// its last; runs whose days do not meet share no trip, so their least costs add up. The
// runs that give most are found lift by lift. The bound by mass is taken where it is higher.
func (j *job) bound(vehicles []Vehicle) measure.Money {
	free := newFleet(vehicles, false)
	start := j.starts()
	best := make([]measure.Money, len(j.spans)+1)
	for d := range j.spans {
		best[d+1] = best[d]
		for c := d; c >= 0; c-- {
			apart := 0
			for apart < c && j.last(apart) < j.first(c) {
				apart++
			}
			best[d+1] = max(best[d+1], best[apart]+j.least(free, start[c], start[d+1]))
		}
	}
	return max(best[len(j.spans)], j.flow(free))
}

// starts is the first block of each lift, and where the last lift ends.
func (j *job) starts() []int {
	start := make([]int, len(j.spans)+1)
	for i := range j.blocks {
		start[j.blocks[i].lift+1] = i + 1
	}
	for l := range j.spans {
		start[l+1] = max(start[l+1], start[l])
	}
	return start
}

// least is a bound on the trips that bring a run of blocks. Goods that are made up on
// pallets may be made up otherwise, so only their mass and places count.
func (j *job) least(free *fleet, from, to int) measure.Money {
	load := j.cargo(from, to)
	if len(load) == 0 {
		return 0
	}
	if len(j.spans) <= mostExact && j.wholePacks() {
		m, can := free.carry(load)
		if can {
			return m.lower
		}
	}
	mass, places := sums(load)
	return free.relaxed(0, mass, places)
}

func (j *job) wholePacks() bool {
	for i := range j.goods {
		if j.goods[i].perPlace > 1 {
			return false
		}
	}
	return true
}
