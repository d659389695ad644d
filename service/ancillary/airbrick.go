package ancillary

import (
	"strconv"

	"hodman/service/measure"
	"hodman/service/product"
	"hodman/service/schedule"
)

// airBricks places rows of air bricks. In a cavity wall each has a sleeve through it, and
// a tray over it with stop ends and weeps.
func (c *counter) airBricks(w *Wall) {
	for i := range w.Wall.AirBricks {
		a := &w.Wall.AirBricks[i]
		at := w.At + "/air_bricks/" + strconv.Itoa(i)
		p := c.named(at, a.Product, product.AirBrick, "air brick", "air_brick.spacing")
		if p == nil {
			continue
		}
		above := a.Level - w.Wall.Base
		by := placing{name: "air_brick", words: "air bricks", spacing: c.book.Length("air_brick.spacing"), least: c.book.Count("air_brick.least"),
			rules: [4]string{"air_brick.spacing", "air_brick.least", "air_brick.from_end", "air_brick.from_jamb"}}
		if a.Spacing != nil {
			by.spacing = *a.Spacing
		}
		run := max(0, w.Run-2*c.book.Length("air_brick.from_end"))
		s := c.placed(w, at, by, run, w.reachAt(above), func(o *schedule.Opening) bool {
			return o.Sill < above+p.Height && above < o.Top()
		})
		n := len(s.at)
		need := Need{Product: p, Unit: each, Part: "air_brick", Net: measure.Each(n), From: above, To: above, Places: s.at,
			Sum: "at " + a.Level.String() + " mm, less " + c.book.Length("air_brick.from_end").String() + " mm at each end: " + s.sum, Rules: s.rules}
		if n == 0 {
			continue
		}
		c.add(w, need)
		if w.Cavity != nil {
			c.throughCavity(w, at, p, need, n)
		}
	}
}

func (c *counter) throughCavity(w *Wall, at string, brick *product.Product, need Need, n int) {
	deep := w.Outer.Thickness + w.Cavity.Width + w.Inner.Thickness
	long := func(p *product.Product) bool { return p.Length >= deep }
	size := func(p *product.Product) measure.Length { return p.Length }
	row := need
	row.Net, row.Rules = measure.Each(n), []string{"air_brick.spacing"}
	if p := c.pick(at, product.AirBrickSleeve, "sleeve that reaches "+deep.String()+" mm", "air_brick.spacing", long, size); p != nil {
		row.Product, row.Part, row.Sum = p, "air_brick_sleeve", number(n)+" air bricks, one each through "+deep.String()+" mm"
		c.add(w, row)
	}
	row.Places, row.Rules = nil, []string{"air_brick.tray", "tray.past_lintel"}
	row.From, row.To = need.From+brick.Height, need.From+brick.Height
	length := brick.Length + 2*c.book.Length("tray.past_lintel")
	whole := func(p *product.Product) bool { return p.Length >= length }
	if p := c.pick(at, product.CavityTray, "cavity tray", "tray.past_lintel", whole, unsized); p != nil {
		trays := make([]measure.Length, n)
		for i := range trays {
			trays[i] = length
		}
		c.cutFrom(p, trays...)
		all := measure.Length(n) * length
		row.Product, row.Unit, row.Part, row.Net = p, metre, "air_brick_tray", measure.Metres(all)
		row.Sum = number(n) + " x (" + brick.Length.String() + " + 2 x " + c.book.Length("tray.past_lintel").String() + ") = " + all.String() + " mm"
		c.add(w, row)
	}
	row.Unit = each
	if p := c.first(at, product.StopEnd, "stop end", "tray.stop_ends"); p != nil {
		ends := c.book.Count("tray.stop_ends")
		row.Product, row.Part, row.Net, row.Rules = p, "stop_end", measure.Each(n*ends), []string{"tray.stop_ends"}
		row.Sum = number(n) + " trays over air bricks x " + number(ends)
		c.add(w, row)
	}
	if p := c.first(at, product.Weep, "weep", "weep.least"); p != nil {
		least := c.book.Count("weep.least")
		row.Product, row.Part, row.Net, row.Rules = p, "weep", measure.Each(n*least), []string{"weep.least"}
		row.Sum = number(n) + " trays over air bricks x " + number(least)
		c.add(w, row)
	}
}

// named returns the product that the schedule names, or the catalogue's first of the kind.
func (c *counter) named(at, code string, kind product.Kind, words, rule string) *product.Product {
	if code != "" {
		return c.cat.Find(code)
	}
	return c.first(at, kind, words, rule)
}
