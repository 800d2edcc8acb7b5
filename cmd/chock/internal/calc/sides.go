package calc

import (
	"fmt"
	"math"
	"strings"

	"chock/brakes"
	"chock/brakes/unit"
)

// The four wheels come in one fixed order: front left, front right, rear
// left, rear right.
var axles = [2]string{"front", "rear"}

// unsure is the word that stands for an answer that is not known.
const unsure = "unsure"

// wheels refuses a list that is not one of the four wheels.
func (in inputs) wheels(name string) ([]unit.Any, error) {
	if n := len(in[name]); n != 4 {
		return nil, &InputError{name, fmt.Errorf("%d values: want four, front left, front right, rear left, rear right", n)}
	}
	return in[name], nil
}

func runSides(raw map[string][]unit.Any) (Result, error) {
	amounts, err := inputs(raw).wheels("amount")
	if err != nil {
		return Result{}, err
	}
	known := func(a unit.Any) bool { return a.Text != unsure }
	for i, a := range amounts {
		if known(a) && !(a.SI >= 0 && !math.IsInf(a.SI, 0)) {
			return Result{}, &InputError{"amount", fmt.Errorf("%q has no place in the order of the answers", a.Text)}
		}
		// Words without their ranks would all be alike.
		for _, b := range amounts[:i] {
			if known(a) && known(b) && (a.Text == b.Text) != (a.SI == b.SI) {
				return Result{}, &InputError{"amount", fmt.Errorf("%q and %q do not keep to one order", b.Text, a.Text)}
			}
		}
	}
	var r Result
	for i, axle := range axles {
		left, right := amounts[2*i], amounts[2*i+1]
		more, steps := "alike", right.SI-left.SI
		pair := fmt.Sprintf("left %s, right %s", plain(left), plain(right))
		switch {
		case !known(left) || !known(right):
			more, steps = "unknown", math.NaN()
			r.say("%s: %s. Nothing to compare.", capital(axle), pair)
		case steps > 0:
			more = "left-more"
			r.say("%s: %s. More on the left.", capital(axle), pair)
		case steps < 0:
			more = "right-more"
			r.say("%s: %s. More on the right.", capital(axle), pair)
		default:
			r.say("%s: both %s. Alike.", capital(axle), plain(left))
		}
		r.step("%s: %s", axle, pair)
		r.Outcomes = append(r.Outcomes, axle+"-"+more)
		r.Values = append(r.Values, Value{Key: axle + "_left_over_right_answers", Number: steps})
	}
	r.Sources = []string{"a wheel is compared with its partner across the axle: common practice"}
	return r, nil
}

func plain(a unit.Any) string {
	if a.Text == unsure {
		return "not known"
	}
	return strings.ReplaceAll(a.Text, "-", " ")
}

func runLiningSides(raw map[string][]unit.Any) (Result, error) {
	in := inputs(raw)
	inner, err := in.wheels("inner")
	if err != nil {
		return Result{}, err
	}
	outer, err := in.wheels("outer")
	if err != nil {
		return Result{}, err
	}
	s := showRule(append(inner[:4:4], outer...))
	// At each wheel the thinner of its two pads. Where one of them was not
	// measured, which is the thinner is not known.
	var thin [4]lining
	for i := range thin {
		thin[i].missing = true
		if inner[i].Missing() || outer[i].Missing() {
			continue
		}
		l, _, err := thinner(inner[i], outer[i])
		if err != nil {
			return Result{}, err
		}
		thin[i] = l
	}
	var r Result
	for i, axle := range axles {
		left, right := thin[2*i], thin[2*i+1]
		key := axle + "_left_less_right_mm"
		if left.missing || right.missing {
			r.Outcomes = append(r.Outcomes, axle+"-unknown")
			r.Values = append(r.Values, Value{Key: key, Number: math.NaN()})
			r.step("%s: not measured at both wheels", axle)
			r.say("%s: not both pads of both wheels measured, so nothing to compare.", capital(axle))
			continue
		}
		apart := left.thick - right.thick
		r.step("%s, thinner pad: left %s, right %s; left less right = %s", axle, s.size(left.thick), s.size(right.thick), s.size(apart))
		var more Result // what would settle it, said after the axle's own line
		v, err := more.holdPads(s, pads(axle, axle+", left against right", apart, left.doubt, right.doubt), left)
		if err != nil {
			return Result{}, err
		}
		which := axle + "-alike"
		switch {
		case v.Verdict == unit.TooClose:
			which = axle + "-unknown"
			r.say("%s: too close to call. Measure both wheels again at the thinnest place, as finely as you can.", capital(axle))
			r.Say = append(r.Say, more.Say...)
		case v.Verdict == unit.Outside && apart < 0:
			which = axle + "-left-thin"
			r.say("%s: the left wears faster, or the right does less than its share.", capital(axle))
		case v.Verdict == unit.Outside:
			which = axle + "-right-thin"
			r.say("%s: the right wears faster, or the left does less than its share.", capital(axle))
		default:
			r.say("%s: left and right wear alike.", capital(axle))
		}
		r.Outcomes = append(r.Outcomes, which)
		r.Verdicts = append(r.Verdicts, v)
		r.Values = append(r.Values, Value{Key: key, Number: apart.Millimetres()})
	}
	r.Sources = []string{sourcePads(s.inch), sourceRule(s.inch), sourceDoubt, sourceVerdict}
	return r, nil
}

func runBores(raw map[string][]unit.Any) (Result, error) {
	in := inputs(raw)
	left, _ := in.length("left")
	right, _ := in.length("right")
	if _, err := brakes.AreaRatio(left, left); err != nil {
		return Result{}, blame("left", err)
	}
	s := showFor(append(in["left"][:1:1], in["right"]...))
	ratio, err := brakes.AreaRatio(right, left)
	if err != nil {
		return Result{}, blame("right", err)
	}
	uneven, err := brakes.CompareSides(unit.Circle(left), unit.Circle(right))
	if err != nil {
		return Result{}, err
	}
	apart := unit.Length(math.Abs(float64(left - right)))
	var r Result
	own, _ := s.large()
	r.step("left over right: (%s / %s)² = %.2f %%", bareNumber(left, own), bareNumber(right, own), ratio.Percent())
	v, err := s.hold(held{of: "bores", what: "bores differ by", bound: "limit", shown: apart, judged: apart,
		limit: brakes.AtMost(brakes.BoresApart.Value), kind: brakes.Comfort, mark: string(brakes.BoresApart.Mark), source: brakes.BoresApart.Source})
	if err != nil {
		return Result{}, err
	}
	strong, weak, force := "left", "right", ratio
	if uneven.Left < 0 {
		strong, weak, force = "right", "left", 1/ratio
	}
	switch {
	case v.Verdict != unit.Within:
		r.say("At one pressure the %s cylinder pushes %.0f %% of what the %s one does. That alone is an imbalance of %.0f %%, over the higher.",
			strong, force.Percent(), weak, uneven.OfHigher.Percent())
		r.say("Both cylinders of an axle have to be one size, and the one that the maker names.")
	case uneven.Left == 0:
		r.say("One size: both push alike.")
	default:
		r.say("Alike in force, within %.1f %%. A cup of one size still leaks in a bore of the other: read both castings again.", uneven.OfHigher.Percent())
	}
	r.Verdicts = []Verdict{v}
	r.Outcomes = []string{outcome(v.Verdict, "bores-unequal", "bores-unequal", "bores-alike", "")}
	r.Values = Values{
		{Key: "left_over_right_percent", Number: ratio.Percent()},
		{Key: "imbalance_percent", Number: uneven.OfHigher.Percent()},
	}
	r.Sources = []string{
		"force of a piston: pressure times area, Pascal's law",
		sourceFigure(s.inch, "bores of one size differ by no more than", brakes.BoresApart),
	}
	return r, nil
}
