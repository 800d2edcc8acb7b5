package calc

import (
	"math"
	"strings"

	"chock/brakes"
	"chock/brakes/unit"
)

// A lining is one thickness read with a rule, and how well.
type lining struct {
	thick   unit.Length
	doubt   unit.Length // standard uncertainty
	missing bool
}

// ruled takes one reading. A typed fraction counts as read to a mark of the
// rule, for it names the coarsest mark that it falls on.
func ruled(a unit.Any) lining {
	r := unit.As[unit.Length](a)
	step := r.Resolution
	if strings.ContainsAny(a.Text, "/⁄½¼¾⅛⅜⅝⅞") {
		step = min(step, brakes.RuleMark.Value)
	}
	g := brakes.Gauge[unit.Length]{Step: step, Scatter: brakes.RuleScatter.Value}
	return lining{thick: r.Value, doubt: g.Doubt(0)}
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
	if p.InnerThin {
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

// holdLining holds the thinnest lining against the least thickness.
func (r *Result) holdLining(s shower, l lining, limit brakes.Limit[unit.Length], mark, source string) (Verdict, error) {
	r.step("doubt of a reading with a rule: u = sqrt(q²/12 + s²), s = %s; u = %s", s.size(brakes.RuleScatter.Value), s.size(l.doubt))
	r.step("against the least: %s - %s = %s; to be sure it takes 1.96 u = %s",
		s.bare(l.thick), s.bare(limit.Low), s.size(l.thick-limit.Low), s.size(unit.Length(1.96)*l.doubt))
	return s.hold(held{of: "lining", what: "thinnest lining", bound: "least", shown: l.thick, judged: l.thick, doubt: l.doubt,
		limit: limit, kind: brakes.Safety, large: true, mark: mark, source: source})
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
	pv, err := s.hold(pads("pair", "inner against outer", p.Apart, ruled(inner).doubt, ruled(outer).doubt))
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
	r.Say = append(sayLining(lv.Verdict), sayPair(pair)...)
	r.Sources = []string{sourceOf("least lining", mark, source), sourcePads(), sourceRule(), sourceDoubt, sourceVerdict}
	return r, nil
}

func sayLining(v unit.Verdict) []string {
	if v == unit.TooClose {
		return []string{"Too near the least for this reading: measure again at the thinnest place, as finely as you can. Until then count it as worn out."}
	}
	return nil
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

func sourcePads() string {
	return "linings may differ by " + brakes.PadsApartGood.Value.String() + " to " + brakes.PadsApartBad.Value.String() + ": " +
		brakes.PadsApartGood.Source + " (" + string(brakes.PadsApartGood.Mark) + ")"
}

func sourceRule() string { return sourceFigure("scatter of a rule", brakes.RuleScatter) }
