package main

import (
	"bytes"
	"context"
	"flag"
	"fmt"
	"io"
	"log/slog"
	"net/http"
	"os"

	"github.com/go-json-experiment/json"

	"hodman/api"
	"hodman/service"
)

// mostInput is a little more than the service takes, so that it is the service
// that says a document is too large.
const mostInput = 5 << 20

// compute runs one of the computing calls on a document: through the very handler
// that serves HTTP, so that the answer is the same to the byte, but with no
// network and no database. show prints it as tables.
func compute[T any](ctx context.Context, p *process, name, path string, args []string, show func(io.Writer, *T) error) error {
	fs := flag.NewFlagSet(name, flag.ContinueOnError)
	asJSON := fs.Bool("json", false, "print exactly what the HTTP call answers")
	words, err := arguments(fs, args)
	if err != nil {
		return err
	}
	if len(words) != 1 {
		return wrongLine("%s needs one FILE, or - for standard input: hodman %s [--json] FILE", name, name)
	}
	document, err := p.read(words[0])
	if err != nil {
		return err
	}
	answer, err := post(ctx, path, document)
	if err != nil {
		return err
	}
	if *asJSON {
		_, err = p.stdout.Write(answer)
		return err
	}
	read := new(T)
	if err := json.Unmarshal(answer, read); err != nil {
		return fmt.Errorf("reading our own answer: %w", err)
	}
	return show(p.stdout, read)
}

// read reads a file, or standard input for "-".
func (p *process) read(name string) ([]byte, error) {
	in := p.stdin
	if name != "-" {
		f, err := os.Open(name)
		if err != nil {
			return nil, &wrong{Title: "The file cannot be read", Detail: err.Error()}
		}
		defer f.Close()
		in = f
	}
	document, err := io.ReadAll(io.LimitReader(in, mostInput))
	if err != nil {
		return nil, &wrong{Title: "The file cannot be read", Detail: err.Error()}
	}
	return document, nil
}

// post hands a document to the service in this process.
func post(ctx context.Context, path string, document []byte) ([]byte, error) {
	quiet := slog.New(slog.DiscardHandler)
	handler := api.New(api.Config{}, service.New(nil), quiet)
	req, err := http.NewRequestWithContext(ctx, http.MethodPost, path, bytes.NewReader(document))
	if err != nil {
		return nil, err
	}
	req.Header.Set("Content-Type", "application/json")
	req.RemoteAddr = "127.0.0.1:1" // nobody's, but in the form the handler expects
	w := &recorder{header: make(http.Header), status: http.StatusOK}
	handler.ServeHTTP(w, req)
	if w.status >= http.StatusBadRequest {
		return nil, &refused{status: w.status, document: w.body.Bytes()}
	}
	return w.body.Bytes(), nil
}

// recorder keeps an answer instead of sending it.
type recorder struct {
	header http.Header
	status int
	body   bytes.Buffer
}

func (r *recorder) Header() http.Header         { return r.header }
func (r *recorder) WriteHeader(status int)      { r.status = status }
func (r *recorder) Write(b []byte) (int, error) { return r.body.Write(b) }
