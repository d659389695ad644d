package coursing

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"hodman/service/measure"
	"hodman/service/rulebook"
)

// Rule 1 on several levels. F is fixed, L is not. A stack is courses@bed, +odd course,
// ^where it ends; what is missed follows. Beds from 8 to 12, 10 wanted: a brick takes 73 to 77,
// a block 223 to 227. A cut unit is 25 high or more, and 4 less than the unit at most.
const setOuts = `
65  F900 F2100    12@10^900 16@10^2100          # 12 x 75 and 16 x 75
65  F2430         32@10.937^2430                # 32 is 30 off, 33 is 45 off: 30 / 32 = 0.9375
65  F2460         33@9.545^2460                 # 32 is 60 off on beds of 11.875, 33 is 15 off: 15 / 33 = 0.4545
65  L1200 F2430   16@10^1200 16@11.875^2430     # 1230: 30 / 16 = 1.875; 45 with 17
65  F2400 F2440   32@10^2400 0@10+30^2440       # 40 = 10 + 30
65  F2400 L2440   32@10^2400 1@10^2475 L2440:35 # no odd course for what is not fixed; 40 is over half of 75
65  F2400 F2430   32@10^2400 F2430:30           # 30 is under 8 + 25; meeting 2400 alone leaves the beds at 10
65  L900 F905     12@10.416^905 L900:5          # 5 apart: the fixed one; 5 / 12 = 0.41667
65  F80 F900      12@10^900 F80:5               # 80 is over 77 and under 73 + 33
65  F80           1@10^75 F80:5                 # nothing is met; runs on to the nearest course
65  F30                                    F30:30 # under half of 75: no course
215 F2100         9@10+65^2100                  # 9 x 227 = 2043, 10 x 223 = 2230; 2100 - 2025 = 75, 65 high
215 L1000 F2100   9@10+65^2100 L1000:100        # 1000: 4 x 227 = 908, 5 x 223 = 1115; one odd course, not two
215 F1000 F2100   4@10+90^1000 4@10+190^2100    # 1000 - 900 = 100; 1100 - 900 = 200
215 F2280         10@9.545+25.005^2280          # 9: 335 for 10 beds and 211 at most is 12.4; 10: (130 - 25) / 11 = 9.5454
215 F2255         10@10.5^2255                  # 5 / 10
65  F0 F75        1@10^75                       # the base itself is met
`

func TestSetOut(t *testing.T) {
	for line := range strings.Lines(setOuts) {
		line, _, _ = strings.Cut(line, "#")
		w := strings.Fields(line)
		if len(w) == 0 {
			continue
		}
		var levels, want, got []string
		for i, s := range w[1:] {
			if strings.ContainsAny(s, "@:") || s[0] != 'F' && s[0] != 'L' {
				want = append(want, s)
				continue
			}
			levels = append(levels, fmt.Sprintf(`{"name":"%d","level_mm":%s,"kind":"other","fixed":%v}`, i, s[1:], s[0] == 'F'))
		}
		a := answer(t, `{"rulebook":"gb","unit_height_mm":`+w[0]+`,"levels":[`+strings.Join(levels, ",")+`]}`)
		for _, s := range a.SetOut[0].Stacks {
			odd := ""
			if s.Odd > 0 {
				odd = "+" + s.Odd.String()
			}
			got = append(got, strconv.Itoa(s.Courses)+"@"+s.Bed.String()+odd+"^"+s.To.String())
		}
		for _, m := range a.SetOut[0].Missed {
			got = append(got, map[bool]string{true: "F", false: "L"}[m.Fixed]+m.Level.String()+":"+m.Off.String())
		}
		if diff := cmp.Diff(want, got); diff != "" {
			t.Errorf("%s:\n%s", strings.TrimSpace(line), diff)
		}
	}
}

// A sill, a head and a plate are fixed and the others are not, unless it is said.
func TestFixed(t *testing.T) {
	yes, no := true, false
	for kind, want := range map[string]bool{"dpc": false, "sill": true, "head": true, "plate": true, "floor": false, "other": false} {
		for said, want := range map[*bool]bool{nil: want, &yes: true, &no: false} {
			if l := (Level{Kind: kind, Fixed: said}); l.fixed() != want {
				t.Errorf("%s: fixed %v", kind, l.fixed())
			}
		}
	}
}

// The plate that is missed is told by its top: masonry to 80 is a plate at 165; the
// nearest course, 75, puts it at 160.
func TestPlateMissed(t *testing.T) {
	a := answer(t, `{"rulebook":"gb","unit_height_mm":65,"levels":[{"name":"P","level_mm":165,"kind":"plate"}]}`)
	want := []Missed{{"P", true, mm(t, "165"), mm(t, "160"), mm(t, "5")}}
	if diff := cmp.Diff(want, a.SetOut[0].Missed); diff != "" {
		t.Error(diff)
	}
	for _, f := range a.Findings {
		if f.Code == "course.level_missed" && f.At == "/levels/0/level_mm" && strings.Contains(f.Text, "comes to 160 mm, 5 mm off") {
			return
		}
	}
	t.Errorf("not told: %+v", a.Findings)
}

// every tries every choice of levels to stop at, and in every stack every number of
// courses and every bed.
func every(r *rod, marks []mark) cost {
	best := cost{1 << 40}
	for chosen := range 1 << (len(marks) - 1) {
		var c cost
		at, ok := measure.Length(0), true
		for i, m := range marks[1:] {
			if chosen>>i&1 == 0 {
				c = c.plus(m.missed())
				continue
			}
			s, can := everyStack(r, m.height-at)
			c, at, ok = c.plus(s), m.height, ok && can
		}
		if ok && c.under(best) {
			best = c
		}
	}
	return best
}

func everyStack(r *rod, height measure.Length) (best cost, found bool) {
	take := func(c cost) {
		if !found || c.under(best) {
			best, found = c, true
		}
	}
	for n := measure.Length(0); n*r.unit <= height; n++ {
		if n > 0 && n*(r.unit+r.least) <= height && height <= n*(r.unit+r.most) {
			d := height - n*(r.unit+r.bed)
			take(cost{3: int64(max(d, -d))})
		}
		for bed := r.least; bed <= r.most; bed++ {
			if odd := height - n*r.unit - (n+1)*bed; r.oddLeast <= odd && odd <= r.oddMost {
				take(cost{1: 1, 3: int64((n + 1) * max(bed-r.bed, r.bed-bed))})
			}
		}
	}
	return best, found
}

// Nothing that could be built costs less, in small walls of few levels.
func TestSetOutIsBest(t *testing.T) { rapid.Check(t, setOutIsBest) }

// FuzzSetOut is the same, led by coverage.
func FuzzSetOut(f *testing.F) { f.Fuzz(rapid.MakeFuzz(setOutIsBest)) }

func setOutIsBest(t *rapid.T) {
	length := func(name string, least, most int) measure.Length {
		return measure.Length(rapid.IntRange(least, most).Draw(t, name))
	}
	r := &rod{unit: length("unit", 100, 600), least: length("least", 20, 60), oddLeast: length("odd", 20, 50)}
	r.most = r.least + length("range", 0, 80)
	r.bed = length("bed", int(r.least), int(r.most))
	r.oddMost = r.unit - length("kerf", 1, 20)
	marks := []mark{{}}
	for range rapid.IntRange(1, 5).Draw(t, "levels") {
		fixed := int64(rapid.IntRange(0, 2).Draw(t, "fixed"))
		marks = append(marks, mark{marks[len(marks)-1].height + length("height", 1, 1500), fixed, max(0, 1-fixed)})
	}
	_, got := r.setOut(marks)
	if want := every(r, marks); got != want {
		t.Fatalf("%v; %v is the best of all", got, want)
	}
}

// Stacks stand on each other from the base, hold what they say, and end at every fixed
// level, or a finding gives the course nearest to it and by how much.
func TestEveryFixedLevel(t *testing.T) { rapid.Check(t, everyFixedLevel) }

// FuzzCoursing is the same, led by coverage.
func FuzzCoursing(f *testing.F) { f.Fuzz(rapid.MakeFuzz(everyFixedLevel)) }

func everyFixedLevel(t *rapid.T) {
	unit := measure.Length(rapid.IntRange(50_000, 250_000).Draw(t, "unit"))
	second := measure.Length(rapid.IntRange(50_000, 250_000).Draw(t, "second"))
	r := &Request{Rulebook: "gb", UnitHeight: &unit, SecondLeaf: &SecondLeaf{UnitHeight: &second}, Base: measure.Length(rapid.IntRange(-500, 500).Draw(t, "base")) * 500}
	for i := range rapid.IntRange(1, 6).Draw(t, "levels") {
		at := r.Base + measure.Length(rapid.IntRange(85, 8000).Draw(t, "level"))*measure.Millimetre
		r.Levels = append(r.Levels, Level{Name: strconv.Itoa(i), Level: &at, Kind: rapid.SampledFrom(kinds).Draw(t, "kind")})
	}
	if faults := r.Check(); len(faults) > 0 {
		t.Fatal(faults)
	}
	a := Answer(r, rulebook.GB())
	told := map[string]bool{}
	for _, f := range a.Findings {
		told[f.Code+f.At+strings.Fields(f.Text)[0]] = true
	}
	for i, s := range a.SetOut {
		stands(t, r.Base, []measure.Length{unit, second}[i], s.Stacks)
		for j, m := range a.Levels {
			at := r.Base + m.Height
			if at == r.Base || slices.ContainsFunc(s.Stacks, func(k Stack) bool { return k.To == at }) {
				continue
			}
			k := slices.IndexFunc(s.Missed, func(x Missed) bool { return x.Name == m.Name })
			if k < 0 || s.Missed[k].Off == 0 || r.Levels[j].fixed() && !told["course.level_missed/levels/"+strconv.Itoa(j)+"/level_mm"+s.Leaf] {
				t.Fatalf("%s leaf: %s is not met and it is not told", s.Leaf, m.Level)
			}
		}
	}
}

func stands(t *rapid.T, at, unit measure.Length, stacks []Stack) {
	const least, most = 8 * measure.Millimetre, 12 * measure.Millimetre
	for _, s := range stacks {
		units, beds := measure.Length(s.Courses)*unit+s.Odd, measure.Length(s.Courses)
		if s.Odd > 0 {
			beds++
		}
		over := s.To - s.From - units - beds*s.Bed
		if s.From != at || s.Bed < least || s.Bed > most || over < 0 || over >= beds || (over > 0) != s.Rounded || s.Odd > 0 && (s.Odd < 25*measure.Millimetre || s.Odd >= unit) {
			t.Fatalf("%+v on %s", s, at)
		}
		at = s.To
	}
}
