package brakes

import (
	"fmt"
	"math"

	"chock/brakes/unit"
)

// MostFriction is the largest friction of a lining that is taken. Linings lie
// between 0.15 and 0.6, and no metal rubbing dry on metal stays above 1.
const MostFriction = 1

// lining refuses what is no friction of a lining.
func lining(friction unit.Ratio) error {
	if err := above("friction", friction, 0); err != nil {
		return err
	}
	if friction > MostFriction {
		return &OutOfRange{"friction", fmt.Sprint(friction), fmt.Sprintf("%d or less", MostFriction)}
	}
	return nil
}

// A Pad is the lining of a disc brake as a sector of a ring: its edges are two
// circles round the axle and two lines toward it.
type Pad struct {
	Inner, Outer unit.Length // from the middle of the axle
	Angle        unit.Angle  // that the lining spans, seen from there
}

func (p Pad) check() error {
	if err := positive("inner radius of the pad", p.Inner); err != nil {
		return err
	}
	if err := above("outer radius of the pad", p.Outer, p.Inner); err != nil {
		return err
	}
	if err := above("angle of the pad", p.Angle, 0); err != nil {
		return err
	}
	if p.Angle > unit.Turn*(1+1e-12) {
		return &OutOfRange{"angle of the pad", fmt.Sprint(p.Angle), "no more than a turn"}
	}
	return nil
}

// A Contact is how a pad holds its rotor.
type Contact struct {
	Face      unit.Area   // of the lining
	Carrying  unit.Area   // force on the pad over the greatest pressure under it
	Radius    unit.Length // at which all of the force may be taken to rub
	ForceLine unit.Length // on the middle line of the pad: where the piston has to push to press it so
}

// UniformWear is the contact of a pad that has run in: what rubs faster wears
// faster, until pressure times radius is the same everywhere.
//
//	F  = θ pa ri (ro - ri)         pa at the inner edge
//	Re = (ro + ri)/2
//	rF = 2 sin(θ/2)/θ Re
//
// ri more than 0, ro more than ri, θ more than 0 and no more than a turn.
// Source: Budynas and Nisbett, Shigley's Mechanical Engineering Design,
// section 16-6, from memory; the assumption read in Orthwein, Clutches and
// Brakes, 2004, abstract of the chapter on caliper brakes.
func UniformWear(p Pad) (Contact, error) {
	if err := p.check(); err != nil {
		return Contact{}, err
	}
	ri, ro, th := float64(p.Inner), float64(p.Outer), float64(p.Angle)
	mean := (ro + ri) / 2
	return Contact{
		Face:      unit.Area(th / 2 * (ro*ro - ri*ri)),
		Carrying:  unit.Area(th * ri * (ro - ri)),
		Radius:    unit.Length(mean),
		ForceLine: unit.Length(chord(th) * mean),
	}, nil
}

// UniformPressure is the contact of a new pad, pressed alike everywhere.
//
//	F  = θ/2 pa (ro² - ri²)
//	Re = 2/3 (ro³ - ri³)/(ro² - ri²)
//	rF = 2 sin(θ/2)/θ Re
//
// Range as for [UniformWear]. Source: the same section, from memory.
func UniformPressure(p Pad) (Contact, error) {
	if err := p.check(); err != nil {
		return Contact{}, err
	}
	ri, ro, th := float64(p.Inner), float64(p.Outer), float64(p.Angle)
	face := th / 2 * (ro*ro - ri*ri)
	// (ro³ - ri³)/(ro² - ri²) with ro - ri taken out of both.
	mean := 2.0 / 3 * (ro*ro + ro*ri + ri*ri) / (ro + ri)
	return Contact{
		Face:      unit.Area(face),
		Carrying:  unit.Area(face),
		Radius:    unit.Length(mean),
		ForceLine: unit.Length(chord(th) * mean),
	}, nil
}

// chord is 2 sin(θ/2)/θ: how far toward the axle the middle of an arc lies.
func chord(th float64) float64 { return 2 * math.Sin(th/2) / th }

// roundPad is the effective radius of a round pad over the distance of its
// middle from the axle, for radii of 0, 0.1 ... 0.5 of that distance.
//
// Source: Bhandari, Design of Machine Elements, table 12.1, page 495, read in
// a transcription (FOSSEE, Scilab textbook companion 764, example 12.13).
// Adding up pressures that fall with the radius gives more: 0.9987, 0.9949,
// 0.9885, 0.9791, 0.9665. The table stays, and the doubt is up to 3.4 in 100.
var roundPad = [...]float64{1, 0.9833, 0.9693, 0.9572, 0.9467, 0.9375}

// RoundPad is the contact of a round pad; between the lines of its table it is
// interpolated.
//
//	F  = pm π R²     pm: the mean pressure, not the greatest
//	Re = δ(R/e) e    δ from the table, 1 to 0.9375
//
// R the radius of the pad, e the distance of its middle from the axle, both
// more than 0, and R no more than half of e: there the table ends. Its force
// line is its effective radius. Source: the table and its page.
func RoundPad(radius, centre unit.Length) (Contact, error) {
	if err := positive("radius of the pad", radius); err != nil {
		return Contact{}, err
	}
	if err := positive("distance of the pad from the axle", centre); err != nil {
		return Contact{}, err
	}
	steps := float64(len(roundPad) - 1)
	x := float64(unit.Per(radius, centre)) / 0.5 * steps
	if x > steps*(1+1e-12) {
		return Contact{}, &OutOfRange{"radius of the pad", fmt.Sprint(radius), fmt.Sprintf("half of its distance from the axle or less, %v", times(0.5, centre))}
	}
	i := min(int(x), len(roundPad)-2)
	delta := roundPad[i] + (x-float64(i))*(roundPad[i+1]-roundPad[i])
	face := unit.Circle(2 * radius)
	return Contact{Face: face, Carrying: face, Radius: times(delta, centre), ForceLine: times(delta, centre)}, nil
}

// DiscTorque is what a disc brake holds its wheel with, both faces of the
// rotor together.
//
//	T = 2 μ N Re
//
// μ more than 0 and no more than [MostFriction]; N, the force on each of the
// two pads, 0 or more; Re more than 0. Source: friction on two faces; read so
// in the page on disk brakes of an engineering collection, of which an older
// copy forgets the second face.
func DiscTorque(friction unit.Ratio, clamp unit.Force, radius unit.Length) (unit.Torque, error) {
	if err := lining(friction); err != nil {
		return 0, err
	}
	if err := notNegative("clamp force", clamp); err != nil {
		return 0, err
	}
	if err := positive("effective radius", radius); err != nil {
		return 0, err
	}
	return times(2*float64(friction), clamp).At(radius), nil
}

// DiscGain is the torque of a disc brake for each unit of line pressure.
//
//	g = 2 μ Ac Re    N·m for each Pa, which is m³
//
// Ac is the [PistonArea] of one side, more than 0; the rest as for
// [DiscTorque]. Source: that torque with the force of its pistons.
func DiscGain(friction unit.Ratio, pistons unit.Area, radius unit.Length) (unit.Volume, error) {
	if err := above("piston area", pistons, 0); err != nil {
		return 0, err
	}
	if _, err := DiscTorque(friction, 1, radius); err != nil {
		return 0, err
	}
	return times(2*float64(friction), pistons).Times(radius), nil
}
