package main

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"net/http"
	"time"

	"github.com/go-json-experiment/json"
	"github.com/google/uuid"
)

// client talks to the service as anybody's program would: over HTTP, with a key.
type client struct {
	base string // http://127.0.0.1:8080
	key  string
	told io.Writer // one line a call
	http http.Client
}

func newClient(base, key string, told io.Writer) *client {
	return &client{base: base, key: key, told: told, http: http.Client{Timeout: time.Minute}}
}

// call sends a document (nil: none) and reads the answer into answer (nil: only
// its bytes are wanted), which it returns too. An answer that is a problem is a [refused].
func (c *client) call(ctx context.Context, method, path string, document []byte, answer any) ([]byte, error) {
	req, err := http.NewRequestWithContext(ctx, method, c.base+path, bytes.NewReader(document))
	if err != nil {
		return nil, err
	}
	req.Header.Set("Authorization", "Bearer "+c.key)
	if method == http.MethodPost {
		req.Header.Set("Content-Type", "application/json")
		// Sent again after a broken connection, the same request happens once.
		req.Header.Set("Idempotency-Key", uuid.NewString())
	}
	res, err := c.http.Do(req)
	if err != nil {
		return nil, err
	}
	defer res.Body.Close()
	body, err := io.ReadAll(res.Body)
	if err != nil {
		return nil, err
	}
	fmt.Fprintf(c.told, "  %-4s %s -> %s, %s bytes\n", method, path, res.Status, grouped(fmt.Sprint(len(body))))
	if res.StatusCode >= http.StatusBadRequest {
		return nil, &refused{status: res.StatusCode, document: body}
	}
	if answer == nil {
		return body, nil
	}
	return body, json.Unmarshal(body, answer)
}
