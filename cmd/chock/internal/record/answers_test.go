package record

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"chock/cmd/chock/internal/ask"
)

func texts(s ...string) ask.Answer { return ask.Answer{Text: s} }

func TestAnswers(t *testing.T) {
	path := filepath.Join(t.TempDir(), "a.yaml")
	require.NoError(t, os.WriteFile(path, []byte(`# an evening in the shed
complaints: [pulsation, one-wheel-dusty]
pedal-hold: yes
wheel-dust:
  front-left: caked
  front-right: "light, dry"
helps: [pump, vacuum]
front-rotor-thickness: [1.180, .118e1, 012, -, 1-1/16]
front-rotor-runout:
  front-left: {dial: [0, 1.6, 2 thou], closing: 0x1}
front-rotor-discard: 1.12 in cast
`), 0o600))
	a, err := LoadAnswers(path)
	require.NoError(t, err)
	assert.Equal(t, map[string]ask.Answer{
		"complaints":            texts("pulsation", "one-wheel-dusty"),
		"pedal-hold":            texts("yes"),
		"wheel-dust":            {At: map[string]ask.Answer{"front-left": texts("caked"), "front-right": texts("light, dry")}},
		"helps":                 texts("pump", "vacuum"),
		"front-rotor-thickness": texts("1.180", ".118e1", "012", "-", "1-1/16"),
		"front-rotor-runout": {At: map[string]ask.Answer{"front-left": {At: map[string]ask.Answer{
			"dial": texts("0", "1.6", "2 thou"), "closing": texts("0x1"),
		}}}},
		"front-rotor-discard": texts("1.12 in cast"),
	}, a.Entries)
	for want, got := range map[string]string{
		":6":  a.Where("wheel-dust", "front-right", ""),
		":4":  a.Where("wheel-dust", "rear-left", ""),
		":10": a.Where("front-rotor-runout", "front-left", "dial"),
		":9":  a.Where("front-rotor-runout", "front-right", "dial"),
		"":    a.Where("nowhere", "", ""),
	} {
		assert.Equal(t, path+want, got)
	}

	// The scripted asker takes them as they are.
	s := ask.NewScript(a.Entries, false, nil)
	r, err := s.Line(ask.Field{ID: "front-rotor-runout", Wheel: "front-left", Input: "dial"})
	require.NoError(t, err)
	assert.Equal(t, "0; 1.6; 2 thou", r.Text)
	for _, left := range s.Unused() {
		assert.NotZero(t, a.Lines[left], left)
	}
}

func TestAnswersRefused(t *testing.T) {
	for _, tt := range []struct{ name, file, want string }{
		{"empty", "", "a.yaml is empty"},
		{"a list", "- dry\n", "a.yaml is not a list of KEY: VALUE lines"},
		{"words", "dry\n", "a.yaml is not a list of KEY: VALUE lines"},
		{"repeated", "hold: stays\nx: y\nhold: sinks\n", `a.yaml:3: "hold" stands at line 1 already; keep one of them`},
		{"repeated wheel", "dust:\n  front-left: a\n  front-left: b\n", `a.yaml:3: "front-left" stands at line 2 already; keep one of them`},
		{"nothing", "hold:\n", "a.yaml:1: hold: has no answer; leave it out, or write unsure"},
		{"no words", "hold: ''\n", "a.yaml:1: hold: has no answer; leave it out, or write unsure"},
		{"null", "dust:\n  front-left: null\n", "a.yaml:2: dust, front-left: has no answer; leave it out, or write unsure"},
		{"comma", "dust: {front-left: wet, at the hose}\n", "a.yaml:1: dust, at the hose: has no answer; a comma inside {} parts entries, so quote words that have one"},
		{"empty list", "helps: []\n", "a.yaml:1: helps: is an empty list; write the word for none of them, leave it out, or write unsure"},
		{"empty map", "dust: {}\n", "a.yaml:1: dust: is empty; leave it out, or write unsure"},
		{"gap", "dial: [0, , 2]\n", "a.yaml:1: not readable as YAML: did not find expected node content; put that line right in an editor"},
		{"null in a list", "dial: [0, ~]\n", "a.yaml:1: dial: an entry of the list is empty; a reading that could not be taken is -"},
		{"list of lists", "dial: [[0]]\n", "a.yaml:1: dial: a list holds words or readings only"},
		{"deep", "a: {b: {c: {d: e}}}\n", "a.yaml:1: a, b, c: only a wheel and an input can stand below a question"},
		{"alias", "a: &x dry\nb: *x\n", "a.yaml:1: &x is an anchor; leave it out"},
		{"merge", "a: {<<: {b: c}}\n", "a.yaml:1: << is a merge key; write it out"},
		{"tag", "a: !!str 5\n", "a.yaml:1: !!str is a tag; leave it out"},
		{"second document", "a: b\n---\nc: d\n", "a.yaml holds several documents; keep one of them"},
		{"key of keys", "? [a]\n: b\n", "a.yaml:1: a key must be one word"},
		{"no name", "'': b\n", "a.yaml:1: an answer has no name"},
		{"tab", "\ta: b\n", "a.yaml:1: not readable as YAML: found character that cannot start any token; put that line right in an editor"},
		{"nested", strings.Repeat("[", 5000), "a.yaml:1: not readable as YAML: did not find expected node content; put that line right in an editor"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			_, err := ParseAnswers("a.yaml", []byte(tt.file))
			assert.EqualError(t, err, tt.want)
		})
	}

	big := filepath.Join(t.TempDir(), "big.yaml")
	require.NoError(t, os.WriteFile(big, make([]byte, answersLimit+1), 0o600))
	_, err := LoadAnswers(big)
	assert.EqualError(t, err, big+" is over 1 MB, and a file of chock is far smaller; is it the right one?")
}
