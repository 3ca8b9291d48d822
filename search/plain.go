package search

import "context"

// plainBlock is how many candidates are evaluated before their results are taken in.
const plainBlock = 4096

// plain evaluates every candidate that fits. It returns false if the context ended first.
func (s *Space) plain(ctx context.Context, o *Options, t *tally) bool {
	block := make([]candidate, 0, plainBlock)
	found := make([]scored, plainBlock)
	flush := func() bool {
		n := parallel(ctx, o.Workers, len(block), 16, func(i int) { found[i] = s.evaluate(block[i]) })
		for i := range found[:n] {
			t.note(&found[i])
		}
		if o.Progress != nil {
			o.Progress(t.evaluated, s.fitted)
		}
		whole := n == len(block)
		block = block[:0]
		return whole
	}
	whole := true
	s.each(func(c candidate) bool {
		block = append(block, c)
		if len(block) == cap(block) {
			whole = flush()
		}
		return whole
	})
	return whole && flush()
}
