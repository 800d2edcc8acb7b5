package report

import (
	"bytes"
	"encoding/json"
	"math"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"chock/cmd/chock/internal/record"
)

// mendedCheck is the invented check six weeks later, after a repair.
func mendedCheck() *record.Record {
	now := invented()
	now.Started = now.Started.AddDate(0, 0, 42)
	now.Drive, now.Advice, now.Reason = "care", "", "A wheel bearing is loose."
	now.Complaints = []record.Complaint{{ID: "noise", Say: "it makes a noise"}}
	find := func(cause string) *record.Finding {
		for i := range now.Findings {
			if now.Findings[i].Cause == cause {
				return &now.Findings[i]
			}
		}
		panic(cause)
	}
	find("leak-outside").Standing = "mended"
	find("rotor-runs-out").Standing = "unlikely"
	find("bearing-loose").Standing = "found"
	find("nuts-loose").Standing = "found"
	find("tyre-apart").Standing = "unlikely"
	now.NotChecked = []record.Unchecked{
		{Kind: "cause", ID: "hose-bulges", Say: "A brake hose is about to fail", Dangerous: true},
		{Kind: "question", ID: "roll", Say: "Does it roll freely?", Why: "put off"},
		{Kind: "question", ID: "lamp", Say: "Does the lamp light?", Why: "not looked at", Dangerous: true},
	}
	m := &now.Measurements[0]
	m.Verdicts = append([]record.Verdict(nil), m.Verdicts...)
	m.Verdicts[0].Value, m.Verdicts[0].Verdict, m.Verdicts[0].Doubt = new(0.0508), "within", new(0.015)
	now.Measurements[1].Verdicts = []record.Verdict{
		{Of: "discard", Verdict: "within", Value: new(30.0), Limit: new(29.0), Unit: "mm", Mark: "given"},
		{Of: "variation", Verdict: "within", Value: new(0.006), Limit: new(0.0127), Doubt: new(0.006), Unit: "mm"},
		{Of: "heat", Verdict: "no-limit", Value: new(40.0), Unit: "C"},
	}
	now.Answers = append(now.Answers,
		record.Answer{ID: "wet-place", Wheel: "rear-left", Asked: "Is it wet?", Answer: []string{"dry"}, Said: []string{"Dry"}},
		record.Answer{ID: "pads", Wheel: "front-left", Asked: "How thick are the pads?", Answer: []string{"thick"}, Said: []string{"thick"}},
		record.Answer{ID: "helps", Asked: "What helps the pedal, now?", Answer: []string{"none"}, Several: true, Said: []string{"nothing"}},
		record.Answer{ID: "front-rotor-discard", Asked: "What is cast on the rotor?", Figure: &record.Reading{Typed: "1.14 in", Kind: "length", Unit: "in", Value: new(1.14)}},
		record.Answer{ID: "complaint-again", Asked: "How is the complaint now?", Answer: []string{"gone"}, Said: []string{"Gone"}})
	return now
}

// words is a document as a message on one line.
func words(t *testing.T, d *Doc) string {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, d.Message(&b))
	return strings.Join(strings.Fields(b.String()), " ")
}

func TestCompare(t *testing.T) {
	old := invented()
	old.Measurements[1].Verdicts = append(old.Measurements[1].Verdicts[:1:1],
		record.Verdict{Of: "variation", Verdict: "within", Value: new(0.005), Limit: new(0.0127), Doubt: new(0.008), Unit: "mm"},
		record.Verdict{Of: "heat", Verdict: "no-limit", Value: new(30.0), Unit: "C"})
	c := Compare(old, mendedCheck())
	assert.False(t, c.Turned)

	became := map[string]string{}
	for _, x := range c.Causes {
		became[x.finding().Cause] = x.Change
	}
	assert.Equal(t, map[string]string{"leak-outside": "mended", "rotor-runs-out": "cleared", "bearing-loose": "new", "nuts-loose": "back", "tyre-apart": "ruled-out"}, became)

	complaints := map[string]string{}
	for _, x := range c.Complaints {
		complaints[x.ID] = x.Change
	}
	assert.Equal(t, map[string]string{"leak": "not-asked", "pulsation": "not-asked", "noise": "new"}, complaints,
		"of two complaints nobody knows which one is gone")

	byOf := map[string]Measured{}
	for _, m := range c.Measured {
		byOf[m.Of] = m
	}
	// Hand calculation: 0.0508 - 0.13208 = -0.08128 mm; sqrt(0.02² + 0.015²) = 0.025 mm.
	assert.InDelta(t, -0.08128, *byOf["runout"].Change, 1e-9)
	assert.InDelta(t, 0.025, *byOf["runout"].Doubt, 1e-9)
	assert.True(t, *byOf["runout"].more())
	// 0.006 - 0.005 = 0.001 mm; sqrt(0.008² + 0.006²) = 0.01 mm.
	assert.InDelta(t, 0.01, *byOf["variation"].Doubt, 1e-9)
	assert.False(t, *byOf["variation"].more())
	assert.Nil(t, byOf["discard"].more(), "no doubt is known")

	say := words(t, c.Doc())
	for _, want := range []string{
		"Before, 25 November 2026: Do not drive: Brake fluid is leaking out.",
		"After, 6 January 2027: With care, straight to repair: A wheel bearing is loose.",
		"PUT RIGHT, OR NO SIGN OF IT NOW - Brake fluid is leaking out. Before: found, left rear. Now: put right and checked again, left rear. - The front rotor runs out of true. Before: likely, both front wheels. Now: looked at, and no sign of it.",
		"STILL THERE - Dangerous: Wheel nuts were loose. Before: put right, left front. Now: found, left front.",
		"NEW IN THE LATER CHECK - Dangerous: A wheel bearing is loose. Before: no sign of it. Now: found.",
		"NO LONGER POSSIBLE - A tyre is coming apart.",
		"- New: it makes a noise.",
		"- Not asked again: something is wet.",
		"- Runout: 0.132 mm (5.2 thou) before, 0.051 mm (2.0 thou) now, 0.081 mm (3.2 thou) less. That is more than the doubt of the two readings, 0.025 mm (1.0 thou). Before: too close to call. Now: within.",
		"no more than the doubt of the two readings, 0.010 mm (0.39 thou): not a change to rely on",
		"The doubt of one or both readings is not known, so whether that is more than the gauge's own cannot be said. Before: outside. Now: within. The limit was 28.448 mm (1.1200 in) before, and is 29.000 mm (1.1417 in) now.",
		"- Heat: 30 C (86 F) before, 40 C (104 F) now, 10 C (18 F) more.",
		changeRule,
		`- Wet place, left rear: "wet" before, "dry" now`,
		`- Helps: "a vacuum booster" before, "nothing" now (asked in other words)`,
		`- Front rotor discard: "1.12 in, that is 28.448 mm (1.1200 in)" before, "1.14 in, that is 28.956 mm (1.1400 in)" now`,
		"NOT CHECKED, BEFORE OR NOW Dangerous if it is so: - A brake hose is about to fail",
		"NOT CHECKED NOW Dangerous if it is so: - Not looked at: lamp.",
		"NOT CHECKED BEFORE, LOOKED AT NOW Also: - Not looked at: pads, left front.",
		"HAVE IT VERIFIED",
	} {
		assert.Contains(t, say, want)
	}
	lower := strings.ToLower(say)
	for _, never := range []string{"safe", "passed", "!", "<nil>", "nan"} {
		assert.NotContains(t, lower, never)
	}
}

// The order of time decides which one is before, and it is said.
func TestCompareTurned(t *testing.T) {
	a, b := invented(), mendedCheck()
	c := Compare(b, a)
	assert.True(t, c.Turned)
	assert.Same(t, a, c.Old)
	assert.Contains(t, words(t, c.Doc()), "The records were given the other way round.")
	assert.NotContains(t, words(t, Compare(a, b).Doc()), "other way round")
	b.Started = time.Time{}
	assert.False(t, Compare(b, a).Turned, "without a date they stay as they were given")

	a.Finished = false
	assert.Contains(t, words(t, Compare(a, mendedCheck()).Doc()), "The check before was stopped before its end")
	assert.Contains(t, words(t, Compare(a, invented()).Doc()), "Both were begun at the same time: they may be one check, kept twice.")
	other := mendedCheck()
	other.Vehicle = "Blue Pickup "
	assert.NotContains(t, words(t, Compare(a, other).Doc()), "different vehicles")
	other.Vehicle = "green van"
	assert.Contains(t, words(t, Compare(a, other).Doc()), `Two different vehicles: "blue pickup" before, "green van" after.`)
	other.Vehicle = ""
	assert.Contains(t, words(t, Compare(a, other).Doc()), "Not both records name their vehicle")
}

// What one answer says about the complaint belongs to it where there is one.
func TestCompareComplaint(t *testing.T) {
	for _, tt := range []struct {
		id, answer, want string
		again            bool
	}{
		{"complaint-again", "gone", "gone", false},
		{"complaint-again", "changed", "better", false},
		{"still-after-nuts", "less", "better", true},
		{"noise-after-stops", "same", "same", true},
		{"tyres", "gone", "not-asked", false},
		{"tyres", "gone", "same", true},
	} {
		old := &record.Record{Complaints: []record.Complaint{{ID: "noise", Say: "it makes a noise"}}}
		now := &record.Record{Complaints: []record.Complaint{{ID: "just-worked", Say: "it was worked on"}},
			Answers: []record.Answer{{ID: tt.id, Answer: []string{tt.answer}, Said: []string{"What was said"}}}}
		if tt.again {
			now.Complaints = append(now.Complaints, old.Complaints...)
		}
		c := Compare(old, now)
		require.Len(t, c.Complaints, 1, "work on the brakes is no complaint")
		assert.Equal(t, tt.want, c.Complaints[0].Change, "%+v", tt)
	}
}

// A cause that the later check does not name was not put right by that.
func TestCompareGone(t *testing.T) {
	old, now := invented(), &record.Record{Drive: "go"}
	c := Compare(old, now)
	say := words(t, c.Doc())
	assert.NotContains(t, say, "PUT RIGHT")
	assert.Contains(t, say, "NAMED BEFORE, AND NOT SETTLED BY THE LATER CHECK - Dangerous: Brake fluid is leaking out. Before: found, left rear. Now: not named, and no answer clears it. Look again.")
	assert.Contains(t, say, "NOT CHECKED BEFORE, AND NOT ASKED AGAIN")
	assert.Contains(t, say, "MEASURED BEFORE, NOT AGAIN - Runout of the front rotor, left front.")
	assert.Contains(t, words(t, Compare(now, old).Doc()), "MEASURED NOW FOR THE FIRST TIME - Runout of the front rotor, left front.")
}

// Without verdicts the results are compared, with no doubt known.
func TestCompareResults(t *testing.T) {
	check := func(v float64) *record.Record {
		return &record.Record{Measurements: []record.Measurement{{ID: "pull-forces", Say: "Pull forces", Results: []record.Result{
			{Key: "imbalance_percent", Value: new(v)}, {Key: "order"}, {Key: "turns_per_mile", Value: new(700.0)}}}}}
	}
	c := Compare(check(40), check(12))
	require.Len(t, c.Measured, 1)
	assert.Equal(t, -28.0, *c.Measured[0].Change)
	assert.Contains(t, words(t, c.Doc()), "Imbalance: 40.0 % before, 12.0 % now, 28.0 % less. The doubt of one or both readings is not known")
}

func TestCompareJSON(t *testing.T) {
	var b bytes.Buffer
	old := invented()
	old.Measurements[0].Verdicts[0].Value = new(math.NaN())
	require.NoError(t, Compare(old, mendedCheck()).JSON(&b))
	var d struct {
		Before, After struct {
			Vehicle, Drive *string
			Finished       bool
		}
		Causes []struct {
			Cause, Change string
			Before, After *struct {
				Standing string
				Wheels   []string
			}
		}
		Measurements []struct {
			Of            string
			Before, After *struct{ Value, Limit *float64 }
			Change        *float64
			MoreThanDoubt *bool    `json:"more_than_doubt"`
			ChangeDoubt   *float64 `json:"change_doubt"`
		}
		NotChecked []struct {
			ID                       string
			Dangerous, Before, After bool
			Looked                   bool `json:"looked_at_since"`
		} `json:"not_checked"`
		Rule, Caution, Verify string
	}
	require.NoError(t, json.Unmarshal(b.Bytes(), &d), b.String())
	assert.Equal(t, "stop", *d.Before.Drive)
	assert.Contains(t, d.Verify, "qualified technician")
	assert.NotEmpty(t, d.Caution)
	assert.Equal(t, changeRule, d.Rule)
	require.NotEmpty(t, d.Measurements)
	assert.Nil(t, d.Measurements[0].Change, "NaN is unknown")
	require.NotEmpty(t, d.NotChecked)
	assert.True(t, d.NotChecked[0].Dangerous, "dangers first")
	assert.NotContains(t, b.String(), "null,\n    \"say\"")
}

// Records of strangers: whatever stands in them is shown, and nothing panics.
func TestCompareStrangers(t *testing.T) {
	bad := "<b>x</b>\x1b[2J\u202egnol" + strings.Repeat("y", 10000)
	hand := &record.Record{Vehicle: bad, Drive: "soon", Reason: bad, Complaints: []record.Complaint{{ID: bad, Say: bad}},
		Findings:     []record.Finding{{Cause: bad, Say: bad, Standing: "found", Wheels: []string{bad}}, {}},
		Answers:      []record.Answer{{ID: bad, Answer: []string{bad}}, {}, {ID: "f", Figure: &record.Reading{}}},
		NotChecked:   []record.Unchecked{{}, {Kind: bad, ID: bad, Say: bad, Wheel: bad}},
		Measurements: []record.Measurement{{ID: bad, Say: bad, Verdicts: []record.Verdict{{Of: bad, Unit: bad, Value: new(1.0)}, {}}}, {}}}
	other := *hand
	other.Measurements = []record.Measurement{{ID: bad, Verdicts: []record.Verdict{{Of: bad, Unit: "mm", Value: new(2.0), Doubt: new(-1.0)}}}}
	other.Answers = []record.Answer{{ID: bad, Answer: []string{"no"}}, {ID: "f", Figure: &record.Reading{Typed: bad, Unit: bad}}}
	for _, pair := range [][2]*record.Record{{hand, &other}, {&other, hand}, {hand, {}}, {{}, {}}} {
		c := Compare(pair[0], pair[1])
		var text, markdown, doc bytes.Buffer
		require.NoError(t, c.Doc().Message(&text))
		require.NoError(t, c.Doc().Markdown(&markdown))
		require.NoError(t, c.JSON(&doc))
		for _, out := range []string{text.String(), markdown.String()} {
			assert.NotContains(t, out, "\x1b")
			assert.NotContains(t, out, "\u202e")
		}
		assert.NotContains(t, markdown.String(), "<b>")
		assert.True(t, json.Valid(doc.Bytes()))
	}
}
