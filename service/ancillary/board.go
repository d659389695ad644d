package ancillary

import (
	"cmp"
	"slices"

	"hodman/service/binpack"
	"hodman/service/measure"
	"hodman/service/product"
	"hodman/service/schedule"
)

// boards is how insulation is laid: courses of boards from the wall's base up, end to end
// from the left of every stretch, cut at openings and to the top.
type boards struct {
	product *product.Product
	least   measure.Length // a narrower gap is closed as the boards are laid
	// whole is how many are not cut; cut are pieces by size.
	whole int
	cut   []boardPiece

	full, between clearing
	parts         []stretchAlong
}

// boardPiece is so many pieces of a size, as cut square: what a slope takes off is no other's.
type boardPiece struct {
	length, height measure.Length
	count          int
}

// lay lays one wall's boards, course by course.
func (b *boards) lay(w *schedule.Wall) {
	edges := make([]measure.Length, 0, 2*len(w.Openings)+4)
	high := w.Highest()
	for foot := measure.Length(0); foot < high; foot += b.product.Height {
		head := min(foot+b.product.Height, high)
		edges = append(edges[:0], foot, head)
		for k := range w.Openings {
			o := &w.Openings[k]
			for _, z := range [2]measure.Length{o.Sill, o.Top()} {
				if foot < z && z < head {
					edges = append(edges, z)
				}
			}
		}
		slices.Sort(edges)
		edges = slices.Compact(edges)
		b.course(w, edges)
	}
}

// course lays the boards between the lowest edge and the highest. A stretch that is free
// all the way up takes boards; the rest is laid between each two edges by itself.
func (b *boards) course(w *schedule.Wall, edges []measure.Length) {
	foot, head := edges[0], edges[len(edges)-1]
	full := b.full.unbroken(w, foot, head)
	for _, s := range full {
		b.stretch(s.to-s.from, head-foot)
	}
	if len(edges) == 2 {
		return
	}
	for i := 1; i < len(edges); i++ {
		for _, s := range b.between.unbroken(w, edges[i-1], edges[i]) {
			b.parts = s.cutOut(b.parts[:0], full)
			for _, part := range b.parts {
				b.stretch(part.to-part.from, edges[i]-edges[i-1])
			}
		}
	}
}

// stretch lays boards end to end.
func (b *boards) stretch(length, height measure.Length) {
	if height < b.least {
		return
	}
	n := int(measure.FloorDiv(int64(length), int64(b.product.Length)))
	if height == b.product.Height {
		b.whole += n
	} else {
		b.add(b.product.Length, height, n)
	}
	if rest := length - measure.Length(n)*b.product.Length; rest >= b.least {
		b.add(rest, height, 1)
	}
}

func (b *boards) add(length, height measure.Length, n int) {
	if n > 0 {
		b.cut = append(b.cut, boardPiece{length, height, n})
	}
}

// stretchAlong is a part of a wall along it.
type stretchAlong struct{ from, to measure.Length }

// unbroken are the stretches of a wall without openings between two levels, by what the wall
// is long at the lower.
func unbroken(w *schedule.Wall, foot, head measure.Length) []stretchAlong {
	return new(clearing).unbroken(w, foot, head)
}

// clearing keeps what stretches are worked out in for the next ones.
type clearing struct{ holes, left []stretchAlong }

func (a *clearing) unbroken(w *schedule.Wall, foot, head measure.Length) []stretchAlong {
	from, to := measure.Length(0), w.Length
	if w.Top != nil {
		left, right := w.Reach(foot)
		from, to = max(from, left), min(to, right)
	}
	a.holes = a.holes[:0]
	for k := range w.Openings {
		if o := &w.Openings[k]; o.Sill < head && o.Top() > foot {
			a.holes = append(a.holes, stretchAlong{o.Left, o.Right()})
		}
	}
	if w.Top != nil && w.Top.Shape == "stepped" {
		w.Steps(func(from, to, top measure.Length) {
			if top <= foot {
				a.holes = append(a.holes, stretchAlong{from, to})
			}
		})
	}
	a.left = stretchAlong{from, to}.cutOut(a.left[:0], a.holes)
	return a.left
}

// without is what holes leave of a stretch.
func (s stretchAlong) without(holes []stretchAlong) []stretchAlong {
	return s.cutOut(nil, slices.Clone(holes))
}

// cutOut appends what holes leave of a stretch. It sorts the holes.
func (s stretchAlong) cutOut(left, holes []stretchAlong) []stretchAlong {
	if len(holes) > 1 {
		slices.SortFunc(holes, func(a, b stretchAlong) int { return cmp.Compare(a.from, b.from) })
	}
	at := s.from
	for _, h := range holes {
		if h.from >= s.to {
			break
		}
		if h.from > at {
			left = append(left, stretchAlong{at, h.from})
		}
		at = max(at, h.to)
	}
	if at < s.to {
		left = append(left, stretchAlong{at, s.to})
	}
	return left
}

// pack finds how many boards the cut pieces come out of: pieces of one height side by
// side in a strip as long as a board, strips over each other in a board. It returns
// the boards and how each is cut.
func (b *boards) pack() (int, []CutBar) {
	slices.SortFunc(b.cut, func(x, y boardPiece) int {
		if x.height != y.height {
			return cmp.Compare(y.height, x.height)
		}
		return cmp.Compare(y.length, x.length)
	})
	heights := 0
	for i := range b.cut {
		if i == 0 || b.cut[i].height != b.cut[i-1].height {
			heights++
		}
	}
	strips, room := make([]binpack.Item, 0, heights), make([]binpack.Item, 0, len(b.cut))
	within, items := make([]binpack.Packing, 0, heights), make([][]binpack.Item, 0, heights) // by strip height
	for i := 0; i < len(b.cut); {
		height := b.cut[i].height
		row := room[len(room):]
		for ; i < len(b.cut) && b.cut[i].height == height; i++ {
			if n := len(row); n > 0 && row[n-1].Size == int64(b.cut[i].length) {
				row[n-1].Count += b.cut[i].count
				continue
			}
			row = append(row, binpack.Item{Size: int64(b.cut[i].length), Count: b.cut[i].count})
		}
		room = room[:len(room)+len(row)]
		packing := binpack.Cut(int64(b.product.Length), 0, row)
		strips = append(strips, binpack.Item{Size: int64(height), Count: packing.Bins})
		within, items = append(within, packing), append(items, row)
	}
	packing := binpack.Cut(int64(b.product.Height), 0, strips)
	return packing.Bins, b.bars(strips, within, items, &packing)
}

// bars shows board by board what is cut from it.
func (b *boards) bars(strips []binpack.Item, within []binpack.Packing, items [][]binpack.Item, packing *binpack.Packing) []CutBar {
	next := make([]stripsOf, len(strips))
	for i := range next {
		next[i] = stripsOf{patterns: within[i].Patterns}
	}
	list := new(CutList)
	var pieces []CutPiece
	for _, pattern := range packing.Patterns {
		for range pattern.Times {
			pieces = pieces[:0]
			for i, n := range pattern.Counts {
				for range n {
					for k, count := range next[i].take() {
						if count > 0 {
							pieces = append(pieces, CutPiece{Length: measure.Length(items[i][k].Size), Height: measure.Length(strips[i].Size), Count: count})
						}
					}
				}
			}
			list.add(CutBar{Product: b.product.Code, Times: 1, Pieces: pieces})
		}
	}
	return list.Bars
}

// stripsOf hands out the strips of one height, one after another.
type stripsOf struct {
	patterns []binpack.Pattern
	taken    int // of the first
}

func (s *stripsOf) take() []int {
	if len(s.patterns) == 0 {
		return nil // over the packer's most sizes there are no patterns to show
	}
	if s.taken == s.patterns[0].Times {
		s.patterns, s.taken = s.patterns[1:], 0
	}
	s.taken++
	return s.patterns[0].Counts
}
