package drop

import (
	"slices"

	"hodman/service/measure"
)

// lots is the exact lot-sizing programme of Wagner and Whitin (1958): nodes stand in
// order from 0 to n, a lot covers the way from one node to a later one, and lots that
// follow each other from 0 to n at least cost are found. It returns the nodes on the
// way, 0 and n with them, the shortest lots where costs are equal; reached is the
// last node that can be come to, n where there is a way. cost says what a lot costs,
// not less than nought, and whether it can be; under is what it may cost to be of use,
// so that a dear one need not be worked out.
func lots(n int, cost func(from, to int, under measure.Money) (measure.Money, bool)) (way []int, total measure.Money, reached int) {
	const none = measure.Money(1 << 62)
	least := make([]measure.Money, n+1)
	from := make([]int, n+1)
	for to := 1; to <= n; to++ {
		least[to] = none
		for f := to - 1; f >= 0; f-- {
			if least[f] >= least[to] {
				continue
			}
			if c, can := cost(f, to, least[to]-least[f]); can && least[f]+c < least[to] {
				least[to], from[to] = least[f]+c, f
			}
		}
		if least[to] < none {
			reached = to
		}
	}
	if reached < n {
		return nil, 0, reached
	}
	for at := n; at > 0; at = from[at] {
		way = append(way, at)
	}
	way = append(way, 0)
	slices.Reverse(way)
	return way, least[n], n
}
