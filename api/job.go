package api

import (
	"context"
	"slices"

	"github.com/go-json-experiment/json"
	"github.com/go-json-experiment/json/jsontext"

	"hodman/service"
)

// CreateJob makes a job.
func (s *server) CreateJob(ctx context.Context, r CreateJobRequestObject) (CreateJobResponseObject, error) {
	in := callOf(ctx)
	j, replayed, err := s.svc.CreateJob(ctx, in.principal, *r.Body, in.once)
	if err != nil {
		return nil, err
	}
	return created(&j, service.ETag(j.Version), "/v1/jobs/"+j.ID.String(), replayed)
}

// ListJobs answers with part of the merchant's jobs.
func (s *server) ListJobs(ctx context.Context, r ListJobsRequestObject) (ListJobsResponseObject, error) {
	in := callOf(ctx)
	page, err := in.page(r.Params.Limit, r.Params.Cursor)
	if err != nil {
		return nil, err
	}
	list, err := s.svc.Jobs(ctx, in.principal, page)
	if err != nil {
		return nil, err
	}
	return listed(in, list)
}

// GetJob answers with one job.
func (s *server) GetJob(ctx context.Context, r GetJobRequestObject) (GetJobResponseObject, error) {
	j, err := s.svc.Job(ctx, callOf(ctx).principal, r.JobId)
	if err != nil {
		return nil, err
	}
	return tagged(&j, service.ETag(j.Version), r.Params.IfNoneMatch)
}

// ChangeJob changes a job that nobody else has changed since it was read.
func (s *server) ChangeJob(ctx context.Context, r ChangeJobRequestObject) (ChangeJobResponseObject, error) {
	version, err := s.version(ctx, r)
	if err != nil {
		return nil, err
	}
	j, err := s.svc.ChangeJob(ctx, callOf(ctx).principal, r.JobId, version, r.Body.patch())
	if err != nil {
		return nil, err
	}
	return tagged(&j, service.ETag(j.Version), nil)
}

// version is the one that the change is meant for. Where If-Match leaves a choice, it
// is the one that the job has now; the store still refuses it if that changes meanwhile.
func (s *server) version(ctx context.Context, r ChangeJobRequestObject) (int64, error) {
	w, err := wantedBy(r.Params.IfMatch)
	if err != nil {
		return 0, err
	}
	if !w.any && len(w.versions) == 1 {
		return w.versions[0], nil
	}
	j, err := s.svc.Job(ctx, callOf(ctx).principal, r.JobId)
	if err == nil && !w.any && !slices.Contains(w.versions, j.Version) {
		return noVersion, nil
	}
	return j.Version, err
}

// jobPatch is a merge patch (RFC 7396) of a job: what is not there stays.
type jobPatch struct {
	Reference *string   `json:"reference"`
	Customer  clearable `json:"customer"`
	Site      sitePatch `json:"site"`
	Notes     clearable `json:"notes"`
}

type sitePatch struct {
	Name    clearable `json:"name"`
	Address clearable `json:"address"`
	Access  clearable `json:"access_notes"`
}

// clearable is a text that null empties; to is nil where it is not there.
type clearable struct{ to *string }

// UnmarshalJSONFrom reads a text or null.
func (c *clearable) UnmarshalJSONFrom(dec *jsontext.Decoder) error {
	c.to = new(string)
	return json.UnmarshalDecode(dec, c.to) // null leaves it empty
}

// UnmarshalJSONFrom reads a site's changes; null clears all of it.
func (p *sitePatch) UnmarshalJSONFrom(dec *jsontext.Decoder) error {
	if dec.PeekKind() == 'n' {
		none := ""
		*p = sitePatch{clearable{&none}, clearable{&none}, clearable{&none}}
		return dec.SkipValue()
	}
	type plain sitePatch
	return json.UnmarshalDecode(dec, (*plain)(p))
}

func (p *jobPatch) patch() service.JobPatch {
	return service.JobPatch{Reference: p.Reference, Customer: p.Customer.to, Notes: p.Notes.to,
		SiteName: p.Site.Name.to, SiteAddress: p.Site.Address.to, SiteAccess: p.Site.Access.to}
}
