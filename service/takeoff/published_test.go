package takeoff

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// The sheets in testdata/published are figures from outside, each with its source, that
// the engine has to come to. Their README says how to read and write one.

// entry of a sheet: one figure.
type figure struct {
	at       string // file and line
	quantity string
	inputs   string
	want     string
	met      string
	source   string
}

// leastFigures is how many there are at least: a sheet that is lost is missed.
const leastFigures = 200

// TestPublishedSheets works every figure out with the engine and compares it in the
// way that the sheet names. What is marked as different has to be different, and is
// counted apart.
func TestPublishedSheets(t *testing.T) {
	met, differs := 0, 0
	for _, f := range figures(t) {
		got, err := f.value()
		if err != nil {
			t.Errorf("%s: %s of %s: %v", f.at, f.quantity, f.inputs, err)
			continue
		}
		same, err := f.holds(got)
		switch {
		case err != nil:
			t.Errorf("%s: %v", f.at, err)
		case strings.HasPrefix(f.met, "differs:"):
			differs++
			if same {
				t.Errorf("%s: %s of %s is %s after all: it no longer differs", f.at, f.quantity, f.inputs, f.want)
			}
		case !same:
			t.Errorf("%s: %s of %s: %v, want %s %s (%s)", f.at, f.quantity, f.inputs, got, f.want, f.met, f.source)
		default:
			met++
		}
	}
	t.Logf("%d figures met, %d differ for the reason given", met, differs)
	if met < leastFigures {
		t.Errorf("%d figures are met, want at least %d", met, leastFigures)
	}
}

// figures reads all sheets, by name.
func figures(t *testing.T) (list []figure) {
	t.Helper()
	names, err := filepath.Glob(filepath.Join("..", "..", "testdata", "published", "*.txt"))
	if err != nil || len(names) == 0 {
		t.Fatal("no sheets:", err)
	}
	slices.Sort(names)
	for _, name := range names {
		text, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		source := ""
		for n, line := range slices.Collect(strings.Lines(string(text))) {
			at := fmt.Sprintf("%s:%d", filepath.Base(name), n+1)
			line = strings.TrimSpace(line)
			if line == "" || line[0] == '#' {
				continue
			}
			if s, ok := strings.CutPrefix(line, "source:"); ok {
				source = strings.TrimSpace(s)
				continue
			}
			columns := strings.Split(line, "|")
			if len(columns) < 4 || len(columns) > 5 {
				t.Fatalf("%s: %d columns, want quantity | inputs | want | how it is met, and a source of its own if it has one", at, len(columns))
			}
			for i := range columns {
				columns[i] = strings.TrimSpace(columns[i])
			}
			f := figure{at: at, quantity: columns[0], inputs: columns[1], want: columns[2], met: columns[3], source: source}
			if len(columns) == 5 {
				f.source = columns[4]
			}
			if f.source == "" {
				t.Fatalf("%s: no source", at)
			}
			list = append(list, f)
		}
	}
	return list
}

// slack is what sizes in whole micrometres may move a figure by: a brick 2 2/3 in high
// is 67.733 mm. Rounding does not turn on it.
const slack = 2e-5

// holds compares by the rule that the sheet names: nearest, up and down to the digits
// of the figure or to a step ("up 10"), within so many per cent, or exactly the same words.
func (f *figure) holds(got any) (bool, error) {
	if words, ok := got.(string); ok {
		return words == f.want, nil
	}
	value := got.(float64)
	want, err := strconv.ParseFloat(strings.ReplaceAll(f.want, ",", ""), 64)
	if err != nil {
		return false, fmt.Errorf("want %q is no number", f.want)
	}
	rule, rest, _ := strings.Cut(f.met, " ")
	step := math.Pow10(-digits(f.want))
	if rule != "within" && rule != "differs:" && rest != "" {
		if step, err = strconv.ParseFloat(rest, 64); err != nil {
			return false, fmt.Errorf("no step in %q", f.met)
		}
	}
	near := math.Abs(value) * slack
	switch rule {
	case "nearest", "differs:":
		// Half a step either way: a figure printed from just a half may be either.
		return math.Abs(value-want) <= step/2+near, nil
	case "up":
		return want >= value-near && want-step < value+near, nil
	case "down":
		return want <= value+near && want+step > value-near, nil
	case "within":
		part, err := strconv.ParseFloat(strings.TrimSuffix(rest, " %"), 64)
		return math.Abs(value-want) <= part/100*want, err
	}
	return false, fmt.Errorf("no way to meet a figure is called %q", rule)
}

// digits is how many decimals a figure is printed to.
func digits(s string) int {
	_, decimals, _ := strings.Cut(s, ".")
	return len(decimals)
}
