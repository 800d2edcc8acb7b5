package main

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"chock/brakes/unit"
	"chock/tree"
	"chock/tree/book"
)

// complaintsOf gives every complaint of the book by id, in its order.
func complaintsOf(b *tree.Book) []string {
	var out []string
	for _, c := range b.Complaints {
		out = append(out, c.ID)
	}
	return out
}

func loadBook(tb testing.TB) *tree.Book {
	tb.Helper()
	b, err := tree.Load(book.FS, calculations())
	require.NoError(tb, err)
	return b
}

// answering gives what is said to a prompt, one Said a wheel.
type answering func(p *tree.Prompt) []tree.Said

// a session is a talk without a screen: the walk asks, fn answers.
type session struct {
	b       *tree.Book
	said    []tree.Said
	walk    *tree.Walk
	checks  []string // prompted, each once, in order
	figures []string
}

// talkThrough talks until nothing is left to ask. Every prompt of a talk in which
// nothing is changed puts a new question, or one that was put off once, so
// the bound is what the book holds.
func talkThrough(tb testing.TB, b *tree.Book, complaints []string, fn answering) *session {
	tb.Helper()
	s := &session{b: b}
	for {
		s.walk = b.Walk(complaints, s.said)
		p := s.walk.Next
		if p == nil {
			return s
		}
		require.Less(tb, len(s.said), 4000, "the talk does not end")
		if p.Figure != nil {
			s.figures = append(s.figures, p.Figure.ID)
		} else if !slices.Contains(s.checks, p.Check.ID) {
			s.checks = append(s.checks, p.Check.ID)
		}
		said := fn(p)
		require.NotEmpty(tb, said)
		s.said = append(s.said, said...)
	}
}

// say gives the same answers to every wheel of a prompt; a measurement gets
// readings that other measurements can take.
func say(p *tree.Prompt, ids ...string) []tree.Said {
	if p.Figure != nil {
		return []tree.Said{{Check: p.Figure.ID, Answers: []string{tree.Unsure}, Kind: "did-not-look"}}
	}
	var out []tree.Said
	for _, wheel := range p.Wheels {
		out = append(out, sayAt(p.Check, wheel, ids...))
	}
	return out
}

func sayAt(c *tree.Check, wheel string, ids ...string) tree.Said {
	s := tree.Said{Check: c.ID, Wheel: wheel, Answers: ids}
	if c.Measure != "" && !notSure(s) {
		s.Readings = map[string][]unit.Any{}
		for _, in := range c.Inputs {
			if in.Least > 0 {
				s.Readings[in.Name] = []unit.Any{{Kind: unit.KindLength, Text: "0"}}
			}
		}
	}
	if s.Answers[0] == tree.Unsure {
		s.Kind = "cannot-tell"
	}
	return s
}

// outcomes gives one outcome of each limit: want where it belongs, else what
// other picks, "" for none.
func outcomes(b *tree.Book, c *tree.Check, want string, other func(l tree.CalcLimit) string) []string {
	calc, _ := b.Calculation(c.Measure)
	var out []string
	for _, l := range calc.Limits {
		id := other(l)
		if slices.Contains(l.Outcomes, want) {
			id = want
		}
		if id != "" {
			out = append(out, id)
		}
	}
	return out
}

// sound gives the answer of a sound vehicle, and what was named in facts;
// where a question has no normal answer, its last.
func sound(b *tree.Book, facts map[string][]string) answering {
	return func(p *tree.Prompt) []tree.Said {
		if p.Figure != nil {
			return say(p)
		}
		if ids := facts[p.Check.ID]; ids != nil {
			return say(p, ids...)
		}
		return say(p, normal(b, p.Check)...)
	}
}

func normal(b *tree.Book, c *tree.Check) []string {
	if c.Measure != "" {
		return outcomes(b, c, "", func(l tree.CalcLimit) string { return soundOutcome(c, l) })
	}
	for _, a := range c.Answers {
		if a.Normal {
			return []string{a.ID}
		}
	}
	return []string{c.Answers[len(c.Answers)-1].ID}
}

// soundOutcome gives the normal outcome of a limit, or its last.
func soundOutcome(c *tree.Check, l tree.CalcLimit) string {
	for _, id := range l.Outcomes {
		if c.Answer(id).Normal {
			return id
		}
	}
	return l.Outcomes[len(l.Outcomes)-1]
}

// besides gives an outcome of a limit that leaves answer the worst of all: the
// sound one, if that is milder.
func besides(c *tree.Check, l tree.CalcLimit, answer string) string {
	rank := func(id string) int {
		return slices.IndexFunc(c.Answers, func(a *tree.Answer) bool { return a.ID == id })
	}
	sound := soundOutcome(c, l)
	for _, id := range l.Outcomes {
		if rank(sound) < rank(answer) && rank(id) > rank(answer) {
			return id
		}
	}
	return sound
}

// script writes what was said as one would type it into a test.
func script(said []tree.Said) string {
	var out strings.Builder
	for _, s := range said {
		at := ""
		if s.Wheel != "" {
			at = "@" + s.Wheel
		}
		fmt.Fprintf(&out, "%s%s=%s ", s.Check, at, strings.Join(s.Answers, ","))
	}
	return out.String()
}

func sortedKeys[V any](m map[string]V) []string {
	var out []string
	for k := range m {
		out = append(out, k)
	}
	slices.Sort(out)
	return out
}

// A route is the answer that each check of a tree gives, so that a talk goes
// one certain way through it.
type route map[string]string

// routes gives up to so many ways from the beginning of a tree that leave the
// step goal by answer, the soundest (or the longest) first. A tree has too many
// ways to try them all, so each goes down by dice among the answers from which
// the goal can still be reached, and begins anew where it is stuck.
func routes(b *tree.Book, c *tree.Complaint, goal, answer string, most int, long bool, yield func(route) bool) {
	steps, length := map[string]*tree.Step{}, map[string]int{}
	for _, s := range c.Steps {
		steps[s.ID] = s
	}
	var below func(id string) int
	below = func(id string) int {
		if n, seen := length[id]; seen || steps[id] == nil {
			return n
		}
		n := 0
		for _, t := range steps[id].Then {
			n = max(n, 1+below(t.Step))
		}
		length[id] = n
		return n
	}
	reaches := map[string]bool{}
	var leads func(id string) bool
	leads = func(id string) bool {
		if r, seen := reaches[id]; seen || steps[id] == nil {
			return r
		}
		reaches[id] = id == goal
		for _, t := range steps[id].Then {
			if leads(t.Step) {
				reaches[id] = true
			}
		}
		return reaches[id]
	}
	// What the goal hangs on has to be answered so that it is asked at all.
	wanted := map[string][]string{}
	var want func(c *tree.Check)
	want = func(c *tree.Check) {
		for _, cond := range c.OnlyIf {
			if _, seen := wanted[cond.Question]; !seen {
				wanted[cond.Question] = cond.Answers
				want(b.Checks[cond.Question])
			}
		}
	}
	wanted[steps[goal].Check] = []string{answer}
	if answer != tree.Unsure {
		want(b.Checks[steps[goal].Check])
	}
	stuck := map[string][]string{} // answers that would have led on, where a way was stuck last
	seen := map[string]bool{}
	for try := range 3000 {
		dice := rand.New(rand.NewPCG(uint64(try), 5))
		odd := []float64{0, 0.05, 0.2, 0.5}[try%4] // how often the answer is not the soundest that leads there
		so := route{}
		for id := c.Begin; ; {
			s := steps[id]
			applies := true // as far as the way so far tells
			for _, cond := range b.Checks[s.Check].OnlyIf {
				if a, said := so[cond.Question]; said && !slices.Contains(cond.Answers, a) && (a != tree.Unsure || cond.Sure) {
					applies = false
				}
			}
			had, fixed := so[s.Check]
			var ways []string
			for _, a := range soundFirst(b.Checks[s.Check], s) {
				switch {
				case fixed && a != had, !applies && a != tree.Unsure:
				case id == goal && a != answer, id != goal && !leads(s.Then[a].Step):
				case !fixed && wanted[s.Check] != nil && !slices.Contains(wanted[s.Check], a):
				default:
					ways = append(ways, a)
				}
			}
			if ways == nil {
				for _, a := range soundFirst(b.Checks[s.Check], s) {
					if fixed && leads(s.Then[a].Step) {
						stuck[s.Check] = append(stuck[s.Check], a)
					}
				}
				break
			}
			if liked := slices.DeleteFunc(slices.Clone(ways), func(a string) bool { return !slices.Contains(stuck[s.Check], a) }); len(liked) > 0 && dice.IntN(4) > 0 {
				ways = liked
			}
			if long {
				slices.SortStableFunc(ways, func(a, o string) int { return below(s.Then[o].Step) - below(s.Then[a].Step) })
			}
			a := ways[0]
			if dice.Float64() < odd {
				a = ways[dice.IntN(len(ways))]
			}
			so[s.Check] = a
			if id == goal {
				if key := fmt.Sprint(so); !seen[key] {
					seen[key] = true
					if !yield(so) || len(seen) == most {
						return
					}
				}
				break
			}
			id = s.Then[a].Step
		}
	}
}

// soundFirst gives the answers that leave a step: the normal ones, the others
// from the mildest to the worst, and "not sure".
func soundFirst(c *tree.Check, s *tree.Step) []string {
	var sound, others []string
	for _, a := range slices.Backward(c.Answers) {
		if _, covered := s.Then[a.ID]; !covered {
			continue
		}
		if a.Normal {
			sound = append(sound, a.ID)
		} else {
			others = append(others, a.ID)
		}
	}
	return slices.Concat(sound, others, []string{tree.Unsure})
}

// equipped gives the facts of a vehicle on which as much as possible can be
// checked: everything that a check needs is to hand, and where there is no
// sound answer, it is built as most checks want it. Discs in front, drums
// behind.
func equipped(b *tree.Book) map[string]map[string][]string {
	wanted := map[string]map[string]int{} // by question and answer
	needed := map[string]bool{}
	want := func(conds []tree.Cond, needs bool) {
		for _, cond := range conds {
			needed[cond.Question] = needs
			if wanted[cond.Question] == nil {
				wanted[cond.Question] = map[string]int{}
			}
			for _, a := range cond.Answers {
				wanted[cond.Question][a]++
			}
		}
	}
	for _, c := range b.Checks {
		want(c.OnlyIf, false)
		want(c.Needs, true)
	}
	for _, c := range b.Causes {
		want(c.OnlyIf, false)
	}
	facts := map[string]map[string][]string{}
	for id, answers := range wanted {
		q := b.Checks[id]
		var best []string
		for _, a := range q.Answers {
			switch n := answers[a.ID]; {
			case a.Normal:
				best = []string{a.ID}
			case n == 0:
			case needed[id] && q.Several:
				best = append(best, a.ID)
			case best == nil || n > answers[best[0]] && !q.Answer(best[0]).Normal:
				best = []string{a.ID}
			}
		}
		facts[id] = map[string][]string{"": best}
	}
	facts["brake-kind"] = map[string][]string{}
	for wheel, kind := range map[string]string{"front-left": "disc", "front-right": "disc", "rear-left": "drum", "rear-right": "drum"} {
		facts["brake-kind"][wheel] = []string{kind}
	}
	return facts
}

// facing gives the facts that a route needs, so that its checks apply and can
// be done, the one that it goes to before the others.
func facing(b *tree.Book, r route, goal string) map[string]map[string][]string {
	facts := equipped(b)
	set := func(check, wheel string, ids ...string) {
		if facts[check] == nil || wheel == "" {
			facts[check] = map[string][]string{}
		}
		facts[check][wheel] = ids
	}
	for check, answer := range r {
		c := b.Checks[check]
		if answer == tree.Unsure {
			set(check, "", answer)
			continue
		}
		if c.Measure != "" {
			set(check, "", outcomes(b, c, answer, func(l tree.CalcLimit) string { return besides(c, l, answer) })...)
		} else {
			set(check, "", answer)
		}
	}
	settled := map[[2]string]bool{}
	var built func(check string)
	built = func(check string) {
		c := b.Checks[check]
		for _, cond := range slices.Concat(c.OnlyIf, c.Needs) {
			q := b.Checks[cond.Question]
			if _, routed := r[q.ID]; routed {
				continue
			}
			built(q.ID)
			if q.Several {
				if ids := facts[q.ID][""]; !intersects(ids, cond.Answers) {
					set(q.ID, "", append(slices.Clone(ids), cond.Answers[0])...)
				}
				continue
			}
			wheels := []string{""}
			if q.At != "" && c.At != "" && c.At != "named" {
				if wheels = asked[c.At]; c.At == "all" {
					// One axle is enough, the one that such a vehicle has it on.
					discs := slices.ContainsFunc(c.OnlyIf, func(o tree.Cond) bool { return slices.Contains(o.Answers, "disc") })
					wheels = asked[map[bool]string{true: "front", false: "rear"}[discs]]
				}
			}
			for _, wheel := range wheels {
				if k := [2]string{q.ID, wheel}; !settled[k] {
					settled[k] = true
					if !intersects(facts[q.ID][wheel], cond.Answers) {
						set(q.ID, wheel, cond.Answers[0])
					}
				}
			}
		}
	}
	if r[goal] != tree.Unsure {
		built(goal)
	}
	for _, check := range sortedKeys(r) {
		if r[check] != tree.Unsure {
			built(check)
		}
	}
	return facts
}

// answers turns facts into somebody who gives them, and is otherwise sound.
func answers(b *tree.Book, facts map[string]map[string][]string) answering {
	return func(p *tree.Prompt) []tree.Said {
		if p.Figure != nil {
			return say(p)
		}
		var out []tree.Said
		for _, wheel := range p.Wheels {
			ids := facts[p.Check.ID][wheel]
			if ids == nil {
				ids = facts[p.Check.ID][""]
			}
			if ids == nil {
				ids = normal(b, p.Check)
			}
			out = append(out, sayAt(p.Check, wheel, ids...))
		}
		return out
	}
}

// noTalk lists branches that no talk can take, as complaint.step answer.
var noTalk = []string{}

// TestEveryBranch finds a talk for every answer of every step of every tree,
// to every end, through every answer of every first look, and for every cause.
func TestEveryBranch(t *testing.T) {
	t.Parallel()
	b := loadBook(t)
	taken := map[[2]string]bool{}
	given := map[[2]string]bool{}
	ends := map[*tree.End]bool{}
	causes := map[string]bool{}
	talks := 0
	try := func(complaint string, r route, goal string) {
		talks++
		s := talkThrough(t, b, []string{complaint}, answers(b, facing(b, r, goal)))
		n := newNaive(b, []string{complaint}, s.said)
		j := n.judge()
		require.True(t, j.ended)
		a := b.Assess(s.walk)
		assert.Equal(t, j.drive, a.Drive, script(s.said))
		for _, step := range j.past.taken {
			taken[step] = true
		}
		for _, o := range n.counts {
			given[[2]string{o.c.ID, o.a.ID}] = true
		}
		for _, e := range s.walk.Reached {
			ends[e.End] = true
		}
		for _, f := range a.Findings {
			if f.Standing == tree.Found || f.Standing == tree.Likely || f.Standing == tree.Possible {
				causes[f.Cause.ID] = true
			}
		}
	}
	var dead []string
	for _, c := range b.Complaints {
		for _, s := range c.Steps {
			check := b.Checks[s.Check]
			for _, a := range soundFirst(check, s) {
				goal := [2]string{c.ID + "." + s.ID, a}
				// Outcomes come together, and a step follows the worst: one
				// that leads where the sound ones lead need only be given.
				done := func() bool {
					return taken[goal] || check.Measure != "" && s.Then[a] == s.Then[normalWorst(b, check)] && given[[2]string{check.ID, a}]
				}
				if !done() {
					routes(b, c, s.ID, a, 60, false, func(r route) bool {
						try(c.ID, r, check.ID)
						return !done()
					})
				}
				// A step that branches once more may stand where an answer
				// has led elsewhere before.
				if !done() && !(s.Again && slices.Contains(s.Covers, a)) {
					dead = append(dead, c.ID+"."+s.ID+" "+a)
				}
			}
		}
	}
	// The first looks, and what other checks ask for by themselves.
	n := &naive{b: b}
	var wants func(c, q *tree.Check) bool
	wants = func(c, q *tree.Check) bool {
		return slices.ContainsFunc(n.waitsFor(c), func(o *tree.Check) bool { return o == q || wants(o, q) })
	}
	for _, l := range b.Listing() {
		for _, a := range l.Check.Answers {
			done := func() bool { return given[[2]string{l.Check.ID, a.ID}] }
			if !done() {
				try(b.Complaints[0].ID, route{l.Check.ID: a.ID}, l.Check.ID)
			}
			for _, c := range b.Complaints {
				for _, s := range c.Steps {
					if check := b.Checks[s.Check]; !done() && wants(check, l.Check) {
						routes(b, c, s.ID, normalWorst(b, check), 5, false, func(r route) bool {
							r[l.Check.ID] = a.ID
							try(c.ID, r, check.ID)
							return !done()
						})
					}
				}
			}
		}
	}
	t.Logf("%d talks: %d branches of steps, %d ends, %d causes", talks, len(taken), len(ends), len(causes))
	assert.ElementsMatch(t, noTalk, dead, "branches that no talk takes")
	for _, c := range b.Complaints {
		for _, s := range c.Steps {
			for a, to := range s.Then {
				if to.End != nil && !slices.Contains(dead, c.ID+"."+s.ID+" "+a) {
					assert.True(t, ends[to.End], "no talk comes to the end of %s %s %s", c.ID, s.ID, a)
				}
			}
		}
	}
	for _, l := range b.Listing() {
		for _, a := range l.Check.Answers {
			assert.True(t, given[[2]string{l.Check.ID, a.ID}], "no talk gives the answer %s %s", l.Check.ID, a.ID)
		}
	}
	for _, c := range b.Causes {
		assert.True(t, causes[c.ID], "no talk comes to the cause %s", c.ID)
	}
}

// normalWorst gives the worst of the outcomes of a sound part.
func normalWorst(b *tree.Book, c *tree.Check) string {
	ids := normal(b, c)
	for _, a := range c.Answers {
		if slices.Contains(ids, a.ID) {
			return a.ID
		}
	}
	return tree.Unsure
}

// A shape is how much a talk asks: checks once for all their wheels.
type shape struct{ looks, inTree, figures int }

func (s *session) shape() shape {
	var out shape
	for _, id := range s.checks {
		if c := s.b.Checks[id]; c.Computed() {
			continue // worked out, not asked
		} else if c.Complaint == "first" {
			out.looks++
		} else {
			out.inTree++
		}
	}
	out.figures = len(s.figures)
	return out
}

// climb changes one fact at a time as long as that makes a talk longer, and
// gives the most that it came to.
func climb(options map[string][][]string, length func(map[string][]string) int) (most int, at map[string][]string) {
	at = map[string][]string{}
	for id, of := range options {
		at[id] = of[0]
	}
	most = length(at)
	for again := true; again; {
		again = false
		for _, id := range sortedKeys(options) {
			best := at[id]
			for _, a := range options[id] {
				at[id] = a
				if n := length(at); n > most {
					most, best, again = n, a, true
				}
			}
			at[id] = best
		}
	}
	return most, at
}

// TestLength asks real talks how long they can get. What decides it in the
// first looks are the questions that others hang on; everything else is in
// order there.
func TestLength(t *testing.T) {
	t.Parallel()
	b := loadBook(t)
	options := func(q *tree.Check, unsure bool) [][]string {
		var out [][]string
		if q.Several { // what is to hand, all of it, or nothing
			out = append(out, equipped(b)[q.ID][""])
		}
		for _, a := range q.Answers {
			out = append(out, []string{a.ID})
		}
		if unsure {
			out = append(out, []string{tree.Unsure})
		}
		return slices.DeleteFunc(out, func(ids []string) bool { return ids == nil })
	}
	for _, unsure := range []bool{false, true} {
		hangOn := map[string][][]string{}
		for _, l := range b.Looks {
			for _, cond := range slices.Concat(b.Checks[l.Check].OnlyIf, b.Checks[l.Check].Needs) {
				hangOn[cond.Question] = options(b.Checks[cond.Question], unsure)
			}
		}
		most, at := climb(hangOn, func(facts map[string][]string) int {
			answer := sound(b, facts)
			var said []tree.Said
			asked := map[string]bool{}
			for {
				p := b.Walk(nil, said).Next
				if p == nil {
					return len(asked)
				}
				asked[p.Check.ID] = true
				said = append(said, answer(p)...)
			}
		})
		t.Logf("first looks: at most %d checks, not sure %v (%v)", most, unsure, at)
		// A twin of a check waits for a sure answer, so that not both are asked.
		assert.LessOrEqual(t, most, 36, "first looks, not sure %v", unsure)
	}

	for _, c := range b.Complaints {
		// The tree: talks on ways to its ends, some of them roundabout.
		longest, figures := 0, 0
		var by string
		for _, s := range c.Steps {
			for _, a := range soundFirst(b.Checks[s.Check], s) {
				if s.Then[a].End == nil {
					continue
				}
				ways := 2
				if *long {
					ways = 8
				}
				routes(b, c, s.ID, a, ways, true, func(r route) bool {
					facts := facing(b, r, s.Check)
					if len(r)%2 == 0 { // of what kind the brakes are: both kinds are asked about
						facts["brake-kind"] = map[string][]string{"": {tree.Unsure}}
					}
					for check, a := range r { // of several places, all that go the same way
						if q := b.Checks[check]; q.Several && q.Complaint != "first" && q.Answer(a) != nil && !q.Answer(a).Normal {
							for _, o := range q.Answers[slices.Index(q.Answers, q.Answer(a))+1:] {
								if !o.Normal && len(o.Opens) == 0 {
									facts[check][""] = append(facts[check][""], o.ID)
								}
							}
						}
					}
					talk := talkThrough(t, b, []string{c.ID}, answers(b, facts))
					l := talk.shape()
					figures = max(figures, l.figures)
					if len(talk.walk.Complaints) == 1 && l.inTree > longest {
						longest, by = l.inTree, strings.Join(talk.checks[l.looks:], " ")
					}
					return true
				})
			}
		}
		t.Logf("%s: at most %d checks in a real talk (by its steps %d), at most %d figures: %s", c.ID, longest, b.Longest(c.ID), figures, by)
		assert.LessOrEqual(t, longest, b.Longest(c.ID), "%s: a talk that is longer than the longest way of its steps", c.ID)
		inTree, prompts := 45, 62
		if c.Round { // the whole vehicle, sorted by place
			inTree, prompts = 65, 95
		}
		assert.LessOrEqual(t, longest, inTree, c.ID)

		// Everything normal: what has no normal answer is tried each way.
		free := map[string][][]string{}
		for _, l := range b.Listing() {
			q := l.Check
			if l.Tree == "first" || l.Tree == c.ID || q.Complaint == "" {
				if q.Measure == "" && q.At == "" && !slices.ContainsFunc(q.Answers, func(a *tree.Answer) bool { return a.Normal }) {
					free[q.ID] = options(q, false)
				}
			}
		}
		kinds := [][]string{{"disc"}, {"drum"}}
		free["brake-kind front"], free["brake-kind rear"] = kinds, kinds
		var longestTalk shape
		most, at := climb(free, func(facts map[string][]string) int {
			whole := sound(b, facts)
			s := talkThrough(t, b, []string{c.ID}, func(p *tree.Prompt) []tree.Said {
				if p.Figure != nil || p.Check.ID != "brake-kind" {
					return whole(p)
				}
				var said []tree.Said
				for _, wheel := range p.Wheels {
					axle, _, _ := strings.Cut(wheel, "-")
					said = append(said, sayAt(p.Check, wheel, facts["brake-kind "+axle]...))
				}
				return said
			})
			l := s.shape()
			if len(s.walk.Complaints) > 1 {
				return 0 // another tree was opened
			}
			if l.looks+l.inTree > longestTalk.looks+longestTalk.inTree {
				longestTalk = l
			}
			return l.looks + l.inTree
		})
		t.Logf("%s, everything normal: at most %d prompts, %d of them first looks, and %d figures; %v", c.ID, most, longestTalk.looks, longestTalk.figures, at)
		assert.LessOrEqual(t, most, prompts, "%s, everything normal", c.ID)
	}
}

// TestNothingSure answers "not sure" to everything, in each of its ways.
func TestNothingSure(t *testing.T) {
	b := loadBook(t)
	for _, complaints := range append(eachAlone(b), complaintsOf(b)) {
		for _, word := range []string{tree.Unsure, tree.Later} {
			s := talkThrough(t, b, complaints, func(p *tree.Prompt) []tree.Said { return say(p, word) })
			a := b.Assess(s.walk)
			assert.True(t, a.Ended)
			assert.Equal(t, tree.Stop, a.Drive)
			assert.False(t, a.NoFault)
			dangers := 0
			for _, u := range a.NotChecked {
				if u.Kind == "cause" {
					dangers++
				}
			}
			t.Logf("%v, %s to everything: %d checks, stop, %d dangerous causes not checked, %d findings, all possible", complaints, word, len(s.checks), dangers, len(a.Findings))
			for _, f := range a.Findings {
				assert.Equal(t, tree.Possible, f.Standing, "%v %s", complaints, f.Cause.ID)
			}
			for _, c := range b.Causes {
				if c.Drive == tree.Stop {
					assert.True(t, slices.ContainsFunc(a.NotChecked, func(u tree.Unchecked) bool { return u.ID == c.ID }), "%v: %s is not listed", complaints, c.ID)
				}
			}
		}
	}
}

// eachAlone gives each complaint by itself.
func eachAlone(b *tree.Book) [][]string {
	var out [][]string
	for _, id := range complaintsOf(b) {
		out = append(out, []string{id})
	}
	return out
}

// unlooked are dangers that stay under "not checked" on a sound vehicle even
// when every complaint is asked about: the seals of an axle without drums are
// looked for only where something is damp. It must shrink.
var unlooked = []string{"axle-seal-leaks"}

// TestSoundVehicle gives every normal answer. No vehicle is told that it may
// not be driven, no abnormal answer is left over, and no danger is found. With
// every complaint each danger was looked at.
func TestSoundVehicle(t *testing.T) {
	b := loadBook(t)
	left := map[string]bool{}
	for _, complaints := range append(eachAlone(b), complaintsOf(b)) {
		for _, row := range []struct{ front, rear string }{{"disc", "drum"}, {"disc", "disc"}, {"drum", "drum"}} {
			facts := equipped(b)
			for i, wheel := range tree.Wheels {
				facts["brake-kind"][wheel] = []string{[]string{row.front, row.rear}[i/2]}
			}
			s := talkThrough(t, b, complaints, answers(b, facts))
			a := b.Assess(s.walk)
			if len(complaints) > 1 {
				for _, u := range a.NotChecked {
					left[u.ID] = true
				}
			}
			var stands, unchecked []string
			for _, f := range a.Findings {
				if f.Standing != tree.Unlikely {
					stands = append(stands, f.Cause.ID+" "+f.Standing)
				}
				assert.NotEqual(t, tree.Stop, f.Drive, "%v: %s is %s", complaints, f.Cause.ID, f.Standing)
			}
			for _, u := range a.NotChecked {
				unchecked = append(unchecked, u.ID+" "+u.Wheel)
				assert.Equal(t, "cause", u.Kind, "%v: everything that is asked is answered, %s %s", complaints, u.ID, u.Wheel)
			}
			t.Logf("%v %s %s: %d prompts, %v, %v, no fault %v, not checked %v", complaints, row.front, row.rear, len(s.checks), a.Drive, stands, a.NoFault, unchecked)
			assert.NotEqual(t, tree.Stop, a.Drive, "%v", complaints)
			assert.Empty(t, a.NotExplained, "%v", complaints)
			assert.Equal(t, complaints, s.walk.Complaints, "a sound vehicle opens nothing")
		}
	}
	assert.Equal(t, unlooked, sortedKeys(left), "dangers that nobody looks at on a sound vehicle")
}
