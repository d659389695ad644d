package drop

import (
	"slices"

	"hodman/service/measure"
)

// job is what is to be brought, by when, and with what.
type job struct {
	goods    []good
	blocks   []block
	spans    []span
	lead     int
	ahead    int
	yardMass measure.Mass // nought: no limit
	yardPack int64        // nought: no limit
	holding  measure.Money
	fleet    *fleet
	daily    bool // some vehicle has a number of trips a day

	before  [][]int64     // pieces of each good in the blocks before one
	packs   []int64       // pack equivalents before a block, in millionths
	packDue []int64       // the same, each times its last day
	runs    []*run        // by the first block and the one after the last
	room    map[node]int8 // for what has come before a block by a day: 1 if the ground holds it, -1 if not
	nodes   []node

	// way are the lots of the plan, by node; nil where there is none: then reached is how
	// far it got. lower bounds its cost.
	way         []int
	reached     int
	cost, lower measure.Money
}

// mostEarly bounds the days before the last one that a delivery is tried on where
// vehicles are few.
const mostEarly = 10

// run is the blocks from one up to another, with the cheapest mix that brings them once
// that has been asked for, and before that a bound on it.
type run struct {
	mix
	asked, can bool
	relaxed    measure.Money
}

// node is a delivery that begins with a block on a working day.
type node struct{ block, day int }

func (j *job) last(lift int) int  { return j.spans[lift].starts - j.lead }
func (j *job) first(lift int) int { return j.spans[lift].starts - j.ahead }

// prepare adds up what every block holds, so that a run of blocks is a difference.
func (j *job) prepare() {
	j.runs = make([]*run, (len(j.blocks)+1)*(len(j.blocks)+1))
	j.room = make(map[node]int8)
	j.nodes = nil
	j.before = [][]int64{make([]int64, len(j.goods))}
	j.packs, j.packDue = []int64{0}, []int64{0}
	for i := range j.blocks {
		b := &j.blocks[i]
		sum := slices.Clone(j.before[i])
		packs := int64(0)
		for _, p := range b.parts {
			sum[p.good] += p.pieces
			packs += j.goods[p.good].packs(p.pieces)
		}
		j.before = append(j.before, sum)
		j.packs = append(j.packs, j.packs[i]+packs)
		j.packDue = append(j.packDue, j.packDue[i]+packs*int64(j.last(b.lift)))
	}
	for i := range j.blocks {
		l := j.blocks[i].lift
		if j.daily {
			for day := max(j.first(l), j.last(l)-mostEarly); day < j.last(l); day++ {
				j.nodes = append(j.nodes, node{i, day})
			}
		}
		j.nodes = append(j.nodes, node{i, j.last(l)})
	}
}

// packs is pack equivalents in millionths: places, or for goods that take none a place's worth of mass.
func (g *good) packs(pieces int64) int64 {
	if g.perPlace == 0 {
		return measure.HalfUpDiv(int64(g.mass(measure.Quantity(pieces)*g.piece))*int64(measure.One), int64(g.worth))
	}
	return measure.HalfUpDiv(pieces*int64(measure.One), g.perPlace)
}

// pieces are what the blocks from one up to another hold of each good.
func (j *job) pieces(from, to int) []int64 {
	n := slices.Clone(j.before[to])
	for g := range n {
		n[g] -= j.before[from][g]
	}
	return n
}

// cargo makes the items that a run of blocks is carried in.
func (j *job) cargo(from, to int) []cargo {
	var load []cargo
	for i, n := range j.pieces(from, to) {
		g := &j.goods[i]
		if n == 0 {
			continue
		}
		each, places := int64(1), int64(0)
		if g.perPlace > 0 {
			each, places = g.perPlace, 1
		}
		add := func(pieces, count int64) {
			if pieces > 0 && count > 0 {
				load = append(load, cargo{i, pieces, int64(g.mass(measure.Quantity(pieces) * g.piece)), places, count})
			}
		}
		add(each, n/each)
		add(n%each, 1)
	}
	return load
}

// run bounds a run of blocks.
func (j *job) run(from, to int) *run {
	r := &j.runs[from*(len(j.blocks)+1)+to]
	if *r == nil {
		mass, places := sums(j.cargo(from, to))
		*r = &run{relaxed: j.fleet.relaxed(0, mass, places)}
	}
	return *r
}

// carry brings a run of blocks.
func (j *job) carry(from, to int) *run {
	r := j.run(from, to)
	if !r.asked {
		r.asked = true
		r.mix, r.can = j.fleet.carry(j.cargo(from, to))
	}
	return r
}

// early is the price of goods that come before their last day.
func (j *job) early(from, to, day int) measure.Money {
	packDays := j.packDue[to] - j.packDue[from] - int64(day)*(j.packs[to]-j.packs[from])
	return share(j.holding, packDays, int64(measure.One))
}

// ground is what lies on the ground on a day of the pieces that have come by then: the
// share of the lifts that started before is loaded out.
func (j *job) ground(come func(good int) int64, day int) (mass measure.Mass, packs int64) {
	started := -1
	for started+1 < len(j.spans) && j.spans[started+1].starts < day {
		started++
	}
	for i := range j.goods {
		g := &j.goods[i]
		left := measure.Quantity(come(i)) * g.piece
		if started >= 0 {
			left -= g.needed[started]
		}
		if left > 0 {
			mass += g.mass(left)
			packs += g.places(left)
		}
	}
	return mass, packs
}

// held says that the ground takes what lies there.
func (j *job) held(to, day int) bool {
	if j.yardMass == 0 && j.yardPack == 0 {
		return true
	}
	known := j.room[node{to, day}]
	if known == 0 {
		known = 1
		mass, packs := j.ground(func(i int) int64 { return j.before[to][i] }, day)
		if j.yardMass > 0 && mass > j.yardMass || j.yardPack > 0 && packs > j.yardPack {
			known = -1
		}
		j.room[node{to, day}] = known
	}
	return known > 0
}

// lot is the cost of a delivery that goes from one node up to the next, where it can be.
func (j *job) lot(from, to int, under measure.Money) (measure.Money, bool) {
	if from == 0 { // before the first delivery there is nothing to bring
		return 0, len(j.nodes) == 0 || to <= len(j.nodes) && j.nodes[to-1].block == 0
	}
	a, end := j.nodes[from-1], len(j.blocks)
	if to <= len(j.nodes) {
		if j.nodes[to-1].day <= a.day {
			return 0, false
		}
		end = j.nodes[to-1].block
	}
	if end <= a.block {
		return 0, false
	}
	if a.day < j.first(j.blocks[end-1].lift) {
		return 0, false
	}
	cost := j.early(a.block, end, a.day)
	if cost+j.run(a.block, end).relaxed >= under || !j.held(end, a.day) {
		return 0, false
	}
	c := j.carry(a.block, end)
	return cost + c.cost, c.can
}
