// Package parallel is a parallel for loop whose results do not depend on the number of workers.
package parallel

import (
	"context"
	"runtime"
	"sync"
	"sync/atomic"
)

// Workers is the number of workers, one a processor if none is given.
func Workers(n int) int {
	if n <= 0 {
		return runtime.GOMAXPROCS(0)
	}
	return n
}

// For calls do for 0 to n−1 on a number of workers, in chunks; do writes its result to its
// own index. It stops early when the context ends and returns how many leading calls are certain to
// have been made: n if it was not stopped.
func For(ctx context.Context, workers, n, chunk int, do func(i int)) int {
	workers = min(Workers(workers), (n+chunk-1)/chunk)
	if workers <= 1 {
		for i := range n {
			if i%chunk == 0 && ctx.Err() != nil {
				return i
			}
			do(i)
		}
		return n
	}
	var next atomic.Int64
	done := make([]atomic.Bool, (n+chunk-1)/chunk)
	var wait sync.WaitGroup
	for range workers {
		wait.Go(func() {
			for ctx.Err() == nil {
				c := int(next.Add(1)) - 1
				if c >= len(done) {
					return
				}
				for i := c * chunk; i < min((c+1)*chunk, n); i++ {
					do(i)
				}
				done[c].Store(true)
			}
		})
	}
	wait.Wait()
	for c := range done {
		if !done[c].Load() {
			return c * chunk
		}
	}
	return n
}
