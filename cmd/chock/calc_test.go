package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"math"
	"strings"
	"testing"

	"chock/brakes"
	"chock/brakes/unit"
	"chock/cmd/chock/internal/calc"
	"chock/tree"
	"chock/tree/book"
	"github.com/spf13/cobra"
)

func execute(c *cobra.Command, args ...string) (string, error) {
	var out bytes.Buffer
	c.SetArgs(args)
	c.SetOut(&out)
	c.SetErr(&out)
	err := c.Execute()
	return out.String(), err
}

const (
	dialV4  = "0.000 0.040 0.050 0.020 -0.030 -0.070 -0.080 -0.050"
	movedV4 = "0.000 -0.015 -0.025 -0.020 -0.005 0.010 0.020 0.015"
)

func TestCalcText(t *testing.T) {
	for _, tt := range []struct {
		args []string
		want []string
	}{
		{[]string{"rotor", "--dial", "0 1.6 2 .8 -1.2 -2.8 -3.2 -2 thou", "--runout-limit", "5 thou"}, []string{
			"runout = 2.0 - (-3.2) thou = 5.2 thou (0.132 mm)",
			"Runout 5.2 thou (0.132 mm), limit 5.0 thou (0.127 mm), given: too close to",
			"Nearly all of it comes once a turn: a tilt.",
		}},
		{[]string{"rotor", "--unit", "in", "--thickness", "1.1210 1.1212 1.1211 1.1210 1.1212 1.1211 1.1210 1.1212", "--discard", "1.12"}, []string{
			"Thinnest 1.1210 in (28.473 mm), discard 1.1200 in (28.448 mm), given: within.",
		}},
		{[]string{"index", "--unit", "mm", "--dial", dialV4, "--dial-moved", movedV4, "--studs", "5", "--moved", "2"}, []string{
			"rotor moved 2 studs: 0.044 mm (1.7 thou)  best",
			"It does not flatten a face that is already",
		}},
		{[]string{"ratio", "--pedal-force", "70", "--pedal-ratio", "6.2", "--master", "1 in", "--caliper", "2.75 in", "--wheel-cylinder", "7/8 in", "--new-wheel-cylinder", "1 in"}, []string{
			"rod force = 6.2 x 70 lbf = 434 lbf (1931 N)",
			"line pressure = 434 lbf / 0.7854 in2 = 552.6 psi (3810 kPa)",
			"clamp force on each pad = 552.6 psi x 5.940 in2 = 3282 lbf (14600 N)",
			"hydraulic ratio, front = 5.940 in2 / 0.7854 in2 = 7.562",
			"another bore: (1.0000 in / 0.8750 in)² = 1.3061",
			"Force with the other bore: +30.6 % at the same pressure.",
		}},
		{[]string{"ratio", "--pedal-force", "70", "--pedal-ratio", "6.2"}, []string{"rod force = 6.2 x 70 lbf = 434 lbf (1931 N)"}},
		{[]string{"ratio", "--pedal-force", "70 N", "--pedal-ratio", "6.2"}, []string{"rod force = 6.2 x 70 N = 434 N (97.6 lbf)"}},
		{[]string{"lining", "--new", "12", "--now", "6", "--least", "2", "--miles", "37856", "--trip", "25210", "--unit", "mm"}, []string{
			// 25,200 would stand on the other side of the trip.
			"Trip 25210 mi (40572 km), left about 25237 mi (40616 km) at the wear so far,",
		}},
		{[]string{"pull", "--left", "210", "--right", "140", "--axle", "front"}, []string{
			"left 210 kgf = 2059 N (463 lbf)",
			"over the higher: (210 - 140) / 210 = 33.3 %",
			"over the lower: (210 - 140) / 140 = 50.0 %",
			"It pulls to the left, the stronger side. The weak wheel, right, is the one to",
			"A number without a unit is taken as kgf.",
		}},
		{[]string{"torque", "--brake", "duo-servo", "--friction", "0.4", "--drum", "11 in", "--pressure", "500 psi", "--wheel-cylinder", "7/8 in"}, []string{
			"one piston = pi/4 x (7/8 in)² = 0.6013 in2 (387.9 mm2)",
			"A lining of 0.30 instead of 0.35 costs a disc 14 %, a leading-trailing drum 21",
			"Over a friction of 0.35 it gives far too much (our estimate).",
		}},
		{[]string{"drag", "--force", "18 lbf", "--hub-force", "2 lbf"}, []string{
			"Drag at a stud 16.0 lbf (71 N), limit 15.3 lbf (68 N), published: too close to",
		}},
		{[]string{"lining", "--new", "12", "--now", "6", "--least", "2", "--miles", "37856", "--trip", "2000", "--unit", "mm"}, []string{
			"left at that rate: (6.0 - 2.0) / 0.158 mm x 1,000 miles = 25200 mi",
			"Trip 2000 mi (3219 km), left at least 10000 mi (16200 km), our estimate:",
		}},
		{[]string{"drum", "--open", "281.05 281.12 281.15 281.08 mm", "--closed", "280.90 280.95 280.95 280.90 mm", "--middle", "281.30 281.35 281.35 281.30 mm"}, []string{
			"Wider at the open edge by 0.175 mm (6.9 thou): bell-mouthed.",
			"Hollow in the middle by 0.312 mm (12.3 thou): barrel-shaped.",
			"A gauge with two points cannot see a drum with three high places",
		}},
		{[]string{"drum", "--open", "281.05 281.12 281.15 281.08 mm"}, []string{"Largest diameter 281.150 mm (11.0689 in), discard: no limit known."}},
	} {
		out, err := execute(newCalc(), tt.args...)
		if err != nil {
			t.Errorf("%q: %v", tt.args, err)
		}
		for _, w := range tt.want {
			if !strings.Contains(out, w) {
				t.Errorf("%q lacks %q:\n%s", tt.args, w, out)
			}
		}
	}
}

type document struct {
	Schema   *int                       `json:"schema_version"`
	Inputs   map[string]json.RawMessage `json:"inputs"`
	Results  map[string]any             `json:"results"`
	Verdicts []map[string]any           `json:"verdicts"`
	Warnings []string                   `json:"warnings"`
	Sources  []string                   `json:"sources"`
}

func decode(t *testing.T, text string) document {
	t.Helper()
	var d document
	dec := json.NewDecoder(strings.NewReader(text))
	dec.DisallowUnknownFields()
	if err := dec.Decode(&d); err != nil {
		t.Fatalf("%v\n%s", err, text)
	}
	if d.Schema == nil || *d.Schema != 1 || d.Inputs == nil || d.Results == nil || d.Verdicts == nil || d.Warnings == nil || len(d.Sources) == 0 {
		t.Errorf("a key is missing:\n%s", text)
	}
	return d
}

func TestCalcJSON(t *testing.T) {
	const (
		plain = "worked by hand in plain Python, V4"
		v2    = "worked by hand in plain Python, V2"
	)
	out, err := execute(newCalc(), "index", "--unit", "mm", "--dial", dialV4, "--dial-moved", movedV4, "--studs", "5", "--moved", "2", "--json")
	if err != nil {
		t.Fatal(err)
	}
	d := decode(t, out)
	if got := d.Results["best_studs"]; got != 2.0 {
		t.Errorf("best_studs %v, want 2\nsource: %s", got, plain)
	}
	if got := d.Results["positions"].([]any)[2].(map[string]any)["runout_mm"].(float64); math.Abs(got-0.044128) > 5e-7 {
		t.Errorf("runout at 2 studs %v, want 0.044128\nsource: %s", got, plain)
	}

	out, err = execute(newCalc(), "rotor", "--unit", "mm", "--thickness", "25.982 25.978 25.975 - 25.983 25.986 25.984 25.979 25.974 25.976 25.981 25.985", "--json")
	if err != nil {
		t.Fatal(err)
	}
	d = decode(t, out)
	if got := d.Results["least_thickness_mm"]; got != 25.974 {
		t.Errorf("least_thickness_mm %v, want 25.974\nsource: %s", got, v2)
	}
	if got, ok := d.Results["runout_mm"]; !ok || got != nil {
		t.Errorf("runout_mm %v, want null", got)
	}
	var in calcInput
	if err := json.Unmarshal(d.Inputs["thickness"], &in); err != nil || len(in.Values) != 12 || in.Values[3] != nil || in.Unit != "mm" {
		t.Errorf("input %+v, %v", in, err)
	}
	verdicts := map[any]any{}
	for _, v := range d.Verdicts {
		verdicts[v["of"]] = v["verdict"]
		for _, k := range []string{"of", "verdict", "value", "limit", "doubt", "unit", "mark", "source"} {
			if _, ok := v[k]; !ok {
				t.Errorf("verdict without %s: %v", k, v)
			}
		}
	}
	if verdicts["discard"] != "no-limit" || verdicts["variation"] == nil {
		t.Errorf("verdicts %v", verdicts)
	}
}

// The keys that scripts rely on, against worked examples from outside.
func TestCalcKeys(t *testing.T) {
	for _, tt := range []struct {
		args   []string
		want   map[string]float64 // NaN is null
		within float64
		source string
	}{
		{[]string{"ratio", "--pedal-force", "600lbf", "--master", "1in", "--caliper", "3in", "--wheel-cylinder", "1in"},
			map[string]float64{"line_pressure_kpa": 764 * 6.894757, "hydraulic_ratio_front": 9, "hydraulic_ratio_rear": 1, "clamp_force_n": 9 * 600 * 4.448222, "shoe_force_n": 600 * 4.448222, "force_change_percent": math.NaN()},
			1e-4, "web page on the pressure of a master cylinder: 600 lbf on 1 in is 764 psi; three times as wide is nine times the force"},
		{[]string{"ratio", "--pedal-force", "500N", "--master", "0.5cm", "--wheel-cylinder", "2.5cm"},
			map[string]float64{"shoe_force_n": 12500, "hydraulic_ratio_rear": 25, "hydraulic_ratio_front": math.NaN(), "clamp_force_n": math.NaN()},
			1e-9, "OpenStax, College Physics 2e, example 11.6"},
		{[]string{"ratio", "--pedal-force", "70", "--pedal-ratio", "6.2:1"}, map[string]float64{"rod_force_n": 434 * 4.4482216152605, "line_pressure_kpa": math.NaN()}, 1e-9, "web page on pedal ratios: 434 lbf"},
		{[]string{"ratio", "--unit", "in", "--master", "1", "--caliper", "1.5", "--pistons", "2", "--wheel-cylinder", "0.875", "--new-wheel-cylinder", "0.8125", "--pedal-ratio", "6", "--booster-gain", "3"},
			map[string]float64{"hydraulic_ratio_front": 4.5, "hydraulic_ratio_rear": 0.765625, "total_ratio_front": 81, "force_change_percent": -13.7755, "volume_change_percent": -13.7755, "travel_change_percent": 15.9763, "caliper_area_mm2": 2280.18, "master_area_mm2": 506.7075},
			1e-5, "exact arithmetic on circles; 13/16 for 7/8 in is 0.8622"},
		{[]string{"pull", "--left", "2600 N", "--right", "2000 N", "--track", "1.6 m", "--wheelbase", "3 m", "--scrub", "30 mm"},
			map[string]float64{"yaw_moment_nm": 480, "side_force_n": 160, "steering_torque_nm": 18, "code_imbalance_high_percent": math.NaN()},
			1e-9, "worked by hand in plain Python: 600 N at 0.8 m, over 3 m, at 30 mm"},
		{[]string{"pull", "--left-code", "FE", "--right-code", "GG", "--brake", "disc"},
			map[string]float64{"imbalance_percent": math.NaN(), "yaw_moment_nm": math.NaN(), "code_imbalance_low_percent": 0, "code_imbalance_middle_percent": 20, "code_imbalance_high_percent": 36.3636364,
				"code_hot_imbalance_low_percent": 22.2222222, "code_hot_imbalance_middle_percent": 40, "code_hot_imbalance_high_percent": 54.5454545},
			1e-8, "SAE J866, 2019: 1 - 40/50, 1 - 35/55; hot 1 - 35/45, 1 - 30/50, 1 - 25/55"},
		{[]string{"torque", "--effective-radius", "4.6875 in", "--friction", "0.37", "--force", "3747.75 lbf", "--other-friction", "0.30", "--tyre-radius", "14 in"},
			map[string]float64{"torque_nm": 13000 * 0.112984829, "brake_factor": 0.74, "sensitivity": 2, "sensitivity_relative": 1, "loss_percent": 18.918919, "road_force_n": 13000. / 14 * 4.448222, "second_share_percent": math.NaN(),
				"torque_change_nm": 13000 * 0.112984829 / 37, "other_torque_nm": 13000 * 0.112984829 * 30 / 37},
			2e-6, "example 16-3 of Shigley's Mechanical Engineering Design, from memory: 13,000 lbf in"},
		{[]string{"torque", "--brake", "duo-servo", "--friction", "0.35", "--drum", "280 mm", "--force", "1 kN", "--other-friction", "0.30"},
			map[string]float64{"brake_factor": 6.4504248, "torque_nm": 903.05947, "second_share_percent": 75.0654, "loss_percent": 34.4610, "locks_at_friction": 0.698174, "first_shoe_nm": 225.174, "second_shoe_nm": 677.885, "sensitivity": 55.48},
			1e-3, "worked by hand in plain Python: N1 4.0105, X 3.0105, N2 12.0735 at a friction radius of 1.145846"},
		{[]string{"torque", "--brake", "pivoted", "--friction", "0.28", "--drum", "300 mm", "--pivot", "125 mm", "--lining-from", "0", "--lining-to", "120", "--arm", "216.506351 mm", "--lining-width", "40 mm", "--force", "2200 N", "--wheel-cylinder", "22 mm"},
			map[string]float64{"torque_nm": 422, "first_shoe_nm": 277.6, "second_shoe_nm": 144.4, "greatest_pressure_kpa": 734.5, "torque_nm_per_mpa": 422. / 2200 * 380.1327},
			3e-4, "solution of problem 16-1 of Shigley's Mechanical Engineering Design, 10th edition"},
		{[]string{"torque", "--pad-inner", "3.875 in", "--pad-outer", "5.5 in", "--pad-angle", "108", "--friction", "0.37", "--force", "3747.75 lbf"},
			map[string]float64{"effective_radius_mm": 4.6875 * 25.4, "force_line_mm": 4.02372 * 25.4, "greatest_pressure_kpa": 315.751 * 6.894757},
			1e-5, "example 16-3 of Shigley's Mechanical Engineering Design, from memory: 315.8 psi, 4.688 and 4.024 in"},
		{[]string{"drag", "--torque", "6.9 Nm", "--bolt-circle", "242 mm", "--speed", "100 km/h", "--tyre-radius", "0.35 m", "--partner-torque", "1.9 Nm"},
			map[string]float64{"stud_force_n": 57.0248, "drag_torque_nm": 6.9, "heat_w": 547.619, "partner_torque_nm": 1.9, "extra_torque_nm": 5, "extra_heat_w": 396.825},
			1e-5, "makers' service information, a medium truck: 57 N; 548 and 397 W worked by hand"},
		{[]string{"balance", "--front-load", "2210lb", "--rear-load", "1864lb", "--wheelbase", "108.5in", "--centre-height", "20.5in", "--front-gain", "20in3", "--rear-gain", "14in3",
			"--front-tyre-radius", "12.11in", "--valve-knee", "290psi", "--valve-slope", "0.3", "--pressure", "700psi", "--circuits", "two"},
			map[string]float64{"deceleration_g": 0.8019273, "front_adhesion": 0.8177970, "rear_adhesion": 0.7659387, "rear_pressure_kpa": 413 * 6.894757, "front_only_g": 0.5112477, "rear_only_g": 0.3179671, "diagonal_g": math.NaN(), "loaded": math.NaN()},
			1e-5, "Gillespie, Fundamentals of Vehicle Dynamics, chapter 3, valve 290/0.3 (inputs from memory), worked apart from this program in plain Python"},
		{[]string{"pull", "--left", "2600 N", "--right", "2000 N"},
			map[string]float64{"imbalance_percent": 23.0769, "imbalance_percent_of_lower": 30, "imbalance_percent_of_mean": 26.0870, "left_less_right_n": 600, "doubt_percent": 0.0229727},
			1e-5, "worked by hand in plain Python: 23.08, 30, 26.09; doubt of 1 N on each side, 1.64 x 1/sqrt(12)/2600 x sqrt(1 + (2000/2600)²)"},
		{[]string{"lining", "--new", "12", "--now", "6", "--least", "2", "--miles", "37856", "--unit", "mm"},
			map[string]float64{"miles_left": 25236, "thinnest_mm": 6, "above_least_mm": 4, "wear_mm_per_1000_miles": 6 / 37.856, "after_trip_mm": math.NaN(), "taper_mm": math.NaN()},
			1e-4, "Math for Automotive Technicians, page 129, case study 16, 2019: 25,236, rounded on the way"},
		{[]string{"lining", "--new", "12", "--now", "6.0", "--miles", "30000", "--trip", "2000", "--unit", "mm"},
			map[string]float64{"after_trip_mm": 5.6, "after_trip_low_mm": 6 - 0.590717 - 0.8, "miles_left": 22500, "miles_left_low": (4.5 - 0.590717) / 0.4e-3, "miles_left_high": (4.5 + 0.590717) / 0.1e-3},
			1e-6, "worked by hand in plain Python: 0.2 mm in 1,000 miles, 1.96 sqrt(0.1²/12 + 0.3²) = 0.590717 mm, twice and half of the wear"},
		{[]string{"ratio", "--pedal-force", "600lbf", "--master", "1in", "--wheel-cylinder", "7/8 in", "--new-wheel-cylinder", "1 in", "--rear-share", "29.831 %"},
			map[string]float64{"new_shoe_force_n": 600 * 4.448222, "new_rear_share_percent": 35.703},
			1e-4, "worked by hand in plain Python: rear share 0.29831 becomes 0.35703; a wheel cylinder of the master's bore has its force"},
		{[]string{"drum", "--open", "281.05 281.12 281.15 281.08 mm"},
			map[string]float64{"largest_mm": 281.15, "out_of_round_mm": 0.1, "oval_mm": 0.107703, "oval_at_deg": 79.099295, "taper_mm": math.NaN(), "bell_mouth_mm": math.NaN()},
			1e-5, "worked by hand in plain Python, V8"},
		{[]string{"drum", "--open", "280.043224 280.079911 280.036687 279.956776 279.920089 279.963313 mm"},
			map[string]float64{"oval_mm": 0.16, "oval_at_deg": 28.647890, "out_of_round_mm": 0.159822},
			1e-5, "worked by hand in plain Python, V9: of three shapes added, two points see the oval alone"},
		{[]string{"drum", "--open", "281.05 281.12 281.15 281.08 mm", "--closed", "281.00 281.01 281.01 281.00 mm"},
			map[string]float64{"oval_mm": 0.107703, "oval_at_deg": 79.099295, "bell_mouth_mm": 0.095, "taper_mm": 0.095},
			1e-5, "worked by hand in plain Python, V8; the edge that is most oval counts; the means are 281.100 and 281.005"},
		{[]string{"drum", "--open", "281.05 - 281.15 281.08 281.1 mm"}, map[string]float64{"oval_mm": math.NaN()}, 0, "with a gap the rest are no equal steps"},
	} {
		out, err := execute(newCalc(), append(tt.args, "--json")...)
		if err != nil {
			t.Errorf("%q: %v", tt.args, err)
			continue
		}
		d := decode(t, out)
		for k, want := range tt.want {
			got, ok := d.Results[k]
			n, isNumber := got.(float64)
			switch {
			case !ok:
				t.Errorf("%q: no key %s", tt.args, k)
			case math.IsNaN(want) && got != nil, !math.IsNaN(want) && (!isNumber || math.Abs(n-want) > tt.within*math.Abs(want)):
				t.Errorf("%q: %s is %v, want %v\nsource: %s", tt.args, k, got, want, tt.source)
			}
		}
	}
	// A word comes back as a word.
	out, err := execute(newCalc(), "pull", "--left", "1 kN", "--right", "1 kN", "--axle", "rear", "--json")
	if err != nil {
		t.Fatal(err)
	}
	if in := decode(t, out).Inputs["axle"]; !strings.Contains(string(in), `"rear"`) {
		t.Errorf("axle: %s", in)
	}
}

func TestCalcExit(t *testing.T) {
	dial := []string{"rotor", "--dial", "0 1.6 2 .8 -1.2 -2.8 -3.2 -2 thou"}
	for _, tt := range []struct {
		name string
		args []string
		code int // 0: no error
		want string
	}{
		{"met", append(dial, "--strict", "--runout-limit", "8 thou"), 0, ""},
		{"not met", append(dial, "--strict", "--runout-limit", "4 thou"), 3, "outside"},
		{"too close", append(dial, "--strict", "--runout-limit", "5 thou"), 3, "too close"},
		{"not met, without --strict", append(dial, "--runout-limit", "4 thou"), 0, ""},
		{"strict, nothing given", append(dial, "--strict"), 2, "--runout-limit"},
		{"no readings", []string{"rotor"}, 2, "--thickness or --dial"},
		{"a limit without readings", append(dial, "--discard", "1 in"), 2, "--discard"},
		{"which unit", []string{"rotor", "--dial", "0 1 2 3 4"}, 2, "which unit"},
		{"what unit", append(dial, "--unit", "furlong"), 2, "furlong"},
		{"not a number", []string{"rotor", "--dial", "0 1 x 3 thou"}, 2, "--dial"},
		{"NaN", []string{"rotor", "--dial", "0 1 NaN 3 thou"}, 2, "--dial"},
		{"unquoted", []string{"rotor", "--unit", "thou", "--dial", "0", "1", "2"}, 2, "in quotes"},
		{"no such flag", append(dial, "--loud"), 2, "loud"},
		{"what", nil, 2, "rotor, index, drum"},
		{"no such calculation", []string{"wheel"}, 2, "rotor, index, drum"},
		{"the talk's own", []string{"sides"}, 2, "rotor, index, drum"},
		{"a trip that is covered", []string{"lining", "--unit", "mm", "--new", "12", "--now", "6", "--miles", "30000", "--trip", "2000", "--strict"}, 0, ""},
		{"one that is doubtful", []string{"lining", "--unit", "mm", "--new", "12", "--now", "6", "--miles", "30000", "--trip", "15000", "--strict"}, 3, "doubtful"},
		{"one that nobody can tell", []string{"lining", "--now", "6 mm", "--trip", "2000", "--strict"}, 3, "nobody can tell"},
		{"lining, nothing given", []string{"lining", "--now", "6 mm", "--strict"}, 2, "--least, --trip, --taper-limit"},
		{"lining, no unit", []string{"lining", "--now", "6"}, 2, "which unit?"},
		{"ratio holds nothing against a limit", []string{"ratio", "--master", "1 in", "--strict"}, 2, "nothing against a limit"},
		{"imbalance given", []string{"pull", "--left", "300", "--right", "200", "--imbalance-limit", "25 %", "--strict"}, 3, "outside"},
		{"imbalance kept", []string{"pull", "--left", "300", "--right", "280", "--imbalance-limit", "25 %", "--strict"}, 0, ""},
		{"published rules alone are no limit given", []string{"pull", "--left", "300", "--right", "100", "--strict"}, 2, "--imbalance-limit"},
		{"torque holds nothing against a limit", []string{"torque", "--effective-radius", "5 in", "--friction", "0.4", "--strict"}, 2, "nothing against a limit"},
		{"a drag that is given", []string{"drag", "--force", "80 N", "--hub-force", "5 N", "--drag-limit", "60 N", "--strict"}, 3, "outside"},
		{"a published drag alone", []string{"drag", "--force", "80 N", "--strict"}, 2, "--drag-limit"},
		{"a word too much", []string{"pull", "300", "200"}, 2, `"300" is no flag`},
		{"moved by all studs", []string{"index", "--unit", "mm", "--dial", dialV4, "--dial-moved", movedV4, "--studs", "5", "--moved", "5"}, 2, "--moved"},
		{"half of an index", []string{"index", "--unit", "mm", "--dial", dialV4}, 2, "--studs"},
	} {
		out, err := execute(newCalc(), tt.args...)
		var e exit
		switch {
		case tt.code == 0 && err != nil:
			t.Errorf("%s: %v", tt.name, err)
		case tt.code != 0 && (!errors.As(err, &e) || e.code != tt.code || !strings.Contains(err.Error(), tt.want)):
			t.Errorf("%s: error %v (%+v), want status %d and %q", tt.name, err, e, tt.code, tt.want)
		}
		if tt.code == 2 && out != "" {
			t.Errorf("%s: wrong usage still writes %q", tt.name, out)
		}
		if tt.code == 3 && out == "" {
			t.Errorf("%s: nothing is written", tt.name)
		}
	}
}

// A write that fails is a failure.
func TestCalcFullDisk(t *testing.T) {
	for _, args := range [][]string{{"rotor", "--dial", "0 1 2 1 thou"}, {"rotor", "--dial", "0 1 2 1 thou", "--json"}} {
		c := newCalc()
		c.SetArgs(args)
		c.SetOut(full{})
		if err := c.Execute(); err == nil {
			t.Errorf("%q: no error on a full disk", args)
		}
	}
}

type full struct{}

func (full) Write([]byte) (int, error) { return 0, errors.New("disk full") }

// The flags are those of the table, and no others.
func TestCalcFlagsAreTheTable(t *testing.T) {
	for _, c := range calc.Table() {
		if c.Command == "" {
			continue
		}
		cmd, _, err := newCalc().Find([]string{c.Command})
		if err != nil {
			t.Fatal(err)
		}
		for _, in := range c.Inputs {
			if cmd.Flags().Lookup(in.Name) == nil {
				t.Errorf("%s has no flag for %s", c.Command, in.Name)
			}
		}
		if cmd.Short == "" {
			t.Errorf("%s has no line of help", c.Command)
		}
	}
}

// What the table takes from a vehicle file is a figure that such a file has,
// of the kind that is wanted.
func TestCalcTakesFiguresOfTheVehicleFile(t *testing.T) {
	b, err := tree.Load(book.FS, calculations())
	if err != nil {
		t.Fatal(err)
	}
	kinds := map[string]unit.Kind{}
	for _, f := range vehicleFigures(b) {
		kinds[f.ID] = f.Kind
	}
	for _, c := range calc.Table() {
		for _, in := range c.Inputs {
			if in.Vehicle == "" {
				continue
			}
			if _, ok := c.Input(in.Beside); in.Beside != "" && !ok {
				t.Errorf("%s of %s stands beside %s, which it does not take", in.Name, c.Name, in.Beside)
			}
			for _, axle := range []string{"front", "rear"} {
				id := strings.Replace(in.Vehicle, "AXLE", axle, 1)
				kind, ok := kinds[id]
				// A limit that a book may ask for may stand for one axle only.
				if !ok && in.Figure && axle == "rear" {
					continue
				}
				if kind != in.Kind {
					t.Errorf("%s of %s is a %s, and %s of a vehicle file a %q", in.Name, c.Name, in.Kind, id, kind)
				}
			}
		}
	}
}

func TestSources(t *testing.T) {
	more := func() ([]source, error) {
		return []source{{Name: "rotor-worn-out", Mark: "published", Source: "a manual, section 3, 1999"}}, nil
	}
	out, err := execute(newSources(more))
	if err != nil {
		t.Fatal(err)
	}
	for _, w := range []string{"Variation good: 0.013 mm (0.50 thou)", "our estimate: our choice", "Rotor-worn-out", "published: a manual, section 3, 1999"} {
		if !strings.Contains(out, w) {
			t.Errorf("lacks %q:\n%s", w, out)
		}
	}
	out, err = execute(newSources(more), "--json")
	if err != nil {
		t.Fatal(err)
	}
	var d struct {
		Schema  int `json:"schema_version"`
		Figures []struct {
			Name, Unit, Both, Scope, Mark, Source string
			Value                                 *float64
		}
	}
	if err := json.Unmarshal([]byte(out), &d); err != nil {
		t.Fatal(err)
	}
	if want := len(brakes.Figures()) + 1; len(d.Figures) != want || d.Schema != 1 {
		t.Fatalf("%d figures, want %d", len(d.Figures), want)
	}
	if f := d.Figures[0]; f.Value == nil || *f.Value != 0.0127 || f.Unit != "mm" || f.Mark != "our estimate" {
		t.Errorf("first figure %+v", f)
	}
	if f := d.Figures[len(d.Figures)-1]; f.Value != nil {
		t.Errorf("a cause has a value: %+v", f)
	}
	if _, err := execute(newSources(), "all"); !errors.As(err, new(exit)) {
		t.Errorf("words: error %v", err)
	}
	broken := func() ([]source, error) { return nil, errors.New("no book") }
	if _, err := execute(newSources(broken)); err == nil {
		t.Error("a book that cannot be read is no error")
	}
}
