package report

import (
	"fmt"
	"io"
	"strings"

	"chock/cmd/chock/internal/ask"
	"chock/cmd/chock/internal/record"
)

// A Doc is a report before it is known on what it is shown: a screen, a
// message, Markdown or a web page.
type Doc struct {
	Title  string
	Blocks []Block
	whole  bool
}

// A Block is one thing in a document: a heading, a line, an item of a list, a
// blank list to fill in, or a plot.
type Block struct {
	Kind   Kind
	Style  ask.Style
	Head   string // what begins an item, with the blanks before it: "- ", "  - ", "2. ", "Vehicle: "
	Text   string
	Torque []string
	Plot   *Plot
}

// A Kind of block.
type Kind int

const (
	Line Kind = iota
	Heading
	Item
	Torque
	Drawing
)

// Print adds a line.
func (d *Doc) Print(style ask.Style, text string) {
	d.Blocks = append(d.Blocks, Block{Kind: Line, Style: style, Text: text})
}

// Item adds an item of a list, or a line under one.
func (d *Doc) Item(style ask.Style, head, text string) {
	d.Blocks = append(d.Blocks, Block{Kind: Item, Style: style, Head: head, Text: text})
}

// Heading begins a part.
func (d *Doc) Heading(text string) {
	d.Blocks = append(d.Blocks, Block{Kind: Heading, Text: text})
}

// Torque adds a list of fasteners to fill in by hand. chock never gives a
// figure.
func (d *Doc) Torque(names []string) {
	d.Blocks = append(d.Blocks, Block{Kind: Torque, Torque: names})
}

// Draw adds a plot, where plots are shown.
func (d *Doc) Draw(p *Plot) {
	if d.whole && p != nil {
		d.Blocks = append(d.Blocks, Block{Kind: Drawing, Plot: p})
	}
}

// screen prints a document on a screen, wrapped to its width.
func (d *Doc) screen(scr *ask.Screen) error {
	scr.Print(ask.Strong, d.Title)
	for _, b := range d.Blocks {
		switch b.Kind {
		case Heading:
			scr.Print(ask.Plain, "")
			scr.Print(ask.Strong, b.Text)
		case Item:
			scr.Item(b.Style, b.Head, b.Text)
		case Line:
			scr.Print(b.Style, b.Text)
		case Torque:
			b.torque(scr)
		}
	}
	return scr.Err()
}

func (b Block) torque(scr *ask.Screen) {
	const blank = "________"
	if scr.Width() < 72 {
		for _, t := range b.Torque {
			scr.Item(ask.Plain, "- ", t)
			scr.Print(ask.Plain, "  figure ________ page ______\n  done ______ re-checked ______")
		}
		return
	}
	scr.Print(ask.Dim, fmt.Sprintf("%-32s %-10s %-10s %-8s %s", "", "figure", "page", "done", "re-checked"))
	for _, t := range b.Torque {
		row := fmt.Sprintf("%-10s %-10s %-8s %s", blank, blank, "______", blank)
		if len([]rune(t)) > 32 {
			scr.Print(ask.Plain, t)
			t = ""
		}
		scr.Print(ask.Plain, fmt.Sprintf("%-32s %s", t, row))
	}
}

// Message writes a report that pastes cleanly into a message: no line begins
// with a blank, none is wrapped, nothing is drawn.
func Message(w io.Writer, rec *record.Record) error { return write(rec, true).Message(w) }

// Message writes a document that pastes cleanly into a message.
func (d *Doc) Message(w io.Writer) error {
	out := new(strings.Builder)
	fmt.Fprintln(out, ask.Shown(d.Title))
	for _, b := range d.Blocks {
		switch b.Kind {
		case Heading:
			fmt.Fprintf(out, "\n%s\n", strings.ToUpper(ask.Shown(b.Text)))
		case Item:
			fmt.Fprintln(out, strings.TrimLeft(ask.Shown(b.Head+b.Text), " "))
		case Line:
			for line := range strings.SplitSeq(b.Text, "\n") {
				fmt.Fprintln(out, strings.TrimLeft(ask.Shown(line), " "))
			}
		case Torque:
			for _, t := range b.Torque {
				fmt.Fprintf(out, "- %s: figure ____, page ____, done ____, re-checked ____\n", ask.Shown(t))
			}
		}
	}
	_, err := io.WriteString(w, out.String())
	return err
}

// Markdown writes a report for where Markdown is read.
func Markdown(w io.Writer, rec *record.Record) error { return write(rec, true).Markdown(w) }

// Markdown writes a document for where Markdown is read.
func (d *Doc) Markdown(w io.Writer) error {
	out := new(strings.Builder)
	fmt.Fprintf(out, "# %s\n\n", marked(d.Title))
	list := false // the block before was an item
	for _, b := range d.Blocks {
		item := b.Kind == Item && (strings.HasSuffix(b.Head, "- ") || strings.HasSuffix(b.Head, ". ") || strings.TrimSpace(b.Head) == "")
		if list && !item {
			out.WriteString("\n")
		}
		list = item
		switch {
		case b.Kind == Heading:
			fmt.Fprintf(out, "## %s\n\n", marked(b.Text))
		case item:
			indent := len(b.Head) - len(strings.TrimLeft(b.Head, " "))
			head := strings.TrimLeft(b.Head, " ")
			if head == "" { // a line under the item before it
				head = "- "
			}
			fmt.Fprintf(out, "%s%s%s\n", strings.Repeat("  ", (indent+1)/2), head, emphasis(b.Style, marked(b.Text)))
		case b.Kind == Item:
			fmt.Fprintf(out, "%s%s\n\n", marked(b.Head), marked(b.Text))
		case b.Kind == Line:
			for line := range strings.SplitSeq(b.Text, "\n") {
				if line = strings.TrimSpace(line); line != "" {
					fmt.Fprintf(out, "%s\n\n", emphasis(b.Style, marked(line)))
				}
			}
		case b.Kind == Torque:
			out.WriteString("| fastener | figure | page | done | re-checked |\n| --- | --- | --- | --- | --- |\n")
			for _, t := range b.Torque {
				fmt.Fprintf(out, "| %s | | | | |\n", strings.ReplaceAll(marked(t), "|", "\\|"))
			}
			out.WriteString("\n")
		}
	}
	_, err := io.WriteString(w, strings.TrimRight(out.String(), "\n")+"\n")
	return err
}

// emphasis makes what stands out on a screen stand out in Markdown.
func emphasis(style ask.Style, text string) string {
	if style == ask.Halt || style == ask.Strong {
		return "**" + text + "**"
	}
	return text
}

// marked shows text in Markdown as it is, whatever signs stand in it.
func marked(text string) string {
	var out strings.Builder
	for _, r := range ask.Shown(text) {
		if strings.ContainsRune("\\`*_{}[]<>#|~", r) {
			out.WriteByte('\\')
		}
		out.WriteRune(r)
	}
	return out.String()
}

// questions is what the owner asks the technician: what hangs in the air,
// dangers first.
func (p page) questions() {
	var out []string
	for _, f := range p.by("likely") {
		out = append(out, "Is it this: "+sentence(at(f.Say, f.Wheels)))
	}
	for _, m := range p.rec.Measurements {
		for _, v := range m.Verdicts {
			if v.Verdict == "too-close" {
				out = append(out, "Measure again, it was too close to call: "+sentence(lowerFirst(at(m.Say, []string{m.Wheel}))+", "+plainID(v.Of)))
			}
		}
	}
	for _, f := range p.by("possible") {
		out = append(out, "Rule out or prove: "+sentence(at(f.Say, f.Wheels)))
	}
	dangerous, _ := split(p.rec.NotChecked)
	n := 0
	for _, u := range dangerous {
		if u.Kind == "cause" {
			n++
		}
	}
	if n > 0 {
		out = append(out, fmt.Sprintf("Look at the %d dangers that were not checked; they stand above.", n))
	}
	for _, l := range p.rec.NotExplained {
		out = append(out, "What explains this: "+sentence(l.Say))
	}
	if len(out) == 0 {
		out = []string{"What would you look at that this record does not have?"}
	}
	p.list("Ask the technician", out)
}
