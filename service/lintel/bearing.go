package lintel

import (
	"hodman/service/measure"
	"hodman/service/product"
	"hodman/service/rulebook"
)

// nearThickness is how far a concrete lintel may be from the leaf that it carries:
// a 100 mm lintel goes under a 102.5 mm half brick. Common practice.
const nearThickness = 5 * measure.Millimetre

// bearing holds the rulebook's figures for the least bearing.
type bearing struct {
	least, simple, simpleClear, mostClear measure.Length
}

func bearingOf(book *rulebook.Book) bearing {
	return bearing{
		least:       book.Length("lintel.bearing"),
		simple:      book.Length("lintel.bearing_simple"),
		simpleClear: book.Length("lintel.simple_clear"),
		mostClear:   book.Length("lintel.most_clear"),
	}
}

// rule is the least that the rulebook asks for: the shorter bearing only for a simple
// lintel (one that is not its own cavity tray) over a narrow opening, and only where
// the schedule asks for less than the general least in so many words.
func (b bearing) rule(o *Opening, f product.Family) measure.Length {
	if b.mayBeSimple(o) && f != product.SteelCavity {
		return max(o.Asked, b.simple)
	}
	return b.least
}

func (b bearing) mayBeSimple(o *Opening) bool {
	return o.widest() <= b.simpleClear && o.Asked > 0 && o.Asked < b.least
}

// of is the least bearing of one product over one opening: the largest of what the
// rulebook, the schedule and the product ask for.
func (b bearing) of(o *Opening, p *product.Product) measure.Length {
	return max(b.rule(o, p.Family), o.Asked, p.LeastBearing)
}

// says adds the rules behind the least bearing and tells who asked for it.
func (b bearing) says(rules []string, o *Opening, p *product.Product, least measure.Length) (more []string, why string) {
	switch {
	case p != nil && least == p.LeastBearing && least > max(b.rule(o, p.Family), o.Asked):
		return append(rules, "lintel.bearing"), "the product asks for it"
	case p != nil && least < b.least:
		why = "asked for, and allowed for a simple lintel over " + b.simpleClear.String() + " mm or less"
		if o.Asked < least {
			why = "the least for a simple lintel over " + b.simpleClear.String() + " mm or less; the " + o.Asked.String() + " mm asked for is less"
		}
		return append(rules, "lintel.bearing_simple", "lintel.simple_clear"), why
	case least == o.Asked && least > b.least:
		return append(rules, "lintel.bearing"), "the schedule asks for it"
	case o.Asked > 0 && o.Asked < least:
		return append(rules, "lintel.bearing"), "the rulebook's least; the " + o.Asked.String() + " mm asked for is less"
	}
	return append(rules, "lintel.bearing"), "the rulebook's least"
}

// suits says whether a lintel is made for the seat, whatever its length: a family
// that is allowed there; over a cavity one whose range holds the cavity; under one
// leaf one as thick as the leaf, to 5 mm, where the product gives a thickness.
func (s *Seat) suits(p *product.Product) bool {
	if s.rank(p.Family) < 0 {
		return false
	}
	if p.Family == product.SteelCavity {
		return p.CavityMin <= s.Cavity && s.Cavity <= p.CavityMax
	}
	if p.Thickness == 0 {
		return p.Family == product.SteelSingle
	}
	return p.Thickness-nearThickness <= s.Thickness && s.Thickness <= p.Thickness+nearThickness
}

// rank is the family's place in the order of preference, or -1.
func (s *Seat) rank(f product.Family) int {
	for i, each := range s.Families {
		if each == f {
			return i
		}
	}
	return -1
}

// words describes the seat in a sentence.
func (s *Seat) words() string {
	if s.Leaf == "both" {
		return "both leaves over a " + s.Cavity.String() + " mm cavity"
	}
	if s.Thickness == 0 {
		return "one leaf"
	}
	return "one leaf of " + s.Thickness.String() + " mm"
}
