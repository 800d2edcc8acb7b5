package brakes

import (
	"math"
	"testing"

	"chock/brakes/unit"
	"pgregory.net/rapid"
)

// plainBooster reads gain, diaphragm and vacuum.
func plainBooster(t *testing.T, in []string) (Booster, unit.Pressure) {
	t.Helper()
	a, err := Diaphragms(amounts[unit.Length](t, in[1]))
	must(t, a, err)
	return Booster{Gain: amount[unit.Ratio](t, in[0]), Diaphragm: a}, amount[unit.Pressure](t, in[2])
}

var boosterOps = map[string]operation{
	"knee-in": func(t *testing.T, in []string) any {
		b, v := plainBooster(t, in)
		rod, _, err := b.Knee(v)
		return must(t, rod, err)
	},
	"knee-out": func(t *testing.T, in []string) any {
		b, v := plainBooster(t, in)
		_, out, err := b.Knee(v)
		return must(t, out, err)
	},
	"boost": func(t *testing.T, in []string) any {
		b, v := plainBooster(t, in)
		out, err := b.Out(amount[unit.Force](t, in[3]), v)
		return must(t, out, err)
	},
	"help": func(t *testing.T, in []string) any {
		b, v := plainBooster(t, in)
		rod := amount[unit.Force](t, in[3])
		out, err := b.Out(rod, v)
		return must(t, out, err) - rod
	},
	"needed": func(t *testing.T, in []string) any {
		b, v := plainBooster(t, in)
		rod, err := b.Needed(amount[unit.Force](t, in[3]), v)
		return must(t, rod, err)
	},
	"barometer": func(t *testing.T, in []string) any {
		p, err := BarometerAt(amount[unit.Length](t, in[0]))
		return must(t, p, err)
	},
	"vacuum-lost": func(t *testing.T, in []string) any {
		sea := amount[unit.Pressure](t, in[0])
		v, err := VacuumAt(sea, amount[unit.Length](t, in[1]))
		return sea - must(t, v, err)
	},
}

func drawBooster(rt *rapid.T) (Booster, unit.Pressure) {
	b := Booster{
		Gain:      unit.Ratio(rapid.Float64Range(1.2, 10).Draw(rt, "gain")),
		CutIn:     unit.Force(rapid.SampledFrom([]float64{0, 40, 90}).Draw(rt, "cut-in")),
		JumpIn:    unit.Force(rapid.SampledFrom([]float64{0, 200, 600}).Draw(rt, "jump-in")),
		Diaphragm: unit.Circle(unit.Length(rapid.Float64Range(0.1, 0.35).Draw(rt, "diaphragm"))),
	}
	return b, unit.Pressure(rapid.Float64Range(0, 90e3).Draw(rt, "vacuum"))
}

// Stepping: the valve opens, the booster gives its jump, and from then on the
// air adds what the gain asks for, step by step, until the diaphragm has no
// more. Nothing here knows where the knee is.
func TestBoosterStepped(t *testing.T) {
	for _, tt := range []struct {
		b      Booster
		vacuum unit.Pressure
	}{
		{Booster{Gain: 4, Diaphragm: unit.Circle(8.55 * unit.Inch)}, 20 * unit.InchOfMercury},
		{Booster{Gain: 3, CutIn: 60, JumpIn: 300, Diaphragm: unit.Circle(8 * unit.Inch)}, 15 * unit.InchOfMercury},
		{Booster{Gain: 6, CutIn: 90, JumpIn: 500, Diaphragm: unit.Circle(10 * unit.Inch)}, 5 * unit.InchOfMercury},
		{Booster{Gain: 2.5, CutIn: 40, Diaphragm: unit.Circle(7 * unit.Inch)}, 0},
	} {
		const steps = 400000
		dF := 4000.0 / steps
		most := float64(tt.vacuum) * float64(tt.b.Diaphragm)
		rod, air := 0.0, 0.0 // air: what the diaphragm adds, less than 0 while a spring still holds the rod back
		for i := range steps {
			rod = float64(i+1) * dF
			switch {
			case rod <= float64(tt.b.CutIn):
				air = -rod
				continue
			case rod-dF <= float64(tt.b.CutIn):
				air = float64(tt.b.JumpIn) - float64(tt.b.CutIn)
			}
			// For one more newton in, the gain wants i out: the air has to give i - 1.
			air = min(air+(float64(tt.b.Gain)-1)*dF, most)
			if i%997 != 0 {
				continue
			}
			got, err := tt.b.Out(unit.Force(rod), tt.vacuum)
			must(t, got, err)
			if want := rod + air; math.Abs(float64(got)-want) > 1e-3+10*dF {
				t.Fatalf("%+v at %g N: %g, stepping gives %g", tt.b, rod, float64(got), want)
			}
		}
	}
}

func TestBoosterProperties(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		b, vacuum := drawBooster(rt)
		rod := unit.Force(rapid.Float64Range(1, 4000).Draw(rt, "rod"))
		out, err := b.Out(rod, vacuum)
		if err != nil {
			rt.Fatal(err)
		}
		same := func(what string, a, b float64) {
			if math.Abs(a-b) > 1e-9*max(1, math.Abs(b)) {
				rt.Fatalf("%s: %g, want %g", what, a, b)
			}
		}
		help := vacuum.On(b.Diaphragm)
		// Energy: the air gives no more than its pressure on its area.
		if out-rod > help*(1+1e-12)+1e-9 {
			rt.Fatalf("the air gives %v of %v", out-rod, help)
		}
		// More foot never gives less, nor does more vacuum.
		more, _ := b.Out(rod*1.01, vacuum)
		better, _ := b.Out(rod, min(vacuum*1.01, 1e5))
		if more < out || better < out {
			rt.Fatalf("%v, with more foot %v, with more vacuum %v", out, more, better)
		}
		// At the knee both lines meet; beyond it the slope is one.
		kneeIn, kneeOut, err := b.Knee(vacuum)
		if err != nil {
			rt.Fatal(err)
		}
		past, _ := b.Out(kneeIn+100, vacuum)
		same("slope beyond the knee", float64(past), float64(kneeOut)+100)
		if kneeIn > b.CutIn {
			at, _ := b.Out(kneeIn, vacuum)
			same("the knee", float64(at), float64(kneeOut))
			if before := kneeIn - 1; before > b.CutIn {
				o, _ := b.Out(before, vacuum)
				same("slope before the knee", float64(kneeOut-o), float64(b.Gain))
			}
		}
		// There and back.
		if out > 0 {
			back, err := b.Needed(out, vacuum)
			if err != nil {
				rt.Fatal(err)
			}
			if back > rod*(1+1e-12) {
				rt.Fatalf("%v gives %v, and that needs %v", rod, out, back)
			}
			if out > b.JumpIn {
				same("there and back", float64(back), float64(rod))
			}
			// A little less than needed gives less.
			if less, _ := b.Out(back*(1-1e-6), vacuum); less >= out {
				rt.Fatalf("%v would do for %v", back*(1-1e-6), out)
			}
		}
		// Without vacuum the foot is on its own.
		if alone, _ := b.Out(rod, 0); alone > rod {
			rt.Fatalf("no vacuum, and %v makes %v", rod, alone)
		}
		// A plain booster below its knee is the gain.
		plain := Booster{Gain: b.Gain, Diaphragm: b.Diaphragm}
		if k, _, _ := plain.Knee(vacuum); k > 1 {
			o, _ := plain.Out(k/2, vacuum)
			g, _ := Boosted(k/2, b.Gain)
			same("gain", float64(o), float64(g))
		}
		// Work: what rod and air put in is what comes out, and their ways are one.
		way := unit.Length(0.01)
		in := float64(rod.Along(way)) + float64((out - rod).Along(way))
		same("work", in, float64(out.Along(way)))
	})
}

func TestVacuumAtHeights(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		sea := unit.Pressure(rapid.Float64Range(0, 90e3).Draw(rt, "vacuum"))
		h := unit.Length(rapid.Float64Range(1, 5000).Draw(rt, "height"))
		v, err := VacuumAt(sea, h)
		if err != nil {
			rt.Fatal(err)
		}
		if v < 0 || v > sea {
			rt.Fatalf("%v at sea level is %v at %v", sea, v, h)
		}
		// The column of air between carries what the pressure loses: thinner
		// air above, so between the weight at both ends.
		p0, _ := BarometerAt(0)
		p, _ := BarometerAt(h)
		dense := func(p unit.Pressure, h unit.Length) float64 {
			kelvin := 288.15 - 0.0065*float64(h)
			return float64(p) * 0.0289644 / (8.31432 * kelvin) * 9.80665
		}
		low, high := dense(p, h)*float64(h), dense(p0, 0)*float64(h)
		if d := float64(p0 - p); d < low*(1-1e-9) || d > high*(1+1e-9) {
			rt.Fatalf("%v: the air is %g Pa less, its weight is %g to %g", h, d, low, high)
		}
	})
}

// The edges of the ranges, which are taken.
func TestBoosterEdges(t *testing.T) {
	one, err := Diaphragms([]unit.Length{0.2})
	must(t, one, err)
	two, err := Diaphragms([]unit.Length{0.12, 0.16})
	must(t, two, err)
	if d := float64(two - one); math.Abs(d) > 1e-15 {
		t.Errorf("3, 4 and 5: two diaphragms are off by %g m²", d)
	}
	slight := Booster{Gain: 1.005, Diaphragm: 0.03}
	out, err := slight.Out(100, 50e3)
	if must(t, out, err); math.Abs(float64(out)-100.5) > 1e-9 {
		t.Errorf("gain 1.005: %v", out)
	}
	b := Booster{Gain: 4, CutIn: 60, JumpIn: 300, Diaphragm: 0.03}
	if out, err := b.Out(60, 50e3); err != nil || out != 0 {
		t.Errorf("at the cut-in itself: %v, %v", out, err)
	}
	if in, err := b.Needed(0.005, 50e3); err != nil || in != 60 {
		t.Errorf("a trifle needs %v, %v", in, err)
	}
	for _, tt := range []struct{ before, after, want float64 }{{100, 25, 0.75}, {100, 100, 0}, {100, 0, 1}, {0.004, 0.001, 0.75}, {100, 150, -0.5}} {
		got, err := ShareLost(unit.Pressure(tt.before), unit.Pressure(tt.after))
		if must(t, got, err); math.Abs(float64(got)-tt.want) > 1e-12 {
			t.Errorf("%g, then %g: %g lost, want %g", tt.before, tt.after, float64(got), tt.want)
		}
	}
}

func TestBoosterRefuses(t *testing.T) {
	good := Booster{Gain: 3, Diaphragm: 0.03}
	for _, x := range []float64{math.NaN(), math.Inf(1), math.Inf(-1), -1} {
		for name, b := range map[string]Booster{
			"gain": {Gain: unit.Ratio(x), Diaphragm: 0.03}, "diaphragm": {Gain: 3, Diaphragm: unit.Area(x)},
			"cut-in": {Gain: 3, Diaphragm: 0.03, CutIn: unit.Force(x)}, "jump-in": {Gain: 3, Diaphragm: 0.03, JumpIn: unit.Force(x)},
		} {
			_, err := b.Out(100, 50e3)
			refused(t, name, err)
			_, err = b.Needed(100, 50e3)
			refused(t, name, err)
			_, _, err = b.Knee(50e3)
			refused(t, name, err)
		}
		_, err := good.Out(unit.Force(x), 50e3)
		refused(t, "rod force", err)
		_, err = good.Needed(unit.Force(x), 50e3)
		refused(t, "wanted force", err)
		_, err = good.Out(100, unit.Pressure(x))
		refused(t, "vacuum", err)
		_, err = Diaphragms([]unit.Length{unit.Length(x)})
		refused(t, "diaphragm", err)
		_, err = VacuumAt(unit.Pressure(x), 0)
		refused(t, "vacuum at sea level", err)
		_, err = ShareLost(unit.Force(x), 1)
		refused(t, "before", err)
		_, err = ShareLost(1, unit.Force(x))
		refused(t, "after", err)
	}
	_, err := Booster{Gain: 1, Diaphragm: 0.03}.Out(100, 50e3)
	refused(t, "a booster that adds nothing", err)
	_, err = good.Out(100, 102e3)
	refused(t, "more vacuum than there is air", err)
	_, err = good.Out(100, AtmosphereSea.Value)
	must(t, 0, err)
	_, err = Diaphragms(nil)
	refused(t, "no diaphragm", err)
	_, err = Diaphragms([]unit.Length{0.1, 0.1, 0.1})
	refused(t, "three diaphragms", err)
	for _, h := range []float64{-501, 11001, math.NaN(), math.Inf(1)} {
		_, err := BarometerAt(unit.Length(h))
		refused(t, "height", err)
	}
	for _, h := range []float64{-500, 11000} {
		_, err := BarometerAt(unit.Length(h))
		must(t, 0, err)
	}
	v, err := VacuumAt(10*unit.InchOfMercury, 5*unit.Kilometre)
	if must(t, v, err); v != 0 {
		t.Errorf("vacuum %v, want none", v)
	}
	out, err := good.Needed(0, 50e3)
	if must(t, out, err); out != 0 {
		t.Errorf("nothing needs %v", out)
	}
}

func BenchmarkBooster(b *testing.B) {
	booster := Booster{Gain: 4, CutIn: 60, JumpIn: 300, Diaphragm: 0.037}
	for b.Loop() {
		out, err := booster.Out(900, 67e3)
		if err != nil {
			b.Fatal(err)
		}
		if _, err := booster.Needed(out, 30e3); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkVacuumAt(b *testing.B) {
	for b.Loop() {
		if _, err := VacuumAt(67e3, 1500); err != nil {
			b.Fatal(err)
		}
	}
}
