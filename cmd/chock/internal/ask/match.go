package ask

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"
)

// refused is an answer that does not fit; the question is put again.
type refused struct{ reason error }

func (r *refused) Error() string { return r.reason.Error() }
func (r *refused) Unwrap() error { return r.reason }

func refuse(format string, args ...any) error { return &refused{fmt.Errorf(format, args...)} }

// words maps what may be typed to the prompt word it means. The letters are
// the keys that mean the same in a list.
var words = map[string]Word{
	"why": Why, "steps": Steps, "not sure": Unsure, "unsure": Unsure, "not-sure": Unsure, "later": Later,
	"back": Back, "change": Change, "note": Note, "stop": Stop,
}

var letters = map[rune]Word{'w': Why, 's': Steps, 'n': Unsure, 'l': Later, 'b': Back, 'c': Change, 't': Note, 'q': Stop}

// wordsHint lists the words in the order in which a list shows them.
func wordsHint(noUnsure bool) string {
	if noUnsure {
		return "Or a word: why, steps, back, change, note, stop."
	}
	return "Or a word: why, steps, not sure, later, back, change, note, stop."
}

// spoken is a word as it is shown.
func spoken(w Word) string {
	if w == Unsure {
		return "not sure"
	}
	return string(w)
}

// word reads a line that is a prompt word and nothing else; "note" may carry
// its text.
func word(line string) (Reply, bool) {
	if w, ok := words[fold(line)]; ok {
		return Reply{Word: w}, true
	}
	if len(line) > 5 && strings.EqualFold(line[:5], "note ") {
		return Reply{Word: Note, Text: strings.TrimSpace(line[5:])}, true
	}
	return Reply{}, false
}

// fold makes lines comparable that differ in case and blanks only.
func fold(s string) string { return strings.ToLower(strings.Join(strings.Fields(s), " ")) }

func (c Choice) words() string {
	if c.Say != "" {
		return c.Say
	}
	return c.ID
}

// key is the letter that picks c. Yes and no have theirs by custom; the n of
// "no" would mean "not sure" otherwise.
func (c Choice) key() rune {
	switch {
	case c.Key == 0 && fold(c.ID) == "yes":
		return 'y'
	case c.Key == 0 && fold(c.ID) == "no":
		return 'n'
	}
	return c.Key
}

// check refuses a question that nobody could answer.
func (q Question) check() error {
	switch {
	case len(q.Choices) == 0:
		return fmt.Errorf("ask: question %s has no choices", q.ID)
	case q.Several && len(q.Wheels) > 1:
		return fmt.Errorf("ask: question %s ticks several; it is asked one wheel at a time", q.ID)
	}
	return nil
}

// numbered tells whether the choices can be numbered: not where one of them
// begins with a digit itself, since "2" would then mean two things.
func (q Question) numbered() bool {
	return !slices.ContainsFunc(q.Choices, func(c Choice) bool {
		return startsWithDigit(c.ID) || startsWithDigit(c.words())
	})
}

func startsWithDigit(s string) bool { return s != "" && s[0] >= '0' && s[0] <= '9' }

func (q Question) name(i int) string {
	if i < len(q.Names) {
		return q.Names[i]
	}
	return q.Wheels[i]
}

// words gives the words of the answer id.
func (q Question) words(id string) string {
	for _, c := range q.Choices {
		if c.ID == id {
			return c.words()
		}
	}
	return spoken(Word(id))
}

// was tells the earlier answer in words.
func (q Question) was() string {
	var told []string
	for i, id := range q.Current {
		w := q.words(id)
		if len(q.Wheels) > 1 && i < len(q.Wheels) {
			w = q.name(i) + " " + w
		}
		told = append(told, w)
	}
	return strings.Join(told, "; ")
}

// how tells how to answer q with a typed line.
func (q Question) how() string {
	one := "A number or a word"
	if !q.numbered() {
		one = "The words, or their beginning"
	}
	switch {
	case len(q.Wheels) > 1:
		var names []string
		for i := range q.Wheels {
			names = append(names, q.name(i))
		}
		return fmt.Sprintf("All the same: %q. Else %d answers in this order: %s.",
			"all "+q.example(), len(q.Wheels), strings.Join(names, ", "))
	case q.Several:
		return one + "; several with blanks or commas between them."
	}
	return one + "."
}

// example is a short way to give the most ordinary answer, which stands last.
func (q Question) example() string {
	if id := q.Choices[len(q.Choices)-1].ID; len(id) <= 12 || !q.numbered() {
		return id
	}
	return strconv.Itoa(len(q.Choices))
}

// read reads a typed line as the answer to q.
func (q Question) read(text string) (Reply, error) {
	if fold(text) == "" {
		return Reply{}, errEmpty
	}
	if r, ok := word(text); ok {
		return q.allow(r)
	}
	switch {
	case len(q.Wheels) > 1:
		return q.readWheels(text)
	case q.Several:
		return q.readSeveral(text)
	}
	i, w, err := q.pick(text, true)
	switch {
	case err != nil:
		return Reply{}, err
	case w != "":
		return q.allow(Reply{Word: w})
	}
	return Reply{IDs: []string{q.Choices[i].ID}}, nil
}

// allow lets a prompt word through, unless q has no use for it.
func (q Question) allow(r Reply) (Reply, error) {
	if q.NoUnsure && (r.Word == Unsure || r.Word == Later) {
		return Reply{}, refuse("this one needs an answer; %q is none here", spoken(r.Word))
	}
	return r, nil
}

// pick finds the one choice, or the prompt word by its letter, that text means.
//
// What names a choice in full (its number, id, words or letter) comes first;
// then the letters of the prompt words, so that a letter means the same as
// in a list; then the beginning of an id or of the words. Where two choices fit,
// none is taken. Among several answers on one line, only the letters of "not
// sure" and "later" stand for words, since no other word can stand there.
func (q Question) pick(text string, alone bool) (int, Word, error) {
	t := fold(text)
	letter, size := utf8.DecodeRuneInString(t)
	single := size == len(t)
	numbered := q.numbered()
	fits := func(full bool) (found []int) {
		for i, c := range q.Choices {
			id, say := fold(c.ID), fold(c.words())
			if full && (t == id || t == say || numbered && t == strconv.Itoa(i+1) || single && c.key() != 0 && letter == lower(c.key())) ||
				!full && (strings.HasPrefix(id, t) || strings.HasPrefix(say, t)) {
				found = append(found, i)
			}
		}
		return found
	}
	found := fits(true)
	if len(found) == 0 && single {
		if w := letters[letter]; w != "" && (alone || w == Unsure || w == Later) {
			return 0, w, nil
		}
	}
	if len(found) == 0 && t != "" {
		found = fits(false)
	}
	switch {
	case len(found) == 1:
		return found[0], "", nil
	case len(found) == 0:
		return 0, "", refuse("%q is none of these answers", text)
	}
	var could []string
	for _, i := range found {
		could = append(could, fmt.Sprintf("%q", q.Choices[i].words()))
	}
	return 0, "", refuse("%q could be %s; type a little more", text, strings.Join(could, " or "))
}

func lower(r rune) rune {
	l, _ := utf8.DecodeRuneInString(strings.ToLower(string(r)))
	return l
}

// readWheels reads "all dry", or one answer a wheel.
func (q Question) readWheels(text string) (Reply, error) {
	n := len(q.Wheels)
	if rest, ok := strings.CutPrefix(fold(text), "all"); ok && strings.TrimLeft(rest, " :") != rest {
		id, err := q.atWheel(strings.TrimLeft(rest, " :"))
		switch {
		case err != nil:
			return Reply{}, err
		case id == string(Unsure) || id == string(Later):
			return q.allow(Reply{Word: Word(id)})
		}
		return Reply{IDs: slices.Repeat([]string{id}, n)}, nil
	}
	parts := q.parts(text)
	if len(parts) == 1 { // the letter of a word; "wet" alone does not say where
		if _, w, err := q.pick(parts[0], true); err == nil && w != "" {
			return q.allow(Reply{Word: w})
		}
	}
	var ids []string
	for _, part := range parts {
		id, err := q.atWheel(part)
		if err != nil {
			return Reply{}, err
		}
		ids = append(ids, id)
	}
	if len(ids) != n {
		return Reply{}, refuse("that is %s for %d wheels", count(len(ids), "answer"), n)
	}
	return Reply{IDs: ids}, nil
}

// atWheel reads the answer for one wheel, which may be "not sure" or "later".
func (q Question) atWheel(text string) (string, error) {
	w := words[fold(text)]
	i := 0
	if w == "" {
		var err error
		if i, w, err = q.pick(text, false); err != nil {
			return "", err
		}
	}
	switch {
	case w == "":
		return q.Choices[i].ID, nil
	case (w == Unsure || w == Later) && !q.NoUnsure:
		return string(w), nil
	}
	return "", refuse("%q cannot stand among answers; say it alone", text)
}

// readSeveral reads the answers ticked, and gives them in the order of the
// choices.
func (q Question) readSeveral(text string) (Reply, error) {
	var at []int
	parts := q.parts(text)
	for _, part := range parts {
		i, w, err := q.pick(part, len(parts) == 1)
		switch {
		case w != "" && len(parts) == 1:
			return q.allow(Reply{Word: w})
		case w != "" || words[part] != "":
			return Reply{}, refuse("%q cannot stand among answers; say it alone", part)
		case err != nil:
			return Reply{}, err
		}
		at = append(at, i)
	}
	if len(at) == 0 {
		return Reply{}, errEmpty
	}
	return q.ticked(at), nil
}

func (q Question) ticked(at []int) Reply {
	slices.Sort(at)
	var r Reply
	for _, i := range slices.Compact(at) {
		r.IDs = append(r.IDs, q.Choices[i].ID)
	}
	return r
}

// parts splits a line into answers: at its commas and, where what stands
// between them is no answer as a whole, at its blanks.
func (q Question) parts(text string) []string {
	var out []string
	for piece := range strings.FieldsFuncSeq(text, func(r rune) bool { return r == ',' || r == ';' }) {
		if piece = fold(piece); piece == "" {
			continue
		}
		if _, _, err := q.pick(piece, false); err == nil || words[piece] != "" {
			out = append(out, piece)
			continue
		}
		fields := strings.Fields(piece)
		for i := 0; i < len(fields); i++ {
			if i+1 < len(fields) && words[fields[i]+" "+fields[i+1]] != "" { // "not sure"
				out = append(out, fields[i]+" "+fields[i+1])
				i++
				continue
			}
			out = append(out, fields[i])
		}
	}
	return out
}

// read reads a typed line as the answer to f.
func (f Field) read(text string) (Reply, error) {
	if text = strings.TrimSpace(text); text == "" {
		return Reply{}, errEmpty
	}
	if r, ok := word(text); ok {
		return r, nil
	}
	if f.Check != nil {
		if err := f.Check(text); err != nil {
			return Reply{}, &refused{err}
		}
	}
	return Reply{Text: text}, nil
}

func count(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return fmt.Sprintf("%d %ss", n, noun)
}
