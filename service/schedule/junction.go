package schedule

import (
	"slices"
	"strconv"

	"hodman/service/measure"
)

// JunctionEnd is an end that meets another wall in its length.
const JunctionEnd End = "junction"

// Junction is where a wall's end meets another wall that runs on at both sides. The
// wall's length is measured from the face that it meets.
type Junction struct {
	Wall string `json:"wall"`
	// At is where this wall's nearer face stands, from the other's left end.
	At     measure.Length `json:"at_mm"`
	Side   string         `json:"side,omitzero"`   // of the other wall that it stands on: "inside" (default), "outside"
	Joined string         `json:"joined,omitzero"` // "bonded" or "tied"; left out: bonded where beds run through
}

// Crossing is where two walls of one leaf run through each other.
type Crossing struct {
	Wall string `json:"wall"`
	// At is where the other wall's nearer face stands along this one, OtherAt where this
	// one's stands along the other, each from the left end.
	At      measure.Length `json:"at_mm"`
	OtherAt measure.Length `json:"other_at_mm"`
	Joined  string         `json:"joined,omitzero"` // bonded: each runs through in its turn; tied: the other does
}

// Limits of one wall.
const (
	MaxCrossings = 20
	MaxPiers     = 100
)

var (
	sides  = []string{"inside", "outside"}
	joined = []string{"bonded", "tied"}
)

// leaf is which of so many leaves of the other wall is met: the inner or the outer.
func (j *Junction) leaf(leaves int) int {
	if j.Side == "outside" {
		return 0
	}
	return leaves - 1
}

// junctionAt is the junction of a wall's left or right end, or nil.
func (w *Wall) junctionAt(side int) *Junction {
	if [2]End{w.Left, w.Right}[side] != JunctionEnd {
		return nil
	}
	return [2]*Junction{w.LeftJunction, w.RightJunction}[side]
}

// joins says whether two leaves are bonded where one wall meets another in its length:
// where their beds run through, unless the schedule has them tied.
func (m *Made) joins(n *Made, over measure.Length, tied bool) (step measure.Length, bonded bool) {
	step, bonds := m.bondsWith(n)
	return step, bonds && !tied && over%step == 0
}

// junction is what leaf m of a wall meets at its end in the length of another wall's leaf
// n, whose base is so much lower.
func (m *Made) junction(j *Junction, n *Made, over measure.Length) Meeting {
	step, bonded := m.joins(n, over, j.Joined == "tied")
	if !bonded {
		return Meeting{Every: 1, Jointed: true, Junction: true, Tied: true, Asked: j.Joined == "tied"}
	}
	return Meeting{Bonded: true, Junction: true, Every: int(step / m.Gauge()), Over: over,
		Face: -n.Thickness, Half: n.Thickness, Across: n.Thickness}
}

// Takes says in which courses a wall gives up its units to one that stands across it, in
// steps of height from its base on.
type Takes uint8

const (
	TakesNone  Takes = iota
	TakesLater       // every second step, not the first
	TakesFirst       // every second step, the first too
	TakesAll
)

// Stem is where one leaf of a wall stands against another wall, or across it.
type Stem struct {
	Wall, Leaf int            // that stands there
	Other      int            // leaf of the wall that it meets
	From, To   measure.Length // its faces along the other wall
	// Over is how much higher its base stands; Height is its own there, above its base.
	Over, Height measure.Length
	Takes        Takes
	Step         measure.Length
	Crossing     bool
	Asked        bool   // to be bonded, in so many words
	At           string // JSON Pointer to what says so
}

// Stems are, for every wall, the leaves that meet it in its length.
func (s *Schedule) Stems(made func(wall int) []Made) [][]Stem {
	if !s.anyJunction() {
		return nil
	}
	list, at := make([][]Stem, len(s.Walls)), s.byRef()
	for i := range s.Walls {
		w := &s.Walls[i]
		for side := range 2 {
			if j := w.junctionAt(side); j != nil {
				t := at[j.Wall]
				list[t] = append(list[t], s.stems(i, side, j, t, made)...)
			}
		}
		for k := range w.Crossings {
			t := at[w.Crossings[k].Wall]
			a, b := s.cross(i, t, k, made)
			if list[i] = append(list[i], a); b.Takes != TakesNone {
				list[t] = append(list[t], b)
			}
		}
	}
	return list
}

func (s *Schedule) anyJunction() bool {
	return slices.ContainsFunc(s.Walls, func(w Wall) bool {
		return w.Left == JunctionEnd || w.Right == JunctionEnd || len(w.Crossings) > 0
	})
}

// stems are the leaves of wall i at its end against wall t. Seen from outside, the outer
// face of a wall that ends left against the inside of another stands farther along that.
func (s *Schedule) stems(i, side int, j *Junction, t int, made func(int) []Made) []Stem {
	w, own := &s.Walls[i], made(i)
	other, over := j.leaf(len(made(t))), w.Base-s.Walls[t].Base
	list := make([]Stem, len(own))
	for k := range own {
		m := &own[k]
		at := j.At + m.Back
		if (side == 0) == (j.Side != "outside") {
			at = j.At + thick(own) - m.Back - m.Thickness
		}
		takes := TakesNone
		step, bonded := m.joins(&made(t)[other], over, j.Joined == "tied")
		if bonded {
			takes = TakesLater
		}
		list[k] = Stem{Wall: i, Leaf: k, Other: other, From: at, To: at + m.Thickness, Over: over, Height: w.HighestAt(measure.Length(side) * w.Length),
			Takes: takes, Step: step, Asked: j.Joined == "bonded", At: "/walls/" + strconv.Itoa(i) + [2]string{"/left_junction", "/right_junction"}[side]}
	}
	return list
}

// cross is what each of two walls that cross has standing across it. Bonded, the first
// gives way from the base on in every second step, and the other in those between; tied, the
// first gives way in all.
func (s *Schedule) cross(i, t, k int, made func(int) []Made) (a, b Stem) {
	w, o := &s.Walls[i], &s.Walls[t]
	x, over := &w.Crossings[k], w.Base-o.Base
	m, n := &made(i)[0], &made(t)[0]
	step, bonded := m.joins(n, over, x.Joined == "tied")
	a = Stem{Wall: t, From: x.At, To: x.At + n.Thickness, Over: -over, Height: o.HighestAt(x.OtherAt), Takes: TakesAll, Step: step, Crossing: true, Asked: x.Joined == "bonded"}
	b = Stem{Wall: i, From: x.OtherAt, To: x.OtherAt + m.Thickness, Over: over, Height: w.HighestAt(x.At), Step: step, Crossing: true}
	a.At = "/walls/" + strconv.Itoa(i) + "/crossings/" + strconv.Itoa(k)
	b.At = a.At
	if bonded {
		a.Takes, b.Takes = TakesFirst, TakesLater
		if over/step%2 != 0 {
			b.Takes = TakesFirst // counted from its own base
		}
	}
	return a, b
}
