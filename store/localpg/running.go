//go:build unix

package localpg

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"time"

	"github.com/jackc/pgx/v5"
)

// Running gives the URL of hodman's database where another hodman runs it in the
// same folder now, and "" where none does. It starts and changes nothing.
func Running(ctx context.Context, dir string) (string, error) {
	dir, err := filepath.Abs(dir)
	if err != nil {
		return "", fmt.Errorf("local Postgres: %w", err)
	}
	s := &Server{dir: filepath.Join(dir, "postgres")}
	password, err := os.ReadFile(s.secretFile())
	if errors.Is(err, os.ErrNotExist) {
		return "", nil
	}
	if err != nil {
		return "", fmt.Errorf("local Postgres: %w", err)
	}
	s.password, s.sockets = strings.TrimSpace(string(password)), s.socketPath()
	ctx, cancel := context.WithTimeout(ctx, 2*time.Second)
	defer cancel()
	c, err := pgx.Connect(ctx, s.URL())
	if err != nil {
		return "", nil // not running; whoever starts it next is told what is wrong, if anything is
	}
	return s.URL(), c.Close(ctx)
}
