package tree

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// A second belief, by brute force: every set of causes with its weight, every
// answer with its chance given the set, written from docs/tree-language.md and
// not from weigh.go.

var counts = map[Often]float64{"nearly-always": .97, "usually": .85, "often": .60, "sometimes": .30, "seldom": .10, "hardly-ever": .03}

// chancesOf gives the chance of each answer when the causes of set are there.
func chancesOf(answers []*Answer, set []string, measured bool) []float64 {
	sound := slices.ContainsFunc(answers, func(a *Answer) bool { return a.Normal })
	alone := func(cause string) []float64 {
		var row []float64
		for _, a := range answers {
			word := Often("sometimes")
			if a.Normal {
				word = "usually"
			} else if sound {
				word = "hardly-ever"
			}
			if a.Else != "" {
				word = a.Else
			}
			if slices.Contains(a.Shows, cause) {
				word = "usually"
			}
			if slices.Contains(a.Clears, cause) {
				word = "seldom"
			}
			for _, f := range a.Fits {
				if f.Cause == cause {
					word = f.Word
				}
			}
			row = append(row, counts[word])
		}
		return divided(row)
	}
	row := alone("")
	switch len(set) {
	case 1:
		row = alone(set[0])
	case 2:
		a, b, e := alone(set[0]), alone(set[1]), alone("")
		row = make([]float64, len(a))
		abnormal, usual := 0.0, 0.0
		for k := range answers {
			if answers[k].Normal {
				usual += a[k] + b[k]
			} else {
				row[k] = math.Max(1-(1-a[k])*(1-b[k])/(1-e[k]), math.Max(a[k], b[k]))
				abnormal += row[k]
			}
		}
		for k := range answers {
			if answers[k].Normal {
				row[k] = math.Max(1-abnormal, 0) * (a[k] + b[k]) / usual
			}
		}
		row = divided(row)
		// A pair of which one says nothing is the other.
		for i, c := range set {
			if slices.Equal(alone(c), e) && !named(answers, c) {
				row = alone(set[1-i])
			}
		}
	}
	slip := 0.05
	if measured {
		slip = 0.01
	}
	for k := range row {
		row[k] = (1-slip)*row[k] + slip/float64(len(row))
	}
	return row
}

func named(answers []*Answer, cause string) bool {
	return slices.ContainsFunc(answers, func(a *Answer) bool {
		return slices.Contains(a.Shows, cause) || slices.Contains(a.Clears, cause) ||
			slices.ContainsFunc(a.Fits, func(f Fit) bool { return f.Cause == cause })
	})
}

func divided(row []float64) []float64 {
	sum := 0.0
	for _, p := range row {
		sum += p
	}
	out := make([]float64, len(row))
	for k, p := range row {
		out[k] = p / sum
	}
	return out
}

// A smallBook is a book of a few causes and checks, by dice.
func smallBook(dice *rand.Rand) *Book {
	b := &Book{Checks: map[string]*Check{}, causes: map[string]*Cause{}, complaints: map[string]*Complaint{}, calcs: map[string]Calculation{},
		Reach: map[Place]int{Seat: 2, Corner: 10, WheelOff: 10}, Healthy: 1 + dice.IntN(40), NotListed: 1 + dice.IntN(20),
		faults: &faults{lines: map[string][]string{}, lost: map[string]bool{}, meant: map[string]bool{}}}
	for i := range 2 + dice.IntN(5) {
		c := &Cause{ID: fmt.Sprintf("cause-%d", i), Drive: Drive(dice.IntN(3)), Common: dice.IntN(20)}
		if i > 0 && dice.IntN(3) == 0 {
			c.ComesFrom = []Origin{{Cause: fmt.Sprintf("cause-%d", dice.IntN(i))}}
		}
		b.Causes = append(b.Causes, c)
		b.causes[c.ID] = c
	}
	some := func() []string {
		var out []string
		for _, c := range b.Causes {
			if dice.IntN(4) == 0 {
				out = append(out, c.ID)
			}
		}
		return out
	}
	fits := func() []Fit {
		var out []Fit
		for _, id := range some() {
			out = append(out, Fit{Cause: id, Word: Oftens[dice.IntN(6)]})
		}
		return out
	}
	answers := func(check string) []*Answer {
		var out []*Answer
		for k := range 2 + dice.IntN(3) {
			a := &Answer{ID: fmt.Sprintf("%s-%d", check, k)}
			switch dice.IntN(3) {
			case 0:
				a.Shows = some()
			case 1:
				a.Clears = some()
			}
			a.Fits = fits()
			if dice.IntN(4) == 0 {
				a.Else = Oftens[dice.IntN(6)]
			}
			out = append(out, a)
		}
		if dice.IntN(3) > 0 {
			out[len(out)-1].Normal, out[len(out)-1].Shows = true, nil
		}
		return out
	}
	for i := range 1 + dice.IntN(5) {
		c := &Check{ID: fmt.Sprintf("check-%d", i), Place: Seat, Minutes: 1 + dice.IntN(9), isQuestion: true}
		c.Answers = answers(c.ID)
		c.At = []string{"", "", "front", "all"}[dice.IntN(4)]
		c.Several = dice.IntN(4) == 0
		if i > 0 && dice.IntN(4) == 0 {
			c.SameAs = fmt.Sprintf("check-%d", dice.IntN(i))
		}
		if dice.IntN(4) == 0 {
			c.Measure, c.Several = fmt.Sprintf("calc-%d", i), false
			limit := func(id string, as []*Answer) CalcLimit {
				l := CalcLimit{ID: id}
				for _, a := range as {
					l.Outcomes = append(l.Outcomes, a.ID)
				}
				return l
			}
			other := answers(c.ID + "-other")
			b.calcs[c.Measure] = Calculation{Name: c.Measure, Limits: []CalcLimit{limit("one", c.Answers), limit("other", other)}}
			c.Answers = append(c.Answers, other...)
		}
		b.Checks[c.ID] = c
	}
	for i := range 2 {
		c := &Complaint{ID: fmt.Sprintf("complaint-%d", i), Fits: fits()}
		if dice.IntN(2) == 0 {
			c.Else = Oftens[dice.IntN(6)]
		}
		b.Complaints = append(b.Complaints, c)
		b.complaints[c.ID] = c
	}
	b.join()
	return b
}

// saidBy answers some of the checks by dice.
func saidBy(dice *rand.Rand, b *Book) []Said {
	var out []Said
	for _, id := range sortedKeys(b.Checks) {
		c := b.Checks[id]
		wheels := wheelsAt[c.At]
		if wheels == nil {
			wheels = []string{""}
		}
		for _, wheel := range wheels {
			s := Said{Check: id, Wheel: wheel}
			switch {
			case dice.IntN(4) == 0:
				s.Answers = []string{Unsure}
			case c.Measure != "":
				for _, l := range b.calcs[c.Measure].Limits {
					s.Answers = append(s.Answers, l.Outcomes[dice.IntN(len(l.Outcomes))])
				}
				if dice.IntN(2) == 0 {
					s.Chances = map[string]float64{}
					for _, l := range b.calcs[c.Measure].Limits {
						p := dice.Float64()
						s.Chances[l.Outcomes[0]], s.Chances[l.Outcomes[1]] = p, 1-p
					}
				}
			default:
				s.Answers = []string{c.Answers[dice.IntN(len(c.Answers))].ID}
				if other := c.Answers[dice.IntN(len(c.Answers))].ID; c.Several && !slices.Contains(s.Answers, other) {
					s.Answers = append(s.Answers, other)
				}
			}
			if dice.IntN(5) > 0 {
				out = append(out, s)
			}
		}
	}
	return out
}

// bruteForce gives the chance of each cause, of none and of another.
func bruteForce(b *Book, complaints []string, said []Said) (causes map[string]float64, healthy, other float64) {
	sum, pairs := 0.0, 0.0
	common := func(c *Cause) float64 { return math.Max(float64(c.Common), 1) }
	for _, c := range b.Causes {
		sum += common(c)
	}
	linked := func(x, y *Cause) float64 {
		for _, o := range x.ComesFrom {
			if o.Cause == y.ID {
				return 4
			}
		}
		for _, o := range y.ComesFrom {
			if o.Cause == x.ID {
				return 4
			}
		}
		return 1
	}
	for i, x := range b.Causes {
		for _, y := range b.Causes[:i] {
			pairs += common(x) * common(y) * linked(x, y)
		}
	}
	// What was said about each check, the worst wheel of it.
	type told struct {
		check   *Check
		answers []*Answer // of one limit, or all
		mixes   [][]float64
		power   float64
	}
	var all []told
	for _, id := range sortedKeys(b.Checks) {
		c := b.Checks[id]
		groups := [][]*Answer{c.Answers}
		if c.Measure != "" {
			groups = nil
			for _, l := range b.calcs[c.Measure].Limits {
				var as []*Answer
				for _, o := range l.Outcomes {
					as = append(as, c.Answer(o))
				}
				groups = append(groups, as)
			}
		}
		for _, as := range groups {
			t := told{check: c, answers: as, power: 1}
			if c.SameAs != "" && slices.ContainsFunc(said, func(s Said) bool { return s.Check == c.SameAs && s.Answers[0] != Unsure }) {
				t.power = 0.5
			}
			var worst *Said
			least := 1 << 30
			for i := range said {
				if s := &said[i]; s.Check == id {
					for _, a := range s.Answers {
						if a == Unsure || slices.ContainsFunc(as, func(x *Answer) bool { return x.ID == a }) {
							if r := c.rank(a); r < least {
								worst, least = s, r
							}
						}
					}
				}
			}
			if worst == nil || worst.Answers[0] == Unsure {
				continue
			}
			for k, a := range as {
				if !slices.Contains(worst.Answers, a.ID) {
					continue
				}
				mix := make([]float64, len(as))
				mix[k] = 1
				if worst.Chances != nil {
					for m, o := range as {
						mix[m] = worst.Chances[o.ID]
					}
				}
				t.mixes = append(t.mixes, mix)
			}
			if t.mixes != nil {
				all = append(all, t)
			}
		}
	}
	raw := func(t told, set []string) float64 {
		row := chancesOf(t.answers, set, t.check.Measure != "")
		out := 1.0
		for _, mix := range t.mixes {
			p := 0.0
			for k := range row {
				p += mix[k] * row[k]
			}
			out *= p
		}
		return out
	}
	sets := [][]string{nil}
	for i, x := range b.Causes {
		sets = append(sets, []string{x.ID})
		for _, y := range b.Causes[:i] {
			sets = append(sets, []string{x.ID, y.ID})
		}
	}
	weigh := func(set []string, notListed bool) float64 {
		w := 1.0
		for _, c := range b.Complaints {
			if !slices.Contains(complaints, c.ID) {
				continue
			}
			word := func(cause string) float64 {
				for _, f := range c.Fits {
					if f.Cause == cause {
						return counts[f.Word]
					}
				}
				if c.Else != "" {
					return counts[c.Else]
				}
				return 0.03
			}
			rest := word("")
			p := rest
			switch len(set) {
			case 1:
				p = word(set[0])
			case 2:
				x, y := word(set[0]), word(set[1])
				p = math.Max(1-(1-x)*(1-y)/(1-rest), math.Max(x, y))
				for i, cause := range set {
					if !slices.ContainsFunc(c.Fits, func(f Fit) bool { return f.Cause == cause }) {
						p = word(set[1-i])
					}
				}
			}
			p = .95*p + .05/2
			if soft := .95*rest + .05/2; notListed {
				p = math.Max(soft, counts["seldom"])
			}
			w *= p
		}
		for _, t := range all {
			p, top := raw(t, set), 0.0
			for _, s := range sets {
				top = math.Max(top, raw(t, s))
			}
			w *= math.Pow(math.Max(p/top, 1.0/200), t.power)
		}
		return w
	}
	causes = map[string]float64{}
	faulty := 1 - float64(b.Healthy+b.NotListed)/100
	whole := 0.0
	for _, set := range sets {
		w := weigh(set, false)
		switch len(set) {
		case 0:
			healthy = w * float64(b.Healthy) / 100
			other = weigh(nil, true) * float64(b.NotListed) / 100
			whole += healthy + other
		case 1:
			w *= faulty * .75 * common(b.causes[set[0]]) / sum
		case 2:
			x, y := b.causes[set[0]], b.causes[set[1]]
			w *= faulty * .25 * common(x) * common(y) * linked(x, y) / pairs
		}
		if len(set) > 0 {
			whole += w
		}
		for _, id := range set {
			causes[id] += w
		}
	}
	for id := range causes {
		causes[id] /= whole
	}
	return causes, healthy / whole, other / whole
}

// Belief by the program and by enumeration of every set of two agree.
func TestBeliefAgainstEnumeration(t *testing.T) {
	n := 2000
	if testing.Short() {
		n = 300
	}
	answered, pairs := 0, 0
	for seed := range n {
		dice := rand.New(rand.NewPCG(uint64(seed), 9))
		b := smallBook(dice)
		said := saidBy(dice, b)
		complaints := []string{"complaint-0", "complaint-1"}[:dice.IntN(3)]
		causes, healthy, other := bruteForce(b, complaints, said)
		got := b.Believe(b.Walk(complaints, said))
		require.InDelta(t, healthy, got.Healthy, 1e-9, "seed %d", seed)
		require.InDelta(t, other, got.NotListed, 1e-9, "seed %d", seed)
		for i, c := range b.Causes {
			require.InDelta(t, causes[c.ID], got.Causes[i], 1e-9, "seed %d, %s", seed, c.ID)
			if got.beside[i] > got.single[i] {
				pairs++
			}
		}
		answered += len(said)
	}
	t.Logf("%d books, %d answers, %d causes likelier beside another than alone", n, answered, pairs)
	assert.Greater(t, pairs, n/10, "pairs mattered")
}

// The gain of a check is what the entropy over every set loses by it.
func TestGainAgainstEnumeration(t *testing.T) {
	entropy := func(bl *Belief) float64 {
		h := 0.0
		for _, p := range slices.Concat([]float64{bl.Healthy, bl.NotListed}, bl.single, bl.pair) {
			if p > 0 {
				h -= p * math.Log2(p)
			}
		}
		return h
	}
	for seed := range 500 {
		dice := rand.New(rand.NewPCG(uint64(seed), 10))
		b := smallBook(dice)
		bl := b.Believe(b.Walk(nil, saidBy(dice, b)))
		for _, id := range sortedKeys(b.Checks) {
			for _, r := range b.weights().rows[id] {
				after, sum := 0.0, 0.0
				for k := range r.answers {
					mix := make([]float64, len(r.answers))
					mix[k] = 1
					p := (bl.Healthy + bl.NotListed) * r.most[k]
					for i := range bl.single {
						p += bl.single[i] * r.chance(guess{a: i, b: -1}, k)
						for j := range i {
							p += bl.pair[two(i, j)] * r.chance(guess{a: i, b: j}, k)
						}
					}
					next := &Belief{Healthy: bl.Healthy, NotListed: bl.NotListed, e: bl.e, single: slices.Clone(bl.single), pair: slices.Clone(bl.pair)}
					next.learn(r.of([][]float64{mix}, 1))
					next.settle()
					after += p * entropy(next)
					sum += p
				}
				require.InDelta(t, 1, sum, 1e-9)
				within := 1e-6
				for k := range r.answers { // where the cap holds an answer back, what it tells is a little less
					most := r.most[k]
					least := most
					for _, row := range slices.Concat(r.own, r.both) {
						most, least = max(most, row[k]), min(least, row[k])
					}
					if most/least > cap1 {
						within = 1e-2
					}
				}
				require.InDelta(t, entropy(bl)-after, bl.gain(r), within, "seed %d %s", seed, id)
			}
		}
	}
}

func TestBeliefInvariants(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		dice := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 11))
		b := smallBook(dice)
		said := saidBy(dice, b)
		complaints := []string{"complaint-0", "complaint-1"}[:dice.IntN(3)]
		bl := b.Believe(b.Walk(complaints, said))
		sum := bl.Healthy + bl.NotListed + total(bl.single) + total(bl.pair)
		if math.Abs(sum-1) > 1e-9 {
			t.Fatalf("the chances come to %g", sum)
		}
		// The order of answering says nothing, nor does an answer that is not sure.
		turned := slices.Clone(said)
		dice.Shuffle(len(turned), func(i, j int) { turned[i], turned[j] = turned[j], turned[i] })
		if other := b.Believe(b.Walk(complaints, turned)); !slices.Equal(bl.Causes, other.Causes) {
			t.Fatal("the order of answering changed the belief")
		}
		for _, id := range sortedKeys(b.Checks) {
			c := b.Checks[id]
			wheels := wheelsAt[c.At]
			if wheels == nil {
				wheels = []string{""}
			}
			if !slices.ContainsFunc(said, func(s Said) bool { return s.Check == id }) {
				for _, wheel := range wheels {
					turned = append(turned, Said{Check: id, Wheel: wheel, Answers: []string{Unsure}})
				}
			}
		}
		if other := b.Believe(b.Walk(complaints, turned)); !slices.Equal(bl.Causes, other.Causes) {
			t.Fatal("not sure moved the belief")
		}
	})
}

// What the doubt of a reading does to its evidence.
func TestDoubtWidens(t *testing.T) {
	b := &Book{Checks: map[string]*Check{}, causes: map[string]*Cause{}, complaints: map[string]*Complaint{}, Reach: map[Place]int{},
		calcs:  map[string]Calculation{"thin": {Name: "thin", Limits: []CalcLimit{{ID: "discard", Outcomes: []string{"below", "close", "above"}}}}},
		Causes: []*Cause{{ID: "worn", Drive: Stop}, {ID: "other"}}}
	b.causes["worn"], b.causes["other"] = b.Causes[0], b.Causes[1]
	b.Checks["measured"] = &Check{ID: "measured", Place: WheelOff, Measure: "thin", Answers: []*Answer{
		{ID: "below", Shows: []string{"worn"}}, {ID: "close"}, {ID: "above", Clears: []string{"worn"}, Normal: true}}}
	b.join()
	worn := func(answer string, chances map[string]float64) float64 {
		return b.Believe(b.Walk(nil, []Said{{Check: "measured", Answers: []string{answer}, Chances: chances}})).Causes[0]
	}
	before := b.Believe(b.Walk(nil, nil)).Causes[0]
	sure, likely, even := worn("below", nil), worn("below", map[string]float64{"below": .8, "above": .2}), worn("close", map[string]float64{"below": .5, "above": .5})
	assert.Greater(t, sure, likely)
	assert.Greater(t, likely, even)
	assert.InDelta(t, before, worn("close", nil), 0.02, "too close to call with no chances tells next to nothing")
	assert.Less(t, worn("above", map[string]float64{"below": .02, "above": .98}), before)
}
