package drop

import (
	"cmp"
	"fmt"
	"slices"

	"hodman/service/finding"
	"hodman/service/lift"
	"hodman/service/measure"
	"hodman/service/rulebook"
)

// Make plans a request that [Request.Check] has passed, for its own loads or those of
// its schedule's takeoff. The faults are what makes a plan impossible, each with the
// lift, the product, the day and by how much: then the plan is empty. Goods beyond 5000 t
// are refused as too large.
func Make(r *Request, loads []lift.Load, book *rulebook.Book) (Plan, finding.Faults) {
	if r.Schedule != nil {
		if faults := counted(loads); faults != nil {
			return Plan{}, faults
		}
	}
	cal := r.Programme.calendar()
	spans, sums, faults := r.Programme.spans(loads, book)
	if faults != nil {
		return Plan{}, faults
	}
	j := newJob(r, loads, spans, book)
	if faults := j.impossible(r, loads, cal); len(faults) > 0 {
		return Plan{}, faults
	}
	best := j.best(r.Vehicles)
	if best.way == nil {
		return Plan{}, best.tooFewTrips(best.reached, loads, cal)
	}
	p := &planner{Plan: newPlan(r), r: r, book: book, cal: cal, job: best, loads: loads}
	p.Sums = append(p.Sums, sums...)
	p.date()
	p.price(p.deliver(best.way))
	p.platform()
	p.ruled()
	return p.Plan, nil
}

// counted holds the loads of a schedule's takeoff to the limits that [Request.Check] holds
// loads to that were sent. The schedule is all that can be pointed at.
func counted(loads []lift.Load) finding.Faults {
	c := new(checker)
	c.loads("/lifts", loads)
	for i := range c.Faults {
		f := &c.Faults[i]
		f.Pointer, f.Detail = "/schedule", "in its takeoff "+f.Pointer+" "+f.Detail
	}
	return c.Faults
}

func newJob(r *Request, loads []lift.Load, spans []span, book *rulebook.Book) *job {
	j := &job{spans: spans, fleet: newFleet(r.Vehicles, true),
		lead: given(r.LeadDays, book, "drop.lead_days"), ahead: given(r.AheadDays, book, "drop.ahead_days")}
	payload := measure.Mass(0)
	for i := range r.Vehicles {
		v := &r.Vehicles[i]
		j.daily = j.daily || v.Available != nil && *v.Available > 0
		if v.most() > 0 {
			payload = max(payload, v.Payload)
		}
	}
	j.goods = goodsOf(loads, book, payload)
	if y := r.Yard; y != nil {
		if y.MaxMass != nil {
			j.yardMass = *y.MaxMass
		}
		if y.MaxPacks != nil {
			j.yardPack = int64(*y.MaxPacks)
		}
	}
	if r.HoldingCost != nil {
		j.holding = *r.HoldingCost
	}
	return j
}

// best plans the job with its goods in several orders inside each lift, as given and by
// mass, and returns it with the cheapest plan, the first of equals. Where none is found
// for parts that are too large for the trips of a day, smaller ones are tried.
func (j *job) best(vehicles []Vehicle) *job {
	given := make([]int, len(j.goods))
	for i := range given {
		given[i] = i
	}
	heavy := slices.Clone(given)
	slices.SortStableFunc(heavy, func(a, b int) int { return cmp.Compare(j.goods[b].place(), j.goods[a].place()) })
	light := slices.Clone(heavy)
	slices.Reverse(light)
	var best *job
	bound := none
	for _, most := range []int{mostBlocks, mostBlocksAgain} {
		for _, order := range [][]int{given, heavy, light} {
			try := *j
			try.plan(order, most)
			if best == nil || try.way != nil && (best.way == nil || try.cost < best.cost) {
				best = &try
			}
			if best.way != nil && bound == none {
				bound = best.bound(vehicles) // the order does not matter to it
			}
			best.lower = min(best.cost, bound)
			if best.way != nil && best.cost == best.lower {
				return best
			}
		}
		if best.way != nil || !j.daily {
			return best
		}
	}
	return best
}

// place is what one place of a good weighs, or one piece of what takes none.
func (g *good) place() measure.Mass {
	return g.mass(measure.Quantity(max(1, g.perPlace)) * g.piece)
}

// plan parts the goods into so many blocks at most and finds the lots of least cost.
func (j *job) plan(order []int, most int) {
	if work := len(j.goods) * len(j.fleet.vehicles); work > freeWork {
		most = most * freeWork / work
	}
	j.blocks = blocksOf(j.goods, order, len(j.spans), most)
	j.prepare()
	j.way, j.cost, j.reached = lots(len(j.nodes)+1, j.lot)
}

func newPlan(r *Request) Plan {
	return Plan{Lifts: []LiftDates{}, Drops: []Drop{}, Hoists: []Hoist{}, BricksABay: []BayCount{}, Currency: r.Currency,
		Sums: []string{}, Rules: []string{}, Findings: []finding.Finding{}, Cautions: Cautions}
}

// planner writes the plan of a job.
type planner struct {
	Plan
	*job
	r     *Request
	book  *rulebook.Book
	cal   *calendar
	loads []lift.Load
	rules []string
}

func (p *planner) find(severity finding.Severity, code, at, text, remedy, rule string) {
	p.Findings = append(p.Findings, finding.Finding{Severity: severity, Code: code, At: at, Text: text, Remedy: remedy, Rule: rule})
}

// date dates the lifts.
func (p *planner) date() {
	for i, s := range p.spans {
		p.Lifts = append(p.Lifts, LiftDates{p.loads[i].Lift, p.cal.day(s.starts), p.cal.day(s.ends), s.ends - s.starts + 1})
	}
	if first := p.cal.day(0); first != mustDate(p.r.Programme.Start) {
		p.find(finding.Note, "drop.start_moved", "/programme/start", p.r.Programme.Start+" is not a working day; the job starts on "+first.String(), "", "")
	}
	if p.r.Yard == nil {
		p.find(finding.Note, "drop.yard_not_given", "/yard", "how much the ground holds is not given and was not checked", "give yard with max_kg and max_packs", "")
	}
}

// price gives the cost, its bound, and what simpler plans would cost in trips.
func (p *planner) price(trips measure.Money) {
	cost := p.job.cost
	p.Cost, p.LowerBound = cost, p.job.lower
	p.Optimal = p.Cost == p.LowerBound
	if cost > 0 {
		p.Gap = measure.Ratio(share(cost-p.LowerBound, int64(measure.One), int64(cost)))
	}
	p.Sums = append(p.Sums, fmt.Sprintf("cost: trips %s + early goods %s = %s %s", trips, cost-trips, cost, p.Currency),
		fmt.Sprintf("lower bound: %s %s; no plan within %d to %d working days before each lift costs less", p.LowerBound, p.Currency, p.lead, p.ahead))
	start := p.starts()
	byLift := measure.Money(0)
	for l := range p.spans {
		c := p.carry(start[l], start[l+1])
		if !c.can {
			return // too few trips a day for that: there is nothing to compare with
		}
		byLift += c.cost
	}
	p.Sums = append(p.Sums, fmt.Sprintf("lift by lift the trips would cost %s %s", byLift, p.Currency))
	if all := p.carry(0, len(p.blocks)); all.can {
		p.Sums = append(p.Sums, fmt.Sprintf("everything at once the trips would cost %s %s, were the ground and the days to allow it", all.cost, p.Currency))
	}
}

// deliver writes the drops along the way that was found and returns what the trips cost.
// The first lot of the way is none: it leads to the day of the first delivery.
func (p *planner) deliver(way []int) (trips measure.Money) {
	for i := 1; i+1 < len(way); i++ {
		from, to := p.nodes[way[i]-1], len(p.blocks)
		if way[i+1] <= len(p.nodes) {
			to = p.nodes[way[i+1]-1].block
		}
		needs := p.needs(from.block, to)
		m := p.carry(from.block, to)
		trips += m.cost
		for _, t := range m.trips {
			p.Drops = append(p.Drops, p.drop(t, m.load, needs, p.cal.day(from.day)))
		}
	}
	return trips
}

// need is pieces of a good, first needed for one lift.
type need struct {
	lift   int
	pieces int64
}

func (j *job) needs(from, to int) [][]need {
	needs := make([][]need, len(j.goods))
	for _, b := range j.blocks[from:to] {
		for _, p := range b.parts {
			needs[p.good] = append(needs[p.good], need{b.lift, p.pieces})
		}
	}
	return needs
}

// drop writes one trip; what it brings serves the lowest lift that still needs it.
func (p *planner) drop(t trip, load []cargo, needs [][]need, date Date) Drop {
	d := Drop{Number: len(p.Drops) + 1, Date: date, Vehicle: p.r.Vehicles[t.vehicle].Key}
	pieces := make([]int64, len(p.goods))
	for i, n := range t.counts {
		pieces[load[i].good] += n * load[i].pieces
		d.Mass += measure.Mass(n * load[i].mass)
		d.Places += int(n * load[i].places)
	}
	serves := make([]bool, len(p.loads))
	for i, n := range pieces {
		if n == 0 {
			continue
		}
		g := &p.goods[i]
		line := DropLine{Product: g.Product, Unit: g.Unit, Quantity: measure.Quantity(n) * g.piece}
		line.Mass = g.mass(line.Quantity)
		if g.piece == g.Pack {
			line.Packs = int(n)
		}
		d.Lines = append(d.Lines, line)
		for queue := &needs[i]; n > 0; {
			head := &(*queue)[0]
			serves[head.lift] = true
			took := min(n, head.pieces)
			head.pieces -= took
			n -= took
			if head.pieces == 0 {
				*queue = (*queue)[1:]
			}
		}
	}
	for l, s := range serves {
		if s {
			d.ForLifts = append(d.ForLifts, p.loads[l].Lift)
		}
	}
	return d
}
