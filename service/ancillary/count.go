package ancillary

import (
	"hodman/service/finding"
	"hodman/service/measure"
	"hodman/service/product"
	"hodman/service/rulebook"
	"hodman/service/schedule"
	"hodman/service/wording"
)

// Count counts what is built in with the walls, wall by wall in the order given, which
// is the schedule's. Everything that Need.Sum rounds is rounded up. Allowances (the
// schedule's, else the rulebook's) are taken over the whole job, so that rounding a
// share up to a whole tie or board happens once a product and not once a row.
//
// What the catalogue has nothing for is a finding and is not counted. Wall.Lintels has
// one length an opening; it panics otherwise.
func Count(walls []Wall, allow schedule.Allowances, cat *product.Catalogue, book *rulebook.Book) ([]Need, []CutList, []finding.Finding) {
	c := &counter{cat: cat, book: book, told: make(map[string]bool)}
	rows := 0
	for i := range walls {
		rows += rowsAWall + rowsAnOpening*len(walls[i].Lintels)
	}
	c.needs = make([]Need, 0, rows)
	c.cutPlates(walls)
	for i := range walls {
		w := &walls[i]
		if len(w.Lintels) != len(w.Wall.Openings) {
			panic("ancillary: wall " + w.Ref + " has not one lintel an opening")
		}
		c.ties(w)
		c.openings(w)
		c.courses(w)
		c.insulation(w)
		c.straps(w)
		c.plate(w)
		c.stones(w)
		c.airBricks(w)
		c.reinforcement(w)
		c.roofs(w)
		c.coping(w)
		c.ends(w, metLeft(walls, i))
	}
	c.cutPieces()
	c.cutBoards()
	c.allowances(allow)
	return c.needs, c.cuttings, c.findings
}

// How many rows a wall and an opening mostly come to; more only cost another allocation.
const (
	rowsAWall     = 10
	rowsAnOpening = 6
)

// counter gathers needs and findings. told keeps a finding that is true of the whole job to once.
type counter struct {
	cat      *product.Catalogue
	book     *rulebook.Book
	needs    []Need
	findings []finding.Finding
	told     map[string]bool
	words    wording.Writer
	room     []string // for the rules of the next needs

	plateCuts []plateCut
	pieceCuts []pieceCut
	boardCuts []boardCut
	cuttings  []CutList
}

// add appends a need of a wall. From and To are given above the wall's base. With is
// what is required before any allowance; nought for as much as Net.
func (c *counter) add(w *Wall, n Need) {
	n.Wall = w.Ref
	n.From += w.Wall.Base
	n.To += w.Wall.Base
	if n.With == 0 {
		n.With = n.Net
	}
	c.needs = append(c.needs, n)
}

// rules are those of one need, with room for what is put on top over the whole job.
func (c *counter) rules(ids ...string) []string {
	n := len(ids) + rulesOnTop
	if cap(c.room)-len(c.room) < n {
		c.room = make([]string, 0, max(n, blockOfRules))
	}
	from := len(c.room)
	c.room = append(c.room, ids...)
	own := c.room[from : from+len(ids) : from+n]
	c.room = c.room[:from+n]
	return own
}

const (
	rulesOnTop   = 1   // an allowance, or what is over of lengths
	blockOfRules = 128 // are asked for at a time
)

// tell appends a finding unless the same words were said already.
func (c *counter) tell(f finding.Finding) {
	if key := f.Code + f.Text; !c.told[key] {
		c.told[key] = true
		c.findings = append(c.findings, f)
	}
}

// pick returns the least product of a kind that suits, by its size; the first in the
// catalogue of those as small. Where none does it says what was looked for and returns nil.
func (c *counter) pick(at string, kind product.Kind, words, rule string, suits func(*product.Product) bool, size func(*product.Product) measure.Length) *product.Product {
	return c.pickOf(at, kind, rule, suits, size, words)
}

// pickOf is pick with words that are put together only where they are needed.
func (c *counter) pickOf(at string, kind product.Kind, rule string, suits func(*product.Product) bool, size func(*product.Product) measure.Length, words ...any) *product.Product {
	var best *product.Product
	for _, p := range c.cat.OfKind(kind) {
		if suits(p) && (best == nil || size(p) < size(best)) {
			best = p
		}
	}
	if best == nil {
		c.tell(finding.Finding{
			Severity: finding.Check, Code: "product.none_suits", At: at, Rule: rule,
			Text:   "catalogue " + c.cat.ID() + " has no " + c.words.Say(words...) + ": none is counted",
			Remedy: "add such a product to the catalogue, or order it apart",
		})
	}
	return best
}

// first returns the first product of a kind in the catalogue.
func (c *counter) first(at string, kind product.Kind, words, rule string) *product.Product {
	return c.pick(at, kind, words, rule, func(*product.Product) bool { return true }, unsized)
}

// unsized lets the catalogue's order choose.
func unsized(*product.Product) measure.Length { return 0 }

// spans says whether a product's cavity range holds the wall's cavity.
func (w *Wall) spans(p *product.Product) bool {
	return p.CavityMin <= w.Cavity.Width && w.Cavity.Width <= p.CavityMax
}

// allowances puts what is lost on top, product by product over the whole job: each
// row carries the difference that it makes to the rounded total.
func (c *counter) allowances(allow schedule.Allowances) {
	counted := make(map[*product.Product]measure.Quantity)
	for i := range c.needs {
		n := &c.needs[i]
		ratio, rule := c.allowance(n.Product.Kind, allow)
		if ratio == 0 {
			continue
		}
		before := counted[n.Product]
		counted[n.Product] = before + n.With
		n.With += extra(before+n.With, ratio, n.Unit) - extra(before, ratio, n.Unit)
		n.Sum = c.words.Say(n.Sum, "; ", ratio, " on top, taken over the job")
		n.Rules = append(n.Rules, rule)
	}
}

func (c *counter) allowance(kind product.Kind, allow schedule.Allowances) (measure.Ratio, string) {
	rule, given := "", (*measure.Ratio)(nil)
	switch kind {
	case product.WallTie:
		rule, given = "tie.allowance", allow.WallTie
	case product.DPC:
		rule, given = "dpc.allowance", allow.DPC
	case product.Insulation:
		rule, given = "insulation.allowance", allow.Insulation
	case product.Brick: // on edge, as a coping
		rule, given = "brick.breakage", allow.Brick
	default:
		return 0, ""
	}
	if given != nil {
		return *given, rule
	}
	return c.book.Ratio(rule), rule
}

// extra is the ratio of a quantity, rounded up to a whole of what is counted or a thousandth of what is measured.
func extra(q measure.Quantity, ratio measure.Ratio, unit string) measure.Quantity {
	if unit == each {
		return measure.Quantity(measure.CeilDiv(int64(q)*int64(ratio), int64(measure.One)*int64(measure.Whole))) * measure.Whole
	}
	return measure.Quantity(ratio.CeilOf(int64(q)))
}

// Units of a need.
const (
	each  = "each"
	metre = "m"
)
