package drop

import (
	"fmt"
	"time"

	"hodman/service/measure"
)

// Date is a day of the calendar, counted from 1 January 1970, without a time or a place.
type Date int32

const secondsADay = 24 * 60 * 60

// ParseDate reads YYYY-MM-DD, from the year 2000 to 2199.
func ParseDate(s string) (Date, error) {
	t, err := time.Parse(time.DateOnly, s)
	if err != nil || t.Year() < 2000 || t.Year() > 2199 {
		return 0, fmt.Errorf("%q is not a date: give a day of the years 2000 to 2199 as YYYY-MM-DD", s)
	}
	return Date(t.Unix() / secondsADay), nil // midnight in UTC: nothing is left over
}

// String is YYYY-MM-DD.
func (d Date) String() string { return d.time().Format(time.DateOnly) }

// MarshalText writes the date as [Date.String] does.
func (d Date) MarshalText() ([]byte, error) { return []byte(d.String()), nil }

// UnmarshalText reads the date as [ParseDate] does.
func (d *Date) UnmarshalText(text []byte) error {
	parsed, err := ParseDate(string(text))
	*d = parsed
	return err
}

func (d Date) time() time.Time { return time.Unix(int64(d)*secondsADay, 0).UTC() }

// weekdays are the words of a request, as time.Weekday counts.
var weekdays = [7]string{"sun", "mon", "tue", "wed", "thu", "fri", "sat"}

// calendar numbers the working days: day 0 is the first on or after the programme's
// start, day -1 the one before it.
type calendar struct {
	week   [7]bool
	off    map[Date]bool
	ahead  []Date // day 0 and on
	behind []Date // day -1 and back
}

// newCalendar takes a week with at least one working day in it: it would search for
// ever otherwise, and the request's check has seen to that.
func newCalendar(start Date, week [7]bool, off map[Date]bool) *calendar {
	c := &calendar{week: week, off: off}
	c.ahead = append(c.ahead, c.search(start, 1))
	return c
}

func (c *calendar) working(d Date) bool { return c.week[d.time().Weekday()] && !c.off[d] }

// search is the first working day from d on, going by step.
func (c *calendar) search(d, step Date) Date {
	for !c.working(d) {
		d += step
	}
	return d
}

// day is the date of a numbered working day.
func (c *calendar) day(n int) Date {
	for n >= len(c.ahead) {
		c.ahead = append(c.ahead, c.search(c.ahead[len(c.ahead)-1]+1, 1))
	}
	for -n > len(c.behind) {
		last := c.ahead[0]
		if k := len(c.behind); k > 0 {
			last = c.behind[k-1]
		}
		c.behind = append(c.behind, c.search(last-1, -1))
	}
	if n < 0 {
		return c.behind[-n-1]
	}
	return c.ahead[n]
}

// days is a count in words.
func days(n int) string {
	if n == 1 {
		return "1 working day"
	}
	return measure.Each(n).String() + " working days"
}
