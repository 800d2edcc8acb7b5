package brakes

import (
	"chock/brakes/unit"
)

// A Caliper is known by its pistons, alike or stepped. A fixed one has them on
// both sides of the rotor, one that slides on one side only.
type Caliper struct {
	Inner []unit.Length
	Outer []unit.Length // none where it slides
}

// Areas are those that press the inner and the outer pad.
//
//	sliding   Σ π d²/4 of its one side, for both: the body pulls as hard as the pistons push
//	fixed     Σ π d²/4 of each side for its own pad
//
// One to six diameters a side in m, more than 0. Source: force balance of the
// caliper.
func (c Caliper) Areas() (inner, outer unit.Area, err error) {
	if inner, err = PistonArea(c.Inner); err != nil {
		return 0, 0, err
	}
	if len(c.Outer) == 0 {
		return inner, inner, nil
	}
	outer, err = PistonArea(c.Outer)
	return inner, outer, err
}

// Clamp is the force on each pad.
//
//	N = p A    A as [Caliper.Areas]
//
// p in Pa, 0 or more. Source: Pascal's law.
func (c Caliper) Clamp(p unit.Pressure) (inner, outer unit.Force, err error) {
	a, b, err := c.Areas()
	if err != nil {
		return 0, 0, err
	}
	if inner, err = PistonForce(p, a); err != nil {
		return 0, 0, err
	}
	outer, err = PistonForce(p, b)
	return inner, outer, err
}

// Volume is the fluid that brings the pads up to the rotor, or that pads
// which were pushed back have taken.
//
//	sliding   V = A (ci + co): the pistons go both ways, the body follows
//	fixed     V = Ai ci + Ao co
//
// ci, co: how far inner and outer pad have to go, in m, 0 or more. Source:
// conservation of volume.
func (c Caliper) Volume(inner, outer unit.Length) (unit.Volume, error) {
	if err := notNegative("way of the inner pad", inner); err != nil {
		return 0, err
	}
	if err := notNegative("way of the outer pad", outer); err != nil {
		return 0, err
	}
	a, b, err := c.Areas()
	if err != nil {
		return 0, err
	}
	return a.Times(inner) + b.Times(outer), nil
}

// A WheelCylinder has two pistons, one for each shoe: of one bore, or of two
// where it is stepped.
type WheelCylinder struct {
	One, Other unit.Length
}

func (w WheelCylinder) check() error {
	if err := positive("bore", w.One); err != nil {
		return err
	}
	return positive("bore", w.Other)
}

// Push is the force on each shoe.
//
//	F = p π d²/4    d: the piston that pushes this shoe
//
// p in Pa, 0 or more; bores in m, more than 0. Source: Pascal's law.
func (w WheelCylinder) Push(p unit.Pressure) (one, other unit.Force, err error) {
	if err := w.check(); err != nil {
		return 0, 0, err
	}
	if one, err = PistonForce(p, unit.Circle(w.One)); err != nil {
		return 0, 0, err
	}
	other, err = PistonForce(p, unit.Circle(w.Other))
	return one, other, err
}

// Volume is the fluid that both pistons take, each for its own way.
//
//	V = A1 x1 + A2 x2
//
// Ways in m, 0 or more. Source: conservation of volume.
func (w WheelCylinder) Volume(one, other unit.Length) (unit.Volume, error) {
	if err := w.check(); err != nil {
		return 0, err
	}
	if err := notNegative("way of a piston", one); err != nil {
		return 0, err
	}
	if err := notNegative("way of a piston", other); err != nil {
		return 0, err
	}
	return unit.Circle(w.One).Times(one) + unit.Circle(w.Other).Times(other), nil
}

// A Tandem is a master cylinder with two sections one behind the other. The
// rod pushes the first piston; the fluid before it pushes the second one,
// which floats. In a stepped one the bore changes between the two seals of the
// floating piston, so that each section has its own.
type Tandem struct {
	First, Second             unit.Length // bores
	FirstStroke, SecondStroke unit.Length // of each piston into its section until it meets metal; 0 where not known
}

func (t Tandem) check() error {
	if err := positive("master cylinder bore", t.First); err != nil {
		return err
	}
	if err := positive("bore of the second section", t.Second); err != nil {
		return err
	}
	if err := notNegative("stroke of the first section", t.FirstStroke); err != nil {
		return err
	}
	return notNegative("stroke of the second section", t.SecondStroke)
}

// Pressures are those of the two sections, for the force on the first piston.
// The floating piston passes the same force on.
//
//	p1 = F/A1    p2 = F/A2    one pressure where the bores are equal
//
// F in N, 0 or more; bores in m, more than 0. Source: force balance of the
// two pistons; springs and friction are left out.
func (t Tandem) Pressures(rod unit.Force) (first, second unit.Pressure, err error) {
	if err := t.check(); err != nil {
		return 0, 0, err
	}
	if first, err = LinePressure(rod, t.First); err != nil {
		return 0, 0, err
	}
	second, err = LinePressure(rod, t.Second)
	return first, second, err
}

// Travel is how far the rod goes for what each circuit takes.
//
//	x = V1/A1 + V2/A2    with one bore (V1 + V2)/A: the sum of both circuits
//
// The second piston goes V2/A2, and the first one that way and V1/A1 more.
// Volumes in m³, 0 or more. A section whose stroke is known and does not reach
// is refused: it meets metal first. Source: conservation of volume.
func (t Tandem) Travel(first, second unit.Volume) (unit.Length, error) {
	x1, x2, err := t.ways(first, second)
	return x1 + x2, err
}

// ways is how far each piston goes into its own section.
func (t Tandem) ways(first, second unit.Volume) (x1, x2 unit.Length, err error) {
	if err := t.check(); err != nil {
		return 0, 0, err
	}
	if err := notNegative("fluid of the first circuit", first); err != nil {
		return 0, 0, err
	}
	if err := notNegative("fluid of the second circuit", second); err != nil {
		return 0, 0, err
	}
	x1, x2 = first.Over(unit.Circle(t.First)), second.Over(unit.Circle(t.Second))
	if t.FirstStroke > 0 && x1 > t.FirstStroke {
		return 0, 0, &OutOfRange{"way into the first section", x1.String(), "no more than its stroke, " + t.FirstStroke.String()}
	}
	if t.SecondStroke > 0 && x2 > t.SecondStroke {
		return 0, 0, &OutOfRange{"way into the second section", x2.String(), "no more than its stroke, " + t.SecondStroke.String()}
	}
	return x1, x2, nil
}

// WithoutFirst is how far the rod goes when the first circuit has lost its
// fluid: the first piston runs through its whole section until it meets the
// second one, and pushes it metal on metal.
//
//	x = s1 + V2/A2    more than with both by s1 - V1/A1
//
// s1 is the stroke of the first section, which has to be known. Ranges and
// source: as [Tandem.Travel].
func (t Tandem) WithoutFirst(first, second unit.Volume) (rod, more unit.Length, err error) {
	x1, x2, err := t.ways(first, second)
	if err != nil {
		return 0, 0, err
	}
	if err := positive("stroke of the first section", t.FirstStroke); err != nil {
		return 0, 0, err
	}
	return t.FirstStroke + x2, t.FirstStroke - x1, nil
}

// WithoutSecond is the same when the second circuit has lost its fluid: the
// floating piston runs to the end of the cylinder before the first section
// can make pressure.
//
//	x = s2 + V1/A1    more than with both by s2 - V2/A2
//
// Ranges and source: as [Tandem.Travel].
func (t Tandem) WithoutSecond(first, second unit.Volume) (rod, more unit.Length, err error) {
	x1, x2, err := t.ways(first, second)
	if err != nil {
		return 0, 0, err
	}
	if err := positive("stroke of the second section", t.SecondStroke); err != nil {
		return 0, 0, err
	}
	return t.SecondStroke + x1, t.SecondStroke - x2, nil
}
