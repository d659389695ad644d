package lintel

import (
	"hodman/service/finding"
	"hodman/service/measure"
)

// tell says what is the matter with a pick before it is placed.
func (s *selection) tell(j *job, p *Pick) {
	o := j.opening
	switch {
	case o.widest() > s.bearing.mostClear:
		s.add(finding.Stop, "lintel.too_wide", o, "The clear width of "+o.widest().String()+" mm is over the "+s.bearing.mostClear.String()+" mm that such lintels are made for.",
			"Ask the engineer for a beam.", "lintel.most_clear")
	case p.Status == NothingServes:
		s.noneServes(j, p)
	case p.Status == OutOfStock:
		s.add(finding.Check, "lintel.out_of_stock", o, "Nothing in stock that is left serves; "+p.Product+" of "+p.Length.String()+" mm is the shortest that would.",
			"Order it in good time, or send the stock of another branch.", "lintel.stock")
	}
}

// noneServes tells a catalogue whose lintels are too short from one that has none for such a wall.
func (s *selection) noneServes(j *job, p *Pick) {
	o, most := j.opening, measure.Length(0)
	for _, c := range j.suiting {
		most = max(most, c.product.Length)
	}
	if most == 0 {
		s.words.Add("The catalogue has no lintel for ", o.Seat.words(), ": ")
		s.sum(o, p.LeastBearing, p.Needed)
		s.add(finding.Stop, "lintel.nothing_serves", o, s.words.Say("."),
			"Ask the merchant for one, or the engineer for another way to carry it, and whether lintels side by side may.", "lintel.bearing")
		return
	}
	s.words.Add("No lintel for ", o.Seat.words(), " is long enough: ")
	s.sum(o, p.LeastBearing, p.Needed)
	s.add(finding.Stop, "lintel.nothing_serves", o, s.words.Say(", the longest is ", most, " mm."),
		"Ask the merchant for a longer one, or the engineer for another way to carry it.", "lintel.bearing")
}

func (s *selection) add(severity finding.Severity, code string, o *Opening, text, remedy, rule string) {
	s.findings = append(s.findings, finding.Finding{Severity: severity, Code: code, At: o.At, Text: text, Remedy: remedy, Rule: rule})
}

// place sets each lintel over its opening and checks that both ends find masonry.
// It goes by piers, since two lintels may share one.
func (s *selection) place(openings []Opening, picks []Pick) {
	next := neighbours(openings)
	before := make([]int, len(openings))
	for i := range before {
		before[i] = -1
	}
	for i, k := range next {
		if k >= 0 {
			before[k] = i
		}
	}
	for i := range openings {
		o, p := &openings[i], &picks[i]
		s.masonry(o, p, "left", o.RoomLeft)
		s.masonry(o, p, "right", o.RoomRight)
		if p.Product == "" {
			continue
		}
		left, right := o.RoomLeft, o.RoomRight
		if k := before[i]; k >= 0 && picks[k].Product != "" {
			left = share(left, p, &picks[k], o.RoomRight, openings[k].RoomLeft)
		}
		if k := next[i]; k >= 0 && picks[k].Product != "" {
			right = share(right, p, &picks[k], o.RoomLeft, openings[k].RoomRight)
		}
		if left+right < p.Length-o.Clear { // no fair share: take what masonry there is, and say so below
			left, right = o.RoomLeft, o.RoomRight
		}
		p.BearingLeft, p.BearingRight = set(p.Length-o.Clear, p.LeastBearing, left, right)
		if p.Length-o.Clear > o.RoomLeft+o.RoomRight {
			s.add(finding.Check, "lintel.no_room", o, p.Product+" of "+p.Length.String()+" mm is longer than the opening and the masonry beside it: "+
				o.RoomLeft.String()+" + "+o.Clear.String()+" + "+o.RoomRight.String()+" = "+(o.RoomLeft+o.Clear+o.RoomRight).String()+" mm.",
				"Use a shorter one that still bears its least, or build the masonry on.", "lintel.bearing")
		}
	}
	for i := range openings {
		s.pier(openings, picks, i, next[i], before[i])
	}
}

// neighbours pairs openings across a shared pier: of one wall and leaf, one that has
// the same room on its left, the next in the list or else any before.
func neighbours(openings []Opening) []int {
	next := make([]int, len(openings))
	waiting := make(map[pierKey][]int)
	find := func(i int) {
		o := &openings[i]
		right := pierKey{o.Wall, o.Seat.Leaf, o.RoomRight}
		if w := waiting[right]; o.SharedRight && next[i] < 0 && len(w) > 0 {
			next[i] = w[len(w)-1]
			waiting[right] = w[:len(w)-1]
		}
	}
	for i := len(openings) - 1; i >= 0; i-- {
		next[i] = -1
		find(i)
		if o := &openings[i]; o.SharedLeft {
			left := pierKey{o.Wall, o.Seat.Leaf, o.RoomLeft}
			waiting[left] = append(waiting[left], i)
		}
	}
	for i := range openings {
		find(i)
	}
	return next
}

type pierKey struct {
	wall, leaf string
	room       measure.Length
}

// share is how much of a pier a lintel may take that another bears on too: half, or
// where one of them needs more than half, all but what the other needs. away is the room at
// the far end of each.
func share(room measure.Length, p, other *Pick, away, awayOther measure.Length) measure.Length {
	if room < p.LeastBearing {
		return room
	}
	mine, others := p.needs(away), other.needs(awayOther)
	if mine <= half(room) && others <= half(room) {
		return half(room)
	}
	return min(room, max(room-others, p.LeastBearing))
}

// needs is what one end has to take where the other has so much room at most.
func (p *Pick) needs(away measure.Length) measure.Length {
	return max(p.LeastBearing, p.Length-p.Clear-away)
}

// set divides what a lintel is longer than the opening between its ends: evenly, the
// left rounded down to a micrometre, or shifted where one end has less room. Where
// even that does not fit it stays in the middle.
func set(over, least, roomLeft, roomRight measure.Length) (left, right measure.Length) {
	left = half(over)
	right = over - left
	switch {
	case roomLeft < least || roomRight < least || over > roomLeft+roomRight:
	case roomLeft < left:
		left, right = roomLeft, over-roomLeft
	case roomRight < right:
		left, right = over-roomRight, roomRight
	}
	return left, right
}

// masonry finds an end with less beside the opening than the least bearing.
func (s *selection) masonry(o *Opening, p *Pick, side string, room measure.Length) {
	if room < p.LeastBearing {
		s.add(finding.Stop, "lintel.no_masonry", o, "There is "+room.String()+" mm of masonry at the "+side+" end for a bearing of "+p.LeastBearing.String()+
			" mm; "+(p.LeastBearing-room).String()+" mm is missing.",
			"Move the opening by "+(p.LeastBearing-room).String()+" mm or make it narrower, or ask the engineer how that end is to be carried.", "lintel.bearing")
	}
}

// pier checks the masonry right of an opening where another lintel bears on it too;
// and left, where the other is not in the list and is taken to bear as much.
func (s *selection) pier(openings []Opening, picks []Pick, i, next, before int) {
	o, p := &openings[i], &picks[i]
	if o.SharedRight {
		mine := max(p.BearingRight, p.LeastBearing)
		others, name := mine, "the next opening"
		if next >= 0 {
			others, name = max(picks[next].BearingLeft, picks[next].LeastBearing), "opening "+picks[next].Opening
		}
		s.narrow(o, o.RoomRight, mine, others, name)
	}
	if o.SharedLeft && before < 0 {
		mine := max(p.BearingLeft, p.LeastBearing)
		s.narrow(o, o.RoomLeft, mine, mine, "the opening before it")
	}
}

// narrow finds a pier that two lintels want more of than there is.
func (s *selection) narrow(o *Opening, room, mine, others measure.Length, neighbour string) {
	if mine+others <= room {
		return
	}
	s.add(finding.Stop, "lintel.pier_too_narrow", o, "The pier of "+room.String()+" mm beside this opening has to bear two lintels: "+mine.String()+" mm of this one and "+
		others.String()+" mm of that over "+neighbour+" come to "+(mine+others).String()+" mm, "+(mine+others-room).String()+" mm too much.",
		"Make the pier wider, or use one lintel over both openings; ask the engineer.", "lintel.bearing")
}
