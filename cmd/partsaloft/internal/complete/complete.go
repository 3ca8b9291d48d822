// Package complete tells a shell what can stand where on the command line.
package complete

import (
	"strings"

	"github.com/spf13/cobra"

	"partsaloft/cmd/internal/answer"
	"partsaloft/cmd/internal/answer/question"
	"partsaloft/cmd/partsaloft/internal/session"
	"partsaloft/cmd/partsaloft/internal/topics"
	"partsaloft/inventory"
	"partsaloft/objective"
	"partsaloft/physics/figure"
)

type completion = func(c *cobra.Command, args []string, typed string) ([]string, cobra.ShellCompDirective)

// completer offers parts of the drawer that a command line names.
type completer struct{ *session.Session }

// All tells the shell what can stand behind the words and flags of all commands.
func All(run *session.Session, root *cobra.Command) {
	s := completer{run}
	const stay = cobra.ShellCompDirectiveNoFileComp | cobra.ShellCompDirectiveNoSpace
	give := func(c *cobra.Command, flag string, f completion) {
		if c.Flag(flag) != nil {
			_ = c.RegisterFlagCompletionFunc(flag, f)
		}
	}
	ids := func(kind inventory.Kind) completion {
		return func(_ *cobra.Command, _ []string, typed string) ([]string, cobra.ShellCompDirective) {
			before := typed[:strings.LastIndex(typed, ",")+1]
			var offers []string
			for _, id := range s.idsOf(kind) {
				if !strings.Contains(","+before, ","+id+",") {
					offers = append(offers, before+id)
				}
			}
			return offers, cobra.ShellCompDirectiveNoFileComp
		}
	}
	fixed := func(values []string) completion {
		return cobra.FixedCompletions(values, cobra.ShellCompDirectiveNoFileComp)
	}
	ending := func(ends ...string) completion {
		return cobra.FixedCompletions(ends, cobra.ShellCompDirectiveFilterFileExt)
	}
	drawers := ending("yaml", "yml")
	offerTopics(root)
	for _, c := range root.Commands() {
		give(c, "limit", func(_ *cobra.Command, _ []string, _ string) ([]string, cobra.ShellCompDirective) {
			var keys []string
			for _, f := range figure.All() {
				keys = append(keys, f.Key+"=")
			}
			return keys, stay
		})
		give(c, "weights", func(_ *cobra.Command, _ []string, typed string) ([]string, cobra.ShellCompDirective) {
			before := typed[:strings.LastIndex(typed, ",")+1]
			var keys []string
			for a := range objective.AxisCount {
				keys = append(keys, before+a.Key()+"=")
			}
			return keys, stay
		})
		give(c, "with", fixed(question.Roles))
		give(c, "format", fixed(session.Formats))
		give(c, "method", fixed(session.Methods))
		give(c, "style", cobra.FixedCompletions(objective.PresetNames(), cobra.ShellCompDirectiveDefault)) // or a style file
		give(c, "drawer", drawers)
		give(c, "learned", drawers)
		give(c, "pick", s.pick)
		give(c, "change", change)
		give(c, "motor", ids(inventory.KindMotor))
		give(c, "prop", ids(inventory.KindProp))
		switch c.Name() {
		case "plan":
			c.ValidArgsFunction = cobra.FixedCompletions(objective.PresetNames(), cobra.ShellCompDirectiveDefault)
		case "explain", "vary", "compare":
			c.ValidArgsFunction = s.pick
		case "rank", "check", "learn", "page", "buy", "add":
			c.ValidArgsFunction = func(c *cobra.Command, args []string, typed string) ([]string, cobra.ShellCompDirective) {
				if len(args) > 0 {
					return nil, cobra.ShellCompDirectiveNoFileComp
				}
				return drawers(c, args, typed)
			}
		}
	}
}

// idsOf are the ids of the drawer named so far; a drawer with faults has none.
func (s completer) idsOf(kind inventory.Kind) []string {
	quiet := s.Options.Quiet
	s.Options.Quiet = true
	defer func() { s.Options.Quiet = quiet }()
	d, err := s.ReadDrawer()
	if err != nil {
		return nil
	}
	return d.IDs(kind)
}

// pick offers the keys of --pick that are not there yet, or the ids behind one.
func (s completer) pick(_ *cobra.Command, _ []string, typed string) ([]string, cobra.ShellCompDirective) {
	const stay = cobra.ShellCompDirectiveNoFileComp | cobra.ShellCompDirectiveNoSpace
	start := strings.LastIndex(typed, ",") + 1
	before, word := typed[:start], typed[start:]
	key, value, named := strings.Cut(word, "=")
	var offers []string
	if !named {
		for _, k := range answer.PickKeys {
			if !strings.Contains(before, k+"=") {
				offers = append(offers, before+k+"=")
			}
		}
		return offers, stay
	}
	kind := inventory.Kind(strings.TrimSuffix(key, "s"))
	chosen := value[:strings.LastIndex(value, "+")+1]
	for _, id := range s.idsOf(kind) {
		offers = append(offers, before+key+"="+chosen+id)
	}
	return offers, stay
}

// change offers PART. and then PART.KEY= for --change.
func change(_ *cobra.Command, _ []string, typed string) ([]string, cobra.ShellCompDirective) {
	const stay = cobra.ShellCompDirectiveNoFileComp | cobra.ShellCompDirectiveNoSpace
	part, key, dotted := strings.Cut(typed, ".")
	if !dotted {
		offers := []string{"craft.mass_g="}
		for _, c := range answer.Changeables() {
			offers = append(offers, c.Part+".")
		}
		return offers, stay
	}
	if part == "craft" {
		return []string{"craft.mass_g="}, stay
	}
	word, _, named := strings.Cut(key, "=")
	for _, c := range answer.Changeables() {
		if c.Part != part {
			continue
		}
		var offers []string
		if named {
			for _, choice := range c.Words(word) {
				offers = append(offers, part+"."+word+"="+choice)
			}
			return offers, cobra.ShellCompDirectiveNoFileComp
		}
		for _, k := range c.Keys() {
			offers = append(offers, part+"."+k+"=")
		}
		return offers, stay
	}
	return nil, stay
}

// offerTopics offers the topics of help beside the commands.
func offerTopics(root *cobra.Command) {
	root.InitDefaultHelpCmd()
	for _, c := range root.Commands() {
		if c.Name() != "help" || c.ValidArgsFunction == nil {
			continue
		}
		commands := c.ValidArgsFunction
		c.ValidArgsFunction = func(c *cobra.Command, args []string, typed string) ([]string, cobra.ShellCompDirective) {
			offers, directive := commands(c, args, typed)
			if len(args) == 0 {
				for _, topic := range topics.New() {
					offers = append(offers, topic.Name()+"\t"+topic.Short)
				}
			}
			return offers, directive
		}
	}
}
