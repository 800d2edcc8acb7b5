package brakes

import (
	"fmt"

	"chock/brakes/unit"
)

// A Valve holds pressure back from the rear brakes. Up to its knee it lets all
// through, beyond it Slope of each rise. The zero Valve is none at all, and so
// is one of slope 1; one of slope 0 lets no more through.
//
// A valve that senses the load moves its knee with the height of the frame
// over the axle; by how much is its maker's, so each load has its own Valve.
type Valve struct {
	Knee  unit.Pressure
	Slope unit.Ratio
}

// None reports whether there is no valve.
func (v Valve) None() bool { return v == Valve{} }

func (v Valve) check() error {
	if v.None() {
		return nil
	}
	if err := above("knee of the valve", v.Knee, 0); err != nil {
		return err
	}
	if err := finite("slope of the valve", v.Slope); err != nil {
		return err
	}
	if v.Slope < 0 || v.Slope > 1 {
		return &OutOfRange{"slope of the valve", fmt.Sprint(v.Slope), "0 to 1"}
	}
	return nil
}

// Rear is the pressure behind the valve.
//
//	pr = p                 for p up to pk
//	pr = pk + s (p - pk)   beyond
//
// p in Pa, 0 or more; pk more than 0, s from 0 to 1. It holds for a pedal that
// goes down: coming back the valve lags. Source: definition of knee and slope,
// as makers print them ("290/0.3").
func (v Valve) Rear(p unit.Pressure) (unit.Pressure, error) {
	if err := v.check(); err != nil {
		return 0, err
	}
	if err := notNegative("line pressure", p); err != nil {
		return 0, err
	}
	if v.None() || p <= v.Knee {
		return p, nil
	}
	return v.Knee + times(float64(v.Slope), p-v.Knee), nil
}

// WithoutValve is the split of a vehicle whose valve is gone, or stuck open:
// the rear gets all pressure.
func (s Split) WithoutValve() Split {
	s.Valve = Valve{}
	return s
}
