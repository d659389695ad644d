package store_test

import (
	"bytes"
	"fmt"
	"testing"

	"github.com/jackc/pgx/v5/pgxpool"

	"hodman/service"
	"hodman/store"
	"hodman/store/storetest"
)

// The store's writes and reads of a 10 KB document beside the same row by the
// driver alone. The test server does not wait for the disk: take the ratios.
func BenchmarkStore(b *testing.B) {
	at := storetest.URL(b)
	s, err := store.Open(b.Context(), at)
	if err != nil {
		b.Fatal(err)
	}
	defer s.Close()
	raw, err := pgxpool.New(b.Context(), at)
	if err != nil {
		b.Fatal(err)
	}
	defer raw.Close()
	p := merchant(b, s, "main")
	j := mustJob(b, s, p)
	doc := string(bytes.Repeat([]byte("0123456789"), 1024))
	if _, _, err := addRevision(b.Context(), s, p, j.ID, doc, service.Idempotency{}); err != nil {
		b.Fatal(err)
	}
	if _, err := raw.Exec(b.Context(), `CREATE TABLE raw (id uuid PRIMARY KEY, document bytea NOT NULL)`); err != nil {
		b.Fatal(err)
	}
	id := newID()
	insert := func() error {
		_, err := raw.Exec(b.Context(), `INSERT INTO raw (id, document) VALUES ($1, $2)`, id, []byte(doc))
		return err
	}
	if err := insert(); err != nil {
		b.Fatal(err)
	}
	to, _, err := addTakeoff(b.Context(), s, p, j.ID, 1, doc, service.Idempotency{})
	if err != nil {
		b.Fatal(err)
	}
	n := 0
	for _, c := range []struct {
		name string
		do   func() error
	}{
		{"write/driver", func() error { id = newID(); return insert() }},
		{"write/takeoff", func() error {
			_, _, err := addTakeoff(b.Context(), s, p, j.ID, 1, doc, service.Idempotency{})
			return err
		}},
		{"write/takeoff once", func() error {
			n++
			_, _, err := addTakeoff(b.Context(), s, p, j.ID, 1, doc, service.Idempotency{Key: fmt.Sprint("request ", n, id), Fingerprint: "f"})
			return err
		}},
		{"read/driver", func() error {
			var got []byte
			return raw.QueryRow(b.Context(), `SELECT document FROM raw WHERE id = $1`, id).Scan(&got)
		}},
		{"read/takeoff", func() error { _, err := s.Takeoff(b.Context(), p.Tenant, j.ID, to.ID); return err }},
	} {
		b.Run(c.name, func(b *testing.B) {
			for b.Loop() {
				if err := c.do(); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
