package bond

import "hodman/service/measure"

// placed is count pieces alike of one rank, from x on, a pattern's period apart.
type placed struct {
	x, length measure.Length
	header    bool
	count     int
}

// fill lays a pattern between from and to into l.placed, left to right but for pieces
// of one cell, which stand together. quoinLeft and quoinRight say what the
// stretch ends in. A stretch no wider than a joint is left to the mortar. It
// returns whether a small cut had to be shared with its neighbour.
func (l *layer) fill(f *pattern, origin, from, to measure.Length, quoinLeft, quoinRight finish) (broken bool) {
	l.placed = l.placed[:0]
	if to-from <= l.perpend {
		return false
	}
	first, last := f.within(origin, from, to)
	n := int(last - first + 1)
	if n < 1 {
		return false
	}
	if n <= 4 {
		return l.fillShort(f, origin, from, to, first, n, quoinLeft, quoinRight)
	}
	head, tail := l.clip(f, origin, first, from, to), l.clip(f, origin, last, from, to)
	after, before := first, last // the first and the last cell laid as they come
	if x, _ := f.cell(origin, first); x < from {
		p := [2]placed{head, l.clip(f, origin, first+1, from, to)}
		whole := p[1]
		kept := l.mend(p[:], quoinLeft, &broken)
		after++
		if kept < 2 || p[0] != head || p[1] != whole {
			after++
			l.placed = append(l.placed, p[:kept]...)
		} else {
			l.placed = append(l.placed, head)
		}
	}
	var end [2]placed
	ends := 0
	if x, c := f.cell(origin, last); x+c.length > to {
		whole := l.clip(f, origin, last-1, from, to)
		end = [2]placed{tail, whole}
		kept := l.mendRight(end[:], quoinRight, &broken)
		before--
		if kept < 2 || end[0] != tail || end[1] != whole {
			before--
			ends = kept
		} else {
			ends = 1
		}
	}
	l.middle(f, origin, after, before)
	for i := ends - 1; i >= 0; i-- {
		l.placed = append(l.placed, end[i])
	}
	return broken
}

// middle places the cells from first to last as they come, each cell's pieces together.
func (l *layer) middle(f *pattern, origin measure.Length, first, last int64) {
	for k := range min(int64(f.n), last-first+1) {
		x, c := f.cell(origin, first+k)
		l.placed = append(l.placed, placed{x: x, length: c.length, header: c.header, count: int((last-first-k)/int64(f.n)) + 1})
	}
}

// clip is cell i cut off at from and to.
func (l *layer) clip(f *pattern, origin measure.Length, i int64, from, to measure.Length) placed {
	x, c := f.cell(origin, i)
	start := max(x, from)
	return placed{x: start, length: min(x+c.length, to) - start, header: c.header, count: 1}
}

// fillShort is fill for one to four pieces, where both ends may share a neighbour: the
// left end is put right first.
func (l *layer) fillShort(f *pattern, origin, from, to measure.Length, first int64, n int, quoinLeft, quoinRight finish) (broken bool) {
	var p [4]placed
	for i := range n {
		p[i] = l.clip(f, origin, first+int64(i), from, to)
	}
	list, left := p[:n], p[0]
	if n > 1 {
		list = list[:l.mend(list, quoinLeft, &broken)]
	}
	// Two pieces of a bond with headers are put right once: the header stands left.
	if settled := n == 2 && l.pattern.headers && list[0] != left; len(list) > 1 && !settled {
		list = list[:l.mendTail(list, quoinRight, &broken)]
	}
	l.placed = append(l.placed, list...)
	return broken
}

// mend puts the left end of a list right: its first piece is clipped. In a bond
// without headers a cut that is too short is shared with its neighbour. In one with
// headers a face ends in a header, and beside it stands what is left: a closer, or a
// three-quarter. It returns how many pieces the list has then.
func (l *layer) mend(p []placed, quoin finish, broken *bool) int {
	b := &l.pattern
	if b.headers && b.bond != "rat_trap" && quoin >= upright {
		if n := l.lap(p, quoin == headed, broken); n > 0 {
			return n
		}
	}
	short, least := p[0].length < b.leastCut, b.leastCut
	if b.headers {
		least = b.closer
		short = p[0].length < least || quoin != against && p[0].length < b.half
	}
	if !short {
		return len(p)
	}
	gap := p[1].x - p[0].x - p[0].length
	if rest := p[0].length + p[1].length - b.half; b.headers && quoin != against && rest >= least {
		p[1].x, p[1].length = p[0].x+b.half+gap, rest
		p[0].length, p[0].header = b.half, true
		return len(p)
	}
	*broken = true
	if p[1].length < least {
		p[1].length += p[1].x - p[0].x
		p[1].x = p[0].x
		p[1].header = p[1].header && p[1].length <= b.half // wider than a header: a cut stretcher
		copy(p, p[1:])
		return len(p) - 1
	}
	p[0].header = p[1].header
	a, c := halves(p[0].length + p[1].length)
	p[0].length = a
	p[1].x, p[1].length = p[0].x+a+gap, c
	return len(p)
}

// lap puts the left end of a list right where every course ends at one upright: a header
// in each, as mend has it, would stand a straight joint beside them all. It returns how
// many pieces the list has then, nought where it leaves the end to mend. Headed says that the
// courses beside show a header there, so that this one shall not.
func (l *layer) lap(p []placed, headed bool, broken *bool) int {
	b := &l.pattern
	if len(p) < 2 {
		return 0
	}
	r, gap, next := p[0].length, p[1].x-p[0].x-p[0].length, &p[1]
	switch {
	case b.bond == "english" && !next.header && next.length == b.unit && r > b.half && r <= b.half+gap:
		// Too wide for a header: the whole brick goes first.
		p[0].length, next.x, next.length = b.unit, p[0].x+b.unit+gap, r
		return len(p)
	case r > b.half || p[0].header && r == b.half:
	case next.header && next.length == b.half && r+gap+b.half <= b.unit && (headed || b.joins(&p[0], gap)):
		*broken = *broken || r < b.closer
		next.x, next.length, next.header = p[0].x, r+gap+b.half, false
		copy(p, p[1:])
		return len(p) - 1
	case !next.header && next.length == b.unit && r >= b.closer && b.bond != "english_garden_wall":
		// A three-quarter, or what is left of the two, and beside it the header.
		p[0].length, p[0].header = r+b.unit-b.half, false
		next.x, next.length, next.header = p[0].x+p[0].length+gap, b.half, true
		return len(p)
	}
	return 0
}

// joins says whether a cut and the header beside it are laid as one cut stretcher. They
// are not where they make a header and a queen closer.
func (b *patterns) joins(cut *placed, gap measure.Length) bool {
	switch {
	case b.bond == "header":
		return true // three-quarters at the quoins
	case cut.header:
		return cut.length < b.closer || cut.length > b.closer+gap
	}
	return cut.length != b.closer
}

// mendRight is mend for a right end given from the end inwards.
func (l *layer) mendRight(p []placed, quoin finish, broken *bool) int {
	turn(p)
	n := l.mend(p, quoin, broken)
	turn(p[:n])
	return n
}

// mendTail is mendRight for the last pieces of a list from left to right.
func (l *layer) mendTail(p []placed, quoin finish, broken *bool) int {
	var turned [4]placed
	n := len(p)
	for i := range n {
		turned[i] = p[n-1-i]
	}
	kept := l.mendRight(turned[:n], quoin, broken)
	for i := range kept {
		p[i] = turned[kept-1-i]
	}
	return kept
}

// turn mirrors where pieces stand, so that the right end can be put right like the left.
func turn(p []placed) {
	for i := range p {
		p[i].x = -(p[i].x + p[i].length)
	}
}

// halves parts a length in two; the first takes the odd micrometre.
func halves(l measure.Length) (measure.Length, measure.Length) { return l - l/2, l / 2 }

// off is how far x is from the nearest place where a unit or a half could begin.
func (f *pattern) off(origin, x measure.Length) measure.Length {
	half := f.period / 2
	nearest := measure.Length(measure.HalfUpDiv(int64(x-origin), int64(half))) * half
	return origin + nearest - x
}
