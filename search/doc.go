// Package search answers what a pilot asks of a drawer: which combinations are best for a style (Search), which
// crafts to build at once (MakePlan), which part to buy (Buy), what a change does (WhatIf), what another part in
// one place would bring (Neighbours, Packs), and everything that can be best for any weights and limits
// (MakeCatalogue). The space of candidates, the solvers and the predictions have rooms of their own below it. The
// same drawer, style and seed give the same result on any number of workers.
package search
