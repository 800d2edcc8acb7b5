package ask

import (
	"bytes"
	"errors"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The questions of the tests.
var (
	drips = Question{ID: "line", Choices: []Choice{
		{ID: "drips", Say: "It drips or has left a puddle"},
		{ID: "damp", Say: "Damp, but nothing falls"},
		{ID: "dry", Say: "Dry and dusty"},
	}}
	moves = Question{ID: "moves", Choices: []Choice{
		{ID: "yes", Say: "Yes, it moves"}, {ID: "no", Say: "No, it stays"},
	}}
	circuits = Question{ID: "circuits", Choices: []Choice{
		{ID: "1", Say: "1, with one chamber"}, {ID: "2", Say: "2, with two chambers"},
	}}
	pots = Question{ID: "pots", Choices: []Choice{
		{ID: "1-pot", Say: "One piston"}, {ID: "4-pots", Say: "Four pistons"},
	}}
	corners = Question{ID: "corner", Choices: drips.Choices,
		Wheels: []string{"front-left", "front-right", "rear-left", "rear-right"},
		Names:  []string{"left front", "right front", "left rear", "right rear"}}
	helps = Question{ID: "helps", Several: true, Choices: []Choice{
		{ID: "vacuum", Say: "A vacuum booster"}, {ID: "pump", Say: "The steering pump"},
		{ID: "electric", Say: "An electric motor"}, {ID: "none", Say: "Nothing helps"},
	}}
	remove = Question{ID: "delete", NoUnsure: true, Choices: []Choice{{ID: "yes", Say: "Yes, delete it"}, {ID: "no", Say: "No, keep it"}}}
	dial   = Field{ID: "runout", Wheel: "front-left", Input: "dial", Hint: "thou", Check: func(s string) error {
		if strings.ContainsAny(s, "x") {
			return errors.New("x is no reading")
		}
		return nil
	}}
	words4 = []string{"drips", "dry", "unsure", "later"}
)

type entries = map[string]Answer

func texts(t ...string) Answer { return Answer{Text: t} }

const (
	up, down, ctrlC, ctrlD = "\x1b[A", "\x1b[B", "\x03", "\x04"
	eof                    = "" // a plain input that ends
)

// conformance: the same meaning given to all three makers comes back as the
// same reply. A case that a maker cannot be told leaves its input out.
var conformance = []struct {
	name  string
	q     Question // or, where it has no choices, f
	f     Field
	typed string  // plain lines
	keys  string  // in a list or on a line of a terminal; "" is not run
	file  entries // nil is not run
	want  Reply
	err   error // of plain and prompt; the file's are tested on their own
}{
	{name: "by number", q: drips, typed: "2\n", keys: "2\r", file: entries{"line": texts("damp")}, want: Reply{IDs: []string{"damp"}}},
	{name: "by arrows or id", q: drips, typed: "damp\n", keys: down + down + "\r", file: entries{"line": texts("DAMP")}, want: Reply{IDs: []string{"damp"}}},
	{name: "by words", q: drips, typed: "dry  AND dusty\n", keys: "3\r", file: entries{"line": texts("Dry and dusty")}, want: Reply{IDs: []string{"dry"}}},
	{name: "by a beginning", q: drips, typed: "it dr\n", keys: "1\r", want: Reply{IDs: []string{"drips"}}},
	{name: "n is not sure", q: drips, typed: "n\n", keys: "n", file: entries{"line": texts("not sure")}, want: Reply{Word: Unsure}},
	{name: "n is no where no is offered", q: moves, typed: "n\n", keys: "n\r", file: entries{"moves": texts("no")}, want: Reply{IDs: []string{"no"}}},
	{name: "not sure about yes and no", q: moves, typed: "not sure\n", keys: up + up + "\r", file: entries{"moves": texts("unsure")}, want: Reply{Word: Unsure}},
	{name: "an answer that is a digit", q: circuits, typed: "2\n", keys: "2\r", file: entries{"circuits": texts("2")}, want: Reply{IDs: []string{"2"}}},
	{name: "an id that begins with a digit", q: pots, typed: "4\n", keys: "4\r", file: entries{"pots": texts("4-pots")}, want: Reply{IDs: []string{"4-pots"}}},
	{name: "nothing by default", q: drips, typed: "\n\n3\n", keys: "\r\r3\r", file: entries{"line": texts("dry")}, want: Reply{IDs: []string{"dry"}}},
	{name: "why", q: drips, typed: "why\n", keys: "w", want: Reply{Word: Why}},
	{name: "why through more", q: drips, typed: "Why\n", keys: "m" + down + "\r", want: Reply{Word: Why}},
	{name: "steps", q: drips, typed: "steps\n", keys: "ms", want: Reply{Word: Steps}},
	{name: "later", q: drips, typed: "later\n", keys: "l", file: entries{"line": texts("later")}, want: Reply{Word: Later}},
	{name: "back", q: drips, typed: "back\n", keys: "b", want: Reply{Word: Back}},
	{name: "change", q: drips, typed: "change\n", keys: "c", want: Reply{Word: Change}},
	{name: "stop", q: drips, typed: "stop\n", keys: "q", file: entries{"line": texts("stop")}, want: Reply{Word: Stop}},
	{name: "note", q: drips, typed: "note hose looks new\n", keys: "t" + "hose looks new\r", want: Reply{Word: Note, Text: "hose looks new"}},
	{name: "note on a line of its own", q: drips, typed: "note\nhose looks new\n", keys: "m" + up + up + up + "\r" + "hose looks new\r", want: Reply{Word: Note, Text: "hose looks new"}},
	{name: "no note after all", q: drips, typed: "note\n\n1\n", keys: "t\r1\r", want: Reply{IDs: []string{"drips"}}},
	{name: "end of input", q: drips, typed: eof, keys: ctrlD, err: ErrEnd},
	{name: "end of input after a bad answer", q: drips, typed: "maybe", keys: "x" + ctrlD, err: ErrEnd},
	{name: "its own question", q: remove, typed: "not sure\nlater\nno\n", keys: "l" + "n\r", file: entries{"delete": texts("no")}, want: Reply{IDs: []string{"no"}}},

	{name: "all wheels", q: corners, typed: "all dry\n", keys: "3\r", file: entries{"corner": texts("dry")}, want: Reply{IDs: []string{"dry", "dry", "dry", "dry"}}},
	{name: "wheel by wheel", q: corners, typed: "drips dry not sure later\n", keys: "d" + "1\r" + "3\r" + "n" + "l",
		file: entries{"corner": {At: entries{"front-left": texts("drips"), "front-right": texts("dry"), "rear-left": texts("unsure"), "rear-right": texts("later")}}},
		want: Reply{IDs: words4}},
	{name: "by commas and numbers", q: corners, typed: "1, Dry and dusty, n, l\n", keys: "d" + "1\r" + "3\r" + "n" + "l", file: entries{"corner": texts(words4...)}, want: Reply{IDs: words4}},
	{name: "back among wheels", q: corners, typed: "1 1 1 1\n", keys: "d" + "1\r" + "3\r" + "b" + "1\r" + "1\r" + "1\r",
		file: entries{"corner": texts("drips")}, want: Reply{IDs: []string{"drips", "drips", "drips", "drips"}}},
	{name: "back to all wheels", q: corners, typed: "all: 2\n", keys: "d" + "b" + "2\r", file: entries{"corner": texts("damp")}, want: Reply{IDs: []string{"damp", "damp", "damp", "damp"}}},
	{name: "all not sure", q: corners, typed: "all not sure\n", keys: "n", file: entries{"corner": texts("unsure")}, want: Reply{Word: Unsure}},
	{name: "stop among wheels", q: corners, typed: "dry dry\nstop\n", keys: "d1\rq", file: entries{"corner": {At: entries{"front-left": texts("drips"), "front-right": texts("stop")}}}, want: Reply{Word: Stop}},

	{name: "several, worst first", q: helps, typed: "pump, 1\n", keys: "2\r1 " + "d", file: entries{"helps": texts("pump", "vacuum")}, want: Reply{IDs: []string{"vacuum", "pump"}}},
	{name: "several, with blanks", q: helps, typed: "1 2 1\n", keys: "1\r2\r2\r2\rd", file: entries{"helps": texts("vacuum", "pump", "vacuum")}, want: Reply{IDs: []string{"vacuum", "pump"}}},
	{name: "several, none ticked is no answer", q: helps, typed: ",\n4\n", keys: "d4\rd", file: entries{"helps": texts("none")}, want: Reply{IDs: []string{"none"}}},
	{name: "several, not sure", q: helps, typed: "not sure\n", keys: "n", file: entries{"helps": texts("unsure")}, want: Reply{Word: Unsure}},
	{name: "several, a word among answers", q: helps, typed: "1 why\nwhy\n", keys: "1\rw", want: Reply{Word: Why}},

	{name: "readings", f: dial, typed: " 0 1.6 -2 \n", keys: " 0 1.6 -2 \r", file: entries{"runout": {At: entries{"front-left": texts("0 1.6 -2")}}}, want: Reply{Text: "0 1.6 -2"}},
	{name: "readings refused", f: dial, typed: "0x\n0\n", keys: "0x\r\x7f\r", want: Reply{Text: "0"}},
	{name: "nothing typed", f: dial, typed: "\n7\n", keys: "\r7\r", want: Reply{Text: "7"}},
	{name: "not sure of readings", f: dial, typed: "Not Sure\n", keys: "Not Sure\r", file: entries{"runout": texts("not sure")}, want: Reply{Word: Unsure}},
	{name: "note at readings", f: dial, typed: "note dial sticks\n", keys: "note dial sticks\r", want: Reply{Word: Note, Text: "dial sticks"}},
	{name: "line ends", f: dial, typed: eof, keys: ctrlD, err: ErrEnd},
}

// put asks what a case asks.
func put(a Asker, q Question, f Field) (Reply, error) {
	if len(q.Choices) > 0 {
		return a.Choose(q)
	}
	return a.Line(f)
}

func TestConformance(t *testing.T) {
	for _, tt := range conformance {
		t.Run(tt.name, func(t *testing.T) {
			var out bytes.Buffer
			scr, err := NewScreen(&out, "never")
			require.NoError(t, err)
			got, err := put(NewPlain(strings.NewReader(tt.typed), scr), tt.q, tt.f)
			assert.ErrorIs(t, err, tt.err, "plain: %s", out.String())
			assert.Equal(t, tt.want, got, "plain: %s", out.String())

			if tt.file == nil {
				return
			}
			script := NewScript(tt.file, false, scr)
			got, err = put(script, tt.q, tt.f)
			assert.NoError(t, err, "script")
			assert.Equal(t, tt.want, got, "script")
			if tt.want.Word != Stop {
				assert.Empty(t, script.Unused())
			}
		})
	}
}
