package schedule_test

import (
	"strings"
	"testing"
)

// met is a house wall of bricks and blocks with a block wall bonded into its inner leaf, a
// garden wall tied to its outer one, and that crossed by another.
const met = `{
  "reference": "met", "rulebook": "gb",
  "wall_types": [
    {"key": "CW", "outer": {"product": "BRK-65-FACE"}, "cavity": {"width_mm": 100}, "inner": {"product": "BLK-100-D"}},
    {"key": "BW", "single": {"product": "BLK-100-D"}},
    {"key": "HB", "single": {"product": "BRK-65-FACE"}}],
  "walls": [
    {"ref": "A", "type": "CW", "length_mm": 6190, "height_mm": 2700, "left": "stop_end", "right": "stop_end",
     "openings": [{"ref": "A1", "left_mm": 900, "sill_mm": 900, "width_mm": 910, "height_mm": 1200}]},
    {"ref": "P", "type": "BW", "length_mm": 3000, "height_mm": 2700, "left": "junction", "right": "stop_end",
     "left_junction": {"wall": "A", "at_mm": 2250}},
    {"ref": "G", "type": "HB", "length_mm": 4500, "height_mm": 1800, "left": "stop_end", "right": "junction",
     "right_junction": {"wall": "A", "at_mm": 4500, "side": "outside", "joined": "tied"},
     "crossings": [{"wall": "H", "at_mm": 1125, "other_at_mm": 1125}]},
    {"ref": "H", "type": "HB", "length_mm": 3000, "height_mm": 1800, "left": "stop_end", "right": "stop_end",
     "piers": [{"at_mm": 2250, "width_mm": 215, "projection_mm": 112.5, "height_mm": 1500}], "plinth": {"product": "BRK-65-ENG", "courses": 2}}]
}`

// Each line as in spoiled.
const spoiledMeetings = `
/walls/1/left_junction            null                  /walls/1/left_junction inconsistent
/walls/1/left                     "stop_end"            /walls/1/left_junction inconsistent
/walls/1/left_junction/wall       "Z"                   /walls/1/left_junction/wall unknown_ref
/walls/1/left_junction/wall       "P"                   /walls/1/left_junction/wall inconsistent
/walls/1/left_junction/at_mm      -1                    /walls/1/left_junction/at_mm range
/walls/1/left_junction/at_mm      0                     /walls/1/left_junction outside
/walls/1/left_junction/at_mm      6090                  /walls/1/left_junction outside
/walls/1/left_junction/at_mm      1720                  /walls/1/left_junction overlap
/walls/0/movement_joints_mm       [2300]                /walls/1/left_junction overlap
/walls/1/left_junction/side       "above"               /walls/1/left_junction/side choice
/walls/1/left_junction/joined     "glued"               /walls/1/left_junction/joined choice
/walls/1/height_mm                2925                  /walls/1/left_junction outside
/walls/1/base_mm                  -225                  /walls/1/left_junction outside
/walls/2/right_junction           {"wall":"A","at_mm":2250,"side":"inside"}  /walls/2/right_junction overlap
/walls/2/crossings/0/wall         "A"                   /walls/2/crossings/0/wall not_supported
/walls/2/crossings/0/wall         "G"                   /walls/2/crossings/0/wall inconsistent
/walls/2/crossings/0/at_mm        4450                  /walls/2/crossings/0 outside
/walls/2/crossings/0/joined       "both"                /walls/2/crossings/0/joined choice
/walls/0/piers                    [{"at_mm":1000,"width_mm":440,"projection_mm":100,"joined":"tied"}]  /walls/0/piers/0/at_mm overlap
/walls/0/piers                    [{"at_mm":2300,"width_mm":440,"projection_mm":100,"joined":"tied"}]  /walls/0/piers/0/at_mm overlap
/walls/1/piers                    [{"at_mm":900,"width_mm":440,"projection_mm":100,"joined":"tied"}]   /walls/1/piers none
/walls/1/piers                    [{"at_mm":900,"width_mm":440,"projection_mm":100}]                   /walls/1/piers/0/joined not_supported
/walls/3/piers                    [{"width_mm":215,"projection_mm":112.5}]  /walls/3/piers/0/at_mm required
/walls/3/piers/0/at_mm            1200                  /walls/3/piers/0/at_mm overlap
/walls/3/piers/0/at_mm            2900                  /walls/3/piers/0/at_mm outside
/walls/3/piers/0/width_mm         200                   /walls/3/piers/0/width_mm inconsistent
/walls/3/piers/0/width_mm         0                     /walls/3/piers/0/width_mm range
/walls/3/piers/0/projection_mm    150                   /walls/3/piers/0/projection_mm inconsistent
/walls/3/piers/0/height_mm        1520                  /walls/3/piers/0/height_mm inconsistent
/walls/3/piers/0/height_mm        1875                  /walls/3/piers/0/height_mm outside
/walls/3/piers/0/side             "left"                /walls/3/piers/0/side choice
/walls/3/movement_joints_mm       [2300]                /walls/3/piers/0/at_mm overlap
/walls/3/plinth/courses           0                     /walls/3/plinth/courses range
/walls/3/plinth/courses           25                    /walls/3/plinth outside
/walls/3/plinth/product           "BLK-100-D"           /walls/3/plinth inconsistent
/walls/3/plinth/product           "none"                /walls/3/plinth/product unknown_ref
/walls/3/plinth/height_mm         150                   /walls/3/plinth inconsistent
/walls/3/plinth                   {"product":"BRK-65-ENG","height_mm":100}  /walls/3/plinth/height_mm inconsistent
`

func TestEverySpoiledMeetingIsNamed(t *testing.T) {
	if faults := check(t, met, "", ""); len(faults) > 0 {
		t.Fatalf("faults in a good schedule: %v", faults)
	}
	for _, line := range strings.Split(strings.TrimSpace(spoiledMeetings), "\n") {
		fields := strings.Fields(line)
		pointer, code := fields[len(fields)-2], fields[len(fields)-1]
		t.Run(fields[0]+"="+fields[1], func(t *testing.T) {
			faults := check(t, met, fields[0], strings.Join(fields[1:len(fields)-2], " "))
			if code == "none" && len(faults) == 0 {
				return
			}
			for _, f := range faults {
				if f.Pointer == pointer && f.Code == code && len(f.Detail) >= 20 {
					return
				}
			}
			t.Errorf("no fault %s %s in %v", pointer, code, faults)
		})
	}
}

// A wall set 100 mm up cannot bond with courses of 75 or 225: left open it is tied, in so
// many words it is a fault.
func TestBondingThatBedsDoNotAllow(t *testing.T) {
	doc := strings.Replace(met, `"ref": "P",`, `"ref": "P", "base_mm": 100,`, 1)
	doc = strings.Replace(doc, `"length_mm": 3000, "height_mm": 2700`, `"length_mm": 3000, "height_mm": 2250`, 1)
	if faults := check(t, doc, "", ""); len(faults) > 0 {
		t.Errorf("left open: %v", faults)
	}
	faults := check(t, doc, "/walls/1/left_junction/joined", `"bonded"`)
	if len(faults) != 1 || faults[0].Pointer != "/walls/1/left_junction/joined" {
		t.Errorf("bonded: %v", faults)
	}
}
