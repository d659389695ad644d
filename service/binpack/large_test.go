package binpack

import (
	"fmt"
	"os"
	"strconv"
	"strings"
	"sync"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// houseCuts reads testdata/house-cuts.txt, whose head says what it is.
func houseCuts(t testing.TB) []instance {
	text, err := os.ReadFile("testdata/house-cuts.txt")
	if err != nil {
		t.Fatal(err)
	}
	var all []instance
	for line := range strings.Lines(string(text)) {
		words := strings.Fields(line)
		switch {
		case words[0] == "#":
		case words[0] == "stock":
			all = append(all, instance{name: words[1], capacity: number(t, words[1]), kerf: number(t, words[3]), want: int(number(t, words[5]))})
		default:
			in := &all[len(all)-1]
			in.items = append(in.items, Item{Size: number(t, words[0]), Count: int(number(t, words[1]))})
		}
	}
	return all
}

// largeLists are lists that no house has. No optimum is known beforehand.
func largeLists(t testing.TB) []instance {
	var all []instance
	for _, times := range []int{10, 100} {
		for _, in := range houseCuts(t) {
			in.name = in.name + " x " + strconv.Itoa(times)
			in.items = append([]Item(nil), in.items...)
			for i := range in.items {
				in.items[i].Count *= times
			}
			all = append(all, in)
		}
	}
	for _, least := range []int64{75_000, 55_000, 40_000, 25_000} {
		in := instance{name: fmt.Sprintf("300 sizes from %d", least), capacity: 215_000, kerf: 4_000}
		for i := range int64(300) {
			in.items = append(in.items, Item{Size: least + i*7_919_111%(215_000-least), Count: 1 + int(i*i%7)})
		}
		all = append(all, in)
	}
	return all
}

func TestHouseCuts(t *testing.T) {
	for _, in := range houseCuts(t) {
		for _, given := range [][]Item{in.items, backwards(in.items)} {
			got := Cut(in.capacity, in.kerf, given)
			if got.Bins != in.want || got.LowerBound != in.want || !got.Optimal {
				t.Errorf("%s: %d, bound %d, optimal %v; want %d, proven", in.name, got.Bins, got.LowerBound, got.Optimal, in.want)
			}
			if why := covers(in.capacity, in.kerf, given, got); why != "" {
				t.Errorf("%s: %s", in.name, why)
			}
		}
	}
}

func backwards(items []Item) []Item {
	out := make([]Item, 0, len(items))
	for i := len(items) - 1; i >= 0; i-- {
		out = append(out, items[i])
	}
	return out
}

// Nobody knows the fewest for these; each is proven here, and in bounded steps.
func TestLargeLists(t *testing.T) {
	for _, in := range largeLists(t) {
		got := Cut(in.capacity, in.kerf, in.items)
		if !got.Optimal || got.LowerBound != got.Bins {
			t.Errorf("%s: %d bins, bound %d, optimal %v", in.name, got.Bins, got.LowerBound, got.Optimal)
		}
		if why := covers(in.capacity, in.kerf, in.items, got); why != "" {
			t.Errorf("%s: %s", in.name, why)
		}
	}
}

// hardLists are small pieces of many sizes, where pairs and volume decide nothing.
func hardLists() []instance {
	var all []instance
	for _, m := range []int64{40, 90, 300} {
		in := instance{name: fmt.Sprintf("%d sizes under half", m), capacity: 219_000}
		for i := range m {
			in.items = append(in.items, Item{Size: 44_000 + (i+1)*7_919_111%65_000, Count: 1 + int(i*i%50)})
		}
		all = append(all, in)
	}
	return all
}

// Where the steps end first, what is said is still true: the pieces are all packed, the
// bound is at least their volume, and the same again is the same.
func TestHardListsEnd(t *testing.T) {
	for _, in := range hardLists() {
		got := Bins(in.capacity, in.items)
		if why := covers(in.capacity, 0, in.items, got); why != "" {
			t.Errorf("%s: %s", in.name, why)
		}
		p := newProblem(in.capacity, 0, in.items)
		if got.LowerBound < p.volume() || got.LowerBound > got.Bins || got.Optimal != (got.Bins == got.LowerBound) {
			t.Errorf("%s: %d bins, bound %d, volume %d, optimal %v", in.name, got.Bins, got.LowerBound, p.volume(), got.Optimal)
		}
		if diff := cmp.Diff(got, Bins(in.capacity, in.items)); diff != "" {
			t.Errorf("%s: packed again otherwise: %s", in.name, diff)
		}
	}
}

// volume is all pieces laid end to end, in bins.
func (p *problem) volume() int {
	var sum int64
	for i, n := range p.counts {
		sum += int64(n) * p.sizes[i]
	}
	return int(ceilDiv(sum, p.capacity))
}

// Packings made at the same time share nothing: each is what it is alone, and stays so
// after the next.
func TestTogether(t *testing.T) {
	lists := append(houseCuts(t), instances(t)...)
	alone := make([]Packing, len(lists))
	for i, in := range lists {
		alone[i] = Cut(in.capacity, in.kerf, in.items)
	}
	var all sync.WaitGroup
	for range 4 {
		all.Go(func() {
			for i, in := range lists {
				if diff := cmp.Diff(alone[i], Cut(in.capacity, in.kerf, in.items)); diff != "" {
					t.Errorf("%s: %s", in.name, diff)
				}
			}
		})
	}
	all.Wait()
}
