package bond

import (
	"hodman/service/measure"
	"hodman/service/schedule"
)

// band gathers the pieces of one course that stands for count courses.
type band struct {
	Band
	layer  *layer
	grid   *grid
	n      int
	count  int
	foot   measure.Length
	head   measure.Length
	square [2]measure.Length // between these the wall's top is above the units
	any    bool
}

// stretch lays full units between from and to.
func (b *band) stretch(from, to measure.Length, atStart, atEnd bool) {
	f := b.grid.fill(from, to)
	if f.nHead == 0 {
		return
	}
	b.any = true
	if f.broken && b.layer.out != nil && !b.raked(from, to) {
		b.layer.broken(b, from, to, atStart, atEnd)
	}
	height := b.head - b.foot
	closing := height < b.layer.run.Leaf.Unit.Height
	if !closing && !b.raked(from, to) {
		b.tally(&f)
		return
	}
	f.each(b.grid, func(x, length measure.Length) {
		switch {
		case closing:
			b.split(length, height)
		case x < b.square[0] || x+length > b.square[1]:
			b.cut(length, true)
		default:
			b.piece(length)
		}
	})
}

// raked says whether any of a stretch lies under a slope.
func (b *band) raked(from, to measure.Length) bool {
	return b.layer.shaped && (from < b.square[0] || to > b.square[1])
}

// tally counts a stretch whose pieces are all of full height.
func (b *band) tally(f *filled) {
	b.wholes(f.whole)
	for i := range f.nHead {
		b.piece(f.head[i])
	}
	for i := range f.nTail {
		b.piece(f.tail[i])
	}
}

func (b *band) piece(length measure.Length) {
	if length == b.grid.unit {
		b.wholes(1)
	} else {
		b.cut(length, false)
	}
}

func (b *band) wholes(n int) {
	b.layer.pieces += n * b.count
	b.Whole += n
}

func (b *band) cut(length measure.Length, raking bool) {
	b.layer.cuts += b.count
	b.layer.pieces += b.count
	if b.layer.out != nil {
		b.layer.sawn = add(b.layer.sawn, Piece{Length: length, Height: b.head - b.foot, Raking: raking})
	}
}

func (b *band) split(length, height measure.Length) {
	b.layer.cuts += b.count
	b.layer.pieces += b.count
	if b.layer.out != nil {
		b.layer.split = add(b.layer.split, Piece{Length: length, Height: height})
	}
}

// add counts a piece with its like. A course has few different cuts.
func add(list []Piece, p Piece) []Piece {
	for i := range list {
		q := &list[i]
		if q.Length == p.Length && q.Height == p.Height && q.Raking == p.Raking {
			q.Count++
			return list
		}
	}
	p.Count = 1
	return append(list, p)
}

// left lays what an opening leaves of the course under its sill and over its head.
func (b *band) left(from, to measure.Length, o *schedule.Opening) {
	for _, height := range [2]measure.Length{o.Sill - b.foot, b.head - o.Top()} {
		if height < b.layer.rules.LeastSplit || height >= b.head-b.foot {
			continue
		}
		f := b.grid.fill(from, to)
		b.any = b.any || f.nHead > 0
		f.each(b.grid, func(_, length measure.Length) { b.split(length, height) })
	}
}

// broken notes a stretch of broken bond, together with its like in other courses.
func (l *layer) broken(b *band, from, to measure.Length, atStart, atEnd bool) {
	free := 2
	if atStart && l.left.corner {
		free--
	}
	if atEnd && l.right.corner {
		free--
	}
	last := b.n + (b.count-1)*b.Step
	for i := range l.out.Broken {
		o := &l.out.Broken[i]
		if near(o.From, from, b.grid.pitch) && near(o.To, to, b.grid.pitch) && o.Free == free {
			o.First, o.Last = min(o.First, b.n), max(o.Last, last)
			o.From, o.To = min(o.From, from), max(o.To, to)
			return
		}
	}
	l.out.Broken = append(l.out.Broken, Broken{From: from, To: to, First: b.n, Last: last, Off: b.grid.off(from), Free: free})
}

func near(a, b, within measure.Length) bool { return a-b < within && b-a < within }

// underTop is the part of the course whose top is above the units' underside; it
// also notes the part that is above the units' heads.
func (b *band) underTop(start, end measure.Length) (from, to measure.Length) {
	w := b.layer.run.Wall
	from, to = w.Reach(b.foot)
	square0, square1 := w.Reach(b.head)
	b.square = [2]measure.Length{max(start, square0), min(end, square1)}
	return max(start, from), min(end, to)
}
