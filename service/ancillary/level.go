package ancillary

import (
	"strconv"

	"hodman/service/measure"
)

// at is what there is of a leaf at a level above the base: the outer or only leaf's
// stretches between openings, or the inner's.
func (w *Wall) at(leaf int, level measure.Length) []stretchAlong {
	from, to := measure.Length(0), w.Wall.Length
	if w.Inner == nil || leaf == 1 {
		from, to = w.From, w.From+w.Run
	}
	ends := []stretchAlong{{from - w.Wall.Length, from}, {to, to + w.Wall.Length}}
	var left []stretchAlong
	for _, s := range unbroken(w.Wall, level, level) {
		// The wall's top runs on level beyond its ends, where a leaf reaches further.
		if s.from == 0 {
			s.from = min(from, 0)
		}
		if s.to == w.Wall.Length {
			s.to = max(to, w.Wall.Length)
		}
		left = append(left, s.without(ends)...)
	}
	return left
}

// courseLevels lays the damp-proof courses at the levels that a wall asks for, between
// the openings that stand there.
func (c *counter) courseLevels(w *Wall) {
	for i, level := range w.Wall.DPCLevels {
		above := level - w.Wall.Base
		for k, leaf := range w.leaves() {
			at := w.At + "/dpc_levels_mm/" + strconv.Itoa(i)
			p := c.roll(at, leaf.Thickness, "dpc.lap")
			if p == nil {
				continue
			}
			var run, laid measure.Length
			sum := "at " + level.String() + " mm in the leaf of " + leaf.Code + ": "
			for n, s := range w.at(k, above) {
				if n > 0 {
					sum += " + "
				}
				with, laps := c.lapped(s.to-s.from, p.Length)
				run, laid = run+s.to-s.from, laid+with
				sum += metres(s.to-s.from) + laps
			}
			if run == 0 {
				continue
			}
			c.add(w, Need{
				Product: p, Unit: metre, Part: "dpc_level", Net: measure.Metres(run), With: measure.Metres(laid), From: above, To: above,
				Sum: sum + " m", Rules: []string{"dpc.lap"},
			})
		}
	}
}
