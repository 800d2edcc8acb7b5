package main

import (
	"cmp"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"math"
	"slices"
	"strings"

	"chock/brakes"
	"chock/brakes/unit"
	"chock/cmd/chock/internal/ask"
	"chock/cmd/chock/internal/calc"
	"github.com/spf13/cobra"
)

// newCalc makes "chock calc" with one command under it for each name in the
// table of calculations. Readings come as flags; nothing is asked.
func newCalc() *cobra.Command {
	c := &cobra.Command{
		Use:   "calc WHAT",
		Short: "one calculation from readings given as flags",
		Long: `One calculation from readings given as flags; nothing is asked.

Readings of one flag are parted by spaces: --dial "0 1.6 2 .8 -1.2 -2.8 -3.2 -2 thou".
A hyphen alone is a place that could not be read. A length without a unit takes
the one of --unit; where another bare number is taken, its flag says as what.`,
		SilenceUsage:  true,
		SilenceErrors: true,
		Args:          cobra.ArbitraryArgs,
		RunE: func(cmd *cobra.Command, args []string) error {
			if len(args) > 0 {
				return usagef("calc %q: want one of %s", args[0], strings.Join(calcNames(), ", "))
			}
			return usagef("calc: want one of %s", strings.Join(calcNames(), ", "))
		},
	}
	c.SetFlagErrorFunc(flagError)
	for _, name := range calcNames() {
		c.AddCommand(newCalcOne(name))
	}
	return c
}

// calcNames are the commands of the table, in its order.
func calcNames() []string {
	var names []string
	for _, c := range calc.Table() {
		if c.Command != "" && !slices.Contains(names, c.Command) {
			names = append(names, c.Command)
		}
	}
	return names
}

// A calcRun is one run of a command: its calculations and what was typed.
type calcRun struct {
	calcs  []calc.Calculation
	inputs []calc.Input // each once, though several calculations may take it
	typed  map[string]*string
	unit   string
	json   bool
	strict bool

	csv    string // a file of many parts
	limits string // a file of the person's own limits

	vehicle, axle string            // of the vehicle file, and which of its axles
	fromFile      map[string]string // inputs that the file gave, and where it has them from
}

func newCalcOne(name string) *cobra.Command {
	run := calcRun{typed: map[string]*string{}}
	short := ""
	for _, c := range calc.Table() {
		if c.Command != name {
			continue
		}
		short = cmp.Or(short, c.Short)
		run.calcs = append(run.calcs, c)
		for _, in := range c.Inputs {
			if run.typed[in.Name] == nil {
				run.typed[in.Name] = new(string)
				run.inputs = append(run.inputs, in)
			}
		}
	}
	cmd := &cobra.Command{
		Use:           name,
		Short:         short,
		SilenceUsage:  true,
		SilenceErrors: true,
		Args: func(cmd *cobra.Command, args []string) error {
			if len(args) == 0 {
				return nil
			}
			list := func(in calc.Input) bool { return in.List }
			i := slices.IndexFunc(run.inputs, func(in calc.Input) bool { return list(in) && cmd.Flags().Changed(in.Name) })
			if i < 0 {
				i = slices.IndexFunc(run.inputs, list)
			}
			if i >= 0 {
				return usagef("%q is no flag; readings of one flag go in quotes: --%s \"0 1.6 2 thou\"", args[0], run.inputs[i].Name)
			}
			return usagef("%q is no flag", args[0])
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			if run.csv != "" {
				return run.stream(cmd)
			}
			return run.run(cmd)
		},
	}
	f := cmd.Flags()
	for _, in := range run.inputs {
		say := in.Say
		if in.Default != "" {
			say += "; a bare number is " + in.Default
		}
		f.StringVar(run.typed[in.Name], in.Name, "", say)
	}
	run.csvFlag(cmd)
	run.vehicleFlags(cmd)
	run.limitsFlag(cmd)
	f.StringVar(&run.unit, "unit", "", "unit of numbers without one: "+strings.Join(unit.Units(unit.KindLength), ", "))
	f.BoolVar(&run.json, "json", false, "write one JSON document")
	f.BoolVar(&run.strict, "strict", false, "exit 3 unless every limit given is met")
	f.SortFlags = false
	cmd.SetFlagErrorFunc(flagError)
	return cmd
}

func flagError(_ *cobra.Command, err error) error { return usage(err) }

// flagFault names the flag at fault: "--trip is needed ...", "--left: 3 kg ...".
func flagFault(flag string, err error) error {
	first, _, _ := strings.Cut(err.Error(), " ")
	if slices.Contains([]string{"is", "is,", "is:", "tells", "says", "takes", "serves", "means", "gives", "belongs"}, first) {
		return usagef("--%s %w", flag, err)
	}
	return usagef("--%s: %w", flag, err)
}

func usagef(format string, args ...any) error {
	return usage(fmt.Errorf(format, args...))
}

func (run *calcRun) run(cmd *cobra.Command) error {
	given, err := run.parse(cmd)
	if err != nil {
		return err
	}
	if err := run.ownLimits(); err != nil {
		return err
	}
	var ran []calc.Calculation
	var results []calc.Result
	for _, c := range run.calcs {
		// A command with several calculations does those it has readings for:
		// all that one needs, and one at least that no vehicle file gave.
		in := map[string][]unit.Any{}
		whole, typed := true, false
		for _, i := range c.Inputs {
			if v, ok := given[i.Name]; ok {
				in[i.Name] = v
				typed = typed || run.fromFile[i.Name] == ""
			} else if !i.Optional {
				whole = false
			}
		}
		if !(whole && typed) && len(run.calcs) > 1 {
			continue
		}
		r, err := c.Run(in)
		if err != nil {
			var bad *calc.InputError
			if errors.As(err, &bad) {
				return flagFault(bad.Input, bad.Err)
			}
			return exit{exitUsage, err}
		}
		run.origins(c, &r)
		ran, results = append(ran, c), append(results, r)
	}
	if err := run.unused(given, ran); err != nil {
		return err
	}
	limits, missed := 0, []string{}
	for _, r := range results {
		for _, v := range r.Verdicts {
			if !v.Asked {
				continue
			}
			limits++
			if v.Verdict != unit.Within {
				missed = append(missed, v.Say)
			}
		}
	}
	if flags := run.limitFlags(); run.strict && len(flags) == 0 {
		return usagef("--strict: calc %s holds nothing against a limit", cmd.Name())
	}
	if run.strict && limits == 0 {
		return usagef("--strict needs a limit: give one of %s", strings.Join(run.limitFlags(), ", "))
	}
	if run.json {
		err = run.writeJSON(cmd.OutOrStdout(), given, ran, results)
	} else {
		err = run.writeText(cmd.OutOrStdout(), ran, results)
	}
	if err != nil {
		return err
	}
	if run.strict && len(missed) > 0 {
		return exit{exitStrict, errors.New(strings.Join(missed, "; "))}
	}
	return nil
}

// parse reads the flags that were given.
func (run *calcRun) parse(cmd *cobra.Command) (map[string][]unit.Any, error) {
	if run.unit != "" && !unit.Known(unit.KindLength, run.unit) {
		return nil, usagef("--unit %q: want one of %s", run.unit, strings.Join(unit.Units(unit.KindLength), ", "))
	}
	given := map[string][]unit.Any{}
	for _, in := range run.inputs {
		if !cmd.Flags().Changed(in.Name) {
			continue
		}
		def := in.Default
		if in.Typed {
			def = run.unit
		}
		values, err := in.Read(*run.typed[in.Name], def)
		if err != nil {
			return nil, flagFault(in.Name, err)
		}
		given[in.Name] = values
	}
	return given, run.fromVehicle(given)
}

// unused refuses a run without readings, and a flag that no calculation took:
// a discard thickness without thickness readings.
func (run *calcRun) unused(given map[string][]unit.Any, ran []calc.Calculation) error {
	for _, in := range run.inputs {
		taken := slices.ContainsFunc(ran, func(c calc.Calculation) bool { _, ok := c.Input(in.Name); return ok })
		if _, ok := given[in.Name]; !ok || taken || run.fromFile[in.Name] != "" {
			continue
		}
		var each []string
		for _, c := range run.calcs {
			if _, ok := c.Input(in.Name); ok {
				each = append(each, strings.Join(needed(c, given), " and "))
			}
		}
		return usagef("--%s tells nothing by itself: give %s as well", in.Name, strings.Join(onceEach(each), " or "))
	}
	if len(ran) > 0 {
		return nil
	}
	var each []string
	for _, c := range run.calcs {
		each = append(each, strings.Join(needed(c, nil), " and "))
	}
	return usagef("no readings: give %s", strings.Join(onceEach(each), " or "))
}

// needed is lacking, or of a calculation that any of its readings serves the
// first of them.
func needed(c calc.Calculation, given map[string][]unit.Any) []string {
	if flags := lacking(c, given); flags != nil {
		return flags
	}
	return []string{"--" + c.Inputs[0].Name}
}

// lacking are the flags that a calculation cannot do without and that were not
// given.
func lacking(c calc.Calculation, given map[string][]unit.Any) []string {
	var flags []string
	for _, in := range c.Inputs {
		if _, ok := given[in.Name]; !ok && !in.Optional {
			flags = append(flags, "--"+in.Name)
		}
	}
	return flags
}

func (run *calcRun) limitFlags() []string {
	var flags []string
	for _, in := range run.inputs {
		if slices.ContainsFunc(run.calcs, func(c calc.Calculation) bool {
			return slices.ContainsFunc(c.Limits, func(l calc.Limit) bool { return l.Figure == in.Name })
		}) {
			flags = append(flags, "--"+in.Name)
		}
	}
	return flags
}

// A calcDocument is what --json writes.
type calcDocument struct {
	Schema   int             `json:"schema_version"`
	Inputs   json.RawMessage `json:"inputs"`
	Results  calc.Values     `json:"results"`
	Verdicts []calc.Verdict  `json:"verdicts"`
	Warnings []string        `json:"warnings"`
	Sources  []string        `json:"sources"`
}

// A calcInput is one flag as it was typed and as it was taken.
type calcInput struct {
	Typed  string  `json:"typed"`
	Values []any   `json:"values"` // numbers, or words; null for a place that could not be read
	Unit   string  `json:"unit"`
	Source *string `json:"source"` // of a figure of the vehicle file; else null
}

func (run *calcRun) writeJSON(w io.Writer, given map[string][]unit.Any, ran []calc.Calculation, results []calc.Result) error {
	inputs := map[string]calcInput{}
	for _, in := range run.inputs {
		values, ok := given[in.Name]
		if !ok {
			continue
		}
		doc := calcInput{Typed: *run.typed[in.Name], Unit: unitOf(in.Kind, values)}
		if from := run.fromFile[in.Name]; from != "" {
			doc.Typed, doc.Source = values[0].Text, &from
		}
		for _, v := range values {
			n, ok := v.In(doc.Unit)
			switch {
			case v.Kind == unit.KindWord:
				doc.Values = append(doc.Values, v.Text)
			case !ok || math.IsNaN(n):
				doc.Values = append(doc.Values, nil)
			default:
				doc.Values = append(doc.Values, n)
			}
		}
		inputs[in.Name] = doc
	}
	raw, err := json.Marshal(inputs)
	if err != nil {
		return err
	}
	doc := calcDocument{Schema: 1, Inputs: raw, Verdicts: []calc.Verdict{}, Warnings: []string{}, Sources: []string{}}
	for _, c := range run.calcs {
		i := slices.IndexFunc(ran, func(r calc.Calculation) bool { return r.Name == c.Name })
		if i < 0 {
			doc.Results = append(doc.Results, calc.Unknown(c.Keys...)...)
			continue
		}
		r := results[i]
		doc.Results = append(doc.Results, r.Values...)
		doc.Verdicts = append(doc.Verdicts, r.Verdicts...)
		doc.Warnings = append(doc.Warnings, r.Warnings...)
		doc.Sources = append(doc.Sources, r.Sources...)
	}
	doc.Sources = onceEach(doc.Sources)
	e := json.NewEncoder(w)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	return e.Encode(doc)
}

// unitOf is the unit that values are written in: the one they were typed in.
func unitOf(kind unit.Kind, values []unit.Any) string {
	for _, v := range values {
		if !v.Missing() && v.Unit != "" {
			return v.Unit
		}
	}
	if kind == unit.KindLength {
		return "mm"
	}
	return ""
}

func onceEach(list []string) []string {
	out := []string{}
	for _, s := range list {
		if !slices.Contains(out, s) {
			out = append(out, s)
		}
	}
	return out
}

// writeText shows the readings, the arithmetic, the verdict, and what it means.
func (run *calcRun) writeText(w io.Writer, ran []calc.Calculation, results []calc.Result) error {
	scr, err := ask.NewScreen(w, "auto")
	if err != nil {
		return err
	}
	var sources []string
	said := map[string]bool{} // a line that two calculations have is said once
	once := func(style ask.Style, line string) {
		if !said[line] {
			scr.Print(style, line)
		}
		said[line] = true
	}
	for i, r := range results {
		if i > 0 {
			scr.Print(ask.Plain, "")
		}
		scr.Print(ask.Strong, ran[i].Title)
		if len(r.Plot) > 0 {
			scr.Print(ask.Plain, "")
			for _, line := range calc.Plot(r.Plot, scr.Width()-2, true) {
				scr.Print(ask.Plain, "  "+line)
			}
			scr.Print(ask.Plain, "")
		}
		for _, line := range r.Steps {
			scr.Print(ask.Plain, "  "+line)
		}
		scr.Print(ask.Plain, "")
		for _, v := range r.Verdicts {
			scr.Print(verdictStyle(v.Verdict), upperFirst(v.Say)+".")
		}
		for _, line := range r.Say {
			once(ask.Plain, line)
		}
		for _, line := range r.Warnings {
			once(ask.Care, "Note: "+line)
		}
		sources = append(sources, r.Sources...)
	}
	shown := slices.DeleteFunc(onceEach(sources), ofMethod)
	if len(shown) > 0 {
		scr.Print(ask.Plain, "")
		scr.Print(ask.Dim, "Sources:")
	}
	for _, s := range shown {
		scr.Print(ask.Dim, "  "+s)
	}
	return scr.Err()
}

// ofMethod reports whether a source is that of a formula, which docs/method.md
// and --json have, or of a limit whose verdict says already that it was given.
func ofMethod(source string) bool {
	marked := func(m brakes.Mark) bool { return strings.Contains(source, "("+string(m)+")") }
	return !strings.HasPrefix(source, takenFrom) &&
		!slices.ContainsFunc([]brakes.Mark{brakes.Published, brakes.Practice, brakes.Memory, brakes.Estimate}, marked)
}

func verdictStyle(v unit.Verdict) ask.Style {
	switch v {
	case unit.Within:
		return ask.Good
	case unit.Outside:
		return ask.Halt
	}
	return ask.Care
}
