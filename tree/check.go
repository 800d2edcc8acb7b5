package tree

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"chock/brakes/unit"
)

// join copies into each `like` check the keys that it does not give, then
// joins steps to checks. It is the last part of reading: a book that is only
// parsed needs it too.
func (b *Book) join() {
	b.clearing = map[string][]*Check{}
	for _, id := range sortedKeys(b.Checks) {
		c := b.Checks[id]
		if c.Like != "" {
			b.likeness(c)
		}
		c.link()
		if c.Picks && b.picker == nil {
			b.picker = c
		}
		for _, a := range c.Answers {
			for _, cause := range a.Clears {
				if !slices.Contains(b.clearing[cause], c) {
					b.clearing[cause] = append(b.clearing[cause], c)
				}
			}
		}
	}
	for _, c := range b.Complaints {
		for _, s := range c.Steps {
			b.linkThen(s)
		}
	}
}

func (c *Check) link() {
	c.firstNormal = len(c.Answers)
	for i, a := range c.Answers {
		if a.Normal {
			c.firstNormal = i
			break
		}
	}
}

func (b *Book) likeness(c *Check) {
	of := b.Checks[c.Like]
	switch {
	case of == nil:
		c.broken = true
		unknown(b.faults, c.at, "check", c.Like, b.Checks)
		return
	case of.Like != "":
		c.broken, b.faults.meant[c.Like], b.faults.meant[of.Like] = true, true, true
		b.faults.at(c.at, "like %q, which is itself like %q; name that one", c.Like, of.Like)
		return
	case of.isQuestion != c.isQuestion:
		b.faults.at(c.at, "like %q: a question is like a question, a measurement like a measurement", c.Like)
		c.broken = true
		return
	}
	or := func(mine *string, its string) {
		if *mine == "" {
			*mine = its
		}
	}
	or(&c.Ask, of.Ask)
	or(&c.Why, of.Why)
	or(&c.Steps, of.Steps)
	or(&c.Without, of.Without)
	or(&c.Alone, of.Alone)
	or(&c.At, of.At)
	or(&c.Measure, of.Measure)
	if c.inputs != nil {
		c.inputs()
		c.inputs = nil
	}
	if c.Place == "" {
		c.Place = of.Place
	}
	if c.Minutes == 0 {
		c.Minutes = of.Minutes
	}
	if c.OnlyIf == nil {
		c.OnlyIf = of.OnlyIf
	}
	if c.Needs == nil {
		c.Needs = of.Needs
	}
	if c.Answers == nil {
		c.Answers = of.Answers
	}
	if c.Inputs == nil {
		c.Inputs = of.Inputs
	}
	c.broken = c.broken || of.broken
	c.Several = c.Several || of.Several
	c.UnsureDrive = max(c.UnsureDrive, of.UnsureDrive)
}

// linkThen spells out where every answer of a step leads.
func (b *Book) linkThen(s *Step) {
	c := b.Checks[s.Check]
	if s.Check == "" {
		return // said already
	}
	if c == nil {
		unknown(b.faults, s.at, "check", s.Check, b.Checks)
		return
	}
	t := s.then
	if t == nil {
		return
	}
	s.Then = map[string]Target{}
	ids := append(c.ids(), Unsure)
	for _, key := range sortedKeys(t.targets) {
		if key != "otherwise" && !slices.Contains(ids, key) && !c.broken {
			b.faults.at(t.keyAt[key], "%s has no answer %q%s", c.ID, key, b.faults.suggest(key, ids))
		}
	}
	otherwise, has := t.targets["otherwise"]
	for _, id := range ids {
		target, named := t.targets[id]
		switch {
		case t.all != nil:
			target = *t.all
		case named:
		case !has && c.broken, !has && t.slips(b.faults, id):
			continue
		case !has:
			b.faults.at(t.at, "nothing says where %q leads; name it, or add `otherwise`", id)
			continue
		default:
			target = otherwise
			s.Covers = append(s.Covers, id)
			if id == Unsure && otherwise.End != nil {
				b.faults.at(t.keyAt["otherwise"], "`otherwise` sends \"not sure\" to an end; name `unsure` by itself")
			}
		}
		s.Then[id] = target
	}
	if has && len(s.Covers) == 0 {
		b.faults.at(t.keyAt["otherwise"], "`otherwise` covers nothing; take it out")
	}
}

// unknown says that nothing of that name is there, unless its own entry was
// refused, which is fault enough.
func unknown[V any](fs *faults, at Pos, what, name string, among map[string]V) {
	if !fs.lost[name] {
		fs.at(at, "no %s %q%s", what, name, near(fs, name, among))
	}
}

func sortedKeys[V any](m map[string]V) []string { return slices.Sorted(maps.Keys(m)) }

// check runs the proofs, one function each.
func (b *Book) check() {
	b.provePlaces()
	b.proveChecks()
	b.proveConds()
	b.proveLooks()
	b.proveSteps()
	b.proveOpens()
	b.proveMeasurements()
	b.proveCauses()
	b.proveUsed()
	b.proveBarred()
	b.proveEvidence()
}

// Evidence names causes and checks that exist.
func (b *Book) proveEvidence() {
	named := func(fits []Fit) {
		for _, fit := range fits {
			if b.causes[fit.Cause] == nil {
				unknown(b.faults, fit.at, "cause", fit.Cause, b.causes)
			}
		}
	}
	for _, c := range b.Complaints {
		named(c.Fits)
	}
	for _, id := range sortedKeys(b.Checks) {
		c := b.Checks[id]
		for _, a := range c.Answers {
			if c.Like == "" || b.Checks[c.Like] == nil || !slices.Contains(b.Checks[c.Like].Answers, a) {
				named(a.Fits)
			}
		}
		switch of := b.Checks[c.SameAs]; {
		case c.SameAs == "":
		case of == nil:
			unknown(b.faults, c.sameAt, "check", c.SameAs, b.Checks)
		case of == c:
			b.faults.at(c.sameAt, "a check is not a near-copy of itself")
		case of.SameAs != "":
			b.faults.at(c.sameAt, "%q is itself the same as %q; name that one", of.ID, of.SameAs)
		}
	}
}

// Every place that a check uses has its minutes.
func (b *Book) provePlaces() {
	missing := map[Place]bool{}
	for _, id := range sortedKeys(b.Checks) {
		c := b.Checks[id]
		if _, ok := b.Reach[c.Place]; !ok && c.Place != "" && c.Place != Recall && !missing[c.Place] {
			missing[c.Place] = true
			b.faults.at(Pos{File: "book.yaml"}, "reach has no minutes for %q", c.Place)
		}
	}
}

// Every check is complete after its likeness was copied, and its answers can
// be told apart.
func (b *Book) proveChecks() {
	for _, id := range sortedKeys(b.Checks) {
		c := b.Checks[id]
		said := map[string]string{}
		for _, a := range c.Answers {
			if a.Say == "" {
				continue
			}
			if other, again := said[a.Say]; again {
				b.faults.at(a.at, "says the same words as %q", other)
			}
			said[a.Say] = a.ID
		}
		sound := "" // the first normal answer
		for _, a := range c.Answers {
			if a.Fails && c.Look == "" {
				b.faults.at(a.at, "`fails` works in a first look only; %s is none", c.ID)
			}
			if worse := a.Fails || a.Drive > Go || len(a.Shows) > 0; worse && sound != "" {
				b.faults.at(a.at, "worse than %q, which stands before it; write the worst first", sound)
			}
			if a.Normal && sound == "" {
				sound = a.ID
			}
			if a.Normal && (a.Fails || a.Drive > Go || len(a.Shows) > 0) {
				b.faults.at(a.at, "`normal` does not go with drive, fails or shows")
			}
		}
		if c.Picks {
			if b.picker != c {
				b.faults.at(c.at, "a second question with `picks: wheel`; %q is the first", b.picker.ID)
			}
			if c.At != "" {
				b.faults.at(c.at, "`picks: wheel` asks about the whole vehicle; take `at` out")
			}
			for _, a := range c.Answers {
				if !slices.Contains(Wheels, a.ID) {
					b.faults.at(a.at, "%q is not a wheel; one of %s", a.ID, strings.Join(Wheels, ", "))
				}
			}
		}
		if c.At == "named" && b.picker == nil {
			b.faults.at(c.at, "`at: named` wants a question with `picks: wheel`")
		}
		if c.Place != Recall && c.Steps == "" && c.Like == "" && !c.Computed() {
			b.faults.at(c.at, "missing key \"steps\": how is it done?")
		}
	}
}

// Every condition names a question and its answers, and serves one purpose.
func (b *Book) proveConds() {
	use := map[string]string{}
	hold := func(conds []Cond, purpose string) {
		for _, cond := range conds {
			q := b.Checks[cond.Question]
			if q != nil && !q.isQuestion {
				b.faults.at(cond.at, "%q is a measurement; a condition is about a question", cond.Question)
				continue
			}
			if q == nil {
				unknown(b.faults, cond.at, "question", cond.Question, b.Checks)
				continue
			}
			for _, a := range cond.Answers {
				if q.Answer(a) == nil && !q.broken {
					b.faults.at(cond.at, "%s has no answer %q%s", q.ID, a, b.faults.suggest(a, q.ids()))
				}
			}
			if old := use[q.ID]; old != "" && old != purpose {
				b.faults.at(cond.at, "%s serves %s already; a question serves only-if or needs, not both", q.ID, old)
				continue
			}
			use[q.ID] = purpose
		}
	}
	for _, id := range sortedKeys(b.Checks) {
		hold(b.Checks[id].OnlyIf, "only-if")
		hold(b.Checks[id].Needs, "needs")
	}
	for _, c := range b.Causes {
		hold(c.OnlyIf, "only-if")
		hold(c.OrIf, "only-if")
		if c.OrIf != nil && c.OnlyIf == nil {
			b.faults.at(c.orIfAt, "`or-if` widens `only-if`; write that too")
		}
	}
	// No check waits for itself.
	state := map[string]int{}
	var visit func(id string) bool
	visit = func(id string) bool {
		c := b.Checks[id]
		if c == nil || state[id] == 2 {
			return true
		}
		if state[id] == 1 {
			return false
		}
		state[id] = 1
		for _, next := range b.waitsFor(c) {
			if !visit(next) {
				if state[id] == 1 {
					b.faults.at(c.at, "waits for itself, by way of %q; look at only-if, needs, from and like", next)
				}
				state[id] = 2
				return true
			}
		}
		state[id] = 2
		return true
	}
	for _, id := range sortedKeys(b.Checks) {
		visit(id)
	}
}

// waitsFor gives the checks that must be answered before c.
func (b *Book) waitsFor(c *Check) []string {
	var out []string
	for _, cond := range slices.Concat(c.OnlyIf, c.Needs) {
		out = append(out, cond.Question)
	}
	for _, in := range c.Inputs {
		if in.From != "" {
			id, _, _ := strings.Cut(in.From, ".")
			out = append(out, id)
		}
	}
	if c.At == "named" && b.picker != nil {
		out = append(out, b.picker.ID)
	}
	return out
}

// Looks exist, stand in first.yaml, and every look that is written is asked.
func (b *Book) proveLooks() {
	listed := map[string]bool{}
	for _, l := range b.Looks {
		listed[l.Check] = true
		c := b.Checks[l.Check]
		switch {
		case c == nil:
			unknown(b.faults, l.at, "check", l.Check, b.Checks)
		case c.Complaint != "first":
			b.faults.at(l.at, "%q stands in %s; a first look stands in first.yaml", l.Check, c.at.File)
		}
	}
	// Nothing rolls before the looks that it waits for were made.
	last := map[Place]string{}
	for _, l := range slices.Backward(b.Looks) {
		c := b.Checks[l.Check]
		if c == nil {
			continue
		}
		for _, look := range []Place{Yard, Road} {
			if waits := c.Place == Road || c.Place == look; waits && last[look] != "" {
				b.faults.at(l.at, "waits for the look %q, which stands after it", last[look])
				break
			}
		}
		if c.Look != "" && last[c.Look] == "" {
			last[c.Look] = l.Check
		}
	}
	for _, id := range sortedKeys(b.Checks) {
		c := b.Checks[id]
		if c.Look != "" && c.Complaint == "first" && !listed[id] {
			b.faults.at(c.at, "a look that `looks` does not list")
		}
		if c.Complaint == "first" {
			for _, q := range b.waitsFor(c) {
				if o := b.Checks[q]; o != nil && o.Complaint != "first" {
					b.faults.at(c.at, "wants %q, which stands in %s; move it to first.yaml", q, o.at.File)
				}
			}
		}
	}
}

// Every step has its because, every target exists, every step is reached and
// no path runs in a loop; so every path ends.
func (b *Book) proveSteps() {
	for _, c := range b.Complaints {
		if c.Begin != "" && c.steps[c.Begin] == nil {
			unknown(b.faults, c.beginAt, "step", c.Begin, c.steps)
		}
		gaps := false // a way that leads nowhere yet; what lies behind it is not unreached
		for _, s := range c.Steps {
			if !s.reasoned && !s.Again {
				b.faults.at(s.at, "missing key \"because\": why this check, why here?")
			}
			if s.Again && b.Checks[s.ID] != nil {
				b.faults.at(s.at, "%q is the id of a check; give a step with `ask` a name of its own", s.ID)
			}
			gaps = gaps || s.Then == nil
			missing := map[string]bool{}
			for _, id := range sortedKeys(s.Then) {
				to := s.Then[id].Step
				if to != "" && c.steps[to] == nil && !missing[to] {
					missing[to], gaps = true, true
					unknown(b.faults, s.then.where(id), "step", to, c.steps)
				}
			}
		}
		reached, state, loops := map[string]bool{}, map[string]int{}, 0
		var visit func(s *Step)
		visit = func(s *Step) {
			reached[s.ID], state[s.ID] = true, 1
			for _, id := range sortedKeys(s.Then) {
				next := c.steps[s.Then[id].Step]
				switch {
				case next == nil:
				case state[next.ID] == 1:
					loops++
					b.faults.at(s.then.where(id), "a loop: %q comes back to %q", s.ID, next.ID)
				case state[next.ID] == 0:
					visit(next)
				}
			}
			state[s.ID] = 2
		}
		if first := c.steps[c.Begin]; first != nil {
			visit(first)
			for _, s := range c.Steps {
				switch {
				case gaps:
				case !reached[s.ID]:
					b.faults.at(s.at, "no answer leads to this step")
				case s.Again && s.Because == "" && loops == 0 && b.routes(c).passes(s):
					b.faults.at(s.at, "missing key \"because\": a path comes here before %q was asked", s.Check)
				}
			}
		}
	}
}

// slips reports whether a key of t that names no answer was meant for id.
func (t *thenNode) slips(fs *faults, id string) bool {
	for key := range t.targets {
		if key != id && nearest(key, []string{id}) == id && fs.meant[id] {
			return true
		}
	}
	return false
}

// where gives the place in the file that sent an answer on.
func (t *thenNode) where(id string) Pos {
	if p, ok := t.keyAt[id]; ok {
		return p
	}
	if p, ok := t.keyAt["otherwise"]; ok {
		return p
	}
	return t.at
}

// A complaint that an answer opens exists and never opens back.
func (b *Book) proveOpens() {
	edges := map[string][]string{}
	asks := map[string][]string{} // complaints whose trees ask a check of several
	for _, c := range b.Complaints {
		seen := map[string]bool{}
		var ids []string
		for _, s := range c.Steps {
			b.asks(s.Check, &ids, seen)
		}
		for id := range seen {
			asks[id] = append(asks[id], c.ID)
		}
	}
	for _, id := range sortedKeys(b.Checks) {
		c := b.Checks[id]
		for _, a := range c.Answers {
			for _, o := range a.Opens {
				if b.complaints[o] == nil {
					unknown(b.faults, a.opensAt, "complaint", o, b.complaints)
					continue
				}
				if c.Complaint == "first" {
					continue
				}
				if o == c.Complaint {
					b.faults.at(a.opensAt, "opens %q, whose tree asks this", o)
					continue
				}
				for _, from := range asks[id] {
					if from == o {
						continue // asked by another tree, too
					}
					edges[from] = append(edges[from], o)
					if b.leads(edges, o, from, map[string]bool{}) {
						b.faults.at(a.opensAt, "%q opens back to %q", o, from)
					}
				}
			}
		}
	}
}

func (b *Book) leads(edges map[string][]string, from, to string, seen map[string]bool) bool {
	if from == to {
		return true
	}
	seen[from] = true
	for _, next := range edges[from] {
		if !seen[next] && b.leads(edges, next, to, seen) {
			return true
		}
	}
	return false
}

// Every measurement names a calculation, gives what it needs, and answers
// for each of its outcomes.
func (b *Book) proveMeasurements() {
	usedFigures := map[string]bool{}
	for _, id := range sortedKeys(b.Checks) {
		c := b.Checks[id]
		if c.isQuestion {
			continue
		}
		for _, in := range c.Inputs {
			usedFigures[in.Figure] = true
		}
		calc, ok := b.calcs[c.Measure]
		if !ok {
			if c.Measure != "" {
				b.faults.at(c.at, "no calculation %q%s", c.Measure, near(b.faults, c.Measure, b.calcs))
			}
			continue
		}
		given := map[string]bool{}
		for _, in := range c.Inputs {
			given[in.Name] = true
			if in.Figure != "" {
				b.proveFigure(c, in, calc)
			}
			if in.From != "" {
				b.proveFrom(c, in)
			}
		}
		for _, ci := range calc.Inputs {
			if !ci.Optional && !given[ci.Name] {
				b.faults.at(c.at, "%s needs the input %q", calc.Name, ci.Name)
			}
		}
		var want []string
		for _, l := range calc.Limits {
			want = append(want, l.Outcomes...)
		}
		for _, a := range c.Answers {
			if !slices.Contains(want, a.ID) {
				b.faults.at(a.at, "%s has no outcome %q%s", calc.Name, a.ID, b.faults.suggest(a.ID, want))
			}
		}
		for _, w := range want {
			if c.Answer(w) == nil {
				b.faults.at(c.at, "missing outcome %q of %s; write `%s: {}` when it says nothing", w, calc.Name, w)
			}
		}
	}
	for _, id := range sortedKeys(b.Figures) {
		if !usedFigures[id] && !b.faults.meant[id] {
			b.faults.at(b.Figures[id].at, "no measurement uses this figure")
		}
	}
}

func (b *Book) proveFigure(c *Check, in *Input, calc Calculation) {
	g := b.Figures[in.Figure]
	if g == nil {
		unknown(b.faults, in.at, "figure", in.Figure, b.Figures)
		return
	}
	for _, ci := range calc.Inputs {
		if ci.Name == in.Name && ci.Kind != g.Kind {
			b.faults.at(in.at, "%s is a %s, and %s wants a %s", g.ID, g.Kind, calc.Name, ci.Kind)
		}
		if ci.Name == in.Name && !ci.Optional {
			b.faults.at(in.at, "%s cannot do without %q, and a figure may be unknown", calc.Name, in.Name)
		}
	}
}

func (b *Book) proveFrom(c *Check, in *Input) {
	id, input, dotted := strings.Cut(in.From, ".")
	of := b.Checks[id]
	switch {
	case of == nil:
		unknown(b.faults, in.at, "check", id, b.Checks)
	case of.isQuestion && dotted:
		b.faults.at(in.at, "%s is a question; take its answer with {from: %s}", id, id)
	case !of.isQuestion && !dotted:
		like := ""
		for _, o := range of.Inputs {
			if o.Most > 0 && like == "" {
				like = ", like " + id + "." + o.Name
			}
		}
		b.faults.at(in.at, "%s is a measurement; name the readings too%s", id, like)
	case !of.isQuestion && !slices.ContainsFunc(of.Inputs, func(o *Input) bool { return o.Name == input && o.Most > 0 }):
		b.faults.at(in.at, "%s takes no readings named %q", id, input)
	}
}

// Every cause can be found or named, every dangerous cause can be cleared,
// and what is mended was shown somewhere; every word about a cause names one.
func (b *Book) proveCauses() {
	shown, named, cleared := map[string]bool{}, map[string]bool{}, map[string]bool{}
	known := func(p Pos, ids []string, into map[string]bool) {
		for _, id := range ids {
			if b.causes[id] == nil {
				unknown(b.faults, p, "cause", id, b.causes)
			}
			into[id] = true
		}
	}
	type mend struct {
		at Pos
		id string
	}
	var mends []mend
	for _, id := range sortedKeys(b.Checks) {
		for _, a := range b.Checks[id].Answers {
			known(a.showsAt, a.Shows, shown)
			known(a.clearsAt, a.Clears, cleared)
			known(a.mAt, a.Mended, map[string]bool{})
			for _, m := range a.Mended {
				mends = append(mends, mend{a.mAt, m})
			}
			for _, s := range a.Shows {
				if slices.Contains(a.Clears, s) {
					b.faults.at(a.at, "shows and clears %q at once", s)
				}
			}
		}
	}
	for _, m := range mends {
		if !shown[m.id] {
			b.faults.at(m.at, "%q is mended here and shown nowhere", m.id)
		}
	}
	for _, c := range b.Complaints {
		for _, s := range c.Steps {
			for _, id := range sortedKeys(s.Then) {
				if e := s.Then[id].End; e != nil {
					known(e.at, e.Likely, named)
					known(e.at, e.Possible, named)
				}
			}
		}
	}
	cited := map[string]bool{}
	for _, c := range b.Causes {
		if !shown[c.ID] && !named[c.ID] {
			b.faults.at(c.at, "no answer shows this cause and no end names it")
		}
		if c.Drive == Stop && !cleared[c.ID] {
			b.faults.at(c.at, "a dangerous cause that no answer clears")
		}
		for _, o := range c.ComesFrom {
			switch {
			case o.Cause == c.ID:
				b.faults.at(o.at, "%q comes from itself", c.ID)
			case o.Cause != "" && b.causes[o.Cause] == nil:
				unknown(b.faults, o.at, "cause", o.Cause, b.causes)
			}
		}
		if c.Source.Key != "" {
			cited[c.Source.Key] = true
			if b.Sources[c.Source.Key] == "" {
				b.faults.at(c.sourceAt, "no source %q in shared/sources.yaml%s", c.Source.Key, near(b.faults, c.Source.Key, b.Sources))
			}
		}
	}
	for _, key := range sortedKeys(b.Sources) {
		if !cited[key] && !b.faults.meant[key] {
			b.faults.at(b.sourceAt[key], "nothing cites %q", key)
		}
	}
}

// Every check is asked by something.
func (b *Book) proveUsed() {
	used := map[string]bool{}
	for _, l := range b.Looks {
		used[l.Check] = true
	}
	for _, c := range b.Complaints {
		for _, s := range c.Steps {
			used[s.Check] = true
		}
	}
	for _, c := range b.Causes {
		for _, cond := range c.OnlyIf {
			used[cond.Question] = true
		}
	}
	for _, id := range sortedKeys(b.Checks) {
		for _, q := range b.waitsFor(b.Checks[id]) {
			used[q] = true
		}
	}
	for _, id := range sortedKeys(b.Checks) {
		if !used[id] && !b.faults.meant[id] && b.Checks[id].Look == "" {
			b.faults.at(b.Checks[id].at, "nothing asks %q", id)
		}
	}
}

// With the road barred every cause that keeps somebody from driving can
// still be named: road and yard checks then follow `unsure`.
func (b *Book) proveBarred() {
	if len(b.faults.list) > 0 {
		return // a way that is not there yet would be missed
	}
	open, barred := b.nameable(false), b.nameable(true)
	for _, c := range b.Causes {
		if c.Drive > Go && open[c.ID] && !barred[c.ID] {
			b.faults.at(c.at, "with the road barred no path comes to this cause; lead `unsure` of the road check there")
		}
	}
}

// nameable gives the causes that some path shows or names.
func (b *Book) nameable(barred bool) map[string]bool {
	out := map[string]bool{}
	bars := func(c *Check) bool { return barred && (c.Place == Road || c.Place == Yard) }
	var shows func(c *Check)
	seen := map[string]bool{}
	shows = func(c *Check) {
		if c == nil || seen[c.ID] {
			return
		}
		seen[c.ID] = true
		for _, q := range b.waitsFor(c) {
			shows(b.Checks[q])
		}
		if bars(c) {
			return
		}
		for _, a := range c.Answers {
			for _, s := range a.Shows {
				out[s] = true
			}
		}
	}
	for _, l := range b.Looks {
		shows(b.Checks[l.Check])
	}
	for _, c := range b.Complaints {
		done := map[string]bool{}
		var visit func(id string)
		visit = func(id string) {
			s := c.steps[id]
			if s == nil || done[id] || b.Checks[s.Check] == nil {
				return
			}
			done[id] = true
			check := b.Checks[s.Check]
			shows(check)
			for answer, t := range s.Then {
				if bars(check) && answer != Unsure {
					continue
				}
				if t.End != nil {
					for _, id := range slices.Concat(t.End.Likely, t.End.Possible) {
						out[id] = true
					}
				}
				visit(t.Step)
			}
		}
		visit(c.Begin)
	}
	return out
}

// kindOf gives the quantity of an input.
func (b *Book) kindOf(c *Check, in *Input) unit.Kind {
	for _, ci := range b.calcs[c.Measure].Inputs {
		if ci.Name == in.Name {
			return ci.Kind
		}
	}
	return unit.KindLength
}

// Kind gives the quantity of an input of a measurement.
func (b *Book) Kind(c *Check, input string) unit.Kind {
	for _, in := range c.Inputs {
		if in.Name == input {
			return b.kindOf(c, in)
		}
	}
	panic(fmt.Sprintf("tree: %s has no input %q", c.ID, input))
}
