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
