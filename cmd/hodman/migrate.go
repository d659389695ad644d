package main

import (
	"context"
	"flag"
	"fmt"

	"hodman/store"
)

// migrateCommand brings the database up to the tables of this program. It may be
// run any number of times, and by several at once.
func migrateCommand(ctx context.Context, p *process, args []string) error {
	if err := none(flag.NewFlagSet("migrate", flag.ContinueOnError), args); err != nil {
		return err
	}
	c, err := readConfig(p.getenv)
	if err != nil {
		return err
	}
	log := c.logger(p.stderr)
	return withDatabase(ctx, c, log, func(ctx context.Context, url string) error {
		if err := store.Migrate(ctx, url, log); err != nil {
			return err
		}
		fmt.Fprintln(p.stdout, "The database has the tables of this program.")
		return nil
	})
}
