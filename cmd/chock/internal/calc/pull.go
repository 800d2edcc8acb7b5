package calc

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"chock/brakes"
	"chock/brakes/unit"
)

// word gives the one word of an input, "" where it is not known.
func (in inputs) word(name string, of ...string) (string, error) {
	if len(in[name]) == 0 {
		return "", nil
	}
	w := strings.ToLower(in[name][0].Text)
	if !slices.Contains(of, w) {
		return "", &InputError{name, fmt.Errorf("%q: want %s", in[name][0].Text, strings.Join(of, ", "))}
	}
	return w, nil
}

// typed is a reading as it was typed, with the unit that it was taken in.
func typed(a unit.Any) string {
	if bare(a) {
		return a.Text + " " + a.Unit
	}
	return a.Text
}

// asTyped is a force as it was typed and in both systems, each once.
func asTyped(s shower, a unit.Any, f unit.Force) string {
	if a.Unit == "lbf" || a.Unit == "N" {
		return amount(s, f)
	}
	return typed(a) + " = " + amount(s, f)
}

// bare reports whether a was typed without a unit.
func bare(a unit.Any) bool { return strings.Trim(a.Text, "0123456789., ") == "" }

func percent(r unit.Ratio) string { return unit.Format(unit.KindRatio, float64(r), "%") }

// A pull is what is known of two wheels of an axle.
type pull struct {
	in          inputs
	s           shower
	r           Result
	axle        string
	left, right unit.Force
	forces      bool // both are known
}

func runPull(raw map[string][]unit.Any) (Result, error) {
	p := &pull{in: inputs(raw)}
	p.s = shower{inch: p.in.customary("left", "right", "track", "scrub")}
	var err error
	if p.axle, err = p.in.word("axle", "front", "rear"); err != nil {
		return Result{}, err
	}
	codes := len(p.in["left-code"]) > 0 || len(p.in["right-code"]) > 0
	if !codes || len(p.in["left"]) > 0 || len(p.in["right"]) > 0 {
		if err := p.compare(); err != nil {
			return Result{}, err
		}
	} else if err := p.nothing(); err != nil {
		return Result{}, err
	}
	if err := p.turn(); err != nil {
		return Result{}, err
	}
	if err := p.codes(); err != nil {
		return Result{}, err
	}
	if codes || len(p.in["track"]) > 0 || len(p.in["scrub"]) > 0 {
		p.r.warn("What is worked out here explains a pull and finds no cause. The vehicle's manual and a qualified technician come first.")
	}
	return p.r, nil
}

// nothing is what comes back where there are letters and no forces.
func (p *pull) nothing() error {
	for _, name := range []string{"locked", "imbalance-limit", "scrub", "lean"} {
		if len(p.in[name]) > 0 {
			return &InputError{name, fmt.Errorf("there are no forces to hold it against: give --left and --right")}
		}
	}
	p.r.Outcomes = []string{"limit-unknown", "uk-major-unknown", "uk-dangerous-unknown", "us-unknown"}
	p.r.Values = Unknown("imbalance_percent", "imbalance_percent_of_lower", "imbalance_percent_of_mean", "doubt_percent", "left_less_right_n")
	return nil
}

// compare holds the forces against each other and against the rules.
func (p *pull) compare() error {
	in, r, axle := p.in, &p.r, p.axle
	for _, name := range []string{"left", "right"} {
		if len(in[name]) == 0 {
			return &InputError{name, fmt.Errorf("is needed: most brake force of the %s wheel, on a tester", name)}
		}
	}
	left, right := unit.As[unit.Force](in["left"][0]), unit.As[unit.Force](in["right"][0])
	p.left, p.right, p.forces = left.Value, right.Value, true
	locked, err := in.word("locked", "left", "right", "both")
	if err != nil {
		return err
	}
	if _, err := brakes.CompareSides(left.Value, 1); err != nil {
		return blame("left", err)
	}
	i, err := brakes.CompareSides(left.Value, right.Value)
	if err != nil {
		return blame("right", err)
	}
	high, low := max(left.Value, right.Value), min(left.Value, right.Value)
	strong, weak := "left", "right"
	if i.Left < 0 {
		strong, weak = "right", "left"
	}
	weakLocked := locked == "both" || locked == weak && i.Left != 0
	step := max(left.Resolution, right.Resolution)
	u := brakes.ImbalanceDoubt(left.Value, right.Value, brakes.Gauge[unit.Force]{Step: step}.Noise())

	doubt := brakes.Comfort.Guard() * u.Percent()

	name := in["left"][0].Unit
	show := func(f unit.Force) string {
		v, _ := unit.Of(unit.Reading[unit.Force]{Value: f}).In(name)
		return fmt.Sprintf("%.6g", v)
	}
	s := p.s
	r.step("left %s", asTyped(s, in["left"][0], left.Value))
	r.step("right %s", asTyped(s, in["right"][0], right.Value))
	r.step("over the higher: (%s - %s) / %s = %s", show(high), show(low), show(high), percent(i.OfHigher))
	if low > 0 {
		r.step("over the lower: (%s - %s) / %s = %s", show(high), show(low), show(low), percent(i.OfLower))
	} else {
		r.step("over the lower: no number, for one wheel does nothing")
	}
	r.step("over the mean: (%s - %s) / ((%s + %s) / 2) = %s", show(high), show(low), show(high), show(low), percent(i.OfMean))

	given, haveLimit := valueOf[unit.Ratio](in, "imbalance-limit")
	if haveLimit {
		if !(given > 0 && !math.IsInf(float64(given), 0)) {
			return &InputError{"imbalance-limit", fmt.Errorf("%v is no limit: want more than 0", given)}
		}
		v, err := brakes.Judge(i.OfHigher, u, brakes.AtMost(given), brakes.Comfort)
		if err != nil {
			return err
		}
		value, bound := unit.FormatAgainst(unit.KindRatio, float64(i.OfHigher), float64(given), "%")
		r.Verdicts = append(r.Verdicts, Verdict{Of: "imbalance", Verdict: v, Value: i.OfHigher.Percent(), Limit: given.Percent(), Good: math.NaN(),
			Doubt: doubt, Unit: "%", Mark: Given, Asked: true, Source: "given with the readings as imbalance-limit",
			Say: fmt.Sprintf("imbalance %s, limit %s over the higher, given: %s", value, bound, v.Say())})
		r.Outcomes = append(r.Outcomes, outcome(v, "over-limit", "limit-too-close", "within-limit", ""))
	} else {
		r.Outcomes = append(r.Outcomes, "limit-unknown")
	}
	for _, rule := range brakes.ImbalanceRules() {
		var v Verdict
		var say []string
		switch {
		case rule.Applies(high, axle != "rear", weakLocked):
			v, say = judgeRule(rule, i, u)
			r.Verdicts = append(r.Verdicts, v)
		case rule.Steered && axle == "rear":
			say = []string{rule.Say + ": not asked of this axle."}
		case weakLocked && rule.LockedExcused:
			say = []string{rule.Say + ": not assessed, because the weaker wheel locked."}
		default:
			say = []string{fmt.Sprintf("%s: not assessed, because the higher force is no more than %s.", rule.Say, rule.Ignored.Value)}
		}
		r.Say = append(r.Say, say...)
		r.Outcomes = append(r.Outcomes, ruleOutcomes[rule.ID][v.Verdict])
		r.Sources = append(r.Sources, fmt.Sprintf("%s: more than %s over the %s: %s (%s)", rule.Say, percent(rule.Most.Value), rule.Base, rule.Most.Source, rule.Most.Mark))
	}
	r.Values = Values{
		{Key: "imbalance_percent", Number: i.OfHigher.Percent()},
		{Key: "imbalance_percent_of_lower", Number: i.OfLower.Percent()},
		{Key: "imbalance_percent_of_mean", Number: i.OfMean.Percent()},
		{Key: "doubt_percent", Number: doubt},
		{Key: "left_less_right_n", Number: (left.Value - right.Value).Newtons()},
	}
	switch {
	case low == 0:
		r.say("The %s wheel records nothing. That alone is a dangerous defect (UK MOT inspection manual, section 1.2.1): do not drive.", weak)
	case i.Left == 0:
		r.say("Left and right brake alike.")
	case !slices.ContainsFunc(r.Verdicts, func(v Verdict) bool { return v.Verdict == unit.Outside }):
		r.say("The %s brake does more. Rules let that pass; a pull that is felt all the same is looked for at the weak wheel, %s, first.", strong, weak)
	default:
		r.say("It pulls to the %s, the stronger side. The weak wheel, %s, is the one to look at first.", strong, weak)
	}
	if weakLocked {
		r.say("A wheel that locks shows what its tyre holds, not what its brake can.")
	}
	if bare(in["left"][0]) || bare(in["right"][0]) {
		r.warn("A number without a unit is taken as %s. The percentage is the same in any; the line under which a tester assesses nothing is not.", name)
	}
	r.warn("Tyre pressure, a wet tyre and an uneven load spoil such readings: settle those first, then read again.")
	if len(in["axle"]) == 0 {
		r.warn("Which axle was not said: the rule for an axle that steers is taken to apply.")
	}
	r.Sources = append(r.Sources, "doubt: one step of each reading; JCGM 100:2008 (GUM), 5.1.2")
	return nil
}

// ruleOutcomes are the outcomes of each rule by its verdict.
var ruleOutcomes = map[string]map[unit.Verdict]string{
	"uk-major":     {unit.Outside: "uk-major", unit.Within: "uk-not-major", unit.NoLimit: "uk-major-unknown"},
	"uk-dangerous": {unit.Outside: "uk-dangerous", unit.Within: "uk-not-dangerous", unit.NoLimit: "uk-dangerous-unknown"},
	"us-in-use":    {unit.Outside: "us-broken", unit.Within: "us-kept", unit.NoLimit: "us-unknown"},
}

// judgeRule holds an imbalance against a published rule, to the letter: what
// the tester printed counts, and the very limit is let pass.
func judgeRule(rule brakes.ImbalanceRule, i brakes.Imbalance, u unit.Ratio) (v Verdict, say []string) {
	x, most := rule.Of(i), rule.Most.Value
	v = Verdict{Of: rule.ID, Verdict: unit.Within, Value: x.Percent(), Limit: most.Percent(), Good: math.NaN(), Doubt: math.NaN(),
		Unit: "%", Mark: string(rule.Most.Mark), Source: rule.Most.Source}
	if rule.Broken(i) {
		v.Verdict = unit.Outside
	}
	if math.IsInf(float64(x), 0) {
		v.Value = math.NaN()
		v.Say = fmt.Sprintf("%s: one wheel does nothing: %s", rule.Say, v.Verdict.Say())
		return v, nil
	}
	value, bound := unit.FormatAgainst(unit.KindRatio, float64(x), float64(most), "%")
	v.Say = fmt.Sprintf("%s: %s over the %s, at most %s, %s: %s", rule.Say, value, rule.Base, bound, rule.Most.Mark, v.Verdict.Say())
	if rule.Base == brakes.OverHigher && math.Abs(float64(x-most)) < brakes.Comfort.Guard()*float64(u) {
		say = []string{"One step of the tester would turn that verdict: read again."}
	}
	return v, say
}

// turn says what two unequal forces do to vehicle and steering.
func (p *pull) turn() error {
	nan := math.NaN()
	yaw, tug, side := unit.Torque(nan), unit.Torque(nan), unit.Force(nan)
	r := &p.r
	track, haveTrack := p.in.length("track")
	base, haveBase := p.in.length("wheelbase")
	scrub, haveScrub := p.in.length("scrub")
	lean, haveLean := valueOf[unit.Angle](p.in, "lean")
	switch {
	case haveScrub && p.axle == "rear":
		return &InputError{"scrub", fmt.Errorf("the rear wheels do not steer")}
	case haveLean && !haveScrub:
		return &InputError{"lean", fmt.Errorf("tells nothing without --scrub")}
	}
	toward := func(t unit.Torque) string {
		if t < 0 {
			return "right"
		}
		return "left"
	}
	size := func(t unit.Torque) unit.Torque { return unit.Torque(math.Abs(float64(t))) }
	if p.forces && haveTrack {
		var err error
		if yaw, err = brakes.YawMoment(p.left, p.right, track); err != nil {
			return blame("track", err)
		}
		r.step("turning moment = (%s - %s) x %s / 2 = %s", own(p.s, p.left), own(p.s, p.right), typed(p.in["track"][0]), amount(p.s, yaw))
		if yaw != 0 {
			r.say("The difference turns the vehicle to the %s with %s.", toward(yaw), amount(p.s, size(yaw)))
			if haveBase {
				if side, err = brakes.SideForce(yaw, base); err != nil {
					return blame("wheelbase", err)
				}
				r.step("side force = %s / %s = %s", own(p.s, size(yaw)), typed(p.in["wheelbase"][0]), amount(p.s, side))
				r.say("To keep straight, the tyres of each axle hold %s sideways. That takes from what they can brake.", amount(p.s, side))
			} else {
				r.say("The driver holds against it with the steering.")
			}
		}
		r.Sources = append(r.Sources, "turning moment: difference of the forces at half the track (moments about the middle)")
	}
	if haveScrub {
		if !haveLean {
			lean = 0
		}
		var err error
		if tug, err = brakes.SteeringTug(p.left, p.right, scrub, lean); err != nil {
			if strings.HasPrefix(err.Error(), "lean") {
				return blame("lean", err)
			}
			return blame("scrub", err)
		}
		if haveLean {
			r.step("tug at the steering = (%s - %s) x %s x cos %s = %s", own(p.s, p.left), own(p.s, p.right), typed(p.in["scrub"][0]), lean, amount(p.s, tug))
		} else {
			r.step("tug at the steering = (%s - %s) x %s = %s", own(p.s, p.left), own(p.s, p.right), typed(p.in["scrub"][0]), amount(p.s, tug))
		}
		switch {
		case p.left == p.right:
		case tug == 0:
			r.say("The steering axis meets the road at the middle of the tread: the steering does not tug, though the vehicle pulls.")
		case scrub > 0:
			r.say("The road steers the front wheels to the %s, toward the stronger side, with %s: the steering tugs the way the vehicle pulls.", toward(tug), amount(p.s, size(tug)))
		default:
			r.say("The road steers the front wheels to the %s, against the pull, with %s: the vehicle pulls the less for it.", toward(tug), amount(p.s, size(tug)))
		}
		r.Sources = append(r.Sources, "tug: difference of the forces at the scrub radius; Banholzer, Transportation Research Record 621, 1977, abstract")
	}
	if p.forces && p.axle == "rear" && p.left != p.right {
		r.say("Unequal rear brakes turn the vehicle without a tug at the steering.")
	}
	r.Values = append(r.Values,
		Value{Key: "yaw_moment_nm", Number: yaw.NewtonMetres()},
		Value{Key: "side_force_n", Number: side.Newtons()},
		Value{Key: "steering_torque_nm", Number: tug.NewtonMetres()})
	return nil
}

// codes compares the letters on the linings of both sides.
func (p *pull) codes() error {
	r := &p.r
	keys := []string{"code_imbalance_low_percent", "code_imbalance_middle_percent", "code_imbalance_high_percent",
		"code_hot_imbalance_low_percent", "code_hot_imbalance_middle_percent", "code_hot_imbalance_high_percent"}
	brake, err := p.in.word("brake", brakeWords...)
	if err != nil {
		return err
	}
	if len(p.in["left-code"]) == 0 && len(p.in["right-code"]) == 0 {
		r.Outcomes = append(r.Outcomes, "codes-unknown")
		r.Values = append(r.Values, Unknown(keys...)...)
		return nil
	}
	var code [2]brakes.EdgeCode
	for i, name := range []string{"left-code", "right-code"} {
		if len(p.in[name]) == 0 {
			return &InputError{name, fmt.Errorf("is needed: the letters of the other side have to be held against something")}
		}
		if code[i], err = brakes.ParseEdgeCode(p.in[name][0].Text); err != nil {
			return blame(name, err)
		}
	}
	if brake == "" {
		brake = "disc"
		r.warn("Which brake was not said: a disc is taken. With drums the same letters do more.")
	}
	factor := factorOf(brake)
	for i, x := range []struct {
		what        string
		left, right brakes.Band
	}{{"cold", code[0].Normal, code[1].Normal}, {"hot", code[0].Hot, code[1].Hot}} {
		spread := brakes.SpreadOfCodes(x.left, x.right, factor)
		p.spread(x.what, brake, x.left, x.right, spread)
		for j, v := range []unit.Ratio{spread.Low, spread.Middle, spread.High} {
			r.Values = append(r.Values, Value{Key: keys[3*i+j], Number: v.Percent()})
		}
	}
	letters := func(e brakes.EdgeCode) string { return string([]byte{e.Normal.Letter, e.Hot.Letter}) }
	if letters(code[0]) != letters(code[1]) {
		r.Outcomes = append(r.Outcomes, "codes-differ")
		r.say("Left %s, right %s: two linings on one axle. Fit one set to both wheels.", letters(code[0]), letters(code[1]))
	} else {
		r.Outcomes = append(r.Outcomes, "codes-alike")
		r.say("Both sides carry %s, as they should. A letter is a band, and two linings may lie at its two ends.", letters(code[0]))
	}
	for i, name := range []string{"left", "right"} {
		if e := code[i]; e.Material != 0 {
			r.step("%s lining: made in %d, %s", name, e.Year, e.Copper())
		}
	}
	if a, b := code[0], code[1]; a.Material != 0 && b.Material != 0 && (a.Material != b.Material || a.Year != b.Year) {
		r.say("Year or copper differ: the two sides are not from one set.")
	}
	if brake == "duo-servo" {
		r.say("The two shoes of such a drum may carry different letters by design. Hold front shoe against front shoe, rear against rear.")
	}
	if _, drum := floating[brake]; drum {
		r.warn("Through the factor of a drum of common proportions, which says too much over a friction of %.2f (%s).", float64(brakes.FloatingTrusted.Value), brakes.FloatingTrusted.Mark)
	}
	r.warn("The practice that the letters come from says itself that they cannot reliably foretell how a vehicle brakes. They tell two linings apart, and no more.")
	r.Sources = append(r.Sources, sourceOf("letters", string(brakes.CodeC.Mark), brakes.CodeC.Source))
	return nil
}

// spread says by how much two letters may set the sides apart.
func (p *pull) spread(what, brake string, left, right brakes.Band, s brakes.CodeSpread) {
	band := func(b brakes.Band) string {
		switch {
		case !b.Known():
			return fmt.Sprintf("%c (unclassified)", b.Letter)
		case math.IsInf(float64(b.To), 0):
			return fmt.Sprintf("%c (over %.2f)", b.Letter, float64(b.Over))
		}
		return fmt.Sprintf("%c (over %.2f, up to %.2f)", b.Letter, float64(b.Over), float64(b.To))
	}
	r := &p.r
	r.step("%s: left %s, right %s", what, band(left), band(right))
	unknown := func(x unit.Ratio) bool { return math.IsNaN(float64(x)) }
	strong, weak := "left", "right"
	if s.Stronger < 0 {
		strong, weak = weak, strong
	}
	whole := func(x unit.Ratio) string { return unit.FormatTo(unit.KindRatio, float64(x), "%", 0) }
	switch {
	case unknown(s.Low):
		r.say("%s: a letter says nothing, so nothing can be told.", capital(what))
	case unknown(s.High) && s.Stronger == 0:
		r.say("%s: one letter without an end: how far apart they are, it does not say.", capital(what))
	case unknown(s.High):
		r.say("%s: at the same pressure the %s holds less than the %s, by %s at least. How much less, the letters do not say.", capital(what), weak, strong, whole(s.Low))
	case s.Stronger == 0:
		r.step("%s, two linings of one letter on a %s brake: up to %s apart, over the higher", what, brake, percent(s.High))
		r.say("%s: one letter, and still the two may be up to %s apart.", capital(what), whole(s.High))
	default:
		r.step("%s, on a %s brake: %s to %s apart, over the higher; %s at the middle of the letters", what, brake, percent(s.Low), percent(s.High), percent(s.Middle))
		if s.Low == 0 {
			r.say("%s: at the same pressure the %s may hold up to %s less than the %s. It would pull to the %s.", capital(what), weak, whole(s.High), strong, strong)
		} else {
			r.say("%s: at the same pressure the %s holds %s to %s less than the %s. It would pull to the %s.", capital(what), weak, whole(s.Low), whole(s.High), strong, strong)
		}
	}
}
