package ask

import (
	"fmt"
	"slices"
	"strings"
)

// An Answer is one entry of an answers file, its values as they were written.
type Answer struct {
	Text []string          // one text, or a list of them
	At   map[string]Answer // by wheel, or by input of a measurement
}

// A Script answers from a file. A file outlives the wording of a list, so it
// gives ids, or the words in full; numbers and beginnings are for fingers.
// Of the prompt words it may say unsure, later and stop.
type Script struct {
	Typed bool // what the file says is shown at a prompt, as if somebody typed it

	answers map[string]Answer
	unsure  bool
	scr     *Screen
	asked   map[string]bool   // entries and parts of entries that were read
	bare    map[string]string // id and wheel, to the input that took an unnamed list
}

// NewScript answers from the entries given. What they lack is a [*Missing]
// error or, with restUnsure, "not sure". What was taken is shown on out, which
// may be nil.
func NewScript(answers map[string]Answer, restUnsure bool, out *Screen) *Script {
	return &Script{answers: answers, unsure: restUnsure, scr: out, asked: map[string]bool{}, bare: map[string]string{}}
}

// Has tells whether the file has an entry of that name.
func (s *Script) Has(id string) bool {
	_, ok := s.answers[id]
	return ok
}

// Choose takes the file's answer: at several wheels by wheel, one for all, or
// a list with one a wheel in the order of q.Wheels.
func (s *Script) Choose(q Question) (Reply, error) {
	if err := q.check(); err != nil {
		return Reply{}, err
	}
	wheels := q.Wheels
	if len(wheels) == 0 {
		wheels = []string{""}
	}
	var r Reply
	var last []string
	for i, wheel := range wheels {
		texts := s.find(q.ID, wheel, "")
		if s.Typed && len(texts) > 0 && !slices.Equal(texts, last) {
			s.scr.Item(Plain, "> ", strings.Join(texts, ", "))
		}
		last = texts
		if len(wheels) > 1 && len(texts) == len(wheels) {
			texts = texts[i : i+1]
		}
		one, err := s.choose(q, wheel, texts)
		switch {
		case err != nil:
			return Reply{}, err
		case len(wheels) == 1 || one.Word == Stop:
			say(s.scr, q, one)
			return one, nil
		case one.Word != "":
			one.IDs = []string{string(one.Word)}
		}
		r.IDs = append(r.IDs, one.IDs[0])
	}
	if w := Word(r.IDs[0]); (w == Unsure || w == Later) && len(slices.Compact(slices.Clone(r.IDs))) == 1 {
		r = Reply{Word: w} // as if said once
	}
	say(s.scr, q, r)
	return r, nil
}

// choose reads the texts of the file as the answer at one wheel.
func (s *Script) choose(q Question, wheel string, texts []string) (Reply, error) {
	wrong := &Unknown{ID: q.ID, Wheel: wheel, Answer: strings.Join(texts, ", ")}
	switch {
	case len(texts) == 0 && s.unsure && !q.NoUnsure:
		return Reply{Word: Unsure}, nil
	case len(texts) == 0:
		return Reply{}, &Missing{ID: q.ID, Wheel: wheel}
	case len(texts) > 1 && !q.Several:
		wrong.Reason = fmt.Errorf("is %d answers where one is asked for", len(texts))
		return Reply{}, wrong
	}
	var at []int
	for _, text := range texts {
		t := fold(text)
		i := slices.IndexFunc(q.Choices, func(c Choice) bool { return t == fold(c.ID) || t == fold(c.words()) })
		w := words[t]
		switch {
		case i >= 0:
			at = append(at, i)
		case w == Stop, (w == Unsure || w == Later) && !q.NoUnsure:
			if len(texts) > 1 {
				wrong.Reason = fmt.Errorf("%q cannot stand among other answers", text)
				return Reply{}, wrong
			}
			return Reply{Word: w}, nil
		default:
			wrong.Answer = text
			for _, c := range q.Choices {
				wrong.Allowed = append(wrong.Allowed, c.ID)
			}
			if !q.NoUnsure {
				wrong.Allowed = append(wrong.Allowed, string(Unsure), string(Later))
			}
			return Reply{}, wrong
		}
	}
	return q.ticked(at), nil
}

// Line takes the file's text or readings; a list is joined by "; ". A list
// that does not name its input belongs to the first one asked for.
func (s *Script) Line(f Field) (Reply, error) {
	texts := s.find(f.ID, f.Wheel, f.Input)
	if len(texts) == 0 {
		if s.unsure {
			s.echo(f, "not sure")
			return Reply{Word: Unsure}, nil
		}
		return Reply{}, &Missing{f.ID, f.Wheel, f.Input}
	}
	text := strings.TrimSpace(strings.Join(texts, "; "))
	wrong := &Unknown{ID: f.ID, Wheel: f.Wheel, Input: f.Input, Answer: text}
	r, err := f.read(text)
	switch {
	case err != nil:
		wrong.Reason = err
		return Reply{}, wrong
	case r.Word != "" && r.Word != Unsure && r.Word != Later && r.Word != Stop:
		wrong.Reason = fmt.Errorf("a file can say unsure, later or stop, but not %s", r.Word)
		return Reply{}, wrong
	}
	s.echo(f, text)
	return r, nil
}

// Unused names the entries that were never asked for, sorted; where only a
// wheel or an input of an entry was not asked for, it is named with it. One
// that says "not sure" is left out: nothing is lost with it.
func (s *Script) Unused() []string {
	var out []string
	var walk func(path string, a Answer) (used bool, left []string)
	walk = func(path string, a Answer) (bool, []string) {
		used, left := s.asked[path], []string(nil)
		for name, part := range a.At {
			u, l := walk(path+", "+name, part)
			used = used || u
			left = append(left, l...)
		}
		switch {
		case used:
			return true, left
		case a.At == nil && len(a.Text) == 1 && words[fold(a.Text[0])] == Unsure, a.At != nil && left == nil:
			return false, nil
		}
		return false, []string{path}
	}
	for id, a := range s.answers {
		_, left := walk(id, a)
		out = append(out, left...)
	}
	slices.Sort(out)
	return out
}

// find reads the texts of an entry, by wheel and input where it has them, and
// marks them as asked for.
func (s *Script) find(id, wheel, input string) []string {
	a, path := s.answers[id], id
	unnamed := input
	for range 2 { // wheel within input, or input within wheel
		for _, name := range []string{wheel, input} {
			if part, ok := a.At[name]; ok && name != "" {
				a, path = part, path+", "+name
				if name == input {
					unnamed = ""
				}
			}
		}
	}
	if len(a.Text) == 0 {
		return nil
	}
	if unnamed != "" {
		if took, ok := s.bare[id+"\n"+wheel]; ok && took != input {
			return nil
		}
		s.bare[id+"\n"+wheel] = input
	}
	s.asked[path] = true
	return a.Text
}

func (s *Script) echo(f Field, text string) {
	if s.scr != nil {
		s.scr.Item(Plain, prompt(s.scr, f.Hint), text)
	}
}

func first(ids []string) string {
	if len(ids) == 0 {
		return ""
	}
	return ids[0]
}
