// Package objective says how good a craft is for a way of flying: which figures a pilot sees and
// in which units, how they become four axes from 0 to 100, how a style weighs these into one
// score, which limits a craft must keep, and why a score is what it is.
//
// Scales are absolute: they are the same for every style and every drawer, so that a score means
// the same anywhere. Nothing here reads files.
package objective
