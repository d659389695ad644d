package takeoff

import (
	"fmt"
	"testing"

	"hodman/service/measure"
	"hodman/service/product"
	"hodman/service/rulebook"
	"hodman/service/schedule"
)

// BenchmarkApartmentBlock counts 40 cavity walls on four storeys with 120 openings, ten
// walls a storey round corners of both kinds.
func BenchmarkApartmentBlock(b *testing.B) {
	s := apartmentBlock(b)
	b.ReportAllocs()
	for b.Loop() {
		Compute(s, product.Demo(), rulebook.GB())
	}
}

func apartmentBlock(tb testing.TB) *schedule.Schedule {
	tb.Helper()
	s := &schedule.Schedule{Reference: "Tallow Court", Rulebook: "gb", WallTypes: []schedule.WallType{{Key: "CW",
		Outer: &schedule.Leaf{Product: "BRK-65-FACE"}, Cavity: &schedule.Cavity{Width: 100 * ms, Insulation: 50 * ms}, Inner: &schedule.Leaf{Product: "BLK-100-D"}}}}
	corners := []schedule.End{schedule.ExternalCorner, schedule.InternalCorner, schedule.InternalCorner, schedule.ExternalCorner}
	for storey := range 4 {
		left := schedule.Abutment
		for n := range 10 {
			right := corners[n%4]
			if n == 9 {
				right = schedule.Abutment
			}
			w := schedule.Wall{Ref: fmt.Sprintf("%d-%d", storey, n), Type: "CW", Left: left, Right: right,
				Base: measure.Length(storey) * 2700 * ms, Length: measure.Length(6440+515*n) * ms, Height: 2700 * ms}
			for k, o := range [][4]measure.Length{{870, 900, 1210, 1350}, {2785, 0, 1010, 2100}, {4480, 1125, 635, 1050}} {
				w.Openings = append(w.Openings, schedule.Opening{Ref: fmt.Sprint(k), Left: o[0]*ms + measure.Length(n)*17*ms, Sill: o[1] * ms, Width: o[2] * ms, Height: o[3] * ms})
			}
			s.Walls = append(s.Walls, w)
			left = right
		}
	}
	if faults := s.Check(product.Demo()); len(faults) > 0 {
		tb.Fatal(faults)
	}
	return s
}

// gardenWall is one brick thick in English garden wall bond, so many metres long.
func gardenWall(tb testing.TB, metres measure.Length) *schedule.Schedule {
	tb.Helper()
	s := &schedule.Schedule{Reference: "garden wall", Rulebook: "gb",
		WallTypes: []schedule.WallType{{Key: "GW", Single: &schedule.Leaf{Product: "BRK-65-FACE", Thickness: 215 * ms, Bond: "english_garden_wall"}}},
		Walls:     []schedule.Wall{{Ref: "G", Type: "GW", Length: metres*measure.Metre - 35*ms, Height: 1800 * ms, Left: schedule.StopEnd, Right: schedule.StopEnd}}}
	if faults := s.Check(product.Demo()); len(faults) > 0 {
		tb.Fatal(faults)
	}
	return s
}

// BenchmarkGardenWall is to be read one line beside the other: a hundred times the bricks.
func BenchmarkGardenWall(b *testing.B) {
	for _, metres := range []measure.Length{20, 2000} {
		s := gardenWall(b, metres)
		b.Run(fmt.Sprintf("%dm", metres), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				Compute(s, product.Demo(), rulebook.GB())
			}
		})
	}
}

// TestLongWallCostsWhatAShortOneDoes: 2 km are counted with as much memory as 20 m.
func TestLongWallCostsWhatAShortOneDoes(t *testing.T) {
	allocations := func(s *schedule.Schedule) float64 {
		return testing.AllocsPerRun(20, func() { Compute(s, product.Demo(), rulebook.GB()) })
	}
	short, long := allocations(gardenWall(t, 20)), allocations(gardenWall(t, 2000))
	if long > short+40 { // the list of where its 166 movement joints would do grows a few times
		t.Errorf("%v allocations for 2 km, %v for 20 m", long, short)
	}
}

// TestPlaces: of many joints the first dozen are told, so that a finding stays readable.
func TestPlaces(t *testing.T) {
	var at []measure.Length
	for n := range 20 {
		at = append(at, measure.Length(n+1)*measure.Metre)
	}
	for n, want := range map[int]string{
		1:  "beginning at 1000 mm",
		2:  "beginning at 1000 and 2000 mm",
		12: "beginning at 1000, 2000, 3000, 4000, 5000, 6000, 7000, 8000, 9000, 10000, 11000 and 12000 mm",
		20: "beginning at 1000, 2000, 3000, 4000, 5000, 6000, 7000, 8000, 9000, 10000, 11000, 12000 mm and 8 more",
	} {
		if got := places(at[:n]); got != want {
			t.Errorf("%d: %s", n, got)
		}
	}
}
