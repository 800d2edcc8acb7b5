package tree_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"chock/brakes/unit"
	"chock/tree"
)

// walked is a line of talks with one book: what was said, what comes next.
type walked struct{ said, next string }

func walks(t *testing.T, b *tree.Book, rows []walked, complaints ...string) {
	t.Helper()
	if complaints == nil {
		complaints = []string{"shake"}
	}
	for _, row := range rows {
		assert.Equal(t, row.next, next(b.Walk(complaints, talk(row.said))), "after %s", row.said)
	}
}

const seat = "why: It tells., steps: Sit down., minutes: 1, place: seat"

// branching is a tree of three questions with an end for each way.
var branching = small{
	path: `
  one: {because: First., then: {bad: two, unsure: two, fine: three}}
  two: {because: Then., then: {bad: {end: {likely: [a]}}, unsure: {end: {possible: [a]}}, fine: three}}
  three: {because: Last., then: {bad: {end: {likely: [b]}}, unsure: {end: {}}, fine: {end: {}}}}
`,
	questions: `
  one: {ask: "One?", ` + seat + `, answers: {bad: Bad, fine: {say: Fine, normal: true}}}
  two: {ask: "Two?", ` + seat + `, answers: {bad: Bad, fine: {say: Fine, normal: true}}}
  three: {ask: "Three?", ` + seat + `, answers: {bad: Bad, fine: {say: Fine, normal: true}}}
`,
	causes: "a b",
}

func TestWalkGoesOnByAnswers(t *testing.T) {
	b := branching.load(t)
	walks(t, b, []walked{
		{"", "glance"},
		{"glance=nothing", "one"},
		{"glance=nothing one=bad", "two"},
		{"glance=nothing one=unsure/cannot-tell", "two"},
		{"glance=nothing one=fine", "three"},
		{"glance=nothing one=bad two=fine", "three"},
		{"glance=nothing one=bad two=bad", ""},
		// A question that was answered is passed in silence.
		{"glance=nothing two=bad one=bad", ""},
		{"three=fine", "glance"},
	})
	w := b.Walk([]string{"shake"}, talk("glance=nothing one=bad two=bad"))
	require.Len(t, w.Reached, 1)
	assert.Equal(t, "two", w.Reached[0].Step.ID)
	assert.Equal(t, "bad", w.Reached[0].Answer)
	assert.Equal(t, []string{"a"}, w.Reached[0].End.Likely)
	// Without a complaint only the first looks are walked; one that no book
	// knows is none.
	assert.Nil(t, b.Walk(nil, talk("glance=nothing")).Next)
	assert.Nil(t, b.Walk([]string{"purrs"}, talk("glance=nothing")).Next)
}

// Back and change are a later Said about the same thing.
func TestWalkTakesTheLaterAnswer(t *testing.T) {
	b := branching.load(t)
	walks(t, b, []walked{
		{"glance=nothing one=bad one=fine", "three"},
		{"glance=nothing one=bad two=bad one=fine", "three"},
		{"glance=nothing one=fine three=bad one=bad", "two"},
		{"glance=nothing one=bad one=unsure/did-not-look", "two"},
	})
	w := b.Walk([]string{"shake"}, talk("glance=nothing one=bad two=bad one=fine three=fine"))
	assert.Nil(t, w.Next)
	assert.Equal(t, "three", w.Reached[0].Step.ID)
	said, ok := w.Said("one", "")
	assert.True(t, ok)
	assert.Equal(t, []string{"fine"}, said.Answers)
	_, ok = w.Said("one", "front-left")
	assert.False(t, ok)
}

func TestLaterIsOfferedOnceMore(t *testing.T) {
	b := branching.load(t)
	walks(t, b, []walked{
		{"glance=nothing one=later", "two"}, // follows unsure
		{"glance=nothing one=later two=bad", "one+"},
		{"glance=nothing one=later two=bad one=bad", ""},
		{"glance=nothing one=later two=bad one=fine", "three"},
		{"glance=nothing one=later two=bad one=later", ""}, // twice is not sure
		{"glance=nothing one=later two=bad one=unsure/cannot-tell", ""},
		{"glance=later one=fine three=later", "glance+"},
		{"glance=later one=fine three=later glance=later", "three+"},
		{"glance=later one=fine three=later glance=nothing three=later", ""},
		// An answer in between begins anew.
		{"glance=nothing one=later two=bad one=bad one=later", "one+"},
	})
	w := b.Walk([]string{"shake"}, talk("glance=nothing one=later two=bad"))
	assert.True(t, w.Next.Again)
	assert.Equal(t, "You put this off before.", w.Next.Because)
	a := b.Assess(w)
	assert.False(t, a.Ended)
	assert.Equal(t, tree.Care, a.Drive)
	for _, u := range a.NotChecked {
		if u.ID == "one" {
			assert.Equal(t, "later", u.How)
		}
	}
}

// built is a book in which the kind of brake decides what is asked.
var built = small{
	path: `
  pads: {because: First., then: {worn: {end: {likely: [pads-worn]}}, unsure: shoes, fine: shoes}}
  shoes: {because: Then., then: {worn: {end: {likely: [shoes-worn]}}, unsure: {end: {possible: [pads-worn, shoes-worn]}}, fine: {end: {}}}}
`,
	questions: `
  pads: {ask: "Pads?", ` + seat + `, only-if: {brake: disc}, unsure: {drive: care}, answers: {worn: Worn, fine: {say: Fine, normal: true}}}
  shoes: {ask: "Shoes?", ` + seat + `, only-if: {brake: drum}, answers: {worn: {say: Worn, shows: [shoes-worn]}, fine: {say: Fine, normal: true}}}
  brake: {ask: "Which kind?", ` + seat + `, answers: {disc: Disc, drum: Drum}}
`,
	causes: "pads-worn shoes-worn",
	onlyIf: map[string]string{"pads-worn": "{brake: disc}", "shoes-worn": "{brake: drum}"},
}

func TestOnlyIf(t *testing.T) {
	b := built.load(t)
	walks(t, b, []walked{
		{"glance=nothing", "brake"},
		{"glance=nothing brake=disc", "pads"},
		{"glance=nothing brake=drum", "shoes"}, // pads follow unsure, unasked
		{"glance=nothing brake=disc pads=fine", ""},
		{"glance=nothing brake=unsure/cannot-tell", "pads"}, // not known: applies
		{"glance=nothing brake=unsure/cannot-tell pads=fine", "shoes"},
	})

	w := b.Walk([]string{"shake"}, talk("glance=nothing brake=drum shoes=unsure/cannot-tell"))
	assert.Equal(t, tree.NotBuilt, standing(w, "pads"))
	a := b.Assess(w)
	assert.Equal(t, map[string]string{"shoes-worn": tree.Possible}, found(a), "pads-worn is no cause of this vehicle")
	for _, u := range a.NotChecked {
		assert.NotEqual(t, "pads", u.ID, "what is not built is not unchecked")
	}
	for _, r := range a.Reasons {
		assert.NotEqual(t, "pads", r.Ref.Check, "and brings no advice")
	}

	// An answer whose condition stops to hold is set aside.
	w = b.Walk([]string{"shake"}, talk("glance=nothing brake=drum shoes=worn brake=disc pads=fine"))
	a = b.Assess(w)
	assert.Equal(t, []tree.Ref{{Check: "shoes", Answer: "worn"}}, a.SetAside)
	assert.NotContains(t, found(a), "shoes-worn")
}

// A condition on a question that does not itself apply never holds.
func TestOnlyIfOfOnlyIf(t *testing.T) {
	b := small{
		path: `  hat: {because: First., then: {bad: {end: {likely: [hat-worn]}}, unsure: {end: {}}, fine: {end: {}}}}`,
		questions: `
  hat: {ask: "Hat?", ` + seat + `, only-if: {parking: in-hat}, answers: {bad: Bad, fine: {say: Fine, normal: true}}}
  parking: {ask: "Parking brake?", ` + seat + `, only-if: {rear: disc}, answers: {in-hat: In the hat, at-caliper: At the caliper}}
  rear: {ask: "Rear brakes?", ` + seat + `, answers: {disc: Disc, drum: Drum}}
`,
		causes: "hat-worn",
	}.load(t)
	walks(t, b, []walked{
		{"glance=nothing", "rear"},
		{"glance=nothing rear=disc", "parking"},
		{"glance=nothing rear=drum", ""},
		{"glance=nothing rear=disc parking=in-hat", "hat"},
		{"glance=nothing rear=disc parking=unsure", "hat"},
		{"glance=nothing rear=disc parking=in-hat rear=drum", ""},
	})
}

func TestNeeds(t *testing.T) {
	bk := small{
		looks: "  glance: First.\n  shaken: Second.\n",
		first: `
  raised: {ask: "How is it raised?", why: It tells., steps: Look., minutes: 1, place: ground, answers: {stands: On stands, jack: On the jack, not-raised: It is not}}
  shaken: {ask: "Shaken?", why: It tells., steps: Shake., minutes: 1, place: corner, look: yard, needs: {raised: stands}, unsure: {drive: care}, answers: {loose: {say: Loose, fails: true}, firm: {say: Firm, normal: true}}}
`,
		path:      `  roll: {because: First., then: {bad: {end: {likely: [a]}}, unsure: {end: {possible: [a]}}, fine: {end: {}}}}`,
		questions: `  roll: {ask: "Roll?", why: It tells., steps: Roll., minutes: 1, place: yard, answers: {bad: Bad, fine: {say: Fine, normal: true}}}`,
		causes:    "a",
	}.load(t)
	walks(t, bk, []walked{
		{"glance=nothing", "raised"},
		{"glance=nothing raised=stands", "shaken"},
		{"glance=nothing raised=jack", ""}, // shaken is open, so the roll is barred
		{"glance=nothing raised=unsure/cannot-reach", ""},
		{"glance=nothing raised=stands shaken=firm", "roll"},
		// An answer given while it stood on stands counts on.
		{"glance=nothing raised=stands shaken=firm raised=jack", "roll"},
		// Put off, then out of reach: not offered.
		{"glance=nothing raised=stands shaken=later raised=jack", ""},
	})
	w := bk.Walk([]string{"shake"}, talk("glance=nothing raised=jack"))
	assert.Equal(t, tree.CannotReach, standing(w, "shaken"))
	assert.Equal(t, tree.Barred, standing(w, "roll"))
	assert.Equal(t, []string{"shaken"}, w.Open)
	a := bk.Assess(w)
	assert.Equal(t, tree.Stop, a.Drive)
	assert.Contains(t, a.Reasons, tree.Reason{Drive: tree.Care, Kind: "unsure", Ref: tree.Ref{Check: "shaken", Answer: "unsure"}})
	assert.Equal(t, map[string]string{"a": tree.Possible}, found(a))
}

// A step with `ask:` branches once more and asks nothing.
func TestAgain(t *testing.T) {
	b := small{
		path: `
  one: {because: First., then: two}
  two: {because: Then., then: one-again}
  one-again: {ask: one, then: {bad: {end: {likely: [a]}}, unsure: {end: {}}, fine: {end: {}}}}
`,
		questions: `
  one: {ask: "One?", ` + seat + `, answers: {bad: Bad, fine: {say: Fine, normal: true}}}
  two: {like: one, ask: "Two?", answers: {worse: Worse, better: {say: Better, normal: true}}}
`,
		causes: "a",
	}.load(t)
	walks(t, b, []walked{
		{"glance=nothing one=bad", "two"},
		{"glance=nothing one=bad two=better", ""},
	})
	w := b.Walk([]string{"shake"}, talk("glance=nothing one=bad two=better"))
	assert.Equal(t, "one-again", w.Reached[0].Step.ID)
	assert.Equal(t, map[string]string{"a": tree.Likely}, found(b.Assess(w)))
	assert.Len(t, w.Visits, 3, "each check once")
	two := b.Checks["two"]
	assert.Equal(t, "Two?", two.Ask)
	assert.Equal(t, tree.Seat, two.Place, "like takes what is not given")
	assert.NotNil(t, two.Answer("worse"))
}

func TestSeveralFollowsTheWorst(t *testing.T) {
	b := small{
		path: `  seen: {because: First., then: {worst: {end: {likely: [a]}}, worse: {end: {likely: [b]}}, bad: {end: {likely: [c]}}, unsure: {end: {}}, none: {end: {}}}}`,
		questions: `  seen: {ask: "What is there?", ` + seat + `, several: true,
    answers: {worst: {say: Worst, shows: [d]}, worse: Worse, bad: {say: Bad, shows: [e]}, none: {say: None, normal: true}}}`,
		causes: "a b c d e",
	}.load(t)
	for said, worst := range map[string]string{
		"seen=bad,worse": "worse", "seen=worse,bad": "worse", "seen=bad,worst": "worst", "seen=none": "none", "seen=bad": "bad",
	} {
		w := b.Walk([]string{"shake"}, talk("glance=nothing", said))
		assert.Equal(t, worst, w.Reached[0].Answer, said)
	}
	a := b.Assess(b.Walk([]string{"shake"}, talk("glance=nothing seen=bad,worst")))
	assert.Equal(t, map[string]string{"d": tree.Found, "e": tree.Found, "a": tree.Likely}, found(a))
}

var wheelwise = small{
	path: `  dust: {because: First., then: {thick: {end: {likely: [a]}}, some: {end: {possible: [a]}}, unsure: {end: {possible: [b]}}, none: {end: {}}}}`,
	questions: `  dust: {ask: "Dust?", why: It tells., steps: Look., minutes: 1, place: ground, at: front,
    answers: {thick: {say: Thick, shows: [c]}, some: Some, none: {say: None, normal: true, clears: [c]}}}`,
	causes: "a b c",
}

func TestPerWheel(t *testing.T) {
	b := wheelwise.load(t)
	walks(t, b, []walked{
		{"glance=nothing", "dust@front-left,front-right"},
		{"glance=nothing dust@front-left=none", "dust@front-right"},
		{"glance=nothing dust@front-right=thick", "dust@front-left"}, // no end before every wheel
		{"glance=nothing dust@front-left=none dust@front-right=later", "dust@front-right+"},
	})
	for said, worst := range map[string]string{
		"dust@front-left=none dust@front-right=thick":   "thick",
		"dust@front-left=thick dust@front-right=none":   "thick",
		"dust@front-left=some dust@front-right=thick":   "thick",
		"dust@front-left=none dust@front-right=none":    "none",
		"dust@front-left=none dust@front-right=unsure":  "unsure", // outranks a sound wheel
		"dust@front-left=some dust@front-right=unsure":  "some",   // not an odd one
		"dust@front-left=later dust@front-right=unsure": "unsure",
	} {
		w := b.Walk([]string{"shake"}, talk("glance=nothing", said))
		assert.Equal(t, worst, w.Reached[0].Answer, said)
	}
	a := b.Assess(b.Walk([]string{"shake"}, talk("glance=nothing dust@front-left=none dust@front-right=thick")))
	f := finding(t, a, "c")
	assert.Equal(t, tree.Found, f.Standing)
	assert.Equal(t, []string{"front-right"}, f.Wheels)
	assert.False(t, f.Disagree, "cleared at one wheel and seen at the other")

	// Cleared at every wheel, and not before.
	assert.NotContains(t, found(b.Assess(b.Walk([]string{"shake"}, talk("glance=nothing dust@front-left=none dust@front-right=unsure")))), "c")
	assert.Equal(t, tree.Unlikely, found(b.Assess(b.Walk([]string{"shake"}, talk("glance=nothing dust@front-left=none dust@front-right=none"))))["c"])
}

// only-if between two checks at wheels is read wheel by wheel.
func TestOnlyIfByWheel(t *testing.T) {
	b := small{
		path: `
  dust: {because: First., then: slide}
  slide: {because: Then., then: {stuck: {end: {likely: [a]}}, unsure: {end: {}}, free: {end: {}}}}
`,
		questions: `
  dust: {ask: "Dust?", ` + seat + `, at: all, answers: {thick: Thick, none: {say: None, normal: true}}}
  slide: {ask: "Slides?", ` + seat + `, at: front, only-if: {dust: thick}, answers: {stuck: Stuck, free: {say: Free, normal: true}}}
`,
		causes: "a",
	}.load(t)
	const rear = " dust@rear-left=thick dust@rear-right=thick"
	walks(t, b, []walked{
		{"glance=nothing dust@front-left=thick dust@front-right=none" + rear, "slide@front-left"},
		{"glance=nothing dust@front-left=unsure dust@front-right=none" + rear, "slide@front-left"},
		{"glance=nothing dust@front-left=none dust@front-right=none" + rear, ""},
	})
}

func TestNamedWheel(t *testing.T) {
	b := small{
		path: `
  which: {because: First., then: hot}
  hot: {because: Then., then: {hot: {end: {likely: [a]}}, unsure: {end: {possible: [a]}}, cool: {end: {}}}}
`,
		questions: `
  which: {ask: "Which wheels?", ` + seat + `, picks: wheel, several: true, answers: {front-left: Left front, front-right: Right front, rear-left: Left rear, rear-right: Right rear}}
  hot: {ask: "Hot?", ` + seat + `, at: named, answers: {hot: {say: Hot, shows: [b]}, cool: {say: Cool, normal: true, clears: [b]}}}
`,
		causes: "a b",
	}.load(t)
	walks(t, b, []walked{
		{"glance=nothing", "which"},
		{"glance=nothing which=rear-right,front-left", "hot@front-left,rear-right"}, // in the fixed order
		{"glance=nothing which=rear-right hot@rear-right=hot", ""},
		{"glance=nothing which=unsure/cannot-tell", ""},
		{"glance=nothing which=rear-right hot@rear-right=cool which=rear-left", "hot@rear-left"},
	})
	w := b.Walk([]string{"shake"}, talk("glance=nothing which=unsure/cannot-tell"))
	assert.Equal(t, tree.CannotReach, standing(w, "hot"))
	assert.Equal(t, map[string]string{"a": tree.Possible}, found(b.Assess(w)))
	// What was cleared at a wheel that is no longer the one stays a fact of
	// that wheel, and clears no other.
	a := b.Assess(b.Walk([]string{"shake"}, talk("glance=nothing which=rear-right hot@rear-right=cool which=unsure")))
	assert.Equal(t, map[string]string{"a": tree.Possible}, found(a))
	a = b.Assess(b.Walk([]string{"shake"}, talk("glance=nothing which=rear-right hot@rear-right=hot which=front-left hot@front-left=cool")))
	assert.Equal(t, []string{"rear-right"}, finding(t, a, "b").Wheels)
}

var measured = small{
	path: `
  pad-depth: {because: First., then: {shallow: {end: {likely: [worn]}}, unsure: compare, otherwise: compare}}
  compare: {because: Then., then: {left-more: {end: {possible: [stuck]}}, right-more: {end: {possible: [stuck]}}, unsure: {end: {}}, alike: {end: {}}}}
`,
	questions: `  dust: {ask: "Dust?", ` + seat + `, at: front, answers: {thick: Thick, none: {say: None, normal: true}}}`,
	measurements: `
  pad-depth:
    {measure: depth, ask: "How deep?", why: It tells., steps: Measure., minutes: 5, place: wheel-off, at: front,
    inputs: {depth: {take: 1 to 4, unit: {us: in, metric: mm}, between: 0 to 1 in}, least: {figure: pad-least}},
    outcomes: {shallow: {shows: [worn], drive: care}, depth-too-close: {drive: care}, deep: {clears: [worn], normal: true}, depth-unknown: {}}}
  compare:
    {measure: which-side, ask: "Which side?", why: It tells., minutes: 0, place: ground,
    inputs: {amount: {from: dust}},
    outcomes: {left-more: {}, right-more: {}, alike: {normal: true}}}
`,
	figures: `  pad-least: {ask: "What is the least?", why: It decides., unit: {us: in, metric: mm}, between: 0 to 1 in, kind: length}`,
	causes:  "worn stuck",
}

func TestMeasurementFigureAndComputed(t *testing.T) {
	b := measured.load(t)
	const reads = "glance=nothing pad-depth@front-left=deep pad-depth@front-right=deep"
	walks(t, b, []walked{
		{"glance=nothing", "pad-depth@front-left,front-right"},
		{"glance=nothing pad-depth@front-left=deep", "pad-depth@front-right"},
		{reads, "pad-depth?pad-least"}, // after the readings
		{reads + " pad-least=", "dust@front-left,front-right"},
		{reads + " pad-least=unsure", "dust@front-left,front-right"}, // no limit known
		{"glance=nothing pad-depth@front-left=unsure pad-depth@front-right=unsure", "dust@front-left,front-right"},
		{"glance=nothing pad-depth@front-left=unsure pad-depth@front-right=deep", "pad-depth?pad-least"},
		{reads + " pad-least= dust@front-left=thick dust@front-right=none", "compare!"},
		{reads + " pad-least= dust@front-left=thick dust@front-right=none compare=left-more", ""},
		// Nothing to compare: not sure, unasked.
		{reads + " pad-least= dust@front-left=unsure dust@front-right=unsure", ""},
	})
	assert.True(t, b.Checks["compare"].Computed())
	assert.False(t, b.Checks["pad-depth"].Computed())

	w := b.Walk([]string{"shake"}, talk(reads+" pad-least= dust@front-left=thick dust@front-right=none"))
	in := b.Checks["compare"].Inputs[0]
	word := func(id string, place float64) unit.Any { return unit.Any{Kind: unit.KindWord, Text: id, SI: place} }
	dust := b.Checks["dust"]
	thick, none := word("thick", 0), word("none", float64(len(dust.Answers)-1))
	assert.Equal(t, []unit.Any{thick, none, word("unsure", -1), word("unsure", -1)}, w.From(in, ""), "one for each wheel, in order")
	assert.Equal(t, []unit.Any{none}, w.From(in, "front-right"))
	half := b.Walk([]string{"shake"}, talk(reads+" pad-least= dust@front-left=unsure dust@front-right=none"))
	assert.Equal(t, []unit.Any{word("unsure", -1), none, word("unsure", -1), word("unsure", -1)}, half.From(in, ""))
	assert.Empty(t, b.Walk([]string{"shake"}, talk(reads)).From(in, ""), "nothing known")
	assert.Equal(t, unit.KindWord, b.Kind(b.Checks["compare"], "amount"))
	assert.Equal(t, "mm", b.Checks["pad-depth"].Inputs[0].Unit("metric"))
	assert.Equal(t, "in", b.Checks["pad-depth"].Inputs[0].Unit("us"))
	assert.InDelta(t, 0.0254, b.Checks["pad-depth"].Inputs[0].High, 1e-15)

	// A figure is still wanted when one of the wheels cannot be read any more.
	a := b.Assess(b.Walk([]string{"shake"}, talk("glance=nothing pad-depth@front-left=shallow pad-depth@front-right=deep pad-least=")))
	assert.Equal(t, []string{"front-left"}, finding(t, a, "worn").Wheels)
	assert.True(t, a.Ended, "a shallow one ends the tree")
}

// Several limits: one outcome of each comes back and all count; `then`
// follows the first as written.
func TestSeveralOutcomesCount(t *testing.T) {
	b := measured.load(t)
	c := b.Checks["pad-depth"]
	assert.Equal(t, "shallow", c.Answers[0].ID)
	w := b.Walk([]string{"shake"}, talk("glance=nothing pad-depth@front-left=deep,shallow pad-depth@front-right=deep pad-least="))
	require.Len(t, w.Reached, 1)
	assert.Equal(t, "shallow", w.Reached[0].Answer)
}

// Readings of another measurement are taken at the same wheel.
func TestFromReadings(t *testing.T) {
	b := small{
		path: `
  first-depth: {because: First., then: second-depth}
  second-depth: {because: Then., then: {shallow: {end: {likely: [worn]}}, unsure: {end: {}}, otherwise: {end: {}}}}
`,
		measurements: `
  first-depth:
    {measure: depth, ask: "How deep?", why: It tells., steps: Measure., minutes: 5, place: wheel-off, at: front,
    inputs: {depth: {take: 1 to 4, unit: {us: in, metric: mm}, between: 0 to 1 in}},
    outcomes: {shallow: {}, depth-too-close: {}, deep: {normal: true}, depth-unknown: {}}}
  second-depth: {like: first-depth, inputs: {depth: {from: first-depth.depth}}}
`,
		causes: "worn",
	}.load(t)
	said := talk("glance=nothing first-depth@front-left=deep first-depth@front-right=unsure")
	reading, err := unit.Parse(unit.KindLength, "0.5 in", "")
	require.NoError(t, err)
	said[1].Readings = map[string][]unit.Any{"depth": {reading}}
	w := b.Walk([]string{"shake"}, said)
	assert.Equal(t, "second-depth@front-left!", next(w), "only where there is something to work out")
	assert.Equal(t, []unit.Any{reading}, w.From(b.Checks["second-depth"].Inputs[0], "front-left"))
	w = b.Walk([]string{"shake"}, append(said, talk("second-depth@front-left=deep")...))
	assert.Nil(t, w.Next)
	assert.Equal(t, "unsure", w.Reached[0].Answer, "the other wheel is not known")
}

// barring is a book with a yard look, a road look and checks that wait for them.
var barring = small{
	looks: "  glance: First.\n  pedal: It stops you.\n  tyres: They carry you.\n  roll: Slowly.\n",
	first: `
  pedal: {ask: "Pedal?", why: It tells., steps: Look., minutes: 1, place: seat, look: yard, answers: {drops: {say: Drops, drive: stop, shows: [leak]}, soft: {say: Soft, fails: true}, firm: {say: Firm, normal: true, clears: [leak]}, odd: Odd}}
  tyres: {ask: "Tyres?", why: It tells., steps: Look., minutes: 1, place: ground, look: road, at: front, answers: {bald: {say: Bald, fails: true}, good: {say: Good, normal: true}}}
  roll: {ask: "Roll?", why: It tells., steps: Look., minutes: 1, place: yard, look: road, answers: {pulls: {say: Pulls, fails: true}, straight: {say: Straight, normal: true}}}
  bled: {ask: "Bled and tight again?", why: It tells., steps: Look., minutes: 1, place: bonnet, answers: {not-yet: Not yet, tight: {say: Tight, normal: true, mended: [leak]}}}
`,
	path: `
  bled: {because: First., then: drive}
  drive: {because: Then., then: {shakes: {end: {likely: [a]}}, unsure: {end: {possible: [a]}}, still: {end: {}}}}
`,
	questions: `  drive: {ask: "Shakes?", why: It tells., steps: Drive., minutes: 9, place: road, answers: {shakes: Shakes, still: {say: Still, normal: true}}}`,
	stop:      "leak", causes: "a",
}

func TestLooks(t *testing.T) {
	b := barring.load(t)
	const good = " tyres@front-left=good tyres@front-right=good"
	for _, row := range []struct {
		said, next   string
		failed, open []string
		yard, road   bool
		drive        tree.Drive
	}{
		{"", "glance", nil, []string{"pedal", "tyres", "roll"}, true, true, tree.Stop},
		{"glance=nothing pedal=firm", "tyres@front-left,front-right", nil, []string{"tyres", "roll"}, false, true, tree.Care},
		{"glance=nothing pedal=odd", "tyres@front-left,front-right", nil, []string{"tyres", "roll"}, false, true, tree.Care},
		{"glance=nothing pedal=firm" + good, "roll", nil, []string{"roll"}, false, true, tree.Care},
		{"glance=nothing pedal=firm roll=straight bled=not-yet" + good, "drive", nil, nil, false, false, tree.Care},
		{"glance=nothing pedal=firm roll=straight bled=not-yet drive=still" + good, "", nil, nil, false, false, tree.Care},
		// Failed and open never end the talk; what waits for the road is passed.
		{"glance=nothing pedal=drops bled=not-yet" + good, "", []string{"pedal"}, []string{"roll"}, true, true, tree.Stop},
		{"glance=nothing pedal=soft bled=not-yet" + good, "", []string{"pedal"}, []string{"roll"}, true, true, tree.Stop},
		{"glance=nothing pedal=unsure/cannot-tell bled=not-yet" + good, "", nil, []string{"pedal", "roll"}, true, true, tree.Stop},
		{"glance=nothing pedal=later bled=not-yet" + good, "pedal+", nil, []string{"pedal", "roll"}, true, true, tree.Stop},
		{"glance=nothing pedal=firm tyres@front-left=good tyres@front-right=bald roll=straight bled=not-yet", "", []string{"tyres"}, nil, false, true, tree.Care},
		{"glance=nothing pedal=firm tyres@front-left=good tyres@front-right=unsure roll=straight bled=not-yet", "", nil, []string{"tyres"}, false, true, tree.Care},
		// The look passes after all: the road opens, and what waited is asked.
		{"glance=nothing pedal=later bled=not-yet pedal=firm" + good, "roll", nil, []string{"roll"}, false, true, tree.Care},
		{"glance=nothing pedal=later bled=not-yet pedal=firm roll=straight" + good, "drive", nil, nil, false, false, tree.Care},
		// Mended: care at most, and the look no longer failed.
		{"glance=nothing pedal=drops bled=tight" + good, "roll", nil, []string{"roll"}, false, true, tree.Care},
		{"glance=nothing pedal=drops bled=tight roll=straight drive=still" + good, "", nil, nil, false, false, tree.Care},
		// A look that fails without naming what is mended stays failed.
		{"glance=nothing pedal=soft bled=tight" + good, "", []string{"pedal"}, []string{"roll"}, true, true, tree.Stop},
		// What was put off on the road is not offered once the road is barred.
		{"glance=nothing pedal=firm roll=straight bled=not-yet drive=later" + good, "drive+", nil, nil, false, false, tree.Care},
		{"glance=nothing pedal=firm roll=straight bled=not-yet drive=later pedal=drops" + good, "", []string{"pedal"}, nil, true, true, tree.Stop},
	} {
		w := b.Walk([]string{"shake"}, talk(row.said))
		assert.Equal(t, row.next, next(w), row.said)
		assert.Equal(t, row.failed, w.Failed, "failed after %s", row.said)
		assert.Equal(t, row.open, w.Open, "open after %s", row.said)
		assert.Equal(t, row.yard, w.YardBarred, "yard after %s", row.said)
		assert.Equal(t, row.road, w.RoadBarred, "road after %s", row.said)
		assert.Equal(t, row.drive, b.Assess(w).Drive, row.said)
	}
	w := b.Walk([]string{"shake"}, talk("glance=nothing pedal=drops bled=not-yet"+good))
	assert.Equal(t, tree.Barred, standing(w, "drive"))
	a := b.Assess(w)
	assert.Contains(t, a.NotChecked, tree.Unchecked{Kind: "question", ID: "drive", Check: b.Checks["drive"], Standing: tree.Barred})

	a = b.Assess(b.Walk([]string{"shake"}, talk("glance=nothing pedal=drops bled=tight roll=straight drive=still"+good)))
	assert.Equal(t, map[string]string{"leak": tree.Mended}, found(a))
	assert.False(t, a.NoFault)
}

// Whatever says stop keeps the talk off the road, also when the looks were
// passed, and until it was put right and checked again.
func TestStopInATreeBarsTheRoad(t *testing.T) {
	bk := barring
	bk.path = `
  pads: {because: First., then: bled}
  bled: {because: Then., then: drive}
  drive: {because: Last., then: {shakes: {end: {likely: [a]}}, unsure: {end: {possible: [a]}}, still: {end: {}}}}
`
	bk.questions += `
  pads: {ask: "Pads?", why: It tells., steps: Look., minutes: 1, place: wheel-off, at: front, answers: {wet: {say: Wet, drive: stop, shows: [leak]}, thin: {say: Thin, drive: care}, good: {say: Good, normal: true}}}
`
	b := bk.load(t)
	const looks = "glance=nothing pedal=firm roll=straight tyres@front-left=good tyres@front-right=good "
	for _, row := range []struct {
		said, next string
		barred     bool
	}{
		{"pads@front-left=good pads@front-right=good bled=not-yet", "drive", false},
		{"pads@front-left=thin pads@front-right=good bled=not-yet", "drive", false},
		{"pads@front-left=good pads@front-right=wet bled=not-yet", "", true},
		{"pads@front-left=good pads@front-right=wet bled=tight", "drive", false},
	} {
		w := b.Walk([]string{"shake"}, talk(looks+row.said))
		assert.Equal(t, row.next, next(w), row.said)
		assert.Equal(t, row.barred, w.RoadBarred, row.said)
		assert.Equal(t, row.barred, w.YardBarred, row.said)
		assert.Empty(t, w.Failed, row.said)
	}
}

// A look that a condition brings up early counts as soon as it is answered.
func TestLookAnsweredEarlyCountsAtOnce(t *testing.T) {
	b := small{
		looks: "  glance: Zero.\n  press: First.\n  assist: Second.\n",
		first: `
  press: {ask: "Press?", why: It tells., steps: Look., minutes: 1, place: seat, look: yard, only-if: {assist: [vacuum, leaks]}, answers: {drops: {say: Drops, fails: true}, firm: {say: Firm, normal: true}}}
  assist: {ask: "Assist?", why: It tells., steps: Look., minutes: 1, place: seat, look: yard, answers: {leaks: {say: It leaks, fails: true}, vacuum: Vacuum, none: {say: None, normal: true}}}
`,
		path:      branching.path,
		questions: branching.questions, causes: "a b",
	}
	w := b.load(t).Walk([]string{"shake"}, talk("glance=nothing assist=leaks"))
	assert.Equal(t, "press", next(w))
	assert.Equal(t, []string{"assist"}, w.Failed)
	assert.Equal(t, []string{"press"}, w.Open)
}

func TestOpens(t *testing.T) {
	s := small{
		path:      `  one: {because: First., then: {also-pulls: {end: {}}, unsure: {end: {}}, only-shakes: {end: {}}}}`,
		questions: `  one: {ask: "One?", ` + seat + `, answers: {also-pulls: {say: It pulls too, opens: [pull], drive: care}, only-shakes: Only shakes}}`,
		more: map[string]string{"pull": `
begin: side
path: {side: {because: First., then: {left: {end: {likely: [a]}}, unsure: {end: {}}, right: {end: {likely: [a]}}}}}
questions: {side: {ask: "Side?", ` + seat + `, answers: {left: Left, right: Right}}}
`},
		causes: "a",
	}
	b := s.load(t)
	walks(t, b, []walked{
		{"glance=nothing one=only-shakes", ""},
		{"glance=nothing one=also-pulls", "side"},
		{"glance=nothing one=also-pulls side=left", ""},
		{"glance=nothing one=also-pulls one=only-shakes", ""},
	})
	assert.Equal(t, []string{"shake", "pull"}, b.Walk([]string{"shake"}, talk("glance=nothing one=also-pulls")).Complaints)
	assert.Equal(t, []string{"shake", "pull"}, b.Walk([]string{"pull", "shake"}, nil).Complaints, "in the order of the book")
	walks(t, b, []walked{{"glance=nothing", "side"}, {"glance=nothing side=left", ""}}, "pull")
}

func TestUpcoming(t *testing.T) {
	const road = "why: It tells., steps: Drive., minutes: 5, place: road"
	b := small{
		path: `
  one: {because: First., then: two}
  two: {because: Then., then: wheel}
  wheel: {because: Then., then: three}
  three: {because: Last., then: {bad: {end: {likely: [a]}}, unsure: {end: {possible: [a]}}, fine: {end: {}}}}
`,
		questions: `
  one: {ask: "One?", ` + road + `, answers: {bad: Bad, fine: {say: Fine, normal: true}}}
  two: {like: one}
  wheel: {ask: "Wheel?", why: It tells., steps: Lift it., minutes: 9, place: wheel-off, answers: {bad: Bad, fine: {say: Fine, normal: true}}}
  three: {like: one}
`,
		causes: "a",
	}.load(t)
	ids := func(said string) (out []string) {
		for _, c := range b.Walk([]string{"shake"}, talk(said)).Upcoming(tree.Road, tree.Corner, tree.WheelOff) {
			out = append(out, c.ID)
		}
		return out
	}
	assert.Equal(t, []string{"one", "two"}, ids("glance=nothing"))
	assert.Equal(t, []string{"two"}, ids("glance=nothing one=bad"))
	assert.Equal(t, []string{"one", "two", "three"}, ids("glance=nothing wheel=fine"))
	assert.Nil(t, ids(""), "no tree yet")
}

// What an answer has led past is not announced any more.
func TestUpcomingFollowsWhatWasAnswered(t *testing.T) {
	const road = "why: It tells., steps: Drive., minutes: 5, place: road"
	b := small{
		path: `
  told: {because: First., then: {shakes: pulls, unsure: runs, still: pulls}}
  runs: {because: Only if nobody remembers., then: pulls}
  pulls: {because: Last., then: {bad: {end: {likely: [a]}}, unsure: {end: {possible: [a]}}, fine: {end: {}}}}
`,
		questions: `
  told: {ask: "Told?", why: It tells., minutes: 1, place: recall, answers: {shakes: Shakes, still: {say: Still, normal: true}}}
  runs: {ask: "Runs?", ` + road + `, answers: {bad: Bad, fine: {say: Fine, normal: true}}}
  pulls: {like: runs}
`,
		causes: "a",
	}.load(t)
	for said, want := range map[string][]string{
		"glance=nothing":             {"pulls", "runs"},
		"glance=nothing told=shakes": {"pulls"},
		"glance=nothing told=unsure": {"pulls", "runs"},
	} {
		var ids []string
		for _, c := range b.Walk([]string{"shake"}, talk(said)).Upcoming(tree.Road) {
			ids = append(ids, c.ID)
		}
		assert.ElementsMatch(t, want, ids, said)
	}
}
