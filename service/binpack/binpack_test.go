package binpack

import (
	"slices"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// Solved instances from textbooks (Chvatal, Linear Programming, ch. 13; Martello and Toth,
// Knapsack Problems, ch. 8, from memory) and the OR-Library (u120_00 of binpack1); their
// optima were computed twice more by solvers unrelated to this one.
// The random ones were drawn here and solved over all their full patterns by GLPK 5.0
// and CBC 2.10. "size:count" or plain sizes.
const solved = `
boards 17 ft    17  want 19    3:25 5:20 9:15
boards 20 ft    20  want 54    3:50 4:25 8:15 10:70
boards 25 ft    25  want 2167  7:5000 9:1200 11:300
Chvatal ch. 13  100 want 453   45:97 36:610 31:395 14:211
MT example      100 want 4     70 60 50 33 33 33 11 7 3
FFD 11/9        100 want 9     51:6 27:6 26:6 23:12
FFD small       100 want 3     51 51 27 27 26 26 23 23 23 23
tiny A          10  want 2     5 4 4 3 2 2
tiny B          12  want 2     6 5 4 3 3 3
tiny C          10  want 3     6 1 4 6 1 3 3 5 1
halves          100 want 7     51:7
thirds          99  want 5     34:9
random 1  219 want 36  126:3 104:17 89:14 71:30 67:3 62:19 40:2 33:14 30:2 27:7
random 2  219 want 115  106:19 104:20 101:35 99:36 97:15 95:36 83:10 80:8 79:9 73:26 57:27 54:4 50:3 46:37
random 3  219 want 17  106:3 105:2 102:5 95:3 91:5 86:4 79:2 72:3 69:1 58:4 56:2 55:4 45:3 44:1 40:3 39:5
random 4  444 want 154  220:23 216:21 193:51 182:39 162:49 159:22 150:36 140:57 118:37 116:53 112:5 102:45
random 5  219 want 83  217:2 214:9 213:5 208:7 191:6 190:8 170:8 164:4 159:3 157:3 141:7 131:5 122:7 115:8 112:1 66:8 60:2 59:3 58:4 48:3
random 6  219 want 29  106:7 105:2 100:6 99:3 97:4 95:7 89:2 85:5 81:5 80:1 78:5 76:2 71:3 68:3 65:3 63:5 59:5 54:5
random 7  444 want 124  218:52 217:14 211:51 187:8 160:82 146:27 145:9 144:25 57:62
random 8  219 want 8  105:2 99:3 95:3 82:1 73:2 62:2 59:1 58:3 53:1 52:2 45:3 39:1
u120_00         150 want 48    42 69 67 57 93 90 38 36 45 42 33 79 27 57 44 84 86 92 46 38 85 33 82 73 49 70 59 23 57 72 74 69 33 42 28 46 30 64 29 74 41 49 55 98 80 32 25 38 82 30 35 39 57 84 62 50 55 27 30 36 20 78 47 26 45 41 58 98 91 96 73 84 37 93 91 43 73 85 81 79 71 80 76 83 41 78 70 23 42 87 43 84 60 55 49 78 73 62 36 44 94 69 32 96 70 84 58 78 25 80 58 66 83 24 98 60 42 43 43 39
`

type instance struct {
	name     string
	capacity int64
	kerf     int64
	items    []Item
	want     int
}

func instances(t testing.TB) []instance {
	var all []instance
	for line := range strings.Lines(strings.TrimSpace(solved)) {
		head, tail, ok := strings.Cut(line, " want ")
		if !ok {
			t.Fatalf("no want in %q", line)
		}
		words := strings.Fields(head)
		last := len(words) - 1
		in := instance{name: strings.Join(words[:last], " "), capacity: number(t, words[last])}
		at := make(map[int64]int)
		for i, word := range strings.Fields(tail) {
			size, count, many := strings.Cut(word, ":")
			n := int64(1)
			if many {
				n = number(t, count)
			}
			w := number(t, size)
			if i == 0 {
				in.want = int(w)
				continue
			}
			if _, ok := at[w]; !ok {
				at[w] = len(in.items)
				in.items = append(in.items, Item{Size: w})
			}
			in.items[at[w]].Count += int(n)
		}
		all = append(all, in)
	}
	return all
}

func number(t testing.TB, s string) int64 {
	n, err := strconv.ParseInt(s, 10, 64)
	if err != nil {
		t.Fatal(err)
	}
	return n
}

func TestSolvedInstances(t *testing.T) {
	for _, in := range instances(t) {
		got := Bins(in.capacity, in.items)
		if got.Bins != in.want || got.LowerBound != in.want || !got.Optimal {
			t.Errorf("%s: %d bins, bound %d, optimal %v; want %d, proven", in.name, got.Bins, got.LowerBound, got.Optimal, in.want)
		}
		if why := covers(in.capacity, 0, in.items, got); why != "" {
			t.Errorf("%s: %s", in.name, why)
		}
		if f := Fewest(in.capacity, 0, in.items); f.Bins != in.want || !f.Optimal || f.Patterns != nil {
			t.Errorf("%s: counted alone %+v", in.name, f)
		}
	}
}

// First fit decreasing on the same instances: what it alone would come to.
func TestFirstFit(t *testing.T) {
	want := map[string]int{"boards 17 ft": 19, "boards 20 ft": 55, "boards 25 ft": 2217, "Chvatal ch. 13": 485, "MT example": 4,
		"FFD 11/9": 11, "FFD small": 4, "tiny A": 3, "tiny B": 3, "tiny C": 3, "halves": 7, "thirds": 5, "u120_00": 49}
	for _, in := range instances(t) {
		p := newProblem(in.capacity, 0, in.items)
		p.firstFit()
		if most, ok := want[in.name]; ok && p.upper != most {
			t.Errorf("%s: first fit decreasing takes %d, want %d", in.name, p.upper, most)
		}
	}
}

// L2 of the same table.
func TestL2(t *testing.T) {
	want := map[string]int{"MT example": 4, "FFD 11/9": 9, "FFD small": 3, "tiny A": 2, "tiny B": 2, "tiny C": 3, "halves": 7, "thirds": 4, "u120_00": 48}
	for _, in := range instances(t) {
		p := newProblem(in.capacity, 0, in.items)
		if least, ok := want[in.name]; ok && p.l2() != least {
			t.Errorf("%s: L2 is %d, want %d", in.name, p.l2(), least)
		}
	}
}

func TestCutWithKerf(t *testing.T) {
	const mm = 1000
	for _, c := range []struct {
		name        string
		stock, kerf int64
		items       []Item
		want        int
	}{
		{"nothing", 215 * mm, 4 * mm, nil, 0},
		{"count of nought", 215 * mm, 4 * mm, []Item{{100 * mm, 0}}, 0},
		{"two half bats and the kerf, 102.5 + 4 + 102.5 = 209", 215 * mm, 4 * mm, []Item{{102500, 4}}, 2},
		{"exactly full, 105.5 + 4 + 105.5 = 215", 215 * mm, 4 * mm, []Item{{105500, 2}}, 1},
		{"a tenth over, 105.6 + 4 + 105.5 = 215.1", 215 * mm, 4 * mm, []Item{{105600, 1}, {105500, 1}}, 2},
		{"the whole unit, no cut and no kerf", 215 * mm, 4 * mm, []Item{{215 * mm, 3}}, 3},
		{"four 50s and three kerfs, 200 + 12 = 212", 215 * mm, 4 * mm, []Item{{50 * mm, 4}}, 1},
		{"a 140 and a 71, 140 + 4 + 71 = 215", 215 * mm, 4 * mm, []Item{{140 * mm, 5}, {71 * mm, 5}}, 5},
		{"a 140 and a 72 do not share, 72s pair: 5 + 3", 215 * mm, 4 * mm, []Item{{140 * mm, 5}, {72 * mm, 5}}, 8},
	} {
		got := Cut(c.stock, c.kerf, c.items)
		if got.Bins != c.want || !got.Optimal {
			t.Errorf("%s: %d, optimal %v; want %d", c.name, got.Bins, got.Optimal, c.want)
		}
		if why := covers(c.stock, c.kerf, c.items, got); why != "" {
			t.Errorf("%s: %s", c.name, why)
		}
	}
}

func TestPanics(t *testing.T) {
	for name, call := range map[string]func(){
		"longer than stock": func() { Cut(10, 0, []Item{{11, 1}}) },
		"no size":           func() { Cut(10, 0, []Item{{0, 1}}) },
		"count under 0":     func() { Cut(10, 0, []Item{{5, -1}}) },
		"kerf under 0":      func() { Cut(10, -1, []Item{{5, 1}}) },
		"over all":          func() { Cut(MaxCapacity, 0, slices.Repeat([]Item{{MaxCapacity, MaxCount}}, 20)) },
		"over capacity":     func() { Cut(MaxCapacity, 1, []Item{{5, 1}}) },
	} {
		func() {
			defer func() {
				if recover() == nil {
					t.Errorf("%s: no panic", name)
				}
			}()
			call()
		}()
	}
}

// covers says what is wrong with a packing: a pattern too long, or demand not met exactly.
func covers(stock, kerf int64, items []Item, p Packing) string {
	bins := 0
	packed := make([]int, len(items))
	for _, pattern := range p.Patterns {
		long := -kerf
		for i, n := range pattern.Counts {
			long += int64(n) * (items[i].Size + kerf)
			packed[i] += n * pattern.Times
		}
		if long > stock || pattern.Times < 1 {
			return "a pattern does not fit: " + strconv.FormatInt(long, 10)
		}
		bins += pattern.Times
	}
	for i, n := range packed {
		if n != items[i].Count {
			return "item " + strconv.Itoa(i) + " is packed " + strconv.Itoa(n) + " times"
		}
	}
	if bins != p.Bins {
		return "patterns come to " + strconv.Itoa(bins)
	}
	return ""
}

// brute tries every bin for every piece, with no bound but the best so far.
func brute(capacity int64, sizes []int64) int {
	best := len(sizes)
	var place func(k int, rooms []int64)
	place = func(k int, rooms []int64) {
		if len(rooms) >= best {
			return
		}
		if k == len(sizes) {
			best = len(rooms)
			return
		}
		for i := range rooms {
			if rooms[i] >= sizes[k] {
				rooms[i] -= sizes[k]
				place(k+1, rooms)
				rooms[i] += sizes[k]
			}
		}
		place(k+1, append(rooms, capacity-sizes[k]))
	}
	place(0, nil)
	return best
}

func TestAgainstBruteForce(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		stock := rapid.Int64Range(5, 40).Draw(t, "stock")
		kerf := rapid.Int64Range(0, 3).Draw(t, "kerf")
		sizes := rapid.SliceOfN(rapid.Int64Range(1, stock), 1, 9).Draw(t, "sizes")
		var items []Item
		var longer []int64
		for _, s := range sizes {
			items = append(items, Item{Size: s, Count: 1})
			longer = append(longer, s+kerf)
		}
		got := Cut(stock, kerf, items)
		if want := brute(stock+kerf, longer); got.Bins != want || got.LowerBound != want || !got.Optimal {
			t.Fatalf("%d bins, bound %d, optimal %v; want %d", got.Bins, got.LowerBound, got.Optimal, want)
		}
		if why := covers(stock, kerf, items, got); why != "" {
			t.Fatal(why)
		}
	})
}

func TestProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		capacity := rapid.Int64Range(20, 500).Draw(t, "capacity")
		sizes := rapid.SliceOfNDistinct(rapid.Int64Range(max(1, capacity/8), capacity), 1, 12, rapid.ID).Draw(t, "sizes")
		var items []Item
		var sum int64
		for _, s := range sizes {
			n := rapid.IntRange(0, 400).Draw(t, "count")
			items = append(items, Item{Size: s, Count: n})
			sum += int64(n) * s
		}
		got := Bins(capacity, items)
		if why := covers(capacity, 0, items, got); why != "" {
			t.Fatal(why)
		}
		p := newProblem(capacity, 0, items)
		p.firstFit()
		if got.Bins > p.upper {
			t.Fatalf("%d bins, first fit takes %d", got.Bins, p.upper)
		}
		if int64(got.Bins)*capacity < sum || got.LowerBound > got.Bins || got.LowerBound < p.l2() {
			t.Fatalf("%d bins of %d for %d, bound %d, L2 %d", got.Bins, capacity, sum, got.LowerBound, p.l2())
		}
		if got.Optimal != (got.Bins == got.LowerBound) {
			t.Fatalf("optimal %v with %d bins and bound %d", got.Optimal, got.Bins, got.LowerBound)
		}
		if f := Fewest(capacity, 0, items); f.Bins != got.Bins || f.LowerBound != got.LowerBound || f.Patterns != nil {
			t.Fatalf("counted alone %d bins, bound %d; with patterns %d, %d", f.Bins, f.LowerBound, got.Bins, got.LowerBound)
		}
		if !got.Optimal {
			t.Logf("gap: %d bins, bound %d, capacity %d, %v", got.Bins, got.LowerBound, capacity, items)
		}
	})
}

// l2At is L2 at one threshold, as it is written down.
func (p *problem) l2At(a int64) int {
	alone, large := 0, 0
	var largeSum, smallSum int64
	for i, size := range p.sizes {
		switch n := p.counts[i]; {
		case size > p.capacity-a:
			alone += n
		case 2*size > p.capacity:
			large += n
			largeSum += int64(n) * size
		case size >= a:
			smallSum += int64(n) * size
		}
	}
	over := smallSum - (int64(large)*p.capacity - largeSum)
	return alone + large + int(ceilDiv(max(0, over), p.capacity))
}

// Many sizes: the plain count comes to what first fit comes to bin by bin, and costs
// no pattern.
func TestManySizes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(MaxSizes+1, 2*MaxSizes).Draw(t, "sizes")
		step := rapid.Int64Range(1, 700).Draw(t, "step")
		var items []Item
		for i := range n {
			items = append(items, Item{Size: 20_000 + (int64(i)*step*7919)%195_000, Count: 1 + i*i%5})
		}
		got := Cut(215_000, 4_000, items)
		p := newProblem(215_000, 4_000, items)
		p.firstFit()
		if got.Bins != p.upper || got.Patterns != nil {
			t.Fatalf("%d bins, first fit takes %d", got.Bins, p.upper)
		}
		if got.LowerBound > got.Bins || got.LowerBound < p.l2At(0) || got.Optimal != (got.LowerBound == got.Bins) {
			t.Fatalf("%d bins, bound %d, optimal %v", got.Bins, got.LowerBound, got.Optimal)
		}
	})
}
