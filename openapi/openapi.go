// Package openapi holds the contract of the HTTP API: openapi.yaml is the source
// of truth, and what the api package generates and validates with comes from it.
package openapi

import (
	"context"
	_ "embed"
	"sync"

	"github.com/getkin/kin-openapi/openapi3"
)

// YAML is the document as it is written.
//
//go:embed openapi.yaml
var YAML []byte

// Document is the document, read and checked, with every reference resolved. It is
// shared: do not change it.
var Document = sync.OnceValue(func() *openapi3.T {
	openapi3.DefineStringFormatValidator("uuid", openapi3.NewRegexpFormatValidator(openapi3.FormatOfStringForUUIDOfRFC9562))
	doc, err := openapi3.NewLoader().LoadFromData(YAML)
	if err == nil {
		err = doc.Validate(context.Background())
	}
	if err != nil {
		panic(err) // our own file: a broken one cannot start
	}
	return doc
})
