package bond

import (
	"testing"

	"hodman/service/measure"
	"hodman/service/product"
	"hodman/service/schedule"
)

var gb = Rules{LeastCut: 250_000, LeastSplit: 25 * measure.Millimetre}

func mm(f float64) measure.Length { return measure.Length(f * 1000) }

func brick() *schedule.Made {
	return made(&product.Product{Kind: product.Brick, Length: mm(215), Thickness: mm(102.5), Height: mm(65)})
}

// made is a leaf one unit thick in stretcher bond.
func made(u *product.Product) *schedule.Made {
	return &schedule.Made{Name: "single", Bed: mm(10), Perpend: mm(10), Bond: "stretcher", HeadersEvery: 4,
		Unit: u, Backing: u, Thickness: u.Thickness}
}

// sum adds up a laying: wholes, cuts by length, splits.
func sum(lays ...Laying) (whole, splits int, cuts map[measure.Length]int) {
	cuts = map[measure.Length]int{}
	for _, l := range lays {
		t := tallyOf(l)
		whole += t.Whole
		splits += t.Splits
		for length, n := range t.Cuts {
			cuts[length] += n
		}
	}
	return whole, splits, cuts
}

func ring(leaf *schedule.Made, height float64, lengths ...float64) []Laying {
	var runs []Run
	for _, length := range lengths {
		runs = append(runs, Run{Leaf: leaf, Wall: &schedule.Wall{Length: mm(length), Height: mm(height),
			Left: schedule.ExternalCorner, Right: schedule.ExternalCorner}})
	}
	return SetOut(runs, true, gb)
}

func TestClosedRingToBrickHasNoCuts(t *testing.T) {
	whole, splits, cuts := sum(ring(brick(), 2400, 5840, 4040, 5840, 4040)...)
	if whole != 2752 || splits != 0 || len(cuts) != 0 {
		t.Errorf("whole %d splits %d cuts %v, want 2752 and none", whole, splits, cuts)
	}
}

func TestClosedRingOffBrick(t *testing.T) {
	whole, splits, cuts := sum(ring(brick(), 2400, 6000, 4000, 6000, 4000)...)
	if whole != 2688 || splits != 0 || len(cuts) != 2 || cuts[mm(150)] != 64 || cuts[mm(175)] != 64 {
		t.Errorf("whole %d splits %d cuts %v, want 2688 whole, 64 of 150, 64 of 175", whole, splits, cuts)
	}
}

func TestFreePanel(t *testing.T) {
	w := &schedule.Wall{Length: mm(1340), Height: mm(600), Left: schedule.StopEnd, Right: schedule.StopEnd}
	whole, _, cuts := sum(SetOut([]Run{{Leaf: brick(), Wall: w}}, false, gb)...)
	if whole != 44 || len(cuts) != 1 || cuts[mm(102.5)] != 8 {
		t.Errorf("whole %d cuts %v, want 44 whole and 8 of 102.5", whole, cuts)
	}
}

// A movement joint on the bond parts a wall into two panels: 1340 + 10 + 1340, each 6
// whole in odd courses and half, 5, half in even ones.
func TestMovementJointPartsTheWall(t *testing.T) {
	w := &schedule.Wall{Length: mm(2690), Height: mm(600), Left: schedule.StopEnd, Right: schedule.StopEnd}
	joint := Gap{From: mm(1340), To: mm(1350)}
	whole, splits, cuts := sum(SetOut([]Run{{Leaf: brick(), Wall: w, Gaps: []Gap{joint}}}, false, gb)...)
	if whole != 88 || splits != 0 || len(cuts) != 1 || cuts[mm(102.5)] != 16 {
		t.Errorf("whole %d, splits %d, cuts %v, want 88 whole and 16 of 102.5", whole, splits, cuts)
	}
}

// A joint of 16 mm is off the bond, and the panel beyond it is set out anew: 1340 + 16 + 1340.
func TestMovementJointStartsTheBondAnew(t *testing.T) {
	w := &schedule.Wall{Length: mm(2696), Height: mm(600), Left: schedule.StopEnd, Right: schedule.StopEnd}
	joint := Gap{From: mm(1340), To: mm(1356), Joint: true}
	whole, splits, cuts := sum(SetOut([]Run{{Leaf: brick(), Wall: w, Gaps: []Gap{joint}}}, false, gb)...)
	if whole != 88 || splits != 0 || len(cuts) != 1 || cuts[mm(102.5)] != 16 {
		t.Errorf("whole %d, splits %d, cuts %v, want 88 whole and 16 of 102.5", whole, splits, cuts)
	}
}

// Toothing: in odd courses the wall gives up 122.5 mm (a leaf's end and two joints) from
// 1115 on, five bricks along; the three-quarters of a brick left of 1240.. is a cut.
func TestGapInOddCourses(t *testing.T) {
	w := &schedule.Wall{Length: mm(2690), Height: mm(150), Left: schedule.StopEnd, Right: schedule.StopEnd}
	tooth := Gap{From: mm(1115), To: mm(1237.5), Odd: true}
	l := SetOut([]Run{{Leaf: brick(), Wall: w, Gaps: []Gap{tooth}}}, false, gb)[0]
	if len(l.Bands) != 2 {
		t.Fatalf("%d bands", len(l.Bands))
	}
	// Odd: 5 whole; 1237.5 lies within the brick from 1125 to 1340: 102.5 of it, then 6 whole.
	// Even: half, 11 whole, half.
	odd, even := tallyOf(Laying{Bands: l.Bands[:1]}), tallyOf(Laying{Bands: l.Bands[1:]})
	if odd.Whole != 11 || odd.Cuts[mm(102.5)] != 1 || even.Whole != 11 || even.Cuts[mm(102.5)] != 2 {
		t.Errorf("odd %+v, even %+v", odd, even)
	}
}

// newLayer lays a run as given.
func newLayer(run Run, rules Rules) *layer {
	l := new(layer)
	l.set(run, rules, Way{})
	return l
}
