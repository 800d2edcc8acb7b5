package tree

import (
	"cmp"
	"slices"
	"strings"

	"chock/brakes/unit"
)

// A Said is one thing that was said about the vehicle. A list of them, in the
// order in which they were said, is the whole state of a talk: a later one
// about the same check and wheel stands in place of the earlier one, which
// stays in the list.
type Said struct {
	Check    string                // id of a question, measurement or figure
	Wheel    string                // empty when not about one wheel
	Answers  []string              // answer ids, outcomes, or just Unsure or Later; never empty for a check
	Kind     string                // how it is not sure: did-not-look, cannot-tell, cannot-reach
	Readings map[string][]unit.Any // of a measurement, by input
	Value    unit.Any              // of a figure
	Origin   string                // where a figure is from
	Chances  map[string]float64    // of a measurement: how likely each outcome is, given how well the reading is known
}

// Unsure reports whether s says "not sure" or "later".
func (s *Said) Unsure() bool {
	return len(s.Answers) == 1 && (s.Answers[0] == Unsure || s.Answers[0] == Later)
}

type key struct{ check, wheel string }

// A fact is what stands of all that was said about one check at one wheel.
type fact struct {
	*Said
	laters int // how often it was put off since it was last answered
}

// How a check stands when the walk has come past it.
type Standing int

const (
	Answered    Standing = iota
	NotBuilt             // does not apply: the vehicle is built otherwise
	CannotReach          // what it needs is not to hand
	Barred               // waits for the first looks
	Pending              // the next prompt
)

// A Visit is a check that the walk came past.
type Visit struct {
	Check     *Check
	Wheels    []string // at which it applies; one empty string when not about wheels
	Complaint string   // whose tree asks it; empty in the first looks
	Trees     []string // complaints whose trees come past it; none in the first looks
	Step      *Step    // nil for a first look or a condition
	Standing  Standing
	Worst     string // the answer that `then` follows
}

// A Reached is an end that the walk came to.
type Reached struct {
	Complaint string
	Step      *Step
	Answer    string
	End       *End
}

// A Prompt is what the talk asks next.
type Prompt struct {
	Check    *Check
	Figure   *Figure  // asked in place of Check, which is then the measurement that wants it
	Wheels   []string // still to be asked; one empty string when not about wheels
	Because  string
	Where    string // complaint, or empty in the first looks
	Step     *Step
	Again    bool // was put off once, and is offered again
	Computed bool // is worked out, not asked
}

// A Walk is where a talk stands: a pure function of book, complaints and
// what was said.
type Walk struct {
	Next       *Prompt // nil when every tree has ended and nothing waits
	Visits     []Visit // each check once, in order
	Reached    []Reached
	Complaints []string // given and opened, in the book's order
	YardBarred bool
	RoadBarred bool
	Failed     []string // looks that failed
	Open       []string // looks that are open
	Halted     bool     // the rest was not worth its minutes, see [Book.WalkRanked]
	HandOver   bool     // and handing over is better than naming what it may be
	book       *Book
	named      []string // complaints as given, without those that answers opened
	facts      map[key]fact
	order      []key // of facts, sorted
	repairs    []key // those of them that say that something was put right
	visited    map[string]int
}

// Walk finds where a talk stands.
func (b *Book) Walk(complaints []string, said []Said) *Walk {
	w := &Walk{book: b, named: complaints, facts: make(map[key]fact, len(said)), visited: make(map[string]int, 64)}
	for i := range said {
		s := &said[i]
		k := key{s.Check, s.Wheel}
		f, old := w.facts[k]
		if !old {
			w.order = append(w.order, k)
		}
		f.Said = s
		if !s.Unsure() {
			f.laters = 0
		} else if s.Answers[0] == Later {
			f.laters++
		}
		w.facts[k] = f
	}
	// No list that comes out of this may depend on who said what first.
	slices.SortFunc(w.order, func(a, b key) int {
		return cmp.Or(cmp.Compare(a.check, b.check), cmp.Compare(slices.Index(Wheels, a.wheel), slices.Index(Wheels, b.wheel)))
	})
	for _, k := range w.order {
		if c := w.book.Checks[k.check]; c != nil && slices.ContainsFunc(w.facts[k].Answers, func(id string) bool {
			a := c.Answer(id)
			return a != nil && len(a.Mended) > 0
		}) {
			w.repairs = append(w.repairs, k)
		}
	}
	// Nobody is sent onto the road for another check while an answer that
	// keeps the vehicle standing was not put right, whichever check it is of.
	w.given(func(_ *Check, k key, a *Answer) {
		if a.Drive == Stop && !w.allMended(a, k.wheel) {
			w.YardBarred, w.RoadBarred = true, true
		}
	})
	for i, l := range b.Looks {
		_, ok := w.visit(b.Checks[l.Check], l.Because, "", nil)
		if !ok {
			w.opened(complaints)
			for _, rest := range b.Looks[i:] {
				w.bar(b.Checks[rest.Check]) // what is not reached is open
			}
			return w
		}
		w.bar(b.Checks[l.Check])
	}
	w.opened(complaints)
	for _, id := range w.Complaints {
		if !w.climb(b.complaints[id]) {
			return w
		}
	}
	w.offer()
	return w
}

// opened adds the complaints that answers open.
func (w *Walk) opened(complaints []string) {
	want := map[string]bool{}
	for _, c := range complaints {
		want[c] = true
	}
	w.given(func(_ *Check, _ key, a *Answer) {
		for _, o := range a.Opens {
			want[o] = true
		}
	})
	for _, c := range w.book.Complaints {
		if want[c.ID] {
			w.Complaints = append(w.Complaints, c.ID)
		}
	}
}

// climb walks one tree as far as the answers carry it.
func (w *Walk) climb(c *Complaint) bool {
	s := c.steps[c.Begin]
	for s != nil {
		check := w.book.Checks[s.Check]
		worst, ok := w.visit(check, s.Because, c.ID, s)
		w.pass(check, c.ID)
		if !ok {
			return false
		}
		t := s.Then[worst]
		if t.End != nil {
			w.Reached = append(w.Reached, Reached{c.ID, s, worst, t.End})
			return true
		}
		s = c.steps[t.Step]
	}
	return true
}

// offer brings up once more what was put off with "later".
func (w *Walk) offer() {
	for _, v := range w.Visits {
		if !w.has(v.Check.Needs) || w.barred(v.Check) {
			continue
		}
		var wheels []string
		for _, wheel := range v.Wheels {
			if f, ok := w.facts[key{v.Check.ID, wheel}]; ok && f.laters == 1 && f.Answers[0] == Later {
				wheels = append(wheels, wheel)
			}
		}
		if wheels != nil {
			w.Next = &Prompt{Check: v.Check, Wheels: wheels, Where: v.Complaint, Step: v.Step, Again: true,
				Because: "You put this off before."}
			return
		}
	}
}

// visit comes past a check. It gives the worst answer over its wheels, and
// false when something has to be asked first, which is then in w.Next.
func (w *Walk) visit(c *Check, because, complaint string, step *Step) (worst string, ok bool) {
	if i, seen := w.visited[c.ID]; seen {
		return w.Visits[i].Worst, true
	}
	for _, q := range w.book.waitsFor(c) {
		o := w.book.Checks[q]
		if _, ok := w.visit(o, o.Why, complaint, nil); !ok {
			return "", false
		}
	}
	v := Visit{Check: c, Complaint: complaint, Step: step, Worst: Unsure}
	var missing []string
	for _, wheel := range w.wheels(c) {
		if !w.applies(c.OnlyIf, wheel) {
			continue
		}
		v.Wheels = append(v.Wheels, wheel)
		if _, said := w.facts[key{c.ID, wheel}]; !said {
			missing = append(missing, wheel)
		}
	}
	switch {
	case v.Wheels == nil:
		v.Standing = NotBuilt
		if c.At == "named" && w.wheels(c) == nil && w.applies(c.OnlyIf, "") {
			v.Standing = CannotReach
		}
	case missing == nil:
		v.Standing = Answered
	case !w.has(c.Needs):
		v.Standing = CannotReach
	case w.barred(c):
		v.Standing = Barred
	default:
		if missing = w.sourced(c, missing); len(missing) == 0 {
			v.Standing = CannotReach
			if w.sourceless(c) {
				v.Standing, v.Wheels = NotBuilt, nil
			}
			break
		}
		w.Next = &Prompt{Check: c, Wheels: missing, Because: because, Where: complaint, Step: step, Computed: c.Computed()}
		v.Standing = Pending
		w.add(v)
		return "", false
	}
	if v.Standing != NotBuilt {
		if g := w.figure(c, v.Wheels); g != nil {
			w.Next = &Prompt{Check: c, Figure: g, Wheels: []string{""}, Because: because, Where: complaint, Step: step}
			w.add(v)
			return "", false
		}
	}
	v.Worst = w.worst(c, v.Wheels)
	w.add(v)
	return v.Worst, true
}

// pass notes that a tree came past a check and what that waits for, whichever
// tree asked it.
func (w *Walk) pass(c *Check, complaint string) {
	i, seen := w.visited[c.ID]
	if !seen {
		return
	}
	v := &w.Visits[i]
	if v.Complaint == "" || slices.Contains(v.Trees, complaint) {
		return
	}
	v.Trees = append(v.Trees, complaint)
	for _, q := range w.book.waitsFor(c) {
		w.pass(w.book.Checks[q], complaint)
	}
}

func (w *Walk) add(v Visit) {
	w.visited[v.Check.ID] = len(w.Visits)
	w.Visits = append(w.Visits, v)
}

// barred reports whether c waits for the first looks.
func (w *Walk) barred(c *Check) bool {
	return c.Place == Road && w.RoadBarred || c.Place == Yard && w.YardBarred
}

// wheels gives the wheels at which c is asked; nil when a question that picks
// the wheel has not named one.
func (w *Walk) wheels(c *Check) []string {
	switch c.At {
	case "":
		return []string{""}
	case "named":
		f, ok := w.facts[key{w.book.picker.ID, ""}]
		if !ok || f.Unsure() || !w.applies(w.book.picker.OnlyIf, "") {
			return nil
		}
		var named []string
		for _, wheel := range Wheels {
			if slices.Contains(f.Answers, wheel) {
				named = append(named, wheel)
			}
		}
		return named
	}
	return wheelsAt[c.At]
}

// applies reports whether the vehicle is built so that conds hold at wheel.
// What is not known holds.
func (w *Walk) applies(conds []Cond, wheel string) bool {
	for _, cond := range conds {
		if !w.holds(cond, wheel, true) {
			return false
		}
	}
	return true
}

// can reports whether this vehicle can have a cause.
func (w *Walk) can(c *Cause, wheel string) bool {
	return w.applies(c.OnlyIf, wheel) || c.OrIf != nil && w.applies(c.OrIf, wheel)
}

// has reports whether everything that is needed today is to hand. What is
// not known is not to hand.
func (w *Walk) has(conds []Cond) bool {
	for _, cond := range conds {
		if !w.holds(cond, "", false) {
			return false
		}
	}
	return true
}

// holds reports whether the question of cond was given one of its answers:
// at the same wheel between two checks at wheels, else at any. A question that
// does not apply to this vehicle has no answer that holds.
func (w *Walk) holds(cond Cond, wheel string, unknown bool) bool {
	q := w.book.Checks[cond.Question]
	wheels := w.wheels(q)
	if wheel != "" && slices.Contains(wheels, wheel) {
		wheels = []string{wheel}
	}
	for _, at := range wheels {
		if !w.applies(q.OnlyIf, at) {
			continue
		}
		f, said := w.facts[key{q.ID, at}]
		if !said || f.Unsure() {
			if unknown && !cond.Sure {
				return true
			}
			continue
		}
		for _, a := range f.Answers {
			if slices.Contains(cond.Answers, a) {
				return true
			}
		}
	}
	return false
}

// sourced drops the wheels at which a `from` input has nothing to give.
func (w *Walk) sourced(c *Check, wheels []string) []string {
	return slices.DeleteFunc(slices.Clone(wheels), func(wheel string) bool {
		for _, in := range c.Inputs {
			if in.From != "" && !in.Optional && len(w.From(in, wheel)) == 0 {
				return true
			}
		}
		return false
	})
}

// sourceless reports whether c is worked out from something that this vehicle
// does not have.
func (w *Walk) sourceless(c *Check) bool {
	return slices.ContainsFunc(c.Inputs, func(in *Input) bool {
		id, _, _ := strings.Cut(in.From, ".")
		i, seen := w.visited[id]
		return seen && !in.Optional && w.Visits[i].Standing == NotBuilt
	})
}

// From gives what a `from` input takes at a wheel: the readings of another
// measurement or the answer of a question, as words. A word carries its place
// among the answers, 0 for the first, so that a calculation can tell more from
// less. A measurement of the whole vehicle that takes a check at wheels gets
// one value for each of the four wheels, in their order: the worst word, or
// the one reading, and "unsure" or a missing reading where none is known. It
// is empty when nothing is known at all.
func (w *Walk) From(in *Input, wheel string) []unit.Any {
	id, input, _ := strings.Cut(in.From, ".")
	c := w.book.Checks[id]
	var out []unit.Any
	if wheel != "" || c.At == "" || input != "" && c.Input(input).Most > 1 {
		wheels := w.wheels(c)
		if slices.Contains(wheels, wheel) {
			wheels = []string{wheel}
		}
		for _, at := range wheels {
			f, said := w.facts[key{id, at}]
			switch {
			case !said || f.Unsure():
			case input != "":
				out = append(out, f.Readings[input]...)
			default:
				for _, a := range f.Answers {
					out = append(out, c.word(a))
				}
			}
		}
		return out
	}
	known := false
	for _, at := range Wheels {
		f, said := w.facts[key{id, at}]
		said = said && !f.Unsure() && slices.Contains(w.wheels(c), at) && w.applies(c.OnlyIf, at)
		switch {
		case input == "" && said:
			out = append(out, c.word(w.worst(c, []string{at})))
		case input == "":
			out = append(out, c.word(Unsure))
		case said && len(f.Readings[input]) == 1:
			out = append(out, f.Readings[input][0])
		default:
			said = false
			out = append(out, unit.Absent(w.book.Kind(c, input)))
		}
		known = known || said
	}
	if !known {
		return nil
	}
	return out
}

// figure gives the first figure that a measurement with readings still wants.
func (w *Walk) figure(c *Check, wheels []string) *Figure {
	if c.Measure == "" {
		return nil
	}
	read := slices.ContainsFunc(wheels, func(wheel string) bool {
		f, said := w.facts[key{c.ID, wheel}]
		return said && !f.Unsure()
	})
	if !read {
		return nil
	}
	for _, in := range c.Inputs {
		if in.Figure == "" {
			continue
		}
		if _, said := w.facts[key{in.Figure, ""}]; !said {
			return w.book.Figures[in.Figure]
		}
	}
	return nil
}

// Said gives what stands about a check or figure at a wheel.
func (w *Walk) Said(check, wheel string) (Said, bool) {
	f, ok := w.facts[key{check, wheel}]
	if !ok {
		return Said{}, false
	}
	return *f.Said, true
}

// worst gives the answer that `then` follows over all wheels.
func (w *Walk) worst(c *Check, wheels []string) string {
	worst, rank := Unsure, 1<<30
	for _, wheel := range wheels {
		f, said := w.facts[key{c.ID, wheel}]
		ids := []string{Unsure}
		if said && !f.Unsure() {
			ids = f.Answers
		}
		for _, id := range ids {
			if r := c.rank(id); r < rank {
				worst, rank = id, r
			}
		}
	}
	return worst
}

// bar notes how a look came out.
func (w *Walk) bar(c *Check) {
	if c.Look == "" {
		return
	}
	failed, open, stop := false, false, false
	v, seen := w.visited[c.ID]
	switch {
	case !seen:
		open = true
	case w.Visits[v].Standing == NotBuilt:
	case w.Visits[v].Standing != Answered:
		open = true
	}
	// An answer given before the walk comes to the look counts already.
	for _, wheel := range w.wheels(c) {
		k := key{c.ID, wheel}
		if _, stands := w.stands(k); !stands {
			continue
		}
		f, said := w.facts[k]
		if !said || f.Unsure() {
			open = true
			continue
		}
		for _, id := range f.Answers {
			a := c.Answer(id)
			if a != nil && (a.Fails || a.Drive == Stop) && !w.allMended(a, wheel) {
				failed = true
				stop = stop || a.Drive == Stop
			}
		}
	}
	switch {
	case failed:
		w.Failed = append(w.Failed, c.ID)
	case open:
		w.Open = append(w.Open, c.ID)
	default:
		return
	}
	w.RoadBarred = true
	// What must not be driven is not rolled either, whichever look found it.
	if c.Look == Yard || stop {
		w.YardBarred = true
	}
}

// allMended reports whether every cause that a shows was put right and
// checked again.
func (w *Walk) allMended(a *Answer, wheel string) bool {
	if len(a.Shows) == 0 {
		return false
	}
	for _, id := range a.Shows {
		if !w.mended(id, wheel) {
			return false
		}
	}
	return true
}

// mended reports whether a cause, shown at a wheel, was mended there or for
// the whole vehicle; shown for the whole vehicle, at any wheel.
func (w *Walk) mended(cause, wheel string) bool {
	for _, k := range w.repairs {
		if wheel != "" && k.wheel != "" && k.wheel != wheel {
			continue
		}
		for _, id := range w.facts[k].Answers {
			if a := w.book.Checks[k.check].Answer(id); a != nil && slices.Contains(a.Mended, cause) {
				if _, stands := w.stands(k); stands {
					return true
				}
			}
		}
	}
	return false
}

// done reports whether nothing is left to ask about c.
func (w *Walk) done(c *Check) bool {
	_, past := w.visited[c.ID]
	return past || len(w.left(c)) == 0
}

// left gives the wheels at which c applies and nothing was said yet.
func (w *Walk) left(c *Check) []string {
	return slices.DeleteFunc(w.applying(c), func(wheel string) bool {
		_, said := w.facts[key{c.ID, wheel}]
		return said
	})
}

// applying gives the wheels at which c is asked and applies.
func (w *Walk) applying(c *Check) []string {
	return slices.DeleteFunc(slices.Clone(w.wheels(c)), func(wheel string) bool { return !w.applies(c.OnlyIf, wheel) })
}

// Upcoming gives the checks at a place that can be reached from the next step
// of the same tree, or from the first step of a later one, without one at any
// of the blocking places, so that they can be done on one drive or while one
// wheel is off. What is answered already leads on by its answer alone.
func (w *Walk) Upcoming(at Place, blocking ...Place) []*Check {
	if w.Next == nil || w.Next.Step == nil {
		return nil
	}
	var out []*Check
	climb := func(c *Complaint, from string) {
		seen := map[string]bool{}
		var visit func(id string)
		visit = func(id string) {
			s := c.steps[id]
			if s == nil || seen[id] {
				return
			}
			seen[id] = true
			check := w.book.Checks[s.Check]
			done := check != w.Next.Check && w.done(check)
			if !done && slices.Contains(blocking, check.Place) {
				return
			}
			if !done && check.Place == at && !slices.Contains(out, check) && !check.Computed() {
				out = append(out, check)
			}
			if done { // its answer has settled the way
				visit(s.Then[w.worst(check, w.applying(check))].Step)
				return
			}
			for _, a := range check.Answers {
				visit(s.Then[a.ID].Step)
			}
			visit(s.Then[Unsure].Step)
		}
		visit(from)
	}
	climb(w.book.complaints[w.Next.Where], w.Next.Step.ID)
	for _, id := range w.Complaints[1+slices.Index(w.Complaints, w.Next.Where):] {
		c := w.book.complaints[id]
		climb(c, c.Begin)
	}
	return out
}
