package api

import (
	"bytes"
	"encoding/xml"
	"errors"
	"io"
	"net/http"
	"slices"
	"strings"
	"testing"

	"hodman/testdata"
)

// wallRequest asks for a wall of the demo's schedule.
func wallRequest(wall, more string) string {
	return `{"wall":"` + wall + `",` + more + `"schedule":` + string(testdata.RearWing) + `}`
}

// wantDrawing finds an answer to be a drawing: SVG that is sound XML.
func (a answered) wantDrawing(t *testing.T) answered {
	t.Helper()
	a.want(t, http.StatusOK)
	if got := a.Header.Get("Content-Type"); got != "image/svg+xml" {
		t.Errorf("Content-Type %q", got)
	}
	dec := xml.NewDecoder(bytes.NewReader(a.body))
	for {
		if _, err := dec.Token(); errors.Is(err, io.EOF) {
			break
		} else if err != nil {
			t.Fatal(err)
		}
	}
	if !bytes.HasPrefix(a.body, []byte("<svg ")) {
		t.Errorf("begins %.40s", a.body)
	}
	return a
}

func TestDrawElevation(t *testing.T) {
	c := computing(t, Config{})
	tall := c.send(http.MethodPost, "/v1/elevations", wallRequest("A", "")).wantDrawing(t)
	again := c.send(http.MethodPost, "/v1/elevations", wallRequest("A", `"layout":"tall",`), "Accept", "image/svg+xml").wantDrawing(t)
	if !bytes.Equal(tall.body, again.body) {
		t.Error("the same wall gave other bytes")
	}
	wide := c.send(http.MethodPost, "/v1/elevations", wallRequest("A", `"layout":"wide",`), "Accept", "image/*").wantDrawing(t)
	if bytes.Equal(tall.body, wide.body) {
		t.Error("wide is drawn as tall")
	}
	c.send(http.MethodPost, "/v1/elevations", wallRequest("A", ""), "Accept", "application/json").want(t, http.StatusNotAcceptable)
}

// TestDrawElevationTellsAllMistakes sends requests with mistakes of their own beside the schedule's.
func TestDrawElevationTellsAllMistakes(t *testing.T) {
	c := computing(t, Config{})
	broken := strings.Replace(string(testdata.RearWing), `"length_mm": 6525`, `"length_mm": 0`, 1)
	for _, r := range []struct {
		body string
		want []string
	}{
		{wallRequest("Z", ""), []string{"/wall unknown_ref"}},
		{wallRequest("A", `"layout":"round",`), []string{"/layout choice"}},
		{`{"wall":"A"}`, []string{"/schedule required"}},
		{`{"wall":"Z","layout":"round","schedule":` + broken + `}`, []string{"/layout choice", "/schedule/walls/0/length_mm range", "/wall unknown_ref"}},
	} {
		got := c.send(http.MethodPost, "/v1/elevations", r.body).want(t, http.StatusUnprocessableEntity).codes(t)
		slices.Sort(got)
		for _, want := range r.want {
			if !slices.Contains(got, want) {
				t.Errorf("%.60s: got %q, want %q too", r.body, got, want)
			}
		}
	}
}

// TestElevationOfAKeptSchedule reads drawings of a job's schedule, of a wall too whose ref has to be escaped.
func TestElevationOfAKeptSchedule(t *testing.T) {
	t.Parallel()
	c, svc := keeping(t)
	at := c.send(http.MethodPost, "/v1/jobs", `{"reference":"Fallow Yard, plot 2"}`).want(t, http.StatusCreated).Header.Get("Location")
	document := strings.Replace(string(testdata.RearWing), `"ref": "D"`, `"ref": "D/1 north+"`, 1)
	c.send(http.MethodPost, at+"/schedules", document).want(t, http.StatusCreated)
	at += "/schedules/1/elevations/"

	kept := c.send(http.MethodGet, at+"A.svg", "").wantDrawing(t)
	posted := c.send(http.MethodPost, "/v1/elevations", wallRequest("A", "")).wantDrawing(t)
	if !bytes.Equal(kept.body, posted.body) {
		t.Error("the kept schedule's wall is drawn otherwise than the same one posted")
	}
	tag := kept.Header.Get("ETag")
	c.send(http.MethodGet, at+"A.svg", "", "If-None-Match", tag).want(t, http.StatusNotModified)
	wide := c.send(http.MethodGet, at+"A.svg?layout=wide", "", "If-None-Match", tag).wantDrawing(t)
	if wide.Header.Get("ETag") == tag {
		t.Error("wide and tall have one entity tag")
	}
	escaped := c.send(http.MethodGet, at+"D%2F1%20north+.svg", "").wantDrawing(t)
	if !bytes.Contains(escaped.body, []byte("D/1 north+")) {
		t.Error("another wall than asked for")
	}
	c.send(http.MethodGet, at+"Z.svg", "").want(t, http.StatusNotFound)
	c.send(http.MethodGet, strings.Replace(at, "/1/", "/2/", 1)+"A.svg", "").want(t, http.StatusNotFound)
	c.send(http.MethodGet, at+"A.png", "").want(t, http.StatusBadRequest)
	c.send(http.MethodGet, at+"A.svg?layout=round", "").want(t, http.StatusBadRequest)
	c.send(http.MethodGet, at+"A.svg", "", "Accept", "application/json").want(t, http.StatusNotAcceptable)

	other := *c
	other.key = newKey(t, svc, "other")
	other.send(http.MethodGet, at+"A.svg", "").want(t, http.StatusNotFound)
	other.send(http.MethodGet, at+"A.svg", "", "Authorization", "").want(t, http.StatusUnauthorized)
}
