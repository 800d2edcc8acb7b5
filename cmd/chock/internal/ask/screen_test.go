package ask

import (
	"bytes"
	"errors"
	"regexp"
	"strings"
	"testing"

	"github.com/mattn/go-runewidth"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// screen is a Screen of so many columns that writes to the buffer.
func screen(t *testing.T, columns int) (*Screen, *bytes.Buffer) {
	t.Helper()
	t.Setenv("LC_ALL", "C.UTF-8")
	t.Setenv("TERM", "xterm")
	var out bytes.Buffer
	s, err := NewScreen(&out, "never")
	require.NoError(t, err)
	s.size = func() (int, int) { return columns, 24 }
	return s, &out
}

// No line is wider than the screen, and no letter is lost or changes place.
func TestWrapProperty(t *testing.T) {
	s, out := screen(t, 80)
	rapid.Check(t, func(t *rapid.T) {
		columns := rapid.IntRange(2, 120).Draw(t, "columns")
		word := rapid.StringOfN(rapid.RuneFrom([]rune("abcdefghij.,-é漢字️👍🏽\u0301\t\x1b")), 0, 30, -1)
		text := strings.Join(rapid.SliceOfN(word, 0, 12).Draw(t, "words"), " ")
		head := rapid.SampledFrom([]string{"", "  1 ", "a very long head indeed: "}).Draw(t, "head")
		if rapid.Bool().Draw(t, "two lines") {
			text += "\n    " + text
		}
		s.size = func() (int, int) { return columns, 24 }
		out.Reset()
		s.Item(Plain, head, text)
		for line := range strings.Lines(out.String()) {
			line = strings.TrimSuffix(line, "\n")
			if w := runewidth.StringWidth(line); w > columns || w > widest {
				t.Fatalf("%d columns on a screen of %d: %q", w, columns, line)
			}
		}
		squeeze := func(s string) string { return strings.Join(strings.Fields(s), "") }
		if got, want := squeeze(out.String()), squeeze(s.show(head+"\n"+text)); got != want {
			t.Fatalf("wrote %q, want %q", got, want)
		}
	})
}

func TestPrint(t *testing.T) {
	for _, tt := range []struct {
		name    string
		columns int
		head    string
		text    string
		want    string
	}{
		{"a plot keeps its blanks", 40, "", "   45              |  #        1.6", "   45              |  #        1.6\n"},
		{"a long line keeps its indent", 24, "", "  runout 5.2 thou, limit 5 thou", "  runout 5.2 thou, limit\n  5 thou\n"},
		{"paragraphs", 20, "", "one\n\ntwo\r\nthree", "one\n\ntwo\nthree\n"},
		{"beside a head", 24, "  1 ", "With and without the brake", "  1 With and without the\n    brake\n"},
		{"a head too wide", 20, "left front, outer pad: ", "wet", "left front, outer\npad:\n    wet\n"},
		{"a long word", 10, "", "0.941234567890", "0.94123456\n7890\n"},
		{"wide runes", 7, "", "漢字漢字漢字", "漢字漢\n字漢字\n"},
		{"never wider than 78", 200, "", strings.Repeat("word ", 20), strings.Repeat("word ", 14) + "word\nword word word word word\n"},
		{"nothing", 40, "", "", "\n"},
		{"the terminal obeys none of it", 60, "", "a\x1b[2Jb\x07c\x7fd\x9be\u202ef\rg\th", "a^[[2Jb^Gc^?d\ufffde<202e>f^Mg h\n"},
		{"control runes", 60, "", "a\u009bb\u0085c\u2028d\u2066e", "a<9b>b<85>c<2028>d<2066>e\n"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			s, out := screen(t, tt.columns)
			s.Item(Plain, tt.head, tt.text)
			assert.Equal(t, tt.want, out.String())
			assert.NoError(t, s.Err())
		})
	}
}

func TestWidthIsReadAnew(t *testing.T) {
	s, out := screen(t, 80)
	s.Print(Plain, "one two three")
	s.size = func() (int, int) { return 8, 24 }
	s.Print(Plain, "one two three")
	assert.Equal(t, "one two three\none two\nthree\n", out.String())
}

func TestColumnsWithoutATerminal(t *testing.T) {
	for columns, want := range map[string]int{"40": 40, "": 78, "0": 78, "many": 78, "200": 78} {
		t.Setenv("COLUMNS", columns)
		s, err := NewScreen(&bytes.Buffer{}, "")
		require.NoError(t, err)
		assert.Equal(t, want, s.Width(), columns)
	}
}

func TestColour(t *testing.T) {
	codes := regexp.MustCompile(`\x1b\[[0-9;]*m`)
	for _, tt := range []struct {
		colour, name, value string
		want                bool
	}{
		{"always", "NO_COLOR", "", true},
		{"always", "NO_COLOR", "1", true}, // asked for on the command line
		{"always", "TERM", "dumb", true},
		{"never", "NO_COLOR", "", false},
		{"auto", "NO_COLOR", "", false}, // a buffer is no terminal
		{"", "NO_COLOR", "", false},
	} {
		t.Run(tt.colour+tt.name+tt.value, func(t *testing.T) {
			t.Setenv(tt.name, tt.value)
			var out bytes.Buffer
			s, err := NewScreen(&out, tt.colour)
			require.NoError(t, err)
			for _, style := range []Style{Plain, Strong, Dim, Good, Care, Halt} {
				out.Reset()
				s.Print(style, "do not drive\n\nit leaks")
				assert.Equal(t, tt.want && style != Plain, codes.MatchString(out.String()))
				assert.Equal(t, "do not drive\n\nit leaks\n", codes.ReplaceAllString(out.String(), ""), "the words stand without colour")
			}
		})
	}
	_, err := NewScreen(&bytes.Buffer{}, "sometimes")
	assert.EqualError(t, err, `colour "sometimes": want auto, always or never`)
}

func TestASCIIFallback(t *testing.T) {
	for _, tt := range []struct{ all, ctype, lang, term, want string }{
		{"", "", "C", "xterm", `"90 deg" +/-0.1 - cafe ? 3x`},
		{"", "", "", "xterm", `"90 deg" +/-0.1 - cafe ? 3x`},
		{"", "", "C.UTF-8", "xterm", "“90°” ±0.1 – café 漢 3×"},
		{"", "", "de_DE.utf8", "xterm", "“90°” ±0.1 – café 漢 3×"},
		{"", "C.UTF-8", "C", "xterm", "“90°” ±0.1 – café 漢 3×"},
		{"C", "C.UTF-8", "C.UTF-8", "xterm", `"90 deg" +/-0.1 - cafe ? 3x`},
		{"C.UTF-8", "", "", "dumb", `"90 deg" +/-0.1 - cafe ? 3x`},
	} {
		t.Setenv("LC_ALL", tt.all)
		t.Setenv("LC_CTYPE", tt.ctype)
		t.Setenv("LANG", tt.lang)
		t.Setenv("TERM", tt.term)
		var out bytes.Buffer
		s, err := NewScreen(&out, "")
		require.NoError(t, err)
		s.Print(Plain, "“90°” ±0.1 – café 漢 3×")
		assert.Equal(t, tt.want+"\n", out.String(), "%+v", tt)
	}
}

var errFull = errors.New("no space left on device")

// failing takes n writes and fails from then on.
type failing struct {
	n     int
	tries int
	short bool
}

func (f *failing) Write(p []byte) (int, error) {
	f.tries++
	if f.tries > f.n {
		if f.short {
			return len(p) / 2, nil
		}
		return 0, errFull
	}
	return len(p), nil
}

// Whichever write fails, no answer is taken for a question that was not seen,
// the error comes back, and nothing is tried after it.
func TestWriteErrors(t *testing.T) {
	t.Setenv("LC_ALL", "C.UTF-8")
	talk := func(a Asker, s *Screen) error {
		s.Print(Plain, "What do you see?")
		if _, err := a.Choose(drips); err != nil {
			return err
		}
		if _, err := a.Choose(corners); err != nil {
			return err
		}
		_, err := a.Line(dial)
		return err
	}
	const typed = "maybe\n3\nall dry\n\n0\n"
	count := &failing{n: 1000}
	s, err := NewScreen(count, "never")
	require.NoError(t, err)
	require.NoError(t, talk(NewPlain(strings.NewReader(typed), s), s))
	require.Greater(t, count.tries, 10)
	for n := range count.tries {
		for _, short := range []bool{false, true} {
			w := &failing{n: n, short: short}
			s, err := NewScreen(w, "never")
			require.NoError(t, err)
			err = talk(NewPlain(strings.NewReader(typed), s), s)
			require.Error(t, s.Err(), "write %d", n)
			if n < count.tries-2 { // after the last prompt there is nothing left to ask
				require.ErrorIs(t, err, s.Err(), "write %d", n)
			}
			require.Equal(t, n+1, w.tries, "nothing is written after an error")
		}
	}
}
