package main

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"chock/tree"
)

// TestEvidenceOnlyAdds: over random talks about the whole book the evidence
// takes no finding away, brings nothing back that a check cleared, leaves what
// was found as it was, and makes no advice milder.
func TestEvidenceOnlyAdds(t *testing.T) {
	b := loadBook(t)
	talks := 200
	if testing.Short() {
		talks = 60
	}
	added := 0
	for seed := range talks {
		r := newRandom(b, uint64(seed)+90000)
		if fault := r.talk(); fault != "" {
			t.Fatal(fault)
		}
		if r.walk == nil || r.walk.Next != nil {
			continue
		}
		bl := b.Believe(r.walk)
		with, without := b.Weigh(r.walk, bl), b.Assess(r.walk)
		where := fmt.Sprintf("talk %d about %v", seed, r.complaints)
		standing := func(a *tree.Assessment) map[string]string {
			out := map[string]string{}
			for _, f := range a.Findings {
				out[f.Cause.ID] = f.Standing
			}
			return out
		}
		before, after := standing(without), standing(with)
		for id, s := range before {
			switch s {
			case tree.Found, tree.Mended, tree.Unlikely, tree.Likely:
				assert.Equal(t, s, after[id], "%s: %s", where, id)
			case tree.Possible:
				assert.Contains(t, []string{tree.Possible, tree.Likely}, after[id], "%s: %s", where, id)
			}
		}
		for i, c := range b.Causes {
			if before[c.ID] == "" && after[c.ID] != "" {
				added++
				assert.GreaterOrEqual(t, bl.Causes[i], 0.05, "%s: %s", where, c.ID)
			}
			if bl.Causes[i] >= 0.05 {
				assert.NotEmpty(t, after[c.ID], "%s: %s at %.2f", where, c.ID, bl.Causes[i])
			}
		}
		assert.GreaterOrEqual(t, with.Drive, without.Drive, where)
		assert.False(t, with.NoFault && !without.NoFault, where)
		sum := bl.Healthy + bl.NotListed
		for _, p := range bl.Causes {
			sum += p
			assert.True(t, p >= 0 && p <= 1+1e-9, where)
		}
		assert.GreaterOrEqual(t, sum, 1-1e-9, "%s: two at once are counted at both", where)
	}
	t.Logf("%d causes added over %d talks", added, talks)
}

// TestDangersRanked: the hard rules hold in the ranked order too, wherever it
// halts. A vehicle with a danger ends in "do not drive", and no one wrong
// answer changes that, or the danger stands under "not checked", with care at
// the mildest and without "no fault found".
func TestDangersRanked(t *testing.T) {
	b := loadBook(t)
	sets := eachAlone(b)
	dice := rand.New(rand.NewPCG(4, 4))
	most, flips := 3, 0
	if testing.Short() {
		most = 1
	}
	talk := func(d *driven) (*tree.Assessment, []tree.Said, *tree.Walk) {
		var said []tree.Said
		for {
			require.Less(t, len(said), 2000)
			w := b.WalkRanked(d.complaints, said, false)
			p := w.Next
			if p == nil {
				return b.Weigh(w, b.Believe(w)), said, w
			}
			if p.Figure != nil {
				said = append(said, say(p)...)
				continue
			}
			for _, wheel := range p.Wheels {
				said = append(said, d.says(p.Check, wheel))
			}
		}
	}
	for _, c := range b.Causes {
		if c.Drive != tree.Stop {
			continue
		}
		open := map[string]bool{}
		for _, o := range openCases {
			open[o] = true
		}
		vehicles := dangersOf(b, c)
		f := vehicles[dice.IntN(len(vehicles))]
		d := &driven{faulty: &f, b: b, complaints: sets[dice.IntN(len(sets))], build: f.built(b)}
		a, said, w := talk(d)
		how := talkedAway(a, c, nil)
		assert.Empty(t, how, "%s about %v, halted %v\n%s", c.ID, d.complaints, w.Halted, script(said))
		close := near(b, c)
		var at []int
		for i, s := range said {
			if b.Checks[s.Check] != nil && close[s.Check] && !open[c.ID+": "+s.Check] {
				at = append(at, i)
			}
		}
		dice.Shuffle(len(at), func(i, j int) { at[i], at[j] = at[j], at[i] })
		single := slices.Contains(b.SingleLooks(), c)
		for _, i := range at[:min(most, len(at))] {
			s := said[i]
			if single && slices.Contains(b.CanShow(c.ID), b.Checks[s.Check]) {
				continue // its one look
			}
			all := others(b, b.Checks[s.Check], s.Answers)
			d.flipped, d.to = [2]string{s.Check, s.Wheel}, all[dice.IntN(len(all))]
			a, _, w := talk(d)
			flips++
			var kind *tree.Said
			if !slices.ContainsFunc(b.Checks[s.Check].Answers, func(x *tree.Answer) bool { return x.Normal }) {
				kind = &s
			}
			assert.Empty(t, talkedAway(a, c, kind), "%s about %v: %s@%s > %v, halted %v", c.ID, d.complaints, s.Check, s.Wheel, d.to, w.Halted)
			d.to = nil
		}
	}
	t.Logf("%d flips", flips)
}
