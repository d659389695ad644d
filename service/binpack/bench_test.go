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
