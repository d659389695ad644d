package ancillary

import (
	"strconv"

	"hodman/service/finding"
	"hodman/service/measure"
	"hodman/service/schedule"
)

// stones counts the padstones and ready-made sills that openings ask for.
func (c *counter) stones(w *Wall) {
	for k := range w.Wall.Openings {
		o := &w.Wall.Openings[k]
		at := c.words.Say(w.At, "/openings/", k)
		if o.Head.PadstoneProduct != "" {
			c.padstones(w, o, at+"/head/padstone_product")
		}
		if o.SillProduct != "" {
			c.sill(w, o, at+"/sill_product")
		}
	}
}

// padstones stand under each end of the lintel, in the inner or only leaf.
func (c *counter) padstones(w *Wall, o *schedule.Opening, at string) {
	p, leaves := c.cat.Find(o.Head.PadstoneProduct), w.leaves()
	leaf, n := leaves[len(leaves)-1], c.book.Count("padstone.ends")
	if p.Thickness > leaf.Thickness {
		c.tell(finding.Finding{
			Severity: finding.Check, Code: "padstone.too_thick", At: at, Rule: "padstone.ends",
			Text:   "padstone " + p.Code + " is " + p.Thickness.String() + " mm thick, the leaf of " + leaf.Code + " " + leaf.Thickness.String() + " mm",
			Remedy: "name one that the leaf holds",
		})
	}
	c.tell(finding.Finding{
		Severity: finding.Check, Code: "padstone.not_designed", At: at, Rule: "padstone.ends",
		Text:   "padstones under " + strconv.Quote(o.Ref) + " of wall " + strconv.Quote(w.Ref) + " are counted as given; no load was looked at",
		Remedy: "have a structural engineer say how large they are",
	})
	c.add(w, Need{
		Product: p, Unit: each, Part: "padstone", Net: measure.Each(n), From: o.Top(), To: o.Top(), Places: []measure.Length{o.Left - p.Length, o.Right()},
		Sum: c.words.Say(o.Ref, ": one under each end of what carries the head"), Rules: c.rules("padstone.ends"),
	})
}

// sill is one ready-made sill; it has to be long enough.
func (c *counter) sill(w *Wall, o *schedule.Opening, at string) {
	p, past := c.cat.Find(o.SillProduct), c.book.Length("sill.built_in")
	needed := o.Width + 2*past
	if p.Length < needed {
		c.tell(finding.Finding{
			Severity: finding.Check, Code: "sill.too_short", At: at, Rule: "sill.built_in",
			Text:   "sill " + p.Code + " is " + p.Length.String() + " mm long; opening " + strconv.Quote(o.Ref) + " of wall " + strconv.Quote(w.Ref) + " takes " + needed.String() + " mm",
			Remedy: "name a longer sill, or have one made",
		})
	}
	c.add(w, Need{
		Product: p, Unit: each, Part: "sill", Net: measure.Each(1), From: o.Sill, To: o.Sill, Places: []measure.Length{o.Left - past},
		Sum: c.words.Say(o.Ref, ": ", o.Width, " + 2 x ", past, " = ", needed, " mm, out of one of ", p.Length), Rules: c.rules("sill.built_in"),
	})
}
