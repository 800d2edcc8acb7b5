package brakes

import (
	"fmt"
	"math"

	"chock/brakes/unit"
)

// A PivotedShoe is a shoe that turns about a fixed pin. Angles are counted at
// the middle of the drum, from the line to the pin.
type PivotedShoe struct {
	Drum     unit.Length // radius of the face that it rubs on
	Width    unit.Length // of the lining
	Pivot    unit.Length // from the pin to the middle of the drum
	From, To unit.Angle  // where the lining begins, at the pin's end, and where it ends
	Arm      unit.Length // of the pushing force about the pin
	Outside  bool        // it rubs on the outside of its drum
}

func (s PivotedShoe) check() error {
	for _, l := range []struct {
		name string
		unit.Length
	}{{"radius of the drum", s.Drum}, {"width of the lining", s.Width}, {"distance of the pivot", s.Pivot}, {"arm of the force", s.Arm}} {
		if err := positive(l.name, l.Length); err != nil {
			return err
		}
	}
	switch {
	case !s.Outside && s.Pivot >= s.Drum:
		return &OutOfRange{"distance of the pivot", fmt.Sprint(s.Pivot), fmt.Sprintf("less than the drum's radius, %v: the pin is inside", s.Drum)}
	case s.Outside && s.Pivot <= s.Drum:
		return &OutOfRange{"distance of the pivot", fmt.Sprint(s.Pivot), fmt.Sprintf("more than the drum's radius, %v: the pin is outside", s.Drum)}
	}
	if err := notNegative("angle where the lining begins", s.From); err != nil {
		return err
	}
	if err := above("angle where the lining ends", s.To, s.From); err != nil {
		return err
	}
	if s.To > unit.Turn/2 {
		return &OutOfRange{"angle where the lining ends", fmt.Sprint(s.To), "180 degrees or less"}
	}
	return nil
}

// Hardest is where along the lining the pressure is greatest: straight across
// from the line to the pin, or the end of the lining that is next to there.
func (s PivotedShoe) Hardest() unit.Angle {
	return min(max(unit.Turn/4, s.From), s.To)
}

// ShoeMoments are what a shoe has for each unit of its greatest pressure:
// N·m for each Pa, which is m³. Of the lining on the shoe, about the pin, save
// for Torque, which is the shoe's on the drum.
type ShoeMoments struct {
	Normal   unit.Volume // by which the drum pushes the shoe away
	Friction unit.Volume // by which it drags a leading shoe on, and a trailing one off
	Torque   unit.Volume
}

// Moments adds up pressure and friction along the lining. A rigid shoe that
// turns about its pin presses by the sine of the angle.
//
//	p  = pa sin θ / sin θa                           θa: [PivotedShoe.Hardest]
//	MN = pa b r a/sin θa [(θ2 - θ1)/2 - (sin 2θ2 - sin 2θ1)/4]
//	Mf = μ pa b r/sin θa [r (cos θ1 - cos θ2) - a/2 (sin² θ2 - sin² θ1)]
//	T  = μ pa b r² (cos θ1 - cos θ2)/sin θa
//
// Lengths are more than 0, the pivot inside the drum of an inside shoe and
// outside that of an outside one, 0 <= θ1 < θ2 <= 180°, μ more than 0 and no
// more than [MostFriction]. It leaves out that drum and shoe bend and that the
// lining wears in. Source: Budynas and Nisbett, Shigley's Mechanical
// Engineering Design, sections 16-2 and 16-3.
func (s PivotedShoe) Moments(friction unit.Ratio) (ShoeMoments, error) {
	if err := s.check(); err != nil {
		return ShoeMoments{}, err
	}
	if err := lining(friction); err != nil {
		return ShoeMoments{}, err
	}
	r, b, a, mu := float64(s.Drum), float64(s.Width), float64(s.Pivot), float64(friction)
	from, to := float64(s.From), float64(s.To)
	sin1, cos1 := math.Sincos(from)
	sin2, cos2 := math.Sincos(to)
	k := b * r / math.Sin(float64(s.Hardest()))
	return ShoeMoments{
		Normal:   unit.Volume(k * a * ((to-from)/2 - (math.Sin(2*to)-math.Sin(2*from))/4)),
		Friction: unit.Volume(mu * k * (r*(cos1-cos2) - a/2*(sin2*sin2-sin1*sin1))),
		Torque:   unit.Volume(mu * k * r * (cos1 - cos2)),
	}, nil
}

// A Turning says which way the drum drags a shoe.
type Turning int

// A leading shoe is dragged on and presses the harder for it; a trailing one
// is dragged off.
const (
	Leading  Turning = 1
	Trailing Turning = -1
)

// resisting is what the pushing force has to hold, for each unit of pressure.
func (m ShoeMoments) resisting(way Turning) float64 {
	return float64(m.Normal) - float64(way)*float64(m.Friction)
}

// LocksAt is the friction at which the drum drags the shoe on by itself, with
// no force at all; infinite for a shoe that never does.
//
//	MN = Mf    for a leading shoe
//
// Range as for [PivotedShoe.Moments], of which it is the limit.
func (s PivotedShoe) LocksAt(way Turning) (unit.Ratio, error) {
	m, err := s.Moments(1)
	if err != nil {
		return 0, err
	}
	if drag := float64(way) * float64(m.Friction); drag > 0 {
		return unit.Ratio(float64(m.Normal) / drag), nil
	}
	return unit.Ratio(math.Inf(1)), nil
}

// locked is the error of a shoe that locks by itself.
func locked(friction, at unit.Ratio) error {
	return &OutOfRange{"friction", fmt.Sprint(friction), fmt.Sprintf("less than %.3f: from there the shoe locks by itself", float64(at))}
}

// A ShoeLoad is how one shoe stands.
type ShoeLoad struct {
	Force    unit.Force    // that pushes it
	Greatest unit.Pressure // under the lining
	Torque   unit.Torque
	Factor   unit.Ratio // Torque over Force times the drum's radius
}

// PressedTo is the force that brings a shoe to a greatest pressure, and the
// torque that it has then.
//
//	F = (MN - Mf)/c    leading      F = (MN + Mf)/c    trailing
//
// pa is more than 0, the rest as for [PivotedShoe.Moments]. A shoe that locks
// by itself is refused: no force belongs to it. Source: the same sections.
func (s PivotedShoe) PressedTo(friction unit.Ratio, greatest unit.Pressure, way Turning) (ShoeLoad, error) {
	if err := above("greatest pressure", greatest, 0); err != nil {
		return ShoeLoad{}, err
	}
	m, err := s.Moments(friction)
	if err != nil {
		return ShoeLoad{}, err
	}
	left := m.resisting(way)
	if left <= 0 {
		at, err := s.LocksAt(way)
		if err != nil {
			return ShoeLoad{}, err
		}
		return ShoeLoad{}, locked(friction, at)
	}
	force := unit.Torque(float64(greatest) * left).Over(s.Arm)
	torque := unit.Torque(float64(greatest) * float64(m.Torque))
	return ShoeLoad{Force: force, Greatest: greatest, Torque: torque, Factor: unit.Per(torque.Over(s.Drum), force)}, nil
}

// PressedBy is the greatest pressure and the torque that a force brings about.
//
//	pa = F c / (MN ∓ Mf at 1 Pa)    - leading, + trailing
//
// F is 0 or more, the rest as for [PivotedShoe.PressedTo]. Source: the same
// sections.
func (s PivotedShoe) PressedBy(friction unit.Ratio, force unit.Force, way Turning) (ShoeLoad, error) {
	if err := notNegative("force on the shoe", force); err != nil {
		return ShoeLoad{}, err
	}
	one, err := s.PressedTo(friction, 1, way)
	if err != nil {
		return ShoeLoad{}, err
	}
	k := float64(unit.Per(force, one.Force))
	return ShoeLoad{Force: force, Greatest: times(k, one.Greatest), Torque: times(k, one.Torque), Factor: one.Factor}, nil
}

// ShoeFactor is the torque of a shoe over its force and the drum's radius, in
// closed form: width and pressure drop out.
//
//	S = μ (c/r) / { a/r (α0 - sin α0 cos α3)/(4 sin(α0/2) sin(α3/2))
//	                ∓ μ [1 - a/r cos(α0/2) cos(α3/2)] }    - leading, + trailing
//
// α0 = θ2 - θ1, α3 = θ1 + θ2. Range as for [PivotedShoe.PressedTo]. Source:
// derived here, T/(r F) of that function divided out.
func (s PivotedShoe) ShoeFactor(friction unit.Ratio, way Turning) (unit.Ratio, error) {
	if _, err := s.PressedTo(friction, 1, way); err != nil {
		return 0, err
	}
	k := float64(unit.Per(s.Pivot, s.Drum))
	mu := float64(friction)
	a0, a3 := float64(s.To-s.From), float64(s.To+s.From)
	sin0, cos0 := math.Sincos(a0 / 2)
	sin3, cos3 := math.Sincos(a3 / 2)
	away := k * (a0 - math.Sin(a0)*math.Cos(a3)) / (4 * sin0 * sin3)
	return unit.Ratio(mu * float64(unit.Per(s.Arm, s.Drum)) / (away - float64(way)*mu*(1-k*cos0*cos3))), nil
}

// Factor is that of two such shoes pressed alike, one leading and one trailing.
//
//	C = S leading + S trailing
//	slope of each = S MN/[μ (MN ∓ Mf)]    - leading, + trailing
//
// Range and source as for [PivotedShoe.ShoeFactor], which it adds up; the
// slope is the same, differentiated. In reverse the two change their parts.
func (s PivotedShoe) Factor(friction unit.Ratio) (Factor, error) {
	lead, err := s.ShoeFactor(friction, Leading)
	if err != nil {
		return Factor{}, err
	}
	trail, err := s.ShoeFactor(friction, Trailing)
	if err != nil {
		return Factor{}, err
	}
	m, err := s.Moments(friction)
	if err != nil {
		return Factor{}, err
	}
	at, err := s.LocksAt(Leading)
	if err != nil {
		return Factor{}, err
	}
	slope := func(factor unit.Ratio, way Turning) float64 {
		return float64(factor) * float64(m.Normal) / (float64(friction) * m.resisting(way))
	}
	return Factor{Factor: lead + trail, First: lead, Second: trail, LocksAt: at,
		Slope: unit.Ratio(slope(lead, Leading) + slope(trail, Trailing))}, nil
}

// FrictionRadius is the arm at which the friction of a lining may be taken to
// act as one force: more than the drum's radius, the more the longer the
// lining. It is also how far from the middle of a drum a block must be hung so
// that friction does not tip it.
//
//	ρ = 4 r sin(α0/2)/(α0 + sin α0)
//
// r more than 0, α0 the angle of the lining, more than 0 and no more than
// 180°. It holds for pressure that falls by the cosine from the middle of the
// lining. Source: Budynas and Nisbett, Shigley's Mechanical Engineering
// Design, equation 16-15.
func FrictionRadius(drum unit.Length, lining unit.Angle) (unit.Length, error) {
	if err := positive("radius of the drum", drum); err != nil {
		return 0, err
	}
	if err := spans(lining); err != nil {
		return 0, err
	}
	a := float64(lining)
	return times(4*math.Sin(a/2)/(a+math.Sin(a)), drum), nil
}

// EvenPivot is the same for pressure that is alike along the whole lining.
//
//	a' = r (α0/2)/sin(α0/2)
//
// Range as for [FrictionRadius]. Source: the same, solution of problem 16-8.
func EvenPivot(drum unit.Length, lining unit.Angle) (unit.Length, error) {
	if err := positive("radius of the drum", drum); err != nil {
		return 0, err
	}
	if err := spans(lining); err != nil {
		return 0, err
	}
	return times(1/chord(float64(lining)), drum), nil
}

// spans refuses what no lining of one shoe spans.
func spans(a unit.Angle) error {
	if err := above("angle of the lining", a, 0); err != nil {
		return err
	}
	if a > unit.Turn/2*(1+1e-12) {
		return &OutOfRange{"angle of the lining", fmt.Sprint(a), "180 degrees or less"}
	}
	return nil
}

// BlockFriction is the friction of a long block hung on a lever, as if all of
// it rubbed at one point.
//
//	μ' = 4 μ sin θ/(2θ + sin 2θ)    2θ the angle of contact
//
// μ as for [DiscTorque], 2θ as for [FrictionRadius]. Up to 60° it is within 5
// in 100 of μ, which lecture notes then take as it is. Source: lecture notes
// on problems in brake design, lecture DTS 11.3, example 1.
func BlockFriction(friction unit.Ratio, contact unit.Angle) (unit.Ratio, error) {
	if err := lining(friction); err != nil {
		return 0, err
	}
	radius, err := FrictionRadius(1, contact)
	if err != nil {
		return 0, err
	}
	return times(float64(radius), friction), nil
}

// A Block is a short shoe on a lever: so short that it presses alike all over.
type Block struct {
	Drum   unit.Length // its radius
	Arm    unit.Length // from the fulcrum to the pushing force
	Normal unit.Length // from the fulcrum to the line on which the block presses
	Offset unit.Length // from the fulcrum to the line on which the drum rubs; 0 where it passes through
}

// PressedBy is the force of the block on the drum, and its torque.
//
//	N = F a/(b ∓ μ c)    - where the drum drags the block on, + where off
//	T = μ N r
//
// F is 0 or more, r, a and b more than 0, c 0 or more, μ as for [DiscTorque],
// or [BlockFriction] for a long block. It locks by itself, and is refused,
// where μ c reaches b. Source: moments about the fulcrum.
func (k Block) PressedBy(friction unit.Ratio, force unit.Force, way Turning) (normal unit.Force, torque unit.Torque, err error) {
	if err := lining(friction); err != nil {
		return 0, 0, err
	}
	if err := notNegative("force on the lever", force); err != nil {
		return 0, 0, err
	}
	for _, l := range []struct {
		name string
		unit.Length
	}{{"radius of the drum", k.Drum}, {"arm of the force", k.Arm}, {"arm of the block", k.Normal}} {
		if err := positive(l.name, l.Length); err != nil {
			return 0, 0, err
		}
	}
	if err := notNegative("offset of the fulcrum", k.Offset); err != nil {
		return 0, 0, err
	}
	arm := k.Normal - times(float64(way)*float64(friction), k.Offset)
	if arm <= 0 {
		return 0, 0, locked(friction, unit.Per(k.Normal, k.Offset))
	}
	normal = force.At(k.Arm).Over(arm)
	return normal, times(float64(friction), normal).At(k.Drum), nil
}
