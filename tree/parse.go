package tree

import (
	"slices"
	"strconv"
	"strings"

	"gopkg.in/yaml.v3"

	"chock/brakes/unit"
)

// reserved are words that mean something of their own beside the ids.
var reserved = []string{"complaints", Unsure, Later, "otherwise", "end", "why", "steps", "back", "change",
	"note", "stop", "more", "front-left", "front-right", "rear-left", "rear-right", "all"}

// ownID reads the id of a check, figure, cause or step.
func (f *file) ownID(n *yaml.Node) string {
	id := f.id(n)
	if slices.Contains(reserved, id) {
		f.errorf(n, "%q is a word of the language; choose another name", id)
		id = ""
	}
	if id == "" {
		f.lost[n.Value] = true
	}
	return id
}

func (b *Book) bookFile(f *file, n *yaml.Node) {
	f.fields(n, "language complaints reach cautions common", "language complaints reach", func(key string, k, v *yaml.Node) {
		switch key {
		case "common":
			f.fields(v, "healthy not-listed", "healthy not-listed", func(key string, k, v *yaml.Node) {
				if key == "healthy" {
					b.Healthy = f.number(v, 1, 60)
				} else {
					b.NotListed = f.number(v, 1, 30)
				}
			})
		case "language":
			if v.Value != "1" {
				f.errorf(v, "language %s is not one this program reads; it reads 1", printable(v.Value))
			}
		case "complaints":
			for _, e := range f.entries(v, "complaints by id") {
				b.complaintEntry(f, e)
			}
		case "reach":
			for _, e := range f.entries(v, "minutes by place") {
				if p := oneOf(f, e.key, Places...); p != "" {
					b.Reach[p] = f.number(e.val, 0, 240)
				}
			}
		case "cautions":
			for _, e := range f.entries(v, "words by place") {
				if p := oneOf(f, e.key, Places...); p != "" {
					b.Cautions[p] = f.words(e.val)
				}
			}
		}
	})
	if len(b.Complaints) == 0 {
		f.errorf(n, "no complaint; a book needs one")
		b.unread = true
	}
}

func (b *Book) complaintEntry(f *file, e entry) {
	c := &Complaint{ID: f.ownID(e.key), at: f.pos(e.key), steps: map[string]*Step{}}
	if c.ID == "first" {
		f.errorf(e.key, "%q is the name of the first looks; choose another", c.ID)
		return
	}
	f.fields(e.val, "say short round", "say short", func(key string, k, v *yaml.Node) {
		switch key {
		case "say":
			c.Say = f.words(v)
		case "short":
			if c.Short = f.words(v); len([]rune(c.Short)) > 36 {
				f.errorf(v, "%d characters; at most 36 stand in a list", len([]rune(c.Short)))
			}
		case "round":
			c.Round = f.flag(v)
		}
	})
	if c.ID != "" {
		b.Complaints = append(b.Complaints, c)
		b.complaints[c.ID] = c
	}
}

// spoken reads words and phrases as people say them, none of which stands among
// others already.
func (f *file) spoken(n *yaml.Node, others []string) []string {
	nodes := []*yaml.Node{n}
	if n.Kind == yaml.SequenceNode {
		nodes = n.Content
	}
	if len(nodes) > maxSpoken {
		f.errorf(n, "%d words; at most %d", len(nodes), maxSpoken)
		return nil
	}
	var out []string
	for _, c := range nodes {
		text := f.words(c)
		switch {
		case text == "":
		case !isSpoken(text):
			f.errorf(c, "%q: want lower-case words with one blank between them, five at most", printable(text))
		case slices.Contains(out, text) || slices.Contains(others, text):
			f.errorf(c, "%q stands there already", text)
		default:
			out = append(out, text)
		}
	}
	return out
}

// isSpoken reports whether text is lower-case words and digits, parted by
// single blanks.
func isSpoken(text string) bool {
	words := strings.Split(text, " ")
	return len(words) <= 5 && !slices.ContainsFunc(words, func(w string) bool {
		return w == "" || strings.ContainsFunc(w, func(r rune) bool { return (r < 'a' || r > 'z') && (r < '0' || r > '9') })
	})
}

func (b *Book) firstFile(f *file, n *yaml.Node) {
	f.fields(n, "looks questions measurements", "looks questions", func(key string, k, v *yaml.Node) {
		switch key {
		case "looks":
			for _, e := range f.entries(v, "looks by id, each with its because") {
				if id := f.ownID(e.key); id != "" {
					b.Looks = append(b.Looks, Look{id, f.words(e.val), f.pos(e.key)})
				}
			}
		default:
			b.section(f, key, v, "first")
		}
	})
}

func (b *Book) sharedFile(f *file, n *yaml.Node) {
	f.fields(n, "questions measurements figures sources", "", func(key string, k, v *yaml.Node) {
		b.section(f, key, v, "")
	})
}

// section reads one of the sections that several files may hold.
func (b *Book) section(f *file, key string, n *yaml.Node, owner string) {
	b.unread = b.unread || n.Kind != yaml.MappingNode
	for _, e := range f.entries(n, key+" by id") {
		switch key {
		case "questions", "measurements":
			b.checkEntry(f, e, key == "questions", owner)
		case "figures":
			b.figureEntry(f, e)
		case "sources":
			key := f.words(e.key)
			if old, again := b.sourceAt[key]; again {
				f.errorf(e.key, "source %q is taken, by %s", key, old)
				continue
			}
			b.Sources[key], b.sourceAt[key] = f.words(e.val), f.pos(e.key)
		}
	}
}

// take refuses an id that stands for something else already.
func (b *Book) take(f *file, n *yaml.Node, id string) bool {
	if id == "" {
		return false
	}
	f.lost[id], f.meant[id] = true, true
	if c := b.Checks[id]; c != nil {
		f.errorf(n, "%q is taken, by %s", id, c.at)
		return false
	}
	if g := b.Figures[id]; g != nil {
		f.errorf(n, "%q is taken, by %s", id, g.at)
		return false
	}
	delete(f.lost, id)
	delete(f.meant, id)
	return true
}

const checkKeys = "ask why steps without-tools alone minutes place at only-if if-sure needs unsure like same-as"

func (b *Book) checkEntry(f *file, e entry, question bool, owner string) {
	c := &Check{ID: f.ownID(e.key), at: f.pos(e.key), Complaint: owner, isQuestion: question}
	known, required := checkKeys+" look several picks answers", "ask why place minutes answers"
	if !question {
		known, required = checkKeys+" measure inputs outcomes", "measure ask why place minutes inputs outcomes"
	}
	if e.val.Kind == yaml.MappingNode && hasKey(e.val, "like") {
		required = "like"
	}
	var inputs *yaml.Node
	sure := false
	f.fields(e.val, known, required, func(key string, k, v *yaml.Node) {
		switch key {
		case "ask":
			c.Ask = f.words(v)
		case "why":
			c.Why = f.words(v)
		case "steps":
			c.Steps = f.words(v)
		case "without-tools":
			c.Without = f.words(v)
		case "alone":
			c.Alone = f.words(v)
		case "minutes":
			c.Minutes = f.number(v, 0, 480)
		case "place":
			c.Place = oneOf(f, v, Places...)
		case "look":
			if owner != "first" {
				f.errorf(k, "only the questions of first.yaml are looks")
			}
			c.Look = oneOf(f, v, Yard, Road)
		case "at":
			c.At = oneOf(f, v, "front", "rear", "all", "named")
		case "only-if":
			c.OnlyIf = f.conds(v)
		case "if-sure":
			sure = f.flag(v)
		case "needs":
			c.Needs = f.conds(v)
		case "several":
			c.Several = f.flag(v)
		case "picks":
			c.Picks = oneOf(f, v, "wheel") != ""
		case "unsure":
			f.fields(v, "drive", "drive", func(_ string, _, v *yaml.Node) { c.UnsureDrive = f.drive(v) })
		case "like":
			c.Like = f.id(v)
		case "same-as":
			c.SameAs, c.sameAt = f.id(v), f.pos(v)
		case "measure":
			c.Measure = f.id(v)
		case "inputs":
			inputs = v
		case "answers", "outcomes":
			if len(v.Content)/2 > maxNames {
				f.errorf(v, "%d %s; at most %d", len(v.Content)/2, key, maxNames)
				return
			}
			for _, a := range f.entries(v, key+" by id") {
				if ans := f.answer(a, question); ans != nil && ans.ID != "" {
					c.Answers = append(c.Answers, ans)
				} else {
					c.broken = true
				}
			}
			if question && len(c.Answers) < 2 && !c.broken {
				f.errorf(v, "a question needs two answers or more")
			}
			if question && len(c.Answers) > 9 {
				f.errorf(v, "%d answers; nine digits choose them, so at most nine", len(c.Answers))
			}
		}
	})
	for i := range c.OnlyIf {
		c.OnlyIf[i].Sure = sure
	}
	if sure && c.OnlyIf == nil {
		f.errorf(e.key, "`if-sure` says how `only-if` takes \"not sure\"; write that too")
	}
	switch {
	case inputs == nil:
	case c.Measure == "" && c.Like != "": // known when the likeness is
		c.inputs = func() { b.inputs(f, c, inputs) }
	default:
		b.inputs(f, c, inputs)
	}
	if b.take(f, e.key, c.ID) {
		b.Checks[c.ID] = c
	}
}

func hasKey(n *yaml.Node, key string) bool {
	for i := 0; i < len(n.Content); i += 2 {
		if n.Content[i].Value == key {
			return true
		}
	}
	return false
}

// conds reads {question: answer} or {question: [answers]}.
func (f *file) conds(n *yaml.Node) []Cond {
	var out []Cond
	for _, e := range f.entries(n, "answers by question") {
		if q, ids := f.id(e.key), f.ids(e.val); q != "" && ids != nil {
			out = append(out, Cond{Question: q, Answers: ids, at: f.pos(e.key)})
		}
	}
	return out
}

// answer reads `id: words` or `id: {say: words, ...}`.
func (f *file) answer(e entry, question bool) *Answer {
	a := &Answer{ID: f.id(e.key), at: f.pos(e.key)}
	if slices.Contains(reserved, a.ID) && !slices.Contains(Wheels, a.ID) {
		f.errorf(e.key, "%q is a word of the language; choose another name", a.ID)
		return nil
	}
	if e.val.Kind == yaml.ScalarNode && question {
		a.Say = f.words(e.val)
		return a
	}
	known, required := "say shows clears mended drive fails normal opens fits else", "say"
	if !question {
		required = ""
	}
	f.fields(e.val, known, required, func(key string, k, v *yaml.Node) {
		switch key {
		case "say":
			a.Say = f.words(v)
		case "shows":
			a.Shows, a.showsAt = f.ids(v), f.pos(v)
		case "clears":
			a.Clears, a.clearsAt = f.ids(v), f.pos(v)
		case "mended":
			a.Mended, a.mAt = f.ids(v), f.pos(v)
		case "drive":
			a.Drive = f.drive(v)
		case "fails":
			a.Fails = f.flag(v)
		case "normal":
			a.Normal = f.flag(v)
		case "opens":
			a.Opens, a.opensAt = f.ids(v), f.pos(v)
		case "fits":
			a.Fits = f.fits(v)
		case "else":
			a.Else = oneOf(f, v, Oftens...)
		}
	})
	if a.ID == "" {
		return nil
	}
	return a
}

// fits reads {cause: word}: how often a vehicle with that cause gives this
// answer.
func (f *file) fits(n *yaml.Node) []Fit {
	entries := f.entries(n, "words by cause, like {cause: usually}")
	if len(entries) > maxNames {
		f.errorf(n, "%d causes; at most %d", len(entries), maxNames)
		return nil
	}
	var out []Fit
	for _, e := range entries {
		if id, word := f.id(e.key), oneOf(f, e.val, Oftens...); id != "" && word != "" {
			out = append(out, Fit{id, word, f.pos(e.key)})
		}
	}
	return out
}

func (b *Book) inputs(f *file, c *Check, n *yaml.Node) {
	calc, known := b.calcs[c.Measure]
	if len(n.Content)/2 > maxNames {
		f.errorf(n, "%d inputs; at most %d", len(n.Content)/2, maxNames)
		return
	}
	for _, e := range f.entries(n, "inputs by name") {
		in := &Input{Name: f.id(e.key), at: f.pos(e.key)}
		kind := unit.KindLength
		if known {
			i := slices.IndexFunc(calc.Inputs, func(ci CalcInput) bool { return ci.Name == in.Name })
			if i < 0 {
				for _, given := range e.val.Content {
					f.meant[given.Value] = true // by a name that is not right
				}
				if in.Name == "" {
					continue
				}
				var names []string
				for _, ci := range calc.Inputs {
					names = append(names, ci.Name)
				}
				f.errorf(e.key, "%s has no input %q; its inputs are %s", c.Measure, in.Name, strings.Join(names, ", "))
				continue
			}
			kind = calc.Inputs[i].Kind
		}
		var between, units *yaml.Node
		ways := 0
		f.fields(e.val, "take unit between say optional figure from", "", func(key string, k, v *yaml.Node) {
			switch key {
			case "take", "figure", "from":
				ways++
			}
			switch key {
			case "take":
				in.Least, in.Most = f.take(v)
			case "unit":
				units = v
			case "between":
				between = v
			case "say":
				in.Say = f.words(v)
			case "optional":
				in.Optional = f.flag(v)
			case "figure":
				in.Figure = f.id(v)
			case "from":
				in.From = f.words(v)
			}
		})
		if ways != 1 {
			f.errorf(e.key, "want one of take, figure and from, and one only")
		}
		if in.Most > 0 && known {
			if between == nil {
				f.errorf(e.key, "missing key \"between\": the plausible range, like 0.2 in to 2 in")
			}
			if units == nil {
				f.errorf(e.key, "missing key \"unit\"")
			}
		}
		if units != nil {
			in.US, in.Metric = f.units(units, kind)
		}
		if between != nil {
			in.Between = f.words(between)
			in.Low, in.High = f.window(between, kind, in.Between)
		}
		c.Inputs = append(c.Inputs, in)
	}
}

// take reads a count of readings: 8 or 8 to 12.
func (f *file) take(n *yaml.Node) (least, most int) {
	lo, hi, ranged := strings.Cut(n.Value, " to ")
	least, err := strconv.Atoi(lo)
	most = least
	if err == nil && ranged {
		most, err = strconv.Atoi(hi)
	}
	if n.Kind != yaml.ScalarNode || err != nil || least < 1 || most < least || most > 72 {
		f.errorf(n, "want a count of readings, like 8 or 8 to 12, at most 72")
		return 1, 1
	}
	return least, most
}

// units reads a unit for both systems, or {us: in, metric: mm}.
func (f *file) units(n *yaml.Node, kind unit.Kind) (us, metric string) {
	ok := func(n *yaml.Node) string {
		if n.Kind != yaml.ScalarNode || !unit.Known(kind, n.Value) {
			f.errorf(n, "%q is not a unit of %s; one of %s", printable(n.Value), kind, strings.Join(unit.Units(kind), ", "))
			return ""
		}
		return n.Value
	}
	if n.Kind == yaml.ScalarNode {
		u := ok(n)
		return u, u
	}
	f.fields(n, "us metric", "us metric", func(key string, k, v *yaml.Node) {
		if key == "us" {
			us = ok(v)
		} else {
			metric = ok(v)
		}
	})
	return us, metric
}

func (b *Book) figureEntry(f *file, e entry) {
	g := &Figure{ID: f.ownID(e.key), at: f.pos(e.key), Kind: unit.KindLength}
	var between, units *yaml.Node
	f.fields(e.val, "ask why steps unit between kind", "ask why unit between kind", func(key string, k, v *yaml.Node) {
		switch key {
		case "ask":
			g.Ask = f.words(v)
		case "why":
			g.Why = f.words(v)
		case "steps":
			g.Steps = f.words(v)
		case "unit":
			units = v
		case "between":
			between = v
		case "kind":
			if unit.Units(unit.Kind(v.Value)) == nil {
				f.errorf(v, "%q is not a quantity", printable(v.Value))
				return
			}
			g.Kind = unit.Kind(v.Value)
		}
	})
	if units != nil {
		g.US, g.Metric = f.units(units, g.Kind)
	}
	if between != nil {
		g.Between = f.words(between)
		g.Low, g.High = f.window(between, g.Kind, g.Between)
	}
	if b.take(f, e.key, g.ID) {
		b.Figures[g.ID] = g
	}
}

func (b *Book) causesFile(f *file, n *yaml.Node) {
	f.fields(n, "causes", "causes", func(_ string, _, v *yaml.Node) {
		for _, e := range f.entries(v, "causes by id") {
			b.causeEntry(f, e)
		}
	})
}

func (b *Book) causeEntry(f *file, e entry) {
	c := &Cause{ID: f.ownID(e.key), at: f.pos(e.key)}
	f.fields(e.val, "say part drive do sets torque recheck caution verify source only-if or-if comes-from common",
		"say part drive do caution verify source", func(key string, k, v *yaml.Node) {
			switch key {
			case "say":
				c.Say = f.words(v)
			case "part":
				c.Part = f.words(v)
			case "drive":
				c.Drive = f.drive(v)
			case "do":
				c.Do = f.texts(v)
			case "sets":
				c.Sets = f.texts(v)
			case "torque":
				c.Torque = f.texts(v)
			case "recheck":
				c.Recheck = f.texts(v)
			case "caution":
				c.Caution = f.words(v)
			case "verify":
				c.Verify = f.words(v)
			case "only-if":
				c.OnlyIf = f.conds(v)
			case "or-if":
				c.OrIf, c.orIfAt = f.conds(v), f.pos(k)
			case "common":
				c.Common = f.number(v, 1, 100)
			case "comes-from":
				for _, o := range f.entries(v, "causes, each with how it brings this one about") {
					c.ComesFrom = append(c.ComesFrom, Origin{f.id(o.key), f.words(o.val), f.pos(o.key)})
				}
			case "source":
				c.Source, c.sourceAt = f.source(v), f.pos(v)
			}
		})
	if c.ID == "" {
		return
	}
	if old := b.causes[c.ID]; old != nil {
		f.errorf(e.key, "cause %q is taken, by %s", c.ID, old.at)
		return
	}
	b.Causes = append(b.Causes, c)
	b.causes[c.ID] = c
}

// source reads practice, estimate, {published: KEY} or {memory: KEY}.
func (f *file) source(n *yaml.Node) Source {
	if n.Kind == yaml.ScalarNode {
		return Source{Mark: oneOf(f, n, "practice", "estimate")}
	}
	var s Source
	f.fields(n, "published memory", "", func(key string, k, v *yaml.Node) {
		if s.Mark != "" {
			f.errorf(k, "one mark only: published or memory")
		}
		s = Source{key, f.words(v)}
	})
	if s.Mark == "" {
		f.errorf(n, "want practice, estimate, {published: KEY} or {memory: KEY}")
	}
	return s
}

func (b *Book) complaintFile(f *file, n *yaml.Node, c *Complaint) {
	var hints *yaml.Node
	f.fields(n, "complaint begin words hints fits else path questions measurements", "complaint begin words path", func(key string, k, v *yaml.Node) {
		switch key {
		case "words":
			c.Words = f.spoken(v, nil)
		case "hints":
			hints = v
		case "fits":
			c.Fits = f.fits(v)
		case "else":
			c.Else = oneOf(f, v, Oftens...)
		case "complaint":
			if v.Value != c.ID {
				f.errorf(v, "this file is the tree of %q", c.ID)
			}
		case "begin":
			c.Begin, c.beginAt = f.id(v), f.pos(v)
		case "path":
			if len(v.Content)/2 > maxSteps {
				f.errorf(k, "%d steps; at most %d", len(v.Content)/2, maxSteps)
				return
			}
			for _, e := range f.entries(v, "steps by id") {
				f.step(c, e)
			}
		default:
			b.section(f, key, v, c.ID)
		}
	})
	if hints != nil {
		c.Hints = f.spoken(hints, c.Words)
	}
}

// thenNode keeps what `then:` said until the answers that it covers are known.
type thenNode struct {
	at      Pos
	targets map[string]Target
	keyAt   map[string]Pos
	all     *Target // a bare step
}

func (f *file) step(c *Complaint, e entry) {
	s := &Step{ID: f.ownID(e.key), at: f.pos(e.key)}
	s.Check = s.ID
	f.fields(e.val, "because then ask", "then", func(key string, k, v *yaml.Node) {
		switch key {
		case "because":
			s.Because, s.reasoned = f.words(v), true
		case "ask":
			s.Check, s.Again = f.id(v), true
		case "then":
			s.then = f.then(v)
		}
	})
	if s.ID != "" {
		c.Steps = append(c.Steps, s)
		c.steps[s.ID] = s
	}
}

func (f *file) then(n *yaml.Node) *thenNode {
	t := &thenNode{at: f.pos(n), targets: map[string]Target{}, keyAt: map[string]Pos{}}
	if n.Kind == yaml.ScalarNode {
		t.all = &Target{Step: f.id(n)}
		return t
	}
	if hasKey(n, "end") {
		f.errorf(n, "this sends \"not sure\" to an end as well; name the answers, and `unsure` by itself")
		return nil
	}
	for _, e := range f.entries(n, "a step, or steps by answer") {
		key := e.key.Value
		if key != Unsure && key != "otherwise" {
			if key = f.id(e.key); key == "" {
				continue
			}
		}
		t.keyAt[key] = f.pos(e.key)
		if e.val.Kind == yaml.ScalarNode {
			t.targets[key] = Target{Step: f.id(e.val)}
			continue
		}
		f.fields(e.val, "end", "end", func(_ string, _, v *yaml.Node) {
			end := &End{at: f.pos(v)}
			f.fields(v, "likely possible", "", func(key string, k, v *yaml.Node) {
				if key == "likely" {
					end.Likely = f.ids(v)
				} else {
					end.Possible = f.ids(v)
				}
			})
			t.targets[key] = Target{End: end}
		})
	}
	return t
}
