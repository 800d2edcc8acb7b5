package unit

import (
	"math"
	"math/big"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Where the wanted values of these tests come from. None comes from this code.
const (
	yard1959 = "international yard and pound agreement, 1 July 1959: yard 0.9144 m, pound 0.45359237 kg, both exact (its wording checked in secondary texts)"
	cgpm1901 = "3rd CGPM (1901), declaration: 980.665 cm/s² (read at bipm.org)"
	sp811    = "NIST SP 811 (2008) appendix B.8, from memory"
	si       = "SI Brochure, 9th edition, prefixes and units, from memory"
	geometry = "a turn is 2π, 360 degrees"
	design   = "design, what people type"
	byHand   = "worked by hand from the definition"
)

// printed is the size of one unit as documents give it, to half the last digit
// they print; exact where within is zero.
func TestSizesOfUnits(t *testing.T) {
	tests := []struct {
		kind   Kind
		unit   string
		want   float64
		within float64
		source string
	}{
		{KindLength, "in", 0.0254, 0, yard1959 + "; a 36th of a yard"},
		{KindLength, "ft", 0.3048, 0, yard1959 + "; a third of a yard"},
		{KindLength, "mi", 1609.344, 0, sp811},
		{KindLength, "thou", 2.54e-5, 0, sp811 + ": mil (0.001 in)"},
		{KindLength, "mm", 0.001, 0, si},
		{KindLength, "um", 0.000001, 0, si},
		{KindLength, "cm", 0.01, 0, si},
		{KindLength, "m", 1, 0, si},
		{KindLength, "km", 1000, 0, si},
		{KindArea, "mm2", 1e-6, 0, si},
		{KindArea, "cm2", 1e-4, 0, si},
		{KindArea, "m2", 1, 0, si},
		{KindArea, "in2", 6.4516e-4, 0, sp811},
		{KindVolume, "cc", 1e-6, 0, si},
		{KindVolume, "mL", 1e-6, 0, si},
		{KindVolume, "L", 1e-3, 0, si},
		{KindVolume, "mm3", 1e-9, 0, si},
		{KindVolume, "in3", 1.638706e-5, 5e-12, sp811},
		{KindPressure, "Pa", 1, 0, si},
		{KindPressure, "kPa", 1000, 0, si},
		{KindPressure, "MPa", 1e6, 0, si},
		{KindPressure, "bar", 1e5, 0, sp811},
		{KindPressure, "psi", 6894.757, 0.0005, sp811 + "; quoted alike in secondary texts"},
		{KindPressure, "inHg", 3386.389, 0.0005, sp811 + ": inch of mercury, conventional; quoted alike in secondary texts"},
		{KindPressure, "kgf/cm2", 98066.5, 0, sp811},
		{KindForce, "N", 1, 0, si},
		{KindForce, "kN", 1000, 0, si},
		{KindForce, "kgf", 9.80665, 0, cgpm1901 + "; " + sp811},
		{KindForce, "lbf", 4.448222, 5e-7, sp811},
		{KindMass, "kg", 1, 0, si},
		{KindMass, "g", 0.001, 0, si},
		{KindMass, "lb", 0.45359237, 0, yard1959},
		{KindTempChange, "C", 1, 0, si},
		{KindTempChange, "K", 1, 0, si},
		{KindTempChange, "F", 0.5555556, 5e-8, sp811 + ": degree Fahrenheit to kelvin, interval"},
		{KindAngle, "rad", 1, 0, si},
		{KindAngle, "deg", 1.745329e-2, 5e-9, sp811},
		{KindAngle, "turn", 2 * math.Pi, 0, geometry},
		{KindSpeed, "m/s", 1, 0, si},
		{KindSpeed, "km/h", 2.777778e-1, 5e-8, sp811},
		{KindSpeed, "mph", 0.44704, 0, sp811},
		{KindSpeed, "ft/s", 0.3048, 0, sp811},
		{KindTorque, "Nm", 1, 0, si},
		{KindTorque, "lb-ft", 1.355818, 5e-7, sp811 + ": pound-force foot"},
		{KindTorque, "in-lb", 1.129848e-1, 5e-8, sp811 + ": pound-force inch"},
		{KindTorque, "kgf-m", 9.80665, 0, sp811},
		{KindAcceleration, "m/s2", 1, 0, si},
		{KindAcceleration, "g", 9.80665, 0, cgpm1901},
		{KindAcceleration, "ft/s2", 0.3048, 0, sp811},
		{KindEnergy, "J", 1, 0, si},
		{KindEnergy, "kJ", 1000, 0, si},
		{KindEnergy, "MJ", 1e6, 0, si},
		{KindEnergy, "ft-lb", 1.355818, 5e-7, sp811},
		{KindEnergy, "Btu", 1055.056, 5e-4, sp811 + ": International Table"},
		{KindSpecificHeat, "J/kg-K", 1, 0, si},
		{KindSpecificHeat, "Btu/lb-F", 4186.8, 0, sp811 + ": Btu(IT) per pound degree Fahrenheit"},
		{KindDensity, "kg/m3", 1, 0, si},
		{KindDensity, "lb/in3", 27679.90, 5e-3, sp811},
		{KindConductivity, "W/m-K", 1, 0, si},
		{KindHeatTransfer, "W/m2-K", 1, 0, si},
		{KindPower, "W", 1, 0, si},
		{KindPower, "kW", 1000, 0, si},
		{KindPower, "hp", 745.6999, 5e-5, sp811 + ": horsepower (550 ft·lbf/s)"},
		{KindFrequency, "Hz", 1, 0, si},
		{KindFrequency, "rpm", 1.0 / 60, 0, si},
		{KindTime, "s", 1, 0, si},
		{KindTime, "ms", 0.001, 0, si},
		{KindTime, "min", 60, 0, si},
		{KindTime, "h", 3600, 0, si},
		{KindRatio, "%", 0.01, 0, si},
	}
	covered := map[string]bool{}
	for _, tt := range tests {
		require.NotEmpty(t, tt.source, "every row names its source")
		covered[string(tt.kind)+" "+tt.unit] = true
		a, err := Parse(tt.kind, "1 "+tt.unit, "")
		require.NoError(t, err)
		if tt.within == 0 {
			assert.Equal(t, tt.want, a.SI, "1 %s\nsource: %s", tt.unit, tt.source)
		} else {
			assert.InDelta(t, tt.want, a.SI, tt.within, "1 %s\nsource: %s", tt.unit, tt.source)
		}
	}
	for _, k := range kinds {
		for _, u := range Units(k) {
			// The temperature scales have a zero of their own, below.
			if k != KindTemperature {
				assert.True(t, covered[string(k)+" "+u], "%s %s has no row", k, u)
			}
		}
	}
}

func TestTemperatures(t *testing.T) {
	for _, tt := range []struct {
		typed  string
		want   float64 // K
		within float64
		source string
	}{
		{"0 C", 273.15, 0, sp811 + ": T/K = t/°C + 273.15"},
		{"32 F", 273.15, 0, sp811 + ": T/K = (t/°F + 459.67)/1.8"},
		{"212 F", 373.15, 0, sp811 + ", the same"},
		{"-459.67 F", 0, 0, sp811 + ", the same"},
		{"-273.15 C", 0, 0, sp811},
		{"302 F", 423.15, 0, byHand + ": 302 °F is 150 °C"},
		{"-40 F", 233.15, 0, byHand + ": -40 °F is -40 °C"},
		{"300F", 422.0389, 5e-5, byHand + ": 759.67/1.8"},
		{"300 K", 300, 0, si},
	} {
		require.NotEmpty(t, tt.source, "every row names its source")
		a, err := Parse(KindTemperature, tt.typed, "")
		require.NoError(t, err)
		assert.InDelta(t, tt.want, a.SI, tt.within, "%s\nsource: %s", tt.typed, tt.source)
	}
}

// The derived sizes, multiplied out from the three definitions alone.
func TestDerivedSizesAreExact(t *testing.T) {
	r := func(s string) *big.Rat { v, ok := new(big.Rat).SetString(s); require.True(t, ok); return v }
	mul := func(a, b *big.Rat) *big.Rat { return new(big.Rat).Mul(a, b) }
	inch, lb, g := r("0.0254"), r("0.45359237"), r("9.80665")
	lbf := mul(lb, g)
	twelve := r("12")
	want := map[string]*big.Rat{
		"force lbf":      lbf,
		"force kgf":      g,
		"torque lb-ft":   mul(lbf, mul(inch, twelve)),
		"torque in-lb":   mul(lbf, inch),
		"torque kgf-m":   g,
		"energy ft-lb":   mul(lbf, mul(inch, twelve)),
		"power hp":       mul(r("550"), mul(lbf, mul(inch, twelve))),
		"energy Btu":     mul(r("4186.8"), mul(lb, new(big.Rat).SetFrac64(5, 9))),
		"density lb/in3": new(big.Rat).Quo(lb, mul(inch, mul(inch, inch))),
		"pressure psi":   new(big.Rat).Quo(lbf, mul(inch, inch)),
		"pressure inHg":  mul(mul(r("13595.1"), g), inch),
		"area in2":       mul(inch, inch),
		"volume in3":     mul(inch, mul(inch, inch)),
		"length mi":      mul(r("63360"), inch),
		"speed mph":      new(big.Rat).Quo(mul(r("63360"), inch), r("3600")),
		"acceleration g": g,
	}
	for key, w := range want {
		kind, name, _ := strings.Cut(key, " ")
		s := tableOf(Kind(kind)).named(name)
		require.NotNil(t, s, key)
		got := new(big.Rat).SetFrac(new(big.Int).SetUint64(s.num), new(big.Int).SetUint64(s.den))
		assert.Zero(t, got.Cmp(w), "%s is %s, want %s", key, got.RatString(), w.RatString())
	}
	// π to 30 places, from memory; 360 degrees must be one turn exactly.
	pi := r("3.141592653589793238462643383280")
	turn, deg := tableOf(KindAngle).named("turn"), tableOf(KindAngle).named("deg")
	tr := new(big.Rat).SetFrac(new(big.Int).SetUint64(turn.num), new(big.Int).SetUint64(turn.den))
	dr := new(big.Rat).SetFrac(new(big.Int).SetUint64(deg.num), new(big.Int).SetUint64(deg.den))
	assert.Zero(t, tr.Cmp(mul(dr, r("360"))))
	off, _ := new(big.Rat).Sub(new(big.Rat).Quo(tr, mul(pi, r("2"))), r("1")).Float64()
	assert.Less(t, math.Abs(off), 1e-25)
}

// The typed constants and the tables are written apart; they must not differ.
func TestConstantsMatchTables(t *testing.T) {
	for _, tt := range []struct {
		kind Kind
		unit string
		size float64
	}{
		{KindLength, "mm", float64(Millimetre)}, {KindLength, "um", float64(Micrometre)},
		{KindLength, "cm", float64(Centimetre)}, {KindLength, "km", float64(Kilometre)},
		{KindLength, "in", float64(Inch)}, {KindLength, "thou", float64(Thou)},
		{KindLength, "ft", float64(Foot)}, {KindLength, "mi", float64(Mile)},
		{KindArea, "mm2", float64(SquareMillimetre)}, {KindArea, "cm2", float64(SquareCentimetre)},
		{KindArea, "in2", float64(SquareInch)},
		{KindVolume, "cc", float64(Millilitre)}, {KindVolume, "L", float64(Litre)},
		{KindVolume, "mm3", float64(CubicMillimetre)}, {KindVolume, "in3", float64(CubicInch)},
		{KindPressure, "kPa", float64(Kilopascal)}, {KindPressure, "bar", float64(Bar)},
		{KindPressure, "MPa", float64(Megapascal)}, {KindPressure, "psi", float64(PSI)},
		{KindPressure, "inHg", float64(InchOfMercury)},
		{KindForce, "lbf", float64(PoundForce)}, {KindForce, "kgf", float64(KilogramForce)},
		{KindMass, "lb", float64(Pound)}, {KindMass, "g", float64(Gram)},
		{KindTempChange, "F", float64(FahrenheitDegree)},
		{KindAngle, "deg", float64(Degree)}, {KindAngle, "turn", float64(Turn)},
		{KindSpeed, "km/h", float64(KilometrePerHour)}, {KindSpeed, "mph", float64(MilePerHour)},
		{KindSpeed, "ft/s", float64(FootPerSecond)},
		{KindTorque, "lb-ft", float64(PoundFoot)}, {KindTorque, "in-lb", float64(InchPound)},
		{KindAcceleration, "g", float64(StandardGravity)}, {KindAcceleration, "ft/s2", float64(FootPerSecondSquared)},
		{KindEnergy, "kJ", float64(Kilojoule)}, {KindEnergy, "ft-lb", float64(FootPound)},
		{KindEnergy, "Btu", float64(Btu)}, {KindSpecificHeat, "Btu/lb-F", float64(BtuPerPoundFahrenheit)},
		{KindDensity, "lb/in3", float64(PoundPerCubicInch)},
		{KindPower, "kW", float64(Kilowatt)}, {KindPower, "hp", float64(Horsepower)},
		{KindFrequency, "rpm", float64(PerMinute)},
		{KindTime, "ms", float64(Millisecond)}, {KindTime, "min", float64(Minute)}, {KindTime, "h", float64(Hour)},
		{KindRatio, "%", float64(Percent)},
	} {
		a, err := Parse(tt.kind, "1 "+tt.unit, "")
		require.NoError(t, err)
		assert.Equal(t, tt.size, a.SI, "%s %s", tt.kind, tt.unit)
	}
}

func TestProducts(t *testing.T) {
	for _, tt := range []struct {
		name      string
		got, want float64
		within    float64
		source    string
	}{
		{"area of a 1 in bore, in²", Circle(Inch).SquareInches(), 0.785398, 5e-7, byHand + ": π/4"},
		{"10 psi on 2 in², lbf", (10 * PSI).On(2 * SquareInch).PoundsForce(), 20, 1e-12, byHand},
		{"100 lbf over 4 in², psi", (100 * PoundForce).Over(4 * SquareInch).PSI(), 25, 1e-12, byHand},
		{"10 lbf at 1 ft, in-lb", (10 * PoundForce).At(Foot).InchPounds(), 120, 1e-11, byHand},
		{"120 in-lb over 1 ft, lbf", (120 * InchPound).Over(Foot).PoundsForce(), 10, 1e-12, byHand},
		{"2 in² by 3 in, in³", (2 * SquareInch).Times(3 * Inch).CubicInches(), 6, 1e-12, byHand},
		{"6 in³ over 2 in², in", (6 * CubicInch).Over(2 * SquareInch).Inches(), 3, 1e-12, byHand},
		{"2 in by 3 in, in²", (2 * Inch).Times(3 * Inch).SquareInches(), 6, 1e-12, byHand},
		{"weight of 1 lb, lbf", Pound.Weight().PoundsForce(), 1, 1e-15, byHand + ": what a pound-force is"},
		{"a pound-force on a pound, g", PoundForce.On(Pound).Gravities(), 1, 1e-15, byHand},
		{"2500 kg at 27.7778 m/s, kJ", Mass(2500).Moving(27.7778).Kilojoules(), 964.506173, 5e-3, "rotor notes V11, worked apart from this code"},
		{"3 J in 2 s, W", Energy(3).Over(2).Watts(), 1.5, 0, byHand},
		{"3 W for 2 s, J", Power(3).For(2).Joules(), 6, 0, byHand},
		{"60 mph for 1 s, ft", (60 * MilePerHour).For(Second).Feet(), 88, 1e-12, byHand + ": 60 mph is 88 ft/s"},
		{"60 mph off at 20 ft/s², s", (60 * MilePerHour).Over(20 * FootPerSecondSquared).Seconds(), 4.4, 1e-14, byHand + ": 88/20"},
		{"10 m/s round 2 m, Hz", Speed(10).Round(2).Hertz(), 5, 0, byHand},
		{"2 N at 3 m/s, W", Force(2).Pushing(3).Watts(), 6, 0, byHand},
		{"2 N along 3 m, J", Force(2).Along(3).Joules(), 6, 0, byHand},
		{"6 J into 2 kg of 3 J/(kg K), K", float64(Energy(6).Into(2, 3)), 1, 0, byHand},
		{"6 Btu into 2 lb of 3 Btu/(lb F), F", (6 * Btu).Into(2*Pound, 3*BtuPerPoundFahrenheit).FahrenheitDegrees(), 1, 1e-14, byHand},
		{"6 Btu, Btu", (6 * Btu).Btu(), 6, 1e-14, byHand},
		{"3 in per 2 in", float64(Per(3*Inch, 2*Inch)), 1.5, 1e-15, byHand},
		{"212 °F above 32 °F, °C", Fahrenheit(212).Above(Fahrenheit(32)).CelsiusDegrees(), 100, 1e-12, byHand},
		{"0 °C and 180 °F more, °C", Celsius(0).Plus(180 * FahrenheitDegree).Celsius(), 100, 1e-12, byHand},
	} {
		require.NotEmpty(t, tt.source, "every row names its source")
		assert.InDelta(t, tt.want, tt.got, tt.within, "%s\nsource: %s", tt.name, tt.source)
	}
}

func TestSlope(t *testing.T) {
	// A slope of 3 in 4 is a triangle of 3, 4 and 5.
	press, pull := (5 * Kilogram).OnSlope(0.75)
	assert.InDelta(t, 4, press.KilogramsForce(), 1e-14)
	assert.InDelta(t, 3, pull.KilogramsForce(), 1e-14)
	press, pull = Pound.OnSlope(-0.75)
	assert.InDelta(t, 0.8, press.PoundsForce(), 1e-14)
	assert.InDelta(t, -0.6, pull.PoundsForce(), 1e-14)
}

var kinds = []Kind{KindLength, KindArea, KindVolume, KindPressure, KindForce, KindMass, KindTemperature, KindTempChange, KindAngle, KindSpeed, KindTorque, KindAcceleration, KindEnergy, KindPower, KindFrequency, KindTime, KindSpecificHeat, KindDensity, KindConductivity, KindHeatTransfer, KindRatio, KindCount}

// Names are in the spelling that tidy writes, and no two units of a kind share
// one.
func TestNamesOfUnits(t *testing.T) {
	for _, k := range kinds {
		table := tableOf(k)
		require.Equal(t, k, table.kind)
		require.NotEmpty(t, Name(k))
		seen := map[string]bool{}
		for i := range table.scales {
			s := &table.scales[i]
			for _, n := range append([]string{strings.ToLower(s.name)}, s.also...) {
				assert.False(t, seen[n], "%s: %q twice", k, n)
				seen[n] = true
				var f folded
				var u unitName
				require.Empty(t, f.fold(n))
				require.True(t, u.tidy(f.bytes()))
				assert.Same(t, s, table.find(u.bytes()), "%s: %q", k, n)
				assert.True(t, Known(k, n), "%s: %q", k, n)
			}
		}
	}
	assert.Empty(t, Units(KindWord))
	assert.Equal(t, "word", Name(KindWord))
	assert.False(t, Known(KindLength, "psi"))
	assert.False(t, Known(KindLength, ""))
	assert.True(t, Known(KindRatio, ""))
}
