package elevation_test

import (
	"math/rand/v2"
	"testing"
)

// FuzzDrawing draws random walls of any bond, and holds each drawing against the takeoff.
func FuzzDrawing(f *testing.F) {
	f.Add(uint64(1), uint8(0))
	f.Add(uint64(2), uint8(18))
	f.Fuzz(func(t *testing.T, seed uint64, bond uint8) {
		document := randomWalls(rand.New(rand.NewPCG(seed, 0)), bonds[int(bond)%len(bonds)])
		s := parse(t, document)
		counted := count(t, s)
		for i := range s.Walls {
			d := readDrawing(t, draw(t, s, s.Walls[i].Ref))
			for k := range counted.Walls[i].Leaves {
				checkCount(t, &counted.Walls[i].Leaves[k], d, k)
				checkPlaces(t, &s.Walls[i], d.leaves[k])
			}
		}
		if t.Failed() {
			t.Log(document)
		}
	})
}
