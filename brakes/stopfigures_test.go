package brakes

import (
	"math"
	"testing"
)

// Figures that are printed without decimals are exact: half of a printed place
// would let 20 % be 20.4 %. Each is held to a millionth, in its printed unit.
func TestStopFiguresAreExact(t *testing.T) {
	const (
		rules = "the document named in the figure's source"
		ours  = "our choice, written down in the figure"
		tools = "handbook tables named in the figure's source, from memory"
	)
	want := map[string]struct {
		unit   string
		value  float64
		source string
	}{
		"us-135 parking slope": {"%", 20, rules}, "us-135 parking time": {"min", 5, rules}, "us-135 parking hand": {"N", 400, rules}, "us-135 parking foot": {"N", 500, rules},
		"us-105-car parking slope": {"%", 30, rules}, "us-105-car parking time": {"min", 5, rules}, "us-105-car parking hand": {"lbf", 90, rules}, "us-105-car parking foot": {"lbf", 125, rules},
		"us-105-truck parking slope": {"%", 20, rules}, "us-105-truck parking time": {"min", 5, rules}, "us-105-truck parking hand": {"lbf", 125, rules}, "us-105-truck parking foot": {"lbf", 150, rules},
		"un-13h parking slope": {"%", 20, rules}, "un-13h parking hand": {"N", 400, rules}, "un-13h parking foot": {"N", 500, rules}, "un-13h-trailer parking slope": {"%", 12, rules},
		"uk-mot parking force share": {"%", 16, rules}, "uk-mot-dangerous parking force share": {"%", 8, rules}, "eu parking force share": {"%", 16, rules}, "eu-trailer parking force share": {"%", 12, rules},
		"ParkRolling": {"m/s2", 1.5, rules},

		"us-570-light stop": {"ft", 25, rules}, "us-570-heavy stop": {"ft", 35, rules}, "us-570-train stop": {"ft", 40, rules},
		"us-570-light lane": {"ft", 12, rules}, "us-570-heavy lane": {"ft", 12, rules}, "us-570-train lane": {"ft", 12, rules},
		"ohio-all stop": {"ft", 30, rules}, "ohio-other stop": {"ft", 40, rules},
		"us-393-car stop": {"ft", 20, rules}, "us-393-light-bus stop": {"ft", 25, rules}, "us-393-bus stop": {"ft", 35, rules},
		"us-393-light-truck stop": {"ft", 25, rules}, "us-393-truck stop": {"ft", 35, rules}, "us-393-train stop": {"ft", 40, rules},
		"us-393-car-emergency stop": {"ft", 54, rules}, "us-393-light-bus-emergency stop": {"ft", 66, rules}, "us-393-bus-emergency stop": {"ft", 85, rules},
		"us-393-light-truck-emergency stop": {"ft", 66, rules}, "us-393-truck-emergency stop": {"ft", 85, rules}, "us-393-train-emergency stop": {"ft", 90, rules},
		"us-393-car brake force": {"%", 65.2, rules}, "us-393-light-bus brake force": {"%", 52.8, rules}, "us-393-bus brake force": {"%", 43.5, rules},
		"us-393-light-truck brake force": {"%", 52.8, rules}, "us-393-truck brake force": {"%", 43.5, rules}, "us-393-train brake force": {"%", 43.5, rules},
		"us-393-car deceleration": {"ft/s2", 21, rules}, "us-393-light-bus deceleration": {"ft/s2", 17, rules}, "us-393-bus deceleration": {"ft/s2", 14, rules},
		"us-393-light-truck deceleration": {"ft/s2", 17, rules}, "us-393-truck deceleration": {"ft/s2", 14, rules}, "us-393-train deceleration": {"ft/s2", 14, rules},
		"us-105-first stop": {"ft", 216, rules}, "us-105-second stop": {"ft", 204, rules}, "us-105-third stop": {"ft", 194, rules},
		"us-105-circuit stop": {"ft", 456, rules}, "us-105-assist stop": {"ft", 456, rules},
		"un-13-second-car deceleration": {"m/s2", 150 / 51.84, rules}, "un-13-second-van deceleration": {"m/s2", 115 / 51.84, rules}, "un-13-second-bus deceleration": {"m/s2", 130 / 51.84, rules},
		"ShortLag": {"s", 0.36, rules}, "LongLag": {"s", 0.54, rules},
		"HotLeast": {"%", 60, rules}, "RecoveryLeast": {"%", 70, rules}, "RecoveryMost": {"%", 150, rules}, "HotOfPrescribed": {"%", 75, rules},
		"RunSpeedLeast": {"%", 98, rules}, "TestSlope": {"%", 1, rules}, "TestSpeedMost": {"mph", 25, rules}, "CodeWet": {"", 2, rules},
		"SightReaction": {"s", 2.5, rules}, "SightDecel": {"ft/s2", 11.2, rules}, "CodeReaction": {"s", 15.0 / 22, rules}, "CodeDecel": {"ft/s2", 10 * 22.0 * 22 / 225, rules},
		"CorrectionMost": {"%", 10, ours}, "SpeedDoubt": {"%", 2.5, ours}, "StopMark": {"s", 0.05, ours}, "TyreGrip": {"g", 0.9, ours}, "DriverReaction": {"s", 1.5, ours},

		"IronHeat": {"J/kg-K", 460, rules}, "HotIronHeat": {"J/kg-K", 540, tools}, "IronDensity": {"kg/m3", 7200, tools}, "IronConductivity": {"W/m-K", 50, tools},
		"IntoIronLeast": {"%", 90, tools}, "AirDensity": {"kg/m3", 1.2, tools}, "VentPerTurn": {"W/m2-K", 0.077 * 60, rules}, "FadeBegins": {"C", 300, rules},
		"FrontShare": {"%", 70, ours}, "CoolingTime": {"min", 10, ours}, "CoolingFactor": {"", 2, ours}, "RollingShare": {"%", 1.2, ours}, "DragArea": {"m2", 1.26, ours}, "EnginePressure": {"kPa", 200, ours}, "EngineLeast": {"kPa", 150, ours},
		"lining-smell from": {"F", 550, rules}, "lining-smoke from": {"F", 850, rules}, "lining-burn from": {"F", 1100, rules}, "drum-red from": {"F", 1250, rules},
		"dot-3 dry": {"C", 205, rules}, "dot-3 wet": {"C", 140, rules}, "dot-4 dry": {"C", 230, rules}, "dot-4 wet": {"C", 155, rules},
		"dot-5 dry": {"C", 260, rules}, "dot-5 wet": {"C", 180, rules}, "dot-5.1 dry": {"C", 260, rules}, "dot-5.1 wet": {"C", 180, rules},
		"WetWater": {"%", 3.7, rules}, "FluidMargin": {"C", 20, ours}, "FluidNearWet": {"C", 10, ours},
	}
	for name, c := range map[string]float64{"us-135-cold": 0.0060, "us-135-fast": 0.0067, "us-135-engine-off": 0.0063, "us-135-antilock": 0.0075, "us-135-valve": 0.0100,
		"us-135-circuit": 0.0158, "us-135-assist": 0.0158, "us-135-hot": 0.0079, "un-13h-cold": 0.0060, "un-13h-engine-on": 0.0067, "un-13h-second": 0.0158} {
		want[name+" deceleration"] = struct {
			unit   string
			value  float64
			source string
		}{"m/s2", 1 / (2 * 3.6 * 3.6 * c), rules}
	}
	for _, f := range Figures() {
		w, ok := want[f.Name]
		if !ok {
			continue
		}
		if got, known := f.Value.In(w.unit); !known || !(math.Abs(got-w.value) <= 1e-6*math.Abs(w.value)) {
			t.Errorf("%s is %g %s, want %g\nsource: %s", f.Name, got, w.unit, w.value, w.source)
		}
		delete(want, f.Name)
	}
	for name := range want {
		t.Errorf("%s is not listed", name)
	}
}

// Speeds from which tests are driven, to a millionth.
func TestTestSpeeds(t *testing.T) {
	want := map[string]float64{"us-135-fast": 160, "un-13h-engine-on": 160, "un-13-second-car": 80, "un-13-second-van": 70, "un-13-second-bus": 60}
	for _, d := range DistanceTests() {
		w := want[d.ID]
		if w == 0 {
			w = 100
		}
		if got := d.From.KilometresPerHour(); math.Abs(got-w) > 1e-9 {
			t.Errorf("%s from %g km/h, want %g", d.ID, got, w)
		}
	}
}
