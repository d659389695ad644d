package ancillary

import (
	"cmp"
	"math/bits"
	"slices"

	"hodman/service/binpack"
	"hodman/service/measure"
	"hodman/service/product"
)

// pieceCut gathers what is cut out of one product that is sold by the length or the roll.
type pieceCut struct {
	product *product.Product
	pieces
	rows []int // needs that they stand in
}

// pieces are whole lengths, which need no packing, and what is shorter by falling length.
type pieces struct {
	whole int
	cut   []binpack.Item
}

// add adds n pieces of one length.
func (p *pieces) add(l measure.Length, n int) {
	k, found := slices.BinarySearchFunc(p.cut, int64(l), func(e binpack.Item, size int64) int { return cmp.Compare(size, e.Size) })
	if found {
		p.cut[k].Count += n
		return
	}
	p.cut = slices.Insert(p.cut, k, binpack.Item{Size: int64(l), Count: n})
}

// cutFrom notes one piece of each length for the need that is added next. One longer than
// a length is of whole ones, joined end to end, and a rest.
func (c *counter) cutFrom(p *product.Product, pieces ...measure.Length) {
	e := c.pieceCut(p)
	e.rows = append(e.rows, len(c.needs))
	for _, l := range pieces {
		n := int(measure.FloorDiv(int64(l-1), int64(p.Length)))
		e.whole += n
		e.add(l-measure.Length(n)*p.Length, 1)
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
		rule := "closer.lengths"
		switch e.product.Kind {
		case product.CavityTray:
			rule = "tray.rolls"
		case product.BedReinforcement:
			rule = "reinforcement.lengths"
		}
		packing := binpack.Cut(int64(e.product.Length), 0, e.cut)
		packing.Bins, packing.LowerBound = packing.Bins+e.whole, packing.LowerBound+e.whole
		stock := measure.Metres(e.product.Length)
		c.cuttings = append(c.cuttings, listOf(e, &packing))
		var net measure.Quantity
		for _, row := range e.rows {
			net += c.needs[row].With
		}
		bought := measure.Quantity(packing.Bins) * stock
		why := c.words.Say(packing.Bins, " lengths of ", e.product.Length, " mm over the job, off-cuts shared")
		if e.product.Kind == product.CavityTray {
			bought -= stock - measure.Quantity(1)
			why = c.words.Say(packing.Bins, " rolls over the job, which the pieces do not fill")
		}
		if bought > net {
			c.spread(e.rows, net, bought-net, why, rule)
		}
	}
}

// spread parts what is over among rows by what is in them, rounded so that it adds up.
func (c *counter) spread(rows []int, net, over measure.Quantity, why, rule string) {
	var before measure.Quantity
	share := func(q measure.Quantity) measure.Quantity { // over x q / net, rounded down; q is net at most
		high, low := bits.Mul64(uint64(over), uint64(q))
		quotient, _ := bits.Div64(high, low, uint64(net))
		return measure.Quantity(quotient)
	}
	for _, row := range rows {
		n := &c.needs[row]
		after := before + n.With
		n.With += share(after) - share(before)
		n.Sum = c.words.Say(n.Sum, "; ", why)
		n.Rules = append(n.Rules, rule)
		before = after
	}
}

// listOf shows a packing out of lengths of one product.
func listOf(e *pieceCut, packing *binpack.Packing) CutList {
	p := e.product
	stock := measure.Metres(p.Length)
	out := CutList{Of: string(p.Kind), Unit: metre, Bought: measure.Quantity(packing.Bins) * stock,
		Bound: measure.Quantity(packing.LowerBound) * stock, Proven: packing.Optimal, Bars: make([]CutBar, 0, len(packing.Patterns)+1)}
	if e.whole > 0 {
		out.add(CutBar{Product: p.Code, Times: e.whole, Pieces: []CutPiece{{Length: p.Length}}})
	}
	total := 0
	for _, pattern := range packing.Patterns {
		for _, n := range pattern.Counts {
			total += min(n, 1)
		}
	}
	pieces := make([]CutPiece, 0, total)
	for _, pattern := range packing.Patterns {
		from := len(pieces)
		for i, n := range pattern.Counts {
			if n > 0 {
				pieces = append(pieces, CutPiece{Length: measure.Length(e.cut[i].Size), Count: n})
			}
		}
		out.Bars = append(out.Bars, CutBar{Product: p.Code, Times: pattern.Times, Pieces: pieces[from:len(pieces):len(pieces)]})
	}
	return out
}
