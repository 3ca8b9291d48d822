package series

import "math"

// mostBins is the largest number of bins of a file: ten minutes at 1 kHz are 18 rows, 18 ms, a bin.
const mostBins = 1 << 15

// mostRestarts is the largest number of times that time may jump back.
const mostRestarts = 200

// cut is what parts a bin from the one before.
type cut uint8

const (
	runsOn cut = iota
	behindGap
	behindRestart
)

// bin is a run of successive rows.
type bin struct {
	first, last float64 // time in the file's unit
	rows        int
	line        int // of the first row
	cut         cut
}

// span is one column in one bin.
type span struct {
	sum       float64
	low, high float32
	rows      uint32 // that hold a value
}

func (s *span) mean() float64 { return s.sum / float64(s.rows) }

func (s *span) add(x float64) {
	if s.rows == 0 {
		s.low, s.high = float32(x), float32(x)
	} else {
		s.low, s.high = min(s.low, float32(x)), max(s.high, float32(x))
	}
	s.sum += x
	s.rows++
}

func (s *span) join(t *span) {
	if t.rows == 0 {
		return
	}
	if s.rows == 0 {
		*s = *t
		return
	}
	s.low, s.high = min(s.low, t.low), max(s.high, t.high)
	s.sum += t.sum
	s.rows += t.rows
}

// bins hold any number of rows in bounded memory: once there are mostBins of them, neighbours are joined and all later
// ones hold twice as many rows. Rows are never joined over a restart, and over a gap only where gaps are too many.
type bins struct {
	columns int
	perBin  int
	list    []bin
	spans   []span // columns of each bin
	// steps between rows, for what is a gap
	steps    int
	stepSum  float64
	rows     int
	restarts int
	gaps     int
	repeated int // rows at the time of the row before
	back     int // rows a little out of order
	started  bool
}

func newBins(columns int) *bins {
	return &bins{columns: columns, perBin: 1}
}

// meanStep is the mean step between rows within runs, in the file's unit.
func (b *bins) meanStep() float64 {
	if b.steps == 0 {
		return 0
	}
	return b.stepSum / float64(b.steps)
}

// gapSteps are the mean steps beyond which a step is a gap, restartSteps those by which time must jump back to start
// again.
const (
	gapSteps     = 20
	restartSteps = 20
)

// add takes a row. Values that are missing are not finite.
func (b *bins) add(at float64, values []float64, line int) {
	b.rows++
	how := runsOn
	if n := len(b.list); n > 0 && b.started {
		last := b.list[n-1].last
		step, mean := at-last, b.meanStep()
		switch {
		case step < 0 && (-step > restartSteps*mean || b.steps < 5):
			how = behindRestart
			b.restarts++
		case step < 0:
			b.back++
			at = last
		case step == 0:
			b.repeated++
		case b.steps >= 20 && step > gapSteps*mean && mean > 0:
			how = behindGap
			b.gaps++
		default:
			b.steps++
			b.stepSum += step
		}
	}
	b.started = true
	n := len(b.list)
	if how != runsOn || n == 0 || b.list[n-1].rows >= b.perBin {
		if n >= mostBins {
			b.halve()
		}
		b.list = append(b.list, bin{first: at, last: at, line: line, cut: how})
		for range b.columns {
			b.spans = append(b.spans, span{})
		}
		n = len(b.list)
	}
	one := &b.list[n-1]
	one.rows++
	one.last = max(one.last, at)
	row := b.spans[(n-1)*b.columns : n*b.columns]
	for i, x := range values {
		if !math.IsNaN(x) && !math.IsInf(x, 0) {
			row[i].add(x)
		}
	}
}

// halve joins neighbours.
func (b *bins) halve() {
	b.perBin *= 2
	b.joinPairs(false)
	if len(b.list) > mostBins*3/4 {
		b.joinPairs(true)
	}
}

func (b *bins) joinPairs(overGaps bool) {
	kept := 0
	for i := 0; i < len(b.list); i++ {
		to := kept
		kept++
		b.list[to] = b.list[i]
		copy(b.spans[to*b.columns:(to+1)*b.columns], b.spans[i*b.columns:(i+1)*b.columns])
		if i+1 >= len(b.list) {
			break
		}
		next := &b.list[i+1]
		joins := next.cut == runsOn || next.cut == behindGap && overGaps
		if !joins || !overGaps && b.list[to].rows+next.rows > b.perBin {
			continue
		}
		b.list[to].last = max(b.list[to].last, next.last)
		b.list[to].rows += next.rows
		for c := range b.columns {
			b.spans[to*b.columns+c].join(&b.spans[(i+1)*b.columns+c])
		}
		i++
	}
	b.list = b.list[:kept]
	b.spans = b.spans[:kept*b.columns]
}
