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
	at    [][]int // edges by node
	edges []edge  // edge k and its reverse k^1
	steps map[int][]step
	by    []int // the edge by which each node is reached
	far   []cost
	waits []bool
	queue []int
}

// step is room at a cost: of an edge out of the source that gets dearer as it fills.
type step struct {
	room int
	cost cost
}

type edge struct {
	to, room int
	cost     cost
}

func newNetwork(nodes int) *network {
	return &network{at: make([][]int, nodes), steps: make(map[int][]step), by: make([]int, nodes), far: make([]cost, nodes), waits: make([]bool, nodes)}
}

// join adds an edge and returns its number.
func (n *network) join(from, to, room int, c cost) int {
	k := len(n.edges)
	n.edges = append(n.edges, edge{to, room, c}, edge{from, 0, c.minus()})
	n.at[from] = append(n.at[from], k)
	n.at[to] = append(n.at[to], k+1)
	return k
}

// climb adds an edge out of the source whose steps are taken in turn, the cheapest
// first. Nothing flows back into a source, so a step once taken stays taken.
func (n *network) climb(from, to int, steps []step) int {
	k := n.join(from, to, steps[0].room, steps[0].cost)
	n.steps[k] = steps[1:]
	return k
}

// carried is how much an edge carries.
func (n *network) carried(k int) int { return n.edges[k^1].room }

// carry sends all that goes, each time by the cheapest way left (successive
// shortest paths). There must be no cycle under nought to begin with.
func (n *network) carry(from, to int) {
	for n.reach(from, to) {
		most := 1 << 30
		for v := to; v != from; v = n.edges[n.by[v]^1].to {
			most = min(most, n.edges[n.by[v]].room)
		}
		for v := to; v != from; v = n.edges[n.by[v]^1].to {
			n.fill(n.by[v], most)
		}
	}
}

func (n *network) fill(k, most int) {
	e := &n.edges[k]
	e.room -= most
	n.edges[k^1].room += most
	if rest := n.steps[k]; e.room == 0 && len(rest) > 0 {
		e.room, e.cost = rest[0].room, rest[0].cost
		n.steps[k] = rest[1:]
	}
}

// reach finds the cheapest way there is left and says whether there is one (Bellman
// and Ford, with a queue: costs may be under nought).
func (n *network) reach(from, to int) bool {
	for v := range n.by {
		n.by[v] = -1
	}
	n.far[from] = cost{}
	n.queue = append(n.queue[:0], from)
	for at := 0; at < len(n.queue); at++ {
		v := n.queue[at]
		n.waits[v] = false
		for _, k := range n.at[v] {
			e := &n.edges[k]
			if e.room == 0 || e.to == from {
				continue
			}
			if d := n.far[v].plus(e.cost); n.by[e.to] < 0 || d.less(n.far[e.to]) {
				n.far[e.to], n.by[e.to] = d, k
				if !n.waits[e.to] {
					n.waits[e.to] = true
					n.queue = append(n.queue, e.to)
				}
			}
		}
	}
	return n.by[to] >= 0
}
