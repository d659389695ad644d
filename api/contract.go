package api

import (
	"net/http"
	"strings"
	"sync"

	"github.com/getkin/kin-openapi/openapi3"
	"github.com/getkin/kin-openapi/routers"

	"hodman/openapi"
)

// operation is one call of the contract as the document describes it.
type operation struct {
	id      string
	params  openapi3.Parameters
	route   *routers.Route
	schema  *openapi3.Schema // of its document; nil: it takes none
	media   string           // media type of its document
	secured bool             // needs an access key
	counts  bool             // takes a document apart or counts: bounded in number
	direct  bool             // its document is read straight into the engines' own types
	answers string           // media type of a good answer
}

// direct are the calls whose documents may be large: they are read once, straight
// into the engines' types, and checked there. Only what fails is held against the
// document, to tell every mistake.
var direct = map[string]bool{"computeTakeoff": true, "selectLintels": true, "computeCoursing": true, "planDrops": true, "addSchedule": true,
	"drawElevation": true}

// operations are all of them by method and echo's form of the path.
var operations = sync.OnceValue(func() map[string]*operation {
	doc := openapi.Document()
	all := make(map[string]*operation)
	for path, item := range doc.Paths.Map() {
		for method, op := range item.Operations() {
			o := &operation{id: op.OperationID, params: append(append(openapi3.Parameters(nil), item.Parameters...), op.Parameters...),
				route:   &routers.Route{Spec: doc, Path: path, PathItem: item, Method: method, Operation: op},
				secured: op.Security != nil && len(*op.Security) > 0, direct: direct[op.OperationID], answers: goodMedia(op)}
			o.counts = o.direct || o.id == "makeTakeoff" || o.id == "getElevation"
			if op.RequestBody != nil {
				for media, content := range op.RequestBody.Value.Content {
					o.media, o.schema = media, content.Schema.Value
				}
			}
			all[method+" "+echoPath(path)] = o
		}
	}
	return all
})

// goodMedia is the media type of a call's good answer.
func goodMedia(op *openapi3.Operation) string {
	for _, status := range []int{http.StatusOK, http.StatusCreated} {
		if good := op.Responses.Status(status); good != nil {
			for media := range good.Value.Content {
				return media
			}
		}
	}
	return "application/json"
}

// echoPath writes {name} as :name.
func echoPath(path string) string {
	return strings.NewReplacer("{", ":", "}", "").Replace(path)
}

// writes says whether the call needs an Idempotency-Key.
func (o *operation) writes() bool { return o.secured && o.route.Method == http.MethodPost }
