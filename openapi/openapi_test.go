package openapi

import "testing"

// TestDocument reads and checks the document, its examples with it.
func TestDocument(t *testing.T) {
	doc := Document()
	if doc.OpenAPI != "3.0.3" {
		t.Errorf("openapi is %s: a later one is compiled again on every request", doc.OpenAPI)
	}
}
