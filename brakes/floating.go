package brakes

import (
	"fmt"
	"math"

	"chock/brakes/unit"
)

// A Build is how the two shoes of a drum brake are held.
type Build int

// The builds, in the order in which they help to press their own shoes.
const (
	LeadingTrailing Build = iota // one cylinder, a fixed block opposite: one shoe is dragged on, the other off
	TwinLeading                  // a cylinder for each shoe: both are dragged on going forward, and off in reverse
	DuoServo                     // one anchor, a loose link opposite: the first shoe pushes the second
)

func (b Build) String() string {
	switch b {
	case LeadingTrailing:
		return "leading-trailing"
	case TwinLeading:
		return "twin-leading"
	case DuoServo:
		return "duo-servo"
	}
	return fmt.Sprintf("Build(%d)", int(b))
}

// FloatingShoes are two shoes that stand against a block or a link and may
// slide along it. Heights are counted from the middle of the drum.
type FloatingShoes struct {
	Drum          unit.Length // radius
	First, Second unit.Angle  // that the linings span; First is the shoe dragged on first going forward, the primary of a duo-servo
	Cylinder      unit.Length // height of the cylinder above the middle
	Abutment      unit.Length // depth of block or link below it
	Anchor        unit.Length // height of the anchor above it, of a duo-servo alone
}

// What stands in where nobody has measured the shoes of a drum.
var (
	ShoeReach = Figure[unit.Ratio]{
		Value:  0.8,
		Mark:   Estimate,
		Source: "our choice: common proportions",
		Scope:  "height of cylinder and anchor above the middle of the drum, and depth of block or link below it, over the drum's radius",
	}
	ShoeSpan = Figure[unit.Angle]{
		Value:  110 * unit.Degree,
		Mark:   Estimate,
		Source: "our choice: common proportions",
		Scope:  "angle that the lining of one shoe spans",
	}
)

// TypicalShoes are shoes of common proportions for a drum of that radius. They
// belong to no vehicle.
func TypicalShoes(drum unit.Length) FloatingShoes {
	reach := times(float64(ShoeReach.Value), drum)
	return FloatingShoes{Drum: drum, First: ShoeSpan.Value, Second: ShoeSpan.Value, Cylinder: reach, Abutment: reach, Anchor: reach}
}

// How far the model of [FloatingShoes.Factor] is to be trusted.
var (
	FloatingTrusted = Figure[unit.Ratio]{
		Value:  0.35,
		Mark:   Estimate,
		Source: "our judgement: beyond it the model runs away from the factors that handbooks give",
		Scope:  "friction up to which the model of a drum with floating shoes is used without a word; beyond it says too much",
	}
	NearLocking = Figure[unit.Ratio]{
		Value:  0.9,
		Mark:   Estimate,
		Source: "our choice: there a leading shoe has grown to ten times what friction alone gives it",
		Scope:  "share of the friction at which shoes lock by themselves, from which the model is refused",
	}
)

const handbookFactors = "a standard automotive handbook, brake factors C* at a friction of 0.38 to 0.40, not read again"

// What a handbook gives for the factor, to stand beside the model.
var (
	FactorLeadingTrailing = Figure[unit.Ratio]{Value: 2, Mark: Memory, Source: handbookFactors, Scope: "leading-trailing drum brake, friction at the drum over the force of one piston"}
	FactorTwinLeading     = Figure[unit.Ratio]{Value: 3, Mark: Memory, Source: handbookFactors, Scope: "twin-leading drum brake, going forward"}
	FactorDuoServo        = Figure[unit.Ratio]{Value: 5, Mark: Memory, Source: handbookFactors, Scope: "duo-servo drum brake"}
)

// What is shown as an example of a lining that has lost some of its grip.
var (
	FrictionUsual = Figure[unit.Ratio]{
		Value:  0.35,
		Mark:   Estimate,
		Source: "our choice: linings in use lie near 0.35 to 0.4",
		Scope:  "friction of a lining in order, where what less of it costs is shown",
	}
	FrictionSlick = Figure[unit.Ratio]{
		Value:  0.30,
		Mark:   Estimate,
		Source: "our choice: one letter down on the edge of a lining",
		Scope:  "friction of a damp or glazed lining, where what it costs is shown",
	}
)

// A Factor is what a brake makes of the force that presses it.
type Factor struct {
	Factor  unit.Ratio // torque over the force of one piston and the radius
	Slope   unit.Ratio // change of Factor for a change of the friction
	First   unit.Ratio // of Factor, what the first shoe adds: the one dragged on, or that pushes the other
	Second  unit.Ratio // and the other shoe
	LocksAt unit.Ratio // friction at which it locks by itself; infinite where it never does
}

// SecondShare is the share of the work that the second shoe does.
func (f Factor) SecondShare() unit.Ratio { return unit.Per(f.Second, f.Factor) }

// Torque is what the force of one piston becomes at the radius.
func (f Factor) Torque(force unit.Force, radius unit.Length) unit.Torque {
	return times(float64(f.Factor), force).At(radius)
}

// DiscFactor is the factor of a disc brake, at its effective radius.
//
//	C = 2 μ    slope 2
//
// μ as for [DiscTorque], of which it is the factor. Each pad adds half.
func DiscFactor(friction unit.Ratio) (Factor, error) {
	if err := lining(friction); err != nil {
		return Factor{}, err
	}
	return Factor{Factor: 2 * friction, Slope: 2, First: friction, Second: friction, LocksAt: unit.Ratio(math.Inf(1))}, nil
}

// Factor is the factor of a drum brake with floating shoes, at the drum's
// radius, by the centre of pressure: the drum presses each shoe N at the
// middle of its lining, and rubs on it μ N at the [FrictionRadius] ρ. With F
// the force of one piston and h, c, k the heights of cylinder, block or link,
// and anchor:
//
//	dragged on   N = F (h + c)/(c - μ ρ)
//	dragged off  N = F (h + c)/(c + μ ρ)
//	of a duo-servo the link is pushed by X = N1 - F, and
//	             N2 = [X (c + k) + F (k - h)]/(k - μ ρ2)
//	torque       T = μ (N1 ρ1 + N2 ρ2),  factor T/(F r)
//
// In reverse the shoes change their parts, and a twin-leading brake has two
// that are dragged off. The slope is the same, differentiated.
//
// Lengths are more than 0 and heights less than the drum's radius, angles as
// for [FrictionRadius], μ more than 0 and less than [NearLocking] of what
// locks it. It leaves out that shoes bend, slide along their block, and are
// dragged down onto it, and so gives more than a brake has, the more the
// higher the friction: see [FloatingTrusted] and [FactorDuoServo]. What one
// friction gives over another is nearer to the truth than either. Source:
// moments about block, link and anchor, derived here; for one pivoted shoe
// with its lining in the middle it is [PivotedShoe.ShoeFactor].
func (s FloatingShoes) Factor(build Build, friction unit.Ratio, reverse bool) (Factor, error) {
	if err := s.check(build); err != nil {
		return Factor{}, err
	}
	if err := lining(friction); err != nil {
		return Factor{}, err
	}
	if reverse {
		s.First, s.Second = s.Second, s.First
	}
	r, h, c, k, mu := float64(s.Drum), float64(s.Cylinder), float64(s.Abutment), float64(s.Anchor), float64(friction)
	rho1, rho2 := s.radii()
	// Which way each shoe is dragged.
	way1, way2 := 1.0, -1.0
	switch {
	case build == TwinLeading && reverse:
		way1 = -1
	case build == TwinLeading:
		way2 = 1
	case build == DuoServo:
		way2 = 1
	}
	at := math.Inf(1)
	if way1 > 0 {
		at = c / rho1
	}
	if way2 > 0 {
		held := c
		if build == DuoServo {
			held = k
		}
		at = min(at, held/rho2)
	}
	if near := float64(NearLocking.Value) * at; mu >= near {
		return Factor{}, &OutOfRange{"friction", fmt.Sprint(friction), fmt.Sprintf("less than %.3f: the shoes lock by themselves at %.3f", near, at)}
	}
	// Forces for a piston force of 1, and how fast they grow with μ.
	n1 := (h + c) / (c - way1*mu*rho1)
	grow1 := n1 * way1 * rho1 / (c - way1*mu*rho1)
	var n2, grow2 float64
	if build == DuoServo {
		left := k - mu*rho2
		n2 = ((n1-1)*(c+k) + k - h) / left
		grow2 = grow1*(c+k)/left + n2*rho2/left
	} else {
		n2 = (h + c) / (c - way2*mu*rho2)
		grow2 = n2 * way2 * rho2 / (c - way2*mu*rho2)
	}
	f := Factor{
		First:   unit.Ratio(mu * n1 * rho1 / r),
		Second:  unit.Ratio(mu * n2 * rho2 / r),
		Slope:   unit.Ratio(((n1+mu*grow1)*rho1 + (n2+mu*grow2)*rho2) / r),
		LocksAt: unit.Ratio(at),
	}
	f.Factor = f.First + f.Second
	return f, nil
}

// radii are the friction radii of both shoes, whose angles were checked.
func (s FloatingShoes) radii() (first, second float64) {
	a, _ := FrictionRadius(s.Drum, s.First)
	b, _ := FrictionRadius(s.Drum, s.Second)
	return float64(a), float64(b)
}

func (s FloatingShoes) check(build Build) error {
	if build < LeadingTrailing || build > DuoServo {
		return &OutOfRange{"build of the drum brake", build.String(), "leading-trailing, twin-leading or duo-servo"}
	}
	if err := positive("radius of the drum", s.Drum); err != nil {
		return err
	}
	inside := func(name string, l unit.Length) error {
		if err := positive(name, l); err != nil {
			return err
		}
		if l >= s.Drum {
			return &OutOfRange{name, fmt.Sprint(l), fmt.Sprintf("less than the drum's radius, %v", s.Drum)}
		}
		return nil
	}
	if err := inside("height of the cylinder", s.Cylinder); err != nil {
		return err
	}
	if err := inside("depth of the block below", s.Abutment); err != nil {
		return err
	}
	if build == DuoServo {
		if err := inside("height of the anchor", s.Anchor); err != nil {
			return err
		}
	}
	if err := spans(s.First); err != nil {
		return err
	}
	return spans(s.Second)
}
