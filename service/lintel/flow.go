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
}

type edge struct {
	to, room int
	cost     cost
}

func newNetwork(nodes int) *network { return &network{at: make([][]int, nodes)} }

// join adds an edge and returns its number.
func (n *network) join(from, to, room int, c cost) int {
	k := len(n.edges)
	n.edges = append(n.edges, edge{to, room, c}, edge{from, 0, c.minus()})
	n.at[from] = append(n.at[from], k)
	n.at[to] = append(n.at[to], k+1)
	return k
}

// carried is how much an edge carries.
func (n *network) carried(k int) int { return n.edges[k^1].room }

// carry sends all that goes, each time by the cheapest way left (successive
// shortest paths). There must be no cycle under nought to begin with.
func (n *network) carry(from, to int) {
	for {
		by := n.cheapest(from, to)
		if by == nil {
			return
		}
		most := 1 << 30
		for v := to; v != from; v = n.edges[by[v]^1].to {
			most = min(most, n.edges[by[v]].room)
		}
		for v := to; v != from; v = n.edges[by[v]^1].to {
			n.edges[by[v]].room -= most
			n.edges[by[v]^1].room += most
		}
	}
}

// cheapest returns the edge by which each node is reached, or nil where the end is
// not (Bellman and Ford, with a queue: costs may be under nought).
func (n *network) cheapest(from, to int) []int {
	by := make([]int, len(n.at))
	far := make([]cost, len(n.at))
	waits := make([]bool, len(n.at))
	for v := range by {
		by[v] = -1
	}
	for queue := []int{from}; len(queue) > 0; queue = queue[1:] {
		v := queue[0]
		waits[v] = false
		for _, k := range n.at[v] {
			e := &n.edges[k]
			if e.room == 0 || e.to == from {
				continue
			}
			if d := far[v].plus(e.cost); by[e.to] < 0 || d.less(far[e.to]) {
				far[e.to], by[e.to] = d, k
				if !waits[e.to] {
					waits[e.to] = true
					queue = append(queue, e.to)
				}
			}
		}
	}
	if by[to] < 0 {
		return nil
	}
	return by
}
