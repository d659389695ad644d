package drop

import (
	"math/bits"

	"hodman/service/lift"
	"hodman/service/measure"
	"hodman/service/rulebook"
)

// mostBlocks bounds the parts that a job's goods are tried in; more of them are brought
// together lift by lift. Where that finds no plan mostBlocksAgain are tried. Over freeWork,
// products times vehicles, there are fewer, so that no request takes more than seconds.
const (
	mostBlocks      = 120
	mostBlocksAgain = 480
	freeWork        = 150
)

// good is one product of the whole job.
type good struct {
	lift.Line // of the first lift that has it: product, kind, unit, pack
	// piece is the least that is brought: a pack, or one unit where packs of units are
	// split. A pack of metres or kilograms is one length, roll or bag, and stays whole.
	piece measure.Quantity
	// perPlace is how many pieces stand on one deck place; nought: they take none.
	perPlace int64
	// worth is what counts as a pack of goods that take no place.
	worth measure.Mass
	// needed is what is required up to and with each lift.
	needed []measure.Quantity
}

// goodsOf gathers the loads by product, in the order they first stand. Packs lighter
// than a place's worth are made up on pallets of that mass, of the heaviest payload at most.
func goodsOf(loads []lift.Load, book *rulebook.Book, payload measure.Mass) []good {
	var goods []good
	index := make(map[string]int)
	for i := range loads {
		for k := range loads[i].Lines {
			line := &loads[i].Lines[k]
			g, there := index[line.Product]
			if !there {
				g = len(goods)
				index[line.Product] = g
				goods = append(goods, newGood(line, len(loads), book, payload))
			}
			for later := i; later < len(loads); later++ {
				goods[g].needed[later] += line.Required
			}
		}
	}
	return goods
}

func newGood(line *lift.Line, lifts int, book *rulebook.Book, payload measure.Mass) good {
	g := good{Line: *line, piece: line.Pack, needed: make([]measure.Quantity, lifts)}
	if line.Loose && line.Unit == "each" && line.Pack > measure.Whole {
		g.piece = measure.Whole
	}
	g.worth = measure.Mass(book.Count("drop.place")) * measure.Kilogram
	if placed(line.Kind) {
		g.perPlace = max(measure.FloorDiv(int64(line.Pack), int64(g.piece)), g.fits(g.worth))
		g.perPlace = max(1, min(g.perPlace, g.fits(payload)))
	}
	return g
}

// fits is how many pieces a mass holds.
func (g *good) fits(m measure.Mass) int64 {
	n := measure.FloorDiv(int64(m), max(1, int64(g.mass(g.piece))))
	for n > 0 && g.mass(measure.Quantity(n)*g.piece) > m {
		n--
	}
	return n
}

// mass is what a quantity weighs by its pack, rounded up to a gram.
func (g *good) mass(q measure.Quantity) measure.Mass {
	hi, lo := bits.Mul64(uint64(q), uint64(g.PackMass))
	m, rest := bits.Div64(hi, lo, uint64(g.Pack))
	if rest > 0 {
		m++
	}
	return measure.Mass(m)
}

// places is how many places a quantity takes on the ground or the deck.
func (g *good) places(q measure.Quantity) int64 {
	if g.perPlace == 0 {
		return 0
	}
	return measure.CeilDiv(int64(q), int64(g.piece)*g.perPlace)
}

// pieces is how many pieces must have come for the lifts up to and with i, for -1 none:
// what is left of an earlier lift's packs serves the later ones.
func (g *good) pieces(i int) int64 {
	if i < 0 {
		return 0
	}
	return measure.CeilDiv(int64(g.needed[i]), int64(g.piece))
}

// block is goods that come together, first needed for one lift.
type block struct {
	lift  int // index
	parts []part
}

type part struct {
	good   int
	pieces int64
}

// blocksOf parts a job's goods into blocks in the order that they are needed, for every
// lift: first one a deck place, then a place's worth at a time of what takes none,
// both in the order given. Each lift has its part of most blocks, and at least one.
func blocksOf(goods []good, order []int, lifts, most int) []block {
	var blocks []block
	for l := range lifts {
		var here, loose []block
		room := int64(0)
		for _, i := range order {
			g := &goods[i]
			for left := g.pieces(l) - g.pieces(l-1); left > 0; {
				if g.perPlace > 0 {
					n := min(left, g.perPlace)
					here = append(here, block{l, []part{{i, n}}})
					left -= n
					continue
				}
				n := min(left, room/int64(g.mass(g.piece)))
				if n == 0 {
					n = 1
					room = int64(g.worth)
					loose = append(loose, block{lift: l})
				}
				last := &loose[len(loose)-1]
				last.parts = append(last.parts, part{i, n})
				room -= n * int64(g.mass(g.piece))
				left -= n
			}
		}
		blocks = append(blocks, together(append(here, loose...), max(1, most/lifts))...)
	}
	return blocks
}

// together merges neighbours so that at most most blocks are left, as even as can be.
func together(blocks []block, most int) []block {
	n := len(blocks)
	if n <= most {
		return blocks
	}
	merged := make([]block, 0, most)
	for i := range most {
		b := block{lift: blocks[0].lift}
		for _, each := range blocks[i*n/most : (i+1)*n/most] {
			b.parts = append(b.parts, each.parts...)
		}
		merged = append(merged, b)
	}
	return merged
}
