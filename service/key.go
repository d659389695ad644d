package service

import (
	"context"
	"crypto/rand"
	"crypto/sha256"
	"crypto/subtle"
	"encoding/base64"
	"strings"
	"time"
	"unicode/utf8"

	"github.com/google/uuid"

	"hodman/service/finding"
)

// Principal is who asks: an access key, and the merchant that it belongs to.
type Principal struct {
	Tenant uuid.UUID
	KeyID  uuid.UUID
	Name   string // of the key
}

// Key is an access key as it is kept: never the secret, only its SHA-256.
type Key struct {
	ID        uuid.UUID
	Tenant    uuid.UUID
	Merchant  string
	Prefix    string // the 8 characters after "hod_" that it is known by
	Digest    []byte // SHA-256 of the whole secret
	Name      string
	CreatedAt time.Time
	ExpiresAt *time.Time // nil: never
	RevokedAt *time.Time
	LastUsed  *time.Time // to the minute or so
}

// KeyDraft is what a key is made from. Merchant "" is [MainMerchant].
type KeyDraft struct {
	Merchant string
	Name     string
	Expires  *time.Time
}

// MainMerchant is the merchant that keys belong to where none is named.
const MainMerchant = "main"

// usedEvery is how often at most a key's last use is written down: a write for
// every read would cost more than the read.
const usedEvery = time.Minute

// CreateKey makes a key and returns its secret, which is shown this once and never again.
func (s *Service) CreateKey(ctx context.Context, d KeyDraft) (Key, string, error) {
	if d.Merchant == "" {
		d.Merchant = MainMerchant
	}
	if d.Expires != nil {
		kept := d.Expires.UTC().Truncate(time.Microsecond)
		d.Expires = &kept
	}
	now := s.instant()
	if err := invalid(d.check(now)); err != nil {
		return Key{}, "", err
	}
	prefix, secret := newSecret()
	digest := sha256.Sum256([]byte(secret))
	k, err := s.store.InsertKey(ctx, d.Merchant, Key{
		ID: s.newID(), Tenant: s.newID(), Merchant: d.Merchant, Prefix: prefix, Digest: digest[:],
		Name: d.Name, CreatedAt: now, ExpiresAt: d.Expires,
	})
	if err != nil {
		return Key{}, "", err
	}
	return k, secret, nil
}

func (d *KeyDraft) check(now time.Time) finding.Faults {
	var f finding.Faults
	text(&f, "/merchant", d.Merchant, 1, 100)
	text(&f, "/name", d.Name, 1, 100)
	if d.Expires != nil && !d.Expires.After(now) {
		f.Add("/expires", "range", "must be later than now")
	}
	return f
}

// newSecret makes hod_<8>_<43>: 6 random bytes to find the key by, 32 to prove it.
func newSecret() (prefix, secret string) {
	var b [38]byte
	rand.Read(b[:]) // never fails
	// The prefix must hold no "_", which ends it, nor begin like an option on a command line.
	prefix = strings.NewReplacer("_", "x", "-", "y").Replace(base64.RawURLEncoding.EncodeToString(b[:6]))
	return prefix, "hod_" + prefix + "_" + base64.RawURLEncoding.EncodeToString(b[6:])
}

// RevokeKey ends a key at once. To revoke it again changes nothing.
func (s *Service) RevokeKey(ctx context.Context, prefix string) error {
	return s.store.RevokeKey(ctx, prefix, s.instant())
}

// Keys lists every key, oldest first.
func (s *Service) Keys(ctx context.Context) ([]Key, error) { return s.store.Keys(ctx) }

var badKey = &Error{Kind: Unauthorised, Code: "invalid_token", Message: "The access key is not known, has expired or was revoked. Ask for a new one."}

// Authenticate tells who sends that secret. Not known, expired and revoked are
// all the same [Unauthorised], so that nothing is learnt by trying.
func (s *Service) Authenticate(ctx context.Context, secret string) (Principal, error) {
	prefix, ok := prefixOf(secret)
	if !ok {
		return Principal{}, badKey
	}
	k, err := s.store.KeyByPrefix(ctx, prefix)
	if e, ok := err.(*Error); ok && e.Kind == NotFound {
		return Principal{}, badKey
	}
	if err != nil {
		return Principal{}, err
	}
	now := s.instant()
	digest := sha256.Sum256([]byte(secret))
	good := subtle.ConstantTimeCompare(digest[:], k.Digest) == 1
	if !good || k.RevokedAt != nil || k.ExpiresAt != nil && !now.Before(*k.ExpiresAt) {
		return Principal{}, badKey
	}
	if k.LastUsed == nil || now.Sub(*k.LastUsed) >= usedEvery {
		if err := s.store.TouchKey(ctx, prefix, now); err != nil {
			return Principal{}, err
		}
	}
	return Principal{Tenant: k.Tenant, KeyID: k.ID, Name: k.Name}, nil
}

// prefixOf takes a secret apart without trusting it.
func prefixOf(secret string) (string, bool) {
	const length = len("hod_") + 8 + 1 + 43
	if len(secret) != length || !utf8.ValidString(secret) || strings.ContainsRune(secret, 0) ||
		!strings.HasPrefix(secret, "hod_") || secret[12] != '_' {
		return "", false
	}
	return secret[4:12], true
}
