package answer

import (
	"bytes"
	"encoding/json"
	"io"

	"partsaloft/cmd/internal/answer/catalogue"
	"partsaloft/search"
	"partsaloft/search/predict"
	"partsaloft/search/space"
)

// SchemaVersion is that of the JSON document: it rises when a key changes its meaning or goes away.
const SchemaVersion = 3

// ToolVersion is that of the program; it stands in every document.
const ToolVersion = "1.0.0"

// Head is what every document begins with.
type Head struct {
	SchemaVersion int    `json:"schema_version"`
	ToolVersion   string `json:"tool_version"`
	Seed          uint64 `json:"seed"`
	Drawer        string `json:"drawer,omitempty"`
	Style         string `json:"style,omitempty"`
	// Learned is the base name of the learned file that corrected the figures.
	Learned string `json:"learned,omitempty"`
	// Care is what to mind: dangers first, then cautions.
	Care Care `json:"care"`
	// Advice is what to do and what comes of it, in sentences, the first first; it names no ids.
	Advice []string `json:"advice,omitempty"`
}

// Advised is what to do, in sentences.
func (h *Head) Advised() []string { return h.Advice }

// Mind is what to mind with what the document tells.
func (h *Head) Mind() Care { return h.Care }

// Field is one member of an object whose members keep their order.
type Field struct {
	Key   string
	Value any
}

// Fields is an object in JSON with its members in order.
type Fields []Field

// MarshalJSON writes the members in order.
func (f Fields) MarshalJSON() ([]byte, error) {
	var b bytes.Buffer
	b.WriteByte('{')
	for i, field := range f {
		if i > 0 {
			b.WriteByte(',')
		}
		key, err := json.Marshal(field.Key)
		if err != nil {
			return nil, err
		}
		value, err := plain(field.Value)
		if err != nil {
			return nil, err
		}
		b.Write(key)
		b.WriteByte(':')
		b.Write(value)
	}
	b.WriteByte('}')
	return b.Bytes(), nil
}

// plain marshals without escaping for HTML.
func plain(value any) ([]byte, error) {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	if err := e.Encode(value); err != nil {
		return nil, err
	}
	return bytes.TrimRight(b.Bytes(), "\n"), nil
}

// Figure is a predicted figure. An undefined one has no numbers but a reason.
type Figure struct {
	Value  *float64 `json:"value"`
	Low    *float64 `json:"low"`
	High   *float64 `json:"high"`
	Basis  string   `json:"basis"`
	Reason string   `json:"reason,omitempty"`
}

// Known is a figure with its interval.
func Known(value, low, high float64, basis string) Figure {
	value, low, high = catalogue.Round(value), catalogue.Round(low), catalogue.Round(high)
	return Figure{Value: &value, Low: &low, High: &high, Basis: basis}
}

// Unknown is an undefined figure.
func Unknown(basis, reason string) Figure { return Figure{Basis: basis, Reason: reason} }

// Search says how the results were found.
type Search struct {
	Method     string `json:"method"`
	Candidates int64  `json:"candidates"`
	Evaluated  int64  `json:"evaluated"`
	Proven     bool   `json:"proven"`
	Infeasible Fields `json:"infeasible"`
	// Why this method; Skipped candidates cannot enter by a bound; Gap is how much a better score could
	// still be; Notes hold for the whole drawer.
	Why     string   `json:"why"`
	Skipped int64    `json:"skipped"`
	Gap     float64  `json:"gap"`
	Notes   []string `json:"notes"`
}

// Parts are the parts of a combination by id.
type Parts struct {
	Motor  string   `json:"motor"`
	Prop   string   `json:"prop"`
	Pack   string   `json:"pack"`
	Frame  string   `json:"frame"`
	Board  string   `json:"board"`
	Extras []string `json:"extras"`
}

// BrokenLimit is a rule that a combination breaks: the value found and the bound it crosses, in the
// figure's unit. Both are null if the figure is undefined.
type BrokenLimit struct {
	Rule   string   `json:"rule"`
	Figure string   `json:"figure"`
	Value  *float64 `json:"value"`
	Bound  *float64 `json:"bound"`
	Text   string   `json:"text"`
}

// Result is one combination. One that was not ranked has no rank and no shares.
type Result struct {
	Rank         *int          `json:"rank"`
	Score        float64       `json:"score"`
	Axes         Fields        `json:"axes"`
	Parts        Parts         `json:"parts"`
	Figures      Fields        `json:"figures"`
	BrokenLimits []BrokenLimit `json:"broken_limits"`
	// Dangers are what may burn or fall; they are among the notes too.
	Dangers    []string `json:"dangers,omitempty"`
	Notes      []string `json:"notes"`
	AheadShare *float64 `json:"ahead_share"`
	BestShare  *float64 `json:"best_share"`
	// CannotHoverShare is the share of the draws in which it cannot hover at half charge; they count as flights of no
	// length.
	CannotHoverShare float64 `json:"cannot_hover_share"`
	// Lead is ahead_share in words: clear, likely or toss-up, or danger where dangers are to be read first.
	Lead string `json:"lead,omitempty"`
	// Unlike is the distance from the nearest craft that flies already, 0 to 1, and where it lies.
	Unlike     *float64 `json:"unlike,omitempty"`
	UnlikeText string   `json:"unlike_text,omitempty"`
	// Variants of a ranked result: a rank is a row of builds with one motor, prop and pack, and this is its best.
	Variants *Variants `json:"variants,omitempty"`
}

// Ranking is the document of rank.
type Ranking struct {
	Head
	Search  Search   `json:"search"`
	Results []Result `json:"results"`
	// AdvisedRank is that of the build that is advised: 1, or that of one without dangers that is hardly behind it; left out
	// where nothing is feasible.
	AdvisedRank int        `json:"advised_rank,omitempty"`
	NearMisses  []NearMiss `json:"near_misses"`
	Front       Front      `json:"front"`
	Settle      []Settle   `json:"settle"`
	// AxesBest is the most that any build that was looked at has of each axis; left out where nothing is feasible.
	AxesBest Fields `json:"axes_best,omitempty"`
	// Moves are there if something learned is in use.
	Moves []Move `json:"moves,omitempty"`

	// What the document was made of, and its sentences.
	Found   *search.Ranking `json:"-"`
	Problem *space.Problem  `json:"-"`
	Words   RankWords       `json:"-"`
	Odd     *predict.Result `json:"-"` // the combination in question, if it is not to be built
}

// Front is what nobody beats on every axis: how many combinations, whether none is missing, and the
// best of them by score with those that lead on an axis.
type Front struct {
	Size   int  `json:"size"`
	Proven bool `json:"proven"`
	// Gap is by how many points on every axis at most a build that was not looked at lies beyond some member; left out
	// where the front is proven, and where nothing is known.
	Gap     float64       `json:"gap,omitempty"`
	Members []FrontMember `json:"members"`
}

// FrontMember is a combination on the front.
type FrontMember struct {
	Score float64 `json:"score"`
	Axes  Fields  `json:"axes"`
	Parts Parts   `json:"parts"`
}

// Settle is a measurement that would help to choose between the first two: Right is the chance that
// the better one is then picked, RightNow that chance without it. Part and ID are empty where whole crafts are read.
type Settle struct {
	Measure  string  `json:"measure"`
	Part     string  `json:"part"`
	ID       string  `json:"id"`
	Right    float64 `json:"right"`
	RightNow float64 `json:"right_now"`
	// Cheapest marks the reading of least effort that is worth it.
	Cheapest bool `json:"cheapest,omitempty"`

	onStand bool // a thrust stand is needed for it
}

// Move is a combination whose rank is another than without what was learned; a rank is null where it
// is not in the list.
type Move struct {
	Rank   *int   `json:"rank"`
	Before *int   `json:"before"`
	Parts  Parts  `json:"parts"`
	Text   string `json:"text"`
}

// NearMiss is an infeasible combination close to being feasible, with what would mend it.
type NearMiss struct {
	Score        float64       `json:"score"`
	Axes         Fields        `json:"axes"`
	Parts        Parts         `json:"parts"`
	Figures      Fields        `json:"figures"`
	BrokenLimits []BrokenLimit `json:"broken_limits"`
	Misfits      []string      `json:"misfits"`
	Notes        []string      `json:"notes"`
	Mend         []string      `json:"mend"`
}

// JSON writes a document, indented, without escaping for HTML.
func JSON(w io.Writer, document any) error {
	e := json.NewEncoder(w)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	return e.Encode(document)
}
