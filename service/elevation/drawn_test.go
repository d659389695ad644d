package elevation_test

import (
	"cmp"
	"fmt"
	"math/rand/v2"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/go-json-experiment/json"

	"hodman/service"
	"hodman/service/elevation"
	"hodman/service/measure"
	"hodman/service/schedule"
	"hodman/service/takeoff"
	"hodman/testdata"
)

const ms = measure.Millimetre

func parse(t testing.TB, document string) *schedule.Schedule {
	t.Helper()
	s := new(schedule.Schedule)
	if err := json.Unmarshal([]byte(document), s, json.RejectUnknownMembers(true)); err != nil {
		t.Fatal(err)
	}
	return s
}

func draw(t testing.TB, s *schedule.Schedule, wall string) []byte {
	t.Helper()
	b, err := service.New(nil).DrawElevation(t.Context(), &elevation.Request{Wall: wall, Schedule: s})
	if err != nil {
		t.Fatalf("wall %s: %v", wall, err)
	}
	return b
}

func count(t testing.TB, s *schedule.Schedule) *takeoff.Takeoff {
	t.Helper()
	answer, err := service.New(nil).ComputeTakeoff(t.Context(), s)
	if err != nil {
		t.Fatal(err)
	}
	return answer
}

// bonds are leaves of every bond, one, two and three half bricks thick as it may be.
var bonds = []string{
	`"bond": "stretcher"`, `"bond": "half"`, `"bond": "third"`, `"bond": "stack"`,
	`"bond": "header"`, `"bond": "english"`, `"bond": "flemish"`, `"bond": "english_garden_wall"`, `"bond": "flemish_garden_wall"`, `"bond": "monk"`,
	`"bond": "stretcher", "thickness_mm": 215`, `"bond": "header", "thickness_mm": 215`, `"bond": "english", "thickness_mm": 215`,
	`"bond": "flemish", "thickness_mm": 215`, `"bond": "english_garden_wall", "thickness_mm": 215, "headers_every": 4`,
	`"bond": "flemish_garden_wall", "thickness_mm": 215`, `"bond": "monk", "thickness_mm": 215`, `"bond": "rat_trap", "thickness_mm": 215`,
	`"bond": "english", "thickness_mm": 327.5`, `"bond": "flemish", "thickness_mm": 327.5`,
}

// randomWalls are two walls at a corner, of each bond, with openings and tops of any shape.
func randomWalls(r *rand.Rand, bond string) string {
	wall := func(ref, left, right string) string {
		length, height := 1800+r.IntN(4200), 1500+r.IntN(2500)
		top, openings := "", ""
		switch r.IntN(3) {
		case 1:
			top = fmt.Sprintf(`, "top": {"shape": "gable", "apex_mm": %d, "apex_at_mm": %d}`, 300+r.IntN(1800), 600+r.IntN(length-1200))
		case 2:
			top = fmt.Sprintf(`, "top": {"shape": "rake", "left_mm": %d, "right_mm": %d}`, r.IntN(900), 900+r.IntN(900))
		}
		if length > 2400 && r.IntN(3) > 0 {
			openings = fmt.Sprintf(`, "openings": [{"ref": "O", "left_mm": %d, "sill_mm": %d, "width_mm": %d, "height_mm": %d}]`,
				600+r.IntN(300), r.IntN(2)*(75+r.IntN(525)), 450+r.IntN(length-1900), 400+r.IntN(height-1100))
		}
		return fmt.Sprintf(`{"ref": %q, "type": "T", "length_mm": %d, "height_mm": %d, "left": %q, "right": %q%s%s}`, ref, length, height, left, right, top, openings)
	}
	return `{"reference": "random", "rulebook": "gb", "wall_types": [{"key": "T", "single": {"product": "BRK-65-FACE", ` + bond + `}}], "walls": [` +
		wall("A", "stop_end", "external_corner") + "," + wall("B", "external_corner", "abutment") + `]}`
}

// TestDrawingIsTheCount reads drawings back and finds the takeoff in them: every piece
// that shows is drawn once, where nothing else stands, and the legend tells those too that stand behind.
func TestDrawingIsTheCount(t *testing.T) {
	documents := []string{string(testdata.RearWing)}
	for _, name := range []string{"garden-room", "garage"} {
		b, err := os.ReadFile("../../testdata/schedules/" + name + ".json")
		if err != nil {
			t.Fatal(err)
		}
		documents = append(documents, string(b))
	}
	r := rand.New(rand.NewPCG(1, 2))
	for _, b := range bonds {
		for range 5 {
			documents = append(documents, randomWalls(r, b))
		}
	}
	for n, document := range documents {
		t.Run(strconv.Itoa(n), func(t *testing.T) {
			s := parse(t, document)
			counted := count(t, s)
			for i := range s.Walls {
				d := readDrawing(t, draw(t, s, s.Walls[i].Ref))
				checkTexts(t, d)
				for k := range counted.Walls[i].Leaves {
					checkCount(t, &counted.Walls[i].Leaves[k], d, k)
					checkPlaces(t, &s.Walls[i], d.leaves[k])
				}
			}
			if t.Failed() {
				t.Log(document)
			}
		})
	}
}

// named are the legend's words by the class of what they name.
var named = map[string]string{
	"u": "whole, laid as stretcher", "h": "whole, laid as header", "o": "whole, on end or on edge",
	"l": "sawn to length", "w": "closer, split along", "i": "cut in height", "t": "cut to a slope or curve",
	"x": "whole, of another product", "a": "in an arch, whole", "k": "in an arch, cut",
}

// checkCount compares a leaf of the takeoff with what is drawn and what the legend tells.
func checkCount(t *testing.T, leaf *takeoff.Leaf, d *drawn, k int) {
	t.Helper()
	seen := map[string]int{}
	for _, p := range d.leaves[k] {
		seen[p.kind]++
	}
	all := map[string]int{}
	for class, name := range named {
		face, behind := d.told(name, k)
		if face != seen[class] {
			t.Errorf("%s leaf: the legend tells %d of %q, and %d are drawn", leaf.Leaf, face, name, seen[class])
		}
		all[class] = face + behind
	}
	cuts, splits := 0, 0
	for _, c := range leaf.Cuts {
		cuts += c.Count
	}
	for _, c := range leaf.Splits {
		splits += c.Count
	}
	for _, c := range []struct {
		name        string
		drawn, want int
	}{
		{"whole", all["u"] + all["h"] + all["o"] + all["x"] + all["a"], leaf.Whole},
		// A gauged arch takes units cut in height, a rough one in a half-brick leaf bats.
		{"cuts and splits", all["l"] + all["w"] + all["t"] + all["i"] + all["k"], cuts + splits},
		{"closers", all["w"], leaf.Closers},
		{"raking", all["t"], leaf.Raking},
	} {
		if c.drawn != c.want {
			t.Errorf("%s leaf, %s: %d drawn, %d counted", leaf.Leaf, c.name, c.drawn, c.want)
		}
	}
}

// told is what the legend tells of a kind of piece in leaf k: on the face and behind it.
func (d *drawn) told(name string, k int) (face, behind int) {
	for i, l := range d.texts {
		if l.text != name {
			continue
		}
		words := strings.ReplaceAll(d.texts[i+1+k].text, "\u2009", "")
		fmt.Sscanf(words, "%d + %d behind", &face, &behind)
		return face, behind
	}
	return 0, 0
}

// checkPlaces finds pieces that overlap, that stand in an opening, or that are not of the wall.
func checkPlaces(t *testing.T, w *schedule.Wall, pieces []piece) {
	t.Helper()
	pieces = slices.DeleteFunc(pieces, func(p piece) bool {
		// Bricks of an arch are no rectangles; a pier stands before the leaf.
		return p.kind == "a" || p.kind == "k" || strings.Contains(p.id, "p")
	})
	slices.SortFunc(pieces, func(a, b piece) int { return cmp.Compare(a.z, b.z) })
	from, to := measure.Length(0), w.Length
	// At a re-entrant corner a leaf runs on up to the wall's thickness, to where the other wall's stands,
	// and at a junction into the other wall.
	if w.Left == schedule.InternalCorner || w.Left == schedule.JunctionEnd {
		from -= 450 * ms
	}
	if w.Right == schedule.InternalCorner || w.Right == schedule.JunctionEnd {
		to += 450 * ms
	}
	for i, p := range pieces {
		if p.x < from || p.x1 > to || p.z < 0 || p.z1 > w.Highest() && p.kind != "t" {
			t.Errorf("a piece of %q from %s,%s to %s,%s is outside the wall", p.kind, p.x, p.z, p.x1, p.z1)
		}
		for _, o := range w.Openings {
			if p.kind != "t" && !o.Curved() && p.x < o.Right() && o.Left < p.x1 && p.z < o.Top() && o.Sill < p.z1 {
				t.Errorf("a piece of %q from %s,%s to %s,%s stands in opening %s", p.kind, p.x, p.z, p.x1, p.z1, o.Ref)
			}
		}
		for _, q := range pieces[i+1:] {
			if q.z >= p.z1 {
				break
			}
			if p.x < q.x1 && q.x < p.x1 {
				t.Errorf("pieces from %s,%s to %s,%s and from %s,%s to %s,%s overlap", p.x, p.z, p.x1, p.z1, q.x, q.z, q.x1, q.z1)
			}
		}
	}
}

// checkTexts finds text that runs over the sheet's edge or over other text.
func checkTexts(t *testing.T, d *drawn) {
	t.Helper()
	for i := range d.texts {
		a := &d.texts[i]
		if a.turned {
			continue
		}
		if a.x < 0 || a.x1 > d.width || a.y < 0 || a.y1 > d.height {
			t.Errorf("%q, from %s,%s to %s,%s, is over the edge of a sheet of %s x %s", a.text, a.x, a.y, a.x1, a.y1, d.width, d.height)
		}
		for k := range d.texts[:i] {
			if b := &d.texts[k]; !b.turned && a.x < b.x1 && b.x < a.x1 && a.y < b.y1 && b.y < a.y1 {
				t.Errorf("%q stands over %q", a.text, b.text)
			}
		}
	}
}
