package api

import (
	"maps"
	"net/http"
	"slices"
	"strings"
	"testing"

	"github.com/getkin/kin-openapi/openapi3"
	"github.com/go-json-experiment/json"
	"github.com/google/go-cmp/cmp"

	"hodman/openapi"
	"hodman/testdata"
)

// pagesOnly are routes that are no calls of the contract.
var pagesOnly = []string{"GET /docs", "GET /docs/*", "GET /metrics", "GET /openapi.json"}

// TestRoutesAreTheDocuments holds routes and document against each other, both ways.
func TestRoutesAreTheDocuments(t *testing.T) {
	var routes []string
	for _, r := range router(Config{}.withDefaults(), nil, nil).Routes() {
		if name := r.Method + " " + r.Path; !slices.Contains(pagesOnly, name) {
			routes = append(routes, name)
		}
	}
	slices.Sort(routes)
	if diff := cmp.Diff(slices.Sorted(maps.Keys(operations())), routes); diff != "" {
		t.Errorf("document -, routes +:\n%s", diff)
	}
}

// TestEverySchemaIsBounded finds inputs that the document leaves open.
func TestEverySchemaIsBounded(t *testing.T) {
	seen := make(map[*openapi3.Schema]bool)
	var walk func(at string, s *openapi3.Schema)
	walk = func(at string, s *openapi3.Schema) {
		if seen[s] {
			return
		}
		seen[s] = true
		switch {
		case s.Description == "" && !strings.HasSuffix(at, "/allOf"):
			t.Errorf("%s has no description", at)
		case s.Type.Is("string") && s.MaxLength == nil && len(s.Enum) == 0:
			t.Errorf("%s: a text without maxLength", at)
		case s.Type.Is("array") && s.MaxItems == nil:
			t.Errorf("%s: a list without maxItems", at)
		case (s.Type.Is("number") || s.Type.Is("integer")) && s.Min == nil:
			t.Errorf("%s: a number without minimum", at)
		}
		for name, p := range s.Properties {
			walk(at+"/"+name, p.Value)
		}
		if s.Items != nil {
			walk(at+"/items", s.Items.Value)
		}
		for _, part := range s.AllOf {
			walk(at+"/allOf", part.Value)
		}
	}
	for name, s := range openapi.Document().Components.Schemas {
		walk(name, s.Value)
	}
}

// TestExamplesAreGood sends every example of a document to the calls that keep nothing.
func TestExamplesAreGood(t *testing.T) {
	c := computing(t, Config{})
	for name, op := range operations() {
		if op.schema == nil {
			continue
		}
		content := op.route.Operation.RequestBody.Value.Content[op.media]
		for _, example := range []any{content.Example, op.schema.Example} {
			raw, err := json.Marshal(example)
			if err != nil || example == nil {
				t.Errorf("%s has no good example: %v", name, err)
				continue
			}
			doc, err := parse(raw)
			if err != nil {
				t.Fatalf("%s: %v", name, err)
			}
			for _, f := range doc.hold(op.schema) {
				t.Errorf("%s: example %s: %s %s", name, raw, f.Pointer, f.Detail)
			}
			if !op.secured {
				c.send(http.MethodPost, op.route.Path, string(raw)).want(t, http.StatusOK)
			}
		}
	}
}

// TestComputingCalls sends the demo's documents and holds the answers against the document.
func TestComputingCalls(t *testing.T) {
	c := computing(t, Config{})
	c.send(http.MethodPost, "/v1/takeoffs", string(testdata.Garage)).want(t, http.StatusOK)
	taken := c.send(http.MethodPost, "/v1/takeoffs", string(testdata.RearWing)).want(t, http.StatusOK)
	drops := strings.TrimSuffix(strings.TrimSpace(string(testdata.RearWingDrops)), "}") + `,"takeoff":` + string(taken.body) + "}"
	c.send(http.MethodPost, "/v1/drop-plans", drops).want(t, http.StatusOK)
	c.send(http.MethodPost, "/v1/lintel-selections", read(t, "lintels/rear-wing.json")).want(t, http.StatusOK)
	c.send(http.MethodPost, "/v1/coursings", read(t, "coursings/rear-wing.json")).want(t, http.StatusOK)
	again := c.send(http.MethodPost, "/v1/takeoffs", string(testdata.RearWing))
	if string(again.body) != string(taken.body) {
		t.Error("the same schedule gave other bytes")
	}
}
