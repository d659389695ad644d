package binpack

import "math"

// scale is the value of a whole bin in the integer prices of the items.
const scale = 1 << 30

// near is how far a pattern's price may stand over a whole bin and still count as
// equal: the prices are rounded down by under one each.
const near = 64

// sizesOfLinear is how many sizes the relaxation is tried with: its work grows with
// their square at every step.
const sizesOfLinear = 100

// workOfLinear bounds the relaxation in multiplications: some tens of milliseconds.
// What is proven by then stands. A step of pricing counts as so many.
const (
	workOfLinear = 40_000_000
	workOfStep   = 5
)

// linear is the relaxation over patterns: fewest bins, in parts of bins, that hold
// every item. Floats lead the simplex; the bound itself is an exact sum over integer
// prices. Every product is rounded by itself (the float64 around it), so that no
// machine fuses it into the sum and every machine takes the same way.
type linear struct {
	p       *problem
	basis   [][]cell  // one pattern a row
	share   []float64 // how many of each
	inverse []float64 // of the basis, m x m by rows
	dual    []float64 // the sum of its rows
	along   []float64 // what the pattern that enters takes off each share
	pricing pricing
	work    int // that is left
}

func newLinear(p *problem) *linear {
	m := len(p.sizes)
	floats := make([]float64, m*m+3*m)
	l := &linear{p: p, basis: make([][]cell, m), share: floats[:m], dual: floats[m : 2*m], along: floats[2*m : 3*m], inverse: floats[3*m:]}
	for i, size := range p.sizes {
		n := min(p.counts[i], int(p.capacity/size))
		l.basis[i] = []cell{{i, n}}
		l.share[i] = float64(p.counts[i]) / float64(n)
		l.inverse[i*m+i] = 1 / float64(n)
		l.dual[i] = 1 / float64(n)
	}
	l.pricing, l.work = newPricing(p), workOfLinear
	return l
}

// solve improves the relaxation until it is solved, or no better bound is to be had
// from it, or its bound reaches upper, and returns the best bound proven on the way, at
// least lower.
func (l *linear) solve(lower, upper int) int {
	m := len(l.basis)
	for l.work > 0 {
		l.price()
		exact := l.pricing.dearest()
		l.work -= m*m + workOfStep*l.pricing.taken
		if l.pricing.value <= scale+near && !exact {
			break
		}
		if exact {
			lower = max(lower, l.bound(l.pricing.value))
		}
		if lower >= upper || l.pricing.value <= scale+near || lower >= l.bins() {
			break
		}
		if !l.enter(l.pricing.best) {
			break
		}
	}
	return lower
}

// bins is the relaxation's own number of bins, rounded up: its bound gets no higher.
func (l *linear) bins() int {
	sum := 0.0
	for _, s := range l.share {
		sum += s
	}
	return int(math.Ceil(sum - 1e-6))
}

// price sets the items' integer prices: the duals, rounded down, none under nought.
func (l *linear) price() {
	for j, d := range l.dual {
		l.pricing.price[j] = min(scale, int64(float64(max(0, d)*scale)))
	}
}

// bound is proven by the prices alone: no bin holds more than value, so all items
// need at least their price over value, rounded up (Farley).
func (l *linear) bound(value int64) int {
	var all int64
	for i, price := range l.pricing.price {
		all += price * int64(l.p.counts[i])
	}
	return int(ceilDiv(all, max(1, value)))
}

// enter brings a pattern into the basis in place of the one that it uses up first.
// It returns false where rounding leaves none to go.
func (l *linear) enter(column []cell) bool {
	m := len(l.basis)
	out, least := -1, 0.0
	for i := range l.along {
		a := 0.0
		for _, c := range column {
			a += float64(l.inverse[i*m+c.size] * float64(c.count))
		}
		l.along[i] = a
		if a <= 1e-9 {
			continue
		}
		if ratio := l.share[i] / a; out < 0 || ratio < least-1e-12 || ratio < least+1e-12 && a > l.along[out] {
			out, least = i, ratio
		}
	}
	if out < 0 {
		return false
	}
	l.pivot(out)
	l.basis[out] = append(l.basis[out][:0], column...)
	return true
}

func (l *linear) pivot(out int) {
	m := len(l.basis)
	row := l.inverse[out*m : out*m+m]
	by := l.along[out]
	for j := range row {
		row[j] /= by
	}
	l.share[out] /= by
	for i, a := range l.along {
		if i == out || a == 0 {
			continue
		}
		other := l.inverse[i*m : i*m+m]
		for j, r := range row {
			other[j] -= float64(a * r)
		}
		l.share[i] = max(0, l.share[i]-float64(a*l.share[out]))
	}
	clear(l.dual)
	for i := range m {
		for j, r := range l.inverse[i*m : i*m+m] {
			l.dual[j] += r
		}
	}
}
