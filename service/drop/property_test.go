package drop

import (
	"fmt"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"hodman/service/lift"
	"hodman/service/measure"
	"hodman/service/product"
	"hodman/service/rulebook"
)

// ware is a product that loads are drawn from.
type ware struct {
	line  lift.Line
	most  int // required of it in a lift
	whole bool
}

func wares() []ware {
	each := func(code string, kind product.Kind, pack int, kg float64, loose bool, most int) ware {
		return ware{lift.Line{Product: code, Kind: string(kind), Unit: "each", Pack: measure.Each(pack), PackMass: measure.Mass(kg * 1000), Loose: loose}, most, true}
	}
	dpc := each("DPC", product.DPC, 30, 1.5, false, 60)
	dpc.line.Unit, dpc.whole = "m", false
	return []ware{each("BRK", product.Brick, 400, 920, false, 2500), each("BLK", product.Block, 72, 1346.4, false, 400),
		each("CRS", product.CoursingUnit, 360, 1008, true, 500), each("LIN", product.Lintel, 1, 61.92, true, 4),
		each("BAG", product.Cement, 1, 25, false, 60), each("TIE", product.WallTie, 250, 10, false, 300), dpc}
}

func drawLoads(r *rapid.T) []lift.Load {
	loads := make([]lift.Load, rapid.IntRange(1, 4).Draw(r, "lifts"))
	for l := range loads {
		loads[l] = lift.Load{Lift: l + 1, From: measure.Length(l) * 1350 * measure.Millimetre, To: measure.Length(l+1) * 1350 * measure.Millimetre, Lines: []lift.Line{}}
		for _, w := range wares() {
			if !rapid.Bool().Draw(r, w.line.Product) {
				continue
			}
			line := w.line
			line.Required = measure.Each(rapid.IntRange(0, w.most).Draw(r, "required"))
			if !w.whole {
				line.Required += measure.Quantity(rapid.IntRange(0, 999).Draw(r, "part"))
			}
			loads[l].Lines = append(loads[l].Lines, line)
		}
	}
	return loads
}

func drawRequest(r *rapid.T, loads []lift.Load) *Request {
	lead := rapid.IntRange(0, 3).Draw(r, "lead")
	ahead := lead + rapid.IntRange(0, 6).Draw(r, "ahead")
	change := rapid.IntRange(0, 2).Draw(r, "change")
	holding := measure.Money(rapid.IntRange(0, 30).Draw(r, "holding")) * measure.MoneyUnit / 10
	q := &Request{LiftLoads: loads, Currency: "GBP", LeadDays: &lead, AheadDays: &ahead, HoldingCost: &holding,
		Programme: Programme{Start: "2027-03-06", Bricklayers: rapid.IntRange(1, 4).Draw(r, "bricklayers"), LiftChangeDays: &change, Holidays: []string{"2027-03-09", "2027-03-26"}}}
	for i := range rapid.IntRange(1, 3).Draw(r, "vehicles") {
		v := vehicle(fmt.Sprint("V", i), measure.Mass(rapid.IntRange(2, 14).Draw(r, "payload"))*measure.Tonne, rapid.IntRange(0, 150).Draw(r, "cost"), rapid.IntRange(1, 14).Draw(r, "places"))
		if rapid.Bool().Draw(r, "limited") {
			v = limited(v, rapid.IntRange(0, 2).Draw(r, "available"))
		}
		q.Vehicles = append(q.Vehicles, v)
	}
	if rapid.Bool().Draw(r, "yard") {
		most, packs := measure.Mass(rapid.IntRange(2, 40).Draw(r, "max_kg"))*measure.Tonne, rapid.IntRange(2, 40).Draw(r, "max_packs")
		q.Yard = &Yard{&most, &packs}
	}
	class, bays := rapid.IntRange(1, 6).Draw(r, "class"), rapid.IntRange(1, 9).Draw(r, "bays")
	length, width := measure.Length(rapid.IntRange(1200, 2700).Draw(r, "bay"))*measure.Millimetre, measure.Length(rapid.IntRange(600, 1500).Draw(r, "width"))*measure.Millimetre
	q.Scaffold = &Scaffold{LoadClass: &class, BayLength: &length, PlatformWidth: &width, Bays: &bays}
	return q
}

// A plan never starves a lift, never swamps the ground, loads no vehicle and no bay over
// what it carries, brings all that is required, and costs no less than its bound.
func TestPlansKeepEveryLimit(t *testing.T) {
	plans := 0
	rapid.Check(t, func(r *rapid.T) {
		loads := drawLoads(r)
		q := drawRequest(r, loads)
		if faults := q.Check(); len(faults) > 0 {
			r.Fatalf("%+v", faults)
		}
		p, faults := Make(q, loads, rulebook.GB())
		if faults != nil {
			return
		}
		plans++
		if p.Cost < p.LowerBound || p.Optimal != (p.Cost == p.LowerBound) {
			r.Fatalf("cost %s, bound %s, optimal %v", p.Cost, p.LowerBound, p.Optimal)
		}
		checkVehicles(r, q, &p)
		checkGround(r, q, &p, loads)
		checkHoists(r, q, &p, loads)
	})
	if plans == 0 {
		t.Error("no plan was possible")
	}
}

func checkVehicles(r *rapid.T, q *Request, p *Plan) {
	cost := measure.Money(0)
	trips := make(map[string]int)
	for i, d := range p.Drops {
		k := slices.IndexFunc(q.Vehicles, func(v Vehicle) bool { return v.Key == d.Vehicle })
		v := &q.Vehicles[k]
		cost += *v.Cost
		trips[d.Vehicle+d.Date.String()]++
		mass := measure.Mass(0)
		for _, line := range d.Lines {
			mass += line.Mass
		}
		if d.Number != i+1 || i > 0 && d.Date < p.Drops[i-1].Date || mass > d.Mass || d.Mass > v.Payload || d.Places > v.Places || len(d.ForLifts) == 0 {
			r.Fatalf("drop %+v on %+v", d, v)
		}
		if v.Available != nil && trips[d.Vehicle+d.Date.String()] > *v.Available {
			r.Fatalf("%s goes more than %d times on %s", d.Vehicle, *v.Available, d.Date)
		}
	}
	if cost > p.Cost || cost < p.Cost && *q.HoldingCost == 0 {
		r.Fatalf("trips %s, cost %s", cost, p.Cost)
	}
}

// workdays counts from one day to a later one the long way round.
func workdays(q *Request, from, to Date) int {
	n := 0
	for d := from; d < to; d++ {
		if w := d.time().Weekday(); w >= 1 && w <= 5 && !slices.Contains(q.Programme.Holidays, d.String()) {
			n++
		}
	}
	return n
}

// checkGround follows every day: what has come, what was loaded out.
func checkGround(r *rapid.T, q *Request, p *Plan, loads []lift.Load) {
	need, come := make(map[string]measure.Quantity), make(map[string]measure.Quantity)
	line := make(map[string]lift.Line)
	for l := range loads {
		by := p.Lifts[l].Starts
		for _, k := range loads[l].Lines {
			need[k.Product] += k.Required
			line[k.Product] = k
		}
		got := make(map[string]measure.Quantity)
		for _, d := range p.Drops {
			if workdays(q, d.Date, by) >= *q.LeadDays && d.Date <= by {
				for _, k := range d.Lines {
					got[k.Product] += k.Quantity
				}
			}
			if slices.Contains(d.ForLifts, l+1) && workdays(q, d.Date, by) > *q.AheadDays {
				r.Fatalf("drop %d comes %d days before lift %d", d.Number, workdays(q, d.Date, by), l+1)
			}
		}
		for name, n := range need {
			if got[name] < n {
				r.Fatalf("lift %d starves of %s: %s of %s", l+1, name, got[name], n)
			}
		}
	}
	for _, d := range p.Drops {
		for _, k := range d.Lines {
			come[k.Product] += k.Quantity
		}
		if i := d.Number; q.Yard == nil || i < len(p.Drops) && p.Drops[i].Date == d.Date {
			continue
		}
		mass, packs := measure.Mass(0), 0
		for name, n := range come {
			for l := range loads {
				for _, k := range loads[l].Lines {
					if k.Product == name && p.Lifts[l].Starts < d.Date {
						n -= k.Required
					}
				}
			}
			k := line[name]
			mass += measure.Mass(measure.CeilDiv(int64(n)*int64(k.PackMass), int64(k.Pack)))
			switch {
			case name == "BAG": // made up to pallets of 1000 kg
				packs += int(measure.CeilDiv(int64(n), 40*int64(k.Pack)))
			case placed(k.Kind):
				packs += int(measure.CeilDiv(int64(n), int64(k.Pack)))
			}
		}
		if mass > *q.Yard.MaxMass || packs > *q.Yard.MaxPacks {
			r.Fatalf("on %s %s kg and %d packs lie on ground for %s and %d", d.Date, mass, packs, *q.Yard.MaxMass, *q.Yard.MaxPacks)
		}
	}
}

func checkHoists(r *rapid.T, q *Request, p *Plan, loads []lift.Load) {
	out := make(map[string]measure.Quantity)
	put := make(map[int]bool)
	for _, h := range p.Hoists {
		put[h.Lift] = true
		for _, k := range h.Lines {
			out[fmt.Sprint(h.Lift, k.Product)] += k.Quantity
		}
		if h.Imposed > h.Limit || h.Bay < 1 || h.Bay > *q.Scaffold.Bays || *q.Scaffold.LoadClass < 3 {
			r.Fatalf("hoist %+v", h)
		}
	}
	for _, l := range loads {
		for _, k := range l.Lines {
			if want := k.Required; put[l.Lift] && k.Kind != string(product.Cement) && out[fmt.Sprint(l.Lift, k.Product)] != want {
				r.Fatalf("lift %d: %s of %s are put out, want %s", l.Lift, out[fmt.Sprint(l.Lift, k.Product)], k.Product, want)
			}
		}
	}
}

// bruteJob is the least cost of bringing every pack of a small job on any of the days on
// which some lift's goods are due, within lead and ahead and the ground.
func bruteJob(j *job, vehicles []Vehicle) measure.Money {
	type pack struct{ good, lift int }
	var packs []pack
	for l := range j.spans {
		for g := range j.goods {
			for range j.goods[g].pieces(l) - j.goods[g].pieces(l-1) {
				packs = append(packs, pack{g, l})
			}
		}
	}
	day := make([]int, len(packs)) // by the lift that is due then
	best := none
	var try func(k int)
	try = func(k int) {
		if k < len(packs) {
			for on := 0; on <= packs[k].lift; on++ {
				if j.last(on) >= j.first(packs[k].lift) {
					day[k] = on
					try(k + 1)
				}
			}
			return
		}
		cost := measure.Money(0)
		for on := range j.spans {
			var items []cargo
			come := make([]int64, len(j.goods))
			for i, p := range packs {
				if day[i] == on {
					items = append(items, cargo{mass: int64(j.goods[p.good].mass(j.goods[p.good].piece)), places: 1, count: 1})
					cost += measure.Money(int64(j.holding) * int64(j.last(p.lift)-j.last(on)))
				}
				if day[i] <= on {
					come[p.good]++
				}
			}
			mass, places := j.ground(func(g int) int64 { return come[g] }, j.last(on))
			if len(items) > 0 && (j.yardMass > 0 && mass > j.yardMass || j.yardPack > 0 && places > j.yardPack) {
				return
			}
			if cost += bruteMix(vehicles, items); cost >= best {
				return
			}
		}
		best = cost
	}
	try(0)
	return best
}

func TestBoundAndCostAgainstEveryPlan(t *testing.T) {
	optimal, met := 0, 0
	rapid.Check(t, func(r *rapid.T) {
		loads := make([]lift.Load, rapid.IntRange(1, 3).Draw(r, "lifts"))
		for l := range loads {
			loads[l] = lift.Load{Lift: l + 1, To: 1350 * measure.Millimetre}
			for g, kg := range []measure.Mass{920, 1400} {
				loads[l].Lines = append(loads[l].Lines, lift.Line{Product: fmt.Sprint("P", g), Kind: "brick", Unit: "each", Pack: measure.Each(100), PackMass: kg * measure.Kilogram,
					Required: measure.Each(rapid.IntRange(0, 190).Draw(r, "required"))})
			}
		}
		q := drawRequest(r, loads)
		for i := range q.Vehicles {
			q.Vehicles[i].Available = nil
			q.Vehicles[i].Payload = q.Vehicles[i].Payload%(4*measure.Tonne) + 1500*measure.Kilogram
		}
		p, faults := Make(q, loads, rulebook.GB())
		spans, _, _ := q.Programme.spans(loads, rulebook.GB())
		j := newJob(q, loads, spans, rulebook.GB())
		want := bruteJob(j, q.Vehicles)
		if (faults != nil) != (want == none) {
			r.Fatalf("faults %+v, best plan %s", faults, want)
		}
		if faults != nil {
			return
		}
		if p.LowerBound > want || p.Cost < want || p.Optimal && p.Cost != want {
			r.Fatalf("bound %s, cost %s, optimal %v; best plan %s", p.LowerBound, p.Cost, p.Optimal, want)
		}
		if p.Optimal {
			optimal++
		}
		if p.Cost == want {
			met++
		}
	})
	t.Logf("cost met the best plan %d times, and was proved %d times", met, optimal)
	if optimal == 0 {
		t.Error("no plan was proved")
	}
}
