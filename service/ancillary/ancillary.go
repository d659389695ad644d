// Package ancillary counts what is built in with the masonry: ties, trays, stop
// ends, weeps, damp-proof courses, closers, insulation, plate, straps, joints.
package ancillary

import (
	"hodman/service/measure"
	"hodman/service/product"
	"hodman/service/schedule"
)

// Wall is what is counted for: one wall with its leaves resolved and its lintels chosen.
// All levels are above the datum.
type Wall struct {
	Ref  string
	At   string // JSON Pointer to the wall
	Wall *schedule.Wall
	// Net is the area of the outer (or only) leaf less its openings.
	Net measure.Area
	// Outer is the outer or only leaf's unit, as thick as the leaf is; Inner is nil for a single wall.
	Outer, Inner *product.Product
	Cavity       *schedule.Cavity // nil for a single wall
	// Lintels are the chosen lintel lengths, one an opening; nought where there is none.
	Lintels []measure.Length
	// Joints are where movement joints begin within the outer or only leaf and the inner, along the wall.
	Joints [2][]measure.Length
	// Thick is the whole wall's thickness, cavity and all.
	Thick measure.Length
	// Run is the length of the inner (or only) leaf on plan.
	Run measure.Length
	// Gauge is of a course of the outer or only leaf and of the inner.
	Gauge [2]measure.Length
	// Tied are where leaves of the wall butt against another new wall's and are tied to it.
	Tied []Tied
	// From is where that leaf begins along the wall.
	From measure.Length
	// DPC is the level of the horizontal damp-proof course, nil where the wall starts above it.
	DPC *measure.Length
}

// Tied is so many leaves that butt against another wall over a height.
type Tied struct {
	Where  string // "left end", "crossing of B"
	Leaves int
	Height measure.Length
}

// Need is so much of a product, built in between two levels.
type Need struct {
	Product *product.Product
	Unit    string // each, m, m2
	// Net is what is counted; With is with laps and allowance: what is required.
	Net, With measure.Quantity
	// From and To are the levels between which it is built in; equal where it is at one level.
	From, To measure.Length
	// Places are where along the wall pieces stand, where that was found.
	Places []measure.Length
	Wall   string // reference
	Part   string // "field", "jamb", "tray" …: rows that are shown apart
	Sum    string // the arithmetic, in words and figures
	Rules  []string
}
