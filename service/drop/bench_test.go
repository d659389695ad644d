package drop

import (
	"testing"

	"hodman/service/lift"
	"hodman/service/measure"
	"hodman/service/rulebook"
)

// house is lifts of 2200 bricks, 320 blocks and what goes with them; plots of them are built at once.
func house(lifts, plots int) []lift.Load {
	loads := make([]lift.Load, lifts)
	for l := range loads {
		loads[l] = lift.Load{Lift: l + 1, From: measure.Length(l) * 1350 * measure.Millimetre, To: measure.Length(l+1) * 1350 * measure.Millimetre}
		for i, w := range wares() {
			line := w.line
			line.Required = measure.Each(plots * []int{2200, 320, 40, 3, 30, 180, 20}[i])
			loads[l].Lines = append(loads[l].Lines, line)
		}
	}
	return loads
}

func benchmark(b *testing.B, lifts, plots, available int) {
	lead, ahead, class, bays := 1, 8, 4, 9
	holding := 3 * measure.MoneyUnit / 2
	length, width := 2100*measure.Millimetre, 1300*measure.Millimetre
	q := &Request{LiftLoads: house(lifts, plots), Currency: "GBP", LeadDays: &lead, AheadDays: &ahead, HoldingCost: &holding,
		Programme: Programme{Start: "2027-03-08", Bricklayers: 3},
		Scaffold:  &Scaffold{LoadClass: &class, BayLength: &length, PlatformWidth: &width, Bays: &bays},
		Vehicles:  []Vehicle{vehicle("18 t", 9*measure.Tonne, 95, 10), vehicle("26 t", 14*measure.Tonne, 130, 14), vehicle("7.5 t", 3*measure.Tonne, 60, 5)}}
	if available > 0 {
		for i := range q.Vehicles {
			q.Vehicles[i] = limited(q.Vehicles[i], available)
		}
	}
	if faults := q.Check(); faults != nil {
		b.Fatal(faults)
	}
	var p Plan
	for b.Loop() {
		plan, impossible := Make(q, q.LiftLoads, rulebook.GB())
		if impossible != nil {
			b.Fatal(impossible)
		}
		p = plan
	}
	b.ReportMetric(float64(p.Gap), "gap/million")
	b.ReportMetric(float64(len(p.Drops)), "drops")
}

func BenchmarkHouse(b *testing.B)           { benchmark(b, 5, 1, 0) }
func BenchmarkHouseFewTrips(b *testing.B)   { benchmark(b, 5, 1, 1) }
func BenchmarkTenPlots(b *testing.B)        { benchmark(b, 10, 10, 0) }
func BenchmarkHundredLifts(b *testing.B)    { benchmark(b, 100, 4, 0) }
func BenchmarkHundredFewTrips(b *testing.B) { benchmark(b, 100, 2, 4) }
