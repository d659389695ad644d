package lintel

import (
	"cmp"
	"slices"
	"strings"

	"hodman/service/finding"
	"hodman/service/measure"
	"hodman/service/product"
	"hodman/service/rulebook"
	"hodman/service/schedule"
	"hodman/service/wording"
)

// mostAlternatives is how many other lintels are shown for an opening.
const mostAlternatives = 5

// Select picks a lintel for every opening, in the order given, and says what stands
// in the way. Two openings that share a pier find each other by its width: of several
// as wide on one wall and leaf, the nearest to the right in the list is taken.
//
// With stock (sent), all openings are served at once: fewest without, then least
// price, then least surplus length, then catalogue order. What has no price counts as
// the dearest. An opening that stock does not serve, and every opening where no
// stock is sent, gets the shortest that serves of the first family that has one. Over
// the rulebook's widest opening nothing serves. No lintel is ever picked that bears
// less than its least; lengths are exact, a half bearing is rounded down.
//
// Loads are not looked at. Codes in stock that the catalogue lacks are passed over:
// the caller has checked them.
func Select(openings []Opening, cat *product.Catalogue, book *rulebook.Book, stock []schedule.Stock, sent bool) ([]Pick, []finding.Finding) {
	s := &selection{bearing: bearingOf(book), lift: liftingOf(book), sent: sent}
	s.count(stock, cat.OfKind(product.Lintel))
	jobs := make([]job, len(openings))
	for i := range openings {
		s.serve(&jobs[i], &openings[i], cat)
	}
	if sent {
		allocate(jobs, s.left)
	}
	picks := make([]Pick, len(jobs))
	for i := range jobs {
		s.pick(&jobs[i], &picks[i])
		s.tell(&jobs[i], &picks[i])
	}
	s.place(openings, picks)
	return picks, s.findings
}

// selection is one call's figures: left is the stock not yet given to an opening, by
// place in the catalogue, had what there was any of at first.
type selection struct {
	bearing  bearing
	lift     lifting
	sent     bool
	left     []int
	had      []bool
	seats    []suited
	room     []candidate // for what serves the next openings
	words    wording.Writer
	findings []finding.Finding
}

// suited is what the catalogue has for a seat.
type suited struct {
	seat  *Seat
	words string
	list  []candidate
}

// count finds the stock of every lintel of the catalogue.
func (s *selection) count(stock []schedule.Stock, lintels []*product.Product) {
	s.left, s.had = make([]int, len(lintels)), make([]bool, len(lintels))
	if len(stock) == 0 {
		return
	}
	quantity := make(map[string]int, len(stock))
	for _, line := range stock {
		quantity[line.Product] += line.Quantity
	}
	for place, p := range lintels {
		s.left[place] = quantity[p.Code]
		s.had[place] = s.left[place] > 0
	}
}

// candidate is a lintel for a seat; least and needed are for one opening.
type candidate struct {
	*offer
	least, needed measure.Length
}

// offer is a lintel of the catalogue.
type offer struct {
	product *product.Product
	place   int   // in the catalogue
	dear    int64 // its price, or more than any where it has none
}

// job is one opening with the lintels that serve it, first choice first, and the one
// it is given out of stock.
type job struct {
	opening *Opening
	seat    int         // place among the seats met so far
	suiting []candidate // of any length
	serving []candidate
	taken   *candidate
}

func (j *job) serves(p *product.Product) *candidate {
	for i := range j.serving {
		if j.serving[i].product == p {
			return &j.serving[i]
		}
	}
	return nil
}

// serve finds the lintels that serve an opening.
func (s *selection) serve(j *job, o *Opening, cat *product.Catalogue) {
	j.opening = o
	j.seat = slices.IndexFunc(s.seats, func(e suited) bool { return e.seat.like(&o.Seat) })
	if j.seat < 0 {
		j.seat = len(s.seats)
		s.seats = append(s.seats, suited{&o.Seat, o.Seat.words(), suit(&o.Seat, cat)})
	}
	j.suiting = s.seats[j.seat].list
	if o.widest() > s.bearing.mostClear {
		return
	}
	if cap(s.room)-len(s.room) < len(j.suiting) {
		s.room = make([]candidate, 0, openingsABlock*len(j.suiting))
	}
	from := len(s.room)
	for _, c := range j.suiting {
		c.least = s.bearing.of(o, c.product)
		c.needed = o.widest() + 2*c.least
		if c.product.Length >= c.needed {
			s.room = append(s.room, c)
		}
	}
	j.serving = s.room[from:len(s.room):len(s.room)]
}

// openingsABlock is for how many openings room is asked for at a time.
const openingsABlock = 4

// like says whether two seats are suited by the same lintels.
func (s *Seat) like(o *Seat) bool {
	return s.Leaf == o.Leaf && s.Thickness == o.Thickness && s.Cavity == o.Cavity && slices.Equal(s.Families, o.Families)
}

// suit lists the catalogue's lintels for a seat by family in order of preference,
// then the shortest, then the cheapest, then as the catalogue has them.
func suit(seat *Seat, cat *product.Catalogue) []candidate {
	lintels := cat.OfKind(product.Lintel)
	offers := make([]offer, 0, len(lintels))
	var dearest int64
	for place, p := range lintels {
		dearest = max(dearest, int64(p.Price))
		if seat.suits(p) {
			offers = append(offers, offer{product: p, place: place, dear: int64(p.Price)})
		}
	}
	all := make([]candidate, len(offers))
	for i := range offers {
		if all[i].offer = &offers[i]; offers[i].dear == 0 {
			offers[i].dear = dearest + 1
		}
	}
	slices.SortStableFunc(all, func(a, b candidate) int {
		return cmp.Or(cmp.Compare(seat.rank(a.product.Family), seat.rank(b.product.Family)),
			cmp.Compare(a.product.Length, b.product.Length), cmp.Compare(a.dear, b.dear))
	})
	return all
}

func (s *selection) pick(j *job, p *Pick) {
	o := j.opening
	*p = Pick{Wall: o.Wall, Opening: o.Opening, Leaf: o.Seat.Leaf, Clear: o.Clear, Allowance: o.Allowance, Alternatives: []Alternative{}, Short: s.short(j)}
	chosen := j.taken
	switch {
	case chosen != nil:
		p.Status = InStock
	case len(j.serving) == 0:
		s.nothing(j, p)
		return
	default:
		chosen = &j.serving[0]
		p.Status = NotChecked
		if s.sent {
			p.Status = OutOfStock
		}
	}
	p.LeastBearing, p.Needed = chosen.least, chosen.needed
	p.Product, p.Length, p.Mass = chosen.product.Code, chosen.product.Length, chosen.product.Mass
	p.Alternatives = s.alternatives(j, chosen)
	handling, rule := s.handling(p.Mass)
	p.Handling = handling
	p.Rules, p.Why = s.why(j, chosen, p.Status)
	p.Rules = append(p.Rules, rule)
}

// nothing fills in what would have been needed.
func (s *selection) nothing(j *job, p *Pick) {
	o := j.opening
	p.Status = NothingServes
	p.LeastBearing = max(s.bearing.least, o.Asked)
	if len(o.Seat.Families) > 0 {
		p.LeastBearing = max(s.bearing.rule(o, o.Seat.Families[0]), o.Asked)
	}
	p.Needed = o.widest() + 2*p.LeastBearing
	if o.widest() > s.bearing.mostClear {
		p.Rules, p.Why = []string{"lintel.most_clear"}, s.words.Say("the opening is wider than the ", s.bearing.mostClear, " mm that such lintels are made for")
		return
	}
	p.Rules, _ = s.bearing.says(nil, o, nil, p.LeastBearing)
	s.sum(o, p.LeastBearing, p.Needed)
	if len(j.suiting) == 0 {
		p.Why = s.words.Say("; the catalogue has no lintel for ", o.Seat.words())
		return
	}
	p.Why = s.words.Say("; no lintel of the catalogue for ", o.Seat.words(), " is as long")
}

// sum begins a sentence with what an opening needs.
func (s *selection) sum(o *Opening, least, needed measure.Length) {
	s.words.Add(o.Clear)
	if o.Allowance > 0 {
		s.words.Add(" + ", o.Allowance, " allowance")
	}
	s.words.Add(" + 2 x ", least, " = ", needed, " mm needed")
}

func (s *selection) why(j *job, c *candidate, status Status) (rules []string, why string) {
	rules, least := s.bearing.says(make([]string, 0, mostRules), j.opening, c.product, c.least)
	s.sum(j.opening, c.least, c.needed)
	s.words.Add(" (", least, "); ")
	first := &j.serving[0]
	switch {
	case status == NotChecked:
		rules = append(rules, "lintel.ladder")
		s.words.Add("the shortest that is long enough: ")
	case status == OutOfStock:
		rules = append(rules, "lintel.ladder", "lintel.stock")
		s.words.Add("none in stock serves; the shortest that is long enough: ")
	case first.product == c.product:
		rules = append(rules, "lintel.stock")
		s.words.Add("in stock, and the shortest that is long enough: ")
	default:
		rules = append(rules, "lintel.stock")
		s.words.Add("in stock, for the least cost over all openings together: ")
	}
	material, _, _ := strings.Cut(string(c.product.Family), "_")
	s.words.Add(c.product.Length, " mm, ", material, ", for ", s.seats[j.seat].words)
	if status == InStock && first.product != c.product {
		s.words.Add("; the first choice would be ", first.product.Code, ", ", first.product.Length, " mm")
	}
	return rules, s.words.End()
}

// mostRules is how many a pick names.
const mostRules = 5

// alternatives are others that serve, shortest first: the first choice where it was
// not picked, then what is in stock, then the shortest of the rest, as many as are shown.
func (s *selection) alternatives(j *job, chosen *candidate) []Alternative {
	var shown [mostAlternatives]*candidate
	n := 0
	for i := range j.serving {
		c := &j.serving[i]
		if c.product == chosen.product {
			continue
		}
		at := n
		for at > 0 && s.sooner(j, c, shown[at-1]) {
			at--
		}
		if at < mostAlternatives {
			n = min(n+1, mostAlternatives)
			copy(shown[at+1:n], shown[at:])
			shown[at] = c
		}
	}
	others := shown[:n]
	slices.SortStableFunc(others, func(a, b *candidate) int { return cmp.Compare(a.product.Length, b.product.Length) })
	out := make([]Alternative, n)
	for i, c := range others {
		out[i] = Alternative{c.product.Code, c.product.Length, half(c.product.Length - j.opening.Clear), s.status(c.place)}
	}
	return out
}

// sooner says whether an alternative is shown before another.
func (s *selection) sooner(j *job, a, b *candidate) bool {
	wa, wb := s.worth(j, a), s.worth(j, b)
	return wa < wb || wa == wb && a.product.Length < b.product.Length
}

// worth is how early an alternative is shown.
func (s *selection) worth(j *job, c *candidate) int {
	switch {
	case c.product == j.serving[0].product:
		return 0
	case s.left[c.place] > 0:
		return 1
	}
	return 2
}

func (s *selection) status(place int) Status {
	switch {
	case !s.sent:
		return NotChecked
	case s.left[place] > 0:
		return InStock
	}
	return OutOfStock
}

// half is half of a length, rounded down to a micrometre.
func half(l measure.Length) measure.Length { return measure.Length(measure.FloorDiv(int64(l), 2)) }

// short lists lintels that span the opening and bear too little: those in stock, or
// where no stock is sent the longest such, the next length below. Longest first.
func (s *selection) short(j *job) []Short {
	var few [8]candidate
	found := few[:0]
	for _, c := range j.suiting {
		c.least = s.bearing.of(j.opening, c.product)
		switch long := c.product.Length; {
		case long <= j.opening.Clear || long >= j.opening.widest()+2*c.least:
		case s.sent && s.had[c.place]:
			found = append(found, c)
		case !s.sent && (len(found) == 0 || long > found[0].product.Length):
			found = append(found[:0], c)
		}
	}
	slices.SortStableFunc(found, func(a, b candidate) int { return cmp.Compare(b.product.Length, a.product.Length) })
	out := make([]Short, len(found))
	for i, c := range found {
		bears := half(c.product.Length - j.opening.Clear)
		out[i] = Short{c.product.Code, c.product.Length, bears, s.words.Say("bears ", bears, " mm each end, ", c.least-bears,
			" mm less than the least of ", c.least, " mm: not to be used unless the designer agrees")}
	}
	return out
}

// handling says who or what lifts a lintel of that mass, and by which rule. The
// bands are guideline figures for when to assess, not what may be lifted.
func (s *selection) handling(m measure.Mass) (text, rule string) {
	const assess = " The figure says when to assess the lift, not what may be lifted; defer to the site's own assessment."
	if m <= 0 {
		return "The mass is not known: find it out before anybody lifts it.", "lintel.one_person"
	}
	l := &s.lift
	switch {
	case m <= l.one:
		return s.words.Say(m, " kg is within the guideline figure for one person at best height (", l.one, " kg).", assess), "lintel.one_person"
	case m <= l.two:
		return s.words.Say(m, " kg is over one person's guideline figure and within that for two (", l.two, " kg).", assess), "lintel.two_persons"
	case m <= l.machine:
		return s.words.Say(m, " kg is over the guideline figure for two persons (", l.two, " kg): use a machine, or have the lift assessed and planned; over ",
			l.machine, " kg by machine only.", assess), "lintel.machine"
	}
	return s.words.Say(m, " kg: by machine only. Defer to the lifting plan."), "lintel.machine"
}

// lifting holds the rulebook's figures for who lifts what.
type lifting struct {
	one, two, machine measure.Mass
}

func liftingOf(book *rulebook.Book) lifting {
	kg := func(rule string) measure.Mass {
		return measure.Mass(book.Ratio(rule)) * measure.Kilogram / measure.Mass(measure.One)
	}
	return lifting{one: kg("lintel.one_person"), two: kg("lintel.two_persons"), machine: kg("lintel.machine")}
}
