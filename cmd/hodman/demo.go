package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"log/slog"
	"net"
	"net/url"
	"path/filepath"

	"hodman/api"
	"hodman/service"
	"hodman/store"
)

// demo shows the whole of it once: a Postgres of its own, the service on a free
// port, and the demo job through its HTTP API. What it keeps is there for the
// next run. With --to it sends the job to a service that runs already.
func demo(ctx context.Context, p *process, args []string) error {
	fs := flag.NewFlagSet("demo", flag.ContinueOnError)
	stay := fs.Bool("serve", false, "stay up afterwards")
	to := fs.String("to", "", "a running service, such as http://127.0.0.1:8080; its key is in HODMAN_KEY")
	if err := none(fs, args); err != nil {
		return err
	}
	if *to != "" {
		return demoElsewhere(ctx, p, *to, *stay)
	}
	c, err := readConfig(p.getenv)
	if err != nil {
		return err
	}
	// Never the database of the environment: the demo must not write into a merchant's.
	c.databaseURL, c.dataDir = "", filepath.Join(c.dataDir, "demo")
	c.logLevel = max(c.logLevel, slog.LevelWarn) // the tables are what is to be read
	return withStore(ctx, c, c.logger(p.stderr), func(ctx context.Context, s *store.Store) error {
		return demoHere(ctx, p, c, service.New(s), *stay)
	})
}

// demoElsewhere sends the demo job to a service that somebody else runs.
func demoElsewhere(ctx context.Context, p *process, base string, stay bool) error {
	if u, err := url.Parse(base); err != nil || u.Host == "" || u.Path != "" || u.Scheme != "http" && u.Scheme != "https" {
		return wrongLine("--to takes the address of a service, such as http://127.0.0.1:8080, not %q", base)
	}
	key := p.getenv("HODMAN_KEY")
	if key == "" {
		return wrongLine("--to needs an access key in HODMAN_KEY; hodman key create makes one")
	}
	if stay {
		return wrongLine("use either --to or --serve")
	}
	return out(p.stdout, func(w io.Writer) error { return tour(ctx, w, newClient(base, key, w)) })
}

// demoHere serves on a free port, sends the demo job there, and with stay goes on
// serving until it is stopped. The key it makes ends with it.
func demoHere(ctx context.Context, p *process, c *config, s *service.Service, stay bool) (err error) {
	key, secret, err := demoKey(ctx, s)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, s.RevokeKey(context.WithoutCancel(ctx), key.Prefix)) }()
	listener, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		return err
	}
	base := "http://" + listener.Addr().String()
	serving, stop := context.WithCancel(ctx)
	defer stop()
	ended := make(chan error, 1)
	log := c.logger(p.stderr)
	go func() {
		ended <- serveHTTP(serving, listener, api.New(c.api, s, log), c.stopWithin, log)
	}()
	err = out(p.stdout, func(w io.Writer) error {
		fmt.Fprintf(w, "A Postgres of its own, data in %s\n", c.dataDir)
		fmt.Fprintf(w, "The service on %s\n\n", base)
		return tour(ctx, w, newClient(base, secret, w))
	})
	if err == nil {
		fmt.Fprintf(p.stdout, "\nKept in the Postgres under %s; the next demo adds to it.\n", c.dataDir)
	}
	if err == nil && stay {
		fmt.Fprintf(p.stdout, "\nServing until you stop it (Ctrl-C).\n  address  %s\n  key      %s\n", base, secret)
		return <-ended
	}
	stop()
	return errors.Join(err, <-ended)
}

const demoName = "demo"

// demoKey makes the demo's key, and ends those of demos that were cut off: nobody
// else can be running in their folder.
func demoKey(ctx context.Context, s *service.Service) (service.Key, string, error) {
	keys, err := s.Keys(ctx)
	if err != nil {
		return service.Key{}, "", err
	}
	for _, k := range keys {
		if k.Name != demoName || k.RevokedAt != nil {
			continue
		}
		if err := s.RevokeKey(ctx, k.Prefix); err != nil {
			return service.Key{}, "", err
		}
	}
	return s.CreateKey(ctx, service.KeyDraft{Name: demoName})
}
