package main

import (
	"context"
	"fmt"
	"io"

	"hodman/service/coursing"
)

func coursingCommand(ctx context.Context, p *process, args []string) error {
	return compute(ctx, p, "coursing", "/v1/coursings", args, showCoursing)
}

// showCoursing prints how each level is met, leaf by leaf, then the gauges that
// would suit it, findings last.
func showCoursing(w io.Writer, c *coursing.Coursing) error {
	return out(w, func(w io.Writer) error {
		fmt.Fprintf(w, "Coursing by rulebook %s\n", c.Rulebook)
		title(w, "Levels, mm")
		levels := newTable(text("Level"), text("Kind"), number("At"), text("Leaf"), number("Gauge"), number("Courses"),
			number("Over"), number("Closing course"), number("Works below"), number("above"))
		offers := newTable(text("Level"), text("Leaf"), number("Courses"), number("Bed mm"))
		for i := range c.Levels {
			m := &c.Levels[i]
			courseRows(levels, offers, m, "first", &m.Leaf)
			if m.SecondLeaf != nil {
				courseRows(levels, offers, m, "second", m.SecondLeaf)
			}
		}
		levels.write(w)
		if len(offers.rows) > 0 {
			title(w, "Beds to suit, nearest to the usual first")
			offers.write(w)
		}
		showSetOut(w, c)
		showMakeUps(w, c)
		printFindings(w, c.Findings, 0)
		printCautions(w, c.Cautions)
		return nil
	})
}

func courseRows(levels, offers *table, m *coursing.Met, name string, l *coursing.Leaf) {
	levels.row(m.Name, m.Kind, grouped(m.Level.String()), name, size(l.Gauge), count(l.Courses), size(l.Remainder), size(l.Closing),
		grouped(l.Below.String()), grouped(l.Above.String()))
	for _, o := range l.Offers {
		bed := o.Bed.String()
		if o.Rounded {
			bed = "about " + bed
		}
		offers.row(m.Name, name, count(o.Courses), bed)
	}
}

// showSetOut prints the stacks of each leaf up all the levels, what they miss, and where
// ties can lie.
func showSetOut(w io.Writer, c *coursing.Coursing) {
	title(w, "Set out up all the levels, mm")
	stacks := newTable(text("Leaf"), number("From"), number("To"), number("Courses"), number("Bed"), number("Odd course"))
	missed := newTable(text("Leaf"), text("Level"), number("At"), number("Nearest course"), number("Off"))
	for _, s := range c.SetOut {
		for _, k := range s.Stacks {
			bed := k.Bed.String()
			if k.Rounded {
				bed = "about " + bed
			}
			stacks.row(s.Leaf, grouped(k.From.String()), grouped(k.To.String()), count(k.Courses), bed, size(k.Odd))
		}
		for _, m := range s.Missed {
			missed.row(s.Leaf, m.Name, grouped(m.Level.String()), grouped(m.Nearest.String()), m.Off.String())
		}
	}
	stacks.write(w)
	if len(missed.rows) > 0 {
		title(w, "Levels that fall between courses, mm")
		missed.write(w)
	}
	if len(c.TieBeds) > 0 {
		title(w, "Beds for ties, mm")
		ties := newTable(number("First leaf"), number("Second leaf"))
		for _, t := range c.TieBeds {
			ties.row(grouped(t.First.String()), grouped(t.Second.String()))
		}
		ties.write(w)
	}
}

// showMakeUps prints the ways to come to each plate.
func showMakeUps(w io.Writer, c *coursing.Coursing) {
	ways := newTable(text("Level"), text("Leaf"), number("Courses"), number("Cut course mm"), number("Coursing units"), number("Bed mm"), number("Whole"), number("Cut"), number("Coursing"))
	rows := func(level, leaf string, makeUps []coursing.MakeUp) {
		for _, m := range makeUps {
			n := [3]string{"", "", ""}
			if m.Counts != nil {
				n = [3]string{count(m.Counts.Whole), count(m.Counts.Cut), count(m.Counts.CoursingUnits)}
			}
			ways.row(level, leaf, count(m.Courses), size(m.Cut), count(m.CoursingUnits), m.Bed.String(), n[0], n[1], n[2])
		}
	}
	for i := range c.Levels {
		m := &c.Levels[i]
		rows(m.Name, "first", m.MakeUps)
		if m.SecondLeaf != nil {
			rows(m.Name, "second", m.SecondLeaf.MakeUps)
		}
	}
	if len(ways.rows) > 0 {
		title(w, "Ways to come to the plate, and their units")
		ways.write(w)
	}
}
