package calc

import (
	"errors"
	"math"
	"slices"
	"strings"
	"testing"

	"chock/brakes"
	"chock/brakes/unit"
)

const (
	reserve = "Maryland COMAR 11.14.09.05: a third left; 49 CFR 570.55(c): 80 % at most; 1.96 u inside the one and past the other"
	pumping = "our estimate: half an inch to an inch, 1.64 u either side; u of one reading to a tenth of an inch is sqrt(2.54²/12 + 2²) = 2.1 mm"
	holding = "49 CFR 570.55(b): no further fall in 10 s; Ohio and Maryland: none in a minute"
)

// all is an outcome for each rule, by its ending.
func all(ends ...string) (out []string) {
	for i, r := range brakes.PedalRules() {
		out = append(out, r.ID+"-"+ends[i])
	}
	return out
}

func init() {
	row := func(name, calc string, source string, want []string, flags ...string) {
		outcomeRows = append(outcomeRows, outcomeRow{name, calc, flags, want, source})
	}
	// u of 1 - B/A with heights to a tenth of an inch: a reading 2.13 mm, so the
	// share 1.4 % near the floor and 1.5 % near a third: 1.96 u is 2.8 and 2.9 %.
	row("three fifths used", "pedal-travel", reserve, []string{"reserve-enough", "pumped-unknown"}, "free", "6.0 in", "pressed", "2.4 in")
	row("a third left", "pedal-travel", reserve, []string{"reserve-too-close", "pumped-unknown"}, "free", "6.0 in", "pressed", "2.0 in")
	row("63.3 % used", "pedal-travel", reserve, []string{"reserve-enough", "pumped-unknown"}, "free", "6.0 in", "pressed", "2.2 in")
	row("64 % used", "pedal-travel", reserve, []string{"reserve-too-close", "pumped-unknown"}, "free", "6.0 in", "pressed", "2.16 in")
	row("a fifth left", "pedal-travel", reserve, []string{"reserve-too-close", "pumped-unknown"}, "free", "6.0 in", "pressed", "1.2 in")
	row("less than a fifth", "pedal-travel", reserve, []string{"reserve-low", "pumped-unknown"}, "free", "6.0 in", "pressed", "1.1 in")
	row("the floor", "pedal-travel", reserve, []string{"reserve-low", "pumped-unknown"}, "free", "150 mm", "pressed", "0 mm")
	row("a manual that allows more", "pedal-travel", reserve, []string{"reserve-enough", "pumped-unknown"}, "free", "6.0 in", "pressed", "1.1 in", "reserve-limit", "85 %")
	row("a manual that wants more", "pedal-travel", reserve, []string{"reserve-low", "pumped-unknown"}, "free", "6.0 in", "pressed", "2.4 in", "reserve-limit", "50 %")
	row("a travel", "pedal-travel", reserve, []string{"reserve-low", "pumped-unknown"}, "free", "6.0 in", "travel", "4.9 in")
	row("a travel alone", "pedal-travel", pumping, []string{"reserve-unknown", "pumped-unknown"}, "travel", "4.0 in")
	row("comes up", "pedal-travel", pumping, []string{"reserve-low", "comes-up"}, "free", "6.0 in", "pressed", "1.0 in", "pumped", "2.5 in")
	row("comes up, as travels", "pedal-travel", pumping, []string{"reserve-unknown", "comes-up"}, "travel", "4.0 in", "pumped-travel", "2.5 in")
	// A reading to a hundredth and one to a tenth: 1.64 u is 0.189 in.
	row("just an inch and a bit", "pedal-travel", pumping, []string{"reserve-low", "pumped-too-close"}, "free", "6.0 in", "pressed", "1.0 in", "pumped", "2.18 in")
	row("clearly more", "pedal-travel", pumping, []string{"reserve-low", "comes-up"}, "free", "6.0 in", "pressed", "1.0 in", "pumped", "2.2 in")
	row("stays", "pedal-travel", pumping, []string{"reserve-low", "stays"}, "free", "6.0 in", "pressed", "1.0 in", "pumped", "1.3 in")
	row("a little", "pedal-travel", pumping, []string{"reserve-low", "pumped-too-close"}, "free", "6.0 in", "pressed", "1.0 in", "pumped", "1.5 in")
	row("a little lower, within the doubt", "pedal-travel", pumping, []string{"reserve-enough", "stays"}, "free", "6.0 in", "pressed", "3.0 in", "pumped", "2.9 in")
	row("goes down", "pedal-travel", pumping, []string{"reserve-enough", "goes-down"}, "free", "6.0 in", "pressed", "3.0 in", "pumped", "2.5 in")

	row("held", "pedal-sink", holding, []string{"holds"}, "sink", "0 in", "in", "60")
	row("held, but not for long", "pedal-sink", holding, []string{"sink-too-close"}, "sink", "0 in", "in", "5")
	row("sinks", "pedal-sink", holding, []string{"sinks"}, "sink", "1 in", "in", "10")
	// A step of 1 mm: 1.96/sqrt(12) is 0.57 mm.
	row("one step of the tape", "pedal-sink", holding, []string{"sinks"}, "sink", "1 mm", "in", "1 min")

	// us-light us-light-assisted us-heavy ohio ohio-assisted maryland maryland-fleet uk list
	rules := "each rule by itself, as docs and testdata have it"
	row("75.0 %", "pedal-rules", rules, all("kept", "kept", "kept", "broken", "kept", "broken", "kept", "kept", "kept"), "free", "6.0 in", "pressed", "1.5 in")
	row("80.0 %", "pedal-rules", rules, all("kept", "kept", "kept", "broken", "kept", "broken", "broken", "kept", "kept"), "free", "6.0 in", "pressed", "1.2 in")
	row("83.3 %", "pedal-rules", rules, all("broken", "broken", "broken", "broken", "broken", "broken", "broken", "kept", "broken"), "free", "6.0 in", "pressed", "1.0 in")
	row("on the floor", "pedal-rules", rules, all("broken", "broken", "broken", "broken", "broken", "broken", "broken", "broken", "broken"), "free", "6.0 in", "pressed", "0 in")
	row("half used, foot alone, 50 lbf", "pedal-rules", rules, all("kept", "unknown", "unknown", "kept", "unknown", "kept", "kept", "kept", "kept"),
		"free", "6.0 in", "travel", "3.0 in", "booster", "none", "force", "50", "gross-weight", "6000")
	row("assisted, 50 lbf, heavy", "pedal-rules", rules, all("unknown", "unknown", "kept", "unknown", "kept", "kept", "kept", "kept", "kept"),
		"free", "6.0 in", "travel", "3.0 in", "booster", "vacuum", "force", "50", "gross-weight", "11000")
	// A light foot proves a low pedal, not a high one; a hard foot the other way.
	row("high under a light foot", "pedal-rules", rules, all("unknown", "unknown", "unknown", "unknown", "kept", "kept", "kept", "kept", "kept"),
		"free", "6.0 in", "travel", "3.0 in", "force", "20")
	row("low under a light foot", "pedal-rules", rules, all("broken", "unknown", "unknown", "broken", "unknown", "broken", "broken", "kept", "broken"),
		"free", "6.0 in", "travel", "5.0 in", "force", "10", "booster", "none", "gross-weight", "10000 lb")
	row("low under a hard foot", "pedal-rules", rules, all("unknown", "unknown", "unknown", "unknown", "unknown", "broken", "broken", "kept", "broken"),
		"free", "6.0 in", "travel", "5.0 in", "force", "100", "booster", "hydraulic", "gross-weight", "10000 lb")
}

func TestPedalRefuses(t *testing.T) {
	vol := func(more ...string) []string { return append([]string{"master", "1 in", "pedal-ratio", "6"}, more...) }
	for _, tt := range []struct {
		calc  string
		flags []string
		want  string
	}{
		{"pedal-travel", nil, "pressed: is needed"},
		{"pedal-travel", []string{"free", "6 in"}, "pressed: is needed"},
		{"pedal-travel", []string{"free", "0 in", "pressed", "0 in"}, "free: a pedal on the floor"},
		{"pedal-travel", []string{"free", "-6 in", "pressed", "1 in"}, "free: -6 in: want 0 or more"},
		{"pedal-travel", []string{"free", "6 in", "pressed", "-1 in"}, "pressed: -1 in: want 0 or more"},
		{"pedal-travel", []string{"free", "6 in", "pressed", "7 in"}, "pressed: 7 in is more than the free height, 6 in"},
		{"pedal-travel", []string{"free", "6 in", "travel", "7 in"}, "travel: 7 in is more than the way to the floor, 6 in"},
		{"pedal-travel", []string{"free", "6 in", "travel", "4 in", "pressed", "2 in"}, "travel: says the same as --pressed"},
		{"pedal-travel", []string{"free", "6 in", "pressed", "2 in", "pumped", "7 in"}, "pumped: 7 in is more"},
		{"pedal-travel", []string{"pressed", "2 in"}, "free: is needed beside --pressed"},
		{"pedal-travel", []string{"travel", "2 in", "pumped", "1 in"}, "free: is needed beside --pumped"},
		{"pedal-travel", []string{"free", "6 in", "pressed", "2 in", "reserve-limit", "0 %"}, "reserve-limit: "},
		{"pedal-travel", []string{"free", "6 in", "pressed", "2 in", "reserve-limit", "101 %"}, "reserve-limit: "},
		{"pedal-rules", nil, "free: is needed"},
		{"pedal-rules", []string{"free", "6 in"}, "pressed: is needed"},
		{"pedal-rules", []string{"free", "6 in", "pressed", "1 in", "force", "0"}, "force: "},
		{"pedal-rules", []string{"free", "6 in", "pressed", "1 in", "booster", "air"}, `booster: "air": want none, vacuum, hydraulic`},
		{"pedal-rules", []string{"free", "6 in", "pressed", "1 in", "gross-weight", "0"}, "gross-weight: "},
		{"pedal-sink", []string{"sink", "1 in"}, "in: is needed"},
		{"pedal-sink", []string{"sink", "-1 in", "in", "10"}, "sink: -1 in: want 0 or more"},
		{"pedal-sink", []string{"sink", "1 in", "in", "0"}, "in: 0 s: want more than 0"},
		{"pedal-sink", []string{"sink", "1 in", "in", "10", "master", "0 in", "pedal-ratio", "6"}, "master: "},
		{"pedal-sink", []string{"sink", "1 in", "in", "10", "master", "1 in", "pedal-ratio", "0"}, "pedal-ratio: "},
		{"pedal-volume", []string{"master", "1 in"}, "pedal-ratio: is needed"},
		{"pedal-volume", []string{"master", "0 in", "pedal-ratio", "6"}, "master: "},
		{"pedal-volume", []string{"master", "1 in", "pedal-ratio", "0"}, "pedal-ratio: "},
		{"pedal-volume", vol("free-play", "-1 in"), "free-play: "},
		{"pedal-volume", vol("free-play", "1 in", "travel", "0.5 in"), "free-play: 1 in is more than the pedal went, 0.50 in"},
		{"pedal-volume", vol("pressure", "0 psi"), "pressure: "},
		{"pedal-volume", vol("force", "0"), "force: "},
		{"pedal-volume", vol("wheel-cylinder", "0 in"), "wheel-cylinder: "},
		{"pedal-volume", vol("front-wheel-cylinder", "-1 in"), "front-wheel-cylinder: "},
		{"pedal-volume", vol("caliper", "0 in"), "caliper: "},
		{"pedal-volume", vol("pistons", "2"), "pistons: there is no caliper"},
		{"pedal-volume", vol("retraction", "0.01 in"), "retraction: of which pistons? give --caliper"},
		{"pedal-volume", vol("front-yield", "0.01 in"), "front-yield: of which pistons? give --caliper"},
		{"pedal-volume", vol("clearance", "0.01 in"), "clearance: of which pistons? give --wheel-cylinder"},
		{"pedal-volume", vol("clearance", "0.01 in", "front-wheel-cylinder", "1 in"), "clearance: of which pistons? give --wheel-cylinder"},
		{"pedal-volume", vol("rear-yield", "0.01 in"), "rear-yield: of which pistons? give --wheel-cylinder"},
		{"pedal-volume", vol("retraction", "-0.01 in", "caliper", "2 in"), "retraction: "},
		{"pedal-volume", vol("clearance", "-0.01 in", "wheel-cylinder", "1 in"), "clearance: "},
		{"pedal-volume", vol("hose", "4 ft"), "hose: takes the pressure"},
		{"pedal-volume", vol("fluid", "100 cc"), "fluid: takes the pressure"},
		{"pedal-volume", vol("air", "1 cc"), "air: takes the pressure"},
		{"pedal-volume", vol("pipe", "10 ft"), "pipe: takes the pressure"},
		{"pedal-volume", vol("pressure", "1000 psi", "air", "-1 cc"), "air: "},
		{"pedal-volume", vol("pressure", "1000 psi", "fluid", "-1 cc"), "fluid: "},
		{"pedal-volume", vol("pressure", "1000 psi", "pipe", "-1 ft"), "pipe: "},
		{"pedal-volume", vol("pressure", "4000 psi", "hose", "4 ft"), "hose: pressure is"},
		{"pedal-volume", vol("pressure", "1000 psi", "hose", "4 ft", "hose-bore", "0 in"), "hose-bore: "},
		{"pedal-volume", vol("pressure", "1000 psi", "hose", "4 ft", "hose-sort", "old"), `hose-sort: "old": want regular, stiff`},
		{"pedal-volume", vol("hose-bore", "1/8 in"), "hose-bore: of how much hose"},
		{"pedal-volume", vol("hose-sort", "stiff"), "hose-sort: of how much hose"},
		{"pedal-volume", vol("stroke", "0.75 in"), "stroke: takes a press of the pedal, or a budget"},
		{"pedal-volume", vol("stroke", "0 in", "travel", "3 in"), "stroke: 0 in: want more than 0"},
		{"pedal-volume", vol("stroke", "0.75 in", "travel", "3 in", "circuits", "one"), "stroke: with one circuit"},
		{"pedal-volume", vol("stroke", "0.75 in", "travel", "3 in", "circuits", "three"), `circuits: "three": want one, two, diagonal`},
		{"pedal-volume", vol("stroke", "0.1 in", "travel", "3 in"), "stroke: way into the first section"},
		{"pedal-volume", vol("vacuum", "10 inHg"), "vacuum: by how much does the booster multiply"},
		{"hydraulic-ratio", []string{"booster-gain", "3", "vacuum", "10 inHg"}, "vacuum: on what does it work"},
		{"hydraulic-ratio", []string{"booster-gain", "3", "booster-diaphragm", "8 in", "vacuum", "31 inHg"}, "vacuum: "},
		{"hydraulic-ratio", []string{"booster-gain", "3", "booster-diaphragm", "8 in", "vacuum", "-1 inHg"}, "vacuum: "},
		{"hydraulic-ratio", []string{"booster-gain", "3", "booster-diaphragm", "0 in"}, "booster-diaphragm: "},
		{"hydraulic-ratio", []string{"booster-gain", "3", "booster-diaphragm", "8 8 8 in"}, "booster-diaphragm: number of diaphragms is 3"},
		{"hydraulic-ratio", []string{"booster-gain", "3", "booster-diaphragm", "8 - in"}, "booster-diaphragm: want a width"},
		{"hydraulic-ratio", []string{"booster-gain", "3", "altitude", "5000"}, "altitude: it takes off from a vacuum"},
		{"hydraulic-ratio", []string{"booster-gain", "3", "booster-diaphragm", "8 in", "altitude", "50000"}, "altitude: "},
		{"hydraulic-ratio", []string{"booster-gain", "3", "cut-in", "10"}, "cut-in: of which booster"},
		{"hydraulic-ratio", []string{"booster-gain", "3", "booster-diaphragm", "8 in", "jump-in", "-1"}, "jump-in: "},
		{"hydraulic-ratio", []string{"line-pressure", "1000 psi"}, "line-pressure: of which master cylinder"},
		{"hydraulic-ratio", []string{"line-pressure", "0 psi", "master", "1 in"}, "line-pressure: "},
		{"hydraulic-ratio", []string{"second-master", "1 in"}, "second-master: and the first section"},
		{"hydraulic-ratio", []string{"master", "1 in", "second-master", "0 in"}, "second-master: "},
		{"hydraulic-ratio", []string{"master", "1 in", "second-feeds", "front"}, "second-feeds: which bore has it"},
		{"hydraulic-ratio", []string{"master", "1 in", "second-master", "1 in", "second-feeds", "left"}, `second-feeds: "left": want front, rear`},
	} {
		c, ok := Find(tt.calc)
		if !ok {
			t.Fatal(tt.calc)
		}
		_, err := c.Run(given(t, c, "", tt.flags...))
		var bad *InputError
		if !errors.As(err, &bad) || !strings.HasPrefix(err.Error(), tt.want) {
			t.Errorf("%s %q: error %v, want %s", tt.calc, tt.flags, err, tt.want)
		}
	}
	// What is no number at all.
	for _, x := range []float64{math.NaN(), math.Inf(1), math.Inf(-1)} {
		bad := func(k unit.Kind) []unit.Any {
			return []unit.Any{{Kind: k, SI: x, Resolution: 1e-3, Text: "x", Unit: "mm"}}
		}
		good := func(k unit.Kind, v float64) []unit.Any {
			return []unit.Any{{Kind: k, SI: v, Resolution: 1e-3, Text: "1", Unit: "mm"}}
		}
		for _, in := range []map[string][]unit.Any{
			{"free": good(unit.KindLength, 0.15), "pressed": bad(unit.KindLength)},
			{"free": bad(unit.KindLength), "pressed": good(unit.KindLength, 0.05)},
		} {
			if _, err := pedalTravel.Run(in); err == nil {
				t.Errorf("%v is taken", in)
			}
		}
		for _, in := range []map[string][]unit.Any{
			{"sink": bad(unit.KindLength), "in": good(unit.KindTime, 10)}, {"sink": good(unit.KindLength, 0.01), "in": bad(unit.KindTime)},
		} {
			if _, err := pedalSink.Run(in); err == nil {
				t.Errorf("%v is taken", in)
			}
		}
		for _, name := range []string{"pressure", "force", "fluid", "air", "retraction", "stroke", "free-play", "travel"} {
			i, _ := pedalVolume.Input(name)
			in := map[string][]unit.Any{"master": good(unit.KindLength, 0.0254), "pedal-ratio": good(unit.KindRatio, 6), "caliper": good(unit.KindLength, 0.05), name: bad(i.Kind)}
			if _, err := pedalVolume.Run(in); err == nil {
				t.Errorf("%s of %g is taken", name, x)
			}
		}
	}
}

// keysOf holds numbers under keys against what they should be.
func keysOf(t *testing.T, r Result, source string, within float64, want map[string]float64) {
	t.Helper()
	for k, w := range want {
		got := r.Values.Get(k)
		switch {
		case math.IsNaN(w) != math.IsNaN(got):
			t.Errorf("%s is %g, want %g\nsource: %s", k, got, w, source)
		case math.Abs(got-w) > within*math.Max(1e-6, math.Abs(w)):
			t.Errorf("%s is %.9g, want %.9g\nsource: %s", k, got, w, source)
		}
	}
}

var nan = math.NaN()

func TestPedalValues(t *testing.T) {
	plain := "worked by hand in plain Python from the formulas of the research: pedal 6, 1 in master cylinder, 1,000 psi"
	r := run(t, "pedal-volume", "in", "master", "1", "pedal-ratio", "6", "pressure", "1000 psi", "travel", "1.4713", "pumped-travel", "0.0000", "wheel-cylinder", "0.875", "caliper", "2.75")
	keysOf(t, r, plain+"; ΔD 0.080 in is 1.47 in of pedal", 1e-3, map[string]float64{"clearance_mm": 0.080 * 25.4, "gone_cc": 0.192592 * 16.387064, "air_cc": 0, "stays_cc": 0, "knock_back_mm": 0.192592 / 2 / 5.93957 * 25.4})
	r = run(t, "pedal-volume", "mm", "master", "25.4", "pedal-ratio", "6", "pressure", "1000 psi", "travel", "11.67")
	keysOf(t, r, plain+"; 1 cc of air is 11.67 mm of pedal", 1e-3, map[string]float64{"air_cc": 1, "clearance_mm": nan, "knock_back_mm": nan, "gone_cc": nan, "stays_cc": nan, "pressure_kpa": 6894.757})
	r = run(t, "pedal-volume", "in", "master", "1", "pedal-ratio", "6", "pressure", "1000 psi", "travel", "0.9075", "caliper", "2.75")
	keysOf(t, r, plain+"; pads pushed back by 0.010 in are 0.9075 in of pedal", 1e-3, map[string]float64{"knock_back_mm": 0.254})
	// Four drums share it.
	r = run(t, "pedal-volume", "in", "master", "1", "pedal-ratio", "6", "travel", "1.4713", "wheel-cylinder", "0.875", "front-wheel-cylinder", "0.875")
	keysOf(t, r, plain+"; half as much at each of four", 1e-3, map[string]float64{"clearance_mm": 0.040 * 25.4, "air_cc": 0.192592 * 16.387064, "air_quick_cc": nan})

	budget := []string{"master", "1", "pedal-ratio", "6", "pressure", "1000 psi", "caliper", "2.75", "retraction", "0.010", "front-yield", "0.012",
		"wheel-cylinder", "0.875", "clearance", "0.020", "rear-yield", "0.010", "hose", "48", "hose-bore", "0.1875", "fluid", "120 cc", "pipe", "236", "air", "1 cc"}
	r = run(t, "pedal-volume", "in", budget...)
	keysOf(t, r, plain, 6e-4, map[string]float64{"budget_retraction_cc": 1.947, "budget_clearance_cc": 0.788, "budget_front_yield_cc": 2.336, "budget_rear_yield_cc": 0.394,
		"budget_hose_cc": 3.440, "budget_fluid_cc": 0.4867, "budget_air_cc": 0.98552, "budget_cc": 10.389, "budget_travel_mm": 4.843 * 25.4, "budget_percent": nan, "unexplained_cc": nan})
	keysOf(t, r, plain+", two digits", 0.05, map[string]float64{"budget_pipe_cc": 0.011})
	// Read back: the budget's own travel leaves nothing unexplained, and 1 cc of air as air.
	r = run(t, "pedal-volume", "in", append(slices.Clone(budget), "free", "6.0000", "travel", "4.8433", "stroke", "0.75")...)
	keysOf(t, r, plain+", read back", 2e-3, map[string]float64{"air_cc": 1, "clearance_mm": 0.508, "budget_percent": 4.8433 / 6 * 100,
		// front 0.11879+0.14255+0.30035/2 in3, rear 0.04811+0.02405+0.30035/2 in3
		"front_gone_travel_mm": 25.4 * 6 * (0.75 + 0.22233/0.785398), "rear_gone_travel_mm": 25.4 * 6 * (0.75 + 0.41151/0.785398)})
	if x := r.Values.Get("unexplained_cc"); math.Abs(x) > 2e-3 {
		t.Errorf("unexplained %g cc", x)
	}
	if x := r.Values.Get("knock_back_mm"); math.Abs(x) > 1e-4 {
		t.Errorf("knock-back %g mm beside a budget that explains it all", x)
	}
	// Diagonal: both circuits alike.
	r = run(t, "pedal-volume", "in", append(slices.Clone(budget), "stroke", "0.75", "circuits", "diagonal")...)
	keysOf(t, r, plain+", halves of 0.63400 in3", 1e-3, map[string]float64{"front_gone_travel_mm": 25.4 * 6 * (0.75 + 0.3170/0.785398), "rear_gone_travel_mm": 25.4 * 6 * (0.75 + 0.3170/0.785398)})
	r = run(t, "pedal-volume", "in", "master", "1", "pedal-ratio", "6", "travel", "3.25", "free-play", "0.25", "stroke", "0.75")
	keysOf(t, r, "half of 3 in at the pad: 0.5 in of rod in all, 0.25 in each, 0.25 in of play", 1e-9, map[string]float64{"front_gone_travel_mm": 25.4 * 6.25, "rear_gone_travel_mm": 25.4 * 6.25, "volume_cc": 0.5 * 0.7853981634 * 16.387064})
	// Stiff hoses; a bore that is not given.
	r = run(t, "pedal-volume", "in", "master", "1", "pedal-ratio", "6", "pressure", "1500 psi", "hose", "18", "hose-sort", "stiff")
	keysOf(t, r, "49 CFR 571.106, table I, from memory: 1.5 ft of 0.42 cc", 1e-9, map[string]float64{"budget_hose_cc": 0.63})

	// The pressure worked out: 50 lbf x 6 = 300 lbf; boosted by 3; by a booster past its knee; with none of its vacuum.
	for _, tt := range []struct {
		flags []string
		psi   float64
	}{
		{nil, 300 / 0.7853981634},
		{[]string{"booster-gain", "3"}, 900 / 0.7853981634},
		{[]string{"booster-gain", "1"}, 300 / 0.7853981634},
		{[]string{"booster-gain", "4", "booster-diaphragm", "8.55", "vacuum", "20 inHg"}, 863.983 / 0.7853981634},
		{[]string{"booster-gain", "4", "booster-diaphragm", "8.55"}, 863.983 / 0.7853981634},
		{[]string{"booster-gain", "4", "booster-diaphragm", "8.55", "vacuum", "0 inHg"}, 300 / 0.7853981634},
		{[]string{"booster-gain", "4", "vacuum", "0 inHg"}, 300 / 0.7853981634},
		{[]string{"booster-diaphragm", "8.55"}, 300 / 0.7853981634},
	} {
		r := run(t, "pedal-volume", "in", append([]string{"master", "1", "pedal-ratio", "6", "travel", "3", "force", "50"}, tt.flags...)...)
		keysOf(t, r, "force balance; knee of an 8.55 in diaphragm at 20 inHg, worked in plain Python: 564.0 lbf of help", 1e-4, map[string]float64{"pressure_kpa": tt.psi * 6.894757})
	}

	r = run(t, "pedal-sink", "in", "sink", "1", "in", "10", "master", "1", "pedal-ratio", "6")
	keysOf(t, r, "0.1309 in3 in 10 s, 0.2145 cc/s", 4e-4, map[string]float64{"leak_cc": 0.1309 * 16.387064, "leak_cc_per_s": 0.2145, "sink_mm": 25.4, "sink_mm_per_min": 152.4})
	r = run(t, "pedal-sink", "in", "sink", "1", "in", "10")
	keysOf(t, r, "no master cylinder known", 0, map[string]float64{"leak_cc": nan, "leak_cc_per_s": nan})

	r = run(t, "pedal-travel", "mm", "free", "150", "pressed", "30", "pumped", "60")
	// A reading: sqrt(1/12 + 4) = 2.0207 mm. The share: 2.0207/150 sqrt(1 + 0.2²). The difference: sqrt(2).
	keysOf(t, r, "worked by hand", 1e-4, map[string]float64{"travel_percent": 80, "left_percent": 20, "travel_mm": 120, "pumped_travel_mm": 90, "pumped_percent": 60, "came_up_mm": 30,
		"travel_doubt_percent": 1.96 * 100 * 2.0207 / 150 * math.Hypot(1, 0.2), "came_up_doubt_mm": 1.64 * 2.0207 * math.Sqrt2})
	r = run(t, "pedal-travel", "mm", "free", "150", "travel", "120", "pumped", "60")
	keysOf(t, r, "one as a travel, one as a height: the free height is in the difference too", 1e-4, map[string]float64{"travel_percent": 80, "came_up_mm": 30,
		"travel_doubt_percent": 1.96 * 100 * 2.0207 / 150 * math.Hypot(1, 0.8), "came_up_doubt_mm": 1.64 * 2.0207 * math.Sqrt(3)})
	r = run(t, "pedal-volume", "mm", "master", "25.4", "pedal-ratio", "6", "free", "150", "pressed", "30", "pumped", "60")
	area := 506.7075 / 6 / 1000 // cc for each mm of pedal
	keysOf(t, r, "worked by hand", 1e-4, map[string]float64{"volume_cc": 120 * area, "volume_doubt_cc": 1.96 * 2.0207 * math.Sqrt2 * area, "gone_cc": 30 * area, "gone_doubt_cc": 1.96 * 2.0207 * math.Sqrt2 * area,
		"stays_cc": 90 * area, "stays_doubt_cc": 1.96 * 2.0207 * math.Sqrt2 * area, "air_cc": 90 * area, "air_doubt_cc": 1.96 * 2.0207 * math.Sqrt2 * area})
	// It went down: nothing was a gap.
	r = run(t, "pedal-volume", "mm", "master", "25.4", "pedal-ratio", "6", "free", "150", "pressed", "60", "pumped", "30", "wheel-cylinder", "22")
	keysOf(t, r, "a gap cannot be less than none", 0, map[string]float64{"gone_cc": nan, "clearance_mm": nan})
	// Whole inches are taken as read to a quarter, fractions to a sixteenth.
	for text, step := range map[string]float64{"6 in": 6.35, "6-1/2 in": 25.4 / 16, "6.5 in": 2.54, "15 cm": 6.35, "150 mm": 1, "6-3/32 in": 25.4 / 32} {
		if _, u, err := (inputs{"free": given(t, pedalTravel, "", "free", text)["free"]}).tape("free"); err != nil || math.Abs(u.Millimetres()-math.Sqrt(step*step/12+4)) > 1e-9 {
			t.Errorf("%s: doubt %v, %v, want a step of %g mm", text, u, err, step)
		}
	}
}

func TestBoosterValues(t *testing.T) {
	const source = "vacuum booster, gain 4, 8.55 in, worked in plain Python: knee 188.0 in, 752.0 lbf out at 20 inHg; help 564.0, 282.0 lbf at 10 inHg"
	lbf := 4.4482216152605
	r := run(t, "hydraulic-ratio", "in", "pedal-force", "50", "pedal-ratio", "6", "booster-gain", "4", "booster-diaphragm", "8.55", "vacuum", "20 inHg", "master", "1", "caliper", "2.75")
	psi := 6.894757 / 0.7853981634
	keysOf(t, r, source, 2e-4, map[string]float64{"rod_force_n": 864.0 * lbf, "line_pressure_kpa": 864.0 * psi, "knee_rod_force_n": 188.0 * lbf, "knee_pedal_force_n": 188.0 * lbf / 6,
		"half_vacuum_pressure_kpa": 582.0 * psi, "half_vacuum_lost_percent": 100 * (1 - 582.0/864), "no_vacuum_pressure_kpa": 300 * psi, "no_vacuum_lost_percent": 100 * (1 - 300.0/864),
		"needed_pedal_force_n": 50 * lbf, "needed_half_vacuum_n": (864.0 - 282.0) / 6 * lbf, "needed_no_vacuum_n": 144.0 * lbf, "vacuum_kpa": 67.7278,
		"total_ratio_front": 864.0 / 50 * 7.5625, "second_line_pressure_kpa": 864.0 * psi})
	// Below the knee half of the vacuum costs nothing until its own knee.
	r = run(t, "hydraulic-ratio", "in", "pedal-force", "15", "pedal-ratio", "6", "booster-gain", "4", "booster-diaphragm", "8.55", "vacuum", "20 inHg", "master", "1")
	keysOf(t, r, source+"; 90 lbf is below both knees", 2e-4, map[string]float64{"rod_force_n": 360 * lbf, "half_vacuum_lost_percent": 0, "no_vacuum_lost_percent": 75, "needed_no_vacuum_n": 60 * lbf, "needed_half_vacuum_n": 15 * lbf})
	// A line pressure to reach: 752 lbf on the master cylinder.
	r = run(t, "hydraulic-ratio", "in", "line-pressure", "957.4764 psi", "pedal-ratio", "6", "booster-gain", "4", "booster-diaphragm", "8.55", "vacuum", "20 inHg", "master", "1")
	keysOf(t, r, source, 2e-4, map[string]float64{"needed_pedal_force_n": 188.0 / 6 * lbf, "needed_half_vacuum_n": 470.0 / 6 * lbf, "needed_no_vacuum_n": 752.0 / 6 * lbf, "no_vacuum_lost_percent": nan, "line_pressure_kpa": nan})
	// Gain alone: no half.
	r = run(t, "hydraulic-ratio", "in", "pedal-force", "70", "pedal-ratio", "6.2", "booster-gain", "3", "master", "1")
	keysOf(t, r, "web page on pedal ratios: 434 lbf on the rod; three times that", 1e-6, map[string]float64{"rod_force_n": 1302 * lbf, "no_vacuum_lost_percent": 200.0 / 3, "needed_no_vacuum_n": 210 * lbf, "half_vacuum_pressure_kpa": nan, "knee_rod_force_n": nan, "vacuum_kpa": nan, "needed_pedal_force_n": 70 * lbf})
	// No booster at all.
	r = run(t, "hydraulic-ratio", "in", "line-pressure", "1000 psi", "pedal-ratio", "5", "master", "1")
	keysOf(t, r, "1,000 psi on 0.7854 in2 over 5", 1e-6, map[string]float64{"needed_pedal_force_n": 157.0796 * lbf, "needed_no_vacuum_n": 157.0796 * lbf, "needed_half_vacuum_n": nan})
	// Two diaphragms are one of the sum; cut-in and jump-in.
	r = run(t, "hydraulic-ratio", "in", "pedal-force", "30", "pedal-ratio", "6", "booster-gain", "4", "booster-diaphragm", "3 4", "vacuum", "20 inHg", "master", "1")
	s := run(t, "hydraulic-ratio", "in", "pedal-force", "30", "pedal-ratio", "6", "booster-gain", "4", "booster-diaphragm", "5", "vacuum", "20 inHg", "master", "1")
	if a, b := r.Values.Get("rod_force_n"), s.Values.Get("rod_force_n"); math.Abs(a-b) > 1e-9 {
		t.Errorf("3 and 4 in give %g N, 5 in %g N", a, b)
	}
	r = run(t, "hydraulic-ratio", "in", "pedal-force", "10", "pedal-ratio", "6", "booster-gain", "4", "booster-diaphragm", "8.55", "vacuum", "20 inHg", "master", "1", "cut-in", "20", "jump-in", "80")
	keysOf(t, r, "80 + 4 x (60 - 20) lbf", 1e-4, map[string]float64{"rod_force_n": 240 * lbf, "knee_rod_force_n": (563.983 + 80 - 80) / 3 * lbf, "line_pressure_kpa": 240 * psi})
	r = run(t, "hydraulic-ratio", "in", "pedal-force", "3", "pedal-ratio", "6", "booster-gain", "4", "booster-diaphragm", "8.55", "vacuum", "20 inHg", "master", "1", "cut-in", "20", "jump-in", "80")
	keysOf(t, r, "18 lbf does not open it", 0, map[string]float64{"rod_force_n": 0})
	// A height: 20 inHg at sea level is 20 - (29.92 - 24.90) at 5,000 ft.
	r = run(t, "hydraulic-ratio", "in", "pedal-force", "50", "pedal-ratio", "6", "booster-gain", "4", "booster-diaphragm", "8.55", "vacuum", "20 inHg", "altitude", "5000", "master", "1")
	keysOf(t, r, "US Army Ordnance subcourse OD1001: 5 inHg less at 5,000 ft", 4e-3, map[string]float64{"vacuum_kpa": 15 * 3.386389})

	// A stepped master cylinder: 600 lbf on 1 and 7/8 in.
	r = run(t, "hydraulic-ratio", "in", "pedal-force", "600", "master", "1", "second-master", "7/8", "wheel-cylinder", "7/8", "caliper", "2.75")
	keysOf(t, r, "600 lbf on 1 and 7/8 in: 763.94 and 997.80 psi", 1e-5, map[string]float64{"line_pressure_kpa": 763.94 * 6.894757, "second_line_pressure_kpa": 997.80 * 6.894757, "shoe_force_n": 600 * lbf, "clamp_force_n": 600 * 7.5625 * lbf,
		"hydraulic_ratio_rear": 1, "hydraulic_ratio_front": 7.5625, "second_master_area_mm2": 387.95})
	r = run(t, "hydraulic-ratio", "in", "pedal-force", "600", "master", "1", "second-master", "7/8", "second-feeds", "front", "wheel-cylinder", "1", "caliper", "7/8")
	keysOf(t, r, "the other way round", 1e-6, map[string]float64{"shoe_force_n": 600 * lbf, "clamp_force_n": 600 * lbf, "hydraulic_ratio_front": 1})
}

// What is said, word for word, where it decides.
func TestPedalSays(t *testing.T) {
	for _, tt := range []struct {
		calc  string
		flags []string
		want  []string
	}{
		{"pedal-travel", []string{"free", "6.0 in", "pressed", "1.5 in", "pumped", "3.0 in"}, []string{
			"pedal uses 75.0 % of its way, limits 66.7 to 80.0 %, published: too close to call",
			"came up when pumped 1.500 in (38.1 mm), limits 0.500 to 1.000 in (12.7 to 25.4 mm), our estimate: outside",
			"The rules differ here: one wants a third of the way left, others a fifth. Take it as too low before a trip.",
			"It comes up when pumped: there is a gap to fill before the brakes bite.",
		}},
		{"pedal-travel", []string{"free", "150 mm", "pressed", "10 mm", "pumped", "10 mm"}, []string{
			"pedal uses 93.3 % of its way, limits 66.7 to 80.0 %, published: outside",
			"Too little is left under the pedal for a hot day, a hill or a leak: do not drive.",
			"Pumping does not lift it: no gap that pumping fills.",
		}},
		{"pedal-travel", []string{"free", "150 mm", "pressed", "80 mm", "pumped", "40 mm"}, []string{
			"went down when pumped 40.0 mm (1.575 in), most 0.0 mm (0.000 in), our estimate: outside",
			"It goes lower when pumped. Fluid leaves, or slips past a seal in the master cylinder: do not drive. Look for wet places and at the level.",
		}},
		{"pedal-rules", []string{"free", "6.0 in", "travel", "3.0 in", "booster", "none", "force", "20"}, []string{
			"Ohio, foot alone: not judged. It presses with 40 lbf to 60 lbf (267 N), you did with 20 lbf (89 N).",
			"UK MOT, pedal off the floor: 50.0 %, less than 100.0 %, published: within",
		}},
		{"pedal-sink", []string{"sink", "1 in", "in", "10", "booster", "hydraulic"}, []string{
			"sank 1.00 in (25 mm) in 10 s, none allowed, published: outside",
			"A pump assist may let the pedal sink under a hard steady foot. A light foot for a minute, the level and the wet places decide; then a technician.",
		}},
		{"pedal-sink", []string{"sink", "1 in", "in", "10", "booster", "vacuum"}, []string{"A pedal that sinks loses fluid: outside, or past a seal inside. Do not drive."}},
		{"pedal-volume", []string{"master", "1 in", "pedal-ratio", "6", "pressure", "1000 psi", "caliper", "2.75 in", "retraction", "0.010 in", "front-yield", "0.012 in", "wheel-cylinder", "7/8 in",
			"clearance", "0.020 in", "rear-yield", "0.010 in", "hose", "4 ft", "hose-bore", "3/16 in", "fluid", "120 cc", "pipe", "236 in", "air", "1 cc"}, []string{
			"pads up to the rotors = 2 x 5.940 in2 x 0.010 in = 0.119 in3 (1.95 cc)",
			"shoes out to the rear drums = 4 x 0.6013 in2 x 0.020 in = 0.048 in3 (0.79 cc)",
			"front calipers and pads yield = 2 x 5.940 in2 x 0.012 in = 0.143 in3 (2.34 cc)",
			"rear drums and shoes yield = 4 x 0.6013 in2 x 0.010 in = 0.024 in3 (0.39 cc)",
			"hoses swell, at most = 4.00 ft x 0.86 cc a foot = 0.210 in3 (3.44 cc)",
			"steel pipes swell, as thick tubes = 3.205 in3 inside x 0.00022 = 0.00069 in3 (0.011 cc)",
			"the fluid itself is squeezed = 7.323 in3 x 1000 psi / 246600 psi = 0.030 in3 (0.49 cc)",
			"air is squeezed = 0.061 in3 x (1 - 14.7 psi / (14.7 psi + 1000 psi)) = 0.060 in3 (0.99 cc)",
			"By the budget the pedal goes 4.84 in (123 mm).",
		}},
		{"pedal-volume", []string{"master", "1 in", "pedal-ratio", "6", "travel", "1.47 in", "wheel-cylinder", "7/8 in"}, []string{
			"If it were all one thing, it would be this much. Each is an explanation, not a finding.",
			"All clearance: the shoes stand 0.080 in (2.03 mm) under the drum in diameter, give or take 0.008 in (0.21 mm).",
			"All air: at least 0.19 in3 (3.2 cc). How much more takes the force of the foot, or the pressure.",
		}},
		{"hydraulic-ratio", []string{"pedal-force", "70 lbf", "pedal-ratio", "5.5", "booster-gain", "3", "booster-diaphragm", "8.5 in", "vacuum", "20 inHg", "master", "1-1/16 in"}, []string{
			"The booster has given all it has. From here more comes from the foot alone, and the pedal feels hard.",
			"Half of the vacuum: the same foot makes 748.6 psi (5161 kPa), 30 % less.",
			"No vacuum: the same foot makes 434.2 psi (2994 kPa), 59 % less.",
			"For the same pressure it takes 70 lbf (311 N) at the pedal, with half of the vacuum 120.7 lbf (537 N), with no help 171.3 lbf (762 N).",
			"A stop test lets nobody press with more than 150 lbf (667 N) (from memory). A pedal that has lost its help is a reason not to drive.",
		}},
	} {
		r := run(t, tt.calc, "", tt.flags...)
		var all []string
		for _, v := range r.Verdicts {
			all = append(all, v.Say)
		}
		all = slices.Concat(all, r.Say, r.Steps)
		for _, w := range tt.want {
			if !slices.Contains(all, w) {
				t.Errorf("%s %q: lacks %q\nsays\n%s", tt.calc, tt.flags, w, strings.Join(all, "\n"))
			}
		}
	}
}

func BenchmarkCalcPedal(b *testing.B) {
	c := pedalVolume
	in := given(b, c, "in", "master", "1", "pedal-ratio", "6", "pressure", "1000 psi", "free", "6.0", "pressed", "1.0", "pumped", "2.5", "wheel-cylinder", "0.875", "caliper", "2.75")
	for b.Loop() {
		if _, err := c.Run(in); err != nil {
			b.Fatal(err)
		}
	}
}

// Free play is read with the same tape as the rest, and its doubt is in the
// fluid; what pumping took away has it on both sides, and leaves it out.
func TestFreePlayHasItsDoubt(t *testing.T) {
	doubts := func(more ...string) (first, gone float64) {
		v := run(t, "pedal-volume", "in", append([]string{"master", "1", "pedal-ratio", "6", "travel", "3", "pumped-travel", "2"}, more...)...).Values
		return v.Get("volume_doubt_cc"), v.Get("gone_doubt_cc")
	}
	without, gone := doubts()
	with, still := doubts("free-play", "1.0")
	// 1/4 in is the coarsest that a tape counts as read to, 0.1 in is finer: the play is known a little better.
	u := func(step float64) float64 { return math.Hypot(step/math.Sqrt(12), 2/25.4) }
	if want := math.Hypot(u(0.25), u(0.1)) / u(0.25); math.Abs(with/without-want) > 1e-9 {
		t.Errorf("with free play the doubt is %g times as much, want %g", with/without, want)
	}
	if math.Abs(still-gone) > 1e-12 {
		t.Errorf("what pumping took away is doubted by %g cc with free play, %g without", still, gone)
	}
}

// The hoses of a budget are counted with the most that they may swell, so the
// air beside them is the least that there can be: the most is said too.
func TestAirBesideHosesIsTheLeast(t *testing.T) {
	air := func(more ...string) (float64, string) {
		r := run(t, "pedal-volume", "in", append([]string{"master", "1", "pedal-ratio", "6", "travel", "3", "pumped-travel", "3", "pressure", "1000 psi", "front-yield", "0.012", "caliper", "2.75"}, more...)...)
		return r.Values.Get("air_cc"), strings.Join(r.Say, "\n")
	}
	most, text := air()
	if strings.Contains(text, "swell less") {
		t.Error("there are no hoses in it")
	}
	least, text := air("hose", "60 in")
	if !(least < most) {
		t.Errorf("%g cc beside hoses, %g without", least, most)
	}
	if want := "Hoses that swell less than their most leave more air: up to " + unit.FormatTo(unit.KindVolume, most*1e-6, "in3", 2); !strings.Contains(text, want) {
		t.Errorf("want %q in\n%s", want, text)
	}
}

// Beyond the pressures of its table a hose is our estimate, and says so.
func TestHoseBeyondItsTable(t *testing.T) {
	for p, beyond := range map[string]bool{"1000 psi": false, "1500 psi": false, "1501 psi": true, "2900 psi": true} {
		r := run(t, "pedal-volume", "in", "master", "1", "pedal-ratio", "6", "pressure", p, "hose", "18")
		if got := strings.Contains(strings.Join(r.Warnings, "\n"), "is our estimate, and a new one may take more"); got != beyond {
			t.Errorf("at %s: %v, want %v", p, got, beyond)
		}
	}
}
