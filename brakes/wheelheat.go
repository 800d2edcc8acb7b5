package brakes

import (
	"math"

	"chock/brakes/unit"
)

const heatTexts = "the range in training texts on wheel temperatures, years not kept (brands withheld): within 20 to 30 F is usual, 100 F more is a brake that drags"

// How far the rise of two wheels of an axle may differ.
var (
	HeatApartGood = Figure[unit.TempChange]{
		Value:  15 * unit.CelsiusDegree,
		Mark:   Estimate,
		Source: "our choice from " + heatTexts,
		Scope:  "wheels of one axle after a drive, rises over the air; also the least rise from which there is something to compare; a thermometer maker's manual would already look at 3 C (5 F)",
	}
	HeatApartBad = Figure[unit.TempChange]{
		Value:  50 * unit.CelsiusDegree,
		Mark:   Estimate,
		Source: "our choice from " + heatTexts,
		Scope:  "wheels of one axle after a drive, rises over the air",
	}
	HeatRatioBad = Figure[unit.Ratio]{
		Value:  1.3,
		Mark:   Estimate,
		Source: "our choice: a weak brake may never get 50 C (90 F) apart",
		Scope:  "the hotter wheel's rise over its partner's, where they differ by more than is usual",
	}
)

// VeryHot is a rise that hardly braking does not make.
var VeryHot = Figure[unit.TempChange]{
	Value:  200 * unit.CelsiusDegree,
	Mark:   Estimate,
	Source: "our choice: training texts have 200 to 400 F for rotors in town",
	Scope:  "rise of one wheel's brake after a drive with hardly any braking; after real braking it is nothing unusual",
}

// How well a wheel's rise is known.
var (
	ThermometerOff = Figure[unit.TempChange]{
		Value:  2 * unit.CelsiusDegree,
		Mark:   Memory,
		Source: "data sheets of pocket infrared thermometers, not read again: 2 C or 2 % off",
		Scope:  "one temperature of a wheel: plus or minus this",
	}
	SpotOff = Figure[unit.Ratio]{
		Value:  0.05,
		Mark:   Estimate,
		Source: "our choice: another spot, half a minute later, rust a little redder",
		Scope:  "rise of a wheel: plus or minus this; a shiny face against a rusty one is off by more than half, for emissivity is 0.2 for bare cast iron and 0.6 to 0.95 for rusty (thermometer maker's manual)",
	}
)

// A Heat is the two wheels of an axle held against each other.
type Heat struct {
	Left, Right unit.TempChange // rises over the air
	Apart       unit.TempChange // left less right
	Doubt       unit.TempChange // of Apart, standard uncertainty
	Ratio       unit.Ratio      // the larger rise over the smaller; infinite where that is 0
	Hotter      int             // 1 the left, -1 the right, 0 neither for certain
	Verdict     unit.Verdict    // Within: alike; Outside: one is hotter; TooClose: in between; NoLimit: nothing is warm enough
}

// Rise is how far a wheel lies above the air.
//
//	r = t - air
//
// A reading may lie below the air by what both readings may be off together,
// and counts as none then; further below, one of the two was read wrong. Temperatures in
// K, more than 0. Source: definition.
func Rise(air, wheel unit.Temperature) (unit.TempChange, error) {
	for _, t := range []struct {
		what string
		t    unit.Temperature
	}{{"air", air}, {"wheel", wheel}} {
		if err := above(t.what+" temperature", t.t, 0); err != nil {
			return 0, err
		}
	}
	r := wheel.Above(air)
	if r < -2*ThermometerOff.Value {
		return 0, &OutOfRange{"wheel temperature", wheel.String(), "no less than the air, " + air.String() + "; was the air read in the shade?"}
	}
	return max(0, r), nil
}

// CompareHeat holds the rises of an axle's two wheels against each other, the
// larger R and the smaller r.
//
//	hotter   R - r - 50 C > G, or R - r - 15 C > G and R - 1.3 r > G'
//	alike    15 C - (R - r) >= G, or R - r <= G and G <= 50 C
//
// and between, too close to call. G and G' are 1.64 standard uncertainties of
// what stands before them, that of one rise being
//
//	u² = e²/3 + (k r)²/3 + q²/12    e [ThermometerOff], k [SpotOff], q step
//
// warm is the largest rise of all wheels that were read: while it is no more
// than 15 C there is nothing to compare. The figures are [HeatApartGood],
// [HeatApartBad] and [HeatRatioBad]. Rises and q are 0 or more. Rises count and
// not temperatures, because the warmth of the air would make every ratio small.
// Source: our choice; that side differences are usual, and that the cooler
// wheel may be the faulty one, is in a trade article on infrared thermometers.
func CompareHeat(left, right, warm, step unit.TempChange) (Heat, error) {
	for _, r := range []unit.TempChange{left, right, warm} {
		if err := notNegative("rise", r); err != nil {
			return Heat{}, err
		}
	}
	if err := notNegative("step of the thermometer", step); err != nil {
		return Heat{}, err
	}
	u := func(r unit.TempChange) float64 {
		g := Gauge[unit.TempChange]{Step: step, Error: unit.TempChange(math.Hypot(float64(ThermometerOff.Value), float64(SpotOff.Value)*float64(r)))}
		return float64(g.Doubt(0))
	}
	doubt := func(a, b float64) unit.TempChange { return unit.TempChange(math.Hypot(a, b)) }
	big, small := max(left, right), min(left, right)
	h := Heat{Left: left, Right: right, Apart: left - right, Doubt: doubt(u(big), u(small)), Ratio: 1}
	if big > 0 {
		h.Ratio = unit.Per(big, small)
	}
	if max(warm, big) <= HeatApartGood.Value {
		return h, nil
	}
	beyond := func(excess, u unit.TempChange) bool { return excess > times(Comfort.Guard(), u) }
	apart, worst := big-small, float64(HeatRatioBad.Value)
	switch {
	case beyond(apart-HeatApartBad.Value, h.Doubt),
		beyond(apart-HeatApartGood.Value, h.Doubt) && beyond(big-times(worst, small), doubt(u(big), worst*u(small))):
		h.Verdict, h.Hotter = unit.Outside, 1
		if right > left {
			h.Hotter = -1
		}
	case !beyond(apart, h.Doubt) && times(Comfort.Guard(), h.Doubt) <= HeatApartBad.Value, // a doubt that hides a bad brake says nothing
		apart+times(Comfort.Guard(), h.Doubt) <= HeatApartGood.Value:
		h.Verdict = unit.Within
	default:
		h.Verdict = unit.TooClose
	}
	return h, nil
}
