package lintel

import (
	"slices"
	"strconv"
	"strings"

	"hodman/service/finding"
	"hodman/service/measure"
	"hodman/service/product"
	"hodman/service/rulebook"
	"hodman/service/schedule"
)

// MaxOpenings is the most openings of one request.
const MaxOpenings = 500

// Request asks for lintels without a wall schedule. Stock may be left out: then it
// is not looked at; an empty list means that there is nothing in stock.
type Request struct {
	Rulebook string           `json:"rulebook"`
	Openings []RequestOpening `json:"openings"`
	// ClearAllowance is by how much openings may turn out wider on site, 0 to 50 mm.
	ClearAllowance measure.Length   `json:"clear_allowance_mm,omitzero"`
	Stock          []schedule.Stock `json:"stock,omitzero"`
}

// RequestOpening is one opening. Leaf is "both" or "single"; it may be left out where
// Family says which. Room is the masonry beside the opening; where it is left out there
// is enough.
type RequestOpening struct {
	Ref       string          `json:"ref"`
	Clear     *measure.Length `json:"clear_mm"`
	Bearing   *measure.Length `json:"bearing_mm,omitzero"`
	Leaf      string          `json:"leaf,omitzero"`
	Cavity    *measure.Length `json:"cavity_mm,omitzero"`    // where both leaves are carried
	Thickness *measure.Length `json:"thickness_mm,omitzero"` // of a single leaf
	Family    product.Family  `json:"family,omitzero"`
	RoomLeft  *measure.Length `json:"room_left_mm,omitzero"`
	RoomRight *measure.Length `json:"room_right_mm,omitzero"`
}

// Selection is the answer, one pick an opening in the order asked.
type Selection struct {
	Rulebook  string            `json:"rulebook"`
	Catalogue string            `json:"catalogue"`
	Lintels   []Pick            `json:"lintels"`
	Findings  []finding.Finding `json:"findings"`
	Cautions  []string          `json:"cautions"`
}

// Cautions ride with every selection of lintels.
var Cautions = []string{
	"Lintels are picked by length, bearing and make-up only; no load is checked. Defer to the engineer, the maker's load tables and the local code.",
	"Masses and handling bands are guideline figures for when to assess a lift. Defer to the site's own assessment, the lifting plan and the scaffold's handover certificate.",
}

// FamiliesFor are the families that carry both leaves or a single one, in order of preference.
func FamiliesFor(leaf string) []product.Family {
	if leaf == "both" {
		return []product.Family{product.SteelCavity}
	}
	return []product.Family{product.ConcreteSingle, product.SteelSingle}
}

// Check finds every mistake in the request.
func (r *Request) Check(cat *product.Catalogue) finding.Faults {
	var f finding.Faults
	if schedule.CheckKey(&f, "/rulebook", r.Rulebook) && rulebook.Find(r.Rulebook) == nil {
		f.Add("/rulebook", "unknown_ref", "there is no rulebook "+strconv.Quote(r.Rulebook)+"; use "+rulebook.Keys())
	}
	checkLength(&f, "/clear_allowance_mm", &r.ClearAllowance, 0, 50)
	if n := len(r.Openings); n < 1 || n > MaxOpenings {
		f.Add("/openings", "items", "holds "+strconv.Itoa(n)+"; give 1 to "+strconv.Itoa(MaxOpenings))
	} else {
		r.openings(&f)
	}
	return append(f, schedule.CheckStock(r.Stock, cat)...)
}

func (r *Request) openings(f *finding.Faults) {
	refs := make(map[string]bool, len(r.Openings))
	for i := range r.Openings {
		o := &r.Openings[i]
		at := "/openings/" + strconv.Itoa(i)
		if schedule.CheckKey(f, at+"/ref", o.Ref) {
			if refs[o.Ref] {
				f.Add(at+"/ref", "duplicate", strconv.Quote(o.Ref)+" stands twice; give every opening a ref of its own")
			}
			refs[o.Ref] = true
		}
		o.check(f, at)
	}
}

func (o *RequestOpening) check(f *finding.Faults, at string) {
	if o.Clear == nil {
		f.Add(at+"/clear_mm", "required", "is missing; give the clear width of the opening, 1 to 20000 mm")
	}
	checkLength(f, at+"/clear_mm", o.Clear, 1, 20_000)
	checkLength(f, at+"/bearing_mm", o.Bearing, 50, 1_000)
	checkLength(f, at+"/cavity_mm", o.Cavity, 25, 500)
	checkLength(f, at+"/thickness_mm", o.Thickness, 20, 1_000)
	checkLength(f, at+"/room_left_mm", o.RoomLeft, 0, 100_000)
	checkLength(f, at+"/room_right_mm", o.RoomRight, 0, 100_000)
	leaf := checkChoice(f, at+"/leaf", o.Leaf, "both", "single")
	family := checkChoice(f, at+"/family", string(o.Family), string(product.SteelCavity), string(product.SteelSingle), string(product.ConcreteSingle))
	if leaf && family {
		o.checkSeat(f, at)
	}
}

// checkSeat checks that leaf, family and sizes go together.
func (o *RequestOpening) checkSeat(f *finding.Faults, at string) {
	switch {
	case o.Leaf == "" && o.Family == "":
		f.Add(at+"/leaf", "required", `is missing; give leaf ("both" or "single"), or a family`)
	case o.Leaf != "" && o.Family != "" && !slices.Contains(FamiliesFor(o.Leaf), o.Family):
		f.Add(at+"/family", "inconsistent", string(o.Family)+" does not carry leaf "+strconv.Quote(o.Leaf)+"; use one of "+familyWords(o.Leaf))
	case o.leaf() == "both" && o.Cavity == nil:
		f.Add(at+"/cavity_mm", "required", "is missing; a lintel under both leaves goes by the cavity's width")
	case o.leaf() == "both" && o.Thickness != nil:
		f.Add(at+"/thickness_mm", "inconsistent", "belongs to a single leaf; leave it out where both are carried")
	case o.leaf() == "single" && o.Thickness == nil:
		f.Add(at+"/thickness_mm", "required", "is missing; a lintel under a single leaf goes by the leaf's thickness")
	case o.leaf() == "single" && o.Cavity != nil:
		f.Add(at+"/cavity_mm", "inconsistent", "belongs to both leaves; leave it out where a single one is carried")
	}
}

func familyWords(leaf string) string {
	var words []string
	for _, f := range FamiliesFor(leaf) {
		words = append(words, string(f))
	}
	return strings.Join(words, ", ")
}

func (o *RequestOpening) leaf() string {
	switch {
	case o.Leaf != "":
		return o.Leaf
	case o.Family == product.SteelCavity:
		return "both"
	}
	return "single"
}

// Answer picks the lintels of a request that [Request.Check] has passed.
func Answer(r *Request, cat *product.Catalogue, book *rulebook.Book) Selection {
	openings := make([]Opening, len(r.Openings))
	for i := range r.Openings {
		openings[i] = r.Openings[i].opening("/openings/" + strconv.Itoa(i))
		openings[i].Allowance = r.ClearAllowance
	}
	picks, findings := Select(openings, cat, book, r.Stock, r.Stock != nil)
	if findings == nil {
		findings = []finding.Finding{}
	}
	return Selection{Rulebook: book.ID(), Catalogue: cat.ID(), Lintels: picks, Findings: findings, Cautions: Cautions}
}

func (o *RequestOpening) opening(at string) Opening {
	seat := Seat{Leaf: o.leaf(), Thickness: or(o.Thickness, 0), Cavity: or(o.Cavity, 0), Families: FamiliesFor(o.leaf())}
	if o.Family != "" {
		seat.Families = []product.Family{o.Family}
	}
	return Opening{Opening: o.Ref, At: at, Clear: *o.Clear, Asked: or(o.Bearing, 0), Seat: seat,
		RoomLeft: or(o.RoomLeft, measure.MaxLength), RoomRight: or(o.RoomRight, measure.MaxLength)}
}

// or is what was given, or else what is meant where it is left out.
func or(l *measure.Length, otherwise measure.Length) measure.Length {
	if l == nil {
		return otherwise
	}
	return *l
}

// checkLength checks that a length, where it is given, is least to most millimetres.
func checkLength(f *finding.Faults, at string, l *measure.Length, least, most measure.Length) {
	if l != nil && (*l < least*measure.Millimetre || *l > most*measure.Millimetre) {
		f.Add(at, "range", "is "+l.String()+" mm; give "+strconv.Itoa(int(least))+" to "+strconv.Itoa(int(most))+" mm")
	}
}

// checkChoice checks one of a few words, where it is given.
func checkChoice(f *finding.Faults, at, s string, words ...string) bool {
	if s == "" || slices.Contains(words, s) {
		return true
	}
	f.Add(at, "choice", "is "+strconv.Quote(s)+"; use one of "+strings.Join(words, ", "))
	return false
}
