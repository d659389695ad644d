package ancillary

import (
	"cmp"
	"slices"

	"hodman/service/binpack"
	"hodman/service/measure"
	"hodman/service/product"
)

// pieceCut gathers what is cut out of one product that is sold by the length or the roll.
type pieceCut struct {
	product *product.Product
	pieces  []binpack.Item
	rows    []int // needs that they stand in
}

// cutFrom notes one piece of each length for the need that is added next. One longer than
// a length is of whole ones, joined end to end, and a rest.
func (c *counter) cutFrom(p *product.Product, pieces ...measure.Length) {
	e := c.pieceCut(p)
	e.rows = append(e.rows, len(c.needs))
	for _, l := range pieces {
		if n := measure.FloorDiv(int64(l-1), int64(p.Length)); n > 0 {
			e.pieces = append(e.pieces, binpack.Item{Size: int64(p.Length), Count: int(n)})
			l -= measure.Length(n) * p.Length
		}
		e.pieces = append(e.pieces, binpack.Item{Size: int64(l), Count: 1})
	}
}

func (c *counter) pieceCut(p *product.Product) *pieceCut {
	k := slices.IndexFunc(c.pieceCuts, func(e pieceCut) bool { return e.product == p })
	if k < 0 {
		k = len(c.pieceCuts)
		c.pieceCuts = append(c.pieceCuts, pieceCut{product: p})
	}
	return &c.pieceCuts[k]
}

// cutPieces cuts the pieces of the whole job, product by product, out of the fewest
// lengths. What is over of those lengths stands with the rows as part of what is
// required; of rolls, only where the pieces do not share them to the end.
func (c *counter) cutPieces() {
	for k := range c.pieceCuts {
		e := &c.pieceCuts[k]
		rule := map[product.Kind]string{product.CavityCloser: "closer.lengths", product.CavityTray: "tray.rolls", product.BedReinforcement: "reinforcement.lengths"}[e.product.Kind]
		items := itemsOf(e.pieces)
		packing := binpack.Cut(int64(e.product.Length), 0, items)
		stock := measure.Metres(e.product.Length)
		c.cuttings = append(c.cuttings, listOf(e.product, items, &packing))
		var net measure.Quantity
		for _, row := range e.rows {
			net += c.needs[row].With
		}
		bought := measure.Quantity(packing.Bins) * stock
		why := number(packing.Bins) + " lengths of " + e.product.Length.String() + " mm over the job, off-cuts shared"
		if e.product.Kind == product.CavityTray {
			bought -= stock - measure.Quantity(1)
			why = number(packing.Bins) + " rolls over the job, which the pieces do not fill"
		}
		if bought > net {
			c.spread(e.rows, net, bought-net, why, rule)
		}
	}
}

// spread parts what is over among rows by what is in them, rounded so that it adds up.
func (c *counter) spread(rows []int, net, over measure.Quantity, why, rule string) {
	var before measure.Quantity
	share := func(q measure.Quantity) measure.Quantity {
		return measure.Quantity(measure.FloorDiv(int64(over)*int64(q), int64(net)))
	}
	for _, row := range rows {
		n := &c.needs[row]
		after := before + n.With
		n.With += share(after) - share(before)
		n.Sum += "; " + why
		n.Rules = append(n.Rules, rule)
		before = after
	}
}

// itemsOf counts pieces of each length, the longest first.
func itemsOf(pieces []binpack.Item) []binpack.Item {
	slices.SortFunc(pieces, func(a, b binpack.Item) int { return cmp.Compare(b.Size, a.Size) })
	items := pieces[:0]
	for _, p := range pieces {
		if n := len(items); n > 0 && items[n-1].Size == p.Size {
			items[n-1].Count += p.Count
			continue
		}
		items = append(items, p)
	}
	return items
}

// listOf shows a packing out of lengths of one product.
func listOf(p *product.Product, items []binpack.Item, packing *binpack.Packing) CutList {
	stock := measure.Metres(p.Length)
	out := CutList{Of: string(p.Kind), Unit: metre, Bought: measure.Quantity(packing.Bins) * stock,
		Bound: measure.Quantity(packing.LowerBound) * stock, Proven: packing.Optimal, Bars: make([]CutBar, 0, len(packing.Patterns))}
	for _, pattern := range packing.Patterns {
		bar := CutBar{Product: p.Code, Times: pattern.Times}
		for i, n := range pattern.Counts {
			if n > 0 {
				bar.Pieces = append(bar.Pieces, CutPiece{Length: measure.Length(items[i].Size), Count: n})
			}
		}
		out.Bars = append(out.Bars, bar)
	}
	return out
}
