package bond

import "hodman/service/measure"

// grid is a course's rhythm: whole units of length unit at every pitch from origin.
type grid struct {
	origin, unit, perpend, pitch measure.Length
	leastCut                     measure.Length // shorter cuts are not laid at the end of a stretch
}

// filled is what one stretch of a course is made of, left to right: the pieces at
// its head, whole units, the pieces at its tail. A piece of full length is a whole.
type filled struct {
	head   [3]measure.Length
	tail   [2]measure.Length
	nHead  int
	nTail  int
	whole  int
	start  measure.Length // where the first piece begins
	broken bool           // a small cut was shared with its neighbour
}

// fill lays the grid between from and to. A stretch no wider than a joint is left to the mortar.
func (g *grid) fill(from, to measure.Length) filled {
	var f filled
	if to-from <= g.perpend {
		return f
	}
	first := measure.FloorDiv(int64(from-g.origin), int64(g.pitch))
	if g.cell(first)+g.unit <= from {
		first++ // from lies in a joint
	}
	last := measure.FloorDiv(int64(to-g.origin), int64(g.pitch))
	if g.cell(last) >= to {
		last--
	}
	n := int(last - first + 1)
	if n < 1 {
		return f
	}
	f.start = max(from, g.cell(first))
	a := min(to, g.cell(first)+g.unit) - f.start
	b := min(to, g.cell(last)+g.unit) - max(from, g.cell(last))
	if n <= 3 {
		g.fillShort(&f, n, a, b)
		return f
	}
	f.whole = n - 2
	f.head[0], f.nHead = a, 1
	f.tail[0], f.nTail = b, 1
	if a < g.leastCut {
		f.head[0], f.head[1] = halves(a + g.unit)
		f.nHead, f.broken = 2, true
		f.whole--
	}
	if b < g.leastCut {
		f.tail[0], f.tail[1] = halves(b + g.unit)
		f.nTail, f.broken = 2, true
		f.whole--
	}
	return f
}

// fillShort is fill for one to three pieces, where both ends may share a neighbour:
// the left end is put right first.
func (g *grid) fillShort(f *filled, n int, a, b measure.Length) {
	p := [3]measure.Length{a, b}
	if n == 3 {
		p = [3]measure.Length{a, g.unit, b}
	}
	if n > 1 && p[0] < g.leastCut {
		f.broken = true
		if p[1] < g.leastCut {
			p[0] += g.perpend + p[1]
			p[1], n = p[2], n-1
		} else {
			p[0], p[1] = halves(p[0] + p[1])
		}
	}
	if n > 1 && p[n-1] < g.leastCut {
		f.broken = true
		if p[n-2] < g.leastCut {
			p[n-2] += g.perpend + p[n-1]
			n--
		} else {
			p[n-2], p[n-1] = halves(p[n-2] + p[n-1])
		}
	}
	f.head, f.nHead = p, n
}

func (g *grid) cell(i int64) measure.Length { return g.origin + measure.Length(i)*g.pitch }

// off is how far x is from the nearest place where a unit or a half could begin.
func (g *grid) off(x measure.Length) measure.Length {
	half := g.pitch / 2
	nearest := measure.Length(measure.HalfUpDiv(int64(x-g.origin), int64(half))) * half
	return g.origin + nearest - x
}

// halves parts a length in two; the first takes the odd micrometre.
func halves(l measure.Length) (measure.Length, measure.Length) { return l - l/2, l / 2 }

// each calls piece with every piece of the stretch, left to right.
func (f *filled) each(g *grid, piece func(x, length measure.Length)) {
	x := f.start
	for i := range f.nHead {
		piece(x, f.head[i])
		x += f.head[i] + g.perpend
	}
	for range f.whole {
		piece(x, g.unit)
		x += g.pitch
	}
	for i := range f.nTail {
		piece(x, f.tail[i])
		x += f.tail[i] + g.perpend
	}
}
