package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"log/slog"
	"net"
	"net/http"
	"runtime/debug"
	"time"

	"hodman/api"
	"hodman/service"
	"hodman/store"
)

// serve runs the service until it is told to stop. Then it takes no more
// requests, lets those it has finish, closes the pool and stops its Postgres.
func serve(ctx context.Context, p *process, args []string) error {
	if err := none(flag.NewFlagSet("serve", flag.ContinueOnError), args); err != nil {
		return err
	}
	c, err := readConfig(p.getenv)
	if err != nil {
		return err
	}
	log := c.logger(p.stderr)
	// The live heap is a few MB and a takeoff allocates a quarter of one: at Go's own
	// setting the collector runs every dozen requests and takes a fifth of the time.
	if p.getenv("GOGC") == "" {
		debug.SetGCPercent(400)
	}
	return withStore(ctx, c, log, func(ctx context.Context, s *store.Store) error {
		listener, err := net.Listen("tcp", c.addr)
		if err != nil {
			return fmt.Errorf("%w: stop what has that address, or set HODMAN_ADDR to another", err)
		}
		log.LogAttrs(ctx, slog.LevelInfo, "serving", slog.String("addr", listener.Addr().String()))
		return serveHTTP(ctx, listener, api.New(c.api, service.New(s), log), c.stopWithin, log)
	})
}

// serveHTTP answers on the listener until ctx ends, then finishes what it has begun
// within that time. It closes the listener.
func serveHTTP(ctx context.Context, listener net.Listener, handler http.Handler, stopWithin time.Duration, log *slog.Logger) error {
	server := &http.Server{
		Handler:           handler,
		ReadHeaderTimeout: 5 * time.Second,
		ReadTimeout:       30 * time.Second,
		WriteTimeout:      60 * time.Second,
		IdleTimeout:       2 * time.Minute,
		MaxHeaderBytes:    64 << 10,
		ErrorLog:          slog.NewLogLogger(log.Handler(), slog.LevelWarn),
	}
	failed := make(chan error, 1)
	go func() { failed <- server.Serve(listener) }()
	select {
	case err := <-failed:
		return fmt.Errorf("serve: %w", err)
	case <-ctx.Done():
	}
	log.LogAttrs(ctx, slog.LevelInfo, "stopping")
	last, cancel := context.WithTimeout(context.WithoutCancel(ctx), stopWithin)
	defer cancel()
	if err := server.Shutdown(last); err != nil {
		server.Close()
		return fmt.Errorf("requests were still running after %s: %w", stopWithin, err)
	}
	if err := <-failed; !errors.Is(err, http.ErrServerClosed) {
		return fmt.Errorf("serve: %w", err)
	}
	log.LogAttrs(ctx, slog.LevelInfo, "stopped")
	return nil
}
