// Package physics predicts what a small multirotor does in the air: air, propeller, motor,
// speed controller, pack and whole craft, as pure functions on SI numbers.
//
// Everything is in SI units and float64; a name that holds a quantity ends in its unit. Nothing
// here reads files or draws random numbers. Each model states its equations, its source, and what
// it leaves out. Ground effect, vortex-ring state beyond an empirical induced-velocity fit, blade
// flapping and compressibility are left out.
package physics
