package lift

import (
	"hodman/service/measure"
	"hodman/service/schedule"
)

// Levels are the platforms of a job: Foot is the lowest base, Tops rise from it.
// A level belongs to the first lift whose top is not below it.
type Levels struct {
	Foot measure.Length
	Tops []measure.Length
	// Given is how many tops the schedule gave; the rest were added to reach the top of the walls.
	Given int
}

// LevelsOf returns the lifts of a schedule that has passed its check: the tops
// given, or one height repeated from the lowest base. height is the rulebook's,
// for a schedule that gives none and for lifts that have to be added on top.
func LevelsOf(s *schedule.Schedule, height measure.Length) Levels {
	lowest, highest := s.Walls[0].Base, s.Walls[0].Base
	for i := range s.Walls {
		w := &s.Walls[i]
		lowest = min(lowest, w.Base)
		highest = max(highest, w.Base+w.Highest())
	}
	l := Levels{Foot: lowest}
	top := lowest
	if s.Lifts != nil && s.Lifts.Height != nil {
		height = *s.Lifts.Height
	} else if s.Lifts != nil {
		l.Tops = append(l.Tops, s.Lifts.Tops...)
		l.Given = len(l.Tops)
		top = l.Tops[l.Given-1]
	}
	for top < highest {
		top = min(top+height, max(highest, top+1))
		l.Tops = append(l.Tops, top)
	}
	return l
}

// At is the index of the lift that a level belongs to; what stands above the last top is the last lift's.
func (l *Levels) At(z measure.Length) int {
	for i, top := range l.Tops {
		if z <= top {
			return i
		}
	}
	return len(l.Tops) - 1
}

// Overlap is, lift by lift, how much of the height between from and to lies in it.
// At one level all of it, counted as 1, is in that level's lift.
func (l *Levels) Overlap(from, to measure.Length) []int64 {
	w := make([]int64, len(l.Tops))
	l.OverlapInto(w, from, to)
	return w
}

// OverlapInto is Overlap into w, which has one place a lift.
func (l *Levels) OverlapInto(w []int64, from, to measure.Length) {
	clear(w)
	if to <= from {
		w[l.At(to)] = 1
		return
	}
	foot := from
	for i, top := range l.Tops {
		if i == len(l.Tops)-1 {
			top = max(top, to)
		}
		if head := min(top, to); head > foot {
			w[i] = int64(head - foot)
			foot = head
		}
	}
}
