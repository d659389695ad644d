package api

import (
	"net/http"
	"strconv"

	"github.com/go-json-experiment/json"

	"hodman/service"
)

// reply is a good answer, ready to be written. It is one type for every call: the
// generated interface asks for a method a call, and they are all the same.
type reply struct {
	status int
	media  string // application/json where empty
	body   []byte // nil: none
	header map[string]string
}

func (r *reply) write(w http.ResponseWriter) error {
	for name, value := range r.header {
		w.Header().Set(name, value)
	}
	if r.body != nil {
		w.Header().Set("Content-Type", or(r.media, "application/json"))
		w.Header().Set("Content-Length", strconv.Itoa(len(r.body)))
	}
	w.WriteHeader(r.status)
	_, err := w.Write(r.body)
	return err
}

// answer writes a value as the engines give it: the same value, the same bytes.
func answer(v any) (*reply, error) {
	body, err := service.Encode(v)
	return &reply{status: http.StatusOK, body: body}, err
}

// tagged is answer for a thing with an entity tag; 304 where the caller has it already.
func tagged(v any, etag string, have *IfNoneMatch) (*reply, error) {
	header := map[string]string{"ETag": etag, "Cache-Control": "private, no-cache"}
	if have != nil && matches(*have, etag) {
		return &reply{status: http.StatusNotModified, header: header}, nil
	}
	r, err := answer(v)
	if err != nil {
		return nil, err
	}
	r.header = header
	return r, nil
}

// created answers for a thing that has been made, or that had been by the same request before.
func created(v any, etag, location string, replayed bool) (*reply, error) {
	body, err := json.Marshal(v, json.Deterministic(true))
	r := &reply{status: http.StatusCreated, body: body, header: map[string]string{"ETag": etag, "Location": location}}
	if replayed {
		r.header["Idempotency-Replayed"] = "true"
	}
	return r, err
}

func (r *reply) VisitComputeTakeoffResponse(w http.ResponseWriter) error  { return r.write(w) }
func (r *reply) VisitSelectLintelsResponse(w http.ResponseWriter) error   { return r.write(w) }
func (r *reply) VisitComputeCoursingResponse(w http.ResponseWriter) error { return r.write(w) }
func (r *reply) VisitPlanDropsResponse(w http.ResponseWriter) error       { return r.write(w) }
func (r *reply) VisitGetRulebookResponse(w http.ResponseWriter) error     { return r.write(w) }
func (r *reply) VisitListProductsResponse(w http.ResponseWriter) error    { return r.write(w) }
func (r *reply) VisitCreateJobResponse(w http.ResponseWriter) error       { return r.write(w) }
func (r *reply) VisitListJobsResponse(w http.ResponseWriter) error        { return r.write(w) }
func (r *reply) VisitGetJobResponse(w http.ResponseWriter) error          { return r.write(w) }
func (r *reply) VisitChangeJobResponse(w http.ResponseWriter) error       { return r.write(w) }
func (r *reply) VisitAddScheduleResponse(w http.ResponseWriter) error     { return r.write(w) }
func (r *reply) VisitListSchedulesResponse(w http.ResponseWriter) error   { return r.write(w) }
func (r *reply) VisitGetScheduleResponse(w http.ResponseWriter) error     { return r.write(w) }
func (r *reply) VisitMakeTakeoffResponse(w http.ResponseWriter) error     { return r.write(w) }
func (r *reply) VisitListTakeoffsResponse(w http.ResponseWriter) error    { return r.write(w) }
func (r *reply) VisitGetTakeoffResponse(w http.ResponseWriter) error      { return r.write(w) }
func (r *reply) VisitListHistoryResponse(w http.ResponseWriter) error     { return r.write(w) }
func (r *reply) VisitGetLiveResponse(w http.ResponseWriter) error         { return r.write(w) }
func (r *reply) VisitGetReadyResponse(w http.ResponseWriter) error        { return r.write(w) }
func (r *reply) VisitDrawElevationResponse(w http.ResponseWriter) error   { return r.write(w) }
func (r *reply) VisitGetElevationResponse(w http.ResponseWriter) error    { return r.write(w) }
