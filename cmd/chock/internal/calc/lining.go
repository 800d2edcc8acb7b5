package calc

import (
	"errors"
	"fmt"
	"math"
	"strings"

	"chock/brakes"
	"chock/brakes/unit"
)

// A lining is one thickness read with a rule, and how well.
type lining struct {
	thick   unit.Length
	doubt   unit.Length // standard uncertainty
	gauge   brakes.Gauge[unit.Length]
	missing bool
}

// ruled takes one reading. A typed fraction counts as read to a mark of the
// rule, for it names the coarsest mark that it falls on.
func ruled(a unit.Any) lining {
	g := brakes.Gauge[unit.Length]{Step: ruledStep(a), Scatter: brakes.RuleScatter.Value}
	return lining{thick: unit.As[unit.Length](a).Value, doubt: g.Doubt(0), gauge: g}
}

func ruledStep(a unit.Any) unit.Length {
	step := unit.As[unit.Length](a).Resolution
	if strings.ContainsAny(a.Text, "/⁄½¼¾⅛⅜⅝⅞") {
		step = min(step, brakes.RuleMark.Value)
	}
	return step
}

// thinner takes both pads of a wheel.
func thinner(inner, outer unit.Any) (l lining, p brakes.Pads, err error) {
	in, out := ruled(inner), ruled(outer)
	if _, err := brakes.ReadPads(in.thick, in.thick); err != nil {
		return l, p, blame("inner", err)
	}
	if p, err = brakes.ReadPads(in.thick, out.thick); err != nil {
		return l, p, blame("outer", err)
	}
	if p.InnerThin || p.Apart == 0 && in.doubt > out.doubt {
		return in, p, nil
	}
	return out, p, nil
}

// pads is a difference of two linings about to be held against what linings
// may differ.
func pads(of, what string, apart, one, other unit.Length) held {
	apart = unit.Length(math.Abs(float64(apart)))
	return held{of: of, what: what, bound: "limit", shown: apart, judged: apart, doubt: unit.Length(math.Hypot(float64(one), float64(other))),
		limit: brakes.AtMostRange(brakes.PadsApartGood.Value, brakes.PadsApartBad.Value), kind: brakes.Comfort, large: true,
		mark: string(brakes.PadsApartGood.Mark), source: brakes.PadsApartGood.Source + "; " + brakes.PadsApartGood.Scope}
}

// holdPads holds such a difference, and says what would settle it. one is one
// of the two linings.
func (r *Result) holdPads(s shower, h held, one lining) (Verdict, error) {
	v, err := s.hold(h)
	// Between the ends of the range another reading changes nothing, and what
	// to look at is said already.
	if err == nil && v.Verdict == unit.TooClose && (h.judged <= h.limit.Low || h.judged >= h.limit.High) {
		t := caliper
		t.where = "both linings"
		r.Say = append(r.Say, s.settle(h, one.gauge, 0, t)...)
	}
	return v, err
}

// leastLining is the figure given for this part, or the published one.
func (in inputs) leastLining() (l brakes.Limit[unit.Length], mark, source string, err error) {
	v, ok, err := in.figure("least")
	if err != nil {
		return l, "", "", err
	}
	if ok {
		return brakes.AtLeast(v), Given, "given with the readings as least", nil
	}
	f := brakes.LiningLeast
	return brakes.AtLeast(f.Value), string(f.Mark), f.Source, nil
}

// holdLining holds the thinnest lining against the least thickness, and says
// what would settle it.
func (r *Result) holdLining(s shower, l lining, limit brakes.Limit[unit.Length], mark, source string) (Verdict, error) {
	r.step("doubt of a reading with a rule: u = sqrt(q²/12 + s²), s = %s; u = %s", s.size(brakes.RuleScatter.Value), s.size(l.doubt))
	r.step("against the least: %s - %s = %s; to be sure it takes 1.96 u = %s",
		s.bare(l.thick), s.bare(limit.Low), s.size(l.thick-limit.Low), s.size(unit.Length(1.96)*l.doubt))
	h := held{of: "lining", what: "thinnest lining", bound: "least", shown: l.thick, judged: l.thick, doubt: l.doubt,
		limit: limit, kind: brakes.Safety, large: true, mark: mark, source: source}
	v, err := s.hold(h)
	if err == nil && v.Verdict == unit.TooClose {
		r.say("Too near the least for this reading. Until that is settled count it as worn out.")
		r.Say = append(r.Say, s.settle(h, l.gauge, 0, caliper)...)
	}
	return v, err
}

func runLiningWear(raw map[string][]unit.Any) (Result, error) {
	in := inputs(raw)
	inner, outer := in["inner"][0], in["outer"][0]
	thin, p, err := thinner(inner, outer)
	if err != nil {
		return Result{}, err
	}
	limit, mark, source, err := in.leastLining()
	if err != nil {
		return Result{}, err
	}
	s := showRule([]unit.Any{inner, outer})
	var r Result
	r.step("thinner: %s of inner %s and outer %s", s.size(p.Thinner), s.size(ruled(inner).thick), s.size(ruled(outer).thick))
	lv, err := r.holdLining(s, thin, limit, mark, source)
	if err != nil {
		return Result{}, err
	}
	r.step("inner less outer: %s - %s = %s", s.bare(ruled(inner).thick), s.bare(ruled(outer).thick), s.size(p.Apart))
	pv, err := r.holdPads(s, pads("pair", "inner against outer", p.Apart, ruled(inner).doubt, ruled(outer).doubt), ruled(inner))
	if err != nil {
		return Result{}, err
	}
	r.Verdicts = []Verdict{lv, pv}
	pair := outcome(pv.Verdict, "outer-thin", "pair-too-close", "pair-alike", "")
	if pv.Verdict == unit.Outside && p.InnerThin {
		pair = "inner-thin"
	}
	r.Outcomes = []string{outcome(lv.Verdict, "lining-gone", "lining-too-close", "lining-enough", ""), pair}
	r.Values = Values{
		{Key: "thinnest_mm", Number: p.Thinner.Millimetres()},
		{Key: "above_least_mm", Number: (p.Thinner - limit.Low).Millimetres()},
		{Key: "pair_difference_mm", Number: p.Apart.Millimetres()},
	}
	r.Say = append(r.Say, sayPair(pair)...)
	r.Sources = []string{sourceOf("least lining", mark, source), sourcePads(s.inch), sourceRule(s.inch), sourceDoubt, sourceVerdict}
	return r, nil
}

// sayPair says what it means that one pad of a pair is the thinner one.
func sayPair(outcome string) []string {
	switch outcome {
	case "inner-thin":
		return []string{"The inner pad wears faster: the piston does not let go, or the slides hang."}
	case "outer-thin":
		return []string{"The outer pad wears faster: the caliper does not slide back, or its own piston does not let go."}
	case "pair-too-close":
		return []string{"Inner and outer may differ by more than they should: push the caliper on its slides by hand."}
	}
	return nil
}

// A pad is what readings along one lining say.
type pad struct {
	brakes.Lining
	read []unit.Any
	thin lining // the thinnest reading
}

// pad takes the readings of one lining; nil where there are none.
func (in inputs) pad(name string) (*pad, error) {
	p := &pad{}
	var along []unit.Length
	for _, a := range in[name] {
		if !a.Missing() {
			p.read = append(p.read, a)
			along = append(along, unit.As[unit.Length](a).Value)
		}
	}
	if len(in[name]) == 0 {
		return nil, nil
	}
	var err error
	if p.Lining, err = brakes.ReadLining(along); err != nil {
		return nil, blame(name, err)
	}
	p.thin = ruled(p.read[p.At])
	return p, nil
}

func runLiningLife(raw map[string][]unit.Any) (Result, error) {
	in := inputs(raw)
	var thin *pad
	all := map[string]*pad{}
	for _, name := range []string{"now", "inner", "outer"} {
		p, err := in.pad(name)
		if err != nil {
			return Result{}, err
		}
		if p == nil {
			continue
		}
		if name != "now" && all["now"] != nil {
			return Result{}, &InputError{name, fmt.Errorf("give the thinnest place with --now, or the readings of each pad")}
		}
		all[name] = p
		if thin == nil || p.Thinnest < thin.Thinnest {
			thin = p
		}
	}
	if thin == nil {
		return Result{}, &InputError{"now", fmt.Errorf("is needed: how thick the lining is, or --inner and --outer")}
	}
	limit, mark, source, err := in.leastLining()
	if err != nil {
		return Result{}, err
	}
	s := showRule(thin.read)
	r := Result{}
	l := thin.thin
	r.step("thinnest lining %s", s.size(l.thick))
	lv, err := r.holdLining(s, l, limit, mark, source)
	if err != nil {
		return Result{}, err
	}
	r.Verdicts = append(r.Verdicts, lv)
	r.Outcomes = append(r.Outcomes, outcome(lv.Verdict, "lining-gone", "lining-too-close", "lining-enough", ""))
	r.Values = Values{
		{Key: "thinnest_mm", Number: l.thick.Millimetres()},
		{Key: "above_least_mm", Number: (l.thick - limit.Low).Millimetres()},
	}
	r.Sources = append(r.Sources, sourceOf("least lining", mark, source), sourceRule(s.inch), sourceDoubt, sourceVerdict)

	life, err := r.trip(in, s, l, limit.Low)
	if err != nil {
		return Result{}, err
	}
	if err := r.apart(in, s, l, all["inner"], all["outer"]); err != nil {
		return Result{}, err
	}
	if err := r.taper(in, s, all); err != nil {
		return Result{}, err
	}
	r.Values = append(r.Values, life...)
	return r, nil
}

// miles shows a way in both systems, in whole ones.
func miles(l unit.Length) string {
	return unit.FormatTo(unit.KindLength, float64(l), "mi", 0) + " (" + unit.FormatTo(unit.KindLength, float64(l), "km", 0) + ")"
}

// about is miles to three digits that count, for what is worked out.
func about(l unit.Length) string {
	return unit.FormatTo(unit.KindLength, float64(three(l, unit.Mile)), "mi", 0) + " (" + unit.FormatTo(unit.KindLength, float64(three(l, unit.Kilometre)), "km", 0) + ")"
}

// three rounds to three digits that count, and to whole units.
func three(l, u unit.Length) unit.Length {
	n, step := float64(l/u), 1.0
	if n >= 1000 {
		step = math.Pow(10, math.Floor(math.Log10(n))-2)
	}
	return unit.Length(math.Round(n/step)*step) * u
}

// beside is about, save where rounding would carry the way across a trip.
func beside(l, trip unit.Length) string {
	for _, u := range []unit.Length{unit.Mile, unit.Kilometre} {
		if (three(l, u) >= trip) != (l >= trip) {
			return miles(l)
		}
	}
	return about(l)
}

// trip reckons the way that is left and holds a trip against it.
func (r *Result) trip(in inputs, s shower, l lining, least unit.Length) (Values, error) {
	nan := math.NaN()
	values := Values{
		{Key: "wear_mm_per_1000_miles", Number: nan}, {Key: "miles_left", Number: nan}, {Key: "miles_left_low", Number: nan},
		{Key: "miles_left_high", Number: nan}, {Key: "after_trip_mm", Number: nan}, {Key: "after_trip_low_mm", Number: nan},
	}
	trip, haveTrip := in.length("trip")
	fresh, haveNew := in.length("new")
	way, haveWay := in.length("miles")
	if haveTrip && !(trip > 0 && !math.IsInf(float64(trip), 0)) {
		return nil, &InputError{"trip", fmt.Errorf("%v: want more than 0", trip)}
	}
	if haveNew != haveWay {
		name, other := "new", "miles"
		if haveWay {
			name, other = other, name
		}
		return nil, &InputError{name, fmt.Errorf("tells nothing without --%s: how fast it wears takes both", other)}
	}
	if !haveNew {
		r.Outcomes = append(r.Outcomes, "trip-unknown")
		if haveTrip {
			r.Verdicts = append(r.Verdicts, Verdict{Of: "trip", Verdict: unit.NoLimit, Value: trip.Miles(), Limit: nan, Good: nan, Doubt: nan, Unit: "mi", Asked: true,
				Say: fmt.Sprintf("trip %s: nobody can tell without --new and --miles", miles(trip))})
		}
		return values, nil
	}
	life, err := brakes.ReckonLining(fresh, l.thick, least, way, l.doubt)
	if err != nil {
		var out *brakes.OutOfRange
		if errors.As(err, &out) && out.Quantity == "distance since it was new" {
			return nil, blame("miles", err)
		}
		return nil, blame("new", err)
	}
	guard := unit.Length(brakes.Safety.Guard()) * l.doubt
	f := float64(brakes.WearFactor.Value)
	perMile := func(rate unit.Ratio) unit.Length { return unit.Length(float64(rate) * float64(1000*unit.Mile)) }
	slow := perMile(life.Rate) / unit.Length(f)
	unitName, other := s.large()
	r.step("worn so far: %s - %s = %s in %s", s.bare(fresh), s.bare(l.thick), s.size(fresh-l.thick), miles(way))
	r.step("in 1,000 miles (1,609 km): %s (%s)", wear(perMile(life.Rate), unitName), wear(perMile(life.Rate), other))
	r.step("left at that rate: (%s - %s) / %s x 1,000 miles = %s", s.bare(l.thick), s.bare(least), wear(perMile(life.Rate), unitName), about(life.Left))
	r.step("at the least: (%s - %s - %s) / %s x 1,000 miles = %s", s.bare(l.thick), s.bare(guard), s.bare(least), wear(perMile(life.Fast), unitName), about(life.Low))
	r.step("at the most: (%s + %s - %s) / %s x 1,000 miles = %s", s.bare(l.thick), s.bare(guard), s.bare(least), wear(slow, unitName), about(life.High))
	values[0].Number = perMile(life.Rate).Millimetres()
	values[1].Number, values[2].Number, values[3].Number = life.Left.Miles(), life.Low.Miles(), life.High.Miles()
	if life.Left > 0 {
		r.say("About %s are left at the wear so far. The next miles may wear it twice as fast or half as fast, and the reading has its doubt: %s to %s.", about(life.Left), about(life.Low), about(life.High))
	} else {
		r.say("Nothing is left to wear.")
	}
	r.Sources = append(r.Sources,
		"wear in proportion to the way: Math for Automotive Technicians, page 129, 2019",
		fmt.Sprintf("twice or half the wear: %s (%s); that a trip has to be covered at twice the wear: our judgement", brakes.WearFactor.Source, brakes.WearFactor.Mark))
	if !haveTrip {
		r.Outcomes = append(r.Outcomes, "trip-unknown")
		return values, nil
	}
	v, err := life.Trip(trip)
	if err != nil {
		return nil, blame("trip", err)
	}
	expected := l.thick - unit.Length(float64(life.Rate)*float64(trip))
	worst := l.thick - guard - unit.Length(float64(life.Fast)*float64(trip))
	values[4].Number, values[5].Number = expected.Millimetres(), worst.Millimetres()
	r.step("after the trip: %s at the wear so far; %s at the fastest wear and with the doubt against it; least %s",
		rest(s, expected), rest(s, worst), s.size(least))
	words := map[unit.Verdict]string{unit.Within: "enough", unit.TooClose: "doubtful", unit.Outside: "not enough"}
	say := fmt.Sprintf("trip %s, left about %s at the wear so far, our estimate: %s", miles(trip), beside(life.Left, trip), words[v])
	if v == unit.Within {
		say = fmt.Sprintf("trip %s, left at least %s, our estimate: %s", miles(trip), beside(life.Low, trip), words[v])
	}
	r.Verdicts = append(r.Verdicts, Verdict{Of: "trip", Verdict: v, Value: trip.Miles(), Limit: life.Left.Miles(), Good: life.Low.Miles(), Doubt: nan,
		Unit: "mi", Mark: string(brakes.WearFactor.Mark), Source: brakes.WearFactor.Source, Asked: true, Say: say})
	r.Outcomes = append(r.Outcomes, outcome(v, "trip-too-far", "trip-doubtful", "trip-covered", ""))
	switch v {
	case unit.TooClose:
		r.say("It would do at the wear so far and not at twice that. Hills, load and traffic decide: new linings on the axle before leaving, or turn back early.")
	case unit.Outside:
		r.say("New linings on the whole axle before leaving.")
	}
	return values, nil
}

// wear shows it with the two digits that count and one more: the line adds up.
func wear(l unit.Length, name string) string {
	v := l.Millimetres()
	if name == "in" {
		v = l.Inches()
	}
	return fmt.Sprintf("%.3g %s", v, name)
}

// rest shows what a lining has left, and no less than nothing.
func rest(s shower, l unit.Length) string {
	if l <= 0 {
		return "nothing"
	}
	return s.size(l)
}

// apart compares inner and outer pad, and this wheel with its partner.
func (r *Result) apart(in inputs, s shower, l lining, inner, outer *pad) error {
	pair, apart := "pair-unknown", unit.Length(math.NaN())
	if inner != nil && outer != nil {
		p, err := brakes.ReadPads(inner.Thinnest, outer.Thinnest)
		if err != nil {
			return err
		}
		apart = p.Apart
		r.step("inner less outer: %s - %s = %s", s.bare(inner.Thinnest), s.bare(outer.Thinnest), s.size(apart))
		v, err := r.holdPads(s, pads("pair", "inner against outer", apart, inner.thin.doubt, outer.thin.doubt), inner.thin)
		if err != nil {
			return err
		}
		r.Verdicts = append(r.Verdicts, v)
		pair = outcome(v.Verdict, "outer-thin", "pair-too-close", "pair-alike", "")
		if v.Verdict == unit.Outside && p.InnerThin {
			pair = "inner-thin"
		}
		r.Say = append(r.Say, sayPair(pair)...)
	}
	side, aside := "side-unknown", unit.Length(math.NaN())
	if len(in["partner"]) > 0 {
		other, err := in.pad("partner")
		if err != nil {
			return err
		}
		aside = l.thick - other.Thinnest
		r.step("this wheel less its partner: %s - %s = %s", s.bare(l.thick), s.bare(other.Thinnest), s.size(aside))
		v, err := r.holdPads(s, pads("side", "this wheel against its partner", aside, l.doubt, other.thin.doubt), l)
		if err != nil {
			return err
		}
		r.Verdicts = append(r.Verdicts, v)
		side = outcome(v.Verdict, "thinner-than-partner", "side-too-close", "side-alike", "")
		switch {
		case v.Verdict == unit.Outside && aside > 0:
			side = "thicker-than-partner"
			r.say("Its partner wears faster, or this wheel does less than its share.")
		case v.Verdict == unit.Outside:
			r.say("This wheel wears faster, or its partner does less than its share.")
		}
	}
	r.Outcomes = append(r.Outcomes, pair, side)
	r.Values = append(r.Values, Value{Key: "pair_difference_mm", Number: apart.Millimetres()}, Value{Key: "side_difference_mm", Number: aside.Millimetres()})
	if pair != "pair-unknown" || side != "side-unknown" {
		r.Sources = append(r.Sources, sourcePads(s.inch))
	}
	return nil
}

// taper holds the lining that tapers most against what it may.
func (r *Result) taper(in inputs, s shower, all map[string]*pad) error {
	given, haveLimit, err := in.figure("taper-limit")
	if err != nil {
		return err
	}
	var worst *pad
	name := ""
	for _, n := range []string{"inner", "outer"} {
		if p := all[n]; p != nil && len(p.read) > 1 && (worst == nil || p.Taper > worst.Taper) {
			worst, name = p, n
		}
	}
	if worst == nil {
		if haveLimit {
			return &InputError{"taper-limit", fmt.Errorf("a taper takes two readings or more along one lining: --inner \"5 4.5 4 mm\"")}
		}
		r.Outcomes = append(r.Outcomes, "taper-unknown")
		r.Values = append(r.Values, Value{Key: "taper_mm", Number: math.NaN()})
		return nil
	}
	f := brakes.TaperMost
	limit, mark, source := brakes.AtMost(f.Value), string(f.Mark), f.Source
	if haveLimit {
		limit, mark, source = brakes.AtMost(given), Given, "given with the readings as taper-limit"
	}
	n := len(worst.read)
	g := brakes.Gauge[unit.Length]{Scatter: brakes.RuleScatter.Value}
	for _, a := range worst.read {
		g.Step = max(g.Step, ruledStep(a))
	}
	scatter := worst.Taper <= brakes.ScatterMost(n, g.Noise())
	net := brakes.LessScatter(worst.Taper, n, g.Noise())
	r.step("%s, thickest less thinnest of %d places: %s", name, n, s.size(worst.Taper))
	r.steps(scatterSteps(s, g, n, worst.Taper, net, scatter))
	h := held{of: "taper", what: name + " lining, one end against the other", bound: "limit", shown: worst.Taper, judged: net, doubt: g.DifferenceDoubt(0),
		limit: limit, kind: brakes.Comfort, large: true, scatter: scatter, n: n, mark: mark, source: source}
	v, err := s.hold(h)
	if err != nil {
		return err
	}
	if v.Verdict == unit.TooClose {
		t := caliper
		t.where = "each end"
		r.Say = append(r.Say, s.settle(h, g, 0, t)...)
	}
	r.Verdicts = append(r.Verdicts, v)
	r.Outcomes = append(r.Outcomes, outcome(v.Verdict, "tapers", "taper-too-close", "taper-even", ""))
	r.Values = append(r.Values, Value{Key: "taper_mm", Number: worst.Taper.Millimetres()})
	if v.Verdict == unit.Outside {
		r.say("Worn to a wedge: one slide hangs, a bushing is worn, or something was put in wrongly.")
	}
	r.Sources = append(r.Sources, sourceOf("taper", mark, source), sourceScatter)
	return nil
}

func sourcePads(us bool) string {
	f := brakes.PadsApartGood
	return sourceOf("linings may differ by "+figureText(us, f.Value)+" to "+figureText(us, brakes.PadsApartBad.Value), string(f.Mark), f.Source)
}

func sourceRule(us bool) string { return sourceFigure(us, "scatter of a rule", brakes.RuleScatter) }
