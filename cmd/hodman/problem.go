package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"net/http"

	"github.com/go-json-experiment/json"
	"github.com/go-json-experiment/json/jsontext"

	"hodman/service"
	"hodman/service/finding"
)

// refused is an answer that is a problem document: what was sent is wrong
// (status under 500), or the service failed.
type refused struct {
	status   int
	document []byte
}

func (r *refused) Error() string {
	return fmt.Sprintf("refused with status %d", r.status)
}

// wrong is a command line or a setting that is wrong. It becomes a problem document too.
type wrong struct {
	Title  string         `json:"title"`
	Detail string         `json:"detail"`
	Errors finding.Faults `json:"errors,omitzero"`
}

func (w *wrong) Error() string { return w.Title + ": " + w.Detail }

func wrongLine(format string, args ...any) error {
	return &wrong{Title: "The command line is wrong", Detail: fmt.Sprintf(format, args...)}
}

// mistake turns what the service says is the caller's doing into a problem of the
// command line; the rest stays as it is.
func mistake(err error) error {
	var e *service.Error
	if errors.As(err, &e) && (e.Kind == service.Invalid || e.Kind == service.NotFound) {
		return &wrong{Title: "The command line is wrong", Detail: e.Message, Errors: e.Faults}
	}
	return err
}

// exitCode is 0 done, 1 failed, 2 the input or the command line is wrong.
func exitCode(err error) int {
	var r *refused
	var w *wrong
	switch {
	case err == nil:
		return 0
	case errors.As(err, &w), errors.As(err, &r) && r.status < http.StatusInternalServerError:
		return 2
	}
	return 1
}

// tell writes what went wrong: a problem document for what the caller can mend,
// a line for the rest. A stop that was asked for needs no words.
func tell(w io.Writer, err error) {
	var r *refused
	var bad *wrong
	switch {
	case err == nil, errors.Is(err, context.Canceled):
	case errors.As(err, &r):
		fmt.Fprintln(w, indented(r.document))
	case errors.As(err, &bad):
		document, _ := json.Marshal(bad) // strings only: it cannot fail
		fmt.Fprintln(w, indented(document))
	default:
		fmt.Fprintln(w, "hodman:", err)
	}
}

// indented sets out a JSON document for reading, or leaves it as it is where it is none.
func indented(document []byte) string {
	v := jsontext.Value(append([]byte(nil), document...))
	if err := v.Indent(jsontext.WithIndent("  ")); err != nil {
		return string(document)
	}
	return string(v)
}
