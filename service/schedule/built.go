package schedule

import (
	"strconv"

	"hodman/service/measure"
	"hodman/service/product"
)

// AirBricks are a row of air bricks through the wall, at a level above the datum.
type AirBricks struct {
	Level   measure.Length  `json:"level_mm"`
	Spacing *measure.Length `json:"spacing_mm,omitzero"` // nil: the rulebook's
	Product string          `json:"product,omitzero"`    // default: the catalogue's first air brick
}

// BedReinforcement is laid in the beds of a leaf between two levels above the datum.
type BedReinforcement struct {
	From         measure.Length `json:"from_mm"`
	To           measure.Length `json:"to_mm"`
	EveryCourses int            `json:"every_courses,omitzero"` // default: 1, in every bed
	Leaf         string         `json:"leaf,omitzero"`          // "outer" (default; the only one too), "inner", "both"
	Product      string         `json:"product,omitzero"`       // default: the catalogue's first
}

// RoundOpening is bed-joint reinforcement in so many beds over an opening's head and
// under its sill, in every leaf.
type RoundOpening struct {
	Over  int `json:"over_courses,omitzero"`
	Under int `json:"under_courses,omitzero"`
}

// AbuttingRoof is the line along which a lower roof meets the wall's outer face: its
// surface at two places along the wall, at levels above the datum.
type AbuttingRoof struct {
	Left       measure.Length `json:"left_mm"`
	LeftLevel  measure.Length `json:"left_level_mm"`
	Right      measure.Length `json:"right_mm"`
	RightLevel measure.Length `json:"right_level_mm"`
}

// Limits of what is built in. openapi.yaml says the same.
const (
	MaxDPCLevels     = 20
	MaxReinforcement = 5
	MaxRoofs         = 20
	MaxAirBrickRows  = 10
	mostEvery        = 20 // courses
	mostRound        = 10 // courses over or under an opening
)

var (
	airBrickSpacing = mm(300, 5_000)
	alongWall       = mm(0, 5_000_000)
)

// built checks what the wall asks to be built in.
func (c *checker) built(prefix string, w *Wall, shaped bool) {
	if c.count(prefix, "dpc_levels_mm", len(w.DPCLevels), 0, MaxDPCLevels) {
		for i, at := range w.DPCLevels {
			c.within(prefix+"/dpc_levels_mm", strconv.Itoa(i), at, w, shaped)
		}
	}
	if c.count(prefix, "air_bricks", len(w.AirBricks), 0, MaxAirBrickRows) {
		for i := range w.AirBricks {
			a, at := &w.AirBricks[i], prefix+"/air_bricks/"+strconv.Itoa(i)
			c.within(at, "level_mm", a.Level, w, shaped)
			if a.Spacing != nil {
				c.length(at, "spacing_mm", *a.Spacing, airBrickSpacing)
			}
			c.ofKind(at, "product", a.Product, product.AirBrick, "air brick")
		}
	}
	if c.count(prefix, "bed_reinforcement", len(w.BedReinforcement), 0, MaxReinforcement) {
		for i := range w.BedReinforcement {
			c.reinforcement(prefix+"/bed_reinforcement/"+strconv.Itoa(i), &w.BedReinforcement[i], w, shaped)
		}
	}
	if c.count(prefix, "abutting_roofs", len(w.AbuttingRoofs), 0, MaxRoofs) {
		for i := range w.AbuttingRoofs {
			c.abutting(prefix+"/abutting_roofs/"+strconv.Itoa(i), &w.AbuttingRoofs[i], w, shaped)
		}
	}
}

// within checks a level above the datum that has to lie within the wall.
func (c *checker) within(prefix, name string, at measure.Length, w *Wall, shaped bool) bool {
	if !c.length(prefix, name, at, level) {
		return false
	}
	if shaped && (at < w.Base || at > w.Base+w.Highest()) {
		c.add(prefix, name, "outside", "is at "+at.String()+" mm; the wall stands from "+w.Base.String()+" to "+(w.Base+w.Highest()).String()+" mm above the datum")
		return false
	}
	return true
}

// ofKind checks a product that may be named.
func (c *checker) ofKind(prefix, name, code string, kind product.Kind, words string) {
	if code == "" || !c.key(prefix, name, code) {
		return
	}
	if p := c.cat.Find(code); p == nil || p.Kind != kind {
		c.add(prefix, name, "unknown_ref", "there is no "+words+" "+strconv.Quote(code)+" in catalogue "+c.cat.ID())
	}
}

func (c *checker) reinforcement(at string, r *BedReinforcement, w *Wall, shaped bool) {
	low := c.within(at, "from_mm", r.From, w, shaped)
	if c.within(at, "to_mm", r.To, w, shaped) && low && r.To < r.From {
		c.add(at, "to_mm", "inconsistent", "is "+r.To.String()+" mm, under from_mm at "+r.From.String()+" mm; give the lower level first")
	}
	if r.EveryCourses < 1 || r.EveryCourses > mostEvery {
		c.add(at, "every_courses", "range", "is "+strconv.Itoa(r.EveryCourses)+"; give 1 to "+strconv.Itoa(mostEvery)+": one bed in so many courses")
	}
	c.optionalChoice(at, "leaf", r.Leaf, "outer", "inner", "both")
	c.ofKind(at, "product", r.Product, product.BedReinforcement, "bed-joint reinforcement")
}

func (c *checker) abutting(at string, r *AbuttingRoof, w *Wall, shaped bool) {
	left := c.length(at, "left_mm", r.Left, alongWall)
	right := c.length(at, "right_mm", r.Right, alongWall)
	c.within(at, "left_level_mm", r.LeftLevel, w, shaped)
	c.within(at, "right_level_mm", r.RightLevel, w, shaped)
	switch {
	case !left || !right:
	case r.Right <= r.Left:
		c.add(at, "right_mm", "inconsistent", "is "+r.Right.String()+" mm, not beyond left_mm at "+r.Left.String()+" mm; give the left end of the roof's line first")
	case wallLength.holds(w.Length) && r.Right > w.Length:
		c.add(at, "right_mm", "outside", "is "+r.Right.String()+" mm, beyond the wall's end at "+w.Length.String()+" mm; end the roof's line at the wall's end")
	}
}

// builtRound checks what an opening asks to be built in.
func (c *checker) builtRound(prefix string, o *Opening) {
	if r := o.BedReinforcement; r != nil {
		for _, each := range []struct {
			name string
			n    int
		}{{"over_courses", r.Over}, {"under_courses", r.Under}} {
			if each.n < 0 || each.n > mostRound {
				c.add(prefix+"/bed_reinforcement", each.name, "range", "is "+strconv.Itoa(each.n)+"; give 0 to "+strconv.Itoa(mostRound)+" beds of reinforcement")
			}
		}
	}
	if o.SillProduct != "" && o.SillCourse != nil {
		c.add(prefix, "sill_product", "inconsistent", "stands beside sill_course; an opening has one sill, ready-made or of bricks on edge")
	}
	c.ofKind(prefix, "sill_product", o.SillProduct, product.Sill, "sill")
	c.ofKind(prefix+"/head", "padstone_product", o.Head.PadstoneProduct, product.Padstone, "padstone")
}
