package brakes

import (
	"fmt"
	"math"

	"chock/brakes/unit"
)

// A Drum is what diameters taken round one edge of a drum say.
type Drum struct {
	Largest    unit.Length
	At         int         // the position of the largest, 0 is at stud 1
	OutOfRound unit.Length // largest less least
	// Oval is the largest less least of an ellipse fitted to the diameters,
	// and Axis the direction of its long axis, 0 up to 180 degrees. They are
	// known from four diameters on.
	Oval   unit.Length
	Axis   unit.Angle
	Fitted bool
}

// ReadDrum takes diameters in m, equally spaced over half a turn from stud 1
// on: two are at 0 and 90 degrees, four at 0, 45, 90 and 135.
//
//	D(θ) = D0 + a cos 2θ + b sin 2θ,  oval = 2 sqrt(a² + b²)
//
// A gauge that touches at two points cannot see how far the drum is off
// centre, nor any shape with an odd number of lobes: three high places cancel
// out in every diameter. One to 36 diameters, each more than 0. Source:
// roundness measurement by the two-point method, ISO 4292 (from memory).
func ReadDrum(diameters []unit.Length) (Drum, error) {
	t := Round(diameters...)
	if err := t.check(1); err != nil {
		return Drum{}, err
	}
	for i, v := range diameters {
		if err := positive(fmt.Sprintf("diameter %d", i+1), v); err != nil {
			return Drum{}, err
		}
	}
	least, largest := t.ends()
	d := Drum{Largest: largest.Value, At: largest.Position, OutOfRound: largest.Value - least.Value}
	if len(diameters) >= 4 {
		// Twice the angle goes once round while the angle goes half round.
		o := spectrum(t, 1).Orders[0]
		d.Oval, d.Axis, d.Fitted = 2*o.Amplitude, o.High/2, true
	}
	return d, nil
}

// DrumAxis is the direction of diameter i of n, from stud 1.
func DrumAxis(i, n int) unit.Angle {
	return unit.Angle(math.Pi * float64(i) / float64(n))
}
