package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"net/http"
	"strings"
	"time"

	"github.com/go-json-experiment/json"
	"github.com/go-json-experiment/json/jsontext"

	"hodman/service/drop"
	"hodman/service/finding"
	"hodman/service/takeoff"
	"hodman/testdata"
)

// notesShown is how many notes of one sort the demo prints.
const notesShown = 2

// demoDrawing is where a job has the drawing of the gable of its first schedule.
const demoDrawing = "/schedules/1/elevations/B.svg"

// tour sends the demo job through the service as a customer's program would, and
// prints what comes back. Findings of the takeoff and of the drop plan come last.
func tour(ctx context.Context, w io.Writer, c *client) error {
	fmt.Fprintln(w, "The demo job, through the HTTP API:")
	job, kept, err := sendJob(ctx, c)
	if err != nil {
		return err
	}
	t := new(takeoff.Takeoff)
	if err := json.Unmarshal(kept, t); err != nil {
		return fmt.Errorf("reading the takeoff: %w", err)
	}
	plan, err := planDrops(ctx, c, kept)
	if err != nil {
		return err
	}
	var history struct {
		Items []event `json:"items"`
	}
	if _, err := c.call(ctx, http.MethodGet, job+"/history", nil, &history); err != nil {
		return err
	}
	if _, err := c.call(ctx, http.MethodGet, job+demoDrawing, nil, nil); err != nil {
		return err
	}
	fmt.Fprintln(w)
	printTakeoff(w, t)
	printLintels(w, t.Lintels)
	printLifts(w, t.Lifts)
	printDrops(w, plan)
	printHistory(w, history.Items)
	printFindings(w, append(append([]finding.Finding(nil), t.Findings...), plan.Findings...), notesShown)
	printCautions(w, together(t.Cautions, plan.Cautions))
	title(w, "Where it is kept")
	fmt.Fprintf(w, "  The job, its schedule, this takeoff and its history: GET %s\n", job)
	fmt.Fprintf(w, "  Its walls as drawings, this one the gable: GET %s%s\n", job, demoDrawing)
	return nil
}

// sendJob makes the job, gives it its schedule, has it taken off, and reads the
// takeoff back. It returns the job's path and the takeoff as it is kept.
func sendJob(ctx context.Context, c *client) (path string, kept jsontext.Value, err error) {
	draft, err := json.Marshal(map[string]string{"reference": "Fallow Yard, plot 2", "customer": "Made-up Builders"})
	if err != nil {
		return "", nil, err
	}
	var job struct {
		ID string `json:"id"`
	}
	if _, err := c.call(ctx, http.MethodPost, "/v1/jobs", draft, &job); err != nil {
		return "", nil, err
	}
	path = "/v1/jobs/" + job.ID
	if _, err := c.call(ctx, http.MethodPost, path+"/schedules", testdata.RearWing, nil); err != nil {
		return "", nil, err
	}
	var made, read struct {
		ID      string         `json:"id"`
		Takeoff jsontext.Value `json:"takeoff"`
	}
	if _, err := c.call(ctx, http.MethodPost, path+"/takeoffs", []byte("{}"), &made); err != nil {
		return "", nil, err
	}
	if _, err := c.call(ctx, http.MethodGet, path+"/takeoffs/"+made.ID, nil, &read); err != nil {
		return "", nil, err
	}
	if string(read.Takeoff) != string(made.Takeoff) {
		return "", nil, errors.New("the takeoff that was read back is not the one that was made")
	}
	return path, read.Takeoff, nil
}

// planDrops puts the takeoff into the demo's drop plan request and sends it.
func planDrops(ctx context.Context, c *client, t jsontext.Value) (*drop.Plan, error) {
	request := make(map[string]jsontext.Value)
	if err := json.Unmarshal(testdata.RearWingDrops, &request); err != nil {
		return nil, err
	}
	request["takeoff"] = t
	document, err := json.Marshal(request)
	if err != nil {
		return nil, err
	}
	plan := new(drop.Plan)
	_, err = c.call(ctx, http.MethodPost, "/v1/drop-plans", document, plan)
	return plan, err
}

// event is one line of a job's history.
type event struct {
	At      time.Time `json:"at"`
	By      string    `json:"by"`
	Summary string    `json:"summary"`
}

func printHistory(w io.Writer, events []event) {
	title(w, "History, newest first")
	t := newTable(text("When, UTC"), text("By"), wrapped("What", 60))
	for i := range events {
		e := &events[i]
		t.row(moment(&e.At), e.By, e.Summary)
	}
	t.write(w)
}

// together joins lists of texts, each text once.
func together(lists ...[]string) (all []string) {
	seen := make(map[string]bool)
	for _, list := range lists {
		for _, s := range list {
			if key := strings.TrimSpace(s); !seen[key] {
				seen[key] = true
				all = append(all, s)
			}
		}
	}
	return all
}
