// Package page writes a front end as one HTML file that works without a network: the offline page with a drawer's builds
// inside, and the frame of the page that carries the engine. The page computes no physics: it asks its source, and what
// it does with the answers is weigh, filter, sort and draw.
package page
