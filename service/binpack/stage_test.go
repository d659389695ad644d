package binpack

import (
	"testing"

	"pgregory.net/rapid"
)

// few draws at most nine pieces, so that brute force is quick.
func few(t *rapid.T) (capacity int64, items []Item, sizes []int64) {
	capacity = rapid.Int64Range(5, 60).Draw(t, "capacity")
	for left := rapid.IntRange(1, 9).Draw(t, "pieces"); left > 0; {
		it := Item{Size: rapid.Int64Range(max(1, capacity/7), capacity).Draw(t, "size"), Count: rapid.IntRange(1, left).Draw(t, "count")}
		items = append(items, it)
		left -= it.Count
		for range it.Count {
			sizes = append(sizes, it.Size)
		}
	}
	return capacity, items, sizes
}

// No bound is over what brute force needs, by whatever stage.
func TestBoundsHold(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		capacity, items, sizes := few(t)
		want := brute(capacity, sizes)
		p := newProblem(capacity, 0, items)
		lower := p.firstFit()
		for name, got := range map[string]int{"pieces over a third": lower, "L2": p.l2(), "steps": p.stepped(want + 1), "relaxation": newLinear(p).solve(0, want+1)} {
			if got > want {
				t.Fatalf("%s: bound %d, and %d do", name, got, want)
			}
		}
		most := p.l2At(0)
		for _, size := range p.sizes {
			if 2*size <= capacity {
				most = max(most, p.l2At(size))
			}
		}
		if got := p.l2(); got != most {
			t.Fatalf("L2 in one pass is %d, threshold by threshold %d", got, most)
		}
	})
}

// What is forced and the best of the rest are the best of all.
func TestForcedBinsLoseNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		capacity, items, sizes := few(t)
		p := newProblem(capacity, 0, items)
		var forced plan
		rest := p.reduce(&forced)
		var after []int64
		for i, n := range rest.counts {
			for range n {
				after = append(after, rest.sizes[i])
			}
		}
		if got, want := forced.bins+brute(capacity, after), brute(capacity, sizes); got != want {
			t.Fatalf("%d forced and %d for the rest; %d do for all", forced.bins, got-forced.bins, want)
		}
	})
}

// The quick ways and the relaxation with its search agree.
func TestQuickWaysAgree(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		capacity := rapid.Int64Range(50, 1000).Draw(t, "capacity")
		sizes := rapid.SliceOfNDistinct(rapid.Int64Range(capacity/5, capacity), 1, 14, rapid.ID).Draw(t, "sizes")
		var items []Item
		for _, s := range sizes {
			items = append(items, Item{Size: s, Count: rapid.IntRange(1, 20).Draw(t, "count")})
		}
		quick, slow := Fewest(capacity, 0, items), byRelaxation(capacity, 0, items)
		if quick.LowerBound > slow.Bins || slow.LowerBound > quick.Bins {
			t.Fatalf("%d to %d bins, by the relaxation %d to %d", quick.LowerBound, quick.Bins, slow.LowerBound, slow.Bins)
		}
		if quick.Bins > slow.Bins {
			t.Fatalf("%d bins, by the relaxation alone %d", quick.Bins, slow.Bins)
		}
	})
}

// Tight filling packs every piece once and never takes more bins than first fit.
func TestTight(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		capacity, items, _ := few(t)
		p := newProblem(capacity, 0, items)
		p.firstFit()
		before := p.upper
		p.tight(0)
		if why := covers(capacity, 0, items, Packing{Bins: p.upper, Patterns: p.patterns()}); why != "" || p.upper > before {
			t.Fatalf("%d bins, first fit %d: %s", p.upper, before, why)
		}
	})
}

// A piece with a partner that fills its bin to the brim, one that nothing fits beside,
// and one whose best partner beats any two: 70+30, 95, 60+38 over 20+17 = 37.
func TestForcedByHand(t *testing.T) {
	p := newProblem(100, 0, []Item{{95, 2}, {70, 3}, {30, 2}, {60, 1}, {38, 1}, {20, 1}, {17, 1}})
	var forced plan
	if !p.force(0, append([]int(nil), p.counts...), &forced) || forced.bins != 2 || len(forced.cells(0)) != 1 {
		t.Errorf("95 alone: %+v", forced)
	}
	forced = plan{}
	if !p.force(1, append([]int(nil), p.counts...), &forced) || forced.bins != 2 || forced.cells(0)[1].size != 4 {
		t.Errorf("70 and 30 twice: %+v", forced)
	}
	forced = plan{}
	if !p.force(2, []int{0, 0, 1, 1, 0, 1, 1}, &forced) || forced.bins != 1 || forced.cells(0)[1].size != 3 {
		t.Errorf("60 and 38: %+v", forced)
	}
	// With 20 twice the two come to 40, over 38: nothing is forced.
	if p.force(2, []int{0, 0, 1, 1, 0, 2, 0}, &forced) {
		t.Errorf("60 with 38, though two of 20 fill the bin")
	}
}
