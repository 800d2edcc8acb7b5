package calc

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"chock/brakes"
	"chock/brakes/unit"
)

var stopDistance = Calculation{
	Name:    "stop-distance",
	Command: "stop",
	Short:   "stopping distance, and what a measured stop says against a rule",
	Title:   "One stop",
	Inputs: []Input{
		{Name: "speed", Kind: unit.KindSpeed, Optional: true, Default: "mph", Say: "speed from which to stop"},
		{Name: "decel", Kind: unit.KindAcceleration, Optional: true, Say: "what the brakes do on the level, as 0.6 g, 20 ft/s2, 6 m/s2"},
		{Name: "reaction", Kind: unit.KindTime, Optional: true, Default: "s", Say: "from seeing to the foot on the pedal (0 if not given)"},
		{Name: "dead-time", Kind: unit.KindTime, Optional: true, Default: "s", Say: "from the foot on the pedal to the first bite (0 if not given)"},
		{Name: "build-up", Kind: unit.KindTime, Optional: true, Default: "s", Say: "from the first bite to brakes fully on (0 if not given)"},
		{Name: "grade", Kind: unit.KindRatio, Optional: true, Say: "slope of the road, as 6 %: downhill; -6 % is uphill"},
		{Name: "distance", Kind: unit.KindLength, Optional: true, Typed: true, Say: "a measured stop: the way from the first movement of the pedal"},
		{Name: "measured-speed", Kind: unit.KindSpeed, Optional: true, Default: "mph", Say: "speed it was measured from (--speed if not given)"},
		{Name: "speed-error", Kind: unit.KindSpeed, Optional: true, Default: "mph", Say: "how far that speed may be off: plus or minus this"},
		{Name: "distance-error", Kind: unit.KindLength, Optional: true, Typed: true, Say: "how far the measured way may be off"},
		{Name: "cold-distance", Kind: unit.KindLength, Optional: true, Typed: true, Say: "with hot brakes measured: the way with cold ones, from the same speed"},
		{Name: "distance-80", Kind: unit.KindLength, Optional: true, Typed: true, Say: "way gone when the speed has fallen to 80 %"},
		{Name: "distance-10", Kind: unit.KindLength, Optional: true, Typed: true, Say: "way gone when it has fallen to 10 %"},
		{Name: "measured-decel", Kind: unit.KindAcceleration, Optional: true, Say: "deceleration that an instrument showed, from 20 mph"},
		{Name: "brake-force", Kind: unit.KindForce, Optional: true, Default: "lbf", Say: "all brake force of all wheels, on a tester"},
		{Name: "mass", Kind: unit.KindMass, Optional: true, Say: "weight of the vehicle on that tester"},
		{Name: "lane", Kind: unit.KindWord, Optional: true, Say: "kept or left: whether it stayed in the lane"},
		{Name: "rule", Kind: unit.KindWord, List: true, Optional: true, Say: "rules to hold it against, as us-570-light, us-393-light-truck, us-135-cold; a wrong word lists them all"},
	},
	Limits: stopLimits,
	Keys:   stopKeys,
	run:    runStop,
}

var stopLimits = []Limit{
	{"rule-distance", "rule", []string{"distance-broken", "distance-too-close", "distance-kept", "distance-unknown"}},
	{"rule-decel", "rule", []string{"decel-broken", "decel-too-close", "decel-kept", "decel-unknown"}},
	{"rule-force", "rule", []string{"force-broken", "force-too-close", "force-kept", "force-unknown"}},
	{"lane", "", []string{"lane-left", "lane-kept", "lane-unknown"}},
	{"new-vehicle", "", []string{"new-not-met", "new-too-close", "new-met", "new-unknown"}},
}

var stopKeys = []string{"distance_m", "before_m", "braking_m", "time_s", "net_decel_m_s2", "brake_decel_m_s2", "brake_decel_g",
	"measured_decel_m_s2", "distance_doubt_m", "mean_developed_decel_m_s2", "brake_force_percent", "hot_share_percent", "highway_code_m", "sight_distance_m"}

// A drive is what is known of one stop, imagined, measured or both.
type drive struct {
	in inputs
	us bool
	r  Result

	stop      brakes.Stop
	speed     unit.Speed
	haveSpeed bool

	measured unit.Speed
	way      unit.Length // measured
	haveWay  bool
	doubt    unit.Length // standard uncertainty of way, speed's part and all

	share    unit.Ratio // brake force over weight
	decel    unit.Acceleration
	haveRead bool // decel was read off an instrument
	uDecel   unit.Acceleration
	uShare   unit.Ratio

	values map[string]float64
}

func runStop(raw map[string][]unit.Any) (Result, error) {
	d := &drive{in: inputs(raw), values: map[string]float64{}}
	d.us = d.in.us("speed", "measured-speed", "distance", "decel", "measured-decel", "brake-force", "mass")
	for _, part := range []func() error{d.read, d.measure, d.developed, d.hot, d.tester, d.rules, d.foretell} {
		if err := part(); err != nil {
			return Result{}, err
		}
	}
	if len(d.r.Steps) == 0 {
		return Result{}, &InputError{"speed", fmt.Errorf("is needed, with --decel, or --distance of a stop that was measured: there is nothing to work out")}
	}
	for _, k := range stopKeys {
		v, ok := d.values[k]
		if !ok {
			v = math.NaN()
		}
		d.r.Values = append(d.r.Values, Value{Key: k, Number: v})
	}
	return d.r, nil
}

// read takes the speeds, the times and the slope.
func (d *drive) read() error {
	var err error
	if d.speed, d.haveSpeed, err = d.in.speedOf("speed"); err != nil {
		return err
	}
	var have bool
	if d.measured, have, err = d.in.speedOf("measured-speed"); err != nil {
		return err
	}
	if !have {
		d.measured = d.speed
	} else if !d.haveSpeed {
		d.speed, d.haveSpeed = d.measured, true
	}
	if d.stop.Downhill, have, err = d.in.slopeOf("grade"); err != nil {
		return err
	} else if !have {
		d.stop.Downhill = 0
	}
	for name, at := range map[string]*unit.Time{"reaction": &d.stop.Reaction, "dead-time": &d.stop.Dead, "build-up": &d.stop.BuildUp} {
		v, have, err := between(d.in, name, 0, 10*unit.Second, "0 to 10 s")
		if err != nil {
			return err
		}
		if have {
			*at = v
		}
	}
	for _, name := range []string{"decel", "measured-decel"} {
		if _, _, err := between(d.in, name, 0.01*unit.StandardGravity, 2*unit.StandardGravity, "0.01 to 2 g"); err != nil {
			return err
		}
	}
	return nil
}

// length of a way that a stop can have.
func (d *drive) long(name string) (unit.Length, bool, error) {
	return between(d.in, name, 0.1*unit.Metre, 5000*unit.Metre, "a way in feet or metres, 0.3 ft to 16,000 ft (0.1 m to 5 km)")
}

// measure works on a stop that was driven and measured.
func (d *drive) measure() error {
	var err error
	if d.way, d.haveWay, err = d.long("distance"); err != nil {
		return err
	}
	off, haveOff, err := between(d.in, "distance-error", 0, 1000*unit.Metre, "0 or more")
	if err != nil {
		return err
	}
	slip, haveSlip, err := between(d.in, "speed-error", 0, 100*unit.KilometrePerHour, "0 or more")
	if err != nil {
		return err
	}
	if !d.haveWay {
		for _, name := range []string{"distance-error", "speed-error", "cold-distance"} {
			if len(d.in[name]) > 0 {
				return &InputError{name, fmt.Errorf("belongs to a measured stop: give --distance")}
			}
		}
		return nil
	}
	if !d.haveSpeed {
		return &InputError{"measured-speed", fmt.Errorf("is needed: from which speed was the distance measured?")}
	}
	s := d.stop
	s.From, s.Reaction = d.measured, 0
	brake, err := brakes.DecelOver(d.way, s)
	if err != nil {
		return blame("distance", err)
	}
	mean, err := brakes.TestDecel(d.measured, d.way, 0)
	if err != nil {
		return blame("distance", err)
	}
	d.values["measured_decel_m_s2"] = mean.MetresPerSecondSquared()
	r := &d.r
	r.step("measured: %s from %s = %s", inTwo(d.us, d.way), inTwo(d.us, d.measured), perSecond(d.us, d.measured))
	r.step("mean over that way = v²/(2 S) = (%s)² / (2 x %s) = %s = %.3f g", perSecond(d.us, d.measured), inOwn(d.us, d.way), inTwo(d.us, mean), mean.Gravities())
	if s.BuildUp > 0 || s.Dead > 0 || s.Downhill != 0 {
		r.step("brakes on the level, once fully on, by that stop: %s = %.3f g", inTwo(d.us, brake), brake.Gravities())
	}
	if brake > brakes.TyreGrip.Value {
		r.warn("That takes more than the %.1f g that ordinary tyres hold (%s). Measure again: the speed or the way is off.", brakes.TyreGrip.Value.Gravities(), brakes.TyreGrip.Mark)
	}
	d.stop.Brakes = brake
	// How well it is known.
	g := brakes.Gauge[unit.Length]{Step: unit.As[unit.Length](d.in["distance"][0]).Resolution, Scatter: d.measured.For(brakes.StopMark.Value)}
	if haveOff {
		g.Scatter, g.Error = 0, off
	}
	v := brakes.Gauge[unit.Speed]{Scatter: times(brakes.SpeedDoubt.Value, d.measured)}
	if haveSlip {
		v.Scatter, v.Error = 0, slip
	}
	for _, name := range []string{"measured-speed", "speed"} {
		if len(d.in[name]) > 0 {
			v.Step = unit.As[unit.Speed](d.in[name][0]).Resolution
			break
		}
	}
	d.doubt = brakes.StopDoubt(d.way, g.Doubt(0), d.measured, v.Doubt(0))
	d.values["distance_doubt_m"] = d.doubt.Metres()
	r.step("doubt of it: u = %s from the mark and the tape, %s from the speed; together %s", inOwn(d.us, g.Doubt(0)), inOwn(d.us, brakes.StopDoubt(d.way, 0, d.measured, v.Doubt(0))), inTwo(d.us, d.doubt))
	r.Sources = append(r.Sources, "doubt of a measured stop: JCGM 100:2008 (GUM), 5.1.2")
	if !haveSlip {
		r.Sources = append(r.Sources, sourceFigure(d.us, "doubt of the speed", brakes.SpeedDoubt))
	}
	if !haveOff {
		r.Sources = append(r.Sources, sourceFigure(d.us, "doubt of the mark", brakes.StopMark))
	}
	if d.measured > times(unit.Ratio(1+1e-9), brakes.TestSpeedMost.Value) {
		r.warn("On a public road, test from no more than %s: one state's law says so, and it is enough to judge by.", inTwo(d.us, brakes.TestSpeedMost.Value))
		r.Sources = append(r.Sources, sourceFigure(d.us, "speed of a road test", brakes.TestSpeedMost))
	}
	return nil
}

func times[Q ~float64](n unit.Ratio, q Q) Q { return Q(float64(n) * float64(q)) }

// foretell works out a stop that nobody has driven.
func (d *drive) foretell() error {
	given, have := valueOf[unit.Acceleration](d.in, "decel")
	if have {
		d.stop.Brakes = given
	}
	if !have && !d.haveWay {
		if d.haveSpeed && len(d.in["distance-80"]) == 0 && len(d.in["brake-force"]) == 0 && len(d.in["measured-decel"]) == 0 {
			return &InputError{"decel", fmt.Errorf("is needed: what the brakes do, or a measured --distance in its place")}
		}
		return nil
	}
	if !d.haveSpeed {
		return &InputError{"speed", fmt.Errorf("is needed: from which speed?")}
	}
	s := d.stop
	s.From = d.speed
	out, err := brakes.StoppingDistance(s)
	if err != nil {
		if s.Downhill > 0 {
			return blame("grade", err)
		}
		return blame("decel", err)
	}
	if have && d.haveWay {
		d.r.step("and with --decel in its place:")
	}
	imagined := have || d.speed != d.measured || s.Reaction > 0
	if imagined {
		d.show(s, out)
	}
	for key, v := range map[string]float64{"distance_m": out.Distance.Metres(), "before_m": out.Before.Metres(), "braking_m": out.Braking.Metres(), "time_s": out.Time.Seconds(),
		"net_decel_m_s2": out.Net.MetresPerSecondSquared(), "brake_decel_m_s2": s.Brakes.MetresPerSecondSquared(), "brake_decel_g": s.Brakes.Gravities()} {
		d.values[key] = v
	}
	d.meaning(s, out, have, imagined)
	return nil
}

// show writes the arithmetic of a stop.
func (d *drive) show(s brakes.Stop, out brakes.Stopped) {
	r, us := &d.r, d.us
	r.step("speed %s = %s", inTwo(us, s.From), perSecond(us, s.From))
	r.step("brakes on the level %.3f g = %s", s.Brakes.Gravities(), inTwo(us, s.Brakes))
	if s.Downhill != 0 {
		g := s.Downhill.Percent()
		r.step("the slope of %.4g %% takes g x %.4g / sqrt(1 + %.4g²) = %s", g, g/100, g/100, inTwo(us, s.Brakes-out.Net))
		r.step("left to stop with = %s - %s = %s", bareOf(us, s.Brakes), less(bareOf(us, s.Brakes-out.Net)), inTwo(us, out.Net))
	}
	if s.Reaction > 0 || s.Dead > 0 {
		r.step("before the brakes bite = %s x (%.2f s + %.2f s) = %s", perSecond(us, s.From), s.Reaction.Seconds(), s.Dead.Seconds(), inTwo(us, out.Before))
	}
	v, a, tb := float64(s.From), float64(out.Net), float64(s.BuildUp)
	switch {
	case tb == 0:
		r.step("braking = v²/(2 a) = %s", inTwo(us, out.Braking))
	case v >= a*tb/2:
		r.step("braking = v tb/2 + v²/(2 a) - a tb²/24 = %s + %s - %s = %s", bareOf(us, unit.Length(v*tb/2)), bareOf(us, unit.Length(v*v/(2*a))), bareOf(us, unit.Length(a*tb*tb/24)), inTwo(us, out.Braking))
	default:
		r.step("it stands before the brakes are fully on: 2/3 v sqrt(2 v tb/a) = %s", inTwo(us, out.Braking))
	}
	r.step("distance = %s in %.1f s", inTwo(us, out.Distance), out.Time.Seconds())
	r.Sources = append(r.Sources, "distance: speed and way by integration; Limpert, Brake Design and Safety, chapter 1, has the form (from memory)")
}

// meaning says what the distance is worth. given says that the deceleration
// was, imagined that nobody has driven that stop.
func (d *drive) meaning(s brakes.Stop, out brakes.Stopped, given, imagined bool) {
	r, us := &d.r, d.us
	switch {
	case imagined && s.Reaction > 0:
		r.say("About %s from seeing it to a stand.", roundWay(us, out.Distance))
	case imagined:
		r.say("About %s from the pedal to a stand.", roundWay(us, out.Distance))
	}
	if s.Reaction == 0 {
		t := brakes.DriverReaction.Value
		r.say("The driver is not in it: %.1f s to react (our estimate) is another %s.", t.Seconds(), roundWay(us, s.From.For(t)))
	}
	if think, brake, err := brakes.CodeDistance(s.From); err == nil {
		d.values["highway_code_m"] = (think + brake).Metres()
		r.say("The UK Highway Code has %s as typical from that speed, driver and all, and twice that or more in the wet.", roundWay(us, think+brake))
		r.Sources = append(r.Sources, "typical distance: "+brakes.CodeReaction.Source+" ("+string(brakes.CodeReaction.Mark)+")", "in the wet: "+brakes.CodeWet.Source)
	}
	if sight, err := brakes.DesignSight(s.From); err == nil {
		d.values["sight_distance_m"] = sight.Metres()
		r.say("US roads are laid out to show %s ahead for that speed.", roundWay(us, sight))
		r.Sources = append(r.Sources, "roads: "+brakes.SightReaction.Source+" ("+string(brakes.SightReaction.Mark)+")")
	}
	if given && s.Brakes > brakes.TyreGrip.Value {
		r.warn("Ordinary tyres hold 0.7 to %.1f g on a dry road (%s): this asks for more.", brakes.TyreGrip.Value.Gravities(), brakes.TyreGrip.Mark)
	}
	if !given && d.speed > times(1.2, d.measured) {
		r.warn("Reckoned from a slower stop: from %s the brakes get hotter and may do less.", inTwo(us, s.From))
	}
	if imagined {
		r.warn("A computed distance explains; it promises nothing. Load, tyres, water, worn or hot brakes are not in it.")
	}
}

// roundWay shows a way in whole feet and metres.
func roundWay(us bool, l unit.Length) string {
	f, m := fmt.Sprintf("%.0f ft", l.Feet()), fmt.Sprintf("%.0f m", l.Metres())
	if us {
		return f + " (" + m + ")"
	}
	return m + " (" + f + ")"
}

// developed is the mean fully developed deceleration.
func (d *drive) developed() error {
	sb, have80, err := d.long("distance-80")
	if err != nil {
		return err
	}
	se, have10, err := d.long("distance-10")
	if err != nil {
		return err
	}
	switch {
	case have80 && !have10:
		return &InputError{"distance-10", fmt.Errorf("is needed beside --distance-80")}
	case have10 && !have80:
		return &InputError{"distance-80", fmt.Errorf("is needed beside --distance-10")}
	case !have80:
		return nil
	case !d.haveSpeed:
		return &InputError{"measured-speed", fmt.Errorf("is needed: 80 %% and 10 %% of which speed?")}
	}
	vb, ve := times(brakes.MeanFrom, d.measured), times(brakes.MeanTo, d.measured)
	m, err := brakes.MeanDecel(vb, ve, sb, se)
	if err != nil {
		return blame("distance-10", err)
	}
	d.values["mean_developed_decel_m_s2"] = m.MetresPerSecondSquared()
	d.r.step("mean fully developed deceleration = (vb² - ve²)/(2 (se - sb)), vb = %s, ve = %s, over %s - %s: %s = %.3f g",
		perSecond(d.us, vb), perSecond(d.us, ve), bareOf(d.us, se), bareOf(d.us, sb), inTwo(d.us, m), m.Gravities())
	d.r.Sources = append(d.r.Sources, "mean deceleration: UN Regulation No. 13, annex 4, 1.1.2 (GRRF-56, read)")
	return nil
}

// hot compares a stop with hot brakes to one with cold ones.
func (d *drive) hot() error {
	cold, have, err := d.long("cold-distance")
	if err != nil || !have {
		return err
	}
	lag := brakes.ShortLag.Value
	dc, err := brakes.TestDecel(d.measured, cold, lag)
	if err != nil {
		return blame("cold-distance", err)
	}
	dh, err := brakes.TestDecel(d.measured, d.way, lag)
	if err != nil {
		return blame("distance", err)
	}
	share := unit.Per(dh, dc)
	d.values["hot_share_percent"] = share.Percent()
	d.r.step("less %.2f s for the brakes to come on: cold %s, hot %s", lag.Seconds(), inTwo(d.us, dc), inTwo(d.us, dh))
	d.r.step("hot over cold = %s", percent(share))
	d.r.say("Hot brakes did %.0f %% of what cold ones did. A new light vehicle has to keep %.0f %% with no harder foot (published); that is a standard for new ones.", share.Percent(), brakes.HotLeast.Value.Percent())
	d.r.Sources = append(d.r.Sources, sourceFigure(d.us, "hot over cold", brakes.HotLeast))
	return nil
}

// tester takes what a brake tester or an instrument on the floor showed.
func (d *drive) tester() error {
	nan := math.NaN()
	d.share, d.decel = unit.Ratio(nan), unit.Acceleration(nan)
	f, haveForce := valueOf[unit.Force](d.in, "brake-force")
	m, haveMass, err := d.in.massOf("mass")
	if err != nil {
		return err
	}
	switch {
	case haveForce && !haveMass:
		return &InputError{"mass", fmt.Errorf("is needed beside --brake-force")}
	case haveMass && !haveForce:
		return &InputError{"brake-force", fmt.Errorf("is needed beside --mass")}
	case haveForce:
		if !(f > 0 && f <= times(2, m.Weight())) {
			return &InputError{"brake-force", fmt.Errorf("%s: want more than 0, and no more than twice the weight", d.in["brake-force"][0].Text)}
		}
		d.share = unit.Per(f, m.Weight())
		rf, rm := unit.As[unit.Force](d.in["brake-force"][0]).Resolution, unit.As[unit.Mass](d.in["mass"][0]).Resolution
		d.uShare = times(d.share, unit.Ratio(math.Hypot(float64(unit.Per(rf, f)), float64(unit.Per(rm, m)))/math.Sqrt(12)))
		d.values["brake_force_percent"] = d.share.Percent()
		w := m.Weight()
		d.r.step("brake force over weight = %s / %s = %s", inTwo(d.us, f), inTwo(d.us, w), percent(d.share))
		d.r.Sources = append(d.r.Sources, sourceStep)
	}
	if d.decel, d.haveRead = valueOf[unit.Acceleration](d.in, "measured-decel"); d.haveRead {
		d.uDecel = unit.Acceleration(float64(unit.As[unit.Acceleration](d.in["measured-decel"][0]).Resolution) / math.Sqrt(12))
		d.r.step("deceleration read off: %s = %.3f g", inTwo(d.us, d.decel), d.decel.Gravities())
		d.r.Sources = append(d.r.Sources, sourceStep)
	}
	return nil
}

const sourceStep = "doubt: one step of the reading; JCGM 100:2008 (GUM), F.2.2.1"

// ruleIDs are the words of --rule.
func ruleIDs() []string {
	var ids []string
	for _, s := range brakes.StopRules() {
		ids = append(ids, s.ID)
	}
	for _, t := range brakes.DistanceTests() {
		ids = append(ids, t.ID)
	}
	return ids
}

// worse keeps the worst of several verdicts: outside, too close, within.
func worse(a, b unit.Verdict) unit.Verdict {
	for _, v := range []unit.Verdict{unit.Outside, unit.TooClose, unit.Within} {
		if a == v || b == v {
			return v
		}
	}
	return unit.NoLimit
}

// rules holds what was measured against each rule that was named.
func (d *drive) rules() error {
	lane, err := d.in.word("lane", "kept", "left")
	if err != nil {
		return err
	}
	worst := map[string]unit.Verdict{}
	verdicts := map[string][]Verdict{}
	add := func(v Verdict) {
		if _, ok := worst[v.Of]; !ok {
			worst[v.Of] = v.Verdict
		}
		worst[v.Of] = worse(worst[v.Of], v.Verdict)
		verdicts[v.Of] = append(verdicts[v.Of], v)
	}
	laneAsked := false
	stops, forces, tests := brakes.StopRules(), brakes.ForceRules(), brakes.DistanceTests()
	for _, a := range d.in["rule"] {
		id := strings.ToLower(a.Text)
		stop := slices.IndexFunc(stops, func(r brakes.StopRule) bool { return r.ID == id })
		force := slices.IndexFunc(forces, func(r brakes.ForceRule) bool { return r.ID == id })
		test := slices.IndexFunc(tests, func(r brakes.DistanceTest) bool { return r.ID == id })
		used := false
		switch {
		case stop < 0 && test < 0:
			return &InputError{"rule", fmt.Errorf("%q: want some of %s", a.Text, strings.Join(ruleIDs(), ", "))}
		case test >= 0:
			used = d.haveWay
			if used {
				v, err := d.newVehicle(tests[test])
				if err != nil {
					return err
				}
				add(v)
			}
		default:
			if d.haveWay {
				used = true
				v, err := d.holdStop(stops[stop])
				if err != nil {
					return err
				}
				add(v)
			}
			laneAsked = laneAsked || stops[stop].Lane.Known()
			if stops[stop].Lane.Known() && lane == "" {
				d.r.say("%s wants it to stay in a lane of %s as well: say so with --lane.", stops[stop].Say, roundWay(d.us, stops[stop].Lane.Value))
			}
		}
		if force >= 0 {
			f := forces[force]
			if d.haveRead {
				used = true
				v, err := d.holdDecel(f)
				if err != nil {
					return err
				}
				add(v)
			}
			if !math.IsNaN(float64(d.share)) {
				used = true
				v, err := d.holdForce(f)
				if err != nil {
					return err
				}
				add(v)
			}
			d.r.say("%s: force, deceleration and distance each stand on their own; none is worked out from another.", f.Say)
		}
		if !used {
			return &InputError{"rule", fmt.Errorf("%s needs a stop that was measured: give --distance", id)}
		}
	}
	for _, l := range stopLimits {
		d.r.Verdicts = append(d.r.Verdicts, verdicts[l.ID]...)
		v := worst[l.ID]
		switch l.ID {
		case "rule-distance":
			d.r.Outcomes = append(d.r.Outcomes, outcome(v, "distance-broken", "distance-too-close", "distance-kept", "distance-unknown"))
		case "rule-decel":
			d.r.Outcomes = append(d.r.Outcomes, outcome(v, "decel-broken", "decel-too-close", "decel-kept", "decel-unknown"))
		case "rule-force":
			d.r.Outcomes = append(d.r.Outcomes, outcome(v, "force-broken", "force-too-close", "force-kept", "force-unknown"))
		case "new-vehicle":
			d.r.Outcomes = append(d.r.Outcomes, outcome(v, "new-not-met", "new-too-close", "new-met", "new-unknown"))
		case "lane":
			o := "lane-unknown"
			if lane != "" {
				o = "lane-" + lane
			}
			d.r.Outcomes = append(d.r.Outcomes, o)
		}
	}
	if lane == "left" {
		d.r.say("It left its lane: whatever the distance, look for what pulls before the next drive.")
	}
	if lane != "" && !laneAsked {
		d.r.warn("None of the rules named asks for a lane.")
	}
	return nil
}

// ofRule adds what a verdict needs of a rule.
func ofRule(v Verdict, id string, mark brakes.Mark, source string) Verdict {
	v.Mark, v.Source, v.Asked, v.Good = string(mark), id+": "+source, true, math.NaN()
	return v
}

// holdStop holds the measured way against a rule that names one distance.
func (d *drive) holdStop(rule brakes.StopRule) (Verdict, error) {
	of := "rule-distance"
	if rule.New {
		of = "new-vehicle"
	}
	v := ofRule(Verdict{Of: of, Unit: "m", Value: d.way.Metres(), Limit: rule.Most.Value.Metres(), Doubt: brakes.Safety.Guard() * d.doubt.Metres()}, rule.ID, rule.Most.Mark, rule.Most.Source)
	v.Asked = !rule.New
	unable := func(why string) (Verdict, error) {
		v.Verdict = unit.NoLimit
		v.Say = fmt.Sprintf("%s: %s", rule.Say, why)
		return v, nil
	}
	if d.hilly() {
		return unable(noHill)
	}
	way, err := brakes.CorrectedDistance(d.way, d.measured, rule.From)
	if err != nil {
		return unable(fmt.Sprintf("it is driven from %s, and %s is too far from that: drive it again", inTwo(d.us, rule.From), inTwo(d.us, d.measured)))
	}
	if math.Abs(float64(unit.Per(d.measured, rule.From))-1) > 1e-6 {
		d.r.step("from %s, by the square of the speeds: %s x (%s / %s)² = %s", inOwn(d.us, rule.From), inOwn(d.us, d.way), bareOf(d.us, rule.From), bareOf(d.us, d.measured), inTwo(d.us, way))
		d.r.Sources = append(d.r.Sources, "correction to the speed of the rule: SAE J299 (from memory)")
	}
	u := times(unit.Per(way, d.way), d.doubt)
	v.Value, v.Doubt = way.Metres(), brakes.Safety.Guard()*u.Metres()
	v.Verdict, err = brakes.Judge(way, u, brakes.AtMost(rule.Most.Value), brakes.Safety)
	if err != nil {
		return v, err
	}
	// The rule lets its own figure pass; rounding must not break it.
	if v.Verdict == unit.Outside && !rule.Broken(way) {
		v.Verdict = unit.TooClose
	}
	value, bound := againstWay(d.us, way, rule.Most.Value)
	v.Say = fmt.Sprintf("%s: %s from %s, at most %s, %s: %s", rule.Say, value, inOwn(d.us, rule.From), bound, rule.Most.Mark, d.word(v.Verdict, rule.New))
	d.after(v.Verdict, rule.New)
	return v, nil
}

// hilly reports whether the stop was driven on no level road: uphill every
// brake is good.
func (d *drive) hilly() bool {
	if math.Abs(float64(d.stop.Downhill)) <= float64(brakes.TestSlope.Value)*(1+1e-9) {
		return false
	}
	d.r.Sources = append(d.r.Sources, sourceFigure(d.us, "slope of a road test", brakes.TestSlope))
	return true
}

const noHill = "it wants a level road, within 1 %, so this stop says nothing"

// word is the verdict in words; a standard for new vehicles finds no fault.
func (d *drive) word(v unit.Verdict, isNew bool) string {
	if isNew && v == unit.Outside {
		return "outside, as a new one is tested; no failure in use"
	}
	return v.Say()
}

// after says once what to do about a verdict.
func (d *drive) after(v unit.Verdict, isNew bool) {
	say := ""
	switch {
	case isNew:
		say = "A standard for new vehicles is tested with known load and known force on the pedal. It says nothing against a vehicle in use."
	case v == unit.Outside:
		say = "It stops too late for that rule. Find out why before it is driven on."
	case v == unit.TooClose:
		say = "Too near the limit for the way it was measured. A speed that is known better settles it: try --speed-error, or measure again."
	case v == unit.Within:
		say = "One good stop shows that the brakes did it once. It looks into no hose, cylinder or lining."
	}
	if say != "" && !slices.Contains(d.r.Say, say) {
		d.r.say("%s", say)
	}
}

func againstWay(us bool, way, most unit.Length) (value, bound string) {
	show := func(u string) (string, string) {
		return unit.FormatAgainstTo(unit.KindLength, float64(way), float64(most), u, 1)
	}
	vf, bf := show("ft")
	vm, bm := show("m")
	if us {
		return vf + " (" + vm + ")", bf + " (" + bm + ")"
	}
	return vm + " (" + vf + ")", bm + " (" + bf + ")"
}

// holdDecel holds what an instrument showed against 49 CFR 393.52.
func (d *drive) holdDecel(rule brakes.ForceRule) (Verdict, error) {
	v := ofRule(Verdict{Of: "rule-decel", Unit: "m/s2", Value: d.decel.MetresPerSecondSquared(), Limit: rule.Decel.Value.MetresPerSecondSquared(),
		Doubt: brakes.Safety.Guard() * d.uDecel.MetresPerSecondSquared()}, rule.ID, rule.Decel.Mark, rule.Decel.Source)
	if d.hilly() {
		v.Verdict, v.Say = unit.NoLimit, rule.Say+": "+noHill
		return v, nil
	}
	var err error
	if v.Verdict, err = brakes.Judge(d.decel, d.uDecel, brakes.AtLeast(rule.Decel.Value), brakes.Safety); err != nil {
		return v, err
	}
	if v.Verdict == unit.Outside && !rule.TooSlow(d.decel) {
		v.Verdict = unit.TooClose
	}
	show := func(u string) (string, string) {
		return unit.FormatAgainst(unit.KindAcceleration, float64(d.decel), float64(rule.Decel.Value), u)
	}
	a, la := show("ft/s2")
	b, lb := show("m/s2")
	if !d.us {
		a, la, b, lb = b, lb, a, la
	}
	v.Say = fmt.Sprintf("%s: deceleration %s (%s), at least %s (%s), %s: %s", rule.Say, a, b, la, lb, rule.Decel.Mark, v.Verdict.Say())
	return v, nil
}

// holdForce holds brake force over weight against 49 CFR 393.52.
func (d *drive) holdForce(rule brakes.ForceRule) (Verdict, error) {
	v := ofRule(Verdict{Of: "rule-force", Unit: "%", Value: d.share.Percent(), Limit: rule.Force.Value.Percent(),
		Doubt: brakes.Safety.Guard() * d.uShare.Percent()}, rule.ID, rule.Force.Mark, rule.Force.Source)
	var err error
	if v.Verdict, err = brakes.Judge(d.share, d.uShare, brakes.AtLeast(rule.Force.Value), brakes.Safety); err != nil {
		return v, err
	}
	if v.Verdict == unit.Outside && !rule.TooWeak(d.share) {
		v.Verdict = unit.TooClose
	}
	value, bound := unit.FormatAgainst(unit.KindRatio, float64(d.share), float64(rule.Force.Value), "%")
	v.Say = fmt.Sprintf("%s: brake force %s of the weight, at least %s, %s: %s", rule.Say, value, bound, rule.Force.Mark, v.Verdict.Say())
	return v, nil
}

// newVehicle holds the measured way against a test for new vehicles, at the
// speed that it was driven from.
func (d *drive) newVehicle(test brakes.DistanceTest) (Verdict, error) {
	most, err := test.Most(d.measured)
	if err != nil {
		return Verdict{}, blame("measured-speed", err)
	}
	v := ofRule(Verdict{Of: "new-vehicle", Unit: "m", Value: d.way.Metres(), Limit: most.Metres(), Doubt: brakes.Safety.Guard() * d.doubt.Metres()}, test.ID, test.Decel.Mark, test.Decel.Source)
	v.Asked = false
	if d.hilly() {
		v.Verdict, v.Say = unit.NoLimit, test.Say+": "+noHill
		return v, nil
	}
	if v.Verdict, err = brakes.Judge(d.way, d.doubt, brakes.AtMost(most), brakes.Safety); err != nil {
		return v, err
	}
	if v.Verdict == unit.Outside && float64(d.way) <= float64(most)*(1+1e-9) {
		v.Verdict = unit.TooClose
	}
	c, err := brakes.Coefficient(test.Decel.Value)
	if err != nil {
		return v, err
	}
	k, km := test.Lag.Value.Seconds()/3.6, d.measured.KilometresPerHour()
	d.r.step("%s: at most %.2f V + %.4f V² = %.2f x %.1f + %.4f x %.1f² = %s", test.Say, k, c, k, km, c, km, inUnits(most, [2]string{"m", "ft"}))
	value, bound := againstWay(d.us, d.way, most)
	v.Say = fmt.Sprintf("%s: %s from %s, at most %s, %s: %s", test.Say, value, inOwn(d.us, d.measured), bound, test.Decel.Mark, d.word(v.Verdict, true))
	d.after(v.Verdict, true)
	if test.OfTop == 0 && !brakes.SpeedCounts(d.measured, test.From) {
		d.r.say("That test is driven from %s and counts no run from under 98 %% of it; the distance here is what its formula gives for your speed.", inTwo(d.us, test.From))
		d.r.Sources = append(d.r.Sources, sourceFigure(d.us, "speed that counts", brakes.RunSpeedLeast))
	}
	return v, nil
}
