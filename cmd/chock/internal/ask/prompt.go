package ask

import (
	"errors"
	"fmt"
	"io"
	"maps"
	"slices"
	"strings"
	"sync"

	"github.com/chzyer/readline"
	"github.com/manifoldco/promptui"
)

// NewPrompt draws lists with promptui and takes typed lines with readline, on
// the terminal that in, out and scr all are. readline switches the mode of
// standard input, so in must be that.
func NewPrompt(in io.Reader, out io.Writer, scr *Screen) Asker {
	return &prompter{keys: &keys{in: in, size: scr.size}, out: out, scr: scr}
}

type prompter struct {
	keys *keys
	out  io.Writer
	scr  *Screen
	half half
}

// half is what was answered wheel by wheel before the person asked why, how,
// or wrote a note. The question comes again, and goes on there.
type half struct {
	id  string
	ids []string
}

func (p *prompter) Choose(q Question) (Reply, error) {
	if err := q.check(); err != nil {
		return Reply{}, err
	}
	defer p.scr.answered()
	if was := q.was(); was != "" {
		p.scr.Item(Dim, "was: ", was)
	}
	if len(q.Wheels) > 1 {
		return p.wheels(q)
	}
	r, err := p.choose(q)
	if err == nil {
		say(p.scr, q, r)
	}
	return r, err
}

// choose puts q as one list.
func (p *prompter) choose(q Question) (Reply, error) {
	l := &list{scr: p.scr, hint: "Number or arrows, then Enter"}
	if q.Several {
		l.hint = "Enter ticks; then done"
		l.ticks = make([]bool, len(q.Choices))
	}
	for i, c := range q.Choices {
		l.items = append(l.items, item{text: c.words(), key: q.listKey(i), letter: c.key(), tick: q.Several})
	}
	if q.Several {
		l.items = append(l.items, item{text: "done", key: 'd', act: true, done: true})
	}
	r, i, err := p.withWords(l, q.NoUnsure)
	switch {
	case err != nil || r.Word != "":
		return r, err
	case !q.Several:
		return Reply{IDs: []string{q.Choices[i].ID}}, nil
	}
	var at []int
	for i, on := range l.ticks {
		if on {
			at = append(at, i)
		}
	}
	return q.ticked(at), nil
}

// wheels asks whether all wheels agree, and goes wheel by wheel if not.
func (p *prompter) wheels(q Question) (Reply, error) {
	var ids []string
	if p.half.id == q.ID && len(p.half.ids) < len(q.Wheels) {
		ids = p.half.ids
	}
	p.half = half{}
	one := q
	one.Wheels, one.Names, one.Current = nil, nil, nil
	for {
		if ids == nil {
			l := &list{scr: p.scr, hint: "Number or arrows, then Enter"}
			for i, c := range q.Choices {
				l.items = append(l.items, item{text: "all: " + c.words(), key: q.listKey(i), letter: c.key()})
			}
			l.items = append(l.items, item{text: "they differ", key: 'd', act: true})
			r, i, err := p.withWords(l, q.NoUnsure)
			switch {
			case err != nil:
				return r, err
			case r.Word != "":
				say(p.scr, q, r)
				return r, nil
			case i < len(q.Choices):
				r.IDs = slices.Repeat([]string{q.Choices[i].ID}, len(q.Wheels))
				say(p.scr, q, r)
				return r, nil
			}
			ids = []string{}
		}
		for len(ids) < len(q.Wheels) {
			name := q.name(len(ids))
			p.scr.Print(Strong, name+":")
			r, err := p.choose(one)
			if err != nil {
				return r, err
			}
			id := first(r.IDs)
			switch r.Word {
			case "":
			case Unsure, Later:
				id = string(r.Word)
			case Back: // to the wheel before, or to the list of all
				if len(ids) > 0 {
					ids = ids[:len(ids)-1]
				} else {
					ids = nil
				}
				say(p.scr, one, r)
			case Why, Steps, Note:
				p.half = half{q.ID, ids}
				say(p.scr, one, r)
				return r, nil
			default:
				say(p.scr, one, r)
				return r, nil
			}
			if r.Word == Back {
				break
			}
			p.scr.Item(Plain, "= ", name+": "+q.words(id))
			ids = append(ids, id)
		}
		if ids != nil && len(ids) == len(q.Wheels) {
			return Reply{IDs: ids}, nil
		}
	}
}

// withWords runs a list of answers with "not sure" and "more" below them, and
// gives the number of the answer or a prompt word.
func (p *prompter) withWords(l *list, noUnsure bool) (Reply, int, error) {
	answers := len(l.items)
	taken := func(r rune) bool { // by an answer
		return slices.ContainsFunc(l.items[:answers], func(it item) bool { return it.letter == r || it.act && it.key == r })
	}
	for i := range l.items[:answers] {
		if it := &l.items[i]; it.act && slices.ContainsFunc(l.items[:answers], func(o item) bool { return o.letter == it.key }) {
			it.key = 0
		}
	}
	add := func(to *list, w Word, key rune) {
		to.items = append(to.items, item{text: spoken(w), word: w, key: key, act: true})
	}
	more := &list{scr: p.scr, hint: "A letter; or arrows, then Enter"}
	for _, w := range []Word{Why, Steps, Later, Back, Change, Note, Stop} {
		if !noUnsure || w != Later {
			add(more, w, wordKey(w))
		}
	}
	more.items = append(more.items, item{text: "the answers again", key: 'm', act: true})
	if !noUnsure {
		add(l, Unsure, wordKey(Unsure))
	}
	l.items = append(l.items, item{text: "more", key: 'm', act: true})
	last := len(l.items) - 1
	for i := range l.items[answers:] {
		if it := &l.items[answers+i]; taken(it.key) {
			it.key = 0
		}
	}
	for _, it := range more.items { // their letters work without opening the list
		if it.word != "" && !taken(it.key) {
			it.hidden = true
			l.items = append(l.items, it)
		}
	}
	for {
		i, err := p.run(l)
		if err != nil {
			return Reply{}, 0, err
		}
		it := l.items[i]
		if i == last {
			if i, err = p.run(more); err != nil {
				return Reply{}, 0, err
			}
			it = more.items[i]
			more.at, more.moved = 0, false
			if it.word == "" {
				continue
			}
		}
		switch it.word {
		case "":
			return Reply{}, i, nil
		case Note:
			text, err := p.note()
			if err == nil && text == "" { // none after all
				continue
			}
			return Reply{Word: Note, Text: text}, 0, err
		}
		return Reply{Word: it.word}, 0, nil
	}
}

// wordKey is the letter of a prompt word.
func wordKey(w Word) rune {
	for r, word := range letters {
		if word == w {
			return r
		}
	}
	return 0
}

// furtherKeys move to the choices after the ninth: letters that no prompt word
// and no item of a list has.
const furtherKeys = "efghijkpruvxyz"

// listKey is the digit that moves to choice i, or the letter after the ninth.
func (q Question) listKey(i int) rune {
	if q.numbered() {
		switch own := q.Choices[i].key(); {
		case i < 9:
			return '1' + rune(i)
		case own != 0:
			return own
		case i < 9+len(furtherKeys):
			return rune(furtherKeys[i-9])
		}
		return 0
	}
	// "2 circuits" brings its own digit, if no other answer begins with it.
	for _, begins := range []string{q.Choices[i].words(), q.Choices[i].ID} {
		if startsWithDigit(begins) && q.beginningWith(begins[:1]) == 1 {
			return rune(begins[0])
		}
	}
	return 0
}

func (q Question) beginningWith(digit string) (n int) {
	for _, c := range q.Choices {
		if strings.HasPrefix(c.words(), digit) || strings.HasPrefix(c.ID, digit) {
			n++
		}
	}
	return n
}

// An item is one line of a list, or several where its text is long.
type item struct {
	text   string
	key    rune // shown; a digit moves to the item, and so does a letter unless act is set
	letter rune // also moves to it; not shown
	act    bool // the key does it at once, without Enter
	done   bool // ends a list that ticks
	tick   bool // Enter ticks it and the list stays
	word   Word // the prompt word it stands for
	hidden bool // only the key counts; nothing is drawn
}

// A list is the state of one promptui.Select. promptui draws it and scrolls;
// what a key means is decided here, before promptui sees it.
//
// press runs on the goroutine that reads keys and draw on the one that draws.
type list struct {
	scr   *Screen
	items []item
	hint  string
	ticks []bool

	mu    sync.Mutex
	at    int  // the marked item
	moved bool // a key has marked one; nothing is marked before
	nudge string
	ended key // what ended it

	rows   []row // what promptui calls its items
	cursor int   // the row that promptui's cursor is on
	start  int   // the first row shown, when the list is drawn anew
	height int   // rows shown at once
}

// A row is one physical line, so that promptui never draws one that wraps.
type row struct {
	item  int
	text  string
	first bool
}

// run draws l until something is chosen, and gives its number.
func (p *prompter) run(l *list) (int, error) {
	for {
		if err := p.scr.Err(); err != nil {
			return 0, err
		}
		p.keys.drawn()
		l.lay(p.scr.Width()-1, p.keys.rows)
		funcs := maps.Clone(promptui.FuncMap)
		funcs["row"], funcs["hint"] = l.draw, l.label
		g := &gate{scr: p.scr, out: p.out}
		sel := promptui.Select{
			Label: "", Items: l.rows, Size: l.height,
			HideHelp: true, HideSelected: true,
			Templates: &promptui.SelectTemplates{
				Label: "{{hint}}", Active: "{{row .}}", Inactive: "{{row .}}", Selected: " ", FuncMap: funcs,
			},
			Stdin: &listKeys{keys: p.keys, list: l}, Stdout: g,
		}
		_, _, err := sel.RunCursorAt(l.cursor, l.start)
		g.shut.Store(true)
		l.mu.Lock()
		ended, at := l.ended, l.at
		l.mu.Unlock()
		switch {
		case p.scr.Err() != nil:
			return 0, p.scr.Err()
		case err != nil:
			return 0, fmt.Errorf("drawing the list: %w", err)
		case ending(ended) != nil:
			return 0, ending(ended)
		case ended == keyResize:
			p.scr.redraw()
		default:
			return at, nil
		}
	}
}

// lay cuts the items into rows of width columns, for a terminal of so many lines.
func (l *list) lay(width, lines int) {
	l.mu.Lock()
	defer l.mu.Unlock()
	l.ended, l.rows = 0, nil
	for i, it := range l.items {
		if it.hidden {
			continue
		}
		head := "  "
		if it.key != 0 {
			head = string(it.key) + " "
		}
		if it.tick {
			head += "[ ] "
		}
		text := strings.Join(strings.Fields(l.scr.show(it.text)), " ")
		const edge = 4 // promptui's own two columns, then ours for the mark
		for n, part := range wrap(text, max(width-edge-len(head), 2)) {
			if n > 0 {
				head = strings.Repeat(" ", len(head))
			}
			l.rows = append(l.rows, row{i, head + part, n == 0})
		}
	}
	l.height = max(min(len(l.rows), lines-3), 1)
	l.cursor = l.rowOf(l.at)
	l.start = min(l.cursor, max(l.lastRowOf(l.at)+1-l.height, 0))
}

func (l *list) rowOf(item int) int {
	return max(slices.IndexFunc(l.rows, func(r row) bool { return r.item == item }), 0)
}

func (l *list) lastRowOf(item int) int {
	at := l.rowOf(item)
	for at+1 < len(l.rows) && l.rows[at+1].item == item {
		at++
	}
	return at
}

// draw gives a row as it stands; a template calls it.
func (l *list) draw(r row) string {
	l.mu.Lock()
	defer l.mu.Unlock()
	text := r.text
	if it := l.items[r.item]; it.tick && r.first && l.ticks[r.item] {
		text = strings.Replace(text, "[ ]", "[x]", 1)
	}
	if !l.moved || r.item != l.at {
		return "  " + text
	}
	mark := "▸ "
	if l.scr.ascii {
		mark = "> "
	}
	if !r.first {
		mark = "  "
	}
	return l.scr.paint(Strong, mark+text)
}

// label gives the one line above the list; a template calls it.
func (l *list) label() string {
	l.mu.Lock()
	defer l.mu.Unlock()
	text := l.hint
	if l.nudge != "" {
		text = l.nudge
	}
	return l.scr.paint(Dim, l.scr.cut("("+text+")", l.scr.Width()-1))
}

// press takes a key and gives what promptui is to read for it.
func (l *list) press(k key) string {
	l.mu.Lock()
	defer l.mu.Unlock()
	l.nudge = ""
	shown := 0
	for i, it := range l.items {
		if !it.hidden {
			shown = i + 1
		}
	}
	switch k {
	case keyInterrupt, keyClose, keyGone, keyResize:
		l.ended = k
		return feedEnter
	case keyEnter, ' ':
		switch {
		case k == ' ' && (!l.moved || !l.items[l.at].tick):
			return ""
		case !l.moved:
			l.nudge = "Nothing chosen yet: number or arrow"
			return feedRedraw
		}
		return l.take(l.at)
	case keyUp:
		if !l.moved {
			return l.mark(shown - 1)
		}
		return l.mark(max(l.at-1, 0))
	case keyDown:
		if !l.moved {
			return l.mark(0)
		}
		return l.mark(min(l.at+1, shown-1))
	case keyHome, keyPageUp:
		return l.mark(0)
	case keyEnd, keyPageDown:
		return l.mark(shown - 1)
	}
	if k < 0 {
		return ""
	}
	r := lower(rune(k))
	for i, it := range l.items {
		switch {
		case r != lower(it.key) && r != lower(it.letter):
		case it.act:
			l.moved = true
			return l.take(i)
		default:
			return l.mark(i)
		}
	}
	return ""
}

// take ticks item i, or ends the list with it.
func (l *list) take(i int) string {
	it := l.items[i]
	switch {
	case it.tick:
		l.ticks[i] = !l.ticks[i]
		return feedRedraw
	case it.done && !slices.Contains(l.ticks, true):
		l.nudge = "Nothing ticked yet: Enter ticks"
		return l.mark(i)
	}
	l.at, l.ended = i, keyEnter
	return feedEnter
}

// mark moves the mark to item i. promptui is led over the last row of a long
// item and back to its first, so that all of it scrolls into view.
func (l *list) mark(i int) string {
	l.at, l.moved = i, true
	to := l.rowOf(i)
	last := min(l.lastRowOf(i), to+l.height-1)
	var feed strings.Builder
	for ; l.cursor < last; l.cursor++ {
		feed.WriteString(feedNext)
	}
	for ; l.cursor > to; l.cursor-- {
		feed.WriteString(feedPrev)
	}
	if feed.Len() == 0 {
		return feedRedraw
	}
	return feed.String()
}

func (p *prompter) Line(f Field) (Reply, error) {
	defer p.scr.answered()
	if f.Current != "" {
		p.scr.Item(Dim, "was: ", f.Current)
	}
	typed := ""
	for {
		text, err := p.line(f.Hint, typed, f.Current)
		var r Reply
		if err == nil {
			r, err = f.read(text)
		}
		switch {
		case fatal(err):
			return Reply{}, err
		case err != nil:
			p.scr.Print(Plain, sentence(err))
			if errors.Is(err, errEmpty) {
				p.scr.Print(Dim, wordsHint(false))
			}
			typed = text // to be put right, not typed anew
		case r.Word == Note && r.Text == "":
			if r.Text, err = p.note(); err != nil {
				return Reply{}, err
			}
			if r.Text != "" {
				return r, nil
			}
			typed = ""
		default:
			return r, nil
		}
	}
}

// note asks for the text of a note; an empty line means none after all.
func (p *prompter) note() (string, error) {
	for {
		text, err := p.line("note", "", "")
		if !errors.Is(err, errLong) {
			return text, err
		}
		p.scr.Print(Plain, sentence(err))
	}
}

// line takes one typed line that begins as typed; the up arrow brings current
// back.
func (p *prompter) line(hint, typed, current string) (string, error) {
	for {
		if err := p.scr.Err(); err != nil {
			return "", err
		}
		p.keys.drawn()
		k := &textKeys{keys: p.keys, recall: current != ""}
		k.length.Store(int32(len(typed)))
		g := &gate{scr: p.scr, out: p.out}
		columns, _ := p.scr.size()
		rl, err := readline.NewEx(&readline.Config{
			Prompt: prompt(p.scr, hint),
			Stdin:  k, Stdout: g, Stderr: g,
			Listener: k, FuncFilterInputRune: k.filter,
			FuncGetWidth: func() int { return columns }, FuncIsTerminal: func() bool { return true },
			FuncOnWidthChanged:     func(func()) {}, // the line is begun anew instead
			DisableAutoSaveHistory: true,
		})
		if err != nil {
			return "", fmt.Errorf("reading the answer: %w", err)
		}
		if current != "" {
			rl.SaveHistory(current)
		}
		if typed != "" {
			rl.Operation.SetBuffer(typed)
		}
		text, err := rl.Readline()
		g.shut.Store(true)
		rl.Close()
		ended := key(k.ended.Load())
		switch {
		case p.scr.Err() != nil:
			return "", p.scr.Err()
		case err != nil:
			return "", fmt.Errorf("reading the answer: %w", err)
		case ending(ended) != nil:
			return "", ending(ended)
		case ended == keyResize:
			p.scr.redraw()
			typed = text
		case k.long.Load() || len(text) > longest:
			return "", errLong
		default:
			return strings.TrimSpace(text), nil
		}
	}
}
