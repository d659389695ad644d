package binpack

import "sort"

// stepsOfBin bounds the search for the tightest filling of one bin.
const stepsOfBin = 2_000

// firstFit is first fit decreasing, filled bin by bin, which comes to the same: as
// long as the same bin can be had again, it is had again. It returns a proven bound:
// the bins that begin with a piece over a third. Of such pieces no bin holds three, and
// with two to a bin the largest with the largest that fits beside it is as good as
// any, so that they alone need those bins.
func (p *problem) firstFit() (lower int) {
	m := len(p.sizes)
	p.left = append(p.left[:0], p.counts...)
	p.skip = p.skip[:0]
	for i := range m + 1 {
		p.skip = append(p.skip, i)
	}
	p.best.reset()
	for first := p.next(0); first < m; first = p.next(first) {
		times := p.fill(first)
		p.best.close(times)
		if 3*p.sizes[first] > p.capacity {
			lower += times
		}
	}
	p.upper = p.best.bins
	return lower
}

// fill puts the largest that fits into one bin, again and again, as often as what is
// left allows that, which it returns.
func (p *problem) fill(first int) int {
	room, times := p.capacity, MaxCount
	open := len(p.best.all)
	for i := first; i < len(p.sizes); i = p.next(p.fits(i+1, room)) {
		n := 1
		if room >= 2*p.sizes[i] {
			n = min(p.left[i], int(room/p.sizes[i]))
		}
		p.best.add(i, n)
		room -= int64(n) * p.sizes[i]
		times = min(times, p.left[i]/n)
	}
	for _, c := range p.best.all[open:] {
		if p.left[c.size] -= times * c.count; p.left[c.size] == 0 {
			p.skip[c.size] = c.size + 1
		}
	}
	return times
}

// next is the first size from i on that any is left of.
func (p *problem) next(i int) int {
	for p.skip[i] != i {
		p.skip[i] = p.skip[p.skip[i]]
		i = p.skip[i]
	}
	return i
}

// fits is the largest size from i on that fits into room, or the number of sizes.
func (p *problem) fits(i int, room int64) int {
	end := len(p.sizes)
	if i >= end || room < p.sizes[end-1] {
		return end
	}
	return i + sort.Search(end-i, func(k int) bool { return p.sizes[i+k] <= room })
}

// tight fills bin by bin too, each with the largest piece left and what leaves least
// room beside it (Gupta and Ho's minimum bin slack, 1999), and keeps that where it
// takes fewer bins than first fit, which may not be at lower already.
func (p *problem) tight(lower int) {
	if p.upper <= lower {
		return
	}
	t := filling{p: p, left: append([]int(nil), p.counts...)}
	var made plan
	for first := 0; first < len(p.sizes); {
		if t.left[first] == 0 {
			first++
			continue
		}
		t.tightest(first)
		times := MaxCount
		for _, c := range t.best {
			times = min(times, t.left[c.size]/c.count)
		}
		for _, c := range t.best {
			t.left[c.size] -= times * c.count
		}
		made.all = append(made.all, t.best...)
		made.close(times)
		if made.bins >= p.upper {
			return
		}
	}
	p.best, p.upper = made, made.bins
}

// filling is the search for what leaves least room in a bin.
type filling struct {
	p     *problem
	left  []int
	now   []cell
	best  []cell
	slack int64
	steps int
}

func (t *filling) tightest(first int) {
	t.now, t.slack, t.steps = append(t.now[:0], cell{first, 1}), t.p.capacity, stepsOfBin
	t.left[first]--
	t.descend(first, t.p.capacity-t.p.sizes[first])
	t.left[first]++
	if len(t.best) > 1 && t.best[0].size == t.best[1].size {
		t.best[1].count++
		t.best = t.best[1:]
	}
}

func (t *filling) descend(i int, room int64) {
	if room < t.slack {
		t.slack, t.best = room, append(t.best[:0], t.now...)
	}
	for i = t.p.fits(i, room); i < len(t.p.sizes); i++ {
		if t.steps--; t.steps <= 0 || t.slack == 0 {
			return
		}
		n := min(t.left[i], int(room/t.p.sizes[i]))
		for ; n > 0; n-- {
			t.now = append(t.now, cell{i, n})
			t.descend(i+1, room-int64(n)*t.p.sizes[i])
			t.now = t.now[:len(t.now)-1]
		}
	}
}
