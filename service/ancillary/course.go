package ancillary

import (
	"math/bits"
	"slices"

	"hodman/service/finding"
	"hodman/service/measure"
	"hodman/service/product"
	"hodman/service/schedule"
)

// courses lays the horizontal damp-proof course under every leaf, measured through
// openings: a threshold has one too.
func (c *counter) courses(w *Wall) {
	defer c.courseLevels(w)
	if w.DPC == nil {
		return
	}
	if w.Inner == nil {
		c.course(w, "dpc", w.Outer, w.Run)
		return
	}
	c.course(w, "dpc_outer", w.Outer, w.Wall.Length)
	c.course(w, "dpc_inner", w.Inner, w.Run)
}

func (c *counter) course(w *Wall, part string, leaf *product.Product, run measure.Length) {
	p := c.roll(w.At, leaf.Thickness, "dpc.height")
	if p == nil {
		return
	}
	laid, laps := c.lapped(run, p.Length)
	level := *w.DPC - w.Wall.Base
	c.add(w, Need{
		Product: p, Unit: metre, Part: part, Net: measure.Metres(run), With: measure.Metres(laid), From: level, To: level,
		Sum: c.words.Say("run ", measure.Metres(run), " m", laps), Rules: c.rules("dpc.height", "dpc.lap"),
	})
}

// roll picks the narrowest damp-proof course that is wide enough.
func (c *counter) roll(at string, width measure.Length, rule string) *product.Product {
	lap := c.book.Length("dpc.lap")
	return c.pickOf(at, product.DPC, rule,
		func(p *product.Product) bool { return p.Thickness >= width && p.Length > lap },
		func(p *product.Product) measure.Length { return p.Thickness }, "damp-proof course of ", width, " mm or wider")
}

// lapped is a run with a lap for every roll but the first, and the words for it. A roll
// no longer than its lap is not looked at.
func (c *counter) lapped(run, roll measure.Length) (measure.Length, string) {
	lap := c.book.Length("dpc.lap")
	laps := lengthsFor(run, roll, lap) - 1
	if laps == 0 {
		return run, ""
	}
	laid := run + measure.Length(laps)*lap
	return laid, c.words.Say(" + ", laps, " x ", lap, " mm lap = ", measure.Metres(laid), " m")
}

// lengthsFor is how many lengths lapped over each other make a run: one where it is long
// enough, else up((run - lap) / (length - lap)). length is over lap.
func lengthsFor(run, length, lap measure.Length) int {
	if run <= length {
		return 1
	}
	return int(measure.CeilDiv(int64(run-lap), int64(length-lap)))
}

// insulation is boards of the thickness asked for, over the net area.
func (c *counter) insulation(w *Wall) {
	if w.Cavity == nil || w.Cavity.Insulation == 0 {
		return
	}
	c.residual(w.At, w.Cavity)
	thick := w.Cavity.Insulation
	p := c.pickOf(w.At, product.Insulation, "insulation.allowance",
		func(p *product.Product) bool { return p.Thickness == thick && p.Length > 0 && p.Height > 0 },
		unsized, "insulation board of ", thick, " mm")
	if p == nil {
		return
	}
	k := slices.IndexFunc(c.boardCuts, func(e boardCut) bool { return e.product == p })
	if k < 0 {
		k = len(c.boardCuts)
		c.boardCuts = append(c.boardCuts, boardCut{boards: boards{product: p, least: c.book.Length("insulation.least_piece")}})
	}
	e := &c.boardCuts[k]
	before := len(e.cut)
	e.cut = slices.Grow(e.cut, 2*spaces(w.Wall.Highest(), p.Height))
	e.area += w.Net
	e.rows = append(e.rows, boardRow{need: len(c.needs), whole: -e.whole})
	e.lay(w.Wall)
	row := &e.rows[len(e.rows)-1]
	row.whole += e.whole
	pieces := 0
	for _, piece := range e.cut[before:] {
		pieces += piece.count
		row.cut += piece.length.Times(piece.height) * measure.Area(piece.count)
	}
	c.add(w, Need{
		Product: p, Unit: each, Part: "insulation", To: w.Wall.Highest(),
		Sum:   c.words.Say(squareMetres(w.Net), " m2: ", row.whole, " whole and ", pieces, " cut"),
		Rules: c.rules("insulation.laid", "insulation.least_piece"),
	})
}

// boardCut is the boards of the whole job of one product, and the rows they stand in.
type boardCut struct {
	boards
	area measure.Area
	rows []boardRow
}

// boardRow is a wall's share: boards that are whole, and the area of pieces that are cut.
type boardRow struct {
	need, whole int
	cut         measure.Area
}

// cutBoards packs what is cut of the boards over the whole job. A wall's share of the
// boards that are cut is by area, rounded so that the shares add up.
func (c *counter) cutBoards() {
	for k := range c.boardCuts {
		e := &c.boardCuts[k]
		n, bars := e.pack()
		board := e.product.Length.Times(e.product.Height)
		bound := int(measure.CeilDiv(int64(e.area), int64(board)))
		list := CutList{Of: string(product.Insulation), Unit: each, Bought: measure.Each(e.whole + n), Bound: measure.Each(bound),
			Proven: bound == e.whole+n, Bars: bars}
		if e.whole > 0 {
			whole := CutBar{Product: e.product.Code, Times: e.whole, Pieces: []CutPiece{{Length: e.product.Length, Height: e.product.Height}}}
			list.Bars = append([]CutBar{whole}, bars...)
		}
		c.cuttings = append(c.cuttings, list)
		var cut, before measure.Area
		for _, row := range e.rows {
			cut += row.cut
		}
		for _, row := range e.rows {
			share := part(n, before+row.cut, cut) - part(n, before, cut)
			before += row.cut
			need := &c.needs[row.need]
			need.Net = measure.Each(row.whole + share)
			need.With = need.Net
			need.Sum = c.words.Say(need.Sum, " from its share of ", n, ", ", share, "; by area alone the job would take ", bound, ", as laid ", e.whole+n)
		}
	}
}

// part is n x of / all, rounded down; nought where there is nothing.
func part(n int, of, all measure.Area) int {
	if all == 0 {
		return 0
	}
	high, low := bits.Mul64(uint64(n), uint64(of)) // of is part of all, so that what comes out is no more than n
	share, _ := bits.Div64(high, low, uint64(all))
	return int(share)
}

// residual checks the clear cavity in front of partial fill; a full fill has none.
func (c *counter) residual(at string, cavity *schedule.Cavity) {
	least := c.book.Length("insulation.residual")
	clear := cavity.Width - cavity.Insulation
	if clear == 0 || clear >= least {
		return
	}
	c.tell(finding.Finding{
		Severity: finding.Check, Code: "insulation.residual_cavity", At: at, Rule: "insulation.residual",
		Text:   cavity.Insulation.String() + " mm of insulation leaves " + clear.String() + " mm of a cavity of " + cavity.Width.String() + " mm clear, less than " + least.String() + " mm",
		Remedy: "use thinner boards, a wider cavity, or an insulation made to fill the cavity",
	})
}
