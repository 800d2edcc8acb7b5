package brakes

import (
	"slices"

	"chock/brakes/unit"
)

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

const padArticle = "trade article on uneven pad wear, year not kept (brand withheld)"

// LiningLeast is the thickness under which a lining is a reason not to drive,
// where the vehicle's own figure is not known.
var LiningLeast = Figure[unit.Length]{
	Value:  1.5 * unit.Millimetre,
	Mark:   Published,
	Source: "UK MOT inspection manual, section 1.1.13, current web text: under it a lining is dangerous",
	Scope:  "lining of a pad or shoe at its thinnest place, without the plate; a vehicle's own figure comes first, and a maker may ask for more",
}

// How far the linings of one wheel, or of one axle, may differ.
var (
	PadsApartGood = Figure[unit.Length]{
		Value:  2 * unit.Millimetre,
		Mark:   Estimate,
		Source: "our choice from the range in a " + padArticle,
		Scope:  "inner against outer pad of a wheel, and the thinner pad left against right; the article lets pass 2 to 3 mm",
	}
	PadsApartBad = Figure[unit.Length]{
		Value:  3 * unit.Millimetre,
		Mark:   Estimate,
		Source: "our choice from the range in a " + padArticle,
		Scope:  "inner against outer pad of a wheel, and the thinner pad left against right",
	}
)

// TaperMost is how much thicker one end of a lining may be than the other.
var TaperMost = Figure[unit.Length]{
	Value:  3 * unit.Millimetre,
	Mark:   Memory,
	Source: "trade texts on pad wear, not read again: about 3 mm or 1/8 in",
	Scope:  "thickest less thinnest place along one lining",
}

// WearFactor is how much faster, or slower, the next miles may wear a lining
// than the last ones did.
var WearFactor = Figure[unit.Ratio]{
	Value:  2,
	Mark:   Estimate,
	Source: "our judgement: hills, load, heat and traffic",
	Scope:  "miles that a lining has left, as a factor on its wear so far",
}

// What published rules let pass on a brake tester, left against right.
var (
	ImbalanceMajor = Figure[unit.Ratio]{
		Value:  30 * unit.Percent,
		Mark:   Published,
		Source: "UK MOT inspection manual, section 1.2.1, current web text: a wheel under 70 % of the other on its axle",
		Scope:  "brake forces of one axle at most effort, over the higher; 25 % until June 2013; Directive 2014/45/EU, Annex I, 1.2.1 has the same (from memory)",
	}
	ImbalanceDangerous = Figure[unit.Ratio]{
		Value:  50 * unit.Percent,
		Mark:   Published,
		Source: "UK MOT inspection manual, section 1.2.1, current web text: a wheel under 50 % of the other on an axle that steers",
		Scope:  "brake forces of an axle that steers, over the higher",
	}
	ImbalanceIgnored = Figure[unit.Force]{
		Value:  40 * unit.KilogramForce,
		Mark:   Published,
		Source: "UK MOT inspection manual, section 1.2.1, current web text",
		Scope:  "higher force of an axle, up to which its imbalance is not assessed",
	}
	ImbalanceInUse = Figure[unit.Ratio]{
		Value:  25 * unit.Percent,
		Mark:   Memory,
		Source: "49 CFR 570.5(d)(1), not read again: no more than 25 % from the other wheel of the axle",
		Scope:  "brake forces of one axle on a tester; the text leaves open over which wheel, so we count over the lower, which is stricter",
	}
)

// BoresApart is how far two bores of an axle may differ and still be one size:
// castings come in steps of 1/16 in, seldom of 1/32.
var BoresApart = Figure[unit.Length]{
	Value:  unit.Inch / 64,
	Mark:   Estimate,
	Source: "our choice: half of 1/32 in",
	Scope:  "left against right wheel-cylinder bore, as cast on the part",
}

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
	RuleScatter = Figure[unit.Length]{
		Value:  0.3 * unit.Millimetre,
		Mark:   Estimate,
		Source: "our choice: the end of a rule held against the plate, seen at a slant",
		Scope:  "standard deviation of one lining thickness with a rule, by hand",
	}
	CaliperScatter = Figure[unit.Length]{
		Value:  0.1 * unit.Millimetre,
		Mark:   Estimate,
		Source: "our choice: the rod of a caliper set on the plate beside a worn lining",
		Scope:  "standard deviation of one lining thickness with a caliper, by hand",
	}
	// A fraction is named by the coarsest mark that it falls on: who reads 1/8
	// in has looked as closely as who reads 3/16.
	RuleMark = Figure[unit.Length]{
		Value:  unit.Inch / 16,
		Mark:   Estimate,
		Source: "our choice: the marks of a common rule",
		Scope:  "step of a lining thickness that was typed as a fraction, unless the fraction is finer",
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
	list := []Listed{
		listed("VariationGood", VariationGood),
		listed("VariationBad", VariationBad),
		listed("RunoutGood", RunoutGood),
		listed("RunoutBad", RunoutBad),
		listed("DrumRoundGood", DrumRoundGood),
		listed("DrumRoundBad", DrumRoundBad),
		listed("LiningLeast", LiningLeast),
		listed("PadsApartGood", PadsApartGood),
		listed("PadsApartBad", PadsApartBad),
		listed("TaperMost", TaperMost),
		listed("WearFactor", WearFactor),
		listed("ImbalanceMajor", ImbalanceMajor),
		listed("ImbalanceDangerous", ImbalanceDangerous),
		listed("ImbalanceIgnored", ImbalanceIgnored),
		listed("ImbalanceInUse", ImbalanceInUse),
		listed("BoresApart", BoresApart),
		listed("MicrometerScatter", MicrometerScatter),
		listed("DialScatter", DialScatter),
		listed("DrumGaugeScatter", DrumGaugeScatter),
		listed("RuleScatter", RuleScatter),
		listed("RuleMark", RuleMark),
		listed("CaliperScatter", CaliperScatter),
		listed("ClosingShare", ClosingShare),
		listed("LoadedShare", LoadedShare),
		listed("SizeOff", SizeOff),
		listed("OldSizeOff", OldSizeOff),
		listed("RollOutOff", RollOutOff),
		listed("SpeedOff", SpeedOff),
		listed("CountOff", CountOff),
		listed("GrowthNear", GrowthNear),
		listed("GrowthFar", GrowthFar),
		listed("FeltVariation", FeltVariation),
		listed("WearRate", WearRate),
		listed("WearBand", WearBand),
		listed("HeatApartGood", HeatApartGood),
		listed("HeatApartBad", HeatApartBad),
		listed("HeatRatioBad", HeatRatioBad),
		listed("VeryHot", VeryHot),
		listed("ThermometerOff", ThermometerOff),
		listed("SpotOff", SpotOff),
		listed("GuardSafety", GuardSafety),
		listed("GuardComfort", GuardComfort),
		listed("GuardTwice", GuardTwice),
		listed("GuardOneSided", GuardOneSided),
		listed("StepThou", StepThou),
		listed("StepHalfThou", StepHalfThou),
		listed("StepTenthThou", StepTenthThou),
		listed("StepFiftieth", StepFiftieth),
		listed("StepHundredth", StepHundredth),
		listed("StepMicron", StepMicron),
		listed("RepeatsMost", RepeatsMost),
		listed("AtmosphereSea", AtmosphereSea),
		listed("AtmosphereTop", AtmosphereTop),
		listed("AtmosphereExponent", AtmosphereExponent),
		listed("BoosterVacuum", BoosterVacuum),
		listed("FootMost", FootMost),
		listed("FluidModulus", FluidModulus),
		listed("SteelModulus", SteelModulus),
		listed("SteelPoisson", SteelPoisson),
		listed("AirQuick", AirQuick),
		listed("HoseSmall1000", HoseSmall1000),
		listed("HoseSmall1500", HoseSmall1500),
		listed("HoseMid1000", HoseMid1000),
		listed("HoseMid1500", HoseMid1500),
		listed("HoseWide1000", HoseWide1000),
		listed("HoseWide1500", HoseWide1500),
		listed("StiffSmall1000", StiffSmall1000),
		listed("StiffSmall1500", StiffSmall1500),
		listed("StiffMid1000", StiffMid1000),
		listed("StiffMid1500", StiffMid1500),
		listed("StiffWide1000", StiffWide1000),
		listed("StiffWide1500", StiffWide1500),
		listed("PedalScatter", PedalScatter),
		listed("PedalMark", PedalMark),
		listed("PumpedGood", PumpedGood),
		listed("PumpedBad", PumpedBad),
		listed("UsedLight", UsedLight),
		listed("UsedHeavy", UsedHeavy),
		listed("UsedOhio", UsedOhio),
		listed("UsedOhioAssisted", UsedOhioAssisted),
		listed("UsedMaryland", UsedMaryland),
		listed("UsedMarylandFleet", UsedMarylandFleet),
		listed("UsedFloor", UsedFloor),
		listed("UsedList", UsedList),
		listed("FootLight", FootLight),
		listed("FootLightAssisted", FootLightAssisted),
		listed("FootHeavy", FootHeavy),
		listed("FootOhioLeast", FootOhioLeast),
		listed("FootOhioMost", FootOhioMost),
		listed("FootOhioAssistedLeast", FootOhioAssistedLeast),
		listed("FootOhioAssistedMost", FootOhioAssistedMost),
		listed("LightMost", LightMost),
		listed("HoldHard", HoldHard),
		listed("FootHold", FootHold),
		listed("HoldLong", HoldLong),
		listed("RoadFriction", RoadFriction),
		listed("FactorFriction", FactorFriction),
		listed("LiningFrictionApart", LiningFrictionApart),
		listed("UseFrom", UseFrom),
		listed("UseTo", UseTo),
		listed("UseBase", UseBase),
		listed("UseSlopeR13H", UseSlopeR13H),
		listed("UseSlopeR13", UseSlopeR13),
		listed("OrderFrom", OrderFrom),
		listed("OrderTo", OrderTo),
		listed("InversionFrom", InversionFrom),
		listed("InversionTo", InversionTo),
		listed("InversionSpare", InversionSpare),
		listed("BandFrom", BandFrom),
		listed("BandTo", BandTo),
		listed("BandSpare", BandSpare),
		listed("BandLineSlope", BandLineSlope),
		listed("BandLineAt", BandLineAt),
		listed("TorqueWheelSlope", TorqueWheelSlope),
		listed("ShoeReach", ShoeReach),
		listed("ShoeSpan", ShoeSpan),
		listed("FloatingTrusted", FloatingTrusted),
		listed("NearLocking", NearLocking),
		listed("FactorLeadingTrailing", FactorLeadingTrailing),
		listed("FactorTwinLeading", FactorTwinLeading),
		listed("FactorDuoServo", FactorDuoServo),
		listed("FrictionUsual", FrictionUsual),
		listed("FrictionSlick", FrictionSlick),
		listed("CodeC", CodeC),
		listed("CodeD", CodeD),
		listed("CodeE", CodeE),
		listed("CodeF", CodeF),
		listed("CodeG", CodeG),
		listed("DragAtStud", DragAtStud),
		listed("DragAtOnce", DragAtOnce),
		listed("DragTurned", DragTurned),
		listed("ParkRolling", ParkRolling),
		listed("CorrectionMost", CorrectionMost),
		listed("RunSpeedLeast", RunSpeedLeast),
		listed("SpeedDoubt", SpeedDoubt),
		listed("StopMark", StopMark),
		listed("TyreGrip", TyreGrip),
		listed("TestSlope", TestSlope),
		listed("TestSpeedMost", TestSpeedMost),
		listed("CodeWet", CodeWet),
		listed("DriverReaction", DriverReaction),
		listed("SightReaction", SightReaction),
		listed("SightDecel", SightDecel),
		listed("CodeReaction", CodeReaction),
		listed("CodeDecel", CodeDecel),
		listed("ShortLag", ShortLag),
		listed("LongLag", LongLag),
		listed("HotLeast", HotLeast),
		listed("RecoveryLeast", RecoveryLeast),
		listed("RecoveryMost", RecoveryMost),
		listed("HotOfPrescribed", HotOfPrescribed),
		listed("IronHeat", IronHeat),
		listed("HotIronHeat", HotIronHeat),
		listed("IronDensity", IronDensity),
		listed("IronConductivity", IronConductivity),
		listed("IntoIronLeast", IntoIronLeast),
		listed("FrontShare", FrontShare),
		listed("CoolingTime", CoolingTime),
		listed("CoolingFactor", CoolingFactor),
		listed("RollingShare", RollingShare),
		listed("DragArea", DragArea),
		listed("AirDensity", AirDensity),
		listed("EnginePressure", EnginePressure),
		listed("EngineLeast", EngineLeast),
		listed("VentPerTurn", VentPerTurn),
		listed("FadeBegins", FadeBegins),
		listed("FluidMargin", FluidMargin),
		listed("FluidNearWet", FluidNearWet),
		listed("WetWater", WetWater),
	}
	return slices.Concat(list, tabled(), policyFigures())
}

func listed[Q ~float64](name string, f Figure[Q]) Listed {
	return Listed{name, unit.Of(unit.Reading[Q]{Value: f.Value}), f.Mark, f.Source, f.Scope}
}
