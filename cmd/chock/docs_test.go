package main

import (
	"bytes"
	"errors"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"chock/brakes"
	"chock/tree"
)

// With -update the documents' output blocks and lists are written anew:
//
//	go test ./cmd/chock -run TestDocs -update
//
// A block that was cut with "..." keeps its cuts: as many first and last
// lines, and what stands between two cuts from the line that begins it.
var updateDocs = flag.Bool("update", false, "write the output blocks of README.md and docs/ anew")

// A console block in a document is commands and what they print:
//
//	```console
//	$ printf 'pedal shudders\nstop\n' | chock --plain --record check.yaml
//	What does it do?
//	...
//	```
//
// The commands run in one folder, which holds a copy of docs/, the demo and, as small/, the
// book of docs/tree-language.md, so that a second command finds the first
// one's record. A line that is "..." stands
// for any lines. What goes to standard error stands among the rest, as on a
// screen. "; echo $?" after a command prints its exit status.
type block struct {
	file  string
	start int // index of the line after ```console
	lines []string
}

func docFiles(t *testing.T) []string {
	t.Helper()
	files := []string{"README.md", "DEVELOPERS.md"}
	more, err := filepath.Glob(filepath.Join(root, "docs", "*.md"))
	require.NoError(t, err)
	for _, path := range more {
		files = append(files, "docs/"+filepath.Base(path))
	}
	return files
}

func readDoc(t *testing.T, file string) []string {
	t.Helper()
	data, err := os.ReadFile(filepath.Join(root, file))
	require.NoError(t, err)
	return strings.Split(strings.ReplaceAll(string(data), "\r\n", "\n"), "\n")
}

// blocksOf gives the console blocks among lines.
func blocksOf(t *testing.T, file string, lines []string) []block {
	t.Helper()
	var out []block
	for i := 0; i < len(lines); i++ {
		if lines[i] != "```console" {
			continue
		}
		end := slices.Index(lines[i:], "```")
		require.GreaterOrEqual(t, end, 0, "%s:%d: a block that does not end", file, i+1)
		out = append(out, block{file, i + 1, lines[i+1 : i+end]})
		i += end
	}
	return out
}

func TestDocsExamples(t *testing.T) {
	for _, file := range docFiles(t) {
		lines := readDoc(t, file)
		path, err := filepath.Abs(filepath.Join(root, file)) // the examples change the folder
		require.NoError(t, err)
		t.Run(filepath.Base(file), func(t *testing.T) {
			dir := exampleFolder(t)
			blocks := blocksOf(t, file, lines)
			var fresh [][]string
			for _, b := range blocks {
				fresh = append(fresh, runBlock(t, b, dir))
			}
			if !*updateDocs {
				return
			}
			for i, b := range slices.Backward(blocks) {
				lines = slices.Replace(lines, b.start, b.start+len(b.lines), fresh[i]...)
			}
			writeDoc(t, path, lines)
		})
	}
}

// exampleFolder is where examples run: a new folder with a copy of docs/, the demo
// and the small book.
func exampleFolder(t *testing.T) string {
	t.Helper()
	docs, err := filepath.Abs(filepath.Join(root, "docs"))
	require.NoError(t, err)
	// A short name, so that no path is longer than a line of the screen.
	dir, err := os.MkdirTemp("", "d")
	require.NoError(t, err)
	t.Cleanup(func() { os.RemoveAll(dir) })
	dir, err = filepath.EvalSymlinks(dir)
	require.NoError(t, err)
	require.NoError(t, os.CopyFS(filepath.Join(dir, "docs"), os.DirFS(docs)))
	require.NoError(t, os.CopyFS(filepath.Join(dir, "cmd/chock/demo"), os.DirFS(filepath.Join(docs, "../cmd/chock/demo"))))
	page := strings.Join(readDoc(t, "docs/tree-language.md"), "\n")
	for _, file := range regexp.MustCompile("(?s)```yaml\n# (\\S+\\.yaml)\n(.*?)```").FindAllStringSubmatch(page, -1) {
		path := filepath.Join(dir, "small", file[1])
		require.NoError(t, os.MkdirAll(filepath.Dir(path), 0o700))
		require.NoError(t, os.WriteFile(path, []byte(file[2]), 0o600))
	}
	t.Setenv("XDG_DATA_HOME", filepath.Join(dir, "data"))
	t.Setenv("HOME", dir)
	t.Setenv("COLUMNS", "80")
	t.Setenv("NO_COLOR", "1")
	t.Setenv("LC_ALL", "C.UTF-8")
	return dir
}

// runBlock runs each command of b, and holds what it prints to what follows
// it. It gives the block back with what was printed.
func runBlock(t *testing.T, b block, dir string) []string {
	t.Helper()
	var fresh []string
	for i := 0; i < len(b.lines); {
		at := fmt.Sprintf("%s:%d", b.file, b.start+i+1)
		command, begins := strings.CutPrefix(b.lines[i], "$ ")
		require.True(t, begins, "%s: want a command that begins with $", at)
		fresh = append(fresh, b.lines[i])
		for strings.HasSuffix(command, `\`) {
			i++
			require.Less(t, i, len(b.lines), at)
			fresh = append(fresh, b.lines[i])
			command = strings.TrimSuffix(command, `\`) + strings.TrimSpace(b.lines[i])
		}
		i++
		want := b.lines[i:]
		if next := slices.IndexFunc(want, func(s string) bool { return strings.HasPrefix(s, "$ ") }); next >= 0 {
			want = want[:next]
		}
		i += len(want)
		got := runCommand(t, at, command, dir)
		switch {
		case matches(want, got):
			fresh = append(fresh, want...)
		case *updateDocs:
			t.Logf("%s: written anew", at)
			fresh = append(fresh, recut(t, at, want, got)...)
		default:
			assert.Fail(t, "an example prints something else now",
				"%s: %s\n\nprinted:\n%s\n\nthe document has:\n%s\n\nlook at it, then: go test ./cmd/chock -run TestDocs -update",
				at, command, strings.Join(got, "\n"), strings.Join(want, "\n"))
		}
	}
	return fresh
}

// runCommand runs a line such as `printf 'a\n' | chock --plain; echo $?`.
func runCommand(t *testing.T, at, command, dir string) []string {
	t.Helper()
	t.Chdir(dir)
	command, status := strings.CutSuffix(command, "; echo $?")
	in := ""
	if first, second, piped := strings.Cut(command, " | chock"); piped {
		args := words(t, at, first)
		require.Equal(t, "printf", args[0], "%s: examples pipe from printf", at)
		require.Len(t, args, 2, at)
		in, command = strings.ReplaceAll(args[1], `\n`, "\n"), "chock"+second
	}
	args := words(t, at, command)
	require.Equal(t, "chock", args[0], "%s: examples run chock", at)
	var out bytes.Buffer
	code := 0
	if err := run(args[1:], strings.NewReader(in), &out, &out); err != nil {
		code = complain(err, &out)
	}
	if status {
		fmt.Fprintln(&out, code)
	}
	if out.Len() == 0 {
		return nil
	}
	// A path is one word, and where a line breaks before it depends on dir.
	text := regexp.MustCompile(`[ \n]`+regexp.QuoteMeta(dir+string(filepath.Separator))).ReplaceAllString(out.String(), " ")
	lines := strings.Split(strings.TrimSuffix(text, "\n"), "\n")
	for i := range lines {
		lines[i] = strings.TrimRight(lines[i], " ")
	}
	return lines
}

// words parts a command line as a shell does: quotes of both kinds keep
// blanks, and within double quotes \" is a quote.
func words(t *testing.T, at, line string) []string {
	t.Helper()
	var out []string
	word, quote, in := "", rune(0), false
	for i, r := range line {
		switch {
		case quote == '"' && r == '\\':
			require.True(t, strings.HasPrefix(line[i:], `\"`), "%s: only \\\" is known within double quotes", at)
		case quote == '"' && r == '"' && line[i-1] == '\\':
			word += `"`
		case quote != 0 && r == quote:
			quote = 0
		case quote == 0 && (r == '\'' || r == '"'):
			quote, in = r, true
		case quote == 0 && r == ' ':
			if in {
				out = append(out, word)
			}
			word, in = "", false
		default:
			word += string(r)
			in = true
		}
	}
	require.Zero(t, quote, "%s: a quote that does not end", at)
	if in {
		out = append(out, word)
	}
	require.NotEmpty(t, out, at)
	return out
}

// parts cuts what a document shows at its "..." lines.
func parts(want []string) [][]string {
	out := [][]string{nil}
	for _, line := range want {
		if strings.TrimSpace(line) == "..." {
			out = append(out, nil)
			continue
		}
		out[len(out)-1] = append(out[len(out)-1], line)
	}
	return out
}

func matches(want, got []string) bool {
	cut := parts(want)
	if len(cut) == 1 {
		return slices.Equal(cut[0], got)
	}
	first, last := cut[0], cut[len(cut)-1]
	if len(got) < len(first)+len(last) || !slices.Equal(got[:len(first)], first) || !slices.Equal(got[len(got)-len(last):], last) {
		return false
	}
	rest := got[len(first) : len(got)-len(last)]
	for _, part := range cut[1 : len(cut)-1] {
		i := find(rest, part)
		if i < 0 {
			return false
		}
		rest = rest[i+len(part):]
	}
	return true
}

// find gives where part stands among lines, or -1.
func find(lines, part []string) int {
	for i := 0; i+len(part) <= len(lines); i++ {
		if slices.Equal(lines[i:i+len(part)], part) {
			return i
		}
	}
	return -1
}

// recut cuts new output as the old was cut.
func recut(t *testing.T, at string, want, got []string) []string {
	t.Helper()
	cut := parts(want)
	if len(cut) == 1 {
		return got
	}
	head := min(len(cut[0]), len(got))
	tail := min(len(cut[len(cut)-1]), len(got)-head)
	out := slices.Clone(got[:head])
	rest := got[head : len(got)-tail]
	for _, part := range cut[1 : len(cut)-1] {
		i := -1
		if len(part) > 0 {
			i = slices.Index(rest, part[0])
		}
		if i < 0 {
			t.Logf("%s: nothing prints %q now; that part is gone from the example", at, part)
			continue
		}
		out = append(append(out, "..."), rest[i:min(i+len(part), len(rest))]...)
		rest = rest[min(i+len(part), len(rest)):]
	}
	return append(append(out, "..."), got[len(got)-tail:]...)
}

func writeDoc(t *testing.T, path string, lines []string) {
	t.Helper()
	require.NoError(t, os.WriteFile(path, []byte(strings.Join(lines, "\n")), 0o644))
}

// Every way of cutting that the documents use, and that a change is seen.
func TestDocsMatching(t *testing.T) {
	got := []string{"a", "b", "c", "d"}
	for _, tt := range []struct {
		want string
		ok   bool
	}{
		{"a b c d", true},
		{"a b c", false},
		{"a ... d", true},
		{"...", true},
		{"... c ...", true},
		{"... c b ...", false},
		{"a ... b ... c d", true},
		{"a b c d ... d", false},
		{"b ... d", false},
	} {
		assert.Equal(t, tt.ok, matches(strings.Fields(tt.want), got), tt.want)
	}
	assert.Equal(t, []string{"a", "...", "c", "...", "d"}, recut(t, "here", strings.Fields("A ... c ... D"), got))
	assert.Equal(t, []string{"chock", "calc", "0 1.6 2", `.004"`, ""}, words(t, "here", `chock  calc '0 1.6 2' ".004\"" ''`))
}

// A list in a document stands between <!-- NAME --> and <!-- end -->, and is
// what the book says today.
func TestDocsLists(t *testing.T) {
	b, err := tree.Load(bookAt(""), calculations())
	require.NoError(t, err)
	lists := map[string][]string{}

	lists["looks"] = []string{"| first look | bars | why it stands here |", "| --- | --- | --- |"}
	for _, l := range b.Looks {
		bars := "-"
		if look := b.Checks[l.Check].Look; look != "" {
			bars = string(look)
		}
		lists["looks"] = append(lists["looks"], fmt.Sprintf("| %s | %s | %s |", l.Check, bars, l.Because))
	}
	lists["single-looks"] = []string{"| dangerous cause | what it is |", "| --- | --- |"}
	for _, c := range b.SingleLooks() {
		lists["single-looks"] = append(lists["single-looks"], fmt.Sprintf("| %s | %s |", c.ID, c.Say))
	}
	lists["figures"] = []string{"| figure | value | for | mark | from |", "| --- | --- | --- | --- | --- |"}
	for _, f := range brakes.Figures() {
		lists["figures"] = append(lists["figures"], fmt.Sprintf("| %s | %s | %s | %s | %s |", spaced(f.Name), f.Value.Both(), f.Scope, f.Mark, f.Source))
	}

	lists["lengths"] = lengths(t, b)
	lists["mildest"] = []string{"| tree | end at | on | mildest advice |", "| --- | --- | --- | --- |"}
	for _, c := range b.Complaints {
		for _, m := range b.Mildest(c.ID) {
			lists["mildest"] = append(lists["mildest"], fmt.Sprintf("| %s | %s | %s | %s |", c.ID, m.Step.ID, strings.Join(m.Answers, ", "), m.Drive))
		}
	}

	used := map[string]bool{}
	for _, file := range docFiles(t) {
		lines := readDoc(t, file)
		for i := 0; i < len(lines); i++ {
			name, begins := strings.CutPrefix(lines[i], "<!-- ")
			name, whole := strings.CutSuffix(name, " -->")
			if !begins || !whole || name == "end" {
				continue
			}
			want, known := lists[name]
			require.True(t, known, "%s:%d: no list %q", file, i+1, name)
			used[name] = true
			end := slices.Index(lines[i:], "<!-- end -->")
			require.Positive(t, end, "%s:%d: no <!-- end -->", file, i+1)
			if *updateDocs {
				lines = slices.Replace(lines, i+1, i+end, want...)
				writeDoc(t, filepath.Join(root, file), lines)
				continue
			}
			assert.Equal(t, want, lines[i+1:i+end], "%s:%d: the list %s; write it anew with -update", file, i+1, name)
		}
	}
	for name := range lists {
		assert.True(t, used[name], "no document shows the list %q", name)
	}
}

// lengths counts the checks of a talk: in the longest run of the first looks,
// on the longest path of each tree, and where everything is normal.
func lengths(t *testing.T, b *tree.Book) []string {
	t.Helper()
	inFirst := map[string]bool{} // asked with the first looks already
	for _, l := range b.Listing() {
		if l.Tree == "first" {
			inFirst[l.Check.ID] = true
		}
	}
	out := []string{"| what | checks |", "| --- | --- |",
		fmt.Sprintf("| first looks, at most | %d |", mostLooks(b))}
	for _, c := range b.Complaints {
		out = append(out, fmt.Sprintf("| %s: its tree after the first looks, at most | %d |", c.ID, b.Longest(c.ID)))
	}
	_, said := soundTalk(t)
	first, rest, minutes := map[string]bool{}, map[string]bool{}, 0
	for _, s := range said {
		c := b.Checks[s.Check]
		if c == nil {
			continue // a figure
		}
		minutes += c.Minutes
		if inFirst[s.Check] {
			first[s.Check] = true
		} else {
			rest[s.Check] = true
		}
	}
	return append(out, fmt.Sprintf("| a talk in which everything is normal, every tool at hand: first looks + tree | %d + %d = %d |", len(first), len(rest), len(first)+len(rest)),
		fmt.Sprintf("| its minutes at the vehicle, by the estimates of the book, without getting there | %d |", minutes))
}

// mostLooks is the largest number of first looks, and of facts that they ask
// for, of one vehicle: only-if leaves some out, so every way of answering
// what only-if asks about is tried.
func mostLooks(b *tree.Book) int {
	var asked []*tree.Check
	var deciding []string // questions that an only-if names
	for _, l := range b.Listing() {
		if l.Tree != "first" {
			continue
		}
		asked = append(asked, l.Check)
		for _, cond := range l.Check.OnlyIf {
			if !slices.Contains(deciding, cond.Question) {
				deciding = append(deciding, cond.Question)
			}
		}
	}
	given := map[string]string{}
	var most func(i int) int
	most = func(i int) int {
		best := 0
		if i < len(deciding) {
			for _, a := range b.Checks[deciding[i]].Answers {
				given[deciding[i]] = a.ID
				best = max(best, most(i+1))
			}
			return best
		}
		for _, c := range asked {
			if !slices.ContainsFunc(c.OnlyIf, func(cond tree.Cond) bool { return !slices.Contains(cond.Answers, given[cond.Question]) }) {
				best++
			}
		}
		return best
	}
	return most(0)
}

// A document of docs/sources.md: a row of one of its tables.
type listedSource struct {
	line            int
	key, name, read string
	where           string // words by which screens and code name it, in backticks
}

// sourceRows reads the tables | key | document | how we know it | named as |.
func sourceRows(t *testing.T) []listedSource {
	t.Helper()
	var out []listedSource
	for i, line := range readDoc(t, "docs/sources.md") {
		cells := strings.Split(strings.Trim(line, "|"), "|")
		if !strings.HasPrefix(line, "| `") || len(cells) != 4 {
			continue
		}
		for j := range cells {
			cells[j] = strings.TrimSpace(cells[j])
		}
		out = append(out, listedSource{i + 1, strings.Trim(cells[0], "`"), cells[1], cells[2], cells[3]})
	}
	require.NotEmpty(t, out)
	return out
}

var backticked = regexp.MustCompile("`([^`]+)`")

// Every document is listed once, and says whether it was read; the book's
// documents and the list's are the same; every figure, and every document
// named in the code, is listed; and nothing is listed that nothing names.
func TestDocsSources(t *testing.T) {
	b, err := tree.Load(bookAt(""), calculations())
	require.NoError(t, err)
	rows := sourceRows(t)

	var code strings.Builder // what the code and the book say
	for _, path := range slices.Concat(repoFiles(t, ".go"), repoFiles(t, ".yaml"), repoFiles(t, ".txt")) {
		if strings.HasPrefix(path, "cmd/chock/docs_test.go") || strings.HasPrefix(path, "docs/") || path == "tree/book/shared/sources.yaml" {
			continue
		}
		data, err := os.ReadFile(filepath.Join(root, path))
		require.NoError(t, err)
		code.Write(data)
	}
	// A comment may break its lines anywhere.
	said := regexp.MustCompile(`\n\s*(//|#)?\s*`).ReplaceAllString(code.String(), " ")

	keys, names := map[string]bool{}, map[string]bool{}
	var named []string
	for _, r := range rows {
		at := fmt.Sprintf("docs/sources.md:%d", r.line)
		assert.False(t, keys[r.key] || names[r.name], "%s: %s is listed twice", at, r.key)
		keys[r.key], names[r.name] = true, true
		assert.Regexp(t, `^(read|from memory|read in part|second hand)\b`, r.read, "%s: say whether it was read", at)
		inBook := b.Sources[r.key] != ""
		if inBook {
			assert.Equal(t, b.Sources[r.key], r.name, "%s: the book names it otherwise", at)
		}
		words := backticked.FindAllStringSubmatch(r.where, -1)
		assert.True(t, inBook || len(words) > 0, "%s: %s: nothing in the code or the book names it", at, r.key)
		for _, w := range words {
			named = append(named, w[1])
			assert.True(t, strings.Contains(said, w[1]), "%s: %s is listed as %q, and nothing says so", at, r.key, w[1])
		}
	}
	for key := range b.Sources {
		assert.True(t, keys[key], "docs/sources.md does not list %q", key)
	}
	listed := func(text string) bool {
		return slices.ContainsFunc(named, func(n string) bool { return strings.Contains(text, n) })
	}
	for _, f := range brakes.Figures() {
		if f.Mark == brakes.Estimate && !strings.Contains(f.Source, "range in") {
			continue // our choice alone: there is no document
		}
		assert.True(t, listed(f.Source), "docs/sources.md does not list the document of %s: %s", f.Name, f.Source)
	}
	// What looks like a document in the code, and what the book's words cite.
	document := regexp.MustCompile(`\b(JCGM \d+|ILAC-\w+|NIST (TN|SP|StRD) ?\d*|ISO \d+|ASTM MNL \d+|Harter|Montgomery|SAE [J\d]+|49 CFR \d+\.\d+|US \d,\d+,\d+|Golub)`)
	cited := regexp.MustCompile(`\(published, [^);,]+`)
	found := document.FindAllString(said, -1)
	for _, path := range repoFiles(t, ".yaml") {
		if strings.HasPrefix(path, "tree/book/") {
			data, err := os.ReadFile(filepath.Join(root, path))
			require.NoError(t, err)
			for _, c := range cited.FindAllString(regexp.MustCompile(`\s+`).ReplaceAllString(string(data), " "), -1) {
				words, _, _ := strings.Cut(c, " - ")
				found = append(found, strings.TrimPrefix(words, "("))
			}
		}
	}
	for _, d := range found {
		assert.True(t, slices.ContainsFunc(named, func(n string) bool { return strings.Contains(n, d) || strings.Contains(d, n) }),
			"docs/sources.md does not list %q, which the code or the book names", d)
	}
}

// Links between the documents lead somewhere, and so do paths in backticks.
func TestDocsLinks(t *testing.T) {
	link := regexp.MustCompile(`\]\(([^)#:]+)(#[^)]*)?\)`)
	path := regexp.MustCompile("`((?:cmd|tree|brakes|docs|testdata|\\.ci)/[\\w./*-]*)`")
	for _, file := range docFiles(t) {
		for i, line := range readDoc(t, file) {
			for _, m := range link.FindAllStringSubmatch(line, -1) {
				_, err := os.Stat(filepath.Join(root, filepath.Dir(file), m[1]))
				assert.NoError(t, err, "%s:%d", file, i+1)
			}
			for _, m := range path.FindAllStringSubmatch(line, -1) {
				found, err := filepath.Glob(filepath.Join(root, m[1]))
				assert.True(t, err == nil && len(found) > 0, "%s:%d: there is no %s", file, i+1, m[1])
			}
		}
	}
}

// Every flag and exit status that the README names exists.
func TestDocsFlags(t *testing.T) {
	flags := regexp.MustCompile("--[a-z][a-z-]+")
	var help bytes.Buffer
	all := [][]string{{"--help"}, {"talk", "--help"}, {"tree", "list", "--help"}, {"sheet", "--help"}, {"vehicle", "--help"}, {"sources", "--help"},
		{"report", "--help"}, {"compare", "--help"}, {"record", "list", "--help"}}
	for _, name := range calcNames() {
		all = append(all, []string{"calc", name, "--help"})
	}
	for _, args := range all {
		require.NoError(t, run(args, strings.NewReader(""), &help, &help))
	}
	for _, file := range []string{"README.md", "docs/json.md", "docs/method.md"} {
		for i, line := range readDoc(t, file) {
			for _, f := range flags.FindAllString(line, -1) {
				assert.Contains(t, help.String(), f, "%s:%d names a flag that no command has", file, i+1)
			}
		}
	}
	for _, tt := range []struct {
		args []string
		code int
	}{
		{[]string{"version"}, 0},
		{[]string{"--plain", "--record", filepath.Join(t.TempDir(), "r.yaml")}, 1}, // the input ends early
		{[]string{"calc", "rotor"}, 2},
		{[]string{"nonsense"}, 2},
		{[]string{"calc", "rotor", "--dial", "0 9 18 9 thou", "--runout-limit", "5 thou", "--strict"}, 3},
	} {
		var out bytes.Buffer
		code := 0
		if err := run(tt.args, strings.NewReader(""), &out, &out); err != nil {
			code = complain(err, &out)
			var e exit
			assert.True(t, errors.As(err, &e) || code < 3)
		}
		assert.Equal(t, tt.code, code, "%v\n%s", tt.args, out.String())
	}
	status := readDoc(t, "README.md")
	for _, code := range []int{0, 1, 2, exitStrict, 130} {
		row := "| " + strconv.Itoa(code) + " |"
		assert.True(t, slices.ContainsFunc(status, func(s string) bool { return strings.HasPrefix(s, row) }), "the README's table of exit statuses has no %s", row)
	}
}
