package drop

import (
	"slices"

	"hodman/service/product"
)

// ruled lists the rules that the plan was made by, those of the rulebook's values that
// the request did not replace, in order of their ids.
func (p *planner) ruled() {
	rules := append(p.rules, "lift.rise_a_day", "drop.place")
	defaults := []struct {
		rule   string
		absent bool
	}{
		{"drop.lead_days", p.r.LeadDays == nil},
		{"drop.ahead_days", p.r.AheadDays == nil},
		{"drop.lift_change_days", p.r.Programme.LiftChangeDays == nil},
	}
	for i := range p.goods {
		kind := p.goods[i].Kind
		if _, there := p.r.Programme.OutputPerDay[kind]; product.Kind(kind).Laid() && !there {
			rules = append(rules, "output."+kind)
		}
	}
	for _, d := range defaults {
		if d.absent {
			rules = append(rules, d.rule)
		}
	}
	slices.Sort(rules)
	p.Rules = slices.Compact(rules)
}
