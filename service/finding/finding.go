// Package finding is what an engine has to say besides its numbers: the place in
// the document, what is the matter there, what to do about it, and the rule that
// says so.
package finding

// Severity says what the reader has to do.
type Severity string

const (
	// Stop: do not build or order this as it stands.
	Stop Severity = "stop"
	// Check: it can be built; somebody has to look at it first.
	Check Severity = "check"
	// Note: good to know.
	Note Severity = "note"
)

// Finding is one remark. At is a JSON Pointer into the document that was sent.
// Text says what is the matter and Remedy what to change, with figures.
type Finding struct {
	Severity Severity `json:"severity"`
	Code     string   `json:"code"`
	At       string   `json:"at"`
	Text     string   `json:"text"`
	Remedy   string   `json:"remedy,omitzero"`
	Rule     string   `json:"rule,omitzero"`
}

// Fault is a mistake in a document that keeps it from being counted at all.
// Pointer is a JSON Pointer to the culprit, or to where the missing member belongs.
type Fault struct {
	Pointer string `json:"pointer"`
	Code    string `json:"code"`
	Detail  string `json:"detail"`
}

// Faults are all the mistakes of one document.
type Faults []Fault

// Add appends one mistake.
func (f *Faults) Add(pointer, code, detail string) {
	*f = append(*f, Fault{Pointer: pointer, Code: code, Detail: detail})
}

// Error lets a set of faults travel as an error. It names the first.
func (f Faults) Error() string {
	if len(f) == 0 {
		return "no faults"
	}
	return f[0].Pointer + ": " + f[0].Detail
}
