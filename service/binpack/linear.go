package binpack

// scale is the value of a whole bin in the integer prices of the items.
const scale = 1 << 30

// near is how far a pattern's price may stand over a whole bin and still count as
// equal: the prices are rounded down by under one each.
const near = 64

// sizesOfLinear is how many sizes the relaxation is tried with: its work grows with
// their square at every step.
const sizesOfLinear = 100

// workOfLinear bounds the relaxation in multiplications and steps of pricing: some
// tens of milliseconds. What is proven by then stands.
const workOfLinear = 40_000_000

// stepsOfPricing bounds one search for the dearest pattern.
const stepsOfPricing = 200_000

// linear is the relaxation over patterns: fewest bins, in parts of bins, that hold
// every item. Floats lead the simplex; the bound itself is an exact sum over integer
// prices. Every product is rounded by itself (the float64 around it), so that no
// machine fuses it into the sum and every machine takes the same way.
type linear struct {
	p       *problem
	basis   [][]int   // one pattern a row
	share   []float64 // how many of each
	inverse []float64 // of the basis, m x m by rows
	pricing pricing
}

func newLinear(p *problem) *linear {
	m := len(p.sizes)
	l := &linear{p: p, basis: make([][]int, m), share: make([]float64, m), inverse: make([]float64, m*m)}
	for i, size := range p.sizes {
		n := min(p.counts[i], int(p.capacity/size))
		l.basis[i] = make([]int, m)
		l.basis[i][i] = n
		l.share[i] = float64(p.counts[i]) / float64(n)
		l.inverse[i*m+i] = 1 / float64(n)
	}
	l.pricing = newPricing(p)
	return l
}

// solve improves the relaxation until it is solved or its bound reaches upper, and
// returns the best bound proven on the way, at least lower.
func (l *linear) solve(lower, upper int) int {
	m := len(l.basis)
	column, along := make([]int, m), make([]float64, m)
	for work := workOfLinear; work > 0; {
		l.price()
		value, exact := l.pricing.dearest(column)
		work -= 3*m*m + stepsOfPricing - l.pricing.steps
		if !exact {
			break
		}
		if lower = max(lower, l.bound(value)); lower >= upper || value <= scale+near {
			break
		}
		if !l.enter(column, along) {
			break
		}
	}
	return lower
}

// price sets the items' integer prices: the duals, rounded down, none under nought.
func (l *linear) price() {
	m := len(l.basis)
	for j := range m {
		sum := 0.0
		for i := range m {
			sum += l.inverse[i*m+j]
		}
		l.pricing.price[j] = min(scale, int64(float64(max(0, sum)*scale)))
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
func (l *linear) enter(column []int, along []float64) bool {
	m := len(l.basis)
	for i := range m {
		along[i] = 0
		for j, n := range column {
			along[i] += float64(l.inverse[i*m+j] * float64(n))
		}
	}
	out, least := -1, 0.0
	for i, a := range along {
		if a <= 1e-9 {
			continue
		}
		if ratio := l.share[i] / a; out < 0 || ratio < least-1e-12 || ratio < least+1e-12 && a > along[out] {
			out, least = i, ratio
		}
	}
	if out < 0 {
		return false
	}
	l.pivot(out, along)
	copy(l.basis[out], column)
	return true
}

func (l *linear) pivot(out int, along []float64) {
	m := len(l.basis)
	row := l.inverse[out*m : out*m+m]
	for j := range row {
		row[j] /= along[out]
	}
	l.share[out] /= along[out]
	for i, a := range along {
		if i == out || a == 0 {
			continue
		}
		for j := range row {
			l.inverse[i*m+j] -= float64(a * row[j])
		}
		l.share[i] = max(0, l.share[i]-float64(a*l.share[out]))
	}
}

// pricing looks for the pattern of the highest price: a bounded knapsack, by depth
// first search, the dearest for its size first.
type pricing struct {
	p     *problem
	price []int64
	order []int // by falling price for the size
	now   []int
	best  []int
	value int64
	steps int
}

func newPricing(p *problem) pricing {
	m := len(p.sizes)
	ints := make([]int, 2*m)
	k := pricing{p: p, price: make([]int64, m), order: make([]int, m), now: ints[:m]}
	for i := range k.order {
		k.order[i] = i
	}
	return k
}

// dearest writes the dearest pattern to best and returns its price. The second
// result is false where the steps ran out: then the price is not the highest for sure.
func (k *pricing) dearest(best []int) (int64, bool) {
	// Insertion sort: the order hardly changes from one call to the next.
	for a := 1; a < len(k.order); a++ {
		for b := a; b > 0 && k.denser(k.order[b], k.order[b-1]); b-- {
			k.order[b], k.order[b-1] = k.order[b-1], k.order[b]
		}
	}
	clear(k.now)
	clear(best)
	k.best, k.value, k.steps = best, 0, stepsOfPricing
	k.descend(0, k.p.capacity, 0)
	return k.value, k.steps > 0
}

func (k *pricing) denser(i, j int) bool {
	a, b := k.price[i]*k.p.sizes[j], k.price[j]*k.p.sizes[i]
	return a > b || a == b && i < j
}

func (k *pricing) descend(depth int, room, value int64) {
	if k.steps--; k.steps <= 0 {
		return
	}
	if value > k.value {
		k.value = value
		copy(k.best, k.now)
	}
	for ; depth < len(k.order); depth++ {
		i := k.order[depth]
		price, size := k.price[i], k.p.sizes[i]
		if value+room*price/size <= k.value { // rounded down: prices are whole
			return
		}
		n := min(k.p.counts[i], int(room/size))
		for ; n > 0; n-- {
			k.now[i] = n
			k.descend(depth+1, room-int64(n)*size, value+int64(n)*price)
		}
		k.now[i] = 0
	}
}
