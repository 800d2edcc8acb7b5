package tree

import (
	"slices"
	"strings"
)

// routes are the ways through one tree. A path is one that a talk can take: a
// check asked by several steps (with `ask:`) has one answer, so its answer
// travels along as long as a later step branches on it again.
type routes struct {
	book  *Book
	tree  *Complaint
	costs map[string][]string // by step: what may have to be asked on coming to it
	// By step, sorted, for it and all that can come after it:
	again  map[string][]string // checks branched on once more
	asking map[string][]string // checks that may have to be asked
	naming map[string][]string // causes that an end names
	// By step, check and answer: the first answer that it and every step after
	// it that branches once more sends the same way.
	class  map[[3]string]string
	repeat map[string][]string // steps that branch once more
}

// kept holds answers by check.
type kept map[string]string

func (b *Book) routes(c *Complaint) *routes {
	r := &routes{b, c, map[string][]string{}, map[string][]string{}, map[string][]string{}, map[string][]string{}, map[[3]string]string{}, nil}
	// The first looks were made before any tree is walked.
	first := map[string]bool{}
	var looks []string
	for _, l := range b.Looks {
		b.asks(l.Check, &looks, first)
	}
	for _, s := range c.Steps {
		seen := map[string]bool{}
		for id := range first {
			seen[id] = true
		}
		var ids []string
		b.asks(s.Check, &ids, seen)
		r.costs[s.ID] = ids
	}
	r.repeat = r.collect(func(s *Step, add func(string)) {
		if s.Again {
			add(s.ID)
		}
	})
	r.again = r.collect(func(s *Step, add func(string)) {
		if s.Again {
			add(s.Check)
		}
	})
	r.asking = r.collect(func(s *Step, add func(string)) {
		for _, id := range r.costs[s.ID] {
			add(id)
		}
	})
	r.naming = r.collect(func(s *Step, add func(string)) {
		for _, t := range s.Then {
			if t.End != nil {
				for _, id := range slices.Concat(t.End.Likely, t.End.Possible) {
					add(id)
				}
			}
		}
	})
	return r
}

// collect gathers words over each step and all that can come after it.
func (r *routes) collect(of func(s *Step, add func(string))) map[string][]string {
	out := map[string][]string{}
	var visit func(s *Step) []string
	visit = func(s *Step) []string {
		if ids, done := out[s.ID]; done {
			return ids
		}
		set := map[string]bool{}
		of(s, func(id string) { set[id] = true })
		for _, t := range s.Then {
			if next := r.tree.steps[t.Step]; next != nil {
				for _, id := range visit(next) {
					set[id] = true
				}
			}
		}
		out[s.ID] = sortedKeys(set)
		return out[s.ID]
	}
	if s := r.tree.steps[r.tree.Begin]; s != nil {
		visit(s)
	}
	return out
}

// alike gives the answer that stands for one of check from next on: no step
// there that branches once more tells the two apart.
func (r *routes) alike(next *Step, check, answer string) string {
	k := [3]string{next.ID, check, answer}
	if a, known := r.class[k]; known {
		return a
	}
	r.class[k] = answer
	for _, o := range r.book.Checks[check].Answers {
		if o.ID == answer {
			break
		}
		if !slices.ContainsFunc(r.repeat[next.ID], func(id string) bool {
			s := r.tree.steps[id]
			return s.Check == check && s.Then[answer] != s.Then[o.ID]
		}) {
			r.class[k] = o.ID
			break
		}
	}
	return r.class[k]
}

// asks adds what has to be asked before id can be answered, and id itself.
func (b *Book) asks(id string, into *[]string, seen map[string]bool) {
	c := b.Checks[id]
	if c == nil || seen[id] {
		return
	}
	seen[id] = true
	for _, q := range b.waitsFor(c) {
		b.asks(q, into, seen)
	}
	if !c.Computed() {
		*into = append(*into, id)
	}
}

// state names s together with what still matters from there on.
func state(s *Step, matters []string, have kept) string {
	var b strings.Builder
	b.WriteString(s.ID)
	for _, id := range matters {
		if a, ok := have[id]; ok {
			b.WriteString(" " + id + "=" + a)
		}
	}
	return b.String()
}

// ways gives the answers with which a talk can leave s.
func (r *routes) ways(s *Step, answers kept) []string {
	if a, ok := answers[s.Check]; ok {
		return []string{a}
	}
	return sortedKeys(s.Then)
}

// with adds the answer given at s, as far as a step from next on needs it.
func (r *routes) with(have kept, s *Step, answer string, next *Step) kept {
	out := kept{}
	for _, id := range r.again[next.ID] {
		if a, ok := have[id]; ok {
			out[id] = r.alike(next, id, a)
		} else if id == s.Check {
			out[id] = r.alike(next, id, answer)
		}
	}
	return out
}

// only keeps of have what matters.
func only(have kept, matters []string) kept {
	out := kept{}
	for _, id := range matters {
		if a, ok := have[id]; ok {
			out[id] = a
		}
	}
	return out
}

// passes reports whether a path leads to s past every other step that asks
// the same. It gives up on a tree with too many states, which it then lets be.
func (r *routes) passes(s *Step) bool {
	const most = 10000
	seen := map[string]bool{}
	var visit func(at *Step, answers kept) bool
	visit = func(at *Step, answers kept) bool {
		if at == s {
			return true
		}
		k := state(at, r.again[at.ID], answers)
		if at.Check == s.Check || seen[k] || len(seen) > most {
			return false
		}
		seen[k] = true
		for _, a := range r.ways(at, answers) {
			if next := r.tree.steps[at.Then[a].Step]; next != nil && visit(next, r.with(answers, at, a, next)) {
				return true
			}
		}
		return false
	}
	first := r.tree.steps[r.tree.Begin]
	return first != nil && visit(first, kept{})
}

// Longest gives the most checks that the tree of a complaint can ask of one
// person after the first looks: a check at several wheels counts once, one
// that branches again is not asked again, and a condition is asked once. It
// takes it that every check applies, so a vehicle on which conditions exclude
// one another is asked fewer.
func (b *Book) Longest(complaint string) int {
	r := b.routes(b.complaints[complaint])
	memo := map[string]int{}
	// What was asked is kept as an answer that is not known: "".
	var longest func(s *Step, answers, asked kept) int
	longest = func(s *Step, answers, asked kept) int {
		k := state(s, r.again[s.ID], answers) + " after " + state(s, r.asking[s.ID], asked)
		if n, done := memo[k]; done {
			return n
		}
		here, now := 0, kept{}
		for id := range asked {
			now[id] = ""
		}
		for _, id := range r.costs[s.ID] {
			if _, was := now[id]; !was {
				here++
				now[id] = ""
			}
		}
		most := 0
		for _, a := range r.ways(s, answers) {
			if next := r.tree.steps[s.Then[a].Step]; next != nil {
				most = max(most, longest(next, r.with(answers, s, a, next), only(now, r.asking[next.ID])))
			}
		}
		memo[k] = here + most
		return here + most
	}
	return longest(r.tree.steps[r.tree.Begin], kept{}, kept{})
}

// A Mild is an end of a tree and the mildest advice with which a talk about
// nothing else can come to it.
type Mild struct {
	Step    *Step
	Answers []string // that lead from the step to the end
	End     *End
	Drive   Drive
}

// Mildest gives, for each end of a complaint's tree that a talk can come to,
// the mildest drive advice that it may leave with: every first look passed
// and cleared what it can, every wheel answers alike, what can be mended was
// mended, and what applies only to some vehicles does not count. Dangers that
// nobody looked at do not count either, though they make every advice at least
// `care`. No talk gets a milder advice.
func (b *Book) Mildest(complaint string) []Mild {
	r := b.routes(b.complaints[complaint])
	m := &milds{routes: r, best: map[string][]mild{}, ends: map[*End]Drive{}, mended: map[string]bool{}}
	for _, c := range b.Checks {
		for _, a := range c.Answers {
			for _, id := range a.Mended {
				m.mended[id] = true
			}
		}
	}
	cleared := kept{}
	seen := map[string]bool{}
	var looks []string
	for _, l := range b.Looks {
		b.asks(l.Check, &looks, seen)
	}
	for id := range seen {
		for _, a := range b.Checks[id].Answers {
			for _, cause := range a.Clears {
				cleared[cause] = ""
			}
		}
	}
	m.visit(r.tree.steps[r.tree.Begin], kept{}, mild{cleared: cleared})
	var out []Mild
	for _, s := range r.tree.Steps {
		var here []Mild
		for _, a := range append(slices.Clone(b.Checks[s.Check].Answers), &Answer{ID: Unsure}) {
			end := s.Then[a.ID].End
			d, reached := m.ends[end]
			if i := slices.IndexFunc(here, func(h Mild) bool { return h.End == end }); i >= 0 {
				here[i].Answers = append(here[i].Answers, a.ID)
			} else if reached {
				here = append(here, Mild{s, []string{a.ID}, end, d})
			}
		}
		out = append(out, here...)
	}
	return out
}

type milds struct {
	*routes
	best   map[string][]mild // by state, those that no other of them beats
	ends   map[*End]Drive
	mended map[string]bool
}

// A mild is what a way to a step did to the advice: what it asks for so far,
// what it cleared, and whether an answer showed a cause.
type mild struct {
	drive   Drive
	cleared kept
	shown   bool
}

// beats reports whether no way on from here can end milder after o than after
// w. What was cleared no longer counts, so more of it is better, but for
// causes that ask for nothing: one of them makes an end traced.
func (m *milds) beats(w, o mild, naming []string) bool {
	if w.drive > o.drive || o.shown && !w.shown {
		return false
	}
	for _, id := range naming {
		_, mine := w.cleared[id]
		_, its := o.cleared[id]
		if mine != its && mine == (m.book.causes[id].Drive == Go) {
			return false
		}
	}
	return true
}

// visit goes on from s, unless a way that came here before beats this one.
func (m *milds) visit(s *Step, answers kept, w mild) {
	k := state(s, m.again[s.ID], answers)
	for _, o := range m.best[k] {
		if m.beats(o, w, m.naming[s.ID]) {
			return
		}
	}
	m.best[k] = append(slices.DeleteFunc(m.best[k], func(o mild) bool { return m.beats(w, o, m.naming[s.ID]) }), w)
	c := m.book.Checks[s.Check]
	_, again := answers[s.Check]
	ways := m.ways(s, answers)
	// The mildest answers first, so that little that follows is better.
	slices.SortStableFunc(ways, func(a, b string) int { return c.rank(b) - c.rank(a) })
	for _, a := range ways {
		effects := []effect{{}}
		if !again {
			effects = m.effects(c, a)
		}
		for _, e := range effects {
			now := mild{max(w.drive, e.drive), w.cleared, w.shown || e.shows}
			if len(e.clears) > 0 {
				now.cleared = kept{}
				for id := range w.cleared {
					now.cleared[id] = ""
				}
				for _, id := range e.clears {
					now.cleared[id] = ""
				}
			}
			t := s.Then[a]
			if t.End != nil {
				d := max(now.drive, m.end(t.End, now.cleared, now.shown))
				if old, seen := m.ends[t.End]; !seen || d < old {
					m.ends[t.End] = d
				}
			} else if next := m.tree.steps[t.Step]; next != nil {
				now.cleared = only(now.cleared, m.naming[next.ID])
				m.visit(next, m.with(answers, s, a, next), now)
			}
		}
	}
}

// An effect is what an answer does to the advice.
type effect struct {
	drive  Drive
	shows  bool
	clears []string
}

// effects gives what leaving c by answer can do: for a measurement with
// several limits, each way in which the other limits come out no worse.
func (m *milds) effects(c *Check, answer string) []effect {
	if answer == Unsure {
		if c.OnlyIf != nil {
			return []effect{{}} // not built that way
		}
		return []effect{{drive: c.UnsureDrive}}
	}
	if c.Measure == "" {
		return []effect{m.effect(c.Answer(answer))}
	}
	out := []effect{{}}
	for _, l := range m.book.calcs[c.Measure].Limits {
		outcomes := l.Outcomes
		if slices.Contains(outcomes, answer) {
			outcomes = []string{answer}
		}
		var more []effect
		for _, id := range outcomes {
			if c.rank(id) < c.rank(answer) {
				continue
			}
			e := m.effect(c.Answer(id))
			for _, o := range out {
				more = append(more, effect{max(o.drive, e.drive), o.shows || e.shows, slices.Concat(o.clears, e.clears)})
			}
		}
		out = more
	}
	return out
}

func (m *milds) effect(a *Answer) effect {
	e := effect{drive: a.Drive, shows: len(a.Shows) > 0, clears: a.Clears}
	all := e.shows
	for _, id := range a.Shows {
		all = all && m.mended[id]
	}
	if all {
		e.drive = min(e.drive, Care)
	}
	for _, id := range a.Shows {
		e.drive = max(e.drive, m.cause(id))
	}
	return e
}

// cause gives the least that a cause that was found asks for.
func (m *milds) cause(id string) Drive {
	c := m.book.causes[id]
	switch {
	case c.OnlyIf != nil:
		return Go
	case m.mended[id]:
		return min(c.Drive, Care)
	}
	return c.Drive
}

// end gives the least that an end asks for.
func (m *milds) end(e *End, cleared kept, shown bool) Drive {
	d, traced := Go, shown
	for _, id := range e.Likely {
		if _, out := cleared[id]; out {
			continue
		}
		c := m.book.causes[id]
		if c.OnlyIf != nil { // it counts, or it leaves the end without a cause
			d, traced = max(d, min(c.Drive, Care)), true
			continue
		}
		d, traced = max(d, c.Drive), true
	}
	for _, id := range e.Possible {
		if _, out := cleared[id]; !out && m.book.causes[id].OnlyIf == nil {
			d = max(d, m.book.causes[id].Drive)
		}
	}
	if !traced && !m.tree.Round {
		d = max(d, Care)
	}
	return d
}
