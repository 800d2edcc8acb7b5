package main

import (
	"fmt"
	"slices"
	"strings"

	"chock/tree"
)

// A naive works out a second time what a list of answers comes to, from the
// words of the design and by plain loops, so that the walk and the assessment
// can be held against something that shares no code with them.
type naive struct {
	b          *tree.Book
	complaints []string                // given and opened, in the book's order
	said       map[[2]string]tree.Said // the last word about a check at a wheel
	laters     map[[2]string]int       // times put off since it was last answered
	counts     []counted
	until      string // a look at which the first looks are told to stop, if any
}

// A counted is one answer that counts, whether or not the walk would still
// ask it.
type counted struct {
	c     *tree.Check
	wheel string
	a     *tree.Answer
}

func newNaive(b *tree.Book, complaints []string, said []tree.Said) *naive {
	n := &naive{b: b, complaints: complaints, said: map[[2]string]tree.Said{}, laters: map[[2]string]int{}}
	for _, s := range said {
		k := [2]string{s.Check, s.Wheel}
		n.said[k] = s
		switch {
		case notSure(s) && s.Answers[0] == tree.Later:
			n.laters[k]++
		case !notSure(s):
			n.laters[k] = 0
		}
	}
	for k := range n.said {
		c := b.Checks[k[0]]
		if c == nil {
			continue // a figure
		}
		for _, id := range n.answered(c, k[1]) {
			n.counts = append(n.counts, counted{c, k[1], c.Answer(id)})
		}
	}
	// Answers open complaints beside those that were given.
	n.complaints = nil
	for _, c := range b.Complaints {
		opened := slices.Contains(complaints, c.ID)
		for _, o := range n.counts {
			opened = opened || slices.Contains(o.a.Opens, c.ID)
		}
		if opened {
			n.complaints = append(n.complaints, c.ID)
		}
	}
	return n
}

func notSure(s tree.Said) bool {
	return len(s.Answers) == 1 && (s.Answers[0] == tree.Unsure || s.Answers[0] == tree.Later)
}

// wheels gives where a check is asked.
func (n *naive) wheels(c *tree.Check) []string {
	if c.At != "named" {
		return asked[c.At]
	}
	for _, picker := range n.b.Checks {
		if picker.Picks {
			return n.answered(picker, "")
		}
	}
	return nil
}

var asked = map[string][]string{
	"":      {""},
	"front": {"front-left", "front-right"},
	"rear":  {"rear-left", "rear-right"},
	"all":   {"front-left", "front-right", "rear-left", "rear-right"},
}

// answered gives the real answers to a check at a wheel, none when it is not
// sure, not asked or set aside. What a check was told stands even where
// another would be asked in its place as long as the vehicle is not known.
func (n *naive) answered(c *tree.Check, wheel string) []string {
	s, ok := n.said[[2]string{c.ID, wheel}]
	if !ok || notSure(s) || !n.built(c.OnlyIf, wheel, true) {
		return nil
	}
	return s.Answers
}

// applies: "not sure" counts as applies; between two checks at wheels it is
// read wheel by wheel, otherwise it holds if any wheel gave it.
func (n *naive) applies(c *tree.Check, wheel string) bool { return n.built(c.OnlyIf, wheel, false) }

func (n *naive) built(conds []tree.Cond, wheel string, told bool) bool {
	for _, cond := range conds {
		ok := false
		q := n.b.Checks[cond.Question]
		for _, at := range n.speaking(q, wheel) {
			s, said := n.said[[2]string{q.ID, at}]
			if !n.applies(q, at) {
				continue // no answer of it holds
			}
			if (told || !cond.Sure) && (!said || notSure(s)) || said && intersects(s.Answers, cond.Answers) {
				ok = true
			}
		}
		if !ok {
			return false
		}
	}
	return true
}

// toHand: "not sure" counts as not to hand.
func (n *naive) toHand(c *tree.Check) bool {
	for _, cond := range c.Needs {
		ok := false
		q := n.b.Checks[cond.Question]
		for _, at := range n.wheels(q) {
			if intersects(n.answered(q, at), cond.Answers) {
				ok = true
			}
		}
		if !ok {
			return false
		}
	}
	return true
}

// speaking gives the wheels of q that say something about a wheel.
func (n *naive) speaking(q *tree.Check, wheel string) []string {
	if wheel != "" && slices.Contains(n.wheels(q), wheel) {
		return []string{wheel}
	}
	return n.wheels(q)
}

func intersects(a, b []string) bool {
	for _, x := range a {
		if slices.Contains(b, x) {
			return true
		}
	}
	return false
}

// putRight: every cause that the answer shows was mended, at its wheel or for
// the whole vehicle.
func (n *naive) putRight(wheel string, causes []string) bool {
	for _, cause := range causes {
		mended := false
		for _, o := range n.counts {
			if slices.Contains(o.a.Mended, cause) && (o.wheel == wheel || o.wheel == "" || wheel == "") {
				mended = true
			}
		}
		if !mended {
			return false
		}
	}
	return len(causes) > 0
}

// look tells whether a look failed, is open, or was answered with stop.
func (n *naive) look(c *tree.Check) (failed, open, stop bool) {
	for _, wheel := range n.wheels(c) {
		ids := n.answered(c, wheel)
		if ids == nil {
			open = open || n.applies(c, wheel)
		}
		for _, id := range ids {
			a := c.Answer(id)
			if (a.Fails || a.Drive == tree.Stop) && !n.putRight(wheel, a.Shows) {
				failed = true
				stop = stop || a.Drive == tree.Stop
			}
		}
	}
	return failed, open, stop
}

// bars tells what the looks bar, and any answer that says stop.
func (n *naive) bars() (yard, road bool) {
	for _, o := range n.counts {
		if o.a.Drive == tree.Stop && !n.putRight(o.wheel, o.a.Shows) {
			yard, road = true, true
		}
	}
	for _, l := range n.b.Looks {
		if l.Check == n.until {
			break
		}
		c := n.b.Checks[l.Check]
		if c.Look == "" {
			continue
		}
		if failed, open, stop := n.look(c); failed || open {
			road = true
			if c.Look == tree.Yard || stop {
				yard = true
			}
		}
	}
	return yard, road
}

// passed is what a walk comes to without any more answers.
type passed struct {
	checks  []*tree.Check            // come past
	taken   [][2]string              // step and the answer that it followed
	ends    []*tree.End              // of each complaint
	ways    map[string][]*tree.Check // by complaint: what its own tree asks on its way, the first looks apart
	waiting bool                     // something could still be asked
}

// worst gives the answer that `then` follows: the first in the written order
// over the wheels, "not sure" just before the normal ones.
func (n *naive) worst(c *tree.Check) string {
	given := map[string]bool{}
	some := false
	for _, wheel := range n.wheels(c) {
		if !n.applies(c, wheel) {
			continue
		}
		some = true
		ids := n.answered(c, wheel)
		if ids == nil {
			given[tree.Unsure] = true
		}
		for _, id := range ids {
			given[id] = true
		}
	}
	if !some {
		return tree.Unsure
	}
	for _, a := range c.Answers {
		if a.Normal && given[tree.Unsure] {
			return tree.Unsure
		}
		if given[a.ID] {
			return a.ID
		}
	}
	return tree.Unsure
}

func (n *naive) walk() passed {
	p := passed{ways: map[string][]*tree.Check{}}
	yard, road := n.bars()
	complaint := ""
	var past func(c *tree.Check) bool // false when something has to be asked first
	past = func(c *tree.Check) bool {
		seen := slices.Contains(p.checks, c)
		if seen && (slices.Contains(p.ways[""], c) || slices.Contains(p.ways[complaint], c)) {
			return true
		}
		for _, q := range n.waitsFor(c) {
			if !past(q) {
				return false
			}
		}
		p.ways[complaint] = append(p.ways[complaint], c)
		if seen {
			return true
		}
		p.checks = append(p.checks, c)
		barred := c.Place == tree.Yard && yard || c.Place == tree.Road && road
		ask := false
		for _, wheel := range n.wheels(c) {
			k := [2]string{c.ID, wheel}
			s, ok := n.said[k]
			if !n.applies(c, wheel) {
				continue
			}
			if !barred && n.toHand(c) {
				ask = ask || !ok && n.sourced(c, wheel)
				p.waiting = p.waiting || ok && s.Answers != nil && s.Answers[0] == tree.Later && n.laters[k] == 1
			}
			for _, in := range c.Inputs {
				_, known := n.said[[2]string{in.Figure, ""}]
				ask = ask || ok && !notSure(s) && in.Figure != "" && !known
			}
		}
		p.waiting = p.waiting || ask
		return !ask
	}
	for _, l := range n.b.Looks {
		if !past(n.b.Checks[l.Check]) {
			return p
		}
	}
	for _, c := range n.b.Complaints {
		if !slices.Contains(n.complaints, c.ID) {
			continue
		}
		steps := map[string]*tree.Step{}
		for _, s := range c.Steps {
			steps[s.ID] = s
		}
		complaint = c.ID
		for s := steps[c.Begin]; s != nil; {
			check := n.b.Checks[s.Check]
			if !past(check) {
				return p
			}
			worst := n.worst(check)
			p.taken = append(p.taken, [2]string{c.ID + "." + s.ID, worst})
			to := s.Then[worst]
			if to.End != nil {
				p.ends = append(p.ends, to.End)
			}
			s = steps[to.Step]
		}
	}
	return p
}

// waitsFor gives what has to be known before a check can be asked.
func (n *naive) waitsFor(c *tree.Check) []*tree.Check {
	var out []*tree.Check
	for _, cond := range slices.Concat(c.OnlyIf, c.Needs) {
		out = append(out, n.b.Checks[cond.Question])
	}
	for _, in := range c.Inputs {
		if in.From != "" {
			id, _, _ := strings.Cut(in.From, ".")
			out = append(out, n.b.Checks[id])
		}
	}
	if c.At == "named" {
		for _, q := range n.b.Checks {
			if q.Picks {
				out = append(out, q)
			}
		}
	}
	return out
}

// sourced: what comes from another check is there. A measurement of the whole
// vehicle compares what is known of each wheel, so one known wheel is enough.
func (n *naive) sourced(c *tree.Check, wheel string) bool {
	for _, in := range c.Inputs {
		if in.From == "" || in.Optional {
			continue
		}
		id, input, _ := strings.Cut(in.From, ".")
		q := n.b.Checks[id]
		some := false
		for _, at := range n.speaking(q, wheel) {
			s, ok := n.said[[2]string{id, at}]
			if wheel == "" && q.At != "" && (input == "" || q.Input(input).Most <= 1) {
				some = some || n.answered(q, at) != nil && (input == "" || len(s.Readings[input]) == 1)
			} else if ok && !notSure(s) {
				some = true
			}
		}
		if !some {
			return false
		}
	}
	return true
}

// compared gives what a measurement of the whole vehicle takes from a check at
// wheels: for each wheel the worst word of a question, or the one reading of a
// measurement; "unsure" and "-" where there is none. Nothing when no wheel is
// known.
func (n *naive) compared(in *tree.Input) []string {
	id, input, _ := strings.Cut(in.From, ".")
	q := n.b.Checks[id]
	known := false
	var out []string
	for _, wheel := range asked["all"] {
		ids := n.answered(q, wheel)
		if !slices.Contains(n.wheels(q), wheel) {
			ids = nil
		}
		word := map[bool]string{true: tree.Unsure, false: "-"}[input == ""]
		if input != "" && ids != nil {
			if r := n.said[[2]string{id, wheel}].Readings[input]; len(r) == 1 {
				word, known = r[0].Text, true
			}
		} else if ids != nil {
			known = true
			for _, a := range slices.Backward(q.Answers) {
				if slices.Contains(ids, a.ID) {
					word = a.ID
				}
			}
		}
		out = append(out, word)
	}
	if !known {
		return nil
	}
	return out
}

// sourceless: what it would be worked out from applies at no wheel.
func (n *naive) sourceless(c *tree.Check) bool {
	for _, in := range c.Inputs {
		if in.From == "" || in.Optional {
			continue
		}
		id, _, _ := strings.Cut(in.From, ".")
		q := n.b.Checks[id]
		if !slices.ContainsFunc(n.wheels(q), func(at string) bool { return n.applies(q, at) }) {
			return true
		}
	}
	return false
}

// judged is what the answers come to.
type judged struct {
	standing     map[string]string // of each cause that stands any way
	wheels       map[string][]string
	drive        tree.Drive
	noFault      bool
	ended        bool
	unclear      []string // dangerous causes that apply and that nothing cleared, showed or mended
	notExplained []string
	past         passed
}

func (n *naive) judge() judged {
	j := judged{standing: map[string]string{}, wheels: map[string][]string{}, past: n.walk()}
	j.ended = !j.past.waiting
	j.noFault = j.ended
	for _, cause := range n.b.Causes {
		if !n.built(cause.OnlyIf, "", false) && !(cause.OrIf != nil && n.built(cause.OrIf, "", false)) {
			continue
		}
		shown, mended := false, true
		for _, o := range n.counts {
			// At a wheel that is built otherwise there is nothing of the kind.
			if slices.Contains(o.a.Shows, cause.ID) && (n.built(cause.OnlyIf, o.wheel, false) || cause.OrIf != nil && n.built(cause.OrIf, o.wheel, false)) {
				shown = true
				mended = mended && n.putRight(o.wheel, []string{cause.ID})
				if o.wheel != "" {
					j.wheels[cause.ID] = append(j.wheels[cause.ID], o.wheel)
				}
			}
		}
		likely, possible := false, false
		for _, end := range j.past.ends {
			likely = likely || slices.Contains(end.Likely, cause.ID)
			possible = possible || slices.Contains(end.Possible, cause.ID)
		}
		cleared := n.cleared(cause.ID)
		switch {
		case shown && !mended:
			j.standing[cause.ID] = tree.Found
		case shown:
			j.standing[cause.ID] = tree.Mended
		case cleared:
			j.standing[cause.ID] = tree.Unlikely
		case likely:
			j.standing[cause.ID] = tree.Likely
		case possible:
			j.standing[cause.ID] = tree.Possible
		}
		if cause.Drive == tree.Stop && !shown && !cleared {
			j.unclear = append(j.unclear, cause.ID)
		}
		if s := j.standing[cause.ID]; s != "" && s != tree.Unlikely || cause.Drive == tree.Stop && !cleared {
			j.noFault = false
		}
	}
	traced := n.traced(j)
	j.drive = n.drive(j, traced)
	// An abnormal answer is explained by the cause that it shows, or by the
	// cause that a tree which asks it came to.
	for _, o := range n.counts {
		if o.a.Drive == tree.Go && !o.a.Fails || len(o.a.Shows) > 0 {
			continue
		}
		explained := false
		for id, way := range j.past.ways {
			explained = explained || traced[id] && !n.b.Complaint(id).Round && slices.Contains(way, o.c)
		}
		if !explained {
			j.notExplained = append(j.notExplained, fmt.Sprint(tree.Ref{Check: o.c.ID, Wheel: o.wheel, Answer: o.a.ID}))
		}
	}
	slices.Sort(j.notExplained)
	return j
}

// traced gives the complaints whose tree came to a cause: on its way an answer
// shows one, or its end calls one likely that nothing cleared.
func (n *naive) traced(j judged) map[string]bool {
	out := map[string]bool{}
	for i, end := range j.past.ends {
		id := n.complaints[i]
		for _, cause := range end.Likely {
			s := j.standing[cause]
			out[id] = out[id] || s == tree.Likely || s == tree.Found || s == tree.Mended
		}
		for _, o := range n.counts {
			out[id] = out[id] || len(o.a.Shows) > 0 && slices.Contains(j.past.ways[id], o.c)
		}
	}
	return out
}

// comesFrom gives, of the causes that can bring a standing one about, those
// that stand as well, at the same wheel if each is known by wheel.
func (j *judged) comesFrom(c *tree.Cause) []string {
	firm := []string{tree.Found, tree.Mended, tree.Likely}
	var out []string
	for _, o := range c.ComesFrom {
		mine, its := j.wheels[c.ID], j.wheels[o.Cause]
		if slices.Contains(firm, j.standing[c.ID]) && slices.Contains(firm, j.standing[o.Cause]) &&
			(mine == nil || its == nil || intersects(mine, its)) {
			out = append(out, o.Cause)
		}
	}
	return out
}

// cleared: at every wheel at which a check that can clear it applies, or by
// one check of the whole vehicle.
func (n *naive) cleared(cause string) bool {
	could, did := map[string]bool{}, map[string]bool{}
	for _, o := range n.counts {
		if slices.Contains(o.a.Clears, cause) {
			did[o.wheel] = true
		}
	}
	if len(did) == 0 || did[""] {
		return did[""]
	}
	for _, c := range n.b.Checks {
		for _, a := range c.Answers {
			if !slices.Contains(a.Clears, cause) {
				continue
			}
			for _, wheel := range n.wheels(c) {
				if wheel != "" && n.applies(c, wheel) {
					could[wheel] = true
				}
			}
		}
	}
	for wheel := range could {
		if !did[wheel] {
			return false
		}
	}
	return true
}

// drive is the strictest of what the design lists.
func (n *naive) drive(j judged, traced map[string]bool) tree.Drive {
	out := tree.Go
	stricter := func(d tree.Drive) { out = max(out, d) }
	for _, o := range n.counts {
		if n.putRight(o.wheel, o.a.Shows) {
			stricter(min(o.a.Drive, tree.Care))
		} else {
			stricter(o.a.Drive)
		}
	}
	for k, s := range n.said {
		if c := n.b.Checks[k[0]]; c != nil && notSure(s) && n.applies(c, k[1]) {
			stricter(c.UnsureDrive)
		}
	}
	for id, standing := range j.standing {
		switch d := n.b.Cause(id).Drive; standing {
		case tree.Found, tree.Likely, tree.Possible:
			stricter(d)
		case tree.Mended:
			stricter(min(d, tree.Care))
		}
	}
	for _, l := range n.b.Looks {
		c := n.b.Checks[l.Check]
		if failed, open, _ := n.look(c); c.Look != "" && (failed || open) {
			stricter(tree.Care)
			if c.Look == tree.Yard {
				stricter(tree.Stop)
			}
		}
	}
	for i := range j.past.ends {
		if id := n.complaints[i]; !traced[id] && !n.b.Complaint(id).Round {
			stricter(tree.Care)
		}
	}
	// What is not finished, and a danger that nobody looked at.
	if !j.ended || len(j.unclear) > 0 {
		stricter(tree.Care)
	}
	return out
}
