// Package inventory reads the parts that a pilot owns, says which of them go together and why
// not, and turns a combination of them into SI numbers.
//
// Numbers stay in the pilot's units here: a field's name ends in its unit, and its YAML key is the
// one a pilot writes. A number that may be left out is a pointer, nil if it is not given. The
// conversion to SI stands in the files si_*.go and nowhere else.
package inventory
