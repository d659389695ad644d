package main

import (
	"fmt"
	"io"
	"maps"
	"slices"
	"strings"

	"hodman/service/finding"
)

// printFindings lists what has to be looked at: first what stops the work, then
// what has to be checked, then notes. Of notes of one code only so many are told
// (nought: all), and how many more there are.
func printFindings(w io.Writer, findings []finding.Finding, notes int) {
	if len(findings) == 0 {
		return
	}
	title(w, "Findings")
	for _, severity := range []finding.Severity{finding.Stop, finding.Check, finding.Note} {
		told := make(map[string]int)
		for _, f := range findings {
			if f.Severity != severity {
				continue
			}
			told[f.Code]++
			if severity != finding.Note || notes == 0 || told[f.Code] <= notes {
				printFinding(w, f)
			}
		}
		for _, code := range slices.Sorted(maps.Keys(told)) {
			if more := told[code] - notes; severity == finding.Note && notes > 0 && more > 0 {
				paragraph(w, "         ", fmt.Sprintf("and %d more of %s", more, code))
			}
		}
	}
}

// printFinding sets a note out in one paragraph and the others in full.
func printFinding(w io.Writer, f finding.Finding) {
	lead := fmt.Sprintf("  %-7s", strings.ToUpper(string(f.Severity)))
	if f.Severity == finding.Note {
		said := strings.TrimSuffix(f.Text, ".") + "."
		if f.Remedy != "" {
			said += " Remedy: " + f.Remedy
		}
		paragraph(w, lead, said)
		return
	}
	paragraph(w, lead, f.Text)
	if f.Remedy != "" {
		paragraph(w, "         ", "Remedy: "+f.Remedy)
	}
	place := "at " + f.At
	if f.At == "" {
		place = "at the whole document"
	}
	if f.Rule != "" {
		place += ", rule " + f.Rule
	}
	paragraph(w, "         ", "("+f.Code+" "+place+")")
}

// printCautions prints what always rides with lintels, scaffolds and lifting.
func printCautions(w io.Writer, cautions []string) {
	if len(cautions) == 0 {
		return
	}
	title(w, "Cautions")
	for _, c := range cautions {
		paragraph(w, "  - ", c)
	}
}
