package mortar

import (
	"hodman/service/measure"
	"hodman/service/product"
	"hodman/service/rulebook"
)

// maker counts the ways to buy one mortar.
type maker struct {
	fill   *Fill
	supply Supply
	cat    *product.Catalogue
	book   *rulebook.Book
}

// mix is the mixed mortar's own, with plasticiser or with lime.
func (m *maker) mix() Mix {
	of := MixOf
	if m.supply.Aired {
		of = AiredMixOf
	}
	mix, ok := of(m.fill.Designation, m.book)
	if !ok {
		panic("mortar: rulebook " + m.book.ID() + " has no mix " + m.fill.Designation)
	}
	return mix
}

// way begins one: the wet mortar with its waste, by the rule named where the schedule has none.
func (m *maker) way(supply, rule string) Way {
	waste := m.book.Ratio(rule)
	if m.supply.Waste != nil {
		waste = *m.supply.Waste
	}
	net := m.fill.Net()
	w := Way{Supply: supply, Waste: measure.Volume(waste.HalfUpOf(int64(net))), Rules: []string{rule}}
	w.Total = net + w.Waste
	w.Litres = measure.Quantity(measure.CeilDiv(int64(w.Total), int64(measure.Litre)/int64(measure.Whole)))
	return w
}

// siteMix is cement, lime and sand by the mix; pigment and plasticiser by the cement.
func (m *maker) siteMix() Way {
	w := m.way(SiteMix, "mortar.waste")
	mix, prefix := m.mix(), ruleOf(m.fill.Designation)
	cement, lime, sand := mix.Dry(w.Total, m.book)
	w.Goods = make([]Good, 0, 5)
	m.kilograms(&w, product.Cement, cement)
	m.kilograms(&w, product.Lime, lime)
	m.kilograms(&w, product.Sand, sand)
	w.Rules = append(w.Rules, "mortar.dry_to_wet")
	w.Sum = cubicMetres(w.Total) + " m3 with waste, " + mix.String() + " by volume: " + cement.String() + " kg cement, "
	if m.supply.Aired {
		dose := m.book.Ratio("mortar.plasticiser")
		// Grams x millionths of a millilitre a kilogram, up to a millilitre.
		ml := measure.Quantity(measure.CeilDiv(int64(cement)*int64(dose), int64(measure.Kilogram)*int64(measure.One)))
		m.buy(&w, product.Plasticiser, "l", ml)
		w.Rules = append(w.Rules, prefix+".aired_sand", "mortar.plasticiser", "mortar.cement_density", "mortar.sand_density")
		w.Sum += ml.String() + " l plasticiser, "
	} else {
		w.Rules = append(w.Rules, prefix+".lime", prefix+".sand", "mortar.cement_density", "mortar.lime_density", "mortar.sand_density")
		w.Sum += lime.String() + " kg lime, "
	}
	w.Sum += sand.String() + " kg sand"
	if m.fill.Pigment > 0 {
		mass := measure.Mass(m.fill.Pigment.CeilOf(int64(cement)))
		m.kilograms(&w, product.Pigment, mass)
		w.Rules = append(w.Rules, "mortar.pigment_most")
		w.Sum += ", " + mass.String() + " kg pigment"
	}
	return w
}

// ready is wet mortar by the litre.
func (m *maker) ready() Way {
	w := m.way(ReadyToUse, "mortar.waste_works")
	w.Goods = make([]Good, 0, 1)
	m.buy(&w, product.ReadyMortar, "l", w.Litres)
	w.Sum = w.Litres.String() + " l with waste"
	return w
}

// dry is powder in bags or in a silo, of which nobody brings less than the least.
func (m *maker) dry(supply string) Way {
	w := m.way(supply, "mortar.waste_works")
	density := m.book.Ratio("mortar.works_dry")
	mass := massOf(w.Total, measure.One, measure.One, measure.One, density)
	w.Goods = make([]Good, 0, 1)
	w.Rules = append(w.Rules, "mortar.works_dry")
	w.Sum = cubicMetres(w.Total) + " m3 with waste x " + density.String() + " kg/m3 = " + mass.String() + " kg"
	if supply == BaggedDry {
		m.kilograms(&w, product.DryMortar, mass)
		return w
	}
	m.kilograms(&w, product.SiloMortar, mass)
	w.Rules = append(w.Rules, "mortar.silo_least")
	if least := Least(product.SiloMortar, m.book); mass > 0 && measure.Quantity(mass) < least {
		w.Sum += ", under the least delivery of " + least.String() + " kg"
	}
	return w
}

// thin is thin-layer mortar, which comes as powder in bags and in no other way.
func (m *maker) thin() Way {
	w := m.way(BaggedDry, "mortar.waste_works")
	density := m.book.Ratio("mortar.thin_dry")
	mass := massOf(w.Total, measure.One, measure.One, measure.One, density)
	m.kilograms(&w, product.ThinMortar, mass)
	w.Rules = append(w.Rules, "mortar.thin_bed", "mortar.thin_dry")
	w.Sum = cubicMetres(w.Total) + " m3 with waste x " + density.String() + " kg/m3 = " + mass.String() + " kg"
	return w
}

func (m *maker) kilograms(w *Way, kind product.Kind, mass measure.Mass) {
	m.buy(w, kind, "kg", measure.Quantity(mass))
}

// buy adds one thing to a way, in whole packs of the first product that suits.
func (m *maker) buy(w *Way, kind product.Kind, unit string, required measure.Quantity) {
	if required == 0 {
		return
	}
	g := Good{Kind: kind, Unit: unit, Required: required}
	if unit == "kg" {
		g.Mass = measure.Mass(required)
	}
	if p := m.sold(kind); p != nil {
		pack := p.Holds(unit)
		g.Product = p.Code
		g.Packs = int(measure.CeilDiv(int64(max(required, Least(kind, m.book))), int64(pack)))
		g.Order = measure.Quantity(g.Packs) * pack
		g.Mass = measure.Mass(g.Packs) * p.PackMass()
	}
	w.Goods = append(w.Goods, g)
	w.Mass += g.Mass
}

// sold is the first product of a kind; of one that a works makes, the first of the mortar's
// own designation.
func (m *maker) sold(kind product.Kind) *product.Product {
	for _, p := range m.cat.OfKind(kind) {
		if p.Mortar == "" || p.Mortar == m.fill.Designation {
			return p
		}
	}
	return nil
}

// Least is the least of a kind that is brought at once; nought: a pack.
func Least(kind product.Kind, book *rulebook.Book) measure.Quantity {
	if kind != product.SiloMortar {
		return 0
	}
	// Kilograms in millionths, as thousandths.
	return measure.Quantity(int64(book.Ratio("mortar.silo_least")) * int64(measure.Whole) / int64(measure.One))
}

// cubicMetres is a volume to the nearest litre.
func cubicMetres(v measure.Volume) string {
	return measure.Quantity(measure.HalfUpDiv(int64(v), int64(measure.Litre))).String()
}
