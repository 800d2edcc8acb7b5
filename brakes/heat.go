package brakes

import (
	"fmt"
	"math"

	"chock/brakes/unit"
)

// What iron does with heat.
var (
	IronHeat = Figure[unit.SpecificHeat]{
		Value:  460 * unit.JoulePerKilogramKelvin,
		Mark:   Published,
		Source: "Bhandari, Design of Machine Elements, example 12.14, as its stored listing has it",
		Scope:  "cast iron of rotors and drums, not yet hot",
	}
	HotIronHeat = Figure[unit.SpecificHeat]{
		Value:  540 * unit.JoulePerKilogramKelvin,
		Mark:   Memory,
		Source: "tables of cast iron, not read again: about 540 at 300 to 400 °C",
		Scope:  "cast iron of rotors and drums when hot: the lower end of what is reckoned",
	}
	IronDensity = Figure[unit.Density]{
		Value:  7200 * unit.KilogramPerCubicMetre,
		Mark:   Memory,
		Source: "tables of cast iron, not read again: 7,100 to 7,250",
		Scope:  "grey cast iron of rotors and drums",
	}
	IronConductivity = Figure[unit.Conductivity]{
		Value:  50 * unit.WattPerMetreKelvin,
		Mark:   Memory,
		Source: "tables of cast iron, not read again: 45 to 57",
		Scope:  "grey cast iron of rotors and drums",
	}
)

// What is taken where nothing better is known. Each moves a temperature by
// tens of degrees, which is why one is never shown without its band.
var (
	IntoIronLeast = Figure[unit.Ratio]{
		Value:  90 * unit.Percent,
		Mark:   Memory,
		Source: "brake handbooks, not read again: 90 to 95 % go into rotor or drum, the rest into the linings",
		Scope:  "share of the heat that the iron takes: the lower end of what is reckoned; all of it is the upper",
	}
	FrontShare = Figure[unit.Ratio]{
		Value:  70 * unit.Percent,
		Mark:   Estimate,
		Source: "our choice: front axles do 60 to 80 %",
		Scope:  "share of the front axle in all braking, where it is not given",
	}
	CoolingTime = Figure[unit.Time]{
		Value:  10 * unit.Minute,
		Mark:   Estimate,
		Source: "our choice: measure it, it is the time in which the heat over the air falls to 37 %",
		Scope:  "cooling of a rotor or drum while driving, where it is not given",
	}
	CoolingFactor = Figure[unit.Ratio]{
		Value:  2,
		Mark:   Estimate,
		Source: "our choice: speed, wheels, shields and wind",
		Scope:  "by how much a cooling time may be longer or shorter than taken",
	}
	RollingShare = Figure[unit.Ratio]{
		Value:  1.2 * unit.Percent,
		Mark:   Estimate,
		Source: "our choice: tyres on asphalt, 1 to 1.5 %",
		Scope:  "rolling resistance of tyres over the force on the ground, where it is not given",
	}
	DragArea = Figure[unit.Area]{
		Value:  1.26 * unit.SquareMetre,
		Mark:   Estimate,
		Source: "our choice: a pickup; cars have little more than half of it",
		Scope:  "drag coefficient times frontal area, where it is not given",
	}
	AirDensity = Figure[unit.Density]{
		Value:  1.2 * unit.KilogramPerCubicMetre,
		Mark:   Memory,
		Source: "tables of air, not read again: 1.2 at 20 °C and sea level; a fifth less at 2,000 m",
		Scope:  "air that a vehicle drives through",
	}
	EnginePressure = Figure[unit.Pressure]{
		Value:  200 * unit.Kilopascal,
		Mark:   Estimate,
		Source: "our choice: a warm petrol engine with its throttle shut, 150 to 250 kPa",
		Scope:  "mean pressure with which an engine holds back, over its whole displacement every second turn",
	}
	EngineLeast = Figure[unit.Pressure]{
		Value:  150 * unit.Kilopascal,
		Mark:   Estimate,
		Source: "our choice: the lower end of a warm petrol engine with its throttle shut",
		Scope:  "mean pressure with which an engine holds back, where no more may be counted on",
	}
	FadeBegins = Figure[unit.Temperature]{
		Value:  unit.Celsius(300),
		Mark:   Published,
		Source: "pad maker's article on fade, year not kept (brand withheld): ordinary pads from 300 to 350 °C",
		Scope:  "temperature from which ordinary linings lose friction",
	}
	FluidMargin = Figure[unit.TempChange]{
		Value:  20 * unit.CelsiusDegree,
		Mark:   Estimate,
		Source: "our choice: less than that is too near, for neither of the two is known better",
		Scope:  "boiling point of the fluid over the hottest that it gets",
	}
	FluidNearWet = Figure[unit.TempChange]{
		Value:  10 * unit.CelsiusDegree,
		Mark:   Estimate,
		Source: "our choice: what a tester and a second sample may differ by",
		Scope:  "measured boiling point over that of wet fluid of its grade: so near it counts as wet",
	}
)

// StopEnergy is the energy that the brakes turn into heat between two speeds.
//
//	E = m (v1² - v2²)/2 · (1 + k)
//
// m in kg, more than 0; v1 more than v2, v2 0 or more; k, 0 to 1, is the share
// of what turns with the wheels: some 0.03 to 0.1 in a high gear, much more in
// a low one with the clutch in. Drag of road and air is left out, which makes
// it a little too much. Source: kinetic energy.
func StopEnergy(m unit.Mass, from, to unit.Speed, turning unit.Ratio) (unit.Energy, error) {
	if err := above("mass", m, 0); err != nil {
		return 0, err
	}
	if err := notNegative("lower speed", to); err != nil {
		return 0, err
	}
	if err := above("speed", from, to); err != nil {
		return 0, err
	}
	if err := share("share of turning parts", turning); err != nil {
		return 0, err
	}
	e := times(1+float64(turning), m.Moving(from)-m.Moving(to))
	return e, finite("energy", e)
}

// share refuses what is not 0 to 1.
func share(what string, r unit.Ratio) error {
	if err := finite(what, r); err != nil {
		return err
	}
	if r < 0 || r > 1 {
		return &OutOfRange{what, fmt.Sprint(float64(r)), "0 to 1"}
	}
	return nil
}

// Irons are the rotors or drums of one axle, alike.
type Irons struct {
	Count  int
	Each   unit.Mass         // mass of one
	Heat   unit.SpecificHeat // of its iron
	Axle   unit.Ratio        // share of the axle in all the braking
	Inside unit.Ratio        // share of that heat which goes into the iron
}

func (i Irons) check() error {
	if i.Count < 1 {
		return &OutOfRange{"number of rotors or drums", fmt.Sprint(i.Count), "1 or more"}
	}
	if err := above("mass of a rotor or drum", i.Each, 0); err != nil {
		return err
	}
	if err := above("specific heat", i.Heat, 0); err != nil {
		return err
	}
	if err := share("share of the axle", i.Axle); err != nil {
		return err
	}
	return share("share into the iron", i.Inside)
}

// Rise is by how much rotors or drums get hotter, evenly all through, by
// energy that comes so fast that none leaves meanwhile.
//
//	ΔT = p s E / (n m c)
//
// E in J, 0 or more; n of them with mass m and specific heat c; shares s of
// the axle and p into the iron, 0 to 1. It holds for one stop; the surface is
// hotter for seconds ([SurfaceFlash]). Specific heat grows as iron gets hot,
// so hot iron rises less than cold. Source: conservation of energy.
func (i Irons) Rise(e unit.Energy) (unit.TempChange, error) {
	if err := i.check(); err != nil {
		return 0, err
	}
	if err := notNegative("energy", e); err != nil {
		return 0, err
	}
	return times(float64(i.Axle)*float64(i.Inside), e).Into(times(float64(i.Count), i.Each), i.Heat), nil
}

// A Metal is what heat meets on its way in.
type Metal struct {
	Heat         unit.SpecificHeat
	Density      unit.Density
	Conductivity unit.Conductivity
}

// FlashAt is by how much the rubbed surface is hotter than before, at a time t
// into a stop at steady deceleration, which brings its heat in at a rate that
// falls in a straight line to nothing.
//
//	ΔT(t) = 2 q0 sqrt(t) (1 - 2 t/(3 ts)) / (sqrt(π) e)
//	q0 = 2 E/(A ts)    e = sqrt(k ρ c)
//
// E is the energy that goes into the rubbed area A (all faces of one part), ts
// how long the stop takes, t 0 to ts. It holds while the heat has not come
// through: [HeatDepth] of ts less than half of what the face has behind it,
// which for a plate rubbed on both faces is half its thickness. Then the
// evenly spread [Irons.Rise] is not added, for it is the same heat. Source:
// heat conduction into a deep solid, derived here from the response to a
// steady flux; Newcomb, J. Mech. Eng. Sci. 2, 1960, has the same form (from
// memory).
func FlashAt(e unit.Energy, area unit.Area, stop, t unit.Time, m Metal) (unit.TempChange, error) {
	if err := notNegative("energy", e); err != nil {
		return 0, err
	}
	if err := above("rubbed area", area, 0); err != nil {
		return 0, err
	}
	if err := above("time of the stop", stop, 0); err != nil {
		return 0, err
	}
	if err := notNegative("time", t); err != nil {
		return 0, err
	}
	if t > stop {
		return 0, &OutOfRange{"time", t.String(), "within the stop, " + stop.String()}
	}
	if err := m.check(); err != nil {
		return 0, err
	}
	flux := 2 * float64(e) / (float64(area) * float64(stop))
	effusivity := math.Sqrt(float64(m.Conductivity) * float64(m.Density) * float64(m.Heat))
	past := float64(unit.Per(t, stop))
	return unit.TempChange(2 * flux * math.Sqrt(float64(t)) * (1 - 2*past/3) / (math.SqrtPi * effusivity)), nil
}

func (m Metal) check() error {
	if err := above("specific heat", m.Heat, 0); err != nil {
		return err
	}
	if err := above("density", m.Density, 0); err != nil {
		return err
	}
	return above("conductivity", m.Conductivity, 0)
}

// SurfaceFlash is the highest of [FlashAt], half way through the stop.
//
//	ΔT = 4/(3 sqrt(2π)) q0 sqrt(ts)/e = 0.5319 q0 sqrt(ts)/e
//
// A handbook form ([HandbookFlash]) has sqrt(5/18) = 0.527 for the factor.
// Everything as for [FlashAt]. Source: the same, where its slope is nothing.
func SurfaceFlash(e unit.Energy, area unit.Area, stop unit.Time, m Metal) (unit.TempChange, error) {
	return FlashAt(e, area, stop, stop/2, m)
}

// HandbookFlash is [SurfaceFlash] with the factor that one handbook prints.
//
//	ΔT = sqrt(5/18) q0 sqrt(ts)/e
//
// It is 0.9 % less. Source: Limpert, Brake Design and Safety, chapter 3, from
// memory.
func HandbookFlash(e unit.Energy, area unit.Area, stop unit.Time, m Metal) (unit.TempChange, error) {
	d, err := SurfaceFlash(e, area, stop, m)
	return times(math.Sqrt(5.0/18)*3*math.SqrtPi/(2*math.Sqrt2), d), err
}

// HeatDepth is how far heat gets into a metal in a time.
//
//	sqrt(k t/(ρ c))
//
// t 0 or more. At that depth a surface held hot has warmed the metal by some
// half of its own rise. Source: heat conduction, the diffusion length.
func HeatDepth(t unit.Time, m Metal) (unit.Length, error) {
	if err := notNegative("time", t); err != nil {
		return 0, err
	}
	if err := m.check(); err != nil {
		return 0, err
	}
	return unit.Length(math.Sqrt(float64(m.Conductivity) * float64(t) / (float64(m.Density) * float64(m.Heat)))), nil
}

// Cooled is a temperature a time later, with nothing heating it.
//
//	T = Ta + (T0 - Ta) e^(-t/τ)
//
// τ, more than 0, is the time in which what it is over the air falls to 37 %;
// t 0 or more. It holds while the speed stays, for wind cools, and below the
// heat at which iron glows, the last of [HeatSigns]: from there on it cools
// faster, and what comes out is too much. Source: Newton's law of cooling.
func Cooled(start, air unit.Temperature, t, cooling unit.Time) (unit.Temperature, error) {
	if err := airs(start, air, cooling); err != nil {
		return 0, err
	}
	if err := notNegative("time", t); err != nil {
		return 0, err
	}
	return air.Plus(times(math.Exp(-float64(unit.Per(t, cooling))), start.Above(air))), nil
}

func airs(start, air unit.Temperature, cooling unit.Time) error {
	if err := above("temperature at the start", start, 0); err != nil {
		return err
	}
	if err := above("temperature of the air", air, 0); err != nil {
		return err
	}
	return above("cooling time", cooling, 0)
}

// CoolingFrom is the cooling time that two readings of a part tell, a time t
// apart, with nothing heating it: [Cooled] the other way round.
//
//	τ = t / ln((T0 - Ta)/(T1 - Ta))
//
// T0 more than T1, T1 more than Ta, t more than 0. Source: as there.
func CoolingFrom(first, later, air unit.Temperature, t unit.Time) (unit.Time, error) {
	if err := above("temperature of the air", air, 0); err != nil {
		return 0, err
	}
	if err := above("later temperature", later, air); err != nil {
		return 0, err
	}
	if err := above("first temperature", first, later); err != nil {
		return 0, err
	}
	if err := above("time between", t, 0); err != nil {
		return 0, err
	}
	return times(1/math.Log(float64(unit.Per(first.Above(air), later.Above(air)))), t), nil
}

// RepeatedStops is the temperature right after the last of n equal stops, a
// time apart, each of which brings the same rise.
//
//	Tn = Ta + (T0 - Ta) r^(n-1) + ΔT (1 - rⁿ)/(1 - r)    r = e^(-tc/τ)
//
// T0 is the temperature before the first stop, Ta that of the air, tc the time
// from one stop to the next, more than 0, τ the cooling time ([Cooled]); n is
// 1 or more. Each stop is taken as sudden. Source: sum of a geometric series;
// Limpert, Brake Design and Safety, chapter 3, has the form (from memory).
func RepeatedStops(start, air unit.Temperature, rise unit.TempChange, every, cooling unit.Time, n int) (unit.Temperature, error) {
	if err := airs(start, air, cooling); err != nil {
		return 0, err
	}
	if err := notNegative("rise of a stop", rise); err != nil {
		return 0, err
	}
	if err := above("time from stop to stop", every, 0); err != nil {
		return 0, err
	}
	if n < 1 {
		return 0, &OutOfRange{"number of stops", fmt.Sprint(n), "1 or more"}
	}
	x := -float64(unit.Per(every, cooling))
	// By expm1, so that stops that follow at once add up to n times the rise.
	sum := float64(n)
	if d := math.Expm1(x); d != 0 {
		sum = math.Expm1(float64(n)*x) / d
	}
	t := air.Plus(times(math.Exp(float64(n-1)*x), start.Above(air)) + times(sum, rise))
	return t, finite("temperature", t)
}

// EndlessStops is where [RepeatedStops] tends to.
//
//	T = Ta + ΔT/(1 - r)
//
// Everything as there. Source: as there.
func EndlessStops(air unit.Temperature, rise unit.TempChange, every, cooling unit.Time) (unit.Temperature, error) {
	if _, err := RepeatedStops(air, air, rise, every, cooling, 1); err != nil {
		return 0, err
	}
	t := air.Plus(times(-1/math.Expm1(-float64(unit.Per(every, cooling))), rise))
	return t, finite("temperature", t)
}

// VentCooling is what the vents of a rotor give to the air, a square metre and
// a degree, at a speed of turning.
//
//	h = h1 n
//
// n in 1/s, more than 0. It was measured on one vented rotor standing free, at
// 342 to 1,025 turns a minute, and is in proportion within 3 %; the vents are
// some half of all the cooling there. Source: [VentPerTurn].
func VentCooling(n unit.Frequency) (unit.HeatTransfer, error) {
	if err := above("speed of turning", n, 0); err != nil {
		return 0, err
	}
	return times(n.Hertz(), VentPerTurn.Value), nil
}

// VentPerTurn is what the vents of a rotor give to the air at a turn a second.
var VentPerTurn = Figure[unit.HeatTransfer]{
	Value:  4.62 * unit.WattPerSquareMetre,
	Mark:   Published,
	Source: "McPhee and Johnson, Int. J. Thermal Sci. 47, 2008, page 458: 27.0, 52.7 and 78.3 W/(m² K) at 342, 684 and 1,025 rpm",
	Scope:  "vents of one vented rotor, standing free: 0.077 W/(m² K) for each turn a minute",
}

// CoolsIn is the cooling time of rotors or drums that give h to the air, on an
// area each.
//
//	τ = m c/(h A)
//
// h and A more than 0; m and c as for [Irons.Rise]. Source: Newton's law of
// cooling.
func (i Irons) CoolsIn(h unit.HeatTransfer, each unit.Area) (unit.Time, error) {
	if err := i.check(); err != nil {
		return 0, err
	}
	if err := above("heat transfer", h, 0); err != nil {
		return 0, err
	}
	if err := above("area", each, 0); err != nil {
		return 0, err
	}
	return unit.Time(float64(i.Each) * float64(i.Heat) / (float64(h) * float64(each))), nil
}

// A HeatSign is what a hot drum brake shows to nose and eye.
type HeatSign struct {
	ID   string
	Say  string // what it does
	From Figure[unit.Temperature]
}

// HeatSigns lists the signs, the coolest first.
func HeatSigns() []HeatSign {
	const source = "lining maker's sheet on drum brakes of heavy vehicles, year not kept (brand withheld)"
	sign := func(id, say string, f float64) HeatSign {
		return HeatSign{ID: id, Say: say, From: row(unit.Fahrenheit(f), Published, source, "drum brakes when overheated: "+say)}
	}
	return []HeatSign{
		sign("lining-smell", "the linings smell of resin", 550),
		sign("lining-smoke", "the linings smoke", 850),
		sign("lining-burn", "the linings burn up", 1100),
		sign("drum-red", "the drum glows cherry red", 1250),
	}
}

// A Descent is a vehicle held at one speed down an even hill.
type Descent struct {
	Mass     unit.Mass
	Downhill unit.Ratio // slope as a tangent
	Speed    unit.Speed
	Rolling  unit.Ratio   // rolling resistance over the force on the ground
	DragArea unit.Area    // drag coefficient times frontal area
	Air      unit.Density // of the air
	Engine   unit.Power   // that the engine takes up in its gear; 0 in neutral
}

// Held is who takes up what the hill gives.
type Held struct {
	Hill   unit.Power
	Tyres  unit.Power
	Wind   unit.Power
	Engine unit.Power
	Brakes unit.Power // what is left; 0 where the rest holds the vehicle back by itself
}

// Powers gives what the hill gives, and who takes it up.
//
//	hill    m g v sin θ
//	tyres   Cr m g v cos θ
//	wind    ½ ρ CdA v³
//	brakes  hill - tyres - wind - engine, or 0 where that is less
//	θ = arctan G
//
// m and v more than 0, G more than 0 and 1 at most, the rest 0 or more. It
// holds at steady speed. Source: equilibrium of forces along the slope.
func (d Descent) Powers() (Held, error) {
	if err := above("mass", d.Mass, 0); err != nil {
		return Held{}, err
	}
	if err := above("slope", d.Downhill, 0); err != nil {
		return Held{}, err
	}
	if err := slope(d.Downhill); err != nil {
		return Held{}, err
	}
	if err := above("speed", d.Speed, 0); err != nil {
		return Held{}, err
	}
	if err := notNegative("rolling resistance", d.Rolling); err != nil {
		return Held{}, err
	}
	if err := notNegative("drag area", d.DragArea); err != nil {
		return Held{}, err
	}
	if err := notNegative("density of the air", d.Air); err != nil {
		return Held{}, err
	}
	if err := notNegative("engine's drag", d.Engine); err != nil {
		return Held{}, err
	}
	press, pull := d.Mass.OnSlope(d.Downhill)
	v := float64(d.Speed)
	wind := unit.Force(float64(d.Air) / 2 * float64(d.DragArea) * v * v)
	h := Held{Hill: pull.Pushing(d.Speed), Tyres: times(float64(d.Rolling), press).Pushing(d.Speed), Wind: wind.Pushing(d.Speed), Engine: d.Engine}
	h.Brakes = max(h.Hill-h.Tyres-h.Wind-h.Engine, 0)
	return h, finite("power", h.Hill)
}

// Drop is the height lost over a way down that slope.
//
//	drop = way · sin θ
//
// For a slope that [Descent.Powers] takes. Source: geometry.
func (d Descent) Drop(way unit.Length) unit.Length {
	g := float64(d.Downhill)
	return times(g/math.Hypot(1, g), way)
}

// DownWay is [Descent.Drop] the other way round.
func (d Descent) DownWay(drop unit.Length) unit.Length {
	g := float64(d.Downhill)
	return times(math.Hypot(1, g)/g, drop)
}

// Steady is the temperature that rotors or drums tend to under a power of all
// the brakes.
//
//	T∞ = Ta + p s P τ/(n m c)
//
// P in W, 0 or more; τ cooling time, more than 0; the irons as for
// [Irons.Rise]. n m c/τ is what they give to the air for each degree. Source:
// heat in is heat out.
func (i Irons) Steady(p unit.Power, air unit.Temperature, cooling unit.Time) (unit.Temperature, error) {
	if err := airs(air, air, cooling); err != nil {
		return 0, err
	}
	if err := notNegative("power", p); err != nil {
		return 0, err
	}
	rise, err := i.Rise(p.For(cooling))
	return air.Plus(rise), err
}

// After is the temperature under a power of all the brakes after a time.
//
//	T = T∞ + (T0 - T∞) e^(-t/τ)
//
// t 0 or more, T0 the temperature at the start, the rest as for
// [Irons.Steady]. Source: Newton's law of cooling with a steady supply.
func (i Irons) After(p unit.Power, start, air unit.Temperature, t, cooling unit.Time) (unit.Temperature, error) {
	steady, err := i.Steady(p, air, cooling)
	if err != nil {
		return 0, err
	}
	return Cooled(start, steady, t, cooling)
}

// EngineDrag is the power that a four-stroke engine takes up when the wheels
// turn it.
//
//	P = p V n/2
//
// p is its mean drag pressure, V its displacement, n its turns a second; all
// more than 0. It holds with the throttle shut; an engine brake does more, an
// automatic in a high gear less. Source: definition of the mean effective
// pressure.
func EngineDrag(p unit.Pressure, displacement unit.Volume, speed unit.Frequency) (unit.Power, error) {
	if err := above("drag pressure", p, 0); err != nil {
		return 0, err
	}
	if err := above("displacement", displacement, 0); err != nil {
		return 0, err
	}
	if err := above("engine speed", speed, 0); err != nil {
		return 0, err
	}
	return unit.Power(float64(p) * float64(displacement) * float64(speed) / 2), nil
}
