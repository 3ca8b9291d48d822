package cli

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"partsaloft/cmd/internal/answer/catalogue/phrase"
	"partsaloft/cmd/partsaloft/internal/session"
	"partsaloft/inventory"
	"partsaloft/inventory/learn"
	"partsaloft/inventory/strict"
	"partsaloft/objective"
	"partsaloft/physics/figure"
)

// schemas are the files that have a schema, in the order in which they are named.
var schemas = [...]string{"drawer", "style", "learned"}

func newSchema(s *commands) *cobra.Command {
	return s.Take(&cobra.Command{
		Use:   "schema " + strings.Join(schemas[:], "|"),
		Short: "Print the JSON Schema of a file, for completion in an editor",
		Long: `schema prints the JSON Schema (2020-12) of a drawer, a style or a learned file. Editors that know JSON
Schema complete keys by it, show what they mean and underline what cannot be. It follows from the same
rules as the reader; what only the reader sees, such as an id that leads nowhere, check says.`,
		Example: `  partsaloft schema drawer --output drawer.schema.json
  partsaloft schema style`,
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) != 1 || !slices.Contains(schemas[:], strings.ToLower(args[0])) {
				return fmt.Errorf("name one of %s, such as: partsaloft schema drawer", phrase.Words(schemas[:]))
			}
			return nil
		},
		ValidArgs: schemas[:],
		RunE:      func(c *cobra.Command, args []string) error { return s.schema(c.Context(), strings.ToLower(args[0])) },
	}, session.UsesOutput)
}

func (s *commands) schema(ctx context.Context, name string) error {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	if err := e.Encode(schemaOf(name)); err != nil {
		return err
	}
	return s.Put(ctx, b.Bytes())
}

func schemaOf(name string) *strict.Schema {
	switch name {
	case "style":
		return styleSchema().Document("partsaloft style", "A way of flying and what is wanted from it.")
	case "learned":
		return learn.Schema().Document("partsaloft learned file", "What learn corrected; it writes this file itself.")
	}
	return inventory.Schema().Document("partsaloft drawer", "The parts that a pilot owns, the crafts that fly, and "+
		"what was measured. Units stand in the keys.")
}

// styleAbout says what each key of a style means, by its path.
var styleAbout = map[string]string{
	"name":                  "Name of the style; left out it is the file's.",
	"weights":               "How much each axis counts; axes not named count nothing. Left out, all count alike.",
	"limits":                "Ranges that figures must keep, such as all_up_g: ..250 or style_minutes: 3..",
	"required_roles":        "Roles of which each craft carries one extra.",
	"flying":                "How it is flown; left out it is freestyle's.",
	"flying.speed_mps":      "Speed of turns, pull-outs and of segments without one of their own.",
	"flying.landing_cell_v": "Cell voltage in the air at which you land; left out it is as usual for the craft.",
	"flying.reserve_pct": "Share of the capacity that is left at landing; left out it is as usual for the " +
		"craft.",
	"flying.segments":                "Parts of a flight; their shares add up to 100.",
	"flying.segments.[].kind":        "hover, cruise (level and straight), turn (level), or punch (full throttle).",
	"flying.segments.[].share_pct":   "Share of the flying time.",
	"flying.segments.[].speed_mps":   "Speed over the air.",
	"flying.segments.[].load_factor": "Lift over weight: 1 straight, 2 in a turn banked by 60 degrees.",
	"flying.segments.[].speed_pct": "Instead of speed_mps: share of the top speed that motors, props and cells reach " +
		"on a usual body.",
	"flying.segments.[].load_pct": "Instead of load_factor: share of the thrust to spare that goes into lift on top " +
		"of weight.",
}

// styleSchema is the schema of a style file: its reader's tags, with the axes, figures and roles that
// there are.
func styleSchema() *strict.Schema {
	s := strict.SchemaOf(objective.Written{})
	for path, about := range styleAbout {
		if err := s.Describe(about, strings.Split(path, ".")...); err != nil {
			panic("cli: " + err.Error())
		}
	}
	weights, limits := &strict.Schema{}, &strict.Schema{}
	for a := range objective.AxisCount {
		weights.Set(a.Key(), strict.NewSchema("type", "number", "minimum", 0, "maximum", 1e6))
	}
	const number = `\s*[+-]?(?:[0-9]+\.?[0-9]*|\.[0-9]+)(?:[eE][+-]?[0-9]+)?\s*`
	for _, f := range figure.All() {
		about := f.Meaning
		if f.Unit != "" {
			about += " In " + f.Unit + "."
		}
		limits.Set(f.Key, strict.NewSchema("description", about, "type", "string", "pattern",
			`^(?:`+number+`\.\.(?:`+number+`)?|\s*\.\.`+number+`)$`))
	}
	for key, properties := range map[string]*strict.Schema{"weights": weights, "limits": limits} {
		s.At(key).Set("properties", properties)
		s.At(key).Set("additionalProperties", false)
	}
	if at := s.At("required_roles", "[]"); at != nil {
		*at = *strict.NewSchema("enum", roleWords())
	}
	punch := strict.NewSchema("properties", strict.NewSchema("kind", strict.NewSchema("const", "punch")), "required",
		[]string{"kind"})
	segment := s.At("flying", "segments", "[]")
	without := func(key string) *strict.Schema { return strict.NewSchema("properties", strict.NewSchema(key, false)) }
	segment.Set("dependentSchemas", strict.NewSchema("speed_pct", without("speed_mps"), "load_pct",
		without("load_factor")))
	segment.Set("if", punch)
	segment.Set("then", strict.NewSchema("properties", strict.NewSchema("speed_mps", false, "load_factor", false,
		"speed_pct", false, "load_pct", false)))
	return s
}

// roleWords are the roles of extras as they are written.
func roleWords() []string {
	at := inventory.Schema().At("extras", "[]", "role")
	words, _ := at.Get("enum").([]string)
	return slices.Clone(words)
}
