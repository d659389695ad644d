package takeoff

import (
	"fmt"
	"strconv"
	"strings"

	"hodman/service/bond"
	"hodman/service/measure"
	"hodman/service/product"
	"hodman/service/schedule"
)

// value works a figure out with the engine: a number, or words.
func (f *figure) value() (any, error) {
	in, err := read(f.inputs)
	if err != nil {
		return nil, err
	}
	if what, per, ok := strings.Cut(f.quantity, " per "); ok {
		return in.density(what, per)
	}
	if work := ofWall[f.quantity]; work != nil {
		return work(in)
	}
	if work := ofOthers[f.quantity]; work != nil {
		return work(in)
	}
	return nil, fmt.Errorf("no quantity is called %q", f.quantity)
}

// stretch is what a length of wall holds that has no ends.
type stretch struct {
	units, facing, backing float64 // what is cut, by its share of a unit and its joint
	pieces, headers        float64 // headers are those on the face
	mortar                 measure.Volume
	area                   measure.Area
}

// withoutEnds is a stretch of the wall: one panel less another that is shorter by whole
// periods of its bond. Their ends are alike, so that what they differ by has none.
func (in *inputs) withoutEnds() (*stretch, error) {
	made, err := in.made()
	if err != nil {
		return nil, err
	}
	pitch, gauge := made.Unit.Length+made.Perpend, made.Unit.Height+made.Bed
	if made.Bond == "rat_trap" {
		pitch = 2 * (made.Unit.Length + made.Unit.Thickness + 2*made.Perpend)
	}
	// 105 pitches are whole periods of every bond: 1, 1 1/2, 2 1/2 and 3 1/2 of them.
	const periods, courses = 105, 24
	high := courses * gauge
	if in.leaf.HeadersEvery > 0 {
		high = measure.Length(12*in.leaf.HeadersEvery) * gauge
	}
	short, err := in.panel(made, 20*pitch-made.Perpend, high)
	if err != nil {
		return nil, err
	}
	long, err := in.panel(made, (20+periods)*pitch-made.Perpend, high)
	if err != nil {
		return nil, err
	}
	return &stretch{long.units - short.units, long.facing - short.facing, long.backing - short.backing, long.pieces - short.pieces,
		long.headers - short.headers, long.mortar - short.mortar, long.area - short.area}, nil
}

// made is the leaf as the schedule resolves it.
func (in *inputs) made() (*schedule.Made, error) {
	if in.leaf.Unit == nil {
		return nil, fmt.Errorf("no unit is given")
	}
	if in.backed {
		other := *in.leaf.Unit
		other.Mass *= 2
		in.leaf.Backing = &schedule.Backing{Unit: &other}
	}
	t := schedule.WallType{Key: "T", Single: &in.leaf}
	return &t.Leaves(product.Demo(), in.book)[0], nil
}

// panel counts one wall by the takeoff, and what its pieces are.
func (in *inputs) panel(made *schedule.Made, length, height measure.Length) (*stretch, error) {
	w := schedule.Wall{Ref: "W", Type: "T", Length: length, Height: height, Left: in.ends[0], Right: in.ends[1], Openings: in.holes}
	out, err := in.takeoff(w)
	if err != nil {
		return nil, err
	}
	s := &stretch{mortar: out.Walls[0].Leaves[0].Mortar, area: out.Walls[0].Leaves[0].Net}
	for _, l := range out.Lines {
		if l.Product == made.Unit.Code || l.Product == made.Backing.Code {
			s.pieces += float64(l.Laid)
		}
	}
	rules := bond.Rules{LeastCut: in.book.Ratio("bond.least_cut"), LeastSplit: in.book.Length("bond.split_least")}
	laid := bond.SetOut([]bond.Run{{Leaf: made, Wall: &w}}, false, rules)[0]
	pieces := 0.0
	for _, b := range laid.Bands {
		for i := range b.Strips {
			s.add(made, &b.Strips[i], float64(b.Strips[i].Count*b.Count))
			pieces += float64(b.Strips[i].Count * b.Count)
		}
	}
	s.units = s.facing + s.backing
	if pieces != s.pieces {
		return nil, fmt.Errorf("%v pieces are laid, %v are counted", pieces, s.pieces)
	}
	return s, nil
}

// add counts n pieces alike, a cut one as its length with a joint in a unit's with one:
// two half bats are one brick.
func (s *stretch) add(made *schedule.Made, p *bond.Strip, n float64) {
	if p.Face == bond.Header && p.Y == 0 {
		s.headers += n
	}
	if p.Cut == bond.InLength {
		n *= float64(p.Size(made.Unit.Length)+made.Perpend) / float64(made.Unit.Length+made.Perpend)
	}
	if p.Unit == 0 {
		s.facing += n
	} else {
		s.backing += n
	}
}

func (in *inputs) takeoff(walls ...schedule.Wall) (*Takeoff, error) {
	s := &schedule.Schedule{Reference: "published", Rulebook: in.book.Key, WallTypes: []schedule.WallType{{Key: "T", Single: &in.leaf}}, Walls: walls}
	s.Allowances.Brick, s.Allowances.Block = in.allow, in.allow
	if faults := s.Check(product.Demo()); len(faults) > 0 {
		return nil, fmt.Errorf("refused: %v", faults)
	}
	return Compute(s, product.Demo(), in.book), nil
}

var areas = map[string]float64{"m2": 1, "sq ft": 0.3048 * 0.3048, "sq yd": 0.9144 * 0.9144}

// density is so much of something to an area, a volume or a count of a wall without ends.
func (in *inputs) density(what, per string) (any, error) {
	s, err := in.withoutEnds()
	if err != nil {
		return nil, err
	}
	amount := map[string]float64{
		"units": s.units, "facing": s.facing, "backing": s.backing, "pieces": s.pieces, "headers": s.headers,
		"mortar m3": s.mortar.M3(), "mortar cu ft": s.mortar.M3() / cubicFoot, "mortar ml": s.mortar.M3() * 1e6,
	}
	if mass := in.words["mass"]; what == "kg" {
		// The sheet's own unit, and mortar at the density that it names.
		kg, err := strconv.ParseFloat(mass, 64)
		if err != nil {
			return nil, err
		}
		wet, err := strconv.ParseFloat(in.words["mortar"], 64)
		return (s.units*kg + s.mortar.M3()*wet) / s.area.M2(), err
	}
	n, ok := amount[what]
	if !ok {
		return nil, fmt.Errorf("no amount is called %q", what)
	}
	times := 1.0
	if count, rest, ok := strings.Cut(per, " "); ok {
		if c, err := strconv.ParseFloat(count, 64); err == nil {
			times, per = c, rest
		}
	}
	made, _ := in.made()
	switch {
	case areas[per] > 0:
		return n * times / (s.area.M2() / areas[per]), nil
	case per == "m3":
		return n * times / (s.area.M2() * made.Thickness.Mm() / 1000), nil
	case per == "nominal m3": // its thickness with a joint
		return n * times / (s.area.M2() * (made.Thickness + made.Perpend).Mm() / 1000), nil
	case per == "unit" || per == "units":
		return n * times / s.units, nil
	case per == "facing unit":
		return n * times / s.facing, nil
	case per == "stretcher":
		in.leaf.Bond, in.leaf.HeadersEvery, in.leaf.Thickness, in.leaf.Backing, in.backed = "", 0, 0, nil, false
		one, err := in.withoutEnds()
		if err != nil {
			return nil, err
		}
		return n * times / s.area.M2() / (one.facing / one.area.M2()), nil
	}
	return nil, fmt.Errorf("nothing is counted per %q", per)
}

// ofWall are the figures of one wall as it stands.
var ofWall = map[string]func(in *inputs) (any, error){
	"area rule": func(in *inputs) (any, error) {
		out, err := in.one()
		if err != nil {
			return nil, err
		}
		return float64(out.Lines[0].AreaRule), nil
	},
	"net area m2": func(in *inputs) (any, error) {
		out, err := in.one()
		if err != nil {
			return nil, err
		}
		return out.Walls[0].Leaves[0].Net.M2(), nil
	},
	"gross area sq ft": func(in *inputs) (any, error) {
		out, err := in.one()
		if err != nil {
			return nil, err
		}
		return out.Walls[0].Leaves[0].Gross.M2() / areas["sq ft"], nil
	},
	"courses": func(in *inputs) (any, error) {
		out, err := in.one()
		if err != nil {
			return nil, err
		}
		if l := out.Walls[0].Leaves[0]; l.ClosingCourse > 0 {
			return nil, fmt.Errorf("a closing course of %v", l.ClosingCourse)
		}
		return float64(out.Walls[0].Leaves[0].Courses), nil
	},
	"units": func(in *inputs) (any, error) {
		out, err := in.one()
		if err != nil {
			return nil, err
		}
		return in.whole(out)
	},
	"units a course": func(in *inputs) (any, error) {
		out, err := in.one()
		if err != nil {
			return nil, err
		}
		n, err := in.whole(out)
		return n / float64(out.Walls[0].Leaves[0].Courses), err
	},
	// What an opening takes out of every course that it cuts through.
	"units left out a course": func(in *inputs) (any, error) {
		out, err := in.one()
		if err != nil {
			return nil, err
		}
		with, err := in.whole(out)
		if err != nil {
			return nil, err
		}
		in.holes = nil
		if out, err = in.one(); err != nil {
			return nil, err
		}
		without, err := in.whole(out)
		return (without - with) / float64(out.Walls[0].Leaves[0].Courses), err
	},
	"units of a ring": func(in *inputs) (any, error) {
		plan, err := lengths(in.words["plan"])
		if err != nil {
			return nil, err
		}
		var walls []schedule.Wall
		for i := range 4 {
			walls = append(walls, schedule.Wall{Ref: fmt.Sprint("W", i), Type: "T", Length: plan[i%2], Height: in.wall[0], Left: schedule.ExternalCorner, Right: schedule.ExternalCorner})
		}
		out, err := in.takeoff(walls...)
		if err != nil {
			return nil, err
		}
		if cut := out.Lines[0].CutPieces; cut > 0 {
			return nil, fmt.Errorf("%d are cut", cut)
		}
		return float64(out.Lines[0].Whole), nil
	},
	"units with breakage": func(in *inputs) (any, error) {
		out, err := in.one()
		if err != nil {
			return nil, err
		}
		return float64(out.Lines[0].Required) / float64(measure.Whole), nil
	},
	"field ties": func(in *inputs) (any, error) { return in.ties("field") },
	"jamb ties":  func(in *inputs) (any, error) { return in.ties("jamb") },
}

// one counts the wall of the sheet.
func (in *inputs) one() (*Takeoff, error) {
	return in.takeoff(schedule.Wall{Ref: "W", Type: "T", Length: in.wall[0], Height: in.wall[1], Left: in.ends[0], Right: in.ends[1], Openings: in.holes})
}

// whole is wholes and halves. Any other cut is an error: the sizes are said to work.
func (in *inputs) whole(out *Takeoff) (float64, error) {
	l := &out.Walls[0].Leaves[0]
	made, err := in.made()
	if err != nil {
		return 0, err
	}
	n := float64(l.Whole)
	for _, c := range l.Cuts {
		if 2*c.Length+made.Perpend != made.Unit.Length {
			return 0, fmt.Errorf("%d are cut to %v", c.Count, c.Length)
		}
		n += float64(c.Count) / 2
	}
	if len(l.Splits) > 0 {
		return 0, fmt.Errorf("units are cut in height")
	}
	return n, nil
}

// ties counts those of a cavity wall with the sheet's face.
func (in *inputs) ties(part string) (any, error) {
	var cavity measure.Length
	if list, err := lengths(in.words["cavity"]); err == nil {
		cavity = list[0]
	}
	s := &schedule.Schedule{Reference: "published", Rulebook: in.book.Key, WallTypes: []schedule.WallType{{Key: "T",
		Outer: &schedule.Leaf{Product: "BRK-65-FACE"}, Cavity: &schedule.Cavity{Width: cavity}, Inner: &schedule.Leaf{Product: "BLK-100-D"}}},
		Walls: []schedule.Wall{{Ref: "W", Type: "T", Length: in.wall[0], Height: in.wall[1], Left: in.ends[0], Right: in.ends[1], Openings: in.holes}}}
	if faults := s.Check(product.Demo()); len(faults) > 0 {
		return nil, fmt.Errorf("refused: %v", faults)
	}
	s.Allowances.WallTie = new(measure.Ratio)
	total := 0.0
	for _, a := range Compute(s, product.Demo(), in.book).Ancillaries {
		if a.Part == part && strings.HasPrefix(a.Product, "TIE-") {
			total += float64(a.Required) / float64(measure.Whole)
		}
	}
	return total, nil
}
