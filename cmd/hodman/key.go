package main

import (
	"context"
	"flag"
	"fmt"
	"io"
	"time"

	"hodman/service"
	"hodman/store"
)

// keyCommand makes, lists and revokes access keys.
func keyCommand(ctx context.Context, p *process, args []string) error {
	fs := flag.NewFlagSet("key", flag.ContinueOnError)
	expires := fs.String("expires", "", "last day that the key is good, such as 2027-12-31")
	merchant := fs.String("merchant", "", "the merchant it belongs to")
	words, err := arguments(fs, args)
	if err != nil {
		return err
	}
	var act func(context.Context, *service.Service) error
	switch {
	case len(words) == 2 && words[0] == "create":
		draft := service.KeyDraft{Merchant: *merchant, Name: words[1]}
		if draft.Expires, err = lastDay(*expires); err != nil {
			return err
		}
		act = func(ctx context.Context, s *service.Service) error { return createKey(ctx, p, s, draft) }
	case len(words) == 1 && words[0] == "list":
		act = func(ctx context.Context, s *service.Service) error { return listKeys(ctx, p.stdout, s) }
	case len(words) == 2 && words[0] == "revoke":
		act = func(ctx context.Context, s *service.Service) error { return revokeKey(ctx, p, s, words[1]) }
	default:
		return wrongLine("use hodman key create NAME [--expires DATE] [--merchant NAME], hodman key list, or hodman key revoke PREFIX")
	}
	c, err := readConfig(p.getenv)
	if err != nil {
		return err
	}
	return withRunningStore(ctx, c, c.logger(p.stderr), func(ctx context.Context, s *store.Store) error {
		return mistake(act(ctx, service.New(s)))
	})
}

// lastDay reads a date. A key is good to the end of it, by UTC.
func lastDay(date string) (*time.Time, error) {
	if date == "" {
		return nil, nil
	}
	day, err := time.Parse(time.DateOnly, date)
	if err != nil {
		return nil, wrongLine("--expires takes a date such as 2027-12-31, not %q", date)
	}
	end := day.AddDate(0, 0, 1)
	return &end, nil
}

// createKey prints the secret alone on stdout, so that a script can keep it, and
// the words about it on stderr.
func createKey(ctx context.Context, p *process, s *service.Service, draft service.KeyDraft) error {
	key, secret, err := s.CreateKey(ctx, draft)
	if err != nil {
		return err
	}
	fmt.Fprintf(p.stderr, "Key %s for %s. It is shown this once; send it as Authorization: Bearer …\n", key.Prefix, key.Name)
	fmt.Fprintln(p.stdout, secret)
	return nil
}

func revokeKey(ctx context.Context, p *process, s *service.Service, prefix string) error {
	if err := s.RevokeKey(ctx, prefix); err != nil {
		return err
	}
	fmt.Fprintf(p.stdout, "Key %s is revoked.\n", prefix)
	return nil
}

func listKeys(ctx context.Context, w io.Writer, s *service.Service) error {
	keys, err := s.Keys(ctx)
	if err != nil {
		return err
	}
	t := newTable(text("Prefix"), text("Name"), text("Merchant"), text("Made"), text("Expires"), text("Revoked"), text("Last used"))
	for _, k := range keys {
		t.row(k.Prefix, k.Name, k.Merchant, moment(&k.CreatedAt), moment(k.ExpiresAt), moment(k.RevokedAt), moment(k.LastUsed))
	}
	return out(w, func(w io.Writer) error {
		t.write(w)
		return nil
	})
}

func moment(t *time.Time) string {
	if t == nil {
		return "-"
	}
	return t.UTC().Format("2006-01-02 15:04")
}
