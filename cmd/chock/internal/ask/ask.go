// Package ask is the only place where chock meets a person: it puts a
// question, takes the answer and owns the terminal meanwhile.
//
// The rules of the dialogue, stated once:
//
//   - Whoever calls prints the question through a [Screen]; the [Asker] prints
//     the choices, takes the answer and says back what it took.
//   - Nothing is answered by default. An empty line is no answer, and in a
//     list Enter counts only after a key has moved or chosen.
//   - The end of the input is [ErrEnd] and Ctrl-C is [ErrInterrupt]; neither is
//     ever an answer.
//   - A bad answer is refused with its reason and the question stays open: the
//     next line is the new try, on a terminal and from a pipe alike.
//   - At every prompt a person may say why, steps, not sure, later, back,
//     change, note or stop instead of answering; that is [Reply.Word].
//   - An earlier answer is shown in words ("was: ..."), never chosen by itself.
//   - A word stands before every colour, and everything works without colour,
//     without moving the cursor and at 40 columns.
//   - What a person typed is shown with its control characters made visible;
//     the terminal never obeys them.
//
// There are three makers: [NewPrompt] draws lists on a terminal, [NewPlain]
// works line by line anywhere, [NewScript] answers from a file. One
// conformance test holds them to the same replies.
package ask

import (
	"errors"
	"fmt"
	"strings"
)

// A Choice is one answer that a question offers.
type Choice struct {
	ID  string // what the record keeps
	Say string // what the person reads; the id when empty
	Key rune   // a letter that picks it, or 0
}

// A Question offers choices, worst first.
type Question struct {
	ID       string   // its name in an answers file
	Wheels   []string // ids of the wheels asked about at once, in a fixed order; nil: asked once
	Names    []string // what the screen calls those wheels: "left front"
	Choices  []Choice
	Several  bool     // several may be ticked; such a question is asked one wheel at a time
	Current  []string // the earlier answer, by id, laid out as in Reply.IDs
	NoUnsure bool     // one of the tool's own questions, without "not sure" and "later"
}

// A Field takes a typed line.
type Field struct {
	ID      string             // its name in an answers file
	Wheel   string             // the wheel it is for, or ""
	Input   string             // which input of a measurement that has several, or ""
	Hint    string             // short label left of the cursor: "thou"
	Check   func(string) error // nil: any text; its error is shown and the line asked again
	Current string             // the earlier answer
}

// A Reply is what came back: an answer, or a prompt word instead of one.
type Reply struct {
	// IDs answers Choose: one id; one a wheel in the order of Wheels, where an
	// entry may also be "unsure" or "later"; or every ticked one, in the order
	// of Choices.
	IDs  []string
	Text string // answers Line: what was typed, without blanks around it; with Word == Note, the note
	Word Word   // said instead of an answer; "" for none
}

// A Word is what a person may say at any prompt instead of answering.
type Word string

// The prompt words. Unsure and Later are spelt as the record keeps them.
const (
	Why    Word = "why"
	Steps  Word = "steps"
	Unsure Word = "unsure"
	Later  Word = "later"
	Back   Word = "back"
	Change Word = "change"
	Note   Word = "note"
	Stop   Word = "stop"
)

// An Asker puts questions to a person, or to a file that speaks for one.
type Asker interface {
	Choose(Question) (Reply, error)
	Line(Field) (Reply, error)
}

var (
	// ErrInterrupt is Ctrl-C at a prompt; exit status 130 is the caller's.
	ErrInterrupt = errors.New("interrupted")
	// ErrEnd is the end of the input before the question was answered.
	ErrEnd = errors.New("the input ended before the question was answered")
)

// Missing reports a question that the answers file does not answer.
type Missing struct{ ID, Wheel, Input string }

func (m *Missing) Error() string {
	return "the answers file has no answer for " + place(m.ID, m.Wheel, m.Input)
}

// Unknown reports an answer in the answers file that the question does not
// offer, or that its check refused.
type Unknown struct {
	ID, Wheel, Input string
	Answer           string   // as the file has it
	Allowed          []string // the answers on offer; nil when Reason says it
	Reason           error    // why the check refused it
}

func (u *Unknown) Error() string {
	at := place(u.ID, u.Wheel, u.Input)
	if u.Reason != nil {
		return fmt.Sprintf("answers file, %s: %q: %v", at, u.Answer, u.Reason)
	}
	return fmt.Sprintf("answers file, %s: %q is none of %s", at, u.Answer, strings.Join(u.Allowed, ", "))
}

// Unwrap gives the reason of the check.
func (u *Unknown) Unwrap() error { return u.Reason }

func place(id, wheel, input string) string {
	if input != "" {
		id += ", " + input
	}
	if wheel != "" {
		id += " at " + wheel
	}
	return id
}
