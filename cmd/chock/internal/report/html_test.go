package report

import (
	"bytes"
	"fmt"
	"io"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/net/html"

	"chock/cmd/chock/internal/record"
)

func num64(v float64) *float64 { return &v }

// lengths are readings of an input as they would be typed.
func lengths(input, unit string, typed ...string) []record.Reading {
	var out []record.Reading
	for _, s := range typed {
		r := record.Reading{Input: input, Typed: s, Kind: "length", Unit: unit}
		var v float64
		if _, err := fmt.Sscanf(s, "%g", &v); err == nil {
			r.Value = &v
		}
		out = append(out, r)
	}
	return out
}

func resultsOf(pairs ...any) []record.Result {
	var out []record.Result
	for i := 0; i < len(pairs); i += 2 {
		r := record.Result{Key: pairs[i].(string)}
		switch v := pairs[i+1].(type) {
		case float64:
			r.Value = &v
		case [][]record.Result:
			r.List = v
		}
		out = append(out, r)
	}
	return out
}

func orderOf(order, amplitude, high float64) []record.Result {
	return resultsOf("order", order, "amplitude_mm", amplitude, "high_deg", high)
}

// everyPlot is an invented record with one plot of each sort, and the sections
// of invented.
func everyPlot() *record.Record {
	rec := invented()
	steps := []string{"largest 2.9 thou (0.074 mm) at 90 degrees", "runout = 2.9 - (-3.0) thou = 5.9 thou (0.150 mm)"}
	var positions, curve [][]record.Result
	for i, v := range []float64{0.134, 0.076, 0.042, 0.106, 0.146} {
		positions = append(positions, resultsOf("studs", float64(i), "runout_mm", v))
	}
	for i := 1; i <= 10; i++ {
		z := float64(i) / 10
		curve = append(curve, resultsOf("decel_g", z, "front_adhesion", 0.92*z, "rear_adhesion", z*(0.9+0.45*z)))
	}
	rec.Measurements = []record.Measurement{
		{ID: "front-rotor-thickness", Say: "Front rotor thickness", Wheel: "front-left", Calculation: "rotor-thickness", Steps: steps,
			Readings: lengths("thickness", "in", "1.1652", "1.1650", "1.1646", "1.1641", "1.1639", "1.1642", "1.1646", "1.1651"),
			Results:  resultsOf("least_thickness_mm", 29.56306, "thickness_orders", [][]record.Result{orderOf(1, 0.01636, 357), orderOf(2, 0.0006, 90)}),
			Verdicts: []record.Verdict{
				{Of: "discard", Verdict: "within", Value: num64(29.56306), Limit: num64(28.448), Doubt: num64(0.0059), Unit: "mm", Mark: "cast or stamped on the part"},
				{Of: "refinish", Verdict: "within", Value: num64(29.56306), Limit: num64(28.829), Doubt: num64(0.0059), Unit: "mm", Mark: "the manual of this vehicle"},
			}},
		{ID: "front-rotor-runout", Say: "Front rotor runout", Wheel: "front-left", Calculation: "rotor-runout", Steps: steps,
			Readings: append(lengths("dial", "thou", "0", "2.1", "2.9", "1.9", "-", "-1.9", "-3.0", "-2.2 thou"), lengths("closing", "thou", "0.1")...),
			Results:  resultsOf("runout_mm", 0.14986, "runout_orders", [][]record.Result{orderOf(1, 0.07386, 91.3), orderOf(2, 0.0037, 29.5)}),
			Verdicts: []record.Verdict{{Of: "runout", Verdict: "outside", Value: num64(0.14986), Limit: num64(0.0762), Doubt: num64(0.0121), Unit: "mm", Mark: "the manual of this vehicle"}}},
		{ID: "front-index", Say: "Front index", Wheel: "front-left", Calculation: "rotor-index", Steps: steps,
			Readings: []record.Reading{{Input: "studs", Typed: "5", Kind: "count", Value: num64(5)}, {Input: "moved", Typed: "2", Kind: "count", Value: num64(2)}},
			Results:  resultsOf("positions", positions, "best_studs", 2.0),
			Verdicts: []record.Verdict{{Of: "index", Verdict: "within", Value: num64(0.042), Limit: num64(0.0762), Doubt: num64(0.0084), Unit: "mm", Mark: "the manual of this vehicle"}}},
		{ID: "rear-drum-diameter", Say: "Rear drum diameter", Wheel: "rear-left", Calculation: "drum-diameter",
			Readings: slices.Concat(lengths("open", "in", "11.150", "11.156", "11.162", "11.155"), lengths("closed", "in", "11.150", "11.155", "11.160", "11.154"), lengths("middle", "in", "11.152")),
			Verdicts: []record.Verdict{{Of: "discard", Verdict: "within", Value: num64(283.5148), Limit: num64(284.734), Doubt: num64(0.02), Unit: "mm", Mark: "cast or stamped on the part"}}},
		{ID: "pads-measured", Say: "Pads measured", Wheel: "front-right", Calculation: "lining-wear",
			Readings: append(lengths("inner", "mm", "9 mm"), lengths("outer", "mm", "3 mm")...),
			Verdicts: []record.Verdict{{Of: "lining", Verdict: "within", Value: num64(3), Limit: num64(1.5), Doubt: num64(0.8), Unit: "mm", Mark: "published", Source: "a rule (1999)"}}},
		{ID: "pads-for-trip", Say: "Pads for trip", Calculation: "lining-trip",
			Results: resultsOf("front_thinnest_mm", 5.0, "front_miles_left", 6300.0, "front_miles_left_low", 2100.0, "front_miles_left_high", 14000.0,
				"rear_thinnest_mm", 6.0, "rear_miles_left", 40000.0, "rear_miles_left_low", 18000.0, "rear_miles_left_high", 90000.0, "least_mm", 1.5),
			Verdicts: []record.Verdict{
				{Of: "front", Verdict: "too-close", Value: num64(5000), Limit: num64(6300), Good: num64(2100), Unit: "mi", Mark: "our estimate"},
				{Of: "rear", Verdict: "within", Value: num64(5000), Limit: num64(40000), Good: num64(18000), Unit: "mi", Mark: "our estimate"},
			}},
		{ID: "pedal-heights", Say: "Pedal heights", Calculation: "pedal-travel",
			Results:  resultsOf("travel_mm", 127.0, "travel_percent", 71.4, "pumped_travel_mm", 63.5, "pumped_percent", 35.7),
			Verdicts: []record.Verdict{{Of: "reserve", Verdict: "too-close", Value: num64(71.4), Limit: num64(80), Good: num64(66.7), Doubt: num64(3.9), Unit: "%", Mark: "published", Source: "two rules"}}},
	}
	rec.Computed = []record.Measurement{
		{ID: "axle-balance", Say: "Front brakes against rear", Calculation: "axle-balance", Steps: steps, Lines: []string{"On a road with grip 0.80 the rear wheels lock first."},
			Results: resultsOf("curve", curve, "surface", 0.8, "critical_g", 0.19)},
		{ID: "pedal-volume", Say: "What the fluid of the pedal went into", Calculation: "pedal-volume", Lines: []string{"Each is an explanation, not a finding."},
			Results: resultsOf("volume_cc", 7.9, "gone_cc", 4.1, "stays_cc", 3.8)},
	}
	return rec
}

// evil is a note of somebody who means no good, or of one who leans on a key.
var evil = []string{
	`<script>alert("boo")</script><img src=x onerror=alert(1)><style>body{display:none}</style></ul></section><!--`,
	"\x1b[2J\x1b[31mred\x1b[0m and \u202eback again\u2066 and \x00\x07 and \ufeff",
	`javascript:alert(1) {{.}} {{template "part"}} &lt;b&gt; &#60; ]]> "' %s %d`,
	strings.Repeat("Wordy ", 1700),
	strings.Repeat("W", 300),
	"one\n  two\n\n- three\n# four",
}

// hostile is everyPlot with such words wherever a record holds words.
func hostile() *record.Record {
	rec := everyPlot()
	for _, e := range evil {
		rec.Notes = append(rec.Notes, record.Note{ID: e, Wheel: e, Text: e})
	}
	e := strings.Join(append(slices.Clone(evil[:3]), evil[4]), " ")
	rec.Vehicle, rec.Advice, rec.Reason, rec.Headline, rec.Notice, rec.Verify = e, e, e, e, e, e
	rec.Complaints = append(rec.Complaints, record.Complaint{ID: e, Say: e})
	rec.Findings = append(rec.Findings, record.Finding{Cause: e, Say: e, Part: e, Standing: "found", Wheels: []string{e}, For: []record.Line{{ID: e, Say: e, How: e}},
		Against: []record.Line{{ID: e, Say: e}}, Drive: "stop", Do: []string{e}, Mark: e, Source: e, From: []record.Origin{{Cause: e, Say: e, Because: e}}})
	rec.NotChecked = append(rec.NotChecked, record.Unchecked{Kind: "cause", Say: e, Dangerous: true}, record.Unchecked{Kind: "question", ID: e, Say: e, Why: e})
	rec.NotExplained, rec.SetAside = []record.Line{{ID: e, Say: e}}, []record.Line{{ID: e, Say: e}}
	rec.Changed = append(rec.Changed, record.Changed{ID: e, First: e, Now: e})
	rec.Caution, rec.HandOver, rec.Sets, rec.Torque, rec.Recheck, rec.Warnings, rec.Sources = evil[:3], evil[:3], evil[:3], evil[:3], evil[:3], evil[:3], evil[:3]
	for _, ms := range [][]record.Measurement{rec.Measurements, rec.Computed} {
		for i := range ms {
			m := &ms[i]
			m.Say, m.Wheel, m.ID = e, e, e
			m.Lines, m.Steps = evil[:3], evil[:3]
			for j := range m.Readings {
				m.Readings[j].Input += ""
				if j%3 == 0 {
					m.Readings[j].Typed = e
				}
			}
			for j := range m.Verdicts {
				m.Verdicts[j].Mark, m.Verdicts[j].Source = e, e
			}
		}
	}
	return rec
}

func page1(t *testing.T, rec *record.Record) string {
	var b bytes.Buffer
	require.NoError(t, HTML(&b, rec))
	return b.String()
}

var voids = []string{"meta", "br", "hr", "img", "input", "link"}

// inParagraph are the elements that may stand in running text.
var inParagraph = []string{"a", "b", "span", "strong", "abbr"}

// checkHTML holds a page to what a validator would ask, and to what ours must
// not have: the parser mends faults in silence, so its tokens are looked at.
func checkHTML(t *testing.T, text string) {
	z := html.NewTokenizer(strings.NewReader(text))
	var open []string
	ids := map[string]bool{}
	var refers []string
	elements, level, titles := 0, 0, 0
	for {
		switch z.Next() {
		case html.ErrorToken:
			require.Equal(t, io.EOF, z.Err())
			assert.Empty(t, open, "left open")
			for _, r := range refers {
				assert.True(t, ids[r], "no id %q", r)
			}
			assert.Equal(t, 1, strings.Count(text, "<h1"))
			assert.Equal(t, strings.Count(text, "<svg"), titles, "an svg without title or description")
			// What the parser would have to add or to move is a fault of ours.
			tree, err := html.Parse(strings.NewReader(text))
			require.NoError(t, err)
			n := 0
			for d := range tree.Descendants() {
				if d.Type == html.ElementNode {
					n++
				}
			}
			assert.Equal(t, elements, n, "the parser mended something")
			return
		case html.StartTagToken, html.SelfClosingTagToken:
			tok := z.Token()
			elements++
			name := tok.Data
			for _, never := range []string{"script", "iframe", "object", "embed", "link", "img", "form", "base"} {
				assert.NotEqual(t, never, name)
			}
			if slices.Contains(open, "p") || slices.Contains(open, "h1") || slices.Contains(open, "h2") || slices.Contains(open, "h3") {
				assert.Contains(t, inParagraph, name, "in running text")
			}
			parent := ""
			if len(open) > 0 {
				parent = open[len(open)-1]
			}
			assert.Equal(t, name == "li", (parent == "ul" || parent == "ol") && name == "li", "li under %s", parent)
			if parent == "ul" || parent == "ol" {
				assert.Equal(t, "li", name)
			}
			if len(name) == 2 && name[0] == 'h' && name[1] >= '1' && name[1] <= '6' {
				now := int(name[1] - '0')
				assert.LessOrEqual(t, now, level+1, "headings out of order")
				level = now
			}
			if name == "title" && parent == "svg" {
				titles++
			}
			has := map[string]string{}
			for _, a := range tok.Attr {
				assert.NotContains(t, has, a.Key, "twice in one tag")
				has[a.Key] = a.Val
				assert.False(t, strings.HasPrefix(a.Key, "on"), "%s=%q", a.Key, a.Val)
				assert.NotContains(t, []string{"src", "style", "srcset", "action"}, a.Key)
				switch a.Key {
				case "id":
					assert.False(t, ids[a.Val], "id %q twice", a.Val)
					ids[a.Val] = true
				case "href":
					require.True(t, strings.HasPrefix(a.Val, "#"), a.Val)
					refers = append(refers, a.Val[1:])
				case "aria-labelledby", "aria-describedby":
					refers = append(refers, a.Val)
				}
			}
			if name == "svg" {
				assert.Equal(t, "img", has["role"])
				assert.NotEmpty(t, has["aria-labelledby"])
				assert.NotEmpty(t, has["aria-describedby"])
			}
			if name == "th" {
				assert.NotEmpty(t, has["scope"])
			}
			if name == "html" {
				assert.Equal(t, "en", has["lang"])
			}
			if tok.Type == html.StartTagToken && !slices.Contains(voids, name) {
				open = append(open, name)
			}
		case html.EndTagToken:
			name := z.Token().Data
			require.NotEmpty(t, open, "</%s> closes nothing", name)
			require.Equal(t, open[len(open)-1], name, "closed in the wrong order")
			open = open[:len(open)-1]
		case html.CommentToken:
			t.Errorf("a comment: %s", z.Token().Data)
		}
	}
}

func TestHTMLIsValid(t *testing.T) {
	stopped := everyPlot()
	stopped.Finished, stopped.Units = false, "metric"
	for name, rec := range map[string]*record.Record{"whole": everyPlot(), "hostile": hostile(), "empty": {}, "stopped": stopped, "invented": invented()} {
		t.Run(name, func(t *testing.T) {
			text := page1(t, rec)
			checkHTML(t, text)
			flat := strings.ToLower(text[strings.Index(text, "<body"):])
			for _, always := range []string{"not a certificate", "have it verified", "take care in this work", "read and checked by"} {
				assert.True(t, strings.Contains(flat, always), always)
			}
			never := []string{"\x1b", "\u202e", "<nil>", "nan ", "%!", "http:", "https:"}
			if name != "hostile" {
				never = append(never, "safe", "passed", "!")
			}
			for _, n := range never {
				assert.False(t, strings.Contains(flat, n), n)
			}
		})
	}
}

// Words of strangers are shown, whole, and none of them is obeyed; the styles
// of the page are the same whatever a record holds.
func TestHTMLHostile(t *testing.T) {
	text := page1(t, hostile())
	assert.Contains(t, text, "&lt;script&gt;alert(&#34;boo&#34;)&lt;/script&gt;")
	assert.Contains(t, text, "^[[2J^[[31mred^[[0m and &lt;202e&gt;back again")
	assert.Contains(t, text, strings.Repeat("Wordy ", 1699))
	style := func(s string) string { return s[strings.Index(s, "<style>"):strings.Index(s, "</style>")] }
	assert.Equal(t, style(page1(t, &record.Record{})), style(text))
	assert.Equal(t, 1, strings.Count(text, "<style"))
}

// The order of a page: what decides before what is read in peace.
func TestHTMLOrder(t *testing.T) {
	text := page1(t, everyPlot())
	at := -1
	for _, part := range []string{
		"<h1>Owner&#39;s record", "not a certificate", "Do not drive: Brake fluid is leaking out.", ">What was found<", "<b>Found, dangerous:</b> Brake fluid", "against it: light hold", ">What to do, in this order<",
		">What was not checked<", "<h3 class=\"care\">Dangerous if it is so</h3>", `<div class="rest">`, ">Readings and their limits<", "Front rotor thickness, left front", "Limit: cast or stamped on the part",
		"round the clock", "How it was worked out", "<b>Outside:</b> runout", "Doubt of the readings 0.012 mm", ">Figures of this vehicle<", "come to<", "grip used in front and behind", ">Take care in this work<", ">Have it verified<", ">Ask the technician<",
		"<th scope=\"col\">Figure</th>", ">Read and checked by<", "Qualified as",
	} {
		next := strings.Index(text[at+1:], part)
		require.GreaterOrEqual(t, next, 0, "%s is missing, or out of order", part)
		at += next + 1
	}
	assert.Equal(t, 11, strings.Count(text, "<svg"), "a plot of each sort")
}

// A comparison and a history are pages too, the history with its wear drawn.
func TestHTMLOfSeveral(t *testing.T) {
	var b bytes.Buffer
	require.NoError(t, Compare(everyPlot(), hostile()).Doc().HTML(&b))
	checkHTML(t, b.String())
	for _, limit := range []*float64{num64(1.5), nil} {
		h := historyOf(t, kept(0, 9, 0.3, 40000), kept(400, 6.5, 0.3, 52000), kept(800, 4, 0.3, 64000))
		for _, w := range h.Wear {
			w.Limit = limit
		}
		b.Reset()
		require.NoError(t, h.Doc().HTML(&b))
		checkHTML(t, b.String())
		assert.Contains(t, b.String(), ": wear from check to check</title>")
		assert.Equal(t, limit != nil, strings.Contains(b.String(), ">limit 1.5"))
		assert.Contains(t, b.String(), "not a certificate")
	}
}

// The layout, for eyes: of a drawing of each shape.
func TestSVGGolden(t *testing.T) {
	rec := everyPlot()
	var all strings.Builder
	n := 0
	for _, m := range append(rec.Measurements[1:3:3], rec.Measurements[5]) {
		for _, p := range plots(rec, m) {
			n++
			fmt.Fprintln(&all, p.SVG(fmt.Sprintf("plot-%d", n)))
		}
	}
	path := filepath.Join("testdata", "plots.svg.txt")
	if *update {
		require.NoError(t, os.WriteFile(path, []byte(all.String()), 0o644))
	}
	want, err := os.ReadFile(path)
	require.NoError(t, err)
	assert.Equal(t, string(want), all.String())
}

// Where a reading stands is worked out by hand.
func TestClockPlaces(t *testing.T) {
	c := &Clock{Spots: []Spot{{1, "a"}, {0, "b"}, {-1, "c"}, {0, "d"}}, Step: 1, First: Wave{1, 90}}
	s := &svg{}
	s.clock(c)
	text := s.b.String()
	// Ring 84, swing 26, middle at 180, 140: the first at the top on the outer
	// ring, then clockwise.
	for _, want := range []string{`<circle cx="180" cy="30" r="4"/>`, `<circle cx="264" cy="140" r="4"/>`, `<circle cx="180" cy="198" r="4"/>`, `<circle cx="96" cy="140" r="4"/>`,
		`<polygon points="180,30 264,140 180,198 96,140"`,
		`<polygon points="180,56 `, // the wave is in the middle at 0 degrees
		`<text x="180" y="27" text-anchor="middle">a</text>`,
		`<text x="298" y="145" text-anchor="start">b</text>`,
		`<text x="62" y="145" text-anchor="end">d</text>`,
		`<polygon points="236,140 `, // the wedge points at 90 degrees
	} {
		assert.Contains(t, text, want)
	}
}

func TestRowsPlaces(t *testing.T) {
	r := &Rows{Bars: true, Rows: []Row{{Label: "x", Values: []float64{50}}, {Label: "y", Values: []float64{100}, Full: true}}, Limits: []Mark{{At: 80}}}
	require.True(t, r.scale())
	assert.InDelta(t, 105, r.To, 1e-9)
	r.To = 100
	s := &svg{}
	s.rows(r)
	assert.Contains(t, s.b.String(), `<rect class="paper" x="12" y="26" width="168" height="20"`)
	assert.Contains(t, s.b.String(), `<rect x="12" y="80" width="336" height="20" stroke`)
	assert.Contains(t, s.b.String(), `points="280.8,76 280.8,104"`)
}

func TestNice(t *testing.T) {
	for v, want := range map[float64]float64{1: 1, 1.1: 2, 2.9: 5, 5.1: 10, 0.03: 0.05, 900: 1000, 2: 2} {
		assert.InDelta(t, want, nice(v), 1e-12*want, "%g", v)
	}
	assert.Equal(t, []string{"1", "999", "1,000", "-1,234,568"}, []string{thousands(1), thousands(999.4), thousands(999.6), thousands(-1234567.8)})
	assert.Equal(t, []string{"aaa bb", "cccc"}, folded("aaa bb cccc", 6))
	assert.Equal(t, []string{"x", "aaaaaa", "aa"}, folded("x aaaaaaaa", 6))
}

// A record edited by hand may hold any number, or none: nothing panics, and no
// drawing holds what is no number.
func TestPlotsOfAnything(t *testing.T) {
	for _, v := range []float64{0, -1, 1e300, -1e300, math.NaN(), math.Inf(1), 1e-300, 5, 1e8} {
		rec := everyPlot()
		for _, ms := range [][]record.Measurement{rec.Measurements, rec.Computed} {
			for i := range ms {
				for j := range ms[i].Results {
					spoil(&ms[i].Results[j], v)
				}
				for j := range ms[i].Verdicts {
					ms[i].Verdicts[j].Limit, ms[i].Verdicts[j].Value, ms[i].Verdicts[j].Good = &v, &v, &v
				}
				for j := range ms[i].Readings {
					ms[i].Readings[j].Value, ms[i].Readings[j].Typed = &v, fmt.Sprint(v)
				}
				for _, p := range plots(rec, ms[i]) {
					text := string(p.SVG("x"))
					for _, never := range []string{"NaN", "Inf", "e+"} {
						assert.NotContains(t, text, never, "%s of %g", p.Title, v)
					}
				}
			}
		}
		checkHTML(t, page1(t, rec))
	}
	rec := everyPlot()
	for i := range rec.Measurements {
		m := &rec.Measurements[i]
		m.Results, m.Verdicts = nil, nil
		plots(rec, *m)
		m.Readings = nil
		assert.Empty(t, plots(rec, *m))
	}
}

func spoil(r *record.Result, v float64) {
	if r.Value != nil {
		r.Value = &v
	}
	for i := range r.List {
		for j := range r.List[i] {
			spoil(&r.List[i][j], v)
		}
	}
}

func BenchmarkText(b *testing.B) { benchmark(b, Message) }
func BenchmarkHTML(b *testing.B) { benchmark(b, HTML) }

func benchmark(b *testing.B, write func(io.Writer, *record.Record) error) {
	rec := everyPlot()
	for b.Loop() {
		if err := write(io.Discard, rec); err != nil {
			b.Fatal(err)
		}
	}
}
