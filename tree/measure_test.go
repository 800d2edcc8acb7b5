package tree_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"chock/tree"
	"chock/tree/book"
)

func TestLongest(t *testing.T) {
	assert.Equal(t, 3, branching.load(t).Longest("shake"))
	assert.Equal(t, 3, built.load(t).Longest("shake"), "the condition counts once")
	assert.Equal(t, 2, measured.load(t).Longest("shake"), "what is computed is not asked, what it is computed from is")
	assert.Equal(t, 2, barring.load(t).Longest("shake"), "the looks were made before")
	assert.Equal(t, 4, judged.load(t).Longest("shake"))
}

// A step that branches once more goes the way that its answer went before, so
// the two long branches here are never walked by one person.
func TestLongestKeepsAnswers(t *testing.T) {
	b := small{
		path: `
  one: {because: First., then: {bad: two, unsure: one-again, fine: one-again}}
  two: {because: Long., then: three}
  three: {because: Long., then: one-again}
  one-again: {ask: one, then: {bad: {end: {likely: [a]}}, unsure: four, fine: {end: {}}}}
  four: {because: Long., then: five}
  five: {because: Long., then: {bad: {end: {}}, unsure: {end: {}}, fine: {end: {}}}}
`,
		questions: `
  one: {ask: "One?", ` + seat + `, answers: {bad: Bad, fine: {say: Fine, normal: true}}}
  two: {like: one}
  three: {like: one}
  four: {like: one}
  five: {like: one}
`,
		causes: "a",
	}.load(t)
	assert.Equal(t, 3, b.Longest("shake"), "not one, two, three, four, five")
}

func TestMildest(t *testing.T) {
	b := small{
		looks: "  glance: First.\n  pedal: Second.\n",
		first: `  pedal: {ask: "Pedal?", why: It tells., steps: Press., minutes: 1, place: seat, look: yard, answers: {drops: {say: Drops, drive: stop, shows: [leak]}, firm: {say: Firm, normal: true, clears: [leak]}}}`,
		path: `
  one: {because: First., then: {bad: two, unsure: two, fine: {end: {}}}}
  two: {because: Then., then: {bad: {end: {likely: [loose]}}, unsure: {end: {possible: [loose, leak]}}, fine: {end: {likely: [quiet], possible: [loose, leak]}}, other: {end: {likely: [quiet]}}}}
`,
		questions: `
  one: {ask: "One?", ` + seat + `, answers: {bad: {say: Bad, drive: care}, fine: {say: Fine, normal: true}}}
  two: {ask: "Two?", ` + seat + `, answers: {bad: Bad, other: Other, fine: {say: Fine, normal: true, clears: [loose]}}}
`,
		stop: "leak loose", causes: "quiet",
	}.load(t)
	var got []string
	for _, m := range b.Mildest("shake") {
		got = append(got, fmt.Sprint(m.Step.ID, m.Answers, " ", m.Drive))
	}
	assert.Equal(t, []string{
		"one[fine] care",   // without a cause
		"two[bad] stop",    // nobody cleared it
		"two[other] go",    // one=unsure
		"two[fine] go",     // leak was cleared by the look, loose by this answer
		"two[unsure] stop", // loose was not
	}, got)
}

// randomTree draws a book of a few questions whose tree may branch twice on
// one of them, wants a tool, shows, clears and names causes.
func randomTree(t *rapid.T) *tree.Book {
	n := rapid.IntRange(2, 4).Draw(t, "questions")
	causes := []string{"a", "b", "c"}
	draw := func(name string) string {
		var out []string
		for _, c := range causes {
			if rapid.IntRange(0, 3).Draw(t, name) == 0 {
				out = append(out, c)
			}
		}
		return "[" + strings.Join(out, ", ") + "]"
	}
	full := func(key, list string) string {
		if list == "[]" {
			return ""
		}
		return ", " + key + ": " + list
	}
	var qs, path strings.Builder
	fmt.Fprintf(&qs, "  tool: {ask: \"Tool?\", %s, answers: {have: I have, lack: I lack}}\n", seat)
	type step struct{ id, ask string }
	var steps []step
	for i := range n {
		id := fmt.Sprintf("q%d", i)
		steps = append(steps, step{id, ""})
		if i > 0 && rapid.Bool().Draw(t, "again") {
			steps = append(steps, step{fmt.Sprintf("again%d", i), fmt.Sprintf("q%d", rapid.IntRange(0, i-1).Draw(t, "which"))})
		}
		needs := ""
		if rapid.Bool().Draw(t, "needs") {
			needs = ", needs: {tool: [have, lack]}"
		}
		fmt.Fprintf(&qs, "  %s: {ask: \"Q?\", %s%s, unsure: {drive: %s}, answers: {", id, seat, needs, rapid.SampledFrom([]string{"go", "care"}).Draw(t, "unsure"))
		for j := range 2 {
			fmt.Fprintf(&qs, "a%d: {say: A%d, drive: %s%s%s}, ", j, j, rapid.SampledFrom([]string{"go", "go", "care", "stop"}).Draw(t, "drive"),
				full("shows", draw("shows")), full("clears", draw("clears")))
		}
		qs.WriteString("ok: {say: Ok, normal: true" + full("clears", draw("clears")) + "}}}\n")
	}
	for i, s := range steps {
		fmt.Fprintf(&path, "  %s: {because: B., ", s.id)
		if s.ask != "" {
			fmt.Fprintf(&path, "ask: %s, ", s.ask)
		}
		path.WriteString("then: {")
		for _, a := range []string{"a0", "a1", "ok", "unsure"} {
			if to := rapid.IntRange(i+1, len(steps)+1).Draw(t, "to"); to < len(steps) {
				fmt.Fprintf(&path, "%s: %s, ", a, steps[to].id)
			} else {
				fmt.Fprintf(&path, "%s: {end: {possible: %s", a, strings.ReplaceAll(draw("possible"), "[]", "[c]"))
				if l := draw("likely"); l != "[]" {
					path.WriteString(", likely: " + l)
				}
				path.WriteString("}}, ")
			}
		}
		path.WriteString("}}\n")
	}
	s := small{path: path.String(), questions: qs.String(), stop: "a", care: "b", causes: "c"}
	b, err := tree.Open(s.fs(), calcs)
	if err != nil {
		t.Fatal(err)
	}
	if err := b.Rest(s.fs()); err != nil {
		t.Fatal(err)
	}
	return b
}

// everyTalk walks a small book with every answer to everything.
func everyTalk(b *tree.Book, said []tree.Said, fn func(w *tree.Walk)) {
	w := b.Walk([]string{"shake"}, said)
	if w.Next == nil {
		fn(w)
		return
	}
	ids := []string{tree.Unsure}
	for _, a := range w.Next.Check.Answers {
		ids = append(ids, a.ID)
	}
	for _, id := range ids {
		everyTalk(b, append(said[:len(said):len(said)], tree.Said{Check: w.Next.Check.ID, Answers: []string{id}}), fn)
	}
}

// asked gives the advice that the answers ask for, dangers that nobody looked
// at apart.
func asked(a *tree.Assessment) tree.Drive {
	for _, r := range a.Reasons {
		if r.Kind != "not-checked" {
			return r.Drive
		}
	}
	return tree.Go
}

func TestMeasuresAgainstEveryTalk(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := randomTree(t)
		longest, mildest := 0, map[*tree.End]tree.Drive{}
		everyTalk(b, talk("glance=nothing"), func(w *tree.Walk) {
			checks := 0
			for _, v := range w.Visits {
				if v.Complaint != "" && v.Standing == tree.Answered {
					checks++
				}
			}
			longest = max(longest, checks)
			end, d := w.Reached[0].End, asked(b.Assess(w))
			if old, seen := mildest[end]; !seen || d < old {
				mildest[end] = d
			}
		})
		if got := b.Longest("shake"); got != longest {
			t.Fatalf("longest %d, every talk says %d", got, longest)
		}
		got := map[*tree.End]tree.Drive{}
		for _, m := range b.Mildest("shake") {
			got[m.End] = m.Drive
		}
		assert.Equal(t, mildest, got)
	})
}

// No talk with the embedded book is asked more than Longest says, or leaves an
// end with a milder advice than Mildest says.
func TestMeasuresOfTheEmbeddedBook(t *testing.T) {
	b, err := tree.Load(book.FS, calcs)
	require.NoError(t, err)
	longest, mildest := map[string]int{}, map[*tree.End]tree.Drive{}
	for _, c := range b.Complaints {
		longest[c.ID] = b.Longest(c.ID)
		for _, m := range b.Mildest(c.ID) {
			mildest[m.End] = m.Drive
		}
		t.Logf("%s: at most %d checks", c.ID, longest[c.ID])
	}
	rapid.Check(t, func(t *rapid.T) {
		complaints, said := talkOf(t, b)
		w := b.Walk(complaints, said)
		asked := map[string]int{}
		for _, v := range w.Visits {
			if v.Standing == tree.Answered && !v.Check.Computed() {
				asked[v.Complaint]++
			}
		}
		drive := b.Assess(w).Drive
		for _, r := range w.Reached {
			if asked[r.Complaint] > longest[r.Complaint] {
				t.Fatalf("%s asks %d checks, more than %d", r.Complaint, asked[r.Complaint], longest[r.Complaint])
			}
			least, known := mildest[r.End]
			if !known || drive < least {
				t.Fatalf("%s at %s ends with %s, milder than %s (%v)", r.Complaint, r.Step.ID, drive, least, known)
			}
		}
	})
}
