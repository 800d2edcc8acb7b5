package report

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"chock/brakes/unit"
	"chock/cmd/chock/internal/ask"
	"chock/cmd/chock/internal/record"
)

// What stands on the page when a record has none of its own: an older one, or
// one of a talk that was stopped early.
const (
	standingNotice  = "Owner's record, not a certificate."
	standingCaution = "Level ground, a chock at a wheel that stays down, stands under the frame, and time for hot parts to cool."
	standingVerify  = "Have a qualified technician verify these findings and any repair before the vehicle is relied on."
)

// Headings that a web page looks for: the list that may be long, and what
// begins that which need not stand on the first sheet of paper.
const (
	headUnchecked = "What was not checked"
	headReadings  = "Readings and their limits"
	headCaution   = "Take care in this work"
	headChecks    = "Check by check"
)

func cautions(rec *record.Record) []string {
	if len(rec.Caution) == 0 {
		return []string{standingCaution}
	}
	return rec.Caution
}

func noticeOf(rec *record.Record) string {
	return cmp.Or(rec.Notice, standingNotice)
}

func verify(rec *record.Record) string {
	if rec.Verify == "" {
		return standingVerify
	}
	return rec.Verify
}

// Text prints the final page on a screen: whether to drive and why, what was
// found, what to do, what was not checked, and only then the readings and the
// lists.
func Text(scr *ask.Screen, rec *record.Record) error {
	return write(rec, false).screen(scr)
}

// write puts a record into a document. The whole report says more than the
// page at the end of a talk: plots, and what to ask the technician.
func write(rec *record.Record, whole bool) *Doc {
	d := &Doc{whole: whole}
	p := page{d, rec}
	p.advice()
	p.found()
	p.loose()
	p.todo()
	p.unchecked()
	p.readings()
	if whole {
		p.computed()
	}
	p.list(headCaution, cautions(rec))
	p.heading("Have it verified")
	d.Print(ask.Plain, verify(rec))
	if whole {
		p.questions()
	}
	p.list("Parts, always as sets", rec.Sets)
	p.torque()
	p.list("After 50 miles (80 km), brakes and wheels cold", rec.Recheck)
	for _, d := range rec.Trip {
		p.list(d.When, d.Items)
	}
	p.list("Hand over rather than do", rec.HandOver)
	p.notes()
	p.list("Warnings", rec.Warnings)
	p.list("Sources", rec.Sources)
	if whole {
		var none []string
		for _, f := range p.by("unlikely") {
			none = append(none, f.Say)
		}
		p.list("Looked at, and no sign of it", none)
		p.heading("Read and checked by")
		d.Blanks("Name", "Date")
		d.Blanks("Qualified as")
	}
	d.Print(ask.Plain, "")
	d.Print(ask.Dim, noticeOf(rec))
	return d
}

// A page writes one record into a document.
type page struct {
	doc *Doc
	rec *record.Record
}

func (p page) heading(words string) { p.doc.Heading(words) }

// list prints items under a heading, and nothing where there are none.
func (p page) list(heading string, items []string) {
	if len(items) == 0 {
		return
	}
	p.heading(heading)
	for _, s := range items {
		p.doc.Item(ask.Plain, "- ", s)
	}
}

func (p page) advice() {
	title := "Owner's record of a brake check"
	if p.doc.whole {
		title += ", not a certificate"
	}
	if day := day(p.rec.Started); day != "" {
		title += ", " + day
	}
	p.doc.Title = title
	if p.rec.Vehicle != "" {
		p.doc.Item(ask.Plain, "Vehicle: ", p.rec.Vehicle)
	}
	if p.rec.Odometer != nil {
		p.doc.Item(ask.Plain, "Odometer: ", typed([]record.Reading{*p.rec.Odometer}))
	}
	var said []string
	for _, c := range p.rec.Complaints {
		if c.Opened {
			continue // not said by the person
		}
		said = append(said, c.Say)
	}
	if len(said) > 0 {
		p.doc.Item(ask.Plain, "Complaint: ", strings.Join(said, "; "))
	}
	p.doc.Print(ask.Plain, "")
	p.doc.Advice(driveStyle(p.rec.Drive), joinSentence(upperFirst(adviceWords(p.rec)), p.rec.Reason))
	if p.doc.whole && meaning[p.rec.Drive] != "" {
		p.doc.Print(ask.Plain, meaning[p.rec.Drive])
	}
	if p.rec.Headline != "" {
		p.doc.Print(ask.Plain, sentence(p.rec.Headline))
	}
	if !p.rec.Finished {
		p.doc.Print(ask.Care, "These checks were stopped before their end. What is left is listed under what was not checked.")
	}
}

// meaning says what the advice comes to, for who was not there.
var meaning = map[string]string{
	"go":   "That is not a promise. What nobody looked at stands below.",
	"care": "Not for daily use: only the way to the repair, gently, with more distance to whoever is in front. What was not checked, dangerous things first, is looked at before that or there.",
	"stop": "It stays where it stands, or is fetched, until this is put right.",
}

func adviceWords(rec *record.Record) string {
	words := map[string]string{"go": "nothing here against driving it", "care": "with care, straight to repair", "stop": "do not drive"}
	return cmp.Or(rec.Advice, words[rec.Drive], "no advice") // a record that was cut down by hand
}

// day gives the day in the zone of whoever reads.
func day(t time.Time) string {
	if t.IsZero() {
		return ""
	}
	return t.Local().Format("2 January 2006")
}

func driveStyle(drive string) ask.Style {
	switch drive {
	case "stop":
		return ask.Halt
	case "care":
		return ask.Care
	case "go":
		return ask.Good
	}
	return ask.Plain
}

// standings in the order of the page, with the words before a cause.
var standings = []struct{ id, say string }{
	{"found", "Found"}, {"likely", "Likely"}, {"possible", "Possible"}, {"mended", "Found, put right"}, {"unlikely", "Unlikely"},
}

// by gives the findings of one standing, dangerous ones first.
func (p page) by(standing string) []record.Finding {
	var out []record.Finding
	for _, f := range p.rec.Findings {
		if f.Standing == standing {
			out = append(out, f)
		}
	}
	sortByDrive(out)
	return out
}

func sortByDrive(fs []record.Finding) {
	slices.SortStableFunc(fs, func(a, b record.Finding) int { return rank(a.Drive) - rank(b.Drive) })
}

func rank(drive string) int {
	switch drive {
	case "stop":
		return 0
	case "care":
		return 1
	}
	return 2
}

func (p page) found() {
	open := false
	for _, s := range standings {
		fs := p.by(s.id)
		if len(fs) > 0 && !open {
			p.heading("What was found")
			open = true
		}
		if s.id == "unlikely" { // what it is not stays off the first page
			if len(fs) > 0 {
				where := "The record names them."
				if p.doc.whole {
					where = "They are named at the end."
				}
				p.doc.Item(ask.Plain, "- ", fmt.Sprintf("Looked at, and no sign of it: %s. %s", others(len(fs)), where))
			}
			continue
		}
		for _, f := range fs {
			style, head := ask.Plain, s.say
			if f.Drive == "stop" && s.id != "mended" {
				style, head = ask.Halt, head+", dangerous"
			}
			p.doc.Word(style, "- ", head, sentence(at(f.Say, f.Wheels)))
			if f.About >= 5 { // what the tree alone keeps possible has no odds worth the line
				p.doc.Item(ask.Plain, "  ", fmt.Sprintf("by this book's estimates, about %d in 100", f.About))
			}
			for _, l := range together(f.For) {
				if l.Answer == "unsure" || l.Answer == "later" || s.id == "possible" {
					continue // shows nothing; an end of the tree named it
				}
				p.doc.Item(ask.Plain, "  ", p.how(l)+": "+l.Say)
			}
			// A sound wheel says nothing against another.
			against := slices.DeleteFunc(slices.Clone(f.Against), func(l record.Line) bool {
				return len(f.Wheels) > 0 && l.Wheel != "" && !slices.Contains(f.Wheels, l.Wheel)
			})
			for _, l := range together(against) {
				p.doc.Item(ask.Plain, "  ", "against it: "+l.Say)
			}
			for _, o := range f.From {
				end := "Mend both."
				if slices.ContainsFunc(p.by("mended"), func(m record.Finding) bool { return m.Cause == o.Cause }) {
					end = "That was put right."
				}
				p.doc.Item(ask.Plain, "  ", "may come from: "+lowerFirst(o.Say)+" - "+lowerFirst(o.Because)+". "+end)
			}
			if f.Disagree {
				p.doc.Item(ask.Care, "  ", "These disagree. Look again before anything is replaced.")
			}
		}
	}
}

// together says once what was answered alike at several wheels.
func together(lines []record.Line) []record.Line {
	var out []record.Line
	wheels := map[string][]string{}
	for _, l := range lines {
		key := l.ID + " " + l.Answer
		if l.Wheel == "" || wheels[key] == nil {
			out = append(out, l)
		}
		wheels[key] = append(wheels[key], l.Wheel)
	}
	for i, l := range out {
		if ws := wheels[l.ID+" "+l.Answer]; len(ws) > 1 {
			if words, ok := strings.CutPrefix(l.Say, wheelNames([]string{l.Wheel})+", "); ok {
				out[i].Say = at(words, ws)
			}
		}
	}
	return out
}

func others(n int) string {
	if n == 1 {
		return "one other cause"
	}
	return fmt.Sprintf("%d other causes", n)
}

// how tells in which way an answer is known.
func (p page) how(l record.Line) string {
	if l.How != "" {
		return l.How
	}
	if slices.ContainsFunc(p.rec.Measurements, func(m record.Measurement) bool { return m.ID == l.ID }) {
		return "measured"
	}
	return "shown by"
}

// loose prints what hangs in the air: signs that nothing explains, and stop
// signs that were taken back.
func (p page) loose() {
	var say []string
	for _, l := range p.rec.NotExplained {
		say = append(say, l.Say)
	}
	p.list("Not explained by anything found", say)
	say = nil
	for _, c := range p.rec.Changed {
		say = append(say, fmt.Sprintf("%s: first answered %q, changed to %q.", at(plainID(c.ID), []string{c.Wheel}), c.First, c.Now))
	}
	p.list("Answers that said stop and were changed", say)
}

// fewest is how many causes that are only possible get their steps printed
// when nothing better is known.
const fewest = 3

// todo puts dangers first, however well known: those found, those that may be,
// those nobody looked for; only then the rest in the same order.
func (p page) todo() {
	proved := append(p.by("found"), p.by("likely")...)
	possible := p.by("possible")
	if len(proved) == 0 && len(possible) <= fewest {
		proved, possible = possible, nil
	}
	hidden := slices.ContainsFunc(p.rec.NotChecked, func(u record.Unchecked) bool { return u.Dangerous })
	if len(proved) == 0 && len(possible) == 0 && !hidden {
		return
	}
	p.heading("What to do, in this order")
	n := 0
	item := func(text string) {
		n++
		p.doc.Item(ask.Plain, fmt.Sprintf("%d. ", n), sentence(text))
	}
	said := map[string]bool{}
	for _, dangerous := range []bool{true, false} {
		for _, f := range proved {
			if (f.Drive == "stop") != dangerous {
				continue
			}
			head := at(f.Say, f.Wheels)
			if f.Part != "" {
				head += " (" + f.Part + ")"
			}
			if f.Standing == "possible" {
				head = "If it is this: " + head
			}
			item(head)
			for _, s := range f.Do {
				if !said[s] {
					p.doc.Item(ask.Plain, "   - ", s)
				}
				said[s] = true
			}
			if by := provenance(f.Mark, f.Source); by != "" {
				p.doc.Item(ask.Dim, "   ", "Source: "+by+".")
			}
		}
		var maybe []string
		for _, f := range possible {
			if (f.Drive == "stop") == dangerous {
				maybe = append(maybe, at(f.Say, f.Wheels))
			}
		}
		if len(maybe) > 0 {
			head := "Prove or rule out, before any part is bought for it: "
			if dangerous {
				head = "Prove or rule out, before it is driven: "
			}
			item(head + strings.Join(maybe, "; "))
		}
		if dangerous && hidden {
			item("Check the dangerous things below that were not checked.")
		}
	}
}

func (p page) unchecked() {
	if len(p.rec.NotChecked) == 0 {
		return
	}
	p.heading(headUnchecked)
	dangerous, others := split(p.rec.NotChecked)
	p.uncheckedPart(ask.Care, "Dangerous if it is so:", dangerous, true)
	p.uncheckedPart(ask.Plain, "Also:", others, false)
}

func split(us []record.Unchecked) (dangerous, others []record.Unchecked) {
	for _, u := range us {
		if u.Dangerous {
			dangerous = append(dangerous, u)
		} else {
			others = append(others, u)
		}
	}
	return dangerous, others
}

// uncheckedPart prints causes line by line, then checks by the reason why they
// were left out, all wheels of a check at once: each with its question, or
// only named, since a talk that was stopped early leaves many.
func (p page) uncheckedPart(style ask.Style, heading string, us []record.Unchecked, questions bool) {
	if len(us) == 0 {
		return
	}
	p.doc.Under(style, heading)
	type line struct {
		id, say, why string
		cause        bool
	}
	var lines []line
	wheels := map[line][]string{}
	for _, u := range us {
		l := line{u.ID, u.Say, u.Why, u.Kind == "cause"}
		if _, seen := wheels[l]; !seen {
			lines = append(lines, l)
			wheels[l] = nil
		}
		if u.Wheel != "" {
			wheels[l] = append(wheels[l], u.Wheel)
		}
	}
	var whys []string
	for _, l := range lines {
		switch {
		case l.cause:
			text := at(l.say, wheels[l])
			if l.why != "" {
				text += ": " + l.why
			}
			p.doc.Item(ask.Plain, "- ", text)
		case !slices.Contains(whys, l.why):
			whys = append(whys, l.why)
		}
	}
	for _, why := range whys {
		head := why
		if head == "" {
			head = "not checked"
		}
		var names []string
		for _, l := range lines {
			if l.cause || l.why != why {
				continue
			}
			name := at(plainID(l.id), wheels[l])
			if questions {
				name += ": " + l.say
			}
			names = append(names, name)
		}
		if !questions {
			p.doc.Item(ask.Plain, "- ", upperFirst(head)+": "+strings.Join(names, "; ")+".")
			continue
		}
		p.doc.Item(ask.Plain, "- ", upperFirst(head)+":")
		for _, name := range names {
			p.doc.Item(ask.Plain, "  - ", name)
		}
	}
}

// tooClose says which readings were too close to call, or that none was.
func (p page) tooClose() string {
	var names []string
	for _, m := range p.rec.Measurements {
		for _, v := range m.Verdicts {
			if v.Verdict == unit.TooClose.String() {
				names = append(names, at(lowerFirst(m.Say), []string{m.Wheel})+" ("+plainID(v.Of)+")")
			}
		}
	}
	if names == nil {
		return "None of the readings was too close to call."
	}
	return "Too close to call: " + strings.Join(names, "; ") + "."
}

func (p page) readings() {
	figures := p.figures()
	if len(p.rec.Measurements) == 0 && len(figures) == 0 {
		return
	}
	p.heading(headReadings)
	if p.doc.whole {
		p.doc.Print(ask.Plain, p.tooClose())
	}
	for i, m := range p.rec.Measurements {
		if i > 0 {
			p.doc.Print(ask.Plain, "")
		}
		p.doc.Under(ask.Plain, at(m.Say, []string{m.Wheel}))
		for _, group := range byInput(m.Readings) {
			name := plainID(group[0].Input)
			if name == "" {
				name = "typed"
			}
			p.doc.Item(ask.Plain, "  ", name+": "+typed(group))
		}
		for _, v := range m.Verdicts {
			p.verdict(v)
		}
		for _, l := range m.Lines {
			p.doc.Item(ask.Plain, "  ", l)
		}
		p.drawn(m)
	}
	if len(figures) > 0 {
		p.doc.Print(ask.Plain, "")
		p.doc.Under(ask.Plain, "Figures of this vehicle")
		for _, f := range figures {
			p.doc.Item(ask.Plain, "  ", f)
		}
	}
}

// drawn adds what only a whole report has of a measurement: the plots and the
// arithmetic.
func (p page) drawn(m record.Measurement) {
	if !p.doc.whole {
		return
	}
	p.doc.Draw(plots(p.rec, m))
	p.doc.Worked(m.Steps)
}

// computed is what the figures of the vehicle file come to.
func (p page) computed() {
	if len(p.rec.Computed) == 0 {
		return
	}
	p.heading("What this vehicle's figures come to")
	p.doc.Print(ask.Plain, "Worked out from the vehicle file. It explains. It finds nothing, and it does not say that the vehicle stops.")
	for i, m := range p.rec.Computed {
		if i > 0 {
			p.doc.Print(ask.Plain, "")
		}
		p.doc.Under(ask.Plain, m.Say)
		for _, l := range m.Lines {
			p.doc.Item(ask.Plain, "- ", l)
		}
		p.drawn(m)
	}
}

// figures gives the figures that stand, with where they are from.
func (p page) figures() []string {
	var out []string
	for i, a := range p.rec.Answers {
		if a.Figure == nil || slices.ContainsFunc(p.rec.Answers[i+1:], func(b record.Answer) bool { return b.ID == a.ID && b.Wheel == a.Wheel }) {
			continue
		}
		text := at(plainID(a.ID), []string{a.Wheel}) + ": " + typed([]record.Reading{*a.Figure})
		if a.Origin != "" {
			text += ", " + a.Origin
		}
		out = append(out, text)
	}
	return out
}

// byInput groups readings by their input, in the order in which they came.
func byInput(rs []record.Reading) [][]record.Reading {
	var out [][]record.Reading
	for _, r := range rs {
		i := slices.IndexFunc(out, func(g []record.Reading) bool { return g[0].Input == r.Input })
		if i < 0 {
			out = append(out, nil)
			i = len(out) - 1
		}
		out[i] = append(out[i], r)
	}
	return out
}

// typed gives readings as they were typed, and in both systems.
func typed(rs []record.Reading) string {
	var as []string
	var all []unit.Any
	bare := true
	for _, r := range rs {
		as = append(as, r.Typed)
		if r.Value == nil {
			continue
		}
		bare = bare && !strings.ContainsFunc(r.Typed, func(r rune) bool {
			return r != '-' && r != '+' && r != '.' && r != ',' && r != '/' && r != ' ' && (r < '0' || r > '9')
		})
		if a, err := unit.Parse(unit.Kind(r.Kind), r.Typed, r.Unit); err == nil {
			all = append(all, a)
		}
	}
	text := strings.Join(as, ", ")
	if bare && rs[0].Unit != "" {
		text += " " + rs[0].Unit
	}
	if len(all) == 0 || all[0].Kind == unit.KindWord || all[0].Kind == unit.KindCount {
		return text
	}
	least := slices.MinFunc(all, bySize)
	most := slices.MaxFunc(all, bySize)
	if least.SI == most.SI {
		return text + ", that is " + least.Both()
	}
	return text + ", from " + least.Both() + " to " + most.Both()
}

func bySize(a, b unit.Any) int {
	switch {
	case a.SI < b.SI:
		return -1
	case a.SI > b.SI:
		return 1
	}
	return 0
}

func (p page) verdict(v record.Verdict) {
	style, head := ask.Plain, v.Verdict
	switch v.Verdict {
	case unit.Within.String():
		style, head = ask.Good, unit.Within.Say()
	case unit.Outside.String():
		style, head = ask.Halt, unit.Outside.Say()
	case unit.TooClose.String():
		style, head = ask.Care, unit.TooClose.Say()
	case unit.NoLimit.String():
		head = unit.NoLimit.Say()
	}
	text := plainID(v.Of)
	if v.Value != nil && v.Limit != nil {
		value, limit := against(v.Unit, *v.Value, *v.Limit, doubtOf(v))
		text += " " + value + ", limit " + limit
		if v.Good != nil {
			good, _ := against(v.Unit, *v.Good, *v.Limit, doubtOf(v))
			text += ", good up to " + good
		}
	} else if v.Value != nil {
		value, _ := against(v.Unit, *v.Value, *v.Value, doubtOf(v))
		text += " " + value
	}
	if by := provenance(v.Mark, v.Source); by != "" && v.Limit != nil {
		text += ". Limit: " + by
	}
	if doubt := doubtOf(v); doubt > 0 && v.Limit != nil {
		near, _ := against(v.Unit, doubt, doubt, 0)
		switch {
		case v.Verdict == unit.TooClose.String():
			text += ". Within " + near + " of the limit these readings cannot tell"
		case p.doc.whole:
			text += ". Doubt of the readings " + near
		}
	}
	p.doc.Word(style, "  ", head, text)
}

// provenance says whose a figure is and how far it can be trusted.
func provenance(mark, source string) string {
	if mark == "given" {
		mark = "given with the readings"
	}
	switch {
	case mark == "":
		return source
	case source == "":
		return mark
	}
	return mark + ", " + source
}

// other is the unit of the other system that a number is also shown in.
var other = map[string]string{
	"in": "mm", "thou": "mm", "mm": "in", "um": "thou", "cm": "in", "ft": "m", "m": "ft", "km": "mi", "mi": "km",
	"psi": "kPa", "kPa": "psi", "bar": "psi", "MPa": "psi", "N": "lbf", "lbf": "N", "kgf": "lbf", "kg": "lb", "lb": "kg",
	"F": "C", "C": "F", "mph": "km/h", "km/h": "mph", "lb-ft": "Nm", "Nm": "lb-ft", "m/s2": "ft/s2", "ft/s2": "m/s2",
}

func doubtOf(v record.Verdict) float64 {
	if v.Doubt == nil {
		return 0
	}
	return *v.Doubt
}

// against gives a value and its limit in the unit and in the other system,
// never rounded across each other, and with no digit that the doubt makes idle:
// a ruler's 8 mm is not 8.000 mm.
func against(name string, value, limit, doubt float64) (string, string) {
	kind, ok := kindOf(name)
	if !ok {
		tail := ""
		if name != "" {
			tail = " " + name
		}
		return strconv.FormatFloat(value, 'g', 4, 64) + tail, strconv.FormatFloat(limit, 'g', 4, 64) + tail
	}
	v, l := si(kind, name, value), si(kind, name, limit)
	if name == "mm" && doubt >= 0.1 {
		a, b := unit.FormatAgainstTo(kind, v, l, "mm", 1)
		c, d := unit.FormatAgainstTo(kind, v, l, "in", 2)
		return a + " (" + c + ")", b + " (" + d + ")"
	}
	if name == "mi" || name == "km" {
		a, b := unit.FormatAgainstTo(kind, v, l, name, 0)
		c, d := unit.FormatAgainstTo(kind, v, l, other[name], 0)
		return a + " (" + c + ")", b + " (" + d + ")"
	}
	a, b := unit.FormatAgainst(kind, v, l, name)
	second := other[name]
	if name == "mm" && max(value, limit) < 1 {
		second = "thou"
	}
	if second != "" && unit.Known(kind, second) {
		c, d := unit.FormatAgainst(kind, v, l, second)
		a, b = a+" ("+c+")", b+" ("+d+")"
	}
	return a, b
}

// kindOf finds the quantity of a unit's name, length first.
func kindOf(name string) (unit.Kind, bool) {
	for _, k := range []unit.Kind{
		unit.KindLength, unit.KindPressure, unit.KindForce, unit.KindMass, unit.KindTemperature, unit.KindAngle, unit.KindSpeed,
		unit.KindTorque, unit.KindVolume, unit.KindTime, unit.KindFrequency, unit.KindAcceleration, unit.KindArea, unit.KindRatio,
	} {
		if name != "" && slices.Contains(unit.Units(k), name) {
			return k, true
		}
	}
	return "", false
}

// si turns a number in a unit into SI. Scales are straight lines, with a zero
// of their own for temperatures.
func si(kind unit.Kind, name string, x float64) float64 {
	zero, err0 := unit.Parse(kind, "0", name)
	one, err1 := unit.Parse(kind, "1", name)
	if err0 != nil || err1 != nil {
		panic("report: unit " + name + " is listed but not read")
	}
	return zero.SI + x*(one.SI-zero.SI)
}

// torque prints a list to be filled in by hand. chock never gives a figure.
func (p page) torque() {
	if len(p.rec.Torque) == 0 {
		return
	}
	p.heading("To tighten, with the figures of this vehicle's manual")
	p.doc.Torque(p.rec.Torque)
}

func (p page) notes() {
	var notes, aside []string
	for _, n := range p.rec.Notes {
		text := n.Text
		if n.ID != "" {
			text = at(plainID(n.ID), []string{n.Wheel}) + ": " + text
		}
		notes = append(notes, text)
	}
	for _, l := range p.rec.SetAside {
		aside = append(aside, l.Say)
	}
	p.list("Notes", notes)
	p.list("Answers set aside, since they do not apply to this vehicle", aside)
}

// at adds the wheels to a piece of text.
func at(say string, wheels []string) string {
	if names := wheelNames(wheels); names != "" {
		return strings.TrimRight(say, " .") + ", " + names
	}
	return say
}

var axles = []struct{ left, right, name string }{
	{"front-left", "front-right", "both front wheels"}, {"rear-left", "rear-right", "both rear wheels"},
}

// wheelNames says which wheels, as short as can be.
func wheelNames(wheels []string) string {
	has := func(w string) bool { return slices.Contains(wheels, w) }
	if has("front-left") && has("front-right") && has("rear-left") && has("rear-right") {
		return "all four wheels"
	}
	var out []string
	for _, a := range axles {
		if has(a.left) && has(a.right) {
			out = append(out, a.name)
			continue
		}
		for _, w := range []string{a.left, a.right} {
			if has(w) {
				axle, side, _ := strings.Cut(w, "-")
				out = append(out, side+" "+axle)
			}
		}
	}
	return strings.Join(out, ", ")
}

func plainID(id string) string { return strings.ReplaceAll(id, "-", " ") }

func lowerFirst(s string) string {
	if s == "" {
		return s
	}
	r := []rune(s)
	return strings.ToLower(string(r[:1])) + string(r[1:])
}

func upperFirst(s string) string {
	if s == "" {
		return s
	}
	r := []rune(s)
	return strings.ToUpper(string(r[:1])) + string(r[1:])
}

// sentence ends words with a full stop unless something ends them already.
func sentence(s string) string {
	s = upperFirst(strings.TrimSpace(s))
	if s == "" || strings.ContainsAny(s[len(s)-1:], ".?:") {
		return s
	}
	return s + "."
}

func joinSentence(a, b string) string {
	if b == "" {
		return sentence(a)
	}
	return strings.TrimRight(a, ".") + ": " + sentence(b)
}
