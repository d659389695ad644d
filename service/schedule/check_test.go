package schedule_test

import (
	"strconv"
	"strings"
	"testing"

	"github.com/go-json-experiment/json"

	"hodman/service/finding"
	"hodman/service/product"
	"hodman/service/schedule"
)

// good is a schedule without a mistake; the cases below spoil one place each.
const good = `{
  "reference": "Fold Bank, plot 1", "rulebook": "gb",
  "wall_types": [
    {"key": "CW", "outer": {"product": "BRK-65-FACE"}, "cavity": {"width_mm": 100, "insulation_mm": 50}, "inner": {"product": "BLK-100-D"}},
    {"key": "BW", "single": {"unit": {"kind": "block", "length_mm": 440, "thickness_mm": 140, "height_mm": 215, "mass_kg": 26.2}}}],
  "walls": [
    {"ref": "A", "type": "CW", "length_mm": 6190, "height_mm": 5100, "left": "abutment", "right": "external_corner",
     "openings": [{"ref": "A1", "left_mm": 1340, "sill_mm": 0, "width_mm": 2260, "height_mm": 2100},
                  {"ref": "A2", "left_mm": 4400, "sill_mm": 900, "width_mm": 910, "height_mm": 1200}]},
    {"ref": "B", "type": "CW", "length_mm": 4040, "height_mm": 5100, "left": "external_corner", "right": "stop_end",
     "top": {"shape": "gable", "apex_mm": 1800, "apex_at_mm": 2020}, "openings": []},
    {"ref": "C", "type": "BW", "length_mm": 3000, "height_mm": 2250, "left": "stop_end", "right": "stop_end"}],
  "lifts": {"tops_mm": [1350, 2700, 4050, 5100, 6900]},
  "stock": []
}`

func TestGoodScheduleHasNoFaults(t *testing.T) {
	if faults := check(t, good, "", ""); len(faults) > 0 {
		t.Errorf("faults in a good schedule: %v", faults)
	}
}

// Each line: the place that is set, what to, and the fault that has to be told:
// pointer and code.
const spoiled = `
/reference                        ""                    /reference required
/rulebook                         "zz"                  /rulebook unknown_ref
/wall_types                       []                    /wall_types items
/wall_types/0/key                 "BW"                  /wall_types/1/key duplicate
/wall_types/0/key                 "\u00e9"              /wall_types/0/key pattern
/wall_types/0/mortar              "M5"                  /wall_types/0/mortar choice
/wall_types/0/mortar              "N"                   /wall_types/0/mortar inconsistent
/wall_types/0/inner/mortar        "S"                   /wall_types/0/inner/mortar inconsistent
/wall_types/0/outer/product       "BRK-NONE"            /wall_types/0/outer/product unknown_ref
/wall_types/0/outer/thickness_mm  150                   /wall_types/0/outer/thickness_mm bond_thickness
/wall_types/0/inner/bond          "english"             /wall_types/0/inner/bond bond_thickness
/wall_types/0/outer/bond          "rat_trap"            /wall_types/0/outer/thickness_mm bond_thickness
/wall_types/0/outer/headers_every 4                     /wall_types/0/outer/headers_every inconsistent
/wall_types/0/outer/backing       {"product":"BLK-100-D"}  /wall_types/0/outer/backing inconsistent
/wall_types/0/outer/bond          "knitted"             /wall_types/0/outer/bond choice
/wall_types/0/outer/bed_joint_mm  1                     /wall_types/0/outer/bed_joint_mm range
/wall_types/0/single              {"product":"BLK-100-D"}  /wall_types/0 inconsistent
/wall_types/0/cavity/insulation_mm 120                  /wall_types/0/cavity/insulation_mm inconsistent
/wall_types/1/single/unit/mass_kg 0                     /wall_types/1/single/unit/mass_kg range
/wall_types/1/single/unit/pack    0                     /wall_types/1/single/unit/pack range
/wall_types/1/single/unit/length_mm -440                /wall_types/1/single/unit/length_mm range
/wall_types/1/single/unit/kind    "slab"                /wall_types/1/single/unit/kind choice
/wall_types/1/single/unit/frog_m3 -0.001                /wall_types/1/single/unit/frog_m3 range
/wall_types/1/single/unit/frog_m3 0.0133                /wall_types/1/single/unit/frog_m3 inconsistent
/wall_types/1/single/unit/perforations_m3 0.0133        /wall_types/1/single/unit/perforations_m3 inconsistent
/wall_types/0/outer/laid_frog     "side"                /wall_types/0/outer/laid_frog choice
/wall_types/0/outer/pigment       1.5                   /wall_types/0/outer/pigment range
/wall_types/0/outer/pigment       0.2                   /wall_types/0/outer/pigment inconsistent
/walls                            []                    /walls items
/walls/1/ref                      "A"                   /walls/1/ref duplicate
/walls/0/ref                      "A\u0000"             /walls/0/ref pattern
/walls/0/type                     "XX"                  /walls/0/type unknown_ref
/walls/0/length_mm                0                     /walls/0/length_mm range
/walls/0/length_mm                -5                    /walls/0/length_mm range
/walls/0/length_mm                6000000               /walls/0/length_mm range
/walls/0/height_mm                0                     /walls/0/height_mm range
/walls/0/left                     "party_wall"          /walls/0/left choice
/walls/0/left                     "external_corner"     /walls/0/left corner_unmatched
/walls/0/right                    "stop_end"            /walls/1/left corner_unmatched
/walls/0/right                    "internal_corner"     /walls/0/right corner_unmatched
/walls/2/left                     "external_corner"     /walls/2/left corner_unmatched
/walls/0/openings/0/width_mm      7000                  /walls/0/openings/0/width_mm outside
/walls/0/openings/0/width_mm      0                     /walls/0/openings/0/width_mm range
/walls/0/openings/0/left_mm       5000                  /walls/0/openings/0/left_mm outside
/walls/0/openings/1/left_mm       3000                  /walls/0/openings/1 overlap
/walls/0/openings/1/height_mm     4300                  /walls/0/openings/1/height_mm outside
/walls/0/openings/1/ref           "A1"                  /walls/0/openings/1/ref duplicate
/walls/0/openings/0/shape         "round"               /walls/0/openings/0/height_mm inconsistent
/walls/0/openings/0/shape          "segmental"          /walls/0/openings/0/rise_mm arch_room
/walls/0/openings/0/rise_mm        100                  /walls/0/openings/0/rise_mm inconsistent
/walls/0/openings/0/head           {"kind":"arch"}      /walls/0/openings/0/head/kind inconsistent
/walls/0/openings/0/head           {"rings":2}          /walls/0/openings/0/head/rings inconsistent
/walls/0/openings/0/head           {"gauged":true}      /walls/0/openings/0/head/gauged inconsistent
/walls/0/openings/0/head           {"soldier_past_mm":150}  /walls/0/openings/0/head/soldier_past_mm inconsistent
/walls/0/openings/0/head           {"product":"BRK-65-FACE"}  /walls/0/openings/0/head/product inconsistent
/walls/0/openings/0/sill_course    {}                   /walls/0/openings/0/sill_course no_room
/walls/0/bands                     [{"kind":"soldier","at_mm":5000}]  /walls/0/bands/0/at_mm no_room
/walls/0/bands                     [{"kind":"soldier","at_mm":5100}]  /walls/0/bands/0/at_mm outside
/walls/0/bands                     [{"kind":"zigzag","at_mm":0}]  /walls/0/bands/0/kind choice
/walls/0/top                       {"shape":"stepped","steps":[]}  /walls/0/top/steps items
/walls/0/top                       {"shape":"stepped","steps":[{"at_mm":3000,"rise_mm":450},{"at_mm":2000,"rise_mm":900}]}  /walls/0/top/steps/1/at_mm not_rising
/walls/0/top                       {"shape":"stepped","steps":[{"at_mm":3000,"rise_mm":0}]}  /walls/0/top/steps inconsistent
/walls/0/top                       {"shape":"level","coping":{"product":"BLK-100-D"}}  /walls/0/top/coping/product unknown_ref
/walls/0/movement_joints_mm        [1500]               /walls/0/movement_joints_mm/0 overlap
/walls/0/movement_joints_mm        [100]                /walls/0/movement_joints_mm/0 not_rising
/walls/0/movement_joints_mm        [6100]               /walls/0/movement_joints_mm/0 outside
/movement_joints                   "some"               /movement_joints choice
/walls/0/openings/0/head          {"bearing_mm":20}     /walls/0/openings/0/head/bearing_mm range
/walls/0/openings/0               {"ref":"A1","width_mm":900,"height_mm":900}  /walls/0/openings/0/left_mm required
/walls/1/top/apex_mm              0                     /walls/1/top/apex_mm inconsistent
/walls/1/top/apex_mm              -600                  /walls/1/top/apex_mm range
/walls/1/top/apex_at_mm           4040                  /walls/1/top/apex_at_mm inconsistent
/walls/1/top/shape                "hipped"              /walls/1/top/shape choice
/walls/1/top                      {"shape":"rake"}      /walls/1/top/right_mm inconsistent
/walls/1/plate                    {}                    /walls/1/plate inconsistent
/walls/0/plate                    {"product":"BRK-65-FACE"}  /walls/0/plate/product unknown_ref
/walls/0/restraint_mm             [5200]                /walls/0/restraint_mm/0 outside
/walls/0/dpc_levels_mm            [5200]                /walls/0/dpc_levels_mm/0 outside
/walls/0/air_bricks               [{}]                  /walls/0/air_bricks/0/level_mm required
/walls/0/air_bricks               [{"level_mm":225,"spacing_mm":100}]  /walls/0/air_bricks/0/spacing_mm range
/walls/0/air_bricks               [{"level_mm":225,"product":"WEEP"}]  /walls/0/air_bricks/0/product unknown_ref
/walls/0/bed_reinforcement        [{"from_mm":450}]     /walls/0/bed_reinforcement/0/to_mm required
/walls/0/bed_reinforcement        [{"from_mm":900,"to_mm":450}]  /walls/0/bed_reinforcement/0/to_mm inconsistent
/walls/0/bed_reinforcement        [{"from_mm":450,"to_mm":900,"every_courses":0}]  /walls/0/bed_reinforcement/0/every_courses range
/walls/0/bed_reinforcement        [{"from_mm":450,"to_mm":900,"leaf":"middle"}]  /walls/0/bed_reinforcement/0/leaf choice
/walls/0/abutting_roofs           [{"left_mm":0,"left_level_mm":2400,"right_mm":6200,"right_level_mm":2400}]  /walls/0/abutting_roofs/0/right_mm outside
/walls/0/abutting_roofs           [{"left_mm":900,"left_level_mm":2400,"right_mm":900,"right_level_mm":2400}]  /walls/0/abutting_roofs/0/right_mm inconsistent
/walls/0/abutting_roofs           [{"left_mm":0,"left_level_mm":5200,"right_mm":900,"right_level_mm":2400}]  /walls/0/abutting_roofs/0/left_level_mm outside
/walls/0/openings/0/sill_product  "PAD-300x100x150"     /walls/0/openings/0/sill_product unknown_ref
/walls/0/openings/0/bed_reinforcement  {"over_courses":11}  /walls/0/openings/0/bed_reinforcement/over_courses range
/walls/0/openings/0/head          {"padstone_product":"LINTEL"}  /walls/0/openings/0/head/padstone_product unknown_ref
/walls/0/right_wall               "Z"                   /walls/0/right_wall unknown_ref
/walls/0/right_wall               "A"                   /walls/0/right_wall inconsistent
/walls/0/right_wall               "C"                   /walls/0/right corner_unmatched
/walls/0/right_wall               "a,b"                 /walls/0/right_wall pattern
/walls/0/left_wall                "C"                   /walls/0/left_wall inconsistent
/walls/1/left_wall                "C"                   /walls/0/right_wall corner_unmatched
/walls/2/length_mm                139                   /walls/2/length_mm too_short
/walls/1/length_mm                150                   /walls/1/top/apex_at_mm inconsistent
/lifts/tops_mm                    [1350, 1350]          /lifts/tops_mm/1 not_rising
/lifts/tops_mm                    []                    /lifts/tops_mm items
/lifts/height_mm                  1350                  /lifts inconsistent
/lifts                            {"height_mm": 10}     /lifts/height_mm range
/stock                            [{"product":"BRK-65-FACE","quantity":1}]  /stock/0/product not_supported
/stock                            [{"product":"none","quantity":-1}]        /stock/0/quantity range
/allowances                       {"brick": 1.5}        /allowances/brick range
/clear_allowance_mm               51                    /clear_allowance_mm range
/cut_reuse                        "some"                /cut_reuse choice
/mortar_supply                    "buckets"             /mortar_supply choice
`

// Plasticiser goes into a site mix, and into mixes that the rulebook has.
func TestPlasticiserHasItsPlace(t *testing.T) {
	for _, c := range [][3]string{{"gb", "site_mix", ""}, {"gb", "silo", "inconsistent"}, {"us", "site_mix", "not_supported"}} {
		var codes []string
		s := new(schedule.Schedule)
		doc := strings.Replace(good, `"rulebook": "gb"`, `"rulebook": "`+c[0]+`", "plasticiser": true, "mortar_supply": "`+c[1]+`"`, 1)
		if err := json.Unmarshal([]byte(doc), s); err != nil {
			t.Fatal(err)
		}
		for _, f := range s.Check(product.Demo()) {
			if f.Pointer == "/plasticiser" {
				codes = append(codes, f.Code)
			}
		}
		if got := strings.Join(codes, " "); got != c[2] {
			t.Errorf("plasticiser by %s, %s: %q, want %q", c[0], c[1], got, c[2])
		}
	}
}

// Perpends of 20 mm cannot be opened or closed within 8 to 12 (rulebook); as given they are laid.
func TestPerpendsThatSettingOutKeepsFrom(t *testing.T) {
	for setting, want := range map[string]string{`"as_given"`: "/wall_types/0/outer/perpend_mm inconsistent", `"best"`: "/wall_types/0/outer/perpend_mm inconsistent", `"worst"`: "/setting_out choice"} {
		doc := strings.Replace(good, `"outer": {`, `"outer": {"perpend_mm": 20, `, 1)
		if faults := check(t, doc, "", ""); len(faults) > 0 {
			t.Errorf("as given: %v", faults)
		}
		faults := check(t, doc, "/setting_out", setting)
		if len(faults) != 1 || faults[0].Pointer+" "+faults[0].Code != want {
			t.Errorf("%s: %v, want %s", setting, faults, want)
		}
	}
}

func TestEverySpoiledPlaceIsNamed(t *testing.T) {
	for _, line := range strings.Split(strings.TrimSpace(spoiled), "\n") {
		fields := strings.Fields(line)
		pointer, code := fields[len(fields)-2], fields[len(fields)-1]
		value := strings.Join(fields[1:len(fields)-2], " ")
		t.Run(fields[0]+"="+value, func(t *testing.T) {
			for _, f := range check(t, good, fields[0], value) {
				if f.Pointer == pointer && f.Code == code {
					if len(f.Detail) < 20 {
						t.Errorf("detail %q says too little", f.Detail)
					}
					return
				}
			}
			t.Errorf("no fault %s %s in %v", pointer, code, check(t, good, fields[0], value))
		})
	}
}

// TestAllMistakesAtOnce: one bad document, every culprit in one answer.
func TestAllMistakesAtOnce(t *testing.T) {
	doc := good
	doc = strings.Replace(doc, `"rulebook": "gb"`, `"rulebook": "zz"`, 1)
	doc = strings.Replace(doc, `"BLK-100-D"`, `"BLK-NONE"`, 1)
	doc = strings.Replace(doc, `"width_mm": 910`, `"width_mm": -1`, 1)
	doc = strings.Replace(doc, `"left": "stop_end"`, `"left": "wall"`, 1)
	doc = strings.Replace(doc, `[1350, 2700`, `[2700, 1350`, 1)
	if faults := check(t, doc, "", ""); len(faults) < 5 {
		t.Errorf("%d faults told of 5 mistakes: %v", len(faults), faults)
	}
}

func TestTooManyWalls(t *testing.T) {
	wall := `{"ref":"W#","type":"BW","length_mm":3000,"height_mm":2250,"left":"stop_end","right":"stop_end"}`
	var walls []string
	for i := range 10_000 {
		walls = append(walls, strings.Replace(wall, "#", strconv.Itoa(i), 1))
	}
	faults := check(t, good, "/walls", "["+strings.Join(walls, ",")+"]")
	if len(faults) != 1 || faults[0].Pointer != "/walls" || faults[0].Code != "items" {
		t.Errorf("10,000 walls: %v", faults)
	}
}

// TestTooLargeAsAWhole: every wall by itself is in range, and together they are too much to answer at once.
func TestTooLargeAsAWhole(t *testing.T) {
	for name, wall := range map[string]string{
		"area":     `{"ref":"W#","type":"BW","length_mm":5000000,"height_mm":100000,"left":"stop_end","right":"stop_end"}`,
		"openings": `{"ref":"W#","type":"BW","length_mm":900000,"height_mm":2250,"left":"stop_end","right":"stop_end","openings":[` + openings(150) + `]}`,
		"slopes":   `{"ref":"W#","type":"BW","length_mm":100000,"height_mm":225,"left":"stop_end","right":"stop_end","top":{"shape":"gable","apex_mm":50000,"apex_at_mm":50000}}`,
	} {
		var walls []string
		for i := range map[string]int{"area": 20, "openings": 20, "slopes": 700}[name] {
			walls = append(walls, strings.Replace(wall, "#", strconv.Itoa(i), 1))
		}
		faults := check(t, good, "/walls", "["+strings.Join(walls, ",")+"]")
		if len(faults) != 1 || faults[0].Pointer != "/walls" || faults[0].Code != "too_large" {
			t.Errorf("%s: %v", name, faults)
		}
	}
}

func openings(n int) string {
	var list []string
	for k := range n {
		list = append(list, `{"ref":"O`+strconv.Itoa(k)+`","left_mm":`+strconv.Itoa(1000+2000*k)+`,"sill_mm":0,"width_mm":900,"height_mm":1200}`)
	}
	return strings.Join(list, ",")
}

// check decodes the document with one place set to a value, and checks it.
func check(t *testing.T, doc, place, value string) finding.Faults {
	t.Helper()
	var tree any
	if err := json.Unmarshal([]byte(doc), &tree); err != nil {
		t.Fatal(err)
	}
	if place != "" {
		var v any
		if err := json.Unmarshal([]byte(value), &v); err != nil {
			t.Fatalf("%s: %v", value, err)
		}
		set(t, tree, strings.Split(place, "/")[1:], v)
	}
	raw, err := json.Marshal(tree)
	if err != nil {
		t.Fatal(err)
	}
	var s schedule.Schedule
	if err := json.Unmarshal(raw, &s, json.RejectUnknownMembers(true)); err != nil {
		t.Fatal(err)
	}
	return s.Check(product.Demo())
}

func set(t *testing.T, tree any, path []string, v any) {
	t.Helper()
	switch at := tree.(type) {
	case map[string]any:
		if len(path) == 1 {
			at[path[0]] = v
			return
		}
		set(t, at[path[0]], path[1:], v)
	case []any:
		i, err := strconv.Atoi(path[0])
		if err != nil {
			t.Fatal(err)
		}
		if len(path) == 1 {
			at[i] = v
			return
		}
		set(t, at[i], path[1:], v)
	default:
		t.Fatalf("no place %v", path)
	}
}

// A mortar belongs to a book: M4 and M to other ones, M5 to none. Where the book is
// not known, nothing is said about a mortar of any.
func TestMortarOfTheBook(t *testing.T) {
	for _, c := range []struct{ book, mortar, want string }{
		{"us", "N", ""}, {"us@2026.2", "O", ""}, {"us", "M", ""}, {"us", "M4", "inconsistent"}, {"us", "M5", "choice"},
		{"gb", "M4", ""}, {"gb", "M", "inconsistent"}, {"gb", "m4", "choice"}, {"zz", "N", ""}, {"zz", "K", "choice"},
	} {
		doc := strings.Replace(good, `"rulebook": "gb"`, `"rulebook": "`+c.book+`"`, 1)
		got := ""
		for _, f := range check(t, doc, "/wall_types/0/mortar", `"`+c.mortar+`"`) {
			if f.Pointer == "/wall_types/0/mortar" {
				got = f.Code
			}
		}
		if got != c.want {
			t.Errorf("%s in %s: %q, want %q", c.mortar, c.book, got, c.want)
		}
	}
}
