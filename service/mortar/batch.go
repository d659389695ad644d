package mortar

import (
	"math/big"
	"strings"

	"hodman/service/measure"
	"hodman/service/product"
	"hodman/service/rulebook"
)

// MixOf is the rulebook's mix for a designation, such as M4 or N. It is false for one it has not.
func MixOf(designation string, book *rulebook.Book) (Mix, bool) {
	prefix := ruleOf(designation)
	if book.Rule(prefix+".lime") == nil || book.Rule(prefix+".sand") == nil {
		return Mix{}, false
	}
	return Mix{
		Designation: designation,
		Cement:      measure.One,
		Lime:        book.Ratio(prefix + ".lime"),
		Sand:        book.Ratio(prefix + ".sand"),
	}, true
}

// AiredMixOf is the mix of cement and sand that plasticiser takes the lime's place in. It is
// false for a designation that the book has none of.
func AiredMixOf(designation string, book *rulebook.Book) (Mix, bool) {
	id := ruleOf(designation) + ".aired_sand"
	if book.Rule(id) == nil {
		return Mix{}, false
	}
	return Mix{Designation: designation, Cement: measure.One, Sand: book.Ratio(id)}, true
}

func ruleOf(designation string) string { return "mortar." + strings.ToLower(designation) }

// String is the mix in parts of cement : lime : sand, or of cement : sand.
func (m Mix) String() string {
	if m.Lime == 0 {
		return m.Cement.String() + " : " + m.Sand.String()
	}
	return m.Cement.String() + " : " + m.Lime.String() + " : " + m.Sand.String()
}

// Dry is what goes into so much wet mortar. Each part's bulk volume is
// wet x dry_to_wet x part / sum of parts; its mass is that x its density, rounded up to a gram.
func (m Mix) Dry(wet measure.Volume, book *rulebook.Book) (cement, lime, sand measure.Mass) {
	mass := func(part measure.Ratio, density string) measure.Mass {
		return massOf(wet, part, m.Cement+m.Lime+m.Sand, book.Ratio("mortar.dry_to_wet"), book.Ratio(density))
	}
	return mass(m.Cement, "mortar.cement_density"), mass(m.Lime, "mortar.lime_density"), mass(m.Sand, "mortar.sand_density")
}

// massOf is wet x factor x part/parts x density (kg/m3) in grams, rounded up. Ten
// thousand cubic metres times four ratios in millionths does not fit 128 bits.
func massOf(wet measure.Volume, part, parts, factor, density measure.Ratio) measure.Mass {
	n := times(int64(wet), int64(factor), int64(part), int64(density), int64(measure.Kilogram))
	d := times(int64(measure.CubicMetre), int64(measure.One), int64(parts), int64(measure.One))
	rest := new(big.Int)
	n.QuoRem(n, d, rest)
	if rest.Sign() > 0 {
		n.Add(n, big.NewInt(1))
	}
	return measure.Mass(n.Int64())
}

// times is the product of factors, in room for all of it.
func times(factors ...int64) *big.Int {
	p := new(big.Int).SetBits(make([]big.Word, 0, len(factors)+1)).SetInt64(1)
	var f big.Int
	for _, n := range factors {
		p.Mul(p, f.SetInt64(n))
	}
	return p
}

// NewBatch makes the mortar of one designation: what it fills, waste on all of it, half up
// to a nanolitre, and every way to buy it. Volumes are not negative. It panics where
// the book has no such mix: a schedule is checked before.
func NewBatch(f *Fill, s Supply, cat *product.Catalogue, book *rulebook.Book) Batch {
	b := Batch{Designation: f.Designation, Colour: f.Pigment, Joints: f.Joints, Collars: f.Collars, Frogs: f.Frogs, Ways: make([]Way, 0, len(Supplies))}
	m := maker{fill: f, supply: s, cat: cat, book: book}
	if f.Designation == ThinLayer {
		b.Mix = "powder and water"
		b.Ways = append(b.Ways, m.thin())
	} else {
		b.Mix = m.mix().String()
		b.Ways = append(b.Ways, m.siteMix(), m.ready(), m.dry(BaggedDry), m.dry(Silo))
	}
	for i := range b.Ways {
		if w := &b.Ways[i]; len(b.Ways) == 1 || w.Supply == s.Way {
			w.Chosen = true
			b.take(w)
		}
	}
	b.Rules = append(b.Rules, f.Rules...)
	for i := range b.Ways {
		if b.Ways[i].Chosen {
			b.Rules = append(b.Rules, b.Ways[i].Rules...)
		}
	}
	return b
}

// take makes the way that is chosen the batch's own.
func (b *Batch) take(w *Way) {
	b.Supply, b.Waste, b.Total = w.Supply, w.Waste, w.Total
	for i := range w.Goods {
		g := &w.Goods[i]
		switch g.Kind {
		case product.Cement:
			b.Cement = measure.Mass(g.Required)
		case product.Lime:
			b.Lime = measure.Mass(g.Required)
		case product.Sand:
			b.Sand = measure.Mass(g.Required)
		case product.Pigment:
			b.Pigment = measure.Mass(g.Required)
		case product.Plasticiser:
			b.Plasticiser = g.Required
		}
	}
}
