package takeoff

import (
	"slices"
	"testing"

	"pgregory.net/rapid"

	"hodman/service/bond"
	"hodman/service/measure"
	"hodman/service/product"
	"hodman/service/rulebook"
	"hodman/service/schedule"
)

// TestMortarOfWalls: published net geometry of a square metre, thickness less the units
// in it: half brick 0.017614815 m3, one brick 0.045229630, one and a half 0.072844444; blocks
// of 100, 140, 215 mm 0.006567901, 0.009195062, 0.014120988 (formula). Stack bond is laid
// without a cut, so that a panel is its modules.
func TestMortarOfWalls(t *testing.T) {
	for _, c := range []struct {
		leaf   schedule.Leaf
		module [2]measure.Length
		want   int64 // nanolitres a square metre
	}{
		{schedule.Leaf{Product: "BRK-65-ENG"}, [2]measure.Length{225 * ms, 75 * ms}, 17_614_814_815},
		{schedule.Leaf{Product: "BRK-65-ENG", Thickness: 215 * ms}, [2]measure.Length{225 * ms, 75 * ms}, 45_229_629_630},
		{schedule.Leaf{Product: "BRK-65-ENG", Thickness: 327_500}, [2]measure.Length{225 * ms, 75 * ms}, 72_844_444_444},
		{schedule.Leaf{Product: "BLK-100-D"}, [2]measure.Length{450 * ms, 225 * ms}, 6_567_901_235},
		{schedule.Leaf{Product: "BLK-140-D"}, [2]measure.Length{450 * ms, 225 * ms}, 9_195_061_728},
		{unit("block", 440*ms, 215*ms, 215*ms), [2]measure.Length{450 * ms, 225 * ms}, 14_120_987_654},
	} {
		c.leaf.Bond = "stack"
		out := count(t, c.leaf, free(36*c.module[0]-10*ms, 20*c.module[1]))
		b := out.Mortar[0]
		mm2 := int64(36*c.module[0]/ms) * int64(20*c.module[1]/ms)
		// A square metre is a million square millimetres: volume x 10^6 / mm2.
		got := measure.HalfUpDiv(int64(b.Joints+b.Collars)/1000*1_000_000, mm2) * 1000
		if diff := got - c.want; diff < -1000 || diff > 1000 {
			t.Errorf("%+v: %d nl a square metre, want %d", c.leaf, got, c.want)
		}
	}
}

// TestMortarIsWhatUnitsLeave: whatever the bond, joints and collars of a wall with no openings
// are its body less the pieces in it, each piece with the joint at its right: (length + perpend)
// x height x thickness - sum of pieces. Lengths are of quarter modules, so that no course ends in
// a gap under a joint wide. Each piece's own rounding is a nanolitre at most.
func TestMortarIsWhatUnitsLeave(t *testing.T) {
	bonds := map[string][]measure.Length{
		"stretcher": {102_500, 215 * ms, 327_500}, "stack": {102_500, 215 * ms}, "header": {215 * ms},
		"english": {215 * ms, 327_500}, "flemish": {215 * ms, 327_500}, "english_garden_wall": {215 * ms}, "monk": {215 * ms},
	}
	names := []string{"stretcher", "stack", "header", "english", "flemish", "english_garden_wall", "monk"}
	rapid.Check(t, func(t *rapid.T) {
		name := rapid.SampledFrom(names).Draw(t, "bond")
		leaf := schedule.Leaf{Product: "BRK-65-ENG", Bond: name, Thickness: rapid.SampledFrom(bonds[name]).Draw(t, "thickness")}
		w := free(measure.Length(rapid.IntRange(16, 100).Draw(t, "quarters"))*56_250-10*ms, measure.Length(rapid.IntRange(1, 24).Draw(t, "courses"))*75*ms)
		types := []schedule.WallType{{Key: "T", Single: &leaf}}
		made := types[0].Leaves(product.Demo(), rulebook.GB())[0]
		body := (w.Length + made.Perpend).Times(w.Height)
		want, pieces, got := int64(body)/1_000_000*int64(made.Thickness), int64(0), int64(0)
		for _, laid := range bond.SetOut([]bond.Run{{Leaf: &made, Wall: &w}}, false, bond.Rules{LeastCut: 250_000, LeastSplit: 25 * ms}) {
			for i := range laid.Bands {
				b := &laid.Bands[i]
				joints, collars := bandMortar(b, &made)
				got += int64(joints+collars) * int64(b.Count)
				for k := range b.Strips {
					s := &b.Strips[k]
					n := int64(s.Count) * int64(b.Count)
					pieces += n
					want -= n * int64(s.Length.Times(s.Height).Times(s.Depth))
				}
			}
		}
		if diff := got - want; diff > 2*pieces+int64(made.Thickness) || -diff > 2*pieces+int64(made.Thickness) {
			t.Fatalf("%s %s, %s x %s: %d nl, want %d", name, made.Thickness, w.Length, w.Height, got, want)
		}
	})
}

// TestFrogsAsLaid: a panel of 16 whole frogged bricks of 0.1 l. Up 1.6 l, down a quarter, 0.4 l;
// 16 bricks with 0.24 l of perforations x 0.33 take 1.2672 l. By the rulebook.
func TestFrogsAsLaid(t *testing.T) {
	panel := free(890*ms, 300*ms)
	for _, c := range []struct {
		leaf schedule.Leaf
		want measure.Volume
		rule string
	}{
		{schedule.Leaf{Product: "BRK-65-COMMON"}, 1_600_000_000, "mortar.frogs"},
		{schedule.Leaf{Product: "BRK-65-COMMON", LaidFrog: "up"}, 1_600_000_000, "mortar.frogs"},
		{schedule.Leaf{Product: "BRK-65-COMMON", LaidFrog: "down"}, 400_000_000, "mortar.frogs_down"},
		{schedule.Leaf{Product: "BRK-65-PERF"}, 1_267_200_000, "mortar.perforations"},
		{schedule.Leaf{Unit: &schedule.Unit{Kind: "brick", Length: 215 * ms, Thickness: 102_500, Height: 65 * ms, Mass: 2000, Frog: 100_000_000}}, 1_600_000_000, "mortar.frogs"},
	} {
		c.leaf.Bond = "stack"
		b := count(t, c.leaf, panel).Mortar[0]
		if b.Frogs != c.want || !slices.Contains(b.Rules, c.rule) {
			t.Errorf("%+v: %d nl by %v, want %d by %s", c.leaf, b.Frogs, b.Rules, c.want, c.rule)
		}
	}
}

// TestMortarSupply: what is chosen is in the lines, and the same whole is shared by the lifts.
func TestMortarSupply(t *testing.T) {
	for supply, code := range map[string]string{"": "CEMENT-25", "site_mix": "CEMENT-25", "ready_to_use": "RTU-M4-250", "bagged_dry": "DRY-M4-25", "silo": "SILO-M4"} {
		s := rearWing(t)
		s.MortarSupply = supply
		if faults := s.Check(product.Demo()); len(faults) > 0 {
			t.Fatal(faults)
		}
		out := Compute(s, product.Demo(), rulebook.GB())
		if supply != "silo" { // of which more than a pack may be over
			sound(t, out)
		}
		found := false
		for _, n := range out.Lines {
			found = found || n.Product == code
			if n.Product == "SAND-850" && code != "CEMENT-25" {
				t.Errorf("%s: sand in the lines", supply)
			}
			if n.Product == "SILO-M4" && (n.Order < 5000*measure.Whole || n.Order < n.Required) {
				t.Errorf("a silo of %s kg", n.Order)
			}
		}
		if !found {
			t.Errorf("%s: no %s in the lines", supply, code)
		}
	}
}

// TestThinJoints: a bed of 3 mm is thin-layer mortar, a coloured leaf is a mortar of its own.
func TestThinJoints(t *testing.T) {
	thin := 3 * ms
	out := count(t, schedule.Leaf{Product: "BLK-100-L", BedJoint: &thin, Perpend: &thin}, free(4430*ms, 2180*ms))
	if b := out.Mortar[0]; b.Designation != "thin_layer" || b.Cement != 0 || b.Supply != "bagged_dry" {
		t.Errorf("%+v", b)
	}
	s := &schedule.Schedule{Reference: "pigment", Rulebook: "gb", Walls: []schedule.Wall{free(4500*ms, 2250*ms)},
		WallTypes: []schedule.WallType{{Key: "T", Outer: &schedule.Leaf{Product: "BRK-65-FACE", Pigment: 50_000}, Cavity: &schedule.Cavity{Width: 100 * ms}, Inner: &schedule.Leaf{Product: "BLK-100-D"}}}}
	if faults := s.Check(product.Demo()); len(faults) > 0 {
		t.Fatal(faults)
	}
	m := Compute(s, product.Demo(), rulebook.GB()).Mortar
	if len(m) != 2 || m[0].Pigment != measure.Mass(measure.Ratio(50_000).CeilOf(int64(m[0].Cement))) || m[1].Pigment != 0 {
		t.Errorf("%+v", m)
	}
}

// TestMortarOfAPier: the half brick of a pier before or behind a half-brick leaf has the joint between
// them over itself and its own joints, 225 x 75 x 10 mm a brick, and a header that reaches through both has
// none. By hand: 168.75 ml for each of two, and none for the wall's own brick.
func TestMortarOfAPier(t *testing.T) {
	types := []schedule.WallType{{Key: "T", Single: &schedule.Leaf{Product: "BRK-65-ENG"}}}
	made := types[0].Leaves(product.Demo(), rulebook.GB())[0]
	piece := func(y, depth measure.Length) bond.Strip {
		return bond.Strip{Length: 215 * ms, Y: y, Depth: depth, Height: 65 * ms, Count: 1}
	}
	for _, c := range []struct {
		strip bond.Strip
		want  measure.Volume
	}{
		{piece(0, 102_500), 0}, {piece(112_500, 102_500), 168_750_000}, {piece(-112_500, 102_500), 168_750_000}, {piece(0, 215*ms), 0}, {piece(-112_500, 215*ms), 0},
	} {
		if _, got := bandMortar(&bond.Band{Strips: []bond.Strip{c.strip}}, &made); got != c.want {
			t.Errorf("from %s, %s deep: %d nl, want %d", c.strip.Y, c.strip.Depth, got, c.want)
		}
	}
}

// TestMortarOfAPierByItself: one and a half brick square, four bricks about a bat. By hand, with the joint
// at its right, a course is 337.5 x 327.5 x 75 = 8 289 843.75 mm3, less (4 x 215 x 102.5 + 102.5 x 102.5)
// x 65 = 6 412 656.25: 1.8771875 l, and 20 courses 37.54375. One brick square: 225 x 215 x 75 =
// 3 628 125 less 2 x 215 x 102.5 x 65 = 2 864 875: 0.76325 l, and 20 courses 15.265.
func TestMortarOfAPierByItself(t *testing.T) {
	for side, want := range map[measure.Length]measure.Volume{327_500: 37_543_750_000, 215 * ms: 15_265_000_000} {
		b := count(t, schedule.Leaf{Product: "BRK-65-ENG", Bond: "english", Thickness: side}, free(side, 1500*ms)).Mortar[0]
		if got := b.Joints + b.Collars; got != want {
			t.Errorf("%s mm square: %d nl, want %d", side, got, want)
		}
	}
}
