package cli

import (
	"strings"

	"github.com/spf13/cobra"

	"partsaloft/cmd/internal/answer"
	"partsaloft/inventory"
	"partsaloft/objective"
	"partsaloft/physics/figure"
)

type completer = func(c *cobra.Command, args []string, typed string) ([]string, cobra.ShellCompDirective)

// completions tells the shell what can stand behind the flags of all commands.
func (s *session) completions(root *cobra.Command) {
	const stay = cobra.ShellCompDirectiveNoFileComp | cobra.ShellCompDirectiveNoSpace
	give := func(c *cobra.Command, flag string, f completer) {
		if c.Flag(flag) != nil {
			_ = c.RegisterFlagCompletionFunc(flag, f)
		}
	}
	ids := func(kind inventory.Kind) completer {
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
	give(root, "limit", func(_ *cobra.Command, _ []string, _ string) ([]string, cobra.ShellCompDirective) {
		var keys []string
		for _, f := range figure.All() {
			keys = append(keys, f.Key+"=")
		}
		return keys, stay
	})
	give(root, "weights", func(_ *cobra.Command, _ []string, typed string) ([]string, cobra.ShellCompDirective) {
		before := typed[:strings.LastIndex(typed, ",")+1]
		var keys []string
		for a := range objective.AxisCount {
			keys = append(keys, before+a.Key()+"=")
		}
		return keys, stay
	})
	give(root, "with", func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
		return roles, cobra.ShellCompDirectiveNoFileComp
	})
	completeTopics(root)
	for _, flag := range []string{"drawer", "learned"} {
		give(root, flag, func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
			return []string{"yaml", "yml"}, cobra.ShellCompDirectiveFilterFileExt
		})
	}
	for _, c := range root.Commands() {
		switch c.Name() {
		case "plan":
			c.ValidArgsFunction = func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
				return objective.PresetNames(), cobra.ShellCompDirectiveDefault // or a style file
			}
		case "buy", "add":
			c.ValidArgsFunction = func(_ *cobra.Command, args []string, _ string) ([]string, cobra.ShellCompDirective) {
				if len(args) > 0 {
					return nil, cobra.ShellCompDirectiveNoFileComp
				}
				return []string{"yaml", "yml"}, cobra.ShellCompDirectiveFilterFileExt
			}
		}
		give(c, "pick", s.completePick)
		give(c, "change", completeChange)
		give(c, "motor", ids(inventory.KindMotor))
		give(c, "prop", ids(inventory.KindProp))
	}
}

// idsOf are the ids of the drawer named so far; a drawer with faults has none.
func (s *session) idsOf(kind inventory.Kind) []string {
	quiet := s.options.quiet
	s.options.quiet = true
	defer func() { s.options.quiet = quiet }()
	d, err := s.readDrawer()
	if err != nil {
		return nil
	}
	return d.IDs(kind)
}

// completePick offers the keys of --pick that are not there yet, or the ids behind one.
func (s *session) completePick(_ *cobra.Command, _ []string, typed string) ([]string, cobra.ShellCompDirective) {
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

// completeChange offers PART. and then PART.KEY= for --change.
func completeChange(_ *cobra.Command, _ []string, typed string) ([]string, cobra.ShellCompDirective) {
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

// completeTopics offers the topics of help beside the commands.
func completeTopics(root *cobra.Command) {
	root.InitDefaultHelpCmd()
	for _, c := range root.Commands() {
		if c.Name() != "help" || c.ValidArgsFunction == nil {
			continue
		}
		commands := c.ValidArgsFunction
		c.ValidArgsFunction = func(c *cobra.Command, args []string, typed string) ([]string, cobra.ShellCompDirective) {
			offers, directive := commands(c, args, typed)
			if len(args) == 0 {
				for _, topic := range newTopics() {
					offers = append(offers, topic.Name()+"\t"+topic.Short)
				}
			}
			return offers, directive
		}
	}
}
