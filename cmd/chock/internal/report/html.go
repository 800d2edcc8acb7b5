package report

import (
	_ "embed"
	"fmt"
	"html/template"
	"io"
	"strings"
	"sync"

	"chock/cmd/chock/internal/ask"
	"chock/cmd/chock/internal/record"
)

//go:embed report.html
var reportPage string

// reportTemplate is parsed when it is wanted: a talk starts without it.
var reportTemplate = sync.OnceValue(func() *template.Template {
	return template.Must(template.New("report").Funcs(template.FuncMap{"shown": ask.Shown}).Parse(reportPage))
})

// HTML writes a report as one page that wants nothing from elsewhere and holds
// no script.
func HTML(w io.Writer, rec *record.Record) error { return write(rec, true).HTML(w) }

// HTML writes a document as such a page. Its last line is the notice, which
// stands at both ends there.
func (d *Doc) HTML(w io.Writer) error {
	first, rest := d.parts()
	return reportTemplate().Execute(w, map[string]any{"Title": d.Title, "First": first, "Rest": rest, "Notice": d.Blocks[len(d.Blocks)-1].Text})
}

// A part is what stands under one heading; Many says that its lists may be
// long ones of short lines.
type part struct {
	ID, Head string
	Many     bool
	Groups   []group
}

// A group is what stands under one smaller heading, or under none.
type group struct {
	Drawn bool // holds a plot
	Nodes []node
}

// A node is one thing in a part; Kind says which of the rest it has.
type node struct {
	Kind    string // line advice under fact list torque blanks worked plots
	Class   string
	Head    string
	Text    string
	Names   []string
	Items   []*item
	Ordered bool
	Plots   []figure
}

// A figure is a plot as it is drawn.
type figure struct {
	Plot *Plot
	SVG  template.HTML
}

// An item of a list, with the list under it.
type item struct {
	Class, Word, Text string
	Items             []*item
}

// classes are the styles that stand out; a word tells the same.
var classes = map[ask.Style]string{ask.Halt: "halt", ask.Care: "care", ask.Good: "good", ask.Dim: "dim", ask.Strong: "strong"}

// parts puts a document into the parts of a page: what belongs on the first
// sheet of paper, and the rest. It begins with the part that has no heading.
func (d *Doc) parts() (first, rest []part) {
	all := []part{{Groups: []group{{}}}}
	plots := 0
	var top *item // to which lines under it belong
	for i, b := range d.Blocks {
		p := &all[len(all)-1]
		switch b.Kind {
		case Heading:
			all = append(all, part{ID: fmt.Sprintf("part-%d", len(all)), Head: b.Text, Many: b.Text == headUnchecked, Groups: []group{{}}})
			top = nil
			continue
		case Under:
			p.Groups = append(p.Groups, group{})
		}
		now := &p.Groups[len(p.Groups)-1]
		n := node{Class: classes[b.Style], Text: b.Text, Names: b.Names}
		switch b.Kind {
		case Item:
			blank := b.Head[:len(b.Head)-len(strings.TrimLeft(b.Head, " "))]
			mark := strings.TrimSpace(b.Head)
			if mark != "" && mark != "-" && !strings.HasSuffix(mark, ".") {
				n.Kind, n.Head, n.Text = "fact", mark, b.all()
				top = nil
				break
			}
			it := &item{Class: classes[b.Style], Word: upperFirst(b.Word), Text: b.Text}
			if last := len(now.Nodes) - 1; last < 0 || now.Nodes[last].Kind != "list" {
				now.Nodes = append(now.Nodes, node{Kind: "list", Ordered: strings.HasSuffix(mark, ".")})
				top = nil
			}
			if blank != "" && top != nil {
				top.Items = append(top.Items, it)
				continue
			}
			l := &now.Nodes[len(now.Nodes)-1]
			l.Items = append(l.Items, it)
			if blank == "" {
				top = it
			}
			continue
		case Line:
			if strings.TrimSpace(b.Text) == "" || i == len(d.Blocks)-1 { // the notice stands in the foot
				continue
			}
			n.Kind = "line"
		case Advice:
			n.Kind = "advice"
		case Under:
			n.Kind, n.Text = "under", strings.TrimSuffix(b.Text, ":")
		case Torque:
			n.Kind = "torque"
		case Blanks:
			n.Kind = "blanks"
		case Worked:
			n.Kind = "worked"
		case Drawing:
			plots++
			f := figure{b.Plot, b.Plot.SVG(fmt.Sprintf("plot-%d", plots))}
			if last := len(now.Nodes) - 1; last >= 0 && now.Nodes[last].Kind == "plots" {
				now.Nodes[last].Plots = append(now.Nodes[last].Plots, f)
				continue
			}
			n.Kind, n.Plots, now.Drawn = "plots", []figure{f}, true
		}
		top = nil
		now.Nodes = append(now.Nodes, n)
	}
	for i, p := range all {
		if p.Head == headReadings || p.Head == headCaution || p.Head == headChecks {
			return all[:i], all[i:]
		}
	}
	return all, nil
}
