package mortar

import (
	"hodman/service/measure"
	"hodman/service/rulebook"
)

// Piece is the mortar that one piece brings with it: the bed under it and one perpend,
// (length + perpend) x thickness x bed + height x thickness x perpend, of the piece as
// it is laid. Its frogs are counted apart. Rounded half up to a nanolitre. It panics
// where the sizes are far beyond a unit's (product over 9.2 m3).
func Piece(length, height, thickness measure.Length, j Joints) measure.Volume {
	face := (length + j.Perpend).Times(j.Bed) + height.Times(j.Perpend)
	return face.Times(thickness)
}

// Collar is the joint between one piece and the rank behind it, over the piece's own
// joints too: (length + perpend) x (height + bed) x collar, half up to a nanolitre.
func Collar(length, height, collar measure.Length, j Joints) measure.Volume {
	return (length + j.Perpend).Times(height + j.Bed).Times(collar)
}

// Taken is what the frog and the perforations of one unit take up as it is laid: of a
// frog laid up the rulebook's part, laid down its smaller part, and of perforations
// theirs, each half up to a nanolitre.
func Taken(frog, perforations measure.Volume, down bool, book *rulebook.Book) measure.Volume {
	rule := "mortar.frogs"
	if down {
		rule = "mortar.frogs_down"
	}
	return measure.Volume(book.Ratio(rule).HalfUpOf(int64(frog)) + book.Ratio("mortar.perforations").HalfUpOf(int64(perforations)))
}
