package main

import (
	"context"
	"fmt"
	"io"
	"strings"
	"unicode/utf8"

	"hodman/service/lintel"
)

func lintelsCommand(ctx context.Context, p *process, args []string) error {
	return compute(ctx, p, "lintels", "/v1/lintel-selections", args, showLintels)
}

func showLintels(w io.Writer, s *lintel.Selection) error {
	return out(w, func(w io.Writer) error {
		fmt.Fprintf(w, "Lintels by rulebook %s, catalogue %s\n", s.Rulebook, s.Catalogue)
		printLintels(w, s.Lintels)
		printFindings(w, s.Findings, 0)
		printCautions(w, s.Cautions)
		return nil
	})
}

// printLintels prints the pick for each opening, why it was picked, and who or
// what lifts it.
func printLintels(w io.Writer, picks []lintel.Pick) {
	if len(picks) == 0 {
		return
	}
	title(w, "Lintels, mm")
	t := newTable(text("Wall"), text("Opening"), number("Clear"), number("Needed"), text("Chosen"), number("Length"),
		number("Bears left"), number("right"), number("Mass kg"), text("Stock"))
	for i := range picks {
		p := &picks[i]
		chosen := p.Product
		if chosen == "" {
			chosen = "none"
		}
		t.row(p.Wall, p.Opening, size(p.Clear), size(p.Needed), chosen, size(p.Length), size(p.BearingLeft),
			size(p.BearingRight), mass(p.Mass), spoken(p.Status))
	}
	t.write(w)
	fmt.Fprintln(w)
	wide := longest(picks, func(p *lintel.Pick) string { return p.Opening })
	for i := range picks {
		printPick(w, &picks[i], wide)
	}
	printHandling(w, picks)
}

// mostServing is how many other lintels are named for one opening; --json has all.
const mostServing = 2

// printPick says why, then, where it is not in hand, the first others that would
// serve, then the longest that bears too little.
func printPick(w io.Writer, p *lintel.Pick, wide int) {
	lead := fmt.Sprintf("  %-*s  ", wide, p.Opening)
	indent := strings.Repeat(" ", utf8.RuneCountInString(lead))
	paragraph(w, lead, p.Why)
	var serve []string
	for _, a := range p.Alternatives {
		if p.Status == lintel.InStock || len(serve) == mostServing {
			break // what is in hand and set aside needs no other
		}
		serve = append(serve, a.Product+" bears "+size(a.Bearing)+", "+spoken(a.Status))
	}
	if len(serve) > 0 {
		paragraph(w, indent, "Would serve too: "+strings.Join(serve, "; "))
	}
	if len(p.Short) > 0 {
		paragraph(w, indent, "Too short: "+p.Short[0].Product+" "+p.Short[0].Text)
	}
}

// printHandling says once for each product chosen who or what lifts it.
func printHandling(w io.Writer, picks []lintel.Pick) {
	title(w, "Handling")
	wide := longest(picks, func(p *lintel.Pick) string { return p.Product })
	told := make(map[string]bool)
	for i := range picks {
		if p := &picks[i]; p.Handling != "" && !told[p.Product] {
			told[p.Product] = true
			paragraph(w, fmt.Sprintf("  %-*s  ", wide, p.Product), p.Handling)
		}
	}
}

// longest is how many characters the longest of some names has.
func longest(picks []lintel.Pick, name func(*lintel.Pick) string) (n int) {
	for i := range picks {
		n = max(n, utf8.RuneCountInString(name(&picks[i])))
	}
	return n
}

// spoken is a status in words.
func spoken(s lintel.Status) string { return strings.ReplaceAll(string(s), "_", " ") }
