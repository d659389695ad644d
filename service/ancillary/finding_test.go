package ancillary

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"hodman/service/measure"
	"hodman/service/product"
	"hodman/service/rulebook"
	"hodman/service/schedule"
)

func TestFindings(t *testing.T) {
	wide := cavityWall(free(3000, 2400), 0)
	wide.Cavity.Width = 200 * mm
	noLintel := cavityWall(free(3000, 2400, window(1000, 900, 900, 900)), 0, 0)
	carried := window(1000, 900, 900, 900)
	carried.Head.Kind = "none"
	thin := cavityWall(free(3000, 2400), 0)
	thin.Inner = &product.Product{Code: "THIN", Kind: product.Block, Thickness: 75 * mm}
	odd := cavityWall(free(3000, 2400), 0)
	odd.Cavity.Insulation = 43 * mm
	thick := singleWall(free(3000, 2400))
	thick.Outer = &product.Product{Code: "THICK", Kind: product.Block, Thickness: 500 * mm}
	thick.DPC = new(measure.Length)
	for _, c := range []struct {
		what string
		wall Wall
		want string
	}{
		{"200 mm cavity asks for a tie of 325", wide, "stop tie.none_suits /walls/0"},
		{"nothing serves", noLintel, "check tray.not_counted /walls/0/openings/0"},
		{"carried by something else", cavityWall(free(3000, 2400, carried), 0, 0), "check tray.not_counted /walls/0/openings/0"},
		{"leaf of 75 mm", thin, "check tie.thin_leaf /walls/0"},
		{"43 mm boards are not sold", odd, "check product.none_suits /walls/0"},
		{"no roll is 500 wide", thick, "check product.none_suits /walls/0"},
	} {
		_, _, findings := Count([]Wall{c.wall, c.wall}, schedule.Allowances{}, product.Demo(), rulebook.GB())
		if got := codes(findings); got != c.want {
			t.Errorf("%s: %q, want %q, told once", c.what, got, c.want)
		}
	}
}

// Openings of two walls may bear one ref: both are told of.
func TestTrayNotCountedInTwoWalls(t *testing.T) {
	a := cavityWall(free(3000, 2400, window(1000, 900, 900, 900)), 0, 0)
	b := a
	b.Ref, b.At = "B", "/walls/1"
	_, _, findings := Count([]Wall{a, b}, schedule.Allowances{}, product.Demo(), rulebook.GB())
	if got := codes(findings); got != "check tray.not_counted /walls/0/openings/0\ncheck tray.not_counted /walls/1/openings/0" {
		t.Errorf("findings: %s", got)
	}
}

// A catalogue that has nothing for the job is told of, product by product, and never a panic.
func TestEmptyCatalogue(t *testing.T) {
	empty, err := product.Load([]byte(`{"catalogue": "bare", "version": "1", "products": []}`))
	if err != nil {
		t.Fatal(err)
	}
	s := free(6000, 2400, window(1000, 900, 900, 900))
	s.Left, s.Right, s.Plate, s.Restraint = schedule.Abutment, schedule.MovementJoint, &schedule.Plate{}, []measure.Length{0}
	w := cavityWall(s, squareMetresOf(10_000), 1200*mm)
	w.Cavity.Insulation = 50 * mm
	w.DPC = new(measure.Length)
	needs, _, findings := Count([]Wall{w}, schedule.Allowances{}, empty, rulebook.GB())
	if len(needs) > 0 {
		t.Errorf("counted %v", needs)
	}
	var missing []string
	for _, f := range findings {
		missing = append(missing, f.Code+" "+f.Text)
	}
	want := []string{
		"tie.none_suits catalogue bare@1 has no wall tie for a cavity of 100 mm, which asks for one of 225 mm: none is counted",
		"product.none_suits catalogue bare@1 has no cavity tray: none is counted",
		"product.none_suits catalogue bare@1 has no stop end: none is counted",
		"product.none_suits catalogue bare@1 has no weep: none is counted",
		"product.none_suits catalogue bare@1 has no damp-proof course of 150 mm or wider: none is counted",
		"product.none_suits catalogue bare@1 has no cavity closer for a cavity of 100 mm: none is counted",
		"product.none_suits catalogue bare@1 has no damp-proof course of 102.5 mm or wider: none is counted",
		"product.none_suits catalogue bare@1 has no damp-proof course of 100 mm or wider: none is counted",
		"product.none_suits catalogue bare@1 has no insulation board of 50 mm: none is counted",
		"product.none_suits catalogue bare@1 has no lateral restraint strap: none is counted",
		"product.none_suits catalogue bare@1 has no wall plate over 100 mm long: none is counted",
		"product.none_suits catalogue bare@1 has no holding-down strap: none is counted",
		"product.none_suits catalogue bare@1 has no wall starter kit: none is counted",
		"product.none_suits catalogue bare@1 has no movement joint filler of 16 mm or thicker: none is counted",
		"product.none_suits catalogue bare@1 has no joint sealant: none is counted",
		"product.none_suits catalogue bare@1 has no movement joint filler of 10 mm or thicker: none is counted",
	}
	if diff := cmp.Diff(want, missing); diff != "" {
		t.Error(diff)
	}
}
