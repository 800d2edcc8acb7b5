package tree

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"path"
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"gopkg.in/yaml.v3"

	"chock/brakes/unit"
)

// Bounds on what is read, so that a book can take neither the memory nor the
// patience of the person who opens it.
const (
	maxFile   = 1 << 20
	maxFiles  = 200
	maxBook   = 8 << 20
	maxDepth  = 12
	maxSteps  = 500 // of a tree
	maxNames  = 100 // in one list, and entries of one check
	maxSpoken = 400 // words that people use for a complaint
)

// Open reads what the first prompt needs: book.yaml. The rest of the book
// follows with [Book.Rest].
func Open(fsys fs.FS, calcs []Calculation) (*Book, error) {
	b := &Book{
		Checks: map[string]*Check{}, Figures: map[string]*Figure{}, Reach: map[Place]int{},
		Cautions: map[Place]string{}, Sources: map[string]string{}, sourceAt: map[string]Pos{}, causes: map[string]*Cause{},
		complaints: map[string]*Complaint{}, calcs: map[string]Calculation{},
		faults: &faults{lines: map[string][]string{}, lost: map[string]bool{}, meant: map[string]bool{}},
	}
	for _, c := range calcs {
		b.calcs[c.Name] = c
	}
	b.read(fsys, "book.yaml", b.bookFile)
	return b, b.faults.err()
}

// Rest reads the remaining files of the book that Open began.
func (b *Book) Rest(fsys fs.FS) error {
	b.read(fsys, "first.yaml", b.firstFile)
	shared, _ := fs.Glob(fsys, "shared/*.yaml")
	if len(shared) > maxFiles {
		return fmt.Errorf("shared: more than %d files", maxFiles)
	}
	for _, name := range shared {
		b.read(fsys, name, b.sharedFile)
	}
	b.read(fsys, "causes.yaml", b.causesFile)
	for _, c := range b.Complaints {
		b.read(fsys, "complaints/"+c.ID+".yaml", func(f *file, n *yaml.Node) { b.complaintFile(f, n, c) })
	}
	if !b.unread {
		b.join()
	}
	return b.faults.err()
}

// Load reads a whole book and proves it.
func Load(fsys fs.FS, calcs []Calculation) (*Book, error) {
	b, err := Open(fsys, calcs)
	var faulty Faults
	if err != nil && !errors.As(err, &faulty) {
		return nil, err
	}
	if err = b.Rest(fsys); err != nil && !errors.As(err, &faulty) {
		return nil, err
	}
	if !b.unread { // else half of the book would be missing to the other half
		b.prove(fsys)
	}
	if err := b.faults.err(); err != nil {
		return nil, err
	}
	return b, nil
}

// read parses one file into a node and hands its root mapping to fn.
func (b *Book) read(fsys fs.FS, name string, fn func(*file, *yaml.Node)) {
	if root := b.root(&file{name, b.faults}, fsys); root != nil {
		fn(&file{name, b.faults}, root)
	} else {
		b.unread = true
	}
}

// root reads a file down to its one mapping, or says why not and gives nil.
func (b *Book) root(f *file, fsys fs.FS) *yaml.Node {
	name := f.name
	data, err := readBounded(fsys, name)
	if err != nil {
		f.at(Pos{File: name}, "%v", err)
		return nil
	}
	if b.size += len(data); b.size > maxBook {
		f.at(Pos{File: name}, "with this file the book is larger than %d MB", maxBook>>20)
		return nil
	}
	f.lines[name] = strings.Split(string(data), "\n")
	if i := bytes.IndexFunc(data, foreign); i >= 0 {
		line := data[bytes.LastIndexByte(data[:i], '\n')+1 : i]
		what := "a control character; take it out"
		if r, _ := utf8.DecodeRune(data[i:]); r == utf8.RuneError {
			what = "not UTF-8 text; save the file as UTF-8"
		}
		f.at(Pos{name, 1 + bytes.Count(data[:i], []byte("\n")), 1 + utf8.RuneCount(line)}, "%s", what)
		return nil
	}
	if line := tooDeep(data); line > 0 {
		f.at(Pos{name, line, 1}, "nested more than %d levels deep; a book needs fewer", maxDepth)
		return nil
	}
	dec := yaml.NewDecoder(bytes.NewReader(data))
	var doc, second yaml.Node
	if err := dec.Decode(&doc); err != nil {
		if errors.Is(err, io.EOF) {
			f.at(Pos{File: name}, "the file is empty")
			return nil
		}
		f.syntax(err, data)
		return nil
	}
	if err := dec.Decode(&second); !errors.Is(err, io.EOF) {
		at := Pos{name, second.Line, 1}
		if at.Line == 0 {
			at.Line = 1
		}
		f.at(at, "a second document; one file holds one")
		return nil
	}
	root := doc.Content[0]
	if !f.plain(root, 0) {
		return nil
	}
	if root.Kind != yaml.MappingNode {
		f.errorf(root, "want keys and values, like `key: value`")
		return nil
	}
	return root
}

// foreign reports whether r has no place in a book's text: control characters,
// line breaks that editors count otherwise than YAML does, and what is left of
// bytes that are no text.
func foreign(r rune) bool {
	return r != '\n' && r != '\r' && r != '\t' && unicode.IsControl(r) || r == 0x2028 || r == 0x2029 || r == utf8.RuneError
}

// tooDeep gives the line on which brackets or indents go deeper than any book
// does, or 0. It stands before the YAML reader, whose time grows with depth.
func tooDeep(data []byte) int {
	depth, line := 0, 1
	for _, c := range data {
		switch c {
		case '\n':
			line++
		case '{', '[':
			if depth++; depth > 40 {
				return line
			}
		case '}', ']':
			depth = max(depth-1, 0)
		}
	}
	for i, l := range bytes.Split(data, []byte("\n")) {
		if dashes := bytes.Count(l[:min(len(l), 400)], []byte("- ")); dashes > 60 {
			return i + 1
		}
	}
	return 0
}

func readBounded(fsys fs.FS, name string) ([]byte, error) {
	r, err := fsys.Open(name)
	if err != nil {
		if errors.Is(err, fs.ErrNotExist) {
			return nil, errors.New("the file is missing")
		}
		return nil, err
	}
	defer r.Close()
	data, err := io.ReadAll(io.LimitReader(r, maxFile+1))
	if err != nil {
		return nil, err
	}
	if len(data) > maxFile {
		return nil, fmt.Errorf("larger than %d MB; split it", maxFile>>20)
	}
	return data, nil
}

// syntax rewords what the YAML library says, with the repair that authors need.
func (f *file) syntax(err error, data []byte) {
	msg := strings.TrimPrefix(err.Error(), "yaml: ")
	if rest, ok := strings.CutPrefix(msg, "line "); ok {
		_, msg, _ = strings.Cut(rest, ": ")
	}
	lines := f.lines[f.name]
	line := min(1+readable(lines), len(lines))
	indent := lines[line-1][:len(lines[line-1])-len(strings.TrimLeft(lines[line-1], " \t"))]
	at := Pos{f.name, line, 1 + len(indent)}
	switch {
	case strings.Contains(indent, "\t"):
		at.Col = 1 + strings.Index(indent, "\t")
		msg = "a tab; indent with blanks"
	case strings.Contains(msg, "cannot start any token"):
		msg = "a sign that means something to YAML; quote the words that begin with it"
	case strings.Contains(msg, "mapping values are not allowed"):
		msg = "one colon too many, or an indent too deep; quote words that hold a colon and a blank"
	case strings.Contains(msg, "did not find expected ',' or"):
		msg = "brackets that do not close well; inside {} quote words that hold a comma, a question mark, a quote or a bracket"
	case strings.Contains(msg, "did not find expected"):
		msg = "this line does not fit the lines above it; look at its indent, and for a quote or a bracket too many"
	case strings.Contains(msg, "could not find expected ':'"):
		msg = "a line without a colon; write `key: value`, and indent words that go on"
	case strings.Contains(msg, "unexpected end of stream"):
		msg = "a quote that nothing closes"
	case strings.Contains(msg, "unknown anchor"):
		name := strings.Trim(strings.TrimSuffix(strings.TrimPrefix(msg, "unknown anchor "), " referenced"), "'")
		if i := bytes.Index(data, []byte("*"+name)); i >= 0 {
			at = Pos{f.name, 1 + bytes.Count(data[:i], []byte("\n")), i - bytes.LastIndexByte(data[:i], '\n')}
		}
		f.at(at, "an alias; write the words out, or quote words that begin with a star")
		return
	}
	f.at(at, "not YAML: %s", msg)
}

// readable counts the lines up to the first that YAML cannot read. The library
// names the line on which an entry began, or the last of the file, and counts
// some from zero. A beginning of the file that ends inside brackets or quotes
// cannot be read either, so a few lines more are tried before one is blamed.
func readable(lines []string) int {
	ok := func(n int) bool {
		var doc yaml.Node
		err := yaml.NewDecoder(strings.NewReader(strings.Join(lines[:n], "\n"))).Decode(&doc)
		return err == nil || errors.Is(err, io.EOF)
	}
	low := 0 // lines that can be read
	for {
		good, bad := low, len(lines)
		for bad-good > 1 {
			if mid := (good + bad) / 2; ok(mid) {
				good = mid
			} else {
				bad = mid
			}
		}
		low = good
		more := 0
		for n := good + 2; n < len(lines) && n <= good+20 && more == 0; n++ {
			if ok(n) {
				more = n
			}
		}
		if more == 0 {
			return low
		}
		low = more
	}
}

// plain refuses what lets one line stand for another, and bare words that
// YAML readers take for true and false. It reports whether n may be read.
func (f *file) plain(n *yaml.Node, depth int) bool {
	switch {
	case n.Kind == yaml.AliasNode:
		f.errorf(n, "an alias; write the words out")
		return false
	case n.Anchor != "":
		f.errorf(n, "an anchor; write the words out where they are used")
		return false
	case depth > maxDepth && n.Kind != yaml.ScalarNode:
		f.errorf(n, "nested more than %d levels deep; a book needs fewer", maxDepth)
		return false
	case strings.HasPrefix(n.Tag, "!") && !strings.HasPrefix(n.Tag, "!!"):
		f.errorf(n, "a tag; plain words only")
		return false
	}
	ok := true
	for i, c := range n.Content {
		if n.Kind == yaml.MappingNode && i%2 == 0 {
			if c.Tag == "!!merge" {
				f.errorf(c, "a merge key; write the entries out")
				ok = false
				continue
			}
			if c.Kind != yaml.ScalarNode {
				f.errorf(c, "a key must be a word")
				ok = false
				continue
			}
		}
		ok = f.plain(c, depth+1) && ok
	}
	return ok
}

// entry is one key and value of a mapping.
type entry struct{ key, val *yaml.Node }

// entries gives the entries of a mapping, refusing repeated keys, which the
// YAML library lets through in a node.
func (f *file) entries(n *yaml.Node, want string) []entry {
	if n.Kind != yaml.MappingNode {
		if n.Kind == yaml.ScalarNode && n.Value == "" && n.Tag == "!!null" {
			f.errorf(n, "nothing here; want %s", want)
			return nil
		}
		f.errorf(n, "want %s", want)
		return nil
	}
	seen := map[string]*yaml.Node{}
	var out []entry
	for i := 0; i+1 < len(n.Content); i += 2 {
		k, v := n.Content[i], n.Content[i+1]
		if first := seen[k.Value]; first != nil {
			f.errorf(k, "key %q given twice, first on line %d", printable(k.Value), first.Line)
			continue
		}
		seen[k.Value] = k
		if n.Style&yaml.FlowStyle != 0 && v.Kind == yaml.ScalarNode && v.Tag == "!!null" && v.Value == "" {
			f.errorf(k, "%q has no value; a comma inside {} parts entries: quote the words", printable(k.Value))
			continue
		}
		out = append(out, entry{k, v})
	}
	return out
}

// fields hands known entries to fn and refuses unknown and missing ones.
func (f *file) fields(n *yaml.Node, known, required string, fn func(key string, k, v *yaml.Node)) {
	names := strings.Fields(known)
	seen := map[string]bool{}
	for _, e := range f.entries(n, "entries: "+strings.Join(names, ", ")) {
		key := e.key.Value
		if !slices.Contains(names, key) {
			if meant := nearest(key, names); meant != "" {
				seen[meant] = true
				f.errorf(e.key, "unknown key %q, did you mean %q", key, meant)
				continue
			}
			f.errorf(e.key, "unknown key %q; want one of %s", printable(key), strings.Join(names, ", "))
			continue
		}
		seen[key] = true
		fn(key, e.key, e.val)
	}
	if n.Kind != yaml.MappingNode {
		return
	}
	var missing []string
	for _, r := range strings.Fields(required) {
		if !seen[r] {
			missing = append(missing, fmt.Sprintf("%q", r))
		}
	}
	switch len(missing) {
	case 0:
	case 1:
		f.errorf(n, "missing key %s", missing[0])
	default:
		f.errorf(n, "missing keys %s", strings.Join(missing, ", "))
	}
}

// near suggests the name in m that was probably meant. A book too large or too
// faulty for that gets no suggestions.
func near[V any](fs *faults, word string, m map[string]V) string {
	if len(fs.list) > 100 || len(m) > 2000 {
		return ""
	}
	return fs.suggest(word, sortedKeys(m))
}

// suggest is nearest, and notes what was meant.
func (fs *faults) suggest(word string, names []string) string {
	best := nearest(word, names)
	if best == "" {
		return ""
	}
	fs.meant[best] = true
	return fmt.Sprintf(", did you mean %q", best)
}

// nearest gives the name that was probably meant, or "".
func nearest(word string, names []string) string {
	best, least := "", 3
	for _, n := range names {
		if d := distance(word, n); d < least {
			best, least = n, d
		}
	}
	return best
}

// distance counts single-letter edits, up to 3.
func distance(a, b string) int {
	if len(a) > 40 || len(b) > 40 || len(a)-len(b) > 2 || len(b)-len(a) > 2 {
		return 3
	}
	prev := make([]int, len(b)+1)
	for j := range prev {
		prev[j] = j
	}
	for i := range len(a) {
		cur := make([]int, len(b)+1)
		cur[0] = i + 1
		for j := range len(b) {
			cost := 1
			if a[i] == b[j] {
				cost = 0
			}
			cur[j+1] = min(prev[j]+cost, prev[j+1]+1, cur[j]+1)
		}
		prev = cur
	}
	return prev[len(b)]
}

// words reads a scalar that holds text.
func (f *file) words(n *yaml.Node) string {
	if n.Kind != yaml.ScalarNode || strings.TrimSpace(n.Value) == "" {
		f.errorf(n, "want words")
		return ""
	}
	if f.bareBool(n) {
		return ""
	}
	// Quotes can spell what the file itself may not hold, like "\x1b".
	if strings.ContainsFunc(n.Value, func(r rune) bool { return r == '\t' || r == '\r' || foreign(r) }) {
		f.errorf(n, "a tab or a control character in the words; take it out")
		return ""
	}
	return strings.TrimSpace(n.Value)
}

func (f *file) bareBool(n *yaml.Node) bool {
	if n.Kind != yaml.ScalarNode || n.Style&(yaml.DoubleQuotedStyle|yaml.SingleQuotedStyle) != 0 {
		return false
	}
	switch strings.ToLower(n.Value) {
	case "yes", "no", "on", "off", "true", "false", "y", "n", "null", "~":
		f.errorf(n, "bare %s means something else to YAML; quote it or use other words", n.Value)
		return true
	}
	return false
}

// isID reports whether s is lower-case words and digits joined by hyphens.
func isID(s string) bool {
	if s == "" || len(s) > 60 || s[0] < 'a' || s[0] > 'z' {
		return false
	}
	for i := range len(s) {
		c := s[i]
		if c == '-' && (i+1 == len(s) || s[i+1] == '-') {
			return false
		}
		if c != '-' && (c < 'a' || c > 'z') && (c < '0' || c > '9') {
			return false
		}
	}
	return true
}

// id reads a name of the author's own.
func (f *file) id(n *yaml.Node) string {
	if n.Kind != yaml.ScalarNode {
		f.errorf(n, "want a name")
		return ""
	}
	if f.bareBool(n) {
		return ""
	}
	if !isID(n.Value) {
		f.errorf(n, "%q is not a name; use lower-case words joined by hyphens", printable(n.Value))
		return ""
	}
	return n.Value
}

// ids reads one name or a list of names.
func (f *file) ids(n *yaml.Node) []string {
	if n.Kind == yaml.ScalarNode {
		if id := f.id(n); id != "" {
			return []string{id}
		}
		return nil
	}
	if n.Kind != yaml.SequenceNode {
		f.errorf(n, "want a name or a list of names")
		return nil
	}
	if len(n.Content) == 0 {
		f.errorf(n, "an empty list; name one, or leave the key out")
	}
	if len(n.Content) > maxNames {
		f.errorf(n, "%d names; at most %d", len(n.Content), maxNames)
		return nil
	}
	var out []string
	for _, c := range n.Content {
		id := f.id(c)
		if id == "" {
			continue
		}
		if slices.Contains(out, id) {
			f.errorf(c, "%q is in this list twice", id)
			continue
		}
		out = append(out, id)
	}
	return out
}

// texts reads one line of words or a list of them.
func (f *file) texts(n *yaml.Node) []string {
	if n.Kind == yaml.ScalarNode {
		return []string{f.words(n)}
	}
	if n.Kind != yaml.SequenceNode {
		f.errorf(n, "want words or a list of words")
		return nil
	}
	var out []string
	for _, c := range n.Content {
		if c.Kind == yaml.MappingNode {
			f.errorf(c, "want words; quote them when they hold a colon and a blank")
			continue
		}
		out = append(out, f.words(c))
	}
	return out
}

func (f *file) number(n *yaml.Node, low, high int) int {
	v, err := strconv.Atoi(n.Value)
	if n.Kind != yaml.ScalarNode || err != nil || v < low || v > high {
		f.errorf(n, "want a whole number from %d to %d", low, high)
		return low
	}
	return v
}

// flag reads `true`; what is not so is left out, not written as false.
func (f *file) flag(n *yaml.Node) bool {
	if n.Kind != yaml.ScalarNode || n.Value != "true" {
		f.errorf(n, "want true, or leave the key out")
		return false
	}
	return true
}

func oneOf[T ~string](f *file, n *yaml.Node, among ...T) T {
	if n.Kind == yaml.ScalarNode && slices.Contains(among, T(n.Value)) {
		return T(n.Value)
	}
	var names []string
	for _, a := range among {
		names = append(names, string(a))
	}
	f.errorf(n, "%q is not one of %s", printable(n.Value), strings.Join(names, ", "))
	return ""
}

func (f *file) drive(n *yaml.Node) Drive {
	switch oneOf(f, n, "go", "care", "stop") {
	case "stop":
		return Stop
	case "care":
		return Care
	}
	return Go
}

// window reads a plausible range, like 0.2 in to 2 in.
func (f *file) window(n *yaml.Node, kind unit.Kind, text string) (lo, hi float64) {
	lo, hi, err := unit.Window(kind, text)
	if err != nil {
		f.errorf(n, "%v", err)
	}
	return lo, hi
}

// prove runs every proof that needs the whole book, then looks for files that
// no complaint names.
func (b *Book) prove(fsys fs.FS) {
	extra, _ := fs.Glob(fsys, "complaints/*.yaml")
	for _, name := range extra {
		id := strings.TrimSuffix(path.Base(name), ".yaml")
		if b.complaints[id] == nil {
			b.faults.at(Pos{File: name}, "no complaint %q in book.yaml", id)
		}
	}
	b.check()
}
