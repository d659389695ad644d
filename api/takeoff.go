package api

import (
	"context"

	"github.com/go-json-experiment/json/jsontext"

	"hodman/service"
)

// takeoffDraft says what to take off.
type takeoffDraft struct {
	Revision int `json:"schedule_revision"` // 0: the latest
}

// storedTakeoff is a takeoff of a job with its document.
type storedTakeoff struct {
	service.StoredTakeoff
	Takeoff jsontext.Value `json:"takeoff,omitzero"`
}

// MakeTakeoff takes a schedule of a job off and keeps the answer.
func (s *server) MakeTakeoff(ctx context.Context, r MakeTakeoffRequestObject) (MakeTakeoffResponseObject, error) {
	in := callOf(ctx)
	t, replayed, err := s.svc.MakeTakeoff(ctx, in.principal, r.JobId, r.Body.Revision, in.once)
	if err != nil {
		return nil, err
	}
	return created(&storedTakeoff{t, t.Document}, unchanging, "/v1/jobs/"+r.JobId.String()+"/takeoffs/"+t.ID.String(), replayed)
}

// ListTakeoffs answers with part of a job's takeoffs, without their documents.
func (s *server) ListTakeoffs(ctx context.Context, r ListTakeoffsRequestObject) (ListTakeoffsResponseObject, error) {
	in := callOf(ctx)
	page, err := in.page(r.Params.Limit, r.Params.Cursor)
	if err != nil {
		return nil, err
	}
	list, err := s.svc.Takeoffs(ctx, in.principal, r.JobId, page)
	if err != nil {
		return nil, err
	}
	return listed(in, list)
}

// GetTakeoff answers with one takeoff of a job and its document.
func (s *server) GetTakeoff(ctx context.Context, r GetTakeoffRequestObject) (GetTakeoffResponseObject, error) {
	t, err := s.svc.Takeoff(ctx, callOf(ctx).principal, r.JobId, r.TakeoffId)
	if err != nil {
		return nil, err
	}
	return tagged(&storedTakeoff{t, t.Document}, unchanging, r.Params.IfNoneMatch)
}
