package main

import (
	"context"
	"flag"
	"fmt"
	"net"
	"net/http"
	"time"
)

// readyCommand asks the service at HODMAN_ADDR whether it can serve. A container
// needs no other program for its health check.
func readyCommand(ctx context.Context, p *process, args []string) error {
	if err := none(flag.NewFlagSet("ready", flag.ContinueOnError), args); err != nil {
		return err
	}
	c, err := readConfig(p.getenv)
	if err != nil {
		return err
	}
	ctx, cancel := context.WithTimeout(ctx, 3*time.Second)
	defer cancel()
	req, err := http.NewRequestWithContext(ctx, http.MethodGet, "http://"+reachable(c.addr)+"/readyz", nil)
	if err != nil {
		return err
	}
	answer, err := http.DefaultClient.Do(req)
	if err != nil {
		return err
	}
	answer.Body.Close()
	if answer.StatusCode != http.StatusOK {
		return fmt.Errorf("not ready: %s", answer.Status)
	}
	fmt.Fprintln(p.stdout, "ready")
	return nil
}

// reachable is the address to ask where the service listens on every one.
func reachable(addr string) string {
	host, port, _ := net.SplitHostPort(addr) // readConfig has split it before
	if ip := net.ParseIP(host); host == "" || ip != nil && ip.IsUnspecified() {
		host = "127.0.0.1"
	}
	return net.JoinHostPort(host, port)
}
