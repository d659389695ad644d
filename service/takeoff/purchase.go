package takeoff

import (
	"strconv"

	"hodman/service/ancillary"
	"hodman/service/binpack"
	"hodman/service/finding"
	"hodman/service/lift"
	"hodman/service/measure"
	"hodman/service/product"
	"hodman/service/schedule"
)

// countUnits turns the pieces of each product into what has to be bought.
func (j *job) countUnits() {
	kerf := int64(j.book.Length("cuts.kerf"))
	for _, u := range j.units {
		e := j.ledger.of(u.product, "each", len(u.lifts))
		whole, cuts, closers := u.total()
		fromCuts, fromClosers := cuts, closers
		if j.schedule.CutReuse != "none" {
			fromCuts = j.fewest(u, u.product.Length, kerf, u.cuts)
			fromClosers = 0
			for _, l := range u.closers {
				fromClosers += j.fewest(u, l.thick, kerf, l.closers)
			}
		}
		forCuts := fromCuts + fromClosers + u.splits
		ratio := j.breakage(u.product.Kind)
		broken := ratio.CeilOf(int64(whole + forCuts))
		u.share(e, fromCuts, fromClosers, broken)

		n := &e.line
		n.Whole, n.CutPieces, n.ForCuts = whole, cuts+closers+u.splits, forCuts
		n.Laid = n.Whole + n.CutPieces
		n.Net, n.Breakage = measure.Each(whole+forCuts), measure.Each(int(broken))
		n.AreaRule = int(measure.CeilDiv(u.area, 1_000_000))
		e.rule(string(u.product.Kind)+".breakage", "cuts.reuse", "cuts.kerf", "area.rule")
		e.rule(u.joinedRules()...)
		split := ""
		if closers > 0 {
			split = j.words.Say(fromClosers, " for ", counted(closers, "closer"), " + ")
		}
		e.sum(&j.words, whole, " whole + ", fromCuts, " for ", cuts, " sawn in length + ", split,
			u.splits, " for as many cut in height, + ", ratio, " breakage, up to ", broken)
		j.checkMass(u.product)
	}
}

// fewest is how many units, each so long, a list of cuts comes out of.
func (j *job) fewest(u *units, length measure.Length, kerf int64, cuts []binpack.Item) int {
	if len(cuts) == 0 {
		return 0
	}
	packing := binpack.Fewest(int64(length), kerf, cuts)
	if !packing.Optimal {
		j.note(finding.Note, "cuts.not_proven", "/walls", u.product.Code+": the cuts come out of "+strconv.Itoa(packing.Bins)+" units; fewer than "+strconv.Itoa(packing.LowerBound)+" cannot do, between the two nothing was proven", "", "cuts.reuse")
	}
	return packing.Bins
}

func (u *units) total() (whole, cuts, closers int) {
	for i := range u.lifts {
		whole += u.lifts[i].whole
		cuts += u.lifts[i].cuts
		closers += u.lifts[i].closers
	}
	return whole, cuts, closers
}

// share parts what the cuts and the breakage take among the lifts.
func (u *units) share(e *entry, fromCuts, fromClosers int, broken int64) {
	by := make([]int64, len(u.lifts))
	for i := range u.lifts {
		by[i] = u.lifts[i].cutLength
	}
	need := lift.Share(int64(fromCuts), by)
	if fromClosers > 0 {
		for i := range u.lifts {
			by[i] = u.lifts[i].closerWidth
		}
		for i, n := range lift.Share(int64(fromClosers), by) {
			need[i] += n
		}
	}
	for i := range u.lifts {
		need[i] += int64(u.lifts[i].whole + u.lifts[i].splits)
	}
	for i, b := range lift.Share(broken, need) {
		e.lifts[i] += measure.Each(int(need[i] + b))
	}
}

// breakage is the schedule's allowance for a kind of unit, or the rulebook's.
func (j *job) breakage(k product.Kind) measure.Ratio {
	a := &j.schedule.Allowances
	var given *measure.Ratio
	switch k {
	case product.Brick:
		given = a.Brick
	case product.Block:
		given = a.Block
	case product.CoursingUnit:
		given = a.CoursingUnit
	}
	return orRule(given, j.book.Ratio(string(k)+".breakage"))
}

func orRule(given *measure.Ratio, rule measure.Ratio) measure.Ratio {
	if given != nil {
		return *given
	}
	return rule
}

// countAncillaries counts what is built in with the masonry.
func (j *job) countAncillaries() {
	needs, cuttings, findings := ancillary.Count(j.ancillaryWalls(), j.schedule.Allowances, j.cat, j.book)
	j.out.Findings = append(j.out.Findings, findings...)
	j.out.Cutting = cuttings
	j.out.Ancillaries = make([]Ancillary, 0, len(needs))
	for i := range needs {
		n := &needs[i]
		j.out.Ancillaries = append(j.out.Ancillaries, Ancillary{Wall: n.Wall, Part: n.Part, Product: n.Product.Code,
			Unit: n.Unit, Required: n.With, Places: n.Places, Sum: n.Sum, Rules: n.Rules})
		e := j.ledger.of(n.Product, n.Unit, len(j.levels.Tops))
		j.spread(e, n)
		e.line.Net += n.Net
		e.line.Breakage += n.With - n.Net
		e.rule(n.Rules...)
		e.sum(&j.words, "wall ", n.Wall, ": ", n.Sum)
	}
}

// spread puts a need into the lifts that it is built in, by height; what is
// counted by the piece stays in whole pieces.
func (j *job) spread(e *entry, n *ancillary.Need) {
	if low, high := j.levels.At(n.From), j.levels.At(n.To); low == high {
		e.lifts[high] += n.With
		return
	}
	grain := int64(1)
	if n.Unit == "each" {
		grain = int64(measure.Whole)
	}
	if j.shares == nil {
		j.weights, j.shares = make([]int64, len(j.levels.Tops)), make([]int64, len(j.levels.Tops))
	}
	j.levels.OverlapInto(j.weights, n.From, n.To)
	lift.ShareInto(j.shares, int64(n.With)/grain, j.weights)
	for k, part := range j.shares {
		e.lifts[k] += measure.Quantity(part * grain)
	}
}

// ancillaryWalls describes the walls as laid to the ancillary engine.
func (j *job) ancillaryWalls() []ancillary.Wall {
	walls := make([]ancillary.Wall, len(j.schedule.Walls))
	for i := range walls {
		w, leaves := &j.schedule.Walls[i], j.leaves(i)
		left, right := j.faces(i, len(leaves)-1)
		a := ancillary.Wall{Ref: w.Ref, At: j.wallAt(i), Wall: w, Net: j.out.Walls[i].Leaves[0].Net, Outer: leafOf(&leaves[0]),
			Run: w.Length - left - right, From: left, Lintels: j.lintels[i]}
		if len(leaves) == 2 {
			a.Inner, a.Cavity = leafOf(&leaves[1]), j.wallType(w.Type).Cavity
		}
		a.Thick = leaves[len(leaves)-1].Back + leaves[len(leaves)-1].Thickness
		for k := range leaves {
			a.Gauge[k] = leaves[k].Unit.Height + leaves[k].Bed
		}
		for k := range j.out.Walls[i].Leaves {
			for _, t := range j.out.Walls[i].Leaves[k].Joints {
				a.Joints[k] = append(a.Joints[k], t.At)
			}
		}
		a.Tied, a.DPC = j.tied(i), j.dpcLevel(w)
		walls[i] = a
	}
	return walls
}

// leafOf is a leaf's unit, as thick as the leaf: what is built into a wall of one brick is
// as wide as the brick is long.
func leafOf(m *schedule.Made) *product.Product {
	if m.Unit.Thickness == m.Thickness {
		return m.Unit
	}
	u := *m.Unit
	u.Thickness = m.Thickness
	return &u
}

func (j *job) wallType(key string) *schedule.WallType {
	for i := range j.schedule.WallTypes {
		if j.schedule.WallTypes[i].Key == key {
			return &j.schedule.WallTypes[i]
		}
	}
	panic("takeoff: a checked schedule names its wall types")
}

// dpcLevel is where a wall gets its damp-proof course: the level the schedule
// gives, where the wall passes it, else the rulebook's height over the wall's base
// for walls that stand at the foot of the job.
func (j *job) dpcLevel(w *schedule.Wall) *measure.Length {
	at := j.levels.Foot + j.book.Length("dpc.height")
	if j.schedule.DPCLevel != nil {
		at = *j.schedule.DPCLevel
	}
	if at < w.Base || at > w.Base+w.Height {
		return nil
	}
	return &at
}
