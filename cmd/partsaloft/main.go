// Command partsaloft ranks what can be put together from the quadcopter parts a pilot owns.
package main

import (
	"context"
	"os"
	"os/signal"
	"syscall"

	"golang.org/x/term"

	"partsaloft/cmd/partsaloft/internal/cli"
	"partsaloft/cmd/partsaloft/internal/session"
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	// A second interrupt ends the program at once.
	context.AfterFunc(ctx, stop)
	_, plain := os.LookupEnv("NO_COLOR")
	code := cli.Run(ctx, os.Args[1:], session.Streams{
		Out: os.Stdout, Err: os.Stderr, In: os.Stdin, Drawer: os.Getenv(session.DrawerVariable),
		OutTerminal: term.IsTerminal(int(os.Stdout.Fd())), ErrTerminal: term.IsTerminal(int(os.Stderr.Fd())),
		Columns: columns(), NoColor: plain || os.Getenv("TERM") == "dumb",
	})
	stop()
	os.Exit(code)
}

// columns is the width of the terminal, 0 if there is none.
func columns() int {
	for _, f := range []*os.File{os.Stdout, os.Stderr} {
		if width, _, err := term.GetSize(int(f.Fd())); err == nil {
			return width
		}
	}
	return 0
}
