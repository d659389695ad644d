package main

import (
	"context"
	"log/slog"

	"hodman/store"
	"hodman/store/localpg"
)

// withDatabase gives use the URL of the database that the settings name. Where
// they name none, a Postgres of our own runs in the data folder until use returns.
func withDatabase(ctx context.Context, c *config, log *slog.Logger, use func(url string) error) (err error) {
	if c.databaseURL != "" {
		return use(c.databaseURL)
	}
	server, err := localpg.Start(ctx, c.dataDir, log)
	if err != nil {
		return err
	}
	defer func() {
		if stopped := server.Stop(); err == nil {
			err = stopped
		}
	}()
	return use(server.URL())
}

// withStore gives use a store whose tables are those of this program.
func withStore(ctx context.Context, c *config, log *slog.Logger, use func(*store.Store) error) error {
	return withDatabase(ctx, c, log, func(url string) error {
		if err := store.Migrate(ctx, url, log); err != nil {
			return err
		}
		s, err := store.Open(ctx, url)
		if err != nil {
			return err
		}
		defer s.Close()
		return use(s)
	})
}
