// Package takeoff puts the engines together: a wall schedule goes in, and what
// the whole job needs comes out, every number with the rules that made it.
package takeoff

import (
	"hodman/service/ancillary"
	"hodman/service/coursing"
	"hodman/service/finding"
	"hodman/service/lift"
	"hodman/service/lintel"
	"hodman/service/measure"
	"hodman/service/mortar"
)

// Takeoff is the answer. The same schedule, rulebook and catalogue give the same bytes.
type Takeoff struct {
	ScheduleReference string         `json:"schedule_reference"`
	Rulebook          string         `json:"rulebook"`
	Catalogue         string         `json:"catalogue"`
	Lines             []Line         `json:"lines"`
	Walls             []Wall         `json:"walls"`
	Lintels           []lintel.Pick  `json:"lintels"`
	Mortar            []mortar.Batch `json:"mortar"`
	Ancillaries       []Ancillary    `json:"ancillaries"`
	// Cutting is how what is sold by the length or the board is cut over the whole job.
	Cutting  []ancillary.CutList `json:"cutting,omitzero"`
	Lifts    []lift.Load         `json:"lifts"`
	Findings []finding.Finding   `json:"findings"`
	Cautions []string            `json:"cautions"`
}

// Line is one product to buy. For units laid in courses,
// Laid = Whole + CutPieces and Required = Whole + ForCuts + Breakage; for the rest those
// counts are nought and Required is Net + Breakage. Order = Packs x Pack, or Required
// rounded up to a whole unit where the pack may be split.
type Line struct {
	Product   string           `json:"product"`
	Name      string           `json:"name"`
	Kind      string           `json:"kind"`
	Unit      string           `json:"unit"` // each, m, m2, l, kg
	Laid      int              `json:"laid"`
	Whole     int              `json:"whole"`
	CutPieces int              `json:"cut_pieces"`
	ForCuts   int              `json:"for_cuts"`
	Net       measure.Quantity `json:"net"`
	Breakage  measure.Quantity `json:"breakage"`
	Required  measure.Quantity `json:"required"`
	Pack      measure.Quantity `json:"pack"`
	Packs     int              `json:"packs"`
	Order     measure.Quantity `json:"order"`
	Surplus   measure.Quantity `json:"surplus"`
	AreaRule  int              `json:"area_rule"`
	Mass      measure.Mass     `json:"mass_kg"` // of Order
	Sum       string           `json:"sum"`
	Rules     []string         `json:"rules"`
}

// Wall is the laying of one wall, leaf by leaf.
type Wall struct {
	Ref    string `json:"ref"`
	Leaves []Leaf `json:"leaves"`
	// SettingOut is there where the schedule asks how it is set out.
	SettingOut *WallSettingOut `json:"setting_out,omitzero"`
}

// Leaf is the laying of one leaf.
type Leaf struct {
	Leaf          string         `json:"leaf"` // single, outer, inner
	Product       string         `json:"product"`
	Plinth        string         `json:"plinth,omitzero"`  // product of the lowest courses of the face
	Backing       string         `json:"backing,omitzero"` // product behind the facing units, where it is another
	Gross         measure.Area   `json:"gross_m2"`
	Openings      measure.Area   `json:"openings_m2"`
	Net           measure.Area   `json:"net_m2"`
	Courses       int            `json:"courses"` // full courses at the gauge
	ClosingCourse measure.Length `json:"closing_course_mm"`
	// OwnsLeft and OwnsRight say whether the wall owns that corner in odd courses.
	OwnsLeft  bool           `json:"owns_left_odd,omitzero"`
	OwnsRight bool           `json:"owns_right_odd,omitzero"`
	Whole     int            `json:"whole"`
	Cuts      []Cut          `json:"cuts"`
	Splits    []Cut          `json:"splits"`           // cut in height, lengths as laid
	Raking    int            `json:"raking"`           // cut to a slope, counted in Cuts too
	Closers   int            `json:"closers,omitzero"` // split along the unit, counted in Cuts too
	Mortar    measure.Volume `json:"mortar_m3"`
	Joints    []Joint        `json:"joints,omitzero"` // movement joints within the leaf
	// MakeUps are the ways to make up a height that takes a closing course, over the run with
	// no openings; what is counted is the first.
	MakeUps []coursing.MakeUp `json:"make_ups,omitzero"`
	// SettingOut is there where the schedule asks how it is set out.
	SettingOut *SettingOut `json:"setting_out,omitzero"`
}

// Joint is a movement joint: At is where it begins, along the wall.
type Joint struct {
	At    measure.Length `json:"at_mm"`
	Width measure.Length `json:"width_mm"`
	Rule  string         `json:"rule"`
}

// Cut is so many pieces of one length, or for splits of one height too.
type Cut struct {
	Length measure.Length `json:"length_mm"`
	Height measure.Length `json:"height_mm,omitzero"`
	Count  int            `json:"count"`
}

// Ancillary is one thing counted at one wall, with its sum.
type Ancillary struct {
	Wall     string           `json:"wall"`
	Part     string           `json:"part"`
	Product  string           `json:"product"`
	Unit     string           `json:"unit"`
	Required measure.Quantity `json:"required"`
	Places   []measure.Length `json:"at_mm,omitzero"` // along the wall from its left end
	Sum      string           `json:"sum"`
	Rules    []string         `json:"rules"`
}
