package brakes

import (
	"math"
	"testing"

	"chock/brakes/unit"
	"pgregory.net/rapid"
)

func parkRule(t *testing.T, id string) ParkRule {
	t.Helper()
	for _, r := range ParkRules() {
		if r.ID == id {
			return r
		}
	}
	t.Fatalf("no rule %s", id)
	return ParkRule{}
}

var gradeOps = map[string]operation{
	"hold": func(t *testing.T, in []string) any {
		f, err := HoldForce(amount[unit.Mass](t, in[0]), amount[unit.Ratio](t, in[1]))
		return must(t, f, err)
	},
	"pull-share": func(t *testing.T, in []string) any {
		s, err := PullShare(amount[unit.Ratio](t, in[0]))
		return must(t, s, err)
	},
	"hold-torque": func(t *testing.T, in []string) any {
		f, err := HoldForce(amount[unit.Mass](t, in[0]), amount[unit.Ratio](t, in[1]))
		tq, err2 := HoldTorque(must(t, f, err), amount[unit.Length](t, in[2]), int(number(t, in[3])))
		return must(t, tq, err2)
	},
	// The angle whose sine is the share that HoldForce finds.
	"grade-angle": func(t *testing.T, in []string) any {
		s, err := PullShare(amount[unit.Ratio](t, in[0]))
		return unit.Angle(math.Asin(float64(must(t, s, err))))
	},
	"newtons": func(t *testing.T, in []string) any { return amount[unit.Force](t, in[0]) },
	"of-gravity": func(t *testing.T, in []string) any {
		return times(float64(amount[unit.Ratio](t, in[0])), unit.StandardGravity)
	},
	"parking-slope":   func(t *testing.T, in []string) any { return parkRule(t, in[0]).Slope.Value },
	"parking-share":   func(t *testing.T, in []string) any { return parkRule(t, in[0]).Share.Value },
	"parking-minutes": func(t *testing.T, in []string) any { return parkRule(t, in[0]).For.Value },
	"parking-hand":    func(t *testing.T, in []string) any { return parkRule(t, in[0]).Hand.Value },
	"parking-foot":    func(t *testing.T, in []string) any { return parkRule(t, in[0]).Foot.Value },
	"parks":           func(t *testing.T, in []string) any { return yes(parkRule(t, in[0]).Kept(forceShare(t, in[1:]))) },
	"park-rolling":    func(*testing.T, []string) any { return ParkRolling.Value },
}

func TestGradeProperties(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		m := unit.Mass(rapid.Float64Range(1, 40000).Draw(rt, "mass"))
		g := unit.Ratio(rapid.Float64Range(0, 1).Draw(rt, "slope"))
		f, err := HoldForce(m, g)
		if err != nil {
			rt.Fatal(err)
		}
		// Against the angle, and energy: the work along the way is the height.
		θ := math.Atan(float64(g))
		if want := float64(m) * 9.80665 * math.Sin(θ); math.Abs(float64(f)-want) > 1e-9*want {
			rt.Fatalf("%v, want %g N", f, want)
		}
		if math.Abs(float64(f.Along(100)-m.Weight().Along(unit.Length(100*math.Sin(θ))))) > 1e-6 {
			rt.Fatal("work along the slope is not that of the height")
		}
		if share, _ := PullShare(g); share > g+1e-12 || g > 0.01 && share >= g {
			rt.Fatalf("a share of %v on a slope of %v", share, g)
		}
		back, err := SteepestHeld(f, m)
		if g < 0.9999 && (err != nil || math.Abs(float64(back-g)) > 1e-9) {
			rt.Fatalf("%v holds %v, not %v: %v", f, back, g, err)
		}
		if up, _ := HoldForce(m, -g); up != -f {
			rt.Fatalf("%v up, %v down", up, f)
		}
		r := unit.Length(rapid.Float64Range(0.1, 1).Draw(rt, "radius"))
		n := rapid.IntRange(1, 6).Draw(rt, "wheels")
		tq, err := HoldTorque(f, r, n)
		if err != nil || math.Abs(float64(tq.Over(r))*float64(n)-float64(f)) > 1e-9*float64(f) {
			rt.Fatalf("%d wheels with %v, %v", n, tq, err)
		}
	})
}

func TestGradeRefuses(t *testing.T) {
	for _, bad := range []float64{math.NaN(), math.Inf(1), math.Inf(-1), -2} {
		_, err := HoldForce(unit.Mass(bad), 0.2)
		refused(t, "mass", err)
		_, err = HoldForce(1, unit.Ratio(bad))
		refused(t, "slope", err)
		_, err = PullShare(unit.Ratio(bad))
		refused(t, "slope", err)
		_, err = HoldTorque(1, unit.Length(bad), 2)
		refused(t, "radius", err)
		_, err = SteepestHeld(unit.Force(bad), 1)
		refused(t, "force", err)
		_, err = SteepestHeld(1, unit.Mass(bad))
		refused(t, "mass", err)
	}
	_, err := HoldForce(0, 0.2)
	refused(t, "no mass", err)
	_, err = HoldForce(1, 20)
	refused(t, "20 for 20 %", err)
	_, err = HoldTorque(unit.Force(math.NaN()), 1, 2)
	refused(t, "no force", err)
	_, err = HoldTorque(1, 1, 0)
	refused(t, "no wheels", err)
	_, err = SteepestHeld(8, 1)
	refused(t, "more than a slope of one in one", err)
}

// The edges of what is taken.
func TestGradeEdges(t *testing.T) {
	_, err := HoldForce(1, 1.005)
	refused(t, "just over one in one", err)
	if _, err := HoldForce(1, 1); err != nil {
		t.Error(err)
	}
	w := float64(unitWeight())
	g, err := SteepestHeld(times(w, unit.Force(0.705)), 1)
	near(t, "slope that 70.5 % of the weight holds", float64(must(t, g, err)), "0.9941", "worked by hand: 0.705/sqrt(1 - 0.705²)")
	_, err = SteepestHeld(times(w, unit.Force(0.7075)), 1)
	refused(t, "70.75 % of the weight", err)
}

func unitWeight() unit.Force { return unit.Kilogram.Weight() }

func TestParkRules(t *testing.T) {
	seen := map[string]bool{}
	for _, r := range ParkRules() {
		if seen[r.ID] || r.Say == "" || r.Slope.Known() == r.Share.Known() {
			t.Errorf("%s: twice, without words, or not one of slope and force", r.ID)
		}
		seen[r.ID] = true
		asked := r.Slope.Value + r.Share.Value
		if !r.Kept(asked) || r.Kept(times(0.999, asked)) {
			t.Errorf("%s: the very figure is not enough, or less is", r.ID)
		}
		if r.New != r.Slope.Known() {
			t.Errorf("%s: a slope is asked of new vehicles, a force of those in use", r.ID)
		}
	}
}

func BenchmarkHoldForce(b *testing.B) {
	for b.Loop() {
		if _, err := HoldForce(2000, 0.2); err != nil {
			b.Fatal(err)
		}
	}
}
