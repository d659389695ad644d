// Package schedule is the wall schedule: what somebody read off the drawing.
// Here are its types, as they stand in the document, and every check on it.
package schedule

import (
	"hodman/service/measure"
)

// Schedule is the document. Lengths are in millimetres; x runs along a wall from
// its left end as seen from outside, z runs up.
type Schedule struct {
	Reference string     `json:"reference"`
	Rulebook  string     `json:"rulebook"`
	WallTypes []WallType `json:"wall_types"`
	Walls     []Wall     `json:"walls"`
	// Lifts may be left out: then the rulebook's own lift height is repeated.
	Lifts      *Lifts     `json:"lifts,omitzero"`
	Allowances Allowances `json:"allowances,omitzero"`
	// Stock, where it is sent, is what the branch has of each lintel.
	Stock []Stock `json:"stock,omitzero"`
	// DPCLevel is the height above the datum of a horizontal DPC through every
	// leaf that starts below it; null or absent: the rulebook's height above a wall's base.
	DPCLevel *measure.Length `json:"dpc_mm,omitzero"`
	// ClearAllowance is by how much openings may turn out wider on site; lintels bear
	// the least all the same.
	ClearAllowance measure.Length `json:"clear_allowance_mm,omitzero"`
	// MovementJoints is "as_given" (default: those of the walls, and no others) or "placed":
	// walls without any get them by their materials' spacing.
	MovementJoints string `json:"movement_joints,omitzero"`
	// SettingOut says how walls are set out: "as_given" or "best", either with a
	// comparison; left out: as given, without one.
	SettingOut string `json:"setting_out,omitzero"`
	// CutReuse says whether cuts share a unit: "best" (default) or "none".
	CutReuse string `json:"cut_reuse,omitzero"`
	// MortarSupply is how mortar is bought: "site_mix" (default), "ready_to_use", "bagged_dry", "silo".
	MortarSupply string `json:"mortar_supply,omitzero"`
	// Plasticiser says that a site mix takes it in the lime's place.
	Plasticiser bool `json:"plasticiser,omitzero"`
}

// WallType is how a wall is made up: either Single, or Outer, Cavity and Inner.
type WallType struct {
	Key    string  `json:"key"`
	Mortar string  `json:"mortar,omitzero"` // of the rulebook; left out: its own
	Single *Leaf   `json:"single,omitzero"`
	Outer  *Leaf   `json:"outer,omitzero"`
	Cavity *Cavity `json:"cavity,omitzero"`
	Inner  *Leaf   `json:"inner,omitzero"`
}

// Leaf is one skin: a product by code, or a unit given in line.
type Leaf struct {
	Product string `json:"product,omitzero"`
	Unit    *Unit  `json:"unit,omitzero"`
	Bond    string `json:"bond,omitzero"` // "stretcher" (default)
	// Thickness is the leaf's own where it is thicker than its unit: one brick, one and a half.
	Thickness measure.Length `json:"thickness_mm,omitzero"`
	// HeadersEvery is, in English garden wall bond, one course of headers in so many.
	HeadersEvery int `json:"headers_every,omitzero"`
	// Backing is what the leaf is laid of behind its facing units; nil: the same.
	Backing  *Backing        `json:"backing,omitzero"`
	Laid     string          `json:"laid,omitzero"` // "on_bed" (default), "flat"
	BedJoint *measure.Length `json:"bed_joint_mm,omitzero"`
	Perpend  *measure.Length `json:"perpend_mm,omitzero"`
	Mortar   string          `json:"mortar,omitzero"`
	// Pigment is its part of the cement's mass in the leaf's mortar.
	Pigment measure.Ratio `json:"pigment,omitzero"`
	// LaidFrog is how units with a frog are laid: "up" (default), "down".
	LaidFrog string `json:"laid_frog,omitzero"`
}

// Backing is a product by code or a unit in line.
type Backing struct {
	Product string `json:"product,omitzero"`
	Unit    *Unit  `json:"unit,omitzero"`
}

// Unit is a brick or block given in line. Kind is "brick", "block" or "coursing_unit".
type Unit struct {
	Kind      string         `json:"kind"`
	Length    measure.Length `json:"length_mm"`
	Thickness measure.Length `json:"thickness_mm"`
	Height    measure.Length `json:"height_mm"`
	Mass      measure.Mass   `json:"mass_kg"`
	Pack      *int           `json:"pack,omitzero"` // default 1
	// Frog and Perforations are what they hold in one unit.
	Frog         measure.Volume `json:"frog_m3,omitzero"`
	Perforations measure.Volume `json:"perforations_m3,omitzero"`
}

// Cavity is the gap between the leaves, masonry face to masonry face.
type Cavity struct {
	Width      measure.Length `json:"width_mm"`
	Insulation measure.Length `json:"insulation_mm,omitzero"`
}

// Wall is one straight wall.
type Wall struct {
	Ref    string         `json:"ref"`
	Type   string         `json:"type"`
	Length measure.Length `json:"length_mm"`
	Height measure.Length `json:"height_mm"`
	Base   measure.Length `json:"base_mm,omitzero"` // above the datum; may be negative
	Left   End            `json:"left"`
	Right  End            `json:"right"`
	// LeftWall and RightWall name the walls that corners meet where the order of the list does not tell.
	LeftWall  string `json:"left_wall,omitzero"`
	RightWall string `json:"right_wall,omitzero"`
	// LeftJunction and RightJunction say where an end that is a junction stands.
	LeftJunction  *Junction  `json:"left_junction,omitzero"`
	RightJunction *Junction  `json:"right_junction,omitzero"`
	Crossings     []Crossing `json:"crossings,omitzero"`
	Piers         []Pier     `json:"piers,omitzero"`
	// Plinth is the foot of the outer or only leaf's face.
	Plinth   *Plinth   `json:"plinth,omitzero"`
	Top      *Top      `json:"top,omitzero"` // nil: level
	Openings []Opening `json:"openings,omitzero"`
	// Bands are courses of other units, or laid otherwise, along the outer or only leaf.
	Bands []Band `json:"bands,omitzero"`
	// Plate asks for a wall plate and its straps along the top of the inner (or only) leaf.
	Plate *Plate `json:"plate,omitzero"`
	// MovementJoints are where joints begin, along the wall, in every leaf.
	MovementJoints []measure.Length `json:"movement_joints_mm,omitzero"`
	// Restraint are levels above the datum of floors and ceilings that the wall is strapped to.
	Restraint []measure.Length `json:"restraint_mm,omitzero"`
	// DPCLevels are levels above the datum of damp-proof courses besides the one at the foot.
	DPCLevels        []measure.Length   `json:"dpc_levels_mm,omitzero"`
	AirBricks        []AirBricks        `json:"air_bricks,omitzero"`
	BedReinforcement []BedReinforcement `json:"bed_reinforcement,omitzero"`
	// AbuttingRoofs are lower roofs that meet the wall's outer face.
	AbuttingRoofs []AbuttingRoof `json:"abutting_roofs,omitzero"`
}

// End is what a wall's end meets.
type End string

const (
	StopEnd        End = "stop_end"
	ExternalCorner End = "external_corner"
	InternalCorner End = "internal_corner"
	Abutment       End = "abutment"
	MovementJoint  End = "movement_joint"
)

// Corner tells the ends that meet another wall of the schedule.
func (e End) Corner() bool { return e == ExternalCorner || e == InternalCorner }

// Top is the shape above the wall's height line.
type Top struct {
	Shape  string         `json:"shape"`               // "level", "gable", "rake", "stepped"
	Apex   measure.Length `json:"apex_mm,omitzero"`    // gable: above the height line
	ApexAt measure.Length `json:"apex_at_mm,omitzero"` // gable: along the wall
	Left   measure.Length `json:"left_mm,omitzero"`    // rake: above the height line at the left end
	Right  measure.Length `json:"right_mm,omitzero"`   // rake: at the right end
	Steps  []Step         `json:"steps,omitzero"`      // stepped: from left to right
	Coping *Coping        `json:"coping,omitzero"`     // along the top; its height is not the wall's
}

// Step is a part of a stepped top: from At on the wall is Rise higher than its height line.
type Step struct {
	At   measure.Length `json:"at_mm"`
	Rise measure.Length `json:"rise_mm"`
}

// Coping is what covers a top: a product of that kind, or bricks on edge.
type Coping struct {
	Product string `json:"product"`
}

// Opening is a hole through every leaf. Sill is above the wall's own base.
type Opening struct {
	Ref    string         `json:"ref"`
	Shape  string         `json:"shape,omitzero"` // "rectangle" (default)
	Left   measure.Length `json:"left_mm"`
	Sill   measure.Length `json:"sill_mm"`
	Width  measure.Length `json:"width_mm"`
	Height measure.Length `json:"height_mm"`        // in all, to the crown
	Rise   measure.Length `json:"rise_mm,omitzero"` // segmental: of the crown over the springing
	Head   Head           `json:"head,omitzero"`
	// SillProduct is a ready-made sill, by code.
	SillProduct string `json:"sill_product,omitzero"`
	// BedReinforcement is laid over and under the opening.
	BedReinforcement *RoundOpening `json:"bed_reinforcement,omitzero"`
	// SillCourse asks for a sill of bricks on edge under the opening.
	SillCourse *Course `json:"sill_course,omitzero"`
}

// Course is a course of other units, or of the leaf's own laid otherwise: a brick by code, or in line.
type Course struct {
	Product string `json:"product,omitzero"`
	Unit    *Unit  `json:"unit,omitzero"`
}

// Band is a course, or several, along the outer or only leaf, broken by openings.
type Band struct {
	Kind    string         `json:"kind"`             // "soldier", "header", "dentil", "stretcher", "on_edge"
	At      measure.Length `json:"at_mm"`            // its underside, bed and all, above the wall's base
	Courses int            `json:"courses,omitzero"` // default 1
	Product string         `json:"product,omitzero"`
	Unit    *Unit          `json:"unit,omitzero"`
}

// Head is what carries the masonry over an opening.
type Head struct {
	Kind    string          `json:"kind,omitzero"`       // "lintel" (default under a level head), "arch" (under a curve), "flat_arch", "none"
	Bearing *measure.Length `json:"bearing_mm,omitzero"` // asked for at each end; never under the rulebook's
	// PadstoneProduct is a padstone under each end of the lintel, by code.
	PadstoneProduct string `json:"padstone_product,omitzero"`
	Soldier         bool   `json:"soldier,omitzero"` // a soldier course over the opening
	// SoldierPast is how far the soldier course goes on past each side; nil: as the rulebook has it.
	SoldierPast *measure.Length `json:"soldier_past_mm,omitzero"`
	// Rings of an arch, bricks on edge over one another; nought: as the rulebook has it.
	Rings int `json:"rings,omitzero"`
	// Gauged asks for one ring of bricks cut to the arch.
	Gauged bool `json:"gauged,omitzero"`
	// Product or Unit is what the arch or the soldier course is laid of; neither: the leaf's own unit.
	Product string `json:"product,omitzero"`
	Unit    *Unit  `json:"unit,omitzero"`
}

// Plate is a wall plate.
type Plate struct {
	Product string `json:"product,omitzero"` // default: the catalogue's first wall plate
}

// Lifts are the platform levels: their tops above the datum, or one height repeated.
type Lifts struct {
	Tops   []measure.Length `json:"tops_mm,omitzero"`
	Height *measure.Length  `json:"height_mm,omitzero"`
}

// Allowances are breakage on top of what is counted, by kind of unit, from 0 to 1.
// Nil: the rulebook's.
type Allowances struct {
	Brick        *measure.Ratio `json:"brick,omitzero"`
	Block        *measure.Ratio `json:"block,omitzero"`
	CoursingUnit *measure.Ratio `json:"coursing_unit,omitzero"`
	Mortar       *measure.Ratio `json:"mortar,omitzero"`
	WallTie      *measure.Ratio `json:"wall_tie,omitzero"`
	DPC          *measure.Ratio `json:"dpc,omitzero"`
	Insulation   *measure.Ratio `json:"insulation,omitzero"`
}

// Stock is what is in hand of one product.
type Stock struct {
	Product  string `json:"product"`
	Quantity int    `json:"quantity"`
}

// Top is the head's level above the wall's base.
func (o *Opening) Top() measure.Length { return o.Sill + o.Height }

// Right is the opening's far side along the wall.
func (o *Opening) Right() measure.Length { return o.Left + o.Width }

// HasLintel says whether the head is carried by a lintel of ours.
func (o *Opening) HasLintel() bool {
	return o.Head.Kind == "lintel" || o.Head.Kind == "" && !o.Curved()
}

// Curved says whether the head is none of a rectangle.
func (o *Opening) Curved() bool { return o.Shape != "" && o.Shape != "rectangle" }

// HasArch says whether an arch of ours carries the head.
func (o *Opening) HasArch() bool {
	return o.Head.Kind == "arch" || o.Head.Kind == "flat_arch" || o.Head.Kind == "" && o.Curved()
}

// ArchRise is how far the crown of a segmental or semicircular head is over its springing.
func (o *Opening) ArchRise() measure.Length {
	if o.Shape == "semicircular" {
		return o.Width / 2
	}
	return o.Rise
}

// HighestAt returns the level of the wall's top at x, above its base. Beyond its
// ends, where a leaf runs on into a corner, the top runs on level.
func (w *Wall) HighestAt(x measure.Length) measure.Length {
	if w.Top == nil {
		return w.Height
	}
	x = min(max(x, 0), w.Length)
	switch w.Top.Shape {
	case "gable":
		if x <= w.Top.ApexAt {
			return w.Height + along(w.Top.Apex, x, w.Top.ApexAt)
		}
		return w.Height + along(w.Top.Apex, w.Length-x, w.Length-w.Top.ApexAt)
	case "rake":
		return w.Height + w.Top.Left + along(w.Top.Right-w.Top.Left, x, w.Length)
	case "stepped":
		rise := measure.Length(0)
		for _, s := range w.Top.Steps {
			if s.At <= x {
				rise = s.Rise
			}
		}
		return w.Height + rise
	}
	return w.Height
}

// along is rise x run/span, rounded down.
func along(rise, run, span measure.Length) measure.Length {
	return measure.Length(measure.FloorDiv(int64(rise)*int64(run), int64(span)))
}

// Steps calls step with every part of a stepped top and its level above the wall's
// base, from left to right; the first and the last go on beyond the wall's ends.
func (w *Wall) Steps(step func(from, to, top measure.Length)) {
	from, top := -w.Length-beyondEnds, w.Height
	for _, s := range w.Top.Steps {
		if s.At > from {
			step(from, s.At, top)
		}
		from, top = s.At, w.Height+s.Rise
	}
	step(from, 2*w.Length+beyondEnds, top)
}

// beyondEnds is further than a corner takes a leaf beyond its wall's ends.
const beyondEnds = 10 * measure.Metre

// LowestOver is the lowest level of the wall's top between two places, above its base.
func (w *Wall) LowestOver(from, to measure.Length) measure.Length {
	low := min(w.HighestAt(from), w.HighestAt(to))
	if w.Top != nil && w.Top.Shape == "stepped" {
		for _, s := range w.Top.Steps {
			if from < s.At && s.At < to {
				low = min(low, w.Height+s.Rise)
			}
		}
	}
	return low
}

// beyond is further than any wall reaches.
const beyond = measure.MaxLength

// Reach is the part of the wall whose top is above level z, over its base, rounded
// inwards: without end where no slope cuts it off, so that ends are the caller's.
// The wall has a [Top].
func (w *Wall) Reach(z measure.Length) (from, to measure.Length) {
	from, to = -beyond, beyond
	t, over := w.Top, z-w.Height
	switch t.Shape {
	case "gable":
		if over > 0 {
			from = at(over, t.ApexAt, t.Apex)
			to = w.Length - at(over, w.Length-t.ApexAt, t.Apex)
		}
	case "rake":
		switch rise := t.Right - t.Left; {
		case rise > 0 && over > t.Left:
			from = at(over-t.Left, w.Length, rise)
		case rise < 0 && over > t.Right:
			to = w.Length - at(over-t.Right, w.Length, -rise)
		case rise == 0 && over >= t.Left:
			to = -beyond
		}
	}
	return from, to
}

// at is how far along a slope of rise over run the level over is reached, rounded up.
func at(over, run, rise measure.Length) measure.Length {
	return measure.Length(measure.CeilDiv(int64(over)*int64(run), int64(rise)))
}
