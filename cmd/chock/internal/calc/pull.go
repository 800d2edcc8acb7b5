package calc

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"chock/brakes"
	"chock/brakes/unit"
)

// word gives the one word of an input, "" where it is not known.
func (in inputs) word(name string, of ...string) (string, error) {
	if len(in[name]) == 0 {
		return "", nil
	}
	w := strings.ToLower(in[name][0].Text)
	if !slices.Contains(of, w) {
		return "", &InputError{name, fmt.Errorf("%q: want %s", in[name][0].Text, strings.Join(of, ", "))}
	}
	return w, nil
}

// typed is a reading as it was typed, with the unit that it was taken in.
func typed(a unit.Any) string {
	if bare(a) {
		return a.Text + " " + a.Unit
	}
	return a.Text
}

// bare reports whether a was typed without a unit.
func bare(a unit.Any) bool { return strings.Trim(a.Text, "0123456789., ") == "" }

func percent(r unit.Ratio) string { return unit.Format(unit.KindRatio, float64(r), "%") }

func runPull(raw map[string][]unit.Any) (Result, error) {
	in := inputs(raw)
	left, right := unit.As[unit.Force](in["left"][0]), unit.As[unit.Force](in["right"][0])
	axle, err := in.word("axle", "front", "rear")
	if err != nil {
		return Result{}, err
	}
	locked, err := in.word("locked", "left", "right", "both")
	if err != nil {
		return Result{}, err
	}
	if _, err := brakes.CompareSides(left.Value, 1); err != nil {
		return Result{}, blame("left", err)
	}
	i, err := brakes.CompareSides(left.Value, right.Value)
	if err != nil {
		return Result{}, blame("right", err)
	}
	high, low := max(left.Value, right.Value), min(left.Value, right.Value)
	strong, weak := "left", "right"
	if i.Left < 0 {
		strong, weak = "right", "left"
	}
	weakLocked := locked == "both" || locked == weak && i.Left != 0
	step := max(left.Resolution, right.Resolution)
	u := brakes.ImbalanceDoubt(left.Value, right.Value, brakes.Gauge[unit.Force]{Step: step}.Noise())

	doubt := brakes.Comfort.Guard() * u.Percent()

	var r Result
	name := in["left"][0].Unit
	show := func(f unit.Force) string {
		v, _ := unit.Of(unit.Reading[unit.Force]{Value: f}).In(name)
		return fmt.Sprintf("%.6g", v)
	}
	s := shower{inch: in.customary("left", "right")}
	r.step("left %s = %s", typed(in["left"][0]), amount(s, left.Value))
	r.step("right %s = %s", typed(in["right"][0]), amount(s, right.Value))
	r.step("over the higher: (%s - %s) / %s = %s", show(high), show(low), show(high), percent(i.OfHigher))
	if low > 0 {
		r.step("over the lower: (%s - %s) / %s = %s", show(high), show(low), show(low), percent(i.OfLower))
	} else {
		r.step("over the lower: no number, for one wheel does nothing")
	}
	r.step("over the mean: (%s - %s) / ((%s + %s) / 2) = %s", show(high), show(low), show(high), show(low), percent(i.OfMean))

	given, haveLimit := valueOf[unit.Ratio](in, "imbalance-limit")
	if haveLimit {
		if !(given > 0 && !math.IsInf(float64(given), 0)) {
			return Result{}, &InputError{"imbalance-limit", fmt.Errorf("%v is no limit: want more than 0", given)}
		}
		v, err := brakes.Judge(i.OfHigher, u, brakes.AtMost(given), brakes.Comfort)
		if err != nil {
			return Result{}, err
		}
		value, bound := unit.FormatAgainst(unit.KindRatio, float64(i.OfHigher), float64(given), "%")
		r.Verdicts = append(r.Verdicts, Verdict{Of: "imbalance", Verdict: v, Value: i.OfHigher.Percent(), Limit: given.Percent(), Good: math.NaN(),
			Doubt: doubt, Unit: "%", Mark: Given, Asked: true, Source: "given with the readings as imbalance-limit",
			Say: fmt.Sprintf("imbalance %s, limit %s over the higher, given: %s", value, bound, v.Say())})
		r.Outcomes = append(r.Outcomes, outcome(v, "over-limit", "limit-too-close", "within-limit", ""))
	} else {
		r.Outcomes = append(r.Outcomes, "limit-unknown")
	}
	for _, rule := range brakes.ImbalanceRules() {
		var v Verdict
		var say []string
		switch {
		case rule.Applies(high, axle != "rear", weakLocked):
			v, say = judgeRule(rule, i, u)
			r.Verdicts = append(r.Verdicts, v)
		case rule.Steered && axle == "rear":
			say = []string{rule.Say + ": not asked of this axle."}
		case weakLocked && rule.LockedExcused:
			say = []string{rule.Say + ": not assessed, because the weaker wheel locked."}
		default:
			say = []string{fmt.Sprintf("%s: not assessed, because the higher force is no more than %s.", rule.Say, rule.Ignored.Value)}
		}
		r.Say = append(r.Say, say...)
		r.Outcomes = append(r.Outcomes, ruleOutcomes[rule.ID][v.Verdict])
		r.Sources = append(r.Sources, fmt.Sprintf("%s: more than %s over the %s: %s (%s)", rule.Say, percent(rule.Most.Value), rule.Base, rule.Most.Source, rule.Most.Mark))
	}
	r.Values = Values{
		{Key: "imbalance_percent", Number: i.OfHigher.Percent()},
		{Key: "imbalance_percent_of_lower", Number: i.OfLower.Percent()},
		{Key: "imbalance_percent_of_mean", Number: i.OfMean.Percent()},
		{Key: "doubt_percent", Number: doubt},
		{Key: "left_less_right_n", Number: (left.Value - right.Value).Newtons()},
	}
	switch {
	case low == 0:
		r.say("The %s wheel records nothing. That alone is a dangerous defect (UK MOT inspection manual, section 1.2.1): do not drive.", weak)
	case i.Left == 0:
		r.say("Left and right brake alike.")
	default:
		r.say("It pulls to the %s, the stronger side. The weak wheel, %s, is the one to look at first.", strong, weak)
	}
	if weakLocked {
		r.say("A wheel that locks shows what its tyre holds, not what its brake can.")
	}
	if bare(in["left"][0]) || bare(in["right"][0]) {
		r.warn("A number without a unit is taken as %s. The percentage is the same in any; the line under which a tester assesses nothing is not.", name)
	}
	r.warn("Tyre pressure, a wet tyre and an uneven load spoil such readings: settle those first, then read again.")
	if len(in["axle"]) == 0 {
		r.warn("Which axle was not said: the rule for an axle that steers is taken to apply.")
	}
	r.Sources = append(r.Sources, "doubt: one step of each reading; JCGM 100:2008 (GUM), 5.1.2")
	return r, nil
}

// ruleOutcomes are the outcomes of each rule by its verdict.
var ruleOutcomes = map[string]map[unit.Verdict]string{
	"uk-major":     {unit.Outside: "uk-major", unit.Within: "uk-not-major", unit.NoLimit: "uk-major-unknown"},
	"uk-dangerous": {unit.Outside: "uk-dangerous", unit.Within: "uk-not-dangerous", unit.NoLimit: "uk-dangerous-unknown"},
	"us-in-use":    {unit.Outside: "us-broken", unit.Within: "us-kept"},
}

// judgeRule holds an imbalance against a published rule, to the letter: what
// the tester printed counts, and the very limit is let pass.
func judgeRule(rule brakes.ImbalanceRule, i brakes.Imbalance, u unit.Ratio) (v Verdict, say []string) {
	x, most := rule.Of(i), rule.Most.Value
	v = Verdict{Of: rule.ID, Verdict: unit.Within, Value: x.Percent(), Limit: most.Percent(), Good: math.NaN(), Doubt: math.NaN(),
		Unit: "%", Mark: string(rule.Most.Mark), Source: rule.Most.Source}
	if rule.Broken(i) {
		v.Verdict = unit.Outside
	}
	if math.IsInf(float64(x), 0) {
		v.Value = math.NaN()
		v.Say = fmt.Sprintf("%s: one wheel does nothing: %s", rule.Say, v.Verdict.Say())
		return v, nil
	}
	value, bound := unit.FormatAgainst(unit.KindRatio, float64(x), float64(most), "%")
	v.Say = fmt.Sprintf("%s: %s over the %s, at most %s, %s: %s", rule.Say, value, rule.Base, bound, rule.Most.Mark, v.Verdict.Say())
	if rule.Base == brakes.OverHigher && math.Abs(float64(x-most)) < brakes.Comfort.Guard()*float64(u) {
		say = []string{"One step of the tester would turn that verdict: read again."}
	}
	return v, say
}
