package brakes

import "chock/brakes/unit"

// StudForce is what a spring scale reads that turns a wheel by one of its
// studs.
//
//	F = T/(D/2)
//
// T is 0 or more, the bolt circle D, through the middles of the studs, more
// than 0. Source: definition of torque.
func StudForce(drag unit.Torque, boltCircle unit.Length) (unit.Force, error) {
	if err := notNegative("drag", drag); err != nil {
		return 0, err
	}
	if err := positive("bolt circle", boltCircle); err != nil {
		return 0, err
	}
	return drag.Over(boltCircle / 2), nil
}

// StudTorque is the drag that a reading at a stud stands for: the scale pulls
// square to the line from the stud to the middle.
//
//	T = F D/2
//
// F is 0 or more, D as for [StudForce], of which it is the inverse.
func StudTorque(force unit.Force, boltCircle unit.Length) (unit.Torque, error) {
	if err := notNegative("force at the stud", force); err != nil {
		return 0, err
	}
	if err := positive("bolt circle", boltCircle); err != nil {
		return 0, err
	}
	return force.At(boltCircle / 2), nil
}

// DragHeat is the heat that a brake makes which does not let go.
//
//	P = T ω = T v/r
//
// T and v are 0 or more, r, from the middle of the wheel to the road, more
// than 0. It takes the drag as the same at every speed; one that heats up
// grows. Source: power of a torque.
func DragHeat(drag unit.Torque, speed unit.Speed, tyre unit.Length) (unit.Power, error) {
	if err := notNegative("drag", drag); err != nil {
		return 0, err
	}
	if err := notNegative("speed", speed); err != nil {
		return 0, err
	}
	if err := positive("radius of the tyre", tyre); err != nil {
		return 0, err
	}
	return drag.Over(tyre).Pushing(speed), nil
}

// What makers let a disc brake drag that was pressed and let go.
var (
	DragAtStud = Figure[unit.Force]{
		Value:  68 * unit.Newton,
		Mark:   Published,
		Source: "makers' service information, cars with disc brakes: 68 to 69 N (15 lbf) at a stud",
		Scope:  "disc brake of a car, pressed with about 200 N for 5 s, let go, rotor turned ten times; less what turns the hub with the pads out",
	}
	DragAtOnce = Figure[unit.Torque]{
		Value:  9.8 * unit.NewtonMetre,
		Mark:   Published,
		Source: "makers' service information, a medium truck with disc brakes",
		Scope:  "torque that turns the rotor about 5 s after the pedal was let go",
	}
	DragTurned = Figure[unit.Torque]{
		Value:  6.9 * unit.NewtonMetre,
		Mark:   Published,
		Source: "makers' service information, a medium truck with disc brakes",
		Scope:  "torque that turns the rotor after ten turns",
	}
)
