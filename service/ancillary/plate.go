package ancillary

import (
	"slices"

	"hodman/service/finding"
	"hodman/service/measure"
	"hodman/service/product"
)

// plateCut is the wall plates of walls that are cut from the same lengths.
type plateCut struct {
	stock   []*product.Product
	walls   []*Wall
	cutting Cutting
}

// cutPlates cuts the plates of the whole job, so that what one run leaves serves
// another. A wall names the length that it is cut from, or is cut from all those of the
// section that the catalogue has first.
func (c *counter) cutPlates(walls []Wall) {
	lap := c.book.Length("plate.lap")
	for i := range walls {
		w := &walls[i]
		if w.Wall.Plate == nil {
			continue
		}
		stock := c.plates(w.Wall.Plate.Product, lap)
		k := slices.IndexFunc(c.plateCuts, func(p plateCut) bool { return slices.Equal(p.stock, stock) })
		if k < 0 {
			k = len(c.plateCuts)
			c.plateCuts = append(c.plateCuts, plateCut{stock: stock})
		}
		c.plateCuts[k].walls = append(c.plateCuts[k].walls, w)
	}
	by := Cutter{Lap: lap, Kerf: c.book.Length("stock.kerf"), Least: c.book.Length("plate.least_piece"), Short: c.book.Length("plate.short_piece")}
	for k := range c.plateCuts {
		if p := &c.plateCuts[k]; len(p.stock) > 0 {
			p.cutting = Cut(p.runs(), lengthsOf(p.stock), by)
			c.cuttings = append(c.cuttings, p.list())
		}
	}
}

func (p *plateCut) runs() []measure.Length {
	runs := make([]measure.Length, len(p.walls))
	for i, w := range p.walls {
		runs[i] = w.Run
	}
	return runs
}

func lengthsOf(stock []*product.Product) []measure.Length {
	lengths := make([]measure.Length, len(stock))
	for i, p := range stock {
		lengths[i] = p.Length
	}
	return lengths
}

// list shows how the plates are cut.
func (p *plateCut) list() CutList {
	out := CutList{Of: string(product.WallPlate), Unit: metre, Bought: measure.Metres(p.cutting.Bought), Bound: measure.Metres(p.cutting.Bound),
		Proven: p.cutting.Proven, Bars: make([]CutBar, 0, len(p.cutting.Bars))}
	var pieces []CutPiece
	for _, b := range p.cutting.Bars {
		pieces = pieces[:0]
		for _, piece := range b.Pieces {
			pieces = append(pieces, CutPiece{Wall: p.walls[piece.Run].Ref, Length: piece.Length})
		}
		out.add(CutBar{Product: p.stock[b.Stock].Code, Times: 1, Pieces: pieces})
	}
	return out
}

// plate counts the wall plate along the top of the inner (or only) leaf and the straps that hold it down.
func (c *counter) plate(w *Wall) {
	if w.Wall.Plate == nil {
		return
	}
	c.timber(w, w.At+"/plate")
	c.holdingDown(w)
}

// timber shows what of the job's wall plates a wall brings: the lengths that its pieces
// are the first to be cut from.
func (c *counter) timber(w *Wall, at string) {
	for k := range c.plateCuts {
		p := &c.plateCuts[k]
		run := slices.Index(p.walls, w)
		switch {
		case run < 0:
			continue
		case len(p.stock) == 0:
			never := func(*product.Product) bool { return false }
			c.pick(at, product.WallPlate, "wall plate over "+c.book.Length("plate.lap").String()+" mm long", "plate.lap", never, nil)
			return
		}
		counts := make([]int, len(p.stock))
		from := "" // where a piece comes out of another wall's length
		for _, b := range p.cutting.Bars {
			first := b.Pieces[0].Run
			if first == run {
				counts[b.Stock]++
				continue
			}
			for _, piece := range b.Pieces {
				if piece.Run == run {
					from += "; " + metres(piece.Length) + " m out of what wall " + p.walls[first].Ref + " leaves"
				}
			}
		}
		c.plateRows(w, p, run, counts, from)
		c.shortPiece(w, p.cutting.Joined[run], at)
	}
}

func (c *counter) plateRows(w *Wall, p *plateCut, run int, counts []int, from string) {
	lap := c.book.Length("plate.lap")
	pieces := p.cutting.Pieces[run]
	c.words.Add("run ", measure.Metres(w.Run), " m")
	if n := len(pieces) - 1; n > 0 {
		c.words.Add(" + ", n, " x ", lap, " mm of half lap = ", measure.Metres(w.Run+measure.Length(n)*lap), " m")
	}
	c.words.Add(", laid of ")
	for i, l := range pieces {
		if i > 0 {
			c.words.Add(" + ")
		}
		c.words.Add(measure.Metres(l))
	}
	sum := c.words.Say(" m", from)
	need := Need{Unit: each, Part: "plate", From: w.Wall.Height, To: w.Wall.Height, Sum: sum,
		Rules: []string{"plate.lap", "plate.least_piece", "stock.kerf"}}
	need.Product = p.stock[0]
	bought := false
	for i, stock := range p.stock {
		if counts[i] > 0 {
			bought = true
			need.Product, need.Net = stock, measure.Each(counts[i])
			c.add(w, need)
		}
	}
	if !bought { // all of it is off-cuts: the row says whose
		need.Product = p.stock[p.barOf(run)]
		c.add(w, need)
	}
}

// barOf is the stock length that the first piece of a run comes out of.
func (p *plateCut) barOf(run int) int {
	of := func(piece Piece) bool { return piece.Run == run }
	k := slices.IndexFunc(p.cutting.Bars, func(b Bar) bool { return slices.ContainsFunc(b.Pieces, of) })
	return p.cutting.Bars[k].Stock
}

// plates are the stock lengths to cut from, in catalogue order.
func (c *counter) plates(code string, lap measure.Length) []*product.Product {
	var stock []*product.Product
	for _, p := range c.cat.OfKind(product.WallPlate) {
		named := code == "" || p.Code == code
		alike := len(stock) == 0 || p.Thickness == stock[0].Thickness && p.Height == stock[0].Height
		if named && alike && p.Length > lap+measure.Millimetre {
			stock = append(stock, p)
		}
	}
	return stock
}

// shortPiece says where a run in pieces has one shorter than it should.
func (c *counter) shortPiece(w *Wall, kept measure.Length, at string) {
	least := c.book.Length("plate.least_piece")
	if kept == 0 || kept >= least {
		return
	}
	c.tell(finding.Finding{
		Severity: finding.Check, Code: "plate.short_piece", At: at, Rule: "plate.least_piece",
		Text:   "a wall plate of " + w.Run.String() + " mm cannot be cut from the lengths sold without a piece under " + least.String() + " mm",
		Remedy: "see that every piece crosses three trusses, or order a longer length",
	})
}
