package takeoff

import (
	"hodman/service/bond"
	"hodman/service/finding"
	"hodman/service/measure"
)

// chain is walls that meet at corners, left to right; in a ring the last meets the first.
type chain struct {
	walls []int
	ring  bool
}

// chains parts the walls of the schedule where no corner joins them: from the first
// wall in the list whose left end is no corner, then rings.
func (j *job) chains() []chain {
	n := len(j.meetings)
	block := make([]int, 0, n)
	seen := make([]bool, n)
	var list []chain
	follow := func(i int, ring bool) {
		from := len(block)
		for at := i; at >= 0 && !seen[at]; at = j.next(at) {
			seen[at] = true
			block = append(block, at)
		}
		list = append(list, chain{walls: block[from:len(block):len(block)], ring: ring})
	}
	first := 0
	for first < n && j.schedule.Walls[first].Left.Corner() {
		first++
	}
	for k := range n {
		if i := (first + k) % n; !j.schedule.Walls[i].Left.Corner() {
			follow(i, false)
		}
	}
	for i := range n {
		if !seen[i] {
			follow(i, true)
		}
	}
	return list
}

// next is the wall that wall i's right end meets at a corner, or -1.
func (j *job) next(i int) int {
	if !j.schedule.Walls[i].Right.Corner() {
		return -1
	}
	return j.meetings[i][0][1].Wall
}

func (j *job) mostLeaves(c chain) int {
	n := 0
	for _, i := range c.walls {
		n = max(n, len(j.leaves(i)))
	}
	return n
}

// parts are the runs of leaf k that a chain falls into: a leaf goes on round a corner
// only where it bonds with the next wall's.
func (j *job) parts(c chain, k int) []chain {
	n := len(c.walls)
	bonds := func(at int) bool { // with the wall before it
		i := c.walls[at]
		return k < len(j.meetings[i]) && j.meetings[i][k][0].Bonded && !j.meetings[i][k][0].Junction
	}
	first, breaks := 0, 0
	for at := n - 1; at >= 0; at-- {
		if !bonds(at) {
			first, breaks = at, breaks+1
		}
	}
	if breaks == 0 || breaks == 1 && !c.ring && k < len(j.leaves(c.walls[0])) {
		return []chain{c}
	}
	if !c.ring {
		first = 0
	}
	var list []chain
	for at := range n {
		at = (first + at) % n
		if k >= len(j.leaves(c.walls[at])) {
			continue
		}
		if len(list) == 0 || !bonds(at) {
			list = append(list, chain{})
		}
		p := &list[len(list)-1]
		p.walls = append(p.walls, c.walls[at])
	}
	return list
}

// runs describe leaf k of the walls of a chain to the layer: what their ends meet, and
// how many courses each one's base stands above the lowest, so that both walls of a
// corner count their courses alike.
func (j *job) runs(c chain, k int) []bond.Run {
	runs := make([]bond.Run, len(c.walls))
	lowest := measure.MaxLength
	for n, i := range c.walls {
		runs[n] = bond.Run{Leaf: &j.leaves(i)[k], Wall: &j.schedule.Walls[i], Ends: &j.meetings[i][k], Gaps: gaps(j.out.Walls[i].Leaves[k].Joints)}
		lowest = min(lowest, runs[n].Wall.Base)
	}
	for n := range runs {
		r := &runs[n]
		gauge := r.Leaf.Gauge()
		over := r.Wall.Base - lowest
		r.Lowest = int(over / gauge)
		if over%gauge != 0 {
			j.note(finding.Check, "corner.bases_part", j.wallAt(c.walls[n])+"/base_mm",
				"wall "+r.Wall.Ref+" starts "+over.String()+" mm above the lowest wall it meets, which is not a whole number of courses of "+gauge.String()+" mm in the "+r.Leaf.Name+" leaf: beds do not run through at the corner",
				"set the base so that it differs by whole courses", "corner.ownership")
		}
		if j.stems != nil {
			r.Gaps = append(r.Gaps, bond.Teeth(r, k, j.stems[c.walls[n]])...)
		}
		if len(r.Wall.Piers) > 0 || r.Wall.Plinth != nil {
			j.stand(r, c.walls[n], k)
		}
		j.featured(c.walls[n], r)
	}
	return runs
}

// faces are where the outer face of leaf k of a wall ends, measured inwards from the wall's ends.
func (j *job) faces(wall, k int) (left, right measure.Length) {
	m := &j.meetings[wall][k]
	return m[0].Area, m[1].Area
}
