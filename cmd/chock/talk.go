package main

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"slices"
	"strconv"
	"strings"
	"sync"
	"time"

	"github.com/spf13/cobra"

	"chock/cmd/chock/internal/ask"
	"chock/cmd/chock/internal/calc"
	"chock/cmd/chock/internal/hear"
	"chock/cmd/chock/internal/record"
	"chock/cmd/chock/internal/report"
	"chock/tree"
)

// talkFlags are the flags of chock talk.
type talkFlags struct {
	record, resume, vehicle, odometer, answers, rest, units, color, book, order string
	plain, json, demo                                                           bool
	pace                                                                        int
}

// newTalk makes `chock` itself (root) or `chock talk`: the same conversation.
func newTalk(root bool) *cobra.Command {
	var f talkFlags
	cmd := &cobra.Command{
		Use:   "talk [WORDS...]",
		Short: "Talk through a brake check",
		Long: "A brake check you talk through. Words such as `pedal shudders` pick the complaint.\n" +
			"At every question: why, steps, not sure, later, back, change, note ..., stop (saves).",
		Example:       "  chock talk pedal shudders\n  chock talk --record check.yaml\n  chock talk --resume check.yaml",
		SilenceUsage:  true,
		SilenceErrors: true,
		RunE:          func(cmd *cobra.Command, args []string) error { return talk(cmd, f, args) },
	}
	if root {
		cmd.Use, cmd.Args = "chock", takes(cobra.NoArgs)
		cmd.Short = "A brake check you talk through"
	}
	fl := cmd.Flags()
	fl.StringVar(&f.record, "record", "", "keep the record in this file")
	fl.StringVar(&f.resume, "resume", "", "go on with the check in this record")
	fl.StringVar(&f.vehicle, "vehicle", "", "take the figures of the vehicle from this file, which chock vehicle writes")
	fl.StringVar(&f.odometer, "odometer", "", "the `READING` of today, such as \"84210 mi\": wear is then reckoned by the mile too")
	fl.StringVar(&f.answers, "answers", "", "take the answers from this YAML file")
	fl.StringVar(&f.rest, "rest", "", "`unsure`: answer \"not sure\" where the answers file says nothing")
	fl.StringVar(&f.units, "units", "us", "what a bare number is in: us or metric")
	fl.StringVar(&f.color, "color", "auto", "auto, always or never")
	fl.StringVar(&f.order, "order", "authored", "what comes next: authored, as the tree says, or ranked, what tells most a minute")
	fl.StringVar(&f.book, "book", "", "a folder of trees in place of the tool's own")
	fl.BoolVar(&f.demo, "demo", false, "watch a check of an invented vehicle; any key ends it, and no record is kept without --record")
	fl.IntVar(&f.pace, "pace", demoPace, "words a minute of --demo; 0 does not wait, nor does a pipe")
	fl.BoolVar(&f.plain, "plain", false, "plain lines, no drawing: for screen readers and pipes")
	fl.BoolVar(&f.json, "json", false, "print one JSON document at the end; the talk goes to standard error")
	cmd.SetFlagErrorFunc(flagError)
	return cmd
}

// A talker holds one conversation. Its state is said, the list of answers;
// the rest is where it speaks and what it has spoken already.
type talker struct {
	book       *tree.Book
	ready      func() error // waits until the whole book is read
	complaints []string
	said       []tree.Said
	notes      []record.Note

	asker  ask.Asker
	scr    *ask.Screen
	script bool
	units  string
	ranked bool // the checks that tell most a minute come first
	goOn   bool // although nothing that is left is worth its minutes

	file     *record.File // nil for a demo that keeps none
	started  time.Time
	vehicle  string
	odometer *record.Reading // nil where it was not given
	car      *record.Vehicle // the vehicle file; nil for none
	carPath  string
	balance  []record.Measurement // what the vehicle file comes to by itself, once worked out; see carComesTo
	before   []record.Changed     // stop signs that were taken back before a resume

	// Worked out by settle:
	walk    *tree.Walk
	comes   *tree.Assessment       // what the answers come to
	results map[string]calc.Result // by check and wheel, of the readings that stand
	told    map[string]bool        // what has been said once on the screen

	pace func(text string) error // of a demo: waits until what stands there is read; else nil
}

func talk(cmd *cobra.Command, f talkFlags, words []string) (err error) {
	if f.units != "us" && f.units != "metric" {
		return usagef("--units %s: want us or metric", f.units)
	}
	if f.order != "authored" && f.order != "ranked" {
		return usagef("--order %s: want authored or ranked", f.order)
	}
	if f.rest != "" && f.rest != "unsure" {
		return usagef("--rest %s: the only word is unsure", f.rest)
	}
	if f.rest != "" && f.answers == "" {
		return usage(errors.New("--rest goes with --answers"))
	}
	if f.resume != "" && (f.record != "" || len(words) > 0) {
		return usage(errors.New("--resume goes on in its own record, with its own complaints"))
	}
	if err := demoGoesWith(cmd, f, words); err != nil {
		return err
	}
	fsys := bookAt(f.book)
	b, err := openBook(fsys, f.book != "")
	if err != nil {
		return err
	}
	t := &talker{book: b, units: f.units, ranked: f.order == "ranked", started: time.Now(), results: map[string]calc.Result{}, told: map[string]bool{}}

	if f.odometer != "" {
		if t.odometer, err = odometer(f.odometer, f.units); err != nil {
			return usagef("--odometer %s: %v", f.odometer, err)
		}
	}

	// The rest of the book is read while the person reads the first prompt,
	// not before it: the prompt would wait for a processor. What people call a
	// complaint stands there too.
	rest := make(chan error, 1)
	readRest := func() { rest <- b.Rest(fsys) }
	if f.book != "" {
		readRest = func() { rest <- nil } // openBook has read it all
	}
	t.ready = sync.OnceValue(func() error { return <-rest })
	said := strings.Join(words, " ")
	if said != "" || f.vehicle != "" || f.demo { // the vehicle file is held to the whole book as well
		readRest()
		readRest = func() {}
		if err := t.ready(); err != nil {
			return err
		}
	}
	var heard hear.Heard
	if said != "" {
		heard = t.heard(said)
	}
	switch {
	case said == "":
	case heard.Sure == nil && heard.Maybe == nil:
		return usagef("no complaint goes with %q; the book knows %s", said, strings.Join(t.ids(), ", "))
	case heard.Sure == nil && f.answers != "": // nobody can be asked which
		return usagef("%q may mean %s; name those that are meant", said, strings.Join(heard.Maybe, ", "))
	}

	if f.vehicle != "" {
		if err := t.loadCar(f.vehicle, f.book != ""); err != nil {
			return err
		}
	}
	if f.demo {
		if err := t.loadDemoCar(); err != nil {
			return err
		}
	}

	sess, err := ask.Open(ask.Terminal{In: cmd.InOrStdin(), Out: cmd.OutOrStdout(), Err: cmd.ErrOrStderr(), Plain: f.plain, Color: f.color, JSON: f.json})
	if err != nil {
		return usage(err)
	}
	defer sess.Close()
	t.asker, t.scr = sess.Asker, sess.Screen

	var script *ask.Script
	var fileComplaints []string
	if f.answers != "" || f.demo {
		answers, err := answersOf(f)
		if err != nil {
			return err
		}
		fileComplaints = answers.Entries["complaints"].Text
		delete(answers.Entries, "complaints")
		script = ask.NewScript(answers.Entries, f.rest == "unsure", t.scr)
		script.Typed = f.demo
		t.asker, t.script = script, true
	}
	if f.resume != "" {
		go readRest()
		if err := t.resume(whereKept(f.resume)); err != nil {
			return err
		}
		t.introduce()
	} else {
		path := f.record
		if path == "" && !f.demo {
			if path, err = record.DefaultPath(t.started); err != nil {
				return err
			}
		}
		if path != "" {
			if t.file, err = record.Create(path); err != nil {
				return err
			}
		}
		if f.demo {
			if err := t.beginDemo(sess, cmd.OutOrStdout(), f); err != nil {
				return err
			}
			defer func() { err = t.endDemo(err) }()
		}
		t.greet()
		t.introduce()
		go readRest()
		if err := t.pick(heard, fileComplaints, sess.Lists()); err != nil {
			return t.leave(err, nil)
		}
		if err := t.ready(); err != nil {
			return err
		}
	}
	// A signal needs no save of its own: the record is replaced after every answer.
	if err := t.converse(); err != nil {
		var doc io.Writer
		if f.json {
			doc = cmd.OutOrStdout()
		}
		return t.leave(err, doc)
	}
	if script != nil {
		if unused := script.Unused(); len(unused) > 0 {
			t.scr.Print(ask.Dim, "In the answers file and never asked: "+strings.Join(unused, ", ")+".")
		}
	}
	return t.finish(cmd.OutOrStdout(), f)
}

// openBook opens the embedded book without proving it, which tests do, and
// proves a person's own.
func openBook(fsys fs.FS, own bool) (*tree.Book, error) {
	if own {
		return tree.Load(fsys, calculations())
	}
	return tree.Open(fsys, calculations())
}

func (t *talker) greet() {
	t.scr.Print(ask.Strong, "A brake check you talk through. It computes, it explains, and it never replaces a qualified technician.")
	t.scr.Print(ask.Plain, "Level ground, a chock at a wheel that stays down, and time for hot parts to cool. Brake dust can hold asbestos: wet it, never blow it. Nobody goes under a vehicle that stands on a jack alone.")
	t.scr.Print(ask.Dim, "At any question you may say: why, steps, not sure, later, back, change, note ..., stop.")
	t.scr.Print(ask.Plain, "")
}

// pick finds the complaints: from the command line, from the answers file,
// from a list, or in the person's own words.
func (t *talker) pick(heard hear.Heard, fromFile []string, lists bool) error {
	if t.script {
		if heard.Sure != nil {
			t.take(heard.Sure)
			return nil
		}
		if len(fromFile) == 0 {
			return errors.New("the answers file has no complaints; add complaints: [" + t.ids()[0] + "]")
		}
		for _, id := range fromFile {
			if t.book.Complaint(id) == nil {
				return fmt.Errorf("the answers file names the complaint %q; the book has %s", id, strings.Join(t.ids(), ", "))
			}
		}
		t.take(fromFile)
		return nil
	}
	if err := t.which(heard); err != nil || t.complaints != nil {
		return err
	}
	t.scr.Print(ask.Strong, "What does it do?")
	for {
		own := true // words are wanted
		var err error
		if lists {
			own, err = t.fromList()
		} else {
			for i, c := range t.book.Complaints {
				t.scr.Item(ask.Plain, fmt.Sprintf("%3d  ", i+1), c.Short)
			}
			t.scr.Print(ask.Dim, "A number, several numbers, or your own words.")
		}
		if err == nil && own {
			err = t.ownWords()
		}
		if err != nil || t.complaints != nil {
			return err
		}
		t.scr.Print(ask.Plain, "None of the complaints goes with that. Here they all are.")
	}
}

// fromList lets complaints be ticked, and tells whether the person wants to
// say it in words as well.
func (t *talker) fromList() (own bool, err error) {
	q := ask.Question{ID: "complaints", NoUnsure: true, Several: true}
	for _, c := range t.book.Complaints {
		q.Choices = append(q.Choices, ask.Choice{ID: c.ID, Say: c.Short})
	}
	q.Choices = append(q.Choices, ask.Choice{ID: "own-words", Say: "Say it in your own words", Key: 'o'})
	r, err := t.asker.Choose(q)
	switch {
	case err != nil:
		return false, err
	case r.Word == ask.Stop:
		return false, errStopped
	case r.Word != "":
		return true, nil
	}
	picked := slices.DeleteFunc(slices.Clone(r.IDs), func(id string) bool { return id == "own-words" })
	t.take(picked)
	return len(picked) < len(r.IDs), nil
}

// ownWords takes one line of what it does.
func (t *talker) ownWords() error {
	for {
		r, err := t.asker.Line(ask.Field{ID: "complaints"})
		switch {
		case err != nil:
			return err
		case r.Word == ask.Stop:
			return errStopped
		case r.Word != "":
			t.scr.Print(ask.Dim, "Say first what it does, in a word or two.")
			continue
		}
		if err := t.ready(); err != nil {
			return err
		}
		return t.which(t.heard(r.Text))
	}
}

// which takes the complaints that were heard, and asks about those that may
// have been meant.
func (t *talker) which(heard hear.Heard) error {
	t.take(heard.Sure)
	maybe := slices.DeleteFunc(slices.Clone(heard.Maybe), func(id string) bool { return slices.Contains(t.complaints, id) })
	if len(maybe) == 0 {
		return nil
	}
	words := "Which of these is it?"
	if t.complaints != nil {
		words = "Is it one of these as well?"
	}
	t.scr.Print(ask.Strong, words)
	q := ask.Question{ID: "which-complaint", NoUnsure: true, Several: true}
	for _, id := range maybe {
		q.Choices = append(q.Choices, ask.Choice{ID: id, Say: t.book.Complaint(id).Short})
	}
	q.Choices = append(q.Choices, ask.Choice{ID: "none-of-these", Say: "None of these"})
	for {
		r, err := t.asker.Choose(q)
		switch {
		case err != nil:
			return err
		case r.Word == ask.Stop:
			return errStopped
		case r.Word != "":
			t.scr.Print(ask.Dim, "Your words fit more than one thing. Tick what it does.")
			continue
		}
		t.take(slices.DeleteFunc(slices.Clone(r.IDs), func(id string) bool { return id == "none-of-these" }))
		return nil
	}
}

func (t *talker) ids() []string {
	var ids []string
	for _, c := range t.book.Complaints {
		ids = append(ids, c.ID)
	}
	return ids
}

// heard gives the complaints that a person's words mean: numbers of the list,
// ids, or whatever else they say.
func (t *talker) heard(text string) hear.Heard {
	var numbers, ids []string
	fields := strings.FieldsFunc(strings.ToLower(text), func(r rune) bool { return r == ' ' || r == ',' || r == ';' })
	for _, f := range fields {
		if n, err := strconv.Atoi(f); err == nil && n > 0 && n <= len(t.book.Complaints) {
			numbers = append(numbers, t.book.Complaints[n-1].ID)
		}
		if t.book.Complaint(f) != nil {
			ids = append(ids, f)
		}
	}
	for _, named := range [][]string{numbers, ids} {
		if len(named) > 0 && len(named) == len(fields) {
			return hear.Heard{Sure: t.inOrder(named)}
		}
	}
	return hear.New(topics(t.book)).Hear(text)
}

// topics gives the complaints with what people call them.
func topics(b *tree.Book) []hear.Topic {
	var out []hear.Topic
	for _, c := range b.Complaints {
		out = append(out, hear.Topic{ID: c.ID, Words: c.Words, Hints: c.Hints})
	}
	return out
}

// inOrder gives complaints in the book's order, each once.
func (t *talker) inOrder(ids []string) []string {
	return slices.DeleteFunc(t.ids(), func(id string) bool { return !slices.Contains(ids, id) })
}

// take adds complaints to those that are talked about.
func (t *talker) take(ids []string) {
	for _, id := range ids {
		if !slices.Contains(t.complaints, id) {
			t.scr.Print(ask.Plain, "Heard: "+lowerFirst(t.book.Complaint(id).Say)+".")
			t.complaints = append(t.complaints, id)
		}
	}
	if t.complaints != nil {
		t.complaints = t.inOrder(t.complaints)
	}
}

// errStopped is the person saying stop: saved, and no failure.
var errStopped = errors.New("stopped")

// converse asks until nothing is left to ask.
func (t *talker) converse() error {
	for {
		t.settle()
		// Answers from a file are not lost with the program: their record is
		// written once, at the end or where they stop.
		if !t.script || t.walk.Next == nil {
			if err := t.save(); err != nil {
				return err
			}
		}
		t.announce()
		if err := t.scr.Err(); err != nil {
			return err
		}
		p := t.walk.Next
		if p == nil {
			more, err := t.halt()
			if err != nil || !more {
				return err
			}
			continue
		}
		if p.Figure != nil && t.fromCar(p.Figure) {
			continue
		}
		if err := t.ask(*p, len(t.taken())); err != nil {
			return err
		}
	}
}

// settle works out where the talk stands after what was said last.
func (t *talker) settle() {
	t.walk = t.goes()
	if t.judge() {
		t.walk = t.goes()
	}
	var bl *tree.Belief
	if t.walk.Next == nil { // nothing before the end is told by odds
		bl = t.book.Believe(t.walk)
	}
	t.comes = t.book.Weigh(t.walk, bl)
}

// goes finds what comes next, by the trees or by the minutes.
func (t *talker) goes() *tree.Walk {
	if t.ranked {
		return t.book.WalkRanked(t.complaints, t.said, t.goOn)
	}
	return t.book.Walk(t.complaints, t.said)
}

// halt says that what is left is not worth its minutes, and lets the person go
// on all the same.
func (t *talker) halt() (more bool, err error) {
	if !t.walk.Halted {
		return false, nil
	}
	t.scr.Print(ask.Plain, "")
	t.scr.Print(ask.Strong, "By this book's estimates, nothing that is left to look at is worth its minutes.")
	if t.walk.HandOver {
		t.scr.Print(ask.Plain, "The best next step is to hand it over, with this record, to a qualified technician.")
	}
	t.scr.Print(ask.Plain, "What was not looked at is listed on the page.")
	if t.script {
		return false, nil
	}
	for {
		r, err := t.asker.Choose(ask.Question{ID: "go-on", NoUnsure: true, Choices: []ask.Choice{
			{ID: "finish", Say: "Finish here"},
			{ID: "on", Say: "Go on all the same"},
		}})
		switch {
		case err != nil:
			return false, err
		case r.Word == ask.Stop:
			return false, errStopped
		case r.Word != "":
			t.scr.Print(ask.Dim, "Finish here, or go on.")
			continue
		}
		t.goOn = r.IDs[0] == "on"
		return t.goOn, nil
	}
}

// taken lists what back and change can take up: what was answered, each check or figure once, in the order of
// its last answer.
func (t *talker) taken() []string {
	var out []string
	for i := range t.said {
		id := t.said[i].Check
		if c := t.book.Checks[id]; c != nil && c.Computed() {
			continue
		}
		out = slices.DeleteFunc(out, func(s string) bool { return s == id })
		out = append(out, id)
	}
	return out
}

// ask puts one prompt until it is answered. at is how far back has come.
func (t *talker) ask(p tree.Prompt, at int) error {
	if p.Computed {
		for _, w := range p.Wheels {
			t.said = append(t.said, tree.Said{Check: p.Check.ID, Wheel: w, Answers: []string{tree.Unsure}})
		}
		return nil
	}
	t.ahead(p)
	t.head(p)
	for {
		said, word, err := t.answer(p)
		if err != nil {
			return err
		}
		switch word {
		case "":
			t.said = append(t.said, said...)
			return nil
		case ask.Stop:
			return errStopped
		case ask.Back:
			if at == 0 {
				t.scr.Print(ask.Dim, "This is the first question.")
				continue
			}
			for at > 1 && t.heldByCar(t.taken()[at-1]) { // nobody answered that
				at--
			}
			return t.again(t.taken()[at-1], at-1)
		case ask.Change:
			id, err := t.choose()
			if err != nil {
				return err
			}
			if id != "" {
				return t.again(id, slices.Index(t.taken(), id))
			}
			t.head(p)
		}
	}
}

// stay puts a prompt until it is answered, or until a word leaves it: why,
// steps and note do what they say, and nothing typed so far is lost by them.
func (t *talker) stay(p tree.Prompt, wheel string, put func() (ask.Reply, error)) (ask.Reply, error) {
	for {
		r, err := put()
		if err != nil {
			return r, err
		}
		switch r.Word {
		case ask.Why:
			t.why(p)
		case ask.Steps:
			t.steps(p)
		case ask.Note:
			t.notes = append(t.notes, record.Note{ID: promptID(p), Wheel: wheel, Text: r.Text})
			if err := t.save(); err != nil {
				return r, err
			}
			t.scr.Print(ask.Dim, "Noted.")
		default:
			return r, nil
		}
	}
}

// again takes up an answer that was given.
func (t *talker) again(id string, at int) error {
	if g := t.book.Figures[id]; g != nil {
		return t.ask(tree.Prompt{Figure: g, Wheels: []string{""}}, at)
	}
	c := t.book.Checks[id]
	p := tree.Prompt{Check: c, Because: c.Why}
	for i := range t.said {
		if s := t.said[i]; s.Check == id && !slices.Contains(p.Wheels, s.Wheel) {
			p.Wheels = append(p.Wheels, s.Wheel)
		}
	}
	slices.SortFunc(p.Wheels, func(a, b string) int { return slices.Index(tree.Wheels, a) - slices.Index(tree.Wheels, b) })
	return t.ask(p, at)
}

// choose lists what was answered and lets one be taken up; "" for none.
func (t *talker) choose() (string, error) {
	ids := t.taken()
	if len(ids) == 0 {
		t.scr.Print(ask.Dim, "Nothing is answered yet.")
		return "", nil
	}
	q := ask.Question{ID: "change", NoUnsure: true}
	for _, id := range ids {
		q.Choices = append(q.Choices, ask.Choice{ID: id, Say: plainID(id) + ": " + t.standing(id)})
	}
	q.Choices = append(q.Choices, ask.Choice{ID: "leave-it", Say: "Leave it as it is"})
	t.scr.Print(ask.Strong, "Which answer do you want to change?")
	r, err := t.asker.Choose(q)
	if err != nil {
		return "", err
	}
	if r.Word == ask.Stop {
		return "", errStopped
	}
	if len(r.IDs) != 1 || r.IDs[0] == "leave-it" {
		return "", nil
	}
	return r.IDs[0], nil
}

// standing gives the answer that stands in a few words.
func (t *talker) standing(id string) string {
	last := map[string]tree.Said{}
	var wheels []string
	for _, s := range t.said {
		if s.Check == id {
			if _, seen := last[s.Wheel]; !seen {
				wheels = append(wheels, s.Wheel)
			}
			last[s.Wheel] = s
		}
	}
	var words []string
	for _, w := range wheels {
		if say := t.say(last[w]); !slices.Contains(words, say) {
			words = append(words, say)
		}
	}
	return strings.Join(words, "; ")
}

// answer takes one answer to p.
func (t *talker) answer(p tree.Prompt) ([]tree.Said, ask.Word, error) {
	switch {
	case p.Figure != nil:
		return t.askFigure(p)
	case p.Check.Measure != "":
		return t.askReadings(p)
	}
	return t.askQuestion(p)
}

func (t *talker) askQuestion(p tree.Prompt) ([]tree.Said, ask.Word, error) {
	c := p.Check
	q := ask.Question{ID: c.ID, Several: c.Several}
	for _, a := range c.Answers {
		q.Choices = append(q.Choices, ask.Choice{ID: a.ID, Say: a.Say})
	}
	wheels := p.Wheels
	batches := [][]string{wheels}
	if c.Several && len(wheels) > 1 {
		batches = nil
		for _, w := range wheels {
			batches = append(batches, []string{w})
		}
	}
	var said []tree.Said
	for i := 0; i < len(batches); i++ {
		batch := batches[i]
		q.Wheels, q.Names, q.Current = nil, nil, nil
		if batch[0] != "" {
			if i > 0 {
				t.headWheel(p, batch[0])
			} else if len(batches) > 1 {
				t.scr.Print(ask.Strong, upperFirst(wheelName(batch[0])))
			}
			for _, w := range batch {
				q.Wheels = append(q.Wheels, w)
				q.Names = append(q.Names, wheelName(w))
			}
		}
		q.Current = t.current(c, batch)
		r, err := t.stay(p, only(batch), func() (ask.Reply, error) { return t.asker.Choose(q) })
		if err != nil {
			return nil, "", err
		}
		switch r.Word {
		case ask.Unsure:
			kind, word, err := t.unsure(p, only(batch))
			if word == ask.Back { // to the question itself
				i--
				continue
			}
			if err != nil || word != "" {
				return nil, word, err
			}
			for _, w := range batch {
				said = append(said, tree.Said{Check: c.ID, Wheel: w, Answers: []string{tree.Unsure}, Kind: kind})
			}
		case ask.Later:
			for _, w := range batch {
				said = append(said, tree.Said{Check: c.ID, Wheel: w, Answers: []string{tree.Later}})
			}
		case "":
			if alone := atOdds(c, r.IDs); alone != "" {
				if t.script {
					return nil, "", fmt.Errorf("answers file, %s: %q cannot stand beside the others", c.ID, alone)
				}
				t.scr.Print(ask.Care, fmt.Sprintf("%q cannot stand beside the others. Once more, please.", c.Answer(alone).Say))
				i--
				continue
			}
			if c.Several || batch[0] == "" {
				said = append(said, tree.Said{Check: c.ID, Wheel: batch[0], Answers: r.IDs})
				continue
			}
			for j, w := range batch {
				said = append(said, tree.Said{Check: c.ID, Wheel: w, Answers: []string{r.IDs[j]}})
			}
		case ask.Back:
			if i == 0 {
				return nil, r.Word, nil
			}
			said = said[:len(said)-1] // of the wheel before, which is asked again
			i -= 2
		default:
			return nil, r.Word, nil
		}
	}
	return said, "", nil
}

// atOdds gives a sound answer that was ticked beside one that is not.
func atOdds(c *tree.Check, ids []string) string {
	sound := ""
	bad := false
	for _, id := range ids {
		switch a := c.Answer(id); {
		case a == nil:
		case a.Normal:
			sound = id
		default:
			bad = true
		}
	}
	if c.Several && bad {
		return sound
	}
	return ""
}

// current gives the answers that stand, laid out as the asker wants them.
func (t *talker) current(c *tree.Check, wheels []string) []string {
	if t.walk == nil {
		return nil
	}
	var out []string
	for _, w := range wheels {
		s, ok := t.walk.Said(c.ID, w)
		if !ok {
			return nil
		}
		if c.Several || w == "" {
			return s.Answers
		}
		out = append(out, s.Answers[0])
	}
	return out
}

// unsure asks which of the three ways of not being sure it is.
func (t *talker) unsure(p tree.Prompt, wheel string) (kind string, word ask.Word, err error) {
	if t.script {
		return "did-not-look", "", nil
	}
	t.scr.Print(ask.Plain, "Not sure is a good answer. Which kind is it?")
	q := ask.Question{ID: "unsure", NoUnsure: true, Choices: []ask.Choice{
		{ID: "did-not-look", Say: "Did not look"},
		{ID: "cannot-tell", Say: "Cannot tell, though I looked"},
		{ID: "cannot-reach", Say: "Cannot reach it today"},
	}}
	r, err := t.stay(p, wheel, func() (ask.Reply, error) { return t.asker.Choose(q) })
	if err != nil || r.Word != "" {
		return "", r.Word, err
	}
	return r.IDs[0], "", nil
}

// leave ends a talk before its end: what was said is saved. After "stop" the
// JSON document, if one is wanted, says that the talk is not finished.
func (t *talker) leave(cause error, doc io.Writer) error {
	interrupted, stopped := errors.Is(cause, ask.ErrInterrupt), errors.Is(cause, errStopped)
	if len(t.complaints) > 0 && t.walk != nil && t.file != nil {
		if err := t.save(); err != nil && !interrupted && !stopped {
			return errors.Join(cause, err)
		}
		t.scr.Print(ask.Plain, "")
		t.scr.Print(ask.Plain, "Saved. Go on with:")
		again := "  chock talk --resume " + t.file.Path
		if t.car != nil {
			again += " --vehicle " + t.carPath
		}
		t.scr.Print(ask.Plain, again)
	}
	switch {
	case interrupted:
		return exit{130, errors.New("interrupted; what was answered is saved")}
	case stopped && doc != nil && t.walk != nil:
		return report.JSON(doc, t.makeRecord())
	case stopped:
		return nil
	}
	return cause
}

// finish prints the final page, or the JSON document.
func (t *talker) finish(out io.Writer, f talkFlags) error {
	rec := t.makeRecord()
	if f.json {
		return report.JSON(out, rec)
	}
	page, err := ask.NewScreen(out, f.color)
	if err != nil {
		return err
	}
	page.Pace(t.pace)
	page.Print(ask.Plain, "")
	if err := report.Text(page, rec); err != nil {
		return err
	}
	page.Print(ask.Plain, "")
	if t.file == nil {
		page.Print(ask.Plain, "Demo, invented vehicle. No record was kept; --record FILE keeps one.")
		return page.Err()
	}
	page.Print(ask.Plain, "The record is in "+t.file.Path)
	return page.Err()
}

func promptID(p tree.Prompt) string {
	if p.Figure != nil {
		return p.Figure.ID
	}
	return p.Check.ID
}

func only(wheels []string) string {
	if len(wheels) == 1 {
		return wheels[0]
	}
	return ""
}

func wheelName(id string) string {
	axle, side, ok := strings.Cut(id, "-")
	if !ok {
		return id
	}
	return side + " " + axle
}

func lowerFirst(s string) string {
	if s == "" {
		return s
	}
	return strings.ToLower(s[:1]) + s[1:]
}

func upperFirst(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}
