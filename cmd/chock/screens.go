package main

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"chock/cmd/chock/internal/ask"
	"chock/cmd/chock/internal/calc"
	"chock/tree"
)

var placeNames = map[tree.Place]string{
	tree.Recall: "From memory", tree.Seat: "Seat", tree.Bonnet: "Under the bonnet", tree.Ground: "On the ground",
	tree.Corner: "Corner raised", tree.WheelOff: "Wheel off", tree.DrumOff: "Drum off", tree.Yard: "Yard", tree.Road: "Road",
}

// head prints what stands above a prompt: place, minutes, reason, question.
func (t *talker) head(p tree.Prompt) {
	t.scr.Print(ask.Plain, "")
	if p.Figure != nil {
		t.scr.Print(ask.Strong, p.Figure.Ask)
		t.scr.Print(ask.Dim, p.Figure.Why)
		return
	}
	c := p.Check
	if words := t.book.Cautions[c.Place]; words != "" && !t.told["caution "+string(c.Place)] {
		t.told["caution "+string(c.Place)] = true
		t.scr.Item(ask.Care, "Take care: ", words)
		t.scr.Print(ask.Plain, "")
	}
	t.scr.Print(ask.Dim, where(c, p.Wheels))
	if p.Because != "" {
		t.scr.Print(ask.Plain, p.Because)
	}
	t.scr.Print(ask.Strong, c.Ask)
}

// headWheel says again what is asked, now at the next wheel: nobody who hears
// the screen read aloud goes back for it.
func (t *talker) headWheel(p tree.Prompt, wheel string) {
	t.scr.Print(ask.Plain, "")
	t.scr.Print(ask.Dim, where(p.Check, []string{wheel}))
	t.scr.Print(ask.Strong, p.Check.Ask)
}

// where says at which place and wheels a check is done, and in how many minutes.
func where(c *tree.Check, wheels []string) string {
	out := placeNames[c.Place]
	if wheels[0] != "" {
		out += ", " + wheelsName(wheels)
	}
	if c.Minutes > 0 && c.Place != tree.Recall {
		out += fmt.Sprintf(", %d min", c.Minutes*len(wheels))
		if len(wheels) > 1 {
			out += " in all"
		}
	}
	return out
}

// wheelsName says which wheels a question is about.
func wheelsName(wheels []string) string {
	switch {
	case len(wheels) == len(tree.Wheels):
		return "each wheel"
	case slices.Equal(wheels, tree.Wheels[:2]):
		return "both front wheels"
	case slices.Equal(wheels, tree.Wheels[2:]):
		return "both rear wheels"
	}
	var out []string
	for _, w := range wheels {
		out = append(out, wheelName(w))
	}
	return strings.Join(out, ", ")
}

func (t *talker) why(p tree.Prompt) {
	if p.Figure != nil {
		t.scr.Print(ask.Plain, p.Figure.Why)
		return
	}
	if p.Because != "" && p.Because != p.Check.Why {
		t.scr.Item(ask.Plain, "Why now: ", p.Because)
	}
	t.scr.Item(ask.Plain, "Why this: ", p.Check.Why)
	t.movers(p)
}

// movers says what the tree asks next and what the minutes would, with the
// numbers, once the first looks are done.
func (t *talker) movers(p tree.Prompt) {
	if p.Where == "" || t.walk == nil {
		return
	}
	authored := t.book.Walk(t.complaints, t.said)
	bl := t.book.Believe(authored)
	advice := t.book.Advise(authored, bl)
	if len(advice.Next) == 0 || authored.Next == nil || authored.Next.Check == nil {
		return
	}
	first, tree := advice.Next[0], authored.Next.Check
	switch {
	case first.Check == tree:
		t.scr.Item(ask.Plain, "By the minutes: ", "this comes next as well.")
	case p.Check == first.Check:
		t.scr.Item(ask.Plain, "By the minutes: ", "this comes next. The tree asks first: "+lowerFirst(lastSentence(tree.Ask)))
	default:
		t.scr.Item(ask.Plain, "By the minutes: ", "another would come first, "+t.costs(first)+": "+lowerFirst(lastSentence(first.Check.Ask)))
	}
	t.tells(bl, first)
	if advice.Stop {
		end := "By this book's estimates what is left is hardly worth its minutes."
		if advice.HandOver {
			end += " To hand it over now would be right."
		}
		t.scr.Print(ask.Plain, end)
	}
}

// costs gives the minutes of a check, with those to get there.
func (t *talker) costs(r tree.Ranked) string {
	out := fmt.Sprintf("%d min", r.Minutes)
	if r.Setup > 0 {
		out += fmt.Sprintf(" and %d to get there", r.Setup)
	}
	return out
}

// tells says what a check is good for, in one sentence with the numbers, and
// where its answers lead.
func (t *talker) tells(bl *tree.Belief, r tree.Ranked) {
	s := t.book.Tells(bl, r)
	if s == nil {
		t.scr.Print(ask.Plain, "It tells little about what is likely so far.")
		return
	}
	t.scr.Print(ask.Plain, fmt.Sprintf("By this book's estimates it tells \"%s\" (%s) from \"%s\" (%s).",
		lowerFirst(s.First.Say), aboutInHundred(s.FirstNow), lowerFirst(s.Second.Say), aboutInHundred(s.SecondNow)))
	for i, l := range s.Leads {
		if l.Answer != nil {
			t.scr.Item(ask.Plain, "- ", fmt.Sprintf("\"%s\" would make the %s one likelier: %s.", t.answerWords(l.Answer), []string{"first", "second"}[i], aboutInHundred(l.Chance)))
		}
	}
}

func (t *talker) answerWords(a *tree.Answer) string {
	if a.Say == "" {
		return plainID(a.ID)
	}
	return lowerFirst(a.Say)
}

// aboutInHundred puts a chance into words that promise no more than an
// estimate can.
func aboutInHundred(p float64) string {
	switch n := int(math.Round(100 * p)); {
	case n < 1:
		return "under 1 in 100"
	case n > 99:
		return "over 99 in 100"
	default:
		return fmt.Sprintf("about %d in 100", n)
	}
}

func (t *talker) steps(p tree.Prompt) {
	if p.Figure != nil {
		t.scr.Item(ask.Plain, "Where: ", p.Figure.Steps)
		return
	}
	c := p.Check
	if c.Steps == "" && c.Without == "" && c.Alone == "" {
		t.scr.Print(ask.Plain, "There is nothing to do but remember.")
	}
	for _, line := range [][2]string{{"How: ", c.Steps}, {"Without tools: ", c.Without}, {"Alone: ", c.Alone}} {
		if line[1] != "" {
			t.scr.Item(ask.Plain, line[0], line[1])
		}
	}
}

// say gives the words of an answer.
func (t *talker) say(s tree.Said) string {
	if g := t.book.Figures[s.Check]; g != nil {
		if s.Unsure() {
			return "not sure"
		}
		return s.Value.Both() + " (" + s.Origin + ")"
	}
	if s.Unsure() {
		words := map[string]string{"did-not-look": "not sure, did not look", "cannot-tell": "not sure, cannot tell",
			"cannot-reach": "not sure, cannot reach it"}[s.Kind]
		if s.Answers[0] == tree.Later {
			words = "later"
		} else if words == "" {
			words = "not sure"
		}
		return words
	}
	c := t.book.Checks[s.Check]
	var out []string
	for _, id := range s.Answers {
		a := c.Answer(id)
		switch {
		case a != nil && a.Say != "":
			out = append(out, lowerFirst(a.Say))
		default:
			out = append(out, plainID(id))
		}
	}
	return strings.Join(out, "; ")
}

// ahead lists, before the first road question and the first of each
// dismantled place, everything to notice while there, over all complaints, so
// that it is driven once and a wheel comes off once. What an answer has added
// since then is listed when it comes.
func (t *talker) ahead(p tree.Prompt) {
	if p.Check == nil || p.Step == nil || p.Figure != nil {
		return
	}
	type gather struct {
		place    tree.Place
		title    string
		blocking []tree.Place
	}
	for _, g := range []gather{
		{tree.Road, "On one drive, notice all of this:", []tree.Place{tree.Ground, tree.Corner, tree.WheelOff, tree.DrumOff}},
		{tree.WheelOff, "While the wheels are off:", []tree.Place{tree.DrumOff, tree.Road, tree.Yard}},
		{tree.DrumOff, "While the drums are off:", []tree.Place{tree.Road, tree.Yard}},
	} {
		if p.Check.Place != g.place || t.told["ahead "+p.Check.ID] {
			continue
		}
		var list []*tree.Check
		for _, c := range t.walk.Upcoming(g.place, g.blocking...) {
			if !t.told["ahead "+c.ID] {
				t.told["ahead "+c.ID] = true
				list = append(list, c)
			}
		}
		if len(list) < 2 {
			continue
		}
		t.scr.Print(ask.Plain, "")
		t.scr.Print(ask.Strong, g.title)
		for _, c := range list {
			t.scr.Item(ask.Plain, "  - ", lastSentence(c.Ask))
		}
		if g.place == tree.Road {
			t.scr.Print(ask.Plain, "Nobody types while driving. Come back, then answer.")
		}
	}
}

// lastSentence drops the lines that only set the scene of a question.
func lastSentence(s string) string {
	lines := strings.Split(strings.TrimSpace(s), "\n")
	return lines[len(lines)-1]
}

// announce says in one line what an answer has just changed: a look that
// bars yard or road, answers set aside, and the verdicts of readings.
func (t *talker) announce() {
	t.verdicts()
	once := func(key string, style ask.Style, words string) {
		if !t.told[key] {
			t.told[key] = true
			t.scr.Print(style, words)
		}
	}
	a := t.comes
	for _, id := range t.walk.Complaints {
		if !slices.Contains(t.complaints, id) {
			once("opened "+id, ask.Plain, "That is looked into as well: "+lowerFirst(t.book.Complaint(id).Say)+".")
		}
	}
	for _, id := range t.walk.Failed {
		sign := ""
		for _, f := range a.Findings {
			if sign == "" && f.Standing == tree.Found && slices.ContainsFunc(f.For, func(r tree.Ref) bool { return r.Check == id }) {
				sign = lowerFirst(f.Cause.Say) + ". "
				t.told["cause "+f.Cause.ID] = true
			}
		}
		if t.book.Checks[id].Look == tree.Yard {
			once("failed "+id, ask.Halt, "Do not drive, not an inch: "+cmp.Or(sign, "on this answer. ")+"All that can be done standing still goes on, so that the cause is found.")
		} else {
			once("failed "+id, ask.Halt, "No road test: "+cmp.Or(sign, "on this answer. ")+"All that can be done without the road goes on.")
		}
	}
	for _, f := range a.Findings {
		if f.Standing == tree.Found && f.Drive == tree.Stop {
			once("cause "+f.Cause.ID, ask.Halt, "Do not drive: "+lowerFirst(f.Cause.Say)+".")
		}
	}
	if t.walk.Next != nil {
		for _, id := range t.walk.Open {
			if s, ok := t.unsureAt(id); ok {
				if !t.told["open "+id] && t.told["open"] {
					once("open "+id, ask.Care, "Left open too: "+s+".")
				}
				t.told["open "+id] = true
				once("open", ask.Care, "Left open: "+s+". It keeps the vehicle off the road until it is answered. The talk goes on.")
			}
		}
	}
	for _, r := range a.SetAside {
		once("aside "+r.Check+r.Wheel, ask.Dim, "Set aside, since it no longer fits this vehicle: "+plainID(r.Check)+".")
	}
}

// unsureAt reports that a look was answered, and not with a judgement.
func (t *talker) unsureAt(id string) (string, bool) {
	for i := range t.said {
		if t.said[i].Check == id && t.said[i].Unsure() {
			return plainID(id), true
		}
	}
	return "", false
}

// verdicts prints what readings came to, once each of their figures is in.
func (t *talker) verdicts() {
	for _, v := range t.walk.Visits {
		waits := t.walk.Next != nil && t.walk.Next.Check == v.Check
		if v.Check.Measure == "" || waits || v.Standing != tree.Answered {
			continue
		}
		for _, w := range v.Wheels {
			res, ok := t.results[v.Check.ID+" "+w]
			if !ok {
				continue
			}
			key := fmt.Sprint("verdict ", v.Check.ID, w, res.Outcomes, res.Say)
			if t.told[key] {
				continue
			}
			t.told[key] = true
			t.scr.Print(ask.Plain, "")
			title := plainID(v.Check.ID)
			if w != "" {
				title = upperFirst(wheelName(w)) + ": " + title
			}
			t.scr.Print(ask.Strong, title)
			if !v.Check.Computed() { // its readings were drawn already
				for _, line := range calc.Plot(res.Plot, t.scr.Width(), false) {
					t.scr.Print(ask.Plain, line)
				}
			}
			t.result(v.Check, w, res)
		}
	}
}

// result prints verdicts and plain-language lines of a calculation, each once
// at a wheel, since a later calculation may work on the same readings.
func (t *talker) result(c *tree.Check, wheel string, res calc.Result) {
	once := func(line string) bool {
		key := "line " + wheel + " " + line
		if c.Computed() && t.told[key] {
			return false
		}
		t.told[key] = true
		return true
	}
	for _, v := range res.Verdicts {
		line := upperFirst(v.Say) + "."
		if v.Mark == calc.Given {
			line = strings.Replace(line, ", "+calc.Given+":", ", "+t.origin(c, v)+":", 1)
		}
		if once(line) {
			t.scr.Print(verdictStyle(v.Verdict), line)
		}
	}
	for _, line := range res.Say {
		if once(line) {
			t.scr.Print(ask.Plain, line)
		}
	}
	for _, w := range slices.Compact(slices.Clone(res.Warnings)) {
		if once(w) {
			t.scr.Item(ask.Care, "Mind: ", w)
		}
	}
}
