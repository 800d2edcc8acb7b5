package brakes

import (
	"math"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"chock/brakes/unit"
	"pgregory.net/rapid"
)

// amount reads an input of a worked example: 600lbf, 1.25in, 6.
func amount[Q ~float64](t *testing.T, text string) Q {
	t.Helper()
	var q Q
	a, err := unit.Parse(unit.Of(unit.Reading[Q]{Value: q}).Kind, text, "")
	if err != nil {
		t.Fatal(err)
	}
	return unit.As[Q](a).Value
}

// across is the bore of an area.
func across(a unit.Area) unit.Length { return unit.Length(math.Sqrt(float64(a) * 4 / math.Pi)) }

// must gives the answer of a formula that must not refuse.
func must[Q any](t *testing.T, q Q, err error) Q {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
	return q
}

func carry(t *testing.T, f unit.Force, master, slave unit.Length) unit.Force {
	t.Helper()
	p, err := LinePressure(f, master)
	must(t, p, err)
	a, err := PistonArea([]unit.Length{slave})
	must(t, a, err)
	out, err := PistonForce(p, a)
	return must(t, out, err)
}

// worked gives what we make of a worked example, in the unit of its answer.
func worked(t *testing.T, op string, in []string, unitName string) float64 {
	t.Helper()
	one := func(q any, err error) unit.Any {
		if err != nil {
			t.Fatal(err)
		}
		switch v := q.(type) {
		case unit.Force:
			return unit.Of(unit.Reading[unit.Force]{Value: v})
		case unit.Pressure:
			return unit.Of(unit.Reading[unit.Pressure]{Value: v})
		case unit.Area:
			return unit.Of(unit.Reading[unit.Area]{Value: v})
		}
		return unit.Of(unit.Reading[unit.Ratio]{Value: q.(unit.Ratio)})
	}
	var a unit.Any
	switch op {
	case "lever":
		a = one(unit.Per(amount[unit.Length](t, in[0]), amount[unit.Length](t, in[1])), nil)
	case "rod":
		q, err := RodForce(amount[unit.Force](t, in[0]), amount[unit.Ratio](t, in[1]))
		a = one(q, err)
	case "pressure":
		q, err := LinePressure(amount[unit.Force](t, in[0]), amount[unit.Length](t, in[1]))
		a = one(q, err)
	case "pressure-on":
		q, err := LinePressure(amount[unit.Force](t, in[0]), across(amount[unit.Area](t, in[1])))
		a = one(q, err)
	case "area":
		q, err := PistonArea([]unit.Length{amount[unit.Length](t, in[0])})
		a = one(q, err)
	case "ratio":
		q, err := HydraulicRatio(unit.Circle(amount[unit.Length](t, in[0])), unit.Circle(amount[unit.Length](t, in[1])))
		a = one(q, err)
	case "carry":
		a = one(carry(t, amount[unit.Force](t, in[0]), amount[unit.Length](t, in[1]), amount[unit.Length](t, in[2])), nil)
	case "carry-on":
		a = one(carry(t, amount[unit.Force](t, in[0]), across(amount[unit.Area](t, in[1])), across(amount[unit.Area](t, in[2]))), nil)
	default:
		t.Fatalf("no operation %q", op)
	}
	v, ok := a.In(unitName)
	if !ok {
		t.Fatalf("%s: no unit %q", op, unitName)
	}
	return v
}

// Every worked example of the files hydraulics-*.txt.
func TestWorkedHydraulics(t *testing.T) {
	files, err := filepath.Glob("../testdata/published/hydraulics-*.txt")
	if err != nil || len(files) < 9 {
		t.Fatalf("%d files, %v", len(files), err)
	}
	for _, file := range files {
		source, lines := published(t, filepath.Base(file))
		for _, l := range lines {
			eq := slices.Index(l, "=")
			if eq < 0 || len(l) < eq+2 {
				t.Fatalf("%s: %q", file, l)
			}
			want, rest := l[eq+1], l[eq+2:]
			name := ""
			if len(rest) > 0 && !strings.HasSuffix(rest[0], "%") && rest[0] != "cut" {
				name, rest = rest[0], rest[1:]
			}
			got := worked(t, l[0], l[1:eq], name)
			what := strings.Join(l, " ")
			printed, err := strconv.ParseFloat(want, 64)
			if err != nil {
				t.Fatal(err)
			}
			switch {
			case len(rest) == 0:
				near(t, what, got, want, source)
			case rest[0] == "cut":
				near(t, what, math.Floor(got), want, source)
			default:
				share, err := strconv.ParseFloat(strings.TrimSuffix(rest[0], "%"), 64)
				if err != nil {
					t.Fatal(err)
				}
				if off := math.Abs(got/printed-1) * 100; !(off <= share) {
					t.Errorf("%s is %.6g, off by %.2g %%\nsource: %s", what, got, off, source)
				}
			}
		}
	}
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
