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

// Choose takes the file's answer: at several wheels by wheel, one for all, or
// a list with one a wheel in the order of q.Wheels.
func (s *Script) Choose(q Question) (Reply, error) {
	if err := q.check(); err != nil {
		return Reply{}, err
	}
	var r Reply
	entry, given := s.answers[q.ID]
	switch {
	case len(q.Wheels) < 2 && !q.Several:
		text, err := s.one(q, s.wheel(q), s.find(q.ID, s.wheel(q), ""))
		if err != nil {
			return Reply{}, err
		}
		if r, err = q.scripted(text, s.wheel(q)); err != nil {
			return Reply{}, err
		}
	case q.Several:
		at := s.wheel(q)
		texts := s.find(q.ID, at, "")
		if len(texts) == 0 {
			text, err := s.one(q, at, nil)
			if err != nil {
				return Reply{}, err
			}
			texts = []string{text}
		}
		var ticked []int
		for _, text := range texts {
			one, err := q.scripted(text, at)
			switch {
			case err != nil:
				return Reply{}, err
			case one.Word != "" && len(texts) > 1:
				return Reply{}, &Unknown{ID: q.ID, Wheel: at, Answer: text, Reason: fmt.Errorf("cannot stand among other answers")}
			case one.Word != "":
				r = one
			default:
				ticked = append(ticked, slices.IndexFunc(q.Choices, func(c Choice) bool { return c.ID == one.IDs[0] }))
			}
		}
		if r.Word == "" {
			r = q.ticked(ticked)
		}
	case given && len(entry.Text) == len(q.Wheels) && len(entry.Text) > 1:
		s.asked[q.ID] = true
		for i, text := range entry.Text {
			id, err := q.scriptedWheel(text, q.Wheels[i])
			if err != nil {
				return Reply{}, err
			}
			r.IDs = append(r.IDs, id)
		}
	default:
		for _, wheel := range q.Wheels {
			text, err := s.one(q, wheel, s.find(q.ID, wheel, ""))
			if err != nil {
				return Reply{}, err
			}
			id, err := q.scriptedWheel(text, wheel)
			if err != nil {
				return Reply{}, err
			}
			r.IDs = append(r.IDs, id)
		}
	}
	// The same word at every wheel is the word for the question, as if said once.
	if w := Word(first(r.IDs)); len(q.Wheels) > 1 && (w == Unsure || w == Later || w == Stop) && len(slices.Compact(slices.Clone(r.IDs))) == 1 {
		r = Reply{Word: w}
	}
	if slices.Contains(r.IDs, string(Stop)) {
		r = Reply{Word: Stop}
	}
	say(s.scr, q, r)
	return r, nil
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
// wheel or an input of an entry was not asked for, it is named with it.
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
		if !used {
			return false, []string{path}
		}
		return true, left
	}
	for id, a := range s.answers {
		_, left := walk(id, a)
		out = append(out, left...)
	}
	slices.Sort(out)
	return out
}

// wheel is the one wheel that q is about, or "".
func (s *Script) wheel(q Question) string {
	if len(q.Wheels) == 1 {
		return q.Wheels[0]
	}
	return ""
}

// one is the single text of an answer; without one, "unsure" or an error.
func (s *Script) one(q Question, wheel string, texts []string) (string, error) {
	switch {
	case len(texts) == 1:
		return texts[0], nil
	case len(texts) > 1:
		return "", &Unknown{ID: q.ID, Wheel: wheel, Answer: strings.Join(texts, ", "), Reason: fmt.Errorf("is %d answers where one is asked for", len(texts))}
	case s.unsure && !q.NoUnsure:
		return string(Unsure), nil
	}
	return "", &Missing{ID: q.ID, Wheel: wheel}
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

// scripted reads one text of the file as an answer to q.
func (q Question) scripted(text, wheel string) (Reply, error) {
	t := fold(text)
	for _, c := range q.Choices {
		if t == fold(c.ID) || t == fold(c.words()) {
			return Reply{IDs: []string{c.ID}}, nil
		}
	}
	if w := words[t]; w == Stop || (w == Unsure || w == Later) && !q.NoUnsure {
		return Reply{Word: w}, nil
	}
	wrong := &Unknown{ID: q.ID, Wheel: wheel, Answer: text}
	for _, c := range q.Choices {
		wrong.Allowed = append(wrong.Allowed, c.ID)
	}
	if !q.NoUnsure {
		wrong.Allowed = append(wrong.Allowed, string(Unsure), string(Later))
	}
	return Reply{}, wrong
}

func (q Question) scriptedWheel(text, wheel string) (string, error) {
	r, err := q.scripted(text, wheel)
	if r.Word != "" {
		return string(r.Word), err
	}
	return first(r.IDs), err
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
