package bond

import "hodman/service/measure"

// layingCourse gathers the strips of one course that stands for count courses.
type layingCourse struct {
	Band
	layer  *layer
	course *course
	beside *course // of stretchers under and over the headers of English garden wall; nil in others
	origin measure.Length
	square [2]measure.Length // between these the wall's top is above the units
	// shapes are where pieces are cut to a slope or a curve, from left to right.
	shapes []interval
	curved bool // a curve is among them
	// returns are how many ends of the part being laid are corners; part of a course's
	// height being laid is splitting.
	returns             int
	splitting           bool
	ownsLeft, ownsRight bool
	any                 bool
}

// course lays course n once for count courses; ownsLeft and ownsRight are of this course.
func (l *layer) course(n, count, step int, ownsLeft, ownsRight bool) {
	start, end := l.left.at(ownsLeft), l.run.Wall.Length-l.right.at(ownsRight)
	c := layingCourse{layer: l, square: [2]measure.Length{start, end}}
	c.Band = Band{First: n, Count: count, Step: step, Foot: l.foot(n), Head: l.head(n), Rise: measure.Length(step) * l.gauge}
	c.ownsLeft, c.ownsRight = ownsLeft, ownsRight
	c.set()
	l.strips = l.strips[:0]
	if l.pier {
		c.isolated()
		c.done()
		return
	}
	from, to := start, end
	if l.left.thick && ownsLeft {
		from = l.left.face
	}
	if l.right.thick && ownsRight {
		to = l.run.Wall.Length - l.right.face
	}
	if l.shaped {
		c.square = [2]measure.Length{from, to}
		from, to = c.underTop(from, to)
		start, end = max(start, from), min(end, to)
	}
	c.findShapes(from, to)
	at := from
	for _, o := range c.stops() {
		c.part(at, min(o.left, to), from, to, start, end)
		c.left(max(o.left, from), min(o.right, to), o.hole)
		at = max(at, o.right)
	}
	c.part(at, to, from, to, start, end)
	if len(l.run.Piers) > 0 {
		c.stand()
	}
	c.done()
}

// done keeps the course as a band.
func (c *layingCourse) done() {
	if l := c.layer; l.out != nil && c.any {
		c.Strips = l.keep()
		l.out.Bands = append(l.out.Bands, c.Band)
	}
}

// set chooses the course of the bond and where it is set out from.
func (c *layingCourse) set() {
	l := c.layer
	p, length := &l.pattern, l.run.Wall.Length
	owns := c.ownsLeft
	if p.fromEnd {
		owns = c.ownsRight
	}
	first := owns
	if !p.corner {
		first = l.odd(c.First) != l.way.Half
	}
	c.course, c.beside = p.of(c.First+l.run.Lowest, first), nil
	if c.course == &p.courses[2] && p.headers {
		if c.beside = &p.courses[1]; !first {
			c.beside = &p.courses[0]
		}
	}
	switch {
	case p.fromEnd && p.fromRun:
		c.origin = length - l.right.at(owns)
	case p.fromEnd:
		c.origin = length - l.right.face
	case p.fromRun:
		c.origin = l.left.at(owns)
	default:
		c.origin = l.left.face
	}
	c.origin += l.way.Shift
}

// part lays what of a course stands between from and to: at the ends of the run,
// from runFrom to runTo, a half brick that runs through a corner, else the body, which
// stands between start and end.
func (c *layingCourse) part(from, to, runFrom, runTo, start, end measure.Length) {
	l := c.layer
	quoinLeft, quoinRight := upright, upright
	c.returns = 0
	if from == runFrom {
		c.returns += corners(&l.left)
		quoinLeft = l.left.quoin(c.ownsLeft)
		if l.left.thick && c.ownsLeft && from < start {
			_, flush := c.flush(start-l.perpend, &l.left)
			flush = min(flush, to)
			if l.right.thick && l.right.inner != l.left.inner {
				flush = min(flush, end) // another half brick runs through at the other end
			}
			c.through(from, flush, &l.left)
			c.backed(start, min(flush, end))
			from = max(start, flush+l.perpend)
		}
	}
	if to == runTo {
		c.returns += corners(&l.right)
		quoinRight = l.right.quoin(c.ownsRight)
		if l.right.thick && c.ownsRight && to > end {
			flush, _ := c.flush(end+l.perpend, &l.right)
			flush = max(flush, from)
			c.through(flush, to, &l.right)
			c.backed(flush, end)
			to = min(end, flush-l.perpend)
		}
	}
	c.stretch(from, to, quoinLeft, quoinRight)
}

// stretch lays units between from and to: of one rhythm, or of each pier's own with
// broken bond where two meet under or over an opening.
func (c *layingCourse) stretch(from, to measure.Length, quoinLeft, quoinRight finish) {
	l := c.layer
	if len(l.piers) == 0 {
		c.rhythm(from, to, quoinLeft, quoinRight)
		return
	}
	course, origin := c.course, c.origin
	at := from
	for i := range l.piers {
		p := &l.piers[i]
		if p.middle <= at {
			continue
		}
		c.course, c.origin = course, origin
		p.set(c)
		end := min(to, p.middle)
		if at > from {
			at = c.seam(at, end)
		}
		if end < to {
			end = c.lastWhole(at, end)
		}
		if end < to && end-at <= l.perpend {
			continue // no room for a piece: the next rhythm begins there
		}
		c.rhythm(at, end, quoinLeft.only(at == from), quoinRight.only(end == to))
		if end == to {
			break
		}
		at = end + l.perpend
	}
	c.course, c.origin = course, origin
}

// lastWhole is where the last whole place of the face between from and to ends; to where there is none.
func (c *layingCourse) lastWhole(from, to measure.Length) measure.Length {
	face := &c.course.face
	origin := c.origin + face.phase
	_, last := face.within(origin, from, to)
	x, cell := face.cell(origin, last)
	if x+cell.length > to {
		x, cell = face.cell(origin, last-1)
	}
	if end := x + cell.length; end > from {
		return end
	}
	return to
}

// rhythm lays units between from and to, through the thickness of the leaf.
func (c *layingCourse) rhythm(from, to measure.Length, quoinLeft, quoinRight finish) {
	l := c.layer
	if l.out == nil && l.pattern.plain && c.full() && c.quick(from, to) {
		return
	}
	quoinLeft, quoinRight = c.headed(from, to, quoinLeft, quoinRight)
	face := &c.course.face
	broken := l.fill(face, c.origin+face.phase, from, to, quoinLeft, quoinRight)
	if len(l.placed) == 0 {
		return
	}
	if broken && l.out != nil && !c.splitting && !c.raked(from, to) {
		c.broken(from, to)
	}
	c.any = true
	for i := range l.placed {
		c.place(&l.placed[i], face.period)
	}
	if back := &c.course.back; c.course.backed {
		l.fill(back, c.origin+back.phase, from, to, quoinLeft, quoinRight)
		c.behind(back.period)
	}
}

// headed tells the uprights at which the courses of stretchers beside one of headers end
// in a header themselves.
func (c *layingCourse) headed(from, to measure.Length, left, right finish) (finish, finish) {
	if c.beside == nil {
		return left, right
	}
	l, face := c.layer, &c.beside.face
	first, last := face.within(c.origin+face.phase, from, to)
	if p := l.clip(face, c.origin+face.phase, first, from, to); left == upright && p.x == from && p.length <= l.pattern.half {
		left = headed
	}
	if p := l.clip(face, c.origin+face.phase, last, from, to); right == upright && p.x+p.length == to && p.length <= l.pattern.half {
		right = headed
	}
	return left, right
}

// behind lays what was filled in behind the headers.
func (c *layingCourse) behind(period measure.Length) {
	b := &c.layer.pattern
	for i := range c.layer.placed {
		p := &c.layer.placed[i]
		c.rank(&Strip{X: p.x, Length: p.length, Y: b.deep + b.collar, Depth: b.half, Unit: backing}, period, p.count)
	}
}

// quick counts a stretch of full height, in a leaf one unit thick without headers, by
// division alone. It leaves to fill, and says so, a stretch of few pieces of which one is shared.
func (c *layingCourse) quick(from, to measure.Length) bool {
	if c.curved {
		return false
	}
	l, face := c.layer, &c.course.face
	unit, pitch, least := l.pattern.unit, face.period, l.pattern.leastCut
	origin := c.origin + face.phase + face.cells[0].at
	first := measure.FloorDiv(int64(from-unit-origin), int64(pitch)) + 1
	last := measure.CeilDiv(int64(to-origin), int64(pitch)) - 1
	n := int(last-first) + 1
	if n < 1 || to-from <= l.perpend {
		return true
	}
	head, tail := origin+measure.Length(first)*pitch, origin+measure.Length(last)*pitch
	a, b := min(to, head+unit)-max(from, head), min(to, tail+unit)-max(from, tail)
	if n <= 4 && (a < least || b < least) {
		return false
	}
	// The first and the last whole unit: a short cut takes its neighbour with it.
	if a < unit {
		first++
	}
	if a < least {
		first++
	}
	if n > 1 && b < unit {
		last--
	}
	if n > 1 && b < least {
		last--
	}
	if l.shaped {
		first = max(first, measure.CeilDiv(int64(c.square[0]-origin), int64(pitch)))
		last = min(last, measure.FloorDiv(int64(c.square[1]-unit-origin), int64(pitch)))
	}
	whole := max(0, int(last-first)+1)
	l.pieces += n * c.Count
	l.cuts += (n - whole) * c.Count
	return true
}

func (c *layingCourse) full() bool { return c.Head-c.Foot >= c.layer.run.Leaf.Unit.Height }

// keep copies one course's strips to where they stay: a block that others share.
func (l *layer) keep() []Strip {
	k := l.kept
	if n := len(l.strips); cap(*k)-len(*k) < n {
		*k = make([]Strip, 0, max(n, blockOfStrips))
	}
	from := len(*k)
	*k = append(*k, l.strips...)
	return (*k)[from:len(*k):len(*k)]
}

// blockOfStrips is how many strips are asked for at a time.
const blockOfStrips = 112
