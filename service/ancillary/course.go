package ancillary

import (
	"hodman/service/finding"
	"hodman/service/measure"
	"hodman/service/product"
	"hodman/service/schedule"
)

// courses lays the horizontal damp-proof course under every leaf, measured through
// openings: a threshold has one too.
func (c *counter) courses(w *Wall) {
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
		Sum: "run " + metres(run) + " m" + laps, Rules: []string{"dpc.height", "dpc.lap"},
	})
}

// roll picks the narrowest damp-proof course that is wide enough.
func (c *counter) roll(at string, width measure.Length, rule string) *product.Product {
	return c.pick(at, product.DPC, "damp-proof course of "+width.String()+" mm or wider", rule,
		func(p *product.Product) bool { return p.Thickness >= width && p.Length > c.book.Length("dpc.lap") },
		func(p *product.Product) measure.Length { return p.Thickness })
}

// lapped is a run with a lap for every roll but the first, and the words for it. A roll
// no longer than its lap is not looked at.
func (c *counter) lapped(run, roll measure.Length) (measure.Length, string) {
	lap := c.book.Length("dpc.lap")
	laps := pieces(run, roll, lap) - 1
	if laps == 0 {
		return run, ""
	}
	laid := run + measure.Length(laps)*lap
	return laid, " + " + number(laps) + " x " + lap.String() + " mm lap = " + metres(laid) + " m"
}

// pieces is how many lengths lapped over each other make a run: one where it is long
// enough, else up((run - lap) / (length - lap)). length is over lap.
func pieces(run, length, lap measure.Length) int {
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
	p := c.pick(w.At, product.Insulation, "insulation board of "+thick.String()+" mm", "insulation.allowance",
		func(p *product.Product) bool { return p.Thickness == thick && p.Length > 0 && p.Height > 0 },
		unsized)
	if p == nil {
		return
	}
	board := p.Length.Times(p.Height)
	n := int(measure.CeilDiv(int64(w.Net), int64(board)))
	c.add(w, Need{
		Product: p, Unit: each, Part: "insulation", Net: measure.Each(n), To: w.Wall.Highest(),
		Sum: squareMetres(w.Net) + " m2 / " + squareMetres(board) + " m2 a board, up to " + number(n),
	})
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
