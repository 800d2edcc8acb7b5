package tree

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"gopkg.in/yaml.v3"
)

// A Pos is a place in a book's file, counted from one as editors do.
type Pos struct {
	File      string
	Line, Col int
}

func (p Pos) String() string { return fmt.Sprintf("%s:%d:%d", p.File, p.Line, p.Col) }

// A Fault is something wrong in a book, worded for the person who wrote it.
type Fault struct {
	Pos
	Msg  string // what is wrong, and the repair
	Text string // the line at Pos, for the caret
}

func (f *Fault) Error() string {
	if f.Line == 0 {
		return f.File + ": " + f.Msg
	}
	if f.Text == "" {
		return f.Pos.String() + ": " + f.Msg
	}
	// Tabs become single blanks so that the caret stands under its word.
	text := strings.ReplaceAll(f.Text, "\t", " ")
	lead := min(max(f.Col-1, 0), len([]rune(text)))
	return fmt.Sprintf("%s: %s\n | %s\n | %s^", f.Pos, f.Msg, text, strings.Repeat(" ", lead))
}

// Faults are all the faults of a book, sorted by file, line and column.
type Faults []*Fault

func (fs Faults) Error() string {
	const most = 100
	var b strings.Builder
	for i, f := range fs {
		if i > 0 {
			b.WriteByte('\n')
		}
		if i == most {
			fmt.Fprintf(&b, "and %d more", len(fs)-most)
			break
		}
		b.WriteString(f.Error())
	}
	return b.String()
}

// faults collects while a book is parsed and proved.
type faults struct {
	list  Faults
	lines map[string][]string // text of each file, for the carets
	// So that one slip is one fault: names whose own entry was refused, and
	// names that a suggestion says were meant.
	lost, meant map[string]bool
}

// most is more faults than anybody reads in one run, and few enough to hold.
const mostFaults = 1000

func (fs *faults) at(p Pos, format string, args ...any) {
	if len(fs.list) == mostFaults {
		return
	}
	f := &Fault{Pos: p, Msg: fmt.Sprintf(format, args...)}
	if lines := fs.lines[p.File]; p.Line > 0 && p.Line <= len(lines) {
		f.Text = printable(lines[p.Line-1])
	}
	fs.list = append(fs.list, f)
}

// err returns the faults sorted, without repeats, or nil.
func (fs *faults) err() error {
	if len(fs.list) == 0 {
		return nil
	}
	slices.SortStableFunc(fs.list, func(a, b *Fault) int {
		return cmp.Or(cmp.Compare(a.File, b.File), cmp.Compare(a.Line, b.Line),
			cmp.Compare(a.Col, b.Col), cmp.Compare(a.Msg, b.Msg))
	})
	fs.list = slices.CompactFunc(fs.list, func(a, b *Fault) bool { return a.Pos == b.Pos && a.Msg == b.Msg })
	return fs.list
}

// printable cuts a line to a length that can be read and shows control
// characters instead of obeying them.
func printable(s string) string {
	const most = 160
	var b strings.Builder
	n := 0
	for _, r := range strings.TrimRight(s, "\r\n") {
		if n == most {
			b.WriteString("...")
			break
		}
		if r < ' ' && r != '\t' || r == 0x7f {
			r = '?'
		}
		b.WriteRune(r)
		n++
	}
	return b.String()
}

// file is one YAML file while it is read.
type file struct {
	name string
	*faults
}

func (f *file) pos(n *yaml.Node) Pos { return Pos{f.name, n.Line, n.Column} }

func (f *file) errorf(n *yaml.Node, format string, args ...any) { f.at(f.pos(n), format, args...) }
