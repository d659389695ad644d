package api

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"io"
	"mime"
	"net/http"
	"strconv"
	"strings"

	"github.com/labstack/echo/v4"

	"hodman/service"
)

// call is what is known of a request besides what the generated code hands on.
type call struct {
	*operation
	server    *server
	raw       []byte // the document as it was sent
	path      string
	query     string // without the cursor
	principal service.Principal
	once      service.Idempotency
}

type callKey struct{}

// callOf returns the call that a handler was reached by. It panics outside of one:
// every handler is behind [server.admit].
func callOf(ctx context.Context) *call { return ctx.Value(callKey{}).(*call) }

// admit lets in what keeps to the contract: the answer's form, the access key, the
// parameters, and the form of the document. What the document says is looked at when
// it is read.
func (s *server) admit(next echo.HandlerFunc) echo.HandlerFunc {
	return func(c echo.Context) error {
		r := c.Request()
		op := operations()[r.Method+" "+c.Path()]
		if op == nil {
			return next(c) // no call of the contract: echo's 404 or 405, the pages, the metrics
		}
		in := &call{operation: op, server: s, path: r.URL.EscapedPath()}
		c.SetRequest(r.WithContext(context.WithValue(r.Context(), callKey{}, in)))
		c.Set("call", in)
		c.Response().Header().Add("Vary", "Accept")
		if !accepts(r.Header.Values("Accept"), op.answers) {
			return &refusal{status: http.StatusNotAcceptable, code: "not_acceptable", detail: "The answer is " + op.answers + ". Accept that, or leave the Accept header out."}
		}
		if err := s.authenticate(c, in); err != nil {
			return err
		}
		if err := s.checkParameters(c, in); err != nil {
			return err
		}
		if err := s.readBody(c, in); err != nil {
			return err
		}
		if op.writes() {
			in.once = once(c.Request(), in)
		}
		if op.counts {
			free, err := s.slot(c.Request().Context())
			if err != nil {
				return err
			}
			defer free()
		}
		return next(c)
	}
}

// authenticate finds out who asks, where that matters.
func (s *server) authenticate(c echo.Context, in *call) error {
	if !in.secured {
		return nil
	}
	challenge := func(code, detail, more string) error {
		return &refusal{status: http.StatusUnauthorized, code: code, detail: detail,
			header: http.Header{"Www-Authenticate": {`Bearer realm="hodman"` + more}}}
	}
	given := c.Request().Header.Values("Authorization")
	if len(given) == 0 {
		return challenge("key_needed", "Send an access key: Authorization: Bearer hod_...", "")
	}
	scheme, secret, _ := strings.Cut(given[0], " ")
	if len(given) > 1 || !strings.EqualFold(scheme, "Bearer") || secret == "" || strings.ContainsAny(secret, " \t,") {
		return &refusal{status: http.StatusBadRequest, code: "invalid_request", detail: "The Authorization header is not of the form: Bearer hod_...",
			header: http.Header{"Www-Authenticate": {`Bearer realm="hodman", error="invalid_request"`}}}
	}
	p, err := s.svc.Authenticate(c.Request().Context(), secret)
	if e, ok := err.(*service.Error); ok && e.Kind == service.Unauthorised {
		return challenge(e.Code, e.Message, `, error="invalid_token"`)
	}
	if err != nil {
		return err
	}
	in.principal = p
	if wait := s.meter.wait("key " + p.KeyID.String()); wait > 0 {
		return tooMany(wait)
	}
	return nil
}

// readBody takes the document in, no more of it than is allowed.
func (s *server) readBody(c echo.Context, in *call) error {
	r := c.Request()
	if in.schema == nil {
		return nil // nothing reads what a GET may carry
	}
	if coding := r.Header.Get("Content-Encoding"); coding != "" && !strings.EqualFold(coding, "identity") {
		return unsupported("Accept-Encoding", "identity", "The document is packed as "+strconv.Quote(coding)+". Send it as it is.")
	}
	if !s.takes(r, in) {
		header := "Accept"
		if r.Method == http.MethodPatch {
			header = "Accept-Patch"
		}
		return unsupported(header, in.media, "Send the document as Content-Type: "+in.media+".")
	}
	if r.ContentLength > s.MaxBody {
		return s.tooLarge()
	}
	// Room for what most documents need, whatever the caller says is coming.
	buf := bytes.NewBuffer(make([]byte, 0, min(max(r.ContentLength, 0), 64<<10)+bytes.MinRead))
	_, err := buf.ReadFrom(io.LimitReader(r.Body, s.MaxBody+1))
	raw := buf.Bytes()
	switch {
	case int64(len(raw)) > s.MaxBody:
		return s.tooLarge()
	case err != nil:
		return &refusal{status: http.StatusBadRequest, code: "body_broken", detail: "The document broke off before its end. Send it again."}
	}
	in.raw = raw
	return nil
}

func (s *server) tooLarge() error {
	return &service.Error{Kind: service.TooLarge, Code: "too_large",
		Message: "A document may have " + strconv.FormatInt(s.MaxBody, 10) + " bytes. Send it in parts."}
}

func unsupported(header, value, detail string) error {
	return &refusal{status: http.StatusUnsupportedMediaType, code: "unsupported", detail: detail, header: http.Header{header: {value}}}
}

// takes says whether the Content-Type is the one that the call takes.
func (s *server) takes(r *http.Request, in *call) bool {
	given := r.Header.Values("Content-Type")
	if len(given) != 1 {
		return false
	}
	media, params, err := mime.ParseMediaType(given[0])
	charset, there := params["charset"]
	return err == nil && media == in.media && (!there || strings.EqualFold(charset, "utf-8"))
}

// once reads the Idempotency-Key, which the document has been held against, and takes
// the digest of all that is asked.
func once(r *http.Request, in *call) service.Idempotency {
	h := sha256.New()
	for _, part := range []string{r.Method, in.path, in.media} {
		h.Write([]byte(part + "\n"))
	}
	h.Write(in.raw)
	return service.Idempotency{Key: strings.Trim(r.Header.Get("Idempotency-Key"), `"`), Fingerprint: hex.EncodeToString(h.Sum(nil))}
}

// accepts says whether the media type is among what the Accept headers name. No header
// means everything. A range of weight nought is left out; finer weights do not matter
// where there is one form only.
func accepts(headers []string, media string) bool {
	if len(headers) == 0 {
		return true
	}
	kind, _, _ := strings.Cut(media, "/")
	for part := range strings.SplitSeq(strings.Join(headers, ","), ",") {
		name, params, err := mime.ParseMediaType(strings.TrimSpace(part))
		if err != nil || name != "*/*" && name != kind+"/*" && name != media {
			continue
		}
		if q, err := strconv.ParseFloat(params["q"], 64); params["q"] == "" || err == nil && q > 0 {
			return true
		}
	}
	return false
}
