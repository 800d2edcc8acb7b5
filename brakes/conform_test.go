package brakes

import (
	"math"
	"math/rand/v2"
	"testing"

	"chock/brakes/unit"
	"gonum.org/v1/gonum/stat/distuv"
	"pgregory.net/rapid"
)

func guardBand(t *testing.T, id string) GuardBand {
	t.Helper()
	for _, g := range GuardBands() {
		if g.ID == id {
			return g
		}
	}
	t.Fatalf("no guard band %s", id)
	return GuardBand{}
}

var conformOps = map[string]operation{
	"gauge-doubt": func(t *testing.T, in []string) any {
		return Gauge[unit.Length]{Step: amount[unit.Length](t, in[0]), Error: amount[unit.Length](t, in[1]),
			Scatter: amount[unit.Length](t, in[2]), Repeats: amount[unit.Count](t, in[3]).Int()}.Doubt(0)
	},
	"gauge-difference": func(t *testing.T, in []string) any {
		return Gauge[unit.Length]{Step: amount[unit.Length](t, in[0])}.DifferenceDoubt(0)
	},
	"guard-band": func(t *testing.T, in []string) any {
		return times(float64(guardBand(t, in[0]).In), amount[unit.Length](t, in[1]))
	},
	"conforms": func(t *testing.T, in []string) any {
		c, err := Conforms(amount[unit.Length](t, in[0]), amount[unit.Length](t, in[1]), AtLeast(amount[unit.Length](t, in[2])))
		return must(t, c, err)
	},
	// Between two limits: above the lower, less what is above the upper.
	"conforms-between": func(t *testing.T, in []string) any {
		x, u := amount[unit.Length](t, in[0]), amount[unit.Length](t, in[1])
		low, err := Conforms(x, u, AtLeast(amount[unit.Length](t, in[2])))
		must(t, low, err)
		high, err := Conforms(x, u, AtMost(amount[unit.Length](t, in[3])))
		return must(t, high, err) + low - 1
	},
	"judge-by": func(t *testing.T, in []string) any {
		v, err := JudgeBy(amount[unit.Length](t, in[1]), amount[unit.Length](t, in[2]), AtLeast(amount[unit.Length](t, in[3])), guardBand(t, in[0]))
		return map[unit.Verdict]float64{unit.Within: 1, unit.TooClose: 0, unit.Outside: -1}[must(t, v, err)]
	},
	"stated-factor": func(t *testing.T, in []string) any {
		u, err := FromChance(1.0, amount[unit.Ratio](t, in[0]))
		return 1 / must(t, u, err)
	},
	"stated-even": func(t *testing.T, in []string) any {
		u, err := FromChance(amount[unit.Length](t, in[0]), 0.5)
		return must(t, u, err)
	},
	"stated-two-thirds": func(t *testing.T, in []string) any {
		u, err := FromChance(amount[unit.Length](t, in[0]), 2.0/3)
		return must(t, u, err)
	},
	"stated-sigmas": func(t *testing.T, in []string) any {
		u, err := FromSigmas(amount[unit.Length](t, in[0]), float64(amount[unit.Ratio](t, in[1])))
		return must(t, u, err)
	},
	"stated-rectangle": func(t *testing.T, in []string) any {
		u, err := FromRectangle(amount[unit.Length](t, in[0]))
		return must(t, u, err)
	},
	"stated-triangle": func(t *testing.T, in []string) any {
		u, err := FromTriangle(amount[unit.Length](t, in[0]))
		return must(t, u, err)
	},
}

// The chance against another library's normal distribution.
func TestConformsAgainstLibrary(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		x := rapid.Float64Range(-50, 50).Draw(rt, "x")
		l := rapid.Float64Range(-50, 50).Draw(rt, "limit")
		u := rapid.Float64Range(1e-3, 20).Draw(rt, "u")
		n := distuv.Normal{Mu: x, Sigma: u}
		least, err := Conforms(x, u, AtLeast(l))
		if err != nil {
			rt.Fatal(err)
		}
		if want := n.Survival(l); math.Abs(float64(least)-want) > 1e-12 {
			rt.Fatalf("at least: %g, want %g", least, want)
		}
		most, err := Conforms(x, u, AtMost(l))
		if err != nil {
			rt.Fatal(err)
		}
		if want := n.CDF(l); math.Abs(float64(most)-want) > 1e-12 {
			rt.Fatalf("at most: %g, want %g", most, want)
		}
		if math.Abs(float64(least+most)-1) > 1e-12 {
			rt.Fatalf("%g and %g are not all", least, most)
		}
		// The further inside, the more likely.
		more, _ := Conforms(x+0.1, u, AtLeast(l))
		if more < least {
			rt.Fatalf("further inside is less likely: %g, %g", least, more)
		}
	})
}

// The chance against simulated truths: readings made by a gauge that rounds,
// is off and scatters, from parts of every thickness about the limit.
func TestConformsAgainstSimulation(t *testing.T) {
	const source = "simulation, seeds 5 and 6: of 4,000,000 parts, equally likely to have any thickness, those that read as given"
	rng := rand.New(rand.NewPCG(5, 6))
	g := Gauge[float64]{Step: 0.01, Error: 0.004, Scatter: 0.003, Repeats: 3}
	const limit = 24.40
	sound, all := map[int]int{}, map[int]int{}
	for range 4_000_000 {
		truth := limit + (rng.Float64()-0.5)*0.1
		off := (2*rng.Float64() - 1) * g.Error
		sum := 0.0
		for range g.Repeats {
			sum += g.Scatter * rng.NormFloat64()
		}
		// The step of the gauge falls anywhere.
		phase := rng.Float64() * g.Step
		read := math.Round((truth+off+sum/float64(g.Repeats)-phase)/g.Step)*g.Step + phase
		bin := int(math.Round((read - limit) / 0.001))
		all[bin]++
		if truth >= limit {
			sound[bin]++
		}
	}
	for _, bin := range []int{-8, -5, -2, 0, 2, 5, 8} {
		got, err := Conforms(limit+float64(bin)*0.001, g.Doubt(0), AtLeast(limit))
		if err != nil {
			t.Fatal(err)
		}
		want := float64(sound[bin]) / float64(all[bin])
		// The sum of a rectangle of a hundredth and a little else is not quite normal.
		if math.Abs(float64(got)-want) > 0.03 {
			t.Errorf("%+d µm: chance %.3f, simulated %.3f of %d\nsource: %s", bin, float64(got), want, all[bin], source)
		}
	}
}

func TestConformsCorners(t *testing.T) {
	for _, tt := range []struct {
		x, u  float64
		limit Limit[float64]
		want  unit.Ratio
	}{
		{5, 0, AtLeast(5.0), 1}, {4.9, 0, AtLeast(5.0), 0}, {5, 0, AtMost(5.0), 1}, {5.1, 0, AtMost(5.0), 0},
		{5, 1, AtLeast(5.0), 0.5}, {5, 1, AtMost(5.0), 0.5}, {1e300, 1, AtLeast(0.0), 1}, {-1e300, 1, AtLeast(0.0), 0},
	} {
		got, err := Conforms(tt.x, tt.u, tt.limit)
		if err != nil || got != tt.want {
			t.Errorf("%+v: %g, %v", tt, float64(got), err)
		}
	}
	for _, bad := range notNumbers {
		_, err := Conforms(bad, mm(1), AtLeast(mm(1)))
		refused(t, "value", err)
		_, err = Conforms(mm(1), bad, AtLeast(mm(1)))
		refused(t, "doubt", err)
		_, err = Conforms(mm(1), mm(1), AtLeast(bad))
		refused(t, "limit", err)
		_, err = FromSigmas(bad, 2)
		refused(t, "stated doubt", err)
		_, err = FromSigmas(mm(1), float64(bad))
		refused(t, "sigmas", err)
		_, err = FromChance(mm(1), unit.Ratio(bad))
		refused(t, "chance", err)
	}
	_, err := Conforms(mm(1), mm(-1), AtLeast(mm(1)))
	refused(t, "negative doubt", err)
	_, err = Conforms(mm(1), mm(1), Limit[unit.Length]{})
	refused(t, "no limit", err)
	_, err = Conforms(mm(1), mm(1), AtMostRange(mm(1), mm(2)))
	refused(t, "a range", err)
	for _, p := range []unit.Ratio{0, 1, -0.1, 1.1} {
		_, err = FromChance(mm(1), p)
		refused(t, "chance", err)
	}
	_, err = FromSigmas(mm(-1), 2)
	refused(t, "negative stated doubt", err)
	_, err = FromSigmas(mm(1), 0)
	refused(t, "no standard deviations", err)
	_, err = FromSigmas(unit.Length(1e300), 1e-300)
	refused(t, "too many for a number", err)
}

// A stated interval against simulated draws, and as large as it is wide.
func TestStatedDoubts(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		a := rapid.Float64Range(0, 100).Draw(rt, "a")
		p := unit.Ratio(rapid.Float64Range(0.01, 0.999).Draw(rt, "p"))
		u, err := FromChance(a, p)
		if err != nil {
			rt.Fatal(err)
		}
		if a > 0 {
			n := distuv.Normal{Sigma: u}
			if got := n.CDF(a) - n.CDF(-a); math.Abs(got-float64(p)) > 1e-9 {
				rt.Fatalf("within ±%g with chance %g, want %g", a, got, float64(p))
			}
		}
		twice, _ := FromChance(2*a, p)
		if math.Abs(twice-2*u) > 1e-9*twice {
			rt.Fatalf("twice as wide is %g, not twice %g", twice, u)
		}
	})
	rng := rand.New(rand.NewPCG(7, 8))
	var rect, tri float64
	const n = 400000
	for range n {
		a, b := 2*rng.Float64()-1, 2*rng.Float64()-1
		rect += a * a
		tri += (a + b) * (a + b) / 4
	}
	r, _ := FromRectangle(1.0)
	w, _ := FromTriangle(1.0)
	if math.Abs(math.Sqrt(rect/n)/r-1) > 0.005 || math.Abs(math.Sqrt(tri/n)/w-1) > 0.005 {
		t.Errorf("simulated %g and %g, want %g and %g", math.Sqrt(rect/n), math.Sqrt(tri/n), r, w)
	}
}

// A guard band by its name is the one it says: the verdict changes at that
// many standard uncertainties, and nowhere else.
func TestGuardBands(t *testing.T) {
	for _, g := range GuardBands() {
		if g.Say == "" {
			t.Errorf("%s says nothing", g.ID)
		}
		for _, tt := range []struct {
			room float64
			want unit.Verdict
		}{
			{float64(g.In) + 1e-6, unit.Within}, {float64(g.In) - 1e-6, unit.TooClose},
			{-float64(g.Out) - 1e-6, unit.Outside}, {-float64(g.Out) + 1e-6, unit.TooClose},
		} {
			// Without any guard there is nothing between.
			if tt.want == unit.TooClose && g.In == 0 && g.Out == 0 {
				continue
			}
			got, err := JudgeBy(10+tt.room*0.5, 0.5, AtLeast(10.0), g)
			if err != nil || got != tt.want {
				t.Errorf("%s at %g: %v, %v, want %v", g.ID, tt.room, got, err, tt.want)
			}
		}
	}
	const design = "design of the verdict, counted in the text: 1.96 and 1.64; k = 2; one-sided 95 % as 1.65"
	near(t, "safety", Safety.Guard(), "1.96", design)
	near(t, "comfort", Comfort.Guard(), "1.64", design)
	near(t, "two", float64(GuardTwice.Value), "2.0", design)
	near(t, "one-sided", float64(GuardOneSided.Value), "1.65", design)
	// What the quantiles round to, and their chance of being wrong.
	n := distuv.UnitNormal
	near(t, "safety leaves", n.Survival(Safety.Guard()), "0.025", "one chance in forty")
	near(t, "comfort leaves", n.Survival(Comfort.Guard()), "0.05", "one chance in twenty")
	near(t, "one-sided proves", n.CDF(float64(GuardOneSided.Value)), "0.95", "95 % chance of conforming")
}

func BenchmarkConforms(b *testing.B) {
	for b.Loop() {
		if _, err := Conforms(24.407, 0.004082, AtLeast(24.4)); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkJudge(b *testing.B) {
	for b.Loop() {
		if _, err := Judge(24.407, 0.004082, AtLeast(24.4), Safety); err != nil {
			b.Fatal(err)
		}
	}
}
