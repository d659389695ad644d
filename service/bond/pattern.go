package bond

import (
	"hodman/service/measure"
	"hodman/service/schedule"
)

// cell is one place in a bond's rhythm: at along the period, so long.
type cell struct {
	at, length measure.Length
	header     bool
}

// pattern is the face of one course: cells at every period from where it is set out.
type pattern struct {
	cells  [4]cell
	n      int
	period measure.Length
	phase  measure.Length // from the face that the bond is set out from
}

// course is one course of a bond. Backed says that a rank of stretchers runs behind
// its headers, set out by itself.
type course struct {
	face   pattern
	back   pattern
	backed bool
}

// patterns are the courses of a bond and the sizes that its pieces are made of.
type patterns struct {
	bond    string
	courses [3]course
	cycle   int // courses after which the bond begins again
	every   int // garden wall: one course of headers in so many

	unit    measure.Length // a stretcher's length
	half    measure.Length // a header's width: the unit's thickness
	deep    measure.Length // how far a header reaches across
	collar  measure.Length // between ranks
	ranks   int            // half bricks across
	headers bool           // the bond has any
	plain   bool           // one unit thick and without headers
	// leastCut is the least end of a stretch in a bond without headers, closer in one with.
	leastCut, closer measure.Length

	fromRun bool // set out from where the run starts, not from the corner's face
	fromEnd bool // set out from the right
	corner  bool // from a corner
	quoin   pattern
}

// patternsOf prepares a leaf's bond, set out from the corner where just one end is
// one, else from the left, or the right if that is asked for. The schedule has been checked: the unit holds the bond.
func patternsOf(m *schedule.Made, rules Rules, left, right *end, fromRight bool) patterns {
	u := m.Unit
	p := patterns{bond: m.Bond, cycle: 2, every: m.HeadersEvery, unit: u.Length, half: u.Thickness,
		ranks: m.HalfBricks(), collar: m.Collar(),
		leastCut: measure.Length(rules.LeastCut.HalfUpOf(int64(u.Length)))}
	p.closer = (p.half - m.Perpend) / 2
	p.deep = u.Length
	if p.ranks == 1 {
		p.deep = p.half
	}
	p.fromEnd = right.corner && !left.corner
	if fromRight && left.corner == right.corner {
		p.fromEnd = true
	}
	p.corner = left.corner || right.corner
	if e := reference(left, right, p.fromEnd); e.every > 1 {
		p.corner = false // several courses together begin alike there: they lap by their number
	}
	pitch := u.Length + m.Perpend
	s := func(phase measure.Length) course { return course{face: run(phase, cell{0, u.Length, false}, pitch)} }
	p.quoin = run(0, cell{0, u.Length, false}, pitch)
	switch m.Bond {
	case "half":
		p.courses = [3]course{s(0), s(pitch / 2)}
	case "third":
		p.thirds(s, pitch, left, right)
	case "stack":
		p.courses = [3]course{s(0), s(0)}
	case "header", "english", "english_garden_wall":
		p.heading(s, pitch)
	case "flemish":
		p.mixed(m, 1)
	case "monk":
		p.mixed(m, 2)
	case "flemish_garden_wall":
		p.mixed(m, 3)
	case "rat_trap":
		p.ratTrap(m)
	default:
		p.fromRun = p.corner && p.lapsBy(reference(left, right, p.fromEnd), pitch)
		p.courses = [3]course{s(0), s(0)}
		if !p.fromRun {
			p.courses[1] = s(pitch / 2)
		}
	}
	if p.fromEnd {
		p.mirror()
	}
	p.plain = p.ranks == 1 && !p.headers
	return p
}

// lapsBy says whether courses that begin whole where the run does lap by that: in a
// leaf as thick as a unit is long their perpends would stand over one another.
func (p *patterns) lapsBy(e *end, pitch measure.Length) bool {
	lap := (e.lent - e.face) % pitch
	return min(lap, pitch-lap) >= p.leastCut/2
}

// reference is the end that a bond is set out from.
func reference(left, right *end, fromEnd bool) *end {
	if fromEnd {
		return right
	}
	return left
}

// run is a pattern of one cell.
func run(phase measure.Length, c cell, period measure.Length) pattern {
	return pattern{cells: [4]cell{c}, n: 1, period: period, phase: phase}
}

// thirds laps by a third: raking on from course to course between free ends; from a
// corner every other course, by the third that leaves the longer piece there.
func (p *patterns) thirds(s func(measure.Length) course, pitch measure.Length, left, right *end) {
	third := pitch / 3
	p.courses = [3]course{s(0), s(third), s(2 * third)}
	if !p.corner {
		p.cycle = 3
		return
	}
	e := reference(left, right, p.fromEnd)
	lent := e.lent - e.face // along the first cell, which reaches to a third or two thirds
	if first := third - (pitch - p.unit) - lent; first < p.leastCut {
		p.courses[1] = s(2 * third)
	}
}

// heading is courses of stretchers and courses of headers.
func (p *patterns) heading(s func(measure.Length) course, pitch measure.Length) {
	p.headers = true
	step := pitch / 2
	h := func(phase measure.Length) course {
		c := course{face: run(phase, cell{0, p.half, true}, step)}
		if p.ranks == 3 {
			c.back, c.backed = run(phase, cell{0, p.unit, false}, pitch), true
		}
		return c
	}
	switch p.bond {
	case "header":
		p.courses = [3]course{h(0), h(step / 2)}
		if p.corner { // the wall that owns the corner has a stretcher there
			p.courses = [3]course{h(step / 2), h(0)}
		}
	case "english":
		p.courses = [3]course{s(0), h(step / 2)}
	default:
		p.courses = [3]course{s(0), s(step), h(step / 2)}
		p.cycle = p.every
		if p.every%2 == 1 {
			p.cycle = 2 * p.every
		}
	}
}

// mixed is so many stretchers to a header in every course, each header over the
// middle of the stretchers below.
func (p *patterns) mixed(m *schedule.Made, stretchers int) {
	p.headers = true
	pitch := p.unit + m.Perpend
	f := pattern{n: stretchers + 1, period: measure.Length(stretchers)*pitch + pitch/2}
	for i := range stretchers {
		f.cells[i] = cell{measure.Length(i) * pitch, p.unit, false}
	}
	at := measure.Length(stretchers) * pitch
	f.cells[stretchers] = cell{at, p.half, true}
	middle := (at - m.Perpend - p.half) / 2 // where a header over the stretchers begins
	p.courses = [3]course{{face: f}, {face: f}}
	p.courses[1].face.phase = middle - at
}

// ratTrap is Flemish of bricks on edge: two stretchers with a hollow between them, then a header.
func (p *patterns) ratTrap(m *schedule.Made) {
	p.headers = true
	p.closer = p.half / 2
	f := pattern{n: 2, period: p.unit + p.half + 2*m.Perpend}
	f.cells[0] = cell{0, p.unit, false}
	f.cells[1] = cell{p.unit + m.Perpend, p.half, true}
	p.courses = [3]course{{face: f}, {face: f}}
	p.courses[1].face.phase = (p.unit-p.half)/2 - f.cells[1].at
	p.ranks, p.collar = 2, p.unit-2*p.half
}

// mirror turns the patterns about, to be set out from the right.
func (p *patterns) mirror() {
	for i := range p.courses {
		p.courses[i].face.mirror()
		p.courses[i].back.mirror()
	}
	p.quoin.mirror()
}

func (p *pattern) mirror() {
	var turned [4]cell
	for i := range p.n {
		c := p.cells[i]
		c.at = p.period - c.at - c.length
		turned[p.n-1-i] = c
	}
	p.cells, p.phase = turned, -p.phase
}

// of is the course laid as course m, counted over the whole chain, where the wall
// owns the corner it is set out from, or has none and the course is odd.
func (p *patterns) of(m int, first bool) *course {
	switch {
	case p.bond == "third" && !p.corner:
		return &p.courses[(m+2)%3]
	case p.bond == "english_garden_wall" && m%p.every == 0:
		return &p.courses[2]
	case first:
		return &p.courses[0]
	}
	return &p.courses[1]
}

// cell is where cell i of the pattern begins, counted from origin.
func (f *pattern) cell(origin measure.Length, i int64) (x measure.Length, c *cell) {
	n := int64(f.n)
	period := measure.FloorDiv(i, n)
	c = &f.cells[i-period*n]
	return origin + measure.Length(period)*f.period + c.at, c
}

// within is the first and the last cell of which any lies between from and to.
func (f *pattern) within(origin, from, to measure.Length) (first, last int64) {
	n := int64(f.n)
	at := measure.FloorDiv(int64(from-origin), int64(f.period))
	for first = at * n; ; first++ {
		if x, c := f.cell(origin, first); x+c.length > from {
			break
		}
	}
	at = measure.FloorDiv(int64(to-origin), int64(f.period))
	for last = at*n + n - 1; ; last-- {
		if x, _ := f.cell(origin, last); x < to {
			break
		}
	}
	return first, last
}
