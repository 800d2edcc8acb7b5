package unit

import (
	"math"
	"math/big"
	"math/bits"
	"strings"
)

// A scale is one unit of a quantity. Its size is an exact fraction, so that
// equal amounts typed in different units become the same float64, bit for bit.
type scale struct {
	name     string   // as printed
	num, den uint64   // SI amount of one unit, in lowest terms
	also     []string // as typed, lower case; the printed name is always known
	zero     int64    // hundredths of a unit between absolute zero and this scale's
	ruled    bool     // marked in binary fractions, as a steel rule is
	digits   int      // after the point, when printed
}

// A table is what one kind of quantity can be typed in, SI-like units first.
type table struct {
	kind    Kind
	name    string // in words
	example string
	whole   bool // counts only
	scales  []scale
}

// A turn is 2π. The fraction used is 8958937768937/2851718461558, a convergent
// of π that is right to 3 parts in 10²⁷, far finer than a float64.
//
// The slices below hold constants only, so they cost nothing at start-up.
// psi, lbf, lb-ft, in-lb and hp follow from the pound, the inch and standard
// gravity (see the constants); a test multiplies them out again.
var (
	lengths = table{KindLength, "length", "0.004 in or 0.1 mm", false, []scale{
		{"mm", 1, 1000, []string{"millimetre", "millimetres", "millimeter", "millimeters"}, 0, false, 3},
		{"um", 1, 1000000, []string{"micron", "microns", "micrometre", "micrometres", "micrometer", "micrometers"}, 0, false, 1},
		{"cm", 1, 100, []string{"centimetre", "centimetres", "centimeter", "centimeters"}, 0, false, 2},
		{"m", 1, 1, []string{"metre", "metres", "meter", "meters"}, 0, false, 2},
		{"km", 1000, 1, []string{"kilometre", "kilometres", "kilometer", "kilometers"}, 0, false, 1},
		{"in", 127, 5000, []string{`"`, "inch", "inches", "ins"}, 0, true, 4},
		{"thou", 127, 5000000, []string{"thous", "thousandth", "thousandths", "thousandths-of-an-inch"}, 0, false, 1},
		{"ft", 381, 1250, []string{"'", "foot", "feet"}, 0, true, 1},
		{"mi", 201168, 125, []string{"mile", "miles"}, 0, true, 1},
	}}
	areas = table{KindArea, "area", "4370 mm2 or 6.8 in2", false, []scale{
		{"mm2", 1, 1000000, []string{"sq-mm"}, 0, false, 0},
		{"cm2", 1, 10000, []string{"sq-cm"}, 0, false, 2},
		{"m2", 1, 1, []string{"sq-m"}, 0, false, 3},
		{"in2", 16129, 25000000, []string{"sq-in", "square-inch", "square-inches"}, 0, false, 3},
	}}
	volumes = table{KindVolume, "volume", "3 cc or 0.2 in3", false, []scale{
		{"cc", 1, 1000000, []string{"cm3", "ccm"}, 0, false, 2},
		{"mL", 1, 1000000, []string{"millilitre", "millilitres", "milliliter", "milliliters"}, 0, false, 2},
		{"L", 1, 1000, []string{"litre", "litres", "liter", "liters"}, 0, false, 3},
		{"mm3", 1, 1000000000, nil, 0, false, 0},
		{"in3", 2048383, 125000000000, []string{"cu-in", "cubic-inch", "cubic-inches", "ci"}, 0, false, 3},
	}}
	pressures = table{KindPressure, "pressure", "30 psi or 200 kPa", false, []scale{
		{"kPa", 1000, 1, nil, 0, false, 1},
		{"bar", 100000, 1, []string{"bars"}, 0, false, 2},
		{"MPa", 1000000, 1, nil, 0, false, 2},
		{"Pa", 1, 1, nil, 0, false, 0},
		{"psi", 8896443230521, 1290320000, []string{"psig", "lb/in2", "lbf/in2", "lbs/in2", "lb/sq-in"}, 0, false, 1},
		// Nobody reads a brake's vacuum in inches of anything but mercury.
		{"inHg", 3386388640341, 1000000000, []string{"in", "inch", "inches", `"`, "ins", "in-hg", `"hg`, `"-hg`, "inches-hg", "inch-hg", "inches-of-mercury", "inches-mercury", "in-vacuum", "inches-vacuum", "inches-of-vacuum", `"-vacuum`}, 0, false, 1},
		{"kgf/cm2", 196133, 2, []string{"kg/cm2", "kp/cm2"}, 0, false, 2},
	}}
	forces = table{KindForce, "force", "45 lb or 200 N", false, []scale{
		{"N", 1, 1, []string{"newton", "newtons"}, 0, false, 0},
		{"kN", 1000, 1, []string{"kilonewton", "kilonewtons"}, 0, false, 2},
		{"kgf", 196133, 20000, []string{"kg", "kp", "kgs"}, 0, false, 1},
		{"lbf", 8896443230521, 2000000000000, []string{"lb", "lbs", "lbsf", "pound", "pounds", "pound-force", "pounds-force"}, 0, false, 1},
	}}
	masses = table{KindMass, "mass", "5600 lb or 2500 kg", false, []scale{
		{"kg", 1, 1, []string{"kgs", "kilo", "kilos", "kilogram", "kilograms"}, 0, false, 1},
		{"g", 1, 1000, []string{"gram", "grams"}, 0, false, 0},
		{"lb", 45359237, 100000000, []string{"lbs", "lbm", "pound", "pounds"}, 0, false, 1},
	}}
	temperatures = table{KindTemperature, "temperature", "300 F or 150 C", false, []scale{
		{"C", 1, 1, []string{"degc", "deg-c", "celsius", "centigrade", "deg-celsius"}, 27315, false, 0},
		{"F", 5, 9, []string{"degf", "deg-f", "fahrenheit", "deg-fahrenheit"}, 45967, false, 0},
		{"K", 1, 1, []string{"kelvin", "kelvins"}, 0, false, 0},
	}}
	tempChanges = table{KindTempChange, "temperature change", "40 F or 20 C", false, []scale{
		{"C", 1, 1, []string{"degc", "deg-c", "celsius", "centigrade", "deg-celsius"}, 0, false, 0},
		{"F", 5, 9, []string{"degf", "deg-f", "fahrenheit", "deg-fahrenheit"}, 0, false, 0},
		{"K", 1, 1, []string{"kelvin", "kelvins"}, 0, false, 0},
	}}
	angles = table{KindAngle, "angle", "45 deg or 1/4 turn", false, []scale{
		{"deg", 8958937768937, 513309323080440, []string{"degree", "degrees", "degs"}, 0, false, 1},
		{"rad", 1, 1, []string{"radian", "radians"}, 0, false, 4},
		{"turn", 8958937768937, 1425859230779, []string{"turns", "rev", "revs", "revolution", "revolutions"}, 0, true, 3},
	}}
	speeds = table{KindSpeed, "speed", "60 mph or 100 km/h", false, []scale{
		{"km/h", 5, 18, []string{"kph", "kmh", "kmph", "km/hr"}, 0, false, 1},
		{"m/s", 1, 1, nil, 0, false, 2},
		{"mph", 1397, 3125, []string{"mi/h", "mile/h", "miles/hour", "miles-per-hour"}, 0, false, 1},
		{"ft/s", 381, 1250, []string{"fps", "ft/sec"}, 0, false, 1},
	}}
	torques = table{KindTorque, "torque", "100 lb-ft or 135 Nm", false, []scale{
		{"Nm", 1, 1, []string{"n-m", "newton-metre", "newton-metres", "newton-meter", "newton-meters"}, 0, false, 1},
		{"lb-ft", 3389544870828501, 2500000000000000, []string{"ft-lb", "ft-lbs", "lbs-ft", "lbf-ft", "ft-lbf", "ftlb", "ftlbs", "lbft", "ft/lb", "ft/lbs", "lb/ft", "lbs/ft", "foot-pound", "foot-pounds", "foot-lb", "foot-lbs", "pound-foot", "pound-feet"}, 0, false, 1},
		{"in-lb", 1129848290276167, 10000000000000000, []string{"lb-in", "in-lbs", "lbs-in", "lbf-in", "in-lbf", "inlb", "inlbs", "lbin", "in/lb", "in/lbs", "inch-pound", "inch-pounds", "inch-lb", "inch-lbs", "pound-inch"}, 0, false, 1},
		{"kgf-m", 196133, 20000, []string{"kg-m", "m-kg", "mkg", "kgm", "kp-m"}, 0, false, 2},
	}}
	accelerations = table{KindAcceleration, "acceleration", "20 ft/s2 or 0.6 g", false, []scale{
		{"m/s2", 1, 1, []string{"m/s/s"}, 0, false, 2},
		{"g", 196133, 20000, []string{"gee", "gees", "gs"}, 0, false, 3},
		{"ft/s2", 381, 1250, []string{"ft/s/s", "ft/sec2", "fps2", "fpsps"}, 0, false, 1},
	}}
	energies = table{KindEnergy, "energy", "900 kJ", false, []scale{
		{"kJ", 1000, 1, nil, 0, false, 1},
		{"J", 1, 1, []string{"joule", "joules"}, 0, false, 0},
		{"MJ", 1000000, 1, nil, 0, false, 3},
		{"ft-lb", 3389544870828501, 2500000000000000, []string{"ft-lbs", "ft-lbf", "foot-pounds"}, 0, false, 0},
		{"Btu", 52752792631, 50000000, []string{"btus"}, 0, false, 1},
	}}
	powers = table{KindPower, "power", "40 kW", false, []scale{
		{"kW", 1000, 1, nil, 0, false, 1},
		{"W", 1, 1, []string{"watt", "watts"}, 0, false, 0},
		{"hp", 37284993579113511, 50000000000000, []string{"bhp"}, 0, false, 1},
	}}
	frequencies = table{KindFrequency, "frequency", "12 Hz", false, []scale{
		{"Hz", 1, 1, []string{"hertz", "per-second", "/s", "1/s", "cps"}, 0, false, 1},
		{"rpm", 1, 60, []string{"per-minute", "/min", "rev/min", "r/min"}, 0, false, 0},
	}}
	times = table{KindTime, "time", "1.5 s or 10 min", false, []scale{
		{"s", 1, 1, []string{"sec", "secs", "second", "seconds"}, 0, false, 1},
		{"ms", 1, 1000, []string{"msec", "millisecond", "milliseconds"}, 0, false, 0},
		{"min", 60, 1, []string{"mins", "minute", "minutes"}, 0, false, 1},
		{"h", 3600, 1, []string{"hr", "hrs", "hour", "hours"}, 0, false, 2},
	}}
	specificHeats = table{KindSpecificHeat, "specific heat", "460 J/kg-K", false, []scale{
		{"J/kg-K", 1, 1, []string{"j/kgk", "j/kg/k", "j/kg-c"}, 0, false, 0},
		{"Btu/lb-F", 20934, 5, []string{"btu/lbf", "btu/lb/f"}, 0, false, 3},
	}}
	densities = table{KindDensity, "density", "7200 kg/m3", false, []scale{
		{"kg/m3", 1, 1, nil, 0, false, 0},
		{"lb/in3", 56699046250, 2048383, []string{"lb/cu-in"}, 0, false, 3},
	}}
	conductivities = table{KindConductivity, "conductivity", "50 W/m-K", false, []scale{
		{"W/m-K", 1, 1, []string{"w/mk", "w/m/k", "w/m-c"}, 0, false, 1},
	}}
	heatTransfers = table{KindHeatTransfer, "heat transfer", "50 W/m2-K", false, []scale{
		{"W/m2-K", 1, 1, []string{"w/m2k", "w/m2/k", "w/m2-c"}, 0, false, 1},
	}}
	ratios = table{KindRatio, "ratio", "0.38, 38 % or 4:1", false, []scale{
		{"", 1, 1, []string{"to-1", ":1", ":-1"}, 0, false, 3},
		{"%", 1, 100, []string{"percent", "per-cent", "pct"}, 0, false, 1},
	}}
	counts = table{KindCount, "count", "5", true, []scale{
		{"", 1, 1, nil, 0, false, 0},
	}}
)

// tableOf returns nil for a kind that is not a quantity.
func tableOf(kind Kind) *table {
	switch kind {
	case KindLength:
		return &lengths
	case KindArea:
		return &areas
	case KindVolume:
		return &volumes
	case KindPressure:
		return &pressures
	case KindForce:
		return &forces
	case KindMass:
		return &masses
	case KindTemperature:
		return &temperatures
	case KindTempChange:
		return &tempChanges
	case KindAngle:
		return &angles
	case KindSpeed:
		return &speeds
	case KindTorque:
		return &torques
	case KindAcceleration:
		return &accelerations
	case KindEnergy:
		return &energies
	case KindPower:
		return &powers
	case KindFrequency:
		return &frequencies
	case KindTime:
		return &times
	case KindSpecificHeat:
		return &specificHeats
	case KindDensity:
		return &densities
	case KindConductivity:
		return &conductivities
	case KindHeatTransfer:
		return &heatTransfers
	case KindRatio:
		return &ratios
	case KindCount:
		return &counts
	}
	return nil
}

// find looks up a unit by a name that tidy has written.
func (t *table) find(name []byte) *scale {
	for i := range t.scales {
		if equalFold(t.scales[i].name, name) {
			return &t.scales[i]
		}
	}
	for i := range t.scales {
		for _, n := range t.scales[i].also {
			if n == string(name) {
				return &t.scales[i]
			}
		}
	}
	return nil
}

// equalFold compares an ASCII name as printed with one in lower case.
func equalFold(printed string, lower []byte) bool {
	if len(printed) != len(lower) {
		return false
	}
	for i := range lower {
		if lowerByte(printed[i]) != lower[i] {
			return false
		}
	}
	return true
}

func lowerByte(c byte) byte {
	if 'A' <= c && c <= 'Z' {
		c += 'a' - 'A'
	}
	return c
}

// names lists the units as printed, for messages and help.
func (t *table) names() []string {
	var list []string
	for _, s := range t.scales {
		if s.name != "" {
			list = append(list, s.name)
		}
	}
	return list
}

func (t *table) list() string { return strings.Join(t.names(), ", ") }

// Units lists the units that a kind can be typed and printed in. A ratio may
// also stand bare; a count has no unit.
func Units(kind Kind) []string {
	if t := tableOf(kind); t != nil {
		return t.names()
	}
	return nil
}

// Known reports whether kind has a unit of that name, printed or typed. The
// name "" is known where a bare number means something.
func Known(kind Kind, unit string) bool {
	t := tableOf(kind)
	return t != nil && t.named(unit) != nil
}

// Name gives a kind in words, for messages: "temperature change".
func Name(kind Kind) string {
	if t := tableOf(kind); t != nil {
		return t.name
	}
	return string(kind)
}

// named finds a unit by a name of ours or of an author.
func (t *table) named(unit string) *scale {
	for i := range t.scales {
		if t.scales[i].name == unit {
			return &t.scales[i] // nearly always: our own spelling
		}
	}
	var f folded
	if f.fold(unit) != "" {
		return nil
	}
	var name unitName
	if !name.tidy(f.bytes()) {
		return nil
	}
	return t.find(name.bytes())
}

// size is the SI amount of one unit as a float64.
func (s *scale) size() float64 { return float64(s.num) / float64(s.den) }

// to gives the SI amount in this unit, from which less float64 noise is kept
// than would show: what was typed comes back as it was typed.
func (s *scale) to(si float64) float64 {
	v := si * float64(s.den) / float64(s.num)
	if s.zero != 0 {
		v = math.Round((v-float64(s.zero)/100)*1e9) / 1e9
	}
	return fifteen(v)
}

// from is the SI amount of m/div units; exact does the same in big.Rat. Both
// round once, to the nearest float64, so they return the same bits. The fast
// way works where the denominators fit; ok is false elsewhere.
func (s *scale) fast(m int64, div uint64) (si float64, ok bool) {
	if s.zero != 0 {
		if div > math.MaxInt64/100 {
			return 0, false
		}
		m, div = m*100+s.zero*int64(div), div*100
	}
	neg := m < 0
	if neg {
		m = -m
	}
	over, den := bits.Mul64(s.den, div)
	if over != 0 {
		return 0, false
	}
	hi, lo := bits.Mul64(uint64(m), s.num)
	v := quotient(hi, lo, den)
	if neg {
		v = -v
	}
	return v, true
}

func (s *scale) exact(m int64, div uint64) float64 {
	a := new(big.Rat).SetFrac(big.NewInt(m), new(big.Int).SetUint64(div))
	a.Add(a, big.NewRat(s.zero, 100))
	a.Mul(a, new(big.Rat).SetFrac(new(big.Int).SetUint64(s.num), new(big.Int).SetUint64(s.den)))
	v, _ := a.Float64()
	return v
}

func (s *scale) si(m int64, div uint64) float64 {
	if v, ok := s.fast(m, div); ok {
		return v
	}
	return s.exact(m, div)
}

// quotient returns (hi·2⁶⁴+lo)/den, rounded once to the nearest float64, ties
// to even. The quotients here are far from the ends of float64's range.
func quotient(hi, lo, den uint64) float64 {
	if hi == 0 && lo == 0 {
		return 0
	}
	// Put the leading one of both in the top bit, then divide 128 by 64 bits
	// so that the quotient fills its 64: 53 that stay, 11 that round.
	exp := 0
	if hi == 0 {
		hi, lo, exp = lo, 0, -64
	}
	if n := bits.LeadingZeros64(hi); n > 0 {
		hi, lo, exp = hi<<n|lo>>(64-n), lo<<n, exp-n
	}
	n := bits.LeadingZeros64(den)
	den, exp = den<<n, exp+n
	lost := uint64(0)
	if hi >= den {
		lost = lo & 1
		hi, lo, exp = hi>>1, lo>>1|hi<<63, exp+1
	}
	q, r := bits.Div64(hi, lo, den)
	if r != 0 || lost != 0 {
		q |= 1 // below the bits that stay: it only breaks ties
	}
	return math.Ldexp(float64(q), exp)
}
