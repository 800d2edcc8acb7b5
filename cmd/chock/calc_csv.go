package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"strings"
	"time"

	"chock/cmd/chock/internal/ask"
	"chock/cmd/chock/internal/calc"
	"github.com/spf13/cobra"
)

// Many parts at once: a CSV file in, one JSON line out for each of its rows.

// csvFlag adds --csv where the calculations stream.
func (run *calcRun) csvFlag(cmd *cobra.Command) {
	if !calc.Streams(run.calcs) {
		return
	}
	cmd.Flags().StringVar(&run.csv, "csv", "", "work out each row of this `file`, - for standard input; columns: "+
		strings.Join(calc.Columns(run.calcs), ", ")+"; one JSON line for each row")
}

// mostReported bounds what is said of bad rows on the screen; every one has
// its line in the output.
const mostReported = 20

func (run *calcRun) stream(cmd *cobra.Command) error {
	for _, in := range run.inputs {
		if in.List && cmd.Flags().Changed(in.Name) {
			return usagef("--%s: with --csv the readings stand in the file", in.Name)
		}
	}
	given, err := run.parse(cmd)
	if err != nil {
		return err
	}
	in := cmd.InOrStdin()
	if run.csv != "-" {
		f, err := os.Open(run.csv)
		if err != nil {
			return err
		}
		defer f.Close()
		in = f
	}
	errOut := cmd.ErrOrStderr()
	wait := progress{out: errOut, on: ask.IsTerminal(errOut) && !ask.IsTerminal(cmd.OutOrStdout())}
	bad := 0
	s := calc.Streamer{Calcs: run.calcs, Given: given, Unit: run.unit, Seen: wait.seen, Bad: func(line int, id string, err error) {
		if bad++; bad > mostReported {
			return
		}
		wait.clear()
		if id != "" {
			id = fmt.Sprintf(" (%q)", id) // it may hold anything
		}
		fmt.Fprintf(errOut, "chock: line %d%s: %v\n", line, id, err)
		if bad == mostReported {
			fmt.Fprintln(errOut, "chock: more bad rows are said in the output only")
		}
	}}
	t, err := s.Run(in, cmd.OutOrStdout())
	wait.clear()
	var header *calc.HeaderError
	switch {
	case errors.As(err, &header):
		return usagef("--csv %s: %w", run.csv, err)
	case err != nil:
		return err
	case t.Bad > 0:
		return fmt.Errorf("%d of %d rows could not be used; the rest is done", t.Bad, t.Rows)
	case run.strict && t.Limits == 0:
		return usagef("--strict needs a limit: a column or a flag of %s", strings.Join(run.limitFlags(), ", "))
	case run.strict && t.Missed > 0:
		return exit{exitStrict, fmt.Errorf("%d of %d limits not met, or too close to call", t.Missed, t.Limits)}
	}
	return nil
}

// A progress is a line on a terminal that says how far a file is.
type progress struct {
	out   io.Writer
	on    bool
	shown bool
	last  time.Time
}

func (p *progress) seen(rows int) {
	if !p.on || rows%256 != 0 || time.Since(p.last) < 200*time.Millisecond {
		return
	}
	p.last, p.shown = time.Now(), true
	fmt.Fprintf(p.out, "\r%d rows", rows)
}

func (p *progress) clear() {
	if p.shown {
		fmt.Fprint(p.out, "\r\x1b[K")
		p.shown = false
	}
}
