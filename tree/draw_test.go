package tree_test

import (
	"encoding/json"
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"chock/tree"
	"chock/tree/book"
)

// A seen is a tree as a drawing shows it: by step, the words of each answer
// with where they lead, which is the id of a step or the words of an end.
type seen struct {
	steps []string
	leads map[string]map[string]string
	ends  int
}

// wanted is the tree of a complaint as the book has it.
func wanted(b *tree.Book, id string, ending func(e *tree.End) string) seen {
	out := seen{leads: map[string]map[string]string{}}
	ends := map[*tree.End]bool{}
	for _, s := range b.Complaint(id).Steps {
		out.steps = append(out.steps, s.ID)
		out.leads[s.ID] = map[string]string{}
		c := b.Checks[s.Check]
		for answer, t := range s.Then {
			words := "not sure"
			if a := c.Answer(answer); a != nil {
				if words = a.Say; words == "" {
					words = strings.ReplaceAll(answer, "-", " ")
				}
			}
			if out.leads[s.ID][words] = t.Step; t.End != nil {
				out.leads[s.ID][words] = ending(t.End)
				ends[t.End] = true
			}
		}
	}
	out.ends = len(ends)
	return out
}

// hold compares a drawing with the book. In both, an answer's words may be
// followed by what it does.
func hold(t *testing.T, want, got seen) {
	t.Helper()
	assert.ElementsMatch(t, want.steps, got.steps, "every step, once")
	assert.Equal(t, want.ends, got.ends, "every end, once")
	for step, answers := range want.leads {
		assert.Len(t, got.leads[step], len(answers), step)
		for words, to := range answers {
			var found []string
			for shown, where := range got.leads[step] {
				if shown == words || strings.HasPrefix(shown, words+" (") || strings.HasPrefix(shown, words+" - ") {
					found = append(found, where)
				}
			}
			assert.Contains(t, found, to, "%s: %s", step, words)
		}
	}
}

func causes(b *tree.Book, e *tree.End) (drive tree.Drive) {
	for _, id := range append(append([]string{}, e.Likely...), e.Possible...) {
		drive = max(drive, b.Cause(id).Drive)
	}
	return drive
}

// In the outline of every tree of the embedded book each step and each end
// stands once, and every answer leads where the book leads it: to a step that
// stands further down.
func TestOutlineIsTheTree(t *testing.T) {
	b := embedded(t)
	title := regexp.MustCompile(`^ *(\d+)\. $`)
	leads := regexp.MustCompile(`^(\d+)\. (\S+)$`)
	for _, c := range b.Complaints {
		t.Run(c.ID, func(t *testing.T) {
			got := seen{leads: map[string]map[string]string{}}
			lines := b.Outline(c.ID)
			assert.Equal(t, c.Say+" ("+c.ID+")", lines[0].Text)
			at := map[string]int{}
			for _, l := range lines {
				if m := title.FindStringSubmatch(l.Head); m != nil {
					at[l.Text], _ = strconv.Atoi(m[1])
				}
			}
			step, open, told := "", []string{}, map[string]bool{}
			for _, l := range lines {
				switch {
				case title.MatchString(l.Head):
					step = l.Text
					got.steps = append(got.steps, step)
					got.leads[step] = map[string]string{}
					assert.Equal(t, len(got.steps), at[step], step)
				case l.Head == "    - ":
					open = append(open, l.Text)
				case l.Head == "      → ":
					require.NotEmpty(t, open, step)
					to := l.Text
					if m := leads.FindStringSubmatch(to); m != nil {
						to = m[2]
						assert.Equal(t, m[1], strconv.Itoa(at[to]), "%s leads to %s", step, l.Text)
						assert.Greater(t, at[to], at[step], "%s leads to %s", step, l.Text)
					} else {
						got.ends++
					}
					for _, words := range open {
						got.leads[step][words] = to
					}
					open = nil
				case l.Head == "    " && strings.Contains(l.Text, "): "):
					id, _, _ := strings.Cut(l.Text, " (")
					if cause := b.Cause(id); cause != nil {
						told[id] = true
						assert.Equal(t, fmt.Sprintf("%s (%s): %s", id, cause.Drive, cause.Say), l.Text)
					}
				}
			}
			assert.Empty(t, open)
			hold(t, wanted(b, c.ID, func(e *tree.End) string {
				for _, id := range append(append([]string{}, e.Likely...), e.Possible...) {
					assert.True(t, told[id], "%s is named at an end and not told below", id)
				}
				if len(e.Likely)+len(e.Possible) == 0 {
					return "End: names no cause"
				}
				var parts []string
				if len(e.Likely) > 0 {
					parts = append(parts, "likely "+strings.Join(e.Likely, ", "))
				}
				if len(e.Possible) > 0 {
					parts = append(parts, "possible "+strings.Join(e.Possible, ", "))
				}
				return fmt.Sprintf("End (%s): %s", causes(b, e), strings.Join(parts, "; "))
			}), got)
		})
	}
}

// A chart is what a strict reader of Mermaid's flowcharts takes out of one.
type chart struct {
	trees map[string]string   // subgraph: its title
	nodes map[string][]string // lines of each label
	edges []edge
	halts map[string]bool
}

type edge struct {
	from, to string
	answers  []string
}

const (
	nodeID    = `[a-z][a-z0-9_]*_e?[0-9]+`
	nodeLabel = `"((?:[\pL\pN ,?/'.-]|#[0-9]+;|<br/>)+)"`
)

var (
	subgraphLine = regexp.MustCompile(`^  subgraph (Tree_[a-z0-9_]+)\[` + nodeLabel + `\]$`)
	nodeLine     = regexp.MustCompile(`^    (` + nodeID + `)(?:\[` + nodeLabel + `\]|\[\[` + nodeLabel + `\]\]|\(\[` + nodeLabel + `\]\))$`)
	edgeLine     = regexp.MustCompile(`^    (` + nodeID + `) -->\|` + nodeLabel + `\| (` + nodeID + `)$`)
	classLine    = regexp.MustCompile(`^  class (` + nodeID + `(?:,` + nodeID + `)*) halt$`)
	codePoint    = regexp.MustCompile(`#([0-9]+);`)
	listMark     = regexp.MustCompile(`^(?:[0-9]+[.)]|[-+*]) `)
)

// readChart reads a flowchart, and fails on whatever Mermaid could take for
// something else than words: it is stricter than Mermaid.
func readChart(t require.TestingT, text string) chart {
	out := chart{map[string]string{}, map[string][]string{}, nil, map[string]bool{}}
	lines := func(label string) []string {
		var said []string
		for line := range strings.SplitSeq(label, "<br/>") {
			require.False(t, listMark.MatchString(line), "read as a list: %s", line)
			said = append(said, codePoint.ReplaceAllStringFunc(line, func(code string) string {
				n, err := strconv.Atoi(code[1 : len(code)-1])
				require.NoError(t, err)
				return string(rune(n))
			}))
		}
		return said
	}
	rows := strings.Split(strings.TrimSuffix(text, "\n"), "\n")
	require.Equal(t, "flowchart TD", rows[0])
	open := false
	for _, row := range rows[1:] {
		if m := subgraphLine.FindStringSubmatch(row); m != nil {
			require.False(t, open, row)
			require.NotContains(t, out.trees, m[1])
			open, out.trees[m[1]] = true, strings.Join(lines(m[2]), "\n")
		} else if row == "  end" {
			require.True(t, open)
			open = false
		} else if m := nodeLine.FindStringSubmatch(row); m != nil {
			require.True(t, open, row)
			require.NotContains(t, out.nodes, m[1])
			out.nodes[m[1]] = lines(m[2] + m[3] + m[4])
		} else if m := edgeLine.FindStringSubmatch(row); m != nil {
			out.edges = append(out.edges, edge{m[1], m[3], lines(m[2])})
		} else if m := classLine.FindStringSubmatch(row); m != nil {
			for id := range strings.SplitSeq(m[1], ",") {
				out.halts[id] = true
			}
		} else {
			require.Equal(t, "  classDef halt stroke-width:4px", row)
		}
	}
	require.False(t, open)
	for _, e := range out.edges {
		require.Contains(t, out.nodes, e.from)
		require.Contains(t, out.nodes, e.to)
	}
	return out
}

// The same of the flowcharts; and none is larger than Mermaid draws.
func TestMermaidIsTheTree(t *testing.T) {
	b := embedded(t)
	for _, c := range b.Complaints {
		t.Run(c.ID, func(t *testing.T) {
			text := b.Mermaid(c.ID)
			assert.Less(t, len(text), 50000, "Mermaid's maxTextSize")
			chart := readChart(t, text)
			assert.Less(t, len(chart.edges), 500, "Mermaid's maxEdges")
			assert.Len(t, chart.trees, 1)
			got := seen{leads: map[string]map[string]string{}}
			isEnd := func(node string) bool { return strings.HasPrefix(chart.nodes[node][0], "End - ") }
			for node, said := range chart.nodes {
				if isEnd(node) {
					got.ends++
					assert.Equal(t, said[0] == "End - stop", chart.halts[node], "told by a word and by a class: %v", said)
					continue
				}
				got.steps = append(got.steps, said[0])
				got.leads[said[0]] = map[string]string{}
			}
			into := map[string]int{}
			for _, e := range chart.edges {
				to := chart.nodes[e.to][0]
				if isEnd(e.to) {
					to = strings.Join(chart.nodes[e.to], "; ")
					into[e.to]++
				}
				for _, words := range e.answers {
					got.leads[chart.nodes[e.from][0]][words] = to
				}
			}
			for node, n := range into {
				assert.Equal(t, 1, n, node)
			}
			hold(t, wanted(b, c.ID, func(e *tree.End) string {
				if len(e.Likely)+len(e.Possible) == 0 {
					return "End - names no cause"
				}
				out := "End - " + causes(b, e).String()
				for _, id := range e.Likely {
					out += fmt.Sprintf("; likely %s - %s", id, b.Cause(id).Drive)
				}
				for _, id := range e.Possible {
					out += fmt.Sprintf("; possible %s - %s", id, b.Cause(id).Drive)
				}
				return out
			}), got)
		})
	}
	whole := readChart(t, b.Mermaid())
	assert.Len(t, whole.trees, len(b.Complaints)+1)
}

// The first looks stand in their order, each with all that it may be answered.
func TestLooksAreDrawn(t *testing.T) {
	b := embedded(t)
	at := 0
	var answers []string
	for _, l := range b.Outline(tree.First) {
		if strings.HasSuffix(l.Head, ". ") && at < len(b.Looks) && l.Text == b.Looks[at].Check {
			at++
		}
		if l.Head == "    - " {
			answers = append(answers, l.Text)
		}
	}
	assert.Equal(t, len(b.Looks), at)
	chart := readChart(t, b.Mermaid(tree.First))
	assert.Len(t, chart.edges, len(chart.nodes)-1, "a chain")
	shown := 0
	for _, e := range chart.edges {
		shown += len(e.answers)
	}
	assert.Len(t, answers, shown)
	want := 0
	for _, e := range b.Listing() {
		if e.Tree == tree.First {
			want += len(e.Check.Answers) + 1
		}
	}
	assert.Equal(t, want, shown)
}

// Whatever words a book has, the flowchart says them and nothing else.
func TestMermaidTakesAnyWords(t *testing.T) {
	good := goodBook(t)
	hard := []string{`"quoted" [a] {b} (c) |d|`, "#quot; %% end <b>x</b> `code` ;", "1. first", "- dash", "* star", "3) three", "style a:b#c;", "a --> b", "1.5 in", "Größe µm"}
	rapid.Check(t, func(r *rapid.T) {
		words := rapid.OneOf(rapid.SampledFrom(hard), rapid.StringMatching(`[!-~][ -~\n]{0,30}[!-~]`)).Draw(r, "words")
		quoted, err := json.Marshal(words)
		require.NoError(r, err)
		fsys := fstest.MapFS{}
		for name, f := range good {
			fsys[name] = f
		}
		const ask = "ask: Does it shake at forty?"
		file := "shared/questions.yaml"
		require.Contains(r, string(good[file].Data), ask)
		fsys[file] = &fstest.MapFile{Data: []byte(strings.Replace(string(good[file].Data), ask, "ask: "+string(quoted), 1))}
		b, err := tree.Load(fsys, calcs)
		require.NoError(r, err)
		for _, said := range readChart(r, b.Mermaid("shake")).nodes {
			if said[0] == b.Complaint("shake").Begin {
				require.True(r, strings.HasSuffix(strings.Join(said, "\n"), "\n"+words), "%q", said)
				return
			}
		}
		r.Fatal("the step is not there")
	})
}

func embedded(t *testing.T) *tree.Book {
	t.Helper()
	b, err := tree.Load(book.FS, calcs)
	require.NoError(t, err)
	return b
}
