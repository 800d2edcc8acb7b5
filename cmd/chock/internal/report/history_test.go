package report

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"math"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distuv"
	"pgregory.net/rapid"

	"chock/cmd/chock/internal/ask"
	"chock/cmd/chock/internal/record"
)

// kept is a check of the blue pickup with one lining read, on a day after the
// first of January 2024, at a reading of the odometer where that is over 0.
func kept(day int, lining, doubt float64, miles int) record.Kept {
	r := &record.Record{Started: time.Date(2024, 1, 1, 12, 0, 0, 0, time.UTC).AddDate(0, 0, day), Finished: true, Vehicle: "blue pickup", Drive: "go",
		Complaints: []record.Complaint{{ID: "going-over", Say: "the whole vehicle"}},
		Measurements: []record.Measurement{{ID: "pads-measured", Say: "Pads measured", Wheel: "front-left", Calculation: "lining-wear",
			Verdicts: []record.Verdict{{Of: "lining", Verdict: "within", Value: &lining, Limit: new(2.0), Unit: "mm"}}}}}
	if doubt > 0 {
		r.Measurements[0].Verdicts[0].Doubt = &doubt
	}
	if miles > 0 {
		r.Odometer = &record.Reading{Typed: fmt.Sprint(miles), Kind: "length", Unit: "mi", Value: new(float64(miles))}
	}
	return record.Kept{Path: fmt.Sprintf("check-%d.yaml", day), Record: r}
}

func historyOf(t *testing.T, kept ...record.Kept) *History {
	t.Helper()
	h, _ := NewHistory("blue pickup", kept)
	return h
}

// Two readings a year apart, 10 and 8 mm with 0.3 and 0.4 mm of doubt, limit
// 2 mm. By hand: the rate is 2 mm a year. Its doubt is the mean doubt over the
// root of the sum of squares about the mean day: 0.35/sqrt(2·0.5²) = 0.495 mm
// a year, so 1.505 to 2.495. From the middle, 9 mm at half a year, 7 mm are
// left, ± 0.35/sqrt 2 = 0.2475: (7-0.2475)/2.495 = 2.706 years at the earliest,
// (7+0.2475)/1.505 = 4.815 at the latest, both from half a year on.
func TestWearByHand(t *testing.T) {
	h := historyOf(t, kept(0, 10, 0.3, 40000), kept(365, 8, 0.4, 52000))
	require.Len(t, h.Wear, 1)
	y := h.Wear[0].Year
	year := daysPerYear
	per := year / 365 // 365 days are not quite a year
	assert.InDelta(t, 2*per, y.Rate, 1e-9)
	assert.InDelta(t, 1.505*per, y.Low, 1e-3)
	assert.InDelta(t, 2.495*per, y.High, 1e-3)
	first := days(time.Date(2024, 1, 1, 12, 0, 0, 0, time.UTC))
	assert.InDelta(t, first+365*(0.5+2.706), y.Early, 1)
	assert.InDelta(t, first+365*(0.5+4.815), y.Late, 1)
	// 12,000 miles between: 2 mm, so 0.1667 mm in 1,000.
	assert.InDelta(t, 2.0/12, h.Wear[0].Mile.Rate, 1e-9)
	assert.InDelta(t, 46000+12000*2.706, h.Wear[0].Mile.Early, 20)

	// Next: half of the way from the last reading to the earliest day is a year
	// and a tenth, so the year rules; by the mile, half of the way.
	assert.Equal(t, "date", h.Next.When)
	assert.Equal(t, time.Date(2025, 12, 31, 12, 0, 0, 0, time.UTC), h.Next.Date)
	assert.InDelta(t, (52000+46000+12000*2.706)/2, *h.Next.Miles, 20)

	say := words(t, h.Doc())
	for _, want := range []string{
		"WEAR Lining, left front", "- 1 January 2024, 40,000 mi (64,374 km): 10.0 mm (0.39 in) ====================",
		"- It goes down by about 2.00 mm (0.079 in) in a year, between 1.51 mm (0.059 in) and 2.50 mm (0.098 in).",
		"in 1,000 miles (1,609 km)", "- The limit 2.0 mm (0.08 in) can be reached between March 2027 and April 2029, by the odometer between",
		"Two points make a line, not a forecast",
		"Next check: by 31 December 2025, or at",
	} {
		assert.Contains(t, say, want)
	}
}

// The line is that of another library, and the range holds it.
func TestWearLine(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(3, 20).Draw(t, "n")
		w := &Wear{Unit: "mm", Limit: new(1.0)}
		var xs, ys []float64
		x := 0.0
		for range n {
			x += rapid.Float64Range(1, 500).Draw(t, "days")
			y := rapid.Float64Range(1, 12).Draw(t, "mm")
			xs, ys = append(xs, x), append(ys, y)
			w.Points = append(w.Points, WearPoint{Value: y})
		}
		got := w.trend(xs, 1)
		_, slope := stat.LinearRegression(xs, ys, nil, false)
		require.InDelta(t, -slope, got.Rate, 1e-6)
		// The half width is Student's t times the standard error of the slope.
		a, b := stat.LinearRegression(xs, ys, nil, false)
		var left, xx float64
		mean := stat.Mean(xs, nil)
		for i := range xs {
			left += math.Pow(ys[i]-a-b*xs[i], 2)
			xx += math.Pow(xs[i]-mean, 2)
		}
		want := distuv.StudentsT{Sigma: 1, Nu: float64(n - 2)}.Quantile(0.975) * math.Sqrt(left/float64(n-2)/xx)
		require.InDelta(t, 1, (got.High-got.Low)/2/want, 2e-3)
		if got.Ranged {
			require.LessOrEqual(t, got.Early, got.Late)
			require.GreaterOrEqual(t, got.Early, xs[n-1])
		}
	})
}

// Readings that lie on a line and are known sharply foretell it.
func TestWearTrue(t *testing.T) {
	h := historyOf(t, kept(0, 12, 0.001, 0), kept(100, 11, 0.001, 0), kept(200, 10, 0.001, 0), kept(300, 9, 0.001, 0))
	y := h.Wear[0].Year
	first := days(h.Checks[0].Record.Started)
	assert.InDelta(t, first+1000, y.Early, 2)
	assert.InDelta(t, first+1000, y.Late, 2)
	assert.Nil(t, h.Wear[0].Mile, "no odometer, no miles")
}

func TestWearSays(t *testing.T) {
	broken := kept(200, 7, 0.3, 0)
	broken.Record.Measurements[0].Verdicts[0].Limit = nil
	ran := kept(300, 7, 0.3, 30000)
	for _, tt := range []struct {
		name string
		kept []record.Kept
		want string
	}{
		{"one", []record.Kept{kept(0, 10, 0.3, 0)}, "One reading: nothing to compare it with."},
		{"new pads", []record.Kept{kept(0, 6, 0.3, 0), kept(90, 5, 0.3, 0), kept(200, 10, 0.3, 0)}, "- 2 readings of parts before this one left out - 19 July 2024: 10.0 mm"},
		{"noise", []record.Kept{kept(0, 10, 0.8, 0), kept(100, 9.9, 0.8, 0)}, "No wear that is more than the doubt, over a year."},
		{"noise is no late end", []record.Kept{kept(0, 10, 0.8, 0), kept(100, 9.9, 0.8, 0)}, "on, or much later"},
		{"no doubt known", []record.Kept{kept(0, 10, 0, 0), kept(100, 9, 0, 0)}, "No doubt is known for these readings, so no range is."},
		{"no limit", []record.Kept{kept(0, 10, 0.3, 0), broken}, "No limit is known, so nobody can say when it is reached."},
		{"worn out", []record.Kept{kept(0, 10, 0.3, 0), kept(90, 1.9, 0.3, 0)}, "The last reading is past the limit, 2.0 mm (0.08 in): this part is worn out."},
		{"one time", []record.Kept{kept(0, 10, 0.3, 0), {Path: "copy.yaml", Record: kept(0, 9.8, 0.3, 0).Record}}, "All readings are of one time"},
		{"odometer ran back", []record.Kept{kept(0, 10, 0.3, 40000), ran}, "It goes down by about"},
	} {
		say := words(t, historyOf(t, tt.kept...).Doc())
		assert.Contains(t, say, tt.want, tt.name)
		assert.NotContains(t, say, "NaN", tt.name)
		assert.NotContains(t, say, "Inf", tt.name)
	}
	assert.Nil(t, historyOf(t, kept(0, 10, 0.3, 40000), ran).Wear[0].Mile)
}

// A drum wears larger.
func TestWearDrum(t *testing.T) {
	drum := func(day int, mm float64) record.Kept {
		k := kept(day, mm, 0.05, 0)
		m := &k.Record.Measurements[0]
		m.Calculation, m.Wheel = "drum-diameter", "rear-left"
		m.Verdicts[0].Of, m.Verdicts[0].Limit = "discard", new(282.0)
		return k
	}
	w := historyOf(t, drum(0, 280), drum(365, 280.5), drum(730, 281)).Wear[0]
	assert.InDelta(t, 0.5*daysPerYear/365, w.Year.Rate, 1e-9)
	assert.True(t, w.Year.Ranged)
	assert.Len(t, historyOf(t, drum(0, 281), drum(365, 280)).Wear[0].Points, 1, "a smaller drum is a new one")
}

func TestHistory(t *testing.T) {
	stop := kept(500, 9, 0.3, 0)
	stop.Record.Drive, stop.Record.Finished = "stop", false
	stop.Record.Findings = []record.Finding{{Cause: "leak", Say: "Brake fluid is leaking out", Standing: "found", Wheels: []string{"rear-left"}, Drive: "stop"}, {Cause: "x", Say: "No", Standing: "unlikely"}}
	other := kept(10, 9, 0.3, 0)
	other.Record.Vehicle = "green van"
	all := []record.Kept{stop, {Path: "bad.yaml", Err: errors.New("bad.yaml is cut short")}, kept(0, 10, 0.3, 0), other}
	h, known := NewHistory(" Blue Pickup", all)
	assert.Equal(t, []string{"blue pickup", "green van"}, known)
	require.Len(t, h.Checks, 2)
	assert.Equal(t, "check-0.yaml", h.Checks[0].Path, "by date")
	say := words(t, h.Doc())
	for _, want := range []string{
		"Last check, 15 May 2025: Do not drive.", "Next check: before it is driven, when what was found has been put right.",
		"- 15 May 2025, stopped before its end: Do not drive. complaint: the whole vehicle found: brake fluid is leaking out, left rear record: check-500.yaml",
		"found: nothing", "LEFT OUT, SINCE THEY COULD NOT BE READ - bad.yaml is cut short", "HAVE IT VERIFIED",
	} {
		assert.Contains(t, say, want)
	}
	assert.NotContains(t, say, "green van")

	var b bytes.Buffer
	require.NoError(t, h.JSON(&b))
	var d struct {
		Checks []struct{ File, Started string }
		Wear   []struct {
			Part, Wheel string
			Points      []struct{ Value float64 }
			PerYear     *struct{ Rate, Low, High float64 } `json:"per_year"`
			Earliest    *string                            `json:"limit_earliest"`
			Miles       *struct{}                          `json:"per_1000_miles"`
		}
		Next    struct{ When, Date string }  `json:"next_check"`
		LeftOut []struct{ File, Why string } `json:"left_out"`
		Verify  string
	}
	require.NoError(t, json.Unmarshal(b.Bytes(), &d))
	assert.Equal(t, "2024-01-01T12:00:00Z", d.Checks[0].Started)
	assert.Equal(t, "before-driving", d.Next.When)
	assert.Equal(t, "bad.yaml", d.LeftOut[0].File)
	require.Len(t, d.Wear, 1)
	assert.NotNil(t, d.Wear[0].Earliest)
	assert.Nil(t, d.Wear[0].Miles)
	assert.Contains(t, d.Verify, "qualified technician")
}

// Whatever stands in a record, a history comes of it.
func TestHistoryStrangers(t *testing.T) {
	bad := "<b>x</b>\x1b[2J\u202egnol" + strings.Repeat("y", 10000)
	inf := kept(5, math.Inf(1), 0.3, 0)
	far := kept(1e6, 1e300, 1e-300, 0)
	text := kept(9, 8, math.NaN(), 0)
	text.Record.Odometer = &record.Reading{Typed: bad, Unit: bad}
	text.Record.Findings = []record.Finding{{Say: bad, Standing: "found", Wheels: []string{bad}}}
	text.Record.Complaints = []record.Complaint{{ID: bad, Say: bad}}
	nowhere := kept(0, 1, 1, 0)
	nowhere.Record.Started = time.Time{}
	h := historyOf(t, inf, far, text, nowhere, kept(20, 7.9, 0.3, 0))
	var message, markdown, doc, list bytes.Buffer
	require.NoError(t, h.Doc().Message(&message))
	require.NoError(t, h.Doc().Markdown(&markdown))
	require.NoError(t, h.JSON(&doc))
	assert.True(t, json.Valid(doc.Bytes()), doc.String())
	require.NoError(t, List(ask.Paper(&list, 60), "here", []record.Kept{inf, text, {Path: "bad", Err: errors.New(bad)}}))
	for _, out := range []string{message.String(), markdown.String(), list.String()} {
		assert.NotContains(t, out, "\x1b")
		assert.NotContains(t, out, "\u202e")
	}
	assert.NotContains(t, markdown.String(), "<b>")
}

func TestList(t *testing.T) {
	old, late := kept(0, 10, 0.3, 0), kept(400, 9, 0.3, 0)
	late.Record.Finished, late.Record.Vehicle = false, ""
	var b bytes.Buffer
	require.NoError(t, List(ask.Paper(&b, 80), "/records", []record.Kept{old, {Path: "/records/bad.yaml", Err: errors.New("/records/bad.yaml is cut short")}, late}))
	out := b.String()
	assert.Less(t, strings.Index(out, "check-400.yaml"), strings.Index(out, "check-0.yaml"), "the latest first")
	assert.Contains(t, strings.Join(strings.Fields(out), " "), "no vehicle named; going over; nothing here against driving it;")
	assert.Contains(t, out, "bad.yaml  cannot be read: is cut short")
	b.Reset()
	require.NoError(t, ListJSON(&b, "/records", []record.Kept{old}))
	assert.Contains(t, b.String(), `"vehicle": "blue pickup"`)
	assert.Contains(t, b.String(), `"left_out": []`)
}

// What comes after reading: the history of a thousand checks, laid out.
func BenchmarkHistory(b *testing.B) {
	var all []record.Kept
	for i := range 1000 {
		all = append(all, kept(i, 12-float64(i)/200, 0.3, 1000+30*i))
	}
	for b.Loop() {
		h, _ := NewHistory("blue pickup", all)
		require.NoError(b, h.Doc().Message(io.Discard))
	}
}
