package calc

import (
	"fmt"
	"math"
	"slices"

	"chock/brakes"
	"chock/brakes/unit"
)

var parkHolds = Calculation{
	Name:    "park-holds",
	Command: "park",
	Short:   "what a parking brake has to hold on a grade, and what rules ask of it",
	Title:   "Parking on a grade",
	Inputs: slices.Concat(massInputs, []Input{
		{Name: "grade", Kind: unit.KindRatio, Optional: true, Say: "how steep the ground is, as 20 %"},
		{Name: "tyre-radius", Kind: unit.KindLength, Optional: true, Typed: true, Say: "from the middle of the wheel to the ground, loaded"},
		{Name: "wheels", Kind: unit.KindCount, Optional: true, Say: "how many wheels the parking brake acts on (2 if not given)"},
		{Name: "brake-force", Kind: unit.KindForce, Figure: true, Optional: true, Default: "lbf", Say: "all force of the parking brake, on a tester"},
	}),
	Limits: []Limit{
		{"hold", "brake-force", []string{"rolls", "hold-too-close", "holds", "hold-unknown"}},
		{"uk-mot", "", []string{"uk-park-major", "uk-park-not-major", "uk-park-unknown"}},
		{"uk-mot-dangerous", "", []string{"uk-park-dangerous", "uk-park-not-dangerous", "uk-danger-unknown"}},
	},
	Keys: []string{"force_n", "share_of_weight_percent", "torque_per_wheel_nm", "brake_force_percent", "steepest_percent"},
	run:  runPark,
}

func runPark(raw map[string][]unit.Any) (Result, error) {
	in := inputs(raw)
	us := in.us("mass", "front-load", "brake-force", "tyre-radius")
	nan := math.NaN()
	force, torque, held := unit.Force(nan), unit.Torque(nan), unit.Ratio(nan)
	share, efficiency := unit.Ratio(nan), unit.Ratio(nan)
	var r Result
	m, ok, err := in.massOfAll()
	if err != nil {
		return Result{}, err
	}
	if !ok {
		return Result{}, &InputError{"mass", fmt.Errorf("is needed: the weight of the vehicle")}
	}
	g, haveGrade, err := in.slopeOf("grade")
	if err != nil {
		return Result{}, err
	}
	b, haveForce := valueOf[unit.Force](in, "brake-force")
	radius, haveRadius, err := between(in, "tyre-radius", 0.1*unit.Metre, 1*unit.Metre, "4 to 39 in (0.1 to 1 m)")
	if err != nil {
		return Result{}, err
	}
	wheels, err := in.whole("wheels")
	if err != nil {
		return Result{}, err
	}
	if len(in["wheels"]) == 0 {
		wheels = 2
	}
	switch {
	case wheels < 1 || wheels > 12:
		return Result{}, &InputError{"wheels", fmt.Errorf("%d: want 1 to 12", wheels)}
	case !haveGrade && !haveForce:
		return Result{}, &InputError{"grade", fmt.Errorf("is needed, or --brake-force: there is nothing to work out")}
	case haveRadius && !haveGrade:
		return Result{}, &InputError{"tyre-radius", fmt.Errorf("serves the torque on a slope: give --grade")}
	case haveGrade && g == 0:
		return Result{}, &InputError{"grade", fmt.Errorf("on the level nothing pulls: want a slope, as 20 %%")}
	case haveForce && !(b > 0 && b <= times(0.7, m.Weight())):
		return Result{}, &InputError{"brake-force", fmt.Errorf("%s: want more than 0, and no more than 70 %% of the weight", in["brake-force"][0].Text)}
	}
	if haveGrade {
		g = unit.Ratio(math.Abs(float64(g)))
		if force, err = brakes.HoldForce(m, g); err != nil {
			return Result{}, blame("grade", err)
		}
		if share, err = brakes.PullShare(g); err != nil {
			return Result{}, blame("grade", err)
		}
		r.step("a slope of %.4g %% is %.4g in 100 of level way; the share of the weight that pulls is %.4g / sqrt(1 + %.4g²) = %s", g.Percent(), g.Percent(), float64(g), float64(g), twoPercent(share))
		r.step("force = %s x %s = %s", twoPercent(share), inTwo(us, m.Weight()), inTwo(us, force))
		if haveRadius {
			if torque, err = brakes.HoldTorque(force, radius, wheels); err != nil {
				return Result{}, blame("tyre-radius", err)
			}
			r.step("torque of each of %d wheels = %s x %s / %d = %s", wheels, inOwn(us, force), inArm(us, radius), wheels, inTwo(us, torque))
		}
		r.say("The brake has to hold %s at the ground%s.", inTwo(us, force), each(us, wheels, torque))
		r.say("The percentage of a slope is no share of the weight: %.4g %% pulls with %s of it.", g.Percent(), twoPercent(share))
		r.Sources = append(r.Sources, "pull of a slope: the weight resolved along it")
	}
	verdicts := map[string]Verdict{}
	if haveForce {
		efficiency = unit.Per(b, m.Weight())
		if held, err = brakes.SteepestHeld(b, m); err != nil {
			return Result{}, blame("brake-force", err)
		}
		r.step("brake force over weight = %s / %s = %s", inTwo(us, b), inTwo(us, m.Weight()), twoPercent(efficiency))
		r.step("steepest slope that it holds = s / sqrt(1 - s²) = %s", twoPercent(held))
		r.say("That force holds it on %s at most, while the tyres grip.", onePercent(held))
		if haveGrade {
			v, err := holdVerdict(us, in["brake-force"][0], force, b)
			if err != nil {
				return Result{}, err
			}
			verdicts["hold"] = v
		}
	}
	for _, rule := range brakes.ParkRules() {
		switch {
		case rule.Share.Known() && haveForce && (rule.ID == "uk-mot" || rule.ID == "uk-mot-dangerous"):
			v := Verdict{Of: rule.ID, Verdict: unit.Within, Value: efficiency.Percent(), Limit: rule.Share.Value.Percent(), Good: nan, Doubt: nan, Unit: "%", Mark: string(rule.Share.Mark), Source: rule.Share.Source}
			if !rule.Kept(efficiency) {
				v.Verdict = unit.Outside
			}
			value, bound := unit.FormatAgainst(unit.KindRatio, float64(efficiency), float64(rule.Share.Value), "%")
			v.Say = fmt.Sprintf("%s: %s of the weight, at least %s, %s: %s", rule.Say, value, bound, rule.Share.Mark, v.Verdict.Say())
			verdicts[rule.ID] = v
		case rule.Share.Known():
			r.Sources = append(r.Sources, fmt.Sprintf("%s asks for %s of the weight: %s (%s)", rule.Say, percent(rule.Share.Value), rule.Share.Source, rule.Share.Mark))
		default:
			r.Sources = append(r.Sources, fmt.Sprintf("%s: a slope of %s, %s: %s (%s)", rule.Say, percent(rule.Slope.Value), "facing up and down", rule.Slope.Source, rule.Slope.Mark))
		}
	}
	for _, l := range []struct{ id, bad, close, good, none string }{
		{"hold", "rolls", "hold-too-close", "holds", "hold-unknown"},
		{"uk-mot", "uk-park-major", "", "uk-park-not-major", "uk-park-unknown"},
		{"uk-mot-dangerous", "uk-park-dangerous", "", "uk-park-not-dangerous", "uk-danger-unknown"},
	} {
		v, ok := verdicts[l.id]
		if ok {
			r.Verdicts = append(r.Verdicts, v)
		}
		r.Outcomes = append(r.Outcomes, outcome(v.Verdict, l.bad, l.close, l.good, l.none))
	}
	r.say("Slopes in the list below are tests of new vehicles: none is a failure in use.")
	r.warn("A brake that holds hot may let go as it cools. Leave it in gear or in park, wheels to the kerb, a chock at a wheel.")
	r.Values = Values{
		{Key: "force_n", Number: force.Newtons()}, {Key: "share_of_weight_percent", Number: share.Percent()}, {Key: "torque_per_wheel_nm", Number: torque.NewtonMetres()},
		{Key: "brake_force_percent", Number: efficiency.Percent()}, {Key: "steepest_percent", Number: held.Percent()},
	}
	return r, nil
}

// holdVerdict holds what a slope pulls against what the brake was measured to
// hold.
func holdVerdict(us bool, read unit.Any, needed, have unit.Force) (Verdict, error) {
	u := brakes.Gauge[unit.Force]{Step: unit.As[unit.Force](read).Resolution}.Noise()
	v, err := brakes.Judge(needed, u, brakes.AtMost(have), brakes.Safety)
	if err != nil {
		return Verdict{}, err
	}
	show := func(u string) (string, string) {
		return unit.FormatAgainst(unit.KindForce, float64(needed), float64(have), u)
	}
	a, la := show("lbf")
	b, lb := show("N")
	if !us {
		a, la, b, lb = b, lb, a, la
	}
	return Verdict{Of: "hold", Verdict: v, Value: needed.Newtons(), Limit: have.Newtons(), Good: math.NaN(), Doubt: brakes.Safety.Guard() * u.Newtons(), Unit: "N",
		Mark: Given, Asked: true, Source: "given with the readings as brake-force",
		Say: fmt.Sprintf("force to hold %s (%s), brake force %s (%s), given: %s", a, b, la, lb, v.Say())}, nil
}

func each(us bool, wheels int, t unit.Torque) string {
	if math.IsNaN(float64(t)) {
		return ""
	}
	return fmt.Sprintf(", %s at each of %d wheels", inTwo(us, t), wheels)
}

func twoPercent(r unit.Ratio) string { return fmt.Sprintf("%.2f %%", r.Percent()) }
func onePercent(r unit.Ratio) string { return fmt.Sprintf("%.1f %%", r.Percent()) }

// inArm is a radius in the person's own unit, for the arithmetic.
func inArm(us bool, l unit.Length) string {
	if us {
		return fmt.Sprintf("%.3f ft", l.Feet())
	}
	return fmt.Sprintf("%.3f m", l.Metres())
}
