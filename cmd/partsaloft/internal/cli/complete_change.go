package cli

import (
	"strings"

	"partsaloft/cmd/internal/answer"

	"github.com/spf13/cobra"
)

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
