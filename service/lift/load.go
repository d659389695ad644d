// Package lift shares what a job needs among the scaffold lifts that it is built from.
package lift

import (
	"github.com/go-json-experiment/json"
	"github.com/go-json-experiment/json/jsontext"

	"hodman/service/measure"
	"hodman/service/schedule"
)

// Load is what one lift needs loaded out. From and To are levels above the datum.
type Load struct {
	Lift  int            `json:"lift"` // from 1
	From  measure.Length `json:"from_mm"`
	To    measure.Length `json:"to_mm"`
	Lines []Line         `json:"lines"`
	Mass  measure.Mass   `json:"mass_kg"`
}

// Line is one product of a lift. Mass is of Required; Pack and PackMass are as
// sold, so that whoever plans drops need not look the product up again.
type Line struct {
	Product  string           `json:"product"`
	Kind     string           `json:"kind"`
	Unit     string           `json:"unit"` // each, m, m2, l, kg
	Required measure.Quantity `json:"required"`
	Pack     measure.Quantity `json:"pack"`
	PackMass measure.Mass     `json:"pack_kg"`
	Loose    bool             `json:"loose"` // packs may be split
	Mass     measure.Mass     `json:"mass_kg"`
}

// NotGiven is a quantity that had to be given and was not.
const NotGiven measure.Quantity = -1

// UnmarshalJSONFrom tells a level that was left out ([schedule.Missing]) from nought.
func (l *Load) UnmarshalJSONFrom(dec *jsontext.Decoder) error {
	type plain Load
	p := plain{From: schedule.Missing, To: schedule.Missing}
	if err := json.UnmarshalDecode(dec, &p); err != nil {
		return err
	}
	*l = Load(p)
	return nil
}

// UnmarshalJSONFrom tells a quantity that was left out ([NotGiven]) from nought.
func (l *Line) UnmarshalJSONFrom(dec *jsontext.Decoder) error {
	type plain Line
	p := plain{Required: NotGiven}
	if err := json.UnmarshalDecode(dec, &p); err != nil {
		return err
	}
	*l = Line(p)
	return nil
}
