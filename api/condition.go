package api

import (
	"net/http"
	"strconv"
	"strings"

	"hodman/service"
)

// matches says whether a tag is in an If-None-Match header: any one of the list, or *.
// Weak tags match too there (RFC 9110, 13.1.2).
func matches(header, etag string) bool {
	for tag := range strings.SplitSeq(header, ",") {
		tag = strings.TrimSpace(tag)
		if tag == "*" || strings.TrimPrefix(tag, "W/") == etag {
			return true
		}
	}
	return false
}

// wanted is what an If-Match header asks a resource to be: one of these versions, or any.
type wanted struct {
	any      bool
	versions []int64
}

// noVersion is one that no resource ever has.
const noVersion = -1

// wantedBy reads an If-Match header, absent as nil. A tag that is weak or none of ours
// matches nothing (strong comparison, RFC 9110, 13.1.1).
func wantedBy(header *IfMatch) (wanted, error) {
	var w wanted
	if header == nil {
		return w, &service.Error{Kind: service.MatchNeeded, Code: "match_needed",
			Message: "Send If-Match with the ETag of the version that you changed, so that nobody's change is lost."}
	}
	for tag := range strings.SplitSeq(*header, ",") {
		tag = strings.TrimSpace(tag)
		bare := strings.TrimPrefix(tag, "W/")
		switch {
		case tag == "*":
			w.any = true
		case len(bare) < 2 || bare[0] != '"' || bare[len(bare)-1] != '"':
			return w, &refusal{status: http.StatusBadRequest, code: "parameters", detail: "If-Match is not a list of entity tags.",
				mistakes: []mistake{{Parameter: "If-Match", In: "header", Code: "pattern", Detail: `give the ETag as it was sent, in quotes, such as "3"`}}}
		default:
			if v, err := strconv.ParseInt(strings.Trim(tag, `"`), 10, 64); err == nil && service.ETag(v) == tag {
				w.versions = append(w.versions, v)
			}
		}
	}
	return w, nil
}
