package main

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"chock/brakes/unit"
	"chock/cmd/chock/internal/ask"
	"chock/cmd/chock/internal/calc"
	"chock/cmd/chock/internal/record"
	"chock/tree"
)

// askReadings takes the readings of a measurement, wheel by wheel.
func (t *talker) askReadings(p tree.Prompt) ([]tree.Said, ask.Word, error) {
	for i := 0; i < len(p.Wheels); i++ {
		w := p.Wheels[i]
		switch {
		case i > 0:
			t.headWheel(p, w)
		case w != "":
			t.scr.Print(ask.Plain, "")
			t.scr.Print(ask.Strong, upperFirst(wheelName(w)))
		}
		s, word, err := t.askWheel(p, w)
		switch {
		case err != nil:
			return nil, "", err
		case word == ask.Back && i > 0:
			i -= 2
			continue
		case word != "":
			return nil, word, nil
		}
		// Kept at once: nobody wants to read a rotor twice.
		t.said = append(t.said, s)
		t.settle()
		if t.script {
			continue
		}
		if err := t.save(); err != nil {
			return nil, "", err
		}
	}
	return nil, "", nil
}

// askWheel takes all inputs of a measurement at one wheel, and tries the
// calculation so that readings it cannot use are asked again at once.
func (t *talker) askWheel(p tree.Prompt, wheel string) (tree.Said, ask.Word, error) {
	c := p.Check
	for {
		// "Not sure" until judge works the readings out.
		s := tree.Said{Check: c.ID, Wheel: wheel, Answers: []string{tree.Unsure}, Readings: map[string][]unit.Any{}}
		for _, in := range c.Inputs {
			if in.Most == 0 {
				continue
			}
			if wheel != "" && len(s.Readings) > 0 {
				t.scr.Print(ask.Strong, upperFirst(wheelName(wheel)))
			}
			got, word, err := t.askInput(p, in, wheel)
			var missing *ask.Missing
			switch {
			case errors.As(err, &missing) && in.Optional:
				continue
			case err != nil:
				return s, "", err
			case word == ask.Unsure && in.Optional:
				continue
			case word == ask.Unsure:
				kind, word, err := t.unsure(p, wheel)
				s.Answers, s.Kind, s.Readings = []string{tree.Unsure}, kind, nil
				return s, word, err
			case word == ask.Later:
				s.Answers, s.Readings = []string{tree.Later}, nil
				return s, "", nil
			case word != "":
				return s, word, nil
			}
			s.Readings[in.Name] = got
		}
		_, err := t.run(s)
		if err == nil {
			return s, "", nil
		}
		if t.script {
			return s, "", fmt.Errorf("answers file, %s %s: %w", c.ID, wheel, err)
		}
		t.scr.Print(ask.Care, upperFirst(err.Error())+".")
		t.scr.Print(ask.Plain, "Once more, please.")
	}
}

// askInput takes the readings of one input, a line of them or one by one.
func (t *talker) askInput(p tree.Prompt, in *tree.Input, wheel string) (got []unit.Any, word ask.Word, err error) {
	c := p.Check
	kind, def := t.book.Kind(c, in.Name), in.Unit(t.units)
	several := 0
	for _, i := range c.Inputs {
		if i.Most > 0 {
			several++
		}
	}
	say := in.Say
	if say == "" {
		say = in.Name
	}
	switch {
	case in.Most > in.Least:
		say += fmt.Sprintf(", %d to %d readings on one line, or one by one, - where a mark cannot be reached", in.Least, in.Most)
	case in.Most > 1:
		say += fmt.Sprintf(", %d readings on one line, or one by one", in.Least)
	}
	if def != "" {
		say += " (" + unitName(def) + ")"
	}
	if in.Optional {
		say += ". Not sure leaves it out"
	}
	t.scr.Print(ask.Plain, say+".")
	f := ask.Field{ID: c.ID, Wheel: wheel, Hint: def}
	if several > 1 {
		f.Input = in.Name
	}
	for len(got) < in.Least {
		have := len(got)
		f.Check = func(s string) error {
			_, err := t.readings(kind, s, def, in, have)
			return err
		}
		if have > 0 {
			f.Hint = strings.TrimSpace(fmt.Sprintf("%s %d of %d", def, have+1, in.Least))
		}
		r, err := t.stay(p, wheel, func() (ask.Reply, error) { return t.asker.Line(f) })
		if err != nil || r.Word != "" {
			return nil, r.Word, err
		}
		more, err := t.readings(kind, r.Text, def, in, have)
		if err != nil {
			return nil, "", err
		}
		got = append(got, more...)
		t.echo(more, def)
	}
	return got, "", nil
}

// readings parses a line and holds it against the plausible window and the
// count. What is outside is asked again, never rescaled.
func (t *talker) readings(kind unit.Kind, text, def string, in *tree.Input, have int) ([]unit.Any, error) {
	list, err := unit.ParseList(kind, text, def)
	if err != nil {
		return nil, err
	}
	if len(list) == 0 {
		return nil, errors.New("a reading, please")
	}
	if have+len(list) > in.Most {
		return nil, fmt.Errorf("%d readings, and at most %d are taken", have+len(list), in.Most)
	}
	if have == 0 && len(list) > 1 && len(list) < in.Least {
		return nil, fmt.Errorf("%d readings, and at least %d are needed", len(list), in.Least)
	}
	for _, a := range list {
		if a.Missing() {
			if in.Most == 1 {
				return nil, errors.New("a reading, or not sure")
			}
			continue
		}
		lo, hi := in.Low, in.High
		switch {
		case lo >= 0 || kind != unit.KindLength:
		case 0 < a.SI && a.SI < leastDial:
			lo = leastDial
		case -leastDial < a.SI && a.SI < 0:
			hi = -leastDial
		}
		if hint := unit.Suggest(a, lo, hi); hint != "" {
			return nil, errors.New(hint)
		}
	}
	return list, nil
}

// leastDial is less than any dial shows, 0.05 thou. A reading that is not
// zero and under it was meant in inches, and would come out as true running.
const leastDial = 1.27e-6

// echo says readings back in both systems.
func (t *talker) echo(list []unit.Any, def string) {
	var words []string
	lo, hi := math.Inf(1), math.Inf(-1)
	var kind unit.Kind
	for _, a := range list {
		kind = a.Kind
		if a.Missing() {
			words = append(words, "-")
			continue
		}
		words = append(words, strings.TrimSpace(a.Text))
		lo, hi = math.Min(lo, a.SI), math.Max(hi, a.SI)
	}
	switch {
	case len(list) == 1 && !list[0].Missing():
		t.scr.Print(ask.Dim, "Taken: "+echoed(list[0]))
	case lo <= hi:
		// The bare numbers took the unit of the list, which is the first one's.
		u := ""
		if last := words[len(words)-1]; strings.ContainsAny(last[len(last)-1:], "0123456789.-") {
			u = " " + list[0].Unit
		}
		other := "mm"
		switch {
		case kind != unit.KindLength:
			other = def
		case list[0].Unit == "mm" && lo > 0.005:
			other = "in"
		case list[0].Unit == "mm":
			other = "thou"
		}
		t.scr.Item(ask.Dim, "Taken: ", fmt.Sprintf("%s%s (%s to %s)", strings.Join(words, "  "), u, unit.Format(kind, lo, other), unit.Format(kind, hi, other)))
	}
}

// echoed is one reading as it was typed, and in the other system with the
// digits that a hand can read.
func echoed(a unit.Any) string {
	other := map[string]string{"in": "mm", "thou": "mm", "mm": "in", "mi": "km", "km": "mi"}[a.Unit]
	if a.Unit == "mm" && math.Abs(a.SI) < 0.005 {
		other = "thou"
	}
	v, ok := a.In(other)
	if a.Kind != unit.KindLength || !ok {
		return a.Both()
	}
	digits := "%.4g"
	if math.Abs(v) >= 1000 {
		digits = "%.0f"
	}
	return fmt.Sprintf("%s ("+digits+" %s)", record.Full(a), v, other)
}

func unitName(u string) string {
	switch u {
	case "in":
		return "inches"
	case "thou":
		return "thousandths of an inch"
	case "mm":
		return "millimetres"
	}
	return u
}

// origins are the words that say where a figure is from.
var origins = []ask.Choice{
	{ID: "cast", Say: "Cast or stamped on the part"},
	{ID: "manual", Say: "The manual of this vehicle"},
	{ID: "measured", Say: "Measured on a new part"},
	{ID: "other", Say: "Somewhere else"},
}

// askFigure takes a figure of the vehicle and where it is from, in one line
// ("1.12 in cast") or in two.
func (t *talker) askFigure(p tree.Prompt) ([]tree.Said, ask.Word, error) {
	g := p.Figure
	def := g.US
	if t.units == "metric" {
		def = g.Metric
	}
	parse := func(s string) (unit.Any, string, error) { return splitFigure(g, s, def, origins) }
	t.scr.Print(ask.Plain, "Type the figure ("+unitName(def)+") and where it is from: cast, manual or measured. Not sure means that none is known.")
	r, err := t.stay(p, "", func() (ask.Reply, error) {
		return t.asker.Line(ask.Field{ID: g.ID, Hint: def, Check: func(s string) error { _, _, err := parse(s); return err }})
	})
	var missing *ask.Missing
	switch {
	case errors.As(err, &missing):
		// A figure that the answers file lacks is one that nobody knows.
		r = ask.Reply{Word: ask.Unsure}
	case err != nil:
		return nil, "", err
	}
	switch r.Word {
	case ask.Unsure, ask.Later:
		// A figure that nobody knows today can be given later through change.
		return []tree.Said{{Check: g.ID, Answers: []string{tree.Unsure}, Kind: "did-not-look"}}, "", nil
	case "":
	default:
		return nil, r.Word, nil
	}
	a, origin, err := parse(r.Text)
	if err != nil {
		return nil, "", err
	}
	t.scr.Print(ask.Dim, "Taken: "+a.Both())
	if origin == "" && t.script {
		origin = "given"
	}
	if origin == "" {
		t.scr.Print(ask.Strong, "Where is that figure from?")
		r, err := t.stay(p, "", func() (ask.Reply, error) {
			return t.asker.Choose(ask.Question{ID: g.ID + "-origin", Choices: origins, NoUnsure: true})
		})
		if err != nil || r.Word != "" {
			return nil, r.Word, err
		}
		origin = r.IDs[0]
	}
	return []tree.Said{{Check: g.ID, Value: a, Origin: origin}}, "", nil
}

// splitFigure reads a figure and, behind it, the word for where it is from:
// "1.12 in cast". Without one, from is "".
func splitFigure(g *tree.Figure, text, def string, words []ask.Choice) (a unit.Any, from string, err error) {
	fields := strings.Fields(text)
	if n := len(fields); n > 1 {
		for _, w := range words {
			if last := strings.ToLower(fields[n-1]); last == w.ID || last == "stamped" && w.ID == "cast" {
				from, text = w.ID, strings.Join(fields[:n-1], " ")
			}
		}
	}
	if a, err = unit.Parse(g.Kind, text, def); err != nil {
		return a, "", err
	}
	if hint := unit.Suggest(a, g.Low, g.High); hint != "" {
		return a, "", errors.New(hint)
	}
	return a, from, nil
}

// inputs gathers what the calculation of a measurement takes: its own
// readings, those of other checks, and the figures that are known.
func (t *talker) inputs(s tree.Said) map[string][]unit.Any {
	c := t.book.Checks[s.Check]
	in := map[string][]unit.Any{}
	for _, i := range c.Inputs {
		switch {
		case i.Figure != "":
			for j := range t.said {
				if f := t.said[j]; f.Check == i.Figure {
					if delete(in, i.Name); !f.Unsure() {
						in[i.Name] = []unit.Any{f.Value}
					}
				}
			}
		case i.From != "":
			if list := t.walk.From(i, s.Wheel); len(list) > 0 {
				in[i.Name] = list
			}
		default:
			if list := s.Readings[i.Name]; len(list) > 0 {
				in[i.Name] = list
			}
		}
	}
	return in
}

// run works out the calculation of a measurement.
func (t *talker) run(s tree.Said) (calc.Result, error) {
	c, ok := calc.Find(t.book.Checks[s.Check].Measure)
	if !ok {
		return calc.Result{}, fmt.Errorf("no calculation %q", t.book.Checks[s.Check].Measure)
	}
	res, err := c.Run(t.inputs(s))
	// What this measurement never asks a limit for is not "no limit known".
	res.Verdicts = slices.DeleteFunc(res.Verdicts, func(v calc.Verdict) bool {
		return v.Verdict == unit.NoLimit && !slices.ContainsFunc(c.Limits, func(l calc.Limit) bool {
			return l.ID == v.Of && slices.ContainsFunc(t.book.Checks[s.Check].Inputs, func(in *tree.Input) bool { return in.Name == l.Figure })
		})
	})
	return res, err
}

// judge works out every measurement anew, so that a changed reading or figure
// judges old readings again. It reports whether any came out otherwise.
func (t *talker) judge() (changed bool) {
	for i := range t.said {
		s := &t.said[i]
		c := t.book.Checks[s.Check]
		if c == nil || c.Measure == "" || len(s.Answers) == 1 && s.Answers[0] == tree.Later || s.Readings == nil && !c.Computed() {
			continue
		}
		key, before := s.Check+" "+s.Wheel, s.Answers
		res, err := t.run(*s)
		if err != nil {
			s.Answers, s.Kind, s.Chances = []string{tree.Unsure}, "cannot-tell", nil
			delete(t.results, key)
		} else {
			s.Answers, s.Kind = worstFirst(c, res.Outcomes), ""
			s.Chances = chances(c, res)
			t.results[key] = res
		}
		changed = changed || !slices.Equal(before, s.Answers)
	}
	return changed
}

// chances gives how likely each outcome of a measurement is.
func chances(c *tree.Check, res calc.Result) map[string]float64 {
	if by, ok := calc.Find(c.Measure); ok {
		return by.Chances(res)
	}
	return nil
}

// worstFirst puts outcomes into the order of the book, in which the record
// and the document give the worst one first.
func worstFirst(c *tree.Check, outcomes []string) []string {
	rank := func(id string) int {
		return slices.IndexFunc(c.Answers, func(a *tree.Answer) bool { return a.ID == id })
	}
	return slices.SortedStableFunc(slices.Values(outcomes), func(a, b string) int { return rank(a) - rank(b) })
}
