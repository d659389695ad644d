package coursing

import (
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"hodman/service/finding"
	"hodman/service/measure"
	"hodman/service/rulebook"
)

// Limits of the request. openapi.yaml says the same.
const (
	MaxLevels = 200
	MaxName   = 64 // characters
)

// Request asks how levels are met by courses of one unit, or of two leaves. Levels and
// the base are above the same datum; courses are counted up from the base.
type Request struct {
	Rulebook   string          `json:"rulebook"`
	UnitHeight *measure.Length `json:"unit_height_mm"`
	Bed        *measure.Length `json:"bed_joint_mm,omitzero"` // default: the rulebook's
	Base       measure.Length  `json:"base_mm,omitzero"`
	Levels     []Level         `json:"levels"`
	BedLeast   *measure.Length `json:"bed_least_mm,omitzero"` // the range that a gauge to suit may use
	BedMost    *measure.Length `json:"bed_most_mm,omitzero"`
	Plate      *Plate          `json:"plate,omitzero"`
	SecondLeaf *SecondLeaf     `json:"second_leaf,omitzero"`
	// Run is the length of wall under a plate, and UnitLength that of the unit: with both,
	// the ways to come to a plate are counted in units.
	Run        *measure.Length `json:"run_mm,omitzero"`
	UnitLength *measure.Length `json:"unit_length_mm,omitzero"`
}

// Level is one to be met. Of a plate it is the plate's top.
type Level struct {
	Name  string          `json:"name"`
	Level *measure.Length `json:"level_mm"`
	Kind  string          `json:"kind"` // "dpc", "sill", "head", "plate", "floor", "other"
	// Fixed levels are met before all else; left out, a sill, a head and a plate are.
	Fixed *bool `json:"fixed,omitzero"`
}

// fixed is what was said, or else what is usual for the kind.
func (l *Level) fixed() bool {
	if l.Fixed != nil {
		return *l.Fixed
	}
	return l.Kind == "sill" || l.Kind == "head" || l.Kind == "plate"
}

// Plate is what stands between the masonry and a plate's top; what is left out is the rulebook's.
type Plate struct {
	Depth *measure.Length `json:"depth_mm,omitzero"`
	Bed   *measure.Length `json:"bed_mm,omitzero"`
}

// SecondLeaf is the other leaf of a cavity wall, built off the same base.
type SecondLeaf struct {
	UnitHeight *measure.Length `json:"unit_height_mm"`
	Bed        *measure.Length `json:"bed_joint_mm,omitzero"`
	UnitLength *measure.Length `json:"unit_length_mm,omitzero"`
}

var kinds = []string{"dpc", "sill", "head", "plate", "floor", "other"}

// Check finds every mistake in the request.
func (r *Request) Check() finding.Faults {
	var f finding.Faults
	book := rulebook.Find(r.Rulebook)
	switch {
	case r.Rulebook == "":
		f.Add("/rulebook", "required", `is missing or empty; use `+rulebook.Keys())
	case book == nil:
		f.Add("/rulebook", "unknown_ref", "there is no rulebook "+strconv.Quote(r.Rulebook)+"; use "+rulebook.Keys())
	}
	if book == nil {
		book = rulebook.GB() // so that the rest can be told too
	}
	needed(&f, "/unit_height_mm", r.UnitHeight, 20, 1_000)
	ranged(&f, "/bed_joint_mm", r.Bed, 3, 30)
	based := ranged(&f, "/base_mm", &r.Base, -100_000, 100_000)
	r.beds(&f, book)
	plates := true
	if r.Plate != nil {
		plates = ranged(&f, "/plate/depth_mm", r.Plate.Depth, 10, 500)
		plates = ranged(&f, "/plate/bed_mm", r.Plate.Bed, 0, 50) && plates
	}
	if r.SecondLeaf != nil {
		needed(&f, "/second_leaf/unit_height_mm", r.SecondLeaf.UnitHeight, 20, 1_000)
		ranged(&f, "/second_leaf/bed_joint_mm", r.SecondLeaf.Bed, 3, 30)
		ranged(&f, "/second_leaf/unit_length_mm", r.SecondLeaf.UnitLength, 20, 2_000)
	}
	ranged(&f, "/run_mm", r.Run, 0, 100_000)
	ranged(&f, "/unit_length_mm", r.UnitLength, 20, 2_000)
	if n := len(r.Levels); n < 1 || n > MaxLevels {
		f.Add("/levels", "items", "holds "+strconv.Itoa(n)+"; give 1 to "+strconv.Itoa(MaxLevels))
		return f
	}
	depth, bed := r.plate(book)
	r.levels(&f, based && plates, depth+bed)
	return f
}

// beds checks the range that a gauge to suit may use.
func (r *Request) beds(f *finding.Faults, book *rulebook.Book) {
	least := ranged(f, "/bed_least_mm", r.BedLeast, 3, 30)
	most := ranged(f, "/bed_most_mm", r.BedMost, 3, 30)
	if lo, hi := r.bedRange(book); least && most && lo > hi {
		at := "/bed_least_mm"
		if r.BedLeast == nil {
			at = "/bed_most_mm"
		}
		f.Add(at, "inconsistent", "the least bed of "+lo.String()+" mm is over the most of "+hi.String()+" mm")
	}
}

// levels checks every level; placed says that the base and the plate are sound.
func (r *Request) levels(f *finding.Faults, placed bool, plate measure.Length) {
	names := make(map[string]bool, len(r.Levels))
	plates := 0
	for i := range r.Levels {
		l := &r.Levels[i]
		at := "/levels/" + strconv.Itoa(i)
		switch n := utf8.RuneCountInString(l.Name); {
		case n == 0:
			f.Add(at+"/name", "required", "is missing or empty; give 1 to "+strconv.Itoa(MaxName)+" characters")
		case n > MaxName:
			f.Add(at+"/name", "length", "has "+strconv.Itoa(n)+" characters; give at most "+strconv.Itoa(MaxName))
		case names[l.Name]:
			f.Add(at+"/name", "duplicate", strconv.Quote(l.Name)+" stands twice; give every level a name of its own")
		}
		names[l.Name] = true
		known := kind(f, at+"/kind", l.Kind)
		given := needed(f, at+"/level_mm", l.Level, -100_000, 100_000)
		foot := r.Base
		if l.Kind == "plate" {
			plates++
			foot += plate
		}
		if known && given && placed && *l.Level < foot {
			f.Add(at+"/level_mm", "outside", "is "+l.Level.String()+" mm; the least that stands on the base is "+foot.String())
		}
	}
	if r.Plate != nil && plates == 0 {
		f.Add("/plate", "inconsistent", "is given, and no level is of kind plate; leave it out, or give the plate's level")
	}
}

func kind(f *finding.Faults, at, s string) bool {
	switch {
	case slices.Contains(kinds, s):
		return true
	case s == "":
		f.Add(at, "required", "is missing; use one of "+strings.Join(kinds, ", "))
	default:
		f.Add(at, "choice", "is "+strconv.Quote(s)+"; use one of "+strings.Join(kinds, ", "))
	}
	return false
}

// needed checks a length that has to be there, in millimetres.
func needed(f *finding.Faults, at string, l *measure.Length, least, most measure.Length) bool {
	if l == nil {
		f.Add(at, "required", "is missing; give "+strconv.Itoa(int(least))+" to "+strconv.Itoa(int(most))+" mm")
		return false
	}
	return ranged(f, at, l, least, most)
}

// ranged checks a length, where it is given, in millimetres.
func ranged(f *finding.Faults, at string, l *measure.Length, least, most measure.Length) bool {
	if l == nil || least*measure.Millimetre <= *l && *l <= most*measure.Millimetre {
		return true
	}
	f.Add(at, "range", "is "+l.String()+" mm; give "+strconv.Itoa(int(least))+" to "+strconv.Itoa(int(most))+" mm")
	return false
}

// bedRange is the beds that a gauge to suit may use: the request's or the rulebook's.
func (r *Request) bedRange(book *rulebook.Book) (least, most measure.Length) {
	return or(r.BedLeast, book.Length("joint.bed_least")), or(r.BedMost, book.Length("joint.bed_most"))
}

// plate is the plate's depth and bed: the request's or the rulebook's.
func (r *Request) plate(book *rulebook.Book) (depth, bed measure.Length) {
	depth, bed = book.Length("plate.depth"), book.Length("plate.bed")
	if r.Plate != nil {
		depth, bed = or(r.Plate.Depth, depth), or(r.Plate.Bed, bed)
	}
	return depth, bed
}

// run is how many units of a length there are in a course of the wall. It is nought
// where either length is not given.
func (r *Request) run(length *measure.Length, book *rulebook.Book) int {
	if r.Run == nil || length == nil {
		return 0
	}
	return units(*r.Run, *length, book.Length("joint.perpend"))
}

// or is what was given, or else what is meant where it is left out.
func or(l *measure.Length, otherwise measure.Length) measure.Length {
	if l == nil {
		return otherwise
	}
	return *l
}
