package brakes

import (
	"fmt"
	"math"
	"slices"
	"sync"

	"chock/brakes/unit"
)

// What rules in use ask of linings.
var (
	LightLining = Figure[unit.Length]{
		Value:  unit.Inch / 32,
		Mark:   Memory,
		Source: "49 CFR 570.5(g), 1973 and later, not read again: 1/32 in over the shoe",
		Scope:  "glued-on linings and pads, vehicles to 10,000 lb in use",
	}
	LightRivets = Figure[unit.Length]{
		Value:  unit.Inch / 32,
		Mark:   Memory,
		Source: "49 CFR 570.5(g), 1973 and later, not read again: 1/32 in over the rivet heads",
		Scope:  "riveted linings, vehicles to 10,000 lb in use",
	}
	HeavyLining = Figure[unit.Length]{
		Value:  unit.Inch / 16,
		Mark:   Published,
		Source: "49 CFR 570.59(c), 39 FR 26027, 1974: 1/16 in over the shoe",
		Scope:  "glued-on linings and pads, vehicles over 10,000 lb in use",
	}
	HeavyRivets = Figure[unit.Length]{
		Value:  unit.Inch / 32,
		Mark:   Published,
		Source: "49 CFR 570.59(c), 39 FR 26027, 1974: 1/32 in over the fastener",
		Scope:  "riveted linings, vehicles over 10,000 lb in use",
	}
	CarrierLining = Figure[unit.Length]{
		Value:  1.6 * unit.Millimetre,
		Mark:   Published,
		Source: "49 CFR 393.47(d), current text: not less than 1.6 mm",
		Scope:  "linings and pads of hydraulic brakes, commercial vehicles in use; the text has 1/16 in beside it, which is 0.0125 mm less",
	}
	PeriodicLining = Figure[unit.Length]{
		Value:  unit.Inch / 16,
		Mark:   Memory,
		Source: "49 CFR 396, appendix A, current text, not read again: fails with 1/16 in or less",
		Scope:  "linings and pads of hydraulic brakes, yearly inspection of commercial vehicles",
	}
)

// What they ask of a pedal that is held, and of the fluid.
var (
	LightHold = Figure[unit.Time]{
		Value:  10 * unit.Second,
		Mark:   Memory,
		Source: "49 CFR 570.5(b), 1973 and later, not read again: no fall in ten seconds",
		Scope:  "pedal held, vehicles to 10,000 lb in use",
	}
	LightHoldFoot = Figure[unit.Force]{
		Value:  125 * unit.PoundForce,
		Mark:   Memory,
		Source: "49 CFR 570.5(b), 1973 and later, not read again: 125 pounds",
		Scope:  "foot force of that hold",
	}
	MissouriHold = Figure[unit.Time]{
		Value:  unit.Minute,
		Mark:   Published,
		Source: "Missouri 11 CSR 50-2.160, text of December 2024: one minute",
		Scope:  "pedal held with a moderate foot",
	}
	MissouriUsed = Figure[unit.Ratio]{
		Value:  80 * unit.Percent,
		Mark:   Published,
		Source: "Missouri 11 CSR 50-2.160, text of December 2024: reject where less than a fifth is left",
		Scope:  "pedal travel under a moderate foot; a school bus needs two fifths left",
	}
	PeriodicStrokes = Figure[unit.Count]{
		Value:  1,
		Mark:   Memory,
		Source: "49 CFR 396, appendix A, current text, not read again: fails with no reserve except by pumping",
		Scope:  "strokes of the pedal, engine running, until it has reserve",
	}
	PeriodicReservoir = Figure[unit.Ratio]{
		Value:  25 * unit.Percent,
		Mark:   Memory,
		Source: "49 CFR 396, appendix A, current text, not read again: fails when less than a quarter full",
		Scope:  "master cylinder of hydraulic brakes",
	}
	OntarioReservoir = Figure[unit.Ratio]{
		Value:  25 * unit.Percent,
		Mark:   Published,
		Source: "Ontario truck handbook, section 6-1-17, daily inspection, current web text: under a quarter is a major defect",
		Scope:  "brake fluid reservoir; under its minimum mark is a minor defect",
	}
	WashingtonReservoir = Figure[unit.Ratio]{
		Value:  50 * unit.Percent,
		Mark:   Published,
		Source: "Washington WAC 204-76-070, WSR 14-03-018, 2014: in excess of half of its capacity",
		Scope:  "fluid of the master cylinder",
	}
	MarylandFluid = Figure[unit.Length]{
		Value:  unit.Inch / 2,
		Mark:   Published,
		Source: "Maryland COMAR 11.22.03.05, text of September 2024: not below 1/2 in of the top",
		Scope:  "fluid of the master cylinder, buses and multipurpose passenger vehicles",
	}
	CarrierVacuum = Figure[unit.Ratio]{
		Value:  70 * unit.Percent,
		Mark:   Published,
		Source: "49 CFR 393.50(a), current text: one full stroke with the engine stopped leaves 70 %",
		Scope:  "vacuum gauge after over before, commercial vehicles in use",
	}
)

// What they ask of brake forces, beyond [ImbalanceRules], [ForceRules] and
// [ParkRules].
var (
	HeavyImbalance = Figure[unit.Ratio]{
		Value:  25 * unit.Percent,
		Mark:   Memory,
		Source: "49 CFR 570.59(a), 39 FR 26027, 1974, its figure not read again: no more than 25 % from the other wheel",
		Scope:  "brake forces of one axle on a tester, vehicles over 10,000 lb; counted over the lower, which is stricter",
	}
	EuropeImbalanceMajor = Figure[unit.Ratio]{
		Value:  30 * unit.Percent,
		Mark:   Memory,
		Source: "Directive 2014/45/EU, Annex I, 1.2.1, not read again: a wheel under 70 % of the other on its axle",
		Scope:  "brake forces of one axle, over the higher",
	}
	EuropeImbalanceDangerous = Figure[unit.Ratio]{
		Value:  50 * unit.Percent,
		Mark:   Memory,
		Source: "Directive 2014/45/EU, Annex I, 1.2.1, not read again: a wheel under 50 % of the other on an axle that steers",
		Scope:  "brake forces of an axle that steers, over the higher",
	}
	MotForceNew = Figure[unit.Ratio]{
		Value:  58 * unit.Percent,
		Mark:   Published,
		Source: "UK MOT inspection manual, section 1.2.2, current web text",
		Scope:  "brake force over the weight as tested, M1 (cars) first used from 1 September 2010; met by itself where more than half of the wheels lock",
	}
	MotForce = Figure[unit.Ratio]{
		Value:  50 * unit.Percent,
		Mark:   Published,
		Source: "UK MOT inspection manual, section 1.2.2, current web text",
		Scope:  "brake force over the weight as tested, older M1 (cars), and N1 (goods, to 3,500 kg); met by itself where more than half of the wheels lock",
	}
	MotSecondary = Figure[unit.Ratio]{
		Value:  25 * unit.Percent,
		Mark:   Published,
		Source: "UK MOT inspection manual, section 1.3.2, current web text",
		Scope:  "second brake over the weight, where the foot brake has one circuit only",
	}
	HalfForce = Figure[unit.Ratio]{
		Value:  50 * unit.Percent,
		Mark:   Published,
		Source: "UK MOT inspection manual, sections 1.2.2, 1.3.2 and 1.4.2, current web text: less than half of what is asked is dangerous",
		Scope:  "brake force over the one that is asked; Directive 2014/45/EU has the same (from memory)",
	}
	EuropeForceNewCar = Figure[unit.Ratio]{
		Value:  58 * unit.Percent,
		Mark:   Memory,
		Source: "Directive 2014/45/EU, Annex I, 1.2.2, not read again",
		Scope:  "brake force over the weight, M1 (cars) first registered after 1 January 2012",
	}
	EuropeForce = Figure[unit.Ratio]{
		Value:  50 * unit.Percent,
		Mark:   Memory,
		Source: "Directive 2014/45/EU, Annex I, 1.2.2, not read again",
		Scope:  "brake force over the weight: all others first registered after 1 January 2012, and older M1 to M3 (for people)",
	}
	EuropeForceOldVan = Figure[unit.Ratio]{
		Value:  45 * unit.Percent,
		Mark:   Memory,
		Source: "Directive 2014/45/EU, Annex I, 1.2.2, not read again",
		Scope:  "brake force over the weight, N1 (goods, to 3,500 kg) first registered before 1 January 2012",
	}
	EuropeForceOldTruck = Figure[unit.Ratio]{
		Value:  43 * unit.Percent,
		Mark:   Memory,
		Source: "Directive 2014/45/EU, Annex I, 1.2.2, not read again",
		Scope:  "brake force over the weight, N2 and N3 (goods, over 3,500 kg) first registered before 1 January 2012; 45 % if after 1988",
	}
	VanMost = Figure[unit.Mass]{
		Value:  3500 * unit.Kilogram,
		Mark:   Memory,
		Source: "Regulation (EU) 2018/858, article 4, not read again: category N1",
		Scope:  "greatest weight of a van, N1",
	}
)

// What they ask of wheels.
var (
	LightRim = Figure[unit.Length]{
		Value:  unit.Inch / 8,
		Mark:   Published,
		Source: "49 CFR 570.10(b), 38 FR 23950, 1973: 1/8 in of total runout",
		Scope:  "rim at each bead, sideways and up and down, vehicles to 10,000 lb in use",
	}
	LightTread = Figure[unit.Length]{
		Value:  unit.Inch / 16,
		Mark:   Memory,
		Source: "49 CFR 570.9, 1973 and later, not read again: 2/32 in",
		Scope:  "main grooves of a tyre, vehicles to 10,000 lb in use",
	}
	CarrierTreadFront = Figure[unit.Length]{
		Value:  unit.Inch / 8,
		Mark:   Published,
		Source: "49 CFR 393.75(b), as texts quote it: 4/32 in",
		Scope:  "main grooves of a front tyre of a commercial bus or truck",
	}
	CarrierTread = Figure[unit.Length]{
		Value:  unit.Inch / 16,
		Mark:   Published,
		Source: "49 CFR 393.75(c), as texts quote it: 2/32 in",
		Scope:  "main grooves of the other tyres of a commercial vehicle",
	}
	MotTread = Figure[unit.Length]{
		Value:  1.6 * unit.Millimetre,
		Mark:   Published,
		Source: "UK MOT inspection manual, section 5.2.3, as reprints have it: 1.6 mm",
		Scope:  "grooves over the middle three quarters of a tyre's tread, all round",
	}
	PlayLeast = Figure[unit.Length]{
		Value:  unit.Thou,
		Mark:   Published,
		Source: "TMC RP 618, wheel ends of heavy vehicles, as summaries have it: 0.001 to 0.005 in",
		Scope:  "end play of an adjusted taper roller hub by a dial; light trucks are set alike (from memory)",
	}
	PlayMost = Figure[unit.Length]{
		Value:  5 * unit.Thou,
		Mark:   Published,
		Source: "TMC RP 618, wheel ends of heavy vehicles, as summaries have it: 0.001 to 0.005 in",
		Scope:  "end play of an adjusted taper roller hub by a dial; light trucks are set alike (from memory)",
	}
)

// policyFigures lists the figures of this file.
func policyFigures() []Listed {
	return []Listed{
		listed("LightLining", LightLining),
		listed("LightRivets", LightRivets),
		listed("HeavyLining", HeavyLining),
		listed("HeavyRivets", HeavyRivets),
		listed("CarrierLining", CarrierLining),
		listed("PeriodicLining", PeriodicLining),
		listed("LightHold", LightHold),
		listed("LightHoldFoot", LightHoldFoot),
		listed("MissouriHold", MissouriHold),
		listed("MissouriUsed", MissouriUsed),
		listed("PeriodicStrokes", PeriodicStrokes),
		listed("PeriodicReservoir", PeriodicReservoir),
		listed("OntarioReservoir", OntarioReservoir),
		listed("WashingtonReservoir", WashingtonReservoir),
		listed("MarylandFluid", MarylandFluid),
		listed("CarrierVacuum", CarrierVacuum),
		listed("HeavyImbalance", HeavyImbalance),
		listed("EuropeImbalanceMajor", EuropeImbalanceMajor),
		listed("EuropeImbalanceDangerous", EuropeImbalanceDangerous),
		listed("MotForceNew", MotForceNew),
		listed("MotForce", MotForce),
		listed("MotSecondary", MotSecondary),
		listed("HalfForce", HalfForce),
		listed("EuropeForceNewCar", EuropeForceNewCar),
		listed("EuropeForce", EuropeForce),
		listed("EuropeForceOldVan", EuropeForceOldVan),
		listed("EuropeForceOldTruck", EuropeForceOldTruck),
		listed("VanMost", VanMost),
		listed("LightRim", LightRim),
		listed("LightTread", LightTread),
		listed("CarrierTreadFront", CarrierTreadFront),
		listed("CarrierTread", CarrierTread),
		listed("MotTread", MotTread),
		listed("PlayLeast", PlayLeast),
		listed("PlayMost", PlayMost),
	}
}

// Days on which a rule changes.
const (
	motNewCars Date = 20100901
	euNew      Date = 20120101
)

// byID finds one of the rules that other files hold; the ids here are ours.
func byID[R any](rules []R, id func(R) string, want string) R {
	i := slices.IndexFunc(rules, func(r R) bool { return id(r) == want })
	if i < 0 {
		panic("brakes: no rule " + want)
	}
	return rules[i]
}

// Facts and conditions that several rules share.
var (
	aCar, aBus, goods = ForFact{"carries", []string{"people"}}, ForFact{"carries", []string{"bus"}}, ForFact{"carries", []string{"goods"}}
	steers            = ForFact{"axle", []string{"front"}}
	notSteered        = ForFact{"axle", []string{"rear"}}
	footAlone         = ForFact{"booster", []string{"none"}}
	helped            = ForFact{"booster", []string{"vacuum", "hydraulic"}}
	noTrailer         = ForFact{"trailer", []string{"no"}}
	withTrailer       = ForFact{"trailer", []string{"yes"}}
	adjusted          = ForFact{"hub", []string{"adjustable"}}
	notLocked         = ForFact{"locked", []string{"no"}}
	commercial        = ForFact{"use", []string{"commercial"}}
)

func lightOnly() Condition {
	return Condition{Of: OfGross, Must: NoMore, Limit: listed("LightMost", LightMost)}
}
func heavyOnly() Condition {
	return Condition{Of: OfGross, Must: More, Limit: listed("LightMost", LightMost)}
}
func vanOnly() Condition {
	return Condition{Of: OfGross, Must: NoMore, Limit: listed("VanMost", VanMost)}
}
func truckOnly() Condition {
	return Condition{Of: OfGross, Must: More, Limit: listed("VanMost", VanMost)}
}

// footOf makes the conditions of a foot that presses from one force to
// another; a figure without a source is none.
func footOf(of Measurand, leastName string, least Figure[unit.Force], mostName string, most Figure[unit.Force]) []Condition {
	var out []Condition
	if least.Known() {
		out = append(out, Condition{Of: of, Must: NoLess, Limit: listed(leastName, least), Still: unit.Outside})
	}
	if most.Known() {
		out = append(out, Condition{Of: of, Must: NoMore, Limit: listed(mostName, most), Still: unit.Within})
	}
	return out
}

// fromPedalRule takes over a rule for the reserve of a pedal; for which weights
// it is, is a matter of its whole policy.
func fromPedalRule(id, called string) Rule {
	p := byID(PedalRules(), func(p PedalRule) string { return p.ID }, id)
	r := Rule{ID: "pedal", Of: OfPedal, Must: NoMore, Limit: listed("", p.Most), Called: called}
	if p.Itself {
		r.Must = Less
	}
	switch p.Helped {
	case Unassisted:
		r.ID, r.Only = "pedal-foot-alone", []ForFact{footAlone}
	case Assisted:
		r.ID, r.Only = "pedal-boosted", []ForFact{helped}
	}
	r.When = footOf(OfPedalFoot, "", p.FootLeast, "", p.FootMost)
	return r
}

// fromImbalanceRule takes over a rule for left against right.
func fromImbalanceRule(id, rule, called string) Rule {
	i := byID(ImbalanceRules(), func(i ImbalanceRule) string { return i.ID }, id)
	r := Rule{ID: rule, Of: OfImbalance, Must: NoMore, Limit: listed("", i.Most), Called: called}
	if i.Base == OverLower {
		r.Of = OfImbalanceLower
	}
	if i.Steered {
		r.Only = append(r.Only, steers)
	}
	if i.LockedExcused {
		r.Only = append(r.Only, notLocked)
	}
	if i.Ignored.Known() {
		r.When = append(r.When, Condition{Of: OfHigherForce, Must: More, Limit: listed("", i.Ignored)})
	}
	return r
}

// fromStopRule takes over a rule for the way to stand from 20 mph.
func fromStopRule(id, rule string) Rule {
	s := byID(StopRules(), func(s StopRule) string { return s.ID }, id)
	return Rule{ID: rule, Of: OfStop, Must: NoMore, Limit: listed("", s.Most), Called: "fail"}
}

// fromParkRule takes over a rule for the force of a parking brake.
func fromParkRule(id, rule, called string) Rule {
	p := byID(ParkRules(), func(p ParkRule) string { return p.ID }, id)
	return Rule{ID: rule, Of: OfParking, Must: NoLess, Limit: listed("", p.Share), Called: called}
}

// fromForceRule takes over one row of the table of 49 CFR 393.52(d): its criteria
// stand each on its own.
func fromForceRule(row string, only []ForFact, when ...Condition) []Rule {
	f := byID(ForceRules(), func(f ForceRule) string { return f.ID }, "us-393-"+row)
	rules := []Rule{
		{ID: row + "-force", Of: OfBrakeForce, Must: NoLess, Limit: listed("", f.Force)},
		{ID: row + "-decel", Of: OfDecel, Must: NoLess, Limit: listed("", f.Decel)},
		{ID: row + "-stop", Of: OfStop, Must: NoMore, Limit: listed("", f.Stop)},
		{ID: row + "-emergency", Of: OfEmergency, Must: NoMore, Limit: listed("", f.Emergency)},
	}
	for i := range rules {
		rules[i].Called, rules[i].Only, rules[i].When = "violation", only, when
	}
	return rules
}

// half is what a rule calls dangerous: less than half of what it asks.
func half(r Rule) Rule {
	r.ID += "-half"
	r.Called = "dangerous"
	r.Limit.Name = ""
	r.Limit.Value.SI *= float64(HalfForce.Value)
	r.Limit.Scope += "; less than half of what is asked"
	return r
}

// byTheMark are the rules that go by what is cast on a rotor or drum.
func byTheMark(source string, mark Mark) []Rule {
	scope := "the figure cast on it, else its maker's; never one for all"
	return []Rule{
		{ID: "rotor", Of: OfRotor, Must: NoLess, Own: true, Limit: Listed{Mark: mark, Source: source, Scope: scope}, Called: "fail"},
		{ID: "drum", Of: OfDrum, Must: NoMore, Own: true, Limit: Listed{Mark: mark, Source: source, Scope: scope}, Called: "fail"},
	}
}

// Policies lists the published rules in use by name. Ours for a long trip is
// made from them: see [HouseTrip].
//
// They are put together once; what they hold is not to be changed.
func Policies() []Policy { return slices.Clone(allPolicies()) }

var allPolicies = sync.OnceValue(policies)

func policies() []Policy {
	light := func(r Rule) Rule { r.When = append(slices.Clip(r.When), lightOnly()); return r }
	heavy := func(r Rule) Rule { r.When = append(slices.Clip(r.When), heavyOnly()); return r }
	only := func(r Rule, facts ...ForFact) Rule { r.Only = append(slices.Clip(r.Only), facts...); return r }
	trade := func(r Rule) Rule { return only(r, commercial) }
	each := func(f func(Rule) Rule, rules ...Rule) []Rule {
		for i := range rules {
			rules[i] = f(rules[i])
		}
		return rules
	}
	moderate := func(id string, f Figure[unit.Time], name, called string) Rule {
		return Rule{ID: id, Of: OfHold, Must: NoLess, Limit: listed(name, f), Called: called}
	}
	motForce := Rule{ID: "force-new-car", Of: OfBrakeForce, Must: NoLess, Limit: listed("MotForceNew", MotForceNew), Called: "major", Only: []ForFact{aCar}, From: motNewCars}
	motOld := Rule{ID: "force-old-car", Of: OfBrakeForce, Must: NoLess, Limit: listed("MotForce", MotForce), Called: "major", Only: []ForFact{aCar}, Before: motNewCars}
	motVan := Rule{ID: "force-van", Of: OfBrakeForce, Must: NoLess, Limit: listed("MotForce", MotForce), Called: "major", Only: []ForFact{goods}, When: []Condition{vanOnly()}}
	motSecond := Rule{ID: "secondary", Of: OfSecondary, Must: NoLess, Limit: listed("MotSecondary", MotSecondary), Called: "major"}
	eu := func(id string, name string, f Figure[unit.Ratio]) Rule {
		return Rule{ID: id, Of: OfBrakeForce, Must: NoLess, Limit: listed(name, f), Called: "major"}
	}
	since := func(r Rule) Rule { r.From = euNew; return r }
	until := func(r Rule) Rule { r.Before = euNew; return r }
	euRules := []Rule{
		since(only(eu("force-new-car", "EuropeForceNewCar", EuropeForceNewCar), aCar)),
		until(only(eu("force-old-car", "EuropeForce", EuropeForce), aCar)),
		only(eu("force-bus", "EuropeForce", EuropeForce), aBus),
		since(only(eu("force-new-goods", "EuropeForce", EuropeForce), goods)),
	}
	van := until(only(eu("force-old-van", "EuropeForceOldVan", EuropeForceOldVan), goods))
	van.When = []Condition{vanOnly()}
	truck := until(only(eu("force-old-truck", "EuropeForceOldTruck", EuropeForceOldTruck), goods))
	truck.When = []Condition{truckOnly()}
	euRules = append(euRules, van, truck)
	for _, r := range slices.Clone(euRules) {
		euRules = append(euRules, half(r))
	}
	var none Figure[unit.Force]
	lightHold := Rule{ID: "hold", Of: OfHold, Must: NoLess, Limit: listed("LightHold", LightHold), Called: "fail",
		When: footOf(OfHoldFoot, "LightHoldFoot", LightHoldFoot, "", none)}
	heavyHold := Rule{ID: "hold", Of: OfHold, Must: NoLess, Limit: listed("HoldHard", HoldHard), Called: "fail",
		When: footOf(OfHoldFoot, "FootHold", FootHold, "", none)}
	ohioHold := moderate("hold", HoldLong, "HoldLong", "reject")
	ohioHold.When = footOf(OfHoldFoot, "FootOhioLeast", FootOhioLeast, "FootOhioMost", FootOhioMost)

	return []Policy{
		{Name: "us-570-light", Say: "US standard for vehicles in use, up to 10,000 lb (4,536 kg)", Jurisdiction: "United States, where a state took it over", Edition: "49 CFR 570, subpart A, 1973 and later",
			Rules: each(light, slices.Concat([]Rule{
				{ID: "lining", Of: OfLining, Must: NoLess, Limit: listed("LightLining", LightLining), Called: "fail"},
				{ID: "rivets", Of: OfRivets, Must: NoLess, Limit: listed("LightRivets", LightRivets), Called: "fail"},
			}, byTheMark("49 CFR 570.5(f), 1973 and later, not read again", Memory), []Rule{
				fromImbalanceRule("us-in-use", "imbalance", "fail"),
				lightHold,
				fromStopRule("us-570-light", "stop"),
				{ID: "rim", Of: OfRim, Must: NoMore, Limit: listed("LightRim", LightRim), Called: "fail"},
				{ID: "tread", Of: OfTread, Must: NoLess, Limit: listed("LightTread", LightTread), Called: "fail"},
				fromPedalRule("us-light", "fail"), fromPedalRule("us-light-assisted", "fail"),
			})...)},
		{Name: "us-570-heavy", Say: "US standard for vehicles in use, over 10,000 lb (4,536 kg)", Jurisdiction: "United States, where a state took it over", Edition: "49 CFR 570, subpart B, 1974",
			Rules: each(heavy, slices.Concat([]Rule{
				{ID: "lining", Of: OfLining, Must: NoLess, Limit: listed("HeavyLining", HeavyLining), Called: "fail"},
				{ID: "rivets", Of: OfRivets, Must: NoLess, Limit: listed("HeavyRivets", HeavyRivets), Called: "fail"},
			}, byTheMark("49 CFR 570.59(b), 39 FR 26027, 1974", Published), []Rule{
				{ID: "imbalance", Of: OfImbalanceLower, Must: NoMore, Limit: listed("HeavyImbalance", HeavyImbalance), Called: "fail"},
				heavyHold,
				only(fromStopRule("us-570-heavy", "stop"), noTrailer),
				only(fromStopRule("us-570-train", "stop-train"), withTrailer),
				fromPedalRule("us-heavy", "fail"),
			})...)},
		{Name: "us-393", Say: "US rules for commercial vehicles on the road", Jurisdiction: "United States, interstate commerce", Edition: "49 CFR 393, current text; its table of brake performance as of 2002",
			Rules: each(trade, slices.Concat([]Rule{
				{ID: "lining", Of: OfLining, Must: NoLess, Limit: listed("CarrierLining", CarrierLining), Called: "violation"},
			}, each(func(r Rule) Rule { r.Called = "violation"; return r }, byTheMark("49 CFR 393.47(g), current text, not read again", Memory)...), []Rule{
				{ID: "vacuum", Of: OfVacuum, Must: NoLess, Limit: listed("CarrierVacuum", CarrierVacuum), Called: "violation"},
				{ID: "tread-front", Of: OfTread, Must: NoLess, Limit: listed("CarrierTreadFront", CarrierTreadFront), Called: "violation", Only: []ForFact{steers}},
				{ID: "tread", Of: OfTread, Must: NoLess, Limit: listed("CarrierTread", CarrierTread), Called: "violation", Only: []ForFact{notSteered}},
			},
				fromForceRule("car", []ForFact{aCar}),
				fromForceRule("light-bus", []ForFact{aBus}, lightOnly()),
				fromForceRule("bus", []ForFact{aBus}, heavyOnly()),
				fromForceRule("light-truck", []ForFact{goods, noTrailer}, lightOnly()),
				fromForceRule("truck", []ForFact{goods, noTrailer}, heavyOnly()),
				fromForceRule("train", []ForFact{withTrailer}))...)},
		{Name: "us-396-periodic", Say: "US yearly inspection of commercial vehicles", Jurisdiction: "United States, interstate commerce", Edition: "49 CFR 396, appendix A, current text",
			Rules: each(trade, []Rule{
				{ID: "lining", Of: OfLining, Must: More, Limit: listed("PeriodicLining", PeriodicLining), Called: "fail"},
				{ID: "reservoir", Of: OfReservoir, Must: NoLess, Limit: listed("PeriodicReservoir", PeriodicReservoir), Called: "fail"},
				{ID: "pumping", Of: OfStrokes, Must: NoMore, Limit: listed("PeriodicStrokes", PeriodicStrokes), Called: "fail"},
			}...)},
		{Name: "ohio", Say: "Ohio brake inspection", Jurisdiction: "Ohio", Edition: "Administrative Code 4501:2-1-08, current text",
			Rules: []Rule{fromPedalRule("ohio", "reject"), fromPedalRule("ohio-assisted", "reject"), ohioHold,
				only(fromStopRule("ohio-all", "stop"), ForFact{"braked", []string{"all"}}), only(fromStopRule("ohio-other", "stop-some"), ForFact{"braked", []string{"some"}})}},
		{Name: "maryland", Say: "Maryland inspection of used vehicles", Jurisdiction: "Maryland", Edition: "COMAR 11.14.09.05, current text",
			Rules: []Rule{fromPedalRule("maryland", "reject"), moderate("hold", HoldLong, "HoldLong", "reject")}},
		{Name: "maryland-fleet", Say: "Maryland upkeep of buses and multipurpose vehicles", Jurisdiction: "Maryland", Edition: "COMAR 11.22.03.05, text of September 2024",
			Rules: each(trade, fromPedalRule("maryland-fleet", "reject"), moderate("hold", HoldLong, "HoldLong", "reject"),
				Rule{ID: "fluid", Of: OfFluid, Must: NoMore, Limit: listed("MarylandFluid", MarylandFluid), Called: "reject"})},
		{Name: "missouri", Say: "Missouri inspection", Jurisdiction: "Missouri", Edition: "11 CSR 50-2.160, text of December 2024",
			Rules: []Rule{{ID: "pedal", Of: OfPedal, Must: NoMore, Limit: listed("MissouriUsed", MissouriUsed), Called: "reject"},
				moderate("hold", MissouriHold, "MissouriHold", "reject")}},
		{Name: "washington", Say: "Washington performance of brakes", Jurisdiction: "Washington", Edition: "WAC 204-76-070, 2014",
			Rules: []Rule{{ID: "reservoir", Of: OfReservoir, Must: More, Limit: listed("WashingtonReservoir", WashingtonReservoir), Called: "defect"}}},
		{Name: "ontario", Say: "Ontario daily inspection of trucks", Jurisdiction: "Ontario", Edition: "truck handbook, section 6-1-17, current web text",
			Rules: each(trade, Rule{ID: "reservoir", Of: OfReservoir, Must: NoLess, Limit: listed("OntarioReservoir", OntarioReservoir), Called: "major"})},
		{Name: "uk-mot", Say: "UK MOT test of cars and light goods vehicles", Jurisdiction: "United Kingdom", Edition: "inspection manual, current web text",
			Rules: []Rule{
				{ID: "lining", Of: OfLining, Must: NoLess, Limit: listed("LiningLeast", LiningLeast), Called: "dangerous"},
				fromPedalRule("uk", "major"),
				fromImbalanceRule("uk-major", "imbalance-major", "major"), fromImbalanceRule("uk-dangerous", "imbalance-dangerous", "dangerous"),
				motForce, half(motForce), motOld, half(motOld), motVan, half(motVan), motSecond, half(motSecond),
				fromParkRule("uk-mot", "parking", "major"), fromParkRule("uk-mot-dangerous", "parking-half", "dangerous"),
				{ID: "tread", Of: OfTread, Must: NoLess, Limit: listed("MotTread", MotTread), Called: "dangerous"},
			}},
		{Name: "eu-2014-45", Say: "EU test of vehicles in use", Jurisdiction: "European Union", Edition: "Directive 2014/45/EU, Annex I",
			Rules: slices.Concat([]Rule{
				{ID: "imbalance-major", Of: OfImbalance, Must: NoMore, Limit: listed("EuropeImbalanceMajor", EuropeImbalanceMajor), Called: "major"},
				{ID: "imbalance-dangerous", Of: OfImbalance, Must: NoMore, Limit: listed("EuropeImbalanceDangerous", EuropeImbalanceDangerous), Called: "dangerous", Only: []ForFact{steers}},
			}, euRules, []Rule{
				fromParkRule("eu", "parking", "major"),
				only(fromParkRule("eu-trailer", "parking-train", "major"), withTrailer),
			})},
		{Name: "wheel-ends", Say: "play of adjusted wheel bearings, a recommended practice", Jurisdiction: "none: a practice of the trade", Edition: "TMC RP 618, as summaries have it",
			Rules: []Rule{
				{ID: "play-least", Of: OfPlay, Must: NoLess, Limit: listed("PlayLeast", PlayLeast), Called: "too tight", Only: []ForFact{adjusted}, Means: "No play at all: the bearings are set too tight and run hot."},
				{ID: "play-most", Of: OfPlay, Must: NoMore, Limit: listed("PlayMost", PlayMost), Called: "too loose", Means: "Set the bearings before runout is read: a dial counts their play as well."},
			}},
	}
}

// stricter reports whether a asks no less than b of the same reading, and is
// for every vehicle that b is known to be for.
func stricter(a, b Finding) bool {
	x, y := plainLimit(a.Rule), plainLimit(b.Rule)
	if x.of != y.of || a.Rule.Must.lower() != b.Rule.Must.lower() || a.Rule.Own != b.Rule.Own {
		return false
	}
	for _, open := range a.If {
		if open != footSay(a.Rule.When) && !slices.Contains(b.If, open) {
			return false
		}
	}
	if !harder(a.Rule, b.Rule) {
		return false
	}
	for _, w := range a.Rule.When {
		if w.Of != OfGross && !w.foot() && !slices.ContainsFunc(b.Rule.When, func(v Condition) bool {
			return v.Of == w.Of && v.Must == w.Must && v.Limit.Value.SI == w.Limit.Value.SI
		}) {
			return false
		}
	}
	on := math.Abs(x.si-y.si) <= 1e-9*math.Abs(y.si)
	switch {
	case on:
		return a.Rule.Must == More || a.Rule.Must == Less || a.Rule.Must == b.Rule.Must
	case a.Rule.Must.lower():
		return x.si > y.si
	}
	return x.si < y.si
}

// harder reports whether a is tested under no lighter a foot than b. A rule
// that names no foot says a moderate one, if anything: it is taken as Ohio's,
// which is our judgement.
func harder(a, b Rule) bool {
	foot := func(r Rule) (least, most float64) {
		if !slices.ContainsFunc(r.When, Condition.foot) {
			return float64(FootOhioLeast.Value), float64(FootOhioMost.Value)
		}
		most = math.Inf(1)
		for _, w := range r.When {
			switch w.Still {
			case unit.Outside:
				least = w.Limit.Value.SI
			case unit.Within:
				most = w.Limit.Value.SI
			}
		}
		return least, most
	}
	l, m := foot(a)
	bl, bm := foot(b)
	return l >= bl && m >= bm
}

// A plain is a limit in terms of one measurand where two are the same reading.
type plain struct {
	of Measurand
	si float64
}

func plainLimit(r Rule) plain {
	if r.Of == OfImbalanceLower { // over the lower l is over the higher l/(1 + l)
		l := r.Limit.Value.SI
		return plain{OfImbalance, l / (1 + l)}
	}
	return plain{r.Of, r.Limit.Value.SI}
}

// HouseTripName is the name of our own policy for a long trip.
const HouseTripName = "house-trip"

// HouseTrip is ours for a long trip: of each thing that is measured the
// strictest of all the rules that are for such a vehicle, or may be, those for
// commercial vehicles among them, and a reading has to clear it by its own
// doubt. It is no law anywhere.
//
// Where it is not known which of two rules is for the vehicle, both stand.
// Source: the rules of [Policies]; that the strictest counts and that it is
// guarded is our judgement.
func HouseTrip(c Case) Policy {
	var all []Finding
	for _, p := range Policies() {
		for _, r := range p.Rules {
			// Whose law it is, is no matter here: what stops a loaded van stops ours.
			r.Only = slices.DeleteFunc(slices.Clone(r.Only), func(f ForFact) bool { return f.Of == commercial.Of })
			f := Finding{Policy: p.Name, Rule: r}
			if f.If, f.Not, _ = r.fits(c); f.Not == "" {
				f.Rule.ID = p.Name + "-" + r.ID
				all = append(all, f)
			}
		}
	}
	trip := Policy{Name: HouseTripName, Say: "ours for a long trip: the strictest of all the rules, with room for the doubt of a reading",
		Jurisdiction: "none: our own", Edition: fmt.Sprintf("from %d policies", len(Policies())), Guarded: true}
	for i, f := range all {
		beaten := false
		for j, g := range all {
			// Of two that ask the same the first stands.
			beaten = beaten || i != j && stricter(g, f) && (j < i || !stricter(f, g))
		}
		if !beaten {
			f.Rule.Called = "not ready for the trip"
			trip.Rules = append(trip.Rules, f.Rule)
		}
	}
	return trip
}
