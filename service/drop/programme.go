package drop

import (
	"fmt"
	"math/big"
	"strings"

	"hodman/service/finding"
	"hodman/service/lift"
	"hodman/service/measure"
	"hodman/service/product"
	"hodman/service/rulebook"
)

// mostDays bounds a programme: ten years of days.
const mostDays = 3650

// span is the working days of one lift, from its first to its last.
type span struct{ starts, ends int }

// calendar is the working days of a programme that has been checked.
func (p *Programme) calendar() *calendar {
	words := p.WorkingDays
	if words == nil {
		words = []string{"mon", "tue", "wed", "thu", "fri"}
	}
	var week [7]bool
	for i, w := range weekdays {
		for _, word := range words {
			week[i] = week[i] || w == word
		}
	}
	off := make(map[Date]bool, len(p.Holidays))
	for _, h := range p.Holidays {
		off[mustDate(h)] = true
	}
	return newCalendar(mustDate(p.Start), week, off)
}

// mustDate reads a date that the request's check has passed; it panics on any other.
func mustDate(s string) Date {
	d, err := ParseDate(s)
	if err != nil {
		panic("drop: " + err.Error())
	}
	return d
}

// output is units a bricklayer a day of a laid kind.
func (p *Programme) output(kind string, book *rulebook.Book) int64 {
	if n, there := p.OutputPerDay[kind]; there {
		return int64(n)
	}
	return int64(book.Count("output." + kind))
}

// days is how many working days a lift takes, at least 1: the units that it requires
// over the gang's output, rounded up, and not less than its rise over what green
// masonry may rise in a day, rounded up. The sum is exact.
func (p *Programme) days(l *lift.Load, book *rulebook.Book) (int64, string) {
	work := new(big.Rat)
	var terms []string
	for i := range l.Lines {
		line := &l.Lines[i]
		if !product.Kind(line.Kind).Laid() || line.Required == 0 {
			continue
		}
		out := p.output(line.Kind, book)
		work.Add(work, big.NewRat(int64(line.Required), int64(measure.Whole)*out))
		terms = append(terms, fmt.Sprintf("%s / %d", line.Required, out))
	}
	work.Quo(work, new(big.Rat).SetInt64(int64(p.Bricklayers)))
	laying := ceil(work)
	rise := book.Length("lift.rise_a_day")
	rising := measure.CeilDiv(int64(l.To-l.From), int64(rise))
	most := max(laying, rising, 1)
	sum := "nothing to lay"
	if len(terms) > 0 {
		sum = fmt.Sprintf("(%s) / %d bricklayers = %d rounded up", strings.Join(terms, " + "), p.Bricklayers, laying)
	}
	return most, fmt.Sprintf("lift %d: %s; rise %s / %s mm a day = %d rounded up; takes %d", l.Lift, sum, l.To-l.From, rise, rising, most)
}

func ceil(r *big.Rat) int64 {
	n := new(big.Int).Add(r.Num(), r.Denom())
	n.Sub(n, big.NewInt(1))
	return n.Quo(n, r.Denom()).Int64() // r is not negative: Quo rounds down
}

// spans dates the lifts one after the other, the scaffold being raised between them.
func (p *Programme) spans(loads []lift.Load, book *rulebook.Book) (spans []span, sums []string, faults finding.Faults) {
	change := given(p.LiftChangeDays, book, "drop.lift_change_days")
	next := 0
	for i := range loads {
		n, sum := p.days(&loads[i], book)
		if int64(next)+n > mostDays {
			faults.Add("/programme", "too_large", fmt.Sprintf("lift %d would end on working day %d of the job; a plan reaches %d: give more bricklayers or a higher output, or plan fewer lifts at once",
				loads[i].Lift, int64(next)+n, mostDays))
			return nil, nil, faults
		}
		spans = append(spans, span{next, next + int(n) - 1})
		sums = append(sums, sum)
		next += int(n) + change
	}
	return spans, sums, nil
}
