package brakes

import (
	"fmt"
	"math"
	"strconv"
	"testing"

	"chock/brakes/unit"
)

func TestJudge(t *testing.T) {
	const (
		diag = "rotor minimum 22.00 mm, u 0.02: 22.03 is 6.7 % and 22.04 2.3 % likely to be under; 2.5 % passes (normal tables)"
		std  = "JCGM 106 worked by hand: limit 24.40, u 0.004082, 1.96 u = 0.0080"
		hand = "by hand: 1.96 u for safety, 1.64 u for comfort, as the design of the verdict has it"
	)
	for _, tt := range []struct {
		name   string
		x, u   float64
		limit  Limit[unit.Length]
		kind   Kind
		want   unit.Verdict
		source string
	}{
		{"6.7 % under", 22.03, 0.02, AtLeast(mm(22)), Safety, unit.TooClose, diag},
		{"2.3 % under", 22.04, 0.02, AtLeast(mm(22)), Safety, unit.Within, diag},
		{"at the limit", 22.00, 0.02, AtLeast(mm(22)), Safety, unit.TooClose, diag},
		{"a hair under", 21.999, 0.02, AtLeast(mm(22)), Safety, unit.Outside, diag},
		{"U-1", 24.390, 0.004082, AtLeast(mm(24.4)), Safety, unit.Outside, std},
		{"U-4", 24.407, 0.004082, AtLeast(mm(24.4)), Safety, unit.TooClose, std},
		{"U-5", 24.410, 0.004082, AtLeast(mm(24.4)), Safety, unit.Within, std},
		{"drum within", 281.90, 0.04, AtMost(mm(282)), Safety, unit.Within, std},
		{"drum too close", 281.95, 0.04, AtMost(mm(282)), Safety, unit.TooClose, std},
		{"drum at its limit", 282, 0.04, AtMost(mm(282)), Safety, unit.TooClose, std},
		{"drum a hair over", 282.001, 0.04, AtMost(mm(282)), Safety, unit.Outside, std},
		{"runout within", 0.080, 0.01, AtMost(mm(0.1)), Comfort, unit.Within, hand},
		{"runout just not within", 0.084, 0.01, AtMost(mm(0.1)), Comfort, unit.TooClose, hand},
		{"runout just not outside", 0.116, 0.01, AtMost(mm(0.1)), Comfort, unit.TooClose, hand},
		{"runout outside", 0.117, 0.01, AtMost(mm(0.1)), Comfort, unit.Outside, hand},
		{"range, good", 0.010, 0.001, AtMostRange(mm(0.013), mm(0.025)), Comfort, unit.Within, hand},
		{"range, between", 0.020, 0.0001, AtMostRange(mm(0.013), mm(0.025)), Comfort, unit.TooClose, hand},
		{"range, bad", 0.027, 0.001, AtMostRange(mm(0.013), mm(0.025)), Comfort, unit.Outside, hand},
		{"at least, comfort, outside", 4.98, 0.01, AtLeast(mm(5)), Comfort, unit.Outside, hand},
		{"at least, comfort, too close", 4.99, 0.01, AtLeast(mm(5)), Comfort, unit.TooClose, hand},
		{"at least, comfort, within", 5.02, 0.01, AtLeast(mm(5)), Comfort, unit.Within, hand},
		{"1.95 u inside", 22.195, 0.1, AtLeast(mm(22)), Safety, unit.TooClose, hand},
		{"1.97 u inside", 22.197, 0.1, AtLeast(mm(22)), Safety, unit.Within, hand},
		{"1.63 u inside", 0.837, 0.1, AtMost(mm(1)), Comfort, unit.TooClose, hand},
		{"1.65 u inside", 0.835, 0.1, AtMost(mm(1)), Comfort, unit.Within, hand},
		{"no limit", 5, 0.01, Limit[unit.Length]{}, Safety, unit.NoLimit, "no limit, no verdict"},
		{"no doubt, at the limit", 5, 0, AtLeast(mm(5)), Safety, unit.Within, "by hand: at least 5 is met by 5"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			if tt.source == "" {
				t.Fatal("every row names its source")
			}
			got, err := Judge(mm(tt.x), mm(tt.u), tt.limit, tt.kind)
			if err != nil {
				t.Fatal(err)
			}
			if got != tt.want {
				t.Errorf("%v, want %v\nsource: %s", got, tt.want, tt.source)
			}
			if tt.limit.Side == Unknown {
				return
			}
			// The mirror: what is at least L is at most -L the other way.
			m := Limit[unit.Length]{Least + Most - tt.limit.Side, -tt.limit.High, -tt.limit.Low}
			if got, err := Judge(mm(-tt.x), mm(tt.u), m, tt.kind); err != nil || got != tt.want {
				t.Errorf("mirrored: %v, %v, want %v", got, err, tt.want)
			}
		})
	}
}

func TestJudgeRefuses(t *testing.T) {
	for _, bad := range notNumbers {
		_, err := Judge(bad, 0, AtMost(mm(1)), Safety)
		refused(t, "value", err)
		_, err = Judge(mm(1), bad, AtMost(mm(1)), Safety)
		refused(t, "doubt", err)
		_, err = Judge(mm(1), 0, AtMost(bad), Safety)
		refused(t, "limit", err)
	}
	_, err := Judge(mm(1), mm(-1), AtMost(mm(1)), Safety)
	refused(t, "negative doubt", err)
	_, err = Judge(mm(1), 0, AtMostRange(mm(2), mm(1)), Comfort)
	refused(t, "range the wrong way round", err)
}

func TestGauge(t *testing.T) {
	const std = "NIST TN 1297 section 4, worked by hand: step 0.01, limits ±0.004, s 0.003 over 3 readings"
	g := Gauge[unit.Length]{Step: mm(0.01), Error: mm(0.004), Scatter: mm(0.003), Repeats: 3}
	near(t, "u", g.Doubt(0).Millimetres(), "0.004082", std)
	near(t, "step alone", Gauge[unit.Length]{Step: mm(0.01)}.Noise().Millimetres(), "0.002887", std)
	near(t, "limits alone", Gauge[unit.Length]{Error: mm(0.004)}.Doubt(0).Millimetres(), "0.002309", std)
	near(t, "scatter alone", Gauge[unit.Length]{Scatter: mm(0.003), Repeats: 3}.Noise().Millimetres(), "0.001732", std)
	near(t, "difference of two", Gauge[unit.Length]{Step: um(1)}.DifferenceDoubt(0).Micrometres(), "0.408", "1/sqrt 6, the triangle of two rectangles")
	near(t, "placement", Gauge[unit.Length]{Step: um(12)}.Doubt(um(2)).Micrometres(), "4.000", "by hand: sqrt(12²/12 + 2²)")
	near(t, "step of 0.001 in", Gauge[unit.Length]{Step: unit.Thou}.Noise().Micrometres(), "7.332348", notes+"25.4/sqrt 12")
	near(t, "rectangle of 1.5", Gauge[unit.Length]{Error: mm(1.5)}.Doubt(0).Millimetres(), "0.87", "NIST TN 1297, a = 1.5 gives 0.87")
}

func phi(x float64) float64 { return math.Exp(-x*x/2) / math.Sqrt(2*math.Pi) }
func cdf(x float64) float64 { return math.Erfc(-x/math.Sqrt2) / 2 }

// simpson integrates f from -9 to 9.
func simpson(f func(float64) float64) float64 {
	const n, a, b = 800, -9.0, 9.0
	h := (b - a) / n
	sum := f(a) + f(b)
	for i := 1; i < n; i++ {
		sum += f(a+float64(i)*h) * float64(2+2*(i%2))
	}
	return sum * h / 3
}

func TestRangeConstants(t *testing.T) {
	for _, file := range []struct {
		name string
		got  func(n int) float64
	}{
		{"control-chart-d2.txt", func(n int) float64 { return ScatterMean(n, 1.0) }},
		{"studentized-range-95.txt", func(n int) float64 { return ScatterMost(n, 1.0) }},
	} {
		source, lines := published(t, file.name)
		if len(lines) < 19 {
			t.Fatalf("%s has %d lines", file.name, len(lines))
		}
		for _, l := range lines {
			n, err := strconv.Atoi(l[0])
			if err != nil {
				t.Fatal(err)
			}
			near(t, fmt.Sprintf("n = %d", n), file.got(n), l[1], source)
		}
	}
	for n := 2; n <= MostPositions; n++ {
		mean := simpson(func(x float64) float64 {
			p := cdf(x)
			return 1 - math.Pow(p, float64(n)) - math.Pow(1-p, float64(n))
		})
		if d := ScatterMean(n, 1.0) - mean; math.Abs(d) > 0.5001e-4 {
			t.Errorf("d2(%d) is off its integral by %g", n, d)
		}
		q := ScatterMost(n, 1.0)
		chance := simpson(func(x float64) float64 {
			return float64(n) * phi(x) * math.Pow(cdf(x+q)-cdf(x), float64(n-1))
		})
		// The density of the range is about 0.13 there: half of the last
		// place is 7 millionths of chance.
		if math.Abs(chance-0.95) > 1e-5 {
			t.Errorf("q95(%d) = %g has chance %g", n, q, chance)
		}
	}
	const flat = notes + "d2 times 2.5 µm"
	near(t, "a flat rotor, 8 readings", ScatterMean(8, um(2.5)).Micrometres(), "7.118", flat)
	near(t, "a flat rotor, 12 readings", ScatterMean(12, um(2.5)).Micrometres(), "8.146", flat)
	near(t, "less scatter", LessScatter(um(5), 2, um(1/1.1284)).Micrometres(), "4.899", "by hand: sqrt(25 - 1)")
	if got := LessScatter(um(2), 8, um(1)); got != 0 {
		t.Errorf("less than scatter leaves %v", got)
	}
}
