package strict

import "bytes"

// maxDepth is how deeply a file may be nested. A drawer takes five levels; a parser goes down into itself for each, and
// in a browser it ends at some thousands.
const maxDepth = 500

// tooDeep is where lines of a text nest more deeply than maxDepth, by brackets that are left open or by what stands before
// their first word; the zero position if they do not. Brackets in texts count as well: no drawer leaves so many open.
func tooDeep(text []byte) Position {
	open := 0
	for number, line := range lines(text) {
		start := bytes.TrimLeft(line, " \t-?")
		if len(bytes.TrimSpace(line)) == 0 || bytes.HasPrefix(start, []byte("#")) {
			continue
		}
		if len(line)-len(start) > 2*maxDepth {
			return Position{number, 1}
		}
		for column, c := range line {
			switch c {
			case '[', '{':
				open++
			case ']', '}':
				open = max(open-1, 0)
			}
			if open > maxDepth {
				return Position{number, column + 1}
			}
		}
	}
	return Position{}
}
