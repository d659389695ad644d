package api

import (
	"context"
	"errors"
	"math"
	"net/http"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/go-json-experiment/json"
	"github.com/labstack/echo/v4"

	"hodman/service"
	"hodman/service/finding"
)

// problem is how everything that goes wrong is told (RFC 9457).
type problem struct {
	Type        string    `json:"type"`
	Title       string    `json:"title"`
	Status      int       `json:"status"`
	Detail      string    `json:"detail"`
	Code        string    `json:"code"`
	RequestID   string    `json:"request_id"`
	CurrentETag string    `json:"current_etag,omitzero"`
	ErrorsTotal int       `json:"errors_total,omitzero"`
	Errors      []mistake `json:"errors,omitzero"`
}

// mistake is one thing to change: a place in the document, or a parameter.
type mistake struct {
	Pointer   *string `json:"pointer,omitzero"`
	Parameter string  `json:"parameter,omitzero"`
	In        string  `json:"in,omitzero"`
	Code      string  `json:"code"`
	Detail    string  `json:"detail"`
}

// mostMistakes are told of one request; errors_total says how many there are.
const mostMistakes = 100

// refusal is what this package itself says no to: how a request is put, not what it asks.
type refusal struct {
	status   int
	code     string
	detail   string
	mistakes []mistake
	header   http.Header
}

func (r *refusal) Error() string { return r.code + ": " + r.detail }

// statusOf is the only table from kinds of error to statuses.
var statusOf = map[service.Kind]int{
	service.Internal:     http.StatusInternalServerError,
	service.BadRequest:   http.StatusBadRequest,
	service.Unauthorised: http.StatusUnauthorized,
	service.Forbidden:    http.StatusForbidden,
	service.NotFound:     http.StatusNotFound,
	service.Conflict:     http.StatusConflict,
	service.Infeasible:   http.StatusConflict,
	service.Stale:        http.StatusPreconditionFailed,
	service.TooLarge:     http.StatusRequestEntityTooLarge,
	service.Unsupported:  http.StatusUnsupportedMediaType,
	service.Invalid:      http.StatusUnprocessableEntity,
	service.MatchNeeded:  http.StatusPreconditionRequired,
	service.TooMany:      http.StatusTooManyRequests,
	service.Unavailable:  http.StatusServiceUnavailable,
}

// writeProblem is the only writer of problems: echo hands it every error.
func (s *server) writeProblem(err error, c echo.Context) {
	if c.Response().Committed {
		return // too late: the log has it
	}
	p, header := problemOf(err)
	for name, values := range header {
		c.Response().Header()[name] = values
	}
	p.Type, p.Title = "about:blank", http.StatusText(p.Status)
	p.RequestID = c.Response().Header().Get("X-Request-Id")
	body, err := json.Marshal(&p)
	if err != nil {
		panic(err) // texts and numbers only, made valid before they come here
	}
	h := c.Response().Header()
	h.Set("Content-Type", "application/problem+json")
	h.Set("Content-Language", "en")
	h.Set("Content-Length", strconv.Itoa(len(body)))
	c.Response().WriteHeader(p.Status)
	c.Response().Write(body) // a caller who has gone away is no matter of ours
}

// problemOf turns an error into what the caller may know of it.
func problemOf(err error) (problem, http.Header) {
	var e *service.Error
	var r *refusal
	var h *echo.HTTPError
	switch {
	case errors.As(err, &r):
		return problem{Status: r.status, Code: r.code, Detail: r.detail, Errors: r.mistakes}, r.header
	case errors.As(err, &e):
		return problemOfService(e)
	case errors.As(err, &h):
		return problemOfEcho(h), nil
	case errors.Is(err, context.DeadlineExceeded), errors.Is(err, context.Canceled):
		return problem{Status: http.StatusServiceUnavailable, Code: "timeout", Detail: "It took too long. Send it again, in parts if it is large."}, retryAfter(time.Second)
	}
	return internal, nil
}

var internal = problem{Status: http.StatusInternalServerError, Code: "internal", Detail: "internal error"}

func problemOfService(e *service.Error) (problem, http.Header) {
	status, known := statusOf[e.Kind]
	if !known || status == http.StatusInternalServerError {
		return internal, nil
	}
	p := problem{Status: status, Code: e.Code, Detail: e.Message, CurrentETag: e.Current, Errors: mistakesOf(e.Faults)}
	if len(e.Faults) > mostMistakes {
		p.ErrorsTotal, p.Errors = len(e.Faults), p.Errors[:mostMistakes]
	}
	after := e.RetryAfter
	if e.Kind == service.Unavailable {
		after = max(after, time.Second)
	}
	return p, retryAfter(after)
}

func mistakesOf(faults finding.Faults) []mistake {
	var all []mistake
	for i := range faults {
		f := &faults[i]
		pointer := strings.ToValidUTF8(f.Pointer, "\uFFFD")
		all = append(all, mistake{Pointer: &pointer, Code: f.Code, Detail: strings.ToValidUTF8(f.Detail, "\uFFFD")})
	}
	return all
}

// retryAfter rounds up to whole seconds.
func retryAfter(after time.Duration) http.Header {
	if after <= 0 {
		return nil
	}
	return http.Header{"Retry-After": {strconv.Itoa(int(math.Ceil(after.Seconds())))}}
}

// problemOfEcho words what the router and the generated code say no to.
func problemOfEcho(e *echo.HTTPError) problem {
	switch e.Code {
	case http.StatusNotFound:
		return problem{Status: e.Code, Code: "not_found", Detail: "There is nothing at this address. The calls are listed in /openapi.json."}
	case http.StatusMethodNotAllowed:
		return problem{Status: e.Code, Code: "method_not_allowed", Detail: "This address does not take that method. Allow lists those it takes."}
	case http.StatusBadRequest:
		return problem{Status: e.Code, Code: "parameters", Detail: "A parameter is not of the form that /openapi.json describes."}
	}
	return internal
}

// allowHead adds HEAD, which every GET answers too.
func allowHead(h http.Header) {
	methods := strings.Split(h.Get("Allow"), ", ")
	if slices.Contains(methods, http.MethodGet) && !slices.Contains(methods, http.MethodHead) {
		h.Set("Allow", strings.Join(append(methods, http.MethodHead), ", "))
	}
}
