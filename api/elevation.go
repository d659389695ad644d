package api

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"net/http"
	"strings"

	"hodman/service/elevation"
)

// svg is the media type of a drawing.
const svg = "image/svg+xml"

// DrawElevation draws one wall of the schedule that comes with the request.
func (s *server) DrawElevation(ctx context.Context, r DrawElevationRequestObject) (DrawElevationResponseObject, error) {
	drawing, err := s.svc.DrawElevation(ctx, r.Body)
	if err != nil {
		return nil, err
	}
	return &reply{status: http.StatusOK, media: svg, body: drawing}, nil
}

// GetElevation draws one wall of a schedule of a job.
func (s *server) GetElevation(ctx context.Context, r GetElevationRequestObject) (GetElevationResponseObject, error) {
	layout := elevation.Layout("")
	if r.Params.Layout != nil {
		layout = *r.Params.Layout
	}
	drawing, err := s.svc.Elevation(ctx, callOf(ctx).principal, r.JobId, int(r.Revision), strings.TrimSuffix(r.Drawing, ".svg"), layout)
	if err != nil {
		return nil, err
	}
	header := map[string]string{"ETag": digestTag(drawing), "Cache-Control": "private, no-cache"}
	if have := r.Params.IfNoneMatch; have != nil && matches(*have, header["ETag"]) {
		return &reply{status: http.StatusNotModified, header: header}, nil
	}
	return &reply{status: http.StatusOK, media: svg, body: drawing, header: header}, nil
}

// digestTag is an entity tag of what is made anew each time and has no version: a later hodman
// may draw the same schedule otherwise.
func digestTag(body []byte) string {
	sum := sha256.Sum256(body)
	return `"` + hex.EncodeToString(sum[:16]) + `"`
}
