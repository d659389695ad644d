package api

import (
	"bytes"
	"fmt"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"hodman/service"
	"hodman/testdata"
)

const small = `{"reference":"Garden wall","rulebook":"gb","wall_types":[{"key":"HB","single":{"product":"BRK-65-FACE"}}],` +
	`"walls":[{"ref":"A","type":"HB","length_mm":3015,"height_mm":1350,"left":"stop_end","right":"stop_end"}]}`

// TestDocumentTraps sends what lax decoders let through. Each case changes the one good
// document in one place.
func TestDocumentTraps(t *testing.T) {
	c := computing(t, Config{})
	c.send(http.MethodPost, "/v1/takeoffs", small).want(t, http.StatusOK)
	deep := strings.Repeat("[", 40) + strings.Repeat("]", 40)
	for _, each := range []struct {
		name, from, to string
		status         int
		want           string // the first mistake
	}{
		{"name in other case", `"reference"`, `"Reference"`, 422, "/Reference unknown"},
		{"name in other case besides", `{"reference"`, `{"REFERENCE":"x","reference"`, 422, "/REFERENCE unknown"},
		{"member twice", `{"reference"`, `{"reference":"x","reference"`, 400, "/reference duplicate_member"},
		{"member twice, escaped", `{"reference"`, `{"r\u0065ference":"x","reference"`, 400, "/reference duplicate_member"},
		{"unknown member", `"ref":"A"`, `"ref":"A","colour":"red"`, 422, "/walls/0/colour unknown"},
		{"null for a choice", `"ref":"A"`, `"ref":"A","top":null`, 422, "/walls/0/top null"},
		{"null for a needed one", `3015`, `null`, 422, "/walls/0/length_mm null"},
		{"empty word", `"BRK-65-FACE"`, `"BRK-65-FACE","bond":""`, 422, "/wall_types/0/single/bond choice"},
		{"number as text", `3015`, `"3015"`, 422, "/walls/0/length_mm type"},
		{"finer than a micrometre", `3015`, `3015.0001`, 422, "/walls/0/length_mm range"},
		{"huge exponent", `3015`, `1e999999999`, 422, "/walls/0/length_mm range"},
		{"tiny exponent", `3015`, `1e-999999999`, 422, "/walls/0/length_mm range"},
		{"very many digits", `3015`, strings.Repeat("9", 100_000), 422, "/walls/0/length_mm range"},
		{"NUL", `Garden wall`, `Garden\u0000wall`, 400, "/reference nul"},
		{"NUL in a name", `"reference"`, `"ref\u0000"`, 400, "/ref\u0000 nul"},
		{"bad UTF-8", `Garden`, "Gar\xffden", 400, "/reference not_json"},
		{"half a surrogate", `Garden`, `\ud800`, 400, "/reference not_json"},
		{"something after", `"right":"stop_end"}]}`, `"right":"stop_end"}]} {}`, 400, " trailing_bytes"},
		{"broken off", `"right":"stop_end"}]}`, `"right"`, 400, " not_json"},
		{"nothing", small, ``, 400, " not_json"},
		{"no object", small, `[]`, 422, " type"},
		{"a byte order mark", `{"reference"`, "\ufeff{\"reference\"", 400, " not_json"},
		{"too deep", `3015`, deep, 400, " too_deep"},
		{"too deep where unknown", `"ref":"A"`, `"ref":"A","x":` + deep, 400, " too_deep"},
		{"of other sense", `"type":"HB"`, `"type":"XX"`, 422, "/walls/0/type unknown_ref"},
	} {
		t.Run(each.name, func(t *testing.T) {
			body := strings.Replace(small, each.from, each.to, 1)
			if body == small {
				t.Fatal("nothing changed")
			}
			got := c.send(http.MethodPost, "/v1/takeoffs", body).want(t, each.status).codes(t)
			if len(got) == 0 || got[0] != each.want {
				t.Errorf("mistakes %q, want first %q", got, each.want)
			}
		})
	}
}

// TestEveryMistakeAtOnce mixes mistakes of form and of sense in one document.
func TestEveryMistakeAtOnce(t *testing.T) {
	c := computing(t, Config{})
	body := `{"rulebook":"zz","wall_types":[{"key":"HB","single":{"product":"NOPE","bond":"flemish","headers_every":4}},{"key":"HB","single":{"product":"BRK-65-FACE"},"mortar":"M3"}],
		"walls":[{"ref":"A","type":"XX","length_mm":"3 m","height_mm":0,"left":"stop_end","right":"stop_end","colour":"red"},{"ref":"A","type":"HB","length_mm":1000,"height_mm":1000,"left":"stop_end","right":"external_corner"}],
		"lifts":{"tops_mm":[2700,1350]}}`
	got := c.send(http.MethodPost, "/v1/takeoffs", body).want(t, http.StatusUnprocessableEntity).codes(t)
	want := []string{
		"/reference required", "/wall_types/1/mortar choice", "/walls/0/colour unknown", "/walls/0/height_mm range", "/walls/0/length_mm type",
		"/rulebook unknown_ref", "/wall_types/0/single/product unknown_ref", "/wall_types/0/single/headers_every inconsistent", "/wall_types/1/key duplicate",
		"/walls/0/type unknown_ref", "/walls/1/ref duplicate", "/walls/1/right corner_unmatched", "/lifts/tops_mm/1 not_rising",
	}
	slices.Sort(got)
	slices.Sort(want)
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
}

func TestNoMoreThanAHundredMistakes(t *testing.T) {
	c := computing(t, Config{})
	openings := strings.TrimSuffix(strings.Repeat(`{},`, 60), ",") // five members are missing in each: 300
	body := strings.Replace(small, `"ref":"A"`, `"ref":"A","openings":[`+openings+`]`, 1)
	p := c.send(http.MethodPost, "/v1/takeoffs", body).want(t, http.StatusUnprocessableEntity).problem(t)
	if len(p.Errors) != 100 || p.ErrorsTotal != 300 {
		t.Errorf("%d told of %d, want 100 of 300", len(p.Errors), p.ErrorsTotal)
	}
}

// TestRequestTraps sends good documents in bad envelopes.
func TestRequestTraps(t *testing.T) {
	c := computing(t, Config{MaxBody: 2000})
	for _, each := range []struct {
		name, method, target, body string
		headers                    []string
		status                     int
		header, value              string // of the answer
	}{
		{"other media type", "POST", "/v1/takeoffs", small, []string{"Content-Type", "text/plain"}, 415, "Accept", "application/json"},
		{"no media type", "POST", "/v1/takeoffs", small, []string{"Content-Type", ""}, 415, "Accept", "application/json"},
		{"other charset", "POST", "/v1/takeoffs", small, []string{"Content-Type", "application/json; charset=latin1"}, 415, "Accept", "application/json"},
		{"this charset", "POST", "/v1/takeoffs", small, []string{"Content-Type", "application/json; charset=UTF-8"}, 200, "", ""},
		{"packed", "POST", "/v1/takeoffs", small, []string{"Content-Encoding", "gzip"}, 415, "Accept-Encoding", "identity"},
		{"too large", "POST", "/v1/takeoffs", small + strings.Repeat(" ", 2000), nil, 413, "", ""},
		{"not acceptable", "POST", "/v1/takeoffs", small, []string{"Accept", "text/csv"}, 406, "", ""},
		{"refused by weight", "POST", "/v1/takeoffs", small, []string{"Accept", "application/json;q=0"}, 406, "", ""},
		{"acceptable", "POST", "/v1/takeoffs", small, []string{"Accept", "text/csv, application/*;q=0.1"}, 200, "", ""},
		{"other method", "GET", "/v1/takeoffs", "", nil, 405, "Allow", "OPTIONS, POST"},
		{"other method where GET is", "DELETE", "/v1/products", "", nil, 405, "Allow", "OPTIONS, GET, HEAD"},
		{"no such address", "GET", "/v1/nothing", "", nil, 404, "", ""},
		{"unknown query", "GET", "/v1/products?colour=red", "", nil, 400, "", ""},
		{"unknown query on a POST", "POST", "/v1/takeoffs?dry=1", small, nil, 400, "", ""},
		{"query twice", "GET", "/v1/products?kind=brick&kind=block", "", nil, 400, "", ""},
		{"bad UTF-8 in the query", "GET", "/v1/products?cursor=%ff", "", nil, 400, "", ""},
		{"NUL in the query", "GET", "/v1/products?cursor=%00", "", nil, 400, "", ""},
		{"bad query", "GET", "/v1/products?kind=%zz", "", nil, 400, "", ""},
		{"kind that is none", "GET", "/v1/products?kind=Brick", "", nil, 400, "", ""},
		{"limit too large", "GET", "/v1/products?limit=201", "", nil, 400, "", ""},
		{"limit under one", "GET", "/v1/products?limit=0", "", nil, 400, "", ""},
		{"limit no number", "GET", "/v1/products?limit=1e1", "", nil, 400, "", ""},
		{"made-up cursor", "GET", "/v1/products?cursor=AAAA", "", nil, 400, "", ""},
		{"rulebook that is none", "GET", "/v1/rulebooks/fr", "", nil, 404, "", ""},
		{"bad UTF-8 in the path", "GET", "/v1/rulebooks/%ff", "", nil, 400, "", ""},
		{"no key", "GET", "/v1/jobs", "", nil, 401, "Www-Authenticate", `Bearer realm="hodman"`},
		{"a key of another form", "GET", "/v1/jobs", "", []string{"Authorization", "Bearer nonsense"}, 401, "Www-Authenticate", `Bearer realm="hodman", error="invalid_token"`},
		{"another scheme", "GET", "/v1/jobs", "", []string{"Authorization", "Basic eDp5"}, 400, "Www-Authenticate", `Bearer realm="hodman", error="invalid_request"`},
		{"the key comes before the document", "POST", "/v1/jobs", "{", nil, 401, "", ""},
	} {
		t.Run(each.name, func(t *testing.T) {
			a := c.send(each.method, each.target, each.body, each.headers...).want(t, each.status)
			if each.header != "" && a.Header.Get(each.header) != each.value {
				t.Errorf("%s is %q, want %q", each.header, a.Header.Get(each.header), each.value)
			}
		})
	}
}

func TestParameterCodes(t *testing.T) {
	c := computing(t, Config{})
	for target, want := range map[string]string{
		"/v1/products?kind=Brick":                  "kind choice",
		"/v1/products?limit=201":                   "limit range",
		"/v1/products?limit=x":                     "limit type",
		"/v1/products?cursor=a.b":                  "cursor pattern",
		"/v1/products?kind=brick&kind=block":       "kind duplicate",
		"/v1/products?colour=red":                  "colour unknown",
		"/v1/rulebooks/" + strings.Repeat("x", 65): "rulebook length",
	} {
		if got := c.send(http.MethodGet, target, "").want(t, http.StatusBadRequest).codes(t); !slices.Equal(got, []string{want}) {
			t.Errorf("%s: mistakes %q, want %q", target, got, want)
		}
	}
}

// unread is a body that may not be touched.
type unread struct{ t *testing.T }

func (u unread) Read([]byte) (int, error) {
	u.t.Error("a body that says it is too large was read")
	return 0, nil
}
func (unread) Close() error { return nil }

func TestTooLargeIsNotRead(t *testing.T) {
	c := computing(t, Config{})
	r := httptest.NewRequest(http.MethodPost, "/v1/takeoffs", nil)
	r.Header.Set("Content-Type", "application/json")
	r.Body, r.ContentLength = unread{t}, service.MaxDocument+1
	c.do(r).want(t, http.StatusRequestEntityTooLarge)
}

// The American book is answered, and a wall by it: brick in line, a mortar of that book.
func TestAmericanBook(t *testing.T) {
	c := computing(t, Config{})
	c.send(http.MethodGet, "/v1/rulebooks/us", "").want(t, http.StatusOK)
	doc := strings.NewReplacer(`"gb"`, `"us"`, `{"product":"BRK-65-FACE"}`,
		`{"unit":{"kind":"brick","length_mm":193.675,"thickness_mm":92.075,"height_mm":57.15,"mass_kg":2},"bed_joint_mm":10.583,"mortar":"S"}`).Replace(small)
	c.send(http.MethodPost, "/v1/takeoffs", doc).want(t, http.StatusOK)
	c.send(http.MethodPost, "/v1/takeoffs", strings.Replace(doc, `"S"`, `"M4"`, 1)).want(t, http.StatusUnprocessableEntity)
}

func TestHead(t *testing.T) {
	c := computing(t, Config{})
	get, head := c.send(http.MethodGet, "/v1/rulebooks/gb", ""), c.send(http.MethodHead, "/v1/rulebooks/gb", "")
	head.want(t, http.StatusOK)
	if len(head.body) != 0 || head.Header.Get("ETag") != get.Header.Get("ETag") || head.Header.Get("Content-Length") != fmt.Sprint(len(get.body)) {
		t.Errorf("HEAD answers %d bytes with %v", len(head.body), head.Header)
	}
	c.send(http.MethodHead, "/v1/takeoffs", "").want(t, http.StatusMethodNotAllowed)
	if allow := c.send(http.MethodOptions, "/v1/products", "").Header.Get("Allow"); allow != "OPTIONS, GET, HEAD" {
		t.Errorf("OPTIONS allows %q", allow)
	}
}

func TestRequestID(t *testing.T) {
	c := computing(t, Config{})
	if got := c.send(http.MethodGet, "/livez", "", "X-Request-Id", "job-7.a_B").Header.Get("X-Request-Id"); got != "job-7.a_B" {
		t.Errorf("a good id came back as %q", got)
	}
	for _, bad := range []string{"a b", "x\ty", strings.Repeat("x", 65), `"`} {
		if got := c.send(http.MethodGet, "/livez", "", "X-Request-Id", bad).Header.Get("X-Request-Id"); got == bad || len(got) != 36 {
			t.Errorf("id %q came back as %q", bad, got)
		}
	}
}

// TestForgedAddress shows that what a caller says of its address changes nothing.
func TestForgedAddress(t *testing.T) {
	c := computing(t, Config{Rate: 0.001, Burst: 3})
	for i := range 3 {
		c.send(http.MethodGet, "/v1/rulebooks/gb", "", "X-Forwarded-For", fmt.Sprintf("198.51.100.%d", i)).want(t, http.StatusOK)
	}
	a := c.send(http.MethodGet, "/v1/rulebooks/gb", "", "X-Forwarded-For", "203.0.113.9", "X-Real-Ip", "203.0.113.9", "Forwarded", "for=203.0.113.9")
	if a.want(t, http.StatusTooManyRequests).Header.Get("Retry-After") == "" {
		t.Error("no Retry-After")
	}
	c.from = "192.0.2.2:1234"
	c.send(http.MethodGet, "/v1/rulebooks/gb", "").want(t, http.StatusOK)
}

// TestFull fills every place for computing and asks for one more.
func TestFull(t *testing.T) {
	s := &server{Config: Config{QueueWait: time.Millisecond}, slots: make(chan struct{}, 1)}
	free, err := s.slot(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	_, err = s.slot(t.Context())
	p, header := problemOf(err)
	if p.Status != http.StatusServiceUnavailable || header.Get("Retry-After") != "2" {
		t.Errorf("a full house answers %d, %v", p.Status, header)
	}
	free()
	if _, err := s.slot(t.Context()); err != nil {
		t.Errorf("a place was given back and is not there: %v", err)
	}
}

// TestNothingLeaks breaks a handler and looks for the cause in the answer, then in the log.
func TestNothingLeaks(t *testing.T) {
	var logged bytes.Buffer
	h := New(Config{}, nil, slog.New(slog.NewTextHandler(&logged, nil))) // no service: every call panics
	c := &client{t: t, handler: h, from: "192.0.2.1:1234"}
	a := c.send(http.MethodPost, "/v1/takeoffs", small).want(t, http.StatusInternalServerError)
	if p := a.problem(t); p.Detail != "internal error" || strings.Contains(string(a.body), "nil") {
		t.Errorf("told: %s", a.body)
	}
	if got := logged.String(); strings.Count(got, "\n") != 1 || !strings.Contains(got, "cause=") || !strings.Contains(got, "route=/v1/takeoffs") {
		t.Errorf("logged: %s", got)
	}
}

// TestMetrics finds the route, not the path.
func TestMetrics(t *testing.T) {
	c := computing(t, Config{})
	c.send(http.MethodGet, "/v1/rulebooks/gb", "").want(t, http.StatusOK)
	c.send(http.MethodGet, "/v1/nothing/secret", "").want(t, http.StatusNotFound)
	c.send("BREW", "/v1/products", "").want(t, http.StatusMethodNotAllowed)
	got := string(c.send(http.MethodGet, "/metrics", "").want(t, http.StatusOK).body)
	if !strings.Contains(got, `http_server_request_duration_seconds_count{http_request_method="GET",http_response_status_code="200",http_route="/v1/rulebooks/:rulebook"} 1`) ||
		!strings.Contains(got, `http_request_method="_OTHER"`) || strings.Contains(got, "secret") || strings.Contains(got, "BREW") {
		t.Errorf("metrics:\n%s", got)
	}
}

func TestPages(t *testing.T) {
	c := computing(t, Config{})
	c.send(http.MethodGet, "/livez", "").want(t, http.StatusOK)
	c.send(http.MethodGet, "/readyz", "").want(t, http.StatusOK)
	c.send(http.MethodGet, "/openapi.json", "").want(t, http.StatusOK)
	a := c.send(http.MethodGet, "/docs/", "").want(t, http.StatusOK)
	if !strings.Contains(a.Header.Get("Content-Security-Policy"), "default-src 'none'") {
		t.Error("the pages have no policy")
	}
	if bytes.Contains(a.body, []byte(`src="http`)) || bytes.Contains(a.body, []byte(`href="http`)) {
		t.Errorf("the pages load from elsewhere:\n%s", a.body)
	}
	loads := regexp.MustCompile(`(?:src|href)="(/docs/[^"]+)"`).FindAllSubmatch(a.body, -1)
	if len(loads) < 3 {
		t.Errorf("the page loads %d files: it cannot work", len(loads))
	}
	for _, l := range loads {
		c.send(http.MethodGet, string(l[1]), "").want(t, http.StatusOK)
	}
	none := c.send(http.MethodGet, "/docs/nothing.js", "").want(t, http.StatusNotFound)
	if media := none.Header.Get("Content-Type"); media != "application/problem+json" {
		t.Errorf("a page that is not there is told of as %s", media)
	}
}

func TestCatalogueByPages(t *testing.T) {
	c := computing(t, Config{})
	var codes []string
	pages := 0
	for next := "/v1/products?limit=7"; next != ""; pages++ {
		a := c.send(http.MethodGet, next, "").want(t, http.StatusOK)
		var p struct {
			Items []struct {
				Product string `json:"product"`
			} `json:"items"`
			Next string `json:"next"`
		}
		a.into(t, &p)
		for _, item := range p.Items {
			codes = append(codes, item.Product)
		}
		if link := a.Header.Get("Link"); p.Next != "" && link != "<"+p.Next+`>; rel="next"` || p.Next == "" && link != "" {
			t.Errorf("next is %q, Link %q", p.Next, link)
		}
		if pages == 0 { // the cursor belongs to this list and filter
			c.send(http.MethodGet, p.Next+"&kind=brick", "").want(t, http.StatusBadRequest)
			c.send(http.MethodGet, strings.Replace(p.Next, "limit=7", "limit=9", 1), "").want(t, http.StatusOK)
		}
		next = p.Next
	}
	all := service.New(nil).Catalogue().Products
	if len(codes) != len(all) || pages < 2 {
		t.Fatalf("%d products on %d pages, want %d", len(codes), pages, len(all))
	}
	for i := range all {
		if codes[i] != all[i].Code {
			t.Errorf("product %d is %s, want %s", i, codes[i], all[i].Code)
		}
	}
}

// TestNoWhere shows what a service without a database says.
func TestNoWhere(t *testing.T) {
	c := computing(t, Config{})
	c.key = "hod_AAAAAAAA_" + strings.Repeat("A", 43)
	a := c.send(http.MethodGet, "/v1/jobs", "").want(t, http.StatusServiceUnavailable)
	if a.Header.Get("Retry-After") == "" {
		t.Error("no Retry-After")
	}
}

// TestImpossiblePlan is an answer that names what breaks it.
func TestImpossiblePlan(t *testing.T) {
	c := computing(t, Config{})
	drops := strings.TrimSuffix(strings.TrimSpace(string(testdata.RearWingDrops)), "}") + `,"schedule":` + string(testdata.RearWing) + "}"
	drops = strings.Replace(drops, `"max_kg": 16000`, `"max_kg": 100`, 1)
	got := c.send(http.MethodPost, "/v1/drop-plans", drops).want(t, http.StatusConflict).codes(t)
	if len(got) == 0 || !strings.HasPrefix(got[0], "/yard/max_kg ") {
		t.Errorf("mistakes %q", got)
	}
}

// TestLiftLoadsAreWhole takes one member after another out of a drop plan request.
func TestLiftLoadsAreWhole(t *testing.T) {
	c := computing(t, Config{})
	const whole = `{"lift_loads":[{"lift":1,"from_mm":0,"to_mm":1350,"mass_kg":2300,"lines":[{"product":"BRK-65-FACE","kind":"brick","unit":"each","required":1000,"pack":400,"pack_kg":920,"loose":false,"mass_kg":2300}]}],` +
		`"programme":{"start":"2027-03-08","bricklayers":2,"holidays":["2027-03-26"]},"vehicles":[{"key":"V","payload_kg":9000,"places":10,"cost":"95.00"}],"currency":"GBP"}`
	c.send(http.MethodPost, "/v1/drop-plans", whole).want(t, http.StatusOK)
	for _, each := range [][3]string{
		{`"required":1000,`, ``, "/lift_loads/0/lines/0/required required"},
		{`"pack":400,`, ``, "/lift_loads/0/lines/0/pack required"},
		{`"from_mm":0,`, ``, "/lift_loads/0/from_mm required"},
		{`"lines":[`, `"lines":[],"line":[`, "/lift_loads/0/line unknown"},
		{`"mass_kg":2300,"lines"`, `"mass_kg":-1,"lines"`, "/lift_loads/0/mass_kg range"},
		{`"cost":"95.00"`, `"cost":95`, "/vehicles/0/cost type"},
		{`2027-03-26`, `2027-02-30`, "/programme/holidays/0 pattern"},
	} {
		body := strings.Replace(whole, each[0], each[1], 1)
		got := c.send(http.MethodPost, "/v1/drop-plans", body).want(t, http.StatusUnprocessableEntity).codes(t)
		if len(got) == 0 || got[0] != each[2] {
			t.Errorf("without %s: mistakes %q, want %q", each[0], got, each[2])
		}
	}
}

func TestSpanOfLengths(t *testing.T) {
	for want, of := range map[string][2]uint64{"3": {3, 3}, "1 to 200": {1, 200}} {
		if got := span(of[0], of[1]); got != want {
			t.Errorf("%v reads %q; want %q", of, got, want)
		}
	}
}
