package schedule

import (
	"math"

	"github.com/go-json-experiment/json"
	"github.com/go-json-experiment/json/jsontext"

	"hodman/service/measure"
)

// Missing is the value of a length that had to be given and was not: nought
// would be a guess, and [Schedule.Check] refuses this.
const Missing measure.Length = math.MinInt64

// UnmarshalJSONFrom reads an opening and tells a place that was left out from nought.
func (o *Opening) UnmarshalJSONFrom(dec *jsontext.Decoder) error {
	type plain Opening
	p := plain{Left: Missing, Sill: Missing}
	if err := json.UnmarshalDecode(dec, &p); err != nil {
		return err
	}
	*o = Opening(p)
	return nil
}

// UnmarshalJSONFrom reads air bricks and tells a level that was left out from nought.
func (a *AirBricks) UnmarshalJSONFrom(dec *jsontext.Decoder) error {
	type plain AirBricks
	p := plain{Level: Missing}
	if err := json.UnmarshalDecode(dec, &p); err != nil {
		return err
	}
	*a = AirBricks(p)
	return nil
}

// UnmarshalJSONFrom reads reinforcement and tells levels that were left out from nought.
func (r *BedReinforcement) UnmarshalJSONFrom(dec *jsontext.Decoder) error {
	type plain BedReinforcement
	p := plain{From: Missing, To: Missing, EveryCourses: 1}
	if err := json.UnmarshalDecode(dec, &p); err != nil {
		return err
	}
	*r = BedReinforcement(p)
	return nil
}

// UnmarshalJSONFrom reads an abutting roof and tells places that were left out from nought.
func (r *AbuttingRoof) UnmarshalJSONFrom(dec *jsontext.Decoder) error {
	type plain AbuttingRoof
	p := plain{Left: Missing, LeftLevel: Missing, Right: Missing, RightLevel: Missing}
	if err := json.UnmarshalDecode(dec, &p); err != nil {
		return err
	}
	*r = AbuttingRoof(p)
	return nil
}

// UnmarshalJSONFrom reads a stock line and tells a quantity that was left out from
// nought: it becomes -1, which [Schedule.Check] refuses.
func (s *Stock) UnmarshalJSONFrom(dec *jsontext.Decoder) error {
	type plain Stock
	p := plain{Quantity: -1}
	if err := json.UnmarshalDecode(dec, &p); err != nil {
		return err
	}
	*s = Stock(p)
	return nil
}

// UnmarshalJSONFrom reads a junction and tells a place that was left out from nought.
func (j *Junction) UnmarshalJSONFrom(dec *jsontext.Decoder) error {
	type plain Junction
	p := plain{At: Missing}
	if err := json.UnmarshalDecode(dec, &p); err != nil {
		return err
	}
	*j = Junction(p)
	return nil
}

// UnmarshalJSONFrom reads a crossing and tells places that were left out from nought.
func (x *Crossing) UnmarshalJSONFrom(dec *jsontext.Decoder) error {
	type plain Crossing
	p := plain{At: Missing, OtherAt: Missing}
	if err := json.UnmarshalDecode(dec, &p); err != nil {
		return err
	}
	*x = Crossing(p)
	return nil
}

// UnmarshalJSONFrom reads a pier and tells a place that was left out from nought.
func (p *Pier) UnmarshalJSONFrom(dec *jsontext.Decoder) error {
	type plain Pier
	q := plain{At: Missing}
	if err := json.UnmarshalDecode(dec, &q); err != nil {
		return err
	}
	*p = Pier(q)
	return nil
}
