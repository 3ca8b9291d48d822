package uncertain

// Basis says where a number comes from. A higher basis is a weaker one.
type Basis uint8

// The bases, strongest first.
const (
	Measured  Basis = iota // weighed, timed, on a bench
	Label                  // printed on the part or in its sheet
	Estimated              // by a law fitted to other parts
)

// String returns the word used in output.
func (b Basis) String() string {
	return [...]string{"measured", "label", "estimated"}[b]
}

// Estimate is a positive number with the standard deviation of its natural logarithm.
type Estimate struct {
	Value float64
	LnSD  float64
	Basis Basis
}
