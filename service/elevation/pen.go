package elevation

import (
	"strconv"
	"unicode/utf8"

	"hodman/service/measure"
)

// pen appends to a document.
type pen struct {
	b []byte
	// origin is where on the wall the view being drawn begins, so that numbers stay small in long walls.
	origin measure.Length
}

// along is a place along the wall, or across the sheet outside of a view.
type along measure.Length

// put appends text that is markup already, and lengths as numbers of millimetres.
func (p *pen) put(parts ...any) {
	for _, part := range parts {
		switch v := part.(type) {
		case string:
			p.b = append(p.b, v...)
		case measure.Length:
			p.mm(v)
		case along:
			p.mm(measure.Length(v) - p.origin)
		case int:
			p.b = strconv.AppendInt(p.b, int64(v), 10)
		}
	}
}

// mm appends a length in millimetres, exactly.
func (p *pen) mm(l measure.Length) {
	if l < 0 {
		p.b = append(p.b, '-')
		l = -l
	}
	p.b = strconv.AppendInt(p.b, int64(l/measure.Millimetre), 10)
	rest := int64(l % measure.Millimetre)
	if rest == 0 {
		return
	}
	p.b = append(p.b, '.', byte('0'+rest/100))
	if rest %= 100; rest > 0 {
		p.b = append(p.b, byte('0'+rest/10))
		if rest %= 10; rest > 0 {
			p.b = append(p.b, byte('0'+rest))
		}
	}
}

// next appends a number after another in a path: a minus sign parts them by itself.
func (p *pen) next(l measure.Length) {
	if l >= 0 {
		p.b = append(p.b, ' ')
	}
	p.mm(l)
}

// escape appends text as the content of an element or an attribute. What XML cannot
// hold becomes a question mark.
func (p *pen) escape(s string) {
	for _, r := range s {
		switch {
		case r == '&':
			p.b = append(p.b, "&amp;"...)
		case r == '<':
			p.b = append(p.b, "&lt;"...)
		case r == '>':
			p.b = append(p.b, "&gt;"...)
		case r == '"':
			p.b = append(p.b, "&quot;"...)
		case r < ' ' || r == 0x7f || r == 0xfffe || r == 0xffff || r == utf8.RuneError:
			p.b = append(p.b, '?')
		default:
			p.b = utf8.AppendRune(p.b, r)
		}
	}
}

// box is a rectangle with its upper left corner.
func (p *pen) box(class string, x, y, width, height measure.Length) {
	p.put(`<rect class="`, class, `" x="`, along(x), `" y="`, y, `" width="`, width, `" height="`, height, `"/>`)
}

// line is a straight line.
func (p *pen) line(class string, x1, y1, x2, y2 measure.Length) {
	p.put(`<path class="`, class, `" d="M`, along(x1))
	p.next(y1)
	p.put("L", along(x2))
	p.next(y2)
	p.put(`"/>`)
}

// words is a line of text. Class says how large it is and how it is set.
func (p *pen) words(class string, x, y measure.Length, s string) {
	p.put(`<text class="`, class, `" x="`, along(x), `" y="`, y, `">`)
	p.escape(s)
	p.put("</text>")
}

// upright is a line of text that reads from below, its middle at x and y.
func (p *pen) upright(class string, x, y measure.Length, s string) {
	p.put(`<text class="`, class, `" transform="translate(`, along(x))
	p.next(y)
	p.put(`)rotate(-90)">`)
	p.escape(s)
	p.put("</text>")
}
