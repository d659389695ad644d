package main

import (
	"context"
	"flag"
	"os"
	"slices"

	"github.com/go-json-experiment/json"

	"hodman/service/elevation"
)

// elevationCommand draws one wall of a schedule: what the HTTP call answers, to the byte.
func elevationCommand(ctx context.Context, p *process, args []string) error {
	fs := flag.NewFlagSet("elevation", flag.ContinueOnError)
	to := fs.String("o", "-", "the file to write the drawing to; - is standard output")
	wide := fs.Bool("wide", false, "fill a page that is wider than high")
	words, err := arguments(fs, args)
	if err != nil {
		return err
	}
	if len(words) != 2 {
		return wrongLine("elevation needs a FILE, or - for standard input, and the ref of a WALL in it: hodman elevation [--wide] FILE WALL [-o FILE]")
	}
	schedule, err := p.read(words[0])
	if err != nil {
		return err
	}
	document, err := elevationRequest(words[1], schedule, *wide)
	if err != nil {
		return err
	}
	drawing, err := post(ctx, "/v1/elevations", document)
	if err != nil {
		return err
	}
	if *to == "-" {
		_, err = p.stdout.Write(drawing)
		return err
	}
	if err := os.WriteFile(*to, drawing, 0o644); err != nil {
		return &wrong{Title: "The drawing cannot be written", Detail: err.Error()}
	}
	return nil
}

// elevationRequest puts a schedule into the request for a drawing as it was read, so that
// the service finds what is wrong with it, and says so under /schedule.
func elevationRequest(wall string, schedule []byte, wide bool) ([]byte, error) {
	ref, err := json.Marshal(wall)
	if err != nil {
		return nil, wrongLine("%q is no wall's ref", wall) // only bad UTF-8 cannot be written
	}
	layout := elevation.Tall
	if wide {
		layout = elevation.Wide
	}
	return slices.Concat([]byte(`{"wall":`), ref, []byte(`,"layout":"`+string(layout)+`","schedule":`), schedule, []byte("}")), nil
}
