package main

import (
	"maps"
	"testing"

	"github.com/go-json-experiment/json"

	"hodman/service"
	"hodman/service/product"
	"hodman/service/schedule"
	"hodman/store/storetest"
	"hodman/testdata"
)

// TestRearWingIsSound keeps the demo job free of mistakes, and its walls in one
// outline that closes on the house.
func TestRearWingIsSound(t *testing.T) {
	s := new(schedule.Schedule)
	if err := json.Unmarshal(testdata.RearWing, s, json.RejectUnknownMembers(true)); err != nil {
		t.Fatal(err)
	}
	for _, f := range s.Check(product.Demo()) {
		t.Errorf("%s %s %s", f.Pointer, f.Code, f.Detail)
	}
	// A goes out from the house; C and E come back to it, with the step D between.
	if out, back := s.Walls[0].Length, s.Walls[2].Length+s.Walls[4].Length; out != back {
		t.Errorf("A goes out %s mm, C and E come back %s mm", out, back)
	}
}

// A demo that is killed cannot end its key; the next one does, and leaves other keys alone.
func TestDemoEndsTheKeysOfKilledDemos(t *testing.T) {
	s := service.New(storetest.New(t))
	if _, _, err := s.CreateKey(t.Context(), service.KeyDraft{Name: "counter"}); err != nil {
		t.Fatal(err)
	}
	for range 2 { // and none of them is ended by itself
		if _, _, err := demoKey(t.Context(), s); err != nil {
			t.Fatal(err)
		}
	}
	keys, err := s.Keys(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	live := make(map[string]int)
	for _, k := range keys {
		if k.RevokedAt == nil {
			live[k.Name]++
		}
	}
	if want := map[string]int{"counter": 1, "demo": 1}; !maps.Equal(live, want) || len(keys) != 3 {
		t.Errorf("of %d keys these live: %v; want %v of 3", len(keys), live, want)
	}
}
