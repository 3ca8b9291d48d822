package main

import (
	"context"
	"errors"
	"io"
	"runtime/debug"
	"syscall/js"
	"time"

	"partsaloft/cmd/internal/answer"
	"partsaloft/cmd/internal/answer/question"
)

// The collector may let the memory grow to three times what is in use: it has no processor of its own here. Beyond
// memoryLimit it works harder.
const (
	gcPercent   = 200
	memoryLimit = 512 << 20
	// attachedLimit is for questions that bring much beside their words, on phones too.
	attachedLimit = 192 << 20
)

const (
	// turn is how long the engine computes before it looks for messages.
	turn = 50 * time.Millisecond
	// progressInterval is the least time between two words on progress.
	progressInterval = 100 * time.Millisecond
)

// engine answers questions one after the other; all of it runs on one thread.
type engine struct {
	desk  question.Desk
	queue chan job
	stops map[int]context.CancelFunc
	turns turns
}

type job struct {
	id       int
	ctx      context.Context
	content  string
	attached []byte
	file     question.File
}

// main gives the worker the functions that ask and stop, and answers what is asked.
func main() {
	debug.SetGCPercent(gcPercent)
	debug.SetMemoryLimit(memoryLimit)
	e := &engine{queue: make(chan job, 1000), stops: map[int]context.CancelFunc{}, turns: newTurns()}
	worker := js.Global().Get("engineHost")
	worker.Set("ask", js.FuncOf(func(_ js.Value, args []js.Value) any {
		e.ask(args[0].Int(), args[1].String(), bytesOf(args[2]), fileOf(args[3]))
		return nil
	}))
	worker.Set("stop", js.FuncOf(func(_ js.Value, args []js.Value) any {
		if stop := e.stops[args[0].Int()]; stop != nil {
			stop()
		}
		return nil
	}))
	var names []any
	for _, name := range question.Names() {
		names = append(names, name)
	}
	worker.Call("ready", answer.ToolVersion, names)
	for j := range e.queue {
		e.answer(worker, j)
	}
}

func (e *engine) ask(id int, content string, attached []byte, file question.File) {
	ctx, stop := context.WithCancel(context.Background())
	e.stops[id] = stop
	e.queue <- job{id, ctx, content, attached, file}
}

// bytesOf are the bytes of a Uint8Array; nil of null.
func bytesOf(array js.Value) []byte {
	if array.IsNull() {
		return nil
	}
	list := make([]byte, array.Length())
	js.CopyBytesToGo(list, array)
	return list
}

// blob is a file that the worker reads piece by piece.
type blob struct {
	value    js.Value
	at, size int64
}

// piece is the most that is read of a file at once.
const piece = 1 << 20

var errUnreadable = errors.New("the file cannot be read: it was moved or changed; open it again")

// fileOf is a file of the worker; nil of null.
func fileOf(value js.Value) question.File {
	if value.IsNull() {
		return nil
	}
	return &blob{value: value, size: int64(value.Get("size").Float())}
}

func (b *blob) Size() int64 { return b.size }

func (b *blob) Read(into []byte) (int, error) {
	if b.at >= b.size {
		return 0, io.EOF
	}
	n := min(int64(len(into)), b.size-b.at, piece)
	read := b.value.Call("read", b.at, b.at+n)
	if read.IsNull() {
		return 0, errUnreadable
	}
	b.at += n
	return js.CopyBytesToGo(into, read), nil
}

func (e *engine) answer(worker js.Value, j job) {
	defer delete(e.stops, j.id)
	if len(j.attached) > 0 {
		defer debug.SetMemoryLimit(debug.SetMemoryLimit(attachedLimit))
	}
	last := time.Now()
	reply := e.desk.AnswerJSON(turning{j.ctx, &e.turns}, []byte(j.content), j.attached, j.file, func(share float64) {
		if now := time.Now(); now.Sub(last) >= progressInterval {
			last = now
			worker.Call("progress", j.id, share)
		}
	})
	worker.Call("reply", j.id, string(reply))
}

// turns let the worker read its messages in between.
type turns struct {
	last    time.Time
	channel js.Value
	taken   chan struct{}
}

func newTurns() turns {
	t := turns{last: time.Now(), channel: js.Global().Get("MessageChannel").New(), taken: make(chan struct{}, 1)}
	t.channel.Get("port1").Set("onmessage", js.FuncOf(func(js.Value, []js.Value) any {
		t.taken <- struct{}{}
		return nil
	}))
	return t
}

// give waits until the messages that have come are read: a message of its own comes behind them.
func (t *turns) give() {
	if time.Since(t.last) < turn {
		return
	}
	t.channel.Get("port2").Call("postMessage", 0)
	<-t.taken
	t.last = time.Now()
}

// turning is a context that gives the worker its turn whenever a computation asks whether to go on.
type turning struct {
	context.Context
	turns *turns
}

// Err is that of the context after the worker had its turn.
func (t turning) Err() error {
	t.turns.give()
	return t.Context.Err()
}
