package ask

import (
	"io"
	"os"
	"os/signal"
	"sync"
	"syscall"

	"github.com/chzyer/readline"
	"golang.org/x/term"
)

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

	in        io.Reader
	before    *term.State // of standard input; nil where that is no terminal
	lists     bool        // lists are drawn, with the cursor hidden
	interrupt chan struct{}
	signals   chan os.Signal
	closing   sync.Once

	mu       sync.Mutex
	onStop   func()
	stopping bool // a signal came; the program is about to exit
}

// narrowest is the width below which a list cannot be drawn.
const narrowest = 20

// Open chooses the maker and the stream for prompts, and guards the terminal:
// until Close, a signal that ends the program puts the terminal back first.
func Open(t Terminal) (*Session, error) {
	out := t.Out
	if t.JSON || !IsTerminal(t.Out) {
		out = t.Err
	}
	scr, err := NewScreen(out, t.Color)
	if err != nil {
		return nil, err
	}
	s := &Session{Screen: scr, in: t.In, interrupt: make(chan struct{}), signals: make(chan os.Signal, 2)}
	if isStandard(t.In) && IsTerminal(t.In) {
		s.before, _ = term.GetState(int(os.Stdin.Fd()))
	}
	columns, _ := scr.size()
	s.lists = s.before != nil && IsTerminal(t.Out) && IsTerminal(out) &&
		os.Getenv("TERM") != "dumb" && !t.Plain && columns >= narrowest
	if s.lists {
		s.Asker = NewPrompt(console(t.In), canvas(out), scr)
	} else {
		p := NewPlain(t.In, scr).(*plain)
		p.interrupt = s.interrupt
		s.Asker = p
	}
	s.guard()
	return s, nil
}

// Lists tells whether choices are drawn as lists to move in.
func (s *Session) Lists() bool { return s.lists }

// AnyKey gives the first key that is pressed while nothing is asked, Ctrl-C
// among them; where nobody sits at a keyboard it gives none. No asker reads
// beside it, and Close puts the terminal back.
func (s *Session) AnyKey() (<-chan byte, error) {
	key := make(chan byte, 1)
	if s.before == nil {
		return key, nil
	}
	if _, err := readline.MakeRaw(int(os.Stdin.Fd())); err != nil { // it leaves the lines of the output as they are
		return nil, err
	}
	go func() {
		b := make([]byte, 64) // an arrow is several bytes, and none is left for the shell
		if n, _ := console(s.in).Read(b); n > 0 {
			key <- b[0]
		}
	}()
	return key, nil
}

// CtrlC is the byte of that key.
const CtrlC = readline.CharInterrupt

// isStandard tells whether in is the one input that readline can switch.
func isStandard(in io.Reader) bool {
	f, ok := in.(*os.File)
	return ok && f.Fd() == os.Stdin.Fd()
}

// console is what to read keys from: on Windows readline's translator stands
// before the console.
func console(in io.Reader) io.Reader {
	if in == os.Stdin {
		return readline.Stdin
	}
	return in
}

// canvas is the same for what is drawn.
func canvas(out io.Writer) io.Writer {
	switch out {
	case os.Stdout:
		return readline.Stdout
	case os.Stderr:
		return readline.Stderr
	}
	return out
}

// OnStop sets what a signal does before the program exits, such as saving the
// record. It runs on a goroutine of its own while the others still run, and
// must not call Close.
func (s *Session) OnStop(f func()) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.onStop = f
}

// Close puts the terminal back. Defer it: it does so in a panic too. After a
// signal it does not return, so that what OnStop does is not cut short.
func (s *Session) Close() {
	s.mu.Lock()
	stopping := s.stopping
	s.mu.Unlock()
	if stopping {
		select {}
	}
	s.closing.Do(func() {
		signal.Stop(s.signals)
		close(s.signals)
		s.restore()
	})
}

func (s *Session) restore() {
	if s.before != nil {
		term.Restore(int(os.Stdin.Fd()), s.before)
	}
	if s.lists {
		s.Screen.raw("\x1b[?25h") // the cursor, which a list hides
	}
}

// guard ends the program on a signal, orderly: terminal, OnStop, 128 + the
// number of the signal. A second signal does not wait for OnStop. Ctrl-C at a
// plain prompt comes back from it as ErrInterrupt instead; a list or a typed line
// sees it as a key.
//
// A pipe closed by its reader is no signal here but a write error, which
// [Screen.Err] keeps, so that the talk can save what it has.
func (s *Session) guard() {
	for _, sig := range []os.Signal{os.Interrupt, syscall.SIGTERM, syscall.SIGHUP} {
		if !signal.Ignored(sig) { // nohup stays nohup
			signal.Notify(s.signals, sig)
		}
	}
	signal.Ignore(syscall.SIGPIPE)
	go func() {
		for sig := range s.signals {
			s.mu.Lock()
			again := s.stopping
			s.mu.Unlock()
			if sig == os.Interrupt && !again {
				select {
				case s.interrupt <- struct{}{}:
					continue
				default:
				}
			}
			number, _ := sig.(syscall.Signal)
			code := 128 + int(number)
			if again {
				os.Exit(code)
			}
			s.mu.Lock()
			s.stopping = true
			f := s.onStop
			s.mu.Unlock()
			go func() {
				s.restore()
				if f != nil {
					f()
				}
				os.Exit(code)
			}()
		}
	}()
}
