package brakes

import (
	"math"
	"testing"

	"chock/brakes/unit"
	"gonum.org/v1/gonum/integrate/quad"
	"gonum.org/v1/gonum/mat"
	"pgregory.net/rapid"
)

// A vector in the plane of a drum.
type vector struct{ x, y float64 }

func (a vector) plus(b vector) vector   { return vector{a.x + b.x, a.y + b.y} }
func (a vector) minus(b vector) vector  { return vector{a.x - b.x, a.y - b.y} }
func (a vector) cross(b vector) float64 { return a.x*b.y - a.y*b.x }
func (a vector) times(k float64) vector { return vector{k * a.x, k * a.y} }
func gauss(f func(float64) float64, from, to float64) float64 {
	return quad.Fixed(f, from, to, 64, quad.Legendre{}, 0)
}

// The elements of a lining added up as vectors, each pressed square to its
// face and rubbed along it: moments about the pin, torque, the power that
// becomes heat, and the balance of the whole shoe with the force of its
// function and the pin's reaction.
func TestPivotedShoeByElements(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		draw := func(what string, low, high float64) float64 { return rapid.Float64Range(low, high).Draw(rt, what) }
		s := PivotedShoe{Drum: unit.Length(draw("drum", 0.08, 0.3)), Width: unit.Length(draw("width", 0.02, 0.08)), Arm: unit.Length(draw("arm", 0.05, 0.4)),
			From: deg(draw("from", 0, 120)), Outside: rapid.Bool().Draw(rt, "outside")}
		s.To = min(s.From+deg(draw("span", 5, 150)), unit.Turn/2)
		k := draw("pivot", 0.3, 0.95)
		if s.Outside {
			k = 1 / k
		}
		s.Pivot = times(k, s.Drum)
		mu := draw("friction", 0.05, 0.6)
		way := rapid.SampledFrom([]Turning{Leading, Trailing}).Draw(rt, "way")
		load, err := s.PressedTo(unit.Ratio(mu), 1e6, way)
		if err != nil {
			return // locks by itself
		}
		r, b, a := float64(s.Drum), float64(s.Width), float64(s.Pivot)
		pin := vector{a, 0}
		from, to := float64(s.From), float64(s.To)
		hardest := max(math.Sin(from), math.Sin(to))
		if from < math.Pi/2 && to > math.Pi/2 {
			hardest = 1
		}
		// On the shoe, for each radian: pressed inward by a drum round it,
		// outward by one inside it.
		out := -1.0
		if s.Outside {
			out = 1
		}
		element := func(th float64) (at, press, rub vector) {
			sin, cos := math.Sincos(th)
			p := 1e6 * sin / hardest * b * r
			at = vector{r * cos, r * sin}
			press = vector{cos, sin}.times(out * p)
			// The drum turns so that it drags a leading shoe the way in which it
			// is pressed on: about the pin against what presses it off.
			turn := out * float64(way)
			return at, press, vector{-sin, cos}.times(turn * mu * p)
		}
		sum := func(f func(th float64) float64) float64 { return gauss(f, from, to) }
		normal := sum(func(th float64) float64 { at, press, _ := element(th); return at.minus(pin).cross(press) })
		rubbed := sum(func(th float64) float64 { at, _, rub := element(th); return at.minus(pin).cross(rub) })
		torque := sum(func(th float64) float64 { at, _, rub := element(th); return at.cross(rub) })
		heat := sum(func(th float64) float64 { _, _, rub := element(th); return math.Hypot(rub.x, rub.y) * r })
		near := func(what string, got, want float64) {
			rt.Helper()
			if math.Abs(got-want) > 1e-9*max(math.Abs(want), float64(load.Torque)) {
				rt.Fatalf("%s: %g, by elements %g (%+v)", what, got, want, s)
			}
		}
		m, _ := s.Moments(unit.Ratio(mu))
		near("normal moment", 1e6*float64(m.Normal), math.Abs(normal))
		near("friction moment", 1e6*float64(m.Friction)*float64(way), -rubbed*math.Copysign(1, normal))
		near("torque", float64(load.Torque), math.Abs(torque))
		near("heat for a radian", float64(load.Torque), heat)
		// The force, on an arm square to the line to the pin, against all that.
		force := vector{-out * float64(load.Force), 0}
		arm := vector{a, float64(s.Arm)}
		lining := vector{
			sum(func(th float64) float64 { _, press, rub := element(th); return press.x + rub.x }),
			sum(func(th float64) float64 { _, press, rub := element(th); return press.y + rub.y }),
		}
		reaction := lining.plus(force).times(-1)
		near("balance about the middle", arm.cross(force)+pin.cross(reaction)+
			sum(func(th float64) float64 { at, press, rub := element(th); return at.cross(press.plus(rub)) }), 0)
	})
}

// Pads by elements of their face.
func TestPadsByElements(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		draw := func(what string, low, high float64) float64 { return rapid.Float64Range(low, high).Draw(rt, what) }
		ri := draw("inner", 0.05, 0.2)
		pad := Pad{Inner: unit.Length(ri), Outer: unit.Length(ri + draw("across", 0.01, 0.1)), Angle: deg(draw("angle", 5, 360))}
		ro, half := float64(pad.Outer), float64(pad.Angle)/2
		for _, tt := range []struct {
			name     string
			contact  func(Pad) (Contact, error)
			pressure func(r float64) float64 // greatest 1
		}{
			{"wear", UniformWear, func(r float64) float64 { return ri / r }},
			{"pressure", UniformPressure, func(float64) float64 { return 1 }},
		} {
			over := func(f func(r, th float64) float64) float64 {
				return gauss(func(r float64) float64 {
					return gauss(func(th float64) float64 { return f(r, th) * r }, -half, half)
				}, ri, ro)
			}
			face := over(func(float64, float64) float64 { return 1 })
			force := over(func(r, _ float64) float64 { return tt.pressure(r) })
			moment := over(func(r, _ float64) float64 { return r * tt.pressure(r) })
			line := over(func(r, th float64) float64 { return r * math.Cos(th) * tt.pressure(r) })
			c, err := tt.contact(pad)
			if err != nil {
				rt.Fatal(err)
			}
			for _, x := range []struct {
				what      string
				got, want float64
			}{{"face", float64(c.Face), face}, {"carrying", float64(c.Carrying), force}, {"radius", float64(c.Radius), moment / force}, {"force line", float64(c.ForceLine), line / force}} {
				if math.Abs(x.got-x.want) > 1e-9 {
					rt.Fatalf("%s, %s: %g, by elements %g", tt.name, x.what, x.got, x.want)
				}
			}
		}
	})
}

// A round pad's table against pressures added up that fall with the radius:
// the table is lower, by as much as its comment says.
func TestRoundPadByElements(t *testing.T) {
	most := 0.0
	for i, want := range roundPad {
		x := float64(i) / 10
		if x == 0 {
			continue
		}
		mean := gauss(func(r float64) float64 {
			return gauss(func(th float64) float64 {
				sin, cos := math.Sincos(th)
				return r / math.Hypot(1+r*cos, r*sin)
			}, 0, math.Pi)
		}, 0, x) / (math.Pi * x * x / 2)
		direct := []string{"", "0.9987", "0.9949", "0.9885", "0.9791", "0.9665"}[i]
		near(t, "added up", 1/mean, direct, "comment of the table; worked apart in plain Python")
		off := 1/mean/want - 1
		if off < 0.01 {
			t.Errorf("at %g: %g by elements, %g by the table: %.2g %%", x, 1/mean, want, 100*off)
		}
		most = max(most, off)
	}
	near(t, "most that the table lies under, in 100", 100*most, "3.4", "comment of the table, docs/method.md; worked apart in plain Python")
	// Between two lines of the table.
	c, err := RoundPad(0.025, 0.1)
	near(t, "between", float64(must(t, c, err).Radius), "0.096325", notes+"(0.9693 + 0.9572)/2 x 0.1")
}

// Pressure by the cosine from the middle of the lining, added up.
func TestFrictionRadiusByElements(t *testing.T) {
	for span := 5.0; span <= 180; span += 5 {
		half := float64(deg(span)) / 2
		rub := gauss(math.Cos, -half, half)
		press := gauss(func(a float64) float64 { return math.Cos(a) * math.Cos(a) }, -half, half)
		q, err := FrictionRadius(0.15, deg(span))
		if d := float64(must(t, q, err)) - 0.15*rub/press; math.Abs(d) > 1e-12 {
			t.Errorf("%g degrees: off by %g", span, d)
		}
		// Alike pressure: what tips a block is the mean of a cos - r.
		even, err := EvenPivot(0.15, deg(span))
		must(t, even, err)
		if d := gauss(func(a float64) float64 { return float64(even)*math.Cos(a) - 0.15 }, -half, half); math.Abs(d) > 1e-12 {
			t.Errorf("%g degrees: a block tips by %g", span, d)
		}
		mu, err := BlockFriction(0.3, deg(span))
		if d := float64(must(t, mu, err)) - 0.3*rub/press; math.Abs(d) > 1e-12 {
			t.Errorf("%g degrees: friction off by %g", span, d)
		}
	}
}

// Floating shoes with the pin as their block: one shoe with its lining in the
// middle is a pivoted shoe, whose closed form was derived apart.
func TestFloatingIsPivoted(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		draw := func(what string, low, high float64) float64 { return rapid.Float64Range(low, high).Draw(rt, what) }
		span := deg(draw("span", 20, 170))
		d := FloatingShoes{Drum: 0.15, First: span, Second: span, Cylinder: unit.Length(draw("h", 0.05, 0.14)), Abutment: unit.Length(draw("c", 0.05, 0.14))}
		mu := unit.Ratio(draw("friction", 0.05, 0.5))
		f, err := d.Factor(LeadingTrailing, mu, false)
		if err != nil {
			return
		}
		s := PivotedShoe{Drum: d.Drum, Width: 0.04, Pivot: d.Abutment, From: unit.Turn/4 - span/2, To: unit.Turn/4 + span/2, Arm: d.Cylinder + d.Abutment}
		for way, want := range map[Turning]unit.Ratio{Leading: f.First, Trailing: f.Second} {
			got, err := s.ShoeFactor(mu, way)
			if err != nil || math.Abs(float64(got-want)) > 1e-9*float64(want) {
				rt.Fatalf("way %d: %g, pivoted %g, %v", way, float64(want), float64(got), err)
			}
		}
	})
}

// A duo-servo brake as equations solved by another program: balance of both
// shoes and of the link between.
func TestDuoServoByEquations(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		draw := func(what string, low, high float64) float64 { return rapid.Float64Range(low, high).Draw(rt, what) }
		d := FloatingShoes{Drum: 0.15, First: deg(draw("first", 40, 140)), Second: deg(draw("second", 40, 140)),
			Cylinder: unit.Length(draw("h", 0.05, 0.14)), Abutment: unit.Length(draw("c", 0.05, 0.14)), Anchor: unit.Length(draw("k", 0.05, 0.14))}
		mu := draw("friction", 0.05, 0.5)
		f, err := d.Factor(DuoServo, unit.Ratio(mu), false)
		if err != nil {
			return
		}
		h, c, k := float64(d.Cylinder), float64(d.Abutment), float64(d.Anchor)
		rho1, rho2 := d.radii()
		// Unknown: N1, X, N2 and the anchor's force A, for a piston force of 1.
		// Moments are about the middle of the drum.
		a := mat.NewDense(4, 4, []float64{
			1, -1, 0, 0, // first shoe: 1 + X = N1
			mu * rho1, -c, 0, 0, // h - X c + μ N1 ρ1 = 0, pressed on above, held below
			0, -1, 1, -1, // second shoe: 1 + X + A = N2
			0, c, mu * rho2, -k, // X c + μ N2 ρ2 = h + A k
		})
		var x mat.VecDense
		if err := x.SolveVec(a, mat.NewVecDense(4, []float64{1, -h, 1, h})); err != nil {
			rt.Fatal(err)
		}
		for _, q := range []struct {
			what      string
			got, want float64
		}{{"first", float64(f.First), mu * x.AtVec(0) * rho1 / 0.15}, {"second", float64(f.Second), mu * x.AtVec(2) * rho2 / 0.15}} {
			if math.Abs(q.got-q.want) > 1e-8*q.want {
				rt.Fatalf("%s: %g, by equations %g", q.what, q.got, q.want)
			}
		}
		if x.AtVec(3) < -1e-9 {
			rt.Fatalf("the second shoe leaves its anchor: %g", x.AtVec(3))
		}
	})
}
