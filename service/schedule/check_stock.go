package schedule

import (
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
