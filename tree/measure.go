package tree

import (
	"cmp"
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
	// By check and answer: the first answer that every step branching once
	// more sends the same way.
	class map[[2]string]string
}

// kept holds answers by check.
type kept map[string]string

func (b *Book) routes(c *Complaint) *routes {
	r := &routes{b, c, map[string][]string{}, map[string][]string{}, map[string][]string{}, map[string][]string{}, map[[2]string]string{}}
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
	r.classes()
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

func (r *routes) classes() {
	for _, s := range r.tree.Steps {
		if !s.Again {
			continue
		}
		ids := sortedKeys(s.Then)
		for i, id := range ids {
			r.class[[2]string{s.Check, id}] = id
			for _, like := range ids[:i] {
				if r.alike(s.Check, id, like) {
					r.class[[2]string{s.Check, id}] = like
					break
				}
			}
		}
	}
}

// alike reports whether no step that branches once more on check tells two
// answers apart.
func (r *routes) alike(check, a, b string) bool {
	for _, s := range r.tree.Steps {
		if s.Again && s.Check == check && s.Then[a] != s.Then[b] {
			return false
		}
	}
	return true
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
			out[id] = a
		} else if id == s.Check {
			out[id] = r.class[[2]string{id, answer}]
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
	m := &milds{routes: r, been: map[string][]been{}, ends: map[*End]Drive{}, mended: map[string]bool{}, floors: map[string]map[*End]Drive{}, likely: map[string]bool{}}
	for _, s := range r.tree.Steps {
		for _, t := range s.Then {
			if t.End != nil {
				for _, id := range t.End.Likely {
					m.likely[id] = true
				}
			}
		}
	}
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
	m.visit(r.tree.steps[r.tree.Begin], kept{}, cleared, Go, false)
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
	been   map[string][]been
	likely map[string]bool // causes that some end of the tree calls likely
	ends   map[*End]Drive
	mended map[string]bool
	floors map[string]map[*End]Drive // by step
}

// floor gives the ends that can come after s, each with an advice that it
// cannot be milder than when no cause was shown before s.
func (m *milds) floor(s *Step) map[*End]Drive {
	if f, done := m.floors[s.ID]; done {
		return f
	}
	f := map[*End]Drive{}
	m.floors[s.ID] = f
	c := m.book.Checks[s.Check]
	for id, t := range s.Then {
		shows := Stop + 1 // the least with which this answer shows a cause
		for _, e := range m.effects(c, id) {
			if e.shows {
				shows = min(shows, e.drive)
			}
		}
		lower := func(e *End, d Drive) {
			d = min(d, shows)
			if old, seen := f[e]; !seen || d < old {
				f[e] = d
			}
		}
		switch next := m.tree.steps[t.Step]; {
		case t.End != nil:
			d := Care
			for _, cause := range t.End.Likely {
				d = min(d, m.book.causes[cause].Drive)
			}
			lower(t.End, d)
		case next != nil:
			for e, d := range m.floor(next) {
				lower(e, d)
			}
		}
	}
	return f
}

// settled reports whether nothing after s can make the advice of an end milder
// than it is known to be.
func (m *milds) settled(s *Step, drive Drive, shown bool) bool {
	for e, d := range m.floor(s) {
		if shown {
			d = Go
		}
		if best, seen := m.ends[e]; !seen || best > max(drive, d) {
			return false
		}
	}
	return true
}

// A been is how a step was come to.
type been struct {
	cleared kept
	drive   Drive
	shown   bool
}

// visit goes on from s. What was cleared so far, and whether an answer showed
// a cause, are part of the state: clearing a cause that is only possible makes
// the advice milder, clearing one that is likely can make it stricter (the end
// is then without a cause). So coming with no less cleared, the likely ones
// alike, no stricter and no less shown, is no worse.
func (m *milds) visit(s *Step, answers, cleared kept, drive Drive, shown bool) {
	var likely []string
	for _, id := range sortedKeys(cleared) {
		if m.likely[id] {
			likely = append(likely, id)
		}
	}
	k := state(s, m.again[s.ID], answers) + " cleared " + strings.Join(likely, " ")
	for _, b := range m.been[k] {
		if b.drive <= drive && (b.shown || !shown) && covers(b.cleared, cleared) {
			return
		}
	}
	m.been[k] = append(m.been[k], been{cleared, drive, shown})
	if m.settled(s, drive, shown) {
		return
	}
	c := m.book.Checks[s.Check]
	_, again := answers[s.Check]
	// The sound answers first: what they come to settles most of the rest.
	ways := m.ways(s, answers)
	slices.SortStableFunc(ways, func(a, b string) int { return cmp.Compare(c.rank(b), c.rank(a)) })
	for _, a := range ways {
		effects := []effect{{}}
		if !again {
			effects = m.effects(c, a)
		}
		for _, e := range effects {
			now := cleared
			if len(e.clears) > 0 {
				now = kept{}
				for id := range cleared {
					now[id] = ""
				}
				for _, id := range e.clears {
					now[id] = ""
				}
			}
			d, sh := max(drive, e.drive), shown || e.shows
			t := s.Then[a]
			if t.End != nil {
				d = max(d, m.end(t.End, now, sh))
				if old, seen := m.ends[t.End]; !seen || d < old {
					m.ends[t.End] = d
				}
			} else if next := m.tree.steps[t.Step]; next != nil {
				m.visit(next, m.with(answers, s, a, next), only(now, m.naming[next.ID]), d, sh)
			}
		}
	}
}

func covers(all, some kept) bool {
	for id := range some {
		if _, has := all[id]; !has {
			return false
		}
	}
	return true
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
	if !traced {
		d = max(d, Care)
	}
	return d
}
