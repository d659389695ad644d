package drop

import (
	"fmt"

	"hodman/service/finding"
	"hodman/service/measure"
	"hodman/service/product"
	"hodman/service/rulebook"
)

// deck is one bay of the working platform and what may be put on it.
type deck struct {
	class   int
	limit   measure.Ratio // kN/m2, uniform
	perKN   int64         // kg
	area    int64         // mm2
	beside  measure.Mass  // people and mortar boards
	allowed measure.Mass  // material, less than nought where there is no room for any
}

// newDeck takes a scaffold with its load class. The bay's area and what it allows are
// rounded down.
func newDeck(s *Scaffold, book *rulebook.Book) deck {
	const mm2 = int64(measure.Millimetre) * int64(measure.Millimetre)
	d := deck{class: *s.LoadClass, limit: book.Ratio(classRule(*s.LoadClass)), perKN: int64(book.Count("scaffold.kg_per_kn"))}
	d.area = measure.FloorDiv(int64(s.BayLength.Times(*s.PlatformWidth)), mm2)
	people := book.Count("scaffold.persons") * book.Count("scaffold.person")
	d.beside = measure.Mass(people+book.Count("scaffold.mortar_boards")) * measure.Kilogram
	// A millionth of a kN/m2 x mm2 x kg/kN is 10^-12 kg, and 10^-9 g.
	d.allowed = measure.Mass(measure.FloorDiv(int64(d.limit)*d.area*d.perKN, 1_000_000_000)) - d.beside
	return d
}

func classRule(class int) string { return fmt.Sprintf("scaffold.class_%d", class) }

// imposed is the load of material with the people and boards beside it, rounded up; it
// is not over the limit where the material is not over what is allowed.
func (d *deck) imposed(material measure.Mass) measure.Ratio {
	return measure.Ratio(measure.CeilDiv(int64(material+d.beside)*1_000_000_000, d.area*d.perKN))
}

// count is how many of a unit alone are allowed, rounded down.
func (d *deck) count(g *good) int {
	if d.allowed <= 0 {
		return 0
	}
	// allowed / (pack mass / pack): the unit's mass is not rounded.
	n := measure.FloorDiv(int64(d.allowed)*int64(g.Pack), int64(g.PackMass)*int64(measure.Whole))
	return int(n)
}

// platform writes what the bays carry and how each lift is put out on them. Without a
// load class it guesses nothing.
func (p *planner) platform() {
	s := p.r.Scaffold
	if s == nil || s.LoadClass == nil {
		p.find(finding.Check, "drop.draft", "/scaffold/load_class", "the scaffold's load class is not given: this plan is a draft, no platform load was checked and nothing is put out",
			"give load_class, bay_length_mm, platform_width_mm and bays from the scaffold's handover certificate", "")
	} else {
		d := newDeck(s, p.book)
		p.rules = append(p.rules, classRule(d.class), "scaffold.kg_per_kn", "scaffold.persons", "scaffold.person", "scaffold.mortar_boards", "scaffold.least_storage_class")
		p.putOut(&d)
	}
	if s != nil {
		p.loadingBay(s)
	}
}

func (p *planner) putOut(d *deck) {
	switch {
	case d.class < p.book.Count("scaffold.least_storage_class"):
		p.find(finding.Stop, "scaffold.no_storage", "/scaffold/load_class", fmt.Sprintf("a class %d platform is not for storage: nothing is put out on it", d.class),
			"have a scaffold of class 3 or more set up, as its designer and handover certificate say", "scaffold.least_storage_class")
		return
	case d.allowed <= 0:
		p.find(finding.Stop, "scaffold.no_room", "/scaffold", fmt.Sprintf("a bay at %s kN/m2 carries its people and boards (%s kg) and nothing beside them", d.limit, d.beside),
			"have a higher class or larger bays set up, as the scaffold's designer says", classRule(d.class))
		return
	case d.class == 3:
		p.find(finding.Check, "scaffold.light_storage", "/scaffold/load_class", "a class 3 platform is for light storage: set goods down by hand in what the hoists list, and no packs by crane",
			"ask the scaffold's designer, or have class 4 set up for masonry", "scaffold.least_storage_class")
	}
	p.Sums = append(p.Sums, fmt.Sprintf("a bay: %s kN/m2 x %s m2 x %d kg/kN - %s kg of people and boards = %s kg of material",
		d.limit, measure.Ratio(d.area), d.perKN, d.beside, d.allowed))
	for i := range p.goods {
		if g := &p.goods[i]; product.Kind(g.Kind).Laid() {
			p.BricksABay = append(p.BricksABay, BayCount{g.Product, g.mass(measure.Whole), d.count(g)})
		}
	}
	for l := range p.loads {
		p.hoists(d, l)
	}
}

// loadingBay flags packs that press harder on their own footprint than the loading bay
// is designed for; whether the bay as a whole carries them is for its designer.
func (p *planner) loadingBay(s *Scaffold) {
	const at = "/scaffold/loading_bay_kn_m2"
	if s.LoadingBay == nil {
		p.find(finding.Check, "loading_bay.not_given", at, "the loading bay's load is not given and was not checked; a working platform is not for whole packs",
			"give loading_bay_kn_m2 from its handover certificate, or land packs on the ground and split them there", "")
		return
	}
	p.rules = append(p.rules, "loading_bay.pack_length", "loading_bay.pack_width")
	length, width := p.book.Length("loading_bay.pack_length"), p.book.Length("loading_bay.pack_width")
	foot := int64(length/measure.Millimetre) * int64(width/measure.Millimetre)
	perKN := int64(p.book.Count("scaffold.kg_per_kn"))
	for i := range p.goods {
		g := &p.goods[i]
		if g.perPlace == 0 {
			continue
		}
		pack := g.mass(measure.Quantity(g.perPlace) * g.piece)
		presses := measure.Ratio(measure.CeilDiv(int64(pack)*1_000_000_000, foot*perKN))
		if presses > *s.LoadingBay {
			p.find(finding.Check, "loading_bay.over", at, fmt.Sprintf("a pack of %s, %s kg on %s x %s mm, presses with %s kN/m2; the loading bay is for %s",
				g.Product, pack, length, width, presses, *s.LoadingBay), "land it on the ground and split it, or ask the loading bay's designer", "loading_bay.pack_length")
		}
	}
}
