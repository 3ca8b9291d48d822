// Package question puts a question, as a value that comes from JSON, to answer and gives back its document: for
// programs that hold a drawer's text and no files, screens or command lines, such as the engine in a browser. Same
// drawer, style and seed give the command line's figures.
//
// Every question takes the options of Shared beside its own:
//
//	rank     spread, novel
//	explain  rank or pick; packs, class_g
//	compare  builds (ranks and crafts of the fleet), picks
//	vary     rank or pick; changes
//	plan     styles, aim, share_packs
//	buy      offer
//	learn    brief; the reply's text is the learned file
//	check    –
//	bench    motor, prop, volts, throttle_pct or thrust_g; or prop, rpm, airspeed_mps
//	explore  details, rows, lead; every build that may lead for some weights and limits
//	lead     –; what a ranking says first
//	details  picks; builds predicted in full
//	styles   all
//	parts    –; the drawer's parts as they are written, with faults and estimates
//	add      words; the reply's text is the drawer with the part
//	enter    list; the reply's text is the drawer with its parts
//	fix      –; the reply's text is the drawer mended and tidied
//	record   craft or pick, readings; the reply's text is the drawer with the entry in its log. Without readings it
//	         says which to take
//	build    pick, name; the reply's text is the drawer with the craft in its fleet
//	flight   craft or pick, file, columns, rate_hz, poles, cells, date, flown, weight; attached is the file; the reply's
//	         text is the drawer with the entry in its log, if the craft is named
//	listen   craft or pick, weight, date, rate_hz, channels, cut_to_s; attached are the samples; the reply's text is
//	         the drawer with the reading in its log
package question

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"maps"
	"slices"
	"strings"

	"partsaloft/cmd/internal/answer"
	"partsaloft/inventory/strict"
	"partsaloft/search/progress"
)

// Text is a file by its base name.
type Text struct {
	Name string `json:"name"`
	Text string `json:"text"`
}

// Question is one question about a drawer.
type Question struct {
	Ask    string `json:"ask"`
	Name   string `json:"name"`   // base name of the drawer's file; drawer.yaml if left out
	Drawer string `json:"drawer"` // its text
	Style  Style  `json:"style"`
	// Styles are the texts of styles beside the drawer: those that Style, a plan and the log may name.
	Styles []Text `json:"styles"`
	// Learned is the learned file in use; without one the drawer's own benches teach.
	Learned *Text           `json:"learned"`
	Options json.RawMessage `json:"options"`
	// Attached is what a question brings beside its words, such as samples of sound; base64 in JSON.
	Attached []byte `json:"attached"`
	// File stands in place of Attached, where it is read piece by piece; nil if there is none.
	File File `json:"-"`
}

// File is a file that a question brings.
type File interface {
	io.Reader
	Size() int64
}

// Reply is a document and, of questions that make a file, its text.
type Reply struct {
	Document any    `json:"document"`
	Text     string `json:"text,omitempty"`
}

// Progress is told what share of the work is done, from 0 to 1.
type Progress func(share float64)

// asked is a question on its way to an answer.
type asked struct {
	*Desk
	*Question
	styles map[string]Text
}

// questions are the ways to an answer.
var questions = map[string]func(context.Context, *asked) (*Reply, error){
	"rank": rank, "explain": explain, "compare": compare, "vary": vary, "plan": plan, "buy": buy, "learn": learned,
	"check": checked, "bench": bench, "explore": exploring, "lead": lead, "details": details, "styles": styles,
	"parts": listParts, "add": add, "enter": enter, "fix": fix, "listen": listen,
	"record": record, "build": build, "flight": flight,
}

// Names are the questions that can be asked.
func Names() []string { return slices.Sorted(maps.Keys(questions)) }

// Desk answers questions. It keeps the drawer that it was asked about last, so that the next question about it need
// not read it again. It answers one question at a time.
type Desk struct {
	kept keptDrawer
}

// Answer answers a question. An error is a Faults of a drawer, style or offer, an answer.AskError or
// answer.DrawerError, the context's, or one of the search.
func (d *Desk) Answer(ctx context.Context, q *Question, told Progress) (*Reply, error) {
	way, ok := questions[q.Ask]
	if !ok {
		return nil, wrong("ask", "%q is not a question%s", q.Ask, near(q.Ask, Names()))
	}
	a := &asked{Desk: d, Question: q, styles: map[string]Text{}}
	for _, s := range q.Styles {
		a.styles[styleName(s.Name)] = s
	}
	if told != nil {
		ctx = progress.Begin(ctx, func(now progress.Told) { told(now.Share) })
	}
	return way(ctx, a)
}

// AnswerJSON answers a question in JSON with a Reply or a Fault in JSON. What is attached, or a file, stands in place of
// what the JSON attaches, if it is not nil.
func (d *Desk) AnswerJSON(ctx context.Context, content, attached []byte, file File, told Progress) []byte {
	reply, err := d.answer(ctx, content, attached, file, told)
	if err == nil {
		var out []byte
		if out, err = plain(reply); err == nil {
			return out
		}
	}
	out, err := plain(struct {
		Fault Fault `json:"fault"`
	}{FaultOf(err)})
	if err != nil {
		return []byte(`{"fault":{"kind":"other","text":"","faults":[]}}`)
	}
	return out
}

func (d *Desk) answer(ctx context.Context, content, attached []byte, file File, told Progress) (*Reply, error) {
	var q Question
	if err := decode(content, &q); err != nil {
		return nil, err
	}
	if attached != nil {
		q.Attached = attached
	}
	q.File = file
	return d.Answer(ctx, &q, told)
}

// decode reads JSON that may hold no key beyond those of into.
func decode(content []byte, into any) error {
	decoder := json.NewDecoder(bytes.NewReader(content))
	decoder.DisallowUnknownFields()
	if err := decoder.Decode(into); err != nil {
		return answer.Refused(fmt.Errorf("the question cannot be read: %w", err))
	}
	return nil
}

// plain is JSON without escaping for HTML.
func plain(value any) ([]byte, error) {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	err := e.Encode(value)
	return bytes.TrimRight(b.Bytes(), "\n"), err
}

// wrong is an option that asks for what there is not.
func wrong(option, format string, args ...any) error {
	return answer.Refused(fmt.Errorf(option+": "+format, args...))
}

func near(word string, known []string) string {
	if found := strict.Nearest(word, known); found != "" {
		return fmt.Sprintf("; did you mean %s?", found)
	}
	return ": " + strings.Join(known, ", ")
}
