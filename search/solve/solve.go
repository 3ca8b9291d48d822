package solve

// Options say how to solve.
type Options struct {
	Top      int    // how many of the best to keep
	Seed     uint64 // of the genetic search
	MaxEvals int64  // most evaluations of a genetic search; 0 means 20 000
	Workers  int    // 0 means one a processor
	// Spread keeps combinations of which no two share two of motor, prop and pack.
	Spread bool
	// Progress, if set, is told how much of the work is done, from one goroutine at a time.
	Progress func(done, total int64)
}
