package unit

import (
	"fmt"
	"math"
)

// Word is the id of an answer, handed to a calculation that compares answers.
func Word(id string) Any { return Any{Kind: KindWord, Text: id} }

// Absent is a position of a list at which nothing could be read.
func Absent(kind Kind) Any { return Any{Kind: kind, SI: math.NaN(), Text: "-"} }

// Missing reports whether a stands for a reading that was not taken.
func (a Any) Missing() bool { return a.Kind != KindWord && math.IsNaN(a.SI) }

// In gives a in a unit of its kind. A zero dial mark stays exactly zero, and a
// number that was typed in that unit comes back as typed. ok is false for a
// word, a missing reading, and a unit of another kind.
func (a Any) In(unit string) (v float64, ok bool) {
	t := tableOf(a.Kind)
	if t == nil || a.Missing() {
		return math.NaN(), false
	}
	s := t.named(unit)
	if s == nil {
		return math.NaN(), false
	}
	return s.to(a.SI), true
}

// As gives a its type back. It panics when a is of another kind than Q, which
// the table of calculations rules out before anything is typed. A missing
// reading becomes one whose value is NaN.
func As[Q ~float64](a Any) Reading[Q] {
	if k := kindOf[Q](); k != a.Kind {
		panic(fmt.Sprintf("unit: a %s was taken for a %s", a.Kind, k))
	}
	return Reading[Q]{Value: Q(a.SI), Resolution: Q(a.Resolution), Text: a.Text}
}

// Of forgets the type of r, for the record and the screen.
func Of[Q ~float64](r Reading[Q]) Any {
	k := kindOf[Q]()
	if k == "" {
		panic(fmt.Sprintf("unit: %T is not a quantity", r.Value))
	}
	return Any{Kind: k, SI: float64(r.Value), Resolution: float64(r.Resolution), Text: r.Text}
}

func kindOf[Q ~float64]() Kind {
	switch any(Q(0)).(type) {
	case Length:
		return KindLength
	case Area:
		return KindArea
	case Volume:
		return KindVolume
	case Pressure:
		return KindPressure
	case Force:
		return KindForce
	case Mass:
		return KindMass
	case Temperature:
		return KindTemperature
	case TempChange:
		return KindTempChange
	case Angle:
		return KindAngle
	case Speed:
		return KindSpeed
	case Torque:
		return KindTorque
	case Acceleration:
		return KindAcceleration
	case Energy:
		return KindEnergy
	case Power:
		return KindPower
	case Frequency:
		return KindFrequency
	case Time:
		return KindTime
	case SpecificHeat:
		return KindSpecificHeat
	case Density:
		return KindDensity
	case Conductivity:
		return KindConductivity
	case HeatTransfer:
		return KindHeatTransfer
	case Ratio:
		return KindRatio
	case Count:
		return KindCount
	}
	return ""
}
