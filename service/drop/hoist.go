package drop

import (
	"cmp"
	"fmt"
	"slices"

	"hodman/service/finding"
	"hodman/service/measure"
	"hodman/service/product"
)

// mostHoists bounds the list of one lift: with more, the platform is far too small for it.
const mostHoists = 5_000

// goes says that goods go up on the platform. What mortar is made of stays at the mixer:
// the boards are counted with their mortar.
func (g *good) goes() bool {
	k := product.Kind(g.Kind)
	return k != product.Cement && k != product.Lime && k != product.Sand
}

// spot is one bay in one round.
type spot struct {
	mass  measure.Mass
	lines []HoistLine
}

// hoists puts a lift's goods out over all bays in as many rounds as it takes, each
// round like the others, so that bricks and blocks come together.
func (p *planner) hoists(d *deck, l int) {
	goods := p.onLift(l)
	total := measure.Mass(0)
	for _, i := range goods {
		g := &p.goods[i]
		total += g.mass(p.due(i, l))
		if each := g.mass(min(measure.Whole, p.due(i, l))); each > d.allowed {
			p.find(finding.Stop, "hoist.over", p.r.liftAt(l), fmt.Sprintf("lift %d: one unit of %s, %s kg, is %s kg over what a bay allows beside its people and boards, %s kg",
				p.loads[l].Lift, g.Product, each, each-d.allowed, d.allowed), "place it by machine straight into the wall, or have a higher class set up, as the scaffold's designer says", classRule(d.class))
			return
		}
	}
	if total == 0 {
		return
	}
	bays := int64(*p.r.Scaffold.Bays)
	for rounds := measure.CeilDiv(int64(total), int64(d.allowed)*bays); rounds*bays <= mostHoists; rounds++ {
		if spots := p.spread(goods, l, int(rounds*bays), d.allowed); spots != nil {
			p.writeHoists(d, l, spots, int(bays))
			return
		}
	}
	p.find(finding.Stop, "hoist.too_many", "/scaffold", fmt.Sprintf("lift %d: %s kg would take over %d hoists at %s kg a bay", p.loads[l].Lift, total, mostHoists, d.allowed),
		"have a higher class or more bays set up, as the scaffold's designer says", classRule(d.class))
}

// due is what a lift requires of a good.
func (j *job) due(good, l int) measure.Quantity {
	q := j.goods[good].needed[l]
	if l > 0 {
		q -= j.goods[good].needed[l-1]
	}
	return q
}

// onLift are the goods that a lift puts out, the heaviest unit first.
func (j *job) onLift(l int) []int {
	var goods []int
	for i := range j.goods {
		if j.goods[i].goes() && j.due(i, l) > 0 {
			goods = append(goods, i)
		}
	}
	slices.SortStableFunc(goods, func(a, b int) int {
		return cmp.Compare(j.goods[b].mass(measure.Whole), j.goods[a].mass(measure.Whole))
	})
	return goods
}

// spread deals the goods out over so many spots, every unit to where least lies; it
// returns nil where a spot would be over what is allowed.
func (j *job) spread(goods []int, l, n int, allowed measure.Mass) []spot {
	spots := make([]spot, n)
	for _, i := range goods {
		g := &j.goods[i]
		q := j.due(i, l)
		each := g.mass(measure.Whole)
		whole := int64(q / measure.Whole)
		shares := level(spots, whole, each)
		for s := range spots {
			if shares[s] > 0 {
				spots[s].lines = append(spots[s].lines, HoistLine{g.Product, g.Unit, measure.Quantity(shares[s]) * measure.Whole})
				spots[s].mass += g.mass(measure.Quantity(shares[s]) * measure.Whole)
			}
		}
		if rest := q % measure.Whole; rest > 0 {
			low := lightest(spots)
			spots[low].add(g, rest)
			spots[low].mass += g.mass(rest)
		}
	}
	for s := range spots {
		if spots[s].mass > allowed {
			return nil
		}
	}
	return spots
}

func (s *spot) add(g *good, q measure.Quantity) {
	if k := len(s.lines) - 1; k >= 0 && s.lines[k].Product == g.Product {
		s.lines[k].Quantity += q
		return
	}
	s.lines = append(s.lines, HoistLine{g.Product, g.Unit, q})
}

func lightest(spots []spot) int {
	low := 0
	for s := range spots {
		if spots[s].mass < spots[low].mass {
			low = s
		}
	}
	return low
}

// level deals units one by one to the lightest spot, the first of equals, and returns
// how many each gets; the height to which all rise is found by halving.
func level(spots []spot, units int64, each measure.Mass) []int64 {
	shares := make([]int64, len(spots))
	dealt := func(height measure.Mass) (n int64) {
		for s := range spots {
			shares[s] = max(0, measure.FloorDiv(int64(height-spots[s].mass), int64(each)))
			n += shares[s]
		}
		return n
	}
	low, high := measure.Mass(0), measure.Mass(units+1)*each
	for s := range spots {
		high = max(high, spots[s].mass+measure.Mass(units+1)*each)
	}
	for low+1 < high { // dealt(low) <= units < dealt(high)
		if mid := low + (high-low)/2; dealt(mid) <= units {
			low = mid
		} else {
			high = mid
		}
	}
	left := units - dealt(low)
	sure := slices.Clone(shares)
	dealt(high) // one unit more for the spots that are lightest now, more of them than are left
	for s := range spots {
		if shares[s] > sure[s] && left > 0 {
			left--
		} else {
			shares[s] = sure[s]
		}
	}
	return shares
}

func (p *planner) writeHoists(d *deck, l int, spots []spot, bays int) {
	for s := range spots {
		if len(spots[s].lines) == 0 {
			continue
		}
		p.Hoists = append(p.Hoists, Hoist{Lift: p.loads[l].Lift, Bay: s%bays + 1, Order: s/bays + 1, Lines: spots[s].lines,
			Mass: spots[s].mass, Imposed: d.imposed(spots[s].mass), Limit: d.limit})
	}
}
