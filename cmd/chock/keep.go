package main

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"chock/brakes/unit"
	"chock/cmd/chock/internal/ask"
	"chock/cmd/chock/internal/calc"
	"chock/cmd/chock/internal/record"
	"chock/tree"
)

// adviceWords are the drive advice on the screen.
var adviceWords = map[tree.Drive]string{
	tree.Go:   "nothing here against driving it",
	tree.Care: "with care, straight to repair",
	tree.Stop: "do not drive",
}

const (
	notice = "Owner's record, not a certificate. Local codes, the vehicle's manual and licensed practice come first."

	generalCaution = "Level ground, chocks at the wheels that stay down, stands under what the manual names, never a jack alone. " +
		"Let hot parts cool. Brake dust is wetted and wiped, never blown. Fluid harms paint, skin and eyes. " +
		"Wheel nuts go on with a torque wrench to the manual's figure, in a star, and are tried again after 50 miles (80 km). " +
		"Press the pedal until it is firm before anything moves, and start any road test at walking pace."

	// verifyBy begins the note of every cause, so that several make one note.
	verifyBy = "Have a qualified technician verify "

	handOver = "Flaring pipes, cutting rotors or drums, bleeders or pipe nuts that will not move, ball joints, tie rods, bearing races, " +
		"antilock, wrong fluid, a crack, and a pedal that sinks with everything outside dry."
)

// save writes the record as the talk stands.
func (t *talker) save() error {
	if t.file == nil { // a demo
		return nil
	}
	moved, err := t.file.Save(t.makeRecord())
	if err != nil {
		return err
	}
	if moved != "" {
		t.scr.Print(ask.Care, "Another program changed the record, so this talk goes on in "+moved+".")
	}
	return nil
}

// makeRecord puts everything a reader needs into a record that stands alone.
func (t *talker) makeRecord() *record.Record {
	w, a := t.walk, t.comes
	r := &record.Record{
		Schema: record.Schema, Program: "chock " + version, Notice: notice, Started: t.started.UTC().Truncate(time.Second),
		Saved: time.Now().UTC().Truncate(time.Second), Finished: a.Ended, Vehicle: t.vehicle, Odometer: t.odometer, Units: t.units,
		Notes: t.notes, Drive: a.Drive.String(), Advice: adviceWords[a.Drive],
	}
	for _, id := range w.Complaints {
		r.Complaints = append(r.Complaints, record.Complaint{ID: id, Say: t.book.Complaint(id).Say, Opened: !slices.Contains(t.complaints, id)})
	}
	for i := range t.said {
		r.Answers = append(r.Answers, t.recordAnswer(t.said[i]))
	}
	r.Reason = t.reason(a)
	r.Headline = headline(a)
	if w.Halted {
		r.Headline = "Ended by the minutes. What was found stands below, and what was not checked."
	}
	r.Caution = []string{generalCaution}
	var verify []string
	for _, f := range a.Findings {
		r.Findings = append(r.Findings, t.recordFinding(f))
		c := f.Cause
		if f.Standing == tree.Unlikely {
			continue
		}
		if f.Standing == tree.Found || f.Standing == tree.Likely || f.Standing == tree.Mended {
			r.Caution = add(r.Caution, c.Caution)
			verify = add(verify, strings.TrimPrefix(c.Verify, verifyBy))
			r.Sets = add(r.Sets, c.Sets...)
			r.Torque = add(r.Torque, c.Torque...)
			r.Recheck = add(r.Recheck, c.Recheck...)
		}
	}
	r.Caution = add(r.Caution, t.oneCircuit(a.Findings)...)
	r.Torque = add(r.Torque, "wheel nuts")
	r.Recheck = add([]string{"Wheel nuts, cold, in a star"}, r.Recheck...)
	if trip, begins := forTrip(w); trip {
		if a.Drive == tree.Care {
			r.Advice = beforeTrip
		}
		r.Trip = tripDays(t.started.Local(), begins)
	}
	verify = add(verify, "what these checks came to, before the vehicle is relied on.")
	r.Verify = verifyBy + strings.Join(verify, " Also ")
	r.HandOver = []string{handOver}
	for _, ref := range a.NotExplained {
		r.NotExplained = append(r.NotExplained, t.line(ref))
	}
	for _, ref := range a.SetAside {
		r.SetAside = append(r.SetAside, t.line(ref))
	}
	for _, u := range a.NotChecked {
		r.NotChecked = append(r.NotChecked, t.unchecked(u))
	}
	r.Changed = t.changed()
	for _, c := range t.before {
		if !slices.Contains(r.Changed, c) {
			r.Changed = append(r.Changed, c)
		}
	}
	for _, v := range w.Visits {
		for _, wheel := range v.Wheels {
			if res, ok := t.results[v.Check.ID+" "+wheel]; ok && v.Check.Measure != "" {
				if s, said := w.Said(v.Check.ID, wheel); said && !s.Unsure() {
					r.Measurements = append(r.Measurements, t.measurement(v.Check, s, res))
					r.Warnings = add(r.Warnings, res.Warnings...)
					for _, src := range res.Sources {
						if !strings.HasSuffix(src, "("+calc.Given+")") {
							r.Sources = add(r.Sources, src)
						}
					}
				}
			}
		}
	}
	r.Computed = t.carComesTo()
	for _, f := range r.Findings {
		if f.Source != "" && f.Standing != tree.Unlikely {
			r.Sources = add(r.Sources, f.Source)
		}
	}
	return r
}

// add appends what is not there yet.
func add(list []string, more ...string) []string {
	for _, m := range more {
		if m != "" && !slices.Contains(list, m) {
			list = append(list, m)
		}
	}
	return list
}

func headline(a *tree.Assessment) string {
	switch {
	case !a.Ended:
		return "The talk is not finished."
	case a.NoFault:
		return "No fault found by these checks."
	}
	for _, f := range a.Findings {
		if f.Standing != tree.Unlikely {
			return "What was found stands below, and what was not checked."
		}
	}
	return "Nothing found so far."
}

// reason gives the strictest ground of the advice in one line.
func (t *talker) reason(a *tree.Assessment) string {
	if len(a.Reasons) == 0 {
		return "Nothing that was checked speaks against it."
	}
	r := a.Reasons[0]
	switch r.Kind {
	case "cause":
		for _, f := range a.Findings {
			if f.Cause == r.Cause && f.Standing == tree.Possible {
				return r.Cause.Say + " (not ruled out)."
			}
		}
		return r.Cause.Say + "."
	case "answer":
		return upperFirst(t.line(r.Ref).Say) + "."
	case "look-failed":
		return "A first look failed: " + plainID(r.Ref.Check) + "."
	case "look-open":
		if n := alike(a, r); n > 1 {
			return fmt.Sprintf("%d first looks are open, among them: %s.", n, plainID(r.Ref.Check))
		}
		return "A first look is open: " + plainID(r.Ref.Check) + "."
	case "unsure":
		return "Not known: " + plainID(r.Ref.Check) + "."
	case "no-cause":
		return "The complaint is not traced to a cause."
	case "not-checked":
		if n := alike(a, r); n > 1 {
			return fmt.Sprintf("%d dangers were not looked at, among them: %s.", n, lowerFirst(r.Cause.Say))
		}
		return "A danger was not looked at: " + lowerFirst(r.Cause.Say) + "."
	}
	if t.walk.Halted {
		return "What is left to look at was not worth its minutes, by this book's estimates."
	}
	return "The talk is not finished."
}

// alike counts the grounds of one kind that ask for the same as r.
func alike(a *tree.Assessment, r tree.Reason) int {
	n := 0
	for _, o := range a.Reasons {
		if o.Kind == r.Kind && o.Drive == r.Drive {
			n++
		}
	}
	return n
}

func plainID(id string) string { return strings.ReplaceAll(id, "-", " ") }

// line gives an answer in words: where, what was asked, what was said.
func (t *talker) line(ref tree.Ref) record.Line {
	s := tree.Said{Check: ref.Check, Wheel: ref.Wheel, Answers: []string{ref.Answer}}
	say := plainID(ref.Check) + ": " + t.say(s)
	if ref.Wheel != "" {
		say = wheelName(ref.Wheel) + ", " + say
	}
	how := "seen"
	switch c := t.book.Checks[ref.Check]; {
	case c.Measure != "":
		how = "measured"
	case c.Place == tree.Recall:
		how = "told"
	}
	return record.Line{ID: ref.Check, Wheel: ref.Wheel, Answer: ref.Answer, Say: say, How: how}
}

func (t *talker) recordAnswer(s tree.Said) record.Answer {
	a := record.Answer{ID: s.Check, Wheel: s.Wheel, Answer: s.Answers, Kind: s.Kind, Said: []string{t.say(s)}}
	if g := t.book.Figures[s.Check]; g != nil {
		a.Asked = g.Ask
		if !s.Unsure() {
			reading := recordReading("", s.Value)
			a.Figure, a.Origin = &reading, s.Origin
		}
		return a
	}
	c := t.book.Checks[s.Check]
	a.Asked, a.Several = c.Ask, c.Several
	a.Readings = recordReadings(c, s)
	return a
}

// recordReadings gives the readings of a measurement, input by input.
func recordReadings(c *tree.Check, s tree.Said) []record.Reading {
	var out []record.Reading
	for _, in := range c.Inputs {
		for _, v := range s.Readings[in.Name] {
			out = append(out, recordReading(in.Name, v))
		}
	}
	return out
}

// odometer reads what was given with --odometer.
func odometer(text, units string) (*record.Reading, error) {
	bare := "mi"
	if units == "metric" {
		bare = "km"
	}
	v, err := unit.Parse(unit.KindLength, text, bare)
	switch {
	case err != nil:
		return nil, err
	case v.Missing(), v.SI < 0, v.SI > 2e9: // m: more than any vehicle has run
		return nil, errors.New("want the reading of the odometer, such as \"84210 mi\"")
	}
	reading := recordReading("", v)
	return &reading, nil
}

func recordReading(input string, v unit.Any) record.Reading {
	r := record.Reading{Input: input, Typed: v.Text, Kind: string(v.Kind), Unit: v.Unit}
	if !v.Missing() {
		if n, ok := v.In(v.Unit); ok {
			r.Value = &n
		}
	}
	return r
}

func (t *talker) recordFinding(f tree.Finding) record.Finding {
	c := f.Cause
	out := record.Finding{Cause: c.ID, Say: c.Say, Part: c.Part, Standing: f.Standing, Wheels: f.Wheels, Disagree: f.Disagree, About: about(f),
		Drive: f.Drive.String(), Do: c.Do, Caution: c.Caution, Verify: c.Verify}
	for _, o := range f.ComesFrom {
		out.From = append(out.From, record.Origin{Cause: o.Cause, Say: t.book.Cause(o.Cause).Say, Because: o.Because})
	}
	for _, ref := range f.For {
		out.For = append(out.For, t.line(ref))
	}
	for _, ref := range f.Against {
		out.Against = append(out.Against, t.line(ref))
	}
	out.Mark = markWords[c.Source.Mark]
	out.Source = t.book.Sources[c.Source.Key]
	return out
}

// about gives the chance of a finding in whole hundredths; of one that is
// found or cleared nobody wants odds.
func about(f tree.Finding) int {
	if f.Standing != tree.Likely && f.Standing != tree.Possible || f.Chance == 0 {
		return 0
	}
	return min(max(int(math.Round(100*f.Chance)), 1), 99)
}

func (t *talker) unchecked(u tree.Unchecked) record.Unchecked {
	out := record.Unchecked{Kind: u.Kind, ID: u.ID, Wheel: u.Wheel, Dangerous: u.Dangerous}
	if u.Cause != nil {
		out.Say = u.Cause.Say
		return out
	}
	out.Say = lastSentence(u.Check.Ask)
	switch {
	case u.Standing == tree.Barred:
		out.Why = "waits for the first looks"
		if len(t.walk.Failed)+len(t.walk.Open) == 0 {
			out.Why = "waits until what was found is put right"
		}
	case u.Standing == tree.CannotReach:
		out.Why = "what it needs is not to hand"
	case u.How == tree.Later:
		out.Why = "put off"
	default:
		out.Why = map[string]string{"cannot-tell": "looked, cannot tell", "cannot-reach": "cannot reach it"}[u.How]
		if out.Why == "" {
			out.Why = "not looked at"
		}
	}
	return out
}

// changed lists answers that said stop and were corrected later: a stop sign
// stays in the record.
func (t *talker) changed() []record.Changed {
	type key struct{ check, wheel string }
	first, last := map[key]tree.Said{}, map[key]tree.Said{}
	var order []key
	for _, s := range t.said {
		c := t.book.Checks[s.Check]
		if c == nil || c.Measure != "" {
			continue
		}
		k := key{s.Check, s.Wheel}
		last[k] = s
		stop := slices.ContainsFunc(s.Answers, func(id string) bool { a := c.Answer(id); return a != nil && a.Drive == tree.Stop })
		if _, seen := first[k]; stop && !seen {
			first[k] = s
			order = append(order, k)
		}
	}
	var out []record.Changed
	for _, k := range order {
		if now := last[k]; !slices.Equal(now.Answers, first[k].Answers) {
			out = append(out, record.Changed{ID: k.check, Wheel: k.wheel, First: t.say(first[k]), Now: t.say(now)})
		}
	}
	return out
}

func (t *talker) measurement(c *tree.Check, s tree.Said, res calc.Result) record.Measurement {
	m := record.Measurement{ID: c.ID, Say: upperFirst(plainID(c.ID)), Wheel: s.Wheel, Calculation: c.Measure,
		Readings: recordReadings(c, s), Results: recordResults(res.Values), Outcomes: res.Outcomes, Lines: res.Say, Steps: res.Steps}
	for _, v := range res.Verdicts {
		out := record.Verdict{Of: v.Of, Verdict: v.Verdict.String(), Value: known(v.Value), Limit: known(v.Limit),
			Good: known(v.Good), Doubt: known(v.Doubt), Unit: v.Unit, Mark: v.Mark, Source: v.Source}
		if v.Mark == calc.Given {
			out.Mark, out.Source = t.origin(c, v), ""
		}
		m.Verdicts = append(m.Verdicts, out)
	}
	return m
}

func recordResults(values []calc.Value) []record.Result {
	var out []record.Result
	for _, v := range values {
		r := record.Result{Key: v.Key}
		switch {
		case v.Rows() != nil:
			r.List = [][]record.Result{}
			for _, l := range v.Rows() {
				r.List = append(r.List, recordResults(l))
			}
		case v.Group != nil:
			r.Group = recordResults(v.Group)
		default:
			r.Value = known(v.Number)
		}
		out = append(out, r)
	}
	return out
}

// origin says where the limit of a verdict is from, as the person said it.
func (t *talker) origin(c *tree.Check, v calc.Verdict) string {
	var name string
	if of, ok := calc.Find(c.Measure); ok {
		for _, l := range of.Limits {
			if l.ID == v.Of {
				name = l.Figure
			}
		}
	}
	for _, in := range c.Inputs {
		if in.Figure == "" || in.Name != name {
			continue
		}
		if s, ok := t.walk.Said(in.Figure, ""); ok && !s.Unsure() {
			if strings.HasPrefix(s.Origin, fromFile) {
				return s.Origin
			}
			for _, o := range origins {
				if o.ID == s.Origin {
					return lowerFirst(o.Say)
				}
			}
		}
	}
	return v.Mark
}

func known(x float64) *float64 {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return nil
	}
	return &x
}

// resume takes up the check in a record: an answer stands if its question
// still exists with the same words and still offers it.
func (t *talker) resume(path string) error {
	file, rec, err := record.Open(path)
	if err != nil {
		return err
	}
	if err := t.ready(); err != nil {
		return err
	}
	t.file, t.started, t.vehicle, t.units, t.notes = file, rec.Started, rec.Vehicle, rec.Units, rec.Notes
	if t.odometer == nil {
		t.odometer = rec.Odometer
	}
	t.before = rec.Changed
	for _, c := range rec.Complaints {
		if t.book.Complaint(c.ID) == nil {
			return fmt.Errorf("%s: the complaint %q is not in this book; start a new check", path, c.ID)
		}
		if !c.Opened { // the answer that opened it still does, if it stands
			t.complaints = append(t.complaints, c.ID)
		}
	}
	var again []string
	for _, a := range rec.Answers {
		s, ok, err := t.stillStands(a)
		if err != nil {
			return fmt.Errorf("%s: answer to %s: %w", path, a.ID, err)
		}
		if !ok {
			// A stop sign stays in the record, even where its question is gone.
			if stopSign(rec, a) {
				t.before = append(t.before, record.Changed{ID: a.ID, Wheel: a.Wheel, First: a.Said[0], Now: "asked again, in other words"})
			}
			again = add(again, plainID(a.ID))
			continue
		}
		// What was put off is offered again.
		if len(s.Answers) == 1 && s.Answers[0] == tree.Later {
			continue
		}
		t.said = append(t.said, s)
	}
	if err := t.retake(rec); err != nil {
		return err
	}
	t.scr.Print(ask.Strong, "Going on with the check of "+rec.Started.Local().Format("2 January 2006, 15:04")+".")
	if len(again) > 0 {
		t.scr.Print(ask.Care, "These are worded otherwise now and are asked again: "+strings.Join(again, ", ")+".")
	}
	return nil
}

// stopSign reports whether an answer of a record stood for not driving.
func stopSign(rec *record.Record, a record.Answer) bool {
	if len(a.Said) == 0 {
		return false
	}
	for _, f := range rec.Findings {
		if f.Drive == tree.Stop.String() && slices.ContainsFunc(f.For, func(l record.Line) bool { return l.ID == a.ID && l.Wheel == a.Wheel }) {
			return true
		}
	}
	return rec.Drive == tree.Stop.String() && slices.ContainsFunc(rec.NotExplained, func(l record.Line) bool { return l.ID == a.ID && l.Wheel == a.Wheel })
}

func (t *talker) stillStands(a record.Answer) (tree.Said, bool, error) {
	s := tree.Said{Check: a.ID, Wheel: a.Wheel, Answers: a.Answer, Kind: a.Kind, Origin: a.Origin}
	if g := t.book.Figures[a.ID]; g != nil {
		if a.Figure != nil {
			v, err := unit.Parse(g.Kind, a.Figure.Typed, a.Figure.Unit)
			if err != nil {
				return s, false, err
			}
			s.Value = v
		}
		return s, g.Ask == a.Asked, nil
	}
	c := t.book.Checks[a.ID]
	if c == nil || c.Ask != a.Asked {
		return s, false, nil
	}
	for _, r := range a.Readings {
		v := unit.Absent(unit.Kind(r.Kind))
		if r.Value != nil {
			var err error
			if v, err = unit.Parse(unit.Kind(r.Kind), r.Typed, r.Unit); err != nil {
				return s, false, err
			}
		}
		if s.Readings == nil {
			s.Readings = map[string][]unit.Any{}
		}
		s.Readings[r.Input] = append(s.Readings[r.Input], v)
	}
	if c.Measure != "" && s.Readings != nil {
		return s, true, nil
	}
	if len(a.Answer) == 0 {
		return s, false, errors.New("has no answer")
	}
	if s.Unsure() {
		return s, true, nil
	}
	for _, id := range a.Answer {
		if c.Answer(id) == nil {
			return s, false, nil
		}
	}
	return s, true, nil
}
