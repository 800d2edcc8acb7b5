package calc

import (
	"fmt"
	"math"
	"strings"

	"chock/brakes"
	"chock/brakes/unit"
)

// A thickness is what one turn of thickness readings says, before it is put
// into words: a file of a million rotors needs the numbers alone.
type thickness struct {
	s        shower
	turn     brakes.Turn
	read     brakes.Thickness
	gauge    gauge
	alone    brakes.Gauge[unit.Length] // behind one reading
	noise    unit.Length
	net      unit.Length // variation less what scatter adds
	scatter  bool        // the variation is no more than the gauge's own scatter
	discard  limitGiven
	machine  limitGiven
	held     [3]held // discard, variation, machine-to
	verdicts [3]unit.Verdict
}

// A limitGiven is a limit of this part, if anybody knows it.
type limitGiven struct {
	at   unit.Length
	have bool
}

// room is how far a value lies above the limit; NaN where there is none.
func (l limitGiven) room(v unit.Length) unit.Length {
	if !l.have {
		return unit.Length(math.NaN())
	}
	return v - l.at
}

func runThickness(raw map[string][]unit.Any) (Result, error) {
	t, err := readThickness(inputs(raw))
	if err != nil {
		return Result{}, err
	}
	r, err := t.result()
	if err != nil {
		return Result{}, err
	}
	t.explain(&r)
	return r, nil
}

func readThickness(in inputs) (t thickness, err error) {
	t.turn = in.turn("thickness")
	t.s = showFor(in["thickness"])
	if t.read, err = brakes.ReadThickness(t.turn); err != nil {
		return t, blame("thickness", err)
	}
	if t.discard.at, t.discard.have, err = in.figure("discard"); err != nil {
		return t, err
	}
	if t.machine.at, t.machine.have, err = in.figure("machine-to"); err != nil {
		return t, err
	}
	even, evenMark, evenSource, err := in.comfort("variation-limit", brakes.VariationGood, brakes.VariationBad)
	if err != nil {
		return t, err
	}
	if t.gauge, err = in.gaugeOf(t.s, brakes.MicrometerScatter, "thickness"); err != nil {
		return t, err
	}
	n := len(t.turn.Points)
	t.noise = t.gauge.Noise()
	// Two readings of one gauge share its error: it counts in their
	// difference only where it was given. One reading alone needs some.
	t.alone = t.gauge.Gauge
	if !t.gauge.errorGiven {
		t.alone.Error = t.gauge.Step
	}
	t.scatter = t.read.Variation <= brakes.ScatterMost(n, t.noise)
	t.net = brakes.LessScatter(t.read.Variation, n, t.noise)

	least := func(of, bound string, limit limitGiven) held {
		h := held{of: of, what: "thinnest", bound: bound, shown: t.read.Least.Value, judged: t.read.Least.Value, doubt: t.alone.Doubt(0), kind: brakes.Safety, large: true}
		if limit.have {
			h.limit, h.mark, h.source = brakes.AtLeast(limit.at), Given, "given with the readings as "+bound
		}
		return h
	}
	t.held = [3]held{
		least("discard", "discard", t.discard),
		{of: "variation", what: "thickness variation", bound: "limit", shown: t.read.Variation, judged: t.net,
			doubt: t.gauge.DifferenceDoubt(0), limit: even, kind: brakes.Comfort, scatter: t.scatter, n: n, mark: evenMark, source: evenSource},
		least("refinish", "machine-to", t.machine),
	}
	return t, nil
}

// result gives the numbers.
func (t *thickness) result() (r Result, err error) {
	r.Verdicts = make([]Verdict, len(t.held))
	for i, h := range t.held {
		if r.Verdicts[i], err = h.judge(); err != nil {
			return r, err
		}
		t.verdicts[i] = r.Verdicts[i].Verdict
	}
	d, v, m := t.verdicts[0], t.verdicts[1], t.verdicts[2]
	r.Outcomes = []string{
		outcome(d, "below-discard", "discard-too-close", "above-discard", "discard-unknown"),
		outcome(v, "varies", "variation-too-close", "even", ""),
		outcome(m, "no-stock-to-cut", "stock-too-close", "stock-to-cut", "stock-unknown"),
	}
	least := t.read.Least
	r.Values = Values{
		{Key: "least_thickness_mm", Number: least.Value.Millimetres()},
		{Key: "least_at_deg", Number: t.turn.At(least.Position).Degrees()},
		{Key: "above_discard_mm", Number: t.discard.room(least.Value).Millimetres()},
		{Key: "stock_to_cut_mm", Number: t.machine.room(least.Value).Millimetres()},
		{Key: "thickness_variation_mm", Number: t.read.Variation.Millimetres()},
		{Key: "thickness_scatter_mm", Number: brakes.ScatterMost(len(t.turn.Points), t.noise).Millimetres()},
		orderValues("thickness_orders", t.read.Orders, t.noise),
	}
	r.Warnings = append(few(t.turn), t.gauge.warnings...)
	if t.discard.have && t.machine.have && t.machine.at < t.discard.at {
		r.warn("Machine-to %s is thinner than discard %s: they may be swapped.", t.s.size(t.machine.at), t.s.size(t.discard.at))
	}
	if !t.scatter && len(t.read.Orders) > 0 {
		r.Warnings = append(r.Warnings, folded(t.turn))
	}
	return r, nil
}

// explain adds the arithmetic, and what it means.
func (t *thickness) explain(r *Result) {
	s, n := t.s, len(t.turn.Points)
	least, largest := t.read.Least, t.read.Largest
	r.Plot = plotOf(t.turn, least.Value, 0, s.sizeReading)
	r.step("thinnest %s at %s", s.size(least.Value), degrees(t.turn.At(least.Position)))
	r.step("thickest %s at %s", s.size(largest.Value), degrees(t.turn.At(largest.Position)))
	own, _ := s.large()
	r.step("variation = %s - %s %s = %s", s.sizeReading(largest.Value), s.sizeReading(least.Value), own, s.fine(t.read.Variation))
	r.steps(scatterSteps(s, t.gauge.Gauge, n, t.read.Variation, t.net, t.scatter))
	e := "as given"
	if !t.gauge.errorGiven {
		e = "one step, for none was given"
	}
	u := t.alone.Doubt(0)
	r.step("doubt of one reading: u = sqrt(q²/12 + s² + e²/3), e = %s (%s); u = %s", s.fineNumber(t.alone.Error), e, s.fine(u))
	for i, h := range t.held {
		if h.kind == brakes.Safety && h.limit.Side != brakes.Unknown {
			r.step("against %s: %s - %s = %s; to be sure it takes 1.96 u = %s", h.bound,
				bareNumber(least.Value, own), bareNumber(h.limit.Low, own), s.fine(least.Value-h.limit.Low), s.fine(unit.Length(1.96)*u))
		}
		r.Verdicts[i].Say = s.sayHeld(h, t.verdicts[i])
	}

	thinnest := micrometer.one("the thinnest place")
	if t.verdicts[0] == unit.TooClose {
		r.say("Too near the discard thickness for this gauge. Until that is settled count it as worn.")
		r.Say = append(r.Say, s.settle(t.held[0], t.alone, 0, thinnest)...)
	}
	if t.verdicts[2] == unit.TooClose {
		r.say("Too near the thickness to cut to: leave it uncut.")
		r.Say = append(r.Say, s.settle(t.held[2], t.alone, 0, thinnest)...)
	}
	if t.verdicts[2] == unit.Within {
		r.say("There is %s to cut, both faces together.", s.fine(t.machine.room(least.Value)))
	}
	if t.scatter {
		r.say("The variation is no more than the gauge's own scatter.")
	} else {
		r.Say = append(r.Say, pattern(t.read.Orders, t.noise, func(times int) string {
			switch times {
			case 1:
				return ": one pad wears it or has left something on it."
			case 2:
				return ": so a rotor wears that wobbles between two pads."
			}
			return "."
		})...)
	}
	even := t.held[1]
	if t.verdicts[1] == unit.TooClose {
		r.Say = append(r.Say, s.settle(even, t.gauge.Gauge, 0, micrometer)...)
	}
	r.Sources = append(r.Sources, sourceOf("variation limit", even.mark, even.source),
		sourceFigure(t.s.inch, "scatter of a micrometer", brakes.MicrometerScatter), sourceDoubt, sourceVerdict, sourceScatter)
	if len(t.read.Orders) > 0 {
		r.Sources = append(r.Sources, sourceOrders)
	}
}

// A runout is what one turn of dial readings says, before it is put into words.
type runout struct {
	s       shower
	turn    brakes.Turn
	read    brakes.Runout
	studs   int
	gauge   gauge
	noise   unit.Length
	net     unit.Length
	scatter bool
	closing limitGiven  // the first position read again
	off     unit.Length // by how far it did not come back; NaN where not read
	drift   unit.Length // its standard uncertainty in any reading
	moved   bool
	held    held
	verdict unit.Verdict
}

func runRunout(raw map[string][]unit.Any) (Result, error) {
	t, err := readRunout(inputs(raw))
	if err != nil {
		return Result{}, err
	}
	r, err := t.result()
	if err != nil {
		return Result{}, err
	}
	t.explain(&r)
	return r, nil
}

func readRunout(in inputs) (t runout, err error) {
	t.turn = in.turn("dial")
	t.s = showFor(in["dial"])
	if t.read, err = brakes.ReadRunout(t.turn); err != nil {
		return t, blame("dial", err)
	}
	if t.studs, err = in.studs(); err != nil {
		return t, err
	}
	limit, mark, source, err := in.comfort("runout-limit", brakes.RunoutGood, brakes.RunoutBad)
	if err != nil {
		return t, err
	}
	if t.gauge, err = in.gaugeOf(t.s, brakes.DialScatter, "dial"); err != nil {
		return t, err
	}
	n := len(t.turn.Points)
	t.noise = t.gauge.Noise()
	t.scatter = t.read.Total <= brakes.ScatterMost(n, t.noise)
	t.net = brakes.LessScatter(t.read.Total, n, t.noise)
	t.off = unit.Length(math.NaN())
	if t.closing.at, t.closing.have = in.length("closing"); t.closing.have {
		if t.turn.Points[0].Position != 0 {
			return t, &InputError{"closing", fmt.Errorf("the first position was not read, so it cannot be read again")}
		}
		if t.off, t.moved, err = brakes.ClosingError(t.turn.Points[0].Value, t.closing.at, t.read.Total, t.gauge.Step); err != nil {
			return t, blame("closing", err)
		}
		// Somewhere in the turn the dial moved by up to so much.
		t.drift = unit.Length(math.Abs(float64(t.off)) / math.Sqrt(3))
	}
	t.held = held{of: "runout", what: "runout", bound: "limit", shown: t.read.Total, judged: t.net, doubt: t.gauge.DifferenceDoubt(t.drift),
		limit: limit, kind: brakes.Comfort, scatter: t.scatter, n: n, mark: mark, source: source}
	return t, nil
}

// result gives the numbers.
func (t *runout) result() (r Result, err error) {
	v, err := t.held.judge()
	if err != nil {
		return r, err
	}
	t.verdict = v.Verdict
	r.Verdicts = []Verdict{v}
	r.Outcomes = []string{outcome(v.Verdict, "runs-out", "runout-too-close", "runs-true", "")}
	r.Values = Values{
		{Key: "runout_mm", Number: t.read.Total.Millimetres()},
		{Key: "runout_scatter_mm", Number: brakes.ScatterMost(len(t.turn.Points), t.noise).Millimetres()},
		{Key: "closing_error_mm", Number: t.off.Millimetres()},
		orderValues("runout_orders", t.read.Orders, t.noise),
	}
	r.Warnings = append(few(t.turn), t.gauge.warnings...)
	if t.moved {
		r.warn("The dial came back to %s from where it began: the stand, the plunger or the bearing moved. Take up the play and read again.", t.s.fine(t.off))
	}
	if !t.scatter && len(t.read.Orders) > 0 {
		r.Warnings = append(r.Warnings, folded(t.turn))
	}
	return r, nil
}

// explain adds the arithmetic, and what it means.
func (t *runout) explain(r *Result) {
	s, ro := t.s, t.read
	r.Plot = plotOf(t.turn, 0, t.studs, s.fineReading)
	own, _ := s.small()
	r.step("largest %s at %s", s.fine(ro.Largest.Value), degrees(t.turn.At(ro.Largest.Position)))
	r.step("least %s at %s", s.fine(ro.Least.Value), degrees(t.turn.At(ro.Least.Position)))
	r.step("runout = %s - %s %s = %s", s.fineReading(ro.Largest.Value), less(s.fineReading(ro.Least.Value)), own, s.fine(ro.Total))
	r.steps(scatterSteps(s, t.gauge.Gauge, len(t.turn.Points), ro.Total, t.net, t.scatter))
	if t.closing.have {
		r.step("closing: %s - %s %s = %s", s.fineReading(t.closing.at), less(s.fineReading(t.turn.Points[0].Value)), own, s.fine(t.off))
	}
	u := t.held.doubt
	r.step("doubt of the runout: u = %s; to be sure it takes 1.64 u = %s", s.fine(u), s.fine(unit.Length(1.64)*u))
	r.Verdicts[0].Say = s.sayHeld(t.held, t.verdict)

	if t.scatter {
		r.say("The runout is no more than the gauge's own scatter.")
	} else {
		if len(ro.Orders) > 0 {
			if o := ro.Orders[0]; o.Share >= 0.6 && o.Amplitude > o.FromNoise(t.noise) {
				r.say("High spot at %s.", where(o.High, t.studs))
			}
		}
		r.Say = append(r.Say, pattern(ro.Orders, t.noise, func(times int) string {
			switch {
			case times == 1:
				return ": a tilt. Look for rust or dirt under the hat first."
			case times == t.studs:
				return ", as often as there are studs: uneven nuts bend it. Loosen, tighten evenly in a star, read again."
			case times == 2:
				return ": the face is bent like a saddle, or worn so."
			case times >= 4 && t.studs == 0:
				return ". If that is the number of studs, uneven nuts bend it."
			}
			return "."
		})...)
	}
	if t.verdict == unit.TooClose {
		r.Say = append(r.Say, s.settle(t.held, t.gauge.Gauge, t.drift, dial)...)
	}
	r.Sources = append(r.Sources, sourceOf("runout limit", t.held.mark, t.held.source),
		sourceFigure(t.s.inch, "scatter of a dial", brakes.DialScatter), sourceDoubt, sourceVerdict, sourceScatter)
	if t.closing.have {
		r.Sources = append(r.Sources, fmt.Sprintf("closing error: %s (%s)", brakes.ClosingShare.Source, brakes.ClosingShare.Mark))
	}
	if len(ro.Orders) > 0 {
		r.Sources = append(r.Sources, sourceOrders)
	}
}

// scatterSteps show how much of a largest less least the gauge makes itself.
func scatterSteps(s shower, g brakes.Gauge[unit.Length], n int, all, net unit.Length, scatter bool) []string {
	own, _ := s.small()
	noise := g.Noise()
	steps := []string{
		fmt.Sprintf("the gauge: step q = %s, scatter s = %s; noise of a reading = sqrt(q²/12 + s²) = %s",
			s.fineNumber(g.Step), s.fineNumber(g.Scatter), s.fine(noise)),
		fmt.Sprintf("an even part would show about %.2f x %s = %s in %d readings, and %s one time in twenty",
			brakes.ScatterMean(n, 1.0), s.fineNumber(noise), s.fine(brakes.ScatterMean(n, noise)), n, s.fine(brakes.ScatterMost(n, noise))),
	}
	if !scatter {
		steps = append(steps, fmt.Sprintf("less that scatter: sqrt(%s² - %s²) %s = %s",
			s.fineNumber(all), s.fineNumber(brakes.ScatterMean(n, noise)), own, s.fine(net)))
	}
	return steps
}

func sourceOf(what, mark, source string) string {
	if mark == string(brakes.Estimate) {
		source = strings.TrimPrefix(source, "our choice: ") // the mark says so
	}
	return fmt.Sprintf("%s: %s (%s)", what, source, mark)
}

func (r *Result) step(format string, args ...any) {
	r.Steps = append(r.Steps, fmt.Sprintf(format, args...))
}
func (r *Result) steps(lines []string)           { r.Steps = append(r.Steps, lines...) }
func (r *Result) say(format string, args ...any) { r.Say = append(r.Say, fmt.Sprintf(format, args...)) }
func (r *Result) warn(format string, args ...any) {
	r.Warnings = append(r.Warnings, fmt.Sprintf(format, args...))
}
