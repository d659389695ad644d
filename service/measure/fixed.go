package measure

import (
	"errors"
	"math/big"
	"strconv"
	"strings"

	"github.com/go-json-experiment/json/jsontext"
)

var (
	errNotNumber = errors.New("must be a number")
	errTooFine   = errors.New("has more decimals than can be measured")
	errTooLarge  = errors.New("is out of range")
)

// writeFixed writes n/10^decimals as a JSON number.
func writeFixed(enc *jsontext.Encoder, n int64, decimals int) error {
	var room [32]byte
	return enc.WriteValue(appendFixed(room[:0], n, decimals))
}

// printFixed is n/10^decimals as text.
func printFixed(n int64, decimals int) string {
	var room [32]byte
	return string(appendFixed(room[:0], n, decimals))
}

// appendFixed appends n/10^decimals in plain decimal form without trailing noughts.
func appendFixed(b []byte, n int64, decimals int) []byte {
	u := uint64(n)
	if n < 0 {
		b, u = append(b, '-'), -u
	}
	scale := uint64(pow10(decimals))
	b = strconv.AppendUint(b, u/scale, 10)
	rest := u % scale
	if rest == 0 {
		return b
	}
	b = append(b, '.')
	for rest > 0 {
		scale /= 10
		b = append(b, byte('0'+rest/scale))
		rest %= scale
	}
	return b
}

// readFixed reads a JSON number as an integer count of 10^-decimals, exactly.
func readFixed(dec *jsontext.Decoder, decimals int, limit int64) (int64, error) {
	if dec.PeekKind() != '0' {
		if err := dec.SkipValue(); err != nil {
			return 0, err
		}
		return 0, errNotNumber
	}
	raw, err := dec.ReadValue()
	if err != nil {
		return 0, err
	}
	return ParseFixed(string(raw), decimals, limit)
}

// ParseFixed reads a decimal number, with or without an exponent, as an integer
// count of 10^-decimals. It refuses what is not such a whole count and what is
// beyond limit either way.
func ParseFixed(s string, decimals int, limit int64) (int64, error) {
	if strings.ContainsAny(s, "eE") {
		return parseExponent(s, decimals, limit)
	}
	digits, fraction, _ := strings.Cut(s, ".")
	fraction = strings.TrimRight(fraction, "0")
	if len(fraction) > decimals {
		return 0, errTooFine
	}
	if len(digits) > 19 {
		return 0, errTooLarge
	}
	n, err := strconv.ParseInt(digits+fraction, 10, 64)
	if err != nil {
		if errors.Is(err, strconv.ErrRange) {
			return 0, errTooLarge
		}
		return 0, errNotNumber
	}
	for range decimals - len(fraction) {
		if n > limit || n < -limit {
			return 0, errTooLarge
		}
		n *= 10
	}
	if n > limit || n < -limit {
		return 0, errTooLarge
	}
	return n, nil
}

// parseExponent is the rare form: 1.2e3. Exponents past two digits are out of
// range before any arithmetic, so that 1e999999999 costs nothing.
func parseExponent(s string, decimals int, limit int64) (int64, error) {
	i := strings.IndexAny(s, "eE")
	exp, err := strconv.Atoi(s[i+1:])
	if err != nil || exp > 99 || len(s) > 64 {
		return 0, errTooLarge
	}
	if exp < -99 {
		return 0, errTooFine
	}
	r, ok := new(big.Rat).SetString(s)
	if !ok {
		return 0, errNotNumber
	}
	r.Mul(r, new(big.Rat).SetInt64(pow10(decimals)))
	if !r.IsInt() {
		return 0, errTooFine
	}
	if !r.Num().IsInt64() || r.Num().Int64() > limit || r.Num().Int64() < -limit {
		return 0, errTooLarge
	}
	return r.Num().Int64(), nil
}

func pow10(n int) int64 {
	p := int64(1)
	for range n {
		p *= 10
	}
	return p
}
