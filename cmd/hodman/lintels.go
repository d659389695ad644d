package main

import (
	"context"
	"fmt"
	"io"
	"strings"

	"hodman/service/lintel"
)

func lintelsCommand(ctx context.Context, p *process, args []string) error {
	return compute(ctx, p, "lintels", "/v1/lintel-selections", args, showLintels)
}

func showLintels(w io.Writer, s *lintel.Selection) error {
	return out(w, func(w io.Writer) error {
		fmt.Fprintf(w, "Lintels by rulebook %s, catalogue %s\n", s.Rulebook, s.Catalogue)
		printLintels(w, s.Lintels)
		printFindings(w, s.Findings)
		printCautions(w, s.Cautions)
		return nil
	})
}

// printLintels prints the pick for each opening, then who or what lifts it and
// which others would serve, and last the lintels in hand that bear too little.
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
	for i := range picks {
		printPick(w, &picks[i])
	}
}

func printPick(w io.Writer, p *lintel.Pick) {
	said := p.Why
	if p.Handling != "" {
		said += " " + p.Handling
	}
	paragraph(w, fmt.Sprintf("  %-5s", p.Opening), said)
	var serve []string
	for _, a := range p.Alternatives {
		serve = append(serve, a.Product+" bears "+a.Bearing.String()+", "+spoken(a.Status))
	}
	if len(serve) > 0 {
		paragraph(w, "       ", "Would serve too: "+strings.Join(serve, "; ")+".")
	}
	for _, s := range p.Short {
		paragraph(w, "       ", "Too short: "+s.Product+" "+s.Text)
	}
}

// spoken is a status in words.
func spoken(s lintel.Status) string { return strings.ReplaceAll(string(s), "_", " ") }
