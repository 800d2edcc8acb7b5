package brakes

import (
	"math"
	"slices"
	"testing"

	"chock/brakes/unit"
	"pgregory.net/rapid"
)

// across is the bore of an area.
func across(a unit.Area) unit.Length { return unit.Length(math.Sqrt(float64(a) * 4 / math.Pi)) }

func carry(t *testing.T, f unit.Force, master, slave unit.Length) unit.Force {
	t.Helper()
	p, err := LinePressure(f, master)
	must(t, p, err)
	a, err := PistonArea([]unit.Length{slave})
	must(t, a, err)
	out, err := PistonForce(p, a)
	return must(t, out, err)
}

var hydraulicOps = map[string]operation{
	"lever": func(t *testing.T, in []string) any {
		return unit.Per(amount[unit.Length](t, in[0]), amount[unit.Length](t, in[1]))
	},
	"rod": func(t *testing.T, in []string) any {
		q, err := RodForce(amount[unit.Force](t, in[0]), amount[unit.Ratio](t, in[1]))
		return must(t, q, err)
	},
	"pressure": func(t *testing.T, in []string) any {
		q, err := LinePressure(amount[unit.Force](t, in[0]), amount[unit.Length](t, in[1]))
		return must(t, q, err)
	},
	"pressure-on": func(t *testing.T, in []string) any {
		q, err := LinePressure(amount[unit.Force](t, in[0]), across(amount[unit.Area](t, in[1])))
		return must(t, q, err)
	},
	"area": func(t *testing.T, in []string) any {
		q, err := PistonArea(amounts[unit.Length](t, in[0]))
		return must(t, q, err)
	},
	"ratio": func(t *testing.T, in []string) any {
		q, err := HydraulicRatio(unit.Circle(amount[unit.Length](t, in[0])), unit.Circle(amount[unit.Length](t, in[1])))
		return must(t, q, err)
	},
	"carry": func(t *testing.T, in []string) any {
		return carry(t, amount[unit.Force](t, in[0]), amount[unit.Length](t, in[1]), amount[unit.Length](t, in[2]))
	},
	"carry-on": func(t *testing.T, in []string) any {
		return carry(t, amount[unit.Force](t, in[0]), across(amount[unit.Area](t, in[1])), across(amount[unit.Area](t, in[2])))
	},
}

func TestBoreTable(t *testing.T) {
	source, lines := published(t, "wheel-cylinder-bores.txt")
	for _, l := range lines {
		bore := amount[unit.Length](t, l[0]+" in")
		near(t, l[0]+" in mm", bore.Millimetres(), l[1], source)
		a, err := PistonArea([]unit.Length{bore})
		must(t, a, err)
		near(t, l[0]+" area", a.SquareInches(), l[2], source)
		near(t, l[0]+" area", a.SquareMillimetres(), l[3], source)
		k, err := AreaRatio(amount[unit.Length](t, "7/8 in"), bore)
		must(t, k, err)
		near(t, l[0]+" over 7/8", float64(k), l[4], source)
		// One wheel of an axle with it: (H - L)/H.
		i, err := CompareSides(a, unit.Circle(amount[unit.Length](t, "7/8 in")))
		must(t, i, err)
		want := 1 - min(float64(k), 1/float64(k))
		if d := float64(i.OfHigher) - want; math.Abs(d) > 1e-12 {
			t.Errorf("%s: imbalance is off by %g", l[0], d)
		}
	}
}

func TestChain(t *testing.T) {
	const (
		synthetic = notes + "inputs chosen, no real vehicle"
		area      = notes + "exact arithmetic on circles"
	)
	rod, err := RodForce(70*unit.PoundForce, 6.2)
	must(t, rod, err)
	boosted, err := Boosted(rod, 4)
	must(t, boosted, err)
	near(t, "70 lbf x 6.2 x 4", boosted.PoundsForce(), "1736.00", synthetic)
	b, err := Boosted(188*unit.PoundForce, 4)
	must(t, b, err)
	near(t, "188 lbf x 4", b.PoundsForce(), "752.0", synthetic)

	// Two pistons of 2 in on one side are one of 2.828; a stepped pair adds up.
	two, err := PistonArea([]unit.Length{2 * unit.Inch, 2 * unit.Inch})
	must(t, two, err)
	near(t, "two pistons", two.SquareInches(), "6.2832", area)
	stepped, err := PistonArea([]unit.Length{1.625 * unit.Inch, 1.375 * unit.Inch})
	must(t, stepped, err)
	near(t, "stepped pistons", stepped.SquareInches(), "3.5588", area)

	ratio, err := HydraulicRatio(unit.Circle(2.75*unit.Inch), unit.Circle(unit.Inch))
	must(t, ratio, err)
	near(t, "2.75 over 1", float64(ratio), "7.5625", area)

	// The rear's share after 7/8 became 1 in: front 21.216 and rear 9.0198 in
	// lbf per psi before, rear 11.7810 after.
	k, err := AreaRatio(0.875*unit.Inch, unit.Inch)
	must(t, k, err)
	share, err := ShiftedShare(0.29831, k)
	must(t, share, err)
	near(t, "rear share", float64(share), "0.35703", synthetic)
}

func TestHydraulicsRefuse(t *testing.T) {
	bad := []float64{math.NaN(), math.Inf(1), math.Inf(-1), -1}
	for _, x := range bad {
		_, err := RodForce(unit.Force(x), 6)
		refused(t, "rod force", err)
		_, err = RodForce(100, unit.Ratio(x))
		refused(t, "pedal ratio", err)
		_, err = Boosted(unit.Force(x), 2)
		refused(t, "boosted", err)
		_, err = Boosted(100, unit.Ratio(x))
		refused(t, "gain", err)
		_, err = LinePressure(unit.Force(x), 0.02)
		refused(t, "force", err)
		_, err = LinePressure(100, unit.Length(x))
		refused(t, "bore", err)
		_, err = PistonArea([]unit.Length{0.05, unit.Length(x)})
		refused(t, "piston", err)
		_, err = PistonForce(unit.Pressure(x), 0.01)
		refused(t, "pressure", err)
		_, err = PistonForce(1e6, unit.Area(x))
		refused(t, "area", err)
		_, err = HydraulicRatio(unit.Area(x), 0.01)
		refused(t, "slave", err)
		_, err = HydraulicRatio(0.01, unit.Area(x))
		refused(t, "master", err)
		_, err = AreaRatio(unit.Length(x), 0.02)
		refused(t, "from", err)
		_, err = AreaRatio(0.02, unit.Length(x))
		refused(t, "to", err)
		_, err = ShiftedShare(unit.Ratio(x), 1)
		refused(t, "share", err)
		_, err = ShiftedShare(0.3, unit.Ratio(x))
		refused(t, "ratio", err)
	}
	_, err := Boosted(100, 0.99)
	refused(t, "a booster that takes away", err)
	_, err = RodForce(100, 0)
	refused(t, "no pedal ratio", err)
	_, err = LinePressure(100, 0)
	refused(t, "no bore", err)
	_, err = PistonArea(nil)
	refused(t, "no pistons", err)
	_, err = PistonArea(slices.Repeat([]unit.Length{0.03}, MostPistons+1))
	refused(t, "too many pistons", err)
	_, err = ShiftedShare(1.01, 1)
	refused(t, "more than all", err)
}

func TestHydraulicsProperties(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		force := unit.Force(rapid.Float64Range(1, 2000).Draw(rt, "force"))
		bore := func(name string) unit.Length { return unit.Length(rapid.Float64Range(0.012, 0.06).Draw(rt, name)) }
		master, old, fresh := bore("master"), bore("old"), bore("new")
		n := rapid.IntRange(1, MostPistons).Draw(rt, "pistons")
		scale := rapid.Float64Range(0.1, 10).Draw(rt, "scale")
		same := func(what string, a, b float64) {
			if math.Abs(a-b) > 1e-9*math.Abs(b) {
				rt.Fatalf("%s: %g, want %g", what, a, b)
			}
		}
		p, err := LinePressure(force, master)
		if err != nil {
			rt.Fatal(err)
		}
		// Twice the foot, twice everything; everything larger, nothing changes.
		p2, _ := LinePressure(times(scale, force), master)
		same("pressure scales", float64(p2), scale*float64(p))
		a, _ := PistonArea(slices.Repeat([]unit.Length{old}, n))
		wide, _ := PistonArea(slices.Repeat([]unit.Length{times(scale, old)}, n))
		h, _ := HydraulicRatio(a, unit.Circle(master))
		h2, _ := HydraulicRatio(wide, unit.Circle(times(scale, master)))
		same("ratio is of no unit", float64(h2), float64(h))
		// The ratio is force out over force in.
		out, _ := PistonForce(p, a)
		same("hydraulic ratio", float64(out), float64(h)*float64(force))
		// Work: force times stroke is the same on both sides of the fluid.
		stroke := unit.Length(0.01)
		moved := unit.Circle(master).Times(stroke).Over(a)
		same("work", float64(out)*float64(moved), float64(force)*float64(stroke))

		k, _ := AreaRatio(old, fresh)
		back, _ := AreaRatio(fresh, old)
		same("there and back", float64(k)*float64(back), 1)
		if (fresh > old) != (k > 1) && fresh != old {
			rt.Fatalf("a bore from %v to %v makes the force %g", old, fresh, float64(k))
		}
		share := unit.Ratio(rapid.Float64Range(0.01, 0.99).Draw(rt, "share"))
		shifted, _ := ShiftedShare(share, k)
		again, _ := ShiftedShare(shifted, back)
		same("share there and back", float64(again), float64(share))
		if (k > 1) != (shifted > share) && math.Abs(float64(k)-1) > 1e-9 {
			rt.Fatalf("times %g the share went from %g to %g", float64(k), float64(share), float64(shifted))
		}
		front, rear := 1-float64(share), float64(share)*float64(k)
		same("share", float64(shifted), rear/(front+rear))
	})
}

func BenchmarkHydraulics(b *testing.B) {
	for b.Loop() {
		p, err := LinePressure(2000, 0.0254)
		if err != nil {
			b.Fatal(err)
		}
		if _, err := PistonForce(p, 0.003832); err != nil {
			b.Fatal(err)
		}
	}
}
