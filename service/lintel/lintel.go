// Package lintel picks, for each opening, the lintel that truly bears: the
// shortest in the right family that spans the clear width and the least bearing
// at both ends, out of what is in stock.
package lintel

import (
	"hodman/service/measure"
	"hodman/service/product"
)

// Opening is one opening to be carried, with the masonry that its ends find.
type Opening struct {
	Wall    string // reference, for the answer
	Opening string
	At      string // JSON Pointer to the opening
	Clear   measure.Length
	// Allowance is by how much the opening may turn out wider on site: the least
	// bearing has to be there still.
	Allowance measure.Length
	// Asked is the bearing the schedule asks for; the larger of it, the rulebook's and the product's wins.
	Asked measure.Length
	// Seat says what is to be carried.
	Seat Seat
	// RoomLeft and RoomRight are the masonry beside the opening at its head, up to the next
	// opening, a slope, or the end of the shorter leaf.
	RoomLeft, RoomRight measure.Length
	// SharedLeft and SharedRight say that another lintel bears on the same pier.
	SharedLeft, SharedRight bool
}

// Seat is the wall make-up under a lintel's ends.
type Seat struct {
	Leaf      string         // "both", "single", "outer" or "inner"
	Thickness measure.Length // of the leaf, where it is one
	Cavity    measure.Length // where it is both
	Families  []product.Family
}

// widest is the clear width as it may turn out on site.
func (o *Opening) widest() measure.Length { return o.Clear + o.Allowance }

// Status says where the chosen lintel is to come from.
type Status string

const (
	InStock       Status = "in_stock"       // the stock sent in has it, and it is set aside for this opening
	OutOfStock    Status = "out_of_stock"   // it serves, but the stock sent in has none left
	NotChecked    Status = "not_checked"    // no stock was sent in
	NothingServes Status = "nothing_serves" // no length of the family is long enough
)

// Pick is the answer for one opening. Needed is clear + allowance + 2 x least bearing.
type Pick struct {
	Wall         string         `json:"wall,omitzero"`
	Opening      string         `json:"opening"`
	Leaf         string         `json:"leaf"`
	Clear        measure.Length `json:"clear_mm"`
	Allowance    measure.Length `json:"clear_allowance_mm,omitzero"`
	LeastBearing measure.Length `json:"least_bearing_mm"`
	Needed       measure.Length `json:"needed_mm"`
	Product      string         `json:"product,omitzero"`
	Length       measure.Length `json:"length_mm,omitzero"`
	BearingLeft  measure.Length `json:"bearing_left_mm,omitzero"`
	BearingRight measure.Length `json:"bearing_right_mm,omitzero"`
	Mass         measure.Mass   `json:"mass_kg,omitzero"`
	Handling     string         `json:"handling,omitzero"` // who or what lifts it, with the caution
	Status       Status         `json:"status"`
	Why          string         `json:"why"`
	// Alternatives serve too, shortest first; the first choice where stock kept it from being picked.
	Alternatives []Alternative `json:"alternatives"`
	// Short are in stock but bear less than the least: never chosen.
	Short []Short  `json:"short"`
	Rules []string `json:"rules"`
}

// Alternative is another product that would bear.
type Alternative struct {
	Product string         `json:"product"`
	Length  measure.Length `json:"length_mm"`
	Bearing measure.Length `json:"bearing_mm"` // at each end, set in the middle
	Status  Status         `json:"status"`
}

// Short is a lintel in hand that bears too little, with what it would give and
// the words that it needs the designer's agreement.
type Short struct {
	Product string         `json:"product"`
	Length  measure.Length `json:"length_mm"`
	Bearing measure.Length `json:"bearing_mm"`
	Text    string         `json:"text"`
}
