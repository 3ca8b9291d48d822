// Pocket writes one HTML file with a drawer and the whole engine in it, which answers every question of partsaloft in
// a browser, without a network.
package main

import (
	"bytes"
	"context"
	"flag"
	"fmt"
	"os"
	"os/signal"

	"partsaloft/cmd/internal/files"
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	defer stop()
	if err := run(ctx, os.Args[1:]); err != nil {
		fmt.Fprintln(os.Stderr, "pocket:", err)
		os.Exit(1)
	}
}

func run(ctx context.Context, args []string) error {
	f := flag.NewFlagSet("pocket", flag.ExitOnError)
	drawer := f.String("drawer", "", "`FILE` that lists your parts; without it the embedded example drawer")
	style := f.String("style", "", "way of flying to open with: a built-in style or a style `FILE`")
	output := f.String("output", "pocket.html", "`FILE` to write")
	if err := f.Parse(args); err != nil {
		return err
	}
	if f.NArg() > 0 {
		return fmt.Errorf("takes no word by itself, got %q: a drawer is named with --drawer FILE", f.Arg(0))
	}
	var run files.Run
	if err := run.WillWrite("--output", *output); err != nil {
		return err
	}
	held, err := hold(&run, *drawer, *style)
	if err != nil {
		return err
	}
	engine, err := buildEngine(ctx)
	if err != nil {
		return err
	}
	worker, err := workerText(ctx)
	if err != nil {
		return err
	}
	var page bytes.Buffer
	if err := writePage(&page, held, worker, engine); err != nil {
		return err
	}
	if page.Len() > mostBytes {
		return fmt.Errorf("the page would take %d bytes, at most %d are allowed: leave out parts of the drawer", page.Len(),
			mostBytes)
	}
	return run.Write(ctx, "--output", *output, page.Bytes())
}

// mostBytes is the largest that a page may be.
const mostBytes = 4_000_000
