// Package page writes the offline page: one HTML file that ranks a drawer's combinations live, in
// the browser, without a network. The page computes no physics: it holds numbers, and what it does
// with them is weigh, filter, sort and draw.
package page
