// Package uncertain holds what is not known of a craft's inputs and carries it through a model: estimates
// with their basis, the list of uncertain inputs, their standard deviations and correlations, and one
// propagation by random draws and by moving one input at a time.
//
// Every input acts as a factor on its nominal value, and its uncertainty is the standard deviation of the
// factor's natural logarithm. Terms follow the Guide to the Expression of Uncertainty in Measurement
// (JCGM 100:2008) and its Supplement 1 on propagation by draws (JCGM 101:2008).
package uncertain
