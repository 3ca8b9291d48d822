// Package cli holds the commands of partsaloft: one file a command, each with its constructor and its options. A
// command reads flags and files, puts a question to answer, and lays its document out as a table, JSON, CSV or
// Markdown; it computes no physics and makes no sentences of what was found.
package cli

import (
	"context"
	"errors"
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"

	"partsaloft/cmd/internal/answer"
	"partsaloft/cmd/internal/answer/catalogue/faults"
	"partsaloft/cmd/internal/files"
	"partsaloft/cmd/internal/render"
)

// Version is that of the program; it stands in every JSON document.
const Version = "1.0.0"

// Streams are where a command writes to.
type Streams struct {
	Out, Err io.Writer
	// OutTerminal and ErrTerminal say that a person watches a terminal there.
	OutTerminal, ErrTerminal bool
	// Columns is the terminal's width, 0 if it is not known.
	Columns int
	// NoColor asks for plain text even there (the NO_COLOR convention).
	NoColor bool
}

// Run carries out one command line, without the program's name, and returns its exit code.
func Run(ctx context.Context, args []string, streams Streams) int {
	out := &sink{Writer: streams.Out}
	streams.Out = out
	s := &session{streams: streams}
	root := newRoot(s)
	// Without a slice cobra would read the program's own arguments.
	root.SetArgs(append([]string{}, args...))
	root.SetOut(streams.Out)
	root.SetErr(streams.Err)
	strictHelp(root)
	ran, err := root.ExecuteContextC(ctx)
	switch {
	case out.err != nil:
		err = out.err
	case err != nil && !s.begun:
		err = usageError{unknownCommand(root, args, err)}
	}
	s.complain(ran, err)
	return exitCode(err)
}

// session is one run of the program: its streams, the shared options and what was said so far.
type session struct {
	streams Streams
	options sharedOptions
	files   files.Run
	begun   bool // the command line was understood
	// learnedFile is the base name of the learned file in use, learnedFrom on how many entries and
	// benches it rests; empty if none is in use.
	learnedFile string
	learnedFrom int
	bar         *progress // of the search, nil if there is none
}

func newRoot(s *session) *cobra.Command {
	root := &cobra.Command{
		Use:   "partsaloft",
		Short: "Ranks every possible build from the quadcopter parts you own",
		Long: `partsaloft reads the parts you own and how you fly, computes what every combination would do in the
air, and says which to choose and what each trades off.`,
		Example: `  partsaloft rank
  partsaloft rank --drawer drawer.yaml --style race
  partsaloft explain 1 --drawer drawer.yaml`,
		Version:       Version,
		SilenceErrors: true,
		SilenceUsage:  true,
		PersistentPreRunE: func(c *cobra.Command, _ []string) error {
			if err := s.options.check(c); err != nil {
				return err
			}
			s.begun = true
			if s.options.output == "" {
				return nil
			}
			return s.willWrite("--output", s.options.output)
		},
	}
	root.SetFlagErrorFunc(flagError)
	root.SetVersionTemplate("partsaloft {{.Version}}\n")
	s.options.register(root)
	root.AddCommand(newRank(s), newExplain(s), newCompare(s), newVary(s), newPlan(s), newBuy(s), newLearn(s), newCheck(s),
		newBench(s), newStyles(s))
	root.AddCommand(newNew(s), newAdd(s), newExport(s), newImport(s), newSchema(s))
	root.AddCommand(newPage(s))
	root.AddCommand(newTopics()...)
	s.completions(root)
	return root
}

// complain says on the error stream what went wrong.
func (s *session) complain(ran *cobra.Command, err error) {
	var usage usageError
	switch {
	case err == nil, errors.Is(err, errNothing), errors.Is(err, errFaulty):
		return
	case errors.Is(err, errBestSoFar):
		fmt.Fprintln(s.streams.Err, "partsaloft: interrupted; what is shown is the best so far")
		return
	case errors.Is(err, context.Canceled):
		fmt.Fprintln(s.streams.Err, "partsaloft: interrupted; nothing was written")
		return
	case errors.As(err, &usage):
		fmt.Fprintf(s.streams.Err, "partsaloft: %s\n\nUsage:\n  %s\n\n\"%s --help\" lists the flags.\n",
			render.Clean(faults.Error(err)), ran.UseLine(), ran.CommandPath())
		return
	}
	text := render.Clean(faults.Error(err))
	var data dataError
	if !errors.As(err, &data) {
		text = "partsaloft: " + text
	}
	fmt.Fprintln(s.streams.Err, strings.TrimRight(text, "\n"))
}

// remark says something on the error stream that is no result; --quiet silences it.
func (s *session) remark(format string, args ...any) {
	if !s.options.quiet {
		screen := render.Screen{}
		if s.streams.ErrTerminal {
			screen.Columns = s.streams.Columns
		}
		fmt.Fprintln(s.streams.Err, render.Wrap(render.Clean(fmt.Sprintf(format, args...)), screen.Width(), ""))
	}
}

// head is what a JSON document begins with.
func (s *session) head() answer.Head {
	return answer.Head{SchemaVersion: answer.SchemaVersion, ToolVersion: Version, Seed: s.options.seed,
		Learned: s.learnedFile}
}
