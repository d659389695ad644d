package takeoff

import (
	"strings"
	"testing"

	"pgregory.net/rapid"

	"hodman/service/measure"
	"hodman/service/product"
	"hodman/service/rulebook"
	"hodman/service/schedule"
)

// setOut takes a wall of one leaf off, set out as asked.
func setOut(t interface{ Fatal(...any) }, how string, leaf schedule.Leaf, walls ...schedule.Wall) *Takeoff {
	s := &schedule.Schedule{Reference: "set out", Rulebook: "gb", SettingOut: how, Walls: walls, WallTypes: []schedule.WallType{{Key: "T", Single: &leaf}}}
	if faults := s.Check(product.Demo()); len(faults) > 0 {
		t.Fatal(faults)
	}
	return Compute(s, product.Demo(), rulebook.GB())
}

// TestNudgeOfAnOpening: brickwork sizes by hand. 3590 mm is 16 bricks (16 x 225 - 10). An opening of
// 4 bricks and a joint, 910, from 5 bricks along, 1115, leaves a pier of 7 bricks, 1565: halves
// only. At 1125 it is 10 off, and the nudge is to move it back. It cuts at least one brick in
// each odd course of the six beside it more than it need.
func TestNudgeOfAnOpening(t *testing.T) {
	w := free(3590*ms, 900*ms)
	w.Openings = []schedule.Opening{{Ref: "O", Left: 1125 * ms, Width: 910 * ms, Height: 900 * ms, Head: schedule.Head{Kind: "none"}}}
	out := setOut(t, "as_given", schedule.Leaf{Product: "BRK-65-FACE"}, w)
	var found *Nudge
	for i := range out.Walls[0].SettingOut.Nudges {
		if n := &out.Walls[0].SettingOut.Nudges[i]; n.At == "/walls/0/openings/0/left_mm" {
			found = n
		}
	}
	if found == nil || found.By != -10*ms || len(found.With) > 0 || found.Saves < 6 {
		t.Fatalf("%+v", out.Walls[0].SettingOut)
	}
	if !strings.HasPrefix(found.Text, "O at 1115 instead of 1125 mm along would leave ") {
		t.Error(found.Text)
	}
	w.Openings[0].Left = 1115 * ms
	if again := setOut(t, "as_given", schedule.Leaf{Product: "BRK-65-FACE"}, w).Walls[0].SettingOut; len(again.Nudges) > 0 || again.AsGiven != again.Best {
		t.Errorf("a wall that works to brick: %+v", again)
	}
}

// TestBestIsTold: a schedule that is counted otherwise than as given says so, wall by wall.
func TestBestIsTold(t *testing.T) {
	s := rearWing(t)
	for _, how := range []string{"", "as_given", "best"} {
		s.SettingOut = how
		out := Compute(s, product.Demo(), rulebook.GB())
		told, changed := 0, 0
		for _, f := range out.Findings {
			if f.Code == "setting_out.best" {
				told++
			}
		}
		for _, w := range out.Walls {
			for _, l := range w.Leaves {
				if how == "best" && len(l.SettingOut.Ways) > 0 {
					changed++
				}
			}
		}
		if told != changed || how == "best" && changed == 0 {
			t.Errorf("%q: %d leaves are set out otherwise, %d told", how, changed, told)
		}
		sound(t, out)
		for _, id := range setOutRules {
			if rulebook.GB().Rule(id) == nil {
				t.Errorf("no rule %s", id)
			}
		}
	}
}

// TestNothingNudgedUnderAnArch: what stands over an opening would have to move with it, so that
// nothing is told, and why is.
func TestNothingNudgedUnderAnArch(t *testing.T) {
	w := free(4000*ms, 2400*ms)
	w.Openings = []schedule.Opening{{Ref: "O", Left: 1125 * ms, Sill: 450 * ms, Width: 910 * ms, Height: 1200 * ms, Head: schedule.Head{Soldier: true}}}
	out := setOut(t, "as_given", schedule.Leaf{Product: "BRK-65-FACE"}, w)
	told := false
	for _, f := range out.Findings {
		told = told || f.Code == "setting_out.not_nudged" && f.At == "/walls/0"
	}
	if !told || len(out.Walls[0].SettingOut.Nudges) > 0 {
		t.Errorf("told: %t, nudges %+v", told, out.Walls[0].SettingOut.Nudges)
	}
}

// TestNudgesSave: a wall nudged as one of its nudges says has as many fewer cuts, laid as
// given; the best is never worse than as given, and what is set out at its best is counted so.
func TestNudgesSave(t *testing.T) {
	mm := func(t *rapid.T, name string, least, most int) measure.Length {
		return measure.Length(rapid.IntRange(least, most).Draw(t, name)) * ms
	}
	rapid.Check(t, func(t *rapid.T) {
		w := free(mm(t, "length", 2000, 6000), mm(t, "height", 300, 1500))
		if rapid.Bool().Draw(t, "opening") {
			w.Openings = []schedule.Opening{{Ref: "O", Left: mm(t, "left", 0, 900), Sill: mm(t, "sill", 0, 200), Width: mm(t, "width", 100, 1000), Height: 100 * ms, Head: schedule.Head{Kind: "none"}}}
		}
		leaf := schedule.Leaf{Product: rapid.SampledFrom([]string{"BRK-65-FACE", "BLK-100-D"}).Draw(t, "product")}
		given, best := setOut(t, "as_given", leaf, w), setOut(t, "best", leaf, w)
		so := given.Walls[0].SettingOut
		if so.Best.Cuts > so.AsGiven.Cuts {
			t.Fatalf("best is worse: %+v", so)
		}
		if got := cutPieces(best); got != so.Best.Cuts {
			t.Fatalf("set out at its best: %d cut, want %d", got, so.Best.Cuts)
		}
		if got := cutPieces(given); got != so.AsGiven.Cuts {
			t.Fatalf("set out as given: %d cut, want %d", got, so.AsGiven.Cuts)
		}
		for _, n := range so.Nudges {
			moved := w
			moved.Openings = append([]schedule.Opening(nil), w.Openings...)
			for _, c := range append([]Change{{n.At, n.By}}, n.With...) {
				switch {
				case strings.HasSuffix(c.At, "/length_mm"):
					moved.Length += c.By
				case strings.HasSuffix(c.At, "/left_mm"):
					moved.Openings[0].Left += c.By
				case strings.HasSuffix(c.At, "/width_mm"):
					moved.Openings[0].Width += c.By
				default:
					t.Fatalf("at %s", c.At)
				}
			}
			after := setOut(t, "as_given", leaf, moved).Walls[0].SettingOut
			if n.Saves < 1 || after.AsGiven.Cuts != so.AsGiven.Cuts-n.Saves {
				t.Fatalf("%+v: %d cuts, before %d", n, after.AsGiven.Cuts, so.AsGiven.Cuts)
			}
		}
	})
}

func cutPieces(out *Takeoff) int {
	n := 0
	for _, l := range out.Lines {
		n += l.CutPieces
	}
	return n
}

// BenchmarkSettingOut sets the rear wing out in every way.
func BenchmarkSettingOut(b *testing.B) {
	s := rearWing(b)
	s.SettingOut = "best"
	b.ReportAllocs()
	for b.Loop() {
		Compute(s, product.Demo(), rulebook.GB())
	}
}
