// Package sound reads the rotor speed of a hovering craft from a recording: samples in, a reading out. It knows no
// file, no clock and no random number, and compiles for the browser.
//
// The blade-passing tones of a prop are a comb of harmonics in the short-time spectrum. The comb is looked for about
// the speed that the craft is predicted to hover at (Prior), in power over a running-median floor, by a Viterbi track
// in ln frequency, and held against combs with moved teeth on the same recording, which no rotor makes. About the
// track lies a profile of the evidence of all harmonics; its capped centroid is the mean of the rotors of one group. A
// second group, a pair of rotors that runs apart, is looked for at a steady distance from the first; the quadratic
// mean of both is what carries the weight. Whatever does not hold together is not heard, with its Reason.
//
// Mains hum, which stands still on multiples of 50 or 60 Hz, is taken out beforehand. Weak lines of the shaft between
// the blade tones tell the blade count where they are loud enough; where they are not, only the predicted speed does.
// Rotors of one craft beat against each other: a comb that does not beat is of one shaft, and is believed only close
// to the prediction.
//
// Single rotors can rarely be told apart, and a fan or another craft that hums at the predicted speed not from the
// craft.
package sound
