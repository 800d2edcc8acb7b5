package brakes

import (
	"math"
	"testing"

	"chock/brakes/unit"
	"pgregory.net/rapid"
)

// irons are rotors or drums that take all the heat.
func irons(t *testing.T, count, each, heat string) Irons {
	t.Helper()
	return Irons{Count: int(number(t, count)), Each: amount[unit.Mass](t, each), Heat: amount[unit.SpecificHeat](t, heat), Axle: 1, Inside: 1}
}

var iron = Metal{Heat: 480, Density: 7200, Conductivity: 50}

var heatOps = map[string]operation{
	"stop-energy": func(t *testing.T, in []string) any {
		e, err := StopEnergy(amount[unit.Mass](t, in[0]), amount[unit.Speed](t, in[1]), amount[unit.Speed](t, in[2]), 0)
		return must(t, e, err)
	},
	"fall": func(t *testing.T, in []string) any {
		return amount[unit.Mass](t, in[0]).Weight().Along(amount[unit.Length](t, in[1]))
	},
	"rise": func(t *testing.T, in []string) any {
		d, err := irons(t, in[1], in[2], in[3]).Rise(amount[unit.Energy](t, in[0]))
		return must(t, d, err)
	},
	"rise-share": func(t *testing.T, in []string) any {
		i := irons(t, in[2], in[3], in[4])
		i.Axle = amount[unit.Ratio](t, in[1])
		d, err := i.Rise(amount[unit.Energy](t, in[0]))
		return must(t, d, err)
	},
	"rise-of-stop": func(t *testing.T, in []string) any {
		e, err := StopEnergy(amount[unit.Mass](t, in[0]), amount[unit.Speed](t, in[1]), 0, 0)
		d, err2 := irons(t, in[2], in[3], in[4]).Rise(must(t, e, err))
		return must(t, d, err2)
	},
	// All of a flywheel moves as fast as its radius of gyration.
	"flywheel-rise": func(t *testing.T, in []string) any {
		rim := unit.Speed(2 * math.Pi * float64(amount[unit.Frequency](t, in[2])) * float64(amount[unit.Length](t, in[1])))
		e, err := StopEnergy(amount[unit.Mass](t, in[0]), rim, 0, 0)
		d, err2 := irons(t, "1", in[3], in[4]).Rise(must(t, e, err))
		return must(t, d, err2)
	},
	"iron-heat":     func(*testing.T, []string) any { return IronHeat.Value },
	"specific-heat": func(t *testing.T, in []string) any { return amount[unit.SpecificHeat](t, in[0]) },
	"density":       func(t *testing.T, in []string) any { return amount[unit.Density](t, in[0]) },
	"flash": func(t *testing.T, in []string) any {
		m := Metal{amount[unit.SpecificHeat](t, in[3]), amount[unit.Density](t, in[4]), amount[unit.Conductivity](t, in[5])}
		d, err := SurfaceFlash(amount[unit.Energy](t, in[0]), amount[unit.Area](t, in[1]), amount[unit.Time](t, in[2]), m)
		return must(t, d, err)
	},
	// In units in which q0, ts and e are 1.
	"flash-factor": func(t *testing.T, _ []string) any {
		d, err := SurfaceFlash(0.5, 1, 1, Metal{1, 1, 1})
		return float64(must(t, d, err))
	},
	"handbook-factor": func(t *testing.T, _ []string) any {
		d, err := HandbookFlash(0.5, 1, 1, Metal{1, 1, 1})
		return float64(must(t, d, err))
	},
	"repeated": func(t *testing.T, in []string) any {
		k, err := RepeatedStops(amount[unit.Temperature](t, in[3]), amount[unit.Temperature](t, in[4]), amount[unit.TempChange](t, in[0]),
			amount[unit.Time](t, in[1]), amount[unit.Time](t, in[2]), int(number(t, in[5])))
		return must(t, k, err)
	},
	"endless": func(t *testing.T, in []string) any {
		k, err := EndlessStops(amount[unit.Temperature](t, in[3]), amount[unit.TempChange](t, in[0]), amount[unit.Time](t, in[1]), amount[unit.Time](t, in[2]))
		return must(t, k, err)
	},
	// What is left of one degree over air of one kelvin.
	"decay": func(t *testing.T, in []string) any {
		k, err := Cooled(2, 1, amount[unit.Time](t, in[0]), amount[unit.Time](t, in[1]))
		return float64(must(t, k, err).Above(1))
	},
	"hill-force": func(t *testing.T, in []string) any {
		return forceAt(descent(t, in[0], in[1], in[2], "0%", "0m2", "0kg/m3", "0kW").Hill, amount[unit.Speed](t, in[2]))
	},
	"tyre-force": func(t *testing.T, in []string) any {
		return forceAt(descent(t, in[0], in[1], in[2], in[3], "0m2", "0kg/m3", "0kW").Tyres, amount[unit.Speed](t, in[2]))
	},
	"wind-force": func(t *testing.T, in []string) any {
		return forceAt(descent(t, "1000kg", "6%", in[0], "0%", in[1], in[2], "0kW").Wind, amount[unit.Speed](t, in[0]))
	},
	"brake-power": func(t *testing.T, in []string) any {
		return descent(t, in[0], in[1], in[2], in[3], in[4], in[5], in[6]).Brakes
	},
	"cooling-of": func(t *testing.T, in []string) any {
		tau, err := irons(t, in[0], in[1], in[2]).CoolsIn(amount[unit.HeatTransfer](t, in[3]), amount[unit.Area](t, in[4]))
		return must(t, tau, err)
	},
	"vent-cooling": func(t *testing.T, in []string) any {
		h, err := VentCooling(amount[unit.Frequency](t, in[0]))
		return float64(must(t, h, err))
	},
	"sign": func(t *testing.T, in []string) any {
		for _, s := range HeatSigns() {
			if s.ID == in[0] {
				return s.From.Value
			}
		}
		t.Fatalf("no sign %s", in[0])
		return nil
	},
	"fade-begins": func(*testing.T, []string) any { return FadeBegins.Value },
	"steady": func(t *testing.T, in []string) any {
		i := irons(t, in[2], in[3], in[4])
		i.Axle = amount[unit.Ratio](t, in[1])
		k, err := i.Steady(amount[unit.Power](t, in[0]), amount[unit.Temperature](t, in[6]), amount[unit.Time](t, in[5]))
		return must(t, k, err)
	},
	"after": func(t *testing.T, in []string) any {
		i := irons(t, in[2], in[3], in[4])
		i.Axle = amount[unit.Ratio](t, in[1])
		air := amount[unit.Temperature](t, in[6])
		k, err := i.After(amount[unit.Power](t, in[0]), air, air, amount[unit.Time](t, in[7]), amount[unit.Time](t, in[5]))
		return must(t, k, err)
	},
}

func descent(t *testing.T, mass, slope, speed, rolling, area, air, engine string) Held {
	t.Helper()
	d := Descent{amount[unit.Mass](t, mass), amount[unit.Ratio](t, slope), amount[unit.Speed](t, speed), amount[unit.Ratio](t, rolling),
		amount[unit.Area](t, area), amount[unit.Density](t, air), amount[unit.Power](t, engine)}
	h, err := d.Powers()
	return must(t, h, err)
}

func forceAt(p unit.Power, v unit.Speed) unit.Force { return unit.Force(float64(p) / float64(v)) }

// Heat goes into a bar of many thin slices, by the plain explicit scheme,
// rubbed at one end at a rate that falls in a straight line.
func TestFlashAgainstSlices(t *testing.T) {
	const (
		slices = 400
		depth  = 0.06 // m; far more than the heat gets into
		ts     = 3.968254
		q0     = 1795910.4938
	)
	dx := depth / slices
	k, c, ρ := float64(iron.Conductivity), float64(iron.Heat), float64(iron.Density)
	dt := 0.2 * dx * dx * ρ * c / k
	T := make([]float64, slices)
	e := unit.Energy(q0 * ts / 2 * 0.09)
	peak, peakAt := 0.0, 0.0
	for n := 0; ; n++ {
		now := float64(n) * dt
		if now > ts {
			break
		}
		// The surface is half a slice over the middle of the first one.
		q := q0 * (1 - now/ts)
		surface := T[0] + q*dx/2/k
		if surface > peak {
			peak, peakAt = surface, now
		}
		if n%2000 == 1000 {
			got, err := FlashAt(e, 0.09, ts, unit.Time(now), iron)
			if err != nil || math.Abs(float64(got)-surface) > 0.01*peak {
				t.Errorf("at %.3f s the formula has %v, the slices %.2f: %v", now, got, surface, err)
			}
		}
		next := make([]float64, slices)
		for i := range T {
			left := q
			if i > 0 {
				left = k * (T[i-1] - T[i]) / dx
			}
			right := 0.0
			if i < slices-1 {
				right = k * (T[i] - T[i+1]) / dx
			}
			next[i] = T[i] + dt*(left-right)/(ρ*c*dx)
		}
		T = next
	}
	flash, err := SurfaceFlash(e, 0.09, ts, iron)
	if err != nil {
		t.Fatal(err)
	}
	if math.Abs(float64(flash)/peak-1) > 0.003 || math.Abs(peakAt/ts-0.5) > 0.02 {
		t.Errorf("the formula peaks at %v, the slices at %.3f after %.3f of the stop", flash, peak, peakAt/ts)
	}
	// Energy: all of it is in the bar.
	in := 0.0
	for _, x := range T {
		in += x * ρ * c * dx * 0.09
	}
	if math.Abs(in/float64(e)-1) > 0.003 {
		t.Errorf("%g J in the bar, %v went in", in, e)
	}
	depthNow, err := HeatDepth(ts, iron)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "depth, mm", depthNow.Millimetres(), "7.58", "worked by hand: sqrt(50 x 3.968254/(7200 x 480))")
}

// Newton's cooling by small steps, with stops that come all at once.
func TestRepeatedStopsAgainstSteps(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		f := func(name string, lo, hi float64) float64 { return rapid.Float64Range(lo, hi).Draw(rt, name) }
		air, start := unit.Celsius(f("air", -20, 45)), unit.Celsius(f("start", -20, 300))
		rise, every, cooling := f("rise", 0, 200), f("every", 5, 300), f("cooling", 60, 2000)
		n := rapid.IntRange(1, 25).Draw(rt, "stops")
		T := float64(start)
		for i := range n {
			if i > 0 {
				// Runge and Kutta's fourth order, twenty steps from stop to stop.
				h := every / 20
				slope := func(T float64) float64 { return -(T - float64(air)) / cooling }
				for range 20 {
					k1 := slope(T)
					k2 := slope(T + h/2*k1)
					k3 := slope(T + h/2*k2)
					k4 := slope(T + h*k3)
					T += h / 6 * (k1 + 2*k2 + 2*k3 + k4)
				}
			}
			T += rise
		}
		got, err := RepeatedStops(start, air, unit.TempChange(rise), unit.Time(every), unit.Time(cooling), n)
		if err != nil || math.Abs(float64(got)-T) > 1e-3 {
			rt.Fatalf("%v, stepped %v: %v", got, unit.Temperature(T), err)
		}
		// More stops are no cooler from the air's temperature on, and none passes the limit.
		limit, err := EndlessStops(air, unit.TempChange(rise), unit.Time(every), unit.Time(cooling))
		if err != nil {
			rt.Fatal(err)
		}
		a, _ := RepeatedStops(air, air, unit.TempChange(rise), unit.Time(every), unit.Time(cooling), n)
		b, _ := RepeatedStops(air, air, unit.TempChange(rise), unit.Time(every), unit.Time(cooling), n+1)
		if b < a || b > limit+1e-9*limit {
			rt.Fatalf("%d stops %v, one more %v, limit %v", n, a, b, limit)
		}
		if far, _ := RepeatedStops(start, air, unit.TempChange(rise), unit.Time(every), unit.Time(cooling), 20000); math.Abs(float64(far-limit)) > 1e-6 && every/cooling > 0.005 {
			rt.Fatalf("20,000 stops %v, limit %v", far, limit)
		}
		// Stops that follow at once add up.
		if sum, _ := RepeatedStops(start, air, unit.TempChange(rise), 1e-9, unit.Time(cooling), n); math.Abs(float64(sum.Above(start))-float64(n)*rise) > 1e-3 {
			rt.Fatalf("at once: %v after %d of %g", sum.Above(start), n, rise)
		}
	})
}

func TestCooling(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		f := func(name string, lo, hi float64) float64 { return rapid.Float64Range(lo, hi).Draw(rt, name) }
		air, cooling := unit.Celsius(f("air", -20, 45)), unit.Time(f("cooling", 60, 3000))
		start := air.Plus(unit.TempChange(f("over", 5, 600)))
		after := times(f("after", 0.05, 4), cooling)
		later, err := Cooled(start, air, after, cooling)
		if err != nil || later >= start || later <= air {
			rt.Fatalf("%v cools to %v, %v", start, later, err)
		}
		back, err := CoolingFrom(start, later, air, after)
		if err != nil || math.Abs(float64(back/cooling)-1) > 1e-6 {
			rt.Fatalf("cooling time %v back as %v, %v", cooling, back, err)
		}
	})
	got, err := Cooled(unit.Celsius(120), unit.Celsius(20), 60, 60)
	near(t, "a cooling time later", must(t, got, err).Celsius(), "56.79", "worked by hand: 20 + 100/e")
}

func drawIrons(rt *rapid.T) Irons {
	f := func(name string, lo, hi float64) float64 { return rapid.Float64Range(lo, hi).Draw(rt, name) }
	return Irons{Count: rapid.IntRange(1, 4).Draw(rt, "irons"), Each: unit.Mass(f("each", 3, 20)), Heat: unit.SpecificHeat(f("heat", 400, 600)),
		Axle: unit.Ratio(f("axle", 0.1, 1)), Inside: unit.Ratio(f("inside", 0.8, 1))}
}

// The descent in small steps: power in, Newton's cooling out.
func TestDescentAgainstSteps(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		f := func(name string, lo, hi float64) float64 { return rapid.Float64Range(lo, hi).Draw(rt, name) }
		d := Descent{Mass: unit.Mass(f("mass", 800, 8000)), Downhill: unit.Ratio(f("slope", 0.01, 0.2)), Speed: unit.Speed(f("speed", 3, 35)),
			Rolling: unit.Ratio(f("rolling", 0, 0.02)), DragArea: unit.Area(f("area", 0, 3)), Air: 1.2, Engine: unit.Power(f("engine", 0, 40000))}
		h, err := d.Powers()
		if err != nil {
			rt.Fatal(err)
		}
		// Energy over a way: the height's is what tyres, wind, engine and brakes take up.
		const way = 1000
		took := unit.Time(way / float64(d.Speed))
		height := d.Mass.Weight().Along(d.Drop(way))
		rest := h.Hill - h.Tyres - h.Wind - h.Engine
		if h.Brakes != max(rest, 0) {
			rt.Fatalf("%+v", h)
		}
		if math.Abs(float64(height-h.Hill.For(took))) > 1e-9*float64(height) {
			rt.Fatalf("the height gives %v, the hill %v", height, h.Hill.For(took))
		}
		if back := d.DownWay(d.Drop(way)); math.Abs(float64(back)-way) > 1e-9 {
			rt.Fatalf("way back %v", back)
		}
		if wind := 0.6 * float64(d.DragArea) * math.Pow(float64(d.Speed), 3); math.Abs(float64(h.Wind)-wind) > 1e-9*(1+wind) {
			rt.Fatalf("wind %v, want %g W", h.Wind, wind)
		}
		if tyres := float64(d.Rolling) * float64(d.Mass) * 9.80665 * math.Cos(math.Atan(float64(d.Downhill))) * float64(d.Speed); math.Abs(float64(h.Tyres)-tyres) > 1e-9*(1+tyres) {
			rt.Fatalf("tyres %v, want %g W", h.Tyres, tyres)
		}
		// Heat.
		i := drawIrons(rt)
		air, start, cooling := unit.Celsius(f("air", -20, 40)), unit.Celsius(f("start", -20, 200)), unit.Time(f("cooling", 120, 2000))
		n := 2000
		dt := float64(took) / float64(n)
		capacity := float64(i.Count) * float64(i.Each) * float64(i.Heat)
		T, gone := float64(start), 0.0
		for range n {
			// The middle of the step decides.
			loss := func(T float64) float64 { return (T - float64(air)) * capacity / float64(cooling) }
			in := float64(i.Axle) * float64(i.Inside) * float64(h.Brakes)
			mid := T + dt/2*(in-loss(T))/capacity
			gone += loss(mid) * dt
			T += dt * (in - loss(mid)) / capacity
		}
		got, err := i.After(h.Brakes, start, air, took, cooling)
		if err != nil || math.Abs(float64(got)-T) > 1e-3 {
			rt.Fatalf("%v, stepped %v: %v", got, unit.Temperature(T), err)
		}
		// Heat in is heat out and heat kept.
		in := float64(i.Axle) * float64(i.Inside) * float64(h.Brakes.For(took))
		if kept := capacity * float64(got-start); math.Abs(in-gone-kept) > 1e-4*(1+in+math.Abs(gone)+math.Abs(kept)) {
			rt.Fatalf("%g J in, %g out, %g kept", in, gone, kept)
		}
		steady, _ := i.Steady(h.Brakes, air, cooling)
		if lo, hi := min(start, steady), max(start, steady); got < lo-1e-6 || got > hi+1e-6 {
			rt.Fatalf("%v is not between %v and %v", got, lo, hi)
		}
		if long, _ := i.After(h.Brakes, start, air, 100*cooling, cooling); math.Abs(float64(long-steady)) > 1e-6 {
			rt.Fatalf("a long time: %v, steady %v", long, steady)
		}
		// A gear never makes it hotter.
		d.Engine += 5000
		gear, _ := d.Powers()
		if gear.Brakes > h.Brakes {
			rt.Fatalf("in a lower gear %v, not %v", gear.Brakes, h.Brakes)
		}
	})
}

func TestRiseProperties(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		i := drawIrons(rt)
		m := unit.Mass(rapid.Float64Range(500, 9000).Draw(rt, "mass"))
		from := unit.Speed(rapid.Float64Range(1, 50).Draw(rt, "from"))
		to := times(rapid.Float64Range(0, 0.99).Draw(rt, "to"), from)
		k := unit.Ratio(rapid.Float64Range(0, 0.5).Draw(rt, "turning"))
		e, err := StopEnergy(m, from, to, k)
		if err != nil {
			rt.Fatal(err)
		}
		// Two steps of speed give what one gives.
		mid := (from + to) / 2
		a, _ := StopEnergy(m, from, mid, k)
		b, _ := StopEnergy(m, mid, to, k)
		if math.Abs(float64(a+b-e)) > 1e-9*float64(e) {
			rt.Fatalf("%v and %v are not %v", a, b, e)
		}
		still, _ := StopEnergy(m, from, to, 0)
		if math.Abs(float64(unit.Per(e, still))-1-float64(k)) > 1e-9 {
			rt.Fatalf("turning parts: %v from %v", e, still)
		}
		d, err := i.Rise(e)
		if err != nil {
			rt.Fatal(err)
		}
		// All the heat is there again.
		back := float64(d) * float64(i.Count) * float64(i.Each) * float64(i.Heat) / (float64(i.Axle) * float64(i.Inside))
		if math.Abs(back/float64(e)-1) > 1e-9 {
			rt.Fatalf("%g J back from %v", back, e)
		}
	})
}

func TestEngineDrag(t *testing.T) {
	const source = "worked by hand: 200 kPa x 5 L x 2,400/min / 2"
	p, err := EngineDrag(EnginePressure.Value, 5*unit.Litre, 2400*unit.PerMinute)
	near(t, "engine drag, W", must(t, p, err).Watts(), "20000", source)
}

func TestHeatRefuses(t *testing.T) {
	ok := Irons{2, 10, 460, 0.7, 0.95}
	down := Descent{2400, 0.06, 20, 0.012, 1.26, 1.2, 0}
	for _, bad := range []float64{math.NaN(), math.Inf(1), math.Inf(-1), -1} {
		for what, err := range map[string]error{
			"mass":                  refusal(StopEnergy(unit.Mass(bad), 20, 0, 0)),
			"higher speed":          refusal(StopEnergy(1000, unit.Speed(bad), 0, 0)),
			"lower speed":           refusal(StopEnergy(1000, 20, unit.Speed(bad), 0)),
			"turning parts":         refusal(StopEnergy(1000, 20, 0, unit.Ratio(bad))),
			"energy":                refusal(ok.Rise(unit.Energy(bad))),
			"iron":                  refusal(Irons{2, unit.Mass(bad), 460, 1, 1}.Rise(1)),
			"heat of the iron":      refusal(Irons{2, 1, unit.SpecificHeat(bad), 1, 1}.Rise(1)),
			"share of the axle":     refusal(Irons{2, 1, 460, unit.Ratio(bad), 1}.Rise(1)),
			"share inside":          refusal(Irons{2, 1, 460, 1, unit.Ratio(bad)}.Rise(1)),
			"flash energy":          refusal(SurfaceFlash(unit.Energy(bad), 1, 1, iron)),
			"flash area":            refusal(SurfaceFlash(1, unit.Area(bad), 1, iron)),
			"flash time":            refusal(SurfaceFlash(1, 1, unit.Time(bad), iron)),
			"flash instant":         refusal(FlashAt(1, 1, 1, unit.Time(bad), iron)),
			"flash heat":            refusal(SurfaceFlash(1, 1, 1, Metal{unit.SpecificHeat(bad), 1, 1})),
			"flash density":         refusal(SurfaceFlash(1, 1, 1, Metal{1, unit.Density(bad), 1})),
			"flash conductivity":    refusal(SurfaceFlash(1, 1, 1, Metal{1, 1, unit.Conductivity(bad)})),
			"handbook energy":       refusal(HandbookFlash(unit.Energy(bad), 1, 1, iron)),
			"depth time":            refusal(HeatDepth(unit.Time(bad), iron)),
			"depth metal":           refusal(HeatDepth(1, Metal{unit.SpecificHeat(bad), 1, 1})),
			"start":                 refusal(Cooled(unit.Temperature(bad), 300, 1, 1)),
			"air":                   refusal(Cooled(300, unit.Temperature(bad), 1, 1)),
			"time":                  refusal(Cooled(300, 300, unit.Time(bad), 1)),
			"cooling":               refusal(Cooled(300, 300, 1, unit.Time(bad))),
			"first of two readings": refusal(CoolingFrom(unit.Temperature(bad), 320, 300, 1)),
			"later of two":          refusal(CoolingFrom(330, unit.Temperature(bad), 300, 1)),
			"air of two":            refusal(CoolingFrom(330, 320, unit.Temperature(bad), 1)),
			"time of two":           refusal(CoolingFrom(330, 320, 300, unit.Time(bad))),
			"rise":                  refusal(RepeatedStops(300, 300, unit.TempChange(bad), 1, 1, 1)),
			"every":                 refusal(RepeatedStops(300, 300, 1, unit.Time(bad), 1, 1)),
			"endless every":         refusal(EndlessStops(300, 1, unit.Time(bad), 1)),
			"power":                 refusal(ok.Steady(unit.Power(bad), 300, 1)),
			"steady air":            refusal(ok.Steady(1, unit.Temperature(bad), 1)),
			"after power":           refusal(ok.After(unit.Power(bad), 300, 300, 1, 1)),
			"after start":           refusal(ok.After(1, unit.Temperature(bad), 300, 1, 1)),
			"turning":               refusal(VentCooling(unit.Frequency(bad))),
			"heat transfer":         refusal(ok.CoolsIn(unit.HeatTransfer(bad), 1)),
			"cooling area":          refusal(ok.CoolsIn(1, unit.Area(bad))),
			"drag pressure":         refusal(EngineDrag(unit.Pressure(bad), 1, 1)),
			"displacement":          refusal(EngineDrag(1, unit.Volume(bad), 1)),
			"engine speed":          refusal(EngineDrag(1, 1, unit.Frequency(bad))),
		} {
			refused(t, what, err)
		}
		for what, change := range map[string]func(*Descent){
			"mass":    func(d *Descent) { d.Mass = unit.Mass(bad) },
			"slope":   func(d *Descent) { d.Downhill = unit.Ratio(bad) },
			"speed":   func(d *Descent) { d.Speed = unit.Speed(bad) },
			"rolling": func(d *Descent) { d.Rolling = unit.Ratio(bad) },
			"area":    func(d *Descent) { d.DragArea = unit.Area(bad) },
			"air":     func(d *Descent) { d.Air = unit.Density(bad) },
			"engine":  func(d *Descent) { d.Engine = unit.Power(bad) },
		} {
			d := down
			change(&d)
			refused(t, what, refusal(d.Powers()))
		}
	}
	for what, err := range map[string]error{
		"no stop":                   refusal(RepeatedStops(300, 300, 1, 1, 1, 0)),
		"no irons":                  refusal(Irons{0, 1, 460, 1, 1}.Rise(1)),
		"more than all of it":       refusal(Irons{1, 1, 460, 1.01, 1}.Rise(1)),
		"a stop that gets faster":   refusal(StopEnergy(1000, 20, 21, 0)),
		"a time after the stop":     refusal(FlashAt(1, 1, 1, 1.1, iron)),
		"readings that do not cool": refusal(CoolingFrom(320, 320, 300, 1)),
		"6 for 6 %":                 refusal(Descent{2400, 6, 20, 0, 0, 0, 0}.Powers()),
		"level":                     refusal(Descent{2400, 0, 20, 0, 0, 0, 0}.Powers()),
	} {
		refused(t, what, err)
	}
}

func BenchmarkRepeatedStops(b *testing.B) {
	for b.Loop() {
		if _, err := RepeatedStops(293, 293, 60, 60, 600, 10); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkDescent(b *testing.B) {
	i := Irons{2, 9.5, 460, 0.72, 1}
	d := Descent{2400, 0.06, 20, 0.012, 1.26, 1.2, 0}
	for b.Loop() {
		h, err := d.Powers()
		if err != nil {
			b.Fatal(err)
		}
		if _, err := i.After(h.Brakes, 303, 303, 600, 567); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkFlash(b *testing.B) {
	for b.Loop() {
		if _, err := SurfaceFlash(320000, 0.09, 4, iron); err != nil {
			b.Fatal(err)
		}
	}
}
