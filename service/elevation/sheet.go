package elevation

import (
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"hodman/service/measure"
	"hodman/service/schedule"
)

// Sizes of the sheet in tenths of an em.
const (
	marginLeft  = 70  // coursing scale
	marginRight = 105 // levels
	tallAcross  = 470 // a tall sheet: letters are 8 high where it is 470 wide, on a phone
	wideAcross  = 500 // of a wide sheet, the leaves alone
	wideUp      = 750
	wideBeside  = 620 // the legend beside them
	mostUp      = 520 // a view is no higher, so that tall walls have legible lettering
	leastAcross = 400
	lineStep    = 135 // from one line of text to the next
)

// drawing is a sheet under way.
type drawing struct {
	pen
	sheet    *Sheet
	unit     measure.Length // one em
	width    measure.Length
	left     measure.Length    // from the sheet's edge to the wall's left end, in every view
	over     [2]measure.Length // how far leaves reach beyond the wall's ends, at re-entrant corners
	reaches  [2]span           // how far each leaf goes along the wall
	panel    measure.Length    // how wide the legend is
	at       measure.Length    // how far down the sheet is filled
	heightAt int               // where the document says how high it is
	high     measure.Length    // the wall's highest point
	rows     []measure.Length  // where rows begin, and where the last ends
	row      measure.Length    // how long the longest is
	beside   bool              // the leaves stand side by side
	views    []view
	capped   bool // more rows than fit were to be drawn
	marks    []mark
	untold   int                // findings that there is no room for
	strung   [][]measure.Length // the points of each string of sizes
	piers    []schedule.MadePier
	proud    bool // some stand before the outer leaf
}

// view is one leaf between two points of the wall.
type view struct {
	leaf     int
	from, to measure.Length // along the wall
	last     bool           // the leaf's last row
	first    bool
	left     measure.Length // where the wall's x = from stands on the sheet
	skipped  int            // rows like this one that are left out after it
	until    measure.Length // and to where
}

func (d *drawing) em(tenths int) measure.Length { return d.unit * measure.Length(tenths) / 10 }

// newDrawing sets the sheet out.
func newDrawing(s *Sheet) *drawing {
	d := &drawing{sheet: s, high: s.Wall.Highest()}
	d.findRows()
	rows := len(d.rows) - 1
	d.beside = s.Wide && len(s.Leaves) == 2 && rows == 1 && s.Wall.Length*5 < d.high*4
	d.findOver()
	drawn, margins := d.row+d.over[0]+d.over[1], marginLeft+marginRight
	if d.beside {
		drawn, margins = 2*drawn, 2*margins
	}
	// One em: what the margins leave of the sheet holds what is drawn. Rounded up to a
	// whole millimetre.
	d.unit = drawn * 10 / (tallAcross - marginLeft - marginRight)
	stacked := measure.Length(1)
	if len(s.Leaves) == 2 && !d.beside {
		stacked = 2
	}
	switch {
	case s.Wide && rows == 1:
		d.unit = max(drawn*10/wideAcross, stacked*d.high*10/wideUp)
	case rows == 1:
		d.unit = max(d.unit, d.high*10/mostUp)
	}
	d.unit = measure.Length(measure.CeilDiv(int64(d.unit), int64(measure.Millimetre))) * measure.Millimetre
	d.width = max(drawn+d.em(margins), d.em(leastAcross))
	d.left = d.em(marginLeft) + d.over[0] + (d.width-drawn-d.em(margins))/2
	d.panel = d.width
	if s.Wide {
		d.panel = d.em(wideBeside)
	}
	if len(s.Wall.Piers) > 0 {
		made := make([]schedule.Made, len(s.Leaves))
		for i := range made {
			made[i] = *s.Leaves[i].Made
		}
		d.piers = s.Wall.MadePiers(made)
		d.proud = slices.ContainsFunc(d.piers, func(p schedule.MadePier) bool { return p.Outside })
	}
	d.setViews(rows)
	d.b = make([]byte, 0, roughly(s, len(d.views), rows))
	d.findMarks()
	return d
}

// roughly is about how many bytes a drawing takes: 22 a piece that is no other's
// repeat, as far as it stands in a row that is drawn.
func roughly(s *Sheet, drawn, rows int) int {
	const text, least, most = 32 << 10, 48 << 10, 4 << 20
	bytes := 0
	for i := range s.Leaves {
		bands := s.Leaves[i].Laying.Bands
		for b := range bands {
			bytes += 200 + 40*bands[b].Count + 22*bands[b].Pieces()
		}
	}
	bytes = bytes / (rows * len(s.Leaves)) * drawn
	return min(max(text+bytes, least), most)
}

// reach is how far a leaf goes along the wall.
func (d *drawing) reach(leaf int) (from, to measure.Length) {
	return d.reaches[leaf].from, d.reaches[leaf].to
}

// findOver finds how far the leaves reach beyond the wall's ends.
func (d *drawing) findOver() {
	for i := range d.sheet.Leaves {
		from, to := reach(d.sheet.Leaves[i].Laying)
		d.reaches[i] = span{from, to}
		d.over[0] = max(d.over[0], -from)
		d.over[1] = max(d.over[1], to-d.sheet.Wall.Length)
	}
}

// roomForHeight is what the sheet's height is written into at the end.
const roomForHeight = "                    "

// open begins the document. Its height is known at the end only: there is room left for it.
func (d *drawing) open() {
	width := d.width
	if d.sheet.Wide {
		width += d.panel
	}
	d.put(`<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 `, width, ` `)
	d.heightAt = len(d.b)
	d.put(roomForHeight, `" width="100%" role="img" aria-labelledby="t" font-family="Helvetica,Arial,'Liberation Sans',sans-serif">`)
	d.put(`<title id="t">`)
	d.escape("Wall " + d.sheet.Wall.Ref + " of " + d.sheet.Reference)
	d.put("</title>")
	d.style()
	d.put(`<rect class="paper" width="100%" height="100%"/>`)
}

// close ends the document and writes its height.
func (d *drawing) close() []byte {
	d.put("</svg>\n")
	height := pen{b: make([]byte, 0, len(roomForHeight))}
	height.mm(d.at + d.em(10))
	copy(d.b[d.heightAt:], height.b)
	return d.b
}

// style is the one place for colours and sizes. Cuts differ by tone and by hatch, so
// that they do in grey too.
func (d *drawing) style() {
	d.put("<style>text{fill:#111;font-size:", d.em(10), "px}.s{font-size:", d.em(8), "px}.b{font-weight:bold}.big{font-weight:bold;font-size:", d.em(16),
		"px}.e{text-anchor:end}.c{text-anchor:middle}.halo{paint-order:stroke;stroke:#fff;stroke-width:", d.em(3), "px;stroke-linejoin:round}",
		".paper,.void{fill:#fff}.void{stroke:#111;stroke-width:", d.em(1), "}.m{fill:#85817c}.u{fill:#f0e6d8}.h{fill:#d9c6a8}.o{fill:#e6d3c3}.l{fill:url(#hl)}.w{fill:#1f4e79}.i{fill:url(#hi)}.t{fill:url(#ht)}.x{fill:#a9b4c6}.a{fill:#e2c3ae}.k{fill:url(#hk)}.cop{fill:#d3d3d3;stroke:#111;stroke-width:", d.em(1)/2, "}.g{fill:#fff;stroke:#85817c;stroke-width:3}",
		"path.n,rect.n{fill:none;stroke:#111;stroke-width:", d.em(1)/2, "}.thin{fill:none;stroke:#555;stroke-width:", d.em(1)/2, "}.cross{fill:none;stroke:#aaa;stroke-width:", d.em(1)/2,
		"}.joint{fill:#000}.pier{fill:#85817c;stroke:#111;stroke-width:", d.em(1)/2, "}.hid{fill:none;stroke:#111;stroke-width:", d.em(1)/2, ";stroke-dasharray:", d.em(4), " ", d.em(2), "}.edge{fill:none;stroke:#111;stroke-width:", d.em(1), "}.lift{fill:none;stroke:#111;stroke-width:", d.em(1), ";stroke-dasharray:", d.em(8), " ", d.em(4),
		"}.dpc{fill:none;stroke:#000;stroke-width:", d.em(3)/2, "}.mj{fill:none;stroke:#000;stroke-width:", d.em(2), ";stroke-dasharray:", d.em(10), " ", d.em(3), " ", d.em(2), " ", d.em(3),
		"}.bar{fill:#fff;fill-opacity:.55;stroke:#b3240f;stroke-width:", d.em(1), "}.seat{fill:#b3240f}.tie{fill:#000;stroke:#fff;stroke-width:", d.em(1)/3, "}",
		".note{fill:#fff;stroke:#111;stroke-width:", d.em(1), "}.check{fill:#ffd166;stroke:#111;stroke-width:", d.em(1), "}.stop{fill:#111;stroke:#111}.inv{fill:#fff}</style><defs>")
	tile := max(40*measure.Millimetre, d.em(3))
	d.hatch(tile, "hl", "#efb560", "M0 40L40 0M-10 10L10 -10M30 50L50 30")
	d.hatch(tile, "hi", "#b5d9ee", "M0 10H40M0 30H40")
	d.hatch(tile, "ht", "#8fd0bb", "M0 0L40 40M0 40L40 0")
	d.hatch(tile, "hk", "#e2b08f", "M0 20H40M20 0V40")
	d.put("</defs>")
}

// hatch is a tile so large on the wall; its lines are drawn on forty parts of it.
func (d *drawing) hatch(tile measure.Length, id, ground, lines string) {
	d.put(`<pattern id="`, id, `" width="`, tile, `" height="`, tile, `" viewBox="0 0 40 40" patternUnits="userSpaceOnUse"><rect width="40" height="40" fill="`, ground, `"/><path d="`, lines, `" stroke="#333" stroke-width="5"/></pattern>`)
}

// head is the sheet's first lines.
func (d *drawing) head() {
	d.at = d.em(20)
	d.words("big", d.em(10), d.at, "Wall "+d.sheet.Wall.Ref)
	d.at += d.em(15)
	d.paragraph("", 10, d.sheet.Reference)
}

// paragraph writes text broken into lines that fit the sheet, indented by so many tenths of an em.
func (d *drawing) paragraph(class string, indent int, s string) {
	size := 10
	if class == "s" {
		size = 8
	}
	for _, line := range d.broken(s, size, d.panel-d.em(indent+10)) {
		d.words(class, d.em(indent), d.at, line)
		d.at += d.em(lineStep) / 10
	}
}

// broken breaks text of so many tenths of an em at spaces; a word longer than a line is broken anywhere.
func (d *drawing) broken(s string, size int, room measure.Length) []string {
	var lines []string
	line := ""
	for _, word := range strings.Fields(s) {
		for d.wide(word, size) > room {
			cut := 0
			for d.wide(word[:cut], size) <= room {
				_, n := utf8.DecodeRuneInString(word[cut:])
				cut += n
			}
			if line != "" {
				lines, line = append(lines, line), ""
			}
			lines, word = append(lines, word[:cut]), word[cut:]
		}
		switch {
		case line == "":
			line = word
		case d.wide(line, size)+d.wide(" ", size)+d.wide(word, size) > room:
			lines, line = append(lines, line), word
		default:
			line += " " + word
		}
	}
	return append(lines, line)
}

// wide is about how wide text is at so many tenths of an em: on the large side, for whatever
// letters the reader's machine has.
func (d *drawing) wide(s string, size int) measure.Length {
	hundredths := measure.Length(0)
	for _, r := range s {
		switch {
		case r == ' ' || r == '\u2009' || r == '.' || r == ',' || r == 'i' || r == 'l' || r == ':':
			hundredths += 35
		case r >= '0' && r <= '9' || r >= 'A' && r <= 'Z' || r == 'm' || r == 'w' || r > 0x7f:
			hundredths += 66
		default:
			hundredths += 60
		}
	}
	return d.em(size) * hundredths / 100
}

// grouped prints a length with thin spaces at the thousands of long ones.
func grouped(l measure.Length) string {
	whole, rest, _ := strings.Cut(l.String(), ".")
	if whole = thousands(whole); rest != "" {
		whole += "." + rest
	}
	return whole
}

// thousands parts the digits of a long number by threes.
func thousands(s string) string {
	if len(strings.TrimPrefix(s, "-")) <= 4 {
		return s
	}
	for at := len(s) - 3; at > 0 && s[at-1] != '-'; at -= 3 {
		s = s[:at] + "\u2009" + s[at:]
	}
	return s
}

// level prints a height above the datum with its sign, half up to a tenth of a millimetre.
func level(l measure.Length) string {
	const tenth = measure.Millimetre / 10
	l = measure.Length(measure.HalfUpDiv(int64(l), int64(tenth))) * tenth
	if l < 0 {
		return "\u2212" + grouped(-l)
	}
	return "+" + grouped(l)
}

func number(n int) string { return thousands(strconv.Itoa(n)) }
