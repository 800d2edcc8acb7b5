package calc

import (
	"errors"
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"

	"chock/brakes"
	"chock/brakes/unit"
)

var inUse = Limits()

// Limits is the calculation that holds readings against rules in use: the
// policies of brakes, ours for a trip, and those that somebody wrote down for
// themselves.
func Limits(yours ...brakes.Policy) Calculation {
	c := Calculation{
		Name:    "in-use-limits",
		Command: "limits",
		Short:   "readings against rules in use, whose they are and what they call it",
		Title:   "Readings against rules in use",
		Inputs:  limitInputs(),
		Limits: []Limit{
			{"policy", "policy", []string{"rule-broken", "rule-too-close", "rules-kept", "rules-unknown"}},
		},
		Keys: []string{"rules", "policies"},
	}
	if len(yours) > 0 {
		c.Limits = append(c.Limits, Limit{"yours", "", []string{"yours-broken", "yours-too-close", "yours-kept", "yours-unknown"}})
	}
	c.run = func(raw map[string][]unit.Any) (Result, error) { return runLimits(raw, yours) }
	return c
}

// flagOf are the flags of the measurands that are called otherwise, and the
// unit that a bare number takes.
var flagOf = map[brakes.Measurand]string{
	brakes.OfLining: "pad", brakes.OfRivets: "rivets", brakes.OfImbalance: "imbalance", brakes.OfSecondary: "second-brake",
	brakes.OfParking: "parking-brake", brakes.OfStrokes: "strokes", brakes.OfGross: "gross-weight",
}

func flagName(m brakes.Measurand) string {
	if f, ok := flagOf[m]; ok {
		return f
	}
	return string(m)
}

// Readings from which a measurand is worked out stand in its place.
var workedOut = map[brakes.Measurand][]Input{
	brakes.OfVacuum: {
		{Name: "vacuum-before", Kind: unit.KindPressure, Optional: true, Default: "inHg", Say: "what the vacuum gauge showed, engine just stopped"},
		{Name: "vacuum-after", Kind: unit.KindPressure, Optional: true, Default: "inHg", Say: "what it showed after one full stroke"},
	},
	// Over the lower follows from over the higher.
	brakes.OfImbalanceLower: {},
}

// bareUnit is what a bare number of a kind is taken as.
func bareUnit(m brakes.Measured) string {
	switch {
	case m.Kind == unit.KindRatio:
		return "%"
	case m.Kind == unit.KindForce, m.Kind == unit.KindMass:
		return map[unit.Kind]string{unit.KindForce: "lbf", unit.KindMass: "lb"}[m.Kind]
	case m.Kind == unit.KindTime:
		return "s"
	case m.Kind == unit.KindAcceleration:
		return "ft/s2"
	case m.ID == brakes.OfStop, m.ID == brakes.OfEmergency:
		return "ft"
	}
	return ""
}

func limitInputs() []Input {
	var ins []Input
	for _, m := range brakes.Measurands() {
		if more, ok := workedOut[m.ID]; ok {
			ins = append(ins, more...)
			continue
		}
		in := Input{Name: flagName(m.ID), Kind: m.Kind, Optional: true, Default: bareUnit(m), Say: m.How}
		in.Typed = m.Kind == unit.KindLength && in.Default == ""
		ins = append(ins, in)
		switch m.ID {
		case brakes.OfRotor:
			ins = append(ins, Input{Name: "rotor-discard", Kind: unit.KindLength, Optional: true, Typed: true, Figure: true, Vehicle: "AXLE-rotor-discard", Say: "discard thickness, cast on the rotor"})
		case brakes.OfDrum:
			ins = append(ins, Input{Name: "drum-max", Kind: unit.KindLength, Optional: true, Typed: true, Figure: true, Vehicle: "AXLE-drum-max", Say: "largest diameter, cast or stamped on the drum"})
		}
	}
	for _, f := range brakes.Facts() {
		in := Input{Name: f.Of, Kind: unit.KindWord, Optional: true, Say: factHelp[f.Of] + ": " + strings.Join(f.Is, ", ")}
		if f.Of == "booster" {
			in.Vehicle = "booster"
		}
		ins = append(ins, in)
	}
	return append(ins,
		Input{Name: "first-used", Kind: unit.KindWord, Optional: true, Say: "when it was first used or registered: a year, or a day as 2010-09-01"},
		Input{Name: "policy", Kind: unit.KindWord, Figure: true, Optional: true, Say: "whose rules: names parted by commas, all published ones if not given; list lists them"})
}

var factHelp = map[string]string{
	"use":     "whose law may apply",
	"carries": "what the vehicle is for",
	"axle":    "which axle the readings are of; the front one steers",
	"booster": "what helps the foot",
	"trailer": "whether it pulls a trailer",
	"braked":  "whether all wheels have brakes",
	"hub":     "whether the wheel bearing is adjusted or sealed",
	"locked":  "whether the weaker wheel locked on the tester",
	"sank":    "whether the held pedal sank at the end of --hold (yes if not given)",
}

// PolicyNames are those that --policy takes, and what each is.
func PolicyNames() []string {
	var names []string
	for _, p := range brakes.Policies() {
		names = append(names, p.Name)
	}
	return append(names, brakes.HouseTripName)
}

// A limitsRun is one run: what was read, and whose rules.
type limitsRun struct {
	in    inputs
	c     brakes.Case
	r     Result
	named bool // the rules were asked for by name
	found []brakes.Finding
}

func runLimits(raw map[string][]unit.Any, yours []brakes.Policy) (Result, error) {
	l := limitsRun{in: inputs(raw)}
	names, list, err := l.policies()
	if err != nil {
		return Result{}, err
	}
	if list {
		return listPolicies(l.in.us("pad", "rotor", "drum", "tread", "rim-runout"), yours)
	}
	if err := l.readCase(); err != nil {
		return Result{}, err
	}
	worst := [2]unit.Verdict{}
	for i, group := range [][]brakes.Policy{l.chosen(names), yours} {
		for _, p := range group {
			found, err := p.Hold(l.c)
			if err != nil {
				return Result{}, err
			}
			l.found = append(l.found, found...)
			for _, f := range found {
				worst[i] = worseOf(worst[i], f)
			}
			if i == 1 || l.named {
				l.unread(p, found)
			}
		}
	}
	l.lines(yours)
	l.say()
	l.r.Outcomes = []string{outcome(worst[0], "rule-broken", "rule-too-close", "rules-kept", "rules-unknown")}
	if len(yours) > 0 {
		l.r.Outcomes = append(l.r.Outcomes, outcome(worst[1], "yours-broken", "yours-too-close", "yours-kept", "yours-unknown"))
	}
	l.values(append(l.chosen(names), yours...))
	return l.r, nil
}

// lines makes a line of each rule, by what was read.
func (l *limitsRun) lines(yours []brakes.Policy) {
	mine := map[string]bool{}
	for _, p := range yours {
		mine[p.Name] = true
	}
	// What is broken stands first, then what is too close.
	rank := map[unit.Verdict]int{unit.Outside: 0, unit.TooClose: 1, unit.NoLimit: 2, unit.Within: 3}
	for _, group := range []string{"policy", "yours"} {
		first := len(l.r.Verdicts)
		for _, m := range brakes.Measurands() {
			for _, f := range l.found {
				if f.Rule.Of == m.ID && mine[f.Policy] == (group == "yours") {
					l.add(group, f, group == "yours" || l.named)
				}
			}
		}
		slices.SortStableFunc(l.r.Verdicts[first:], func(a, b Verdict) int { return rank[a.Verdict] - rank[b.Verdict] })
	}
}

// worseOf is the worse of a verdict and that of a finding.
func worseOf(v unit.Verdict, f brakes.Finding) unit.Verdict {
	rank := map[unit.Verdict]int{unit.NoLimit: 0, unit.Within: 1, unit.TooClose: 2, unit.Outside: 3}
	if f.Not == "" && rank[f.Verdict] > rank[v] {
		return f.Verdict
	}
	return v
}

// policies reads the names after --policy.
func (l *limitsRun) policies() (names []string, list bool, err error) {
	if len(l.in["policy"]) == 0 {
		// Ours repeats the strictest of the others: it is asked for by name.
		all := PolicyNames()
		return all[:len(all)-1], false, nil
	}
	l.named = true
	for name := range strings.SplitSeq(l.in["policy"][0].Text, ",") {
		name = strings.ToLower(strings.TrimSpace(name))
		switch {
		case name == "list":
			list = true
		case !slices.Contains(PolicyNames(), name):
			return nil, false, &InputError{"policy", fmt.Errorf("%q: want list, or one of %s", name, strings.Join(PolicyNames(), ", "))}
		case !slices.Contains(names, name):
			names = append(names, name)
		}
	}
	if list && len(names) > 0 {
		return nil, false, &InputError{"policy", errors.New("list stands alone")}
	}
	return names, list, nil
}

// chosen are the policies of those names; ours is made for the case.
func (l *limitsRun) chosen(names []string) []brakes.Policy {
	var out []brakes.Policy
	for _, p := range brakes.Policies() {
		if slices.Contains(names, p.Name) {
			out = append(out, p)
		}
	}
	if slices.Contains(names, brakes.HouseTripName) {
		out = append(out, brakes.HouseTrip(l.c))
	}
	return out
}

// readCase takes what was read and said.
func (l *limitsRun) readCase() error {
	l.c = brakes.Case{Read: map[brakes.Measurand]unit.Any{}, Own: map[brakes.Measurand]unit.Any{}, Facts: map[string]string{}}
	readings := 0
	for _, m := range brakes.Measurands() {
		name := flagName(m.ID)
		if len(l.in[name]) == 0 {
			continue
		}
		a := l.in[name][0]
		if err := plausible(m, a); err != nil {
			return &InputError{name, err}
		}
		l.c.Read[m.ID] = a
		if !m.About {
			readings++
		}
	}
	n, err := l.vacuum()
	if err != nil {
		return err
	}
	if readings += n; readings == 0 {
		return &InputError{"pad", errors.New("no reading: give --pad, --pedal-used, --imbalance or another; --help names them all")}
	}
	for m, name := range map[brakes.Measurand]string{brakes.OfRotor: "rotor-discard", brakes.OfDrum: "drum-max"} {
		_, have, err := l.in.figure(name)
		if err != nil {
			return err
		}
		if have {
			l.c.Own[m] = l.in[name][0]
		}
	}
	for _, f := range brakes.Facts() {
		w, err := l.in.word(f.Of, f.Is...)
		if err != nil {
			return err
		}
		if w != "" {
			l.c.Facts[f.Of] = w
		}
	}
	if len(l.in["first-used"]) > 0 {
		if l.c.First, err = days(l.in["first-used"][0].Text); err != nil {
			return &InputError{"first-used", err}
		}
	}
	return nil
}

// vacuum works out what one stroke leaves of the vacuum.
func (l *limitsRun) vacuum() (readings int, err error) {
	before, haveBefore := valueOf[unit.Pressure](l.in, "vacuum-before")
	after, haveAfter := valueOf[unit.Pressure](l.in, "vacuum-after")
	switch {
	case !haveBefore && !haveAfter:
		return 0, nil
	case !haveBefore:
		return 0, &InputError{"vacuum-before", errors.New("is needed beside --vacuum-after: what the gauge showed before the stroke")}
	case !haveAfter:
		return 0, &InputError{"vacuum-after", errors.New("is needed beside --vacuum-before: what one full stroke left")}
	case !(before > 0 && !math.IsInf(float64(before), 0)):
		return 0, &InputError{"vacuum-before", fmt.Errorf("%v: want more than 0", before)}
	case !(after >= 0 && after <= before):
		return 0, &InputError{"vacuum-after", fmt.Errorf("%v: want 0 to the %v before", after, before)}
	}
	step := max(l.in["vacuum-before"][0].Resolution, l.in["vacuum-after"][0].Resolution)
	kept := unit.Of(unit.Reading[unit.Ratio]{Value: unit.Per(after, before), Resolution: unit.Ratio(step * math.Sqrt2 / float64(before))})
	kept.Unit = "%"
	l.c.Read[brakes.OfVacuum] = kept
	l.r.step("vacuum kept: %s / %s = %s", typed(l.in["vacuum-after"][0]), typed(l.in["vacuum-before"][0]), percent(unit.Ratio(kept.SI)))
	return 1, nil
}

// plausible refuses what cannot be a reading of its kind.
func plausible(m brakes.Measured, a unit.Any) error {
	switch {
	case math.IsNaN(a.SI) || math.IsInf(a.SI, 0):
		return errors.New("want a number")
	case a.SI < 0:
		return fmt.Errorf("%s: want 0 or more", a.Both())
	case m.ID == brakes.OfGross && a.SI == 0, m.ID == brakes.OfStrokes && a.SI < 1:
		return fmt.Errorf("%s: want more than 0", a.Both())
	case m.Kind == unit.KindRatio && a.SI > 1 && m.ID != brakes.OfBrakeForce:
		return fmt.Errorf("%s: want 0 to 100 %%", percent(unit.Ratio(a.SI)))
	case m.ID == brakes.OfBrakeForce && a.SI > 2:
		return fmt.Errorf("%s: no tyre holds that", percent(unit.Ratio(a.SI)))
	}
	return nil
}

// days reads a year, or a day as 2010-09-01, as a first and a last day.
func days(text string) (d [2]brakes.Date, err error) {
	want := fmt.Errorf("%q: want a year, like 2010, or a day, like 2010-09-01", text)
	part := strings.Split(text, "-")
	var n [3]int
	if len(part) != 1 && len(part) != 3 {
		return d, want
	}
	for i, p := range part {
		if len(p) != 4 && i == 0 || len(p) != 2 && i > 0 || strings.Trim(p, "0123456789") != "" {
			return d, want
		}
		for _, c := range p {
			n[i] = 10*n[i] + int(c-'0')
		}
	}
	if n[0] < 1900 {
		return d, want
	}
	if len(part) == 1 {
		return [2]brakes.Date{brakes.Date(n[0]*10000 + 101), brakes.Date(n[0]*10000 + 1231)}, nil
	}
	if n[1] < 1 || n[1] > 12 || n[2] < 1 || n[2] > 31 {
		return d, want
	}
	day := brakes.Date(n[0]*10000 + n[1]*100 + n[2])
	return [2]brakes.Date{day, day}, nil
}

// otherUnit is the unit of the other system, "" where one serves everybody.
func otherUnit(kind unit.Kind, name string) string {
	pairs := [][2]string{{"in", "mm"}, {"thou", "mm"}, {"ft", "m"}, {"lbf", "N"}, {"kgf", "lbf"}, {"lb", "kg"}, {"ft/s2", "m/s2"}, {"g", "m/s2"}}
	for _, p := range pairs {
		switch {
		case p[0] == name && unit.Known(kind, p[1]):
			return p[1]
		case p[1] == name && unit.Known(kind, p[0]):
			return p[0]
		}
	}
	return ""
}

// against shows a reading and its limit in both systems, the person's own
// first, with digits enough to keep their order.
func against(m brakes.Measured, value unit.Any, limit float64) (v, l string) {
	show := func(name string) (v, l string) {
		if m.Kind == unit.KindLength && m.Scatter.Value >= brakes.RuleScatter.Value || m.ID == brakes.OfTread || m.ID == brakes.OfFluid {
			// Read with a rule: no thousandths.
			return unit.FormatAgainstTo(value.Kind, value.SI, limit, name, map[string]int{"in": 4, "mm": 2}[name])
		}
		return unit.FormatAgainst(value.Kind, value.SI, limit, name)
	}
	v, l = show(value.Unit)
	if math.IsInf(value.SI, 0) {
		v = "beyond any number"
	}
	if o := otherUnit(value.Kind, value.Unit); o != "" {
		v2, l2 := show(o)
		v, l = v+" ("+v2+")", l+" ("+l2+")"
	}
	return v, l
}

// add makes the line of one rule.
func (l *limitsRun) add(group string, f brakes.Finding, asked bool) {
	if f.Unread || f.Not != "" {
		return
	}
	m := measurand(f.Rule.Of)
	nan := math.NaN()
	mark := f.Rule.Limit.Mark
	v := Verdict{Of: group + "/" + f.Policy + "/" + f.Rule.ID, Verdict: f.Verdict, Good: nan, Doubt: nan, Limit: nan,
		Unit: shownUnit(f.Value), Mark: string(mark), Asked: asked, Source: f.Rule.Limit.Source}
	v.Value, _ = f.Value.In(v.Unit)
	if math.IsInf(v.Value, 0) {
		v.Value = nan
	}
	if f.Limit.Kind == "" {
		v.Mark, v.Source = "", ""
		value, _ := against(m, f.Value, f.Value.SI)
		v.Say = fmt.Sprintf("%s %s: %s goes by what is cast on it, or its maker's figure (%s): %s", m.Say, value, f.Policy, cite(f.Rule, string(mark)), f.Verdict.Say())
		l.r.Verdicts = append(l.r.Verdicts, v)
		return
	}
	v.Limit, _ = f.Limit.In(v.Unit)
	if f.Rule.Own {
		v.Mark = Given
		v.Source = "given with the readings; " + f.Rule.Limit.Source
	}
	value, bound := against(m, f.Value, f.Limit.SI)
	who := f.Policy
	if len(f.If) > 0 {
		who += ", " + strings.Join(f.If, ", ")
	}
	word := v.Mark
	if f.Verdict != unit.Within {
		word = cite(f.Rule, v.Mark)
	}
	v.Say = fmt.Sprintf("%s %s: %s %s by %s (%s): %s", m.Say, value, f.Rule.Must, bound, who, word, f.Verdict.Say())
	if f.Verdict == unit.Outside {
		v.Say += " (" + f.Rule.Called + ")"
	}
	l.r.Verdicts = append(l.r.Verdicts, v)
}

// cite is the document, its edition and the mark.
func cite(r brakes.Rule, mark string) string {
	doc, _, _ := strings.Cut(r.Limit.Source, ": ")
	// The mark says the same.
	doc = strings.ReplaceAll(strings.ReplaceAll(doc, ", not read again", ""), ", its figure not read again", "")
	return doc + ", " + mark
}

func measurand(id brakes.Measurand) brakes.Measured {
	all := brakes.Measurands()
	return all[slices.IndexFunc(all, func(m brakes.Measured) bool { return m.ID == id })]
}

// shownUnit is the unit of a verdict's numbers: of a length mm, else the one it
// was typed in.
func shownUnit(a unit.Any) string {
	switch {
	case a.Kind == unit.KindLength:
		return "mm"
	case a.Kind == unit.KindRatio:
		return "%"
	}
	return a.Unit
}

// unread names what a policy that was asked for wants and nobody read.
func (l *limitsRun) unread(p brakes.Policy, found []brakes.Finding) {
	var names []string
	for _, f := range found {
		if say := measurand(f.Rule.Of).Say; f.Unread && f.Not == "" && !slices.Contains(names, say) {
			names = append(names, say)
		}
	}
	if len(names) > 0 {
		l.r.warn("%s asks as well, and was not told: %s.", p.Name, strings.Join(names, "; "))
	}
}

// hardest are the words for a broken rule, the hardest first.
var hardest = []string{"dangerous", "major", "fail", "reject", "violation", "defect"}

// say sums up.
func (l *limitsRun) say() {
	var means []string
	not := map[string][]string{} // by the reason
	var worst *brakes.Finding
	near := map[string][]string{}
	held, broken, close := 0, 0, 0
	some := map[string]bool{} // policies of which some rule is for this vehicle
	for _, f := range l.found {
		some[f.Policy] = some[f.Policy] || !f.Unread && f.Not == ""
	}
	rank := func(called string) int {
		if i := slices.Index(hardest, called); i >= 0 {
			return i
		}
		return len(hardest)
	}
	for _, f := range l.found {
		switch {
		case f.Unread:
			continue
		case f.Not != "":
			name := f.Policy
			if some[name] {
				name = "part of " + name
			}
			if !slices.Contains(not[f.Not], name) {
				not[f.Not] = append(not[f.Not], name)
			}
			continue
		case f.Limit.Kind == "":
			continue
		}
		held++
		switch f.Verdict {
		case unit.Outside:
			broken++
			if worst == nil || rank(f.Rule.Called) < rank(worst.Rule.Called) {
				worst = &f
			}
			if f.Rule.Means != "" && !slices.Contains(means, f.Rule.Means) {
				means = append(means, f.Rule.Means)
			}
		case unit.TooClose:
			close++
		}
		if say := measurand(f.Rule.Of).Say; f.Near && f.Verdict != unit.TooClose && !slices.Contains(near[say], f.Policy) {
			near[say] = append(near[say], f.Policy)
		}
	}
	switch {
	case held == 0:
		l.r.say("No rule named here has a limit for these readings.")
	case broken == 0 && close == 0 && held == 1:
		l.r.say("The one rule named here is not broken by this reading.")
	case broken == 0 && close == 0:
		l.r.say("None of the %d rules named here is broken by these readings.", held)
	case broken == 0 && held == 1:
		l.r.say("The one rule named here is not broken, and ours wants more room for the doubt of the reading.")
	case broken == 0:
		l.r.say("None of the %d rules named here is broken, and ours wants more room for the doubt of %s.", held, count(close, "reading"))
	case held == 1:
		l.r.say("The one rule named here is broken: %s, by %s.", worst.Rule.Called, worst.Policy)
	case len(some) == 1:
		l.r.say("%d of the %d rules of %s that were read for are broken: %s.", broken, held, worst.Policy, worst.Rule.Called)
	default:
		l.r.say("%d of %d rules broken. The hardest word for it: %s, by %s for %s.", broken, held, worst.Rule.Called, worst.Policy, measurand(worst.Rule.Of).Say)
	}
	l.r.Say = append(l.r.Say, means...)
	l.settle()
	for _, m := range brakes.Measurands() {
		if who := near[m.Say]; len(who) > 0 {
			l.r.say("%s: so near that the doubt of the reading could turn it for %s. Read it again, finer.", capital(m.Say), strings.Join(who, ", "))
		}
	}
	var left []string
	for _, why := range slices.Sorted(maps.Keys(not)) {
		left = append(left, why+": "+strings.Join(not[why], ", "))
	}
	if len(left) > 0 {
		l.r.warn("Left out, for they are for others. %s.", capital(strings.Join(left, "; ")))
	}
	l.r.say("Rules differ from place to place and change. The law where you are and its inspectors come first, and readings are no inspection.")
}

// settle says what would settle a length that ours finds too close to call.
func (l *limitsRun) settle() {
	for _, m := range brakes.Measurands() {
		i := slices.IndexFunc(l.found, func(f brakes.Finding) bool {
			return f.Rule.Of == m.ID && f.Not == "" && f.Verdict == unit.TooClose && f.Value.Kind == unit.KindLength
		})
		if i < 0 {
			continue
		}
		f := l.found[i]
		value, at := unit.As[unit.Length](f.Value), unit.Length(f.Limit.SI)
		h := held{judged: value.Value, doubt: unit.Length(f.Doubt), limit: brakes.AtLeast(at), kind: brakes.Safety}
		if f.Rule.Must == brakes.NoMore || f.Rule.Must == brakes.Less {
			h.limit = brakes.AtMost(at)
		}
		t := instrument{name: "gauge", scatter: m.Scatter, where: "the place"}
		switch m.ID {
		case brakes.OfLining, brakes.OfRivets:
			t = caliper
		case brakes.OfRim, brakes.OfPlay:
			t.name = "dial"
		}
		g := brakes.Gauge[unit.Length]{Step: value.Resolution}
		if m.Scatter.Known() {
			g.Scatter = max(m.Scatter.Value, value.Resolution/2)
		}
		l.r.Say = append(l.r.Say, showFor([]unit.Any{f.Value}).settle(h, g, 0, t)...)
	}
}

// values are the rules for JSON, and the sources.
func (l *limitsRun) values(policies []brakes.Policy) {
	rules := Value{Key: "rules", List: []Values{}}
	for _, f := range l.found {
		row := Values{
			{Key: "policy", Text: f.Policy}, {Key: "rule", Text: f.Rule.ID}, {Key: "measurand", Text: string(f.Rule.Of)},
			{Key: "must", Text: string(f.Rule.Must)}, {Key: "called", Text: f.Rule.Called},
			{Key: "verdict", Text: f.Verdict.String()}, {Key: "near", Flag: &f.Near},
			textOrNull("if", strings.Join(f.If, ", ")), textOrNull("not", f.Not),
		}
		if !f.Unread {
			rules.List = append(rules.List, row)
		}
	}
	l.r.Values = Values{rules, policyValues(policies)}
	var silent []string
	for _, p := range policies {
		if slices.ContainsFunc(l.found, func(f brakes.Finding) bool { return f.Policy == p.Name && !f.Unread && f.Not == "" }) {
			l.r.step("%s: %s", p.Name, p.Say)
		} else {
			silent = append(silent, p.Name)
		}
	}
	if len(silent) > 0 {
		l.r.step("nothing on these readings for this vehicle: %s", strings.Join(silent, ", "))
	}
	for _, f := range l.found {
		if !f.Unread && f.Not == "" {
			l.r.Sources = append(l.r.Sources, fmt.Sprintf("%s: %s, %s", f.Policy, f.Rule.Limit.Source, f.Rule.Limit.Mark))
		}
	}
	slices.Sort(l.r.Sources)
	l.r.Sources = slices.Compact(l.r.Sources)
	l.r.Sources = append(l.r.Sources, "the very limit counts by the words of the text: our reading of it", sourceDoubt)
}

func textOrNull(key, text string) Value {
	if text == "" {
		return Value{Key: key, Number: math.NaN()}
	}
	return Value{Key: key, Text: text}
}

func policyValues(policies []brakes.Policy) Value {
	v := Value{Key: "policies", List: []Values{}}
	for _, p := range policies {
		v.List = append(v.List, Values{{Key: "name", Text: p.Name}, {Key: "say", Text: p.Say}, {Key: "jurisdiction", Text: p.Jurisdiction}, {Key: "edition", Text: p.Edition}})
	}
	return v
}

// listPolicies is the answer to --policy list.
func listPolicies(us bool, yours []brakes.Policy) (r Result, err error) {
	all := append(brakes.Policies(), brakes.HouseTrip(brakes.Case{}))
	for _, p := range append(all, yours...) {
		r.step("%s", p.Name)
		r.step("  %s", p.Say)
		r.step("  %s; %s", p.Jurisdiction, p.Edition)
		if p.Name == brakes.HouseTripName {
			continue
		}
		found, err := p.Hold(brakes.Case{})
		if err != nil {
			return Result{}, err
		}
		// What all rules of a policy are for stands in its name already.
		common := func(what string) bool {
			return !slices.ContainsFunc(found, func(f brakes.Finding) bool { return !slices.Contains(f.If, what) })
		}
		for _, f := range found {
			text := "the part's own figure"
			if v := f.Rule.Limit.Value; !f.Rule.Own {
				if text = anyText(us, v); v.Kind == unit.KindRatio {
					text = percent(unit.Ratio(v.SI))
				}
			}
			whom := ""
			if only := slices.DeleteFunc(slices.Clone(f.If), common); len(only) > 0 {
				whom = ", " + strings.Join(only, ", ")
			}
			r.step("    %s %s %s%s", measurand(f.Rule.Of).Say, f.Rule.Must, text, whom)
		}
	}
	r.Sources = []string{"each rule's source stands behind its verdict; chock sources lists every figure with its own"}
	r.say("Name one or several with --policy, parted by commas.")
	r.Outcomes = []string{"rules-unknown", "yours-unknown"}[:1+min(1, len(yours))]
	r.Values = Values{{Key: "rules", List: []Values{}}, policyValues(append(all, yours...))}
	return r, nil
}
