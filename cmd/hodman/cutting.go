package main

import (
	"io"
	"strings"

	"hodman/service/ancillary"
	"hodman/service/product"
	"hodman/service/takeoff"
)

// printCutting prints how lengths and rolls are cut, and what cutting takes beside the
// least that can do.
func printCutting(w io.Writer, lists []ancillary.CutList) {
	if len(lists) == 0 {
		return
	}
	title(w, "Cut over the whole job")
	t := newTable(wrapped("What", 20), number("Bought"), text("Unit"), number("Bound"), text("Least proven"))
	bars := newTable(wrapped("Product", 18), number("Times"), wrapped("Cut into, mm", 60))
	for i := range lists {
		l := &lists[i]
		proven := "no"
		if l.Proven {
			proven = "yes"
		}
		t.row(strings.ReplaceAll(l.Of, "_", " "), quantity(l.Bought), l.Unit, quantity(l.Bound), proven)
		if product.Kind(l.Of) == product.Insulation {
			continue // board by board it stands in the answer
		}
		for k := range l.Bars {
			bars.row(l.Bars[k].Product, count(l.Bars[k].Times), piecesOf(l.Bars[k].Pieces))
		}
	}
	t.write(w)
	if len(bars.rows) > 0 {
		title(w, "Cutting list")
		bars.write(w)
	}
}

// piecesOf is what one length is cut into.
func piecesOf(pieces []ancillary.CutPiece) string {
	parts := make([]string, len(pieces))
	for i, p := range pieces {
		if p.Count > 1 {
			parts[i] = count(p.Count) + held + "x" + held
		}
		parts[i] += grouped(p.Length.String())
		if p.Wall != "" {
			parts[i] += held + "(" + p.Wall + ")"
		}
	}
	return strings.Join(parts, ", ")
}

// printPlaces prints where along the walls straps, air bricks and the like stand.
func printPlaces(w io.Writer, rows []takeoff.Ancillary) {
	t := newTable(text("Wall"), text("What"), wrapped("Along the wall, mm", 60))
	for i := range rows {
		a := &rows[i]
		if len(a.Places) == 0 {
			continue
		}
		places := make([]string, len(a.Places))
		for k, x := range a.Places {
			places[k] = grouped(x.String())
		}
		t.row(a.Wall, strings.ReplaceAll(a.Part, "_", " "), strings.Join(places, "; "))
	}
	if len(t.rows) > 0 {
		title(w, "Where they stand")
		t.write(w)
	}
}
