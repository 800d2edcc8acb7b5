package brakes

import (
	"math"
	"strconv"
	"testing"

	"chock/brakes/unit"
	"pgregory.net/rapid"
)

// beat gives one beat of a part, n times a turn.
func beat(t *testing.T, part Part, n string, v unit.Speed, turn unit.Length, axle unit.Ratio) unit.Frequency {
	t.Helper()
	beats, err := Beats(v, turn, axle)
	must(t, beats, err)
	for _, b := range beats {
		if b.Part == part && strconv.Itoa(b.Order) == n {
			return b.Rate
		}
	}
	t.Fatalf("no %s of order %s", part, n)
	return 0
}

func speedOf(t *testing.T, text string) unit.Speed { t.Helper(); return amount[unit.Speed](t, text) }

var shakeOps = map[string]operation{
	"wheel-hz": func(t *testing.T, in []string) any {
		return beat(t, Wheel, "1", speedOf(t, in[1]), rolling(t, readTyre(t, in[0]).Free), 0)
	},
	"wheel-times": func(t *testing.T, in []string) any {
		return beat(t, Wheel, in[2], speedOf(t, in[1]), rolling(t, readTyre(t, in[0]).Free), 0)
	},
	"shaft-times": func(t *testing.T, in []string) any {
		return beat(t, Shaft, in[3], speedOf(t, in[1]), rolling(t, readTyre(t, in[0]).Free), amount[unit.Ratio](t, in[2]))
	},
	"loaded-hz": func(t *testing.T, in []string) any {
		return beat(t, Wheel, "1", speedOf(t, in[1]), rolling(t, amount[unit.Length](t, in[0])), 0)
	},
	"turn-hz": func(t *testing.T, in []string) any {
		return beat(t, Wheel, "1", speedOf(t, in[1]), amount[unit.Length](t, in[0]), 0)
	},
	"circle-hz": func(t *testing.T, in []string) any {
		return beat(t, Wheel, "1", speedOf(t, in[1]), circle(amount[unit.Length](t, in[0])), 0)
	},
	"shaft-hz": func(t *testing.T, in []string) any {
		return beat(t, Shaft, in[3], speedOf(t, in[1]), amount[unit.Length](t, in[0]), amount[unit.Ratio](t, in[2]))
	},
	"per-mile-hz": func(t *testing.T, in []string) any {
		return beat(t, Wheel, "1", speedOf(t, in[1]), times(1/float64(amount[unit.Ratio](t, in[0])), unit.Mile), 0)
	},
	// A wheel that turns so often a second, on a tyre of one metre a turn.
	"wheel-order": func(t *testing.T, in []string) any {
		return beat(t, Wheel, in[1], unit.Speed(amount[unit.Frequency](t, in[0])), 1, 0)
	},
	"shaft-order": func(t *testing.T, in []string) any {
		return beat(t, Shaft, in[2], unit.Speed(amount[unit.Frequency](t, in[0])), 1, amount[unit.Ratio](t, in[1]))
	},
}

func TestBeats(t *testing.T) {
	beats, err := Beats(20, 2, 0)
	must(t, beats, err)
	if len(beats) != 3 {
		t.Errorf("%d beats without an axle ratio, want the wheel's 3", len(beats))
	}
	beats, err = Beats(20, 2, 3.5)
	must(t, beats, err)
	want := []Beat{{Wheel, 1, 10}, {Wheel, 2, 20}, {Wheel, 3, 30}, {Shaft, 1, 35}, {Shaft, 2, 70}}
	if len(beats) != len(want) {
		t.Fatalf("%v", beats)
	}
	for i, b := range beats {
		if b.Part != want[i].Part || b.Order != want[i].Order || math.Abs(float64(b.Rate-want[i].Rate)) > 1e-12 {
			t.Errorf("%+v, want %+v", b, want[i])
		}
	}
	if Wheel.String() != "wheel" || Shaft.String() != "shaft" {
		t.Error(Wheel, Shaft)
	}
}

func TestMatchBeat(t *testing.T) {
	const source = "by hand: 3 and 3 % are 4.24 % by the root of the squares and 6 % by their sum; a step of 1 at 20 is 2.5 % more"
	b := Beat{Wheel, 1, 20}
	for _, tt := range []struct {
		f, step float64
		want    unit.Verdict
	}{
		{20, 0, unit.Within}, {20.84, 0, unit.Within}, {20.86, 0, unit.TooClose}, {21.19, 0, unit.TooClose}, {21.21, 0, unit.Outside},
		{19.16, 0, unit.Within}, {19.14, 0, unit.TooClose}, {18.81, 0, unit.TooClose}, {18.79, 0, unit.Outside},
		// With a step of 1 Hz the root is 4.9 % and the sum 8.4 % or so; at
		// 20.9725 it is 4.8666 % against 4.8625, at 20.974 4.8665 against 4.8700.
		{20.95, 1, unit.Within}, {20.9725, 1, unit.Within}, {20.974, 1, unit.TooClose}, {21.1, 1, unit.TooClose}, {21.6, 1, unit.TooClose}, {21.8, 1, unit.Outside},
	} {
		m, err := MatchBeat(b, unit.Frequency(tt.f), unit.Frequency(tt.step), 0.03, 0.03)
		must(t, m, err)
		if m.Fits != tt.want {
			t.Errorf("%g Hz, step %g: %v, want %v\nsource: %s", tt.f, tt.step, m.Fits, tt.want, source)
		}
		near(t, "off", float64(m.Off), strconv.FormatFloat(tt.f/20-1, 'f', 9, 64), source)
	}
	// Knowing one of the two better narrows it, either of them alike.
	for _, x := range [][2]unit.Ratio{{0.01, 0.03}, {0.03, 0.01}} {
		if m, err := MatchBeat(b, 20.66, 0, x[0], x[1]); err != nil || m.Fits != unit.TooClose {
			t.Errorf("%+v, %v", m, err)
		}
		if m, err := MatchBeat(b, 20.62, 0, x[0], x[1]); err != nil || m.Fits != unit.Within {
			t.Errorf("%+v, %v", m, err)
		}
	}
	if m, err := MatchBeat(b, 20, 0, 0.5, 0.5); err != nil || m.Fits != unit.Within {
		t.Errorf("%+v, %v", m, err)
	}
	near(t, "count", CountOff.Value.Percent(), "2.00", "our choice, written down in the figure")
	near(t, "dial", SpeedOff.Value.Percent(), "3.00", "our choice, written down in the figure")
}

func TestTellApart(t *testing.T) {
	const source = "by hand: h = (q - 1)/(q + 1)"
	// 12 and 24 Hz at 20 m/s: h = 1/3, 1/9 - 0.0018 is 0.10931, root 0.33062;
	// half a step of 1 over 12 is 0.041667: 20 x 0.041667/0.33062 = 2.5205.
	from, ok, err := TellApart(Beat{Wheel, 1, 12}, Beat{Wheel, 2, 24}, 20, 1, 0.03, 0.03)
	if err != nil || !ok {
		t.Fatal(ok, err)
	}
	near(t, "speed", float64(from), "2.5205", source)
	swapped, _, _ := TellApart(Beat{Wheel, 2, 24}, Beat{Wheel, 1, 12}, 20, 1, 0.03, 0.03)
	if swapped != from {
		t.Errorf("%v, want %v", swapped, from)
	}
	// An axle of 2.00: twice a turn of the wheel is once a turn of the shaft.
	if _, ok, err = TellApart(Beat{Wheel, 2, 24}, Beat{Shaft, 1, 24}, 20, 0, 0.03, 0.03); ok || err != nil {
		t.Error(ok, err)
	}
	// 1.05 times: h 2.44 %, no speed at 4.24 %, some at 1.41 %.
	if _, ok, _ = TellApart(Beat{Wheel, 2, 20}, Beat{Shaft, 1, 21}, 20, 0.1, 0.03, 0.03); ok {
		t.Error("3 and 3 % tell 1.05 times")
	}
	from, ok, _ = TellApart(Beat{Wheel, 2, 20}, Beat{Shaft, 1, 21}, 20, 0.1, 0.01, 0.01)
	if !ok {
		t.Fatal("1 and 1 % do not")
	}
	// 0.0025/sqrt(0.024390² - 0.0002) = 0.0025/0.019872; times 20.
	near(t, "speed", float64(from), "2.516", source)
}

func TestReadTrend(t *testing.T) {
	const source = "by hand: ln(f2/f1)/ln(v2/v1)"
	for _, tt := range []struct {
		name           string
		v1, v2, f1, f2 float64
		step, e        float64
		want           Growth
		power          string
	}{
		{"turns with the road", 45, 60, 9, 12, 0.1, 0.01, GrowsWithSpeed, "1.000"},
		{"given the other way round", 60, 45, 12, 9, 0.1, 0.01, GrowsWithSpeed, "1.000"},
		{"stays put", 45, 60, 11, 11, 0.1, 0.01, StaysPut, "0.000"},
		{"grows as the square", 45, 60, 9, 16, 0.1, 0.01, GrowsOtherwise, "2.000"},
		{"falls", 45, 60, 12, 9, 0.1, 0.01, GrowsOtherwise, "-1.000"},
		{"half way", 40, 60, 10, 12.2474, 0.1, 0.01, GrowsOtherwise, "0.500"},
		{"speeds too near", 58, 60, 12, 12, 1, 0.03, GrowthUnknown, "0.000"},
	} {
		trend, err := ReadTrend(unit.Speed(tt.v1), unit.Speed(tt.v2), unit.Frequency(tt.f1), unit.Frequency(tt.f2), unit.Frequency(tt.step), unit.Frequency(tt.step), unit.Ratio(tt.e))
		must(t, trend, err)
		near(t, tt.name, float64(trend.Power)+0, tt.power, source)
		if trend.Growth != tt.want {
			t.Errorf("%s: %v, want %v (%+v)", tt.name, trend.Growth, tt.want, trend)
		}
	}
	trend, err := ReadTrend(45, 60, 9, 12, 1, 1, 0.01)
	must(t, trend, err)
	// sqrt((0.5/9)² + (0.5/12)² + 0.01²) = 0.070161; over ln(4/3) 0.287682 it
	// is 0.24388; exp(0.140322) = 1.15065.
	near(t, "doubt", float64(trend.Doubt), "0.2439", source)
	near(t, "apart", float64(trend.Apart), "1.1506", source)
	// Only the step of the one, only of the other.
	one, _ := ReadTrend(45, 60, 9, 12, 1, 0, 0)
	near(t, "first step", float64(one.Doubt), "0.1931", source)
	two, _ := ReadTrend(45, 60, 9, 12, 0, 1, 0)
	near(t, "second step", float64(two.Doubt), "0.1448", source)
}

func TestCountPulses(t *testing.T) {
	const source = "by hand: one pulse more or less over so many turns"
	for _, tt := range []struct {
		name           string
		pulses, turns  unit.Count
		axle           unit.Ratio
		per, low, high string
		order, shaft   int
	}{
		{"one a turn", 10, 10, 0, "1.0", "0.9", "1.1", 1, 0},
		{"two a turn", 19, 10, 0, "1.9", "1.8", "2.0", 2, 0},
		{"two turns are too few", 4, 2, 0, "2.0", "1.5", "2.5", 2, 0},
		{"one turn is too few", 2, 1, 0, "2.0", "1.0", "3.0", 0, 0},
		{"the shaft", 36, 10, 3.55, "3.6", "3.5", "3.7", 0, 1},
		{"the shaft twice", 71, 10, 3.55, "7.1", "7.0", "7.2", 7, 2},
		{"an axle that may be a wheel", 40, 10, 4.1, "4.0", "3.9", "4.1", 4, 1},
		{"both orders of the shaft", 4, 2, 1.3, "2.0", "1.5", "2.5", 2, 0},
		{"nothing", 0, 10, 3.55, "0.0", "0.0", "0.1", 0, 0},
		{"one in ten", 1, 10, 0, "0.1", "0.0", "0.2", 0, 0},
	} {
		p, err := CountPulses(tt.pulses, tt.turns, tt.axle)
		must(t, p, err)
		near(t, tt.name, float64(p.PerTurn), tt.per, source)
		near(t, tt.name+" low", float64(p.Low), tt.low, source)
		near(t, tt.name+" high", float64(p.High), tt.high, source)
		if p.Order != tt.order || p.Shaft != tt.shaft {
			t.Errorf("%s: order %d, shaft %d, want %d and %d", tt.name, p.Order, p.Shaft, tt.order, tt.shaft)
		}
	}
	p, _ := CountPulses(4, 2, 1.4) // 1.5 to 2.5, and twice 1.4 is 2.8
	if p.Shaft != 0 {
		t.Errorf("%+v", p)
	}
	// From so many turns on, no window holds two whole numbers.
	if p.More != 3 {
		t.Errorf("%v turns", p.More)
	}
}

func TestShakeRefuses(t *testing.T) {
	b := Beat{Wheel, 1, 10}
	for _, x := range []float64{math.NaN(), math.Inf(1), math.Inf(-1), -1} {
		v, f, r, c := unit.Speed(x), unit.Frequency(x), unit.Ratio(x), unit.Count(x)
		_, err := Beats(v, 2, 0)
		refused(t, "speed", err)
		_, err = Beats(20, unit.Length(x), 0)
		refused(t, "turn", err)
		_, err = Beats(20, 2, r)
		refused(t, "axle", err)
		_, err = MatchBeat(b, f, 0, 0, 0)
		refused(t, "felt", err)
		_, err = MatchBeat(b, 10, f, 0, 0)
		refused(t, "step", err)
		_, err = MatchBeat(b, 10, 0, r, 0)
		refused(t, "speed off", err)
		_, err = MatchBeat(b, 10, 0, 0, r)
		refused(t, "tyre off", err)
		_, err = MatchBeat(Beat{Wheel, 1, f}, 10, 0, 0, 0)
		refused(t, "rate", err)
		_, _, err = TellApart(Beat{Wheel, 1, f}, b, 20, 0, 0, 0)
		refused(t, "one", err)
		_, _, err = TellApart(b, Beat{Wheel, 1, f}, 20, 0, 0, 0)
		refused(t, "other", err)
		_, _, err = TellApart(b, b, v, 0, 0, 0)
		refused(t, "speed", err)
		_, _, err = TellApart(b, b, 20, f, 0, 0)
		refused(t, "step", err)
		_, _, err = TellApart(b, b, 20, 0, r, 0)
		refused(t, "speed off", err)
		_, _, err = TellApart(b, b, 20, 0, 0, r)
		refused(t, "tyre off", err)
		_, err = ReadTrend(v, 2, 3, 4, 0, 0, 0)
		refused(t, "v1", err)
		_, err = ReadTrend(1, v, 3, 4, 0, 0, 0)
		refused(t, "v2", err)
		_, err = ReadTrend(1, 2, f, 4, 0, 0, 0)
		refused(t, "f1", err)
		_, err = ReadTrend(1, 2, 3, f, 0, 0, 0)
		refused(t, "f2", err)
		_, err = ReadTrend(1, 2, 3, 4, f, 0, 0)
		refused(t, "step 1", err)
		_, err = ReadTrend(1, 2, 3, 4, 0, f, 0)
		refused(t, "step 2", err)
		_, err = ReadTrend(1, 2, 3, 4, 0, 0, r)
		refused(t, "dial", err)
		_, err = CountPulses(c, 10, 0)
		refused(t, "pulses", err)
		_, err = CountPulses(10, c, 0)
		refused(t, "turns", err)
		_, err = CountPulses(10, 10, r)
		refused(t, "axle", err)
	}
	for _, axle := range []unit.Ratio{0.99, 10.01} {
		_, err := Beats(20, 2, axle)
		refused(t, "axle", err)
		_, err = CountPulses(10, 10, axle)
		refused(t, "axle", err)
	}
	for _, axle := range []unit.Ratio{1, 10} {
		_, err := Beats(20, 2, axle)
		must(t, axle, err)
		_, err = CountPulses(10, 10, axle)
		must(t, axle, err)
	}
	_, err := MatchBeat(b, 10, 0, 0.504, 0)
	refused(t, "half off", err)
	_, err = MatchBeat(b, 10, 0, 0, 0.504)
	refused(t, "half off", err)
	_, err = ReadTrend(1, 2, 3, 4, 0, 0, 0.504)
	refused(t, "half off", err)
	_, err = ReadTrend(2, 2, 3, 4, 0, 0, 0)
	refused(t, "one speed", err)
	_, err = CountPulses(1001, 10, 0)
	refused(t, "pulses", err)
	_, err = CountPulses(10, 1001, 0)
	refused(t, "turns", err)
	_, err = CountPulses(10, 0.5, 0)
	refused(t, "turns", err)
	_, err = CountPulses(1000, 1000, 0)
	must(t, b, err)
}

func TestShakeProperties(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		v := unit.Speed(rapid.Float64Range(1, 50).Draw(rt, "speed"))
		c := unit.Length(rapid.Float64Range(1, 5).Draw(rt, "turn"))
		axle := unit.Ratio(rapid.Float64Range(1, 10).Draw(rt, "axle"))
		k := rapid.Float64Range(0.2, 5).Draw(rt, "scale")
		a, err := Beats(v, c, axle)
		if err != nil {
			rt.Fatal(err)
		}
		fast, _ := Beats(times(k, v), c, axle)
		wide, _ := Beats(times(k, v), times(k, c), axle)
		for i := range a {
			// Twice the speed, twice the beat; a tyre twice as large as well,
			// the same again.
			if math.Abs(float64(fast[i].Rate)/(k*float64(a[i].Rate))-1) > 1e-12 || math.Abs(float64(wide[i].Rate/a[i].Rate)-1) > 1e-12 {
				rt.Fatalf("%+v %+v %+v", a[i], fast[i], wide[i])
			}
			// A turning part is found again at any two speeds, however the dial
			// is off, and its own beat always fits.
			m, err := MatchBeat(a[i], a[i].Rate, 0, 0, 0)
			if err != nil || m.Fits != unit.Within || m.Off != 0 {
				rt.Fatalf("%+v, %v", m, err)
			}
			if math.Abs(math.Log(k)) > 0.01 {
				trend, err := ReadTrend(v, times(k, v), a[i].Rate, fast[i].Rate, 0, 0, 1e-6)
				if err != nil || trend.Growth != GrowsWithSpeed {
					rt.Fatalf("%+v, %v", trend, err)
				}
			}
		}
		// What fits at some doubt fits at more.
		f := times(rapid.Float64Range(0.8, 1.25).Draw(rt, "felt"), a[0].Rate)
		s := unit.Ratio(rapid.Float64Range(0, 0.1).Draw(rt, "off"))
		less, _ := MatchBeat(a[0], f, 0, s, s)
		more, _ := MatchBeat(a[0], f, 0, s+0.01, s)
		rank := map[unit.Verdict]int{unit.Within: 2, unit.TooClose: 1, unit.Outside: 0}
		if rank[more.Fits] < rank[less.Fits] {
			rt.Fatalf("%+v then %+v", less, more)
		}
		// Where a speed is said to tell two beats apart, at more than that speed
		// no frequency fits both, and at less some do.
		step := unit.Frequency(rapid.Float64Range(0.1, 2).Draw(rt, "step"))
		from, ok, err := TellApart(a[0], a[1], v, step, 0.03, 0.03)
		if err != nil || !ok {
			rt.Fatal(ok, err)
		}
		for _, over := range []bool{true, false} {
			at := times(1.01, from)
			if !over {
				at = times(0.99, from)
			}
			there, _ := Beats(at, c, 0)
			one, two := float64(there[0].Rate), float64(there[1].Rate)
			// Off by the same share from both: the middle.
			h := (two - one) / (two + one)
			w := math.Hypot(0.03, math.Hypot(0.03, float64(step)/2/one))
			if (h > w) != over {
				rt.Fatalf("at %v the gap is %g and the doubt %g", at, h, w)
			}
		}
		// Counted by the wheel, speed and tyre do not matter.
		n := rapid.IntRange(1, 6).Draw(rt, "order")
		turns := rapid.IntRange(3, 40).Draw(rt, "turns")
		slip := rapid.IntRange(-1, 1).Draw(rt, "slip")
		p, err := CountPulses(unit.Count(n*turns+slip), unit.Count(turns), 0)
		if err != nil || p.Order != n {
			rt.Fatalf("%d a turn over %d turns, off by %d: %+v, %v", n, turns, slip, p, err)
		}
	})
}

func BenchmarkShake(b *testing.B) {
	for b.Loop() {
		beats, err := Beats(26.8, 2.2, 3.55)
		if err != nil {
			b.Fatal(err)
		}
		for _, one := range beats {
			if _, err := MatchBeat(one, 12, 1, 0.03, 0.03); err != nil {
				b.Fatal(err)
			}
		}
	}
}
