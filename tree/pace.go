package tree

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
)

// Oddities says what is odd about the evidence of a book, for its authors:
// words that do not fit one another, causes that nothing tells apart.
func (b *Book) Oddities() []string {
	e := b.weights()
	var out []string
	say := func(at, what string, r *rows) {
		for _, s := range r.sums {
			if s.total < 0.8 || s.total > 1.25 {
				who := "most causes"
				if s.cause >= 0 {
					who = b.Causes[s.cause].ID
				}
				out = append(out, fmt.Sprintf("%s %s: the words for %s come to %.2f, want 0.8 to 1.25", at, what, who, s.total))
			}
		}
	}
	for _, id := range sortedKeys(e.rows) {
		for _, r := range e.rows[id] {
			say("check", id, r)
		}
	}
	// Two causes are told apart by a check that gives them different rows.
	row := func(r *rows, i int) []float64 {
		if at := r.at[i]; at > 0 {
			return r.own[at-1]
		}
		return r.most
	}
	names := make([]strings.Builder, len(b.Causes))
	mute := make([]bool, len(b.Causes))
	for i, c := range b.Causes {
		mute[i] = true
		for _, id := range sortedKeys(e.rows) {
			for k, r := range e.rows[id] {
				if slices.Equal(row(r, i), r.most) {
					continue
				}
				mute[i] = false
				fmt.Fprintf(&names[i], "%s %d %.4f ", id, k, row(r, i))
			}
		}
		// What the vehicle has to be like for it tells causes apart as well.
		for _, cond := range c.OnlyIf {
			fmt.Fprintf(&names[i], "%s %s ", cond.Question, cond.Answers)
		}
	}
	groups := map[string][]string{}
	var silent []string
	for i, c := range b.Causes {
		if mute[i] {
			silent = append(silent, c.ID)
			continue
		}
		groups[names[i].String()] = append(groups[names[i].String()], c.ID)
	}
	if silent != nil {
		out = append(out, "no check speaks for or against: "+strings.Join(silent, ", "))
	}
	for _, key := range sortedKeys(groups) {
		if len(groups[key]) > 1 {
			out = append(out, "no check tells apart: "+strings.Join(groups[key], ", "))
		}
	}
	return out
}

// A Pace is how many minutes a complaint takes after the first looks, by the
// tree and by the minutes, over the causes that are likeliest for it.
type Pace struct {
	Complaint              *Complaint
	Vehicles               int
	Authored, Ranked       float64 // minutes, in the mean
	AuthoredHit, RankedHit float64 // share of the vehicles whose cause was found, mended or not, or named likely
}

// Pace plays vehicles with one of the likeliest causes of a complaint each,
// which give the likeliest answer to everything, through both orders.
func (b *Book) Pace(c *Complaint, most int) Pace {
	bl := b.Believe(b.Walk([]string{c.ID}, nil))
	order := make([]int, len(b.Causes))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(i, j int) int { return cmp.Compare(bl.Causes[j], bl.Causes[i]) })
	out := Pace{Complaint: c}
	weight := 0.0
	for _, i := range order[:min(most, len(order))] {
		v := b.vehicle(b.Causes[i])
		p := bl.Causes[i]
		minutes, hit := v.talk([]string{c.ID}, false)
		out.Authored += p * minutes
		out.AuthoredHit += p * hit
		minutes, hit = v.talk([]string{c.ID}, true)
		out.Ranked += p * minutes
		out.RankedHit += p * hit
		out.Vehicles++
		weight += p
	}
	out.Authored /= weight
	out.Ranked /= weight
	out.AuthoredHit /= weight
	out.RankedHit /= weight
	return out
}

// A played is a vehicle with one cause that answers by the evidence.
type played struct {
	b     *Book
	cause *Cause
	built map[string][]string // answers to what the vehicle is like and what is to hand
}

func (b *Book) vehicle(c *Cause) *played {
	v := &played{b, c, map[string][]string{}}
	wants := map[string]map[string]int{}
	several := map[string]bool{}
	note := func(conds []Cond, times int) {
		for _, cond := range conds {
			if wants[cond.Question] == nil {
				wants[cond.Question] = map[string]int{}
			}
			for _, a := range cond.Answers {
				wants[cond.Question][a] += times
			}
		}
	}
	for _, o := range b.Checks {
		note(o.OnlyIf, 1)
		note(o.Needs, 1)
		for _, cond := range o.Needs {
			several[cond.Question] = true
		}
	}
	note(c.OnlyIf, 1000)
	for q, answers := range wants {
		o := b.Checks[q]
		if o == nil || slices.ContainsFunc(o.Answers, func(a *Answer) bool { return a.Normal }) || b.weights().rows[q][0].written {
			continue
		}
		best := ""
		for _, a := range o.Answers {
			if best == "" || answers[a.ID] > answers[best] {
				best = a.ID
			}
		}
		v.built[q] = []string{best}
		if o.Several && several[q] {
			v.built[q] = nil
			for _, a := range o.Answers {
				if answers[a.ID] > 0 {
					v.built[q] = append(v.built[q], a.ID)
				}
			}
		}
	}
	return v
}

// says gives the likeliest answers of the vehicle to a check; at the first of
// its wheels as the cause has it, sound at the others.
func (v *played) says(c *Check, first bool) []string {
	if ids := v.built[c.ID]; ids != nil {
		return ids
	}
	var out []string
	i := v.b.weights().index[v.cause.ID]
	for _, r := range v.b.weights().rows[c.ID] {
		row := r.most
		if at := r.at[i]; at > 0 && first {
			row = r.own[at-1]
		}
		best := len(row) - 1
		for k := range row {
			if row[k] > row[best]+1e-12 {
				best = k
			}
		}
		out = append(out, r.answers[best])
	}
	return out
}

// talk goes through a talk; minutes are those after the first looks.
func (v *played) talk(complaints []string, ranked bool) (minutes, hit float64) {
	var said []Said
	for {
		var w *Walk
		if ranked {
			w = v.b.WalkRanked(complaints, said, false)
		} else {
			w = v.b.Walk(complaints, said)
		}
		p := w.Next
		if p == nil {
			for _, f := range v.b.Weigh(w, v.b.Believe(w)).Findings {
				if f.Cause == v.cause && (f.Standing == Found || f.Standing == Mended || f.Standing == Likely) {
					hit = 1
				}
			}
			return minutes, hit
		}
		if p.Figure != nil {
			said = append(said, Said{Check: p.Figure.ID, Answers: []string{Unsure}})
			continue
		}
		if p.Where != "" && !p.Computed {
			minutes += float64(p.Check.Minutes*len(p.Wheels) + v.b.setup(p.Check.Place, w.paid()))
		}
		for n, wheel := range p.Wheels {
			said = append(said, Said{Check: p.Check.ID, Wheel: wheel, Answers: v.says(p.Check, n == 0)})
		}
	}
}
