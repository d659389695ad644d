// Package mortar turns the pieces that were really laid into mortar, and mortar into
// what it can be bought as: dry materials by the mix, or made at a works.
package mortar

import (
	"hodman/service/measure"
	"hodman/service/product"
)

// Joints are the bed and perpend thicknesses of a leaf.
type Joints struct{ Bed, Perpend measure.Length }

// Mix is a mortar by volume, in parts.
type Mix struct {
	Designation        string // M2, M4, M6, M12; M, S, N, O
	Cement, Lime, Sand measure.Ratio
}

// ThinLayer is the designation of mortar for beds too thin for a mix: a powder in bags.
const ThinLayer = "thin_layer"

// The ways to buy mortar.
const (
	SiteMix    = "site_mix"     // cement, lime and sand, mixed on site
	ReadyToUse = "ready_to_use" // wet, in tubs by the litre
	BaggedDry  = "bagged_dry"   // dry, in bags; water is added
	Silo       = "silo"         // dry by the tonne; water is added
)

// Supplies are the ways in the order that they are shown in.
var Supplies = []string{SiteMix, ReadyToUse, BaggedDry, Silo}

// Fill is what one mortar has to fill.
type Fill struct {
	Designation string // or ThinLayer
	// Pigment is its part of the cement's mass; nought: none.
	Pigment measure.Ratio
	Joints  measure.Volume // beds and perpends
	Collars measure.Volume // between the half bricks of thicker leaves
	Frogs   measure.Volume // frogs and perforations, as far as mortar fills them
	Rules   []string       // that made the volumes
}

// Name is what people call it.
func (b *Batch) Name() string {
	if b.Colour > 0 {
		return b.Designation + " coloured " + b.Colour.String()
	}
	return b.Designation
}

// Net is all of it, without waste.
func (f *Fill) Net() measure.Volume { return f.Joints + f.Collars + f.Frogs }

// Supply is how a job's mortar is bought.
type Supply struct {
	Way string // one of Supplies
	// Aired: a site mix takes plasticiser instead of lime.
	Aired bool
	// Waste is the schedule's own part for every way; nil: the rulebook's.
	Waste *measure.Ratio
}

// Batch is the mortar of one designation: what fills the joints, what frogs and
// perforations take up, waste on top, and what makes the whole of it. The masses are of a
// site mix, and nought where the mortar is bought made.
type Batch struct {
	Designation string `json:"mortar"`
	// Colour is the pigment's part of the cement's mass.
	Colour      measure.Ratio    `json:"pigment,omitzero"`
	Supply      string           `json:"supply"`
	Joints      measure.Volume   `json:"joints_m3"`
	Collars     measure.Volume   `json:"collars_m3"`
	Frogs       measure.Volume   `json:"frogs_m3"`
	Waste       measure.Volume   `json:"waste_m3"`
	Total       measure.Volume   `json:"total_m3"`
	Mix         string           `json:"mix"` // cement : lime : sand by volume
	Cement      measure.Mass     `json:"cement_kg"`
	Lime        measure.Mass     `json:"lime_kg"`
	Sand        measure.Mass     `json:"sand_kg"`
	Pigment     measure.Mass     `json:"pigment_kg,omitzero"`
	Plasticiser measure.Quantity `json:"plasticiser_l,omitzero"`
	// Ways are all the ways to buy it, each counted for this mortar alone.
	Ways  []Way    `json:"ways"`
	Rules []string `json:"rules"`
}

// Way is one way to buy a mortar.
type Way struct {
	Supply string           `json:"supply"`
	Chosen bool             `json:"chosen,omitzero"`
	Waste  measure.Volume   `json:"waste_m3"`
	Total  measure.Volume   `json:"total_m3"`
	Litres measure.Quantity `json:"litres"` // Total, rounded up to a millilitre
	Goods  []Good           `json:"goods"`
	Mass   measure.Mass     `json:"mass_kg"` // of what is ordered; where nobody sells it, required
	Sum    string           `json:"sum"`
	Rules  []string         `json:"rules"`
}

// Good is one thing to buy. Product is empty where the catalogue has none; Order is whole packs.
type Good struct {
	Kind     product.Kind     `json:"kind"`
	Product  string           `json:"product,omitzero"`
	Unit     string           `json:"unit"` // kg, l
	Required measure.Quantity `json:"required"`
	Packs    int              `json:"packs"`
	Order    measure.Quantity `json:"order"`
	Mass     measure.Mass     `json:"mass_kg"`
}
