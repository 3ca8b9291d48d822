package cli

import (
	"strings"
	"testing"

	"partsaloft/cmd/partsaloft/internal/exit"
)

// Regression: what there is not is a usage error that names what is near, also where the library would
// pass over it or print its own words.
func TestWhatThereIsNot(t *testing.T) {
	for _, c := range []struct{ line, says string }{
		{"rnak", `there is no command "rnak"; did you mean rank?`},
		{"--seed 3 rnak", "did you mean rank?"},
		{"foo", `there is no command "foo"`},
		{"rank --wieghts grip=1", "rank has no flag --wieghts; did you mean --weights?"},
		{"rank -x", "there is no flag -x"},
		{"help nope", `there is no help on "nope"`},
		{"help figurse", "did you mean figures?"},
		{"completion", "name a shell: bash, fish, powershell and zsh"},
		{"completion tcl", "name a shell"},
		{"schema drawr", "name one of drawer, style and learned"},
		{"schema", "name one of"},
		{"new", "name the file to write"},
		{"rank --style freestile", "did you mean freestyle?"},
		{"rank --weights=", "--weights names no axis"},
		{"styles --output=", "--output names no file"},
	} {
		got := run(t, strings.Fields(c.line)...)
		if got.code != exit.CodeUsage || !strings.Contains(got.err, c.says) || got.out != "" ||
			strings.ContainsRune(got.err, '\ufffd') {
			t.Errorf("%s: exit %d\n%s%s", c.line, got.code, got.out, got.err)
		}
	}
	for _, line := range []string{"help", "help rank", "help figures", "help completion bash", "completion bash",
		"completion zsh --help"} {
		if got := run(t, strings.Fields(line)...); got.code != 0 || got.err != "" || len(got.out) < 200 {
			t.Errorf("%s: exit %d, %s", line, got.code, got.err)
		}
	}
}
