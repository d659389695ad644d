package mortar

import (
	"math/big"
	"strings"

	"hodman/service/measure"
	"hodman/service/rulebook"
)

// Piece is the mortar that one piece brings with it: the bed under it and one perpend,
// (length + perpend) x thickness x bed + height x thickness x perpend, of the piece as
// it is laid. Its frogs are counted apart. Rounded half up to a nanolitre. It panics
// where the sizes are far beyond a unit's (product over 9.2 m3).
func Piece(length, height, thickness measure.Length, j Joints) measure.Volume {
	face := (length + j.Perpend).Times(j.Bed) + height.Times(j.Perpend)
	return face.Times(thickness)
}

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

func ruleOf(designation string) string { return "mortar." + strings.ToLower(designation) }

// String is the mix in parts of cement : lime : sand.
func (m Mix) String() string {
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
	n := big.NewInt(int64(wet))
	for _, r := range []measure.Ratio{factor, part, density} {
		n.Mul(n, big.NewInt(int64(r)))
	}
	n.Mul(n, big.NewInt(int64(measure.Kilogram)))
	d := big.NewInt(int64(measure.CubicMetre))
	for _, r := range []measure.Ratio{measure.One, parts, measure.One} {
		d.Mul(d, big.NewInt(int64(r)))
	}
	rest := new(big.Int)
	n.QuoRem(n, d, rest)
	if rest.Sign() > 0 {
		n.Add(n, big.NewInt(1))
	}
	return measure.Mass(n.Int64())
}

// NewBatch makes the mortar of one designation: joints as [Piece] sums them, the frogs
// of the units laid, of which the rulebook's part is filled, and waste on both, half up
// to a nanolitre. Volumes are not negative. It panics where the book has no such mix:
// a schedule is checked before.
func NewBatch(designation string, joints, frogs measure.Volume, waste measure.Ratio, book *rulebook.Book) Batch {
	mix, ok := MixOf(designation, book)
	if !ok {
		panic("mortar: rulebook " + book.ID() + " has no mix " + designation)
	}
	b := Batch{Designation: designation, Joints: joints, Mix: mix.String()}
	prefix := ruleOf(designation)
	if frogs > 0 {
		b.Frogs = measure.Volume(book.Ratio("mortar.frogs").HalfUpOf(int64(frogs)))
		b.Rules = append(b.Rules, "mortar.frogs")
	}
	b.Waste = measure.Volume(waste.HalfUpOf(int64(b.Joints + b.Frogs)))
	b.Total = b.Joints + b.Frogs + b.Waste
	b.Cement, b.Lime, b.Sand = mix.Dry(b.Total, book)
	b.Rules = append(b.Rules, "mortar.waste", "mortar.dry_to_wet", prefix+".lime", prefix+".sand",
		"mortar.cement_density", "mortar.lime_density", "mortar.sand_density")
	return b
}
