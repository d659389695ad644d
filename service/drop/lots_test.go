package drop

import (
	"testing"

	"hodman/service/measure"
)

// lotSize is the textbook problem: a demand, a price for every order and one for what is
// kept from a period to the next.
func lotSize(demand, setup []int64, keep int64) measure.Money {
	_, total, _ := lots(len(demand), func(from, to int, _ measure.Money) (measure.Money, bool) {
		sum, kept := int64(0), int64(0)
		for t := from; t < to; t++ {
			sum += demand[t]
			kept += int64(t-from) * demand[t]
		}
		if sum == 0 {
			return 0, true // nothing is needed: nothing is ordered
		}
		return measure.Money(setup[from] + keep*kept), true
	})
	return total
}

func same(n int, v int64) []int64 {
	all := make([]int64, n)
	for i := range all {
		all[i] = v
	}
	return all
}

func TestTextbookLots(t *testing.T) {
	wagner := []int64{69, 29, 36, 61, 61, 26, 34, 67, 45, 67, 79, 56}
	for _, c := range []struct {
		name          string
		demand, setup []int64
		keep          int64
		want          measure.Money
	}{
		// Wagner and Whitin 1958, their own example and optimum.
		{"Wagner and Whitin", wagner, []int64{85, 102, 102, 101, 98, 114, 105, 86, 119, 110, 98, 114}, 1, 864},
		// Tenths: the same at setup 54, keeping 0.4: 431.6, computed by two other programs.
		{"constant setup", wagner, same(12, 540), 4, 4316},
		// Tenths: a textbook's twelve periods, 501.2 there.
		{"textbook", []int64{10, 62, 12, 130, 154, 129, 88, 52, 124, 160, 238, 41}, same(12, 540), 4, 5012},
		// By hand: demand 1, 1, 2, 2 less 1 in stock; three orders of 4.
		{"nothing at first", []int64{0, 1, 2, 2}, same(4, 4), 2, 12},
		{"nothing at all", []int64{0, 0}, same(2, 4), 2, 0},
	} {
		if got := lotSize(c.demand, c.setup, c.keep); got != c.want {
			t.Errorf("%s: %d, want %d", c.name, got, c.want)
		}
	}
}

// One lift by half days, in packs of 400, at most 12 a vehicle at 95, 0.01 a brick kept;
// the optima, in hundredths, were computed by trying every plan. Stock before a period is -demand so far modulo 400
// and up, so a node is a period and a number of whole packs over that.
func TestPacksUnderAStockBound(t *testing.T) {
	demand := []int64{450, 500, 500, 380, 520, 500, 500, 240}
	const pack, most, width = 400, 12, 14
	stock := func(t int, k int64) int64 {
		sum := int64(0)
		for _, d := range demand[:t] {
			sum -= d
		}
		return measure.CeilDiv(-sum, pack)*pack + sum + k*pack
	}
	for _, c := range []struct{ bound, safety, want int64 }{
		{1200, 0, 49880}, {1200, 100, 50280}, {1600, 0, 32080}, {2000, 0, 24580}, {2000, 100, 24580}, {4000, 0, 21480}, {4000, 100, 21480},
	} {
		last := len(demand) * width
		_, got, _ := lots(last+1, func(from, to int, _ measure.Money) (measure.Money, bool) {
			if to > last { // whatever is left in the end
				return 0, from >= last
			}
			t := from / width
			if to/width != t+1 || t == 0 && from > 0 {
				return 0, false
			}
			now, end := stock(t, int64(from%width)), stock(t+1, int64(to%width))
			come := end + demand[t] - now
			if come < 0 || come > most*pack || now+come > c.bound || t+1 < len(demand) && end < c.safety {
				return 0, false
			}
			cost := measure.Money(end)
			if come > 0 {
				cost += 9500
			}
			return cost, true
		})
		if got != measure.Money(c.want) {
			t.Errorf("bound %d, safety %d: %d, want %d", c.bound, c.safety, got, c.want)
		}
	}
}

func TestLotsSaysHowFarItGets(t *testing.T) {
	way, _, reached := lots(5, func(from, to int, _ measure.Money) (measure.Money, bool) { return 1, to <= 3 })
	if way != nil || reached != 3 {
		t.Errorf("way %v, reached %d, want none and 3", way, reached)
	}
}
