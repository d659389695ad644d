package api

import (
	"net/http"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// TestWrongGeometry sends what cannot be built: every one is refused with its place
// and something to do about it.
func TestWrongGeometry(t *testing.T) {
	c := computing(t, Config{})
	opening := func(ref string, left, sill, width, height int) string {
		return `{"ref":"` + ref + `","left_mm":` + strconv.Itoa(left) + `,"sill_mm":` + strconv.Itoa(sill) + `,"width_mm":` + strconv.Itoa(width) + `,"height_mm":` + strconv.Itoa(height) + `}`
	}
	with := func(openings ...string) string {
		return strings.Replace(small, `"ref":"A"`, `"ref":"A","openings":[`+strings.Join(openings, ",")+`]`, 1)
	}
	swap := func(from, to string) string { return strings.Replace(small, from, to, 1) }
	wall := small[strings.Index(small, `{"ref":"A"`):strings.LastIndex(small, "]")]
	c.send(http.MethodPost, "/v1/takeoffs", with(opening("a", 440, 0, 900, 1200))).want(t, http.StatusOK)
	for name, each := range map[string][2]string{
		"opening wider than its wall":           {with(opening("a", 0, 0, 4000, 900)), "/walls/0/openings/0/width_mm outside"},
		"opening beyond the wall's end":         {with(opening("a", 2500, 0, 900, 900)), "/walls/0/openings/0/left_mm outside"},
		"opening before the wall's start":       {with(opening("a", -10, 0, 900, 900)), "/walls/0/openings/0/left_mm range"},
		"opening over the top":                  {with(opening("a", 440, 600, 900, 900)), "/walls/0/openings/0/height_mm outside"},
		"openings over each other":              {with(opening("a", 440, 0, 900, 900), opening("b", 1000, 0, 900, 900)), "/walls/0/openings/1 overlap"},
		"openings of one name":                  {with(opening("a", 440, 0, 600, 900), opening("a", 1440, 0, 600, 900)), "/walls/0/openings/1/ref duplicate"},
		"no width":                              {with(opening("a", 440, 0, 0, 900)), "/walls/0/openings/0/width_mm range"},
		"negative height":                       {with(opening("a", 440, 0, 900, -900)), "/walls/0/openings/0/height_mm range"},
		"huge length":                           {swap(`3015`, `1e12`), "/walls/0/length_mm range"},
		"NaN":                                   {swap(`3015`, `NaN`), "/walls/0/length_mm not_json"},
		"infinity":                              {swap(`3015`, `"Infinity"`), "/walls/0/length_mm type"},
		"unknown product":                       {swap(`BRK-65-FACE`, `BRK-66`), "/wall_types/0/single/product unknown_ref"},
		"unknown wall type":                     {swap(`"type":"HB"`, `"type":"XX"`), "/walls/0/type unknown_ref"},
		"unknown rulebook":                      {swap(`"gb"`, `"xx"`), "/rulebook unknown_ref"},
		"no wall":                               {swap(wall, ``), "/walls items"},
		"ten thousand walls":                    {swap(wall, strings.TrimSuffix(strings.Repeat(wall+",", 10_000), ",")), "/walls items"},
		"walls of one name":                     {swap(wall, wall+","+wall), "/walls/1/ref duplicate"},
		"lifts not rising":                      {swap(`{"reference"`, `{"lifts":{"tops_mm":[1350,1350]},"reference"`), "/lifts/tops_mm/1 not_rising"},
		"corner beside a wall that has none":    {swap(wall, strings.Replace(wall, `"right":"stop_end"`, `"right":"external_corner"`, 1)+","+strings.Replace(wall, `"ref":"A"`, `"ref":"B"`, 1)), "/walls/0/right corner_unmatched"},
		"corner with no other wall":             {swap(`"right":"stop_end"`, `"right":"external_corner"`), "/walls/0/right corner_unmatched"},
		"bond too thick":                        {swap(`"BRK-65-FACE"`, `"BRK-65-FACE","bond":"english","thickness_mm":200`), "/wall_types/0/single/thickness_mm bond_thickness"},
		"arch without a rise":                   {with(strings.Replace(opening("a", 440, 0, 900, 900), `{`, `{"shape":"segmental",`, 1)), "/walls/0/openings/0/rise_mm arch_room"},
		"arch without room":                     {with(strings.Replace(opening("a", 440, 0, 900, 1300), `{`, `{"shape":"semicircular",`, 1)), "/walls/0/openings/0/head no_room"},
		"soldier course without room":           {with(strings.Replace(opening("a", 440, 0, 900, 1200), `{`, `{"head":{"soldier":true},`, 1)), "/walls/0/openings/0/head no_room"},
		"gable whose apex is at the wall's end": {swap(`"ref":"A"`, `"ref":"A","top":{"shape":"gable","apex_mm":900,"apex_at_mm":3015}`), "/walls/0/top/apex_at_mm inconsistent"},
	} {
		t.Run(name, func(t *testing.T) {
			a := c.send(http.MethodPost, "/v1/takeoffs", each[0])
			if a.StatusCode < 400 || a.StatusCode >= 500 {
				t.Fatalf("status %d", a.StatusCode)
			}
			if got := a.codes(t); !slices.Contains(got, each[1]) {
				t.Errorf("mistakes %q, want %q", got, each[1])
			}
			for _, m := range a.problem(t).Errors {
				if len(m.Detail) < 20 {
					t.Errorf("detail %q gives no remedy", m.Detail)
				}
			}
		})
	}
}
