package api

import (
	"bytes"
	"errors"
	"io"
	"net/http"
	"strconv"

	"github.com/go-json-experiment/json"
	"github.com/go-json-experiment/json/jsontext"
	"github.com/labstack/echo/v4"

	"hodman/service"
	"hodman/service/finding"
)

// binder reads a request's document. Parameters are the generated code's to read.
type binder struct{}

func (binder) Bind(into any, c echo.Context) error { return codec{}.Deserialize(c, into) }

// codec is the one JSON of the service: names letter for letter, no member unknown,
// none twice, UTF-8 only, nothing after the document.
type codec struct{}

// Serialize is how echo itself would write JSON. Answers are written by [reply].
func (codec) Serialize(c echo.Context, v any, _ string) error {
	return json.MarshalWrite(c.Response(), v)
}

// Deserialize reads the document of the call into the type it is read as.
func (codec) Deserialize(c echo.Context, into any) error {
	in := callOf(c.Request().Context())
	if in.direct && !odd(in.raw) && strictly(in.raw, into) == nil {
		return nil
	}
	return in.readSlowly(into)
}

// odd says whether a document holds what the engines' own types cannot tell from
// its being left out, or what a database cannot keep: null, an empty text, NUL. Inside
// of a longer text they do no harm; then the slow way finds nothing.
func odd(raw []byte) bool {
	return bytes.Contains(raw, []byte("null")) || bytes.Contains(raw, []byte(`""`)) || bytes.Contains(raw, []byte(`\u0000`))
}

func strictly(raw []byte, into any) error {
	return json.Unmarshal(raw, into, json.RejectUnknownMembers(true))
}

// readSlowly holds the document against the contract first, so that all its mistakes
// are told at once, and then reads it.
func (in *call) readSlowly(into any) error {
	doc, err := parse(in.raw)
	if err != nil {
		return err
	}
	faults := doc.hold(in.schema)
	if len(faults) == 0 {
		err := strictly(in.raw, into)
		if err == nil {
			return nil
		}
		faults = misread(err)
	}
	return &service.Error{Kind: service.Invalid, Code: "invalid", Faults: in.server.alsoWrong(doc, faults, into),
		Message: "The document has mistakes; each is listed with its place."}
}

// misread words what only the engines' types refuse: a number finer than can be
// measured, in a place that the contract leaves open.
func misread(err error) finding.Faults {
	var faults finding.Faults
	var e *json.SemanticError
	switch {
	case !errors.As(err, &e):
		faults.Add("", "type", "cannot be read")
	case errors.Is(err, json.ErrUnknownName):
		faults.Add(string(e.JSONPointer), "unknown", "there is no such member; leave it out")
	case e.Err != nil:
		faults.Add(string(e.JSONPointer), "range", e.Err.Error())
	default:
		faults.Add(string(e.JSONPointer), "type", "is a "+e.JSONKind.String()+", which does not belong there")
	}
	return faults
}

// unreadable is a document that is no JSON as we take it.
func unreadable(code, detail string, at jsontext.Pointer) error {
	pointer := string(bytes.ToValidUTF8([]byte(at), []byte("\uFFFD")))
	return &refusal{status: http.StatusBadRequest, code: code, detail: "The document cannot be read: " + detail + ".",
		mistakes: []mistake{{Pointer: &pointer, Code: code, Detail: detail}}}
}

// broken words a mistake of syntax with the byte where reading stopped.
func broken(err error) error {
	var e *jsontext.SyntacticError
	switch {
	case errors.Is(err, io.EOF) || errors.Is(err, io.ErrUnexpectedEOF):
		return unreadable("not_json", "it is empty or ends too early", "")
	case !errors.As(err, &e):
		return unreadable("not_json", "it is no JSON", "")
	case errors.Is(err, jsontext.ErrDuplicateName):
		return unreadable("duplicate_member", "a member stands twice in one object; keep one of them", e.JSONPointer)
	case errors.Is(err, io.ErrUnexpectedEOF):
		return unreadable("not_json", "it ends too early", e.JSONPointer)
	}
	return unreadable("not_json", e.Err.Error()+" after byte "+strconv.FormatInt(e.ByteOffset, 10)+"; send one document of JSON in UTF-8", e.JSONPointer)
}
