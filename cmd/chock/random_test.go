package main

import (
	"flag"
	"fmt"
	"math/rand/v2"
	"runtime"
	"runtime/debug"
	"slices"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"

	"chock/brakes/unit"
	"chock/tree"
)

var talksFlag = flag.Int("talks", 2000, "how many random talks are held against the naive judge")

// TestTalksAgainstNaive talks at random about one to four complaints:
// normal and abnormal answers, several ticked at once, not sure in its three
// kinds, later, answers changed. Each talk ends, and comes to what the second
// implementation makes of it.
func TestTalksAgainstNaive(t *testing.T) {
	talks := *talksFlag
	if testing.Short() {
		talks = 1000
	}
	defer debug.SetGCPercent(debug.SetGCPercent(400)) // many short-lived walks
	b := loadBook(t)
	var mu sync.Mutex
	mildest := map[*tree.End]tree.Drive{}
	for _, id := range complaintsOf(b) {
		for _, m := range b.Mildest(id) {
			mildest[m.End] = m.Drive
		}
	}
	about := map[int]int{} // talks by the number of trees walked
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
						least, known := mildest[e.End]
						// What another tree clears may make an end milder.
						if !known || len(r.walk.Complaints) == 1 && r.assessed.Drive < least {
							fault = fmt.Sprintf("%v at the end of %s %s, which asks for %v at least", r.assessed.Drive, e.Step.ID, e.Answer, least)
						}
					}
				}
				mu.Lock()
				longest = max(longest, r.prompts)
				if fault != "" && failures < 5 {
					failures++
					t.Errorf("talk %d about %v: %s\n%s", i, r.complaints, fault, script(r.said))
				}
				if r.walk != nil && r.walk.Next == nil {
					a := r.assessed
					about[len(r.walk.Complaints)]++
					for _, e := range r.walk.Reached {
						ends[e.Complaint+" "+e.Step.ID+" "+e.Answer]++
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
	t.Logf("%d talks, by trees walked %v, longest %d prompts; advice go %d, care %d, stop %d", talks, about, longest, ends["advice go"], ends["advice care"], ends["advice stop"])
	if testing.Verbose() {
		for _, k := range sortedKeys(ends) {
			t.Logf("%6d %s", ends[k], k)
		}
	}
}

// A random is one talk with somebody who answers by dice.
type random struct {
	*rand.Rand
	b                               *tree.Book
	complaints                      []string
	said                            []tree.Said
	walk                            *tree.Walk
	assessed                        *tree.Assessment
	comparing                       []*tree.Check // measurements of the whole vehicle out of other checks
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
	for _, id := range sortedKeys(b.Checks) {
		if c := b.Checks[id]; c.At == "" && c.Computed() {
			r.comparing = append(r.comparing, c)
		}
	}
	all := complaintsOf(b)
	for _, i := range r.Perm(len(all))[:min(1+r.IntN(4), len(all))] {
		r.complaints = append(r.complaints, all[i])
	}
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
	middle := r.IntN(250) // where the talk is held against the naive one before its end
	for {
		r.walk = r.b.Walk(r.complaints, r.said)
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
	// More questions, each put to a part of the talks to spare time.
	switch r.IntN(4) {
	case 0:
		return r.shuffled()
	case 1:
		return r.bent()
	case 2:
		return r.apart()
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
	n := newNaive(r.b, r.complaints, r.said)
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
	n := newNaive(r.b, r.complaints, r.said)
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
	for _, c := range r.comparing {
		for _, in := range c.Inputs {
			id, input, _ := strings.Cut(in.From, ".")
			if q := r.b.Checks[id]; q == nil || q.At == "" || input != "" && q.Input(input).Most > 1 {
				continue
			}
			var got []string
			for _, v := range r.walk.From(in, "") {
				if v.Missing() {
					v.Text = "-"
				}
				got = append(got, v.Text)
			}
			if want := n.compared(in); !slices.Equal(got, want) {
				return fmt.Sprintf("%s compares %v, naive %v", c.ID, got, want)
			}
		}
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
		var from []string
		for _, o := range f.ComesFrom {
			from = append(from, o.Cause)
		}
		if !slices.Equal(from, j.comesFrom(f.Cause)) {
			return fmt.Sprintf("%s comes from %v, naive %v", id, from, j.comesFrom(f.Cause))
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
	if !slices.Equal(ends, n.complaints) || !slices.Equal(r.walk.Complaints, n.complaints) {
		return fmt.Sprintf("ends of %v, walks %v, naive %v", ends, r.walk.Complaints, n.complaints)
	}
	var left []string
	for _, e := range a.NotExplained {
		left = append(left, fmt.Sprint(e))
	}
	if slices.Sort(left); !slices.Equal(left, j.notExplained) {
		return fmt.Sprintf("not explained %v, naive %v", left, j.notExplained)
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
			if n.applies(c, wheel) && !n.sourceless(c) && n.answered(c, wheel) == nil && !listed("question", c.ID, wheel) && !listed("wheel", c.ID, wheel) {
				return "not listed as not checked: " + c.ID + " " + wheel
			}
		}
	}
	return ""
}

func ended(w *tree.Walk) []*tree.End {
	var out []*tree.End
	for _, e := range w.Reached {
		out = append(out, e.End)
	}
	return out
}

// apart: each tree alone, on the same answers, comes to the end that it came
// to among the others, and all of them alone come to what they come to
// together.
func (r *random) apart() string {
	rank := map[string]int{"": 9, tree.Found: 0, tree.Mended: 1, tree.Unlikely: 2, tree.Likely: 3, tree.Possible: 4}
	standing := map[string]string{}
	drive := tree.Go
	for i, id := range r.walk.Complaints {
		w := r.b.Walk([]string{id}, r.said)
		a := r.b.Assess(w)
		if w.Next != nil {
			return id + " alone has something left to ask"
		}
		for _, e := range w.Reached {
			if e.Complaint == id && e.End != r.walk.Reached[i].End {
				return fmt.Sprintf("%s alone ends at %s %s", id, e.Step.ID, e.Answer)
			}
		}
		for _, f := range a.Findings {
			if rank[f.Standing] < rank[standing[f.Cause.ID]] {
				standing[f.Cause.ID] = f.Standing
			}
		}
		drive = max(drive, a.Drive)
	}
	for _, f := range r.assessed.Findings {
		if standing[f.Cause.ID] != f.Standing {
			return fmt.Sprintf("together %s is %s, apart %q", f.Cause.ID, f.Standing, standing[f.Cause.ID])
		}
		delete(standing, f.Cause.ID)
	}
	if len(standing) > 0 || drive != r.assessed.Drive {
		return fmt.Sprintf("apart %v and %v more, together %v", drive, sortedKeys(standing), r.assessed.Drive)
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
	w := r.b.Walk(r.complaints, said)
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
			w := r.b.Walk(r.complaints, said)
			a := r.b.Assess(w)
			if w.Next == nil && a.Drive > j.drive && slices.Equal(ended(w), ended(r.walk)) {
				return fmt.Sprintf("%s %s found normal makes it %v", s.Check, s.Wheel, a.Drive)
			}
			continue
		}
		if sign[0] == "" || sign == [2]string{s.Check, s.Wheel} {
			continue
		}
		said := append(slices.Clone(r.said), sayAt(c, s.Wheel, tree.Unsure))
		if a := r.b.Assess(r.b.Walk(r.complaints, said)); a.Drive != tree.Stop {
			return fmt.Sprintf("%s %s not sure makes it %v in spite of %v", s.Check, s.Wheel, a.Drive, sign)
		}
	}
	return ""
}
