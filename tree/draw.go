package tree

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"unicode"
)

// First is the name under which the first looks are drawn, beside the
// complaints.
const First = "first"

// A Line is one line of an outline: Text, wrapped beside Head where it is
// longer than the screen is wide.
type Line struct {
	Head, Text string
	Strong     bool // a heading
}

// A drawing is one tree laid out for a reader: its steps in an order in which
// every way leads on to a later one.
type drawing struct {
	id, say, short string
	steps          []drawn
}

// A drawn is a step, or one of the first looks, with its ways.
type drawn struct {
	number int // from 1
	id     string
	check  *Check
	ways   []way
}

// A way is where one or several answers of a step lead.
type way struct {
	answers []string
	to      int  // the number of a step; 0 for an end
	end     *End // nil after the last of the first looks
}

// draw lays out the tree of a complaint, or the first looks.
func (b *Book) draw(id string) drawing {
	if id == First {
		return b.drawLooks()
	}
	c := b.complaints[id]
	d := drawing{id: c.ID, say: c.Say, short: c.Short}
	steps := c.inOrder()
	number := map[string]int{}
	for i, s := range steps {
		number[s.ID] = i + 1
	}
	for i, s := range steps {
		check := b.Checks[s.Check]
		n := drawn{number: i + 1, id: s.ID, check: check}
		var targets []Target
		for _, answer := range append(check.ids(), Unsure) {
			target := s.Then[answer]
			at := slices.Index(targets, target)
			if at < 0 {
				at = len(targets)
				targets = append(targets, target)
				n.ways = append(n.ways, way{to: number[target.Step], end: target.End})
			}
			n.ways[at].answers = append(n.ways[at].answers, answer)
		}
		d.steps = append(d.steps, n)
	}
	return d
}

// drawLooks lays out the first looks, each after the facts that it waits for.
func (b *Book) drawLooks() drawing {
	d := drawing{id: First, say: "The first looks, before any tree", short: "First looks"}
	for _, l := range b.Listing() {
		if l.Tree != First {
			continue
		}
		n := drawn{number: len(d.steps) + 1, id: l.Check.ID, check: l.Check}
		n.ways = []way{{answers: append(l.Check.ids(), Unsure), to: n.number + 1}}
		d.steps = append(d.steps, n)
	}
	if last := len(d.steps) - 1; last >= 0 {
		d.steps[last].ways[0].to = 0
	}
	return d
}

// inOrder gives the steps so that every answer leads to a later one, and
// otherwise as they were written.
func (c *Complaint) inOrder() []*Step {
	waits := map[string]int{} // steps not yet laid out that lead here
	leads := func(s *Step, fn func(to string)) {
		seen := map[string]bool{}
		for _, t := range s.Then {
			if t.Step != "" && !seen[t.Step] {
				seen[t.Step] = true
				fn(t.Step)
			}
		}
	}
	for _, s := range c.Steps {
		leads(s, func(to string) { waits[to]++ })
	}
	left := slices.Clone(c.Steps)
	var out []*Step
	for len(left) > 0 {
		i := slices.IndexFunc(left, func(s *Step) bool { return waits[s.ID] == 0 })
		if i < 0 {
			panic("tree: a loop in " + c.ID + ", which the loader refuses")
		}
		leads(left[i], func(to string) { waits[to]-- })
		out = append(out, left[i])
		left = slices.Delete(left, i, i+1)
	}
	return out
}

// drawn names what is drawn: the complaints given, or the whole book.
func (b *Book) drawn(ids []string) []string {
	if len(ids) > 0 {
		return ids
	}
	ids = []string{First}
	for _, c := range b.Complaints {
		ids = append(ids, c.ID)
	}
	return ids
}

// Outline draws the trees of complaints, or of the whole book, as lines: each
// step once, with its place and minutes, what it asks and where every answer
// leads; a later step is referred to by its number. Every id is a complaint's
// or First.
func (b *Book) Outline(ids ...string) []Line {
	var out []Line
	add := func(head, format string, args ...any) {
		out = append(out, Line{Head: head, Text: fmt.Sprintf(format, args...)})
	}
	for i, id := range b.drawn(ids) {
		d := b.draw(id)
		if i > 0 {
			add("", "")
		}
		out = append(out, Line{Text: d.say + " (" + id + ")", Strong: true})
		named := map[string]bool{}
		for _, s := range d.steps {
			add("", "")
			out = append(out, Line{Head: fmt.Sprintf("%2d. ", s.number), Text: s.id, Strong: true})
			add("    ", "%s", strings.Join(b.about(s), "; "))
			add("    ", "%s", s.check.Ask)
			for _, w := range s.ways {
				for _, answer := range w.answers {
					add("    - ", "%s", s.check.spoken(answer)+bracketed(s.check.effects(answer, true)))
					if a := s.check.Answer(answer); a != nil {
						name(named, a.Shows, a.Mended)
					}
				}
				switch {
				case id == First: // whatever is answered, the next look follows
				case w.end == nil:
					add("      → ", "%d. %s", w.to, d.steps[w.to-1].id)
				default:
					add("      → ", "%s", b.ending(w.end))
					name(named, w.end.Likely, w.end.Possible)
				}
			}
		}
		if len(named) == 0 {
			continue
		}
		add("", "")
		out = append(out, Line{Text: "Causes that these answers and ends name", Strong: true})
		for _, c := range b.Causes {
			if named[c.ID] {
				add("    ", "%s (%s): %s", c.ID, c.Drive, c.Say)
			}
		}
	}
	return out
}

func name(named map[string]bool, lists ...[]string) {
	for _, list := range lists {
		for _, id := range list {
			named[id] = true
		}
	}
}

// about says of a step where it is done, at which wheels, in how many
// minutes, and for which vehicles.
func (b *Book) about(s drawn) []string {
	c := s.check
	place := strings.ReplaceAll(string(c.Place), "-", " ")
	if c.Place == Recall {
		place = "from memory"
	}
	if c.At != "" {
		place += ", at " + c.At
	}
	if c.Computed() {
		place = "worked out from what was read before"
	} else if c.Minutes > 0 {
		place += fmt.Sprintf(", %d min", c.Minutes)
		if c.At != "" {
			place += " a wheel"
		}
	}
	out := []string{place}
	if c.Measure != "" {
		out = append(out, "judged by "+c.Measure)
	}
	if s.id != c.ID {
		out = append(out, "branches on the answer to "+c.ID)
	}
	if c.Look != "" {
		out = append(out, "a look before the "+string(c.Look))
	}
	for _, cond := range c.OnlyIf {
		out = append(out, fmt.Sprintf("only if %s is %s", cond.Question, strings.Join(cond.Answers, " or ")))
	}
	for _, cond := range c.Needs {
		out = append(out, fmt.Sprintf("needs %s to be %s", cond.Question, strings.Join(cond.Answers, " or ")))
	}
	return out
}

// spoken gives the words of an answer.
func (c *Check) spoken(answer string) string {
	if answer == Unsure {
		return "not sure"
	}
	return cmp.Or(c.Answer(answer).Say, strings.ReplaceAll(answer, "-", " "))
}

// effects says what an answer does beside leading on: all of it, or what it
// asks for and finds.
func (c *Check) effects(answer string, all bool) []string {
	var out []string
	a := c.Answer(answer)
	if a == nil {
		if c.UnsureDrive > Go {
			out = append(out, c.UnsureDrive.String())
		}
		return out
	}
	if a.Drive > Go {
		out = append(out, a.Drive.String())
	}
	if a.Fails {
		out = append(out, "fails the look")
	}
	listed := func(what string, ids []string) {
		if len(ids) > 0 {
			out = append(out, what+" "+strings.Join(ids, ", "))
		}
	}
	listed("finds", a.Shows)
	if all {
		listed("rules out", a.Clears)
		listed("mended:", a.Mended)
	}
	listed("opens", a.Opens)
	return out
}

func bracketed(words []string) string {
	if len(words) == 0 {
		return ""
	}
	return " (" + strings.Join(words, "; ") + ")"
}

// ending says in one line what an end comes to.
func (b *Book) ending(e *End) string {
	var out []string
	if len(e.Likely) > 0 {
		out = append(out, "likely "+strings.Join(e.Likely, ", "))
	}
	if len(e.Possible) > 0 {
		out = append(out, "possible "+strings.Join(e.Possible, ", "))
	}
	if out == nil {
		return "End: names no cause"
	}
	return "End (" + b.endDrive(e).String() + "): " + strings.Join(out, "; ")
}

// endDrive is what the causes that an end names ask for together.
func (b *Book) endDrive(e *End) Drive {
	d := Go
	for _, id := range slices.Concat(e.Likely, e.Possible) {
		d = max(d, b.causes[id].Drive)
	}
	return d
}

// Mermaid draws the same as [Book.Outline] as a Mermaid flowchart, with a
// subgraph for each complaint. What keeps somebody from driving is told by a
// word, and has the class halt as well.
func (b *Book) Mermaid(ids ...string) string {
	var out strings.Builder
	line := func(format string, args ...any) { fmt.Fprintf(&out, format+"\n", args...) }
	var halts []string
	line("flowchart TD")
	for _, id := range b.drawn(ids) {
		d := b.draw(id)
		line("  subgraph Tree_%s[%s]", nodeName(id), label(d.short+" - "+id))
		ends := 0
		for _, s := range d.steps {
			node := fmt.Sprintf("%s_%d", nodeName(id), s.number)
			open, shut := "[", "]"
			if s.check.Measure != "" {
				open, shut = "[[", "]]"
			}
			line("    %s%s%s%s", node, open, label(s.id+"\n"+strings.Join(b.about(s), "\n")+"\n"+s.check.Ask), shut)
			for _, w := range s.ways {
				var told []string
				for _, answer := range w.answers {
					told = append(told, strings.Join(append([]string{s.check.spoken(answer)}, s.check.effects(answer, false)...), " - "))
				}
				to := fmt.Sprintf("%s_%d", nodeName(id), w.to)
				if w.to == 0 {
					ends++
					to = fmt.Sprintf("%s_e%d", nodeName(id), ends)
					line("    %s([%s])", to, label(b.endLabel(w.end)))
					if w.end != nil && b.endDrive(w.end) == Stop {
						halts = append(halts, to)
					}
				}
				line("    %s -->|%s| %s", node, label(strings.Join(told, "\n")), to)
			}
		}
		line("  end")
	}
	if halts != nil {
		line("  classDef halt stroke-width:4px")
		line("  class %s halt", strings.Join(halts, ","))
	}
	return out.String()
}

// endLabel says what an end comes to, a line for each cause.
func (b *Book) endLabel(e *End) string {
	if e == nil {
		return "The trees of the complaints follow"
	}
	out := []string{"End - names no cause"}
	if len(e.Likely)+len(e.Possible) > 0 {
		out[0] = "End - " + b.endDrive(e).String()
	}
	for _, id := range e.Likely {
		out = append(out, fmt.Sprintf("likely %s - %s", id, b.causes[id].Drive))
	}
	for _, id := range e.Possible {
		out = append(out, fmt.Sprintf("possible %s - %s", id, b.causes[id].Drive))
	}
	return strings.Join(out, "\n")
}

// nodeName makes an id part of a name that Mermaid takes for nothing else. Ids
// hold no underscores, so no two of them become alike.
func nodeName(id string) string { return strings.ReplaceAll(id, "-", "_") }

// label quotes text for Mermaid. Whatever it could read as its own - quotes,
// brackets, hashes, a list's number or dash - is written by its code point.
func label(text string) string {
	var out strings.Builder
	out.WriteByte('"')
	before := '\n'
	for _, r := range text {
		switch {
		case r == '\n':
			out.WriteString("<br/>")
		case unicode.IsLetter(r), unicode.IsDigit(r), r == ' ' && before != '\n', r == ',', r == '?', r == '/', r == '\'',
			r == '.' && !unicode.IsDigit(before), r == '-' && before != '\n':
			out.WriteRune(r)
		default:
			fmt.Fprintf(&out, "#%d;", r)
		}
		before = r
	}
	out.WriteByte('"')
	return out.String()
}
