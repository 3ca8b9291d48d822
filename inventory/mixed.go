package inventory

// Mix is the two kinds of motor that a derived motor is made of, and how many pieces of each a
// set takes.
type Mix struct {
	A, B           *Motor
	CountA, CountB int
	// KVSpread is (max − min)/mean of the two kV.
	KVSpread float64
}
