package calc

import (
	"fmt"
	"math"

	"chock/brakes"
	"chock/brakes/unit"
)

var runoutGrowth = Calculation{
	Name:    "runout-growth",
	Command: "growth",
	Short:   "what runout makes of a rotor on a trip, and what a foot feels of it",
	Title:   "A pulse growing out of runout",
	Inputs: []Input{
		{Name: "runout", Kind: unit.KindLength, Typed: true, Say: "runout of the rotor on its hub, largest less least of the dial"},
		{Name: "trip", Kind: unit.KindLength, Default: "mi", Say: "how far it is to go"},
		{Name: "runout-limit", Kind: unit.KindLength, Figure: true, Optional: true, Typed: true, Vehicle: "AXLE-runout-limit", Say: "most that the rotor may run out"},
		{Name: "variation", Kind: unit.KindLength, Optional: true, Typed: true, Say: "how much its thickness varies today"},
		{Name: "tyre", Kind: unit.KindWord, Optional: true, Vehicle: "AXLE-tyre", Say: "tyre size as on the sidewall, for the number of turns"},
		{Name: "roll-out", Kind: unit.KindLength, Optional: true, Typed: true, Say: "in place of the size: way of one turn of the wheel on the ground"},
	},
	Limits: []Limit{
		{"runout", "runout-limit", []string{"runs-out", "runout-too-close", "runs-true"}},
		{"return", "", []string{"pulse-before-the-end", "pulse-may-come", "pulse-later", "pulse-not-said"}},
	},
	Keys: []string{"trip_share_low_percent", "trip_share_high_percent", "turns_per_mile", "turns", "wear_per_turn_low_pm", "wear_per_turn_high_pm",
		"grown_low_mm", "grown_high_mm", "variation_after_low_mm", "variation_after_high_mm"},
	run: runGrowth,
}

var pulseFelt = Calculation{
	Name:    "pulse-felt",
	Command: "growth",
	Title:   "What a thickness variation does to pedal and torque",
	Inputs: []Input{
		{Name: "variation", Kind: unit.KindLength, Typed: true, Say: "how much the rotor's thickness varies round the turn"},
		{Name: "caliper", Kind: unit.KindLength, Typed: true, Vehicle: "AXLE-piston-bore", Say: "piston of the caliper"},
		{Name: "pistons", Beside: "caliper", Kind: unit.KindCount, Optional: true, Vehicle: "AXLE-pistons", Say: "how many such pistons on one side of the caliper (1 if not given)"},
		{Name: "rotors", Kind: unit.KindCount, Optional: true, Say: "how many rotors push at the same moment: 1 or 2 (2 if not given, the worst)"},
		{Name: "master", Kind: unit.KindLength, Optional: true, Typed: true, Vehicle: "master-bore", Say: "bore of the master cylinder"},
		{Name: "pedal-ratio", Kind: unit.KindRatio, Optional: true, Vehicle: "pedal-ratio", Say: "pivot to pad over pivot to rod, as 4 or 4:1"},
		{Name: "fluid-taken", Kind: unit.KindVolume, Optional: true, Default: "cc", Say: "for a foot that does not give way: fluid that caliper and hose take ..."},
		{Name: "at-pressure", Kind: unit.KindPressure, Optional: true, Default: "psi", Say: "... to get to this pressure"},
		{Name: "friction", Kind: unit.KindRatio, Optional: true, Vehicle: "AXLE-friction", Say: "friction of the lining, as 0.38"},
		{Name: "effective-radius", Kind: unit.KindLength, Optional: true, Typed: true, Vehicle: "AXLE-effective-radius", Say: "radius at which the pads hold the rotor"},
	},
	Keys: []string{"fluid_pushed_mm3", "master_pulse_mm", "pedal_pulse_mm", "pressure_pulse_kpa", "torque_pulse_nm"},
	run:  runFelt,
}

var liningWorn = Calculation{
	Name:    "lining-worn",
	Command: "wear",
	Short:   "what the energy of a stop takes off a pad, as a band",
	Title:   "Lining worn off by heat",
	Inputs: []Input{
		{Name: "energy", Kind: unit.KindEnergy, Default: "kJ", Say: "energy that one pad turns into heat in one stop: half of what its rotor takes"},
		{Name: "friction", Kind: unit.KindRatio, Vehicle: "AXLE-friction", Say: "friction of the lining, as 0.38"},
		{Name: "pad-area", Kind: unit.KindArea, Default: "cm2", Say: "area of the pad's lining"},
		{Name: "stops", Kind: unit.KindCount, Optional: true, Say: "how many such stops (1 if not given)"},
	},
	Keys: []string{"worn_um", "worn_low_um", "worn_high_um", "stops_to_1_mm", "stops_to_1_mm_low", "stops_to_1_mm_high"},
	run:  runWorn,
}

func runGrowth(raw map[string][]unit.Any) (Result, error) {
	in := inputs(raw)
	s := showFor(in["runout"])
	runout := unit.As[unit.Length](in["runout"][0])
	if !(runout.Value >= 0 && !math.IsInf(float64(runout.Value), 0)) {
		return Result{}, &InputError{"runout", fmt.Errorf("%v: want 0 or more, the largest reading less the least", runout.Value)}
	}
	limit, mark, source, err := in.comfort("runout-limit", brakes.RunoutGood, brakes.RunoutBad)
	if err != nil {
		return Result{}, err
	}
	now, haveNow := in.length("variation")
	if haveNow && !(now >= 0 && !math.IsInf(float64(now), 0)) {
		return Result{}, &InputError{"variation", fmt.Errorf("%v: want 0 or more", now)}
	}
	trip, _ := in.length("trip")
	low, high, err := brakes.TripShare(trip)
	if err != nil {
		return Result{}, blame("trip", err)
	}
	var r Result
	g := brakes.Gauge[unit.Length]{Step: runout.Resolution, Scatter: max(brakes.DialScatter.Value, runout.Resolution/2)}
	v, err := s.hold(held{of: "runout", what: "runout", bound: "limit", shown: runout.Value, judged: runout.Value, doubt: g.DifferenceDoubt(0),
		limit: limit, kind: brakes.Comfort, mark: mark, source: source})
	if err != nil {
		return Result{}, err
	}
	r.Verdicts = []Verdict{v}
	r.Outcomes = []string{outcome(v.Verdict, "runs-out", "runout-too-close", "runs-true", "")}
	r.step("trip %s over %s = %.0f %%", miles(trip), miles(brakes.GrowthFar.Value), low.Percent())
	r.step("trip %s over %s = %.0f %%", miles(trip), miles(brakes.GrowthNear.Value), high.Percent())

	nan := math.NaN()
	perMile, turns, passLow, passHigh := nan, nan, unit.Length(nan), unit.Length(nan)
	if len(in["tyre"]) > 0 || len(in["roll-out"]) > 0 {
		turn, err := in.wheelTurn(&r, !s.inch)
		if err != nil {
			return Result{}, err
		}
		one, err := brakes.TurnsIn(unit.Mile, turn.way)
		if err != nil {
			return Result{}, err
		}
		perMile, turns = float64(one), float64(one)*trip.Miles()
		if passLow, err = brakes.PerPass(brakes.FeltVariation.Value, brakes.GrowthFar.Value, turn.way); err != nil {
			return Result{}, err
		}
		if passHigh, err = brakes.PerPass(brakes.FeltVariation.Value, brakes.GrowthNear.Value, turn.way); err != nil {
			return Result{}, err
		}
		r.step("%.0f turns in a mile (%.0f in a km), so the high spot goes by %.0f thousand times on the trip", perMile, perMile/1.609344, turns/1000)
		r.step("a variation that is felt, %s, over as many turns: %.1f to %.1f millionths of a micrometre each", s.fine(brakes.FeltVariation.Value), float64(passLow)*1e12, float64(passHigh)*1e12)
		r.Sources = append(r.Sources, turn.source)
	}
	grownLow, grownHigh, afterLow, afterHigh := unit.Length(nan), unit.Length(nan), unit.Length(nan), unit.Length(nan)
	back := "pulse-not-said"
	if v.Verdict == unit.Within {
		r.say("For a rotor that runs within its limit no text gives a distance. Nuts tightened evenly onto a clean hub keep it so.")
	} else {
		if grownLow, err = brakes.Grown(0, low); err != nil {
			return Result{}, err
		}
		if grownHigh, err = brakes.Grown(0, high); err != nil {
			return Result{}, err
		}
		r.step("grown on the trip, if it grows evenly: %s to %s", s.fine(grownLow), s.fine(grownHigh))
		switch {
		case v.Verdict == unit.Outside && low >= 1:
			back = "pulse-before-the-end"
			r.say("The trip is as long as it takes, by the makers' texts, for such a rotor to wear a pulse into itself: %s to %s. Cure the runout before leaving.", miles(brakes.GrowthNear.Value), miles(brakes.GrowthFar.Value))
		case high >= 1:
			back = "pulse-may-come"
			r.say("This trip is %.0f to %.0f %% of the distance after which such a rotor has usually worn a pulse into itself. It may come before the end.", low.Percent(), high.Percent())
		default:
			back = "pulse-later"
			r.say("This trip is %.0f to %.0f %% of the distance after which such a rotor has usually worn a pulse into itself. What has worn already comes on top.", low.Percent(), high.Percent())
		}
		if v.Verdict == unit.TooClose {
			r.say("Whether it runs out at all is too close to call: read it again first, with every nut at its torque.")
		}
		if haveNow {
			if afterLow, err = brakes.Grown(now, low); err != nil {
				return Result{}, err
			}
			if afterHigh, err = brakes.Grown(now, high); err != nil {
				return Result{}, err
			}
			r.say("From %s today it would come to %s to %s. Felt is about %s, %s.", s.fine(now), s.fine(afterLow), s.fine(afterHigh), s.fine(brakes.FeltVariation.Value), brakes.FeltVariation.Mark)
		}
		r.warn("It leaves out how far over the limit it is, the pads, the heat and the roads. It is a reason to put the runout right, never one to leave it.")
	}
	r.Outcomes = append(r.Outcomes, back)
	r.Values = Values{
		{Key: "trip_share_low_percent", Number: low.Percent()}, {Key: "trip_share_high_percent", Number: high.Percent()},
		{Key: "turns_per_mile", Number: perMile}, {Key: "turns", Number: turns},
		{Key: "wear_per_turn_low_pm", Number: float64(passLow) * 1e12}, {Key: "wear_per_turn_high_pm", Number: float64(passHigh) * 1e12},
		{Key: "grown_low_mm", Number: grownLow.Millimetres()}, {Key: "grown_high_mm", Number: grownHigh.Millimetres()},
		{Key: "variation_after_low_mm", Number: afterLow.Millimetres()}, {Key: "variation_after_high_mm", Number: afterHigh.Millimetres()},
	}
	r.Sources = append(r.Sources,
		sourceOf("distance", string(brakes.GrowthNear.Mark), brakes.GrowthNear.Source),
		sourceFigure(s.inch, "felt from", brakes.FeltVariation),
		sourceOf("runout limit", mark, source), sourceFigure(s.inch, "scatter of a dial", brakes.DialScatter), sourceVerdict)
	return r, nil
}

func runFelt(raw map[string][]unit.Any) (Result, error) {
	in := inputs(raw)
	s := showFor(in["variation"])
	f := shower{inch: in.customary("caliper", "master")}
	variation, _ := in.length("variation")
	bore, _ := in.length("caliper")
	pistons, err := in.someOf("pistons", 1, brakes.MostPistons, 1)
	if err != nil {
		return Result{}, err
	}
	rotors, err := in.someOf("rotors", 1, 2, 2)
	if err != nil {
		return Result{}, err
	}
	one, err := brakes.PistonArea([]unit.Length{bore})
	if err != nil {
		return Result{}, blame("caliper", err)
	}
	area := unit.Area(float64(pistons) * float64(one))
	pushed, err := brakes.PushedBack(area, variation)
	if err != nil {
		return Result{}, blame("variation", err)
	}
	all := unit.Volume(float64(rotors) * float64(pushed))
	var r Result
	r.step("fluid pushed back = %s x %s = %.1f mm3 a rotor", own(f, area), s.fine(variation), pushed.CubicMillimetres())
	nan := math.NaN()
	rod, pedal := unit.Length(nan), unit.Length(nan)
	master, haveMaster := in.length("master")
	ratio, havePedal := valueOf[unit.Ratio](in, "pedal-ratio")
	if haveMaster {
		a, err := brakes.PistonArea([]unit.Length{master})
		if err != nil {
			return Result{}, blame("master", err)
		}
		if rod, err = brakes.PedalPulse(all, a, 1); err != nil {
			return Result{}, err
		}
		r.step("master cylinder = %d x %.1f mm3 / %s = %s", rotors, pushed.CubicMillimetres(), own(f, a), f.size(rod))
		if havePedal {
			if pedal, err = brakes.PedalPulse(all, a, ratio); err != nil {
				return Result{}, blame("pedal-ratio", err)
			}
			r.step("pedal = %.4g x %s = %s", float64(ratio), f.size(rod), f.size(pedal))
			r.say("A soft foot moves by up to %s to and fro. A firm foot moves less and makes it pressure instead.", f.size(pedal))
		}
	}
	if havePedal && !haveMaster {
		if _, err := brakes.PedalPulse(all, area, ratio); err != nil {
			return Result{}, blame("pedal-ratio", err)
		}
	}
	press, torque, err := r.firmFoot(in, f, pushed, area)
	if err != nil {
		return Result{}, err
	}
	r.say("It says what the numbers would do at most. Rotors that push at different moments take it from one another, and hoses take their share.")
	r.Values = Values{
		{Key: "fluid_pushed_mm3", Number: pushed.CubicMillimetres()},
		{Key: "master_pulse_mm", Number: rod.Millimetres()},
		{Key: "pedal_pulse_mm", Number: pedal.Millimetres()},
		{Key: "pressure_pulse_kpa", Number: press.Kilopascals()},
		{Key: "torque_pulse_nm", Number: torque.NewtonMetres()},
	}
	r.Sources = []string{"pedal: conservation of volume and the law of the lever; pressure: stiffness of caliper and hose, taken as even; torque: Coulomb's law at two pads"}
	return r, nil
}

// firmFoot works out pressure and torque where the foot does not give way.
func (r *Result) firmFoot(in inputs, f shower, pushed unit.Volume, area unit.Area) (press unit.Pressure, torque unit.Torque, err error) {
	press, torque = unit.Pressure(math.NaN()), unit.Torque(math.NaN())
	taken, haveTaken := valueOf[unit.Volume](in, "fluid-taken")
	at, haveAt := valueOf[unit.Pressure](in, "at-pressure")
	mu, haveMu := valueOf[unit.Ratio](in, "friction")
	radius, haveRadius := in.length("effective-radius")
	if haveTaken != haveAt {
		name, other := "fluid-taken", "at-pressure"
		if haveAt {
			name, other = other, name
		}
		return press, torque, &InputError{name, fmt.Errorf("tells nothing without --%s: how stiff it is takes both", other)}
	}
	if haveMu {
		if _, err := brakes.TorquePulse(1, area, mu, 1); err != nil {
			return press, torque, blame("friction", err)
		}
	}
	if haveRadius {
		if _, err := brakes.TorquePulse(1, area, 1, radius); err != nil {
			return press, torque, blame("effective-radius", err)
		}
	}
	if !haveTaken {
		return press, torque, nil
	}
	if _, err := brakes.PressurePulse(pushed, taken, 1); err != nil {
		return press, torque, blame("fluid-taken", err)
	}
	if press, err = brakes.PressurePulse(pushed, taken, at); err != nil {
		return press, torque, blame("at-pressure", err)
	}
	r.step("pressure, foot held still = %.1f mm3 / %.0f mm3 x %s = %s", pushed.CubicMillimetres(), taken.CubicMillimetres(), own(f, at), amount(f, press))
	if !haveMu || !haveRadius {
		return press, torque, nil
	}
	if torque, err = brakes.TorquePulse(press, area, mu, radius); err != nil {
		return press, torque, err
	}
	r.step("torque = 2 x %.3g x %s x %s x %s = %s", float64(mu), own(f, area), own(f, press), f.size(radius), torque)
	return press, torque, nil
}

// someOf gives a count from least to most, or def where it is not given.
func (in inputs) someOf(name string, least, most, def int) (int, error) {
	n, err := in.whole(name)
	if err != nil {
		return 0, err
	}
	if len(in[name]) == 0 {
		return def, nil
	}
	if n < least || n > most {
		return 0, &InputError{name, fmt.Errorf("%d: want %d to %d", n, least, most)}
	}
	return n, nil
}

func runWorn(raw map[string][]unit.Any) (Result, error) {
	in := inputs(raw)
	energy, _ := valueOf[unit.Energy](in, "energy")
	mu, _ := valueOf[unit.Ratio](in, "friction")
	area, _ := valueOf[unit.Area](in, "pad-area")
	stops, err := in.someOf("stops", 1, 1e6, 1)
	if err != nil {
		return Result{}, err
	}
	if _, err := brakes.WornBy(energy, 1, 1); err != nil {
		return Result{}, blame("energy", err)
	}
	if _, err := brakes.WornBy(0, mu, 1); err != nil {
		return Result{}, blame("friction", err)
	}
	one, err := brakes.WornBy(energy, mu, area)
	if err != nil {
		return Result{}, blame("pad-area", err)
	}
	w, err := brakes.WornBy(unit.Energy(float64(stops)*float64(energy)), mu, area)
	if err != nil {
		return Result{}, err
	}
	perMillimetre := func(l unit.Length) float64 {
		if l == 0 {
			return math.NaN()
		}
		return float64(unit.Millimetre / l)
	}
	um := shower{inch: len(in["pad-area"]) > 0 && in["pad-area"][0].Unit == "in2"}.fine
	var r Result
	k := brakes.WearRate
	r.step("volume of one stop = %.3g mm3/MJ x %.4g MJ / %.3g = %.3g mm3", k.Value.CubicMillimetres(), energy.Joules()/1e6, float64(mu), area.Times(one.Middle).CubicMillimetres())
	r.step("off the thickness = volume / %s = %s", unit.Format(unit.KindArea, float64(area), "cm2"), um(one.Middle))
	r.step("%d stops, half to one and a half times: %s to %s", stops, um(w.Low), um(w.High))
	r.say("About %s, between %s and %s.", um(w.Middle), um(w.Low), um(w.High))
	r.say("Twice the speed is four times the energy, and a hot lining wears faster still: motorway stops and mountains wear more than their share.")
	r.warn("The rate belongs to no lining in particular. Miles left are better reckoned from what has worn so far: chock calc lining.")
	r.Values = Values{
		{Key: "worn_um", Number: w.Middle.Micrometres()}, {Key: "worn_low_um", Number: w.Low.Micrometres()}, {Key: "worn_high_um", Number: w.High.Micrometres()},
		{Key: "stops_to_1_mm", Number: perMillimetre(one.Middle)}, {Key: "stops_to_1_mm_low", Number: perMillimetre(one.High)}, {Key: "stops_to_1_mm_high", Number: perMillimetre(one.Low)},
	}
	r.Sources = []string{
		"wear in proportion to pressing force and way: Archard's law",
		fmt.Sprintf("rate: %s (%s); band: %s (%s)", k.Source, k.Mark, brakes.WearBand.Source, brakes.WearBand.Mark),
	}
	return r, nil
}
