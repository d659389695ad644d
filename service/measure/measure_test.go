package measure_test

import (
	"testing"

	"github.com/go-json-experiment/json"
	"pgregory.net/rapid"

	"hodman/service/measure"
)

// Each number as it stands in a document, and the micrometres it has to be.
func TestLengthsAreExact(t *testing.T) {
	for text, want := range map[string]measure.Length{
		"0": 0, "-0": 0, "102.5": 102_500, "9.525": 9_525, "92.075": 92_075, "215": 215_000, "215.000": 215_000,
		"-150": -150_000, "-0.5": -500, "1e3": 1_000_000, "2.15E2": 215_000, "5000e-3": 5_000, "10000000": 10_000_000_000,
	} {
		var l measure.Length
		if err := json.Unmarshal([]byte(text), &l); err != nil || l != want {
			t.Errorf("%s: %d micrometres, want %d (%v)", text, l, want, err)
		}
	}
}

func TestNumbersThatAreNoLength(t *testing.T) {
	for _, text := range []string{
		"0.0001", "1e-4", "10000000.001", "1e999999999", "-1e999999999", "1e-999999999", "99999999999999999999999", `"215"`, "null", "true", "[]", "{}", "NaN",
	} {
		var l measure.Length
		if err := json.Unmarshal([]byte(text), &l); err == nil {
			t.Errorf("%s was read as %s mm", text, l)
		}
	}
}

func TestLengthsRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		want := measure.Length(rapid.Int64Range(-int64(measure.MaxLength), int64(measure.MaxLength)).Draw(t, "micrometres"))
		text, err := json.Marshal(want)
		if err != nil {
			t.Fatal(err)
		}
		var got measure.Length
		if err := json.Unmarshal(text, &got); err != nil || got != want {
			t.Fatalf("%d came back from %s as %d (%v)", want, text, got, err)
		}
	})
}

func TestDivisionsRoundAsTheyAreNamed(t *testing.T) {
	for _, c := range []struct{ a, b, floor, ceil, half int64 }{
		{7, 2, 3, 4, 4}, {-7, 2, -4, -3, -3}, {6, 2, 3, 3, 3}, {0, 5, 0, 0, 0}, {-1, 3, -1, 0, 0}, {1, 3, 0, 1, 0}, {2, 3, 0, 1, 1},
	} {
		if f, u, h := measure.FloorDiv(c.a, c.b), measure.CeilDiv(c.a, c.b), measure.HalfUpDiv(c.a, c.b); f != c.floor || u != c.ceil || h != c.half {
			t.Errorf("%d/%d: floor %d ceil %d half up %d, want %d %d %d", c.a, c.b, f, u, h, c.floor, c.ceil, c.half)
		}
	}
}

// TestBrickVolume: a UK brick of 215 x 102.5 x 65 mm is 1.43244 l; 59.259 of them a square metre is 60 by the area rule.
func TestBrickVolume(t *testing.T) {
	brick := (215 * measure.Millimetre).Times(102_500).Times(65 * measure.Millimetre)
	if want := measure.Volume(1_432_437_500); brick != want {
		t.Errorf("%d nanolitres, want %d", brick, want)
	}
}

func TestMoney(t *testing.T) {
	for text, want := range map[string]string{`"12.5"`: `"12.50"`, `"0.7800"`: `"0.78"`, `"0.0375"`: `"0.0375"`, `"95"`: `"95.00"`} {
		var m measure.Money
		if err := json.Unmarshal([]byte(text), &m); err != nil {
			t.Errorf("%s: %v", text, err)
		}
		if got, _ := json.Marshal(m); string(got) != want {
			t.Errorf("%s came back as %s, want %s", text, got, want)
		}
	}
	for _, text := range []string{"12.5", `"-1"`, `"1.00001"`, `"1."`, `".5"`, `"1e3"`, `""`, `"12345678901"`, "null"} {
		var m measure.Money
		if err := json.Unmarshal([]byte(text), &m); err == nil {
			t.Errorf("%s was read as %s", text, m)
		}
	}
}

func TestRatios(t *testing.T) {
	for _, c := range []struct {
		ratio measure.Ratio
		n     int64
		ceil  int64
		half  int64
	}{{50_000, 4259, 213, 213}, {50_000, 100, 5, 5}, {50_000, 1, 1, 0}, {1_330_000, 3, 4, 4}, {0, 9, 0, 0}} {
		if got := c.ratio.CeilOf(c.n); got != c.ceil {
			t.Errorf("%s of %d: up to %d, want %d", c.ratio, c.n, got, c.ceil)
		}
		if got := c.ratio.HalfUpOf(c.n); got != c.half {
			t.Errorf("%s of %d: nearest %d, want %d", c.ratio, c.n, got, c.half)
		}
	}
}
