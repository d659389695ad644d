package coursing

import (
	"strconv"

	"hodman/service/finding"
	"hodman/service/measure"
	"hodman/service/rulebook"
)

// Coursing is the answer: one entry a level, in the order asked.
type Coursing struct {
	Rulebook string `json:"rulebook"`
	Levels   []Met  `json:"levels"`
	// SetOut is one entry a leaf: the stacks that meet all the levels together.
	SetOut []SetOut `json:"set_out"`
	// TieBeds are the fewest rows of ties, up from the base; of two leaves only.
	TieBeds  []TieBed          `json:"tie_beds,omitzero"`
	Findings []finding.Finding `json:"findings"`
	Cautions []string          `json:"cautions"`
}

// Met is how one level is met. Height is the masonry from the base up to the level,
// or up to the bed under a plate.
type Met struct {
	Name   string         `json:"name"`
	Kind   string         `json:"kind"`
	Level  measure.Length `json:"level_mm"`
	Height measure.Length `json:"height_mm"`
	Leaf
	SecondLeaf *Leaf `json:"second_leaf,omitzero"`
	// BothBelow and BothAbove are the nearest levels that work to the gauge of both leaves;
	// left out for one leaf, and where the gauges do not come together within 100 m.
	BothBelow *measure.Length `json:"both_below_mm,omitzero"`
	BothAbove *measure.Length `json:"both_above_mm,omitzero"`
	// Plate is what stands on the masonry; nil for the other kinds.
	Plate *PlateMadeUp `json:"plate,omitzero"`
	Rules []string     `json:"rules"`
}

// Leaf is how one leaf meets the level. At most one of Closing and Growth is not
// nought: a course of units cut to that height, or what each bed of the full courses grows
// by, rounded down to a micrometre.
type Leaf struct {
	Gauge     measure.Length `json:"gauge_mm"`
	Courses   int            `json:"courses"`      // full ones
	Remainder measure.Length `json:"remainder_mm"` // above the full courses
	Closing   measure.Length `json:"closing_course_mm"`
	Growth    measure.Length `json:"bed_growth_mm"`
	Works     bool           `json:"works_to_gauge"`
	Sliver    bool           `json:"sliver"` // a closing course of under half a unit
	Below     measure.Length `json:"below_mm"`
	Above     measure.Length `json:"above_mm"` // the nearest levels that work to gauge; the level itself where it does
	Offers    []Offer        `json:"offers"`   // gauges to suit
	// Alternatives to a sliver.
	Alternatives []MakeUp `json:"alternatives"`
	// MakeUps are all the ways to come to a plate; of the other kinds none.
	MakeUps []MakeUp `json:"make_ups,omitzero"`
}

// PlateMadeUp is the plate's part of a level.
type PlateMadeUp struct {
	Depth measure.Length `json:"depth_mm"`
	Bed   measure.Length `json:"bed_mm"`
	Sum   string         `json:"sum"`
}

// Cautions ride with every coursing.
var Cautions = []string{
	"Heights are from work sizes and nominal joints; units and joints vary within their tolerances. Check the gauge rod against the units delivered and the drawing's datum before work starts.",
}

// Answer makes up every level of a request that [Request.Check] has passed.
func Answer(r *Request, book *rulebook.Book) Coursing {
	c := &courser{book: book, bed: or(r.Bed, book.Length("joint.bed"))}
	c.least, c.most = r.bedRange(book)
	out := Coursing{Rulebook: book.ID(), Levels: make([]Met, len(r.Levels)), Cautions: Cautions}
	for i := range r.Levels {
		c.at = "/levels/" + strconv.Itoa(i) + "/level_mm"
		out.Levels[i] = c.met(r, &r.Levels[i])
	}
	c.together(r, &out)
	out.Findings = c.findings
	if out.Findings == nil {
		out.Findings = []finding.Finding{}
	}
	return out
}

type courser struct {
	book        *rulebook.Book
	bed         measure.Length
	least, most measure.Length
	at          string
	findings    []finding.Finding
}

func (c *courser) met(r *Request, l *Level) Met {
	m := Met{Name: l.Name, Kind: l.Kind, Level: *l.Level, Height: *l.Level - r.Base, Rules: []string{"joint.bed", "joint.bed_least", "joint.bed_most"}}
	if l.Kind == "plate" {
		depth, bed := r.plate(c.book)
		m.Height -= depth + bed
		m.Plate = &PlateMadeUp{depth, bed, l.Level.String() + " - " + depth.String() + " plate - " + bed.String() + " bed = " + (*l.Level - depth - bed).String() + " mm to the top of the masonry"}
		m.Rules = append(m.Rules, "plate.depth", "plate.bed")
	}
	foot := m.Level - m.Height // what a height stands on, so that height + foot is a level of the same kind
	m.Leaf = c.leaf(m.Height, *r.UnitHeight, c.bed, foot)
	c.tell(l, &m.Leaf, *r.UnitHeight, c.bed, "")
	if l.Kind == "plate" {
		run := r.run(r.UnitLength, c.book)
		m.MakeUps = c.makeUps(m.Height, *r.UnitHeight, &m.Leaf, run, c.lowOf(run))
	}
	if m.Closing > 0 {
		m.Rules = append(m.Rules, "course.closing", "course.sliver")
	}
	if s := r.SecondLeaf; s != nil {
		bed := or(s.Bed, c.book.Length("joint.bed"))
		second := c.leaf(m.Height, *s.UnitHeight, bed, foot)
		if l.Kind == "plate" {
			run := r.run(s.UnitLength, c.book)
			second.MakeUps = c.makeUps(m.Height, *s.UnitHeight, &second, run, c.lowOf(run))
		}
		m.SecondLeaf = &second
		c.tell(l, &second, *s.UnitHeight, bed, "second leaf: ")
		if step, ok := common(m.Gauge, second.Gauge); ok {
			lower, upper := foot+below(m.Height, step), foot+above(m.Height, step)
			m.BothBelow, m.BothAbove = &lower, &upper
		}
	}
	return m
}

func (c *courser) leaf(height, unit, bed, foot measure.Length) Leaf {
	l := Leaf{Gauge: unit + bed, Alternatives: []MakeUp{}}
	l.Courses, l.Closing, l.Growth = Courses(height, unit, bed)
	l.Remainder = height - measure.Length(l.Courses)*l.Gauge
	l.Works = l.Remainder == 0
	l.Below, l.Above = foot+below(height, l.Gauge), foot+above(height, l.Gauge)
	l.Offers = Suit(height, unit, bed, c.least, c.most)
	l.Sliver = l.Closing > 0 && l.Closing < c.sliver(unit)
	if l.Sliver {
		l.Alternatives = c.alternatives(height, unit, &l, c.lowOf(0))
	}
	return l
}

// sliver is the height under which a closing course is one, rounded half up to a micrometre.
func (c *courser) sliver(unit measure.Length) measure.Length {
	return measure.Length(c.book.Ratio("course.sliver").HalfUpOf(int64(unit)))
}

// tell says what a leaf has to do where it does not work to gauge.
func (c *courser) tell(l *Level, leaf *Leaf, unit, bed measure.Length, which string) {
	if leaf.Works {
		return
	}
	near := "Levels that work to gauge: " + leaf.Below.String() + " and " + leaf.Above.String() + " mm" + best(leaf) + "."
	of := which + strconv.Itoa(leaf.Courses) + " courses of " + leaf.Gauge.String() + " mm"
	switch over := leaf.Remainder.String() + " mm over"; {
	case leaf.Closing > 0 && l.Kind == "sill":
		c.add(finding.Check, "course.cut", of+" and "+over+": the sill falls inside a course, whose units under it are cut to "+leaf.Closing.String()+" mm high.", near, "course.closing")
	case leaf.Closing > 0 && l.Kind == "head":
		c.add(finding.Check, "course.cut", of+" and "+over+": the head falls inside a course, whose units over it are cut to "+(leaf.Gauge-leaf.Remainder).String()+" mm high.", near, "course.closing")
	case leaf.Sliver:
		c.add(finding.Check, "course.sliver", of+" and "+over+": a closing course of "+leaf.Closing.String()+" mm, under half a unit of "+unit.String()+" mm.", near+spoken(leaf), "course.sliver")
	case leaf.Closing > 0:
		c.add(finding.Note, "course.closing", of+" and "+over+": a closing course of units cut to "+leaf.Closing.String()+" mm high.", near, "course.closing")
	case leaf.Courses == 0:
		c.add(finding.Check, "course.no_course", which+"the level is "+over+" the base, which is not more than a bed of "+bed.String()+" mm.", near, "joint.bed")
	case bed+leaf.Growth > c.most:
		c.add(finding.Check, "course.bed_too_thick", of+" and "+over+": each bed would grow by "+leaf.Growth.String()+" to "+(bed+leaf.Growth).String()+" mm, over the most of "+c.most.String()+" mm.", near, "joint.bed_most")
	default:
		c.add(finding.Note, "course.beds_grow", of+" and "+over+": each bed grows by "+leaf.Growth.String()+" to "+(bed+leaf.Growth).String()+" mm.", near, "joint.bed_most")
	}
}

func best(leaf *Leaf) string {
	if len(leaf.Offers) == 0 {
		return ""
	}
	o := leaf.Offers[0]
	return "; or gauge " + strconv.Itoa(o.Courses) + " courses to suit, on beds of " + o.Bed.String() + " mm"
}

func (c *courser) add(severity finding.Severity, code, text, remedy, rule string) {
	c.findings = append(c.findings, finding.Finding{Severity: severity, Code: code, At: c.at, Text: text, Remedy: remedy, Rule: rule})
}
