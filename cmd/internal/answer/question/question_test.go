package question

import (
	"context"
	"encoding/json"
	"io/fs"
	"path"
	"strings"
	"testing"

	"partsaloft/examples"
)

// example is a question about a drawer of the examples.
func example(t testing.TB, ask, name string, options string) *Question {
	t.Helper()
	text, err := examples.Files.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	q := &Question{Ask: ask, Name: name, Drawer: string(text), Options: json.RawMessage(options)}
	names, err := fs.Glob(examples.Files, "styles/*.yaml")
	if err != nil || len(names) == 0 {
		t.Fatal(names, err)
	}
	for _, name := range names {
		text, err := examples.Files.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		q.Styles = append(q.Styles, Text{path.Base(name), string(text)})
	}
	return q
}

// object is JSON that can be looked into.
type object = map[string]any

// put puts a question as JSON and returns the reply.
func put(t testing.TB, desk *Desk, q *Question) object {
	t.Helper()
	content, err := json.Marshal(q)
	if err != nil {
		t.Fatal(err)
	}
	var reply object
	if err := json.Unmarshal(desk.AnswerJSON(context.Background(), content, nil, nil, nil), &reply); err != nil {
		t.Fatal(err)
	}
	return reply
}

// small are cheap options for each question.
var small = map[string]string{
	"rank": `{"top":2}`, "explain": `{"top":2,"rank":1}`, "compare": `{"builds":["1","2"]}`,
	"vary": `{"changes":["craft.mass_g=+12"]}`, "plan": `{"styles":[{"name":"race"}]}`, "buy": `{"top":1}`, "learn": `{}`,
	"check": `{}`, "bench": `{"prop":"p3.5-28x3","rpm":[12000,20000]}`, "explore": `{"rows":20,"details":2}`,
	"lead": `{"top":2}`, "details": `{"picks":[]}`, "styles": `{"all":true}`, "parts": `{}`,
	"flight": `{"file":"flight.csv"}`,
	"record": `{"pick":"motor=m1804-22,prop=p3.5-27x2,pack=k6s-640,frame=f3.5-gaff,board=b28-36",` +
		`"readings":[{"key":"all_up_g","typed":"211g"}]}`,
	"build": `{"pick":"motor=m1804-22,prop=p3.5-27x2,pack=k6s-640,frame=f3.5-gaff,board=b28-36"}`,
	"add":   `{"words":"motor 1404 3900kv 9.3g x4"}`, "fix": `{}`,
	"listen": `{"pick":"motor=m1804-22,prop=p3.5-27x2,pack=k6s-640,frame=f3.5-gaff,board=b28-36",` +
		`"rate_hz":44100,"channels":1}`,
	"enter": `{"list":{"name":"list.txt","text":"motor 1404 3900kv 9.3g x4\nnothing at all\n"}}`,
}

// Every question is answered with a document, and those that make a file with its text.
func TestEveryQuestionIsAnswered(t *testing.T) {
	texts := map[string]string{"learn": "learned", "add": "m1404-3900", "enter": "m1404-3900", "fix": "motors:",
		"record": "all_up_g: 211", "build": "fleet:"}
	var desk Desk
	for _, name := range Names() {
		options, ok := small[name]
		if !ok {
			t.Errorf("%s is not tried", name)
			continue
		}
		reply := put(t, &desk, example(t, name, "racer.yaml", options))
		document, ok := reply["document"].(object)
		if !ok || len(document) == 0 {
			t.Errorf("%s: %v", name, reply)
		}
		text, _ := reply["text"].(string)
		if (texts[name] == "") != (text == "") || !strings.Contains(text, texts[name]) {
			t.Errorf("%s makes %.200q", name, text)
		}
	}
}

// What cannot be answered says why, of which kind it is, and where.
func TestFaultsSayWhy(t *testing.T) {
	for _, c := range []struct {
		name, ask, options, kind, text string
		change                         func(*Question)
	}{
		{"no such question", "rnk", `{}`, "ask", "did you mean rank?", nil},
		{"no such option", "rank", `{"tip":3}`, "ask", `"tip"`, nil},
		{"top out of range", "rank", `{"top":0}`, "ask", "from 1 to 10000, got 0", nil},
		{"rank beyond the list", "explain", `{"rank":9000}`, "ask", "can be flown", nil},
		{"pick of what is not owned", "explain", `{"pick":"motor=nix,prop=a,pack=b,frame=c,board=d"}`, "ask", "nix", nil},
		{"no such style", "rank", `{}`, "ask", "did you mean race?", func(q *Question) { q.Style.Name = "rase" }},
		{"no such axis", "rank", `{}`, "ask", "grup", func(q *Question) { q.Style.Weights = map[string]float64{"grup": 1} }},
		{"no such limit", "rank", `{}`, "ask", "all_up_kg", func(q *Question) {
			q.Style.Limits = map[string]string{"all_up_kg": "..1"}
		}},
		{"role of no extra", "rank", `{"with":["sail"]}`, "ask", "sail", nil},
		{"faults of a drawer", "rank", `{}`, "drawer", "drawer.yaml:1:", func(q *Question) { q.Drawer, q.Name = "motors: 3", "" }},
		{"faults of an offer", "buy", `{"offer":{"name":"shop.yaml","text":"motors: 3"}}`, "drawer", "shop.yaml:1:", nil},
		{"a learned file of something else", "rank", `{}`, "drawer", "my.learned.yaml", func(q *Question) {
			q.Learned = &Text{"my.learned.yaml", "nothing"}
		}},
		{"words that are no part", "add", `{"words":"a nice one"}`, "drawer", "", nil},
	} {
		q := example(t, c.ask, "racer.yaml", c.options)
		if c.change != nil {
			c.change(q)
		}
		var desk Desk
		reply := put(t, &desk, q)
		fault, ok := reply["fault"].(object)
		if !ok || fault["kind"] != c.kind || !strings.Contains(fault["text"].(string), c.text) {
			t.Errorf("%s: %v", c.name, reply)
			continue
		}
		if list := fault["faults"].([]any); (c.kind == "drawer") != (len(list) > 0) {
			t.Errorf("%s: %d faults", c.name, len(list))
		}
	}
}

// A stopped question ends as one.
func TestStoppedQuestionSaysSo(t *testing.T) {
	ctx, stop := context.WithCancel(context.Background())
	stop()
	var desk Desk
	_, err := desk.Answer(ctx, example(t, "explain", "racer.yaml", `{}`), nil)
	if err == nil || FaultOf(err).Kind != "stopped" {
		t.Errorf("%v", err)
	}
}

// The drawer that is kept is that of the question, whatever was asked before.
func TestKeptDrawerIsTheOneAskedAbout(t *testing.T) {
	var desk Desk
	first := put(t, &desk, example(t, "rank", "racer.yaml", `{"top":1}`))
	high := put(t, &desk, example(t, "rank", "racer.yaml", `{"top":1,"altitude_m":3000}`))
	other := put(t, &desk, example(t, "rank", "cruising.yaml", `{"top":1}`))
	again := put(t, &desk, example(t, "rank", "racer.yaml", `{"top":1}`))
	score := func(reply object) any {
		return reply["document"].(object)["results"].([]any)[0].(object)["score"]
	}
	if score(first) == score(high) || score(first) == score(other) || score(first) != score(again) {
		t.Errorf("scores %v, %v at 3000 m, %v of another drawer, %v again", score(first), score(high), score(other), score(again))
	}
}

// Weights and limits of a question change its style; .. takes a limit away.
func TestStyleIsAsAsked(t *testing.T) {
	q := example(t, "styles", "racer.yaml", `{}`)
	q.Style = Style{Name: "freestyle", Weights: map[string]float64{"grip": 1, "endurance": 3},
		Limits: map[string]string{"thrust_to_weight": "..", "all_up_g": "..250"}}
	var desk Desk
	style := put(t, &desk, q)["document"].(object)["styles"].([]any)[0].(object)
	weights, limits := style["weights"].(object), style["limits"].(object)
	if weights["endurance"] != 0.75 || weights["smoothness"] != 0.0 {
		t.Errorf("weights %v", weights)
	}
	if _, kept := limits["thrust_to_weight"]; kept || limits["all_up_g"] == nil {
		t.Errorf("limits %v", limits)
	}
}

// The parts are those of the drawer, with faults at their paths and with estimates where there are none.
func TestPartsAreListed(t *testing.T) {
	var desk Desk
	d := put(t, &desk, example(t, "parts", "racer.yaml", `{}`))["document"].(object)
	parts := d["parts"].([]any)
	if len(parts) < 10 || len(d["faults"].([]any)) > 0 {
		t.Fatalf("%d parts, faults %v", len(parts), d["faults"])
	}
	estimates := 0
	for _, p := range parts {
		part := p.(object)
		estimates += len(part["estimates"].([]any))
		if part["id"] != part["keys"].(object)["id"] || part["id"] == "" {
			t.Errorf("%v", part)
		}
	}
	if estimates == 0 {
		t.Error("nothing is estimated")
	}
	d = put(t, &desk, &Question{Ask: "parts", Drawer: "motors:\n  - id: m1\n    kv: -3\n    stator: 1404\n"})["document"].(object)
	fault := d["faults"].([]any)[0].(object)
	part := d["parts"].([]any)[0].(object)
	if !strings.HasPrefix(fault["path"].(string), part["path"].(string)+".") || part["keys"].(object)["kv"] != -3.0 {
		t.Errorf("fault %v of part %v", fault, part)
	}
}

// Property: whatever is asked, there is a document or a fault, in JSON.
func FuzzAnswerJSON(f *testing.F) {
	for name, options := range small {
		q := Question{Ask: name, Drawer: "motors:\n  - {id: m1, stator: 1404, kv: 3900}\n", Options: json.RawMessage(options)}
		content, err := json.Marshal(&q)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(content)
	}
	f.Add([]byte(`{"ask":"rank","options":{"top":1e400}}`))
	f.Add([]byte(`{"ask":"parts","drawer":"motors: [&a [*a]]"}`))
	f.Fuzz(func(t *testing.T, content []byte) {
		var desk Desk
		var reply struct {
			Document json.RawMessage `json:"document"`
			Fault    *Fault          `json:"fault"`
		}
		out := desk.AnswerJSON(t.Context(), content, nil, nil, nil)
		if err := json.Unmarshal(out, &reply); err != nil || (reply.Document == nil) == (reply.Fault == nil) {
			t.Errorf("%s: %v", out, err)
		}
	})
}
