// Package hear finds the complaints that a person's own words mean.
//
// Each complaint has words that name it, and hints, which name nothing alone
// but tell it from others. Words and hints may be phrases. They are compared
// by their stems, so "shakes" is "shaking". A word of one complaint names it;
// a word of several names one of them, and the hints say which, or the person
// is asked. What is said not to be there is not heard: "no noise". The longer
// phrase counts: "hand brake" says nothing of the brake. A word that fits none
// may have one letter wrong, and the person is asked.
//
// It is a pure function of the lists and the text: no network, no learning,
// and nothing is worked out before the first text comes.
package hear

import (
	"cmp"
	"slices"
	"strings"
	"unicode/utf8"
)

// A Topic is a complaint with what it is called.
type Topic struct {
	ID           string
	Words, Hints []string
}

// Heard is what a text means: complaints that it names, and some that it may
// mean, of which the person is asked. Both in the order of the topics.
type Heard struct{ Sure, Maybe []string }

// Few is how many complaints a person is asked about at once. What fits more
// fits none.
const Few = 6

// short is how many words a text has in which one hint is reason to ask. In a
// longer one it takes two.
const short = 3

// An Ear hears words of some topics.
type Ear struct {
	topics  []Topic
	entries map[string][]entry // by the stem that they begin with
	stems   stems
	known   map[string]bool // every stem of an entry
	vocab   []string        // words of the entries as they are written, for typing errors
}

// An entry is a word, a phrase or a hint of a topic.
type entry struct {
	stems []string
	topic int
	hint  bool
}

// New makes an ear for topics.
func New(topics []Topic) *Ear {
	e := &Ear{topics: topics, entries: map[string][]entry{}, stems: stems{}, known: map[string]bool{}}
	vocab := map[string]bool{}
	for i, t := range topics {
		for _, list := range []struct {
			texts []string
			hint  bool
		}{{t.Words, false}, {t.Hints, true}} {
			for _, text := range list.texts {
				var stems []string
				for _, w := range e.stems.parse(text) {
					stems = append(stems, w.stem)
					e.known[w.stem] = true
					vocab[w.text] = true
				}
				if stems == nil { // "all of it": nothing but small words
					continue
				}
				e.entries[stems[0]] = append(e.entries[stems[0]], entry{stems, i, list.hint})
			}
		}
	}
	for w := range vocab {
		e.vocab = append(e.vocab, w)
	}
	slices.Sort(e.vocab)
	return e
}

// Left gives what is heard of a word or a phrase: all but the small words.
func Left(text string) string {
	var out []string
	for _, w := range (stems{}).parse(text) {
		out = append(out, w.text)
	}
	return strings.Join(out, " ")
}

// Hear gives the complaints that text means.
func (e *Ear) Hear(text string) Heard {
	words := e.stems.parse(text)
	return e.weigh(e.find(e.respelt(words)), len(words))
}

// An occurrence is a stretch of a text that is a word or a hint of topics.
type occurrence struct {
	topics   []int
	hint     bool
	doubtful bool // perhaps said not to be there
	guessed  bool // with a letter wrong
}

// find gives what is said in words: the longer before the shorter, and no word
// for two things.
func (e *Ear) find(words []word) []occurrence {
	type match struct {
		at    []int // places in words
		entry entry
	}
	var matches []match
	for i := range words {
		for _, en := range e.entries[words[i].stem] {
			if at := fits(words, i, en.stems); at != nil {
				matches = append(matches, match{at, en})
			}
		}
	}
	slices.SortStableFunc(matches, func(a, b match) int {
		return cmp.Or(cmp.Compare(len(b.at), len(a.at)), cmp.Compare(a.at[0], b.at[0]), slices.Compare(a.at, b.at))
	})
	var out []occurrence
	used := make([][]int, len(words)) // topics of the stretch that a word went into
	for i := 0; i < len(matches); {
		j := i // those of the same stretch: one word of several topics
		for j < len(matches) && slices.Equal(matches[j].at, matches[i].at) {
			j++
		}
		same := matches[i:j]
		i = j
		var topics []int
		for _, m := range same {
			topics = append(topics, m.entry.topic)
		}
		overlaps, foreign := false, false
		for _, at := range same[0].at {
			overlaps = overlaps || used[at] != nil
			foreign = foreign || used[at] != nil && !slices.ContainsFunc(used[at], func(t int) bool { return slices.Contains(topics, t) })
		}
		if foreign {
			continue
		}
		for _, at := range same[0].at {
			if used[at] == nil {
				used[at] = topics
			}
		}
		if overlaps { // more about the same: "the warning light stays on"
			continue
		}
		denied := words[same[0].at[0]].denied
		if denied == yes {
			continue
		}
		for _, hint := range []bool{false, true} {
			o := occurrence{hint: hint, doubtful: denied == perhaps}
			o.guessed = slices.ContainsFunc(same[0].at, func(at int) bool { return words[at].respelt })
			for _, m := range same {
				if m.entry.hint == hint && !slices.Contains(o.topics, m.entry.topic) {
					o.topics = append(o.topics, m.entry.topic)
				}
			}
			if o.topics != nil {
				out = append(out, o)
			}
		}
	}
	return out
}

// fits gives the places of a phrase that begins at words[i]: in this order,
// within one clause, with at most one word between two of them.
func fits(words []word, i int, stems []string) []int {
	at := []int{i}
	for _, stem := range stems[1:] {
		last := at[len(at)-1]
		next := -1
		for j := last + 1; j < len(words) && j <= last+2 && !words[j].apart; j++ {
			if words[j].stem == stem {
				next = j
				break
			}
			if words[j].negates {
				break
			}
		}
		if next < 0 {
			return nil
		}
		at = append(at, next)
	}
	return at
}

// weigh says what the occurrences come to.
func (e *Ear) weigh(found []occurrence, length int) Heard {
	hints := make([]int, len(e.topics))
	sure, maybe := map[int]bool{}, map[int]bool{}
	for _, o := range found {
		for _, t := range o.topics {
			if o.hint {
				hints[t]++
			}
		}
	}
	var open [][]int // words of several topics
	for _, o := range found {
		switch {
		case o.hint:
		case o.guessed || o.doubtful:
			for _, t := range o.topics {
				maybe[t] = true
			}
		case len(o.topics) == 1:
			sure[o.topics[0]] = true
		default:
			open = append(open, o.topics)
		}
	}
	// What two words have in common is meant by both.
	slices.SortStableFunc(open, func(a, b []int) int { return cmp.Compare(len(a), len(b)) })
	for _, topics := range open {
		if slices.ContainsFunc(topics, func(t int) bool { return sure[t] }) {
			continue // that explains it
		}
		hinted := slices.DeleteFunc(slices.Clone(topics), func(t int) bool { return hints[t] == 0 })
		switch {
		case len(hinted) == 1:
			sure[hinted[0]] = true
			continue
		case len(hinted) > 1:
			topics = hinted
		}
		for _, t := range topics {
			maybe[t] = true
		}
	}
	if len(sure)+len(maybe) == 0 {
		for t, n := range hints {
			if n > 1 || n > 0 && length <= short {
				maybe[t] = true
			}
		}
	}
	var out Heard
	for t, topic := range e.topics {
		switch {
		case sure[t]:
			out.Sure = append(out.Sure, topic.ID)
		case maybe[t]:
			out.Maybe = append(out.Maybe, topic.ID)
		}
	}
	if len(out.Maybe) > Few {
		out.Maybe = e.likeliest(out.Maybe, hints)
	}
	return out
}

// likeliest keeps the topics that most hints speak for, if they are few.
func (e *Ear) likeliest(ids []string, hints []int) []string {
	most := slices.Max(hints)
	var out []string
	for t, topic := range e.topics {
		if most > 0 && hints[t] == most && slices.Contains(ids, topic.ID) {
			out = append(out, topic.ID)
		}
	}
	if len(out) > Few {
		return nil
	}
	return out
}

// respelt puts the word that was probably meant in the place of each that is
// not known, where one letter is wrong.
func (e *Ear) respelt(words []word) []word {
	out := slices.Clone(words)
	for i, w := range out {
		if e.known[w.stem] || utf8.RuneCountInString(w.text) < 5 {
			continue
		}
		for _, v := range e.vocab {
			if slices.ContainsFunc(forms(v), func(f string) bool { return len(f) >= 5 && oneOff(w.text, f) }) {
				out[i].stem, out[i].respelt = e.stems.of(v), true
				break
			}
		}
	}
	return out
}

// forms gives the ways in which a word ends most often.
func forms(word string) []string {
	cut := strings.TrimSuffix(word, "e")
	return []string{word, word + "s", cut + "ing", cut + "ed"}
}

// oneOff reports whether one letter makes a into b: one wrong, one missing, one
// too many, or two neighbours changed over. The first letter is hardly ever wrong.
func oneOff(a, b string) bool {
	if a == "" || b == "" || a[0] != b[0] || a == b {
		return false
	}
	i := 0
	for i < len(a) && i < len(b) && a[i] == b[i] {
		i++
	}
	x, y := a[i:], b[i:]
	switch len(x) - len(y) {
	case 0:
		return x[1:] == y[1:] || len(x) > 1 && x[0] == y[1] && x[1] == y[0] && x[2:] == y[2:]
	case 1:
		return x[1:] == y
	case -1:
		return x == y[1:]
	}
	return false
}
