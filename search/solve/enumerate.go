package solve

import (
	"context"
	"iter"
	"partsaloft/search/internal/parallel"
	"partsaloft/search/progress"
	"partsaloft/search/space"
)

// enumerateBlock is how many candidates are evaluated before their results are taken in.
const enumerateBlock = 512

// EvaluateAll evaluates candidates in blocks on a number of workers and takes the results in, in the
// candidates' order. It returns false if the context ended first or take said no after a block.
func EvaluateAll[C, R any](ctx context.Context, workers int, candidates iter.Seq[C], evaluate func(C) R,
	take func([]C, []R)) bool {
	block := make([]C, 0, enumerateBlock)
	found := make([]R, enumerateBlock)
	flush := func() bool {
		n := parallel.For(ctx, workers, len(block), 16, func(i int) { found[i] = evaluate(block[i]) })
		take(block[:n], found[:n])
		progress.Of(ctx).Add(float64(n))
		whole := n == len(block)
		block = block[:0]
		return whole
	}
	whole := true
	candidates(func(c C) bool {
		block = append(block, c)
		if len(block) == cap(block) {
			whole = flush()
		}
		return whole
	})
	return whole && flush()
}

// Enumerate is plain enumeration: it evaluates every candidate that fits. It returns false if the context ended first.
func Enumerate(ctx context.Context, s *space.Space, o *Options, t *Incumbents) bool {
	progress.Of(ctx).Expect(float64(s.Fitted))
	return EvaluateAll(ctx, o.Workers, s.Each, s.Evaluate, func(_ []space.Candidate, found []space.Scored) {
		for i := range found {
			t.note(&found[i])
		}
	})
}
