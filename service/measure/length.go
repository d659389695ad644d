// Package measure holds the exact quantities that hodman counts in.
//
// A [Length] is an integer of micrometres, so that 102.5 mm, 3/8 in (9.525 mm)
// and 3 5/8 in (92.075 mm) are all exact. Nothing here is a float on the way in
// or on the way through; every division says in its name which way it rounds.
package measure

import (
	"fmt"

	"github.com/go-json-experiment/json/jsontext"
)

// Length is a distance in micrometres. The zero value is no distance.
type Length int64

const (
	Micrometre Length = 1
	Millimetre        = 1000 * Micrometre
	Metre             = 1000 * Millimetre
	Inch              = 25400 * Micrometre
)

// MaxLength bounds every length that a document may give: 10 km. It keeps any
// product of two lengths, and sums of such products, far inside an int64.
const MaxLength = 10_000 * Metre

// Mm returns the length in millimetres, for sums at the end of a line.
func (l Length) Mm() float64 { return float64(l) / float64(Millimetre) }

// String prints millimetres without trailing noughts: "102.5".
func (l Length) String() string { return printFixed(int64(l), 3) }

// Append appends what String prints.
func (l Length) Append(b []byte) []byte { return appendFixed(b, int64(l), 3) }

// MarshalJSONTo writes the length as a JSON number of millimetres.
func (l Length) MarshalJSONTo(enc *jsontext.Encoder) error { return writeFixed(enc, int64(l), 3) }

// UnmarshalJSONFrom reads a JSON number of millimetres with at most three
// decimals. Anything finer, anything that is not a number, and anything beyond
// [MaxLength] either way is an error.
func (l *Length) UnmarshalJSONFrom(dec *jsontext.Decoder) error {
	n, err := readFixed(dec, 3, int64(MaxLength))
	if err != nil {
		return fmt.Errorf("a length in millimetres: %w", err)
	}
	*l = Length(n)
	return nil
}

// CeilDiv returns a/b rounded up. b must be positive; it panics otherwise.
func CeilDiv(a, b int64) int64 {
	q := FloorDiv(a, b)
	if q*b < a {
		q++
	}
	return q
}

// FloorDiv returns a/b rounded down, also for negative a. b must be positive;
// it panics otherwise.
func FloorDiv(a, b int64) int64 {
	if b <= 0 {
		panic("measure: division by a number that is not positive")
	}
	q := a / b
	if a%b < 0 {
		q--
	}
	return q
}

// HalfUpDiv returns a/b rounded to the nearest, halves up. b must be positive;
// it panics otherwise.
func HalfUpDiv(a, b int64) int64 { return FloorDiv(2*a+b, 2*b) }
