// Package elevation draws a wall as it was laid: every leaf course by course, to
// scale, with its openings, lintels, levels, sizes and findings, as one SVG.
//
// The drawing is made of the strips that were counted, so that it cannot show
// another wall than the one taken off. One unit of the picture is a millimetre of the wall; sizes of
// lettering are parts of one em, which is chosen so that the sheet can be read in print and on a phone.
package elevation

import (
	"hodman/service/bond"
	"hodman/service/finding"
	"hodman/service/lintel"
	"hodman/service/measure"
	"hodman/service/schedule"
)

// Sheet is what there is to draw of one wall. Levels of Lifts and DPC are above the
// datum, all others above the wall's base.
type Sheet struct {
	Reference, Rulebook, Catalogue string
	Wall                           *schedule.Wall
	At                             string // JSON Pointer to the wall
	Leaves                         []Leaf
	Lintels                        []Lintel // one an opening
	Findings                       []finding.Finding
	Lifts                          []measure.Length // their tops, rising
	DPC                            *measure.Length  // nil: none
	Ties                           Spacing
	Coping                         *Coping // nil: none
	Wide                           bool    // for a page that is wider than high: the legend stands beside the leaves
	Cautions                       []string
}

// Leaf is one leaf as laid. Ties are the beds that rows of ties lie in, Joints its movement joints.
type Leaf struct {
	Made   *schedule.Made
	Laying *bond.Laying
	Ties   []measure.Length
	Joints []Joint
}

// Joint is a movement joint that begins so far along the wall.
type Joint struct{ At, Width measure.Length }

// Coping is what covers the wall's top: each so long along it, with a joint between them.
type Coping struct {
	Code                  string
	Length, Height, Joint measure.Length
}

// Lintel is what carries an opening. Pick is nil where none is asked for; Height is
// nought where the product does not say.
type Lintel struct {
	Pick   *lintel.Pick
	Height measure.Length
}

// Spacing is the rulebook's of wall ties.
type Spacing struct {
	Across measure.Length // along a row
	Jamb   measure.Length // up a jamb and a movement joint
	Slope  measure.Length // along a gable's or a rake's slope
}

// MostStrips is how many strips of pieces a drawing may be made of.
const MostStrips = 40_000

// Strips counts what a wall's drawing is made of: a wall of more than [MostStrips]
// is too large for one sheet.
func (s *Sheet) Strips() int {
	n := 0
	for i := range s.Leaves {
		bands := s.Leaves[i].Laying.Bands
		for b := range bands {
			n += len(bands[b].Strips)
		}
	}
	return n
}

// Draw returns the sheet as an SVG document: the same sheet gives the same bytes. The
// wall has at least one leaf.
func Draw(s *Sheet) []byte {
	d := newDrawing(s)
	d.open()
	d.head()
	for i := range d.views {
		d.view(&d.views[i])
	}
	d.legendAndWords()
	return d.close()
}
