package main

import (
	"bytes"
	"fmt"
	"io"
	"math/rand/v2"
	"slices"
	"strings"
	"sync"
	"testing"

	"github.com/mattn/go-runewidth"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"chock/brakes/unit"
	"chock/tree"
)

// A blind is somebody who hears one prompt at a time: what was printed since
// the last answer is all there is to know where, at which wheel, what and how.
// It is the input of a talk, and answers out of what it heard alone.
type blind struct {
	*rand.Rand
	b      *tree.Book
	mu     sync.Mutex
	heard  bytes.Buffer // since the last answer
	first  string       // what is said to begin with
	last   string       // typed
	text   string       // and what it answered
	asked  *tree.Check  // about which "not sure" or a figure may ask further
	again  int          // refused in a row
	sound  float64      // how often the answer is the sound one
	faults []string
	shown  map[string]bool // checks that were asked
	long   int             // the longest line
}

func (l *blind) Write(p []byte) (int, error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.heard.Write(p)
}

// Read gives one line, as an answer to what was heard.
func (l *blind) Read(p []byte) (int, error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	text := l.heard.String()
	l.heard.Reset()
	if l.last != "" {
		_, text, _ = strings.Cut(text, "\n") // what was typed
	}
	l.looks(text)
	if l.last != "" {
		taken := false
		for {
			line, rest, _ := strings.Cut(text, "\n")
			if !slices.ContainsFunc([]string{"= ", "  ", "Taken: ", "Heard: "}, func(s string) bool { return strings.HasPrefix(line, s) }) {
				break
			}
			text, taken = rest, true
		}
		if !taken && !strings.HasPrefix(text, "Not sure is") {
			text = l.text + text // refused: the question stands as it was
		}
	}
	l.text, l.last = text, l.answer(text)
	return copy(p, l.last+"\n"), nil
}

func (l *blind) fault(format string, args ...any) {
	if len(l.faults) < 5 {
		l.faults = append(l.faults, fmt.Sprintf(format, args...))
	}
}

// looks: nothing but lines that fit, none of them redrawn or coloured.
func (l *blind) looks(text string) {
	for _, line := range strings.Split(text, "\n") {
		l.long = max(l.long, runewidth.StringWidth(line))
		if runewidth.StringWidth(line) > 40 {
			l.fault("a line of %d columns: %q", runewidth.StringWidth(line), line)
		}
		if strings.ContainsFunc(line, func(r rune) bool { return r < ' ' }) {
			l.fault("a control character: %q", line)
		}
	}
}

// answer reads what was heard, and finds all that it has to know in it.
func (l *blind) answer(text string) string {
	words := strings.Join(strings.Fields(text), " ")
	if strings.Contains(words, "What does it do?") {
		return l.first
	}
	if strings.Contains(words, "Which kind is it?") {
		l.choices(words, []string{"did-not-look", "cannot-tell", "cannot-reach"}, []string{"Did not look", "Cannot tell, though I looked", "Cannot reach it today"})
		return "1"
	}
	if strings.Contains(words, "Where is that figure from?") {
		l.choices(words, []string{"cast"}, []string{"Cast or stamped on the part"})
		return "cast"
	}
	if strings.Contains(words, "nce more, please") {
		if l.again++; l.again > 2 {
			return "not sure"
		}
	} else {
		l.again = 0
	}
	var ask string
	var check *tree.Check
	var figure *tree.Figure
	for _, id := range sortedKeys(l.b.Checks) {
		if q := strings.Join(strings.Fields(l.b.Checks[id].Ask), " "); strings.Contains(words, q) && len(q) > len(ask) {
			ask, check = q, l.b.Checks[id]
		}
	}
	for _, id := range sortedKeys(l.b.Figures) {
		if q := strings.Join(strings.Fields(l.b.Figures[id].Ask), " "); strings.Contains(words, q) && len(q) > len(ask) {
			ask, check, figure = q, nil, l.b.Figures[id]
		}
	}
	switch {
	case figure != nil:
		if !strings.Contains(words, "Type the figure") {
			l.fault("how is the figure given? %q", text)
		}
		if l.IntN(2) == 0 {
			return "not sure"
		}
		return middle(figure.Low, figure.High, figure.Kind, figure.US) // and is asked where it is from
	case check == nil && l.asked != nil && l.asked.Measure != "" && l.next(words):
		return l.reading(l.asked, words, text)
	case check == nil:
		l.fault("which question is it? %q", text)
		return "not sure"
	}
	l.asked = check
	l.shown[check.ID] = true
	if !strings.Contains(words, placeNames[check.Place]) {
		l.fault("where is it done? %q", text)
	}
	wheels := l.wheels(check, words)
	if check.Measure != "" {
		return l.reading(check, words, text)
	}
	var ids, says []string
	for _, a := range check.Answers {
		ids, says = append(ids, a.ID), append(says, a.Say)
	}
	l.choices(words, ids, says)
	pick := func() int {
		if l.Float64() < l.sound {
			id := equipped(l.b)[check.ID]["front-left"]
			if id == nil {
				id = equipped(l.b)[check.ID][""]
			}
			if id == nil {
				id = normal(l.b, check)
			}
			return slices.Index(ids, id[0])
		}
		return l.IntN(len(ids))
	}
	switch {
	case l.Float64() < 0.03:
		return "not sure"
	case check.Several:
		if !strings.Contains(words, "several with blanks or commas between them") {
			l.fault("may several be ticked? %q", text)
		}
		return fmt.Sprint(1 + pick())
	case wheels > 1:
		if l.IntN(3) > 0 {
			return "all " + ids[pick()]
		}
		var out []string
		for range wheels {
			out = append(out, ids[pick()])
		}
		return strings.Join(out, " ")
	}
	return ids[pick()]
}

// wheels gives how many wheels are asked about, and hears which.
func (l *blind) wheels(c *tree.Check, words string) int {
	if c.At == "" {
		return 1
	}
	// Above the head of the prompt stand verdicts, of other wheels too.
	below := 0
	for _, wheels := range []string{"left ", "right ", "each ", "both "} {
		below = max(below, strings.LastIndex(words, placeNames[c.Place]+", "+wheels))
	}
	words = words[below:]
	var named []string
	for _, wheel := range tree.Wheels {
		if strings.Contains(strings.ToLower(words), wheelName(wheel)) {
			named = append(named, wheel)
		}
	}
	switch {
	case len(named) == 0:
		l.fault("at which wheel? %q", words)
	case len(named) > 1 && c.Measure == "" && !c.Several:
		var order []string
		for _, wheel := range named {
			order = append(order, wheelName(wheel))
		}
		if !strings.Contains(words, fmt.Sprintf("%d answers in this order: %s", len(named), strings.Join(order, ", "))) {
			l.fault("in which order, at which wheels? %q", words)
		}
	}
	return max(1, len(named))
}

// choices: each stands there with a number or a name to say.
func (l *blind) choices(words string, ids, says []string) {
	for i, say := range says {
		number := fmt.Sprintf(" %d ", i+1)
		if !strings.Contains(words, number+ids[i]+" "+say) && !strings.Contains(words, number+say) && !strings.Contains(words, " "+ids[i]+" "+say) {
			l.fault("what is typed for %q? %q", say, words)
		}
	}
}

// next reports whether another reading of the same measurement is asked for,
// and at which wheel.
func (l *blind) next(words string) bool {
	return slices.ContainsFunc(l.asked.Inputs, func(in *tree.Input) bool {
		return in.Most > 0 && strings.Contains(words, strings.Join(strings.Fields(in.Say), " "))
	}) && (l.asked.At == "" || slices.ContainsFunc(tree.Wheels, func(w string) bool { return strings.Contains(words, upperFirst(wheelName(w))) }))
}

// reading types what the prompt asks for, in the unit that it names.
func (l *blind) reading(c *tree.Check, words, text string) string {
	for _, in := range c.Inputs {
		say := in.Say
		if say == "" {
			say = in.Name
		}
		if in.Most == 0 || !strings.Contains(words, strings.Join(strings.Fields(say), " ")) {
			continue
		}
		if in.Optional || l.again > 2 {
			return "not sure"
		}
		if in.US != "" && !strings.Contains(words, unitName(in.US)) && !strings.HasSuffix(strings.TrimSpace(text), in.US+">") {
			l.fault("in which unit? %q", text)
		}
		var out []string
		for range in.Least {
			out = append(out, middle(in.Low, in.High, l.b.Kind(c, in.Name), in.US))
		}
		return strings.Join(out, " ")
	}
	l.fault("what is read? %q", text)
	return "not sure"
}

// middle types a number in the middle of what is plausible.
func middle(low, high float64, kind unit.Kind, in string) string {
	if in == "" {
		return fmt.Sprint(int((low + high) / 2))
	}
	return strings.Fields(unit.Format(kind, (low+high)/2, in))[0]
}

// TestBlind: in plain mode at 40 columns, each prompt of whole talks about
// every complaint can be answered out of what was printed since the last
// answer: place, wheel, question, and how to answer. No colour, nothing drawn
// anew, no line too long.
func TestBlind(t *testing.T) {
	t.Setenv("COLUMNS", "40")
	t.Setenv("NO_COLOR", "")
	t.Setenv("TERM", "xterm-256color")
	t.Chdir(t.TempDir()) // a path may be longer than a line
	b := loadBook(t)
	shown := map[string]bool{}
	for i, complaints := range append(eachAlone(b), complaintsOf(b)) {
		for seed, sound := range []float64{0.97, 0.75} {
			if len(complaints) == 1 && seed != i%2 {
				continue // each complaint by itself once, nearly sound or less so
			}
			l := &blind{Rand: rand.New(rand.NewPCG(uint64(i), uint64(seed))), b: b, sound: sound, shown: shown}
			var numbers []string
			for i, id := range complaintsOf(b) {
				if slices.Contains(complaints, id) {
					numbers = append(numbers, fmt.Sprint(i+1))
				}
			}
			l.first = strings.Join(numbers, " ")
			before := len(shown)
			record := fmt.Sprintf("r%d-%d.yaml", i, seed)
			err := run([]string{"talk", "--plain", "--units", "us", "--record", record}, l, l, l)
			require.NoError(t, err, "%v", complaints)
			_, page, _ := strings.Cut(l.heard.String(), "\n")
			l.looks(page)
			for _, f := range l.faults {
				t.Errorf("%v: %s", complaints, f)
			}
			assert.LessOrEqual(t, l.long, 40)
			t.Logf("%v: %d checks that were not heard before", complaints, len(shown)-before)
		}
	}
	t.Logf("%d checks heard of %d", len(shown), len(b.Checks))
	assert.Greater(t, len(shown), len(b.Checks)/2)
}

var _ io.Reader = &blind{}
