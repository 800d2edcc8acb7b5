package brakes

import (
	"fmt"
	"math"

	"chock/brakes/unit"
)

const growthText = "makers' service information, 2004 to 2010, compact pickup to full-size truck (brands withheld)"

// The way after which a rotor that runs out over its limit has usually worn a
// pulse into itself. It leaves out how far over, which pads, and which roads.
var (
	GrowthNear = Figure[unit.Length]{
		Value:  3000 * unit.Mile,
		Mark:   Published,
		Source: growthText,
		Scope:  "from a runout over the vehicle's limit to a thickness variation that is felt, the early end of what is usual; a trade article works an example over 6,000 miles",
	}
	GrowthFar = Figure[unit.Length]{
		Value:  7000 * unit.Mile,
		Mark:   Published,
		Source: growthText,
		Scope:  "the same, the late end",
	}
)

// FeltVariation is a thickness variation that people feel.
var FeltVariation = Figure[unit.Length]{
	Value:  20 * unit.Micrometre,
	Mark:   Memory,
	Source: "texts on brake judder, not read again: from 10 to 20 micrometres on",
	Scope:  "thickness variation of a front rotor that is felt in a car; heavier vehicles hide more",
}

// WearRate is the lining that is worn off for each megajoule of pressing force
// times way.
var WearRate = Figure[unit.Volume]{
	Value:  10 * unit.CubicMillimetre,
	Mark:   Memory,
	Source: "texts on friction wear, not read again: 1e-5 mm3 for a newton and a metre, mild wear of an organic lining, cool",
	Scope:  "brake lining, volume for each megajoule of pressing force times way; hot it is four times as much and more",
}

// WearBand is how far worn lining may be off what is reckoned from energy.
var WearBand = Figure[unit.Ratio]{
	Value:  0.5,
	Mark:   Estimate,
	Source: "our choice: pads swell when hot, and the rate belongs to no lining in particular",
	Scope:  "lining worn off, reckoned from energy: plus or minus this",
}

// TripShare is which part of the usual way to a pulse a trip is.
//
//	low = trip / far    high = trip / near
//
// Trip in m, more than 0; near and far are [GrowthNear] and [GrowthFar]. It
// holds for a rotor that runs out over its limit; of one that does not, no text
// gives a way. Source: that of the figures.
func TripShare(trip unit.Length) (low, high unit.Ratio, err error) {
	if err := positive("trip", trip); err != nil {
		return 0, 0, err
	}
	return unit.Per(trip, GrowthFar.Value), unit.Per(trip, GrowthNear.Value), nil
}

// PerPass is how much a variation grows each time the high spot goes by.
//
//	grown / n    n = way / c, passes
//
// Variation in m, 0 or more; way and way of one turn c in m, more than 0.
// Source: definition; after a worked example in a trade article.
func PerPass(grown, way, turn unit.Length) (unit.Length, error) {
	if err := notNegative("variation", grown); err != nil {
		return 0, err
	}
	if err := positive("way", way); err != nil {
		return 0, err
	}
	n, err := TurnsIn(way, turn)
	if err != nil {
		return 0, err
	}
	return times(1/float64(n), grown), nil
}

// Grown is what a variation comes to on a way, where it grows evenly.
//
//	variation + felt · share    felt [FeltVariation], share [TripShare]
//
// Variation now in m, 0 or more; share 0 or more. Source: our choice: the
// published way ends at a variation that is felt, and nothing says that it does
// not grow evenly until then.
func Grown(now unit.Length, share unit.Ratio) (unit.Length, error) {
	if err := notNegative("variation", now); err != nil {
		return 0, err
	}
	if err := notNegative("share of the way", share); err != nil {
		return 0, err
	}
	return now + times(float64(share), FeltVariation.Value), nil
}

// PushedBack is the fluid that the thick place of a rotor pushes back out of
// its caliper.
//
//	V = A t    A pistons of one side, t thickness variation
//
// A caliper that slides moves its pistons by the whole of t; a fixed one moves
// those of each side by half of it, which is as much. A in m², more than 0; t
// in m, 0 or more. Source: geometry.
func PushedBack(piston unit.Area, variation unit.Length) (unit.Volume, error) {
	if err := above("piston area", piston, 0); err != nil {
		return 0, err
	}
	if err := notNegative("variation", variation); err != nil {
		return 0, err
	}
	return piston.Times(variation), nil
}

// PedalPulse is how far the pedal moves to and fro when a soft foot gives way
// to it all.
//
//	s = ip V / Am    V of all calipers together, at one moment
//
// The most that it can be: rotors that push at different moments take it from
// one another, hoses and a firm foot take more. V in m³, 0 or more; master area
// Am in m², pedal ratio ip more than 0. Source: conservation of volume; law of
// the lever.
func PedalPulse(pushed unit.Volume, master unit.Area, pedal unit.Ratio) (unit.Length, error) {
	if err := notNegative("fluid", pushed); err != nil {
		return 0, err
	}
	if err := above("master cylinder area", master, 0); err != nil {
		return 0, err
	}
	if err := above("pedal ratio", pedal, 0); err != nil {
		return 0, err
	}
	return times(float64(pedal), pushed.Over(master)), nil
}

// PressurePulse is how far the pressure goes up and down when the foot does
// not give way at all.
//
//	Δp = V p/Vp    the brake takes Vp of fluid to get to p
//
// V in m³, 0 or more; Vp and p more than 0. It takes hoses, caliper and pads as
// a spring that is alike stiff all the way, which is too soft at high pressure.
// Source: definition of stiffness.
func PressurePulse(pushed, takes unit.Volume, at unit.Pressure) (unit.Pressure, error) {
	if err := notNegative("fluid", pushed); err != nil {
		return 0, err
	}
	if err := above("fluid taken", takes, 0); err != nil {
		return 0, err
	}
	if err := above("pressure", at, 0); err != nil {
		return 0, err
	}
	return times(float64(unit.Per(pushed, takes)), at), nil
}

// TorquePulse is what a change of pressure makes of a rotor's brake torque.
//
//	ΔT = 2 μ A Δp r    two pads
//
// Δp in Pa, 0 or more; A pistons of one side in m², more than 0; the rest as
// for [DiscTorque], whose torque this is. Source: Coulomb's law at two pads.
func TorquePulse(pulse unit.Pressure, piston unit.Area, friction unit.Ratio, radius unit.Length) (unit.Torque, error) {
	clamp, err := PistonForce(pulse, piston)
	if err != nil {
		return 0, err
	}
	return DiscTorque(friction, clamp, radius)
}

// RubOrder is the part of the wear that a wobbling rotor leaves in its own
// thickness, n times a turn, while it rubs on pads that are not pressed. The
// swing from the middle counts as 1.
//
//	wear of one face   w(θ) = max(0, cos θ - g)       g gap over swing
//	both faces         w(θ) + w(θ + 180°)
//	n times a turn     a = 1/π ∫ w cos nθ dθ over a turn
//
// With cos α = g one face has, n from 2 on,
//
//	a₁ = (α - sin α cos α)/π
//	aₙ = (sin (n-1)α/(n-1) + sin (n+1)α/(n+1) - 2 g sin nα / n)/π
//
// and both have twice that for even n and nothing for odd. The gap g is 0 to
// less than 1; n 1 to 24. Source: Fourier series of a rub in proportion to how
// far the face comes over; that it wears so is a model.
func RubOrder(n int, gap unit.Ratio, both bool) (unit.Ratio, error) {
	if err := notNegative("gap over swing", gap); err != nil {
		return 0, err
	}
	if gap >= 1 {
		return 0, &OutOfRange{"gap over swing", fmt.Sprint(float64(gap)), "less than 1"}
	}
	if n < 1 || n > 24 {
		return 0, &OutOfRange{"times a turn", fmt.Sprint(n), "1 to 24"}
	}
	if both && n%2 == 1 {
		return 0, nil
	}
	g, k := float64(gap), float64(n)
	alpha := math.Acos(g)
	a := (alpha - math.Sin(alpha)*g) / math.Pi
	if n > 1 {
		a = (math.Sin((k-1)*alpha)/(k-1) + math.Sin((k+1)*alpha)/(k+1) - 2*g*math.Sin(k*alpha)/k) / math.Pi
	}
	if both {
		a *= 2
	}
	return unit.Ratio(a), nil
}

// A Worn is a thickness of lining that energy takes off.
type Worn struct {
	Middle, Low, High unit.Length
}

// WornBy is the lining that a pad loses while it turns energy into heat.
//
//	V = k E / μ    V/A off its thickness    k [WearRate], ± [WearBand]
//
// Energy E of this pad in J, 0 or more; friction μ more than 0 and no more than
// [MostFriction], pad area A in m² more than 0. Energy goes with the square of the speed, and hot linings wear faster
// than in proportion: a trip of motorway stops or of mountains wears more than
// its share. Source: Archard's law of wear; k from memory.
func WornBy(energy unit.Energy, friction unit.Ratio, pad unit.Area) (Worn, error) {
	if err := notNegative("energy", energy); err != nil {
		return Worn{}, err
	}
	if err := lining(friction); err != nil {
		return Worn{}, err
	}
	if err := above("pad area", pad, 0); err != nil {
		return Worn{}, err
	}
	off := times(energy.Joules()/1e6/float64(friction), WearRate.Value).Over(pad)
	band := float64(WearBand.Value)
	return Worn{off, times(1-band, off), times(1+band, off)}, nil
}
