package ancillary

import (
	"slices"

	"hodman/service/measure"
)

// CutList is how one kind of thing that is sold by the length or the board is cut over
// the whole job.
type CutList struct {
	Of   string `json:"of"`
	Unit string `json:"unit"`
	// Bought is what the cutting takes; nothing under Bound can do, which is proven.
	Bought measure.Quantity `json:"bought"`
	Bound  measure.Quantity `json:"bound"`
	Proven bool             `json:"proven"`
	Bars   []CutBar         `json:"bars"`
}

// CutBar is so many of a product, all cut alike.
type CutBar struct {
	Product string     `json:"product"`
	Times   int        `json:"times"`
	Pieces  []CutPiece `json:"pieces"`
}

// CutPiece is one piece. Height is there for boards.
type CutPiece struct {
	Wall   string         `json:"wall,omitzero"`
	Length measure.Length `json:"length_mm"`
	Height measure.Length `json:"height_mm,omitzero"`
	Count  int            `json:"count,omitzero"` // nought: one
}

// add adds a bar, to one cut alike where there is one just before. It keeps a copy of the pieces.
func (l *CutList) add(b CutBar) {
	if n := len(l.Bars); n > 0 && l.Bars[n-1].Product == b.Product && slices.Equal(l.Bars[n-1].Pieces, b.Pieces) {
		l.Bars[n-1].Times += b.Times
		return
	}
	b.Pieces = slices.Clone(b.Pieces)
	l.Bars = append(l.Bars, b)
}
