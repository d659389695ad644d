package bond

import (
	"fmt"
	"maps"
	"slices"
	"strings"
	"testing"

	"hodman/service/measure"
	"hodman/service/product"
	"hodman/service/schedule"
)

// Panels between two stop ends, of UK bricks on 10 mm joints, worked by hand. A piece
// shown as n x length is cut; "c" is a closer split along the brick. Laps and closers as
// bricklayers set them out: a header over the middle of each stretcher, a queen closer
// beside the quoin header (common practice; names as in Modern Buildings vol. 1 ch. IV).
//
//	bond  half-bricks  length  courses | facing whole, cuts | backing whole, cuts
const panels = `
stretcher 1 1340 2 | 11 2x102.5 | 0
  # 6 stretchers; then half, 5, half
stack 1 1340 2 | 12 | 0
  # 6 straight over 6
third 1 890 3 | 10 2x140 2x65 | 0
  # 4; 65, 3 whole, 140; 140, 3, 65: 890 = 65 + 3 x 225 + 10 + 140
stretcher 2 1340 2 | 11 2x102.5 | 11 2x102.5
  # two half-brick skins
header 2 890 2 | 13 2x158.75 | 0 2x158.75
  # 8 headers: 8 x 112.5 - 10; then three-quarter, 5, three-quarter: 5 x 112.5 + 10 + 2 x 158.75. A header and a closer
  # there would leave the joint beside the quoin header straight from foot to top
header 1 890 2 | 0 2x158.75 13x102.5 | 0
  # the same skin of snapped headers
english 2 1340 2 | 17 2xc46.25 | 6
  # 6 stretchers, 6 behind; 11 headers and 2 closers: 11 x 102.5 + 2 x 46.25 + 12 x 10 = 1340. 17 + 1 + 6 = 24 = 6 x 2 x 2 bricks
english 1 1340 2 | 6 11x102.5 2x46.25 | 0
  # the same with every header snapped
english 3 1340 2 | 17 2xc46.25 | 16 2x158.75 1x102.5
  # 6 stretchers, 12 headers behind; 11 headers and 2 closers, behind them 102.5 + 158.75 + 4 x 215 + 158.75 + 6 x 10 = 1340
flemish 2 1002.5 2 | 11 1x158.75 1xc46.25 | 5 1x158.75
  # 3 x (stretcher, header); then header, closer, 2 x (stretcher, header), three-quarter: 102.5+46.25+2x317.5+158.75+6x10
flemish 1 1002.5 2 | 5 1x158.75 6x102.5 1x46.25 | 0
english_garden_wall 2 1340 4 | 30 2xc46.25 | 17
  # 6 and 6; header, 5, header; 6 and 6; 11 headers and 2 closers. 30 + 1 + 17 = 48 = 6 x 2 x 4
monk 2 1115 2 | 11 2x158.75 | 6 2x158.75
  # 2 x (2 stretchers, header); then three-quarter, header, 2, header, stretcher, three-quarter ... ending in a header
rat_trap 2 590 2 | 8 1x140 | 3 1x140
  # on edge: 2 x (stretcher, header); then header, header, stretcher, header, 140
`

func TestPanels(t *testing.T) {
	for line := range strings.Lines(panels) {
		var bond string
		var ranks, courses int
		var length float64
		if line = strings.TrimSpace(line); line == "" || line[0] == '#' {
			continue
		}
		columns := strings.Split(line, " | ")
		if _, err := fmt.Sscan(columns[0], &bond, &ranks, &length, &courses); err != nil {
			t.Fatal(line, err)
		}
		m := brick()
		if bond == "rat_trap" {
			m = made(&product.Product{Length: mm(215), Thickness: mm(65), Height: mm(102.5)})
			m.Thickness = mm(215)
		} else {
			m.Thickness = measure.Length(ranks)*mm(112.5) - mm(10)
		}
		m.Bond = bond
		w := &schedule.Wall{Length: mm(length), Height: measure.Length(courses) * (m.Unit.Height + m.Bed), Left: schedule.StopEnd, Right: schedule.StopEnd}
		got := SetOut([]Run{{Leaf: m, Wall: w}}, false, gb)[0]
		for unit, want := range columns[1:] {
			if s := inWords(&got, uint8(unit)); s != want {
				t.Errorf("%s\n\tunit %d: got %s", line, unit, s)
			}
		}
	}
}

// inWords is what a laying holds of one unit, as the table writes it: the longest cut first.
func inWords(l *Laying, unit uint8) string {
	whole := 0
	counts := map[string]int{}
	sizes := map[measure.Length]string{}
	for _, b := range l.Bands {
		for _, s := range b.Strips {
			switch n := s.Count * b.Count; {
			case s.Unit != unit:
			case s.Cut == Whole:
				whole += n
			case s.Cut == InWidth:
				sizes[s.Length] = "c" + s.Length.String()
				counts[sizes[s.Length]] += n
			default:
				sizes[s.Length] = s.Length.String()
				counts[sizes[s.Length]] += n
			}
		}
	}
	text := fmt.Sprint(whole)
	for _, length := range slices.Backward(slices.Sorted(maps.Keys(sizes))) {
		text += fmt.Sprintf(" %dx%s", counts[sizes[length]], sizes[length])
	}
	return text
}

// TestStubOfRatTrap: bricks of 230 x 110 x 76 on edge, and a pier of 77.5 beside an opening.
// In the second course a header, 76 wide, would begin 0.5 before the pier's end. What is laid is no header
// of 77.5, which no brick is wide enough for, but a cut stretcher before and one behind.
func TestStubOfRatTrap(t *testing.T) {
	m := made(&product.Product{Length: mm(230), Thickness: mm(76), Height: mm(110)})
	m.Thickness, m.Bond = mm(230), "rat_trap"
	w := &schedule.Wall{Length: mm(1500), Height: mm(600), Left: schedule.StopEnd, Right: schedule.StopEnd,
		Openings: []schedule.Opening{{Left: mm(77.5), Width: mm(100), Height: mm(240)}}}
	for _, b := range SetOut([]Run{{Leaf: m, Wall: w}}, false, gb)[0].Bands[:2] {
		for _, s := range b.Strips[:2] {
			if s.X != 0 || s.Length != mm(77.5) || s.Face != Stretcher || s.Cut != InLength {
				t.Errorf("course %d: %+v", b.First, s)
			}
		}
	}
}
