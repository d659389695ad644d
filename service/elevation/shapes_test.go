package elevation_test

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"hodman/service/product"
)

// shapedWall is a wall of one leaf with openings of any shape and head, sills, bands, stepped tops and copings,
// as they come: not each can be built.
func shapedWall(r *rand.Rand, bond string) string {
	length, height := 2400+r.IntN(4000), 2400+r.IntN(1500)
	pick := func(list ...string) string { return list[r.IntN(len(list))] }
	var openings []string
	for x := 500; x+1400 < length && len(openings) < 3; x += 1800 {
		width := 600 + 2*r.IntN(350)
		openings = append(openings, fmt.Sprintf(`{"ref": "O%d", "left_mm": %d, "sill_mm": %d, "width_mm": %d%s%s}`, x, x+r.IntN(200), 75*r.IntN(14), width,
			pick(fmt.Sprintf(`, "height_mm": %d%s`, 600+r.IntN(600), pick("", `, "head": {"kind": "flat_arch"}`, `, "head": {"kind": "none", "soldier": true}`, `, "head": {"soldier": true, "product": "BRK-65-ENG"}`)),
				fmt.Sprintf(`, "shape": "segmental", "height_mm": %d, "rise_mm": %d%s`, 700+r.IntN(500), 80+r.IntN(150), pick("", `, "head": {"gauged": true}`, `, "head": {"rings": 2}`)),
				fmt.Sprintf(`, "shape": "semicircular", "height_mm": %d%s`, 800+r.IntN(400), pick("", `, "head": {"gauged": true}`, `, "head": {"rings": 2, "product": "BRK-65-ENG"}`)),
				fmt.Sprintf(`, "shape": "round", "height_mm": %d`, width)),
			pick("", `, "sill_course": {}`, `, "sill_course": {"product": "BRK-65-ENG"}`)))
	}
	bands := pick("", "", fmt.Sprintf(`, "bands": [{"kind": %q, "at_mm": %d%s}]`, pick("soldier", "header", "dentil", "stretcher", "on_edge"), 75*r.IntN(30), pick("", `, "product": "BRK-65-ENG"`, `, "courses": 2`)))
	coping := pick("", `, "coping": {"product": "COP-600-W"}`)
	top := pick("", fmt.Sprintf(`, "top": {"shape": "gable", "apex_mm": %d, "apex_at_mm": %d%s}`, 300+r.IntN(900), 600+r.IntN(length-1200), coping),
		fmt.Sprintf(`, "top": {"shape": "stepped", "steps": [{"at_mm": %d, "rise_mm": %d}, {"at_mm": %d, "rise_mm": %d}]%s}`, length/3, 75*(1+r.IntN(5)), 2*length/3, 75*(1+r.IntN(5)), coping))
	return `{"reference": "random", "rulebook": "gb", "wall_types": [{"key": "T", "single": {"product": "BRK-65-FACE", ` + bond + `}}], "walls": [` +
		fmt.Sprintf(`{"ref": "A", "type": "T", "length_mm": %d, "height_mm": %d, "left": "stop_end", "right": "abutment"%s%s, "openings": [%s]}]}`, length, height, top, bands, strings.Join(openings, ","))
}

// TestShapesAreTheCount holds drawings of every shape against the takeoff.
func TestShapesAreTheCount(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	built := 0
	for n := range 400 {
		document := shapedWall(r, bonds[n%len(bonds)])
		s := parse(t, document)
		if len(s.Check(product.Demo())) > 0 {
			continue
		}
		built++
		t.Run(fmt.Sprint(n), func(t *testing.T) {
			d := readDrawing(t, draw(t, s, "A"))
			checkTexts(t, d)
			checkCount(t, &count(t, s).Walls[0].Leaves[0], d, 0)
			checkPlaces(t, &s.Walls[0], d.leaves[0])
			if t.Failed() {
				t.Log(document)
			}
		})
	}
	if built < 100 {
		t.Errorf("%d of 400 walls can be built", built)
	}
}
