package record

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"slices"
	"strings"

	"gopkg.in/yaml.v3"

	"chock/brakes/unit"
)

// LimitsSchema counts the changes of a limits file's shape.
const LimitsSchema = 1

// mostRules is far more than anybody writes down.
const mostRules = 200

// A LimitMeasure is something that a rule of a limits file can speak about.
type LimitMeasure struct {
	ID        string
	Kind      unit.Kind
	Low, High float64 // where a limit for it can lie
}

// A LimitLanguage is what the rules of a limits file are written in.
type LimitLanguage struct {
	Measures []LimitMeasure
	Musts    []string            // at least, more than ...
	Facts    map[string][]string // on which it may depend whom a rule is for, with their words
}

// A LimitRule is one rule of a limits file.
type LimitRule struct {
	ID        string
	Measurand string
	Must      string
	Value     unit.Any
	Source    string
	Called    string
	Note      string
	For       map[string]string // facts
}

// A LimitsFile is a person's own limits, in the shape of a policy.
type LimitsFile struct {
	Name         string
	Jurisdiction string
	Rules        []LimitRule // in their order
}

// LoadLimits reads the limits file at path.
func LoadLimits(path string, lang LimitLanguage) (*LimitsFile, error) {
	data, err := read(path, vehicleLimit)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil, fmt.Errorf("%w; docs/limits.md has one to copy", err)
	case err != nil:
		return nil, err
	}
	return ParseLimits(path, data, lang)
}

// ParseLimits reads a limits file. path is for its errors, each of which names
// the line and the repair.
func ParseLimits(path string, data []byte, lang LimitLanguage) (*LimitsFile, error) {
	if err := limitsHeader(path, data); err != nil {
		return nil, err
	}
	root, err := one(path, data)
	if err != nil {
		return nil, err
	}
	p := limitsParser{path: path, lang: lang}
	if err := p.root(root); err != nil {
		return nil, err
	}
	return &p.file, nil
}

var (
	limitsLine  = lazily(`(?m)^limits:`)
	vehicleLine = lazily(`(?m)^vehicle:`)
)

// limitsHeader tells by the lines of a file what it is and whether it is
// whole, before YAML is asked.
func limitsHeader(path string, data []byte) error {
	if len(bytes.TrimSpace(data)) == 0 {
		return fmt.Errorf("%s is empty; docs/limits.md has an example to copy", path)
	}
	last, err := lastLine(path, data)
	if err != nil {
		return err
	}
	m := schemaLine().FindSubmatch(data)
	_, isRecord := header(data)
	switch {
	case isRecord:
		return fmt.Errorf("%s is the record of a check, not a limits file", path)
	case !limitsLine().Match(data) && vehicleLine().Match(data):
		return fmt.Errorf("%s is a vehicle file, not a limits file; give it with --vehicle", path)
	case !limitsLine().Match(data):
		return fmt.Errorf("%s is not a limits file: it has no line limits: and a name; docs/limits.md has an example to copy", path)
	case m == nil:
		return fmt.Errorf("%s has no line schema: %d; add it as the first line", path, LimitsSchema)
	case string(m[1]) != fmt.Sprint(LimitsSchema):
		return fmt.Errorf("%s has limits schema %s, and this chock reads %d; if it is for a newer chock, install that one", path, m[1], LimitsSchema)
	case last != endLine:
		return fmt.Errorf("%s is cut short: its last line is not %q; if nothing is missing, add that line", path, endLine)
	}
	return nil
}

type limitsParser struct {
	path string
	lang LimitLanguage
	file LimitsFile
}

func (p *limitsParser) errorf(n *yaml.Node, format string, args ...any) error {
	return fmt.Errorf("%s:%d: %s", p.path, n.Line, fmt.Sprintf(format, args...))
}

// text reads one line of words.
func (p *limitsParser) text(n *yaml.Node, name string, most int) (string, error) {
	if n.Kind != yaml.ScalarNode {
		return "", p.errorf(n, "%s: want it in one line", name)
	}
	if n.Tag == "!!null" {
		return "", nil
	}
	text := strings.Join(strings.Fields(n.Value), " ")
	if err := checkText(text, most); err != nil {
		return "", p.errorf(n, "%s %v", name, err)
	}
	return text, nil
}

func (p *limitsParser) root(root *yaml.Node) error {
	names := []string{"schema", "limits", "jurisdiction", "rules", "end"}
	var rules *yaml.Node
	for i := 0; i < len(root.Content); i += 2 {
		key, n := root.Content[i], root.Content[i+1]
		var err error
		switch key.Value {
		case "schema", "end":
		case "limits":
			if p.file.Name, err = p.text(n, "limits", longestName); err == nil {
				err = p.checkID(n, "limits", p.file.Name)
			}
		case "jurisdiction":
			p.file.Jurisdiction, err = p.text(n, "jurisdiction", longestName)
		case "rules":
			rules = n
		default:
			err = p.errorf(key, "%q has no place there; the file takes %s", key.Value, strings.Join(names, ", "))
		}
		if err != nil {
			return err
		}
	}
	switch {
	case p.file.Jurisdiction == "":
		return p.errorf(root, "say whose limits these are: add jurisdiction: our workshop")
	case rules == nil || rules.Kind != yaml.MappingNode || len(rules.Content) == 0:
		at := root
		if rules != nil {
			at = rules
		}
		return p.errorf(at, "rules: want one or more rules below it, each with its name")
	case len(rules.Content)/2 > mostRules:
		return p.errorf(rules, "rules: %d of them; %d are the most", len(rules.Content)/2, mostRules)
	}
	for i := 0; i < len(rules.Content); i += 2 {
		r, err := p.rule(rules.Content[i], rules.Content[i+1])
		if err != nil {
			return err
		}
		p.file.Rules = append(p.file.Rules, r)
	}
	return nil
}

// checkID refuses a name that a line of a result could not show as one word.
func (p *limitsParser) checkID(n *yaml.Node, what, id string) error {
	bad := strings.ContainsFunc(id, func(r rune) bool {
		return !(r >= 'a' && r <= 'z' || r >= '0' && r <= '9' || r == '-')
	})
	if id == "" || bad || len(id) > 40 {
		return p.errorf(n, "%s: %q is no name here; use small letters, digits and hyphens, 40 at most, like our-vans", what, id)
	}
	return nil
}

// rule reads one rule.
func (p *limitsParser) rule(key, n *yaml.Node) (r LimitRule, err error) {
	r.ID = key.Value
	if err := p.checkID(key, "rules", r.ID); err != nil {
		return r, err
	}
	name := "rule " + r.ID
	if n.Kind != yaml.MappingNode {
		return r, p.errorf(n, "%s: want lines below it: measurand, must, value, source", name)
	}
	at := map[string]*yaml.Node{}
	words := map[string]string{}
	keys := []string{"measurand", "must", "value", "source", "called", "note"}
	for i := 0; i < len(n.Content); i += 2 {
		k, v := n.Content[i], n.Content[i+1]
		switch {
		case k.Value == "for":
			if r.For, err = p.facts(name, v); err != nil {
				return r, err
			}
		case slices.Contains(keys, k.Value):
			at[k.Value] = v
			if words[k.Value], err = p.text(v, name+", "+k.Value, longestNote); err != nil {
				return r, err
			}
		default:
			return r, p.errorf(k, "%s: %q has no place there; a rule takes %s and for; a comma inside {} parts entries, so quote words that have one", name, k.Value, strings.Join(keys, ", "))
		}
	}
	for _, k := range keys[:4] {
		if words[k] == "" {
			where := key
			if at[k] != nil {
				where = at[k]
			}
			return r, p.errorf(where, "%s has no %s; add %s", name, k, map[string]string{
				"measurand": "measurand: lining, or another of " + strings.Join(p.measures(), ", "),
				"must":      "must: at least, or another of " + strings.Join(p.lang.Musts, ", "),
				"value":     "value: and a number with its unit, like 3 mm",
				"source":    "source: who says so, and where it stands",
			}[k])
		}
	}
	r.Measurand, r.Must, r.Source, r.Called, r.Note = words["measurand"], words["must"], words["source"], words["called"], words["note"]
	i := slices.IndexFunc(p.lang.Measures, func(m LimitMeasure) bool { return m.ID == r.Measurand })
	if i < 0 {
		return r, p.errorf(at["measurand"], "%s: %q is nothing that a rule can speak about; want one of %s", name, r.Measurand, strings.Join(p.measures(), ", "))
	}
	if !slices.Contains(p.lang.Musts, r.Must) {
		return r, p.errorf(at["must"], "%s: must is %q; want one of %s", name, r.Must, strings.Join(p.lang.Musts, ", "))
	}
	m := p.lang.Measures[i]
	if r.Value, err = unit.Parse(m.Kind, words["value"], ""); err != nil {
		return r, p.errorf(at["value"], "%s: %v", name, err)
	}
	if hint := unit.Suggest(r.Value, m.Low, m.High); hint != "" {
		return r, p.errorf(at["value"], "%s: %s", name, hint)
	}
	return r, nil
}

// facts reads whom a rule is for.
func (p *limitsParser) facts(name string, n *yaml.Node) (map[string]string, error) {
	if n.Kind != yaml.MappingNode {
		return nil, p.errorf(n, "%s, for: want it like for: {axle: front}", name)
	}
	var of []string
	for f := range p.lang.Facts {
		of = append(of, f)
	}
	slices.Sort(of)
	out := map[string]string{}
	for i := 0; i < len(n.Content); i += 2 {
		k, v := n.Content[i], n.Content[i+1]
		is, known := p.lang.Facts[k.Value]
		if !known {
			return nil, p.errorf(k, "%s, for: %q is nothing that is known of a vehicle; want one of %s", name, k.Value, strings.Join(of, ", "))
		}
		word, err := p.text(v, name+", for, "+k.Value, longestName)
		if err != nil {
			return nil, err
		}
		if !slices.Contains(is, word) {
			return nil, p.errorf(v, "%s, for, %s: %q is none of %s", name, k.Value, word, strings.Join(is, ", "))
		}
		out[k.Value] = word
	}
	return out, nil
}

func (p *limitsParser) measures() []string {
	var ids []string
	for _, m := range p.lang.Measures {
		ids = append(ids, m.ID)
	}
	return ids
}
