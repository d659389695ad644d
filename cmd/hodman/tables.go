package main

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"strings"
	"unicode/utf8"
)

// page is as wide as text is wrapped to, in characters.
const page = 100

// column is one column of a table. Its head carries the unit.
type column struct {
	head  string
	right bool // numbers stand to the right
	wide  int  // wrap words to so many characters; nought: as wide as its longest
}

func text(head string) column   { return column{head: head} }
func number(head string) column { return column{head: head, right: true} }

// wrapped is a text column whose words go on in the next line after n characters.
func wrapped(head string, n int) column { return column{head: head, wide: n} }

// table is rows under heads; every row has one cell a column.
type table struct {
	columns []column
	rows    [][]string
}

func newTable(columns ...column) *table { return &table{columns: columns} }

func (t *table) row(cells ...string) {
	if len(cells) != len(t.columns) {
		panic("tables: a row has one cell for each column")
	}
	t.rows = append(t.rows, cells)
}

// write sets the table out: two spaces between columns, no space at a line's end.
func (t *table) write(w io.Writer) {
	heads := make([]string, len(t.columns))
	for i, c := range t.columns {
		heads[i] = c.head
	}
	rows := append([][]string{heads}, t.rows...)
	cells := make([][][]string, len(rows))
	widths := make([]int, len(t.columns))
	for r, row := range rows {
		cells[r] = make([][]string, len(row))
		for i, cell := range row {
			cells[r][i] = wrap(cell, t.columns[i].wide)
			for _, line := range cells[r][i] {
				widths[i] = max(widths[i], utf8.RuneCountInString(line))
			}
		}
	}
	for r := range cells {
		t.writeRow(w, cells[r], widths)
		if r == 0 {
			rule(w, widths)
		}
	}
}

// writeRow writes as many lines as the row's tallest cell has.
func (t *table) writeRow(w io.Writer, cells [][]string, widths []int) {
	tallest := 0
	for _, c := range cells {
		tallest = max(tallest, len(c))
	}
	for n := range tallest {
		var b strings.Builder
		for i, c := range cells {
			line := ""
			if n < len(c) {
				line = c[n]
			}
			room := strings.Repeat(" ", widths[i]-utf8.RuneCountInString(line))
			if t.columns[i].right {
				line = room + line
			} else {
				line += room
			}
			b.WriteString("  " + line)
		}
		fmt.Fprintln(w, strings.TrimRight(b.String(), " "))
	}
}

func rule(w io.Writer, widths []int) {
	for _, n := range widths {
		fmt.Fprint(w, "  ", strings.Repeat("-", n))
	}
	fmt.Fprintln(w)
}

// held is a space that wrap does not break a line at.
const held = "\u00a0"

// wrap breaks a text between words so that no line has more than wide characters,
// but for a word longer than that. wide 0 leaves it whole. Lines broken already stay so.
func wrap(s string, wide int) []string {
	var lines []string
	for given := range strings.SplitSeq(s, "\n") {
		line := ""
		for _, word := range strings.FieldsFunc(given, func(r rune) bool { return r == ' ' }) {
			switch {
			case line == "":
				line = word
			case wide > 0 && utf8.RuneCountInString(line)+1+utf8.RuneCountInString(word) > wide:
				lines = append(lines, line)
				line = word
			default:
				line += " " + word
			}
		}
		lines = append(lines, line)
	}
	for i, line := range lines {
		lines[i] = strings.ReplaceAll(line, held, " ")
	}
	return lines
}

// grouped sets commas between the thousands of a plain decimal number: 12,400.5.
func grouped(number string) string {
	sign := ""
	if strings.HasPrefix(number, "-") {
		sign, number = "-", number[1:]
	}
	whole, fraction, dotted := strings.Cut(number, ".")
	for i := len(whole) - 3; i > 0; i -= 3 {
		whole = whole[:i] + "," + whole[i:]
	}
	if dotted {
		whole += "." + fraction
	}
	return sign + whole
}

// count prints a whole number, and a dash for none.
func count(n int) string {
	if n == 0 {
		return "-"
	}
	return grouped(fmt.Sprint(n))
}

// out gathers what a command prints, so that the first error of writing it is the
// only one to look at. What was printed before print failed is still written.
func out(w io.Writer, print func(w io.Writer) error) error {
	b := bufio.NewWriter(w)
	err := print(b)
	return errors.Join(err, b.Flush())
}

func title(w io.Writer, s string) { fmt.Fprintf(w, "\n%s\n\n", s) }

// paragraph writes a text wrapped to the page, its first line after lead and the
// others below it.
func paragraph(w io.Writer, lead, s string) {
	indent := strings.Repeat(" ", utf8.RuneCountInString(lead))
	for i, line := range wrap(s, page-utf8.RuneCountInString(lead)) {
		if i > 0 {
			lead = indent
		}
		fmt.Fprintln(w, lead+line)
	}
}
