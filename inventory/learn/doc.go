// Package learn corrects the uncertain figures of parts by what their pilot weighed, flew and
// measured.
//
// What is not known of a part is a factor on an input of physics, with the standard deviation and
// the correlations that uncertain.Budget states. Underneath lie independent standard normal
// numbers: a prop's own and those of its series, a motor's, a pack's, and so on. Readings of crafts
// and stands move them; Fit finds the most likely ones by regularised least squares with Student
// weights, and their joint covariance by Laplace's method. What comes out, as factors on the inputs
// of the parts with what is left of their uncertainty, is a Learned, which a file keeps.
package learn
