// Package calc is the one table of calculations. Flags, prompts, the columns
// of a CSV file, JSON and reports are all made from it, so that a calculation
// is described once.
package calc

import (
	"fmt"
	"slices"
	"strings"

	"chock/brakes/unit"
)

// An Input is something a calculation needs.
type Input struct {
	Name     string    // also the name of its flag
	Kind     unit.Kind // of each value
	List     bool      // several values round the part, "-" for a missing one
	Figure   bool      // a limit of this part: cast on it, or from its manual
	Optional bool
	Typed    bool   // a bare number takes the unit of the list; not so for counts
	Default  string // else the unit that a bare number takes; "" where it needs one
	Vehicle  string // the figure of a vehicle file that stands for it; AXLE- is that of the axle at hand
	Beside   string // the file's figure stands only beside this input's, for the two say one thing
	Say      string // one line for help and prompts
}

// Read gives the values of an input from what was typed; a bare number takes
// the unit def.
func (in Input) Read(text, def string) ([]unit.Any, error) {
	if in.List {
		return unit.ParseList(in.Kind, text, def)
	}
	v, err := unit.Parse(in.Kind, text, def)
	if err != nil {
		return nil, err
	}
	return []unit.Any{v}, nil
}

// A Limit is something that a calculation holds a reading against. Of its
// outcomes, worst first, exactly one comes back.
type Limit struct {
	ID       string
	Figure   string // the input that holds the limit; "" where a wheel is only held against its partner
	Outcomes []string
}

// A Calculation is one row of the table.
type Calculation struct {
	Name    string
	Command string // of chock calc; several calculations may share one. "" for one that only the talk runs
	Short   string // one line of help, on the first calculation of a command
	Title   string // heading of its result
	Inputs  []Input
	Limits  []Limit
	Keys    []string // of the results, for where the calculation is not run
	run     func(in map[string][]unit.Any) (Result, error)
	numbers func(in inputs) (Result, error) // run without the words, for [Stream]; nil where nothing streams
}

// Input finds one of the inputs by its name.
func (c Calculation) Input(name string) (Input, bool) {
	for _, in := range c.Inputs {
		if in.Name == name {
			return in, true
		}
	}
	return Input{}, false
}

// An InputError says which input a calculation cannot use, and why.
type InputError struct {
	Input string
	Err   error
}

func (e *InputError) Error() string { return e.Input + ": " + e.Err.Error() }
func (e *InputError) Unwrap() error { return e.Err }

// Run works out the calculation. A figure or optional input that is not known
// is left out of in. What the formulas do not hold for is an error: an
// [*InputError] where one input is at fault.
func (c Calculation) Run(in map[string][]unit.Any) (Result, error) {
	if err := c.check(in); err != nil {
		return Result{}, err
	}
	return c.run(in)
}

// check refuses what is not as the inputs say.
func (c Calculation) check(in map[string][]unit.Any) error {
	for name, values := range in {
		i, ok := c.Input(name)
		if !ok {
			return &InputError{name, fmt.Errorf("%s takes no such input", c.Name)}
		}
		if len(values) == 0 {
			return &InputError{name, fmt.Errorf("no value")}
		}
		if !i.List && len(values) > 1 {
			return &InputError{name, fmt.Errorf("want one value, got %d", len(values))}
		}
		for _, v := range values {
			if v.Kind != i.Kind {
				return &InputError{name, fmt.Errorf("want a %s, got a %s", i.Kind, v.Kind)}
			}
			if v.Missing() && !i.List {
				return &InputError{name, fmt.Errorf("want a value")}
			}
		}
	}
	for _, i := range c.Inputs {
		if _, ok := in[i.Name]; !ok && !i.Optional {
			return &InputError{i.Name, fmt.Errorf("is needed: %s", i.Say)}
		}
	}
	return nil
}

// A Value is one result under its JSON key, which names the unit. It is a
// number, or a group of values, or a list of groups.
type Value struct {
	Key    string
	Number float64  // NaN is unknown: null
	Group  Values   // in place of Number
	List   []Values // in place of Number; not nil for a list
	orders *orders  // a list that is put together when it is wanted
	Flag   *bool    // in place of Number
	Text   string   // in place of Number: a word
}

// A Verdict is one value held against one limit. Numbers are in Unit; NaN is
// unknown.
type Verdict struct {
	Of      string // the id of the limit
	Verdict unit.Verdict
	Value   float64
	Limit   float64 // of a range of published limits, the end beyond which it is outside
	Good    float64 // of a range, the end up to which it is within; else NaN
	Doubt   float64 // how near to the limit it may come before it is too close to call
	Inside  float64 // the chance that it is within, given the doubt; 0 where that is not worked out
	Unit    string
	Mark    string // of the limit; "given" for one that came with the readings
	Asked   bool   // the person gave what it is held against
	Source  string
	Say     string // the whole of it in words, in both systems
}

// Given is the mark of a limit that came with the readings.
const Given = "given"

// A Result is what a calculation found.
type Result struct {
	Values   Values
	Outcomes []string  // one for each limit, in the order of Limits
	Verdicts []Verdict // in the order of Limits; none where nothing was held against a number
	Warnings []string
	Sources  []string
	Steps    []string    // the arithmetic, line by line
	Plot     []PlotPoint // for Plot; nil where there is nothing to draw
	Say      []string    // what it means, in plain words
}

// Chances gives how likely the worst and the best outcome of each limit are,
// given how well the readings are known. A limit whose chance is not worked
// out has none.
func (c Calculation) Chances(r Result) map[string]float64 {
	out := map[string]float64{}
	for _, l := range c.Limits {
		for _, v := range r.Verdicts {
			if v.Of != l.ID || v.Inside == 0 || v.Verdict == unit.NoLimit {
				continue
			}
			known := slices.DeleteFunc(slices.Clone(l.Outcomes), func(o string) bool { return strings.HasSuffix(o, "-unknown") })
			out[known[0]], out[known[len(known)-1]] = 1-v.Inside, v.Inside
		}
	}
	return out
}

// Table lists the calculations.
func Table() []Calculation {
	return []Calculation{rotorThickness, rotorRunout, rotorIndex, drumDiameter,
		liningLife, hydraulicRatio, pedalSink, pedalTravel, pedalRules, pedalVolume, brakePull, axleBalance,
		shakeMatch, shakeTrend, pulseCount, runoutGrowth, pulseFelt, liningWorn, wheelHeat,
		readingDoubt, inUse,
		stopDistance, stopHeat, longDescent, fluidBoils, parkHolds,
		brakeTorque, wheelDrag,
		sides, liningWear, liningSides, liningTrip, rollerSides, cylinderBores}
}

// Find gives the calculation of that name.
func Find(name string) (Calculation, bool) {
	for _, c := range Table() {
		if c.Name == name {
			return c, true
		}
	}
	return Calculation{}, false
}
