package lintel

import (
	"cmp"
	"slices"
	"strconv"

	"hodman/service/measure"
)

// class is openings that any lintel serves alike: the same lintels in stock serve
// them, each with the same bearing. What one costs for such an opening is the
// lintel's share less the opening's width, so that within a class they may change places.
type class struct {
	serving []candidate
	widths  []width // the widest first: it leaves the least surplus
}

type width struct {
	clear measure.Length
	jobs  []*job
}

// allocate gives lintels in stock to all openings at once: as many openings as can
// be served, then the least price, then the least surplus length, then by place in
// the catalogue. It takes what it gives from stock.
func allocate(jobs []*job, stock map[string]int) {
	classes := classesOf(jobs, stock)
	places := make(map[string]int)
	var products []candidate
	for _, c := range classes {
		for _, s := range c.serving {
			if _, ok := places[s.product.Code]; !ok {
				places[s.product.Code] = len(products)
				products = append(products, s)
			}
		}
	}
	end := 1 + len(classes) + len(products)
	net := newNetwork(end + 1)
	takes, gives := make([]int, len(classes)), make([][]int, len(classes))
	for i, c := range classes {
		var steps []step
		for _, w := range c.widths {
			steps = append(steps, step{len(w.jobs), cost{surplus: -int64(w.clear)}})
		}
		takes[i] = net.climb(0, 1+i, steps)
		for _, s := range c.serving {
			to := 1 + len(classes) + places[s.product.Code]
			gives[i] = append(gives[i], net.join(1+i, to, stock[s.product.Code], s.cost()))
		}
	}
	for i, s := range products {
		net.join(1+len(classes)+i, end, stock[s.product.Code], cost{})
	}
	net.carry(0, end)
	for i, c := range classes {
		c.give(net, net.carried(takes[i]), gives[i], stock)
	}
	straighten(jobs)
}

// cost is a lintel's share of what an opening costs, less the opening's clear width.
func (c *candidate) cost() cost {
	return cost{c.dear, int64(c.product.Length - 2*c.least), int64(c.place)}
}

// classesOf sorts the openings that something in stock serves.
func classesOf(jobs []*job, stock map[string]int) []*class {
	var classes []*class
	byKey := make(map[string]*class)
	var key []byte
	for _, j := range jobs {
		key = key[:0]
		var serving []candidate
		for _, s := range j.serving {
			if stock[s.product.Code] > 0 {
				serving = append(serving, s)
				key = append(strconv.AppendInt(key, int64(s.place), 10), ' ')
				key = append(strconv.AppendInt(key, int64(s.least), 10), ' ')
			}
		}
		if len(serving) == 0 {
			continue
		}
		c := byKey[string(key)]
		if c == nil {
			c = &class{serving: serving}
			byKey[string(key)] = c
			classes = append(classes, c)
		}
		c.add(j)
	}
	return classes
}

// add keeps the widths falling.
func (c *class) add(j *job) {
	at, found := slices.BinarySearchFunc(c.widths, j.opening.widest(), func(w width, clear measure.Length) int { return cmp.Compare(clear, w.clear) })
	if !found {
		c.widths = slices.Insert(c.widths, at, width{clear: j.opening.widest()})
	}
	c.widths[at].jobs = append(c.widths[at].jobs, j)
}

// give hands out what the network carries to a class: to so many openings, the widest
// first.
func (c *class) give(net *network, openings int, gives []int, stock map[string]int) {
	var served []*job
	for _, w := range c.widths {
		served = append(served, w.jobs...)
	}
	served = served[:openings]
	for k := range c.serving {
		s := c.serving[k]
		for range net.carried(gives[k]) {
			served[0].taken, served = s.clone(served[0].opening), served[1:]
			stock[s.product.Code]--
		}
	}
}

// clone is the same lintel over another opening of its class.
func (c *candidate) clone(o *Opening) *candidate {
	other := *c
	other.needed = o.widest() + 2*c.least
	return &other
}

// straighten lets the wider of two openings that ask for the same have the longer
// lintel, where that costs nothing: the network does not care, people do.
func straighten(jobs []*job) {
	groups := make(map[string][]*job)
	var keys []string
	for _, j := range jobs {
		if j.taken == nil {
			continue
		}
		key := j.seat + "|" + j.opening.Asked.String()
		if groups[key] == nil {
			keys = append(keys, key)
		}
		groups[key] = append(groups[key], j)
	}
	for _, key := range keys {
		straightenGroup(groups[key])
	}
}

func straightenGroup(group []*job) {
	slices.SortStableFunc(group, func(a, b *job) int { return cmp.Compare(a.opening.widest(), b.opening.widest()) })
	taken := make([]*candidate, len(group))
	var before, after measure.Length
	for i, j := range group {
		taken[i] = j.taken
		before += j.taken.needed
	}
	slices.SortStableFunc(taken, func(a, b *candidate) int {
		return cmp.Or(cmp.Compare(a.product.Length, b.product.Length), cmp.Compare(a.place, b.place))
	})
	for i, j := range group {
		taken[i] = j.serves(taken[i].product.Code)
		if taken[i] == nil {
			return
		}
		after += taken[i].needed
	}
	if before != after {
		return // bearings differ by product: the surplus would grow
	}
	for i, j := range group {
		j.taken = taken[i]
	}
}
