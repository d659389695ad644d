package schedule

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"hodman/service/measure"
	"hodman/service/product"
	"hodman/service/rulebook"
)

// Bonds and opening shapes that the document may name.
var (
	bonds = []string{"stretcher", "half", "third", "stack", "header", "english", "flemish",
		"english_garden_wall", "flemish_garden_wall", "monk", "rat_trap"}
	shapes = []string{"rectangle", "segmental", "semicircular", "round"}
)

// wallTypes checks the wall types and returns those that can be built by key.
func (c *checker) wallTypes(types []WallType) map[string]*WallType {
	byKey := make(map[string]*WallType, len(types))
	if !c.count("", "wall_types", len(types), 1, MaxWallTypes) {
		return byKey
	}
	for i := range types {
		t := &types[i]
		prefix := "/wall_types/" + strconv.Itoa(i)
		if c.key(prefix, "key", t.Key) {
			if byKey[t.Key] != nil {
				c.add(prefix, "key", "duplicate", strconv.Quote(t.Key)+" stands twice; give every wall type a key of its own")
			}
			byKey[t.Key] = t
		}
		c.mortar(prefix, t.Mortar)
		c.makeUp(prefix, t)
	}
	return byKey
}

// makeUp checks that a wall type is a single leaf or two with a cavity.
func (c *checker) makeUp(prefix string, t *WallType) {
	single := t.Single != nil
	cavity := t.Outer != nil && t.Cavity != nil && t.Inner != nil
	some := t.Outer != nil || t.Cavity != nil || t.Inner != nil
	if single == cavity || single && some {
		c.faults.Add(prefix, "inconsistent", "give either single, or outer, cavity and inner together")
	}
	c.leaf(prefix, "single", t.Single)
	c.leaf(prefix, "outer", t.Outer)
	c.leaf(prefix, "inner", t.Inner)
	if t.Cavity == nil {
		return
	}
	prefix += "/cavity"
	wide := c.length(prefix, "width_mm", t.Cavity.Width, cavityWidth)
	filled := c.length(prefix, "insulation_mm", t.Cavity.Insulation, insulation)
	if wide && filled && t.Cavity.Insulation > t.Cavity.Width {
		c.add(prefix, "insulation_mm", "inconsistent", "is "+t.Cavity.Insulation.String()+" mm, thicker than the cavity of "+t.Cavity.Width.String()+" mm")
	}
}

func (c *checker) leaf(prefix, name string, l *Leaf) {
	if l == nil {
		return
	}
	prefix += "/" + name
	if (l.Product == "") == (l.Unit == nil) {
		c.faults.Add(prefix, "inconsistent", "give either product, a code of the catalogue, or unit, a brick or block in line")
	}
	if l.Product != "" && c.key(prefix, "product", l.Product) {
		c.laid(prefix, l.Product)
	}
	if l.Unit != nil {
		c.unit(prefix+"/unit", l.Unit)
	}
	bonded := c.optionalChoice(prefix, "bond", l.Bond, bonds...)
	bonded = c.optionalChoice(prefix, "laid", l.Laid, "on_bed", "flat") && bonded
	c.mortar(prefix, l.Mortar)
	c.optionalChoice(prefix, "laid_frog", l.LaidFrog, "up", "down")
	c.pigment(prefix, l.Pigment)
	if l.BedJoint != nil {
		c.length(prefix, "bed_joint_mm", *l.BedJoint, joint)
	}
	if l.Perpend != nil && c.length(prefix, "perpend_mm", *l.Perpend, joint) && c.settingOut {
		c.perpend(prefix, *l.Perpend)
	}
	c.backing(prefix, l)
	if bonded {
		c.bond(prefix, l)
	}
}

// perpend checks that setting out may open and close a perpend from where it is.
func (c *checker) perpend(prefix string, perpend measure.Length) {
	least, most := c.book.Length("joint.perpend_least"), c.book.Length("joint.perpend_most")
	if perpend < least || perpend > most {
		c.add(prefix, "perpend_mm", "inconsistent", "is "+perpend.String()+" mm, and setting out keeps perpends from "+least.String()+" to "+most.String()+" mm; give one of those, or leave out setting_out")
	}
}

// mortar checks a designation, which may be left out: it is one of the schedule's own book.
func (c *checker) mortar(prefix, s string) {
	words := c.book.Mortars
	if s == "" || slices.Contains(words, s) {
		return
	}
	for _, b := range rulebook.Books() {
		switch known := slices.Contains(b.Mortars, s); {
		case known && c.unknown:
			return
		case known:
			c.add(prefix, "mortar", "inconsistent", strconv.Quote(s)+" is a mortar of rulebook "+strconv.Quote(b.Key)+"; "+
				strconv.Quote(c.book.Key)+" has "+strings.Join(words, ", "))
			return
		}
	}
	c.choice(prefix, "mortar", s, words...)
}

func (c *checker) laid(prefix, code string) {
	switch p := c.cat.Find(code); {
	case p == nil:
		c.add(prefix, "product", "unknown_ref", "there is no product "+strconv.Quote(code)+" in catalogue "+c.cat.ID()+"; list them with GET /v1/products, or give the unit in line")
	case !p.Kind.Laid():
		c.add(prefix, "product", "inconsistent", strconv.Quote(code)+" is a "+string(p.Kind)+"; a leaf is laid of bricks, blocks or coursing units")
	}
}

func (c *checker) unit(prefix string, u *Unit) {
	c.choice(prefix, "kind", u.Kind, "brick", "block", "coursing_unit")
	c.length(prefix, "length_mm", u.Length, unitLength)
	c.length(prefix, "thickness_mm", u.Thickness, unitThickness)
	c.length(prefix, "height_mm", u.Height, unitHeight)
	if u.Mass < leastMass || u.Mass > mostMass {
		c.add(prefix, "mass_kg", "range", "is "+u.Mass.String()+" kg; give a mass from "+leastMass.String()+" to "+mostMass.String()+" kg")
	}
	c.hollow(prefix, u)
	if u.Pack != nil && (*u.Pack < 1 || *u.Pack > mostPack) {
		c.add(prefix, "pack", "range", "is "+strconv.Itoa(*u.Pack)+"; give 1 to "+strconv.Itoa(mostPack))
	}
}

// Made is a leaf with its unit looked up and its defaults filled in.
type Made struct {
	Name string // "single", "outer", "inner"
	// Unit is the unit as laid: of one laid flat, height and thickness change places.
	Unit *product.Product
	// Backing is what stands behind the facing units, as laid; Unit where nothing else is asked for.
	Backing *product.Product
	// Thickness is the leaf's: one, two or three half bricks.
	Thickness    measure.Length
	Bond         string // never empty
	HeadersEvery int    // English garden wall: one course of headers in so many
	Bed, Perpend measure.Length
	Mortar       string
	Pigment      measure.Ratio // of the cement's mass
	FrogDown     bool
	// Back is how far the leaf's own outer face stands behind the wall's outer face.
	Back measure.Length
}

// Leaves resolves a wall type that [Schedule.Check] has passed: one leaf, or the
// outer and then the inner. Joints and mortar that it does not give are the rulebook's.
func (t *WallType) Leaves(cat *product.Catalogue, book *rulebook.Book) []Made {
	if t.Single != nil {
		return []Made{t.make("single", t.Single, 0, cat, book)}
	}
	outer := t.make("outer", t.Outer, 0, cat, book)
	back := outer.Thickness + t.Cavity.Width
	return []Made{outer, t.make("inner", t.Inner, back, cat, book)}
}

func (t *WallType) make(name string, l *Leaf, back measure.Length, cat *product.Catalogue, book *rulebook.Book) Made {
	m := Made{Name: name, Back: back, Bed: book.Length("joint.bed"), Perpend: book.Length("joint.perpend"), Mortar: book.Mortar,
		Bond: cmp.Or(l.Bond, bonds[0]), HeadersEvery: l.HeadersEvery, Pigment: l.Pigment, FrogDown: l.LaidFrog == "down"}
	m.Unit = l.asLaid(unitOf(l.Product, l.Unit, cat))
	m.Backing = m.Unit
	if l.Backing != nil {
		m.Backing = l.asLaid(unitOf(l.Backing.Product, l.Backing.Unit, cat))
	}
	m.Thickness = cmp.Or(l.Thickness, m.Unit.Thickness)
	if m.HeadersEvery == 0 {
		m.HeadersEvery = book.Count("bond.headers_every")
	}
	if l.BedJoint != nil {
		m.Bed = *l.BedJoint
	}
	if l.Perpend != nil {
		m.Perpend = *l.Perpend
	}
	switch {
	case l.Mortar != "":
		m.Mortar = l.Mortar
	case t.Mortar != "":
		m.Mortar = t.Mortar
	}
	return m
}

func unitOf(code string, u *Unit, cat *product.Catalogue) *product.Product {
	if u != nil {
		return u.product()
	}
	return cat.Find(code)
}

// asLaid turns a unit as the leaf lays it: flat, or in a rat-trap bond on edge.
func (l *Leaf) asLaid(p *product.Product) *product.Product {
	if l.Laid != "flat" && l.Bond != "rat_trap" {
		return p
	}
	turned := *p
	turned.Height, turned.Thickness = p.Thickness, p.Height
	return &turned
}

// Collar is the joint between the half bricks of a thicker leaf: what two of them
// leave of a unit's length, or a perpend where units are not made for that.
func (m *Made) Collar() measure.Length {
	if c := m.Unit.Length - 2*m.Unit.Thickness; c >= collar.least && c <= collar.most {
		return c
	}
	return m.Perpend
}

// Ranks are where the units that stand side by side across the leaf begin, from its outer face.
func (m *Made) Ranks() []measure.Length {
	list := make([]measure.Length, m.HalfBricks())
	for i := range list {
		list[i] = measure.Length(i) * (m.Unit.Thickness + m.Collar())
	}
	if m.Bond == "rat_trap" {
		return []measure.Length{0, m.Thickness - m.Unit.Thickness} // a hollow between
	}
	return list
}

// HalfBricks is how many units stand side by side across the leaf, at least 1.
func (m *Made) HalfBricks() int {
	return 1 + int((m.Thickness-m.Unit.Thickness)/(m.Unit.Thickness+m.Collar()))
}

// product makes a unit given in line into a product; its code is its kind, size and mass.
func (u *Unit) product() *product.Product {
	size := u.Length.String() + "x" + u.Thickness.String() + "x" + u.Height.String()
	pack := 1
	if u.Pack != nil {
		pack = *u.Pack
	}
	return &product.Product{
		Code: u.Kind + "-" + size + "-" + u.Mass.String() + "kg",
		Name: u.Kind + " " + size + " mm",
		Kind: product.Kind(u.Kind), Length: u.Length, Thickness: u.Thickness, Height: u.Height,
		Mass: u.Mass, Pack: pack, Loose: pack == 1, Frog: u.Frog, Perforations: u.Perforations,
	}
}
