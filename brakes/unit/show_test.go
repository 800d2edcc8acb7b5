package unit

import (
	"encoding/json"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestBoth(t *testing.T) {
	for _, tt := range []struct {
		kind            Kind
		text, def, want string
		source          string
	}{
		{KindLength, `.004"`, "", "0.102 mm (4.0 thou)", "contract"},
		{KindLength, "1-1/16", "in", "26.988 mm (1.0625 in)", byHand},
		{KindLength, "26.98751 mm", "", "26.98751 mm (1.062500 in)", byHand + ": no typed digit lost"},
		{KindLength, "-2.8 thou", "", "-0.071 mm (-2.8 thou)", byHand},
		{KindLength, "0", "thou", "0.000 mm (0.0 thou)", byHand},
		{KindLength, "137.5 in", "", "3.49 m (11.46 ft)", byHand},
		{KindPressure, "30psi", "", "206.8 kPa (30 psi)", byHand},
		{KindPressure, "18 inHg", "", "61 kPa (18 inHg)", byHand},
		{KindPressure, "2 bar", "", "2 bar (29 psi)", byHand},
		{KindTemperature, "300F", "", "149 C (300 F)", byHand},
		{KindTorque, "540 in-lb", "", "61 Nm (540 in-lb)", byHand},
		{KindSpeed, "65 mph", "", "104.6 km/h (65 mph)", byHand},
		{KindMass, "5600 lb", "", "2540 kg (5600 lb)", byHand},
		{KindForce, "45 lb", "", "200 N (45 lbf)", byHand},
		{KindAcceleration, "0.62 g", "", "6.08 m/s2 (0.620 g)", byHand},
		{KindRatio, "38 %", "", "38.0 %", byHand},
		{KindRatio, "0.38", "", "0.380", byHand},
		{KindCount, "5", "", "5", byHand},
		{KindTime, "10 min", "", "10 min", byHand},
		{KindWord, "worse-braking", "", "worse-braking", design},
	} {
		require.NotEmpty(t, tt.source, "every row names its source")
		a, err := Parse(tt.kind, tt.text, tt.def)
		require.NoError(t, err)
		assert.Equal(t, tt.want, a.Both(), "source: %s", tt.source)
	}
	assert.Equal(t, "missing", Absent(KindLength).Both())
	assert.Equal(t, "25.400 mm (1.0000 in)", Inch.String())
	assert.Equal(t, "not a number", Length(math.NaN()).String())
	assert.Equal(t, "0 km/h (0 mph)", Speed(-1e-300).String())
	assert.NotPanics(t, func() { _ = Length(math.Inf(-1)).String() })
}

func TestFormat(t *testing.T) {
	assert.Equal(t, "4.0 thou", Format(KindLength, 0.0001016, "thou"))
	assert.Equal(t, "0.102 mm", Format(KindLength, 0.0001016, "mm"))
	assert.Equal(t, "0.00020 mm", Format(KindLength, 2e-7, "mm"), "two digits that count")
	assert.Equal(t, "1604 psi", Format(KindPressure, 1604.27*6894.757, "psi"), "four digits at best")
	assert.Equal(t, "17790 N", Format(KindForce, 17792.9, "N"))
	assert.Equal(t, "481.1 lbf", Format(KindForce, 2140, "lbf"))
	assert.Equal(t, "0.7854 in2", Format(KindArea, 5.067e-4, "in2"), "four digits of an area")
	assert.Equal(t, "3832 mm2", Format(KindArea, 3.832e-3, "mm2"))
	assert.Equal(t, "12.57 in2", Format(KindArea, 8.107e-3, "in2"))
	v, l := FormatAgainst(KindForce, 100, 101.2, "N")
	assert.Equal(t, []string{"100 N", "101 N"}, []string{v, l})
	assert.Equal(t, "25.400 mm", Format(KindLength, 0.0254, "psi"), "a wrong unit is replaced, never printed")
	v, l = FormatAgainst(KindLength, 0.99999*float64(Inch), float64(Inch), "in")
	assert.Equal(t, []string{"0.99999 in", "1.00000 in"}, []string{v, l})
	v, l = FormatAgainst(KindLength, float64(Inch), float64(Inch), "in")
	assert.Equal(t, []string{"1.0000 in", "1.0000 in"}, []string{v, l})
	assert.Equal(t, "0.125 in", FormatTo(KindLength, 0.003175, "in", 3))
	assert.Equal(t, "3.2 mm", FormatTo(KindLength, 0.003175, "psi", 1), "a wrong unit is replaced")
	v, l = FormatAgainstTo(KindLength, 0.00151, 0.0015, "mm", 1)
	assert.Equal(t, []string{"1.51 mm", "1.50 mm"}, []string{v, l}, "as many digits as show which is more")
	v, l = FormatAgainstTo(KindLength, 0.003, 0.0015, "mm", 1)
	assert.Equal(t, []string{"3.0 mm", "1.5 mm"}, []string{v, l})
}

func TestAsAndOf(t *testing.T) {
	a, err := Parse(KindLength, ".004", "in")
	require.NoError(t, err)
	r := As[Length](a)
	assert.Equal(t, Reading[Length]{Value: 4 * Thou, Resolution: Thou, Text: ".004"}, r)
	back := Of(r)
	assert.Equal(t, "0.102 mm (4.0 thou)", back.Both())
	assert.Panics(t, func() { As[Pressure](a) })
	assert.Panics(t, func() { As[float64](a) })
	assert.Panics(t, func() { As[Length](Word("x")) })
	assert.True(t, math.IsNaN(float64(As[Length](Absent(KindLength)).Value)))
	assert.False(t, Word("x").Missing())
	_, ok := a.In("psi")
	assert.False(t, ok)
	_, ok = Word("x").In("in")
	assert.False(t, ok)
}

func TestWindowAndSuggest(t *testing.T) {
	for _, tt := range []struct {
		kind                             Kind
		window, typed, def, want, source string
	}{
		{KindLength, "0 to 0.1 in", "4", "in", "4 in is outside 0 to 0.1 in; did you mean 4 thou or 0.04 in?", "style notes"},
		{KindLength, "0.2 in to 2 in", "24", "in", "24 in is outside 0.2 to 2 in; did you mean 24 mm or 0.24 in?", design},
		{KindLength, "0.2 in to 2 in", "1125", "in", "1125 in is outside 0.2 to 2 in; did you mean 1125 thou or 1.125 in?", design},
		{KindLength, "0.2 in to 2 in", "28 in", "", "28 in is outside 0.2 to 2 in; did you mean 28 mm or 0.28 in?", design},
		{KindLength, "0.2 in to 2 in", "300 mm", "", "300 mm is outside 5.08 to 50.8 mm; did you mean 300 thou or 30.0 mm?", design},
		{KindLength, "0.2 in to 2 in", "1.1", "in", "", design},
		{KindLength, "-20 to 20 thou", "-0.5 in", "", "-0.5 in is outside -0.02 to 0.02 in; did you mean -0.5 thou or -0.5 mm?", design},
		{KindPressure, "0 to 30 inHg", "30", "psi", "30 psi is outside 0 to 14.73 psi; did you mean 30 kPa or 30 inHg?", design},
		{KindTemperature, "-40 F to 1200 F", "9000 F", "", "9000 F is outside -40 to 1200 F; did you mean 900.0 F or 90.00 F?", design},
		{KindCount, "3 to 10", "12", "", "12 is outside 3 to 10", design},
	} {
		require.NotEmpty(t, tt.source, "every row names its source")
		lo, hi, err := Window(tt.kind, tt.window)
		require.NoError(t, err)
		a, err := Parse(tt.kind, tt.typed, tt.def)
		require.NoError(t, err)
		assert.Equal(t, tt.want, Suggest(a, lo, hi))
	}
	assert.Empty(t, Suggest(Absent(KindLength), 0, 1))
	assert.Empty(t, Suggest(Word("x"), 0, 1))
	for _, bad := range []string{"", "0.2 in", "2 in to 0.2 in", "1 in to 1 in", "0.2 to 2", "x to y", "1 in to 2 psi"} {
		_, _, err := Window(KindLength, bad)
		assert.Error(t, err, bad)
	}
}

func TestPairAgrees(t *testing.T) {
	const notes = "rotor notes 1.7, pairs as printed in manuals"
	for _, tt := range []struct {
		mm, in string
		want   Verdict
		source string
	}{
		{"0.05", "0.002", Within, notes},
		{"0.08", "0.003", Within, notes},
		{"0.127", "0.005", Within, notes},
		{"0.23 mm", "0.009 in", Within, notes},
		{"0.015", "0.006", Outside, notes},
		{"1.52", "0.60", Outside, notes},
		{"0.08", "0.004", Outside, notes},
		{"22.8", "0.87", Outside, notes},
		{"0.065", "0.002", Outside, notes},
		{"0.090", "0.004", TooClose, notes + "; 0.00354 in does round to 0.004"},
		{"26.0", "1.02", TooClose, byHand + ": 25.908 mm"},
	} {
		require.NotEmpty(t, tt.source, "every row names its source")
		got, err := PairAgrees(tt.mm, tt.in)
		require.NoError(t, err)
		assert.Equal(t, tt.want, got, "%s mm (%s in)\nsource: %s", tt.mm, tt.in, tt.source)
	}
	_, err := PairAgrees("x", "1")
	assert.Error(t, err)
	_, err = PairAgrees("1", "x")
	assert.Error(t, err)
}

func TestVerdict(t *testing.T) {
	for v, want := range map[Verdict][2]string{
		Within: {"within", "within"}, Outside: {"outside", "outside"},
		TooClose: {"too-close", "too close to call"}, NoLimit: {"no-limit", "no limit known"},
	} {
		assert.Equal(t, want, [2]string{v.String(), v.Say()})
		b, err := json.Marshal(v)
		require.NoError(t, err)
		assert.Equal(t, `"`+want[0]+`"`, string(b))
		var back Verdict
		require.NoError(t, json.Unmarshal(b, &back))
		assert.Equal(t, v, back)
	}
	var zero Verdict
	assert.Equal(t, NoLimit, zero, "an unset verdict claims nothing")
	assert.Error(t, zero.UnmarshalText([]byte("fine")))
	_, err := Verdict(9).MarshalText()
	assert.Error(t, err)
	assert.Equal(t, "verdict(-1)", Verdict(-1).Say())
}
