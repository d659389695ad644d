package takeoff

import (
	"fmt"
	"testing"

	"hodman/service/measure"
	"hodman/service/product"
	"hodman/service/rulebook"
	"hodman/service/schedule"
)

// BenchmarkTakeoffHouse counts the rear wing; then the same walls ten and a hundred
// times over, to be read as cost a wall; then the same openings in walls ten times
// as long, to be read beside the first.
func BenchmarkTakeoffHouse(b *testing.B) {
	house := rearWing(b)
	for _, times := range []int{1, 10, 100} {
		s := repeated(house, times)
		b.Run(fmt.Sprintf("walls_x%d", times), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				Compute(s, product.Demo(), rulebook.GB())
			}
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(len(s.Walls)), "ns/wall")
		})
	}
	b.Run("length_x10", func(b *testing.B) {
		b.ReportAllocs()
		s := longer(house, 10)
		for b.Loop() {
			Compute(s, product.Demo(), rulebook.GB())
		}
		b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(len(s.Walls)), "ns/wall")
	})
}

func repeated(s *schedule.Schedule, times int) *schedule.Schedule {
	out := *s
	out.Walls = nil
	for n := range times {
		for _, w := range s.Walls {
			w.Ref = fmt.Sprintf("%s-%d", w.Ref, n)
			out.Walls = append(out.Walls, w)
		}
	}
	return &out
}

func longer(s *schedule.Schedule, times measure.Length) *schedule.Schedule {
	out := *s
	out.Walls = nil
	for _, w := range s.Walls {
		w.Length *= times
		if w.Top != nil {
			top := *w.Top
			top.ApexAt *= times
			w.Top = &top
		}
		out.Walls = append(out.Walls, w)
	}
	return &out
}
