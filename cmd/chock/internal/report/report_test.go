package report

import (
	"bytes"
	"encoding/json"
	"errors"
	"flag"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/mattn/go-runewidth"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"chock/cmd/chock/internal/ask"
	"chock/cmd/chock/internal/record"
)

var update = flag.Bool("update", false, "write the golden files anew")

// invented is a check that nobody made, with something in every section.
func invented() *record.Record {
	dial := func(typed string, v float64) record.Reading {
		return record.Reading{Input: "dial", Typed: typed, Kind: "length", Unit: "thou", Value: &v}
	}
	num := func(f float64) *float64 { return &f }
	dials := []record.Reading{dial("0", 0), dial("1.6", 1.6), dial("2", 2), {Input: "dial", Typed: "-", Kind: "length", Unit: "thou"}, dial("-1.2", -1.2), dial("-3.2", -3.2)}
	return &record.Record{
		Schema: 1, Program: "chock 0.1.0", Notice: "Owner's record, not a certificate. Local codes, the vehicle's manual and licensed practice come first.",
		Started: time.Date(2026, 11, 25, 12, 0, 0, 0, time.UTC), Saved: time.Date(2026, 11, 25, 13, 0, 0, 0, time.UTC), Finished: true,
		Vehicle: "blue pickup", Units: "us",
		Complaints: []record.Complaint{{ID: "leak", Say: "something is wet"}, {ID: "pulsation", Say: "the pedal or steering wheel pulses when braking"}},
		Answers: []record.Answer{
			{ID: "pedal-hold", Asked: "Which second did it move?", Answer: []string{"creeps"}, Said: []string{"it moved"}},
			{ID: "wet-place", Wheel: "rear-left", Asked: "Is it wet?", Answer: []string{"wet"}, Said: []string{"wet"}},
			{ID: "helps", Asked: "What helps the pedal?", Answer: []string{"vacuum"}, Several: true, Said: []string{"a vacuum booster"}},
			{ID: "worked-on", Asked: "What was last worked on?", Answer: []string{"unsure"}, Several: true, Said: []string{"not sure"}, Kind: "cannot-tell"},
			{ID: "front-rotor-runout", Wheel: "front-left", Asked: "Dial readings round the face.", Answer: []string{"runout-too-close"}, Readings: dials},
			{ID: "front-rotor-discard", Asked: "What is cast on the rotor?", Figure: &record.Reading{Typed: "1.12 in", Kind: "length", Unit: "in", Value: num(1.12)}, Origin: "cast"},
			{ID: "pedal-hold", Asked: "Which second did it move?", Answer: []string{"stays"}, Said: []string{"it did not move"}},
		},
		Notes: []record.Note{{ID: "wet-place", Wheel: "rear-left", Text: "seen by torch\x1b[2J, again at dusk"}, {Text: "Asked twice."}},
		Drive: "stop", Advice: "do not drive", Reason: "Brake fluid is leaking out.", Headline: "nothing else found so far",
		Findings: []record.Finding{
			{Cause: "rotor-runs-out", Say: "The front rotor runs out of true", Part: "front rotors", Standing: "likely", Wheels: []string{"front-left", "front-right"}, Drive: "care",
				For: []record.Line{{ID: "front-rotor-runout", Wheel: "front-left", Answer: "runout-too-close", Say: "left front, runout: too close to call"}},
				Do:  []string{"Clean both faces of the hub and read again.", "Leave it standing."}, Caution: "Let it cool.", Verify: "Have a qualified technician verify the reading.", Mark: "published", Source: "Brake handbook, section 2 (1999)"},
			{Cause: "leak-outside", Say: "Brake fluid is leaking out", Part: "hose, pipe, cylinder or caliper at the wet place", Standing: "found", Wheels: []string{"rear-left"}, Drive: "stop",
				For:      []record.Line{{ID: "wet-place", Wheel: "rear-left", Answer: "wet", Say: "left rear, inside of the tyre: wet", How: "seen"}},
				Against:  []record.Line{{ID: "pedal-hold", Answer: "stays", Say: "light hold: it did not move"}},
				Disagree: true, Do: []string{"Leave it standing.", "Find the highest wet point."}, Caution: "Gloves and glasses.", Verify: "Have a qualified technician verify that every joint is dry."},
			{Cause: "tyre-out-of-round", Say: "A tyre is out of round", Standing: "possible", Drive: "care"},
			{Cause: "tyre-apart", Say: "A tyre is coming apart", Standing: "possible", Drive: "stop", For: []record.Line{{ID: "band", Answer: "unsure", Say: "band: not sure"}}},
			{Cause: "nuts-loose", Say: "Wheel nuts were loose", Standing: "mended", Drive: "stop", Wheels: []string{"front-left"},
				From: []record.Origin{{Cause: "hub-not-cleaned", Say: "The hub face was dirty", Because: "Rust beds down and the clamp is gone"}},
				For:  []record.Line{{ID: "nuts", Wheel: "front-left", Answer: "loose", Say: "left front, nuts: loose", How: "seen"}, {ID: "nuts", Wheel: "front-right", Answer: "loose", Say: "right front, nuts: loose", How: "seen"}}},
			{Cause: "drum-out-of-round", Say: "A drum is out of round", Standing: "unlikely", Wheels: []string{"rear-left", "rear-right"}, Drive: "care"},
			{Cause: "bearing-loose", Say: "A wheel bearing is loose", Standing: "unlikely", Drive: "stop"},
		},
		NotExplained: []record.Line{{ID: "noise", Answer: "hum", Say: "noise at speed: it hums"}},
		NotChecked: []record.Unchecked{
			{Kind: "cause", ID: "hose-bulges", Say: "A brake hose is about to fail", Dangerous: true},
			{Kind: "question", ID: "ball-joint", Say: "Does the joint move?", Wheel: "front-left", Why: "cannot reach it", Dangerous: true},
			{Kind: "question", ID: "ball-joint", Say: "Does the joint move?", Wheel: "front-right", Why: "cannot reach it", Dangerous: true},
			{Kind: "wheel", ID: "dust", Say: "How much dust?", Wheel: "rear-right", Why: "not looked at"},
			{Kind: "question", ID: "roll", Say: "Does it roll freely?", Why: "waits for the first looks"},
			{Kind: "question", ID: "band", Say: "At which speed does it shake?", Why: "waits for the first looks"},
			{Kind: "question", ID: "pads", Say: "How thick are the pads?", Wheel: "front-left", Why: "not looked at"},
			{Kind: "question", ID: "pads", Say: "How thick are the pads?", Wheel: "front-right", Why: "not looked at"},
			{Kind: "question", ID: "pads", Say: "How thick are the pads?", Wheel: "rear-left", Why: "not looked at"},
			{Kind: "question", ID: "pads", Say: "How thick are the pads?", Wheel: "rear-right", Why: "not looked at"},
		},
		SetAside: []record.Line{{ID: "drum", Say: "drum wear: thick"}},
		Changed:  []record.Changed{{ID: "pedal-hold", First: "it moved", Now: "it did not move"}},
		Measurements: []record.Measurement{
			{ID: "front-rotor-runout", Say: "Runout of the front rotor", Wheel: "front-left", Calculation: "rotor-runout", Readings: dials,
				Results: []record.Result{{Key: "runout_mm", Value: num(0.13208)}, {Key: "runout_scatter_mm"}, {Key: "closing_error_mm", Value: num(math.NaN())}}, Outcomes: []string{"runout-too-close"},
				Verdicts: []record.Verdict{
					{Of: "runout", Verdict: "too-close", Value: num(0.13208), Limit: num(0.127), Good: num(0.0762), Doubt: num(0.02), Unit: "mm", Mark: "our estimate", Source: "published range, rotor table 3 (1998)"},
				},
				Lines: []string{"Nearly all of it comes once a turn: a tilt."}},
			{ID: "front-rotor-thickness", Say: "Thickness of the front rotor", Wheel: "front-left", Calculation: "rotor-thickness",
				Readings: []record.Reading{{Input: "thickness", Typed: "1.104 in", Kind: "length", Unit: "in", Value: num(1.104)}},
				Outcomes: []string{"below-discard", "even"},
				Verdicts: []record.Verdict{
					{Of: "discard", Verdict: "outside", Value: num(28.0416), Limit: num(28.448), Unit: "mm", Mark: "given", Source: "cast on the rotor"},
					{Of: "variation", Verdict: "within", Value: num(0.005), Limit: num(0.0127), Unit: "mm", Mark: "our estimate"},
					{Of: "refinish", Verdict: "no-limit", Value: num(28.0416), Unit: "mm"},
				}},
		},
		Caution: []string{"Gloves and glasses, fluid kept off paint.", "Let it cool for an hour."},
		Verify:  "Have a qualified technician verify that every joint is dry.", HandOver: []string{"Flaring pipes, cutting rotors."},
		Sets: []string{"hoses by the axle"}, Torque: []string{"wheel nuts, in their sequence", "wheel-cylinder and backing-plate bolts, all of them"},
		Recheck: []string{"wheel nuts, cold, in their sequence", "Every place that was opened is dry"}, Warnings: []string{"One position could not be read."},
		Sources: []string{"Brake handbook, section 2 (1999)"}, End: "chock",
	}
}

// print gives the page at a width, in UTF-8.
func print(t *testing.T, rec *record.Record, width int) string {
	t.Setenv("COLUMNS", strconv.Itoa(width))
	t.Setenv("LC_ALL", "en_US.UTF-8")
	t.Setenv("TERM", "xterm")
	var b bytes.Buffer
	scr, err := ask.NewScreen(&b, "never")
	require.NoError(t, err)
	require.NoError(t, Text(scr, rec))
	return b.String()
}

func TestTextGolden(t *testing.T) {
	for _, width := range []int{40, 80} {
		got := print(t, invented(), width)
		path := filepath.Join("testdata", "page-"+strconv.Itoa(width)+".txt")
		if *update {
			require.NoError(t, os.WriteFile(path, []byte(got), 0o644))
		}
		want, err := os.ReadFile(path)
		require.NoError(t, err)
		assert.Equal(t, string(want), got)
	}
}

// TestTextShape holds for every record: nothing wider than the screen, no
// blank at a line's end, no two empty lines, and none of the words that a page
// must never say.
func TestTextShape(t *testing.T) {
	early := &record.Record{Drive: "care"}
	broken := invented()
	broken.Drive, broken.Advice, broken.Reason, broken.Findings = "", "", "", nil
	broken.Measurements[0].Verdicts[0].Unit = "cubits"
	broken.Measurements[0].Readings[0].Kind = "weather"
	for _, rec := range []*record.Record{invented(), early, broken, {}} {
		for _, width := range []int{20, 40, 60, 80, 100} {
			page := print(t, rec, width)
			last := "x"
			for line := range strings.SplitSeq(strings.TrimSuffix(page, "\n"), "\n") {
				assert.LessOrEqual(t, runewidth.StringWidth(line), width, line)
				assert.Equal(t, strings.TrimRight(line, " "), line)
				assert.False(t, line == "" && last == "", "two empty lines at %d", width)
				last = line
			}
			flat := strings.ToLower(strings.Join(strings.Fields(page), " "))
			for _, never := range []string{"safe", "passed", "!", "\x1b", "roadworthy", "<nil>", "nan", "%!"} {
				assert.NotContains(t, flat, never)
			}
			for _, always := range []string{"not a certificate", "have a qualified technician verify", "take care in this work"} {
				assert.Contains(t, flat, always)
			}
		}
	}
}

// TestTextOrder: dangers come first, and the page keeps its order.
func TestTextOrder(t *testing.T) {
	page := strings.Join(strings.Fields(print(t, invented(), 80)), " ")
	at := -1
	for _, part := range []string{
		"Owner's record", "Do not drive: Brake fluid is leaking out.", "Nothing else found so far.", "What was found", "Found, dangerous: Brake fluid", "seen: left rear", "against it: light hold", "These disagree",
		"Likely: The front rotor", "measured: left front", "Possible, dangerous: A tyre is coming apart", "Possible: A tyre is out of round", "Found, put right: Wheel nuts were loose", "Looked at, and no sign of it: 2 other causes.",
		"Not explained", "it hums", "first answered \"it moved\", changed to \"it did not move\"",
		"What to do, in this order", "1. Brake fluid", "Leave it standing.", "2. Prove or rule out, before it is driven: A tyre is coming apart.", "3. Check the dangerous things", "4. The front rotor", "Clean both faces", "5. Prove or rule out, before any part is bought for it: A tyre is out of round.",
		"What was not checked", "Dangerous if it is so", "A brake hose", "Cannot reach it:", "ball joint, both front wheels: Does the joint move?", "Also:", "Not looked at: dust, right rear; pads, all four wheels.", "Waits for the first looks: roll; band.",
		"Readings and their limits", "dial: 0, 1.6, 2, -, -1.2, -3.2 thou", "Too close to call: runout", "Thickness of the front rotor", "Outside: discard", "Within: variation", "No limit known: refinish", "Figures of this vehicle", "front rotor discard: 1.12 in",
		"Take care in this work", "Have it verified", "Parts, always as sets", "To tighten", "After 50 miles (80 km)", "Hand over rather than do", "Notes", "^[[2J", "Warnings", "Sources", "not a certificate",
	} {
		next := strings.Index(page[at+1:], part)
		require.GreaterOrEqual(t, next, 0, "%s is missing, or out of order", part)
		at += next + 1
	}
	assert.Equal(t, 1, strings.Count(page, "Leave it standing."), "a step is said once")
}

// A few possible causes get their steps when nothing better is known.
func TestTextPossibleOnly(t *testing.T) {
	rec := &record.Record{Drive: "care", Finished: true, Findings: []record.Finding{{Say: "A tyre is out of round", Standing: "possible", Drive: "care", Do: []string{"Swap front and rear."}}}}
	page := print(t, rec, 80)
	assert.Contains(t, page, "1. If it is this: A tyre is out of round.\n   - Swap front and rear.\n")
	for range fewest {
		rec.Findings = append(rec.Findings, rec.Findings[0])
	}
	assert.NotContains(t, print(t, rec, 80), "Swap")
}

type full struct{}

func (full) Write([]byte) (int, error) { return 0, errors.New("no room") }

func TestWriteFails(t *testing.T) {
	scr, err := ask.NewScreen(full{}, "never")
	require.NoError(t, err)
	assert.EqualError(t, Text(scr, invented()), "no room")
	assert.EqualError(t, JSON(full{}, invented()), "no room")
}

func TestAgainst(t *testing.T) {
	for _, tt := range []struct {
		unit                string
		value, limit, doubt float64
		want, bound         string
	}{
		// 1 in = 25.4 mm; 1 psi = 6.894757 kPa; F = 1.8 C + 32
		{"mm", 0.13208, 0.127, 0, "0.132 mm (5.2 thou)", "0.127 mm (5.0 thou)"},
		{"mm", 28.0416, 28.448, 0, "28.042 mm (1.1040 in)", "28.448 mm (1.1200 in)"},
		{"thou", 5.0004, 5, 0, "5.0004 thou (0.12701 mm)", "5.0000 thou (0.12700 mm)"},
		{"C", 100, 150, 0, "100 C (212 F)", "150 C (302 F)"},
		{"kPa", 689.4757, 700, 0, "689.5 kPa (100.0 psi)", "700.0 kPa (101.5 psi)"},
		{"cubits", 1.23456, 2, 0, "1.235 cubits", "2 cubits"},
		{"", 3, 4, 0, "3", "4"},
		{"mm", 8, 1.5, 0.78, "8.0 mm (0.31 in)", "1.5 mm (0.06 in)"},
		{"mm", 1.52, 1.5, 0.78, "1.52 mm (0.060 in)", "1.50 mm (0.059 in)"},
	} {
		value, bound := against(tt.unit, tt.value, tt.limit, tt.doubt)
		assert.Equal(t, tt.want, value)
		assert.Equal(t, tt.bound, bound)
	}
	for a, b := range other {
		ka, oka := kindOf(a)
		kb, okb := kindOf(b)
		assert.True(t, oka && okb && ka == kb, "%s and %s", a, b)
	}
}

func TestJSON(t *testing.T) {
	var b bytes.Buffer
	require.NoError(t, JSON(&b, invented()))
	want, err := os.ReadFile(filepath.Join("testdata", "document.json")) // written by hand
	require.NoError(t, err)
	assert.JSONEq(t, string(want), b.String())

	// A list is never null, and what is always there is there.
	b.Reset()
	require.NoError(t, JSON(&b, &record.Record{}))
	var d map[string]any
	require.NoError(t, json.Unmarshal(b.Bytes(), &d))
	for _, key := range []string{"complaints", "asked", "measurements", "findings", "not_explained", "not_checked", "warnings", "sources"} {
		assert.Equal(t, []any{}, d[key], key)
	}
	assert.Equal(t, standingCaution, d["caution"])
	assert.Equal(t, standingVerify, d["verify"])
	assert.Nil(t, d["drive"])
	assert.Equal(t, false, d["finished"])
}

// The message form has no line that begins with a blank, is wrapped or drawn;
// notes that carry escapes or marks of another reading order are shown.
func TestMessage(t *testing.T) {
	rec := invented()
	rec.Notes = append(rec.Notes, record.Note{Text: "\x1b[31mred\x1b[0m <b>bold</b> \u202eback"})
	var out strings.Builder
	require.NoError(t, Message(&out, rec))
	for i, line := range strings.Split(out.String(), "\n") {
		assert.False(t, strings.HasPrefix(line, " "), "line %d begins with a blank: %q", i+1, line)
		assert.NotRegexp(t, "[\u2500-\u257f]", line)
	}
	assert.Contains(t, out.String(), "^[[31mred^[[0m <b>bold</b> <202e>back")
	assert.NotContains(t, out.String(), "\x1b")
	assert.Contains(t, out.String(), "READ AND CHECKED BY")
}

// Markdown shows every sign that would mean something to it.
func TestMarkdown(t *testing.T) {
	rec := invented()
	rec.Notes = append(rec.Notes, record.Note{Text: "<script>alert(1)</script> [x](y) *a* | b"})
	var out strings.Builder
	require.NoError(t, Markdown(&out, rec))
	assert.Contains(t, out.String(), `\<script\>alert(1)\</script\> \[x\](y) \*a\* \| b`)
	assert.NotContains(t, out.String(), "<script>")
	assert.NotContains(t, out.String(), "\n\n\n")
}
