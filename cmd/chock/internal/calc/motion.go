package calc

import (
	"fmt"
	"math"
	"slices"

	"chock/brakes/unit"
)

// us reports whether the person's own units are miles, pounds and °F: those of
// the first of these inputs that was typed with a unit that tells.
func (in inputs) us(names ...string) bool {
	for _, n := range names {
		for _, a := range in[n] {
			switch {
			case slices.Contains([]string{"mph", "ft/s", "in", "thou", "ft", "mi", "lbf", "lb", "F", "hp", "ft/s2", "lb-ft", "in-lb", "Btu", "in2", "in3"}, a.Unit):
				return true
			case slices.Contains([]string{"km/h", "m/s", "mm", "cm", "m", "km", "N", "kN", "kgf", "kg", "C", "kW", "W", "m/s2", "Nm", "cm2", "L", "cc"}, a.Unit):
				return false
			}
		}
	}
	return true
}

// units are those in which a moving vehicle is shown: customary and metric.
var units = map[unit.Kind][2]string{
	unit.KindSpeed: {"mph", "km/h"}, unit.KindAcceleration: {"ft/s2", "m/s2"}, unit.KindMass: {"lb", "kg"},
	unit.KindTempChange: {"F", "C"}, unit.KindPower: {"hp", "kW"}, unit.KindEnergy: {"Btu", "kJ"}, unit.KindTorque: {"lb-ft", "Nm"},
	unit.KindForce: {"lbf", "N"}, unit.KindSpecificHeat: {"Btu/lb-F", "J/kg-K"}, unit.KindTemperature: {"F", "C"},
}

// inTwo shows an amount in both systems, the person's own first; inOwn in the
// own system alone, for the arithmetic.
func inTwo[Q ~float64](us bool, q Q) string { return inUnits(q, pairOf(us, q)) }

func inOwn[Q ~float64](us bool, q Q) string {
	a := unit.Of(unit.Reading[Q]{Value: q})
	return unit.Format(a.Kind, a.SI, pairOf(us, q)[0])
}

func pairOf[Q ~float64](us bool, q Q) [2]string {
	a := unit.Of(unit.Reading[Q]{Value: q})
	p := units[a.Kind]
	if a.Kind == unit.KindLength {
		p = [2]string{"ft", "m"}
		if math.Abs(a.SI) >= 3000 {
			p = [2]string{"mi", "km"}
		}
	}
	if !us {
		p[0], p[1] = p[1], p[0]
	}
	return p
}

func inUnits[Q ~float64](q Q, p [2]string) string {
	a := unit.Of(unit.Reading[Q]{Value: q})
	return unit.Format(a.Kind, a.SI, p[0]) + " (" + unit.Format(a.Kind, a.SI, p[1]) + ")"
}

// perSecond shows a speed as the formulas take it.
func perSecond(us bool, v unit.Speed) string {
	if us {
		return unit.Format(unit.KindSpeed, float64(v), "ft/s")
	}
	return unit.Format(unit.KindSpeed, float64(v), "m/s")
}

// bareOf is the number of q alone, in the person's own unit.
func bareOf[Q ~float64](us bool, q Q) string {
	a := unit.Of(unit.Reading[Q]{Value: q})
	v, _ := a.In(pairOf(us, q)[0])
	return fmt.Sprintf("%.1f", v)
}

// between gives the one value of an input, refused where nobody could mean it.
func between[Q ~float64](in inputs, name string, lo, hi Q, want string) (v Q, ok bool, err error) {
	if v, ok = valueOf[Q](in, name); ok && !(v >= lo && v <= hi) {
		return v, ok, &InputError{name, fmt.Errorf("%s: want %s", in[name][0].Text, want)}
	}
	return v, ok, nil
}

// Plausible ranges of what is typed. Wider than anything that is driven; what
// lies outside is a slip of the unit or of the keys.
func (in inputs) speedOf(name string) (unit.Speed, bool, error) {
	return between(in, name, 1*unit.KilometrePerHour, 400*unit.KilometrePerHour, "1 to 250 mph (400 km/h)")
}

func (in inputs) massOf(name string) (unit.Mass, bool, error) {
	return between(in, name, 100*unit.Kilogram, 100000*unit.Kilogram, "the weight of a vehicle, 220 lb to 220,000 lb (100 kg to 100 t)")
}

// slopeOf takes a slope; most say 6 for 6 %.
func (in inputs) slopeOf(name string) (unit.Ratio, bool, error) {
	v, ok := valueOf[unit.Ratio](in, name)
	if ok && !(math.Abs(float64(v)) <= 0.5) {
		return v, ok, &InputError{name, fmt.Errorf("%s: want a slope of no more than 50 %%, with its sign, as 6 %%", in[name][0].Text)}
	}
	return v, ok, nil
}

// massOfAll is the vehicle's mass, or the sum of its two axles.
func (in inputs) massOfAll() (m unit.Mass, ok bool, err error) {
	if m, ok, err = in.massOf("mass"); ok || err != nil {
		return m, ok, err
	}
	front, haveFront := valueOf[unit.Mass](in, "front-load")
	rear, haveRear := valueOf[unit.Mass](in, "rear-load")
	for _, x := range []struct {
		name string
		v    unit.Mass
		ok   bool
	}{{"front-load", front, haveFront}, {"rear-load", rear, haveRear}} {
		if x.ok && !(x.v >= 10 && x.v <= 100000) {
			return 0, false, &InputError{x.name, fmt.Errorf("%s: want the weight on an axle, 22 lb to 220,000 lb (10 kg to 100 t)", in[x.name][0].Text)}
		}
	}
	switch {
	case haveFront && haveRear:
		return front + rear, true, nil
	case haveFront:
		return 0, false, &InputError{"rear-load", fmt.Errorf("is needed beside --front-load, or --mass for the whole vehicle")}
	case haveRear:
		return 0, false, &InputError{"front-load", fmt.Errorf("is needed beside --rear-load, or --mass for the whole vehicle")}
	}
	return 0, false, nil
}

// massInputs are the inputs of [inputs.massOfAll].
var massInputs = []Input{
	{Name: "mass", Kind: unit.KindMass, Optional: true, Say: "weight of the whole vehicle as it is driven, as 5600 lb"},
	{Name: "front-load", Kind: unit.KindMass, Optional: true, Vehicle: "front-load-full", Say: "in its place: weight on the front axle"},
	{Name: "rear-load", Kind: unit.KindMass, Optional: true, Vehicle: "rear-load-full", Say: "and on the rear axle"},
}

// toTen rounds to ten degrees; a nought has no sign.
func toTen(v float64) float64 { return math.Round(v/10)*10 + 0 }

// ten shows a temperature of something imagined: to ten degrees.
func ten(us bool, t unit.Temperature) string {
	f, c := toTen(t.Fahrenheit()), toTen(t.Celsius())
	if us {
		return fmt.Sprintf("%.0f F (%.0f C)", f, c)
	}
	return fmt.Sprintf("%.0f C (%.0f F)", c, f)
}

// tenBand shows the band of one.
func tenBand(us bool, low, high unit.Temperature) string {
	f := fmt.Sprintf("%.0f to %.0f F", toTen(low.Fahrenheit()), toTen(high.Fahrenheit()))
	c := fmt.Sprintf("%.0f to %.0f C", toTen(low.Celsius()), toTen(high.Celsius()))
	if us {
		return f + " (" + c + ")"
	}
	return c + " (" + f + ")"
}
