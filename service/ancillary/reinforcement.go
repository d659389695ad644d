package ancillary

import (
	"strconv"

	"hodman/service/finding"
	"hodman/service/measure"
	"hodman/service/product"
	"hodman/service/schedule"
)

// reinforcement is laid in the beds that a wall asks for, and over and under openings.
func (c *counter) reinforcement(w *Wall) {
	for i := range w.Wall.BedReinforcement {
		r := &w.Wall.BedReinforcement[i]
		at := w.At + "/bed_reinforcement/" + strconv.Itoa(i)
		for k, leaf := range w.leaves() {
			asked := r.Leaf == "both" || r.Leaf == "inner" && k == 1 || (r.Leaf == "" || r.Leaf == "outer") && k == 0
			if asked || w.Inner == nil {
				c.beds(w, at, r, k, leaf)
			}
		}
	}
	for i := range w.Wall.Openings {
		o := &w.Wall.Openings[i]
		if o.BedReinforcement == nil {
			continue
		}
		at := w.At + "/openings/" + strconv.Itoa(i) + "/bed_reinforcement"
		for k, leaf := range w.leaves() {
			c.round(w, at, o, k, leaf)
		}
	}
}

// beds are those of a leaf between two levels, at its gauge from the base: one in so many.
func (c *counter) beds(w *Wall, at string, r *schedule.BedReinforcement, k int, leaf *product.Product) {
	p := c.rod(at, r.Product, leaf)
	if p == nil {
		return
	}
	gauge := w.Gauge[k]
	step := measure.Length(max(1, r.EveryCourses)) * gauge
	first := measure.Length(measure.CeilDiv(int64(r.From-w.Wall.Base), int64(gauge))) * gauge
	rods := rods{p: p, lap: c.book.Length("reinforcement.lap")}
	n, last := 0, first
	for z := first; z <= r.To-w.Wall.Base && z < w.Wall.Highest(); z += step {
		laid := false
		for _, s := range w.at(k, z) {
			rods.lay(s.to - s.from)
			laid = true
		}
		if laid {
			n, last = n+1, z
		}
	}
	c.rods(w, &rods, first, last, number(n)+" beds of the leaf of "+leaf.Code+" from "+(first+w.Wall.Base).String()+" mm up, one in "+number(max(1, r.EveryCourses))+" courses")
}

// round is the beds next over the head and next under the sill, past the opening on
// both sides as far as the wall and its other openings let them.
func (c *counter) round(w *Wall, at string, o *schedule.Opening, k int, leaf *product.Product) {
	p := c.rod(at, "", leaf)
	if p == nil {
		return
	}
	gauge, past := w.Gauge[k], c.book.Length("reinforcement.past_opening")
	over := measure.Length(measure.CeilDiv(int64(o.Top()), int64(gauge)))
	under := measure.Length(measure.FloorDiv(int64(o.Sill), int64(gauge)))
	for _, part := range [2]struct {
		words string
		first measure.Length // lowest bed
		n     int
	}{
		{"over", over, o.BedReinforcement.Over},
		{"under", max(0, under-measure.Length(o.BedReinforcement.Under)+1), min(o.BedReinforcement.Under, int(under)+1)},
	} {
		rods := rods{p: p, lap: c.book.Length("reinforcement.lap")}
		n := 0
		for i := range part.n {
			z := (part.first + measure.Length(i)) * gauge
			for _, s := range w.at(k, z) {
				from, to := max(s.from, o.Left-past), min(s.to, o.Right()+past)
				if z < w.Wall.Highest() && from <= o.Left && to >= o.Right() {
					rods.lay(to - from)
					n++
				}
			}
		}
		low := part.first * gauge
		c.rods(w, &rods, low, low+measure.Length(max(0, part.n-1))*gauge, o.Ref+": "+number(n)+" beds "+part.words+" it in the leaf of "+leaf.Code+", "+past.String()+" mm past each side",
			"reinforcement.past_opening")
	}
}

// rod is the reinforcement named, or the widest that a leaf covers.
func (c *counter) rod(at, code string, leaf *product.Product) *product.Product {
	room := leaf.Thickness - 2*c.book.Length("reinforcement.cover")
	if code == "" {
		return c.pick(at, product.BedReinforcement, "bed-joint reinforcement of "+room.String()+" mm or narrower", "reinforcement.cover",
			func(p *product.Product) bool {
				return p.Thickness <= room && p.Length > c.book.Length("reinforcement.lap")
			},
			func(p *product.Product) measure.Length { return -p.Thickness })
	}
	p := c.cat.Find(code)
	if p.Thickness > room || p.Length <= c.book.Length("reinforcement.lap") {
		c.tell(finding.Finding{
			Severity: finding.Check, Code: "reinforcement.cover", At: at + "/product", Rule: "reinforcement.cover",
			Text:   p.Code + " is " + p.Thickness.String() + " mm wide and " + p.Length.String() + " mm long; the leaf of " + leaf.Code + " covers one of " + room.String() + " mm, and lengths lap by " + c.book.Length("reinforcement.lap").String() + " mm",
			Remedy: "name a narrower or longer one, or leave it out: the widest that is covered is taken",
		})
		if p.Length <= c.book.Length("reinforcement.lap") {
			return nil
		}
	}
	return p
}

// rods gathers stretches of reinforcement: each of whole lengths, lapped, and one cut.
type rods struct {
	p      *product.Product
	lap    measure.Length
	net    measure.Length
	laid   measure.Length
	laps   int
	pieces pieces
}

func (r *rods) lay(l measure.Length) {
	r.net += l
	r.laid += l
	if n := lengthsFor(l, r.p.Length, r.lap) - 1; n > 0 {
		r.pieces.whole += n
		r.laps += n
		r.laid += measure.Length(n) * r.lap
		l -= measure.Length(n) * (r.p.Length - r.lap)
	}
	r.pieces.add(l, 1)
}

// rods adds what was gathered as a need.
func (c *counter) rods(w *Wall, r *rods, from, to measure.Length, words string, rules ...string) {
	if r.net == 0 {
		return
	}
	sum := words + ": " + metres(r.net) + " m"
	if r.laps > 0 {
		sum += " + " + number(r.laps) + " x " + r.lap.String() + " mm lap = " + metres(r.laid) + " m"
	}
	e := c.pieceCut(r.p)
	e.rows = append(e.rows, len(c.needs))
	e.whole += r.pieces.whole
	for _, p := range r.pieces.cut {
		e.add(measure.Length(p.Size), p.Count)
	}
	c.add(w, Need{
		Product: r.p, Unit: metre, Part: "bed_reinforcement", Net: measure.Metres(r.net), With: measure.Metres(r.laid), From: from, To: to,
		Sum: sum, Rules: append(rules, "reinforcement.lap", "reinforcement.cover"),
	})
}
