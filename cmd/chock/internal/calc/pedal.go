package calc

import (
	"fmt"
	"math"
	"strings"

	"chock/brakes"
	"chock/brakes/unit"
)

// What is read at the pedal, shared by the calculations of it.
var (
	pedalFree    = Input{Name: "free", Kind: unit.KindLength, Optional: true, Typed: true, Say: "pad to floor, foot off"}
	pedalPressed = Input{Name: "pressed", Kind: unit.KindLength, Optional: true, Typed: true, Say: "pad to floor, first press held firm"}
	pedalPumped  = Input{Name: "pumped", Kind: unit.KindLength, Optional: true, Typed: true, Say: "pad to floor, same foot, after two more quick presses"}
	pedalWay     = Input{Name: "travel", Kind: unit.KindLength, Optional: true, Typed: true, Say: "in place of --pressed: how far the first press went"}
	pedalWay2    = Input{Name: "pumped-travel", Kind: unit.KindLength, Optional: true, Typed: true, Say: "in place of --pumped: how far it went when pumped"}
	pedalForce   = Input{Name: "force", Kind: unit.KindForce, Optional: true, Default: "lbf", Say: "force of the foot at both"}
	pedalRatio   = Input{Name: "pedal-ratio", Kind: unit.KindRatio, Optional: true, Vehicle: "pedal-ratio", Say: "pivot to pad over pivot to rod, as 6.2 or 6.2:1"}
	pedalMaster  = Input{Name: "master", Kind: unit.KindLength, Optional: true, Typed: true, Vehicle: "master-bore", Say: "bore of the master cylinder"}
	pedalAssist  = Input{Name: "booster", Kind: unit.KindWord, Optional: true, Vehicle: "booster", Say: "what helps the foot: none, vacuum or hydraulic"}
)

// wanted is an input that the calculation cannot do without.
func wanted(i Input) Input {
	i.Optional = false
	return i
}

var pedalSink = Calculation{
	Name:    "pedal-sink",
	Command: "pedal",
	Short:   "how far the pedal goes, and what the fluid went into",
	Title:   "A pedal that is held",
	Inputs: []Input{
		{Name: "sink", Kind: unit.KindLength, Typed: true, Say: "how far it sank under a steady foot, 0 in where it stayed"},
		{Name: "in", Kind: unit.KindTime, Default: "s", Say: "in what time"},
		pedalAssist, pedalMaster, pedalRatio,
	},
	Limits: []Limit{
		{"sink", "", []string{"sinks", "sink-too-close", "holds"}},
	},
	Keys: []string{"sink_mm", "sink_mm_per_min", "leak_cc", "leak_cc_per_s"},
	run:  runPedalSink,
}

var pedalTravel = Calculation{
	Name:    "pedal-travel",
	Command: "pedal",
	Title:   "How far the pedal goes",
	Inputs: []Input{
		pedalFree, pedalPressed, pedalPumped, pedalWay, pedalWay2,
		{Name: "reserve-limit", Kind: unit.KindRatio, Figure: true, Optional: true, Say: "most of its way that the pedal may use, by its manual, as 75 %"},
	},
	Limits: []Limit{
		{"reserve", "reserve-limit", []string{"reserve-low", "reserve-too-close", "reserve-enough", "reserve-unknown"}},
		{"pumped", "", []string{"goes-down", "comes-up", "pumped-too-close", "stays", "pumped-unknown"}},
	},
	Keys: []string{"travel_mm", "travel_percent", "travel_doubt_percent", "left_percent", "pumped_travel_mm", "pumped_percent", "came_up_mm", "came_up_doubt_mm"},
	run:  runPedalTravel,
}

var pedalRules = Calculation{
	Name:    "pedal-rules",
	Command: "pedal",
	Title:   "The same by each named rule",
	Inputs: []Input{
		wanted(pedalFree), pedalPressed, pedalWay, pedalForce, pedalAssist,
		{Name: "gross-weight", Kind: unit.KindMass, Optional: true, Default: "lb", Say: "gross vehicle weight rating, from the plate in the door: which US rule is for it"},
	},
	Limits: pedalRuleLimits(),
	Keys:   []string{},
	run:    runPedalRules,
}

// pedalRuleLimits are one limit a rule; one for any pedal, vehicle and foot
// always has something to say.
func pedalRuleLimits() []Limit {
	var out []Limit
	for _, r := range brakes.PedalRules() {
		l := Limit{r.ID, "", []string{r.ID + "-broken", r.ID + "-kept"}}
		if r.Helped != brakes.AnyPedal || r.Heavy != 0 || r.FootLeast.Known() {
			l.Outcomes = append(l.Outcomes, r.ID+"-unknown")
		}
		out = append(out, l)
	}
	return out
}

// A way is how far a pedal went, and how well it is known.
type way struct {
	travel, left unit.Length // left is NaN where the free height is not known
	u            unit.Length // standard uncertainty of the one reading
	height       bool        // read as a height over the floor
}

// A stroke is a pedal as it was read.
type stroke struct {
	free, uFree   unit.Length // NaN where not known
	first, pumped *way
}

// pedalStep is one step of a tape at a pedal.
func pedalStep(a unit.Any) unit.Length { return min(ruledStep(a), brakes.PedalMark.Value) }

// tape takes one reading at a pedal.
func (in inputs) tape(name string) (v, u unit.Length, err error) {
	a := in[name][0]
	v = unit.As[unit.Length](a).Value
	if !(v >= 0) || math.IsInf(float64(v), 0) {
		return v, 0, &InputError{name, fmt.Errorf("%s: want 0 or more", typed(a))}
	}
	return v, brakes.Gauge[unit.Length]{Step: pedalStep(a), Scatter: brakes.PedalScatter.Value}.Noise(), nil
}

// stroke takes the readings at the pedal.
func (in inputs) stroke() (s stroke, err error) {
	nan := unit.Length(math.NaN())
	s.free, s.uFree = nan, nan
	if len(in["free"]) > 0 {
		if s.free, s.uFree, err = in.tape("free"); err != nil {
			return s, err
		}
		if s.free == 0 {
			return s, &InputError{"free", fmt.Errorf("a pedal on the floor has no way to go")}
		}
	}
	if s.first, err = in.way(s, "pressed", "travel"); err != nil {
		return s, err
	}
	s.pumped, err = in.way(s, "pumped", "pumped-travel")
	return s, err
}

// way takes one press: its height over the floor, or its travel.
func (in inputs) way(s stroke, height, travel string) (*way, error) {
	nan := unit.Length(math.NaN())
	switch {
	case len(in[height]) > 0 && len(in[travel]) > 0:
		return nil, &InputError{travel, fmt.Errorf("says the same as --%s: give one of them", height)}
	case len(in[height]) > 0:
		v, u, err := in.tape(height)
		if err != nil {
			return nil, err
		}
		if len(in["free"]) == 0 {
			return nil, &InputError{"free", fmt.Errorf("is needed beside --%s: pad to floor, foot off", height)}
		}
		if v > s.free {
			return nil, &InputError{height, fmt.Errorf("%s is more than the free height, %s", typed(in[height][0]), typed(in["free"][0]))}
		}
		return &way{travel: s.free - v, left: v, u: u, height: true}, nil
	case len(in[travel]) > 0:
		v, u, err := in.tape(travel)
		if err != nil {
			return nil, err
		}
		if v > s.free {
			return nil, &InputError{travel, fmt.Errorf("%s is more than the way to the floor, %s", typed(in[travel][0]), typed(in["free"][0]))}
		}
		left := nan
		if !math.IsNaN(float64(s.free)) {
			left = s.free - v
		}
		return &way{travel: v, left: left, u: u}, nil
	}
	return nil, nil
}

// uTravel is the standard uncertainty of how far the pedal went.
func (s stroke) uTravel(w *way) unit.Length {
	if w.height {
		return unit.Length(math.Hypot(float64(w.u), float64(s.uFree)))
	}
	return w.u
}

// cameUp is how much higher the pumped pedal stands, and its doubt. Where both
// were read alike, the free height is in neither.
func (s stroke) cameUp() (up, u unit.Length) {
	if s.first == nil || s.pumped == nil {
		return unit.Length(math.NaN()), unit.Length(math.NaN())
	}
	u = unit.Length(math.Hypot(float64(s.first.u), float64(s.pumped.u)))
	if s.first.height && s.pumped.height {
		return s.pumped.left - s.first.left, u
	}
	if s.first.height != s.pumped.height {
		u = unit.Length(math.Hypot(float64(u), float64(s.uFree)))
	}
	return s.first.travel - s.pumped.travel, u
}

// used is the share of the whole way, and its doubt; NaN where the free height
// is not known.
func (s stroke) used(w *way) (used, u unit.Ratio, err error) {
	nan := unit.Ratio(math.NaN())
	if w == nil || math.IsNaN(float64(s.free)) {
		return nan, nan, nil
	}
	if !w.height {
		// T/A in place of 1 - B/A: the share that is left has the same doubt as one of height T.
		left, u, err := brakes.PedalUsed(s.free, w.travel, s.uFree, w.u)
		return 1 - left, u, err
	}
	return brakes.PedalUsed(s.free, w.left, s.uFree, w.u)
}

// sizes shows a pedal's lengths: to a hundredth of an inch, or a millimetre.
func (s shower) pedal(l unit.Length) string {
	own, other := s.large()
	return pedalOne(l, own) + " (" + pedalOne(l, other) + ")"
}

func pedalOne(l unit.Length, name string) string {
	digits := 0
	if name == "in" {
		digits = 2
	}
	return unit.FormatTo(unit.KindLength, float64(l), name, digits)
}

// pedalBare is the number alone, in the person's own unit.
func (s shower) pedalBare(l unit.Length) string {
	own, _ := s.large()
	return strings.TrimSuffix(pedalOne(l, own), " "+own)
}

// showPedal takes the units from the first reading that has some.
func (in inputs) showPedal(names ...string) shower {
	for _, n := range names {
		if len(in[n]) > 0 {
			return showRule(in[n])
		}
	}
	return shower{inch: true, coarse: true}
}

// snap takes what rounding alone lifts over a line as on it.
func snap(x, line unit.Ratio) unit.Ratio {
	if math.Abs(float64(x-line)) < 1e-9 {
		return line
	}
	return x
}

func runPedalTravel(raw map[string][]unit.Any) (Result, error) {
	in := inputs(raw)
	st, err := in.stroke()
	if err != nil {
		return Result{}, err
	}
	if st.first == nil {
		return Result{}, &InputError{"pressed", fmt.Errorf("is needed, or --travel: how far the first press goes")}
	}
	s := in.showPedal("free", "pressed", "travel")
	var r Result
	used, u, err := st.used(st.first)
	if err != nil {
		return Result{}, err
	}
	if st.first.height {
		r.step("first press = %s - %s = %s", s.pedalBare(st.free), s.pedalBare(st.first.left), s.pedal(st.first.travel))
	} else {
		r.step("first press = %s", s.pedal(st.first.travel))
	}
	if err := r.reserve(in, s, st, used, u); err != nil {
		return Result{}, err
	}
	pumpedUsed, _, err := st.used(st.pumped)
	if err != nil {
		return Result{}, err
	}
	up, uUp := st.cameUp()
	if err := r.pumped(s, st, up, uUp); err != nil {
		return Result{}, err
	}
	pumpedTravel := unit.Length(math.NaN())
	if st.pumped != nil {
		pumpedTravel = st.pumped.travel
	}
	r.Values = Values{
		{Key: "travel_mm", Number: st.first.travel.Millimetres()},
		{Key: "travel_percent", Number: used.Percent()},
		{Key: "travel_doubt_percent", Number: brakes.Safety.Guard() * u.Percent()},
		{Key: "left_percent", Number: (1 - used).Percent()},
		{Key: "pumped_travel_mm", Number: pumpedTravel.Millimetres()},
		{Key: "pumped_percent", Number: pumpedUsed.Percent()},
		{Key: "came_up_mm", Number: up.Millimetres()},
		{Key: "came_up_doubt_mm", Number: brakes.Comfort.Guard() * uUp.Millimetres()},
	}
	r.Sources = append(r.Sources, sourceFigure(s.inch, "scatter of a pedal reading", brakes.PedalScatter), sourceDoubt, sourceVerdict)
	return r, nil
}

// reserve holds the share that is used against its limit: the one given, or
// the range of the published ones.
func (r *Result) reserve(in inputs, s shower, st stroke, used, u unit.Ratio) error {
	limit := brakes.AtMostRange(brakes.UsedMaryland.Value, brakes.UsedHeavy.Value)
	mark, source := string(brakes.UsedHeavy.Mark), brakes.UsedMaryland.Source+"; "+brakes.UsedHeavy.Source
	word := "limits"
	if given, ok := valueOf[unit.Ratio](in, "reserve-limit"); ok {
		if !(given > 0 && given <= 1) {
			return &InputError{"reserve-limit", fmt.Errorf("%s: want more than 0 and no more than 100 %%", percent(given))}
		}
		limit, mark, source, word = brakes.AtMost(given), Given, "given with the readings as reserve-limit", "limit"
	}
	if math.IsNaN(float64(used)) {
		r.Outcomes = append(r.Outcomes, "reserve-unknown")
		r.say("How much of its way that is takes the free height: pad to floor, foot off.")
		return nil
	}
	used = snap(snap(used, limit.Low), limit.High)
	r.step("of its way = %s / %s = %s, left %s", s.pedalBare(st.first.travel), s.pedalBare(st.free), percent(used), percent(1-used))
	r.step("doubt: a reading %s by scatter and step; of the share u = %s; to be sure it takes 1.96 u = %s", s.pedal(st.first.u), percent(u), percent(times196(u)))
	v, err := brakes.Judge(used, u, limit, brakes.Safety)
	if err != nil {
		return err
	}
	good := math.NaN()
	value, bound := unit.FormatAgainst(unit.KindRatio, float64(used), float64(limit.High), "%")
	if limit.Low != limit.High {
		good = limit.Low.Percent()
		bound = strings.TrimSuffix(percent(limit.Low), " %") + " to " + bound
	}
	r.Verdicts = append(r.Verdicts, Verdict{Of: "reserve", Verdict: v, Value: used.Percent(), Limit: limit.High.Percent(), Good: good,
		Doubt: brakes.Safety.Guard() * u.Percent(), Unit: "%", Mark: mark, Asked: mark == Given, Source: source,
		Say: fmt.Sprintf("pedal uses %s of its way, %s %s, %s: %s", value, word, bound, mark, v.Say())})
	r.Outcomes = append(r.Outcomes, outcome(v, "reserve-low", "reserve-too-close", "reserve-enough", ""))
	switch {
	case v == unit.Outside:
		r.say("Too little is left under the pedal for a hot day, a hill or a leak: do not drive.")
		r.say(technician)
	case v == unit.TooClose && limit.Low != limit.High && used > limit.Low && used <= limit.High:
		r.say("The rules differ here: one wants a third of the way left, others a fifth. Take it as too low before a trip.")
	case v == unit.TooClose:
		r.say("A tape cannot tell here. Read it again, with the same foot; before a trip take it as too low.")
	default:
		r.say("Enough is left under it. That says nothing of leaks: hold it for a minute too.")
	}
	r.Sources = append(r.Sources, sourceOf("most of its way", mark, source))
	return nil
}

// technician is said where the pedal is a danger.
const technician = "Have a qualified technician look at it before it goes on the road."

func times196(u unit.Ratio) unit.Ratio { return unit.Ratio(brakes.Safety.Guard()) * u }

// pumped says what pumping did to the height.
func (r *Result) pumped(s shower, st stroke, up, u unit.Length) error {
	if st.pumped == nil {
		r.Outcomes = append(r.Outcomes, "pumped-unknown")
		r.say("Two more quick presses tell more: does it come up, or stay?")
		return nil
	}
	if st.first.height {
		r.step("came up when pumped = %s - %s = %s", s.pedalBare(st.pumped.left), s.pedalBare(st.first.left), s.pedal(up))
	} else {
		r.step("came up when pumped = %s - %s = %s", s.pedalBare(st.first.travel), s.pedalBare(st.pumped.travel), s.pedal(up))
	}
	h := held{of: "pumped", what: "came up when pumped", bound: "limit", shown: up, judged: up, doubt: u,
		limit: brakes.AtMostRange(brakes.PumpedGood.Value, brakes.PumpedBad.Value), kind: brakes.Comfort, large: true,
		mark: string(brakes.PumpedBad.Mark), source: brakes.PumpedBad.Source}
	down := float64(up) < -brakes.Comfort.Guard()*float64(u)
	if down {
		// Held against staying where it was.
		h.what, h.bound, h.shown, h.judged, h.limit = "went down when pumped", "most", -up, -up, brakes.AtMost(unit.Length(0))
		h.source = "a pedal that is pumped does not go lower: common practice; a reading's doubt is ours"
	}
	v, err := s.hold(h)
	if err != nil {
		return err
	}
	r.Verdicts = append(r.Verdicts, v)
	r.Sources = append(r.Sources, sourceOf(h.what, h.mark, h.source))
	if down {
		r.Outcomes = append(r.Outcomes, "goes-down")
		r.say("It goes lower when pumped. Fluid leaves, or slips past a seal in the master cylinder: do not drive. Look for wet places and at the level.")
		r.say(technician)
		return nil
	}
	r.Outcomes = append(r.Outcomes, outcome(v.Verdict, "comes-up", "pumped-too-close", "stays", ""))
	switch v.Verdict {
	case unit.Outside:
		r.say("It comes up when pumped: there is a gap to fill before the brakes bite.")
		r.say("Rear adjustment first. Then what pushes pads back: a loose bearing, a rotor that runs out.")
		r.say("A low level or a circuit that is gone can look the same: fluid and lamp before all of that.")
	case unit.Within:
		r.say("Pumping does not lift it: no gap that pumping fills.")
		r.say("If it is low, or springy, look for air, a hose that swells, shoes or pads that do not sit flat.")
	case unit.TooClose:
		r.say("A little higher when pumped: some of that is usual with drums. Check the rear adjustment, it costs nothing.")
	}
	return nil
}

func runPedalRules(raw map[string][]unit.Any) (Result, error) {
	in := inputs(raw)
	st, err := in.stroke()
	if err != nil {
		return Result{}, err
	}
	if st.first == nil {
		return Result{}, &InputError{"pressed", fmt.Errorf("is needed, or --travel: how far the first press goes")}
	}
	assist, err := in.assist()
	if err != nil {
		return Result{}, err
	}
	helped := map[string]brakes.Helped{"none": brakes.Unassisted, "vacuum": brakes.Assisted, "hydraulic": brakes.Assisted}[assist]
	gross, haveGross := valueOf[unit.Mass](in, "gross-weight")
	if haveGross && !(gross > 0 && !math.IsInf(float64(gross), 0)) {
		return Result{}, &InputError{"gross-weight", fmt.Errorf("%v: want more than 0", gross)}
	}
	if !haveGross {
		gross = 0
	}
	foot, haveFoot := valueOf[unit.Force](in, "force")
	if haveFoot && !(foot > 0 && !math.IsInf(float64(foot), 0)) {
		return Result{}, &InputError{"force", fmt.Errorf("%v: want more than 0", foot)}
	}
	used, u, err := st.used(st.first)
	if err != nil {
		return Result{}, err
	}
	s := in.showPedal("free", "pressed", "travel")
	r := Result{Values: Values{}}
	r.step("used of its way = %s / %s = %s", s.pedalBare(st.first.travel), s.pedalBare(st.free), percent(used))
	near := false
	for _, rule := range brakes.PedalRules() {
		id := "-unknown"
		switch {
		case !rule.Applies(helped, gross):
		case haveFoot && !rule.Certain(used, foot):
			r.say("%s: not judged. It presses with %s, you did with %s.", rule.Say, footRange(s, rule), amount(s, foot))
		default:
			v := pedalVerdict(rule, used)
			r.Verdicts = append(r.Verdicts, v)
			id = outcome(v.Verdict, "-broken", "", "-kept", "")
			near = near || math.Abs(float64(used-rule.Most.Value)) < brakes.Safety.Guard()*float64(u)
			r.Sources = append(r.Sources, fmt.Sprintf("%s (%s)", rule.Most.Source, rule.Most.Mark))
		}
		r.Outcomes = append(r.Outcomes, rule.ID+id)
	}
	if near {
		r.say("Some of these stand so near that the tape decides: read it again.")
	}
	if !haveFoot {
		r.warn("How hard the foot pressed was not said. The US standard and Ohio name it: 50 lbf or 40 to 60 lbf for a foot alone, less where it is assisted.")
	}
	if helped == brakes.AnyPedal {
		r.warn("Whether the foot is assisted, by a vacuum can or a pump, was not said: the rules for either are shown. Give --booster.")
	}
	if helped == brakes.Assisted {
		r.warn("An assisted pedal is read with the engine running; for the UK rule with the engine off.")
	}
	r.warn("The rule of the place where it is registered comes first. Some exempt a pedal that its maker designed to go lower.")
	r.Sources = append(r.Sources, "share of the way: 49 CFR 570.55(c), 39 FR 26027, 1974")
	return r, nil
}

// assist is what helps the foot, "" where it is not known.
func (in inputs) assist() (string, error) { return in.word("booster", "none", "vacuum", "hydraulic") }

// footRange is how hard a rule presses.
func footRange(s shower, r brakes.PedalRule) string {
	if r.FootLeast.Value == r.FootMost.Value {
		return amount(s, r.FootMost.Value)
	}
	return own(s, r.FootLeast.Value) + " to " + amount(s, r.FootMost.Value)
}

// pedalVerdict holds a pedal against a published rule to the letter.
func pedalVerdict(rule brakes.PedalRule, used unit.Ratio) Verdict {
	used = snap(used, rule.Most.Value)
	v := Verdict{Of: rule.ID, Verdict: unit.Within, Value: used.Percent(), Limit: rule.Most.Value.Percent(), Good: math.NaN(), Doubt: math.NaN(),
		Unit: "%", Mark: string(rule.Most.Mark), Source: rule.Most.Source}
	if rule.Broken(used) {
		v.Verdict = unit.Outside
	}
	value, bound := unit.FormatAgainst(unit.KindRatio, float64(used), float64(rule.Most.Value), "%")
	than := "at most"
	if rule.Itself {
		than = "less than"
	}
	v.Say = fmt.Sprintf("%s: %s, %s %s, %s: %s", rule.Say, value, than, bound, v.Mark, v.Verdict.Say())
	return v
}

func runPedalSink(raw map[string][]unit.Any) (Result, error) {
	in := inputs(raw)
	sank, t := unit.As[unit.Length](in["sink"][0]).Value, unit.As[unit.Time](in["in"][0]).Value
	if !(sank >= 0) || math.IsInf(float64(sank), 0) {
		return Result{}, &InputError{"sink", fmt.Errorf("%s: want 0 or more", typed(in["sink"][0]))}
	}
	if !(t > 0) || math.IsInf(float64(t), 0) {
		return Result{}, &InputError{"in", fmt.Errorf("%s: want more than 0", typed(in["in"][0]))}
	}
	assist, err := in.assist()
	if err != nil {
		return Result{}, err
	}
	s := in.showPedal("sink")
	nan := math.NaN()
	var r Result
	rate := unit.Length(60 / t.Seconds() * float64(sank))
	r.step("sank %s in %s: %s a minute", s.pedal(sank), t, s.pedal(rate))
	lost := brakes.Sink{Volume: unit.Volume(nan), PerSecond: unit.Volume(nan)}
	bore, haveBore := in.length("master")
	pedal, havePedal := valueOf[unit.Ratio](in, "pedal-ratio")
	if haveBore && havePedal {
		if _, err := brakes.PedalVolume(0, 1, bore); err != nil {
			return Result{}, blame("master", err)
		}
		if lost, err = brakes.Sinking(sank, t, pedal, bore); err != nil {
			return Result{}, blame("pedal-ratio", err)
		}
		r.step("fluid = pi/4 x (%s)² x %s / %.4g = %s", s.bare(bore), s.pedalBare(sank), float64(pedal), amount(s, lost.Volume))
		r.step("in each second: %s / %.4g = %s", own(s, lost.Volume), t.Seconds(), amount(s, lost.PerSecond))
	}
	// A fall that anybody can see against a mark counts: no scatter of the
	// hand, only the step of what was typed.
	u := brakes.Gauge[unit.Length]{Step: pedalStep(in["sink"][0])}.Noise()
	v := Verdict{Of: "sink", Verdict: unit.Within, Value: sank.Millimetres(), Limit: 0, Good: nan, Doubt: brakes.Safety.Guard() * u.Millimetres(), Unit: "mm",
		Mark: string(brakes.HoldHard.Mark), Source: brakes.HoldHard.Source + "; " + brakes.HoldLong.Source}
	switch {
	case float64(sank) > brakes.Safety.Guard()*float64(u):
		v.Verdict = unit.Outside
	case sank > 0 || t < brakes.HoldHard.Value:
		v.Verdict = unit.TooClose
	}
	v.Say = fmt.Sprintf("sank %s in %s, none allowed, %s: %s", s.pedal(sank), t, v.Mark, v.Verdict.Say())
	r.Verdicts = []Verdict{v}
	r.Outcomes = []string{outcome(v.Verdict, "sinks", "sink-too-close", "holds", "")}
	r.Values = Values{
		{Key: "sink_mm", Number: sank.Millimetres()},
		{Key: "sink_mm_per_min", Number: rate.Millimetres()},
		{Key: "leak_cc", Number: lost.Volume.Millilitres()},
		{Key: "leak_cc_per_s", Number: lost.PerSecond.Millilitres()},
	}
	switch {
	case v.Verdict == unit.Outside && assist == "hydraulic":
		r.say("A pump assist may let the pedal sink under a hard steady foot. A light foot for a minute, the level and the wet places decide; then a technician.")
		r.say("Until they have: do not drive.")
	case v.Verdict == unit.Outside:
		r.say("A pedal that sinks loses fluid: outside, or past a seal inside. Do not drive.")
		r.say("Level falls: look for the wet place. Level stays and all is dry: the master cylinder.")
		r.say(technician)
	case v.Verdict == unit.TooClose && sank > 0:
		r.say("Too little to tell from the tape. Hold it for a minute by the clock, a mark beside the pedal.")
	case v.Verdict == unit.TooClose:
		r.say("It stayed, but that was short. Hold it for %s with a hard foot, or a minute with a light one.", brakes.HoldHard.Value)
	default:
		r.say("It stayed. A hard foot can seal what a light one lets by: do both.")
	}
	if !math.IsNaN(float64(lost.PerSecond)) && sank > 0 {
		r.say("The rate is an explanation, not a measure of danger: any leak is one.")
	}
	r.Sources = append(r.Sources, sourceOf("no further fall", v.Mark, v.Source))
	if assist == "hydraulic" {
		r.Sources = append(r.Sources, "pump assist: US Army TB 9-2300-426-20, 1989")
	}
	return r, nil
}
