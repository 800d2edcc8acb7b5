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

// What is most worth asking next, over the whole book: the belief over every
// cause and every two of them, the information of every check that is left,
// and whether to stop.
func BenchmarkNextCheck(b *testing.B) {
	own, complaints, said := wholeBook(b)
	w := own.Walk(complaints, said)
	for b.Loop() {
		if a := own.Advise(w, own.Believe(w)); len(a.Next) == 0 {
			b.Fatal("nothing is left")
		}
	}
}

// The information of every check by itself, over the same belief.
func BenchmarkSweep(b *testing.B) {
	own, complaints, said := wholeBook(b)
	w := own.Walk(complaints, said)
	bl := own.Believe(w)
	checks := 0
	for b.Loop() {
		checks = own.Sweep(bl)
	}
	b.ReportMetric(float64(checks), "checks")
}

// The belief alone.
func BenchmarkBelieve(b *testing.B) {
	own, complaints, said := wholeBook(b)
	w := own.Walk(complaints, said)
	for b.Loop() {
		own.Believe(w)
	}
	b.ReportMetric(float64(len(own.Causes)), "causes")
}

// The rows of every check, worked out of the words once.
func BenchmarkWeights(b *testing.B) {
	own, _, _ := wholeBook(b)
	for b.Loop() {
		own.Weights()
	}
}

// wholeBook is a talk about everything, its first looks answered.
func wholeBook(b *testing.B) (*tree.Book, []string, []tree.Said) {
	own, err := tree.Load(book.FS, calcs)
	require.NoError(b, err)
	var complaints []string
	for _, c := range own.Complaints {
		complaints = append(complaints, c.ID)
	}
	var said []tree.Said
	for {
		p := own.Walk(complaints, said).Next
		require.NotNil(b, p)
		if p.Step != nil {
			return own, complaints, said
		}
		for _, wheel := range p.Wheels {
			id := tree.Unsure
			for _, a := range p.Check.Answers {
				if a.Normal {
					id = a.ID
				}
			}
			if id == tree.Unsure && p.Check.Measure == "" {
				id = p.Check.Answers[len(p.Check.Answers)-1].ID
			}
			said = append(said, tree.Said{Check: p.Check.ID, Wheel: wheel, Answers: []string{id}})
		}
	}
}
