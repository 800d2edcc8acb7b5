package brakes

import (
	"math"
	"strings"
	"testing"

	"chock/brakes/unit"
	"pgregory.net/rapid"
)

func distanceTest(t *testing.T, id string) DistanceTest {
	t.Helper()
	for _, r := range DistanceTests() {
		if r.ID == id {
			return r
		}
	}
	t.Fatalf("no test %s", id)
	return DistanceTest{}
}

func stopRule(t *testing.T, id string) StopRule {
	t.Helper()
	for _, r := range StopRules() {
		if r.ID == id {
			return r
		}
	}
	t.Fatalf("no rule %s", id)
	return StopRule{}
}

func forceRule(t *testing.T, id string) ForceRule {
	t.Helper()
	for _, r := range ForceRules() {
		if r.ID == id {
			return r
		}
	}
	t.Fatalf("no rule %s", id)
	return ForceRule{}
}

func yes(b bool) float64 {
	if b {
		return 1
	}
	return 0
}

// stopOf reads a stop: speed, deceleration, reaction, dead time, build-up,
// slope.
func stopOf(t *testing.T, in []string) Stop {
	t.Helper()
	return Stop{From: amount[unit.Speed](t, in[0]), Brakes: amount[unit.Acceleration](t, in[1]), Reaction: amount[unit.Time](t, in[2]),
		Dead: amount[unit.Time](t, in[3]), BuildUp: amount[unit.Time](t, in[4]), Downhill: amount[unit.Ratio](t, in[5])}
}

var stopOps = map[string]operation{
	"stop": func(t *testing.T, in []string) any {
		s, err := StoppingDistance(stopOf(t, in))
		return must(t, s, err).Distance
	},
	"decel-over": func(t *testing.T, in []string) any {
		s := stopOf(t, []string{in[1], "1g", in[2], in[3], in[4], in[5]})
		d, err := DecelOver(amount[unit.Length](t, in[0]), s)
		return must(t, d, err)
	},
	"mean-decel": func(t *testing.T, in []string) any {
		d, err := MeanDecel(amount[unit.Speed](t, in[0]), amount[unit.Speed](t, in[1]), amount[unit.Length](t, in[2]), amount[unit.Length](t, in[3]))
		return must(t, d, err)
	},
	"of-coefficient": func(t *testing.T, in []string) any {
		d, err := OfCoefficient(number(t, in[0]))
		return must(t, d, err)
	},
	"coefficient": func(t *testing.T, in []string) any {
		c, err := Coefficient(distanceTest(t, in[0]).Decel.Value)
		return must(t, c, err)
	},
	"asks": func(t *testing.T, in []string) any { return distanceTest(t, in[0]).Decel.Value },
	"from": func(t *testing.T, in []string) any { return distanceTest(t, in[0]).From },
	"lag-metres": func(t *testing.T, in []string) any {
		return amount[unit.Speed](t, in[1]).For(distanceTest(t, in[0]).Lag.Value)
	},
	"allowed": func(t *testing.T, in []string) any {
		m, err := distanceTest(t, in[0]).Most(amount[unit.Speed](t, in[1]))
		return must(t, m, err)
	},
	"met": func(t *testing.T, in []string) any {
		m, err := distanceTest(t, in[0]).Most(amount[unit.Speed](t, in[1]))
		r := StopRule{Most: row(must(t, m, err), Memory, "here", "here")}
		return yes(!r.Broken(amount[unit.Length](t, in[2])))
	},
	"of-a-stop": func(t *testing.T, in []string) any {
		d, err := TestDecel(amount[unit.Speed](t, in[0]), amount[unit.Length](t, in[1]), amount[unit.Time](t, in[2]))
		return must(t, d, err)
	},
	"share-of-cold": func(t *testing.T, in []string) any {
		s, err := ShareOfCold(amount[unit.Speed](t, in[0]), amount[unit.Length](t, in[1]), amount[unit.Time](t, in[2]), amount[unit.Ratio](t, in[3]))
		return must(t, s, err)
	},
	"hot-least":         func(*testing.T, []string) any { return HotLeast.Value },
	"recovery-least":    func(*testing.T, []string) any { return RecoveryLeast.Value },
	"recovery-most":     func(*testing.T, []string) any { return RecoveryMost.Value },
	"hot-of-prescribed": func(*testing.T, []string) any { return HotOfPrescribed.Value },
	"corrected": func(t *testing.T, in []string) any {
		s, err := CorrectedDistance(amount[unit.Length](t, in[0]), amount[unit.Speed](t, in[1]), amount[unit.Speed](t, in[2]))
		return must(t, s, err)
	},
	"speed-counts": func(t *testing.T, in []string) any {
		return yes(SpeedCounts(amount[unit.Speed](t, in[0]), amount[unit.Speed](t, in[1])))
	},
	"sight": func(t *testing.T, in []string) any {
		s, err := SightDistance(amount[unit.Speed](t, in[0]))
		return must(t, s, err)
	},
	"design-sight": func(t *testing.T, in []string) any {
		s, err := DesignSight(amount[unit.Speed](t, in[0]))
		return must(t, s, err)
	},
	"code-thinking": func(t *testing.T, in []string) any { s, _ := codeDistance(t, in[0]); return s },
	"code-braking":  func(t *testing.T, in []string) any { _, s := codeDistance(t, in[0]); return s },
	"code-stop":     func(t *testing.T, in []string) any { a, b := codeDistance(t, in[0]); return a + b },
	"distance":      func(t *testing.T, in []string) any { return stopRule(t, in[0]).Most.Value },
	"lane":          func(t *testing.T, in []string) any { return stopRule(t, in[0]).Lane.Value },
	"stands": func(t *testing.T, in []string) any {
		return yes(!stopRule(t, in[0]).Broken(amount[unit.Length](t, in[1])))
	},
	"force-asked": func(t *testing.T, in []string) any { return forceRule(t, in[0]).Force.Value },
	"decel-asked": func(t *testing.T, in []string) any { return forceRule(t, in[0]).Decel.Value },
	"force-share": func(t *testing.T, in []string) any { return forceShare(t, in) },
	"strong":      func(t *testing.T, in []string) any { return yes(!forceRule(t, in[0]).TooWeak(forceShare(t, in[1:]))) },
	"quick": func(t *testing.T, in []string) any {
		return yes(!forceRule(t, in[0]).TooSlow(amount[unit.Acceleration](t, in[1])))
	},
}

func codeDistance(t *testing.T, speed string) (thinking, braking unit.Length) {
	t.Helper()
	thinking, braking, err := CodeDistance(amount[unit.Speed](t, speed))
	if err != nil {
		t.Fatal(err)
	}
	return thinking, braking
}

func forceShare(t *testing.T, in []string) unit.Ratio {
	t.Helper()
	return unit.Per(amount[unit.Force](t, in[0]), amount[unit.Mass](t, in[1]).Weight())
}

// stepped drives a stop in small steps, by the trapezoid, and knows none of
// the formulas: what the brakes do at each instant, and the slope's part of it
// as the brakes come on. The build-up is stepped by itself, for there the
// deceleration has its bends.
func stepped(s Stop, steps int) (way, braking, time float64) {
	g := 9.80665 * math.Sin(math.Atan(float64(s.Downhill)))
	full := float64(s.Brakes) - g
	decel := func(on float64) float64 {
		if on < float64(s.BuildUp) {
			return full * on / float64(s.BuildUp)
		}
		return full
	}
	start := float64(s.Reaction + s.Dead)
	v, on := float64(s.From), 0.0
	for _, end := range []float64{float64(s.BuildUp), float64(s.BuildUp) + float64(s.From)/full} {
		dt := (end - on) / float64(steps)
		from := on
		for i := range steps {
			on = from + float64(i)*dt
			next := v - dt*(decel(on)+decel(on+dt))/2
			if next <= 0 {
				part := v / (v - next)
				braking += v * part * dt / 2
				return float64(s.From)*start + braking, braking, start + on + part*dt
			}
			braking += (v + next) / 2 * dt
			v = next
		}
		on = end
	}
	return float64(s.From)*start + braking, braking, start + on
}

func drawStop(rt *rapid.T) Stop {
	f := func(name string, lo, hi float64) float64 { return rapid.Float64Range(lo, hi).Draw(rt, name) }
	return Stop{From: unit.Speed(f("speed", 1, 60)), Brakes: unit.Acceleration(f("brakes", 3.2, 12)), Downhill: unit.Ratio(f("slope", -0.3, 0.3)),
		Reaction: unit.Time(f("reaction", 0, 3)), Dead: unit.Time(f("dead", 0, 0.3)), BuildUp: unit.Time(f("build-up", 0, 1.5))}
}

func TestStopAgainstSteps(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		s := drawStop(rt)
		got, err := StoppingDistance(s)
		if err != nil {
			rt.Fatal(err)
		}
		way, braking, took := stepped(s, 5000)
		for _, x := range []struct {
			what      string
			got, want float64
		}{{"distance", float64(got.Distance), way}, {"braking", float64(got.Braking), braking}, {"time", float64(got.Time), took}} {
			if math.Abs(x.got-x.want) > 1e-6*(1+x.want) {
				rt.Fatalf("%+v: %s %.9g, stepped %.9g", s, x.what, x.got, x.want)
			}
		}
	})
}

func TestStopProperties(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		s := drawStop(rt)
		got, err := StoppingDistance(s)
		if err != nil {
			rt.Fatal(err)
		}
		// Back again.
		d, err := DecelOver(got.Distance, s)
		if err != nil || math.Abs(float64(d-s.Brakes)) > 1e-6*float64(s.Brakes) {
			rt.Fatalf("%+v: back to %v, %v", s, d, err)
		}
		// Brakes on at once, nobody who reacts: energy alone decides.
		bare := s
		bare.Reaction, bare.Dead, bare.BuildUp = 0, 0, 0
		b, err := StoppingDistance(bare)
		if err != nil {
			rt.Fatal(err)
		}
		_, pull := unit.Mass(1).OnSlope(s.Downhill)
		moving, work := unit.Mass(1).Moving(s.From), (unit.Mass(1).At(s.Brakes) - pull).Along(b.Distance)
		if math.Abs(float64(moving-work)) > 1e-9*float64(moving) {
			rt.Fatalf("%+v: %v moving, %v of work", s, moving, work)
		}
		if b.Distance > got.Distance {
			rt.Fatalf("waiting makes it shorter: %v, %v", b.Distance, got.Distance)
		}
		// Each of these makes it longer.
		for what, change := range map[string]func(*Stop){
			"faster":        func(s *Stop) { s.From *= 1.1 },
			"weaker":        func(s *Stop) { s.Brakes *= 0.98 },
			"steeper":       func(s *Stop) { s.Downhill += 0.01 },
			"later":         func(s *Stop) { s.Reaction += 0.1 },
			"more dead":     func(s *Stop) { s.Dead += 0.1 },
			"slower to act": func(s *Stop) { s.BuildUp += 0.1 },
		} {
			w := s
			change(&w)
			if worse, err := StoppingDistance(w); err != nil || worse.Distance <= got.Distance || worse.Time <= got.Time {
				rt.Fatalf("%s: %+v from %+v, %v", what, worse, got, err)
			}
		}
		// Twice the speed at no delay is four times the way.
		bare.From *= 2
		if twice, _ := StoppingDistance(bare); math.Abs(float64(twice.Distance)/float64(b.Distance)-4) > 1e-12 {
			rt.Fatalf("twice the speed: %v from %v", twice.Distance, b.Distance)
		}
		// A distance test is such a stop with the lag for a reaction.
		flat := Stop{From: s.From, Brakes: s.Brakes, Reaction: s.Reaction}
		f, _ := StoppingDistance(flat)
		td, err := TestDistance(s.From, s.Reaction, s.Brakes)
		if err != nil || math.Abs(float64(td-f.Distance)) > 1e-9*float64(td) {
			rt.Fatalf("test distance %v, stop %v, %v", td, f.Distance, err)
		}
		back, err := TestDecel(s.From, td, s.Reaction)
		if err != nil || math.Abs(float64(back/s.Brakes)-1) > 1e-9 {
			rt.Fatalf("test deceleration %v from %v, %v", back, s.Brakes, err)
		}
		c, err := Coefficient(s.Brakes)
		if err != nil {
			rt.Fatal(err)
		}
		if d, err := OfCoefficient(c); err != nil || math.Abs(float64(d/s.Brakes)-1) > 1e-12 {
			rt.Fatalf("coefficient %g back to %v, %v", c, d, err)
		}
		// In the units of the rules: c V² and v²/(2 d) are one number.
		if km := s.From.KilometresPerHour(); math.Abs(c*km*km-float64(b.Distance)*(float64(b.Net)/float64(s.Brakes))) > 1e-9*c*km*km {
			rt.Fatalf("c V² is %g", c*km*km)
		}
	})
}

// A steady stop has its own deceleration as the mean one, wherever it is read.
func TestMeanDecelOfASteadyStop(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		v := rapid.Float64Range(5, 60).Draw(rt, "speed")
		a := rapid.Float64Range(1, 12).Draw(rt, "deceleration")
		hi, lo := v*float64(MeanFrom), v*float64(MeanTo)
		gone := func(to float64) unit.Length { return unit.Length((v*v - to*to) / (2 * a)) }
		d, err := MeanDecel(unit.Speed(hi), unit.Speed(lo), gone(hi), gone(lo))
		if err != nil || math.Abs(float64(d)/a-1) > 1e-9 {
			rt.Fatalf("mean deceleration %v of %g, %v", d, a, err)
		}
	})
	const source = "UN Regulation No. 13, annex 4, 1.1.2 (read): 0.8 and 0.1 of the speed"
	near(t, "from", float64(MeanFrom), "0.8000", source)
	near(t, "to", float64(MeanTo), "0.1000", source)
}

func TestStopRefuses(t *testing.T) {
	good := Stop{From: 20, Brakes: 6, Reaction: 1, Dead: 0.1, BuildUp: 0.3, Downhill: 0.05}
	if _, err := StoppingDistance(good); err != nil {
		t.Fatal(err)
	}
	for _, bad := range []float64{math.NaN(), math.Inf(1), math.Inf(-1), -1} {
		for what, s := range map[string]Stop{
			"speed":    {From: unit.Speed(bad), Brakes: 6},
			"brakes":   {From: 20, Brakes: unit.Acceleration(bad)},
			"reaction": {From: 20, Brakes: 6, Reaction: unit.Time(bad)},
			"dead":     {From: 20, Brakes: 6, Dead: unit.Time(bad)},
			"build-up": {From: 20, Brakes: 6, BuildUp: unit.Time(bad)},
			"slope":    {From: 20, Brakes: 6, Downhill: unit.Ratio(bad * 1.01)},
		} {
			_, err := StoppingDistance(s)
			refused(t, what, err)
			if what != "brakes" {
				_, err = DecelOver(50, s)
				refused(t, what+" of a measured stop", err)
			}
		}
		_, err := DecelOver(unit.Length(bad), good)
		refused(t, "distance", err)
		_, err = MeanDecel(unit.Speed(bad), 1, 1, 10)
		refused(t, "higher speed", err)
		_, err = MeanDecel(10, unit.Speed(bad), 1, 10)
		refused(t, "lower speed", err)
		_, err = MeanDecel(10, 1, unit.Length(bad), 10)
		refused(t, "first way", err)
		_, err = MeanDecel(10, 1, 1, unit.Length(bad))
		refused(t, "second way", err)
		_, err = Coefficient(unit.Acceleration(bad))
		refused(t, "deceleration of a coefficient", err)
		_, err = OfCoefficient(bad)
		refused(t, "coefficient", err)
		_, err = TestDistance(unit.Speed(bad), 0.36, 6)
		refused(t, "speed of a test", err)
		_, err = TestDistance(20, unit.Time(bad), 6)
		refused(t, "lag of a test", err)
		_, err = TestDistance(20, 0.36, unit.Acceleration(bad))
		refused(t, "deceleration of a test", err)
		_, err = TestDecel(unit.Speed(bad), 50, 0.36)
		refused(t, "speed of a test stop", err)
		_, err = TestDecel(20, unit.Length(bad), 0.36)
		refused(t, "way of a test stop", err)
		_, err = TestDecel(20, 50, unit.Time(bad))
		refused(t, "lag of a test stop", err)
		_, err = ShareOfCold(20, 50, 0.36, unit.Ratio(bad))
		refused(t, "share", err)
		_, err = ShareOfCold(20, unit.Length(bad), 0.36, 1)
		refused(t, "cold stop", err)
		_, err = CorrectedDistance(unit.Length(bad), 20, 20)
		refused(t, "way to correct", err)
		_, err = CorrectedDistance(20, unit.Speed(bad), 20)
		refused(t, "speed to correct", err)
		_, err = CorrectedDistance(20, 20, unit.Speed(bad))
		refused(t, "speed named", err)
		_, err = SightDistance(unit.Speed(bad))
		refused(t, "speed of a sight distance", err)
		_, err = DesignSight(unit.Speed(bad))
		refused(t, "speed of a design distance", err)
		_, _, err = CodeDistance(unit.Speed(bad))
		refused(t, "speed of the Highway Code", err)
	}
	for what, err := range map[string]error{
		"a slope steeper than the brakes":  refusal(StoppingDistance(Stop{From: 20, Brakes: 1, Downhill: 0.2})),
		"a percentage without its sign":    refusal(StoppingDistance(Stop{From: 20, Brakes: 6, Downhill: 6})),
		"no way left for the brakes":       refusal(DecelOver(20, Stop{From: 20, Reaction: 1})),
		"up a hill that stops it alone":    refusal(DecelOver(300, Stop{From: 20, Downhill: -0.1})),
		"a test stop shorter than its lag": refusal(TestDecel(100*unit.KilometrePerHour, 10, 0.36)),
		"no speed lost":                    refusal(MeanDecel(10, 10, 1, 2)),
		"no way gone":                      refusal(MeanDecel(10, 5, 2, 2)),
		"too far from the speed, below":    refusal(CorrectedDistance(20, 17.99, 20)),
		"too far from the speed, above":    refusal(CorrectedDistance(20, 22.01, 20)),
		"14.9 mph":                         refusal(SightDistance(14.9 * unit.MilePerHour)),
		"80.5 mph":                         refusal(SightDistance(80.5 * unit.MilePerHour)),
	} {
		refused(t, what, err)
	}
	for _, v := range []unit.Speed{19.9 * unit.MilePerHour, 70.5 * unit.MilePerHour} {
		_, _, err := CodeDistance(v)
		refused(t, v.String(), err)
	}
	for _, ok := range []error{
		refusal(CorrectedDistance(20, 18, 20)), refusal(CorrectedDistance(20, 22, 20)),
		refusal(SightDistance(15 * unit.MilePerHour)), refusal(SightDistance(80 * unit.MilePerHour)),
	} {
		if ok != nil {
			t.Error(ok)
		}
	}
}

func refusal[Q any](_ Q, err error) error { return err }

// What a measured way is worth, against small steps of speed and of way.
func TestStopDoubt(t *testing.T) {
	const source = "law of propagation: the root of the squares of what each alone does, by small steps"
	corrected := func(s, v float64) float64 { return s * 400 / (v * v) }
	const d = 1e-5
	byWay := (corrected(30+d, 20) - corrected(30-d, 20)) / (2 * d) * 0.2
	bySpeed := (corrected(30, 20+d) - corrected(30, 20-d)) / (2 * d) * 0.5
	near(t, "doubt", float64(StopDoubt(30, 0.2, 20, 0.5)), "1.51327", source)
	near(t, "by steps", math.Hypot(byWay, bySpeed), "1.51327", source)
}

// The rules themselves: each has its words, its source and its own id, and the
// three criteria of 49 CFR 393.52 are never worked out from one another.
func TestStopRules(t *testing.T) {
	ids := map[string]bool{}
	once := func(id, say string) {
		if ids[id] || say == "" {
			t.Errorf("%q: twice, or without words", id)
		}
		ids[id] = true
	}
	for _, r := range DistanceTests() {
		once(r.ID, r.Say)
		if r.Edition == "" || r.Lag.Source == "" || r.Decel.Source == "" {
			t.Errorf("%s lacks its edition or source", r.ID)
		}
		// Only a run from a share of the top speed has no one speed.
		if fast := strings.HasSuffix(r.ID, "fast") || strings.HasSuffix(r.ID, "engine-on"); fast != (r.OfTop == 0.8) || fast != (r.From == 160*unit.KilometrePerHour) {
			t.Errorf("%s: from %v, of the top speed %v", r.ID, r.From, r.OfTop)
		}
		if !strings.Contains(r.Decel.Scope, "new vehicles only") {
			t.Errorf("%s does not say that it is for new vehicles", r.ID)
		}
	}
	for _, r := range StopRules() {
		once(r.ID, r.Say)
		want := 20 * unit.MilePerHour
		if r.New {
			want = 60 * unit.MilePerHour
		}
		if r.From != want || r.New != strings.HasPrefix(r.ID, "us-105") {
			t.Errorf("%s: from %v, new %v", r.ID, r.From, r.New)
		}
	}
	for _, r := range ForceRules() {
		const source = "the same table: a percentage is its ft/s² over 32.2 (worked by hand)"
		percent := map[int]string{21: "65.2", 17: "52.8", 14: "43.5"}[int(math.Round(r.Decel.Value.FeetPerSecondSquared()))]
		near(t, r.ID, r.Decel.Value.FeetPerSecondSquared()/32.2*100, percent, source)
		near(t, r.ID+" percent", r.Force.Value.Percent(), percent, source)
		stop, emergency := stopRule(t, r.ID), stopRule(t, r.ID+"-emergency")
		if stop.Most != r.Stop || emergency.Most != r.Emergency || !strings.Contains(emergency.Say, "emergency") {
			t.Errorf("%s: %+v, %+v", r.ID, stop, emergency)
		}
	}
	light := forceRule(t, "us-393-light-truck")
	if light.TooSlow(17*unit.FootPerSecondSquared) || !light.TooSlow(16.9*unit.FootPerSecondSquared) || light.TooWeak(0.528) || !light.TooWeak(0.527) {
		t.Error("the very figure is not enough, or less is")
	}
}

// Where the brakes are just fully on as it stands, the two forms meet so softly
// that only many digits tell them apart.
func TestStopWhereFormsMeet(t *testing.T) {
	for _, v := range []float64{0.985, 0.995, 1.005, 1.015} {
		// Build-up of 2 s to 1 m/s²: fully on when 1 m/s is gone.
		want := v + v*v/2 - 4.0/24
		if v < 1 {
			want = 2.0 / 3 * v * math.Sqrt(4*v)
		}
		s := Stop{From: unit.Speed(v), Brakes: 1, BuildUp: 2}
		got, err := StoppingDistance(s)
		if err != nil || math.Abs(float64(got.Distance)-want) > 1e-14 {
			t.Errorf("%g m/s: %.17g, want %.17g, %v", v, float64(got.Distance), want, err)
		}
		if back, err := DecelOver(unit.Length(want), s); err != nil || math.Abs(float64(back)-1) > 1e-13 {
			t.Errorf("%g m/s: back to %.17g, %v", v, float64(back), err)
		}
	}
}

func BenchmarkStop(b *testing.B) {
	s := Stop{From: 27, Brakes: 7, Reaction: 1, BuildUp: 0.3}
	for b.Loop() {
		if _, err := StoppingDistance(s); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkDecelOver(b *testing.B) {
	s := Stop{From: 27, Reaction: 1, BuildUp: 0.3}
	for b.Loop() {
		if _, err := DecelOver(83, s); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkDistanceTests(b *testing.B) {
	for b.Loop() {
		if len(DistanceTests()) == 0 {
			b.Fatal("none")
		}
	}
}
