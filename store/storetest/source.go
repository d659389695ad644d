package storetest

import (
	"context"
	"errors"
	"fmt"
	"log/slog"
	"net"
	"os"
	"os/exec"
	"strconv"
	"syscall"
	"time"

	"github.com/testcontainers/testcontainers-go"
	"github.com/testcontainers/testcontainers-go/wait"

	"hodman/store/localpg"
)

// find gives the URL of a Postgres to test with, as a user that may make databases.
func find(ctx context.Context) (string, error) {
	given := os.Getenv("HODMAN_TEST_DATABASE_URL")
	switch how := os.Getenv("HODMAN_TEST_POSTGRES"); how {
	case "url":
		if given == "" {
			return "", errors.New("HODMAN_TEST_POSTGRES is url, but HODMAN_TEST_DATABASE_URL is not set")
		}
		return given, nil
	case "local":
		return local(ctx)
	case "container":
		return container(ctx)
	case "":
		if given != "" {
			return given, nil
		}
		at, err := local(ctx)
		if err == nil {
			return at, nil
		}
		at, err2 := container(ctx)
		if err2 != nil {
			return "", errors.Join(err, err2)
		}
		return at, nil
	default:
		return "", fmt.Errorf("HODMAN_TEST_POSTGRES is %q; it may be url, local or container", how)
	}
}

// local starts a Postgres from the machine's own binaries in a folder that goes with us.
func local(ctx context.Context) (string, error) {
	dir, err := os.MkdirTemp("", "hodman-test-")
	if err != nil {
		return "", err
	}
	if err := os.Chmod(dir, 0o755); err != nil { // as root, Postgres runs as another user
		return "", err
	}
	s, err := localpg.Start(ctx, dir, slog.New(slog.DiscardHandler), localpg.Throwaway(), localpg.NoFetch())
	if err != nil {
		return "", errors.Join(err, os.RemoveAll(dir))
	}
	// Postgres is signalled when we die; whoever tidies up waits for that.
	tidy := `while kill -0 "$1" 2>/dev/null; do sleep 0.05; done; rm -rf "$2"`
	return s.AdminURL("postgres"), afterUs(tidy, strconv.Itoa(s.PID()), dir)
}

// container starts a Postgres in a container that goes with us.
func container(ctx context.Context) (string, error) {
	image := os.Getenv("HODMAN_TEST_POSTGRES_IMAGE")
	if image == "" {
		image = "postgres:15-alpine"
	}
	// The library's own tidying needs a second image, from a registry; the docker command does as well.
	docker, err := exec.LookPath("docker")
	if err == nil {
		os.Setenv("TESTCONTAINERS_RYUK_DISABLED", "true")
	}
	c, err := testcontainers.Run(ctx, image,
		testcontainers.WithEnv(map[string]string{
			"POSTGRES_USER": "hodman", "POSTGRES_PASSWORD": "hodman", "POSTGRES_DB": "hodman"}),
		testcontainers.WithExposedPorts("5432/tcp"),
		// The image starts the server twice, the first time on its socket only: asked by network, it is the second.
		testcontainers.WithWaitStrategyAndDeadline(2*time.Minute,
			wait.ForExec([]string{"pg_isready", "-h", "127.0.0.1", "-U", "hodman"})))
	if c != nil && docker != "" {
		err = errors.Join(err, afterUs(`"$1" rm -f -v "$2"`, docker, c.GetContainerID()))
	}
	if err != nil {
		return "", fmt.Errorf("a container of %s: %w", image, err)
	}
	at, err := reach(ctx, c)
	if err != nil {
		return "", err
	}
	return "postgres://hodman:hodman@" + at + "/hodman?sslmode=disable", nil
}

// reach finds the address that leads to a container's Postgres: where the library
// takes the engine to be, our own machine, or the container's own address. Which
// it is depends on whether we are in a container too, and the library can be wrong.
func reach(ctx context.Context, c *testcontainers.DockerContainer) (string, error) {
	host, err := c.Host(ctx)
	if err != nil {
		return "", err
	}
	mapped, err := c.MappedPort(ctx, "5432/tcp")
	if err != nil {
		return "", err
	}
	own, err := c.ContainerIP(ctx)
	if err != nil {
		return "", err
	}
	tried := []string{net.JoinHostPort(host, mapped.Port()), net.JoinHostPort("127.0.0.1", mapped.Port()), net.JoinHostPort(own, "5432")}
	for _, at := range tried {
		if conn, err := net.DialTimeout("tcp", at, 2*time.Second); err == nil {
			return at, conn.Close()
		}
	}
	return "", fmt.Errorf("its port is reached at none of %v", tried)
}

// afterUs runs a shell script when this process has ended, in whatever way: the
// shell waits for the end of a pipe that only we hold.
func afterUs(script string, args ...string) error {
	r, w, err := os.Pipe()
	if err != nil {
		return err
	}
	cmd := exec.Command("sh", append([]string{"-c", "cat >/dev/null; " + script, "sh"}, args...)...)
	cmd.Stdin = r
	cmd.Dir = "/"
	cmd.SysProcAttr = &syscall.SysProcAttr{Setpgid: true} // Ctrl-C is for us
	if err := cmd.Start(); err != nil {
		return err
	}
	held = append(held, w) // or the garbage collector closes it
	return r.Close()
}

var held []*os.File
