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
	Kind  Kind
	Style ask.Style
	Head  string // what begins an item, with the blanks before it: "- ", "  - ", "2. ", "Vehicle: "
	Word  string // begins the text, with a colon after it, and stands out where that can be
	Text  string
	Bar   string   // after the text, where no plot shows the same
	Names []string // fasteners, blanks to fill in, lines of arithmetic
	Plot  *Plot
}

// A Kind of block.
type Kind int

const (
	Line    Kind = iota
	Advice       // the line that says whether to drive
	Heading      // of a part
	Under        // a heading under that
	Item
	Torque
	Blanks  // for a hand to write on
	Worked  // the arithmetic
	Drawing // a plot
)

// Print adds a line.
func (d *Doc) Print(style ask.Style, text string) {
	d.Blocks = append(d.Blocks, Block{Kind: Line, Style: style, Text: text})
}

// Advice adds whether to drive.
func (d *Doc) Advice(style ask.Style, text string) {
	d.Blocks = append(d.Blocks, Block{Kind: Advice, Style: style, Text: text})
}

// Word adds an item that begins with a word that stands out.
func (d *Doc) Word(style ask.Style, head, word, text string) {
	d.Blocks = append(d.Blocks, Block{Kind: Item, Style: style, Head: head, Word: word, Text: text})
}

// Under begins a smaller part.
func (d *Doc) Under(style ask.Style, text string) {
	d.Blocks = append(d.Blocks, Block{Kind: Under, Style: style, Text: text})
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
	d.Blocks = append(d.Blocks, Block{Kind: Torque, Names: names})
}

// Blanks adds lines for a hand to write on.
func (d *Doc) Blanks(names ...string) {
	d.Blocks = append(d.Blocks, Block{Kind: Blanks, Names: names})
}

// Worked adds the arithmetic, where it is shown.
func (d *Doc) Worked(steps []string) {
	if d.whole && len(steps) > 0 {
		d.Blocks = append(d.Blocks, Block{Kind: Worked, Names: steps})
	}
}

// Draw adds plots, where they are shown.
func (d *Doc) Draw(plots []*Plot) {
	for _, p := range plots {
		d.Blocks = append(d.Blocks, Block{Kind: Drawing, Plot: p})
	}
}

// all is the text of a block, with the word that begins it or the bar that
// ends it.
func (b Block) all() string {
	if b.Word == "" {
		return b.Text + b.Bar
	}
	return sentence(b.Word + ": " + b.Text)
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
			scr.Item(b.Style, b.Head, b.all())
		case Line, Advice, Under:
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
		for _, t := range b.Names {
			scr.Item(ask.Plain, "- ", t)
			scr.Print(ask.Plain, "  figure ________ page ______\n  done ______ re-checked ______")
		}
		return
	}
	scr.Print(ask.Dim, fmt.Sprintf("%-32s %-10s %-10s %-8s %s", "", "figure", "page", "done", "re-checked"))
	for _, t := range b.Names {
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
			fmt.Fprintln(out, strings.TrimLeft(ask.Shown(b.Head+b.all()), " "))
		case Line, Advice, Under:
			for line := range strings.SplitSeq(b.Text, "\n") {
				fmt.Fprintln(out, strings.TrimLeft(ask.Shown(line), " "))
			}
		case Torque:
			for _, t := range b.Names {
				fmt.Fprintf(out, "- %s: figure ____, page ____, done ____, re-checked ____\n", ask.Shown(t))
			}
		case Blanks:
			fmt.Fprintln(out, blanks(b.Names))
		case Worked:
			fmt.Fprintln(out, howWorked+":")
			for _, s := range b.Names {
				fmt.Fprintln(out, "- "+ask.Shown(s))
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
			fmt.Fprintf(out, "%s%s%s\n", strings.Repeat("  ", (indent+1)/2), head, emphasis(b.Style, marked(b.all())))
		case b.Kind == Item:
			fmt.Fprintf(out, "%s%s\n\n", marked(b.Head), marked(b.all()))
		case b.Kind == Under:
			fmt.Fprintf(out, "### %s\n\n", marked(b.Text))
		case b.Kind == Line, b.Kind == Advice:
			for line := range strings.SplitSeq(b.Text, "\n") {
				if line = strings.TrimSpace(line); line != "" {
					fmt.Fprintf(out, "%s\n\n", emphasis(b.Style, marked(line)))
				}
			}
		case b.Kind == Torque:
			out.WriteString("| fastener | figure | page | done | re-checked |\n| --- | --- | --- | --- | --- |\n")
			for _, t := range b.Names {
				fmt.Fprintf(out, "| %s | | | | |\n", marked(t))
			}
			out.WriteString("\n")
		case b.Kind == Blanks:
			fmt.Fprintf(out, "%s\n\n", marked(blanks(b.Names)))
		case b.Kind == Worked:
			fmt.Fprintf(out, "%s:\n\n", howWorked)
			for _, s := range b.Names {
				fmt.Fprintf(out, "- %s\n", marked(s))
			}
			out.WriteString("\n")
		}
	}
	_, err := io.WriteString(w, strings.TrimRight(out.String(), "\n")+"\n")
	return err
}

// howWorked stands over the arithmetic.
const howWorked = "How it was worked out"

// blanks is a line with room for a hand after each name.
func blanks(names []string) string {
	var out []string
	for _, n := range names {
		out = append(out, n+" ____________________")
	}
	return strings.Join(out, "  ")
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
	if n == 1 {
		out = append(out, "Look at the danger that was not checked; it stands above.")
	}
	if n > 1 {
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
