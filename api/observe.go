package api

import (
	"context"
	"fmt"
	"log/slog"
	"net/http"
	"regexp"
	"runtime/debug"
	"time"

	"github.com/google/uuid"
	"github.com/labstack/echo/v4"
)

var goodRequestID = regexp.MustCompile(`^[A-Za-z0-9._-]{1,64}$`)

// observe gives a request its id, turns a panic into an answer, and writes one line
// and one measurement about it. Neither holds documents, keys or raw paths.
func (s *server) observe(next echo.HandlerFunc) echo.HandlerFunc {
	return func(c echo.Context) error {
		began := time.Now()
		id := c.Request().Header.Get("X-Request-Id")
		if !goodRequestID.MatchString(id) {
			id = uuid.Must(uuid.NewV7()).String() // fails only where the system has no random numbers
		}
		method := methodOf(c.Request())
		h := c.Response().Header()
		h.Set("X-Request-Id", id)
		h.Set("X-Content-Type-Options", "nosniff")
		h.Set("Cache-Control", "no-store")
		c.Response().Before(func() { allowHead(h) }) // echo writes Allow, and knows nothing of headAsGet
		err := rescue(next, c)
		if err != nil {
			c.Error(err)
		}
		s.report(c, method, id, time.Since(began), err)
		return nil
	}
}

// rescue runs the handler; a panic comes back as an error with the place it came from.
func rescue(next echo.HandlerFunc, c echo.Context) (err error) {
	defer func() {
		if p := recover(); p != nil {
			if p == http.ErrAbortHandler {
				panic(p) // net/http's own way to drop a connection
			}
			err = fmt.Errorf("panic: %v\n%s", p, debug.Stack())
		}
	}()
	return next(c)
}

func (s *server) report(c echo.Context, method, id string, took time.Duration, err error) {
	route, status := c.Path(), c.Response().Status
	if route == "" {
		route = "unmatched"
	}
	s.metrics.observe(method, route, status, took)
	level := slog.LevelInfo
	attrs := []slog.Attr{slog.String("id", id), slog.String("method", method), slog.String("route", route), slog.Int("status", status),
		slog.Duration("took", took), slog.Int64("bytes", c.Response().Size), slog.String("client", c.RealIP())}
	if in, ok := c.Get("call").(*call); ok && in.principal.KeyID != uuid.Nil {
		attrs = append(attrs, slog.String("tenant", in.principal.Tenant.String()), slog.String("key", in.principal.KeyID.String()))
	}
	if err != nil && status >= http.StatusInternalServerError {
		level = slog.LevelError
		attrs = append(attrs, slog.String("cause", err.Error()))
	}
	s.log.LogAttrs(c.Request().Context(), level, "request", attrs...)
}

// headAsGet answers HEAD as GET without the body. The request is copied: net/http
// looks at its own to know that no body follows.
func headAsGet(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if r.Method == http.MethodHead {
			r = r.WithContext(context.WithValue(r.Context(), headKey{}, true))
			r.Method, w = http.MethodGet, bodiless{w}
		}
		next.ServeHTTP(w, r)
	})
}

type headKey struct{}

// methodOf is the method as it was sent.
func methodOf(r *http.Request) string {
	if r.Context().Value(headKey{}) != nil {
		return http.MethodHead
	}
	return r.Method
}

type bodiless struct{ http.ResponseWriter }

func (bodiless) Write(b []byte) (int, error) { return len(b), nil }
