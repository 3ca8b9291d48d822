//go:build !unix

package sound

// processorS is 0 where the processor time is not known.
func processorS() float64 { return 0 }
