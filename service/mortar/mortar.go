// Package mortar turns the pieces that were really laid into mortar, and mortar
// into dry materials by the mix.
package mortar

import "hodman/service/measure"

// Joints are the bed and perpend thicknesses of a leaf.
type Joints struct{ Bed, Perpend measure.Length }

// Mix is a mortar by volume, in parts.
type Mix struct {
	Designation        string // M2, M4, M6, M12; M, S, N, O
	Cement, Lime, Sand measure.Ratio
}

// Batch is the mortar of one designation: what fills the joints, what frogs and
// perforations take up, waste on top, and the dry materials for the whole.
type Batch struct {
	Designation string         `json:"mortar"`
	Joints      measure.Volume `json:"joints_m3"`
	Frogs       measure.Volume `json:"frogs_m3"`
	Waste       measure.Volume `json:"waste_m3"`
	Total       measure.Volume `json:"total_m3"`
	Mix         string         `json:"mix"` // cement : lime : sand by volume
	Cement      measure.Mass   `json:"cement_kg"`
	Lime        measure.Mass   `json:"lime_kg"`
	Sand        measure.Mass   `json:"sand_kg"`
	Rules       []string       `json:"rules"`
}
