package ask

import "io"

// A Terminal is what the program was started with.
type Terminal struct {
	In       io.Reader
	Out, Err io.Writer
	Plain    bool   // --plain
	Color    string // --color
	JSON     bool   // --json: standard output is kept for the document
}

// A Session is an open terminal: the asker, and the screen it speaks on.
// Put a [Script] into Asker to answer from a file.
type Session struct {
	Asker  Asker
	Screen *Screen // prompts and talk: standard output on a terminal, else standard error
}

// Open chooses the maker and the stream for prompts and guards the terminal.
func Open(t Terminal) (*Session, error) { return nil, nil }

// OnStop sets what a signal does before the program exits, such as saving the
// record. It runs on a goroutine of its own while the rest still runs.
func (s *Session) OnStop(f func()) {}

// Close puts the terminal back. Defer it: it does so in a panic too.
func (s *Session) Close() {}
