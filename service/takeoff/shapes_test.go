package takeoff

import (
	"math"

	"pgregory.net/rapid"

	"hodman/service/measure"
	"hodman/service/product"
	"hodman/service/rulebook"
	"hodman/service/schedule"
)

// shapes gives a wall a stepped top, curved openings, arches, soldier courses, sills and
// bands now and then. Where there is no room for them the schedule's check refuses.
func shapes(t *rapid.T, w *schedule.Wall) {
	one := func(in int, name string) bool { return rapid.IntRange(1, in).Draw(t, name) == 1 }
	if w.Top == nil && one(3, "stepped") {
		w.Top = &schedule.Top{Shape: "stepped"}
		at := measure.Length(0)
		for range rapid.IntRange(1, 3).Draw(t, "steps") {
			at += measure.Length(rapid.IntRange(200, 2400).Draw(t, "step")) * ms / 2
			w.Top.Steps = append(w.Top.Steps, schedule.Step{At: at, Rise: measure.Length(rapid.IntRange(0, 800).Draw(t, "rise")) * ms})
		}
	}
	for k := range w.Openings {
		o := &w.Openings[k]
		o.Shape = rapid.SampledFrom([]string{"", "", "segmental", "semicircular", "round"}).Draw(t, "shape")
		switch o.Shape {
		case "segmental":
			o.Rise = o.Width / measure.Length(rapid.IntRange(3, 20).Draw(t, "flatness"))
		case "round":
			o.Height = o.Width
		case "semicircular":
			o.Height = max(o.Height, o.Width/2)
		}
		if o.Shape != "" {
			o.Head.Kind = rapid.SampledFrom([]string{"none", "arch"}).Draw(t, "head")
			if o.Head.Kind == "arch" {
				o.Head.Gauged = rapid.Bool().Draw(t, "gauged")
			}
			if o.Head.Kind == "arch" && !o.Head.Gauged {
				o.Head.Rings = rapid.IntRange(1, 2).Draw(t, "rings")
			}
			continue
		}
		switch rapid.SampledFrom([]string{"lintel", "lintel", "soldier", "flat_arch"}).Draw(t, "over") {
		case "soldier":
			// No stub of a pier beside it that its end would cut in two.
			o.Head.Soldier = o.Left >= 100*ms && w.Length-o.Right() >= 100*ms
		case "flat_arch":
			o.Head.Kind = "flat_arch"
		}
		if one(3, "sill course") {
			o.SillCourse = &schedule.Course{}
		}
	}
	if one(4, "pier") { // of British bricks; where the leaf is of others it is refused
		w.Piers = []schedule.Pier{{At: measure.Length(rapid.IntRange(0, 4000).Draw(t, "pier at")) * ms / 2,
			Width:      rapid.SampledFrom([]measure.Length{327_500, 440_000}).Draw(t, "pier width"),
			Projection: rapid.SampledFrom([]measure.Length{102_500, 215_000}).Draw(t, "projection"),
			Side:       rapid.SampledFrom([]string{"inside", "outside"}).Draw(t, "side"),
			Joined:     rapid.SampledFrom([]string{"bonded", "tied"}).Draw(t, "joined")}}
	}
	if one(4, "band") {
		w.Bands = []schedule.Band{{Kind: rapid.SampledFrom([]string{"soldier", "header", "dentil", "stretcher", "on_edge"}).Draw(t, "band kind"),
			At: measure.Length(rapid.IntRange(0, 3000).Draw(t, "band at")) * ms / 2, Courses: rapid.IntRange(1, 2).Draw(t, "band courses")}}
	}
}

// roomy gives a wall openings with room round them for an arch.
func roomy(t *rapid.T, w *schedule.Wall) {
	w.Length, w.Height = max(w.Length, 2400*ms), max(w.Height, 1500*ms)
	if w.Top != nil && w.Top.Shape == "gable" {
		w.Top.ApexAt = w.Length / 3
	}
	w.Openings = nil
	n := rapid.IntRange(1, 2).Draw(t, "bays")
	bay := int(w.Length/measure.Length(n)/ms) * 2 // in half millimetres, as all sizes here
	high := int(w.Height/ms) * 2
	for i := range n {
		width := rapid.IntRange(400, bay-1100).Draw(t, "width")
		height := rapid.IntRange(500, high-1400).Draw(t, "height")
		w.Openings = append(w.Openings, schedule.Opening{Ref: string(rune('A' + i)),
			Left:  measure.Length(i*bay+rapid.IntRange(500, bay-width-500).Draw(t, "left")) * ms / 2,
			Sill:  measure.Length(rapid.IntRange(240, high-height-900).Draw(t, "sill")) * ms / 2,
			Width: measure.Length(width) * ms / 2, Height: measure.Length(height) * ms / 2})
	}
}

// moved is a polygon higher by so many millimetres, but not under the base.
func moved(polygon [][2]float64, by float64) [][2]float64 {
	out := make([][2]float64, len(polygon))
	for i, p := range polygon {
		out[i] = [2]float64{p[0], max(0, p[1]+by)}
	}
	return out
}

// addHoles gives the wall its openings and arches, and spares what is too low to be laid over and
// under them.
func (out *wallOfPieces) addHoles(l *laidLeaf, low measure.Length) {
	for i := range l.wall.Openings {
		o := &l.wall.Openings[i]
		var hole [][2]float64
		if deep, lean, ok := l.archOver(i); ok || o.Curved() {
			hole = curveOf(o, deep.Mm(), lean.Mm())
			out.Curves = append(out.Curves, hole)
		} else {
			hole = boxOf(o.Left, o.Sill, o.Right(), o.Top())
			out.Holes = append(out.Holes, hole)
		}
		out.Spared = append(out.Spared, moved(hole, low.Mm()), moved(hole, -low.Mm()))
		if o.Curved() { // nothing is laid over a crown that leaves too little: twice as much beside it
			out.Spared = append(out.Spared, moved(hole, 2*low.Mm()))
		}
	}
}

// spareFeatures spares what is too low to be laid under the steps of a top, and over and
// under soldier courses, sills and bands.
func (out *wallOfPieces) spareFeatures(l *laidLeaf, low measure.Length) {
	if l.wall.Top != nil && l.wall.Top.Shape == "stepped" {
		l.wall.Steps(func(from, to, top measure.Length) {
			out.Spared = append(out.Spared, boxOf(from, top-low, to, top))
		})
	}
	for _, p := range l.wall.Piers {
		// A stub between a pier's headers and an end or a reveal is no wider than two joints.
		stub := 2 * l.made.Perpend
		out.Spared = append(out.Spared, boxOf(p.At-stub, 0, p.At, l.wall.Highest()), boxOf(p.At+p.Width, 0, p.At+p.Width+stub, l.wall.Highest()))
	}
	if l.made.Back != 0 {
		return // they are in the outer leaf
	}
	spare := func(from, to, foot, head measure.Length) {
		out.Spared = append(out.Spared, boxOf(from, foot-low, to, foot), boxOf(from, head, to, head+low))
		// What does not come out by less than a joint stands beside a joint of the bond, also in
		// courses that it only reaches into.
		end, gauge := 2*l.made.Perpend, l.made.Gauge()
		out.Spared = append(out.Spared, boxOf(to-end, foot-gauge, to+end, head+gauge))
	}
	cat := product.Demo()
	for i := range l.wall.Openings {
		o := &l.wall.Openings[i]
		if r, ok := l.made.Over(o, cat, rulebook.GB()); ok && !o.HasArch() {
			spare(r.Left, r.Right, r.Foot, r.Head)
		}
		if r, ok := l.made.Under(o, cat); ok {
			spare(r.Left, r.Right, r.Foot, r.Head)
		}
	}
	for i := range l.wall.Bands {
		b := &l.wall.Bands[i]
		spare(0, l.wall.Length, b.At, l.made.BandHead(b, cat))
	}
}

// archOver is how deep the arch over an opening is in this leaf, joints and all, and of a
// flat one how far its ends lean out.
func (l *laidLeaf) archOver(opening int) (deep, lean measure.Length, ok bool) {
	for i := range l.Arches {
		if a := &l.Arches[i]; a.Opening == opening {
			deep = measure.Length(len(a.Counts)) * (a.Depth + a.Joint)
			if !l.wall.Openings[opening].Curved() {
				lean = a.Intrados.LeanOut
			}
			return deep, lean, true
		}
	}
	return 0, 0, false
}

// curveOf is an opening with the arch round it, so deep: by circles, from the opening's own sizes.
func curveOf(o *schedule.Opening, deep, lean float64) [][2]float64 {
	left, right, sill, top := o.Left.Mm(), o.Right().Mm(), o.Sill.Mm(), o.Top().Mm()
	half, middle := (right-left)/2, (left+right)/2
	if !o.Curved() {
		return [][2]float64{{left, sill}, {right, sill}, {right, top}, {right + lean, top + deep}, {left - lean, top + deep}, {left, top}}
	}
	radius, centre := half, sill+half
	from, to := 0.0, 2*math.Pi
	var polygon [][2]float64
	if o.Shape != "round" {
		rise := half
		if o.Shape == "segmental" {
			rise = o.Rise.Mm()
		}
		radius = (half*half + rise*rise) / (2 * rise)
		centre = top - radius
		from = math.Asin(min(1, (top-rise-centre)/radius))
		to = math.Pi - from
		polygon = [][2]float64{{left, top - rise}, {left, sill}, {right, sill}, {right, top - rise}}
	}
	const parts = 60 // chords of the circle: the polygon is a hair within the hole
	for k := range parts + 1 {
		a := from + (to-from)*float64(k)/parts
		polygon = append(polygon, [2]float64{middle + (radius+deep)*math.Cos(a), centre + (radius+deep)*math.Sin(a)})
	}
	return polygon
}

// shapesIn are the shapes that a wall shows, to see that all of them are drawn.
func shapesIn(w *schedule.Wall) (list []string) {
	if w.Top != nil {
		list = append(list, w.Top.Shape)
	}
	for i := range w.Openings {
		o := &w.Openings[i]
		if o.Curved() {
			list = append(list, o.Shape)
		}
		switch {
		case o.Head.Kind == "flat_arch":
			list = append(list, "flat_arch")
		case o.HasArch():
			list = append(list, "arch")
		case o.Head.Soldier:
			list = append(list, "soldier")
		}
		if o.SillCourse != nil {
			list = append(list, "sill")
		}
	}
	if len(w.Piers) > 0 {
		list = append(list, "pier")
	}
	for i := range w.Bands {
		list = append(list, "band of "+w.Bands[i].Kind)
	}
	return list
}
