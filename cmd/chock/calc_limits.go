package main

import (
	"fmt"
	"slices"

	"chock/brakes"
	"chock/brakes/unit"
	"chock/cmd/chock/internal/calc"
	"chock/cmd/chock/internal/record"
	"github.com/spf13/cobra"
)

// How calc limits takes a person's own limits from a file: they become one
// more policy.

// limitsFlag adds --limits to the command that holds readings against rules.
func (run *calcRun) limitsFlag(cmd *cobra.Command) {
	if cmd.Name() == calc.Limits().Command {
		cmd.Flags().StringVar(&run.limits, "limits", "", "hold the readings against the limits of this `file` as well")
	}
}

// ownLimits reads that file, and puts its rules beside the published ones.
func (run *calcRun) ownLimits() error {
	if run.limits == "" {
		return nil
	}
	file, err := record.LoadLimits(run.limits, limitLanguage())
	if err != nil {
		return err
	}
	if slices.Contains(calc.PolicyNames(), file.Name) {
		return fmt.Errorf("%s: limits: %s is the name of a published policy; choose another", run.limits, file.Name)
	}
	run.calcs = []calc.Calculation{calc.Limits(ownPolicy(file, run.limits))}
	return nil
}

// limitLanguage is what the rules of a limits file are written in: the closed
// lists of brakes.
func limitLanguage() record.LimitLanguage {
	lang := record.LimitLanguage{Facts: map[string][]string{}}
	for _, m := range brakes.Measurands() {
		if m.About {
			continue
		}
		lo, hi, err := unit.Window(m.Kind, m.Between)
		if err != nil {
			panic("chock: " + string(m.ID) + ": " + err.Error()) // a test reads every window
		}
		lang.Measures = append(lang.Measures, record.LimitMeasure{ID: string(m.ID), Kind: m.Kind, Low: lo, High: hi})
	}
	for _, m := range brakes.Musts() {
		lang.Musts = append(lang.Musts, string(m))
	}
	for _, f := range brakes.Facts() {
		lang.Facts[f.Of] = f.Is
	}
	return lang
}

// ownPolicy makes a policy of a limits file.
func ownPolicy(file *record.LimitsFile, path string) brakes.Policy {
	p := brakes.Policy{Name: file.Name, Say: "from " + path, Jurisdiction: file.Jurisdiction, Edition: "as written there"}
	for _, r := range file.Rules {
		rule := brakes.Rule{ID: r.ID, Of: brakes.Measurand(r.Measurand), Must: brakes.Must(r.Must), Called: r.Called,
			Limit: brakes.Listed{Name: r.ID, Value: r.Value, Mark: brakes.Yours, Source: r.Source, Scope: r.Note}}
		if rule.Called == "" {
			rule.Called = "not kept"
		}
		for _, f := range brakes.Facts() {
			if word := r.For[f.Of]; word != "" {
				rule.Only = append(rule.Only, brakes.ForFact{Of: f.Of, Is: []string{word}})
			}
		}
		p.Rules = append(p.Rules, rule)
	}
	return p
}
