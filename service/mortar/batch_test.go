package mortar_test

import (
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"hodman/service/measure"
	"hodman/service/mortar"
	"hodman/service/product"
	"hodman/service/rulebook"
)

const (
	mm = measure.Millimetre
	in = measure.Inch
	// mm3 is a microlitre.
	mm3 = measure.Litre / 1_000_000
)

// wasting is a site mix with so much waste.
func wasting(waste measure.Ratio) mortar.Supply {
	return mortar.Supply{Way: mortar.SiteMix, Waste: &waste}
}

var ten = mortar.Joints{Bed: 10 * mm, Perpend: 10 * mm}

// By hand: the bed under a unit and the perpend beside it.
func TestPiece(t *testing.T) {
	for _, c := range []struct {
		what                      string
		length, height, thickness measure.Length
		joints                    mortar.Joints
		want                      measure.Volume
	}{
		// 225 x 102.5 x 10 + 65 x 102.5 x 10 = 230 625 + 66 625: 0.29725 m3 a thousand
		{"UK brick", 215 * mm, 65 * mm, 102*mm + 500, ten, 297_250 * mm3},
		// 112.5 x 102.5 x 10 + 66 625 = 115 312.5 + 66 625
		{"half bat", 102*mm + 500, 65 * mm, 102*mm + 500, ten, 181_937*mm3 + mm3/2},
		// t x (450 x 10 + 215 x 10) = t x 6650
		{"block 75", 440 * mm, 215 * mm, 75 * mm, ten, 498_750 * mm3},
		{"block 90", 440 * mm, 215 * mm, 90 * mm, ten, 598_500 * mm3},
		{"block 100", 440 * mm, 215 * mm, 100 * mm, ten, 665_000 * mm3},
		{"block 140", 440 * mm, 215 * mm, 140 * mm, ten, 931_000 * mm3},
		{"block 190", 440 * mm, 215 * mm, 190 * mm, ten, 1_263_500 * mm3},
		{"block 215", 440 * mm, 215 * mm, 215 * mm, ten, 1_429_750 * mm3},
		// M07, E28: 232 x 106 x 10 + 73 x 106 x 10 = 245 920 + 77 380: 323.3 ml, published 320
		{"ZA brick", 222 * mm, 73 * mm, 106 * mm, ten, 323_300 * mm3},
		// M09, E4: 8.5 x 3.75 x 0.5 + 2.25 x 3.75 x 0.5 = 20.15625 cu in: 11.664 cu ft a
		// thousand, published 11.7. 20.15625 x 16.387064 ml = 330 301.75875 mm3, up to a nanolitre
		{"US standard brick", 8 * in, 9 * in / 4, 15 * in / 4, mortar.Joints{Bed: in / 2, Perpend: in / 2}, 330_301_759},
		// A closing course 45 high: 230 625 + 45 x 102.5 x 10 = 46 125
		{"split brick", 215 * mm, 45 * mm, 102*mm + 500, ten, 276_750 * mm3},
		// a 12 mm bed and 8 mm perpends: 223 x 102.5 x 12 + 65 x 102.5 x 8 = 274 290 + 53 300
		{"uneven joints", 215 * mm, 65 * mm, 102*mm + 500, mortar.Joints{Bed: 12 * mm, Perpend: 8 * mm}, 327_590 * mm3},
	} {
		if got := mortar.Piece(c.length, c.height, c.thickness, c.joints); got != c.want {
			t.Errorf("%s: %d nl, want %d", c.what, got, c.want)
		}
	}
}

// 27 m2 hold exactly 1600 bricks (225 x 75), 81 m2 exactly 800 blocks (450 x 225). What a
// square metre holds must be its whole volume less the units: thickness - n x length x
// thickness x height, 0.1025 - 1600/27 x 0.001432437 = 0.017614815 m3 of brickwork.
func TestMortarOfASquareMetre(t *testing.T) {
	brick := mortar.Piece(215*mm, 65*mm, 102*mm+500, ten)
	if got := measure.HalfUpDiv(int64(1600*brick), 27); got != 17_614_814_815 { // 0.017614815
		t.Errorf("half brick: %d nl a square metre", got)
	}
	for thickness, want := range map[measure.Length]int64{100: 6_567_901_235, 140: 9_195_061_728, 215: 14_120_987_654} {
		block := mortar.Piece(440*mm, 215*mm, thickness*mm, ten)
		if got := measure.HalfUpDiv(int64(800*block), 81); got != want {
			t.Errorf("block %d: %d nl a square metre, want %d", thickness, got, want)
		}
	}
}

// By hand at a dry to wet factor of 1.33, a cubic metre of wet mortar, masses up to a gram.
func TestMixes(t *testing.T) {
	for _, c := range []struct {
		designation, mix   string
		cement, lime, sand measure.Mass
	}{
		// 1.33 x 1440/4.25 = 450.6353; x 600 x 0.25/4.25 = 46.9412; x 1500 x 3/4.25 = 1408.2353
		{"M12", "1 : 0.25 : 3", 450_636, 46_942, 1_408_236},
		// 1.33 x 1440/6 = 319.2; x 600 x 0.5/6 = 66.5; x 1500 x 4.5/6 = 1496.25
		{"M6", "1 : 0.5 : 4.5", 319_200, 66_500, 1_496_250},
		// 1.33 x 1440/8 = 239.4; x 600/8 = 99.75; x 1500 x 6/8 = 1496.25
		{"M4", "1 : 1 : 6", 239_400, 99_750, 1_496_250},
		// 1.33 x 1440/12 = 159.6; x 600 x 2/12 = 133; x 1500 x 9/12 = 1496.25
		{"M2", "1 : 2 : 9", 159_600, 133_000, 1_496_250},
	} {
		mix, ok := mortar.MixOf(c.designation, rulebook.GB())
		if !ok || mix.String() != c.mix {
			t.Errorf("%s is %s, want %s", c.designation, mix, c.mix)
		}
		cement, lime, sand := mix.Dry(measure.CubicMetre, rulebook.GB())
		if cement != c.cement || lime != c.lime || sand != c.sand {
			t.Errorf("%s: %s, %s, %s kg, want %s, %s, %s", c.designation, cement, lime, sand, c.cement, c.lime, c.sand)
		}
	}
	for _, unknown := range []string{"", "M5", "waste"} {
		if _, ok := mortar.MixOf(unknown, rulebook.GB()); ok {
			t.Errorf("there is a mix %q", unknown)
		}
	}
}

// Mixes without lime, by hand.
func TestDryOfPlainMixes(t *testing.T) {
	for _, c := range []struct {
		what         string
		sand         measure.Ratio
		wet          measure.Volume
		cement, want measure.Mass
	}{
		{"1:4: 1.33/5 x 1440 = 383.04; 1.064 m3 x 1500", 4, measure.CubicMetre, 383_040, 1_596_000},
		{"1:6: 0.2305 x 1.33/7 x 1440 = 63.0648; 0.26277 m3 x 1500", 6, 230_500_000_000, 63_065, 394_155},
	} {
		mix := mortar.Mix{Cement: measure.One, Sand: c.sand * measure.One}
		cement, lime, sand := mix.Dry(c.wet, rulebook.GB())
		if cement != c.cement || lime != 0 || sand != c.want {
			t.Errorf("%s: %s, %s, %s kg", c.what, cement, lime, sand)
		}
	}
}

func TestBatch(t *testing.T) {
	// A thousand frogged bricks: 297.25 l in the joints, 100 l in the frogs, 10 % of 397.25 l
	// on top: 436.975 l. M4: x 239.4 = 104.611815 kg; x 99.75 = 43.58825625; x 1496.25 = 653.82384375
	fill := mortar.Fill{Designation: "M4", Joints: 1000 * 297_250 * mm3, Frogs: 100 * measure.Litre, Rules: []string{"mortar.frogs"}}
	got := mortar.NewBatch(&fill, wasting(measure.One/10), product.Demo(), rulebook.GB())
	got.Ways = nil // see way_test.go
	want := mortar.Batch{
		Designation: "M4", Supply: mortar.SiteMix, Mix: "1 : 1 : 6",
		Joints: 297_250_000 * mm3, Frogs: 100_000_000 * mm3, Waste: 39_725_000 * mm3, Total: 436_975_000 * mm3,
		Cement: 104_612, Lime: 43_589, Sand: 653_824,
		Rules: []string{"mortar.frogs", "mortar.waste", "mortar.dry_to_wet", "mortar.m4.lime", "mortar.m4.sand",
			"mortar.cement_density", "mortar.lime_density", "mortar.sand_density"},
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
	for _, id := range got.Rules {
		if rulebook.GB().Rule(id) == nil {
			t.Errorf("no rule %s", id)
		}
	}
	if none := mortar.NewBatch(&mortar.Fill{Designation: "M12"}, wasting(0), product.Demo(), rulebook.GB()); none.Total != 0 || none.Cement != 0 || none.Sand != 0 {
		t.Errorf("mortar of nothing: %+v", none)
	}
}

// Whatever is laid: the parts add up, nothing is lost to overflow up to a million
// cubic metres, and more mortar never takes less of anything.
func TestBatchProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		volume := rapid.Int64Range(0, 500_000*int64(measure.CubicMetre))
		joints, frogs := measure.Volume(volume.Draw(t, "joints")), measure.Volume(volume.Draw(t, "frogs"))
		waste := measure.Ratio(rapid.Int64Range(0, int64(measure.One)).Draw(t, "waste"))
		name := rapid.SampledFrom([]string{"M2", "M4", "M6", "M12"}).Draw(t, "mix")
		fill := mortar.Fill{Designation: name, Joints: joints, Frogs: frogs}
		b := mortar.NewBatch(&fill, wasting(waste), product.Demo(), rulebook.GB())
		if b.Total != b.Joints+b.Frogs+b.Waste || b.Waste < 0 || b.Waste > b.Joints+b.Frogs {
			t.Fatalf("%+v does not add up", b)
		}
		fill.Joints += measure.Litre
		more := mortar.NewBatch(&fill, wasting(waste), product.Demo(), rulebook.GB())
		if more.Cement <= b.Cement || more.Lime <= b.Lime || more.Sand <= b.Sand {
			t.Fatalf("a litre more takes less: %+v, %+v", b, more)
		}
	})
}
