package binpack

// Steps that searches may take: one over a remainder of the relaxation, and all of
// one packing together. They bound the time to some tens of milliseconds.
const (
	stepsOfRemainder = 20_000
	stepsOfAll       = 50_000
)

// solve closes the gap between lower and what is packed: by rounding the relaxation,
// and where that fails by keeping its whole bins, then fewer and fewer of them, and
// searching the remainder. It returns the bound.
func (p *problem) solve(lower int) int {
	l := newLinear(p)
	lower = l.solve(lower, p.upper)
	p.dive(l, lower)
	p.steps = stepsOfAll
	proven := true // that no fewer than target do
	for target := lower; target < p.upper && p.steps > 0; target++ {
		found, all := p.reach(l, target)
		if found {
			p.upper = target
			break
		}
		if proven = proven && all; proven {
			lower = target + 1
		}
	}
	return lower
}

// reach looks for a packing into target bins. all says that there is none.
func (p *problem) reach(l *linear, target int) (found, all bool) {
	for back := 0; ; back = 2*back + 1 {
		s := search{capacity: p.capacity, sizes: p.sizes, left: append([]int(nil), p.counts...), steps: min(stepsOfRemainder, p.steps)}
		kept := p.keep(l, s.left, back)
		if kept.bins == 0 {
			s.steps = p.steps
		}
		start := s.steps
		found, all = s.fits(target - kept.bins)
		p.steps -= start - max(0, s.steps)
		if found {
			for _, counts := range s.bins {
				kept.addCounts(counts, 1)
			}
			p.best = kept.and(new(plan))
			return true, false
		}
		if kept.bins == 0 {
			return false, all
		}
	}
}

// keep takes whole bins of the relaxation, back fewer of each pattern, out of what
// is left to pack.
func (p *problem) keep(l *linear, left []int, back int) (kept plan) {
	for k, cells := range l.basis {
		times := int(whole(l.share[k])) - back
		for _, c := range cells {
			times = min(times, left[c.size]/c.count)
		}
		if times <= 0 {
			continue
		}
		for _, c := range cells {
			left[c.size] -= times * c.count
		}
		kept.all = append(kept.all, cells...)
		kept.close(times)
	}
	return kept
}

// search asks whether what is left fits into so many bins. Each bin begins with the
// largest piece left and is filled until no piece left fits in; what a bin wastes
// comes off what all may waste.
type search struct {
	capacity int64
	sizes    []int64
	left     []int
	sum      int64 // of the sizes left
	steps    int
	bins     [][]int
	now      []int
	failed   map[string]int // what was left, and the most bins it did not fit into
	key      []byte
}

// fits returns whether they fit, with s.bins filled, or else whether that is
// certain: steps did not run out.
func (s *search) fits(bins int) (found, all bool) {
	s.sum = 0
	for i, n := range s.left {
		s.sum += int64(n) * s.sizes[i]
	}
	s.now = make([]int, len(s.sizes))
	s.failed = make(map[string]int)
	found = s.next(bins, 0)
	return found, s.steps > 0
}

// next fills one bin more. first is a size that none larger is left of.
func (s *search) next(bins, first int) bool {
	for first < len(s.left) && s.left[first] == 0 {
		first++
	}
	if first == len(s.left) {
		return true
	}
	s.steps -= len(s.left) / 4 // the key and the copy cost as much
	waste := int64(bins)*s.capacity - s.sum
	if waste < 0 || bins <= 0 || s.known(bins) {
		return false
	}
	key := string(s.key)
	s.take(first, 1)
	found := s.fill(first, s.capacity-s.sizes[first], bins, waste, s.capacity)
	s.take(first, -1)
	if !found && s.steps > 0 {
		s.failed[key] = bins
	}
	return found
}

// known says whether what is left has failed before with as many bins. It leaves
// what is left in s.key.
func (s *search) known(bins int) bool {
	s.key = s.key[:0]
	for _, n := range s.left {
		for ; n > 0x7f; n >>= 7 { // seven bits a byte, so that no two lists look alike
			s.key = append(s.key, byte(n)|0x80)
		}
		s.key = append(s.key, byte(n))
	}
	return s.failed[string(s.key)] >= bins
}

func (s *search) take(i, n int) {
	s.left[i] -= n
	s.now[i] += n
	s.sum -= int64(n) * s.sizes[i]
}

// fill chooses how many of size i and smaller go into the bin's room. slight is the
// smallest size that more could have been taken of: a bin with room for it is not full.
func (s *search) fill(i int, room int64, bins int, waste, slight int64) bool {
	from := i
	for i < len(s.sizes) && (s.left[i] == 0 || s.sizes[i] > room) {
		i++
	}
	if s.steps -= 1 + (i-from)/8; s.steps <= 0 {
		return false
	}
	if i == len(s.sizes) {
		return s.close(room, bins, waste, slight)
	}
	if room > waste && !s.enough(i, room-waste) {
		return false
	}
	most := min(s.left[i], int(room/s.sizes[i]))
	for n := most; n >= 0; n-- {
		if n < most {
			slight = s.sizes[i]
		}
		s.take(i, n)
		found := s.fill(i+1, room-int64(n)*s.sizes[i], bins, waste, slight)
		s.take(i, -n)
		if found {
			return true
		}
	}
	return false
}

// enough says whether the sizes from i on add up to sum at least.
func (s *search) enough(i int, sum int64) bool {
	for ; i < len(s.sizes) && sum > 0; i++ {
		sum -= int64(s.left[i]) * s.sizes[i]
	}
	return sum <= 0
}

func (s *search) close(room int64, bins int, waste, slight int64) bool {
	if room >= slight || room > waste {
		return false
	}
	s.bins = append(s.bins, append([]int(nil), s.now...))
	now := s.now
	s.now = make([]int, len(now))
	found := s.next(bins-1, 0)
	s.now = now
	if !found {
		s.bins = s.bins[:len(s.bins)-1]
	}
	return found
}
