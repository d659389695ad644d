package elevation

import (
	"slices"
	"strconv"

	"hodman/service/finding"
	"hodman/service/product"
	"hodman/service/schedule"
)

// Request asks for the drawing of one wall of a schedule.
type Request struct {
	Wall     string             `json:"wall"`
	Schedule *schedule.Schedule `json:"schedule"`
	Layout   Layout             `json:"layout,omitzero"`
}

// Layout is how a sheet is filled: "tall" (default) for a phone and a page on end, with the
// legend under the leaves; "wide" for a page that is wider than high, with the legend beside them.
type Layout string

const (
	Tall Layout = "tall"
	Wide Layout = "wide"
)

// Check finds every mistake of the request, the schedule's own under /schedule.
func (r *Request) Check(cat *product.Catalogue) finding.Faults {
	var faults finding.Faults
	if r.Schedule == nil {
		faults.Add("/schedule", "required", "is missing; give a wall schedule")
	}
	if schedule.CheckKey(&faults, "/wall", r.Wall) && r.Schedule != nil && r.Index() < 0 {
		faults.Add("/wall", "unknown_ref", "there is no wall "+strconv.Quote(r.Wall)+" in the schedule; name one by its ref")
	}
	if r.Layout != "" && r.Layout != Tall && r.Layout != Wide {
		faults.Add("/layout", "choice", "is "+strconv.Quote(string(r.Layout))+"; use one of tall, wide")
	}
	if r.Schedule == nil {
		return faults
	}
	for _, f := range r.Schedule.Check(cat) {
		faults.Add("/schedule"+f.Pointer, f.Code, f.Detail)
	}
	return faults
}

// Index is where the wall stands in the schedule; -1 where it does not.
func (r *Request) Index() int {
	return slices.IndexFunc(r.Schedule.Walls, func(w schedule.Wall) bool { return w.Ref == r.Wall })
}
