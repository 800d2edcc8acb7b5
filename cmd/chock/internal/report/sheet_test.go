package report

import (
	"bytes"
	"encoding/xml"
	"errors"
	"io"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/mattn/go-runewidth"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gopkg.in/yaml.v3"
)

// small is a sheet for a book that nobody wrote, with one of everything.
func small() *Sheet {
	return &Sheet{
		Complaints: []string{"It hums"}, Opens: []Tick{{ID: "sway", Say: "It sways"}}, Units: "metric",
		Talk: "chock talk hum", Again: "chock sheet --format yaml hum",
		Stations: []Station{
			{ID: "seat", Name: "Seat", First: "see 3, because some of the checks here depend on it.", Cautions: []string{"Belt on."}, Blanks: []Blank{
				{N: 1, ID: "hum-when", Ask: "Engine off.\nWhen does it hum?", Minutes: 2, Before: "it rolls", Several: true, Unsure: "STOP",
					Answers: []Tick{{Mark: "STOP", ID: "always", Say: "Always"}, {ID: "seldom", Say: "Seldom, and only on a cold morning"}}},
			}},
			{ID: "corner", Name: "Each corner raised", Needs: []string{`4 (lift): "A hoist"`}, Blanks: []Blank{
				{N: 2, ID: "hum-where", Ask: "Where does it hum?", If: `1 (hum when): "Always"`, Needs: []string{`4 (lift): "A jack"`}, How: []string{"How: Listen at the wheel."},
					Wheels:  []string{"front-left", "front-right", "rear-left", "rear-right"},
					Answers: []Tick{{Mark: "NO ROAD", ID: "loud", Say: "Loud enough to be heard from the next room"}, {ID: "none", Say: "None"}}},
				{N: 3, ID: "hum-depth", Ask: "How deep?", Minutes: 5, EachWheel: true, Wheels: []string{"rear-left", "rear-right"},
					Inputs: []Reading{{Name: "depth", Say: "Depth at each mark", Unit: "mm", UnitName: "millimetres", Least: 4, Most: 7},
						{Name: "studs", Say: "How many studs", Least: 1, Most: 1, Optional: true}},
					Figures: []Figure{{ID: "least", Ask: "What is cast on it?", UnitName: "millimetres"}}},
				{N: 4, ID: "hum-again", Ask: "How deep now?", Inputs: []Reading{{Name: "depth", Say: "Depth", Unit: "mm", UnitName: "millimetres", Least: 1, Most: 1}},
					Figures: []Figure{{ID: "least", Ask: "What is cast on it?", UnitName: "millimetres", At: 3}}},
				{N: 5, ID: "hum-left", Ask: "Is enough left?", Worked: true, Figures: []Figure{{ID: "cut", Ask: "How far may it be cut?", UnitName: "millimetres"}}},
			}},
		},
	}
}

func sheetText(t *testing.T, s *Sheet, width int) string {
	t.Helper()
	t.Setenv("LC_ALL", "en_US.UTF-8")
	t.Setenv("TERM", "xterm")
	var b bytes.Buffer
	require.NoError(t, SheetText(&b, s, width))
	return b.String()
}

func TestSheetGolden(t *testing.T) {
	var answers bytes.Buffer
	require.NoError(t, SheetAnswers(&answers, small(), []string{"hum"}))
	for name, got := range map[string]string{
		"sheet-40.txt": sheetText(t, small(), 40),
		"sheet-80.txt": sheetText(t, small(), 80),
		"sheet.yaml":   answers.String(),
	} {
		path := filepath.Join("testdata", name)
		if *update {
			require.NoError(t, os.WriteFile(path, []byte(got), 0o644))
		}
		want, err := os.ReadFile(path)
		require.NoError(t, err)
		assert.Equal(t, string(want), got, name)
	}
}

// Words that would steer a terminal, a browser, a YAML reader or a template
// are shown on each kind of sheet, and obeyed on none.
func TestSheetObeysNoWords(t *testing.T) {
	hostile := []string{
		`<script>alert("x")</script>`, `</style><b>`, `"><img src=x onerror=alert(1)>`, "&lt;&amp;", "{{.Sheet}}", "javascript:alert(1)", "http://elsewhere.test/x.png",
		"\x1b[2Jcleared", "bell\x07", "c1\x9b31m\u009b31m", "\u202egnorts\u202c", "\u2066isolate", "next\u2028line", "mark\ufeff\uffff", "\xff\xfe",
		"a: b", "# no comment", "- item", "line\nbreak: injected", "line\r\nbreak", "*anchor", "'", "\t", "\x00",
	}
	s := small()
	fill := func(word string) {
		s.Complaints, s.Opens = []string{word}, []Tick{{ID: "sway", Say: word}}
		for i := range s.Stations {
			st := &s.Stations[i]
			st.Name, st.Cautions, st.Needs = word, []string{word}, []string{word}
			for j := range st.Blanks {
				b := &st.Blanks[j]
				b.Ask, b.If, b.Needs, b.How = word, word, []string{word}, []string{word}
				for k := range b.Answers {
					b.Answers[k].Say = word
				}
				for k := range b.Inputs {
					b.Inputs[k].Say = word
				}
				for k := range b.Figures {
					b.Figures[k].Ask = word
				}
			}
		}
	}
	var count map[string]int // elements of a page with harmless words
	elements := func(page string) map[string]int {
		out := map[string]int{}
		d := xml.NewDecoder(strings.NewReader(page))
		for {
			tok, err := d.Token()
			if errors.Is(err, io.EOF) {
				return out
			}
			require.NoError(t, err, "%s", page)
			if e, ok := tok.(xml.StartElement); ok {
				out[e.Name.Local]++
				for _, a := range e.Attr {
					if a.Name.Local == "href" || a.Name.Local == "src" {
						assert.True(t, strings.HasPrefix(a.Value, "#"), "%s=%q", a.Name.Local, a.Value)
					}
					assert.False(t, strings.HasPrefix(a.Name.Local, "on"), "%s=%q", a.Name.Local, a.Value)
				}
			}
		}
	}
	page := func() string {
		var b bytes.Buffer
		require.NoError(t, SheetHTML(&b, s))
		return b.String()
	}
	harmless := func(text string) {
		for _, r := range text {
			assert.False(t, r < ' ' && r != '\n' || r >= 0x7f && r < 0xa0 || r == '\u202e' || r == '\u2066' || r == '\u2028' || r == '\ufeff', "%q in\n%s", r, text)
		}
	}
	fill("plain")
	count = elements(page())
	var keys map[string]any
	var b bytes.Buffer
	require.NoError(t, SheetAnswers(&b, s, []string{"hum"}))
	require.NoError(t, yaml.Unmarshal(b.Bytes(), &keys))
	for _, word := range hostile {
		fill(word)
		got := page()
		harmless(got)
		assert.Equal(t, count, elements(got), "%q made or took an element", word)

		for _, width := range []int{40, 80} {
			text := sheetText(t, s, width)
			harmless(text)
			for line := range strings.SplitSeq(text, "\n") {
				assert.LessOrEqual(t, runewidth.StringWidth(line), width, "%q", line)
			}
		}

		var answers bytes.Buffer
		var have map[string]any
		require.NoError(t, SheetAnswers(&answers, s, []string{"hum"}))
		harmless(answers.String())
		require.NoError(t, yaml.Unmarshal(answers.Bytes(), &have), "%q", word)
		assert.Equal(t, keys, have, "%q", word)
	}
}

// Nothing wider than the paper, no blank at a line's end, no promise.
func TestSheetShape(t *testing.T) {
	for _, width := range []int{40, 47, 60, 80, 100, 132} {
		text := sheetText(t, small(), width)
		for i, line := range strings.Split(text, "\n") {
			assert.LessOrEqual(t, runewidth.StringWidth(line), width, "line %d at %d", i+1, width)
			assert.Equal(t, strings.TrimRight(line, " "), line, "line %d at %d", i+1, width)
		}
		assert.Contains(t, text, "not a certificate")
		assert.Contains(t, strings.Join(strings.Fields(text), " "), "qualified technician")
		for i := 1; i <= 7; i++ { // a blank for each reading of each wheel
			n := strconv.Itoa(i)
			if i > 4 {
				n = "(" + n + ")"
			}
			assert.Equal(t, 2, strings.Count(text, " "+n+" ________"), "reading %d at %d", i, width)
		}
	}
}
