package takeoff

import (
	"testing"

	"pgregory.net/rapid"

	"hodman/service/bond"
	"hodman/service/measure"
	"hodman/service/product"
	"hodman/service/rulebook"
)

// TestLawsOfPieces: whatever the bond, the top and the openings, the pieces are what the
// takeoff counts, and units x the area of their module are the wall's net area within
// the closers and the cuts.
func TestLawsOfPieces(t *testing.T) { rapid.Check(t, lawsOfPieces) }

// FuzzShapes is the same, led by coverage.
func FuzzShapes(f *testing.F) { f.Fuzz(rapid.MakeFuzz(lawsOfPieces)) }

func lawsOfPieces(t *rapid.T) {
	s := randomPanel(t)
	if faults := s.Check(product.Demo()); len(faults) > 0 {
		s.Walls[0].Piers = nil
	}
	if faults := s.Check(product.Demo()); len(faults) > 0 {
		t.Skip("refused") // too short for its units; nothing is laid
	}
	out := Compute(s, product.Demo(), rulebook.GB())
	pieces := 0
	for k, l := range layAll(s)[0] {
		leaf := &out.Walls[0].Leaves[k]
		pieces += sums(t, &l.Laying, leaf)
		if hasFeatures(&s.Walls[0]) || len(s.Walls[0].Piers) > 0 {
			continue // what is laid of other units has other modules
		}
		areaLaw(t, &l, leaf.Net, s.SettingOut == "best")
	}
	for _, l := range out.Lines {
		pieces -= l.Laid
	}
	if pieces != 0 {
		t.Fatalf("%d pieces are laid that no line counts", pieces)
	}
}

// sums counts the pieces one by one and finds the takeoff.
func sums(t *rapid.T, laid *bond.Laying, leaf *Leaf) int {
	var whole, splits, others, raking, closers int
	for i := range laid.Bands {
		b := &laid.Bands[i]
		for _, p := range b.Strips {
			if p.Face != bond.Voussoir && (p.Length <= 0 || p.Height <= 0 || p.Depth <= 0 || p.Count < 1 || p.Count > 1 && p.Pitch < p.Length || p.Foot < 0 || p.Foot+p.Height > b.Head-b.Foot) {
				t.Fatalf("course %d: no piece is like %+v", b.First, p)
			}
			switch n := p.Count * b.Count; p.Cut {
			case bond.Whole:
				whole += n
			case bond.InHeight:
				splits += n
			case bond.ToShape:
				raking += n
				others += n
			case bond.InWidth:
				closers += n
				others += n
			default:
				others += n
			}
		}
	}
	cuts := 0
	for _, c := range leaf.Cuts {
		cuts += c.Count
	}
	low := 0
	for _, c := range leaf.Splits {
		low += c.Count
	}
	if leaf.Whole != whole || cuts != others || low != splits || leaf.Raking != raking || leaf.Closers != closers {
		t.Fatalf("pieces: %d whole, %d cut, %d low, %d raking, %d closers; counted %d, %d, %d, %d, %d",
			whole, others, splits, raking, closers, leaf.Whole, cuts, low, leaf.Raking, leaf.Closers)
	}
	return whole + others + splits
}

// areaLaw compares whole units with the area of their modules. What it allows is named: a
// perpend for every stretch of a course, for its last unit brings one that no other unit
// follows, and perpends where they are made to suit; the bed's worth over the last course, and what is too low to lay over a head,
// under a sill and under a slope. Cut pieces are counted as nothing, or as whole.
func areaLaw(t *rapid.T, l *laidLeaf, net measure.Area, suited bool) {
	m, w, laid := l.made, l.wall, &l.Laying
	gauge, ranks := m.Gauge(), measure.Area(m.HalfBricks())
	module := func(perpend measure.Length) measure.Area {
		if m.Bond == "rat_trap" { // two stretchers and a header stand on the length of one of each
			return (m.Unit.Length + m.Unit.Thickness + 2*perpend).Times(gauge) / 3
		}
		return (m.Unit.Length + perpend).Times(gauge)
	}
	if m.Bond == "rat_trap" {
		ranks = 1
	}
	thin, wide := m.Perpend, m.Perpend
	if suited {
		thin, wide = rulebook.GB().Length("joint.perpend_least"), rulebook.GB().Length("joint.perpend_most")
	}
	whole, pieces := 0, 0
	for i := range laid.Bands {
		b := &laid.Bands[i]
		for _, p := range b.Strips {
			pieces += p.Count * b.Count
			if p.Cut == bond.Whole {
				whole += p.Count * b.Count
			}
		}
	}
	courses := measure.Area(w.Highest()/gauge + 1)
	joints := ranks * courses * measure.Area(len(w.Openings)+len(l.joints)+1) * 2 * m.Perpend.Times(gauge)
	low := 2*m.Bed.Times(w.Length) + m.Perpend.Times(w.Highest())*2
	for _, j := range l.joints {
		low += j.Width.Times(w.Highest())
	}
	for _, o := range w.Openings {
		low += 2 * o.Width.Times(25*ms+m.Bed)
	}
	if most := ranks*net + joints; measure.Area(whole)*module(thin) > most {
		t.Fatalf("%s: %d whole units of %.4f m2 are more than %.4f m2 of wall %d deep", m.Bond, whole, module(m.Perpend).M2(), net.M2(), ranks)
	}
	if least := ranks * (net - low); measure.Area(pieces)*module(wide) < least-joints {
		t.Fatalf("%s: %d pieces of %.4f m2 do not fill %.4f m2 of wall %d deep", m.Bond, pieces, module(m.Perpend).M2(), net.M2(), ranks)
	}
}
