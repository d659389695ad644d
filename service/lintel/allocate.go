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
	takes   int     // the network's edge to the class; those to what serves it follow in order
}

type width struct {
	clear measure.Length
	jobs  []*job
}

// allocate gives lintels in stock to all openings at once: as many openings as can
// be served, then the least price, then the least surplus length, then by place in
// the catalogue. It takes what it gives from stock, which is by place in the catalogue.
func allocate(jobs []job, stock []int) {
	classes := classesOf(jobs, stock)
	nodes := make([]int, len(stock)) // of what serves a class, counted from 1; nought: it serves none
	var products []int               // by node, their place
	edges := len(classes)
	for i := range classes {
		edges += len(classes[i].serving)
		for k := range classes[i].serving {
			if place := classes[i].serving[k].place; nodes[place] == 0 {
				products = append(products, place)
				nodes[place] = len(products)
			}
		}
	}
	end := 1 + len(classes) + len(products)
	net := newNetwork(end+1, edges+len(products))
	for i := range classes {
		c := &classes[i]
		steps := make([]step, len(c.widths))
		for k := range c.widths {
			steps[k] = step{len(c.widths[k].jobs), cost{surplus: -int64(c.widths[k].clear)}}
		}
		c.takes = net.climb(0, 1+i, steps)
		for k := range c.serving {
			s := &c.serving[k]
			net.join(1+i, len(classes)+nodes[s.place], stock[s.place], s.cost())
		}
	}
	for i, place := range products {
		net.join(1+len(classes)+i, end, stock[place], cost{})
	}
	net.carry(0, end)
	for i := range classes {
		classes[i].give(net, stock)
	}
	straighten(jobs)
}

// cost is a lintel's share of what an opening costs, less the opening's clear width.
func (c *candidate) cost() cost {
	return cost{c.dear, int64(c.product.Length - 2*c.least), int64(c.place)}
}

// classesOf sorts the openings that something in stock serves.
func classesOf(jobs []job, stock []int) []class {
	var classes []class
	byKey := make(map[string]int)
	var key []byte
	for i := range jobs {
		j := &jobs[i]
		key = key[:0]
		n := 0
		for k := range j.serving {
			if s := &j.serving[k]; stock[s.place] > 0 {
				n++
				key = append(strconv.AppendInt(key, int64(s.place), 10), ' ')
				key = append(strconv.AppendInt(key, int64(s.least), 10), ' ')
			}
		}
		if n == 0 {
			continue
		}
		c, ok := byKey[string(key)]
		if !ok {
			c = len(classes)
			byKey[string(key)] = c
			classes = append(classes, class{serving: inStock(j.serving, stock, n)})
		}
		classes[c].add(j)
	}
	return classes
}

// inStock are those n of a list that there are any of.
func inStock(list []candidate, stock []int, n int) []candidate {
	some := make([]candidate, 0, n)
	for k := range list {
		if stock[list[k].place] > 0 {
			some = append(some, list[k])
		}
	}
	return some
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
func (c *class) give(net *network, stock []int) {
	rest := c.widths
	for k := range c.serving {
		s := &c.serving[k]
		for range net.carried(c.takes + 2*(k+1)) {
			for len(rest[0].jobs) == 0 {
				rest = rest[1:]
			}
			j := rest[0].jobs[0]
			rest[0].jobs = rest[0].jobs[1:]
			j.taken = j.serves(s.product)
			stock[s.place]--
		}
	}
}

// straighten lets the wider of two openings that ask for the same have the longer
// lintel, where that costs nothing: the network does not care, people do.
func straighten(jobs []job) {
	taken := make([]*job, 0, len(jobs))
	for i := range jobs {
		if jobs[i].taken != nil {
			taken = append(taken, &jobs[i])
		}
	}
	slices.SortStableFunc(taken, func(a, b *job) int {
		return cmp.Or(cmp.Compare(a.seat, b.seat), cmp.Compare(a.opening.Asked, b.opening.Asked), cmp.Compare(a.opening.widest(), b.opening.widest()))
	})
	for len(taken) > 0 {
		n := 1
		for n < len(taken) && taken[n].seat == taken[0].seat && taken[n].opening.Asked == taken[0].opening.Asked {
			n++
		}
		straightenGroup(taken[:n])
		taken = taken[n:]
	}
}

// straightenGroup is for openings that ask for the same, the narrowest first.
func straightenGroup(group []*job) {
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
		taken[i] = j.serves(taken[i].product)
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
