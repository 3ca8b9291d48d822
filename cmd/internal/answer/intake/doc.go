// Package intake answers what becomes of the parts that a pilot enters in words of his own, one or a list of them, and
// makes the text of the drawer that holds them.
package intake
