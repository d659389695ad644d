package api

import (
	"crypto/hmac"
	"crypto/sha256"
	"encoding/base64"
	"net/url"

	"hodman/service"
)

// page is part of a list as it is answered.
type page[T any] struct {
	Items []T    `json:"items"`
	Next  string `json:"next,omitzero"`
}

// page reads where in a list to go on.
func (in *call) page(limit *Limit, cursor *Cursor) (service.Page, error) {
	var p service.Page
	if limit != nil {
		p.Limit = int(*limit)
	}
	if cursor == nil {
		return p, nil
	}
	after, ok := in.open(*cursor)
	if !ok {
		return p, &service.Error{Kind: service.BadRequest, Code: "cursor_mismatch",
			Message: "The cursor is not one of this list and these filters. Start again without it."}
	}
	p.After = after
	return p, nil
}

// listed answers with part of a list, and in Link and next with where it goes on.
func listed[T any](in *call, list service.List[T]) (*reply, error) {
	p := page[T]{Items: list.Items}
	if p.Items == nil {
		p.Items = []T{}
	}
	if list.Next == "" {
		return answer(p)
	}
	query, _ := url.ParseQuery(in.query) // our own writing
	query.Set("cursor", in.seal(list.Next))
	p.Next = in.path + "?" + query.Encode()
	r, err := answer(p)
	if err == nil {
		r.header = map[string]string{"Link": "<" + p.Next + `>; rel="next"`}
	}
	return r, err
}

const sealLength = 16

// seal makes a cursor: where the list goes on, and a seal that binds it to the
// merchant, the list and its filter. It grants nothing: every page is asked for with a key.
func (in *call) seal(after string) string {
	return base64.RawURLEncoding.EncodeToString(append(in.sign(after), after...))
}

func (in *call) open(cursor string) (after string, ok bool) {
	b, err := base64.RawURLEncoding.DecodeString(cursor)
	if err != nil || len(b) < sealLength {
		return "", false
	}
	after = string(b[sealLength:])
	return after, hmac.Equal(b[:sealLength], in.sign(after))
}

func (in *call) sign(after string) []byte {
	mac := hmac.New(sha256.New, in.server.CursorKey)
	query, _ := url.ParseQuery(in.query) // our own writing
	query.Del("limit")                   // a list goes on the same however much is taken at once
	for _, part := range []string{in.principal.Tenant.String(), in.path, query.Encode(), after} {
		mac.Write([]byte(part + "\n"))
	}
	return mac.Sum(nil)[:sealLength]
}
