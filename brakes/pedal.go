package brakes

import (
	"fmt"
	"math"

	"chock/brakes/unit"
)

// What a foot pushes out of the master cylinder goes into gaps, into what
// yields, and into air. Each function below is one of these places; all of
// them together are a [Budget].

// PedalVolume is the fluid that a pedal moves.
//
//	V = A s / ip    A = π d²/4 of the master cylinder
//
// s is the way of the pad in m, 0 or more, without its free play; ip, pivot to
// pad over pivot to rod, and d more than 0. Both circuits together, where the
// sections have one bore. Source: law of the lever; conservation of volume.
func PedalVolume(way unit.Length, pedal unit.Ratio, bore unit.Length) (unit.Volume, error) {
	if err := notNegative("pedal travel", way); err != nil {
		return 0, err
	}
	if err := above("pedal ratio", pedal, 0); err != nil {
		return 0, err
	}
	if err := positive("master cylinder bore", bore); err != nil {
		return 0, err
	}
	return unit.Circle(bore).Times(times(1/float64(pedal), way)), nil
}

// PedalTravel is how far the pad goes for an amount of fluid: [PedalVolume]
// the other way round, and the free play with it.
//
//	s = s0 + ip V / A
//
// V in m³ and free play s0 in m, 0 or more.
func PedalTravel(v unit.Volume, pedal unit.Ratio, bore, play unit.Length) (unit.Length, error) {
	if err := notNegative("fluid", v); err != nil {
		return 0, err
	}
	if err := above("pedal ratio", pedal, 0); err != nil {
		return 0, err
	}
	if err := positive("master cylinder bore", bore); err != nil {
		return 0, err
	}
	if err := notNegative("free play", play); err != nil {
		return 0, err
	}
	return play + times(float64(pedal), v.Over(unit.Circle(bore))), nil
}

// PedalUsed is the share of its whole way to the floor that a pedal uses, and
// its standard uncertainty.
//
//	U = (A - B)/A    A free pedal to floor, B pressed pedal to floor
//	u² = (uB/A)² + (B uA/A²)²
//
// A more than 0, B from 0 to A, in m; standard uncertainties 0 or more. A
// travel that was measured as such has B = A - travel. Source: 49 CFR 570.55(c),
// 39 FR 26027, 1974, for the share; JCGM 100:2008 (GUM), 5.1.2, for the doubt.
func PedalUsed(free, pressed, uFree, uPressed unit.Length) (used, u unit.Ratio, err error) {
	if err := positive("free pedal height", free); err != nil {
		return 0, 0, err
	}
	if err := notNegative("pressed pedal height", pressed); err != nil {
		return 0, 0, err
	}
	if pressed > free {
		return 0, 0, &OutOfRange{"pressed pedal height", pressed.String(), "no more than the free one, " + free.String()}
	}
	if err := notNegative("doubt of a height", uFree); err != nil {
		return 0, 0, err
	}
	if err := notNegative("doubt of a height", uPressed); err != nil {
		return 0, 0, err
	}
	a := float64(free)
	b := float64(pressed) / a
	return unit.Ratio(1 - b), unit.Ratio(math.Hypot(float64(uPressed)/a, b*float64(uFree)/a)), nil
}

// How the fluid itself and steel yield.
var (
	FluidModulus = Figure[unit.Pressure]{
		Value:  1700 * unit.Megapascal,
		Mark:   Memory,
		Source: "handbook values of 1.4 to 2.0 GPa, not read again; no measured value of brake fluid was found",
		Scope:  "bulk modulus of glycol brake fluid near 20 °C; less when hot, less for silicone",
	}
	SteelModulus = Figure[unit.Pressure]{
		Value:  207000 * unit.Megapascal,
		Mark:   Memory,
		Source: "textbooks on the strength of materials, not read again: 30 million psi",
		Scope:  "elastic modulus of the steel of brake pipes",
	}
	SteelPoisson = Figure[unit.Ratio]{
		Value:  0.3,
		Mark:   Memory,
		Source: "textbooks on the strength of materials, not read again",
		Scope:  "how much steel narrows as it stretches",
	}
	AirQuick = Figure[unit.Ratio]{
		Value:  1.4,
		Mark:   Memory,
		Source: "textbooks on gases, not read again: ratio of the specific heats of air",
		Scope:  "air that is squeezed too quickly to lose its heat; 1 where it has time",
	}
)

// FluidSqueezed is by how much pressure shrinks the fluid itself.
//
//	ΔV = V p / K
//
// V in m³ and p in Pa, 0 or more; bulk modulus K more than 0. Source:
// definition of the bulk modulus.
func FluidSqueezed(v unit.Volume, p, modulus unit.Pressure) (unit.Volume, error) {
	if err := notNegative("fluid in the system", v); err != nil {
		return 0, err
	}
	if err := notNegative("pressure", p); err != nil {
		return 0, err
	}
	if err := above("bulk modulus", modulus, 0); err != nil {
		return 0, err
	}
	return times(float64(unit.Per(p, modulus)), v), nil
}

// squeezed is the share of its volume that air loses under a pressure p over
// that of the air outside.
func squeezed(p, outside unit.Pressure, n unit.Ratio) (float64, error) {
	if err := notNegative("pressure", p); err != nil {
		return 0, err
	}
	if err := above("pressure of the air", outside, 0); err != nil {
		return 0, err
	}
	if err := finite("exponent of the air", n); err != nil {
		return 0, err
	}
	if n < 1 || n > AirQuick.Value {
		return 0, &OutOfRange{"exponent of the air", fmt.Sprint(float64(n)), fmt.Sprintf("1 (slow) to %g (quick)", float64(AirQuick.Value))}
	}
	return -math.Expm1(-math.Log1p(float64(unit.Per(p, outside))) / float64(n)), nil
}

// AirSqueezed is the volume that trapped air gives up under pressure.
//
//	ΔV = V0 (1 - (pa/(pa + p))^(1/n))    n = 1 slowly (Boyle), 1.4 in a quick stab
//
// V0 is its volume with the foot off, in m³, 0 or more; p over that of the air
// outside, pa, in Pa. Most of it goes in the first of the stroke: soft, then
// firm. Source: gas laws; Boyle for n = 1.
func AirSqueezed(v unit.Volume, p, outside unit.Pressure, n unit.Ratio) (unit.Volume, error) {
	if err := notNegative("air", v); err != nil {
		return 0, err
	}
	share, err := squeezed(p, outside, n)
	return times(share, v), err
}

// AirBehind is how much trapped air would give up a volume under pressure:
// [AirSqueezed] the other way round, p more than 0.
func AirBehind(given unit.Volume, p, outside unit.Pressure, n unit.Ratio) (unit.Volume, error) {
	if err := notNegative("fluid", given); err != nil {
		return 0, err
	}
	if err := above("pressure", p, 0); err != nil {
		return 0, err
	}
	share, err := squeezed(p, outside, n)
	if err != nil {
		return 0, err
	}
	return times(1/share, given), nil
}

// MixtureModulus is how stiff fluid with free air in it is at a pressure.
//
//	E = El (1 + α x) / (1 + α El x / (n (pa + p)))    x = (pa/(pa + p))^(1/n)
//
// α is the air's volume over the fluid's with the foot off, 0 or more; El and
// pa more than 0, p 0 or more, n as for [AirSqueezed]. The fluid's own
// shrinking is left out of α. Source: web page on hydraulic fluid, year not
// kept; the same follows from the volumes of [AirSqueezed] and
// [FluidSqueezed].
func MixtureModulus(fluid unit.Pressure, share unit.Ratio, p, outside unit.Pressure, n unit.Ratio) (unit.Pressure, error) {
	if err := above("bulk modulus", fluid, 0); err != nil {
		return 0, err
	}
	if err := notNegative("share of air", share); err != nil {
		return 0, err
	}
	lost, err := squeezed(p, outside, n)
	if err != nil {
		return 0, err
	}
	air := float64(share) * (1 - lost) // what is left of it, over the fluid
	soft := air * float64(unit.Per(fluid, outside+p)) / float64(n)
	return times((1+air)/(1+soft), fluid), nil
}

// Yielded is how far parts yield under pressure, and the fluid that it takes.
//
//	V = A x p / p0    x yielding at p0
//
// A is the piston area that follows, x the whole way at p0 in m: of a
// caliper's body and both pads together, or of drum and shoe. All 0 or more,
// p0 more than 0. Taken as straight: real pads are softer at first. Source:
// Hooke's law; conservation of volume.
func Yielded(area unit.Area, yields unit.Length, at, p unit.Pressure) (unit.Volume, error) {
	if err := notNegative("piston area", area); err != nil {
		return 0, err
	}
	if err := notNegative("yielding", yields); err != nil {
		return 0, err
	}
	if err := above("pressure of the yielding", at, 0); err != nil {
		return 0, err
	}
	if err := notNegative("pressure", p); err != nil {
		return 0, err
	}
	return times(float64(unit.Per(p, at)), area.Times(yields)), nil
}

// PipeSwelled is by how much a pipe's room grows under pressure.
//
//	ΔV = π ri² L (2 p/E) ((ri² + ro²)/(ro² - ri²) + ν)
//
// ro is half the outer diameter, ri less by the wall; L in m and p in Pa, 0 or
// more. E, ν: SteelModulus, SteelPoisson. Source: Lamé's thick tube, in
// textbooks on the strength of materials.
func PipeSwelled(long, outer, wall unit.Length, p unit.Pressure) (unit.Volume, error) {
	if err := notNegative("length of pipe", long); err != nil {
		return 0, err
	}
	if err := positive("outer diameter of the pipe", outer); err != nil {
		return 0, err
	}
	if err := positive("wall of the pipe", wall); err != nil {
		return 0, err
	}
	if !(2*wall < outer) {
		return 0, &OutOfRange{"wall of the pipe", wall.String(), "less than half of its outer diameter, " + outer.String()}
	}
	if err := notNegative("pressure", p); err != nil {
		return 0, err
	}
	inside := unit.Circle(outer - 2*wall)
	in, out := float64(inside), float64(unit.Circle(outer))
	grows := 2 * float64(unit.Per(p, SteelModulus.Value)) * ((in+out)/(out-in) + float64(SteelPoisson.Value))
	return times(grows, inside.Times(long)), nil
}

// hoseRule is where the most that a hose may swell is written.
const hoseRule = "FMVSS 106 (49 CFR 571.106), table I, not read again: its heading was read, its numbers were not"

// What one foot of hose may take at most when new, by its bore.
var (
	HoseSmall1000 = Figure[unit.Volume]{Value: 0.66 * unit.Millilitre, Mark: Memory, Source: hoseRule, Scope: "one foot of regular brake hose up to 1/8 in or 3 mm at 1,000 psi: the most"}
	HoseSmall1500 = Figure[unit.Volume]{Value: 0.79 * unit.Millilitre, Mark: Memory, Source: hoseRule, Scope: "one foot of regular brake hose up to 1/8 in or 3 mm at 1,500 psi: the most"}
	HoseMid1000   = Figure[unit.Volume]{Value: 0.86 * unit.Millilitre, Mark: Memory, Source: hoseRule, Scope: "one foot of regular 3/16 in or 4 to 5 mm brake hose at 1,000 psi: the most"}
	HoseMid1500   = Figure[unit.Volume]{Value: 1.02 * unit.Millilitre, Mark: Memory, Source: hoseRule, Scope: "one foot of regular 3/16 in or 4 to 5 mm brake hose at 1,500 psi: the most"}
	HoseWide1000  = Figure[unit.Volume]{Value: 1.04 * unit.Millilitre, Mark: Memory, Source: hoseRule, Scope: "one foot of regular brake hose from 1/4 in or 6 mm at 1,000 psi: the most"}
	HoseWide1500  = Figure[unit.Volume]{Value: 1.30 * unit.Millilitre, Mark: Memory, Source: hoseRule, Scope: "one foot of regular brake hose from 1/4 in or 6 mm at 1,500 psi: the most"}

	StiffSmall1000 = Figure[unit.Volume]{Value: 0.33 * unit.Millilitre, Mark: Memory, Source: hoseRule, Scope: "one foot of low-expansion brake hose up to 1/8 in or 3 mm at 1,000 psi: the most"}
	StiffSmall1500 = Figure[unit.Volume]{Value: 0.42 * unit.Millilitre, Mark: Memory, Source: hoseRule, Scope: "one foot of low-expansion brake hose up to 1/8 in or 3 mm at 1,500 psi: the most"}
	StiffMid1000   = Figure[unit.Volume]{Value: 0.55 * unit.Millilitre, Mark: Memory, Source: hoseRule, Scope: "one foot of low-expansion 3/16 in or 4 to 5 mm brake hose at 1,000 psi: the most"}
	StiffMid1500   = Figure[unit.Volume]{Value: 0.72 * unit.Millilitre, Mark: Memory, Source: hoseRule, Scope: "one foot of low-expansion 3/16 in or 4 to 5 mm brake hose at 1,500 psi: the most"}
	StiffWide1000  = Figure[unit.Volume]{Value: 0.82 * unit.Millilitre, Mark: Memory, Source: hoseRule, Scope: "one foot of low-expansion brake hose from 1/4 in or 6 mm at 1,000 psi: the most"}
	StiffWide1500  = Figure[unit.Volume]{Value: 1.17 * unit.Millilitre, Mark: Memory, Source: hoseRule, Scope: "one foot of low-expansion brake hose from 1/4 in or 6 mm at 1,500 psi: the most"}
)

// HoseSwelled is the most that a new hose may take under pressure. A sound one
// takes less, an old soft one more.
//
//	p <= p1        V = L v1 p/p1
//	p > p1         V = L (v1 + (v2 - v1)(p - p1)/(p2 - p1))
//
// L free length in feet, v1 and v2 what one foot may take at p1 = 1,000 and
// p2 = 1,500 psi. Three rows by bore: up to 1/8 in or 3 mm, between, from 1/4 in
// or 6 mm; a bore between counts as the middle row. Beyond p2 the line goes
// on, to 3,000 psi, which is our estimate and no longer the most: the column
// of the table for 2,900 psi, of which we are less sure, lies up to an eighth
// higher. stiff is the low-expansion sort, which never takes more than the
// regular one.
// Source: 49 CFR 571.106, table I (from memory); that a bore between counts as
// the middle row: NHTSA, letter 04-009678, 2004.
func HoseSwelled(long, bore unit.Length, p unit.Pressure, stiff bool) (unit.Volume, error) {
	if err := notNegative("length of hose", long); err != nil {
		return 0, err
	}
	if err := positive("bore of the hose", bore); err != nil {
		return 0, err
	}
	if err := notNegative("pressure", p); err != nil {
		return 0, err
	}
	if p > 2*hoseHigh {
		return 0, &OutOfRange{"pressure", p.String(), "no more than " + (2 * hoseHigh).String() + " for a hose"}
	}
	most := hoseFoot(bore, p, false)
	if stiff {
		most = min(most, hoseFoot(bore, p, true))
	}
	return times(float64(unit.Per(long, unit.Foot)), most), nil
}

// The pressures of the table.
const hoseLow, hoseHigh = 1000 * unit.PSI, 1500 * unit.PSI

// hoseFoot is the most that one foot of hose may take.
func hoseFoot(bore unit.Length, p unit.Pressure, stiff bool) unit.Volume {
	v1, v2 := hoseRow(bore, stiff)
	if p <= hoseLow {
		return times(float64(unit.Per(p, hoseLow)), v1)
	}
	return v1 + times(float64(unit.Per(p-hoseLow, hoseHigh-hoseLow)), v2-v1)
}

// hoseRow is what one foot of hose may take at 1,000 and at 1,500 psi.
func hoseRow(bore unit.Length, stiff bool) (v1, v2 unit.Volume) {
	// A bore typed as 1/8 in is 3.175 mm: a little over 3 mm, and in the row.
	switch {
	case bore <= unit.Inch/8+unit.Micrometre && stiff:
		return StiffSmall1000.Value, StiffSmall1500.Value
	case bore <= unit.Inch/8+unit.Micrometre:
		return HoseSmall1000.Value, HoseSmall1500.Value
	case bore < 6*unit.Millimetre-unit.Micrometre && stiff:
		return StiffMid1000.Value, StiffMid1500.Value
	case bore < 6*unit.Millimetre-unit.Micrometre:
		return HoseMid1000.Value, HoseMid1500.Value
	case stiff:
		return StiffWide1000.Value, StiffWide1500.Value
	}
	return HoseWide1000.Value, HoseWide1500.Value
}

// DrumGap is the fluid that brings the shoes of drum brakes out to the drum.
//
//	V = Σ 2 A ΔD    over the wheels
//
// ΔD is the drum's diameter less that of the shoes, in m, 0 or more. Half of
// it is the gap at the middle of each lining; a shoe swings about its far end,
// so that its piston goes twice that, and there are two. One bore for each
// wheel. Source: geometry of a shoe on an anchor; conservation of volume.
func DrumGap(bores []unit.Length, clearance unit.Length) (unit.Volume, error) {
	if err := notNegative("clearance of the drum", clearance); err != nil {
		return 0, err
	}
	a, err := shoePistons(bores)
	return a.Times(clearance), err
}

// shoePistons is the area of all pistons of drum brakes, two a wheel.
func shoePistons(bores []unit.Length) (unit.Area, error) {
	sum := unit.Area(0)
	for _, d := range bores {
		if err := positive("wheel cylinder", d); err != nil {
			return 0, err
		}
		sum += 2 * unit.Circle(d)
	}
	return sum, nil
}

// ClearanceBehind is the drum clearance, as a diameter, that would take an
// amount of fluid: [DrumGap] the other way round, with at least one wheel.
func ClearanceBehind(v unit.Volume, bores []unit.Length) (unit.Length, error) {
	if err := notNegative("fluid", v); err != nil {
		return 0, err
	}
	if len(bores) == 0 {
		return 0, &OutOfRange{"number of drum brakes", "0", "1 or more"}
	}
	a, err := shoePistons(bores)
	if err != nil {
		return 0, err
	}
	return v.Over(a), nil
}

// KnockBehind is how far pads would have been pushed back, both pads of a
// wheel together, to take an amount of fluid.
//
//	x = V / Σ A    A: pistons of one side, over the wheels
//
// V in m³, 0 or more; area more than 0. Source: as [Caliper.Volume].
func KnockBehind(v unit.Volume, oneSide unit.Area) (unit.Length, error) {
	if err := notNegative("fluid", v); err != nil {
		return 0, err
	}
	if err := above("piston area", oneSide, 0); err != nil {
		return 0, err
	}
	return v.Over(oneSide), nil
}

// A Budget is where the fluid of one stroke goes, at one pressure. What master
// cylinder, booster and pedal yield themselves is left out: it counts as free
// play.
type Budget struct {
	Retraction unit.Volume // pads up to the rotor
	Clearance  unit.Volume // shoes out to the drum
	FrontGive  unit.Volume // calipers and pads
	RearGive   unit.Volume // drums and shoes
	Hoses      unit.Volume
	Pipes      unit.Volume
	Fluid      unit.Volume // squeezed
	Air        unit.Volume
}

// Gaps is what quick pumping can take away: shoes come back slowly, and the
// master cylinder refills sooner. Stays is what no pumping takes away. The
// seals pull pads back by the same little each time, so that stays as well.
func (b Budget) Gaps() unit.Volume { return b.Clearance }
func (b Budget) Stays() unit.Volume {
	return b.Retraction + b.FrontGive + b.RearGive + b.Hoses + b.Pipes + b.Fluid + b.Air
}

// Total is all of it.
func (b Budget) Total() unit.Volume { return b.Gaps() + b.Stays() }

// PedalScatter is how well a hand with a tape reads the same pedal again.
var PedalScatter = Figure[unit.Length]{
	Value:  2 * unit.Millimetre,
	Mark:   Estimate,
	Source: "our choice: a tape beside the pad, and a foot that never presses twice alike",
	Scope:  "standard deviation of one pedal height or travel, by hand",
}

// PedalMark is the coarsest that a tape at a pedal is taken to be read to: who
// types 6 in has seen more than a whole inch.
var PedalMark = Figure[unit.Length]{
	Value:  unit.Inch / 4,
	Mark:   Estimate,
	Source: "our choice: the marks that anybody sees on a tape",
	Scope:  "step of a pedal height or travel that was typed coarser, as 6 in or 15 cm",
}

// How far a pedal may come up when it is pumped.
var (
	PumpedGood = Figure[unit.Length]{
		Value:  unit.Inch / 2,
		Mark:   Estimate,
		Source: "our choice: two rear drums with 0.5 mm of clearance give back about 10 mm of pedal",
		Scope:  "pumped pedal height less that of the first press, same foot",
	}
	PumpedBad = Figure[unit.Length]{
		Value:  unit.Inch,
		Mark:   Estimate,
		Source: "our choice: more than well-adjusted brakes can give back on a common pedal",
		Scope:  "pumped pedal height less that of the first press, same foot",
	}
)

// A Sink is a pedal that goes down under a steady foot.
type Sink struct {
	Volume    unit.Volume // fluid that went
	PerSecond unit.Volume // of it, in each second
}

// Sinking is the fluid that a sinking pedal loses.
//
//	V = A s / ip    in each second V/t
//
// s is how far the pad sank, 0 or more, in time t more than 0; the rest as
// for [PedalVolume]. It holds once the first give is over. Source: as
// [PedalVolume].
func Sinking(sank unit.Length, in unit.Time, pedal unit.Ratio, bore unit.Length) (Sink, error) {
	if err := above("time", in, 0); err != nil {
		return Sink{}, err
	}
	v, err := PedalVolume(sank, pedal, bore)
	if err != nil {
		return Sink{}, err
	}
	return Sink{v, times(1/in.Seconds(), v)}, nil
}
