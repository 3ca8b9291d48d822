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

	"partsaloft/cmd/internal/answer/catalogue/faults"
	"partsaloft/cmd/partsaloft/internal/complete"
	"partsaloft/cmd/partsaloft/internal/exit"
	"partsaloft/cmd/partsaloft/internal/session"
	"partsaloft/cmd/partsaloft/internal/topics"
)

// Run carries out one command line, without the program's name, and returns its exit code.
func Run(ctx context.Context, args []string, streams session.Streams) int {
	out := &sink{Writer: streams.Out}
	streams.Out = out
	s := &commands{&session.Session{Streams: streams, Context: ctx}}
	root := newRoot(s)
	// Without a slice cobra would read the program's own arguments.
	root.SetArgs(append([]string{}, args...))
	root.SetOut(streams.Out)
	root.SetErr(streams.Err)
	exit.StrictHelp(root)
	ran, err := root.ExecuteContextC(ctx)
	switch {
	case out.err != nil:
		err = out.err
	case err != nil && !s.Begun:
		err = exit.Usage(exit.UnknownCommand(root, args, err))
	}
	s.complain(ran, err)
	return exit.Code(err)
}

// commands are those of one run.
type commands struct{ *session.Session }

// sink is the output stream. It keeps the first error, for what writes help and completion does not.
type sink struct {
	io.Writer
	err error
}

func (s *sink) Write(p []byte) (int, error) {
	n, err := s.Writer.Write(p)
	if err != nil && s.err == nil {
		s.err = err
	}
	return n, err
}

func newRoot(s *commands) *cobra.Command {
	root := &cobra.Command{
		Use:   "partsaloft",
		Short: "Ranks every possible build from the quadcopter parts you own",
		Long: `partsaloft reads the parts you own and how you fly, computes what every combination would do in the
air, and says which to choose and what each trades off.`,
		Example: `  partsaloft rank
  partsaloft rank --drawer drawer.yaml --style race
  partsaloft explain 1 --drawer drawer.yaml`,
		Version:       session.Version,
		SilenceErrors: true,
		SilenceUsage:  true,
		PersistentPreRunE: func(c *cobra.Command, _ []string) error {
			if err := s.Options.Check(c); err != nil {
				return err
			}
			s.Begun = true
			c.SetContext(s.Watched(c.Context()))
			if s.Options.Output == "" {
				return nil
			}
			return s.WillWrite("--output", s.Options.Output)
		},
	}
	root.SetFlagErrorFunc(exit.FlagError)
	root.SetHelpFunc(func(c *cobra.Command, _ []string) {
		fmt.Fprint(c.OutOrStdout(), helpText(c, s.Screen()))
	})
	root.SetUsageFunc(func(c *cobra.Command) error {
		_, err := fmt.Fprint(c.OutOrStderr(), usageText(c, s.Screen()))
		return err
	})
	root.SetVersionTemplate("partsaloft {{.Version}}\n")
	s.Options.Register(root)
	root.AddCommand(newRank(s), newExplain(s), newCompare(s), newVary(s), newPlan(s), newBuy(s), newLearn(s), newRecord(s), newListen(s),
		newCheck(s),
		newBench(s), newStyles(s))
	root.AddCommand(newFlight(s))
	root.AddCommand(newNew(s), newAdd(s), newExport(s), newImport(s), newSchema(s), newMan(s))
	root.AddCommand(newPage(s))
	root.AddCommand(topics.New()...)
	complete.All(s.Session, root)
	return root
}

// complain says on the error stream what went wrong.
func (s *commands) complain(ran *cobra.Command, err error) {
	var usage exit.UsageError
	s.EndBar()
	switch {
	case err == nil, errors.Is(err, exit.ErrNothing), errors.Is(err, exit.Faulty):
		return
	case errors.Is(err, exit.ErrBestSoFar):
		fmt.Fprintln(s.Streams.Err, "partsaloft: interrupted; what is shown is the best so far")
		return
	case errors.Is(err, context.Canceled):
		fmt.Fprintln(s.Streams.Err, "partsaloft: interrupted; nothing was written")
		return
	case errors.As(err, &usage):
		s.Complain(fmt.Sprintf("partsaloft: %s\n\nUsage:\n  %s\n\n\"%s --help\" lists the flags.", faults.Error(err),
			ran.UseLine(), ran.CommandPath()))
		return
	}
	text := faults.Error(err)
	var data exit.DataError
	if !errors.As(err, &data) {
		text = "partsaloft: " + text
	}
	s.Complain(strings.TrimRight(text, "\n"))
}
