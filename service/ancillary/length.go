package ancillary

import (
	"slices"

	"hodman/service/binpack"
	"hodman/service/measure"
	"hodman/service/product"
)

// pieceCut gathers what is cut out of one product that is sold by the length or the roll.
type pieceCut struct {
	product *product.Product
	pieces  []measure.Length
	rows    []int // needs that they stand in
}

// cutFrom notes the pieces of the need that is added next. One longer than a length is of
// whole ones, joined end to end, and a rest.
func (c *counter) cutFrom(p *product.Product, pieces ...measure.Length) {
	k := slices.IndexFunc(c.pieceCuts, func(e pieceCut) bool { return e.product == p })
	if k < 0 {
		k = len(c.pieceCuts)
		c.pieceCuts = append(c.pieceCuts, pieceCut{product: p})
	}
	e := &c.pieceCuts[k]
	e.rows = append(e.rows, len(c.needs))
	for _, l := range pieces {
		for ; l > p.Length; l -= p.Length {
			e.pieces = append(e.pieces, p.Length)
		}
		e.pieces = append(e.pieces, l)
	}
}

// cutPieces cuts the pieces of the whole job, product by product, out of the fewest
// lengths. What is over of those lengths stands with the rows as part of what is
// required; of rolls, only where the pieces do not share them to the end.
func (c *counter) cutPieces() {
	for k := range c.pieceCuts {
		e := &c.pieceCuts[k]
		rule := "closer.lengths"
		if e.product.Kind == product.CavityTray {
			rule = "tray.rolls"
		}
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
func itemsOf(pieces []measure.Length) []binpack.Item {
	slices.SortFunc(pieces, func(a, b measure.Length) int { return int(b - a) })
	items := make([]binpack.Item, 0, 16)
	for _, l := range pieces {
		if n := len(items); n > 0 && items[n-1].Size == int64(l) {
			items[n-1].Count++
			continue
		}
		items = append(items, binpack.Item{Size: int64(l), Count: 1})
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
