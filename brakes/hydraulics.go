package brakes

import "chock/brakes/unit"

// AreaRatio is what another bore does to the force of a piston at the same
// pressure, and to the fluid that it takes for the same stroke.
//
//	(to/from)²
//
// Bores in m, more than 0. Source: area of a circle; pressure is the same
// everywhere in a closed circuit (Pascal's law).
func AreaRatio(from, to unit.Length) (unit.Ratio, error) {
	if err := positive("bore", from); err != nil {
		return 0, err
	}
	if err := positive("bore", to); err != nil {
		return 0, err
	}
	return unit.Per(unit.Circle(to), unit.Circle(from)), nil
}
