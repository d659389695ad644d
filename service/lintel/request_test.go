package lintel

import (
	"fmt"
	"strings"
	"testing"

	"github.com/go-json-experiment/json"
	"github.com/google/go-cmp/cmp"

	"hodman/service/measure"
	"hodman/service/rulebook"
	"hodman/service/schedule"
)

func request(t testing.TB, doc string) *Request {
	t.Helper()
	r := new(Request)
	if err := json.Unmarshal([]byte(doc), r, json.RejectUnknownMembers(true)); err != nil {
		t.Fatal(err)
	}
	return r
}

func TestCheckFindsAll(t *testing.T) {
	cat := ladder(t, "150")
	r := request(t, `{"rulebook":"nowhere","openings":[
		{"ref":"A","clear_mm":0,"leaf":"both","cavity_mm":100},
		{"ref":"A","leaf":"both"},
		{"ref":"?","clear_mm":20000.001,"bearing_mm":49,"leaf":"half","cavity_mm":24,"thickness_mm":19,"room_left_mm":-1,"room_right_mm":-1},
		{"ref":"B","clear_mm":900,"leaf":"single","family":"steel_cavity"},
		{"ref":"C","clear_mm":900},
		{"ref":"D","clear_mm":900,"family":"concrete_single"},
		{"ref":"E","clear_mm":900,"family":"wooden"},
		{"ref":"F","clear_mm":900,"leaf":"single","thickness_mm":100,"cavity_mm":50},
		{"ref":"G","clear_mm":900,"leaf":"both","thickness_mm":100,"cavity_mm":50}],
		"stock":[{"product":"S600","quantity":-1},{"product":"NONE","quantity":1}]}`)
	var got []string
	for _, f := range r.Check(cat) {
		got = append(got, f.Pointer+" "+f.Code)
	}
	want := strings.Fields(strings.ReplaceAll(`
/rulebook unknown_ref
/openings/0/clear_mm range
/openings/1/ref duplicate
/openings/1/clear_mm required
/openings/1/cavity_mm required
/openings/2/ref pattern
/openings/2/clear_mm range
/openings/2/bearing_mm range
/openings/2/cavity_mm range
/openings/2/thickness_mm range
/openings/2/room_left_mm range
/openings/2/room_right_mm range
/openings/2/leaf choice
/openings/3/family inconsistent
/openings/4/leaf required
/openings/5/thickness_mm required
/openings/6/family choice
/openings/7/cavity_mm inconsistent
/openings/8/thickness_mm inconsistent
/stock/0/quantity range
/stock/1/product unknown_ref`, " ", "~"))
	for i := range want {
		want[i] = strings.ReplaceAll(want[i], "~", " ")
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
}

func TestCheckLimits(t *testing.T) {
	cat := ladder(t, "150")
	one := RequestOpening{Clear: new(measure.Length), Leaf: "both", Cavity: new(measure.Length)}
	*one.Clear, *one.Cavity = measure.Metre, 100*measure.Millimetre
	for n, want := range map[int]int{0: 1, 1: 0, 500: 0, 501: 1} {
		r := &Request{Rulebook: "gb"}
		for i := range n {
			one.Ref = fmt.Sprint("W", i)
			r.Openings = append(r.Openings, one)
		}
		if got := r.Check(cat); len(got) != want {
			t.Errorf("%d openings: %v", n, got)
		}
	}
}

// A clear width of 1800 over a 100 cavity: 150 + 1800 + 150 = 2100, a published example.
func ExampleAnswer() {
	cat := ladder(new(testing.T), "150")
	length := func(mm measure.Length) *measure.Length { mm *= measure.Millimetre; return &mm }
	r := &Request{Rulebook: "gb", Openings: []RequestOpening{{Ref: "W1", Clear: length(1800), Leaf: "both", Cavity: length(100)}}}
	s := Answer(r, cat, rulebook.GB())
	p := s.Lintels[0]
	fmt.Println(p.Product, p.Length, p.BearingLeft, p.BearingRight, p.Status)
	fmt.Println(p.Why)
	// Output:
	// S2100 2100 150 150 not_checked
	// 1800 + 2 x 150 = 2100 mm needed (the rulebook's least); the shortest that is long enough: 2100 mm, steel, for both leaves over a 100 mm cavity
}

// An empty stock list is not the same as none.
func TestEmptyStock(t *testing.T) {
	cat := ladder(t, "150")
	const opening = `"openings":[{"ref":"W","clear_mm":1800,"leaf":"both","cavity_mm":100}]`
	for stock, want := range map[string]Status{"": NotChecked, `,"stock":[]`: OutOfStock} {
		s := Answer(request(t, `{"rulebook":"gb",`+opening+stock+`}`), cat, rulebook.GB())
		if got := s.Lintels[0].Status; got != want {
			t.Errorf("%q: %s, want %s", stock, got, want)
		}
	}
}

func TestFindings(t *testing.T) {
	cat := ladder(t, "150")
	for doc, want := range map[string]string{
		`{"ref":"W","clear_mm":4501,"leaf":"both","cavity_mm":100}`:                     "stop lintel.too_wide",
		`{"ref":"W","clear_mm":4500,"leaf":"both","cavity_mm":100,"bearing_mm":200}`:    "stop lintel.nothing_serves", // 4500 + 400 = 4900, the longest is 4800
		`{"ref":"W","clear_mm":900,"leaf":"both","cavity_mm":150}`:                      "stop lintel.nothing_serves", // none for that cavity
		`{"ref":"W","clear_mm":900,"leaf":"both","cavity_mm":100,"room_left_mm":100}`:   "stop lintel.no_masonry",
		`{"ref":"W","clear_mm":900,"leaf":"both","cavity_mm":100,"room_right_mm":149}`:  "stop lintel.no_masonry",
		`{"ref":"W","clear_mm":900,"leaf":"single","thickness_mm":102.5}`:               "",
		`{"ref":"W","clear_mm":900,"family":"concrete_single","thickness_mm":100}`:      "",
		`{"ref":"W","clear_mm":900,"family":"steel_single","thickness_mm":100}`:         "stop lintel.nothing_serves", // this catalogue has none
		`{"ref":"W","clear_mm":20000,"leaf":"both","cavity_mm":100,"room_left_mm":149}`: "stop lintel.too_wide, stop lintel.no_masonry",
	} {
		s := Answer(request(t, `{"rulebook":"gb","openings":[`+doc+`]}`), cat, rulebook.GB())
		if got := codes(s.Findings); got != want {
			t.Errorf("%s: %q, want %q", doc, got, want)
		}
		if len(s.Cautions) == 0 {
			t.Errorf("%s: no cautions", doc)
		}
		for _, f := range s.Findings {
			if f.At != "/openings/0" || f.Remedy == "" || f.Text == "" {
				t.Errorf("%s: finding without place, text or remedy: %+v", doc, f)
			}
		}
	}
}

func BenchmarkSelect500(b *testing.B) {
	cat := ladder(b, "150")
	var openings []Opening
	for i := range measure.Length(500) {
		openings = append(openings, Opening{Clear: (600 + i*37%3800) * measure.Millimetre, Seat: cavitySeat, RoomLeft: measure.Metre, RoomRight: measure.Metre})
	}
	var stock []schedule.Stock
	for _, p := range cat.Products {
		stock = append(stock, schedule.Stock{Product: p.Code, Quantity: 9})
	}
	for b.Loop() {
		Select(openings, cat, rulebook.GB(), stock, true)
	}
}

func BenchmarkSelectHouse(b *testing.B) {
	cat := ladder(b, "150")
	var openings []Opening
	for i := range measure.Length(12) {
		openings = append(openings, Opening{Clear: (600 + i*37%9*300) * measure.Millimetre, Seat: cavitySeat, RoomLeft: measure.Metre, RoomRight: measure.Metre})
	}
	for b.Loop() {
		Select(openings, cat, rulebook.GB(), nil, false)
	}
}
