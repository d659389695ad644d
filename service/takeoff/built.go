package takeoff

import (
	"hodman/service/bond"
	"hodman/service/coursing"
	"hodman/service/lift"
	"hodman/service/lintel"
	"hodman/service/measure"
	"hodman/service/product"
	"hodman/service/rulebook"
	"hodman/service/schedule"
)

// Built is a takeoff together with what it was counted from, for whoever draws it.
type Built struct {
	*Takeoff
	job *job
}

// Laid is one leaf of a wall as it was laid.
type Laid struct {
	Made   *schedule.Made
	Laying bond.Laying
}

// Build is [Compute] that keeps how every leaf was laid.
func Build(s *schedule.Schedule, cat *product.Catalogue, book *rulebook.Book) *Built {
	j := newJob(s, cat, book)
	j.compute()
	return &Built{j.out, j}
}

// Leaves are the leaves of wall i as counted: the only one, or the outer and the inner.
func (b *Built) Leaves(i int) []Laid { return b.job.laid[i] }

// Lifts are the levels of the scaffold.
func (b *Built) Lifts() *lift.Levels { return &b.job.levels }

// DPC is the level of wall i's damp-proof course; nil where it has none.
func (b *Built) DPC(i int) *measure.Length { return b.job.dpcLevel(&b.job.schedule.Walls[i]) }

// Lintel is the pick for opening k of wall i and how high the product is; nil where none is asked for.
func (b *Built) Lintel(i, k int) (*lintel.Pick, measure.Length) {
	w := &b.job.schedule.Walls[i]
	for n := range b.Lintels {
		p := &b.Lintels[n]
		if p.Wall != w.Ref || p.Opening != w.Openings[k].Ref {
			continue
		}
		if l := b.job.cat.Find(p.Product); l != nil {
			return p, l.Height
		}
		return p, 0
	}
	return nil, 0
}

// Coping is what covers wall i's top; nil where nothing does.
func (b *Built) Coping(i int) *product.Product {
	if t := b.job.schedule.Walls[i].Top; t != nil && t.Coping != nil {
		return b.job.cat.Find(t.Coping.Product)
	}
	return nil
}

// TieBeds are the beds of both leaves of wall i that rows of ties lie in, above the
// wall's base; none in a single wall.
func (b *Built) TieBeds(i int) []coursing.TieBed {
	if len(b.Leaves(i)) != 2 {
		return nil
	}
	return coursing.TieBeds(b.job.courses(i, 0, nil), b.job.courses(i, 1, nil), b.job.book)
}
