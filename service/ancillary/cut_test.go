package ancillary

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"hodman/service/measure"
)

func lengths(ls ...measure.Length) []measure.Length {
	for i := range ls {
		ls[i] *= mm
	}
	return ls
}

// shown prints bars, one a line: stock, then run and length of every piece.
func shown(stock []measure.Length, c *Cutting) string {
	var lines []string
	for _, b := range c.Bars {
		line := stock[b.Stock].String() + ":"
		for _, p := range b.Pieces {
			line += fmt.Sprintf(" %d/%s", p.Run, p.Length)
		}
		lines = append(lines, line)
	}
	slices.Sort(lines)
	return strings.Join(lines, "\n")
}

// By hand, lap 100 and kerf 4, pieces in a run 3 m at least. 2.25 and 2.925 m: 5.179 with
// the saw cut, out of one 5.4 where two lengths would be 6.0. A run of 6.5 m alone: 6.6
// with its lap, out of 3.0 + 3.6. Of 7.0 m with 1.0: 7.1 + 1.0 + a saw cut = 8.104, and 8.4 = 3.0 + 5.4
// takes 3.0 whole, 4.1 and 1.0 of the other.
func TestCutRunsTogether(t *testing.T) {
	stock := lengths(3000, 3600, 4200, 4800, 5400)
	by := Cutter{Lap: 100 * mm, Kerf: 4 * mm, Least: 3000 * mm, Short: 1800 * mm}
	for _, c := range []struct {
		runs   []measure.Length
		bought measure.Length
		want   string
	}{
		{lengths(2250, 2925), 5400, "5400: 1/2925 0/2250"},
		{lengths(6500), 6600, "3000: 0/3000\n3600: 0/3600"},
		{lengths(7000, 1000), 8400, "3000: 0/3000\n5400: 0/4100 1/1000"},
		// 6322 + 100 + 3600 + 2250 = 12.272, up to 12.6: 3.0 of the first comes out of one 5.4 with
		// 2.25: 5.254; the rest of it, 3.422, out of 3.6.
		{lengths(6322, 3600, 2250), 12_600, "3600: 0/3422\n3600: 1/3600\n5400: 0/3000 2/2250"},
		{lengths(2698, 2698), 5400, "5400: 0/2698 1/2698"}, // 5396 + 4 = 5400
		{lengths(2699, 2698), 6000, "3000: 0/2699\n3000: 1/2698"},
	} {
		got := Cut(c.runs, stock, by)
		if s := shown(stock, &got); s != c.want || got.Bought != c.bought*mm || !got.Proven {
			t.Errorf("%v: %s bought, %s proven %v\n%s", c.runs, got.Bought, got.Bound, got.Proven, s)
		}
	}
}

// A single stock length of 5.4 m for 6.525 m: whole lengths would leave 1.225, under the
// 3 m (NHBC Standards 2020, 7.2.6); so both are cut: 3.0 and 3.625, which with the lap are 6.525.
func TestCutTrimsTheOtherPiece(t *testing.T) {
	got := Cut(lengths(6525), lengths(5400), Cutter{Lap: 100 * mm, Kerf: 4 * mm, Least: 3000 * mm, Short: 1800 * mm})
	if want := lengths(3000, 3625); !slices.Equal(got.Pieces[0], want) || got.Joined[0] != 3000*mm {
		t.Errorf("pieces %v, least %s", got.Pieces[0], got.Joined[0])
	}
}

// Whatever is cut fits: bars hold their pieces and saw cuts, runs are as long as their
// pieces less laps, the bound is not over what is bought and no piece of a joined run
// is shorter than the least it was kept to.
func TestCutFits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var stock []measure.Length
		for _, dm := range rapid.SliceOfNDistinct(rapid.Int64Range(20, 72), 1, 5, rapid.ID[int64]).Draw(t, "dm") {
			stock = append(stock, measure.Length(dm)*100*mm)
		}
		var runs []measure.Length
		for _, l := range rapid.SliceOfN(rapid.Int64Range(1, 30_000), 0, 12).Draw(t, "runs") {
			runs = append(runs, measure.Length(l)*mm)
		}
		by := Cutter{Lap: 100 * mm, Kerf: 4 * mm, Least: 3000 * mm, Short: 1800 * mm}
		got := Cut(runs, stock, by)
		pieces := make([][]measure.Length, len(runs))
		bought := measure.Length(0)
		for _, b := range got.Bars {
			used := -by.Kerf
			for _, p := range b.Pieces {
				used += p.Length + by.Kerf
				pieces[p.Run] = append(pieces[p.Run], p.Length)
			}
			if bought += stock[b.Stock]; used > stock[b.Stock] {
				t.Fatalf("a bar of %s holds %s", stock[b.Stock], used)
			}
		}
		for i, run := range runs {
			sum := measure.Length(0)
			for _, l := range pieces[i] {
				sum += l
			}
			if n := len(pieces[i]) - 1; n < 0 || sum-measure.Length(n)*by.Lap != run || n > 0 && slices.Min(pieces[i]) < got.Joined[i] {
				t.Fatalf("run %s of %v", run, pieces[i])
			}
			slices.Sort(pieces[i])
			if listed := slices.Sorted(slices.Values(got.Pieces[i])); !slices.Equal(listed, pieces[i]) {
				t.Fatalf("run %s is listed as %v, cut as %v", run, listed, pieces[i])
			}
		}
		if bought != got.Bought || got.Bound > got.Bought || got.Proven != (got.Bound == got.Bought) {
			t.Fatalf("bought %s, said %s, bound %s", bought, got.Bought, got.Bound)
		}
	})
}

// fewestByTrying packs pieces into bars of one length by trying every place: what the
// search must come to for short runs out of one stock length.
func fewestByTrying(left []measure.Length, stock, kerf measure.Length, pieces []measure.Length, best int) int {
	if len(left) >= best {
		return best
	}
	if len(pieces) == 0 {
		return len(left)
	}
	for i := range left {
		if left[i] >= pieces[0]+kerf {
			left[i] -= pieces[0] + kerf
			best = fewestByTrying(left, stock, kerf, pieces[1:], best)
			left[i] += pieces[0] + kerf
		}
	}
	return fewestByTrying(append(left, stock-pieces[0]), stock, kerf, pieces[1:], best)
}

func TestCutAgainstTrying(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		runs := lengths()
		for _, l := range rapid.SliceOfN(rapid.Int64Range(300, 4800), 1, 7).Draw(t, "runs") {
			runs = append(runs, measure.Length(l)*mm)
		}
		got := Cut(runs, lengths(4800), Cutter{Lap: 100 * mm, Kerf: 4 * mm})
		want := fewestByTrying(nil, 4800*mm, 4*mm, runs, len(runs)+1)
		if len(got.Bars) != want || !got.Proven {
			t.Fatalf("%d bars proven %v, by trying %d", len(got.Bars), got.Proven, want)
		}
	})
}

// everyCut is the least that is bought where each run is of any number of whole lengths and
// one piece over the lap, by trying every way and then every sharing of the pieces.
func everyCut(runs, stock []measure.Length, by Cutter, cut []measure.Length) measure.Length {
	longest := slices.Max(stock)
	if len(runs) == 0 {
		return everySharing(nil, cut, stock, by)
	}
	if runs[0] <= longest {
		return everyCut(runs[1:], stock, by, append(slices.Clone(cut), runs[0]))
	}
	best := measure.Length(1 << 62)
	var whole func(i int, left, bought measure.Length)
	whole = func(i int, left, bought measure.Length) {
		if left > by.Lap && left <= longest && bought > 0 {
			best = min(best, bought+everyCut(runs[1:], stock, by, append(slices.Clone(cut), left)))
		}
		for k := i; k < len(stock); k++ {
			if rest := left - stock[k] + by.Lap; rest > by.Lap {
				whole(k, rest, bought+stock[k])
			}
		}
	}
	whole(0, runs[0], 0)
	return best
}

func everySharing(bars, cut, stock []measure.Length, by Cutter) measure.Length {
	if len(cut) == 0 {
		sum := measure.Length(0)
		for _, used := range bars {
			least := measure.Length(1 << 60)
			for _, l := range stock {
				if l >= used {
					least = min(least, l)
				}
			}
			sum += least
		}
		return sum
	}
	best := everySharing(append(slices.Clone(bars), cut[0]), cut[1:], stock, by)
	for i := range bars {
		if used := bars[i] + by.Kerf + cut[0]; used <= slices.Max(stock) {
			shared := slices.Clone(bars)
			shared[i] = used
			best = min(best, everySharing(shared, cut[1:], stock, by))
		}
	}
	return best
}

func TestCutAgainstEveryWay(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var stock, runs []measure.Length
		for _, dm := range rapid.SliceOfNDistinct(rapid.Int64Range(24, 60), 1, 3, rapid.ID[int64]).Draw(t, "dm") {
			stock = append(stock, measure.Length(dm)*100*mm)
		}
		for _, l := range rapid.SliceOfN(rapid.Int64Range(100, 13_000), 1, 4).Draw(t, "runs") {
			runs = append(runs, measure.Length(l)*mm)
		}
		by := Cutter{Lap: 100 * mm, Kerf: 4 * mm}
		got, want := Cut(runs, stock, by), everyCut(runs, stock, by, nil)
		joined := slices.Max(runs) > slices.Max(stock) // then a way that cuts more of a run may be better
		if got.Bought > want || got.Bound > want || !joined && (got.Bought != want || !got.Proven) {
			t.Fatalf("%s bought, proven %v; by trying every way %s", got.Bought, got.Proven, want)
		}
	})
}
