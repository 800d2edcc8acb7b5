package brakes

import (
	"fmt"
	"math"

	"chock/brakes/unit"
)

// Own is the mark of a figure that belongs to the vehicle at hand: cast on the
// part, from its manual, or measured on it. Source says which.
const Own Mark = "this vehicle's own"

// A Fact is a word about how a vehicle is built, "" where nobody has looked.
type Fact struct {
	Value  string
	Mark   Mark
	Source string
}

// A Vehicle is what is known of one vehicle. A figure whose Source is empty is
// not known.
type Vehicle struct {
	Name             string
	PedalRatio       Figure[unit.Ratio] // pivot to pad over pivot to pushrod
	Booster          Fact               // none vacuum hydraulic
	BoosterGain      Figure[unit.Ratio] // pushrod force after over before
	MasterBore       Figure[unit.Length]
	Circuits         Fact // one; two: front and rear; diagonal
	Wheelbase        Figure[unit.Length]
	CentreHeight     Figure[unit.Length]   // of gravity, over the ground
	BoosterDiaphragm Figure[unit.Length]   // effective diameter
	ValveKnee        Figure[unit.Pressure] // beyond which the rear gets only ValveSlope of a rise
	ValveSlope       Figure[unit.Ratio]
	AxleRatio        Figure[unit.Ratio] // turns of the shaft to one of the driven wheels
	Front, Rear      Axle
}

// An Axle is what is known of the two wheels of one axle.
type Axle struct {
	Brake     Fact              // disc drum
	Tyre      Fact              // size, as on the sidewall
	LoadEmpty Figure[unit.Mass] // on both wheels, with a driver
	LoadFull  Figure[unit.Mass]

	Track Figure[unit.Length] // middle of one tread to that of the other

	Friction               Figure[unit.Ratio]  // of the linings
	LiningNew, LiningLeast Figure[unit.Length] // without the backing

	RotorNew, RotorDiscard, RotorMachineTo Figure[unit.Length] // thickness
	VariationLimit, RunoutLimit            Figure[unit.Length]
	EffectiveRadius                        Figure[unit.Length] // at which the pads hold the rotor
	PistonBore                             Figure[unit.Length] // of the caliper
	Pistons                                Figure[unit.Count]  // on one side of the rotor

	RotorMass Figure[unit.Mass]

	DrumShoes                             Fact // leading-trailing twin-leading duo-servo
	DrumMass                              Figure[unit.Mass]
	DrumNew, DrumMax, DrumRoundness       Figure[unit.Length]
	WheelCylinderLeft, WheelCylinderRight Figure[unit.Length] // bore
}

// Known reports whether anybody knows f.
func (f Figure[Q]) Known() bool { return f.Source != "" }

// Oddities says which figures of v cannot all be right, or should not be so:
// a limit on the wrong side of the new size, two cylinders of one axle that
// differ. Geometry and the word's own meaning; nothing here is a judgement of
// wear.
func (v Vehicle) Oddities() []string {
	var out []string
	if v.Booster.Value == "none" && v.BoosterGain.Known() {
		out = append(out, "There is no booster, and yet its gain is given. One of the two is wrong.")
	}
	for _, a := range []struct {
		name string
		Axle
	}{{"front", v.Front}, {"rear", v.Rear}} {
		// order wants low to be no more than high.
		order := func(lowName string, low Figure[unit.Length], highName string, high Figure[unit.Length]) {
			if low.Known() && high.Known() && low.Value > high.Value {
				out = append(out, fmt.Sprintf("The %s %s, %v, is more than %s, %v. One of the two is wrong, or they are swapped.",
					a.name, lowName, low.Value, highName, high.Value))
			}
		}
		order("rotor's discard thickness", a.RotorDiscard, "the one to cut to", a.RotorMachineTo)
		order("rotor's discard thickness", a.RotorDiscard, "that of a new one", a.RotorNew)
		order("rotor's thickness to cut to", a.RotorMachineTo, "that of a new one", a.RotorNew)
		order("drum's diameter when new", a.DrumNew, "the largest allowed", a.DrumMax)
		order("lining's least thickness", a.LiningLeast, "that of a new one", a.LiningNew)
		// Twenty-two millimetres for 7/8 in is the same cylinder; a step of 1/16 in is not.
		if l, r := a.WheelCylinderLeft, a.WheelCylinderRight; l.Known() && r.Known() &&
			math.Abs(float64(l.Value-r.Value)) > float64(20*unit.Thou) {
			out = append(out, fmt.Sprintf("The %s wheel cylinders differ: left %v, right %v. Both wheels of an axle have one bore. "+
				"Read them again: if it is so, one is the wrong part, and the axle brakes unevenly.", a.name, l.Value, r.Value))
		}
	}
	// A load far behind can lift the front axle; nothing lifts the rear one.
	if e, f := v.Rear.LoadEmpty, v.Rear.LoadFull; e.Known() && f.Known() && e.Value > f.Value {
		out = append(out, fmt.Sprintf("The rear axle weighs more empty, %v, than loaded, %v. One of the two is wrong.", e.Value, f.Value))
	}
	return out
}
