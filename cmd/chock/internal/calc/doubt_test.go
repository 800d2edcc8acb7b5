package calc

import (
	"math"
	"strings"
	"testing"

	"chock/brakes"
	"chock/brakes/unit"
	"gonum.org/v1/gonum/stat/distuv"
	"pgregory.net/rapid"
)

const (
	rotor106 = "JCGM 106:2012 worked by hand: limit 24.40 mm, u 0.004082 mm, 1.96 u 0.0080 mm"
	drum106  = "by hand: a step of 0.05 mm and half of it as scatter, no error of the gauge: u 0.029 mm, 1.96 u 0.057 mm"
)

func init() {
	gauge := []string{"step", "0.01 mm", "gauge-error", "0.004 mm", "scatter", "0.003 mm", "repeats", "3"}
	at := func(value string, more ...string) []string {
		return append(append([]string{"value", value, "limit", "24.40 mm", "side", "least"}, gauge...), more...)
	}
	outcomeRows = append(outcomeRows,
		outcomeRow{"U-1", "reading-doubt", at("24.390 mm"), []string{"outside-limit"}, rotor106},
		outcomeRow{"U-2, safety", "reading-doubt", at("24.395 mm"), []string{"outside-limit"}, rotor106},
		outcomeRow{"U-2, comfort", "reading-doubt", at("24.395 mm", "kind", "comfort"), []string{"limit-too-close"}, rotor106},
		outcomeRow{"U-4", "reading-doubt", at("24.407 mm"), []string{"limit-too-close"}, rotor106},
		outcomeRow{"U-5", "reading-doubt", at("24.410 mm"), []string{"within-limit"}, rotor106},
		outcomeRow{"a drum inside", "reading-doubt", []string{"value", "281.90 mm", "limit", "282 mm", "side", "most", "step", "0.05 mm", "gauge-error", "0 mm"}, []string{"within-limit"}, drum106},
		outcomeRow{"a drum, nearly", "reading-doubt", []string{"value", "281.95 mm", "limit", "282 mm", "side", "most", "step", "0.05 mm", "gauge-error", "0 mm"}, []string{"limit-too-close"}, drum106},
		outcomeRow{"a drum over", "reading-doubt", []string{"value", "282.01 mm", "limit", "282 mm", "side", "most", "step", "0.05 mm", "gauge-error", "0 mm"}, []string{"outside-limit"}, drum106},
	)
}

// The numbers under their keys, against the worked rotor.
func TestDoubtKeys(t *testing.T) {
	r := run(t, "reading-doubt", "mm", "value", "24.407", "limit", "24.40", "side", "least", "step", "0.01", "gauge-error", "0.004", "scatter", "0.003", "repeats", "3")
	for _, tt := range []struct {
		key  string
		want float64
		off  float64
	}{
		{"room_mm", 0.007, 1e-9}, {"standard_doubt_mm", 0.004082, 5e-7}, {"guard_mm", 0.0080, 5e-5}, {"conforms_percent", 95.7, 0.05},
		{"needs_doubt_mm", 0.007 / 1.96, 1e-9},
		// u² = 0.001²/12 + 0.001²/3 + 0.003² is 0.003069², less than 0.003571².
		{"finer_step_mm", 0.001, 1e-12}, {"finer_repeats", 1, 0},
		// 0.01²/12 + 0.004²/3 alone is 0.003697²: averaging is of no use.
		{"repeats", math.NaN(), 0},
	} {
		got := r.Values.Get(tt.key)
		if math.IsNaN(tt.want) != math.IsNaN(got) || math.Abs(got-tt.want) > tt.off {
			t.Errorf("%s is %g, want %g\nsource: %s", tt.key, got, tt.want, rotor106)
		}
	}
	var rules []string
	for _, v := range r.Values {
		for _, row := range v.List {
			rules = append(rules, row[0].Text+" "+row[1].Text)
		}
	}
	if got, want := strings.Join(rules, ", "), "simple within, iso-2013 too-close, iso-2017 within, safety too-close, comfort within"; got != want {
		t.Errorf("rules %s, want %s\nsource: %s", got, want, rotor106)
	}
}

// How the gauge's doubt is stated, against its standard uncertainty.
func TestErrorAs(t *testing.T) {
	const tn = "NIST TN 1297, 4.2 to 4.6: divided by the square roots of 3 and 6, by 1.960, 2.576, 1, 2, 3, and 1.48 times"
	for _, tt := range []struct {
		as   string
		want float64
	}{
		{"limits", 0.6 / math.Sqrt(3)}, {"triangle", 0.6 / math.Sqrt(6)}, {"95", 0.6 / 1.960}, {"99", 0.6 / 2.576}, {"even-odds", 0.6 * 1.4826},
		{"1-sigma", 0.6}, {"2-sigma", 0.3}, {"3-sigma", 0.2},
	} {
		r := run(t, "reading-doubt", "mm", "value", "5", "limit", "1", "side", "least", "step", "0", "scatter", "0", "gauge-error", "0.6", "gauge-error-as", tt.as)
		if got := r.Values.Get("standard_doubt_mm"); math.Abs(got/tt.want-1) > 2e-4 {
			t.Errorf("%s: u is %g, want %g\nsource: %s", tt.as, got, tt.want, tn)
		}
	}
	if len(statedForms()) != 8 {
		t.Errorf("forms %v: one is not tried above", statedForms())
	}
}

// What is not given is taken, and said.
func TestDoubtAssumes(t *testing.T) {
	for _, tt := range []struct {
		flags []string
		want  float64
		said  []string
	}{
		// q²/12 + q²/4 + q²/3 = 2/3 q².
		{nil, 0.01 * math.Sqrt(2.0/3), []string{"step 0.010 mm", "an error of one step", "a scatter of half a step"}},
		// 2 (q²/12 + q²/4) = 2/3 q².
		{[]string{"of", "difference"}, 0.01 * math.Sqrt(2.0/3), []string{"no error of the gauge"}},
		{[]string{"of", "difference", "gauge-error", "0.03"}, math.Sqrt(2 * (0.0001/3 + 0.0009/3)), nil},
		{[]string{"scatter", "0", "gauge-error", "0", "step", "0"}, 0, nil},
		{[]string{"scatter", "0.02", "gauge-error", "0", "step", "0", "repeats", "4"}, 0.01, nil},
	} {
		r := run(t, "reading-doubt", "mm", append([]string{"value", "5.00", "limit", "4", "side", "least"}, tt.flags...)...)
		if got := r.Values.Get("standard_doubt_mm"); math.Abs(got-tt.want) > 1e-9 {
			t.Errorf("%v: u is %g, want %g by hand", tt.flags, got, tt.want)
		}
		for _, s := range tt.said {
			if !strings.Contains(strings.Join(r.Warnings, " "), s) {
				t.Errorf("%v: %q does not say %q", tt.flags, r.Warnings, s)
			}
		}
	}
}

func TestDoubtRefuses(t *testing.T) {
	good := map[string]string{"value": "5 mm", "limit": "4 mm", "side": "least", "step": "0.01 mm", "gauge-error": "0.01 mm", "gauge-error-as": "95", "scatter": "0.01 mm", "repeats": "2", "of": "reading", "kind": "safety"}
	c, _ := Find("reading-doubt")
	flags := func(name, text string) (out []string) {
		for k, v := range good {
			if k == name {
				v = text
			}
			if v != "" {
				out = append(out, k, v)
			}
		}
		return out
	}
	if _, err := c.Run(given(t, c, "", flags("", "")...)); err != nil {
		t.Fatal(err)
	}
	for _, tt := range []struct{ name, text string }{
		{"value", ""}, {"limit", ""}, {"side", ""}, {"limit", "0 mm"}, {"limit", "-1 mm"}, {"side", "both"}, {"step", "-0.1 mm"}, {"gauge-error", "-0.1 mm"},
		{"gauge-error-as", "loosely"}, {"scatter", "-1 mm"}, {"repeats", "0"}, {"repeats", "2000"}, {"of", "sum"}, {"kind", "style"},
		{"gauge-error", ""}, // gauge-error-as without it
	} {
		_, err := c.Run(given(t, c, "", flags(tt.name, tt.text)...))
		blamed := tt.name
		if tt.name == "gauge-error" && tt.text == "" {
			blamed = "gauge-error-as"
		}
		if err == nil || !strings.HasPrefix(err.Error(), blamed+":") {
			t.Errorf("%s %q: %v", tt.name, tt.text, err)
		}
	}
	for _, bad := range []float64{math.Inf(1), math.Inf(-1)} {
		for _, name := range []string{"value", "limit", "step", "gauge-error", "scatter"} {
			in := given(t, c, "", flags("", "")...)
			in[name] = []unit.Any{{Kind: unit.KindLength, SI: bad}}
			if _, err := c.Run(in); err == nil {
				t.Errorf("%s %g is taken", name, bad)
			}
		}
	}
}

// Whatever is drawn: the chance is the library's, the words fit the verdict.
func TestDoubtDrawn(t *testing.T) {
	c, _ := Find("reading-doubt")
	rapid.Check(t, func(rt *rapid.T) {
		length := func(name string, lo, hi int) unit.Any {
			return unit.Any{Kind: unit.KindLength, SI: float64(rapid.IntRange(lo, hi).Draw(rt, name)) * 1e-6, Resolution: 1e-6, Unit: rapid.SampledFrom([]string{"mm", "in", "thou"}).Draw(rt, "unit")}
		}
		side := rapid.SampledFrom([]string{"least", "most"}).Draw(rt, "side")
		in := map[string][]unit.Any{"value": {length("value", 900, 1100)}, "limit": {length("limit", 900, 1100)}, "side": {unit.Word(side)},
			"step": {length("step", 1, 100)}, "gauge-error": {length("gauge-error", 0, 100)}, "scatter": {length("scatter", 0, 100)}}
		if rapid.Bool().Draw(rt, "comfort") {
			in["kind"] = []unit.Any{unit.Word("comfort")}
		}
		r, err := c.Run(in)
		if err != nil {
			rt.Fatal(err)
		}
		check(rt, c, r)
		u, room := r.Values.Get("standard_doubt_mm"), r.Values.Get("room_mm")
		want := 100 * distuv.UnitNormal.CDF(room/u)
		if math.Abs(r.Values.Get("conforms_percent")-want) > 1e-6 {
			rt.Fatalf("chance %g, want %g", r.Values.Get("conforms_percent"), want)
		}
		if said := strings.Contains(strings.Join(r.Say, " "), "Until it is settled"); said != (r.Verdicts[0].Verdict == unit.TooClose && in["kind"] == nil) {
			rt.Fatalf("%v: %q", r.Verdicts[0].Verdict, r.Say)
		}
		near := r.Values.Get("needs_doubt_mm")
		if r.Verdicts[0].Verdict == unit.TooClose && !math.IsNaN(near) && near >= u {
			rt.Fatalf("needs %g and has %g", near, u)
		}
	})
	if brakes.RepeatsMost.Value < 1 {
		t.Error("no repeats at all")
	}
}

func BenchmarkDoubt(b *testing.B) {
	c, _ := Find("reading-doubt")
	in := given(b, c, "mm", "value", "24.407", "limit", "24.40", "side", "least", "step", "0.01")
	for b.Loop() {
		if _, err := c.Run(in); err != nil {
			b.Fatal(err)
		}
	}
}
