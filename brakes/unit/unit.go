// Package unit gives brake measurements their physical types.
//
// Each quantity is a float64 held in its SI unit. Adding, comparing and
// scaling within one quantity is plain Go; mixing two quantities does not
// compile. A product or quotient of two quantities changes type only through
// a named function here, such as [Pressure.On], so that the conversion is
// written once and tested once.
package unit

// The quantities, each held in the SI unit named beside it.
type (
	Length       float64 // m; may be negative: a dial reads both sides of zero
	Area         float64 // m²
	Volume       float64 // m³
	Pressure     float64 // Pa
	Force        float64 // N
	Mass         float64 // kg
	Temperature  float64 // K, absolute
	TempChange   float64 // K, a difference
	Angle        float64 // rad
	Speed        float64 // m/s
	Torque       float64 // N·m
	Acceleration float64 // m/s²
	Energy       float64 // J
	Power        float64 // W
	Frequency    float64 // Hz
	Time         float64 // s
	SpecificHeat float64 // J/(kg·K)
	Density      float64 // kg/m³
	Conductivity float64 // W/(m·K)
	HeatTransfer float64 // W/(m²·K)
	Ratio        float64 // no unit
	Count        float64 // no unit, whole
)

// A Kind names a quantity at run time, where the tree language, a flag or a
// saved record says which one is meant. Word is not a quantity: it is the id
// of an answer, handed to a calculation that compares answers.
type Kind string

const (
	KindLength       Kind = "length"
	KindArea         Kind = "area"
	KindVolume       Kind = "volume"
	KindPressure     Kind = "pressure"
	KindForce        Kind = "force"
	KindMass         Kind = "mass"
	KindTemperature  Kind = "temperature"
	KindTempChange   Kind = "temperature-change"
	KindAngle        Kind = "angle"
	KindSpeed        Kind = "speed"
	KindTorque       Kind = "torque"
	KindAcceleration Kind = "acceleration"
	KindEnergy       Kind = "energy"
	KindPower        Kind = "power"
	KindFrequency    Kind = "frequency"
	KindTime         Kind = "time"
	KindSpecificHeat Kind = "specific-heat"
	KindDensity      Kind = "density"
	KindConductivity Kind = "conductivity"
	KindHeatTransfer Kind = "heat-transfer"
	KindRatio        Kind = "ratio"
	KindCount        Kind = "count"
	KindWord         Kind = "word"
)

// A Reading is a quantity as somebody took it off an instrument.
type Reading[Q ~float64] struct {
	Value      Q
	Resolution Q      // one count of the last place typed: 1 thou for `.004"`
	Text       string // as typed, for the echo and the report
}

// Any is a reading whose quantity is known only at run time: one that came
// from a tree, a flag or a record. It never enters a formula; [As] turns it
// into a Reading first.
type Any struct {
	Kind       Kind
	SI         float64 // NaN where Missing
	Resolution float64 // SI
	Text       string  // as typed
	Unit       string  // the unit it was taken in, as printed; with it, Parse reads Text again to the same bits
}
