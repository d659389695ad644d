package ancillary

import (
	"fmt"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"hodman/service/finding"
	"hodman/service/measure"
	"hodman/service/product"
	"hodman/service/rulebook"
	"hodman/service/schedule"
)

// cavityWall is a wall of bricks, 100 mm cavity and dense blocks, its lintels as given.
func cavityWall(s schedule.Wall, net measure.Area, lintels ...measure.Length) Wall {
	demo := product.Demo()
	return Wall{
		Ref: "A", At: "/walls/0", Wall: &s, Net: net, Lintels: lintels, Run: s.Length,
		Outer: demo.Find("BRK-65-FACE"), Inner: demo.Find("BLK-100-D"), Cavity: &schedule.Cavity{Width: 100 * mm},
	}
}

func singleWall(s schedule.Wall, lintels ...measure.Length) Wall {
	return Wall{Ref: "S", At: "/walls/0", Wall: &s, Lintels: lintels, Run: s.Length, Outer: product.Demo().Find("BLK-140-D")}
}

func window(left, sill, width, height measure.Length) schedule.Opening {
	return schedule.Opening{Ref: "W", Left: left * mm, Sill: sill * mm, Width: width * mm, Height: height * mm}
}

func free(length, height measure.Length, openings ...schedule.Opening) schedule.Wall {
	return schedule.Wall{Length: length * mm, Height: height * mm, Left: schedule.StopEnd, Right: schedule.StopEnd, Openings: openings}
}

func squareMetresOf(thousandths measure.Area) measure.Area {
	return thousandths * measure.SquareMetre / 1000
}

// rows prints the needs, one a line, as the cases below write them.
func rows(needs []Need) string {
	var b strings.Builder
	for _, n := range needs {
		fmt.Fprintf(&b, "%s %s %s %s %s %s-%s\n", n.Part, n.Product.Code, n.Net, n.With, n.Unit, n.From, n.To)
	}
	return b.String()
}

// checkCount counts and compares, one line a need: part, product, net, with, unit, levels.
func checkCount(t *testing.T, want string, walls ...Wall) []finding.Finding {
	t.Helper()
	needs, _, findings := Count(walls, schedule.Allowances{}, product.Demo(), rulebook.GB())
	if diff := cmp.Diff(strings.TrimLeft(want, "\n"), rows(needs)); diff != "" {
		t.Errorf("counted otherwise (-want +got):\n%s", diff)
	}
	for _, n := range needs {
		if n.Sum == "" || n.Wall == "" {
			t.Errorf("%s has no sum or wall: %+v", n.Part, n)
		}
		checkRules(t, n.Part, n.Rules...)
	}
	for _, f := range findings {
		checkRules(t, f.Code, f.Rule)
		if f.At == "" || f.Text == "" || f.Remedy == "" {
			t.Errorf("%s does not say where, what and what to do: %+v", f.Code, f)
		}
	}
	return findings
}

func checkRules(t *testing.T, of string, ids ...string) {
	t.Helper()
	if len(ids) == 0 {
		t.Errorf("%s names no rule", of)
	}
	for _, id := range ids {
		if rulebook.GB().Rule(id) == nil {
			t.Errorf("%s: no rule %q", of, id)
		}
	}
}

func codes(findings []finding.Finding) string {
	var all []string
	for _, f := range findings {
		all = append(all, string(f.Severity)+" "+f.Code+" "+f.At)
	}
	return strings.Join(all, "\n")
}

// By hand, a wall 10.0 x 5.4 m with one opening 1.8 x 1.2: net 51.84 m2, at the published
// 2.5 a m2 (NHBC Standards 2020, 6.1.18): 2.5 x 51.84 = 129.6, up to 130; jambs
// 2 x up(1200/300) = 8; 138 in all. And the whole opening: lintel 2100, tray 2400, 2 stop ends, weeps max(2, up(1800/900) + 1)
// = 3, tie 225, jamb DPC 2 x (1.2 + 0.2) = 2.8 m, closer 2 x 1.2 + 1.8 = 4.2 m: 1.2 + 1.2
// out of one length of 2.4 m, 1.8 out of another, 4.8 m in all.
// Ties: 138 x 0.05 = 6.9, up to 7 on top: 130 x 0.05 = 6.5, up to 7 with the field, no
// more with the jambs. DPC: 2.8 x 0.05 = 0.14.
func TestWholeOpening(t *testing.T) {
	w := cavityWall(free(10_000, 5400, window(4000, 900, 1800, 1200)), squareMetresOf(51_840), 2100*mm)
	w.Wall.Base = 150 * mm
	findings := checkCount(t, `
field TIE-225 130 137 each 150-5550
jamb TIE-225 8 8 each 1050-2250
tray TRAY-450-10 2.4 2.4 m 2250-2250
stop_end STOP-END 2 2 each 2250-2250
weep WEEP 3 3 each 2250-2250
jamb_dpc DPC-150-30 2.8 2.94 m 1050-2250
closer CLOSER-100 4.2 4.8 m 1050-2250
`, w)
	if len(findings) > 0 {
		t.Errorf("findings: %v", findings)
	}
}

func TestSums(t *testing.T) {
	w := cavityWall(free(10_000, 5400, window(4000, 900, 1800, 1200)), squareMetresOf(51_840), 2100*mm)
	needs, _, _ := Count([]Wall{w}, schedule.Allowances{}, product.Demo(), rulebook.GB())
	var sums []string
	for _, n := range needs {
		sums = append(sums, n.Sum)
	}
	want := []string{
		"2.5 x 51.84 m2 = 129.6, up to 130; 0.05 on top, taken over the job",
		"W: 1200 / 300, up to 4 a jamb x 2; 0.05 on top, taken over the job",
		"W: 2100 + 2 x 150 = 2400 mm",
		"W: 2 to the tray",
		"W: 1800 / 900, up to 2, + 1, at least 2 = 3",
		"W: 2 x (1200 + 200) = 2800 mm; 0.05 on top, taken over the job",
		"W: 2 x 1200 + 1800 = 4200 mm; 2 lengths of 2400 mm over the job, off-cuts shared",
	}
	if diff := cmp.Diff(want, sums); diff != "" {
		t.Error(diff)
	}
}

// Weeps at 900 mm, two at least (LABC Warranty, Cavity trays and reveal closers); counted
// from end to end, which is common practice: max(2, up(w/900) + 1).
func TestWeeps(t *testing.T) {
	for width, want := range map[measure.Length]int{600: 2, 900: 2, 1000: 3, 1200: 3, 1800: 3, 1810: 4, 2400: 4, 3000: 5} {
		w := cavityWall(free(10_000, 2700, window(1000, 900, width, 1200)), 0, 3600*mm)
		needs, _, _ := Count([]Wall{w}, schedule.Allowances{}, product.Demo(), rulebook.GB())
		if got := find(needs, "weep").Net; got != measure.Each(want) {
			t.Errorf("opening %d: %s weeps, want %d", width, got, want)
		}
	}
}

func find(needs []Need, part string) Need {
	for _, n := range needs {
		if n.Part == part {
			return n
		}
	}
	return Need{}
}

// A door has no closer at its sill, only at the jambs (LABC Warranty, Cavity trays and
// reveal closers): 2 x 2.1 = 4.2 m.
func TestDoorHasNoSillCloser(t *testing.T) {
	w := cavityWall(free(10_000, 2700, window(1000, 0, 910, 2100)), 0, 1350*mm)
	needs, _, _ := Count([]Wall{w}, schedule.Allowances{}, product.Demo(), rulebook.GB())
	if got := find(needs, "closer").Net; got != measure.Metres(4200*mm) {
		t.Errorf("%s m of closer", got)
	}
}

// A single wall has no ties, tray or closers. Its DPC: run 31 m is over a roll of 30 m, so
// one lap: 31.1 m, x 1.05 = 32.655. A 140 mm leaf takes the 150 mm roll.
func TestSingleWall(t *testing.T) {
	w := singleWall(free(31_000, 2250, window(1000, 0, 910, 2100)), 1350*mm)
	level := 150 * mm
	w.DPC = &level
	checkCount(t, `
dpc DPC-150-30 31 32.655 m 150-150
`, w)
}

// Both leaves have their own run and width: 102.5 mm of brick takes the 112.5 mm roll,
// 100 mm of block the 100 mm roll. 6.525 x 0.05 = 0.32625, up to 0.327; 6.12 x 0.05 = 0.306.
func TestHorizontalDPCUnderBothLeaves(t *testing.T) {
	w := cavityWall(free(6525, 2400), 0)
	w.Run = 6120 * mm
	level := 150 * mm
	w.DPC = &level
	checkCount(t, `
field TIE-225 0 0 each 0-2400
dpc_outer DPC-112.5-30 6.525 6.852 m 150-150
dpc_inner DPC-100-30 6.12 6.426 m 150-150
`, w)
}

// Boards of 1.2 x 0.45 on a wall of 6.19 x 5.1 m, 31.569 m2: 11 courses of 5 whole and a rest
// of 190 mm, six of which come out of one board: 55 + 2. The last course is 150 mm high: five
// strips and a rest, three strips to a board: 2. 59, and 31.569 / 0.54 = 58.46: none fewer
// can do. 59 x 0.05 = 2.95, up to 3. Ties 2.5 x 31.569 = 78.9225, up to 79; x 0.05 = 3.95, up to 4.
// Of two such walls: 110 whole, 22 rests out of 4, eleven strips of 150 mm out of 4: 118;
// x 0.05 = 5.9, up to 6; 158 ties x 0.05 = 7.9, up to 8.
func TestInsulation(t *testing.T) {
	w := cavityWall(free(6190, 5100), squareMetresOf(31_569))
	w.Cavity.Insulation = 50 * mm
	findings := checkCount(t, `
field TIE-225 79 83 each 0-5100
insulation INS-50 59 62 each 0-5100
`, w)
	if len(findings) > 0 {
		t.Errorf("50 mm clear is enough: %v", findings)
	}
	w.Cavity.Insulation = 75 * mm
	findings = checkCount(t, `
field TIE-225 79 83 each 0-5100
insulation INS-75 59 62 each 0-5100
field TIE-225 79 83 each 0-5100
insulation INS-75 59 62 each 0-5100
`, w, w)
	if got := codes(findings); got != "check insulation.residual_cavity /walls/0" {
		t.Errorf("findings: %s", got)
	}
}

// The rear wing's plates: 3.0 + 4.2 - 0.1 = 7.1 m for a run of 6.525; straps max(2, up(6.525/2) + 1) = 5.
// Restraint at the first floor the same; starters 2 leaves x up(5025/2400) = 2 x 3 = 6.
func TestPlateStrapsAndStarters(t *testing.T) {
	s := free(6525, 5025)
	s.Left, s.Plate, s.Restraint = schedule.Abutment, &schedule.Plate{}, []measure.Length{2550 * mm}
	checkCount(t, `
field TIE-225 0 0 each 0-5025
restraint STRAP-LAT-1200 5 5 each 2550-2550
plate WP-100x75-3000 1 1 each 5025-5025
plate WP-100x75-4200 1 1 each 5025-5025
holding_down STRAP-HD-1000 5 5 each 5025-5025
starter STARTER-2400 6 6 each 0-5025
`, cavityWall(s, 0))
}

// A plate that is named is cut from that length alone: 6.525 m of 4.8: (6.525 - 0.1)/4.7 = 1.37, up to 2.
// Two pieces of 5.525 m cannot both be 3 m: 5.525 + 0.1 < 6.
func TestPlateNamedAndShort(t *testing.T) {
	s := free(6525, 2400)
	s.Plate = &schedule.Plate{Product: "WP-100x75-4800"}
	checkCount(t, `
plate WP-100x75-4800 2 2 each 2400-2400
holding_down STRAP-HD-1000 5 5 each 2400-2400
`, singleWall(s))
	s = free(5525, 2400)
	s.Plate = &schedule.Plate{}
	findings := checkCount(t, `
plate WP-100x75-3000 2 2 each 2400-2400
holding_down STRAP-HD-1000 4 4 each 2400-2400
`, singleWall(s))
	if got := codes(findings); got != "check plate.short_piece /walls/0/plate" {
		t.Errorf("findings: %s", got)
	}
}

// Gable of 5690 with its apex 2400 up in the middle: each slope 3722.1 mm / 225 = 16.5, up
// to 17: 34. A strap level half way up the gable has half the run: 2845 / 2000, up to 2, + 1 = 3.
// Ties: 34 x 0.05 = 1.7, up to 2.
func TestGable(t *testing.T) {
	s := free(5690, 5025)
	s.Top = &schedule.Top{Shape: "gable", Apex: 2400 * mm, ApexAt: 2845 * mm}
	s.Restraint = []measure.Length{6225 * mm, 7425 * mm}
	checkCount(t, `
field TIE-225 0 0 each 0-7425
gable TIE-225 34 36 each 5025-7425
restraint STRAP-LAT-1200 3 3 each 6225-6225
restraint STRAP-LAT-1200 2 2 each 7425-7425
`, cavityWall(s, 0))
}

// Rake of 4000 rising 3000: 5000 / 225 = 22.2, up to 23; x 0.05 = 1.15, up to 2.
func TestRake(t *testing.T) {
	s := free(4000, 2400)
	s.Top = &schedule.Top{Shape: "rake", Right: 3000 * mm}
	checkCount(t, `
field TIE-225 0 0 each 0-5400
gable TIE-225 23 25 each 2400-5400
`, cavityWall(s, 0))
}

// A joint between two walls: each counts the ties of its own side, up(2400/300) = 8; the
// filler is counted once, 20 mm in the clay leaf (16 mm joint) and 10 mm in the concrete. Sealant
// outside, 2400 x 16 x 10 = 384 ml, is two tubes of 310.
// Ties: 8 x 0.05 = 0.4, up to 1; 16 x 0.05 = 0.8, still 1.
func TestMovementJoint(t *testing.T) {
	left, right := free(6000, 2400), free(6000, 2400)
	left.Right, right.Left = schedule.MovementJoint, schedule.MovementJoint
	checkCount(t, `
field TIE-225 0 0 each 0-2400
joint TIE-225 8 9 each 0-2400
joint_filler FILLER-20 2.4 2.4 m 0-2400
joint_sealant SEAL-310 2 2 each 0-2400
joint_filler FILLER-10 2.4 2.4 m 0-2400
field TIE-225 0 0 each 0-2400
joint TIE-225 8 8 each 0-2400
`, cavityWall(left, 0), cavityWall(right, 0))
	// Within the wall at 5952.5: ties on both sides, up(2400/300) = 8 each, 16 + 1. The clay leaf alone has it.
	within := cavityWall(free(13_000, 2400), 0)
	within.Joints[0] = []measure.Length{5_952_500}
	checkCount(t, `
field TIE-225 0 0 each 0-2400
joint TIE-225 16 17 each 0-2400
joint_filler FILLER-20 2.4 2.4 m 0-2400
joint_sealant SEAL-310 2 2 each 0-2400
`, within)
	// Alone, the joint at a left end is this wall's to fill.
	checkCount(t, `
field TIE-225 0 0 each 0-2400
joint TIE-225 8 9 each 0-2400
joint_filler FILLER-20 2.4 2.4 m 0-2400
joint_sealant SEAL-310 2 2 each 0-2400
joint_filler FILLER-10 2.4 2.4 m 0-2400
`, cavityWall(right, 0))
}

// A tray longer than its roll is lapped: 15 m + 0.3 = 15.3 m of 10 m rolls, one lap: 15.4 m.
func TestTrayLongerThanItsRoll(t *testing.T) {
	w := cavityWall(free(20_000, 2700, window(1000, 0, 14_700, 2100)), 0, 15*m)
	needs, _, _ := Count([]Wall{w}, schedule.Allowances{}, product.Demo(), rulebook.GB())
	n := find(needs, "tray")
	if n.With != measure.Metres(15_400*mm) || n.Sum != "W: 15000 + 2 x 150 = 15300 mm + 1 x 100 mm lap = 15.4 m" {
		t.Errorf("%s m: %s", n.With, n.Sum)
	}
	checkRules(t, "tray", n.Rules...)
}

// Allowances come to what they come to on the whole, however the job is parted: the
// parts' extra adds up to the ratio of the sum, rounded up once.
func TestAllowanceIsTakenOverTheJob(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		ratio := measure.Ratio(rapid.Int64Range(0, int64(measure.One)).Draw(t, "ratio"))
		allow := schedule.Allowances{WallTie: &ratio, DPC: &ratio, Insulation: &ratio}
		var walls []Wall
		for range rapid.IntRange(1, 5).Draw(t, "walls") {
			height := measure.Length(rapid.Int64Range(300, 5000).Draw(t, "height"))
			w := cavityWall(free(5000, height+1000, window(900, 0, 1200, height)), measure.Area(height)*5*measure.SquareMetre/1000, 1500*mm)
			w.Cavity.Insulation = 50 * mm
			walls = append(walls, w)
		}
		needs, _, _ := Count(walls, allow, product.Demo(), rulebook.GB())
		net, with := map[string]measure.Quantity{}, map[string]measure.Quantity{}
		for _, n := range needs {
			if n.With < n.Net {
				t.Fatalf("%+v: less than is counted", n)
			}
			net[n.Product.Code] += n.Net
			with[n.Product.Code] += n.With
		}
		for code, unit := range map[string]measure.Quantity{"TIE-225": measure.Whole, "INS-50": measure.Whole, "DPC-150-30": 1} {
			step := int64(measure.One) * int64(unit)
			extra := measure.Quantity(measure.CeilDiv(int64(net[code])*int64(ratio), step)) * unit
			if with[code] != net[code]+extra {
				t.Fatalf("%s: %s with, want %s + %s", code, with[code], net[code], extra)
			}
		}
	})
}

// By the American rulebook: anchors one to 2.67 sq ft (IRC 2018 R703.8.4.1), 267 sq ft =
// 24.805112 m2 at 4.031427 = 100; at jambs every 3 ft (from memory), 6 ft = 2 spaces, a jamb,
// 2 jambs = 4; weeps every 33 in (IRC R703.8.6), 66 in = 2 spaces, + 1 = 3.
func TestAmericanAnchorsAndWeeps(t *testing.T) {
	const in = measure.Inch
	o := schedule.Opening{Ref: "W", Left: 48 * in, Sill: 24 * in, Width: 66 * in, Height: 72 * in}
	w := cavityWall(schedule.Wall{Length: 300 * in, Height: 144 * in, Left: schedule.StopEnd, Right: schedule.StopEnd,
		Openings: []schedule.Opening{o}}, 24_805_112*(measure.SquareMetre/1_000_000), 80*in)
	needs, _, _ := Count([]Wall{w}, schedule.Allowances{}, product.Demo(), rulebook.US())
	want := map[string]measure.Quantity{"field": measure.Each(100), "jamb": measure.Each(4), "weep": measure.Each(3)}
	for _, n := range needs {
		if q, ok := want[n.Part]; ok {
			if n.Net != q {
				t.Errorf("%s: %s, want %s (%s)", n.Part, n.Net, q, n.Sum)
			}
			delete(want, n.Part)
		}
	}
	if len(want) > 0 {
		t.Errorf("not counted: %v", want)
	}
}
