// Package physics predicts what a small multirotor does in the air: motor, speed controller, pack and whole craft,
// as pure functions on SI numbers; its rotors come from physics/rotor.
//
// Everything is in SI units and float64; a name that holds a quantity ends in its unit. Nothing here reads files or
// draws random numbers. Each model states its equations, its source, and what it leaves out. Ground effect and the
// interference of rotors and ducts are left out.
package physics
