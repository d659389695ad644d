package measure

import (
	"fmt"
	"strings"

	"github.com/go-json-experiment/json/jsontext"
)

// Area is in square micrometres. In JSON it is square metres to three decimals.
type Area int64

// SquareMetre is the unit areas are shown in.
const SquareMetre = Area(Metre) * Area(Metre)

// Times returns the rectangle of two lengths.
func (l Length) Times(m Length) Area { return Area(l) * Area(m) }

// M2 returns square metres.
func (a Area) M2() float64 { return float64(a) / float64(SquareMetre) }

// MarshalJSONTo writes square metres, rounded half up to three decimals.
func (a Area) MarshalJSONTo(enc *jsontext.Encoder) error {
	return writeFixed(enc, HalfUpDiv(int64(a), int64(SquareMetre)/1000), 3)
}

// UnmarshalJSONFrom reads square metres with at most three decimals, up to 1,000,000.
func (a *Area) UnmarshalJSONFrom(dec *jsontext.Decoder) error {
	n, err := readFixed(dec, 3, 1_000_000_000)
	if err != nil {
		return fmt.Errorf("an area in square metres: %w", err)
	}
	*a = Area(n) * SquareMetre / 1000
	return nil
}

// Volume is in nanolitres (a thousandth of a cubic millimetre), so that a cubic
// metre is 10^12. In JSON it is cubic metres to four decimals.
type Volume int64

const (
	Litre      Volume = 1_000_000_000
	CubicMetre        = 1000 * Litre
)

// Times returns the box of an area and a length, rounded half up to a nanolitre.
// It panics where area x length leaves an int64: give it one unit's area.
func (a Area) Times(l Length) Volume {
	p := int64(a) * int64(l)
	if a != 0 && p/int64(a) != int64(l) {
		panic("measure: volume out of range")
	}
	return Volume(HalfUpDiv(p, 1_000_000))
}

// M3 returns cubic metres.
func (v Volume) M3() float64 { return float64(v) / float64(CubicMetre) }

// MarshalJSONTo writes cubic metres, rounded half up to four decimals.
func (v Volume) MarshalJSONTo(enc *jsontext.Encoder) error {
	return writeFixed(enc, HalfUpDiv(int64(v), int64(CubicMetre)/10_000), 4)
}

// UnmarshalJSONFrom reads cubic metres with at most twelve decimals, up to 1000.
func (v *Volume) UnmarshalJSONFrom(dec *jsontext.Decoder) error {
	n, err := readFixed(dec, 12, 1000*int64(CubicMetre))
	if err != nil {
		return fmt.Errorf("a volume in cubic metres: %w", err)
	}
	*v = Volume(n)
	return nil
}

// Mass is in grams. In JSON it is kilograms.
type Mass int64

const (
	Gram     Mass = 1
	Kilogram      = 1000 * Gram
	Tonne         = 1000 * Kilogram
)

// MaxMass bounds every mass that a document may give: 1,000,000 t.
const MaxMass = 1_000_000 * Tonne

// Kg returns kilograms.
func (m Mass) Kg() float64 { return float64(m) / float64(Kilogram) }

// String prints kilograms without trailing noughts.
func (m Mass) String() string { return printFixed(int64(m), 3) }

// Append appends what String prints.
func (m Mass) Append(b []byte) []byte { return appendFixed(b, int64(m), 3) }

// MarshalJSONTo writes kilograms.
func (m Mass) MarshalJSONTo(enc *jsontext.Encoder) error { return writeFixed(enc, int64(m), 3) }

// UnmarshalJSONFrom reads kilograms with at most three decimals, within [MaxMass].
func (m *Mass) UnmarshalJSONFrom(dec *jsontext.Decoder) error {
	n, err := readFixed(dec, 3, int64(MaxMass))
	if err != nil {
		return fmt.Errorf("a mass in kilograms: %w", err)
	}
	*m = Mass(n)
	return nil
}

// Ratio is a plain number in millionths: 0.05 is 50,000.
type Ratio int64

// One is the ratio of a thing to itself.
const One Ratio = 1_000_000

// CeilOf returns the ratio of n, rounded up to a whole.
func (r Ratio) CeilOf(n int64) int64 { return CeilDiv(n*int64(r), int64(One)) }

// HalfUpOf returns the ratio of n, rounded to the nearest whole, halves up.
func (r Ratio) HalfUpOf(n int64) int64 {
	// Split so that n may be a volume of thousands of cubic metres.
	whole, rest := n/int64(One), n%int64(One)
	return whole*int64(r) + HalfUpDiv(rest*int64(r), int64(One))
}

// Float returns the ratio as a float, for loads.
func (r Ratio) Float() float64 { return float64(r) / float64(One) }

// String prints the ratio without trailing noughts.
func (r Ratio) String() string { return printFixed(int64(r), 6) }

// Append appends what String prints.
func (r Ratio) Append(b []byte) []byte { return appendFixed(b, int64(r), 6) }

// MarshalJSONTo writes the ratio as a JSON number.
func (r Ratio) MarshalJSONTo(enc *jsontext.Encoder) error { return writeFixed(enc, int64(r), 6) }

// UnmarshalJSONFrom reads a JSON number with at most six decimals, up to a million.
func (r *Ratio) UnmarshalJSONFrom(dec *jsontext.Decoder) error {
	n, err := readFixed(dec, 6, 1_000_000*int64(One))
	if err != nil {
		return err
	}
	*r = Ratio(n)
	return nil
}

// Quantity is how much of a product: thousandths of the line's unit (each, m,
// m2, kg), so that a count is a whole number of [Whole].
type Quantity int64

// Whole is one of the line's unit.
const Whole Quantity = 1000

// Each returns a count as a quantity.
func Each(n int) Quantity { return Quantity(n) * Whole }

// Metres returns a run as a quantity of metres, rounded up to a millimetre.
func Metres(l Length) Quantity { return Quantity(CeilDiv(int64(l), int64(Millimetre))) }

// String prints the quantity without trailing noughts.
func (q Quantity) String() string { return printFixed(int64(q), 3) }

// Append appends what String prints.
func (q Quantity) Append(b []byte) []byte { return appendFixed(b, int64(q), 3) }

// MarshalJSONTo writes the quantity as a JSON number.
func (q Quantity) MarshalJSONTo(enc *jsontext.Encoder) error { return writeFixed(enc, int64(q), 3) }

// UnmarshalJSONFrom reads a JSON number with at most three decimals, up to a thousand million.
func (q *Quantity) UnmarshalJSONFrom(dec *jsontext.Decoder) error {
	n, err := readFixed(dec, 3, 1_000_000_000*int64(Whole))
	if err != nil {
		return fmt.Errorf("a quantity: %w", err)
	}
	*q = Quantity(n)
	return nil
}

// Money is an amount of a currency named beside it, in ten-thousandths, so that
// unit prices and their multiples are exact. In JSON it is a decimal string.
type Money int64

// MoneyUnit is one whole unit of the currency.
const MoneyUnit Money = 10_000

// String prints at least two decimals, and up to four where they are not nought.
func (m Money) String() string {
	s := printFixed(int64(m), 4)
	whole, fraction, _ := strings.Cut(s, ".")
	for len(fraction) < 2 {
		fraction += "0"
	}
	return whole + "." + fraction
}

// MarshalJSONTo writes the amount as a JSON string.
func (m Money) MarshalJSONTo(enc *jsontext.Encoder) error {
	return enc.WriteToken(jsontext.String(m.String()))
}

// UnmarshalJSONFrom reads a JSON string of plain digits with at most four
// decimals, from nought to 1,000,000,000.
func (m *Money) UnmarshalJSONFrom(dec *jsontext.Decoder) error {
	if dec.PeekKind() != '"' {
		if err := dec.SkipValue(); err != nil {
			return err
		}
		return fmt.Errorf("an amount of money must be a decimal string such as \"12.50\"")
	}
	tok, err := dec.ReadToken()
	if err != nil {
		return err
	}
	n, err := ParseMoney(tok.String())
	*m = n
	return err
}

// ParseMoney reads "12.5" or "12.5000".
func ParseMoney(s string) (Money, error) {
	whole, fraction, dotted := strings.Cut(s, ".")
	if whole == "" || len(whole) > 10 || (dotted && fraction == "") || len(fraction) > 4 || strings.Trim(whole+fraction, "0123456789") != "" {
		return 0, fmt.Errorf("%q is not an amount of money: digits with at most four decimals, such as \"12.50\"", s)
	}
	n, err := ParseFixed(s, 4, 1_000_000_000*int64(MoneyUnit))
	if err != nil {
		return 0, fmt.Errorf("an amount of money: %w", err)
	}
	return Money(n), nil
}
