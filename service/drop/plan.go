package drop

import (
	"hodman/service/finding"
	"hodman/service/measure"
)

// Plan is the answer. The same request and rulebook give the same plan.
type Plan struct {
	Lifts  []LiftDates `json:"lifts"`
	Drops  []Drop      `json:"drops"`
	Hoists []Hoist     `json:"hoists"`
	// Cost is trips and early goods. No plan within lead and ahead costs less than
	// LowerBound; Optimal says that Cost meets it, Gap what part of Cost lies above it.
	Cost       measure.Money     `json:"cost"`
	Currency   string            `json:"currency"`
	LowerBound measure.Money     `json:"lower_bound"`
	Optimal    bool              `json:"optimal"`
	Gap        measure.Ratio     `json:"gap"`
	BricksABay []BayCount        `json:"bricks_a_bay"`
	Sums       []string          `json:"sums"`
	Rules      []string          `json:"rules"`
	Findings   []finding.Finding `json:"findings"`
	Cautions   []string          `json:"cautions"`
}

// LiftDates is when one lift is built: Starts and Ends are its first and last day,
// Days how many working days it takes.
type LiftDates struct {
	Lift   int  `json:"lift"`
	Starts Date `json:"starts"`
	Ends   Date `json:"ends"`
	Days   int  `json:"days"`
}

// Drop is one trip of one vehicle. ForLifts are the lifts that its goods are first
// needed for.
type Drop struct {
	Number   int          `json:"number"` // from 1, in order of date
	Date     Date         `json:"date"`
	Vehicle  string       `json:"vehicle"`
	ForLifts []int        `json:"for_lifts"`
	Lines    []DropLine   `json:"lines"`
	Mass     measure.Mass `json:"mass_kg"`
	Places   int          `json:"places"`
}

// DropLine is so much of a product on a vehicle. Packs is 0 where it comes
// by the unit out of packs that are split.
type DropLine struct {
	Product  string           `json:"product"`
	Unit     string           `json:"unit"` // each, m, m2, l, kg
	Packs    int              `json:"packs"`
	Quantity measure.Quantity `json:"quantity"`
	Mass     measure.Mass     `json:"mass_kg"`
}

// Hoist is what is set out on one bay in one round; the round before is used up first.
// Imposed counts the goods, the people and the mortar boards, rounded up.
type Hoist struct {
	Lift    int           `json:"lift"`
	Bay     int           `json:"bay"`   // from 1
	Order   int           `json:"order"` // the round, from 1
	Lines   []HoistLine   `json:"lines"`
	Mass    measure.Mass  `json:"mass_kg"`
	Imposed measure.Ratio `json:"imposed_kn_m2"`
	Limit   measure.Ratio `json:"limit_kn_m2"`
}

// HoistLine is so much of a product on a bay.
type HoistLine struct {
	Product  string           `json:"product"`
	Unit     string           `json:"unit"` // each, m, m2, l, kg
	Quantity measure.Quantity `json:"quantity"`
}

// BayCount is how many of one unit alone a bay may carry beside its people and boards.
type BayCount struct {
	Product  string       `json:"product"`
	UnitMass measure.Mass `json:"unit_kg"`
	Units    int          `json:"units"`
}

// Cautions ride with every plan.
var Cautions = []string{
	"Figures are for planning only. The load a scaffold may carry is the one on its design and handover certificate: defer to them, to the engineer and to local codes.",
	"Loading bays, crane off-loads and lifting by hand need an assessment of the site, competent people and local codes. Heavy blocks and lintels go by machine where their mass asks for it: see each lintel's own handling.",
	"Only the lift being worked is loaded; other platforms are taken to be clear. What stands out overnight is to stay within the part of the service load that the scaffold's designer allows.",
	"Stacks leave a clear way past, stand by the standards and stay below the guard rail. Axle loads, access and the crane's reach are for the haulier to check.",
}
