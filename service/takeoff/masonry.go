package takeoff

import (
	"slices"

	"hodman/service/binpack"
	"hodman/service/bond"
	"hodman/service/measure"
	"hodman/service/product"
	"hodman/service/schedule"
)

// units gathers one product that is laid in courses, over the whole job.
type units struct {
	product *product.Product
	lifts   []unitLift
	cuts    []binpack.Item // every size once, the longest first
	closers []lot          // split along the unit, by their width
	splits  int
	joined  [2]bool // into another wall, to a pier: bonded
	area    int64   // net square micrometres x units a square metre, in units x 10^-6
}

// lot is closers out of units so thick as laid.
type lot struct {
	thick   measure.Length
	closers []binpack.Item // every width once, the widest first
}

// unitLift is a product's share in one lift.
type unitLift struct {
	whole, cuts, closers, splits int
	cutLength, closerWidth       int64 // of the cuts and closers that may share a unit
}

// share is what one course of a band has of a unit.
type share struct {
	units *units
	frog  measure.Volume // what one takes up
	unitLift
	pieces int
}

func (j *job) unitsOf(p *product.Product) *units {
	for _, u := range j.units {
		if u.product.Code == p.Code {
			return u
		}
	}
	u := &units{product: p, lifts: make([]unitLift, len(j.levels.Tops))}
	j.units = append(j.units, u)
	return u
}

// tally adds one leaf as laid to its product, its mortar and the answer.
func (j *job) tally(wall, k int, run *bond.Run, laid *bond.Laying) {
	made, w := run.Leaf, run.Wall
	leaf := &j.out.Walls[wall].Leaves[k]
	if laid.Perpend != made.Perpend {
		gauged := *made
		gauged.Perpend = laid.Perpend
		made = &gauged
	}
	*leaf = Leaf{SettingOut: leaf.SettingOut, Joints: leaf.Joints, Leaf: made.Name, Product: made.Unit.Code, Courses: laid.Full, ClosingCourse: laid.Closing,
		OwnsLeft: laid.OwnsLeft, OwnsRight: laid.OwnsRight}
	j.cuts, j.splits = j.cuts[:0], j.splits[:0]
	if made.Backing != made.Unit {
		leaf.Backing = made.Backing.Code
	}
	leaf.Gross, leaf.Openings = j.grossArea(wall, k), openingsArea(w)
	leaf.Net = leaf.Gross - leaf.Openings

	m := j.mixOf(made)
	var few [4]share
	shares := few[:0] // of one course of a band
	for _, p := range laid.Units {
		shares = append(shares, share{units: j.unitsOf(p), frog: m.taken(p, made, j.book)})
	}
	shares[0].units.met(run)
	if run.Foot.Courses > 0 {
		leaf.Plinth = run.Foot.Unit.Code
	}
	shares[0].units.area += measure.HalfUpDiv(int64(leaf.Net), 1_000_000) * areaRate(made)
	for b := range laid.Bands {
		band := &laid.Bands[b]
		joints, collars := bandMortar(band, made)
		j.count(leaf, band)
		for k := range shares {
			shares[k].unitLift, shares[k].pieces = unitLift{}, 0
		}
		for k := range band.Strips {
			s := &band.Strips[k]
			u := &shares[s.Unit]
			u.units.saw(s, band.Count, laid.Units[s.Unit].Thickness)
			u.put(s, 1, u.units.product.Length)
			u.pieces += s.Count
		}
		leaf.Mortar += (joints + collars) * measure.Volume(band.Count)
		done := 0
		for i, top := range j.levels.Tops {
			upTo := band.UpTo(top - w.Base)
			if i == len(j.levels.Tops)-1 {
				upTo = band.Count // what stands above the last top is the last lift's
			}
			if n := upTo - done; n > 0 {
				for k := range shares {
					u := &shares[k]
					u.units.lifts[i].plus(&u.unitLift, n)
					m.frogs[i] += u.frog * measure.Volume(n*u.pieces)
				}
				m.joints[i] += joints * measure.Volume(n)
				m.collars[i] += collars * measure.Volume(n)
			}
			done = upTo
		}
	}
	leaf.Cuts, leaf.Splits = j.kept(j.cuts), j.kept(j.splits)
	j.checkLaying(wall, k, made, laid)
}

// add counts a strip that n courses have: what is to be cut, and its share of a lift.
// The unit is so thick as it is laid.
func (u *units) add(i int, s *bond.Strip, n int, thick measure.Length) {
	u.saw(s, n, thick)
	u.lifts[i].put(s, n, u.product.Length)
}

// saw adds a strip that n courses have to what is to be cut.
func (u *units) saw(s *bond.Strip, n int, thick measure.Length) {
	n *= s.Count
	switch s.Cut {
	case bond.Whole:
	case bond.InHeight:
		u.splits += n
	case bond.InWidth:
		l := u.lot(thick)
		l.closers = addItem(l.closers, int64(s.Length), n)
	default:
		u.cuts = addItem(u.cuts, int64(s.Size(u.product.Length)), n)
	}
}

func (u *units) lot(thick measure.Length) *lot {
	for i := range u.closers {
		if u.closers[i].thick == thick {
			return &u.closers[i]
		}
	}
	u.closers = append(u.closers, lot{thick: thick})
	return &u.closers[len(u.closers)-1]
}

// put counts a strip that n courses have.
func (l *unitLift) put(s *bond.Strip, n int, unit measure.Length) {
	n *= s.Count
	switch s.Cut {
	case bond.Whole:
		l.whole += n
	case bond.InHeight:
		l.splits += n
	case bond.InWidth:
		l.closers += n
		l.closerWidth += int64(n) * int64(s.Length)
	default:
		l.cuts += n
		l.cutLength += int64(n) * int64(s.Size(unit))
	}
}

// plus adds another share n times.
func (l *unitLift) plus(o *unitLift, n int) {
	l.whole += n * o.whole
	l.cuts += n * o.cuts
	l.closers += n * o.closers
	l.splits += n * o.splits
	l.cutLength += int64(n) * o.cutLength
	l.closerWidth += int64(n) * o.closerWidth
}

// addItem counts n more pieces of a size into a list that has every size once, the longest first.
func addItem(list []binpack.Item, size int64, n int) []binpack.Item {
	at, end := 0, len(list)
	for at < end {
		switch m := (at + end) / 2; {
		case list[m].Size == size:
			list[m].Count += n
			return list
		case list[m].Size > size:
			at = m + 1
		default:
			end = m
		}
	}
	return slices.Insert(list, at, binpack.Item{Size: size, Count: n})
}

// count adds a band's courses to the leaf's own list of pieces.
func (j *job) count(l *Leaf, b *bond.Band) {
	for i := range b.Strips {
		s := &b.Strips[i]
		n := s.Count * b.Count
		switch s.Cut {
		case bond.Whole:
			l.Whole += n
		case bond.InHeight:
			j.splits = addCut(j.splits, Cut{Length: s.Length, Height: s.Height, Count: n})
		case bond.InWidth:
			l.Closers += n
			j.cuts = addCut(j.cuts, Cut{Length: s.Length, Count: n})
		case bond.ToShape:
			l.Raking += n
			fallthrough
		default:
			j.cuts = addCut(j.cuts, Cut{Length: s.Length, Count: n})
		}
	}
}

// kept is a list of cuts as it stays: a block that others share.
func (j *job) kept(list []Cut) []Cut {
	if cap(j.lists)-len(j.lists) < len(list) || j.lists == nil {
		j.lists = make([]Cut, 0, max(len(list), blockOfCuts))
	}
	from := len(j.lists)
	j.lists = append(j.lists, list...)
	return j.lists[from:len(j.lists):len(j.lists)]
}

// blockOfCuts is how many cuts are asked for at a time.
const blockOfCuts = 64

// addCut counts a cut into a list that has every size once, the longest and highest first.
func addCut(list []Cut, c Cut) []Cut {
	at, end := 0, len(list)
	for at < end {
		m := (at + end) / 2
		switch e := &list[m]; {
		case e.Length == c.Length && e.Height == c.Height:
			e.Count += c.Count
			return list
		case e.Length > c.Length || e.Length == c.Length && e.Height > c.Height:
			at = m + 1
		default:
			end = m
		}
	}
	return slices.Insert(list, at, c)
}

// grossArea is the leaf's face measured on its own outer face: a wall's length
// less, for an inner leaf, what its corners take, under the wall's true top. Where a
// re-entrant corner takes the face beyond the wall's end, the top runs on level there.
func (j *job) grossArea(wall, k int) measure.Area {
	w := &j.schedule.Walls[wall]
	from, to := j.faces(wall, k)
	to = w.Length - to
	breaks := []measure.Length{0, w.Length, to}
	if w.Top != nil && w.Top.Shape == "gable" {
		breaks = []measure.Length{0, w.Top.ApexAt, w.Length, to}
	}
	area := measure.Area(0)
	if w.Top != nil && w.Top.Shape == "stepped" {
		w.Steps(func(left, right, top measure.Length) {
			if left, right = max(left, from), min(right, to); right > left {
				area += (right - left).Times(top)
			}
		})
		return area
	}
	for x, i := from, 0; i < len(breaks); i++ {
		next := min(max(breaks[i], from), to)
		area += (next - x).Times(w.HighestAt(x)+w.HighestAt(next)) / 2
		x = next
	}
	return area
}

func openingsArea(w *schedule.Wall) measure.Area {
	area := measure.Area(0)
	for i := range w.Openings {
		area += shapedArea(&w.Openings[i])
	}
	return area
}

func (j *job) wallAt(i int) string { return j.words.Say("/walls/", i) }

func (j *job) openingAt(i, k int) string { return j.words.Say("/walls/", i, "/openings/", k) }
