package ancillary

import (
	"slices"
	"testing"

	"pgregory.net/rapid"

	"hodman/service/measure"
	"hodman/service/product"
	"hodman/service/rulebook"
)

const (
	mm = measure.Millimetre
	m  = measure.Metre
)

// Where a rule is published its source stands beside it; how pieces are then counted is
// common practice, and every count below follows from the sum that is shown.

// Approved Document A Table 5 for 50 to 175; above from memory.
func TestTieLength(t *testing.T) {
	c := &counter{book: rulebook.GB()}
	for cavity, want := range map[measure.Length]measure.Length{
		50: 200, 75: 200, 76: 225, 100: 225, 101: 250, 150: 275, 151: 300, 176: 325, 225: 350, 300: 425,
	} {
		if got := c.tieLength(cavity * mm); got != want*mm {
			t.Errorf("cavity %d: tie %s, want %d", cavity, got, want)
		}
	}
	// 75.5 + 125 = 200.5, up to 225
	if got := c.tieLength(75*mm + 500); got != 225*mm {
		t.Errorf("cavity 75.5: tie %s", got)
	}
}

// Ties up a jamb at 300 mm (NHBC Standards 2020, 6.1.18) and at 225 mm, up(h/300), up(h/225).
func TestSpacesUpAJamb(t *testing.T) {
	for _, c := range []struct {
		height    measure.Length
		want, fit int
	}{
		{600, 2, 3}, {900, 3, 4}, {1050, 4, 5}, {1200, 4, 6}, {1350, 5, 6}, {1500, 5, 7}, {2100, 7, 10}, {2110, 8, 10},
	} {
		if got := spaces(c.height*mm, 300*mm); got != c.want {
			t.Errorf("%d: %d a jamb at 300, want %d", c.height, got, c.want)
		}
		if got := spaces(c.height*mm, 225*mm); got != c.fit {
			t.Errorf("%d: %d a jamb at 225, want %d", c.height, got, c.fit)
		}
	}
}

// Rolls of 30 m with a 100 mm lap (NHBC Standards 2020, 5.1.19), up((L - 0.1)/29.9).
func TestRolls(t *testing.T) {
	for run, want := range map[measure.Length]int{29_000: 1, 30_000: 1, 30_100: 2, 59_900: 2, 60_000: 3, 90_000: 4} {
		if got := lengthsFor(run*mm, 30*m, 100*mm); got != want {
			t.Errorf("run %d: %d rolls, want %d", run, got, want)
		}
	}
}

// Straps at 2.0 m (NHBC Standards, 7.2.8), max(2, up(L/2) + 1).
func TestStraps(t *testing.T) {
	c := &counter{book: rulebook.GB()}
	for run, want := range map[measure.Length]int{500: 2, 2000: 2, 3600: 3, 4000: 3, 4100: 4, 6000: 4, 8000: 5, 9500: 6, 10_000: 6, 12_000: 7} {
		if got := along(run*mm, c.book.Length("strap.lateral_spacing"), c.book.Count("strap.least")); got != want {
			t.Errorf("run %d: %d straps, want %d", run, got, want)
		}
	}
}

// By hand: pieces of wall plate of one stock length with 100 mm half laps.
func TestPlatePieces(t *testing.T) {
	stock := []measure.Length{3000, 3600, 4200, 4800, 5400, 6000}
	for _, c := range []struct {
		run  measure.Length
		want [6]int
	}{
		{4800, [6]int{2, 2, 2, 1, 1, 1}},
		{6000, [6]int{3, 2, 2, 2, 2, 1}},
		{8400, [6]int{3, 3, 3, 2, 2, 2}},
		{9600, [6]int{4, 3, 3, 3, 2, 2}},
		{12_000, [6]int{5, 4, 3, 3, 3, 3}},
	} {
		for i, length := range stock {
			if got := lengthsFor(c.run*mm, length*mm, 100*mm); got != c.want[i] {
				t.Errorf("run %d of %d: %d pieces, want %d", c.run, length, got, c.want[i])
			}
			one := leastTimber(c.run*mm, timbers(length), 100*mm)
			if one[0] != c.want[i] {
				t.Errorf("run %d of %d alone: %d pieces, want %d", c.run, length, one[0], c.want[i])
			}
		}
	}
}

// leastTimber is how many of each length one run is cut from, whatever is short.
func leastTimber(run measure.Length, stock []*product.Product, lap measure.Length) []int {
	counts := make([]int, len(stock))
	for _, b := range Cut([]measure.Length{run}, lengthsOf(stock), Cutter{Lap: lap}).Bars {
		counts[b.Stock]++
	}
	return counts
}

func timbers(lengths ...measure.Length) []*product.Product {
	stock := make([]*product.Product, 0, len(lengths))
	for _, l := range lengths {
		stock = append(stock, &product.Product{Kind: product.WallPlate, Length: l * mm})
	}
	return stock
}

// Mixes by hand from 3.0, 3.6, 4.2, 4.8, 5.4 m with 100 mm laps: least bought, then
// fewest pieces, then those that stand first.
func TestLeastTimber(t *testing.T) {
	for _, c := range []struct {
		run  measure.Length
		want [5]int
		why  string
	}{
		{2250, [5]int{1, 0, 0, 0, 0}, "one 3.0"},
		{5400, [5]int{0, 0, 0, 0, 1}, "one 5.4, no lap"},
		{5500, [5]int{2, 0, 0, 0, 0}, "3.0 + 3.0 - 0.1 = 5.9; nothing under 6.0 reaches"},
		{6525, [5]int{1, 0, 1, 0, 0}, "6.6 bought gives 6.5: 25 short; 7.2 gives 7.1 as 3.0 + 4.2, which stands before 3.6 + 3.6"},
		{8900, [5]int{0, 1, 0, 0, 1}, "3.6 + 5.4 = 9.0 - 0.1, before 4.2 + 4.8; 3 x 3.0 = 9.0 - 0.2 = 8.8 falls short"},
		{12_000, [5]int{1, 0, 1, 0, 1}, "12.6 - 0.2 = 12.4; 12.0 - 0.2 = 11.8 falls short"},
	} {
		got := leastTimber(c.run*mm, timbers(3000, 3600, 4200, 4800, 5400), 100*mm)
		if !slices.Equal(got, c.want[:]) {
			t.Errorf("run %d: %v, want %v: %s", c.run, got, c.want, c.why)
		}
	}
}

// No way of up to so many pieces is better than the one chosen; it reaches. A run that one
// length makes has no joint, whatever two shorter ones cost.
func TestLeastTimberAgainstEveryWay(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var stock []*product.Product
		for _, decimetres := range rapid.SliceOfNDistinct(rapid.Int64Range(20, 90), 1, 4, rapid.ID[int64]).Draw(t, "lengths in dm") {
			stock = append(stock, timbers(measure.Length(100*decimetres))...)
		}
		run := measure.Length(rapid.Int64Range(100, 45_000).Draw(t, "run")) * mm
		lap := 100 * mm
		counts := leastTimber(run, stock, lap)
		n, bought := 0, measure.Length(0)
		for i, k := range counts {
			n += k
			bought += measure.Length(k) * stock[i].Length
		}
		if bought-measure.Length(n-1)*lap < run {
			t.Fatalf("%v does not reach %s", counts, run)
		}
		length, pieces := everyWay(stock, max(run-lap, 1), lap) // at least one piece
		if one := shortest(stock, run); one > 0 {
			length, pieces = one, 1
		}
		if bought != length || n != pieces {
			t.Fatalf("%v buys %s in %d, the best is %s in %d", counts, bought, n, length, pieces)
		}
	})
}

// shortest is the shortest length that makes a run alone, nought where none does.
func shortest(stock []*product.Product, run measure.Length) measure.Length {
	best := measure.Length(0)
	for _, p := range stock {
		if p.Length >= run && (best == 0 || p.Length < best) {
			best = p.Length
		}
	}
	return best
}

// everyWay tries every number of every length.
func everyWay(stock []*product.Product, need, lap measure.Length) (measure.Length, int) {
	if len(stock) == 1 {
		k := max(1, int(measure.CeilDiv(int64(need), int64(stock[0].Length-lap))))
		if need <= 0 {
			k = 0
		}
		return measure.Length(k) * stock[0].Length, k
	}
	best, pieces := measure.Length(1<<62), 0
	for k := 0; ; k++ {
		rest := need - measure.Length(k)*(stock[0].Length-lap)
		length, n := everyWay(stock[1:], rest, lap)
		length += measure.Length(k) * stock[0].Length
		if n += k; length < best || length == best && n < pieces {
			best, pieces = length, n
		}
		if rest <= 0 {
			return best, pieces
		}
	}
}

// Long runs are cut down to a bounded search: 5 km in a moment, and no worse than the
// pieces that must be bought at least.
func TestLeastTimberOfAVeryLongRun(t *testing.T) {
	run, lap := 5000*m, 100*mm
	got := leastTimber(run, timbers(3000, 3600, 4200, 4800, 5400), lap)
	n, bought := 0, measure.Length(0)
	for i, l := range []measure.Length{3000, 3600, 4200, 4800, 5400} {
		n += got[i]
		bought += measure.Length(got[i]) * l * mm
	}
	reach := bought - measure.Length(n-1)*lap
	// 943 x 5.3 = 4997.9 is short of 4999.9, so 944 pieces or more: with their laps they
	// are 4999.9 + 94.4 = 5094.3 at least, in whole 0.6 m 5094.6 = 942 x 5.4 + 4.8 + 3.0.
	if want := 5094_600 * mm; reach < run || bought != want {
		t.Errorf("%v buys %s and reaches %s, want %s", got, bought, reach, want)
	}
}

func TestSlope(t *testing.T) {
	if got := slope(4*m, 3*m); got != 5*m {
		t.Errorf("3, 4: %s", got)
	}
	// 2845, 2400: sqrt(8 094 025 + 5 760 000) = sqrt(13 854 025) = 3722.0995... mm
	if got := slope(2845*mm, 2400*mm); got < 3722*mm || got > 3722*mm+100 {
		t.Errorf("2845, 2400: %s", got)
	}
	if got := slope(5000*m, 50*m); got < 5000*m {
		t.Errorf("5 km: %s", got)
	}
	if got := slope(1, 1); got != 2 { // 1.41, up
		t.Errorf("1, 1: %d", got)
	}
}
