package takeoff

import (
	"cmp"
	"slices"

	"hodman/service/lift"
	"hodman/service/measure"
	"hodman/service/product"
	"hodman/service/wording"
)

// ledger gathers what is needed of every product, lift by lift, so that the lifts
// add up to the whole by construction.
type ledger struct {
	entries []*entry
	// room, lifts and rules are for the next entries.
	room  []entry
	lifts []measure.Quantity
	rules []string
}

// rowsABlock is for how many entries room is asked for at a time.
const rowsABlock = 16

// mostRules is how many rules mostly touch a line; more only cost another allocation.
const mostRules = 8

// entry is one product of the ledger.
type entry struct {
	product *product.Product
	line    Line
	lifts   []measure.Quantity // required, lift by lift
	sums    [mostSums]string   // the first
	counted int                // of all sums
	least   measure.Quantity   // that is brought at once; nought: a pack
}

// mostSums is how many sums one line shows; where there are more, they stand under
// ancillaries or lintels row by row and the line shows what they come to.
const mostSums = 4

// of returns the entry of a product, made where there is none.
func (l *ledger) of(p *product.Product, unit string, lifts int) *entry {
	for _, e := range l.entries {
		if (e.product == p || e.product.Code == p.Code) && e.line.Unit == unit {
			return e
		}
	}
	e := l.add(lifts)
	e.product = p
	e.line.Product, e.line.Name, e.line.Kind, e.line.Unit, e.line.Pack = p.Code, p.Name, string(p.Kind), unit, p.Holds(unit)
	return e
}

// add makes room for one more entry.
func (l *ledger) add(lifts int) *entry {
	n := len(l.entries) % rowsABlock
	if n == 0 {
		l.entries = slices.Grow(l.entries, rowsABlock)
		l.room, l.lifts, l.rules = make([]entry, rowsABlock), make([]measure.Quantity, rowsABlock*lifts), make([]string, rowsABlock*mostRules)
	}
	e := &l.room[n]
	e.lifts = l.lifts[n*lifts : (n+1)*lifts : (n+1)*lifts]
	e.line.Rules = l.rules[n*mostRules : n*mostRules : (n+1)*mostRules]
	l.entries = append(l.entries, e)
	return e
}

// rule notes a rule once.
func (e *entry) rule(ids ...string) {
	for _, id := range ids {
		if !slices.Contains(e.line.Rules, id) {
			e.line.Rules = append(e.line.Rules, id)
		}
	}
}

// sum adds one piece of arithmetic to the line.
func (e *entry) sum(w *wording.Writer, parts ...any) {
	if e.counted < mostSums {
		e.sums[e.counted] = w.Say(parts...)
	}
	e.counted++
}

// arithmetic is the line's sum in words.
func (e *entry) arithmetic(w *wording.Writer) string {
	switch {
	case e.counted == 0:
		return ""
	case e.counted == 1:
		return e.sums[0]
	case e.counted <= mostSums:
		w.Add(e.sums[0])
		for _, s := range e.sums[1:e.counted] {
			w.Add("; ", s)
		}
		return w.End()
	}
	listed, unit, over := "ancillaries", "", "the allowance "
	if e.product.Kind == product.Lintel {
		listed = "lintels"
	}
	if e.line.Unit != "each" {
		unit, over = " "+e.line.Unit, "laps and allowance "
	}
	w.Add(e.counted, " rows under ", listed, " come to ", e.line.Net, unit)
	if e.line.Breakage > 0 {
		w.Add(", with ", over, e.line.Required, unit)
	}
	return w.End()
}

// close makes the lines and the lift loads. A line is rounded up to whole packs, or to
// whole units where a pack may be split.
func (l *ledger) close(levels *lift.Levels, words *wording.Writer) ([]Line, []lift.Load) {
	slices.SortStableFunc(l.entries, func(a, b *entry) int {
		return cmp.Compare(rank(a.product.Kind), rank(b.product.Kind))
	})
	loads := make([]lift.Load, len(levels.Tops))
	from := levels.Foot
	for i, top := range levels.Tops {
		loads[i] = lift.Load{Lift: i + 1, From: from, To: top, Lines: make([]lift.Line, 0, l.count(i))}
		from = top
	}
	lines := make([]Line, 0, len(l.entries))
	for _, e := range l.entries {
		e.close(words)
		lines = append(lines, e.line)
		for i, q := range e.lifts {
			if q > 0 {
				line := e.load(q)
				loads[i].Lines = append(loads[i].Lines, line)
				loads[i].Mass += line.Mass
			}
		}
	}
	return lines, loads
}

// count is how many products a lift needs.
func (l *ledger) count(lift int) int {
	n := 0
	for _, e := range l.entries {
		if e.lifts[lift] > 0 {
			n++
		}
	}
	return n
}

func (e *entry) close(words *wording.Writer) {
	n := &e.line
	for _, q := range e.lifts {
		n.Required += q
	}
	step := n.Pack
	if e.product.Loose && n.Unit == "each" {
		step = measure.Whole
	}
	n.Order = measure.Quantity(measure.CeilDiv(int64(max(n.Required, e.least)), int64(step))) * step
	n.Packs = int(n.Order / n.Pack)
	n.Surplus = n.Order - n.Required
	n.Mass = e.mass(n.Order)
	n.Sum = e.arithmetic(words)
}

func (e *entry) load(q measure.Quantity) lift.Line {
	return lift.Line{Product: e.product.Code, Kind: string(e.product.Kind), Unit: e.line.Unit, Required: q,
		Pack: e.line.Pack, PackMass: e.product.PackMass(), Loose: e.product.Loose, Mass: e.mass(q)}
}

// mass is of so much of the product, to the nearest gram.
func (e *entry) mass(q measure.Quantity) measure.Mass {
	packs, rest := int64(q/e.line.Pack), int64(q%e.line.Pack)
	whole := int64(e.product.PackMass())
	return measure.Mass(packs*whole + measure.HalfUpDiv(rest*whole, int64(e.line.Pack)))
}

// kinds in the order that a clerk reads them.
var kinds = []product.Kind{
	product.Brick, product.Block, product.CoursingUnit, product.Coping, product.Cement, product.Lime, product.Sand,
	product.ReadyMortar, product.DryMortar, product.SiloMortar, product.ThinMortar, product.Pigment, product.Plasticiser, product.Lintel,
	product.Padstone, product.Sill, product.WallTie, product.BedReinforcement, product.CavityTray, product.SteppedTray, product.CatchmentTray, product.RidgeTray, product.StopEnd, product.Weep, product.DPC, product.AirBrick, product.AirBrickSleeve, product.CavityCloser,
	product.Insulation, product.StarterKit, product.JointFiller, product.Sealant, product.WallPlate, product.HoldingDownStrap, product.RestraintStrap,
}

func rank(k product.Kind) int {
	if i := slices.Index(kinds, k); i >= 0 {
		return i
	}
	return len(kinds)
}
