package coursing

import (
	"cmp"
	"slices"
	"strconv"

	"hodman/service/finding"
	"hodman/service/measure"
)

// SetOut is how one leaf is set out up all the levels at once: stacks one on another
// from the base, and the levels that none of them meets.
type SetOut struct {
	Leaf   string   `json:"leaf"` // "first", "second"
	Odd    int      `json:"odd_courses"`
	Stacks []Stack  `json:"stacks"`
	Missed []Missed `json:"missed"`
	Rules  []string `json:"rules"`
}

// Stack is whole courses on one bed joint, and on top of them, where Odd is over nought, one
// course of units cut to that height on the same bed. From and To are exact; the bed is
// rounded down to a micrometre, and Rounded says where that tells.
type Stack struct {
	From    measure.Length `json:"from_mm"`
	To      measure.Length `json:"to_mm"`
	Courses int            `json:"courses"`
	Bed     measure.Length `json:"bed_mm"`
	Rounded bool           `json:"rounded,omitzero"`
	Odd     measure.Length `json:"odd_course_mm,omitzero"`
}

// Missed is a level that no stack ends at: the course nearest to it tops out at
// Nearest, Off from it. Of a plate both are the plate's top.
type Missed struct {
	Name    string         `json:"name"`
	Fixed   bool           `json:"fixed"`
	Level   measure.Length `json:"level_mm"`
	Nearest measure.Length `json:"nearest_mm"`
	Off     measure.Length `json:"off_mm"`
}

// mark is a height over the base that levels stand at: how many that are fixed, and
// how many that are not.
type mark struct {
	height       measure.Length
	fixed, loose int64
}

// rod sets out one leaf: its unit, the bed wanted, which lies in the range allowed, and the
// heights that a cut unit may have. Lengths over nought; least <= bed <= most.
type rod struct {
	unit, bed, least, most measure.Length
	oddLeast, oddMost      measure.Length
}

// cost is what a set-out is judged by, the first that differs: fixed levels missed,
// odd courses, other levels missed, and by how much all its beds together depart from the
// bed wanted, in micrometres.
type cost [4]int64

func (a cost) plus(b cost) cost {
	for i := range a {
		a[i] += b[i]
	}
	return a
}

func (a cost) under(b cost) bool { return slices.Compare(a[:], b[:]) < 0 }

// setOut finds the stacks that cost least of all there are. Marks rise from the base,
// which is the first. A stack runs from one mark to another; a mark that a stack passes, or
// that lies over the last one, is missed. The cheapest way to a mark is the cheapest way to
// one below and the cheapest stack between. Of equals, the lowest mark below wins.
func (r *rod) setOut(marks []mark) ([]Stack, cost) {
	best, from, stacks := make([]cost, len(marks)), make([]int, len(marks)), make([]Stack, len(marks))
	for j := 1; j < len(marks); j++ {
		from[j] = -1
		var passed cost
		for i := j - 1; i >= 0; i-- {
			if from[i] >= 0 {
				s, c, ok := r.stack(marks[j].height - marks[i].height)
				if c = c.plus(best[i]).plus(passed); ok && (from[j] < 0 || !best[j].under(c)) {
					best[j], from[j], stacks[j] = c, i, s.on(marks[i].height)
				}
			}
			passed = passed.plus(marks[i].missed())
		}
	}
	last, least := -1, cost{}
	var over cost
	for j := len(marks) - 1; j >= 0; j-- {
		if c := best[j].plus(over); from[j] >= 0 && (last < 0 || c.under(least)) {
			last, least = j, c
		}
		over = over.plus(marks[j].missed())
	}
	var out []Stack
	for j := last; j > 0; j = from[j] {
		out = append(out, stacks[j])
	}
	slices.Reverse(out)
	return r.runOn(out, marks[last].height, marks[len(marks)-1].height), least
}

func (m mark) missed() cost { return cost{0: m.fixed, 2: m.loose} }

// runOn carries on from the last level met to the whole course nearest to the highest
// level, half a course up, on the bed wanted.
func (r *rod) runOn(stacks []Stack, from, to measure.Length) []Stack {
	gauge := r.unit + r.bed
	n := measure.HalfUpDiv(int64(to-from), int64(gauge))
	if n == 0 {
		return stacks
	}
	return append(stacks, Stack{From: from, To: from + measure.Length(n)*gauge, Courses: int(n), Bed: r.bed})
}

// stack makes up a height over nought by itself: whole courses where they can, else
// one odd course on top of them. It returns false where neither can.
func (r *rod) stack(height measure.Length) (Stack, cost, bool) {
	if s, c, ok := r.whole(height); ok {
		return s, c, true
	}
	return r.odd(height)
}

// whole takes the number of courses whose beds together depart least; of equals the fewer.
func (r *rod) whole(height measure.Length) (Stack, cost, bool) {
	first := max(1, measure.CeilDiv(int64(height), int64(r.unit+r.most)))
	last := measure.FloorDiv(int64(height), int64(r.unit+r.least))
	if first > last {
		return Stack{}, cost{}, false
	}
	gauge := r.unit + r.bed
	n := min(max(measure.FloorDiv(int64(height), int64(gauge)), first), last)
	if more := min(n+1, last); off(height, gauge, more) < off(height, gauge, n) {
		n = more
	}
	o := offer(height, r.unit, n)
	return Stack{To: height, Courses: o.Courses, Bed: o.Bed, Rounded: o.Rounded}, cost{3: off(height, gauge, n)}, true
}

// odd tries the most whole courses that leave room for the least odd course at the bed
// wanted, and one more on thinner beds: with fewer the beds would have to grow by a course
// more. Beds are whole micrometres; the odd course takes what is left.
func (r *rod) odd(height measure.Length) (Stack, cost, bool) {
	var out Stack
	var least cost
	found := false
	n := max(0, measure.FloorDiv(int64(height-r.bed-r.oddLeast), int64(r.unit+r.bed)))
	for range 2 {
		beds := int64(height) - n*int64(r.unit) // with the odd course
		lo := max(r.least, measure.Length(measure.CeilDiv(beds-int64(r.oddMost), n+1)))
		hi := min(r.most, measure.Length(measure.FloorDiv(beds-int64(r.oddLeast), n+1)))
		bed := min(max(r.bed, lo), hi)
		c := cost{1: 1, 3: (n + 1) * int64(max(bed-r.bed, r.bed-bed))}
		if lo <= hi && (!found || c.under(least)) {
			out = Stack{To: height, Courses: int(n), Bed: bed, Odd: measure.Length(beds - (n+1)*int64(bed))}
			least, found = c, true
		}
		n++
	}
	return out, least, found
}

// on is the stack raised to stand at a level.
func (s Stack) on(level measure.Length) Stack {
	s.From += level
	s.To += level
	return s
}

// tops are where the courses of the stacks top out, rising, each rounded down to a
// micrometre: the beds that a tie can lie in.
func tops(stacks []Stack) []measure.Length {
	var out []measure.Length
	for _, s := range stacks {
		whole := s.To - s.From
		if s.Odd > 0 {
			whole -= s.Odd + s.Bed
		}
		for n := int64(1); n <= int64(s.Courses); n++ {
			out = append(out, s.From+measure.Length(measure.FloorDiv(int64(whole)*n, int64(s.Courses))))
		}
		if s.Odd > 0 {
			out = append(out, s.To)
		}
	}
	return out
}

// nearest is the one of rising levels that is nearest to a level; of two as near the lower.
func nearest(levels []measure.Length, level measure.Length) measure.Length {
	i, _ := slices.BinarySearch(levels, level)
	if i == len(levels) || i > 0 && level-levels[i-1] <= levels[i]-level {
		i--
	}
	return levels[i]
}

// together sets each leaf out up all the levels, and looks where ties can lie.
func (c *courser) together(r *Request, out *Coursing) {
	first := c.leafSetOut(r, out.Levels, "first", *r.UnitHeight, c.bed)
	out.SetOut = []SetOut{first}
	if s := r.SecondLeaf; s != nil {
		second := c.leafSetOut(r, out.Levels, "second", *s.UnitHeight, or(s.Bed, c.book.Length("joint.bed")))
		out.SetOut = append(out.SetOut, second)
		c.at = "/second_leaf"
		out.TieBeds = c.tieBeds(r.Base, tops(first.Stacks), tops(second.Stacks))
	}
}

func (c *courser) leafSetOut(r *Request, levels []Met, leaf string, unit, bed measure.Length) SetOut {
	out := SetOut{Leaf: leaf, Stacks: []Stack{}, Missed: []Missed{},
		Rules: []string{"joint.bed", "joint.bed_least", "joint.bed_most", "bond.split_least", "cuts.kerf"}}
	o := rod{unit: unit, bed: min(max(bed, c.least), c.most), least: c.least, most: c.most,
		oddLeast: c.book.Length("bond.split_least"), oddMost: unit - c.book.Length("cuts.kerf")}
	stacks, _ := o.setOut(r.marks(levels))
	for _, s := range stacks {
		out.Stacks = append(out.Stacks, s.on(r.Base))
		if s.Odd > 0 {
			out.Odd++
		}
	}
	beds := append([]measure.Length{r.Base}, tops(out.Stacks)...)
	for i := range levels {
		m := &levels[i]
		at := r.Base + m.Height
		if at == r.Base || slices.ContainsFunc(stacks, func(s Stack) bool { return s.To == m.Height }) {
			continue
		}
		near := nearest(beds, at)
		miss := Missed{m.Name, r.Levels[i].fixed(), m.Level, near + m.Level - at, max(near-at, at-near)}
		out.Missed = append(out.Missed, miss)
		if miss.Fixed {
			c.at = "/levels/" + strconv.Itoa(i) + "/level_mm"
			c.miss(leaf, miss)
		}
	}
	return out
}

func (c *courser) miss(leaf string, m Missed) {
	c.add(finding.Check, "course.level_missed", leaf+" leaf: the levels cannot all be met on beds of "+c.least.String()+" to "+c.most.String()+
		" mm, not even with a course cut in height; the course nearest to "+m.Level.String()+" mm comes to "+m.Nearest.String()+" mm, "+m.Off.String()+" mm off.",
		"Move the level to "+m.Nearest.String()+" mm, or let it or one near it be not fixed.", "joint.bed_most")
}

// marks are the heights that levels stand at, rising from the base; levels at one height are one mark.
func (r *Request) marks(levels []Met) []mark {
	out := []mark{{}}
	for i := range levels {
		m := mark{height: levels[i].Height}
		if r.Levels[i].fixed() {
			m.fixed++
		} else {
			m.loose++
		}
		at, found := slices.BinarySearchFunc(out, m.height, func(m mark, h measure.Length) int { return cmp.Compare(m.height, h) })
		switch {
		case !found:
			out = slices.Insert(out, at, m)
		default:
			out[at].fixed += m.fixed
			out[at].loose += m.loose
		}
	}
	return out
}
