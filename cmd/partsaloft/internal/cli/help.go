package cli

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"partsaloft/cmd/internal/render"
)

// helpText is what --help shows of a command, no wider than a screen.
func helpText(c *cobra.Command, screen render.Screen) string {
	about := c.Long
	if about == "" {
		about = c.Short
	}
	text := render.Reflow(strings.TrimSpace(about), screen.Width()) + "\n"
	if c.Runnable() || c.HasSubCommands() {
		text += "\n" + usageText(c, screen)
	}
	return text
}

// usageText is how a command is written: its form, examples, what stands below it, and its flags.
func usageText(c *cobra.Command, screen render.Screen) string {
	width := screen.Width()
	var b strings.Builder
	part := func(title string, lines []string) {
		if len(lines) > 0 {
			if b.Len() > 0 {
				b.WriteString("\n")
			}
			b.WriteString(title + ":\n" + strings.Join(lines, "\n") + "\n")
		}
	}
	var forms []string
	if c.Runnable() {
		forms = append(forms, shown(c.UseLine(), width))
	}
	if c.HasAvailableSubCommands() {
		forms = append(forms, shown(c.CommandPath()+" [command]", width))
	}
	part("Usage", forms)
	var examples []string
	for line := range strings.SplitSeq(c.Example, "\n") {
		if line = strings.TrimSpace(line); line != "" {
			examples = append(examples, continued(line, width))
		}
	}
	part("Examples", examples)
	var below, topics [][2]string
	for _, sub := range c.Commands() {
		switch {
		case sub.IsAvailableCommand() || sub.Name() == "help":
			below = append(below, [2]string{sub.Name(), sub.Short})
		case sub.IsAdditionalHelpTopicCommand():
			topics = append(topics, [2]string{sub.CommandPath(), sub.Short})
		}
	}
	part("Available Commands", hung(below, width))
	part("Flags", flagLines(c.LocalFlags(), width))
	part("Global Flags", flagLines(c.InheritedFlags(), width))
	part("Additional help topics", hung(topics, width))
	if c.HasAvailableSubCommands() {
		b.WriteString("\n" + render.Wrap(fmt.Sprintf("Use \"%s [command] --help\" for more information about a command.",
			c.CommandPath()), width, "") + "\n")
	}
	return b.String()
}

// shown is a line set in.
func shown(line string, width int) string { return "  " + render.Wrap(line, width-2, "      ") }

// continued is a command line set in, cut where a shell goes on with the next line.
func continued(line string, width int) string {
	wrapped := strings.Split(render.Wrap(line, width-4, "      "), "\n")
	return "  " + strings.Join(wrapped, " \\\n")
}

// hung are names with what they mean beside them, or below them where there is too little room.
func hung(list [][2]string, width int) []string {
	const gap, least = 2, 34
	names := 0
	for _, one := range list {
		names = max(names, len(one[0]))
	}
	column := 2 + names + gap
	lines := make([]string, len(list))
	for i, one := range list {
		longest := 0
		for _, word := range strings.Fields(one[1]) {
			longest = max(longest, len(word))
		}
		if width-column < max(least, longest) {
			indent := strings.Repeat(" ", 8)
			lines[i] = "  " + one[0] + "\n" + indent + render.Wrap(one[1], width-len(indent), indent)
			continue
		}
		indent := strings.Repeat(" ", column)
		// What is wrapped begins where the column does.
		text := render.Wrap(strings.Repeat("x", column-1)+" "+one[1], width, indent)
		lines[i] = fmt.Sprintf("  %-*s", names+gap, one[0]) + text[column:]
	}
	return lines
}

// flagLines are flags with what they do.
func flagLines(flags *pflag.FlagSet, width int) []string {
	var list [][2]string
	flags.VisitAll(func(f *pflag.Flag) {
		if f.Hidden {
			return
		}
		value, about := pflag.UnquoteUsage(f)
		name := "    --" + f.Name
		if f.Shorthand != "" {
			name = "-" + f.Shorthand + ", --" + f.Name
		}
		if value != "" {
			name += " " + value
		}
		switch f.DefValue {
		case "", "0", "false", "[]":
		default:
			about += fmt.Sprintf(" (default %s)", strings.Trim(f.DefValue, "[]"))
		}
		list = append(list, [2]string{name, about})
	})
	return hung(list, width)
}
