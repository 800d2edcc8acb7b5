package tree_test

import (
	"bytes"
	"math/rand/v2"
	"path/filepath"
	"slices"
	"testing"
	"testing/fstest"
	"time"

	"github.com/rogpeppe/go-internal/txtar"
	"github.com/stretchr/testify/require"

	"chock/tree"
)

// fuzzed are the files of the good book that FuzzLoad writes over.
var fuzzed = []string{"book.yaml", "first.yaml", "complaints/shake.yaml", "causes.yaml", "shared/questions.yaml", "shared/measurements.yaml"}

// Whatever stands in a file, the loader says so or gives a book; it neither
// panics nor takes its time. What loads can be walked to an end, whatever is
// answered.
func FuzzLoad(f *testing.F) {
	good := goodBook(f)
	for i, name := range fuzzed {
		f.Add(uint8(i), good[name].Data)
	}
	names, err := filepath.Glob(badbook + "*.txtar")
	require.NoError(f, err)
	for _, name := range names {
		ar, err := txtar.ParseFile(name)
		require.NoError(f, err)
		for _, file := range ar.Files {
			if i := slices.Index(fuzzed, file.Name); i >= 0 {
				f.Add(uint8(i), file.Data)
			} else if _, changed, ok := bytes.Cut([]byte(file.Name), []byte("change ")); ok && slices.Contains(fuzzed, string(changed)) {
				var text []byte
				for line := range bytes.Lines(file.Data) {
					if line[0] == '+' {
						text = append(text, line[1:]...)
					}
				}
				f.Add(uint8(slices.Index(fuzzed, string(changed))), text)
			}
		}
	}
	f.Fuzz(func(t *testing.T, which uint8, data []byte) {
		fsys := fstest.MapFS{}
		for name, file := range good {
			fsys[name] = file
		}
		fsys[fuzzed[int(which)%len(fuzzed)]] = &fstest.MapFile{Data: data}
		began := time.Now()
		b, err := tree.Load(fsys, calcs)
		if took := time.Since(began); took > 10*time.Second {
			t.Fatalf("took %s", took)
		}
		if err != nil {
			if err.Error() == "" {
				t.Fatal("a fault without words")
			}
			return
		}
		for seed := range uint64(4) {
			walkAtRandom(t, b, rand.New(rand.NewPCG(seed, uint64(len(data)))))
		}
		for _, c := range b.Complaints {
			if len(c.Steps) < 12 {
				b.Longest(c.ID)
				b.Mildest(c.ID)
			}
		}
	})
}

// walkAtRandom answers whatever is asked until nothing is.
func walkAtRandom(t *testing.T, b *tree.Book, r *rand.Rand) {
	var complaints []string
	for _, c := range b.Complaints {
		complaints = append(complaints, c.ID)
	}
	var said []tree.Said
	// Every check at four wheels, put off once, and every figure.
	for range 8*len(b.Checks) + len(b.Figures) + 1 {
		w := b.Walk(complaints, said)
		a := b.Assess(w)
		if w.Next == nil {
			if !a.Ended {
				t.Fatal("at the end and not ended")
			}
			if len(w.Reached) != len(w.Complaints) {
				t.Fatalf("%d complaints and %d ends", len(w.Complaints), len(w.Reached))
			}
			return
		}
		p := w.Next
		if len(p.Wheels) == 0 {
			t.Fatalf("%s is asked at no wheel", p.Check.ID)
		}
		w.Upcoming(tree.Road, tree.Corner)
		if p.Figure != nil {
			said = append(said, tree.Said{Check: p.Figure.ID})
			continue
		}
		for _, wheel := range p.Wheels {
			said = append(said, tree.Said{Check: p.Check.ID, Wheel: wheel, Answers: anyAnswer(b, p, r)})
		}
	}
	t.Fatal("a talk without an end")
}

func anyAnswer(b *tree.Book, p *tree.Prompt, r *rand.Rand) []string {
	c := p.Check
	switch n := r.IntN(8); {
	case n == 0:
		return []string{tree.Unsure}
	case n == 1 && !p.Computed:
		return []string{tree.Later}
	case c.Measure == "":
		return []string{c.Answers[r.IntN(len(c.Answers))].ID}
	}
	var out []string
	calc, _ := b.Calculation(c.Measure)
	for _, l := range calc.Limits {
		out = append(out, l.Outcomes[r.IntN(len(l.Outcomes))])
	}
	return out
}

// Books made to cost time: the loader's bounds hold.
func TestLoadIsBounded(t *testing.T) {
	if testing.Short() {
		t.Skip("loads a few large files")
	}
	repeat := func(head, line string) []byte {
		var b bytes.Buffer
		b.WriteString(head)
		for i := 0; b.Len() < 1<<20-200; i++ {
			b.Write(bytes.ReplaceAll([]byte(line), []byte("#"), []byte(letters(i))))
		}
		return b.Bytes()
	}
	for name, file := range map[string]struct {
		name string
		data []byte
	}{
		"unknown causes":   {"shared/more.yaml", repeat("questions:\n", "  q-#: {ask: A, why: B, minutes: 1, place: recall, answers: {a: {say: A, shows: [x-#]}, b: B}}\n")},
		"many causes":      {"causes.yaml", repeat("causes:\n", "  c-#: {}\n")},
		"many steps":       {"complaints/shake.yaml", repeat("complaint: shake\nwords: [shake]\nbegin: a\npath:\n", "  s-#: {because: B, then: s-#x}\n")},
		"a chain":          {"shared/more.yaml", repeat("questions:\n", "  q-#: {ask: A, why: B, minutes: 1, place: recall, only-if: {q-#x: a}, answers: {a: A, b: B}}\n")},
		"a long list":      {"causes.yaml", append(repeat("causes:\n  a: {do: [x", ", x#"), "]}\n"...)},
		"a long name list": {"shared/more.yaml", append(repeat("questions:\n  q: {answers: {a: {say: A, shows: [x", ", x-#"), "]}}}\n"...)},
		"answers":          {"shared/more.yaml", repeat("questions:\n  q:\n    answers:\n", "      a-#: A\n")},
		"inputs":           {"shared/more.yaml", repeat("measurements:\n  q:\n    measure: depth\n    inputs:\n", "      a-#: {take: 1}\n")},
		"keys":             {"shared/more.yaml", repeat("questions:\n", "? ")},
		"dashes":           {"shared/more.yaml", repeat("questions:\n", "- ")},
		"open brackets":    {"shared/more.yaml", repeat("questions:\n", "{a: ")},
		"open quotes":      {"shared/more.yaml", repeat("questions:\n", "  a#: \"b\n")},
		"colons":           {"shared/more.yaml", repeat("a", ": a")},
		"anchors":          {"shared/more.yaml", repeat("questions:\n", "  a-#: &a [1]\n")},
		"one line":         {"shared/more.yaml", repeat("questions: ", "x")},
		"bad last line":    {"shared/more.yaml", append(repeat("questions:\n", "  a-#: 1\n"), " x"...)},
	} {
		t.Run(name, func(t *testing.T) {
			fsys := goodBook(t)
			fsys[file.name] = &fstest.MapFile{Data: file.data}
			began := time.Now()
			_, err := tree.Load(fsys, calcs)
			require.Error(t, err)
			took := time.Since(began)
			t.Log(took, len(err.Error()))
			require.Less(t, took, 20*time.Second)
		})
	}
}

// letters counts in letters, so that every number is a name.
func letters(i int) string {
	s := string(rune('a' + i%26))
	for i /= 26; i > 0; i /= 26 {
		s = string(rune('a'+i%26)) + s
	}
	return s
}
