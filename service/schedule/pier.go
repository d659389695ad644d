package schedule

import (
	"strconv"

	"hodman/service/measure"
	"hodman/service/product"
)

// Pier is masonry that stands out from a wall and is laid with it.
type Pier struct {
	At    measure.Length `json:"at_mm"` // its left face, from the wall's left end
	Width measure.Length `json:"width_mm"`
	// Projection is how far it stands out, with or without the joint between it and the wall.
	Projection measure.Length `json:"projection_mm"`
	// Height is above the wall's base; nil: up to the wall's height line.
	Height *measure.Length `json:"height_mm,omitzero"`
	Side   string          `json:"side,omitzero"`   // "inside" (default), "outside"
	Joined string          `json:"joined,omitzero"` // "bonded" (default), "tied"
}

// Plinth is the lowest courses of a wall's face laid of a unit of their own.
type Plinth struct {
	Product string          `json:"product,omitzero"`
	Unit    *Unit           `json:"unit,omitzero"`
	Courses *int            `json:"courses,omitzero"`
	Height  *measure.Length `json:"height_mm,omitzero"`
}

// MadePier is a pier as it is laid: against which leaf, how many half bricks it stands
// out and is wide, and up to which height.
type MadePier struct {
	From, To measure.Length
	Leaf     int
	Outside  bool
	Bonded   bool
	Ranks    int // half bricks that it stands out
	Halves   int // half bricks along the wall; nought where it is tied
	Head     measure.Length
}

// mostPierRanks is how many half bricks a pier may stand out.
const mostPierRanks = 4

// made is the pier against a wall of such leaves, which the schedule's check has passed.
func (p *Pier) made(w *Wall, leaves []Made) MadePier {
	m := MadePier{From: p.At, To: p.At + p.Width, Leaf: len(leaves) - 1, Outside: p.Side == "outside", Bonded: p.Joined != "tied", Head: w.Height}
	if m.Outside {
		m.Leaf = 0
	}
	if p.Height != nil {
		m.Head = *p.Height
	}
	leaf := &leaves[m.Leaf]
	if w.Highest() > w.Height {
		m.Head -= m.Head % leaf.Gauge() // under a slope it ends with the last whole course
	}
	m.Ranks = int((p.Projection + leaf.Collar()) / (leaf.Unit.Thickness + leaf.Collar()))
	if m.Bonded {
		m.Halves = int((p.Width + leaf.headerJoint()) / leaf.HeaderPitch())
	}
	return m
}

// MadePiers are a wall's piers as they are laid.
func (w *Wall) MadePiers(leaves []Made) []MadePier {
	if len(w.Piers) == 0 {
		return nil
	}
	list := make([]MadePier, len(w.Piers))
	for i := range w.Piers {
		list[i] = w.Piers[i].made(w, leaves)
	}
	return list
}

// HeaderPitch is a header with its joint: two of them are as long as a stretcher with its own.
func (m *Made) HeaderPitch() measure.Length { return (m.Unit.Length + m.Perpend) / 2 }

func (m *Made) headerJoint() measure.Length { return m.HeaderPitch() - m.Unit.Thickness }

// holdsHeaders says whether two half bricks and the joint between them are as deep as a
// header is long, and two headers as wide as a stretcher.
func (m *Made) holdsHeaders() bool {
	return m.Bond != "rat_trap" && collar.holds(m.Unit.Length-2*m.Unit.Thickness) && collar.holds(m.headerJoint())
}

// pierSizes checks the sizes of a wall's piers and of its plinth by themselves.
func (c *checker) pierSizes(prefix string, w *Wall, high bool) {
	if c.count(prefix, "piers", len(w.Piers), 0, MaxPiers) {
		for k := range w.Piers {
			p, at := &w.Piers[k], prefix+"/piers/"+strconv.Itoa(k)
			c.length(at, "at_mm", p.At, standsAt)
			c.length(at, "width_mm", p.Width, pierWidth)
			c.length(at, "projection_mm", p.Projection, pierProjection)
			if p.Height != nil && c.length(at, "height_mm", *p.Height, wallHeight) && high && *p.Height > w.Height {
				c.add(at, "height_mm", "outside", "is "+p.Height.String()+" mm, over the wall's height line at "+w.Height.String()+" mm; make it that at most")
			}
			c.optionalChoice(at, "side", p.Side, sides...)
			c.optionalChoice(at, "joined", p.Joined, joined...)
		}
	}
	if w.Plinth == nil {
		return
	}
	p := w.Plinth
	prefix += "/plinth"
	if (p.Product == "") == (p.Unit == nil) {
		c.faults.Add(prefix, "inconsistent", "give either product, a code of the catalogue, or unit, a brick or block in line")
	}
	if p.Product != "" && c.key(prefix, "product", p.Product) {
		c.laid(prefix, p.Product)
	}
	if p.Unit != nil {
		c.unit(prefix+"/unit", p.Unit)
	}
	if p.Courses != nil && (*p.Courses < 1 || *p.Courses > MaxPlinth) {
		c.add(prefix, "courses", "range", "is "+strconv.Itoa(*p.Courses)+"; give 1 to "+strconv.Itoa(MaxPlinth))
	}
	if p.Height != nil {
		c.length(prefix, "height_mm", *p.Height, wallHeight)
	}
	if (p.Courses == nil) == (p.Height == nil) {
		c.faults.Add(prefix, "inconsistent", "give either courses or height_mm")
	}
}

// MaxPlinth is how many courses a plinth may have.
const MaxPlinth = 1000

// piers checks that a wall's piers can be laid with the leaves they stand against, and
// its plinth.
func (c *checker) piers(s *Schedule, i int, leaves []Made, ends [][2]Meeting, stems []Stem) {
	w, prefix := &s.Walls[i], "/walls/"+strconv.Itoa(i)
	made := w.MadePiers(leaves)
	for k := range made {
		p, at := &made[k], prefix+"/piers/"+strconv.Itoa(k)
		m := &leaves[p.Leaf]
		before := len(c.faults)
		c.pierFits(at, &w.Piers[k], m)
		c.pierPlaced(at, w, p, m, &ends[p.Leaf])
		if len(c.faults) == before {
			c.pierClear(at, w, p, m, stems, made[:k])
		}
	}
	if w.Plinth != nil {
		c.plinth(prefix+"/plinth", w, &leaves[0])
	}
}

// pierFits checks that a pier is made up of whole half bricks, and that its height works to courses.
func (c *checker) pierFits(at string, p *Pier, m *Made) {
	half, joint := m.Unit.Thickness, m.Collar()
	k := max(1, (p.Projection+joint)/(half+joint))
	alone := k*half + (k-1)*joint
	if p.Projection != alone && p.Projection != alone+joint || k > mostPierRanks {
		c.add(at, "projection_mm", "inconsistent", "is "+p.Projection.String()+" mm; units of "+size(m.Unit)+" mm stand out by "+half.String()+", "+(2*half+joint).String()+", "+(3*half+2*joint).String()+" or "+(4*half+3*joint).String()+" mm, each with or without a joint of "+joint.String()+" mm to the wall")
	}
	switch {
	case p.Joined == "tied":
		if p.Width < half {
			c.add(at, "width_mm", "inconsistent", "is "+p.Width.String()+" mm, narrower than its units are thick; make it "+half.String()+" mm at least")
		}
	case !m.holdsHeaders():
		c.add(at, "joined", "not_supported", "units of "+size(m.Unit)+" mm do not bond a pier: two of them and a joint are not as deep as one is long; make it tied, or the wall of bricks")
	default:
		pitch := m.HeaderPitch()
		n := max(2, measure.Length(measure.HalfUpDiv(int64(p.Width+m.headerJoint()), int64(pitch))))
		if p.Width != n*pitch-m.headerJoint() {
			c.add(at, "width_mm", "inconsistent", "is "+p.Width.String()+" mm; a bonded pier is so many half bricks wide: the nearest is "+(n*pitch-m.headerJoint()).String()+" mm")
		}
	}
	if p.Height != nil {
		c.toGauge(at, *p.Height, m.Gauge())
	}
}

// pierPlaced checks that the leaf is there behind a pier: up to a free end, clear of any other.
func (c *checker) pierPlaced(at string, w *Wall, p *MadePier, m *Made, ends *[2]Meeting) {
	room := func(t *Meeting) measure.Length {
		if t.Wall < 0 {
			return t.Owned(m.Perpend)
		}
		return max(0, t.Lent(m.Perpend), t.Behind(m.Perpend)) + m.Perpend
	}
	from, to := room(&ends[0]), w.Length-room(&ends[1])
	if p.From < from || p.To > to {
		c.add(at, "at_mm", "outside", "puts the pier at "+p.From.String()+" to "+p.To.String()+" mm; the "+m.Name+" leaf has room for it from "+from.String()+" to "+to.String()+" mm")
	}
}

// pierClear checks that no opening, joint, wall or other pier stands where a pier does.
func (c *checker) pierClear(at string, w *Wall, p *MadePier, m *Made, stems []Stem, others []MadePier) {
	from, to := p.From-m.Perpend, p.To+m.Perpend
	what := c.inTheWay(w, m, Region{from, to, 0, p.Head})
	for k := range stems {
		if e := &stems[k]; e.Other == p.Leaf && e.From-m.Perpend < to && from < e.To+m.Perpend && e.Over < p.Head {
			what = "the wall that meets this one at " + e.From.String() + " mm"
		}
	}
	for k := range others {
		if o := &others[k]; o.Leaf == p.Leaf && o.From-m.Perpend < to && from < o.To+m.Perpend {
			what = "the pier at " + o.From.String() + " mm"
		}
	}
	if what != "" {
		c.add(at, "at_mm", "overlap", "puts the pier with its joints at "+from.String()+" to "+to.String()+" mm, in the way of "+what+"; move one of them")
	}
}

// toGauge checks that a height is so many courses.
func (c *checker) toGauge(prefix string, height, gauge measure.Length) {
	if height%gauge == 0 {
		return
	}
	lower, ways := height/gauge*gauge, ""
	if lower > 0 {
		ways = lower.String() + " or "
	}
	c.add(prefix, "height_mm", "inconsistent", "is "+height.String()+" mm, no whole number of courses of "+gauge.String()+" mm; make it "+ways+(lower+gauge).String()+" mm")
}

// plinth checks that a plinth's units lie in the courses of the leaf, and how high it is.
func (c *checker) plinth(prefix string, w *Wall, m *Made) {
	p := w.Plinth
	u := unitOf(p.Product, p.Unit, c.cat)
	if u.Length != m.Unit.Length || u.Thickness != m.Unit.Thickness || u.Height != m.Unit.Height {
		c.faults.Add(prefix, "inconsistent", "is of "+size(u)+" mm, and the leaf of "+size(m.Unit)+" mm as laid; its courses bond with the rest only where they are of one size")
	}
	gauge := m.Gauge()
	c.toGauge(prefix, p.height(gauge), gauge)
	if height := p.height(gauge); height > w.Height {
		c.faults.Add(prefix, "outside", "is "+height.String()+" mm high, and the wall "+w.Height.String()+" mm; make it lower")
	}
}

// Of is the unit that the plinth of a checked schedule is laid of, and how many courses of it.
func (p *Plinth) Of(gauge measure.Length, cat *product.Catalogue) (*product.Product, int) {
	return unitOf(p.Product, p.Unit, cat), int(p.height(gauge) / gauge)
}

func (p *Plinth) height(gauge measure.Length) measure.Length {
	if p.Courses != nil {
		return measure.Length(*p.Courses) * gauge
	}
	return *p.Height
}
