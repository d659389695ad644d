package bond

import (
	"testing"

	"pgregory.net/rapid"

	"hodman/service/measure"
	"hodman/service/schedule"
)

// A panel of 1000 mm between stop ends: n half units of 215 / 2 take n x (215 + j) / 2 - j = 1000,
// j = (2000 - 215 n) / (n - 2): 9.28 for n = 9, 46.7 for 8, under nought for 10. Down to a tenth, 9.2.
func TestPerpendsToSuit(t *testing.T) {
	r := Run{Leaf: brick(), Wall: &schedule.Wall{Length: mm(1000), Height: mm(600), Left: schedule.StopEnd, Right: schedule.StopEnd}}
	list := Perpends(&r, mm(8), mm(12))
	if len(list) != 1 || list[0] != mm(9.2) {
		t.Errorf("%v, want 9.2 only", list)
	}
}

// An opening off the bond between two stop ends: left of it five bricks, 1115 mm, right of
// it six, 1340 mm, but the opening is 20 mm too wide for the bond. Set out as one the right
// pier begins at 2260 with 205 mm of the brick from 2250 in odd courses, and in even ones with
// 92.5 mm of that from 2137.5 and ends with 112.5 mm; set out by itself it is six whole, or five
// and two halves.
func TestBrokenBondUnderAnOpening(t *testing.T) {
	w := &schedule.Wall{Length: mm(3600), Height: mm(1500), Left: schedule.StopEnd, Right: schedule.StopEnd}
	w.Openings = []schedule.Opening{{Left: mm(1115), Sill: 0, Width: mm(1145), Height: mm(1500)}}
	runs := []Run{{Leaf: brick(), Wall: w}}
	given, best := SetOut(runs, false, gb)[0], Best(runs, false, gb, mm(10), mm(10))[0]
	_, cutsGiven := given.Pieces()
	_, cutsBest := best.Pieces()
	// As given: left pier 10 x 0 + 10 x 2, right pier 10 x 1 + 10 x 2. Best: 10 x 0 + 10 x 2 in either.
	if cutsGiven != 50 || cutsBest != 40 || best.Way.Piers == AsOne {
		t.Errorf("cuts as given %d, best %d in %+v; want 50 and 40 with piers set out apart", cutsGiven, cutsBest, best.Way)
	}
}

// TestBestIsTheBest: no way of setting out a single run has fewer cuts, with perpends of its own a
// twentieth fewer; and what the count says is what is laid.
func TestBestIsTheBest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m, w := drawBonded(t), drawWall(t)
		if w.Left.Corner() && w.Right.Corner() {
			w.Right = schedule.StopEnd
		}
		r := Run{Leaf: m, Wall: w}
		least, most := mm(8), mm(12)
		best := Best([]Run{r}, false, gb, least, most)[0]
		pieces, cuts := best.Pieces()
		if c, p := Count(r, gb, &best); c != cuts || p != pieces {
			t.Fatalf("counted %d cut of %d, laid %d of %d", c, p, cuts, pieces)
		}
		for _, way := range append(waysOf(&r, least, most), Way{}) {
			for _, left := range []bool{false, true} {
				c, p := Count(r, gb, &Laying{Way: way, OwnsLeft: left && w.Left.Corner()})
				if worth := way.Perpend == 0 || (cuts-c)*worthAPerpend >= cuts; worth && c < cuts && c+p < cuts+pieces && !w.Left.Corner() && !w.Right.Corner() {
					t.Fatalf("%+v cuts %d of %d, best %+v cuts %d of %d", way, c, p, best.Way, cuts, pieces)
				}
			}
		}
	})
}

// TestBestIsNeverWorse holds for walls round corners, too.
func TestBestIsNeverWorse(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		leaf := drawBonded(t)
		var runs []Run
		for range 4 {
			w := drawWall(t)
			w.Left, w.Right = schedule.ExternalCorner, schedule.ExternalCorner
			runs = append(runs, Run{Leaf: leaf, Wall: w})
		}
		given, best := costOf(SetOut(runs, true, gb)), costOf(Best(runs, true, gb, 8*measure.Millimetre, 12*measure.Millimetre))
		if given.less(best) {
			t.Fatalf("as given %v, best %v", given, best)
		}
	})
}
