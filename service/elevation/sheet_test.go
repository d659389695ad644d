package elevation_test

import (
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"hodman/service"
	"hodman/service/elevation"
	"hodman/service/schedule"
)

// awkward are walls that leave little room for words, by what is awkward in them.
var awkward = map[string]string{
	"low and long":  one(`"single": {"product": "BRK-65-FACE"}`, `"length_mm": 13000, "height_mm": 600`),
	"a pier":        one(`"single": {"product": "BRK-65-FACE"}`, `"length_mm": 440, "height_mm": 3000`),
	"under ground":  one(`"single": {"product": "BRK-65-FACE"}`, `"length_mm": 2690, "height_mm": 1500, "base_mm": -600`),
	"many windows":  one(`"outer": {"product": "BRK-65-FACE"}, "cavity": {"width_mm": 100}, "inner": {"product": "BLK-100-D"}`, `"length_mm": 12000, "height_mm": 7500, "openings": [`+windows(6, 1800, 2)+`]`),
	"22 m":          one(`"outer": {"product": "BRK-65-FACE"}, "cavity": {"width_mm": 100}, "inner": {"product": "BLK-100-D"}`, `"length_mm": 22000, "height_mm": 5025, "openings": [`+windows(6, 3000, 1)+`]`),
	"a long ref":    one(`"single": {"product": "BRK-65-FACE"}`, `"length_mm": 2690, "height_mm": 1500, "openings": [{"ref": "Opening with a very long reference", "left_mm": 900, "sill_mm": 0, "width_mm": 300, "height_mm": 900}]`),
	"close windows": one(`"single": {"product": "BRK-65-FACE"}`, `"length_mm": 5000, "height_mm": 2100, "openings": [`+windows(8, 550, 1)+`]`),
}

func one(leaves, wall string) string {
	return `{"reference": "Awkward walls, with a reference that goes on for longer than a narrow sheet is wide", "rulebook": "gb", "movement_joints": "placed", "wall_types": [{"key": "T", ` + leaves + `}],
		"walls": [{"ref": "A", "type": "T", ` + wall + `, "left": "stop_end", "right": "abutment"}]}`
}

// windows are so many a storey, from middle to middle so far apart.
func windows(count, apart, storeys int) string {
	list := ""
	for i := range count {
		for k := range storeys {
			if list != "" {
				list += ","
			}
			list += fmt.Sprintf(`{"ref": "W%d%d", "left_mm": %d, "sill_mm": %d, "width_mm": %d, "height_mm": 1050}`, k, i, 450+apart*i, 600+2700*k, apart/2)
		}
	}
	return list
}

// TestWordsAreClear reads drawings, tall and wide, of the schedules that we have and of walls
// with little room: no words over the edge or over other words.
func TestWordsAreClear(t *testing.T) {
	documents := map[string]string{}
	for name, document := range awkward {
		documents[name] = document
	}
	kept, err := filepath.Glob("../../testdata/schedules/*.json")
	if err != nil || len(kept) == 0 {
		t.Fatal("no schedules", err)
	}
	for _, file := range kept {
		document, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		documents[filepath.Base(file)] = string(document)
	}
	for name, document := range documents {
		s := parse(t, document)
		for i := range s.Walls {
			for _, layout := range []elevation.Layout{elevation.Tall, elevation.Wide} {
				t.Run(name+"/"+s.Walls[i].Ref+"/"+string(layout), func(t *testing.T) { checkTexts(t, drawnAs(t, s, i, layout)) })
			}
		}
	}
}

func drawnAs(t *testing.T, s *schedule.Schedule, wall int, layout elevation.Layout) *drawn {
	t.Helper()
	b, err := service.New(nil).DrawElevation(t.Context(), &elevation.Request{Wall: s.Walls[wall].Ref, Schedule: s, Layout: layout})
	if err != nil {
		t.Fatalf("%v", err)
	}
	// A house wall's drawing is to be sent by mail and over a telephone.
	if most := 300 << 10; s.Walls[wall].Length <= 14000*ms && len(b) > most {
		t.Errorf("%d bytes, over %d", len(b), most)
	}
	return readDrawing(t, b)
}
