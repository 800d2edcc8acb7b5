package calc

import (
	"encoding/json"
	"math"
	"slices"
	"strings"
	"testing"

	"chock/brakes"
	"chock/brakes/unit"
	"pgregory.net/rapid"
)

const rulesByHand = "the limits of 49 CFR 570.5, 393.47, 396 appendix A, Ohio, Maryland and the UK MOT manual, read off and compared by hand"

func init() {
	truck := []string{"carries", "goods", "gross-weight", "6000 lb", "trailer", "no", "booster", "none", "axle", "front"}
	with := func(more ...string) []string { return append(slices.Clone(truck), more...) }
	outcomeRows = append(outcomeRows,
		outcomeRow{"1.4 mm, in the US", "in-use-limits", with("pad", "1.4 mm", "policy", "us-570-light"), []string{"rules-kept"}, rulesByHand},
		outcomeRow{"1.4 mm, in the UK", "in-use-limits", with("pad", "1.4 mm", "policy", "uk-mot"), []string{"rule-broken"}, rulesByHand},
		outcomeRow{"1.4 mm, both", "in-use-limits", with("pad", "1.4 mm", "policy", "us-570-light,uk-mot"), []string{"rule-broken"}, rulesByHand},
		outcomeRow{"1.9 mm for a trip", "in-use-limits", with("pad", "1.9 mm", "policy", "house-trip"), []string{"rule-too-close"}, "1.6 mm and 1.96 x 0.301 mm with a rule"},
		outcomeRow{"2.2 mm for a trip", "in-use-limits", with("pad", "2.2 mm", "policy", "house-trip"), []string{"rules-kept"}, "1.6 mm and 1.96 x 0.301 mm with a rule"},
		outcomeRow{"a rotor without a mark", "in-use-limits", with("rotor", "24.3 mm", "policy", "us-570-light"), []string{"rules-unknown"}, "49 CFR 570.5(f): no figure is known, none is made up"},
		outcomeRow{"a rotor and its mark", "in-use-limits", with("rotor", "24.3 mm", "rotor-discard", "24.4 mm", "policy", "us-570-light"), []string{"rule-broken"}, "49 CFR 570.5(f)"},
		outcomeRow{"the list", "in-use-limits", []string{"policy", "list"}, []string{"rules-unknown"}, "nothing is held against anything"},
	)
}

// myOwn is a policy that somebody wrote down.
func myOwn() brakes.Policy {
	return brakes.Policy{Name: "fleet", Say: "our vans", Jurisdiction: "us", Edition: "2026", Rules: []brakes.Rule{
		{ID: "lining", Of: brakes.OfLining, Must: brakes.NoLess, Called: "change", Limit: brakes.Listed{
			Name: "lining", Value: unit.Any{Kind: unit.KindLength, SI: 0.003, Text: "3 mm", Unit: "mm"}, Mark: brakes.Yours, Source: "our workshop book, page 3", Scope: "our vans"}},
	}}
}

func TestYours(t *testing.T) {
	c := Limits(myOwn())
	for _, tt := range []struct{ pad, outcome string }{{"2.9 mm", "yours-broken"}, {"3.0 mm", "yours-kept"}} {
		r, err := c.Run(given(t, c, "", "pad", tt.pad, "policy", "us-570-light"))
		if err != nil {
			t.Fatal(err)
		}
		check(t, c, r)
		if r.Outcomes[1] != tt.outcome {
			t.Errorf("%s: %v, want %s", tt.pad, r.Outcomes, tt.outcome)
		}
		last := r.Verdicts[len(r.Verdicts)-1]
		if last.Of != "yours/fleet/lining" || last.Mark != "yours" || !last.Asked || !strings.Contains(last.Say, "yours)") {
			t.Errorf("%+v", last)
		}
	}
	if r, err := c.Run(given(t, c, "", "rim-runout", "1 mm")); err != nil || r.Outcomes[1] != "yours-unknown" {
		t.Errorf("%v, %v", r.Outcomes, err)
	}
	guarded := myOwn()
	guarded.Guarded = true
	c = Limits(guarded)
	if r, err := c.Run(given(t, c, "", "pad", "3.1 mm")); err != nil || r.Outcomes[1] != "yours-too-close" {
		t.Errorf("%v, %v", r.Outcomes, err)
	}
}

// The lines: who says so, edition, mark, verdict and what it is called.
func TestLimitLines(t *testing.T) {
	r := run(t, "in-use-limits", "", "pad", "1.4 mm", "pedal-used", "75", "carries", "goods", "gross-weight", "6000", "booster", "none", "imbalance", "22.6 %", "axle", "front",
		"vacuum-before", "20", "vacuum-after", "13.5")
	var lines []string
	for _, v := range r.Verdicts {
		lines = append(lines, v.Say)
		if v.Asked {
			t.Errorf("nobody asked for %s", v.Of)
		}
	}
	for _, want := range []string{
		"lining 1.40 mm (0.0551 in): at least 0.79 mm (0.0312 in) by us-570-light (from memory): within",
		"lining 1.40 mm (0.0551 in): at least 1.50 mm (0.0591 in) by uk-mot (UK MOT inspection manual, section 1.1.13, current web text, published): outside (dangerous)",
		"lining 1.40 mm (0.0551 in): more than 1.59 mm (0.0625 in) by us-396-periodic, for a commercial vehicle (49 CFR 396, appendix A, current text, from memory): outside (fail)",
		"pedal travel used 75.0 %: at most 66.7 % by ohio, under a foot of 40 lbf (178 N) to 60 lbf (267 N) (Ohio Administrative Code 4501:2-1-08(B)(2), current text, published): outside (reject)",
		"pedal travel used 75.0 %: at most 75.0 % by maryland-fleet, for a commercial vehicle (published): within",
		"imbalance over the lower 29.2 %: at most 25.0 % by us-570-light (49 CFR 570.5(d)(1), from memory): outside (fail)",
		"vacuum kept 67.5 %: at least 70.0 % by us-393, for a commercial vehicle (49 CFR 393.50(a), current text, published): outside (violation)",
	} {
		if !slices.Contains(lines, want) {
			t.Errorf("no line %q in\n%s", want, strings.Join(lines, "\n"))
		}
	}
	say := strings.Join(r.Say, "\n")
	for _, want := range []string{"7 of 16 rules broken. The hardest word for it: dangerous, by uk-mot for lining.", "The law where you are and its inspectors come first",
		"Pedal travel used: so near that the doubt of the reading could turn it for maryland-fleet."} {
		if !strings.Contains(say, want) {
			t.Errorf("does not say %q:\n%s", want, say)
		}
	}
	if w := strings.Join(r.Warnings, "\n"); !strings.Contains(w, "Only over 10000 lb (4536 kg): us-570-heavy; only with a booster: part of us-570-light, part of ohio.") {
		t.Errorf("warns %s", w)
	}
	// In inches the person's own come first.
	r = run(t, "in-use-limits", "", "rim-runout", "0.130 in", "stop", "25.4", "carries", "goods", "gross-weight", "2700 kg", "policy", "us-570-light")
	for i, want := range []string{
		"stop from 20 mph 25.4 ft (7.74 m): at most 25.0 ft (7.62 m) by us-570-light (49 CFR 570.5(d)(2), from memory): outside (fail)",
		"runout of the rim 0.1300 in (3.302 mm): at most 0.1250 in (3.175 mm) by us-570-light (49 CFR 570.10(b), 38 FR 23950, 1973, published): outside (fail)",
	} {
		if v := r.Verdicts[i]; v.Say != want || !v.Asked {
			t.Errorf("%q, asked %v; want %q", v.Say, v.Asked, want)
		}
	}
	if w := strings.Join(r.Warnings, " "); !strings.Contains(w, "us-570-light asks as well, and was not told: lining; lining over the rivets; rotor; drum; imbalance over the lower; pedal held; tread; pedal travel used.") {
		t.Errorf("warns %s", w)
	}
	// What a bearing's play means.
	r = run(t, "in-use-limits", "", "bearing-play", "8 thou")
	if s := strings.Join(r.Say, " "); !strings.Contains(s, "before runout is read") {
		t.Errorf("says %s", s)
	}
	r = run(t, "in-use-limits", "", "bearing-play", "0 thou", "hub", "adjustable")
	if s := strings.Join(r.Say, " "); !strings.Contains(s, "set too tight") {
		t.Errorf("says %s", s)
	}
}

// The JSON of the rules is whole.
func TestLimitValues(t *testing.T) {
	r := run(t, "in-use-limits", "", "pad", "1.4 mm", "policy", "uk-mot")
	text, err := json.Marshal(r.Values)
	if err != nil {
		t.Fatal(err)
	}
	var got struct {
		Rules []struct {
			Policy, Rule, Measurand, Must, Called, Verdict string
			Near                                           *bool
			If, Not                                        *string
		}
		Policies []struct{ Name, Say, Jurisdiction, Edition string }
	}
	if err := json.Unmarshal(text, &got); err != nil {
		t.Fatal(err)
	}
	if len(got.Rules) != 1 || got.Rules[0].Must != "at least" || got.Rules[0].Called != "dangerous" || got.Rules[0].Verdict != "outside" || got.Rules[0].Near == nil || got.Rules[0].If != nil {
		t.Errorf("%s", text)
	}
	if len(got.Policies) != 1 || got.Policies[0].Jurisdiction != "United Kingdom" || got.Policies[0].Edition == "" {
		t.Errorf("%s", text)
	}
}

func TestPolicyList(t *testing.T) {
	r := run(t, "in-use-limits", "", "policy", "list")
	all := strings.Join(r.Steps, "\n")
	for _, name := range PolicyNames() {
		if !slices.Contains(r.Steps, name) {
			t.Errorf("%s is not listed", name)
		}
	}
	for _, want := range []string{"    lining at least 59.1 thou (1.5 mm)", "    pedal travel used at most 66.7 %", "    rotor at least the part's own figure", "    reservoir full more than 50.0 %"} {
		if !strings.Contains(all, want) {
			t.Errorf("no line %q:\n%s", want, all)
		}
	}
}

func TestLimitsRefuses(t *testing.T) {
	c, _ := Find("in-use-limits")
	for _, tt := range []struct {
		flags []string
		blame string
		words string
	}{
		{nil, "pad", "no reading"},
		{[]string{"gross-weight", "5000"}, "pad", "no reading"},
		{[]string{"pad", "-1 mm"}, "pad", "0 or more"},
		{[]string{"pedal-used", "120"}, "pedal-used", "0 to 100 %"},
		{[]string{"brake-force", "300"}, "brake-force", "no tyre"},
		{[]string{"strokes", "0"}, "strokes", "more than 0"},
		{[]string{"pad", "1 mm", "gross-weight", "0"}, "gross-weight", "more than 0"},
		{[]string{"pad", "1 mm", "policy", "moon"}, "policy", "us-570-light"},
		{[]string{"pad", "1 mm", "policy", "list,uk-mot"}, "policy", "alone"},
		{[]string{"pad", "1 mm", "carries", "cats"}, "carries", "people"},
		{[]string{"pad", "1 mm", "first-used", "last"}, "first-used", "a year"},
		{[]string{"pad", "1 mm", "first-used", "2010-13-01"}, "first-used", "a year"},
		{[]string{"pad", "1 mm", "first-used", "2010-09"}, "first-used", "a year"},
		{[]string{"pad", "1 mm", "first-used", "10-09-01"}, "first-used", "a year"},
		{[]string{"pad", "1 mm", "first-used", "1066"}, "first-used", "a year"},
		{[]string{"vacuum-before", "20"}, "vacuum-after", "beside"},
		{[]string{"vacuum-after", "20"}, "vacuum-before", "beside"},
		{[]string{"vacuum-before", "20", "vacuum-after", "21"}, "vacuum-after", "want 0 to"},
		{[]string{"vacuum-before", "0", "vacuum-after", "0"}, "vacuum-before", "more than 0"},
		{[]string{"rotor", "1 mm", "rotor-discard", "0 mm"}, "rotor-discard", "more than 0"},
	} {
		_, err := c.Run(given(t, c, "", tt.flags...))
		if err == nil || !strings.HasPrefix(err.Error(), tt.blame+": ") || !strings.Contains(err.Error(), tt.words) {
			t.Errorf("%v: %v, want %s to be blamed with %q", tt.flags, err, tt.blame, tt.words)
		}
	}
	// Everything that takes a number refuses one that is none.
	for _, in := range c.Inputs {
		if in.Kind == unit.KindWord || in.Name == "rotor-discard" || in.Name == "drum-max" {
			continue
		}
		for _, bad := range []float64{math.Inf(1), math.Inf(-1), -1} {
			values := map[string][]unit.Any{in.Name: {{Kind: in.Kind, SI: bad, Text: "x"}}}
			if strings.HasPrefix(in.Name, "vacuum") {
				values["vacuum-before"] = append(values["vacuum-before"], unit.Any{Kind: unit.KindPressure, SI: 5e4})[:1]
				values["vacuum-after"] = append(values["vacuum-after"], unit.Any{Kind: unit.KindPressure, SI: 5e4})[:1]
			}
			if _, err := c.Run(values); err == nil || !strings.Contains(err.Error(), ": ") {
				t.Errorf("%s %g is taken: %v", in.Name, bad, err)
			}
		}
	}
}

// Whatever is drawn is shown whole, and every rule that breaks is in a line.
func TestLimitsDrawn(t *testing.T) {
	c, _ := Find("in-use-limits")
	rapid.Check(t, func(rt *rapid.T) {
		in := map[string][]unit.Any{}
		for _, i := range c.Inputs {
			if rapid.IntRange(0, 2).Draw(rt, "leave out "+i.Name) > 0 {
				continue
			}
			var text string
			switch i.Kind {
			case unit.KindLength:
				text = rapid.SampledFrom([]string{"0 mm", "1.5 mm", "1/16 in", "3 thou", "24.4 mm", "25 ft", "7.6 m"}).Draw(rt, i.Name)
			case unit.KindWord:
				for _, f := range brakes.Facts() {
					if f.Of == i.Name {
						text = rapid.SampledFrom(f.Is).Draw(rt, i.Name)
					}
				}
				switch i.Name {
				case "policy":
					text = rapid.SampledFrom(PolicyNames()).Draw(rt, i.Name)
				case "first-used":
					text = rapid.SampledFrom([]string{"1975", "2010", "2012-01-01"}).Draw(rt, i.Name)
				}
			default:
				text = rapid.SampledFrom([]string{"0", "1", "25", "52.8", "80", "100"}).Draw(rt, i.Name)
			}
			a, err := unit.Parse(i.Kind, text, i.Default)
			if err != nil {
				continue
			}
			in[i.Name] = []unit.Any{a}
		}
		r, err := c.Run(in)
		if err != nil {
			if !strings.Contains(err.Error(), ": ") {
				rt.Fatal(err)
			}
			return
		}
		check(rt, c, r)
		if _, err := json.Marshal(r.Values); err != nil {
			rt.Fatal(err)
		}
		broken := slices.ContainsFunc(r.Verdicts, func(v Verdict) bool { return v.Verdict == unit.Outside })
		if broken != (r.Outcomes[0] == "rule-broken") {
			rt.Fatalf("%v and %v", r.Verdicts, r.Outcomes)
		}
	})
}

func BenchmarkLimits(b *testing.B) {
	c, _ := Find("in-use-limits")
	in := given(b, c, "mm", "pad", "1.4", "pedal-used", "75")
	for b.Loop() {
		if _, err := c.Run(in); err != nil {
			b.Fatal(err)
		}
	}
}
