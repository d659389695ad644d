package coursing

import (
	"slices"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"hodman/service/measure"
)

func mm(t testing.TB, s string) measure.Length {
	t.Helper()
	n, err := measure.ParseFixed(s, 3, int64(measure.MaxLength))
	if err != nil {
		t.Fatal(err)
	}
	return measure.Length(n)
}

// Courses of 75 mm and the level that each tops out at: n x 75.
func TestGaugeTable(t *testing.T) {
	const table = "1 75; 2 150; 3 225; 4 300; 6 450; 7 525; 8 600; 12 900; 14 1050; 16 1200; 18 1350; 20 1500; 24 1800; 28 2100; 32 2400; 34 2550; 36 2700"
	for _, row := range strings.Split(table, "; ") {
		n, level, _ := strings.Cut(row, " ")
		full, closing, growth := Courses(mm(t, level), 65*measure.Millimetre, 10*measure.Millimetre)
		if strconv.Itoa(full) != n || closing != 0 || growth != 0 {
			t.Errorf("%s mm: %d courses, closing %s, growth %s; want %s and nothing over", level, full, closing, growth, n)
		}
	}
}

// Engine rule 1: over more than a bed is a closing course of r - bed; up to a bed goes into the beds.
const heights = `
# unit bed height   full closing growth
65  10 2400   32  0    0        # 32 x 75
65  10 2410   32  0    0.312    # 10 over, not more than the bed: 10000 um / 32 = 312.5, rounded down
65  10 2411   32  1    0        # 11 over: 11 - 10 = 1
65  10 2430   32  20   0        # 30 over: 30 - 10
65  10 2474   32  64   0        # 74 over: a unit less 1
65  10 0      0   0    0
65  10 10     0   0    0        # no course whose bed could grow
65  10 11     0   1    0
65  10 75     1   0    0
65  10 80     1   0    5        # one bed takes all 5
215 10 2400   10  140  0        # 2250 and 150 over: 150 - 10
215 10 2250   10  0    0        # 10 x 225
215 10 2255   10  0    0.5      # 5 / 10
215 10 5100   22  140  0        # 22 x 225 = 4950, 150 over
57.15 9.525 203.2 3 0  1.058    # 2 1/4 in on 3/8 in: 66.675 x 3 = 200.025, 3.175 over / 3 = 1.0583
`

func TestCourses(t *testing.T) {
	for line := range strings.Lines(heights) {
		line, _, _ = strings.Cut(line, "#")
		w := strings.Fields(line)
		if len(w) == 0 {
			continue
		}
		full, closing, growth := Courses(mm(t, w[2]), mm(t, w[0]), mm(t, w[1]))
		if strconv.Itoa(full) != w[3] || closing != mm(t, w[4]) || growth != mm(t, w[5]) {
			t.Errorf("%s: %d, %s, %s", strings.TrimSpace(line), full, closing, growth)
		}
	}
}

// Gauge to suit: bed = H/n - unit, from 8 to 12, nearest 10 first.
const suits = `
# unit height   courses@bed ...
65 2400   32@10                    # 31: 77.419 is bed 12.419, over 12; 33: 72.727 is 7.727, under 8
65 2430   32@10.937 33@8.636       # 75.9375, off 0.94; 73.6364, off 1.36; 31: 78.387 is over
65 2700   36@10                    # 37: 72.973 is 7.973, under 8; 35: 77.143 is over
65 3000   40@10 41@8.17 39@11.923  # 73.1707, off 1.829; 76.923, off 1.923
215 2400                           # 10: 240 is 25; 11: 218.18 is 3.18
215 2250  10@10
215 2255  10@10.5
65 73     1@8                      # the least, included
65 77     1@12                     # the most, included
65 72.999
65 77.001
65 0
`

func TestSuit(t *testing.T) {
	for line := range strings.Lines(suits) {
		line, _, _ = strings.Cut(line, "#")
		w := strings.Fields(line)
		if len(w) == 0 {
			continue
		}
		var got []string
		for _, o := range Suit(mm(t, w[1]), mm(t, w[0]), 10*measure.Millimetre, 8*measure.Millimetre, 12*measure.Millimetre) {
			got = append(got, strconv.Itoa(o.Courses)+"@"+o.Bed.String())
		}
		if !slices.Equal(got, w[2:]) {
			t.Errorf("%s: offered %q", strings.TrimSpace(line), got)
		}
	}
}

// Every number of courses there is, sorted by how near the bed comes, is what is offered.
func TestSuitIsComplete(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		height := measure.Length(rapid.IntRange(0, 3_000_000).Draw(t, "height"))
		unit := measure.Length(rapid.IntRange(20_000, 250_000).Draw(t, "unit"))
		bed := measure.Length(rapid.IntRange(3_000, 30_000).Draw(t, "bed"))
		least := measure.Length(rapid.IntRange(3_000, 30_000).Draw(t, "least"))
		most := least + measure.Length(rapid.IntRange(0, 8_000).Draw(t, "range"))
		offers := Suit(height, unit, bed, least, most)
		count := 0
		for n := measure.Length(1); n*unit <= height; n++ {
			if n*(unit+least) <= height && height <= n*(unit+most) {
				count++
			}
		}
		if len(offers) != min(count, MaxOffers) {
			t.Fatalf("%d offers, want %d", len(offers), count)
		}
		for i, o := range offers {
			n := measure.Length(o.Courses)
			if o.Gauge != unit+o.Bed || o.Gauge*n > height || (o.Gauge+1)*n <= height || o.Rounded != (o.Gauge*n != height) || n*(unit+least) > height || n*(unit+most) < height {
				t.Fatalf("%+v does not meet %s", o, height)
			}
			if i > 0 && nearer(height, unit+bed, int64(n), int64(offers[i-1].Courses)) {
				t.Fatalf("%+v is nearer than the one before it, %+v", o, offers[i-1])
			}
		}
	})
}

func TestCoursesAddUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		height := measure.Length(rapid.IntRange(0, 100_000_000).Draw(t, "height"))
		unit := measure.Length(rapid.IntRange(20_000, 1_000_000).Draw(t, "unit"))
		bed := measure.Length(rapid.IntRange(0, 30_000).Draw(t, "bed"))
		full, closing, growth := Courses(height, unit, bed)
		over := height - measure.Length(full)*(unit+bed)
		switch {
		case over < 0 || over >= unit+bed:
			t.Fatalf("%d courses leave %s", full, over)
		case closing > 0 && (growth != 0 || closing+bed != over || closing >= unit):
			t.Fatalf("closing %s, growth %s, over %s", closing, growth, over)
		case closing == 0 && over > bed:
			t.Fatalf("%s over a bed of %s is lost", over, bed)
		case full > 0 && closing == 0 && (growth*measure.Length(full) > over || (growth+1)*measure.Length(full) <= over):
			t.Fatalf("%d beds grow by %s for %s", full, growth, over)
		}
	})
}

func TestPanics(t *testing.T) {
	for name, call := range map[string]func(){
		"height under 0": func() { Courses(-1, 65, 10) },
		"no unit":        func() { Courses(1, 0, 10) },
		"bed under 0":    func() { Courses(1, 65, -1) },
		"suit":           func() { Suit(-1, 65, 10, 8, 12) },
	} {
		func() {
			defer func() {
				if recover() == nil {
					t.Errorf("%s: no panic", name)
				}
			}()
			call()
		}()
	}
}
