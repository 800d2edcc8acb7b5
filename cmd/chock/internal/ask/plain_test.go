package ask

import (
	"bytes"
	"errors"
	"io"
	"strings"
	"testing"
	"testing/iotest"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// lines asks one question after another of one input and gives the transcript.
func lines(t *testing.T, in io.Reader, columns int, ask func(a Asker)) string {
	s, out := screen(t, columns)
	ask(NewPlain(in, s))
	require.NoError(t, s.Err())
	return out.String()
}

func TestPlainTranscript(t *testing.T) {
	q := drips
	q.Current = []string{"damp"}
	got := lines(t, strings.NewReader("maybe\nd\n3\nwet wet\nall dry\n\n0x\n0 1.6\n"), 60, func(a Asker) {
		r, err := a.Choose(q)
		require.NoError(t, err)
		assert.Equal(t, []string{"dry"}, r.IDs)
		_, err = a.Choose(corners)
		require.NoError(t, err)
		r, err = a.Line(dial)
		require.NoError(t, err)
		assert.Equal(t, "0 1.6", r.Text)
	})
	assert.Equal(t, `  1 drips  It drips or has left a puddle
  2 damp   Damp, but nothing falls
  3 dry    Dry and dusty
was: Damp, but nothing falls
A number or a word.
Or a word: why, steps, not sure, later, back, change, note,
stop.
> maybe
"maybe" is none of these answers.
A number or a word.
Or a word: why, steps, not sure, later, back, change, note,
stop.
> d
"d" could be "It drips or has left a puddle" or "Damp, but
nothing falls" or "Dry and dusty"; type a little more.
A number or a word.
Or a word: why, steps, not sure, later, back, change, note,
stop.
> 3
= Dry and dusty
  1 drips  It drips or has left a puddle
  2 damp   Damp, but nothing falls
  3 dry    Dry and dusty
All the same: "all dry". Else 4 answers in this order: left
front, right front, left rear, right rear.
> wet wet
"wet" is none of these answers.
All the same: "all dry". Else 4 answers in this order: left
front, right front, left rear, right rear.
Or a word: why, steps, not sure, later, back, change, note,
stop.
> all dry
= all: Dry and dusty
thou> 
Nothing was typed.
Or a word: why, steps, not sure, later, back, change, note,
stop.
thou> 0x
X is no reading.
thou> 0 1.6
`, got)
	assert.NotContains(t, got, "\x1b")
	assert.NotContains(t, got, "!")
}

func TestLinesOfEveryKind(t *testing.T) {
	big := strings.Repeat("7 ", 1<<19) // 1 MB
	for _, tt := range []struct {
		name, typed, want string
		says              string
		err               error
	}{
		{name: "CRLF", typed: "1 2\r\n", want: "1 2"},
		{name: "no line end", typed: "1 2", want: "1 2"},
		{name: "a lone CR at the end", typed: "1 2\r", want: "1 2"},
		{name: "1 MB", typed: big + "\n8\n", want: "8", says: "That line is longer than 4096 bytes; please give a shorter one."},
		{name: "1 MB and nothing more", typed: big, says: "longer than 4096", err: ErrEnd},
		{name: "4096 bytes", typed: strings.Repeat("7", 4096) + "\n", want: strings.Repeat("7", 4096)},
		{name: "4096 bytes and CRLF", typed: strings.Repeat("7", 4096) + "\r\n", want: strings.Repeat("7", 4096)},
		{name: "4097 bytes", typed: strings.Repeat("7", 4097) + "\n8", want: "8", says: "longer than 4096"},
		{name: "control characters", typed: "1\x1b[2J\x00 2\n", want: "1\x1b[2J\x00 2", says: "thou> 1^[[2J^@ 2"},
		{name: "bad UTF-8", typed: "1\xff2\n", want: "1\ufffd2"},
		{name: "only blanks", typed: " \t \n8\n", want: "8", says: "Nothing was typed."},
		{name: "empty", typed: "", err: ErrEnd},
		{name: "only line ends", typed: "\n\n\n", err: ErrEnd},
	} {
		for kind, in := range map[string]io.Reader{"whole": strings.NewReader(tt.typed), "halves": iotest.HalfReader(strings.NewReader(tt.typed)),
			"with its end": iotest.DataErrReader(strings.NewReader(tt.typed))} {
			t.Run(tt.name+", "+kind, func(t *testing.T) {
				got := lines(t, in, 80, func(a Asker) {
					r, err := a.Line(Field{ID: "free", Hint: "thou"})
					require.ErrorIs(t, err, tt.err)
					assert.Equal(t, tt.want, r.Text)
				})
				assert.Contains(t, got, tt.says)
				assert.Less(t, len(got), 20000)
				assert.NotContains(t, got, "\x1b")
			})
		}
	}
}

func TestReadFails(t *testing.T) {
	broken := errors.New("the disk is on fire")
	lines(t, iotest.ErrReader(broken), 80, func(a Asker) {
		_, err := a.Line(dial)
		assert.ErrorIs(t, err, broken)
		_, err = a.Choose(drips)
		assert.ErrorIs(t, err, broken)
	})
}

func TestInterruptedPlain(t *testing.T) {
	s, _ := screen(t, 80)
	in, typing := io.Pipe()
	p := NewPlain(in, s).(*plain)
	interrupt := make(chan struct{})
	p.interrupt = interrupt
	go func() { interrupt <- struct{}{} }()
	_, err := p.Choose(drips)
	assert.ErrorIs(t, err, ErrInterrupt)
	go io.WriteString(typing, "2\n") // what is typed then answers the next question
	r, err := p.Choose(drips)
	require.NoError(t, err)
	assert.Equal(t, []string{"damp"}, r.IDs)
}

func TestRefusals(t *testing.T) {
	for _, tt := range []struct {
		q           Question
		typed, want string
	}{
		{drips, "4", `"4" is none of these answers`},
		{drips, "0", `"0" is none of these answers`},
		{drips, "1 2", `"1 2" is none of these answers`},
		{circuits, "3", `"3" is none of these answers`},
		{circuits, "with", `"with" is none of these answers`},
		{corners, "dry", "that is 1 answer for 4 wheels"},
		{corners, "1 1 1 1 1", "that is 5 answers for 4 wheels"},
		{corners, "all", `"all" is none of these answers`},
		{corners, "all wet", `"wet" is none of these answers`},
		{corners, "dry dry dry why", `"why" cannot stand among answers; say it alone`},
		{corners, "all why", `"why" cannot stand among answers; say it alone`},
		{helps, "1, wind", `"wind" is none of these answers`},
		{helps, "1 later", `"later" cannot stand among answers; say it alone`},
		{remove, "later", `this one needs an answer; "later" is none here`},
	} {
		_, err := tt.q.read(tt.typed)
		assert.EqualError(t, err, tt.want, tt.typed)
		assert.False(t, fatal(err))
	}
}

func TestBadQuestions(t *testing.T) {
	s, _ := screen(t, 80)
	for want, q := range map[string]Question{
		"ask: question empty has no choices":                                {ID: "empty"},
		"ask: question both ticks several; it is asked one wheel at a time": {ID: "both", Several: true, Choices: drips.Choices, Wheels: []string{"a", "b"}},
	} {
		for _, a := range []Asker{NewPlain(strings.NewReader("1\n"), s), NewScript(nil, true, s), NewPrompt(strings.NewReader("1\r"), io.Discard, s)} {
			_, err := a.Choose(q)
			assert.EqualError(t, err, want)
		}
	}
}

// Letters that stand for words in a list do so on a line too, unless a choice
// claims the letter; what names a choice in full comes before a beginning.
func TestPick(t *testing.T) {
	soft := Question{Choices: []Choice{{ID: "sinks", Key: 's'}, {ID: "stays"}, {ID: "sinks-late"}, {ID: "all-other"}}}
	for typed, want := range map[string]any{
		"s": 0, "S": 0, "sinks": 0, "sinks-": 2, "st": 1, "w": Why, "l": Later, "n": Unsure, "b": Back, "a": 3, "4": 3,
	} {
		i, w, err := soft.pick(typed, true)
		require.NoError(t, err, typed)
		if w != "" {
			assert.Equal(t, want, w, typed)
		} else {
			assert.Equal(t, want, i, typed)
		}
	}
	i, w, err := drips.pick("w", false) // no word but these two can stand among answers
	assert.Error(t, err)
	assert.Zero(t, i)
	assert.Zero(t, w)
}

// Whatever is typed, nothing panics, and an answer is only what fits one
// choice alone.
func FuzzRead(f *testing.F) {
	for _, s := range []string{"1", "dry", "all dry", "dry dry damp 1", "1, 2", "not sure", "note x", "d", "\x00", "ſ", "İ", "9999999999999999999999", "all", ",,,"} {
		f.Add(s, "drips\ndamp\ndry")
	}
	f.Add("n", "no\nyes")
	f.Add("2", "1 pot\n2 pots")
	f.Fuzz(func(t *testing.T, typed, choices string) {
		if len(typed) > longest || strings.Count(choices, "\n") > 20 || len(choices) > 400 {
			t.Skip("longer than any line or list")
		}
		var q Question
		for _, id := range strings.Split(choices, "\n") {
			q.Choices = append(q.Choices, Choice{ID: id})
		}
		if i, w, err := q.pick(typed, true); err == nil && w == "" {
			full := func(i int) bool {
				id := fold(q.Choices[i].ID)
				return id == fold(typed) || id == "yes" && fold(typed) == "y" || id == "no" && fold(typed) == "n"
			}
			for j, c := range q.Choices {
				if j == i {
					continue
				}
				if full(j) {
					t.Fatalf("%q took %q though it names %q", typed, q.Choices[i].ID, c.ID)
				}
				byNumber := q.numbered() && strings.Trim(fold(typed), "0123456789") == ""
				if !full(i) && !byNumber && strings.HasPrefix(fold(c.ID), fold(typed)) {
					t.Fatalf("%q took %q though %q begins with it too", typed, q.Choices[i].ID, c.ID)
				}
			}
		}
		wheels, several := q, q
		wheels.Wheels = []string{"a", "b"}
		several.Several = true
		for _, q := range []Question{q, wheels, several} {
			r, err := q.read(typed)
			if err != nil {
				if fatal(err) || len(r.IDs) > 0 || r.Word != "" {
					t.Fatalf("%q: %v with %+v", typed, err, r)
				}
				continue
			}
			if (len(r.IDs) == 0) == (r.Word == "") {
				t.Fatalf("%q: %+v is neither answer nor word", typed, r)
			}
			if len(q.Wheels) > 0 && r.Word == "" && len(r.IDs) != 2 {
				t.Fatalf("%q: %q for two wheels", typed, r.IDs)
			}
		}
	})
}

func TestNarrowList(t *testing.T) {
	got := lines(t, strings.NewReader("1\n"), 40, func(a Asker) {
		_, err := a.Choose(Question{ID: "shake", Choices: []Choice{
			{ID: "worse-braking", Say: "With and without the brake and worse when braking"}, {ID: "same", Say: "The same"}}})
		require.NoError(t, err)
	})
	assert.True(t, strings.HasPrefix(got, `  1 With and without the brake and worse
    when braking
  2 The same
`), got)
	var widestLine int
	for _, line := range strings.Split(got, "\n") {
		widestLine = max(widestLine, len(line))
	}
	assert.LessOrEqual(t, widestLine, 40)
}

func TestOpenOnPipes(t *testing.T) {
	var out, errOut bytes.Buffer
	s, err := Open(Terminal{In: strings.NewReader("3\n"), Out: &out, Err: &errOut})
	require.NoError(t, err)
	defer s.Close()
	r, err := s.Asker.Choose(drips)
	require.NoError(t, err)
	assert.Equal(t, []string{"dry"}, r.IDs)
	assert.Empty(t, out.String(), "standard output is kept for data")
	assert.Contains(t, errOut.String(), "= Dry and dusty")
	_, err = Open(Terminal{In: strings.NewReader(""), Out: &out, Err: &errOut, Color: "red"})
	assert.Error(t, err)
	s.Close()
}
