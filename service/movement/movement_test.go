package movement

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"hodman/service/measure"
)

const mm = measure.Millimetre

// Joints of a straight wall between two returns by the convention 0 if L <= s, else
// up(L / s), so that end panels are half a spacing at most: the table of lengths in metres for clay at
// 12 m, calcium silicate at 9 m and concrete at 6 m (spacings: NHBC Good Craftsmanship Guide, Brickwork
// and blockwork, 2002; the count is a convention).
const counts = `
6  0 0 0
9  0 0 2
12 0 2 2
13 2 2 3
18 2 2 3
24 2 3 4
25 3 3 5
`

func TestLeastBetweenReturns(t *testing.T) {
	for line := range strings.Lines(strings.TrimSpace(counts)) {
		var length, clay, silicate, concrete int64
		if _, err := fmt.Sscan(line, &length, &clay, &silicate, &concrete); err != nil {
			t.Fatal(err)
		}
		for spacing, want := range map[int64]int64{12: clay, 9: silicate, 6: concrete} {
			r := Run{To: measure.Length(length) * 1000 * mm, HeldLeft: true, HeldRight: true, Spacing: measure.Length(spacing) * 1000 * mm}
			if got := r.Least(); int64(got) != want {
				t.Errorf("%d m at %d m: %d joints, want %d", length, spacing, got, want)
			}
		}
	}
}

// The strict reading: a clay wall of 9 or 12 m between two returns already takes one joint, one of 6 m none.
func TestStrict(t *testing.T) {
	for length, want := range map[measure.Length]int{6: 0, 9: 1, 12: 1, 13: 2} {
		r := Run{To: length * 1000 * mm, HeldLeft: true, HeldRight: true, Spacing: 12_000 * mm, Strict: true}
		if got := r.Least(); got != want {
			t.Errorf("%d m: %d joints, want %d", length, got, want)
		}
	}
}

// Worked by hand, bricks of 215 on 10: places are 112.5 k - 10.
func TestPlace(t *testing.T) {
	brick := Run{HeldLeft: true, HeldRight: true, Spacing: 12_000 * mm, Width: 16 * mm, Step: 112_500, Perpend: 10 * mm, Clear: 225 * mm}
	for _, c := range []struct {
		length   measure.Length
		free     bool // the right end
		openings []Reach
		want     []measure.Length // in micrometres
	}{
		{length: 12_000 * mm},
		// Half, whole, half of 16 m: 4000, 8000. 36 x 112.5 - 10 = 4040, 35: 3927.5; 4040 is nearer. Of what is
		// left, 11960, two parts of three are 7973: 12013; 107 x 112.5 - 10 = 12027.5.
		{length: 16_000 * mm, want: []measure.Length{4040 * mm, 12_027_500}},
		// A free right end takes a whole spacing: a third of 16 m is 5333; 47 x 112.5 - 10 = 5277.5, 48: 5390; the lower by 0.83.
		{length: 16_000 * mm, free: true, want: []measure.Length{5_277_500}},
		// An opening from 3500 to 5500 is in the way of 4040: free up to 3500 - 225 - 16 = 3259, 29 x 112.5 - 10 = 3252.5, or from
		// 5725 on, 51 x 112.5 - 10 = 5727.5: 747.5 and 1727.5 off. Of 12747.5 left two parts of three are 8498: 11751; 105 x 112.5 - 10 = 11802.5.
		{length: 16_000 * mm, openings: []Reach{{3500 * mm, 5500 * mm}}, want: []measure.Length{3_252_500, 11_802_500}},
	} {
		r := brick
		r.To, r.HeldRight, r.Openings = c.length, !c.free, c.openings
		got, ok := Place(r)
		if !ok || !slices.Equal(got, c.want) {
			t.Errorf("%v: %v %v, want %v", c.length, got, ok, c.want)
		}
	}
	r := brick
	r.To, r.Openings = 16_000*mm, []Reach{{0, 15_000 * mm}}
	if at, ok := Place(r); ok {
		t.Errorf("placed %v in an opening", at)
	}
}

// TestPlacesHold: whatever the openings, no panel is too long, every joint is on the bond
// and clear of openings; and one fewer could not do.
func TestPlacesHold(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := Run{HeldLeft: rapid.Bool().Draw(t, "left"), HeldRight: rapid.Bool().Draw(t, "right"), Width: 16 * mm,
			Spacing: measure.Length(rapid.IntRange(3, 15).Draw(t, "spacing")) * 1000 * mm, Step: 112_500, Perpend: 10 * mm, Clear: 225 * mm,
			To: measure.Length(rapid.IntRange(1000, 60_000).Draw(t, "length")) * mm}
		for at := measure.Length(rapid.IntRange(500, 9000).Draw(t, "first")) * mm; at < r.To-3000*mm; at += measure.Length(rapid.IntRange(3000, 9000).Draw(t, "next")) * mm {
			r.Openings = append(r.Openings, Reach{at, at + measure.Length(rapid.IntRange(600, 2500).Draw(t, "wide"))*mm})
		}
		at, ok := Place(r)
		if !ok {
			return
		}
		if len(at) < r.Least() {
			t.Fatalf("%d joints, at least %d", len(at), r.Least())
		}
		before := r.From
		for i, x := range append(slices.Clone(at), r.To) {
			most := r.Spacing
			if i == 0 && len(at) > 0 {
				most = r.most(r.HeldLeft)
			} else if i == len(at) && len(at) > 0 {
				most = r.most(r.HeldRight)
			}
			if x-before > most || x <= before {
				t.Fatalf("panel %d from %v to %v, at most %v: %v", i, before, x, most, at)
			}
			before = x
		}
		for _, x := range at {
			if (x+r.Perpend)%r.Step != 0 {
				t.Fatalf("%v is not on the bond", x)
			}
			if free, _, _ := r.free(x); !free {
				t.Fatalf("%v is in the way of an opening", x)
			}
		}
		if r.Longest(at) != 0 {
			t.Fatalf("a panel of %v is too long: %v", r.Longest(at), at)
		}
	})
}
