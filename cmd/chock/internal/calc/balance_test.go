package calc

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"chock/brakes/unit"
	"pgregory.net/rapid"
)

// body is a vehicle with 44 % of its weight behind and a height of 0.2333 of
// its wheelbase.
var body = []string{"front-load", "1120 kg", "rear-load", "880 kg", "wheelbase", "3 m", "centre-height", "0.7 m"}

// parts are discs in front and drums behind, on tyres of one size.
var parts = []string{"front-caliper", "2.75 in", "front-effective-radius", "4.7 in", "front-friction", "0.38",
	"rear-wheel-cylinder", "7/8 in", "rear-drum", "10 in", "rear-factor", "3", "front-tyre-radius", "14 in", "rear-tyre-radius", "14 in"}

func balanced(t *testing.T, more ...string) Result {
	t.Helper()
	return run(t, "axle-balance", "", slices.Concat(body, more)...)
}

// at finds a value under keys joined by dots.
func at(v Values, path string) (Value, bool) {
	key, rest, deeper := strings.Cut(path, ".")
	for _, x := range v {
		if x.Key == key {
			if deeper {
				return at(x.Group, rest)
			}
			return x, true
		}
	}
	return Value{}, false
}

const (
	workedBalance = "worked from the balance of moments apart from this program: rear share of the weight 0.44, height over wheelbase 0.23333"
	workedParts   = "exact arithmetic apart from this program: torques of one wheel 21.216 and 9.0198 in-lb for each psi; 11.7810 with 1 in"
	valveExample  = "Gillespie, Fundamentals of Vehicle Dynamics, chapter 3, valve 290/0.3, inputs from memory, worked apart from this program"
)

func TestBalanceValues(t *testing.T) {
	gillespie := []string{"front-load", "2210 lb", "rear-load", "1864 lb", "wheelbase", "108.5 in", "centre-height", "20.5 in", "front-gain", "20 in3", "rear-gain", "14 in3",
		"front-tyre-radius", "12.11 in", "valve-knee", "290 psi", "valve-slope", "0.3"}
	for _, tt := range []struct {
		flags  []string
		want   map[string]any // numbers to the last place printed, or words
		source string
	}{
		{slices.Concat(body, []string{"rear-share", "30 %", "decel", "0.5"}), map[string]any{
			"front_adhesion": "0.51724", "rear_adhesion": "0.46392", "first_to_lock": "front", "critical_g": "0.6000", "front_only_g": "0.55082", "rear_only_g": "0.29663",
			"diagonal_g": "0.36923", "front_lock_g": "0.8727", "rear_lock_g": "0.7233", "best_g": "0.7233", "surface_first_to_lock": "rear", "surface_efficiency_percent": "90.41",
			"front_only_same_foot_g": "0.350", "rear_only_same_foot_g": "0.150", "diagonal_same_foot_g": "0.250", "ideal_rear_share_percent": "32.333", "rear_weight_share_percent": "44.00",
			"efficiency_percent": "96.67", "line_pressure_kpa": "null", "rear_share_low_percent": "null"}, workedBalance},
		{slices.Concat(body, []string{"rear-share", "30 %", "decel", "0.7"}), map[string]any{
			"front_adhesion": "0.67742", "rear_adhesion": "0.75904", "first_to_lock": "rear"}, workedBalance},
		{slices.Concat(body, []string{"rear-share", "20 %"}), map[string]any{
			"deceleration_g": "0.7304", "front_adhesion": "0.8000", "first_to_lock": "front", "critical_g": "1.0286"}, workedBalance + "; without a deceleration it is the best of a road of 0.8"},
		{slices.Concat(body, []string{"rear-share", "35 %", "surface", "0.2"}), map[string]any{
			"surface_first_to_lock": "front", "surface": "0.2"}, workedBalance + ": 0.0386 below 0.3857, so the front is first on a slippery road"},
		{slices.Concat(body, parts), map[string]any{
			"rear_share_percent": "29.831", "critical_g": "0.607", "rear_share_low_percent": "27.310", "rear_share_high_percent": "32.866"},
			workedParts + "; friction 0.43 and 0.33 in front, the factor as given: 9.0198/(9.0198 + 24.0078) and 9.0198/(9.0198 + 18.4246)"},
		{slices.Concat(body, parts, []string{"new-wheel-cylinder", "1 in"}), map[string]any{
			"new_wheel_cylinder.rear_share_percent": "35.703", "new_wheel_cylinder.critical_g": "0.356", "new_wheel_cylinder.surface_first_to_lock": "rear"}, workedParts},
		{slices.Concat(gillespie, []string{"pressure", "300 psi"}), map[string]any{
			"deceleration_g": "0.4095", "front_adhesion": "0.392", "rear_adhesion": "0.437", "first_to_lock": "rear", "efficiency_percent": "93.6", "rear_pressure_kpa": "2020.2"}, valveExample},
		{slices.Concat(gillespie, []string{"decel", "0.6057"}), map[string]any{
			"line_pressure_kpa": "3447", "front_adhesion": "0.617", "rear_adhesion": "0.584", "first_to_lock": "front"}, valveExample + ": 500 psi"},
		{slices.Concat(body, []string{"rear-share", "30 %", "decel", "0.5", "booster-gain", "4", "front-track", "1.5 m", "rear-track", "1.4 m"}), map[string]any{
			"no_booster_g": "0.125", "diagonal_yaw_nm": "1544.5"}, "worked in plain Python: 0.5/4; (6864.655/2 x 1.5 - 2941.995/2 x 1.4)/2"},
		{slices.Concat(body, []string{"rear-share", "30 %", "front-load-full", "1200 kg", "rear-load-full", "1300 kg", "decel", "0.5"}), map[string]any{
			"loaded.rear_weight_share_percent": "52.00", "loaded.critical_g": "0.9429", "loaded.front_adhesion": "0.58659", "loaded.rear_adhesion": "0.37190", "loaded.surface_first_to_lock": "front"},
			"worked in plain Python: (0.52 - 0.30)/0.23333; 0.35/(0.48 + 0.116667), 0.15/(0.52 - 0.116667)"},
		{slices.Concat(body, []string{"rear-share", "30 %", "rolling", "0.02", "decel", "0.02001"}), map[string]any{"front_adhesion": "0.00001"}, "a vehicle that hardly brakes"},
	} {
		r := run(t, "axle-balance", "", tt.flags...)
		for path, want := range tt.want {
			v, ok := at(r.Values, path)
			switch w := want.(string); {
			case !ok:
				t.Errorf("%q: no %s", tt.flags, path)
			case w == "null":
				if !math.IsNaN(v.Number) || v.Text != "" || v.Group != nil {
					t.Errorf("%q: %s is %+v, want it unknown\nsource: %s", tt.flags, path, v, tt.source)
				}
			case strings.Trim(w, "0123456789.") != "":
				if v.Text != w {
					t.Errorf("%q: %s is %q, want %q\nsource: %s", tt.flags, path, v.Text, w, tt.source)
				}
			default:
				_, frac, _ := strings.Cut(w, ".")
				var f float64
				fmt.Sscan(w, &f)
				if !(math.Abs(v.Number-f) <= 0.500001*math.Pow(10, -float64(len(frac)))) {
					t.Errorf("%q: %s is %.9g, want %s\nsource: %s", tt.flags, path, v.Number, w, tt.source)
				}
			}
		}
	}
}

// What stands under a list: the order with a valve, the curve, the rules.
func TestBalanceLists(t *testing.T) {
	r := balanced(t, "rear-share", "30 %", "decel", "0.5")
	order, _ := at(r.Values, "order")
	if len(order.List) != 2 || order.List[0][2].Text != "front" || order.List[1][2].Text != "rear" || math.Abs(order.List[1].Get("from_g")-0.6) > 1e-9 {
		t.Errorf("order %+v\nsource: %s", order.List, workedBalance)
	}
	curve, _ := at(r.Values, "curve")
	if len(curve.List) != 10 || math.Abs(curve.List[6].Get("rear_adhesion")-0.759036) > 1e-6 {
		t.Errorf("curve %+v\nsource: %s", curve.List, workedBalance)
	}
	rules, _ := at(r.Values, "rules")
	broken := map[string]string{}
	for _, rule := range rules.List {
		id, _ := at(rule, "id")
		kept, _ := at(rule, "kept")
		list, _ := at(rule, "broken")
		if *kept.Flag != (len(list.List) == 0) {
			t.Errorf("%s: kept %v, broken %v", id.Text, *kept.Flag, list.List)
		}
		for _, s := range list.List {
			broken[id.Text] += fmt.Sprintf("%.3f-%.3f ", s.Get("from_g"), s.Get("to_g"))
		}
	}
	const source = "worked in plain Python: the order turns at 0.600; 0.9 x 0.30 z/(0.44 - 0.23333 z) = z at 0.7286"
	for id, want := range map[string]string{"un-13h-order": "0.600-0.800 ", "us-135-order": "0.600-0.800 ", "un-13-car-order": "0.600-0.800 ", "us-135-torque-wheel": "0.729-0.800 ", "un-13h-use": ""} {
		if broken[id] != want {
			t.Errorf("%s is broken at %q, want %q\nsource: %s", id, broken[id], want, source)
		}
	}
}

func TestBalanceSays(t *testing.T) {
	for _, tt := range []struct {
		name  string
		flags []string
		want  []string // of Say, Warnings and Steps
		never []string
	}{
		{"front first", []string{"rear-share", "30 %", "decel", "0.5", "circuits", "two"}, []string{
			"At 0.50 g (4.90 m/s2) the front wheels are nearer to locking: they use 0.52 of grip, the rear ones 0.46.",
			"Up to 0.60 g (5.88 m/s2) the front wheels lock first, above that the rear ones.",
			"Rear wheels that lock first let the vehicle swing round.",
			"On a road with grip 0.80 the rear wheels lock first. The best without a locked wheel is 0.72 g (7.09 m/s2), 90 % of what the road would give.",
			"Rear circuit empty, do not drive: the foot that gave 0.50 g gives 0.35 g, and however hard it presses wheels lock at 0.55 g on that road.",
			"Front circuit empty, do not drive: the foot that gave 0.50 g gives 0.15 g, and however hard it presses wheels lock at 0.30 g on that road.",
			"is a reason not to drive, never a comfort",
			"None is a fault found on one in use.",
			"0.5 g  0.52  0.46  .......RF....|...",
			"rear circuit empty: 0.8 x 56.0 % / (1 - 0.8 x 0.233) = 0.55 g",
			"front circuit empty: 0.8 x 44.0 % / (1 + 0.8 x 0.233) = 0.30 g",
		}, []string{"diagonal circuit"}},
		{"rear always first", []string{"rear-share", "50 %", "decel", "0.3"}, []string{"Whatever the road, the rear wheels lock first.", "How the circuits are divided was not said"}, nil},
		{"front always first", []string{"rear-share", "15 %", "decel", "0.3"}, []string{"Whatever the road, the front wheels lock first.", "It would break UN R13, other than cars, both axles near the ideal, at 0.15 to 0.30 g."}, []string{"swing round"}},
		{"beyond the road", []string{"rear-share", "30 %", "decel", "0.75", "surface", "0.4"}, []string{"The 0.75 g looked at here are beyond it"}, nil},
		{"one circuit", []string{"rear-share", "30 %", "circuits", "one"}, []string{"a leak anywhere takes all of them, and only the parking brake is left"}, []string{"circuit empty"}},
		{"diagonal", []string{"rear-share", "30 %", "decel", "0.5", "circuits", "diagonal", "front-track", "60 in", "rear-track", "60 in"}, []string{
			"One diagonal circuit empty, do not drive: the foot that gave 0.50 g gives 0.25 g, and however hard it presses wheels lock at 0.37 g on that road.",
			"One diagonal alone turns the vehicle toward the side of the front wheel that brakes",
		}, []string{"Rear circuit"}},
		{"diagonal, the rear stronger", []string{"rear-share", "70 %", "decel", "0.1", "circuits", "diagonal", "front-track", "60 in", "rear-track", "60 in"}, []string{
			"toward the side of the rear wheel that brakes"}, nil},
		{"no booster", []string{"rear-share", "30 %", "decel", "0.6", "booster-gain", "3"}, []string{"Booster dead, do not drive: the foot that gave 0.60 g gives 0.20 g, and the same takes 3 times the foot."}, nil},
		{"only the front brakes", []string{"rear-share", "0"}, []string{"Only the front wheels brake."}, []string{"Rules of balance"}},
		{"parts", parts, []string{
			"The rear share, 29.8 %, rests on the friction of the linings, which nobody measures. With 0.05 more or less at each axle it is 27.3 % to 32.9 %. So the rear wheels may come first from 0.48 g on, or only from 0.72 g.",
			"front, one brake = 2 x 0.38 x 3832 mm2 x 119.4 mm = 347.7 Nm for each MPa",
		}, []string{"for want of better"}},
		{"usual shoes", slices.Concat(parts[:10], []string{"rear-shoes", "duo-servo"}, parts[12:]), []string{
			"Taken for want of better: friction 0.35 (our estimate), brake factor 3.5"}, nil},
		{"a share and a valve", []string{"rear-share", "30 %", "valve-knee", "2 MPa", "valve-slope", "0.3"}, []string{"The valve is left out: its pressure means nothing where only the share is known."}, nil},
		{"a valve that lets the order turn three times", []string{"front-gain", "20 in3", "rear-gain", "13 in3", "front-tyre-radius", "12 in", "valve-knee", "1.5 MPa", "valve-slope", "0.3"}, []string{
			"the rear ones, then up to", "With the valve stuck open, or gone: on that road the rear wheels lock first"}, nil},
		{"keeps every rule", nil, nil, nil},
		{"only the full load", nil, nil, nil},
	} {
		if tt.name == "keeps every rule" {
			r := run(t, "axle-balance", "", "front-load", "920 kg", "rear-load", "1080 kg", "wheelbase", "3 m", "centre-height", "0.65 m", "rear-share", "35 %")
			if want := "This balance keeps all 7 that are known here."; !slices.Contains(r.Say, want) {
				t.Errorf("%s: says %q", tt.name, r.Say)
			}
			continue
		}
		if tt.name == "only the full load" {
			r := run(t, "axle-balance", "", "front-load-full", "1120 kg", "rear-load-full", "880 kg", "wheelbase", "3 m", "centre-height", "0.7 m", "rear-share", "30 %")
			if v, _ := at(r.Values, "critical_g"); math.Abs(v.Number-0.6) > 1e-9 || !strings.Contains(strings.Join(r.Warnings, "\n"), "Only the loads of the full vehicle are known") {
				t.Errorf("%s: %v %q", tt.name, v.Number, r.Warnings)
			}
			continue
		}
		r := balanced(t, tt.flags...)
		text := strings.Join(slices.Concat(r.Say, r.Warnings, r.Steps), "\n")
		for _, w := range tt.want {
			if !strings.Contains(text, w) {
				t.Errorf("%s: does not say %q:\n%s", tt.name, w, text)
			}
		}
		for _, w := range tt.never {
			if strings.Contains(text, w) {
				t.Errorf("%s: says %q:\n%s", tt.name, w, text)
			}
		}
	}
}

// Tyres by the size on the sidewall: a size gives a radius, an old one none.
func TestBalanceTyres(t *testing.T) {
	c, _ := Find("axle-balance")
	with := func(front, rear string) (Result, error) {
		in := given(t, c, "", slices.Concat(body, parts[:12])...)
		for flag, size := range map[string]string{"front-tyre": front, "rear-tyre": rear} {
			if size != "" {
				in[flag] = []unit.Any{unit.Word(size)}
			}
		}
		return c.Run(in)
	}
	pressure := func(r Result) float64 { return r.Values.Get("line_pressure_kpa") }
	for _, tt := range []struct {
		front, rear string
		known       bool // pressures mean something
		refused     string
	}{
		{"235/75R15", "235/75R15", true, ""},
		{"235/75R15", "", true, ""},
		{"", "235/75R15", true, ""},
		{"8.20-15", "8.20-15", false, ""},
		{"", "", false, ""},
		{"8.20-15", "G78-15", false, "front-tyre-radius: is needed, and --rear-tyre-radius"},
		{"8.20-15", "235/75R15", true, "front-tyre-radius: is needed"},
		{"235/75R15", "8.20-15", true, "rear-tyre-radius: is needed"},
	} {
		r, err := with(tt.front, tt.rear)
		if tt.refused != "" {
			var bad *InputError
			if !errors.As(err, &bad) || !strings.HasPrefix(err.Error(), tt.refused) {
				t.Errorf("%q and %q: %v", tt.front, tt.rear, err)
			}
			continue
		}
		if err != nil {
			t.Errorf("%q and %q: %v", tt.front, tt.rear, err)
			continue
		}
		check(t, c, r)
		if math.IsNaN(pressure(r)) == tt.known || math.Abs(r.Values.Get("rear_share_percent")-29.831) > 0.0005 {
			t.Errorf("%q and %q: pressure %v, share %v", tt.front, tt.rear, pressure(r), r.Values.Get("rear_share_percent"))
		}
	}
	// A larger rear tyre takes from the rear's share.
	same, err := with("235/75R15", "235/75R15")
	if err != nil {
		t.Fatal(err)
	}
	large, err := with("235/75R15", "255/75R16")
	if err != nil {
		t.Fatal(err)
	}
	if !(large.Values.Get("rear_share_percent") < same.Values.Get("rear_share_percent")) {
		t.Error("a larger rear tyre does not take from the rear's share")
	}
}

func TestBalanceRefused(t *testing.T) {
	type change map[string]string // in place of, or beside, the good ones; "" takes a flag out
	base := slices.Concat(body, parts)
	for _, tt := range []struct {
		change change
		want   string
	}{
		{change{"front-load": ""}, "front-load: is needed"},
		{change{"rear-load": ""}, "rear-load: is needed"},
		{change{"wheelbase": ""}, "wheelbase: is needed: from axle to axle"},
		{change{"centre-height": ""}, "centre-height: is needed"},
		{change{"front-load": "0 kg"}, "front-load: front axle load is 0"},
		{change{"rear-load": "-1 kg"}, "rear-load: rear axle load is"},
		{change{"wheelbase": "0 m"}, "wheelbase: wheelbase is"},
		{change{"centre-height": "-1 m"}, "centre-height: "},
		{change{"centre-height": "27 m"}, "centre-height: 27.00 m (88.6 ft) is more than a road vehicle has"},
		{change{"centre-height": "3.5 m"}, "centre-height: 3.50 m (11.5 ft) is more than the wheelbase"},
		{change{"rolling": "-0.1"}, "rolling: "},
		{change{"rolling": "0.3"}, "rolling: "},
		{change{"front-load-full": "900 kg"}, "rear-load-full: is needed"},
		{change{"rear-load-full": "900 kg"}, "front-load-full: is needed"},
		{change{"front-load-full": "0 kg", "rear-load-full": "900 kg"}, "front-load-full: "},
		{change{"front-load-full": "900 kg", "rear-load-full": "-1 kg"}, "rear-load-full: "},
		{change{"centre-height-full": "1 m"}, "centre-height-full: belongs to the full vehicle"},
		{change{"front-load-full": "900 kg", "rear-load-full": "900 kg", "centre-height-full": "-1 m"}, "centre-height-full: "},
		{change{"rear-share": "130 %"}, "rear-share: "},
		{change{"rear-share": "-1 %"}, "rear-share: "},
		{change{"decel": "0"}, "decel: "},
		{change{"decel": "-0.1"}, "decel: "},
		{change{"decel": "2.5"}, "decel: "},
		{change{"decel": "0.3", "pressure": "3 MPa"}, "pressure: gives a deceleration of its own"},
		{change{"pressure": "-1 MPa"}, "pressure: "},
		{change{"pressure": "0 MPa"}, "pressure: "},
		{change{"pressure": "1000 MPa"}, "pressure: "},
		{change{"pressure": "3 MPa", "rear-share": "30 %"}, "pressure: means nothing"},
		{change{"surface": "0"}, "surface: "},
		{change{"surface": "8"}, "surface: "},
		{change{"circuits": "three"}, "circuits: \"three\": want one, two, diagonal"},
		{change{"booster-gain": "0.5"}, "booster-gain: "},
		{change{"valve-knee": "2 MPa"}, "valve-slope: is needed"},
		{change{"valve-slope": "0.3"}, "valve-knee: is needed"},
		{change{"valve-knee": "0 MPa", "valve-slope": "0.3"}, "valve-knee: "},
		{change{"valve-knee": "-1 MPa", "valve-slope": "0.3"}, "valve-knee: "},
		{change{"valve-knee": "2 MPa", "valve-slope": "1.3"}, "valve-slope: "},
		{change{"new-wheel-cylinder": "0 in"}, "new-wheel-cylinder: "},
		{change{"new-wheel-cylinder": "1 in", "rear-wheel-cylinder": "", "rear-share": "30 %"}, "new-wheel-cylinder: in place of which bore?"},
		{change{"new-wheel-cylinder": "1 in", "rear-wheel-cylinder": "0 in", "rear-share": "30 %"}, "rear-wheel-cylinder: "},
		{change{"front-track": "0 m", "rear-track": "1 m"}, "front-track: "},
		{change{"front-track": "1 m", "rear-track": "-1 m"}, "rear-track: "},
		{change{"front-brake": "rim"}, "front-brake: \"rim\": want disc, drum"},
		{change{"rear-caliper": "2 in"}, "rear-brake: disc or drum?"},
		{change{"front-caliper": ""}, "rear-share: is needed, or else the parts of both axles: --front-caliper"},
		{change{"front-caliper": "", "front-brake": "disc"}, "front-caliper: is needed"},
		{change{"front-caliper": "0 in"}, "front-caliper: "},
		{change{"front-caliper": "2 - in"}, "front-caliper: each piston of one side counts"},
		{change{"front-pistons": "9"}, "front-pistons: 9: want 1 to 6"},
		{change{"front-effective-radius": ""}, "front-effective-radius: is needed"},
		{change{"front-effective-radius": "0 in"}, "front-effective-radius: "},
		{change{"front-friction": "0.04"}, "front-friction: "},
		{change{"front-friction": "38"}, "front-friction: "},
		{change{"front-factor": "-1"}, "front-factor: "},
		{change{"rear-wheel-cylinder": "", "rear-brake": "drum"}, "rear-wheel-cylinder: is needed"},
		{change{"rear-wheel-cylinder": "0 in"}, "rear-wheel-cylinder: "},
		{change{"rear-drum": ""}, "rear-drum: is needed"},
		{change{"rear-drum": "-1 in"}, "rear-drum: "},
		{change{"rear-factor": ""}, "rear-shoes: is needed, or --rear-factor"},
		{change{"rear-factor": "0"}, "rear-factor: "},
		{change{"rear-shoes": "loose"}, "rear-shoes: \"loose\": want leading-trailing, twin-leading, duo-servo"},
		{change{"rear-shoes": "duo-servo", "rear-friction": "0.6"}, "rear-friction: "},
		{change{"front-gain": "0 cc"}, "front-gain: "},
		{change{"front-tyre-radius": "0 in"}, "front-tyre-radius: "},
		{change{"rear-tyre-radius": "-1 in"}, "rear-tyre-radius: "},
	} {
		var flags []string
		for i := 0; i < len(base); i += 2 {
			if _, other := tt.change[base[i]]; !other {
				flags = append(flags, base[i], base[i+1])
			}
		}
		for name, text := range tt.change {
			if text != "" {
				flags = append(flags, name, text)
			}
		}
		c, _ := Find("axle-balance")
		_, err := c.Run(given(t, c, "", flags...))
		var bad *InputError
		if !errors.As(err, &bad) || !strings.HasPrefix(err.Error(), tt.want) {
			t.Errorf("%v: error %v, want %s", tt.change, err, tt.want)
		}
	}
	// What is no number, or too large for one.
	c, _ := Find("axle-balance")
	for _, in := range c.Inputs {
		if in.Kind == unit.KindWord {
			continue
		}
		for _, x := range []float64{math.NaN(), math.Inf(1), math.Inf(-1), 1e300, -1e300} {
			all := given(t, c, "", slices.Concat(base, []string{"valve-knee", "2 MPa", "valve-slope", "0.3", "booster-gain", "3", "front-load-full", "1200 kg", "rear-load-full", "1200 kg"})...)
			all[in.Name] = []unit.Any{{Kind: in.Kind, SI: x, Text: "?"}}
			if in.Name == "pressure" {
				delete(all, "decel")
			}
			r, err := c.Run(all)
			if err == nil && !unused(in.Name) {
				t.Errorf("%s of %g is taken", in.Name, x)
			}
			if err == nil {
				check(t, c, r)
			}
		}
	}
}

// unused names inputs that the others in that test make superfluous.
func unused(name string) bool {
	return slices.Contains([]string{"rear-friction", "rear-shoes", "front-wheel-cylinder", "front-drum", "rear-caliper", "rear-effective-radius", "front-pistons", "rear-pistons", "front-track", "rear-track"}, name)
}

// Any sound vehicle: no line that is not for a screen, and the same numbers
// whatever units they were typed in.
func TestBalanceDrawn(t *testing.T) {
	c, _ := Find("axle-balance")
	rapid.Check(t, func(rt *rapid.T) {
		draw := func(name string, low, high float64) float64 { return rapid.Float64Range(low, high).Draw(rt, name) }
		values := map[string]struct {
			kind unit.Kind
			si   float64
		}{
			"front-load": {unit.KindMass, draw("front", 400, 2000)}, "rear-load": {unit.KindMass, draw("rear", 300, 2000)},
			"wheelbase": {unit.KindLength, draw("wheelbase", 2, 4)}, "centre-height": {unit.KindLength, draw("height", 0.4, 0.8)},
			"front-caliper": {unit.KindLength, draw("piston", 0.04, 0.08)}, "front-effective-radius": {unit.KindLength, draw("radius", 0.08, 0.15)},
			"rear-wheel-cylinder": {unit.KindLength, draw("cylinder", 0.015, 0.03)}, "rear-drum": {unit.KindLength, draw("drum", 0.18, 0.33)},
			"front-tyre-radius": {unit.KindLength, draw("tyre", 0.25, 0.45)}, "decel": {unit.KindAcceleration, draw("decel", 0.5, 4)},
			"surface": {unit.KindRatio, draw("road", 0.1, 0.9)},
		}
		// More deceleration or grip than this lifts the rear wheels, and is refused.
		f, r := values["front-load"].si, values["rear-load"].si
		lifts := 0.99 * r / (f + r) * values["wheelbase"].si / values["centre-height"].si
		if values["surface"].si > lifts || values["decel"].si/9.81 > lifts {
			rt.Skip("the rear wheels would lift")
		}
		if rapid.Bool().Draw(rt, "valve") {
			values["valve-knee"] = struct {
				kind unit.Kind
				si   float64
			}{unit.KindPressure, draw("knee", 1e6, 5e6)}
			values["valve-slope"] = struct {
				kind unit.Kind
				si   float64
			}{unit.KindRatio, draw("slope", 0.1, 1)}
		}
		results := [2]Result{}
		for i := range results {
			in := map[string][]unit.Any{"rear-shoes": {unit.Word(rapid.SampledFrom([]string{"leading-trailing"}).Draw(rt, "shoes"))}}
			for name, v := range values {
				a := unit.Any{Kind: v.kind, SI: v.si, Text: "?", Unit: map[unit.Kind][2]string{unit.KindMass: {"kg", "lb"}, unit.KindLength: {"mm", "in"}}[v.kind][i]}
				in[name] = []unit.Any{a}
			}
			var err error
			if results[i], err = c.Run(in); err != nil {
				var bad *InputError
				if errors.As(err, &bad) && bad.Input == "surface" {
					return // it would stand on its nose before a wheel locks
				}
				rt.Fatal(err)
			}
			check(rt, c, results[i])
		}
		for i, v := range results[0].Values {
			w := results[1].Values[i]
			if v.Number != w.Number && !(math.IsNaN(v.Number) && math.IsNaN(w.Number)) || v.Text != w.Text {
				rt.Fatalf("%s is %v in one system and %v in the other", v.Key, v.Number, w.Number)
			}
		}
		v := results[0].Values
		if low, high := v.Get("rear_share_low_percent"), v.Get("rear_share_high_percent"); !(low < v.Get("rear_share_percent") && v.Get("rear_share_percent") < high) {
			rt.Fatalf("share %g to %g", low, high)
		}
	})
}

func BenchmarkBalance(b *testing.B) {
	c, _ := Find("axle-balance")
	in := given(b, c, "", slices.Concat(body, parts, []string{"decel", "0.5"})...)
	for b.Loop() {
		if _, err := c.Run(in); err != nil {
			b.Fatal(err)
		}
	}
}
