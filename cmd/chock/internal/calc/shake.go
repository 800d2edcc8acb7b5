package calc

import (
	"fmt"
	"math"
	"strings"

	"chock/brakes"
	"chock/brakes/unit"
)

var axleRatio = Input{Name: "axle-ratio", Kind: unit.KindRatio, Optional: true, Vehicle: "axle-ratio",
	Say: "turns of the shaft for one turn of the wheel, as 3.55"}

var shakeMatch = Calculation{
	Name:    "shake-match",
	Command: "shake",
	Short:   "a shake's frequency against what turns at that speed, and pulses counted by the wheel",
	Title:   "What turns how often",
	Inputs: []Input{
		{Name: "speed", Kind: unit.KindSpeed, Default: "mph", Say: "speed at which it shakes"},
		{Name: "tyre", Kind: unit.KindWord, Optional: true, Vehicle: "AXLE-tyre", Say: "tyre size as on the sidewall, like 235/75R15 or 31x10.50R15"},
		{Name: "roll-out", Kind: unit.KindLength, Optional: true, Typed: true, Say: "in place of the size: how far the vehicle rolls in --roll-turns turns of the wheel"},
		{Name: "roll-turns", Kind: unit.KindCount, Optional: true, Say: "turns of the wheel on that way (1 if not given)"},
		axleRatio,
		{Name: "felt-hz", Kind: unit.KindFrequency, Optional: true, Default: "Hz", Say: "how often a second it shakes, counted or measured"},
		{Name: "speed-error", Kind: unit.KindRatio, Optional: true, Say: "how far the speed may be off: 3 % if not given, 1 % by satellite"},
	},
	Limits: []Limit{
		{"match", "", []string{"shaft-fits", "wheel-fits", "match-open", "match-neither", "match-unknown"}},
	},
	Keys: []string{"turn_mm", "turns_per_mile", "wheel_hz", "shaft_hz", "match", "not_ruled_out", "band_percent", "apart_from_kmh"},
	run:  runShake,
}

var shakeTrend = Calculation{
	Name:    "shake-trend",
	Command: "shake",
	Title:   "The same shake at two speeds",
	Inputs: []Input{
		{Name: "at", Kind: unit.KindSpeed, List: true, Default: "mph", Say: "two speeds at which the same shake was counted, as \"45 60 mph\""},
		{Name: "at-hz", Kind: unit.KindFrequency, List: true, Default: "Hz", Say: "how often a second it shook at each of them, as \"9 12 Hz\""},
	},
	Limits: []Limit{
		{"trend", "", []string{"trend-other", "trend-stays", "trend-turns", "trend-unknown"}},
	},
	Keys: []string{"power", "power_band", "speeds_apart_needed"},
	run:  runTrend,
}

var pulseCount = Calculation{
	Name:    "pulse-count",
	Command: "shake",
	Title:   "Pulses counted by the wheel",
	Inputs: []Input{
		{Name: "pulses", Kind: unit.KindCount, Say: "pulses counted at walking pace while somebody called the turns of a wheel"},
		{Name: "turns", Kind: unit.KindCount, Say: "turns of that wheel meanwhile"},
		axleRatio,
	},
	Limits: []Limit{
		{"pulses", "", []string{"pulses-more", "pulses-twice", "pulses-once", "pulses-shaft", "pulses-open", "pulses-none"}},
	},
	Keys: []string{"pulses_per_turn", "pulses_per_turn_low", "pulses_per_turn_high"},
	run:  runPulses,
}

// metricSpeed reports whether the person drives by kilometres.
func metricSpeed(readings []unit.Any) bool {
	return len(readings) > 0 && (readings[0].Unit == "km/h" || readings[0].Unit == "m/s")
}

// speed shows v in both systems, the person's own first.
func speed(v unit.Speed, metric bool) string {
	own, other := "mph", "km/h"
	if metric {
		own, other = other, own
	}
	digits := 0
	if v < 5*unit.MilePerHour {
		digits = 1
	}
	return unit.FormatTo(unit.KindSpeed, float64(v), own, digits) + " (" + unit.FormatTo(unit.KindSpeed, float64(v), other, digits) + ")"
}

// onGround shows the way of one turn in both systems.
func onGround(l unit.Length, metric bool) string {
	inches, mm := unit.FormatTo(unit.KindLength, float64(l), "in", 1), unit.FormatTo(unit.KindLength, float64(l), "mm", 0)
	if metric {
		return mm + " (" + inches + ")"
	}
	return inches + " (" + mm + ")"
}

func hertz(f unit.Frequency) string {
	return unit.FormatTo(unit.KindFrequency, float64(f), "Hz", 1)
}

// share is a doubt in percent, with one digit after the point where it counts.
func share(r unit.Ratio) string {
	return strings.TrimSuffix(fmt.Sprintf("%.1f", r.Percent()), ".0") + " %"
}

// A wheelTurn is the way of one turn of a wheel, and how well it is known.
type wheelTurn struct {
	way    unit.Length
	off    unit.Ratio
	source string
}

// wheelTurn takes the roll-out, else the size on the sidewall.
func (in inputs) wheelTurn(r *Result, metric bool) (w wheelTurn, err error) {
	way, measured := in.length("roll-out")
	turns, err := in.whole("roll-turns")
	if err != nil {
		return w, err
	}
	if !measured && len(in["roll-turns"]) > 0 {
		return w, &InputError{"roll-turns", fmt.Errorf("turns over which way? give --roll-out")}
	}
	if len(in["tyre"]) == 0 && !measured {
		return w, &InputError{"tyre", fmt.Errorf("is needed: the size on the sidewall; or --roll-out, the way of one turn on the ground")}
	}
	var byName unit.Length
	if len(in["tyre"]) > 0 {
		tyre, err := brakes.ReadTyre(in["tyre"][0].Text)
		switch {
		case err != nil && !measured:
			return w, blame("tyre", err)
		case err == nil:
			if byName, err = brakes.RollingWay(tyre.Free); err != nil {
				return w, err
			}
			w = wheelTurn{byName, tyre.Off(), fmt.Sprintf("way of one turn: %.3f of the free circumference: %s (%s)", float64(brakes.LoadedShare.Value), brakes.LoadedShare.Source, brakes.LoadedShare.Mark)}
			if !measured {
				what := "outer diameter"
				if tyre.Old != "" {
					what = "least outer diameter of the table"
					r.warn("An old size: the table has the least that was allowed. A roll-out is better.")
					r.Sources = append(r.Sources, "old size: "+tyre.Old)
				}
				r.step("%s %s: %s", what, tyre.Size, onGround(tyre.Free, metric))
				r.step("way of one turn = pi x %.3f x %s = %s", float64(brakes.LoadedShare.Value), onGround(tyre.Free, metric), onGround(byName, metric))
			}
		}
	}
	if !measured {
		return w, nil
	}
	turns = max(turns, 1)
	if len(in["roll-turns"]) > 0 {
		if n, err := in.whole("roll-turns"); err != nil || n < 1 {
			return w, &InputError{"roll-turns", fmt.Errorf("%d: want 1 or more", n)}
		}
	}
	c, err := brakes.RollOut(way, unit.Count(turns))
	if err != nil {
		return w, blame("roll-out", err)
	}
	r.step("way of one turn = %s / %d = %s, measured", onGround(way, metric), turns, onGround(c, metric))
	if byName > 0 {
		if apart := unit.Per(c, byName) - 1; math.Abs(float64(apart)) > float64(w.off) {
			r.warn("The size alone would say %s: %s apart. Was it that tyre, and so many turns?", onGround(byName, metric), share(unit.Ratio(math.Abs(float64(apart)))))
		}
	}
	return wheelTurn{c, brakes.RollOutOff.Value, "way of one turn: measured on the ground"}, nil
}

func runShake(raw map[string][]unit.Any) (Result, error) {
	in := inputs(raw)
	var r Result
	metric := metricSpeed(in["speed"])
	v, _ := valueOf[unit.Speed](in, "speed")
	turn, err := in.wheelTurn(&r, metric)
	if err != nil {
		return Result{}, err
	}
	if _, err := brakes.Beats(v, turn.way, 0); err != nil {
		return Result{}, blame("speed", err)
	}
	axle, haveAxle := valueOf[unit.Ratio](in, "axle-ratio")
	if haveAxle && axle == 0 {
		return Result{}, &InputError{"axle-ratio", fmt.Errorf("0: want 1 to 10, as 3.55")}
	}
	if !haveAxle {
		axle = 0
	}
	beats, err := brakes.Beats(v, turn.way, axle)
	if err != nil {
		return Result{}, blame("axle-ratio", err)
	}
	off, given := valueOf[unit.Ratio](in, "speed-error")
	if !given {
		off = brakes.SpeedOff.Value
	}
	perMile, err := brakes.TurnsIn(unit.Mile, turn.way)
	if err != nil {
		return Result{}, err
	}
	r.step("that is %.0f turns in a mile (%.0f in a km)", float64(perMile), float64(perMile)/1.609344)
	one := beats[0].Rate
	r.step("wheel = %s / %s = %s; twice a turn %s, three times %s", speed(v, metric), onGround(turn.way, metric), hertz(one), hertz(beats[1].Rate), hertz(beats[2].Rate))
	shaft := unit.Frequency(math.NaN())
	if haveAxle {
		shaft = beats[3].Rate
		r.step("shaft = %.4g x %s = %s; twice a turn %s", float64(axle), hertz(one), hertz(shaft), hertz(beats[4].Rate))
	}
	m := matching{r: &r, in: in, speed: v, metric: metric, off: off, turn: turn, haveAxle: haveAxle, apartFrom: unit.Speed(math.NaN()), band: unit.Ratio(math.NaN())}
	if err := m.match(beats); err != nil {
		return Result{}, err
	}
	r.Outcomes = []string{m.outcome}
	r.Values = Values{
		{Key: "turn_mm", Number: turn.way.Millimetres()},
		{Key: "turns_per_mile", Number: float64(perMile)},
		{Key: "wheel_hz", Number: one.Hertz()},
		{Key: "shaft_hz", Number: shaft.Hertz()},
		m.list("match", m.fit),
		m.list("not_ruled_out", m.open),
		{Key: "band_percent", Number: m.band.Percent()},
		{Key: "apart_from_kmh", Number: m.apartFrom.KilometresPerHour()},
	}
	if !haveAxle {
		r.warn("No axle ratio given: the shaft is not reckoned, and what fits a wheel twice or three times a turn may be the shaft.")
	}
	r.Sources = append(r.Sources, "turning parts and their orders: makers' service information on vibration; frequency: speed over the way of one turn (definition)",
		turn.source, sourceOf(fmt.Sprintf("speed off by %s, way of one turn by %s", share(off), share(turn.off)), string(brakes.SpeedOff.Mark), brakes.SpeedOff.Source))
	return r, nil
}

// A matching holds what was felt against what turns.
type matching struct {
	r         *Result
	in        inputs
	speed     unit.Speed
	metric    bool
	off       unit.Ratio
	turn      wheelTurn
	haveAxle  bool
	fit, open []brakes.Match
	outcome   string
	apartFrom unit.Speed
	band      unit.Ratio
}

func (m *matching) match(beats []brakes.Beat) error {
	r := m.r
	if len(m.in["felt-hz"]) == 0 {
		m.outcome = "match-unknown"
		r.say("Give --felt-hz to hold a shake against these.")
		return nil
	}
	felt := unit.As[unit.Frequency](m.in["felt-hz"][0])
	if _, err := brakes.MatchBeat(beats[0], felt.Value, felt.Resolution, m.off, 0); err != nil {
		name := "felt-hz"
		if _, bad := brakes.MatchBeat(beats[0], felt.Value, felt.Resolution, 0, 0); bad == nil {
			name = "speed-error"
		}
		return blame(name, err)
	}
	for _, b := range beats {
		one, err := brakes.MatchBeat(b, felt.Value, felt.Resolution, m.off, m.turn.off)
		if err != nil {
			return err
		}
		switch one.Fits {
		case unit.Within:
			m.fit = append(m.fit, one)
		case unit.TooClose:
			m.open = append(m.open, one)
		}
	}
	d := unit.Per(felt.Resolution, felt.Value) / 2
	m.band = unit.Ratio(math.Hypot(math.Hypot(float64(m.off), float64(m.turn.off)), float64(d)))
	r.step("what fits lies within sqrt((%s)² + (%s)² + (%s)²) = %s: speed, tyre and half a step of the count", share(m.off), share(m.turn.off), share(d), share(m.band))
	r.step("what cannot be ruled out lies within their sum, %s", share(m.off+m.turn.off+d))
	for _, x := range append(m.fit, m.open...) {
		r.step("%s against %s, %s: %+.1f %%", hertz(felt.Value), x.Part, often(x.Order), x.Off.Percent())
	}
	return m.say(felt)
}

// say puts what fits into words, and what the match cannot tell apart.
func (m *matching) say(felt unit.Reading[unit.Frequency]) error {
	r := m.r
	all := append(append([]brakes.Match{}, m.fit...), m.open...)
	wheel, shaft, once := false, false, true
	for _, x := range all {
		wheel = wheel || x.Part == brakes.Wheel
		shaft = shaft || x.Part == brakes.Shaft
		once = once && x.Order == 1
	}
	switch {
	case len(all) == 0:
		m.outcome = "match-neither"
		r.say("%s is neither wheel nor shaft at this speed. The engine, or something that swings by itself, is left; or speed, tyre or count is wrong.", hertz(felt.Value))
		r.say("Count it at another speed too (--at, --at-hz): what turns with the road grows with the road.")
		return nil
	case len(m.fit) == 0, wheel && shaft, !m.haveAxle && !once:
		m.outcome = "match-open"
	case shaft:
		m.outcome = "shaft-fits"
	default:
		m.outcome = "wheel-fits"
	}
	for _, x := range m.fit {
		r.say("It fits the %s, %s", x.Part, often(x.Order)+meansBeat[x.Part][x.Order])
	}
	for _, x := range m.open {
		r.say("It cannot be ruled out: the %s, %s", x.Part, often(x.Order)+meansBeat[x.Part][x.Order])
	}
	if len(all) > 1 {
		if err := m.apart(all, felt.Resolution); err != nil {
			return err
		}
	}
	if wheel {
		r.say("Which of the four wheels it is, no frequency tells: they turn alike.")
	}
	r.say("It says what turns so often, not what is wrong with it. A loose wheel, a tyre coming apart and a lost weight all come once a turn: nuts, tyres and play are looked at first, whatever the number.")
	return nil
}

// meansBeat says what an order of a part points to.
var meansBeat = map[brakes.Part]map[int]string{
	brakes.Wheel: {
		1: ": a tyre, rim, hub, rotor or drum.",
		2: ": a tyre or drum gone oval, or with the brake on a rotor worn by its wobble.",
		3: ": a tyre out of shape in three places.",
	},
	brakes.Shaft: {
		1: ": the drive shaft, its weight or a dent.",
		2: ": the joints of the drive shaft.",
	},
}

// apart says which other speed would tell apart what fits.
func (m *matching) apart(all []brakes.Match, step unit.Frequency) error {
	worst, never := unit.Speed(0), false
	for i, a := range all {
		for _, b := range all[:i] {
			from, ok, err := brakes.TellApart(a.Beat, b.Beat, m.speed, step, m.off, m.turn.off)
			if err != nil {
				return err
			}
			never = never || !ok
			worst = max(worst, from)
		}
	}
	r := m.r
	if never {
		r.say("No other speed tells these apart: both grow with the road, and so do the errors of speed and tyre. A roll-out on the ground and a speed by satellite narrow it; pulses counted by the wheel at walking pace settle it.")
		return nil
	}
	m.apartFrom = worst
	r.say("From %s on, a count as fine as this one tells them apart, where the road allows that speed. Pulses counted by the wheel at walking pace do it too.", speed(worst, m.metric))
	return nil
}

// list are matches for JSON.
func (m *matching) list(key string, matches []brakes.Match) Value {
	if len(m.in["felt-hz"]) == 0 {
		return Value{Key: key, Number: math.NaN()}
	}
	v := Value{Key: key, List: []Values{}}
	for _, x := range matches {
		wheel, shaft := float64(x.Order), math.NaN()
		if x.Part == brakes.Shaft {
			wheel, shaft = shaft, wheel
		}
		v.List = append(v.List, Values{
			{Key: "wheel_order", Number: wheel},
			{Key: "shaft_order", Number: shaft},
			{Key: "hz", Number: x.Rate.Hertz()},
			{Key: "off_percent", Number: x.Off.Percent()},
		})
	}
	return v
}

// two gives both values of an input.
func (in inputs) two(name string) ([2]unit.Any, error) {
	if n := len(in[name]); n != 2 || in[name][0].Missing() || in[name][1].Missing() {
		return [2]unit.Any{}, &InputError{name, fmt.Errorf("want two, one for each speed")}
	}
	return [2]unit.Any(in[name]), nil
}

func runTrend(raw map[string][]unit.Any) (Result, error) {
	in := inputs(raw)
	at, err := in.two("at")
	if err != nil {
		return Result{}, err
	}
	hz, err := in.two("at-hz")
	if err != nil {
		return Result{}, err
	}
	var v [2]unit.Speed
	var f [2]unit.Reading[unit.Frequency]
	for i := range v {
		v[i], f[i] = unit.As[unit.Speed](at[i]).Value, unit.As[unit.Frequency](hz[i])
	}
	uneven := brakes.CountOff
	t, err := brakes.ReadTrend(v[0], v[1], f[0].Value, f[1].Value, f[0].Resolution, f[1].Resolution, uneven.Value)
	if err != nil {
		name := "at"
		if _, bad := brakes.ReadTrend(v[0], v[1], 1, 1, 0, 0, 0); bad == nil {
			name = "at-hz"
		}
		return Result{}, blame(name, err)
	}
	metric := metricSpeed(in["at"])
	var r Result
	r.step("%s at %s, %s at %s", hertz(f[0].Value), speed(v[0], metric), hertz(f[1].Value), speed(v[1], metric))
	r.step("speeds %.3g times apart, frequencies %.3g times", float64(unit.Per(v[1], v[0])), float64(unit.Per(f[1].Value, f[0].Value)))
	r.step("power = ln(%.3g) / ln(%.3g) = %.2f, give or take %.2f: 1 turns with the road, 0 stays put", float64(unit.Per(f[1].Value, f[0].Value)), float64(unit.Per(v[1], v[0])), float64(t.Power), float64(t.Doubt))
	r.Outcomes = []string{[...]string{"trend-unknown", "trend-turns", "trend-stays", "trend-other"}[t.Growth]}
	r.Values = Values{
		{Key: "power", Number: float64(t.Power)},
		{Key: "power_band", Number: float64(t.Doubt)},
		{Key: "speeds_apart_needed", Number: float64(t.Apart)},
	}
	low := min(v[0], v[1])
	switch t.Growth {
	case brakes.GrowsWithSpeed:
		r.say("It grows with the road: a part that turns with the wheels or with the shaft.")
	case brakes.StaysPut:
		r.say("It stays where it is whatever the speed: something that swings by itself. A turning part may still be what sets it going, at the speed where it is worst.")
	case brakes.GrowsOtherwise:
		r.say("It neither grows with the road nor stays put: two shakes, one of the engine, or a count that slipped. Count again, in one gear.")
	default:
		r.say("Too near each other to tell. Count again at %s or more, where the road allows it, or well below.", speed(unit.Speed(float64(t.Apart)*float64(low)), metric))
	}
	r.say("In gear the engine grows with the road too: roll in neutral to leave it out.")
	r.Sources = []string{"a turning part keeps its frequency over the speed: makers' service information on vibration",
		fmt.Sprintf("band: half a step of each count, and %s: %s (%s)", share(uneven.Value), uneven.Source, uneven.Mark)}
	return r, nil
}

func runPulses(raw map[string][]unit.Any) (Result, error) {
	in := inputs(raw)
	pulses, err := in.whole("pulses")
	if err != nil {
		return Result{}, err
	}
	turns, err := in.whole("turns")
	if err != nil {
		return Result{}, err
	}
	axle, haveAxle := valueOf[unit.Ratio](in, "axle-ratio")
	if haveAxle && axle == 0 {
		return Result{}, &InputError{"axle-ratio", fmt.Errorf("0: want 1 to 10, as 3.55")}
	}
	if !haveAxle {
		axle = 0
	}
	if _, err := brakes.CountPulses(unit.Count(pulses), 1, 0); err != nil {
		return Result{}, blame("pulses", err)
	}
	if _, err := brakes.CountPulses(0, unit.Count(turns), 0); err != nil {
		return Result{}, blame("turns", err)
	}
	p, err := brakes.CountPulses(unit.Count(pulses), unit.Count(turns), axle)
	if err != nil {
		return Result{}, blame("axle-ratio", err)
	}
	var r Result
	r.step("pulses a turn = %d / %d = %.2f", pulses, turns, float64(p.PerTurn))
	r.step("one missed or one too many: %.2f to %.2f", float64(p.Low), float64(p.High))
	if haveAxle {
		r.step("shaft: %.4g a turn of the wheel, its joints %.4g", float64(axle), 2*float64(axle))
	}
	r.Values = Values{
		{Key: "pulses_per_turn", Number: float64(p.PerTurn)},
		{Key: "pulses_per_turn_low", Number: float64(p.Low)},
		{Key: "pulses_per_turn_high", Number: float64(p.High)},
	}
	which := ""
	switch {
	case pulses == 0:
		which = "pulses-none"
		r.say("No pulse at this pace. What is felt faster than this has to be matched by its frequency.")
	case p.Order > 0 && p.Shaft > 0:
		which = "pulses-open"
		r.say("%s of the wheel and %s of the shaft both fit. Count over more turns, twenty or so.", capital(often(p.Order)), often(p.Shaft))
	case p.Order == 1:
		which = "pulses-once"
		r.say("Once a turn. With the brake on only: one pad that rubs, a smear on one face, or a drum that sits off centre. Brake on or off: a tyre, rim or hub.")
	case p.Order == 2:
		which = "pulses-twice"
		r.say("Twice a turn. With the brake on only: what a wobbling rotor wears into its own thickness, or a drum gone oval. Brake on or off: a tyre gone oval.")
	case p.Order > 2:
		which = "pulses-more"
		r.say("%s. As many as there are studs: nuts tightened unevenly. More than that: hot spots, which are counted by eye.", capital(often(p.Order)))
	case p.Shaft == 1:
		which = "pulses-shaft"
		r.say("As often as the shaft turns: the drive shaft, not a brake.")
	case p.Shaft > 1:
		which = "pulses-shaft"
		r.say("Twice in a turn of the shaft: its joints, not a brake.")
	default:
		which = "pulses-open"
		if unit.Count(turns) < p.More {
			r.say("Too few turns to tell one whole number from the next. Count over ten or more.")
		} else {
			r.say("No whole number of pulses a turn. A wheel on the other axle with another tyre, the shaft, or a count that slipped: count again.")
		}
	}
	r.Outcomes = []string{which}
	r.say("Speed and tyre do not come into this count, so nothing of theirs can be wrong.")
	r.Sources = []string{"orders of wear: makers' service information on pulsation, and the rub of a wobbling rotor (worked out, see docs/method.md)",
		"a count may miss one pulse at one of its ends: our estimate"}
	return r, nil
}
