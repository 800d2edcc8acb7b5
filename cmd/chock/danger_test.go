package main

import (
	"cmp"
	"flag"
	"fmt"
	"maps"
	"math/rand/v2"
	"runtime"
	"runtime/debug"
	"slices"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"chock/tree"
)

// With -long every flip at every wheel is tried, and four times the ways
// through each tree, which takes minutes:
//
//	go test ./cmd/chock -run TestDangers -long
var long = flag.Bool("long", false, "try every flip of TestDangers, not a part of them")

// openCases are checks of which one wrong answer talks a danger away today, as
// "cause: check". It must shrink: one that is met no longer fails.
var openCases = []string{}

// A faulty is a vehicle with one dangerous cause at one wheel: it answers as
// a sound one, but that every check which can show the cause does.
type faulty struct {
	cause *tree.Cause
	wheel string
	facts map[string]map[string][]string
	shown []string // checks that show the cause
}

// dangersOf gives vehicles with a cause: for each check that can show it, each
// answer that does, and each wheel where that is asked, the vehicle is built
// so that this check applies, and every other one that can apply then.
func dangersOf(b *tree.Book, cause *tree.Cause) []faulty {
	var out []faulty
	seen := map[string]bool{}
	where := func(c *tree.Check) []string {
		if c.At == "named" {
			return asked["front"]
		}
		return asked[c.At]
	}
	// A sign that the whole vehicle gives comes from a wheel where the fault
	// can be.
	var can []string
	for _, wheel := range tree.Wheels {
		for _, c := range b.Checks {
			if showing(c, cause.ID, wheel) != "" && slices.Contains(where(c), wheel) && !slices.Contains(can, wheel) {
				can = append(can, wheel)
			}
		}
	}
	if can == nil {
		can = []string{"front-left", "rear-left"}
	}
	for _, id := range sortedKeys(b.Checks) {
		look := b.Checks[id]
		wheels := where(look)
		for _, a := range look.Answers {
			for _, wheel := range wheels {
				if !slices.Contains(a.Shows, cause.ID) {
					continue
				}
				at := []string{wheel}
				if wheel == "" {
					at = can
				}
				for _, wheel := range at {
					f := newFaulty(b, cause, look, a.ID, wheel)
					if key := fmt.Sprint(f.facts); !seen[key] {
						seen[key] = true
						out = append(out, f)
					}
				}
			}
		}
	}
	return out
}

func newFaulty(b *tree.Book, cause *tree.Cause, look *tree.Check, answer, wheel string) faulty {
	f := faulty{cause: cause, wheel: wheel, facts: equipped(b)}
	fixed := map[[2]string][]string{}
	// build makes conditions hold, if nothing that is settled speaks against it.
	var build func(conds []tree.Cond) bool
	build = func(conds []tree.Cond) bool {
		var want [][2]string
		for _, cond := range conds {
			q := b.Checks[cond.Question]
			at := []string{""}
			if q.At != "" && q.At != "named" {
				at = slices.DeleteFunc(slices.Clone(asked[q.At]), func(w string) bool { return w != wheel })
				if !slices.ContainsFunc(q.Answers, func(a *tree.Answer) bool { return a.Normal }) {
					axle, _, _ := strings.Cut(wheel, "-") // how an axle is built, it is on both sides
					at = asked[axle]
				}
			}
			if !build(q.OnlyIf) || at == nil {
				return false
			}
			for _, w := range at {
				k := [2]string{q.ID, w}
				ids := fixed[k]
				if ids == nil {
					ids = f.facts[q.ID][w]
				}
				switch {
				case intersects(ids, cond.Answers):
				case fixed[k] != nil:
					return false
				default:
					ids = cond.Answers[:1]
				}
				fixed[k] = ids
				want = append(want, k)
			}
		}
		for _, k := range want {
			f.set(k[0], k[1], fixed[k])
		}
		return true
	}
	show := func(c *tree.Check, answer string) {
		at := ""
		if c.At != "" {
			at = wheel
		}
		if at != "" && c.At != "named" && !slices.Contains(asked[c.At], at) {
			return // not asked where the fault is
		}
		k := [2]string{c.ID, at}
		before := maps.Clone(fixed)
		build(cause.OrIf)
		if !build(cause.OnlyIf) || !build(c.OnlyIf) {
			fixed = before
			return
		}
		ids := fixed[k]
		if ids == nil {
			ids = []string{answer}
			if c.Measure != "" {
				ids = outcomes(b, c, answer, func(l tree.CalcLimit) string { return soundOutcome(c, l) })
			}
			fixed[k] = ids
		}
		if c.At == "named" {
			for _, q := range b.Checks {
				if q.Picks {
					f.set(q.ID, "", []string{wheel})
				}
			}
		}
		f.set(c.ID, at, ids)
		for _, id := range ids {
			if slices.Contains(c.Answer(id).Shows, cause.ID) {
				f.shown = append(f.shown, c.ID)
				return
			}
		}
	}
	show(look, answer)
	for _, id := range sortedKeys(b.Checks) {
		if c := b.Checks[id]; c != look {
			if a := showing(c, cause.ID, wheel); a != "" {
				show(c, a)
			}
		}
	}
	return f
}

// showing gives the answer by which a check shows a cause; among the outcomes
// of a comparison, one that names the wheel.
func showing(c *tree.Check, cause, wheel string) string {
	best := ""
	for _, a := range c.Answers {
		if slices.Contains(a.Shows, cause) && (best == "" || wheel != "" && c.At == "" && strings.HasPrefix(a.ID, wheel)) {
			best = a.ID
		}
	}
	return best
}

func (f *faulty) set(check, wheel string, ids []string) {
	if f.facts[check] == nil {
		f.facts[check] = map[string][]string{}
	}
	f.facts[check][wheel] = ids
}

// A drive of a talk by somebody in front of such a vehicle.
type driven struct {
	*faulty
	b          *tree.Book
	complaints []string
	build      *naive // knows what the vehicle is built like
	flipped    [2]string
	to         []string
}

// says gives the answer at one wheel. About a part that the vehicle does not
// have nobody is sure, whatever was said to make the talk ask for it.
func (d *driven) says(c *tree.Check, wheel string) tree.Said {
	k := [2]string{c.ID, wheel}
	ids := d.facts[c.ID][wheel]
	if ids == nil {
		ids = d.facts[c.ID][""]
	}
	if ids == nil {
		ids = normal(d.b, c)
	}
	if !d.build.applies(c, wheel) {
		ids = []string{tree.Unsure}
	}
	if d.to != nil && k == d.flipped {
		ids = d.to
	}
	return sayAt(c, wheel, ids...)
}

// built knows of every question about how the vehicle is built what is true.
func (f *faulty) built(b *tree.Book) *naive {
	var said []tree.Said
	for id, at := range f.facts {
		for wheel, ids := range at {
			if c := b.Checks[id]; wheel == "" && c.At != "" {
				for _, wheel := range asked[c.At] {
					if at[wheel] == nil {
						said = append(said, sayAt(c, wheel, ids...))
					}
				}
			} else {
				said = append(said, sayAt(c, wheel, ids...))
			}
		}
	}
	for _, c := range b.Checks { // whatever else is asked is in order
		if f.facts[c.ID] == nil && c.Measure == "" && c.At != "named" {
			for _, wheel := range asked[c.At] {
				said = append(said, sayAt(c, wheel, normal(b, c)...))
			}
		}
	}
	return newNaive(b, nil, said)
}

// goOn talks on from what was said until nothing is left to ask.
func (d *driven) goOn(said []tree.Said) ([]tree.Said, *tree.Walk) {
	for {
		w := d.b.Walk(d.complaints, said)
		p := w.Next
		if p == nil {
			return said, w
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

// flip gives what the talk comes to when one answer of it is another. What
// would not have been asked after that is taken out of what was said, which
// is quicker than talking anew: nobody is asked a road check after a look
// that failed, or about the shoes of a disc brake.
func (d *driven) flip(said []tree.Said, i int, to []string) ([]tree.Said, *tree.Walk) {
	d.flipped, d.to = [2]string{said[i].Check, said[i].Wheel}, to
	said = slices.Clone(said)
	said[i] = d.says(d.b.Checks[said[i].Check], said[i].Wheel)
	for range 6 {
		var w *tree.Walk
		said, w = d.goOn(said)
		n := newNaive(d.b, d.complaints, said)
		wheels := map[string][]string{} // where each check was asked
		for i, v := range w.Visits {
			if v.Standing == tree.Answered && n.toHand(v.Check) && !d.barred(said, w.Visits[:i], v.Check) {
				wheels[v.Check.ID] = v.Wheels
			}
			for _, in := range v.Check.Inputs {
				if in.Figure != "" {
					wheels[in.Figure] = []string{""}
				}
			}
		}
		kept := slices.DeleteFunc(slices.Clone(said), func(s tree.Said) bool { return !slices.Contains(wheels[s.Check], s.Wheel) })
		if len(kept) == len(said) {
			return said, w
		}
		said = kept
	}
	return d.goOn(nil) // the order in which answers opened trees matters: the slow way
}

// barred reports whether a check was barred when the talk came to it: what was
// asked after it may bar the road, but did not then.
func (d *driven) barred(said []tree.Said, before []tree.Visit, c *tree.Check) bool {
	if c.Place != tree.Yard && c.Place != tree.Road {
		return false
	}
	said = slices.DeleteFunc(slices.Clone(said), func(s tree.Said) bool {
		return !slices.ContainsFunc(before, func(v tree.Visit) bool { return v.Check.ID == s.Check })
	})
	n := newNaive(d.b, d.complaints, said)
	n.until = c.ID
	yard, road := n.bars()
	return yard || c.Place == tree.Road && road
}

// talkedAway tells how a danger was talked away, "" when it was not. When the
// wrong answer was about how the vehicle is built, the talk asks for parts
// that are not there, so that what it lists is a check of that wheel. A cause
// that is said to be put right and tried again stands as "found, put right",
// with care, which is what the design asks for.
func talkedAway(a *tree.Assessment, cause *tree.Cause, kind *tree.Said) string {
	listed := slices.ContainsFunc(a.NotChecked, func(u tree.Unchecked) bool {
		return u.Kind == "cause" && u.ID == cause.ID || kind != nil && u.Kind != "cause" && u.Dangerous && u.Wheel == kind.Wheel
	})
	mended := slices.ContainsFunc(a.Findings, func(f tree.Finding) bool { return f.Cause == cause && f.Standing == tree.Mended })
	switch {
	case a.Drive == tree.Stop || mended && a.Drive == tree.Care && !a.NoFault || listed && a.Drive == tree.Care && !a.NoFault:
		return ""
	case a.NoFault:
		return "no fault found"
	case listed:
		return a.Drive.String()
	}
	return a.Drive.String() + ", not listed"
}

// others gives every other way in which a check may be answered.
func others(b *tree.Book, c *tree.Check, ids []string) [][]string {
	var out [][]string
	if c.Measure != "" {
		calc, _ := b.Calculation(c.Measure)
		for _, l := range calc.Limits {
			for i, id := range ids {
				if slices.Contains(l.Outcomes, id) {
					for _, o := range l.Outcomes {
						if o != id {
							with := slices.Clone(ids)
							with[i] = o
							out = append(out, with)
						}
					}
				}
			}
		}
	} else {
		for _, a := range c.Answers {
			if !slices.Equal(ids, []string{a.ID}) {
				out = append(out, []string{a.ID})
			}
		}
	}
	if ids[0] != tree.Unsure {
		out = append(out, []string{tree.Unsure})
	}
	return out
}

// near gives the checks that have to do with a cause: those that show, clear
// or mend it, and what they wait for.
func near(b *tree.Book, cause *tree.Cause) map[string]bool {
	out := map[string]bool{}
	n := &naive{b: b}
	var add func(c *tree.Check)
	add = func(c *tree.Check) {
		if !out[c.ID] {
			out[c.ID] = true
			for _, q := range n.waitsFor(c) {
				add(q)
			}
		}
	}
	for _, cond := range slices.Concat(cause.OnlyIf, cause.OrIf) {
		add(b.Checks[cond.Question])
	}
	for _, c := range b.Checks {
		for _, a := range c.Answers {
			if slices.Contains(slices.Concat(a.Shows, a.Clears, a.Mended), cause.ID) {
				add(c)
			}
		}
	}
	return out
}

// An away is a flip that talks a danger away: "cause: check", and how.
type away struct{ flip, outcome string }

// TestDangers: a vehicle with a dangerous cause ends in "do not drive", and
// one wrong answer does not change that, or leaves the cause under "not
// checked", with care at the mildest and without "no fault found".
func TestDangers(t *testing.T) {
	defer debug.SetGCPercent(debug.SetGCPercent(400))
	b := loadBook(t)
	sets := append(eachAlone(b), complaintsOf(b))
	single := map[string]bool{}
	for _, c := range b.SingleLooks() {
		single[c.ID] = true
	}
	kinds := map[string]bool{} // questions about how a vehicle is built
	kindly := func(conds []tree.Cond) {
		for _, cond := range conds {
			q := b.Checks[cond.Question]
			kinds[q.ID] = !slices.ContainsFunc(q.Answers, func(a *tree.Answer) bool { return a.Normal })
		}
	}
	for _, c := range b.Causes {
		kindly(c.OnlyIf)
		kindly(c.OrIf)
	}
	for _, c := range b.Checks {
		kindly(c.OnlyIf)
	}
	type task struct {
		f          faulty
		complaints []string
		seed       uint64
	}
	var tasks []task
	dice := rand.New(rand.NewPCG(1, 11))
	for _, c := range b.Causes {
		if c.Drive != tree.Stop {
			continue
		}
		vehicles := dangersOf(b, c)
		require.NotEmpty(t, vehicles, "no answer shows %s", c.ID)
		open := slices.ContainsFunc(openCases, func(o string) bool { return strings.HasPrefix(o, c.ID+":") })
		if !*long && !open {
			// One of the vehicles, about everything and about one complaint.
			i := dice.IntN(len(vehicles))
			vehicles = vehicles[i : i+1]
		}
		for _, f := range vehicles {
			one := dice.IntN(len(sets) - 1)
			for i, set := range sets {
				if *long || i == len(sets)-1 || i == one {
					tasks = append(tasks, task{f, set, dice.Uint64()})
				}
			}
		}
	}
	if testing.Short() {
		dice.Shuffle(len(tasks), func(i, j int) { tasks[i], tasks[j] = tasks[j], tasks[i] })
		tasks = tasks[:min(40, len(tasks))]
	}
	var mu sync.Mutex
	flips, again := 0, 0
	found := map[string]bool{}
	bad := map[away]map[string]bool{} // where
	note := func(x away, complaints []string) {
		mu.Lock()
		defer mu.Unlock()
		if bad[x] == nil {
			bad[x] = map[string]bool{}
		}
		where := complaints[0]
		if len(complaints) > 1 {
			where = "all"
		}
		bad[x][where] = true
	}
	run := func(k task) {
		dice := rand.New(rand.NewPCG(k.seed, 3))
		d := &driven{faulty: &k.f, b: b, complaints: k.complaints, build: k.f.built(b)}
		said, w := d.goOn(nil)
		a := b.Assess(w)
		id := k.f.cause.ID
		shown := map[string]bool{} // by a check that was asked
		for _, s := range said {
			if slices.Contains(k.f.shown, s.Check) && (s.Wheel == "" || s.Wheel == k.f.wheel) && !notSure(s) {
				shown[s.Check] = true
			}
		}
		is := slices.ContainsFunc(a.Findings, func(f tree.Finding) bool { return f.Cause.ID == id && f.Standing == tree.Found })
		mu.Lock()
		found[id] = found[id] || is
		mu.Unlock()
		if is != (len(shown) > 0) || is && a.Drive != tree.Stop {
			note(away{id + ": found " + fmt.Sprint(is) + " though shown by " + strings.Join(sortedKeys(shown), " "), a.Drive.String()}, k.complaints)
		}
		if how := talkedAway(a, k.f.cause, nil); how != "" {
			note(away{id + ": nothing flipped", how}, k.complaints)
		}
		alone := 0 // looks of their own that were asked and showed it
		for _, c := range b.CanShow(id) {
			if shown[c.ID] {
				alone++
			}
		}
		close := near(b, k.f.cause)
		for i, s := range said {
			c := b.Checks[s.Check]
			if c == nil || !*long && !close[c.ID] && dice.IntN(40) > 0 {
				continue
			}
			if single[id] && alone == 1 && shown[c.ID] && slices.Contains(b.CanShow(id), c) {
				continue // its one look
			}
			var kind *tree.Said
			if kinds[c.ID] {
				kind = &s
			}
			for _, to := range others(b, c, s.Answers) {
				flipped, w := d.flip(said, i, to)
				a := b.Assess(w)
				how := talkedAway(a, k.f.cause, kind)
				mu.Lock()
				flips++
				mu.Unlock()
				if how != "" || dice.IntN(200) == 0 {
					// The slow way comes to the same.
					_, slow := d.goOn(nil)
					o := b.Assess(slow)
					mu.Lock()
					again++
					mu.Unlock()
					if o.Drive != a.Drive || o.NoFault != a.NoFault || talkedAway(o, k.f.cause, kind) != how {
						mu.Lock()
						assert.Equal(t, fmt.Sprint(o.Drive, " ", talkedAway(o, k.f.cause, kind)), fmt.Sprint(a.Drive, " ", how), "%s %v %s@%s > %v\n%s", id, k.complaints, c.ID, s.Wheel, to, script(flipped))
						mu.Unlock()
					}
				}
				if how != "" {
					note(away{id + ": " + c.ID, fmt.Sprintf("%s > %s is %s", strings.Join(s.Answers, ","), strings.Join(to, ","), how)}, k.complaints)
				}
			}
		}
	}
	var wg sync.WaitGroup
	for part := range runtime.GOMAXPROCS(0) {
		wg.Add(1)
		go func() {
			defer wg.Done()
			for i := part; i < len(tasks); i += runtime.GOMAXPROCS(0) {
				run(tasks[i])
			}
		}()
	}
	wg.Wait()
	t.Logf("%d vehicles and complaints, %d flips, %d of them talked anew", len(tasks), flips, again)
	open := map[string][]string{}
	for _, x := range slices.SortedFunc(maps.Keys(bad), func(x, y away) int { return cmp.Or(cmp.Compare(x.flip, y.flip), cmp.Compare(x.outcome, y.outcome)) }) {
		open[x.flip] = append(open[x.flip], x.outcome+", about "+strings.Join(sortedKeys(bad[x]), ", "))
	}
	for _, flip := range sortedKeys(open) {
		if !slices.Contains(openCases, flip) {
			t.Errorf("%s: %s", flip, strings.Join(open[flip], "; "))
		}
	}
	if testing.Short() {
		return
	}
	for _, c := range openCases {
		assert.NotNil(t, open[c], "no longer talks a danger away, take it out: %s", c)
	}
	for _, c := range b.Causes {
		assert.True(t, c.Drive != tree.Stop || found[c.ID], "no talk finds %s", c.ID)
	}
}
