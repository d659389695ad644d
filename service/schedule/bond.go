package schedule

import (
	"slices"
	"strconv"
	"strings"

	"hodman/service/measure"
	"hodman/service/product"
)

// The courses out of which one may be of headers in English garden wall bond.
const leastHeadersEvery, mostHeadersEvery = 2, 8

// Headed tells the bonds that have headers.
func Headed(bond string) bool { return slices.Contains(bonds[4:], bond) }

// backing checks what a leaf is laid of behind its facing units.
func (c *checker) backing(prefix string, l *Leaf) {
	b := l.Backing
	if b == nil {
		return
	}
	prefix += "/backing"
	if (b.Product == "") == (b.Unit == nil) {
		c.faults.Add(prefix, "inconsistent", "give either product, a code of the catalogue, or unit, a brick or block in line")
	}
	if b.Product != "" && c.key(prefix, "product", b.Product) {
		c.laid(prefix, b.Product)
	}
	if b.Unit != nil {
		c.unit(prefix+"/unit", b.Unit)
	}
}

// bond checks that a leaf's units and its thickness hold its bond.
func (c *checker) bond(prefix string, l *Leaf) {
	if l.HeadersEvery != 0 {
		switch {
		case l.Bond != "english_garden_wall":
			c.add(prefix, "headers_every", "inconsistent", "belongs to english_garden_wall bond")
		case l.HeadersEvery < leastHeadersEvery || l.HeadersEvery > mostHeadersEvery:
			c.add(prefix, "headers_every", "range", "is "+strconv.Itoa(l.HeadersEvery)+"; give "+strconv.Itoa(leastHeadersEvery)+" to "+strconv.Itoa(mostHeadersEvery)+", one course of headers in so many")
		}
	}
	if l.Thickness != 0 && !c.length(prefix, "thickness_mm", l.Thickness, unitThickness) || !c.made(l) {
		return
	}
	t := WallType{Single: l}
	m := t.make("", l, 0, c.cat, c.book)
	u := m.Unit
	if l.Laid == "flat" && Headed(m.Bond) {
		c.add(prefix, "laid", "inconsistent", "flat goes with stretcher, half, third and stack bond; "+m.Bond+" bond has headers")
	}
	sameSize := func(p *product.Product) bool {
		return p.Length == u.Length && p.Thickness == u.Thickness && p.Height == u.Height
	}
	if l.Backing != nil && !sameSize(m.Backing) {
		c.add(prefix, "backing", "inconsistent", "is of "+size(m.Backing)+" mm, and the facing units of "+size(u)+" mm: they bond only where they are of one size")
	}
	if m.Bond == "rat_trap" {
		c.ratTrap(prefix, &m)
		return
	}
	c.thickness(prefix, &m)
	if Headed(m.Bond) {
		c.headers(prefix, &m)
	}
}

// made says whether a leaf's units can be resolved.
func (c *checker) made(l *Leaf) bool {
	known := func(code string, u *Unit) bool {
		if u != nil {
			return unitLength.holds(u.Length) && unitThickness.holds(u.Thickness) && unitHeight.holds(u.Height)
		}
		p := c.cat.Find(code)
		return p != nil && p.Kind.Laid()
	}
	return known(l.Product, l.Unit) && (l.Backing == nil || known(l.Backing.Product, l.Backing.Unit))
}

func size(p *product.Product) string {
	return p.Length.String() + " x " + p.Thickness.String() + " x " + p.Height.String()
}

// thickness checks that a leaf is one, two or three of its units thick.
func (c *checker) thickness(prefix string, m *Made) {
	u, ways := m.Unit, make([]string, 3)
	for k := range ways {
		t := measure.Length(k+1)*u.Thickness + measure.Length(k)*m.Collar()
		if m.Thickness == t {
			if m.Bond == "header" && k == 2 {
				c.add(prefix, "bond", "bond_thickness", "header bond makes a wall of one brick, or a half-brick skin of snapped headers; for "+t.String()+" mm use english bond")
			}
			return
		}
		ways[k] = t.String()
	}
	c.add(prefix, "thickness_mm", "bond_thickness", "is "+m.Thickness.String()+" mm; units of "+size(u)+" mm make leaves of "+strings.Join(ways, ", ")+" mm")
}

// headers checks that two headers and their joint are as long as a stretcher.
func (c *checker) headers(prefix string, m *Made) {
	u := m.Unit
	if gap := (u.Length+m.Perpend)/2 - u.Thickness; !collar.holds(gap) {
		c.add(prefix, "bond", "bond_thickness", m.Bond+" bond has two headers to a stretcher: units of "+size(u)+" mm would leave "+gap.String()+" mm between headers, where "+
			collar.least.String()+" to "+collar.most.String()+" are laid; use stretcher, half, third or stack bond, or other units")
	}
}

// ratTrap checks bricks on edge: a header ties two stretchers with a hollow between them.
func (c *checker) ratTrap(prefix string, m *Made) {
	u := m.Unit
	if m.Thickness != u.Length {
		c.add(prefix, "thickness_mm", "bond_thickness", "is "+m.Thickness.String()+" mm; a rat-trap wall is as thick as its units are long, "+u.Length.String()+" mm")
	}
	if hollow := u.Length - 2*u.Thickness; hollow <= collar.most {
		c.add(prefix, "bond", "bond_thickness", "rat_trap bond leaves a hollow between two bricks on edge; units of "+u.Thickness.String()+" mm on edge leave "+hollow.String()+" mm")
	}
}
