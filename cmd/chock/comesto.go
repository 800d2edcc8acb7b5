package main

import (
	"slices"
	"strings"

	"chock/brakes/unit"
	"chock/cmd/chock/internal/calc"
	"chock/cmd/chock/internal/record"
)

// carInputs are the inputs of a calculation that a vehicle file has. typical
// reports that one of them belongs to no vehicle in particular.
func carInputs(c calc.Calculation, car *record.Vehicle) (in map[string][]unit.Any, typical bool) {
	in = map[string][]unit.Any{}
	for _, i := range c.Inputs {
		if f := car.Figures[i.Vehicle]; i.Vehicle != "" && !f.Open() && f.Value.Kind == i.Kind {
			in[i.Name] = []unit.Any{f.Value}
			typical = typical || f.Source == record.Typical
		}
	}
	return in, typical
}

// carComesTo works out what the figures of the vehicle file come to, as far as
// they suffice: front brakes against rear, and the fluid that the pedal moved.
// Both explain; neither is a check, so no finding rests on them.
func (t *talker) carComesTo() []record.Measurement {
	if t.car == nil {
		return nil
	}
	if t.balance == nil { // some milliseconds, and the record is saved after every answer
		t.balance = []record.Measurement{}
		if m := t.comesTo("axle-balance", "Front brakes against rear", nil); m != nil {
			t.balance = append(t.balance, *m)
		}
	}
	out := slices.Clone(t.balance)
	for i := range t.said {
		c := t.book.Checks[t.said[i].Check]
		if c == nil || c.Measure != "pedal-travel" {
			continue
		}
		if _, stands := t.results[c.ID+" "]; !stands {
			continue
		}
		if s, said := t.walk.Said(c.ID, ""); said && !s.Unsure() {
			if m := t.comesTo("pedal-volume", "What the fluid of the pedal went into", t.inputs(s)); m != nil {
				out = append(out, *m)
			}
			break
		}
	}
	return out
}

// comesTo runs one calculation on the vehicle file and on what was read beside
// it; nil where they do not suffice.
func (t *talker) comesTo(name, say string, read map[string][]unit.Any) *record.Measurement {
	c, ok := calc.Find(name)
	if !ok {
		panic("chock: no calculation " + name) // the table is ours
	}
	in, typical := carInputs(c, t.car)
	for k, v := range read {
		if _, takes := c.Input(k); takes {
			in[k] = v
		}
	}
	res, err := c.Run(in)
	if err != nil {
		return nil
	}
	m := &record.Measurement{ID: name, Say: say, Calculation: name, Results: recordResults(res.Values), Lines: res.Say}
	for _, s := range res.Steps {
		if !strings.Contains(s, "...") && !strings.HasPrefix(s, "slowing, grip used") { // the drawing of a terminal; a report has its own
			m.Steps = append(m.Steps, s)
		}
	}
	m.Lines = append(slices.Clone(m.Lines), res.Warnings...)
	if typical {
		m.Lines = append(m.Lines, "Some figures of the vehicle file are typical: they belong to no vehicle, and so does what follows from them.")
	}
	return m
}
