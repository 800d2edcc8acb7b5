package calc

import (
	"errors"
	"fmt"

	"chock/brakes"
	"chock/brakes/unit"
)

func runIndex(raw map[string][]unit.Any) (Result, error) {
	in := inputs(raw)
	before, after := in.turn("dial"), in.turn("dial-moved")
	s := showFor(in["dial"])
	studs, err := in.studs()
	if err != nil {
		return Result{}, err
	}
	moved, err := in.whole("moved")
	if err != nil {
		return Result{}, err
	}
	limit, mark, source, err := in.comfort("runout-limit", brakes.RunoutGood, brakes.RunoutBad)
	if err != nil {
		return Result{}, err
	}
	g, err := in.gaugeOf(s, brakes.DialScatter, "dial", "dial-moved")
	if err != nil {
		return Result{}, err
	}
	noise := g.Noise()
	for _, name := range []string{"dial", "dial-moved"} {
		if _, err := brakes.Harmonics(in.turn(name), 1); err != nil {
			return Result{}, blame(name, err)
		}
	}
	x, err := brakes.SeparateHub(before, after, studs, moved, noise)
	if err != nil {
		var out *brakes.OutOfRange
		if errors.As(err, &out) && out.Quantity == "studs moved" {
			return Result{}, blame("moved", err)
		}
		return Result{}, blame("dial", err)
	}
	best := x.Seats[x.Best]

	// What does not come once a turn stays wherever the rotor sits: the runout
	// there is no less than the larger of the two, and no more than their sum.
	h := held{of: "index", what: "best runout foretold", bound: "limit", shown: best.Runout, judged: best.Runout + x.Rest,
		doubt: best.Doubt, limit: limit, kind: brakes.Comfort, mark: mark, source: source}
	most, err := s.hold(h)
	if err != nil {
		return Result{}, err
	}
	h.judged = max(best.Runout, x.Rest)
	least, err := s.hold(h)
	if err != nil {
		return Result{}, err
	}
	v := least
	if most.Verdict != least.Verdict {
		h.unclear = true
		if v, err = s.hold(h); err != nil {
			return Result{}, err
		}
	}

	r := Result{Verdicts: []Verdict{v},
		Outcomes: []string{outcome(v.Verdict, "index-cannot-cure", "index-may-cure", "index-cures", "")}}
	r.Warnings = append(append(append(r.Warnings, few(before)...), few(after)...), g.warnings...)
	if x.Gain > 1.25*x.GainBest {
		r.warn("Moving %s instead of %d would tell hub and rotor %.1f times better.", count(x.BestMove, "stud"), moved, x.Gain/x.GainBest)
	}

	tilt := func(name string, t brakes.Tilt) {
		r.step("%s: %s of runout, high at %s", name, s.fine(2*t.Amplitude), where(t.High, studs))
	}
	r.step("once a turn, as first read: %s at %s", s.fine(x.Seats[0].Runout), where(x.Seats[0].High, studs))
	r.step("once a turn, moved on %s: %s at %s", count(moved, "stud"), s.fine(x.Seats[moved].Runout), where(x.Seats[moved].High, studs))
	r.step("moving turned the rotor's part by %d x 360 / %d = %s; the hub's part stayed", moved, studs, degrees(unit.Angle(float64(moved)/float64(studs))*unit.Turn))
	r.step("rotor = (first - moved) / (1 - that turn), hub = first - rotor, as arrows")
	tilt("hub", x.Hub)
	tilt("rotor, as it first stood", x.Rotor)
	for _, seat := range x.Seats {
		word := ""
		switch {
		case seat.Studs == x.Best:
			word = "  best"
		case seat.Studs == 0:
			word = "  as first read"
		case seat.Studs == moved:
			word = "  as read moved"
		}
		r.step("rotor moved %s: %s%s", count(seat.Studs, "stud"), s.fine(seat.Runout), word)
	}
	if x.Rest > 0 {
		r.step("not once a turn, the same at every stud: %s", s.fine(x.Rest))
	}
	r.step("doubt of the best: u = %s; to be sure it takes 1.64 u = %s", s.fine(best.Doubt), s.fine(unit.Length(1.64)*best.Doubt))

	positions := Value{Key: "positions", List: []Values{}}
	for _, seat := range x.Seats {
		positions.List = append(positions.List, Values{
			{Key: "studs", Number: float64(seat.Studs)},
			{Key: "runout_mm", Number: seat.Runout.Millimetres()},
			{Key: "high_deg", Number: seat.High.Degrees()},
			{Key: "doubt_mm", Number: seat.Doubt.Millimetres()},
		})
	}
	group := func(key string, t brakes.Tilt) Value {
		return Value{Key: key, Group: Values{
			{Key: "amplitude_mm", Number: t.Amplitude.Millimetres()},
			{Key: "high_deg", Number: t.High.Degrees()},
		}}
	}
	r.Values = Values{group("hub", x.Hub), group("rotor", x.Rotor), positions,
		{Key: "best_studs", Number: float64(x.Best)},
		{Key: "rest_mm", Number: x.Rest.Millimetres()},
		{Key: "tilt_doubt_mm", Number: x.TiltDoubt.Millimetres()}}

	// Twice the doubt is what a part must have to be told from nothing.
	hub, rotor := x.Hub.Amplitude > 2*x.TiltDoubt, x.Rotor.Amplitude > 2*x.TiltDoubt
	switch {
	case !hub && !rotor:
		r.say("Neither hub nor rotor leans by more than the dial's own scatter. Moving the rotor is no cure here.")
	case !rotor || x.Hub.Amplitude > 4*x.Rotor.Amplitude:
		r.say("The tilt stayed with the hub: look for rust and dirt on it, then read its own face. Moving the rotor changes little.")
	case !hub || x.Rotor.Amplitude > 4*x.Hub.Amplitude:
		r.say("The tilt went round with the rotor: its hat or mounting face is out, or dirt goes round with it. Moving it changes little.")
	default:
		r.say("Hub and rotor both lean; at the right stud they work against each other.")
	}
	if hub || rotor {
		more := ((x.Best-moved)%studs + studs) % studs
		switch {
		case more == 0:
			r.say("It sits at its best now, about %s.", s.fine(best.Runout))
		case x.Best == 0:
			r.say("It sat best as it first was, about %s: move it on %s more.", s.fine(best.Runout), count(more, "stud"))
		default:
			r.say("Best %s on from where it first stood, about %s: move it on %s more, and read it to be sure.", count(x.Best, "stud"), s.fine(best.Runout), count(more, "stud"))
		}
	}
	if x.Rest > best.Runout && x.Rest > limit.Low {
		r.say("%s of the runout does not come once a turn. No stud takes that away.", s.fine(x.Rest))
	}
	if v.Verdict == unit.TooClose && !h.unclear {
		r.Say = append(r.Say, s.settle(h, brakes.Gauge[unit.Length]{Step: g.Step, Scatter: g.Scatter}, 0, dial)...)
	}
	r.say("This stops the pulse coming back. It does not flatten a face that is already uneven.")
	r.Sources = append(r.Sources, sourceOf("runout limit", mark, source),
		sourceFigure(s.inch, "scatter of a dial", brakes.DialScatter), sourceDoubt, sourceVerdict, sourceOrders,
		"hub and rotor told apart: addition of two tilts as vectors; worked examples with known answers in the tests")
	return r, nil
}

func count(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}
