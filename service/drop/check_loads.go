package drop

import (
	"strconv"

	"hodman/service/lift"
	"hodman/service/measure"
	"hodman/service/product"
	"hodman/service/schedule"
)

const (
	mostRequired = 10_000_000 * measure.Whole
	mostPack     = 1_000_000 * measure.Whole
	mostPackMass = 50 * measure.Tonne
	mostPacks    = 1_000_000 // of one line
	mostLevel    = 1_000 * measure.Metre
)

// kinds are what a line may be.
var kinds = map[product.Kind]bool{
	product.Brick: true, product.Block: true, product.CoursingUnit: true, product.Lintel: true, product.WallTie: true,
	product.CavityTray: true, product.StopEnd: true, product.Weep: true, product.DPC: true, product.CavityCloser: true,
	product.Insulation: true, product.Cement: true, product.Lime: true, product.Sand: true, product.WallPlate: true,
	product.RestraintStrap: true, product.HoldingDownStrap: true, product.StarterKit: true, product.JointFiller: true, product.Sealant: true, product.Coping: true,
	product.SteppedTray: true, product.CatchmentTray: true, product.RidgeTray: true, product.AirBrick: true, product.AirBrickSleeve: true,
	product.BedReinforcement: true, product.Padstone: true, product.Sill: true,
	product.ReadyMortar: true, product.DryMortar: true, product.SiloMortar: true, product.ThinMortar: true,
	product.Pigment: true, product.Plasticiser: true,
}

func (c *checker) loads(at string, loads []lift.Load) {
	if len(loads) < 1 || len(loads) > schedule.MaxLifts {
		c.Add(at, "items", "holds "+strconv.Itoa(len(loads))+"; give 1 to "+strconv.Itoa(schedule.MaxLifts))
		return
	}
	as := make(map[string]lift.Line)
	for i := range loads {
		l := &loads[i]
		here := at + "/" + strconv.Itoa(i)
		c.number(here+"/lift", l.Lift, 1, 1_000_000)
		if i > 0 && l.Lift <= loads[i-1].Lift {
			c.Add(here+"/lift", "not_rising", "is "+strconv.Itoa(l.Lift)+", not above the one before, "+strconv.Itoa(loads[i-1].Lift)+"; give lifts from the lowest up")
		}
		from := c.level(here+"/from_mm", l.From)
		if to := c.level(here+"/to_mm", l.To); from && to && (l.To <= l.From || l.To-l.From > 100*measure.Metre) {
			c.Add(here+"/to_mm", "not_rising", "is "+(l.To-l.From).String()+" mm above from_mm; give more than 0, at most 100000")
		}
		if l.Mass < 0 || l.Mass > mostYard {
			c.Add(here+"/mass_kg", "range", "is "+l.Mass.String()+" kg; give 0 to "+mostYard.String())
		}
		if l.Lines == nil {
			c.Add(here+"/lines", "required", "is missing; give a list, which may be empty")
		}
		if len(l.Lines) > MaxLines {
			c.Add(here+"/lines", "items", "holds "+strconv.Itoa(len(l.Lines))+"; give at most "+strconv.Itoa(MaxLines))
			continue
		}
		seen := make(map[string]bool, len(l.Lines))
		for k := range l.Lines {
			c.line(here+"/lines/"+strconv.Itoa(k), &l.Lines[k], seen, as)
		}
	}
	if len(as) > MaxProducts {
		c.Add(at, "too_large", "holds "+strconv.Itoa(len(as))+" products; give at most "+strconv.Itoa(MaxProducts))
	}
}

// level checks one end of a lift.
func (c *checker) level(at string, l measure.Length) bool {
	switch {
	case l == schedule.Missing:
		c.Add(at, "required", "is missing; give a level above the datum in mm")
	case l < -mostLevel || l > mostLevel:
		c.Add(at, "range", "is "+l.String()+" mm; give -"+mostLevel.String()+" to "+mostLevel.String())
	default:
		return true
	}
	return false
}

// positive checks a figure that has to be there and is over nought.
func (c *checker) positive(at string, n, most int64, give string) {
	switch {
	case n == 0:
		c.Add(at, "required", "is missing or 0; give "+give)
	case n < 0 || n > most:
		c.Add(at, "range", "is out of range; give "+give)
	}
}

// line checks one line of a lift; seen are its other products, and as is how each
// product stood the first time.
func (c *checker) line(at string, l *lift.Line, seen map[string]bool, as map[string]lift.Line) {
	if !c.key(at+"/product", l.Product) {
		return
	}
	if seen[l.Product] {
		c.Add(at+"/product", "duplicate", strconv.Quote(l.Product)+" stands twice in this lift; give one line a product")
	}
	seen[l.Product] = true
	if !kinds[product.Kind(l.Kind)] {
		c.Add(at+"/kind", "choice", "is "+strconv.Quote(l.Kind)+"; give the product's kind, such as brick, block, lintel or sand")
	}
	switch l.Unit {
	case "each", "m", "m2", "l", "kg":
	default:
		c.Add(at+"/unit", "choice", "is "+strconv.Quote(l.Unit)+"; use one of each, m, m2, l, kg")
	}
	if l.Required == lift.NotGiven {
		c.Add(at+"/required", "required", "is missing; give 0 to "+mostRequired.String())
	} else if l.Required < 0 || l.Required > mostRequired {
		c.Add(at+"/required", "range", "is "+l.Required.String()+"; give 0 to "+mostRequired.String())
	}
	if l.Pack > 0 && l.Required/l.Pack > mostPacks {
		c.Add(at+"/required", "too_large", "is over "+strconv.Itoa(mostPacks)+" packs; plan the job in parts")
	}
	c.positive(at+"/pack", int64(l.Pack), int64(mostPack), "how much is in one pack, over 0 and up to "+mostPack.String())
	c.positive(at+"/pack_kg", int64(l.PackMass), int64(mostPackMass), "what one pack weighs, over 0 and up to "+mostPackMass.String()+" kg")
	if l.Mass < 0 || l.Mass > mostYard {
		c.Add(at+"/mass_kg", "range", "is "+l.Mass.String()+" kg; give 0 to "+mostYard.String())
	}
	first, there := as[l.Product]
	if !there {
		as[l.Product] = *l
	} else if first.Kind != l.Kind || first.Unit != l.Unit || first.Pack != l.Pack || first.PackMass != l.PackMass || first.Loose != l.Loose {
		c.Add(at, "inconsistent", strconv.Quote(l.Product)+" stands differently in a lift below; give the same kind, unit, pack, pack_kg and loose throughout")
	}
}
