//go:build !unix

// Package localpg runs a Postgres of hodman's own, which it cannot on this system.
package localpg

import (
	"context"
	"errors"
	"log/slog"
)

// Server is never made here.
type Server struct{}

// Option changes nothing here.
type Option func(*struct{})

// Start always fails.
func Start(context.Context, string, *slog.Logger, ...Option) (*Server, error) {
	return nil, errors.New("hodman cannot run a Postgres of its own on this system: set HODMAN_DATABASE_URL")
}

// Running finds none.
func Running(context.Context, string) (string, error) { return "", nil }

// DefaultDir is where the data would be.
func DefaultDir(func(string) string) string { return "hodman-data" }

func (*Server) URL() string           { return "" }
func (*Server) Done() <-chan struct{} { return nil }
func (*Server) Stop() error           { return nil }
