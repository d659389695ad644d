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
		printFindings(w, plan.Findings, 0)
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
	drops := newTable(number("Drop"), text("Date"), wrapped("Vehicle", 18), text("For lifts"), wrapped("Goods", 42),
		number("Mass kg"), number("Places"))
	for i := range plan.Drops {
		d := &plan.Drops[i]
		goods := make([]string, len(d.Lines))
		for k, l := range d.Lines {
			goods[k] = quantity(l.Quantity) + strings.ReplaceAll(unitAfter(l.Unit), " ", held) + held + l.Product
			switch {
			case measure.Each(l.Packs) == l.Quantity: // sold one by one
			case l.Packs == 1:
				goods[k] += held + "(1" + held + "pack)"
			case l.Packs > 1:
				goods[k] += held + "(" + count(l.Packs) + held + "packs)"
			}
		}
		drops.row(count(d.Number), weekday(d.Date), d.Vehicle, numbers(d.ForLifts), strings.Join(goods, ", "), mass(d.Mass), count(d.Places))
	}
	drops.write(w)
	printCost(w, plan)
	printHoists(w, plan)
}

// printCost says what the trips and the early goods cost, and how near that is to
// the least that any plan could cost.
func printCost(w io.Writer, plan *drop.Plan) {
	said := fmt.Sprintf("%s %s. ", plan.Currency, money(plan.Cost))
	if plan.Optimal {
		said += "No plan within the same bounds costs less."
	} else {
		said += fmt.Sprintf("No plan can cost less than %s; %s %% of the cost lies above that.", money(plan.LowerBound), percent(plan.Gap))
	}
	fmt.Fprintln(w)
	paragraph(w, "  Cost ", said)
}

// money prints an amount rounded half up to a hundredth of the currency.
func money(m measure.Money) string {
	hundredth := int64(measure.MoneyUnit) / 100
	return grouped(measure.Money(measure.HalfUpDiv(int64(m), hundredth) * hundredth).String())
}

// percent prints a ratio in hundredths, rounded half up to a tenth.
func percent(r measure.Ratio) string {
	tenths := measure.HalfUpDiv(int64(r), int64(measure.One)/1000)
	return fmt.Sprintf("%d.%d", tenths/10, tenths%10)
}

// printHoists prints the rounds in which a lift is loaded out, and how many bricks
// or blocks alone a bay may carry. What stands on each single bay is in the JSON.
func printHoists(w io.Writer, plan *drop.Plan) {
	if len(plan.Hoists) > 0 {
		title(w, "Putting out on the platform, the round before used up first")
		t := newTable(number("Lift"), number("Round"), number("Bays"), wrapped("On each bay", 44), number("Mass kg"),
			number("Most kN/m2"), number("Limit kN/m2"))
		for hoists := plan.Hoists; len(hoists) > 0; {
			n := inRound(hoists)
			roundRow(t, hoists[:n], plan.BricksABay)
			hoists = hoists[n:]
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

// inRound is how many hoists at the front belong to one round of one lift.
func inRound(hoists []drop.Hoist) int {
	n := 1
	for n < len(hoists) && hoists[n].Lift == hoists[0].Lift && hoists[n].Order == hoists[0].Order {
		n++
	}
	return n
}

// roundRow adds one round: from how few to how many of each brick or block stand on
// a bay, and the load of the bay that is loaded most.
func roundRow(t *table, hoists []drop.Hoist, laid []drop.BayCount) {
	total, most := measure.Mass(0), measure.Ratio(0)
	for i := range hoists {
		total += hoists[i].Mass
		most = max(most, hoists[i].Imposed)
	}
	var goods []string
	for _, b := range laid {
		if least, most := onBays(hoists, b.Product); least == most && most > 0 {
			goods = append(goods, quantity(most)+held+b.Product)
		} else if most > 0 {
			goods = append(goods, least.String()+" to "+quantity(most)+held+b.Product)
		}
	}
	goods = append(goods, "small goods")
	t.row(count(hoists[0].Lift), count(hoists[0].Order), count(len(hoists)), strings.Join(goods, ", "), mass(total), hundredths(most), hoists[0].Limit.String())
}

// onBays is the least and the most of a product that stands on any of these bays.
func onBays(hoists []drop.Hoist, product string) (least, most measure.Quantity) {
	for i := range hoists {
		here := measure.Quantity(0)
		for _, l := range hoists[i].Lines {
			if l.Product == product {
				here += l.Quantity
			}
		}
		if i == 0 {
			least = here
		}
		least, most = min(least, here), max(most, here)
	}
	return least, most
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
