package bond

import (
	"testing"

	"hodman/service/measure"
	"hodman/service/schedule"
)

// better is a way that leaves fewer cut pieces than a laying and takes no more pieces for it
// than it saves cuts, out of all that can be done: every perpend from 8 to 12 mm by the
// tenth, from either end, started with a whole or a half, and with each pier by itself; but for
// those in which courses stop short of an edge that they do not as given.
func better(r *Run, best *Laying) (by Way, cuts int, found bool) {
	given := r.shy(Way{})
	pieces, least := best.Pieces()
	for j := mm(8); j <= mm(12); j += tenth {
		for k := range 6 {
			way := Way{Perpend: j, FromRight: k&1 == 1, Half: k&2 == 2}
			if k >= 4 {
				way.FromRight, way.Half, way.Piers = false, false, Piers(k-3)
			}
			if way.Piers != AsOne && len(r.Wall.Openings) == 0 || r.shy(way)&^given != 0 {
				continue
			}
			if c, p := Count(*r, gb, &Laying{Way: way}); c < least && c+p < least+pieces {
				return way, c, true
			}
		}
	}
	return Way{}, 0, false
}

// TestSmallPanelsAtTheirBest tries panels of every 5 mm from one brick to seven: nothing that
// can be done leaves fewer cut pieces than the best way does.
func TestSmallPanelsAtTheirBest(t *testing.T) {
	for length := mm(230); length <= mm(1600); length += mm(5) {
		r := Run{Leaf: brick(), Wall: smallWall(length)}
		best := Best([]Run{r}, false, gb, mm(8), mm(12))[0]
		if way, cuts, found := better(&r, &best); found {
			_, got := best.Pieces()
			t.Errorf("%s mm: %d cuts by %+v, and %d by %+v", length, got, best.Way, cuts, way)
		}
	}
}

// TestSmallWallsAtTheirBest tries walls of every 15 mm with an opening at every 10. Out of
// perpends only those that suit a size exactly are tried, and some other can suit two sizes
// nearly: in 2 walls of 100 at most, and by 2 cut pieces at most, as these walls show.
func TestSmallWallsAtTheirBest(t *testing.T) {
	walls, beaten := 0, 0
	for length := mm(1340); length <= mm(1600); length += mm(15) {
		for left := mm(300); left <= mm(600); left += mm(10) {
			w := smallWall(length)
			w.Openings = []schedule.Opening{{Left: left, Sill: mm(75), Width: mm(460), Height: mm(150)}}
			r := Run{Leaf: brick(), Wall: w}
			best := Best([]Run{r}, false, gb, mm(8), mm(12))[0]
			walls++
			if way, cuts, found := better(&r, &best); found {
				beaten++
				if _, got := best.Pieces(); got-cuts > 2 {
					t.Errorf("%s mm, opening at %s: %d cuts by %+v, and %d by %+v", length, left, got, best.Way, cuts, way)
				}
			}
		}
	}
	if walls != 558 || 100*beaten > 2*walls {
		t.Errorf("%d of %d walls can be laid better", beaten, walls)
	}
}

func smallWall(length measure.Length) *schedule.Wall {
	return &schedule.Wall{Length: length, Height: mm(300), Left: schedule.StopEnd, Right: schedule.StopEnd}
}
