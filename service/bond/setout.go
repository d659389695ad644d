package bond

import (
	"hodman/service/measure"
	"hodman/service/product"
)

// SetOut lays one leaf of walls that meet at corners: runs in order, each one's
// right end meeting the next one's left, ring where the last meets the first. A
// wall that meets none is a chain of one.
//
// Who owns a corner changes every course. Which wall starts is chosen as a
// bricklayer sets out: fewest cut pieces, then fewest pieces, then, wall by wall in
// order, the wall owning its left corner in odd courses. Every run has a wall that
// schedule.Check has passed; the answer has one laying a run.
func SetOut(runs []Run, ring bool, rules Rules) []Laying {
	return new(Gang).SetOut(runs, ring, rules)
}

// setOut lays each run in one of the ways given for it, and chooses who owns the corners
// by what is left to cut then. Without ways every run is laid as given.
func (g *Gang) setOut(runs []Run, ring bool, rules Rules, ways [][]Way) []Laying {
	layers, costs := g.take(len(runs)) // costs by whether left and right are owned in odd courses
	var picks [][2][2]Way              // the way that gives each
	if ways != nil {
		picks = make([][2][2]Way, len(runs))
	}
	for i := range runs {
		l := &layers[i]
		l.set(runs[i], rules, Way{})
		l.placed = g.placed
		if len(runs) > 1 || ways != nil {
			costs[i] = l.costs()
			g.placed = l.placed
		}
		if ways == nil {
			continue
		}
		for _, way := range ways[i] {
			other := new(layer)
			other.set(runs[i], rules, way)
			other.pick(other.costs(), way, &costs[i], &picks[i])
		}
	}
	owns := chooseOwners(costs, ring)
	out := make([]Laying, len(runs))
	units := make([]*product.Product, 0, 2*len(runs))
	for i := range layers {
		l := &layers[i]
		if ways != nil {
			if way := picks[i][bit(owns[i][0])][bit(owns[i][1])]; way != (Way{}) {
				l.set(runs[i], rules, way)
			}
		}
		l.out = &out[i]
		units = append(units, l.run.Leaf.Unit, l.run.Leaf.Backing)
		l.out.Units = units[2*i : 2*i+2 : 2*i+2]
		if l.run.Foot.Courses > 0 {
			l.out.Units = append(l.out.Units, l.run.Foot.Unit)
		}
		l.out.Way, l.out.Perpend = l.way, l.perpend
		l.out.OwnsLeft, l.out.OwnsRight = owns[i][0], owns[i][1]
		l.remainder()
		l.out.Bands = make([]Band, 0, l.bands())
		l.strips, l.kept, l.placed = g.strips, &g.kept, g.placed
		l.lay(owns[i][0], owns[i][1])
		g.strips, g.placed = l.strips, l.placed
		l.addFeatures()
	}
	return out
}

// worthAPerpend: gauging every perpend of a run by other than its own joint is worth it where one cut
// piece in so many is saved.
const worthAPerpend = 20

// pick keeps for each choice of ownership the way with fewer cut pieces, where it does
// not take more pieces than it saves cuts.
func (l *layer) pick(costs [2][2]cost, way Way, best *[2][2]cost, picks *[2][2]Way) {
	for left := range 2 {
		for right := range 2 {
			c, b := costs[left][right], best[left][right]
			if c.cuts < b.cuts && c.cuts+c.pieces < b.cuts+b.pieces && (way.Perpend == 0 || (b.cuts-c.cuts)*worthAPerpend >= b.cuts) {
				best[left][right], picks[left][right] = costs[left][right], way
			}
		}
	}
}

func bit(b bool) int {
	if b {
		return 1
	}
	return 0
}

// bands is how many bands the rows come to: one for each course of the bond.
func (l *layer) bands() int {
	n := 0
	for i := range len(l.rows) - 1 {
		n += min(l.pattern.cycle, l.rows[i+1]-l.rows[i])
	}
	return n
}

// remainder notes what is over between the full courses and the height line.
func (l *layer) remainder() {
	h := l.height
	l.out.Full = int(h / l.gauge)
	rest := h % l.gauge
	switch bed := l.run.Leaf.Bed; {
	case l.shaped || rest == 0:
	case rest > bed:
		l.out.Closing = rest - bed
	case l.out.Full > 0:
		l.out.Growth = measure.Length(measure.CeilDiv(int64(rest), int64(l.out.Full)))
	}
}

// cost is cut pieces, then all pieces.
type cost struct{ cuts, pieces int }

func (a cost) plus(b cost) cost { return cost{a.cuts + b.cuts, a.pieces + b.pieces} }

func (a cost) less(b cost) bool {
	return a.cuts < b.cuts || a.cuts == b.cuts && a.pieces < b.pieces
}

// times is what n courses alike cost.
func (a cost) times(n int) cost { return cost{a.cuts * n, a.pieces * n} }

// costs counts the leaf under each choice of ownership in odd courses. Ends that are
// no corners make no difference. A wall with a corner is set out from it, so that
// mostly a course depends on who owns its ends and not on its number: each is laid
// once for each way to own them.
func (l *layer) costs() (c [2][2]cost) {
	for i := range len(l.rows) - 1 {
		first, next := l.rows[i], l.rows[i+1]
		if l.byOwner() {
			l.costsOf(&c, first, (next-first+1)/2, (next-first)/2)
			continue
		}
		for k := range min(l.pattern.cycle, next-first) {
			l.costsOf(&c, first+k, (next-first-k+l.pattern.cycle-1)/l.pattern.cycle, 0)
		}
	}
	return c
}

// byOwner says whether a course depends on who owns its ends and on nothing else.
func (l *layer) byOwner() bool {
	return l.pattern.corner && !l.uneven && l.pattern.bond != "english_garden_wall"
}

// costsOf adds what courses like course n cost: so many of them owned as it is, and so
// many the other way about.
func (l *layer) costsOf(c *[2][2]cost, n, as, other int) {
	var one [2][2]cost
	for left := range 2 {
		for right := range 2 {
			switch {
			case left == 1 && !l.left.corner:
				one[1][right] = one[0][right]
			case right == 1 && !l.right.corner:
				one[left][1] = one[left][0]
			default:
				l.cuts, l.pieces = 0, 0
				l.course(n, 1, 1, left == 1, right == 1)
				one[left][right] = cost{l.cuts, l.pieces}.plus(l.inTheWay(left == 1, right == 1))
			}
		}
	}
	for left := range 2 {
		for right := range 2 {
			a, b := left^bit(!l.left.turn(n)), right^bit(!l.right.turn(n))
			c[left][right] = c[left][right].plus(one[a][b].times(as)).plus(one[1-a][1-b].times(other))
		}
	}
}

// inTheWay is more than any cuts cost where the walls met at both ends of a short return
// would stand in each other's way, so that such a choice is the last one made.
func (l *layer) inTheWay(ownsLeft, ownsRight bool) cost {
	if l.run.Wall.Length-l.left.at(ownsLeft)-l.right.at(ownsRight) < -l.perpend {
		return cost{cuts: 1 << 30}
	}
	return cost{}
}

// chooseOwners finds, for a chain or a ring of walls, who owns each corner in odd
// courses: owns[i] is {left, right} of wall i. At a corner the left wall owns its
// right end in odd courses just when the right wall does not own its left.
func chooseOwners(costs [][2][2]cost, ring bool) [][2]bool {
	owns := make([][2]bool, len(costs))
	if len(costs) < 2 {
		return owns
	}
	if !ring {
		walk(costs, owns, 0, nil)
		return owns
	}
	// The corner that closes the ring: first the first wall owning it in odd courses.
	other := make([][2]bool, len(costs))
	one, nought := 1, 0
	a := walk(costs, owns, 1, &nought)
	if b := walk(costs, other, 0, &one); b.less(a) {
		return other
	}
	return owns
}

// walk chooses owners from left to right. left is whether the first wall owns its
// left end in odd courses; last, where it is given, whether the last wall owns its right.
func walk(costs [][2][2]cost, owns [][2]bool, left int, last *int) cost {
	n := len(costs)
	// best[i][s] is the least cost of walls i.. where wall i owns its left as s.
	best := make([][2]cost, n)
	pick := make([][2]int, n) // the right end's owner that gives it
	for i := n - 1; i >= 0; i-- {
		for s := range 2 {
			switch {
			case i == n-1 && last != nil:
				best[i][s], pick[i][s] = costs[i][s][*last], *last
			case i == n-1:
				best[i][s], pick[i][s] = costs[i][s][0], 0
			default:
				// Right not owned means that the next wall owns its left: the tie goes to that.
				best[i][s], pick[i][s] = costs[i][s][0].plus(best[i+1][1]), 0
				if c := costs[i][s][1].plus(best[i+1][0]); c.less(best[i][s]) {
					best[i][s], pick[i][s] = c, 1
				}
			}
		}
	}
	for i, s := 0, left; i < n; i++ {
		right := pick[i][s]
		owns[i] = [2]bool{s == 1, right == 1}
		s = 1 - right
	}
	return best[0][left]
}
