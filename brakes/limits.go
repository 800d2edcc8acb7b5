package brakes

import "chock/brakes/unit"

const serviceInformation = "makers' service information, 1980s to 2010, cars to full-size trucks (brands withheld)"

// Limits for what can be felt, where a vehicle's own are not known. Makers
// differ, so each is a range: good up to the first figure, bad beyond the
// second. There is none for a discard dimension, and there must be none.
var (
	VariationGood = Figure[unit.Length]{
		Value:  0.5 * unit.Thou,
		Mark:   Estimate,
		Source: "our choice from the range in " + serviceInformation,
		Scope:  "thickness variation of a front rotor; published limits run from 0.005 to 0.03 mm (0.0002 to 0.0012 in), most often 0.013 mm (0.0005 in)",
	}
	VariationBad = Figure[unit.Length]{
		Value:  1 * unit.Thou,
		Mark:   Estimate,
		Source: "our choice from the range in " + serviceInformation,
		Scope:  "thickness variation of a front rotor; beyond it all but the loosest published limits (0.03 mm) are broken",
	}
	RunoutGood = Figure[unit.Length]{
		Value:  3 * unit.Thou,
		Mark:   Estimate,
		Source: "our choice from the range in " + serviceInformation,
		Scope:  "runout of a rotor on its hub, older light truck; published limits run from 0.03 to 0.15 mm (0.001 to 0.006 in)",
	}
	RunoutBad = Figure[unit.Length]{
		Value:  5 * unit.Thou,
		Mark:   Estimate,
		Source: "our choice from the range in " + serviceInformation,
		Scope:  "runout of a rotor on its hub, older light truck with a separate rotor; cars are held tighter",
	}
	DrumRoundGood = Figure[unit.Length]{
		Value:  2 * unit.Thou,
		Mark:   Estimate,
		Source: "our choice from the range in " + serviceInformation,
		Scope:  "largest less least diameter of a drum; published limits run from 0.05 to 0.15 mm (0.002 to 0.006 in)",
	}
	DrumRoundBad = Figure[unit.Length]{
		Value:  6 * unit.Thou,
		Mark:   Estimate,
		Source: "our choice from the range in " + serviceInformation,
		Scope:  "largest less least diameter of a drum",
	}
)

// How well a hand with a gauge reads the same place again. Half a step of the
// gauge is taken where that is more.
var (
	MicrometerScatter = Figure[unit.Length]{
		Value:  0.1 * unit.Thou,
		Mark:   Estimate,
		Source: "our choice: the feel of a micrometer's ratchet",
		Scope:  "standard deviation of one reading with a micrometer, by hand",
	}
	DialScatter = Figure[unit.Length]{
		Value:  0.2 * unit.Thou,
		Mark:   Estimate,
		Source: "our choice: a magnetic stand, a wheel turned by hand",
		Scope:  "standard deviation of one reading with a dial indicator on a stand",
	}
	DrumGaugeScatter = Figure[unit.Length]{
		Value:  0.5 * unit.Thou,
		Mark:   Estimate,
		Source: "our choice: rocking the gauge to find the largest diameter",
		Scope:  "standard deviation of one diameter with a drum gauge, by hand",
	}
)

// ClosingShare is the part of a runout by which a dial may fail to come back
// to its first reading.
var ClosingShare = Figure[unit.Ratio]{
	Value:  0.2,
	Mark:   Estimate,
	Source: "our choice",
	Scope:  "first position read again after the turn, as a share of the runout; two steps of the dial where that is more",
}

// A Listed is a figure with its name, its quantity known only at run time.
type Listed struct {
	Name   string
	Value  unit.Any
	Mark   Mark
	Source string
	Scope  string
}

// Figures lists every figure of this package. A test holds it complete.
func Figures() []Listed {
	return []Listed{
		listed("VariationGood", VariationGood),
		listed("VariationBad", VariationBad),
		listed("RunoutGood", RunoutGood),
		listed("RunoutBad", RunoutBad),
		listed("DrumRoundGood", DrumRoundGood),
		listed("DrumRoundBad", DrumRoundBad),
		listed("MicrometerScatter", MicrometerScatter),
		listed("DialScatter", DialScatter),
		listed("DrumGaugeScatter", DrumGaugeScatter),
		listed("ClosingShare", ClosingShare),
	}
}

func listed[Q ~float64](name string, f Figure[Q]) Listed {
	return Listed{name, unit.Of(unit.Reading[Q]{Value: f.Value}), f.Mark, f.Source, f.Scope}
}
