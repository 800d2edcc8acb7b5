package main

import (
	"slices"
	"strings"

	"chock/brakes/unit"
	"chock/cmd/chock/internal/calc"
	"chock/cmd/chock/internal/record"
	"chock/tree"
	"chock/tree/book"
	"github.com/spf13/cobra"
)

// How a calculation uses a vehicle file: what is not given as a flag is taken
// from the file, where the table names a figure for it.

// vehicleFlags adds --vehicle, and --axle where figures belong to an axle.
func (run *calcRun) vehicleFlags(cmd *cobra.Command) {
	has := func(prefix string) bool {
		return slices.ContainsFunc(run.inputs, func(in calc.Input) bool { return in.Vehicle != "" && strings.HasPrefix(in.Vehicle, prefix) })
	}
	if !has("") {
		return
	}
	cmd.Flags().StringVar(&run.vehicle, "vehicle", "", "take what is not given from this vehicle `file`")
	if has("AXLE-") && run.typed["axle"] == nil {
		cmd.Flags().StringVar(&run.axle, "axle", "", "which axle of the vehicle file: front or rear")
	}
}

// fromVehicle completes what was given by flags.
func (run *calcRun) fromVehicle(given map[string][]unit.Any) error {
	if run.axle != "" && run.axle != "front" && run.axle != "rear" {
		return usagef("--axle %q: want front or rear", run.axle)
	}
	if run.vehicle == "" {
		if run.axle != "" {
			return usagef("--axle names an axle of a vehicle file: give --vehicle")
		}
		return nil
	}
	b, err := tree.Load(book.FS, calculations())
	if err != nil {
		return err
	}
	car, err := openCar(run.vehicle, b)
	if err != nil {
		return err
	}
	axle, err := run.whichAxle(given, car)
	if err != nil {
		return err
	}
	run.fromFile = map[string]string{}
	for _, in := range run.inputs {
		id := strings.Replace(in.Vehicle, "AXLE", axle, 1)
		f := car.Figures[id]
		if _, ok := given[in.Name]; ok || in.Vehicle == "" || f.Open() || f.Value.Kind != in.Kind {
			continue
		}
		if _, typed := given[in.Beside]; typed && run.fromFile[in.Beside] == "" {
			continue
		}
		given[in.Name] = []unit.Any{f.Value}
		run.fromFile[in.Name] = fromFile + f.Source
	}
	return nil
}

// whichAxle is the axle that was named, else the only one of which the file
// has what is wanted.
func (run *calcRun) whichAxle(given map[string][]unit.Any, car *record.Vehicle) (string, error) {
	if run.axle != "" {
		return run.axle, nil
	}
	if words := given["axle"]; len(words) > 0 {
		return words[0].Text, nil
	}
	found := map[string]bool{}
	for _, in := range run.inputs {
		for _, axle := range []string{"front", "rear"} {
			id := strings.Replace(in.Vehicle, "AXLE", axle, 1)
			if _, ok := given[in.Name]; !ok && id != in.Vehicle && !car.Figures[id].Open() {
				found[axle] = true
			}
		}
	}
	if len(found) == 2 {
		return "", usagef("--vehicle: %s has figures of both axles; give --axle front or --axle rear", run.vehicle)
	}
	for axle := range found {
		return axle, nil
	}
	return "front", nil
}

const takenFrom = "taken from "

// origins says of each limit that the file gave where it is from.
func (run *calcRun) origins(c calc.Calculation, r *calc.Result) {
	typical := false
	for i := range r.Verdicts {
		v := &r.Verdicts[i]
		for _, l := range c.Limits {
			from := run.fromFile[l.Figure]
			if l.ID != v.Of || from == "" || v.Mark != calc.Given {
				continue
			}
			v.Mark, v.Source = from, run.vehicle
			v.Say = strings.Replace(v.Say, ", "+calc.Given+":", ", "+strings.TrimPrefix(from, fromFile)+", by the vehicle file:", 1)
		}
	}
	var names []string
	for _, in := range c.Inputs {
		if from := run.fromFile[in.Name]; from != "" {
			names = append(names, in.Name)
			typical = typical || from == fromFile+record.Typical
		}
	}
	if len(names) > 0 {
		r.Sources = append(r.Sources, takenFrom+run.vehicle+": "+strings.Join(names, ", "))
	}
	if typical {
		r.Warnings = append(r.Warnings, "Some figures of the vehicle file are typical: they belong to no vehicle, and so does what follows from them.")
	}
}
