package calc

import (
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"regexp"
	"slices"
	"strings"
	"testing"

	"chock/brakes"
	"chock/brakes/unit"
	"pgregory.net/rapid"
)

func init() { outcomeRows = append(outcomeRows, motionRows...) }

const (
	byRule  = "the rule named: 25 ft from 20 mph; doubt 1.96 u, u = root of 0.05 s of way and twice 2.5 % of speed, and the steps; counted by hand"
	byForce = "49 CFR 393.52(d), light trucks: 52.8 % and 17 ft/s2 each on its own; one step of the reading over sqrt(12)"
	asNew   = "US standard 135, S7.5: 0.10 V + 0.0060 V² is 70.0 m from 100 km/h; a standard for new vehicles"
	boiling = "FMVSS 116: DOT 4 boils at 230 C dry and 155 C wet; 10 C over wet counts as wet, 20 C is room enough (our estimates)"
	parking = "UK MOT inspection manual, section 1.4.2: 16 % of the weight, dangerous under 8 %; force by the sine of the slope"
)

var motionRows = []outcomeRow{
	{"foretold only", "stop-distance", []string{"speed", "60", "decel", "0.7 g"}, []string{"distance-unknown", "decel-unknown", "force-unknown", "lane-unknown", "new-unknown"}, byRule},
	{"22 ft from 20 mph, well measured", "stop-distance", []string{"distance", "22.0 ft", "measured-speed", "20.0", "speed-error", "0.2", "distance-error", "0.5 ft", "rule", "us-570-light", "lane", "kept"},
		[]string{"distance-kept", "decel-unknown", "force-unknown", "lane-kept", "new-unknown"}, byRule},
	{"22 ft, by the speedometer", "stop-distance", []string{"distance", "22.0 ft", "measured-speed", "20", "rule", "us-570-light", "lane", "left"},
		[]string{"distance-too-close", "decel-unknown", "force-unknown", "lane-left", "new-unknown"}, byRule},
	{"18 ft, by the speedometer", "stop-distance", []string{"distance", "18.0 ft", "measured-speed", "20", "rule", "us-393-light-truck"},
		[]string{"distance-kept", "decel-unknown", "force-unknown", "lane-unknown", "new-unknown"}, byRule},
	{"25.0 ft is the limit", "stop-distance", []string{"distance", "25.0 ft", "measured-speed", "20", "rule", "us-570-light"},
		[]string{"distance-too-close", "decel-unknown", "force-unknown", "lane-unknown", "new-unknown"}, byRule},
	{"25.4 ft is over it", "stop-distance", []string{"distance", "25.4 ft", "measured-speed", "20", "rule", "us-570-light"},
		[]string{"distance-broken", "decel-unknown", "force-unknown", "lane-unknown", "new-unknown"}, byRule},
	{"the same from 19 mph is 28.1 ft", "stop-distance", []string{"distance", "25.4 ft", "measured-speed", "19", "rule", "ohio-all"},
		[]string{"distance-too-close", "decel-unknown", "force-unknown", "lane-unknown", "new-unknown"}, byRule + "; SAE J299: 25.4 (20/19)²"},
	{"from 19 mph against 25 ft", "stop-distance", []string{"distance", "22.8 ft", "measured-speed", "19", "rule", "us-570-light"},
		[]string{"distance-broken", "decel-unknown", "force-unknown", "lane-unknown", "new-unknown"}, byRule + "; SAE J299: 22.8 (20/19)² = 25.26"},
	{"too far from 20 mph", "stop-distance", []string{"distance", "50 ft", "measured-speed", "30", "rule", "us-570-light"},
		[]string{"distance-unknown", "decel-unknown", "force-unknown", "lane-unknown", "new-unknown"}, "our choice: no more than 10 % off"},
	{"down a hill", "stop-distance", []string{"distance", "22 ft", "measured-speed", "20", "grade", "2 %", "rule", "us-570-light"},
		[]string{"distance-unknown", "decel-unknown", "force-unknown", "lane-unknown", "new-unknown"}, "California Vehicle Code, section 26456: within 1 %"},
	{"two rules, the worse counts", "stop-distance", []string{"distance", "28.0 ft", "measured-speed", "20", "rule", "ohio-other us-393-light-truck"},
		[]string{"distance-broken", "decel-unknown", "force-unknown", "lane-unknown", "new-unknown"}, byRule},
	{"17.0 ft/s2 and 53.3 %", "stop-distance", []string{"measured-decel", "17.2 ft/s2", "brake-force", "3200 lbf", "mass", "6000 lb", "rule", "us-393-light-truck"},
		[]string{"distance-unknown", "decel-kept", "force-kept", "lane-unknown", "new-unknown"}, byForce},
	{"16.9 ft/s2 and 52.5 %", "stop-distance", []string{"measured-decel", "16.9 ft/s2", "brake-force", "3150 lbf", "mass", "6000 lb", "rule", "us-393-light-truck"},
		[]string{"distance-unknown", "decel-broken", "force-broken", "lane-unknown", "new-unknown"}, byForce},
	{"the very figures", "stop-distance", []string{"measured-decel", "17.0 ft/s2", "brake-force", "3168 lbf", "mass", "6000 lb", "rule", "us-393-light-truck"},
		[]string{"distance-unknown", "decel-too-close", "force-too-close", "lane-unknown", "new-unknown"}, byForce},
	{"17 ft/s2 keeps one, 25.31 ft breaks another", "stop-distance", []string{"distance", "25.31 ft", "measured-speed", "20", "measured-decel", "17.1 ft/s2", "rule", "us-393-light-truck"},
		[]string{"distance-broken", "decel-kept", "force-unknown", "lane-unknown", "new-unknown"}, byForce},
	{"a new one in 60 m", "stop-distance", []string{"distance", "60.0 m", "measured-speed", "100 km/h", "rule", "us-135-cold"},
		[]string{"distance-unknown", "decel-unknown", "force-unknown", "lane-unknown", "new-met"}, asNew},
	{"in 70.0 m", "stop-distance", []string{"distance", "70.0 m", "measured-speed", "100 km/h", "rule", "un-13h-cold"},
		[]string{"distance-unknown", "decel-unknown", "force-unknown", "lane-unknown", "new-too-close"}, asNew},
	{"in 70.1 m", "stop-distance", []string{"distance", "70.1 m", "measured-speed", "100 km/h", "rule", "us-135-cold"},
		[]string{"distance-unknown", "decel-unknown", "force-unknown", "lane-unknown", "new-not-met"}, asNew},
	{"216 ft from 60 mph, the third test", "stop-distance", []string{"distance", "216 ft", "measured-speed", "60", "rule", "us-105-third"},
		[]string{"distance-unknown", "decel-unknown", "force-unknown", "lane-unknown", "new-not-met"}, "FMVSS 105, Table II: 194 ft, for new cars"},
	{"DOT 4 at 170 C, hottest 150 C", "fluid-boils", []string{"fluid", "dot-4", "boils", "170 C", "hottest", "150 C"}, []string{"fluid-aged", "margin-enough"}, boiling},
	{"hottest 155 C", "fluid-boils", []string{"fluid", "dot-4", "boils", "170 C", "hottest", "155 C"}, []string{"fluid-aged", "margin-thin"}, boiling},
	{"hottest 171 C", "fluid-boils", []string{"fluid", "dot-4", "boils", "160 C", "hottest", "171 C"}, []string{"fluid-wet", "margin-gone"}, boiling},
	{"as new", "fluid-boils", []string{"fluid", "4", "boils", "231 C"}, []string{"fluid-as-new", "margin-unknown"}, boiling},
	{"nothing measured", "fluid-boils", []string{"fluid", "dot3", "hottest", "150 C"}, []string{"fluid-unknown", "margin-gone"}, "FMVSS 116: wet DOT 3 boils at 140 C"},
	{"water at the wet end", "fluid-boils", []string{"fluid", "dot-4", "water", "3.7 %"}, []string{"fluid-wet", "margin-unknown"}, boiling},
	{"290 kgf of 1,900 kg", "park-holds", []string{"mass", "1900 kg", "brake-force", "290 kgf"}, []string{"hold-unknown", "uk-park-major", "uk-park-not-dangerous"}, parking},
	{"140 kgf", "park-holds", []string{"mass", "1900 kg", "brake-force", "140 kgf", "grade", "20 %"}, []string{"rolls", "uk-park-major", "uk-park-dangerous"}, parking},
	{"304 kgf", "park-holds", []string{"mass", "1900 kg", "brake-force", "304 kgf", "grade", "10 %"}, []string{"holds", "uk-park-not-major", "uk-park-not-dangerous"}, parking},
	// 2000 kg on 20 % pull 392.23 kgf: one step of a kgf is 1.96 x 0.29 = 0.57.
	{"just enough", "park-holds", []string{"mass", "2000 kg", "brake-force", "392.5 kgf", "grade", "20 %"}, []string{"holds", "uk-park-not-major", "uk-park-not-dangerous"}, parking},
	{"just enough, read coarsely", "park-holds", []string{"mass", "2000 kg", "brake-force", "393 kgf", "grade", "20.02 %"}, []string{"hold-too-close", "uk-park-not-major", "uk-park-not-dangerous"}, parking},
	{"no tester", "park-holds", []string{"mass", "2000 kg", "grade", "20 %"}, []string{"hold-unknown", "uk-park-unknown", "uk-danger-unknown"}, parking},
}

// The keys that scripts rely on, against worked examples from outside.
func TestMotionKeys(t *testing.T) {
	nan := math.NaN()
	for _, tt := range []struct {
		calc   string
		flags  []string
		want   map[string]float64
		within float64
		source string
	}{
		{"stop-distance", []string{"speed", "27 m/s", "decel", "7 m/s2", "reaction", "1", "build-up", "0.3"},
			map[string]float64{"distance_m": 83.095179, "before_m": 27, "braking_m": 56.095179, "net_decel_m_s2": 7, "measured_decel_m_s2": nan}, 1e-7,
			"Limpert's form (from memory), held to integration in plain Python: 83.095179 m"},
		{"stop-distance", []string{"speed", "60 mph", "decel", "20 ft/s2"}, map[string]float64{"distance_m": 193.6 * 0.3048, "time_s": 4.4, "sight_distance_m": 570 * 0.3048, "highway_code_m": 240 * 0.3048}, 1e-6,
			"NHTSA interpretation nht70-2.5: 194 ft; 88²/40; Highway Engineering Handbook, Table 2.2: 570 ft; UK Highway Code: 240 ft"},
		{"stop-distance", []string{"distance", "24 ft", "measured-speed", "20"}, map[string]float64{"measured_decel_m_s2": 17.93 * 0.3048, "brake_decel_g": 0.557}, 1e-3, "notes: 24 ft from 20 mph is 17.93 ft/s² = 0.557 g"},
		{"stop-distance", []string{"speed", "80", "decel", "0.7 g"}, map[string]float64{"highway_code_m": nan, "sight_distance_m": 910 * 0.3048}, 1e-9, "the UK table ends at 70 mph; the US one has 910 ft at 80 (from memory)"},
		{"stop-distance", []string{"measured-speed", "100 km/h", "distance-80", "8.0 m", "distance-10", "45.0 m"}, map[string]float64{"mean_developed_decel_m_s2": 6.569, "distance_m": nan}, 1e-4, "UN R13, case of the notes: 6.569 m/s²"},
		{"stop-distance", []string{"distance", "96.7 m", "measured-speed", "100 km/h", "cold-distance", "62 m"}, map[string]float64{"hot_share_percent": 60}, 1e-3, "notes: 60 % of a best cold stop of 62 m is 96.7 m"},
		{"stop-distance", []string{"brake-force", "3200 lbf", "mass", "6000 lb"}, map[string]float64{"brake_force_percent": 53.3333}, 1e-5, "notes: 53.3 %"},
		{"stop-heat", []string{"mass", "2200 kg", "speed", "26.8224 m/s", "rotor-mass", "9.5 kg", "share", "72 %", "into-iron", "93 %", "stops", "10", "every", "60", "cooling-time", "600 s"},
			map[string]float64{"energy_kj": 791.38526, "rise_per_stop_c": 60.6306, "final_c": 422.741, "endless_c": 657.127, "flash_rise_c": nan}, 2e-6,
			"worked by hand in plain Python: 60.6306, 422.741, 657.127 C"},
		{"stop-heat", []string{"mass", "2500 kg", "speed", "100 km/h", "rotor-mass", "8.5 kg", "rotors", "2", "share", "70 %", "specific-heat", "480 J/kg-K"},
			map[string]float64{"energy_kj": 964.506173, "rise_per_stop_c": 82.7395, "final_c": 102.7395, "final_high_c": 102.7395}, 1e-7, "worked by hand in plain Python, V11: 82.7395 K"},
		{"stop-heat", []string{"mass", "2500 kg", "speed", "100 km/h", "rotor-mass", "8.5 kg", "share", "70 %", "into-iron", "95 %", "specific-heat", "480 J/kg-K", "decel", "7 m/s2", "swept-area", "900 cm2"},
			map[string]float64{"flash_rise_c": 144.764259}, 1e-6, "worked by hand in plain Python, V11: 144.764 K"},
		{"stop-heat", []string{"mass", "2200 kg", "speed", "26.8224 m/s", "rotor-mass", "9.5 kg", "share", "72 %", "into-iron", "93 %", "stops", "10", "every", "60", "ambient", "20 C", "cooled-from", "120 C", "cooled-to", "56.78794 C", "cooled-in", "10"},
			map[string]float64{"final_c": 422.741}, 2e-6, "worked by hand in plain Python: 422.741 C with 600 s; 100/e over the air after ten minutes"},
		{"stop-heat", []string{"mass", "1450 kg", "speed", "36 m/s", "drum-mass", "8 kg", "rotors", "4", "specific-heat", "448 J/kg-K"}, map[string]float64{"rise_per_stop_c": 65.54}, 1e-4, "problem page on four drums: 66 C"},
		{"stop-heat", []string{"front-load", "1200 kg", "rear-load", "1300 kg", "speed", "100 km/h", "to-speed", "80 km/h", "turning", "5 %"}, map[string]float64{"energy_kj": 964.506173 * 0.36 * 1.05, "final_c": nan}, 1e-7, "1 - 0.8² of V11, and 5 % of it"},
		{"long-descent", []string{"mass", "2400 kg", "grade", "6 %", "speed", "20 m/s", "distance", "12 km", "engine-drag", "15 kW", "rotor-mass", "9.5 kg", "share", "72 %", "cooling-time", "567.5325 s", "ambient", "30 C"},
			map[string]float64{"brakes_neutral_kw": 16.50596, "brakes_in_gear_kw": 1.50596, "neutral_c": 533.6, "in_gear_c": 75.9, "steady_neutral_c": 801.7, "steady_in_gear_c": 100.4, "time_s": 600, "drop_m": 718.707}, 7e-4,
			"worked by hand in plain Python: 533.6 and 75.9 C after 600 s, 801.7 and 100.4 steady"},
		{"long-descent", []string{"mass", "2400 kg", "grade", "6 %", "speed", "20 m/s", "drop", "718.707 m", "engine-size", "5 L", "engine-speed", "2400"},
			map[string]float64{"distance_m": 12000, "engine_kw": 20, "brakes_in_gear_kw": 0, "neutral_c": nan, "in_gear_c": nan}, 1e-5, "geometry; by hand: 200 kPa x 5 L x 2,400/min / 2 = 20 kW, more than the 16.5 there are"},
		{"fluid-boils", []string{"fluid", "dot-4", "water", "1.85 %", "hottest", "150 C"}, map[string]float64{"dry_c": 230, "wet_c": 155, "boils_c": 188.81, "margin_c": 38.81}, 1e-4, "worked by hand: sqrt(230 x 155)"},
		{"park-holds", []string{"mass", "2722 kg", "grade", "20 %", "tyre-radius", "0.35 m"}, map[string]float64{"force_n": 5235, "torque_per_wheel_nm": 916, "share_of_weight_percent": 19.612}, 2e-4, "notes: 5,235 N, 916 N·m, 19.61 %"},
		{"park-holds", []string{"mass", "1900 kg", "brake-force", "290 kgf"}, map[string]float64{"brake_force_percent": 15.263, "steepest_percent": 15.444, "force_n": nan}, 1e-4, "notes: 15.26 %; its tangent by hand"},
	} {
		if tt.source == "" {
			t.Fatal("every row names its source")
		}
		r := run(t, tt.calc, "", tt.flags...)
		text, err := json.Marshal(r.Values)
		if err != nil {
			t.Fatal(err)
		}
		var got map[string]*float64
		if err := json.Unmarshal(text, &got); err != nil {
			t.Fatal(err)
		}
		for k, want := range tt.want {
			x, ok := got[k]
			if !ok || math.IsNaN(want) != (x == nil) || x != nil && !(math.Abs(*x-want) <= tt.within*math.Max(1, math.Abs(want))) {
				t.Errorf("%s %q: %s is %v, want %g\nsource: %s\n%s", tt.calc, tt.flags, k, deref(x), want, tt.source, text)
			}
		}
	}
}

func deref(x *float64) any {
	if x == nil {
		return "null"
	}
	return *x
}

func TestMotionRefused(t *testing.T) {
	heat := func(more ...string) []string {
		return append([]string{"mass", "2000 kg", "speed", "60", "rotor-mass", "9 kg"}, more...)
	}
	hill := func(more ...string) []string {
		return append([]string{"mass", "2000 kg", "speed", "45", "grade", "6 %", "distance", "5"}, more...)
	}
	stop := func(more ...string) []string { return append([]string{"speed", "60", "decel", "0.7 g"}, more...) }
	drove := func(more ...string) []string {
		return append([]string{"measured-speed", "20", "distance", "24 ft"}, more...)
	}
	for _, tt := range []struct {
		calc  string
		flags []string
		want  string
	}{
		{"stop-distance", nil, "speed: is needed, with --decel"},
		{"stop-distance", []string{"speed", "60"}, "decel: is needed"},
		{"stop-distance", []string{"decel", "0.7 g"}, "speed: is needed"},
		{"stop-distance", []string{"speed", "0", "decel", "0.7 g"}, "speed: 0: want 1 to 250 mph"},
		{"stop-distance", []string{"speed", "-60", "decel", "0.7 g"}, "speed: -60"},
		{"stop-distance", []string{"speed", "999999999", "decel", "0.7 g"}, "speed: 999999999"},
		{"stop-distance", []string{"speed", "60", "decel", "0 g"}, "decel: 0 g: want 0.01 to 2 g"},
		{"stop-distance", []string{"speed", "60", "decel", "-1 g"}, "decel: "},
		{"stop-distance", []string{"speed", "60", "decel", "20 m/s2"}, "decel: 20 m/s2"},
		{"stop-distance", stop("reaction", "-1"), "reaction: -1: want 0 to 10 s"},
		{"stop-distance", stop("reaction", "11"), "reaction: "},
		{"stop-distance", stop("dead-time", "-1"), "dead-time: "},
		{"stop-distance", stop("build-up", "99"), "build-up: "},
		{"stop-distance", stop("grade", "6"), "grade: 6: want a slope of no more than 50 %, with its sign, as 6 %"},
		{"stop-distance", stop("grade", "-6"), "grade: -6"},
		{"stop-distance", []string{"speed", "60", "decel", "0.1 g", "grade", "20 %"}, "grade: deceleration is"},
		{"stop-distance", stop("rule", "us-570-light"), "rule: us-570-light needs a stop that was measured"},
		{"stop-distance", drove("rule", "uk"), `rule: "uk": want some of us-570-light, `},
		{"stop-distance", drove("lane", "lost"), `lane: "lost": want kept, left`},
		{"stop-distance", []string{"distance", "24 ft"}, "measured-speed: is needed"},
		{"stop-distance", []string{"measured-speed", "20", "distance", "0 ft"}, "distance: 0 ft: want a way"},
		{"stop-distance", []string{"measured-speed", "20", "distance", "-4 ft"}, "distance: -4 ft"},
		{"stop-distance", []string{"measured-speed", "20", "distance", "9000 m"}, "distance: 9000 m"},
		{"stop-distance", drove("dead-time", "2"), "distance: distance is"},
		{"stop-distance", drove("speed-error", "-1"), "speed-error: "},
		{"stop-distance", drove("distance-error", "-1 ft"), "distance-error: "},
		{"stop-distance", stop("speed-error", "1"), "speed-error: belongs to a measured stop"},
		{"stop-distance", stop("cold-distance", "50 ft"), "cold-distance: belongs to a measured stop"},
		{"stop-distance", drove("cold-distance", "8 ft"), "cold-distance: distance is"},
		{"stop-distance", drove("distance-80", "5 ft"), "distance-10: is needed beside"},
		{"stop-distance", drove("distance-10", "5 ft"), "distance-80: is needed beside"},
		{"stop-distance", drove("distance-80", "15 ft", "distance-10", "5 ft"), "distance-10: way to the lower speed is"},
		{"stop-distance", []string{"distance-80", "15 ft", "distance-10", "25 ft"}, "measured-speed: is needed"},
		{"stop-distance", []string{"brake-force", "3000"}, "mass: is needed"},
		{"stop-distance", []string{"mass", "3000 kg"}, "brake-force: is needed"},
		{"stop-distance", []string{"brake-force", "0", "mass", "3000 kg"}, "brake-force: 0: want more than 0"},
		{"stop-distance", []string{"brake-force", "100000", "mass", "3000 kg"}, "brake-force: 100000"},
		{"stop-distance", []string{"brake-force", "3000", "mass", "1 kg"}, "mass: 1 kg: want the weight of a vehicle"},
		{"stop-distance", []string{"brake-force", "3000", "mass", "3000 kg", "rule", "us-570-light"}, "rule: us-570-light needs"},
		{"stop-heat", []string{"speed", "60"}, "mass: is needed"},
		{"stop-heat", []string{"mass", "2000 kg"}, "speed: is needed"},
		{"stop-heat", []string{"front-load", "1000 kg", "speed", "60"}, "rear-load: is needed beside"},
		{"stop-heat", []string{"rear-load", "1000 kg", "speed", "60"}, "front-load: is needed beside"},
		{"stop-heat", []string{"rear-load", "-1 kg", "front-load", "1000 kg", "speed", "60"}, "rear-load: -1 kg"},
		{"stop-heat", []string{"mass", "-2000 kg", "speed", "60"}, "mass: -2000 kg"},
		{"stop-heat", []string{"mass", "2000 kg", "speed", "60", "to-speed", "70"}, "to-speed: speed is"},
		{"stop-heat", heat("turning", "-5 %"), "turning: "},
		{"stop-heat", heat("turning", "5"), "turning: "},
		{"stop-heat", heat("rotors", "0"), "rotors: 0: want 1 to 12"},
		{"stop-heat", heat("rotors", "13"), "rotors: 13"},
		{"stop-heat", heat("share", "70"), "share: 70: want"},
		{"stop-heat", heat("share", "0 %"), "share: "},
		{"stop-heat", heat("into-iron", "10 %"), "into-iron: "},
		{"stop-heat", heat("specific-heat", "4 J/kg-K"), "specific-heat: "},
		{"stop-heat", heat("ambient", "200 C"), "ambient: "},
		{"stop-heat", heat("start", "2000 C"), "start: "},
		{"stop-heat", heat("cooling-time", "0"), "cooling-time: "},
		{"stop-heat", heat("cooled-from", "200 C"), "cooled-to: is needed"},
		{"stop-heat", heat("cooled-from", "200 C", "cooled-to", "100 C"), "cooled-in: is needed"},
		{"stop-heat", heat("cooled-to", "200 C", "cooled-in", "5"), "cooled-from: is needed"},
		{"stop-heat", heat("cooled-from", "200 C", "cooled-to", "100 C", "cooled-in", "5"), "ambient: is needed"},
		{"stop-heat", heat("cooled-from", "100 C", "cooled-to", "200 C", "cooled-in", "5", "ambient", "20 C"), "cooled-from: 100 C: want a first reading"},
		{"stop-heat", heat("cooled-from", "100 C", "cooled-to", "10 C", "cooled-in", "5", "ambient", "20 C"), "cooled-to: 10 C: want a first reading"},
		{"stop-heat", heat("cooled-from", "100 C", "cooled-to", "50 C", "cooled-in", "0", "ambient", "20 C"), "cooled-in: 0: want a first reading"},
		{"stop-heat", heat("cooled-from", "100 C", "cooled-to", "21 C", "cooled-in", "1 s", "ambient", "20 C"), "cooled-in: 1 s: that would be"},
		{"stop-heat", heat("cooled-from", "100 C", "cooled-to", "50 C", "cooled-in", "5", "ambient", "20 C", "cooling-time", "9"), "cooling-time: give it, or"},
		{"stop-heat", heat("stops", "0"), "stops: 0: want 1 to 1000"},
		{"stop-heat", heat("stops", "2"), "every: is needed"},
		{"stop-heat", heat("stops", "2", "every", "0"), "every: "},
		{"stop-heat", heat("axle", "middle"), "axle: "},
		{"stop-heat", heat("swept-area", "900 cm2"), "decel: is needed"},
		{"stop-heat", heat("decel", "0.7 g"), "swept-area: is needed"},
		{"stop-heat", heat("wall", "10 mm"), "swept-area: is needed"},
		{"stop-heat", heat("swept-area", "9 m2", "decel", "0.7 g"), "swept-area: "},
		{"stop-heat", heat("swept-area", "900 cm2", "decel", "9 g"), "decel: "},
		{"stop-heat", heat("swept-area", "900 cm2", "decel", "0.7 g", "wall", "0 mm"), "wall: "},
		{"stop-heat", []string{"mass", "2000 kg", "speed", "60", "rotor-mass", "0 kg"}, "rotor-mass: 0 kg"},
		{"stop-heat", []string{"mass", "2000 kg", "speed", "60", "stops", "3", "every", "60"}, "rotor-mass: is needed"},
		{"long-descent", []string{"mass", "2000 kg", "speed", "45", "grade", "6 %"}, "distance: is needed"},
		{"long-descent", hill("drop", "1000"), "drop: give --distance or --drop"},
		{"long-descent", []string{"mass", "2000 kg", "speed", "45", "grade", "-6 %", "distance", "5"}, "grade: -6 %: want more than 0"},
		{"long-descent", []string{"mass", "2000 kg", "speed", "45", "grade", "6", "distance", "5"}, "grade: 6: want a slope"},
		{"long-descent", []string{"speed", "45", "grade", "6 %", "distance", "5"}, "mass: is needed"},
		{"long-descent", []string{"mass", "2000 kg", "speed", "0", "grade", "6 %", "distance", "5"}, "speed: 0"},
		{"long-descent", []string{"mass", "2000 kg", "speed", "45", "grade", "6 %", "distance", "500"}, "distance: 500"},
		{"long-descent", []string{"mass", "2000 kg", "speed", "45", "grade", "6 %", "drop", "0"}, "drop: 0"},
		{"long-descent", hill("engine-drag", "-1 kW"), "engine-drag: "},
		{"long-descent", hill("engine-drag", "9 kW", "engine-size", "5 L"), "engine-drag: give it, or"},
		{"long-descent", hill("engine-size", "5 L"), "engine-speed: is needed"},
		{"long-descent", hill("engine-speed", "3000"), "engine-size: is needed"},
		{"long-descent", hill("engine-size", "5 cc", "engine-speed", "3000"), "engine-size: 5 cc"},
		{"long-descent", hill("engine-size", "5 L", "engine-speed", "30"), "engine-speed: 30"},
		{"long-descent", hill("rolling", "-1 %"), "rolling: "},
		{"long-descent", hill("drag-area", "99 m2"), "drag-area: "},
		{"long-descent", hill("rotor-mass", "0 kg"), "rotor-mass: "},
		{"fluid-boils", nil, "fluid: is needed"},
		{"fluid-boils", []string{"fluid", "mineral"}, `fluid: "mineral": want one of DOT 3, DOT 4`},
		{"fluid-boils", []string{"fluid", "dot-4", "water", "4 %"}, "water: water in the fluid is 4 %, want 0 to 3.7 %"},
		{"fluid-boils", []string{"fluid", "dot-4", "water", "2"}, "water: water in the fluid is 200 %"},
		{"fluid-boils", []string{"fluid", "dot-4", "water", "-1 %"}, "water: "},
		{"fluid-boils", []string{"fluid", "dot-5", "water", "1 %"}, "water: fluid is DOT 5"},
		{"fluid-boils", []string{"fluid", "dot-4", "water", "1 %", "boils", "200 C"}, "water: give --boils alone"},
		{"fluid-boils", []string{"fluid", "dot-4", "boils", "20 C"}, "boils: 20 C: want 194 to 662 F"},
		{"fluid-boils", []string{"fluid", "dot-4", "boils", "200 C", "hottest", "2000 C"}, "hottest: "},
		{"park-holds", []string{"grade", "20 %"}, "mass: is needed"},
		{"park-holds", []string{"mass", "2000 kg"}, "grade: is needed, or --brake-force"},
		{"park-holds", []string{"mass", "2000 kg", "grade", "20"}, "grade: 20: want a slope"},
		{"park-holds", []string{"mass", "2000 kg", "grade", "0 %"}, "grade: on the level"},
		{"park-holds", []string{"mass", "2000 kg", "grade", "20 %", "tyre-radius", "0 m"}, "tyre-radius: "},
		{"park-holds", []string{"mass", "2000 kg", "brake-force", "300", "tyre-radius", "0.3 m"}, "tyre-radius: serves"},
		{"park-holds", []string{"mass", "2000 kg", "grade", "20 %", "wheels", "0"}, "wheels: 0"},
		{"park-holds", []string{"mass", "2000 kg", "brake-force", "0"}, "brake-force: 0"},
		{"park-holds", []string{"mass", "2000 kg", "brake-force", "99999"}, "brake-force: 99999"},
	} {
		c, ok := Find(tt.calc)
		if !ok {
			t.Fatal("no calculation", tt.calc)
		}
		_, err := c.Run(given(t, c, "", tt.flags...))
		var bad *InputError
		if !errors.As(err, &bad) || !strings.HasPrefix(err.Error(), tt.want) {
			t.Errorf("%s %q: error %v, want %s", tt.calc, tt.flags, err, tt.want)
		}
	}
}

// What is said, word for word where it matters.
func TestMotionSays(t *testing.T) {
	for _, tt := range []struct {
		calc   string
		flags  []string
		want   []string
		never  []string
		source string
	}{
		{"stop-distance", []string{"speed", "60", "decel", "20 ft/s2"}, []string{
			"About 194 ft (59 m) from the pedal to a stand.",
			"The driver is not in it: 1.5 s to react (our estimate) is another 132 ft (40 m).",
			"The UK Highway Code has 240 ft (73 m) as typical from that speed, driver and all, and twice that or more in the wet.",
			"US roads are laid out to show 570 ft (174 m) ahead for that speed.",
			"A computed distance explains; it promises nothing. Load, tyres, water, worn or hot brakes are not in it.",
		}, nil, "NHTSA interpretation nht70-2.5; 88 ft/s x 1.5 s"},
		{"stop-distance", []string{"speed", "100 km/h", "decel", "6 m/s2", "reaction", "1"}, []string{
			"About 92 m (302 ft) from seeing it to a stand.",
		}, []string{"The driver is not in it"}, "by hand: 27.78 + 64.30 m"},
		{"stop-distance", []string{"distance", "216 ft", "measured-speed", "60", "rule", "us-105-third"}, []string{
			"US standard 105, new cars, third test, lightly laden: 216.0 ft (65.8 m) from 60 mph, at most 194.0 ft (59.1 m), from memory: outside, as a new one is tested; no failure in use",
			"A standard for new vehicles is tested with known load and known force on the pedal. It says nothing against a vehicle in use.",
			"On a public road, test from no more than 25 mph (40.2 km/h): one state's law says so, and it is enough to judge by.",
		}, []string{"It stops too late for that rule"}, "FMVSS 105, Table II, from memory; California Vehicle Code, section 26456"},
		{"stop-distance", []string{"distance", "25.4 ft", "measured-speed", "20", "rule", "us-570-light"}, []string{
			"US in-use standard, up to 10,000 lb (4,536 kg): 25.4 ft (7.7 m) from 20 mph, at most 25.0 ft (7.6 m), from memory: outside",
			"It stops too late for that rule. Find out why before it is driven on.",
			"US in-use standard, up to 10,000 lb (4,536 kg) wants it to stay in a lane of 12 ft (4 m) as well: say so with --lane.",
		}, []string{"no failure in use"}, "49 CFR 570.5(d)(2), from memory"},
		{"stop-distance", []string{"distance", "18 ft", "measured-speed", "20", "lane", "left", "rule", "ohio-all"}, []string{
			"One good stop shows that the brakes did it once. It looks into no hose, cylinder or lining.",
			"It left its lane: whatever the distance, look for what pulls before the next drive.",
			"None of the rules named asks for a lane.",
		}, nil, "our words"},
		{"stop-distance", []string{"distance", "22 ft", "measured-speed", "20", "speed", "60"}, []string{
			"Reckoned from a slower stop: from 60 mph (96.6 km/h) the brakes get hotter and may do less.",
			"A computed distance explains; it promises nothing. Load, tyres, water, worn or hot brakes are not in it.",
		}, nil, "our words"},
		{"stop-distance", []string{"distance", "22 ft", "measured-speed", "20"}, []string{
			"The UK Highway Code has 40 ft (12 m) as typical from that speed, driver and all, and twice that or more in the wet.",
		}, []string{"A computed distance", "About 22 ft"}, "our words: a measured stop is not computed"},
		{"stop-heat", []string{"mass", "2200 kg", "speed", "60", "rotor-mass", "9.5 kg", "start", "100 C", "stops", "3", "every", "60"}, nil, nil, "our words"},
		{"stop-distance", []string{"distance", "10 ft", "measured-speed", "20"}, []string{
			"That takes more than the 0.9 g that ordinary tyres hold (our estimate). Measure again: the speed or the way is off.",
		}, nil, "by hand: 29.33²/20 = 43 ft/s²"},
		{"stop-distance", []string{"distance", "60 m", "measured-speed", "80 km/h", "rule", "us-135-circuit"}, []string{
			"That test is driven from 100 km/h (62.1 mph) and counts no run from under 98 % of it; the distance here is what its formula gives for your speed.",
		}, nil, "UN R13, annex 4, 1.1.2"},
		{"stop-heat", []string{"mass", "2200 kg", "speed", "100 km/h", "rotor-mass", "9.5 kg", "share", "72 %", "stops", "10", "every", "60"}, []string{
			"A rough idea, no forecast: wind, shields, weight of hub and pads, and how evenly the brakes share are not in it.",
		}, nil, "design: never to a degree"},
		{"stop-heat", []string{"mass", "2200 kg", "speed", "60", "rotor-mass", "9.5 kg"}, []string{
			"Share of the braking not given: 70 % is taken for this axle (our estimate).",
		}, nil, "our choice"},
		{"stop-heat", []string{"mass", "2200 kg", "speed", "60", "drum-mass", "9.5 kg"}, []string{
			"Share of the braking not given: 30 % is taken for this axle (our estimate).",
		}, nil, "our choice: what the front leaves"},
		{"stop-heat", []string{"mass", "2200 kg", "speed", "60", "rotor-mass", "9.5 kg", "decel", "0.5 g", "swept-area", "900 cm2", "wall", "6 mm"}, []string{
			"The iron behind the face is only 0.24 in (6 mm): heat comes through before the stop ends, so the skin cannot be told from the whole.",
		}, nil, "by hand: sqrt(50 x 5.47/(7200 x 460)) = 9.1 mm"},
		{"long-descent", []string{"mass", "2400 kg", "grade", "6 %", "speed", "72 km/h", "distance", "12 km", "engine-drag", "15 kW", "rotor-mass", "9.5 kg", "share", "72 %", "cooling-time", "567.5 s", "ambient", "30 C"}, []string{
			"In that gear the engine leaves the brakes 9 % of what they would have in neutral.",
			"In neutral each rotor comes to near 530 C (990 F) at the bottom. With iron and cooling reckoned low and high: 420 to 530 C (780 to 990 F).",
			"In that gear it comes to near 80 C (170 F), with the same doubt 70 to 80 C (150 to 170 F).",
			"The gear is worth about 460 C (820 F).",
			"In neutral it is past the 300 C (570 F) or so from which ordinary linings lose grip (published), and the fluid may boil: do not let it come to that.",
			"Choose the gear at the top, before it runs. Brake firmly in turns, and let go between; never coast down in neutral.",
		}, []string{"In that gear it is past", "In that gear it may pass"}, "worked by hand in plain Python: 533.6 and 75.9 C; the gear is worth some 450 C"},
		{"stop-heat", []string{"mass", "2200 kg", "speed", "60", "drum-mass", "9.5 kg", "share", "70 %", "stops", "10", "every", "60"}, []string{
			"On a drum that hot the linings smell of resin (published, heavy vehicles). If nothing of that shows, it is likely less hot.",
		}, nil, "lining maker's sheet: resin from 550 F, smoke from 850; by hand: 20 + 65 x 6.64 C = 840 F"},
		{"long-descent", []string{"mass", "2400 kg", "grade", "1 %", "speed", "72 km/h", "distance", "12 km", "rotor-mass", "9.5 kg"}, []string{
			"Tyres and air hold it back by themselves at this speed: the brakes have nothing to do, and it would slow down.",
		}, []string{"In neutral the brakes alone hold it"}, "by hand: 235 N of hill, 282 of tyres"},
		{"long-descent", []string{"mass", "2400 kg", "grade", "6 %", "speed", "72 km/h", "distance", "12 km", "engine-drag", "30 kW", "rotor-mass", "9.5 kg"}, []string{
			"In that gear the engine holds it alone. The brakes stay free for what comes round the bend.",
		}, []string{"In that gear it comes to"}, "by hand: 16.5 kW are left for 30"},
		{"fluid-boils", []string{"fluid", "dot-4", "boils", "170 C"}, []string{
			"Aged fluid: between new and wet. Plan a change.",
			"The boiling points are a standard for new fluid. None of this is a failure in use; it says when to change.",
		}, nil, "FMVSS 116 is a standard for new fluid"},
		{"fluid-boils", []string{"fluid", "dot-5", "hottest", "150 C"}, []string{
			"Silicone takes up no water: any that gets in lies in drops low down, rusts there and boils at 212 F (100 C). Never mix it with the other grades.",
			"Neither water nor boiling point was measured: it counts as wet fluid of its grade. Old fluid can be worse.",
		}, nil, "FMVSS 116"},
		{"fluid-boils", []string{"fluid", "dot-3", "hottest", "302 F", "boils", "300 F"}, []string{
			"It would boil. Vapour takes the pedal away, often a minute after the hill, with the foot off. Let it cool, and change the fluid before such a drive.",
		}, nil, "our words"},
		{"park-holds", []string{"mass", "2722 kg", "grade", "20 %", "tyre-radius", "0.35 m"}, []string{
			"The brake has to hold 5235 N (1177 lbf) at the ground, 916.1 Nm (675.7 lb-ft) at each of 2 wheels.",
			"The percentage of a slope is no share of the weight: 20 % pulls with 19.61 % of it.",
			"Slopes in the list below are tests of new vehicles: none is a failure in use.",
		}, nil, "notes: 5,235 N, 916 N·m"},
	} {
		r := run(t, tt.calc, "", tt.flags...)
		said := slices.Concat(r.Say, r.Warnings)
		for _, v := range r.Verdicts {
			said = append(said, v.Say)
		}
		for _, w := range tt.want {
			if !slices.Contains(said, w) {
				t.Errorf("%s %q lacks %q\nsource: %s\nsays:\n%s", tt.calc, tt.flags, w, tt.source, strings.Join(said, "\n"))
			}
		}
		for _, n := range tt.never {
			if strings.Contains(strings.Join(said, "\n"), n) {
				t.Errorf("%s %q says %q\nsource: %s", tt.calc, tt.flags, n, tt.source)
			}
		}
	}
}

// A number with one of these units stands in both systems, in what is said.
var (
	movingBoth = regexp.MustCompile(`-?[\d.,]+ (to -?[\d.]+ )?(mph|km/h|ft|m|mi|km|F|C|lb|kg|lbf|N|hp|kW|lb-ft|Nm|ft/s2|m/s2|Btu|kJ|in2|cm2) \(-?[\d.,]+ (to -?[\d.]+ )?(mph|km/h|ft|m|mi|km|F|C|lb|kg|lbf|N|hp|kW|lb-ft|Nm|ft/s2|m/s2|Btu|kJ|in2|cm2)\)`)
	movingOne  = regexp.MustCompile(`[\d.]+ (mph|km/h|ft|m|mi|km|F|C|lb|kg|lbf|N|hp|kW|lb-ft|Nm|ft/s2|m/s2)\b`)
)

// Whatever is drawn, a result is one that can be shown, or an input is to
// blame. Temperatures of something imagined are never to a degree.
func TestDrawnMotion(t *testing.T) {
	for _, name := range []string{"stop-distance", "stop-heat", "long-descent", "fluid-boils", "park-holds"} {
		t.Run(name, func(t *testing.T) { drawnMotion(t, name) })
	}
}

func drawnMotion(t *testing.T, name string) {
	c, _ := Find(name)
	done := 0
	rapid.Check(t, func(rt *rapid.T) {
		in := map[string][]unit.Any{}
		base := rapid.SampledFrom(map[string][]string{
			"stop-distance": {"speed decel", "speed distance", "measured-speed distance rule", "measured-speed distance cold-distance", "measured-speed distance-80 distance-10", "brake-force mass", "measured-decel brake-force mass rule"},
			"stop-heat":     {"mass", "mass rotor-mass", "front-load rear-load drum-mass stops every", "mass rotor-mass stops every", "mass rotor-mass swept-area decel"},
			"long-descent":  {"mass distance", "mass drop rotor-mass", "mass distance rotor-mass engine-drag", "front-load rear-load distance drum-mass engine-size engine-speed"},
			"fluid-boils":   {"boils", "water", "hottest", "boils hottest", "water hottest"},
			"park-holds":    {"mass grade", "mass brake-force", "mass grade tyre-radius brake-force"},
		}[c.Name]).Draw(rt, "given")
		for _, i := range c.Inputs {
			if i.Optional && !slices.Contains(strings.Fields(base), i.Name) && rapid.IntRange(0, 99).Draw(rt, "also "+i.Name) < 90 {
				continue
			}
			if text := drawMotion(rt, i); text != "" {
				v, err := unit.ParseList(i.Kind, text, i.Default)
				if err != nil {
					rt.Fatalf("%s %q: %v", i.Name, text, err)
				}
				in[i.Name] = v
			}
		}
		r, err := c.Run(in)
		if err != nil {
			var bad *InputError
			if !errors.As(err, &bad) {
				rt.Fatalf("%s: %v blames no input", c.Name, err)
			}
			return
		}
		done++
		check(rt, c, r)
		if _, err := json.Marshal(r.Values); err != nil {
			rt.Fatal(err)
		}
		for _, v := range r.Values {
			if math.IsInf(v.Number, 0) {
				rt.Fatalf("%s is %g", v.Key, v.Number)
			}
		}
		for _, l := range slices.Concat(r.Say, r.Warnings) {
			// A rule is named in its own unit.
			if rest := movingBoth.ReplaceAllString(l, ""); movingOne.MatchString(rest) {
				rt.Fatalf("%s: a number in one system only: %s", c.Name, l)
			}
		}
		low, mid, high := r.Values.Get("final_low_c"), r.Values.Get("final_c"), r.Values.Get("final_high_c")
		if c.Name == "stop-heat" && mid >= r.Values.Get("rise_per_stop_c") && len(in["start"]) == 0 && !(low <= mid+1e-9 && mid <= high+1e-9) {
			rt.Fatalf("the band %g to %g does not hold %g", low, high, mid)
		}
		if c.Name == "long-descent" && r.Values.Get("in_gear_c") > r.Values.Get("neutral_c")+1e-9 {
			rt.Fatal("a gear makes it hotter")
		}
	})
	t.Logf("worked out %d times", done)
	if done == 0 {
		t.Error("never worked out")
	}
}

func drawMotion(rt *rapid.T, i Input) string {
	pick := func(words ...string) string { return rapid.SampledFrom(words).Draw(rt, i.Name) }
	number := func(lo, hi float64, unit string) string {
		return fmt.Sprintf("%.2f %s", rapid.Float64Range(lo, hi).Draw(rt, i.Name), unit)
	}
	switch i.Name {
	case "rule":
		ids := ruleIDs()
		return pick(ids...) + " " + pick(ids...)
	case "lane":
		return pick("kept", "left")
	case "axle":
		return pick("front", "rear")
	case "fluid":
		return pick("dot-3", "dot-4", "dot-5", "dot-5.1")
	case "share", "into-iron":
		return number(50, 100, "%")
	case "grade":
		return number(1, 12, "%")
	case "turning", "rolling", "water":
		return number(0, 4, "%")
	case "drag-area":
		return number(0.5, 4, "m2")
	case "swept-area":
		return number(300, 1500, "cm2")
	case "engine-size":
		return number(1, 8, "L")
	case "wall":
		return number(5, 40, "mm")
	case "tyre-radius":
		return number(10, 16, "in")
	case "distance-80":
		return number(5, 20, "ft")
	case "ambient":
		return number(-10, 40, "C")
	case "cooled-from":
		return number(200, 300, "C")
	case "cooled-to":
		return number(80, 180, "C")
	case "drop":
		return number(100, 3000, "ft")
	case "reaction", "dead-time", "build-up":
		return number(0, 2, "s")
	case "rotors", "wheels", "stops":
		return pick("1", "2", "4", "10")
	case "speed-error":
		return number(0, 2, "mph")
	case "distance-error":
		return number(0, 3, "ft")
	case "to-speed":
		return number(0, 30, "mph")
	case "rotor-mass", "drum-mass":
		return number(8, 30, "lb")
	case "front-load", "rear-load":
		return number(800, 4000, "lb")
	}
	switch i.Kind {
	case unit.KindSpeed:
		return number(15, 75, pick("mph", "km/h"))
	case unit.KindAcceleration:
		return number(0.2, 1.1, "g")
	case unit.KindLength:
		if i.Default == "mi" {
			return number(0.5, 15, "mi")
		}
		return number(15, 300, pick("ft", "m"))
	case unit.KindTime:
		return number(20, 900, "s")
	case unit.KindMass:
		return number(2000, 9000, pick("lb", "kg"))
	case unit.KindForce:
		return number(200, 4000, pick("lbf", "N"))
	case unit.KindTemperature:
		return number(100, 500, pick("F", "C"))
	case unit.KindPower:
		return number(0, 60, "hp")
	case unit.KindFrequency:
		return number(1000, 4000, "rpm")
	case unit.KindSpecificHeat:
		return number(420, 560, "J/kg-K")
	}
	rt.Fatalf("%s is not drawn", i.Name)
	return ""
}

// In words that people read, an imagined temperature ends in a nought.
func TestImaginedTemperaturesAreRound(t *testing.T) {
	whole := regexp.MustCompile(`(\d+) [CF]\b`)
	r := run(t, "long-descent", "", "mass", "2400 kg", "grade", "6.3 %", "speed", "71 km/h", "distance", "11 km", "engine-drag", "13 kW", "rotor-mass", "9.3 kg", "ambient", "30 C")
	n := 0
	for _, l := range r.Say {
		for _, m := range whole.FindAllStringSubmatch(l, -1) {
			n++
			if !strings.HasSuffix(m[1], "0") {
				t.Errorf("%s C or F in %q", m[1], l)
			}
		}
	}
	if n < 10 {
		t.Errorf("only %d temperatures", n)
	}
}

// Every rule can be named, and is used.
func TestEveryStopRule(t *testing.T) {
	for _, id := range ruleIDs() {
		speed := "20"
		for _, s := range brakes.StopRules() {
			if s.ID == id {
				speed = fmt.Sprintf("%.0f", s.From.MilesPerHour())
			}
		}
		r := run(t, "stop-distance", "", "distance", "500 ft", "measured-speed", speed, "rule", id)
		if len(r.Verdicts) != 1 || r.Verdicts[0].Verdict != unit.Outside || !strings.HasPrefix(r.Verdicts[0].Source, id+": ") {
			t.Errorf("%s: %+v", id, r.Verdicts)
		}
		if isNew := r.Verdicts[0].Of == "new-vehicle"; isNew == r.Verdicts[0].Asked || isNew != strings.Contains(r.Verdicts[0].Say, "no failure in use") {
			t.Errorf("%s: %+v", id, r.Verdicts[0])
		}
	}
}

func benchmarkMotion(b *testing.B, name string, flags ...string) {
	c, _ := Find(name)
	in := given(b, c, "", flags...)
	for b.Loop() {
		if _, err := c.Run(in); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkCalcStop(b *testing.B) {
	benchmarkMotion(b, "stop-distance", "distance", "24 ft", "measured-speed", "20", "rule", "us-570-light")
}

func BenchmarkCalcHeat(b *testing.B) {
	benchmarkMotion(b, "stop-heat", "mass", "2200 kg", "speed", "60", "rotor-mass", "9.5 kg", "stops", "10", "every", "60")
}

func BenchmarkCalcDescent(b *testing.B) {
	benchmarkMotion(b, "long-descent", "mass", "2400 kg", "grade", "6 %", "speed", "45", "distance", "5", "engine-drag", "20 hp", "rotor-mass", "9.5 kg")
}

func BenchmarkCalcFluid(b *testing.B) {
	benchmarkMotion(b, "fluid-boils", "fluid", "dot-4", "water", "2 %", "hottest", "150 C")
}

func BenchmarkCalcPark(b *testing.B) {
	benchmarkMotion(b, "park-holds", "mass", "2722 kg", "grade", "20 %", "tyre-radius", "0.35 m")
}

// A stop that ends at half of its speed has been as hot at its skin as one to a
// stand, which is hottest there; one that ends sooner is hottest at its end.
func TestSkinOfAStopThatEndsAtASpeed(t *testing.T) {
	skin := func(to string) float64 {
		r := run(t, "stop-heat", "", "mass", "2500 kg", "speed", "100 km/h", "to-speed", to, "rotor-mass", "8.5 kg", "share", "70 %", "decel", "7 m/s2", "swept-area", "900 cm2")
		return r.Values.Get("flash_rise_c")
	}
	whole := skin("0 km/h")
	for _, tt := range []struct {
		to   string
		want float64 // over that of the stop to a stand; sqrt(t)(1 - 2t/(3T)) over its greatest, t/T being what is lost of the speed
	}{{"30 km/h", 1}, {"50 km/h", 1}, {"60 km/h", math.Sqrt(0.4) * (1 - 0.8/3) / (math.Sqrt(0.5) * 2 / 3)}, {"90 km/h", math.Sqrt(0.1) * (1 - 0.2/3) / (math.Sqrt(0.5) * 2 / 3)}} {
		if got := skin(tt.to) / whole; math.Abs(got-tt.want) > 1e-9 {
			t.Errorf("to %s the skin is %.4f of that of a whole stop, want %.4f", tt.to, got, tt.want)
		}
	}
}

// An engine of which only the size is known may hold back a quarter less: it is
// not said to hold the vehicle alone unless it does so even then.
func TestEngineMayHoldLess(t *testing.T) {
	down := func(more ...string) (Result, string) {
		r := run(t, "long-descent", "", append([]string{"mass", "5000 lb", "grade", "6 %", "speed", "45 mph", "distance", "5 mi", "rotor-mass", "20 lb", "cooling-time", "10 min"}, more...)...)
		return r, strings.Join(r.Say, "\n")
	}
	const alone, may = "the engine holds it alone", "the engine may just hold it"
	for _, tt := range []struct {
		engine  []string
		want    string
		hotter  bool // the high end of the band lies over the air
		without string
	}{
		{[]string{"engine-size", "5 L", "engine-speed", "3000"}, alone, false, may}, // 25.0 kW, at the least 18.8, of 15.3
		{[]string{"engine-size", "5 L", "engine-speed", "2000"}, may, true, alone},  // 16.7 kW, at the least 12.5
		{[]string{"engine-drag", "16.7 kW"}, alone, false, may},                     // somebody knows it
	} {
		r, text := down(tt.engine...)
		if !strings.Contains(text, tt.want) || strings.Contains(text, tt.without) {
			t.Errorf("%v: want %q and not %q in\n%s", tt.engine, tt.want, tt.without, text)
		}
		if high := r.Values.Get("in_gear_high_c"); high > 25 != tt.hotter {
			t.Errorf("%v: at most %g C in gear", tt.engine, high)
		}
	}
}

// Iron that would melt by the sum is not left standing as a forecast.
func TestGlowingIronEndsTheSum(t *testing.T) {
	const says = "iron glows and cools faster"
	for _, tt := range []struct {
		calc  string
		flags []string
		glows bool
	}{
		{"stop-heat", []string{"mass", "5000 lb", "speed", "60", "rotor-mass", "20 lb", "stops", "30", "every", "20"}, true},
		{"stop-heat", []string{"mass", "5000 lb", "speed", "60", "rotor-mass", "20 lb", "stops", "3", "every", "200"}, false},
		{"stop-heat", []string{"mass", "5000 lb", "speed", "60", "rotor-mass", "20 lb", "every", "5"}, false}, // one stop: nothing goes on
		{"long-descent", []string{"mass", "5000 lb", "grade", "6 %", "speed", "45 mph", "distance", "5 mi", "rotor-mass", "20 lb"}, true},
		{"long-descent", []string{"mass", "5000 lb", "grade", "4 %", "speed", "45 mph", "distance", "5 mi", "rotor-mass", "40 lb"}, false},
	} {
		if text := strings.Join(run(t, tt.calc, "", tt.flags...).Say, "\n"); strings.Contains(text, says) != tt.glows {
			t.Errorf("%s %v: glows %v in\n%s", tt.calc, tt.flags, !tt.glows, text)
		}
	}
}

// Water lies in silicone in drops that boil at 100 C, whatever the silicone
// does: a margin over its own boiling point is no room.
func TestSiliconeHasDrops(t *testing.T) {
	for _, tt := range []struct {
		flags []string
		want  string
	}{
		{[]string{"fluid", "dot-5", "hottest", "150 C"}, "margin-thin"},
		{[]string{"fluid", "dot-5", "hottest", "81 C"}, "margin-thin"},
		{[]string{"fluid", "dot-5", "hottest", "80 C"}, "margin-enough"},
		{[]string{"fluid", "dot-5", "hottest", "190 C"}, "margin-gone"},
		{[]string{"fluid", "dot-5.1", "hottest", "150 C"}, "margin-enough"},
	} {
		r := run(t, "fluid-boils", "", tt.flags...)
		if !slices.Contains(r.Outcomes, tt.want) {
			t.Errorf("%v: %v, want %s", tt.flags, r.Outcomes, tt.want)
		}
	}
}

// No rule and no test is driven on a hill: uphill every brake is good.
func TestStopsOnAHillSayNothing(t *testing.T) {
	for _, tt := range []struct {
		flags   []string
		outcome string
	}{
		{[]string{"distance", "45 m", "measured-speed", "100 km/h", "rule", "us-135-cold"}, "new-unknown"},
		{[]string{"distance", "100 ft", "measured-speed", "60", "rule", "us-105-first"}, "new-unknown"},
		{[]string{"distance", "20 ft", "measured-speed", "20", "rule", "us-393-light-truck"}, "distance-unknown"},
		{[]string{"measured-decel", "25 ft/s2", "rule", "us-393-light-truck"}, "decel-unknown"},
	} {
		for grade, unknown := range map[string]bool{"-5 %": true, "5 %": true, "-1 %": false, "0 %": false} {
			r := run(t, "stop-distance", "", append([]string{"grade", grade}, tt.flags...)...)
			if slices.Contains(r.Outcomes, tt.outcome) != unknown {
				t.Errorf("%v at %s: %v, is it %s? want %v", tt.flags, grade, r.Outcomes, tt.outcome, unknown)
			}
		}
	}
}
