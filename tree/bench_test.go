package tree_test

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"

	"chock/tree"
	"chock/tree/book"
)

// Reading what the first prompt needs, the rest, and proving it.
func BenchmarkOpen(b *testing.B) {
	for b.Loop() {
		if _, err := tree.Open(book.FS, calcs); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkOpenAndRest(b *testing.B) {
	for b.Loop() {
		own, err := tree.Open(book.FS, calcs)
		if err == nil {
			err = own.Rest(book.FS)
		}
		if err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkLoad(b *testing.B) {
	for b.Loop() {
		if _, err := tree.Load(book.FS, calcs); err != nil {
			b.Fatal(err)
		}
	}
}

// fortyAnswers is a talk with the embedded book, forty answers long.
func fortyAnswers(b *testing.B) (*tree.Book, []string, []tree.Said) {
	own, err := tree.Load(book.FS, calcs)
	require.NoError(b, err)
	complaints := []string{own.Complaints[0].ID}
	for seed := range uint64(1000) {
		r := rand.New(rand.NewPCG(seed, 0))
		var said []tree.Said
		for len(said) < 40 {
			p := own.Walk(complaints, said).Next
			if p == nil {
				break
			}
			if p.Figure != nil {
				said = append(said, tree.Said{Check: p.Figure.ID})
				continue
			}
			for _, wheel := range p.Wheels {
				said = append(said, tree.Said{Check: p.Check.ID, Wheel: wheel, Answers: anyAnswer(own, p, r)})
			}
		}
		if len(said) >= 40 {
			return own, complaints, said[:40]
		}
	}
	b.Fatal("no talk of forty answers")
	return nil, nil, nil
}

func BenchmarkWalk(b *testing.B) {
	own, complaints, said := fortyAnswers(b)
	b.ReportAllocs()
	for b.Loop() {
		own.Walk(complaints, said)
	}
}

func BenchmarkAssess(b *testing.B) {
	own, complaints, said := fortyAnswers(b)
	w := own.Walk(complaints, said)
	b.ReportAllocs()
	for b.Loop() {
		own.Assess(w)
	}
}
