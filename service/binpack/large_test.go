package binpack

import (
	"fmt"
	"os"
	"strconv"
	"strings"
	"testing"
	"time"
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

func TestProbeLarge(t *testing.T) {
	for _, in := range largeLists(t) {
		t0 := time.Now()
		got := Cut(in.capacity, in.kerf, in.items)
		d := time.Since(t0)
		fmt.Println(in.name, got.Bins, got.LowerBound, got.Optimal, d, covers(in.capacity, in.kerf, in.items, got))
	}
}
