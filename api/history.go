package api

import "context"

// ListHistory answers with part of what happened to a job.
func (s *server) ListHistory(ctx context.Context, r ListHistoryRequestObject) (ListHistoryResponseObject, error) {
	in := callOf(ctx)
	page, err := in.page(r.Params.Limit, r.Params.Cursor)
	if err != nil {
		return nil, err
	}
	list, err := s.svc.History(ctx, in.principal, r.JobId, page)
	if err != nil {
		return nil, err
	}
	return listed(in, list)
}
