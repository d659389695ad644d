package ancillary

import (
	"cmp"
	"slices"

	"hodman/service/binpack"
	"hodman/service/measure"
)

// packed tries what the search did not get to: every run in its cheapest way, its pieces
// packed into each stock length in turn by the exact packer, and every bar then no longer
// than it has to be.
func (s *search) packed() {
	pieces := make([]Piece, 0, len(s.order))
	whole, count, chosen := measure.Length(0), 0, make([]int, len(s.order))
	for place := range s.order {
		w := &s.ways[place][0]
		whole, count = whole+w.whole, count+w.count()
		for _, l := range w.cut {
			pieces = append(pieces, Piece{s.order[place], l})
		}
	}
	slices.SortStableFunc(pieces, func(a, b Piece) int { return cmp.Compare(b.Length, a.Length) })
	for _, stock := range s.stock {
		if stock < pieces[0].Length {
			continue
		}
		bars := s.packInto(stock, pieces)
		cost := whole
		for i := range bars {
			cost += bars[i].cost
		}
		if n := count + len(bars); bars != nil && (cost < s.best || cost == s.best && n < s.bestCount) {
			s.best, s.bestCount, s.bestBars, s.bestChosen = cost, n, bars, chosen
		}
	}
}

// packInto packs pieces into one stock length; nil where there are too many sizes.
func (s *search) packInto(stock measure.Length, pieces []Piece) []bar {
	items := make([]binpack.Item, 0, len(pieces))
	bySize := make(map[measure.Length][]Piece, len(pieces))
	for _, p := range pieces {
		if len(bySize[p.Length]) == 0 {
			items = append(items, binpack.Item{Size: int64(p.Length)})
		}
		bySize[p.Length] = append(bySize[p.Length], p)
	}
	for i := range items {
		items[i].Count = len(bySize[measure.Length(items[i].Size)])
	}
	if len(items) > binpack.MaxSizes {
		return nil
	}
	var bars []bar
	for _, pattern := range binpack.Cut(int64(stock), int64(s.by.Kerf), items).Patterns {
		for range pattern.Times {
			b := bar{used: -s.by.Kerf}
			for i, n := range pattern.Counts {
				size := measure.Length(items[i].Size)
				b.pieces = append(b.pieces, bySize[size][:n]...)
				bySize[size] = bySize[size][n:]
				b.used += measure.Length(n) * (size + s.by.Kerf)
			}
			b.cost = s.holds(b.used)
			bars = append(bars, b)
		}
	}
	return bars
}
