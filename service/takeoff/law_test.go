package takeoff

import (
	"testing"

	"pgregory.net/rapid"

	"hodman/service/bond"
	"hodman/service/measure"
	"hodman/service/product"
	"hodman/service/rulebook"
	"hodman/service/schedule"
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
		t.Skip("refused") // too short for its units; nothing is laid
	}
	m, w := madeOf(s.WallTypes[0].Single), &s.Walls[0]
	out := Compute(s, product.Demo(), rulebook.GB())
	laid := bond.SetOut([]bond.Run{{Leaf: m, Wall: w}}, false, gbRules())[0]
	sums(t, &laid, &out.Walls[0].Leaves[0], out.Lines)
	areaLaw(t, m, w, &laid, out.Walls[0].Leaves[0].Net)
}

// sums counts the pieces one by one and finds the takeoff.
func sums(t *rapid.T, laid *bond.Laying, leaf *Leaf, lines []Line) {
	var whole, splits, others, raking, closers int
	for i := range laid.Bands {
		b := &laid.Bands[i]
		for _, p := range b.Strips {
			if p.Length <= 0 || p.Height <= 0 || p.Depth <= 0 || p.Count < 1 || p.Count > 1 && p.Pitch < p.Length || p.Foot < 0 || p.Foot+p.Height > b.Head-b.Foot {
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
	bought := 0
	for _, l := range lines {
		if l.Laid > 0 {
			bought += l.Laid
		}
	}
	if bought != whole+others+splits {
		t.Fatalf("%d pieces, %d in the lines", whole+others+splits, bought)
	}
}

// areaLaw compares whole units with the area of their modules. What it allows is named: a
// perpend for every stretch of a course, for its last unit brings one that no other unit
// follows; the bed's worth over the last course, and what is too low to lay over a head,
// under a sill and under a slope. Cut pieces are counted as nothing, or as whole.
func areaLaw(t *rapid.T, m *schedule.Made, w *schedule.Wall, laid *bond.Laying, net measure.Area) {
	gauge, ranks := m.Unit.Height+m.Bed, measure.Area(m.HalfBricks())
	module := (m.Unit.Length + m.Perpend).Times(gauge)
	if m.Bond == "rat_trap" { // two stretchers and a header stand on a stretcher's and a header's length
		module, ranks = (m.Unit.Length+m.Unit.Thickness+2*m.Perpend).Times(gauge)/3, 1
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
	joints := ranks * courses * measure.Area(len(w.Openings)+1) * 2 * m.Perpend.Times(gauge)
	low := 2*m.Bed.Times(w.Length) + m.Perpend.Times(w.Highest())*2
	for _, o := range w.Openings {
		low += 2 * o.Width.Times(25*ms+m.Bed)
	}
	if most := ranks*net + joints; measure.Area(whole)*module > most {
		t.Fatalf("%s: %d whole units of %.4f m2 are more than %.4f m2 of wall %d deep", m.Bond, whole, module.M2(), net.M2(), ranks)
	}
	if least := ranks * (net - low); measure.Area(pieces)*module < least-joints {
		t.Fatalf("%s: %d pieces of %.4f m2 do not fill %.4f m2 of wall %d deep", m.Bond, pieces, module.M2(), net.M2(), ranks)
	}
}
