package unit

import "math"

// Exact definitions, from which every other size here is worked out by the
// compiler without rounding on the way.
//
//	inch     25.4 mm          international yard and pound agreement, 1959
//	pound    0.453 592 37 kg  the same
//	gravity  9.806 65 m/s²    3rd CGPM, 1901
//	mercury  13 595.1 kg/m³   the column at 0 °C by convention; NIST SP 811 (2008) B.8
//	Btu      1055.055 852 62 J  International Table: 4186.8 J/(kg·K) for a pound and a °F; the same, B.8
const (
	inch    = 0.0254
	foot    = 12 * inch
	mile    = 5280 * foot
	pound   = 0.45359237
	gravity = 9.80665
	mercury = 13595.1
	btu     = 1055.05585262
)

// Units of length.
const (
	Metre      Length = 1
	Micrometre Length = 1e-6
	Millimetre Length = 1e-3
	Centimetre Length = 1e-2
	Kilometre  Length = 1e3
	Thou       Length = inch / 1000
	Inch       Length = inch
	Foot       Length = foot
	Mile       Length = mile
)

// Units of area.
const (
	SquareMetre      Area = 1
	SquareMillimetre Area = 1e-6
	SquareCentimetre Area = 1e-4
	SquareInch       Area = inch * inch
)

// Units of volume. A millilitre is a cubic centimetre.
const (
	CubicMetre      Volume = 1
	CubicMillimetre Volume = 1e-9
	Millilitre      Volume = 1e-6
	Litre           Volume = 1e-3
	CubicInch       Volume = inch * inch * inch
)

// Units of pressure. InchOfMercury is the conventional one, for vacuum gauges.
const (
	Pascal        Pressure = 1
	Kilopascal    Pressure = 1e3
	Megapascal    Pressure = 1e6
	Bar           Pressure = 1e5
	PSI           Pressure = pound * gravity / (inch * inch)
	InchOfMercury Pressure = mercury * gravity * inch
)

// Units of force.
const (
	Newton        Force = 1
	PoundForce    Force = pound * gravity
	KilogramForce Force = gravity
)

// Units of mass.
const (
	Kilogram Mass = 1
	Gram     Mass = 1e-3
	Pound    Mass = pound
)

// Temperatures and their differences. A scale with its own zero needs a
// function: [Celsius], [Fahrenheit].
const (
	Kelvin           Temperature = 1
	CelsiusDegree    TempChange  = 1
	FahrenheitDegree TempChange  = 5.0 / 9
)

// Units of angle.
const (
	Radian Angle = 1
	Degree Angle = math.Pi / 180
	Turn   Angle = 2 * math.Pi
)

// Units of speed.
const (
	MetrePerSecond   Speed = 1
	KilometrePerHour Speed = 1 / 3.6
	MilePerHour      Speed = mile / 3600
	FootPerSecond    Speed = foot
)

// Units of torque.
const (
	NewtonMetre Torque = 1
	PoundFoot   Torque = pound * gravity * foot
	InchPound   Torque = pound * gravity * inch
)

// Units of acceleration.
const (
	MetrePerSecondSquared Acceleration = 1
	FootPerSecondSquared  Acceleration = foot
	StandardGravity       Acceleration = gravity
)

// Units of energy and power.
const (
	Joule      Energy = 1
	Kilojoule  Energy = 1e3
	FootPound  Energy = pound * gravity * foot
	Btu        Energy = btu
	Watt       Power  = 1
	Kilowatt   Power  = 1e3
	Horsepower Power  = 550 * pound * gravity * foot // 550 ft·lbf/s
)

// Units of what heat does in a metal.
const (
	JoulePerKilogramKelvin SpecificHeat = 1
	BtuPerPoundFahrenheit  SpecificHeat = 4186.8
	KilogramPerCubicMetre  Density      = 1
	PoundPerCubicInch      Density      = pound / (inch * inch * inch)
	WattPerMetreKelvin     Conductivity = 1
	WattPerSquareMetre     HeatTransfer = 1 // and kelvin
)

// Units of frequency, time and ratio.
const (
	Hertz       Frequency = 1
	PerMinute   Frequency = 1.0 / 60
	Millisecond Time      = 1e-3
	Second      Time      = 1
	Minute      Time      = 60
	Hour        Time      = 3600
	Percent     Ratio     = 0.01
)

// The accessors give a quantity as a bare number, for printing and for
// formulas that their source states in that unit.

func (l Length) Metres() float64      { return float64(l) }
func (l Length) Millimetres() float64 { return float64(l / Millimetre) }
func (l Length) Micrometres() float64 { return float64(l / Micrometre) }
func (l Length) Kilometres() float64  { return float64(l / Kilometre) }
func (l Length) Thou() float64        { return float64(l / Thou) }
func (l Length) Inches() float64      { return float64(l / Inch) }
func (l Length) Feet() float64        { return float64(l / Foot) }
func (l Length) Miles() float64       { return float64(l / Mile) }

func (a Area) SquareMillimetres() float64 { return float64(a / SquareMillimetre) }
func (a Area) SquareCentimetres() float64 { return float64(a / SquareCentimetre) }
func (a Area) SquareInches() float64      { return float64(a / SquareInch) }

func (v Volume) CubicMillimetres() float64 { return float64(v / CubicMillimetre) }
func (v Volume) Millilitres() float64      { return float64(v / Millilitre) }
func (v Volume) Litres() float64           { return float64(v / Litre) }
func (v Volume) CubicInches() float64      { return float64(v / CubicInch) }

func (p Pressure) Kilopascals() float64     { return float64(p / Kilopascal) }
func (p Pressure) Megapascals() float64     { return float64(p / Megapascal) }
func (p Pressure) Bars() float64            { return float64(p / Bar) }
func (p Pressure) PSI() float64             { return float64(p / PSI) }
func (p Pressure) InchesOfMercury() float64 { return float64(p / InchOfMercury) }

func (f Force) Newtons() float64        { return float64(f) }
func (f Force) PoundsForce() float64    { return float64(f / PoundForce) }
func (f Force) KilogramsForce() float64 { return float64(f / KilogramForce) }

func (m Mass) Kilograms() float64 { return float64(m) }
func (m Mass) Pounds() float64    { return float64(m / Pound) }

func (t Temperature) Kelvins() float64    { return float64(t) }
func (t Temperature) Celsius() float64    { return float64(t) - 273.15 }
func (t Temperature) Fahrenheit() float64 { return float64(t)*9/5 - 459.67 }

func (c TempChange) CelsiusDegrees() float64    { return float64(c) }
func (c TempChange) FahrenheitDegrees() float64 { return float64(c) * 9 / 5 }

func (a Angle) Radians() float64 { return float64(a) }
func (a Angle) Degrees() float64 { return float64(a / Degree) }
func (a Angle) Turns() float64   { return float64(a / Turn) }

func (s Speed) MetresPerSecond() float64   { return float64(s) }
func (s Speed) KilometresPerHour() float64 { return float64(s / KilometrePerHour) }
func (s Speed) MilesPerHour() float64      { return float64(s / MilePerHour) }

func (t Torque) NewtonMetres() float64 { return float64(t) }
func (t Torque) PoundFeet() float64    { return float64(t / PoundFoot) }
func (t Torque) InchPounds() float64   { return float64(t / InchPound) }

func (a Acceleration) MetresPerSecondSquared() float64 { return float64(a) }
func (a Acceleration) FeetPerSecondSquared() float64   { return float64(a / FootPerSecondSquared) }
func (a Acceleration) Gravities() float64              { return float64(a / StandardGravity) }

func (e Energy) Joules() float64     { return float64(e) }
func (e Energy) Kilojoules() float64 { return float64(e / Kilojoule) }
func (e Energy) Btu() float64        { return float64(e / Btu) }

func (p Power) Watts() float64      { return float64(p) }
func (p Power) Kilowatts() float64  { return float64(p / Kilowatt) }
func (p Power) Horsepower() float64 { return float64(p / Horsepower) }

func (f Frequency) Hertz() float64     { return float64(f) }
func (f Frequency) PerMinute() float64 { return float64(f / PerMinute) }

func (t Time) Seconds() float64 { return float64(t) }
func (t Time) Minutes() float64 { return float64(t / Minute) }

func (r Ratio) Percent() float64 { return float64(r) * 100 }

// Int gives a count as an int, the nearest one. A count that was parsed is
// whole.
func (c Count) Int() int { return int(math.Round(float64(c))) }

// Celsius and Fahrenheit give the temperature that a thermometer shows.
func Celsius(c float64) Temperature    { return Temperature(c + 273.15) }
func Fahrenheit(f float64) Temperature { return Temperature((f + 459.67) * 5 / 9) }

// Above gives how far t lies above from.
func (t Temperature) Above(from Temperature) TempChange { return TempChange(t - from) }

// Plus gives t risen by c.
func (t Temperature) Plus(c TempChange) Temperature { return t + Temperature(c) }

// The products and quotients that a brake needs.

// Circle gives the area of a bore or piston of diameter d.
func Circle(d Length) Area { return Area(math.Pi / 4 * float64(d) * float64(d)) }

// Times gives the area a by b, as of a rectangle.
func (l Length) Times(b Length) Area { return Area(float64(l) * float64(b)) }

// Times gives the volume swept by area a over a stroke.
func (a Area) Times(stroke Length) Volume { return Volume(float64(a) * float64(stroke)) }

// Over gives the stroke that area a needs for volume v.
func (v Volume) Over(a Area) Length { return Length(float64(v) / float64(a)) }

// On gives the force of p on area a.
func (p Pressure) On(a Area) Force { return Force(float64(p) * float64(a)) }

// Over gives the pressure of f on area a.
func (f Force) Over(a Area) Pressure { return Pressure(float64(f) / float64(a)) }

// At gives the torque of f at an arm.
func (f Force) At(arm Length) Torque { return Torque(float64(f) * float64(arm)) }

// Over gives the force of t at an arm.
func (t Torque) Over(arm Length) Force { return Force(float64(t) / float64(arm)) }

// Along gives the work of f along a way.
func (f Force) Along(way Length) Energy { return Energy(float64(f) * float64(way)) }

// At gives the force that accelerates m at a.
func (m Mass) At(a Acceleration) Force { return Force(float64(m) * float64(a)) }

// Weight gives the force with which m rests on the ground.
func (m Mass) Weight() Force { return m.At(StandardGravity) }

// On gives the acceleration of a mass m under f.
func (f Force) On(m Mass) Acceleration { return Acceleration(float64(f) / float64(m)) }

// Moving gives the kinetic energy of m at speed v.
func (m Mass) Moving(v Speed) Energy { return Energy(float64(m) * float64(v) * float64(v) / 2) }

// OnSlope gives the force with which m presses on ground of that slope, and
// the part of its weight that pulls down along it. The slope is a tangent.
func (m Mass) OnSlope(slope Ratio) (press, pull Force) {
	w, g := float64(m.Weight()), float64(slope)
	return Force(w / math.Hypot(1, g)), Force(w * g / math.Hypot(1, g))
}

// Over gives the mean power of e spent in t.
func (e Energy) Over(t Time) Power { return Power(float64(e) / float64(t)) }

// For gives the energy of p kept up for t.
func (p Power) For(t Time) Energy { return Energy(float64(p) * float64(t)) }

// For gives the way covered at speed s in t.
func (s Speed) For(t Time) Length { return Length(float64(s) * float64(t)) }

// Over gives the time in which a steady deceleration a takes off speed s.
func (s Speed) Over(a Acceleration) Time { return Time(float64(s) / float64(a)) }

// Pushing gives the power of f that goes along at speed v.
func (f Force) Pushing(v Speed) Power { return Power(float64(f) * float64(v)) }

// Into gives the rise of a mass m of specific heat c that takes up e.
func (e Energy) Into(m Mass, c SpecificHeat) TempChange {
	return TempChange(float64(e) / (float64(m) * float64(c)))
}

// Round gives how often a second a tyre of that circumference turns.
func (s Speed) Round(circumference Length) Frequency {
	return Frequency(float64(s) / float64(circumference))
}

// Per gives a over b, two amounts of one quantity.
func Per[Q ~float64](a, b Q) Ratio { return Ratio(float64(a) / float64(b)) }
