package service_test

import (
	"errors"
	"slices"
	"testing"

	"github.com/go-json-experiment/json"

	"hodman/service"
	"hodman/service/coursing"
	"hodman/service/drop"
	"hodman/service/lintel"
	"hodman/service/measure"
	"hodman/service/rulebook"
	"hodman/service/schedule"
	"hodman/service/takeoff"
	"hodman/testdata"
)

// demoDrops is the demo's drop plan request, without the goods.
func demoDrops(t *testing.T) *drop.Request {
	t.Helper()
	r := new(drop.Request)
	if err := json.Unmarshal(testdata.RearWingDrops, r, json.RejectUnknownMembers(true)); err != nil {
		t.Fatal(err)
	}
	return r
}

// A schedule, the takeoff of it and that takeoff's loads all give the same plan.
func TestDropsFromWhateverSaysTheGoods(t *testing.T) {
	t.Parallel()
	s := service.New(nil)
	_, sched := demo(t)
	taken, err := s.ComputeTakeoff(t.Context(), sched)
	if err != nil {
		t.Fatal(err)
	}
	answered, err := service.Encode(taken)
	if err != nil {
		t.Fatal(err)
	}
	goods := new(drop.Goods)
	if err := json.Unmarshal(answered, goods, json.RejectUnknownMembers(true)); err != nil {
		t.Fatal(err)
	}
	ways := []*drop.Request{demoDrops(t), demoDrops(t), demoDrops(t)}
	ways[0].Schedule = sched
	ways[1].Takeoff = goods
	ways[2].LiftLoads = taken.Lifts
	var plans []string
	for _, r := range ways {
		plan, err := s.PlanDrops(t.Context(), r)
		if err != nil {
			t.Fatal(err)
		}
		if len(plan.Drops) == 0 {
			t.Error("no drops")
		}
		b, err := service.Encode(plan)
		if err != nil {
			t.Fatal(err)
		}
		plans = append(plans, string(b))
	}
	same(t, plans[1], plans[0])
	same(t, plans[2], plans[0])
}

// Mistakes of the schedule inside stand with those of the request around it.
func TestDropMistakesComeTogether(t *testing.T) {
	t.Parallel()
	s := service.New(nil)
	_, sched := demo(t)
	r := demoDrops(t)
	r.Schedule, r.Currency = sched, "pounds"
	sched.Walls[0].Type = "no such type"
	_, err := s.PlanDrops(t.Context(), r)
	got := pointers(isKind(t, err, service.Invalid).Faults)
	for _, want := range []string{"/currency pattern", "/schedule/walls/0/type unknown_ref"} {
		if !slices.Contains(got, want) {
			t.Errorf("faults %q; want %q among them", got, want)
		}
	}
}

func TestNoPlanPossibleIsAnAnswer(t *testing.T) {
	t.Parallel()
	s := service.New(nil)
	_, sched := demo(t)
	r := demoDrops(t)
	r.Schedule = sched
	for i := range r.Vehicles {
		r.Vehicles[i].Payload = measure.Kilogram
	}
	_, err := s.PlanDrops(t.Context(), r)
	if e := isKind(t, err, service.Infeasible); len(e.Faults) == 0 {
		t.Error("nothing says what breaks it")
	}
}

func TestMistakesAreRefused(t *testing.T) {
	t.Parallel()
	s := service.New(nil)
	_, err := s.SelectLintels(t.Context(), &lintel.Request{})
	isKind(t, err, service.Invalid)
	_, err = s.ComputeCoursing(t.Context(), &coursing.Request{})
	isKind(t, err, service.Invalid)
	_, sched := demo(t)
	sched.Rulebook = "atlantis"
	_, err = s.ComputeTakeoff(t.Context(), sched)
	same(t, pointers(isKind(t, err, service.Invalid).Faults), []string{"/rulebook unknown_ref"})
}

// 1201 clear is over what 100 mm bearings are allowed for: 1201 + 2 x 150 = 1501,
// and one whole course of 65 + 10 makes 75 (the rules lintel.simple_clear and joint.bed).
func TestSmallAnswers(t *testing.T) {
	t.Parallel()
	s := service.New(nil)
	mm := func(n int64) *measure.Length { l := measure.Length(n) * measure.Millimetre; return &l }
	picked, err := s.SelectLintels(t.Context(), &lintel.Request{Rulebook: "gb",
		Openings: []lintel.RequestOpening{{Ref: "W1", Clear: mm(1201), Leaf: "both", Cavity: mm(100)}}})
	if err != nil {
		t.Fatal(err)
	}
	if got := picked.Lintels[0].Needed; got != *mm(1501) {
		t.Errorf("needed %s, want 1501", got)
	}
	met, err := s.ComputeCoursing(t.Context(), &coursing.Request{Rulebook: "gb", UnitHeight: mm(65),
		Levels: []coursing.Level{{Name: "sill", Level: mm(75), Kind: "sill"}}})
	if err != nil {
		t.Fatal(err)
	}
	if got := met.Levels[0].Leaf.Courses; got != 1 {
		t.Errorf("%d courses, want 1", got)
	}
}

// Every book has every rule that any engine asks for: the demo's house, its drops, a lintel
// and a level, by each. The house names British mortars, so it names none here.
func TestEveryBookAnswers(t *testing.T) {
	t.Parallel()
	s := service.New(nil)
	for _, book := range rulebook.Books() {
		_, sched := demo(t)
		sched.Rulebook = book.Key
		for i := range sched.WallTypes {
			w := &sched.WallTypes[i]
			w.Mortar = ""
			for _, l := range []*schedule.Leaf{w.Single, w.Outer, w.Inner} {
				if l != nil {
					l.Mortar = ""
				}
			}
		}
		taken, err := s.ComputeTakeoff(t.Context(), sched)
		if err != nil {
			t.Fatal(book.Key, err)
		}
		if m := taken.Mortar[0].Designation; taken.Rulebook != book.ID() || m != book.Mortar {
			t.Errorf("%s: book %s, mortar %s", book.Key, taken.Rulebook, m)
		}
		r := demoDrops(t)
		r.Schedule = sched
		r.LeadDays, r.AheadDays, r.Programme.OutputPerDay, r.Programme.LiftChangeDays = nil, nil, nil, nil
		plan, err := s.PlanDrops(t.Context(), r)
		if e := new(service.Error); err != nil && (!errors.As(err, &e) || e.Kind != service.Infeasible) {
			t.Fatal(book.Key, err)
		}
		rules := named(taken)
		if err == nil {
			rules = append(rules, plan.Rules...)
		}
		for _, id := range rules {
			if book.Rule(id) == nil {
				t.Errorf("%s has no rule %s", book.Key, id)
			}
		}
		mm := func(n int64) *measure.Length { l := measure.Length(n) * measure.Millimetre; return &l }
		if _, err := s.SelectLintels(t.Context(), &lintel.Request{Rulebook: book.Key,
			Openings: []lintel.RequestOpening{{Ref: "W1", Clear: mm(1201), Leaf: "both", Cavity: mm(100)}}}); err != nil {
			t.Error(book.Key, err)
		}
		if _, err := s.ComputeCoursing(t.Context(), &coursing.Request{Rulebook: book.Key, UnitHeight: mm(194),
			Levels: []coursing.Level{{Name: "plate", Level: mm(2485), Kind: "plate"}}}); err != nil {
			t.Error(book.Key, err)
		}
	}
}

// named are the rules that a takeoff names.
func named(out *takeoff.Takeoff) (rules []string) {
	for _, l := range out.Lines {
		rules = append(rules, l.Rules...)
	}
	for _, p := range out.Lintels {
		rules = append(rules, p.Rules...)
	}
	for _, m := range out.Mortar {
		rules = append(rules, m.Rules...)
	}
	for _, f := range out.Findings {
		if f.Rule != "" {
			rules = append(rules, f.Rule)
		}
	}
	return rules
}
