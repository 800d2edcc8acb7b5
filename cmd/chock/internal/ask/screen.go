package ask

import (
	"fmt"
	"io"
	"os"
	"runtime"
	"strconv"
	"strings"
	"sync"
	"unicode"

	"github.com/fatih/color"
	"github.com/mattn/go-colorable"
	"github.com/mattn/go-runewidth"
	"golang.org/x/term"
)

// A Style says what a piece of text is. Good, Care and Halt colour text that
// already says the same in words.
type Style int

// The styles.
const (
	Plain  Style = iota
	Strong       // a heading
	Dim          // a hint
	Good         // within a limit
	Care         // too close to call, or drive with care
	Halt         // do not drive
)

var attributes = map[Style][]color.Attribute{
	Strong: {color.Bold},
	Dim:    {color.Faint},
	Good:   {color.FgGreen},
	Care:   {color.FgYellow},
	Halt:   {color.FgRed, color.Bold},
}

// widest is how wide text gets on a wide terminal; longer lines are hard to read.
const widest = 78

// A Screen writes text to one stream, wrapped to its width. Everything goes
// through it, so that what a person typed cannot steer the terminal and a
// failed write is noticed. It may be used from several goroutines.
type Screen struct {
	mu     sync.Mutex
	w      io.Writer
	size   func() (columns, rows int)
	most   int // columns that text may take, however wide the terminal
	ascii  bool
	styles map[Style]*color.Color // nil: no colour
	err    error

	pace func(text string) error // after each piece, or nil

	since []piece // printed since the last answer, to draw it again after a resize
}

// A piece is one call of Print or Item.
type piece struct {
	style      Style
	head, text string
}

// NewScreen writes to w. colour is "auto" (also ""), "always" or "never"; auto
// means on a terminal, unless NO_COLOR or TERM=dumb says otherwise.
//
// Where w is no terminal, the environment's COLUMNS gives the width, else 80.
func NewScreen(w io.Writer, colour string) (*Screen, error) {
	s := &Screen{w: w, most: widest, ascii: !utf8Locale()}
	on := false
	switch colour {
	case "always":
		on = true
	case "auto", "":
		on = IsTerminal(w) && os.Getenv("NO_COLOR") == "" && os.Getenv("TERM") != "dumb"
	case "never":
	default:
		return nil, fmt.Errorf("colour %q: want auto, always or never", colour)
	}
	if on {
		s.styles = map[Style]*color.Color{}
		for style, a := range attributes {
			s.styles[style] = color.New(a...)
			s.styles[style].EnableColor() // whatever the library found for standard output
		}
	}
	f, isFile := w.(*os.File)
	s.size = func() (int, int) {
		if isFile {
			if columns, rows, err := term.GetSize(int(f.Fd())); err == nil && columns > 0 {
				return columns, max(rows, 1)
			}
		}
		if columns, err := strconv.Atoi(os.Getenv("COLUMNS")); err == nil && columns > 0 {
			return columns, 24
		}
		return 80, 24
	}
	if isFile && on {
		s.w = colorable.NewColorable(f) // an older Windows console needs its colours translated
	}
	return s, nil
}

// Paper is a Screen that writes plain lines of up to so many columns, whatever
// the terminal is like: what it writes is printed.
func Paper(w io.Writer, columns int) *Screen {
	return &Screen{w: w, most: columns, ascii: !utf8Locale(), size: func() (int, int) { return columns, 24 }}
}

// Width is how many columns text may take: the terminal's, 78 at most. It is
// read anew each time, since people resize.
func (s *Screen) Width() int {
	columns, _ := s.size()
	return max(min(columns, s.most), 2) // 2: one wide rune
}

// Print writes text and ends the line. A line that fits is kept as it is, so
// tables and plots keep their blanks; a longer one is wrapped by words under
// its own indent.
func (s *Screen) Print(style Style, text string) { s.print(piece{style: style, text: text}, true) }

// Item writes head and, beside it, text wrapped in a column of its own.
func (s *Screen) Item(style Style, head, text string) {
	s.print(piece{style: style, head: head, text: text}, true)
}

// Err is the first write error. Nothing is written after it.
func (s *Screen) Err() error {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.err
}

func (s *Screen) print(p piece, remember bool) {
	if remember {
		s.mu.Lock()
		s.since = append(s.since, p)
		s.mu.Unlock()
	}
	var b strings.Builder
	for _, line := range s.lines(p, s.Width()) {
		b.WriteString(s.paint(p.style, line))
		b.WriteByte('\n')
	}
	s.raw(b.String())
	if s.pace != nil && s.Err() == nil {
		if err := s.pace(b.String()); err != nil {
			s.fail(err)
		}
	}
}

// Pace has f called after each piece that is printed, with what now stands
// there: it can wait until that is read. An error of it ends the writing, as
// a failed write does.
func (s *Screen) Pace(f func(text string) error) { s.pace = f }

// lines lays p out without colour.
func (s *Screen) lines(p piece, width int) []string {
	var out []string
	if p.head == "" {
		for line := range strings.SplitSeq(s.show(p.text), "\n") {
			out = append(out, wrap(line, width)...)
		}
		return out
	}
	head := strings.ReplaceAll(s.show(p.head), "\n", " ")
	text := strings.Join(strings.Fields(s.show(p.text)), " ")
	indent := runewidth.StringWidth(head)
	if indent > min(width/2, width-2) { // no room beside it
		out = wrap(head, width)
		head, indent = "    ", min(4, width/2, width-2)
		head = head[:indent]
	}
	for _, line := range wrap(text, width-indent) {
		out = append(out, strings.TrimRight(head+line, " "))
		head = strings.Repeat(" ", indent)
	}
	return out
}

func (s *Screen) paint(style Style, line string) string {
	if c := s.styles[style]; c != nil && line != "" {
		return c.Sprint(line)
	}
	return line
}

// raw writes text as it is.
func (s *Screen) raw(text string) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.err != nil {
		return
	}
	n, err := io.WriteString(s.w, text)
	if err == nil && n < len(text) {
		err = io.ErrShortWrite
	}
	s.err = err
}

// fail keeps a write error that happened elsewhere on the same stream.
func (s *Screen) fail(err error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.err == nil {
		s.err = err
	}
}

// answered forgets what was printed before the answer.
func (s *Screen) answered() {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.since = nil
}

// redraw clears the terminal and writes again what belongs to the open
// question, at the width of now.
func (s *Screen) redraw() {
	s.mu.Lock()
	since := s.since
	s.mu.Unlock()
	s.raw("\x1b[H\x1b[2J")
	for _, p := range since {
		s.print(p, false)
	}
}

// show makes text harmless and, where need be, ASCII. Only line breaks are
// left of the control characters; the others are shown as ^C or <9b>, and so are
// the marks that would make text read in another order than it is stored.
func (s *Screen) show(text string) string { return shown(text, s.ascii) }

// Shown makes text harmless as a Screen does, for what is no terminal: a page
// or a file. It keeps what is more than ASCII.
func Shown(text string) string { return shown(text, false) }

func shown(text string, ascii bool) string {
	text = strings.ReplaceAll(strings.ToValidUTF8(text, "\ufffd"), "\r\n", "\n")
	var b strings.Builder
	for _, r := range text {
		switch {
		case r == '\n':
			b.WriteByte('\n')
		case r == '\t':
			b.WriteByte(' ')
		case r < ' ':
			b.WriteByte('^')
			b.WriteRune(r + '@')
		case r == 0x7f:
			b.WriteString("^?")
		case unicode.IsControl(r), unicode.Is(unicode.Bidi_Control, r), r == '\u2028', r == '\u2029', r == '\ufeff', r == '\ufffe', r == '\uffff':
			fmt.Fprintf(&b, "<%x>", r)
		case r >= 0x80 && ascii:
			b.WriteString(toASCII(r))
		default:
			b.WriteRune(r)
		}
	}
	return b.String()
}

// wrap breaks a line to width by words. The indent of a line that is too long
// is kept for all its parts; a word that is too long by itself is broken.
func wrap(line string, width int) []string {
	line = strings.TrimRight(line, " ")
	if runewidth.StringWidth(line) <= width {
		return []string{line}
	}
	indent := line[:len(line)-len(strings.TrimLeft(line, " "))]
	indent = indent[:min(len(indent), width/2, width-2)] // 2: room for a wide rune
	var out []string
	row := ""
	flush := func() {
		out = append(out, indent+row)
		row = ""
	}
	for _, word := range strings.Fields(line) {
		if row != "" {
			if runewidth.StringWidth(indent+row+" "+word) <= width {
				row += " " + word
				continue
			}
			flush()
		}
		for runewidth.StringWidth(indent+word) > width {
			part := runewidth.Truncate(word, width-len(indent), "")
			if part == "" { // one wide rune in one column
				part = string([]rune(word)[:1])
			}
			row = part
			flush()
			word = word[len(part):]
		}
		row = word
	}
	if row != "" {
		flush()
	}
	return out
}

// cut shortens a line to width.
func (s *Screen) cut(line string, width int) string {
	dots := "…"
	if s.ascii {
		dots = "..."
	}
	return runewidth.Truncate(line, max(width, 1), dots)
}

// IsTerminal reports whether a stream is one that a person sits at.
func IsTerminal(w any) bool {
	f, ok := w.(*os.File)
	return ok && term.IsTerminal(int(f.Fd()))
}

// utf8Locale tells whether the person's locale shows more than ASCII.
func utf8Locale() bool {
	if os.Getenv("TERM") == "dumb" {
		return false
	}
	for _, name := range []string{"LC_ALL", "LC_CTYPE", "LANG"} {
		if v := strings.ToLower(os.Getenv(name)); v != "" {
			return strings.Contains(v, "utf-8") || strings.Contains(v, "utf8")
		}
	}
	return runtime.GOOS == "windows" // it has no such variables, and its console is UTF-16
}

// toASCII spells a rune in ASCII, well enough to be read.
func toASCII(r rune) string {
	if s, ok := spelt[r]; ok {
		return s
	}
	const from = "ÀÁÂÃÄÅÇÈÉÊËÌÍÎÏÑÒÓÔÕÖØÙÚÛÜÝàáâãäåçèéêëìíîïñòóôõöøùúûüýÿ"
	const to = "AAAAAACEEEEIIIINOOOOOOUUUUYaaaaaaceeeeiiiinoooooouuuuyy"
	at := 0
	for _, f := range from {
		if f == r {
			return to[at : at+1]
		}
		at++
	}
	return "?"
}

var spelt = map[rune]string{
	'…': "...", '“': `"`, '”': `"`, '‘': "'", '’': "'", '–': "-", '—': "-", '−': "-", '×': "x", '·': ".", '•': "*",
	'°': " deg", 'µ': "u", 'μ': "u", '²': "^2", '³': "^3", '±': "+/-", '½': "1/2", '¼': "1/4", '¾': "3/4",
	'→': "->", '←': "<-", '↑': "^", '↓': "v", '▸': ">", '≤': "<=", '≥': ">=", '≈': "~", 'ß': "ss", 'æ': "ae", 'Æ': "AE",
	'\u00a0': " ", '\u2009': " ", '\u202f': " ",
}
