package api

import (
	"bytes"
	stdjson "encoding/json" // for its Number alone
	"maps"
	"net/http"
	"net/http/httptest"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/go-json-experiment/json"

	"hodman/service"
	"hodman/service/coursing"
	"hodman/service/drop"
	"hodman/service/finding"
	"hodman/service/lintel"
	"hodman/service/schedule"
	"hodman/testdata"
)

func seeds(f *testing.F) {
	f.Add(testdata.RearWing)
	f.Add(testdata.Garage)
	f.Add([]byte(small))
	for _, change := range [][2]string{{`3015`, `null`}, {`3015`, `1e4`}, {`"A"`, `""`}, {`"HB"`, `"h/b"`}, {`"walls"`, `"Walls"`}, {`3015`, `3015.0005`},
		{`"ref":"A"`, `"ref":"A","openings":[{"ref":"a","left_mm":1,"sill_mm":0,"width_mm":900,"height_mm":600,"head":{"kind":"none","bearing_mm":100}}]`},
		{`"ref":"A"`, `"ref":"A","top":{"shape":"rake","left_mm":10},"restraint_mm":[1],"plate":{}`},
		{`{"reference"`, `{"lifts":{"height_mm":1350},"stock":[{"product":"X","quantity":1}],"allowances":{"brick":0.5},"dpc_mm":0,"cut_reuse":"none","reference"`},
		{`{"product":"BRK-65-FACE"}`, `{"unit":{"kind":"brick","length_mm":215,"thickness_mm":102.5,"height_mm":65,"mass_kg":2,"pack":1},"mortar":"M4"}`},
		{`{"product":"BRK-65-FACE"}`, `{"unit":{"kind":"brick","length_mm":215,"thickness_mm":102.5,"height_mm":65,"mass_kg":2,"frog_m3":0.0001,"perforations_m3":0.00012},"laid_frog":"down","pigment":0.05}`},
		{`{"reference"`, `{"mortar_supply":"site_mix","plasticiser":true,"reference"`}} {
		f.Add(bytes.Replace([]byte(small), []byte(change[0]), []byte(change[1]), 1))
	}
}

// FuzzSchedule sends anything: it is answered, in time, and nothing of ours fails.
func FuzzSchedule(f *testing.F) {
	seeds(f)
	all := computing(f, Config{Rate: -1})
	f.Fuzz(func(t *testing.T, body []byte) {
		c := &client{t: t, handler: all.handler, from: all.from}
		r := httptest.NewRequest(http.MethodPost, "/v1/takeoffs", bytes.NewReader(body))
		r.RemoteAddr = c.from
		r.Header.Set("Content-Type", "application/json")
		began := time.Now()
		a := c.do(r)
		if a.StatusCode >= 500 || time.Since(began) > 10*time.Second {
			t.Errorf("status %d after %s\n%s", a.StatusCode, time.Since(began), a.body)
		}
	})
}

// structural are the faults that the document can say too.
var structural = []string{"required", "type", "range", "choice", "pattern", "length", "items", "unknown", "null"}

// beyondFloat finds numbers with more digits than the document's library keeps.
var beyondFloat = regexp.MustCompile(`[0-9.]{15,}|[eE]-?[0-9]`)

// FuzzDecoderAgreesWithDocument holds the way that reads a schedule straight into the
// engines' types against the document: both refuse the same.
func FuzzDecoderAgreesWithDocument(f *testing.F) {
	seeds(f)
	f.Fuzz(func(t *testing.T, body []byte) {
		if !beyondFloat.Match(body) { // only the decoder is exact there
			agree(t, body)
		}
	})
}

func agree(t *testing.T, body []byte) {
	t.Helper()
	slow, faults, err := both(t, "/v1/takeoffs", new(schedule.Schedule), body)
	fast := err == nil && !slices.ContainsFunc(faults, func(f finding.Fault) bool { return slices.Contains(structural, f.Code) })
	if fast != slow && !odd(body) {
		t.Errorf("decoder %v, document %v: %s\n%v %v", fast, slow, body, err, faults)
	}
}

// refusedToo is [agree] in one direction, for documents where a member may be needed
// because of another: what the document refuses is refused either way.
func refusedToo(t *testing.T, path string, into any, body []byte) {
	t.Helper()
	if slow, faults, err := both(t, path, into, body); !slow && err == nil && len(faults) == 0 && !odd(body) {
		t.Errorf("the document refuses what is let in: %s", body)
	}
}

// both asks the document, then the decoder and the checks. Of odd bodies the document is
// asked first when they are served: what it lets in must be readable.
func both(t *testing.T, path string, into any, body []byte) (slow bool, faults finding.Faults, err error) {
	t.Helper()
	doc, err := parse(body)
	slow = err == nil && len(doc.hold(operations()["POST "+path].schema)) == 0
	if err = strictly(body, into); err != nil && slow && odd(body) {
		t.Errorf("the document lets in what cannot be read: %s\n%v", body, err)
	}
	return slow, (&server{svc: service.New(nil)}).check(into), err
}

// everything is a schedule with every member that there is.
const everything = `{"reference":"R","rulebook":"gb","cut_reuse":"best","dpc_mm":150,
	"wall_types":[{"key":"CW","mortar":"M4","outer":{"product":"BRK-65-FACE","bond":"stretcher","bed_joint_mm":10,"perpend_mm":10,"mortar":"M6"},
		"cavity":{"width_mm":100,"insulation_mm":50},"inner":{"unit":{"kind":"block","length_mm":440,"thickness_mm":100,"height_mm":215,"mass_kg":12.5,"pack":72}}},
		{"key":"HB","single":{"product":"BRK-65-FACE"}}],
	"walls":[{"ref":"A","type":"CW","length_mm":6190,"height_mm":5100,"base_mm":-150,"left":"stop_end","right":"abutment","top":{"shape":"level"},"plate":{"product":"PLT-100x75-4800"},
		"restraint_mm":[2550],"openings":[{"ref":"A1","shape":"rectangle","left_mm":1340,"sill_mm":0,"width_mm":2260,"height_mm":2100,"head":{"kind":"lintel","bearing_mm":150,"soldier":false}}]},
		{"ref":"B","type":"HB","length_mm":3015,"height_mm":1350,"left":"junction","right":"external_corner","right_wall":"C",
			"left_junction":{"wall":"A","at_mm":2250,"side":"outside","joined":"tied"},"crossings":[{"wall":"C","at_mm":1125,"other_at_mm":1125,"joined":"bonded"}],
			"piers":[{"at_mm":2250,"width_mm":215,"projection_mm":112.5,"height_mm":1200,"side":"inside","joined":"bonded"}],"plinth":{"product":"BRK-65-ENG","courses":2},"top":{"shape":"gable","apex_mm":900,"apex_at_mm":1500,"left_mm":0,"right_mm":0}},
		{"ref":"C","type":"HB","length_mm":3015,"height_mm":1350,"left":"external_corner","right":"junction","left_wall":"B","right_junction":{"wall":"A","at_mm":4500},
			"plinth":{"unit":{"kind":"brick","length_mm":215,"thickness_mm":102.5,"height_mm":65,"mass_kg":3},"height_mm":150}}],
	"lifts":{"tops_mm":[1350,2700]},"allowances":{"brick":0.05,"block":0.05,"coursing_unit":0,"mortar":1,"wall_tie":0.05,"dpc":0.05,"insulation":0.000001},
	"stock":[{"product":"LIN-SC-105-1350","quantity":4}]}`

// TestDecoderAgreesWithDocument puts what is wrong, and what is just right, in every
// place of a schedule, one at a time.
func TestDecoderAgreesWithDocument(t *testing.T) {
	values := []any{nil, "", "x", "!", "-x", "M2", "best", "none", strings.Repeat("x", 64), strings.Repeat("x", 65), strings.Repeat("x", 200), strings.Repeat("\u00e9", 201),
		true, map[string]any{}, []any{}, map[string]any{"x": "y"}, []any{"x"}, []any{stdjson.Number("0")}}
	for _, n := range strings.Fields("0 -0 1 -1 0.001 0.0001 0.000001 0.0000001 1.5 3 2.999 30 30.001 50 20 25 300 500 500.001 1000 2000.001 6000 10000 10001 1.0 100000 100000.001 -100000 -100000.001 5000000 5000000.001 10000001 99999999999999999999 1e2 1E-2 1e400") {
		values = append(values, stdjson.Number(n))
	}
	tried := everywhere(t, everything, values, func(b []byte) { agree(t, b) })
	tried += everywhere(t, everyLintel, values, func(b []byte) { refusedToo(t, "/v1/lintel-selections", new(lintel.Request), b) })
	tried += everywhere(t, everyLevel, values, func(b []byte) { refusedToo(t, "/v1/coursings", new(coursing.Request), b) })
	tried += everywhere(t, everyDrop, values, func(b []byte) { refusedToo(t, "/v1/drop-plans", new(drop.Request), b) })
	if tried < 6000 {
		t.Errorf("only %d tried", tried)
	}
}

const (
	everyLintel = `{"rulebook":"gb","openings":[{"ref":"A1","clear_mm":910,"bearing_mm":150,"leaf":"both","cavity_mm":100,"family":"steel_cavity","room_left_mm":600,"room_right_mm":600},
		{"ref":"A2","clear_mm":910,"leaf":"single","thickness_mm":100}],"stock":[{"product":"LIN-SC-105-1350","quantity":4}]}`
	everyLevel = `{"rulebook":"gb","unit_height_mm":65,"bed_joint_mm":10,"base_mm":0,"bed_least_mm":8,"bed_most_mm":12,"plate":{"depth_mm":75,"bed_mm":10},
		"second_leaf":{"unit_height_mm":215,"bed_joint_mm":10,"unit_length_mm":440},"run_mm":6190,"unit_length_mm":215,"levels":[{"name":"head","level_mm":2100,"kind":"head","fixed":true},{"name":"plate","level_mm":5110,"kind":"plate"}]}`
)

// everyDrop is a request for a drop plan with every member but the two other ways to say what is needed.
const everyDrop = `{"takeoff":{"rulebook":"gb","lines":[],"lifts":[{"lift":1,"from_mm":0,"to_mm":1350,"mass_kg":900,
		"lines":[{"product":"BRK-65-FACE","kind":"brick","unit":"each","required":400,"pack":400,"pack_kg":920,"loose":false,"mass_kg":920}]}]},
	"programme":{"start":"2027-03-08","bricklayers":2,"output_per_day":{"brick":450},"working_days":["mon","tue"],"holidays":["2027-03-26"],"lift_change_days":1},
	"scaffold":{"load_class":4,"bay_length_mm":2100,"platform_width_mm":1300,"bays":9,"loading_bay_kn_m2":10},"yard":{"max_kg":16000,"max_packs":16},
	"vehicles":[{"key":"18 t","payload_kg":9000,"places":10,"cost":"95.00","available":2}],"currency":"GBP","lead_days":1,"ahead_days":5,"holding_cost":"1.50"}`

// everywhere tries a document as it is, without each of its members, with each
// member's name in capitals, and with each value in each place. It returns how many it tried.
func everywhere(t *testing.T, document string, values []any, each func([]byte)) (tried int) {
	whole, err := parse([]byte(document))
	if err != nil {
		t.Fatal(err)
	}
	try := func() {
		tried++
		body, err := json.Marshal(whole.root, json.WithMarshalers(json.MarshalToFunc(asIs)))
		if err != nil {
			t.Fatal(err)
		}
		each(body)
	}
	try()
	var walk func(v any)
	walk = func(v any) {
		switch v := v.(type) {
		case map[string]any:
			for name, old := range maps.Clone(v) {
				delete(v, name)
				try()
				v[strings.ToUpper(name)] = old
				try()
				delete(v, strings.ToUpper(name))
				for _, v[name] = range values {
					try()
				}
				v[name] = old
				walk(old)
			}
		case []any:
			for i, old := range v {
				for _, v[i] = range values {
					try()
				}
				v[i] = old
				walk(old)
			}
		}
	}
	walk(whole.root)
	return tried
}
