package bond

import (
	"fmt"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"hodman/service/measure"
	"hodman/service/product"
	"hodman/service/schedule"
)

// tally is what both ways of counting must agree on.
type tally struct {
	Whole, Splits, Raking int
	Cuts                  map[measure.Length]int
}

func tallyOf(l Laying) tally {
	t := tally{Cuts: map[measure.Length]int{}}
	for _, b := range l.Bands {
		for i := range b.Strips {
			p := &b.Strips[i]
			n := p.Count * b.Count
			switch p.Cut {
			case Whole:
				t.Whole += n
			case InHeight:
				t.Splits += n
			case ToShape:
				t.Raking += n
				t.Cuts[p.Length] += n
			default:
				t.Cuts[p.Length] += n
			}
		}
	}
	return t
}

// startOf is where a run begins by the table of the rules, measured inwards from the
// wall's end: owner says whether the wall owns that corner in the course.
func startOf(m *schedule.Made, end schedule.End, owner bool) measure.Length {
	switch {
	case end == schedule.ExternalCorner && owner:
		return m.Back
	case end == schedule.ExternalCorner:
		return m.Back + m.Thickness + m.Perpend
	case end == schedule.InternalCorner && owner:
		return -(m.Back + m.Thickness)
	case end == schedule.InternalCorner:
		return -m.Back + m.Perpend
	case end == schedule.Abutment:
		return m.Perpend
	}
	return 0
}

// brickByBrick lays a run the long way: every course by itself, every cell by
// itself. It shares nothing with the layer.
func brickByBrick(r Run, ownsLeft, ownsRight bool) tally {
	t := tally{Cuts: map[measure.Length]int{}}
	m, w := r.Leaf, r.Wall
	unit, pitch, gauge := m.Unit.Length, m.Unit.Length+m.Perpend, m.Unit.Height+m.Bed
	shaped := w.Highest() > w.Height
	for n := 1; ; n++ {
		foot, head := measure.Length(n-1)*gauge+m.Bed, measure.Length(n)*gauge
		if shaped && foot >= w.Highest() || !shaped && foot >= w.Height {
			return t
		}
		closing := !shaped && head > w.Height
		if closing {
			head = w.Height
		}
		odd := (n+r.Lowest)%2 == 1
		start, end := startOf(m, w.Left, ownsLeft == odd), w.Length-startOf(m, w.Right, ownsRight == odd)
		origin := start
		switch {
		case w.Right.Corner() && !w.Left.Corner():
			origin = end - unit
		case !w.Left.Corner() && !odd:
			origin += pitch / 2
		}
		var gaps [][2]measure.Length
		lay := func(from, to, height measure.Length, split bool) {
			if to-from <= m.Perpend {
				return
			}
			for _, p := range cells(origin, unit, pitch, from, to, m.Perpend) {
				switch {
				case split || closing:
					t.Splits++
				case shaped && (w.HighestAt(p[0]) < head || w.HighestAt(p[1]) < head):
					t.Cuts[p[1]-p[0]]++
					t.Raking++
				case p[1]-p[0] == unit:
					t.Whole++
				default:
					t.Cuts[p[1]-p[0]]++
				}
			}
		}
		for _, o := range w.Openings {
			if o.Sill >= head || o.Top() <= foot {
				continue
			}
			gaps = append(gaps, [2]measure.Length{o.Left, o.Right()})
			from, to := max(o.Left, start), min(o.Right(), end)
			if under := o.Sill - foot; under >= gb.LeastSplit {
				lay(from, to, under, true)
			}
			if over := head - o.Top(); over >= gb.LeastSplit {
				lay(from, to, over, true)
			}
		}
		slices.SortFunc(gaps, func(a, b [2]measure.Length) int { return int(a[0] - b[0]) })
		if shaped {
			for start < end && w.HighestAt(start) < foot {
				start += measure.Millimetre / 2 // coarse: shapes in these tests rise by whole half millimetres
			}
			for end > start && w.HighestAt(end) < foot {
				end -= measure.Millimetre / 2
			}
		}
		at := start
		for _, g := range gaps {
			lay(at, min(g[0], end), 0, false)
			at = max(at, g[1])
		}
		lay(at, end, 0, false)
	}
}

// cells are the pieces of a stretch as pairs of ends, small cuts shared.
func cells(origin, unit, pitch, from, to, perpend measure.Length) [][2]measure.Length {
	var list [][2]measure.Length
	x := origin
	for x > from {
		x -= pitch
	}
	for ; x < to; x += pitch {
		a, b := max(x, from), min(x+unit, to)
		if b > a {
			list = append(list, [2]measure.Length{a, b})
		}
	}
	least := unit / 4
	if n := len(list); n > 1 && list[0][1]-list[0][0] < least {
		list = share(list, 0, least, perpend)
	}
	if n := len(list); n > 1 && list[n-1][1]-list[n-1][0] < least {
		list = share(list, n-2, least, perpend)
	}
	return list
}

// share joins pieces i and i+1 into two equal ones, or one where both are short.
func share(list [][2]measure.Length, i int, least, perpend measure.Length) [][2]measure.Length {
	p, q := list[i], list[i+1]
	if p[1]-p[0] < least && q[1]-q[0] < least {
		list[i] = [2]measure.Length{p[0], q[1]}
		return slices.Delete(list, i+1, i+2)
	}
	both := p[1] - p[0] + q[1] - q[0]
	first := both - both/2
	list[i] = [2]measure.Length{p[0], p[0] + first}
	list[i+1] = [2]measure.Length{q[1] - both/2, q[1]}
	return list
}

func drawLeaf(t *rapid.T) *schedule.Made {
	sizes := [][3]float64{{215, 102.5, 65}, {440, 100, 215}, {440, 140, 215}, {230, 110, 76}, {190, 90, 90}}
	s := rapid.SampledFrom(sizes).Draw(t, "unit")
	m := made(&product.Product{Length: mm(s[0]), Thickness: mm(s[1]), Height: mm(s[2])})
	m.Back = mm(rapid.SampledFrom([]float64{0, 0, 202.5}).Draw(t, "back"))
	return m
}

func drawWall(t *rapid.T) *schedule.Wall {
	ends := []schedule.End{schedule.StopEnd, schedule.ExternalCorner, schedule.InternalCorner, schedule.Abutment, schedule.MovementJoint}
	halves := func(name string, least, most int) measure.Length {
		return measure.Length(rapid.IntRange(2*least, 2*most).Draw(t, name)) * measure.Millimetre / 2
	}
	w := &schedule.Wall{Length: halves("length", 1500, 9000), Height: halves("height", 300, 4000),
		Left: rapid.SampledFrom(ends).Draw(t, "left"), Right: rapid.SampledFrom(ends).Draw(t, "right")}
	for range rapid.IntRange(0, 4).Draw(t, "openings") {
		o := schedule.Opening{Left: halves("x", 0, 8000), Sill: halves("sill", 0, 3000), Width: halves("w", 100, 3000), Height: halves("h", 50, 3000)}
		clear := o.Right() <= w.Length && o.Top() <= w.Height
		for _, p := range w.Openings {
			clear = clear && (o.Left >= p.Right() || p.Left >= o.Right()) // side by side only
		}
		if clear {
			w.Openings = append(w.Openings, o)
		}
	}
	return w
}

// TestLaidAsBrickByBrick: courses laid once and multiplied, and spans counted by
// division, give what laying every brick gives.
func TestLaidAsBrickByBrick(t *testing.T) { rapid.Check(t, laidAsBrickByBrick) }

// FuzzLay is the same, led by coverage.
func FuzzLay(f *testing.F) { f.Fuzz(rapid.MakeFuzz(laidAsBrickByBrick)) }

func laidAsBrickByBrick(t *rapid.T) {
	w := drawWall(t)
	if rapid.Bool().Draw(t, "gable") {
		// Slopes of 1 in 1: every level is met at a half millimetre.
		run := w.Length / 2 / measure.Millimetre * measure.Millimetre
		w.Top = &schedule.Top{Shape: "gable", Apex: run, ApexAt: run}
		w.Length = 2 * run
		w.Openings = slices.DeleteFunc(w.Openings, func(o schedule.Opening) bool { return o.Right() > w.Length })
	}
	r := Run{Leaf: drawLeaf(t), Wall: w, Lowest: rapid.IntRange(0, 1).Draw(t, "lowest")}
	got := SetOut([]Run{r}, false, gb)[0]
	if diff := cmp.Diff(brickByBrick(r, false, false), tallyOf(got)); diff != "" {
		t.Fatalf("brick by brick (-), as laid (+):\n%s", diff)
	}
}

// TestRingOfBrickSizes: a closed rectangle of brick sizes has no cut, and counts
// mean girth x height / (pitch x gauge), with mean girth = external girth - 4t.
func TestRingOfBrickSizes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := float64(rapid.IntRange(4, 80).Draw(t, "a"))*225 - 10
		b := float64(rapid.IntRange(4, 80).Draw(t, "b"))*225 - 10
		courses := rapid.IntRange(1, 60).Draw(t, "courses")
		whole, splits, cuts := sum(ring(brick(), float64(courses)*75, a, b, a, b)...)
		girth := mm(2*(a+b) - 4*102.5)
		if want := int(girth/mm(225)) * courses; whole != want || splits != 0 || len(cuts) != 0 {
			t.Fatalf("%v x %v: whole %d, want %d; splits %d cuts %v", a, b, whole, want, splits, cuts)
		}
	})
}

// TestRingWithReentrantCorner: an L on plan has five external corners and one
// internal; its mean girth is still the external girth - 4t.
// 5840 + 2015 + 2475 + 2025 + 3365 + 4040 = 19760; - 410 = 19350 = 86 x 225; x 32 courses = 2752.
func TestRingWithReentrantCorner(t *testing.T) {
	e, i := schedule.ExternalCorner, schedule.InternalCorner
	var runs []Run
	for _, w := range []schedule.Wall{
		{Length: mm(5840), Left: e, Right: e}, {Length: mm(2015), Left: e, Right: e}, {Length: mm(2475), Left: e, Right: i},
		{Length: mm(2025), Left: i, Right: e}, {Length: mm(3365), Left: e, Right: e}, {Length: mm(4040), Left: e, Right: e},
	} {
		w.Height = mm(2400)
		runs = append(runs, Run{Leaf: brick(), Wall: &w})
	}
	whole, splits, cuts := sum(SetOut(runs, true, gb)...)
	if whole != 2752 || splits != 0 || len(cuts) != 0 {
		t.Errorf("whole %d splits %d cuts %v, want 2752 and none", whole, splits, cuts)
	}
}

// TestOwnershipIsTheBest: no other choice of owners round the chain has fewer cuts, or as few and fewer pieces.
func TestOwnershipIsTheBest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		leaf := drawLeaf(t)
		n := rapid.IntRange(2, 5).Draw(t, "walls")
		closed := rapid.Bool().Draw(t, "ring")
		kinds := make([]schedule.End, n+1)
		for k := range kinds {
			kinds[k] = rapid.SampledFrom([]schedule.End{schedule.ExternalCorner, schedule.InternalCorner}).Draw(t, fmt.Sprint("corner", k))
		}
		var runs []Run
		for k := range n {
			w := drawWall(t)
			w.Left, w.Right = kinds[k], kinds[k+1]
			if closed && k == n-1 {
				w.Right = kinds[0]
			} else if !closed && k == 0 {
				w.Left = schedule.StopEnd
			} else if !closed && k == n-1 {
				w.Right = schedule.Abutment
			}
			runs = append(runs, Run{Leaf: leaf, Wall: w})
		}
		got := costOf(SetOut(runs, closed, gb))
		corners := n
		if !closed {
			corners = n - 1
		}
		for bits := range 1 << corners {
			total := cost{}
			for k, r := range runs {
				left, right := false, k < corners && bits>>k&1 == 1
				if before := (k + n - 1) % n; k > 0 || closed {
					left = bits>>before&1 == 0
				}
				l := newLayer(r, gb)
				l.lay(left, right)
				total = total.plus(cost{l.cuts, l.pieces})
			}
			if total.less(got) {
				t.Fatalf("owners %b cost %v, chosen %v", bits, total, got)
			}
		}
	})
}

func costOf(lays []Laying) cost {
	c := cost{}
	for _, l := range lays {
		for _, b := range l.Bands {
			c.pieces += b.Pieces() * b.Count
			for i := range b.Strips {
				if b.Strips[i].Cut != Whole {
					c.cuts += b.Strips[i].Count * b.Count
				}
			}
		}
	}
	return c
}
