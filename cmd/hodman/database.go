package main

import (
	"context"
	"errors"
	"log/slog"

	"hodman/store"
	"hodman/store/localpg"
)

// errEnded says that our own Postgres is gone, and that we did not ask for it.
var errEnded = errors.New("the Postgres of our own has ended by itself")

// withDatabase gives use the URL of the database that the settings name. Where
// they name none, a Postgres of our own runs in the data folder until use returns;
// should it end before that, use's context ends too.
func withDatabase(ctx context.Context, c *config, log *slog.Logger, use func(ctx context.Context, url string) error) (err error) {
	if c.databaseURL != "" {
		return use(ctx, c.databaseURL)
	}
	server, err := localpg.Start(ctx, c.dataDir, log)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, server.Stop()) }()
	ctx, cancel := context.WithCancelCause(ctx)
	defer cancel(nil)
	go func() {
		select {
		case <-server.Done():
			cancel(errEnded)
		case <-ctx.Done():
		}
	}()
	err = use(ctx, server.URL())
	if errors.Is(context.Cause(ctx), errEnded) {
		err = errors.Join(errEnded, err)
	}
	return err
}

// withRunningStore is withStore, but where another hodman serves from the same
// folder it uses that one's Postgres: a key can be made while the service runs.
func withRunningStore(ctx context.Context, c *config, log *slog.Logger, use func(context.Context, *store.Store) error) error {
	there := *c
	if c.databaseURL == "" {
		url, err := localpg.Running(ctx, c.dataDir)
		if err != nil {
			return err
		}
		there.databaseURL = url
	}
	return withStore(ctx, &there, log, use)
}

// withStore gives use a store whose tables are those of this program.
func withStore(ctx context.Context, c *config, log *slog.Logger, use func(context.Context, *store.Store) error) error {
	return withDatabase(ctx, c, log, func(ctx context.Context, url string) error {
		if err := store.Migrate(ctx, url, log); err != nil {
			return err
		}
		s, err := store.Open(ctx, url)
		if err != nil {
			return err
		}
		defer s.Close()
		return use(ctx, s)
	})
}
