package binpack

// reduce takes out bins that no other filling can better (Martello and Toth's
// reduction, 1990, ch. 8; from memory), as often as they can be had, until there are none, and
// returns what is left to pack. A piece with the largest other that fits beside it is
// such a bin where no two, three or more others that fit come to more: they could
// change places with that one.
func (p *problem) reduce(forced *plan) *problem {
	left := append([]int(nil), p.counts...)
	for again := true; again; {
		again = false
		for i := range p.sizes {
			if left[i] > 0 && p.force(i, left, forced) {
				again = true
			}
		}
	}
	return p.rest(left)
}

// rest is what is left to pack, each size from its place here.
func (p *problem) rest(left []int) *problem {
	rest := &problem{capacity: p.capacity}
	for i, n := range left {
		if n > 0 {
			rest.sizes, rest.counts, rest.from = append(rest.sizes, p.sizes[i]), append(rest.counts, n), append(rest.from, i)
		}
	}
	return rest
}

// force takes out bins of the i-th size, if any are forced.
func (p *problem) force(i int, left []int, forced *plan) bool {
	left[i]--
	room := p.capacity - p.sizes[i]
	j := p.fits(0, room)
	for j < len(left) && left[j] == 0 {
		j++
	}
	beats := j == len(left) || p.sizes[j] == room || p.beatsMore(j, room, left)
	left[i]++
	if !beats {
		return false
	}
	times := left[i]
	switch {
	case j == len(left):
		forced.add(i, 1)
	case j == i:
		times /= 2
		forced.add(i, 2)
		left[i] -= times
	default:
		times = min(times, left[j])
		forced.add(min(i, j), 1)
		forced.add(max(i, j), 1)
		left[j] -= times
	}
	left[i] -= times
	forced.close(times)
	return true
}

// beatsMore says that no two or more of what is left that fit into room together come
// to more than the j-th size.
func (p *problem) beatsMore(j int, room int64, left []int) bool {
	var least [3]int64 // the three smallest left
	k, n := 0, 0
	for i := len(left) - 1; i >= 0 && k < 3; i-- {
		for n = left[i]; n > 0 && k < 3; n-- {
			least[k] = p.sizes[i]
			k++
		}
	}
	if k < 2 || least[0]+least[1] > room {
		return true
	}
	if k == 3 && least[0]+least[1]+least[2] <= room {
		return false
	}
	// The best two: the larger falls, and the smaller may rise.
	a, b := j, len(left)-1
	for a < b || a == b && left[a] > 1 {
		switch sum := p.sizes[a] + p.sizes[b]; {
		case left[a] == 0 || sum > room:
			a++
		case left[b] == 0:
			b--
		case sum > p.sizes[j]:
			return false
		default:
			b--
		}
	}
	return true
}
