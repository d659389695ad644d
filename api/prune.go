package api

import (
	stdjson "encoding/json" // for its Number alone
	"strings"

	"github.com/go-json-experiment/json"
	"github.com/go-json-experiment/json/jsontext"

	"hodman/service/coursing"
	"hodman/service/drop"
	"hodman/service/finding"
	"hodman/service/lintel"
	"hodman/service/schedule"
)

// alsoWrong adds to the mistakes of form those of sense that can be seen all the
// same: what is wrong in form is taken out, the rest is read and checked, and what is
// said about the places that were taken out is passed over.
func (s *server) alsoWrong(doc *document, faults finding.Faults, into any) finding.Faults {
	var gone []string
	for i := range faults {
		at, ok := doc.prune(faults[i].Pointer)
		if !ok {
			return faults
		}
		gone = append(gone, at)
	}
	rest, err := json.Marshal(doc.root, json.WithMarshalers(json.MarshalToFunc(asIs)))
	if err != nil || strictly(rest, into) != nil {
		return faults
	}
	for _, f := range s.check(into) {
		if !touches(f.Pointer, gone) {
			faults = append(faults, f)
		}
	}
	return faults
}

// asIs writes a number as it was sent.
func asIs(enc *jsontext.Encoder, n stdjson.Number) error {
	return enc.WriteValue(jsontext.Value(n))
}

// check finds the mistakes of sense in a document that has been read.
func (s *server) check(v any) finding.Faults {
	switch v := v.(type) {
	case *schedule.Schedule:
		return v.Check(s.svc.Catalogue())
	case *lintel.Request:
		return v.Check(s.svc.Catalogue())
	case *coursing.Request:
		return v.Check()
	case *drop.Request:
		return v.Check()
	}
	return nil
}

// prune takes the member at the pointer out of the document, or the nearest member
// around it where it stands in a list: the others must keep their places. It returns
// where the member stood; false where nothing would be left.
func (d *document) prune(pointer string) (string, bool) {
	names := strings.Split(pointer, "/")[1:]
	var at map[string]any
	depth := 0
	v := d.root
	for i, name := range names {
		switch here := v.(type) {
		case map[string]any:
			at, depth = here, i
			v = here[unescape(name)]
		case []any:
			v = element(here, name)
		default:
			v = nil
		}
	}
	if at == nil {
		return "", false
	}
	delete(at, unescape(names[depth]))
	return "/" + strings.Join(names[:depth+1], "/"), true
}

func unescape(name string) string { return strings.NewReplacer("~1", "/", "~0", "~").Replace(name) }

// element is a list's element by its number in decimal, nil where there is none.
func element(list []any, name string) any {
	n := 0
	for _, digit := range name {
		n = n*10 + int(digit-'0')
		if digit < '0' || digit > '9' || n >= len(list) {
			return nil
		}
	}
	return list[n]
}

// touches says whether a place lies in, at or around one of those.
func touches(place string, others []string) bool {
	for _, o := range others {
		if place == "" || place == o || strings.HasPrefix(place, o+"/") || strings.HasPrefix(o, place+"/") {
			return true
		}
	}
	return false
}
