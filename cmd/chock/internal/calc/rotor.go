package calc

import (
	"fmt"
	"math"

	"chock/brakes"
	"chock/brakes/unit"
)

func runThickness(raw map[string][]unit.Any) (Result, error) {
	in := inputs(raw)
	t := in.turn("thickness")
	s := showFor(in["thickness"])
	th, err := brakes.ReadThickness(t)
	if err != nil {
		return Result{}, blame("thickness", err)
	}
	discard, haveDiscard, err := in.figure("discard")
	if err != nil {
		return Result{}, err
	}
	machine, haveMachine, err := in.figure("machine-to")
	if err != nil {
		return Result{}, err
	}
	even, evenMark, evenSource, err := in.comfort("variation-limit", brakes.VariationGood, brakes.VariationBad)
	if err != nil {
		return Result{}, err
	}
	g, err := in.gaugeOf(s, brakes.MicrometerScatter, "thickness")
	if err != nil {
		return Result{}, err
	}
	noise, n := g.Noise(), len(t.Points)

	// Two readings of one gauge share its error: it counts in their
	// difference only where it was given. One reading alone needs some.
	alone := g.Gauge
	if !g.errorGiven {
		alone.Error = g.Step
	}
	u := alone.Doubt(0)
	scatter := th.Variation <= brakes.ScatterMost(n, noise)
	net := brakes.LessScatter(th.Variation, n, noise)

	r := Result{Plot: plotOf(t, th.Least.Value, 0, s.sizeReading)}
	r.Warnings = append(append(r.Warnings, few(t)...), g.warnings...)

	r.step("thinnest %s at %s", s.size(th.Least.Value), degrees(t.At(th.Least.Position)))
	r.step("thickest %s at %s", s.size(th.Largest.Value), degrees(t.At(th.Largest.Position)))
	own, _ := s.large()
	r.step("variation = %s - %s %s = %s", s.sizeReading(th.Largest.Value), s.sizeReading(th.Least.Value), own, s.fine(th.Variation))
	r.steps(scatterSteps(s, g.Gauge, n, th.Variation, net, scatter))
	e := "as given"
	if !g.errorGiven {
		e = "one step, for none was given"
	}
	r.step("doubt of one reading: u = sqrt(q²/12 + s² + e²/3), e = %s (%s); u = %s", s.fineNumber(alone.Error), e, s.fine(u))

	hold := func(h held) (unit.Verdict, error) {
		v, err := s.hold(h)
		if err == nil {
			r.Verdicts = append(r.Verdicts, v)
		}
		return v.Verdict, err
	}
	least := func(of, bound string, limit unit.Length, have bool) (unit.Verdict, error) {
		h := held{of: of, what: "thinnest", bound: bound, shown: th.Least.Value, judged: th.Least.Value, doubt: u, kind: brakes.Safety, large: true}
		if have {
			h.limit, h.mark, h.source = brakes.AtLeast(limit), Given, "given with the readings as "+bound
			r.step("against %s: %s - %s = %s; to be sure it takes 1.96 u = %s", bound,
				bareNumber(th.Least.Value, own), bareNumber(limit, own), s.fine(th.Least.Value-limit), s.fine(unit.Length(1.96)*u))
		}
		return hold(h)
	}
	d, err := least("discard", "discard", discard, haveDiscard)
	if err != nil {
		return Result{}, err
	}
	v, err := hold(held{of: "variation", what: "thickness variation", bound: "limit", shown: th.Variation, judged: net,
		doubt: g.DifferenceDoubt(0), limit: even, kind: brakes.Comfort, scatter: scatter, mark: evenMark, source: evenSource})
	if err != nil {
		return Result{}, err
	}
	m, err := least("refinish", "machine-to", machine, haveMachine)
	if err != nil {
		return Result{}, err
	}

	stock := machine
	if haveMachine {
		stock = th.Least.Value - machine
	}
	above := discard
	if haveDiscard {
		above = th.Least.Value - discard
	}
	r.Values = Values{
		{Key: "least_thickness_mm", Number: th.Least.Value.Millimetres()},
		{Key: "least_at_deg", Number: t.At(th.Least.Position).Degrees()},
		{Key: "above_discard_mm", Number: above.Millimetres()},
		{Key: "stock_to_cut_mm", Number: stock.Millimetres()},
		{Key: "thickness_variation_mm", Number: th.Variation.Millimetres()},
		{Key: "thickness_scatter_mm", Number: brakes.ScatterMost(n, noise).Millimetres()},
		orderValues("thickness_orders", th.Orders, noise),
	}
	r.Outcomes = []string{
		outcome(d, "below-discard", "discard-too-close", "above-discard", "discard-unknown"),
		outcome(v, "varies", "variation-too-close", "even", ""),
		outcome(m, "no-stock-to-cut", "stock-too-close", "stock-to-cut", "stock-unknown"),
	}

	if haveDiscard && haveMachine && machine < discard {
		r.warn("Machine-to %s is thinner than discard %s: they may be swapped.", s.size(machine), s.size(discard))
	}
	if d == unit.TooClose {
		r.say("Too near the discard thickness for this gauge: %s", again(s))
	}
	if m == unit.Within {
		r.say("There is %s to cut, both faces together.", s.fine(stock))
	}
	switch {
	case scatter:
		r.say("The variation is no more than the gauge's own scatter.")
	default:
		r.Say = append(r.Say, pattern(th.Orders, noise, func(times int) string {
			switch times {
			case 1:
				return ": one pad wears it or has left something on it."
			case 2:
				return ": so a rotor wears that wobbles between two pads."
			}
			return "."
		})...)
		if len(th.Orders) > 0 {
			r.warn("%s", folded(t))
		}
	}
	if v == unit.TooClose {
		r.Say = append(r.Say, finer(s, g.Gauge, even, net, "micrometer", brakes.MicrometerScatter))
	}
	r.Sources = append(r.Sources, sourceOf("variation limit", evenMark, evenSource),
		sourceFigure("scatter of a micrometer", brakes.MicrometerScatter), sourceDoubt, sourceVerdict, sourceScatter)
	if len(th.Orders) > 0 {
		r.Sources = append(r.Sources, sourceOrders)
	}
	return r, nil
}

func runRunout(raw map[string][]unit.Any) (Result, error) {
	in := inputs(raw)
	t := in.turn("dial")
	s := showFor(in["dial"])
	ro, err := brakes.ReadRunout(t)
	if err != nil {
		return Result{}, blame("dial", err)
	}
	studs, err := in.studs()
	if err != nil {
		return Result{}, err
	}
	limit, mark, source, err := in.comfort("runout-limit", brakes.RunoutGood, brakes.RunoutBad)
	if err != nil {
		return Result{}, err
	}
	g, err := in.gaugeOf(s, brakes.DialScatter, "dial")
	if err != nil {
		return Result{}, err
	}
	noise, n := g.Noise(), len(t.Points)
	scatter := ro.Total <= brakes.ScatterMost(n, noise)
	net := brakes.LessScatter(ro.Total, n, noise)

	r := Result{Plot: plotOf(t, 0, studs, s.fineReading)}
	r.Warnings = append(append(r.Warnings, few(t)...), g.warnings...)
	own, _ := s.small()
	r.step("largest %s at %s", s.fine(ro.Largest.Value), degrees(t.At(ro.Largest.Position)))
	r.step("least %s at %s", s.fine(ro.Least.Value), degrees(t.At(ro.Least.Position)))
	r.step("runout = %s - %s %s = %s", s.fineReading(ro.Largest.Value), less(s.fineReading(ro.Least.Value)), own, s.fine(ro.Total))
	r.steps(scatterSteps(s, g.Gauge, n, ro.Total, net, scatter))

	closing, haveClosing := in.length("closing")
	off, drift := closing, unit.Length(0)
	if haveClosing {
		if t.Points[0].Position != 0 {
			return Result{}, &InputError{"closing", fmt.Errorf("the first position was not read, so it cannot be read again")}
		}
		first := t.Points[0].Value
		var moved bool
		if off, moved, err = brakes.ClosingError(first, closing, ro.Total, g.Step); err != nil {
			return Result{}, blame("closing", err)
		}
		r.step("closing: %s - %s %s = %s", s.fineReading(closing), less(s.fineReading(first)), own, s.fine(off))
		// Somewhere in the turn the dial moved by up to so much.
		drift = unit.Length(math.Abs(float64(off)) / math.Sqrt(3))
		if moved {
			r.warn("The dial came back to %s from where it began: the stand, the plunger or the bearing moved. Take up the play and read again.", s.fine(off))
		}
	}
	u := g.DifferenceDoubt(drift)
	r.step("doubt of the runout: u = %s; to be sure it takes 1.64 u = %s", s.fine(u), s.fine(unit.Length(1.64)*u))

	h := held{of: "runout", what: "runout", bound: "limit", shown: ro.Total, judged: net, doubt: u, limit: limit, kind: brakes.Comfort, scatter: scatter, mark: mark, source: source}
	v, err := s.hold(h)
	if err != nil {
		return Result{}, err
	}
	r.Verdicts = []Verdict{v}
	r.Outcomes = []string{outcome(v.Verdict, "runs-out", "runout-too-close", "runs-true", "")}

	r.Values = Values{
		{Key: "runout_mm", Number: ro.Total.Millimetres()},
		{Key: "runout_scatter_mm", Number: brakes.ScatterMost(n, noise).Millimetres()},
		{Key: "closing_error_mm", Number: off.Millimetres()},
		orderValues("runout_orders", ro.Orders, noise),
	}
	if scatter {
		r.say("The runout is no more than the gauge's own scatter.")
	} else {
		if len(ro.Orders) > 0 {
			if o := ro.Orders[0]; o.Share >= 0.6 && o.Amplitude > o.FromNoise(noise) {
				r.say("High spot at %s.", where(o.High, studs))
			}
			r.warn("%s", folded(t))
		}
		r.Say = append(r.Say, pattern(ro.Orders, noise, func(times int) string {
			switch {
			case times == 1:
				return ": a tilt. Look for rust or dirt under the hat first."
			case times == studs:
				return ", as often as there are studs: uneven nuts bend it. Loosen, tighten evenly in a star, read again."
			case times == 2:
				return ": the face is bent like a saddle, or worn so."
			case times >= 4 && studs == 0:
				return ". If that is the number of studs, uneven nuts bend it."
			}
			return "."
		})...)
	}
	if v.Verdict == unit.TooClose {
		r.Say = append(r.Say, finer(s, g.Gauge, limit, net, "dial", brakes.DialScatter))
	}
	r.Sources = append(r.Sources, sourceOf("runout limit", mark, source),
		sourceFigure("scatter of a dial", brakes.DialScatter), sourceDoubt, sourceVerdict, sourceScatter)
	if haveClosing {
		r.Sources = append(r.Sources, fmt.Sprintf("closing error: %s (%s)", brakes.ClosingShare.Source, brakes.ClosingShare.Mark))
	}
	if len(ro.Orders) > 0 {
		r.Sources = append(r.Sources, sourceOrders)
	}
	return r, nil
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

// finer says what would decide a comfort limit that was too close to call.
func finer(s shower, g brakes.Gauge[unit.Length], limit brakes.Limit[unit.Length], judged unit.Length, tool string, scatter brakes.Figure[unit.Length]) string {
	guard := unit.Length(brakes.Comfort.Guard()) * g.DifferenceDoubt(0)
	if g.Step > 2*scatter.Value && guard > limit.Low/2 {
		fine := "reads 0.0001 in (0.002 mm)"
		if tool == "dial" {
			fine = "reads 0.0005 in (0.01 mm), between its marks too"
		}
		return fmt.Sprintf("A gauge stepping %s cannot judge %s: it takes a %s that %s.", s.fine(g.Step), s.fine(limit.Low), tool, fine)
	}
	if judged-guard > limit.Low && judged+guard < limit.High {
		return "Makers differ here: some allow it, some do not. Look up the figure for this vehicle."
	}
	return "Read each place three times and take the average, or fetch a finer gauge."
}

func again(s shower) string {
	return "read the thinnest place three times with a micrometer that reads 0.0001 in (0.002 mm). Until then count it as worn."
}

func sourceOf(what, mark, source string) string {
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
