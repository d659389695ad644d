package lintel

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"hodman/service/finding"
	"hodman/service/measure"
	"hodman/service/product"
	"hodman/service/rulebook"
	"hodman/service/schedule"
)

// By hand: needed = clear + 2b, bears = (length - clear)/2.
const vectors = `
# steel over a 100 cavity, lengths 600 to 4800 in 150 mm steps, 150 bearing
steel 150
clear 300   needed 600   want 600   bears 150    # 300 + 300
clear 450   needed 750   want 750   bears 150
clear 600   needed 900   want 900   bears 150
clear 610   needed 910   want 1050  bears 220    # 10 over 900, next length up
clear 900   needed 1200  want 1200  bears 150
clear 910   needed 1210  want 1350  bears 220
clear 1000  needed 1300  want 1350  bears 175
clear 1190  needed 1490  want 1500  bears 155
clear 1200  needed 1500  want 1500  bears 150
clear 1201  needed 1501  want 1650  bears 224.5  # 1201 + 300 = 1501, next length up
clear 1760  needed 2060  want 2100  bears 170
clear 1800  needed 2100  want 2100  bears 150    # published: 150 + 1800 + 150 = 2100
clear 1810  needed 2110  want 2250  bears 220
clear 2390  needed 2690  want 2700  bears 155
clear 2410  needed 2710  want 2850  bears 220
clear 3010  needed 3310  want 3450  bears 220
clear 3301  needed 3601  want 3750  bears 224.5
clear 4500  needed 4800  want 4800  bears 150
clear 4501  needed 4801  want none               # over 4500: nothing serves

# the same in 300 mm steps, 600 to 3600
steel 300
clear 300   needed 600   want 600   bears 150
clear 450   needed 750   want 900   bears 225
clear 600   needed 900   want 900   bears 150
clear 610   needed 910   want 1200  bears 295
clear 900   needed 1200  want 1200  bears 150
clear 910   needed 1210  want 1500  bears 295
clear 1000  needed 1300  want 1500  bears 250
clear 1190  needed 1490  want 1500  bears 155
clear 1200  needed 1500  want 1500  bears 150
clear 1201  needed 1501  want 1800  bears 299.5
clear 1760  needed 2060  want 2100  bears 170
clear 1800  needed 2100  want 2100  bears 150
clear 1810  needed 2110  want 2400  bears 295
clear 2390  needed 2690  want 2700  bears 155
clear 2410  needed 2710  want 3000  bears 295
clear 3010  needed 3310  want 3600  bears 295
clear 3301  needed 3601  want none               # 3600 is 1 short
clear 4500  needed 4800  want none

# simple lintels (concrete under one leaf) with 100 asked for: 100 up to 1200, then 150
simple 150
clear 300   needed 500   want 600   bears 150
clear 450   needed 650   want 750   bears 150
clear 600   needed 800   want 900   bears 150
clear 610   needed 810   want 900   bears 145
clear 900   needed 1100  want 1200  bears 150
clear 910   needed 1110  want 1200  bears 145
clear 1000  needed 1200  want 1200  bears 100    # exactly the least
clear 1190  needed 1390  want 1500  bears 155
clear 1200  needed 1400  want 1500  bears 150
clear 1201  needed 1501  want 1650  bears 224.5  # the rule goes back to 150
clear 1760  needed 2060  want 2100  bears 170
`

func TestVectors(t *testing.T) {
	var kind string
	var cat *product.Catalogue
	for line := range strings.Lines(vectors) {
		line, _, _ = strings.Cut(line, "#")
		words := strings.Fields(line)
		switch {
		case len(words) == 0:
			continue
		case len(words) == 2:
			kind, cat = words[0], ladder(t, words[1])
			continue
		}
		o := Opening{Opening: "W", Clear: mm(t, words[1]), Seat: cavitySeat, RoomLeft: measure.Metre, RoomRight: measure.Metre}
		if kind == "simple" {
			o.Seat, o.Asked = leafSeat, 100*measure.Millimetre
		}
		p := pickOne(o, cat, nil, false)
		if p.Needed != mm(t, words[3]) {
			t.Errorf("%s clear %s: needed %s, want %s", kind, words[1], p.Needed, words[3])
		}
		if words[5] == "none" {
			if p.Status != NothingServes || p.Product != "" {
				t.Errorf("%s clear %s: %s %s, want nothing", kind, words[1], p.Status, p.Product)
			}
			continue
		}
		bears := mm(t, words[7])
		if p.Length != mm(t, words[5]) || p.BearingLeft != bears || p.BearingRight != bears || p.Status != NotChecked {
			t.Errorf("%s clear %s: %s bearing %s and %s, want %s bearing %s", kind, words[1], p.Length, p.BearingLeft, p.BearingRight, words[5], words[7])
		}
	}
}

var (
	cavitySeat = Seat{Leaf: "both", Cavity: 100 * measure.Millimetre, Families: FamiliesFor("both")}
	leafSeat   = Seat{Leaf: "single", Thickness: 100 * measure.Millimetre, Families: FamiliesFor("single")}
)

func mm(t testing.TB, s string) measure.Length {
	n, err := measure.ParseFixed(s, 3, int64(measure.MaxLength))
	if err != nil {
		t.Fatal(err)
	}
	return measure.Length(n)
}

func pickOne(o Opening, cat *product.Catalogue, stock []schedule.Stock, sent bool) Pick {
	picks, _ := Select([]Opening{o}, cat, rulebook.GB(), stock, sent)
	return picks[0]
}

// ladder is a catalogue of steel cavity lintels and, below 3600, concrete ones of
// 100 mm, dearer and heavier by length.
func ladder(t testing.TB, step string) *product.Catalogue {
	most, by := 4800, 150
	if step == "300" {
		most, by = 3600, 300
	}
	var lines []string
	for l := 600; l <= most; l += by {
		lines = append(lines, fmt.Sprintf(`S%d steel_cavity %d price %d kg %d cavity 90 105`, l, l, l/20, l/100),
			fmt.Sprintf(`C%d concrete_single %d price %d kg %d thick 100`, l, l, l/40, l/40))
	}
	return catalogue(t, lines...)
}

// catalogue reads lines of "code family length" and then pairs of price, kg, least,
// thick; and cavity with two figures.
func catalogue(t testing.TB, lines ...string) *product.Catalogue {
	var products []string
	for _, line := range lines {
		w := strings.Fields(line)
		p := fmt.Sprintf(`{"product":%q,"name":%q,"kind":"lintel","family":%q,"length_mm":%s,"pack":1,"loose":true`, w[0], w[0], w[1], w[2])
		kg := "10"
		for k := 3; k < len(w); k += 2 {
			switch w[k] {
			case "price":
				p += fmt.Sprintf(`,"price":%q,"currency":"GBP"`, w[k+1])
			case "kg":
				kg = w[k+1]
			case "least":
				p += `,"least_bearing_mm":` + w[k+1]
			case "thick":
				p += `,"thickness_mm":` + w[k+1]
			case "cavity":
				p += `,"cavity_min_mm":` + w[k+1] + `,"cavity_max_mm":` + w[k+2]
				k++
			default:
				t.Fatalf("no such word %q", w[k])
			}
		}
		products = append(products, p+`,"mass_kg":`+kg+`}`)
	}
	cat, err := product.Load([]byte(`{"catalogue":"test","version":"1","products":[` + strings.Join(products, ",") + `]}`))
	if err != nil {
		t.Fatal(err)
	}
	return cat
}

func TestLeastBearing(t *testing.T) {
	cat := catalogue(t,
		"S1500 steel_cavity 1500 cavity 90 105", "S1650 steel_cavity 1650 cavity 90 105",
		"C1200 concrete_single 1200 thick 100", "C1500 concrete_single 1500 thick 100", "C1650 concrete_single 1650 thick 100")
	wide := catalogue(t, "C1400 concrete_single 1400 thick 100 least 200", "C1500 concrete_single 1500 thick 100 least 200", "C1600 concrete_single 1600 thick 100 least 200")
	for _, c := range []struct {
		name         string
		cat          *product.Catalogue
		seat         Seat
		clear, asked measure.Length
		least        measure.Length
		want         string
		rule         string
	}{
		{"nothing asked, 1000 + 300 = 1300", cat, leafSeat, 1000, 0, 150, "C1500", "lintel.bearing"},
		{"200 asked wins, 1000 + 400 = 1400", cat, leafSeat, 1000, 200, 200, "C1500", "lintel.bearing"},
		{"100 asked, simple, 1000 + 200 = 1200", cat, leafSeat, 1000, 100, 100, "C1200", "lintel.bearing_simple"},
		{"60 asked is never under 100", cat, leafSeat, 1000, 60, 100, "C1200", "lintel.bearing_simple"},
		{"100 asked over a cavity tray stays 150, 1200 + 300", cat, cavitySeat, 1200, 100, 150, "S1500", "lintel.bearing"},
		{"the product's own 200, 1000 + 400 = 1400", wide, leafSeat, 1000, 100, 200, "C1400", "lintel.bearing"},
		{"300 asked is more than the product's, 1000 + 600", wide, leafSeat, 1000, 300, 300, "C1600", "lintel.bearing"},
	} {
		o := Opening{Opening: "W", Clear: c.clear * measure.Millimetre, Asked: c.asked * measure.Millimetre, Seat: c.seat, RoomLeft: measure.Metre, RoomRight: measure.Metre}
		p := pickOne(o, c.cat, nil, false)
		if p.LeastBearing != c.least*measure.Millimetre || p.Product != c.want || !slices.Contains(p.Rules, c.rule) {
			t.Errorf("%s: least %s, %s, %v; want %d, %s, %s", c.name, p.LeastBearing, p.Product, p.Rules, c.least, c.want, c.rule)
		}
	}
}

func TestSeats(t *testing.T) {
	cat := catalogue(t, "NARROW steel_cavity 1500 cavity 50 75", "WIDE steel_cavity 1500 cavity 90 105",
		"C100 concrete_single 1500 thick 100", "C140 concrete_single 1500 thick 140", "ANGLE steel_single 1350")
	for _, c := range []struct {
		seat Seat
		want string
	}{
		{Seat{Leaf: "both", Cavity: 75, Families: FamiliesFor("both")}, "NARROW"},
		{Seat{Leaf: "both", Cavity: 76, Families: FamiliesFor("both")}, ""},
		{Seat{Leaf: "both", Cavity: 90, Families: FamiliesFor("both")}, "WIDE"},
		{Seat{Leaf: "both", Cavity: 106, Families: FamiliesFor("both")}, ""},
		{Seat{Leaf: "single", Thickness: 105, Families: FamiliesFor("single")}, "C100"}, // 5 mm off
		{Seat{Leaf: "single", Thickness: 106, Families: FamiliesFor("single")}, "ANGLE"},
		{Seat{Leaf: "single", Thickness: 140, Families: FamiliesFor("single")}, "C140"},
		{Seat{Leaf: "single", Thickness: 140, Families: []product.Family{product.SteelSingle, product.ConcreteSingle}}, "ANGLE"},
	} {
		c.seat.Cavity *= measure.Millimetre
		c.seat.Thickness *= measure.Millimetre
		p := pickOne(Opening{Clear: measure.Metre, Seat: c.seat, RoomLeft: measure.Metre, RoomRight: measure.Metre}, cat, nil, false)
		if p.Product != c.want {
			t.Errorf("%+v: %q, want %q", c.seat, p.Product, c.want)
		}
	}
}

func TestStockAlternativesAndShort(t *testing.T) {
	cat := ladder(t, "150")
	o := Opening{Opening: "W", At: "/openings/0", Clear: 1800 * measure.Millimetre, Seat: cavitySeat, RoomLeft: measure.Metre, RoomRight: measure.Metre}
	stock := []schedule.Stock{{Product: "S1950", Quantity: 9}, {Product: "S2100", Quantity: 0}, {Product: "S2250", Quantity: 1}, {Product: "S2400", Quantity: 2}, {Product: "C2100", Quantity: 5}}
	picks, findings := Select([]Opening{o, o, o, o}, cat, rulebook.GB(), stock, true)
	got := make([]string, 0, 4)
	for _, p := range picks {
		got = append(got, p.Product+" "+string(p.Status))
	}
	// 2250 x 1 and 2400 x 2 serve three; the fourth is left with the shortest that would serve.
	want := []string{"S2250 in_stock", "S2400 in_stock", "S2400 in_stock", "S2100 out_of_stock"}
	if !slices.Equal(got, want) {
		t.Errorf("picked %q, want %q", got, want)
	}
	p := picks[0]
	if a := p.Alternatives; len(a) != 5 || a[0] != (Alternative{"S2100", 2100 * measure.Millimetre, 150 * measure.Millimetre, OutOfStock}) || !strings.Contains(p.Why, "S2100") {
		t.Errorf("alternatives %+v (%s): the first choice, 2100 and out of stock, must be seen", a, p.Why)
	}
	// 1950 - 1800 = 150, half is 75; 150 - 75 = 75 too little.
	short := []Short{{"S1950", 1950 * measure.Millimetre, 75 * measure.Millimetre,
		"bears 75 mm each end, 75 mm less than the least of 150 mm: not to be used unless the designer agrees"}}
	if !slices.Equal(p.Short, short) {
		t.Errorf("short %+v, want %+v", p.Short, short)
	}
	if len(findings) != 1 || findings[0].Code != "lintel.out_of_stock" || findings[0].Severity != finding.Check {
		t.Errorf("findings %+v", findings)
	}
	// What is in stock is shown before what is not: seven are shorter than 3300.
	far := []schedule.Stock{{Product: "S2100", Quantity: 1}, {Product: "S3300", Quantity: 1}}
	if a := pickOne(o, cat, far, true).Alternatives; len(a) != 5 || a[4].Product != "S3300" || a[4].Status != InStock || a[0].Product != "S2250" {
		t.Errorf("alternatives %+v: 3300 is in stock and must be seen", a)
	}
	// Without stock the next length below is shown.
	if p := pickOne(o, cat, nil, false); !slices.Equal(p.Short, short) || p.Alternatives[0].Status != NotChecked {
		t.Errorf("no stock sent: short %+v, alternatives %+v", p.Short, p.Alternatives)
	}
}

func TestWiderNeverShorter(t *testing.T) {
	cat := ladder(t, "150")
	rapid.Check(t, func(r *rapid.T) {
		sent := rapid.Bool().Draw(r, "sent")
		var stock []schedule.Stock
		for _, p := range cat.OfKind(product.Lintel) {
			if n := rapid.IntRange(0, 3).Draw(r, "stock"); n > 0 {
				stock = append(stock, schedule.Stock{Product: p.Code, Quantity: n})
			}
		}
		openings := make([]Opening, rapid.IntRange(2, 25).Draw(r, "openings"))
		for i := range openings {
			openings[i] = Opening{Clear: measure.Length(rapid.IntRange(300, 4600).Draw(r, "clear")) * measure.Millimetre, Seat: cavitySeat, RoomLeft: 5 * measure.Metre, RoomRight: 5 * measure.Metre}
		}
		picks, _ := Select(openings, cat, rulebook.GB(), stock, sent)
		for _, p := range picks {
			if p.Product != "" && (p.BearingLeft < p.LeastBearing || p.BearingRight < p.LeastBearing || p.LeastBearing < 150*measure.Millimetre) {
				r.Fatalf("bears under its least: %+v", p)
			}
			for _, q := range picks {
				if p.Clear < q.Clear && p.Length > q.Length && p.Status == q.Status {
					r.Fatalf("clear %s gets %s, clear %s gets %s", p.Clear, p.Length, q.Clear, q.Length)
				}
			}
		}
	})
}

// A site allowance is put on the clear width: 1800 + 10 = 1810, so 2250 instead of 2100.
func TestAllowanceOnTheClearWidth(t *testing.T) {
	for allowance, want := range map[measure.Length]measure.Length{0: 2100 * measure.Millimetre, 10 * measure.Millimetre: 2250 * measure.Millimetre} {
		o := Opening{Opening: "W", Clear: 1800 * measure.Millimetre, Allowance: allowance, RoomLeft: measure.MaxLength, RoomRight: measure.MaxLength,
			Seat: Seat{Leaf: "both", Cavity: 100 * measure.Millimetre, Families: FamiliesFor("both")}}
		picks, _ := Select([]Opening{o}, product.Demo(), rulebook.GB(), nil, false)
		if p := picks[0]; p.Length != want || p.Needed != 2100*measure.Millimetre+allowance {
			t.Errorf("allowance %s: %s mm long, needed %s; want %s", allowance, p.Length, p.Needed, want)
		}
	}
}

// By the American rulebook 4 in at each end (IRC R703.8.3, from memory), over any opening:
// 40 in clear + 2 x 4 = 48 in = 1219.2, and the next of the ladder is 1350, which bears
// (1350 - 1016) / 2 = 167 mm.
func TestAmericanBearing(t *testing.T) {
	o := Opening{Wall: "A", Opening: "W", Clear: 40 * measure.Inch, RoomLeft: 2000 * measure.Millimetre, RoomRight: 2000 * measure.Millimetre, Seat: leafSeat}
	picks, _ := Select([]Opening{o}, ladder(t, "150"), rulebook.US(), nil, false)
	p := picks[0]
	if p.LeastBearing != 4*measure.Inch || p.Needed != 48*measure.Inch || p.Length != 1350*measure.Millimetre || p.BearingLeft != 167*measure.Millimetre {
		t.Errorf("least %s, needed %s, length %s bearing %s", p.LeastBearing, p.Needed, p.Length, p.BearingLeft)
	}
}
