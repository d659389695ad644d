// Package service is what hodman does for whoever asks: the use cases, one file
// a noun, and the [Store] that they keep things in. The counting itself is done
// by the engines below it, which know nothing of jobs, keys or databases.
package service

import (
	"time"

	"hodman/service/finding"
)

// Kind says whose turn it is after something went wrong. The HTTP status named
// beside each is what the API answers with.
type Kind int

const (
	Internal     Kind = iota // 500: ours to mend; the cause is for the operator only
	BadRequest               // 400: not readable as a request
	Unauthorised             // 401: no key, or not a good one
	Forbidden                // 403: a good key that may not do this
	NotFound                 // 404: not there, or another merchant's
	Conflict                 // 409: the state of things is against it
	Infeasible               // 409: no plan is possible; the faults name what breaks it
	Stale                    // 412: changed by somebody else since it was read
	TooLarge                 // 413
	Unsupported              // 415
	Invalid                  // 422: well-formed, but wrong; the faults say where
	MatchNeeded              // 428: the version that the change is meant for is missing
	TooMany                  // 429
	Unavailable              // 503: try again after RetryAfter
)

// Error is the one error that leaves this package and the store.
type Error struct {
	Kind Kind
	// Code is a stable word in snake case; Message says to the caller what to change.
	Code    string
	Message string
	// Faults are all the mistakes found, each with its JSON Pointer.
	Faults finding.Faults
	// RetryAfter is how long to wait where waiting helps; nought where it does not.
	RetryAfter time.Duration
	// Current is the entity tag that the resource has now, for Stale.
	Current string
	// Cause is for the operator's log. It never reaches the caller.
	Cause error
}

// Error gives the words for the caller, then the cause, for the log.
func (e *Error) Error() string {
	if e.Cause != nil {
		return e.Code + ": " + e.Message + ": " + e.Cause.Error()
	}
	return e.Code + ": " + e.Message
}

// Unwrap gives the cause.
func (e *Error) Unwrap() error { return e.Cause }

// invalid turns the mistakes of a document into an error, or into nil where there are none.
func invalid(f finding.Faults) error {
	if len(f) == 0 {
		return nil
	}
	return &Error{Kind: Invalid, Code: "invalid", Message: "The document has mistakes; each is listed with its place.", Faults: f}
}

// notFound says that nothing of that sort and name is there for this caller.
func notFound(what string) error {
	return &Error{Kind: NotFound, Code: "not_found", Message: "There is no such " + what + "."}
}
