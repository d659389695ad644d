package schedule

import (
	"strings"

	"hodman/service/finding"
	"hodman/service/product"
)

// CheckStock finds the mistakes in a stock list that stands under /stock of a
// document, as [Schedule.Check] does for its own.
func CheckStock(stock []Stock, cat *product.Catalogue) finding.Faults {
	c := &checker{cat: cat}
	c.stock(stock)
	return c.faults
}

// CheckKey says whether s may be a key, a ref or a product code, and adds a fault
// at the pointer where it may not.
func CheckKey(f *finding.Faults, at, s string) bool {
	i := strings.LastIndexByte(at, '/')
	c := &checker{faults: *f}
	ok := c.key(at[:i], at[i+1:], s)
	*f = c.faults
	return ok
}
