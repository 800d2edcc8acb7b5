// Chock talks a person through a brake check: it asks, it computes, it
// explains, and it never replaces a qualified technician.
//
// Exit status: 0 finished, or stopped and saved; 1 failed, or the input ended
// early; 2 wrong usage; 3 a limit not met or too close (calc --strict); 130
// Ctrl-C, saved.
package main

import (
	"errors"
	"fmt"
	"io"
	"os"

	"github.com/spf13/cobra"
)

// version is what records and `chock version` say.
const version = "0.1"

func main() {
	if err := run(os.Args[1:], os.Stdin, os.Stdout, os.Stderr); err != nil {
		os.Exit(complain(err, os.Stderr))
	}
}

// run is the whole program, with its streams passed in.
func run(args []string, in io.Reader, out, errOut io.Writer) error {
	root := newTalk(true)
	root.AddCommand(newTalk(false), newCalc(), newSheet(), newReport(), newCompare(), newRecord(), newVehicle(), newTree(), newSources(bookSources), newMan(), newVersion())
	addCompletions(root)
	root.SetArgs(args)
	root.SetIn(in)
	root.SetOut(out)
	root.SetErr(errOut)
	return root.Execute()
}

// usage marks an error as wrong usage.
func usage(err error) error { return exit{exitUsage, err} }

// takes makes a refused argument wrong usage.
func takes(p cobra.PositionalArgs) cobra.PositionalArgs {
	return func(cmd *cobra.Command, args []string) error {
		if err := p(cmd, args); err != nil {
			return usage(err)
		}
		return nil
	}
}

// complain says what went wrong, and gives the exit status.
func complain(err error, errOut io.Writer) int {
	code := 1
	var e exit
	if errors.As(err, &e) {
		code = e.code
	}
	if msg := err.Error(); msg != "" {
		fmt.Fprintln(errOut, "chock:", msg)
	}
	return code
}

func newVersion() *cobra.Command {
	return &cobra.Command{
		Use: "version", Short: "Print the version", Args: takes(cobra.NoArgs),
		RunE: func(cmd *cobra.Command, _ []string) error {
			_, err := fmt.Fprintln(cmd.OutOrStdout(), "chock", version)
			return err
		},
	}
}
