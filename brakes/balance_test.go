package brakes

import (
	"fmt"
	"math"
	"testing"

	"chock/brakes/unit"
	"pgregory.net/rapid"
)

// bodyOf is a body of weight 20 kN by its two ratios.
func bodyOf(psi, chi unit.Ratio) Body {
	const w, l = 20e3, 3.0
	return Body{Front: unit.Force((1 - psi) * w), Rear: unit.Force(psi * w), Wheelbase: l, CentreHeight: unit.Length(chi * l)}
}

// bodyAt is a body by its weight and where its centre of gravity is.
func bodyAt(w unit.Force, toFront, toRear, height unit.Length) Body {
	l := toFront + toRear
	return Body{Front: times(float64(toRear/l), w), Rear: times(float64(toFront/l), w), Wheelbase: l, CentreHeight: height}
}

func split(t *testing.T, share unit.Ratio) Split {
	t.Helper()
	s, err := ShareSplit(share)
	return must(t, s, err)
}

func ratioIn(t *testing.T, in []string, i int) unit.Ratio {
	t.Helper()
	return amount[unit.Ratio](t, in[i])
}

// byRatios reads the first two inputs as a body by its ratios.
func byRatios(t *testing.T, in []string) Body {
	t.Helper()
	return bodyOf(ratioIn(t, in, 0), ratioIn(t, in, 1))
}

// byMeasures reads weight, distances and height.
func byMeasures(t *testing.T, in []string) Body {
	t.Helper()
	return bodyAt(amount[unit.Force](t, in[0]), amount[unit.Length](t, in[1]), amount[unit.Length](t, in[2]), amount[unit.Length](t, in[3]))
}

// byRule reads a vehicle as the rules name it, on a wheelbase of 3.0 m: front
// share of the weight, height, front share of the brake force.
func byRule(t *testing.T, in []string) (Body, Split) {
	t.Helper()
	return bodyOf(1-ratioIn(t, in, 0), unit.Per(amount[unit.Length](t, in[1]), 3*unit.Metre)), split(t, 1-ratioIn(t, in, 2))
}

func at(t *testing.T, b Body, s Split, z unit.Ratio) Balance {
	t.Helper()
	m, err := b.At(s, z)
	return must(t, m, err)
}

func lockOf(t *testing.T, b Body, s Split, mu unit.Ratio) Lock {
	t.Helper()
	l, err := b.Lock(s, mu)
	return must(t, l, err)
}

func criticalOf(t *testing.T, b Body, s Split) unit.Ratio {
	t.Helper()
	z, err := b.Critical(s)
	return must(t, z, err)
}

// lostOf is the lock with one circuit lost.
func lostOf(t *testing.T, in []string, how Circuits, lost string, share, mu unit.Ratio) Lock {
	t.Helper()
	all, err := byRatios(t, in).LoseCircuit(split(t, share), how, mu, 0.3)
	must(t, all, err)
	for _, l := range all {
		if l.Circuit == lost {
			return l.Lock
		}
	}
	t.Fatalf("no circuit %s", lost)
	return Lock{}
}

// withValve reads loads, wheelbase and height, tyre, torques of one wheel,
// valve and pressure.
func withValve(t *testing.T, in []string) Balance {
	t.Helper()
	loads, sizes, gains := amounts[unit.Force](t, in[0]), amounts[unit.Length](t, in[1]), amounts[unit.Volume](t, in[3])
	tyre := amount[unit.Length](t, in[2])
	b := Body{Front: loads[0], Rear: loads[1], Wheelbase: sizes[0], CentreHeight: sizes[1]}
	front, err := RoadGainOf(gains[0], tyre)
	must(t, front, err)
	rear, err := RoadGainOf(gains[1], tyre)
	must(t, rear, err)
	m, err := b.AtPressure(Split{front, rear, Valve{amount[unit.Pressure](t, in[4]), ratioIn(t, in, 5)}}, amount[unit.Pressure](t, in[6]))
	return must(t, m, err)
}

// partsOf reads friction, piston and radius of the discs, factor, bore and
// radius of the drums, as brakes on wheels of one size.
func partsOf(t *testing.T, in []string) Split {
	t.Helper()
	length := func(i int) unit.Length { return amount[unit.Length](t, in[i]) }
	front, err := RoadGain(2*ratioIn(t, in, 0), unit.Circle(length(1)), length(2), 0.3)
	must(t, front, err)
	rear, err := RoadGain(ratioIn(t, in, 3), unit.Circle(length(4)), length(5), 0.3)
	must(t, rear, err)
	return Split{Front: front, Rear: rear}
}

func distributionRule(t *testing.T, id string) DistributionRule {
	t.Helper()
	for _, r := range DistributionRules() {
		if r.ID == id {
			return r
		}
	}
	t.Fatalf("no rule %s", id)
	return DistributionRule{}
}

// onOneWheel is the torque of one brake over pressure, of a gain at a tyre.
func onOneWheel(gain unit.Area, tyre unit.Length) unit.Volume { return gain.Times(tyre) / 2 }

var balanceOps = map[string]operation{
	"load-front": func(t *testing.T, in []string) any {
		front, _, err := byMeasures(t, in).Loads(ratioIn(t, in, 4))
		return must(t, front, err)
	},
	"load-rear": func(t *testing.T, in []string) any {
		_, rear, err := byMeasures(t, in).Loads(ratioIn(t, in, 4))
		return must(t, rear, err)
	},
	"share-front": func(t *testing.T, in []string) any {
		share, err := byMeasures(t, in).IdealShare(ratioIn(t, in, 4))
		return 1 - must(t, share, err)
	},
	"share-rear": func(t *testing.T, in []string) any {
		share, err := byMeasures(t, in).IdealShare(ratioIn(t, in, 4))
		return must(t, share, err)
	},
	// All wheels at the limit: the brakes share as the loads do.
	"slide": func(t *testing.T, in []string) any {
		b, mu := byMeasures(t, in), ratioIn(t, in, 4)
		share, err := b.IdealShare(mu)
		must(t, share, err)
		return times(float64(lockOf(t, b, split(t, share), mu).Best), unit.StandardGravity)
	},
	"wheel-load-front":  func(t *testing.T, in []string) any { return sliding(t, in).FrontLoad / 2 },
	"wheel-load-rear":   func(t *testing.T, in []string) any { return sliding(t, in).RearLoad / 2 },
	"wheel-brake-front": func(t *testing.T, in []string) any { return sliding(t, in).FrontForce / 2 },
	"wheel-brake-rear":  func(t *testing.T, in []string) any { return sliding(t, in).RearForce / 2 },

	// No height, no load that moves.
	"static-front-z": func(t *testing.T, in []string) any {
		w := amount[unit.Force](t, in[1])
		b := Body{Front: amount[unit.Force](t, in[0]), Rear: w - amount[unit.Force](t, in[0]), Wheelbase: 3, CentreHeight: 1e-9}
		return lockOf(t, b, split(t, 0), ratioIn(t, in, 2)).Best
	},
	"static-front-force": func(t *testing.T, in []string) any {
		w := amount[unit.Force](t, in[1])
		b := Body{Front: amount[unit.Force](t, in[0]), Rear: w - amount[unit.Force](t, in[0]), Wheelbase: 3, CentreHeight: 1e-9}
		return at(t, b, split(t, 0), lockOf(t, b, split(t, 0), ratioIn(t, in, 2)).Best).FrontForce
	},

	"ideal-front": func(t *testing.T, in []string) any {
		b, z := byRatios(t, in), ratioIn(t, in, 2)
		share, err := b.IdealShare(z)
		must(t, share, err)
		return unit.Per(at(t, b, split(t, share), z).FrontForce, b.Weight())
	},
	"ideal-rear": func(t *testing.T, in []string) any {
		b, z := byRatios(t, in), ratioIn(t, in, 2)
		share, err := b.IdealShare(z)
		must(t, share, err)
		rear, err := b.IdealRear((1 - share) * z)
		return must(t, rear, err)
	},
	"ideal-share": func(t *testing.T, in []string) any {
		share, err := byRatios(t, in).IdealShare(ratioIn(t, in, 2))
		return must(t, share, err)
	},
	"uses-front": func(t *testing.T, in []string) any {
		return at(t, byRatios(t, in), split(t, ratioIn(t, in, 2)), ratioIn(t, in, 3)).FrontAdhesion
	},
	"uses-rear": func(t *testing.T, in []string) any {
		return at(t, byRatios(t, in), split(t, ratioIn(t, in, 2)), ratioIn(t, in, 3)).RearAdhesion
	},
	"locks-front": func(t *testing.T, in []string) any {
		return lockOf(t, byRatios(t, in), split(t, ratioIn(t, in, 2)), ratioIn(t, in, 3)).Front
	},
	"locks-rear": func(t *testing.T, in []string) any {
		return lockOf(t, byRatios(t, in), split(t, ratioIn(t, in, 2)), ratioIn(t, in, 3)).Rear
	},
	"road-efficiency": func(t *testing.T, in []string) any {
		return lockOf(t, byRatios(t, in), split(t, ratioIn(t, in, 2)), ratioIn(t, in, 3)).Efficiency()
	},
	"critical": func(t *testing.T, in []string) any {
		return criticalOf(t, byRatios(t, in), split(t, ratioIn(t, in, 2)))
	},

	"rear-lost": func(t *testing.T, in []string) any {
		return lostOf(t, in, AxleCircuits, "rear", 0.3, ratioIn(t, in, 2)).Best
	},
	"front-lost": func(t *testing.T, in []string) any {
		return lostOf(t, in, AxleCircuits, "front", 0.3, ratioIn(t, in, 2)).Best
	},
	"diagonal-front": func(t *testing.T, in []string) any {
		return lostOf(t, in, DiagonalCircuits, "diagonal", ratioIn(t, in, 2), ratioIn(t, in, 3)).Front
	},
	"diagonal-rear": func(t *testing.T, in []string) any {
		return lostOf(t, in, DiagonalCircuits, "diagonal", ratioIn(t, in, 2), ratioIn(t, in, 3)).Rear
	},
	"slides-rear":  func(t *testing.T, in []string) any { return slideFrom(t, in, 1) },
	"slides-front": func(t *testing.T, in []string) any { return slideFrom(t, in, 0) },
	"slides-all": func(t *testing.T, in []string) any {
		share, err := byRatios(t, in).IdealShare(ratioIn(t, in, 2))
		return slideFrom(t, in, must(t, share, err))
	},

	"rolls-front": func(t *testing.T, in []string) any { return rollingLock(t, in).Front },
	"rolls-rear":  func(t *testing.T, in []string) any { return rollingLock(t, in).Rear },
	"rolls-best":  func(t *testing.T, in []string) any { return rollingLock(t, in).Best },

	"behind-valve": func(t *testing.T, in []string) any {
		p, err := Valve{amount[unit.Pressure](t, in[0]), ratioIn(t, in, 1)}.Rear(amount[unit.Pressure](t, in[2]))
		return must(t, p, err)
	},
	"valve-rear-pressure": func(t *testing.T, in []string) any { return withValve(t, in).RearPressure },
	"valve-front-force":   func(t *testing.T, in []string) any { return withValve(t, in).FrontForce },
	"valve-rear-force":    func(t *testing.T, in []string) any { return withValve(t, in).RearForce },
	"valve-slows":         func(t *testing.T, in []string) any { return withValve(t, in).Deceleration },
	"valve-front-load":    func(t *testing.T, in []string) any { return withValve(t, in).FrontLoad },
	"valve-rear-load":     func(t *testing.T, in []string) any { return withValve(t, in).RearLoad },
	"valve-front-use":     func(t *testing.T, in []string) any { return withValve(t, in).FrontAdhesion },
	"valve-rear-use":      func(t *testing.T, in []string) any { return withValve(t, in).RearAdhesion },
	"valve-turns-into":    func(t *testing.T, in []string) any { return withValve(t, in).Efficiency() },

	"disc-torque": func(t *testing.T, in []string) any {
		g, err := RoadGain(2*ratioIn(t, in, 0), unit.Circle(amount[unit.Length](t, in[1])), amount[unit.Length](t, in[2]), 0.3)
		return onOneWheel(must(t, g, err), 0.3)
	},
	"drum-torque": func(t *testing.T, in []string) any {
		g, err := RoadGain(ratioIn(t, in, 0), unit.Circle(amount[unit.Length](t, in[1])), amount[unit.Length](t, in[2]), 0.3)
		return onOneWheel(must(t, g, err), 0.3)
	},
	"parts-share": func(t *testing.T, in []string) any { return partsOf(t, in).Share() },
	"rebored-share": func(t *testing.T, in []string) any {
		s, err := partsOf(t, in).Rebored(amount[unit.Length](t, in[4]), amount[unit.Length](t, in[6]))
		return must(t, s, err).Share()
	},
	"parts-critical": func(t *testing.T, in []string) any {
		return criticalOf(t, byRatios(t, in), partsOf(t, in[2:]))
	},

	"use-front": func(t *testing.T, in []string) any {
		b, s := byRule(t, in)
		return at(t, b, s, ratioIn(t, in, 3)).FrontAdhesion
	},
	"use-rear": func(t *testing.T, in []string) any {
		b, s := byRule(t, in)
		return at(t, b, s, ratioIn(t, in, 3)).RearAdhesion
	},
	"use-critical": func(t *testing.T, in []string) any {
		b, s := byRule(t, in)
		return criticalOf(t, b, s)
	},
	"use-best": func(t *testing.T, in []string) any {
		b, s := byRule(t, in)
		return lockOf(t, b, s, ratioIn(t, in, 3)).Best
	},
	"use-efficiency": func(t *testing.T, in []string) any {
		b, s := byRule(t, in)
		return lockOf(t, b, s, ratioIn(t, in, 3)).Efficiency()
	},
	"use-bound": func(t *testing.T, in []string) any {
		return distributionRule(t, in[0]).Demands[0].Line(ratioIn(t, in, 1))
	},
	"use-breaks": func(t *testing.T, in []string) any {
		b, s := byRule(t, in[1:])
		all, err := b.Breaks(s, distributionRule(t, in[0]))
		must(t, all, err)
		if len(all) == 0 {
			t.Fatalf("%v: kept", in)
		}
		return all[0].From
	},
}

// sliding is a vehicle with all wheels at the limit.
func sliding(t *testing.T, in []string) Balance {
	t.Helper()
	b, mu := byMeasures(t, in), ratioIn(t, in, 4)
	share, err := b.IdealShare(mu)
	return at(t, b, split(t, must(t, share, err)), mu)
}

// slideFrom is how far a vehicle goes from a speed at the best deceleration.
func slideFrom(t *testing.T, in []string, share unit.Ratio) unit.Length {
	t.Helper()
	v := amount[unit.Speed](t, in[3])
	a := times(float64(lockOf(t, byRatios(t, in), split(t, share), ratioIn(t, in, 2)).Best), unit.StandardGravity)
	return v.For(v.Over(a)) / 2
}

func rollingLock(t *testing.T, in []string) Lock {
	t.Helper()
	l, toFront := amount[unit.Length](t, in[1]), amount[unit.Length](t, in[2])
	b := bodyAt(amount[unit.Force](t, in[0]), toFront, l-toFront, amount[unit.Length](t, in[3]))
	b.Rolling = ratioIn(t, in, 5)
	return lockOf(t, b, split(t, 1-ratioIn(t, in, 4)), ratioIn(t, in, 6))
}

// The verdicts of the worked cases: which rule which vehicle breaks, and where.
func TestDistributionRules(t *testing.T) {
	const source = "worked apart from this program from the formulas of UN R13, UN R13-H and 49 CFR 571.135 (from memory)"
	laden, empty := bodyOf(0.54, 0.65/3), bodyOf(0.40, 0.20)
	for _, tt := range []struct {
		name   string
		body   Body
		front  unit.Ratio
		z      unit.Ratio
		broken string // of all rules that apply, in their order
		source string
	}{
		{"laden at 0.3", laden, 0.65, 0.3, "", source},
		{"laden at 0.5", laden, 0.65, 0.5, "", source},
		{"laden at 0.8: 0.82 of friction used, so the first rules say nothing", laden, 0.65, 0.8, "", source},
		{"laden, 80 % in front, at 0.3: 0.457 used in front, 0.3186 and 0.28 asked for", laden, 0.80, 0.3, " un-13-use un-13-truck-band", source},
		{"empty at 0.2", empty, 0.65, 0.2, "", source},
		{"empty at 0.3: 0.3088 against 0.2955, in the spare of 0.05", empty, 0.65, 0.3, " un-13h-order us-135-order", source},
		{"empty at 0.5: 0.9 x 0.5833 is 0.525", empty, 0.65, 0.5, " un-13h-order un-13-car-order us-135-order us-135-torque-wheel", source},
		{"empty at 0.62: enough slowing, and rear first", empty, 0.65, 0.62, " un-13h-order un-13-car-order us-135-order us-135-torque-wheel", source},
		{"empty, half in front, at 0.45: 0.7258 used behind, 0.547, 0.468 and 0.556 asked for", empty, 0.50, 0.45,
			" un-13h-use un-13h-order un-13-use un-13-car-order un-13-truck-band us-135-order us-135-torque-wheel", source},
		{"empty, 72 % in front, at 0.599", empty, 0.72, 0.599, "", source},
		{"empty, 72 % in front, at 0.600: both at once", empty, 0.72, 0.600, "", source},
		{"empty, 72 % in front, at 0.601", empty, 0.72, 0.601, " un-13h-order un-13-car-order us-135-order", source},
	} {
		got := ""
		m := at(t, tt.body, split(t, 1-tt.front), tt.z)
		for _, r := range DistributionRules() {
			if r.Broken(m) {
				got += " " + r.ID
			}
		}
		if got != tt.broken {
			t.Errorf("%s breaks%s, want%s\nsource: %s", tt.name, got, tt.broken, tt.source)
		}
	}
}

// A vehicle that keeps a rule, and where another breaks it, end by end.
func TestDistributionBreaks(t *testing.T) {
	const source = "ff = fr at (0.40 - 0.35)/0.20; the band from 0.15 to 0.80"
	laden, empty := bodyOf(0.54, 0.65/3), bodyOf(0.40, 0.20)
	for _, r := range DistributionRules() {
		all, err := laden.Breaks(split(t, 0.35), r)
		must(t, all, err)
		if len(all) > 0 {
			t.Errorf("laden breaks %s: %v", r.ID, all)
		}
	}
	all, err := empty.Breaks(split(t, 0.35), distributionRule(t, "un-13h-order"))
	must(t, all, err)
	if len(all) != 1 {
		t.Fatalf("breaks %v, want one stretch", all)
	}
	near(t, "breaks from", float64(all[0].From), "0.25000", source)
	near(t, "breaks to", float64(all[0].To), "0.80000", source)
	// With the spare of 0.05 some of the middle is let off:
	// 0.35 z = (z + 0.05)(0.40 - 0.20 z), so 0.2 z² - 0.04 z - 0.02 = 0.
	all, err = empty.Breaks(split(t, 0.35), distributionRule(t, "un-13-car-order"))
	must(t, all, err)
	if len(all) != 2 {
		t.Fatalf("breaks %v, want two stretches", all)
	}
	near(t, "breaks from", float64(all[0].From), "0.25000", source)
	near(t, "breaks to", float64(all[0].To), "0.30000", source)
	near(t, "breaks again from", float64(all[1].From), "0.43166", source)
	near(t, "breaks again to", float64(all[1].To), "0.80000", source)
}

// naive works a moment out from the moments about each axle, apart from the
// code: forces at a pressure, by Newton's law with what they move of the load.
type naive struct {
	front, rear, weight, height, base, rolls float64
	gf, gr, knee, slope                      float64
	valve                                    bool
}

func naiveOf(b Body, s Split) naive {
	return naive{float64(b.Front), float64(b.Rear), float64(b.Front + b.Rear), float64(b.CentreHeight), float64(b.Wheelbase), float64(b.Rolling),
		float64(s.Front), float64(s.Rear), float64(s.Valve.Knee), float64(s.Valve.Slope), s.Valve != Valve{}}
}

func (n naive) at(p float64) (ff, fr, z, nf, nr float64) {
	ff, fr = n.gf*p, n.gr*p
	if n.valve && p > n.knee {
		fr = n.gr * (n.knee + n.slope*(p-n.knee))
	}
	pull := ff + fr + n.rolls*n.weight // all that slows it
	tips := pull * n.height            // about the road
	return ff, fr, pull / n.weight, n.front + tips/n.base, n.rear - tips/n.base
}

// locks goes up in pressure until an axle slides, then halves the step.
func (n naive) locks(mu float64, rear bool) float64 {
	over := func(p float64) bool {
		ff, fr, _, nf, nr := n.at(p)
		if rear {
			return fr >= mu*nr
		}
		return ff >= mu*nf
	}
	top := 1.0
	for ; !over(top); top *= 1.02 {
		if top > 1e9 {
			return math.Inf(1)
		}
	}
	low, high := top/1.02, top
	if top == 1 {
		low = 0
	}
	for range 80 {
		if mid := (low + high) / 2; over(mid) {
			high = mid
		} else {
			low = mid
		}
	}
	_, _, z, _, _ := n.at(high)
	return z
}

func drawBody(rt *rapid.T) Body {
	draw := func(name string, low, high float64) float64 { return rapid.Float64Range(low, high).Draw(rt, name) }
	w, psi := draw("weight", 5e3, 40e3), draw("rear share of weight", 0.3, 0.65)
	b := Body{Front: unit.Force((1 - psi) * w), Rear: unit.Force(psi * w), Wheelbase: unit.Length(draw("wheelbase", 2, 4)), CentreHeight: unit.Length(draw("height", 0.3, 0.8))}
	if rapid.Bool().Draw(rt, "rolls") {
		b.Rolling = unit.Ratio(draw("rolling", 0.001, 0.03))
	}
	return b
}

func drawSplit(rt *rapid.T, valve bool) Split {
	draw := func(name string, low, high float64) float64 { return rapid.Float64Range(low, high).Draw(rt, name) }
	g, share := draw("gain", 0.5e-3, 5e-3), draw("rear share", 0.05, 0.7)
	s := Split{Front: unit.Area((1 - share) * g), Rear: unit.Area(share * g)}
	if valve {
		s.Valve = Valve{Knee: unit.Pressure(draw("knee", 2e5, 5e6)), Slope: unit.Ratio(draw("slope", 0, 1))}
	}
	return s
}

func relative(a, b float64) float64 {
	if a == b {
		return 0 // infinities too
	}
	return math.Abs(a-b) / math.Max(math.Abs(a), math.Abs(b))
}

// The closed forms against numbers found by halving steps.
func TestLockAgainstBisection(t *testing.T) {
	turned := 0
	rapid.Check(t, func(rt *rapid.T) {
		b, s := drawBody(rt), drawSplit(rt, rapid.Bool().Draw(rt, "valve"))
		mu := rapid.Float64Range(0.05, 1.0).Draw(rt, "road")
		l, err := b.Lock(s, unit.Ratio(mu))
		if err != nil {
			rt.Fatal(err)
		}
		n := naiveOf(b, s)
		front, rear := n.locks(mu, false), n.locks(mu, true)
		if relative(float64(l.Front), front) > 1e-9 || relative(float64(l.Rear), rear) > 1e-9 {
			rt.Fatalf("locks at %v and %v, by halving at %g and %g", l.Front, l.Rear, front, rear)
		}
		if l.Best != min(l.Front, l.Rear) || relative(front, rear) > 1e-6 && (l.First == FrontEnd) != (front < rear) {
			rt.Fatalf("%+v", l)
		}
		if l.First == RearEnd {
			turned++
		}
		// Just before it, the friction used is what the road has.
		m, err := b.At(s, l.Best)
		if err != nil {
			rt.Fatal(err)
		}
		if relative(float64(m.Needs()), mu) > 1e-9 || l.First != BothEnds && m.First() != l.First {
			rt.Fatalf("at the lock %v and %v are used of %g, first %v against %v", m.FrontAdhesion, m.RearAdhesion, mu, m.First(), l.First)
		}
		if b.Rolling == 0 && (l.Efficiency() > 1+1e-12 || relative(float64(m.Efficiency()), float64(l.Efficiency())) > 1e-9) {
			rt.Fatalf("efficiency %v and %v", l.Efficiency(), m.Efficiency())
		}
	})
	if turned == 0 {
		t.Error("no rear axle ever locked first")
	}
}

// A moment against the naive one; a deceleration and its pressure, there and
// back; the ideal curve.
func TestBalanceProperties(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		b, s := drawBody(rt), drawSplit(rt, rapid.Bool().Draw(rt, "valve"))
		z := b.Rolling + unit.Ratio(rapid.Float64Range(0.001, 0.99).Draw(rt, "of all"))*(min(b.Lifts(), 1.2)-b.Rolling)
		if s.Valve.Slope == 0 && !s.Valve.None() {
			s.Valve.Slope = 0.1
		}
		m, err := b.At(s, z)
		if err != nil {
			rt.Fatal(err)
		}
		ff, fr, zz, nf, nr := naiveOf(b, s).at(float64(m.Pressure))
		for _, p := range []struct{ got, want float64 }{
			{float64(m.FrontForce), ff}, {float64(m.RearForce), fr}, {float64(m.Deceleration), zz}, {float64(z), zz},
			{float64(m.FrontLoad), nf}, {float64(m.RearLoad), nr}, {float64(m.FrontAdhesion), ff / nf}, {float64(m.RearAdhesion), fr / nr},
		} {
			if relative(p.got, p.want) > 1e-8 {
				rt.Fatalf("%+v: %g, want %g", m, p.got, p.want)
			}
		}
		if relative(float64(m.FrontLoad+m.RearLoad), float64(b.Weight())) > 1e-12 {
			rt.Fatalf("the loads add up to %v of %v", m.FrontLoad+m.RearLoad, b.Weight())
		}
		// A body and brakes k times as heavy and strong: the same ratios.
		k := rapid.Float64Range(0.1, 10).Draw(rt, "scale")
		heavy, strong := b, s
		heavy.Front, heavy.Rear, strong.Front, strong.Rear = times(k, b.Front), times(k, b.Rear), times(k, s.Front), times(k, s.Rear)
		h, err := heavy.At(strong, z)
		if err != nil {
			rt.Fatal(err)
		}
		if relative(float64(h.RearAdhesion), float64(m.RearAdhesion)) > 1e-8 || relative(float64(h.Pressure), float64(m.Pressure)) > 1e-8 {
			rt.Fatalf("scaled: %+v became %+v", m, h)
		}
		// On the ideal curve both axles use z.
		b.Rolling = 0
		share, err := b.IdealShare(z)
		if err != nil {
			rt.Fatal(err)
		}
		even, err := ShareSplit(share)
		if err != nil {
			rt.Fatal(err)
		}
		e, err := b.At(even, z)
		if err != nil {
			rt.Fatal(err)
		}
		rear, err := b.IdealRear(unit.Per(e.FrontForce, b.Weight()))
		if err != nil {
			rt.Fatal(err)
		}
		if relative(float64(e.FrontAdhesion), float64(z)) > 1e-9 || relative(float64(e.RearAdhesion), float64(z)) > 1e-6 ||
			math.Abs(float64(rear)-float64(unit.Per(e.RearForce, b.Weight()))) > 1e-9 {
			rt.Fatalf("ideal at %v: %+v, rear %v", z, e, rear)
		}
	})
}

// The order of locking against a walk over decelerations; the critical
// deceleration by two routes: equal friction used, and a road on which both
// axles lock at once.
func TestOrder(t *testing.T) {
	most := 0
	rapid.Check(t, func(rt *rapid.T) {
		b, s := drawBody(rt), drawSplit(rt, rapid.Bool().Draw(rt, "valve"))
		spans, err := b.Order(s)
		if err != nil {
			rt.Fatal(err)
		}
		most = max(most, len(spans))
		if spans[0].From != b.Rolling || relative(float64(spans[len(spans)-1].To), float64(b.Lifts())) > 1e-12 {
			rt.Fatalf("%v does not cover %v to %v", spans, b.Rolling, b.Lifts())
		}
		for i, span := range spans {
			if i > 0 && (span.From != spans[i-1].To || span.First == spans[i-1].First) {
				rt.Fatalf("spans %v", spans)
			}
			for k := 1; k < 40; k++ {
				z := span.From + unit.Ratio(k)/40*(span.To-span.From)
				m, err := b.At(s, z)
				if err != nil {
					rt.Fatal(err)
				}
				apart := relative(float64(m.FrontAdhesion), float64(m.RearAdhesion)) > 1e-7
				if apart && m.First() != span.First {
					rt.Fatalf("at %v the %v is first, span %+v of %v", z, m.First(), span, spans)
				}
			}
		}
		z, err := b.Critical(s)
		if err != nil {
			rt.Fatal(err)
		}
		if s.Valve.None() {
			want := math.Max(float64((b.RearShare()-s.Share())/b.Steepness()), 0)
			if want <= float64(b.Rolling) {
				want = 0
			}
			if math.Abs(float64(z)-want) > 1e-9 {
				rt.Fatalf("critical %v, want (ψ - Φ)/χ = %g", z, want)
			}
		}
		if z > b.Rolling && z < 1.2 {
			m, err := b.At(s, z)
			if err != nil {
				rt.Fatal(err)
			}
			l, err := b.Lock(s, m.Needs())
			if err != nil {
				rt.Fatal(err)
			}
			if relative(float64(l.Front), float64(z)) > 1e-6 || relative(float64(l.Rear), float64(z)) > 1e-6 {
				rt.Fatalf("critical %v: on that road the axles lock at %v and %v", z, l.Front, l.Rear)
			}
		}
	})
	if most < 3 {
		t.Errorf("at most %d spans: no valve turned the order back", most)
	}
}

// A valve whose knee is where the order would turn: the axles still lock
// together there, and no turn is lost between the two lines.
func TestTurnAtTheKnee(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		b, s := drawBody(rt), drawSplit(rt, false)
		b.Rolling = 0
		z, err := b.Critical(s)
		if err != nil {
			rt.Fatal(err)
		}
		if z <= 0.01 || z > 1.2 {
			rt.Skip()
		}
		s.Valve = Valve{Knee: times(float64(z), b.Weight()).Over(s.Front + s.Rear), Slope: unit.Ratio(rapid.Float64Range(0.1, 1).Draw(rt, "slope"))}
		l, err := b.Lock(s, z)
		if err != nil {
			rt.Fatal(err)
		}
		if relative(float64(l.Front), float64(z)) > 1e-9 || relative(float64(l.Rear), float64(z)) > 1e-9 || l.First != BothEnds {
			rt.Fatalf("at the knee, %v, %+v", z, l)
		}
		spans, err := b.Order(s)
		if err != nil {
			rt.Fatal(err)
		}
		for _, span := range spans {
			m, err := b.At(s, (span.From+span.To)/2)
			if err != nil {
				rt.Fatal(err)
			}
			if span.First == BothEnds || span.To-span.From < rounding || m.First() != span.First {
				rt.Fatalf("spans %+v", spans)
			}
		}
		if spans[0].First != FrontEnd || spans[0].To < z*(1-1e-9) {
			rt.Fatalf("spans %+v, the turn was at %v", spans, z)
		}
	})
}

// One axle that brakes: the closed form is where going back and forth between
// brake force and load ends, and its first step is less in front, more behind.
func TestLoadTransferSettles(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		b := drawBody(rt)
		mu := rapid.Float64Range(0.05, 0.9).Draw(rt, "road") * min(1, float64(b.Lifts()))
		all, err := b.LoseCircuit(Split{Front: 2e-3, Rear: 1e-3}, AxleCircuits, unit.Ratio(mu), 0.1)
		if err != nil {
			rt.Fatal(err)
		}
		for _, l := range all {
			z, w := float64(b.Rolling), float64(b.Weight())
			first := 0.0
			for i := range 200 {
				moved := z * w * float64(b.CentreHeight) / float64(b.Wheelbase)
				load := float64(b.Front) + moved
				if l.Circuit == "front" {
					load = float64(b.Rear) - moved
				}
				z = mu*load/w + float64(b.Rolling)
				if i == 0 {
					first = mu * float64(b.Front) / w
					if l.Circuit == "front" {
						first = mu * float64(b.Rear) / w
					}
				}
			}
			if relative(float64(l.Lock.Best), z) > 1e-9 {
				rt.Fatalf("%s lost: %v, back and forth ends at %g", l.Circuit, l.Lock.Best, z)
			}
			if b.Rolling == 0 && (l.Circuit == "rear") != (z > first) {
				rt.Fatalf("%s lost: %g, first step %g", l.Circuit, z, first)
			}
		}
	})
}

// What is left at the same pressure adds up to the whole; the booster; small
// friction; monotone in the rear share.
func TestFailedProperties(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		b, s := drawBody(rt), drawSplit(rt, false)
		b.Rolling = 0
		before := unit.Ratio(rapid.Float64Range(0.05, 0.6).Draw(rt, "before")) * min(b.Lifts(), 1)
		mu := unit.Ratio(rapid.Float64Range(0.05, 0.8).Draw(rt, "road")) * min(1, b.Lifts())
		axles, err := b.LoseCircuit(s, AxleCircuits, mu, before)
		if err != nil {
			rt.Fatal(err)
		}
		if relative(float64(axles[0].Left+axles[1].Left), float64(before)) > 1e-9 || relative(float64(axles[1].Left/before), float64(s.Share())) > 1e-9 {
			rt.Fatalf("%+v do not add up to %v", axles, before)
		}
		diagonal, err := b.LoseCircuit(s, DiagonalCircuits, mu, before)
		if err != nil {
			rt.Fatal(err)
		}
		for _, l := range append(axles, diagonal...) {
			if relative(float64(l.Times*l.Left), float64(before)) > 1e-9 || l.Lock.Friction != mu {
				rt.Fatalf("%+v", l)
			}
			whole, err := b.Lock(s, mu)
			if err != nil {
				rt.Fatal(err)
			}
			if l.Circuit == "diagonal" && (l.Lock.Best > whole.Best || relative(float64(l.Left), float64(before)/2) > 1e-9) {
				rt.Fatalf("half the brakes: %v, all of them %v", l.Lock.Best, whole.Best)
			}
		}
		gain := unit.Ratio(rapid.Float64Range(1, 8).Draw(rt, "gain"))
		foot, err := b.LoseBooster(s, gain, before)
		if err != nil {
			rt.Fatal(err)
		}
		if relative(float64(foot.Deceleration*gain), float64(before)) > 1e-9 {
			rt.Fatalf("without the booster %v of %v, gain %v", foot.Deceleration, before, gain)
		}
		// On ice nearly nothing moves, and the brakes share as if standing.
		ice, err := b.Lock(s, 1e-6)
		if err != nil {
			rt.Fatal(err)
		}
		standing := min((1-b.RearShare())/(1-s.Share()), b.RearShare()/s.Share())
		if relative(float64(ice.Efficiency()), float64(standing)) > 1e-4 {
			rt.Fatalf("on ice %v, want %v", ice.Efficiency(), standing)
		}
		// More at the rear: the rear locks sooner, the front later.
		more := s
		more.Rear *= 1.1
		l, _ := b.Lock(s, mu)
		m, err := b.Lock(more, mu)
		if err != nil {
			rt.Fatal(err)
		}
		if !(m.Rear < l.Rear) || m.Front < l.Front {
			rt.Fatalf("more at the rear: %+v became %+v", l, m)
		}
		yaw, _ := DiagonalYaw(3000, 1000, 1.5, 1.4)
		turned, _ := DiagonalYaw(1000, 3000, 1.4, 1.5)
		if yaw != -turned {
			rt.Fatalf("mirrored: %v and %v", yaw, turned)
		}
	})
}

func TestValve(t *testing.T) {
	const source = "290 + 0.3 x 210, and a line that cannot fall"
	rapid.Check(t, func(rt *rapid.T) {
		s := drawSplit(rt, true)
		b := drawBody(rt)
		p := unit.Pressure(rapid.Float64Range(0, 2e7).Draw(rt, "p"))
		rear, err := s.Valve.Rear(p)
		if err != nil {
			rt.Fatal(err)
		}
		more, _ := s.Valve.Rear(p + 1e5)
		if float64(rear) > float64(p)*(1+1e-12) || more < rear || float64(more-rear) > 1e5+1e-9*float64(p+1e5) {
			rt.Fatalf("%v lets %v of %v through, and %v of 1 bar more", s.Valve, rear, p, more)
		}
		open := s
		open.Valve.Slope = 1
		mu := unit.Ratio(rapid.Float64Range(0.1, 1).Draw(rt, "road"))
		a, err := b.Lock(open, mu)
		if err != nil {
			rt.Fatal(err)
		}
		none, err := b.Lock(s.WithoutValve(), mu)
		if err != nil {
			rt.Fatal(err)
		}
		if relative(float64(a.Front), float64(none.Front)) > 1e-9 || relative(float64(a.Rear), float64(none.Rear)) > 1e-9 {
			rt.Fatalf("slope 1 is %+v, no valve %+v", a, none)
		}
		// A valve never makes the rear lock sooner.
		with, err := b.Lock(s, mu)
		if err != nil {
			rt.Fatal(err)
		}
		if with.Rear < none.Rear*(1-1e-9) {
			rt.Fatalf("with the valve the rear locks at %v, without at %v", with.Rear, none.Rear)
		}
	})
	// A valve that is shut beyond its knee holds the rear where it is.
	p, err := Valve{Knee: 2 * unit.Megapascal}.Rear(5 * unit.Megapascal)
	near(t, "a limiter", must(t, p, err).Megapascals(), "2.00", source)
	p, err = Valve{Knee: 290 * unit.PSI, Slope: 0.3}.Rear(500 * unit.PSI)
	near(t, "behind the valve", must(t, p, err).PSI(), "353.0", source)
}

// An empty vehicle whose valve is gone: the order that the valve kept right
// turns, and the rules see it.
func TestValveGone(t *testing.T) {
	const source = "worked in plain Python: ψ 0.40, χ 0.20, Φ 0.40, 20 kN, gains 3 and 2 N per kPa; knee 1000 kPa, which is 0.25 g, slope 0.3"
	b := bodyOf(0.40, 0.20)
	s := Split{Front: 3e-3, Rear: 2e-3, Valve: Valve{Knee: 1e6, Slope: 0.3}}
	l := lockOf(t, b, s, 0.8)
	if l.First != FrontEnd {
		t.Errorf("with the valve the %v locks first\nsource: %s", l.First, source)
	}
	gone := lockOf(t, b, s.WithoutValve(), 0.8)
	if gone.First != RearEnd {
		t.Errorf("without the valve the %v locks first\nsource: %s", gone.First, source)
	}
	near(t, "with", float64(l.Best), "0.799505", source)
	near(t, "without", float64(gone.Best), "0.571429", source)
}

func TestUsualFactor(t *testing.T) {
	const (
		handbook = "a standard automotive handbook (from memory): 2.0, 3 and 5 at 0.38 to 0.40"
		model    = "centre-of-pressure model with pivots at 0.8 of the radius and 110 degrees of lining, worked apart from this program: 0.30, 0.35 and 0.40"
	)
	for _, tt := range []struct {
		build    Build
		friction unit.Ratio
		want     string
		source   string
	}{
		{LeadingTrailing, 0.39, "2.000", handbook}, {TwinLeading, 0.39, "3.000", handbook}, {DuoServo, 0.39, "5.000", handbook},
	} {
		c, err := UsualFactor(tt.build, tt.friction)
		near(t, tt.build.String(), float64(must(t, c, err)), tt.want, tt.source)
	}
	// How it grows, against the model: its factors at 0.30 and 0.40.
	for _, tt := range []struct {
		build     Build
		low, high float64
	}{{LeadingTrailing, 1.4716, 2.3815}, {TwinLeading, 2 * 1.0520, 2 * 1.8729}, {DuoServo, 3.6888, 8.7692}} {
		low, err := UsualFactor(tt.build, 0.30)
		must(t, low, err)
		high, err := UsualFactor(tt.build, 0.40)
		must(t, high, err)
		if got, want := float64(high/low), tt.high/tt.low; math.Abs(got/want-1) > 1e-3 {
			t.Errorf("%s grows by %.4g from 0.30 to 0.40, the model by %.4g\nsource: %s", tt.build, got, want, model)
		}
	}
	// A second text, at another friction.
	c, err := UsualFactor(DuoServo, 0.35)
	if got := float64(must(t, c, err)); math.Abs(got/4.0-1) > 0.13 {
		t.Errorf("duo-servo at 0.35 is %.3g, The Tribology Handbook, table 8.3, prints 4.0", got)
	}
	for _, x := range []unit.Ratio{0, -0.1, 0.63, unit.Ratio(math.NaN()), unit.Ratio(math.Inf(1))} {
		_, err := UsualFactor(DuoServo, x)
		refused(t, fmt.Sprint("friction ", float64(x)), err)
	}
	_, err = UsualFactor(7, 0.35)
	refused(t, "no such build", err)
}

func TestBalanceRefuses(t *testing.T) {
	good, s := bodyOf(0.44, 0.2333), split(t, 0.3)
	try := func(what string, b Body, s Split, z, mu unit.Ratio) {
		t.Helper()
		if _, err := b.At(s, z); err != nil {
			refused(t, what, err)
			return
		}
		_, err := b.Lock(s, mu)
		refused(t, what, err)
	}
	for _, x := range []float64{math.NaN(), math.Inf(1), math.Inf(-1), -1, 0} {
		for i, change := range []func(b *Body){
			func(b *Body) { b.Front = unit.Force(x) }, func(b *Body) { b.Rear = unit.Force(x) },
			func(b *Body) { b.Wheelbase = unit.Length(x) }, func(b *Body) { b.CentreHeight = unit.Length(x) },
		} {
			b := good
			change(&b)
			try(fmt.Sprintf("body %d with %g", i, x), b, s, 0.5, 0.8)
			_, _, err := b.Loads(0.5)
			refused(t, fmt.Sprintf("loads of body %d with %g", i, x), err)
			_, err = b.IdealRear(0.3)
			refused(t, fmt.Sprintf("curve of body %d with %g", i, x), err)
			_, err = b.Order(s)
			refused(t, fmt.Sprintf("order of body %d with %g", i, x), err)
			_, err = b.AtPressure(s, 1)
			refused(t, fmt.Sprintf("body %d with %g at a pressure", i, x), err)
		}
		_, err := good.Lock(s, unit.Ratio(x))
		refused(t, "road", err)
		for name, err := range map[string]error{
			"factor": errOf(RoadGain(unit.Ratio(x), 1e-3, 0.1, 0.3)), "pistons": errOf(RoadGain(0.4, unit.Area(x), 0.1, 0.3)),
			"radius": errOf(RoadGain(0.4, 1e-3, unit.Length(x), 0.3)), "tyre": errOf(RoadGain(0.4, 1e-3, 0.1, unit.Length(x))),
			"torque":           errOf(RoadGainOf(unit.Volume(x), 0.3)),
			"tyre of a torque": errOf(RoadGainOf(1e-5, unit.Length(x))), "bore": errOf(s.Rebored(unit.Length(x), 0.02)), "new bore": errOf(s.Rebored(0.02, unit.Length(x))),
			"track": errOf(DiagonalYaw(1, 1, unit.Length(x), 1)), "rear track": errOf(DiagonalYaw(1, 1, 1, unit.Length(x))),
		} {
			refused(t, fmt.Sprint(name, " ", x), err)
		}
		if x == 0 {
			continue
		}
		b := good
		b.Rolling = unit.Ratio(x)
		try("rolling", b, s, 0.5, 0.8)
		_, err = good.At(s, unit.Ratio(x))
		refused(t, "deceleration", err)
		_, err = good.AtPressure(s, unit.Pressure(x))
		refused(t, "pressure", err)
		_, err = good.IdealRear(unit.Ratio(x))
		refused(t, "front force", err)
		_, err = ShareSplit(unit.Ratio(x))
		refused(t, "share", err)
		_, err = good.LoseBooster(s, unit.Ratio(x), 0.3)
		refused(t, "gain", err)
		for i, bad := range []Split{{Front: unit.Area(x), Rear: 1}, {Front: 1, Rear: unit.Area(x)}, {Front: 1, Rear: 1, Valve: Valve{Knee: unit.Pressure(x), Slope: 0.3}}, {Front: 1, Rear: 1, Valve: Valve{Knee: 1e6, Slope: unit.Ratio(x)}}} {
			try(fmt.Sprintf("split %d with %g", i, x), good, bad, 0.5, 0.8)
			_, err = good.Order(bad)
			refused(t, fmt.Sprintf("order of split %d with %g", i, x), err)
		}
		_, err = DiagonalYaw(unit.Force(x), 1, 1, 1)
		refused(t, "front force", err)
		_, err = DiagonalYaw(1, unit.Force(x), 1, 1)
		refused(t, "rear force", err)
	}
	_, err := ShareSplit(1.01)
	refused(t, "more than all", err)
	_, err = good.At(s, good.Lifts())
	refused(t, "a deceleration that lifts the rear", err)
	_, err = good.AtPressure(Split{Front: 1, Rear: 1}, 1e6)
	refused(t, "a pressure that lifts the rear", err)
	_, err = good.At(Split{}, 0.3)
	refused(t, "no brakes", err)
	_, err = good.Order(split(t, 0))
	refused(t, "the order of one axle", err)
	_, err = good.Order(split(t, 1))
	refused(t, "the order of the other axle", err)
	_, err = good.At(Split{Rear: 1, Valve: Valve{Knee: 1000}}, 0.3)
	refused(t, "rear brakes behind a valve that shuts", err)
	b := good
	b.Rolling = 0.02
	_, err = b.At(s, 0.01)
	refused(t, "less than rolling", err)
	b.Rolling = 0.2
	_, _, err = b.Loads(0.3)
	refused(t, "a road like sand", err)
	_, err = good.Lock(s, 1.501)
	refused(t, "glue", err)
	if _, err = good.Lock(s, 1.5); err != nil {
		t.Error(err)
	}
	_, err = Valve{Knee: 1e6, Slope: 1.001}.Rear(2e6)
	refused(t, "a valve that adds", err)
	if _, err = (Valve{Knee: 1e6, Slope: 1}).Rear(2e6); err != nil {
		t.Error(err)
	}
	// Front brakes alone lock at 0.7 mu/(1 - 0.5 mu), the rear lifts at 0.6: at
	// a road of 0.6 both come at once.
	tall := bodyOf(0.3, 0.5)
	for _, mu := range []unit.Ratio{0.603, 1} {
		_, err = tall.Lock(split(t, 0), mu)
		refused(t, "tips before it locks", err)
	}
	if _, err = tall.Lock(split(t, 0), 0.597); err != nil {
		t.Error(err)
	}

	// One compartment, and a division that is none.
	for _, how := range []Circuits{OneCircuit, "three", ""} {
		_, err = good.LoseCircuit(s, how, 0.8, 0.4)
		refused(t, string(how), err)
	}
	for _, x := range []unit.Ratio{0, -1, unit.Ratio(math.NaN()), 3} {
		_, err = good.LoseCircuit(s, AxleCircuits, 0.8, x)
		refused(t, "before", err)
	}
	_, err = good.LoseCircuit(s, AxleCircuits, 0, 0.4)
	refused(t, "no road", err)
	_, err = good.LoseBooster(s, 0.99, 0.4)
	refused(t, "a booster that takes away", err)
}

func errOf[Q any](_ Q, err error) error { return err }

func BenchmarkBalanceAt(b *testing.B) {
	body, s := bodyOf(0.44, 0.2333), Split{Front: 3e-3, Rear: 2e-3, Valve: Valve{Knee: 1e6, Slope: 0.3}}
	for b.Loop() {
		if _, err := body.At(s, 0.5); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkBalanceLock(b *testing.B) {
	body, s := bodyOf(0.44, 0.2333), Split{Front: 3e-3, Rear: 2e-3, Valve: Valve{Knee: 1e6, Slope: 0.3}}
	for b.Loop() {
		if _, err := body.Lock(s, 0.8); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkBalanceOrder(b *testing.B) {
	body, s := bodyOf(0.44, 0.2333), Split{Front: 3e-3, Rear: 2e-3, Valve: Valve{Knee: 1e6, Slope: 0.3}}
	for b.Loop() {
		if _, err := body.Order(s); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkLoseCircuit(b *testing.B) {
	body, s := bodyOf(0.44, 0.2333), Split{Front: 3e-3, Rear: 2e-3, Valve: Valve{Knee: 1e6, Slope: 0.3}}
	for b.Loop() {
		if _, err := body.LoseCircuit(s, DiagonalCircuits, 0.8, 0.5); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkDistributionBreaks(b *testing.B) {
	body, s := bodyOf(0.44, 0.2333), Split{Front: 3e-3, Rear: 2e-3, Valve: Valve{Knee: 1e6, Slope: 0.3}}
	rules := DistributionRules()
	for b.Loop() {
		if _, err := body.Breaks(s, rules[3]); err != nil {
			b.Fatal(err)
		}
	}
}
