package ask

import (
	"errors"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestScriptErrors(t *testing.T) {
	for _, tt := range []struct {
		name string
		q    Question
		f    Field
		file entries
		want string
	}{
		{name: "nothing there", q: drips, want: "the answers file has no answer for line"},
		{name: "one wheel missing", q: corners, file: entries{"corner": {At: entries{"front-left": texts("dry")}}},
			want: "the answers file has no answer for corner at front-right"},
		{name: "an input missing", f: dial, file: entries{"runout": {At: entries{"closing": texts("0")}}},
			want: "the answers file has no answer for runout, dial at front-left"},
		{name: "unknown answer", q: drips, file: entries{"line": texts("wet")},
			want: `answers file, line: "wet" is none of drips, damp, dry, unsure, later`},
		{name: "unknown answer at a wheel", q: corners, file: entries{"corner": {At: entries{"front-left": texts("dry"), "front-right": texts("wet")}}},
			want: `answers file, corner at front-right: "wet" is none of drips, damp, dry, unsure, later`},
		{name: "no number", q: drips, file: entries{"line": texts("1")}, want: `answers file, line: "1" is none of drips, damp, dry, unsure, later`},
		{name: "no beginning", q: drips, file: entries{"line": texts("dr")}, want: `answers file, line: "dr" is none of drips, damp, dry, unsure, later`},
		{name: "no unsure", q: remove, file: entries{"delete": texts("unsure")}, want: `answers file, delete: "unsure" is none of yes, no`},
		{name: "too many", q: drips, file: entries{"line": texts("dry", "damp")}, want: `answers file, line: "dry, damp": is 2 answers where one is asked for`},
		{name: "a word among answers", q: helps, file: entries{"helps": texts("pump", "unsure")}, want: `answers file, helps: "pump, unsure": "unsure" cannot stand among other answers`},
		{name: "a word that leads nowhere", q: drips, file: entries{"line": texts("back")}, want: `answers file, line: "back" is none of drips, damp, dry, unsure, later`},
		{name: "the same on a line", f: dial, file: entries{"runout": texts("why")}, want: `answers file, runout, dial at front-left: "why": a file can say unsure, later or stop, but not why`},
		{name: "refused readings", f: dial, file: entries{"runout": texts("0", "x")}, want: `answers file, runout, dial at front-left: "0; x": x is no reading`},
	} {
		t.Run(tt.name, func(t *testing.T) {
			s := NewScript(tt.file, false, nil)
			_, err := put(s, tt.q, tt.f)
			assert.EqualError(t, err, tt.want)
			var missing *Missing
			var unknown *Unknown
			assert.True(t, errors.As(err, &missing) || errors.As(err, &unknown))
		})
	}
}

func TestRestUnsure(t *testing.T) {
	s := NewScript(entries{"corner": {At: entries{"front-left": texts("dry")}}}, true, nil)
	for _, tt := range []struct {
		q    Question
		f    Field
		want Reply
	}{
		{q: drips, want: Reply{Word: Unsure}},
		{q: helps, want: Reply{Word: Unsure}},
		{f: dial, want: Reply{Word: Unsure}},
		{q: corners, want: Reply{IDs: []string{"dry", "unsure", "unsure", "unsure"}}},
	} {
		got, err := put(s, tt.q, tt.f)
		require.NoError(t, err)
		assert.Equal(t, tt.want, got)
	}
	_, err := s.Choose(remove)
	assert.EqualError(t, err, "the answers file has no answer for delete", "not sure is no answer to the tool's own question")
}

// A list without a name belongs to the input asked for first.
func TestUnnamedInput(t *testing.T) {
	s := NewScript(entries{"runout": texts("0", "1.6", "2 thou")}, false, nil)
	for range 2 { // asked again after a correction
		r, err := s.Line(dial)
		require.NoError(t, err)
		assert.Equal(t, "0; 1.6; 2 thou", r.Text)
	}
	_, err := s.Line(Field{ID: "runout", Wheel: "front-left", Input: "closing"})
	var missing *Missing
	require.ErrorAs(t, err, &missing)
	assert.Equal(t, Missing{"runout", "front-left", "closing"}, *missing)
}

func TestUnused(t *testing.T) {
	s := NewScript(entries{
		"line": texts("dry"), "lnie": texts("dry"), "corner": {At: entries{"front-left": texts("dry"), "front-rihgt": texts("dry")}},
		"runout":    {At: entries{"front-left": {At: entries{"dial": texts("0"), "closing": texts("0")}}}},
		"thickness": {At: entries{"dial": {At: entries{"front-left": texts("0")}}}},
	}, true, nil)
	for _, q := range []Question{drips, corners} {
		_, err := s.Choose(q)
		require.NoError(t, err)
	}
	r, err := s.Line(dial)
	require.NoError(t, err)
	assert.Equal(t, "0", r.Text)
	r, err = s.Line(Field{ID: "thickness", Wheel: "front-left", Input: "dial"})
	require.NoError(t, err)
	assert.Equal(t, "0", r.Text)
	assert.Equal(t, []string{"corner, front-rihgt", "lnie", "runout, front-left, closing"}, s.Unused())
}
