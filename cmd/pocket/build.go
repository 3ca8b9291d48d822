package main

import (
	"bytes"
	"compress/gzip"
	"context"
	_ "embed"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
)

// enginePackage is the program that runs in the browser.
const enginePackage = "partsaloft/cmd/pocket/engine"

// tight are the packages whose functions are not copied into each other: that makes the engine 8 % smaller and no
// question slower. What computes crafts is not among them.
var tight = [...]string{"gopkg.in/...", "gonum.org/...", "github.com/...", "golang.org/...", "encoding/...", "regexp/...",
	"reflect", "fmt", "time", "os", "strconv", "strings", "bytes", "bufio", "io/...", "sort", "slices", "maps", "log",
	"unicode/...", "syscall", "syscall/js", "context", "errors", "path", "math/rand", "math/rand/v2", "sync", "hash/...",
	"container/...", "iter", "internal/...", "partsaloft/cmd/...", "partsaloft/inventory/...", "partsaloft/search/...",
	"partsaloft/objective"}

//go:embed engine/worker.js
var workerScript []byte

// buildEngine builds the engine for the browser, packed by gzip. The same sources and toolchain give the same bytes.
func buildEngine(ctx context.Context) ([]byte, error) {
	folder, err := os.MkdirTemp("", "pocket")
	if err != nil {
		return nil, err
	}
	defer os.RemoveAll(folder)
	path := filepath.Join(folder, "engine.wasm")
	args := []string{"build", "-trimpath", "-buildvcs=false", "-ldflags=-s -w", "-o", path}
	for _, pattern := range tight {
		args = append(args, "-gcflags="+pattern+"=-l")
	}
	environment := []string{"GOOS=js", "GOARCH=wasm", "CGO_ENABLED=0", "GOFLAGS=", "GOWASM="}
	if _, err := toolchain(ctx, environment, append(args, enginePackage)...); err != nil {
		return nil, fmt.Errorf("the engine cannot be built: %w", err)
	}
	program, err := os.ReadFile(path)
	if err != nil {
		return nil, err
	}
	return pack(program)
}

// pack compresses by gzip, without a date.
func pack(content []byte) ([]byte, error) {
	var b bytes.Buffer
	z, err := gzip.NewWriterLevel(&b, gzip.BestCompression)
	if err != nil {
		return nil, err
	}
	if _, err := z.Write(content); err != nil {
		return nil, err
	}
	err = z.Close()
	return b.Bytes(), err
}

// workerText is the script of the worker: the loader of the toolchain, which fits the engine that it built, and ours.
func workerText(ctx context.Context) ([]byte, error) {
	root, err := toolchain(ctx, nil, "env", "GOROOT")
	if err != nil {
		return nil, err
	}
	loader, err := os.ReadFile(filepath.Join(strings.TrimSpace(string(root)), "lib", "wasm", "wasm_exec.js"))
	if err != nil {
		return nil, fmt.Errorf("the toolchain's loader of programs in a browser cannot be read: %w", err)
	}
	return append(append(loader, '\n'), workerScript...), nil
}

// toolchain runs the go command with a changed environment and returns what it prints.
func toolchain(ctx context.Context, environment []string, args ...string) ([]byte, error) {
	c := exec.CommandContext(ctx, "go", args...)
	c.Env = append(os.Environ(), environment...)
	out, err := c.Output()
	var failed *exec.ExitError
	if errors.As(err, &failed) {
		return nil, fmt.Errorf("go %s: %s", args[0], strings.TrimSpace(string(failed.Stderr)))
	}
	return out, err
}
