package intake

import "strings"

// Empty is a drawer to fill in, made from one that is filled: its lists stand empty, and what stood in them is commented
// out below as an example. Comments stay.
func Empty(filled []byte) []byte {
	var b strings.Builder
	for line := range strings.Lines(string(filled)) {
		text := strings.TrimLeft(line, " ")
		indent := len(line) - len(text)
		if indent < 2 || strings.TrimSpace(text) == "" {
			b.WriteString(line)
			continue
		}
		b.WriteString("  # " + strings.Repeat(" ", indent-2) + strings.TrimPrefix(text, "# "))
	}
	return []byte(b.String())
}
