package api

import (
	"bytes"
	"io"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/go-json-experiment/json"

	"hodman/service/schedule"
	"hodman/service/takeoff"
	"hodman/testdata"
)

func read(t testing.TB, name string) string {
	t.Helper()
	b, err := os.ReadFile(filepath.Join("..", "testdata", filepath.FromSlash(name)))
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

// BenchmarkHTTPTakeoff sets the whole way of a takeoff over HTTP beside a bare handler
// that only reads the same schedule and writes the same answer with the same library.
func BenchmarkHTTPTakeoff(b *testing.B) {
	c := computing(b, Config{Rate: -1})
	answer := new(takeoff.Takeoff)
	c.send(http.MethodPost, "/v1/takeoffs", string(testdata.RearWing)).want(b, http.StatusOK).into(b, answer)
	bare := http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		raw, err := io.ReadAll(r.Body)
		if err == nil {
			err = json.Unmarshal(raw, new(schedule.Schedule), json.RejectUnknownMembers(true))
		}
		body, err2 := json.Marshal(answer, json.Deterministic(true))
		if err != nil || err2 != nil {
			b.Fatal(err, err2)
		}
		w.Header().Set("Content-Type", "application/json")
		w.Write(body)
	})
	serve := func(handler http.Handler) {
		r := httptest.NewRequest(http.MethodPost, "/v1/takeoffs", bytes.NewReader(testdata.RearWing))
		r.Header.Set("Content-Type", "application/json")
		w := httptest.NewRecorder()
		handler.ServeHTTP(w, r)
		if w.Code != http.StatusOK {
			b.Fatal(w.Code)
		}
	}
	for _, each := range []struct {
		name    string
		handler http.Handler
	}{{"whole", c.handler}, {"bare", bare}} {
		b.Run(each.name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				serve(each.handler)
			}
		})
	}
	// In turn, so that a noisy machine is as noisy to both.
	b.Run("ratio", func(b *testing.B) {
		var whole, alone time.Duration
		for b.Loop() {
			began := time.Now()
			serve(c.handler)
			between := time.Now()
			serve(bare)
			whole += between.Sub(began)
			alone += time.Since(between)
		}
		b.ReportMetric(float64(whole)/float64(alone), "whole/bare")
	})
}
