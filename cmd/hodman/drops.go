package main

import (
	"context"
	"fmt"
	"io"
	"strings"
	"time"

	"hodman/service/drop"
	"hodman/service/measure"
)

func dropsCommand(ctx context.Context, p *process, args []string) error {
	return compute(ctx, p, "drops", "/v1/drop-plans", args, showDrops)
}

func showDrops(w io.Writer, plan *drop.Plan) error {
	return out(w, func(w io.Writer) error {
		printDrops(w, plan)
		printFindings(w, plan.Findings)
		printCautions(w, plan.Cautions)
		return nil
	})
}

// printDrops prints when each lift is built, what comes when, and how it is put out.
func printDrops(w io.Writer, plan *drop.Plan) {
	title(w, "Programme")
	lifts := newTable(number("Lift"), text("Starts"), text("Ends"), number("Working days"))
	for _, l := range plan.Lifts {
		lifts.row(count(l.Lift), weekday(l.Starts), weekday(l.Ends), count(l.Days))
	}
	lifts.write(w)

	title(w, "Drops")
	drops := newTable(number("Drop"), text("Date"), wrapped("Vehicle", 18), text("For lifts"), number("Packs"), wrapped("Goods", 30),
		number("Mass kg"), number("Places"))
	for i := range plan.Drops {
		d := &plan.Drops[i]
		packs, goods := 0, make([]string, len(d.Lines))
		for k, l := range d.Lines {
			packs += l.Packs
			goods[k] = quantity(l.Quantity) + " " + l.Product
		}
		drops.row(count(d.Number), weekday(d.Date), d.Vehicle, numbers(d.ForLifts), count(packs), strings.Join(goods, "\n"), mass(d.Mass), count(d.Places))
	}
	drops.write(w)
	printCost(w, plan)
	printHoists(w, plan)
}

// printCost says what the trips and the early goods cost, and how near that is to
// the least that any plan could cost.
func printCost(w io.Writer, plan *drop.Plan) {
	said := fmt.Sprintf("%s %s. ", plan.Currency, grouped(plan.Cost.String()))
	if plan.Optimal {
		said += "No plan within the same bounds costs less."
	} else {
		said += fmt.Sprintf("No plan can cost less than %s; %s %% of the cost lies above that.", grouped(plan.LowerBound.String()), percent(plan.Gap))
	}
	fmt.Fprintln(w)
	paragraph(w, "  Cost ", said)
}

// percent prints a ratio in hundredths, rounded half up to a tenth.
func percent(r measure.Ratio) string {
	tenths := measure.HalfUpDiv(int64(r), int64(measure.One)/1000)
	return fmt.Sprintf("%d.%d", tenths/10, tenths%10)
}

// printHoists prints what is put out on each bay, one round after the other, and
// how many bricks or blocks alone a bay may carry.
func printHoists(w io.Writer, plan *drop.Plan) {
	if len(plan.Hoists) > 0 {
		title(w, "Putting out on the platform")
		t := newTable(number("Lift"), number("Round"), number("Bays"), wrapped("Goods on each bay", 44), number("kg a bay"), number("Load kN/m2"), number("Limit kN/m2"))
		for _, r := range rounds(plan.Hoists) {
			h := r.first
			t.row(count(h.Lift), count(h.Order), r.bays, hoisted(h), mass(h.Mass), hundredths(h.Imposed), h.Limit.String())
		}
		t.write(w)
	}
	if len(plan.BricksABay) > 0 {
		fmt.Fprintln(w)
		for _, b := range plan.BricksABay {
			fmt.Fprintf(w, "  One bay may carry %s %s of %s kg and nothing else beside people and mortar boards.\n",
				count(b.Units), b.Product, b.UnitMass)
		}
	}
}

// round is bays next to each other that are loaded alike in one round.
type round struct {
	first *drop.Hoist
	bays  string
}

// rounds puts bays that are loaded alike into one row.
func rounds(hoists []drop.Hoist) (rows []round) {
	last := 0
	for i := range hoists {
		h := &hoists[i]
		if n := len(rows) - 1; n >= 0 {
			f := rows[n].first
			if f.Lift == h.Lift && f.Order == h.Order && last+1 == h.Bay && hoisted(f) == hoisted(h) && f.Imposed == h.Imposed {
				rows[n].bays = fmt.Sprintf("%d-%d", f.Bay, h.Bay)
				last = h.Bay
				continue
			}
		}
		rows, last = append(rows, round{h, fmt.Sprint(h.Bay)}), h.Bay
	}
	return rows
}

// hoisted says what stands on one bay.
func hoisted(h *drop.Hoist) string {
	goods := make([]string, len(h.Lines))
	for i, l := range h.Lines {
		goods[i] = quantity(l.Quantity) + " " + l.Product
	}
	return strings.Join(goods, ", ")
}

// hundredths prints a ratio rounded up to a hundredth: an imposed load is never
// shown smaller than it is.
func hundredths(r measure.Ratio) string {
	n := measure.CeilDiv(int64(r), int64(measure.One)/100)
	return fmt.Sprintf("%d.%02d", n/100, n%100)
}

// weekday prints a date with its day of the week.
func weekday(d drop.Date) string {
	t, _ := time.Parse(time.DateOnly, d.String()) // it is one
	return t.Format("Mon 2 Jan 2006")
}

func numbers(list []int) string {
	words := make([]string, len(list))
	for i, n := range list {
		words[i] = fmt.Sprint(n)
	}
	return strings.Join(words, ", ")
}
