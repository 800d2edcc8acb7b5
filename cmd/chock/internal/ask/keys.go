package ask

import (
	"io"
	"sync/atomic"
	"time"
	"unicode"
	"unicode/utf8"

	"github.com/chzyer/readline"
)

// A key is a rune that was typed or, below zero, one of these.
type key rune

const (
	keyUp key = -iota - 1
	keyDown
	keyLeft
	keyRight
	keyHome
	keyEnd
	keyPageUp
	keyPageDown
	keyDelete
	keyBackspace
	keyErase // Ctrl-U: the line from its beginning
	keyEnter
	keyInterrupt // Ctrl-C
	keyClose     // Ctrl-D
	keyResize    // the terminal has another size
	keyGone      // the input ended
)

const (
	loneEscape = 100 * time.Millisecond // an Esc with nothing behind it by then was the Esc key
	lookAgain  = 150 * time.Millisecond // how often the size is looked at while nobody types
)

// keys reads the keyboard for every prompt of a session, so that what was
// typed ahead reaches the next prompt. It turns bytes into keys and drops
// what no prompt wants: Tab, NUL, Ctrl-Z and the rest of the control characters,
// sequences it does not know, the marks round a paste.
//
// promptui and readline each have trouble with several of these; they only
// ever see what listKeys and textKeys make of a key.
type keys struct {
	in   io.Reader
	size func() (columns, rows int)

	chunks chan []byte // a read under way, or nil
	buf    []byte
	err    error

	columns, rows int // the size that the open prompt was drawn at
}

// drawn notes the size that a prompt is about to be drawn at.
func (k *keys) drawn() { k.columns, k.rows = k.size() }

// next waits for a key.
func (k *keys) next() key {
	for {
		if k.resized() {
			return keyResize
		}
		b, ok := k.byte(lookAgain)
		switch {
		case k.err != nil:
			return keyGone
		case !ok:
			continue
		}
		switch {
		case b == 0x1b:
			if got := k.escape(); got != 0 {
				return got
			}
		case b == '\r', b == '\n':
			return keyEnter
		case b == 0x7f, b == readline.CharCtrlH:
			return keyBackspace
		case b < ' ':
			if got := control[b]; got != 0 {
				return got
			}
		default:
			if r := k.rune(b); r != utf8.RuneError && unicode.IsPrint(r) {
				return key(r)
			}
		}
	}
}

var control = map[byte]key{
	readline.CharLineStart: keyHome, readline.CharLineEnd: keyEnd,
	readline.CharBackward: keyLeft, readline.CharForward: keyRight,
	readline.CharPrev: keyUp, readline.CharNext: keyDown,
	readline.CharInterrupt: keyInterrupt, readline.CharDelete: keyClose, readline.CharCtrlU: keyErase,
}

func (k *keys) resized() bool {
	columns, rows := k.size()
	return columns != k.columns || rows != k.rows
}

// byte waits for the next byte; not ok is a wait in vain.
func (k *keys) byte(wait time.Duration) (b byte, ok bool) {
	for len(k.buf) == 0 {
		if k.err != nil {
			return 0, false
		}
		if k.chunks == nil {
			ch := make(chan []byte, 1)
			k.chunks = ch
			go func() {
				b := make([]byte, longest)
				n, err := k.in.Read(b)
				if n == 0 && err != nil {
					close(ch)
					return
				}
				ch <- b[:n]
			}()
		}
		select {
		case chunk, open := <-k.chunks:
			k.chunks = nil
			k.buf = chunk
			if !open {
				k.err = ErrEnd
			}
		case <-time.After(wait):
			return 0, false
		}
	}
	b = k.buf[0]
	k.buf = k.buf[1:]
	return b, true
}

// rune reads the rest of a rune.
func (k *keys) rune(b byte) rune {
	p := []byte{b}
	for !utf8.FullRune(p) {
		b, ok := k.byte(loneEscape)
		if !ok {
			return utf8.RuneError
		}
		p = append(p, b)
	}
	r, _ := utf8.DecodeRune(p)
	return r
}

// escape reads what follows an Esc: arrows and their like, in both forms that
// terminals send. 0 is a sequence nobody wants.
func (k *keys) escape() key {
	b, ok := k.byte(loneEscape)
	if !ok || b != '[' && b != 'O' {
		return 0 // Esc alone, or Alt and a key
	}
	var digits []byte
	for {
		if b, ok = k.byte(loneEscape); !ok {
			return 0
		}
		if b >= 0x40 && b <= 0x7e {
			break
		}
		digits = append(digits, b)
	}
	if b == '~' {
		return tilde[string(digits)]
	}
	return final[b]
}

var final = map[byte]key{'A': keyUp, 'B': keyDown, 'C': keyRight, 'D': keyLeft, 'H': keyHome, 'F': keyEnd, 'M': keyEnter}

var tilde = map[string]key{
	"1": keyHome, "7": keyHome, "4": keyEnd, "8": keyEnd, "3": keyDelete, "5": keyPageUp, "6": keyPageDown,
}

// What promptui and readline are fed.
const (
	feedEnter  = string(rune(readline.CharEnter))
	feedPrev   = string(rune(readline.CharPrev))
	feedNext   = string(rune(readline.CharNext))
	feedRedraw = string(rune(readline.CharLineStart)) // moves nothing in a list, but draws it
	feedDelete = string(rune(readline.CharDelete))
)

// listKeys is what a list reads from: Prev, Next, one key that only redraws,
// and Enter when the list has come to its end for whatever reason.
type listKeys struct {
	keys *keys
	list *list
	feed []byte
}

func (l *listKeys) Read(p []byte) (int, error) {
	for len(l.feed) == 0 {
		l.feed = []byte(l.list.press(l.keys.next()))
	}
	n := copy(p, l.feed)
	l.feed = l.feed[n:]
	return n, nil
}

func (l *listKeys) Close() error { return nil }

// textKeys is what a typed line reads from. It ends the line with Enter for
// whatever reason; ended tells which.
type textKeys struct {
	keys   *keys
	recall bool // the earlier answer can be brought back with the up arrow
	feed   []byte
	closed atomic.Bool  // the last feedDelete was Ctrl-D
	ended  atomic.Int32 // a key
	length atomic.Int32 // bytes on the line, by the last key that readline has seen
	long   atomic.Bool  // some did not go on it
}

func (t *textKeys) Read(p []byte) (int, error) {
	for len(t.feed) == 0 {
		t.feed = []byte(t.press(t.keys.next()))
	}
	n := copy(p, t.feed)
	t.feed = t.feed[n:]
	return n, nil
}

func (t *textKeys) Close() error { return nil }

func (t *textKeys) press(k key) string {
	switch k {
	case keyEnter, keyInterrupt, keyResize, keyGone:
		t.ended.Store(int32(k))
		return feedEnter
	case keyClose, keyDelete:
		t.closed.Store(k == keyClose)
		return feedDelete
	case keyUp, keyDown:
		if !t.recall {
			return ""
		}
		return map[key]string{keyUp: feedPrev, keyDown: feedNext}[k]
	case keyLeft:
		return string(rune(readline.CharBackward))
	case keyRight:
		return string(rune(readline.CharForward))
	case keyHome:
		return string(rune(readline.CharLineStart))
	case keyEnd:
		return string(rune(readline.CharLineEnd))
	case keyBackspace:
		return string(rune(readline.CharBackspace))
	case keyErase:
		return string(rune(readline.CharCtrlU))
	}
	if k < 0 {
		return ""
	}
	if t.length.Load() >= longest {
		t.long.Store(true)
		return ""
	}
	return string(rune(k))
}

// filter sees every rune right before readline does, on readline's goroutine.
// readline takes Delete and Ctrl-D for the same: on an empty line, the end of
// the input. Only Ctrl-D is, and only there. Both stop readline's reader, which
// must be at rest when a line ends or closing it waits for ever.
func (t *textKeys) filter(r rune) (rune, bool) {
	empty := t.length.Load() == 0
	switch {
	case r != readline.CharDelete, !empty && !t.closed.Load():
		return r, true
	case empty && t.closed.Load():
		t.ended.Store(int32(keyClose))
		return readline.CharEnter, true
	}
	return 0, false
}

// OnChange counts what is on the line. readline calls it once without a key,
// and without the text that the line begins with.
func (t *textKeys) OnChange(line []rune, _ int, r rune) ([]rune, int, bool) {
	if r != 0 {
		t.length.Store(int32(len(string(line))))
	}
	return nil, 0, false
}

// gate passes on what a prompt draws, until it is shut: promptui and readline
// write once more after they have returned, into whatever stands there by then.
type gate struct {
	scr  *Screen
	out  io.Writer
	shut atomic.Bool
}

func (g *gate) Write(p []byte) (int, error) {
	if g.shut.Load() || string(p) == "\a" { // a bell for every key is no help
		return len(p), nil
	}
	text := p
	if g.scr.ascii {
		text = asciiMarks(p)
	}
	if _, err := g.out.Write(text); err != nil {
		g.scr.fail(err)
		return 0, err
	}
	return len(p), nil
}

func (g *gate) Close() error { return nil }

// asciiMarks spells the marks that promptui draws at the edge of a long list.
func asciiMarks(p []byte) []byte {
	var out []byte
	for _, r := range string(p) {
		switch r {
		case '↑':
			r = '^'
		case '↓':
			r = 'v'
		}
		out = utf8.AppendRune(out, r)
	}
	return out
}

// ending is the error that a key which ends a prompt stands for.
func ending(k key) error {
	switch k {
	case keyInterrupt:
		return ErrInterrupt
	case keyClose, keyGone:
		return ErrEnd
	}
	return nil
}
