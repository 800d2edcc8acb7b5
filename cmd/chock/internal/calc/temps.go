package calc

import (
	"errors"
	"fmt"
	"math"
	"strings"

	"chock/brakes"
	"chock/brakes/unit"
)

var wheelHeat = Calculation{
	Name:    "wheel-heat",
	Command: "temps",
	Short:   "wheel temperatures as rises over the air, left against right",
	Title:   "Heat, left against right",
	Inputs: []Input{
		{Name: "ambient", Kind: unit.KindTemperature, Say: "the air, read in the shade at the same minute"},
		{Name: "wheels", Kind: unit.KindTemperature, List: true, Say: "the same spot of each wheel: front left, front right, rear left, rear right, a hyphen for one not read"},
	},
	Limits: []Limit{
		{"front", "", []string{"front-left-hotter", "front-right-hotter", "front-too-close", "front-alike", "front-unknown"}},
		{"rear", "", []string{"rear-left-hotter", "rear-right-hotter", "rear-too-close", "rear-alike", "rear-unknown"}},
		{"hottest", "", []string{"front-left-very-hot", "front-right-very-hot", "rear-left-very-hot", "rear-right-very-hot", "none-very-hot"}},
	},
	Keys: []string{"front_left_rise_c", "front_right_rise_c", "rear_left_rise_c", "rear_right_rise_c",
		"front_left_less_right_c", "front_rise_ratio", "rear_left_less_right_c", "rear_rise_ratio"},
	run: runTemps,
}

var wheelNames = [4]string{"front left", "front right", "rear left", "rear right"}

// A warmth shows temperatures and their differences in both systems.
type warmth struct{ own, other string }

func (w warmth) change(c unit.TempChange) string {
	return unit.FormatTo(unit.KindTempChange, float64(c), w.own, 0) + " (" + unit.FormatTo(unit.KindTempChange, float64(c), w.other, 0) + ")"
}

func (w warmth) level(t unit.Temperature) string {
	return unit.FormatTo(unit.KindTemperature, float64(t), w.own, 0) + " (" + unit.FormatTo(unit.KindTemperature, float64(t), w.other, 0) + ")"
}

func runTemps(raw map[string][]unit.Any) (Result, error) {
	in := inputs(raw)
	air := unit.As[unit.Temperature](in["ambient"][0]).Value
	wheels, err := in.wheels("wheels")
	if err != nil {
		return Result{}, err
	}
	if _, err := brakes.Rise(air, air); err != nil {
		return Result{}, blame("ambient", err)
	}
	w := warmth{"F", "C"}
	if in["ambient"][0].Unit == "C" || in["ambient"][0].Unit == "K" {
		w = warmth{"C", "F"}
	}
	var r Result
	var rise [4]unit.TempChange
	var step, warm unit.TempChange
	hottest := -1
	for i, a := range wheels {
		rise[i] = unit.TempChange(math.NaN())
		if a.Missing() {
			continue
		}
		t := unit.As[unit.Temperature](a)
		step = max(step, unit.TempChange(t.Resolution))
		if rise[i], err = brakes.Rise(air, t.Value); err != nil {
			var out *brakes.OutOfRange
			if errors.As(err, &out) {
				return Result{}, &InputError{"wheels", fmt.Errorf("%s: %w", wheelNames[i], err)}
			}
			return Result{}, err
		}
		r.step("%s: %s - %s = %s over the air", wheelNames[i], w.level(t.Value), w.level(air), w.change(rise[i]))
		if hottest < 0 || rise[i] > rise[hottest] {
			hottest = i
		}
	}
	if hottest < 0 {
		return Result{}, &InputError{"wheels", fmt.Errorf("none was read")}
	}
	warm = rise[hottest]
	r.Values = Values{
		{Key: "front_left_rise_c", Number: float64(rise[0])}, {Key: "front_right_rise_c", Number: float64(rise[1])},
		{Key: "rear_left_rise_c", Number: float64(rise[2])}, {Key: "rear_right_rise_c", Number: float64(rise[3])},
	}
	for i, axle := range axles {
		if err := r.axleHeat(w, axle, rise[2*i], rise[2*i+1], warm, step); err != nil {
			return Result{}, err
		}
	}
	if warm <= brakes.HeatApartGood.Value {
		r.say("No wheel rose by more than %s: too little heat to tell wheels apart. Drive ten minutes, then read again within a minute.", w.change(brakes.HeatApartGood.Value))
	}
	if warm > brakes.VeryHot.Value {
		r.Outcomes = append(r.Outcomes, strings.ReplaceAll(wheelNames[hottest], " ", "-")+"-very-hot")
		r.say("The %s wheel rose by more than %s. After hardly braking that is a brake that holds on, whatever its partner reads: leave it standing to cool, no water. After real braking it is nothing unusual.", wheelNames[hottest], w.change(brakes.VeryHot.Value))
	} else {
		r.Outcomes = append(r.Outcomes, "none-very-hot")
	}
	r.warn("Same spot, same minute, same kind of surface on both sides: a shiny face reads far too cold beside a rusty one. Aim at the rusty edge, never the hub cap, and touch nothing.")
	f := brakes.HeatApartGood
	r.Sources = []string{
		fmt.Sprintf("wheels may differ by %s to %s, or 1.3 times the rise: %s (%s); no rule publishes a limit", w.change(f.Value), w.change(brakes.HeatApartBad.Value), f.Source, f.Mark),
		fmt.Sprintf("thermometer off by %s: %s (%s); spot off by %s of the rise: %s (%s)", w.change(brakes.ThermometerOff.Value), brakes.ThermometerOff.Source, brakes.ThermometerOff.Mark,
			share(brakes.SpotOff.Value), brakes.SpotOff.Source, brakes.SpotOff.Mark),
		"the cooler wheel may be the faulty one: trade article on infrared thermometers", sourceDoubt,
	}
	return r, nil
}

// axleHeat compares the two wheels of one axle.
func (r *Result) axleHeat(w warmth, axle string, left, right, warm, step unit.TempChange) error {
	less, ratio := Value{Key: axle + "_left_less_right_c", Number: math.NaN()}, Value{Key: axle + "_rise_ratio", Number: math.NaN()}
	defer func() { r.Values = append(r.Values, less, ratio) }()
	if math.IsNaN(float64(left)) || math.IsNaN(float64(right)) {
		r.Outcomes = append(r.Outcomes, axle+"-unknown")
		r.say("%s: not both wheels read, so nothing to compare.", capital(axle))
		return nil
	}
	h, err := brakes.CompareHeat(left, right, warm, step)
	if err != nil {
		return err
	}
	less.Number, ratio.Number = float64(h.Apart), float64(h.Ratio)
	apart := unit.TempChange(math.Abs(float64(h.Apart)))
	times := "no ratio, for one did not rise at all"
	if !math.IsInf(float64(h.Ratio), 1) {
		times = fmt.Sprintf("%.2f times the rise", float64(h.Ratio))
	}
	r.step("%s: rises %s apart, give or take %s; %s", axle, w.change(apart), w.change(unit.TempChange(brakes.Comfort.Guard())*h.Doubt), times)
	if h.Verdict == unit.NoLimit {
		r.Outcomes = append(r.Outcomes, axle+"-unknown")
		return nil
	}
	hot, cool := "left", "right"
	if h.Hotter < 0 {
		hot, cool = cool, hot
	}
	which := axle + "-" + hot + "-hotter"
	limit := fmt.Sprintf("%s to %s or %.3g times", w.change(brakes.HeatApartGood.Value), w.change(brakes.HeatApartBad.Value), float64(brakes.HeatRatioBad.Value))
	switch h.Verdict {
	case unit.Within:
		which = axle + "-alike"
		r.say("%s: left and right alike.", capital(axle))
	case unit.TooClose:
		which = axle + "-too-close"
		r.say("%s: too close to call. Let it cool, drive the same way again, and read both within a minute.", capital(axle))
	default:
		r.say("%s: the %s wheel is hotter. After hardly braking it holds on. After firm stops it may do the work of both, and the %s one too little.", capital(axle), hot, cool)
	}
	r.Outcomes = append(r.Outcomes, which)
	r.Verdicts = append(r.Verdicts, Verdict{Of: axle, Verdict: h.Verdict, Value: apart.CelsiusDegrees(), Limit: brakes.HeatApartBad.Value.CelsiusDegrees(), Good: brakes.HeatApartGood.Value.CelsiusDegrees(),
		Doubt: brakes.Comfort.Guard() * h.Doubt.CelsiusDegrees(), Unit: "C", Mark: string(brakes.HeatApartGood.Mark), Source: brakes.HeatApartGood.Source,
		Say: fmt.Sprintf("%s, left against right: %s apart, %s, limits %s, %s: %s", axle, w.change(apart), times, limit, brakes.HeatApartGood.Mark, sayHeat[h.Verdict])})
	return nil
}

// sayHeat are the words of a verdict on heat: the ratio alone may decide too.
var sayHeat = map[unit.Verdict]string{unit.Within: "alike", unit.TooClose: unit.TooClose.Say(), unit.Outside: "apart"}
