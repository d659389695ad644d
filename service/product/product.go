// Package product is what a merchant sells: bricks, blocks, lintels and all that
// is built in with them, with the sizes, masses and packs that the engines count by.
package product

import "hodman/service/measure"

// Kind is what a product is used as.
type Kind string

const (
	Brick            Kind = "brick"         // Length x Thickness x Height; laid on its bed
	Block            Kind = "block"         // the same
	CoursingUnit     Kind = "coursing_unit" // a block at brick height, to make a level
	Lintel           Kind = "lintel"        // see LintelForm
	WallTie          Kind = "wall_tie"      // Length
	CavityTray       Kind = "cavity_tray"   // Length of a roll or piece
	StopEnd          Kind = "stop_end"
	Weep             Kind = "weep"
	DPC              Kind = "dpc"                // a roll: Length x Thickness (its width)
	CavityCloser     Kind = "cavity_closer"      // Length; CavityMin..CavityMax
	Insulation       Kind = "insulation"         // a board: Length x Height x Thickness
	Cement           Kind = "cement"             // a bag: Mass
	Lime             Kind = "lime"               // a bag: Mass
	Sand             Kind = "sand"               // a bulk bag: Mass
	WallPlate        Kind = "wall_plate"         // timber: Length x Thickness (on the wall) x Height
	RestraintStrap   Kind = "restraint_strap"    // lateral
	HoldingDownStrap Kind = "holding_down_strap" // vertical
	StarterKit       Kind = "starter_kit"        // to an abutment: Length is the height it serves
	JointFiller      Kind = "joint_filler"       // to a movement joint: Length of a piece
	Coping           Kind = "coping"             // along the top of a wall: Length of a piece
	Sealant          Kind = "sealant"            // over a movement joint, a tube: Volume
	ReadyMortar      Kind = "ready_mortar"       // wet, a tub: Volume, Mortar
	DryMortar        Kind = "dry_mortar"         // dry, a bag: Mass, Mortar
	SiloMortar       Kind = "silo_mortar"        // dry, a step of a delivery: Mass, Mortar
	ThinMortar       Kind = "thin_mortar"        // for thin beds, a bag: Mass
	Pigment          Kind = "pigment"            // a bag: Mass
	Plasticiser      Kind = "plasticiser"        // a can: Volume
	SteppedTray      Kind = "stepped_tray"       // at a sloping abutment: Length, Hand
	CatchmentTray    Kind = "catchment_tray"     // the lowest of those, with its stop ends
	RidgeTray        Kind = "ridge_tray"         // where two slopes of them meet
	AirBrick         Kind = "air_brick"          // Length x Height
	AirBrickSleeve   Kind = "air_brick_sleeve"   // through the wall; Length that it reaches
	BedReinforcement Kind = "bed_reinforcement"  // Length x Thickness (its width)
	Padstone         Kind = "padstone"           // Length x Thickness x Height
	Sill             Kind = "sill"               // Length x Thickness (its depth) x Height
)

// Family is the make of a lintel.
type Family string

const (
	SteelCavity    Family = "steel_cavity"    // carries both leaves over a cavity of CavityMin..CavityMax
	SteelSingle    Family = "steel_single"    // carries one leaf
	ConcreteSingle Family = "concrete_single" // prestressed, non-composite, carries one leaf of Thickness
)

// Product is one line of a catalogue. Sizes are work sizes; which of them mean
// something depends on the kind. Mass is of one unit as sold and laid (for a
// DPC roll, a bag or a bulk bag: of the whole of it).
type Product struct {
	Code      string         `json:"product"`
	Name      string         `json:"name"`
	Kind      Kind           `json:"kind"`
	Length    measure.Length `json:"length_mm,omitzero"`
	Thickness measure.Length `json:"thickness_mm,omitzero"`
	Height    measure.Length `json:"height_mm,omitzero"`
	Mass      measure.Mass   `json:"mass_kg"`
	// Pack is how many units are sold together, at least 1; PackMass is Pack x Mass.
	Pack int `json:"pack"`
	// Loose says that a pack may be split.
	Loose bool `json:"loose"`
	// Frog is the mortar that the frogs of one unit take up where they are filled.
	Frog measure.Volume `json:"frog_m3,omitzero"`
	// Perforations is what they hold in one unit; the rulebook says how much of it mortar enters.
	Perforations measure.Volume `json:"perforations_m3,omitzero"`
	// Volume is what one tub or can holds.
	Volume measure.Volume `json:"volume_m3,omitzero"`
	// Mortar is the designation that mortar made at a works meets.
	Mortar string `json:"mortar,omitzero"`
	// CavityMin and CavityMax are the cavity widths that a lintel, tie or closer suits.
	CavityMin measure.Length `json:"cavity_min_mm,omitzero"`
	CavityMax measure.Length `json:"cavity_max_mm,omitzero"`
	Family    Family         `json:"family,omitzero"`
	// Hand is the side, seen from outside, that the roof falls to which a stepped tray is made for: "left", "right".
	Hand string `json:"hand,omitzero"`
	// LeastBearing is what the product itself asks for at each end; nought where the rulebook's rules.
	LeastBearing measure.Length `json:"least_bearing_mm,omitzero"`
	Price        measure.Money  `json:"price,omitzero"` // for one unit, before tax
	Currency     string         `json:"currency,omitzero"`
}

// PackMass is what one pack weighs.
func (p *Product) PackMass() measure.Mass { return measure.Mass(p.Pack) * p.Mass }

// Holds is what one pack holds in a unit that it is counted in: each, m, l, kg. A
// volume that is no whole millilitre is rounded down.
func (p *Product) Holds(unit string) measure.Quantity {
	n := measure.Quantity(p.Pack)
	switch unit {
	case "m":
		return n * measure.Metres(p.Length)
	case "l":
		return n * measure.Quantity(p.Volume*measure.Volume(measure.Whole)/measure.Litre)
	case "kg":
		return n * measure.Quantity(p.Mass)
	}
	return n * measure.Whole
}

// Laid tells the kinds that are laid in courses.
func (k Kind) Laid() bool { return k == Brick || k == Block || k == CoursingUnit }
