package brakes

import (
	"math"
	"slices"
	"testing"

	"chock/brakes/unit"
	"pgregory.net/rapid"
)

// areaOf is the area of a list of pistons.
func areaOf(t *testing.T, text string) unit.Area {
	t.Helper()
	a, err := PistonArea(amounts[unit.Length](t, text))
	return must(t, a, err)
}

var pedalOps = map[string]operation{
	"moved": func(t *testing.T, in []string) any {
		v, err := PedalVolume(amount[unit.Length](t, in[0]), amount[unit.Ratio](t, in[1]), amount[unit.Length](t, in[2]))
		return must(t, v, err)
	},
	"travel": func(t *testing.T, in []string) any {
		s, err := PedalTravel(amount[unit.Volume](t, in[0]), amount[unit.Ratio](t, in[1]), amount[unit.Length](t, in[2]), 0)
		return must(t, s, err)
	},
	"fluid": func(t *testing.T, in []string) any {
		v, err := FluidSqueezed(amount[unit.Volume](t, in[0]), amount[unit.Pressure](t, in[1]), amount[unit.Pressure](t, in[2]))
		return must(t, v, err)
	},
	"air": func(t *testing.T, in []string) any {
		v, err := AirSqueezed(amount[unit.Volume](t, in[0]), amount[unit.Pressure](t, in[1]), AtmosphereSea.Value, amount[unit.Ratio](t, in[2]))
		return must(t, v, err)
	},
	"behind": func(t *testing.T, in []string) any {
		v, err := AirBehind(amount[unit.Volume](t, in[0]), amount[unit.Pressure](t, in[1]), AtmosphereSea.Value, amount[unit.Ratio](t, in[2]))
		return must(t, v, err)
	},
	"air-pedal": func(t *testing.T, in []string) any {
		v, err := AirSqueezed(amount[unit.Volume](t, in[0]), amount[unit.Pressure](t, in[1]), AtmosphereSea.Value, 1)
		must(t, v, err)
		s, err := PedalTravel(v, amount[unit.Ratio](t, in[2]), amount[unit.Length](t, in[3]), 0)
		return must(t, s, err)
	},
	"mixed": func(t *testing.T, in []string) any {
		// The source takes 0.1 MPa for the air outside.
		p, err := MixtureModulus(amount[unit.Pressure](t, in[0]), amount[unit.Ratio](t, in[1]), amount[unit.Pressure](t, in[2]), AtmosphereSea.Value, amount[unit.Ratio](t, in[3]))
		return must(t, p, err)
	},
	"yield": func(t *testing.T, in []string) any {
		a := times(float64(amount[unit.Ratio](t, in[1])), areaOf(t, in[0]))
		v, err := Yielded(a, amount[unit.Length](t, in[2]), amount[unit.Pressure](t, in[3]), amount[unit.Pressure](t, in[4]))
		return must(t, v, err)
	},
	"pipe": func(t *testing.T, in []string) any {
		v, err := PipeSwelled(amount[unit.Length](t, in[0]), amount[unit.Length](t, in[1]), amount[unit.Length](t, in[2]), amount[unit.Pressure](t, in[3]))
		return must(t, v, err)
	},
	"hose": func(t *testing.T, in []string) any {
		v, err := HoseSwelled(amount[unit.Length](t, in[0]), amount[unit.Length](t, in[1]), amount[unit.Pressure](t, in[2]), in[3] == "stiff")
		return must(t, v, err)
	},
	"drums": func(t *testing.T, in []string) any {
		v, err := DrumGap(amounts[unit.Length](t, in[0]), amount[unit.Length](t, in[1]))
		return must(t, v, err)
	},
	"clearance": func(t *testing.T, in []string) any {
		x, err := ClearanceBehind(amount[unit.Volume](t, in[0]), amounts[unit.Length](t, in[1]))
		return must(t, x, err)
	},
	"knock": func(t *testing.T, in []string) any {
		x, err := KnockBehind(amount[unit.Volume](t, in[0]), areaOf(t, in[1]))
		return must(t, x, err)
	},
	"sunk": func(t *testing.T, in []string) any {
		s, err := Sinking(amount[unit.Length](t, in[0]), amount[unit.Time](t, in[1]), amount[unit.Ratio](t, in[2]), amount[unit.Length](t, in[3]))
		return must(t, s, err).Volume
	},
	"sunk-second": func(t *testing.T, in []string) any {
		s, err := Sinking(amount[unit.Length](t, in[0]), amount[unit.Time](t, in[1]), amount[unit.Ratio](t, in[2]), amount[unit.Length](t, in[3]))
		return must(t, s, err).PerSecond
	},
	"budget": func(t *testing.T, in []string) any { return inventedBudget(t, 1000*unit.PSI).Total() },
}

// inventedBudget is that of testdata/published/pedal-budget.txt, at a pressure.
func inventedBudget(t *testing.T, p unit.Pressure) Budget {
	t.Helper()
	front, rear := 2*unit.Circle(2.75*unit.Inch), 4*unit.Circle(0.875*unit.Inch)
	const at = 1000 * unit.PSI
	var b Budget
	var err error
	set := func(to *unit.Volume, v unit.Volume, e error) {
		if *to = v; e != nil {
			err = e
		}
	}
	v, e := Caliper{Inner: []unit.Length{2.75 * unit.Inch}}.Volume(5*unit.Thou, 5*unit.Thou)
	set(&b.Retraction, 2*v, e)
	v, e = DrumGap([]unit.Length{0.875 * unit.Inch, 0.875 * unit.Inch}, 20*unit.Thou)
	set(&b.Clearance, v, e)
	v, e = Yielded(front, 12*unit.Thou, at, p)
	set(&b.FrontGive, v, e)
	v, e = Yielded(rear, 10*unit.Thou, at, p)
	set(&b.RearGive, v, e)
	v, e = HoseSwelled(4*unit.Foot, 0.1875*unit.Inch, p, false)
	set(&b.Hoses, v, e)
	v, e = PipeSwelled(236*unit.Inch, 0.1875*unit.Inch, 28*unit.Thou, p)
	set(&b.Pipes, v, e)
	v, e = FluidSqueezed(120*unit.Millilitre, p, FluidModulus.Value)
	set(&b.Fluid, v, e)
	v, e = AirSqueezed(unit.Millilitre, p, AtmosphereSea.Value, 1)
	set(&b.Air, v, e)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// Boyle stepped: as pressure rises by dp the air shrinks by V dp/(n (p + pa)).
// Fourth-order Runge and Kutta; nothing here knows the closed form.
func TestAirStepped(t *testing.T) {
	pa := float64(AtmosphereSea.Value)
	for _, n := range []float64{1, 1.2, 1.4} {
		const steps = 20000
		v, p, dp := 1.0, 0.0, 7e6/steps
		slope := func(v, p float64) float64 { return -v / (n * (p + pa)) }
		for i := range steps {
			k1 := slope(v, p)
			k2 := slope(v+k1*dp/2, p+dp/2)
			k3 := slope(v+k2*dp/2, p+dp/2)
			k4 := slope(v+k3*dp, p+dp)
			v += dp / 6 * (k1 + 2*k2 + 2*k3 + k4)
			p = float64(i+1) * dp
			if i%1999 != 0 {
				continue
			}
			got, err := AirSqueezed(1, unit.Pressure(p), AtmosphereSea.Value, unit.Ratio(n))
			must(t, got, err)
			if want := 1 - v; math.Abs(float64(got)-want) > 1e-8 {
				t.Fatalf("n %g at %g Pa: %.9g gone, stepping gives %.9g", n, p, float64(got), want)
			}
		}
	}
}

// How stiff fluid with air in it is, by differentiating its volume: the fluid
// shrinks by its own modulus, the air by the gas law.
func TestMixtureDifferentiated(t *testing.T) {
	for _, n := range []float64{1, 1.4} {
		for _, share := range []float64{0, 0.001, 0.005, 0.02} {
			for _, p := range []float64{0, 1e5, 1e6, 6.895e6} {
				const fluid = 1.7e9
				volume := func(p float64) float64 {
					gone, err := AirSqueezed(unit.Volume(share), unit.Pressure(p), AtmosphereSea.Value, unit.Ratio(n))
					must(t, gone, err)
					return math.Exp(-p/fluid) + share - float64(gone)
				}
				h := 1e-3 * (p + 1e5)
				low := math.Max(0, p-h)
				want := -(volume(p) * (p + h - low)) / (volume(p+h) - volume(low))
				got, err := MixtureModulus(fluid, unit.Ratio(share), unit.Pressure(p), AtmosphereSea.Value, unit.Ratio(n))
				must(t, got, err)
				// The formula leaves the fluid's own shrinking out of the share: 4 in 1,000 at most.
				if off := math.Abs(float64(got)/want - 1); off > 0.005 {
					t.Errorf("n %g, share %g, %g Pa: %.6g, differentiated %.6g", n, share, p, float64(got), want)
				}
			}
		}
	}
}

// Work: what the foot puts in along the pedal is what the pressure puts into
// gaps, springs and air, added up step by step; and the air's part is what
// Boyle's law says it is, pa V0 ln((pa + p)/pa) - pa ΔV.
func TestPedalWork(t *testing.T) {
	const (
		pedal = unit.Ratio(6)
		bore  = unit.Inch
		steps = 4000
		most  = 1500 * unit.PSI
	)
	foot := func(p unit.Pressure) float64 { return float64(p.On(unit.Circle(bore))) / float64(pedal) }
	var atPedal, inFluid, inAir float64
	last := inventedBudget(t, 0)
	at, err := PedalTravel(last.Total(), pedal, bore, 0)
	must(t, at, err)
	for i := range steps {
		p0, p1 := times(float64(i)/steps, most), times(float64(i+1)/steps, most)
		b := inventedBudget(t, p1)
		s, err := PedalTravel(b.Total(), pedal, bore, 0)
		must(t, s, err)
		mean := float64(p0+p1) / 2
		atPedal += (foot(p0) + foot(p1)) / 2 * float64(s-at)
		inFluid += mean * float64(b.Stays()-last.Stays())
		// Near zero the air gives nearly all at once: its own steps are finer.
		for j := range 50 {
			q0, q1 := p0+times(float64(j)/50, p1-p0), p0+times(float64(j+1)/50, p1-p0)
			a0, _ := AirSqueezed(unit.Millilitre, q0, AtmosphereSea.Value, 1)
			a1, _ := AirSqueezed(unit.Millilitre, q1, AtmosphereSea.Value, 1)
			inAir += float64(q0+q1) / 2 * float64(a1-a0)
		}
		last, at = b, s
	}
	if math.Abs(atPedal/inFluid-1) > 1e-9 {
		t.Errorf("the foot gives %g J, the fluid takes %g", atPedal, inFluid)
	}
	pa, p := float64(AtmosphereSea.Value), float64(most)
	want := 1e-6 * (pa*math.Log((pa+p)/pa) - pa*p/(pa+p))
	if math.Abs(inAir/want-1) > 1e-4 {
		t.Errorf("the air takes %g J, Boyle's law has %g", inAir, want)
	}
}

func TestPedalProperties(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		draw := func(name string, low, high float64) float64 { return rapid.Float64Range(low, high).Draw(rt, name) }
		same := func(what string, a, b float64) {
			if math.Abs(a-b) > 1e-9*math.Abs(b)+1e-15 {
				rt.Fatalf("%s: %g, want %g", what, a, b)
			}
		}
		way, pedal, bore := unit.Length(draw("way", 0, 0.2)), unit.Ratio(draw("ratio", 2, 9)), unit.Length(draw("bore", 0.015, 0.04))
		play := unit.Length(draw("play", 0, 0.02))
		v, err := PedalVolume(way, pedal, bore)
		if err != nil {
			rt.Fatal(err)
		}
		back, _ := PedalTravel(v, pedal, bore, play)
		same("there and back", float64(back-play), float64(way))
		twice, _ := PedalVolume(2*way, pedal, bore)
		same("twice the way", float64(twice), 2*float64(v))
		wide, _ := PedalVolume(way, pedal, 2*bore)
		same("twice the bore", float64(wide), 4*float64(v))
		long, _ := PedalVolume(way, 2*pedal, bore)
		same("twice the lever", 2*float64(long), float64(v))

		p, pa := unit.Pressure(draw("pressure", 1e4, 1e7)), unit.Pressure(draw("outside", 6e4, 1.05e5))
		n := unit.Ratio(draw("exponent", 1, 1.4))
		air, _ := AirSqueezed(v, p, pa, n)
		more, _ := AirSqueezed(v, p*1.1, pa, n)
		if air > v || air < 0 || v > 0 && more <= air {
			rt.Fatalf("%v of air gives up %v, under more pressure %v", v, air, more)
		}
		quick, _ := AirSqueezed(v, p, pa, 1.4)
		slow, _ := AirSqueezed(v, p, pa, 1)
		if quick > air || air > slow {
			rt.Fatalf("quick %v, between %v, slow %v", quick, air, slow)
		}
		was, err := AirBehind(air, p, pa, n)
		if err != nil {
			rt.Fatal(err)
		}
		same("air there and back", float64(was), float64(v))
		none, _ := AirSqueezed(0, p, pa, n)
		same("no air", float64(none), 0)
		idle, _ := AirSqueezed(v, 0, pa, n)
		same("no pressure", float64(idle), 0)

		k := unit.Pressure(draw("modulus", 1e9, 3e9))
		clean, _ := MixtureModulus(k, 0, p, pa, n)
		same("no air in the fluid", float64(clean), float64(k))
		soft, _ := MixtureModulus(k, 0.01, p, pa, n)
		stiffer, _ := MixtureModulus(k, 0.01, 1.1*p, pa, n)
		softer, _ := MixtureModulus(k, 0.02, p, pa, n)
		if !(soft < k && stiffer > soft && softer < soft) {
			rt.Fatalf("fluid %v, with air %v, under more pressure %v, with more air %v", k, soft, stiffer, softer)
		}
		s1, _ := FluidSqueezed(v, p, k)
		s2, _ := FluidSqueezed(v, 2*p, k)
		same("fluid is straight", float64(s2), 2*float64(s1))

		// Hoses: longer and harder is more, wider is more, stiff is less.
		hp := unit.Pressure(draw("hose pressure", 1, 2e7))
		hl, hb := unit.Length(draw("hose", 0.1, 3)), unit.Length(draw("hose bore", 0.002, 0.008))
		h, err := HoseSwelled(hl, hb, hp, false)
		if err != nil {
			rt.Fatal(err)
		}
		stiff, _ := HoseSwelled(hl, hb, hp, true)
		hard, _ := HoseSwelled(hl, hb, 1.02*hp, false)
		wider, _ := HoseSwelled(hl, 1.5*hb, hp, false)
		longer, _ := HoseSwelled(2*hl, hb, hp, false)
		if !(stiff <= h && hard > h && wider >= h) {
			rt.Fatalf("hose %v, stiff %v, harder %v, wider %v", h, stiff, hard, wider)
		}
		same("twice the hose", float64(longer), 2*float64(h))

		// A thin pipe grows as a ring does: 2 p r/(E t), and its own room is the measure.
		r := unit.Length(draw("radius", 0.05, 0.1))
		wall := unit.Length(float64(r) / 1000)
		pipe, _ := PipeSwelled(1, 2*r, wall, p)
		ring := 2 * float64(p) / float64(SteelModulus.Value) * 1000 * float64(unit.Circle(2*(r-wall)))
		if math.Abs(float64(pipe)/ring-1) > 2e-3 {
			rt.Fatalf("a thin pipe grows by %g, a ring by %g", float64(pipe), ring)
		}

		cylinders := []unit.Length{unit.Length(draw("left", 0.015, 0.03)), unit.Length(draw("right", 0.015, 0.03))}
		gap, _ := DrumGap(cylinders, way)
		x, _ := ClearanceBehind(gap, cylinders)
		same("clearance there and back", float64(x), float64(way))
		// A shoe cylinder by the pistons: both go the whole clearance.
		byPistons := unit.Volume(0)
		for _, d := range cylinders {
			one, _ := WheelCylinder{d, d}.Volume(way, way)
			byPistons += one
		}
		same("by the pistons", float64(gap), float64(byPistons))
		pads, _ := Caliper{Inner: cylinders}.Volume(way/3, 2*way/3)
		a, _ := PistonArea(cylinders)
		knock, _ := KnockBehind(pads, a)
		same("knock-back there and back", float64(knock), float64(way))
		g1, _ := Yielded(a, way, p, p)
		same("yielding at its own pressure", float64(g1), float64(a.Times(way)))

		t1 := unit.Time(draw("time", 1, 100))
		sink, _ := Sinking(way, t1, pedal, bore)
		same("leak rate", float64(sink.PerSecond)*float64(t1), float64(v))
	})
}

// The share that a pedal uses, and its doubt by drawing readings.
func TestPedalUsed(t *testing.T) {
	used, u, err := PedalUsed(150, 40, 2, 3)
	must(t, used, err)
	near(t, "used", used.Percent(), "73.33", notes+"110/150")
	near(t, "doubt", u.Percent(), "2.03", notes+"100 hypot(3/150, 40 x 2/150²)")
	rapid.Check(t, func(rt *rapid.T) {
		a := rapid.Float64Range(0.05, 0.3).Draw(rt, "free")
		b := a * rapid.Float64Range(0, 1).Draw(rt, "pressed")
		ua, ub := 1e-3*rapid.Float64Range(0, 1).Draw(rt, "ua"), 1e-3*rapid.Float64Range(0, 1).Draw(rt, "ub")
		used, u, err := PedalUsed(unit.Length(a), unit.Length(b), unit.Length(ua), unit.Length(ub))
		if err != nil {
			rt.Fatal(err)
		}
		// Differences in place of derivatives.
		const h = 1e-6
		fa := ((a+h-b)/(a+h) - (a-h-b)/(a-h)) / (2 * h)
		fb := ((a-b-h)/a - (a-b+h)/a) / (2 * h)
		if want := math.Hypot(fa*ua, fb*ub); math.Abs(float64(u)-want) > 1e-6*want+1e-12 {
			rt.Fatalf("doubt %g, by differences %g", float64(u), want)
		}
		if used < 0 || used > 1 {
			rt.Fatalf("uses %g of its way", float64(used))
		}
		again, _, _ := PedalUsed(unit.Length(25.4*a), unit.Length(25.4*b), 0, 0)
		if math.Abs(float64(used-again)) > 1e-12 {
			rt.Fatalf("in other units %g, not %g", float64(again), float64(used))
		}
	})
}

func TestBudgetParts(t *testing.T) {
	b := Budget{1, 2, 4, 8, 16, 32, 64, 128}
	if b.Gaps() != 2 || b.Stays() != 253 || b.Total() != 255 {
		t.Errorf("gaps %v, stays %v, total %v", float64(b.Gaps()), float64(b.Stays()), float64(b.Total()))
	}
}

func TestPedalRefuses(t *testing.T) {
	const bad = unit.Length(-0.001)
	pa := AtmosphereSea.Value
	for _, x := range append(slices.Clone(notNumbers), bad) {
		f, p, v := float64(x), unit.Pressure(x), unit.Volume(x)
		for what, err := range map[string]error{
			"way":               second(PedalVolume(x, 6, 0.0254)),
			"ratio":             second(PedalVolume(0.1, unit.Ratio(f), 0.0254)),
			"bore":              second(PedalVolume(0.1, 6, x)),
			"volume back":       second(PedalTravel(v, 6, 0.0254, 0)),
			"ratio back":        second(PedalTravel(1e-6, unit.Ratio(f), 0.0254, 0)),
			"bore back":         second(PedalTravel(1e-6, 6, x, 0)),
			"play":              second(PedalTravel(1e-6, 6, 0.0254, x)),
			"fluid":             second(FluidSqueezed(v, 1e6, 1e9)),
			"fluid pressure":    second(FluidSqueezed(1e-4, p, 1e9)),
			"modulus":           second(FluidSqueezed(1e-4, 1e6, p)),
			"air":               second(AirSqueezed(v, 1e6, pa, 1)),
			"air pressure":      second(AirSqueezed(1e-6, p, pa, 1)),
			"air outside":       second(AirSqueezed(1e-6, 1e6, p, 1)),
			"exponent":          second(AirSqueezed(1e-6, 1e6, pa, unit.Ratio(f))),
			"air behind":        second(AirBehind(v, 1e6, pa, 1)),
			"pressure behind":   second(AirBehind(1e-6, p, pa, 1)),
			"exponent behind":   second(AirBehind(1e-6, 1e6, pa, unit.Ratio(f))),
			"mixture":           second(MixtureModulus(p, 0.01, 1e6, pa, 1)),
			"share":             second(MixtureModulus(1e9, unit.Ratio(f), 1e6, pa, 1)),
			"mixture pressure":  second(MixtureModulus(1e9, 0.01, p, pa, 1)),
			"yielding area":     second(Yielded(unit.Area(f), 1e-4, 1e6, 1e6)),
			"yielding":          second(Yielded(0.01, x, 1e6, 1e6)),
			"yielding at":       second(Yielded(0.01, 1e-4, p, 1e6)),
			"yielding pressure": second(Yielded(0.01, 1e-4, 1e6, p)),
			"pipe":              second(PipeSwelled(x, 0.005, 0.0007, 1e6)),
			"pipe outer":        second(PipeSwelled(1, x, 0.0007, 1e6)),
			"pipe wall":         second(PipeSwelled(1, 0.005, x, 1e6)),
			"pipe pressure":     second(PipeSwelled(1, 0.005, 0.0007, p)),
			"hose":              second(HoseSwelled(x, 0.003, 1e6, false)),
			"hose bore":         second(HoseSwelled(1, x, 1e6, false)),
			"hose pressure":     second(HoseSwelled(1, 0.003, p, false)),
			"drum":              second(DrumGap([]unit.Length{x}, 1e-3)),
			"drum clearance":    second(DrumGap([]unit.Length{0.02}, x)),
			"clearance behind":  second(ClearanceBehind(v, []unit.Length{0.02})),
			"bore behind":       second(ClearanceBehind(1e-6, []unit.Length{x})),
			"knock":             second(KnockBehind(v, 0.01)),
			"knock area":        second(KnockBehind(1e-6, unit.Area(f))),
			"sank":              second(Sinking(x, 10, 6, 0.0254)),
			"time":              second(Sinking(0.01, unit.Time(f), 6, 0.0254)),
		} {
			refused(t, what, err)
		}
		for what, err := range map[string]error{
			"free": third(PedalUsed(x, 0, 0, 0)), "pressed": third(PedalUsed(1, x, 0, 0)),
			"u free": third(PedalUsed(1, 0, x, 0)), "u pressed": third(PedalUsed(1, 0, 0, x)),
		} {
			refused(t, what, err)
		}
	}
	refused(t, "pressed above free", third(PedalUsed(0.1, 0.11, 0, 0)))
	refused(t, "no way at all", third(PedalUsed(0, 0, 0, 0)))
	refused(t, "no time", second(Sinking(0.01, 0, 6, 0.0254)))
	refused(t, "no pressure behind the air", second(AirBehind(1e-6, 0, pa, 1)))
	refused(t, "too quick", second(AirSqueezed(1e-6, 1e6, pa, 1.41)))
	refused(t, "slower than slow", second(AirSqueezed(1e-6, 1e6, pa, 0.99)))
	refused(t, "no drums", second(ClearanceBehind(1e-6, nil)))
	refused(t, "a pipe all wall", second(PipeSwelled(1, 0.005, 0.0025, 1e6)))
	refused(t, "beyond what a hose is for", second(HoseSwelled(1, 0.003, 3001*unit.PSI, false)))
	must(t, 0, second(HoseSwelled(1, 0.003, 3000*unit.PSI, false)))
	if v, err := DrumGap(nil, 1e-3); v != 0 || err != nil {
		t.Errorf("no drums take %v, %v", v, err)
	}
}

// The edges of the ranges, which are taken: little is not nothing.
func TestPedalEdges(t *testing.T) {
	const pa = 101325 * unit.Pascal
	for what, err := range map[string]error{
		"pedal ratio":          second(PedalVolume(0.1, 0.005, 0.0254)),
		"pedal ratio back":     second(PedalTravel(1e-6, 0.005, 0.0254, 0)),
		"modulus":              second(FluidSqueezed(1e-6, 0, 0.005)),
		"air outside":          second(AirSqueezed(1e-6, 0, 0.005, 1)),
		"pressure behind":      second(AirBehind(1e-6, 0.005, pa, 1)),
		"modulus of mixture":   second(MixtureModulus(0.005, 0, 0, pa, 1)),
		"yielding at":          second(Yielded(1e-3, 1e-4, 0.005, 0)),
		"nearly all wall":      second(PipeSwelled(1, 0.01, 0.00497, 1e6)),
		"knock-back":           second(KnockBehind(1e-6, 1e-3)),
		"a moment":             second(Sinking(0.01, 0.005, 6, 0.0254)),
		"no share":             second(MixtureModulus(1e9, 0, 1e6, pa, 1.4)),
		"nothing everywhere":   second(PedalTravel(0, 6, 0.0254, 0)),
		"no way":               second(PedalVolume(0, 6, 0.0254)),
		"no hose":              second(HoseSwelled(0, 0.003, 0, false)),
		"no pipe":              second(PipeSwelled(0, 0.005, 0.0007, 0)),
		"no clearance":         second(DrumGap([]unit.Length{0.02}, 0)),
		"nothing is explained": second(ClearanceBehind(0, []unit.Length{0.02})),
	} {
		if err != nil {
			t.Errorf("%s: %v", what, err)
		}
	}
	must(t, 0, third(PedalUsed(0.1, 0.1, 0, 0)))
}

func second[A any](_ A, err error) error        { return err }
func third[A, B any](_ A, _ B, err error) error { return err }

func BenchmarkPedal(b *testing.B) {
	for b.Loop() {
		v, err := PedalVolume(0.1, 6, 0.0254)
		if err != nil {
			b.Fatal(err)
		}
		if _, err := AirBehind(v, 7e6, AtmosphereSea.Value, 1.4); err != nil {
			b.Fatal(err)
		}
		if _, err := ClearanceBehind(v, []unit.Length{0.022, 0.022}); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkPedalUsed(b *testing.B) {
	for b.Loop() {
		if _, _, err := PedalUsed(0.15, 0.04, 0.002, 0.002); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkMixture(b *testing.B) {
	for b.Loop() {
		if _, err := MixtureModulus(1.7e9, 0.005, 1e6, AtmosphereSea.Value, 1.4); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkHose(b *testing.B) {
	for b.Loop() {
		if _, err := HoseSwelled(1.2, 0.0032, 8e6, false); err != nil {
			b.Fatal(err)
		}
		if _, err := PipeSwelled(6, 0.0048, 0.0007, 8e6); err != nil {
			b.Fatal(err)
		}
	}
}
