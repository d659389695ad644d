package drop

import (
	"fmt"

	"hodman/service/finding"
	"hodman/service/lift"
	"hodman/service/measure"
)

// impossible finds what no plan can mend: more than can be planned for, a pack that no
// vehicle carries, ground that cannot hold what a lift must have before it starts.
func (j *job) impossible(r *Request, loads []lift.Load, cal *calendar) finding.Faults {
	var f finding.Faults
	all := measure.Mass(0)
	for i := range j.goods {
		g := &j.goods[i]
		if n := len(g.needed); n > 0 {
			if all += g.mass(measure.Quantity(g.pieces(n-1)) * g.piece); all > mostYard {
				f.Add(r.loadsAt(), "too_large", "weighs over "+mostYard.String()+" kg with "+g.Product+"; plan the job in parts")
				return f
			}
		}
	}
	for i := range j.goods {
		j.tooHeavy(&f, &j.goods[i], r, loads)
	}
	for l := range j.spans {
		j.tooMuch(&f, l, loads, cal)
	}
	return f
}

func (j *job) tooHeavy(f *finding.Faults, g *good, r *Request, loads []lift.Load) {
	most := measure.Mass(0)
	for i := range r.Vehicles {
		if v := &r.Vehicles[i]; v.most() > 0 {
			most = max(most, v.Payload)
		}
	}
	each := g.mass(g.piece)
	if each <= most {
		return
	}
	for l := range loads {
		if g.pieces(l) > 0 {
			f.Add("/vehicles", "too_large", fmt.Sprintf("lift %d, product %s: one %s weighs %s kg, %s kg over the largest payload that is available, %s kg; give a larger vehicle",
				loads[l].Lift, g.Product, g.pieceWord(), each, each-most, most))
			return
		}
	}
}

func (g *good) pieceWord() string {
	if g.Loose {
		return "unit"
	}
	return "pack"
}

// tooMuch holds a lift's goods against the ground on the last day that they may come:
// all of them lie there then, with what is left of the lifts before.
func (j *job) tooMuch(f *finding.Faults, l int, loads []lift.Load, cal *calendar) {
	day := j.last(l)
	mass, packs := j.ground(func(i int) int64 { return j.goods[i].pieces(l) }, day)
	where := fmt.Sprintf("lift %d, product %s most of all: on %s", loads[l].Lift, j.heaviest(l), cal.day(day))
	const remedy = "; find more ground, make the lifts lower or smaller, or shorten lead_days"
	if j.yardMass > 0 && mass > j.yardMass {
		f.Add("/yard/max_kg", "too_large", fmt.Sprintf("%s %s kg must lie on the ground, %s kg over the %s kg that it holds%s", where, mass, mass-j.yardMass, j.yardMass, remedy))
	}
	if j.yardPack > 0 && packs > j.yardPack {
		f.Add("/yard/max_packs", "too_large", fmt.Sprintf("%s %d packs must lie on the ground, %d over the %d that it holds%s", where, packs, packs-j.yardPack, j.yardPack, remedy))
	}
}

// heaviest is the product that weighs most of what comes for a lift.
func (j *job) heaviest(l int) string {
	name, most := "none", measure.Mass(-1)
	for i := range j.goods {
		g := &j.goods[i]
		if m := g.mass(measure.Quantity(g.pieces(l)-g.pieces(l-1)) * g.piece); m > most {
			name, most = g.Product, m
		}
	}
	return name
}

// tooFewTrips names the lift that the vehicles of the days before it do not reach, with
// as many lifts before it as make the worst of it.
func (j *job) tooFewTrips(reached int, loads []lift.Load, cal *calendar) finding.Faults {
	l := j.blocks[j.nodes[max(reached, 1)-1].block].lift
	start := j.starts()
	mass, places, limited := j.tripsADay()
	from, over := l, int64(0)
	for c := l; c >= 0 && limited; c-- {
		need, _ := sums(j.cargo(start[c], start[l+1]))
		if short := need - j.daysFor(c, l)*mass; short > over {
			from, over = c, short
		}
	}
	need, decks := sums(j.cargo(start[from], start[l+1]))
	n := j.daysFor(from, l)
	text := fmt.Sprintf("lift %d, product %s most of all: %s kg on %d places for lifts %d to %d must come from %s to %s", loads[l].Lift, j.heaviest(l),
		measure.Mass(need), decks, loads[from].Lift, loads[l].Lift, cal.day(j.last(l)-int(n)+1), cal.day(j.last(l)))
	if limited {
		text += fmt.Sprintf("; the trips available in %s bring at most %s kg on %d places", days(int(n)), measure.Mass(n*mass), n*places)
	}
	if over > 0 {
		text += fmt.Sprintf(", %s kg too little", measure.Mass(over))
	}
	var f finding.Faults
	f.Add("/vehicles", "too_large", text+"; give more trips a day, larger vehicles or more ahead_days")
	return f
}

// daysFor is how many days there are to bring what a run of lifts needs.
func (j *job) daysFor(from, to int) int64 {
	return int64(j.last(to) - max(j.first(from), j.last(from)-mostEarly) + 1)
}

// tripsADay is what all trips of a day bring, where every vehicle has a number of them.
func (j *job) tripsADay() (mass, places int64, limited bool) {
	for i := range j.fleet.vehicles {
		v := &j.fleet.vehicles[i]
		if v.Available == nil {
			return 0, 0, false
		}
		mass += int64(*v.Available) * int64(v.Payload)
		places += int64(*v.Available) * int64(v.Places)
	}
	return mass, places, true
}
