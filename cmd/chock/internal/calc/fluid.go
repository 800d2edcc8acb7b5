package calc

import (
	"fmt"
	"math"
	"strings"

	"chock/brakes"
	"chock/brakes/unit"
)

var fluidBoils = Calculation{
	Name:    "fluid-boils",
	Command: "fluid",
	Short:   "where brake fluid boils, new, wet or as measured, and how near it gets",
	Title:   "Brake fluid",
	Inputs: []Input{
		{Name: "fluid", Kind: unit.KindWord, Say: "its grade: DOT 3, DOT 4, DOT 5 or DOT 5.1"},
		{Name: "water", Kind: unit.KindRatio, Optional: true, Say: "water that a tester shows in it, as 2 %"},
		{Name: "boils", Kind: unit.KindTemperature, Figure: true, Optional: true, Say: "boiling point that a tester measured, as 350 F"},
		{Name: "hottest", Kind: unit.KindTemperature, Optional: true, Say: "the hottest that it gets, measured or estimated"},
	},
	Limits: []Limit{
		{"fluid", "", []string{"fluid-wet", "fluid-aged", "fluid-as-new", "fluid-unknown"}},
		{"margin", "boils", []string{"margin-gone", "margin-thin", "margin-enough", "margin-unknown"}},
	},
	Keys: []string{"dry_c", "wet_c", "boils_c", "margin_c"},
	run:  runFluid,
}

func runFluid(raw map[string][]unit.Any) (Result, error) {
	in := inputs(raw)
	us := in.us("boils", "hottest")
	f, ok := brakes.FindFluid(in["fluid"][0].Text)
	if !ok {
		var names []string
		for _, g := range brakes.Fluids() {
			names = append(names, g.Say)
		}
		return Result{}, &InputError{"fluid", fmt.Errorf("%q: want one of %s", in["fluid"][0].Text, strings.Join(names, ", "))}
	}
	water, haveWater := valueOf[unit.Ratio](in, "water")
	boils, haveBoils, err := between(in, "boils", unit.Celsius(90), unit.Celsius(350), "194 to 662 F (90 to 350 C)")
	if err != nil {
		return Result{}, err
	}
	hottest, haveHottest, err := between(in, "hottest", unit.Celsius(-60), unit.Celsius(900), "-76 to 1650 F (-60 to 900 C)")
	if err != nil {
		return Result{}, err
	}
	var r Result
	r.step("%s, new: boils at %s or more dry, %s or more with about %.1f %% of water", f.Say, degreesTwo(us, f.Dry.Value), degreesTwo(us, f.Wet.Value), brakes.WetWater.Value.Percent())
	r.Sources = append(r.Sources, fmt.Sprintf("boiling points of %s: %s; wet S5.1.2 (%s); a standard for new fluid", f.Say, f.Dry.Source, f.Dry.Mark))
	nan := math.NaN()
	values := Values{{Key: "dry_c", Number: f.Dry.Value.Celsius()}, {Key: "wet_c", Number: f.Wet.Value.Celsius()}, {Key: "boils_c", Number: nan}, {Key: "margin_c", Number: nan}}
	state := "fluid-unknown"
	from := "" // what the boiling point rests on
	switch {
	case haveWater && haveBoils:
		return Result{}, &InputError{"water", fmt.Errorf("give --boils alone: what was measured counts before what is reckoned from water")}
	case haveBoils:
		s, err := f.Judge(boils)
		if err != nil {
			return Result{}, blame("boils", err)
		}
		from = "measured"
		state = map[brakes.FluidState]string{brakes.FluidWet: "fluid-wet", brakes.FluidAged: "fluid-aged", brakes.FluidAsNew: "fluid-as-new"}[s]
		r.step("measured: %s", degreesTwo(us, boils))
	case haveWater:
		if boils, err = f.Boils(water); err != nil {
			return Result{}, blame("water", err)
		}
		from = "reckoned from the water"
		d, w := f.Dry.Value.Celsius(), f.Wet.Value.Celsius()
		r.step("with %.4g %% of water: %.0f x (%.0f/%.0f)^(%.4g/%.1f) C = %s, at least", water.Percent(), d, w, d, water.Percent(), brakes.WetWater.Value.Percent(), degreesTwo(us, boils))
		r.Sources = append(r.Sources, "between dry and wet: a curve of our own through both ends (our estimate)")
		s, err := f.Judge(boils)
		if err != nil {
			return Result{}, err
		}
		state = map[brakes.FluidState]string{brakes.FluidWet: "fluid-wet", brakes.FluidAged: "fluid-aged", brakes.FluidAsNew: "fluid-as-new"}[s]
	case haveHottest:
		boils, from = f.Wet.Value, "of wet fluid"
		r.warn("Neither water nor boiling point was measured: it counts as wet fluid of its grade. Old fluid can be worse.")
	}
	if from != "" {
		values[2].Number = boils.Celsius()
	}
	r.Outcomes = []string{state}
	r.Say = append(r.Say, sayFluid(state)...)
	if f.Silicone {
		r.say("Silicone takes up no water: any that gets in lies in drops low down, rusts there and boils at 212 F (100 C). Never mix it with the other grades.")
	}
	margin := "margin-unknown"
	if haveHottest {
		v, err := brakes.JudgeMargin(hottest, boils)
		if err != nil {
			return Result{}, blame("hottest", err)
		}
		// Silicone itself may have room where a drop of water in it has none.
		drops := f.Silicone && !haveBoils && v == unit.Within && unit.Celsius(100).Above(hottest) < brakes.FluidMargin.Value
		good := boils.Celsius()
		if drops {
			v, good = unit.TooClose, 100
		}
		m := boils.Above(hottest)
		values[3].Number = m.CelsiusDegrees()
		r.step("margin: %s - %s = %s", degreesTwo(us, boils), degreesTwo(us, hottest), wholeDegrees(us, m))
		mark, source := Given, "given with the readings as boils"
		if !haveBoils {
			mark, source = string(f.Wet.Mark), f.Wet.Source
			if haveWater {
				mark = string(brakes.Estimate)
			}
		}
		r.Verdicts = append(r.Verdicts, Verdict{Of: "margin", Verdict: v, Value: hottest.Celsius(), Limit: boils.Celsius(), Good: good - brakes.FluidMargin.Value.CelsiusDegrees(),
			Doubt: nan, Unit: "C", Mark: mark, Asked: haveBoils, Source: source,
			Say: fmt.Sprintf("hottest %s, boils at %s, %s, %s: %s", degreesTwo(us, hottest), degreesTwo(us, boils), from, mark, v.Say())})
		margin = outcome(v, "margin-gone", "margin-thin", "margin-enough", "")
		if drops {
			r.say("The silicone has room; a drop of water in it boils at 212 F (100 C) and takes the pedal as well. Let it be bled low down, and measured.")
		} else {
			r.Say = append(r.Say, sayMargin(us, v)...)
		}
		r.Sources = append(r.Sources, sourceFigure(us, "margin", brakes.FluidMargin))
	}
	r.Outcomes = append(r.Outcomes, margin)
	if state != "fluid-unknown" {
		r.say("The boiling points are a standard for new fluid. None of this is a failure in use; it says when to change.")
	}
	if from == "" {
		r.say("Give --boils, or --water, to see where this fluid stands; and --hottest for how near it gets.")
	}
	r.warn("Only the grade on the cap or in the manual goes in, from a sealed can.")
	r.Values = values
	return r, nil
}

func sayFluid(state string) []string {
	switch state {
	case "fluid-wet":
		return []string{"Wet fluid: change all of it now, and before any long hill or tow."}
	case "fluid-aged":
		return []string{"Aged fluid: between new and wet. Plan a change."}
	case "fluid-as-new":
		return []string{"As dry as new fluid of its grade."}
	}
	return nil
}

func sayMargin(us bool, v unit.Verdict) []string {
	switch v {
	case unit.Outside:
		return []string{"It would boil. Vapour takes the pedal away, often a minute after the hill, with the foot off. Let it cool, and change the fluid before such a drive."}
	case unit.TooClose:
		return []string{fmt.Sprintf("Less than %s between them is too near. Fresh fluid, a lower gear, fewer stops.", wholeDegrees(us, brakes.FluidMargin.Value))}
	}
	return []string{"There is room, as far as both figures go. The fluid at one hot caliper may be hotter than the one that was measured."}
}

// wholeDegrees shows a difference of temperatures.
func wholeDegrees(us bool, d unit.TempChange) string {
	f, c := fmt.Sprintf("%.0f F", d.FahrenheitDegrees()), fmt.Sprintf("%.0f C", d.CelsiusDegrees())
	if us {
		return f + " (" + c + ")"
	}
	return c + " (" + f + ")"
}
