package unit

import (
	"fmt"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"
)

// The most that one list may hold: four times round a rotor every five degrees
// would still fit.
const (
	longestList = 8192
	mostValues  = 300
)

// An item is one position of a list, before its unit is known.
type item struct {
	text    string
	start   int // of text in the list
	missing bool
	num     number // of what was typed, when not missing
	unit    string // as typed, "" for a bare number
}

// ParseList reads readings parted by spaces or ";". A hyphen alone is a
// position that could not be read. A unit after the last value holds for the
// bare ones before it; otherwise they take def. A mixed fraction is 1-1/16.
// Commas part readings when a space follows each of them; otherwise they are
// decimal marks, as in [Parse].
func ParseList(kind Kind, text, def string) ([]Any, error) {
	t := tableOf(kind)
	if kind == KindWord {
		return parseWords(text)
	}
	if t == nil {
		return nil, fmt.Errorf("no quantity is called %s", quote(string(kind)))
	}
	text = strings.TrimSpace(text)
	if text == "" {
		return nil, fmt.Errorf("nothing typed: want readings parted by spaces, like 0 1.6 2")
	}
	if len(text) > longestList {
		return nil, fault(text, "too long: type the readings of one place")
	}
	if list, ok := t.plain(nil, text, def); ok {
		return list, nil
	}
	items, err := cut(text)
	if err != nil {
		return nil, err
	}
	if len(items) > mostValues {
		return nil, fault(text, "too many readings: %d are enough", mostValues)
	}
	return t.takeAll(items, def)
}

// AppendPlain adds to list the readings of a text as files have it: decimals
// parted by single spaces, or a hyphen alone, all in the unit def. It is not ok
// with anything else, nor with what [ParseList] refuses; else the two agree.
func AppendPlain(list []Any, kind Kind, text, def string) (_ []Any, ok bool) {
	t := tableOf(kind)
	if t == nil || text == "" || len(text) > longestList {
		return list, false
	}
	return t.plain(list, text, def)
}

// plain is AppendPlain for a kind; a test holds it to the long way.
func (t *table) plain(list []Any, text, def string) (_ []Any, ok bool) {
	s := t.plainScale(def)
	n := 1 + strings.Count(text, " ")
	if s == nil || n > mostValues {
		return list, false
	}
	list = slices.Grow(list, n)
	var step float64 // of the readings so far, as long as they have one
	var stepOf uint64
	for at := 0; at < len(text); at++ { // at each turn past the space
		end := at + strings.IndexByte(text[at:], ' ')
		if end < at {
			end = len(text)
		}
		word := text[at:end]
		if word == "-" {
			list = append(list, Absent(t.kind))
		} else {
			m, div, ok := plainDecimal(word)
			if !ok {
				return list, false
			}
			if div != stepOf {
				step, stepOf = s.si(1, div), div
			}
			list = append(list, Any{Kind: t.kind, SI: s.si(m, div), Resolution: step, Text: word, Unit: s.name})
		}
		at = end
	}
	return list, true
}

// plainScale is the unit of plain numbers; nil for a kind that has more rules
// than a decimal number.
func (t *table) plainScale(def string) *scale {
	if t.whole || t.kind == KindTemperature {
		return nil
	}
	return t.named(def)
}

// plain reads one decimal and nothing else.
func (s *scale) plain(kind Kind, text string) (a Any, ok bool) {
	m, div, ok := plainDecimal(text)
	if !ok {
		return a, false
	}
	return Any{Kind: kind, SI: s.si(m, div), Resolution: s.si(1, div), Text: text, Unit: s.name}, true
}

// plainDecimal is m/div as digits with a point at the most, and a sign.
func plainDecimal(text string) (m int64, div uint64, ok bool) {
	at := 0
	neg := text != "" && text[0] == '-'
	if neg || text != "" && text[0] == '+' {
		at++
	}
	whole, after := 0, 0
	div = 1
	for ; at < len(text) && isDigit(text[at]); at++ {
		m, whole = m*10+int64(text[at]-'0'), whole+1
		if whole > mostWhole {
			return 0, 0, false
		}
	}
	if at < len(text) && text[at] == '.' {
		for at++; at < len(text) && isDigit(text[at]); at++ {
			m, div, after = m*10+int64(text[at]-'0'), div*10, after+1
			if after > mostAfter {
				return 0, 0, false
			}
		}
	}
	if neg {
		m = -m
	}
	return m, div, whole+after > 0 && at == len(text)
}

func parseWords(text string) ([]Any, error) {
	var list []Any
	for _, id := range strings.FieldsFunc(text, func(r rune) bool { return unicode.IsSpace(r) || r == ';' || r == ',' }) {
		a, err := parseWord(id)
		if err != nil {
			return nil, err
		}
		list = append(list, a)
	}
	if len(list) == 0 {
		return nil, fmt.Errorf("nothing typed: want the words of answers")
	}
	return list, nil
}

// takeAll gives every item its unit and its value.
func (t *table) takeAll(items []item, def string) ([]Any, error) {
	var f folded
	var name unitName
	last := "" // the unit after the last value, if there is one
	for i := range items {
		it := &items[i]
		if it.missing {
			if it.unit != "" {
				last = it.unit
			}
			continue
		}
		num, err := split(t, it.text, &f, &name)
		if err != nil {
			return nil, place(i, len(items), err)
		}
		it.num, it.unit = num, string(name.bytes())
		last = it.unit
	}
	if last == "" {
		if err := t.uniform(items, def); err != nil {
			return nil, err
		}
		last = def
	}
	list := make([]Any, len(items))
	for i, it := range items {
		if it.missing {
			list[i] = Absent(t.kind)
			continue
		}
		unit := it.unit
		if unit == "" {
			unit = last
		}
		if unit == "" && t.find(nil) == nil {
			return nil, place(i, len(items), fault(it.text, "which unit? write it after the last one: %s", t.list()))
		}
		a, err := t.resolve(it.text, it.num, t.named(unit), unit)
		if err != nil {
			return nil, place(i, len(items), err)
		}
		list[i] = a
	}
	return list, nil
}

// uniform refuses a list whose last value is bare while an earlier one has
// another unit than the default: which of the two the bare ones are in, the
// text does not say.
func (t *table) uniform(items []item, def string) error {
	for i, it := range items {
		if it.missing || it.unit == "" {
			continue
		}
		s := t.named(it.unit)
		if s == nil {
			_, err := t.resolve(it.text, it.num, nil, it.unit)
			return place(i, len(items), err)
		}
		if s != t.named(def) {
			return place(i, len(items), fault(it.text, "only some readings have a unit: write it after the last one"))
		}
	}
	return nil
}

// place says which reading of a list is at fault.
func place(i, of int, err error) error {
	if of == 1 {
		return err
	}
	return fmt.Errorf("reading %d, %w", i+1, err)
}

// cut parts a list into items. What begins like a number begins one; any other
// word belongs to the number before it, as its unit.
func cut(text string) ([]item, error) {
	commas, err := commasPart(text)
	if err != nil {
		return nil, err
	}
	var items []item
	alone := false // a ";" or a parting "," came since the last word
	for pos := 0; pos < len(text); {
		r, size := utf8.DecodeRuneInString(text[pos:])
		switch {
		case unicode.IsSpace(r):
			pos += size
			continue
		case r == ';', r == ',' && commas && parts(text[pos+1:]):
			if alone || len(items) == 0 {
				return nil, fault(text, "nothing between two marks: type - for a reading you could not take")
			}
			alone = true
			pos += size
			continue
		}
		end := wordEnd(text, pos, commas)
		word := text[pos:end]
		switch {
		case isDash(word):
			items = append(items, item{text: word, start: pos, missing: true})
		case startsNumber(word):
			if strings.Count(word, ",") > 1 {
				return nil, fault(word, "the commas can be read two ways: part readings with ; or spaces")
			}
			if n := len(items); n > 0 && !alone && splitMixed(items[n-1], word) {
				both := items[n-1].text
				return nil, fault(both+" "+word, "write %s-%s for one reading, or %s; %s for two", both, word, both, word)
			}
			items = append(items, item{text: word, start: pos})
		case len(items) == 0 || alone:
			return nil, fault(word, "want a number before it, like 0.004 in")
		default:
			it := &items[len(items)-1]
			if it.missing {
				it.unit += word
			} else {
				it.text = text[it.start:end] // as it was typed, spaces and all
			}
		}
		alone = false
		pos = end
	}
	return items, nil
}

// wordEnd finds the end of the word at pos.
func wordEnd(text string, pos int, commas bool) int {
	for i, r := range text[pos:] {
		if unicode.IsSpace(r) || r == ';' || r == ',' && commas && parts(text[pos+i+1:]) {
			return pos + i
		}
	}
	return len(text)
}

// parts reports whether a comma before rest is followed by a space or the end.
func parts(rest string) bool {
	if rest == "" {
		return true
	}
	r, _ := utf8.DecodeRuneInString(rest)
	return unicode.IsSpace(r)
}

// commasPart reports whether the commas of a list part readings. Some with a
// space after them and some without can be read in two ways.
func commasPart(text string) (bool, error) {
	parting, inside := 0, 0
	for i := 0; i < len(text); i++ {
		if text[i] == ',' {
			if parts(text[i+1:]) {
				parting++
			} else {
				inside++
			}
		}
	}
	if parting > 0 && inside > 0 {
		return false, fault(text, "the commas can be read two ways: part readings with ; or spaces")
	}
	return parting > 0, nil
}

func isDash(word string) bool {
	switch word {
	case "-", "−", "–", "—", "‐", "‑", "‒":
		return true
	}
	return false
}

// startsNumber reports whether a word begins as a number does: with a digit,
// a point or comma, a fraction, or a sign before one of them.
func startsNumber(word string) bool {
	r, size := utf8.DecodeRuneInString(word)
	switch r {
	case '+', '-', '−', '–', '—', '‐', '‑', '‒':
		r, _ = utf8.DecodeRuneInString(word[size:])
	}
	return '0' <= r && r <= '9' || strings.ContainsRune(".,½¼¾⅛⅜⅝⅞", r)
}

// splitMixed reports whether a whole number and the fraction after it look
// like one mixed number with a space in it.
func splitMixed(before item, word string) bool {
	if before.missing || strings.Trim(before.text, "+-−0123456789") != "" || strings.Trim(before.text, "+-−0") == "" {
		return false
	}
	n := 0
	for n < len(word) && isDigit(word[n]) {
		n++
	}
	if n == 0 {
		return !isSign(word) && strings.ContainsAny(word, "½¼¾⅛⅜⅝⅞")
	}
	return strings.HasPrefix(word[n:], "/") || strings.HasPrefix(word[n:], "⁄")
}

func isSign(word string) bool { return word[0] == '+' || word[0] == '-' }
