package tree

import (
	"cmp"
	"math"
	"slices"
)

// An Often is a word for how often a vehicle with a cause gives an answer.
type Often string

// Oftens are the words, from the most. Six are as many as people keep apart.
var Oftens = []Often{"nearly-always", "usually", "often", "sometimes", "seldom", "hardly-ever"}

// chance is what a word counts for: our estimate, and never all or nothing, so
// that no single answer settles anything.
func (o Often) chance() float64 {
	return [...]float64{0.97, 0.85, 0.60, 0.30, 0.10, 0.03}[slices.Index(Oftens, o)]
}

// A Fit says how often a vehicle with a cause gives an answer.
type Fit struct {
	Cause string
	Word  Often
	at    Pos
}

// What the belief rests on beside the book; all of it our estimate but pairs:
// of cars that failed an inspection in Ireland in 2000, 27 in 100 had two
// defects (newspaper report of the first test days, second-hand).
const (
	pairsShare   = 0.25 // of faulty vehicles, how many have two of the faults
	linkedTimes  = 4    // how much likelier two faults are beside each other when one brings the other about
	slipLooked   = 0.05 // how often an answer by eye, ear or hand is wrong
	slipMeasured = 0.01 // how often one that was read off a gauge is
	cap1         = 200  // no answer makes one cause more than so many times as likely against another
)

// An evidence is what a book says about how often its causes give which
// answers, worked out of its words once.
type evidence struct {
	prior     []float64 // of each cause by itself, in the order of Book.Causes
	paired    []float64 // of each two, see [two]
	healthy   float64
	notListed float64
	danger    []bool
	index     map[string]int     // of causes, by id
	rows      map[string][]*rows // by check: one of a question, one for each limit of a measurement
	heard     map[string]*rows   // by complaint; the answers are heard and not
}

// rows are the chances of the answers of one check, or of the outcomes of one
// limit: for most causes, and for those that the book names, alone and by two.
type rows struct {
	answers []string
	most    []float64
	named   []int       // causes
	own     [][]float64 // by place in named
	both    [][]float64 // of two of named, see two
	at      []int16     // by cause: 1 + place in named, 0 for most
	bits    rowBits
	measure bool
	written bool // the book has words of its own here
	sums    []sum
}

// rowBits is how much an answer still varies when the cause is known, in bits:
// of each row, worked out once.
type rowBits struct {
	most      float64
	own, both []float64
}

// A sum is what the words of one row came to before it was divided by it.
type sum struct {
	cause int // -1 for most
	total float64
}

// two gives the place of a pair in a list of all pairs.
func two(i, j int) int {
	if i < j {
		i, j = j, i
	}
	return i*(i-1)/2 + j
}

// weights gives the evidence of a book, worked out when it is first asked for.
func (b *Book) weights() *evidence {
	if b.evidence != nil {
		return b.evidence
	}
	n := len(b.Causes)
	e := &evidence{prior: make([]float64, n), paired: make([]float64, n*(n-1)/2), danger: make([]bool, n),
		index: make(map[string]int, n), rows: map[string][]*rows{}, heard: map[string]*rows{}}
	total := 0.0
	for i, c := range b.Causes {
		e.index[c.ID] = i
		e.danger[i] = c.Drive == Stop
		e.prior[i] = float64(max(c.Common, 1))
		total += e.prior[i]
	}
	healthy, notListed := b.Healthy, b.NotListed
	if healthy == 0 {
		healthy, notListed = 10, 5
	}
	e.healthy, e.notListed = float64(healthy)/100, float64(notListed)/100
	faulty := 1 - e.healthy - e.notListed
	for i := range e.prior {
		e.prior[i] /= total
	}
	all := 0.0
	for i := range n {
		for j := range i {
			e.paired[two(i, j)] = e.prior[i] * e.prior[j]
		}
	}
	for i, c := range b.Causes {
		for _, o := range c.ComesFrom {
			if j, known := e.index[o.Cause]; known && j != i {
				e.paired[two(i, j)] = linkedTimes * e.prior[i] * e.prior[j]
			}
		}
	}
	for _, p := range e.paired {
		all += p
	}
	for i := range e.prior {
		e.prior[i] *= faulty * (1 - pairsShare)
	}
	for i := range e.paired {
		e.paired[i] *= faulty * pairsShare / all
	}
	for id, c := range b.Checks {
		if c.Measure == "" {
			e.rows[id] = []*rows{e.newRows(c.Answers, false)}
			continue
		}
		for _, l := range b.calcs[c.Measure].Limits {
			var outcomes []*Answer
			for _, o := range l.Outcomes {
				if a := c.Answer(o); a != nil {
					outcomes = append(outcomes, a)
				}
			}
			e.rows[id] = append(e.rows[id], e.newRows(outcomes, true))
		}
	}
	for _, c := range b.Complaints {
		e.heard[c.ID] = e.hears(c)
	}
	b.evidence = e
	return e
}

// newRows works out the rows of one check. What `shows` and `clears` say needs
// no second word: an answer that shows a cause is usually what it gives, one
// that clears it seldom. Where the book says nothing, a normal answer is usual
// and any other hardly ever given; without a normal answer all are alike.
func (e *evidence) newRows(answers []*Answer, measure bool) *rows {
	r := &rows{at: make([]int16, len(e.prior)), measure: measure}
	normal := make([]bool, len(answers))
	sound := slices.ContainsFunc(answers, func(a *Answer) bool { return a.Normal })
	others := make([]float64, len(answers))
	name := func(id string) {
		if i, known := e.index[id]; known && r.at[i] == 0 {
			r.named = append(r.named, i)
			r.at[i] = -1
		}
	}
	for k, a := range answers {
		r.answers = append(r.answers, a.ID)
		normal[k] = a.Normal
		word := Often("sometimes")
		switch {
		case a.Else != "":
			word, r.written = a.Else, true
		case a.Normal:
			word = "usually"
		case sound:
			word = "hardly-ever"
		}
		others[k] = word.chance()
		r.written = r.written || a.Fits != nil
		for _, fit := range a.Fits {
			name(fit.Cause)
		}
		for _, id := range a.Shows {
			name(id)
		}
		for _, id := range a.Clears {
			name(id)
		}
	}
	slices.Sort(r.named)
	for k, i := range r.named {
		r.at[i] = int16(k + 1)
	}
	own := make([][]float64, len(r.named))
	worded := make([]bool, len(r.named))
	for k := range own {
		own[k] = slices.Clone(others)
	}
	for k, a := range answers {
		set := func(id string, word Often, worded1 bool) {
			if i, known := e.index[id]; known {
				own[r.at[i]-1][k] = word.chance()
				worded[r.at[i]-1] = worded[r.at[i]-1] || worded1
			}
		}
		for _, id := range a.Shows {
			set(id, "usually", false)
		}
		for _, id := range a.Clears {
			set(id, "seldom", false)
		}
		for _, fit := range a.Fits {
			set(fit.Cause, fit.Word, true)
		}
	}
	if r.written {
		r.sums = append(r.sums, sum{-1, total(others)})
	}
	for k, row := range own {
		if worded[k] {
			r.sums = append(r.sums, sum{r.named[k], total(row)})
		}
		share(row)
	}
	share(others)
	r.finish(others, own, normal)
	return r
}

// hears works out how often each cause is brought with a complaint. What is
// not on the list brings people to a workshop more often than nothing does.
func (e *evidence) hears(c *Complaint) *rows {
	r := &rows{answers: []string{"heard", "not"}, at: make([]int16, len(e.prior)), written: c.Fits != nil}
	word := c.Else
	if word == "" {
		word = "hardly-ever"
	}
	row := func(w Often) []float64 { return []float64{w.chance(), 1 - w.chance()} }
	var own [][]float64
	for _, fit := range c.Fits {
		if i, known := e.index[fit.Cause]; known && r.at[i] == 0 {
			r.named = append(r.named, i)
			own = append(own, row(fit.Word))
			r.at[i] = int16(len(r.named))
		}
	}
	r.finish(row(word), own, []bool{false, true})
	return r
}

// finish softens the rows for slips and adds those of two causes at once.
func (r *rows) finish(most []float64, own [][]float64, normal []bool) {
	slip := slipLooked
	if r.measure {
		slip = slipMeasured
	}
	soft := func(row []float64) []float64 {
		out := make([]float64, len(row))
		for k, p := range row {
			out[k] = (1-slip)*p + slip/float64(len(row))
		}
		return out
	}
	r.both = make([][]float64, len(own)*(len(own)-1)/2)
	for i := range own {
		for j := range i {
			r.both[two(i, j)] = soft(together(own[i], own[j], most, normal))
		}
	}
	for _, row := range own {
		r.own = append(r.own, soft(row))
	}
	r.most = soft(most)
	r.vary()
}

// vary works out how much the answers of each row vary.
func (r *rows) vary() {
	bits := func(row []float64) float64 {
		h := 0.0
		for _, p := range row {
			if p > 0 {
				h -= p * math.Log2(p)
			}
		}
		return h
	}
	r.bits = rowBits{most: bits(r.most)}
	for _, row := range r.own {
		r.bits.own = append(r.bits.own, bits(row))
	}
	for _, row := range r.both {
		r.bits.both = append(r.bits.both, bits(row))
	}
}

// together is the row of a vehicle with two causes. An abnormal answer comes
// about by either of them or by what brings it about anyway, which is not
// counted twice: 1 - (1-a)(1-b)/(1-e), never less than the likelier of the
// two alone. The normal answers share what is left, as the two alone have
// them.
//
// The noisy-OR with a background: Heckerman, A tractable inference algorithm
// for diagnosing multiple diseases, 1989 (second-hand).
func together(a, b, e []float64, normal []bool) []float64 {
	out := make([]float64, len(a))
	abnormal, rest := 0.0, 0.0
	for k := range a {
		if normal[k] {
			rest += a[k] + b[k]
			continue
		}
		p := 1 - (1-a[k])*(1-b[k])/(1-e[k])
		out[k] = max(p, a[k], b[k])
		abnormal += out[k]
	}
	if rest > 0 {
		left := max(1-abnormal, 0)
		for k := range a {
			if normal[k] {
				out[k] = left * (a[k] + b[k]) / rest
			}
		}
	}
	share(out)
	return out
}

func total(row []float64) float64 {
	t := 0.0
	for _, p := range row {
		t += p
	}
	return t
}

// share divides a row by its sum.
func share(row []float64) {
	t := total(row)
	for k := range row {
		row[k] /= t
	}
}

// A Belief is how likely each cause is after what was said, by a book's
// estimates: alone, beside one other, or none of them.
type Belief struct {
	Causes    []float64 // chance of each cause, alone or beside another, in the order of Book.Causes
	Healthy   float64
	NotListed float64 // of something that the book does not have
	e         *evidence
	single    []float64
	pair      []float64
	beside    []float64 // of each cause, all pairs that hold it
	whole     float64
	heard     []heard
}

// A heard is an answer that was taken in.
type heard struct {
	ref Ref
	likelihood
}

// begin is the belief before anything was said.
func (e *evidence) begin() *Belief {
	return &Belief{Healthy: e.healthy, NotListed: e.notListed, e: e, single: slices.Clone(e.prior), pair: slices.Clone(e.paired)}
}

// A likelihood is how well one answer goes with most causes, with those that
// are named, and with two of those.
type likelihood struct {
	rows      *rows
	most      float64
	own, both []float64
}

// of gives the likelihood of what was said: for each answer that counts, the
// chance that it is the true one; several that were ticked are all true.
func (r *rows) of(ticked [][]float64, power float64) likelihood {
	one := func(row []float64) float64 {
		out := 1.0
		for _, mix := range ticked {
			p := 0.0
			for k, share := range mix {
				p += share * row[k]
			}
			out *= p
		}
		return out
	}
	l := likelihood{r, one(r.most), make([]float64, len(r.own)), make([]float64, len(r.both))}
	top := l.most
	for k, row := range r.own {
		l.own[k] = one(row)
		top = max(top, l.own[k])
	}
	for k, row := range r.both {
		l.both[k] = one(row)
		top = max(top, l.both[k])
	}
	tame := func(p float64) float64 {
		p = max(p/top, 1.0/cap1)
		if power != 1 {
			p = math.Pow(p, power)
		}
		return p
	}
	l.most = tame(l.most)
	for k, p := range l.own {
		l.own[k] = tame(p)
	}
	for k, p := range l.both {
		l.both[k] = tame(p)
	}
	return l
}

// learn takes an answer in. Causes that it does not name keep what they had;
// only the others are moved against them.
func (bl *Belief) learn(l likelihood) {
	for k, i := range l.rows.named {
		times := l.own[k] / l.most
		bl.single[i] *= times
		row := bl.pair[i*(i-1)/2:]
		for j := range i {
			row[j] *= times
		}
		for j := i + 1; j < len(bl.single); j++ {
			bl.pair[j*(j-1)/2+i] *= times
		}
	}
	for k, i := range l.rows.named {
		for m := range k {
			bl.pair[two(i, l.rows.named[m])] *= l.both[two(k, m)] * l.most / (l.own[k] * l.own[m])
		}
	}
}

// settle divides all by the sum, so that the chances are of one.
func (bl *Belief) settle() {
	sum := bl.Healthy + bl.NotListed + total(bl.single) + total(bl.pair)
	bl.Healthy /= sum
	bl.NotListed /= sum
	bl.beside = make([]float64, len(bl.single))
	at := 0
	for i := range bl.single {
		bl.single[i] /= sum
		beside := 0.0
		for j := range i {
			p := bl.pair[at] / sum
			bl.pair[at] = p
			beside += p
			bl.beside[j] += p
			at++
		}
		bl.beside[i] += beside
	}
	bl.whole = 1
	bl.Causes = make([]float64, len(bl.single))
	for i := range bl.Causes {
		bl.Causes[i] = bl.single[i] + bl.beside[i]
	}
}

// Believe weighs all that was said. Nobody's order of answering matters; a
// complaint that was not named and an answer that is not sure say nothing.
func (b *Book) Believe(w *Walk) *Belief {
	e := b.weights()
	bl := e.begin()
	for i, c := range b.Causes {
		if !w.can(c, "") {
			bl.drop(i)
		}
	}
	for _, c := range b.Complaints {
		if slices.Contains(w.named, c.ID) {
			heard := e.heard[c.ID]
			bl.learn(heard.of([][]float64{{1, 0}}, 1))
			// Nobody comes with nothing but a complaint more often than with
			// something that the book does not have.
			bl.NotListed *= max(1, Often("seldom").chance()/heard.most[0])
		}
	}
	said := map[string]bool{}
	for _, k := range w.order {
		said[k.check] = true
	}
	for _, id := range sortedKeys(said) {
		c := b.Checks[id]
		if c == nil {
			continue
		}
		for _, r := range e.rows[id] {
			if worst, ticked := w.ticked(c, r); ticked != nil {
				l := r.of(ticked, w.power(c))
				bl.learn(l)
				for _, a := range worst.Answers {
					if slices.Contains(r.answers, a) {
						bl.heard = append(bl.heard, heard{Ref{id, worst.Wheel, a}, l})
						break
					}
				}
			}
		}
	}
	bl.settle()
	return bl
}

// drop takes out a cause that this vehicle cannot have.
func (bl *Belief) drop(i int) {
	bl.single[i] = 0
	for j := range bl.single {
		if j != i {
			bl.pair[two(i, j)] = 0
		}
	}
}

// power is how much an answer counts: by half where a near-copy of the check
// was answered as well.
func (w *Walk) power(c *Check) float64 {
	of := w.book.Checks[c.nearCopy()]
	if of == nil {
		return 1
	}
	for _, wheel := range w.wheels(of) {
		if f, said := w.facts[key{of.ID, wheel}]; said && !f.Unsure() {
			return 0.5
		}
	}
	return 1
}

// nearCopy gives the check that c says nearly the same as, or "".
func (c *Check) nearCopy() string {
	if c.SameAs != "" {
		return c.SameAs
	}
	return c.Like
}

// ticked gives the answers of a check that count as evidence, each as the
// chances of what is true: those of the worst wheel, and of a measurement
// those of one limit. It is nil where nothing is known.
func (w *Walk) ticked(c *Check, r *rows) (worst *Said, out [][]float64) {
	rank := 1 << 30
	for _, wheel := range w.wheels(c) {
		k := key{c.ID, wheel}
		f, said := w.facts[k]
		if !said {
			continue
		}
		if _, stands := w.stands(k); !stands {
			continue
		}
		of := 1 << 30
		if f.Unsure() {
			of = c.rank(Unsure)
		}
		for _, id := range f.Answers {
			if slices.Contains(r.answers, id) {
				of = min(of, c.rank(id))
			}
		}
		if of < rank {
			worst, rank = f.Said, of
		}
	}
	if worst == nil || worst.Unsure() {
		return nil, nil
	}
	for _, id := range worst.Answers {
		k := slices.Index(r.answers, id)
		if k < 0 {
			continue
		}
		mix := make([]float64, len(r.answers))
		mix[k] = 1
		if chances := worst.Chances; c.Measure != "" && chances != nil {
			known := 0.0
			for m, other := range r.answers {
				mix[m] = chances[other]
				known += chances[other]
			}
			if known == 0 {
				mix[k] = 1
			}
		}
		out = append(out, mix)
	}
	return worst, out
}

// speaksFor gives the answers, at most three, that speak most for a cause: each
// makes it twice as likely against most others, or more.
func (bl *Belief) speaksFor(cause int) []Ref {
	type voice struct {
		ref   Ref
		times float64
	}
	var all []voice
	for _, h := range bl.heard {
		if at := h.rows.at[cause]; at > 0 {
			if times := h.own[at-1] / h.most; times >= 2 {
				all = append(all, voice{h.ref, times})
			}
		}
	}
	slices.SortStableFunc(all, func(a, b voice) int { return cmp.Compare(b.times, a.times) })
	var out []Ref
	for _, v := range all[:min(3, len(all))] {
		out = append(out, v.ref)
	}
	return out
}
