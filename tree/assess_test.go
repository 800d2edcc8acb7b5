package tree_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"chock/tree"
	"chock/tree/book"
)

// judged is a book in which one cause can be shown, cleared, mended and named
// in several ways.
var judged = small{
	path: `
  seen: {because: First., then: felt}
  felt: {because: Then., then: bled}
  bled: {because: Then., then: last}
  last: {because: Last., then: {bad: {end: {likely: [danger], possible: [worn, other]}}, odd: {end: {possible: [danger, worn]}}, unsure: {end: {}}, whole: {end: {likely: [danger]}}, fine: {end: {}}}}
`,
	questions: `
  seen: {ask: "Seen?", why: It tells., steps: Look., minutes: 1, place: ground, at: front, unsure: {drive: care}, answers: {wet: {say: Wet, shows: [danger], drive: stop}, damp: {say: Damp, drive: care}, dry: {say: Dry, clears: [danger], normal: true}}}
  felt: {ask: "Felt?", why: It tells., steps: Feel., minutes: 1, place: corner, at: front, answers: {oily: {say: Oily, shows: [danger]}, clean: {say: Clean, clears: [danger], normal: true}}}
  bled: {ask: "Put right?", why: It tells., steps: Look., minutes: 1, place: corner, answers: {tight: {say: Tight again, mended: [danger], normal: true}, not-touched: Not touched}}
  last: {ask: "Last?", ` + seat + `, answers: {bad: Bad, odd: Odd, whole: {say: Whole, clears: [danger, worn], normal: true}, fine: {say: Fine, normal: true}}}
`,
	stop: "danger", causes: "worn other",
}

func TestStandings(t *testing.T) {
	b := judged.load(t)
	const dry = " seen@front-left=dry seen@front-right=dry"
	const clean = " felt@front-left=clean felt@front-right=clean"
	const none = " seen@front-left=unsure seen@front-right=unsure felt@front-left=unsure felt@front-right=unsure"
	for _, row := range []struct {
		name, said string
		want       map[string]string
		drive      tree.Drive
	}{
		{"cleared at every wheel", dry + clean + " bled=not-touched last=fine",
			map[string]string{"danger": tree.Unlikely}, tree.Care},
		{"an end never brings back what was cleared", dry + clean + " bled=not-touched last=bad",
			map[string]string{"danger": tree.Unlikely, "worn": tree.Possible, "other": tree.Possible}, tree.Care},
		{"one wheel not looked at: not cleared", " seen@front-left=dry seen@front-right=unsure felt@front-left=clean felt@front-right=unsure bled=not-touched last=odd",
			map[string]string{"danger": tree.Possible, "worn": tree.Possible}, tree.Stop},
		{"one wheel by one check, the other by the other", " seen@front-left=dry seen@front-right=unsure felt@front-left=unsure felt@front-right=clean bled=not-touched last=odd",
			map[string]string{"danger": tree.Unlikely, "worn": tree.Possible}, tree.Care},
		{"nobody looked, an end calls it likely", none + " bled=not-touched last=bad",
			map[string]string{"danger": tree.Likely, "worn": tree.Possible, "other": tree.Possible}, tree.Stop},
		{"a sign beats an end", " seen@front-left=wet seen@front-right=dry" + clean + " bled=not-touched last=odd",
			map[string]string{"danger": tree.Found, "worn": tree.Possible}, tree.Stop},
		{"put right", " seen@front-left=wet seen@front-right=dry felt@front-left=unsure felt@front-right=unsure bled=tight last=odd",
			map[string]string{"danger": tree.Mended, "worn": tree.Possible}, tree.Care},
		{"a whole-vehicle pass clears it at every wheel", none + " bled=not-touched last=whole",
			map[string]string{"danger": tree.Unlikely, "worn": tree.Unlikely}, tree.Care},
		{"a sign without a cause", " seen@front-left=damp seen@front-right=dry" + clean + " bled=not-touched last=fine",
			map[string]string{"danger": tree.Unlikely}, tree.Care},
	} {
		t.Run(row.name, func(t *testing.T) {
			w := b.Walk([]string{"shake"}, talk("glance=nothing", row.said))
			require.Nil(t, w.Next)
			a := b.Assess(w)
			assert.True(t, a.Ended)
			assert.Equal(t, row.want, found(a))
			assert.Equal(t, row.drive, a.Drive)
		})
	}
}

func TestFindingsCarryTheirReasons(t *testing.T) {
	b := judged.load(t)
	a := b.Assess(b.Walk([]string{"shake"}, talk("glance=nothing",
		"seen@front-right=wet seen@front-left=wet felt@front-left=clean felt@front-right=unsure bled=not-touched last=bad")))
	f := finding(t, a, "danger")
	assert.Equal(t, tree.Finding{
		Cause: b.Cause("danger"), Standing: tree.Found, Drive: tree.Stop, Disagree: true,
		Wheels:  []string{"front-left", "front-right"},
		For:     []tree.Ref{{Check: "seen", Wheel: "front-left", Answer: "wet"}, {Check: "seen", Wheel: "front-right", Answer: "wet"}},
		Against: []tree.Ref{{Check: "felt", Wheel: "front-left", Answer: "clean"}},
	}, f, "seen wet and felt clean at one wheel: look again")
	assert.Equal(t, []string{"danger", "worn", "other"}, []string{a.Findings[0].Cause.ID, a.Findings[1].Cause.ID, a.Findings[2].Cause.ID}, "found first")
	assert.Equal(t, []tree.Ref{{Check: "last", Answer: "bad"}}, finding(t, a, "worn").For)
	assert.Equal(t, "cause", a.Reasons[0].Kind, "the cause is the first reason of the same strictness")

	// The other wheel's pass is no disagreement, nor is one after the repair.
	a = b.Assess(b.Walk([]string{"shake"}, talk("glance=nothing",
		"seen@front-left=wet seen@front-right=dry felt@front-left=unsure felt@front-right=clean bled=not-touched last=bad")))
	assert.False(t, finding(t, a, "danger").Disagree)
	a = b.Assess(b.Walk([]string{"shake"}, talk("glance=nothing",
		"seen@front-left=wet seen@front-right=dry felt@front-left=clean felt@front-right=clean bled=tight last=bad")))
	f = finding(t, a, "danger")
	assert.Equal(t, tree.Mended, f.Standing)
	assert.False(t, f.Disagree)
	assert.Equal(t, tree.Care, f.Drive, "care at most")
	// A pass of the whole vehicle speaks of every wheel.
	a = b.Assess(b.Walk([]string{"shake"}, talk("glance=nothing",
		"seen@front-left=wet seen@front-right=dry felt@front-left=unsure felt@front-right=unsure bled=not-touched last=whole")))
	assert.True(t, finding(t, a, "danger").Disagree)
}

func TestMendedAtAWheel(t *testing.T) {
	b := small{
		path: `
  seen: {because: First., then: bled}
  bled: {because: Then., then: {tight: {end: {}}, unsure: {end: {}}, otherwise: {end: {}}}}
`,
		questions: `
  seen: {ask: "Seen?", ` + seat + `, at: front, answers: {wet: {say: Wet, shows: [leak], drive: stop}, dry: {say: Dry, normal: true, clears: [leak]}}}
  bled: {ask: "Put right?", ` + seat + `, at: front, only-if: {seen: wet}, answers: {tight: {say: Tight again, mended: [leak], normal: true}, not-yet: Not yet}}
`,
		stop: "leak",
	}.load(t)
	assess := func(said string) *tree.Assessment {
		return b.Assess(b.Walk([]string{"shake"}, talk("glance=nothing "+said)))
	}
	a := assess("seen@front-left=wet seen@front-right=wet bled@front-left=tight bled@front-right=not-yet")
	assert.Equal(t, tree.Found, finding(t, a, "leak").Standing, "the other wheel leaks on")
	assert.Equal(t, tree.Stop, a.Drive)
	a = assess("seen@front-left=wet seen@front-right=wet bled@front-left=tight bled@front-right=tight")
	assert.Equal(t, tree.Mended, finding(t, a, "leak").Standing)
	assert.Equal(t, tree.Care, a.Drive)
	// Mended at a wheel that turns out dry: set aside.
	a = assess("seen@front-left=wet seen@front-right=wet bled@front-left=tight bled@front-right=tight seen@front-right=dry")
	assert.Equal(t, []tree.Ref{{Check: "bled", Wheel: "front-right", Answer: "tight"}}, a.SetAside)
}

// What a check was told stands while nobody knows whether another should have
// been asked in its place.
func TestToldBeforeUnsure(t *testing.T) {
	b := small{
		looks: "  glance: First.\n  low: Second.\n  high: Third.\n",
		first: `  spring: {ask: "Where?", ` + seat + `, answers: {low: Low, high: High}}
  low: {ask: "Low?", ` + seat + `, look: yard, only-if: {spring: low}, answers: {loose: {say: Loose, drive: stop, shows: [danger]}, firm: {say: Firm, normal: true, clears: [danger]}}}
  high: {ask: "High?", ` + seat + `, look: yard, only-if: {spring: high}, if-sure: true, answers: {loose: {say: Loose, drive: stop, shows: [danger]}, firm: {say: Firm, normal: true, clears: [danger]}}}`,
		path:      `  one: {because: First., then: {unsure: {end: {}}, otherwise: {end: {}}}}`,
		questions: `  one: {ask: "One?", ` + seat + `, answers: {bad: Bad, fine: {say: Fine, normal: true}}}`,
		stop:      "danger",
	}.load(t)
	of := func(said string) *tree.Assessment {
		return b.Assess(b.Walk([]string{"shake"}, talk("glance=nothing "+said)))
	}
	a := of("spring=high high=loose one=fine")
	assert.Equal(t, tree.Stop, a.Drive)
	a = of("spring=high high=loose one=fine spring=unsure low=firm")
	assert.Equal(t, tree.Found, finding(t, a, "danger").Standing)
	assert.True(t, finding(t, a, "danger").Disagree)
	assert.Equal(t, tree.Stop, a.Drive, "seen is seen")
	assert.Nil(t, a.SetAside)
	a = of("spring=high high=loose one=fine spring=low low=firm")
	assert.Equal(t, tree.Care, a.Drive, "it is built otherwise: nothing stood there to be seen")
	assert.Len(t, a.SetAside, 1)
	w := b.Walk([]string{"shake"}, talk("glance=nothing spring=unsure low=firm one=fine high=unsure"))
	assert.Empty(t, w.Open, "one of the two is enough")
}

func TestNotExplained(t *testing.T) {
	b := small{
		looks:     "  glance: First.\n  pedal: Second.\n",
		first:     `  pedal: {ask: "Pedal?", why: It tells., steps: Press., minutes: 1, place: seat, look: yard, answers: {soft: {say: Soft, fails: true}, firm: {say: Firm, normal: true}}}`,
		path:      `  one: {because: First., then: {bad: {end: {likely: [a]}}, odd: {end: {possible: [a]}}, unsure: {end: {}}, fine: {end: {}}}}`,
		questions: `  one: {ask: "One?", ` + seat + `, answers: {bad: {say: Bad, drive: care}, odd: {say: Odd, drive: care}, fine: {say: Fine, normal: true}}}`,
		causes:    "a",
	}.load(t)
	of := func(said string) []tree.Ref {
		return b.Assess(b.Walk([]string{"shake"}, talk("glance=nothing "+said))).NotExplained
	}
	assert.Nil(t, of("pedal=firm one=bad"), "the tree came to a likely cause")
	assert.Equal(t, []tree.Ref{{Check: "one", Answer: "odd"}}, of("pedal=firm one=odd"))
	assert.Equal(t, []tree.Ref{{Check: "pedal", Answer: "soft"}}, of("pedal=soft one=bad"), "a look is on no path")
	assert.Nil(t, of("pedal=firm one=fine"))
}

func TestNoFault(t *testing.T) {
	s := small{
		looks: "  glance: First.\n  tyres: Second.\n",
		first: `  tyres: {ask: "Tyres?", why: It tells., steps: Look., minutes: 1, place: ground, look: road, answers: {bald: {say: Bald, fails: true}, good: {say: Good, normal: true}}}`,
		path:  `  one: {because: First., then: {bad: {end: {likely: [a]}}, unsure: {end: {}}, fine: {end: {}}, other: {end: {}}}}`,
		questions: `  one: {ask: "One?", ` + seat + `, answers: {bad: {say: Bad, shows: [danger]}, other: Other, fine: {say: Fine, normal: true, clears: [danger]}}}
  brake: {ask: "Which?", ` + seat + `, answers: {disc: Disc, drum: Drum}}`,
		stop: "danger", causes: "a",
		onlyIf: map[string]string{"danger": "{brake: disc}"},
	}
	b := s.load(t)
	of := func(said string) bool {
		return b.Assess(b.Walk([]string{"shake"}, talk("glance=nothing "+said))).NoFault
	}
	assert.True(t, of("tyres=good one=fine"))
	assert.False(t, of("tyres=good one=other"), "nothing found so far")
	assert.False(t, of("tyres=good one=unsure/cannot-tell"))
	assert.True(t, of("tyres=good one=other brake=drum"), "the danger is none of this vehicle's")
	assert.False(t, of("tyres=unsure/cannot-tell one=fine"), "a look is open")
	assert.False(t, of("tyres=bald one=fine"))
	assert.False(t, of("tyres=good one=bad"))
	assert.False(t, of("tyres=good"), "not at the end yet")
	a := b.Assess(b.Walk([]string{"shake"}, talk("glance=nothing tyres=good one=other")))
	assert.Equal(t, tree.Unchecked{Kind: "cause", ID: "danger", Cause: b.Cause("danger"), Dangerous: true}, a.NotChecked[0])
}

func TestReasons(t *testing.T) {
	b := judged.load(t)
	kinds := func(said string) (out []string) {
		for _, r := range b.Assess(b.Walk([]string{"shake"}, talk(said))).Reasons {
			out = append(out, r.Drive.String()+" "+r.Kind)
		}
		return out
	}
	assert.Equal(t, []string{"care unfinished"}, kinds(""))
	assert.Equal(t, []string{"stop cause", "stop answer", "care unsure", "care unfinished"}, kinds("glance=nothing seen@front-left=wet seen@front-right=unsure"))
	assert.Equal(t, []string{"care no-cause"}, kinds("glance=nothing seen@front-left=dry seen@front-right=dry felt@front-left=clean felt@front-right=clean bled=not-touched last=fine"))
	// A danger that nothing cleared is no reason to drive on, and none under way.
	danger := small{
		path:      `  one: {because: First., then: {bad: {end: {likely: [a]}}, unsure: {end: {}}, fine: {end: {}}, other: {end: {likely: [a]}}}}`,
		questions: `  one: {ask: "One?", ` + seat + `, answers: {bad: {say: Bad, shows: [danger]}, other: Other, fine: {say: Fine, normal: true, clears: [danger]}}}`,
		stop:      "danger", causes: "a",
	}.load(t)
	last := func(said string) (out []string) {
		a := danger.Assess(danger.Walk([]string{"shake"}, talk("glance=nothing "+said)))
		for _, r := range a.Reasons {
			out = append(out, r.Drive.String()+" "+r.Kind)
		}
		return append(out, a.Drive.String())
	}
	assert.Equal(t, []string{"care not-checked", "care"}, last("tyres=good one=other"))
	assert.Equal(t, []string{"care no-cause", "care"}, last("tyres=good one=fine"))
	assert.NotContains(t, last("tyres=good"), "care not-checked")

	text, err := tree.Stop.MarshalText()
	require.NoError(t, err)
	assert.Equal(t, "stop", string(text))
}

// talkOf draws a whole talk with the book: complaints, and an answer to
// whatever comes next, until nothing does.
func talkOf(t *rapid.T, b *tree.Book) (complaints []string, said []tree.Said) {
	for _, c := range b.Complaints {
		if rapid.Bool().Draw(t, c.ID) {
			complaints = append(complaints, c.ID)
		}
	}
	for range 2000 {
		w := b.Walk(complaints, said)
		if w.Next == nil {
			return complaints, said
		}
		p := w.Next
		if len(p.Wheels) == 0 {
			t.Fatalf("%s is asked at no wheel", p.Check.ID)
		}
		if p.Figure != nil {
			said = append(said, tree.Said{Check: p.Figure.ID})
			continue
		}
		for _, wheel := range p.Wheels {
			said = append(said, tree.Said{Check: p.Check.ID, Wheel: wheel, Answers: answerOf(t, b, p)})
		}
	}
	t.Fatal("a talk without an end")
	return nil, nil
}

// answerOf draws an answer that the check may be given.
func answerOf(t *rapid.T, b *tree.Book, p *tree.Prompt) []string {
	c := p.Check
	n := rapid.IntRange(0, 9).Draw(t, c.ID)
	switch {
	case n == 0:
		return []string{tree.Unsure}
	case n == 1 && !p.Computed:
		return []string{tree.Later}
	case c.Measure == "":
		return []string{rapid.SampledFrom(c.Answers).Draw(t, "answer").ID}
	}
	calc, _ := b.Calculation(c.Measure)
	var out []string
	for _, l := range calc.Limits {
		out = append(out, rapid.SampledFrom(l.Outcomes).Draw(t, l.ID))
	}
	return out
}

// What the answers come to depends on the set of answers, never on their order.
func TestAssessmentKnowsNoOrder(t *testing.T) {
	own, err := tree.Load(book.FS, calcs)
	require.NoError(t, err)
	for name, b := range map[string]*tree.Book{
		"judged": judged.load(t), "barring": barring.load(t), "built": built.load(t), "measured": measured.load(t), "embedded": own,
	} {
		t.Run(name, rapid.MakeCheck(func(t *rapid.T) {
			complaints, said := talkOf(t, b)
			// Only what stands: one Said for each check and wheel.
			last := map[[2]string]tree.Said{}
			for _, s := range said {
				last[[2]string{s.Check, s.Wheel}] = s
			}
			var once []tree.Said
			for _, s := range said {
				k := [2]string{s.Check, s.Wheel}
				if l, ok := last[k]; ok {
					once = append(once, l)
					delete(last, k)
				}
			}
			w, other := b.Walk(complaints, once), b.Walk(complaints, rapid.Permutation(once).Draw(t, "order"))
			if next(w) != next(other) {
				t.Fatalf("next is %q or %q", next(w), next(other))
			}
			assert.Equal(t, b.Assess(w), b.Assess(other))
		}))
	}
}

// A dangerous sign is never talked away by more answers of the same talk: only
// by another answer to the same check, by mending it, or by what sets it aside.
func TestStopSignStands(t *testing.T) {
	b, err := tree.Load(book.FS, calcs)
	require.NoError(t, err)
	rapid.Check(t, func(t *rapid.T) {
		complaints, said := talkOf(t, b)
		stop := false
		for i := range said {
			a := b.Assess(b.Walk(complaints, said[:i+1]))
			c := b.Checks[said[i].Check]
			if c == nil {
				continue
			}
			signed := false
			for _, id := range said[i].Answers {
				if ans := c.Answer(id); ans != nil && ans.Drive == tree.Stop && len(ans.Shows) == 0 && c.OnlyIf == nil {
					signed = true
				}
			}
			stop = stop || signed
			if stop && a.Drive != tree.Stop {
				t.Fatalf("after %s the advice is %s", said[i].Check, a.Drive)
			}
		}
	})
}

// Where both stand, at one wheel where both are known by wheel, a finding says
// what it may come from. Neither goes away for it.
func TestComesFrom(t *testing.T) {
	heat := small{
		path: `
  drags: {because: First., then: blue}
  blue: {because: Then., then: {spots: {end: {likely: [spots]}}, unsure: {end: {possible: [spots]}}, none: {end: {}}}}
`,
		questions: `
  drags: {ask: "Drags?", why: It tells., steps: Turn., minutes: 1, place: corner, at: front, answers: {tight: {say: Tight, shows: [drag]}, free: {say: Free, clears: [drag], normal: true}}}
  blue: {ask: "Blue?", why: It tells., steps: Look., minutes: 1, place: wheel-off, at: front, answers: {spots: {say: Spots, shows: [spots]}, none: {say: None, clears: [spots], normal: true}}}
`,
		stop: "drag spots", comesFrom: map[string]string{"spots": "{drag: Heat makes them}"},
	}.load(t)
	for _, row := range []struct {
		said string
		want string
	}{
		{"drags@front-left=tight drags@front-right=free blue@front-left=spots blue@front-right=none", "drag: Heat makes them"},
		{"drags@front-left=tight drags@front-right=free blue@front-left=none blue@front-right=spots", ""},
		{"drags@front-left=free drags@front-right=free blue@front-left=spots blue@front-right=none", ""},
		{"drags@front-left=tight drags@front-right=tight blue@front-left=unsure blue@front-right=unsure", ""}, // only possible
	} {
		a := heat.Assess(heat.Walk([]string{"shake"}, talk("glance=nothing "+row.said)))
		got := ""
		for _, o := range finding(t, a, "spots").ComesFrom {
			got += o.Cause + ": " + o.Because
		}
		assert.Equal(t, row.want, got, row.said)
		if row.want != "" {
			assert.Equal(t, tree.Found, finding(t, a, "drag").Standing)
		}
	}
}

// A round of checks is no complaint: its end may find nothing, and a find at
// one place explains nothing at another.
func TestRound(t *testing.T) {
	round := judged.fs()
	round["book.yaml"].Data = []byte(strings.Replace(string(round["book.yaml"].Data), "short: Shakes", "short: Shakes, round: true", 1))
	whole, err := tree.Load(round, calcs)
	require.NoError(t, err)
	of := func(b *tree.Book, said string) *tree.Assessment {
		return b.Assess(b.Walk([]string{"shake"}, talk(said)))
	}
	const sound = "glance=nothing seen@front-left=dry seen@front-right=dry felt@front-left=clean felt@front-right=clean bled=not-touched last=fine"
	assert.Equal(t, tree.Care, of(judged.load(t), sound).Drive, "a complaint is not traced")
	assert.Equal(t, tree.Go, of(whole, sound).Drive)
	assert.True(t, of(whole, sound).NoFault)
	const two = "glance=nothing seen@front-left=damp seen@front-right=dry felt@front-left=clean felt@front-right=oily bled=not-touched last=fine"
	assert.Empty(t, of(judged.load(t), two).NotExplained)
	assert.Equal(t, []tree.Ref{{Check: "seen", Wheel: "front-left", Answer: "damp"}}, of(whole, two).NotExplained)
}
