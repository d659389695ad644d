package takeoff

import (
	"cmp"
	"fmt"
	"math/big"
	"strings"

	"hodman/service/measure"
	"hodman/service/rulebook"
	"hodman/service/schedule"
)

// inputs is what a sheet's second column says.
type inputs struct {
	leaf    schedule.Leaf
	joint   measure.Length // where bed and perpend are alike
	nominal bool           // the unit's sizes include a joint
	backed  bool           // the backing is another product of the same size
	wall    [2]measure.Length
	ends    [2]schedule.End
	holes   []schedule.Opening
	book    *rulebook.Book
	allow   *measure.Ratio
	words   map[string]string
}

// read takes "brick 215 x 102.5 x 65, joint 10, bond english" apart: length x thickness
// x height, in mm or with "in" or "ft" behind; what it does not know is kept in words.
func read(text string) (*inputs, error) {
	in := &inputs{book: rulebook.GB(), words: map[string]string{}, ends: [2]schedule.End{schedule.StopEnd, schedule.StopEnd}}
	for part := range strings.SplitSeq(text, ",") {
		key, value, _ := strings.Cut(strings.TrimSpace(part), " ")
		if err := in.set(key, value); err != nil {
			return nil, fmt.Errorf("%s: %w", strings.TrimSpace(part), err)
		}
	}
	if u := in.leaf.Unit; u != nil && in.nominal {
		u.Length, u.Thickness, u.Height = u.Length-in.joint, u.Thickness-in.joint, u.Height-in.joint
	}
	return in, nil
}

func (in *inputs) set(key, value string) (err error) {
	one := func(to *measure.Length) error {
		list, err := lengths(value)
		if err == nil {
			*to = list[0]
		}
		return err
	}
	switch key {
	case "brick", "block", "coursing_unit":
		var list []measure.Length
		if list, err = lengths(value); err == nil && len(list) != 3 {
			return fmt.Errorf("want length x thickness x height")
		} else if err == nil {
			in.leaf.Unit = &schedule.Unit{Kind: key, Length: list[0], Thickness: list[1], Height: list[2], Mass: measure.Kilogram}
		}
	case "joint":
		err = one(&in.joint)
		bed, perpend := in.joint, in.joint
		in.leaf.BedJoint, in.leaf.Perpend = &bed, &perpend
	case "bed":
		in.leaf.BedJoint = new(measure.Length)
		err = one(in.leaf.BedJoint)
	case "nominal":
		in.nominal = true
	case "thickness":
		err = one(&in.leaf.Thickness)
	case "bond":
		in.leaf.Bond = value
	case "headers_every":
		_, err = fmt.Sscan(value, &in.leaf.HeadersEvery)
	case "flat":
		in.leaf.Laid = "flat"
	case "backed":
		in.backed = true
	case "wall":
		var list []measure.Length
		if list, err = lengths(value); err == nil {
			in.wall = [2]measure.Length(list)
		}
	case "opening":
		err = in.hole(value)
	case "abutment":
		in.ends[0] = schedule.Abutment
	case "book":
		in.book = rulebook.Find(value)
	case "breakage":
		r, ok := new(big.Rat).SetString(strings.TrimSuffix(value, " %"))
		if !ok {
			return fmt.Errorf("no per cent")
		}
		in.allow = new(measure.Ratio)
		*in.allow = measure.Ratio(round(r.Mul(r, big.NewRat(int64(measure.One), 100))))
	default:
		in.words[key] = value
	}
	return err
}

// hole reads "900 x 2100 at 2000 x 0".
func (in *inputs) hole(value string) error {
	size, place, _ := strings.Cut(value, " at ")
	s, err := lengths(size)
	p, err2 := lengths(place)
	if err := cmp.Or(err, err2); err != nil {
		return err
	}
	in.holes = append(in.holes, schedule.Opening{Ref: fmt.Sprint("O", len(in.holes)), Left: p[0], Sill: p[1], Width: s[0], Height: s[1]})
	return nil
}

var unitsOfLength = map[string]measure.Length{"mm": measure.Millimetre, "in": measure.Inch, "ft": 12 * measure.Inch, "m": measure.Metre}

// lengths reads "215 x 102.5 x 65", "7 5/8 x 3 5/8 x 2 1/4 in", "10 ft": to the nearest micrometre.
func lengths(text string) ([]measure.Length, error) {
	unit := measure.Millimetre
	for name, size := range unitsOfLength {
		if s, ok := strings.CutSuffix(text, " "+name); ok {
			text, unit = s, size
		}
	}
	var list []measure.Length
	for each := range strings.SplitSeq(text, " x ") {
		sum := new(big.Rat)
		for word := range strings.FieldsSeq(each) {
			r, ok := new(big.Rat).SetString(word)
			if !ok {
				return nil, fmt.Errorf("%q is no length", each)
			}
			sum.Add(sum, r)
		}
		list = append(list, measure.Length(round(sum.Mul(sum, big.NewRat(int64(unit), 1)))))
	}
	return list, nil
}

// round is to the nearest whole, halves up.
func round(r *big.Rat) int64 {
	twice := new(big.Int).Add(new(big.Int).Mul(r.Num(), big.NewInt(2)), r.Denom())
	return twice.Div(twice, new(big.Int).Mul(r.Denom(), big.NewInt(2))).Int64()
}
