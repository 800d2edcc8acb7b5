package tree

import (
	"fmt"
	"math"
	"math/bits"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// An exact solver for small problems, by dynamic programming, to hold the
// ranked order against. It shares no line with it.

// A problem is a list of faults and a list of checks, each answered yes or no.
type problem struct {
	prior  []float64
	danger []bool
	yes    [][]float64 // by check, by fault
	cost   []float64
	stakes stakes
}

// end is what it costs to end with these weights, and what is then named; -1
// to hand over.
func (p *problem) end(weight []float64) (float64, int) {
	best, named := math.Inf(1), -1
	if !math.IsInf(p.stakes.handOver, 1) {
		best = p.stakes.handOver * total(weight)
	}
	for d := range weight {
		cost := 0.0
		for i, w := range weight {
			switch {
			case i == d:
			case p.danger[i] && !p.danger[d]:
				cost += w * p.stakes.missed
			default:
				cost += w * p.stakes.wrong
			}
		}
		if cost < best {
			best, named = cost, d
		}
	}
	return best, named
}

func (p *problem) after(weight []float64, check int, yes bool) []float64 {
	out := make([]float64, len(weight))
	for i, w := range weight {
		if yes {
			out[i] = w * p.yes[check][i]
		} else {
			out[i] = w * (1 - p.yes[check][i])
		}
	}
	return out
}

// exact gives the least expected cost of minutes and end, and the number of
// states that were looked at. A state is which checks were answered, and how.
func (p *problem) exact() (float64, int, int) {
	type state struct{ asked, yes uint32 }
	memo := map[state]float64{}
	first := -1
	var best func(s state, weight []float64) float64
	best = func(s state, weight []float64) float64 {
		if v, seen := memo[s]; seen {
			return v
		}
		out, _ := p.end(weight)
		pick := -1
		for j := range p.cost {
			if s.asked>>j&1 == 1 {
				continue
			}
			v := total(weight) * p.cost[j]
			if v >= out {
				continue
			}
			v += best(state{s.asked | 1<<j, s.yes}, p.after(weight, j, false))
			if v >= out {
				continue
			}
			v += best(state{s.asked | 1<<j, s.yes | 1<<j}, p.after(weight, j, true))
			if v < out {
				out, pick = v, j
			}
		}
		if s.asked == 0 {
			first = pick
		}
		memo[s] = out
		return out
	}
	v := best(state{}, p.prior)
	return v, len(memo), first
}

// evidence writes the problem as a book would.
func (p *problem) evidence() *evidence {
	n := len(p.prior)
	e := &evidence{prior: p.prior, paired: make([]float64, n*(n-1)/2), danger: p.danger, index: map[string]int{}, rows: map[string][]*rows{}}
	for j := range p.cost {
		r := &rows{answers: []string{"yes", "no"}, most: []float64{0.5, 0.5}, at: make([]int16, n)}
		for i := range n {
			r.named = append(r.named, i)
			r.at[i] = int16(i + 1)
			r.own = append(r.own, []float64{p.yes[j][i], 1 - p.yes[j][i]})
		}
		for range n * (n - 1) / 2 {
			r.both = append(r.both, []float64{0.5, 0.5})
		}
		r.vary()
		e.rows[fmt.Sprintf("check-%02d", j)] = []*rows{r}
	}
	return e
}

// ranked gives the expected cost of following the ranked order to its stop.
func (p *problem) ranked(t testing.TB) float64 {
	e := p.evidence()
	cost := func(_ []*Ranked, next *Ranked) float64 { return float64(next.Minutes) }
	var follow func(asked uint32, bl *Belief, weight []float64) float64
	follow = func(asked uint32, bl *Belief, weight []float64) float64 {
		sum := total(weight)
		if sum < 1e-12 {
			return 0
		}
		bl.settle()
		var list []Ranked
		for j := range p.cost {
			if asked>>j&1 == 0 {
				r := e.rows[fmt.Sprintf("check-%02d", j)]
				list = append(list, Ranked{Check: &Check{ID: fmt.Sprint(j), Place: Recall}, Minutes: int(p.cost[j]), Bits: bl.gain(r[0]), rows: r})
			}
		}
		rank(list)
		if stop, _ := worth(bl, list, p.stakes, cost); stop {
			out, _ := p.end(weight)
			return out
		}
		require.NotEmpty(t, list)

		var j int
		fmt.Sscan(list[0].Check.ID, &j)
		out := sum * p.cost[j]
		for k, yes := range []bool{true, false} {
			next := &Belief{e: e, single: slices.Clone(bl.single), pair: slices.Clone(bl.pair)}
			mix := []float64{0, 0}
			mix[k] = 1
			next.learn(list[0].rows[0].of([][]float64{mix}, 1))
			out += follow(asked|1<<j, next, p.after(weight, j, yes))
		}
		return out
	}
	return follow(0, e.begin(), p.prior)
}

// T5 of our own: nine faults of a brake (the last is none), nine noisy checks.
var brakes9 = problem{
	prior:  []float64{.20, .08, .08, .05, .08, .15, .05, .11, .20},
	danger: []bool{false, false, true, true, true, false, true, false, false},
	yes: [][]float64{
		{.95, .80, .03, .03, .03, .05, .03, .08, .03}, // the pedal pulses on a slow stop
		{.03, .85, .02, .02, .02, .03, .02, .03, .02}, // a pulse by the parking brake alone
		{.05, .08, .90, .30, .40, .90, .05, .10, .05}, // the pedal is higher when pumped
		{.02, .02, .10, .90, .50, .03, .02, .02, .02}, // it sinks under a steady push
		{.03, .03, .05, .05, .92, .05, .02, .05, .03}, // fluid low, or a wet wheel
		{.95, .95, .90, .90, .90, .95, .10, .95, .97}, // it drops as the engine starts
		{.10, .05, .05, .03, .35, .08, .03, .90, .04}, // it pulls, or one rim is hot
		{.97, .05, .05, .05, .05, .05, .05, .10, .05}, // thickness varies by micrometer
		{.03, .03, .93, .10, .25, .05, .03, .03, .03}, // bubbles when a little is bled
	},
	cost:   []float64{3, 4, 2, 2, 6, 2, 8, 30, 20},
	stakes: stakes{150, 1500, math.Inf(1)},
}

func TestExactSolver(t *testing.T) {
	// Ours; the value and the number of states were worked out by another
	// program before this one was written.
	v, states, first := brakes9.exact()
	assert.InDelta(t, 76.74, v, 0.005)
	assert.Equal(t, 12565, states)
	assert.Equal(t, 0, first, "the pulse first")

	// The same with handing over at 60 minutes: one check by itself is not worth
	// it, a plan of several is (ours, 55.84).
	over := brakes9
	over.stakes.handOver = 60
	v, _, _ = over.exact()
	assert.InDelta(t, 55.84, v, 0.005)
	weights := total(over.prior)
	best := math.Inf(-1)
	for j := range over.cost {
		yes, _ := over.end(over.after(over.prior, j, true))
		no, _ := over.end(over.after(over.prior, j, false))
		best = max(best, 60*weights-yes-no-over.cost[j])
	}
	assert.InDelta(t, -2.00, best, 0.005, "the best single check is not worth its minutes")
}

// Checks without noise: the cost of telling which of several states it is.
type sequence struct {
	prior []float64
	cost  []float64
	rows  []string // by state, what each test gives
}

func (s *sequence) exact() float64 {
	memo := map[uint32]float64{}
	var best func(set uint32) float64
	best = func(set uint32) float64 {
		if bits.OnesCount32(set) == 1 {
			return 0
		}
		if v, seen := memo[set]; seen {
			return v
		}
		out := math.Inf(1)
		for j, cost := range s.cost {
			yes, weight := uint32(0), 0.0
			for i := range s.prior {
				if set>>i&1 == 1 {
					weight += s.prior[i]
					if s.rows[i][j] == '1' {
						yes |= 1 << i
					}
				}
			}
			if yes == 0 || yes == set {
				continue
			}
			out = min(out, weight*cost+best(yes)+best(set&^yes))
		}
		memo[set] = out
		return out
	}
	return best(1<<len(s.prior) - 1)
}

// greedy follows the most information per cost.
func (s *sequence) greedy() float64 {
	entropy := func(set uint32, weight float64) float64 {
		h := 0.0
		for i, p := range s.prior {
			if set>>i&1 == 1 {
				h -= p / weight * math.Log2(p/weight)
			}
		}
		return h
	}
	weigh := func(set uint32) float64 {
		w := 0.0
		for i, p := range s.prior {
			if set>>i&1 == 1 {
				w += p
			}
		}
		return w
	}
	var follow func(set uint32) float64
	follow = func(set uint32) float64 {
		if bits.OnesCount32(set) == 1 {
			return 0
		}
		w := weigh(set)
		best, yes, cost := 0.0, uint32(0), 0.0
		for j, c := range s.cost {
			y := uint32(0)
			for i := range s.prior {
				if set>>i&1 == 1 && s.rows[i][j] == '1' {
					y |= 1 << i
				}
			}
			if y == 0 || y == set {
				continue
			}
			wy := weigh(y)
			gain := entropy(set, w) - wy/w*entropy(y, wy) - (1-wy/w)*entropy(set&^y, w-wy)
			if gain/c > best+1e-12 {
				best, yes, cost = gain/c, y, c
			}
		}
		return w*cost + follow(yes) + follow(set&^yes)
	}
	return follow(1<<len(s.prior) - 1)
}

func TestSequences(t *testing.T) {
	for _, row := range []struct {
		name          string
		s             sequence
		exact, greedy float64
		source        string
	}{
		{"T1", sequence{[]float64{.70, .01, .02, .10, .05, .12}, []float64{1, 1, 1, 1, 1},
			[]string{"00000", "01001", "00110", "10011", "11000", "11110"}}, 2.18, 2.86,
			"data and optimum from memory: Pattipati and Alexandridis, IEEE Trans. SMC 20(4), 1990; optimum and greedy re-computed by another program"},
		{"by hand: one test parts two states", sequence{[]float64{.5, .5}, []float64{3}, []string{"0", "1"}}, 3, 3, "by hand: 1 x 3"},
		{"by hand: the cheap test first", sequence{[]float64{.5, .25, .25}, []float64{1, 4}, []string{"00", "10", "11"}}, 3, 3, "by hand: 1 + 0.5 x 4"},
	} {
		t.Run(row.name, func(t *testing.T) {
			require.NotEmpty(t, row.source)
			assert.InDelta(t, row.exact, row.s.exact(), 1e-9)
			assert.InDelta(t, row.greedy, row.s.greedy(), 1e-9)
		})
	}
}

// Actions one after another until the trouble is gone.
func repairs(faults []float64, mends [][]float64, cost []float64, order []int) float64 {
	left := slices.Clone(faults)
	out := 0.0
	for _, a := range order {
		out += cost[a] * total(left)
		for i := range left {
			left[i] *= 1 - mends[a][i]
		}
	}
	return out
}

func orders(n int, yield func([]int)) {
	var go1 func(order []int)
	go1 = func(order []int) {
		if len(order) == n {
			yield(order)
			return
		}
		for a := range n {
			if !slices.Contains(order, a) {
				go1(append(slices.Clone(order), a))
			}
		}
	}
	go1(nil)
}

func TestRepairOrders(t *testing.T) {
	for _, row := range []struct {
		name   string
		faults []float64
		mends  [][]float64
		cost   []float64
		order  []int
		want   float64
		source string
	}{
		{"T2", []float64{.80, .15, .05}, [][]float64{{1, 0, 0}, {0, .95, 0}, {.99, .99, 0}, {1, 1, 1}}, []float64{1, 2, 25, 500},
			[]int{0, 1, 2, 3}, 27.875, "statement: Jensen and Nielsen, Bayesian Networks and Decision Graphs, exercise on troubleshooting; the answer is ours, worked by another program"},
		{"T3", []float64{.4, .3, .2, .1}, [][]float64{{1, 0, 0, 0}, {0, 1, 0, 0}, {0, 0, 1, 0}, {0, 0, 0, 1}}, []float64{30, 5, 10, 1},
			[]int{3, 1, 2, 0}, 23.5, "ours, by hand: 1 + .9 x 5 + .6 x 10 + .4 x 30"},
	} {
		t.Run(row.name, func(t *testing.T) {
			require.NotEmpty(t, row.source)
			assert.InDelta(t, row.want, repairs(row.faults, row.mends, row.cost, row.order), 1e-9)
			orders(len(row.cost), func(order []int) {
				assert.GreaterOrEqual(t, repairs(row.faults, row.mends, row.cost, order), row.want-1e-9, "%v", order)
			})
		})
	}
}

// The ranked order against the exact one, at the size of T5.
func TestRankedAgainstExact(t *testing.T) {
	v, _, _ := brakes9.exact()
	ranked := brakes9.ranked(t)
	t.Logf("T5: exact %.2f, ranked %.2f, %.3f times", v, ranked, ranked/v)
	assert.LessOrEqual(t, ranked/v, 1.10)
	assert.GreaterOrEqual(t, ranked, v-1e-9, "nothing is better than exact")
	n := 40
	if testing.Short() {
		n = 6
	}
	sum, worst := 0.0, 0.0
	for seed := range n {
		dice := rand.New(rand.NewPCG(uint64(seed), 5))
		p := problem{stakes: stakes{150, 1500, []float64{math.Inf(1), 120, 60}[seed%3]}}
		for i := range 9 {
			p.prior = append(p.prior, 1/float64(i+1))
			p.danger = append(p.danger, i%2 == 1)
		}
		dice.Shuffle(9, func(i, j int) { p.prior[i], p.prior[j] = p.prior[j], p.prior[i] })
		share(p.prior)
		for range 9 {
			var row []float64
			for range 9 {
				row = append(row, []float64{.03, .03, .03, .1, .3, .85, .97}[dice.IntN(7)])
			}
			p.yes = append(p.yes, row)
			p.cost = append(p.cost, []float64{1, 2, 3, 5, 8, 15, 20, 30}[dice.IntN(8)])
		}
		best, _, _ := p.exact()
		ranked := p.ranked(t)
		assert.GreaterOrEqual(t, ranked, best-1e-9)
		assert.LessOrEqual(t, ranked/best, 1.10, "problem %d", seed)
		sum += ranked / best
		worst = max(worst, ranked/best)
	}
	t.Logf("%d problems: %.3f times exact in the mean, %.3f at worst", n, sum/float64(n), worst)
}
