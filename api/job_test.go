package api

import (
	"net/http"
	"strings"
	"testing"

	"github.com/go-json-experiment/json/jsontext"
	"github.com/google/uuid"

	"hodman/service"
	"hodman/testdata"
)

// TestJobFromDraftToHistory goes the whole way of a job.
func TestJobFromDraftToHistory(t *testing.T) {
	t.Parallel()
	c, _ := keeping(t)
	made := c.send(http.MethodPost, "/v1/jobs", `{"reference":"Fallow Yard, plot 2","site":{"name":"Fallow Yard"}}`).want(t, http.StatusCreated)
	at := made.Header.Get("Location")
	if made.Header.Get("ETag") != `"1"` || !strings.HasPrefix(at, "/v1/jobs/") {
		t.Fatalf("made with %v", made.Header)
	}
	got := c.send(http.MethodGet, at, "").want(t, http.StatusOK)
	if string(got.body) != string(made.body) {
		t.Errorf("made %s\nread %s", made.body, got.body)
	}
	c.send(http.MethodGet, at, "", "If-None-Match", `"1"`).want(t, http.StatusNotModified)
	c.send(http.MethodGet, at, "", "If-None-Match", `"x", W/"1"`).want(t, http.StatusNotModified)

	kept := c.send(http.MethodPost, at+"/schedules", string(testdata.RearWing)).want(t, http.StatusCreated)
	if kept.Header.Get("Location") != at+"/schedules/1" {
		t.Errorf("schedule at %s", kept.Header.Get("Location"))
	}
	var sched struct {
		Schedule jsontext.Value `json:"schedule"`
	}
	c.send(http.MethodGet, at+"/schedules/1", "").want(t, http.StatusOK).into(t, &sched)
	want := jsontext.Value(testdata.RearWing).Clone()
	if want.Compact() != nil || string(want) != string(sched.Schedule) {
		t.Errorf("sent %s\nread %s", want, sched.Schedule)
	}
	taken := c.send(http.MethodPost, at+"/takeoffs", `{}`).want(t, http.StatusCreated)
	again := c.send(http.MethodGet, taken.Header.Get("Location"), "").want(t, http.StatusOK)
	if string(again.body) != string(taken.body) {
		t.Error("the takeoff reads back otherwise")
	}
	open := c.send(http.MethodPost, "/v1/takeoffs", string(testdata.RearWing)).want(t, http.StatusOK)
	if !strings.Contains(string(taken.body), string(open.body)) {
		t.Error("the kept takeoff is not the one that the open call gives")
	}
	c.send(http.MethodGet, at+"/schedules/1", "", "If-None-Match", "*").want(t, http.StatusNotModified)
	c.send(http.MethodGet, at+"/schedules/2", "").want(t, http.StatusNotFound)
	c.send(http.MethodGet, at+"/takeoffs/"+uuid.NewString(), "").want(t, http.StatusNotFound)

	var kinds []string
	for next := at + "/history?limit=2"; next != ""; {
		var p page[service.Event]
		c.send(http.MethodGet, next, "").want(t, http.StatusOK).into(t, &p)
		for _, e := range p.Items {
			kinds = append(kinds, string(e.Kind))
		}
		next = p.Next
	}
	if got := strings.Join(kinds, " "); got != "takeoff_made schedule_added job_created" {
		t.Errorf("history: %s", got)
	}
	for _, list := range []string{"/v1/jobs", at + "/schedules", at + "/takeoffs"} {
		var p page[jsontext.Value]
		c.send(http.MethodGet, list, "").want(t, http.StatusOK).into(t, &p)
		if len(p.Items) != 1 || p.Next != "" {
			t.Errorf("%s lists %d, next %q", list, len(p.Items), p.Next)
		}
	}
}

func TestChangeNeedsTheVersion(t *testing.T) {
	t.Parallel()
	c, _ := keeping(t)
	at := c.send(http.MethodPost, "/v1/jobs", `{"reference":"R","customer":"C","site":{"name":"N","address":"A"},"notes":"x"}`).want(t, http.StatusCreated).Header.Get("Location")
	for _, each := range []struct {
		name, match, patch string
		status             int
		code               string // of the problem, or the job's texts after
	}{
		{"no version", "", `{"notes":"y"}`, 428, "match_needed"},
		{"bare word", "1", `{"notes":"y"}`, 400, "parameters"},
		{"weak tag", `W/"1"`, `{"notes":"y"}`, 412, ""},
		{"other version", `"2"`, `{"notes":"y"}`, 412, ""},
		{"none of a list", `"7", "8"`, `{"notes":"y"}`, 412, ""},
		{"the version", `"1"`, `{"notes":"y"}`, 200, "R C N A y"},
		{"one of a list", `"1", "2"`, `{"site":{"address":null}}`, 200, "R C N  y"},
		{"any", `*`, `{"site":null,"customer":null}`, 200, "R    y"},
		{"nothing", `*`, `{}`, 200, "R    y"},
		{"reference cannot go", `*`, `{"reference":null}`, 422, "invalid"},
		{"reference not empty", `*`, `{"reference":""}`, 422, "invalid"},
		{"other case", `*`, `{"Reference":"S"}`, 422, "invalid"},
		{"the server's own", `*`, `{"version":9}`, 422, "invalid"},
		{"twice", `*`, `{"notes":"a","notes":"b"}`, 400, "duplicate_member"},
		{"NUL", `*`, `{"notes":"a\u0000"}`, 400, "nul"},
	} {
		a := c.send(http.MethodPatch, at, each.patch, "If-Match", each.match)
		if a.StatusCode != each.status {
			t.Fatalf("%s: status %d, want %d\n%s", each.name, a.StatusCode, each.status, a.body)
		}
		if each.status >= 400 {
			p := a.problem(t)
			if each.code != "" && p.Code != each.code {
				t.Errorf("%s: code %s, want %s", each.name, p.Code, each.code)
			}
			if each.status == 412 && p.CurrentETag != `"1"` {
				t.Errorf("%s: current_etag %q", each.name, p.CurrentETag)
			}
			continue
		}
		var j service.Job
		a.into(t, &j)
		if got := strings.Join([]string{j.Reference, j.Customer, j.Site.Name, j.Site.Address, j.Notes}, " "); got != each.code {
			t.Errorf("%s: %q, want %q", each.name, got, each.code)
		}
		if a.Header.Get("ETag") != service.ETag(j.Version) {
			t.Errorf("%s: ETag %s of version %d", each.name, a.Header.Get("ETag"), j.Version)
		}
	}
	a := c.send(http.MethodPatch, at, `{"notes":"z"}`, "If-Match", "*", "Content-Type", "application/json").want(t, http.StatusUnsupportedMediaType)
	if a.Header.Get("Accept-Patch") != "application/merge-patch+json" {
		t.Errorf("Accept-Patch %q", a.Header.Get("Accept-Patch"))
	}
}

func TestSentTwiceHappensOnce(t *testing.T) {
	t.Parallel()
	c, _ := keeping(t)
	const key = "8e03978e-40d5-43dd-bc93-6894a57f9324"
	first := c.send(http.MethodPost, "/v1/jobs", `{"reference":"R"}`, "Idempotency-Key", key).want(t, http.StatusCreated)
	again := c.send(http.MethodPost, "/v1/jobs", `{"reference":"R"}`, "Idempotency-Key", `"`+key+`"`).want(t, http.StatusCreated)
	if again.Header.Get("Idempotency-Replayed") != "true" || first.Header.Get("Idempotency-Replayed") != "" || string(again.body) != string(first.body) {
		t.Errorf("first %s\nagain %s %v", first.body, again.body, again.Header)
	}
	c.send(http.MethodPost, "/v1/jobs", `{"reference":"S"}`, "Idempotency-Key", key).want(t, http.StatusUnprocessableEntity)
	for _, bad := range []string{"", "short", `"` + key, strings.Repeat("x", 65), key + "\u00e9"} {
		c.send(http.MethodPost, "/v1/jobs", `{"reference":"R"}`, "Idempotency-Key", bad).want(t, http.StatusBadRequest)
	}
	at := first.Header.Get("Location")
	for _, each := range []struct{ path, body string }{{"/schedules", small}, {"/takeoffs", `{"schedule_revision":1}`}} {
		a := c.send(http.MethodPost, at+each.path, each.body, "Idempotency-Key", key+each.path[1:5]).want(t, http.StatusCreated)
		b := c.send(http.MethodPost, at+each.path, each.body, "Idempotency-Key", key+each.path[1:5]).want(t, http.StatusCreated)
		if string(a.body) != string(b.body) || b.Header.Get("Idempotency-Replayed") != "true" {
			t.Errorf("%s: first %s\nagain %s", each.path, a.body, b.body)
		}
	}
}

// TestAnothersJob is not there, whatever is done with it.
func TestAnothersJob(t *testing.T) {
	t.Parallel()
	c, svc := keeping(t)
	at := c.send(http.MethodPost, "/v1/jobs", `{"reference":"R"}`).want(t, http.StatusCreated).Header.Get("Location")
	c.send(http.MethodPost, "/v1/jobs", `{"reference":"R2"}`).want(t, http.StatusCreated)
	var mine page[service.Job]
	c.send(http.MethodGet, "/v1/jobs?limit=1", "").want(t, http.StatusOK).into(t, &mine)

	c.key = newKey(t, svc, "another")
	c.send(http.MethodGet, at, "").want(t, http.StatusNotFound)
	c.send(http.MethodPatch, at, `{"notes":"y"}`, "If-Match", "*").want(t, http.StatusNotFound)
	c.send(http.MethodPatch, at, `{"notes":"y"}`, "If-Match", `"1"`).want(t, http.StatusNotFound)
	c.send(http.MethodPost, at+"/schedules", small).want(t, http.StatusNotFound)
	c.send(http.MethodPost, at+"/takeoffs", `{}`).want(t, http.StatusNotFound)
	for _, list := range []string{"/schedules", "/takeoffs", "/history", "/schedules/1"} {
		c.send(http.MethodGet, at+list, "").want(t, http.StatusNotFound)
	}
	c.send(http.MethodGet, mine.Next, "").want(t, http.StatusBadRequest) // the cursor is bound to the merchant
	var theirs page[service.Job]
	c.send(http.MethodGet, "/v1/jobs", "").want(t, http.StatusOK).into(t, &theirs)
	if len(theirs.Items) != 0 {
		t.Errorf("another merchant sees %d jobs", len(theirs.Items))
	}
}

func TestJobTraps(t *testing.T) {
	t.Parallel()
	c, _ := keeping(t)
	at := c.send(http.MethodPost, "/v1/jobs", `{"reference":"R"}`).want(t, http.StatusCreated).Header.Get("Location")
	for _, each := range []struct {
		name, method, path, body string
		status                   int
	}{
		{"no id", "GET", "/v1/jobs/not-a-uuid", "", 400},
		{"an id of version 7", "GET", "/v1/jobs/01999999-9999-7999-8999-999999999999", "", 404},
		{"bad UTF-8 for an id", "GET", "/v1/jobs/%ff", "", 400},
		{"no number", "GET", at + "/schedules/latest", "", 400},
		{"nought", "GET", at + "/schedules/0", "", 400},
		{"beyond int32", "GET", at + "/schedules/2147483648", "", 400},
		{"no reference", "POST", "/v1/jobs", `{}`, 422},
		{"reference too long", "POST", "/v1/jobs", `{"reference":"` + strings.Repeat("x", 201) + `"}`, 422},
		{"reference of 200 characters", "POST", "/v1/jobs", `{"reference":"` + strings.Repeat("\u00e9", 200) + `"}`, 201},
		{"null", "POST", "/v1/jobs", `{"reference":"R","notes":null}`, 422},
		{"case", "POST", "/v1/jobs", `{"reference":"R","Notes":"x"}`, 422},
		{"broken", "POST", "/v1/jobs", `{"reference":"R"`, 400},
		{"takeoff of none", "POST", at + "/takeoffs", `{}`, 404},
		{"takeoff of nought", "POST", at + "/takeoffs", `{"schedule_revision":0}`, 422},
		{"takeoff of a half", "POST", at + "/takeoffs", `{"schedule_revision":1.5}`, 422},
		{"takeoff of 1e0", "POST", at + "/takeoffs", `{"schedule_revision":1e0}`, 422},
		{"bad schedule", "POST", at + "/schedules", `{"reference":"R"}`, 422},
	} {
		t.Run(each.name, func(t *testing.T) {
			c := *c
			c.t = t
			c.send(each.method, each.path, each.body).want(t, each.status)
		})
	}
}
