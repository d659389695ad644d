package coursing

import (
	"strconv"
	"strings"

	"hodman/service/finding"
	"hodman/service/measure"
)

// TieBed is where a row of ties lies in a bed of either leaf.
type TieBed struct {
	First  measure.Length `json:"first_mm"`
	Second measure.Length `json:"second_mm"`
}

// tieBeds takes, from the base up, the highest beds that are as level as a tie can take
// and not over the greatest spacing above the last; where there are none, the next
// ones above, and it says so. Levels rise and are of the first leaf's courses and of the
// second's. It stops where less than a spacing is left to the top of the lower leaf.
func (c *courser) tieBeds(base measure.Length, first, second []measure.Length) []TieBed {
	out := []TieBed{}
	if len(first) == 0 || len(second) == 0 {
		return out
	}
	spacing, most := c.book.Length("tie.vertical"), c.book.Length("tie.level_most")
	top := min(first[len(first)-1], second[len(second)-1])
	last := base
	var parts [][2]measure.Length
	level := levelBeds(first, second, most)
	for i := 0; top-last > spacing; i++ {
		for i+1 < len(level) && level[i+1].First-last <= spacing {
			i++
		}
		next := top
		if i < len(level) {
			next = min(top, level[i].First)
		}
		if next-last > spacing {
			parts = append(parts, [2]measure.Length{last, next})
		}
		if i >= len(level) || level[i].First >= top {
			break
		}
		out = append(out, level[i])
		last = level[i].First
	}
	c.part(parts, spacing, most)
	return out
}

// part tells between which levels there is no bed for ties: the first few, and how many more.
func (c *courser) part(parts [][2]measure.Length, spacing, most measure.Length) {
	if len(parts) == 0 {
		return
	}
	const told = 5
	where := make([]string, 0, told)
	for _, p := range parts[:min(len(parts), told)] {
		where = append(where, p[0].String()+" to "+p[1].String()+" mm")
	}
	text := "the beds of the two leaves part by more than " + most.String() + " mm, so that rows of ties come over " + spacing.String() + " mm apart: " + strings.Join(where, ", ")
	if more := len(parts) - told; more > 0 {
		text += " and " + strconv.Itoa(more) + " more"
	}
	c.add(finding.Check, "tie.beds_part", text+".",
		"Set both leaves out to the same levels there, or lay coursing units; or ask the designer for ties that take the step.", "tie.level_most")
}

// levelBeds pairs each bed of the first leaf with the nearest of the second, where they
// part by not more than most.
func levelBeds(first, second []measure.Length, most measure.Length) []TieBed {
	var out []TieBed
	for _, a := range first {
		if b := nearest(second, a); max(a-b, b-a) <= most {
			out = append(out, TieBed{a, b})
		}
	}
	return out
}
