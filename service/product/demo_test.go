package product_test

import (
	"strconv"
	"testing"

	"hodman/service/measure"
	"hodman/service/product"
)

const mm = measure.Millimetre

func TestDemoHasEveryKindWithMassPackAndPrice(t *testing.T) {
	demo := product.Demo()
	for _, p := range demo.Products {
		if p.Name == "" || p.Mass <= 0 || p.Pack < 1 || p.Price <= 0 || p.Currency != "GBP" {
			t.Errorf("%s: name %q, mass %s, pack %d, price %s %s", p.Code, p.Name, p.Mass, p.Pack, p.Price, p.Currency)
		}
		if demo.Find(p.Code).Code != p.Code {
			t.Errorf("%s is not found by its code", p.Code)
		}
	}
	for _, k := range []product.Kind{
		product.Brick, product.Block, product.CoursingUnit, product.Lintel, product.WallTie, product.CavityTray,
		product.StopEnd, product.Weep, product.DPC, product.CavityCloser, product.Insulation, product.Cement,
		product.Lime, product.Sand, product.WallPlate, product.RestraintStrap, product.HoldingDownStrap,
		product.StarterKit, product.JointFiller, product.ReadyMortar, product.DryMortar, product.SiloMortar,
		product.ThinMortar, product.Pigment, product.Plasticiser,
	} {
		if len(demo.OfKind(k)) == 0 {
			t.Errorf("no %s", k)
		}
	}
}

// Densities of laid units in kg/m3, from a producer's data sheet: light aggregate
// 1080 to dense 1980; from memory: bricks of 1500 to 2400 over their whole volume.
func TestLaidUnitsWeighWhatTheyShould(t *testing.T) {
	for _, p := range product.Demo().Products {
		if !p.Kind.Laid() {
			continue
		}
		litres := p.Length.Mm() * p.Thickness.Mm() * p.Height.Mm() / 1e6
		if density := 1000 * p.Mass.Kg() / litres; density < 1000 || density > 2400 {
			t.Errorf("%s: %.0f kg/m3", p.Code, density)
		}
	}
	// A producer's data sheet: dense solid 100 and 140 mm.
	for code, want := range map[string]measure.Mass{"BLK-100-D": 18_700, "BLK-140-D": 26_200, "BLK-100-L": 10_200, "BLK-140-L": 14_300} {
		if got := product.Demo().Find(code).Mass; got != want {
			t.Errorf("%s weighs %s kg, want %s", code, got, want)
		}
	}
}

// A ladder is complete where each length follows the last by 150 mm.
func TestLadders(t *testing.T) {
	type ladder struct{ least, most, last measure.Length }
	ladders := map[string]*ladder{}
	for _, p := range product.Demo().OfKind(product.Lintel) {
		key := string(p.Family) + " " + p.CavityMin.String() + " " + p.CavityMax.String() + " " + p.Thickness.String() + "x" + p.Height.String()
		l := ladders[key]
		if l == nil {
			ladders[key] = &ladder{p.Length, p.Length, p.Length}
			continue
		}
		if p.Length != l.last+150*mm {
			t.Errorf("%s: %s follows %s", p.Code, p.Length, l.last)
		}
		l.most, l.last = p.Length, p.Length
	}
	want := map[string]ladder{
		"steel_cavity 50 75 0x0":      {750 * mm, 4800 * mm, 4800 * mm},
		"steel_cavity 75 90 0x0":      {750 * mm, 4800 * mm, 4800 * mm},
		"steel_cavity 90 105 0x0":     {750 * mm, 4800 * mm, 4800 * mm},
		"steel_cavity 105 125 0x0":    {750 * mm, 4800 * mm, 4800 * mm},
		"steel_single 0 0 100x0":      {750 * mm, 3600 * mm, 3600 * mm},
		"steel_single 0 0 140x0":      {750 * mm, 3600 * mm, 3600 * mm},
		"concrete_single 0 0 100x100": {600 * mm, 1500 * mm, 1500 * mm},
		"concrete_single 0 0 100x140": {600 * mm, 2700 * mm, 2700 * mm},
		"concrete_single 0 0 100x215": {600 * mm, 3600 * mm, 3600 * mm},
		"concrete_single 0 0 140x100": {600 * mm, 1800 * mm, 1800 * mm},
		"concrete_single 0 0 140x215": {600 * mm, 3600 * mm, 3600 * mm},
	}
	if len(ladders) != len(want) {
		t.Errorf("%d ladders, want %d", len(ladders), len(want))
	}
	for key, w := range want {
		if got := ladders[key]; got == nil || *got != w {
			t.Errorf("%s: %v, want %v", key, got, w)
		}
	}
}

// Concrete weighs its section x length x 2400 kg/m3 (100 x 215 is 51.6
// kg/m, 140 x 215 is 72.2); steel cavity lintels 7 to 12 kg/m, from memory.
func TestLintelMasses(t *testing.T) {
	for _, p := range product.Demo().OfKind(product.Lintel) {
		grams := func(perMetre int64) measure.Mass {
			return measure.Mass(perMetre * int64(p.Length) / int64(measure.Metre))
		}
		least, most := grams(7000), grams(12000)
		switch p.Family {
		case product.ConcreteSingle:
			section := int64(p.Thickness/mm) * int64(p.Height/mm) // mm2, and 2.4 g to a metre of each
			least, most = grams(section*24/10), grams(section*24/10)
		case product.SteelSingle:
			least, most = grams(4000), grams(9000)
		}
		if p.Mass < least || p.Mass > most {
			t.Errorf("%s: %s kg, want %s to %s", p.Code, p.Mass, least, most)
		}
	}
	if got := product.Demo().Find("LIN-PC-100x215-1200").Mass; got != 61_920 { // 0.1 x 0.215 x 1.2 x 2400
		t.Errorf("100 x 215 x 1200 weighs %s kg", got)
	}
}

// Cavities and tie lengths of Approved Document A Table 5.
func TestTieRanges(t *testing.T) {
	for length, cavity := range map[int]string{200: "50 to 75", 225: "75 to 100", 250: "100 to 125", 275: "125 to 150", 300: "150 to 175"} {
		p := product.Demo().Find("TIE-" + strconv.Itoa(length))
		if p == nil || p.Length != measure.Length(length)*mm || p.CavityMin.String()+" to "+p.CavityMax.String() != cavity || p.Pack != 250 {
			t.Errorf("tie %d: %+v, want cavity %s, box 250", length, p, cavity)
		}
	}
}
