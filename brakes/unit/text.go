package unit

import (
	"fmt"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// longest is the most text that is looked at for one reading.
const longest = 80

// folded is one reading in plain lower-case ASCII: what phones and keyboards
// put for inches, feet, minus, dots, mu and fractions is spelled out, and runs
// of space are one space. It lives on the stack.
type folded struct {
	b [4 * longest]byte
	n int
}

func (f *folded) bytes() []byte { return f.b[:f.n] }

func (f *folded) add(s string) { f.n += copy(f.b[f.n:], s) }

// fold returns what is wrong with the text, or "".
func (f *folded) fold(text string) (fault string) {
	f.n = 0
	text = strings.TrimSpace(text)
	if len(text) > longest {
		return "too long: type one number and its unit"
	}
	for i := 0; i < len(text); {
		c := text[i]
		if c < utf8.RuneSelf {
			i++
			switch {
			case c == ' ' || c == '\t':
				f.space()
			case c < ' ' || c == 0x7f:
				return "has a control character: type it again"
			case c == '\'' && f.n > 0 && f.b[f.n-1] == '\'':
				f.b[f.n-1] = '"' // two feet marks are an inch mark
			default:
				f.b[f.n] = lowerByte(c)
				f.n++
			}
			continue
		}
		r, size := utf8.DecodeRuneInString(text[i:])
		i += size
		switch r {
		case '″', '”', '“', '„', '‟', '＂', '〃', 'ʺ':
			f.add(`"`)
		case '′', '’', '‘', '‛', '´', 'ʹ':
			if f.n > 0 && f.b[f.n-1] == '\'' {
				f.b[f.n-1] = '"'
			} else {
				f.add("'")
			}
		case '−', '–', '—', '‐', '‑', '‒', '﹣', '－', '⋅', '·', '∙', '•', '×':
			f.add("-")
		case 'µ', 'μ':
			f.add("u")
		case '°', 'º', '˚':
			f.add("deg")
		case '²':
			f.add("2")
		case '³':
			f.add("3")
		case '⁄', '∕':
			f.add("/")
		case '％':
			f.add("%")
		case '½', '¼', '¾', '⅛', '⅜', '⅝', '⅞':
			if f.n > 0 && isDigit(f.b[f.n-1]) {
				f.space()
			}
			f.add(vulgar(r))
		case utf8.RuneError:
			return "has an unreadable character: type it again"
		default:
			switch {
			case unicode.IsSpace(r):
				f.space()
			case !unicode.IsPrint(r):
				return "has a hidden character: type it again"
			default:
				f.add(text[i-size : i])
			}
		}
	}
	if f.n > 0 && f.b[f.n-1] == ' ' {
		f.n--
	}
	return ""
}

func (f *folded) space() {
	if f.n > 0 && f.b[f.n-1] != ' ' {
		f.add(" ")
	}
}

func vulgar(r rune) string {
	switch r {
	case '½':
		return "1/2"
	case '¼':
		return "1/4"
	case '¾':
		return "3/4"
	case '⅛':
		return "1/8"
	case '⅜':
		return "3/8"
	case '⅝':
		return "5/8"
	}
	return "7/8"
}

func isDigit(c byte) bool { return '0' <= c && c <= '9' }

// unitName is the unit typed after a number, in the spelling of the tables.
type unitName struct {
	b [40]byte
	n int
}

func (u *unitName) bytes() []byte { return u.b[:u.n] }

// tidy turns dots and spaces into hyphens, so that "ft. lb", "N.m" and "in Hg"
// have one spelling each. It reports whether the name fits.
func (u *unitName) tidy(s []byte) bool {
	u.n = 0
	gap := false
	for _, c := range s {
		switch c {
		case ' ', '.', '-', '*':
			gap = u.n > 0
			continue
		case '^':
			continue
		}
		if gap && c != '/' && u.b[u.n-1] != '/' {
			if u.n == len(u.b) {
				return false
			}
			u.b[u.n] = '-'
			u.n++
		}
		gap = false
		if u.n == len(u.b) {
			return false
		}
		u.b[u.n] = c
		u.n++
	}
	return true
}

// quote shows typed text in a message: short, and with anything that a
// terminal would obey spelled out.
func quote(text string) string {
	const most = 40
	if len(text) > most {
		cut := most
		for cut > 0 && !utf8.RuneStart(text[cut]) {
			cut--
		}
		return strconv.Quote(text[:cut]) + "..."
	}
	return strconv.Quote(text)
}

func fault(text, format string, args ...any) error {
	return fmt.Errorf("%s: %s", quote(text), fmt.Sprintf(format, args...))
}

// fifteen rounds to fifteen significant digits, as many as every float64 keeps.
func fifteen(v float64) float64 {
	var b [32]byte
	r, err := strconv.ParseFloat(string(strconv.AppendFloat(b[:0], v, 'g', 15, 64)), 64)
	if err != nil {
		return v
	}
	return r
}
