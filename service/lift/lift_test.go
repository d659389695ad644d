package lift

import (
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"hodman/service/measure"
	"hodman/service/schedule"
)

func mm(n int64) measure.Length { return measure.Length(n) * measure.Millimetre }

func mms(ns ...int64) []measure.Length {
	out := make([]measure.Length, len(ns))
	for i, n := range ns {
		out[i] = mm(n)
	}
	return out
}

func walls(heights ...int64) *schedule.Schedule {
	s := &schedule.Schedule{}
	for _, h := range heights {
		s.Walls = append(s.Walls, schedule.Wall{Length: mm(3000), Height: mm(h)})
	}
	return s
}

// TestLevels: common practice, 1350 mm a lift = 18 brick or 6 block courses; what
// the schedule gives rules, and lifts are added where it stops short.
func TestLevels(t *testing.T) {
	height := mm(1500)
	for _, c := range []struct {
		name  string
		lifts *schedule.Lifts
		base  int64
		want  []measure.Length
		given int
	}{
		{"rulebook's height, last one to the top", nil, 0, mms(1350, 2700, 4050, 5100), 0},
		{"from a base below the datum", nil, -150, mms(1200, 2550, 3900, 4950), 0},
		{"one height repeated", &schedule.Lifts{Height: &height}, 0, mms(1500, 3000, 4500, 5100), 0},
		{"tops given", &schedule.Lifts{Tops: mms(1350, 2700, 5100)}, 0, mms(1350, 2700, 5100), 3},
		{"tops given past the top", &schedule.Lifts{Tops: mms(3000, 6000)}, 0, mms(3000, 6000), 2},
		{"tops short of the top", &schedule.Lifts{Tops: mms(1350, 2700)}, 0, mms(1350, 2700, 4050, 5100), 2},
	} {
		s := walls(5100, 2400)
		s.Lifts = c.lifts
		for i := range s.Walls {
			s.Walls[i].Base = mm(c.base)
		}
		got := LevelsOf(s, mm(1350))
		if diff := cmp.Diff(c.want, got.Tops); diff != "" || got.Given != c.given || got.Foot != mm(c.base) {
			t.Errorf("%s: given %d foot %s\n%s", c.name, got.Given, got.Foot, diff)
		}
	}
}

// TestAt: a level belongs to the lift whose top is not below it.
func TestAt(t *testing.T) {
	l := Levels{Tops: mms(1350, 2700)}
	for z, want := range map[int64]int{0: 0, 1350: 0, 1351: 1, 2700: 1, 9999: 1} {
		if got := l.At(mm(z)); got != want {
			t.Errorf("%d mm: lift %d, want %d", z, got, want)
		}
	}
}

func TestOverlap(t *testing.T) {
	l := Levels{Tops: mms(1350, 2700, 4050)}
	for _, c := range []struct {
		from, to int64
		want     []int64
	}{
		{0, 2100, []int64{1350, 750, 0}},
		{1350, 2700, []int64{0, 1350, 0}},
		{2600, 5000, []int64{0, 100, 2300}}, // what stands over the last top is the last lift's
		{2100, 2100, []int64{0, 1, 0}},
	} {
		got := l.Overlap(mm(c.from), mm(c.to))
		for i := range got {
			if got[i] > 1 {
				got[i] /= int64(measure.Millimetre)
			}
		}
		if diff := cmp.Diff(c.want, got); diff != "" {
			t.Errorf("%d to %d:\n%s", c.from, c.to, diff)
		}
	}
}

// TestShareAddsUp: parts add up, none is more than one off its exact share, and
// nothing goes where there is no weight.
func TestShareAddsUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		total := rapid.Int64Range(0, 1e12).Draw(t, "total")
		weights := rapid.SliceOfN(rapid.Int64Range(0, 1e9), 1, 12).Draw(t, "weights")
		sum := int64(0)
		for _, w := range weights {
			sum += w
		}
		got := int64(0)
		for i, part := range Share(total, weights) {
			got += part
			if sum == 0 {
				continue
			}
			if exact := float64(total) * float64(weights[i]) / float64(sum); float64(part) < exact-1.01 || float64(part) > exact+1.01 {
				t.Fatalf("part %d is %d, exactly %f", i, part, exact)
			}
		}
		if got != total {
			t.Fatalf("parts add up to %d, not %d", got, total)
		}
	})
}

// TestShareByHand: 10 among 1:1:1 is 4, 3, 3, the lowest first where remainders are equal.
func TestShareByHand(t *testing.T) {
	if diff := cmp.Diff([]int64{4, 3, 3}, Share(10, []int64{1, 1, 1})); diff != "" {
		t.Error(diff)
	}
}
