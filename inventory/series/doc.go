// Package series turns the time series of a flight, as a flight controller or a logger exports it to CSV, into
// readings: hover throttle, rpm, current and voltage, the pack's resistance and open voltage, charge, largest current
// and lowest voltage, mean power.
//
// Columns are recognised by the words and units of their headings and by the ranges of their values, or named by the
// caller. A file is read once, row by row, into a bounded number of bins (means, least and largest values of successive
// rows), so that memory does not grow with the file. What is found is laid on frames of equal length; change points and
// robust statistics of these find the flight, its hovering stretches and punches; the pack's resistance is a regression
// of voltage on current, charge and what the cells relax.
//
// Every figure carries a standard deviation: scatter between stretches, and what sensors of flight controllers are off
// by as a rule (see Sensors).
package series
