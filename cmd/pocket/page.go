package main

import (
	"fmt"
	"io"

	"partsaloft/cmd/internal/page"
)

// writePage writes the page: the front end, what it begins with, the worker's script and the packed engine.
func writePage(w io.Writer, h *held, worker, engine []byte) error {
	p := page.Page{
		Title: h.Name + ": what to build", Heading: fmt.Sprintf("What %s can fly", h.Name), Data: h,
		Opening: page.Opening{Advice: []string{"The engine starts; it runs here, in this file, without a network."}},
		Engine:  &page.Engine{Worker: worker, Packed: dense(engine)},
	}
	return p.Write(w)
}
