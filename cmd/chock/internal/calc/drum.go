package calc

import (
	"math"

	"chock/brakes"
	"chock/brakes/unit"
)

func runDrum(raw map[string][]unit.Any) (Result, error) {
	in := inputs(raw)
	s := showFor(in["open"])
	discard, haveDiscard, err := in.figure("discard")
	if err != nil {
		return Result{}, err
	}
	machine, haveMachine, err := in.figure("machine-to")
	if err != nil {
		return Result{}, err
	}
	round, mark, source, err := in.comfort("roundness-limit", brakes.DrumRoundGood, brakes.DrumRoundBad)
	if err != nil {
		return Result{}, err
	}
	g, err := in.gaugeOf(s, brakes.DrumGaugeScatter, "open", "closed", "middle")
	if err != nil {
		return Result{}, err
	}
	noise := g.Noise()
	alone := g.Gauge
	if !g.errorGiven {
		alone.Error = g.Step
	}
	u := alone.Doubt(0)

	r := Result{}
	own, _ := s.large()
	r.Warnings = append(r.Warnings, g.warnings...)
	var largest, outOf unit.Length
	edge := map[string]brakes.Drum{}
	mean := map[string]unit.Length{}
	oval := brakes.Drum{Oval: unit.Length(math.NaN()), Axis: unit.Angle(math.NaN())} // of the edge that is most oval
	worst, fewest := 0, 0                                                            // diameters at the edge that is most out of round; at the edge with the fewest
	for _, name := range []string{"open", "closed", "middle"} {
		t := in.turn(name)
		if t.Positions == 0 {
			continue
		}
		var values []unit.Length
		for _, p := range t.Points {
			values = append(values, p.Value)
			mean[name] += p.Value
		}
		d, err := brakes.ReadDrum(values)
		if err != nil {
			return Result{}, blame(name, err)
		}
		mean[name] = unit.Length(float64(mean[name]) / float64(len(values)))
		edge[name] = d
		if len(values) < t.Positions {
			r.warn("%d of %d diameters not read: what is there may be worse.", t.Positions-len(values), t.Positions)
		}
		if fewest == 0 || len(values) < fewest {
			fewest = len(values)
		}
		where := name + " edge"
		if name == "middle" {
			where = name
		}
		r.step("%s: largest %s, out of round %s over %s", where, s.size(d.Largest), s.fine(d.OutOfRound), count(len(values), "diameter"))
		if d.Fitted && len(values) == t.Positions { // with a gap the rest are no equal steps
			r.step("%s: the ellipse that fits best is oval by %s, its long way at %s", where, s.fine(d.Oval), degrees(d.Axis))
			if math.IsNaN(float64(oval.Oval)) || d.Oval > oval.Oval {
				oval = d
			}
		}
		largest = max(largest, d.Largest)
		if worst == 0 || d.OutOfRound > outOf {
			outOf, worst = d.OutOfRound, len(values)
		}
	}
	taper, bell, barrel := unit.Length(math.NaN()), unit.Length(math.NaN()), unit.Length(math.NaN())
	if _, ok := edge["closed"]; ok {
		bell = mean["open"] - mean["closed"]
		taper = unit.Length(math.Abs(float64(bell)))
		r.step("open less closed, on average: %s", s.fine(bell))
		if _, ok := edge["middle"]; ok {
			barrel = mean["middle"] - (mean["open"]+mean["closed"])/2
			r.step("middle less the average of the edges: %s", s.fine(barrel))
		}
	}
	scatter := outOf <= brakes.ScatterMost(worst, noise)
	net := brakes.LessScatter(outOf, worst, noise)
	if worst > 1 {
		r.steps(scatterSteps(s, g.Gauge, worst, outOf, net, scatter))
	}
	r.step("doubt of one diameter: u = %s", s.fine(u))

	h := held{of: "discard", what: "largest diameter", bound: "discard", shown: largest, judged: largest, doubt: u, kind: brakes.Safety, large: true}
	if haveDiscard {
		h.limit, h.mark, h.source = brakes.AtMost(discard), Given, "given with the readings as discard"
		r.step("against discard: %s - %s = %s; to be sure it takes 1.96 u = %s",
			bareNumber(discard, own), bareNumber(largest, own), s.fine(discard-largest), s.fine(unit.Length(1.96)*u))
	}
	dv, err := s.hold(h)
	if err != nil {
		return Result{}, err
	}
	hr := held{of: "roundness", what: "out of round", bound: "limit", shown: outOf, judged: net, doubt: g.DifferenceDoubt(0),
		limit: round, kind: brakes.Comfort, scatter: scatter, n: worst, unclear: worst < 2, mark: mark, source: source}
	rv, err := s.hold(hr)
	if err != nil {
		return Result{}, err
	}
	switch {
	case fewest < 2:
		r.warn("One diameter says nothing of how round it is: take it at four places, 45 degrees apart.")
	case fewest < 4:
		r.warn("%d diameters: four, 45 degrees apart, find more.", fewest)
	}
	r.Verdicts = []Verdict{dv, rv}
	r.Outcomes = []string{
		outcome(dv.Verdict, "above-discard", "discard-too-close", "below-discard", "discard-unknown"),
		outcome(rv.Verdict, "out-of-round", "roundness-too-close", "round", ""),
	}
	room := unit.Length(math.NaN())
	if haveMachine {
		room = machine - largest
		if room > 1.96*u {
			r.say("There is %s to cut, on the diameter. Turn both drums of the axle to one size.", s.fine(room))
		} else {
			r.say("No room to turn it: largest %s, machine-to %s.", s.size(largest), s.size(machine))
		}
		if haveDiscard && machine > discard {
			r.warn("Machine-to %s is larger than discard %s: they may be swapped.", s.size(machine), s.size(discard))
		}
	}
	r.Values = Values{
		{Key: "largest_mm", Number: largest.Millimetres()},
		{Key: "out_of_round_mm", Number: outOf.Millimetres()},
		{Key: "oval_mm", Number: oval.Oval.Millimetres()},
		{Key: "oval_at_deg", Number: oval.Axis.Degrees()},
		{Key: "taper_mm", Number: taper.Millimetres()},
		{Key: "bell_mouth_mm", Number: bell.Millimetres()},
		{Key: "barrel_mm", Number: barrel.Millimetres()},
		{Key: "room_to_cut_mm", Number: room.Millimetres()},
	}
	if dv.Verdict == unit.TooClose {
		r.say("Too near the largest diameter for this gauge. Until that is settled count it as worn out.")
		r.Say = append(r.Say, s.settle(h, alone, 0, drumGauge.one("the widest place"))...)
	}
	switch {
	case worst < 2:
	case scatter:
		r.say("Out of round by no more than the gauge's own scatter.")
	case rv.Verdict == unit.TooClose:
		r.Say = append(r.Say, s.settle(hr, g.Gauge, 0, drumGauge)...)
	}
	limit := 2 * g.DifferenceDoubt(0)
	switch {
	case bell > limit:
		r.say("Wider at the open edge by %s: bell-mouthed.", s.fine(bell))
	case -bell > limit:
		r.say("Wider at the closed edge by %s: tapered.", s.fine(-bell))
	}
	switch {
	case barrel > limit:
		r.say("Hollow in the middle by %s: barrel-shaped.", s.fine(barrel))
	case -barrel > limit:
		r.say("Narrower in the middle by %s: the lining rubs there first and leaves the edges.", s.fine(-barrel))
	}
	if !scatter && oval.Oval > limit {
		r.say("Oval: the long way is at %s from stud 1.", degrees(oval.Axis))
	}
	r.say("A gauge with two points cannot see a drum with three high places, or one off centre: a dial on the turning drum can.")
	r.Sources = append(r.Sources, sourceOf("roundness limit", mark, source),
		sourceFigure(s.inch, "scatter of a drum gauge", brakes.DrumGaugeScatter), sourceDoubt, sourceVerdict, sourceScatter)
	return r, nil
}
