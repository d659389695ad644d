package main

import (
	"testing"

	"github.com/go-json-experiment/json"

	"hodman/service/product"
	"hodman/service/schedule"
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
