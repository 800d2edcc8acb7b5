package calc

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"chock/brakes"
	"chock/brakes/unit"
)

var readingDoubt = Calculation{
	Name:    "reading-doubt",
	Command: "doubt",
	Short:   "how sure a reading is beside its limit, and what would settle it",
	Title:   "A reading beside its limit",
	Inputs: []Input{
		{Name: "value", Kind: unit.KindLength, Typed: true, Say: "the reading, or the average of several"},
		{Name: "limit", Kind: unit.KindLength, Figure: true, Typed: true, Say: "what it is held against"},
		{Name: "side", Kind: unit.KindWord, Say: "least where the part must have at least the limit, most where it may have at most that"},
		{Name: "step", Kind: unit.KindLength, Optional: true, Typed: true, Say: "one count of the gauge; if not given, the last place of the reading"},
		{Name: "gauge-error", Kind: unit.KindLength, Optional: true, Typed: true, Say: "how far the gauge may be off: plus or minus this; if not given, one step"},
		{Name: "gauge-error-as", Kind: unit.KindWord, Optional: true, Say: "how that is stated: " + strings.Join(statedForms(), ", ") + " (limits if not given)"},
		{Name: "scatter", Kind: unit.KindLength, Optional: true, Typed: true, Say: "standard deviation of reading one place again; if not given, half a step"},
		{Name: "repeats", Kind: unit.KindCount, Optional: true, Say: "how many readings the value is the average of (1 if not given)"},
		{Name: "of", Kind: unit.KindWord, Optional: true, Say: "reading, or difference where one reading was taken from another (reading if not given)"},
		{Name: "kind", Kind: unit.KindWord, Optional: true, Say: "safety, or comfort for what can only be felt (safety if not given)"},
	},
	Limits: []Limit{
		{"value", "limit", []string{"outside-limit", "limit-too-close", "within-limit"}},
	},
	Keys: []string{"room_mm", "standard_doubt_mm", "guard_mm", "conforms_percent", "needs_doubt_mm", "repeats", "finer_step_mm", "finer_repeats", "rules"},
	run:  runDoubt,
}

// A statedForm is a way in which the doubt of a gauge is stated.
type statedForm struct {
	word string
	say  string
	u    func(a unit.Length) (unit.Length, error)
}

var stated = []statedForm{
	{"limits", "e/√3", brakes.FromRectangle[unit.Length]},
	{"triangle", "e/√6", brakes.FromTriangle[unit.Length]},
	{"95", "e/1.96", func(a unit.Length) (unit.Length, error) { return brakes.FromChance(a, 0.95) }},
	{"99", "e/2.58", func(a unit.Length) (unit.Length, error) { return brakes.FromChance(a, 0.99) }},
	{"even-odds", "1.48 e", func(a unit.Length) (unit.Length, error) { return brakes.FromChance(a, 0.5) }},
	{"1-sigma", "e", func(a unit.Length) (unit.Length, error) { return brakes.FromSigmas(a, 1) }},
	{"2-sigma", "e/2", func(a unit.Length) (unit.Length, error) { return brakes.FromSigmas(a, 2) }},
	{"3-sigma", "e/3", func(a unit.Length) (unit.Length, error) { return brakes.FromSigmas(a, 3) }},
}

func statedForms() []string {
	var words []string
	for _, s := range stated {
		words = append(words, s.word)
	}
	return words
}

// A doubted is one reading, its gauge and its limit.
type doubted struct {
	s           shower
	large       bool
	value       unit.Length
	limit       brakes.Limit[unit.Length]
	kind        brakes.Kind
	setup       brakes.Setup[unit.Length]
	scatter     unit.Length // of the hand, whatever the gauge
	difference  bool
	errorWord   string // how the gauge's own doubt comes in
	errorU      unit.Length
	assumed     []string
	errorCounts bool
}

func runDoubt(raw map[string][]unit.Any) (Result, error) {
	d, err := readDoubted(inputs(raw))
	if err != nil {
		return Result{}, err
	}
	return d.result()
}

// amountOf is a length of 0 or more.
func (in inputs) amountOf(name string) (v unit.Length, ok bool, err error) {
	v, ok = in.length(name)
	if ok && !(v >= 0 && !math.IsInf(float64(v), 0)) {
		return v, ok, &InputError{name, fmt.Errorf("%v: want 0 or more", v)}
	}
	return v, ok, nil
}

func readDoubted(in inputs) (d doubted, err error) {
	d.value, _ = in.length("value")
	if math.IsInf(float64(d.value), 0) {
		return d, &InputError{"value", errors.New("want a number")}
	}
	limit, _, err := in.figure("limit")
	if err != nil {
		return d, err
	}
	side, err := in.word("side", "least", "most")
	if err != nil {
		return d, err
	}
	d.limit = brakes.AtLeast(limit)
	if side == "most" {
		d.limit = brakes.AtMost(limit)
	}
	kind, err := in.word("kind", "safety", "comfort")
	if err != nil {
		return d, err
	}
	if kind == "comfort" {
		d.kind = brakes.Comfort
	}
	of, err := in.word("of", "reading", "difference")
	if err != nil {
		return d, err
	}
	d.difference = of == "difference"
	d.setup.Weight = 1
	if d.difference {
		d.setup.Weight = 2
	}
	d.s = showFor(in["value"])
	d.large = in["value"][0].Unit != "thou"
	return d, d.gauge(in)
}

// gauge takes what is said of the gauge, and says what is taken for the rest.
func (d *doubted) gauge(in inputs) error {
	g := &d.setup.Gauge
	var have bool
	var err error
	if g.Step, have, err = in.amountOf("step"); err != nil {
		return err
	} else if !have {
		g.Step = finest(in["value"])
		d.assumed = append(d.assumed, fmt.Sprintf("step %s, the last place of the reading", d.s.fine(g.Step)))
	}
	e, haveError, err := in.amountOf("gauge-error")
	if err != nil {
		return err
	}
	as, err := in.word("gauge-error-as", statedForms()...)
	if err != nil {
		return err
	}
	switch {
	case as != "" && !haveError:
		return &InputError{"gauge-error-as", errors.New("says how --gauge-error is stated: give that too")}
	case !haveError && d.difference:
		e = 0 // two readings of one gauge share its error
		d.assumed = append(d.assumed, "no error of the gauge: both readings share it")
	case !haveError:
		e = g.Step
		d.assumed = append(d.assumed, "an error of one step either way")
	}
	d.errorCounts = haveError || !d.difference
	form := stated[max(0, slices.IndexFunc(stated, func(f statedForm) bool { return f.word == as }))]
	if d.errorU, err = form.u(e); err != nil {
		return blame("gauge-error", err)
	}
	d.errorWord = form.say
	// The gauge holds its error as limits.
	g.Error = unit.Length(math.Sqrt(3)) * d.errorU
	if g.Scatter, have, err = in.amountOf("scatter"); err != nil {
		return err
	} else if !have {
		g.Scatter = g.Step / 2
		d.assumed = append(d.assumed, "a scatter of half a step")
	} else {
		d.scatter = g.Scatter
	}
	n, err := in.whole("repeats")
	if err != nil {
		return err
	}
	if _, given := in["repeats"]; given && (n < 1 || n > 1000) {
		return &InputError{"repeats", fmt.Errorf("%d: want 1 to 1000", n)}
	}
	g.Repeats = max(n, 1)
	return nil
}

func (d *doubted) result() (r Result, err error) {
	s, g := d.s, d.setup.Gauge
	u := d.setup.Doubt()
	chance, err := brakes.Conforms(d.value, u, d.limit)
	if err != nil {
		return r, blame("value", err)
	}
	h := held{of: "value", what: "reading", bound: "at least", shown: d.value, judged: d.value, doubt: u, limit: d.limit, kind: d.kind,
		large: d.large, mark: Given, source: "given with the reading as limit"}
	room := d.value - d.limit.Low
	first, second := s.pick(d.value, d.large), s.pick(d.limit.Low, d.large)
	if d.limit.Side == brakes.Most {
		h.bound, room = "at most", -room
		first, second = second, first
	}
	v, err := s.hold(h)
	if err != nil {
		return r, err
	}
	r.Verdicts = []Verdict{v}
	r.Outcomes = []string{outcome(v.Verdict, "outside-limit", "limit-too-close", "within-limit", "")}

	r.step("room: %s less %s = %s", first, second, s.fine(room))
	formula := fmt.Sprintf("q²/12 + s²/n + (%s)²", d.errorWord)
	if d.difference {
		formula = "2 (" + formula + ")"
	}
	r.step("doubt: u = sqrt(%s), with q = %s, s = %s, n = %d, %s = %s", formula,
		s.fineNumber(g.Step), s.fineNumber(g.Scatter), g.Repeats, d.errorWord, s.fine(d.errorU))
	r.step("u = %s; to be sure it takes %.2f u = %s", s.fine(u), d.kind.Guard(), s.fine(unit.Length(d.kind.Guard())*u))
	if u > 0 {
		r.step("room / u = %.2f; the bell curve up to there, the chance that it conforms: %.1f %%", float64(room/u), chance.Percent())
	} else {
		r.step("without any doubt: the reading counts as it stands")
	}
	rules := Value{Key: "rules", List: []Values{}}
	other := "comfort" // our rule for the other kind of limit is not shown
	if d.kind == brakes.Comfort {
		other = "safety"
	}
	for _, band := range brakes.GuardBands() {
		by, err := brakes.JudgeBy(d.value, u, d.limit, band)
		if err != nil {
			return r, err
		}
		if band.ID != other {
			r.step("by %s: %s", band.Say, by.Say())
		}
		rules.List = append(rules.List, Values{{Key: "rule", Text: band.ID}, {Key: "verdict", Text: by.String()}})
	}

	t := instrument{name: "gauge", scatter: brakes.Figure[unit.Length]{Value: d.scatter}, where: "the place", alone: d.errorCounts}
	finer := s.finer(g.Step, t)
	got, err := brakes.Settle(d.value, d.setup, finer, d.limit, d.kind)
	if err != nil {
		return r, err
	}
	r.say("The chance that it is on the right side of the limit: %s.", nearest(chance))
	if got.Verdict == unit.TooClose {
		r.Say = append(r.Say, s.saySettling(got, finer, t)...)
		if d.kind == brakes.Safety {
			r.say("Until it is settled count it as outside.")
		}
	}
	r.say("That counts the gauge and the hand. Rust, dirt, the wrong place or a wrong figure come on top.")
	if len(d.assumed) > 0 {
		r.warn("Not given, so taken: %s.", strings.Join(d.assumed, "; "))
	}
	nan := math.NaN()
	needs, repeats, step, times := nan, nan, nan, nan
	if got.Needs > 0 {
		needs = got.Needs.Millimetres()
	}
	if got.Repeats > 0 {
		repeats = float64(got.Repeats)
	}
	if got.Finer >= 0 {
		step, times = finer[got.Finer].Step.Millimetres(), float64(got.Times)
	}
	r.Values = Values{
		{Key: "room_mm", Number: room.Millimetres()},
		{Key: "standard_doubt_mm", Number: u.Millimetres()},
		{Key: "guard_mm", Number: d.kind.Guard() * u.Millimetres()},
		{Key: "conforms_percent", Number: chance.Percent()},
		{Key: "needs_doubt_mm", Number: needs},
		{Key: "repeats", Number: repeats},
		{Key: "finer_step_mm", Number: step},
		{Key: "finer_repeats", Number: times},
		rules,
	}
	r.Sources = []string{"chance of conforming: JCGM 106:2012, 7.3 (from memory)", sourceDoubt, sourceVerdict,
		fmt.Sprintf("two and 1.65 standard uncertainties: ISO 14253-1, editions 2013 and 2017 (%s)", brakes.GuardTwice.Mark),
		fmt.Sprintf("at most %d readings of a place, and gauges by their steps: %s (%s); %s (%s)", brakes.RepeatsMost.Value.Int(),
			brakes.RepeatsMost.Source, brakes.RepeatsMost.Mark, "steps of gauges on sale", brakes.StepThou.Mark)}
	return r, nil
}

// pick shows a length in both systems, in the small units or the large.
func (s shower) pick(l unit.Length, large bool) string {
	if large {
		return s.size(l)
	}
	return s.fine(l)
}
