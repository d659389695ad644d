package api

import (
	"bytes"
	"context"
	"io"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"

	"github.com/getkin/kin-openapi/openapi3filter"
	"github.com/go-json-experiment/json"
	"github.com/google/uuid"

	"hodman/service"
	"hodman/store/storetest"
)

func init() {
	openapi3filter.RegisterBodyDecoder("application/health+json", openapi3filter.RegisteredBodyDecoder("application/json"))
	openapi3filter.RegisterBodyDecoder("image/svg+xml", openapi3filter.RegisteredBodyDecoder("text/plain"))
}

// client asks a handler in this process and holds every answer against the document.
type client struct {
	t       testing.TB
	handler http.Handler
	key     string
	from    string // the peer's address
}

// computing is a client of a service that keeps nothing.
func computing(t testing.TB, cfg Config) *client {
	t.Helper()
	return &client{t: t, handler: New(cfg, service.New(nil), slog.New(slog.DiscardHandler)), from: "192.0.2.1:1234"}
}

// keeping is a client of a service with a database of its own, and a key to it.
func keeping(t testing.TB) (*client, *service.Service) {
	t.Helper()
	svc := service.New(storetest.New(t))
	c := &client{t: t, handler: New(Config{}, svc, slog.New(slog.DiscardHandler)), from: "192.0.2.1:1234"}
	c.key = newKey(t, svc, "main")
	return c, svc
}

func newKey(t testing.TB, svc *service.Service, merchant string) string {
	t.Helper()
	_, secret, err := svc.CreateKey(t.Context(), service.KeyDraft{Merchant: merchant, Name: "counter"})
	if err != nil {
		t.Fatal(err)
	}
	return secret
}

// answered is what came back.
type answered struct {
	*http.Response
	body []byte
}

// send asks and checks the answer against the document. Headers come as name, value;
// an empty value takes a usual header away.
func (c *client) send(method, target, body string, headers ...string) answered {
	c.t.Helper()
	r := httptest.NewRequestWithContext(context.Background(), method, target, strings.NewReader(body))
	r.RemoteAddr = c.from
	if c.key != "" {
		r.Header.Set("Authorization", "Bearer "+c.key)
	}
	switch method {
	case http.MethodPost:
		r.Header.Set("Content-Type", "application/json")
		r.Header.Set("Idempotency-Key", uuid.NewString())
	case http.MethodPatch:
		r.Header.Set("Content-Type", "application/merge-patch+json")
	}
	for i := 0; i < len(headers); i += 2 {
		r.Header.Del(headers[i])
		if headers[i+1] != "" {
			r.Header.Add(headers[i], headers[i+1])
		}
	}
	return c.do(r)
}

func (c *client) do(r *http.Request) answered {
	c.t.Helper()
	w := httptest.NewRecorder()
	c.handler.ServeHTTP(w, r)
	a := answered{Response: w.Result()}
	a.body, _ = io.ReadAll(a.Body)
	c.hold(r, a)
	return a
}

// hold checks an answer against the document.
func (c *client) hold(r *http.Request, a answered) {
	c.t.Helper()
	if a.Header.Get("X-Request-Id") == "" {
		c.t.Errorf("%s %s: no X-Request-Id", r.Method, r.URL.Path)
	}
	if a.StatusCode >= 400 && r.Method != http.MethodHead {
		if got := a.Header.Get("Content-Type"); got != "application/problem+json" {
			c.t.Errorf("%s %s: status %d as %q", r.Method, r.URL.Path, a.StatusCode, got)
		}
		if p := a.problem(c.t); p.Status != a.StatusCode || p.RequestID != a.Header.Get("X-Request-Id") {
			c.t.Errorf("problem says %d, %s; the answer has %d, %s", p.Status, p.RequestID, a.StatusCode, a.Header.Get("X-Request-Id"))
		}
	}
	op, params := find(r)
	if op == nil || r.Method == http.MethodHead {
		return
	}
	err := openapi3filter.ValidateResponse(r.Context(), &openapi3filter.ResponseValidationInput{
		RequestValidationInput: &openapi3filter.RequestValidationInput{Request: r, Route: op.route, PathParams: params},
		Status:                 a.StatusCode, Header: a.Header, Body: io.NopCloser(bytes.NewReader(a.body)),
		Options: &openapi3filter.Options{IncludeResponseStatus: true, MultiError: true},
	})
	if err != nil {
		c.t.Errorf("%s %s answers %d, not as the document says: %v", r.Method, r.URL.Path, a.StatusCode, err)
	}
}

// find is the call that a request is meant for, found by other means than the router.
func find(r *http.Request) (*operation, map[string]string) {
	parts := strings.Split(r.URL.EscapedPath(), "/")
	for _, op := range operations() {
		names := strings.Split(op.route.Path, "/")
		if op.route.Method != r.Method || len(names) != len(parts) {
			continue
		}
		params, same := make(map[string]string), true
		for i, n := range names {
			if strings.HasPrefix(n, "{") {
				params[strings.Trim(n, "{}")] = parts[i]
			} else if n != parts[i] {
				same = false
			}
		}
		if same {
			return op, params
		}
	}
	return nil, nil
}

func (a answered) problem(t testing.TB) problem {
	t.Helper()
	var p problem
	if err := json.Unmarshal(a.body, &p, json.RejectUnknownMembers(true)); err != nil {
		t.Fatalf("status %d is no problem document: %v\n%s", a.StatusCode, err, a.body)
	}
	return p
}

// want fails where the status is another.
func (a answered) want(t testing.TB, status int) answered {
	t.Helper()
	if a.StatusCode != status {
		t.Fatalf("status %d, want %d\n%s", a.StatusCode, status, a.body)
	}
	return a
}

// codes are the mistakes of a problem as "pointer code", or "parameter code".
func (a answered) codes(t testing.TB) []string {
	t.Helper()
	var all []string
	for _, m := range a.problem(t).Errors {
		at := m.Parameter
		if m.Pointer != nil {
			at = *m.Pointer
		}
		all = append(all, at+" "+m.Code)
	}
	return all
}

func (a answered) into(t testing.TB, v any) {
	t.Helper()
	if err := json.Unmarshal(a.body, v); err != nil {
		t.Fatalf("%v\n%s", err, a.body)
	}
}
