package brakes

import (
	"math"
	"strconv"
	"testing"

	"chock/brakes/unit"
	"gonum.org/v1/gonum/dsp/fourier"
	"gonum.org/v1/gonum/integrate/quad"
	"pgregory.net/rapid"
)

func pushed(t *testing.T, bore, variation string) unit.Volume {
	t.Helper()
	v, err := PushedBack(unit.Circle(amount[unit.Length](t, bore)), amount[unit.Length](t, variation))
	return must(t, v, err)
}

var growthOps = map[string]operation{
	"per-pass": func(t *testing.T, in []string) any {
		l, err := PerPass(amount[unit.Length](t, in[0]), amount[unit.Length](t, in[1]), amount[unit.Length](t, in[2]))
		return must(t, l, err)
	},
	"share-far": func(t *testing.T, in []string) any {
		low, _, err := TripShare(amount[unit.Length](t, in[0]))
		return must(t, low, err)
	},
	"share-near": func(t *testing.T, in []string) any {
		_, high, err := TripShare(amount[unit.Length](t, in[0]))
		return must(t, high, err)
	},
	"rub": func(t *testing.T, in []string) any {
		n, err := strconv.Atoi(in[2])
		must(t, n, err)
		r, err := RubOrder(n, amount[unit.Ratio](t, in[1]), in[0] == "both")
		return must(t, r, err)
	},
	"pushed": func(t *testing.T, in []string) any { return pushed(t, in[0], in[1]) },
	"pedal-pulse": func(t *testing.T, in []string) any {
		all := times(float64(amount[unit.Count](t, in[2])), pushed(t, in[0], in[1]))
		l, err := PedalPulse(all, unit.Circle(amount[unit.Length](t, in[3])), amount[unit.Ratio](t, in[4]))
		return must(t, l, err)
	},
	"pressure-pulse": func(t *testing.T, in []string) any {
		p, err := PressurePulse(pushed(t, in[0], in[1]), amount[unit.Volume](t, in[2]), unit.Megapascal)
		return must(t, p, err)
	},
	"torque-pulse": func(t *testing.T, in []string) any {
		q, err := TorquePulse(amount[unit.Pressure](t, in[1]), unit.Circle(amount[unit.Length](t, in[0])), amount[unit.Ratio](t, in[2]), amount[unit.Length](t, in[3]))
		return must(t, q, err)
	},
	"worn": func(t *testing.T, in []string) any {
		w, err := WornBy(amount[unit.Energy](t, in[0]), amount[unit.Ratio](t, in[1]), amount[unit.Area](t, in[2]))
		must(t, w, err)
		return times(float64(amount[unit.Ratio](t, in[3])), w.Middle)
	},
}

func TestGrowthFigures(t *testing.T) {
	const makers = "makers' service information, 2004 to 2010: 3,000 to 7,000 miles (4,800 to 11,300 km)"
	near(t, "near", GrowthNear.Value.Miles(), "3000", makers)
	near(t, "far", GrowthFar.Value.Miles(), "7000", makers)
	near(t, "felt", FeltVariation.Value.Micrometres(), "20.0", "texts on judder: as little as 20 micrometres")
	near(t, "wear rate", WearRate.Value.CubicMillimetres(), "10.0", "texts on wear: 1e-5 mm³ for a newton and a metre")
	near(t, "band", WearBand.Value.Percent(), "50.0", "notes: 30 to 50 % either side")

	grown, err := Grown(um(5), 0.5)
	must(t, grown, err)
	near(t, "half of the way", grown.Micrometres(), "15.0", "by hand: 5 and half of 20")
	w, err := WornBy(142449, 0.38, 4500*unit.SquareMillimetre)
	must(t, w, err)
	near(t, "low", w.Low.Micrometres()/w.Middle.Micrometres(), "0.50", "half")
	near(t, "high", w.High.Micrometres()/w.Middle.Micrometres(), "1.50", "one and a half")
}

// The closed form against a transform of the rub itself, sampled, and against
// its integral.
func TestRubAgainstTransform(t *testing.T) {
	const n = 4096
	fft := fourier.NewFFT(n)
	for _, gap := range []float64{0, 0.2, 0.5, 0.9} {
		for _, both := range []bool{false, true} {
			face := func(x float64) float64 { return math.Max(0, math.Cos(x)-gap) }
			wear := face
			if both {
				wear = func(x float64) float64 { return face(x) + face(x+math.Pi) }
			}
			y := make([]float64, n)
			for i := range y {
				y[i] = wear(2 * math.Pi * float64(i) / n)
			}
			c := fft.Coefficients(nil, y)
			for order := 1; order <= 8; order++ {
				got, err := RubOrder(order, unit.Ratio(gap), both)
				must(t, got, err)
				if want := 2 * real(c[order]) / n; math.Abs(float64(got)-want) > 2e-6 {
					t.Errorf("gap %g, both %v, order %d: %g, want %g", gap, both, order, float64(got), want)
				}
				alpha := math.Acos(gap)
				one := quad.Fixed(func(x float64) float64 { return face(x) * math.Cos(float64(order)*x) / math.Pi }, -alpha, alpha, 64, nil, 0)
				if alone, _ := RubOrder(order, unit.Ratio(gap), false); math.Abs(float64(alone)-one) > 1e-12 {
					t.Errorf("gap %g, order %d: %g, want %g", gap, order, float64(alone), one)
				}
			}
		}
	}
}

func TestGrowthRefuses(t *testing.T) {
	for _, x := range []float64{math.NaN(), math.Inf(1), math.Inf(-1), -1} {
		l, r := unit.Length(x), unit.Ratio(x)
		_, _, err := TripShare(l)
		refused(t, "trip", err)
		_, err = PerPass(l, 1, 1)
		refused(t, "grown", err)
		_, err = PerPass(1, l, 1)
		refused(t, "way", err)
		_, err = PerPass(1, 1, l)
		refused(t, "turn", err)
		_, err = Grown(l, 1)
		refused(t, "now", err)
		_, err = Grown(0, r)
		refused(t, "share", err)
		_, err = PushedBack(unit.Area(x), 1)
		refused(t, "piston", err)
		_, err = PushedBack(1, l)
		refused(t, "variation", err)
		_, err = PedalPulse(unit.Volume(x), 1, 1)
		refused(t, "fluid", err)
		_, err = PedalPulse(1, unit.Area(x), 1)
		refused(t, "master", err)
		_, err = PedalPulse(1, 1, r)
		refused(t, "pedal", err)
		_, err = PressurePulse(unit.Volume(x), 1, 1)
		refused(t, "fluid", err)
		_, err = PressurePulse(1, unit.Volume(x), 1)
		refused(t, "takes", err)
		_, err = PressurePulse(1, 1, unit.Pressure(x))
		refused(t, "pressure", err)
		_, err = TorquePulse(unit.Pressure(x), 1, 1, 1)
		refused(t, "pulse", err)
		_, err = TorquePulse(1, unit.Area(x), 1, 1)
		refused(t, "piston", err)
		_, err = TorquePulse(1, 1, r, 1)
		refused(t, "friction", err)
		_, err = TorquePulse(1, 1, 1, l)
		refused(t, "radius", err)
		_, err = RubOrder(2, r, true)
		refused(t, "gap", err)
		_, err = WornBy(unit.Energy(x), 1, 1)
		refused(t, "energy", err)
		_, err = WornBy(1, r, 1)
		refused(t, "friction", err)
		_, err = WornBy(1, 1, unit.Area(x))
		refused(t, "area", err)
	}
	for _, mu := range []unit.Ratio{1.01, 38} { // a percentage without its sign
		_, err := TorquePulse(1, 1, mu, 1)
		refused(t, "friction of no lining", err)
		_, err = WornBy(1, mu, 1)
		refused(t, "friction of no lining", err)
	}
	_, _, err := TripShare(0)
	refused(t, "no trip", err)
	_, err = PerPass(1, 0, 1)
	refused(t, "no way", err)
	_, err = PushedBack(0, 1)
	refused(t, "no piston", err)
	_, err = RubOrder(2, 1, true)
	refused(t, "gap of the swing", err)
	_, err = RubOrder(0, 0, true)
	refused(t, "order", err)
	_, err = RubOrder(25, 0, true)
	refused(t, "order", err)
	_, err = RubOrder(24, 0, true)
	must(t, 0, err)
}

func TestGrowthProperties(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		k := rapid.Float64Range(0.1, 10).Draw(rt, "scale")
		trip := unit.Length(rapid.Float64Range(1e3, 1e8).Draw(rt, "trip"))
		low, high, err := TripShare(trip)
		if err != nil || !(low < high) {
			rt.Fatal(low, high, err)
		}
		low2, high2, _ := TripShare(times(k, trip))
		same := func(what string, a, b float64) {
			if math.Abs(a-b) > 1e-9*math.Abs(b) {
				rt.Fatalf("%s: %g, want %g", what, a, b)
			}
		}
		same("share", float64(low2), k*float64(low))
		same("share", float64(high2), k*float64(high))
		same("the two ends", float64(high/low), 7.0/3)
		// What is pushed back, the pedal takes in full: work in is work out.
		bore := unit.Length(rapid.Float64Range(0.02, 0.08).Draw(rt, "bore"))
		dtv := unit.Length(rapid.Float64Range(0, 1e-4).Draw(rt, "variation"))
		ip := unit.Ratio(rapid.Float64Range(1, 8).Draw(rt, "pedal"))
		v, err := PushedBack(unit.Circle(bore), dtv)
		if err != nil {
			rt.Fatal(err)
		}
		s, err := PedalPulse(v, unit.Circle(0.0254), ip)
		if err != nil {
			rt.Fatal(err)
		}
		p := unit.Pressure(2e6)
		foot := times(1/float64(ip), p.On(unit.Circle(0.0254)))
		same("work", float64(foot.Along(s)), float64(p)*float64(v))
		// The pulse of pressure and of torque go with the variation.
		one, _ := PressurePulse(v, 1e-6, 1e6)
		more, _ := PressurePulse(times(k, v), 1e-6, 1e6)
		same("pressure", float64(more), k*float64(one))
		t1, _ := TorquePulse(one, unit.Circle(bore), 0.38, 0.115)
		t2, _ := TorquePulse(more, unit.Circle(bore), 0.38, 0.115)
		same("torque", float64(t2), k*float64(t1))
		// A wider gap rubs less; both faces rub at even orders only, and double.
		g := rapid.Float64Range(0, 0.95).Draw(rt, "gap")
		tight, _ := RubOrder(1, unit.Ratio(g), false)
		wide, _ := RubOrder(1, unit.Ratio(g+0.04), false)
		if !(wide < tight) {
			rt.Fatalf("gap %g: %g, then %g", g, float64(tight), float64(wide))
		}
		n := rapid.IntRange(1, 24).Draw(rt, "order")
		alone, _ := RubOrder(n, unit.Ratio(g), false)
		both, _ := RubOrder(n, unit.Ratio(g), true)
		if want := 2 * float64(alone) * float64((n+1)%2); both != unit.Ratio(want) {
			rt.Fatalf("order %d: %g, want %g", n, float64(both), want)
		}
		// Twice the speed, four times the wear.
		m := unit.Mass(2500)
		w1, _ := WornBy(m.Moving(20), 0.38, 0.0045)
		w2, _ := WornBy(m.Moving(40), 0.38, 0.0045)
		same("wear", float64(w2.Middle), 4*float64(w1.Middle))
	})
}

func BenchmarkGrowth(b *testing.B) {
	for b.Loop() {
		if _, _, err := TripShare(3e6); err != nil {
			b.Fatal(err)
		}
		if _, err := RubOrder(2, 0.5, true); err != nil {
			b.Fatal(err)
		}
	}
}
