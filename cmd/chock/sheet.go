package main

import (
	"bytes"
	"fmt"
	"io/fs"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"chock/cmd/chock/internal/report"
	"chock/tree"
)

// sheetFlags are the flags of chock sheet.
type sheetFlags struct {
	format, output, units, book string
	width                       int
	steps                       bool
}

func newSheet() *cobra.Command {
	var f sheetFlags
	cmd := &cobra.Command{
		Use:   "sheet [COMPLAINT...]",
		Short: "A blank sheet to print and take to the vehicle",
		Long: "A blank sheet to print and take to the vehicle: the first looks and the checks of the\n" +
			"complaints, by place, with boxes to tick and room for readings. Words such as\n" +
			"`pedal shudders` pick a complaint; without any, the sheet has them all.",
		Example:       "  chock sheet dust leaks | lp\n  chock sheet pedal shudders --output sheet.html\n  chock sheet dust --format yaml --output answers.yaml",
		SilenceUsage:  true,
		SilenceErrors: true,
		RunE:          func(cmd *cobra.Command, args []string) error { return sheet(cmd, f, args) },
	}
	fl := cmd.Flags()
	fl.StringVar(&f.format, "format", "", "text, html, or yaml for an answers file to fill in; else what FILE ends with, else text")
	fl.StringVar(&f.output, "output", "", "write a new `FILE`; one that exists is left alone")
	fl.StringVar(&f.units, "units", "us", "what readings are taken in: us or metric")
	fl.IntVar(&f.width, "width", 80, "columns of the text, 40 to 132")
	fl.BoolVar(&f.steps, "steps", false, "say how each check is done too")
	fl.StringVar(&f.book, "book", "", "a folder of trees in place of the tool's own")
	cmd.SetFlagErrorFunc(flagError)
	return cmd
}

func sheet(cmd *cobra.Command, f sheetFlags, words []string) error {
	if f.format == "" {
		f.format = "text"
		switch strings.ToLower(filepath.Ext(f.output)) {
		case ".html", ".htm":
			f.format = "html"
		case ".yaml", ".yml":
			f.format = "yaml"
		}
	}
	switch {
	case !slices.Contains([]string{"text", "html", "yaml"}, f.format):
		return usagef("--format %s: want text, html or yaml", f.format)
	case f.units != "us" && f.units != "metric":
		return usagef("--units %s: want us or metric", f.units)
	case f.width < 40 || f.width > 132:
		return usagef("--width %d: want 40 to 132", f.width)
	case cmd.Flags().Changed("width") && f.format != "text":
		return usagef("--width goes with text; %s fits itself", f.format)
	}
	fsys := bookAt(f.book)
	b, err := openBook(fsys, f.book != "")
	if err == nil && f.book == "" { // openBook has read the whole of a person's own
		err = b.Rest(fsys)
	}
	if err != nil {
		return err
	}
	t := &talker{book: b}
	complaints := t.ids()
	if len(words) > 0 {
		heard := t.heard(strings.Join(words, " "))
		if complaints = t.inOrder(slices.Concat(heard.Sure, heard.Maybe)); len(complaints) == 0 {
			return usagef("no complaint goes with %q; the book knows %s", strings.Join(words, " "), strings.Join(t.ids(), ", "))
		}
	}
	s := makeSheet(b, complaints, f)
	var page bytes.Buffer
	perm := fs.FileMode(0o644) // nobody's data stand on a blank sheet
	switch f.format {
	case "text":
		err = report.SheetText(&page, s, f.width)
	case "html":
		err = report.SheetHTML(&page, s)
	case "yaml":
		perm = 0o600 // but in the answers they will
		err = report.SheetAnswers(&page, s, complaints)
	}
	if err != nil {
		return err
	}
	return putOut(cmd.OutOrStdout(), f.output, "sheet", page.Bytes(), perm)
}

// A station is one place on the way round the vehicle.
type station struct {
	name string
	at   tree.Place
	// Back at a place that comes earlier, with the wheels on the ground again.
	again bool
	first string // what must be in order before
}

const (
	beforeYard = "it rolls"
	beforeRoad = "the road"
)

// stations in the order in which they are visited.
var stations = []station{
	{name: "From memory", at: tree.Recall},
	{name: "Seat", at: tree.Seat},
	{name: "Under the bonnet", at: tree.Bonnet},
	{name: "On the ground", at: tree.Ground},
	{name: "Each corner raised", at: tree.Corner},
	{name: "Wheels off", at: tree.WheelOff},
	{name: "Drums off", at: tree.DrumOff},
	{name: "Back on its wheels, before it moves", at: tree.Seat, again: true},
	{name: "Yard", at: tree.Yard, first: "this part is done only when no STOP and no STAY is ticked anywhere, and each check that says \"before " +
		beforeYard + "\" and applies has a tick other than not sure. Else leave it out."},
	{name: "Road", at: tree.Road, first: "this part is done only when nothing with a word beside it is ticked anywhere, and each check that says \"before " +
		beforeYard + "\" or \"before " + beforeRoad + "\" and applies has a tick other than not sure. Else leave it out."},
}

// raisedPlaces are those at which it does not stand on its wheels.
var raisedPlaces = []tree.Place{tree.Corner, tree.WheelOff, tree.DrumOff}

// makeSheet sorts the checks of complaints by place.
func makeSheet(b *tree.Book, complaints []string, f sheetFlags) *report.Sheet {
	m := &sheetMaker{book: b, flags: f, number: map[string]int{}, branch: map[string]way{}, figureAt: map[string]int{}}
	s := &report.Sheet{Units: f.units, Book: f.book, Talk: "chock talk", Again: "chock sheet --format yaml"}
	for _, c := range complaints {
		s.Complaints = append(s.Complaints, b.Complaint(c).Say)
	}
	if len(complaints) < len(b.Complaints) {
		s.Talk += " " + strings.Join(complaints, " ")
		s.Again += " " + strings.Join(complaints, " ")
	}
	list := b.Listing(complaints...)
	if len(complaints) == len(b.Complaints) {
		list = b.Listing()
	}
	byStation := m.sort(list)
	for _, checks := range byStation {
		for _, c := range checks {
			m.number[c.ID] = len(m.number) + 1
		}
	}
	m.branches(complaints, list)
	for i, checks := range byStation {
		if len(checks) > 0 {
			s.Stations = append(s.Stations, m.stationOf(i, checks))
		}
	}
	for _, c := range b.Complaints {
		if m.opens(list, c.ID) && !slices.Contains(complaints, c.ID) {
			s.Opens = append(s.Opens, report.Tick{ID: c.ID, Say: c.Say})
		}
	}
	return s
}

type sheetMaker struct {
	book     *tree.Book
	flags    sheetFlags
	picker   *tree.Check    // the question that picks the wheel, if it is on the sheet
	number   map[string]int // of a check on the sheet
	branch   map[string]way // after which answers a check is asked
	figureAt map[string]int // number of the check that asks for a figure first
}

// sort gives the checks of each station in the order of asking.
func (m *sheetMaker) sort(list []tree.Listed) [][]*tree.Check {
	after := m.afterRaised(list)
	out := make([][]*tree.Check, len(stations))
	asked := map[string]bool{} // figures
	picked := false
	for _, l := range list {
		c := l.Check
		if l.Tree == "causes" || !m.stands(c, asked) {
			continue
		}
		if c.Picks {
			m.picker = c // stands before the first check at the wheel that it picks
			continue
		}
		i := slices.IndexFunc(stations, func(s station) bool { return s.again == after[c.ID] && (s.again || s.at == c.Place) })
		if c.At == "named" && !picked {
			out[i], picked = append(out[i], m.picker), true
		}
		out[i] = append(out[i], c)
	}
	if m.picker != nil && !picked {
		out[0] = append(out[0], m.picker)
	}
	return out
}

// afterRaised finds what is looked at on its wheels because of what was done
// with the wheels up, and so cannot come before it, though its place does: a
// first look that comes after those; what only applies after an answer up
// there; a pedal that a tree presses on no way but past there.
func (m *sheetMaker) afterRaised(list []tree.Listed) map[string]bool {
	up := func(c *tree.Check) bool { return slices.Contains(raisedPlaces, c.Place) }
	after := map[string]bool{}
	passed := false
	for _, l := range m.book.Looks {
		c := m.book.Checks[l.Check]
		passed = passed || up(c)
		after[c.ID] = passed
	}
	before := map[string]bool{} // reached by a tree without going past there
	trees := map[string]bool{}
	for _, l := range list {
		if trees[l.Tree] || m.book.Complaint(l.Tree) == nil {
			continue
		}
		trees[l.Tree] = true
		c := m.book.Complaint(l.Tree)
		steps := map[string]*tree.Step{}
		for _, s := range c.Steps {
			steps[s.ID] = s
		}
		seen := map[string]bool{}
		var walk func(id string)
		walk = func(id string) {
			s := steps[id]
			if s == nil || seen[id] {
				return
			}
			seen[id] = true
			before[s.Check] = true
			if up(m.book.Checks[s.Check]) {
				return
			}
			for _, t := range s.Then {
				walk(t.Step)
			}
		}
		walk(c.Begin)
	}
	for _, l := range list {
		c := l.Check
		if l.Tree != "first" && (c.Place == tree.Seat && !before[c.ID] || slices.ContainsFunc(c.OnlyIf, func(cond tree.Cond) bool { return up(m.book.Checks[cond.Question]) })) {
			after[c.ID] = true
		}
		after[c.ID] = after[c.ID] && slices.Contains([]tree.Place{tree.Seat, tree.Bonnet, tree.Ground}, c.Place)
	}
	return after
}

// stands reports whether c has anything to fill in. One that is worked out
// of other checks has only the figures that no other check asked for.
func (m *sheetMaker) stands(c *tree.Check, asked map[string]bool) bool {
	stands := !c.Computed()
	for _, in := range c.Inputs {
		if in.Figure != "" && !asked[in.Figure] {
			asked[in.Figure], stands = true, true
		}
	}
	return stands
}

// opens reports whether an answer on the sheet opens a complaint.
func (m *sheetMaker) opens(list []tree.Listed, complaint string) bool {
	return slices.ContainsFunc(list, func(l tree.Listed) bool {
		return slices.ContainsFunc(l.Check.Answers, func(a *tree.Answer) bool { return slices.Contains(a.Opens, complaint) })
	})
}

func (m *sheetMaker) stationOf(i int, checks []*tree.Check) report.Station {
	st := stations[i]
	out := report.Station{ID: string(st.at), Name: st.name, First: st.first}
	for _, c := range checks {
		if words := m.book.Cautions[c.Place]; (st.again || c.Place == st.at) && words != "" && !slices.Contains(out.Cautions, words) {
			out.Cautions = append(out.Cautions, words)
		}
	}
	if st.again {
		out.ID += "-again"
	}
	if ahead := m.ahead(checks); out.First == "" && ahead != "" {
		out.First = "see " + ahead + ", because some of the checks here depend on it."
	}
	shared := m.sharedNeeds(checks)
	for _, c := range checks {
		blank := m.blank(c)
		blank.Needs = slices.DeleteFunc(blank.Needs, func(s string) bool { return s == shared })
		out.Blanks = append(out.Blanks, blank)
	}
	if shared != "" {
		out.Needs = []string{shared}
	}
	return out
}

// ahead names the questions of later stations that decide which checks of
// this one apply.
func (m *sheetMaker) ahead(checks []*tree.Check) string {
	last := m.number[checks[len(checks)-1].ID]
	var numbers []int
	for _, c := range checks {
		for _, cond := range slices.Concat(c.OnlyIf, c.Needs) {
			if n := m.number[cond.Question]; n > last && !slices.Contains(numbers, n) {
				numbers = append(numbers, n)
			}
		}
	}
	slices.Sort(numbers)
	var words []string
	for _, n := range numbers {
		words = append(words, fmt.Sprint(n))
	}
	return strings.Join(words, " and ")
}

// sharedNeeds is what most checks of a station need, so that it is said once
// at its head. A check that needs something else says so itself.
func (m *sheetMaker) sharedNeeds(checks []*tree.Check) string {
	count := map[string]int{}
	for _, c := range checks {
		for _, cond := range c.Needs {
			words := m.cond(c, cond)
			if count[words]++; count[words] > 2 && 2*count[words] > len(checks) {
				return words
			}
		}
	}
	return ""
}

// cond says when a condition holds.
func (m *sheetMaker) cond(c *tree.Check, cond tree.Cond) string {
	out := m.answered(c, m.book.Checks[cond.Question], cond.Answers)
	if cond.Sure {
		out += ", for sure"
	}
	return out
}

// answered names some answers to q, by its number and the words beside the
// boxes; outcomes, which nobody ticks, by their names.
func (m *sheetMaker) answered(c, q *tree.Check, ids []string) string {
	out := fmt.Sprintf("%d (%s)", m.number[q.ID], plainID(q.ID))
	if m.number[q.ID] == 0 { // worked out of others
		out = plainID(q.ID)
	}
	switch {
	case c.At != "" && q.At != "":
		out += " at that wheel"
	case q.At != "":
		out += " at any wheel"
	}
	var words []string
	for _, id := range ids {
		a := q.Answer(id)
		switch {
		case id == tree.Unsure:
			words = append(words, "not sure, or left out")
		case a == nil || q.Measure != "":
			words = append(words, plainID(id))
		default:
			words = append(words, "\""+a.Say+"\"")
		}
	}
	return out + ": " + strings.Join(words, " or ")
}

// A way is some answers of a check, after which a tree asks another.
type way struct {
	from    *tree.Check
	answers []string
}

// branches finds what a tree asks only after a few answers of one other check,
// which is then what the sheet says.
func (m *sheetMaker) branches(complaints []string, list []tree.Listed) {
	always := map[string]bool{} // first looks, and what others wait for
	for _, l := range list {
		always[l.Check.ID] = always[l.Check.ID] || l.Tree == "first"
		for _, cond := range slices.Concat(l.Check.OnlyIf, l.Check.Needs) {
			always[cond.Question] = true
		}
	}
	ways := map[string][]way{} // by the check that they lead to
	for _, id := range complaints {
		c := m.book.Complaint(id)
		check := map[string]string{} // by step
		for _, s := range c.Steps {
			check[s.ID] = s.Check
		}
		always[check[c.Begin]] = true
		for _, s := range c.Steps {
			from := m.book.Checks[s.Check]
			ids := []string{}
			for _, a := range from.Answers {
				ids = append(ids, a.ID)
			}
			for _, a := range append(ids, tree.Unsure) {
				to := check[s.Then[a].Step]
				if to == "" || to == from.ID {
					continue
				}
				i := slices.IndexFunc(ways[to], func(w way) bool { return w.from == from })
				if i < 0 {
					i = len(ways[to])
					ways[to] = append(ways[to], way{from: from})
				}
				if !slices.Contains(ways[to][i].answers, a) {
					ways[to][i].answers = append(ways[to][i].answers, a)
				}
			}
		}
	}
	for to, w := range ways {
		if !always[to] && len(w) == 1 && 2*len(w[0].answers) <= len(w[0].from.Answers)+1 {
			m.branch[to] = w[0]
		}
	}
}

// blank makes room for one check.
func (m *sheetMaker) blank(c *tree.Check) report.Blank {
	out := report.Blank{N: m.number[c.ID], ID: c.ID, Ask: c.Ask, Worked: c.Computed()}
	m.inputs(c, &out)
	if out.Worked { // the checks that it is worked out of say the rest
		return out
	}
	switch c.Look {
	case tree.Yard:
		out.Before = beforeYard
	case tree.Road:
		out.Before = beforeRoad
	}
	var conds []string
	switch c.At {
	case "front":
		out.Wheels = tree.Wheels[:2]
	case "rear":
		out.Wheels = tree.Wheels[2:]
	case "all":
		out.Wheels = tree.Wheels
	case "named":
		for _, a := range m.picker.Answers {
			out.Wheels = append(out.Wheels, a.ID)
		}
		conds = append(conds, fmt.Sprintf("at the wheel ticked at %d", m.number[m.picker.ID]))
	}
	for _, cond := range c.OnlyIf {
		conds = append(conds, m.cond(c, cond))
	}
	if b, ok := m.branch[c.ID]; ok && !slices.ContainsFunc(c.OnlyIf, func(cond tree.Cond) bool { return cond.Question == b.from.ID }) {
		conds = append(conds, m.answered(c, b.from, b.answers))
	}
	out.If = strings.Join(conds, ", and ")
	for _, cond := range c.Needs {
		out.Needs = append(out.Needs, m.cond(c, cond))
	}
	if m.flags.steps {
		for _, l := range [][2]string{{"How: ", c.Steps}, {"Without tools: ", c.Without}, {"Alone: ", c.Alone}} {
			if l[1] != "" {
				out.How = append(out.How, l[0]+l[1])
			}
		}
	}
	out.EachWheel = c.At == "named" // nobody knows yet how many
	if c.Place != tree.Recall {     // remembering takes what it takes
		out.Minutes = c.Minutes
		if !out.EachWheel {
			out.Minutes *= max(len(out.Wheels), 1)
		}
	}
	if c.Measure == "" {
		out.Several = c.Several
		for _, a := range c.Answers {
			out.Answers = append(out.Answers, report.Tick{ID: a.ID, Say: a.Say, Mark: markOf(c, a)})
		}
		if c.UnsureDrive == tree.Stop {
			out.Unsure = "STOP"
		}
	}
	return out
}

// inputs are the readings that a measurement takes, and its figures, each
// asked for where the sheet first wants it.
func (m *sheetMaker) inputs(c *tree.Check, out *report.Blank) {
	for _, in := range c.Inputs {
		switch {
		case in.Figure != "":
			g := m.book.Figures[in.Figure]
			u := g.US
			if m.flags.units == "metric" {
				u = g.Metric
			}
			at := m.figureAt[g.ID]
			if at == 0 {
				m.figureAt[g.ID] = out.N
			}
			if at == 0 || !out.Worked {
				out.Figures = append(out.Figures, report.Figure{ID: g.ID, Ask: g.Ask, UnitName: unitName(u), At: at})
			}
		case in.Most > 0:
			u := in.Unit(m.flags.units)
			say := in.Say
			if say == "" {
				say = upperFirst(plainID(in.Name))
			}
			out.Inputs = append(out.Inputs, report.Reading{Name: in.Name, Say: say, Unit: u, UnitName: unitName(u),
				Least: in.Least, Most: in.Most, Optional: in.Optional})
		}
	}
}

// markOf is the word beside an answer that keeps the vehicle where it is.
func markOf(c *tree.Check, a *tree.Answer) string {
	switch {
	case a.Drive == tree.Stop:
		return "STOP"
	case a.Fails && c.Look == tree.Yard:
		return "STAY"
	case a.Fails && c.Look == tree.Road:
		return "NO ROAD"
	}
	return ""
}
