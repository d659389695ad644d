package service

import (
	"context"
	"strconv"

	"github.com/go-json-experiment/json"

	"hodman/service/coursing"
	"hodman/service/drop"
	"hodman/service/lintel"
	"hodman/service/product"
	"hodman/service/rulebook"
	"hodman/service/schedule"
	"hodman/service/takeoff"
)

// ComputeTakeoff checks a schedule and takes it off. Mistakes are [Invalid].
func (s *Service) ComputeTakeoff(ctx context.Context, sched *schedule.Schedule) (*takeoff.Takeoff, error) {
	if err := invalid(sched.Check(s.catalogue)); err != nil {
		return nil, err
	}
	return takeoff.Compute(sched, s.catalogue, rulebook.Find(sched.Rulebook)), nil
}

// SelectLintels checks a request and picks a lintel for each of its openings. Mistakes are [Invalid].
func (s *Service) SelectLintels(ctx context.Context, r *lintel.Request) (*lintel.Selection, error) {
	if err := invalid(r.Check(s.catalogue)); err != nil {
		return nil, err
	}
	answer := lintel.Answer(r, s.catalogue, rulebook.Find(r.Rulebook))
	return &answer, nil
}

// ComputeCoursing checks a request and makes up its levels in courses. Mistakes are [Invalid].
func (s *Service) ComputeCoursing(ctx context.Context, r *coursing.Request) (*coursing.Coursing, error) {
	if err := invalid(r.Check()); err != nil {
		return nil, err
	}
	answer := coursing.Answer(r, rulebook.Find(r.Rulebook))
	return &answer, nil
}

// PlanDrops checks a request and plans its drops; a schedule in it is taken off
// first. Mistakes are [Invalid]; a plan that cannot be is [Infeasible] and says what breaks it.
func (s *Service) PlanDrops(ctx context.Context, r *drop.Request) (*drop.Plan, error) {
	faults := r.Check()
	book, loads := r.Book(), r.Loads()
	switch {
	case r.Schedule != nil:
		for _, f := range r.Schedule.Check(s.catalogue) {
			faults.Add("/schedule"+f.Pointer, f.Code, f.Detail)
		}
	case r.Takeoff != nil:
		if rulebook.Find(r.Takeoff.Rulebook) == nil && r.Takeoff.Rulebook != "" {
			faults.Add("/takeoff/rulebook", "unknown_ref", "there is no rulebook "+strconv.Quote(r.Takeoff.Rulebook)+"; make the takeoff again")
		}
	}
	if err := invalid(faults); err != nil {
		return nil, err
	}
	if r.Schedule != nil {
		loads = takeoff.Compute(r.Schedule, s.catalogue, book).Lifts
	}
	plan, impossible := drop.Make(r, loads, book)
	if len(impossible) > 0 {
		return nil, &Error{Kind: Infeasible, Code: "infeasible",
			Message: "No plan is possible; what breaks it is listed, with the lift and by how much.", Faults: impossible}
	}
	return &plan, nil
}

// Encode writes an answer as JSON: the same value gives the same bytes.
func Encode(answer any) ([]byte, error) {
	b, err := json.Marshal(answer, json.Deterministic(true))
	if err != nil {
		return nil, &Error{Kind: Internal, Code: "internal", Message: "internal error", Cause: err}
	}
	return b, nil
}

// Rulebook returns a book by its key ("gb") or its key and version ("gb@2026.2").
func (s *Service) Rulebook(key string) (*rulebook.Book, error) {
	if b := rulebook.Find(key); b != nil {
		return b, nil
	}
	return nil, notFound("rulebook")
}

// Products lists the catalogue, or one kind of it ("" is all), in catalogue
// order. Next is the code of the last product of the page.
func (s *Service) Products(kind product.Kind, page Page) (List[product.Product], error) {
	var items []product.Product
	found := page.After == ""
	for _, p := range s.catalogue.Products {
		switch {
		case !found:
			found = p.Code == page.After
		case (kind == "" || p.Kind == kind) && len(items) <= page.limit():
			items = append(items, p)
		}
	}
	if !found {
		return List[product.Product]{}, badCursor
	}
	return listed(items, page.limit(), func(p *product.Product) string { return p.Code }), nil
}
