// Command partsaloft ranks what can be put together from the quadcopter parts a pilot owns.
package main

import (
	"context"
	"os"
	"os/signal"
	"syscall"

	"github.com/mattn/go-isatty"

	"partsaloft/cmd/partsaloft/internal/cli"
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	// A second interrupt ends the program at once.
	context.AfterFunc(ctx, stop)
	_, plain := os.LookupEnv("NO_COLOR")
	code := cli.Run(ctx, os.Args[1:], cli.Streams{
		Out: os.Stdout, Err: os.Stderr,
		OutTerminal: isatty.IsTerminal(os.Stdout.Fd()), ErrTerminal: isatty.IsTerminal(os.Stderr.Fd()),
		NoColor: plain || os.Getenv("TERM") == "dumb",
	})
	stop()
	os.Exit(code)
}
