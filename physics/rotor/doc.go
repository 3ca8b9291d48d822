// Package rotor predicts a propeller from what is known of it: air, section polar, blade elements and momentum,
// the rotor map over inflow ratio and speed, loads in hover, climb, sideways flight and descent, and the laws that
// guess a blade from its label, bring it to measured stations and bench points, and say how far each may be off.
//
// Everything is in SI units. Left out are flapping, compressibility (Mach numbers at the tip over 0.65), and the
// unsteadiness of descent in one's own wake, of which an empirical mean is used.
package rotor
