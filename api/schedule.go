package api

import (
	"context"
	"strconv"

	"github.com/go-json-experiment/json/jsontext"

	"hodman/service"
)

// revision is a schedule of a job with its document.
type revision struct {
	service.Revision
	Schedule jsontext.Value `json:"schedule,omitzero"`
}

// unchanging is the entity tag of what never changes once it is made.
var unchanging = service.ETag(1)

// AddSchedule gives a job its next schedule.
func (s *server) AddSchedule(ctx context.Context, r AddScheduleRequestObject) (AddScheduleResponseObject, error) {
	in := callOf(ctx)
	v, replayed, err := s.svc.AddRevision(ctx, in.principal, r.JobId, in.raw, r.Body, in.once)
	if err != nil {
		return nil, err
	}
	return created(&v, unchanging, "/v1/jobs/"+r.JobId.String()+"/schedules/"+strconv.Itoa(v.Revision), replayed)
}

// ListSchedules answers with part of a job's schedules, without their documents.
func (s *server) ListSchedules(ctx context.Context, r ListSchedulesRequestObject) (ListSchedulesResponseObject, error) {
	in := callOf(ctx)
	page, err := in.page(r.Params.Limit, r.Params.Cursor)
	if err != nil {
		return nil, err
	}
	list, err := s.svc.Revisions(ctx, in.principal, r.JobId, page)
	if err != nil {
		return nil, err
	}
	return listed(in, list)
}

// GetSchedule answers with one schedule of a job and its document.
func (s *server) GetSchedule(ctx context.Context, r GetScheduleRequestObject) (GetScheduleResponseObject, error) {
	v, err := s.svc.Revision(ctx, callOf(ctx).principal, r.JobId, int(r.Revision))
	if err != nil {
		return nil, err
	}
	return tagged(&revision{v, v.Document}, unchanging, r.Params.IfNoneMatch)
}
