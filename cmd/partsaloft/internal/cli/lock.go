package cli

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"time"
)

// How long a run waits for another that changes the same file.
const (
	lockPatience = 5 * time.Second
	lockPause    = 20 * time.Millisecond
)

// lock keeps other runs of the program from changing a file between reading and writing it. It waits
// for one that does, for a while. The function that it returns ends it.
func lock(ctx context.Context, path string) (unlock func(), err error) {
	if target, linkErr := filepath.EvalSymlinks(path); linkErr == nil {
		path = target
	}
	folder, base := filepath.Split(path)
	name := filepath.Join(folder, "."+base+".lock")
	for waited := time.Duration(0); ; waited += lockPause {
		f, err := os.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o666)
		switch {
		case err == nil:
			return func() { os.Remove(name) }, f.Close()
		case !errors.Is(err, fs.ErrExist):
			return nil, fmt.Errorf("%s: nothing was written: %w", base, err)
		case waited >= lockPatience:
			return nil, fmt.Errorf("another run is changing %s; if none is, delete %s beside it", base, filepath.Base(name))
		}
		select {
		case <-ctx.Done():
			return nil, ctx.Err()
		case <-time.After(lockPause):
		}
	}
}
