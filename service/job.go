package service

import (
	"context"
	"fmt"
	"strconv"
	"strings"
	"time"
	"unicode/utf8"

	"github.com/google/uuid"

	"hodman/service/finding"
)

// Job is one piece of work for one customer: what schedules and takeoffs hang on.
type Job struct {
	ID        uuid.UUID `json:"id"`
	Reference string    `json:"reference"`
	Customer  string    `json:"customer"`
	Site      Site      `json:"site"`
	Notes     string    `json:"notes"`
	CreatedAt time.Time `json:"created_at"`
	UpdatedAt time.Time `json:"updated_at"`
	// Version is 1 at first and rises by one with every change, a new revision of the schedule included.
	Version int64 `json:"version"`
	// LatestRevision is the number of the newest schedule; nought where there is none yet.
	LatestRevision int `json:"latest_revision"`
}

// Site is where the goods go.
type Site struct {
	Name        string `json:"name"`
	Address     string `json:"address"`
	AccessNotes string `json:"access_notes"`
}

// JobDraft is what a job is made from. Only the reference is needed.
type JobDraft struct {
	Reference string `json:"reference"`
	Customer  string `json:"customer"`
	Site      Site   `json:"site"`
	Notes     string `json:"notes"`
}

// JobPatch changes what is not nil. What the caller clears is an empty string.
type JobPatch struct {
	Reference   *string
	Customer    *string
	SiteName    *string
	SiteAddress *string
	SiteAccess  *string
	Notes       *string
}

// The most characters of each text of a job.
const (
	MaxReference = 200
	MaxCustomer  = 200
	MaxSiteName  = 200
	MaxAddress   = 1000
	MaxAccess    = 2000
	MaxNotes     = 10_000
)

// CreateJob keeps a new job. The bool says that the request had been made before
// and the first answer is given again.
func (s *Service) CreateJob(ctx context.Context, p Principal, d JobDraft, once Idempotency) (Job, bool, error) {
	now := s.instant()
	j := Job{ID: s.newID(), Reference: d.Reference, Customer: d.Customer, Site: d.Site, Notes: d.Notes,
		CreatedAt: now, UpdatedAt: now, Version: 1}
	if err := invalid(j.check()); err != nil {
		return Job{}, false, err
	}
	e := Event{ID: s.newID(), JobID: j.ID, At: now, Kind: JobCreated, By: p.Name, ByKey: p.KeyID,
		Summary: "Job created: " + j.Reference, Subject: j.ID}
	return s.store.InsertJob(ctx, p, j, e, once)
}

// Job returns one job, or [NotFound].
func (s *Service) Job(ctx context.Context, p Principal, id uuid.UUID) (Job, error) {
	return s.store.Job(ctx, p.Tenant, id)
}

// Jobs lists the merchant's jobs, newest first.
func (s *Service) Jobs(ctx context.Context, p Principal, page Page) (List[Job], error) {
	before, err := page.beforeID()
	if err != nil {
		return List[Job]{}, err
	}
	items, err := s.store.Jobs(ctx, p.Tenant, before, page.limit()+1)
	return listed(items, page.limit(), func(j *Job) string { return j.ID.String() }), err
}

// ChangeJob applies a patch to the job as it was at version; [Stale] where it has
// changed since. A patch that changes nothing leaves the version as it is.
func (s *Service) ChangeJob(ctx context.Context, p Principal, id uuid.UUID, version int64, patch JobPatch) (Job, error) {
	now, event := s.instant(), s.newID()
	return s.store.UpdateJob(ctx, p.Tenant, id, version, func(j *Job) (Event, error) {
		changed := patch.apply(j)
		if err := invalid(j.check()); err != nil || len(changed) == 0 {
			return Event{}, err
		}
		j.UpdatedAt = now
		j.Version++
		return Event{ID: event, JobID: id, At: now, Kind: JobChanged, By: p.Name, ByKey: p.KeyID,
			Summary: "Changed: " + strings.Join(changed, ", "), Subject: id}, nil
	})
}

// apply changes the job and names what really changed.
func (p *JobPatch) apply(j *Job) (changed []string) {
	for _, c := range []struct {
		name string
		to   *string
		at   *string
	}{
		{"reference", p.Reference, &j.Reference},
		{"customer", p.Customer, &j.Customer},
		{"site name", p.SiteName, &j.Site.Name},
		{"site address", p.SiteAddress, &j.Site.Address},
		{"site access notes", p.SiteAccess, &j.Site.AccessNotes},
		{"notes", p.Notes, &j.Notes},
	} {
		if c.to != nil && *c.to != *c.at {
			*c.at = *c.to
			changed = append(changed, c.name)
		}
	}
	return changed
}

// check finds every mistake in the texts of a job.
func (j *Job) check() finding.Faults {
	var f finding.Faults
	text(&f, "/reference", j.Reference, 1, MaxReference)
	text(&f, "/customer", j.Customer, 0, MaxCustomer)
	text(&f, "/site/name", j.Site.Name, 0, MaxSiteName)
	text(&f, "/site/address", j.Site.Address, 0, MaxAddress)
	text(&f, "/site/access_notes", j.Site.AccessNotes, 0, MaxAccess)
	text(&f, "/notes", j.Notes, 0, MaxNotes)
	return f
}

// text checks one text: its length in characters, and that a database can hold it.
func text(f *finding.Faults, pointer, s string, least, most int) {
	switch n := utf8.RuneCountInString(s); {
	case n < least && n == 0:
		f.Add(pointer, "required", "must be given")
	case n < least || n > most:
		f.Add(pointer, "length", fmt.Sprintf("must have %d to %d characters; it has %d", least, most, n))
	case !utf8.ValidString(s) || strings.ContainsRune(s, 0):
		f.Add(pointer, "pattern", "must be UTF-8 text without NUL characters")
	}
}

// ETag is the strong entity tag of a thing at that version.
func ETag(version int64) string { return strconv.Quote(strconv.FormatInt(version, 10)) }
