package takeoff

import (
	"testing"

	"hodman/service/measure"
	"hodman/service/product"
	"hodman/service/rulebook"
	"hodman/service/schedule"
)

// The published figures that the counting of units is held against. Codes such as
// "NAVEDTRA 14045" name the source; where a source rounds, the comment says how.

const ms = measure.Millimetre

func free(length, height measure.Length, openings ...schedule.Opening) schedule.Wall {
	return schedule.Wall{Ref: "W", Type: "T", Length: length, Height: height, Left: schedule.StopEnd, Right: schedule.StopEnd, Openings: openings}
}

func count(t *testing.T, leaf schedule.Leaf, walls ...schedule.Wall) *Takeoff {
	t.Helper()
	return countBy(t, rulebook.GB(), leaf, walls...)
}

func countBy(t *testing.T, book *rulebook.Book, leaf schedule.Leaf, walls ...schedule.Wall) *Takeoff {
	t.Helper()
	for i := range walls {
		walls[i].Ref = string(rune('A' + i))
	}
	s := &schedule.Schedule{Reference: "published", Rulebook: book.Key, WallTypes: []schedule.WallType{{Key: "T", Single: &leaf}}, Walls: walls}
	if faults := s.Check(product.Demo()); len(faults) > 0 {
		t.Fatal(faults)
	}
	return Compute(s, product.Demo(), book)
}

func unit(kind string, length, thickness, height measure.Length) schedule.Leaf {
	return schedule.Leaf{Unit: &schedule.Unit{Kind: kind, Length: length, Thickness: thickness, Height: height, Mass: measure.Kilogram}}
}

// equivalent is wholes plus cut pieces by their length, in thousandths of a unit.
func equivalent(out *Takeoff, unit measure.Length) int64 {
	total := int64(0)
	for _, w := range out.Walls {
		for _, l := range w.Leaves {
			total += 1000 * int64(l.Whole)
			for _, c := range l.Cuts {
				// Two pieces and the joint between them fill one unit's length.
				total += measure.HalfUpDiv(1000*int64(c.Count)*int64(c.Length+10*ms), int64(unit+10*ms))
			}
		}
	}
	return total
}

// TestUnitsPerSquareMetre lays a panel of 36 modules by 40 courses of each unit and
// compares units over the area of their modules with the published figure: the
// formula 1e6/((L+10)(H+10)), and what trade texts round it to.
func TestUnitsPerSquareMetre(t *testing.T) {
	for _, c := range []struct {
		name           string
		length, height measure.Length
		exact          float64 // units a square metre by formula
		practice       int64   // rounded up, as the area rule does
		source         string
	}{
		{"UK brick", 215 * ms, 65 * ms, 59.259259, 60, "UK bricklaying textbook ch. 8, ISBN 9780080494098: 60"},
		{"UK block", 440 * ms, 215 * ms, 9.876543, 10, "same: 10"},
		{"block 390", 390 * ms, 190 * ms, 12.5, 13, "Australian brick facts: 12.5"},
		{"Australian brick", 230 * ms, 76 * ms, 48.449612, 49, "Australian brick facts: 48.5, rounded to the half"},
		{"South African brick", 222 * ms, 73 * ms, 51.931865, 52, "South African practice: 52"},
		{"single brick 250x65", 250 * ms, 65 * ms, 51.282051, 52, "bricks per m2 for 250x120 formats: 51, rounded to the nearest"},
		{"thick brick 250x88", 250 * ms, 88 * ms, 39.246468, 40, "same: 39, rounded to the nearest"},
		{"double brick 250x138", 250 * ms, 138 * ms, 25.987526, 26, "same: 26"},
		{"Indian modular", 190 * ms, 90 * ms, 50, 50, "IS 1077: 500 a cubic metre of 100 mm wall"},
		{"restoration brick 73", 215 * ms, 73 * ms, 53.547523, 54, "formula"},
		{"coursing unit", 215 * ms, 65 * ms, 59.259259, 60, "formula"},
	} {
		pitch, gauge := c.length+10*ms, c.height+10*ms
		w := free(36*pitch-10*ms, 40*gauge)
		out := count(t, unit("brick", c.length, 100*ms, c.height), w)
		units := equivalent(out, c.length)
		if units != 36*40*1000 {
			t.Errorf("%s: %d thousandths laid, want %d", c.name, units, 36*40*1000)
		}
		per := float64(units) / 1000 / ((36 * pitch).Mm() * (40 * gauge).Mm() / 1e6)
		if diff := per - c.exact; diff > 1e-6 || diff < -1e-6 {
			t.Errorf("%s: %.6f a square metre, want %.6f (%s)", c.name, per, c.exact, c.source)
		}
		made := schedule.Made{Unit: &product.Product{Length: c.length, Height: c.height}, Bed: 10 * ms, Perpend: 10 * ms}
		if rate := areaRate(&made); rate != c.practice {
			t.Errorf("%s: area rule %d, want %d (%s)", c.name, rate, c.practice, c.source)
		}
	}
}

// TestWorkedExamplesByArea: published sums by the square metre, which is what the
// area rule column has to say beside the laying.
func TestWorkedExamplesByArea(t *testing.T) {
	brick := schedule.Leaf{Product: "BRK-65-FACE"}
	block := schedule.Leaf{Product: "BLK-100-D"}
	door := schedule.Opening{Ref: "D", Left: 2000 * ms, Sill: 0, Width: 900 * ms, Height: 2100 * ms}
	window := schedule.Opening{Ref: "W", Left: 5000 * ms, Sill: 900 * ms, Width: 1200 * ms, Height: 1200 * ms}
	for _, c := range []struct {
		name string
		leaf schedule.Leaf
		wall schedule.Wall
		want int
	}{
		{"college slides 2012: 10 x 3 m at 60", brick, free(10*measure.Metre, 3*measure.Metre), 1800},
		{"college slides 2012: 8 x 2.6 m at 60", brick, free(8*measure.Metre, 2600*ms), 1248},
		{"UK bricklaying handbook: 12 x 2.6 m of blocks at 10", block, free(12*measure.Metre, 2600*ms), 312},
		{"derived: 10 x 2.4 m less door and window, 20.67 m2 at 60 = 1240.2", brick, free(10*measure.Metre, 2400*ms, door, window), 1241},
		{"derived: the same at 10 = 206.7", block, free(10*measure.Metre, 2400*ms, door, window), 207},
	} {
		if got := count(t, c.leaf, c.wall).Lines[0].AreaRule; got != c.want {
			t.Errorf("%s: %d, want %d", c.name, got, c.want)
		}
	}
}

// TestRetainingWall: NAVEDTRA 14045, Builder Advanced: 10 x 100 ft of 8 x 8 x 16 in
// block is 75 a course in 15 courses = 1125.
func TestRetainingWall(t *testing.T) {
	leaf := inchBlock()
	out := count(t, leaf, free(100*12*measure.Inch-joint38, 10*12*measure.Inch))
	l := out.Walls[0].Leaves[0]
	halves := 0
	for _, c := range l.Cuts {
		halves += c.Count
	}
	if l.Courses != 15 || l.Whole+halves/2 != 1125 {
		t.Errorf("%d courses, %d whole and %d halves, want 15 courses and 1125", l.Courses, l.Whole, halves)
	}
}

// TestBlockBuilding: NAVEDTRA 14045: a building 20 x 8 ft and 8 ft high in 8 in block
// takes 504 less 24 for the corners = 480.
func TestBlockBuilding(t *testing.T) {
	ft := 12 * measure.Inch
	var walls []schedule.Wall
	for _, length := range []measure.Length{20 * ft, 8 * ft, 20 * ft, 8 * ft} {
		walls = append(walls, schedule.Wall{Type: "T", Length: length - joint38, Height: 8 * ft, Left: schedule.ExternalCorner, Right: schedule.ExternalCorner})
	}
	n := count(t, inchBlock(), walls...).Lines[0]
	if n.Whole != 480 || n.CutPieces != 0 {
		t.Errorf("%d whole and %d cut, want 480 and none", n.Whole, n.CutPieces)
	}
}

const joint38 = 9525 * measure.Micrometre // 3/8 in

func inchBlock() schedule.Leaf {
	leaf := unit("block", 15*measure.Inch+5*measure.Inch/8, 7*measure.Inch+5*measure.Inch/8, 7*measure.Inch+5*measure.Inch/8)
	j := joint38
	leaf.BedJoint, leaf.Perpend = &j, &j
	return leaf
}

// TestBrickworkSizes: UK technical information sheet 9, "Brickwork dimensions": a
// panel between free ends of 225n - 10 has no cut in its odd courses and two halves
// in its even ones; heights are 75 a course (college slides 2012).
func TestBrickworkSizes(t *testing.T) {
	for n, length := range map[int]measure.Length{
		1: 215 * ms, 2: 440 * ms, 3: 665 * ms, 4: 890 * ms, 5: 1115 * ms, 6: 1340 * ms, 34: 7640 * ms, 36: 8090 * ms, 68: 15290 * ms, 70: 15740 * ms, 72: 16190 * ms,
	} {
		l := count(t, schedule.Leaf{Product: "BRK-65-FACE"}, free(length, 600*ms)).Walls[0].Leaves[0]
		halves := 0
		for _, c := range l.Cuts {
			if c.Length != 102500*measure.Micrometre {
				t.Errorf("%s mm: cut of %s", length, c.Length)
			}
			halves += c.Count
		}
		if l.Courses != 8 || l.Whole != 4*n+4*(n-1) || halves != 8 {
			t.Errorf("%s mm: %d courses, %d whole, %d halves; want 8, %d, 8", length, l.Courses, l.Whole, halves, 8*n-4)
		}
	}
	for courses, height := range map[int]measure.Length{1: 75 * ms, 2: 150 * ms, 3: 225 * ms, 4: 300 * ms, 6: 450 * ms, 7: 525 * ms, 8: 600 * ms, 12: 900 * ms, 18: 1350 * ms, 20: 1500 * ms, 36: 2700 * ms} {
		l := count(t, schedule.Leaf{Product: "BRK-65-FACE"}, free(1340*ms, height)).Walls[0].Leaves[0]
		if l.Courses != courses || l.ClosingCourse != 0 {
			t.Errorf("%s mm: %d courses and %s over, want %d", height, l.Courses, l.ClosingCourse, courses)
		}
	}
}

// TestOpeningsToBrick: the same sheet: an opening of 225n + 10 between piers of
// 225n - 10 leaves whole bricks and halves only.
func TestOpeningsToBrick(t *testing.T) {
	for _, width := range []measure.Length{235 * ms, 460 * ms, 685 * ms, 910 * ms, 1135 * ms, 1360 * ms} {
		o := schedule.Opening{Ref: "O", Left: 890 * ms, Sill: 0, Width: width, Height: 900 * ms}
		out := count(t, schedule.Leaf{Product: "BRK-65-FACE"}, free(2*890*ms+width, 900*ms, o))
		for _, c := range out.Walls[0].Leaves[0].Cuts {
			if c.Length != 102500*measure.Micrometre {
				t.Errorf("opening %s: cut of %s", width, c.Length)
			}
		}
	}
}
