package unit

import (
	"math"
	"strconv"
)

// Format gives one number and its unit, with the digits that suit the unit:
// "0.102 mm", "4.0 thou", "206.8 kPa". A small number gets digits enough that
// two of them count. With a unit that kind does not have, the unit is chosen
// to fit, so that what is shown is true.
//
// Next to a limit use [FormatAgainst], which never rounds across it.
func Format(kind Kind, si float64, unit string) string {
	t := tableOf(kind)
	if t == nil {
		return ""
	}
	s := t.named(unit)
	if s == nil {
		s, _ = t.pair(si)
	}
	v := s.to(si)
	if size := math.Abs(v); t.coarse() && size >= 1e4 && !math.IsInf(size, 0) {
		last := math.Pow(10, math.Floor(math.Log10(size))-3)
		v = math.Round(v/last) * last
	}
	return s.text(v, t.places(s, v))
}

// FormatTo is [Format] with so many digits after the point: fewer than usual,
// where the number came off a coarse gauge.
func FormatTo(kind Kind, si float64, unit string, digits int) string {
	t := tableOf(kind)
	if t == nil {
		return ""
	}
	s := t.named(unit)
	if s == nil {
		s, _ = t.pair(si)
	}
	return s.text(s.to(si), digits)
}

// FormatAgainst gives a value and the limit it is held against, with the same
// digits, as many as it takes for the two to print in their true order.
func FormatAgainst(kind Kind, si, limit float64, unit string) (value, bound string) {
	t := tableOf(kind)
	if t == nil {
		return "", ""
	}
	s := t.named(unit)
	if s == nil {
		s, _ = t.pair(limit)
	}
	return s.apart(s.to(si), s.to(limit), max(t.places(s, s.to(si)), t.places(s, s.to(limit))))
}

// FormatAgainstTo is [FormatAgainst] that begins with so many digits.
func FormatAgainstTo(kind Kind, si, limit float64, unit string, digits int) (value, bound string) {
	t := tableOf(kind)
	if t == nil {
		return "", ""
	}
	s := t.named(unit)
	if s == nil {
		s, _ = t.pair(limit)
	}
	return s.apart(s.to(si), s.to(limit), digits)
}

// apart prints two numbers with the same digits, n or as many more as it
// takes for the two to stand in their true order.
func (s *scale) apart(v, l float64, n int) (value, bound string) {
	// A difference in the last bits of a sum is none that a gauge could show.
	if math.Abs(v-l) <= 1e-9*math.Abs(l) {
		return s.text(l, n), s.text(l, n)
	}
	for ; n < 12 && v != l && number64(v, n) == number64(l, n); n++ {
	}
	return s.text(v, n), s.text(l, n)
}

// Both gives a in both systems, for the echo: "0.102 mm (4.0 thou)". No digit
// that was typed is lost. A quantity that has one system is given in that.
func (a Any) Both() string {
	switch {
	case a.Kind == KindWord:
		return a.Text
	case a.Missing():
		return "missing"
	}
	t := tableOf(a.Kind)
	if t == nil {
		return ""
	}
	first, second := t.pair(a.SI)
	if s := t.named(a.Unit); s != nil && a.Unit != "" && t.kind != KindLength {
		// Answer a person in the unit they used.
		if second != nil && s.customary() {
			second = s
		} else {
			first = s
		}
	}
	if first == second {
		second = nil
	}
	text := t.echo(first, a)
	if second != nil {
		text += " (" + t.echo(second, a) + ")"
	}
	return text
}

// echo prints a with the digits of the unit, or with as many as were typed.
func (t *table) echo(s *scale, a Any) string {
	v := s.to(a.SI)
	n := t.places(s, v)
	if a.Resolution > 0 {
		if fine := int(math.Floor(-math.Log10(a.Resolution/s.size()) + 1e-9)); fine > n {
			n = min(fine, 9)
		}
	}
	return s.text(v, n)
}

// places is how many digits after the point show v well in this unit.
func (t *table) places(s *scale, v float64) int {
	n := s.digits
	if t == &counts || v == 0 && !t.coarse() || math.IsNaN(v) || math.IsInf(v, 0) {
		return n
	}
	size := math.Abs(v)
	if t.kind == KindArea && size > 0 {
		// Four digits that count: areas stand in the middle of a reckoning.
		return min(max(3-int(math.Floor(math.Log10(size))), 0), 4)
	}
	// Two digits that count, where the usual number of them shows fewer. What
	// would need more than nine places is nothing that anybody measures.
	if size > 0 {
		two := 1 - int(math.Floor(math.Log10(size)))
		if n < two && two <= 9 && s.zero == 0 && size < 0.95*math.Pow(10, float64(1-n)) {
			return two
		}
	}
	if t.coarse() {
		shift := math.Pow(10, float64(n))
		if x := math.Round(size*shift) / shift; size >= 1000 || x == math.Trunc(x) {
			return 0
		}
	}
	return n
}

// coarse reports whether such amounts are known to four digits at best: those
// after the point are left out where they are noughts, and from 1000 on.
func (t *table) coarse() bool {
	switch t.kind {
	case KindPressure, KindForce, KindMass, KindSpeed, KindTorque, KindEnergy, KindTime:
		return true
	}
	return false
}

func (s *scale) text(v float64, places int) string {
	return s.label(number64(v, places))
}

// number64 prints v, never as a negative zero.
func number64(v float64, places int) string {
	text := strconv.FormatFloat(v, 'f', places, 64)
	if text[0] == '-' {
		for i := 1; i < len(text); i++ {
			if c := text[i]; c != '0' && c != '.' {
				return text
			}
		}
		return text[1:]
	}
	return text
}

// customary reports whether the unit belongs to the inch-pound side.
func (s *scale) customary() bool {
	switch s.name {
	case "in", "thou", "ft", "mi", "in2", "in3", "psi", "inHg", "lbf", "lb", "F",
		"mph", "ft/s", "lb-ft", "in-lb", "ft/s2", "ft-lb", "hp", "Btu", "Btu/lb-F", "lb/in3":
		return true
	}
	return s == &accelerations.scales[1] // g stands beside m/s2; the gram is metric
}

// pair chooses the units in which an amount is shown; second is nil where one
// system serves everybody.
func (t *table) pair(si float64) (first, second *scale) {
	one, two := t.pairNames(math.Abs(si))
	return t.named(one), t.named2(two)
}

func (t *table) named2(unit string) *scale {
	if unit == "" {
		return nil
	}
	return t.named(unit)
}

func (t *table) pairNames(size float64) (first, second string) {
	switch t.kind {
	case KindLength:
		switch {
		case size < 0.1*inch:
			return "mm", "thou"
		case size < 2:
			return "mm", "in"
		case size < 2000:
			return "m", "ft"
		}
		return "km", "mi"
	case KindArea:
		if size >= 0.1 {
			return "m2", "in2"
		}
		return "mm2", "in2"
	case KindVolume:
		if size >= 1e-3 {
			return "L", "in3"
		}
		return "cc", "in3"
	case KindPressure:
		return "kPa", "psi"
	case KindForce:
		return "N", "lbf"
	case KindMass:
		return "kg", "lb"
	case KindTemperature, KindTempChange:
		return "C", "F"
	case KindAngle:
		return "deg", ""
	case KindSpeed:
		return "km/h", "mph"
	case KindTorque:
		if size < 5 {
			return "Nm", "in-lb"
		}
		return "Nm", "lb-ft"
	case KindAcceleration:
		return "m/s2", "g"
	case KindEnergy:
		if size < 1000 {
			return "J", "ft-lb"
		}
		return "kJ", "ft-lb"
	case KindPower:
		return "kW", "hp"
	case KindFrequency:
		return "Hz", ""
	case KindTime:
		switch {
		case size >= 2*3600:
			return "h", ""
		case size >= 2*60:
			return "min", ""
		}
		return "s", ""
	case KindSpecificHeat:
		return "J/kg-K", "Btu/lb-F"
	case KindDensity:
		return "kg/m3", "lb/in3"
	case KindConductivity:
		return "W/m-K", ""
	case KindHeatTransfer:
		return "W/m2-K", ""
	}
	return "", ""
}

func both[Q ~float64](q Q) string { return Any{Kind: kindOf[Q](), SI: float64(q)}.show() }

// show is Both for a number that nobody typed: NaN is shown as such.
func (a Any) show() string {
	if math.IsNaN(a.SI) {
		return "not a number"
	}
	return a.Both()
}

// String gives a quantity in both systems, with fixed digits, for messages.

func (l Length) String() string       { return both(l) }
func (a Area) String() string         { return both(a) }
func (v Volume) String() string       { return both(v) }
func (p Pressure) String() string     { return both(p) }
func (f Force) String() string        { return both(f) }
func (m Mass) String() string         { return both(m) }
func (t Temperature) String() string  { return both(t) }
func (c TempChange) String() string   { return both(c) }
func (a Angle) String() string        { return both(a) }
func (s Speed) String() string        { return both(s) }
func (t Torque) String() string       { return both(t) }
func (a Acceleration) String() string { return both(a) }
func (e Energy) String() string       { return both(e) }
func (p Power) String() string        { return both(p) }
func (f Frequency) String() string    { return both(f) }
func (t Time) String() string         { return both(t) }
func (c SpecificHeat) String() string { return both(c) }
func (d Density) String() string      { return both(d) }
func (k Conductivity) String() string { return both(k) }
func (h HeatTransfer) String() string { return both(h) }
func (r Ratio) String() string        { return both(r) }
func (c Count) String() string        { return both(c) }
