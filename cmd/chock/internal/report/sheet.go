package report

import (
	_ "embed"
	"fmt"
	"html/template"
	"io"
	"slices"
	"strings"
	"sync"

	"chock/cmd/chock/internal/ask"
)

// A Sheet is a blank one to take to the vehicle: every check of some
// complaints, by place, with room for what is found. It holds words only.
type Sheet struct {
	Complaints []string  // what it is for
	Opens      []Tick    // complaints that an answer here may open, and that are not on it
	Stations   []Station // in the order in which hands come to them
	Units      string    // us or metric
	Book       string    // folder of the book; empty for the tool's own
	Talk       string    // asks the same in a talk
	Again      string    // makes this sheet as an answers file
}

// A Station is one place and all that is done there.
type Station struct {
	ID, Name string
	First    string // what must be in order before
	Cautions []string
	Needs    []string // of nearly all its checks
	Blanks   []Blank
}

// A Blank is one check with room for its answer.
type Blank struct {
	N         int
	ID, Ask   string
	Minutes   int
	EachWheel bool     // the minutes are for one wheel, and how many there will be is not known yet
	Before    string   // what waits for it: "it rolls" or "the road"
	If        string   // when it applies
	Needs     []string // what is needed for it today
	How       []string
	Wheels    []string // ids; nil when it is not about wheels
	Several   bool
	Answers   []Tick // of a question
	Unsure    string // the mark beside "not sure"
	Inputs    []Reading
	Worked    bool // out of other readings; only its figures are asked
	Figures   []Figure
}

// A Tick is an answer with its box, and what ticking it does to the day: a
// word of [Marks], or nothing.
type Tick struct{ Mark, ID, Say string }

// A Reading is what a measurement takes, Least to Most times.
type Reading struct {
	Name, Say   string
	Unit        string // as the answers file has it; empty for a count
	UnitName    string
	Least, Most int
	Optional    bool
}

// A Figure is a number of the vehicle itself; At is where the sheet has it
// already, 0 where it stands here.
type Figure struct {
	ID, Ask, UnitName string
	At                int
}

// Marks are the words that stand beside some answers, and what they mean.
var Marks = []Tick{
	{ID: "STOP", Say: "The vehicle is not driven, not even round the yard. All that is done standing still goes on, so that the cause is found."},
	{ID: "STAY", Say: "It does not move from the spot today. All that is done standing still goes on."},
	{ID: "NO ROAD", Say: "No road test today. The rest goes on."},
}

// The words of the sheet, the same in each format.
const (
	sheetTitle  = "Blank sheet for a brake check"
	sheetBoxes  = "Tick one box, or several where it says so. Read all the answers before you tick one."
	sheetUnsure = "Not sure is a good answer. Write its letter into the box: L did not look, T looked and cannot tell, R cannot reach it."
	sheetWheels = "LF, RF, LR, RR are left front, right front, left rear and right rear, as seen from the driver's seat."
	sheetLimits = "Read first, judge later: the limits are left out on purpose, and chock shows them once the readings are in."
	sheetWorked = "Worked out of the readings. It wants a figure only."
	sheetOrder  = "Numbers go on from place to place. A check that depends on another names it by its number. In doubt whether it applies, leave it, and the talk asks again."
	sheetNotice = "Owner's sheet, not a certificate. Local codes, the vehicle's manual and licensed practice come first."
	sheetVerify = "Have a qualified technician verify what is found and any repair before the vehicle is relied on."
	// Above all work, whatever a book says about its places.
	sheetCaution = "Level ground, a chock at a wheel that stays down, and time for hot parts to cool. Brake dust can hold asbestos: wet it, never blow it. Nobody goes under a vehicle that stands on a jack alone."
)

// sheetHead is what is written at the top by hand.
var sheetHead = []string{"Vehicle", "Odometer", "Date", "Who looked", "How it was raised", "Tools used"}

// origins are the boxes behind a figure.
var figureOrigins = []string{"cast on it", "manual", "measured new", "elsewhere"}

// wheelShort is LF for front-left.
func wheelShort(id string) string {
	axle, side, _ := strings.Cut(id, "-")
	if axle == "" || side == "" {
		return id
	}
	return strings.ToUpper(side[:1] + axle[:1])
}

// marksUsed are those that stand on the sheet, so that no other is explained.
func (s *Sheet) marksUsed() []Tick {
	used := map[string]bool{}
	for _, st := range s.Stations {
		for _, b := range st.Blanks {
			used[b.Unsure] = true
			for _, a := range b.Answers {
				used[a.Mark] = true
			}
		}
	}
	return slices.DeleteFunc(slices.Clone(Marks), func(m Tick) bool { return !used[m.ID] })
}

// say gives an answer after its mark.
func (t Tick) say() string {
	if t.Mark == "" {
		return t.Say
	}
	return t.Mark + ": " + t.Say
}

// unsure is the last row of boxes.
func (b Blank) unsure() Tick { return Tick{Mark: b.Unsure, Say: "not sure, L T or R"} }

// about is the line of small print under a question.
func (b Blank) about() string {
	var out []string
	switch {
	case b.Minutes > 0 && b.EachWheel:
		out = append(out, fmt.Sprintf("%d min a wheel", b.Minutes))
	case b.Minutes > 0:
		out = append(out, fmt.Sprintf("%d min", b.Minutes))
	}
	if b.Before != "" {
		out = append(out, "before "+b.Before)
	}
	if b.Several {
		out = append(out, "tick all that fit")
	}
	return strings.Join(append(out, b.ID), ", ")
}

// count says how many readings are taken.
func (r Reading) count() string {
	out := r.Say
	switch {
	case r.Most > r.Least:
		out += fmt.Sprintf(", %d to %d readings", r.Least, r.Most)
	case r.Most > 1:
		out += fmt.Sprintf(", %d readings", r.Most)
	}
	if r.UnitName != "" {
		out += ", " + r.UnitName
	}
	if r.Optional {
		out += " (may be left out)"
	}
	return out
}

// number stands before a blank; in brackets beyond the least count.
func (r Reading) number(i int) string {
	switch {
	case i > r.Least:
		return fmt.Sprintf("(%d)", i)
	case r.Most > 1:
		return fmt.Sprint(i)
	}
	return ""
}

// SheetText prints the sheet as plain lines of so many columns.
func SheetText(w io.Writer, s *Sheet, columns int) error {
	p := paper{ask.Paper(w, columns), columns}
	p.heading(sheetTitle)
	for _, c := range s.Complaints {
		p.item("For: ", c)
	}
	p.line("")
	for _, h := range sheetHead {
		p.blank(h)
	}
	p.line("")
	p.line("Take care: " + sheetCaution)
	p.line("")
	for _, l := range []string{sheetBoxes, sheetUnsure, sheetWheels, sheetLimits, sheetOrder} {
		p.item("- ", l)
	}
	if marks := s.marksUsed(); marks != nil {
		p.line("")
		p.line("A word beside a box that you tick means:")
		for _, m := range marks {
			p.item(m.ID+": ", m.Say)
		}
	}
	if s.Opens != nil {
		p.line("")
		p.line("Some answers open another complaint, which is not on this sheet:")
		for _, o := range s.Opens {
			p.item("- ", o.Say+" ("+o.ID+")")
		}
	}
	for _, st := range s.Stations {
		p.station(st)
	}
	p.line("")
	p.line("")
	p.heading("Typing it in")
	for _, l := range s.typing() {
		p.line(l.Say)
		if l.ID != "" {
			p.item("  ", l.ID)
		}
	}
	p.line("")
	p.line(sheetVerify)
	p.line(sheetNotice)
	return p.scr.Err()
}

// typing tells how the sheet gets into the program: words, and the command
// that does it.
func (s *Sheet) typing() []Tick {
	return []Tick{
		{Say: "The talk asks the same, with its reasons, and judges the readings:", ID: s.Talk + s.flags()},
		{Say: "A talk that was begun goes on with:", ID: "chock talk --resume RECORD" + s.flags()},
		{Say: "Or fill in a file, without questions. This writes it, in the order of this sheet:", ID: s.Again + s.flags() + " --output answers.yaml"},
		{Say: "and this reads it:", ID: s.answersCommand()},
	}
}

// answersCommand reads the file that SheetAnswers wrote.
func (s *Sheet) answersCommand() string {
	return "chock talk --answers answers.yaml --rest unsure" + s.flags()
}

func (s *Sheet) flags() string {
	out := ""
	if s.Units != "us" {
		out = " --units " + s.Units
	}
	if s.Book != "" {
		out += " --book " + quoted(s.Book)
	}
	return out
}

// quoted keeps a path with blanks in one piece.
func quoted(path string) string {
	if strings.ContainsAny(path, " \t") {
		return "\"" + path + "\""
	}
	return path
}

// A paper prints plain lines, each at its place whatever the width.
type paper struct {
	scr     *ask.Screen
	columns int
}

func (p paper) line(text string)       { p.scr.Print(ask.Plain, text) }
func (p paper) item(head, text string) { p.scr.Item(ask.Plain, head, text) }

func (p paper) heading(text string) {
	p.line(strings.ToUpper(text))
	p.line(strings.Repeat("=", min(len([]rune(text)), p.columns)))
}

// blank is a name with a line to write on behind it.
func (p paper) blank(name string) {
	p.line(name + " " + strings.Repeat("_", max(p.columns-len(name)-1, 8)))
}

func (p paper) station(st Station) {
	p.line("")
	p.line("")
	p.heading(st.Name)
	if st.First != "" {
		p.line("First: " + st.First)
	}
	for _, c := range st.Cautions {
		p.line("Take care: " + c)
	}
	for _, n := range st.Needs {
		p.line("Needed here: " + n)
	}
	for _, b := range st.Blanks {
		p.check(b)
	}
}

func (p paper) check(b Blank) {
	p.line("")
	p.item(fmt.Sprintf("%d. ", b.N), b.Ask)
	if b.If != "" {
		p.line("   Only if " + b.If)
	}
	for _, c := range b.Needs {
		p.line("   Needs " + c)
	}
	for _, h := range b.How {
		p.line("   " + h)
	}
	p.line("   " + b.about())
	heads := ""
	for _, w := range b.Wheels {
		heads += fmt.Sprintf("%-4s", wheelShort(w))
	}
	if b.Worked {
		p.line("   " + sheetWorked)
	}
	boxes := strings.Repeat("[ ] ", max(len(b.Wheels), 1))
	if heads != "" && b.Answers != nil {
		p.item(heads, "from the driver's seat")
	}
	for _, a := range b.Answers {
		p.item(boxes, a.say())
	}
	if b.Answers != nil {
		p.item(boxes, b.unsure().say())
	}
	for _, in := range b.Inputs {
		p.readings(b, in)
	}
	if b.Inputs != nil {
		if heads != "" {
			p.item(heads, "from the driver's seat")
		}
		p.item(boxes, b.unsure().say())
	}
	for _, f := range b.Figures {
		p.figure(f)
	}
	p.blank("Notes")
}

// readings is a blank for each reading, a group of lines for each wheel. What
// is beyond the least number stands in brackets.
func (p paper) readings(b Blank, in Reading) {
	p.line(in.count() + ":")
	wheels := b.Wheels
	if wheels == nil {
		wheels = []string{""}
	}
	const cell = len("(10) ________ ")
	each := 1
	for _, n := range []int{2, 3, 4, 6} {
		if n*cell+3 <= p.columns {
			each = n
		}
	}
	if in.Most == 1 { // the wheels beside one another
		row := ""
		for _, w := range wheels {
			cell := strings.TrimSpace(wheelShort(w)+" ________") + "  "
			if len(row)+len(cell) > p.columns {
				p.line(row)
				row = ""
			}
			row += cell
		}
		p.line("")
		p.line(row)
		return
	}
	for _, w := range wheels {
		row := fmt.Sprintf("%-3s", wheelShort(w))
		for i := 1; i <= in.Most; i++ {
			row += fmt.Sprintf("%4s ________ ", in.number(i))
			if i%each == 0 || i == in.Most {
				p.line("") // room for a hand
				p.line(row)
				row = "   "
			}
		}
	}
}

func (p paper) figure(f Figure) {
	if f.At > 0 {
		p.line(fmt.Sprintf("Figure: %s As written at %d.", f.Ask, f.At))
		return
	}
	p.line("Figure: " + f.Ask)
	p.line("")
	p.line("____________ " + f.UnitName)
	row := "from:"
	for _, o := range figureOrigins {
		if len(row)+len(" [ ] ")+len(o) > p.columns {
			p.line(row)
			row = "     "
		}
		row += " [ ] " + o
	}
	p.line(row)
}

//go:embed sheet.html
var sheetPage string

var sheetTemplate = sync.OnceValue(func() *template.Template {
	return template.Must(template.New("sheet").Funcs(template.FuncMap{
		"short": wheelShort,
		"shown": ask.Shown,
		"rows": func(n int) [][]int { // 1 to n, at most six in a table, for two stand side by side
			var all []int
			for i := 1; i <= n; i++ {
				all = append(all, i)
			}
			return slices.Collect(slices.Chunk(all, 6))
		},
		"wheel": func(id string) string { return wheelNames([]string{id}) },
		"about": Blank.about,
		"count": Reading.count,
	}).Parse(sheetPage))
})

// SheetHTML prints the sheet as one page that wants nothing from elsewhere.
func SheetHTML(w io.Writer, s *Sheet) error {
	return sheetTemplate().Execute(w, map[string]any{
		"Sheet": s, "Title": sheetTitle, "Head": sheetHead, "Caution": sheetCaution,
		"Rules": []string{sheetBoxes, sheetUnsure, sheetWheels, sheetLimits, sheetOrder},
		"Marks": s.marksUsed(), "Typing": s.typing(), "Origins": figureOrigins,
		"Worked": sheetWorked, "Verify": sheetVerify, "Notice": sheetNotice,
	})
}
