package elevation_test

import (
	"encoding/xml"
	"errors"
	"io"
	"slices"
	"strconv"
	"strings"
	"testing"

	"hodman/service/measure"
)

// piece is one unit or cut as the drawing shows it: a rectangle of the wall, x from its
// left end and z up from its base.
type piece struct {
	kind         string // the drawing's class
	x, z, x1, z1 measure.Length
	id           string // of the group that it was drawn in
}

// drawn is what a reader that knows nothing of the drawing's making finds in it.
type drawn struct {
	leaves [][]piece // by view
	texts  []label
	ids    map[string]bool
	uses   []string // what is referred to
	names  map[string]bool
	width  measure.Length
	height measure.Length
}

// label is a line of text with its box. Text that does not lie level has none.
type label struct {
	class, text      string
	x, y, x1, y1     measure.Length
	turned           bool
	anchorX, anchorY measure.Length
}

// readDrawing reads an elevation as any program that shows SVG would: groups, uses, paths.
func readDrawing(t *testing.T, doc []byte) *drawn {
	t.Helper()
	r := &reader{t: t, d: &drawn{ids: map[string]bool{}, names: map[string]bool{}}, groups: map[string][]piece{}}
	dec := xml.NewDecoder(strings.NewReader(string(doc)))
	for {
		token, err := dec.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			t.Fatalf("the drawing is no XML: %v", err)
		}
		switch e := token.(type) {
		case xml.StartElement:
			r.start(e)
		case xml.EndElement:
			r.end()
		case xml.CharData:
			if r.text != nil {
				r.text.text += string(e)
			}
			if r.style {
				r.readSizes(string(e))
			}
		}
	}
	return r.d
}

type reader struct {
	t      *testing.T
	d      *drawn
	open   []string // of each open element: the id of a group within a leaf, "leaf", or ""
	leaf   bool
	groups map[string][]piece
	text   *label
	sizes  map[string]measure.Length // of letters, by class; "" is all others'
	style  bool
	moved  [][2]measure.Length // by each open element
}

func attr(e xml.StartElement, name string) string {
	for _, a := range e.Attr {
		if a.Name.Local == name {
			return a.Value
		}
	}
	return ""
}

func (r *reader) start(e xml.StartElement) {
	id, mark := attr(e, "id"), ""
	r.d.names[e.Name.Local] = true
	if id != "" {
		if r.d.ids[id] {
			r.t.Errorf("id %q stands twice", id)
		}
		r.d.ids[id] = true
	}
	switch e.Name.Local {
	case "svg":
		box := strings.Fields(attr(e, "viewBox"))
		r.d.width, r.d.height = r.number(box[2]), r.number(box[3])
	case "g":
		switch {
		case strings.HasPrefix(id, "leaf"):
			mark, r.leaf = "leaf", true
			r.d.leaves = append(r.d.leaves, nil)
		case r.leaf:
			mark = id
		}
	case "path":
		if r.leaf {
			r.pieces(attr(e, "class"), attr(e, "d"))
		}
	case "use":
		to := strings.TrimPrefix(attr(e, "href"), "#")
		r.d.uses = append(r.d.uses, to)
		r.again(to, r.number(attr(e, "y")))
	case "style":
		r.style = true
	case "text":
		x, y := attr(e, "x"), attr(e, "y")
		r.text = &label{class: attr(e, "class"), turned: x == ""}
		if x != "" {
			r.text.anchorX, r.text.anchorY = r.number(x), r.number(y)
		}
	}
	r.open = append(r.open, mark)
	r.move(attr(e, "transform"))
}

// move notes where an element's origin lies.
func (r *reader) move(transform string) {
	var at [2]measure.Length
	if n := len(r.moved); n > 0 {
		at = r.moved[n-1]
	}
	if inside, ok := strings.CutPrefix(transform, "translate("); ok {
		by, _ := r.numbers(strings.SplitN(inside, ")", 2)[0])
		at[0] += by[0]
		if len(by) > 1 {
			at[1] += by[1]
		}
	}
	r.moved = append(r.moved, at)
}

// readSizes finds the sizes of letters in the style sheet.
func (r *reader) readSizes(sheet string) {
	r.sizes = map[string]measure.Length{}
	for rule := range strings.SplitSeq(sheet, "}") {
		selector, body, _ := strings.Cut(rule, "{")
		_, size, found := strings.Cut(body, "font-size:")
		if !found {
			continue
		}
		size, _, _ = strings.Cut(size, "px")
		class := strings.TrimPrefix(selector, ".")
		if selector == "text" {
			class = ""
		}
		r.sizes[class] = r.number(size)
	}
}

// letters is how wide text is in the hundredths of its size: about as in the common grotesques
// that the drawing asks for.
func letters(s string) int {
	sum := 0
	for _, r := range s {
		switch {
		case strings.ContainsRune(" .,:;'|ijlftI()", r):
			sum += 29
		case r == 'm' || r == 'w' || r == 'M' || r == 'W':
			sum += 83
		case r == '\u2009':
			sum += 20
		case r >= 'A' && r <= 'Z':
			sum += 68
		default:
			sum += 55
		}
	}
	return sum
}

// place works out a label's box.
func (r *reader) place(l *label) {
	size := r.sizes[""]
	anchor := measure.Length(0)
	wide := func() measure.Length { return size * measure.Length(letters(l.text)) / 100 }
	for class := range strings.FieldsSeq(l.class) {
		if s, known := r.sizes[class]; known {
			size = s
		}
	}
	switch classes := strings.Fields(l.class); {
	case slices.Contains(classes, "e"):
		anchor = wide()
	case slices.Contains(classes, "c"):
		anchor = wide() / 2
	}
	at := r.moved[len(r.moved)-1]
	l.x, l.y1 = at[0]+l.anchorX-anchor, at[1]+l.anchorY
	l.x1, l.y = l.x+wide(), l.y1-size*7/10
}

func (r *reader) end() {
	last := r.open[len(r.open)-1]
	r.open = r.open[:len(r.open)-1]
	if last == "leaf" {
		r.leaf = false
	}
	r.style = false
	if r.text != nil {
		r.place(r.text)
		r.d.texts = append(r.d.texts, *r.text)
		r.text = nil
	}
	r.moved = r.moved[:len(r.moved)-1]
}

func (r *reader) add(p piece) {
	n := len(r.d.leaves) - 1
	r.d.leaves[n] = append(r.d.leaves[n], p)
}

// again puts what a group holds up by so much.
func (r *reader) again(id string, y measure.Length) {
	if len(r.groups[id]) == 0 {
		r.t.Errorf("a use of %q, where nothing is drawn yet", id)
	}
	for _, p := range r.groups[id] {
		p.z, p.z1 = p.z-y, p.z1-y
		r.add(p)
	}
}

// pieces reads a path of closed rectangles, drawn in moves, horizontals and verticals.
func (r *reader) pieces(class, d string) {
	group := ""
	for _, id := range r.open {
		if id != "" && id != "leaf" {
			group = id
		}
	}
	var x, y, startX, startY measure.Length
	var box piece
	for d != "" {
		command := d[0]
		var args []measure.Length
		args, d = r.numbers(d[1:])
		want := map[byte]int{'M': 2, 'm': 2, 'l': 2, 'h': 1, 'v': 1, 'z': 0}
		if n, known := want[command]; !known || n != len(args) {
			r.t.Fatalf("a piece's path has %q with %d numbers", command, len(args))
		}
		switch command {
		case 'M':
			x, y = args[0], args[1]
		case 'm', 'l':
			x, y = x+args[0], y+args[1]
		case 'h':
			x += args[0]
		case 'v':
			y += args[0]
		case 'z':
			x, y = startX, startY
			box.kind, box.id = class, group
			r.add(box)
			if group != "" {
				r.groups[group] = append(r.groups[group], box)
			}
		}
		switch command {
		case 'M', 'm':
			startX, startY = x, y
			box = piece{x: x, x1: x, z: -y, z1: -y}
		case 'h', 'v', 'l':
			box.x, box.x1 = min(box.x, x), max(box.x1, x)
			box.z, box.z1 = min(box.z, -y), max(box.z1, -y)
		}
	}
}

// numbers reads numbers up to the next letter.
func (r *reader) numbers(s string) (list []measure.Length, rest string) {
	for s != "" {
		s = strings.TrimLeft(s, " ,")
		end := 0
		for end < len(s) && (s[end] >= '0' && s[end] <= '9' || s[end] == '.' || s[end] == '-' && end == 0) {
			end++
		}
		if end == 0 {
			break
		}
		list, s = append(list, r.number(s[:end])), s[end:]
	}
	return list, s
}

// number reads a decimal of millimetres exactly.
func (r *reader) number(s string) measure.Length {
	whole, part, _ := strings.Cut(s, ".")
	n, err := strconv.ParseInt(whole+(part + "000")[:3], 10, 64)
	if err != nil || len(part) > 3 {
		r.t.Fatalf("%q is no number of millimetres", s)
	}
	return measure.Length(n)
}
