package report

import (
	"cmp"
	"fmt"
	"io"
	"math"
	"slices"
	"strings"

	"chock/brakes/unit"
	"chock/cmd/chock/internal/ask"
	"chock/cmd/chock/internal/record"
)

// A Comparison is two checks of one vehicle held against each other. It says
// what the two records say and nothing more.
type Comparison struct {
	Old, New   *record.Record // by the time at which they were begun
	Turned     bool           // they were given the other way round
	Causes     []CauseChange
	Complaints []ComplaintChange
	Measured   []Measured
	Answers    []AnswerChange
	Figures    []AnswerChange
	Open       []OpenItem
}

// A CauseChange is what became of a cause.
type CauseChange struct {
	Before, Now *record.Finding // nil where a record does not name it
	// mended, cleared (looked at, no sign of it), gone (not named again, and
	// nothing clears it), still, open (possible now), back (mended before,
	// there now), new, ruled-out (was only possible)
	Change string
}

// A ComplaintChange is what became of a complaint.
type ComplaintChange struct {
	record.Complaint
	Change string // gone better same new not-asked
	Said   string // the answer that says so
}

// Measured is one quantity of one check at one wheel. Before or Now is nil
// where it was measured only once.
type Measured struct {
	ID, Say, Wheel, Of string
	Before, Now        *record.Verdict
	Change             *float64 // in the unit of Now; nil where it cannot be told
	Doubt              *float64 // of the change; nil where a doubt is not known
}

// An AnswerChange is a question that was answered otherwise, or a figure.
type AnswerChange struct {
	ID, Wheel, Asked, Before, Now string
	Reworded                      bool // asked in other words
}

// An OpenItem was left unchecked in one record or in both.
type OpenItem struct {
	record.Unchecked
	Before, Now bool
	Looked      bool // left open before, and looked at since
}

// changeRule says when a change is one.
const changeRule = "A change counts when it is larger than the doubts of both readings together: the root of the sum of their squares. " +
	"The doubt of a reading is the one of its verdict, how near to the limit it may come before it is too close to call."

// Compare holds two records against each other, the earlier one first.
func Compare(a, b *record.Record) *Comparison {
	c := &Comparison{Old: a, New: b}
	if !a.Started.IsZero() && !b.Started.IsZero() && b.Started.Before(a.Started) {
		c.Old, c.New, c.Turned = b, a, true
	}
	c.Causes = causeChanges(c.Old, c.New)
	c.Complaints = complaintChanges(c.Old, c.New)
	c.Measured = measuredTwice(c.Old, c.New)
	c.Answers, c.Figures = answerChanges(c.Old, c.New)
	c.Open = openItems(c.Old, c.New)
	return c
}

func causeChanges(old, now *record.Record) []CauseChange {
	find := func(r *record.Record, id string) *record.Finding {
		i := slices.IndexFunc(r.Findings, func(f record.Finding) bool { return f.Cause == id })
		if i < 0 {
			return nil
		}
		return &r.Findings[i]
	}
	var ids []string
	for _, f := range slices.Concat(old.Findings, now.Findings) {
		if !slices.Contains(ids, f.Cause) {
			ids = append(ids, f.Cause)
		}
	}
	var out []CauseChange
	for _, id := range ids {
		c := CauseChange{Before: find(old, id), Now: find(now, id)}
		was, is := standing(c.Before), standing(c.Now)
		switch {
		case is == "mended" && was != "mended":
			c.Change = "mended"
		case is == "present" && was == "present":
			c.Change = "still"
		case is == "present" && was == "mended":
			c.Change = "back"
		case is == "present":
			c.Change = "new"
		case was == "present" && is == "possible":
			c.Change = "open"
		case was == "present" && is == "unlikely":
			c.Change = "cleared"
		case was == "present":
			c.Change = "gone"
		case was == "possible" && is == "unlikely":
			c.Change = "ruled-out"
		default:
			continue
		}
		out = append(out, c)
	}
	slices.SortStableFunc(out, func(a, b CauseChange) int { return rank(a.finding().Drive) - rank(b.finding().Drive) })
	return out
}

// standing takes found and likely together, since a repair is made for either.
func standing(f *record.Finding) string {
	switch {
	case f == nil:
		return ""
	case f.Standing == "found", f.Standing == "likely":
		return "present"
	}
	return f.Standing
}

// finding is the later one of the two.
func (c CauseChange) finding() *record.Finding { return cmp.Or(c.Now, c.Before) }

// againAnswers are what a question about the complaint itself, asked after
// something was put right, can be answered.
var againAnswers = map[string]string{"gone": "gone", "less": "better", "changed": "better", "same": "same"}

// asksAgain tells whether a question asks how the complaint is now.
func asksAgain(id string) bool {
	return id == "complaint-again" || id == "rolls-off-again" || strings.HasPrefix(id, "still-after-") || strings.HasSuffix(id, "-after-stops")
}

func complaintChanges(old, now *record.Record) []ComplaintChange {
	var change, said string // by the last answer about it
	for _, a := range standingAnswers(now) {
		if asksAgain(a.ID) && len(a.Answer) == 1 && againAnswers[a.Answer[0]] != "" {
			change, said = againAnswers[a.Answer[0]], inWords(a)
		}
	}
	// Work on the brakes, a round of checks and a trip are a reason to look and
	// no complaint that could go away.
	traced := func(r *record.Record) (out []record.Complaint) {
		for _, c := range r.Complaints {
			if !slices.Contains([]string{"just-worked", "going-over", "long-trip"}, c.ID) {
				out = append(out, c)
			}
		}
		return out
	}
	has := func(cs []record.Complaint, id string) bool {
		return slices.ContainsFunc(cs, func(c record.Complaint) bool { return c.ID == id })
	}
	before, after := traced(old), traced(now)
	var out []ComplaintChange
	for _, c := range before {
		switch {
		// An answer about the complaint belongs to one of several only where it
		// can be told to which.
		case change != "" && (len(before) == 1 || len(after) == 1 && has(after, c.ID)):
			out = append(out, ComplaintChange{c, change, said})
		case has(after, c.ID):
			out = append(out, ComplaintChange{Complaint: c, Change: "same"})
		default:
			out = append(out, ComplaintChange{Complaint: c, Change: "not-asked"})
		}
	}
	for _, c := range after {
		if !has(before, c.ID) {
			out = append(out, ComplaintChange{Complaint: c, Change: "new"})
		}
	}
	return out
}

// inWords is the question and its answer.
func inWords(a record.Answer) string {
	return at(plainID(a.ID), []string{a.Wheel}) + ": " + lowerFirst(said(a))
}

// standingAnswers gives the answer that stands for each check and wheel, where
// it was first asked.
func standingAnswers(r *record.Record) []record.Answer {
	var out []record.Answer
	at := map[[2]string]int{}
	for _, a := range r.Answers {
		key := [2]string{a.ID, a.Wheel}
		if i, ok := at[key]; ok {
			out[i] = a
			continue
		}
		at[key] = len(out)
		out = append(out, a)
	}
	return out
}

func answerChanges(old, now *record.Record) (answers, figures []AnswerChange) {
	before := map[[2]string]record.Answer{}
	for _, a := range standingAnswers(old) {
		before[[2]string{a.ID, a.Wheel}] = a
	}
	for _, b := range standingAnswers(now) {
		a, asked := before[[2]string{b.ID, b.Wheel}]
		if !asked || put(a) || put(b) {
			continue
		}
		c := AnswerChange{ID: b.ID, Wheel: b.Wheel, Asked: b.Asked, Before: said(a), Now: said(b), Reworded: a.Asked != b.Asked}
		switch {
		case a.Figure != nil && b.Figure != nil:
			if a.Figure.Typed != b.Figure.Typed || a.Figure.Unit != b.Figure.Unit {
				c.Before, c.Now = typed([]record.Reading{*a.Figure}), typed([]record.Reading{*b.Figure})
				figures = append(figures, c)
			}
		case len(a.Readings)+len(b.Readings) > 0: // stands among what was measured
		case !sameSet(a.Answer, b.Answer):
			answers = append(answers, c)
		}
	}
	return answers, figures
}

func sameSet(a, b []string) bool {
	a, b = slices.Sorted(slices.Values(a)), slices.Sorted(slices.Values(b))
	return slices.Equal(slices.Compact(a), slices.Compact(b))
}

// measuredTwice pairs the quantities of two records by check, wheel and what
// they are held against.
func measuredTwice(old, now *record.Record) []Measured {
	type key struct{ id, wheel, of string }
	var out []Measured
	at := map[key]int{}
	take := func(r *record.Record, put func(m *Measured, v *record.Verdict)) {
		for _, m := range r.Measurements {
			for _, v := range quantities(m) {
				k := key{m.ID, m.Wheel, v.Of}
				i, ok := at[k]
				if !ok {
					i = len(out)
					at[k] = i
					out = append(out, Measured{ID: m.ID, Say: m.Say, Wheel: m.Wheel, Of: v.Of})
				}
				put(&out[i], &v)
			}
		}
	}
	take(old, func(m *Measured, v *record.Verdict) { m.Before = v })
	take(now, func(m *Measured, v *record.Verdict) { m.Now = v })
	for i := range out {
		m := &out[i]
		if m.Before == nil || m.Now == nil || m.Before.Value == nil || m.Now.Value == nil || m.Before.Unit != m.Now.Unit {
			continue
		}
		m.Change = number(new(*m.Now.Value - *m.Before.Value))
		if known(m.Before.Doubt) && known(m.Now.Doubt) {
			m.Doubt = number(new(math.Hypot(*m.Before.Doubt, *m.Now.Doubt)))
		}
	}
	return out
}

func known(f *float64) bool { return number(f) != nil && *f >= 0 }

// more tells whether the change is more than the doubt; nil where that is not
// known.
func (m Measured) more() *bool {
	if m.Change == nil || m.Doubt == nil {
		return nil
	}
	return new(math.Abs(*m.Change) > *m.Doubt)
}

// resultUnits are the units in which keys of results end.
var resultUnits = []struct{ end, unit string }{
	{"_mm", "mm"}, {"_percent", "%"}, {"_c", "C"}, {"_n", "N"}, {"_hz", "Hz"}, {"_kpa", "kPa"}, {"_nm", "Nm"},
}

// quantities are what a measurement came to: what it held against a limit, or,
// where it held nothing, its results.
func quantities(m record.Measurement) []record.Verdict {
	var out []record.Verdict
	for _, v := range m.Verdicts {
		if v.Value != nil {
			out = append(out, v)
		}
	}
	if out != nil {
		return out
	}
	for _, r := range m.Results {
		for _, u := range resultUnits {
			if of, ok := strings.CutSuffix(r.Key, u.end); ok && r.Value != nil {
				out = append(out, record.Verdict{Of: strings.ReplaceAll(of, "_", "-"), Value: r.Value, Unit: u.unit})
				break
			}
		}
	}
	return out
}

func openItems(old, now *record.Record) []OpenItem {
	var out []OpenItem
	for _, u := range now.NotChecked {
		out = append(out, OpenItem{Unchecked: u, Now: true})
	}
	for _, u := range old.NotChecked {
		i := slices.IndexFunc(out, func(o OpenItem) bool { return o.Kind == u.Kind && o.ID == u.ID && o.Wheel == u.Wheel })
		if i >= 0 {
			out[i].Before = true
			continue
		}
		out = append(out, OpenItem{Unchecked: u, Before: true, Looked: looked(now, u)})
	}
	slices.SortStableFunc(out, func(a, b OpenItem) int {
		switch {
		case a.Dangerous == b.Dangerous:
			return 0
		case a.Dangerous:
			return -1
		}
		return 1
	})
	return out
}

// looked tells whether a record has an answer to what an earlier one left open.
func looked(r *record.Record, u record.Unchecked) bool {
	if u.Kind == "cause" {
		return slices.ContainsFunc(r.Findings, func(f record.Finding) bool { return f.Cause == u.ID && f.Standing != "possible" })
	}
	return slices.ContainsFunc(standingAnswers(r), func(a record.Answer) bool { return a.ID == u.ID && a.Wheel == u.Wheel && !put(a) })
}

// Doc writes a comparison for people.
func (c *Comparison) Doc() *Doc {
	d := &Doc{Title: "Before and after: owner's record of two brake checks", whole: true}
	p := page{d, c.New}
	switch {
	case c.Old.Vehicle != "" && c.New.Vehicle != "" && !SameVehicle(c.Old, c.New):
		d.Print(ask.Care, fmt.Sprintf("Two different vehicles: %q before, %q after.", c.Old.Vehicle, c.New.Vehicle))
	case c.Old.Vehicle != "" && c.New.Vehicle != "":
		d.Item(ask.Plain, "Vehicle: ", c.New.Vehicle)
	default:
		if name := cmp.Or(c.Old.Vehicle, c.New.Vehicle); name != "" {
			d.Item(ask.Plain, "Vehicle: ", name)
		}
		d.Print(ask.Dim, "Not both records name their vehicle: that they are of one is taken on your word.")
	}
	if c.Turned {
		d.Print(ask.Care, "The records were given the other way round. The earlier one comes first here.")
	}
	if !c.Old.Started.IsZero() && c.Old.Started.Equal(c.New.Started) {
		d.Print(ask.Care, "Both were begun at the same time: they may be one check, kept twice.")
	}
	for _, r := range []struct {
		word string
		rec  *record.Record
	}{{"Before", c.Old}, {"After", c.New}} {
		d.Advice(driveStyle(r.rec.Drive), dated(r.word, r.rec)+": "+adviceOf(r.rec))
		if !r.rec.Finished {
			d.Print(ask.Care, "The check "+strings.ToLower(r.word)+" was stopped before its end: what it does not say is not known.")
		}
	}
	c.complaints(p)
	c.causes(p)
	c.measured(p)
	c.answers(p, "Answers that changed", c.Answers)
	c.answers(p, "Figures that changed", c.Figures)
	c.open(p)
	p.list(headCaution, cautions(c.New))
	p.heading("Have it verified")
	d.Print(ask.Plain, verify(c.New))
	d.Print(ask.Plain, "")
	d.Print(ask.Dim, noticeOf(c.New))
	return d
}

// SameVehicle compares the names of two vehicles.
func SameVehicle(a, b *record.Record) bool {
	return strings.EqualFold(strings.TrimSpace(a.Vehicle), strings.TrimSpace(b.Vehicle))
}

func dated(word string, r *record.Record) string {
	if day := day(r.Started); day != "" {
		return word + ", " + day
	}
	return word
}

// adviceOf is the drive advice and its reason, as a sentence.
func adviceOf(r *record.Record) string {
	return joinSentence(upperFirst(adviceWords(r)), r.Reason)
}

func (c *Comparison) complaints(p page) {
	words := map[string]string{"gone": "gone", "better": "better", "same": "still there", "new": "new", "not-asked": "not asked again"}
	var out []string
	for _, x := range c.Complaints {
		text := upperFirst(words[x.Change])
		if x.Change == "same" && x.Said == "" {
			text = "Named again"
		}
		text += ": " + lowerFirst(x.Say)
		if x.Said != "" {
			text += " (" + x.Said + ")"
		}
		out = append(out, sentence(text))
	}
	p.list("Complaints", out)
}

// putRight heads what the later check mended or cleared.
const putRight = "Put right, or no sign of it now"

func (c *Comparison) causes(p page) {
	for _, part := range []struct{ heading, changes string }{
		{putRight, "mended cleared"},
		{"Still there", "back still"},
		{"New in the later check", "new"},
		{"Named before, and not settled by the later check", "gone open"},
	} {
		open := false
		for _, x := range c.Causes {
			if !slices.Contains(strings.Fields(part.changes), x.Change) {
				continue
			}
			if !open {
				p.heading(part.heading)
				open = true
			}
			style, head := ask.Plain, ""
			f := x.finding()
			if f.Drive == "stop" && part.heading != putRight {
				style, head = ask.Halt, "Dangerous: "
			}
			p.doc.Item(style, "- ", head+sentence(f.Say))
			now := stood(x.Now)
			switch x.Change {
			case "mended":
				now = at("put right and checked again", x.Now.Wheels)
			case "cleared":
				now = "looked at, and no sign of it"
			case "gone":
				now = "not named, and no answer clears it. Look again"
			}
			p.doc.Item(ask.Plain, "  ", "Before: "+stood(x.Before)+". Now: "+now+".")
		}
	}
	var ruled []string
	for _, x := range c.Causes {
		if x.Change == "ruled-out" {
			ruled = append(ruled, lowerFirst(x.Now.Say))
		}
	}
	if len(ruled) > 0 {
		p.list("No longer possible", []string{sentence(strings.Join(ruled, "; "))})
	}
}

// stood says how a finding stood, and at which wheels.
func stood(f *record.Finding) string {
	if f == nil {
		return "not named"
	}
	words := map[string]string{"mended": "put right", "unlikely": "no sign of it"}
	word := f.Standing
	if words[word] != "" {
		word = words[word]
	}
	return at(word, f.Wheels)
}

func (c *Comparison) measured(p page) {
	var once [2][]string
	var last string
	ruled := false
	for _, m := range c.Measured {
		name := at(m.Say, []string{m.Wheel})
		if m.Before == nil || m.Now == nil {
			i := 0
			if m.Before == nil {
				i = 1
			}
			once[i] = add(once[i], sentence(name))
			continue
		}
		if !ruled {
			p.heading("Measured before and after")
			ruled = true
		}
		if name != last {
			p.doc.Under(ask.Plain, upperFirst(name))
			last = name
		}
		style, text := m.text()
		p.doc.Item(style, "- ", text)
	}
	if ruled {
		p.doc.Print(ask.Dim, changeRule)
	}
	p.list("Measured before, not again", once[0])
	p.list("Measured now for the first time", once[1])
}

func add(list []string, s string) []string {
	if slices.Contains(list, s) {
		return list
	}
	return append(list, s)
}

func (m Measured) text() (ask.Style, string) {
	a, b := m.Before, m.Now
	doubt := max(doubtOf(*a), doubtOf(*b))
	was, is := against(a.Unit, *a.Value, *b.Value, doubt)
	if a.Unit != b.Unit {
		was, is = inBoth(a.Unit, *a.Value, doubt), inBoth(b.Unit, *b.Value, doubt)
	}
	text := fmt.Sprintf("%s: %s before, %s now", plainID(m.Of), was, is)
	switch more := m.more(); {
	case m.Change == nil:
		text += ". The change cannot be told"
	case *m.Change == 0:
		text += ", no change"
	default:
		way := "more"
		if *m.Change < 0 {
			way = "less"
		}
		text += fmt.Sprintf(", %s %s", difference(b.Unit, math.Abs(*m.Change), doubt), way)
		switch {
		case more == nil:
			text += ". The doubt of one or both readings is not known, so whether that is more than the gauge's own cannot be said"
		case *more:
			text += fmt.Sprintf(". That is more than the doubt of the two readings, %s", difference(b.Unit, *m.Doubt, doubt))
		default:
			text += fmt.Sprintf(". That is no more than the doubt of the two readings, %s: not a change to rely on", difference(b.Unit, *m.Doubt, doubt))
		}
	}
	style := ask.Plain
	if v := verdictWords[b.Verdict]; v.say != "" && verdictWords[a.Verdict].say != "" {
		style = v.style
		if a.Verdict == b.Verdict {
			text += ". Before and now: " + v.say
		} else {
			text += ". Before: " + verdictWords[a.Verdict].say + ". Now: " + v.say
		}
	}
	if a.Limit != nil && b.Limit != nil && *a.Limit != *b.Limit && a.Unit == b.Unit {
		then, today := against(a.Unit, *a.Limit, *b.Limit, doubt)
		text += fmt.Sprintf(". The limit was %s before, and is %s now", then, today)
	}
	return style, sentence(text)
}

// verdictWords are the verdicts as people read them.
var verdictWords = map[string]struct {
	style ask.Style
	say   string
}{
	unit.Within.String():   {ask.Good, unit.Within.Say()},
	unit.Outside.String():  {ask.Halt, unit.Outside.Say()},
	unit.TooClose.String(): {ask.Care, unit.TooClose.Say()},
	unit.NoLimit.String():  {ask.Plain, unit.NoLimit.Say()},
}

// difference gives the size of a change in both systems. A change of a
// temperature has no zero of its own.
func difference(name string, size, doubt float64) string {
	if name == "C" || name == "F" {
		one, _ := unit.Parse(unit.KindTempChange, "1", name)
		return unit.Format(unit.KindTempChange, size*one.SI, name) + " (" + unit.Format(unit.KindTempChange, size*one.SI, other[name]) + ")"
	}
	return inBoth(name, size, doubt)
}

// inBoth gives a number in its unit and in the other system.
func inBoth(name string, x, doubt float64) string {
	out, _ := against(name, x, x, doubt)
	return out
}

func (c *Comparison) answers(p page, heading string, changes []AnswerChange) {
	var out []string
	for _, x := range changes {
		text := fmt.Sprintf("%s: %s before, %s now", at(plainID(x.ID), []string{x.Wheel}), inQuotes(x.Before), inQuotes(x.Now))
		if x.Reworded {
			text += " (asked in other words)"
		}
		out = append(out, upperFirst(text))
	}
	p.list(heading, out)
}

// inQuotes sets a person's words apart from ours.
func inQuotes(s string) string { return "\"" + lowerFirst(s) + "\"" }

func (c *Comparison) open(p page) {
	for _, part := range []struct {
		heading      string
		dangers, all string
		is           func(o OpenItem) bool
	}{
		{"Not checked, before or now", "Dangerous if it is so:", "Also:", func(o OpenItem) bool { return o.Before && o.Now }},
		{"Not checked now", "Dangerous if it is so:", "Also:", func(o OpenItem) bool { return !o.Before }},
		{"Not checked before, and not asked again", "Dangerous if it is so:", "Also:", func(o OpenItem) bool { return !o.Now && !o.Looked }},
		{"Not checked before, looked at now", "Dangers:", "Also:", func(o OpenItem) bool { return o.Looked }},
	} {
		var us []record.Unchecked
		for _, o := range c.Open {
			if part.is(o) {
				us = append(us, o.Unchecked)
			}
		}
		if len(us) == 0 {
			continue
		}
		p.heading(part.heading)
		dangers, others := split(us)
		p.uncheckedPart(ask.Care, part.dangers, dangers, false)
		p.uncheckedPart(ask.Plain, part.all, others, false)
	}
}

type jsonComparison struct {
	SchemaVersion int                   `json:"schema_version"`
	TurnedRound   bool                  `json:"turned_round"`
	Before        jsonCheck             `json:"before"`
	After         jsonCheck             `json:"after"`
	Complaints    []jsonComplaintChange `json:"complaints"`
	Causes        []jsonCauseChange     `json:"causes"`
	Measurements  []jsonMeasured        `json:"measurements"`
	Answers       []jsonAnswerChange    `json:"answers"`
	Figures       []jsonAnswerChange    `json:"figures"`
	NotChecked    []jsonOpen            `json:"not_checked"`
	Rule          string                `json:"rule"`
	Caution       string                `json:"caution"`
	Verify        string                `json:"verify"`
}

// A jsonCheck is one record in few words.
type jsonCheck struct {
	Started  *string `json:"started"`
	Finished bool    `json:"finished"`
	Vehicle  *string `json:"vehicle"`
	Drive    *string `json:"drive"`
	Reason   *string `json:"reason"`
}

type jsonComplaintChange struct {
	ID     string  `json:"id"`
	Say    string  `json:"say"`
	Change string  `json:"change"`
	Said   *string `json:"said"`
}

type jsonCauseChange struct {
	Cause  string        `json:"cause"`
	Say    string        `json:"say"`
	Drive  *string       `json:"drive"`
	Change string        `json:"change"`
	Before *jsonStanding `json:"before"`
	After  *jsonStanding `json:"after"`
}

type jsonStanding struct {
	Standing string   `json:"standing"`
	Wheels   []string `json:"wheels"`
}

type jsonMeasured struct {
	ID     string       `json:"id"`
	Wheel  *string      `json:"wheel"`
	Of     string       `json:"of"`
	Before *jsonVerdict `json:"before"`
	After  *jsonVerdict `json:"after"`
	Change *float64     `json:"change"`
	Doubt  *float64     `json:"change_doubt"`
	More   *bool        `json:"more_than_doubt"`
}

type jsonAnswerChange struct {
	ID       string  `json:"id"`
	Wheel    *string `json:"wheel"`
	Asked    string  `json:"asked"`
	Before   string  `json:"before"`
	After    string  `json:"after"`
	Reworded bool    `json:"reworded"`
}

type jsonOpen struct {
	jsonUnchecked
	Before bool `json:"before"`
	After  bool `json:"after"`
	Looked bool `json:"looked_at_since"`
}

// JSON writes a comparison as docs/json.md has it.
func (c *Comparison) JSON(w io.Writer) error {
	d := jsonComparison{
		SchemaVersion: jsonSchema, TurnedRound: c.Turned, Before: checkJSON(c.Old), After: checkJSON(c.New),
		Rule: changeRule, Caution: strings.Join(cautions(c.New), " "), Verify: verify(c.New),
		Complaints: []jsonComplaintChange{}, Causes: []jsonCauseChange{}, Measurements: []jsonMeasured{},
		Answers: changesJSON(c.Answers), Figures: changesJSON(c.Figures), NotChecked: []jsonOpen{},
	}
	for _, x := range c.Complaints {
		d.Complaints = append(d.Complaints, jsonComplaintChange{x.ID, x.Say, x.Change, word(x.Said)})
	}
	for _, x := range c.Causes {
		f := x.finding()
		d.Causes = append(d.Causes, jsonCauseChange{f.Cause, f.Say, word(f.Drive), x.Change, standingJSON(x.Before), standingJSON(x.Now)})
	}
	for _, m := range c.Measured {
		d.Measurements = append(d.Measurements, jsonMeasured{m.ID, word(m.Wheel), m.Of, judgedJSON(m.Before), judgedJSON(m.Now),
			number(m.Change), number(m.Doubt), m.more()})
	}
	for _, o := range c.Open {
		d.NotChecked = append(d.NotChecked, jsonOpen{uncheckedJSON(o.Unchecked), o.Before, o.Now, o.Looked})
	}
	return writeJSON(w, d)
}

func checkJSON(r *record.Record) jsonCheck {
	return jsonCheck{moment(r.Started), r.Finished, word(r.Vehicle), word(r.Drive), word(r.Reason)}
}

func standingJSON(f *record.Finding) *jsonStanding {
	if f == nil {
		return nil
	}
	return &jsonStanding{f.Standing, list(f.Wheels)}
}

// judgedJSON is a verdict that may not be there.
func judgedJSON(v *record.Verdict) *jsonVerdict {
	if v == nil {
		return nil
	}
	out := verdictJSON(*v)
	return &out
}

func changesJSON(changes []AnswerChange) []jsonAnswerChange {
	out := []jsonAnswerChange{}
	for _, x := range changes {
		out = append(out, jsonAnswerChange{x.ID, word(x.Wheel), x.Asked, x.Before, x.Now, x.Reworded})
	}
	return out
}
