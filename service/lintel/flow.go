package lintel

// cost is compared from the left: price, then surplus length, then place in the
// catalogue. Sums of it keep that order, so that a shortest path means what it should.
type cost struct{ price, surplus, place int64 }

func (a cost) plus(b cost) cost {
	return cost{a.price + b.price, a.surplus + b.surplus, a.place + b.place}
}

func (a cost) minus() cost { return cost{-a.price, -a.surplus, -a.place} }

func (a cost) less(b cost) bool {
	if a.price != b.price {
		return a.price < b.price
	}
	if a.surplus != b.surplus {
		return a.surplus < b.surplus
	}
	return a.place < b.place
}

// network carries openings to lintels: the most that can be carried, and of all
// ways to do that the least cost.
type network struct {
	nodes []node
	edges []edge // edge k and its reverse k^1
	queue []int
}

// node has its edges in a list from first to last, each naming the next.
type node struct {
	first, last int // -1: none
	by          int // the edge by which it is reached, or -1
	far         cost
	waits       bool
}

// step is room at a cost: of an edge out of the source that gets dearer as it fills.
type step struct {
	room int
	cost cost
}

type edge struct {
	to, room int
	cost     cost
	next     int    // of the same node, or -1
	steps    []step // that are left of one that climbs
}

func newNetwork(nodes, edges int) *network {
	n := &network{nodes: make([]node, nodes), edges: make([]edge, 0, 2*edges), queue: make([]int, 0, nodes)}
	for i := range n.nodes {
		n.nodes[i].first, n.nodes[i].last = -1, -1
	}
	return n
}

// join adds an edge and returns its number; the next edge's is two more.
func (n *network) join(from, to, room int, c cost) int {
	k := len(n.edges)
	n.edges = append(n.edges, edge{to: to, room: room, cost: c, next: -1}, edge{to: from, cost: c.minus(), next: -1})
	n.leaves(from, k)
	n.leaves(to, k+1)
	return k
}

// leaves puts an edge at the end of its node's list.
func (n *network) leaves(from, k int) {
	v := &n.nodes[from]
	if v.last < 0 {
		v.first = k
	} else {
		n.edges[v.last].next = k
	}
	v.last = k
}

// climb adds an edge out of the source whose steps are taken in turn, the cheapest
// first. Nothing flows back into a source, so a step once taken stays taken.
func (n *network) climb(from, to int, steps []step) int {
	k := n.join(from, to, steps[0].room, steps[0].cost)
	n.edges[k].steps = steps[1:]
	return k
}

// carried is how much an edge carries.
func (n *network) carried(k int) int { return n.edges[k^1].room }

// carry sends all that goes, each time by the cheapest way left (successive
// shortest paths). There must be no cycle under nought to begin with.
func (n *network) carry(from, to int) {
	for n.reach(from, to) {
		most := 1 << 30
		for v := to; v != from; v = n.edges[n.nodes[v].by^1].to {
			most = min(most, n.edges[n.nodes[v].by].room)
		}
		for v := to; v != from; v = n.edges[n.nodes[v].by^1].to {
			n.fill(n.nodes[v].by, most)
		}
	}
}

func (n *network) fill(k, most int) {
	e := &n.edges[k]
	e.room -= most
	n.edges[k^1].room += most
	if e.room == 0 && len(e.steps) > 0 {
		e.room, e.cost = e.steps[0].room, e.steps[0].cost
		e.steps = e.steps[1:]
	}
}

// reach finds the cheapest way there is left and says whether there is one (Bellman
// and Ford, with a queue: costs may be under nought).
func (n *network) reach(from, to int) bool {
	for v := range n.nodes {
		n.nodes[v].by = -1
	}
	n.nodes[from].far = cost{}
	n.queue = append(n.queue[:0], from)
	for at := 0; at < len(n.queue); at++ {
		v := &n.nodes[n.queue[at]]
		v.waits = false
		for k := v.first; k >= 0; k = n.edges[k].next {
			e := &n.edges[k]
			if e.room == 0 || e.to == from {
				continue
			}
			t := &n.nodes[e.to]
			if d := v.far.plus(e.cost); t.by < 0 || d.less(t.far) {
				t.far, t.by = d, k
				if !t.waits {
					t.waits = true
					n.queue = append(n.queue, e.to)
				}
			}
		}
	}
	return n.nodes[to].by >= 0
}
