package bond

import (
	"cmp"
	"fmt"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"hodman/service/measure"
	"hodman/service/product"
	"hodman/service/schedule"
)

// drawBonded is a leaf of any bond that its units hold.
func drawBonded(t *rapid.T) *schedule.Made {
	sizes := [][3]float64{{215, 102.5, 65}, {230, 110, 76}, {190, 90, 90}, {222, 106, 73}, {193.675, 92.075, 57.15}}
	s := rapid.SampledFrom(sizes).Draw(t, "unit")
	m := made(&product.Product{Length: mm(s[0]), Thickness: mm(s[1]), Height: mm(s[2])})
	m.Bond = rapid.SampledFrom([]string{"stretcher", "half", "third", "stack", "header", "english", "flemish",
		"english_garden_wall", "flemish_garden_wall", "monk", "rat_trap"}).Draw(t, "bond")
	m.HeadersEvery = rapid.IntRange(2, 6).Draw(t, "every")
	ranks := rapid.IntRange(1, 3).Draw(t, "half bricks")
	if m.Bond == "header" {
		ranks = min(ranks, 2)
	}
	m.Thickness = measure.Length(ranks)*m.Unit.Thickness + measure.Length(ranks-1)*m.Collar()
	if m.Bond == "rat_trap" {
		m.Unit = &product.Product{Length: mm(s[0]), Thickness: mm(s[2]), Height: mm(s[1])}
		m.Thickness = m.Unit.Length
	}
	return m
}

// rectangle is one piece on the plan of a course.
type rectangle struct{ x0, x1, y0, y1 measure.Length }

func expanded(b *Band) (list []rectangle) {
	for _, s := range b.Strips {
		for k := range s.Count {
			x := s.X + measure.Length(k)*s.Pitch
			list = append(list, rectangle{x, x + s.Length, s.Y, s.Y + s.Depth})
		}
	}
	return list
}

// TestPiecesFillTheCourse: in any bond, on plan, no two pieces of a course share
// ground, none is outside the leaf or in an opening, and seen along the wall no gap
// in any half brick of its thickness is wider than a joint.
func TestPiecesFillTheCourse(t *testing.T) { rapid.Check(t, piecesFillTheCourse) }

// FuzzBond is the same, led by coverage.
func FuzzBond(f *testing.F) { f.Fuzz(rapid.MakeFuzz(piecesFillTheCourse)) }

func piecesFillTheCourse(t *rapid.T) {
	m, w := drawBonded(t), drawWall(t)
	l := newLayer(Run{Leaf: m, Wall: w}, gb)
	l.out, l.kept = new(Laying), new([]Strip)
	owns := [2]bool{rapid.Bool().Draw(t, "owns left") && w.Left.Corner(), rapid.Bool().Draw(t, "owns right") && w.Right.Corner()}
	l.lay(owns[0], owns[1])
	joint := max(m.Perpend, m.Collar(), (m.Unit.Length+m.Perpend)/2-m.Unit.Thickness)
	for i := range l.out.Bands {
		b := &l.out.Bands[i]
		if b.Head-b.Foot < m.Unit.Height || l.holed(b.First) {
			continue // with splits over one another; see the elevation's own check
		}
		list := expanded(b)
		for _, s := range b.Strips {
			if s.Cut == InWidth && s.Length >= m.Unit.Thickness || s.Cut == InLength && s.Size(m.Unit.Length) > m.Unit.Length {
				t.Fatalf("course %d: no unit is large enough for %+v", b.First, s)
			}
		}
		for k, p := range list {
			if p.y0 < 0 || p.y1 > m.Thickness || p.x1 <= p.x0 {
				t.Fatalf("course %d: piece %v is outside a leaf %v thick", b.First, p, m.Thickness)
			}
			for _, q := range list[:k] {
				if p.x0 < q.x1 && q.x0 < p.x1 && p.y0 < q.y1 && q.y0 < p.y1 {
					t.Fatalf("course %d: pieces %v and %v share ground", b.First, p, q)
				}
			}
		}
		odd := l.odd(b.First)
		for rank := range m.HalfBricks() {
			y := measure.Length(rank)*(m.Unit.Thickness+m.Collar()) + m.Unit.Thickness/2
			if m.Bond == "rat_trap" && rank > 0 {
				y = m.Thickness - m.Unit.Thickness/2
			}
			l.noGap(t, b, list, y, joint, owns[0] == odd, owns[1] == odd)
		}
	}
}

// holed says whether an opening takes anything out of course n.
func (l *layer) holed(n int) bool {
	return slices.ContainsFunc(l.spans, func(o hole) bool { return n >= o.first && n < o.next })
}

// noGap walks along a course at depth y.
func (l *layer) noGap(t *rapid.T, b *Band, list []rectangle, y, joint measure.Length, ownsLeft, ownsRight bool) {
	m := l.run.Leaf
	through := func(e *end, owns bool) measure.Length {
		inner := y > m.Thickness-m.Unit.Thickness
		if e.thick && owns && (e.inner && inner || !e.inner && y < m.Unit.Thickness) {
			return e.face
		}
		return e.at(owns)
	}
	start, end := through(&l.left, ownsLeft), l.run.Wall.Length-through(&l.right, ownsRight)
	var here []rectangle
	for _, p := range list {
		if p.y0 < y && y < p.y1 {
			here = append(here, p)
		}
	}
	slices.SortFunc(here, func(a, b rectangle) int { return cmp.Compare(a.x0, b.x0) })
	if len(here) == 0 && end-start > joint {
		t.Fatalf("course %d at depth %v: nothing from %v to %v", b.First, y, start, end)
	}
	at := start
	for _, p := range here {
		// Where the body of the course meets what runs through a corner it may end in a
		// joint of its own.
		wide := joint
		if reach := m.Unit.Length + joint; l.left.thick && at < l.left.behind+reach || l.right.thick && p.x0 > l.run.Wall.Length-l.right.behind-reach {
			wide = 2 * joint
		}
		if p.x0 < at || p.x0-at > wide {
			t.Fatalf("course %d at depth %v: gap from %v to %v\n%s", b.First, y, at, p.x0, fmt.Sprint(here))
		}
		at = p.x1
	}
	if end-at > joint || at > end {
		t.Fatalf("course %d at depth %v: ends at %v, the run at %v", b.First, y, at, end)
	}
}
