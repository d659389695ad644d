// Package rulebook holds the figures that the engines count by, as data: each
// with its unit, where it comes from, and how well that is known.
package rulebook

import (
	_ "embed"
	"fmt"
	"strconv"
	"strings"
	"sync"

	"github.com/go-json-experiment/json"

	"hodman/service/measure"
)

// Basis says how well a figure is known.
type Basis string

const (
	Published  Basis = "published"       // read in the source named
	Practice   Basis = "common_practice" // a fact of the trade or our own convention
	FromMemory Basis = "from_memory"     // the source is named but was not read again
)

// Rule is one figure. Value is in Unit: mm, m, ratio, per_m2, count, kg_m3,
// kn_m2, kn, days … ; Text says what is done with it. Millimetres are whole
// micrometres, so that 3/8 in stands as 9.525.
type Rule struct {
	ID     string        `json:"rule"`
	Value  measure.Ratio `json:"value"`
	Unit   string        `json:"unit"`
	Text   string        `json:"text"`
	Source string        `json:"source"`
	Basis  Basis         `json:"basis"`
}

// Book is one version of all the rules. It never changes once published.
type Book struct {
	Key     string `json:"rulebook"`
	Version string `json:"version"`
	Title   string `json:"title"`
	// Mortars are the designations that a schedule may name; Mortar is the one laid
	// where it names none. The parts of each are rules: mortar.m4.lime, mortar.m4.sand.
	Mortars []string `json:"mortars"`
	Mortar  string   `json:"mortar"`
	Rules   []Rule   `json:"rules"`

	byID map[string]*Rule
}

// ID names the book and its version: "gb@2026.2".
func (b *Book) ID() string { return b.Key + "@" + b.Version }

// Rule returns the rule of that id, or nil.
func (b *Book) Rule(id string) *Rule { return b.byID[id] }

// Ratio returns a rule's bare value. It panics where the book lacks the rule:
// an engine that needs a rule is tested with every book.
func (b *Book) Ratio(id string) measure.Ratio {
	r := b.byID[id]
	if r == nil {
		panic("rulebook " + b.ID() + " has no rule " + id)
	}
	return r.Value
}

// Length returns a rule whose unit is mm. It panics as [Book.Ratio] does.
func (b *Book) Length(id string) measure.Length {
	return measure.Length(b.Ratio(id)) * measure.Millimetre / measure.Length(measure.One)
}

// Count returns a rule that is a whole number. It panics as [Book.Ratio] does.
func (b *Book) Count(id string) int { return int(b.Ratio(id) / measure.One) }

//go:embed gb.json
var gbJSON []byte

//go:embed us.json
var usJSON []byte

// GB is the British rulebook.
var GB = sync.OnceValue(func() *Book { return mustLoad(gbJSON) })

// US is the American rulebook: inches, as millimetres that are exact.
var US = sync.OnceValue(func() *Book { return mustLoad(usJSON) })

// Books are all rulebooks, the oldest first.
func Books() []*Book { return []*Book{GB(), US()} }

// Find returns a book by key ("gb") or by key and version ("gb@2026.2"), or nil.
func Find(key string) *Book {
	for _, b := range Books() {
		if key == b.Key || key == b.ID() {
			return b
		}
	}
	return nil
}

// Keys tells the keys of all books, for a fault: `"gb" or "us"`.
func Keys() string {
	var keys []string
	for _, b := range Books() {
		keys = append(keys, strconv.Quote(b.Key))
	}
	return strings.Join(keys, " or ")
}

func mustLoad(doc []byte) *Book {
	b := new(Book)
	if err := json.Unmarshal(doc, b, json.RejectUnknownMembers(true)); err != nil {
		panic(fmt.Errorf("rulebook: %w", err)) // our own file: a broken one cannot start
	}
	b.byID = make(map[string]*Rule, len(b.Rules))
	for i := range b.Rules {
		r := &b.Rules[i]
		if b.byID[r.ID] != nil {
			panic("rulebook " + b.ID() + ": rule " + r.ID + " stands twice")
		}
		b.byID[r.ID] = r
	}
	return b
}
