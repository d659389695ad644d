package bond

import "hodman/service/measure"

// Strip is Count pieces alike in one course, each Pitch further along than the one before.
type Strip struct {
	X, Length measure.Length // along the wall: of the first piece, and of each piece
	Y, Depth  measure.Length // across the wall, from the leaf's own outer face inwards
	// Foot is over the underside of the course's units; Height is the piece's own.
	Foot, Height measure.Length
	Count        int
	Pitch        measure.Length
	Unit         uint8 // index into Laying.Units
	Face         Face
	Cut          Cut
}

// Size is how much of a unit's length the piece takes, for one cut in length or to a shape.
func (s *Strip) Size(unit measure.Length) measure.Length {
	switch {
	case s.Face == Stretcher:
		return s.Length
	case s.Depth == unit:
		return unit
	case s.Face == OnEdge || s.Face == Voussoir:
		return s.Depth
	}
	return min(s.Length, s.Depth)
}

// Face is how a piece lies: what it shows on the face of the wall.
type Face uint8

const (
	Stretcher Face = iota // its length along the wall
	Header                // its end; its length, or half of it where it is snapped, across the wall
	Soldier               // on end: its height along the wall, its length up
	OnEdge                // a header on edge: its height along the wall, its thickness up
	Voussoir              // in an arch, which says where; its strip only counts it
)

// Cut is how a piece is got out of a unit.
type Cut uint8

const (
	Whole    Cut = iota
	InLength     // sawn across: shorter than the unit
	InWidth      // split along: a closer, narrower than the unit is thick
	// InHeight is lower than the unit and takes one whole unit. Over a head under a slope
	// or beside a curve it too is only what of its rectangle lies within the wall's outline.
	InHeight
	// ToShape is cut to a slope or a curve: the piece is what of its rectangle lies
	// within the wall's own outline, and needs as much of a unit as its longest edge.
	ToShape
)
