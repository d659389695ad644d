package drop

import (
	"math/bits"

	"hodman/service/measure"
)

// flowSteps is how finely the goods of a job are divided for the bound by mass.
const flowSteps = 800

// flow bounds every plan by mass alone, as if goods could be poured: by each lift's last
// day at least what is needed by then has come, and at most what may have come; the
// trips of a day carry at least what comes on it, and what comes early is held. That
// deliveries fall on last days is no loss: one that is put off to the next last day holds
// its goods for less. All is rounded so that the bound stays one.
func (j *job) flow(free *fleet) measure.Money {
	need, most := j.flowSpans()
	if len(need) == 0 || most[len(most)-1] == 0 {
		return 0
	}
	total := most[len(most)-1]
	step := measure.CeilDiv(total, flowSteps)
	cover := free.covers(step, int(total/step)+1)
	heaviest := j.heaviestPack()
	best := []measure.Money{0} // by whole steps that have come
	for k := range need {
		days := 0
		if k+1 < len(need) {
			days = j.last(k+1) - j.last(k)
		}
		next := make([]measure.Money, most[k]/step+1)
		for s := range next {
			next[s] = none
			if int64(s) < max(0, need[k]-int64(len(j.goods)))/step { // each product was rounded up to a gram
				continue
			}
			early := down(j.holding, max(0, int64(s)*step-need[k]), heaviest) * measure.Money(days)
			for from := range min(s+1, len(best)) {
				next[s] = min(next[s], best[from]+cover[s-from]+early)
			}
		}
		best = next
	}
	least := none
	for _, c := range best {
		least = min(least, c)
	}
	return least
}

// flowSpans are, by lift, the grams that must have come by its last day and that may have.
func (j *job) flowSpans() (need, most []int64) {
	for k := range j.spans {
		sum := int64(0)
		for i := range j.goods {
			g := &j.goods[i]
			sum += int64(g.mass(measure.Quantity(g.pieces(k)) * g.piece))
		}
		need = append(need, sum)
	}
	for k := range j.spans {
		last := k
		for last+1 < len(j.spans) && j.first(last+1) <= j.last(k) {
			last++
		}
		most = append(most, need[last])
	}
	return need, most
}

// heaviestPack is the most grams that count as one pack: held goods cost at least what
// they would if all were of that.
func (j *job) heaviestPack() int64 {
	heaviest := measure.Mass(1)
	for i := range j.goods {
		g := &j.goods[i]
		heaviest = max(heaviest, g.worth, g.place())
	}
	return int64(heaviest)
}

// down is cost x part / whole, rounded down.
func down(cost measure.Money, part, whole int64) measure.Money {
	hi, lo := bits.Mul64(uint64(cost), uint64(part))
	q, _ := bits.Div64(hi, lo, uint64(whole))
	return measure.Money(q)
}

// covers bounds, by steps, the trips that carry over one step less than so many.
func (f *fleet) covers(step int64, steps int) []measure.Money {
	cover := make([]measure.Money, steps+1)
	for x := 1; x <= steps; x++ {
		cover[x] = none
		for i := range f.vehicles {
			v := &f.vehicles[i]
			if v.most() == 0 {
				continue
			}
			rest := measure.Money(0)
			if left := int64(x-1)*step + 1 - int64(v.Payload); left > 0 {
				rest = cover[(left-1)/step+1]
			}
			cover[x] = min(cover[x], *v.Cost+rest)
		}
	}
	return cover
}
