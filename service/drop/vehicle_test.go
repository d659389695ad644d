package drop

import (
	"fmt"
	"testing"

	"pgregory.net/rapid"

	"hodman/service/measure"
)

func vehicle(key string, payload measure.Mass, cost, places int) Vehicle {
	money := measure.Money(cost) * measure.MoneyUnit
	return Vehicle{Key: key, Payload: payload, Places: places, Cost: &money}
}

func limited(v Vehicle, n int) Vehicle {
	v.Available = &n
	return v
}

// Reference problems whose optimum was found by two other ways first. The sums by hand: VS2 weighs 10 x 1150 + 8 x 1330 + 3 x 850 + 1400 + 260 = 26 350 kg on 22 places,
// so two A (26 000 kg) are too few at 240; A + A + C carry 29 000 kg at 300, and every mix
// of A, B and C for less than 300 carries less than 26 350 kg.
func TestVehicleMix(t *testing.T) {
	packs := []cargo{{mass: 1150, places: 1, count: 10}, {mass: 1330, places: 1, count: 8}, {mass: 850, places: 1, count: 3},
		{mass: 1400, places: 1, count: 1}, {mass: 260, count: 1}}
	bins := []cargo{{mass: 7, count: 1}, {mass: 6, count: 1}, {mass: 5, count: 1}, {mass: 4, count: 1}, {mass: 3, count: 2}, {mass: 2, count: 1}}
	for _, c := range []struct {
		name     string
		vehicles []Vehicle
		load     []cargo
		want     int
	}{
		{"VS1", []Vehicle{vehicle("10", 10, 10, 60), vehicle("6", 6, 7, 60), vehicle("4", 4, 5, 60)}, bins, 30},
		{"VS2", []Vehicle{vehicle("A", 13000, 120, 12), vehicle("B", 8500, 95, 8), vehicle("C", 3000, 60, 4)}, packs, 300},
		{"VS2b", []Vehicle{vehicle("A", 13000, 120, 10), vehicle("B", 8500, 95, 8), vehicle("C", 3000, 60, 4)}, packs, 300},
		// One place each: 22 places on 8 a trip are 3 trips, though 2 would carry the mass.
		{"places bind", []Vehicle{vehicle("B", 30000, 95, 8)}, packs, 285},
		// Three of 6 into tens: one each, though 18 would go into two.
		{"pieces bind", []Vehicle{vehicle("10", 10, 10, 60)}, []cargo{{mass: 6, count: 3}}, 30},
		// One cheap trip a day; the rest by the dear one.
		{"few", []Vehicle{limited(vehicle("cheap", 10, 1, 60), 1), vehicle("dear", 10, 5, 60)}, []cargo{{mass: 10, count: 3}}, 11},
	} {
		m, can := newFleet(c.vehicles, true).carry(c.load)
		want := measure.Money(c.want) * measure.MoneyUnit
		if !can || m.cost != want || m.lower != want {
			t.Errorf("%s: %v, cost %s, lower %s, want %s", c.name, can, m.cost, m.lower, want)
		}
	}
	if _, can := newFleet([]Vehicle{limited(vehicle("V", 10, 1, 60), 2)}, true).carry([]cargo{{mass: 10, count: 3}}); can {
		t.Error("three full loads went on two trips")
	}
}

// The cheapest mix by trying every item in every trip that is open and in a new one of each kind.
func bruteMix(vehicles []Vehicle, items []cargo) measure.Money {
	best := none
	type open struct {
		vehicle      int
		mass, places int64
	}
	var try func(k int, trips []open, cost measure.Money)
	try = func(k int, trips []open, cost measure.Money) {
		if cost >= best {
			return
		}
		if k == len(items) {
			best = cost
			return
		}
		c := items[k]
		for i := range trips {
			if trips[i].mass >= c.mass && trips[i].places >= c.places {
				trips[i].mass -= c.mass
				trips[i].places -= c.places
				try(k+1, trips, cost)
				trips[i].mass += c.mass
				trips[i].places += c.places
			}
		}
		for v := range vehicles {
			used := 0
			for _, o := range trips {
				if o.vehicle == v {
					used++
				}
			}
			if used < vehicles[v].most() && int64(vehicles[v].Payload) >= c.mass && int64(vehicles[v].Places) >= c.places {
				try(k+1, append(trips[:len(trips):len(trips)], open{v, int64(vehicles[v].Payload) - c.mass, int64(vehicles[v].Places) - c.places}), cost+*vehicles[v].Cost)
			}
		}
	}
	try(0, nil, 0)
	return best
}

// Trips cost something here: with free ones the search may end before all are ruled out.
func TestVehicleMixIsExact(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		var vehicles []Vehicle
		for i := range rapid.IntRange(1, 3).Draw(r, "vehicles") {
			v := vehicle(fmt.Sprint(i), measure.Mass(rapid.IntRange(3, 12).Draw(r, "payload")), rapid.IntRange(1, 9).Draw(r, "cost"), rapid.IntRange(1, 4).Draw(r, "places"))
			if rapid.Bool().Draw(r, "limited") {
				v = limited(v, rapid.IntRange(0, 3).Draw(r, "available"))
			}
			vehicles = append(vehicles, v)
		}
		var load, items []cargo
		for i := range rapid.IntRange(1, 4).Draw(r, "kinds") {
			c := cargo{good: i, pieces: 1, mass: int64(rapid.IntRange(1, 8).Draw(r, "mass")), places: int64(rapid.IntRange(0, 1).Draw(r, "places")), count: int64(rapid.IntRange(1, 2).Draw(r, "count"))}
			load = append(load, c)
			for range c.count {
				items = append(items, c)
			}
		}
		want := bruteMix(vehicles, items)
		m, can := newFleet(vehicles, true).carry(load)
		if can != (want < none) || can && (m.cost != want || m.lower != want) {
			r.Fatalf("%v %s (lower %s), want %s", can, m.cost, m.lower, want)
		}
		carried := make(map[int]int64)
		for _, t := range m.trips {
			var mass, places int64
			for i, n := range t.counts {
				mass, places = mass+n*m.load[i].mass, places+n*m.load[i].places
				carried[m.load[i].good] += n
			}
			if v := &vehicles[t.vehicle]; mass > int64(v.Payload) || places > int64(v.Places) {
				r.Fatalf("%s carries %d on %d places", v.Key, mass, places)
			}
		}
		for _, c := range load {
			if can && carried[c.good] != c.count {
				r.Fatalf("%d of good %d are carried, want %d", carried[c.good], c.good, c.count)
			}
		}
	})
}
