package drop

import (
	"strconv"

	"github.com/go-json-experiment/json/jsontext"

	"hodman/service/lift"
	"hodman/service/measure"
	"hodman/service/product"
	"hodman/service/rulebook"
	"hodman/service/schedule"
)

// Limits of the document. openapi.yaml says the same.
const (
	MaxVehicles    = 20
	MaxHolidays    = 400
	MaxBricklayers = 100
	MaxDays        = 60    // of lead_days, ahead_days and lift_change_days
	MaxOutput      = 5_000 // units a bricklayer a day
	MaxBays        = 200
	MaxPlaces      = 60
	MaxAvailable   = 100
	MaxLines       = 500 // of one lift
	MaxProducts    = 300 // of all lifts
)

// Request is the document. Exactly one of Takeoff, Schedule and LiftLoads says what is
// to be brought; the schedule's takeoff is for the caller to compute.
type Request struct {
	Takeoff   *Goods             `json:"takeoff,omitzero"`
	Schedule  *schedule.Schedule `json:"schedule,omitzero"`
	LiftLoads []lift.Load        `json:"lift_loads,omitzero"`
	// Rulebook is where the defaults come from; with LiftLoads only, and may be left out.
	Rulebook  *string   `json:"rulebook,omitzero"`
	Programme Programme `json:"programme"`
	// Scaffold may be left out: then nothing is put out and the plan is a draft.
	Scaffold *Scaffold `json:"scaffold,omitzero"`
	// Yard may be left out: then the ground is taken to hold what comes.
	Yard     *Yard     `json:"yard,omitzero"`
	Vehicles []Vehicle `json:"vehicles"`
	Currency string    `json:"currency"` // three capital letters
	// LeadDays and AheadDays are working days before a lift starts, 0 to 60; nil: the
	// rulebook's. Ahead is not less than lead.
	LeadDays  *int `json:"lead_days,omitzero"`
	AheadDays *int `json:"ahead_days,omitzero"`
	// HoldingCost is the price of one pack for one working day that it comes earlier
	// than lead_days asks for; nil: nothing. Goods that take no deck place count by mass,
	// a full place's worth as one pack.
	HoldingCost *measure.Money `json:"holding_cost,omitzero"`
}

// Goods is a takeoff that is sent back as it was answered. Its lifts and the rulebook
// that it was made by are read; the rest is taken as it comes.
type Goods struct {
	Rulebook string      `json:"rulebook"`
	Lifts    []lift.Load `json:"lifts"`

	Reference   jsontext.Value `json:"schedule_reference,omitzero"`
	Catalogue   jsontext.Value `json:"catalogue,omitzero"`
	Lines       jsontext.Value `json:"lines,omitzero"`
	Walls       jsontext.Value `json:"walls,omitzero"`
	Lintels     jsontext.Value `json:"lintels,omitzero"`
	Mortar      jsontext.Value `json:"mortar,omitzero"`
	Ancillaries jsontext.Value `json:"ancillaries,omitzero"`
	Cutting     jsontext.Value `json:"cutting,omitzero"`
	Findings    jsontext.Value `json:"findings,omitzero"`
	Cautions    jsontext.Value `json:"cautions,omitzero"`
}

// Programme says who builds and on which days.
type Programme struct {
	Start       string `json:"start"` // YYYY-MM-DD
	Bricklayers int    `json:"bricklayers"`
	// OutputPerDay is units a bricklayer a day by kind (brick, block, coursing_unit);
	// the rulebook's for a kind left out.
	OutputPerDay map[string]int `json:"output_per_day,omitzero"`
	// WorkingDays are "mon" to "sun"; nil: Monday to Friday.
	WorkingDays []string `json:"working_days,omitzero"`
	Holidays    []string `json:"holidays,omitzero"` // YYYY-MM-DD
	// LiftChangeDays are working days to raise the scaffold between lifts; nil: the rulebook's.
	LiftChangeDays *int `json:"lift_change_days,omitzero"`
}

// Scaffold is the working platform. Without LoadClass the rest is not looked at; with
// it bay length, platform width and bays have to be there too.
type Scaffold struct {
	LoadClass     *int            `json:"load_class,omitzero"` // 1 to 6
	BayLength     *measure.Length `json:"bay_length_mm,omitzero"`
	PlatformWidth *measure.Length `json:"platform_width_mm,omitzero"`
	Bays          *int            `json:"bays,omitzero"`
	// LoadingBay is the design load of the loading bay, nil where there is none or it is not known.
	LoadingBay *measure.Ratio `json:"loading_bay_kn_m2,omitzero"`
}

// Yard is what the ground on site can hold.
type Yard struct {
	MaxMass  *measure.Mass `json:"max_kg,omitzero"`
	MaxPacks *int          `json:"max_packs,omitzero"` // places on the ground, one a pack
}

// Vehicle is a kind of lorry. Cost is for one trip.
type Vehicle struct {
	Key     string         `json:"key"`
	Payload measure.Mass   `json:"payload_kg"`
	Places  int            `json:"places"` // deck places, one a pack
	Cost    *measure.Money `json:"cost"`
	// Available is how many trips it can make on one day; nil: as many as are needed.
	Available *int `json:"available,omitzero"`
}

// Loads are the lift loads of the request where it carries them, nil where they are to
// be computed from its schedule.
func (r *Request) Loads() []lift.Load {
	if r.Takeoff != nil {
		return r.Takeoff.Lifts
	}
	return r.LiftLoads
}

// Book is the rulebook that the defaults come from: that of the takeoff, the schedule or
// the request; the British where none is named, or one that there is not.
func (r *Request) Book() *rulebook.Book {
	key := ""
	switch {
	case r.Takeoff != nil:
		key = r.Takeoff.Rulebook
	case r.Schedule != nil:
		key = r.Schedule.Rulebook
	case r.Rulebook != nil:
		key = *r.Rulebook
	}
	if b := rulebook.Find(key); b != nil {
		return b
	}
	return rulebook.GB()
}

// loadsAt is where the loads stand in the document.
func (r *Request) loadsAt() string {
	switch {
	case r.Takeoff != nil:
		return "/takeoff/lifts"
	case r.Schedule != nil:
		return "/schedule"
	}
	return "/lift_loads"
}

// liftAt is where one lift stands, for a schedule the whole of it.
func (r *Request) liftAt(l int) string {
	if r.Schedule != nil {
		return r.loadsAt()
	}
	return r.loadsAt() + "/" + strconv.Itoa(l)
}

func given(n *int, book *rulebook.Book, rule string) int {
	if n != nil {
		return *n
	}
	return book.Count(rule)
}

// placed tells the kinds that stand on pallets and take a deck place; the rest ride in
// the room between, which is common practice.
func placed(kind string) bool {
	k := product.Kind(kind)
	return k.Laid() || k == product.Cement || k == product.Lime || k == product.Sand
}
