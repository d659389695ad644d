package drop

import (
	"maps"
	"slices"
	"strconv"
	"strings"

	"hodman/service/finding"
	"hodman/service/measure"
	"hodman/service/product"
	"hodman/service/rulebook"
	"hodman/service/schedule"
)

const (
	mostPayload = 60 * measure.Tonne
	mostYard    = 5_000 * measure.Tonne
	mostTrip    = 100_000 * measure.MoneyUnit
	mostHolding = 1_000 * measure.MoneyUnit
)

// Check finds every mistake in the request, in document order. A schedule in it is
// checked by [schedule.Schedule.Check], which needs a catalogue.
func (r *Request) Check() finding.Faults {
	c := new(checker)
	r.checkSource(c)
	r.checkBook(c)
	r.Programme.check(c)
	if r.Scaffold != nil {
		r.Scaffold.check(c)
	}
	if y := r.Yard; y != nil {
		c.mass("/yard/max_kg", y.MaxMass, mostYard)
		c.count("/yard/max_packs", y.MaxPacks, 1, 10_000)
	}
	c.vehicles(r.Vehicles)
	c.currency(r.Currency)
	r.checkDays(c)
	if h := r.HoldingCost; h != nil && (*h < 0 || *h > mostHolding) {
		c.Add("/holding_cost", "range", "is "+h.String()+"; give 0 to "+mostHolding.String()+" a pack a working day")
	}
	return c.Faults
}

// checker gathers faults.
type checker struct{ finding.Faults }

func (r *Request) checkSource(c *checker) {
	n := 0
	for _, there := range []bool{r.Takeoff != nil, r.Schedule != nil, r.LiftLoads != nil} {
		if there {
			n++
		}
	}
	switch {
	case n == 0:
		c.Add("", "required", "holds no goods; give one of takeoff, schedule and lift_loads")
	case n > 1:
		c.Add("", "inconsistent", "holds "+strconv.Itoa(n)+" of takeoff, schedule and lift_loads; give one of them")
	}
	if r.Takeoff != nil {
		c.key("/takeoff/rulebook", r.Takeoff.Rulebook)
		c.loads("/takeoff/lifts", r.Takeoff.Lifts)
	}
	if r.LiftLoads != nil {
		c.loads("/lift_loads", r.LiftLoads)
	}
}

func (r *Request) checkBook(c *checker) {
	const at = "/rulebook"
	switch {
	case r.Rulebook == nil || !c.key(at, *r.Rulebook):
	case r.LiftLoads == nil:
		c.Add(at, "inconsistent", "goes with lift_loads only; a takeoff and a schedule name their own rulebook, leave it out")
	case rulebook.Find(*r.Rulebook) == nil:
		c.Add(at, "unknown_ref", "there is no rulebook "+strconv.Quote(*r.Rulebook)+"; use "+rulebook.Keys())
	}
}

func (r *Request) checkDays(c *checker) {
	lead := c.count("/lead_days", r.LeadDays, 0, MaxDays)
	ahead := c.count("/ahead_days", r.AheadDays, 0, MaxDays)
	if !lead || !ahead {
		return
	}
	book := r.Book() // its defaults stand in where one of the two is left out
	if l, a := given(r.LeadDays, book, "drop.lead_days"), given(r.AheadDays, book, "drop.ahead_days"); a < l {
		c.Add("/ahead_days", "inconsistent", "is "+strconv.Itoa(a)+", less than lead_days, "+strconv.Itoa(l)+
			": nothing could come early enough and not too early; give ahead_days of "+strconv.Itoa(l)+" or more")
	}
}

func (p *Programme) check(c *checker) {
	c.date("/programme/start", p.Start)
	c.number("/programme/bricklayers", p.Bricklayers, 1, MaxBricklayers)
	for _, kind := range slices.Sorted(maps.Keys(p.OutputPerDay)) {
		at := "/programme/output_per_day/" + escape(kind)
		if !product.Kind(kind).Laid() {
			c.Add(at, "unknown", "is not a kind that is laid; use brick, block, coursing_unit")
			continue
		}
		c.number(at, p.OutputPerDay[kind], 1, MaxOutput)
	}
	if p.WorkingDays != nil {
		c.week(p.WorkingDays)
	}
	c.holidays(p.Holidays)
	c.count("/programme/lift_change_days", p.LiftChangeDays, 0, MaxDays)
}

func (c *checker) week(words []string) {
	const at = "/programme/working_days"
	if len(words) < 1 || len(words) > 7 {
		c.Add(at, "items", "holds "+strconv.Itoa(len(words))+"; give 1 to 7 of "+strings.Join(weekdays[:], ", "))
		return
	}
	for i, w := range words {
		switch {
		case !slices.Contains(weekdays[:], w):
			c.Add(at+"/"+strconv.Itoa(i), "choice", "is "+strconv.Quote(w)+"; use one of "+strings.Join(weekdays[:], ", "))
		case slices.Contains(words[:i], w):
			c.Add(at+"/"+strconv.Itoa(i), "duplicate", strconv.Quote(w)+" stands twice; give each day once")
		}
	}
}

func (c *checker) holidays(words []string) {
	const at = "/programme/holidays"
	if len(words) > MaxHolidays {
		c.Add(at, "items", "holds "+strconv.Itoa(len(words))+"; give at most "+strconv.Itoa(MaxHolidays))
		return
	}
	for i, w := range words {
		c.date(at+"/"+strconv.Itoa(i), w)
	}
}

func (s *Scaffold) check(c *checker) {
	c.count("/scaffold/load_class", s.LoadClass, 1, 6)
	c.length("/scaffold/bay_length_mm", s.BayLength, 500, 5_000)
	c.length("/scaffold/platform_width_mm", s.PlatformWidth, 300, 3_000)
	c.count("/scaffold/bays", s.Bays, 1, MaxBays)
	if b := s.LoadingBay; b != nil && (*b <= 0 || *b > 100*measure.One) {
		c.Add("/scaffold/loading_bay_kn_m2", "range", "is "+b.String()+"; give more than 0, at most 100 kN/m2, as on its handover certificate")
	}
	if s.LoadClass == nil {
		return
	}
	for _, part := range []struct {
		name    string
		missing bool
	}{{"bay_length_mm", s.BayLength == nil}, {"platform_width_mm", s.PlatformWidth == nil}, {"bays", s.Bays == nil}} {
		if part.missing {
			c.Add("/scaffold/"+part.name, "required", "is missing; with load_class give bay_length_mm, platform_width_mm and bays")
		}
	}
}

func (c *checker) vehicles(vehicles []Vehicle) {
	if len(vehicles) < 1 || len(vehicles) > MaxVehicles {
		c.Add("/vehicles", "items", "holds "+strconv.Itoa(len(vehicles))+"; give 1 to "+strconv.Itoa(MaxVehicles))
		return
	}
	seen := make(map[string]bool, len(vehicles))
	for i := range vehicles {
		v := &vehicles[i]
		at := "/vehicles/" + strconv.Itoa(i)
		if c.key(at+"/key", v.Key) && seen[v.Key] {
			c.Add(at+"/key", "duplicate", strconv.Quote(v.Key)+" stands twice; give every vehicle a key of its own")
		}
		seen[v.Key] = true
		c.mass(at+"/payload_kg", &v.Payload, mostPayload)
		c.number(at+"/places", v.Places, 1, MaxPlaces)
		switch {
		case v.Cost == nil:
			c.Add(at+"/cost", "required", "is missing; give what one trip costs, such as \"95.00\"")
		case *v.Cost < 0 || *v.Cost > mostTrip:
			c.Add(at+"/cost", "range", "is "+v.Cost.String()+"; give 0 to "+mostTrip.String())
		}
		c.count(at+"/available", v.Available, 0, MaxAvailable)
	}
}

func (c *checker) currency(s string) {
	switch {
	case s == "":
		c.Add("/currency", "required", "is missing; give three capital letters, such as GBP")
	case len(s) != 3 || strings.Trim(s, "ABCDEFGHIJKLMNOPQRSTUVWXYZ") != "":
		c.Add("/currency", "pattern", "is "+strconv.Quote(s)+"; give three capital letters, such as GBP")
	}
}

func (c *checker) key(at, s string) bool { return schedule.CheckKey(&c.Faults, at, s) }

func (c *checker) date(at, s string) {
	if s == "" {
		c.Add(at, "required", "is missing; give a date as YYYY-MM-DD")
	} else if _, err := ParseDate(s); err != nil {
		c.Add(at, "pattern", err.Error())
	}
}

func (c *checker) number(at string, n, least, most int) bool {
	if n < least || n > most {
		c.Add(at, "range", "is missing or "+strconv.Itoa(n)+"; give "+strconv.Itoa(least)+" to "+strconv.Itoa(most))
		return false
	}
	return true
}

// count checks a number that may be left out.
func (c *checker) count(at string, n *int, least, most int) bool {
	if n == nil || *n >= least && *n <= most {
		return true
	}
	c.Add(at, "range", "is "+strconv.Itoa(*n)+"; give "+strconv.Itoa(least)+" to "+strconv.Itoa(most))
	return false
}

// mass checks a mass that may be left out.
func (c *checker) mass(at string, m *measure.Mass, most measure.Mass) {
	if m != nil && (*m < measure.Kilogram || *m > most) {
		c.Add(at, "range", "is missing or "+m.String()+" kg; give 1 to "+most.String()+" kg")
	}
}

func (c *checker) length(at string, l *measure.Length, least, most measure.Length) {
	if l != nil && (*l < least*measure.Millimetre || *l > most*measure.Millimetre) {
		c.Add(at, "range", "is "+l.String()+" mm; give "+strconv.Itoa(int(least))+" to "+strconv.Itoa(int(most))+" mm")
	}
}

// escape writes a member's name as JSON Pointer wants it (RFC 6901, 3).
func escape(s string) string { return strings.NewReplacer("~", "~0", "/", "~1").Replace(s) }
