// Package api is hodman over HTTP: it turns requests into calls of the service and
// what comes back into documents. Routes and the types of parameters are generated
// from openapi/openapi.yaml; what the document says is what is let in.
package api

import (
	"context"
	"crypto/rand"
	"log/slog"
	"net/http"
	"runtime"
	"time"

	"github.com/labstack/echo/v4"

	"hodman/service"
)

// Config is what can be set about the HTTP service. The zero value is good: every
// member that is left out has the default named beside it.
type Config struct {
	// MaxBody is the most bytes of a request's document: 4 MiB.
	MaxBody int64
	// Computing is how many documents are counted at once: two a processor. Others
	// wait for up to QueueWait (one second) and are then told to come again.
	Computing int
	QueueWait time.Duration
	// Timeout is how long one request may take: 30 seconds.
	Timeout time.Duration
	// Rate and Burst bound the requests of one client address, and those of one access
	// key: 100 a second, 400 at once. A negative rate sets no bound.
	Rate  float64
	Burst int
	// CursorKey signs the cursors of lists. Several servers behind one address need the
	// same; where it is left out it is made up at the start.
	CursorKey []byte
}

func (c Config) withDefaults() Config {
	c.MaxBody = or(c.MaxBody, service.MaxDocument)
	c.Computing = or(c.Computing, 2*runtime.GOMAXPROCS(0))
	c.QueueWait = or(c.QueueWait, time.Second)
	c.Timeout = or(c.Timeout, 30*time.Second)
	c.Rate = or(c.Rate, 100)
	c.Burst = or(c.Burst, 400)
	if len(c.CursorKey) == 0 {
		c.CursorKey = make([]byte, 32)
		rand.Read(c.CursorKey) // never fails
	}
	return c
}

// or is what was given, or else what is meant where it is left out.
func or[T comparable](given, otherwise T) T {
	var none T
	if given == none {
		return otherwise
	}
	return given
}

// server answers the calls of the contract.
type server struct {
	Config
	svc     *service.Service
	log     *slog.Logger
	metrics *metrics
	meter   *meter
	slots   chan struct{}
}

var _ StrictServerInterface = (*server)(nil)

// New makes the handler that serves everything: the calls of the contract, the
// document itself, its pages for people, and the metrics. log gets one line a request.
func New(cfg Config, svc *service.Service, log *slog.Logger) http.Handler {
	return headAsGet(router(cfg.withDefaults(), svc, log))
}

func router(cfg Config, svc *service.Service, log *slog.Logger) *echo.Echo {
	s := &server{Config: cfg, svc: svc, log: log, metrics: newMetrics(),
		meter: newMeter(cfg.Rate, cfg.Burst), slots: make(chan struct{}, cfg.Computing)}
	e := echo.New()
	e.HideBanner, e.HidePort = true, true
	e.IPExtractor = echo.ExtractIPDirect() // forwarded headers are anybody's to write
	e.Binder, e.JSONSerializer = binder{}, codec{}
	e.HTTPErrorHandler = s.writeProblem
	e.Use(s.observe, s.bound, s.admit)
	RegisterHandlers(e, NewStrictHandler(s, nil))
	s.serveDocument(e)
	e.GET("/metrics", echo.WrapHandler(s.metrics.handler()))
	return e
}

// bound limits how often one address asks and how long a request takes.
func (s *server) bound(next echo.HandlerFunc) echo.HandlerFunc {
	return func(c echo.Context) error {
		if wait := s.meter.wait("address " + c.RealIP()); wait > 0 {
			return tooMany(wait)
		}
		ctx, cancel := context.WithTimeout(c.Request().Context(), s.Timeout)
		defer cancel()
		c.SetRequest(c.Request().WithContext(ctx))
		return next(c)
	}
}

// slot waits for room to count one more document and returns what gives it back.
func (s *server) slot(ctx context.Context) (free func(), err error) {
	free = func() { <-s.slots }
	select {
	case s.slots <- struct{}{}:
		return free, nil
	default:
	}
	timer := time.NewTimer(s.QueueWait)
	defer timer.Stop()
	select {
	case s.slots <- struct{}{}:
		return free, nil
	case <-timer.C:
	case <-ctx.Done():
	}
	return nil, &service.Error{Kind: service.Unavailable, Code: "busy", RetryAfter: 2 * time.Second,
		Message: "Too many documents are being counted at once. Send it again after the time in Retry-After."}
}
