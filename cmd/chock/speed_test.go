package main

import (
	"testing"

	"github.com/stretchr/testify/require"

	"chock/tree"
	"chock/tree/book"
)

// What docs/speed.md quotes. The book as a talk reads it: Open before the
// first question, Rest while the person reads it; Load is both and the proofs.

func BenchmarkBookOpen(b *testing.B) {
	known := calculations()
	for b.Loop() {
		_, err := tree.Open(book.FS, known)
		require.NoError(b, err)
	}
}

func BenchmarkBookWhole(b *testing.B) {
	known := calculations()
	for b.Loop() {
		bk, err := tree.Open(book.FS, known)
		require.NoError(b, err)
		require.NoError(b, bk.Rest(book.FS))
	}
}

func BenchmarkBookProved(b *testing.B) {
	known := calculations()
	for b.Loop() {
		_, err := tree.Load(book.FS, known)
		require.NoError(b, err)
	}
}

// soundFacts describe a sound pickup whose owner has every tool; where there
// is no normal answer, the last is taken.
var soundFacts = map[string][]string{
	"assist-kind": {"vacuum"}, "raised": {"frame-stands", "arm-stands"}, "spring-place": {"lower-arm"},
	"parking-acts": {"rear-brakes"}, "tools": {"micrometer", "dial", "drum-gauge"},
	"brake-kind front-left": {"disc"}, "brake-kind front-right": {"disc"},
}

// soundTalk gives all answers of a talk about it.
func soundTalk(tb testing.TB) (*tree.Book, []tree.Said) {
	tb.Helper()
	bk, err := tree.Load(book.FS, calculations())
	require.NoError(tb, err)
	var said []tree.Said
	for {
		w := bk.Walk([]string{"pulsation"}, said)
		if w.Next == nil {
			return bk, said
		}
		require.Less(tb, len(said), 500, "the talk does not end")
		if f := w.Next.Figure; f != nil {
			said = append(said, tree.Said{Check: f.ID, Answers: []string{tree.Unsure}})
			continue
		}
		c := w.Next.Check
		answers := []string{c.Answers[len(c.Answers)-1].ID}
		if calc, ok := bk.Calculation(c.Measure); ok {
			answers = nil
			for _, l := range calc.Limits {
				answers = append(answers, l.Outcomes[len(l.Outcomes)-1])
			}
		}
		if fact := soundFacts[c.ID]; fact != nil {
			answers = fact
		}
		for _, wheel := range w.Next.Wheels {
			at := answers
			if fact := soundFacts[c.ID+" "+wheel]; fact != nil {
				at = fact
			}
			said = append(said, tree.Said{Check: c.ID, Wheel: wheel, Answers: at})
		}
	}
}

// One step of a session: from the answers to the next question and to what
// they come to, near the end of a talk, where there is most to go through.
func BenchmarkStep(b *testing.B) {
	bk, said := soundTalk(b)
	said = said[:len(said)-1]
	for b.Loop() {
		bk.Assess(bk.Walk([]string{"pulsation"}, said))
	}
}
