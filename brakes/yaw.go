package brakes

import (
	"fmt"
	"math"

	"chock/brakes/unit"
)

// YawMoment is what two unequal brake forces of one axle turn the vehicle
// with: more than 0 turns it to the left, less to the right, always toward the
// stronger side. The moments of two axles are added.
//
//	M = (FL - FR) t/2
//
// Forces are 0 or more, the track t more than 0. It leaves out what tyres,
// steering and road do against it. Source: moments about the middle of the
// axle.
func YawMoment(left, right unit.Force, track unit.Length) (unit.Torque, error) {
	if err := notNegative("left side", left); err != nil {
		return 0, err
	}
	if err := notNegative("right side", right); err != nil {
		return 0, err
	}
	if err := positive("track", track); err != nil {
		return 0, err
	}
	return (left - right).At(track / 2), nil
}

// SideForce is what the tyres of each axle have to hold, one axle to the left
// and the other to the right, so that a moment does not turn the vehicle.
//
//	Fy = M/L
//
// M of either sign, the wheelbase L more than 0; the answer is the size alone.
// Source: a couple of two forces.
func SideForce(moment unit.Torque, wheelbase unit.Length) (unit.Force, error) {
	if err := finite("yaw moment", moment); err != nil {
		return 0, err
	}
	if err := positive("wheelbase", wheelbase); err != nil {
		return 0, err
	}
	return unit.Force(math.Abs(float64(moment.Over(wheelbase)))), nil
}

// SteeringTug is the torque of two unequal front brake forces about the axes
// on which the wheels steer, both wheels together: more than 0 steers to the
// left, less to the right.
//
//	M = (FL - FR) s cos σ
//
// Forces are 0 or more. The scrub radius s is on the ground, from the steering
// axis to the middle of the tread: more than 0 where the axis meets the ground
// inside of the tread, and the tug is then toward the stronger side; less
// where outside, and the tug is against it. It is smaller than 1 m. σ is by
// how much the axis leans, less than 45°. It leaves out trail, play and
// rubber. Source: moments about the steering axis; what scrub radius is for,
// Banholzer, Transportation Research Record 621, 1977, abstract.
func SteeringTug(left, right unit.Force, scrub unit.Length, lean unit.Angle) (unit.Torque, error) {
	if err := notNegative("left side", left); err != nil {
		return 0, err
	}
	if err := notNegative("right side", right); err != nil {
		return 0, err
	}
	if err := finite("scrub radius", scrub); err != nil {
		return 0, err
	}
	if scrub >= unit.Metre || scrub <= -unit.Metre {
		return 0, &OutOfRange{"scrub radius", fmt.Sprint(scrub), "less than a metre"}
	}
	if err := notNegative("lean of the steering axis", lean); err != nil {
		return 0, err
	}
	if lean >= unit.Turn/8 {
		return 0, &OutOfRange{"lean of the steering axis", fmt.Sprint(lean), "less than 45 degrees"}
	}
	return times(math.Cos(float64(lean)), (left - right).At(scrub)), nil
}
