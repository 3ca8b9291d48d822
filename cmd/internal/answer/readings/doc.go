// Package readings answers what becomes of what a pilot read on a craft: which readings to take of it, and the text of
// the drawer whose log holds them.
package readings
