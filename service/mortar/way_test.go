package mortar_test

import (
	"testing"

	"hodman/service/measure"
	"hodman/service/mortar"
	"hodman/service/product"
	"hodman/service/rulebook"
)

// By hand: the joint behind a brick is 225 x 75 x 10 mm, behind a half bat 112.5 x 75 x 10,
// and behind a brick with a half inch collar 225 x 75 x 12.7.
func TestCollar(t *testing.T) {
	for _, c := range []struct {
		length, height, collar measure.Length
		want                   measure.Volume
	}{
		{215 * mm, 65 * mm, 10 * mm, 168_750 * mm3},
		{102*mm + 500, 65 * mm, 10 * mm, 84_375 * mm3},
		{215 * mm, 65 * mm, in / 2, 214_312*mm3 + mm3/2},
	} {
		if got := mortar.Collar(c.length, c.height, c.collar, ten); got != c.want {
			t.Errorf("%s x %s x %s: %d nl, want %d", c.length, c.height, c.collar, got, c.want)
		}
	}
}

// A square metre of solid wall is its whole volume less its bricks, thickness - N x 0.215 x
// 0.1025 x 0.065 with N a multiple of 1600/27 (formula): one brick 0.045229630 m3, one and
// a half 0.072844444. 27 m2 hold 1600 bricks a rank, each with its joints, and all ranks
// but the last have a collar behind them.
func TestMortarOfThickerWalls(t *testing.T) {
	brick := mortar.Piece(215*mm, 65*mm, 102*mm+500, ten)
	collar := mortar.Collar(215*mm, 65*mm, 10*mm, ten)
	for ranks, want := range map[int64]int64{1: 17_614_814_815, 2: 45_229_629_630, 3: 72_844_444_444} {
		all := ranks*int64(brick) + (ranks-1)*int64(collar)
		if got := measure.HalfUpDiv(1600*all, 27); got != want {
			t.Errorf("%d half bricks: %d nl a square metre, want %d", ranks, got, want)
		}
	}
	// A header through a one-brick wall has no collar: 112.5 x 215 x 10 + 65 x 215 x 10 =
	// 241 875 + 139 750. 3200 of them stand in 27 m2: the same 0.045229630.
	header := mortar.Piece(102*mm+500, 65*mm, 215*mm, ten)
	if got := measure.HalfUpDiv(3200*int64(header), 27); header != 381_625*mm3 || got != 45_229_629_630 {
		t.Errorf("headers: %d nl each, %d a square metre", header, got)
	}
}

// By the rulebook, 100 ml of frog: all of it laid up, a quarter laid down; 240 ml of
// perforations: 0.33 of them, 79.2 ml.
func TestTaken(t *testing.T) {
	const ml = measure.Litre / 1000
	for _, c := range []struct {
		frog, perforations measure.Volume
		down               bool
		want               measure.Volume
	}{
		{100 * ml, 0, false, 100 * ml}, {100 * ml, 0, true, 25 * ml}, {0, 240 * ml, false, 79_200_000}, {0, 240 * ml, true, 79_200_000}, {0, 0, true, 0},
	} {
		if got := mortar.Taken(c.frog, c.perforations, c.down, rulebook.GB()); got != c.want {
			t.Errorf("frog %d, perforations %d, down %t: %d nl, want %d", c.frog, c.perforations, c.down, got, c.want)
		}
	}
}

// A cubic metre in the joints, by hand. Site mix: 1.1 m3 with the tenth for waste, of which
// M4 is 1.1 x 239.4 = 263.34 kg cement, 11 bags; 1.1 x 99.75 = 109.725 kg lime, 5 bags;
// 1.1 x 1496.25 = 1645.875 kg sand, 2 bulk bags of 850. Made at a works: 1.03 m3 with 3 in the
// hundred: 1030 l, 5 tubs of 250 l and 500 kg; x 1750 = 1802.5 kg dry, 73 bags; in a silo not
// less than 5 t.
func TestWays(t *testing.T) {
	fill := mortar.Fill{Designation: "M4", Joints: measure.CubicMetre}
	b := mortar.NewBatch(&fill, mortar.Supply{Way: mortar.Silo}, product.Demo(), rulebook.GB())
	type good struct {
		product         string
		required, order measure.Quantity
		packs           int
		mass            measure.Mass
	}
	for i, want := range []struct {
		supply string
		litres measure.Quantity
		mass   measure.Mass
		goods  []good
	}{
		{mortar.SiteMix, 1_100_000, 2_100_000, []good{
			{"CEMENT-25", 263_340, 275_000, 11, 275_000}, {"LIME-25", 109_725, 125_000, 5, 125_000}, {"SAND-850", 1_645_875, 1_700_000, 2, 1_700_000}}},
		{mortar.ReadyToUse, 1_030_000, 2_500_000, []good{{"RTU-M4-250", 1_030_000, 1_250_000, 5, 2_500_000}}},
		{mortar.BaggedDry, 1_030_000, 1_825_000, []good{{"DRY-M4-25", 1_802_500, 1_825_000, 73, 1_825_000}}},
		{mortar.Silo, 1_030_000, 5_000_000, []good{{"SILO-M4", 1_802_500, 5_000_000, 5, 5_000_000}}},
	} {
		w := b.Ways[i]
		if w.Supply != want.supply || w.Litres != want.litres || w.Mass != want.mass || len(w.Goods) != len(want.goods) {
			t.Errorf("%+v, want %+v", w, want)
			continue
		}
		for k, g := range w.Goods {
			if got := (good{g.Product, g.Required, g.Order, g.Packs, g.Mass}); got != want.goods[k] {
				t.Errorf("%s: %+v, want %+v", w.Supply, got, want.goods[k])
			}
		}
		if w.Chosen != (w.Supply == mortar.Silo) {
			t.Errorf("%s is chosen: %t", w.Supply, w.Chosen)
		}
		for _, id := range w.Rules {
			if rulebook.GB().Rule(id) == nil {
				t.Errorf("%s: no rule %s", w.Supply, id)
			}
		}
	}
	if b.Supply != mortar.Silo || b.Total != 1030*measure.Litre || b.Cement != 0 {
		t.Errorf("the batch is not the way chosen: %+v", b)
	}
}

// M4 with plasticiser is 1 : 6: of 1.1 m3, 1.1 x 1.33/7 x 1440 = 300.96 kg cement, and
// 1.1 x 1.33 x 6/7 x 1500 = 1881 kg sand; 3 ml to a kilogram of cement are 902.88 ml, up to
// 903; a twentieth of pigment is 15.048 kg, 4 bags of 5.
func TestPlasticiserAndPigment(t *testing.T) {
	fill := mortar.Fill{Designation: "M4", Joints: measure.CubicMetre, Pigment: measure.One / 20}
	b := mortar.NewBatch(&fill, mortar.Supply{Way: mortar.SiteMix, Aired: true}, product.Demo(), rulebook.GB())
	if b.Mix != "1 : 6" || b.Cement != 300_960 || b.Lime != 0 || b.Sand != 1_881_000 || b.Plasticiser != 903 || b.Pigment != 15_048 {
		t.Errorf("%+v", b)
	}
	if g := b.Ways[0].Goods; g[len(g)-1].Product != "PIG-5" || g[len(g)-1].Packs != 4 {
		t.Errorf("%+v", g)
	}
	if _, ok := mortar.AiredMixOf("N", rulebook.US()); ok {
		t.Error("there is a mix of N with plasticiser")
	}
}

// Thin-layer mortar: 0.1 m3 and 3 in the hundred are 103 l, x 1500 = 154.5 kg, 7 bags of 25.
func TestThinLayer(t *testing.T) {
	fill := mortar.Fill{Designation: mortar.ThinLayer, Joints: 100 * measure.Litre}
	b := mortar.NewBatch(&fill, mortar.Supply{Way: mortar.SiteMix}, product.Demo(), rulebook.GB())
	if len(b.Ways) != 1 || b.Supply != mortar.BaggedDry || b.Total != 103*measure.Litre {
		t.Fatalf("%+v", b)
	}
	if g := b.Ways[0].Goods[0]; g.Product != "THIN-25" || g.Required != 154_500 || g.Packs != 7 {
		t.Errorf("%+v", g)
	}
}

// A catalogue that does not sell a mortar still says how much of it there is.
func TestNobodySellsIt(t *testing.T) {
	fill := mortar.Fill{Designation: "N", Joints: measure.CubicMetre}
	b := mortar.NewBatch(&fill, mortar.Supply{Way: mortar.BaggedDry}, product.Demo(), rulebook.US())
	if g := b.Ways[2].Goods[0]; g.Product != "" || g.Required != 1_802_500 || g.Packs != 0 || g.Order != 0 || g.Mass != 1_802_500 {
		t.Errorf("%+v", g)
	}
}
