// Package search finds the best combinations of a drawer for a style: it lays out the space of
// candidates with the fit rules applied early, searches it exactly or by a genetic algorithm, and
// says how sure the order is. The same drawer, style and seed give the same result on any number
// of workers.
package search
