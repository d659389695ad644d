package elevation

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"hodman/service/finding"
	"hodman/service/measure"
)

// mark is a finding and where it is shown.
type mark struct {
	finding *finding.Finding
	leaf    int
	at      place
}

// findMarks finds the place of every finding of the wall.
func (d *drawing) findMarks() {
	at, w := d.sheet.At, d.sheet.Wall
	var broken []mark
	for k := range d.sheet.Leaves {
		l := &d.sheet.Leaves[k]
		gauge := l.Made.Unit.Height + l.Made.Bed
		for _, b := range l.Laying.Broken {
			broken = append(broken, mark{leaf: k, at: place{b.From + min((b.To-b.From)/2, 2*measure.Metre), measure.Length(b.First+b.Last) * gauge / 2}})
		}
	}
	for i := range d.sheet.Findings {
		f := &d.sheet.Findings[i]
		if f.At != at && !strings.HasPrefix(f.At, at+"/") {
			continue
		}
		m := mark{finding: f, at: place{d.em(10), w.Height - d.em(12)}}
		if len(d.sheet.Leaves) == 2 && !strings.HasPrefix(f.Code, "arch.") && strings.Contains(f.Text, "inner leaf") && !strings.Contains(f.Text, "outer leaf") {
			m.leaf = 1
		}
		rest := strings.TrimPrefix(f.At, at)
		switch {
		case f.Code == "bond.broken" && len(broken) > 0:
			m.leaf, m.at = broken[0].leaf, d.outside(broken[0].at)
			broken = broken[1:]
		case strings.HasPrefix(rest, "/openings/"):
			m.at = d.atOpening(rest)
		case rest == "/length_mm":
			m.at = place{w.Length / 2, d.em(12)}
		case rest == "/base_mm":
			m.at = place{w.Length / 2, 0}
		case rest == "/left":
			m.at = place{0, w.Height / 2}
		case rest == "/right":
			m.at = place{w.Length, w.Height / 2}
		}
		if d.capped && !d.drawn(m.leaf, m.at.x) {
			d.untold++
			continue
		}
		d.marks = append(d.marks, m)
	}
	if over := len(d.marks) - mostMarks; over > 0 {
		d.untold += over
		slices.SortStableFunc(d.marks, func(a, b mark) int { return cmp.Compare(rank(a.finding), rank(b.finding)) })
		d.marks = d.marks[:mostMarks]
	}
	for i := range d.marks {
		d.makeRoom(i)
	}
}

// outside moves a place that lies in an opening to over its head.
func (d *drawing) outside(p place) place {
	for i := range d.sheet.Wall.Openings {
		o := &d.sheet.Wall.Openings[i]
		if p.x > o.Left && p.x < o.Right() && p.z > o.Sill && p.z < o.Top() {
			p = place{o.Left + o.Width/4, o.Top() + d.em(16)}
		}
	}
	return p
}

// drawn says whether a place along a leaf is in a row that is drawn.
func (d *drawing) drawn(leaf int, x measure.Length) bool {
	for i := range d.views {
		if v := &d.views[i]; v.leaf == leaf && (x >= v.from || v.first) && (x <= v.to || v.last) {
			return true
		}
	}
	return false
}

// mostMarks is how many findings one sheet shows: of more, the gravest.
const mostMarks = 60

// rank is how grave a finding is, the gravest first.
func rank(f *finding.Finding) int {
	switch f.Severity {
	case finding.Stop:
		return 0
	case finding.Check:
		return 1
	}
	return 2
}

// atOpening is where a finding about an opening is shown.
func (d *drawing) atOpening(pointer string) place {
	parts := strings.Split(pointer, "/")
	k, err := strconv.Atoi(parts[2])
	if err != nil || k < 0 || k >= len(d.sheet.Wall.Openings) {
		return place{}
	}
	o := &d.sheet.Wall.Openings[k]
	p := place{o.Left - d.em(12), o.Sill + o.Height/2}
	if len(parts) > 3 {
		switch parts[3] {
		case "sill_mm":
			p = place{o.Left + d.em(12), o.Sill - d.em(12)}
		case "height_mm", "head":
			p = place{o.Left + o.Width*3/4, o.Top() + d.em(16)}
		}
	}
	return p
}

// makeRoom moves a mark clear of those before it, of what openings are called and of the
// figures of bearings: along the wall, and at its end to the next line under it.
func (d *drawing) makeRoom(i int) {
	m := &d.marks[i]
	low, high := min(d.em(10), d.high/2), d.high+d.em(6)
	m.at.z = min(max(m.at.z, low), high)
	start, most := m.at.x, d.sheet.Wall.Length
	for range 1000 {
		if !d.taken(i) {
			return
		}
		if m.at.x += d.em(5); m.at.x <= most {
			continue
		}
		m.at.x = min(start, most/2)
		if m.at.z -= d.em(19); m.at.z < low {
			m.at.z = high
		}
	}
}

// taken says whether a mark is over an earlier one or over words.
func (d *drawing) taken(i int) bool {
	m, r := &d.marks[i], d.em(10)
	for k := range d.marks[:i] {
		if o := &d.marks[k]; o.leaf == m.leaf && m.at.near(o.at, 2*r, 2*r) {
			return true
		}
	}
	for k := range d.sheet.Wall.Openings {
		o := &d.sheet.Wall.Openings[k]
		if m.at.x < o.Left-d.em(50) || m.at.x > o.Right()+d.em(50) {
			continue
		}
		words := max(d.wide(o.Ref, 10), d.wide(grouped(o.Width)+" x "+grouped(o.Height), 8)) / 2
		high := d.em(16)
		if 2*words > o.Width {
			words, high = min(words, d.em(20)), min(o.Height/2, 2*words)
		}
		if m.at.near(place{o.Left + o.Width/2, o.Sill + o.Height/2 - d.em(3)}, words+r, high+r) {
			return true
		}
		if p := d.sheet.Lintels[k].Pick; p != nil && p.Product != "" {
			z := o.Top() - d.em(7)
			if m.at.near(place{o.Left - d.em(14), z}, d.em(15)+r, d.em(6)+r) || m.at.near(place{o.Right() + d.em(14), z}, d.em(15)+r, d.em(6)+r) {
				return true
			}
		}
	}
	return false
}

// near says whether two places are closer than so much both ways.
func (p place) near(o place, across, up measure.Length) bool {
	return max(p.x-o.x, o.x-p.x) < across && max(p.z-o.z, o.z-p.z) < up
}

// balloons draws the numbers of the findings where they are.
func (d *drawing) balloons(v *view) {
	for i := range d.marks {
		m := &d.marks[i]
		if m.leaf == v.leaf && (m.at.x >= v.from || v.first) && (m.at.x < v.to || v.last && m.at.x >= v.from) {
			d.balloon(i, m.at.x, -m.at.z)
		}
	}
}

func (d *drawing) balloon(i int, x, y measure.Length) {
	f := d.marks[i].finding
	d.put(`<circle class="`, string(f.Severity), `" cx="`, along(x), `" cy="`, y, `" r="`, d.em(9), `"/>`)
	class := "s b c"
	if f.Severity == finding.Stop {
		class += " inv"
	}
	d.words(class, x, y+d.em(3), strconv.Itoa(i+1))
}
