// Command hodman answers what a wall needs: bricks and blocks by laying, lintels
// that bear, what is built in with them, lift loads and a drop plan. It is the
// HTTP service, and the same answers on the command line.
package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"os/signal"
	"strings"
	"syscall"
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	context.AfterFunc(ctx, stop) // a second Ctrl-C ends us at once
	err := run(ctx, os.Args[1:], os.Getenv, os.Stdin, os.Stdout, os.Stderr)
	os.Exit(exitCode(err))
}

// process is what a command works with instead of the process's own globals.
type process struct {
	getenv         func(string) string
	stdin          io.Reader
	stdout, stderr io.Writer
}

// command is one word after hodman.
type command struct {
	name string
	args string // as the usage line shows them
	does string
	run  func(ctx context.Context, p *process, args []string) error
}

func commands() []command {
	return []command{
		{"demo", "[--serve]", "start everything on a Postgres of its own, send the demo job through it, print the answers", demo},
		{"serve", "", "the service", serve},
		{"takeoff", "[--json] FILE", "a wall schedule in, the takeoff out", takeoffCommand},
		{"lintels", "[--json] FILE", "openings in, the lintels that bear out", lintelsCommand},
		{"coursing", "[--json] FILE", "levels to meet in, courses and gauge out", coursingCommand},
		{"elevation", "[--wide] FILE WALL [-o FILE]", "a wall schedule and a wall's ref in, the drawing of the wall out, as SVG", elevationCommand},
		{"drops", "[--json] FILE", "lift loads and a programme in, the drop plan out", dropsCommand},
		{"migrate", "", "bring the database up to this program's tables", migrateCommand},
		{"key", "create NAME [--expires DATE] | list | revoke PREFIX", "make, list and revoke access keys", keyCommand},
		{"ready", "", "ask the running service whether it can serve; for health checks", readyCommand},
	}
}

// run does everything: it finds the command, runs it, and says on stderr what
// went wrong. Its error only tells [exitCode] which way it ended.
func run(ctx context.Context, args []string, getenv func(string) string, stdin io.Reader, stdout, stderr io.Writer) error {
	p := &process{getenv: getenv, stdin: stdin, stdout: stdout, stderr: stderr}
	err := dispatch(ctx, p, args)
	tell(stderr, err)
	return err
}

func dispatch(ctx context.Context, p *process, args []string) error {
	if len(args) == 0 {
		return wrongLine("say what to do; hodman help lists the commands")
	}
	name, rest := args[0], args[1:]
	if name == "help" || name == "-h" || name == "--help" {
		usage(p.stdout)
		return nil
	}
	for _, c := range commands() {
		if c.name != name {
			continue
		}
		err := c.run(ctx, p, rest)
		if errors.Is(err, flag.ErrHelp) {
			fmt.Fprintf(p.stdout, "hodman %s %s\n\n  %s\n", c.name, c.args, c.does)
			return nil
		}
		return err
	}
	return wrongLine("there is no command %q; hodman help lists them", name)
}

func usage(w io.Writer) {
	fmt.Fprintln(w, "hodman: what a wall needs, from the drawing to the drop plan")
	fmt.Fprintln(w)
	for _, c := range commands() {
		fmt.Fprintln(w, strings.TrimSpace("  hodman "+c.name+" "+c.args))
		fmt.Fprintln(w, "      "+c.does)
	}
	fmt.Fprintln(w)
	fmt.Fprintln(w, "FILE may be - for standard input. --json prints exactly what the HTTP call answers.")
	fmt.Fprintln(w, "Exit status: 0 done, 1 failed, 2 the input or the command line is wrong.")
	fmt.Fprintln(w, "Settings come from the environment:")
	fmt.Fprintln(w)
	settings(w)
}

// arguments reads flags before, between and after the words and returns the words.
// Everything after "--" is a word, and so is "-", which is standard input.
func arguments(fs *flag.FlagSet, args []string) ([]string, error) {
	fs.SetOutput(io.Discard)
	var words []string
	for {
		if err := fs.Parse(args); err != nil {
			if errors.Is(err, flag.ErrHelp) {
				return nil, err
			}
			return nil, wrongLine("%v", err)
		}
		read := args[:len(args)-fs.NArg()]
		if len(read) > 0 && read[len(read)-1] == "--" {
			return append(words, fs.Args()...), nil
		}
		if fs.NArg() == 0 {
			return words, nil
		}
		words, args = append(words, fs.Arg(0)), fs.Args()[1:]
	}
}

// none refuses words where a command takes none.
func none(fs *flag.FlagSet, args []string) error {
	words, err := arguments(fs, args)
	if err == nil && len(words) > 0 {
		return wrongLine("%s takes no %q", fs.Name(), words[0])
	}
	return err
}
