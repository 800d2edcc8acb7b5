package main

import (
	"fmt"
	"math/rand/v2"
	"runtime"
	"runtime/debug"
	"slices"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"chock/brakes/unit"
	"chock/tree"
	"chock/tree/book"
)

var pulsation = []string{"pulsation"}

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
func talkThrough(tb testing.TB, b *tree.Book, fn answering) *session {
	tb.Helper()
	s := &session{b: b}
	for {
		s.walk = b.Walk(pulsation, s.said)
		p := s.walk.Next
		if p == nil {
			return s
		}
		require.Less(tb, len(s.said), 2000, "the talk does not end")
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

// TestTalksAgainstNaive talks at random: normal and abnormal answers, several
// ticked at once, not sure in its three kinds, later, answers changed. Each
// talk ends, and comes to what the second implementation makes of it.
func TestTalksAgainstNaive(t *testing.T) {
	talks := 20000
	if testing.Short() {
		talks = 1000
	}
	defer debug.SetGCPercent(debug.SetGCPercent(400)) // many short-lived walks
	b := loadBook(t)
	var mu sync.Mutex
	mildest := map[*tree.End]tree.Drive{}
	for _, id := range pulsation {
		for _, m := range b.Mildest(id) {
			mildest[m.End] = m.Drive
		}
	}
	ends := map[string]int{}
	longest, failures := 0, 0
	var wg sync.WaitGroup
	for part := range runtime.GOMAXPROCS(0) {
		wg.Add(1)
		go func() {
			defer wg.Done()
			for i := part; i < talks; i += runtime.GOMAXPROCS(0) {
				r := newRandom(b, uint64(i))
				fault := r.talk()
				if fault == "" {
					for _, e := range r.walk.Reached {
						if least, known := mildest[e.End]; !known || r.assessed.Drive < least {
							fault = fmt.Sprintf("%v at the end of %s %s, which asks for %v at least", r.assessed.Drive, e.Step.ID, e.Answer, least)
						}
					}
				}
				mu.Lock()
				longest = max(longest, r.prompts)
				if fault != "" && failures < 5 {
					failures++
					t.Errorf("talk %d: %s\n%s", i, fault, script(r.said))
				}
				if r.walk != nil && r.walk.Next == nil {
					a := r.assessed
					for _, e := range r.walk.Reached {
						ends[e.Step.ID+" "+e.Answer]++
					}
					ends["advice "+a.Drive.String()]++
				}
				stop := failures >= 5
				mu.Unlock()
				if stop {
					return
				}
			}
		}()
	}
	wg.Wait()
	t.Logf("%d talks, longest %d prompts; advice go %d, care %d, stop %d", talks, longest, ends["advice go"], ends["advice care"], ends["advice stop"])
	if testing.Verbose() {
		for _, k := range sortedKeys(ends) {
			t.Logf("%6d %s", ends[k], k)
		}
	}
}

func sortedKeys[V any](m map[string]V) []string {
	var out []string
	for k := range m {
		out = append(out, k)
	}
	slices.Sort(out)
	return out
}

// A random is one talk with somebody who answers by dice.
type random struct {
	*rand.Rand
	b                               *tree.Book
	said                            []tree.Said
	walk                            *tree.Walk
	assessed                        *tree.Assessment
	naive                           *naive
	judged                          judged
	prompts, changes                int
	normal, unsure, later, changing float64
}

func newRandom(b *tree.Book, seed uint64) *random {
	r := &random{Rand: rand.New(rand.NewPCG(seed, 7)), b: b}
	pick := func(of ...float64) float64 { return of[r.IntN(len(of))] }
	r.normal = pick(0, 0.5, 0.9, 0.97, 1)
	r.unsure = pick(0, 0, 0.05, 0.3)
	r.later = pick(0, 0, 0.05, 0.3)
	r.changing = pick(0, 0, 0.03, 0.15)
	return r
}

func (r *random) chance(p float64) bool { return r.Float64() < p }

// answer gives random answers to a check at a wheel.
func (r *random) answer(c *tree.Check, wheel string) tree.Said {
	switch {
	case r.chance(r.unsure):
		s := sayAt(c, wheel, tree.Unsure)
		s.Kind = []string{"did-not-look", "cannot-tell", "cannot-reach"}[r.IntN(3)]
		return s
	case r.chance(r.later):
		return sayAt(c, wheel, tree.Later)
	case c.Measure != "":
		return sayAt(c, wheel, outcomes(r.b, c, "", func(l tree.CalcLimit) string {
			switch {
			case l.ID == "refinish" && r.chance(0.5):
				return "" // a cut is judged only when the faces vary
			case r.chance(r.normal):
				return soundOutcome(c, l)
			}
			return l.Outcomes[r.IntN(len(l.Outcomes))]
		})...)
	case r.chance(r.normal) && slices.ContainsFunc(c.Answers, func(a *tree.Answer) bool { return a.Normal }):
		return sayAt(c, wheel, normal(r.b, c)...)
	}
	n := 1
	if c.Several {
		n += r.IntN(min(3, len(c.Answers)))
	}
	var ids []string
	for _, i := range r.Perm(len(c.Answers))[:n] {
		ids = append(ids, c.Answers[i].ID)
	}
	return sayAt(c, wheel, ids...)
}

func (r *random) figure(id string) tree.Said {
	if r.chance(0.5) {
		return tree.Said{Check: id, Answers: []string{tree.Unsure}, Kind: "did-not-look"}
	}
	return tree.Said{Check: id, Value: unit.Any{Kind: unit.KindLength, SI: 0.025, Text: "25 mm"}, Origin: "cast"}
}

// talk talks to the end and gives the first fault, "" for none.
func (r *random) talk() string {
	checks := 0
	for _, c := range r.b.Checks {
		checks += map[string]int{"": 1, "front": 2, "rear": 2, "all": 4}[c.At]
	}
	middle := r.IntN(150) // where the talk is held against the naive one before its end
	for {
		r.walk = r.b.Walk(pulsation, r.said)
		p := r.walk.Next
		if p == nil {
			break
		}
		r.prompts++
		if r.prompts > 2*checks+len(r.b.Figures)+2*r.changes {
			return "the talk does not end"
		}
		if fault := r.mayAsk(p); fault != "" {
			return fault
		}
		if r.prompts == middle {
			if fault := r.against(); fault != "" {
				return "under way: " + fault
			}
		}
		if len(r.said) > 0 && r.chance(r.changing) {
			// back takes up the last answer, change any of them.
			s := r.said[len(r.said)-1]
			if r.chance(0.7) {
				s = r.said[r.IntN(len(r.said))]
			}
			r.changes++
			if c := r.b.Checks[s.Check]; c != nil {
				r.said = append(r.said, r.answer(c, s.Wheel))
			} else {
				r.said = append(r.said, r.figure(s.Check))
			}
			continue
		}
		switch {
		case p.Figure != nil:
			r.said = append(r.said, r.figure(p.Figure.ID))
		case r.chance(0.7):
			s := r.answer(p.Check, p.Wheels[0])
			for _, wheel := range p.Wheels {
				s.Wheel = wheel
				r.said = append(r.said, s)
			}
		default:
			for _, wheel := range p.Wheels {
				r.said = append(r.said, r.answer(p.Check, wheel))
			}
		}
	}
	if fault := r.against(); fault != "" {
		return fault
	}
	// Two more questions, put to a part of the talks to spare time.
	switch r.IntN(4) {
	case 0:
		return r.shuffled()
	case 1:
		return r.bent()
	}
	return ""
}

// mayAsk: no road check while a look is failed or open, nothing at walking
// pace while a yard look is; nothing is asked twice, or offered a third time.
func (r *random) mayAsk(p *tree.Prompt) string {
	if p.Figure != nil {
		if _, said := r.walk.Said(p.Figure.ID, ""); said {
			return "asks the figure " + p.Figure.ID + " again"
		}
		return ""
	}
	for _, wheel := range p.Wheels {
		s, said := r.walk.Said(p.Check.ID, wheel)
		if said != p.Again || said && s.Answers[0] != tree.Later {
			return "asks again: " + p.Check.ID + " " + wheel
		}
	}
	if p.Check.Place != tree.Yard && p.Check.Place != tree.Road {
		return ""
	}
	n := newNaive(r.b, pulsation, r.said)
	yard, road := n.bars()
	if yard || p.Check.Place == tree.Road && road {
		return "sends onto " + string(p.Check.Place) + " for " + p.Check.ID + " though a look is not passed"
	}
	return ""
}

// against holds what the answers come to against the naive judge.
func (r *random) against() string {
	a := r.b.Assess(r.walk)
	r.assessed = a
	n := newNaive(r.b, pulsation, r.said)
	j := n.judge()
	r.naive, r.judged = n, j
	yard, road := n.bars()
	switch {
	case a.Ended != j.ended:
		return fmt.Sprintf("ended %v, naive %v", a.Ended, j.ended)
	case a.Drive != j.drive:
		return fmt.Sprintf("advice %v, naive %v", a.Drive, j.drive)
	case a.NoFault && !j.noFault:
		return fmt.Sprintf("no fault found, naive not (not cleared: %v)", j.unclear)
	case a.NoFault && (road || len(a.NotExplained) > 0):
		return "no fault found though a look is not passed or an answer not explained"
	case j.noFault && !a.NoFault && !road && len(a.NotExplained) == 0:
		return "nothing found so far, naive no fault found"
	case r.walk.YardBarred != yard || r.walk.RoadBarred != road:
		return fmt.Sprintf("bars yard %v road %v, naive %v %v", r.walk.YardBarred, r.walk.RoadBarred, yard, road)
	}
	got := map[string]string{}
	for _, f := range a.Findings {
		id := f.Cause.ID
		if got[id] != "" {
			return "two findings of " + id
		}
		got[id] = f.Standing
		if f.Cause.Caution == "" || f.Cause.Verify == "" || len(f.Cause.Do) == 0 {
			return "no caution, verify note or repair for " + id
		}
		if f.Standing == tree.Found || f.Standing == tree.Mended {
			want := slices.Compact(slices.Sorted(slices.Values(j.wheels[id])))
			if !slices.Equal(slices.Sorted(slices.Values(f.Wheels)), want) {
				return fmt.Sprintf("%s at %v, naive %v", id, f.Wheels, want)
			}
		}
	}
	for _, c := range r.b.Causes {
		if got[c.ID] != j.standing[c.ID] {
			return fmt.Sprintf("%s is %q, naive %q", c.ID, got[c.ID], j.standing[c.ID])
		}
	}
	if !a.Ended {
		return ""
	}
	var ends []string
	for i, e := range r.walk.Reached {
		ends = append(ends, e.Complaint)
		if i >= len(j.past.ends) || e.End != j.past.ends[i] {
			return "another end: " + e.Step.ID + " " + e.Answer
		}
	}
	if !slices.Equal(ends, pulsation) {
		return fmt.Sprintf("ends of %v", ends)
	}
	// What was not checked is said: each dangerous cause that nothing
	// cleared, and each check of the way that has no answer.
	listed := func(kind, id, wheel string) bool {
		return slices.ContainsFunc(a.NotChecked, func(u tree.Unchecked) bool {
			return u.Kind == kind && u.ID == id && (wheel == "" || u.Wheel == "" || u.Wheel == wheel)
		})
	}
	for _, id := range j.unclear {
		if !listed("cause", id, "") && got[id] == "" {
			return "not listed as not checked: " + id
		}
	}
	for _, c := range j.past.checks {
		for _, wheel := range n.wheels(c) {
			if n.applies(c, wheel) && n.answered(c, wheel) == nil && !listed("question", c.ID, wheel) && !listed("wheel", c.ID, wheel) {
				return "not listed as not checked: " + c.ID + " " + wheel
			}
		}
	}
	return ""
}

// shuffled: what stands of each check in another order comes to the same.
func (r *random) shuffled() string {
	said := slices.Clone(r.said)
	// Two words about one check at one wheel keep their order.
	rank := map[int]int{}
	for i, at := range r.Perm(len(said)) {
		rank[i] = at
	}
	byKey := map[[2]string][]int{}
	for i, s := range r.said {
		k := [2]string{s.Check, s.Wheel}
		byKey[k] = append(byKey[k], i)
	}
	for _, at := range byKey {
		var to []int
		for _, i := range at {
			to = append(to, rank[i])
		}
		slices.Sort(to)
		for n, i := range at {
			said[to[n]] = r.said[i]
		}
	}
	w := r.b.Walk(pulsation, said)
	a := r.b.Assess(w)
	if !assert.ObjectsAreEqual(a, r.assessed) {
		return "another order of the same answers comes to something else"
	}
	return ""
}

// bent changes single answers of a talk that has ended. A stop sign keeps its
// advice whatever else is "not sure"; a "not sure" that turns out normal
// makes nothing stricter unless it leads somewhere new.
func (r *random) bent() string {
	n, j := r.naive, r.judged
	sign := [2]string{}
	for _, o := range n.counts {
		if o.a.Drive == tree.Stop && !n.putRight(o.wheel, o.a.Shows) {
			sign = [2]string{o.c.ID, o.wheel}
		}
	}
	for range 2 {
		s := r.said[r.IntN(len(r.said))]
		c := r.b.Checks[s.Check]
		if c == nil {
			continue
		}
		last := n.said[[2]string{s.Check, s.Wheel}]
		if notSure(last) {
			if !slices.ContainsFunc(c.Answers, func(a *tree.Answer) bool { return a.Normal }) {
				continue
			}
			said := append(slices.Clone(r.said), sayAt(c, s.Wheel, normal(r.b, c)...))
			w := r.b.Walk(pulsation, said)
			a := r.b.Assess(w)
			if w.Next == nil && a.Drive > j.drive && w.Reached[0].End == r.walk.Reached[0].End {
				return fmt.Sprintf("%s %s found normal makes it %v", s.Check, s.Wheel, a.Drive)
			}
			continue
		}
		if sign[0] == "" || sign == [2]string{s.Check, s.Wheel} {
			continue
		}
		said := append(slices.Clone(r.said), sayAt(c, s.Wheel, tree.Unsure))
		if a := r.b.Assess(r.b.Walk(pulsation, said)); a.Drive != tree.Stop {
			return fmt.Sprintf("%s %s not sure makes it %v in spite of %v", s.Check, s.Wheel, a.Drive, sign)
		}
	}
	return ""
}

// A route is the answer that each check of a tree gives, so that a talk goes
// one certain way through it.
type route map[string]string

// routes gives ways from the beginning of a tree that leave the step goal by
// answer: the soundest first (or the longest), and at most so many that
// differ only in what no later step asks again.
func routes(b *tree.Book, c *tree.Complaint, goal, answer string, most int, long bool, yield func(route) bool) {
	steps, again, length := map[string]*tree.Step{}, map[string]int{}, map[string]int{}
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
	for _, s := range c.Steps {
		steps[s.ID] = s
		again[s.Check]++
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
	seen := map[string]int{}
	so := route{}
	var follow func(id string) bool
	follow = func(id string) bool {
		s := steps[id]
		state := id
		for _, check := range sortedKeys(so) {
			if again[check] > 1 {
				state += " " + check + "=" + so[check]
			}
		}
		if seen[state]++; seen[state] > most || !leads(id) {
			return true
		}
		had, fixed := so[s.Check]
		ways := soundFirst(b.Checks[s.Check], s)
		if long {
			slices.SortStableFunc(ways, func(a, o string) int { return below(s.Then[o].Step) - below(s.Then[a].Step) })
		}
		for _, a := range ways {
			if fixed && a != had {
				continue
			}
			so[s.Check] = a
			if id == goal {
				if a == answer && !yield(so) {
					return false
				}
			} else if !follow(s.Then[a].Step) {
				return false
			}
		}
		if !fixed {
			delete(so, s.Check)
		}
		return true
	}
	follow(c.Begin)
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

// facing gives the facts that a route needs, so that its checks apply and can
// be done.
func facing(b *tree.Book, r route) map[string]map[string][]string {
	facts := map[string]map[string][]string{} // by check and wheel, "" for all wheels
	set := func(check, wheel string, ids ...string) {
		if facts[check] == nil {
			facts[check] = map[string][]string{}
		}
		facts[check][wheel] = ids
	}
	set("raised", "", "frame-stands", "arm-stands")
	set("tools", "", "micrometer", "dial", "drum-gauge", "shop-slip")
	set("spring-place", "", "lower-arm")
	set("assist-kind", "", "vacuum")
	set("parking-acts", "", "rear-brakes")
	for _, wheel := range tree.Wheels {
		set("brake-kind", wheel, map[bool]string{true: "disc", false: "drum"}[strings.HasPrefix(wheel, "front")])
	}
	for check, answer := range r {
		c := b.Checks[check]
		if answer == tree.Unsure {
			set(check, "", answer)
			continue
		}
		if c.Measure != "" {
			set(check, "", outcomes(b, c, answer, func(l tree.CalcLimit) string { return soundOutcome(c, l) })...)
		} else {
			set(check, "", answer)
		}
		for _, cond := range slices.Concat(c.OnlyIf, c.Needs) {
			if _, routed := r[cond.Question]; routed || cond.Question == "raised" || cond.Question == "tools" {
				continue
			}
			q := b.Checks[cond.Question]
			wheels := []string{""}
			if q.At != "" && c.At != "" && c.At != "named" {
				if wheels = asked[c.At]; c.At == "all" {
					// One axle is enough, the one that such a vehicle has it on.
					wheels = asked[map[bool]string{true: "front", false: "rear"}[slices.Contains(cond.Answers, "disc")]]
				}
			}
			for _, wheel := range wheels {
				set(cond.Question, wheel, cond.Answers[0])
			}
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

// noTalk lists branches that no talk can take.
var noTalk = []string{}

// TestEveryBranch finds a talk for every answer of every step, to every end,
// through every answer of every first look, and for every cause.
func TestEveryBranch(t *testing.T) {
	b := loadBook(t)
	taken := map[[2]string]bool{}
	given := map[[2]string]bool{}
	ends := map[*tree.End]bool{}
	causes := map[string]bool{}
	talks := 0
	note := func(s *session) {
		talks++
		n := newNaive(b, pulsation, s.said)
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
	for _, id := range sortedKeys(b.Checks) {
		for _, a := range b.Checks[id].Answers {
			if c := b.Checks[id]; c.Complaint == "first" || c.Complaint == "" {
				note(talkThrough(t, b, answers(b, facing(b, route{id: a.ID}))))
			}
		}
	}
	var dead []string
	for _, id := range pulsation {
		c := b.Complaint(id)
		for _, s := range c.Steps {
			check := b.Checks[s.Check]
			for _, a := range soundFirst(check, s) {
				goal := [2]string{id + "." + s.ID, a}
				// Outcomes come together, and a step follows the worst: one
				// that leads where the sound ones lead need only be given.
				done := func() bool {
					return taken[goal] || check.Measure != "" && s.Then[a] == s.Then[normalWorst(b, check)] && given[[2]string{check.ID, a}]
				}
				ways := 0
				for _, most := range []int{1, 8} {
					if done() || most > 1 && ways == 0 {
						break
					}
					routes(b, c, s.ID, a, most, false, func(r route) bool {
						ways++
						note(talkThrough(t, b, answers(b, facing(b, r))))
						return !done() && ways%50 != 0
					})
				}
				if !done() {
					dead = append(dead, s.ID+" "+a)
				}
			}
		}
	}
	t.Logf("%d talks: %d branches of steps, %d ends, %d causes", talks, len(taken), len(ends), len(causes))
	assert.ElementsMatch(t, noTalk, dead, "branches that no talk takes")
	for _, id := range pulsation {
		for _, s := range b.Complaint(id).Steps {
			for a, to := range s.Then {
				if to.End != nil && !slices.Contains(dead, s.ID+" "+a) {
					assert.True(t, ends[to.End], "no talk comes to the end of %s %s", s.ID, a)
				}
			}
		}
	}
	for _, id := range sortedKeys(b.Checks) {
		for _, a := range b.Checks[id].Answers {
			assert.True(t, given[[2]string{id, a.ID}], "no talk gives the answer %s %s", id, a.ID)
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

// every calls fn with every way of choosing one of each.
func every(ids []string, of map[string][]string, fn func(map[string][]string)) {
	chosen := map[string][]string{}
	var choose func(i int)
	choose = func(i int) {
		if i == len(ids) {
			fn(chosen)
			return
		}
		for _, a := range of[ids[i]] {
			chosen[ids[i]] = strings.Split(a, ",")
			choose(i + 1)
		}
	}
	choose(0)
}

// TestLength asks real talks how long they can get. What decides it in the
// first looks are the questions that others hang on, so each way of answering
// those is tried; everything else is in order there.
func TestLength(t *testing.T) {
	b := loadBook(t)
	hangOn := map[string][]string{}
	for _, l := range b.Looks {
		for _, cond := range slices.Concat(b.Checks[l.Check].OnlyIf, b.Checks[l.Check].Needs) {
			var ids []string
			for _, a := range b.Checks[cond.Question].Answers {
				ids = append(ids, a.ID)
			}
			hangOn[cond.Question] = append(ids, tree.Unsure)
		}
	}
	hangOn["raised"] = []string{"frame-stands,arm-stands", tree.Unsure}
	t.Logf("first looks hang on %v", sortedKeys(hangOn))
	mostSure, most := 0, 0
	var at, atSure string
	every(sortedKeys(hangOn), hangOn, func(facts map[string][]string) {
		var s session
		answer := sound(b, facts)
		s.b = b
		for {
			p := b.Walk(nil, s.said).Next
			if p == nil {
				break
			}
			if !slices.Contains(s.checks, p.Check.ID) {
				s.checks = append(s.checks, p.Check.ID)
			}
			s.said = append(s.said, answer(p)...)
		}
		sure := true
		for _, ids := range facts {
			sure = sure && ids[0] != tree.Unsure
		}
		n := len(s.checks)
		if n > most {
			most, at = n, fmt.Sprint(facts)
		}
		if sure && n > mostSure {
			mostSure, atSure = n, fmt.Sprint(facts)
		}
	})
	t.Logf("first looks: at most %d checks (%s); with nothing not sure %d (%s)", most, at, mostSure, atSure)
	assert.LessOrEqual(t, mostSure, 30, "first looks, nothing not sure")
	// A twin of a check waits for a sure answer, so that not both are asked.
	assert.LessOrEqual(t, most, 30, "first looks, the kind of vehicle not sure")

	// The tree: the longest way that the branches leave open, then talks that
	// try to go it.
	for _, id := range pulsation {
		c := b.Complaint(id)
		longest, figures := 0, 0
		var by string
		for _, s := range c.Steps {
			for _, a := range soundFirst(b.Checks[s.Check], s) {
				if s.Then[a].End == nil {
					continue
				}
				n := 0
				routes(b, c, s.ID, a, 1, true, func(r route) bool {
					for _, unsure := range []bool{false, true} {
						facts := facing(b, r)
						if unsure { // of what kind the brakes are: both kinds are asked about
							facts["brake-kind"] = map[string][]string{"": {tree.Unsure}}
						}
						talk := talkThrough(t, b, answers(b, facts))
						l := talk.shape()
						figures = max(figures, l.figures)
						if l.inTree > longest {
							longest, by = l.inTree, strings.Join(talk.checks[l.looks:], " ")
						}
					}
					n++
					return n < 4
				})
			}
		}
		t.Logf("%s: at most %d checks in a real talk, at most %d figures: %s", id, longest, figures, by)
		assert.LessOrEqual(t, longest, 30, id)
		assert.Equal(t, b.Longest(id), longest, "%s: the longest way of the steps, and the longest talk", id)
	}

	// Everything normal: what has no normal answer is tried each way that
	// makes a difference in the tree; in the first looks, the longest.
	free := map[string][]string{
		"assist-kind":  {"vacuum"},
		"raised":       {"frame-stands,arm-stands"},
		"spring-place": {"lower-arm"},
		"circuits":     {"two"},
		"tools":        {"micrometer,dial,drum-gauge,shop-slip", "none"},
		"last-work":    {"wheels", "nothing"},
		"held-hot":     {"held", "new-pads", "neither"},
		"parking-acts": {"rear-brakes", "shaft"},
	}
	for _, a := range b.Checks["shake-comes-on"].Answers {
		free["shake-comes-on"] = append(free["shake-comes-on"], a.ID)
	}
	longest := shape{}
	var by string
	for _, front := range []string{"disc", "drum"} {
		for _, rear := range []string{"disc", "drum"} {
			every(sortedKeys(free), free, func(facts map[string][]string) {
				whole := sound(b, facts)
				s := talkThrough(t, b, func(p *tree.Prompt) []tree.Said {
					if p.Figure != nil || p.Check.ID != "brake-kind" {
						return whole(p)
					}
					var said []tree.Said
					for _, wheel := range p.Wheels {
						kind := map[bool]string{true: front, false: rear}[strings.HasPrefix(wheel, "front")]
						said = append(said, sayAt(p.Check, wheel, kind))
					}
					return said
				})
				if l := s.shape(); l.looks+l.inTree > longest.looks+longest.inTree {
					longest, by = l, fmt.Sprint(front, " ", rear, " ", facts)
				}
			})
		}
	}
	t.Logf("everything normal: at most %d prompts, %d of them first looks, and %d figures; %s", longest.looks+longest.inTree, longest.looks, longest.figures, by)
	// 45, and one more for a rattle in a vehicle that has no antilock, which
	// is asked about all the same.
	assert.LessOrEqual(t, longest.looks+longest.inTree, 45, "everything normal")
}

// TestNothingSure answers "not sure" to everything, in each of its ways.
func TestNothingSure(t *testing.T) {
	b := loadBook(t)
	for _, word := range []string{tree.Unsure, tree.Later} {
		s := talkThrough(t, b, func(p *tree.Prompt) []tree.Said { return say(p, word) })
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
		t.Logf("%s to everything: %d checks, stop, %d dangerous causes not checked, %d findings, all possible", word, len(s.checks), dangers, len(a.Findings))
		for _, f := range a.Findings {
			assert.Equal(t, tree.Possible, f.Standing, f.Cause.ID)
		}
		for _, c := range b.Causes {
			if c.Drive == tree.Stop {
				assert.True(t, slices.ContainsFunc(a.NotChecked, func(u tree.Unchecked) bool { return u.ID == c.ID }), "%s is not listed", c.ID)
			}
		}
	}
}

// TestSoundVehicle gives every normal answer. With discs a pulse that nothing
// explains leaves what no check can clear; with drums all round, each
// dangerous cause is cleared.
func TestSoundVehicle(t *testing.T) {
	b := loadBook(t)
	for _, row := range []struct {
		front, rear string
		noFault     bool
	}{{"disc", "drum", false}, {"disc", "disc", false}, {"drum", "drum", true}} {
		facts := facing(b, route{"shake-comes-on": "any", "last-work": "nothing", "held-hot": "neither", "where-felt": "pedal"})
		for i, wheel := range tree.Wheels {
			facts["brake-kind"][wheel] = []string{[]string{row.front, row.rear}[i/2]}
		}
		s := talkThrough(t, b, answers(b, facts))
		a := b.Assess(s.walk)
		var stands, unchecked []string
		for _, f := range a.Findings {
			if f.Standing != tree.Unlikely {
				stands = append(stands, f.Cause.ID+" "+f.Standing)
			}
		}
		for _, u := range a.NotChecked {
			unchecked = append(unchecked, u.ID+" "+u.Wheel)
		}
		t.Logf("%s %s: %d prompts, %v, %v, no fault %v, not checked %v", row.front, row.rear, len(s.checks), a.Drive, stands, a.NoFault, unchecked)
		assert.Equal(t, tree.Care, a.Drive, "the complaint ends without a cause")
		assert.Equal(t, row.noFault, a.NoFault)
		assert.Empty(t, unchecked)
	}
}
