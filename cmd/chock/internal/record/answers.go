package record

import (
	"fmt"

	"gopkg.in/yaml.v3"

	"chock/cmd/chock/internal/ask"
)

// answersLimit bounds an answers file: a person wrote it.
const answersLimit = 1 << 20

// Answers is an answers file: what somebody would say in a talk, by the names
// of what is asked. The complaints stand under "complaints".
//
//	complaints: [pulsation]
//	pedal-hold: stays
//	wheel-dust: {front-left: caked, front-right: light}
//	front-rotor-runout:
//	  front-left: {dial: [0, 1.6, 2 thou], closing: 0}
//	front-rotor-discard: 1.12 in cast
type Answers struct {
	Path    string
	Entries map[string]ask.Answer // for ask.NewScript
	Lines   map[string]int        // line of an entry and its parts: "wheel-dust", "wheel-dust, front-left"
}

// LoadAnswers reads the answers file at path.
func LoadAnswers(path string) (*Answers, error) {
	data, err := read(path, answersLimit)
	if err != nil {
		return nil, err
	}
	return ParseAnswers(path, data)
}

// ParseAnswers reads an answers file that is at hand already; errors name it path.
func ParseAnswers(path string, data []byte) (*Answers, error) {
	root, err := one(path, data)
	if err != nil {
		return nil, err
	}
	a := &Answers{Path: path, Lines: map[string]int{}}
	whole, err := a.entry("", root, 0)
	if err != nil {
		return nil, err
	}
	a.Entries = whole.At
	return a, nil
}

// Where says where the answer to a question stands, "FILE:LINE", as nearly as
// the file has it: the input, the wheel, the question, or the file alone.
func (a *Answers) Where(id, wheel, input string) string {
	for _, path := range []string{
		joined(joined(id, wheel), input), joined(joined(id, input), wheel), joined(id, wheel), joined(id, input), id,
	} {
		if line, ok := a.Lines[path]; ok {
			return fmt.Sprintf("%s:%d", a.Path, line)
		}
	}
	return a.Path
}

// joined names a part of an entry as ask.Script names the unused ones.
func joined(path, part string) string {
	if path == "" || part == "" {
		return path + part
	}
	return path + ", " + part
}

// entry reads one value. depth 0 is the file, 1 a question, 2 a wheel or an
// input of it, 3 the other of the two.
func (a *Answers) entry(path string, n *yaml.Node, depth int) (ask.Answer, error) {
	at := func(n *yaml.Node, format string, args ...any) (ask.Answer, error) {
		return ask.Answer{}, fmt.Errorf("%s:%d: %s: %s", a.Path, n.Line, path, fmt.Sprintf(format, args...))
	}
	switch {
	case n.Kind == yaml.MappingNode && depth > 2:
		return at(n, "only a wheel and an input can stand below a question")
	case n.Kind == yaml.MappingNode:
		out := ask.Answer{At: map[string]ask.Answer{}}
		for i := 0; i < len(n.Content); i += 2 {
			key, value := n.Content[i], n.Content[i+1]
			name := joined(path, key.Value)
			if key.Value == "" {
				return ask.Answer{}, fmt.Errorf("%s:%d: an answer has no name", a.Path, key.Line)
			}
			a.Lines[name] = key.Line
			if value.Tag == "!!null" && n.Style&yaml.FlowStyle != 0 {
				return ask.Answer{}, fmt.Errorf("%s:%d: %s: has no answer; a comma inside {} parts entries, so quote words that have one", a.Path, key.Line, name)
			}
			part, err := a.entry(name, value, depth+1)
			if err != nil {
				return ask.Answer{}, err
			}
			out.At[key.Value] = part
		}
		if len(out.At) == 0 && depth > 0 {
			return at(n, "is empty; leave it out, or write unsure")
		}
		return out, nil
	case n.Kind == yaml.SequenceNode:
		out := ask.Answer{}
		for _, c := range n.Content {
			text, ok := written(c)
			switch {
			case c.Kind != yaml.ScalarNode:
				return at(c, "a list holds words or readings only")
			case !ok:
				return at(c, "an entry of the list is empty; a reading that could not be taken is -")
			}
			out.Text = append(out.Text, text)
		}
		if len(out.Text) == 0 {
			return at(n, "is an empty list; write the word for none of them, leave it out, or write unsure")
		}
		return out, nil
	}
	text, ok := written(n)
	if !ok {
		return at(n, "has no answer; leave it out, or write unsure")
	}
	return ask.Answer{Text: []string{text}}, nil
}

// written gives a scalar as the file has it: .004 stays .004.
func written(n *yaml.Node) (string, bool) {
	return n.Value, n.Tag != "!!null" && n.Value != ""
}
