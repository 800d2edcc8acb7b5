package calc

import (
	"encoding/json"
	"errors"
	"math"
	"slices"
	"strings"
	"testing"

	"chock/brakes/unit"
)

func init() { outcomeRows = append(outcomeRows, shakeRows...) }

const (
	fits   = "by hand: 235/75R15 at 60 mph is 12.01 Hz, with 3.55 the shaft 42.64 Hz; 3 and 3 % are 4.24 %, their sum is 6 %"
	counts = "by hand: pulses, one more and one less, over the turns"
	trends = "by hand: ln(f2/f1)/ln(v2/v1) against 1 and 0"
	heats  = "bands of 15 and 50 C and 1.3 times, each by 1.64 of the doubt; counted by hand"
	ways   = "makers' service information, 2004 to 2010: 3,000 to 7,000 miles, over the limit"
)

var shakeRows = []outcomeRow{
	{"felt once a turn of the wheel", "shake-match", []string{"speed", "60", "tyre", "235/75R15", "axle-ratio", "3.55", "felt-hz", "12.2"}, []string{"wheel-fits"}, fits},
	{"the same, the shaft not known", "shake-match", []string{"speed", "60", "tyre", "235/75R15", "felt-hz", "12.2"}, []string{"wheel-fits"}, fits},
	{"twice a turn, the shaft not known", "shake-match", []string{"speed", "60", "tyre", "235/75R15", "felt-hz", "24.0"}, []string{"match-open"}, fits},
	{"twice a turn", "shake-match", []string{"speed", "60", "tyre", "235/75R15", "axle-ratio", "3.55", "felt-hz", "24.0"}, []string{"wheel-fits"}, fits},
	{"the shaft", "shake-match", []string{"speed", "60", "tyre", "235/75R15", "axle-ratio", "3.55", "felt-hz", "42.0"}, []string{"shaft-fits"}, fits},
	{"its joints", "shake-match", []string{"speed", "60", "tyre", "235/75R15", "axle-ratio", "3.55", "felt-hz", "85.0"}, []string{"shaft-fits"}, fits},
	{"wheel twice, shaft once", "shake-match", []string{"speed", "60", "tyre", "235/75R15", "axle-ratio", "2.05", "felt-hz", "24.3"}, []string{"match-open"}, fits},
	{"beyond the root, within the sum", "shake-match", []string{"speed", "60", "tyre", "235/75R15", "axle-ratio", "3.55", "felt-hz", "12.65"}, []string{"match-open"}, fits},
	{"beyond the sum", "shake-match", []string{"speed", "60", "tyre", "235/75R15", "axle-ratio", "3.55", "felt-hz", "17.0"}, []string{"match-neither"}, fits},
	{"measured on the ground, narrower", "shake-match", []string{"speed", "60", "roll-out", "2.233 m", "axle-ratio", "3.55", "felt-hz", "12.45", "speed-error", "1 %"}, []string{"match-neither"}, fits},
	{"nothing felt", "shake-match", []string{"speed", "100 km/h", "roll-out", "22.3 m", "roll-turns", "10"}, []string{"match-unknown"}, fits},
	{"turns with the road", "shake-trend", []string{"at", "45 60", "at-hz", "9.0 12.0"}, []string{"trend-turns"}, trends},
	{"stays put", "shake-trend", []string{"at", "45 60", "at-hz", "11.0 11.2"}, []string{"trend-stays"}, trends},
	{"neither", "shake-trend", []string{"at", "45 60", "at-hz", "9.0 10.5"}, []string{"trend-other"}, trends},
	{"too near each other", "shake-trend", []string{"at", "58 60", "at-hz", "12 12"}, []string{"trend-unknown"}, trends},
	{"one a turn", "pulse-count", []string{"pulses", "10", "turns", "10"}, []string{"pulses-once"}, counts},
	{"two a turn, one missed", "pulse-count", []string{"pulses", "19", "turns", "10"}, []string{"pulses-twice"}, counts},
	{"five a turn", "pulse-count", []string{"pulses", "50", "turns", "10"}, []string{"pulses-more"}, counts},
	{"none", "pulse-count", []string{"pulses", "0", "turns", "10"}, []string{"pulses-none"}, counts},
	{"no whole number", "pulse-count", []string{"pulses", "15", "turns", "10"}, []string{"pulses-open"}, counts},
	{"too few turns", "pulse-count", []string{"pulses", "2", "turns", "1"}, []string{"pulses-open"}, counts},
	{"the shaft turns", "pulse-count", []string{"pulses", "36", "turns", "10", "axle-ratio", "3.55"}, []string{"pulses-shaft"}, counts},
	{"the joints of the shaft", "pulse-count", []string{"pulses", "62", "turns", "10", "axle-ratio", "3.08"}, []string{"pulses-shaft"}, counts},
	{"four of the wheel or one of the shaft", "pulse-count", []string{"pulses", "41", "turns", "10", "axle-ratio", "4.1"}, []string{"pulses-open"}, counts},
	{"left front drags, rear alike", "wheel-heat", []string{"ambient", "70 F", "wheels", "250 130 100 98 F"}, []string{"front-left-hotter", "rear-alike", "none-very-hot"}, heats},
	{"right front by the ratio, left rear", "wheel-heat", []string{"ambient", "20 C", "wheels", "55 80 110 40 C"}, []string{"front-right-hotter", "rear-left-hotter", "none-very-hot"}, heats},
	{"right rear, front too close", "wheel-heat", []string{"ambient", "20 C", "wheels", "80 68 25 95 C"}, []string{"front-too-close", "rear-right-hotter", "none-very-hot"}, heats},
	{"front alike, rear too close", "wheel-heat", []string{"ambient", "20 C", "wheels", "80 79 80 68 C"}, []string{"front-alike", "rear-too-close", "none-very-hot"}, heats},
	{"front alone, one wheel not read", "wheel-heat", []string{"ambient", "20 C", "wheels", "80 79 80 - C"}, []string{"front-alike", "rear-unknown", "none-very-hot"}, heats},
	{"nothing warm", "wheel-heat", []string{"ambient", "20 C", "wheels", "33 21 20 22 C"}, []string{"front-unknown", "rear-unknown", "none-very-hot"}, heats},
	{"both fronts hold on", "wheel-heat", []string{"ambient", "20 C", "wheels", "235 230 40 42 C"}, []string{"front-alike", "rear-alike", "front-left-very-hot"}, heats},
	{"200 C more is not very hot, 201 is", "wheel-heat", []string{"ambient", "20 C", "wheels", "- 220 - - C"}, []string{"front-unknown", "rear-unknown", "none-very-hot"}, heats},
	{"right front very hot", "wheel-heat", []string{"ambient", "20 C", "wheels", "- 221 - - C"}, []string{"front-unknown", "rear-unknown", "front-right-very-hot"}, heats},
	{"left rear very hot", "wheel-heat", []string{"ambient", "20 C", "wheels", "- - 300 - C"}, []string{"front-unknown", "rear-unknown", "rear-left-very-hot"}, heats},
	{"right rear very hot", "wheel-heat", []string{"ambient", "20 C", "wheels", "- - - 300 C"}, []string{"front-unknown", "rear-unknown", "rear-right-very-hot"}, heats},
	{"over the limit, a trip of 2,000 miles", "runout-growth", []string{"runout", "8.0 thou", "trip", "2000"}, []string{"runs-out", "pulse-later"}, ways},
	{"over the limit, 3,000", "runout-growth", []string{"runout", "8.0 thou", "trip", "3000"}, []string{"runs-out", "pulse-may-come"}, ways},
	{"over the limit, 7,000", "runout-growth", []string{"runout", "8.0 thou", "trip", "7000"}, []string{"runs-out", "pulse-before-the-end"}, ways},
	{"too close, 7,000", "runout-growth", []string{"runout", "4.0 thou", "trip", "7000"}, []string{"runout-too-close", "pulse-may-come"}, ways},
	{"within", "runout-growth", []string{"runout", "1.0 thou", "trip", "7000"}, []string{"runs-true", "pulse-not-said"}, ways},
	{"a limit given", "runout-growth", []string{"runout", "4.0 thou", "trip", "2000", "runout-limit", "2 thou"}, []string{"runs-out", "pulse-later"}, ways},
}

func TestShakeRefused(t *testing.T) {
	match := []string{"speed", "60", "tyre", "235/75R15"}
	with := func(more ...string) []string { return slices.Concat(match, more) }
	felt := []string{"variation", "1 thou", "caliper", "3 in"}
	foot := func(more ...string) []string { return slices.Concat(felt, more) }
	for _, tt := range []struct {
		calc  string
		flags []string
		want  string
	}{
		{"shake-match", nil, "speed: is needed"},
		{"shake-match", []string{"speed", "60"}, "tyre: is needed: the size on the sidewall; or --roll-out"},
		{"shake-match", []string{"speed", "0", "tyre", "235/75R15"}, "speed: speed is"},
		{"shake-match", []string{"speed", "-60", "tyre", "235/75R15"}, "speed: speed is"},
		{"shake-match", []string{"speed", "60", "tyre", "G78-15"}, "tyre: tyre size is \"G78-15\", want a size that says how high"},
		{"shake-match", []string{"speed", "60", "tyre", "round"}, "tyre: tyre size is"},
		{"shake-match", with("roll-turns", "10"), "roll-turns: turns over which way"},
		{"shake-match", with("roll-out", "7 ft", "roll-turns", "0"), "roll-turns: 0: want 1 or more"},
		{"shake-match", with("roll-out", "70 ft"), "roll-out: way of one turn is"},
		{"shake-match", with("roll-out", "-7 ft"), "roll-out: roll-out is"},
		{"shake-match", with("axle-ratio", "0"), "axle-ratio: 0: want 1 to 10"},
		{"shake-match", with("axle-ratio", "0.5"), "axle-ratio: axle ratio is 0.5, want 1 to 10"},
		{"shake-match", with("axle-ratio", "35.5"), "axle-ratio: "},
		{"shake-match", with("felt-hz", "0"), "felt-hz: "},
		{"shake-match", with("felt-hz", "-12"), "felt-hz: "},
		{"shake-match", with("felt-hz", "12", "speed-error", "60 %"), "speed-error: "},
		{"shake-match", with("felt-hz", "12", "speed-error", "-1 %"), "speed-error: "},
		{"shake-trend", []string{"at", "45 60"}, "at-hz: is needed"},
		{"shake-trend", []string{"at", "45", "at-hz", "9 12"}, "at: want two"},
		{"shake-trend", []string{"at", "45 60 70", "at-hz", "9 12"}, "at: want two"},
		{"shake-trend", []string{"at", "45 -", "at-hz", "9 12"}, "at: want two"},
		{"shake-trend", []string{"at", "45 60", "at-hz", "9"}, "at-hz: want two"},
		{"shake-trend", []string{"at", "45 45", "at-hz", "9 12"}, "at: other speed is"},
		{"shake-trend", []string{"at", "0 45", "at-hz", "9 12"}, "at: speed is"},
		{"shake-trend", []string{"at", "45 60", "at-hz", "0 12"}, "at-hz: frequency is"},
		{"pulse-count", []string{"pulses", "3"}, "turns: is needed"},
		{"pulse-count", []string{"pulses", "3", "turns", "0"}, "turns: number of turns is 0"},
		{"pulse-count", []string{"pulses", "1001", "turns", "10"}, "pulses: "},
		{"pulse-count", []string{"pulses", "10", "turns", "10", "axle-ratio", "0"}, "axle-ratio: "},
		{"pulse-count", []string{"pulses", "10", "turns", "10", "axle-ratio", "11"}, "axle-ratio: "},
		{"wheel-heat", []string{"ambient", "70 F"}, "wheels: is needed"},
		{"wheel-heat", []string{"ambient", "70 F", "wheels", "80 90 F"}, "wheels: 2 values: want four"},
		{"wheel-heat", []string{"ambient", "70 F", "wheels", "- - - - F"}, "wheels: none was read"},
		{"wheel-heat", []string{"ambient", "100 F", "wheels", "180 150 80 120 F"}, "wheels: rear left: wheel temperature is"},
		{"runout-growth", []string{"runout", "5 thou"}, "trip: is needed"},
		{"runout-growth", []string{"runout", "-5 thou", "trip", "2000"}, "runout: "},
		{"runout-growth", []string{"runout", "5 thou", "trip", "0"}, "trip: trip is"},
		{"runout-growth", []string{"runout", "5 thou", "trip", "-1"}, "trip: trip is"},
		{"runout-growth", []string{"runout", "5 thou", "trip", "2000", "runout-limit", "0 thou"}, "runout-limit: "},
		{"runout-growth", []string{"runout", "5 thou", "trip", "2000", "variation", "-1 thou"}, "variation: "},
		{"runout-growth", []string{"runout", "5 thou", "trip", "2000", "tyre", "7.00-15"}, "tyre: "},
		{"pulse-felt", []string{"variation", "1 thou"}, "caliper: is needed"},
		{"pulse-felt", []string{"variation", "-1 thou", "caliper", "3 in"}, "variation: "},
		{"pulse-felt", []string{"variation", "1 thou", "caliper", "0 in"}, "caliper: "},
		{"pulse-felt", foot("pistons", "7"), "pistons: 7: want 1 to 6"},
		{"pulse-felt", foot("rotors", "3"), "rotors: 3: want 1 to 2"},
		{"pulse-felt", foot("rotors", "0"), "rotors: 0: want 1 to 2"},
		{"pulse-felt", foot("master", "0 in"), "master: "},
		{"pulse-felt", foot("master", "1 in", "pedal-ratio", "0"), "pedal-ratio: "},
		{"pulse-felt", foot("pedal-ratio", "-4"), "pedal-ratio: "},
		{"pulse-felt", foot("fluid-taken", "3 cc"), "fluid-taken: tells nothing without --at-pressure"},
		{"pulse-felt", foot("at-pressure", "1000 psi"), "at-pressure: tells nothing without --fluid-taken"},
		{"pulse-felt", foot("fluid-taken", "0 cc", "at-pressure", "1000 psi"), "fluid-taken: "},
		{"pulse-felt", foot("fluid-taken", "3 cc", "at-pressure", "0 psi"), "at-pressure: "},
		{"pulse-felt", foot("friction", "0"), "friction: "},
		{"pulse-felt", foot("effective-radius", "0 in"), "effective-radius: "},
		{"lining-worn", []string{"energy", "100", "friction", "0.4"}, "pad-area: is needed"},
		{"lining-worn", []string{"energy", "-1", "friction", "0.4", "pad-area", "45"}, "energy: "},
		{"lining-worn", []string{"energy", "100", "friction", "0", "pad-area", "45"}, "friction: "},
		{"lining-worn", []string{"energy", "100", "friction", "0.4", "pad-area", "0"}, "pad-area: "},
		{"lining-worn", []string{"energy", "100", "friction", "0.4", "pad-area", "45", "stops", "0"}, "stops: 0: want 1 to 1000000"},
	} {
		c, _ := Find(tt.calc)
		_, err := c.Run(given(t, c, "", tt.flags...))
		var bad *InputError
		if !errors.As(err, &bad) || !strings.HasPrefix(err.Error(), tt.want) {
			t.Errorf("%s %q: error %v, want %s", tt.calc, tt.flags, err, tt.want)
		}
	}
	c, _ := Find("wheel-heat")
	for _, in := range []map[string][]unit.Any{
		{"ambient": {{Kind: unit.KindTemperature, SI: math.Inf(1)}}, "wheels": slices.Repeat([]unit.Any{{Kind: unit.KindTemperature, SI: 300}}, 4)},
		{"ambient": {{Kind: unit.KindTemperature, SI: 300}}, "wheels": slices.Repeat([]unit.Any{{Kind: unit.KindTemperature, SI: math.Inf(1)}}, 4)},
	} {
		if _, err := c.Run(in); err == nil {
			t.Errorf("%v is taken", in)
		}
	}
}

// The keys that scripts rely on.
func TestShakeKeys(t *testing.T) {
	const source = "reckoned apart from this program: 720.73 turns in a mile, 12.012 and 42.643 Hz at 60 mph with 3.55"
	r := run(t, "shake-match", "", "speed", "60", "tyre", "P235/75R15", "axle-ratio", "3.55", "felt-hz", "12.6")
	near := func(what string, got, want, within float64) {
		t.Helper()
		if !(math.Abs(got-want) <= within) {
			t.Errorf("%s is %g, want %g\nsource: %s", what, got, want, source)
		}
	}
	near("turns_per_mile", r.Values.Get("turns_per_mile"), 720.73, 0.005)
	near("wheel_hz", r.Values.Get("wheel_hz"), 12.012, 0.0005)
	near("shaft_hz", r.Values.Get("shaft_hz"), 42.643, 0.0005)
	text, err := json.Marshal(r.Values)
	if err != nil {
		t.Fatal(err)
	}
	var got struct {
		Match []any
		Open  []struct {
			Wheel, Shaft *int
			Hz, Off      float64
		} `json:"not_ruled_out"`
	}
	text = []byte(strings.NewReplacer("wheel_order", "wheel", "shaft_order", "shaft", "off_percent", "off").Replace(string(text)))
	if err := json.Unmarshal(text, &got); err != nil {
		t.Fatalf("%v\n%s", err, text)
	}
	if len(got.Match) != 0 || len(got.Open) != 1 || got.Open[0].Wheel == nil || *got.Open[0].Wheel != 1 || got.Open[0].Shaft != nil {
		t.Fatalf("%s", text)
	}
	near("off", got.Open[0].Off, (12.6/12.0122-1)*100, 0.01)
	near("apart", run(t, "shake-match", "", "speed", "60", "tyre", "235/75R15", "axle-ratio", "2.2", "felt-hz", "25.2").Values.Get("apart_from_kmh"),
		// 24.024 and 26.427 Hz: q 1.1, h 0.047619; root of h² - 0.0018 is
		// 0.021623; 0.05/24.024 is 0.0020813; times 96.56 km/h.
		0.0020813/0.021623*96.5606, 0.01)
	for _, key := range []string{"apart_from_kmh"} {
		if x := run(t, "shake-match", "", "speed", "60", "tyre", "235/75R15", "axle-ratio", "2.0", "felt-hz", "24.0").Values.Get(key); !math.IsNaN(x) {
			t.Errorf("%s is %g, want none: no speed tells them apart", key, x)
		}
	}

	h := run(t, "wheel-heat", "", "ambient", "20 C", "wheels", "80 60 - 20 C")
	for key, want := range map[string]float64{"front_left_rise_c": 60, "front_right_rise_c": 40, "rear_right_rise_c": 0, "front_left_less_right_c": 20, "front_rise_ratio": 1.5} {
		near(key, h.Values.Get(key), want, 1e-9)
	}
	for _, key := range []string{"rear_left_rise_c", "rear_left_less_right_c", "rear_rise_ratio"} {
		if !math.IsNaN(h.Values.Get(key)) {
			t.Errorf("%s is %g, want none", key, h.Values.Get(key))
		}
	}
	g := run(t, "runout-growth", "", "runout", "8.0 thou", "trip", "2000", "roll-out", "75.7894737 in", "variation", "5 um")
	for key, want := range map[string]float64{"trip_share_low_percent": 200.0 / 7, "trip_share_high_percent": 200.0 / 3, "turns_per_mile": 836, "turns": 1672000,
		"grown_low_mm": 0.04 / 7, "grown_high_mm": 0.04 / 3, "variation_after_low_mm": 0.005 + 0.04/7, "variation_after_high_mm": 0.005 + 0.04/3,
		"wear_per_turn_low_pm": 20e6 / 836 / 7000, "wear_per_turn_high_pm": 20e6 / 836 / 3000} {
		near(key, g.Values.Get(key), want, 1e-6*want)
	}
	f := run(t, "pulse-felt", "", "variation", "0.025 mm", "caliper", "74.6 mm", "master", "25.4 mm", "pedal-ratio", "4", "fluid-taken", "0.15 cc", "at-pressure", "1 MPa", "friction", "0.38", "effective-radius", "115 mm")
	for key, want := range map[string]float64{"fluid_pushed_mm3": 109.271661, "master_pulse_mm": 0.431301, "pedal_pulse_mm": 1.725203, "pressure_pulse_kpa": 728.478, "torque_pulse_nm": 38.201373 * 7.28478} {
		near(key, f.Values.Get(key), want, 1e-5*want)
	}
	one := run(t, "pulse-felt", "", "variation", "0.025 mm", "caliper", "74.6 mm", "master", "25.4 mm", "rotors", "1", "pistons", "2")
	near("one rotor of two pistons", one.Values.Get("master_pulse_mm"), 0.431301, 1e-6)
	w := run(t, "lining-worn", "", "energy", "142449 J", "friction", "0.38", "pad-area", "4500 mm2", "stops", "10")
	near("worn", w.Values.Get("worn_um"), 12.5/1.5*1, 0.005)
	near("stops to a millimetre", w.Values.Get("stops_to_1_mm"), 1500/1.25, 0.5)
	near("at the least", w.Values.Get("stops_to_1_mm_low"), 800, 0.5)
	near("at the most", w.Values.Get("stops_to_1_mm_high"), 2400, 1)
}

// What it says that a number cannot.
func TestShakeSays(t *testing.T) {
	for _, tt := range []struct {
		calc  string
		flags []string
		want  string
	}{
		{"shake-match", []string{"speed", "60", "tyre", "235/75R15", "axle-ratio", "2.0", "felt-hz", "24.0"}, "No other speed tells these apart"},
		{"shake-match", []string{"speed", "30", "tyre", "235/75R15", "axle-ratio", "2.3", "felt-hz", "13"}, "a count as fine as this one tells them apart"},
		{"shake-match", []string{"speed", "60", "tyre", "235/75R15", "felt-hz", "12"}, "Which of the four wheels it is, no frequency tells"},
		{"shake-match", []string{"speed", "60", "tyre", "235/75R15", "felt-hz", "12"}, "No axle ratio given"},
		{"shake-match", []string{"speed", "60", "tyre", "H78-15"}, "An old size"},
		{"shake-match", []string{"speed", "60", "tyre", "235/75R15", "roll-out", "7 ft"}, "The size alone would say 87.9 in (2233 mm): 4.4 % apart."},
		{"shake-match", []string{"speed", "96 km/h", "tyre", "235/75R15", "axle-ratio", "2.3", "felt-hz", "25"}, "km/h ("},
		{"pulse-count", []string{"pulses", "2", "turns", "1"}, "Too few turns"},
		{"pulse-count", []string{"pulses", "15", "turns", "10"}, "No whole number"},
		{"shake-trend", []string{"at", "58 60", "at-hz", "12 12"}, "Count again at 66 mph (106 km/h) or more"},
		{"wheel-heat", []string{"ambient", "20 C", "wheels", "30 21 20 22 C"}, "No wheel rose by more than 15 C (27 F)"},
		{"wheel-heat", []string{"ambient", "68 F", "wheels", "300 130 - - F"}, "and the right one too little"},
		{"wheel-heat", []string{"ambient", "68 F", "wheels", "68 250 - - F"}, "no ratio"},
		{"runout-growth", []string{"runout", "8.0 thou", "trip", "2000"}, "This trip is 29 to 67 % of the distance"},
		{"runout-growth", []string{"runout", "4.0 thou", "trip", "2000"}, "Whether it runs out at all is too close to call"},
		{"runout-growth", []string{"runout", "8.0 thou", "trip", "2000"}, "never one to leave it"},
	} {
		r := run(t, tt.calc, "", tt.flags...)
		all := strings.Join(slices.Concat(r.Say, r.Warnings, r.Steps), "\n")
		if !strings.Contains(all, tt.want) {
			t.Errorf("%s %q lacks %q:\n%s", tt.calc, tt.flags, tt.want, all)
		}
	}
}

func BenchmarkShakeMatch(b *testing.B) {
	c, _ := Find("shake-match")
	in := given(b, c, "", "speed", "60", "tyre", "235/75R15", "axle-ratio", "3.55", "felt-hz", "12")
	for b.Loop() {
		if _, err := c.Run(in); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkWheelHeat(b *testing.B) {
	c, _ := Find("wheel-heat")
	in := given(b, c, "", "ambient", "70 F", "wheels", "185 120 95 98 F")
	for b.Loop() {
		if _, err := c.Run(in); err != nil {
			b.Fatal(err)
		}
	}
}
