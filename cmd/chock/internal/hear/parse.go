package hear

import (
	"strings"
	"unicode"

	"github.com/kljensen/snowball/english"
)

// A word is one word of a text that may mean something.
type word struct {
	text, stem string
	apart      bool   // something ends before it: a sentence, a clause, an item of a list
	respelt    bool   // a letter was wrong
	negates    bool   // it says that what follows is not there
	denied     denial // it is said not to be there
}

type denial int

const (
	no denial = iota
	perhaps
	yes
)

// Words that say nothing by themselves and may stand anywhere.
var small = set(`a an the my your our his her its it this that these those i we you he she they me him them us
	is are was were be been being am do does did doing done has have had having will would shall should may might must
	very really quite rather so such pretty bit little slightly somewhat almost nearly completely totally absolutely
	way now then there here of kind sort as extremely fairly awfully bloody badly simply
	s t m re ve ll d if which who what also sometimes often usually begun begins started starts begin start
	think thinks believe guess say says please help`)

// Words that take back what follows them, as they are written or spoken.
var negators = map[string]string{
	"not": "not", "never": "never", "cannot": "not", "dont": "not", "doesnt": "not", "didnt": "not", "wont": "not", "cant": "not",
	"isnt": "not", "arent": "not", "wasnt": "not", "werent": "not", "hasnt": "not", "havent": "not", "hadnt": "not",
	"wouldnt": "not", "couldnt": "not", "shouldnt": "not", "aint": "not",
	"no": "no", "without": "without", "w/o": "without", "none": "no", "neither": "not", "nothing": "no", "hardly": "hardly", "barely": "hardly",
}

// After a negator these mean that the rest is there all the same: "not only",
// "no matter", "could not find the noise", "does not stop squealing".
var takenBack = set(`only just matter sure idea even but enough merely rid fix cure find explain solve locate trace`)

// Small words with which something new may begin.
var subjects = set(`i it he she they we you`)

// What never does this goes on.
var endless = set(`stop stops stopped quit quits cease ceases`)

// Words that end what a negator takes back.
var turns = set(`but only just except though although however yet unless instead because and plus`)

// After "only" these bring back what was denied for other times.
var circumstances = set(`when while if under after at during on in from below above with`)

// reach is how many words a negator takes back, unless "or" goes on with it.
const reach = 4

// parse cuts a text into its words. Small words are left out, and each of the
// others knows whether it is said not to be there.
func (s stems) parse(text string) []word {
	var out []word
	state, left := no, 0
	apart := false
	tokens := tokenize(text)
	for i := 0; i < len(tokens); i++ {
		t := tokens[i]
		next := ""
		if i+1 < len(tokens) {
			next = tokens[i+1]
		}
		switch {
		case t == ",":
			apart = true
			if state == yes {
				state, left = perhaps, reach
			} else {
				state = no
			}
			continue
		case t == ".":
			apart, state = true, no
			continue
		case t == "or" || t == "nor":
			apart, left = true, reach
			continue
		}
		w := word{text: t, apart: apart}
		_, w.negates = negators[t]
		if w.negates && endless[next] && i+2 < len(tokens) && strings.HasSuffix(tokens[i+2], "ing") {
			i++ // "never stops squealing"
			continue
		}
		if turns[t] && !(i > 0 && negators[tokens[i-1]] != "" && takenBack[t]) { // but "not only"
			if t == "only" && next != "" && circumstances[next] { // "no noise on the road, only when braking"
				for j := range out {
					out[j].denied = min(out[j].denied, perhaps)
				}
			}
			apart, state = true, no
			continue
		}
		if small[t] || unicode.IsDigit(rune(t[0])) {
			if subjects[t] && state == yes && left < reach {
				state, left = perhaps, reach // "without noise it pulls"
			}
			continue
		}
		if left == 0 {
			state = no
		}
		w.denied = state
		left--
		w.stem = s.of(t)
		if w.negates {
			w.stem = negators[t]
			if takenBack[next] || w.stem == "hardly" {
				state = no
			} else {
				state, left = yes, reach
			}
		}
		apart = false
		out = append(out, w)
	}
	return out
}

// stems keeps what each word came to, since lists say the same words often.
type stems map[string]string

// of cuts the ending off a word, but not off an adverb: braking lightly is not
// a brake light.
func (s stems) of(word string) string {
	if len(word) > 4 && strings.HasSuffix(word, "ly") {
		return word
	}
	out, known := s[word]
	if !known {
		out = english.Stem(word, true)
		s[word] = out
	}
	return out
}

var marks = strings.NewReplacer("’", "'", "‘", "'", "´", "'", "`", "'", "w/o", " without ")

// tokenize gives the words of a text in small letters, "," for a pause and "."
// where a sentence ends.
func tokenize(text string) []string {
	text = strings.ToLower(text)
	text = marks.Replace(text)
	text = strings.ReplaceAll(text, "n't", "nt")
	var out []string
	var b strings.Builder
	flush := func() {
		if b.Len() > 0 {
			out = append(out, b.String())
			b.Reset()
		}
	}
	for i, r := range text {
		switch {
		case unicode.IsLetter(r) || unicode.IsDigit(r):
			b.WriteRune(r)
		case r == '\'': // the driver's
			flush()
		case r == ',' || r == '-' && strings.HasPrefix(text[i+1:], " ") || r == '–' || r == '—':
			flush()
			out = append(out, ",")
		case strings.ContainsRune(".;:!?()\n", r):
			flush()
			out = append(out, ".")
		default:
			flush()
		}
	}
	flush()
	return out
}

func set(words string) map[string]bool {
	out := map[string]bool{}
	for _, w := range strings.Fields(words) {
		out[w] = true
	}
	return out
}
