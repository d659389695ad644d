package takeoff

import (
	"testing"

	"hodman/service/measure"
	"hodman/service/product"
	"hodman/service/rulebook"
	"hodman/service/schedule"
)

// Short ways to write a wall and count it.

const ms = measure.Millimetre

func free(length, height measure.Length, openings ...schedule.Opening) schedule.Wall {
	return schedule.Wall{Ref: "W", Type: "T", Length: length, Height: height, Left: schedule.StopEnd, Right: schedule.StopEnd, Openings: openings}
}

func count(t *testing.T, leaf schedule.Leaf, walls ...schedule.Wall) *Takeoff {
	t.Helper()
	return countBy(t, rulebook.GB(), leaf, walls...)
}

func countBy(t *testing.T, book *rulebook.Book, leaf schedule.Leaf, walls ...schedule.Wall) *Takeoff {
	t.Helper()
	for i := range walls {
		walls[i].Ref = string(rune('A' + i))
	}
	s := &schedule.Schedule{Reference: "published", Rulebook: book.Key, WallTypes: []schedule.WallType{{Key: "T", Single: &leaf}}, Walls: walls}
	if faults := s.Check(product.Demo()); len(faults) > 0 {
		t.Fatal(faults)
	}
	return Compute(s, product.Demo(), book)
}

func unit(kind string, length, thickness, height measure.Length) schedule.Leaf {
	return schedule.Leaf{Unit: &schedule.Unit{Kind: kind, Length: length, Thickness: thickness, Height: height, Mass: measure.Kilogram}}
}

const joint38 = 9525 * measure.Micrometre // 3/8 in
