package bond

// Gang lays leaf after leaf and keeps what it works in for the next, so that a job of
// many walls costs few allocations. The zero Gang is ready; it may not be shared by
// goroutines. What it has laid stays as it is.
type Gang struct {
	layers []layer
	costs  [][2][2]cost
	strips []Strip // of the course under way
	kept   []Strip // where strips end up: the rest of a block
	placed []placed
}

// SetOut is [SetOut].
func (g *Gang) SetOut(runs []Run, ring bool, rules Rules) []Laying {
	return g.setOut(runs, ring, rules, nil)
}

// take gives a layer and room for the costs to each of so many runs.
func (g *Gang) take(n int) ([]layer, [][2][2]cost) {
	if len(g.layers) < n {
		g.layers, g.costs = make([]layer, n), make([][2][2]cost, n)
		g.placed = make([]placed, 0, 8)
	}
	clear(g.costs[:n])
	return g.layers[:n], g.costs[:n]
}
