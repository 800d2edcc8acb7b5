package brakes

import (
	"fmt"
	"math"
	"strings"

	"chock/brakes/unit"
)

// A Fluid is a grade of brake fluid, as new fluid has to be.
type Fluid struct {
	ID       string // dot-3
	Say      string // DOT 3
	Silicone bool   // it takes up no water
	Dry      Figure[unit.Temperature]
	Wet      Figure[unit.Temperature]
}

// WetWater is the water in a fluid at its wet boiling point.
var WetWater = Figure[unit.Ratio]{
	Value:  3.7 * unit.Percent,
	Mark:   Published,
	Source: "FMVSS 116 (49 CFR 571.116), wet boiling point, as several texts repeat it alike",
	Scope:  "water that new fluid takes up when it is wetted for the test, about",
}

// Fluids lists the grades.
func Fluids() []Fluid {
	grade := func(id, say string, silicone bool, dry, wet float64) Fluid {
		const source = "FMVSS 116 (49 CFR 571.116), "
		return Fluid{ID: id, Say: say, Silicone: silicone,
			Dry: row(unit.Celsius(dry), Published, source+"S5.1.1, as several texts repeat it alike", say+", least boiling point of new fluid, dry"),
			Wet: row(unit.Celsius(wet), Published, source+"S5.1.2, as several texts repeat it alike", say+", least boiling point of new fluid that was wetted for the test")}
	}
	return []Fluid{
		grade("dot-3", "DOT 3", false, 205, 140),
		grade("dot-4", "DOT 4", false, 230, 155),
		grade("dot-5", "DOT 5", true, 260, 180),
		grade("dot-5.1", "DOT 5.1", false, 260, 180),
	}
}

// FindFluid finds a grade by its name as people write it: DOT 4, dot4, 5.1.
func FindFluid(name string) (Fluid, bool) {
	name = strings.NewReplacer(" ", "", "-", "", "_", "").Replace(strings.ToLower(name))
	name = strings.TrimPrefix(name, "dot")
	for _, f := range Fluids() {
		if name == strings.TrimPrefix(f.ID, "dot-") {
			return f, true
		}
	}
	return Fluid{}, false
}

// Boils is the least boiling point of fluid of a grade that has taken up some
// water.
//
//	T = Td (Tw/Td)^(w/3.7 %)    in °C, between dry Td and wet Tw
//
// w is 0 to 3.7 %: beyond it nothing is published, and it is refused. Between
// the two ends real fluids sag below a straight line; this curve does so too,
// by a few degrees, and passes through both. Silicone takes up no water, so it
// is refused for it: water lies there in drops and boils at 100 °C. Source:
// the two ends are those of the grade; the curve between them is our choice.
func (f Fluid) Boils(water unit.Ratio) (unit.Temperature, error) {
	if err := finite("water in the fluid", water); err != nil {
		return 0, err
	}
	if f.Silicone {
		return 0, &OutOfRange{"fluid", f.Say, "a grade that takes up water: in silicone it lies in drops and boils at 100 °C"}
	}
	if water < 0 || float64(water) > float64(WetWater.Value)*(1+1e-9) {
		return 0, &OutOfRange{"water in the fluid", percentage(water), fmt.Sprintf("0 to %s, between which the boiling points are published", percentage(WetWater.Value))}
	}
	dry, wet := f.Dry.Value.Celsius(), f.Wet.Value.Celsius()
	return unit.Celsius(dry * math.Pow(wet/dry, float64(unit.Per(water, WetWater.Value)))), nil
}

// A FluidState is what a measured boiling point says of fluid in use.
type FluidState int

// The standard is one for new fluid. None of these is a failure: it is a word
// on when to change.
const (
	FluidWet   FluidState = iota // at the wet boiling point of its grade, or hardly over it
	FluidAged                    // between
	FluidAsNew                   // at the dry one or over it
)

// Judge says what a measured boiling point of used fluid means.
//
//	wet     T <= Tw + 10 °C
//	as new  T >= Td
//	aged    between
//
// T in K, more than 0. Source: ends of the grade; that ten degrees over the
// wet end count as wet is [FluidNearWet].
func (f Fluid) Judge(boils unit.Temperature) (FluidState, error) {
	if err := above("boiling point", boils, 0); err != nil {
		return FluidWet, err
	}
	switch {
	case boils >= f.Dry.Value:
		return FluidAsNew, nil
	case boils.Above(f.Wet.Value) > FluidNearWet.Value:
		return FluidAged, nil
	}
	return FluidWet, nil
}

// JudgeMargin holds the hottest that fluid gets against where it boils.
//
//	within     Tb - T >= 20 °C
//	outside    T > Tb
//	too close  between
//
// Both in K, more than 0. Vapour comes when the pressure goes, often a minute
// after the hill, with the foot off and the heat still soaking in. Source:
// [FluidMargin].
func JudgeMargin(hottest, boils unit.Temperature) (unit.Verdict, error) {
	if err := above("temperature of the fluid", hottest, 0); err != nil {
		return unit.NoLimit, err
	}
	if err := above("boiling point", boils, 0); err != nil {
		return unit.NoLimit, err
	}
	// A millionth of a degree is rounding.
	switch m := boils.Above(hottest); {
	case m < -1e-6:
		return unit.Outside, nil
	case m >= FluidMargin.Value-1e-6:
		return unit.Within, nil
	}
	return unit.TooClose, nil
}
