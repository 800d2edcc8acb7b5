package brakes

import (
	"fmt"
	"math"

	"chock/brakes/unit"
)

// steepest is the largest slope that any formula here takes: one in one. What
// is steeper is no road, and most likely a percentage without its sign.
const steepest = 1

// slope refuses what is no slope of a road.
func slope(g unit.Ratio) error {
	if err := finite("slope", g); err != nil {
		return err
	}
	if math.Abs(float64(g)) > steepest {
		return &OutOfRange{"slope", percentage(g), "100 % at most, as the rise over the level way"}
	}
	return nil
}

func percentage(r unit.Ratio) string { return fmt.Sprintf("%.4g %%", r.Percent()) }

// HoldForce is what pulls a vehicle down along a slope, and so the brake force
// at the ground that holds it there.
//
//	F = m g sin(arctan G) = m g G / sqrt(1 + G²)
//
// m in kg, more than 0; G is the slope as a tangent, rise over level way, -1
// to 1: 0.20 is a 20 % grade. The percentage of a grade is a tangent and not a
// share of the weight: 20 % needs 19.6 % of it. It holds while the tyres of
// the braked wheels grip. Source: resolution of the weight along the slope.
func HoldForce(m unit.Mass, g unit.Ratio) (unit.Force, error) {
	if err := above("mass", m, 0); err != nil {
		return 0, err
	}
	if err := slope(g); err != nil {
		return 0, err
	}
	_, pull := m.OnSlope(g)
	return pull, nil
}

// PullShare is the force of [HoldForce] as a share of the weight.
//
//	sin(arctan G) = G / sqrt(1 + G²)
//
// G as there. Source: as there.
func PullShare(g unit.Ratio) (unit.Ratio, error) {
	f, err := HoldForce(1, g)
	return unit.Per(f, unit.Mass(1).Weight()), err
}

// HoldTorque is the torque that each of n braked wheels has to hold.
//
//	T = F r / n
//
// F in N, any sign; r in m, more than 0, is the radius of the loaded tyre; n
// is 1 or more. The wheels are taken to share alike. Source: definition of
// torque.
func HoldTorque(f unit.Force, r unit.Length, wheels int) (unit.Torque, error) {
	if err := finite("force", f); err != nil {
		return 0, err
	}
	if err := positive("tyre radius", r); err != nil {
		return 0, err
	}
	if wheels < 1 {
		return 0, &OutOfRange{"number of braked wheels", fmt.Sprint(wheels), "1 or more"}
	}
	return times(1/float64(wheels), f.At(r)), nil
}

// SteepestHeld is the slope that a brake force just holds: [HoldForce] the
// other way round.
//
//	G = s / sqrt(1 - s²)    s = F/(m g)
//
// F in N, 0 or more; m in kg, more than 0; G comes out as 1 at most, so s is
// 0.707 at most. Source: as [HoldForce].
func SteepestHeld(f unit.Force, m unit.Mass) (unit.Ratio, error) {
	if err := notNegative("brake force", f); err != nil {
		return 0, err
	}
	if err := above("mass", m, 0); err != nil {
		return 0, err
	}
	s := float64(unit.Per(f, m.Weight()))
	if s > math.Sqrt2/2 {
		return 0, &OutOfRange{"brake force", f.String(), "71 % of the weight at most: no parking brake holds more"}
	}
	return unit.Ratio(s / math.Sqrt(1-s*s)), nil
}

// A ParkRule is what a published rule asks of a parking brake. Some name a
// slope, others a force over the weight.
type ParkRule struct {
	ID    string
	Say   string             // whose rule, and for what
	Slope Figure[unit.Ratio] // a grade to stand on, both ways; unknown where the rule names a force
	Share Figure[unit.Ratio] // brake force over the weight; unknown where the rule names a slope
	For   Figure[unit.Time]  // how long it stands
	Hand  Figure[unit.Force] // most that a hand may have to do
	Foot  Figure[unit.Force] // most that a foot may have to do
	New   bool               // for new vehicles alone: never a failure in use
}

// ParkRules lists the rules.
func ParkRules() []ParkRule {
	const (
		us135 = "FMVSS 135 (49 CFR 571.135), S7.12, not read again"
		us105 = "FMVSS 105 (49 CFR 571.105), S5.2"
		r13h  = "UN Regulation No. 13-H, annex 3, section 2.3, not read again"
		mot   = "UK MOT inspection manual, section 1.4.2, current web text"
		eu    = "Directive 2014/45/EU, Annex I, 1.4.2, not read again"
		both  = "parking brake of a new vehicle, facing up and facing down"
	)
	minutes := func(source, scope string) Figure[unit.Time] { return row(5*unit.Minute, Memory, source, scope) }
	return []ParkRule{
		{ID: "us-135", Say: "US standard 135, new light vehicles", New: true,
			Slope: row(20*unit.Percent, Memory, us135, both+", up to 3,500 kg (7,716 lb)"), For: minutes(us135, both),
			Hand: row(400*unit.Newton, Memory, us135, both), Foot: row(500*unit.Newton, Memory, us135, both)},
		{ID: "us-105-car", Say: "US standard 105, new cars", New: true,
			Slope: row(30*unit.Percent, Published, us105+", as NHTSA interpretation 8599 puts it", both+", cars before standard 135"),
			For:   row(5*unit.Minute, Published, us105+", as NHTSA interpretation 8599 puts it", both),
			Hand:  row(90*unit.PoundForce, Memory, us105+", not read again", both), Foot: row(125*unit.PoundForce, Memory, us105+", not read again", both)},
		{ID: "us-105-truck", Say: "US standard 105, new light trucks", New: true,
			Slope: row(20*unit.Percent, Memory, us105+", not read again", both+", trucks up to 10,000 lb (4,536 kg)"), For: minutes(us105+", not read again", both),
			Hand: row(125*unit.PoundForce, Memory, us105+", not read again", both), Foot: row(150*unit.PoundForce, Memory, us105+", not read again", both)},
		{ID: "un-13h", Say: "UN rule 13-H, new cars, laden", New: true,
			Slope: row(20*unit.Percent, Memory, r13h, both+", laden"),
			Hand:  row(400*unit.Newton, Memory, r13h, both), Foot: row(500*unit.Newton, Memory, r13h, both)},
		{ID: "un-13h-trailer", Say: "UN rule 13-H, new cars with a trailer without brakes", New: true,
			Slope: row(12*unit.Percent, Memory, r13h, both+", with a trailer that has no brakes, over the weight of both")},
		{ID: "uk-mot", Say: "UK MOT, a major defect below it",
			Share: row(16*unit.Percent, Published, mot, "parking brake in use: all its brake force over the weight of the vehicle as tested")},
		{ID: "uk-mot-dangerous", Say: "UK MOT, dangerous below it",
			Share: row(8*unit.Percent, Published, mot, "parking brake in use: half of what is asked, all its brake force over the weight")},
		{ID: "eu", Say: "EU test in use",
			Share: row(16*unit.Percent, Memory, eu, "parking brake in use: brake force over the greatest weight allowed")},
		{ID: "eu-trailer", Say: "EU test in use, with a trailer",
			Share: row(12*unit.Percent, Memory, eu, "parking brake in use: brake force over the greatest weight of vehicle and trailer")},
	}
}

// ParkRolling is the mean deceleration that the parking brake of a new vehicle
// has to reach from 30 km/h, set while rolling.
var ParkRolling = Figure[unit.Acceleration]{
	Value:  1.5 * unit.MetrePerSecondSquared,
	Mark:   Memory,
	Source: "UN Regulation No. 13-H, annex 3, section 2.3, not read again; a related EU text has the same figure",
	Scope:  "parking brake of a new car set at 30 km/h, engine disconnected",
}

// Kept reports whether a brake force over the weight, or a slope, is as much
// as the rule asks: the very figure is enough.
func (r ParkRule) Kept(x unit.Ratio) bool {
	least := r.Slope
	if !least.Known() {
		least = r.Share
	}
	// What rounding alone puts under the line counts as on it.
	return float64(x) >= float64(least.Value)*(1-1e-9)
}
