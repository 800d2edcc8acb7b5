package report

import (
	"fmt"
	"io"
	"strings"

	"chock/cmd/chock/internal/ask"
)

// SheetAnswers writes the sheet as an answers file in which everything is
// still "not sure". complaints are the ids that it begins with.
func SheetAnswers(w io.Writer, s *Sheet, complaints []string) error {
	f := new(skeleton)
	f.note("", "", "Answers to a brake check, to be filled in from the sheet. "+sheetNotice+" "+sheetVerify)
	f.note("", "", "Put an id in the place of unsure, or leave it. Where several may stand: [one, other].")
	f.note("", "", "Readings go into a list with the unit behind the last one, and - for one that is missing.")
	f.note("", "", "Then: "+s.answersCommand())
	fmt.Fprintf(f, "complaints: [%s]\n", strings.Join(complaints, ", "))
	for _, st := range s.Stations {
		f.WriteString("\n")
		f.note("", "== ", st.Name)
		for _, b := range st.Blanks {
			f.WriteString("\n")
			f.check(b)
		}
	}
	_, err := io.WriteString(w, f.String())
	return err
}

type skeleton struct{ strings.Builder }

// note writes a comment, every line of which begins with #.
func (f *skeleton) note(indent, head, text string) {
	var lines strings.Builder
	ask.Paper(&lines, 76-len(indent)).Item(ask.Plain, head, text)
	for line := range strings.SplitSeq(strings.TrimRight(lines.String(), "\n"), "\n") {
		f.WriteString(strings.TrimRight(indent+"# "+line, " ") + "\n")
	}
}

func (f *skeleton) check(b Blank) {
	f.note("", fmt.Sprintf("%d. ", b.N), b.Ask)
	if b.If != "" {
		f.note("", "   Only if ", b.If)
	}
	for _, a := range b.Answers {
		f.note("", fmt.Sprintf("   %-17s ", a.ID), a.say())
	}
	if b.Several {
		f.note("", "   ", "Several may stand.")
	}
	for _, in := range b.Inputs {
		head := "   "
		if len(b.Inputs) > 1 {
			head += in.Name + ": "
		}
		f.note("", head, in.count()+in.example())
	}
	switch {
	case b.Worked:
		f.note("", "   ", sheetWorked)
	case b.Wheels == nil:
		f.WriteString(b.ID + ":")
		f.value(b, "  ")
	default:
		f.WriteString(b.ID + ":\n")
		for _, w := range b.Wheels {
			f.WriteString("  " + w + ":")
			f.value(b, "    ")
		}
	}
	for _, g := range b.Figures {
		if g.At == 0 {
			f.note("", "   ", g.Ask+" The figure, its unit, and cast, manual or measured.")
			f.WriteString(g.ID + ": unsure\n")
		}
	}
}

// value is what stands behind a check or a wheel; a measurement that takes
// more than one sort of reading has a line for each.
func (f *skeleton) value(b Blank, indent string) {
	if len(b.Inputs) < 2 {
		f.WriteString(" unsure\n")
		return
	}
	f.WriteString("\n")
	for _, in := range b.Inputs {
		f.WriteString(indent + in.Name + ": unsure\n")
	}
}

// example shows how readings are written, without one.
func (r Reading) example() string {
	switch {
	case r.Most > 1:
		return ": [.., .., .. " + r.Unit + "]"
	case r.Unit != "":
		return ": .. " + r.Unit
	}
	return ""
}
