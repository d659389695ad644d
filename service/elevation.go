package service

import (
	"context"
	"fmt"
	"slices"
	"strconv"

	"github.com/go-json-experiment/json"
	"github.com/google/uuid"

	"hodman/service/elevation"
	"hodman/service/finding"
	"hodman/service/measure"
	"hodman/service/product"
	"hodman/service/rulebook"
	"hodman/service/schedule"
	"hodman/service/takeoff"
)

// DrawElevation checks a schedule and draws one of its walls as SVG. Mistakes are [Invalid].
func (s *Service) DrawElevation(ctx context.Context, r *elevation.Request) ([]byte, error) {
	if err := invalid(r.Check(s.catalogue)); err != nil {
		return nil, err
	}
	return s.drawn(r.Schedule, r.Index(), "/schedule", r.Layout)
}

// Elevation draws a wall of a schedule that is kept. A wall that the schedule does not have is [NotFound].
func (s *Service) Elevation(ctx context.Context, p Principal, job uuid.UUID, revision int, wall string, layout elevation.Layout) ([]byte, error) {
	r, err := s.store.Revision(ctx, p.Tenant, job, revision)
	if err != nil {
		return nil, err
	}
	sched := new(schedule.Schedule)
	if err := json.Unmarshal(r.Document, sched, json.RejectUnknownMembers(true)); err != nil {
		return nil, &Error{Kind: Internal, Code: "internal", Message: "internal error",
			Cause: fmt.Errorf("revision %s is kept but cannot be read: %w", r.ID, err)}
	}
	i := slices.IndexFunc(sched.Walls, func(w schedule.Wall) bool { return w.Ref == wall })
	if i < 0 {
		return nil, notFound("wall")
	}
	if err := invalid(sched.Check(s.catalogue)); err != nil {
		return nil, err
	}
	return s.drawn(sched, i, "", layout)
}

// drawn draws wall i of a schedule that has passed its check. Under is where the schedule stands in the document.
func (s *Service) drawn(sched *schedule.Schedule, i int, under string, layout elevation.Layout) ([]byte, error) {
	book := rulebook.Find(sched.Rulebook)
	sheet := SheetOf(takeoff.Build(sched, s.catalogue, book), sched, i, book)
	sheet.Wide = layout == elevation.Wide
	if n := sheet.Strips(); n > elevation.MostStrips {
		return nil, invalid(finding.Faults{{Pointer: under + "/walls/" + strconv.Itoa(i), Code: "too_large",
			Detail: "is made up of " + strconv.Itoa(n) + " rows of pieces, and one drawing holds " + strconv.Itoa(elevation.MostStrips) + "; part the wall to draw it"}})
	}
	return elevation.Draw(sheet), nil
}

// SheetOf gathers what there is to draw of wall i out of the takeoff that counted it.
func SheetOf(b *takeoff.Built, sched *schedule.Schedule, i int, book *rulebook.Book) *elevation.Sheet {
	w := &sched.Walls[i]
	sheet := &elevation.Sheet{Reference: sched.Reference, Rulebook: b.Rulebook, Catalogue: b.Catalogue, Wall: w,
		At: "/walls/" + strconv.Itoa(i), Findings: b.Findings, Lifts: b.Lifts().Tops, DPC: b.DPC(i), Cautions: b.Cautions,
		Ties: elevation.Spacing{Across: book.Length("tie.horizontal"), Jamb: book.Length("tie.jamb_spacing"), Slope: book.Length("tie.gable_spacing")}}
	for k := range w.Openings {
		var l elevation.Lintel
		l.Pick, l.Height = b.Lintel(i, k)
		sheet.Lintels = append(sheet.Lintels, l)
	}
	if p := b.Coping(i); p != nil {
		sheet.Coping = &elevation.Coping{Code: p.Code, Length: p.Length, Height: p.Height, Joint: book.Length("joint.perpend")}
		if p.Kind == product.Brick {
			sheet.Coping.Length, sheet.Coping.Height = p.Height, p.Thickness // on edge
		}
	}
	beds := b.TieBeds(i)
	leaves := b.Leaves(i)
	for k := range leaves {
		rows := make([]measure.Length, len(beds))
		for n, bed := range beds {
			rows[n] = bed.First
			if k == 1 {
				rows[n] = bed.Second
			}
		}
		leaf := elevation.Leaf{Made: leaves[k].Made, Laying: &leaves[k].Laying, Ties: rows}
		for _, j := range b.Walls[i].Leaves[k].Joints {
			leaf.Joints = append(leaf.Joints, elevation.Joint{At: j.At, Width: j.Width})
		}
		sheet.Leaves = append(sheet.Leaves, leaf)
	}
	return sheet
}
