package ancillary

import (
	"strconv"

	"hodman/service/finding"
	"hodman/service/measure"
	"hodman/service/product"
	"hodman/service/schedule"
)

// openings counts what an opening in a cavity wall brings with it: tray, stop ends and
// weeps over its lintel, damp-proof course and closers round it. A single wall needs none.
func (c *counter) openings(w *Wall) {
	if w.Cavity == nil {
		return
	}
	for k := range w.Wall.Openings {
		o := &w.Wall.Openings[k]
		at := c.words.Say(w.At, "/openings/", k)
		if w.Lintels[k] > 0 {
			c.tray(w, o, at, w.Lintels[k])
		} else {
			c.noTray(w, o, at)
		}
		c.jambDPC(w, o, at)
		c.closers(w, o, at)
	}
}

// tray is the cavity tray over a lintel with its stop ends and weeps, all at the head.
func (c *counter) tray(w *Wall, o *schedule.Opening, at string, lintel measure.Length) {
	past := c.book.Length("tray.past_lintel")
	length := lintel + 2*past
	lap := c.book.Length("dpc.lap")
	long := func(p *product.Product) bool { return p.Length > lap }
	if p := c.pick(at, product.CavityTray, "cavity tray", "tray.past_lintel", long, unsized); p != nil {
		laid, laps := c.lapped(length, p.Length)
		rules := c.rules("tray.past_lintel")
		if laps != "" {
			rules = c.rules("tray.past_lintel", "dpc.lap")
		}
		c.cutFrom(p, laid)
		c.add(w, Need{
			Product: p, Unit: metre, Part: "tray", Net: measure.Metres(length), With: measure.Metres(laid),
			From: o.Top(), To: o.Top(),
			Sum:   c.words.Say(o.Ref, ": ", lintel, " + 2 x ", past, " = ", length, " mm", laps),
			Rules: rules,
		})
	}
	c.stopEnds(w, o, at)
	c.weeps(w, o, at)
}

func (c *counter) stopEnds(w *Wall, o *schedule.Opening, at string) {
	if p := c.first(at, product.StopEnd, "stop end", "tray.stop_ends"); p != nil {
		n := c.book.Count("tray.stop_ends")
		c.add(w, Need{
			Product: p, Unit: each, Part: "stop_end", Net: measure.Each(n), From: o.Top(), To: o.Top(),
			Sum: c.words.Say(o.Ref, ": ", n, " to the tray"), Rules: c.rules("tray.stop_ends"),
		})
	}
}

func (c *counter) weeps(w *Wall, o *schedule.Opening, at string) {
	if p := c.first(at, product.Weep, "weep", "weep.spacing"); p != nil {
		spacing, least := c.book.Length("weep.spacing"), c.book.Count("weep.least")
		n := max(least, spaces(o.Width, spacing)+1)
		c.add(w, Need{
			Product: p, Unit: each, Part: "weep", Net: measure.Each(n), From: o.Top(), To: o.Top(),
			Sum:   c.words.Say(o.Ref, ": ", o.Width, " / ", spacing, ", up to ", spaces(o.Width, spacing), ", + 1, at least ", least, " = ", n),
			Rules: c.rules("weep.spacing", "weep.least"),
		})
	}
}

// noTray says that a head without a lintel of ours has no tray counted over it.
func (c *counter) noTray(w *Wall, o *schedule.Opening, at string) {
	why := "no lintel is chosen for"
	if !o.HasLintel() {
		why = "something else than a lintel carries the head of"
	}
	c.tell(finding.Finding{
		Severity: finding.Check, Code: "tray.not_counted", At: at, Rule: "tray.past_lintel",
		Text:   why + " opening " + strconv.Quote(o.Ref) + " of wall " + strconv.Quote(w.Ref) + ": no cavity tray, stop ends or weeps are counted over it",
		Remedy: "order the tray with what carries the head, reaching " + c.book.Length("tray.past_lintel").String() + " mm past each end of it",
	})
}

// jambDPC is the damp-proof course up both jambs.
func (c *counter) jambDPC(w *Wall, o *schedule.Opening, at string) {
	laps := c.book.Length("dpc.jamb_laps")
	p := c.roll(at, c.book.Length("dpc.jamb_width"), "dpc.jamb_width")
	if p == nil {
		return
	}
	length := 2 * (o.Height + laps)
	c.add(w, Need{
		Product: p, Unit: metre, Part: "jamb_dpc", Net: measure.Metres(length), From: o.Sill, To: o.Top(),
		Sum:   c.words.Say(o.Ref, ": 2 x (", o.Height, " + ", laps, ") = ", length, " mm"),
		Rules: c.rules("dpc.jamb_laps", "dpc.jamb_width"),
	})
}

// closers go up both jambs and, but for a door, along the sill.
func (c *counter) closers(w *Wall, o *schedule.Opening, at string) {
	p := c.pickOf(at, product.CavityCloser, "closer.sides",
		func(p *product.Product) bool { return w.spans(p) && p.Length > 0 }, func(p *product.Product) measure.Length { return p.CavityMax },
		"cavity closer for a cavity of ", w.Cavity.Width, " mm")
	if p == nil {
		return
	}
	length := 2 * o.Height
	c.words.Add(o.Ref, ": 2 x ", o.Height)
	if o.Sill > 0 {
		length += o.Width
		c.words.Add(" + ", o.Width)
		c.cutFrom(p, o.Height, o.Height, o.Width)
	} else {
		c.cutFrom(p, o.Height, o.Height)
	}
	c.add(w, Need{
		Product: p, Unit: metre, Part: "closer", Net: measure.Metres(length), From: o.Sill, To: o.Top(),
		Sum: c.words.Say(" = ", length, " mm"), Rules: c.rules("closer.sides"),
	})
}
