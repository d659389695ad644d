package takeoff

import (
	"fmt"

	"hodman/service/coursing"
	"hodman/service/measure"
	"hodman/service/mortar"
	"hodman/service/rulebook"
)

// ofOthers are the figures of mortar and of levels.
var ofOthers = map[string]func(in *inputs) (any, error){
	"cement kg":    func(in *inputs) (any, error) { return in.dry(0, 1) },
	"lime kg":      func(in *inputs) (any, error) { return in.dry(1, 1) },
	"sand kg":      func(in *inputs) (any, error) { return in.dry(2, 1) },
	"cement m3":    func(in *inputs) (any, error) { return in.dry(0, in.book.Ratio("mortar.cement_density").Float()) },
	"lime m3":      func(in *inputs) (any, error) { return in.dry(1, in.book.Ratio("mortar.lime_density").Float()) },
	"sand m3":      func(in *inputs) (any, error) { return in.dry(2, in.book.Ratio("mortar.sand_density").Float()) },
	"cement sacks": func(in *inputs) (any, error) { return in.dry(0, 94*pound) },
	"sand cu ft": func(in *inputs) (any, error) {
		return in.dry(2, in.book.Ratio("mortar.sand_density").Float()*cubicFoot)
	},
	"mix of":         mixOf,
	"courses to":     coursesTo,
	"bed to suit mm": bedToSuit,
}

const pound = 0.45359237 // kg

// dry is what goes into the sheet's wet mortar, by mass over a mass or a density.
func (in *inputs) dry(part int, by float64) (any, error) {
	var parts [3]float64
	if _, err := fmt.Sscanf(in.words["mix"], "%g:%g:%g", &parts[0], &parts[1], &parts[2]); err != nil {
		return nil, err
	}
	var wet float64
	var unit string
	if _, err := fmt.Sscan(in.words["wet"], &wet, &unit); err != nil {
		return nil, err
	}
	if unit == "cu_yd" {
		wet *= 27 * cubicFoot
	}
	mix := mortar.Mix{Cement: ratio(parts[0]), Lime: ratio(parts[1]), Sand: ratio(parts[2])}
	cement, lime, sand := mix.Dry(measure.Volume(wet*float64(measure.CubicMetre)+0.5), in.book)
	return [3]measure.Mass{cement, lime, sand}[part].Kg() / by, nil
}

func ratio(f float64) measure.Ratio { return measure.Ratio(f*float64(measure.One) + 0.5) }

// mixOf is the mix of a designation, in parts.
func mixOf(in *inputs) (any, error) {
	mix, ok := mortar.MixOf(in.words["mortar"], in.book)
	if !ok {
		return nil, fmt.Errorf("rulebook %s has no such mix", in.book.ID())
	}
	return mix.String(), nil
}

// coursesTo is how many courses the nearest gauge to suit a height has.
func coursesTo(in *inputs) (any, error) {
	offer, err := in.suit()
	return float64(offer.Courses), err
}

func bedToSuit(in *inputs) (any, error) {
	offer, err := in.suit()
	return offer.Bed.Mm(), err
}

func (in *inputs) suit() (coursing.Offer, error) {
	to, err := lengths(in.words["height"])
	if err != nil {
		return coursing.Offer{}, err
	}
	made, err := in.made()
	if err != nil {
		return coursing.Offer{}, err
	}
	least, most := rulebook.US().Length("joint.bed_least"), rulebook.US().Length("joint.bed_most")
	offers := coursing.Suit(to[0], made.Unit.Height, made.Bed, min(least, made.Bed), max(most, made.Bed))
	if len(offers) == 0 {
		return coursing.Offer{}, fmt.Errorf("no gauge suits")
	}
	return offers[0], nil
}
