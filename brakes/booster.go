package brakes

import (
	"fmt"
	"math"

	"chock/brakes/unit"
)

// The air over a place, after the International Standard Atmosphere: p at
// height h is AtmosphereSea (1 - h/AtmosphereTop)^AtmosphereExponent.
var (
	AtmosphereSea = Figure[unit.Pressure]{
		Value:  101.325 * unit.Kilopascal,
		Mark:   Published,
		Source: "International Standard Atmosphere (ICAO, 1964), sea level: 1013.25 hPa",
		Scope:  "pressure of the air at sea level; the weather moves it by some 3 in 100",
	}
	AtmosphereTop = Figure[unit.Length]{
		Value:  288.15 / 0.0065 * unit.Metre,
		Mark:   Published,
		Source: "International Standard Atmosphere (ICAO, 1964): 15 °C at sea level, 6.5 °C less for each kilometre",
		Scope:  "height at which that fall would end at absolute zero; holds for the air up to 11 km",
	}
	AtmosphereExponent = Figure[unit.Ratio]{
		Value:  9.80665 * 0.0289644 / (8.31432 * 0.0065),
		Mark:   Published,
		Source: "US Standard Atmosphere, 1976: g M / (R L) from 9.80665 m/s², 0.0289644 kg/mol, 8.31432 J/(mol K), 0.0065 K/m",
		Scope:  "exponent of the air's pressure with height, up to 11 km",
	}
)

// BoosterVacuum stands in where nobody has read a vacuum gauge.
var BoosterVacuum = Figure[unit.Pressure]{
	Value:  20 * unit.InchOfMercury,
	Mark:   Published,
	Source: "US Army Ordnance subcourse OD1001, lesson 3, vacuum readings, undated copy: about 20 inHg at idle for most engines",
	Scope:  "manifold vacuum of a sound warm engine at idle, at sea level; much less at full throttle",
}

// FootMost is the hardest foot that a published stop test allows.
var FootMost = Figure[unit.Force]{
	Value:  150 * unit.PoundForce,
	Mark:   Memory,
	Source: "FMVSS 105 (49 CFR 571.105), not read again: pedal force of 15 to 150 lbf",
	Scope:  "foot force of a test driver; many people cannot press as hard",
}

// BarometerAt is the pressure of the air at a height over the sea, on a day
// as the standard has it.
//
//	p = p0 (1 - h/H)^n    p0, H, n: AtmosphereSea, AtmosphereTop, AtmosphereExponent
//
// h is -500 m to 11 km. Source: International Standard Atmosphere.
func BarometerAt(h unit.Length) (unit.Pressure, error) {
	if err := finite("height over the sea", h); err != nil {
		return 0, err
	}
	if h < -500*unit.Metre || h > 11*unit.Kilometre {
		return 0, &OutOfRange{"height over the sea", h.String(), "-500 m to 11 km"}
	}
	left := 1 - float64(unit.Per(h, AtmosphereTop.Value))
	return times(math.Pow(left, float64(AtmosphereExponent.Value)), AtmosphereSea.Value), nil
}

// VacuumAt is what a vacuum read at sea level becomes at a height. The engine
// pulls down to the same pressure, but there is less air outside to push.
//
//	Δp(h) = p(h) - (p(0) - Δp)    none below 0
//
// Δp in Pa, 0 to that of the whole air; h as for [BarometerAt]. Source:
// definition of a vacuum; US Army Ordnance subcourse OD1001, lesson 3, has 1
// inHg for each 1,000 ft.
func VacuumAt(sea unit.Pressure, h unit.Length) (unit.Pressure, error) {
	if err := checkVacuum(sea); err != nil {
		return 0, err
	}
	p, err := BarometerAt(h)
	if err != nil {
		return 0, err
	}
	return max(0, p-(AtmosphereSea.Value-sea)), nil
}

func checkVacuum(v unit.Pressure) error {
	if err := notNegative("vacuum", v); err != nil {
		return err
	}
	if v > AtmosphereSea.Value {
		return &OutOfRange{"vacuum", v.String(), "no more than that of empty space, " + AtmosphereSea.Value.String()}
	}
	return nil
}

// A Booster is a vacuum booster between pedal and master cylinder.
type Booster struct {
	Gain      unit.Ratio // how much more comes out for a little more in, below its knee
	CutIn     unit.Force // rod force that opens its valve; 0 where not known
	JumpIn    unit.Force // what it gives at once as the valve opens; 0 where not known
	Diaphragm unit.Area  // on which the vacuum acts; of two diaphragms, both
}

// Diaphragms is the area of one or two diaphragms of given working diameters,
// which are a little less than the can's.
//
//	A = Σ π d²/4
//
// Diameters in m, more than 0. Source: area of a circle.
func Diaphragms(diameters []unit.Length) (unit.Area, error) {
	if n := len(diameters); n < 1 || n > 2 {
		return 0, &OutOfRange{"number of diaphragms", fmt.Sprint(n), "1 or 2"}
	}
	sum := unit.Area(0)
	for _, d := range diameters {
		if err := positive("diaphragm", d); err != nil {
			return 0, err
		}
		sum += unit.Circle(d)
	}
	return sum, nil
}

func (b Booster) check(vacuum unit.Pressure) error {
	if err := above("booster gain", b.Gain, 1); err != nil {
		return err
	}
	if err := notNegative("cut-in force", b.CutIn); err != nil {
		return err
	}
	if err := notNegative("jump-in force", b.JumpIn); err != nil {
		return err
	}
	if err := above("diaphragm", b.Diaphragm, 0); err != nil {
		return err
	}
	return checkVacuum(vacuum)
}

// Out is the force on the master cylinder for a rod force F and a vacuum Δp.
//
//	F <= Fc   0
//	F > Fc    the smaller of  Fj + i (F - Fc)   and  F + A Δp
//
// Fc cut-in, Fj jump-in, i gain, A diaphragm. Up to the knee, where both are
// equal, it multiplies. Beyond it the diaphragm gives all it has, and more
// comes from the foot alone. With no vacuum left the foot is on its own.
//
// F in N, 0 or more; Δp in Pa, 0 to the whole air; gain more than 1. Return
// springs and friction are left out. Source: Limpert, Brake Design and Safety,
// chapter 5 (from memory); that beyond the knee the slope is one is said by
// QC/T 307-1999 as well, as a booster maker's page quotes it.
func (b Booster) Out(rod unit.Force, vacuum unit.Pressure) (unit.Force, error) {
	if err := notNegative("rod force", rod); err != nil {
		return 0, err
	}
	if err := b.check(vacuum); err != nil {
		return 0, err
	}
	if rod <= b.CutIn {
		return 0, nil
	}
	return min(b.JumpIn+times(float64(b.Gain), rod-b.CutIn), rod+vacuum.On(b.Diaphragm)), nil
}

// Knee is the rod force at which the diaphragm has given all it has, and the
// force that comes out there.
//
//	F = (A Δp + i Fc - Fj)/(i - 1), no less than Fc    out = F + A Δp
//
// Ranges and source: as [Booster.Out], of which it is the meeting point.
func (b Booster) Knee(vacuum unit.Pressure) (rod, out unit.Force, err error) {
	if err := b.check(vacuum); err != nil {
		return 0, 0, err
	}
	help := vacuum.On(b.Diaphragm)
	rod = max(b.CutIn, times(1/(float64(b.Gain)-1), help+times(float64(b.Gain), b.CutIn)-b.JumpIn))
	return rod, rod + help, nil
}

// Needed is the least rod force for a force on the master cylinder: [Booster.Out]
// the other way round.
//
//	the largest of  Fc + (out - Fj)/i,  out - A Δp  and  Fc    0 for an out of 0
//
// Ranges and source: as [Booster.Out].
func (b Booster) Needed(out unit.Force, vacuum unit.Pressure) (unit.Force, error) {
	if err := notNegative("force on the master cylinder", out); err != nil {
		return 0, err
	}
	if err := b.check(vacuum); err != nil {
		return 0, err
	}
	if out == 0 {
		return 0, nil
	}
	return max(b.CutIn, b.CutIn+times(1/float64(b.Gain), out-b.JumpIn), out-vacuum.On(b.Diaphragm)), nil
}

// ShareLost is how much of an amount is gone.
//
//	1 - after/before
//
// before is more than 0, after 0 or more; less than 0 where it grew. Source:
// definition.
func ShareLost[Q ~float64](before, after Q) (unit.Ratio, error) {
	if err := above("amount before", before, 0); err != nil {
		return 0, err
	}
	if err := notNegative("amount after", after); err != nil {
		return 0, err
	}
	return 1 - unit.Per(after, before), nil
}
