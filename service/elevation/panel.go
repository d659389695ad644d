package elevation

import (
	"bytes"
	"slices"
	"strings"

	"hodman/service/measure"
	"hodman/service/schedule"
)

// legendAndWords is what stands under the views, or beside them: what the tones mean with counts,
// lintels, findings, and what the sheet is.
func (d *drawing) legendAndWords() {
	under := d.at
	if d.sheet.Wide {
		d.at = 0
		d.put(`<g transform="translate(`, d.width, ` 0)">`)
	}
	d.at += d.em(20)
	d.legend()
	d.lintelList()
	d.key()
	d.title()
	if d.sheet.Wide {
		d.put("</g>")
		d.at = max(d.at, under)
	}
}

// legend tells the kinds of pieces, with how many of each every leaf has.
func (d *drawing) legend() {
	d.heading("Pieces")
	columns := len(d.sheet.Leaves)
	var counts [2][len(kinds)]tally
	for k := range d.sheet.Leaves {
		counts[k] = d.count(k)
		d.words("s e", d.em(270+k*90), d.at, d.sheet.Leaves[k].Made.Name)
	}
	d.at += d.em(lineStep) / 10
	for kind := range kinds {
		any := false
		for k := range columns {
			any = any || counts[k][kind].seen+counts[k][kind].behind > 0
		}
		if !any {
			continue
		}
		d.box("m", d.em(10), d.at-d.em(9), d.em(24), d.em(12))
		d.box(kinds[kind].class, d.em(11), d.at-d.em(8), d.em(22), d.em(10))
		d.words("s", d.em(40), d.at, kinds[kind].name)
		for k := range columns {
			d.words("s e", d.em(270+k*90), d.at, counts[k][kind].words())
		}
		d.at += d.em(lineStep) / 10
		if kind == other {
			d.words("s", d.em(40), d.at, "that is "+d.otherProducts())
			d.at += d.em(lineStep) / 10
		}
	}
	if slices.ContainsFunc(counts[0][:], func(t tally) bool { return t.behind > 0 }) {
		d.words("s", d.em(40), d.at, "behind: in the thickness of the wall, not seen")
		d.at += d.em(lineStep) / 10
	}
	d.symbols()
}

// tally is how many pieces of a kind show on the face, and how many stand behind it.
type tally struct{ seen, behind int }

func (t tally) words() string {
	s := number(t.seen)
	if t.behind > 0 {
		s += " + " + number(t.behind) + " behind"
	}
	return s
}

// count counts a leaf's pieces by kind.
func (d *drawing) count(k int) (n [len(kinds)]tally) {
	bands := d.sheet.Leaves[k].Laying.Bands
	for b := range bands {
		for i := range bands[b].Strips {
			s := &bands[b].Strips[i]
			if t := &n[kindOf(s)]; d.seen(&bands[b], i) {
				t.seen += s.Count * bands[b].Count
			} else {
				t.behind += s.Count * bands[b].Count
			}
		}
	}
	return n
}

// symbols tells the other signs that this sheet has.
func (d *drawing) symbols() {
	y := d.at
	x, to := d.em(10), d.em(34)
	row := func(name string) {
		d.words("s", d.em(40), d.at, name)
		d.at += d.em(lineStep) / 10
	}
	if bytes.Contains(d.b, []byte(`class="g"`)) {
		d.box("m", x, y-d.em(9), to-x, d.em(12))
		d.box("g", d.em(11), y-d.em(8), d.em(22), d.em(10))
		row("unit of another wall, counted there")
	}
	if c := d.sheet.Coping; c != nil {
		d.box("cop", x, d.at-d.em(8), to-x, d.em(7))
		row("coping, " + c.Code)
	}
	if slices.ContainsFunc(d.piers, func(p schedule.MadePier) bool { return !p.Outside }) {
		d.box("hid", x, d.at-d.em(9), to-x, d.em(10))
		row("pier behind")
	}
	if len(d.sheet.Leaves[0].Ties) > 0 {
		y = d.at - d.em(3)
		r := d.em(2)
		d.put(`<path class="tie" d="M`, d.em(20), " ", y, "l", r, " ", -r, "l", r, " ", r, "l", -r, " ", r, `z"/>`)
		row("wall tie, shown on a grid of " + d.sheet.Ties.Across.String() + " mm along, " + d.sheet.Ties.Jamb.String() + " mm up jambs")
	}
	if d.sheet.DPC != nil {
		d.line("dpc", x, d.at-d.em(3), to, d.at-d.em(3))
		row("damp-proof course")
	}
	d.line("lift", x, d.at-d.em(3), to, d.at-d.em(3))
	row("top of a lift")
	if slices.ContainsFunc(d.sheet.Leaves, func(l Leaf) bool { return len(l.Joints) > 0 }) || d.sheet.Wall.Left == schedule.MovementJoint || d.sheet.Wall.Right == schedule.MovementJoint {
		d.line("mj", x, d.at-d.em(3), to, d.at-d.em(3))
		row("movement joint")
	}
	for i := range d.sheet.Lintels {
		if p := d.sheet.Lintels[i].Pick; p != nil && p.Product != "" {
			d.box("bar", x, d.at-d.em(8), to-x, d.em(8))
			d.box("seat", x, d.at-d.em(2), to-x, d.em(2))
			row("lintel, its bearings in mm beside the jambs")
			break
		}
	}
}

// otherProducts names what is neither the facing unit nor the backing.
func (d *drawing) otherProducts() string {
	var codes []string
	for i := range d.sheet.Leaves {
		units := d.sheet.Leaves[i].Laying.Units
		for k := 2; k < len(units); k++ {
			if !slices.Contains(codes, units[k].Code) {
				codes = append(codes, units[k].Code)
			}
		}
	}
	return strings.Join(codes, ", ")
}

func (d *drawing) heading(s string) {
	d.at += d.em(6)
	d.words("b", d.em(10), d.at, s)
	d.line("thin", d.em(10), d.at+d.em(4), d.panel-d.em(10), d.at+d.em(4))
	d.at += d.em(17)
}

// lintelList tells every opening's lintel in words.
func (d *drawing) lintelList() {
	if len(d.sheet.Lintels) == 0 {
		return
	}
	d.heading("Lintels")
	listed := 0
	for i := range d.sheet.Lintels {
		o := &d.sheet.Wall.Openings[i]
		if listed == mostMarks || d.capped && !d.drawn(0, o.Left+o.Width/2) {
			continue
		}
		listed++
		ref, p := d.sheet.Wall.Openings[i].Ref, d.sheet.Lintels[i].Pick
		switch {
		case p == nil && d.sheet.Wall.Openings[i].HasArch():
			d.paragraph("s", 10, ref+": none; an arch carries the head")
		case p == nil:
			d.paragraph("s", 10, ref+": none of ours; something else carries the head")
		case p.Product == "":
			d.paragraph("s", 10, ref+": none serves, "+p.Why)
		default:
			d.paragraph("s", 10, ref+": "+p.Product+", "+grouped(p.Length)+" mm over "+grouped(p.Clear)+" mm clear, bearing "+grouped(p.BearingLeft)+" mm left and "+grouped(p.BearingRight)+" mm right")
		}
	}
	if left := len(d.sheet.Lintels) - listed; left > 0 {
		d.paragraph("s", 10, number(left)+" more openings stand in the takeoff.")
	}
}

// key lists the findings by their numbers.
func (d *drawing) key() {
	if len(d.marks) == 0 && d.untold == 0 {
		return
	}
	d.heading("Findings")
	for i := range d.marks {
		f := d.marks[i].finding
		d.balloon(i, d.em(19), d.at-d.em(3))
		s := string(f.Severity) + ": " + f.Text
		if f.Remedy != "" {
			s = strings.TrimRight(s, ". ") + ". Remedy: " + f.Remedy
		}
		d.paragraph("s", 34, shortened(s))
		d.at += d.em(5)
	}
	if d.untold > 0 {
		d.paragraph("s", 34, number(d.untold)+" more findings stand in the takeoff.")
	}
}

// shortened cuts a text that would fill the sheet.
func shortened(s string) string {
	const most = 420
	if len(s) <= most {
		return s
	}
	cut := strings.LastIndexByte(s[:most], ' ')
	if cut < 0 {
		cut = 0
	}
	return s[:cut] + " \u2026 (the takeoff says it in full)"
}

// title says what the sheet is, to what scale, by which rules, and what it is not for.
func (d *drawing) title() {
	s, w := d.sheet, d.sheet.Wall
	d.heading("Sheet")
	d.paragraph("", 10, "Wall "+w.Ref+", type "+w.Type+", "+grouped(w.Length)+" mm long, "+grouped(d.high)+" mm high. "+s.Reference+".")
	d.paragraph("s", 10, "Rulebook "+s.Rulebook+", catalogue "+s.Catalogue+". Lengths in mm; levels in mm above the datum.")
	d.scaleBar()
	d.paragraph("s", 10, "Drawn from the schedule by rule, not surveyed. Do not scale from it. Before anybody sets out or cuts by it, check every size against the architect's and engineer's drawings and on site.")
	for _, c := range s.Cautions {
		d.paragraph("s", 10, c)
	}
}

// scaleBar is a metre in tenths, or five where the sheet is large.
func (d *drawing) scaleBar() {
	step := measure.Metre
	for step*5 < d.panel/3 {
		step *= 2
	}
	for step*5 > d.panel-d.em(60) && step > 100*measure.Millimetre {
		step /= 2
	}
	x, y := d.em(12), d.at
	for i := range measure.Length(5) {
		class := "stop"
		if i%2 == 1 {
			class = "void"
		}
		d.box(class, x+i*step, y, step, d.em(4))
	}
	d.at += d.em(13)
	for i := range measure.Length(6) {
		class := "s c"
		label := grouped(i * step)
		if i == 5 {
			label += " mm"
		}
		d.words(class, x+i*step, d.at, label)
	}
	d.at += d.em(18)
}
