package ancillary

import (
	"hodman/service/finding"
	"hodman/service/measure"
	"hodman/service/product"
)

// plate counts the wall plate along the top of the inner (or only) leaf and the straps that hold it down.
func (c *counter) plate(w *Wall) {
	if w.Wall.Plate == nil {
		return
	}
	at, top := w.At+"/plate", w.Wall.Height
	c.timber(w, at)
	p := c.first(at, product.HoldingDownStrap, "holding-down strap", "strap.holding_spacing")
	if p == nil {
		return
	}
	n, sum := c.along(w.Run, "strap.holding_spacing")
	c.add(w, Need{
		Product: p, Unit: each, Part: "holding_down", Net: measure.Each(n), From: top, To: top,
		Sum: sum, Rules: []string{"strap.holding_spacing", "strap.least"},
	})
}

// timber cuts the plate from stock lengths: the one named, or where none is named all
// those of the section that the catalogue has first.
func (c *counter) timber(w *Wall, at string) {
	lap := c.book.Length("plate.lap")
	stock := c.plates(w.Wall.Plate.Product, lap)
	if len(stock) == 0 {
		never := func(*product.Product) bool { return false }
		c.pick(at, product.WallPlate, "wall plate over "+lap.String()+" mm long", "plate.lap", never, nil)
		return
	}
	counts := leastTimber(w.Run, stock, lap)
	n, total, sum := 0, measure.Length(0), ""
	for i, p := range stock {
		if counts[i] == 0 {
			continue
		}
		if n > 0 {
			sum += " + "
		}
		n += counts[i]
		total += measure.Length(counts[i]) * p.Length
		sum += number(counts[i]) + " x " + metres(p.Length)
	}
	sum = "run " + metres(w.Run) + " m: " + sum + " m"
	if n > 1 {
		sum += " less " + number(n-1) + " x " + lap.String() + " mm of half lap = " + metres(total-measure.Length(n-1)*lap) + " m"
	}
	for i, p := range stock {
		if counts[i] > 0 {
			c.add(w, Need{
				Product: p, Unit: each, Part: "plate", Net: measure.Each(counts[i]), From: w.Wall.Height, To: w.Wall.Height,
				Sum: sum, Rules: []string{"plate.lap", "plate.least_piece"},
			})
		}
	}
	c.shortPiece(w.Run, n, lap, at)
}

// plates are the stock lengths to cut from, in catalogue order.
func (c *counter) plates(code string, lap measure.Length) []*product.Product {
	var stock []*product.Product
	for _, p := range c.cat.OfKind(product.WallPlate) {
		named := code == "" || p.Code == code
		alike := len(stock) == 0 || p.Thickness == stock[0].Thickness && p.Height == stock[0].Height
		if named && alike && p.Length > lap {
			stock = append(stock, p)
		}
	}
	return stock
}

// shortPiece says where so many pieces cannot all be as long as they should: cut as
// evenly as may be, they share the run and the laps.
func (c *counter) shortPiece(run measure.Length, n int, lap measure.Length, at string) {
	least := c.book.Length("plate.least_piece")
	if n == 1 || measure.Length(n)*least <= run+measure.Length(n-1)*lap {
		return
	}
	c.tell(finding.Finding{
		Severity: finding.Check, Code: "plate.short_piece", At: at, Rule: "plate.least_piece",
		Text:   "a wall plate of " + run.String() + " mm in " + number(n) + " pieces has one under " + least.String() + " mm",
		Remedy: "see that every piece crosses three trusses, or order a longer length",
	})
}

// centimetre is what timber is cut by: lengths are rounded down to it and the run up.
const centimetre = 10 * measure.Millimetre

// leastTimber is how many of each stock length, lapped end over end, make a run with the
// least length bought, then the fewest pieces, then the lengths that stand first. Every
// length is over the lap. It is exact to a centimetre, the lap being in whole ones.
//
// A piece reaches its length less a lap, which is counted in the greatest length that
// measures them all. The least cost to reach each such step of the run follows from those
// before it. Over E x E steps, E being the longest's, the longest alone serves at first:
// of any E other pieces some add up to a multiple of E, and as many of the longest as it
// takes reach as far with no more laps.
func leastTimber(run measure.Length, stock []*product.Product, lap measure.Length) []int {
	counts := make([]int, len(stock))
	reach := make([]int, len(stock))
	longest := 0
	for i, p := range stock {
		reach[i] = max(1, int((p.Length-lap)/centimetre))
		if reach[i] > reach[longest] {
			longest = i
		}
	}
	grain := 0
	for _, r := range reach {
		grain = divisor(r, grain)
	}
	for i := range reach {
		reach[i] /= grain
	}
	need := max(1, spaces(run-lap, measure.Length(grain)*centimetre))
	if e := reach[longest]; need > e*e {
		counts[longest] = (need - e*e) / e
		need -= counts[longest] * e
	}
	for at, last := need, cheapest(need, stock, reach); at > 0; at -= reach[last[at]] {
		counts[last[at]]++
	}
	return counts
}

// divisor is the greatest that divides both.
func divisor(a, b int) int {
	for b > 0 {
		a, b = b, a%b
	}
	return a
}

// cheapest is, for every step up to need, the last piece of the cheapest way to reach it.
func cheapest(need int, stock []*product.Product, reach []int) []int {
	type way struct {
		length measure.Length
		pieces int
	}
	best, last := make([]way, need+1), make([]int, need+1)
	for at := 1; at <= need; at++ {
		for i, p := range stock {
			before := best[max(0, at-reach[i])]
			w := way{before.length + p.Length, before.pieces + 1}
			if i == 0 || w.length < best[at].length || w.length == best[at].length && w.pieces < best[at].pieces {
				best[at], last[at] = w, i
			}
		}
	}
	return last
}
