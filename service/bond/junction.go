package bond

import (
	"hodman/service/measure"
	"hodman/service/schedule"
)

// Teeth are the gaps that a leaf leaves for the walls that stand against it or across it:
// each with a joint on both sides, in the courses that the other wall takes.
func Teeth(r *Run, leaf int, stems []schedule.Stem) (gaps []Gap) {
	for i := range stems {
		if e := &stems[i]; e.Other == leaf && e.Takes != schedule.TakesNone {
			gaps = append(gaps, teeth(r, e)...)
		}
	}
	return gaps
}

func teeth(r *Run, e *schedule.Stem) []Gap {
	gauge := r.Leaf.Gauge()
	// A last course of which the other wall takes a part is given up whole.
	top := e.Over + e.Height
	top = min(r.Wall.Highest(), measure.Length(measure.CeilDiv(int64(top), int64(gauge)))*gauge)
	g := Gap{From: e.From - r.Leaf.Perpend, To: e.To + r.Leaf.Perpend, Foot: max(0, e.Over), Head: top}
	switch {
	case top <= g.Foot:
		return nil
	case e.Takes == schedule.TakesAll:
		return []Gap{g}
	case e.Step == gauge:
		// Course 1 counts as odd unless the wall's base stands an odd number of courses up.
		g.Odd = (e.Takes == schedule.TakesFirst) == (r.Lowest%2 == 0)
		g.Even = !g.Odd
		return []Gap{g}
	}
	var list []Gap
	for foot := measure.Length(0); foot < top; foot += 2 * e.Step {
		tooth := g
		tooth.Foot = foot
		if e.Takes == schedule.TakesLater {
			tooth.Foot += e.Step
		}
		tooth.Head = min(top, tooth.Foot+e.Step)
		if tooth.Foot = max(tooth.Foot, g.Foot); tooth.Foot < tooth.Head {
			list = append(list, tooth)
		}
	}
	return list
}
