package unit

import (
	"encoding/json"
	"fmt"
	"math"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// Wanted values are decimal literals, which the compiler rounds once from the
// text: the bits must agree.
func TestParse(t *testing.T) {
	const inch, thou = 0.0254, 0.0000254
	for _, tt := range []struct {
		kind       Kind
		text, def  string
		want, step float64
		source     string
	}{
		{KindLength, `.004"`, "", 0.0001016, thou, design},
		{KindLength, `.004”`, "", 0.0001016, thou, design},
		{KindLength, `.004''`, "", 0.0001016, thou, design},
		{KindLength, `.004′′`, "", 0.0001016, thou, design},
		{KindLength, `0.004`, "in", 0.0001016, thou, design},
		{KindLength, `4 thou`, "", 0.0001016, thou, design},
		{KindLength, `4thou`, "mm", 0.0001016, thou, design},
		{KindLength, `4-thou`, "", 0.0001016, thou, design},
		{KindLength, `1-1/16`, "in", 0.0269875, inch / 16, design},
		{KindLength, `1 1/16 in`, "", 0.0269875, inch / 16, design},
		{KindLength, `1 1⁄16 in.`, "", 0.0269875, inch / 16, design},
		{KindLength, `7/8`, "in", 0.022225, inch / 8, design},
		{KindLength, `08/16 in`, "", 0.0127, inch / 16, design},
		{KindLength, `-1/16"`, "", -0.0015875, inch / 16, design},
		{KindLength, `1½ in`, "", 0.0381, inch / 2, design},
		{KindLength, `⅛"`, "", 0.003175, inch / 8, design},
		{KindLength, `0.1mm`, "", 0.0001, 0.0001, design},
		{KindLength, `0.1 MM`, "", 0.0001, 0.0001, design},
		{KindLength, `0,1 mm`, "", 0.0001, 0.0001, design},
		{KindLength, `,5 mm`, "", 0.0005, 0.0001, design},
		{KindLength, `0,004 in`, "", 0.0001016, thou, design},
		{KindLength, `4,50 mm`, "", 0.0045, 0.00001, design},
		{KindLength, `1234,567 mm`, "", 1.234567, 0.000001, design},
		{KindLength, `4. mm`, "", 0.004, 0.001, design},
		{KindLength, "\u00a04\u202fmm ", "", 0.004, 0.001, design},
		{KindLength, `25 µm`, "", 0.000025, 0.000001, design},
		{KindLength, `25 μm`, "", 0.000025, 0.000001, design},
		{KindLength, `-3.2`, "thou", -0.00008128, thou / 10, design},
		{KindLength, `−3.2`, "thou", -0.00008128, thou / 10, design},
		{KindLength, `+2`, "thou", 0.0000508, thou, design},
		{KindLength, `-0`, "thou", 0, thou, design},
		{KindLength, `6'`, "", 1.8288, 0.3048, design},
		{KindLength, `50 miles`, "", 80467.2, 1609.344, design},
		{KindPressure, `30psi`, "", 206842.71879505083, 6894.757293168361, byHand + ": 30 x 8896443230521/1290320000"},
		{KindPressure, `18" vacuum`, "", 60954.995526138, 3386.388640341, "users' notes, inHg written inches"},
		{KindPressure, `18 in.Hg`, "", 60954.995526138, 3386.388640341, "users' notes, inHg written inches"},
		{KindTemperature, `302F`, "", 423.15, 5.0 / 9, byHand},
		{KindTemperature, `302 °F`, "", 423.15, 5.0 / 9, byHand},
		{KindTemperature, `150 deg C`, "", 423.15, 1, byHand},
		{KindTempChange, `40 F`, "", 22.22222222222222222, 5.0 / 9, byHand + ": 200/9"},
		{KindTorque, `45 lb-ft`, "", 61.011807674913018, 1.3558179483314004, byHand},
		{KindTorque, `45 ft lb`, "", 61.011807674913018, 1.3558179483314004, byHand},
		{KindTorque, `45 ft. lbs.`, "", 61.011807674913018, 1.3558179483314004, byHand},
		{KindTorque, `540 in-lb`, "", 61.011807674913018, 0.1129848290276167, byHand},
		{KindTorque, `61 N·m`, "", 61, 1, design},
		{KindTorque, `61 N.m`, "", 61, 1, design},
		{KindTorque, `61Nm`, "", 61, 1, design},
		{KindSpeed, `65 mph`, "", 29.0576, 0.44704, byHand},
		{KindSpeed, `100 km / h`, "", 27.77777777777777778, 5.0 / 18, byHand},
		{KindForce, `10 lb`, "", 44.482216152605, 4.4482216152605, byHand},
		{KindMass, `10 lb`, "", 4.5359237, 0.45359237, byHand},
		{KindAcceleration, `20 ft/s²`, "", 6.096, 0.3048, byHand},
		{KindAcceleration, `20 ft/s^2`, "", 6.096, 0.3048, byHand},
		{KindVolume, `2 cm³`, "", 2e-6, 1e-6, byHand},
		{KindAngle, `¼ turn`, "", math.Pi / 2, math.Pi / 2, geometry},
		{KindAngle, `180°`, "", math.Pi, math.Pi / 180, geometry},
		{KindRatio, `0.38`, "", 0.38, 0.01, design},
		{KindRatio, `38 %`, "", 0.38, 0.01, design},
		{KindRatio, `38`, "%", 0.38, 0.01, design},
		{KindRatio, `4.5:1`, "", 4.5, 0.1, design},
		{KindRatio, `4.5 to 1`, "", 4.5, 0.1, design},
		{KindCount, `8`, "", 8, 1, design},
		{KindTime, `10 min`, "", 600, 60, design},
	} {
		require.NotEmpty(t, tt.source, "every row names its source")
		a, err := Parse(tt.kind, tt.text, tt.def)
		if assert.NoError(t, err, tt.text) {
			assert.Equal(t, tt.want, a.SI, "%s\nsource: %s", tt.text, tt.source)
			assert.InEpsilon(t, tt.step, a.Resolution, 1e-15, "%s\nsource: %s", tt.text, tt.source)
			assert.False(t, math.Signbit(a.SI) && a.SI == 0, tt.text)
			assert.Equal(t, strings.TrimSpace(tt.text), a.Text)
		}
	}
}

func TestParseRefuses(t *testing.T) {
	for _, tt := range []struct {
		kind      Kind
		text, def string
		want      string // part of the message
		source    string
	}{
		{KindLength, "", "mm", "nothing typed: want a number and a unit", design},
		{KindLength, "5", "", "which unit? one of mm, um, cm, m, km, in, thou, ft, mi", design},
		{KindLength, "5", "psi", `unit "psi" is not one of`, design},
		{KindLength, "7/8", "mm", "no fractions of mm: write it as a decimal", design},
		{KindLength, "7/6 in", "", "7/6 is not a mark on a rule", design},
		{KindLength, "1/3 in", "", "1/3 is not a mark on a rule", design},
		{KindLength, "1/128 in", "", "is not a mark on a rule", design},
		{KindLength, "0/8 in", "", "is not a mark on a rule", design},
		{KindLength, "1/0 in", "", "is not a mark on a rule", design},
		{KindLength, "7/ in", "", "needs both numbers", design},
		{KindLength, "0.5/2 in", "", "a fraction is whole numbers", design},
		{KindForce, "4,500 lb", "", "read two ways: write 4500, or 4.500", design},
		{KindForce, "4,500,000 lb", "", "without marks between thousands", design},
		{KindForce, "4,500.5 lb", "", "without marks between thousands", design},
		{KindForce, "1.234,5 lb", "", "one number", design},
		{KindForce, "4, lb", "", "nothing follows the comma", design},
		{KindLength, "3 mil", "", "write thou or mm", design},
		{KindLength, "3 tenths", "", "tenths of what?", design},
		{KindLength, "NaN", "mm", "want a number and a unit", design},
		{KindLength, "Inf mm", "", "want a number and a unit", design},
		{KindLength, "-inf mm", "", "want a number and a unit", design},
		{KindLength, "1e3 mm", "", "no powers of ten", design},
		{KindLength, "1E-3 mm", "", "no powers of ten", design},
		{KindLength, "0x10 mm", "", "plain digits only", design},
		{KindLength, "1_000 mm", "", "no marks inside a number", design},
		{KindLength, "1 000 mm", "", "one number here", design},
		{KindLength, "1.2.3 mm", "", "one number here", design},
		{KindLength, "1-2 mm", "", "not a range", design},
		{KindLength, "--1 mm", "", "want a number and a unit", design},
		{KindLength, "1\x1b[2J mm", "", "control character", design},
		{KindLength, "1\nmm", "", "control character", design},
		{KindLength, "1\u200bmm", "", "hidden character", design},
		{KindLength, "1\xff mm", "", "unreadable character", design},
		{KindLength, "mm", "", "want a number and a unit", design},
		{KindLength, "about 5 mm", "", "want a number and a unit", design},
		{KindLength, `6' 2"`, "", "one number and one unit", design},
		{KindLength, "5 furlongs", "", `unit "furlongs" is not one of`, design},
		{KindLength, "1234567890 mm", "", "too many digits", design},
		{KindLength, "0.12345678 mm", "", "too many digits", design},
		{KindLength, strings.Repeat("9", 1<<20), "mm", "too long", design},
		{KindTemperature, "-460 F", "", "below absolute zero", design},
		{KindTemperature, "-273.16 C", "", "below absolute zero", design},
		{KindTemperature, "-1 K", "", "below absolute zero", design},
		{KindCount, "5.5", "", "want a whole number", design},
		{KindCount, "-5", "", "want a whole number", design},
		{KindCount, "1/2", "", "want a whole number", design},
		{KindCount, "5 studs", "", "a count has no unit", design},
		{KindRatio, "1/2", "", "write it as a decimal", design},
		{"", "5", "", "no quantity is called", design},
		{KindWord, "", "", "nothing typed", design},
	} {
		require.NotEmpty(t, tt.source, "every row names its source")
		_, err := Parse(tt.kind, tt.text, tt.def)
		if assert.Error(t, err, tt.text) {
			assert.Contains(t, err.Error(), tt.want)
			assert.Less(t, len(err.Error()), 200)
			for _, r := range err.Error() {
				assert.False(t, r < ' ' || r == 0x7f, "%q lets a control character through", err.Error())
			}
			assert.NotContains(t, strings.ToLower(err.Error()), "safe")
		}
	}
}

func TestParseList(t *testing.T) {
	nan := math.NaN()
	for _, tt := range []struct {
		text, def string
		want      []float64 // in the unit asked for below
		unit      string
		source    string
	}{
		{"0 1.6 2 .8 -1.2 -2.8 -3.2 -2", "thou", []float64{0, 1.6, 2, .8, -1.2, -2.8, -3.2, -2}, "thou", design},
		{"0 1.6 2 thou", "in", []float64{0, 1.6, 2}, "thou", design},
		{"0 1.6 2thou", "", []float64{0, 1.6, 2}, "thou", design},
		{"0;1.6; 2 ;3", "thou", []float64{0, 1.6, 2, 3}, "thou", design},
		{"0, 1.6, 2", "thou", []float64{0, 1.6, 2}, "thou", design},
		{"0 , 1.6 , 2", "thou", []float64{0, 1.6, 2}, "thou", design},
		{"0,1 1,6 2,0", "mm", []float64{.1, 1.6, 2}, "mm", design},
		{"0,1; 1,6; 2 mm", "", []float64{.1, 1.6, 2}, "mm", design},
		{"0 - 2", "thou", []float64{0, nan, 2}, "thou", design},
		{"- 1 – thou", "", []float64{nan, 1, nan}, "thou", design},
		{"1-1/16 7/8 1 in", "", []float64{1.0625, .875, 1}, "in", design},
		{"0 1/64 in", "", []float64{0, 0.015625}, "in", design},
		{"1; 1/16 in", "", []float64{1, 0.0625}, "in", design},
		{"−1 +2", "thou", []float64{-1, 2}, "thou", design},
		{"25.4 mm 1 in", "", []float64{1, 1}, "in", design},
		{"4 thou 5 thou", "in", []float64{4, 5}, "thou", design},
		{"4 thou 5 6", "thou", []float64{4, 5, 6}, "thou", design},
		{`.004" .005"`, "", []float64{4, 5}, "thou", design},
		{"\t1\n2\r\n3 ", "thou", []float64{1, 2, 3}, "thou", design},
		{"1, 2, 3,", "thou", []float64{1, 2, 3}, "thou", design},
		{"5", "thou", []float64{5}, "thou", design},
	} {
		require.NotEmpty(t, tt.source, "every row names its source")
		list, err := ParseList(KindLength, tt.text, tt.def)
		if !assert.NoError(t, err, tt.text) || !assert.Len(t, list, len(tt.want), tt.text) {
			continue
		}
		for i, w := range tt.want {
			got, ok := list[i].In(tt.unit)
			assert.Equal(t, !math.IsNaN(w), ok)
			if ok {
				assert.Equal(t, w, got, "%q, reading %d", tt.text, i+1)
			} else {
				assert.True(t, list[i].Missing())
			}
		}
	}
	list, err := ParseList(KindTorque, "45 ft lb 46 ft. lb; 47 lb-ft", "")
	require.NoError(t, err)
	require.Len(t, list, 3)
	assert.Equal(t, "46 ft. lb", list[1].Text)
	list, err = ParseList(KindWord, "none some, heavy", "")
	require.NoError(t, err)
	assert.Equal(t, []Any{Word("none"), Word("some"), Word("heavy")}, list)
}

func TestParseListRefuses(t *testing.T) {
	for _, tt := range []struct{ text, def, want, source string }{
		{"", "mm", "nothing typed", design},
		{"  ", "mm", "nothing typed", design},
		{"1 2 3", "", "which unit?", design},
		{"1 1/16 in", "", "write 1-1/16 for one reading, or 1; 1/16 for two", design},
		{"1 ½ in", "", "for one reading", design},
		{"0, 1,6, 2", "mm", "read two ways", design},
		{"1,2,3", "mm", "read two ways", design},
		{"4,500 2", "mm", `reading 1, "4,500": the comma can be read two ways`, design},
		{"4 thou 5 6", "in", "only some readings have a unit", design},
		{"1;;2", "mm", "type - for a reading you could not take", design},
		{", 1", "mm", "type - for a reading you could not take", design},
		{"mm 1", "mm", "want a number before it", design},
		{"1; mm", "mm", "want a number before it", design},
		{"1 NaN 2", "mm", `unit "nan" is not one of`, design},
		{"1 2 1e3", "mm", "reading 3", design},
		{"1 2 3 furlongs", "mm", "furlongs", design},
		{"1\x1b 2", "mm", "control character", design},
		{strings.Repeat("1 ", 301), "mm", "too many readings", design},
		{strings.Repeat("1 ", 1<<19), "mm", "too long", design},
	} {
		require.NotEmpty(t, tt.source, "every row names its source")
		list, err := ParseList(KindLength, tt.text, tt.def)
		if assert.Error(t, err, "%.40q %v", tt.text, list) {
			assert.Contains(t, err.Error(), tt.want)
			assert.Less(t, len(err.Error()), 250)
		}
	}
}

func anyKind(t *rapid.T) Kind { return rapid.SampledFrom(kinds).Draw(t, "kind") }

// number draws a decimal and, apart from it, its digits.
func decimal(t *rapid.T) string {
	whole := rapid.StringMatching(`[0-9]{1,9}`).Draw(t, "whole")
	after := rapid.StringMatching(`[0-9]{0,7}`).Draw(t, "after")
	if after == "" {
		return whole
	}
	return whole + "." + after
}

// The fast way must give the bits of the exact one, in every unit.
func TestFastIsExact(t *testing.T) {
	for _, k := range kinds {
		for i := range tableOf(k).scales {
			s := &tableOf(k).scales[i]
			t.Run(string(k)+" "+s.name, func(t *testing.T) {
				fast := 0
				check := func(m int64, div uint64) bool {
					v, ok := s.fast(m, div)
					if !ok {
						return true
					}
					fast++
					return math.Float64bits(v) == math.Float64bits(s.exact(m, div))
				}
				for n := int64(-2000); n <= 2000; n++ {
					for _, div := range []uint64{1, 10, 1000, 64, 10000000} {
						require.True(t, check(n, div), "%d/%d", n, div)
					}
				}
				require.Positive(t, fast, "no plain decimal of this unit is fast")
				_, ok := s.fast(1234, 1000)
				require.True(t, ok, "three decimals must be fast")
				rapid.Check(t, func(t *rapid.T) {
					m := rapid.Int64Range(-9_999_999_999_999_999, 9_999_999_999_999_999).Draw(t, "m")
					div := rapid.SampledFrom([]uint64{1, 2, 4, 8, 16, 32, 64, 10, 100, 1000, 10000, 100000, 1000000, 10000000}).Draw(t, "div")
					if !check(m, div) {
						v, _ := s.fast(m, div)
						t.Fatalf("%d/%d: fast %v, exact %v", m, div, v, s.exact(m, div))
					}
				})
			})
		}
	}
}

// Ties go to even, as in the exact way.
func TestQuotientTies(t *testing.T) {
	one := &scale{num: 1, den: 1}
	for _, m := range []int64{1<<53 + 1, 1<<53 + 3, 1<<54 + 2, 1<<54 + 6, 1<<62 + 1<<9, 1<<62 + 3<<9} {
		v, ok := one.fast(m, 1)
		require.True(t, ok)
		assert.Equal(t, float64(m), v)
	}
	assert.Equal(t, 1.0/3, quotient(0, 1, 3))
	assert.Equal(t, 0.0, quotient(0, 0, 7))
	// Halfway between two float64s, and one bit of 128 above it.
	assert.Equal(t, float64(1<<64), quotient(1<<63|1<<10, 0, 1<<63))
	assert.Equal(t, float64(1<<64+1<<12), quotient(1<<63|1<<10, 1, 1<<63))
}

func TestSignSymmetry(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k := anyKind(t)
		if k == KindTemperature || k == KindCount {
			t.Skip("no negative numbers")
		}
		u := rapid.SampledFrom(append([]string{}, Units(k)...)).Draw(t, "unit")
		n := decimal(t)
		p, err := Parse(k, n+" "+u, "")
		require.NoError(t, err)
		for _, minus := range []string{"-", "−"} {
			m, err := Parse(k, minus+n, u)
			require.NoError(t, err)
			require.Equal(t, 0-p.SI, m.SI)
			require.Equal(t, p.Resolution, m.Resolution)
		}
	})
}

// What was typed comes back out of In, and a reading read again with its unit
// is the same reading.
func TestRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k := anyKind(t)
		if k == KindCount {
			t.Skip("whole")
		}
		u := rapid.SampledFrom(append([]string{}, Units(k)...)).Draw(t, "unit")
		n := rapid.StringMatching(`[0-9]{1,5}(\.[0-9]{1,5})?`).Draw(t, "number")
		a, err := Parse(k, n, u)
		require.NoError(t, err)
		v, ok := a.In(u)
		require.True(t, ok)
		var want float64
		_, err = fmt.Sscan(n, &want)
		require.NoError(t, err)
		require.Equal(t, want, v)
		again, err := Parse(k, a.Text, a.Unit)
		require.NoError(t, err)
		require.Equal(t, a, again)
	})
}

func TestEqualAmountsAreEqualBits(t *testing.T) {
	bits := func(t require.TestingT, k Kind, text string) uint64 {
		a, err := Parse(k, text, "")
		require.NoError(t, err, text)
		return math.Float64bits(a.SI)
	}
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(0, 99999).Draw(t, "n")
		same := func(k Kind, texts ...string) {
			for _, x := range texts[1:] {
				if bits(t, k, x) != bits(t, k, texts[0]) {
					t.Fatalf("%s and %s differ", texts[0], x)
				}
			}
		}
		same(KindLength, fmt.Sprintf("%d thou", n), fmt.Sprintf("%d.%03d in", n/1000, n%1000), fmt.Sprintf("%d.%04d mm", n*254/10000, n*254%10000), fmt.Sprintf("%d.%d um", n*254/10, n*254%10))
		same(KindLength, fmt.Sprintf("%d in", 12*n), fmt.Sprintf("%d ft", n))
		same(KindTorque, fmt.Sprintf("%d lb-ft", n), fmt.Sprintf("%d in-lb", 12*n))
		same(KindTemperature, fmt.Sprintf("%d F", 9*n+32), fmt.Sprintf("%d C", 5*n))
		same(KindPressure, fmt.Sprintf("%d kPa", 100*n), fmt.Sprintf("%d bar", n))
		same(KindSpeed, fmt.Sprintf("%d km/h", 18*n), fmt.Sprintf("%d m/s", 5*n))
		same(KindAngle, fmt.Sprintf("%d deg", 360*n), fmt.Sprintf("%d turn", n))
		same(KindTime, fmt.Sprintf("%d s", 60*n), fmt.Sprintf("%d min", n))
		w, num := n%100, n%64
		if num > 0 {
			same(KindLength, fmt.Sprintf("%d-%d/64 in", w, num), fmt.Sprintf("%d %d/64\"", w, num), fmt.Sprintf("%d.%06d in", w, num*15625))
		}
	})
}

func FuzzParse(f *testing.F) {
	for _, s := range []string{`.004"`, "1-1/16 in", "0,1 mm", "30psi", "300F", "−3", "1e3 mm", "½ in", "45 ft. lb", "4,500", "\xff", "4.5 to 1", "--", "1 1/", "9'9''"} {
		for i := range kinds {
			f.Add(i, s, "")
		}
		f.Add(0, s, "in")
	}
	f.Fuzz(func(t *testing.T, i int, text, def string) {
		start := time.Now()
		k := kinds[uint(i)%uint(len(kinds))]
		a, err := Parse(k, text, def)
		if d := time.Since(start); d > time.Second {
			t.Fatalf("took %v", d)
		}
		if err != nil {
			if len(err.Error()) > 600 {
				t.Fatalf("long message: %s", err)
			}
			return
		}
		sound(t, a)
		if b, err := Parse(k, a.Text, a.Unit); err != nil || b != a {
			t.Fatalf("read again: %v, %v", b, err)
		}
	})
}

func sound(t *testing.T, a Any) {
	if math.IsNaN(a.SI) || math.IsInf(a.SI, 0) || !(a.Resolution > 0) || math.IsInf(a.Resolution, 0) {
		t.Fatalf("%+v is not a finite reading", a)
	}
	if a.Both() == "" || !json.Valid([]byte(fmt.Sprint(a.SI))) {
		t.Fatalf("%+v cannot be shown", a)
	}
	Suggest(a, 0, 1)
}

func FuzzParseList(f *testing.F) {
	for _, s := range []string{"0 1.6 2 thou", "0, 1.6, 2", "0,1 1,6", "1 - 2 mm", "1-1/16 7/8 in", "1 1/16", ";;", "½ ¼ in", "4 thou 5", ", ,", "\xff\xff", "1 - thou - in"} {
		for i := range kinds {
			f.Add(i, s, "")
		}
		f.Add(0, s, "in")
	}
	f.Fuzz(func(t *testing.T, i int, text, def string) {
		start := time.Now()
		k := kinds[uint(i)%uint(len(kinds))]
		list, err := ParseList(k, text, def)
		if d := time.Since(start); d > time.Second {
			t.Fatalf("took %v", d)
		}
		if err != nil {
			if len(err.Error()) > 800 {
				t.Fatalf("long message: %s", err)
			}
			return
		}
		if len(list) == 0 {
			t.Fatal("no readings and no error")
		}
		for _, a := range list {
			if !a.Missing() {
				sound(t, a)
				if b, err := Parse(k, a.Text, a.Unit); err != nil || b != a {
					t.Fatalf("read again: %+v, want %+v, %v", b, a, err)
				}
			}
		}
	})
}

func BenchmarkParseDecimal(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Parse(KindLength, "0.1016 mm", "in"); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkParseBare(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Parse(KindLength, "1.125", "in"); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkParseList(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		if _, err := ParseList(KindLength, "0 1.6 2 .8 -1.2 -2.8 -3.2 -2 thou", ""); err != nil {
			b.Fatal(err)
		}
	}
}

// The short way of files and the long way of people read the same readings to
// the same bits; the short way refuses nothing, it passes on.
func TestPlainListIsTheLongWay(t *testing.T) {
	words := []string{"0", "1.6", "-2", "+.8", "-", "25.982", "0.0001", "123456789.1234567", "1234567890", "0.12345678", ".", "+", "1.", "-0", "--1", "1e3", "1/2", "1,5", "mm", "1..2", "NaN", "\t1", "5 6", "½"}
	rapid.Check(t, func(rt *rapid.T) {
		k := rapid.SampledFrom(kinds).Draw(rt, "kind")
		tab := tableOf(k)
		if tab == nil {
			return
		}
		def := rapid.SampledFrom(append(Units(k), "", "furlong")).Draw(rt, "unit")
		text := strings.TrimSpace(strings.Join(rapid.SliceOfN(rapid.SampledFrom(words), 1, 8).Draw(rt, "words"), " "))
		short, ok := tab.plain(nil, text, def)
		items, err := cut(text)
		var long []Any
		if err == nil {
			long, err = tab.takeAll(items, def)
		}
		if s := tab.plainScale(def); s != nil {
			if a, ok := s.plain(k, text); ok {
				if b, err := tab.parse(text, def); err != nil || a != b {
					rt.Fatalf("%q in %q: %+v, the long way %+v, %v", text, def, a, b, err)
				}
			}
		}
		if !ok {
			return
		}
		if err != nil || len(short) != len(long) {
			rt.Fatalf("%q in %q: %d readings, the long way %d, %v", text, def, len(short), len(long), err)
		}
		for i := range short {
			if short[i] != long[i] && !(short[i].Missing() && long[i].Missing()) {
				rt.Fatalf("%q in %q, reading %d: %+v, the long way %+v", text, def, i+1, short[i], long[i])
			}
		}
	})
	if list, ok := AppendPlain(nil, KindLength, "25.982 - 25.975", "mm"); !ok || len(list) != 3 {
		t.Error("the short way is not taken")
	}
	for _, text := range []string{"", " ", "1  2", strings.Repeat("1 ", mostValues) + "1", strings.Repeat("1", longestList+1)} {
		if _, ok := AppendPlain(nil, KindLength, text, "mm"); ok {
			t.Errorf("the short way takes %.20q", text)
		}
	}
}

func BenchmarkParsePlainList(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		if _, err := ParseList(KindLength, "25.982 25.978 25.975 25.977 25.983 25.986 25.984 25.979 25.974 25.976 25.981 25.985", "mm"); err != nil {
			b.Fatal(err)
		}
	}
}
