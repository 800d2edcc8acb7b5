package brakes

import (
	"chock/brakes/unit"
)

// What published rules let a pedal use of its whole way to the floor.
var (
	UsedLight = Figure[unit.Ratio]{
		Value:  80 * unit.Percent,
		Mark:   Memory,
		Source: "49 CFR 570.5(c), not read again: no more than 80 % of the way to the floor",
		Scope:  "pedal travel of vehicles to 10,000 lb under 50 lbf, or 25 lbf where it is assisted and the engine runs; not where the maker designed for more",
	}
	UsedHeavy = Figure[unit.Ratio]{
		Value:  80 * unit.Percent,
		Mark:   Published,
		Source: "49 CFR 570.55(c), 39 FR 26027, 1974: no more than 80 % of the way to the floor",
		Scope:  "pedal travel of vehicles over 10,000 lb under 50 lbf, engine running where it is assisted; not where the maker designed for more",
	}
	UsedOhio = Figure[unit.Ratio]{
		Value:  2.0 / 3,
		Mark:   Published,
		Source: "Ohio Administrative Code 4501:2-1-08(B)(2), current text: about a third has to be left",
		Scope:  "pedal travel without assistance under 40 to 60 lbf",
	}
	UsedOhioAssisted = Figure[unit.Ratio]{
		Value:  80 * unit.Percent,
		Mark:   Published,
		Source: "Ohio Administrative Code 4501:2-1-08(B)(2), current text: a fifth or more has to be left",
		Scope:  "pedal travel with assistance, engine running, under 15 to 20 lbf",
	}
	UsedMaryland = Figure[unit.Ratio]{
		Value:  2.0 / 3,
		Mark:   Published,
		Source: "Maryland COMAR 11.14.09.05, current text: reject where less than a third is left",
		Scope:  "pedal travel under a moderate foot",
	}
	UsedMarylandFleet = Figure[unit.Ratio]{
		Value:  75 * unit.Percent,
		Mark:   Published,
		Source: "Maryland COMAR 11.22.03.05, current text: reject where more than 75 % is used",
		Scope:  "pedal travel of buses and multipurpose passenger vehicles under a moderate foot, without pumping; or as their maker says",
	}
	UsedFloor = Figure[unit.Ratio]{
		Value:  100 * unit.Percent,
		Mark:   Published,
		Source: "UK MOT inspection manual, section 1.1.2, current web text: no reserve is a pedal that touches the floor",
		Scope:  "pedal travel, engine off",
	}
	UsedList = Figure[unit.Ratio]{
		Value:  80 * unit.Percent,
		Mark:   Practice,
		Source: "Inspection list for hydraulic brakes, web page, 2008, origin not stated: fails with less than 20 % left",
		Scope:  "pedal travel, brakes firmly applied; not where they are designed for more",
	}
)

// How hard these rules press.
var (
	FootLight = Figure[unit.Force]{
		Value:  50 * unit.PoundForce,
		Mark:   Memory,
		Source: "49 CFR 570.5(c), not read again: 50 lbf unless the system is assisted",
		Scope:  "foot force of the pedal reserve check, vehicles to 10,000 lb, without assistance",
	}
	FootLightAssisted = Figure[unit.Force]{
		Value:  25 * unit.PoundForce,
		Mark:   Memory,
		Source: "49 CFR 570.5(c), not read again: 25 lbf where the system is assisted",
		Scope:  "foot force of the pedal reserve check, vehicles to 10,000 lb, assisted",
	}
	FootHeavy = Figure[unit.Force]{
		Value:  50 * unit.PoundForce,
		Mark:   Published,
		Source: "49 CFR 570.55(c), 39 FR 26027, 1974",
		Scope:  "foot force of the pedal reserve check, vehicles over 10,000 lb",
	}
	FootOhioLeast = Figure[unit.Force]{
		Value:  40 * unit.PoundForce,
		Mark:   Published,
		Source: "Ohio Administrative Code 4501:2-1-08(B), current text: 40 to 60 pounds",
		Scope:  "lightest foot of the pedal reserve check without assistance, and of the hold of one minute",
	}
	FootOhioMost = Figure[unit.Force]{
		Value:  60 * unit.PoundForce,
		Mark:   Published,
		Source: "Ohio Administrative Code 4501:2-1-08(B), current text: 40 to 60 pounds",
		Scope:  "hardest foot of the pedal reserve check without assistance, and of the hold of one minute",
	}
	FootOhioAssistedLeast = Figure[unit.Force]{
		Value:  15 * unit.PoundForce,
		Mark:   Published,
		Source: "Ohio Administrative Code 4501:2-1-08(B)(2), current text: 15 to 20 pounds",
		Scope:  "lightest foot of the pedal reserve check with assistance",
	}
	FootOhioAssistedMost = Figure[unit.Force]{
		Value:  20 * unit.PoundForce,
		Mark:   Published,
		Source: "Ohio Administrative Code 4501:2-1-08(B)(2), current text: 15 to 20 pounds",
		Scope:  "hardest foot of the pedal reserve check with assistance",
	}
)

// LightMost divides the two US in-use rules.
var LightMost = Figure[unit.Mass]{
	Value:  10000 * unit.Pound,
	Mark:   Published,
	Source: "49 CFR 570.53, 39 FR 28980, 1974: more than 10,000 pounds; 49 CFR 570.5 is for the rest",
	Scope:  "gross vehicle weight rating, from the plate in the door",
}

// How long a pedal has to hold.
var (
	HoldHard = Figure[unit.Time]{
		Value:  10 * unit.Second,
		Mark:   Published,
		Source: "49 CFR 570.55(b), 39 FR 26027, 1974: no further fall in 10 seconds",
		Scope:  "pedal held with 125 lbf; 49 CFR 570.5(b) has the same for lighter vehicles (from memory)",
	}
	FootHold = Figure[unit.Force]{
		Value:  125 * unit.PoundForce,
		Mark:   Published,
		Source: "49 CFR 570.55(b), 39 FR 26027, 1974: 125 pounds",
		Scope:  "foot force of the hold of ten seconds",
	}
	HoldLong = Figure[unit.Time]{
		Value:  unit.Minute,
		Mark:   Published,
		Source: "Ohio Administrative Code 4501:2-1-08(B)(1) and Maryland COMAR 11.14.09.05, current texts: one minute",
		Scope:  "pedal held with a moderate foot",
	}
)

// Helped says for which pedals a rule is.
type Helped int

// Any pedal, one that the foot alone presses, one that is assisted.
const (
	AnyPedal Helped = iota
	Unassisted
	Assisted
)

// A PedalRule is a published rule for the reserve of a pedal. It is broken
// where more than Most of the way is used; Most itself is let pass, unless
// Itself is set.
type PedalRule struct {
	ID                  string
	Say                 string // whose rule, and for what
	Most                Figure[unit.Ratio]
	Itself              bool
	Helped              Helped
	Heavy               int                // 1: only over LightMost; -1: only up to it; 0: either
	FootLeast, FootMost Figure[unit.Force] // of the check; no source where the rule says "moderate" or "firm"
}

// PedalRules lists the rules.
func PedalRules() []PedalRule {
	return []PedalRule{
		{ID: "us-light", Say: "US in-use standard to 10,000 lb, foot alone", Most: UsedLight, Helped: Unassisted, Heavy: -1, FootLeast: FootLight, FootMost: FootLight},
		{ID: "us-light-assisted", Say: "US in-use standard to 10,000 lb, assisted", Most: UsedLight, Helped: Assisted, Heavy: -1, FootLeast: FootLightAssisted, FootMost: FootLightAssisted},
		{ID: "us-heavy", Say: "US in-use standard over 10,000 lb", Most: UsedHeavy, Heavy: 1, FootLeast: FootHeavy, FootMost: FootHeavy},
		{ID: "ohio", Say: "Ohio, foot alone", Most: UsedOhio, Helped: Unassisted, FootLeast: FootOhioLeast, FootMost: FootOhioMost},
		{ID: "ohio-assisted", Say: "Ohio, assisted", Most: UsedOhioAssisted, Helped: Assisted, FootLeast: FootOhioAssistedLeast, FootMost: FootOhioAssistedMost},
		{ID: "maryland", Say: "Maryland", Most: UsedMaryland},
		{ID: "maryland-fleet", Say: "Maryland, buses and multipurpose vehicles", Most: UsedMarylandFleet},
		{ID: "uk", Say: "UK MOT, pedal off the floor", Most: UsedFloor, Itself: true},
		{ID: "list", Say: "An inspection list, origin not stated", Most: UsedList},
	}
}

// Applies reports whether the rule is for such a pedal and such a vehicle.
// gross is the rating of its weight, 0 where it is not known.
func (r PedalRule) Applies(h Helped, gross unit.Mass) bool {
	if h != AnyPedal && r.Helped != AnyPedal && h != r.Helped {
		return false
	}
	// What rounding alone lifts over the line counts as on it.
	heavy := float64(gross) > float64(LightMost.Value)*(1+1e-9)
	return gross == 0 || r.Heavy == 0 || heavy == (r.Heavy == 1)
}

// Broken reports whether a pedal that uses such a share of its way breaks the
// rule.
func (r PedalRule) Broken(used unit.Ratio) bool {
	if r.Itself {
		return float64(used) >= float64(r.Most.Value)*(1-1e-9)
	}
	return float64(used) > float64(r.Most.Value)*(1+1e-9)
}

// Fits reports how a foot of so much force stands to the rule's: -1 where it
// was lighter, 1 where it was harder, 0 where it fits or the rule names none. A
// lighter foot uses less of the way, so what it keeps it proves not.
func (r PedalRule) Fits(foot unit.Force) int {
	switch {
	case !r.FootLeast.Known():
		return 0
	case float64(foot) < float64(r.FootLeast.Value)*(1-1e-9):
		return -1
	case float64(foot) > float64(r.FootMost.Value)*(1+1e-9):
		return 1
	}
	return 0
}

// Certain is the verdict on a rule where the foot did not fit it: a pedal that
// a lighter foot sends too far breaks it all the more, and one that a harder
// foot leaves high keeps it all the more. It reports false where nothing
// follows.
func (r PedalRule) Certain(used unit.Ratio, foot unit.Force) bool {
	switch r.Fits(foot) {
	case -1:
		return r.Broken(used)
	case 1:
		return !r.Broken(used)
	}
	return true
}
