package calc

import (
	"fmt"
	"math"
	"slices"

	"chock/brakes"
	"chock/brakes/unit"
)

// What the talk makes of the slip of a brake tester. The command for it is that
// of brakePull, one axle at a time.
var rollerSides = Calculation{
	Name:  "roller-sides",
	Title: "Brake forces left against right",
	Inputs: []Input{
		{Name: "force", Kind: unit.KindForce, List: true, Default: "kgf", Say: "most brake force at the front left, front right, rear left and rear right"},
	},
	Limits: []Limit{
		{"front", "", []string{"front-dangerous", "front-major", "front-alike", "front-unknown"}},
		{"rear", "", []string{"rear-major", "rear-alike", "rear-unknown"}},
	},
	Keys: []string{"front_imbalance_percent", "rear_imbalance_percent"},
	run:  runRoller,
}

// rollerRules are those that a slip is held against: the first that is broken
// counts.
var rollerRules = map[string][]struct{ rule, outcome string }{
	"front": {{"uk-dangerous", "front-dangerous"}, {"uk-major", "front-major"}},
	"rear":  {{"uk-major", "rear-major"}},
}

func runRoller(raw map[string][]unit.Any) (Result, error) {
	in := inputs(raw)
	force, err := in.wheels("force")
	if err != nil {
		return Result{}, err
	}
	s := shower{inch: in.customary("force")}
	var r Result
	for i, axle := range axles {
		left, right := force[2*i], force[2*i+1]
		if left.Missing() || right.Missing() {
			r.step("%s: not both read", axle)
			r.Outcomes = append(r.Outcomes, axle+"-unknown")
			r.Values = append(r.Values, Value{Key: axle + "_imbalance_percent", Number: math.NaN()})
			continue
		}
		outcome, err := r.roller(s, axle, left, right)
		if err != nil {
			return Result{}, err
		}
		r.Outcomes = append(r.Outcomes, outcome)
	}
	r.warn("Tyre pressure, a wet tyre and an uneven load spoil such a slip: look at those first.")
	return r, nil
}

// roller holds one axle against the rules, to the letter: the very limit is let
// pass.
func (r *Result) roller(s shower, axle string, left, right unit.Any) (string, error) {
	l, h := unit.As[unit.Force](left).Value, unit.As[unit.Force](right).Value
	if l == 0 && h == 0 {
		return "", &InputError{"force", fmt.Errorf("%s: nothing on either side; want a hyphen where a wheel was not read", axle)}
	}
	i, err := brakes.CompareSides(l, h)
	if err != nil {
		return "", blame("force", err)
	}
	strong, weak := "left", "right"
	if i.Left < 0 {
		strong, weak = "right", "left"
	}
	r.step("%s: left %s, right %s; over the higher %s", axle, amount(s, l), amount(s, h), percent(i.OfHigher))
	r.Values = append(r.Values, Value{Key: axle + "_imbalance_percent", Number: i.OfHigher.Percent()})
	result := axle + "-alike"
	for _, row := range rollerRules[axle] {
		rules := brakes.ImbalanceRules()
		rule := rules[slices.IndexFunc(rules, func(x brakes.ImbalanceRule) bool { return x.ID == row.rule })]
		if !rule.Applies(max(l, h), axle == "front", false) {
			r.say("%s: the higher force is no more than %s, and the rule (%s) looks at none so small.", capital(axle), amount(s, rule.Ignored.Value), rule.Most.Mark)
			return axle + "-unknown", nil
		}
		v, _ := judgeRule(rule, i, 0)
		value, bound := unit.FormatAgainst(unit.KindRatio, float64(i.OfHigher), float64(rule.Most.Value), "%")
		v.Of = axle
		v.Say = fmt.Sprintf("%s, left against right %s, at most %s, %s (%s): %s", axle, value, bound, rule.Most.Mark, rule.Say, v.Verdict.Say())
		r.Verdicts = append(r.Verdicts, v)
		r.Sources = append(r.Sources, fmt.Sprintf("%s: more than %s over the higher: %s (%s)", rule.Say, percent(rule.Most.Value), rule.Most.Source, rule.Most.Mark))
		if v.Verdict == unit.Outside {
			result = row.outcome
			break
		}
	}
	if result != axle+"-alike" {
		r.say("%s: it pulls to the %s, the stronger side. The weak wheel, %s, is the one to look at first.", capital(axle), strong, weak)
	}
	return result, nil
}
