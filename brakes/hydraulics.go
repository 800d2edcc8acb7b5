package brakes

import (
	"fmt"

	"chock/brakes/unit"
)

// Between foot and lining, each function is one link of the chain:
//
//	rod force      Fr = ip Fp
//	boosted        Fb = B Fr
//	line pressure  p  = Fb / Am         Am = π d²/4
//	clamp force    N  = p Ac            Ac: pistons of one side
//	shoe force     Fs = p Aw            Aw: one piston
//
// Friction in pedal, seals and springs is left out: a real chain gives some 5
// to 20 in 100 less (from memory).

// RodForce is what a foot brings to the rod of the master cylinder.
//
//	Fr = ip Fp    ip = pivot to pad / pivot to rod
//
// Fp in N, 0 or more; ip more than 0. Source: law of the lever.
func RodForce(foot unit.Force, pedal unit.Ratio) (unit.Force, error) {
	if err := notNegative("pedal force", foot); err != nil {
		return 0, err
	}
	if err := above("pedal ratio", pedal, 0); err != nil {
		return 0, err
	}
	return times(float64(pedal), foot), nil
}

// Boosted is what a booster makes of a rod force.
//
//	Fb = B Fr
//
// Fr in N, 0 or more; B 1 or more. It holds below the booster's run-out only:
// beyond it the booster adds what it has and no more. Source: definition of
// the gain.
func Boosted(rod unit.Force, gain unit.Ratio) (unit.Force, error) {
	if err := notNegative("rod force", rod); err != nil {
		return 0, err
	}
	if err := finite("booster gain", gain); err != nil {
		return 0, err
	}
	if gain < 1 {
		return 0, &OutOfRange{"booster gain", fmt.Sprint(gain), "1 or more"}
	}
	return times(float64(gain), rod), nil
}

// LinePressure is the pressure of a master cylinder, above that of the air.
// Both sections of a tandem cylinder with one bore have it.
//
//	p = F / (π d²/4)
//
// F in N, 0 or more; bore d in m, more than 0. Source: definition of pressure.
func LinePressure(rod unit.Force, bore unit.Length) (unit.Pressure, error) {
	if err := notNegative("rod force", rod); err != nil {
		return 0, err
	}
	if err := positive("master cylinder bore", bore); err != nil {
		return 0, err
	}
	return rod.Over(unit.Circle(bore)), nil
}

// MostPistons is the largest number of pistons that is taken on one side.
const MostPistons = 6

// PistonArea is the area that presses one pad: that of the pistons on one
// side of the caliper, of one piston or several, alike or stepped.
//
//	A = Σ π d²/4    d over the pistons of one side
//
// A caliper that slides has pistons on one side only, and its body presses
// the other pad as hard. A fixed caliper has as many opposite: each side
// presses its own pad, so counting both would count the force twice. One to
// six diameters in m, more than 0. Source: force balance of the caliper.
func PistonArea(oneSide []unit.Length) (unit.Area, error) {
	if n := len(oneSide); n < 1 || n > MostPistons {
		return 0, &OutOfRange{"number of pistons on one side", fmt.Sprint(n), fmt.Sprintf("1 to %d", MostPistons)}
	}
	sum := unit.Area(0)
	for _, d := range oneSide {
		if err := positive("piston", d); err != nil {
			return 0, err
		}
		sum += unit.Circle(d)
	}
	return sum, nil
}

// PistonForce is what pressure makes of an area: of [PistonArea] the force on
// each pad, of one wheel-cylinder piston the force on its shoe. A wheel
// cylinder pushes a shoe with each of its two pistons; the area of one counts.
//
//	F = p A
//
// p in Pa, 0 or more; A in m², more than 0. Source: Pascal's law.
func PistonForce(p unit.Pressure, a unit.Area) (unit.Force, error) {
	if err := notNegative("pressure", p); err != nil {
		return 0, err
	}
	if err := above("piston area", a, 0); err != nil {
		return 0, err
	}
	return p.On(a), nil
}

// HydraulicRatio is by how much the fluid multiplies the force on the master
// cylinder: on one pad, or on one shoe. By as much the travel gets less.
//
//	ih = A / Am    A: pistons of one side, or one wheel-cylinder piston
//
// Areas in m², more than 0. Source: Pascal's law; conservation of volume for
// the travel.
func HydraulicRatio(piston, master unit.Area) (unit.Ratio, error) {
	if err := above("piston area", piston, 0); err != nil {
		return 0, err
	}
	if err := above("master cylinder area", master, 0); err != nil {
		return 0, err
	}
	return unit.Per(piston, master), nil
}

// AreaRatio is what another bore does to the force of a piston at the same
// pressure, and to the fluid that it takes for the same stroke. Given the
// same fluid its stroke is divided by as much.
//
//	(to/from)²
//
// Bores in m, more than 0. Source: area of a circle; Pascal's law.
func AreaRatio(from, to unit.Length) (unit.Ratio, error) {
	if err := positive("bore", from); err != nil {
		return 0, err
	}
	if err := positive("bore", to); err != nil {
		return 0, err
	}
	return unit.Per(unit.Circle(to), unit.Circle(from)), nil
}

// ShiftedShare is the rear's share of all brake force after its force was
// multiplied by k at the same pressure.
//
//	Φ' = k Φ / (1 - Φ + k Φ)
//
// Φ is 0 to 1, k more than 0. It holds while no wheel slides and no valve
// acts. Source: Φ = rear/(front + rear) with the rear multiplied.
func ShiftedShare(share, k unit.Ratio) (unit.Ratio, error) {
	if err := finite("rear share", share); err != nil {
		return 0, err
	}
	if share < 0 || share > 1 {
		return 0, &OutOfRange{"rear share", fmt.Sprint(share), "0 to 1"}
	}
	if err := above("force ratio", k, 0); err != nil {
		return 0, err
	}
	rear := k * share
	return rear / (1 - share + rear), nil
}
