package api

import "context"

// ComputeTakeoff takes a wall schedule off.
func (s *server) ComputeTakeoff(ctx context.Context, r ComputeTakeoffRequestObject) (ComputeTakeoffResponseObject, error) {
	t, err := s.svc.ComputeTakeoff(ctx, r.Body)
	if err != nil {
		return nil, err
	}
	return answer(t)
}

// SelectLintels picks lintels without a schedule.
func (s *server) SelectLintels(ctx context.Context, r SelectLintelsRequestObject) (SelectLintelsResponseObject, error) {
	selection, err := s.svc.SelectLintels(ctx, r.Body)
	if err != nil {
		return nil, err
	}
	return answer(selection)
}

// ComputeCoursing makes levels up of courses.
func (s *server) ComputeCoursing(ctx context.Context, r ComputeCoursingRequestObject) (ComputeCoursingResponseObject, error) {
	c, err := s.svc.ComputeCoursing(ctx, r.Body)
	if err != nil {
		return nil, err
	}
	return answer(c)
}

// PlanDrops plans deliveries and loading out.
func (s *server) PlanDrops(ctx context.Context, r PlanDropsRequestObject) (PlanDropsResponseObject, error) {
	plan, err := s.svc.PlanDrops(ctx, r.Body)
	if err != nil {
		return nil, err
	}
	return answer(plan)
}
