package api

import (
	"bytes"
	"net/http"
	"net/http/httptest"
	"regexp"
	"slices"
	"testing"
	"time"

	"hodman/openapi"
	"hodman/service/finding"
	"hodman/service/product"
	"hodman/service/schedule"
	"hodman/testdata"
)

func seeds(f *testing.F) {
	f.Add(testdata.RearWing)
	f.Add([]byte(small))
	for _, change := range [][2]string{{`3015`, `null`}, {`3015`, `1e4`}, {`"A"`, `""`}, {`"HB"`, `"h/b"`}, {`"walls"`, `"Walls"`}, {`3015`, `3015.0005`},
		{`"ref":"A"`, `"ref":"A","openings":[{"ref":"a","left_mm":1,"sill_mm":0,"width_mm":900,"height_mm":600,"head":{"kind":"none","bearing_mm":100}}]`},
		{`"ref":"A"`, `"ref":"A","top":{"shape":"rake","left_mm":10},"restraint_mm":[1],"plate":{}`},
		{`{"reference"`, `{"lifts":{"height_mm":1350},"stock":[{"product":"X","quantity":1}],"allowances":{"brick":0.5},"dpc_mm":0,"cut_reuse":"none","reference"`},
		{`{"product":"BRK-65-FACE"}`, `{"unit":{"kind":"brick","length_mm":215,"thickness_mm":102.5,"height_mm":65,"mass_kg":2,"pack":1},"mortar":"M4"}`}} {
		f.Add(bytes.Replace([]byte(small), []byte(change[0]), []byte(change[1]), 1))
	}
}

// FuzzSchedule sends anything: it is answered, in time, and nothing of ours fails.
func FuzzSchedule(f *testing.F) {
	seeds(f)
	f.Fuzz(func(t *testing.T, body []byte) {
		c := computing(t, Config{Rate: -1})
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
	schema := openapi.Document().Components.Schemas["WallSchedule"].Value
	f.Fuzz(func(t *testing.T, body []byte) {
		if beyondFloat.Match(body) {
			return // numbers that a float does not keep: only the decoder is exact there
		}
		var s schedule.Schedule
		in := &call{operation: &operation{schema: schema, direct: true}, raw: body}
		fast := !odd(body) && strictly(body, &s) == nil
		fast = fast && !slices.ContainsFunc(s.Check(product.Demo()), func(f finding.Fault) bool { return slices.Contains(structural, f.Code) })
		doc, err := parse(in.raw)
		slow := err == nil && len(doc.hold(schema)) == 0
		if odd(body) {
			// The document is asked first there; what it lets in must be readable.
			if slow && strictly(body, &s) != nil {
				t.Errorf("the document lets in what cannot be read: %s", body)
			}
			return
		}
		if fast != slow {
			t.Errorf("decoder %v, document %v: %s", fast, slow, body)
		}
	})
}
