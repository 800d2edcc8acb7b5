package tree

import (
	"cmp"
	"math"
	"slices"
	"strings"
)

// stakes are what a wrong end costs, in minutes of somebody's work: our
// estimate. To hand over takes an appointment, the way there and somebody who
// begins anew; a part renewed for nothing as much. A danger that is told away
// costs ten times that, and is never left to the odds anyway.
type stakes struct{ wrong, missed, handOver float64 }

var ours = stakes{wrong: 300, missed: 3000, handOver: 300}

// A Ranked is a check that could come next, with what it is worth.
type Ranked struct {
	Check   *Check
	Minutes int     // at all the wheels where it is still to be done
	Setup   int     // minutes to get there that nobody has spent yet
	Bits    float64 // of information about what is wrong
	Score   float64 // bits a minute; the minutes to get there shared with what else can be done there
	rows    []*rows
}

// An Advice is what the minutes say: which check comes next, or that none is
// worth it any more.
type Advice struct {
	Next     []Ranked // the best first
	Stop     bool     // no check that is left, and no two of them, are worth their minutes
	HandOver bool     // and what remains is better looked at by somebody else than named
}

// Advise ranks what could be asked next in the trees that are walked: the most
// information a minute, with the minutes to get to a place paid once.
func (b *Book) Advise(w *Walk, bl *Belief) Advice {
	e := b.weights()
	paid := w.paid()
	var list []Ranked
	seen := map[string]bool{}
	for _, id := range w.Complaints {
		for _, s := range w.ahead(b.complaints[id]) {
			c := b.Checks[s.Check]
			if seen[c.ID] {
				continue
			}
			seen[c.ID] = true
			minutes, may := w.may(c)
			if !may {
				continue
			}
			r := Ranked{Check: c, Minutes: minutes, Setup: b.setup(c.Place, paid), rows: e.rows[c.ID]}
			for _, rows := range r.rows {
				r.Bits += bl.gain(rows)
			}
			r.Bits *= w.power(c)
			list = append(list, r)
		}
	}
	rank(list)
	stop, handOver := worth(bl, list, ours, func(done []*Ranked, next *Ranked) float64 {
		paid := paid
		for _, d := range done {
			paid = append(reaches(d.Check.Place), paid...)
		}
		return float64(next.Minutes + b.setup(next.Check.Place, paid))
	})
	return Advice{Next: list, Stop: stop, HandOver: handOver}
}

// WalkRanked is Walk where what is asked after the first looks is not the next
// step of a tree but the check that tells most a minute. It halts when nothing
// that is left is worth its minutes; on asks to go on all the same.
func (b *Book) WalkRanked(complaints []string, said []Said, on bool) *Walk {
	w := b.Walk(complaints, said)
	if w.Next == nil || w.Next.Where == "" || w.Next.Again || w.Next.Figure != nil {
		return w
	}
	authored := *w.Next
	if last := len(w.Visits) - 1; last >= 0 && w.Visits[last].Standing == Pending {
		delete(w.visited, w.Visits[last].Check.ID)
		w.Visits = w.Visits[:last]
	}
	w.Next = nil
	// What was answered off the path of the trees has its figures asked and is
	// worked on as if a tree had come past it.
	for _, k := range w.order {
		if c := b.Checks[k.check]; c != nil {
			if _, ok := w.toward(c); !ok {
				return w
			}
		}
	}
	for _, id := range w.Complaints {
		for _, s := range b.complaints[id].Steps {
			c := b.Checks[s.Check]
			if c.Computed() && slices.ContainsFunc(c.Inputs, func(in *Input) bool {
				id, _, _ := strings.Cut(in.From, ".")
				return in.From != "" && w.done(b.Checks[id])
			}) {
				if _, ok := w.toward(c); !ok {
					return w
				}
			}
		}
	}
	advice := b.Advise(w, b.Believe(w))
	// Who wants the whole vehicle walked gets it whole.
	round := slices.ContainsFunc(w.Complaints, func(id string) bool { return b.complaints[id].Round })
	if advice.Stop && !on && !round {
		w.Halted, w.HandOver = true, advice.HandOver
		return w
	}
	for _, r := range advice.Next {
		if _, ok := w.toward(r.Check); !ok {
			return w
		}
	}
	w.Next = &authored // nothing is left that the minutes could rank
	return w
}

// toward comes past a check wherever it stands in the trees.
func (w *Walk) toward(c *Check) (worst string, ok bool) {
	for _, id := range w.Complaints {
		for _, s := range w.book.complaints[id].Steps {
			if s.Check == c.ID {
				worst, ok = w.visit(c, s.Because, id, s)
				w.pass(c, id)
				return worst, ok
			}
		}
	}
	return w.visit(c, c.Why, w.Complaints[0], nil)
}

// rank sorts checks by what they are worth a minute. The minutes to get to a
// place are shared by all that can be learned there.
func rank(list []Ranked) {
	useful := map[Place]int{}
	for _, r := range list {
		if r.Bits > 0.01 {
			useful[r.Check.Place]++
		}
	}
	for i := range list {
		r := &list[i]
		minutes := float64(r.Minutes) + float64(r.Setup)/float64(max(useful[r.Check.Place], 1))
		r.Score = r.Bits / max(minutes, 0.5)
	}
	slices.SortStableFunc(list, func(a, b Ranked) int {
		return cmp.Or(cmp.Compare(b.Score, a.Score), cmp.Compare(a.Check.ID, b.Check.ID))
	})
}

// ahead gives the steps of a tree that can be asked out of their turn: those on
// the way that the answers have taken so far, and further on as long as nothing
// is amiss. What a tree asks only after a certain answer ("is it still there,
// now that the nuts are tight?") waits for that answer.
func (w *Walk) ahead(c *Complaint) []*Step {
	var out []*Step
	seen := map[string]bool{}
	var visit func(id string)
	visit = func(id string) {
		s := c.steps[id]
		if s == nil || seen[id] {
			return
		}
		seen[id] = true
		check := w.book.Checks[s.Check]
		if w.done(check) {
			visit(s.Then[w.worst(check, w.applying(check))].Step)
			return
		}
		out = append(out, s)
		for _, a := range check.Answers {
			if a.Normal {
				visit(s.Then[a.ID].Step)
			}
		}
		visit(s.Then[Unsure].Step)
	}
	visit(c.Begin)
	return out
}

// may reports whether a check can be asked now, and in how many minutes. What
// it waits for and nobody has said yet is asked just before it.
func (w *Walk) may(c *Check) (minutes int, ok bool) {
	if c.Computed() || w.barred(c) {
		return 0, false
	}
	wheels := len(w.left(c))
	if wheels == 0 {
		return 0, false
	}
	minutes = wheels * c.Minutes
	for _, q := range w.book.waitsFor(c) {
		o := w.book.Checks[q]
		if w.done(o) {
			continue
		}
		if w.barred(o) {
			return 0, false
		}
		minutes += o.Minutes
	}
	for _, cond := range c.Needs {
		if w.done(w.book.Checks[cond.Question]) && !w.holds(cond, "", false) {
			return 0, false
		}
	}
	for _, in := range c.Inputs {
		id, _, _ := strings.Cut(in.From, ".")
		if o := w.book.Checks[id]; o != nil && !in.Optional && w.done(o) && len(w.From(in, "")) == 0 {
			return 0, false
		}
	}
	return minutes, true
}

// reaches gives the places that are got to on the way to one.
func reaches(p Place) []Place {
	switch p {
	case WheelOff:
		return []Place{Corner, WheelOff}
	case DrumOff:
		return []Place{Corner, WheelOff, DrumOff}
	}
	return []Place{p}
}

// setup gives the minutes to get to a place, beside those that are paid.
func (b *Book) setup(p Place, paid []Place) int {
	minutes := 0
	for _, q := range reaches(p) {
		if !slices.Contains(paid, q) {
			minutes += b.Reach[q]
		}
	}
	return minutes
}

// paid gives the places where something was looked at already.
func (w *Walk) paid() []Place {
	var out []Place
	for _, k := range w.order {
		if c := w.book.Checks[k.check]; c != nil && !w.facts[k].Unsure() && !slices.Contains(out, c.Place) {
			out = append(out, reaches(c.Place)...)
		}
	}
	return out
}

// gain gives the bits that one more answer is expected to tell about what is
// wrong: the entropy of the answer less that which is left when the cause is
// known.
func (bl *Belief) gain(r *rows) float64 {
	var spare [maxNames]float64
	answers := spare[:len(r.answers)]
	left, named := 0.0, 0.0
	add := func(mass float64, row []float64, bits float64) {
		for k, p := range row {
			answers[k] += mass * p
		}
		left += mass * bits
		named += mass
	}
	for k, i := range r.named {
		alone := bl.single[i] + bl.beside[i]
		for m, j := range r.named {
			if m == k {
				continue
			}
			p := bl.pair[two(i, j)]
			alone -= p
			if m < k {
				add(p, r.both[two(k, m)], r.bits.both[two(k, m)])
			}
		}
		add(alone, r.own[k], r.bits.own[k])
	}
	add(bl.whole-named, r.most, r.bits.most)
	for _, p := range answers {
		if p > 0 {
			left += p * math.Log2(p)
		}
	}
	return max(-left, 0)
}

// A guess is something that may be wrong: nothing, one cause, or two.
type guess struct {
	a, b   int // causes; -1 for none
	p      float64
	danger bool
}

// guesses gives the likeliest so many, and one that stands for the rest of
// the dangerous and one for the rest of the others.
func (bl *Belief) guesses(most int) []guess {
	list := []guess{{-1, -1, bl.Healthy, false}}
	for i, p := range bl.single {
		if p > 1e-4 {
			list = append(list, guess{i, -1, p, bl.e.danger[i]})
		}
	}
	at := 0
	for i := range bl.single {
		for j := range i {
			if p := bl.pair[at]; p > 1e-4 {
				list = append(list, guess{i, j, p, bl.e.danger[i] || bl.e.danger[j]})
			}
			at++
		}
	}
	slices.SortStableFunc(list, func(a, b guess) int { return cmp.Compare(b.p, a.p) })
	list = list[:min(most, len(list))]
	danger, rest := 0.0, 1.0
	for i, p := range bl.single {
		if bl.e.danger[i] {
			danger += p
		}
	}
	at = 0
	for i := range bl.single {
		for j := range i {
			if bl.e.danger[i] || bl.e.danger[j] {
				danger += bl.pair[at]
			}
			at++
		}
	}
	for _, g := range list {
		rest -= g.p
		if g.danger {
			danger -= g.p
		}
	}
	danger = min(max(danger, 0), max(rest, 0))
	// Nobody can name what the list does not have, nor all that is left.
	return append(list, guess{-2, -2, danger, true}, guess{-2, -2, max(rest-danger, 0), false})
}

// chance gives how likely an answer is when g is what is wrong.
func (r *rows) chance(g guess, k int) float64 {
	a, b := int16(0), int16(0)
	if g.a >= 0 {
		a = r.at[g.a]
	}
	if g.b >= 0 {
		b = r.at[g.b]
	}
	switch {
	case a > 0 && b > 0:
		return r.both[two(int(a-1), int(b-1))][k]
	case a > 0:
		return r.own[a-1][k]
	case b > 0:
		return r.own[b-1][k]
	}
	return r.most[k]
}

// risk is what it costs to end now: the best of naming one of the guesses and
// handing over, in minutes times the sum of the weights.
func (s stakes) risk(gs []guess, weight []float64) (cost float64, handOver bool) {
	sum, danger, best, bestDanger := 0.0, 0.0, 0.0, 0.0
	for i, g := range gs {
		sum += weight[i]
		if g.danger {
			danger += weight[i]
		}
		switch {
		case g.a == -2:
		case g.danger:
			bestDanger = max(bestDanger, weight[i])
		default:
			best = max(best, weight[i])
		}
	}
	mild := s.wrong*(sum-best) + (s.missed-s.wrong)*danger
	strict := s.wrong * (sum - bestDanger)
	cost = min(mild, strict)
	if over := s.handOver * sum; over < cost {
		return over, true
	}
	return cost, false
}

// worth says whether to stop: nothing that is left makes the end so much
// better as it costs. One check by itself may not be worth it although two
// are, and two although five are; so each two of the best are tried, and a
// plan of up to five, the most information a minute first.
func worth(bl *Belief, list []Ranked, s stakes, cost costs) (stop, handOver bool) {
	l := &lookAhead{stakes: s, cost: cost, guesses: bl.guesses(80), list: list[:min(12, len(list))]}
	now := make([]float64, len(l.guesses))
	for i, g := range l.guesses {
		now[i] = g.p
	}
	for i := range l.list {
		l.rows = append(l.rows, l.list[i].telling(bl))
	}
	end, handOver := s.risk(l.guesses, now)
	// With more checks than can be planned through, a long way may be worth it.
	far := len(list) > len(l.list) && l.far(end)
	return !far && !l.pairs(now, end) && l.plan(now, nil, 5) >= end-1e-9, handOver
}

// far reports whether a way too long to be planned is worth it: the best check
// still tells enough for its minutes, and nothing is settled yet.
func (l *lookAhead) far(end float64) bool {
	return len(l.list) > 0 && l.list[0].Score >= 1/bitMinutes && end > l.handOver/4
}

// bitMinutes is what one bit of information is worth, in minutes: our estimate,
// tried on the embedded book (chock tree check --minutes): at 80 minutes the
// causes of a complaint are named about as often as by its tree, in a third of
// the time, and more than 150 name no more of them.
const bitMinutes = 100.0

// costs gives the minutes of a check after others were done, with what it
// takes to get there.
type costs func(done []*Ranked, next *Ranked) float64

type lookAhead struct {
	stakes
	cost    costs
	guesses []guess
	list    []Ranked
	rows    []*rows // of each of the list, those that tell most
}

// after gives the weights when check i is given answer k.
func (l *lookAhead) after(weight []float64, i, k int) []float64 {
	out := make([]float64, len(weight))
	for g, w := range weight {
		if w > 0 {
			out[g] = w * l.rows[i].chance(l.guesses[g], k)
		}
	}
	return out
}

// pairs reports whether one check, or one and then another where it helps, is
// worth the minutes.
func (l *lookAhead) pairs(now []float64, end float64) bool {
	for i := range l.list {
		first := &l.list[i]
		price := l.cost(nil, first)
		parts := make([][]float64, len(l.rows[i].answers))
		ends := make([]float64, len(parts))
		for k := range parts {
			parts[k] = l.after(now, i, k)
			ends[k], _ = l.risk(l.guesses, parts[k])
		}
		if end-total(ends)-price > 0 {
			return true
		}
		for j := range l.list {
			if j == i {
				continue
			}
			more := l.cost([]*Ranked{first}, &l.list[j])
			both := price
			for k, part := range parts {
				then := total(part) * more
				for m := 0; m < len(l.rows[j].answers) && then < ends[k]; m++ {
					cost, _ := l.risk(l.guesses, l.after(part, j, m))
					then += cost
				}
				both += min(ends[k], then)
			}
			if end-both > 0 {
				return true
			}
		}
	}
	return false
}

// plan gives what it costs to go on with the most information a minute, up to
// so many checks deep, and to end where that is better. Branches that come to
// less than 2 in 100 end at once.
func (l *lookAhead) plan(weight []float64, done []*Ranked, deep int) float64 {
	end, _ := l.risk(l.guesses, weight)
	sum := total(weight)
	if deep == 0 || sum < 0.02 {
		return end
	}
	best, most, price := -1, 0.0, 0.0
	for i := range l.list {
		if slices.Contains(done, &l.list[i]) {
			continue
		}
		cost := l.cost(done, &l.list[i])
		if score := l.gain(weight, i) / max(cost, 0.5); score > most {
			best, most, price = i, score, cost
		}
	}
	if best < 0 || sum*price >= end {
		return end
	}
	out := sum * price
	for k := range l.rows[best].answers {
		out += l.plan(l.after(weight, best, k), append(done[:len(done):len(done)], &l.list[best]), deep-1)
	}
	return min(out, end)
}

// gain gives the bits that check i tells about the guesses, times the sum of
// their weights.
func (l *lookAhead) gain(weight []float64, i int) float64 {
	var answers [maxNames]float64
	left := 0.0
	n := len(l.rows[i].answers)
	for g, w := range weight {
		if w <= 0 {
			continue
		}
		for k := range n {
			p := l.rows[i].chance(l.guesses[g], k)
			answers[k] += w * p
			left += w * p * math.Log2(p)
		}
	}
	sum := total(answers[:n])
	for _, p := range answers[:n] {
		if p > 0 {
			left -= p * math.Log2(p/sum)
		}
	}
	return left
}

// A Split is two causes that a check tells apart, and what its answers make
// likely.
type Split struct {
	First, Second       *Cause
	FirstNow, SecondNow float64 // chances before it is answered
	Leads               []Lead  // of each of the two, the answer that speaks most for it
}

// A Lead is how likely a cause is after an answer.
type Lead struct {
	Answer *Answer
	Cause  *Cause
	Chance float64
}

// Tells says which two of the likelier causes a check tells apart best, and
// where its answers lead; nil where it tells nothing of the kind.
func (b *Book) Tells(bl *Belief, r Ranked) *Split {
	rows := r.telling(bl)
	top := make([]int, len(bl.Causes))
	for i := range top {
		top[i] = i
	}
	slices.SortStableFunc(top, func(i, j int) int { return cmp.Compare(bl.Causes[j], bl.Causes[i]) })
	top = top[:min(8, len(top))]
	row := func(i int) []float64 {
		if at := rows.at[i]; at > 0 {
			return rows.own[at-1]
		}
		return rows.most
	}
	var out *Split
	most := 0.0
	for n, i := range top {
		for _, j := range top[:n] {
			alike := 0.0 // Bhattacharyya: 1 where the answers are given alike
			for k, p := range row(i) {
				alike += math.Sqrt(p * row(j)[k])
			}
			if worth := math.Sqrt(bl.Causes[i]*bl.Causes[j]) * (1 - alike); worth > most {
				most = worth
				out = &Split{First: b.Causes[j], Second: b.Causes[i], FirstNow: bl.Causes[j], SecondNow: bl.Causes[i]}
			}
		}
	}
	if out == nil || most < 1e-3 {
		return nil
	}
	for _, c := range []*Cause{out.First, out.Second} {
		lead := Lead{Cause: c}
		for k, id := range rows.answers {
			if p := bl.after(rows, k).Causes[bl.e.index[c.ID]]; p > lead.Chance {
				lead.Answer, lead.Chance = r.Check.Answer(id), p
			}
		}
		out.Leads = append(out.Leads, lead)
	}
	return out
}

// after gives the belief when a check is given its answer k.
func (bl *Belief) after(r *rows, k int) *Belief {
	mix := make([]float64, len(r.answers))
	mix[k] = 1
	next := &Belief{Healthy: bl.Healthy, NotListed: bl.NotListed, e: bl.e, single: slices.Clone(bl.single), pair: slices.Clone(bl.pair)}
	next.learn(r.of([][]float64{mix}, 1))
	next.settle()
	return next
}

// telling gives the limit of a measurement that tells most, or the question.
func (r *Ranked) telling(bl *Belief) *rows {
	best, most := r.rows[0], -1.0
	if len(r.rows) == 1 {
		return best
	}
	for _, rows := range r.rows {
		if bits := bl.gain(rows); bits > most {
			best, most = rows, bits
		}
	}
	return best
}
