// Package explore makes the document that lets a front end rank, filter, compare and draw a drawer's builds by itself:
// the builds that may lead for some weights and limits, their axes and limits exactly, and the best of them in detail.
// Whoever reads it computes no physics: it weighs, filters, sorts and draws.
package explore
