package binpack

import "testing"

// A house's cut list by hand: half bats from the ends of odd courses, and what the
// openings leave, in micrometres of a 215 mm brick with a 4 mm kerf.
var house = []Item{{102500, 412}, {162500, 96}, {140000, 54}, {157500, 54}, {71250, 40}, {87500, 36}, {130000, 36}, {187500, 18}, {60000, 18}, {192500, 12}, {95000, 12}, {56000, 64}}

func BenchmarkHalfBats(b *testing.B) {
	items := []Item{{102500, 412}}
	b.ReportAllocs()
	for b.Loop() {
		Cut(215000, 4000, items)
	}
}

func BenchmarkOverHalf(b *testing.B) {
	items := []Item{{162500, 96}, {140000, 54}, {157500, 54}, {187500, 18}}
	b.ReportAllocs()
	for b.Loop() {
		Cut(215000, 4000, items)
	}
}

func BenchmarkHouse(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		Cut(215000, 4000, house)
	}
}

func BenchmarkHouseCounted(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		Fewest(215000, 4000, house)
	}
}

// The rear wing of the demo, bricks and blocks in one: what a takeoff asks for.
func BenchmarkWing(b *testing.B) {
	wing := houseCuts(b)
	for _, way := range []struct {
		name string
		run  func(stock, kerf int64, items []Item) Packing
	}{{"Cut", Cut}, {"Fewest", Fewest}, {"relaxation", byRelaxation}} {
		b.Run(way.name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				for _, in := range wing {
					way.run(in.capacity, in.kerf, in.items)
				}
			}
		})
	}
}

// byRelaxation is the exact way without any of the quick ones: the baseline.
func byRelaxation(stock, kerf int64, items []Item) Packing {
	p := newProblem(stock, kerf, items)
	p.firstFit()
	lower := p.solve(1)
	return Packing{Bins: p.upper, LowerBound: lower, Optimal: lower == p.upper}
}

// Lists larger than a house's: the wing's counts ten and a hundred times, and 300
// sizes, over a third of the stock for the most part and down to a tenth.
func BenchmarkLarge(b *testing.B) {
	for _, in := range append(largeLists(b), hardLists()...) {
		b.Run(in.name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				Cut(in.capacity, in.kerf, in.items)
			}
		})
	}
}

func BenchmarkSolved(b *testing.B) {
	for _, in := range instances(b) {
		b.Run(in.name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				Bins(in.capacity, in.items)
			}
		})
	}
}

func BenchmarkManySizes(b *testing.B) {
	var items []Item
	for i := range int64(20_000) {
		items = append(items, Item{Size: 20_000 + i*7919%195_000, Count: 3})
	}
	b.ReportAllocs()
	for b.Loop() {
		Cut(215_000, 4_000, items)
	}
}
