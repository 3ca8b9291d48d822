// Command fit refits the constants of physics to reference figures and prints them as Go source,
// with what is left over on props and motors that were left out.
//
//	go run ./physics/internal/fit FOLDER [STEP]
//
// FOLDER holds the reference figures as comma-separated files; without a second word everything
// is done.
package main

import (
	"fmt"
	"io"
	"os"
)

// steps are the program's words, in the order in which they run.
var steps = []struct {
	name string
	do   func(w io.Writer, folder string) error
}{
	{"props", func(w io.Writer, folder string) error {
		s, err := newStudy(folder)
		if err != nil {
			return err
		}
		if err := printProps(w, s); err != nil {
			return err
		}
		if err := printBench(w, s); err != nil {
			return err
		}
		return printCoverage(w, s)
	}},
	{"flex", func(w io.Writer, folder string) error {
		s, err := newStudy(folder)
		if err != nil {
			return err
		}
		return printFlex(w, s)
	}},
	{"bench", func(w io.Writer, folder string) error {
		s, err := newStudy(folder)
		if err != nil {
			return err
		}
		if err := s.leaveOut(); err != nil {
			return err
		}
		if err := printBench(w, s); err != nil {
			return err
		}
		return printCoverage(w, s)
	}},
	{"motor", printMotor},
	{"limits", printLimits},
	{"pack", printPack},
	{"mass", printMass},
	{"flown", printFlown},
	{"errors", printErrors},
	{"calibration", printCalibration},
}

func run(w io.Writer, args []string) error {
	if len(args) < 1 || len(args) > 2 {
		return fmt.Errorf("usage: fit FOLDER [%s]", names())
	}
	known := len(args) == 1
	for _, s := range steps {
		if len(args) == 2 && args[1] != s.name {
			continue
		}
		known = true
		if err := s.do(w, args[0]); err != nil {
			return err
		}
	}
	if !known {
		return fmt.Errorf("%q is not one of %s", args[1], names())
	}
	return nil
}

func names() string {
	out := ""
	for i, s := range steps {
		if i > 0 {
			out += "|"
		}
		out += s.name
	}
	return out
}

func main() {
	if err := run(os.Stdout, os.Args[1:]); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}
