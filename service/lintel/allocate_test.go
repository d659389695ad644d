package lintel

import (
	"fmt"
	"slices"
	"strconv"
	"testing"

	"pgregory.net/rapid"

	"hodman/service/measure"
	"hodman/service/product"
	"hodman/service/rulebook"
	"hodman/service/schedule"
)

func TestAllocationLooksAtAll(t *testing.T) {
	cat := catalogue(t, "L2100 steel_cavity 2100 price 60 cavity 90 105", "L2400 steel_cavity 2400 price 40 cavity 90 105")
	narrow := Opening{Clear: 1800 * measure.Millimetre, Seat: cavitySeat, RoomLeft: measure.Metre, RoomRight: measure.Metre}
	wide := narrow
	wide.Clear = 2100 * measure.Millimetre
	one := []schedule.Stock{{Product: "L2100", Quantity: 1}, {Product: "L2400", Quantity: 1}}
	// Alone, the narrow one takes the cheaper 2400; with the wide one, which only 2400 serves, it must not.
	for name, c := range map[string]struct {
		openings []Opening
		want     string
	}{
		"alone":    {[]Opening{narrow}, "[L2400]"},
		"together": {[]Opening{narrow, wide}, "[L2100 L2400]"},
	} {
		picks, _ := Select(c.openings, cat, rulebook.GB(), one, true)
		var got []string
		for _, p := range picks {
			got = append(got, p.Product)
		}
		if fmt.Sprint(got) != c.want {
			t.Errorf("%s: %v, want %s", name, got, c.want)
		}
	}
}

// The allocation by brute force: every lintel or none for every opening in turn.
func bruteAllocation(openings []Opening, cat *product.Catalogue, left []int) (best [3]int64) {
	best[0] = int64(len(openings)) + 1
	b := bearingOf(rulebook.GB())
	lintels := cat.OfKind(product.Lintel)
	var try func(k int, now [3]int64)
	try = func(k int, now [3]int64) {
		if k == len(openings) {
			if slices.Compare(now[:], best[:]) < 0 {
				best = now
			}
			return
		}
		o := &openings[k]
		try(k+1, [3]int64{now[0] + 1, now[1], now[2]})
		for i, p := range lintels {
			over := p.Length - o.Clear - 2*b.of(o, p)
			if left[i] > 0 && o.Seat.suits(p) && over >= 0 {
				left[i]--
				try(k+1, [3]int64{now[0], now[1] + int64(p.Price), now[2] + int64(over)})
				left[i]++
			}
		}
	}
	try(0, [3]int64{})
	return best
}

func TestAllocationIsExact(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		var lines []string
		var stock []schedule.Stock
		var left []int
		for i := range rapid.IntRange(1, 4).Draw(r, "lintels") {
			code := "L" + strconv.Itoa(i)
			n := rapid.IntRange(0, 2).Draw(r, "stock")
			lines = append(lines, fmt.Sprintf("%s %s %d price %d least %d cavity 90 105 thick 100", code, rapid.SampledFrom([]string{"steel_cavity", "concrete_single"}).Draw(r, "family"),
				rapid.IntRange(8, 16).Draw(r, "length")*150, rapid.IntRange(1, 3).Draw(r, "price"), rapid.SampledFrom([]int{0, 200}).Draw(r, "least")))
			stock, left = append(stock, schedule.Stock{Product: code, Quantity: n}), append(left, n)
		}
		cat := catalogue(t, lines...)
		openings := make([]Opening, rapid.IntRange(1, 6).Draw(r, "openings"))
		for i := range openings {
			openings[i] = Opening{Clear: measure.Length(rapid.IntRange(6, 14).Draw(r, "clear")) * 150 * measure.Millimetre, Seat: rapid.SampledFrom([]Seat{cavitySeat, leafSeat}).Draw(r, "seat"),
				Asked: rapid.SampledFrom([]measure.Length{0, 100, 225}).Draw(r, "asked") * measure.Millimetre, RoomLeft: measure.Metre, RoomRight: measure.Metre}
		}
		picks, _ := Select(openings, cat, rulebook.GB(), stock, true)
		var got [3]int64
		used := make(map[string]int)
		for i, p := range picks {
			if p.Status != InStock {
				got[0]++
				continue
			}
			used[p.Product]++
			got[1] += int64(cat.Find(p.Product).Price)
			got[2] += int64(p.Length - p.Needed)
			if p.Needed != openings[i].Clear+2*p.LeastBearing || p.BearingLeft < p.LeastBearing || p.BearingRight < p.LeastBearing {
				r.Fatalf("pick %+v bears too little", p)
			}
		}
		for i, line := range stock {
			if used[line.Product] > left[i] {
				r.Fatalf("%s is given %d times out of %d", line.Product, used[line.Product], left[i])
			}
		}
		if want := bruteAllocation(openings, cat, left); got != want {
			r.Fatalf("without, price, surplus: %v, best %v", got, want)
		}
	})
}
