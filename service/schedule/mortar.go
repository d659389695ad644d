package schedule

import (
	"strconv"
	"strings"

	"hodman/service/measure"
)

// supplies are the ways to buy mortar, the default first.
var supplies = []string{"site_mix", "ready_to_use", "bagged_dry", "silo"}

// mortarSupply checks how the mortar is bought, and that plasticiser goes into a mix
// that the rulebook has.
func (c *checker) mortarSupply(s *Schedule) {
	c.optionalChoice("", "mortar_supply", s.MortarSupply, supplies...)
	if !s.Plasticiser {
		return
	}
	if s.MortarSupply != "" && s.MortarSupply != supplies[0] {
		c.add("", "plasticiser", "inconsistent", "is put into a site mix, and mortar_supply is "+strconv.Quote(s.MortarSupply)+", made at a works; leave one of them out")
	}
	for _, m := range c.book.Mortars {
		if c.book.Rule("mortar."+strings.ToLower(m)+".aired_sand") == nil {
			c.add("", "plasticiser", "not_supported", "rulebook "+strconv.Quote(c.book.Key)+" has no mixes with plasticiser in the lime's place; leave it out")
			return
		}
	}
}

// pigment checks how much of it a leaf's mortar has.
func (c *checker) pigment(prefix string, p measure.Ratio) {
	switch most := c.book.Ratio("mortar.pigment_most"); {
	case p < 0 || p > measure.One:
		c.add(prefix, "pigment", "range", "is "+p.String()+"; give a part of the cement's mass from 0 to 1")
	case p > most:
		c.add(prefix, "pigment", "inconsistent", "is "+p.String()+"; the rulebook has at most "+most.String()+" of the cement's mass")
	}
}

// hollow checks that the frog and the perforations of a unit leave some of it.
func (c *checker) hollow(prefix string, u *Unit) {
	for _, each := range []struct {
		name  string
		value measure.Volume
	}{{"frog_m3", u.Frog}, {"perforations_m3", u.Perforations}} {
		if each.value < 0 || each.value > measure.CubicMetre {
			c.add(prefix, each.name, "range", "is not from 0 to 1; give the volume in one unit in m3, such as 0.0001")
			return
		}
	}
	if u.Frog <= 0 && u.Perforations <= 0 || !unitLength.holds(u.Length) || !unitThickness.holds(u.Thickness) || !unitHeight.holds(u.Height) {
		return
	}
	// Square millimetres by micrometres keep within an int64 for the largest unit.
	whole := measure.Volume(int64(u.Length.Times(u.Thickness)) / 1_000_000 * int64(u.Height))
	if u.Frog+u.Perforations >= whole {
		name := "frog_m3"
		if u.Perforations > u.Frog {
			name = "perforations_m3"
		}
		c.add(prefix, name, "inconsistent", "leaves nothing of a unit of "+u.Length.String()+" x "+u.Thickness.String()+" x "+u.Height.String()+" mm; give the volume in one unit in m3, such as 0.0001")
	}
}
