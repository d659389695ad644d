package bond

import (
	"testing"

	"hodman/service/measure"
	"hodman/service/schedule"
)

// TestBondsOfHeadersAndStretchersLapAtUprights: whatever a wall's length, no perpend of a
// course stands over one of the course below by a stop end, where both courses end at one
// place. A queen closer of 46.25 laps by a quarter brick (common practice), so that is the least.
func TestBondsOfHeadersAndStretchersLapAtUprights(t *testing.T) {
	for _, bond := range []string{"header", "english", "flemish", "monk", "flemish_garden_wall"} {
		for ranks := measure.Length(1); ranks <= 3; ranks++ {
			if bond == "header" && ranks == 3 {
				continue // there is none
			}
			for length := mm(1690); length < mm(2590); length += mm(2.5) {
				m := brick()
				m.Bond, m.Thickness = bond, ranks*mm(112.5)-mm(10)
				w := &schedule.Wall{Length: length, Height: mm(150), Left: schedule.StopEnd, Right: schedule.StopEnd}
				lower, upper := perpends(m, w, 1), perpends(m, w, 2)
				for _, x := range lower {
					for _, y := range upper {
						if x-y < mm(46.25) && y-x < mm(46.25) {
							t.Fatalf("%s, %d half bricks, %s mm: joints at %s and %s, one over the other", bond, ranks, length, x, y)
						}
					}
				}
			}
		}
	}
}

// perpends are where the joints of a course begin on the wall's face.
func perpends(m *schedule.Made, w *schedule.Wall, course int) []measure.Length {
	return joints(&Run{Leaf: m, Wall: w}, course)
}

func joints(r *Run, course int) (list []measure.Length) {
	for _, b := range SetOut([]Run{*r}, false, gb)[0].Bands {
		here := b.First <= course && course < b.First+b.Count*b.Step && (course-b.First)%b.Step == 0
		for _, s := range b.Strips {
			for k := range s.Count {
				if end := s.X + measure.Length(k)*s.Pitch + s.Length; here && s.Y == 0 && end < r.Wall.Length {
					list = append(list, end)
				}
			}
		}
	}
	return list
}

// TestEnglishGardenWallLapsAtUprights: the same of courses of headers every third, fourth or fifth, for walls
// that work to half bricks. Where a course of stretchers ends in a header, the headers over it end in a three-quarter.
func TestEnglishGardenWallLapsAtUprights(t *testing.T) {
	for every := 3; every <= 5; every++ {
		for halves := measure.Length(12); halves < 24; halves++ {
			m := brick()
			m.Bond, m.HeadersEvery, m.Thickness = "english_garden_wall", every, mm(215)
			w := &schedule.Wall{Length: halves*mm(112.5) - mm(10), Height: mm(75 * 10), Left: schedule.StopEnd, Right: schedule.StopEnd}
			for course := 1; course < 10; course++ {
				for _, x := range perpends(m, w, course) {
					for _, y := range perpends(m, w, course+1) {
						if x-y < mm(46.25) && y-x < mm(46.25) {
							t.Fatalf("every %d, %s mm, course %d: joints at %s and %s, one over the other", every, w.Length, course, x, y)
						}
					}
				}
			}
		}
	}
}

// TestFaceRunsOnBeforeAPier: a pier of 440 x 225 behind a wall of one brick in English bond, on the bond's own grid
// of 225. No perpend of the face stands over one of the course below, at the pier or beside it.
func TestFaceRunsOnBeforeAPier(t *testing.T) {
	m := brick()
	m.Bond, m.Thickness = "english", mm(215)
	w := &schedule.Wall{Length: mm(4490), Height: mm(300), Left: schedule.StopEnd, Right: schedule.StopEnd}
	for _, at := range []measure.Length{0, mm(1800), mm(4050)} {
		r := Run{Leaf: m, Wall: w, Piers: []schedule.MadePier{{From: at, To: at + mm(440), Bonded: true, Ranks: 2, Halves: 4, Head: mm(300)}}}
		r.Gaps = PierGaps(&r)
		for course := 1; course < 4; course++ {
			for _, x := range joints(&r, course) {
				for _, y := range joints(&r, course+1) {
					if x-y < mm(46.25) && y-x < mm(46.25) {
						t.Fatalf("pier at %s, course %d: joints at %s and %s, one over the other", at, course, x, y)
					}
				}
			}
		}
	}
}
