package main

import (
	"context"
	"fmt"
	"io"
	"strings"

	"hodman/service/lift"
	"hodman/service/measure"
	"hodman/service/mortar"
	"hodman/service/product"
	"hodman/service/takeoff"
)

func takeoffCommand(ctx context.Context, p *process, args []string) error {
	return compute(ctx, p, "takeoff", "/v1/takeoffs", args, showTakeoff)
}

// showTakeoff prints a whole takeoff, findings last.
func showTakeoff(w io.Writer, t *takeoff.Takeoff) error {
	return out(w, func(w io.Writer) error {
		printTakeoff(w, t)
		printSettingOut(w, t.Walls)
		printMortar(w, t.Mortar)
		printLintels(w, t.Lintels)
		printCutting(w, t.Cutting)
		printPlaces(w, t.Ancillaries)
		printLifts(w, t.Lifts)
		printFindings(w, t.Findings, 0)
		printCautions(w, t.Cautions)
		return nil
	})
}

// printTakeoff prints what is to be bought: first what is laid, then the rest.
func printTakeoff(w io.Writer, t *takeoff.Takeoff) {
	fmt.Fprintf(w, "Takeoff of %s\n", t.ScheduleReference)
	fmt.Fprintf(w, "Rulebook %s, catalogue %s\n", t.Rulebook, t.Catalogue)
	laid := newTable(wrapped("Product", 15), number("Laid"), number("Cut"), number("For cuts"),
		number("Breakage"), number("Required"), number("Packs"), number("Order"), number("Surplus"), number("Mass kg"))
	rest := newTable(wrapped("Product", 18), wrapped("Name", 26), text("Unit"), number("Net"), number("Waste"), number("Required"),
		number("Packs"), number("Order"), number("Mass kg"))
	for i := range t.Lines {
		l := &t.Lines[i]
		if product.Kind(l.Kind).Laid() {
			laid.row(l.Product, count(l.Laid), count(l.CutPieces), count(l.ForCuts), quantity(l.Breakage), quantity(l.Required),
				count(l.Packs), quantity(l.Order), quantity(l.Surplus), mass(l.Mass))
			continue
		}
		rest.row(l.Product, l.Name, l.Unit, quantity(l.Net), quantity(l.Breakage), quantity(l.Required), count(l.Packs), quantity(l.Order), mass(l.Mass))
	}
	title(w, "Bricks and blocks, each")
	laid.write(w)
	if len(rest.rows) > 0 {
		title(w, "Lintels, mortar and what is built in")
		rest.write(w)
	}
}

// printSettingOut prints each leaf as given beside the best way to set it out, and what to
// nudge, where the schedule asks for it.
func printSettingOut(w io.Writer, walls []takeoff.Wall) {
	t := newTable(text("Wall"), text("Leaf"), number("Units"), number("Cut"), number("Best units"), number("Best cut"), wrapped("How", 60))
	var nudges []string
	var given, best takeoff.Pieces
	for i := range walls {
		for k := range walls[i].Leaves {
			s := walls[i].Leaves[k].SettingOut
			if s == nil {
				continue
			}
			var how []string
			for _, way := range s.Ways {
				how = append(how, way.Text)
			}
			given.Add(s.AsGiven)
			best.Add(s.Best)
			if k == 0 && walls[i].SettingOut != nil {
				for _, n := range walls[i].SettingOut.Nudges {
					nudges = append(nudges, "Wall "+walls[i].Ref+": "+n.Text)
				}
			}
			t.row(walls[i].Ref, walls[i].Leaves[k].Leaf, count(s.AsGiven.Units), count(s.AsGiven.Cuts), count(s.Best.Units), count(s.Best.Cuts), strings.Join(how, "; "))
		}
	}
	if len(t.rows) > 0 {
		t.row("All", "", count(given.Units), count(given.Cuts), count(best.Units), count(best.Cuts), "")
		title(w, "Setting out, as given and at its best")
		t.write(w)
		for i, n := range nudges {
			if i == 0 {
				title(w, "What to nudge")
			}
			paragraph(w, "  ", n+".")
		}
	}
}

// printMortar prints every way to buy each mortar; the one in the lines is marked.
func printMortar(w io.Writer, mortars []mortar.Batch) {
	if len(mortars) == 0 {
		return
	}
	title(w, "Mortar, by the ways to buy it")
	t := newTable(text("Mortar"), text("Supply"), text("Chosen"), number("Litres"), number("Mass kg"), wrapped("Goods", 48))
	for i := range mortars {
		for k := range mortars[i].Ways {
			y := &mortars[i].Ways[k]
			goods, chosen := make([]string, len(y.Goods)), ""
			for n := range y.Goods {
				goods[n] = sold(&y.Goods[n])
			}
			if y.Chosen {
				chosen = "yes"
			}
			t.row(mortars[i].Name(), strings.ReplaceAll(y.Supply, "_", " "), chosen, quantity(wholeUp(y.Litres)), mass(y.Mass), strings.Join(goods, ", "))
		}
	}
	t.write(w)
}

// sold is one thing that mortar is made of, in packs; where nobody sells it, how much it is.
func sold(g *mortar.Good) string {
	if g.Product == "" {
		return quantity(wholeUp(g.Required)) + held + g.Unit + held + string(g.Kind) + " (not in the catalogue)"
	}
	return count(g.Packs) + held + "x" + held + g.Product
}

// printLifts prints what each lift of the scaffold needs loaded out.
func printLifts(w io.Writer, lifts []lift.Load) {
	if len(lifts) == 0 {
		return
	}
	title(w, "Lifts")
	t := newTable(number("Lift"), number("From mm"), number("To mm"), number("Mass kg"), wrapped("Main products", 60))
	for i := range lifts {
		l := &lifts[i]
		t.row(count(l.Lift), grouped(l.From.String()), grouped(l.To.String()), mass(l.Mass), strings.Join(heaviest(l.Lines, 3), ", "))
	}
	t.write(w)
}

// heaviest names the n products of a lift that weigh most, heaviest first.
func heaviest(lines []lift.Line, n int) []string {
	left := append([]lift.Line(nil), lines...)
	var names []string
	for len(left) > 0 && len(names) < n {
		most := 0
		for i := range left {
			if left[i].Mass > left[most].Mass {
				most = i
			}
		}
		l := left[most]
		names = append(names, quantity(wholeUp(l.Required))+unitAfter(l.Unit)+" "+l.Product)
		left = append(left[:most], left[most+1:]...)
	}
	return names
}

// wholeUp rounds up to a whole unit: enough at a glance.
func wholeUp(q measure.Quantity) measure.Quantity {
	return measure.Quantity(measure.CeilDiv(int64(q), int64(measure.Whole))) * measure.Whole
}

// unitAfter is a unit as it stands after a figure; a count needs none.
func unitAfter(unit string) string {
	if unit == "each" {
		return ""
	}
	return " " + unit
}

// size prints a length in millimetres, and a dash for none.
func size(l measure.Length) string {
	if l == 0 {
		return "-"
	}
	return grouped(l.String())
}

// quantity prints a quantity, and a dash for none.
func quantity(q measure.Quantity) string {
	if q == 0 {
		return "-"
	}
	return grouped(q.String())
}

// mass prints kilograms rounded half up to a tenth, and a dash for none.
func mass(m measure.Mass) string {
	if m == 0 {
		return "-"
	}
	tenths := measure.HalfUpDiv(int64(m), 100)
	return grouped(fmt.Sprintf("%d.%d", tenths/10, tenths%10))
}
