package brakes

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"chock/brakes/unit"
	"pgregory.net/rapid"
)

func policyNamed(t *testing.T, name string) Policy {
	t.Helper()
	for _, p := range Policies() {
		if p.Name == name {
			return p
		}
	}
	t.Fatalf("no policy %s", name)
	return Policy{}
}

// caseOf reads a case from words: lining=1.4mm, own:rotor=24.4mm, axle:front,
// first:2010 or first:2010-09-01.
func caseOf(t *testing.T, words []string) Case {
	t.Helper()
	c := Case{Read: map[Measurand]unit.Any{}, Own: map[Measurand]unit.Any{}, Facts: map[string]string{}}
	for _, w := range words {
		name, value, isReading := strings.Cut(w, "=")
		fact, word, _ := strings.Cut(w, ":")
		switch {
		case isReading:
			name, isOwn := strings.CutPrefix(name, "own:")
			m, ok := measured(Measurand(name))
			if !ok {
				t.Fatalf("no measurand %s", name)
			}
			a, err := unit.Parse(m.Kind, value, "")
			if err != nil {
				t.Fatal(err)
			}
			if isOwn {
				c.Own[m.ID] = a
			} else {
				c.Read[m.ID] = a
			}
		case fact == "first":
			var y, m, d int
			if n, _ := fmt.Sscanf(word, "%d-%d-%d", &y, &m, &d); n == 3 {
				day := Date(y*10000 + m*100 + d)
				c.First = [2]Date{day, day}
			} else {
				c.First = [2]Date{Date(y*10000 + 101), Date(y*10000 + 1231)}
			}
		default:
			if !slices.ContainsFunc(Facts(), func(f ForFact) bool { return f.Of == fact && slices.Contains(f.Is, word) }) {
				t.Fatalf("no fact %s", w)
			}
			c.Facts[fact] = word
		}
	}
	return c
}

func ruleFinding(t *testing.T, p Policy, rule string, c Case) Finding {
	t.Helper()
	all, err := p.Hold(c)
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range all {
		if f.Rule.ID == rule {
			return f
		}
	}
	t.Fatalf("%s has no rule %s", p.Name, rule)
	return Finding{}
}

var policyOps = map[string]operation{
	"holds": func(t *testing.T, in []string) any {
		f := ruleFinding(t, policyNamed(t, in[0]), in[1], caseOf(t, in[2:]))
		switch {
		case f.Unread:
			t.Fatalf("%v: nothing is read for it", in)
		case f.Not != "":
			return 3.0
		}
		return map[unit.Verdict]float64{unit.Within: 1, unit.Outside: -1, unit.TooClose: 0, unit.NoLimit: 2}[f.Verdict]
	},
	"rule-limit": func(t *testing.T, in []string) any {
		for _, r := range policyNamed(t, in[0]).Rules {
			if r.ID == in[1] {
				return unit.As[unit.Length](r.Limit.Value).Value
			}
		}
		t.Fatal("no such rule")
		return nil
	},
}

// Every rule is whole: it can be named, cited and marked, and speaks only of
// what the closed lists hold.
func TestPoliciesAreWhole(t *testing.T) {
	names := map[string]bool{}
	for _, p := range append(Policies(), HouseTrip(Case{})) {
		if names[p.Name] || p.Say == "" || p.Jurisdiction == "" || p.Edition == "" || len(p.Rules) == 0 {
			t.Errorf("%+v", p)
		}
		names[p.Name] = true
		ids := map[string]bool{}
		for _, r := range p.Rules {
			at := p.Name + " " + r.ID
			if ids[r.ID] || r.ID == "" {
				t.Errorf("%s: the id is empty or stands twice", at)
			}
			ids[r.ID] = true
			m, ok := measured(r.Of)
			if !ok || m.About {
				t.Errorf("%s: %s is no measurand of a rule", at, r.Of)
			}
			if !slices.Contains(Musts(), r.Must) {
				t.Errorf("%s: must %q", at, r.Must)
			}
			if r.Called == "" || r.Limit.Source == "" || r.Limit.Scope == "" || !slices.Contains([]Mark{Published, Practice, Memory}, r.Limit.Mark) {
				t.Errorf("%s: called %q, mark %q, source %q, scope %q", at, r.Called, r.Limit.Mark, r.Limit.Source, r.Limit.Scope)
			}
			if r.Own != (r.Limit.Value.Kind == "") || !r.Own && r.Limit.Value.Kind != m.Kind {
				t.Errorf("%s: a limit of %q for a %q", at, r.Limit.Value.Kind, m.Kind)
			}
			for _, f := range r.Only {
				i := slices.IndexFunc(Facts(), func(g ForFact) bool { return g.Of == f.Of })
				if i < 0 || f.say() == "" || slices.ContainsFunc(f.Is, func(w string) bool { return !slices.Contains(Facts()[i].Is, w) }) {
					t.Errorf("%s: no fact %+v, or no words for it", at, f)
				}
			}
			for _, w := range r.When {
				if m, ok := measured(w.Of); !ok || m.Kind != w.Limit.Value.Kind || w.say() == "" {
					t.Errorf("%s: condition %+v", at, w)
				}
			}
		}
	}
	for _, want := range []string{"us-570-light", "us-570-heavy", "us-393", "us-396-periodic", "ohio", "maryland", "uk-mot", "eu-2014-45", HouseTripName} {
		if !names[want] {
			t.Errorf("no policy %s", want)
		}
	}
	// No rule for new vehicles alone stands among those in use.
	for _, p := range Policies() {
		for _, r := range p.Rules {
			for _, word := range []string{"571.1", "FMVSS", "UN Regulation", "new vehicle"} {
				if strings.Contains(r.Limit.Source+r.Limit.Scope, word) {
					t.Errorf("%s %s is a rule for new vehicles: %s", p.Name, r.ID, r.Limit.Source)
				}
			}
		}
	}
	// What another reading was taken under is no reading that a rule is about.
	var about []Measurand
	for _, m := range Measurands() {
		if m.About {
			about = append(about, m.ID)
		}
	}
	if !slices.Equal(about, []Measurand{OfPedalFoot, OfHoldFoot, OfHigherForce, OfGross}) {
		t.Errorf("about others: %v", about)
	}
	seen := map[Measurand]bool{}
	for _, m := range Measurands() {
		if seen[m.ID] || m.Say == "" || m.How == "" || unit.Name(m.Kind) == "" {
			t.Errorf("%+v", m)
		}
		seen[m.ID] = true
		// The limits of all rules lie where a limit can lie.
		lo, hi, err := unit.Window(m.Kind, m.Between)
		if err != nil {
			t.Errorf("%s: %v", m.ID, err)
		}
		for _, p := range Policies() {
			for _, r := range p.Rules {
				if x := r.Limit.Value.SI; r.Of == m.ID && !r.Own && !(x >= lo && x <= hi) {
					t.Errorf("%s %s: %g is outside %s", p.Name, r.ID, x, m.Between)
				}
			}
		}
	}
}

// At the limit itself, and a hair on either side, each of the four ways says
// what its words say.
func TestMust(t *testing.T) {
	for _, tt := range []struct {
		must                Must
		under, on, over     bool
		underHair, overHair bool
	}{
		{NoLess, false, true, true, true, true},
		{More, false, false, true, false, false},
		{NoMore, true, true, false, true, true},
		{Less, true, false, false, false, false},
	} {
		for _, l := range []float64{0.8, 2.0 / 3, 1e-3, 4448.2} {
			for i, x := range []float64{l * (1 - 1e-6), l, l * (1 + 1e-6), l * (1 - 1e-12), l * (1 + 1e-12)} {
				want := []bool{tt.under, tt.on, tt.over, tt.underHair, tt.overHair}[i]
				if got := tt.must.Met(x, l); got != want {
					t.Errorf("%g %s %g: %v", x, tt.must, l, got)
				}
			}
		}
	}
	// A limit of nothing is one as well.
	if !NoLess.Met(0, 0) || More.Met(0, 0) || !NoMore.Met(0, 0) || Less.Met(0, 0) {
		t.Error("nothing against nothing")
	}
	if Must("about").Met(1, 1) {
		t.Error("a word that is none is met")
	}
	if got := Date(20100901).String(); got != "1 September 2010" {
		t.Error(got)
	}
	for d, want := range map[Date]string{20120101: "1 January 2012", 20121231: "31 December 2012", 20121301: "20121301", 20120001: "20120001"} {
		if got := d.String(); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
	if got := Date(7).String(); got != "7" {
		t.Error(got)
	}
}

// What is not known of the vehicle is said and decides nothing; what is known
// and otherwise takes the rule away.
func TestWhomARuleIsFor(t *testing.T) {
	mot, eu, us := policyNamed(t, "uk-mot"), policyNamed(t, "eu-2014-45"), policyNamed(t, "us-393")
	for _, tt := range []struct {
		p       Policy
		rule    string
		words   []string
		open    string
		not     string
		verdict unit.Verdict
	}{
		{mot, "force-new-car", []string{"brake-force=55%"}, "for a car|first used from 1 September 2010", "", unit.Outside},
		{mot, "force-new-car", []string{"brake-force=55%", "first:2010"}, "for a car|first used from 1 September 2010", "", unit.Outside},
		{mot, "force-new-car", []string{"brake-force=55%", "first:2010-09-01", "carries:people"}, "", "", unit.Outside},
		{mot, "force-new-car", []string{"brake-force=55%", "first:2009"}, "", "only first used from 1 September 2010", unit.NoLimit},
		{mot, "force-old-car", []string{"brake-force=55%", "first:2011"}, "", "only first used before 1 September 2010", unit.NoLimit},
		{mot, "force-old-car", []string{"brake-force=55%", "carries:goods"}, "", "only for a car", unit.NoLimit},
		{mot, "imbalance-major", []string{"imbalance=40%"}, "", "", unit.Outside},
		{mot, "imbalance-major", []string{"imbalance=40%", "higher-force=300N"}, "", "only where the higher force is over 40 kgf (392 N)", unit.NoLimit},
		{mot, "imbalance-dangerous", []string{"imbalance=60%"}, "for an axle that steers", "", unit.Outside},
		{eu, "force-old-van", []string{"brake-force=44%", "first:2011", "carries:goods"}, "up to 3500 kg (7716 lb)", "", unit.Outside},
		{us, "bus-stop", []string{"stop=30ft", "carries:bus", "gross=9000lb"}, "", "only over 10000 lb (4536 kg)", unit.NoLimit},
		{policyNamed(t, "ohio"), "hold", []string{"hold=60s"}, "under a foot of 40 lbf (178 N) to 60 lbf (267 N)", "", unit.Within},
	} {
		f := ruleFinding(t, tt.p, tt.rule, caseOf(t, tt.words))
		if strings.Join(f.If, "|") != tt.open || f.Not != tt.not || f.Verdict != tt.verdict {
			t.Errorf("%s %v: if %q, not %q, %v; want %q, %q, %v", tt.rule, tt.words, f.If, f.Not, f.Verdict, tt.open, tt.not, tt.verdict)
		}
	}
	// A time that ends or begins on the very day: nobody knows.
	for _, first := range [][2]Date{{20100101, 20100901}, {20100831, 20110101}} {
		c := caseOf(t, []string{"brake-force=55%", "carries:people"})
		c.First = first
		if f := ruleFinding(t, mot, "force-new-car", c); len(f.If) != 1 || f.Not != "" {
			t.Errorf("%v: %+v", first, f)
		}
	}
	// Nothing read: the rule still says whether it is for the vehicle.
	f := ruleFinding(t, mot, "force-old-car", caseOf(t, []string{"carries:goods"}))
	if !f.Unread || f.Not == "" || f.Verdict != unit.NoLimit {
		t.Errorf("%+v", f)
	}
}

// Near the limit by less than the reading's own doubt.
func TestNearALimit(t *testing.T) {
	const rule = "a rule with 0.1 mm steps: u = sqrt(0.1²/12 + 0.3²) = 0.301 mm, 1.96 u = 0.591 mm"
	mot := policyNamed(t, "uk-mot")
	for _, tt := range []struct {
		read    string
		near    bool
		verdict unit.Verdict
	}{{"2.0mm", true, unit.Within}, {"2.2mm", false, unit.Within}, {"1.2mm", true, unit.Outside}, {"0.8mm", false, unit.Outside}} {
		f := ruleFinding(t, mot, "lining", caseOf(t, []string{"lining=" + tt.read}))
		if f.Near != tt.near || f.Verdict != tt.verdict {
			t.Errorf("%s: near %v, %v\nsource: %s", tt.read, f.Near, f.Verdict, rule)
		}
		near(t, "doubt", f.Doubt*1000, "0.301", rule)
		// Ours wants room for that doubt.
		trip := HouseTrip(Case{})
		for _, f := range mustHold(t, trip, caseOf(t, []string{"lining=2.0mm"})) {
			if f.Rule.Of == OfLining && f.Verdict != unit.TooClose {
				t.Errorf("trip: %v\nsource: %s", f.Verdict, rule)
			}
		}
	}
	// Without a scatter of ours the last place alone.
	f := ruleFinding(t, policyNamed(t, "us-570-light"), "pedal-foot-alone", caseOf(t, []string{"pedal-used=80%"}))
	near(t, "doubt", f.Doubt*100, "0.289", "1 %/sqrt 12")
}

func mustHold(t *testing.T, p Policy, c Case) []Finding {
	t.Helper()
	f, err := p.Hold(c)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

func TestHoldRefuses(t *testing.T) {
	mot := policyNamed(t, "uk-mot")
	_, err := mot.Hold(Case{Read: map[Measurand]unit.Any{OfLining: {Kind: unit.KindForce, SI: 1}}})
	refused(t, "a force for a lining", err)
	_, err = mot.Hold(Case{Read: map[Measurand]unit.Any{OfLining: {Kind: unit.KindLength, SI: math.NaN()}}})
	refused(t, "no number", err)
	_, err = Policy{Rules: []Rule{{Of: "horn"}}}.Hold(Case{})
	refused(t, "a measurand that is none", err)
}

// Ours asks of each thing what the strictest rule asks: by hand.
func TestHouseTrip(t *testing.T) {
	const hand = "read off the policies: the strictest of each"
	trip := func(words ...string) map[string]string {
		out := map[string]string{}
		for _, r := range HouseTrip(caseOf(t, words)).Rules {
			text := fmt.Sprintf("%s %s", r.Must, r.Limit.Value.Both())
			if r.Own {
				text = string(r.Must) + " its own"
			}
			key := string(r.Of)
			if out[key] != "" {
				text = out[key] + "; " + text
			}
			out[key] = text
		}
		return out
	}
	truck := trip("carries:goods", "gross=6000lb", "trailer:no", "booster:vacuum", "braked:all", "axle:front", "first:1980", "hub:adjustable")
	for of, want := range map[string]string{
		"lining": "at least 1.600 mm (63.0 thou)",
		// 25 % over the lower is 20 % over the higher.
		"imbalance-of-lower": "at most 0.250",
		"pedal-used":         "at most 0.667",
		"hold":               "at least 10 s; at least 60 s",
		"rim-runout":         "at most 3.175 mm (0.1250 in)",
		"tread":              "at least 3.175 mm (0.1250 in)",
		"reservoir":          "more than 0.500",
		"pedal-strokes":      "at most 1",
		"vacuum-kept":        "at least 0.700",
		"stop":               "at most 7.62 m (25.0 ft)",
		"brake-force":        "at least 0.528",
		"parking-force":      "at least 0.160",
		"rotor":              "at least its own", "drum": "at most its own",
		"bearing-play": "at least 0.025 mm (1.0 thou); at most 0.127 mm (5.0 thou)",
	} {
		if truck[of] != want {
			t.Errorf("%s: %q, want %q\nsource: %s", of, truck[of], want, hand)
		}
	}
	if got := truck["imbalance"]; got != "" {
		t.Errorf("imbalance stands twice: %s", got)
	}
	// Of a vehicle of which nothing is known, both stand.
	if got := trip()["stop"]; !strings.Contains(got, "(20.0 ft)") || !strings.Contains(got, "(25.0 ft)") {
		t.Errorf("stop: %s", got)
	}
}

// Whatever is drawn: what ours lets be, no rule that is for the vehicle breaks;
// and every demand of ours is one of the rules'.
func TestHouseTripIsTheStrictest(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		c := Case{Read: map[Measurand]unit.Any{}, Own: map[Measurand]unit.Any{}, Facts: map[string]string{}}
		for _, f := range Facts() {
			if w := rapid.SampledFrom(append([]string{""}, f.Is...)).Draw(rt, f.Of); w != "" {
				c.Facts[f.Of] = w
			}
		}
		limits := map[Measurand][]float64{}
		for _, p := range Policies() {
			for _, r := range p.Rules {
				if !r.Own {
					limits[plainLimit(r).of] = append(limits[plainLimit(r).of], plainLimit(r).si)
				}
				for _, w := range r.When {
					limits[w.Of] = append(limits[w.Of], w.Limit.Value.SI)
				}
			}
		}
		for _, m := range Measurands() {
			if len(limits[m.ID]) == 0 || rapid.IntRange(0, 4).Draw(rt, "leave out") == 0 {
				continue
			}
			x := rapid.SampledFrom(limits[m.ID]).Draw(rt, string(m.ID)) * rapid.SampledFrom([]float64{0.5, 0.99, 1, 1.01, 2}).Draw(rt, "times")
			if m.Kind == unit.KindRatio {
				x = min(x, 1)
			}
			c.Read[m.ID] = unit.Any{Kind: m.Kind, SI: x}
		}
		if y := rapid.IntRange(0, 3).Draw(rt, "year"); y > 0 {
			c.First = [2]Date{Date(2008+2*y)*10000 + 101, Date(2008+2*y)*10000 + 1231}
		}
		trip := HouseTrip(c)
		kept := map[Measurand]bool{}
		for _, f := range must1(rt, trip, c) {
			of := plainLimit(f.Rule).of
			if _, seen := kept[of]; !seen {
				kept[of] = true
			}
			if !f.Unread && f.Not == "" && f.Verdict != unit.Within {
				kept[of] = false
			}
		}
		known := map[string]bool{}
		for _, p := range Policies() {
			for i, f := range must1(rt, p, c) {
				known[p.Name+"-"+p.Rules[i].ID] = true
				if f.Unread || f.Not != "" || f.Rule.Own || f.Verdict != unit.Outside {
					continue
				}
				if k, ok := kept[plainLimit(f.Rule).of]; !ok || k {
					rt.Fatalf("%s %s is broken by %g and ours is not: %+v", p.Name, f.Rule.ID, f.Value.SI, c)
				}
			}
		}
		for _, r := range trip.Rules {
			if !known[r.ID] {
				rt.Fatalf("%s is nobody's", r.ID)
			}
		}
	})
}

func must1(t interface{ Fatal(...any) }, p Policy, c Case) []Finding {
	f, err := p.Hold(c)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// Every figure of the rules, against what the texts have.
func TestPolicyFigures(t *testing.T) {
	const (
		cfr  = "49 CFR 570.5, 570.9, 570.10, 570.55, 570.59, 393.47, 393.50, 393.75, 396 appendix A"
		code = "the codes of Maryland, Missouri, Ontario and Washington"
		uk   = "UK MOT inspection manual, sections 1.2.2, 1.3.2, 5.2.3"
		eu   = "Directive 2014/45/EU, Annex I, 1.2; Regulation (EU) 2018/858, article 4"
		tmc  = "TMC RP 618: 0.001 to 0.005 in"
	)
	want := map[string][3]string{
		"LightLining": {"0.03125", "in", cfr}, "LightRivets": {"0.03125", "in", cfr}, "HeavyLining": {"0.0625", "in", cfr}, "HeavyRivets": {"0.03125", "in", cfr},
		"CarrierLining": {"1.60", "mm", cfr}, "PeriodicLining": {"0.0625", "in", cfr},
		"LightHold": {"10.0", "s", cfr}, "LightHoldFoot": {"125.0", "lbf", cfr}, "MissouriHold": {"60.0", "s", code}, "MissouriUsed": {"80.0", "%", code},
		"PeriodicStrokes": {"1.00", "", cfr}, "PeriodicReservoir": {"25.0", "%", cfr}, "OntarioReservoir": {"25.0", "%", code}, "WashingtonReservoir": {"50.0", "%", code},
		"MarylandFluid": {"0.500", "in", code}, "CarrierVacuum": {"70.0", "%", cfr}, "HeavyImbalance": {"25.0", "%", cfr},
		"EuropeImbalanceMajor": {"30.0", "%", eu}, "EuropeImbalanceDangerous": {"50.0", "%", eu}, "MotForceNew": {"58.0", "%", uk}, "MotForce": {"50.0", "%", uk},
		"MotSecondary": {"25.0", "%", uk}, "HalfForce": {"50.0", "%", uk}, "EuropeForceNewCar": {"58.0", "%", eu}, "EuropeForce": {"50.0", "%", eu},
		"EuropeForceOldVan": {"45.0", "%", eu}, "EuropeForceOldTruck": {"43.0", "%", eu}, "VanMost": {"3500", "kg", eu},
		"LightRim": {"0.125", "in", cfr}, "LightTread": {"0.0625", "in", cfr}, "CarrierTreadFront": {"0.125", "in", cfr}, "CarrierTread": {"0.0625", "in", cfr},
		"MotTread": {"1.60", "mm", uk}, "PlayLeast": {"1.00", "thou", tmc}, "PlayMost": {"5.00", "thou", tmc},
	}
	for _, f := range policyFigures() {
		w, ok := want[f.Name]
		if !ok {
			t.Errorf("%s: nothing to hold it to", f.Name)
			continue
		}
		got, ok := f.Value.In(w[1])
		if !ok {
			t.Errorf("%s has no unit %s", f.Name, w[1])
		}
		near(t, f.Name, got, w[0], w[2])
		delete(want, f.Name)
	}
	if len(want) > 0 {
		t.Errorf("not listed: %v", want)
	}
}

func BenchmarkPolicies(b *testing.B) {
	c := Case{Read: map[Measurand]unit.Any{OfLining: {Kind: unit.KindLength, SI: 0.0014, Resolution: 0.0001}, OfPedal: {Kind: unit.KindRatio, SI: 0.7, Resolution: 0.01}}}
	for b.Loop() {
		for _, p := range Policies() {
			if _, err := p.Hold(c); err != nil {
				b.Fatal(err)
			}
		}
	}
}

func BenchmarkHouseTrip(b *testing.B) {
	for b.Loop() {
		HouseTrip(Case{})
	}
}
