package takeoff

import (
	"slices"

	"hodman/service/ancillary"
	"hodman/service/bond"
	"hodman/service/finding"
	"hodman/service/lift"
	"hodman/service/measure"
	"hodman/service/mortar"
	"hodman/service/product"
	"hodman/service/rulebook"
	"hodman/service/schedule"
)

// mix gathers one mortar, lift by lift: of one designation and one pigment.
type mix struct {
	fill                   mortar.Fill
	joints, collars, frogs []measure.Volume
}

func (j *job) mixOf(m *schedule.Made) *mix {
	designation, pigment := m.Mortar, m.Pigment
	if thin := j.book.Length("mortar.thin_bed"); m.Bed < thin {
		designation, pigment = mortar.ThinLayer, 0
	}
	for _, x := range j.mixes {
		if x.fill.Designation == designation && x.fill.Pigment == pigment {
			return x
		}
	}
	n := len(j.levels.Tops)
	room := make([]measure.Volume, 3*n)
	x := &mix{fill: mortar.Fill{Designation: designation, Pigment: pigment, Rules: make([]string, 0, 4)},
		joints: room[:n:n], collars: room[n : 2*n : 2*n], frogs: room[2*n:]}
	j.mixes = append(j.mixes, x)
	return x
}

// rule notes a rule once.
func (x *mix) rule(id string) {
	if !slices.Contains(x.fill.Rules, id) {
		x.fill.Rules = append(x.fill.Rules, id)
	}
}

// taken is the mortar that one unit's frog and perforations take up as the leaf lays it.
func (x *mix) taken(p *product.Product, m *schedule.Made, book *rulebook.Book) measure.Volume {
	switch {
	case p.Frog > 0 && m.FrogDown:
		x.rule("mortar.frogs_down")
	case p.Frog > 0:
		x.rule("mortar.frogs")
	}
	if p.Perforations > 0 {
		x.rule("mortar.perforations")
	}
	if m.HalfBricks() > 1 && m.Bond != "rat_trap" {
		x.rule("mortar.collar")
	}
	return mortar.Taken(p.Frog, p.Perforations, m.FrogDown, book)
}

// bandMortar is the mortar of one course of a band: beds and perpends, and the joints
// between the half bricks of a thicker leaf. A piece has such a joint where another rank
// of the leaf stands behind it; a piece beyond the leaf's back, of a pier, has one before it.
// The hollow of a rat-trap bond is no joint.
func bandMortar(b *bond.Band, m *schedule.Made) (joints, collars measure.Volume) {
	j := mortar.Joints{Bed: m.Bed, Perpend: m.Perpend}
	collar := m.Collar()
	for i := range b.Strips {
		s := &b.Strips[i]
		joints += mortar.Piece(s.Length, s.Height, s.Depth, j) * measure.Volume(s.Count)
		if m.Bond != "rat_trap" && (s.Y+s.Depth < m.Thickness || s.Y > m.Thickness) {
			collars += mortar.Collar(s.Length, s.Height, collar, j) * measure.Volume(s.Count)
		}
	}
	return joints, collars
}

// countMortar turns what has to be filled into every way to buy it, mortar by mortar,
// and puts the way chosen into the lines.
func (j *job) countMortar() {
	j.out.Mortar = make([]mortar.Batch, 0, len(j.mixes))
	supply := mortar.Supply{Way: mortar.SiteMix, Aired: j.schedule.Plasticiser, Waste: j.schedule.Allowances.Mortar}
	if j.schedule.MortarSupply != "" {
		supply.Way = j.schedule.MortarSupply
	}
	j.copingMortar()
	for _, x := range j.mixes {
		weights := make([]int64, len(x.joints))
		for i := range x.joints {
			x.fill.Joints += x.joints[i]
			x.fill.Collars += x.collars[i]
			x.fill.Frogs += x.frogs[i]
			weights[i] = int64((x.joints[i] + x.collars[i] + x.frogs[i]) / 1_000_000)
		}
		b := mortar.NewBatch(&x.fill, supply, j.cat, j.book)
		j.out.Mortar = append(j.out.Mortar, b)
		j.tellMortar(&x.fill, supply.Way)
		for i := range b.Ways {
			for k := range b.Ways[i].Goods {
				if b.Ways[i].Chosen {
					j.buyMortar(&b, &b.Ways[i].Goods[k], weights)
				}
			}
		}
	}
}

// copingMortar puts what copings are bedded and jointed in to the mortar of the leaf that they cover, in the
// lift of the wall's height line.
func (j *job) copingMortar() {
	for i := range j.schedule.Walls {
		w := &j.schedule.Walls[i]
		if w.Top == nil || w.Top.Coping == nil {
			continue
		}
		leaves := j.leaves(i)
		m, last := &leaves[0], &leaves[len(leaves)-1]
		j.mixOf(m).joints[j.levels.At(w.Base+w.Height)] += ancillary.CopingMortar(w, j.cat.Find(w.Top.Coping.Product), last.Back+last.Thickness, m.Bed, m.Perpend)
	}
}

// tellMortar says what the schedule may not expect of its mortar.
func (j *job) tellMortar(f *mortar.Fill, way string) {
	switch {
	case f.Designation == mortar.ThinLayer && way != mortar.BaggedDry:
		j.note(finding.Note, "mortar.thin_layer", "/wall_types", "beds under "+j.book.Length("mortar.thin_bed").String()+" mm are laid in thin-layer mortar, which comes as powder in bags",
			"give a bed_joint_mm of "+j.book.Length("mortar.thin_bed").String()+" mm or more where it is to be a mixed mortar", "mortar.thin_bed")
	case f.Pigment > 0 && way != mortar.SiteMix:
		j.note(finding.Check, "mortar.pigment_works", "/mortar_supply", "mortar "+f.Designation+" with pigment is made at a works: no pigment is in the lines",
			"order that mortar coloured, or mix it on site", "mortar.pigment_most")
	}
}

// ofGood are the rules of one thing only that a mortar is made of.
var ofGood = map[string]product.Kind{"mortar.plasticiser": product.Plasticiser, "mortar.pigment_most": product.Pigment}

// buyMortar puts one thing that a mortar is made of into the lines, shared among the
// lifts by what each has to fill.
func (j *job) buyMortar(b *mortar.Batch, g *mortar.Good, weights []int64) {
	if g.Product == "" {
		amount := g.Required.String() + " " + g.Unit
		j.note(finding.Check, "product.none_suits", "/wall_types", "catalogue "+j.cat.ID()+" has no "+string(g.Kind)+": "+amount+" for mortar "+b.Designation+" are not in the lines", "buy it elsewhere, or add the product", "")
		return
	}
	e := j.ledger.of(j.cat.Find(g.Product), g.Unit, len(weights))
	for i, part := range lift.Share(int64(g.Required), weights) {
		e.lifts[i] += measure.Quantity(part)
	}
	e.line.Net += g.Required
	e.least = mortar.Least(g.Kind, j.book)
	for _, id := range b.Rules {
		if of := ofGood[id]; of == "" || of == g.Kind {
			e.rule(id)
		}
	}
	least := ""
	if e.least > g.Required {
		least = "; the least delivery is " + e.least.String() + " kg"
	}
	e.sum(&j.words, "mortar ", b.Name(), " (", b.Mix, "), ", cubicMetres(b.Total), " m3 with waste: ", g.Required, " ", g.Unit, least)
}

// cubicMetres is a volume to the nearest litre.
func cubicMetres(v measure.Volume) measure.Quantity {
	return measure.Quantity(measure.HalfUpDiv(int64(v), int64(measure.Litre)))
}
