package product

import (
	_ "embed"
	"fmt"
	"sync"

	"github.com/go-json-experiment/json"
)

//go:embed demo.json
var demoJSON []byte

// Catalogue is a numbered set of products, in the order they are shown in.
type Catalogue struct {
	Key      string    `json:"catalogue"`
	Version  string    `json:"version"`
	Products []Product `json:"products"`

	byCode map[string]*Product
	byKind map[Kind][]*Product
}

// ID names the catalogue and its version: "demo@1".
func (c *Catalogue) ID() string { return c.Key + "@" + c.Version }

// Find returns the product of that code, or nil.
func (c *Catalogue) Find(code string) *Product { return c.byCode[code] }

// OfKind returns the products of a kind in catalogue order. The slice is shared: do not change it.
func (c *Catalogue) OfKind(k Kind) []*Product { return c.byKind[k] }

// Load reads a catalogue document and indexes it. It refuses a code that stands twice and a pack under 1.
func Load(doc []byte) (*Catalogue, error) {
	c := new(Catalogue)
	if err := json.Unmarshal(doc, c, json.RejectUnknownMembers(true)); err != nil {
		return nil, fmt.Errorf("catalogue: %w", err)
	}
	c.byCode = make(map[string]*Product, len(c.Products))
	c.byKind = make(map[Kind][]*Product)
	for i := range c.Products {
		p := &c.Products[i]
		if c.byCode[p.Code] != nil {
			return nil, fmt.Errorf("catalogue %s: product %s stands twice", c.ID(), p.Code)
		}
		if p.Pack < 1 {
			return nil, fmt.Errorf("catalogue %s: product %s: a pack holds at least 1", c.ID(), p.Code)
		}
		c.byCode[p.Code] = p
		c.byKind[p.Kind] = append(c.byKind[p.Kind], p)
	}
	return c, nil
}

// Demo is the embedded catalogue of invented products, used where no merchant is given.
var Demo = sync.OnceValue(func() *Catalogue {
	c, err := Load(demoJSON)
	if err != nil {
		panic(err) // our own file: a broken one cannot start
	}
	return c
})
