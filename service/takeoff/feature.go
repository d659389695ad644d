package takeoff

import (
	"cmp"
	"slices"
	"strconv"

	"hodman/service/arch"
	"hodman/service/bond"
	"hodman/service/finding"
	"hodman/service/measure"
	"hodman/service/product"
	"hodman/service/schedule"
)

// featured adds to the outer or only leaf's run what of it is laid of other units, or
// of its own otherwise: arches, soldier courses, sills and bands.
func (j *job) featured(wall int, r *bond.Run) {
	w := r.Wall
	if r.Leaf.Back != 0 || !hasFeatures(w) {
		return
	}
	for k := range w.Openings {
		o := &w.Openings[k]
		switch {
		case o.HasArch():
			j.arch(wall, k, r)
		case o.Head.Soldier:
			j.soldiers(k, r)
		}
		if region, ok := r.Leaf.Under(o, j.cat); ok {
			u := r.Leaf.SillUnit(o, j.cat)
			l := lie{unit: u, face: bond.OnEdge, long: u.Height, high: u.Thickness, deep: u.Length, joint: r.Leaf.Perpend, bed: r.Leaf.Bed}
			strips := l.behind(l.course(nil, region.Left, region.Right, l.bed), r.Leaf, region.Left, region.Right, l.bed)
			r.Features = append(r.Features, bond.Feature{Gap: gap(region), Unit: u, Strips: strips})
		}
	}
	for i := range w.Bands {
		j.band(wall, &w.Bands[i], r)
	}
}

func hasFeatures(w *schedule.Wall) bool {
	if len(w.Bands) > 0 {
		return true
	}
	for k := range w.Openings {
		if o := &w.Openings[k]; o.HasArch() || o.Head.Soldier || o.SillCourse != nil {
			return true
		}
	}
	return false
}

func gap(r schedule.Region) bond.Gap {
	return bond.Gap{From: r.Left, To: r.Right, Foot: r.Foot, Head: r.Head}
}

// lie is how the units of a course lie: so long along the wall, high and deep, with the
// joint between them and the bed under them.
type lie struct {
	unit             *product.Product
	face             bond.Face
	long, high, deep measure.Length
	joint, bed       measure.Length
	cut              bond.Cut       // of every one
	y                measure.Length // from the leaf's outer face
}

// course lays units from one end to the other, foot over the feature's own: as many as go, the
// rest taken up in the joints where they stay within a fifth of their own width, else by a cut
// one, or where that would be no wider than a joint by two that share the last one's place.
func (l *lie) course(list []bond.Strip, from, to, foot measure.Length) []bond.Strip {
	n := int((to - from + l.joint) / (l.long + l.joint))
	over := to - from + l.joint - measure.Length(n)*(l.long+l.joint)
	s := bond.Strip{X: from, Length: l.long, Y: l.y, Depth: l.deep, Foot: foot, Height: l.high, Count: n, Pitch: l.long + l.joint, Face: l.face, Cut: l.cut}
	slack := measure.Length(max(0, n-1)) * l.joint / 5
	switch {
	case over <= slack && n > 1:
		s.Pitch += over / measure.Length(n-1)
	case l.long+l.joint-over <= slack:
		s.Count++
		// Rounded up, so that the last one does not reach beyond the end.
		s.Pitch -= measure.Length(measure.CeilDiv(int64(l.long+l.joint-over), int64(n)))
	case over > 2*l.joint:
		rest := s
		rest.X, rest.Length, rest.Count, rest.Cut = from+measure.Length(n)*s.Pitch, over-l.joint, 1, bond.InHeight
		list = append(list, rest)
	case over > l.joint && n > 0:
		s.Count--
		rest := s
		rest.X, rest.Length, rest.Count, rest.Cut = from+measure.Length(n-1)*s.Pitch, (l.long+over-l.joint)/2, 2, bond.InHeight
		rest.Pitch = rest.Length + l.joint
		list = append(list, rest)
	}
	if s.Count > 0 {
		list = append(list, s)
	}
	return list
}

// behind fills what a leaf thicker than a unit is long has behind a course that lies
// across it: with the same units, snapped.
func (l lie) behind(list []bond.Strip, m *schedule.Made, from, to, foot measure.Length) []bond.Strip {
	l.y, l.cut = l.unit.Length+m.Collar(), bond.InLength
	if l.deep = m.Thickness - l.y; l.deep <= 0 {
		return list
	}
	return l.course(list, from, to, foot)
}

// soldiers is a soldier course over opening k, through the thickness of the leaf.
func (j *job) soldiers(k int, r *bond.Run) {
	o := &r.Wall.Openings[k]
	region, _ := r.Leaf.Over(o, j.cat, j.book)
	u := r.Leaf.HeadUnit(o, j.cat)
	f := bond.Feature{Gap: gap(region), Unit: u}
	for _, y := range r.Leaf.Ranks() {
		l := lie{unit: u, face: bond.Soldier, long: u.Height, high: u.Length, deep: u.Thickness, joint: r.Leaf.Perpend, bed: r.Leaf.Bed, y: y}
		f.Strips = l.course(f.Strips, region.Left, region.Right, l.bed)
	}
	r.Features = append(r.Features, f)
}

// band is a band of a wall, course by course, between its ends and the openings that break it.
func (j *job) band(wall int, b *schedule.Band, r *bond.Run) {
	m, u := r.Leaf, r.Leaf.BandUnit(b, j.cat)
	head := m.BandHead(b, j.cat)
	start, gapStart := j.bandEnd(wall, 0, b, head, m)
	end, gapEnd := j.bandEnd(wall, 1, b, head, m)
	end, gapEnd = r.Wall.Length-end, r.Wall.Length-gapEnd
	lay := func(from, to measure.Length) {
		if to-from <= 2*m.Perpend {
			return
		}
		f := bond.Feature{Gap: bond.Gap{From: from, To: to, Foot: b.At, Head: head}, Unit: u}
		if from == start {
			f.From = gapStart
		}
		if to == end {
			f.To = gapEnd
		}
		long, high := m.BandCourse(b, j.cat)
		for n := range max(1, b.Courses) {
			foot := measure.Length(n)*(high+m.Bed) + m.Bed
			f.Strips = bandCourse(f.Strips, b.Kind, m, u, long, high, from, to, foot, n)
		}
		r.Features = append(r.Features, f)
	}
	at := start
	for _, o := range across(r, b.At, head) {
		lay(at, min(o.From, end))
		at = max(at, o.To)
	}
	lay(at, end)
}

// bandEnd is where a band starts at the wall's left end, or ends at its right, and where the courses
// that it takes the place of do, both measured inwards. Where the wall round the corner has the
// same band, the left one's runs through; where it has none, the courses keep the corner.
func (j *job) bandEnd(wall, side int, b *schedule.Band, head measure.Length, m *schedule.Made) (band, courses measure.Length) {
	t := &j.meetings[wall][0][side]
	if !t.Bonded || t.Junction {
		return t.Owned(m.Perpend), t.Owned(m.Perpend)
	}
	w, other := &j.schedule.Walls[wall], &j.schedule.Walls[t.Wall]
	for i := range other.Bands {
		o := &other.Bands[i]
		if t.Leaf != 0 || o.At+other.Base != b.At+w.Base || j.leaves(t.Wall)[0].BandHead(o, j.cat)+other.Base != head+w.Base {
			continue
		}
		if side == 1 {
			return t.Face, t.Face
		}
		return max(t.Lent(m.Perpend), t.Behind(m.Perpend)), t.Face
	}
	return t.Lent(m.Perpend), t.Lent(m.Perpend) - m.Perpend
}

// across are the openings and joints that break a band, from left to right.
func across(r *bond.Run, foot, head measure.Length) []bond.Gap {
	var list []bond.Gap
	for i := range r.Wall.Openings {
		if o := &r.Wall.Openings[i]; o.Sill < head && foot < o.Top() {
			list = append(list, bond.Gap{From: o.Left, To: o.Right()})
		}
	}
	for _, g := range r.Gaps {
		if g.Foot < head && (g.Head == 0 || foot < g.Head) {
			list = append(list, g)
		}
	}
	slices.SortFunc(list, func(a, b bond.Gap) int { return cmp.Compare(a.From, b.From) })
	return list
}

// bandCourse lays one course of a band. Headers reach through a leaf that is as thick as
// they are long, and are snapped in a thinner one; of a dentil every other stands out whole.
func bandCourse(list []bond.Strip, kind string, m *schedule.Made, u *product.Product, long, high, from, to, foot measure.Length, n int) []bond.Strip {
	l := lie{unit: u, long: long, high: high, joint: m.Perpend, bed: m.Bed}
	switch kind {
	case "soldier", "stretcher":
		if l.face = bond.Stretcher; kind == "soldier" {
			l.face = bond.Soldier
		}
		l.deep = u.Thickness
		half := (long - m.Perpend) / 2
		for _, l.y = range m.Ranks() {
			start := from
			if kind == "stretcher" && n%2 == 1 && to-from > long {
				// Every other course starts with a half.
				list = append(list, bond.Strip{X: from, Length: half, Y: l.y, Depth: l.deep, Foot: foot, Height: high, Count: 1, Cut: bond.InLength})
				start += half + m.Perpend
			}
			list = l.course(list, start, to, foot)
		}
		return list
	}
	if l.face = bond.Header; kind == "on_edge" {
		l.face = bond.OnEdge
	}
	l.deep = u.Length
	if m.Thickness < u.Length {
		l.deep, l.cut = m.Thickness, bond.InLength
	}
	list = l.course(list, from, to, foot)
	if kind != "dentil" || l.cut == bond.Whole {
		return l.behind(list, m, from, to, foot)
	}
	// Every other of the snapped headers is a whole one that stands out.
	last := &list[len(list)-1]
	out := *last
	out.X, out.Count, out.Depth, out.Cut = last.X+last.Pitch, last.Count/2, u.Length, bond.Whole
	last.Count -= out.Count
	last.Pitch, out.Pitch = 2*last.Pitch, 2*last.Pitch
	if out.Count > 0 {
		list = append(list, out)
	}
	return list
}

// arch is the arch over opening k: its rings count as pieces, and the masonry is cut to it.
func (j *job) arch(wall, k int, r *bond.Run) {
	m, o := r.Leaf, &r.Wall.Openings[k]
	u := m.HeadUnit(o, j.cat)
	region, _ := m.Over(o, j.cat, j.book)
	deep := m.RingDepth(o, u)
	a := bond.Arch{Opening: k, Depth: deep, Joint: m.Bed}
	if r.Curves == nil {
		r.Curves = make([]*bond.Curve, len(r.Wall.Openings))
	}
	if o.Head.Kind == "flat_arch" {
		lean := (region.Right - o.Right())
		r.Curves[k] = bond.FlatCurve(o, region.Head-o.Top(), lean, region.Head-o.Top())
		a.Intrados = *r.Curves[k]
		a.Counts = []int{arch.Flat(o.Width, lean, u.Height, m.Bed)}
	} else {
		arc := arcOf(o)
		r.Curves[k] = bond.CurveOf(o, region.Head-o.Top())
		a.Intrados = *bond.CurveOf(o, 0)
		if o.Head.Gauged {
			a.Counts = []int{arch.Gauged(arc, deep, u.Height, m.Bed)}
		} else {
			a.Counts = arch.Rings(arc, o.Rings(j.book), deep, u.Height, m.Bed)
		}
	}
	face, behind := ringStrips(&a, m, u, region.Left)
	r.Features = append(r.Features, bond.Feature{Gap: bond.Gap{Foot: region.Foot}, Unit: u, Arch: &a, Strips: append(face, behind...)})
	j.tellArch(wall, k, &a, u, behind)
}

// ringStrips are the bricks of an arch, ring by ring on the face, and those that stand behind them in a thicker
// leaf: bricks cut to the arch in every rank, a rough ring's whole ones made up with snapped ones.
func ringStrips(a *bond.Arch, m *schedule.Made, u *product.Product, left measure.Length) (face, behind []bond.Strip) {
	for i, n := range a.Counts {
		s := bond.Strip{X: left, Length: u.Height, Depth: min(m.Thickness, u.Length), Foot: measure.Length(i) * (a.Depth + m.Bed), Height: a.Depth, Count: n, Face: bond.Voussoir}
		back := s
		back.Y, back.Cut = u.Length+m.Collar(), bond.InLength
		back.Depth = m.Thickness - back.Y
		switch {
		case a.Depth == u.Length:
			s.Depth, s.Cut = u.Thickness, bond.InHeight // each takes one whole
			for _, s.Y = range m.Ranks()[1:] {
				behind = append(behind, s)
			}
			s.Y = 0
		case m.Thickness < u.Length:
			s.Cut = bond.InLength // on edge, its length into the leaf
		case back.Depth > 0:
			behind = append(behind, back)
		}
		face = append(face, s)
	}
	return face, behind
}

func arcOf(o *schedule.Opening) arch.Arc {
	return arch.Arc{Half: o.Width / 2, Rise: o.ArchRise(), Circle: o.Shape == "round"}
}

// tellArch says what an arch came to, and who decides on it.
func (j *job) tellArch(wall, k int, a *bond.Arch, u *product.Product, behind []bond.Strip) {
	o := &j.schedule.Walls[wall].Openings[k]
	text := "wall " + j.schedule.Walls[wall].Ref + ": the arch over " + o.Ref + " takes "
	total := 0
	for i, n := range a.Counts {
		if i > 0 {
			text += " + "
		}
		text += strconv.Itoa(n)
		total += n
	}
	if len(a.Counts) > 1 {
		text += " = " + strconv.Itoa(total)
	}
	text += " of " + u.Code
	if a.Depth == u.Length {
		text += ", cut to the arch"
	}
	if n := 0; len(behind) > 0 {
		for i := range behind {
			n += behind[i].Count
		}
		text += ", and " + strconv.Itoa(n) + " behind them in the thickness of the wall"
	}
	if len(j.leaves(wall)) == 2 {
		text += ". Nothing is counted that carries the inner leaf over it"
	}
	j.note(finding.Check, "arch.design", j.openingAt(wall, k)+"/head", text+". An arch thrusts outwards and stands on centring until it carries itself: no load was looked at, and nothing is counted for centring",
		"have the engineer decide on the arch, its abutments and its centring, and when that may be eased", "arch.rings")
}

// shapedArea is an opening's area: a rectangle's, less what a curve leaves standing.
func shapedArea(o *schedule.Opening) measure.Area {
	a := arcOf(o)
	switch {
	case !o.Curved():
		return o.Width.Times(o.Height)
	case a.Circle:
		return a.Area()
	}
	return o.Width.Times(o.Height-a.Rise) + a.Area()
}
