package brakes

import (
	"math"
	"slices"
	"testing"

	"chock/brakes/unit"
	"pgregory.net/rapid"
)

func tandemOf(t *testing.T, in []string) Tandem {
	t.Helper()
	d := Tandem{First: amount[unit.Length](t, in[0]), Second: amount[unit.Length](t, in[1])}
	if len(in) > 2 {
		d.FirstStroke, d.SecondStroke = amount[unit.Length](t, in[2]), amount[unit.Length](t, in[3])
	}
	return d
}

// gone is rod travel, and how much more it is, without one of the circuits.
func gone(t *testing.T, in []string, way func(Tandem, unit.Volume, unit.Volume) (unit.Length, unit.Length, error)) (rod, more unit.Length) {
	t.Helper()
	rod, more, err := way(tandemOf(t, in[2:]), amount[unit.Volume](t, in[0]), amount[unit.Volume](t, in[1]))
	must(t, rod, err)
	return rod, more
}

var pistonOps = map[string]operation{
	// Each diameter is a caliper of its own.
	"pads": func(t *testing.T, in []string) any {
		sum := unit.Volume(0)
		for _, d := range amounts[unit.Length](t, in[0]) {
			v, err := Caliper{Inner: []unit.Length{d}}.Volume(amount[unit.Length](t, in[1]), amount[unit.Length](t, in[2]))
			sum += must(t, v, err)
		}
		return sum
	},
	"opposed": func(t *testing.T, in []string) any {
		c := Caliper{Inner: amounts[unit.Length](t, in[0]), Outer: amounts[unit.Length](t, in[1])}
		v, err := c.Volume(amount[unit.Length](t, in[2]), amount[unit.Length](t, in[3]))
		return must(t, v, err)
	},
	"tandem-first": func(t *testing.T, in []string) any {
		p, _, err := tandemOf(t, in[1:]).Pressures(amount[unit.Force](t, in[0]))
		return must(t, p, err)
	},
	"tandem-second": func(t *testing.T, in []string) any {
		_, p, err := tandemOf(t, in[1:]).Pressures(amount[unit.Force](t, in[0]))
		return must(t, p, err)
	},
	"tandem-rod": func(t *testing.T, in []string) any {
		x, err := tandemOf(t, in[2:]).Travel(amount[unit.Volume](t, in[0]), amount[unit.Volume](t, in[1]))
		return must(t, x, err)
	},
	"without-first":       func(t *testing.T, in []string) any { rod, _ := gone(t, in, Tandem.WithoutFirst); return rod },
	"without-second":      func(t *testing.T, in []string) any { rod, _ := gone(t, in, Tandem.WithoutSecond); return rod },
	"more-without-first":  func(t *testing.T, in []string) any { _, more := gone(t, in, Tandem.WithoutFirst); return more },
	"more-without-second": func(t *testing.T, in []string) any { _, more := gone(t, in, Tandem.WithoutSecond); return more },
}

func TestPistonProperties(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		length := func(name string, low, high float64) unit.Length {
			return unit.Length(rapid.Float64Range(low, high).Draw(rt, name))
		}
		same := func(what string, a, b float64) {
			if math.Abs(a-b) > 1e-9*math.Abs(b)+1e-15 {
				rt.Fatalf("%s: %g, want %g", what, a, b)
			}
		}
		d, p := length("piston", 0.02, 0.08), unit.Pressure(rapid.Float64Range(1e5, 1e7).Draw(rt, "pressure"))
		in, out := length("inner way", 0, 1e-3), length("outer way", 0, 1e-3)

		// A caliper that slides does with one piston what a fixed one does with
		// one on either side, in force and in fluid.
		slides, fixed := Caliper{Inner: []unit.Length{d}}, Caliper{Inner: []unit.Length{d}, Outer: []unit.Length{d}}
		a1, b1, err := slides.Clamp(p)
		if err != nil {
			rt.Fatal(err)
		}
		a2, b2, _ := fixed.Clamp(p)
		same("inner pad", float64(a1), float64(a2))
		same("outer pad", float64(b1), float64(b2))
		v1, _ := slides.Volume(in, out)
		v2, _ := fixed.Volume(in, out)
		same("fluid", float64(v1), float64(v2))
		// Work: pressure times fluid is force times way at both pads.
		same("work", float64(p)*float64(v2), float64(a2)*float64(in)+float64(b2)*float64(out))
		// Stepped: pistons add up, in any order.
		d2 := length("second piston", 0.02, 0.08)
		ab, _, _ := Caliper{Inner: []unit.Length{d, d2}, Outer: []unit.Length{d, d2}}.Clamp(p)
		ba, _, _ := Caliper{Inner: []unit.Length{d2, d}}.Clamp(p)
		same("order of the pistons", float64(ab), float64(ba))

		w := WheelCylinder{d, d2}
		f1, f2, err := w.Push(p)
		if err != nil {
			rt.Fatal(err)
		}
		v, _ := w.Volume(in, out)
		same("work of a wheel cylinder", float64(p)*float64(v), float64(f1)*float64(in)+float64(f2)*float64(out))
		same("stepped wheel cylinder", float64(f2)/float64(f1), float64(d2)*float64(d2)/(float64(d)*float64(d)))
		if x, y, _ := (WheelCylinder{d, d}).Push(p); x != y {
			rt.Fatalf("one bore pushes %v and %v", x, y)
		}

		// The tandem cylinder: work of the rod is that of both circuits.
		m := Tandem{First: length("first bore", 0.015, 0.035), Second: length("second bore", 0.015, 0.035)}
		rod := unit.Force(rapid.Float64Range(10, 8000).Draw(rt, "rod"))
		vol := func(name string) unit.Volume { return unit.Volume(rapid.Float64Range(0, 8e-6).Draw(rt, name)) }
		va, vb := vol("first circuit"), vol("second circuit")
		p1, p2, err := m.Pressures(rod)
		if err != nil {
			rt.Fatal(err)
		}
		x, err := m.Travel(va, vb)
		if err != nil {
			rt.Fatal(err)
		}
		same("work of the rod", float64(rod)*float64(x), float64(p1)*float64(va)+float64(p2)*float64(vb))
		// One bore: one pressure, and the sum of both circuits over one area.
		m.Second = m.First
		p1, p2, _ = m.Pressures(rod)
		x, _ = m.Travel(va, vb)
		if p1 != p2 {
			rt.Fatalf("one bore, two pressures %v and %v", p1, p2)
		}
		same("sum of both circuits", float64(x), float64(va+vb)/float64(unit.Circle(m.First)))
		y, _ := m.Travel(vb, va)
		same("which circuit is which", float64(x), float64(y))
		// A circuit that is gone costs the stroke that it had left.
		m.FirstStroke, m.SecondStroke = 0.04, 0.06
		r1, more1, err := m.WithoutFirst(va, vb)
		if err != nil {
			t.Skip()
		}
		r2, more2, err := m.WithoutSecond(va, vb)
		if err != nil {
			t.Skip()
		}
		same("more without the first", float64(r1-x), float64(more1))
		same("more without the second", float64(r2-x), float64(more2))
		if more1 < 0 || more2 < 0 {
			rt.Fatalf("a lost circuit shortens the pedal by %v, %v", more1, more2)
		}
	})
}

func TestPistonsRefuse(t *testing.T) {
	const d = unit.Length(0.05)
	for _, x := range append(slices.Clone(notNumbers), 0, -0.001) {
		_, _, err := Caliper{Inner: []unit.Length{x}}.Areas()
		refused(t, "inner piston", err)
		_, _, err = Caliper{Inner: []unit.Length{d}, Outer: []unit.Length{x}}.Clamp(1e6)
		refused(t, "outer piston", err)
		_, _, err = WheelCylinder{x, d}.Push(1e6)
		refused(t, "one bore", err)
		_, err = WheelCylinder{d, x}.Volume(0, 0)
		refused(t, "other bore", err)
		_, _, err = Tandem{First: x, Second: d}.Pressures(100)
		refused(t, "first bore", err)
		_, err = Tandem{First: d, Second: x}.Travel(0, 0)
		refused(t, "second bore", err)
	}
	for _, x := range append(slices.Clone(notNumbers), -0.001) {
		_, err := Caliper{Inner: []unit.Length{d}}.Volume(x, 0)
		refused(t, "inner way", err)
		_, err = Caliper{Inner: []unit.Length{d}}.Volume(0, x)
		refused(t, "outer way", err)
		_, err = WheelCylinder{d, d}.Volume(x, 0)
		refused(t, "one way", err)
		_, err = WheelCylinder{d, d}.Volume(0, x)
		refused(t, "other way", err)
		_, err = Tandem{d, d, 0.02, 0.02}.Travel(unit.Volume(x), 0)
		refused(t, "first circuit", err)
		_, err = Tandem{d, d, 0.02, 0.02}.Travel(0, unit.Volume(x))
		refused(t, "second circuit", err)
		_, err = Tandem{d, d, x, 0.02}.Travel(0, 0)
		refused(t, "first stroke", err)
		_, err = Tandem{d, d, 0.02, x}.Travel(0, 0)
		refused(t, "second stroke", err)
		_, _, err = Caliper{Inner: []unit.Length{d}}.Clamp(unit.Pressure(x))
		refused(t, "pressure", err)
		_, _, err = Tandem{d, d, 0, 0}.Pressures(unit.Force(x))
		refused(t, "rod", err)
		_, _, err = WheelCylinder{d, d}.Push(unit.Pressure(x))
		refused(t, "pressure", err)
	}
	_, _, err := Caliper{}.Areas()
	refused(t, "no pistons", err)
	m := Tandem{d, d, 0.02, 0.01}
	full := unit.Circle(d)
	_, err = m.Travel(full.Times(0.02), full.Times(0.01))
	must(t, 0, err)
	_, err = m.Travel(full.Times(0.0201), 0)
	refused(t, "more than the first section has", err)
	_, err = m.Travel(0, full.Times(0.0101))
	refused(t, "more than the second section has", err)
	// A stroke of 5 mm is one that is known.
	_, err = Tandem{d, d, 0.005, 0.005}.Travel(full.Times(0.006), 0)
	refused(t, "more than a short first section has", err)
	_, err = Tandem{d, d, 0.005, 0.005}.Travel(0, full.Times(0.006))
	refused(t, "more than a short second section has", err)
	_, _, err = Tandem{First: d, Second: d, SecondStroke: 0.01}.WithoutFirst(0, 0)
	refused(t, "first stroke not known", err)
	_, _, err = Tandem{First: d, Second: d, FirstStroke: 0.01}.WithoutSecond(0, 0)
	refused(t, "second stroke not known", err)
	_, _, err = m.WithoutFirst(0, full.Times(0.0101))
	refused(t, "the other section does not reach", err)
	_, _, err = m.WithoutSecond(full.Times(0.0201), 0)
	refused(t, "the other section does not reach", err)
}

func BenchmarkTandem(b *testing.B) {
	m := Tandem{0.0254, 0.0222, 0.02, 0.015}
	for b.Loop() {
		if _, _, err := m.WithoutFirst(4e-6, 2e-6); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkCaliper(b *testing.B) {
	c := Caliper{Inner: []unit.Length{0.042, 0.036}, Outer: []unit.Length{0.042, 0.036}}
	for b.Loop() {
		if _, err := c.Volume(1e-4, 1e-4); err != nil {
			b.Fatal(err)
		}
	}
}
