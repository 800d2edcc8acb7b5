package ask

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
	"unicode/utf8"
)

// longest is the longest line taken, in bytes. Nobody types more, and a
// terminal in its usual mode passes no more on.
const longest = 4096

// NewPlain asks line by line; it works on any terminal, in a pipe and with a
// screen reader. It reads in through one buffer, so nothing typed ahead is lost.
func NewPlain(in io.Reader, out *Screen) Asker {
	return &plain{in: bufio.NewReaderSize(in, longest+2), scr: out, echo: !IsTerminal(in)}
}

type plain struct {
	in        *bufio.Reader
	scr       *Screen
	echo      bool            // show the line taken: there is no terminal that shows it
	told      bool            // the prompt words have been listed
	pending   chan line       // a read that an interrupt left under way
	interrupt <-chan struct{} // Ctrl-C on a terminal that reads line by line
}

type line struct {
	text string
	err  error
}

var (
	errLong  = fmt.Errorf("that line is longer than %d bytes; please give a shorter one", longest)
	errEmpty = errors.New("nothing was typed")
)

func (p *plain) Choose(q Question) (Reply, error) {
	if err := q.check(); err != nil {
		return Reply{}, err
	}
	defer p.scr.answered()
	p.show(q)
	for {
		text, err := p.read("")
		var r Reply
		if err == nil {
			r, err = q.read(text)
		}
		switch {
		case fatal(err):
			return Reply{}, err
		case err != nil:
			p.refuse(err)
			p.hint(q)
		case r.Word == Note && r.Text == "":
			if r.Text, err = p.note(); err != nil {
				return Reply{}, err
			}
			if r.Text != "" {
				return r, nil
			}
		default:
			if r.Word == "" {
				say(p.scr, q, r)
			}
			return r, nil
		}
	}
}

func (p *plain) Line(f Field) (Reply, error) {
	defer p.scr.answered()
	if f.Current != "" {
		p.scr.Item(Dim, "was: ", f.Current)
	}
	for {
		text, err := p.read(f.Hint)
		var r Reply
		if err == nil {
			r, err = f.read(text)
		}
		switch {
		case fatal(err):
			return Reply{}, err
		case err != nil:
			p.refuse(err)
			if errors.Is(err, errEmpty) {
				p.scr.Print(Dim, wordsHint(false))
			}
		case r.Word == Note && r.Text == "":
			if r.Text, err = p.note(); err != nil {
				return Reply{}, err
			}
			if r.Text != "" {
				return r, nil
			}
		default:
			return r, nil
		}
	}
}

// note asks for the text of a note; an empty line means none after all.
func (p *plain) note() (string, error) {
	for {
		text, err := p.read("note")
		if !errors.Is(err, errLong) {
			return text, err
		}
		p.refuse(err)
	}
}

// show prints the choices and how to answer.
func (p *plain) show(q Question) {
	ids := 0 // width of a column of ids; 0 where they are too long to help
	for _, c := range q.Choices {
		if c.ID != c.words() {
			ids = max(ids, len(c.ID))
		}
	}
	if ids > p.scr.Width()/4 {
		ids = 0
	}
	for i, c := range q.Choices {
		head := "  "
		if q.numbered() {
			head = fmt.Sprintf("%3d ", i+1)
		}
		if ids > 0 {
			head += fmt.Sprintf("%-*s  ", ids, c.ID)
		}
		p.scr.Item(Plain, head, c.words())
	}
	if was := q.was(); was != "" {
		p.scr.Item(Dim, "was: ", was)
	}
	if !p.told || len(q.Wheels) > 1 || q.Several {
		p.hint(q)
	}
}

func (p *plain) hint(q Question) {
	p.scr.Print(Dim, q.how())
	if !p.told {
		p.scr.Print(Dim, wordsHint(q.NoUnsure))
		p.told = true
	}
}

func (p *plain) refuse(err error) {
	p.scr.Print(Plain, sentence(err))
	p.told = false
}

// read shows the prompt and takes one line, without its line end and the
// blanks around it.
func (p *plain) read(hint string) (string, error) {
	p.scr.raw(prompt(p.scr, hint))
	if err := p.scr.Err(); err != nil { // a question that nobody could see has no answer
		return "", err
	}
	if p.pending == nil {
		ch := make(chan line, 1)
		p.pending = ch
		go func() {
			text, err := readLine(p.in)
			ch <- line{text, err}
		}()
	}
	var l line
	select {
	case l = <-p.pending:
		p.pending = nil
	case <-p.interrupt:
		p.scr.raw("\n")
		return "", ErrInterrupt
	}
	if fatal(l.err) {
		p.scr.raw("\n")
		return "", l.err
	}
	if p.echo { // four lines of it are enough
		p.scr.raw(p.scr.cut(p.scr.show(strings.ReplaceAll(l.text, "\n", " ")), p.scr.Width()*4) + "\n")
	}
	return l.text, l.err
}

// readLine takes one line; of one that is too long it reads the rest and
// keeps nothing. A last line needs no line end.
func readLine(in *bufio.Reader) (string, error) {
	text, err := in.ReadSlice('\n')
	long := errors.Is(err, bufio.ErrBufferFull)
	for errors.Is(err, bufio.ErrBufferFull) {
		_, err = in.ReadSlice('\n')
	}
	switch {
	case long && (err == nil || err == io.EOF):
		return "", errLong
	case err == io.EOF && len(text) == 0:
		return "", ErrEnd
	case err != nil && err != io.EOF:
		return "", fmt.Errorf("reading the answer: %w", err)
	}
	line := strings.TrimSpace(strings.ToValidUTF8(string(text), "\ufffd"))
	if len(line) > longest {
		return "", errLong
	}
	return line, nil
}

// fatal tells an error that ends the talk from a line that is asked again.
func fatal(err error) bool {
	var again *refused
	return err != nil && !errors.Is(err, errLong) && !errors.Is(err, errEmpty) && !errors.As(err, &again)
}

// prompt is what stands left of the cursor.
func prompt(s *Screen, hint string) string {
	if hint = s.show(strings.ReplaceAll(hint, "\n", " ")); hint == "" {
		return "> "
	}
	return s.cut(hint, s.Width()/2) + "> "
}

// sentence is an error as the person reads it.
func sentence(err error) string {
	text := err.Error()
	if text == "" {
		return "That does not fit."
	}
	_, n := utf8.DecodeRuneInString(text)
	text = strings.ToUpper(text[:n]) + text[n:]
	if strings.HasSuffix(text, ".") || strings.HasSuffix(text, "?") {
		return text
	}
	return text + "."
}

// say prints what was taken.
func say(s *Screen, q Question, r Reply) {
	if s == nil {
		return
	}
	var told []string
	for _, id := range r.IDs {
		told = append(told, q.words(id))
	}
	switch {
	case r.Word != "":
		told = []string{spoken(r.Word)}
	case len(q.Wheels) > 1 && len(slices.Compact(slices.Clone(r.IDs))) == 1:
		told = []string{"all: " + told[0]}
	case len(q.Wheels) > 1:
		for i := range told {
			s.Item(Plain, "= ", q.name(i)+": "+told[i])
		}
		return
	}
	for _, t := range told {
		s.Item(Plain, "= ", t)
	}
}
