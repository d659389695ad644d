package bond

import (
	"testing"

	"hodman/service/schedule"
)

// wall10x5 is a half-brick wall of 10 x 5 m with four openings: about 2,650 bricks.
func wall10x5() Run {
	w := &schedule.Wall{Length: mm(10_000), Height: mm(5_000), Left: schedule.StopEnd, Right: schedule.StopEnd}
	for _, at := range [][2]float64{{1000, 900}, {4000, 900}, {1000, 3300}, {4000, 3300}} {
		w.Openings = append(w.Openings, schedule.Opening{Left: mm(at[0]), Sill: mm(at[1]), Width: mm(1810), Height: mm(1200)})
	}
	return Run{Leaf: brick(), Wall: w}
}

// BenchmarkLayWall is like courses laid once; the baseline beside it lays every
// brick of every course of the same wall.
func BenchmarkLayWall(b *testing.B) {
	r := wall10x5()
	b.Run("as_laid", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			SetOut([]Run{r}, false, gb)
		}
	})
	b.Run("brick_by_brick", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			brickByBrick(r, false, false)
		}
	})
}
