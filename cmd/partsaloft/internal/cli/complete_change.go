package cli

import (
	"reflect"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"partsaloft/inventory"
)

// changeable are the parts that --change takes, with an empty one of each to read its keys from.
var changeable = []struct {
	part string
	zero any
}{
	{"motor", inventory.Motor{}}, {"prop", inventory.Prop{}}, {"pack", inventory.Pack{}}, {"frame", inventory.Frame{}}, {"board", inventory.Board{}},
	{"air", inventory.Air{}},
}

// completeChange offers PART. and then PART.KEY= for --change.
func completeChange(_ *cobra.Command, _ []string, typed string) ([]string, cobra.ShellCompDirective) {
	const stay = cobra.ShellCompDirectiveNoFileComp | cobra.ShellCompDirectiveNoSpace
	part, key, dotted := strings.Cut(typed, ".")
	if !dotted {
		offers := []string{"craft.mass_g="}
		for _, c := range changeable {
			offers = append(offers, c.part+".")
		}
		return offers, stay
	}
	if part == "craft" {
		return []string{"craft.mass_g="}, stay
	}
	word, _, named := strings.Cut(key, "=")
	for _, c := range changeable {
		if c.part != part {
			continue
		}
		if named {
			return wordsOf(c.zero, part+"."+word+"=", word), cobra.ShellCompDirectiveNoFileComp
		}
		var offers []string
		for _, k := range changeableKeys(reflect.ValueOf(c.zero)) {
			offers = append(offers, part+"."+k+"=")
		}
		return offers, stay
	}
	return nil, stay
}

// changeableKeys are the keys that setKey takes, which says so in its complaint about another.
func changeableKeys(zero reflect.Value) []string {
	part := reflect.New(zero.Type()).Elem()
	_, list, _ := strings.Cut(setKey(part, "", "", false).Error(), "what can: ")
	return strings.Split(list, ", ")
}

// wordsOf are the words that a key may have, none for a number.
func wordsOf(zero any, before, key string) []string {
	t := reflect.TypeOf(zero)
	for i := range t.NumField() {
		name, _, _ := strings.Cut(t.Field(i).Tag.Get("yaml"), ",")
		if words := rulesOf(t.Field(i).Tag.Get("check"))["oneof"]; name == key && words != "" {
			var offers []string
			for word := range strings.SplitSeq(words, "|") {
				offers = append(offers, before+word)
			}
			slices.Sort(offers)
			return offers
		}
	}
	return nil
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
