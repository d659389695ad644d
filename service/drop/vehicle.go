package drop

import (
	"cmp"
	"math/bits"
	"slices"

	"hodman/service/measure"
)

// cargo is count alike items: pieces of a good that stand together, on one deck place or none.
type cargo struct {
	good   int
	pieces int64 // of one item
	mass   int64 // of one item, g
	places int64 // 0 or 1
	count  int64
}

// trip is one vehicle with so many items of each cargo.
type trip struct {
	vehicle int
	counts  []int64
}

// mix is the vehicles that bring some cargo; the trips count by load, the heaviest
// item first. lower is proven: no mix costs less.
type mix struct {
	load  []cargo
	trips []trip
	cost  measure.Money
	lower measure.Money
}

// none is dearer than anything that can be.
const none = measure.Money(1 << 60)

const (
	mostSteps  = 5_000 // of the search for mixes that could hold the sums
	mostMixes  = 100   // that are tried for whether the cargo fits in
	mostFits   = 5_000 // steps of trying one
	mostOfType = 1 << 20
	// planSteps are for a whole plan; when they are gone, the first fill stands and the
	// bound says how far it may be off.
	planSteps = 10_000_000
)

// fleet is the vehicles to be had.
type fleet struct {
	vehicles []Vehicle
	// rates are, from each vehicle on, which later ones carry a kilogram and a place for least.
	byMass, byPlace []int
	steps           int // that are left
}

// newFleet takes vehicles that the request's check has passed. Where days is false the
// number of trips a day does not count.
func newFleet(vehicles []Vehicle, days bool) *fleet {
	f := &fleet{vehicles: slices.Clone(vehicles), steps: planSteps}
	for i := range f.vehicles {
		if v := &f.vehicles[i]; !days && v.most() > 0 {
			v.Available = nil
		}
	}
	n := len(vehicles)
	f.byMass, f.byPlace = make([]int, n), make([]int, n)
	for i := n - 1; i >= 0; i-- {
		f.byMass[i], f.byPlace[i] = i, i
		if i == n-1 {
			continue
		}
		v, m, p := &vehicles[i], &vehicles[f.byMass[i+1]], &vehicles[f.byPlace[i+1]]
		if less(*m.Cost, int64(v.Payload), *v.Cost, int64(m.Payload)) {
			f.byMass[i] = f.byMass[i+1]
		}
		if less(*p.Cost, int64(v.Places), *v.Cost, int64(p.Places)) {
			f.byPlace[i] = f.byPlace[i+1]
		}
	}
	return f
}

// less says whether a x b < c x d, in 128 bits.
func less(a measure.Money, b int64, c measure.Money, d int64) bool {
	h1, l1 := bits.Mul64(uint64(a), uint64(b))
	h2, l2 := bits.Mul64(uint64(c), uint64(d))
	return h1 < h2 || h1 == h2 && l1 < l2
}

// share is cost x part / whole, rounded up.
func share(cost measure.Money, part, whole int64) measure.Money {
	hi, lo := bits.Mul64(uint64(cost), uint64(part))
	q, rest := bits.Div64(hi, lo, uint64(whole))
	if rest > 0 {
		q++
	}
	return measure.Money(q)
}

func (v *Vehicle) most() int {
	if v.Available == nil {
		return mostOfType
	}
	return *v.Available
}

// holds says whether the vehicle alone takes a mass and places.
func (v *Vehicle) holds(mass, places int64) bool {
	return v.most() > 0 && mass <= int64(v.Payload) && places <= int64(v.Places)
}

// relaxed is a bound on carrying a mass and places with the vehicles from k on, in parts of trips.
func (f *fleet) relaxed(k int, mass, places int64) measure.Money {
	mass, places = max(mass, 0), max(places, 0)
	if k == len(f.vehicles) {
		if mass+places > 0 {
			return none
		}
		return 0
	}
	m, p := &f.vehicles[f.byMass[k]], &f.vehicles[f.byPlace[k]]
	return max(share(*m.Cost, mass, int64(m.Payload)), share(*p.Cost, places, int64(p.Places)))
}

// carry finds the cheapest mix that takes the cargo, and whether there is one. Where
// the budget of steps runs out, cost and lower differ.
func (f *fleet) carry(load []cargo) (mix, bool) {
	if len(load) == 0 {
		return mix{}, true
	}
	slices.SortStableFunc(load, func(a, b cargo) int { return cmp.Compare(b.mass, a.mass) })
	best, found := f.greedy(load)
	best.load = load
	mixes, whole := f.mixes(load, best.cost)
	proved := whole
	if !whole {
		mass, places := sums(load)
		best.lower = f.relaxed(0, mass, places)
	}
	for i := range mixes {
		if i == mostMixes {
			proved, best.lower = false, lowest(proved, mixes[i].cost, best.lower)
			break
		}
		trips, sure := f.fit(load, mixes[i].counts)
		if trips != nil {
			best.lower = lowest(proved, mixes[i].cost, best.lower)
			return mix{load, trips, f.cost(trips), best.lower}, true
		}
		if !sure && proved {
			proved, best.lower = false, mixes[i].cost
		}
	}
	best.lower = lowest(proved, best.cost, best.lower)
	return best, found
}

func (f *fleet) cost(trips []trip) (sum measure.Money) {
	for _, t := range trips {
		sum += *f.vehicles[t.vehicle].Cost
	}
	return sum
}

// lowest is the bound: the cost itself where all that is cheaper has been ruled out.
func lowest(proved bool, cost, lower measure.Money) measure.Money {
	if proved {
		return cost
	}
	return min(cost, lower)
}

func sums(load []cargo) (mass, places int64) {
	for _, c := range load {
		mass += c.mass * c.count
		places += c.places * c.count
	}
	return mass, places
}

// vehicleMix is how many of each vehicle.
type vehicleMix struct {
	counts []int
	cost   measure.Money
}

// walk is the search for vehicle counts that hold the sums for under a cost.
type walk struct {
	*fleet
	counts []int
	items  int
	under  measure.Money
	found  []vehicleMix
	steps  int
}

// mixes are the vehicle counts that hold the sums of the cargo for less than under,
// cheapest first, then fewest trips; whole says that they are all of them.
func (f *fleet) mixes(load []cargo, under measure.Money) (found []vehicleMix, whole bool) {
	mass, places := sums(load)
	w := &walk{fleet: f, counts: make([]int, len(f.vehicles)), under: under, steps: min(mostSteps, f.steps)}
	for _, c := range load {
		w.items += int(min(c.count, mostOfType))
	}
	w.from(0, mass, places, 0)
	trips := func(m vehicleMix) (n int) {
		for _, c := range m.counts {
			n += c
		}
		return n
	}
	slices.SortStableFunc(w.found, func(a, b vehicleMix) int {
		return cmp.Or(cmp.Compare(a.cost, b.cost), cmp.Compare(trips(a), trips(b)))
	})
	f.steps -= min(mostSteps, f.steps) - max(w.steps, 0)
	return w.found, w.steps > 0
}

func (w *walk) from(k int, mass, places int64, cost measure.Money) {
	w.steps--
	if w.steps <= 0 || cost+w.relaxed(k, mass, places) >= w.under {
		return
	}
	if k == len(w.vehicles) {
		w.found = append(w.found, vehicleMix{slices.Clone(w.counts), cost})
		return
	}
	v := &w.vehicles[k]
	for n := 0; n <= min(v.most(), w.items) && cost < w.under && w.steps > 0; n++ {
		w.counts[k] = n
		w.from(k+1, mass, places, cost)
		mass, places, cost = mass-int64(v.Payload), places-int64(v.Places), cost+*v.Cost
	}
	w.counts[k] = 0
}
