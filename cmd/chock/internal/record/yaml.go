package record

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"reflect"
	"regexp"
	"sort"
	"strconv"
	"strings"
	"sync"
	"time"
	"unicode"

	"gopkg.in/yaml.v3"
)

// endLine is how a whole file ends.
const endLine = "end: chock"

// encode writes r so that a person can read it and parse gives it back.
func encode(r *Record) ([]byte, error) {
	whole := *r
	whole.Schema, whole.End = Schema, "chock"
	words := strings.Fields(whole.Program) // on one line, and what parse knows a record by
	if len(words) == 0 || words[0] != "chock" {
		words = append([]string{"chock"}, words...)
	}
	whole.Program = strings.Join(words, " ")
	var b bytes.Buffer
	enc := yaml.NewEncoder(&b)
	enc.SetIndent(2)
	if err := errors.Join(enc.Encode(node(reflect.ValueOf(whole))), enc.Close()); err != nil {
		return nil, fmt.Errorf("cannot write the record: %w", err)
	}
	if b.Len() > limit {
		return nil, fmt.Errorf("the record has grown over %d MB; shorten the notes", limit>>20)
	}
	return b.Bytes(), nil
}

// node makes the YAML of a value. The library's own way from a struct to text
// stumbles over some words that people can type, such as a first blank line.
func node(v reflect.Value) *yaml.Node {
	switch v.Kind() {
	case reflect.Pointer:
		if v.IsNil() {
			return &yaml.Node{Kind: yaml.ScalarNode, Tag: "!!null", Value: "null"}
		}
		return node(v.Elem())
	case reflect.Slice:
		n := &yaml.Node{Kind: yaml.SequenceNode}
		for i := range v.Len() {
			n.Content = append(n.Content, node(v.Index(i)))
		}
		if v.Len() == 0 {
			n.Style = yaml.FlowStyle // []
		}
		return n
	case reflect.Struct:
		if t, ok := v.Interface().(time.Time); ok {
			return &yaml.Node{Kind: yaml.ScalarNode, Tag: "!!timestamp", Value: t.Format(time.RFC3339)}
		}
		n := &yaml.Node{Kind: yaml.MappingNode}
		for f, fv := range v.Fields() {
			key, option, _ := strings.Cut(f.Tag.Get("yaml"), ",")
			if option == "omitempty" && (fv.IsZero() || fv.Kind() == reflect.Slice && fv.Len() == 0) {
				continue
			}
			n.Content = append(n.Content, &yaml.Node{Kind: yaml.ScalarNode, Tag: "!!str", Value: key}, node(fv))
		}
		return n
	case reflect.String:
		return text(strings.ToValidUTF8(v.String(), "\ufffd"))
	case reflect.Bool:
		return &yaml.Node{Kind: yaml.ScalarNode, Tag: "!!bool", Value: strconv.FormatBool(v.Bool())}
	case reflect.Int:
		return &yaml.Node{Kind: yaml.ScalarNode, Tag: "!!int", Value: strconv.FormatInt(v.Int(), 10)}
	case reflect.Float64:
		f := v.Float()
		if f-f != 0 { // NaN and infinities are unknown
			return &yaml.Node{Kind: yaml.ScalarNode, Tag: "!!null", Value: "null"}
		}
		value := strconv.FormatFloat(f, 'g', -1, 64)
		if value == "-0" {
			value = "-0.0" // else a whole number, which has no sign at zero
		}
		return &yaml.Node{Kind: yaml.ScalarNode, Value: value}
	}
	panic("record: no YAML for a " + v.Kind().String())
}

func text(s string) *yaml.Node {
	n := &yaml.Node{Kind: yaml.ScalarNode, Tag: "!!str", Value: s}
	switch {
	case s == "<<", !plain(s):
		n.Style = yaml.DoubleQuotedStyle
	case strings.Contains(s, "\n"):
		n.Style = yaml.LiteralStyle
	}
	return n
}

// finite tells a number from YAML's .nan and .inf.
func finite(text string) bool { return !strings.ContainsAny(text, "nN") }

// plain tells whether lines of text can stand in a file as they are.
func plain(text string) bool {
	if strings.HasPrefix(text, " ") || strings.HasPrefix(text, "\n") || strings.HasSuffix(text, "\n\n") {
		return false
	}
	for line := range strings.SplitSeq(text, "\n") {
		if strings.HasSuffix(line, " ") {
			return false
		}
		for _, r := range line {
			if !unicode.IsPrint(r) {
				return false
			}
		}
	}
	return true
}

// parse reads what encode wrote.
func parse(path string, data []byte) (*Record, error) {
	schema, ours := header(data)
	switch {
	case len(bytes.TrimSpace(data)) == 0:
		return nil, fmt.Errorf("%s is empty: it was cut short; use an earlier copy", path)
	case !ours:
		return nil, fmt.Errorf("%s is not a record of chock; name a file that chock talk wrote", path)
	case schema > Schema:
		return nil, fmt.Errorf("%s was written by a newer chock (record schema %d, this one reads up to %d); install the newer chock to read it", path, schema, Schema)
	case schema < 1:
		return nil, fmt.Errorf("%s has no record schema that ever was; its first line should read schema: %d", path, Schema)
	}
	body := bytes.TrimRight(data, " \t\r\n")
	if i := bytes.LastIndexByte(body, '\n'); string(body[i+1:]) != endLine {
		return nil, fmt.Errorf("%s is cut short: its last line is not %q; use an earlier copy, or, if nothing is missing, add that line", path, endLine)
	}
	r := new(Record)
	if err := decode(path, data, r); err != nil {
		return nil, err
	}
	if err := r.check(path); err != nil {
		return nil, err
	}
	return r, nil
}

// Compiled when a record is read, not at every start.
var (
	schemaLine  = lazily(`(?m)^schema:[ \t]*(-?[0-9]{1,9})[ \t]*(?:#.*)?\r?$`)
	programLine = lazily(`(?m)^program:[ \t]*["']?chock\b`)
)

func lazily(pattern string) func() *regexp.Regexp {
	return sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(pattern) })
}

// header finds by their lines what a file is, also when the rest is damaged or
// of a shape that this program does not know.
func header(data []byte) (schema int, ours bool) {
	m := schemaLine().FindSubmatch(data)
	if m == nil || !programLine().Match(data) {
		return 0, false
	}
	schema, err := strconv.Atoi(string(m[1]))
	return schema, err == nil
}

// check refuses words that nothing here would ever write.
func (r *Record) check(path string) error {
	for _, w := range []struct{ key, word, allowed string }{
		{"end", r.End, "chock"}, {"units", r.Units, "us metric"}, {"drive", r.Drive, "go care stop"},
	} {
		if w.word != "" && !contains(w.allowed, w.word) {
			return fmt.Errorf("%s: %s is %q; want one of: %s", path, w.key, w.word, w.allowed)
		}
	}
	return nil
}

func contains(words, word string) bool {
	for w := range strings.FieldsSeq(words) {
		if w == word {
			return true
		}
	}
	return false
}

// one parses data as a single mapping in which every word means one thing.
func one(path string, data []byte) (*yaml.Node, error) {
	dec := yaml.NewDecoder(bytes.NewReader(data))
	var doc yaml.Node
	switch err := dec.Decode(&doc); {
	case errors.Is(err, io.EOF):
		return nil, fmt.Errorf("%s is empty", path)
	case err != nil:
		return nil, unreadable(path, data, err)
	}
	switch err := dec.Decode(new(yaml.Node)); {
	case err == nil:
		return nil, fmt.Errorf("%s holds several documents; keep one of them", path)
	case !errors.Is(err, io.EOF):
		return nil, unreadable(path, data, err)
	}
	if doc.Kind != yaml.DocumentNode || len(doc.Content) != 1 || doc.Content[0].Kind != yaml.MappingNode {
		return nil, fmt.Errorf("%s is not a list of KEY: VALUE lines", path)
	}
	root := doc.Content[0]
	// What stands above a first blank line belongs to the file, as YAML sees it.
	root.HeadComment, root.FootComment = doc.HeadComment, doc.FootComment
	return root, plainly(path, root, 0)
}

// unreadable names the first line with which data stops being YAML. The
// library's own number is that of where the faulty part begins, which may be
// the top of the file.
func unreadable(path string, data []byte, err error) error {
	lines := bytes.SplitAfter(data, []byte("\n"))
	at := sort.Search(len(lines), func(i int) bool {
		return yaml.Unmarshal(bytes.Join(lines[:i+1], nil), new(yaml.Node)) != nil
	})
	why := spoken(err)
	if m := inLine().FindString(why); m != "" {
		why = why[len(m):]
	}
	return fmt.Errorf("%s:%d: not readable as YAML: %s; put that line right in an editor", path, min(at+1, len(lines)), why)
}

// deepest is more than any of our files needs.
const deepest = 12

// plainly refuses what makes one line mean two places, and repeated keys.
func plainly(path string, n *yaml.Node, depth int) error {
	at := func(n *yaml.Node, format string, args ...any) error {
		return fmt.Errorf("%s:%d: %s", path, n.Line, fmt.Sprintf(format, args...))
	}
	switch {
	case depth > deepest:
		return at(n, "is nested too deep")
	case n.Kind == yaml.AliasNode:
		return at(n, "*%s is an alias; write it out", n.Value)
	case n.Anchor != "":
		return at(n, "&%s is an anchor; leave it out", n.Anchor)
	case n.Style&yaml.TaggedStyle != 0:
		return at(n, "%s is a tag; leave it out", n.Tag)
	case n.Tag == "!!float" && !finite(n.Value):
		return at(n, "%s is no number", n.Value)
	}
	if n.Kind == yaml.MappingNode {
		first := map[string]int{}
		for i := 0; i < len(n.Content); i += 2 {
			key := n.Content[i]
			switch {
			case key.Kind != yaml.ScalarNode:
				return at(key, "a key must be one word")
			case key.Tag == "!!merge":
				return at(key, "<< is a merge key; write it out")
			case first[key.Value] != 0:
				return at(key, "%q stands at line %d already; keep one of them", key.Value, first[key.Value])
			}
			first[key.Value] = key.Line
		}
	}
	for _, c := range n.Content {
		if err := plainly(path, c, depth+1); err != nil {
			return err
		}
	}
	return nil
}

// decode reads data into to, a pointer to a struct, and refuses unknown keys.
func decode(path string, data []byte, to any) error {
	root, err := one(path, data)
	if err != nil {
		return err
	}
	if err := known(path, root, reflect.TypeOf(to).Elem()); err != nil {
		return err
	}
	if err := root.Decode(to); err != nil {
		return fmt.Errorf("%s: %s", path, spoken(err))
	}
	return nil
}

// known refuses keys that t has no field for, and times that are none.
func known(path string, n *yaml.Node, t reflect.Type) error {
	switch {
	case t.Kind() == reflect.Slice && n.Kind == yaml.SequenceNode:
		for _, c := range n.Content {
			if err := known(path, c, t.Elem()); err != nil {
				return err
			}
		}
	case t.Kind() == reflect.Pointer:
		return known(path, n, t.Elem())
	case t == reflect.TypeFor[time.Time]() && n.Kind == yaml.ScalarNode:
		if _, err := time.Parse(time.RFC3339, n.Value); err != nil {
			return fmt.Errorf("%s:%d: %q is no time; want one like 2026-11-25T14:05:00Z", path, n.Line, n.Value)
		}
	case t.Kind() == reflect.Struct && n.Kind == yaml.MappingNode:
		fields := keysOf(t)
		for i := 0; i < len(n.Content); i += 2 {
			key := n.Content[i]
			ft, ok := fields[key.Value]
			if !ok {
				return fmt.Errorf("%s:%d: %q is no key of a record here; was it added by hand?", path, key.Line, key.Value)
			}
			if err := known(path, n.Content[i+1], ft); err != nil {
				return err
			}
		}
	}
	return nil
}

// keysOf gives the keys that t has fields for. A thousand records ask often.
func keysOf(t reflect.Type) map[string]reflect.Type {
	if known, ok := keys.Load(t); ok {
		return known.(map[string]reflect.Type)
	}
	fields := map[string]reflect.Type{}
	for f := range t.Fields() {
		key, _, _ := strings.Cut(f.Tag.Get("yaml"), ",")
		fields[key] = f.Type
	}
	keys.Store(t, fields)
	return fields
}

var keys sync.Map // of reflect.Type

var (
	cannot = lazily("(?s)line ([0-9]+): cannot unmarshal (?:!![a-z]+ )?(?:`(.*?)` )?into .*")
	inLine = lazily(`^(?:yaml: )?line ([0-9]+): `)
)

// spoken says an error of the YAML library without its Go types.
func spoken(err error) string {
	var te *yaml.TypeError
	if errors.As(err, &te) && len(te.Errors) > 0 {
		if m := cannot().FindStringSubmatch(te.Errors[0]); m != nil {
			return fmt.Sprintf("line %s: %q cannot stand there", m[1], m[2])
		}
		return te.Errors[0]
	}
	if m := inLine().FindStringSubmatch(err.Error()); m != nil {
		return fmt.Sprintf("line %s: %s", m[1], strings.TrimPrefix(err.Error(), m[0]))
	}
	return strings.TrimPrefix(err.Error(), "yaml: ")
}
